package dictation

import (
	"slices"

	"fairlead/schema"
)

// turnValuesFirst reads a sentence that says its value before the name, with a comma
// between, in the usual order: "Seven, common atrial", "Nought point three, milrinone",
// "Six point one, kilos". The tokens change places, and keep their places in the text.
func (g *segment) turnValuesFirst() {
	for i := 0; i < len(g.toks); i++ {
		if i == 0 || g.toks[i-1].kind == stop {
			g.turnValueFirst(i)
		}
	}
}

// turnValueFirst turns the sentence that begins at token from.
func (g *segment) turnValueFirst(from int) {
	n, ok := readNumber(g.toks, from)
	if !ok && g.turnWordFirst(from) {
		return
	}
	if !ok || n.decimal == "" && n.clock == "" {
		return
	}
	to := n.to
	if g.is(to, "over", "/") {
		if low, ok := readNumber(g.toks, to+1); ok {
			to = low.to
		}
	}
	unit := false
	if node, k := g.lex.match(g.toks, to); node != 0 && g.lex.means(node, isUnit) {
		to, unit = k, true
	}
	if !g.is(to, ",") {
		return
	}
	name := to + 1
	if node, k := g.lex.match(g.toks, name); node != 0 && !unit && g.lex.means(node, isUnit) && g.ends(k) {
		g.toks = slices.Delete(g.toks, to, name) // "Six point one, kilos"
		return
	}
	if g.is(name, "the") {
		name++
	}
	end := g.nameEnds(name)
	if end < 0 {
		return
	}
	g.turn(from, to, name, end)
}

// turn puts the name at tokens name..end before the value at from..to.
func (g *segment) turn(from, to, name, end int) {
	g.toks = slices.Concat(g.toks[:from], g.toks[name:end], g.toks[from:to], g.toks[end:])
	g.turned = true
}

// turnWordFirst turns a sentence that is no more than a word or three, a comma and
// "the" with a noun: "Open, the chest", "Pulmonary homograft, the arch".
func (g *segment) turnWordFirst(from int) bool {
	to := from + 1
	if g.is(to, "time") {
		return false // "Third time, the sternum"
	}
	for to < len(g.toks) && to-from < 4 && g.toks[to].kind == word {
		to++
	}
	if !g.is(to, ",") || !g.is(to+1, "the") || to+2 >= len(g.toks) || g.toks[to+2].kind != word || !(to+3 == len(g.toks) || g.toks[to+3].kind == stop) {
		return false
	}
	g.turn(from, to, to+2, to+3)
	return true
}

// nameEnds is where the name of a value ends that stands by itself between a comma and
// the next, or the end of the sentence; -1 where no name stands there.
func (g *segment) nameEnds(k int) int {
	node, end := g.lex.match(g.toks, k)
	if node == 0 || !g.lex.takesNumber(node) {
		return -1
	}
	if !g.ends(end) {
		return -1
	}
	return end
}

// ends tells whether a comma, a stop or the end of the text stands at token k.
func (g *segment) ends(k int) bool {
	return k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",")
}

// means tells whether a phrase has a sense of a kind.
func (l *lexicon) means(node int32, kind senseKind) bool {
	return slices.ContainsFunc(l.senses[node], func(x sense) bool { return x.kind == kind })
}

// beside are the lists of values that have a number beside them.
var beside = []schema.Path{schema.InfusionsRunningDrug, schema.LeavingRhythm, schema.PressuresReadingsPressure}

// takesNumber tells whether a phrase names what a number is said of, and no thing of
// which the number may be the place in a list: "Nine, wires".
func (l *lexicon) takesNumber(node int32) bool {
	return !l.means(node, isHead) && !l.means(node, isItem) && slices.ContainsFunc(l.senses[node], func(x sense) bool {
		return x.kind == namesField || x.kind == isValue && slices.Contains(beside, x.field.Path)
	})
}
