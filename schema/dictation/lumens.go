package dictation

import (
	"strings"

	"fairlead/schema"
)

// lumenNames are the lumens of a line as they are named at the bedside.
var lumenNames = wordSet("proximal distal middle medial")

// drip is an infusion read in a segment.
type drip struct {
	sign  int // of the drug
	group int
	end   int // the token where the next drug begins
}

// readLumens reads which lumen a drug runs through, and gives a drug whose lumen is
// named without its line the line of the one before: "milrinone through the proximal
// lumen, adrenaline through the distal".
func (g *segment) readLumens(drips []drip) {
	f := schema.FieldAt(schema.RowPath(running, "*", "lumen"))
	item := schema.FieldAt(schema.RowPath(running, "*", "item"))
	if f == nil {
		return
	}
	said := make([]bool, len(drips))
	for n, d := range drips {
		s := &g.signs[d.sign]
		for k := s.to; k < d.end && k < s.to+14 && g.toks[k].kind != stop; k++ {
			if g.toks[k].kind != word || !lumenNames[g.toks[k].text] || g.unrealAt(k) {
				continue
			}
			g.claimIn(d.group, f, g.toks[k].text, k, k+1, s.from, k+1)
			said[n] = true
			break
		}
	}
	linked := func(n int) int { // the link of a drip, or -1
		for i, l := range g.links {
			if l.group == drips[n].group {
				return i
			}
		}
		return -1
	}
	// "milrinone proximal, adrenaline distal, both femoral"
	if n := len(drips) - 1; n > 0 && said[n] && said[n-1] && linked(n) < 0 {
		for j := drips[n].sign + 1; j+1 < len(g.signs); j++ {
			p, q := &g.signs[j], &g.signs[j+1]
			if !p.is(both) || p.content2() || q.from != p.to || !q.has(isVariety) && !q.has(isItem) {
				continue
			}
			p.used, p.senses = true, nil // both drugs, not both sides
			for m := range drips {
				if said[m] && linked(m) < 0 {
					g.links = append(g.links, link{group: drips[m].group, sign: j + 1, field: item})
				}
			}
			q.item = true
			break
		}
	}
	for n := range drips {
		if !said[n] || linked(n) >= 0 {
			continue
		}
		if n > 0 {
			if i := linked(n - 1); i >= 0 {
				g.links = append(g.links, link{group: drips[n].group, sign: g.links[i].sign, field: item})
				continue
			}
		}
		if !strings.HasPrefix(g.ctx.line, "central-venous-line/") || g.claimed(drips[n].group, item) {
			continue
		}
		s := &g.signs[drips[n].sign]
		c := g.claimIn(drips[n].group, item, g.ctx.line, s.from, s.to, s.from, s.to)
		c.sure, c.note = Check, "the lumen was named without its line: the line named before it is taken"
	}
}

// sizesEach gives each of several things of one kind its own size: "two right pleural
// drains, a 12 French and a 15 French". Where it is not clear which has which, no
// size is given.
func (g *segment) sizesEach(t *thing, lists []int, attrs []claim, limit, copies int) []claim {
	if len(lists) < 2 {
		return attrs
	}
	f := t.of.Field("size")
	if f == nil {
		return attrs
	}
	var sizes []amount
	last := t.to
	for i := g.nextSign(t.to); i < len(g.signs) && g.signs[i].from < limit && g.signs[i].from-last <= 4; i++ {
		s := &g.signs[i]
		if s.num == nil {
			if s.content2() || s.content() && !s.has(isUnit) || g.sideOf(s) != "" {
				break
			}
			continue
		}
		a, ok := g.amountIgnoringUse(i)
		if !ok || g.attributeFor(t.of, a) != f || g.is(a.from-1, "at", "to") {
			break
		}
		if len(sizes) > 0 && !g.is(last, ",", "and", "a", "one", "the", "other") {
			break
		}
		sizes, last = append(sizes, a), a.to
	}
	distinct := len(sizes) > 1 && sizes[0].decimal != sizes[1].decimal
	if !distinct {
		return attrs
	}
	var rest []claim
	for _, c := range attrs {
		if c.field != f {
			rest = append(rest, c)
		}
	}
	if copies == len(sizes) && copies == len(lists) {
		for i, a := range sizes {
			if v, _, ok := fits(f, a); ok {
				c := g.claimIn(lists[i], f, v, a.from, a.to, t.from, a.to)
				if a.units == nil {
					c.sure, c.note = Check, "the unit was not said"
				}
			}
		}
	}
	for _, a := range sizes {
		g.useAmount(a)
	}
	return rest
}

// amountIgnoringUse reads an amount though another reading has taken it.
func (g *segment) amountIgnoringUse(i int) (amount, bool) {
	s := &g.signs[i]
	was := s.used
	s.used = false
	var unit bool
	if i+1 < len(g.signs) {
		unit = g.signs[i+1].used
		g.signs[i+1].used = false
	}
	a, ok := g.amountAt(i)
	s.used = was
	if i+1 < len(g.signs) {
		g.signs[i+1].used = unit
	}
	return a, ok
}

// denialOf is the sign that denies what was read from tokens from to to: the
// nearest before it, or right after it. It is -1 where there is none.
func (g *segment) denialOf(from, to int) int {
	for j := len(g.signs) - 1; j >= 0; j-- {
		s := &g.signs[j]
		if s.to > from {
			continue
		}
		if from-s.to > 6 || g.crossesStop(s.to, from) {
			break
		}
		if s.is(denies) || s.is(deniesBefore) || s.is(neither) {
			return j
		}
		if s.content2() && s.scope&denied == 0 {
			break
		}
	}
	for j := range g.signs {
		s := &g.signs[j]
		if s.from < to {
			continue
		}
		if s.from-to > 3 || g.crossesStop(to, s.from) {
			break
		}
		if s.is(denies) || s.is(deniesBefore) {
			return j
		}
	}
	return -1
}
