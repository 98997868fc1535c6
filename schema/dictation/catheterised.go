package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readCatheterProcedures reads what was done by catheter before this operation:
// "had a balloon septostomy on day one", "stented in the lab last week". What is
// done here has fields of its own.
func (g *segment) readCatheterProcedures() {
	list := schema.BeforeCatheterProcedures
	if !g.inNote(fieldAt(list)) {
		return
	}
	procedure := rowField(list, "procedure")
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, procedure)
		if v == "" && g.within(s, "balloon", "ballooned") && (g.mentions("septum", "septostomy") || g.is(s.to, "on", "at", "in", "before", "last", "yesterday")) {
			v = "balloon-septostomy"
		}
		if v == "" || v == "diagnostic" || v == "other" || s.used || s.scope&(denied|intended|hearsay|weighed|calling) != 0 {
			continue
		}
		if s.scope&(coming|formerly) == 0 && !g.daysBefore(s.to) && !g.hadBefore(s.from) && !(s.scope&past != 0 && g.mentions("cath", "lab", "ago", "week", "birth", "born")) {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		g.claimIn(gi, procedure, v, s.from, s.to, s.from, s.to)
		s.used = true
	}
}

// daysBefore tells whether a day before this one follows token k: "on day two", "at
// birth".
func (g *segment) daysBefore(k int) bool {
	for j := k; j < len(g.toks) && j < k+4 && g.toks[j].kind != stop && !g.is(j, ","); j++ {
		if g.is(j, "day", "birth", "yesterday", "ago", "week", "dol") {
			return true
		}
	}
	return false
}

// hadBefore tells whether the words before token k tell of something that was had:
// "after his septostomy", "she had had a".
func (g *segment) hadBefore(k int) bool {
	for j := k - 1; j >= 0 && j >= k-4 && g.toks[j].kind != stop && !g.is(j, ","); j-- {
		if g.is(j, "after", "following", "since", "underwent") || g.is(j, "had") && g.is(j-1, "had", "already", "has") {
			return true
		}
	}
	return false
}

// readCatheter reads what was measured at the catheter before this operation, all
// that follows the word for it in the sentence: "last Friday's catheter: mean PA
// eleven", "pre-op cath mPAP 13, EDP 8".
func (g *segment) readCatheter() {
	if !g.inNote(fieldAt(schema.CatheterMeanPulmonaryPressure)) {
		return
	}
	at := -1
	for k := range g.toks {
		if g.is(k, "cath", "catheterized", "catheterization") || g.is(k, "catheter") && (g.is(k-1, "at", "the", "her", "his", "last", "preop", "op", "friday", "monday", "tuesday", "wednesday", "thursday", "saturday", "sunday", "week", "month", "cardiac", "recent") || k == 0 || g.is(k-1, "a") && g.is(k+1, "in", "last", "on", "at", "showed", "gave")) && !g.is(k+1, "is", "for", "was", "to", "through") && !(g.is(k+1, "in") && g.is(k+2, "the", "his", "her", "place", "a")) {
			at = k
			break
		}
	}
	start := at + 1
	if at < 0 && g.ctx.catheter && g.namesBranches() {
		at = 0
	}
	if at < 0 {
		return
	}
	name, from := (*schema.Field)(nil), 0
	for k := start; k < len(g.toks) && g.toks[k].kind != stop && !g.is(k, "now", "today", "we", "but"); k++ {
		f, end := g.catheterName(k)
		if f != nil {
			name, from = f, k
			k = end - 1
			continue
		}
		if !g.numberAt(k) || g.signs[g.at[k]].from != k {
			continue
		}
		i := int(g.at[k])
		a, ok := g.amountAt(i)
		if !ok {
			continue
		}
		if e := a.to; g.is(e, "ago") || g.is(e, "week", "day", "month") && g.is(e+1, "ago") {
			g.signs[i].used = true // "six weeks ago"
			continue
		}
		if e := a.to; name == nil || from > 0 && k-from > 6 {
			for g.is(e, "in", "the") {
				e++
			}
			if f, end = g.catheterName(e); f != nil { // "a mean of ten in the lung artery"
				name, from = f, end
			}
		}
		if p := &g.signs[i]; name != nil && !p.used && p.scope&(denied|calling|aiming|intended|weighed|hearsay) == 0 {
			if v, _, ok := fits(name, a); ok {
				g.claimField(name, v, a.from, a.to, at, a.to)
				g.useAmount(a)
				if m := fieldAt(schema.CatheterMethod); !g.answered(m) {
					g.claimField(m, "catheter", at, at+1, at, at+1)
				}
			}
		}
		name = nil
		k = a.to - 1
	}
}

// namesBranches tells whether a sentence after one on the catheter goes on with the
// sizes of the vessels, and no work was done on them.
func (g *segment) namesBranches() bool {
	if g.anyPrefix("patch", "band", "stent", "augment", "enlarg", "shunt", "line", "now", "we", "leaving") {
		return false
	}
	for k := range g.toks {
		switch f, _ := g.catheterName(k); {
		case f == nil:
		case f.Path == schema.CatheterRightBranch, f.Path == schema.CatheterLeftBranch, f.Path == schema.CatheterDescendingAorta:
			return true
		}
	}
	return false
}

// answered tells whether the segment has a claim of a plain field.
func (g *segment) answered(f *schema.Field) bool {
	return slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f && c.group < 0 && !c.gone })
}

// satPlaces are the places of which a catheter tells the saturation.
var satPlaces = map[string]schema.Path{"aorta": schema.CatheterSystemicSaturation, "ao": schema.CatheterSystemicSaturation, "aortic": schema.CatheterSystemicSaturation, "systemic": schema.CatheterSystemicSaturation, "arterial": schema.CatheterSystemicSaturation,
	"svc": schema.CatheterCavalSaturation, "caval": schema.CatheterCavalSaturation, "venous": schema.CatheterCavalSaturation,
	"pulmonary vein": schema.CatheterPulmonaryVenousSaturation, "pulmonary venous": schema.CatheterPulmonaryVenousSaturation, "pv": schema.CatheterPulmonaryVenousSaturation}

// wordsOf are the words of tokens from..to that there are.
func (g *segment) wordsOf(from, to int) []string {
	var out []string
	for k := from; k < min(to, len(g.toks)); k++ {
		out = append(out, g.toks[k].text)
	}
	return out
}

// catheterName is what token k begins to name of what is measured at the catheter,
// and the token after the name.
func (g *segment) catheterName(k int) (*schema.Field, int) {
	switch {
	case g.is(k, "left") && g.numberAt(k+1) && g.answered(fieldAt(schema.CatheterRightBranch)):
		return fieldAt(schema.CatheterLeftBranch), k + 1 // "the right pulmonary artery seven, the left six"
	case g.is(k, "mpap", "pap", "mpa"):
		return fieldAt(schema.CatheterMeanPulmonaryPressure), k + 1
	case g.is(k, "lung") && g.is(k+1, "artery"):
		return fieldAt(schema.CatheterMeanPulmonaryPressure), k + 2
	}
	if g.mentions("sat", "saturation") { // "cath sats: aorta 78, SVC 52"
		for e := k + 1; e <= k+2; e++ {
			if p := satPlaces[strings.Join(g.wordsOf(k, e), " ")]; p != "" && g.numberAt(e) {
				return fieldAt(p), e
			}
		}
	}
	n := g.nextSign(k)
	if n >= len(g.signs) || g.signs[n].from != k {
		return nil, k
	}
	for _, x := range g.signs[n].senses {
		if x.kind == namesField && x.field.Section == "catheter" && x.field.Numeric() {
			return x.field, g.signs[n].to
		}
	}
	return nil, k
}

// catheterLater is what it costs to take an amount for one of the catheter, where no word
// for it has come yet and the amount is told of now: "LA seven (at cath it was eleven)".
func (g *segment) catheterLater(f *schema.Field, a amount, sc scope) float64 {
	if f.Section != "catheter" || sc&past != 0 || g.anyWithin(0, a.from, "cath", "catheter", "angiogram", "angio", "mri", "ct", "pre", "preop", "mr", "before", "beforehand") {
		return 0
	}
	return 1.7
}
