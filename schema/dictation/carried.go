package dictation

import "fairlead/schema"

// numberNamed is the field of the number that the segment names last, or nil: what
// "seventy nine now" in the next sentence is a value of.
func (g *segment) numberNamed() *schema.Field {
	for i := len(g.signs) - 1; i >= 0; i-- {
		s := &g.signs[i]
		if s.num != nil || s.scope&(calling|aiming|intended|hearsay) != 0 {
			continue
		}
		for _, x := range s.senses {
			if x.kind != namesField {
				continue
			}
			if f := x.field; f.Numeric() && f.Path.List() == "" && !pastSections[f.Section] && f.Section != "items" && g.inNote(f) && !x.inner && x.item == nil {
				return f
			}
		}
		if s.content2() {
			return nil
		}
	}
	return nil
}

// readCarried reads a number that is said to be the one now, with nothing named in
// the sentence before it: "Sats were sixty two on opening. Seventy nine now."
func (g *segment) readCarried() {
	f := g.ctx.number
	if f == nil {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil {
			if s.content() && !s.is(arrives) && !g.within(s, "she", "he") && !s.has(isUnit) || s.is(between) || s.is(calls) || s.is(targets) {
				return
			}
			continue
		}
		a, ok := g.amountAt(i)
		if !ok || s.scope&(unreal|denied) != 0 || !g.leavingAt(a) && !g.arrivedBefore(a.from) {
			return
		}
		if v, _, ok := fits(f, a); ok && usual(f, g.lex.kind, v) {
			c := g.claimField(f, v, a.from, a.to, a.from, a.to)
			c.sure, c.note = Check, "what it is was said in the sentence before"
			g.useAmount(a)
		}
		return
	}
}
