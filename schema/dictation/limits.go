package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// fieldWhat is what a target may speak of when a field of the state is named.
var fieldWhat = map[schema.Path]string{
	schema.LeavingSaturation: "saturation", schema.GasLactate: "lactate", schema.GasHaemoglobin: "haemoglobin", schema.GasHaematocrit: "haematocrit",
	schema.LeavingHeartRate: "heart-rate", schema.LeavingUrine: "urine", schema.LeavingDrainLoss: "drain-loss", schema.GasPh: "ph", schema.GasCarbonDioxide: "carbon-dioxide",
	schema.GasPotassium: "potassium", schema.GasIonisedCalcium: "ionised-calcium", schema.GasGlucose: "glucose", schema.LeavingTemperature: "temperature",
	schema.LeavingCerebralRight: "cerebral-saturation", schema.GasVenousSaturation: "venous-saturation", schema.Stage2CavalPressure: "caval", schema.Stage3ConduitPressure: "caval",
	schema.Stage2AtrialPressure: "atrial", schema.Stage3AtrialPressure: "atrial", schema.Stage2Gradient: "gradient", schema.Stage3Gradient: "gradient",
	schema.ClottingPlatelets: "platelets", schema.ClottingClottingTimeAfter: "clotting-time", schema.MechanicalFlow: "flow",
}

// pressureWhat is the same for a pressure.
var pressureWhat = map[string]string{"arterial": "mean-arterial", "glenn": "caval", "fontan": "caval", "left-atrial": "atrial", "right-atrial": "atrial", "common-atrial": "atrial", "central-venous": "atrial"}

// limitWords are short names that stand for a limit alone.
var limitWords = map[string]string{"sbp": "systolic", "dbp": "diastolic"}

// whatAt is what a target or a limit may speak of at sign i, or "".
func (g *segment) whatAt(i int) string {
	v := limitWords[g.wordAt(g.signs[i].from)]
	if g.within(&g.signs[i], "cvp") && (g.lex.kind == schema.Stage2 || g.lex.kind == schema.Stage3) {
		v = "caval" // the veins of the neck drain into the lungs
	}
	if v != "" {
		return v
	}
	for _, x := range g.signs[i].senses {
		if x.kind == isValue && (x.field.Path == schema.PlanTargetsWhat || x.field.Path == schema.PlanCallsWhat) {
			if v == "" || x.field.Path == schema.PlanTargetsWhat && !(x.value == "drain-day" && v == "drain-loss") || v == "drain-day" {
				v = x.value
			}
		}
	}
	if v != "" {
		return v
	}
	for _, x := range g.signs[i].senses {
		if x.kind == namesField && fieldWhat[x.field.Path] != "" {
			return fieldWhat[x.field.Path]
		}
	}
	if w := g.wordAt(g.signs[i].from); g.signs[i].to-g.signs[i].from == 1 && g.signs[i].scope&(calling|aiming) != 0 && (g.lex.kind == schema.Stage3 && w == "conduit" || g.lex.kind == schema.Stage2 && w == "cava") {
		return "caval"
	}
	return pressureWhat[g.pressureAt(i)]
}

// readLimits reads targets ("aim for sats 75 to 85") and limits to call for
// ("call if the drains exceed ten per kilo").
func (g *segment) readLimits() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.num != nil && !s.content() {
			continue
		}
		what := g.whatAt(i)
		if what == "" || s.scope&(past|weighed|hearsay|denied) != 0 {
			continue
		}
		switch {
		case s.scope&calling != 0:
			g.readCall(i, what)
		case s.scope&aiming != 0:
			g.readTarget(i, what)
		}
	}
	// "call me above ten per kilo": the unit says what is meant
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&calling == 0 || s.scope&(past|weighed|hearsay|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		if what := perKilo(a.units); what != "" && !g.mentions("flow") {
			if dir := g.direction(a); dir == "above" {
				g.lastsAfter(g.call(what, dir, a, a.from, a.to), a)
			}
		}
	}
	g.readNamelessCalls()
}

// readNamelessCalls reads the limit of a saturation that is named by nothing but its size,
// beside others that are named: "call if below seventy, or diastolic under twenty".
func (g *segment) readNamelessCalls() {
	if g.ctx.what != "" && g.ctx.what != "saturation" && !g.mentions("sat", "saturation", "spo2") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&calling == 0 || s.scope&(past|weighed|hearsay|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		v, err := strconv.ParseFloat(a.decimal, 64)
		if err != nil || v < 60 || v > 98 || strings.Contains(a.decimal, ".") || a.units != nil && !slices.Contains(a.units, "%") {
			continue
		}
		k := a.from - 1
		bound := false
		for ; k >= 0 && (g.is(k, "<", ">", "below", "under", "above", "over", "less", "than", "if", "or", "and", ",", ":", "at") || g.at[k] >= 0 && (g.signs[g.at[k]].is(calls) || g.signs[g.at[k]].is(depends))); k-- {
			bound = bound || g.is(k, "<", ">", "below", "under", "above", "over", "than")
			if n := g.at[k]; n >= 0 && g.signs[n].is(calls) {
				break
			}
		}
		named := k >= 0 && !(g.at[k] >= 0 && g.signs[g.at[k]].is(calls)) && !g.limitEnds(k)
		dir := g.direction(a)
		if !bound || named || dir == "" {
			continue
		}
		gi := g.call("saturation", dir, a, a.from, a.to)
		g.groups[gi].sure, g.groups[gi].note = Check, "what is meant was not said: the saturation, by its size"
		g.lastsAfter(gi, a)
	}
}

// limitEnds tells whether another limit, or how long it lasts, ends at token k.
func (g *segment) limitEnds(k int) bool {
	n := g.at[k]
	return n >= 0 && (g.signs[n].num != nil || g.signs[n].has(isUnit)) || g.is(k, "time", "%")
}

// lastsAfter reads how long the limit at an amount must be passed, where that is said
// right after it: "x 2 h", "for more than ten minutes".
func (g *segment) lastsAfter(gi int, a amount) {
	if u := a.unitSign; u >= 0 && g.is(g.signs[u].from, "x", "x10") {
		a.to = g.signs[u].from // no power of ten
	}
	for n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from-a.to <= 4 && !g.crossesStop(a.to, g.signs[n].from); n++ {
		u := &g.signs[n]
		if x, times := strings.CutPrefix(strings.ToLower(g.words(u.from, u.to)), "x"); times && strings.TrimSpace(x) != "" && isDigit(strings.TrimSpace(x)[0]) && g.is(u.to, "min", "h", "hr") { // "<40 x10 min"
			unit := "h"
			if g.is(u.to, "min") {
				unit = "min"
			}
			g.lasts(gi, amount{from: u.from, to: u.to + 1, sign: n, unitSign: -1, decimal: strings.TrimSpace(x), units: []string{unit}}, a.from)
			return
		}
		if d, ok := g.amountAt(n); ok && g.duration(d) {
			g.lasts(gi, d, a.from)
			return
		}
	}
}

// limited is what a target or a limit of the segment speaks of, or the state that it
// gave; "" where it is none, or more than one thing.
func (g *segment) limited() string {
	what := ""
	for i := range g.claims {
		c := &g.claims[i]
		w := fieldWhat[c.field.Path]
		if c.field.Path == schema.PlanTargetsWhat || c.field.Path == schema.PlanCallsWhat {
			w = c.value
		}
		if c.gone || w == "" || w == what {
			continue
		}
		if what != "" {
			return ""
		}
		what = w
	}
	return what
}

// limitOf is what a limit that names nothing speaks of: what the sentence before did, where
// this one points to it, or the saturation, by its size.
func (g *segment) limitOf(a amount) (what, note string) {
	if w := g.ctx.what; w != "" && g.is(0, "if", "anything", "above", "below", "over", "under", "and", "when", "should", "call", "more", "less", "but") && g.right(w, a) {
		return w, "what is meant was not said: taken from the sentence before"
	}
	v, err := strconv.ParseFloat(a.decimal, 64)
	if err == nil && v >= 60 && v <= 98 && (a.units == nil || slices.Contains(a.units, "%")) {
		return "saturation", "what is meant was not said: the saturation, by its size"
	}
	return "", ""
}

// readBareLimits reads a limit that names nothing: of what was named before it, where "it"
// stands for that, "lactate four, call me if it goes over six"; else where its size leaves
// only the saturation, "call below seventy", "aim 75 to 85".
func (g *segment) readBareLimits() {
	named, apart, from := "", true, 0 // what was named before, whether nothing else is said, where the limit begins
	begun, direct := false, false     // a limit has its number, another sort of limit follows it
	for i := range g.signs {
		if i > 0 && g.signs[i-1].is(calls) && g.limitBefore(i-1) {
			break // "if he goes under seventy eight for ten minutes call me, after that heparin"
		}
		s := &g.signs[i]
		what := g.whatAt(i)
		if s.scope&calling != 0 && s.has(isValue) && s.senses[0].field != nil && s.senses[0].field.Path == schema.ChildSex {
			continue // "if she goes under seventy"
		}
		own := g.speaks(s) && s.num == nil && !s.has(isUnit) && !s.is(calls) && !s.is(targets) && !s.is(above) && !s.is(below) && !g.is(s.from, "please")
		if s.scope&(calling|aiming) == 0 && !s.is(calls) && !s.is(targets) {
			if what != "" && s.num == nil {
				named = what
			} else if own && g.speaks(s) {
				named = ""
			}
			apart, from = apart && what == "" && !own, i+1
			continue
		}
		if begun && (s.is(targets) || s.is(calls)) && named != "" {
			begun, apart, from, direct = false, false, i+1, true // "ring me if the sats go under sixty five, target seventy to eighty"
			continue
		}
		begun = begun || s.num != nil
		if what != "" && !begun {
			named = what
			continue
		}
		if what != "" || own {
			return
		}
	}
	for i := from; i < len(g.signs); i++ {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(calling|aiming) == 0 || s.scope&(past|weighed|hearsay|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		what, note := "", ""
		switch {
		case named != "" && (direct || g.itBefore(a.from) || s.scope&aiming != 0) && g.right(named, a):
			what, note = named, "what is meant was not said: taken from what was named before"
		case apart:
			what, note = g.limitOf(a)
		}
		if what == "" || g.duration(a) {
			return
		}
		if s.scope&calling != 0 {
			if dir := g.direction(a); dir != "" {
				gi := g.call(what, dir, a, a.from, a.to)
				g.groups[gi].sure, g.groups[gi].note = Check, note
				g.lastsAfter(gi, a)
			}
			return
		}
		ns := []amount{a}
		if g.rangeAt(i) {
			if b, ok := g.amountAt(int(g.at[g.signs[i+g.unitsAt(i)].to+1])); ok && g.right(what, b) {
				ns = append(ns, b)
			}
		}
		if len(ns) == 2 && what != "saturation" && named == "" || len(ns) == 1 && (named == "" || g.direction(a) == "") {
			return
		}
		n := len(g.groups)
		g.target(what, a.from, a.to, ns)
		g.groups[n].sure, g.groups[n].note = Check, note
		return
	}
}

// unitsAt is 1 where a unit of its own follows the number at sign i, else 0.
func (g *segment) unitsAt(i int) int {
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == g.signs[i].to {
		return 1
	}
	return 0
}

// itBefore tells whether a limit at token k speaks of "it".
func (g *segment) itBefore(k int) bool {
	for n := k - 1; n >= 0 && n > k-9 && g.toks[n].kind != stop; n-- {
		if g.is(n, "it", "that", "this", "them", "they", "those", "these") {
			return true
		}
	}
	return false
}

// limitBefore tells whether a limit stands before the call at sign i.
func (g *segment) limitBefore(i int) bool {
	for j := 0; j < i; j++ {
		if s := &g.signs[j]; s.num != nil && s.scope&calling != 0 {
			return true
		}
	}
	return false
}

// perKilo is the loss that an amount per kilo means.
func perKilo(units []string) string {
	switch {
	case slices.Contains(units, "mL/kg/h"), slices.Contains(units, "mL/kg"):
		return "drain-loss"
	case slices.Contains(units, "mL/kg/d"):
		return "drain-day"
	}
	return ""
}

// direction is "above" or "below" where it stands just before an amount.
func (g *segment) direction(a amount) string {
	switch {
	case g.is(a.from-2, "up") && g.is(a.from-1, "to") && !g.numberAt(a.from-3):
		return "below" // "accept a Glenn pressure up to eighteen"
	case g.is(a.from-2, "down") && g.is(a.from-1, "to") && !g.numberAt(a.from-3):
		return "above"
	case g.signs[a.sign].scope&calling != 0 && (g.is(a.from-1, "past", "hit", "crosse", "crossed", "cross", "crossing", "reache", "reach", "touche", "touch", "hitting", "reaching") || g.is(a.from-1, "to") && g.is(a.from-2, "get", "climb", "rise", "go", "creep", "up")):
		return "above"
	case g.signs[a.sign].scope&calling != 0 && g.is(a.from-1, "to") && g.is(a.from-2, "fall", "drop", "sink", "dip", "slip"):
		return "below"
	case g.is(a.from-3, "no", "not") && g.is(a.from-2, "lower", "less") && g.is(a.from-1, "than"), g.is(a.from-2, "no", "not") && g.is(a.from-1, "below", "under"):
		return "above" // "no lower than twelve"
	case g.is(a.from-3, "no", "not") && g.is(a.from-2, "higher", "more", "greater") && g.is(a.from-1, "than"), g.is(a.from-2, "no", "not") && g.is(a.from-1, "above", "over"):
		return "below"
	case g.is(a.from-1, ">") && !g.numberEnds(a.from-1):
		return "above"
	case g.is(a.from-1, "at", "for", ":") && g.signs[a.sign].scope&calling != 0 && perKilo(a.units) != "" && (len(a.decimal) == 1 || len(a.decimal) == 2 && a.decimal < "30"):
		return "above" // "call me at five per kilo"
	case g.is(a.from-1, "<"):
		return "below"
	}
	if last := g.numberAt(a.to + 2); g.is(a.to, "plus") || !last && (g.is(a.to, "or") && g.is(a.to+1, "more", "above", "over", "better", "higher") || g.is(a.to, "and") && g.is(a.to+1, "above", "up", "over")) {
		return "above" // "want seventy five plus"
	} else if !last && g.is(a.to, "or") && g.is(a.to+1, "less", "below", "under", "lower") {
		return "below"
	}
	dir := g.boundSaid(a)
	if g.notLet(a) { // "don't let the crit fall below forty"
		return map[string]string{"above": "below", "below": "above"}[dir]
	}
	return dir
}

// notLet tells whether what a limit says before an amount is not to happen.
func (g *segment) notLet(a amount) bool {
	for k := a.from - 2; k > 0 && k > a.from-12 && g.toks[k].kind != stop && !g.numberEnds(k); k-- {
		if g.is(k, "let", "allow") && g.is(k-1, "dont", "not", "never") || g.is(k, "go", "fall", "drop", "rise") && g.is(k-1, "not") && g.is(k+1, "above", "below", "under", "over") || g.is(k, "should", "must", "shouldnt", "mustnt") && (g.is(k+1, "not") || len(g.toks[k].text) > 6) {
			return true
		}
	}
	return false
}

// boundSaid is "above" or "below" by the words right before an amount.
func (g *segment) boundSaid(a amount) string {
	for n := g.prevSign(a.from); n >= 0 && a.from-g.signs[n].to <= 2; n-- {
		s := &g.signs[n]
		switch {
		case s.is(above), g.is(s.to-1, "above", "over") && s.num == nil:
			return "above"
		case s.is(below), g.is(s.to-1, "below", "under") && s.num == nil:
			return "below"
		case s.num != nil, s.content() && !g.rowWord(s, schema.PlanCalls) && !g.rowWord(s, schema.PlanTargets):
			return ""
		}
		a.from = s.from
	}
	return ""
}

// numbersOf are the amounts that belong to what stands at sign i.
func (g *segment) numbersOf(i int) []amount {
	s := &g.signs[i]
	var out []amount
	last := s.to
	for j := i + 1; j < len(g.signs); j++ {
		p := &g.signs[j]
		if p.from-last > 5 || p.used || g.toks[last-1].kind == stop {
			break
		}
		stopped := false
		for k := last; k < p.from; k++ {
			if g.toks[k].kind == stop {
				stopped = true
			}
		}
		if stopped || j > i+1 && g.whatAt(j) != "" && p.num == nil && !p.is(above) && !p.is(below) && g.whatAt(j) != g.whatAt(i) {
			break
		}
		if p.num != nil && p.num.decimal != "" {
			a, _ := g.amountAt(j)
			out = append(out, a)
			last = a.to
			if a.unitSign > j {
				j = a.unitSign
			}
			continue
		}
		last = p.to
	}
	return out
}

func (g *segment) call(what, dir string, a amount, why, whyTo int) int {
	row := func(n string) *schema.Field { return fieldAt(schema.RowPath(schema.PlanCalls, "*", n)) }
	gi := g.newGroup(schema.PlanCalls, why, whyTo)
	v := a.decimal
	if what == "drain-loss" && slices.Contains(a.units, "mL/kg/d") && !slices.Contains(a.units, "mL/kg/h") {
		what = "drain-day"
	}
	g.claimIn(gi, row("what"), what, a.from, a.to, why, whyTo)
	g.claimIn(gi, row("direction"), dir, a.from, a.to, why, whyTo)
	g.claimIn(gi, row("value"), v, a.from, a.to, why, whyTo)
	g.useAmount(a)
	return gi
}

func (g *segment) readCall(i int, what string) {
	s := &g.signs[i]
	ns := g.numbersOf(i)
	if len(ns) == 0 {
		ns = g.boundsBefore(i)
	}
	for n, a := range ns {
		if g.duration(a) {
			continue
		}
		dir := g.direction(a)
		if dir == "" {
			if g.is(a.from-1, "of") || n > 0 {
				continue
			}
			if what == "drain-loss" || what == "drain-day" || what == "lactate" || (what == "caval" || what == "gradient") && i > 0 && g.signs[i-1].is(calls) && g.signs[i-1].to == s.from {
				if a.from-s.to > 2 {
					continue
				}
				dir = "above"
			} else {
				continue
			}
		}
		if what == "flow" && perKilo(a.units) == "drain-loss" && g.anyWithin(max(0, a.from-4), a.from, "tube", "drain") {
			what = "drain-loss" // "flow under ninety or chest tube over five"
		}
		if !g.right(what, a) || dir == "below" && (what == "drain-loss" || what == "drain-day") {
			continue // "when the drains are under two": heparin may start
		}
		v := a
		if what == "saturation" && a.decimal != "" {
			v.decimal = a.decimal
		}
		gi := g.call(what, dir, v, s.from, a.to)
		s.used = true
		if n+1 < len(ns) && g.duration(ns[n+1]) {
			g.lasts(gi, ns[n+1], s.from)
		} else if n+1 == len(ns) {
			g.lastsAfter(gi, v)
		}
	}
}

// lasts says for how long a limit must be passed before the call.
func (g *segment) lasts(gi int, d amount, why int) {
	minutes := d.decimal
	for _, u := range d.units {
		if w, _ := convert(d.decimal, u, "min"); w != "" {
			minutes = w
		}
	}
	g.claimIn(gi, fieldAt(schema.RowPath(schema.PlanCalls, "*", "howLong")), minutes, d.from, d.to, why, d.to)
	g.useAmount(d)
}

func (g *segment) duration(a amount) bool {
	return slices.Contains(a.units, "min") && !strings.Contains(a.said, "/") && !strings.Contains(a.said, "per") || slices.Contains(a.units, "h")
}

// perKiloLimits are the limits that may be told by the kilo.
var perKiloLimits = wordSet("drain-loss drain-day urine flow")

// right tells whether an amount can be of what is spoken of: its unit, or a
// likely size.
func (g *segment) right(what string, a amount) bool {
	v, err := strconv.ParseFloat(a.decimal, 64)
	if err != nil {
		return false
	}
	perKiloSaid := perKilo(a.units) != ""
	if perKiloSaid && !slices.Contains(a.units, "%") && !perKiloLimits[what] {
		return false
	}
	switch what {
	case "drain-loss", "drain-day", "urine":
		return v >= 0.5 && (a.units == nil || perKiloSaid || slices.Contains(a.units, "mL/kg/h"))
	case "saturation", "cerebral-saturation", "venous-saturation", "haematocrit":
		return v >= 20 && v <= 100
	case "lactate":
		return v < 30
	case "clotting-time", "platelets":
		return v >= 20
	case "ph":
		return v > 6.5 && v < 8
	case "heart-rate":
		return v >= 40
	case "mean-arterial", "systolic", "diastolic":
		return v >= 15 && v <= 200
	}
	return !perKiloSaid || what == "flow"
}

func (g *segment) readTarget(i int, what string) {
	s := &g.signs[i]
	ns := g.numbersOf(i)
	if len(ns) == 0 {
		// "aim for 75 to 85 saturations"
		if i > 0 {
			for j := max(0, i-4); j < i; j++ {
				if g.signs[j].num != nil && !g.signs[j].used && g.signs[j].scope&aiming != 0 && g.signs[j].num.decimal != "" {
					a, _ := g.amountAt(j)
					if len(ns) > 0 && a.from-ns[len(ns)-1].to > 1 {
						ns = nil
					}
					ns = append(ns, a)
				}
			}
			if len(ns) > 0 && s.from-ns[len(ns)-1].to > 2 {
				return
			}
		}
	}
	if len(ns) == 0 || !g.right(what, ns[0]) || g.duration(ns[0]) {
		return
	}
	if a := ns[0]; what == "drain-loss" && g.direction(a) == "below" && (g.is(s.from-1, "once", "when", "if", "until", "the") || g.is(s.from-2, "once", "when", "if", "until")) {
		return // a condition: "180 to 200 once the drains are under three"
	}
	g.target(what, s.from, s.to, ns)
	s.used = true
}

// target makes a target of the first one or two amounts for what stands at tokens
// from..to.
func (g *segment) target(what string, from, to int, ns []amount) {
	a := ns[0]
	gi := g.newGroup(schema.PlanTargets, from, a.to)
	g.claimIn(gi, rowField(schema.PlanTargets, "what"), what, from, to, from, a.to)
	set := func(name string, a amount) {
		g.claimIn(gi, rowField(schema.PlanTargets, name), g.pointed(what, a), a.from, a.to, from, a.to)
		g.useAmount(a)
	}
	switch dir := g.direction(a); {
	case len(ns) > 1 && ns[1].from-a.to <= 1 && (g.is(a.to, "to", "and", "-", "/") || ns[1].from == a.to) && dir == "" && g.right(what, ns[1]):
		set("low", a)
		set("high", ns[1])
	case dir == "above":
		set("low", a)
		if len(ns) > 1 && g.direction(ns[1]) == "below" {
			set("high", ns[1])
		}
	case dir == "below":
		set("high", a)
	default:
		set("low", a)
		g.claimIn(gi, rowField(schema.PlanTargets, "high"), g.pointed(what, a), a.from, a.to, from, a.to)
	}
}

// pointed is an amount with the point that was not said: a temperature of "thirty seven
// five".
func (g *segment) pointed(what string, a amount) string {
	if what == "temperature" && a.units == nil && len(a.decimal) == 2 && a.to < len(g.toks) && g.numberAt(a.to) {
		if b := g.signs[g.at[a.to]].num.decimal; len(b) == 1 {
			return a.decimal + "." + b
		}
	}
	return a.decimal
}

// boundsBefore are the amounts of a limit that is named last: "call below seventy two
// sats", "ring me above ninety or below sixty five on the sats".
func (g *segment) boundsBefore(i int) []amount {
	var out []amount
	next := g.signs[i].from
	if g.is(next-1, "the", "his", "her") {
		next--
	}
	if g.is(next-1, "on", "in", "for", "with") {
		next--
	}
	for j := i - 1; j >= 0; j-- {
		p := &g.signs[j]
		if p.used || p.scope&calling == 0 || next-p.to > 1 || g.crossesStop(p.to, next) {
			break
		}
		switch {
		case p.num != nil:
			if a, ok := g.amountAt(j); ok && g.direction(a) != "" {
				out = slices.Insert(out, 0, a)
			}
		case !p.has(isUnit) && !p.is(above) && !p.is(below) && !g.is(p.from, "on", "in", "for"):
			return out
		}
		next = p.from
	}
	return out
}
