package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// planSections hold what is intended: they may be read from a statement of
// intention, and from nothing else's.
var planSections = map[string]bool{"plan": true, "care": true, "anticoagulation": true}

// pastSections hold what was before this operation.
var pastSections = map[string]bool{"before": true, "catheter": true, "child": true, "anatomy": true, "veins": true}

// allowed tells whether a statement so meant may fill the field.
func allowed(f *schema.Field, sc scope) bool {
	switch {
	case sc&(calling|aiming|weighed|hearsay) != 0:
		return false
	case sc&formerly != 0:
		return f.Path == schema.Stage2OldSupply || f.Path == schema.ApproachIncision || f.Path == schema.BetweenShuntDone || pastSections[f.Section]
	case sc&intended != 0:
		return planSections[f.Section] || f.Path == schema.VentilationNitricNoInterruption || f.Path == schema.CountsCountXray
	case sc&past != 0:
		return f.Path == schema.ClottingHeparin || f.Path == schema.ClottingHeparinOther || openingProves[f.Path] || pastSections[f.Section] || f.Path == schema.BetweenCprMinutes || f.Section == "arrival" || f.Section == "measures" && sc&coming != 0
	}
	return true
}

// openingProves are what the moment tells in which the shunt was opened, or the clamp
// came off.
var openingProves = map[schema.Path]bool{schema.SupplyDiastolicFall: true, schema.SupplyProof: true, schema.SupplyProbeFlow: true, schema.SupplyOpened: true, schema.Stage1CoronaryFlow: true}

// weakNames are names of fields too common to count unless they touch the value.
var weakNames = wordSet("pump leg arm rate flow size depth dose volume pressure side mode state use level mean in at by for to from on off with plus minus over after before between now then reading trial vessel route method kind type length diameter support heart chest skin balance oxygen base output")

// option is one value that a sign may mean.
type option struct {
	sense sense
	score float64
	name  int // the sign that names its field, or -1
}

// readValues gives each value of a list that is left to its field.
func (g *segment) readValues() {
	g.readValuesOf(func(i int) bool { return !g.namesNext(i) })
	g.readValuesOf(func(int) bool { return true })
}

// namesNext tells whether the sign is the name of the value that follows it:
// "the coarctation was excised".
func (g *segment) namesNext(i int) bool {
	s := &g.signs[i]
	for j := i + 1; j < len(g.signs) && j <= i+2; j++ {
		p := &g.signs[j]
		if p.from-s.to > 3 || p.used || g.crosses(s.to, p.from) {
			return false
		}
		for _, x := range s.senses {
			if x.kind != namesField || len(x.field.Enum) == 0 {
				continue
			}
			for _, y := range p.senses {
				if y.kind == isValue && y.field == x.field {
					return true
				}
			}
		}
	}
	return false
}

func (g *segment) readValuesOf(take func(int) bool) {
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || !take(i) || g.is(s.from, "pericardium") && g.is(s.to, ":") { // what is told of it follows
			continue
		}
		var best, second, whole option
		for _, x := range s.senses {
			if x.kind != isValue || x.field.Path.List() != "" || x.field.Section == "implant" || s.scope&coming != 0 && !allowed(x.field, s.scope) || x.value == noneFrame && g.deniesAnother(i, x.field) {
				continue
			}
			o := option{sense: x, name: -1}
			o.score, o.name = g.weigh(i, x)
			if !x.inner && o.score > whole.score {
				whole = o
			}
			if o.score > best.score {
				best, second = o, best
			} else if o.score > second.score {
				second = o
			}
		}
		if best.sense.inner && whole.score >= 2.5 {
			best, second = whole, option{} // the phrase as a whole says what it is
		}
		if best.score < 2 {
			continue
		}
		if best.score-second.score < 0.2 && second.sense.field != nil && best.sense.inner != second.sense.inner {
			if best.sense.inner { // the whole phrase says more than its part
				best, second = second, best
			}
			second = option{}
		}
		if best.score-second.score < 0.2 && second.sense.field != nil && second.sense.field != best.sense.field {
			if !g.twins(best.sense.field, second.sense.field) {
				continue
			}
			for _, x := range s.senses { // all that the phrase says at once
				if x.kind == isValue && x.field != best.sense.field && x.field.Path.List() == "" && g.twins(x.field, best.sense.field) && (x.field == second.sense.field || arrestWords[x.field.Path] && g.inNote(x.field)) {
					g.claimValue(i, option{sense: x, name: -1})
					s.used = false
				}
			}
		}
		g.claimValue(i, best)
		for _, x := range s.senses { // "Norwood Sano" says two things
			if x.inner && x.field != best.sense.field && !g.meansAlso(x.node, best.sense.field) && x.field.Path.List() == "" && !g.lex.generic[x.field] && g.lex.alone[x.node] && x.field.Section != "before" && !needsName[x.field.Path] && g.lone(s, x) && !(x.field.Path == schema.ClosingSternalMaterial && g.mentions("skin")) {
				g.claimValue(i, option{sense: x, name: -1})
				break
			}
		}
	}
}

// deniesAnother tells whether the "none" at sign i denies what stands right before it, and
// that is another thing than f: "leak moderate, effusion none".
func (g *segment) deniesAnother(i int, f *schema.Field) bool {
	s := &g.signs[i]
	if i == 0 || !s.is(deniesBefore) || g.signs[i-1].to != s.from || g.signs[i-1].scope&denied == 0 {
		return false
	}
	other := false
	for _, x := range g.signs[i-1].senses {
		if x.field == f {
			return false
		}
		other = other || x.kind == namesField
	}
	return other
}

// meansAlso tells whether a phrase can be a value of field f.
func (g *segment) meansAlso(node int32, f *schema.Field) bool {
	return slices.ContainsFunc(g.lex.senses[node], func(y sense) bool { return y.kind == isValue && y.field == f })
}

// lone tells whether, of the values that the last words of a phrase may mean,
// only x needs no name.
func (g *segment) lone(s *sign, x sense) bool {
	for _, y := range s.senses {
		if y.inner && y.kind == isValue && y.field != x.field && y.field.Path.List() == "" && !g.lex.generic[y.field] {
			return false
		}
	}
	return true
}

// claimValue claims the value of an option, or what its denial means.
func (g *segment) claimValue(i int, o option) {
	s := &g.signs[i]
	f := o.sense.field
	sc := s.scope
	if o.name >= 0 && o.name != i {
		n := &g.signs[o.name]
		if g.clause[n.from] == g.clause[s.from] {
			sc |= n.scope & unreal
		}
		if g.clause[n.from] == g.clause[s.from] && !slices.ContainsFunc(n.senses, func(x sense) bool { return x.kind == isValue && x.field == f }) {
			sc |= n.scope & denied
		}
	}
	if !allowed(f, sc) {
		return
	}
	if o.name >= 0 && o.name != i { // "the left was not seen, the right was seen"
		if q := g.lex.partner[f]; q != nil {
			for j := o.name + 1; j < i; j++ {
				if w := g.sideOf(&g.signs[j]); (w == "right" || w == "left") && !g.signs[j].content2() && strings.Contains(strings.ToLower(q.Name), w) {
					f = q
				}
			}
		}
	}
	value, stated := o.sense.value, ""
	if value == "innominate-direct" && g.graft {
		value = "innominate-graft"
	}
	if f.Path == schema.SupportMode && value == "bypass" && g.is(s.from-1, "off") {
		if sc&denied != 0 || i > 0 && g.signs[i-1].is(arrives) {
			return
		}
		value = "off-pump"
	}
	if sc&denied != 0 {
		if value = deniedValue(f, value); f.Path == schema.SupportMode && o.sense.value == "bypass" {
			value = "off-pump"
		}
		if f.Path == schema.SupportMode && o.sense.value == "off-pump" {
			return
		}
		if value == "" {
			// "no fenestration" denies the field when the value is its name
			if o.name == i || g.namesItself(s, f) || f.None != "" && !absence[f.None] && g.partNames(s, f) {
				if f.None != "" {
					stated = schema.StatedNone
				} else if slices.Contains(f.Enum, "none") {
					value = "none"
				}
			}
			if stated == "" && value == "" {
				return
			}
		}
	}
	why, whyTo := s.from, s.to
	if o.name >= 0 && o.name != i {
		why, whyTo = min(why, g.signs[o.name].from), max(whyTo, g.signs[o.name].to)
	}
	if f.Type == "string" && f.Path != schema.SupportMode && s.from > 0 && g.is(s.from-1, "and", "+", "/", ",") {
		for k := range g.claims { // "divided and oversewn": one of them stands
			if c := &g.claims[k]; c.field == f && c.to == s.from-1 && c.group < 0 {
				c.sure, c.note, c.whyTo = Check, "more was said than one choice holds", s.to
				s.used = true
				return
			}
		}
	}
	c := g.claimField(f, value, s.from, s.to, why, whyTo)
	c.stated = stated
	s.used = true
	if o.name >= 0 && o.name != i {
		n := &g.signs[o.name]
		if !g.alsoValueOf(n, f) && f.SpokenAs == "" {
			n.used = true
		}
		g.claimJoined(i, o, c)
	}
}

// absence are the words of answers that say a thing was not there: that a deed was
// not done to it, "we did not tie the azygos", is no such answer.
var absence = map[string]bool{"Absent": true, "There was none": true, "Not found": true, "None found": true, "None seen": true, "No shunt": true, "No conduit": true, "No graft": true}

// alsoValueOf tells whether a name is also a value of a field that goes with f:
// the Sano that called for a material is still a Sano.
func (g *segment) alsoValueOf(n *sign, f *schema.Field) bool {
	for _, x := range n.senses {
		if x.kind == isValue && len(f.When) > 0 && x.field.Path == f.When[0].Field || x.kind == namesField && x.field.Unit == "mm" && x.field.Section == f.Section {
			return true
		}
	}
	return false
}

// claimJoined gives the same value to fields named in one breath: "swab and
// needle counts correct".
func (g *segment) claimJoined(i int, o option, c *claim) {
	s := &g.signs[i]
	value, stated, why, whyTo := c.value, c.stated, c.why, c.whyTo
	edge := g.signs[o.name].from
	for j := o.name - 1; j >= 0 && j >= o.name-4; j-- {
		p := &g.signs[j]
		if p.used || !g.joined(p.to, edge) {
			return
		}
		done := false
		for _, y := range p.senses {
			if y.kind != namesField || y.field.Section != o.sense.field.Section || y.field == o.sense.field || !slices.Contains(y.field.Enum, value) || done {
				continue
			}
			d := g.claimField(y.field, value, s.from, s.to, min(p.from, why), whyTo)
			d.stated = stated
			p.used, done = true, true
		}
		if !done {
			return
		}
		edge = p.from
	}
}

// namesItself tells whether a sign is also a name of field f, or the field is a
// list whose values are things done.
func (g *segment) namesItself(s *sign, f *schema.Field) bool {
	for _, x := range s.senses {
		if x.kind == namesField && x.field == f {
			return true
		}
	}
	return false
}

// weigh is how strongly sign i speaks for a value: by its field's name nearby,
// or by its own wording.
func (g *segment) weigh(i int, x sense) (float64, int) {
	s := &g.signs[i]
	f := x.field
	score := 0.0
	if !g.lex.generic[f] && (!needsName[f.Path] || g.within(s, "takedown", "take", "taken", "down") || f.Path == schema.AnatomyArchForm && g.within(s, "arch") || f.Path == schema.AnatomyDominantVentricle && g.within(s, "dominant", "dominance", "systemic")) && x.value != "left-open" && g.sideOf(s) == "" && g.onlyField(s, f) && !x.inner && (g.lex.alone[s.node] && !siteLike[f.Name] || g.lex.long[s.node] && !siteLike[f.Name] && !g.doubtful(s, f)) {
		score = 3
	}
	if score < 3 && !x.inner && g.lex.long[s.node] && g.partNames(s, f) {
		score = 3 // "mild tricuspid regurgitation": the phrase names its field
	}
	if f.SpokenAs != "" && f.Section == "before" && s.scope&coming != 0 && (s.to-s.from > 1 || !everydayWords()[g.toks[s.from].text]) {
		score = max(score, 3)
	}
	if f.Path == schema.LeavingRhythmBeneath && g.beneath(s) {
		score = 3.6
	}
	if f.Path == schema.LeavingRhythmBeneath && g.lex.long[s.node] && g.within(s, "underneath", "underlying", "beneath", "escape") {
		score = 3.5
	}
	if (f.Path == schema.SupportArterialCannulation || f.Path == schema.SupportVenousCannulation) && !x.inner && !s.item && g.is(0, "cannula", "cannule", "cannulation", "cannulated") && g.is(1, ":", ",") && g.lex.kind != schema.SupportOn && x.value != "single-atrial" {
		score = max(score, 3)
	}
	if f.Path == schema.SupplyNeoAortaSide && !x.inner && g.within(s, "aorta", "neo") && s.to-s.from > 2 {
		score = max(score, 3)
	}
	if f.Path == schema.OperationPlace && !x.inner && g.is(s.from-1, "the") && g.is(s.from-2, "at") && g.within(s, "bedside") && s.scope&(unreal|denied) == 0 {
		score = max(score, 3)
	}
	if f.Path == schema.EchoMethod && !x.inner && s.to-s.from == 1 {
		sp := g.toks[s.from].span
		if w := g.text[sp.Start:sp.End]; w == strings.ToUpper(w) || g.is(s.to, "showed", "show", "confirmed", "confirm", "post", "good", "mild", "trivial", "fine") {
			score = max(score, 3) // "TOE mild leak"
		}
	}
	if f.Path == schema.VentilationBreathing && x.value == "high-flow" && !x.inner && s.scope&(past|intended) == 0 {
		score = max(score, 3)
	}
	if g.calledFor(f) && f.Type == "string" && (i > 0 && g.signs[i-1].to == s.from && (g.signs[i-1].has(isUnit) || g.signs[i-1].num != nil) || i+1 < len(g.signs) && g.signs[i+1].num != nil && g.signs[i+1].from == s.to) {
		score = max(score, 2.5)
	}
	if score < 2.5 && f.Path == schema.SupplyMaterial && !s.item {
		for c := range g.claims { // "the shunt is a four, no, three and a half, Gore-Tex"
			if x := &g.claims[c]; !x.gone && (x.field.Path == schema.SupplyShuntDiameter || x.field.Path == schema.SupplyConduitDiameter) && s.from >= x.to && s.from-x.to <= 4 && !g.crossesStop(x.to, s.from) {
				score = 2.6
			}
		}
	}
	if score < 2.5 && f.Type == "string" && (g.ctx.topic == f.Section || g.related(f)) && g.calledFor(f) && g.bySelf(s) {
		score = 2.5 // "Sano. Five. Ringed Gore-Tex."
	}
	if (f.Name == "arterialCannulation" || f.Name == "venousCannulation") && g.lex.kind != schema.SupportOn && g.lex.kind != schema.SupportOff && (g.lex.long[s.node] || g.lex.alone[s.node]) && (g.mentions("cannulated", "cannulation", "cannula", "cannule", "cannulate", "cannulating", "bicaval") || g.is(s.from, "graft") || g.is(s.to-1, "graft")) && !s.item && !x.inner && !g.listsCannula() {
		score = max(score, 2.6)
	}
	if f.Section == "before" && score > 0 && (s.scope&(past|formerly) == 0 || f.SpokenAs != "" && s.scope&coming == 0) {
		score = 0
	}
	if f.Path == schema.OperationUrgency && (i+1 < len(g.signs) && g.signs[i+1].from == s.to && g.signs[i+1].has(isValue) || g.is(s.to, "case", "operation", "procedure", "surgery", "stage", "norwood", "glenn", "fontan", "re", "reexploration", "shunt")) {
		score = max(score, 2.6)
	}
	if p := g.preposed(i, f); p > 0 {
		score = max(score, p)
	}
	if p := g.siteOf(i, f); p > 0 {
		score = max(score, p)
	}
	name := -1
	for j := max(0, i-6); j < len(g.signs) && j <= i+4; j++ {
		p := &g.signs[j]
		if p.item && j != i {
			continue
		}
		named, called := false, false
		for _, y := range p.senses {
			if y.kind == namesField && y.field == f {
				named = true
			}
			// "a Gore-Tex Sano": the value that calls for the field names it
			if y.kind == isValue && j != i && len(f.When) > 0 && f.When[0].Field == y.field.Path && slices.Contains(f.When[0].In, any(y.value)) && f.Type == "string" {
				called = true
			}
			// "LPA enlarged, bovine pericardium": so does what was patched
			if y.kind == isValue && j < i && patchedBy[f.Path] == y.field.Path && !y.inner && p.scope&(unreal|denied) == 0 && widened(g.toks[p.from:p.to]) {
				called = true
			}
			// "an 18 mm Gore-Tex conduit": so does the name of its size
			if y.kind == namesField && y.field.Unit == "mm" && y.field.Section == f.Section && sameWhen(y.field, f) {
				called = true
			}
		}
		if called && !named {
			if gap, ok := g.between(p, s); ok && gap <= 8 {
				if pts := 3.4 - 0.3*float64(gap); pts > score {
					score, name = pts, j
				}
			}
			continue
		}
		if !named {
			continue
		}
		if j > i && score >= 3 && p.scope&unreal != 0 && s.scope&unreal == 0 {
			continue // "a hemi-Fontan rather than a Glenn": the one done needs no name
		}
		if j == i {
			if s.to-s.from > 1 || g.lex.alone[s.node] {
				score += 0.5
				if name < 0 {
					name = i
				}
			}
			if x.inner && x.node != 0 && score < 3 && !g.lex.generic[f] {
				score = 3 // "in sinus": the name holds the value
			}
			continue
		}
		gap, ok := g.between(p, s)
		if g.sideOf(s) != "" && (gap > 1 || g.signBetween(j, i)) {
			continue
		}
		if !ok || p.to-p.from == 1 && weakNames[g.toks[p.from].text] && gap > 1 {
			continue
		}
		pts := 4.5 - 0.3*float64(gap)
		if p.from > s.from {
			pts -= 0.6
		}
		if pts > 0 && 1+pts > score {
			score, name = max(score, 0)+pts, j
			if score > 6 {
				score = 6
			}
		}
	}
	if score > 0 {
		score -= g.unfit(f)
		if g.related(f) {
			score += 0.3
		}
		if x.inner && (name < 0 || name == i) {
			score -= 0.5
		}
		if f.Section == "before" && (s.scope&(past|formerly) == 0 || f.SpokenAs != "" && s.scope&coming == 0) && (name < 0 || name == i || !g.within(&g.signs[name], "before", "preoperative", "preop", "previous", "prostaglandin", "preoperatively")) {
			score = 0
		}
		if f.Path == schema.Stage3FenestrationMade && x.value == "graft" && g.mentions("extracardiac", "conduit", "tube", "tunnel") {
			score = 0 // the conduit itself
		}
		if f.Path == schema.SupplyMaterial && g.patchBefore(s) {
			score = 0 // of a patch to something else
		}
		if k := g.closureNamed(s); k == "skin" && f.Path == schema.ClosingSternalMaterial {
			score = 0
		} else if k == "skin" && f.Path == schema.ClosingSkin {
			score = max(score, 3)
		}
		if f.Path == schema.BeforeInotropes && x.value == "heparin" {
			score = 0 // given before the clamp, not what he came on
		}
		if f.Path == schema.ClosingTolerated && x.value == "no" && !g.within(s, "tolerated", "tolerate") {
			score = 0 // that it was reopened once does not say how it ended
		}
		if f.Path == schema.OperationPlace && g.notWhereDone(x.value, s.from, s.to) {
			score = 0 // where the child went, or where something else befell
		}
		if f.Path == schema.BetweenShuntDone && x.value == "converted" && g.mentions("ecmo", "support") {
			score = 0 // to support
		}
		if f.Path == schema.EchoAvValveLeak && g.is(s.from-1, "for") {
			score = 0 // what it was repaired for
		}
		switch { // one ambiguous word is not enough
		case f.Path == schema.PerfusionCardioplegia && !g.mentions("cardioplegia", "plegia") && x.value == "blood",
			f.Path == schema.VentilationNitricInterface && !g.mentions("nitric", "ino"),
			f.Path == schema.EchoBranchFlow && !g.mentions("flow", "echo", "branch", "lung"),
			f.Path == schema.EchoSupplyFlow && !g.mentions("flow", "echo", "patent", "laminar", "turbulent"),
			f.Path == schema.ClosingSternalMaterial && x.value == "steel-wire" && s.has(isHead) && g.mentions("pacing", "atrial", "ventricular", "v") && !g.within(s, "steel", "sternal") && !g.closedBefore(s),
			f.Path == schema.LeavingPacing && x.value == "dual" && !g.mentions("paced", "pacing", "pace", "ddd", "box"),
			f.Path == schema.ApproachImagingMethod && (x.value == "echo" || x.value == "mr") && !g.mentions("bone", "sternum", "nearest", "closest", "behind", "saw", "entry", "reentry"),
			f.Path == schema.AnatomyDiagnosis && x.value == "hlhs" && g.is(s.to, "lung", "ventricle", "atrium", "pulmonary"):
			score = 0
		}
		if f.Path == schema.VentilationBreathing && x.value == "high-flow" && g.mentions("nitric", "ino") {
			score = 0
		}
		if f.Path == schema.BetweenTakenDown && !g.within(s, "takedown", "take", "taken", "down") && (name < 0 || g.signs[name].from > s.from && g.signs[name].from-s.to > 0 || g.signs[name].from < s.from && (s.from-g.signs[name].to > 2 || g.crosses(g.signs[name].to, s.from))) {
			score = 0
		}
	} else if f.Section == "mechanical" && g.related(f) && g.onlyField(s, f) && !x.inner {
		score = 2.2
	}
	return score, name
}

// beneath tells whether a rhythm is said to lie beneath the pacing: "underneath he is
// junctional", "his own rhythm underneath is a slow junctional", "heart block
// underneath", "paced at one forty over a junctional one ten".
func (g *segment) beneath(s *sign) bool {
	k := s.from - 1
	for g.is(k, "she", "he", "has", "is", "in", "there", "was", "it", "a", "an", "own", "his", "her", ":", ",", "that", "the", "slow", "just", "only", "rhythm", "escape", "see") {
		k--
	}
	if g.is(k, "below") && (k == 0 || g.toks[k-1].kind == stop) && g.mentions("sinus", "junctional", "nodal", "block") {
		return true // "Below it is sinus at eighty"
	}
	if g.is(k, "underneath", "beneath") && (!g.is(k+1, ",") || k == 0 || g.is(k-1, ";", ".", ",", "and")) {
		return true
	}
	if g.is(k, "under") && g.is(k+1, "it", "that", "this") || g.is(s.to, "under") && g.is(s.to+1, "it", "that", "this") {
		return true // "because under it is junctional"
	}
	if g.is(k, "over") && g.mentions("paced", "pacing", "aai", "ddd", "vvi", "aoo", "doo", "voo") {
		return true
	}
	return g.is(s.to, "underneath", "beneath", "underlying") || g.is(s.from-1, "underlying", "intrinsic", "native") || g.is(s.from-2, "underlying", "intrinsic", "own") && g.is(s.from-1, "is", "rhythm", ":")
}

// unpaced tells whether the segment says that the child is not paced, and speaks of a
// rhythm as the child's own.
func (g *segment) unpaced() bool {
	if !g.mentions("own", "underlying", "native", "intrinsic") {
		return false
	}
	for k := range g.toks {
		switch {
		case g.is(k, "standby", "backup") && g.mentions("box", "pacing", "pacer", "generator", "pacemaker"),
			g.is(k, "box", "pacing", "pacer", "generator", "pacemaker") && (g.is(k+1, "off") || g.is(k+1, "is", "was") && g.is(k+2, "off", "not")),
			g.is(k, "not") && (g.is(k+1, "paced", "pacing") || g.is(k+1, "being") && g.is(k+2, "paced")):
			return true
		}
	}
	return false
}

// ownRhythm makes the rhythm of a child that is not paced the rhythm itself: nothing
// covers it.
func (g *segment) ownRhythm() {
	if !g.unpaced() || g.answered(fieldAt(schema.LeavingRhythm)) {
		return
	}
	for i := range g.claims {
		if g.claims[i].field.Path == schema.LeavingRhythmBeneath {
			g.claims[i].field = fieldAt(schema.LeavingRhythm)
		}
	}
}

// reopensAgain claims that the chest was opened again where the sternotomy is counted,
// and no other way in is said.
func (g *segment) reopensAgain() {
	incision := fieldAt(schema.ApproachIncision)
	if !g.inNote(incision) || g.answered(incision) || g.mentions("thoracotomy", "clamshell") {
		return
	}
	for i := range g.claims {
		if c := &g.claims[i]; c.field.Path == schema.ApproachSternotomyNumber && !c.gone && c.stated == "" && c.value != "1" {
			g.claimField(incision, "reopened-sternotomy", c.from, c.to, c.why, c.whyTo)
			return
		}
	}
}

// needsName are fields whose values say what was met as often as what was done.
var needsName = map[schema.Path]bool{schema.BetweenTakenDown: true, schema.AnatomyArchForm: true, schema.MechanicalAnticoagulant: true, schema.AnticoagulationPlan: true, schema.AnatomyDominantVentricle: true, schema.AnatomyVentricularOutlet: true, schema.AnatomyAtrioventricularValve: true}

// partNames tells whether part of a phrase is a name of the field.
func (g *segment) partNames(s *sign, f *schema.Field) bool {
	for k := s.from; k < s.to; k++ {
		for e := k + 1; e <= s.to; e++ {
			n, to := g.lex.match(g.toks[:e], k)
			if n == 0 || to != e || e-k == 1 && (weakNames[g.toks[k].text] || g.sideOf(&sign{senses: g.lex.senses[n]}) != "") {
				continue
			}
			for _, y := range g.lex.senses[n] {
				if y.kind == namesField && y.field == f {
					return true
				}
			}
		}
	}
	return false
}

// doubtful tells whether the last words of a phrase are also a value of another
// field, and the phrase does not name its own: "closed primarily".
func (g *segment) doubtful(s *sign, f *schema.Field) bool {
	for _, x := range s.senses {
		if x.inner && x.node != 0 && x.field != f && x.field.Path.List() == "" && !g.lex.generic[x.field] && !g.lex.alone[x.node] {
			for k := s.from; k < s.to; k++ {
				for e := k + 1; e <= s.to; e++ {
					n, _ := g.lex.match(g.toks[:e], k)
					for _, y := range g.lex.senses[n] {
						if y.kind == namesField && y.field == f {
							return false
						}
					}
				}
			}
			return true
		}
	}
	return false
}

// signBetween tells whether something of its own stands between two signs.
func (g *segment) signBetween(a, b int) bool {
	for k := min(a, b) + 1; k < max(a, b); k++ {
		if g.signs[k].content() {
			return true
		}
	}
	return false
}

// between counts the words between two signs; ok is false where a stop, a
// number or another statement's name stands between them.
func (g *segment) between(a, b *sign) (int, bool) {
	if a.from > b.from {
		a, b = b, a
	}
	gap := 0
	for k := a.to; k < b.from; k++ {
		t := &g.toks[k]
		if t.kind == stop {
			return 0, false
		}
		gap++
		switch {
		case t.text == ",":
			gap++
		case t.text == "and":
		case linking[t.text]:
			gap--
		}
		if n := g.at[k]; n >= 0 && g.signs[n].from == k {
			p := &g.signs[n]
			if p.is(turns) || p.num != nil && !p.used {
				gap += 3
			}
			if p.has(namesField) && !p.used {
				gap += 2
			}
		}
	}
	return gap, gap <= 10
}

// onlyField tells whether every value the sign may mean is of field f, or of
// fields that notes of this kind only hold elsewhere.
func (g *segment) onlyField(s *sign, f *schema.Field) bool {
	for _, x := range s.senses {
		if x.inner {
			continue
		}
		switch x.kind {
		case isValue:
			if !allowed(x.field, s.scope) {
				continue
			}
			if x.field != f && !g.twins(x.field, f) && x.field.Path.List() == "" && (x.field.Section != "before" || s.scope&past != 0 && (x.field.SpokenAs == "" || s.scope&coming != 0)) && !g.lex.generic[x.field] {
				return false
			}
		case isItem, isHead:
			if x.item.Name != "implant" {
				return false
			}
		}
	}
	return true
}

// paceWords are two fields that one word fills: "A paced" is the rhythm and the
// pacing.
var paceWords = map[schema.Path]bool{schema.LeavingRhythm: true, schema.LeavingPacing: true}

// arrestWords are both said by "ECPR": how support was begun, and why.
var arrestWords = map[schema.Path]bool{schema.MechanicalMode: true, schema.MechanicalReasonOn: true}

// twins tells whether two fields may both be meant by one phrase: the rhythm and
// the pacing, the form of stage 1 and the supply it leaves, the nerves of both sides.
func (g *segment) twins(f, other *schema.Field) bool {
	a, b := f.Path, other.Path
	return paceWords[a] && paceWords[b] || arrestWords[a] && arrestWords[b] || (a == schema.Stage1Form && b == schema.SupplyKind || b == schema.Stage1Form && a == schema.SupplyKind) || g.lex.partner[f] == other
}

// related tells whether the segment already speaks of the field's section.
func (g *segment) related(f *schema.Field) bool {
	for i := range g.claims {
		if g.claims[i].field.Section == f.Section {
			return true
		}
	}
	return false
}
