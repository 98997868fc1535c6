package dictation

import (
	"slices"

	"fairlead/schema"
)

// readSaturationsThen reads a saturation of an earlier moment with the one of now
// after it: "sats sixty eight going in, seventy nine after", "seventy to seventy five
// on the way off, seventy seven now". The first is of before the work where the note
// has a place for it, and never the one on leaving.
func (g *segment) readSaturationsThen() {
	if !g.mentions("sat", "saturation", "spo2", "saturating") {
		return
	}
	leaving := fieldAt(schema.LeavingSaturation)
	before, after := fieldAt(schema.BetweenSaturationBeforeWork), fieldAt(schema.BetweenSaturationAfterWork)
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || !slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == namesField && (x.field == leaving || x.field == before) }) || s.scope&(calling|aiming|intended|denied|hearsay|weighed) != 0 {
			continue
		}
		var nums []int
		for j := i + 1; j < len(g.signs) && len(nums) < 4 && g.signs[j].from-s.to <= 22 && !g.crossesStop(s.to, g.signs[j].from); j++ {
			p := &g.signs[j]
			if p.num != nil && !p.used && p.scope&(calling|aiming) == 0 {
				if a, ok := g.amountAt(j); ok && plausible(leaving, a.decimal) && (a.units == nil || slices.Contains(a.units, "%")) && !g.is(a.from-1, "on", "in") {
					nums = append(nums, j)
					continue
				}
				break
			}
			if p.content() && p.num == nil && !p.has(isUnit) && !p.is(arrives) && !p.is(passing) && !p.is(priorly) && g.saturationOther(p) {
				break
			}
		}
		for n := 0; n+1 < len(nums); n++ {
			a, _ := g.amountAt(nums[n])
			b, _ := g.amountAt(nums[n+1])
			when := g.momentWords(a.to, b.from)
			if when == "" {
				continue
			}
			later := g.is(b.from-1, "now", "then", "currently") || g.is(b.to, "now", "after", "afterward", "currently", "on", "at", "since", "once") || b.to >= len(g.toks) || g.toks[b.to].kind != word || when == "before"
			if !later || when == "passed" && !g.is(b.from-1, "now", "currently", "to") && !g.is(b.to, "now", "currently", "by") {
				continue
			}
			if when == "before" && g.inNote(before) {
				if v, _, ok := fits(before, a); ok && n == 0 {
					g.claimField(before, v, a.from, a.to, s.from, a.to)
				}
			}
			for m := 0; m <= n; m++ {
				g.signs[nums[m]].used = true
			}
			if v, _, ok := fits(leaving, b); ok {
				g.claimField(leaving, v, b.from, b.to, s.from, b.to)
				if when == "before" && g.inNote(after) && !g.is(b.to, "now") && !g.is(b.from-1, "now") {
					g.claimField(after, v, b.from, b.to, s.from, b.to)
				}
			}
			g.useAmount(b)
			s.used = true
			break
		}
	}
}

// readSaturationInOxygen reads a saturation that is told with the oxygen it was in, and
// not named: "he left at eighty three per cent in forty per cent oxygen".
func (g *segment) readSaturationInOxygen() {
	f := fieldAt(schema.LeavingSaturation)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 || !g.is(s.from-1, "at") || i > 0 && g.speaks(&g.signs[i-1]) && s.from-g.signs[i-1].to <= 2 && !g.is(s.from-2, "left", "departed") {
			continue
		}
		a, ok := g.amountAt(i)
		if !ok || !plausible(f, a.decimal) || a.decimal < "40" || len(a.decimal) != 2 || a.units != nil && !slices.Contains(a.units, "%") || !g.is(a.to, "in", "on") || !g.numberAt(a.to+1) {
			continue
		}
		b, ok := g.amountAt(int(g.at[a.to+1]))
		if !ok || !slices.Contains(b.units, "%") && !g.is(b.to, "oxygen") {
			continue
		}
		told := false
		for k := a.from - 2; k >= 0 && k > a.from-6 && g.toks[k].kind != stop; k-- {
			told = told || g.is(k, "he", "she", "they", "it", "left", "departed", "baby", "child", "been", "is", "sit", "sitting", "transferred")
		}
		if v, _, ok := fits(f, a); ok && told {
			g.claimField(f, v, a.from, a.to, a.from, b.to)
			g.useAmount(a)
		}
	}
}

// saturationOther tells whether a sign speaks of something else than saturations and
// when they were.
func (g *segment) saturationOther(p *sign) bool {
	return slices.ContainsFunc(p.senses, func(x sense) bool {
		return (x.kind == namesField || x.kind == isItem || x.kind == isHead) && x.field != nil && x.field.Path != schema.LeavingSaturation && x.field.Path != schema.BeforeSaturation && x.field.Path != schema.BetweenSaturationBeforeWork
	})
}

// momentWords is when the number before token a was read, by the words that follow it
// up to token b: "before" the work, "passing" on the way off bypass, "passed" at another
// time that is over, or "" where they do not say.
func (g *segment) momentWords(a, b int) string {
	for k := a; k < b; k++ {
		switch {
		case g.is(k, "going", "coming", "came", "went") && g.is(k+1, "in"), g.is(k, "to") && g.is(k+1, "start", "begin"), g.is(k, "beforehand", "initially"), g.is(k, "on", "at") && g.is(k+1, "arrival"),
			g.is(k, "when") && g.is(k+1, "we", "she", "he") && g.is(k+2, "started", "began", "opened", "came"):
			return "before"
		case g.is(k, "way") && g.is(k+1, "off"), g.is(k, "coming", "came", "come") && g.is(k+1, "off"), g.is(k, "off") && g.is(k+1, "bypass", "pump"), g.is(k, "at") && g.is(k+1, "first"):
			return "passing"
		}
	}
	if hasSection(g.lex.kind, "between") {
		return "" // where what it was before the work has its own place
	}
	for n := g.nextSign(a); n < len(g.signs) && g.signs[n].from < b; n++ {
		if s := &g.signs[n]; s.is(passing) && !s.is(comes) && !s.is(arrives) {
			return "passed"
		}
	}
	return ""
}
