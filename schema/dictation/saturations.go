package dictation

import (
	"slices"
	"strings"

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
		if s.used || !slices.ContainsFunc(s.senses, func(x sense) bool {
			return x.kind == namesField && (x.field == leaving || x.field == before || x.field == after)
		}) || s.scope&(calling|aiming|intended|denied|hearsay|weighed) != 0 {
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
			if when == "" && g.leavesAfter(a, b) { // "eighty nine, ninety one by the time we moved"
				if slices.ContainsFunc(s.senses, func(x sense) bool { return x.field == after }) && g.is(s.from+1, "after") {
					if v, _, ok := fits(after, a); ok {
						g.claimField(after, v, a.from, a.to, s.from, a.to)
					}
				}
				if v, _, ok := fits(leaving, b); ok {
					g.claimField(leaving, v, b.from, b.to, s.from, b.to)
				}
				g.useAmount(a)
				g.useAmount(b)
				s.used = true
				break
			}
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
			if came := fieldAt(schema.BeforeSaturation); when == "before" && !g.inNote(before) && g.inNote(came) && g.signs[nums[n]].scope&coming != 0 {
				if v, _, ok := fits(came, a); ok {
					g.claimField(came, v, a.from, a.to, s.from, a.to)
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

// leavesAfter tells whether the second of two numbers that stand side by side is followed
// by the moment of leaving.
func (g *segment) leavesAfter(a, b amount) bool {
	if !g.is(a.to, ",", "then", "and", "but") || b.from-a.to > 2 {
		return false
	}
	n := g.nextSign(b.to)
	return n < len(g.signs) && g.signs[n].from == b.to && g.signs[n].is(arrives) && !g.is(b.to, "in") && !g.anyWithin(b.to, g.signs[n].to, "after", "afterward", "revision", "bypass")
}

// readSaturationInOxygen reads a saturation that is told with the oxygen it was in, and
// not named, or named further off: "he left at eighty three per cent in forty per cent
// oxygen", "two litres by prongs, ninety one percent", "they're eighty now on thirty".
func (g *segment) readSaturationInOxygen() {
	f := fieldAt(schema.LeavingSaturation)
	named := g.mentions("sat", "saturation", "spo2", "saturating", "saturated", "sao2")
	flow := g.mentions("nasal", "prong", "cannula") && g.mentions("liter", "l", "lpm")
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		a, ok := g.amountAt(i)
		percent := slices.Contains(a.units, "%")
		if !ok || !plausible(f, a.decimal) || a.decimal < "40" || len(a.decimal) != 2 || a.units != nil && !percent {
			continue
		}
		end := a.to
		for g.is(end, "now", "satting", "saturated") {
			end++
		}
		by := g.oxygenAfter(end)
		switch {
		case by > 0 && (end > a.to || g.childAt(a.from)) && !g.otherNamed(i):
		case by > 0 && !named && percent && g.partBegins(a.from):
		case !named && percent && a.decimal >= "60" && g.flowAfter(end) > 0 && !g.otherNamed(i):
			by = g.flowAfter(end)
		case flow && !named && a.decimal >= "75" && (percent || g.is(a.from-1, ",")) && (g.partBegins(a.from) || g.childAt(a.from) || percent && g.is(a.from-1, "cannula", "prong", "nasal")) && (end >= len(g.toks) || g.toks[end].kind != word || g.is(end, "and") || percent) && g.flowBefore(i):
			by = end
		case !named && percent && a.decimal >= "60" && g.is(a.from-1, ",") && g.is(0, "leaving", "coming", "left", "off", "out") && g.is(a.to, ",") && !g.mentions("oxygen", "fio2", "o2", "bypass", "pump"):
			by = end // "Coming out of theatre, seventy eight percent, ..."
		default:
			continue
		}
		v, _, ok := fits(f, a)
		if !ok {
			continue
		}
		g.saturationWas(i)
		g.claimField(f, v, a.from, a.to, a.from, by)
		g.useAmount(a)
	}
}

// oxygenAfter is where an oxygen fraction after "in" or "on" at token k ends, or -1.
func (g *segment) oxygenAfter(k int) int {
	if !g.is(k, "in", "on") {
		return -1
	}
	k++
	switch {
	case g.is(k, "air"), g.is(k, "half") && g.is(k+1, "oxygen"):
		return k + 1
	case g.is(k, "room") && g.is(k+1, "air"):
		return k + 2
	case !g.numberAt(k):
		return -1
	}
	b, ok := g.amountAt(int(g.at[k]))
	if !ok || !slices.Contains(b.units, "%") && !g.is(b.to, "oxygen", "o2") && !(b.units == nil && strings.HasPrefix(b.decimal, "0.") && b.decimal >= "0.21") {
		return -1
	}
	return b.to
}

// flowAfter is where a flow of oxygen, or how it is given, ends after "on" or "in" at token k:
// "on two litres", "on high flow"; -1 where none follows.
func (g *segment) flowAfter(k int) int {
	if !g.is(k, "on", "in", "with") {
		return -1
	}
	switch k++; {
	case g.is(k, "high", "low") && g.is(k+1, "flow"), g.is(k, "nasal") && g.is(k+1, "cannula", "prong", "oxygen"):
		return k + 2
	case g.is(k, "prong", "hfnc"):
		return k + 1
	case !g.numberAt(k):
		return -1
	}
	b, ok := g.amountAt(int(g.at[k]))
	if !ok || !slices.Contains(b.units, "L/min") && !slices.Contains(b.units, "L") {
		return -1
	}
	return b.to
}

// childAt tells whether the words before token k say that the child, or the saturation,
// is at what stands there: "he left at", "it is", "they're", "up to".
func (g *segment) childAt(k int) bool {
	if !g.is(k-1, "at", "is", "are", "it", "he", "she", "theyre", "were", "to", "now") {
		return false
	}
	for n := k - 1; n >= 0 && n > k-6 && g.toks[n].kind != stop; n-- {
		if g.is(n, "he", "she", "they", "it", "we", "left", "departed", "baby", "child", "boy", "girl", "been", "sit", "sitting", "transferred", "theyre", "were") || g.is(n, "up", "down") && g.is(n+1, "to") {
			return true
		}
	}
	return false
}

// otherNamed tells whether the number at sign i has a name of its own right before it,
// that is no saturation.
func (g *segment) otherNamed(i int) bool {
	if i == 0 {
		return false
	}
	p := &g.signs[i-1]
	return g.speaks(p) && g.signs[i].from-p.to <= 2 && p.num == nil && !g.is(g.signs[i].from-2, "left", "departed") && g.saturationOther(p)
}

// partBegins tells whether a part of a sentence begins at token k.
func (g *segment) partBegins(k int) bool {
	return k == 0 || g.toks[k-1].kind == stop || g.is(k-1, ",", "and", ":")
}

// flowBefore tells whether a flow of oxygen stands before sign i.
func (g *segment) flowBefore(i int) bool {
	for j := i - 1; j >= 0 && g.signs[i].from-g.signs[j].to <= 8; j-- {
		if a, ok := g.amountAt(j); ok && (slices.Contains(a.units, "L") || slices.Contains(a.units, "L/min")) {
			return true
		}
	}
	return false
}

// saturationWas takes a saturation that stands named before the one of now at sign i for
// that of the time before.
func (g *segment) saturationWas(i int) {
	leaving, before := fieldAt(schema.LeavingSaturation), fieldAt(schema.BetweenSaturationBeforeWork)
	for j := i - 1; j > 0 && !g.crossesStop(g.signs[j].to, g.signs[i].from); j-- {
		p := &g.signs[j-1]
		a, ok := g.amountAt(j)
		if !ok || g.signs[j].from-p.to > 3 || !slices.ContainsFunc(p.senses, func(x sense) bool { return x.kind == namesField && x.field == leaving }) || !plausible(leaving, a.decimal) {
			continue
		}
		if v, _, ok := fits(before, a); ok && g.inNote(before) {
			g.claimField(before, v, a.from, a.to, p.from, a.to)
		}
		g.useAmount(a)
		return
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

// cameAt are the words before a saturation at which a child lived until this operation.
var cameAt = wordSet("living lived sitting drifted drifting fallen falling dropped dropping sunk slid running hovering saturating satting baseline resting")

// readSaturationCame reads the saturation a child came with, told by the way and seldom
// named: "sats 87, pre-op 76", "eighty nine now, she came in at seventy six per cent",
// "he has drifted down to seventy one per cent", "92 on .4 (pre 83)".
func (g *segment) readSaturationCame() {
	f := fieldAt(schema.BeforeSaturation)
	revision := g.lex.kind == schema.ShuntRevision // what brought the child back
	if revision {
		f = fieldAt(schema.BetweenSaturationBeforeWork)
	}
	if !g.inNote(f) || hasSection(g.lex.kind, "between") && g.lex.kind != schema.Takedown && !revision || revision && g.ctx.opening > 3 || slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f && !c.gone }) {
		return
	}
	named := g.mentions("sat", "saturation", "spo2", "saturating", "saturated", "sao2") || g.mentions("spo") && g.mentions("2", "two")
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(denied|calling|aiming|intended|weighed|hearsay|formerly) != 0 {
			continue
		}
		a, ok := g.amountAt(i)
		percent := slices.Contains(a.units, "%")
		if !ok || len(a.decimal) != 2 || a.decimal < "40" || a.units != nil && !percent || !named && !percent || g.otherNamed(i) || g.is(a.from-1, "on", "in") || g.is(a.to, "kilo", "day", "week", "/", "by") {
			continue
		}
		came := s.scope&coming != 0 && (percent || g.is(a.from-1, "at", "to", "pre", "op", "preop", ":", "was", "of", "were") || a.from > 0 && g.at[a.from-1] >= 0 && g.signs[g.at[a.from-1]].is(comes))
		came = came || revision && s.scope&past != 0 && (named || g.mentions("desaturated", "desaturation", "desaturating")) && g.is(a.from-1, "to", "at", "of", "were", "was")
		pre := named && !revision && g.is(a.from-1, "pre", "baseline", "preop") && i > 0
		lived := percent && g.ctx.opening < openingOf && s.scope&past == s.scope && g.livedAt(a.from) && g.oxygenAfter(a.to) < 0
		if !came && !pre && !lived {
			continue
		}
		v, _, ok := fits(f, a)
		if !ok {
			continue
		}
		g.claimField(f, v, a.from, a.to, a.from, a.to)
		g.useAmount(a)
		return
	}
}

// livedAt tells whether the words before token k say that the child lived at what stands
// there, with nothing of now among them.
func (g *segment) livedAt(k int) bool {
	if !g.is(k-1, "at", "to", "around", "about") {
		return false
	}
	for n := k - 2; n >= 0 && n > k-6 && g.toks[n].kind != stop && !g.is(n, "now", "leaving", "left"); n-- {
		if cameAt[g.toks[n].text] {
			return true
		}
	}
	return false
}
