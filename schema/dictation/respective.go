package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// respective reserves the numbers of "adrenaline and milrinone at 0.05 and 0.5
// respectively": each is said of the thing that stands at its place in the list
// before, and nothing else may take it.
func (g *segment) respective() {
	for k := range g.toks {
		if !g.is(k, "respectively") {
			continue
		}
		numbers := g.listBack(k, func(s *sign) bool { return s.num != nil && s.num.decimal != "" && !s.content() }, 1)
		if len(numbers) < 2 {
			continue
		}
		names := g.listBack(g.signs[numbers[0]].from, g.maybePaired, 5)
		for n := len(names) - 1; n > 0; n-- { // "right and left pleural drains" are two
			if g.bareSide(names[n-1]) && g.signs[names[n-1]].to == g.signs[names[n]].from {
				names = append(names[:n:n], names[n+1:]...)
			}
		}
		if len(names) < len(numbers) {
			continue
		}
		names = names[len(names)-len(numbers):]
		if g.paired == nil {
			g.paired = map[int]amount{}
		}
		for n, i := range names {
			if a, ok := g.amountAt(numbers[n]); ok {
				g.paired[i] = a
			}
		}
		var last amount // the unit said once is of them all
		for n := len(names) - 1; n >= 0; n-- {
			a := g.paired[names[n]]
			if a.units == nil && last.units != nil {
				a.units, a.said = last.units, last.said
			}
			last = a
			g.paired[names[n]] = a
			g.useAmount(a)
		}
	}
}

// names tells whether a sign names a variety of a thing.
func (s *sign) names(item *schema.ItemKind, variety string) bool {
	return slices.ContainsFunc(s.senses, func(x sense) bool { return x.item == item && x.value == variety })
}

// maybePaired tells whether a sign can be one of a list that numbers follow.
func (g *segment) maybePaired(s *sign) bool {
	if s.num != nil {
		return false
	}
	for i := range s.senses {
		x := &s.senses[i]
		if x.kind == isItem || x.kind == isVariety || x.kind == namesField && x.field.Path.List() == "" || x.kind == isValue && x.field.Name == "drug" {
			return true
		}
	}
	return g.sideOf(s) != ""
}

// listBack are the signs of a sort that end before token k, joined by commas and
// "and", with at most gap other words after the last of them.
func (g *segment) listBack(k int, sort func(*sign) bool, gap int) []int {
	var out []int
	j := k - 1
	for ; j >= 0; j-- {
		n := g.at[j]
		if n >= 0 && sort(&g.signs[n]) {
			out = append([]int{int(n)}, out...)
			j, gap = g.signs[n].from, 0
			continue
		}
		joins := g.is(j, ",", "and", "the") || n >= 0 && g.signs[n].has(isUnit) && g.signs[n].num == nil && !g.signs[n].content()
		if g.toks[j].kind == stop || !joins && (len(out) > 0 || gap == 0) {
			break
		}
		if !joins {
			gap--
		}
	}
	return out
}

// readRespective gives each thing or field its number of the list after it.
func (g *segment) readRespective() {
	for i := range g.signs {
		s := &g.signs[i]
		a, ok := g.paired[i]
		if !ok || s.scope&(unreal|denied) != 0 {
			continue
		}
		if g.bareSide(i) && (g.pairedSide(i, a) || !g.pairedDrain(i)) {
			continue
		}
		for gi := range g.groups {
			x := &g.groups[gi]
			if x.item == nil || x.denied || x.gone || s.from < x.from || s.to > x.to || g.pairedOutside(x, i) || !g.bareSide(i) && !s.names(x.item, x.variety) {
				continue
			}
			for _, name := range []string{"size", "gauge", "french", "depth", "count"} {
				f := x.item.Field(name)
				if f == nil {
					continue
				}
				if v, _, ok := fits(f, a); ok {
					g.claimIn(gi, f, v, a.from, a.to, s.from, a.to)
					break
				}
			}
		}
		var plain []sense // what stands now before the highest and the lowest
		for _, x := range s.senses {
			if x.kind == namesField && x.field.Section != "perfusion" {
				plain = append(plain, x)
			}
		}
		for _, x := range plain {
			if x.kind != namesField || !x.field.Numeric() || x.field.Path.List() != "" || x.field.Section == "before" || x.field.Section == "catheter" || !g.inNote(x.field) {
				continue
			}
			if v, _, ok := fits(x.field, a); ok {
				g.judge(g.claimField(x.field, v, a.from, a.to, s.from, a.to), a)
				break
			}
		}
	}
}

// pairedDrain lists the drain that a bare side stands for in "right, left and
// mediastinal drains".
func (g *segment) pairedDrain(i int) bool {
	s := &g.signs[i]
	for gi := range g.groups {
		x := &g.groups[gi]
		if x.item == nil || x.item.Name != "drain" || x.from <= s.from || x.from-s.to > 4 || g.crossesStop(s.to, x.from) {
			continue
		}
		n := g.newGroup("items", s.from, s.to)
		g.groups[n].item, g.groups[n].variety = x.item, g.sideOf(s)+"-pleural"
		g.claimIn(n, x.item.Field("variety"), g.groups[n].variety, s.from, s.to, s.from, s.to)
		s.used = true
		return true
	}
	return false
}

// pairedSide gives the number of a bare side to the thing of that side, or to the
// field of that side: "the right and left pleural drains are 16 and 12 respectively".
func (g *segment) pairedSide(i int, a amount) bool {
	side := g.sideOf(&g.signs[i])
	for gi := range g.groups {
		x := &g.groups[gi]
		if x.item == nil || x.denied || x.gone || g.signs[i].from-x.from > 1 || x.to < g.signs[i].to || !strings.HasPrefix(x.variety, side) {
			continue
		}
		if f := x.item.Field("size"); f != nil {
			if v, _, ok := fits(f, a); ok {
				g.claimIn(gi, f, v, a.from, a.to, g.signs[i].from, a.to)
				return true
			}
		}
	}
	for n := i + 1; n < len(g.signs) && g.signs[n].from-g.signs[i].to <= 4; n++ {
		var f *schema.Field
		if pair, ok := g.lex.pairs[g.signs[n].node]; ok && g.signs[n].has(isPair) {
			if f = pair.right; side == "left" {
				f = pair.left
			}
		}
		for _, x := range g.signs[n].senses { // "the right and left cerebral saturations"
			if q := g.lex.partner[x.field]; f == nil && x.kind == namesField && q != nil && strings.Contains(strings.ToLower(q.Name), side) {
				f = q
			}
		}
		if f != nil {
			if v, _, ok := fits(f, a); ok && f.Numeric() {
				g.judge(g.claimField(f, v, a.from, a.to, g.signs[i].from, a.to), a)
				g.signs[n].used = true
				return true
			}
		}
	}
	return false
}

// pairedOutside tells whether a group covers another paired thing that lies nearer
// to its end than sign i: it is the group of that one.
func (g *segment) pairedOutside(x *group, i int) bool {
	for n := range g.paired {
		if n > i && g.signs[n].from >= x.from && g.signs[n].to <= x.to {
			return true
		}
	}
	return false
}
