package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// chamberThreshold is the threshold told of the wires of one chamber.
type chamberThreshold struct {
	variety string
	a       amount
	from    int // where it is begun to be told
	tested  int // the word that tells that it was tested; -1: none
}

// thresholdTalk are the words that may stand between the thresholds of two chambers.
var thresholdTalk = wordSet("the is are was were at of in on for and threshold wire wires lead chamber capture capturing captures that thats no")

// chamberWord is the chamber whose wires a word or letter names.
var chamberWord = map[string]string{"a": "atrial", "atrial": "atrial", "atrium": "atrial", "atria": "atrial", "v": "ventricular", "ventricular": "ventricular", "ventricle": "ventricular"}

// chamberAt is the chamber that token k names: "atrial", "ventricular" or "".
func (g *segment) chamberAt(k int) string {
	if k < 0 || k >= len(g.toks) || g.is(k, "a", "v") && g.isWordAt(k+1) {
		return ""
	}
	return chamberWord[g.toks[k].text]
}

// isWordAt tells whether token k is a word that is no number.
func (g *segment) isWordAt(k int) bool {
	return k < len(g.toks) && g.toks[k].kind == word && !g.numberAt(k)
}

// readThresholds reads the thresholds of wires that are told by chamber. They are kept
// for the wires, which are read later.
func (g *segment) readThresholds() []chamberThreshold {
	if !g.mentions("threshold", "thr", "tested") {
		return nil
	}
	if ts := g.thresholdsTogether(); ts != nil {
		return ts
	}
	return g.thresholdsApart()
}

// thresholdsTogether reads the thresholds of both chambers told together, each with its
// chamber before or after it: "thresholds one point two atrial and one point six
// ventricular", "tested: A 1.5 mA, V 0.8 mA".
func (g *segment) thresholdsTogether() (out []chamberThreshold) {
	f := schema.ItemKindNamed("pacing-wires").Field("threshold")
	for k := range g.toks {
		if !g.is(k, "threshold", "tested") || g.unrealAt(k) {
			continue
		}
		from := k + 1
		if g.chamberAt(k-1) != "" {
			from = k - 1
		}
		chambers, amounts, end := g.chambersFrom(from)
		if len(chambers) != 2 || chambers[0] == chambers[1] {
			continue
		}
		measured := func(a amount) bool { return a.units != nil || strings.Contains(a.decimal, ".") }
		if g.is(k, "tested") && !slices.ContainsFunc(amounts, measured) {
			continue // "tested, two atrial and one ventricular"
		}
		for i, a := range amounts {
			if _, _, ok := fits(f, a); !ok {
				continue
			}
			t := chamberThreshold{chambers[i], a, min(k, from), -1}
			if g.is(k, "tested") {
				t.tested = k
			}
			out = append(out, t)
			g.useAmount(a)
		}
		for j := min(k, from); j < end; j++ {
			if n := g.at[j]; n >= 0 && !g.within(&g.signs[n], "wire") {
				g.signs[n].used = true
			}
		}
		return out
	}
	return nil
}

// chambersFrom pairs chambers with what can be their thresholds, from token k on, and
// tells where the last of them ends.
func (g *segment) chambersFrom(k int) (chambers []string, amounts []amount, end int) {
	chamber, waiting := "", -1 // what was met and has no other half yet
	first := ""                // which half comes first
	for ; k < len(g.toks) && len(chambers) < 2; k++ {
		if c := g.chamberAt(k); c != "" {
			if waiting >= 0 {
				a, _ := g.amountAt(waiting)
				chambers, amounts, waiting, end = append(chambers, c), append(amounts, a), -1, k+1
			} else if first == "amount" || chamber != "" {
				return
			} else {
				chamber, first = c, "chamber"
			}
			continue
		}
		if g.numberAt(k) {
			n := int(g.at[k])
			a, ok := g.amountAt(n)
			if g.signs[n].used && !ok {
				continue
			}
			v, err := strconv.ParseFloat(a.decimal, 64)
			if !ok || err != nil || v > 20 || a.units != nil && !slices.Contains(a.units, "mA") || waiting >= 0 {
				return
			}
			if chamber != "" {
				chambers, amounts, chamber, end = append(chambers, chamber), append(amounts, a), "", a.to
			} else if first == "chamber" {
				return
			} else {
				waiting, first = n, "amount"
			}
			k = a.to - 1
			continue
		}
		if t := &g.toks[k]; t.kind == stop || t.kind == word && !thresholdTalk[t.text] {
			return
		}
	}
	return
}

// thresholdsApart reads the thresholds that are told of one chamber, or of one after the
// other: "2A 2V, thresh A 1.5 V 1.0", "the atrial threshold is one milliamp".
func (g *segment) thresholdsApart() (out []chamberThreshold) {
	kind := schema.ItemKindNamed("pacing-wires")
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
		out = append(out, chamberThreshold{v, a, from, -1})
		for j := from; j < a.to; j++ {
			if n := g.at[j]; n >= 0 {
				g.signs[n].used = true
			}
		}
		return a.to
	}
	for k := range g.toks {
		if !g.is(k, "threshold", "thr") {
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
	f := kind.Field("threshold")
	for _, t := range ts {
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
			g.claimIn(at, f, v, t.a.from, t.a.to, t.from, t.a.to)
		}
		if tested := kind.Field("tested"); t.tested >= 0 && !g.claimed(at, tested) {
			g.claimIn(at, tested, "yes", t.tested, t.tested+1, t.tested, t.a.to)
		}
	}
}
