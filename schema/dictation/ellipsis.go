package dictation

import (
	"slices"

	"fairlead/schema"
)

// What a list of things leaves out because the words beside say it: "a right and a left
// pleural", "med, right, left", "two new ones". It is put in, in the words of the trade,
// with the place in the text of the words it was said by.

// sided are nouns that stand once for the two sides before them.
var sided = wordSet("pleural pleura chest radial jugular femoral hemithorax groin nirs renal")

// hearEllipses puts in what the lists of a sentence leave out.
func (g *segment) hearEllipses() {
	for k := 0; k < len(g.toks); k++ {
		switch {
		case g.is(k, "right", "left"):
			g.hearOtherSide(k)
			g.hearBareSide(k)
			g.hearGroin(k)
		case g.is(k, "r", "l") && g.is(k+1, "/", "+") && g.is(k+2, "r", "l") && g.toks[k].text != g.toks[k+2].text && k+3 < len(g.toks) && sided[g.toks[k+3].text]:
			g.put(k, k+3, "right and left")
		case g.is(k, "each", "both") && g.is(k+1, "hand", "foot") && g.is(k-1, "in") && g.anyWithin(0, k, "cannula"):
			g.put(k, k+2, "the right "+g.toks[k+1].text+" and the left "+g.toks[k+1].text)
		case g.is(k, "one") && g.is(k-1, "new"):
			g.hearNewOnes(k)
		case g.is(k, "femoral") && g.is(k+1, "arterial") && g.is(k+3, "in") && g.is(k+4, "the") && g.is(k+5, "right", "left") && g.is(k+6, "groin"):
			g.put(k, k+7, g.toks[k+5].text+" femoral arterial line")
		case g.is(k, "took", "taken", "take") && g.lex.kind == schema.ShuntRevision:
			g.hearExchange(k)
		case g.is(k, "umbilical") && g.is(k+1, "line", "catheter") && g.is(k-1, "both", "two"):
			g.put(k-1, k+2, "umbilical arterial line and umbilical venous line")
		}
	}
}

// put puts words in the place of tokens from..to; each has the place they had.
func (g *segment) put(from, to int, words string) {
	span := g.span(from, to)
	out := append([]token(nil), g.toks[:from]...)
	for _, t := range tokenize(words, 0) {
		t.span, t.id = span, g.lex.idOf(&t)
		out = append(out, t)
	}
	g.toks = append(out, g.toks[to:]...)
}

// hearOtherSide reads "a right and a left pleural" as "right and left pleural".
func (g *segment) hearOtherSide(k int) {
	if !g.is(k+1, "and") || !g.is(k+2, "a", "the", "one") || !g.is(k+3, "right", "left") || g.toks[k].text == g.toks[k+3].text || k+4 >= len(g.toks) || !sided[g.toks[k+4].text] {
		return
	}
	g.toks = append(append([]token(nil), g.toks[:k+2]...), g.toks[k+3:]...)
	if g.is(k-1, "a", "the", "one") {
		g.toks = append(append([]token(nil), g.toks[:k-1]...), g.toks[k:]...)
	}
}

// hearBareSide reads a side that is one of a list of drains: "drains: mediastinal, right
// and left", "Blake 15 mediastinum, Blake 10 right".
func (g *segment) hearBareSide(k int) {
	end := k+1 == len(g.toks) || g.toks[k+1].kind == stop || g.is(k+1, ",") || g.is(k+1, "and") && g.is(k+2, "right", "left")
	if !end {
		if _, ok := readNumber(g.toks, k+1); !ok {
			return
		}
	}
	begins := g.is(k-1, ",", "and", ":", "one") || g.is(k-1, "a", "the") && g.is(k-2, ",", "and") || k > 0 && (g.toks[k-1].kind == figure || g.is(k-1, "french"))
	if !begins || !g.drainListed(k) {
		return
	}
	g.put(k, k+1, g.toks[k].text+" pleural")
}

// drainListed tells whether what stands before token k lists drains and no other thing.
func (g *segment) drainListed(k int) bool {
	place := false
	for j := k - 1; j >= 0 && g.toks[j].kind != stop; j-- {
		switch {
		case g.is(j, "drain", "blake"):
			return !g.is(j-1, "pleural") && (g.is(j, "blake") || place || g.is(j+1, ":", ","))
		case g.is(j, "mediastinal", "mediastinum", "med", "retrosternal"), g.is(j, "pleural") && j > 0 && g.toks[j].span == g.toks[j-1].span:
			place = true
		case otherNouns[g.toks[j].text]:
			return false
		}
	}
	return false
}

// hearNewOnes reads what was put in for what came out: "took out the old mediastinal drain
// and put in two new ones".
func (g *segment) hearNewOnes(k int) {
	put := false
	for j := k - 2; j >= 0 && j >= k-5; j-- {
		put = put || g.is(j, "put", "placed", "inserted", "sited")
	}
	if !put {
		return
	}
	for j := k - 2; j > 0; j-- {
		if !g.is(j, "drain") || !g.is(j-1, "mediastinal", "pleural", "pericardial") {
			continue
		}
		from := j - 1
		if g.is(from-1, "right", "left") {
			from--
		}
		words := ""
		for i := from; i <= j; i++ {
			words += " " + g.toks[i].text
		}
		if g.pluralAt(k) {
			words += "s"
		}
		g.put(k, k+1, words)
		return
	}
}

// willComeOut tells whether a thing is to be taken out later: it is in until then.
func (g *segment) willComeOut(t *thing) bool {
	for k := t.to; k < len(g.toks) && k < t.to+6 && g.toks[k].kind != stop; k++ {
		if g.is(k, "will", "can", "to", "should", "may") && (g.is(k+1, "come", "be") && g.is(k+2, "out", "removed", "pulled") || g.is(k+1, "stay", "remain")) {
			return true
		}
	}
	return false
}

// oneOfLast tells whether a thing is told as one of those of the sentence before: "Two
// drains. One is mediastinal, the other right pleural."
func (g *segment) oneOfLast(t *thing, k *schema.ItemKind) bool {
	return g.ctx.last == k.Name && g.is(t.from-1, "is", "are", "was") && g.is(t.from-2, "one", "other", "two", "first", "second", "third")
}

// notLines drops things that were named by words said of something else: a limb of a
// probe or a cuff, the buttons of pacing wires.
func (g *segment) notLines() {
	for i := range g.groups {
		x := &g.groups[i]
		if x.item == nil || x.gone {
			continue
		}
		switch {
		case x.item.Name == "peripheral-cannula":
			x.gone = g.mentions("probe", "cuff", "oximeter", "saturation", "sat", "oximetry") && !g.anyPrefix("cannula", "gauge", "periph", "drip", "venflon", "iv", "piv", "line", "access") && !g.mentions("g")
		case x.variety == "defibrillation-pads":
			x.gone = g.mentions("lap", "laparotomy", "nir") && !g.anyPrefix("defib", "external", "zoll", "paddle")
		case x.variety == "gastrostomy":
			x.gone = g.mentions("button", "wire", "lead") && !g.anyPrefix("gastr", "peg", "feed", "mickey", "mic", "stomach", "tube", "french")
		}
	}
}

// cannulaSize tells whether a bare number is the size of a cannula of the circuit: they
// are not counted so high.
func (g *segment) cannulaSize(t *thing, a amount) bool {
	return a.units == nil && smallCount(a.decimal) == 0 && (g.lex.kind == schema.SupportOn || g.lex.kind == schema.SupportOff) && slices.ContainsFunc(t.options, func(o sense) bool { return o.item.Name == "support-cannula" })
}

// hearExchange reads a shunt told by its sizes as out and in, "took out the 3.5 and put in
// a 4", as one changed for another.
func (g *segment) hearExchange(k int) {
	out, in := number{}, number{}
	came := false
	for j := k + 1; j < len(g.toks) && j < k+14 && g.toks[j].kind != stop; j++ {
		n, ok := readNumber(g.toks, j)
		switch {
		case ok && out.decimal == "" && g.is(j-1, "the", "old", "a", "her", "his"):
			out, j = n, n.to-1
		case ok && came && g.is(j-1, "a", "new", "in"):
			in = n
		case ok:
			return
		case g.is(j, "put") && out.decimal != "":
			came = true
		}
		if in.decimal != "" {
			break
		}
	}
	if in.decimal == "" || len(out.decimal) > 3 || len(in.decimal) > 3 || out.decimal > "6" || in.decimal > "6" {
		return
	}
	words := "changed the " + out.decimal + " for a"
	g.put(k, in.from, words)
}

// hearGroin reads the lines of a groin: "left groin: arterial 3 French and venous 4".
func (g *segment) hearGroin(k int) {
	j := k + 2
	if g.is(j, ":", ",") {
		j++
	}
	if !g.is(k+1, "groin") || !g.is(j, "arterial", "venous") || g.is(j+1, "pressure", "cannulation") {
		return
	}
	side := g.toks[k].text
	for ; j < len(g.toks) && g.toks[j].kind != stop; j++ {
		if g.is(j, "arterial", "venous") && (j <= k+3 || g.is(j-1, "and", ",", "a")) {
			end := j + 1
			if g.is(end, "line", "cannula", "catheter") {
				end++
			}
			g.put(j, end, side+" femoral "+g.toks[j].text+" line")
			j += 3
		}
	}
	g.toks = append(g.toks[:k:k], g.toks[k+2:]...)
}
