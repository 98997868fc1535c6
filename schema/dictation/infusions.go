package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// usualDose is the unit a dose of a drug is given in where the unit is not said,
// and the span of numbers for which that is beyond doubt. Common practice, no
// source, but for the spans, which are the usual ranges of the field widened.
var usualDose = map[string]struct {
	unit      string
	low, high float64
}{
	"adrenaline": {"ug/kg/min", 0.005, 1}, "noradrenaline": {"ug/kg/min", 0.005, 1}, "milrinone": {"ug/kg/min", 0.1, 1.5},
	"dopamine": {"ug/kg/min", 1, 25}, "dobutamine": {"ug/kg/min", 1, 25}, "alprostadil": {"ug/kg/min", 0.001, 0.4},
	"sodium-nitroprusside": {"ug/kg/min", 0.1, 10}, "vasopressin": {"[iU]/kg/min", 0.00001, 0.005},
	"calcium-chloride": {"mg/kg/h", 1, 40}, "heparin": {"[iU]/kg/h", 2, 50}, "fentanyl": {"ug/kg/h", 0.2, 20}, "morphine": {"ug/kg/h", 2, 100},
	"dexmedetomidine": {"ug/kg/h", 0.1, 2.5}, "levosimendan": {"ug/kg/min", 0.02, 0.4}, "bivalirudin": {"mg/kg/h", 0.02, 2}, "tranexamic-acid": {"mg/kg/h", 0.5, 20},
}

const running = schema.InfusionsRunning

// drugAt is the drug that sign i names, or "".
func (g *segment) drugAt(i int) string {
	for _, x := range g.signs[i].senses {
		if x.kind == isValue && x.field.Path == schema.InfusionsRunningDrug && (!x.inner || g.is(g.signs[i].to-1, "at", "on", "of", "running")) {
			return x.value
		}
	}
	return ""
}

// readInfusions reads drugs with their doses and the lines they run through.
func (g *segment) readInfusions() {
	row := func(name string) *schema.Field { return fieldAt(schema.RowPath(running, "*", name)) }
	var drips []drip
	for i := range g.signs {
		s := &g.signs[i]
		drug := g.drugAt(i)
		if drug == "" || s.used || drug == "other" {
			continue
		}
		end := len(g.toks)
		for j := i + 1; j < len(g.signs); j++ {
			if g.drugAt(j) != "" && g.signs[j].from >= g.drugEnd(i) {
				end = g.signs[j].from
				break
			}
		}
		told := g.drugTold(i, end)
		back := g.backOn(i, end)
		if back && told == drugStopped {
			told = ""
		}
		changed := g.titrated(i, drug, end)
		if changed != nil || back || s.scope&(past|intended|weighed) != 0 && g.stoppedNow(i, end) || s.scope&(intended|coming) == 0 && g.is(s.from-1, "no") && g.is(s.from-2, "had") {
			s.scope &^= past | formerly | intended | weighed // what it ran at first was then; "he has had no adrenaline"
		}
		if told != "" {
			s.scope &^= past | formerly | intended | weighed | denied
			g.useRunning(i, end)
		}
		if s.scope&unreal != 0 {
			continue
		}
		if told == drugNever || g.neverRan(i) {
			s.scope |= denied
		}
		if drug == "heparin" && g.heparinOnce(i) || drug == "alprostadil" && told == drugNever {
			continue // it was given before the clamp, or before bypass
		}
		if s.scope&denied != 0 {
			if g.is(s.to, "bolus", "loading", "load", "boluse") {
				continue // a dose at once, not what runs
			}
			if drug == "heparin" && !g.mentions("infusion", "running", "started", "start", "restarted", "begun", "through", "via", "drip", "yet") && !g.otherDrug(i) {
				s.used = s.used || g.mentions("till", "until", "tonight", "later", "needed")
				continue // the dose before bypass, or the infusion after it
			}
			if (drug == "aprotinin" || drug == "tranexamic-acid") && !g.infusionTalk(i) {
				continue // what was not given, more likely than what does not run
			}
			if g.lex.alone[s.node] || g.infusionTalk(i) || !bolusDrugs[drug] || drug == "heparin" {
				gi := g.newGroup(running, s.from, s.to)
				g.groups[gi].denied = true
				g.claimIn(gi, row("drug"), drug, s.from, s.to, s.from, s.to)
				s.used = true
			}
			continue
		}
		if drug == "alprostadil" && (told == drugStopped || g.stateAfter(i, end) == "stopped" || g.mentions("theater", "until", "before")) {
			continue // what became of it has fields of its own
		}
		dose, unit, how := g.doseOf(i, drug, end)
		if changed != nil && (dose == nil || dose.from < changed.from) {
			if dose != nil {
				g.useAmount(*dose)
				dose = changed
			} else if u, ok := usualDose[drug]; ok && changed.units == nil {
				dose, unit, how = changed, u.unit, "unsaid"
			}
		}
		line := g.lineAfter(i, end)
		state := told
		if state == "" && !back {
			state = g.stateAfter(i, end)
		}
		for j := i + 1; state == "standby" && j < len(g.signs) && g.signs[j].from < end; j++ {
			g.signs[j].used = g.signs[j].used || g.signs[j].is(standbyCue) // it is the drug that stands by, not the box
		}
		if dose != nil && drug == "calcium-chloride" && how == "unsaid" && s.to-s.from == 1 && len(dose.decimal) <= 4 && dose.decimal[0] <= '2' && (len(dose.decimal) == 1 || dose.decimal[1] == '.') {
			continue // a calcium of 1.28 is a blood value
		}
		if dose == nil && drug == "alprostadil" {
			continue
		}
		alone := state != "" && s.from <= 1 && (len(g.toks) <= 7 || state == "standby" && len(g.toks) <= 11) && drug != "heparin" && !g.numberIn(0, len(g.toks)) // "Rocuronium, stopped."
		inList := alone || len(drips) > 0 && g.listed(drips[len(drips)-1].sign, i) && (state != "" || g.numberAt(s.to))                                          // "fentanyl five, midazolam sixty, rocuronium off"
		bare := usualDose[drug].unit == "" && !bolusDrugs[drug] && g.numberAt(s.to) || g.inLumen(i)                                                              // "levosimendan point one"
		if dose == nil && line < 0 && state == "" && !g.infusionTalk(i) && !inList && !bare {
			continue
		}
		if dose == nil && !inList && !bare && !g.infusionTalk(i) && line < 0 && state != "stopped" && told == "" && (bolusDrugs[drug] || !g.lex.alone[s.node]) {
			continue
		}
		if dose != nil && state == "stopped" {
			g.useAmount(*dose) // what it ran at before
			dose = nil
		}
		if dose != nil && g.laterOn(dose.to) {
			g.useAmount(*dose)
			continue // "heparin 10 when the drains are dry"
		}
		gi := g.newGroup(running, s.from, s.to)
		c := g.claimIn(gi, row("drug"), drug, s.from, s.to, s.from, s.to)
		if drug == "calcium-chloride" && !g.saltSaid(s) {
			c.sure, c.note = Check, "which calcium was not said"
		}
		drips = append(drips, drip{i, gi, end})
		s.used = true
		if dose != nil {
			w, wt := min(s.from, dose.from), max(s.to, dose.to)
			c := g.claimIn(gi, row("dose"), dose.decimal, dose.from, dose.to, w, wt)
			sure, note := Certain, ""
			if how == "unsaid" {
				sure, note = Check, "the unit was not said: "+schema.UnitShown(unit)+" is usual"
			}
			if c.sure == Certain {
				c.sure, c.note = sure, note
			}
			u := g.claimIn(gi, row("doseUnit"), unit, dose.from, dose.to, w, wt)
			u.sure, u.note = sure, note
			g.useAmount(*dose)
		}
		if state != "" {
			g.claimIn(gi, row("state"), state, s.from, s.to, s.from, s.to)
		}
		if r := g.rateOf(i, end); r != nil {
			g.claimIn(gi, row("rate"), r.decimal, r.from, r.to, s.from, r.to)
			g.useAmount(*r)
		}
	}
	// The line named after the last of a list is the line of all in it:
	// "milrinone 0.5 and adrenaline 0.05 through the left atrial line".
	item := row("item")
	before := -1 // the line that a list of drugs follows
	last := -1   // the line of the drug before
	first := len(drips) > 0 && g.lineBefore(drips[0].sign) >= 0
	for n := range drips {
		if g.stateAfter(drips[n].sign, drips[n].end) == "stopped" {
			continue
		}
		m := n
		line := g.lineAfter(drips[n].sign, drips[n].end)
		if first && line >= 0 && n+1 < len(drips) && g.lineBefore(drips[n+1].sign) == line {
			line = -1 // of the drug after it: "through the CA line milrinone and through the jugular calcium"
		}
		if line < 0 {
			line = g.lineBeside(drips[n].sign, drips[n].end)
		}
		if line < 0 && last >= 0 && g.saysSame(drips[n].sign, drips[n].end) {
			line = last // "milrinone .5 same"
		}
		for !first && line < 0 && m+1 < len(drips) && g.listed(drips[m].sign, drips[m+1].sign) && g.drugTold(drips[m+1].sign, drips[m+1].end) != drugStopped {
			m++
			line = g.lineAfter(drips[m].sign, drips[m].end)
		}
		if line < 0 && g.saysIt(drips[n].sign, drips[n].end) {
			line = g.lineNamedBefore(drips[n].sign)
		}
		if line < 0 {
			line = g.lineBefore(drips[n].sign)
			if line >= 0 && n > 0 && !first && line == g.lineAfter(drips[n-1].sign, drips[n-1].end) {
				line = -1 // "milrinone through the UVC, fentanyl five": of the drug before
			}
			if line < 0 {
				line = g.lineHeading(drips[n].sign)
			}
			if line < 0 && before >= 0 && n > 0 && g.listed(drips[n-1].sign, drips[n].sign) {
				line = before
			}
			if line < 0 {
				before = -1
				if g.ctx.line != "" && (g.sameLine(drips[n].sign, drips[n].end) || g.saysIt(drips[n].sign, drips[n].end) && !strings.HasPrefix(g.ctx.line, "arterial-line/")) {
					s := &g.signs[drips[n].sign]
					g.claimIn(drips[n].group, item, g.ctx.line, s.from, s.to, s.from, s.to)
				}
				continue
			}
			before = line
		}
		g.links = append(g.links, link{group: drips[n].group, sign: line, field: item})
		last = line
	}
	g.readLumens(drips)
}

// saltSaid tells whether the salt stands in or beside the name of a drug.
func (g *segment) saltSaid(s *sign) bool {
	for k := s.from; k < s.to+1 && k < len(g.toks); k++ {
		if strings.Contains(g.toks[k].text, "chlor") || strings.HasPrefix(g.toks[k].text, "cacl") || strings.HasPrefix(g.toks[k].text, "cl") {
			return true
		}
	}
	return false
}

// otherDrug tells whether the segment names another drug than sign i does.
func (g *segment) otherDrug(i int) bool {
	for j := range g.signs {
		if d := g.drugAt(j); d != "" && d != g.drugAt(i) {
			return true
		}
	}
	return false
}

// lineBeside is the line named right after a drug and its dose: "calcium 10 UVC
// proximal", or -1.
func (g *segment) lineBeside(i, end int) int {
	k := g.signs[i].to
	for n := i + 1; n < len(g.signs) && g.signs[n].from < end && g.signs[n].from-k <= 1 && !g.crosses(k, g.signs[n].from); n++ {
		s := &g.signs[n]
		if s.num != nil || s.has(isUnit) {
			k = s.to
			continue
		}
		for _, x := range s.senses {
			if x.kind == isItem && x.item.Group == "lines" && k > g.signs[i].to {
				return n
			}
		}
		break
	}
	return g.lineApart(k, i, end)
}

// lineApart is the line that a sentence, or the drugs after it, end with after a drug and its
// dose, with or without a comma and its lumen: "Milrinone 0.5, left PICC.", "calcium chloride
// eight, right atrial again", "adrenaline 0.04, distal IJ", "noradrenaline 0.05 femoral"; or -1.
func (g *segment) lineApart(k, i, end int) int {
	s := &g.signs[i]
	if k == s.to || s.from > 0 && g.toks[s.from-1].kind != stop && !g.is(s.from-1, ",", ":", "(", "and") {
		return -1
	}
	line := -1
	for k < end {
		n := g.nextSign(k)
		switch {
		case n < len(g.signs) && g.signs[n].from == k && (g.lineAt(n) || g.linePlace(n)) && !g.is(g.signs[n].to, "wire", "drain", "pressure"):
			line, k = n, g.signs[n].to
		case n < len(g.signs) && g.signs[n].from == k && (g.signs[n].is(rightSide) || g.signs[n].is(leftSide)):
			k = g.signs[n].to
		case g.toks[k].kind == stop || g.is(k, ")"):
			return line
		case g.is(k, ",", "again", "too", "line", "the", "lumen", "port", "limb", "of") || lumenNames[g.toks[k].text] != "":
			k++
		default:
			return -1
		}
	}
	if end == len(g.toks) || g.is(end-1, ",") || g.toks[end-1].kind == stop {
		return line
	}
	return -1
}

// linePlace tells whether sign n is where a line goes in, without its noun: "left hand",
// "right atrial".
func (g *segment) linePlace(n int) bool {
	return slices.ContainsFunc(g.signs[n].senses, func(x sense) bool {
		return x.kind == isVariety && x.item.Group == "lines" && !ignored[x.item.Name]
	})
}

// saysSame tells whether the drug at sign i is said to run in the same line as the
// one before.
func (g *segment) saysSame(i, end int) bool {
	for k := g.signs[i].to; k < end && k < g.signs[i].to+7 && g.toks[k].kind != stop; k++ {
		if g.is(k, "same") || g.withIt(k) {
			return true
		}
	}
	return false
}

// sameLine tells whether the drug at sign i is said to run in the line named in the
// sentence before: "that one carries milrinone", "milrinone, same line".
func (g *segment) sameLine(i, end int) bool {
	s := &g.signs[i]
	for k := s.to; k+1 < end && k < s.to+12; k++ {
		if g.is(k, "same") && g.is(k+1, "line") || g.withIt(k) && strings.HasPrefix(g.ctx.line, "central-venous-line/") {
			return true
		}
	}
	return g.is(0, "that", "this", "it", "same") && (g.is(1, "one", "line", "carrie", "carry", "run", "has", "take") || g.is(2, "carrie", "carry", "has", "run", "line", "take"))
}

// bolusDrugs are given as single doses too, so that the bare name is no infusion.
var bolusDrugs = map[string]bool{"heparin": true, "tranexamic-acid": true, "aminocaproic-acid": true, "calcium-chloride": true, "calcium-gluconate": true, "rocuronium": true, "vecuronium": true, "cisatracurium": true,
	"fentanyl": true, "morphine": true, "midazolam": true, "ketamine": true, "propofol": true, "furosemide": true, "hydrocortisone": true, "magnesium-sulfate": true, "potassium-chloride": true, "glucose": true,
	"amiodarone": true, "lidocaine": true, "maintenance-fluid": true, "flush": true, "insulin": true, "aprotinin": true, "dinoprostone": true, "alprostadil": true, "local-anaesthetic": true, "parenteral-nutrition": true, "bivalirudin": true}

// link ties an infusion, or a pressure, to the thing named at a sign.
type link struct {
	group int
	sign  int
	field *schema.Field
}

// infusionTalk tells whether the words round sign i speak of infusions.
func (g *segment) infusionTalk(i int) bool {
	s := &g.signs[i]
	if g.is(0, "running", "infusion", "drip") && (g.is(1, ":", ",", "now", "are") || len(g.toks) > 1 && g.at[1] >= 0) {
		return true
	}
	for k := max(0, s.from-6); k < len(g.toks) && k < s.to+4; k++ {
		switch g.toks[k].text {
		case "infusion", "drip", "running", "runs", "run", "infusing", "support", "inotrope", "inotropic", "pressor":
			return true
		}
	}
	return false
}

// listed tells whether two drugs stand in one list: no stop between, joined.
func (g *segment) listed(a, b int) bool {
	x, y := &g.signs[a], &g.signs[b]
	if y.from-x.to > 9 {
		return false
	}
	for k := x.to; k < y.from; k++ {
		if g.toks[k].kind == stop || g.toks[k].kind == word && subject[g.toks[k].text] {
			return false
		}
	}
	return true
}

// doseOf finds the dose of the drug at sign i. how is "said", "unsaid" or
// "bolus".
func (g *segment) doseOf(i int, drug string, end int) (*amount, string, string) {
	s, name := &g.signs[i], g.drugEnd(i)
	doseUnits := fieldAt(schema.InfusionsRunningDoseUnit).Enum
	read := func(a amount) (string, string) {
		if a.units == nil {
			u, ok := usualDose[drug]
			if v, err := strconv.ParseFloat(a.decimal, 64); ok && err == nil && v >= u.low && v <= u.high {
				return u.unit, "unsaid"
			}
			return "", ""
		}
		// the whole unit, or a part of it that only the usual unit completes
		full := ""
		n := 0
		for _, u := range a.units {
			if slices.Contains(doseUnits, u) && u != "mL/h" {
				n++
				if full == "" || u == usualDose[drug].unit {
					full = u
				}
			}
		}
		if u, ok := usualDose[drug]; ok && g.wholeUnit(a) && (strings.HasPrefix(a.said, "per ") || strings.HasPrefix(a.said, "a kilo") || strings.HasPrefix(a.said, "/kg") || strings.HasPrefix(a.said, "an hour")) { // "ten per kilo an hour": the mass is the usual one
			if v, err := strconv.ParseFloat(a.decimal, 64); err == nil && v >= u.low && v <= u.high && (strings.HasSuffix(u.unit, "/h") && (slices.Contains(a.units, "mL/kg/h") || strings.HasPrefix(a.said, "an hour")) || strings.HasSuffix(u.unit, "/min") && slices.Contains(a.units, "mL/kg/min")) {
				return u.unit, "unsaid"
			}
		}
		if v, err := strconv.ParseFloat(a.decimal, 64); drug == "alprostadil" && strings.HasPrefix(a.said, "nano") && err == nil && v >= 2 && v <= 100 {
			return "ng/kg/min", "unsaid"
		}
		if v, err := strconv.ParseFloat(a.decimal, 64); drug == "vasopressin" && strings.HasPrefix(a.said, "milli") && !strings.Contains(a.said, "gram") && err == nil && v >= 0.05 && v <= 5 {
			return "m[iU]/kg/min", "unsaid" // "vasopressin 0.3 milliunits"
		}
		if full == "" || n > 1 && usualDose[drug].unit == "" {
			return "", ""
		}
		if !g.wholeUnit(a) { // "0.05 mics", "400 per kilo"
			u, ok := usualDose[drug]
			v, err := strconv.ParseFloat(a.decimal, 64)
			if !ok || err != nil || full != u.unit || v < u.low || v > u.high {
				return "", ""
			}
		}
		return full, "said"
	}
	if a, ok := g.paired[i]; ok {
		if unit, how := read(a); unit != "" {
			return &a, unit, how
		}
	}
	for j := i + 1; j < len(g.signs) && g.signs[j].from < end; j++ {
		p := &g.signs[j]
		if p.from < name {
			continue
		}
		if p.num != nil && p.scope&past != 0 && p.from-name <= 6 {
			continue // "from 0.2 to 0.05"
		}
		if p.from-name > 7 || p.used || g.stopsItem(name, p.from) || p.scope&unreal != 0 {
			break
		}
		if p.num == nil {
			if p.content() && !p.has(isUnit) && !p.is(through) && !p.is(standbyCue) && !p.is(stoppedCue) && !g.lumenWord(p) && g.lumenName(p.from) == "" && !g.rowWord(p, running) && !g.within(p, "support", "infusion", "drip", "gtt", "continue", "continued", "run", "running", "started", "start", "added", "up", "commenced", "begun", "increased") && !(g.is(p.from, "left", "still", "remain") && g.is(p.to, "at", "on", "running")) && !changers[g.toks[p.from].text] && !movers[g.toks[p.from].text] {
				break
			}
			continue
		}
		if p.num.decimal == "" {
			break
		}
		a, _ := g.amountAt(j)
		if n := g.nextSign(a.to); g.bolusAmount(a) || g.is(a.to, "of") && n < len(g.signs) && g.signs[n].from == a.to+1 && g.drugAt(n) != "" {
			break // "milrinone, and point oh three of adrenaline": of the drug after it
		}
		if unit, how := read(a); unit != "" {
			if how == "said" && !g.wholeUnit(a) {
				how = "unsaid"
			}
			return &a, unit, how
		}
		break
	}
	// "0.05 of adrenaline", "point oh five epi"
	if i > 0 {
		for j := i - 1; j >= 0 && j >= i-2; j-- {
			p := &g.signs[j]
			if p.num == nil || p.used {
				continue
			}
			a, _ := g.amountAt(j)
			if s.from-a.to > 1 || s.from-a.to == 1 && !g.is(a.to, "of") || g.bolusAmount(a) {
				break
			}
			// not the dose of the drug before
			if h := g.prevDrug(j); h >= 0 && a.from-g.signs[h].to <= 1 && !(g.is(a.to, "of") && a.from > g.signs[h].to) {
				break
			}
			if unit, how := read(a); unit != "" {
				if how == "said" && !g.wholeUnit(a) {
					how = "unsaid"
				}
				return &a, unit, how
			}
		}
	}
	return nil, "", ""
}

// heparinOnce tells whether heparin by the kilo is said to have been given at once: "we
// gave fifty units of heparin per kilo", "heparin a hundred per kilo before the clamp".
func (g *segment) heparinOnce(i int) bool {
	if g.loadOf(i) {
		return true
	}
	if g.signs[i].scope&denied != 0 || !g.mentions("gave", "given", "clamp", "clamping", "bolus") || g.mentions("hour", "infusion", "running", "h", "hr", "hourly") {
		return false
	}
	return g.mentions("kilo", "kg")
}

func (g *segment) prevDrug(j int) int {
	for k := j - 1; k >= 0 && k >= j-3; k-- {
		if g.drugAt(k) != "" {
			return k
		}
	}
	return -1
}

// bolusAmount tells whether an amount is one dose, not a rate: "10 mg".
func (g *segment) bolusAmount(a amount) bool {
	if a.units == nil {
		return false
	}
	for _, u := range a.units {
		switch u {
		case "ug/kg/min", "ug/kg/h", "[iU]/kg/min", "m[iU]/kg/min", "mg/kg/h", "[iU]/kg/h", "mmol/kg/h", "g/kg/h", "mL/kg/h", "ng/kg/min", "mL/h":
			return false
		}
	}
	return true
}

// wholeUnit tells whether the unit was said with its time.
func (g *segment) wholeUnit(a amount) bool {
	if a.unitSign < 0 {
		return false
	}
	u := &g.signs[a.unitSign]
	for k := u.from; k < u.to; k++ {
		switch g.toks[k].text {
		case "min", "minute", "hour", "h", "hr":
			return true
		}
	}
	return false
}

// rateOf reads "at 0.5 mL an hour".
func (g *segment) rateOf(i, end int) *amount {
	s := &g.signs[i]
	for j := i + 1; j < len(g.signs) && g.signs[j].from < end && g.signs[j].from-s.to < 9; j++ {
		if g.signs[j].num == nil || g.signs[j].used {
			continue
		}
		a, _ := g.amountAt(j)
		if slices.Contains(a.units, "mL/h") {
			return &a
		}
	}
	return nil
}

// stateAfter is "stopped" or "standby" where that is said of the drug.
func (g *segment) stateAfter(i, end int) string {
	s := &g.signs[i]
	if g.offByNow(i, end) {
		return "stopped"
	}
	for j := i + 1; j < len(g.signs) && g.signs[j].from < end; j++ {
		p := &g.signs[j]
		turned := p.is(stoppedCue) && g.is(p.from-1, "that", "it") && g.is(p.from-2, "turned", "switched", "took") // "we turned that off"
		turned = turned || p.is(stoppedCue) && p.from == s.to+1 && g.is(s.to, "i", "we", "they")                   // "noradrenaline I turned off"
		if far := p.from - s.to; far > 5 && !(far <= 8 && p.is(stoppedCue) && g.is(p.from-1, "is", "now", "been")) || g.stopsItem(s.to, p.from) && !turned {
			break
		}
		if p.num != nil || p.has(isUnit) {
			continue
		}
		if p.is(standbyCue) && (p.scope&denied == 0 || g.is(p.to, ",") && g.is(p.to+1, "not")) {
			return "standby"
		}
		if p.is(stoppedCue) && (g.notAfterAll(p) || g.comesOff(p.to-1)) {
			continue // "off, actually not off"
		}
		if g.is(p.from, "stopped") && p.from == s.to && p.scope&(denied|intended) == 0 {
			return "stopped"
		}
		if p.is(stoppedCue) && p.scope&(denied|intended) == 0 && !g.is(p.to, "the") && !(changers[g.toks[p.to-1].text] && (g.numberAt(p.to) || g.is(p.to, "to", "down", "from"))) {
			return "stopped"
		}
		if p.content() {
			break
		}
	}
	if i > 0 {
		p := &g.signs[i-1]
		if p.is(stoppedCue) && s.from-p.to <= 1 && !g.crosses(p.to, s.from) && !g.is(p.to, "and", "but") && g.is(p.to-1, "stopped", "discontinued") && !g.is(p.from-1, "is", "its", "was", "been") {
			return "stopped"
		}
	}
	return ""
}

// notAfterAll tells whether what a sign says is denied in the same word right after.
func (g *segment) notAfterAll(s *sign) bool {
	for k := s.to; k+1 < len(g.toks) && k < s.to+5 && g.toks[k].kind != stop; k++ {
		if g.is(k, "not") && g.is(k+1, g.toks[s.to-1].text) {
			return true
		}
	}
	return false
}

// stoppedNow tells whether a drug that ran is said to be off now: "was running at point
// three and it is off now".
func (g *segment) stoppedNow(i, end int) bool {
	for k := g.signs[i].to; k+1 < end && g.toks[k].kind != stop; k++ {
		if g.is(k, "is", "now", "its") && g.is(k+1, "off", "stopped") || g.is(k, "off") && g.is(k+1, "now") {
			return g.stateAfter(i, end) == "stopped"
		}
	}
	return g.offByNow(i, end)
}

// lineAfter is the sign of the line that the drug at sign i is said to run
// through, or -1.
func (g *segment) lineAfter(i, end int) int {
	s := &g.signs[i]
	said := s.to // where the dose ends
	for j := i + 1; j < len(g.signs) && g.signs[j].from-said <= 1 && (g.signs[j].num != nil || g.signs[j].has(isUnit)); j++ {
		said = g.signs[j].to
	}
	limit := min(end, said+14)
	way := false
	for j := i + 1; j < len(g.signs) && g.signs[j].from < limit; j++ {
		p := &g.signs[j]
		if g.stopsItem(s.to, p.from) || p.is(turns) && !way {
			return -1
		}
		if p.is(through) {
			way = true
		}
		if !p.has(isItem) && !p.has(isVariety) {
			if p.num == nil && p.content() && !p.has(isUnit) && !p.is(through) && !g.rowWord(p, running) && !g.lumenWord(p) && !p.is(both) && !g.is(p.from, "peripheral", "peripherally") {
				if way {
					continue
				}
				return -1
			}
			continue
		}
		if !way {
			return -1
		}
		for _, x := range p.senses {
			if (x.kind == isItem || x.kind == isVariety) && x.item.Group == "lines" && p.from-said < 14 && !g.is(p.from-1, "my") {
				return j
			}
		}
		return -1
	}
	return -1
}

// lineBefore is the line named just before the drug: "through the left atrial
// line, milrinone", "RA line has milrinone running".
func (g *segment) lineBefore(i int) int {
	s := &g.signs[i]
	for j := i - 1; j >= 0 && j >= i-4; j-- {
		p := &g.signs[j]
		if s.from-p.to > 3 || g.drugAt(j) != "" || p.num != nil {
			return -1
		}
		if p.has(isItem) || p.has(isVariety) {
			ok := false
			for k := p.to; k < s.from; k++ {
				switch g.toks[k].text {
				case "has", "with", "running", "carrying", "carries", ":", "run", "taking", "for", "is", "are", "got", "we", "go", "goes", "carry", "take", "takes":
					ok = true
				}
			}
			if !ok && !g.wayBefore(j) {
				return -1
			}
			for _, x := range p.senses {
				if (x.kind == isItem || x.kind == isVariety) && x.item.Group == "lines" {
					return j
				}
			}
			return -1
		}
	}
	return -1
}

func (g *segment) wayBefore(j int) bool {
	for k := j - 1; k >= 0 && k >= j-2; k-- {
		if g.signs[k].is(through) && g.signs[j].from-g.signs[k].to <= 2 {
			return true
		}
	}
	return false
}
