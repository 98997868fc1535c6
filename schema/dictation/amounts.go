package dictation

import (
	"cmp"
	"slices"
	"strings"

	"fairlead/schema"
)

// pair is one way to give a number to a field.
type pair struct {
	amount int
	sign   int
	field  *schema.Field
	value  string
	cost   float64
}

// readNumbers gives each number that is left to the field named nearest to it.
func (g *segment) readNumbers() {
	var amounts []amount
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.is(denies) && s.num.decimal == "0" && !s.num.figures && i+1 < len(g.signs) && g.signs[i+1].from == s.to {
			continue
		}
		if g.is(s.from-1, "day", "pod", "bed") && (i+1 >= len(g.signs) || g.signs[i+1].from > s.to || !g.signs[i+1].has(isUnit)) {
			continue // "on day five" counts days
		}
		if a, ok := g.amountAt(i); ok && (s.scope&denied == 0 || a.decimal == "0") {
			amounts = append(amounts, a) // "eighteen, not twenty"
		}
	}
	var pairs []pair
	for ai, a := range amounts {
		sc := g.signs[a.sign].scope
		if sc&unreal != 0 && sc&(calling|aiming|weighed|hearsay) != 0 {
			continue
		}
		for i := range g.signs {
			s := &g.signs[i]
			if i == a.sign || s.used && !s.is(noCue) || !s.content() {
				continue
			}
			dist, ok := g.distance(a, i, amounts)
			if !ok {
				continue
			}
			if s.scope&denied != 0 && g.signs[a.sign].scope&denied == 0 && a.decimal != "0" {
				continue // "without a clamp, seventy two minutes"
			}
			for _, x := range s.senses {
				f := g.totalFor(x)
				if f == nil || f.Path.List() != "" {
					continue
				}
				switch {
				case x.kind == isValue && x.field.Path == schema.LeavingRhythm:
					if f = g.rateFor(a, s, x.value); f == nil {
						continue
					}
				case x.kind == isValue && x.field.Path == schema.SupportMode && x.value == "bypass":
					if f = fieldAt(schema.SupportBypassTotal); !slices.Contains(a.units, "min") && (dist > 1 || len(a.decimal) < 2) || dist > 3 {
						continue
					}
				case x.kind == isValue && x.field.Path == schema.BetweenShuntDone && (x.value == "upsized" || x.value == "downsized" || x.value == "replaced"):
					f = fieldAt(schema.SupplyShuntDiameter)
					if g.ctx.supply == "ventricle-pulmonary-conduit" {
						f = fieldAt(schema.SupplyConduitDiameter)
					}
					if !g.inNote(f) || dist > 2.5 || a.from < s.to {
						continue
					}
				case x.kind == isValue && x.value == "caval-shunt":
					if f = fieldAt(schema.SupportCavalShuntMinutes); !slices.Contains(a.units, "min") {
						continue
					}
				case x.kind == isValue && x.field.Path == schema.ClosingSternalMaterial && x.value == "absorbable" && g.closureNamed(s) == "sternum":
					if f = fieldAt(schema.ClosingSternalSutures); dist > 2.5 {
						continue
					}
				case x.kind == isValue && x.value == "steel-wire":
					if f = fieldAt(schema.ClosingSternalSutures); dist > 2.5 {
						continue
					}
				case x.kind == isValue && x.value == "innominate-graft":
					f = fieldAt(schema.SupportInflowGraft)
				case x.kind == isValue && g.calledFor(f):
					// "5 mm ringed PTFE", the Sano having been named before
					if f = g.sizeOf(sense{kind: isValue, field: fieldAt(f.When[0].Field), value: g.ctx.value(f.When[0].Field)}); f == nil || dist > 1.5 {
						continue
					}
				case x.kind == isValue || x.kind == namesField && len(f.Enum) > 0:
					if x.kind == namesField && a.units == nil && !(dist < 1.2 && !g.mentions("pressure")) {
						continue // "pressure in the Fontan thirteen" is no size
					}
					if x.kind == namesField && g.ctx.sized && x.field.Path == schema.Stage3Connection {
						continue // "Fontan eighteen", when the conduit has its size
					}
					if f = g.sizeOf(x); f == nil {
						continue
					}
				case x.kind != namesField:
					continue
				}
				onPump := false
				if q := g.onPumpField(f, a); q != nil {
					f, onPump = q, sc&(unreal&^past) == 0
				}
				if f.Path == schema.SupportBypassTotal && (g.is(s.from, "after", "post", "before", "off") || g.is(s.from-1, "after", "post", "before", "off")) {
					continue // "urine after bypass forty"
				}
				if f.Path == schema.SupportBypassTotal && g.noPumpTime(s, a) {
					continue
				}
				if (f.Path == schema.HybridArmPressure || f.Path == schema.HybridLegPressure) && !strings.Contains(g.ctx.form, "band") && g.ctx.form != "hybrid" && g.ctx.form != "ductal-stent-alone" {
					continue
				}
				if f.Path == schema.MechanicalRunHours && a.units == nil && !g.within(s, "hour") {
					continue // "on ECMO, flow one twenty"
				}
				if f.Section == "catheter" && !g.mentions("cath", "catheter", "angiogram", "mri", "angio", "ct", "pre", "preop", "mr") {
					continue
				}
				if f.Path == schema.ClottingHeparin && len(a.decimal) < 3 && !g.heparinOnce(i) && !(g.ctx.form == "hybrid" && slices.Contains(a.units, "[iU]/kg") && !g.wholeUnit(a)) {
					continue // an infusion's dose, more likely than what was given for bypass
				}
				if f.Path == schema.LeavingInspiredOxygen && g.mentions("sweep") {
					if f = fieldAt(schema.MechanicalSweepOxygen); !g.inNote(f) {
						continue
					}
				}
				if a.from < s.from && s.to-s.from == 1 && f.Unit == "mm[Hg]" && (f.Section == "stage2" || f.Section == "stage3") && !g.is(a.to, "in") {
					continue // "one atrial and one ventricular"
				}
				if f.Path == schema.SupportPerfusionTotal && g.is(s.from, "antegrade") && s.to-s.from == 1 && !g.mentions("perfusion", "cerebral", "acp") {
					continue // "two doses antegrade" of cardioplegia
				}
				if f.Path == schema.SupplyDiastolicFall && g.is(a.from-1, "to", "from") {
					continue
				}
				if f.Path == schema.PerfusionBalance && !g.mentions("balance", "bypass", "pump", "fluid") {
					continue
				}
				if f.Path == schema.VentilationOxygenFlow && !g.mentions("oxygen", "nasal", "prong", "cannula", "hfnc", "optiflow", "o2", "high") {
					continue
				}
				if f.Path == schema.WorkEstimatedLoss && !g.within(s, "blood", "ebl", "estimated") {
					for k := max(0, s.from-5); k < s.from; k++ {
						if g.is(k, "drain") {
							f = fieldAt(schema.LeavingDrainLoss)
						}
					}
				}
				if f.Path == schema.PerfusionLowestTemperature && g.lex.kind == schema.SupportOn && !g.mentions("bypass", "pump") {
					continue // how far the child is cooled on support is another thing
				}
				if f.Path == schema.ApproachImagingDistance && a.units == nil {
					continue // "one behind the sternum" is a drain
				}
				if p := fieldAt(schema.PerfusionUrine); f.Path == schema.LeavingUrine && g.inNote(p) && g.is(a.to, "on", "during") && (g.is(a.to+1, "bypass", "pump", "cpb") || g.is(a.to+1, "the") && g.is(a.to+2, "pump", "bypass")) {
					f = p
				}
				if f.Path == schema.VentilationNitricOxide && g.endedAfter(a.to) {
					continue
				}
				if f.Path == schema.SupplyBandGradient && g.ctx.form == "hybrid" {
					continue
				}
				if f.Section == "before" && (sc&past == 0 || f.SpokenAs != "" && sc&coming == 0) && !g.within(s, "before", "preoperative", "preop", "prostaglandin", "prostin") {
					continue
				}
				if f.Path == schema.LeavingTemperature && len(a.decimal) >= 2 && (a.decimal < "34" || a.decimal == "34") && a.decimal >= "10" {
					// no child leaves theatre that cold: it is how far bypass went
					if f = fieldAt(schema.PerfusionLowestTemperature); !g.inNote(f) || g.leavingAt(a) {
						continue
					}
				}
				if h := smallHour(a); h != "" && f.Format == "moment" && f.Section == "operation" && g.is(a.from-1, "at") && endsTime(g.toks, a.to) {
					a.clock = h // "knife at nine"
				}
				v, exact, fit := fits(f, a)
				anchor := s.scope
				if g.clause[s.from] != g.clause[a.from] || g.leavingAt(a) || g.chosenAt(a) {
					anchor &^= past | weighed | formerly // "62 before we revised it, 79 on leaving"
				}
				onPump = onPump || f.Section == "perfusion" && sc&unreal == past && (g.onBypass(a) || g.within(s, "bypass", "pump", "peak", "highest", "worst", "max", "maximum"))
				if f.Path == schema.PerfusionPeakLactate && !onPump && !g.within(s, "peak", "peaked", "highest", "worst", "max", "bypass") {
					continue
				}
				if !fit || !onPump && !allowed(f, sc|anchor&^vague) {
					continue
				}
				cost := dist
				if !exact && a.units != nil {
					cost += 0.3
				}
				if a.units != nil && f.Unit == "" {
					continue
				}
				if (f.Name == "inspiredOxygen" || f.Name == "sweepOxygen") && g.is(s.to-1, "oxygen") && s.to-s.from == 1 && !strings.HasPrefix(a.decimal, "0.") && !slices.Contains(a.units, "%") {
					continue
				}
				if f.Path == schema.ClosingSternalSutures && (dist > 3.2 || g.is(a.from-1, "day")) {
					continue
				}
				if f.Format == "moment" && s.from > a.from {
					continue
				}
				if f.Format == "moment" && !g.signs[a.sign].num.surely && !g.clockish(a) && !(f.Section == "operation" && a.from-s.to <= 1 && len(a.decimal) >= 3 && !g.signs[a.sign].num.figures) {
					continue
				}
				if !usual(f, g.lex.kind, v) {
					cost += 0.8
				}
				if s.to-s.from == 1 && weakNames[g.toks[s.from].text] && dist > 1.5 {
					continue
				}
				if x.kind == isValue {
					cost += 0.2
				}
				cost += g.unfit(f) + g.catheterLater(f, a, sc) + float64(s.to-s.from)*-0.05
				pairs = append(pairs, pair{ai, i, f, v, cost})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.cost, b.cost) })
	doneA, doneS := map[int]bool{}, map[[2]int]bool{}
	doneF := map[*schema.Field]int{}
	for _, p := range pairs {
		once := [2]int{p.sign, 0}
		switch {
		case p.field.SpokenAs != "":
			once[1] = 1 // "sats seventy two in clinic, eighty six now": the name serves both
		case p.field.Section == "perfusion":
			once[1] = 2 // "lactate six on pump, four now"
			if p.field.Path == schema.PerfusionHaematocritBefore {
				once[1] = 3
			}
		}
		if doneA[p.amount] || doneS[once] {
			continue
		}
		doneA[p.amount], doneS[once] = true, true
		a := amounts[p.amount]
		s := &g.signs[p.sign]
		doneF[p.field]++
		g.useAmount(a)
		if !g.alsoValue(s, p.field) && p.field.SpokenAs == "" {
			s.used = true
		}
		if (g.signs[a.sign].scope|s.scope)&denied != 0 && p.value != "0" {
			continue
		}
		if p.value == "0" && p.field.None != "" && p.field.Min != nil {
			c := g.claimField(p.field, "", a.from, a.to, min(s.from, a.from), max(s.to, a.to))
			c.stated = schema.StatedNone
			for list, total := range totalOf {
				if p.field.Path == total {
					c.field = fieldAt(list)
				}
			}
			continue
		}
		if n, ok := g.alsoSaid(a, p.field); ok { // "bypass fifty, fifty five": which, is for a person
			v, _, _ := fits(p.field, n)
			g.claimField(p.field, v, n.from, n.to, min(s.from, a.from), n.to)
			g.useAmount(n)
		}
		c := g.claimField(p.field, p.value, a.from, a.to, min(s.from, a.from), max(s.to, a.to))
		if b := g.boundBefore(a); b != "" {
			c.bound = b
		}
		g.judge(c, a)
		g.readWhen(p.field, a)
	}
}

// readWhen reads the time said after a number, where the field has a field for it:
// "protamine three per kilo at twelve twenty".
func (g *segment) readWhen(f *schema.Field, a amount) {
	at := fieldAt(f.Path + "At")
	if at == nil || at.Format != "moment" || !g.inNote(at) {
		return
	}
	for n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from-a.to <= 4 && !g.crossesStop(a.to, g.signs[n].from); n++ {
		s := &g.signs[n]
		if s.num == nil || s.used || s.num.clock == "" || !g.is(s.from-1, "at", "@") || s.scope&(unreal|denied) != 0 {
			continue
		}
		g.claimField(at, s.num.clock, s.from, s.to, a.from, s.to)
		s.used = true
		return
	}
}

// readOtherSide gives a number that a bare side announces to the partner of the
// field that the number before it filled: "NIRS right sixty four, left sixty one".
func (g *segment) readOtherSide() {
	for i := 1; i+1 < len(g.signs); i++ {
		s := &g.signs[i]
		side := g.sideOf(s)
		if side != "right" && side != "left" || s.content2() || !g.plainTalk(i) {
			continue
		}
		n := i + 1
		if g.signs[n].num == nil || !g.plainTalk(n) || g.signs[n].from-s.to > 1 {
			continue
		}
		a, _ := g.amountAt(n)
		for c := range g.claims {
			x := &g.claims[c]
			q := g.lex.partner[x.field]
			if q == nil || x.group >= 0 || x.to > s.from || s.from-x.to > 4 || !strings.Contains(strings.ToLower(q.Name), side) {
				continue
			}
			if v, _, ok := fits(q, a); ok {
				g.judge(g.claimField(q, v, a.from, a.to, s.from, a.to), a)
				g.useAmount(a)
			}
			break
		}
	}
}

// calledFor tells whether what was said before calls for the field: a material,
// once there is a conduit.
func (g *segment) calledFor(f *schema.Field) bool {
	if len(f.When) == 0 || !g.lex.generic[f] {
		return false
	}
	v := g.ctx.value(f.When[0].Field)
	if v != "" && g.sizeOf(sense{kind: isValue, field: fieldAt(f.When[0].Field), value: v}) == nil {
		return false
	}
	return v != "" && slices.Contains(f.When[0].In, any(v))
}

// endedAfter tells whether what was said up to token k has been stopped since.
func (g *segment) endedAfter(k int) bool {
	for j := k; j < len(g.toks) && j < k+7; j++ {
		if g.toks[j].kind == stop {
			return false
		}
		if g.is(j, "stopped", "off", "weaned", "discontinued") {
			return true
		}
	}
	return false
}

// leavingAt tells whether "on leaving" or "now" stands beside an amount.
func (g *segment) leavingAt(a amount) bool {
	for n := g.prevSign(a.from); n >= 0 && a.from-g.signs[n].to <= 3; n-- {
		if g.signs[n].is(arrives) {
			return true
		}
	}
	for n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from-a.to <= 3; n++ {
		if g.signs[n].is(arrives) {
			return true
		}
	}
	return false
}

// chosenAt tells whether "we used" stands before an amount.
func (g *segment) chosenAt(a amount) bool {
	if g.is(a.to, "was") && g.is(a.to+1, "used", "chosen", "placed", "implanted", "right") || g.is(a.to, "went") && g.is(a.to+1, "in") || g.is(a.to, "fitted", "fit") {
		return true
	}
	n := g.prevSign(a.from)
	return n >= 0 && a.from-g.signs[n].to <= 2 && g.signs[n].is(chooses) && (a.from == g.signs[n].to || g.is(a.from-1, "a", "an", "the", "with"))
}

// rateFor is the rate that a number after a rhythm gives: "sinus at 155", "A
// paced at 120".
func (g *segment) rateFor(a amount, s *sign, rhythm string) *schema.Field {
	end := s.to
	if g.is(end, "rhythm") {
		end++
	}
	if a.from < end || a.from-end > 4 || !(g.is(a.from-1, "at", "of", "rate", "around", "about", "@") || a.from == end || g.is(a.from-1, ",") && a.from == end+1 && a.units == nil && (len(a.decimal) == 3 || len(a.decimal) == 2 && a.decimal >= "70") && (a.to >= len(g.toks) || g.toks[a.to].kind == stop || g.is(a.to, ","))) {
		return nil
	}
	if g.beneath(s) && !g.unpaced() {
		return nil
	}
	if strings.HasSuffix(rhythm, "-paced") {
		return fieldAt(schema.LeavingPacingRate)
	}
	return fieldAt(schema.LeavingHeartRate)
}

// totalFor is the field that a number beside a name belongs to: for a list of
// periods, the sum of them.
func (g *segment) totalFor(x sense) *schema.Field {
	f := x.field
	if f == nil || x.item != nil {
		return nil
	}
	list := f.Path
	if f.Type != "rows" {
		if list = f.Path.List(); f.Name != "minutes" {
			return f
		}
	}
	if t := totalOf[list]; t != "" && x.kind == namesField {
		return fieldAt(t)
	}
	return f
}

// alsoSaid is a second number right after the first, parted by a comma alone and
// belonging to nothing else.
func (g *segment) alsoSaid(a amount, f *schema.Field) (amount, bool) {
	if !g.is(a.to, ",") || !g.numberAt(a.to+1) {
		return amount{}, false
	}
	i := int(g.at[a.to+1])
	if g.signs[i].used || g.signs[i].scope&(unreal|denied) != 0 || g.signs[i].num.surely {
		return amount{}, false
	}
	b, _ := g.amountAt(i)
	if b.to < len(g.toks) && g.toks[b.to].kind != stop && !g.is(b.to, ",") {
		return amount{}, false
	}
	v, _, ok := fits(f, b)
	return b, ok && usual(f, g.lex.kind, v) && !(a.units != nil && b.units == nil)
}

// judge marks what wants a look: a value outside the usual range, a unit that
// was changed into the field's.
func (g *segment) judge(c *claim, a amount) {
	if c.field.Numeric() && !usual(c.field, g.lex.kind, c.value) && c.sure == Certain {
		c.sure, c.note = Check, "outside the usual range"
	}
	if a.said != "" && c.field.Unit == "mm[Hg]" && slices.Contains(a.units, "kPa") && c.sure == Certain {
		c.sure, c.note = Check, "changed from "+a.said
	}
}

// alsoValue tells whether the sign, having given its number to f, still says a
// value of its own: "five millimetre Sano".
func (g *segment) alsoValue(s *sign, f *schema.Field) bool {
	for _, x := range s.senses {
		if x.kind == isValue || (x.kind == isItem || x.kind == isVariety) {
			return true
		}
	}
	return false
}

// clockish tells whether the words before an amount announce a time of day.
func (g *segment) clockish(a amount) bool {
	return g.is(a.from-1, "at", "from", "to", "until", "till", "by", "on", "off", "@", "-", ":", "was") || g.is(a.from-2, "at", "from") || g.signs[a.sign].num.figures && g.signs[a.sign].num.clock != "" && len(g.words(a.from, a.to)) >= 4
}

// boundBefore reads "over", "less than" before an amount.
func (g *segment) boundBefore(a amount) string {
	if g.is(a.from-1, ">", "<") && !g.numberEnds(a.from-1) && !g.is(a.from-2, "-") { // "->" is an arrow
		return g.toks[a.from-1].text
	}
	for n := g.prevSign(a.from); n >= 0 && a.from-g.signs[n].to <= 1; n-- {
		s := &g.signs[n]
		switch {
		case s.scope&denied != 0 && (s.is(above) || s.is(below)):
			return ""
		case s.is(above) && !g.is(s.from, "/"):
			return ">"
		case s.is(below) && g.is(s.from, "under") && g.is(a.to, "of") && slices.Contains(a.units, "min"):
			return "" // "excised under eleven minutes of arrest"
		case s.is(below):
			return "<"
		case !s.is(approx):
			return ""
		}
	}
	return ""
}

// numberEnds tells whether a number ends at token k: then ">" is an arrow.
func (g *segment) numberEnds(k int) bool {
	return k > 0 && g.at[k-1] >= 0 && g.signs[g.at[k-1]].num != nil
}

// distance is how far a name stands from an amount; ok is false where something
// else stands between.
func (g *segment) distance(a amount, i int, amounts []amount) (float64, bool) {
	s := &g.signs[i]
	from, to := s.to, a.from
	before := true // the name stands before the number
	if s.from >= a.to {
		from, to, before = a.to, s.from, false
	}
	if from > to {
		return 0, false
	}
	gap := float64(to - from)
	late := before && (g.leavingAt(a) || g.chosenAt(a)) && g.onlyPast(from, to, a)
	if gap > 9 && !(late && gap < 18) {
		return 0, false
	}
	cost := gap * 0.5
	if late {
		return 3, true
	}
	for k := from; k < to; k++ {
		t := &g.toks[k]
		switch {
		case t.kind == stop:
			return 0, false
		case t.text == ",":
			cost += 2
			if !before {
				return 0, false
			}
			if gap == 1 {
				cost--
			}
		case t.kind == word && subject[t.text]:
			cost += 2
		case t.text == "and":
			cost++
			if !before {
				cost += 2
			}
		case linking[t.text]:
			cost -= 0.3
		}
		n := g.at[k]
		if n < 0 || int(n) == i {
			continue
		}
		p := &g.signs[n]
		if p.from != k {
			continue
		}
		switch {
		case p.num != nil && int(n) != a.sign && g.is(p.from-1, "day", "pod"):
		case p.num != nil && int(n) != a.sign && p.scope&(past|weighed|formerly) != 0 && g.signs[a.sign].scope&(past|weighed|formerly) == 0:
			cost += 0.5
		case p.num != nil && int(n) != a.sign:
			return 0, false
		case p.is(turns), p.is(arrives) && before && gap > 4:
			cost += 2
		case p.content() && !p.used:
			cost += 1.5
			if before && p.to-p.from > 1 {
				cost++
			}
		case p.used && p.content():
			cost += 2.5
		}
	}
	if !before {
		if slices.Contains(a.units, "min") && gap == 1 && g.is(a.to, "of") {
			return 0, true // "a hundred and fifty five minutes of bypass, seventy of them clamped"
		}
		cost += 0.9
		if gap > 3 {
			return 0, false
		}
		if a.units == nil && gap > 0 && !g.is(a.to, "minute", "of", "for", "on") {
			cost += 1.5
		}
	}
	return cost, cost <= 6
}

// onlyPast tells whether tokens from..to speak of nothing but a state that has
// passed, so that a number after them still answers the name before: "sats were
// 62 before we revised it, 79 on leaving".
func (g *segment) onlyPast(from, to int, a amount) bool {
	seen := false
	for k := from; k < to; k++ {
		n := g.at[k]
		if n < 0 || g.signs[n].from != k {
			continue
		}
		p := &g.signs[n]
		if p.num != nil {
			if p.scope&(past|weighed|formerly) == 0 && !p.used {
				return false
			}
			seen = true
		}
		if p.used {
			continue
		}
		for _, x := range p.senses {
			if x.kind == namesField && x.field.Numeric() && x.field.Path.List() == "" && k >= a.from-4 {
				return false
			}
		}
	}
	return seen
}

var linking = wordSet("of is was were at to the a total time with time's : = reading been came up about it its now for got he's had equals held holding stays steady stable")

// mentions tells whether the segment holds one of the words.
func (g *segment) mentions(words ...string) bool {
	for _, w := range words {
		if b := wordBit(w); g.wordBits[b>>6]&(1<<(b&63)) == 0 {
			continue // most are not there, and this tells at once
		}
		for i := range g.toks {
			if g.toks[i].text == w {
				return true
			}
		}
	}
	return false
}

// wordBit is the bit of a word among the 256 that a segment keeps of its words.
func wordBit(w string) uint8 {
	if w == "" {
		return 0
	}
	return w[0]*31 + w[len(w)-1]*7 + uint8(len(w))*3 + w[len(w)/2]
}

// sizeOf is the size that a value calls for: a Sano has a conduit diameter. It
// is read from the definitions: a length in millimetres that is relevant only
// with that value.
func (g *segment) sizeOf(x sense) *schema.Field {
	s := schema.SectionNamed(x.field.Section)
	if s == nil || x.field.Type != "string" || x.field.Path == schema.SupportMode {
		return nil
	}
	for _, f := range s.FieldsIn(g.lex.kind) {
		if f.Unit != "mm" || len(f.When) != 1 || len(f.When[0].In) == 0 {
			continue
		}
		w := f.When[0]
		if w.Field == x.field.Path && (x.kind == namesField || slices.Contains(w.In, any(x.value))) && !isLength(f) {
			return f
		}
	}
	return nil
}

func isLength(f *schema.Field) bool { return f.Name == "conduitLength" || f.Name == "length" }
