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
	g.hearNewOne()
	g.hearTubeSize()
	g.hearAskedBack()
	g.hearWirePairs()
	g.hearSizedSides()
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

// sideNouns may follow the side of the chest that a drain lies in.
var sideNouns = wordSet("side sided chest pleura hemithorax space cavity")

// hearSizedSides puts a pleura in the place of a side that is told with the size of a
// drain, and the mediastinum in the place of its letter: "a 15 in the mediastinum and a 12
// on the right", "drains: mediastinal 15, right pleura 12", "drains R 24, L 24, M 20".
func (g *segment) hearSizedSides() {
	for k := 0; k < len(g.toks); k++ {
		side := g.toks[k].text
		if g.hearDrainedPair(k) {
			continue
		}
		switch {
		case g.is(k, "s") && g.sizeEnds(k) && g.text[g.toks[k-1].span.End] != ' ':
			if g.drainsBefore(k-1, true) || g.anyWithin(0, k, "pleural") {
				g.hearAs(k-1, k+1, g.toks[k-1].text) // "both pleurals, 20s"
			}
			continue
		case g.is(k, "right", "left", "r", "l"):
			side = map[byte]string{'r': "right", 'l': "left"}[side[0]]
		case g.is(k, "m", "med", "medi") && g.sizeFrom(k+1) && !g.is(k+1, "are"):
			if g.drainsBefore(k, true) {
				g.hearAs(k, k+1, "mediastinal")
			}
			continue
		default:
			continue
		}
		end := k + 1
		for end < len(g.toks) && sideNouns[g.toks[end].text] {
			end++
		}
		from, led := k, false
		for g.is(from-1, "on", "in", "to", "into", "for", "the") && k-from < 2 {
			from, led = from-1, true
		}
		after := g.sizeFrom(end) && !led
		sized := g.sizeEnds(from) && g.sideEnds(end) && (led || end > k+1)
		listed := g.is(end-1, "pleura", "hemithorax") && g.is(k-1, "and", ",") && g.is(k-2, "mediastinal", "mediastinum", "pleural") && g.sideEnds(end)
		if !after && !sized && !listed || !g.drainsBefore(from, true) {
			continue
		}
		if means := "in the " + side + " pleura"; after {
			g.hearAs(k, end, side+" pleural")
		} else {
			g.hearAs(from, end, means)
		}
	}
}

// hearDrainedPair puts both pleural drains in the place of both pleurae that are told to
// have them: "both pleurae have drains", "each pleural cavity has a 24 French drain".
func (g *segment) hearDrainedPair(k int) bool {
	if !g.is(k, "both", "each") || !g.is(k+1, "pleura", "pleural", "chest", "side", "hemithorax") {
		return false
	}
	end := k + 2
	for g.is(end, "space", "cavity", "side", "of", "the", "chest") {
		end++
	}
	if !g.is(end, "have", "has", "get", "got", "had") || g.is(end+1, "no", "been", "not") {
		if !g.is(end, "drained") || !g.is(end+1, "with") {
			return false
		}
		end++
	}
	drain := 0
	for j := end + 1; j < len(g.toks) && j < end+6 && g.toks[j].kind == word && drain == 0; j++ {
		if g.is(j, "drain", "blake", "tube") {
			drain = j
		}
	}
	switch {
	case drain > 0 && !g.sizeFrom(end+1):
		end = drain
	case drain == 0 && !g.sizeFrom(end+1):
		return false
	case g.is(end, "with"):
		end-- // which tells that "twenties" are sizes
	}
	g.hearAs(k, end+1, "both pleural drains")
	return true
}

// sizeFrom tells whether what can be the size of a drain begins at token k.
func (g *segment) sizeFrom(k int) bool {
	for g.is(k, ":", "-", "=", "a", "is") {
		k++
	}
	if k >= len(g.toks) {
		return false
	}
	w := g.toks[k].text
	return teens[w] > 0 || tens[w] > 0 && tens[w] < 40 || w == "twentie" || len(w) == 2 && w >= "10" && w <= "36" && g.toks[k].kind == figure
}

// sizeEnds tells whether what can be the size of a drain ends before token k.
func (g *segment) sizeEnds(k int) bool {
	if k--; g.is(k, "french", "fr", "f") {
		k--
	}
	return k >= 0 && (g.sizeFrom(k) && !g.is(k, ":", "-", "=", "a", "is") || k > 0 && units[g.toks[k].text] > 0 && tens[g.toks[k-1].text] > 0)
}

// sideEnds tells whether nothing is said at token k that a side could be the side of.
func (g *segment) sideEnds(k int) bool {
	return k >= len(g.toks) || g.toks[k].kind != word || g.is(k, "and", "all", "both", "each", "plus", "but", "with", "on", "suction")
}
