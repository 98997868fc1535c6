package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// readRuns reads how long each of several runs on bypass took: "two runs, a hundred
// and twelve minutes and thirty one", "the first run took 158 minutes", "back on for
// another twenty two minutes", "CPB 112' then 18'".
func (g *segment) readRuns() {
	if !g.inNote(fieldAt(schema.SupportRuns)) || g.lex.kind == schema.SupportOff {
		return
	}
	start, several := -1, false
	for k := range g.toks {
		switch {
		case g.is(k, "run") && !g.unrealAt(k):
			ordinal := g.is(k-1, "first", "second", "third") || g.is(k-2, "first", "second", "third") && g.is(k-1, "bypass", "pump")
			count := g.numberAt(k-1) && g.smallRuns(k-1) || g.is(k-1, "bypass", "pump") && g.numberAt(k-2) && g.smallRuns(k-2)
			if (ordinal || count) && start < 0 {
				start, several = k, count
			} else if start < 0 && (g.is(k+1, ",", ":") && g.numberAt(k+2) && g.smallRuns(k+2)) && g.is(g.signs[g.at[k+2]].to, ":", ",") {
				start, several = g.signs[g.at[k+2]].to-1, true // "bypass runs, two: 132 and 28"
			}
		case g.is(k, "back") && g.is(k+1, "on") && g.is(k+2, "bypass", "pump", "cpb") && g.is(k+3, "for") && g.numberAt(k+4) && start < 0 && !g.unrealAt(k):
			start = k + 2 // "went back on bypass for thirty two minutes"
		case g.is(k, "back") && g.is(k+1, "on") && start < 0:
			for j := k + 2; j < k+14; j++ {
				if g.is(j, "another", "further") {
					start = j - 1 // "back on for bleeding, for another twenty two minutes"
				}
			}
		case g.is(k, "bypass", "cpb", "pump") && start < 0 && !g.unrealAt(k):
			if start = g.twoTimes(k); start >= 0 {
				several = true
			}
		}
	}
	if start >= 0 {
		g.readSpans(schema.SupportRuns, start, several)
	}
}

// twoTimes is the token before two lengths of time that follow "bypass" at token k side by
// side, or before their list where they are counted; or -1: "CPB 112' then 18'", "bypass
// x2: 120 + 33".
func (g *segment) twoTimes(k int) int {
	j := k + 1
	if g.is(j, "x") && g.numberAt(j+1) && g.smallRuns(j+1) {
		return j + 1
	}
	for g.is(j, "time", "was", ":", "of", "for") {
		j++
	}
	for n := range 2 {
		if !g.numberAt(j) {
			return -1
		}
		a, ok := g.amountAt(int(g.at[j]))
		if !ok || a.units != nil && !slices.Contains(a.units, "min") || !plausible(fieldAt(schema.SupportBypassTotal), a.decimal) {
			return -1
		}
		if j = a.to; n > 0 {
			break
		}
		if g.is(j, "and") && g.is(j+1, "then") {
			j++
		}
		if !g.is(j, "then", "+", "plus") && !(g.is(j, "and") && g.mentions("run", "back", "again")) {
			return -1
		}
		j++
	}
	if n := g.at[min(j, len(g.toks)-1)]; j < len(g.toks) && n >= 0 && g.listNamed(&g.signs[n]) != "" {
		return -1 // "bypass 112 and 61 clamp"
	}
	return k
}

// readSpellsApart reads how long each of several clamps or arrests took: "two clamps,
// fifty two and twenty two".
func (g *segment) readSpellsApart() {
	for _, x := range []struct {
		list schema.Path
		noun string
	}{{schema.SupportClamps, "clamp"}, {schema.SupportArrests, "arrest"}} {
		if !g.inNote(fieldAt(x.list)) || !g.mentions(x.noun) {
			continue
		}
		for k := range g.toks {
			first := k - 1
			for g.is(first, "cross", "aortic", "circulatory", "of", "period") {
				first--
			}
			if g.is(k, x.noun) && !g.unrealAt(k) && g.numberAt(first) && g.smallRuns(first) && g.is(k+1, ",", ":", "of", "period", "-") {
				g.readSpans(x.list, k, true)
				break
			}
		}
	}
}

// readSpans reads the lengths of time told from token start on as rows of a list, and
// what they come to where that is said too; several where they were counted before.
func (g *segment) readSpans(list schema.Path, start int, several bool) {
	total := map[schema.Path]schema.Path{schema.SupportRuns: schema.SupportBypassTotal, schema.SupportClamps: schema.SupportClampTotal, schema.SupportArrests: schema.SupportArrestTotal}[list]
	least := 5
	if list != schema.SupportRuns {
		least = 1
	}
	var spans []amount
	last := start + 1
	for n := g.nextSign(start + 1); n < len(g.signs); n++ {
		s := &g.signs[n]
		if l := g.listNamed(s); l != "" && l != list || g.crossesStop(last, s.from) || s.from-last > 9 {
			break
		}
		if s.num == nil {
			continue
		}
		if g.is(s.from, "one") && g.is(s.from-1, "first", "second", "third", "other", "another") {
			continue // "and a second one of twenty-two"
		}
		if s.used { // what put the one before it right
			last = s.to
			continue
		}
		if s.scope&(denied|calling|aiming) != 0 {
			break
		}
		a, _ := g.amountAt(n)
		v, err := strconv.Atoi(a.decimal)
		if err != nil || v < least || v > 600 || a.units != nil && !slices.Contains(a.units, "min") || s.num.surely ||
			a.units == nil && len(spans) == 0 && !several && !g.is(a.from-1, "took", "was", "lasted", "of", "ran", "run") || a.units == nil && !g.is(a.from-1, ",", "and", "then", "second", "first", "further", "another", "was", ":", "for", "took", "of", "+", "plus", "run", "cpb", "bypass", "pump") {
			break
		}
		sum := g.is(a.to, "in", "total", "altogether", "together", "overall") && g.is(a.to+1, "all", "total") || g.is(a.to, "altogether", "together", "overall", "total")
		if sum && list == schema.SupportRuns {
			break // their sum
		}
		spans = append(spans, a)
		if last = a.to; sum {
			break
		}
	}
	if len(spans) == 0 || several && len(spans) < 2 || len(spans) == 1 && (spans[0].units == nil && !g.is(spans[0].from-1, "took", "was", "lasted", "of", "ran") || g.lastPeriod(list) >= 0) {
		return
	}
	sum := 0
	for n, a := range spans {
		v, _ := strconv.Atoi(a.decimal)
		if n >= 2 && n == len(spans)-1 && v == sum { // "ninety five and eighteen, a hundred and thirteen all told"
			g.claimField(fieldAt(total), a.decimal, a.from, a.to, start, a.to)
			g.useAmount(a)
			break
		}
		sum += v
		gi := g.newGroup(list, start, a.to)
		g.claimIn(gi, rowField(list, "minutes"), a.decimal, a.from, a.to, start, a.to)
		g.useAmount(a)
	}
	for k := max(0, start-2); k <= start; k++ { // the number of runs is no time
		if n := g.at[k]; n >= 0 && g.signs[n].num != nil {
			g.signs[n].used = true
		}
	}
}

// readRanFor reads "cannulated the aorta and both cavae and ran for ninety six minutes".
func (g *segment) readRanFor() {
	f := fieldAt(schema.SupportBypassTotal)
	if !g.inNote(f) || g.lex.kind == schema.SupportOff || g.lex.kind == schema.SupportOn {
		return
	}
	for k := 1; k+2 < len(g.toks); k++ {
		if !g.is(k, "ran") || !g.is(k+1, "for") || !g.numberAt(k+2) || !g.is(k-1, "we", "and", "i") || !g.plainTalk(int(g.at[k+2])) {
			continue
		}
		if a, _ := g.amountAt(int(g.at[k+2])); slices.Contains(a.units, "min") && g.drugBeforeToken(k) < 0 {
			g.claimField(f, a.decimal, a.from, a.to, k, a.to)
			g.useAmount(a)
		}
		return
	}
}

// readPumpMinutes takes as the time on bypass the one length of time that follows it
// with nothing else named between: "done on bypass with the heart beating, ninety
// four minutes".
func (g *segment) readPumpMinutes() {
	f := fieldAt(schema.SupportBypassTotal)
	if !g.inNote(f) || g.lex.kind == schema.SupportOff || g.lex.kind == schema.SupportOn || slices.ContainsFunc(g.claims, func(c claim) bool {
		return c.field == f || c.group >= 0 && g.groups[c.group].list == schema.SupportRuns
	}) {
		return
	}
	on := -1
	for i := range g.signs {
		s := &g.signs[i]
		if s.num != nil && !s.used && s.scope&(unreal&^past&^hearsay|denied) == 0 { // "fifty four minutes on pump", "the run was ninety two"
			a, _ := g.amountAt(i)
			k := a.from - 1
			for g.is(k, "was", "of", "time", ":", "took") {
				k--
			}
			after := slices.Contains(a.units, "min") && g.is(a.to, "on", "of") && g.is(a.to+1, "pump", "bypass", "cpb") && !g.is(k, "after", "first")
			after = after || slices.Contains(a.units, "min") && g.is(a.to, "pump", "bypass", "cpb") && (a.to+1 >= len(g.toks) || g.toks[a.to+1].kind != word || g.is(a.to+1, "time")) // "88 min CPB / 0 XC"
			run := k < a.from-1 && g.is(k, "run") && !g.is(k-1, "first", "second", "third", "two", "each") && !g.is(a.to, "and", "then") && (a.units == nil && len(a.decimal) >= 2 || slices.Contains(a.units, "min"))
			onFor := slices.Contains(a.units, "min") && g.is(a.from-1, "for") && g.is(a.from-2, "on") && (a.from == 2 || g.is(a.from-3, "were", "was", "we", "they", "went", "him", "her", ",") || g.toks[a.from-3].kind == stop) && g.drugBeforeToken(a.from-2) < 0 // "they were on for seventy four minutes"
			if v, _, ok := fits(f, a); ok && (after || (run || onFor) && s.scope&hearsay == 0) && len(a.decimal) >= 2 {
				g.claimField(f, v, a.from, a.to, a.from, a.to)
				g.useAmount(a)
				return
			}
		}
		switch {
		case on >= 0 && s.num == nil && s.scope&denied != 0: // "beating, no clamp, ninety four minutes"
		case s.scope&(denied|intended|weighed|hearsay|formerly) == 0 && (g.listNamed(s) == schema.SupportRuns || g.valueOf(s, fieldAt(schema.SupportMode)) == "bypass") && !g.is(s.from-1, "off", "after", "before", "without", "back") && !g.is(s.from, "off", "after", "before", "post", "pre", "back"):
			on = s.to
		case on < 0 || s.has(isUnit) && s.num == nil || s.from-on > 14 || s.num != nil && smallCount(s.num.decimal) > 0 && g.is(s.to, "caval", "cava", "venous", "cannula", "atrial"):
		case g.crossesStop(on, s.from), s.num == nil && g.listNamed(s) != "", s.num != nil && s.used:
			return
		case s.num != nil:
			a, _ := g.amountAt(i)
			if !slices.Contains(a.units, "min") || s.scope&(unreal|denied) != 0 || g.is(a.to, "of", "later", "before", "after") || g.is(a.from-1, "after", "within") {
				return
			}
			if n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from == a.to && (g.listNamed(&g.signs[n]) != "" || g.signs[n].content()) && !g.toldItself(n) {
				return
			}
			if v, _, ok := fits(f, a); ok {
				c := g.claimField(f, v, a.from, a.to, on-1, a.to)
				c.sure, c.note = Check, "no other length of time was named"
				g.useAmount(a)
			}
			return
		case s.num == nil && s.content() && g.within(s, "clamp", "arrest", "perfusion", "cooled", "cooling", "compression", "shunt"):
			return
		}
	}
}

// toldItself tells whether sign n has its own to say of itself, and takes nothing from the
// words before: "... ninety four minutes clamp was not used", "... minutes clamp sixty".
func (g *segment) toldItself(n int) bool {
	k := g.signs[n].to
	for g.is(k, "was", "were", "is", "time", "of", ":") {
		k++
	}
	return g.denyingAt(k) || g.numberAt(k) || g.signs[n].scope&denied != 0
}

// smallRuns tells whether the number at token k counts runs.
func (g *segment) smallRuns(k int) bool {
	c := smallCount(g.signs[g.at[k]].num.decimal)
	return c > 1 && c < 6
}

// joinDurations makes one number of a length of time said in hours and what is left
// over: "two hours and forty minutes", "three hours ten", "an hour and a quarter".
func (g *segment) joinDurations() {
	for i := 0; i+2 < len(g.signs); i++ {
		h, unit, m := &g.signs[i], &g.signs[i+1], &g.signs[i+2]
		if h.num == nil || m.num == nil || !isPlainUnit(unit, "h") || unit.from != h.to {
			continue
		}
		if gap := m.from - unit.to; gap > 1 || gap == 1 && !g.is(m.from-1, "and", ",") {
			continue
		}
		x, err := strconv.ParseFloat(h.num.decimal, 64)
		y, err2 := strconv.ParseFloat(m.num.decimal, 64)
		if err != nil || err2 != nil || x > 24 || y > 59 {
			continue
		}
		minutes, last := i+3 < len(g.signs) && isPlainUnit(&g.signs[i+3], "min") && g.signs[i+3].from == m.to, i+3
		switch {
		case minutes && strings.Contains(m.num.decimal, "."):
			continue
		case minutes:
		case g.is(m.from-1, ",") || m.to < len(g.toks) && g.toks[m.to].kind != stop && !g.is(m.to, ",", "and", "with", "in", "for", "altogether"):
			continue // the next number is of something else: "two hours, 36 degrees"
		case y < 1: // "an hour and a quarter"
			y *= 60
		case len(m.num.decimal) != 2 && !g.is(m.from, "five") || m.num.surely:
			continue
		}
		num := *h.num
		num.decimal, num.clock, num.surely = strconv.Itoa(int(x*60+y+0.5)), "", false
		if !minutes { // what is left over stands in place of its unit
			m.num, m.senses, m.node = nil, []sense{{kind: isUnit, unit: "min"}}, 0
			last--
		}
		h.num, h.to = &num, g.signs[last].from
		g.signs = slices.Delete(g.signs, i+1, last)
		for k := h.from; k < len(g.toks); k++ {
			switch {
			case k < h.to:
				g.at[k] = int32(i)
			case g.at[k] > int32(i):
				g.at[k] -= int32(last - i - 1)
			}
		}
	}
}

// isPlainUnit tells whether a sign is a unit with no number of its own.
func isPlainUnit(s *sign, u string) bool {
	return s.num == nil && slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isUnit && x.unit == u })
}
