package dictation

import (
	"fairlead/schema"
)

// readNames reads fields that are answered by being named: yes-or-no fields,
// and those denied or said not to be known.
func (g *segment) readNames() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.used {
			continue
		}
		f := g.namedField(s)
		if f == nil {
			continue
		}
		if s.scope&unreal != 0 && !allowed(f, s.scope) {
			continue
		}
		if f.Path == schema.LeavingPacing && (g.is(s.to, "off") || g.is(s.to, ":") && g.is(s.to+1, "off") || g.is(s.to, "is") && g.is(s.to+1, "off")) {
			c := g.claimField(f, "", s.from, s.to, s.from, s.to+1)
			c.stated = schema.StatedNone
			s.used = true
			continue
		}
		if st := g.statedNear(i); st != "" && (f.Numeric() || f.None != "" || len(f.Enum) > 0) {
			c := g.claimField(f, "", s.from, s.to, s.from, s.to)
			c.stated = st
			s.used = true
			continue
		}
		switch {
		case s.scope&denied != 0 && isYesNo(f):
			g.claimField(f, yesNo(f, false), s.from, s.to, s.from, s.to)
			s.used = true
		case s.scope&denied != 0 && f.Section == "work" && s.to < len(g.toks) && g.toks[s.to].kind != stop && !g.is(s.to, ",", ":", "were", "was", "given", "at", "today", "needed"):
			// "no problems with the lines" says nothing of the rest
		case s.scope&denied != 0 && absence[f.None] && g.answered(f):
			// "the trunk was tied off, so no antegrade flow": what was closed was there
		case s.scope&denied != 0 && f.None != "":
			c := g.claimField(f, "", s.from, s.to, s.from, s.to)
			c.stated = schema.StatedNone
			s.used = true
		case f.Type == "boolean" && s.scope&denied == 0:
			g.claimField(f, "true", s.from, s.to, s.from, s.to)
			s.used = true
		}
	}
}

// statedNear reads "not known", "not measured", "clotted" beside a name.
func (g *segment) statedNear(i int) string {
	for j := i + 1; j < len(g.signs) && j <= i+2; j++ {
		s := &g.signs[j]
		if s.from-g.signs[i].to > 2 || s.num != nil {
			return ""
		}
		switch {
		case s.is(unknownCue) && !s.content():
			return schema.StatedUnknown
		case s.is(clottedCue) && !s.content():
			return schema.StatedClotted
		case s.is(unrecordableCue):
			return schema.StatedUnrecordable
		case s.is(notMeasuredCue) && g.toks[s.to-1].text == "measured":
			return schema.StatedNotMeasured
		}
	}
	return ""
}

// namedField is the one plain field that a sign names, where its wording leaves
// no doubt.
func (g *segment) namedField(s *sign) *schema.Field {
	var f *schema.Field
	for _, x := range s.senses {
		if x.kind != namesField || x.field.Path.List() != "" && x.field.Type != "rows" {
			continue
		}
		if x.field.Path.Section() == "items" {
			continue
		}
		if textual(x.field) && x.field.None == "" {
			continue
		}
		if s.to-s.from == 1 && (weakNames[g.toks[s.from].text] || everydayWords()[g.toks[s.from].text] && s.scope&denied == 0) {
			continue
		}
		if s.scope&denied != 0 && (x.field.Path == schema.BetweenShuntDone || x.field.Path == schema.BetweenShuntFound) {
			continue
		}
		if f == nil || g.unfit(x.field) < g.unfit(f) || totalOf[f.Path] != "" && x.field.Path == totalOf[f.Path] {
			f = x.field
		}
	}
	return f
}

// textual tells whether a field holds free text, a name or a calendar date:
// dictation leaves those to people.
func textual(f *schema.Field) bool {
	return f.Type == "string" && len(f.Enum) == 0 && f.Format != "moment" && f.Format != "clock"
}
