package dictation

import (
	"slices"

	"fairlead/schema"
)

// chamberWord is the chamber whose wires a word or letter names.
var chamberWord = map[string]string{"a": "atrial", "atrial": "atrial", "atrium": "atrial", "atria": "atrial", "v": "ventricular", "ventricular": "ventricular", "ventricle": "ventricular"}

// chamberThreshold is the threshold told of the wires of one chamber.
type chamberThreshold struct {
	variety string
	a       amount
}

// chamberThresholds reads the thresholds that are told by chamber apart from the wires: "2A 2V,
// thresh A 1.5 V 1.0", "the atrial threshold is one milliamp". They are kept for the
// wires, which are read later.
func (g *segment) chamberThresholds() (out []chamberThreshold) {
	kind := schema.ItemKindNamed("pacing-wires")
	if kind == nil || !g.mentions("threshold") {
		return nil
	}
	f := kind.Field("threshold")
	use := func(from, k int, v string) int {
		for g.is(k, "is", "at", "of", "was", ":", "=", "around", "about") {
			k++
		}
		if !g.numberAt(k) || g.signs[g.at[k]].used || g.signs[g.at[k]].scope&(unreal|denied) != 0 {
			return -1
		}
		a, ok := g.amountAt(int(g.at[k]))
		if _, _, fit := fits(f, a); !ok || !fit || a.units != nil && !slices.Contains(a.units, "mA") && !slices.Contains(a.units, "V") {
			return -1
		}
		if g.is(a.to, "wire", "a", "v") && g.toks[a.to].glued || g.numberAt(a.to) {
			return -1
		}
		out = append(out, chamberThreshold{v, a})
		for j := from; j < a.to; j++ {
			if n := g.at[j]; n >= 0 {
				g.signs[n].used = true
			}
		}
		return a.to
	}
	for k := range g.toks {
		if !g.is(k, "threshold") {
			continue
		}
		if v := chamberWord[g.toks[max(0, k-1)].text]; v != "" && k > 0 && (g.is(k-1, "a", "v") || g.mentions("wire") || g.ctx.last == kind.Name && !(g.mentions("atrial") && g.mentions("ventricular"))) && (k < 3 || !g.numberAt(k-2) || g.is(k-2, "a", "an") || g.signs[g.at[k-2]].used) {
			use(k-1, k+1, v) // "V threshold point nine"
			continue
		}
		j := k + 1
		for g.is(j, "are", "were", ":", ",", "on", "for", "the", "is") {
			j++
		}
		for j < len(g.toks) { // "thresh A 1.5 V 1.0"
			v := chamberWord[g.toks[j].text]
			if v == "" || g.is(j+1, "wire", "line") {
				break
			}
			end := use(j, j+1, v)
			if end < 0 {
				break
			}
			for j = end; g.is(j, ",", "and", "/", "the", "on", "for"); {
				j++
			}
		}
	}
	return out
}

// giveThresholds gives thresholds to the wires of their chambers, of this sentence or of
// the one before.
func (g *segment) giveThresholds(ts []chamberThreshold) {
	kind := schema.ItemKindNamed("pacing-wires")
	for _, t := range ts {
		f := kind.Field("threshold")
		at := -1
		for i := range g.groups {
			if x := &g.groups[i]; x.item == kind && !x.denied && !x.gone && x.variety == t.variety {
				at = i
			}
		}
		if at < 0 {
			at = g.newGroup("items", t.a.from, t.a.to)
			g.groups[at].item, g.groups[at].variety = kind, t.variety
			g.claimIn(at, kind.Field("variety"), t.variety, t.a.from, t.a.to, t.a.from, t.a.to)
		}
		if v, _, ok := fits(f, t.a); ok && !g.claimed(at, f) {
			g.claimIn(at, f, v, t.a.from, t.a.to, t.a.from, t.a.to)
		}
	}
}
