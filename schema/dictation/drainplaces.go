package dictation

// Where drains are listed, a place is said in plain words: "twenty each side, twenty in
// the middle", "one in both chests". There they are put in the words of the trade, which
// say the same of drains alone.

// drainPlaces are the plain words, each after its preposition, and what they mean.
var drainPlaces = []struct {
	before, noun map[string]bool
	means        string
}{
	{wordSet("each either both"), wordSet("side chest hemithorax pleura"), "in each pleura"},
	{wordSet("the"), wordSet("middle centre center midline"), "in the mediastinum"},
}

// otherNouns are words that end a list of drains.
var otherNouns = wordSet("wire line nirs cannula pressure sat saturation pleural pleura radial jugular femoral vein band groin head brain lung artery branch phrenic lead")

// hearDrainPlaces puts the words of the trade in the place of plain ones.
func (g *segment) hearDrainPlaces() {
	if g.is(0, "not") && g.is(1, "there") && g.is(2, ":") { // "Not there: right pleural drain."
		g.hearAs(0, 2, "not in")
	}
	g.hearThere()
	g.hearWirePairs()
	for k := 0; k+2 < len(g.toks); k++ { // "pleura right twenty four French"
		if n := &g.toks[k+2]; g.is(k, "pleura") && g.is(k+1, "right", "left") && (n.kind == figure || teens[n.text] > 0 || tens[n.text] > 0) {
			g.hearAs(k, k+2, "in the "+g.toks[k+1].text+" pleura")
		}
	}
	for k := 0; k+3 < len(g.toks); k++ { // "drains right left and mediastinal"
		j := k + 2
		for g.is(j, "and") {
			j++
		}
		if g.is(k, "drain") && g.is(k+1, "right", "left") && g.is(j, "right", "left") && !g.is(j, g.toks[k+1].text) && (g.is(j+1, "mediastinal") || g.is(j+1, "and", "plus") && g.is(j+2, "mediastinal", "one")) {
			g.hearAs(k+1, j+1, g.toks[k+1].text+" pleural "+g.toks[j].text+" pleural")
		}
	}
	for k := 0; k+4 < len(g.toks); k++ { // "chest tubes right and left twenty eights"
		if n := &g.toks[k+4]; g.is(k, "drain") && g.is(k+1, "right", "left") && g.is(k+2, "and") && g.is(k+3, "right", "left") && !g.is(k+3, g.toks[k+1].text) && (n.kind == figure || teens[n.text] > 0 || tens[n.text] > 0) {
			g.hearAs(k+1, k+4, "both pleural")
		}
	}
	for k := 0; k+1 < len(g.toks); k++ {
		for i := range drainPlaces {
			p := &drainPlaces[i]
			if !p.before[g.toks[k].text] || !p.noun[g.toks[k+1].text] || g.is(k+2, "of", "was", "were", "is", "are") || !g.drainsBefore(k, i == 1) {
				continue
			}
			from := k
			if g.is(k-1, "on", "in", "to", "at", "into", "down") {
				from--
			} else if g.is(k, "the") {
				continue // "the middle one"
			}
			g.hearAs(from, k+2, p.means)
			k = from + 2
			break
		}
	}
}

// hearAs puts other words in the place of the tokens from up to to.
func (g *segment) hearAs(from, to int, means string) {
	span := Span{g.toks[from].span.Start, g.toks[to-1].span.End}
	out := append([]token(nil), g.toks[:from]...)
	for _, t := range tokenize(means, 0) {
		t.span, t.id = span, g.lex.idOf(&t)
		out = append(out, t)
	}
	g.toks = append(out, g.toks[to:]...)
}

// drainsBefore tells whether drains are what is listed at token k: named before it, with
// no other thing between, or in the sentence before.
func (g *segment) drainsBefore(k int, sided bool) bool {
	for j := k - 1; j >= 0; j-- {
		if g.is(j, "drain", "blake", "pigtail") {
			return sided || !g.is(j-1, "pleural")
		}
		if otherNouns[g.toks[j].text] && !(sided && g.is(j, "pleural", "pleura")) {
			return false
		}
	}
	return g.ctx.last == "drain"
}
