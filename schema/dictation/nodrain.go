package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// drainlessWords may stand between a denial and the side it speaks of.
var drainlessWords = wordSet("drain drains tube tubes one ones on in to into the went was were put placed needed need required did either both each pleura pleurae pleural pleurals side sides chest space cavity a go of there for any left right hemithorax")

// readNoDrains reads pleurae that have no drain where the denial names the side and
// no drain: "nothing on the right", "no drain went into either pleura".
func (g *segment) readNoDrains() {
	kind := schema.ItemKindNamed("drain")
	g.readUndrained(kind)
	if kind == nil || g.ctx.last != "drain" && !g.mentions("drain", "drained", "pleural", "tube") || g.mentions("opened", "entered", "open") && !g.mentions("one", "isnt") {
		return
	}
	for k := range g.toks {
		neither := g.is(k, "neither") && (g.is(k-1, ":", ",") && g.is(k-2, "pleural", "pleura") || g.is(k-1, "pleural"))
		if !neither && (!g.is(k, "no", "none", "nothing", "not", "neither", "nil", "without", "isnt", "wasnt") || g.unrealAt(k)) {
			continue
		}
		sides, end, said := []string(nil), k+1, neither || g.is(k, "none", "nothing", "nil")
		if neither {
			sides = []string{"right", "left"}
		}
		for j := k + 1; j < len(g.toks) && j < k+10 && sides == nil && g.toks[j].kind == word && (drainlessWords[g.toks[j].text] || g.is(j, "drain")); j++ {
			said = said || g.is(j, "drain", "drained", "tube", "pleural")
			last := j+1 >= len(g.toks) || g.toks[j+1].kind != word || !drainlessWords[g.toks[j+1].text]
			switch {
			case (g.is(j, "either", "both", "each") || j == k+1 && g.is(k, "neither")) && g.is(j+1, "side", "pleura", "chest", "pleural"):
				sides, end = []string{"right", "left"}, j+2
			case g.is(j, "right", "left") && (g.is(j-1, "a", "any") && j-2 <= k || j == k+1 && g.is(k, "no")) && (j+1 >= len(g.toks) || g.toks[j+1].kind != word || g.is(j+1, "one", "drain", "tube")):
				sides, end, said = []string{g.toks[j].text}, j+1, true // "there isn't a left", "so no left one"
			case g.is(j, "right", "left") && g.is(j-1, "the") && g.is(j-2, "on", "in", "for", "into", "to") && (last || g.is(j+1, "side", "pleura", "chest", "pleural")):
				sides, end = []string{g.toks[j].text}, j+1
			}
		}
		if sides == nil || !said {
			continue
		}
		for _, side := range sides {
			variety := side + "-pleural"
			if slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && x.variety == variety && !x.gone }) {
				continue
			}
			gi := g.newGroup("items", k, end)
			g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, variety, true
			g.claimIn(gi, kind.Field("variety"), variety, end-1, end, k, end)
		}
		for j := max(0, k-2); j < end; j++ {
			if n := g.at[j]; n >= 0 && (j > k || neither && g.signs[n].content2()) {
				g.signs[n].used = true
			}
		}
		return
	}
}

// denialsStand takes back drains that the segment listed and then denied: "left pleural
// eighteen, wait, the left pleura was never opened so no left one".
func (g *segment) denialsStand() {
	for i := range g.groups {
		if x := &g.groups[i]; x.item != nil && x.item.Name == "drain" && x.denied && !x.gone {
			g.dropBefore(x.item, x.variety, x.from)
		}
	}
}

// readUndrained reads a side of the chest that is told to have no drain, the side first:
// "the left side was not drained", "the right pleura wasn't opened and has no drain".
func (g *segment) readUndrained(kind *schema.ItemKind) {
	for k := 1; k < len(g.toks); k++ {
		switch {
		case g.is(k, "drained") && (g.is(k-1, "not", "never", "wasnt", "isnt") || g.is(k-1, "be") && g.is(k-2, "not")):
		case g.is(k, "drain") && g.is(k-1, "no") && g.is(k-2, "has", "have", "had", "need", "needed", "get", "got"):
		default:
			continue
		}
		for j := k - 2; j > 0 && j >= k-10 && g.toks[j].kind != stop && !g.is(j, "drain"); j-- {
			if !g.is(j, "right", "left") || !g.is(j+1, "side", "chest", "pleura", "pleural", "hemithorax") || g.maybe(j) {
				continue
			}
			variety := g.toks[j].text + "-pleural"
			gi := g.newGroup("items", j, k+1)
			g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, variety, true
			g.claimIn(gi, kind.Field("variety"), variety, j, k+1, j, k+1)
			if n := g.at[k]; n >= 0 {
				g.signs[n].used = true
			}
			break
		}
	}
}

// together are words that make a number the sum of what all drains gave.
var together = splitPhrases("in total; in all; all told; between them; between the two; in the lot; altogether; all together; total")

// readDrainsTogether reads what the drains gave between them: "right pleural nineteen,
// mediastinal fifteen, thirty five mils in total".
func (g *segment) readDrainsTogether() {
	f := fieldAt(schema.LeavingDrainLoss)
	if !g.inNote(f) || g.ctx.last != "drain" && !g.mentions("drain", "pleural", "mediastinal", "chest") {
		return
	}
	for i := range g.signs {
		if g.signs[i].num == nil || !g.plainTalk(i) {
			continue
		}
		a, _ := g.amountAt(i)
		sum := g.is(a.from-1, "loss", "output", "total") && g.is(a.from-2, "combined", "total", "drain", "overall") || g.is(a.to, "so") && g.is(a.to+1, "far") && slices.Contains(a.units, "mL") && g.onlyHead(a.from)
		for _, p := range together {
			at := a.to
			if g.is(at, "out", "so") {
				at++
			}
			said := strings.Join(g.wordsOf(at, at+len(p)), " ") == strings.Join(p, " ")
			sum = sum || said
		}
		if !sum || a.units != nil && !slices.Contains(a.units, "mL") || a.units == nil && !g.is(a.from-1, "given", "gave", "drained", ",", "lost", "loss", "output", "total") {
			continue
		}
		if v, _, ok := fits(f, a); ok && !(a.units == nil && smallCount(v) > 0) {
			g.judge(g.claimField(f, v, a.from, a.to, a.from, a.to), a)
			g.useAmount(a)
			return
		}
	}
}

// outputElsewhere takes from what is said of a thing the volume that is not its own: what a
// urinary catheter gave is the urine, and what follows several drains as "so far" or "out"
// is what they all lost: "two mediastinal fifteens, two hundred mils out".
func (g *segment) outputElsewhere(ts []thing, n, copies int, attrs []claim) []claim {
	t := &ts[n]
	i := slices.IndexFunc(attrs, func(c claim) bool { return c.field.Name == "output" && c.value != "" })
	if i < 0 {
		return attrs
	}
	c := attrs[i]
	var f *schema.Field
	switch {
	case t.varieties[0] == "urinary-catheter":
		f = fieldAt(schema.LeavingUrine)
	case t.of.Name == "drain" && (copies > 1 || g.lastOfDrains(ts, n) && (g.is(c.to, "so") || g.is(c.to, "out", "already", "since") && !g.is(c.to+1, "of"))):
		f = fieldAt(schema.LeavingDrainLoss)
	}
	own := func(x claim) bool { return x.group >= 0 && x.field == c.field && !x.gone }
	if f == nil || !g.inNote(f) || g.answered(f) || g.is(c.to, "each") || slices.ContainsFunc(g.claims, own) {
		return attrs
	}
	d := g.claimField(f, c.value, c.from, c.to, c.why, c.whyTo)
	d.sure, d.note = Check, "said after the things left in, and taken for all of it"
	return slices.Delete(attrs, i, i+1)
}

// lastOfDrains tells whether thing n ends a list of several drains.
func (g *segment) lastOfDrains(ts []thing, n int) bool {
	drain := func(t thing) bool { return t.of != nil && t.of.Name == "drain" }
	return slices.ContainsFunc(ts[:n], func(t thing) bool { return drain(t) && g.signs[t.sign].scope&denied == 0 }) && !slices.ContainsFunc(ts[n+1:], drain)
}

// onlyHead tells whether nothing but "chest drains" was named before token k: no one
// drain, whose own loss the number would be.
func (g *segment) onlyHead(k int) bool {
	for n := g.prevSign(k); n >= 0; n-- {
		if s := &g.signs[n]; s.content() && !(g.is(s.to-1, "drain") && g.pluralAt(s.to-1)) {
			return false
		}
	}
	return true
}
