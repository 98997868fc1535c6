package dictation

import (
	"slices"

	"fairlead/schema"
)

// pumpField is the field that holds, of the time on bypass, what another holds of the
// state on leaving: one name serves both.
var pumpField = map[schema.Path]schema.Path{
	schema.GasLactate: schema.PerfusionPeakLactate, schema.GasHaematocrit: schema.PerfusionLowestHaematocrit,
	schema.LeavingUrine: schema.PerfusionUrine, schema.LeavingCerebralRight: schema.PerfusionLowestCerebralSaturation,
	schema.LeavingCerebralLeft: schema.PerfusionLowestCerebralSaturation, schema.PerfusionHaematocritBefore: schema.PerfusionLowestHaematocrit, schema.GasVenousSaturation: schema.PerfusionLowestVenousSaturation,
	schema.ClottingClottingTimeAfter: schema.ClottingClottingTimeBypass,
}

// onPumpField is the field of bypass that an amount beside the name of f belongs to, or
// nil: "haematocrit thirty eight before bypass, lowest twenty six on pump".
func (g *segment) onPumpField(f *schema.Field, a amount) *schema.Field {
	q := fieldAt(pumpField[f.Path])
	if q == nil || !g.inNote(q) || g.leavingAt(a) && !(g.is(a.to, "now") && g.is(a.to+1, "it", "its", "is")) {
		return nil
	}
	if before := fieldAt(schema.PerfusionHaematocritBefore); q.Path == schema.PerfusionLowestHaematocrit {
		if k := a.to + 1; g.is(a.to, "before", "pre", "prior") && g.pumpAt(k) || g.is(a.to, "in") && g.partEnds(k) || g.is(a.to, "going") && g.is(k, "on") && g.partEnds(k+1) {
			return before // "thirty eight in, lowest twenty six"
		}
	}
	if q.Path == schema.PerfusionPeakLactate {
		if g.onBypass(a) || g.besideAny(a, peakWords) {
			return q
		}
		return nil
	}
	if g.onBypass(a) {
		return q
	}
	return nil
}

// pumpWords are bypass, and peakWords say that a number was the highest there was.
var (
	pumpWords = wordSet("pump bypass cpb")
	peakWords = wordSet("peak peaked peaking worst highest max maximum maxed rewarming")
)

// pumpAt tells whether bypass stands at token k, with no more than "going on" before.
func (g *segment) pumpAt(k int) bool {
	for g.is(k, "going", "on", "we", "went", "the", "to", "coming") {
		k++
	}
	return pumpWords[g.wordAt(k)]
}

// onBypass tells whether an amount is said to be of the time on bypass: "eleven on the
// pump", "on bypass the lactate was eleven".
func (g *segment) onBypass(a amount) bool {
	return g.besideAny(a, pumpWords)
}

// besideAny tells whether one of the words stands in the few words before or after an
// amount, with no other number between, and none that says before or after it.
func (g *segment) besideAny(a amount, words map[string]bool) bool {
	for k := a.to; k < len(g.toks) && k < a.to+6 && g.toks[k].kind != stop && !g.numberAt(k) && !g.is(k, "before", "after", "off", ",", "("); k++ {
		if words[g.toks[k].text] {
			return true
		}
	}
	for k := a.from - 1; k >= 0 && k > a.from-8 && g.toks[k].kind != stop && !g.numberEnds(k) && !g.is(k, "before", "after", "off"); k-- {
		if g.is(k, "and", "but") {
			return false // "six on pump and four now"
		}
		if words[g.toks[k].text] {
			return !g.is(k-1, "off", "after", "before", "post", "pre") && !g.is(k-2, "off", "after", "before")
		}
	}
	return false
}

// readPumpToo reads a second number of what was measured before, said with no name of
// its own: "crit thirty eight before bypass, lowest twenty six on pump", "highest lactate
// on pump seven, leaving four point four".
func (g *segment) readPumpToo() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal&^past|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		for c := len(g.claims) - 1; c >= 0; c-- {
			x := &g.claims[c]
			if x.gone || x.group >= 0 || x.to > a.from || a.from-x.to > 7 || g.crossesStop(x.to, a.from) {
				continue
			}
			var q *schema.Field
			switch {
			case g.onBypass(a) || g.lowest(a):
				q = fieldAt(pumpField[x.field.Path])
			case g.leavingAt(a) && s.scope&past == 0:
				for f, p := range pumpField {
					if p == x.field.Path && f != schema.LeavingCerebralRight && f != schema.LeavingCerebralLeft && f != schema.PerfusionHaematocritBefore {
						q = fieldAt(f)
					}
				}
			}
			if q == nil || g.answered(q) {
				continue
			}
			if v, _, ok := fits(q, a); ok && usual(q, g.lex.kind, v) {
				g.judge(g.claimField(q, v, a.from, a.to, x.why, a.to), a)
				g.useAmount(a)
			}
			break
		}
	}
}

// readPeakLactate reads the highest lactate of bypass, said after a lactate with no name of
// its own: "lactate six point two. Peak on pump nine.", "lactate 5.9 (8.8 peak on CPB)".
func (g *segment) readPeakLactate() {
	f := fieldAt(schema.PerfusionPeakLactate)
	if !g.inNote(f) || g.answered(f) {
		return
	}
	named := g.ctx.number != nil && (g.ctx.number.Path == schema.GasLactate || g.ctx.number == f)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil {
			if g.speaks(s) && !peakWords[g.toks[s.from].text] && !pumpWords[g.toks[s.to-1].text] {
				named = slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == namesField && x.field.Path == schema.GasLactate })
			}
			continue
		}
		a, ok := g.amountAt(i)
		if !named || !ok || s.scope&(calling|aiming|denied|weighed|formerly) != 0 || !g.peakOnPump(a) {
			continue
		}
		if v, _, ok := fits(f, a); ok {
			g.judge(g.claimField(f, v, a.from, a.to, a.from, a.to), a)
			g.useAmount(a)
			return
		}
	}
}

// peakOnPump tells whether an amount is all that its part of the sentence says, but for
// that it was the highest, on bypass.
func (g *segment) peakOnPump(a amount) bool {
	peak, pump := false, false
	see := func(k int) bool {
		switch w := g.wordAt(k); {
		case peakWords[w]:
			peak = true
		case pumpWords[w]:
			pump = true
		case !g.is(k, "on", "the", "at", "it", "was", "had", "its", "of", "during", "to", "with", "and"):
			return false
		}
		return true
	}
	ends := func(k int) bool {
		return k < 0 || k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", "(", ")", ":")
	}
	for k := a.from - 1; !ends(k); k-- {
		if !see(k) {
			return false
		}
	}
	for k := a.to; !ends(k); k++ {
		if !see(k) {
			return false
		}
	}
	return peak && pump
}

// partEnds tells whether a part of a sentence ends before token k.
func (g *segment) partEnds(k int) bool {
	return k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", ";", ")")
}

// lowest tells whether an amount is said to be the lowest there was.
func (g *segment) lowest(a amount) bool {
	if g.is(a.to, "lowest", "nadir", "minimum") && g.partEnds(a.to+1) {
		return true
	}
	for k := a.from - 1; k >= 0 && k > a.from-4; k-- {
		if g.is(k, "lowest", "nadir", "minimum", "low", "below", "under") {
			return true
		}
	}
	return false
}

// lowWords are what was measured on bypass of which the lowest is told.
var lowWords = map[string]schema.Path{
	"mean": schema.PerfusionLowestPressure, "map": schema.PerfusionLowestPressure, "pressure": schema.PerfusionLowestPressure,
	"cerebral": schema.PerfusionLowestCerebralSaturation, "nirs": schema.PerfusionLowestCerebralSaturation, "nir": schema.PerfusionLowestCerebralSaturation,
	"venous": schema.PerfusionLowestVenousSaturation, "svo2": schema.PerfusionLowestVenousSaturation,
	"crit": schema.PerfusionLowestHaematocrit, "hct": schema.PerfusionLowestHaematocrit, "hematocrit": schema.PerfusionLowestHaematocrit,
}

// readPumpLows reads the lowest of what was measured on bypass, with a verb between its
// name and the number: "on pump the mean never fell below thirty one", "cerebral
// saturations dropped to forty one on bypass".
func (g *segment) readPumpLows() {
	g.readLowsListed()
	if !g.mentions("pump", "bypass", "cpb") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal&^past) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		fell := g.is(a.from-1, "to") && g.is(a.from-2, "down", "dropped", "fell", "dipped", "went", "sank", "drifted")
		if !g.lowest(a) && !fell || !g.onBypass(a) {
			continue
		}
		for k := a.from - 1; k >= 0 && k > a.from-9 && g.toks[k].kind != stop && !g.numberEnds(k); k-- {
			f := fieldAt(lowWords[g.toks[k].text])
			if f == nil || !g.inNote(f) || g.answered(f) {
				continue
			}
			if v, _, ok := fits(f, a); ok && usual(f, g.lex.kind, v) {
				g.judge(g.claimField(f, v, a.from, a.to, k, a.to), a)
				g.useAmount(a)
			}
			break
		}
	}
}

// readLowsListed reads what follows in a list that "lowest" opens: "Lowest haematocrit
// twenty four, mean pressure twenty seven, venous saturation fifty eight."
func (g *segment) readLowsListed() {
	for k := range g.toks {
		if !g.is(k, "lowest") || k > 0 && g.toks[k-1].kind != stop {
			continue
		}
		for j, parts := k+1, 0; j < len(g.toks) && g.toks[j].kind != stop; j++ {
			if g.is(j, ",") {
				parts++
			}
			f := fieldAt(lowWords[g.toks[j].text])
			if f == nil || parts == 0 || !g.is(j-1, ",", "and") || !g.inNote(f) || g.answered(f) {
				continue
			}
			n := j + 1
			for g.is(n, "pressure", "saturation", "arterial", "sat", "of") {
				n++
			}
			if !g.numberAt(n) || g.signs[g.at[n]].used || g.signs[g.at[n]].scope&unreal != 0 {
				continue
			}
			a, _ := g.amountAt(int(g.at[n]))
			if v, _, ok := fits(f, a); ok && usual(f, g.lex.kind, v) {
				g.judge(g.claimField(f, v, a.from, a.to, j, a.to), a)
				g.useAmount(a)
				for i := range g.signs {
					if p := &g.signs[i]; p.from >= j && p.to <= n {
						p.used = true
					}
				}
			}
		}
	}
}
