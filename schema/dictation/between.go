package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// readTakenDown reads what a takedown took down: "we have taken the Fontan down".
func (g *segment) readTakenDown() {
	f := fieldAt(schema.BetweenTakenDown)
	if g.lex.kind != schema.Takedown {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, f)
		if v != "" && g.ctx.opening <= 2 && s.scope&(denied|intended|weighed|hearsay) == 0 && g.takedownOf(s) {
			g.claimField(f, v, s.from, s.to, max(0, s.from-3), s.to)
			return // "a takedown of the Glenn done four days ago"
		}
		if v == "" || s.scope&(unreal|denied) != 0 || g.within(s, "takedown", "take", "taken") {
			continue
		}
		if g.is(s.from-1, "to", "into") || g.is(s.from-1, "a", "the") && g.is(s.from-2, "to", "into") {
			s.used = true // what it was taken down to
			continue
		}
		if j := g.tookItDown(s.to); j > 0 {
			g.claimField(f, v, s.from, s.to, s.from, j)
			return
		}
		k := s.to
		for g.is(k, ",", "was", "has", "been", "circulation") {
			k++
		}
		if g.is(k, "taken", "came", "come", "coming") && g.is(k+1, "down") {
			g.claimField(f, v, s.from, s.to, s.from, k+2)
			s.used = true
			continue
		}
		took := g.is(s.to, "down") || g.is(s.to, "t") && g.is(s.to+1, "/") && g.is(s.to+2, "down") || g.is(s.to, "takedown")
		before := false
		for k := max(0, s.from-4); k < s.from; k++ {
			before = before || g.is(k, "took", "taken", "taking", "take")
			if g.is(k, "to", "into") {
				before = false
			}
		}
		down := false
		for k := max(0, s.from-3); k < s.from; k++ {
			down = down || before && g.is(k, "down") && !g.is(k+1, "to")
		}
		if took && (before || !g.is(s.to, "down")) || down {
			g.claimField(f, v, s.from, s.to, max(0, s.from-3), min(len(g.toks), s.to+1))
			s.used = true
			return
		}
	}
}

// takedownOf tells whether a sign is told as what the operation took down.
func (g *segment) takedownOf(s *sign) bool {
	k := s.from - 1
	for g.is(k, "the", "a", "her", "his", "this", "that") {
		k--
	}
	return g.is(k, "of") && (g.is(k-1, "takedown") || g.is(k-1, "down") && g.is(k-2, "take", "taking")) || g.within(s, "takedown") && g.is(s.from, "takedown")
}

// tookItDown is the token after "took it down", where token k is followed by it: "a
// failing Fontan, so we took it down to a Glenn"; or 0.
func (g *segment) tookItDown(k int) int {
	for j := k; j+2 < len(g.toks) && j < k+6 && g.toks[j].kind != stop; j++ {
		if g.is(j, "took", "taken", "take") && g.is(j+1, "it", "this", "that") && g.is(j+2, "down") && !g.unrealAt(j) {
			return j + 3
		}
	}
	return 0
}

// readBeforeAfter reads the saturation just before and just after what was done:
// "sats before sixty four, after eighty two", "61 -> 78". The second is also the
// one on leaving, unless another is said.
func (g *segment) readBeforeAfter() {
	before, after := fieldAt(schema.BetweenSaturationBeforeWork), fieldAt(schema.BetweenSaturationAfterWork)
	if g.lex.kind != schema.ShuntRevision && g.lex.kind != schema.Reexploration && g.lex.kind != schema.SupportOn {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		named := false
		for _, x := range s.senses {
			named = named || x.kind == namesField && (x.field.Path == schema.LeavingSaturation || x.field == before || x.field.Path == schema.BeforeSaturation)
		}
		if !named || s.used || s.scope&(calling|aiming|intended|denied|hearsay|weighed) != 0 {
			continue
		}
		var found []int
		for j := i + 1; j < len(g.signs) && len(found) < 2 && g.signs[j].from-s.to <= 12 && !g.crossesStop(s.to, g.signs[j].from); j++ {
			p := &g.signs[j]
			if p.num != nil && !p.used && p.scope&(calling|aiming|hearsay) == 0 {
				found = append(found, j)
			} else if p.content() && p.num == nil && !p.has(isUnit) && !p.is(priorly) && !p.is(arrives) && !p.is(passing) && !p.is(risesFrom) {
				break
			}
		}
		if len(found) == 0 {
			continue
		}
		a, _ := g.amountAt(found[0])
		v, _, ok := fits(before, a)
		if !ok {
			continue
		}
		said := g.is(0, "before") && s.from <= 5 || g.is(a.to, "going") && g.is(a.to+1, "in") || g.is(a.to, "when", "as") && g.is(a.to+1, "we") && g.is(a.to+2, "opened", "started", "began") || g.is(a.from-1, "before") || g.is(s.to, "before") || g.within(s, "before") || g.is(a.to, "before", "pre", "beforehand")
		if len(found) == 2 {
			b, _ := g.amountAt(found[1])
			w, _, ok := fits(after, b)
			to := false
			for k := a.to; k < b.from; k++ {
				to = to || g.is(k, "→", "to", ">")
			}
			if ok && g.lex.kind == schema.ShuntRevision && !said && !to && b.from-a.to <= 8 && (g.is(b.to, "now", "after", normal("afterwards"), "once") || g.is(b.from-1, "now", "then")) && b.units == nil {
				g.claimField(before, v, a.from, a.to, s.from, a.to)
				g.useAmount(a)
				if !g.is(b.to, "now") && !g.is(b.from-1, "now") { // what they are now is how the child leaves
					g.claimField(after, w, b.from, b.to, s.from, b.to)
					g.useAmount(b)
					s.used = true
				}
				continue
			}
			if ok && (to && g.signs[found[0]].scope&past != 0 || said) && b.from-a.to <= 5 {
				g.claimField(before, v, a.from, a.to, s.from, a.to)
				g.claimField(after, w, b.from, b.to, s.from, b.to)
				g.useAmount(a)
				if n := g.nextSign(b.to); said && !to && !(n < len(g.signs) && g.signs[n].from-b.to <= 3 && (g.signs[n].num != nil || n+1 < len(g.signs) && g.signs[n+1].num != nil && g.signs[n+1].from-b.to <= 4)) {
					g.claimField(fieldAt(schema.LeavingSaturation), w, b.from, b.to, s.from, b.to)
					g.useAmount(b)
					s.used = true
				}
				continue
			}
		}
		if (g.is(a.to, "after", "post", "afterward") || g.is(0, "after", "afterward", "post") && s.from <= 2) && !said && (a.to+1 >= len(g.toks) || !g.numberAt(a.to+1)) {
			if w, _, ok := fits(after, a); ok && g.signs[a.sign].scope&past == 0 {
				g.claimField(after, w, a.from, a.to, s.from, a.to+1)
				g.claimField(fieldAt(schema.LeavingSaturation), w, a.from, a.to, s.from, a.to+1)
				g.useAmount(a)
				s.used = true
			}
			continue
		}
		if said {
			g.claimField(before, v, a.from, a.to, s.from, a.to)
			g.useAmount(a)
			s.used = true
		}
	}
}

// saturationAfter reads the second of two where only "after" tells what it is: "sats
// before fifty seven, after eighty three".
func (g *segment) saturationAfter() {
	f := fieldAt(schema.BetweenSaturationAfterWork)
	if !g.inNote(f) || g.answered(f) {
		return
	}
	for _, c := range g.claims {
		if c.field.Path != schema.BetweenSaturationBeforeWork || c.gone || c.stated != "" {
			continue
		}
		for i := range g.signs {
			s := &g.signs[i]
			k := s.from - 1
			for g.is(k, "was", "were", "it", "they") {
				k--
			}
			if s.num == nil || s.used || s.from < c.to || s.from-c.to > 6 || s.scope&(calling|aiming|intended|denied) != 0 || !g.is(k, "after", normal("afterwards"), "post") {
				continue
			}
			if a, ok := g.amountAt(i); ok {
				if v, _, ok := fits(f, a); ok {
					g.claimField(f, v, a.from, a.to, k, a.to)
					g.useAmount(a)
				}
			}
			return
		}
	}
}

// readShocks reads "two shocks of five joules".
func (g *segment) readShocks() {
	shocks, energy := fieldAt(schema.SupportShocks), fieldAt(schema.SupportShockEnergy)
	if !g.inNote(shocks) || !g.mentions("shock", "shocked", "defibrillated", "cardioverted") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal&^past|denied) != 0 {
			continue // "when the clamp came off one shock put it right"
		}
		a, _ := g.amountAt(i)
		for _, u := range a.units {
			if u == "J" {
				if v, _, ok := fits(energy, a); ok {
					g.claimField(energy, v, a.from, a.to, a.from, a.to)
					g.useAmount(a)
				}
				break
			}
		}
		if a.units == nil && smallCount(a.decimal) > 0 && (g.is(a.to, "shock") || g.is(a.to, "internal", "external", "dc") && g.is(a.to+1, "shock") || g.is(a.from-1, "shock")) {
			g.claimField(shocks, a.decimal, a.from, a.to, a.from, a.to+1)
			g.useAmount(a)
		}
	}
	for k := 0; k+1 < len(g.toks); k++ { // "shocked twice"
		if n := timesWords[g.toks[k+1].text]; n != "" && g.is(k, "shocked", "defibrillated", "cardioverted") && !g.unrealAt(k) && !g.answered(shocks) {
			g.claimField(shocks, n, k+1, k+2, k, k+2)
		}
	}
}

// timesWords are words for how often.
var timesWords = map[string]string{"once": "1", "twice": "2", "thrice": "3"}

// readDiastolicFall reads by how much the diastolic pressure fell when the shunt was opened
// where both pressures are told, or the fall after them: "the diastolic went from thirty
// eight to twenty six, so a drop of twelve".
func (g *segment) readDiastolicFall() {
	f := fieldAt(schema.SupplyDiastolicFall)
	if !g.inNote(f) || !g.mentions("diastolic") || g.answered(f) {
		return
	}
	at := slices.IndexFunc(g.toks, func(t token) bool { return t.text == "diastolic" })
	var high, low *amount
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.from < at || s.from-at > 18 || g.crossesStop(at, s.from) || s.scope&(calling|aiming|denied|intended|weighed) != 0 {
			continue
		}
		a, ok := g.amountAt(i)
		if !ok || a.units != nil && !slices.Contains(a.units, "mm[Hg]") {
			continue
		}
		k := a.from - 1
		switch {
		case g.is(k, "of", "by") && g.is(k-1, "drop", "fall", "difference") && low != nil:
			g.claimFall(f, a.decimal, a, "")
			return
		case high == nil && s.from-at <= 6 && (g.is(k, "from") || g.is(a.to, "→", ">", "to")):
			high = &a
		case high != nil && low == nil && a.from == high.to+1 && g.is(high.to, "to", "→", ">"):
			low = &a
		}
	}
	if high == nil || low == nil {
		return
	}
	x, err := strconv.Atoi(high.decimal)
	y, err2 := strconv.Atoi(low.decimal)
	if err == nil && err2 == nil && x-y >= 3 && x-y <= 30 {
		g.claimFall(f, strconv.Itoa(x-y), *low, "it is the difference of the two pressures")
	}
}

// claimFall claims a fall of the diastolic pressure that was told at an amount.
func (g *segment) claimFall(f *schema.Field, v string, a amount, note string) {
	c := g.claimField(f, v, a.from, a.to, a.from, a.to)
	if note != "" {
		c.sure, c.note = Check, note
	}
	g.useAmount(a)
}
