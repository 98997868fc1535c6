package dictation

import (
	"strings"

	"fairlead/schema"
)

// siteLike are fields whose values are places of the body: they count only
// beside their name, or when the phrase says more than the place.
var siteLike = map[string]bool{"arterialCannulation": true, "venousCannulation": true, "venousSite": true, "pressureSite": true, "lowestTemperatureSite": true, "rewarmedSite": true, "temperatureSite": true,

	"from": true, "to": true, "distalSite": true, "ventriculotomy": true, "stentRoute": true, "route": true, "vesselsExposed": true, "vesselsCannulated": true, "branchWork": true, "enlargement": true, "misleadingLimbs": true, "vent": true, "side": true, "cannulation": true, "archTechnique": true, "ventilation": true}

// listsCannula tells whether the segment lists a cannula of mechanical support,
// so that the vessel named is where that lies.
func (g *segment) listsCannula() bool {
	for i := range g.groups {
		if g.groups[i].item != nil && g.groups[i].item.Name == "support-cannula" {
			return true
		}
	}
	return false
}

// sameWhen tells whether two fields are relevant under the same condition.
func sameWhen(a, b *schema.Field) bool {
	return len(a.When) > 0 && len(b.When) > 0 && a.When[0].Field == b.When[0].Field
}

// preposed is the weight that "from" or "to" before a value gives to a field
// called so: "from the innominate to the right pulmonary artery".
func (g *segment) preposed(i int, f *schema.Field) float64 {
	s := &g.signs[i]
	if f.Name == "reasonOn" && g.lex.kind == schema.SupportOn && g.within(s, "arrested", "arrest") && !s.item {
		if k := s.from - 1; k < 0 || g.is(k, "he", "she", "baby", "child", "they", "today", "then", "had", "an", "ecpr") || g.toks[k].kind == stop {
			return 3.5
		}
	}
	if f.Path == schema.BetweenReason && g.mentions("attempt", "weaned", "wean") {
		return 0 // why an attempt to come off failed
	}
	if f.Name == "reason" || f.Name == "reasonOn" {
		if g.is(s.from-1, "for", "of", "to", "with", "suspected") || g.is(s.from-1, "because") || g.is(s.from-2, "because") && g.is(s.from-1, "he", "she", "they", "it", "the") {
			return 4
		}
		return 0
	}
	if f.Path == schema.MechanicalCannulation {
		k := s.from - 1
		for k >= 0 && g.is(k, "the") {
			k--
		}
		if g.is(k, "through", "via") || g.within(s, "through", "via") || g.mentions("cannulated", "cannulation") || g.bySelf(s) && g.mentions("ecmo", "support", "va") {
			return 3.5
		}
		return 0
	}
	if f.Path == schema.HybridStentRoute && (g.ctx.form == "hybrid" || g.ctx.form == "ductal-stent-alone" || g.mentions("stent")) {
		k := s.from - 1
		for k >= 0 && (g.is(k, "the", "a", "in", "purse", "string") || g.is(k, "of")) {
			k--
		}
		if g.is(k, "through", "via", "from") || g.within(s, "through", "via") {
			return 3.5
		}
		return 0
	}
	if f.Path == schema.SupplyVentriculotomy || f.Path == schema.SupplyDistalSite {
		k := s.from - 1
		for k >= 0 && g.is(k, "the", "a") {
			k--
		}
		conduit := g.mentions("sano", "conduit", "dunked", "cored") || g.ctx.supply == "ventricle-pulmonary-conduit"
		if f.Path == schema.SupplyVentriculotomy && conduit && g.is(k, "through", "from", "in", "off", "of") && g.sideOf(s) == "" {
			return 3.5
		}
		if f.Path == schema.SupplyDistalSite && g.mentions("distal", "cuff", "sewn", "straight", "anastomosis", "end") && conduit && g.is(k, "to", "at", "onto", "on") {
			return 5
		}
		return 0
	}
	if f.Path == schema.Stage1ArchPatch && !s.item {
		return g.archPatch(s)
	}
	if f.Name == "from" && f.Section == "supply" && (g.is(s.from-1, "of") || g.is(s.from-2, "of") && g.is(s.from-1, "the")) {
		return 0 // "to the left of the aorta"
	}
	if f.Name != "from" && f.Name != "to" || f.Section == "supply" && g.mentions("band", "banded") {
		return 0
	}
	k := s.from - 1
	for k >= 0 && (g.is(k, "the", "a", "an", "her", "his") || g.at[k] >= 0 && g.sideOf(&g.signs[g.at[k]]) != "" && !g.signs[g.at[k]].content2()) {
		k--
	}
	values := func(k int, name string) bool { // a value of supply.from or supply.to at token k
		for k < len(g.toks) && g.is(k, "the", "a") {
			k++
		}
		if k < 0 || k >= len(g.toks) || g.at[k] < 0 {
			return false
		}
		for _, x := range g.signs[g.at[k]].senses {
			if x.kind == isValue && x.field.Section == f.Section && x.field.Name == name {
				return true
			}
		}
		return false
	}
	if f.Name == "from" {
		if g.is(k, "from", "off") {
			return 4.5
		}
		if g.is(s.to, "to", "/", ">", "→") && values(s.to+1, "to") || values(s.to, "to") {
			return 4
		}
		return 0
	}
	if values(k, "from") {
		return 4
	}
	if g.is(k, "to", "onto", "into", "/", ">", "→") {
		if values(k-1, "from") || g.mentions("shunt", "btt", "mbtt", "bt", "taussig", "conduit", "from") {
			return 4.5
		}
		if (g.ctx.supply == "ventricle-pulmonary-conduit" || strings.HasSuffix(g.ctx.supply, "shunt") || strings.HasPrefix(g.ctx.supply, "modified")) && f.Section == "supply" {
			return 3
		}
		return 1.5
	}
	return 0
}

// archPatch is the weight that "the arch was repaired with" gives to a material:
// the nearest thing spoken of must be the arch.
func (g *segment) archPatch(s *sign) float64 {
	for k := s.from - 1; k >= 0 && k >= s.from-11 && g.toks[k].kind != stop; k-- {
		switch g.toks[k].text {
		case "shunt", "sano", "conduit", "stump", "branch", "lpa", "rpa", "confluence", "tube", "band", "ring", "graft", "cuff", "ringed":
			return 0
		case "arch", "augmented", "augmenting":
			for j := k; j < s.from; j++ {
				if g.is(j, "with", "using", "patch", ":", "augmented", "patched", "of") {
					return 4.2
				}
			}
			return 0
		}
	}
	if k := s.to; g.is(k, "to", "on", "for") && (g.is(k+1, "arch") || g.is(k+1, "the") && g.is(k+2, "arch")) {
		return 4.2 // "homograft to the arch"
	}
	if g.is(s.to, "arch") || g.is(s.to, "patch") && g.is(s.to+1, "to", "for", "on") && g.mentions("arch") {
		return 4.2
	}
	return 0
}

// siteOf is the weight that the name of a value gives to where, or how, it was
// read: "cooled to eighteen nasopharyngeal".
func (g *segment) siteOf(i int, f *schema.Field) float64 {
	base, ok := strings.CutSuffix(f.Name, "Site")
	if !ok {
		if base, ok = strings.CutSuffix(f.Name, "Method"); !ok {
			return 0
		}
	}
	for c := range g.claims { // "Temp 28 bladder": so cold, it was the lowest
		if x := &g.claims[c]; x.field.Path == schema.PerfusionLowestTemperature && base == "temperature" {
			return 0
		} else if x.field.Path == schema.PerfusionLowestTemperature && x.field.Section == f.Section && x.field.Name == base && g.signs[i].from-x.to <= 3 && x.from-g.signs[i].to <= 3 {
			return 4
		}
	}
	for j := max(0, i-5); j < len(g.signs) && j <= i+4; j++ {
		for _, y := range g.signs[j].senses {
			if y.kind == namesField && y.field.Section == f.Section && y.field.Name == base && j != i {
				a, b := &g.signs[j], &g.signs[i]
				if a.from > b.from {
					a, b = b, a
				}
				if b.from-a.to <= 6 && !g.crossesStop(a.to, b.from) {
					return 3.5
				}
			}
		}
	}
	return 0
}

func (g *segment) crossesStop(a, b int) bool {
	for k := a; k < b; k++ {
		if g.toks[k].kind == stop {
			return true
		}
	}
	return false
}

// sideAfter finds a side said after the noun: "pleural drain on the right".
func (g *segment) sideAfter(k, limit int) []string {
	for n := g.nextSign(k); n < len(g.signs) && g.signs[n].from < limit && g.signs[n].from-k <= 3; n++ {
		s := &g.signs[n]
		switch {
		case s.is(both):
			return []string{"right", "left"}
		case s.is(rightSide) && !s.is(leftSide):
			if g.bareSideAt(s.to, "left") {
				return []string{"right", "left"} // "two pleurals, a right and a left"
			}
			return []string{"right"}
		case s.is(leftSide) && !g.leftVerb(s):
			if g.bareSideAt(s.to, "right") {
				return []string{"right", "left"}
			}
			return []string{"left"}
		}
		if s.content() && !s.is(deniesBefore) {
			return nil
		}
	}
	return nil
}

// bareSideAt tells whether the other side follows at token k, of nothing of its own:
// "and a left".
func (g *segment) bareSideAt(k int, side string) bool {
	if !g.is(k, "and", "+", "/", "&") {
		return false
	}
	for k++; g.is(k, "a", "one", "the"); k++ {
	}
	return g.is(k, side) && (k+1 >= len(g.toks) || g.toks[k+1].kind != word) && g.at[k] >= 0 && !g.signs[g.at[k]].content2()
}

// leftVerb tells whether a sign is the verb "left" and no side: "was left open".
func (g *segment) leftVerb(s *sign) bool {
	return s.to-s.from == 1 && g.is(s.from, "left") && !g.is(s.from-1, "the", "on", "her", "his", "to", "upper", "lower") &&
		(g.is(s.to, "in", "open", "with", "to", "at", "on", "behind", "as", "there", "it", "them", "clamped", "capped", "for", "draining", "long", "alone", "a", "an", "running", "connected", "insulated") || g.is(s.from-1, "was", "were", "been", "be", "being"))
}
