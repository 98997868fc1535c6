package dictation

import (
	"slices"

	"fairlead/schema"
)

// readSwabsLeft reads swabs that were left in as packs: "two swabs behind the heart".
func (g *segment) readSwabsLeft() {
	kind := schema.ItemKindNamed("left-on-purpose")
	for k := 1; k < len(g.toks); k++ {
		at := k - 1
		if at > 0 && g.is(at, "small", "large", "big", "little", "wet", "long", "gauze") {
			at--
		}
		if !g.is(k, "swab", "gauze") || !g.pluralAt(k) && !g.is(at, "one") || g.at[at] < 0 || g.signs[g.at[at]].num == nil || !g.plainTalk(int(g.at[at])) || g.unrealAt(k) {
			continue
		}
		c := &g.signs[g.at[at]]
		variety := ""
		switch {
		case g.is(k+1, "as") && g.is(k+2, "pack", "packing"):
			variety = "packs"
		case g.is(k+1, "behind", "under", "around", "round", "left", "inside", "packed") || g.is(k+1, "are", "were") && g.is(k+2, "inside", "left", "packed") || g.is(k+1, "in") && (g.is(k+2, "the") && g.is(k+3, "chest", "mediastinum", "wound", "pericardium", "gutter") || g.is(k+2, "there", "here", "place")):
			variety = "swabs"
		}
		if variety == "" || smallCount(c.num.decimal) == 0 || g.mentions("removed", "retrieved", "correct", "incorrect", "missing") || g.is(k+2, "out", "?") {
			continue
		}
		gi := g.newGroup("items", c.from, k+1)
		g.groups[gi].item, g.groups[gi].variety = kind, variety
		g.claimIn(gi, kind.Field("variety"), variety, k, k+1, c.from, k+1)
		g.claimIn(gi, kind.Field("count"), c.num.decimal, c.from, c.to, c.from, k+1)
		c.used = true
		for j := k; j < min(len(g.toks), k+3); j++ {
			if n := g.at[j]; n >= 0 && g.within(&g.signs[n], "swab", "pack", "gauze", "packing") {
				g.signs[n].used = true
			}
		}
	}
}

// readPacksLeft reads "two packs left in": the packs are an item, and their
// number is a field.
func (g *segment) readPacksLeft() {
	kind := schema.ItemKindNamed("left-on-purpose")
	f := fieldAt(schema.CountsPacksLeft)
	if kind == nil {
		return
	}
	for k := range g.toks { // "we took out two packs, none are left"
		if !g.is(k, "none", "nothing") || !g.mentions("pack", "swab") || !g.inNote(f) || g.claimsStated(f) {
			continue
		}
		j := k + 1
		if g.is(j, "are", "is", "were", "was") {
			j++
		}
		if !g.is(j, "left", "remain", "remaining", "remained", "in") || g.is(j+1, "to", "over", "pleural") || g.is(j, "in") && j == k+1 {
			continue
		}
		c := g.claimField(f, "", k, k+1, k, j+1)
		c.stated = schema.StatedNone
		if n := g.at[k]; n >= 0 {
			g.signs[n].used = true
		}
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.scope&(unreal|denied) != 0 || !g.namesList(s, f.Path) || !g.within(s, "pack", "swab", "packed") {
			continue
		}
		n := -1
		if i > 0 && g.signs[i-1].num != nil && !g.signs[i-1].used && (g.signs[i-1].to == s.from || g.signs[i-1].to == s.from-1 && g.is(s.from-1, "fresh", "new", "small", "gauze")) {
			n = i - 1
		} else if i+1 < len(g.signs) && g.signs[i+1].num != nil && g.signs[i+1].from-s.to <= 2 && g.is(s.from, "packed") {
			n = i + 1
		}
		if n < 0 || smallCount(g.signs[n].num.decimal) == 0 {
			continue
		}
		c := &g.signs[n]
		variety := "packs"
		if g.within(s, "swab") || n > i && g.is(c.to, "swab") {
			variety = "swabs"
		}
		gi := g.newGroup("items", min(s.from, c.from), max(s.to, c.to))
		g.groups[gi].item, g.groups[gi].variety = kind, variety
		g.claimIn(gi, kind.Field("variety"), variety, s.from, s.to, s.from, s.to)
		g.claimIn(gi, kind.Field("count"), c.num.decimal, c.from, c.to, s.from, s.to)
		g.claimField(f, c.num.decimal, c.from, c.to, s.from, s.to)
		s.used, c.used = true, true
	}
}

// packsNone lists the packs as not there where their number was said to be none, and
// as left where it was said how many went in.
func (g *segment) packsNone() {
	kind := schema.ItemKindNamed("left-on-purpose")
	for i := range g.claims {
		c := &g.claims[i]
		if c.field.Path != schema.CountsPacksPut || c.value == "" || c.value == "0" || c.gone || slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && !x.gone && (x.variety == "packs" || x.variety == "swabs") }) {
			continue
		}
		value, from, to, why, whyTo := c.value, c.from, c.to, c.why, c.whyTo
		gi := g.newGroup("items", from, to)
		g.groups[gi].item, g.groups[gi].variety = kind, "packs"
		g.claimIn(gi, kind.Field("variety"), "packs", from, to, why, whyTo)
		g.claimIn(gi, kind.Field("count"), value, from, to, why, whyTo)
		break
	}
	for i := range g.claims {
		c := &g.claims[i]
		if c.field.Path != schema.CountsPacksLeft || c.stated != schema.StatedNone || c.gone {
			continue
		}
		if slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && x.variety == "packs" }) {
			return
		}
		from, to, why, whyTo := c.from, c.to, c.why, c.whyTo
		gi := g.newGroup("items", from, to)
		g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, "packs", true
		g.claimIn(gi, kind.Field("variety"), "packs", from, to, why, whyTo)
		return
	}
}

// claimsStated tells whether the segment says already that there is none of a field.
func (g *segment) claimsStated(f *schema.Field) bool {
	return slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f && c.stated != "" && !c.gone })
}

// bloodWords are what a pack may hold that is given, and left in no child.
var bloodWords = wordSet("red packed blood cell rbc prbc platelet plasma ffp cryo cryoprecipitate albumin octaplas fresh fibrinogen")

// packsOfBlood takes packs of a blood product for no packs: "two packs of red cells".
func (g *segment) packsOfBlood() {
	for i := range g.signs {
		s := &g.signs[i]
		if g.within(s, "pack") && (g.is(s.to, "of") && bloodWords[g.wordAt(s.to+1)] || bloodWords[g.wordAt(s.from-1)] && g.is(s.from, "pack") && !g.is(s.from-1, "fresh")) {
			s.used = true
		}
	}
}
