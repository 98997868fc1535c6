package dictation

import (
	"slices"

	"fairlead/schema"
)

// readOfLast reads a sentence that says more of the things the one before listed:
// "All on suction.", "They were tested.", "Both pairs insulated.", "Suction is ten."
func (g *segment) readOfLast() {
	if kind := schema.ItemKindNamed(g.ctx.last); kind == nil || !g.saysOfLast(kind) {
		g.readOfTube()
	}
}

// saysOfLast reads what is said of the things of a kind that the sentence before
// listed, where this one says more of them.
func (g *segment) saysOfLast(kind *schema.ItemKind) bool {
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
		case !said && n >= 0 && k == 0 && g.attributeSign(int(n)) && (g.namesAttribute(kind, int(n)) || g.givesAttribute(kind, int(n)) && g.signs[n].scope&unreal == 0) && !g.namesOther(int(n)):
			said = true
		}
		if !said {
			return false
		}
		break
	}
	return k < len(g.toks) && len(g.signs) > 0 && g.addToLast(kind, k, one)
}

// givesAttribute tells whether sign n is a value of an attribute of the kind: "tested".
func (g *segment) givesAttribute(kind *schema.ItemKind, n int) bool {
	f, _ := g.attributeValue(kind, n, nil)
	return f != nil
}

// addToLast opens a group for what is said from token k on of things listed before.
func (g *segment) addToLast(kind *schema.ItemKind, k int, one bool) bool {
	t := thing{head: -1, to: k, of: kind, varieties: []string{""}}
	attrs := g.attributesOf(&t, kind, len(g.toks))
	if len(attrs) == 0 {
		return false
	}
	gi := g.newGroup("items", min(k, len(g.toks)-1), min(k+1, len(g.toks)))
	g.groups[gi].item, g.groups[gi].ofLast, g.groups[gi].one = kind, true, one
	for _, c := range attrs {
		c.group = gi
		g.claims = append(g.claims, c)
	}
	return true
}

// tubeTalk are attributes that only a tube in the airway has, so that a sentence of
// its own may say them: "Grade one view, first attempt."
var tubeTalk = map[string]bool{"view": true, "device": true, "cuffPressure": true, "leakPressure": true, "leak": true}

// readOfTube reads what is said of the tube where no tube is named: there is one.
func (g *segment) readOfTube() {
	kind := schema.ItemKindNamed("airway")
	if g.ctx.last != kind.Name && !g.mentions("laryngoscope", "laryngoscopy", "videolaryngoscope", "videolaryngoscopy", "view", "cormack", "cuff", "intubation", "intubated", "mask", "attempt", "tube") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.scope&unreal != 0 || s.has(isItem) || s.has(isVariety) {
			continue
		}
		for _, x := range s.senses {
			if (x.kind == isValue || x.kind == namesField) && x.field.Section == kind.Name && x.field.Path.Section() == "items" && tubeTalk[x.field.Name] && (x.field.Name != "leak" || g.mentions("tube", "cuff")) {
				g.addToLast(kind, s.from, true)
				return
			}
		}
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
		last := s.lastListed(i)
		if x.many > 0 && len(last) != x.many {
			continue
		}
		for _, y := range last {
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

// lastListed are the things that group i says more of, the last first: those that the
// sentence before listed, and, where it says so of all, those of the sentences right
// before that one.
func (s *settling) lastListed(i int) []*settled {
	x, segment := s.groups[i], -1
	var out []*settled
	for j := len(s.groups) - 1; j >= 0; j-- {
		y := s.groups[j]
		if j >= i && x.item.Name != "airway" || y.gone || y.item != x.item || y.Denied || y.ofLast {
			continue
		}
		if segment >= 0 && y.segment != segment && !(y.segment == segment-1 && (x.many < 0 || len(out) < x.many)) {
			continue
		}
		segment = y.segment
		if x.many <= 0 || y.value(x.values[0].Path.Last()) == "" {
			out = append(out, y)
		}
	}
	return out
}
