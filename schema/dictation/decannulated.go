package dictation

import "fairlead/schema"

// How mechanical support ended for each cannula: what became of the vessel it lay in, and
// the flow there after. A cannula and its vessel are told side by side, "arterial out,
// carotid repaired, good flow; venous out, jugular tied", or the vessel alone.

// vesselEnds are the vessels a cannula of support lies in.
var vesselEnds = wordSet("carotid jugular rcca lcca ij innominate femoral axillary")

// vesselFates are the words for what became of a vessel.
var vesselFates = map[string]string{"repaired": "repaired", "reconstructed": "repaired", "patched": "patched", "tied": "tied", "ligated": "tied", "sacrificed": "tied", "stump": "stump-left"}

// decannulation is what is told of one cannula or its vessel.
type decannulation struct {
	from, to               int
	item, fate, flow       string
	itemAt, fateAt, flowAt int
}

// readDecannulated reads what became of the vessels as the cannulas came out.
func (g *segment) readDecannulated() {
	if g.lex.kind != schema.SupportOff || !g.inNote(fieldAt(schema.MechanicalDecannulated)) {
		return
	}
	var all []*decannulation
	var last *decannulation
	begin := func(k int) {
		last = &decannulation{from: k, to: k + 1}
		all = append(all, last)
	}
	for k := range g.toks {
		if n := g.at[k]; n >= 0 && g.signs[n].scope&(unreal&^past|denied) != 0 {
			continue
		}
		if item := g.cannulaOut(k); item != "" {
			if last == nil || last.fate != "" || last.item != "" {
				begin(k)
			}
			if g.is(k, "arterial", "venous") { // "the aortic cannula" names the place it lay in
				last.item, last.itemAt = "support-cannula/"+item, k
			}
		} else if vesselEnds[g.toks[k].text] && !g.is(k+1, "line", "vein", "site") && (last == nil || last.fate != "") {
			begin(k)
		}
		if last == nil {
			continue
		}
		switch fate := vesselFates[g.toks[k].text]; {
		case g.is(k, "purse") && last.fate == "":
			last.fate, last.fateAt, last.to = "purse-string-tied", k, min(k+2, len(g.toks))
		case g.is(k, "same", "likewize", "ditto") && last.fate == "" && g.ctx.fate != "":
			last.fate, last.fateAt, last.to = g.ctx.fate, k, k+1
		case fate != "" && last.fate == "" && !g.is(k-1, "not", "than") && !g.anyWithin(k+1, k+4, "purse"):
			last.fate, last.fateAt, last.to = fate, k, k+1
		case g.is(k, "flow") && last.fate != "" && last.flow == "":
			if v := g.flowThere(k); v != "" {
				last.flow, last.flowAt, last.to = v, k, k+1
			}
		}
	}
	for _, d := range all {
		if d.fate == "" {
			continue
		}
		g.fate = d.fate
		gi := g.newGroup(schema.MechanicalDecannulated, d.from, d.to)
		row := func(name string) *schema.Field { return rowField(schema.MechanicalDecannulated, name) }
		if d.item != "" {
			g.claimIn(gi, row("item"), d.item, d.itemAt, d.itemAt+1, d.from, d.to)
		}
		g.claimIn(gi, row("vessel"), d.fate, d.fateAt, d.fateAt+1, d.from, d.to)
		if d.flow != "" {
			g.claimIn(gi, row("flowAfter"), d.flow, d.flowAt, d.flowAt+1, d.from, d.to)
			if n := g.at[d.flowAt]; n >= 0 {
				g.signs[n].used = true // it is not the flow of the shunt
			}
		}
	}
}

// cannulaOut is "arterial" or "venous" where token k names a cannula of support that came
// out; or "".
func (g *segment) cannulaOut(k int) string {
	which := ""
	switch {
	case g.is(k, "arterial", "aortic"):
		which = "arterial"
	case g.is(k, "venous", "atrial", "ra"):
		which = "venous"
	default:
		return ""
	}
	if g.is(k-1, "femoral", "radial", "central", "umbilical") || !cannulas[g.wordAt(k+1)] && !g.is(k+1, "out", ",", "one") {
		return ""
	}
	for j := k + 1; j < len(g.toks) && j < k+9 && g.toks[j].kind != stop; j++ {
		if g.is(j, "out", "removed", "decannulated", "purse", "pulled") || cannulas[g.toks[j].text] {
			return which
		}
	}
	return ""
}

// flowThere is how good the flow at token k is said to be, or "".
func (g *segment) flowThere(k int) string {
	for j := max(0, k-3); j < len(g.toks) && j < k+5; j++ {
		switch {
		case j < k && g.toks[j].kind == stop:
			continue
		case j > k && g.toks[j].kind == stop:
			return ""
		case g.is(j, "good", "fine", "normal", "brisk", "excellent", "strong"):
			return "good"
		case g.is(j, "reduced", "poor", "weak"):
			return "reduced"
		}
	}
	return ""
}
