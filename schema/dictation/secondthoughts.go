package dictation

import (
	"math"
	"strconv"
	"strings"
)

// secondThoughts lets what was said first give way to what is said instead with no
// word of correction: after a pause, "point three... point four", as a sentence of its
// own, "Two packs. Three; sister holds up three fingers", as the answer to a question,
// "Closed? Enlarged!", or where the one who put it right is named, "Moderate, our
// cardiologist corrects me".
func (g *segment) secondThoughts() {
	for i := 1; i < len(g.signs); i++ {
		r := &g.signs[i]
		if r.used || r.from == 0 || r.scope&(calling|aiming|intended) != 0 || r.num == nil && !r.has(isValue) && g.sideOf(r) == "" {
			continue
		}
		k := r.from - 1
		if g.is(k, "just", "only", "plain") && g.is(k-1, "?") {
			k-- // "antibiotic wash? Just saline"
		}
		k = g.pauseBefore(k)
		p := g.saidBefore(i, g.askedOf(k))
		switch {
		case p >= 0 && g.pauseAt(k):
			sized := r.num != nil && g.unitAfter(i) != "" && g.nearTo(p, i, 1.5) && g.sizeSaid(p) && g.sizedThing(p) // "three and a half... four millimetre Gore-Tex"
			if r.num != nil && (!g.nearTo(p, i, 3) || g.namedAfter(i) && !g.namedAfter(p) && !sized) {
				continue
			}
		case p >= 0 && g.is(k, "?") && g.bareSentence(i):
		case p >= 0 && g.is(k, ",") && g.measuredAgain(p, i):
		case g.is(k, "so") && r.num != nil && g.bareSentence(i) && g.unitAfter(i) != "":
			if p = g.measured(i); p < 0 {
				continue // "one says one minute, the other two, so two minutes"
			}
		case p < 0:
			continue
		case g.toks[k].kind == stop && g.bareSentence(i) && (r.num != nil && g.nearTo(p, i, 1.26) || g.putRightBy(i)):
		default:
			continue
		}
		switch {
		case r.num != nil:
			g.takePlace(p, i)
		case g.signs[p].to-g.signs[p].from > 1, p > 0 && g.signs[p-1].content() && g.signs[p].from-g.signs[p-1].to <= 1, g.putRightBy(i), g.is(k, "?"):
			g.substitute(p, i)
		default:
			g.signs[p].used = true
		}
	}
}

// askedOf is where the question that ends with token k begins, where it only asks whether
// what was said before is so: "point one. Is it?"
func (g *segment) askedOf(k int) int {
	if !g.is(k, "?") {
		return k
	}
	j := k
	for g.is(j-1, "is", "was", "it", "that", "right", "so", "correct") {
		j--
	}
	if j < k-1 && j > 0 && (g.is(j-1, ",") || g.toks[j-1].kind == stop) {
		return j - 1
	}
	return k
}

// measuredAgain tells whether the number at sign i, which ends a sentence after a comma, is
// the time or weight at sign p said once more: "thirty eight minutes, forty one."
func (g *segment) measuredAgain(p, i int) bool {
	if g.signs[i].num == nil || g.signs[i].num.decimal == "" || g.unitAfter(i) != "" || g.signs[i].from < 1 || g.signs[p].to >= g.signs[i].from-1 || !g.nearTo(p, i, 1.26) {
		return false
	}
	u := g.unitAfter(p)
	return (strings.HasPrefix(u, "min") || strings.HasPrefix(u, "kilo") || u == "kg") && g.bareSentence(i)
}

// saidBefore is the sign that ends the words before token k and that sign i can stand
// in for: with no more than its unit or its noun between; -1 where there is none.
func (g *segment) saidBefore(i, k int) int {
	r := &g.signs[i]
	for j := i - 1; j >= 0 && j >= i-4 && k-g.signs[j].to <= 2; j-- {
		p := &g.signs[j]
		if p.used && p.num != nil && p.to >= k-1 { // it has given way already: "nine. Ten. Nine."
			k = p.from
			continue
		}
		if p.is(filler) && !p.content() || p.from > k {
			continue
		}
		if p.used || p.scope&(calling|aiming) != 0 {
			return -1
		}
		if sameSort(p, r) && !g.unitsDiffer(j, i) {
			return j
		}
		if r.num == nil || p.num != nil || p.to < k && !p.has(isUnit) {
			return -1
		}
		if !p.has(isUnit) && (!p.content() || j == 0 || g.signs[j-1].to != p.from) {
			return -1
		}
		k = p.from
	}
	return -1
}

// measured is the first number of the sentence that is said in the unit of the one at
// sign i, where they differ; -1 where there is none.
func (g *segment) measured(i int) int {
	for j := 0; j < i; j++ {
		p := &g.signs[j]
		if p.num != nil && !p.used && !p.content() && g.unitAfter(j) == g.unitAfter(i) && g.nearTo(j, i, 2) && !g.crossesStop(p.to, g.signs[i].from-1) {
			return j
		}
	}
	return -1
}

// pauseAt tells whether token k is a pause, written with three points.
func (g *segment) pauseAt(k int) bool {
	s := g.toks[k].span
	return g.is(k, ",") && (g.text[s.Start:s.End] == "..." || strings.HasPrefix(g.text[s.Start:], "…"))
}

// bareSentence tells whether sign i, with its unit, is all that a sentence says, but for
// who said so or that it is so now.
func (g *segment) bareSentence(i int) bool {
	k := g.signs[i].to
	if k >= len(g.toks) || g.toks[k].kind == stop {
		return true
	}
	if g.is(k, ",") && g.is(k+1, "right", "yes", "thank", "okay", "ok", "correct", "sorry") && (k+2 >= len(g.toks) || g.toks[k+2].kind == stop) {
		return true // "point oh five, right"
	}
	return g.is(k, "now") && (k+1 >= len(g.toks) || g.toks[k+1].kind == stop) || g.is(k, ",") && (g.is(k+1, "and") && g.is(k+2, "that") || g.putRightBy(i))
}

// putRightBy tells whether who said so follows sign i: "they've just told me".
func (g *segment) putRightBy(i int) bool {
	k := g.signs[i].to
	if !g.is(k, ",") {
		return false
	}
	for k++; k < len(g.toks) && g.toks[k].kind != stop && !g.is(k, ",") && !g.numberAt(k); k++ {
		if g.is(k, "correct") && g.is(k+1, "me") || g.is(k, "told", "tell", "corrected", "say", "said", "clock", "sheet", "chart", "stopwatch", "record", "holding", "shouting", "pointing") {
			return true
		}
	}
	return false
}

// nearTo tells whether two numbers differ by no more than a factor, or small counts by one.
func (g *segment) nearTo(a, b int, factor float64) bool {
	x, err := strconv.ParseFloat(g.signs[a].num.decimal, 64)
	y, err2 := strconv.ParseFloat(g.signs[b].num.decimal, 64)
	if err != nil || err2 != nil || x <= 0 || y <= 0 || x == y {
		return false
	}
	return math.Max(x/y, y/x) <= factor || x <= 6 && y <= 6 && math.Abs(x-y) <= 1
}

// pauseBefore is the pause right before token k, with no more between than that what follows
// is so: "zero point one... it's running at point one two". Where there is none it is k.
func (g *segment) pauseBefore(k int) int {
	j := k
	for j > 0 && k-j < 5 && g.is(j, "it", "is", "was", "running", "at", "on", "a", "an", "say", "read", "i", "have", "make", "ive") {
		j--
	}
	if j < k && g.pauseAt(j) {
		return j
	}
	return k
}
