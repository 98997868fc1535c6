package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

const readings = schema.PressuresReadings

func readingField(name string) *schema.Field {
	return fieldAt(schema.RowPath(readings, "*", name))
}

// stagePressure gives the fields that stage 2 and 3 have for a pressure of their
// own.
var stagePressure = map[schema.Kind]map[string]schema.Path{
	schema.Stage2: {"glenn": schema.Stage2CavalPressure, "left-atrial": schema.Stage2AtrialPressure, "right-atrial": schema.Stage2AtrialPressure, "common-atrial": schema.Stage2AtrialPressure},
	schema.Stage3: {"fontan": schema.Stage3ConduitPressure, "glenn": schema.Stage3ConduitPressure, "central-venous": schema.Stage3ConduitPressure, "left-atrial": schema.Stage3AtrialPressure, "right-atrial": schema.Stage3AtrialPressure, "common-atrial": schema.Stage3AtrialPressure},
}

// pressureAt is the pressure that sign i names, or "".
func (g *segment) pressureAt(i int) string {
	for _, x := range g.signs[i].senses {
		if x.kind == isValue && x.field.Path == schema.PressuresReadingsPressure {
			return x.value
		}
	}
	// "the common atrial line reads eight"
	for _, x := range g.signs[i].senses {
		if x.kind == isItem && x.item.Name == "intracardiac-line" && readsWord[g.wordAt(g.signs[i].to)] && !g.is(g.signs[i].to, "running", "over") {
			return x.value
		}
		if x.kind == isItem && x.item.Name == "intracardiac-line" && !strings.HasPrefix(x.value, "*") && g.pressureBare(&g.signs[i]) {
			return x.value // "LA line 10", "right atrial line, eight"
		}
		if x.kind == isItem && x.item.Name == "central-venous-line" && g.numberAt(g.signs[i].to) && g.toks[g.signs[i].to-1].text == "line" && i > 2 && g.mentions("read", "reading", "show", "showing") {
			return g.venousPressure(x.value)
		}
		if x.kind == isItem && x.item.Name == "central-venous-line" && readsWord[g.wordAt(g.signs[i].to)] && !g.is(g.signs[i].to, "running", "over") {
			return g.venousPressure(x.value)
		}
	}
	return ""
}

// pressureBare tells whether a number right after a line in the heart can only be what it
// reads: such a line has neither a depth nor a gauge of that size.
func (g *segment) pressureBare(s *sign) bool {
	k := s.to
	for g.is(k, ",", ":", "at", "of", "is", "now", "on", "→") {
		k++
	}
	if k-s.to > 2 || !g.numberAt(k) {
		return false
	}
	a, ok := g.amountAt(int(g.at[k]))
	if v, err := strconv.ParseFloat(a.decimal, 64); !ok || err != nil || v < 3 || v > 25 || a.units != nil || strings.Contains(a.decimal, ".") {
		return false
	}
	return !g.is(a.to, "lumen", "french", "fr", "f", "gauge", "g", "cm", "ch", "over", "/", "to", "day", "mic")
}

// venousPressure is what a line in a vein reads: in the neck, after stage 2, the
// pressure of the lung arteries.
func (g *segment) venousPressure(variety string) string {
	switch {
	case variety == "femoral":
		return "femoral-venous"
	case variety != "jugular" && variety != "subclavian" && variety != "picc" && variety != "tunnelled" && variety != "":
		return ""
	case g.lex.kind == schema.Stage2:
		return "glenn"
	}
	return "central-venous"
}

// gaugeLike are numbers that beside the place of a cannula are its gauge: as pressures
// they would be too low.
var gaugeLike = wordSet("18 20 22 24 26")

// wordAt is the word at token k, or "".
func (g *segment) wordAt(k int) string {
	if k < 0 || k >= len(g.toks) {
		return ""
	}
	return g.toks[k].text
}

// readPressures reads "left atrial pressure eight", "68 over 34 with a mean of
// 45".
func (g *segment) readPressures() {
	f := fieldAt(readings)
	if f == nil || !g.inNote(f) {
		return
	}
	g.readOver()
	g.readReads()
	g.readIn()
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		if name := g.partNamed(s); name != "" {
			g.readPart(i, name)
			continue
		}
		if g.within(s, "sat", "saturation") || g.mentions("output", "milliamp", "ma") && g.is(s.from, "atrial") || g.is(s.to, "wire", "lead", "appendage", "wall", "cannula", "suture", "stitch", "stump", "patch", "anastomosis") {
			continue // of the place, not of what is measured there
		}
		p := g.pressureAt(i)
		if p == "" || (p == "right-arm" || p == "left-arm" || p == "leg") && (g.ctx.form == "hybrid" || g.ctx.form == "bands-prostaglandin" || g.ctx.form == "ductal-stent-alone") {
			continue
		}
		if g.saysMore(s) {
			continue
		}
		a, j, part := g.pressureNumber(i)
		if a == nil {
			continue
		}
		if g.namesPlain(s, *a) {
			continue
		}
		if path := stagePressure[g.lex.kind][p]; path != "" {
			if v, _, ok := fits(fieldAt(path), *a); ok {
				c := g.claimField(fieldAt(path), v, a.from, a.to, s.from, a.to)
				g.judge(c, *a)
				g.useAmount(*a)
				s.used = !s.has(isItem)
			}
			continue
		}
		_ = j
		lo, hi := 0.0, 45.0
		switch p {
		case "arterial", "right-arm", "left-arm", "leg":
			lo, hi = 15, 160
			if p != "arterial" && gaugeLike[a.decimal] && !g.mentions("mean", "pressure", "read", "reading", "over") {
				continue // "left femoral twenty two" is a cannula
			}
		case "ventricular":
			continue
		case "left-atrial", "right-atrial", "common-atrial", "femoral-venous", "central-venous":
			lo = -5
		}
		if v, err := strconv.ParseFloat(a.decimal, 64); err != nil || v < lo || v > hi {
			continue
		}
		gi := g.reading(p, s.from, s.to)
		g.claimIn(gi, readingField(part), a.decimal, a.from, a.to, s.from, a.to)
		g.useAmount(*a)
		s.used = !s.has(isItem)
	}
}

// readIn reads "pressure sixteen in the fontan and six in the atrium".
func (g *segment) readIn() {
	if !g.mentions("pressure") {
		return
	}
	for _, a := range g.plainAmounts() {
		if a.units != nil && !slices.Contains(a.units, "mm[Hg]") || !g.is(a.to, "in") {
			continue
		}
		k := a.to + 1
		for g.is(k, "the", "superior", "common", "left", "right") {
			k++
		}
		p := map[string]string{"fontan": "fontan", "conduit": "fontan", "connection": "fontan", "glenn": "glenn", "cava": "glenn", "atrium": "common-atrial"}[g.wordAt(k)]
		if p == "" {
			continue
		}
		if path := stagePressure[g.lex.kind][p]; path != "" {
			if v, _, ok := fits(fieldAt(path), a); ok {
				g.judge(g.claimField(fieldAt(path), v, a.from, a.to, a.from, k+1), a)
				g.useAmount(a)
			}
		}
	}
}

// readReads reads "left atrial line, mark four, reads six": the number after the
// word is the pressure of the line named last.
func (g *segment) readReads() {
	for k := range g.toks {
		if !g.is(k, "read", "reading", "measure", "measuring") && g.toks[k].text != normal("reads") && g.toks[k].text != normal("measures") || !g.numberAt(k+1) {
			continue
		}
		n := int(g.at[k+1])
		if !g.plainTalk(n) {
			continue
		}
		a, _ := g.amountAt(n)
		if a.decimal == "" || a.units != nil && !slices.Contains(a.units, "mm[Hg]") {
			continue
		}
		for i := n - 1; i >= 0 && k-g.signs[i].to <= 9 && !g.crossesStop(g.signs[i].to, k); i-- {
			p := ""
			for _, x := range g.signs[i].senses {
				if x.kind == isItem && x.item.Name == "intracardiac-line" {
					p = x.value
				}
			}
			if p == "" {
				if g.signs[i].content2() {
					break
				}
				continue
			}
			if v, err := strconv.ParseFloat(a.decimal, 64); err != nil || v < -5 || v > 45 {
				break
			}
			if path := stagePressure[g.lex.kind][p]; path != "" {
				if v, _, ok := fits(fieldAt(path), a); ok {
					g.judge(g.claimField(fieldAt(path), v, a.from, a.to, k, a.to), a)
					g.useAmount(a)
				}
				break
			}
			gi := g.reading(p, g.signs[i].from, g.signs[i].to)
			g.claimIn(gi, readingField("mean"), a.decimal, a.from, a.to, k, a.to)
			g.useAmount(a)
			break
		}
	}
}

// saysMore tells whether a sign that may name a pressure is a statement of its
// own: "extracardiac Fontan".
func (g *segment) saysMore(s *sign) bool {
	for _, x := range s.senses {
		if x.kind == isValue && x.field.Path.List() == "" && !g.lex.generic[x.field] && !siteLike[x.field.Name] && !x.inner && g.lex.alone[s.node] && x.field.Section != "plan" {
			return true
		}
	}
	return false
}

// namesPlain tells whether the sign names a field of its own that the amount
// fits better: stage 2's Glenn pressure, the pressure on bypass.
func (g *segment) namesPlain(s *sign, a amount) bool {
	for _, x := range s.senses {
		if x.kind == namesField && x.field.Path.List() == "" && x.field.Numeric() && allowed(x.field, s.scope) && x.field.Unit == "mm[Hg]" && x.field.Section != "catheter" && x.field.Section != "hybrid" {
			if _, _, ok := fits(x.field, a); ok {
				return true
			}
		}
	}
	return false
}

// readOn tells whether an amount is a pressure that the line after it only measures:
// "Fontan pressure fourteen on the femoral line".
func (g *segment) readOn(a amount) bool {
	if a.units != nil || !g.is(a.to, "on", "off", "from", "through", "via", "in", "by") {
		return false
	}
	n := g.prevSign(a.from)
	return n >= 0 && a.from-g.signs[n].to <= 2 && g.clause[g.signs[n].from] == g.clause[a.from] && (g.pressureAt(n) != "" || pressuresSaid[g.whatAt(n)])
}

// pressuresSaid are the kinds of limits that are pressures.
var pressuresSaid = wordSet("caval mean-arterial atrial systolic")

// reading opens a row for pressure p, or gives the segment's row of it.
func (g *segment) reading(p string, from, to int) int {
	for i := range g.claims {
		c := &g.claims[i]
		if c.group >= 0 && g.groups[c.group].list == readings && c.field.Name == "pressure" && c.value == p {
			return c.group
		}
	}
	gi := g.newGroup(readings, from, to)
	g.claimIn(gi, readingField("pressure"), p, from, to, from, to)
	return gi
}

// pressureNumber is the number that belongs to the pressure named at sign i.
func (g *segment) pressureNumber(i int) (*amount, int, string) {
	s := &g.signs[i]
	part := "mean"
	last := s.to
	for j := i + 1; j < len(g.signs); j++ {
		p := &g.signs[j]
		if p.num != nil && p.scope&past != 0 && p.from-last <= 3 {
			last = p.to // "32 -> 51", "from 32 to 51"
			continue
		}
		if p.from-last > 2 || g.stopsItem(last, p.from) || p.used || p.scope&(unreal|denied) != 0 {
			return nil, 0, ""
		}
		for k := last; k < p.from; k++ {
			if !linking[g.toks[k].text] && g.toks[k].text != "pressure" && g.toks[k].text != "line" && g.toks[k].text != "," && g.toks[k].text != ">" && g.toks[k].text != "from" && !(rises[g.toks[k].text] && g.mentions("from")) && !readsWord[g.toks[k].text] {
				return nil, 0, ""
			}
		}
		if p.num != nil {
			a, _ := g.amountAt(j)
			if a.decimal == "" || a.units != nil && !slices.Contains(a.units, "mm[Hg]") {
				return nil, 0, ""
			}
			if a.to < len(g.toks) && g.is(a.to, "cm", "fr", "french", "f", "%") {
				return nil, 0, ""
			}
			// "right radial 22 gauge": gone above. "left atrial 5 French": a unit.
			if g.is(a.to, "systolic", "diastolic", "mean") && (a.to+1 >= len(g.toks) || !g.numberAt(a.to+1) && !g.is(a.to+1, "of", "is")) {
				part = g.toks[a.to].text // "right arm sixty five systolic"
			}
			return &a, j, part
		}
		if n := g.partNamed(p); n != "" {
			part = n
			last = p.to
			continue
		}
		if p.has(isHead) || g.namesRow(j, "pressure") || g.namesRow(j, "readings") || p.is(approx) || p.is(arrives) || p.is(filler) || g.is(p.from, "line", "pressure", "reading") || readsWord[g.toks[p.from].text] {
			last = p.to
			continue
		}
		return nil, 0, ""
	}
	return nil, 0, ""
}

// readsWord are the words by which a line tells its pressure.
var readsWord = wordSet("→ reads read reading reads: measures showing shows sits settled transduced running over come coming run hovering sitting")

// partNamed is "mean", "systolic" or "diastolic" where the sign says so.
func (g *segment) partNamed(s *sign) string {
	if s.to-s.from > 2 {
		return ""
	}
	switch g.toks[s.from].text {
	case "mean", "systolic", "diastolic":
		if s.to-s.from == 1 || g.toks[s.to-1].text == "of" || g.toks[s.to-1].text == "pressure" {
			return g.toks[s.from].text
		}
	}
	return ""
}

// readPart reads "mean 45", "diastolic of 30" where no pressure is named: the
// arterial pressure is meant.
func (g *segment) readPart(i int, part string) {
	s := &g.signs[i]
	if i > 0 && g.pressureAt(i-1) != "" && s.from-g.signs[i-1].to <= 2 && !g.signs[i-1].used {
		return
	}
	if g.is(s.to, "airway", "pa") || g.is(s.from-1, "airway") {
		return
	}
	last := s.to
	for j := i + 1; j < len(g.signs) && j <= i+2; j++ {
		p := &g.signs[j]
		if p.num != nil && p.scope&past != 0 && p.from-last <= 3 && j < i+2 {
			a, ok := g.nowAfter(j)
			if n := j + 1; !ok && n < len(g.signs) && g.is(p.to, "to", "→") && g.signs[n].from == p.to+1 && g.signs[n].num != nil && g.plainTalk(n) {
				a, ok = g.amountAt(n) // "mean thirty one to fifty two"
				ok = ok && a.units == nil && len(a.decimal) >= 2
			}
			if ok {
				gi := g.reading(g.artery(i), s.from, s.to)
				c := g.claimIn(gi, readingField(part), a.decimal, a.from, a.to, s.from, a.to)
				c.leaving = true
				g.useAmount(a)
				s.used = true
			}
			return
		}
		if p.from-last > 2 || p.used || p.scope&(unreal|denied) != 0 || g.stopsItem(last, p.from) {
			return
		}
		for k := last; k < p.from; k++ {
			if !linking[g.toks[k].text] && g.toks[k].text != "pressure" && !readsWord[g.toks[k].text] {
				return
			}
		}
		if p.num == nil {
			if p.is(approx) || p.is(filler) || g.is(p.from, "pressure") || p.is(arrives) && !p.content() && p.to-p.from <= 2 {
				last = p.to
				continue
			}
			return
		}
		a, _ := g.amountAt(j)
		v, err := strconv.ParseFloat(a.decimal, 64)
		if err != nil || v < 15 || v > 200 || a.units != nil && !slices.Contains(a.units, "mm[Hg]") {
			return
		}
		gi := g.reading(g.artery(i), s.from, s.to)
		g.claimIn(gi, readingField(part), a.decimal, a.from, a.to, s.from, a.to)
		g.useAmount(a)
		s.used = true
		return
	}
}

// nowAfter is the number after the one at sign j, said of the state now: "forty
// before, fifty five now".
func (g *segment) nowAfter(j int) (amount, bool) {
	for k := j + 1; k < len(g.signs) && k <= j+4; k++ {
		p := &g.signs[k]
		if p.from-g.signs[j].to > 7 || p.content() && p.num == nil {
			return amount{}, false
		}
		if p.num != nil && !p.used && p.scope&(unreal|denied) == 0 {
			a, _ := g.amountAt(k)
			v, err := strconv.ParseFloat(a.decimal, 64)
			return a, err == nil && v >= 15 && v <= 200 && a.units == nil && g.leavingAt(a)
		}
	}
	return amount{}, false
}

// artery is the arterial pressure spoken of round sign i: of a limb, where one
// is named.
func (g *segment) artery(i int) string {
	for j := i - 1; j >= 0 && j >= i-4; j-- {
		switch p := g.pressureAt(j); p {
		case "leg":
			if g.is(g.signs[j].from, "femoral") && !g.mentions("arm", "other", "radial") {
				return "arterial" // the line in the groin is the arterial line
			}
			return p
		case "arterial", "right-arm", "left-arm":
			return p
		}
	}
	return "arterial"
}

// pressureOn tells whether the number at sign i and the one after "on" are an arterial
// pressure, and not a saturation in oxygen, which is said in fives: "arterial 62 on 30",
// "sixty two on twenty nine".
func (g *segment) pressureOn(i int) bool {
	s := &g.signs[i]
	for k := s.from - 1; k >= 0 && k >= s.from-3; k-- {
		if g.is(k, "bp", "abp", "ibp", "cuff", "pressure", "arterial", "art", "systemic", "radial") {
			return true
		}
	}
	if !g.numberAt(s.to + 1) {
		return false
	}
	b, ok := g.amountAt(int(g.at[s.to+1]))
	v, err := strconv.Atoi(b.decimal)
	return ok && err == nil && b.units == nil && v > 21 && v%5 != 0
}

// readOver reads "68 over 34" and "68/34".
func (g *segment) readOver() {
	for i := 0; i+1 < len(g.signs); i++ {
		a := &g.signs[i]
		if a.num == nil || a.used || a.scope&(unreal|denied) != 0 {
			continue
		}
		j := i + 1
		on := g.is(a.to, "on") && g.pressureOn(i) || g.is(a.to, "by") && g.pressureNamed(a.from)
		if !((g.is(a.to, "over", "/") || on) && a.to+1 < len(g.toks)) || g.is(a.from-1, "/") || g.is(a.to, "/") && !g.mentions("bp", "abp", "mean", "map", "arterial", "pressure", "ibp", "nibp", "sbp", "art") && !g.barePair(i) {
			continue
		}
		for j < len(g.signs) && g.signs[j].from < a.to+1 {
			j++
		}
		if j >= len(g.signs) || g.signs[j].from != a.to+1 || g.signs[j].num == nil || g.signs[j].used {
			continue
		}
		b := &g.signs[j]
		x, err := strconv.Atoi(a.num.decimal)
		y, err2 := strconv.Atoi(b.num.decimal)
		if err != nil || err2 != nil || x <= y || x < 30 || x > 200 || y < 8 {
			continue
		}
		gi := g.reading(g.artery(i), a.from, b.to)
		g.claimIn(gi, readingField("systolic"), a.num.decimal, a.from, a.to, a.from, b.to)
		g.claimIn(gi, readingField("diastolic"), b.num.decimal, b.from, b.to, a.from, b.to)
		a.used, b.used = true, true
		if g.is(b.to, "m") && j+1 < len(g.signs) && g.signs[j+1].num != nil && g.signs[j+1].from == b.to+1 && !g.signs[j+1].used { // "72/38 m 50"
			m := &g.signs[j+1]
			g.claimIn(gi, readingField("mean"), m.num.decimal, m.from, m.to, a.from, m.to)
			m.used = true
		}
		if g.is(b.to, "(") && j+1 < len(g.signs) && g.signs[j+1].num != nil && g.signs[j+1].from == b.to+1 { // "66/32 (44)"
			m := &g.signs[j+1]
			g.claimIn(gi, readingField("mean"), m.num.decimal, m.from, m.to, a.from, m.to)
			m.used = true
		}
		if j+1 < len(g.signs) && g.signs[j+1].has(isUnit) && g.signs[j+1].from == b.to {
			g.signs[j+1].used = true
		}
		for k := i - 1; k >= 0 && k >= i-2 && g.signs[k].num == nil; k-- {
			if g.pressureAt(k) != "" && a.from-g.signs[k].to <= 3 {
				g.signs[k].used = true
			}
		}
	}
}

// pressureNamed tells whether the pressure of the arteries is named right before token k:
// "arterial sixty-four by twenty-nine".
func (g *segment) pressureNamed(k int) bool {
	for g.is(k-1, "is", "of", "at", "was", "now", ",", ":") {
		k--
	}
	return g.is(k-1, "bp", "abp", "ibp", "pressure", "arterial", "art", "line")
}

// barePair tells whether the number at sign i and the one after its stroke stand alone
// between commas, beside a rate or a saturation, and can only be a pressure: "SR 162, 64/31,
// sat 78".
func (g *segment) barePair(i int) bool {
	a := &g.signs[i]
	if !g.partBegins(a.from) || !g.numberAt(a.to+1) || !g.mentions("sat", "spo2", "sr", "hr", "sinus", "rate", "paced") {
		return false
	}
	b := &g.signs[g.at[a.to+1]]
	x, err := strconv.Atoi(a.num.decimal)
	y, err2 := strconv.Atoi(b.num.decimal)
	return err == nil && err2 == nil && x >= 45 && x <= 140 && y >= 18 && y < x && x-y >= 12 && (b.to >= len(g.toks) || g.toks[b.to].kind == stop || g.is(b.to, ",", "("))
}
