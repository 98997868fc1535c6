package dictation

import (
	"slices"

	"fairlead/schema"
)

// readPacksOf reads how many packs came out of how many there were: "two packs, two
// of two", "one pack out of one", "two put in and two taken out".
func (g *segment) readPacksOf() {
	g.packsOfBlood()
	out, in := fieldAt(schema.RemovalsPacksRetrieved), fieldAt(schema.RemovalsPacksExpected)
	if !g.inNote(out) || !g.mentions("pack", "swab") && !(g.lex.kind == schema.Closure && g.mentions("out", "confirm", "confirmed", "nurse")) {
		return
	}
	number := func(k int) *sign {
		if k < 0 || !g.numberAt(k) {
			return nil
		}
		s := &g.signs[g.at[k]]
		if s.scope&(denied|intended|calling) != 0 || smallCount(s.num.decimal) == 0 || s.from != k && s.to != k+1 {
			return nil
		}
		return s
	}
	for k := range g.toks {
		switch {
		case g.is(k, "of") && !g.is(k+1, "red", "blood"):
			j := k - 1
			for g.is(j, "out", "pack") {
				j--
			}
			a, b := number(j), number(k+1)
			if a == nil || b == nil || g.is(b.to, "ml", "french", "mm") {
				continue
			}
			if k+2 < len(g.toks) && g.at[k+2] >= 0 && g.signs[g.at[k+2]].has(isUnit) {
				continue
			}
			g.claimField(out, a.num.decimal, a.from, a.to, a.from, b.to)
			g.claimField(in, b.num.decimal, b.from, b.to, a.from, b.to)
			a.used, b.used = true, true
			for n := range g.signs { // "packs, three of three retrieved": they are out
				if p := &g.signs[n]; g.within(p, "pack", "swab") && a.from-p.to <= 1 && p.to <= a.from {
					p.used = true
				}
			}
			return
		case g.is(k, "/") && (g.is(k-2, "pack", "swab") || g.is(k+2, "pack", "swab", "out")):
			a, b := number(k-1), number(k+1)
			if a == nil || b == nil {
				continue
			}
			g.claimField(out, a.num.decimal, a.from, a.to, a.from, b.to)
			g.claimField(in, b.num.decimal, b.from, b.to, a.from, b.to)
			a.used, b.used = true, true
			return
		case g.is(k, "expected", "in") && number(k+1) != nil && g.packsFound(k+2) > 0 && number(g.packsFound(k+2)) != nil:
			a, b := number(k+1), number(g.packsFound(k+2))
			g.claimField(in, a.num.decimal, a.from, a.to, k, b.to)
			g.claimField(out, b.num.decimal, b.from, b.to, k, b.to)
			a.used, b.used = true, true
			for i := range g.signs { // they are out: no item
				if s := &g.signs[i]; s.to <= k && g.within(s, "pack", "swab") {
					s.used = true
				}
			}
			return
		case g.is(k, "in") && g.is(k-2, "pack", "swab", ":") && number(k-1) != nil && number(k+1) != nil && g.is(k+2, "out"):
			a, b := number(k-1), number(k+1) // "packs 2 in 2 out"
			g.claimField(in, a.num.decimal, a.from, a.to, a.from, b.to+1)
			g.claimField(out, b.num.decimal, b.from, b.to, a.from, b.to+1)
			a.used, b.used = true, true
			if n := g.at[k-2]; n >= 0 {
				g.signs[n].used = true
			}
			return
		case g.is(k, "expected"):
			j := k + 1
			for g.is(j, ",", "and") {
				j++
			}
			if b := number(j); b != nil && g.is(b.to, "out", "found", "retrieved", "removed") && j > k {
				g.claimField(out, b.num.decimal, b.from, b.to, b.from, b.to+1)
				b.used = true
			}
		case g.is(k, "pack", "swab") && number(k+1) != nil && g.is(k+2, "out", "removed", "retrieved", "recovered") && !g.is(k+3, "of"):
			a := number(k + 1)
			g.claimField(out, a.num.decimal, a.from, a.to, k, k+3)
			a.used = true
			if n := g.at[k]; n >= 0 {
				g.signs[n].used = true
			}
			return
		case g.is(k, "put") && g.is(k+1, "in"):
			a := number(k - 1)
			j := k + 2
			for g.is(j, "and", ",") {
				j++
			}
			b := number(j)
			if a == nil || b == nil || !g.is(b.to, "taken", "came", "took", "removed", "out") {
				continue
			}
			g.claimField(in, a.num.decimal, a.from, a.to, a.from, b.to)
			g.claimField(out, b.num.decimal, b.from, b.to, a.from, b.to)
			a.used, b.used = true, true
			return
		}
	}
}

// packsFound is the token of the number that "found", "retrieved" or "out" gives at
// token k, after a comma, or 0.
func (g *segment) packsFound(k int) int {
	for g.is(k, ",", "and") {
		k++
	}
	if g.is(k, "found", "retrieved", "out", "removed", "recovered") && g.numberAt(k+1) {
		return k + 1
	}
	return 0
}

// readSwabsLeft reads swabs that were left in as packs: "two swabs behind the heart".
func (g *segment) readSwabsLeft() {
	kind := schema.ItemKindNamed("left-on-purpose")
	for k := 1; k < len(g.toks); k++ {
		if !g.is(k, "swab", "gauze") || !g.pluralAt(k) && !g.is(k-1, "one") || g.at[k-1] < 0 || g.signs[g.at[k-1]].num == nil || !g.plainTalk(int(g.at[k-1])) || g.unrealAt(k) {
			continue
		}
		c := &g.signs[g.at[k-1]]
		variety := ""
		switch {
		case g.is(k+1, "as") && g.is(k+2, "pack", "packing"):
			variety = "packs"
		case g.is(k+1, "behind", "under", "around", "round", "left", "inside", "packed") || g.is(k+1, "are", "were") && g.is(k+2, "inside", "left", "packed") || g.is(k+1, "in") && g.is(k+2, "the") && g.is(k+3, "chest", "mediastinum"):
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
		if g.within(s, "pack") && (g.is(s.to, "of") && bloodWords[g.wordAt(s.to+1)] || bloodWords[g.wordAt(s.from-1)] && g.is(s.from, "pack")) {
			s.used = true
		}
	}
}
