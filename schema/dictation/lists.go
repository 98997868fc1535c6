package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// rowField is a field of the rows of a list.
func rowField(list schema.Path, name string) *schema.Field {
	return fieldAt(schema.RowPath(list, "*", name))
}

// plainTalk tells whether sign i is free and speaks of this operation.
func (g *segment) plainTalk(i int) bool {
	return !g.signs[i].used && g.signs[i].scope&(unreal|denied) == 0
}

// readLists reads the short lists of a note, each row known by one word.
func (g *segment) readLists() {
	g.readAcidBase()
	g.readInjuries()
	g.readFactors()
	g.readWeaning()
	g.readTrials()
	g.readCardioplegia()
	g.readDoses()
	g.readAntibiotics()
	g.readHistory()
}

// nearestValue is the sign within six tokens of sign i, with no stop between,
// that is a value of field f, or -1: the nearest, the one after it first.
func (g *segment) nearestValue(i int, f *schema.Field) int {
	best, near := -1, 7
	for j := range g.signs {
		if j == i || g.valueOf(&g.signs[j], f) == "" {
			continue
		}
		a, b := g.signs[i].to, g.signs[j].from
		if j < i {
			a, b = g.signs[j].to, g.signs[i].from
		}
		if b < a || g.crossesStop(a, b) {
			continue
		}
		gap := b - a
		if g.crosses(a, b) {
			gap += 3
		}
		if gap < near {
			best, near = j, gap
		}
	}
	return best
}

// readAcidBase reads "pH stat for cooling, alpha stat on rewarming".
func (g *segment) readAcidBase() {
	list := schema.PerfusionAcidBase
	if !g.inNote(fieldAt(list)) {
		return
	}
	strategy, phase := rowField(list, "strategy"), rowField(list, "phase")
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, strategy)
		if v == "" || !g.plainTalk(i) || s.to-s.from == 1 && !g.mentions("stat", "acid") {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		g.claimIn(gi, strategy, v, s.from, s.to, s.from, s.to)
		s.used = true
		if j := g.nearestValue(i, phase); j >= 0 {
			p := &g.signs[j]
			g.claimIn(gi, phase, g.valueOf(p, phase), p.from, p.to, min(s.from, p.from), max(s.to, p.to))
		}
	}
}

// readFactors reads clotting factor concentrates with their doses.
func (g *segment) readFactors() {
	list := schema.BloodFactors
	if !g.inNote(fieldAt(list)) {
		return
	}
	name, dose, unit := rowField(list, "concentrate"), rowField(list, "dose"), rowField(list, "unit")
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, name)
		if v == "" || v == "other" || !g.plainTalk(i) || !g.lex.alone[s.node] || v == "antithrombin" && !g.mentions("given", "gave", "unit", "concentrate") || v == "von-willebrand" {
			continue
		}
		a, u := g.doseNear(i, unit)
		if a == nil && !g.mentions("given", "gave") {
			continue
		}
		gi := g.newGroup(list, s.from, s.to)
		g.claimIn(gi, name, v, s.from, s.to, s.from, s.to)
		s.used = true
		if a != nil {
			g.claimIn(gi, dose, a.decimal, a.from, a.to, min(s.from, a.from), max(s.to, a.to))
			g.claimIn(gi, unit, u, a.from, a.to, min(s.from, a.from), max(s.to, a.to))
			g.useAmount(*a)
			if n := g.nextSign(max(s.to, a.to)); n < len(g.signs) && g.signs[n].num != nil && g.signs[n].num.clock != "" && g.is(g.signs[n].from-1, "at", "@") && g.plainTalk(n) {
				p := &g.signs[n]
				g.claimIn(gi, rowField(list, "at"), p.num.clock, p.from, p.to, s.from, p.to)
				p.used = true
			}
		}
	}
}

// doseNear is an amount beside sign i whose unit was said and is one of field f's.
func (g *segment) doseNear(i int, f *schema.Field) (*amount, string) {
	s := &g.signs[i]
	try := func(j int) (*amount, string) {
		a, ok := g.amountAt(j)
		if !ok || a.units == nil || a.decimal == "" {
			return nil, ""
		}
		perKilo := false
		if a.unitSign >= 0 {
			perKilo = g.within(&g.signs[a.unitSign], "kilo", "kg") || g.is(a.to, "per", "/") && g.is(a.to+1, "kilo", "kg") || g.is(a.to, "a") && g.is(a.to+1, "kilo")
		}
		for _, u := range f.Enum {
			if slices.Contains(a.units, u) && strings.HasSuffix(u, "/kg") == perKilo {
				return &a, u
			}
		}
		for _, w := range []string{"mg", "ug", "g", "[iU]", "mL"} { // a per-kilo unit whose kilo was not said
			if !perKilo && slices.Contains(f.Enum, w) {
				for _, u := range a.units {
					if strings.HasPrefix(u, w+"/kg") {
						return &a, w
					}
				}
			}
		}
		return nil, ""
	}
	for j := i + 1; j < len(g.signs) && g.signs[j].from-s.to <= 3 && !g.crossesStop(s.to, g.signs[j].from); j++ {
		if g.signs[j].num != nil && g.plainTalk(j) {
			return try(j)
		}
		if g.signs[j].content() && !g.signs[j].has(isUnit) {
			break
		}
	}
	for j := i - 1; j >= 0 && j >= i-2; j-- {
		if g.signs[j].num == nil || !g.plainTalk(j) {
			continue
		}
		if a, u := try(j); a != nil && (s.from == a.to || s.from == a.to+1 && g.is(a.to, "of")) {
			return a, u
		}
		break
	}
	return nil, ""
}

// ordinals are the attempts that a word counts.
var ordinals = map[string]int{"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "1st": 1, "2nd": 2, "3rd": 3, "4th": 4}

// readTrials reads the trials of weaning from mechanical support: each outcome with
// the time and the flow said since the outcome before.
func (g *segment) readTrials() {
	list := schema.MechanicalTrials
	turns := []string{"trial", "trialed", "weaned", "weaning", "today", "yesterday", "first", "second", "third", "#", "1st", "2nd"}
	if g.lex.kind != schema.SupportOff || !g.mentions(turns...) {
		return
	}
	bare := !g.mentions(turns[:4]...) // "Tuesday's trial failed. Today's passed."
	if bare && g.mentions("circuit", "oxygenator", "sternum", "chest", "repair", "closure", "membrane", "clamp", "count") {
		return
	}
	outcome, at, flow := rowField(list, "outcome"), rowField(list, "at"), rowField(list, "flow")
	from := 0
	for k := range g.toks {
		v := ""
		switch g.toks[k].text {
		case "passed", "pass", "tolerated", "successful":
			v = "passed"
		case "failed", "unsuccessful":
			v = "failed"
		case "ok", "okay", "fine", "well":
			if k+1 >= len(g.toks) || g.toks[k+1].kind == stop || g.is(k+1, ",") {
				v = "passed"
			}
		}
		n := g.at[k]
		if v == "" || bare && !g.is(k, "passed", "failed") || g.is(k-1, "not") && g.is(k, "tolerated") || n >= 0 && (g.signs[n].used || g.signs[n].scope&(denied|unreal&^past) != 0) {
			continue
		}
		trial := false
		for j := max(from, k-22); j < min(len(g.toks), k+5); j++ {
			trial = trial || g.is(j, turns...) || !bare && g.is(j, "it")
		}
		if !trial {
			continue
		}
		gi := g.newGroup(list, k, k+1)
		g.claimIn(gi, outcome, v, k, k+1, k, k+1)
		if n >= 0 {
			g.signs[n].used = true
		}
		end := k + 8
		for j := k + 1; j < len(g.toks) && j < k+8; j++ {
			if g.toks[j].kind == stop || g.is(j, "then", "passed", "failed", "because") {
				end = j
				break
			}
		}
		for j := range g.signs {
			s := &g.signs[j]
			if s.num == nil || s.used || s.scope&(denied|calling|aiming|hearsay) != 0 || s.from < from || s.from >= end {
				continue
			}
			a, _ := g.amountAt(j)
			switch {
			case a.clock != "" && a.units == nil && g.offSaid(a.from):
				// when support ended, not when it was tried
			case a.clock != "" && a.units == nil && (s.num.surely || g.is(a.from-1, "at", "trial") || s.num.figures && strings.Contains(g.words(a.from, a.to), ":")) && !g.claimed(gi, at):
				g.claimIn(gi, at, a.clock, a.from, a.to, min(a.from, k), max(a.to, k+1))
				g.useAmount(a)
			case (anyPerKilo(a.units) || a.units == nil && g.is(a.from-1, "to", "at", "flow", "@")) && !g.claimed(gi, flow):
				if w, _, ok := fits(flow, a); ok && w != "" {
					g.claimIn(gi, flow, w, a.from, a.to, min(a.from, k), max(a.to, k+1))
					g.useAmount(a)
				}
			}
		}
		from = k + 1
	}
}

// offSaid tells whether token k is a time that "off" or "stopped" announces.
func (g *segment) offSaid(k int) bool {
	for j := k - 1; j >= 0 && j >= k-5 && g.toks[j].kind != stop && !g.is(j, "trial", "trialed"); j-- {
		if g.is(j, "off", "stopped", "decannulated") && !g.is(j-1, "trial") {
			return true
		}
	}
	return false
}

// claimed tells whether a group of the segment has a value of the field.
func (g *segment) claimed(gi int, f *schema.Field) bool {
	return slices.ContainsFunc(g.claims, func(c claim) bool { return c.group == gi && c.field == f })
}

// readCardioplegia reads the doses of cardioplegia: "sixty mils down the root".
func (g *segment) readCardioplegia() {
	list := schema.PerfusionCardioplegiaDoses
	if !g.inNote(fieldAt(list)) || !g.mentions("cardioplegia", "nido", "plegia", "custodiol", "histidine", "htk") {
		return
	}
	volume, route, at := rowField(list, "volume"), rowField(list, "route"), rowField(list, "at")
	for i, a := range g.plainAmounts() {
		s := &g.signs[i]
		perKilo := a.unitSign >= 0 && g.within(&g.signs[a.unitSign], "kilo", "kg") || g.is(a.to, "per", "a", "/") && g.is(a.to+1, "kilo", "kg")
		if !slices.Contains(a.units, "mL") && !(a.units == nil && a.decimal != "" && !s.num.surely && g.rootAfter(a.to, route) && len(a.decimal) > 1) && !g.doseBefore(i) || perKilo {
			continue
		}
		near := false
		for k := max(0, a.from-10); k < min(len(g.toks), a.to+6); k++ {
			near = near || g.is(k, "cardioplegia", "nido", "plegia", "custodiol", "histidine", "htk", "dose", "shot")
		}
		v, _, ok := fits(volume, a)
		if !near || !ok {
			continue
		}
		gi := g.newGroup(list, a.from, a.to)
		g.claimIn(gi, volume, v, a.from, a.to, a.from, a.to)
		g.useAmount(a)
		j := g.nearestValue(i, route)
		for n := i + 1; j < 0 && n < len(g.signs) && g.signs[n].from-a.to <= 10; n++ { // "seventy mils, was given into the aortic root"
			if g.signs[n].num != nil && !g.signs[n].used {
				break
			}
			if g.valueOf(&g.signs[n], route) != "" && g.plainTalk(n) {
				j = n
			}
		}
		if j >= 0 {
			p := &g.signs[j]
			g.claimIn(gi, route, g.valueOf(p, route), p.from, p.to, min(a.from, p.from), max(a.to, p.to))
			p.used = true
		}
		if n := g.doseTime(a); n >= 0 {
			p := &g.signs[n]
			g.claimIn(gi, at, p.num.clock, p.from, p.to, min(a.from, p.from), max(a.to, p.to))
			p.used = true
		}
	}
}

// doseBefore tells whether a bare number at sign i is the volume of a dose that was told
// right before it: "one shot a hundred fifty", "two doses, fifty and then twenty five".
func (g *segment) doseBefore(i int) bool {
	s := &g.signs[i]
	if len(s.num.decimal) < 2 || len(s.num.decimal) > 3 || strings.Contains(s.num.decimal, ".") || g.namedAfter(i) {
		return false
	}
	k := s.from - 1
	for g.is(k, ",", ":", "of", "and", "then", "a", "each") {
		k--
	}
	if k >= 0 && g.numberAt(k) && g.at[k] >= 0 && int(g.at[k]) < i && k < s.from-1 {
		return g.doseBefore(int(g.at[k]))
	}
	return g.is(k, "shot", "dose")
}

// rootAfter tells whether a route of cardioplegia follows token k: "300 into the root".
func (g *segment) rootAfter(k int, route *schema.Field) bool {
	n := g.nextSign(k)
	for ; n < len(g.signs) && g.signs[n].from-k <= 3; n++ {
		if g.valueOf(&g.signs[n], route) != "" {
			return true
		}
		if g.signs[n].num != nil {
			return false
		}
	}
	return false
}

// doseTime is the sign of the time a dose was given at: "sixty mils into the root at
// nine thirty two", "65 mL root 1002", "ten oh four, sixty mils"; or -1.
func (g *segment) doseTime(a amount) int {
	for n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from-a.to <= 10 && !g.crossesStop(a.to, g.signs[n].from); n++ {
		s := &g.signs[n]
		if s.num == nil {
			continue
		}
		if b, _ := g.amountAt(n); !s.used && b.clock != "" && b.units == nil && (s.num.surely || g.is(b.from-1, "at", "@") || s.num.figures && len(g.words(b.from, b.to)) == 4) {
			return n
		}
		break
	}
	if n := g.prevSign(a.from); n >= 0 && a.from-g.signs[n].to <= 1 && g.signs[n].num != nil && !g.signs[n].used && g.signs[n].num.clock != "" && (g.signs[n].num.surely || g.mentions("dose")) && len(g.words(g.signs[n].from, g.signs[n].to)) >= 4 {
		return n
	}
	return -1
}

// dosePurpose is what a drug given as single doses is for.
var dosePurpose = map[string]string{"rocuronium": "paralysis", "vecuronium": "paralysis", "cisatracurium": "paralysis", "pancuronium": "paralysis", "atracurium": "paralysis", "roc": "paralysis", "vec": "paralysis",
	"fentanyl": "pain", "morphine": "pain", "paracetamol": "pain", "acetaminophen": "pain", "midazolam": "sedation", "ketamine": "sedation", "methylprednisolone": "steroid", "dexamethasone": "steroid", "hydrocortisone": "steroid", "furosemide": "diuretic", "frusemide": "diuretic", "lasix": "diuretic"}

// readDoses reads the last doses of the anaesthetic: "last rocuronium three
// milligrams at thirteen twenty".
func (g *segment) readDoses() {
	list := schema.AirwayDoses
	if !g.inNote(fieldAt(list)) {
		return
	}
	purpose, dose, unit, given, drug := rowField(list, "purpose"), rowField(list, "dose"), rowField(list, "unit"), rowField(list, "given"), rowField(list, "drug")
	for k := range g.toks {
		v := dosePurpose[g.toks[k].text]
		if v == "" {
			continue
		}
		i := -1
		if n := g.at[k]; n >= 0 {
			if i = int(n); !g.plainTalk(i) {
				continue
			}
		}
		last := g.is(k-1, "last") || g.is(k-1, "of") && g.is(k-2, "dose") || g.is(k+1, "given") || g.is(k-2, "last")
		next := g.nextSign(k + 1)
		if i >= 0 {
			next = i + 1
		}
		if next >= len(g.signs) || g.signs[next].from-k > 4 || g.crossesStop(k, g.signs[next].from) {
			continue
		}
		var a *amount
		var u string
		if g.signs[next].num != nil && g.plainTalk(next) {
			if b, ok := g.amountAt(next); ok && b.units != nil && g.bolusLike(b) {
				for _, w := range unit.Enum {
					if slices.Contains(b.units, w) && strings.Contains(w, "/kg") == g.perKiloSaid(b) {
						a, u = &b, w
						break
					}
				}
				if a == nil {
					for _, w := range []string{"mg", "ug", "g"} {
						if a == nil && slices.ContainsFunc(b.units, func(x string) bool { return strings.HasPrefix(x, w+"/kg") || x == w }) && !g.perKiloSaid(b) {
							a, u = &b, w
						}
					}
				}
			}
		}
		clock := -1
		from := k + 1
		if a != nil {
			from = a.to
		}
		if n := g.nextSign(from); n < len(g.signs) && g.signs[n].from-from <= 2 && g.signs[n].num != nil && g.signs[n].num.clock != "" && (g.signs[n].num.clock >= "07:00" && g.is(g.signs[n].from-1, "at", "given", "@") && (g.signs[n].num.figures || g.signs[n].to-g.signs[n].from > 1) || g.signs[n].num.surely && (g.signs[n].num.clock >= "07:00" || g.signs[n].num.figures)) {
			clock = n
		}
		if n := g.nextSign(from); clock < 0 && a != nil && n < len(g.signs) && g.signs[n].from-from <= 2 && g.afternoon(n) != "" {
			clock = n // "three milligrams at ten past four"
		}
		if clock >= 0 && a == nil {
			a, u = g.doseAt(g.signs[clock].to) // "last rocuronium 12:55, six milligrams"
		}
		if clock < 0 && !(last && a != nil) {
			continue
		}
		gi := g.newGroup(list, k, max(k+1, from))
		g.claimIn(gi, purpose, v, k, k+1, k, k+1)
		sp := g.toks[k].span
		g.claimIn(gi, drug, g.text[sp.Start:sp.End], k, k+1, k, k+1)
		if i >= 0 {
			g.signs[i].used = true
		}
		if a != nil {
			g.claimIn(gi, dose, a.decimal, a.from, a.to, k, a.to)
			g.claimIn(gi, unit, u, a.from, a.to, k, a.to)
			g.useAmount(*a)
		}
		if clock >= 0 {
			p := &g.signs[clock]
			c := g.claimIn(gi, given, p.num.clock, p.from, p.to, k, p.to)
			if later := g.afternoon(clock); later != "" {
				c.value, c.sure, c.note = later, Check, "taken as in the afternoon"
			}
			p.used = true
		}
	}
}

// afternoon is the time that sign i says in words, twelve hours on, where a day's work
// leaves no doubt that it was after noon; "" where it may be as it was said.
func (g *segment) afternoon(i int) string {
	s := &g.signs[i]
	if !elective[g.lex.kind] || s.num == nil || s.num.figures || !s.num.surely || !g.is(s.from-1, "at") || s.num.clock < "01:00" || s.num.clock >= "07:00" || !twelveHours(g.toks, s.num.from, s.num.to, s.num.clock) {
		return ""
	}
	t := minuteOf(s.num.clock) + 12*60
	return clockText(t/60, t%60)
}

// doseAt is the single dose, by its mass, that follows a comma at token k; nil where
// there is none.
func (g *segment) doseAt(k int) (*amount, string) {
	if !g.is(k, ",") || !g.numberAt(k+1) || !g.plainTalk(int(g.at[k+1])) {
		return nil, ""
	}
	a, ok := g.amountAt(int(g.at[k+1]))
	if !ok || !g.bolusLike(a) || g.perKiloSaid(a) {
		return nil, ""
	}
	for _, w := range []string{"mg", "ug"} {
		if slices.Contains(a.units, w) {
			return &a, w
		}
	}
	return nil, ""
}

// perKiloSaid tells whether an amount was said by the kilo.
func (g *segment) perKiloSaid(a amount) bool {
	return a.unitSign >= 0 && g.within(&g.signs[a.unitSign], "kilo", "kg") || g.is(a.to, "per", "a", "/") && g.is(a.to+1, "kilo", "kg")
}

// bolusLike tells whether no time was said in the unit of an amount.
func (g *segment) bolusLike(a amount) bool {
	return !g.wholeUnit(a) && !g.is(a.to, "per", "an", "/")
}

// antibiotics are the names that open a row of antibiotics; the field is text.
var antibiotics = wordSet("cefazolin cefuroxime ceftriaxone cefotaxime vancomycin gentamicin teicoplanin flucloxacillin amoxicillin meropenem clindamycin vanc cefaz gent fluclox teic cefurox tazocin cephazolin amikacin piperacillin")

// readAntibiotics reads when an antibiotic was given, how much, and when next.
func (g *segment) readAntibiotics() {
	list := schema.WorkAntibiotics
	if !g.inNote(fieldAt(list)) {
		return
	}
	for k := range g.toks {
		if !antibiotics[g.toks[k].text] {
			continue
		}
		gi := -1
		open := func() int {
			if gi < 0 {
				gi = g.newGroup(list, k, k+1)
				sp := g.toks[k].span
				g.claimIn(gi, rowField(list, "drug"), g.text[sp.Start:sp.End], k, k+1, k, k+1)
			}
			return gi
		}
		for n := g.nextSign(k + 1); n < len(g.signs) && g.signs[n].from-k <= 14 && !g.crossesStop(k, g.signs[n].from); n++ {
			s := &g.signs[n]
			if s.num == nil || s.used || s.scope&(denied|past|calling) != 0 {
				continue
			}
			a, _ := g.amountAt(n)
			next := false
			for j := max(k, a.from-4); j < a.from; j++ {
				next = next || g.is(j, "next", "due", "again", "repeat")
			}
			switch {
			case a.clock != "" && a.units == nil && (s.num.surely || s.num.figures && strings.Contains(g.words(a.from, a.to), ":") || g.is(a.from-1, "at", "due", "next", "given") || g.is(a.from-2, "due", "next")):
				name := "given"
				if next {
					name = "next"
				}
				if !g.claimed(open(), rowField(list, name)) {
					g.claimIn(gi, rowField(list, name), a.clock, a.from, a.to, k, a.to)
					g.useAmount(a)
				}
			case slices.Contains(a.units, "mg") && !g.perKiloSaid(a) && !next:
				if !g.claimed(open(), rowField(list, "dose")) {
					g.claimIn(gi, rowField(list, "dose"), a.decimal, a.from, a.to, k, a.to)
					g.useAmount(a)
				}
			}
		}
	}
}

// readHistory reads what was done before, where the words say plainly that it was
// before: procedures in the catheter laboratory, and vessels known to be blocked.
func (g *segment) readHistory() {
	vessels := schema.BeforeVessels
	vessel, side, state, how := rowField(vessels, "vessel"), rowField(vessels, "side"), rowField(vessels, "state"), rowField(vessels, "how")
	if !g.inNote(fieldAt(vessels)) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		v := g.valueOf(s, vessel)
		if v == "" || s.used || s.scope&(intended|calling|weighed|hearsay|denied) != 0 || strings.HasPrefix(v, "superior") || strings.HasPrefix(v, "inferior") || strings.HasPrefix(v, "innominate") {
			continue
		}
		j := g.nextSign(s.to)
		for j < len(g.signs) && g.signs[j].from-s.to <= 3 && g.valueOf(&g.signs[j], state) == "" && !g.signs[j].content() {
			j++
		}
		if j >= len(g.signs) || g.signs[j].from-s.to > 4 || g.crosses(s.to, g.signs[j].from) {
			continue
		}
		st := g.valueOf(&g.signs[j], state)
		switch st {
		case "blocked", "narrowed":
			if !g.mentions("known", "occluded", "blocked", "thrombosed", "narrowed") {
				continue
			}
		case "tied":
			if g.lex.kind == schema.SupportOff || g.lex.kind == schema.SupportOn || g.signs[j].from-s.to > 2 {
				continue // at decannulation
			}
		case "open": // no line in it, and no cannula
			if g.signs[j].from-s.to > 2 || g.mentions("line", "lumen", "french", "gauge", "cannula", "cannulated", "catheter", "size") && !g.mentions("ultrasound", "scan", "known") {
				continue
			}
		default:
			continue
		}
		if g.signs[j].scope&denied != 0 {
			continue
		}
		gi := g.newGroup(vessels, s.from, g.signs[j].to)
		g.claimIn(gi, vessel, v, s.from, s.to, s.from, g.signs[j].to)
		if i > 0 && (g.sideOf(&g.signs[i-1]) == "right" || g.sideOf(&g.signs[i-1]) == "left") && g.signs[i-1].to == s.from {
			p := &g.signs[i-1]
			g.claimIn(gi, side, g.sideOf(p), p.from, p.to, p.from, s.to)
		}
		g.claimIn(gi, state, st, g.signs[j].from, g.signs[j].to, s.from, g.signs[j].to)
		for n := j + 1; n < len(g.signs) && g.signs[n].from-g.signs[j].to <= 4 && g.valueOf(&g.signs[n], vessel) == ""; n++ {
			if p := &g.signs[n]; g.valueOf(p, how) != "" {
				g.claimIn(gi, how, g.valueOf(p, how), p.from, p.to, s.from, p.to)
				p.used = true
				break
			}
		}
		s.used, g.signs[j].used = true, true
	}
}
