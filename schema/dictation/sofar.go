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

// joinGrams joins to a weight in kilograms the grams said after it: "two kilo one
// hundred", "three kilos and two hundred grams".
func (g *segment) joinGrams() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || len(s.num.decimal) != 1 || s.used || !g.is(s.to, "kilo", "kg", "kilogram") {
			continue
		}
		k := s.to + 1
		if g.is(k, "and") {
			k++
		}
		if k >= len(g.toks) || !g.numberAt(k) {
			continue
		}
		t := &g.signs[g.at[k]]
		end, grams := t.to, t.num.decimal
		if g.is(end, "gram", "g", "gm") {
			end++
		}
		if v, err := strconv.Atoi(grams); err != nil || len(grams) != 3 || v%50 != 0 {
			continue
		}
		if end == t.to && (k > s.to+1 && end < len(g.toks) && g.toks[end].kind == word || end < len(g.toks) && g.toks[end].kind == word && !g.is(end, "today", "now", "boy", "girl", "male", "female")) {
			continue // "three kilos, one hundred mils of blood"
		}
		num := *s.num
		num.decimal += "." + strings.TrimRight(grams, "0")
		s.num = &num
		for j := t.from; j < end; j++ {
			if n := g.at[j]; n >= 0 {
				g.signs[n].used = true
			}
		}
	}
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
