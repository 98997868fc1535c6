package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// thresholdTalk are the words that may stand between the thresholds of two chambers.
var thresholdTalk = wordSet("the is are was were at of in on for and threshold wire wires lead chamber capture capturing captures that thats no")

// chamberAt is the chamber that token k names: "atrial", "ventricular" or "".
func (g *segment) chamberAt(k int) string {
	switch {
	case g.is(k, "atrial", "atrium"), g.is(k, "a") && !g.isWordAt(k+1):
		return "atrial"
	case g.is(k, "ventricular", "ventricle"), g.is(k, "v") && !g.isWordAt(k+1):
		return "ventricular"
	}
	return ""
}

// isWordAt tells whether token k is a word that is no number.
func (g *segment) isWordAt(k int) bool {
	return k < len(g.toks) && g.toks[k].kind == word && !g.numberAt(k)
}

// readThresholds reads the thresholds of both chambers told together, each with its
// chamber before or after it: "thresholds one point two atrial and one point six
// ventricular", "tested: A 1.5 mA, V 0.8 mA".
func (g *segment) readThresholds() {
	kind := schema.ItemKindNamed("pacing-wires")
	f := kind.Field("threshold")
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
			v, _, ok := fits(f, a)
			if !ok {
				continue
			}
			gi := g.newGroup("items", a.from, a.to)
			g.groups[gi].item, g.groups[gi].variety = kind, chambers[i]
			g.claimIn(gi, kind.Field("variety"), chambers[i], a.from, a.to, a.from, a.to)
			g.claimIn(gi, f, v, a.from, a.to, min(k, from), a.to)
			if g.is(k, "tested") {
				g.claimIn(gi, kind.Field("tested"), "yes", k, k+1, k, a.to)
			}
			g.useAmount(a)
		}
		for j := min(k, from); j < end; j++ {
			if n := g.at[j]; n >= 0 && !g.within(&g.signs[n], "wire") {
				g.signs[n].used = true
			}
		}
		return
	}
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
