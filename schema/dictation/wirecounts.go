package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// lostWords tell that one of several wires is not there now.
var lostWords = wordSet("fell came pulled took lost broke slipped removed out")

// readOneLost reads how many wires are left where one of them is told to be out: "two
// ventricular, one fell off, so one", "two from before, I took one out, the other is
// still there". What was counted first gives way.
func (g *segment) readOneLost() {
	kind := schema.ItemKindNamed("pacing-wires")
	count := kind.Field("count")
	for k := range g.toks {
		if !g.oneLost(k) {
			continue
		}
		for j := k + 1; j < len(g.toks) && j < k+16 && g.toks[j].kind != stop; j++ {
			other := g.is(j, "other") && g.is(j-1, "the")
			if !other && !g.is(j, "so", "leaving", "leave") {
				continue
			}
			left, variety, end := 0, "", j+1
			for ; end < len(g.toks) && end < j+6 && g.toks[end].kind != stop && (left == 0 || variety == "" && !other); end++ {
				n := g.at[end]
				switch {
				case other && g.is(end, "still", "stay", "remain", "left", "in"):
					left = 1
				case n >= 0 && g.signs[n].num != nil && !other && left == 0:
					left = smallCount(g.signs[n].num.decimal)
				case n >= 0:
					for _, x := range g.signs[n].senses {
						if x.item == kind && x.value != "" {
							variety = x.value
						}
					}
				}
			}
			if left == 0 || left > 3 {
				continue
			}
			g.countLeft(kind, count, variety, left, k, end)
			return
		}
	}
}

// oneLost tells whether one of several is said at token k to be out.
func (g *segment) oneLost(k int) bool {
	return g.is(k, "one") && (g.is(k-1, "took", "pulled", "lost", "removed") || g.lostAfter(k)) && !g.maybe(k)
}

// onlyOneLost tells whether, of several wires, one alone is said to be out.
func (g *segment) onlyOneLost(t *thing) bool {
	if t.count < 2 || t.of.Name != "pacing-wires" {
		return false
	}
	for k := t.to; k < len(g.toks) && k < t.to+12 && g.toks[k].kind != stop; k++ {
		if g.oneLost(k) {
			return true
		}
	}
	return false
}

// lostAfter tells whether "one" at token k, or one of what it names, is said to be out.
func (g *segment) lostAfter(k int) bool {
	j := k + 1
	for j < k+6 && (g.is(j, "of", "the", "one", "wire", "them", "those", "these", "has", "had", "was") || j < len(g.toks) && g.at[j] >= 0 && g.signs[g.at[j]].content2()) {
		j++
	}
	return lostWords[g.wordAt(j)] && (g.is(j+1, "off", "out", "away", "loose") || g.is(j, "lost", "removed", "pulled", "broke", "out"))
}

// countLeft gives the wires of a chamber, or those listed last before token k, the
// count that is left of them.
func (g *segment) countLeft(kind *schema.ItemKind, count *schema.Field, variety string, left, k, end int) {
	at := -1
	for i := range g.groups {
		if x := &g.groups[i]; x.item == kind && !x.denied && (variety == "" && x.from < k || x.variety == variety) && (at < 0 || x.from >= g.groups[at].from) {
			at = i
		}
	}
	switch {
	case at < 0 && variety == "":
		return
	case at < 0:
		at = g.newGroup("items", k, end)
		g.groups[at].item, g.groups[at].variety = kind, variety
		g.claimIn(at, kind.Field("variety"), variety, k, end, k, end)
	}
	g.groups[at].gone = false
	for i := range g.claims {
		if c := &g.claims[i]; c.group == at && c.field == count {
			c.gone = true
		}
	}
	c := g.claimIn(at, count, strconv.Itoa(left), k, end, k, end)
	c.sure, c.note = Check, "another number was said first"
	for j := k; j < end; j++ {
		if n := g.at[j]; n >= 0 && g.signs[n].num != nil {
			g.signs[n].used = true
		}
	}
	g.taken = slices.DeleteFunc(g.taken, func(x withdrawn) bool { return x.item == kind && x.value == g.groups[at].variety })
}
