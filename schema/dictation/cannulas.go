package dictation

import (
	"slices"

	"fairlead/schema"
)

// limbs are where a peripheral cannula lies, by the words of a list of lines.
var limbs = map[string]string{"hand": "hand", "foot": "foot", "forearm": "forearm", "ankle": "ankle", "scalp": "scalp", "antecubital": "antecubital", "acf": "antecubital", "elbow": "antecubital"}

// gaugesBare are the gauges of small cannulas, said without the word.
var gaugesBare = []string{"20", "22", "24", "26"}

// linesBefore are the kinds of thing after which a limb and a gauge that are a whole
// sentence are a cannula's: "Left radial 24. Right foot 24."
var linesBefore = map[string]bool{"arterial-line": true, "central-venous-line": true, "peripheral-cannula": true, "intracardiac-line": true}

// readCannulasShort reads cannulas by the limb and a gauge without a noun, as in a
// list of lines: "right hand twenty two pink, fluids", "a 24 in the left foot,
// tissued and out". Something of a cannula must be said beside it, since a limb has
// pressures, probes and colours too.
func (g *segment) readCannulasShort() {
	kind := schema.ItemKindNamed("peripheral-cannula")
	if g.mentions("pressure", "systolic", "cuff", "bp", "probe", "saturation", "cannulated", "gradient") {
		return
	}
	for k := 0; k < len(g.toks); k++ {
		where := limbs[g.toks[k].text]
		if where == "" || !g.is(k-1, "right", "left") && where != "scalp" || g.at[k] >= 0 && g.signs[g.at[k]].used {
			continue
		}
		n := -1
		switch {
		case g.numberAt(k + 1):
			n = int(g.at[k+1])
		case g.is(k+1, ",", ":", "a") && g.numberAt(k+2):
			n = int(g.at[k+2])
		case g.numberAt(k - 2):
			n = int(g.at[k-2])
		case g.is(k-2, "the", "in") && (g.numberAt(k-3) || g.is(k-3, "in") && g.numberAt(k-4)):
			n = int(g.at[k-3])
			if n < 0 || g.signs[n].num == nil {
				n = int(g.at[k-4])
			}
		}
		if n < 0 || g.signs[n].scope&(unreal|denied) != 0 {
			continue
		}
		a, ok := g.amountAt(n)
		if !ok || a.units != nil && !slices.Contains(a.units, "{gauge}") || !slices.Contains(gaugesBare, a.decimal) {
			continue
		}
		end := max(k+1, a.to)
		said, gone, working := a.units != nil || g.wholeSegment(k-1, a.to) && linesBefore[g.ctx.last], false, ""
		for j := end; j < len(g.toks) && j < end+7 && g.toks[j].kind != stop && limbs[g.toks[j].text] == ""; j++ {
			switch {
			case g.is(j, "pink", "blue", "yellow", "purple", "fluid", "cannula", "maintenance", "flushing", "flush", "drip", "capped"):
				said = true
			case g.is(j, "working", "patent"):
				said, working = true, "yes"
			case g.is(j, "tissued"):
				said, working = true, "tissued"
			case g.is(j, "out", "removed", "gone"):
				gone = true
			}
		}
		if !said {
			continue
		}
		from := min(k, a.from)
		for j := from; j < end; j++ {
			if m := g.at[j]; m >= 0 {
				g.signs[m].used = true
			}
		}
		if m := g.at[k-min(k, 1)]; m >= 0 && where != "scalp" {
			g.signs[m].used = true
		}
		if gone {
			continue
		}
		gi := g.newGroup("items", from, end)
		g.groups[gi].item, g.groups[gi].variety = kind, where
		g.claimIn(gi, kind.Field("variety"), where, k, k+1, from, end)
		if g.is(k-1, "right", "left") {
			g.claimIn(gi, kind.Field("side"), g.toks[k-1].text, k-1, k, from, end)
		}
		c := g.claimIn(gi, kind.Field("gauge"), a.decimal, a.from, a.to, from, end)
		if a.units == nil {
			c.sure, c.note = Check, "the unit was not said"
		}
		switch working {
		case "yes":
			g.claimIn(gi, kind.Field("working"), "yes", k, k+1, from, end)
		case "tissued":
			g.claimIn(gi, kind.Field("state"), "tissued", k, k+1, from, end)
		}
	}
}
