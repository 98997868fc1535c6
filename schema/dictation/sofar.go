package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// readDrained reads what the drains have lost where only the volume and "so far" are said
// of them, or the volume stands right after them: "sixty mil out so far", "twenty five mils
// between them", "urine sixty, drains eighteen mils".
func (g *segment) readDrained() {
	f := fieldAt(schema.LeavingDrainLoss)
	if !g.inNote(f) || g.mentions("urine", "oozed") && !g.mentions("drain") || !g.mentions("drain", "blake", "tube") && g.ctx.last != "drain" {
		return
	}
	for i, a := range g.plainAmounts() {
		s := &g.signs[i]
		if j := s.from - 1; g.is(j, "loss", "drainage", "output") && g.is(j-1, "total", "combined", "overall") && (a.units == nil || slices.Contains(a.units, "mL")) && !g.mentions("blood", "estimated") && (a.to >= len(g.toks) || !g.is(a.to, "per", "/", "%")) {
			if v, _, ok := fits(f, a); ok { // "Two pleurals and a mediastinal. Total loss sixty mils."
				c := g.claimField(f, v, a.from, a.to, j-1, a.to)
				c.sure, c.note = Check, "what was lost was not said: taken for the drains"
				g.useAmount(a)
				return
			}
		}
		if !slices.Contains(a.units, "mL") || a.unitSign < 0 || g.is(a.to, "per", "/", "a", "an") || g.is(s.from-1, "of") {
			continue
		}
		k := a.to
		for g.is(k, "out", "in", "total", ",", "all", "up", "together") {
			k++
		}
		named := slices.ContainsFunc(g.signs[:i], func(p sign) bool { return p.has(isItem) || p.has(isVariety) })
		if named && !g.is(k+2, "in") && !g.is(a.to, "between") && !g.anyWithin(a.to, k+4, "total") && !(g.is(a.to, "all") && g.is(a.to+1, "up", "together", "in")) {
			continue // of the one drain named before it
		}
		after := g.is(k, "so") && g.is(k+1, "far") || g.is(a.to, "all") && g.is(a.to+1, "up", "together") || g.is(a.to, "between") && g.is(a.to+1, "them", "the")
		if after || g.is(s.from-1, "drain") && g.is(s.from-2, ",", "and", ".") {
			if v, _, ok := fits(f, a); ok {
				c := g.claimField(f, v, a.from, a.to, a.from, max(a.to, k))
				c.sure, c.note = Check, "what was lost was not said: taken for the drains"
				g.useAmount(a)
				return
			}
		}
	}
}

// readWeightSaid reads weights as they are said without their point, of today beside the
// one at birth, and in grams: "weight sixteen two", "birth weight two point six today two
// point eight", "two thousand eight hundred grams".
func (g *segment) readWeightSaid() {
	now, born := fieldAt(schema.MeasuresWeight), fieldAt(schema.ChildBirthWeight)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal&^past|denied) != 0 {
			continue
		}
		k := s.from - 1
		for g.is(k, "is", "was", "of", ":", "now", "today") {
			k--
		}
		n := g.prevSign(k + 1)
		f := now
		switch {
		case n >= 0 && g.signs[n].to == k+1 && g.meansName(&g.signs[n], born):
			f = born
		case s.scope&past != 0:
			continue
		case n >= 0 && g.signs[n].to == k+1 && g.signs[n].num == nil && g.is(k, "weight", "weigh", "weighing", "wt"):
		case g.is(s.from-1, "today", "now") && g.answered(born) && strings.Contains(s.num.decimal, "."):
		default:
			if v, err := strconv.Atoi(s.num.decimal); err != nil || v < 1000 || v > 9000 || !g.is(s.to, "g", "gram", "gm") {
				continue
			}
			c := g.claimField(now, shift(s.num.decimal, -3), s.from, s.to+1, s.from, s.to+1)
			c.sure, c.note = Check, "no word said that this is the weight"
			s.used = true
			continue
		}
		a, _ := g.amountAt(i)
		switch {
		case a.units == nil && strings.Contains(a.decimal, ".") && (f == born || g.answered(born)):
			if v, _, ok := fits(f, a); ok {
				g.claimField(f, v, a.from, a.to, max(k, 0), a.to)
				g.useAmount(a)
			}
		case a.units == nil && len(a.decimal) <= 2 && !strings.Contains(a.decimal, ".") && g.numberAt(s.to) && g.toks[s.to].kind == word:
			b := &g.signs[g.at[s.to]]
			end := b.to
			for g.is(end, "kilo", "kg", "kilogram") {
				end++
			}
			if len(b.num.decimal) != 1 || end < len(g.toks) && g.toks[end].kind == word {
				continue
			}
			c := g.claimField(f, a.decimal+"."+b.num.decimal, a.from, b.to, max(k, 0), b.to)
			c.sure, c.note = Check, "the point was not said"
			g.useAmount(a)
			b.used = true
		}
	}
}

// joinGrams joins to a weight in kilograms what is said after it: "two kilo one hundred",
// "three kilos and two hundred grams", "fourteen kilograms and a half". The day that
// follows is none of its unit: "two point nine kilos day eleven".
func (g *segment) joinGrams() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || !g.is(s.to, "kilo", "kg", "kilogram") {
			continue
		}
		if g.is(s.to+1, "day") && g.numberAt(s.to+2) {
			g.shorten(int(g.at[s.to]), 1)
		}
		if len(s.num.decimal) > 2 {
			continue
		}
		k := s.to + 1
		if g.is(k, "and") {
			k++
		}
		if k > s.to+1 && g.is(k, "a") && g.is(k+1, "half") {
			g.addToWeight(s, ".5", k, k+2)
			continue
		}
		if k >= len(g.toks) || !g.numberAt(k) {
			continue
		}
		t := &g.signs[g.at[k]]
		end, grams := t.to, t.num.decimal
		if g.is(end, "gram", "g", "gm") {
			end++
		}
		if v, err := strconv.Atoi(grams); err != nil || len(grams) != 3 || v%50 != 0 || len(s.num.decimal) > 1 && k == s.to+1 && end == t.to {
			continue
		}
		if end == t.to && (k > s.to+1 && end < len(g.toks) && g.toks[end].kind == word || end < len(g.toks) && g.toks[end].kind == word && !g.is(end, "today", "now", "boy", "girl", "male", "female")) {
			continue // "three kilos, one hundred mils of blood"
		}
		g.addToWeight(s, "."+strings.TrimRight(grams, "0"), t.from, end)
	}
}

// addToWeight puts the part of a weight after its point, said in tokens from..to, to the
// number of sign s.
func (g *segment) addToWeight(s *sign, part string, from, to int) {
	num := *s.num
	num.decimal += part
	s.num = &num
	for j := from; j < to; j++ {
		if n := g.at[j]; n >= 0 {
			g.signs[n].used = true
		}
	}
}

// shorten makes sign i no longer than its first n words, with what these mean.
func (g *segment) shorten(i, n int) {
	s := &g.signs[i]
	node, to := g.lex.match(g.toks[:s.from+n], s.from)
	if s.to-s.from <= n || node == 0 {
		return
	}
	for k := to; k < s.to; k++ {
		g.at[k] = -1
	}
	s.to, s.node, s.senses = to, node, g.lex.senses[node]
}

// readWeighedToday reads the weight that is said to be today's or of the scales, or that
// puts right the one before it: "five point six kilos, sorry, that's the clinic weight,
// five point nine today", "three point one, no, three point three kilos". What was said
// first is no weight then, unless it is the one at birth.
func (g *segment) readWeighedToday() {
	f := fieldAt(schema.MeasuresWeight)
	if !g.inNote(f) || !g.mentions("kilo", "kg", "kilogram", "weight", "weigh", "weighed", "wt", "bw", "scale") {
		return
	}
	last, other := -1, -1
	for i := range g.signs {
		if !g.canWeigh(i) {
			continue
		}
		if j := g.weightBefore(i); g.saidOfToday(i) && (j >= 0 || g.kilos(i)) || j >= 0 && g.putsWeightRight(j, i) {
			last, other = i, j
		}
	}
	if last < 0 {
		return
	}
	a, _ := g.amountAt(last)
	whole := g.wholeBefore(last)
	if whole >= 0 {
		a.decimal, a.from = g.signs[whole].num.decimal+"."+a.decimal, g.signs[whole].from
	}
	v, _, ok := fits(f, a)
	if !ok || !usual(f, g.lex.kind, v) || g.choosesAfter(a.to) {
		return
	}
	c := g.claimField(f, v, a.from, a.to, a.from, a.to)
	if whole >= 0 {
		c.sure, c.note = Check, "the point was not said"
		g.signs[whole].used = true
	}
	if other >= 0 && !g.weightOfOther(other) {
		g.dropWeight(other, last)
	}
	g.useAmount(a)
}

// dropWeight sets aside the weight at sign j, which the one at sign i took the place of, also
// where it is said again: "six kilos, sorry, six point four, six was the clinic weight".
func (g *segment) dropWeight(j, i int) {
	if n := g.wholeBefore(j); n >= 0 {
		g.signs[n].used = true
	}
	first, _ := g.amountAt(j)
	for n := j + 1; n < len(g.signs); n++ {
		s := &g.signs[n]
		again := n > i && s.from-g.signs[i].to <= 8 && s.num != nil && s.num.decimal == first.decimal && g.is(s.to, "was", "were", "is")
		if n < i && s.num == nil && (s.is(corrects) || s.is(scratches) || s.is(denies)) || again {
			s.used = true
		}
	}
	g.useAmount(first)
}

// choosesAfter tells whether a choice is told right after token k: "eight point two, no,
// eight point zero two, I'll take eight".
func (g *segment) choosesAfter(k int) bool {
	return slices.ContainsFunc(g.signs, func(s sign) bool { return s.is(chooses) && s.from >= k && s.from <= k+4 }) || g.anyWithin(k, k+4, "take")
}

// kilos tells whether the number at sign i is said in kilograms, and not for each of them.
func (g *segment) kilos(i int) bool {
	a, _ := g.amountAt(i)
	return slices.Contains(a.units, "kg") && !g.is(a.from-1, "per", "/") && !g.is(g.signs[a.unitSign].from-1, "per", "a", "/")
}

// canWeigh tells whether the number at sign i can be a weight: in kilograms, or of two parts.
func (g *segment) canWeigh(i int) bool {
	s := &g.signs[i]
	if s.num == nil || s.used || s.num.decimal == "" || s.scope&(intended|calling|aiming|denied) != 0 {
		return false
	}
	a, _ := g.amountAt(i)
	if a.units != nil {
		return g.kilos(i)
	}
	return (strings.Contains(a.decimal, ".") || g.wholeBefore(i) >= 0) && !g.is(a.to, "per", "/")
}

// saidOfToday tells whether the number at sign i is said of today or of the scales.
func (g *segment) saidOfToday(i int) bool {
	a, _ := g.amountAt(i)
	k := a.to
	for g.is(k, ",", "on", "by", "from", "the", "our", "my", "ward", "theater", "here") {
		k++
	}
	if g.is(k, "today", "scale") || g.is(k, "this") && g.is(k+1, "morning") || g.is(k, "is") && g.is(k+1, "what") && g.is(k+3, "weigh") {
		return true
	}
	k = a.from - 1
	for g.is(k, ",", ":", "is", "was", "at", "he", "she", "it", "say", "said", "show", "make", "weigh", "of") {
		k--
	}
	return g.is(k, "today", "now", "scale") || g.is(k, "morning") && g.is(k-1, "this")
}

// putsWeightRight tells whether the weight at sign i takes the place of the number at sign
// j: one of them is plainly a weight, and nothing but a word of correction, and whose the
// first was, stands between.
func (g *segment) putsWeightRight(j, i int) bool {
	if !g.kilos(i) && !g.kilos(j) && !g.saidAsWeight(j) {
		return false
	}
	taken := g.is(g.signs[j].to, "...")
	for n := j + 1; n < i; n++ {
		s := &g.signs[n]
		switch {
		case s.is(corrects), s.is(scratches), g.is(s.from, "no") && s.is(denies):
			taken = true
		case s.num != nil && n != g.wholeBefore(i):
			return false
		case slices.ContainsFunc(s.senses, func(x sense) bool {
			return x.kind == namesField && x.field.Section != "measures" && x.field.Section != "child" || x.kind == isItem || x.kind == isVariety || x.kind == isHead
		}):
			return false
		}
	}
	return taken && g.signs[i].from-g.signs[j].to <= 10
}

// wholeBefore is the sign of the kilograms before those tenths at sign i, where no point was
// said: "fifteen six today"; -1 without one.
func (g *segment) wholeBefore(i int) int {
	if i == 0 || len(g.signs[i].num.decimal) != 1 {
		return -1
	}
	if p := &g.signs[i-1]; p.num != nil && !p.used && p.to == g.signs[i].from && len(p.num.decimal) <= 2 && p.num.decimal != "" {
		return i - 1
	}
	return -1
}

// weightBefore is the sign of the number said before the one at sign i that may be a weight
// too; -1 without one.
func (g *segment) weightBefore(i int) int {
	first := i
	if n := g.wholeBefore(i); n >= 0 {
		first = n
	}
	for j := first - 1; j >= 0 && g.signs[first].from-g.signs[j].to <= 14; j-- {
		s := &g.signs[j]
		if s.num == nil || s.used {
			continue
		}
		if g.canWeigh(j) || g.weightOfOther(j) || g.saidAsWeight(j) {
			return j
		}
		return -1
	}
	return -1
}

// saidAsWeight tells whether a word for the weight stands right before the number at sign j.
func (g *segment) saidAsWeight(j int) bool {
	if n := g.wholeBefore(j); n >= 0 {
		j = n
	}
	k := g.signs[j].from - 1
	for g.is(k, "is", "was", "of", ":", "at", ",") {
		k--
	}
	return g.is(k, "weight", "weigh", "weighed", "weighing", "wt", "scale")
}

// weightOfOther tells whether the number at sign j is called another weight than today's: the
// one at birth, or the one that doses are reckoned by.
func (g *segment) weightOfOther(j int) bool {
	s := &g.signs[j]
	return g.anyWithin(s.from-4, s.from, "birth", "born", "bw", "dosing") || g.anyWithin(s.to, s.to+4, "birth", "born", "dosing")
}

// weighedThen tells whether a weight is said to be of another time, or not what the scales
// said: of birth, the clinic, the last operation.
func (g *segment) weighedThen(a amount) bool {
	other := func(k int) bool {
		return g.is(k, "birth", "born", "clinic", "catheter", "cath", "admission", "referral", "transfer", "dosing", "ideal", "dry", "last", "when", "twin", "brother", "sister", "ago", "norwood", "glenn", "stage", "then", "was") &&
			!(g.is(k, "was") && g.is(k-1, "he", "she", "baby", "child"))
	}
	for k := a.to; k < len(g.toks) && k < a.to+6 && g.toks[k].kind == word && !g.numberAt(k); k++ {
		if g.is(k, "today", "scale", "for") || g.is(k, "this") && g.is(k+1, "morning") {
			return false
		}
		if other(k) {
			return true
		}
	}
	for k := a.from - 1; k >= 0 && k > a.from-6 && g.toks[k].kind == word && !g.numberEnds(k); k-- {
		if other(k) {
			return true
		}
	}
	return false
}

// halvesOfWeight joins the two parts of a weight whose point was not said: "two eight
// kilos", "thirteen kilos eight".
func (g *segment) halvesOfWeight(i int, a amount) *amount {
	kilos := func(n int) bool { return n >= 0 && n < len(g.signs) && g.within(&g.signs[n], "kilo", "kg", "kilogram") }
	plain := func(n int, digits int) bool {
		return n >= 0 && n < len(g.signs) && g.signs[n].num != nil && !g.signs[n].used && len(g.signs[n].num.decimal) <= digits && !strings.Contains(g.signs[n].num.decimal, ".") && g.signs[n].num.decimal != ""
	}
	if !plain(i, 2) || a.unitSign >= 0 && !kilos(a.unitSign) {
		return nil
	}
	whole, part, unit := i, i+1, i+2 // "two eight kilos"
	if a.unitSign == i+1 {
		part, unit = i+2, i+1 // "thirteen kilos eight"
	}
	if !plain(part, 1) || !kilos(unit) || g.signs[part].from-g.signs[max(whole, part-1)].to > 0 || g.signs[unit].from-g.signs[unit-1].to > 0 {
		return nil
	}
	end := max(g.signs[part].to, g.signs[unit].to)
	if g.is(end, "per", "/", "a", "french", "mm") || end == g.signs[part].to && end < len(g.toks) && g.toks[end].kind == word {
		return nil
	}
	if whole > 0 && g.signs[whole-1].num != nil && g.signs[whole-1].to == g.signs[whole].from || g.is(a.from-1, "and", "point", ",") && part == i+1 {
		return nil // "fifteen six kilos" said as a list of numbers
	}
	b := a
	b.decimal, b.to, b.unitSign, b.units, b.said = g.signs[whole].num.decimal+"."+g.signs[part].num.decimal, end, unit, []string{"kg"}, "kilos"
	if v, _, ok := fits(fieldAt(schema.MeasuresWeight), b); !ok || !usual(fieldAt(schema.MeasuresWeight), g.lex.kind, v) {
		return nil
	}
	g.signs[part].used = true
	return &b
}
