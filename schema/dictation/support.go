package dictation

import (
	"slices"

	"fairlead/schema"
)

// readOnSupport reads what a note of mechanical support says in a few letters: when
// it began, its flow by the kilo, "Ao 8F, RA 16F".
func (g *segment) readOnSupport() {
	if g.lex.kind != schema.SupportOn {
		return
	}
	started, flow := fieldAt(schema.MechanicalStartedAt), fieldAt(schema.MechanicalFlow)
	kind := schema.ItemKindNamed("support-cannula")
	for i := range g.signs {
		s := &g.signs[i]
		if g.drugAt(i) != "heparin" || s.scope&(unreal|denied) != 0 || g.mentions("protamine", "stopped", "off", "started") && !g.mentions("on", "running") || g.planned(s.from) {
			continue
		}
		n := i + 1
		if n < len(g.signs) && g.signs[n].num != nil && g.signs[n].from-s.to <= 2 {
			if a, ok := g.amountAt(n); ok && len(a.decimal) == 2 {
				g.claimField(fieldAt(schema.MechanicalAnticoagulant), "heparin", s.from, s.to, s.from, a.to)
				break
			}
		}
	}
	g.readCircuit(kind)
	for i, a := range g.plainAmounts() {
		s := &g.signs[i]
		if a.clock != "" && a.units == nil && g.is(a.from-1, "on", "at", "started", "established", "since", "from") && !g.mentions("clamp", "heparin") && (s.num.surely || s.num.figures) {
			for k := max(0, a.from-4); k < a.from; k++ {
				if g.is(k, "ecmo", "support", "va", "flow", "started", "on", "established") && !g.mentions("off") {
					g.claimField(started, a.clock, a.from, a.to, k, a.to)
					g.useAmount(a)
					break
				}
			}
			continue
		}
		if anyPerKilo(a.units) && (g.wholeUnit(a) && g.mentions("flow", "ecmo", "rpm", "sweep") || g.is(a.from-1, "flow") || a.from <= 1 && a.to+1 >= len(g.toks) || g.is(a.from-2, "flow") && g.is(a.from-1, "is", "of", "at", ":", "now", "a", "was", "about")) {
			if v, _, ok := fits(flow, a); ok && v != "" {
				g.claimField(flow, v, a.from, a.to, a.from, a.to)
				g.useAmount(a)
			}
			continue
		}
		if !slices.Contains(a.units, "[Ch]") || kind == nil {
			continue
		}
		if g.cannulaIn(a, kind) || a.from == 0 {
			continue
		}
		variety := ""
		switch g.toks[a.from-1].text {
		case "ao", "aorta", "aortic":
			variety = "arterial"
		case "ra", "atrium":
			if len(a.decimal) > 1 {
				variety = "venous"
			}
		}
		if variety == "" {
			continue
		}
		gi := g.newGroup("items", a.from-1, a.to)
		g.groups[gi].item, g.groups[gi].variety = kind, variety
		g.claimIn(gi, kind.Field("variety"), variety, a.from-1, a.from, a.from-1, a.to)
		g.claimIn(gi, kind.Field("size"), a.decimal, a.from, a.to, a.from-1, a.to)
		g.useAmount(a)
		if n := g.at[a.from-1]; n >= 0 {
			g.signs[n].used, g.signs[n].item = true, true
		}
		if g.is(a.to, "direct") {
			g.claimIn(gi, kind.Field("throughGraft"), "direct", a.to, a.to+1, a.from-1, a.to+1)
		}
	}
}

// cannulaIn reads a cannula by the vessel it lies in: "8 Fr in the aorta".
func (g *segment) cannulaIn(a amount, kind *schema.ItemKind) bool {
	v, _, ok := fits(kind.Field("size"), a)
	if !ok || v == "" || g.mentions("line", "drain", "gauge", "lumen") {
		return false
	}
	for k := a.to; k+1 < len(g.toks) && k < a.to+5 && g.toks[k].kind != stop && !g.is(k, ",", "and"); k++ {
		if !g.is(k, "in", "into") {
			continue
		}
		j := k + 1
		for g.is(j, "the", "right", "ascending", "neo", "his", "her") {
			j++
		}
		variety := ""
		switch {
		case g.is(j, "aorta", "innominate", "carotid"):
			variety = "arterial"
		case g.is(j, "ra", "atrium", "jugular") && !g.is(j-1, "left"):
			variety = "venous"
		}
		if variety == "" {
			return false
		}
		gi := g.newGroup("items", a.from, j+1)
		g.groups[gi].item, g.groups[gi].variety = kind, variety
		g.claimIn(gi, kind.Field("variety"), variety, j, j+1, a.from, j+1)
		g.claimIn(gi, kind.Field("size"), v, a.from, a.to, a.from, j+1)
		g.useAmount(a)
		if n := g.at[j]; n >= 0 {
			g.signs[n].used, g.signs[n].item = true, true
		}
		return true
	}
	return false
}

// readVent reads the vent of the left heart: where it lies, its size, or that there
// is none.
func (g *segment) readVent() {
	f, kind := fieldAt(schema.MechanicalVent), schema.ItemKindNamed("support-cannula")
	if g.lex.kind != schema.SupportOn {
		return
	}
	for k := range g.toks {
		vented := g.is(k, "vented")
		if !g.is(k, "vent") && !vented || g.toks[k].kind != word || vented && !g.mentions("atrium", "heart", "ventricle", "septum") {
			continue
		}
		i := int(g.at[k])
		if i >= 0 && (g.signs[i].used || g.signs[i].scope&(unreal&^past) != 0) {
			continue
		}
		from, to := k, k+1
		if i >= 0 {
			from, to = g.signs[i].from, g.signs[i].to
		}
		no := i >= 0 && g.signs[i].scope&denied != 0 || g.is(to, "none", "nil", "no", "not") || g.is(to, ":") && g.is(to+1, "none", "nil", "no") || g.is(from-1, "no", "not", "without") || g.is(from-2, "no") || g.is(to, "na") || g.is(to, "n") && g.is(to+1, "/")
		if no {
			g.claimField(f, "", k, k+1, from, to).stated = schema.StatedNone
			if i >= 0 {
				g.signs[i].used = true
			}
			return
		}
		place := ""
		for j := max(0, k-4); j < len(g.toks) && j < k+8 && place == ""; j++ {
			if g.toks[j].kind == stop {
				if j > k {
					break
				}
				place = ""
				continue
			}
			switch {
			case g.is(j, "la") || g.is(j, "left") && g.is(j+1, "atrial", "atrium") || j > k && g.is(j, "atrium") && !g.is(j-1, "right"):
				place = "left-atrium"
			case g.is(j, "pulmonary") && g.is(j+1, "vein"):
				place = "pulmonary-vein"
			case g.is(j, "ventricle", "apex") && j > k:
				place = "ventricle"
			}
		}
		var size *amount
		for n := g.nextSign(max(0, k-4)); n < len(g.signs) && g.signs[n].from < k+9; n++ {
			s := &g.signs[n]
			if s.num == nil || !g.plainTalk(n) || g.crossesStop(min(k, s.from), max(k, s.from)) {
				continue
			}
			a, _ := g.amountAt(n)
			if _, _, ok := fits(kind.Field("size"), a); ok && (a.units == nil || slices.Contains(a.units, "[Ch]")) && (a.from > k || k-a.to <= 3 && !g.crosses(a.to, k)) {
				size = &a
				break
			}
		}
		if place == "" && size == nil {
			continue
		}
		if place != "" {
			g.claimField(f, place, k, k+1, from, to)
		}
		for n := g.nextSign(from); n < len(g.signs) && g.signs[n].from < to+4; n++ {
			if s := &g.signs[n]; s.num == nil && !s.has(isUnit) && (s.from < to || g.valueOf(s, f) != "" || g.within(s, "atrium", "pulmonary")) {
				s.used = true
			}
		}
		for n := g.prevSign(from); n >= 0 && from-g.signs[n].to <= 1 && g.signs[n].num == nil && (g.within(&g.signs[n], "atrial", "la", "atrium")); n = g.prevSign(g.signs[n].from) {
			g.signs[n].used = true
		}
		if size != nil {
			v, _, _ := fits(kind.Field("size"), *size)
			gi := g.newGroup("items", min(k, size.from), max(k+1, size.to))
			g.groups[gi].item, g.groups[gi].variety = kind, "vent"
			g.claimIn(gi, kind.Field("variety"), "vent", k, k+1, from, to)
			g.claimIn(gi, kind.Field("size"), v, size.from, size.to, min(k, size.from), max(k+1, size.to))
			g.useAmount(*size)
		}
		return
	}
}

// circuitWords are the vessels and limbs of the circuit, as they stand beside the
// size of a cannula.
var circuitWords = map[string]string{"artery": "arterial", "arterial": "arterial", "vein": "venous", "venous": "venous", "vent": "vent", "carotid": "arterial", "jugular": "venous"}

// readCircuit reads "artery eight French, vein twelve" and "ten French artery": the
// cannulae of the circuit, where the words for them are no names of lines.
func (g *segment) readCircuit(kind *schema.ItemKind) {
	if kind == nil || g.mentions("line", "gauge", "lumen", "drain", "wire") {
		return
	}
	size := kind.Field("size")
	for k := range g.toks {
		variety := circuitWords[g.toks[k].text]
		if g.is(k, "carotid", "jugular") && !(g.numberAt(k+1) || g.is(k+1, ":", ",") && g.numberAt(k+2) || k > 0 && g.at[k-1] >= 0 && g.signs[g.at[k-1]].num != nil || k > 1 && g.at[k-1] >= 0 && g.signs[g.at[k-1]].has(isUnit) && g.numberAt(k-2)) || g.is(k, "jugular") && g.is(k-1, "internal") {
			continue
		}
		if variety == "" || g.is(k-1, "femoral", "umbilical", "jugular", "innominate", "pulmonary", "carotid", "axillary", "left", "right") && g.is(k, "artery", "vein") || g.is(k+1, "line", "blood", "pressure", "gas") || g.unrealAt(k) {
			continue
		}
		if n := g.at[k]; n >= 0 && (g.signs[n].used || g.signs[n].scope&(denied|unreal) != 0) {
			continue
		}
		a, v, ok := g.circuitSize(k, size)
		if !ok {
			continue
		}
		gi := g.newGroup("items", min(k, a.from), max(k+1, a.to))
		g.groups[gi].item, g.groups[gi].variety = kind, variety
		g.claimIn(gi, kind.Field("variety"), variety, k, k+1, min(k, a.from), max(k+1, a.to))
		g.claimIn(gi, size, v, a.from, a.to, min(k, a.from), max(k+1, a.to))
		side, at := g.sideOfCannula(k, a)
		if side != "" {
			g.claimIn(gi, kind.Field("side"), side, at, at+1, min(k, at), max(k+1, a.to))
		}
		if d := g.depthAfter(kind, a.to); d.decimal != "" {
			g.claimIn(gi, kind.Field("depth"), d.decimal, d.from, d.to, k, d.to)
			g.useAmount(d)
		}
		g.useAmount(a)
		if n := g.at[k]; n >= 0 {
			g.signs[n].used, g.signs[n].item = true, true
		}
		for j := a.to; j < len(g.toks) && j < a.to+9 && g.toks[j].kind != stop && circuitWords[g.toks[j].text] == ""; j++ {
			if g.is(j, "graft") && g.mentions("into", "through") {
				g.claimIn(gi, kind.Field("throughGraft"), "through-graft", j, j+1, k, j+1)
				break
			}
			if g.is(j, "direct", "directly") {
				g.claimIn(gi, kind.Field("throughGraft"), "direct", j, j+1, k, j+1)
				break
			}
		}
	}
}

// vesselWords name, with a side, where in the neck or the groin a cannula lies.
var vesselWords = wordSet("common internal carotid jugular femoral fem artery vein i j ij v neck groin")

// sideOfCannula is the side on which the cannula that token k names lies, with its token:
// said right before the word, or of the vessel named before its size or after it ("right
// i j fourteen French venous", "arterial 10 French, in the right carotid"), or of the
// neck or groin that the sentence tells of. The words of that vessel are taken.
func (g *segment) sideOfCannula(k int, a amount) (string, int) {
	if w := g.sideAt(k - 1); w != "" {
		return w, k - 1
	}
	j := max(k+1, a.to)
	for g.is(j, ",", "in", "into", "the", "via", "through", "his", "her") {
		j++
	}
	for from := a.from - 1; from >= 0 && a.from-from < 6 && k >= a.to && !vesselWords[g.toks[j-1].text]; from-- {
		if g.sideAt(from) != "" && vesselWords[g.wordAt(from+1)] {
			j = from
			break
		}
		if !vesselWords[g.toks[from].text] {
			break
		}
	}
	if w := g.sideAt(j); w != "" && vesselWords[g.wordAt(j+1)] {
		for to := j; to < len(g.toks) && (to == j || vesselWords[g.toks[to].text]); to++ {
			if n := g.at[to]; n >= 0 {
				g.signs[n].used = true
			}
		}
		return w, j
	}
	return g.sideOfAccess()
}

// sideAt is the side that token k says, right or left, or "".
func (g *segment) sideAt(k int) string {
	switch {
	case g.is(k, "right", "r"):
		return "right"
	case g.is(k, "left", "l"):
		return "left"
	}
	return ""
}

// depthAfter is how far in a cannula lies, told right after its size: "12 French, in at six
// centimetres", "8 at 3 cm", "ten French at seven".
func (g *segment) depthAfter(kind *schema.ItemKind, k int) amount {
	at := false
	for g.is(k, ",", "in", "at", "@", "and", "to", "depth", "of", "the", "right", "left") || vesselWords[g.wordAt(k)] {
		at = at || g.is(k, "at", "@", "to", "depth")
		k++
	}
	if !g.numberAt(k) {
		return amount{}
	}
	d, ok := g.amountAt(int(g.at[k]))
	if f := kind.Field("depth"); ok && f != nil && g.plainTalk(int(g.at[k])) && (at && d.units == nil || slices.Contains(d.units, "cm")) {
		if v, _, ok := fits(f, d); ok && v != "" {
			d.decimal = v
			return d
		}
	}
	return amount{}
}

// circuitSize is the size of the cannula that the word at token k names: after it, or
// before it where that size touches the word and the next one another word, or a comma
// stands between: "8 French arterial, 10 French venous".
func (g *segment) circuitSize(k int, size *schema.Field) (a amount, v string, ok bool) {
	j := k + 1
	for g.is(j, ":", ",", "cannula", "a", "an", "one", "is") {
		j++
	}
	at, before := []int{}, -1
	if n := g.prevSign(k); n >= 0 && k-g.signs[n].to <= 1 && (g.signs[n].num != nil || g.signs[n].has(isUnit) && n > 0 && g.signs[n-1].num != nil) {
		if before = n; g.signs[n].num == nil {
			before = n - 1
		}
	}
	touches := before >= 0 && !g.signs[before].used && !g.is(k-1, ",", ":")
	if g.numberAt(j) && j-k <= 4 {
		at = append(at, int(g.at[j]))
		next, _ := g.amountAt(at[0])
		if touches && (g.is(k+1, ",") || g.is(k+1, "cannula") && g.is(k+2, ",") || next.to < len(g.toks) && circuitWords[g.toks[next.to].text] != "") {
			at = []int{before, at[0]}
		}
	} else if before >= 0 {
		at = append(at, before)
	}
	for _, i := range at {
		if !g.plainTalk(i) {
			continue
		}
		a, _ = g.amountAt(i)
		if v, _, ok = fits(size, a); ok && v != "" && (a.units == nil || slices.Contains(a.units, "[Ch]")) && usual(size, g.lex.kind, v) {
			return a, v, true
		}
	}
	return a, "", false
}
