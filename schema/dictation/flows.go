package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// flowRow gathers what is said of one period of arrest, or of perfusion of the head
// or the lower body, beside its times.
type flowRow struct {
	list     schema.Path
	minutes  *amount
	flow     []amount
	temp     *amount
	pressure *amount
	site     [2]int // tokens of the place the pressure was read at
	siteName string
	side     int // sign, or -1
	route    int // token, or -1
	from, to int
}

// readFlows reads perfusion of the head and the lower body, and arrest, with flow,
// side, pressure and temperature in whatever order they are said: "cerebral
// perfusion on the right, forty one minutes at fifty per kilo, right radial 36".
func (g *segment) readFlows() {
	if !g.inNote(fieldAt(schema.SupportPerfusions)) {
		return
	}
	done := 0
	for i := range g.signs {
		s := &g.signs[i]
		list := g.listNamed(s)
		if k := s.to; list == schema.SupportLowerBody && !s.used && (g.is(k, "not") || g.is(k, ":", "was") && g.is(k+1, "not")) {
			g.claimField(fieldAt(list), "", s.from, s.to, s.from, k+2).stated = schema.StatedNone
			s.used = true
			continue
		}
		if list != schema.SupportPerfusions && list != schema.SupportLowerBody && list != schema.SupportArrests || s.from < done || s.scope&(unreal|denied) != 0 {
			continue
		}
		if s.to-s.from == 1 && g.is(s.from, "cerebral", "antegrade") && !g.mentions("perfusion", "perfused", "flow", "acp", "min", "minute") {
			continue // near-infrared, or cardioplegia
		}
		if list == schema.SupportArrests && g.within(s, "arrested") && g.mentions("compression", "cpr", "massage") {
			continue
		}
		r := g.flowsAt(i, list)
		done = r.to
		g.claimFlows(i, r)
	}
}

// flowsAt gathers what is said of the period named at sign i.
func (g *segment) flowsAt(i int, list schema.Path) flowRow {
	s := &g.signs[i]
	r := flowRow{list: list, side: -1, route: -1, from: s.from, to: s.to}
	if a, ok := g.spanBefore(i); ok && !a.isTaken(g) {
		r.minutes, r.from = &a, a.from
	}
	if i > 0 && g.signs[i-1].to == s.from && !g.signs[i-1].used {
		if w := g.sideOf(&g.signs[i-1]); w == "right" || w == "left" || w == "both" {
			r.side = i - 1
		}
	}
	last := s.to
	for j := i + 1; j < len(g.signs); j++ {
		p := &g.signs[j]
		if p.from < last {
			continue
		}
		if p.from-last > 7 || g.crossesStop(last, p.from) {
			break
		}
		if l := g.listNamed(p); l != "" && l != list {
			break
		}
		if p.used { // a time, or what a correction has moved
			last, r.to = p.to, max(r.to, p.to)
			continue
		}
		if p.num != nil {
			if p.scope&(denied|calling|aiming) != 0 {
				break
			}
			a, _ := g.amountAt(j)
			if n := g.nextSign(p.swap[1]); p.swap[1] > 0 && a.units == nil && n < len(g.signs) && g.signs[n].from == p.swap[1] && g.signs[n].has(isUnit) {
				for _, x := range g.signs[n].senses { // "forty, no, fifty five mils per kilo"
					if x.kind == isUnit {
						a.units = append(a.units, x.unit)
					}
				}
			}
			if !g.takeFlow(&r, s, a, last) {
				break
			}
			last, r.to = a.to, max(r.to, a.to)
			continue
		}
		if name, to := g.pressureSiteAt(p.from); name != "" && list == schema.SupportPerfusions {
			r.site, r.siteName = [2]int{p.from, to}, name
			last = to
			continue
		}
		switch w := g.sideOf(p); {
		case (w == "right" || w == "left" || w == "both") && list == schema.SupportPerfusions && r.side < 0 && g.sideAlone(p):
			r.side = j
		case list == schema.SupportLowerBody && g.within(p, "descending", "femoral", "umbilical"):
			for k := p.from; k < p.to; k++ {
				if g.is(k, "descending", "femoral", "umbilical") {
					r.route = k
				}
			}
		case p.has(isUnit), p.is(through), g.rowWord(p, list), !p.content(), g.listNamed(p) == list, g.pressureWord(p):
		case list == schema.SupportLowerBody && g.is(p.from, "aorta", "cannula", "small", "separate", "sheath", "well", "above"):
		case g.within(p, "innominate", "graft", "brachiocephalic", "carotid") && (g.is(p.from-1, "the", "through", "via", "down", "a") || g.is(p.from, "through", "via", "down")):
		case list == schema.SupportArrests && g.within(p, "nasopharyngeal", "degree", "cooled", "hypothermic"):
		default:
			j = len(g.signs)
			continue
		}
		last = p.to
	}
	return r
}

// isTaken tells whether the number of an amount has been used.
func (a amount) isTaken(g *segment) bool { return g.signs[a.sign].used }

// pressureWord tells whether a sign only says that a pressure follows.
func (g *segment) pressureWord(p *sign) bool {
	for k := p.from; k < p.to; k++ {
		if !g.is(k, "pressure", "mean", "map", "radial", "line", "arterial", "art", "the", "right", "left", "reading", "of", "flow", "at", "rad") {
			return false
		}
	}
	return true
}

// takeFlow gives an amount to the part of the row it can be; false where it is
// none of them.
func (g *segment) takeFlow(r *flowRow, s *sign, a amount, last int) bool {
	v, err := strconv.ParseFloat(a.decimal, 64)
	if err != nil {
		return false
	}
	announced := func(words ...string) bool {
		for k := max(last, a.from-6); k < a.from; k++ {
			if g.is(k, words...) {
				return true
			}
		}
		return false
	}
	switch {
	case slices.Contains(a.units, "min") && v <= 240:
		if r.minutes != nil {
			return false
		}
		r.minutes = &a
	case anyPerKilo(a.units) && r.list != schema.SupportArrests:
		if len(r.flow) > 1 || v > 300 {
			return false
		}
		r.flow = append(r.flow, a)
	case slices.Contains(a.units, "Cel") && r.list == schema.SupportArrests:
		r.temp = &a
	case a.units == nil && r.list == schema.SupportArrests:
		if g.is(a.from-1, "at") && v >= 12 && v <= 30 && (r.minutes != nil || g.lastPeriod(r.list) >= 0) {
			r.temp = &a
			return true
		}
		if r.minutes != nil || a.from-s.to > 2 || v == 0 || a.clock != "" && g.signs[a.sign].num.surely {
			return false
		}
		r.minutes = &a
	case (a.units == nil || slices.Contains(a.units, "mm[Hg]")) && r.list == schema.SupportPerfusions && r.pressure == nil && v >= 10 && v <= 90 &&
		(slices.Contains(a.units, "mm[Hg]") || r.siteName != "" && a.from-r.site[1] <= 2 || announced("radial", "pressure", "mean", "rad", "map", "temporal") || r.siteAfter(g, a)):
		if g.is(a.to, "to", "-") && g.numberAt(a.to+1) {
			return false // a range
		}
		r.pressure = &a
	case a.units == nil && (g.is(a.from-1, "at", "@", "flow") || announced("flow")) && v >= 15 && v <= 150 && r.list != schema.SupportArrests && (len(r.flow) == 0 || g.lastPeriod(r.list) >= 0):
		r.flow = append(r.flow, a)
	case a.units == nil && r.minutes == nil && a.from-s.to <= 2 && v > 0 && v <= 240 && !(a.clock != "" && g.signs[a.sign].num.surely):
		r.minutes = &a
	default:
		return false
	}
	return true
}

// siteAfter tells whether the place a pressure is read at follows the amount:
// "thirty four in the right radial".
func (r *flowRow) siteAfter(g *segment, a amount) bool {
	k := a.to
	for g.is(k, "in", "on", "at", "from", "by", "the") {
		k++
	}
	name, to := g.pressureSiteAt(k)
	if name == "" || k == a.to {
		return false
	}
	r.site, r.siteName = [2]int{k, to}, name
	return true
}

// pressureSiteAt is the place of a pressure during perfusion that token k begins,
// and the token after it.
func (g *segment) pressureSiteAt(k int) (name string, to int) {
	side := ""
	switch {
	case g.is(k, "right", "r", "rt"):
		side, k = "right", k+1
	case g.is(k, "left", "l", "lt"):
		side, k = "left", k+1
	case g.is(k, "temporal", "umbilical", "femoral") && !g.is(k+1, "vein", "venous"):
		return g.toks[k].text, k + 1
	}
	if side == "" || !g.is(k, "radial", "rad") {
		return "", k
	}
	for k++; g.is(k, "line", "arterial", "artery", "art", "pressure", "mean", "trace"); k++ {
	}
	return side + "-radial", k
}

// sideAlone tells whether a side is said of nothing that follows it: "on the right,
// fifty minutes".
func (g *segment) sideAlone(p *sign) bool {
	if g.within(p, "side", "sided", "bilateral", "both") {
		return true
	}
	n := g.nextSign(p.to)
	return n >= len(g.signs) || g.signs[n].from > p.to || g.signs[n].num != nil || !g.signs[n].content()
}

// claimFlows makes the row, or adds to the one its times have made.
func (g *segment) claimFlows(i int, r flowRow) {
	s := &g.signs[i]
	row := func(name string) *schema.Field { return rowField(r.list, name) }
	gi := g.lastPeriod(r.list)
	if gi < 0 {
		if len(r.flow) == 0 && r.temp == nil && r.pressure == nil && r.side < 0 && r.route < 0 && (r.list != schema.SupportLowerBody || r.minutes == nil) {
			return
		}
		gi = g.newGroup(r.list, r.from, r.to)
		if r.minutes != nil {
			g.claimIn(gi, row("minutes"), r.minutes.decimal, r.minutes.from, r.minutes.to, r.from, r.to)
			if r.list == schema.SupportArrests {
				g.claimField(fieldAt(schema.SupportArrestTotal), r.minutes.decimal, r.minutes.from, r.minutes.to, r.from, r.to)
			}
			g.useAmount(*r.minutes)
		}
	}
	for _, a := range r.flow {
		if v, _, ok := fits(row("flow"), a); ok && v != "" {
			at := gi
			for n := range g.groups { // "9:36 to 9:58 at fifty, then 10:05 to 10:24 at forty"
				if x := &g.groups[n]; x.list == r.list && x.to <= a.from && !g.claimed(n, row("flow")) && n <= gi {
					at = n
				}
			}
			g.claimIn(at, row("flow"), v, a.from, a.to, r.from, a.to)
			g.useAmount(a)
		}
	}
	if r.temp != nil {
		if v, _, ok := fits(row("temperature"), *r.temp); ok {
			g.claimIn(gi, row("temperature"), v, r.temp.from, r.temp.to, s.from, r.temp.to)
			g.useAmount(*r.temp)
		}
	}
	if r.side >= 0 && row("side") != nil { // an arrest has none
		p := &g.signs[r.side]
		g.claimIn(gi, row("side"), g.sideOf(p), p.from, p.to, s.from, p.to)
		p.used = true
	}
	if r.pressure != nil {
		a := *r.pressure
		g.claimIn(gi, row("pressure"), a.decimal, a.from, a.to, s.from, a.to)
		g.useAmount(a)
		if r.siteName != "" {
			g.claimIn(gi, row("pressureSite"), r.siteName, r.site[0], r.site[1], s.from, r.site[1])
			for k := r.site[0]; k < r.site[1]; k++ {
				if n := g.at[k]; n >= 0 {
					g.signs[n].used, g.signs[n].item = true, true
				}
			}
		}
	}
	if r.route >= 0 {
		v := g.toks[r.route].text
		if v == "descending" {
			v = "descending-aorta"
		}
		g.claimIn(gi, row("route"), v, r.route, r.route+1, s.from, r.route+1)
		g.signs[g.at[r.route]].used = true
	}
	s.used = true
}
