package dictation

import (
	"slices"

	"fairlead/schema"
)

// Where blood goes in and out is told as a list of vessels: "aorta and both cavae",
// "Ao/RA cann", "through a graft on the innominate with one pipe in the atrium". A
// vessel is read for a cannula where one of each sort stands in the list, or a word of
// cannulating beside it.

// site is a vessel, or more of one sort, that tokens from and up to name.
type site struct {
	from, to int
	artery   string
	veins    []string
	loose    bool // an atrium with no word of its own for a cannula
}

// pipes are the things that lie in a vessel, for a list that goes on over them.
var pipes = wordSet("cannula cannule cannulae cannulas canula canular pipe return drainage inflow outflow arterial venous line cann limb single one third high low direct directly a an the in from of for with and then plus also + / , : ( ) & via drained draining perfused upper through as right-sided provided each to")

// cannulas are the words for the tube that lies in a vessel.
var cannulas = wordSet("cannula cannulae cannulas canula canular pipe")

// onPumpWords tell that a list of vessels is of those that were cannulated.
var onPumpWords = []string{"bypass", "pump", "cpb", "cannula", "cannule", "cannulas", "cannulated", "cannulation", "cann", "pipe", "venous", "drained", "drainage", "inflow", "return", "perfused"}

// frenchAt is the token after a size in French that begins at token k, or 0.
func (g *segment) frenchAt(k int) int {
	if !g.numberAt(k) {
		return 0
	}
	if a, ok := g.amountAt(int(g.at[k])); ok && slices.Contains(a.units, "[Ch]") {
		return a.to
	}
	return 0
}

// siteAt is the vessel that is named at token k.
func (g *segment) siteAt(k int) (site, bool) {
	s := site{from: k, to: k + 1}
	side := ""
	if g.is(k, "right", "left") || g.is(k, "r", "l") && g.is(k+1, "fem", "femoral") {
		side = map[string]string{"r": "right", "l": "left", "right": "right", "left": "left"}[g.toks[k].text]
		k++
		s.to = k + 1
	}
	j := k
	atrial := func(from int) bool { // "the right atrium", "RA"
		for g.is(from, "the", "right") {
			from++
		}
		s.to = from + 1
		return g.is(from, "atrium", "ra")
	}
	switch {
	case g.is(j, "neo") && g.is(j+1, "aorta", "ao", "aortic"):
		s.artery, s.to = "neo-aorta", j+2
	case g.is(j, "ascending", "asc") && g.is(j+1, "aorta", "ao", "aortic"):
		s.artery, s.to = "ascending-aorta", j+2
	case g.is(j, "aorta", "ao", "aortic") && !g.is(j-1, "descending", "neo", "to", "the") || g.is(j, "aorta") && g.is(j-1, "the") && g.is(j-2, "cannulated", "in", "used", "with", "through", "via"):
		s.artery = "ascending-aorta"
	case g.is(j, "ascending") && (g.is(j-1, "arterial") || g.is(j-2, "arterial") && g.is(j-1, ",", ":")):
		s.artery = "ascending-aorta" // "arterial, ascending"
	case g.is(j, "common", "right") && g.is(j+1, "atrium") && g.is(j-1, "and", "+", ",", "&"), side == "right" && g.is(j, "atrium") && g.is(j-2, "and", "+", ",", "&"):
		s.veins, s.to = []string{"single-atrial"}, j+1
		if g.is(j+1, "atrium") {
			s.to++
		}
	case g.is(j, "duct", "ductus", "pda"):
		s.artery = "duct"
	case g.is(j, "mpa"):
		s.artery = "main-pulmonary-artery"
	case g.is(j, "main") && g.is(j+1, "pulmonary") && g.is(j+2, "artery"):
		s.artery, s.to = "main-pulmonary-artery", j+3
	case g.is(j, "innominate", "inn", "brachiocephalic") && !g.is(j+1, "vein"):
		s.artery = "innominate-direct"
		if g.is(j+1, "artery") {
			s.to++
		}
		if to := g.graftAround(s.from, s.to); to > 0 {
			s.artery, s.to = "innominate-graft", to
		}
	case g.is(j, "innominate") && g.is(j+1, "vein"):
		s.veins, s.to = []string{"innominate-vein"}, j+2
	case g.is(j, "femoral", "fem") && side != "" && g.is(j+1, "artery") && g.is(j+2, "and", ",", "+", "/") && g.is(j+3, "vein"):
		s.artery, s.veins, s.to = side+"-femoral", []string{side + "-groin"}, j+4
	case g.is(j, "femoral", "fem") && side != "" && g.is(j+1, "artery"):
		s.artery, s.to = side+"-femoral", j+2
	case g.is(j, "femoral", "fem") && side != "" && g.is(j+1, "vein", "v"):
		s.veins, s.to = []string{side + "-groin"}, j+2
	case g.is(j, "groin") && side != "" && g.mentions("artery", "fa", "femoral") && g.mentions("vein", "fv", "femoral"):
		s.artery, s.veins = side+"-femoral", []string{side + "-groin"}
	case g.is(j, "two", "both") && (g.is(j+1, "upper", "superior") && g.is(j+2, "cava", "cave", "caval", "vena") || g.is(j+1, "svc")):
		s.veins = []string{"superior-caval", "left-superior-caval"}
		for s.to = j + 2; g.is(s.to, "vena", "cava", "cave", "caval", "vein"); s.to++ {
		}
	case g.is(j, "superior") && g.is(j+1, "and") && g.is(j+2, "inferior") && g.is(j+3, "vena", "cava", "caval", "cave"):
		s.veins, s.to = []string{"bicaval"}, j+4
	case g.is(j, "by", "bi") && g.is(j+1, "caval"):
		s.veins, s.to = []string{"bicaval"}, j+2
	case g.is(j, "bicaval") || g.is(j, "two", "both", "each") && g.is(j+1, "cava", "cave", "caval"):
		s.veins = []string{"bicaval"}
		if !g.is(j, "bicaval") {
			s.to = j + 2
		}
	case g.is(j, "two", "both") && g.is(j+1, "the") && g.is(j+2, "cava", "cave"):
		s.veins, s.to = []string{"bicaval"}, j+3
	case g.is(j, "cava", "cave") && g.is(j-1, "two", "both") && g.is(j-2, "the"):
		s.veins = []string{"bicaval"}
	case g.is(j, "svc", "rsvc", "lsvc"), g.is(j, "superior", "upper") && g.is(j+1, "vena", "cava", "caval", "cave"):
		s.veins = []string{"superior-caval"}
		if side == "left" || g.is(j, "lsvc") {
			s.veins = []string{"left-superior-caval"}
		}
		for g.is(s.to, "vena", "cava", "caval", "vein") {
			s.to++
		}
	case g.is(j, "ivc"), g.is(j, "inferior", "lower") && g.is(j+1, "vena", "cava", "caval", "cave"):
		s.veins = []string{"inferior-caval"}
		for g.is(s.to, "vena", "cava", "caval", "vein") {
			s.to++
		}
	case g.is(j, "single", "one", "a") && (g.is(j+1, "atrial") || g.is(j+1, "right") && g.is(j+2, "atrial")):
		for s.to = j + 1; g.is(s.to, "right", "atrial"); s.to++ {
		}
		if !g.is(s.to, "cannula", "cannule", "pipe", "canular") && g.is(j, "a") || g.is(s.to, "line", "wire", "lead", "pressure", "drain") {
			return s, false
		}
		s.veins = []string{"single-atrial"}
	case g.is(j, "single", "one", "a", "just") && g.is(j+1, "cannula", "cannule", "pipe", "canular") && g.is(j+2, "in") && atrial(j+3):
		s.veins = []string{"single-atrial"}
	case g.is(j, "atrial") && cannulas[g.wordAt(j+1)], g.is(j, "ra") && !g.is(j+1, "line", "pressure", "wire", "lead") && (!g.numberAt(j+1) || g.frenchAt(j+1) > 0), g.is(j, "single") && g.is(j+1, "ra"):
		s.veins, s.to = []string{"single-atrial"}, j+1
		if g.is(j, "single", "atrial") {
			s.to++
		}
	case g.is(j, "atrial", "ra") && g.is(j+1, "appendage") && side != "left" && !g.is(j-1, "left"):
		s.veins, s.to = []string{"single-atrial"}, j+2
	case g.is(j, "atrium") && side == "" && !g.is(j-1, "left"):
		s.veins, s.loose = []string{"single-atrial"}, true
	default:
		return s, false
	}
	return s, true
}

// graftAround tells whether a tube on the vessel at tokens from to is told beside it: the
// token after what is told of the vessel, or 0.
func (g *segment) graftAround(from, to int) int {
	if g.is(to, "direct", "directly", "straight") || g.is(from-1, "direct", "directly") {
		return 0
	}
	for k := from - 1; k >= 0 && from-k < 9 && g.toks[k].kind != stop; k-- {
		if g.is(k, "graft", "tube", "chimney", "gore", "goretex", "gt", "ptfe") {
			if g.is(k-1, "no") {
				return 0
			}
			return to
		}
	}
	for k := to; k < len(g.toks) && k-to < 5 && g.toks[k].kind != stop; k++ {
		if g.is(k, "graft", "tube", "chimney") || g.is(k, "side") && g.is(k+1, "arm") {
			if g.is(k-1, "no") || g.is(k-2, "no") {
				return 0
			}
			return k + 1
		}
	}
	return 0
}

// readCannulated reads the lists of vessels that were cannulated.
func (g *segment) readCannulated() {
	in, out := fieldAt(schema.SupportArterialCannulation), fieldAt(schema.SupportVenousCannulation)
	if !g.inNote(in) || g.lex.kind == schema.SupportOn || g.lex.kind == schema.SupportOff { // there they are things in the child
		return
	}
	instead := -1 // the last token before the vessels said in the place of others
	for k := 0; k < len(g.toks); k++ {
		var list []site
		for j := k; j < len(g.toks); {
			s, ok := g.siteAt(j)
			if !ok || !g.cannulable(s) && s.from != instead {
				break
			}
			list = append(list, s)
			j = s.to
			for j < len(g.toks) && j < s.to+6 && (pipes[g.toks[j].text] || g.toks[j].kind == stop && g.toks[j].text == "," || g.frenchAt(j) > 0) {
				if _, ok := g.siteAt(j); ok {
					break
				}
				j = max(j+1, g.frenchAt(j))
			}
			k = s.to - 1
		}
		if len(list) == 0 {
			continue
		}
		first, last := list[0], list[len(list)-1]
		artery := slices.ContainsFunc(list, func(s site) bool { return s.artery != "" })
		vein := slices.ContainsFunc(list, func(s site) bool { return s.veins != nil })
		caval := len(list) > 1 && first.from == 0 && (last.to >= len(g.toks) || g.toks[last.to].kind == stop) && slices.Contains(first.veins, "superior-caval") // "SVC and common atrium."
		if slices.ContainsFunc(list, func(s site) bool { return s.loose }) && !(artery && len(list) > 1 && (g.mentions(onPumpWords...) || g.wholeSegment(first.from, last.to))) {
			continue
		}
		if !(artery && vein && len(list) > 1) && !caval && first.from != instead && !g.cannulating(first.from, last.to) && !(first.artery == "innominate-graft" && g.perfusedThrough()) {
			continue
		}
		other := g.otherVessel(last)
		instead = max(instead, other)
		has := func(v string) bool {
			return slices.ContainsFunc(list, func(s site) bool { return slices.Contains(s.veins, v) })
		}
		both := has("superior-caval") && has("inferior-caval") && !has("right-groin") && !has("left-groin")
		for _, s := range list {
			gone := other >= 0 && g.namesSort(other, s.veins != nil)
			if s.artery != "" && !gone {
				g.claimField(in, s.artery, s.from, s.to, first.from, last.to)
			}
			for _, v := range s.veins {
				if gone || both && v == "inferior-caval" {
					continue
				}
				if both && v == "superior-caval" {
					v = "bicaval"
				}
				g.claimField(out, v, s.from, s.to, first.from, last.to)
			}
			for j := s.from; j < s.to && !g.is(s.to-1, "groin") && s.artery != "innominate-graft"; j++ { // of a groin and of a graft more is told
				if n := g.at[j]; n >= 0 {
					g.signs[n].used = true
				}
			}
		}
	}
}

// wholeSegment tells whether tokens from up to to are all that a segment says.
func (g *segment) wholeSegment(from, to int) bool {
	return from == 0 && (to >= len(g.toks) || g.toks[to].kind == stop && !g.is(to, ","))
}

// otherVessel is the token of a vessel that is said in the place of a list that ends with
// s: "SVC and RA, sorry, bicaval"; or -1.
func (g *segment) otherVessel(s site) int {
	cue := false
	for k := s.to; k < len(g.toks) && k < s.to+6; k++ {
		if _, ok := g.siteAt(k); ok {
			if cue {
				return k
			}
			return -1
		}
		if n := g.at[k]; n >= 0 && g.signs[n].from == k {
			cue = cue || g.signs[n].is(corrects) || g.signs[n].is(scratches) || g.interjected(&g.signs[n])
		}
	}
	return -1
}

// namesSort tells whether a vein, or an artery, is among the vessels from token k on.
func (g *segment) namesSort(k int, vein bool) bool {
	for j := k; j < len(g.toks) && j < k+7 && g.toks[j].kind != stop; j++ {
		if s, ok := g.siteAt(j); ok && (s.veins != nil) == vein {
			return true
		}
	}
	return false
}

// cannulable tells whether what is said of a vessel is said of here and now, and of no
// line, wire or work on it.
func (g *segment) cannulable(s site) bool {
	for j := s.from; j < s.to; j++ {
		if n := g.at[j]; n >= 0 && !g.plainTalk(int(n)) {
			return false
		}
	}
	if g.is(s.to, "exposed") && g.is(s.to+1, "and", "+") && g.is(s.to+2, "cannulated") {
		return true
	}
	return !g.is(s.to, "line", "wire", "lead", "pressure", "tissue", "wall", "exposed", "blocked", "open", "patent", "tied", "divided", "ligated", "clipped", "to", "cut", "transected", "came", "stump") && (!g.is(s.from-1, "no", "not", "to", "onto", "between", "from", "off") || g.is(s.from-2, "drained", "draining"))
}

// cannulating tells whether a word of cannulating stands right beside the tokens from
// from up to to, and none that takes it back.
func (g *segment) cannulating(from, to int) bool {
	for k := from; k < to; k++ {
		if g.is(k, "cannula", "cannule", "canular", "pipe") {
			return true
		}
	}
	for k := from - 1; k >= 0 && from-k <= 5; k-- {
		switch {
		case g.toks[k].kind == stop && !g.is(k, ":", ","), g.is(k, "not", "never", "no", "without", "exposed", "ready"):
			return false
		case g.is(k, "inflow", "perfused") && !g.is(k+1, "the") && !g.is(k+1, "occlusion"), g.is(k, "cannulated", "cannulate", "cann", "cannulation", "cannula", "cannule", "canular", "pipe") && !g.is(k+1, "site"), g.is(k, "ven", "venous", "arterial", "art") && g.is(k+1, ":", ",") && k+2 == from && !g.is(k-1, "central"):
			return true
		}
	}
	for k := to; k < len(g.toks) && k-to <= 3; k++ {
		switch {
		case g.toks[k].kind == stop && !g.is(k, ","), g.is(k, "not", "never", "no", "without", "exposed", "site") && !g.is(k+2, "cannulated"):
			return false
		case g.is(k, "cannulated", "cann", "cannulation") && !g.is(k+1, "site"), g.is(k, "cannula", "cannule", "pipe") && k == to:
			return true
		}
	}
	return false
}

// perfusedThrough tells whether the tube on a vessel is told as the way in for blood.
func (g *segment) perfusedThrough() bool {
	for k := range g.toks {
		switch {
		case g.is(k, "inflow", "perfused") && !g.is(k+1, "the") && !g.is(k+2, "brain", "head"), g.is(k, "arterial") && g.is(k+1, "return", "side", "limb", "cannula"),
			g.is(k, "through", "via", "by") && g.is(k+1, "that", "it", "this", "which"), g.is(k, "went") && g.is(k+1, "on"), g.is(k, "on") && g.is(k+1, "bypass", "pump", "cpb"):
			return true
		}
	}
	return false
}
