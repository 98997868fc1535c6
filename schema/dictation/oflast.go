package dictation

import (
	"slices"

	"fairlead/schema"
)

// readOfLast reads a sentence that says more of the things the one before listed:
// "All on suction.", "They were tested.", "Both pairs insulated.", "Suction is ten."
func (g *segment) readOfLast() {
	kind := schema.ItemKindNamed(g.ctx.last)
	if kind == nil || len(g.toks) == 0 {
		return
	}
	k, one := 0, false
	for said := false; k < len(g.toks); k++ {
		n := g.at[k]
		switch {
		case g.is(k, "they", "all", "both", "each", "these", "every", "those", "everything"):
			said = true
			continue
		case g.is(k, "it", "that", "this") && k == 0:
			said, one = true, true
			continue
		case g.is(k, "one", "of", "them", "the", "are", "is", "was", "were", "have", "has", "been") && (said || g.is(k, "the")):
			continue
		case n >= 0 && slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.kind == isHead && x.item == kind }) && !g.signs[n].has(isItem):
			said = true
			k = g.signs[n].to - 1
			continue
		case !said && n >= 0 && k == 0 && g.attributeSign(int(n)) && g.namesAttribute(kind, int(n)) && !g.namesOther(int(n)):
			said = true
		}
		if !said {
			return
		}
		break
	}
	if k >= len(g.toks) {
		return
	}
	t := thing{head: -1, to: k, of: kind, varieties: []string{""}}
	attrs := g.attributesOf(&t, kind, len(g.toks))
	if len(attrs) == 0 {
		return
	}
	gi := g.newGroup("items", 0, k)
	g.groups[gi].item, g.groups[gi].ofLast, g.groups[gi].one = kind, true, one
	for _, c := range attrs {
		c.group = gi
		g.claims = append(g.claims, c)
	}
}

// namesOther tells whether a sign speaks of something that is no attribute of things.
func (g *segment) namesOther(n int) bool {
	return slices.ContainsFunc(g.signs[n].senses, func(x sense) bool {
		return (x.kind == namesField || x.kind == isValue) && x.field.Path.Section() != "items"
	})
}

// shareOfLast gives what a sentence says of the things listed before it to each of
// them that lacks it, or to the last where it speaks of one.
func (s *settling) shareOfLast() {
	for i, x := range s.groups {
		if !x.ofLast || x.gone {
			continue
		}
		x.gone = true
		segment := -1
		for j := i - 1; j >= 0; j-- {
			y := s.groups[j]
			if y.gone || y.item != x.item || y.Denied || y.ofLast || segment >= 0 && y.segment != segment {
				continue
			}
			segment = y.segment
			for _, p := range x.values {
				if y.value(p.Path.Last()) == "" {
					q := *p
					y.values = append(y.values, &q)
				}
			}
			if x.one {
				break
			}
		}
	}
}
