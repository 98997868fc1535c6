package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// readPairs reads what is said of both sides at once: "neither pleura was
// opened", "both pleurae opened".
func (g *segment) readPairs() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || !s.has(isPair) || s.scope&unreal != 0 {
			continue
		}
		pair, ok := g.lex.pairs[s.node]
		if !ok {
			continue
		}
		deny, which := s.scope&denied != 0, ""
		for j := i - 1; j >= 0 && j >= i-2 && s.from-g.signs[j].to <= 1; j-- {
			p := &g.signs[j]
			switch {
			case p.is(neither):
				deny, which = true, "both"
			case g.sideOf(p) != "" && which == "":
				which = g.sideOf(p)
			}
		}
		if n := i + 1; which == "" && n < len(g.signs) && g.signs[n].from-s.to <= 1 && g.sideOf(&g.signs[n]) == "both" {
			which = "both"
		}
		if which == "" && g.pluralAt(s.to-1) {
			which = "both"
		}
		for j := i + 1; j < len(g.signs) && j <= i+4; j++ {
			p := &g.signs[j]
			if p.from-s.to > 5 || p.used {
				break
			}
			value := ""
			for _, x := range p.senses {
				if x.kind == isValue && (x.field == pair.right || x.field == pair.left) {
					value = x.value
				}
			}
			if value == "" {
				continue
			}
			if deny || p.scope&denied != 0 {
				value = deniedValue(pair.right, value)
			}
			if value == "" || which == "" && !deny {
				break
			}
			for n, f := range []*schema.Field{pair.right, pair.left} {
				if which == "" || which == "both" || which == []string{"right", "left"}[n] {
					g.claimField(f, value, p.from, p.to, s.from, p.to)
				}
			}
			s.used, p.used = true, true
			break
		}
	}
}

// readCounts reads "all counts correct".
func (g *segment) readCounts() {
	g.countsTallied()
	for i := range g.signs {
		s := &g.signs[i]
		value := ""
		for _, x := range s.senses {
			if x.kind == isValue && x.field.Path == schema.CountsSwabs && (x.value == "correct" || x.value == "incorrect") {
				value = x.value
			}
		}
		if value == "" && s.num == nil && g.is(s.to-1, "good", "fine") && (s.to == s.from+1 || g.is(s.from, "all")) {
			value = "correct" // a common word, which says it right after a count
		}
		if value == "" || s.used || s.scope&unreal != 0 {
			continue
		}
		if s.scope&denied == 0 && g.countsListed(s.from, s.to, value) {
			s.used = true
			continue
		}
		all := false
		for k := max(0, s.from-5); k < s.to; k++ {
			if g.is(k, "count") {
				all = true
			}
		}
		for j := max(0, i-4); j < i; j++ {
			for _, x := range g.signs[j].senses {
				if x.kind == namesField && x.field.Section == "counts" {
					all = false
				}
			}
		}
		if !all {
			continue
		}
		if s.scope&denied != 0 {
			value = "incorrect"
		}
		if value != "correct" {
			continue // which of the counts is not said
		}
		for _, p := range []schema.Path{schema.CountsSwabs, schema.CountsNeedles, schema.CountsInstruments} {
			g.claimField(fieldAt(p), value, s.from, s.to, s.from, s.to)
		}
		s.used = true
	}
}

// tallies are words that say of counts that nothing is missing, and no more elsewhere.
var tallies = wordSet("tally tallied balance balanced complete reconcile reconciled match matched accounted")

// countsTallied reads that counts are right in words that say so only beside them, and
// takes a count for right that was short until what was missing turned up: "swabs,
// needles, instruments all there", "one short, found under the drape, so correct".
func (g *segment) countsTallied() {
	for k := range g.toks {
		to := k + 1
		if g.is(k, "all") && g.is(k+1, "there", "present", "in") && (k+2 >= len(g.toks) || g.toks[k+2].kind != word) || g.is(k, "add") && g.is(k+1, "up") {
			to = k + 2
		} else if !tallies[g.toks[k].text] {
			continue
		}
		if n := g.at[k]; !g.is(k-1, "not", "never", "to") && (n < 0 || g.signs[n].scope&(unreal|denied) == 0) {
			g.countsListed(k, to, "correct")
		}
	}
	found := -1
	for k := range g.toks {
		if g.is(k, "found", "located", "retrieved", "appeared") || g.is(k, "turned") && g.is(k+1, "up") {
			found = k
		}
	}
	if found < 0 || !slices.ContainsFunc(g.signs, func(s sign) bool { return s.from > found && g.is(s.from, "correct", "right") }) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.from < found && slices.ContainsFunc(s.senses, func(x sense) bool {
			return x.kind == isValue && x.field.Section == "counts" && x.value == "incorrect"
		}) {
			s.used = true
			for j := range g.signs { // the count named before it has its value in the word after
				if p := &g.signs[j]; p.from > found && g.is(p.from, "correct", "right") && p.scope&denied == 0 {
					if c := g.countSaidBefore(s.from); c != nil {
						g.claimField(c, "correct", p.from, p.to, p.from, p.to)
					}
					break
				}
			}
		}
	}
}

// countSaidBefore is the count named last before token k, or nil.
func (g *segment) countSaidBefore(k int) *schema.Field {
	for n := g.prevSign(k); n >= 0 && k-g.signs[n].to <= 4; n-- {
		if f := countNamed(&g.signs[n]); f != nil {
			return f
		}
	}
	return nil
}

// countsListed gives a value, said by tokens from..to, to each of the counts named right
// before it: "swabs, needles, instruments all correct", "swabs/needles ok".
func (g *segment) countsListed(from, to int, value string) bool {
	var named []*sign
	for k := from - 1; k >= 0; k-- {
		if n := g.at[k]; n >= 0 && countNamed(&g.signs[n]) != nil && !g.signs[n].used {
			named = append(named, &g.signs[n])
			k = g.signs[n].from
		} else if !g.is(k, ",", "/", "and", "&", "+", "all", "are", "were", "is", "count", "both") {
			break
		}
	}
	if len(named) < 2 && !(len(named) == 1 && from-named[0].to <= 1 && g.is(from, "good", "fine")) {
		return false
	}
	for _, x := range named {
		g.claimField(countNamed(x), value, from, to, x.from, to)
		x.used = true
	}
	return true
}

// countNamed is the count that a sign names, or nil.
func countNamed(s *sign) *schema.Field {
	for _, x := range s.senses {
		if x.kind == namesField && x.field.Section == "counts" && slices.Contains(x.field.Enum, "incorrect") {
			return x.field
		}
	}
	return nil
}

// numberBefore tells whether a number, or its unit, ends at token k.
func (g *segment) numberBefore(k int) bool {
	n := int32(-1)
	if k > 0 {
		n = g.at[k-1]
	}
	return n >= 0 && (g.signs[n].num != nil || g.signs[n].has(isUnit))
}

// saturationBefore tells whether the number before sign i is a saturation.
func (g *segment) saturationBefore(i int) bool {
	for j := i - 1; j >= 0 && j >= i-4; j-- {
		for _, x := range g.signs[j].senses {
			if x.kind == namesField && x.field.Path == schema.LeavingSaturation {
				return true
			}
		}
		if g.signs[j].content() && g.signs[j].num == nil && !g.signs[j].has(isUnit) {
			return false
		}
	}
	return false
}

// drugBeforeToken is a drug named within four words before token k, or -1.
func (g *segment) drugBeforeToken(k int) int {
	for n := g.prevSign(k); n >= 0 && k-g.signs[n].to <= 4; n-- {
		if g.drugAt(n) != "" {
			return n
		}
	}
	return -1
}

// smallCountAt is the small number in figures at token k, or 0.
func smallCountAt(g *segment, k int) int {
	if k < 0 || k >= len(g.toks) || g.toks[k].kind != figure {
		return 0
	}
	return smallCount(g.toks[k].text)
}

// unrealAt tells whether token k is spoken of as past, planned or denied.
func (g *segment) unrealAt(k int) bool {
	n := g.at[k]
	return n >= 0 && g.signs[n].scope&(unreal|denied) != 0
}

// within tells whether one of the words is part of the sign.
func (g *segment) within(s *sign, words ...string) bool {
	for k := s.from; k < s.to; k++ {
		if slices.Contains(words, g.toks[k].text) {
			return true
		}
	}
	return false
}

// readWeight takes a number of kilograms that belongs to nothing else as the
// child's weight, to be looked at.
func (g *segment) readWeight() {
	f := fieldAt(schema.MeasuresWeight)
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal&^past|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		if s.scope&past != 0 && g.weighedThen(a) || g.anyWithin(max(0, a.from-3), a.from, "when", "once", "until") {
			continue
		}
		if w := g.halvesOfWeight(i, a); w != nil {
			a = *w
		}
		if a.unitSign < 0 || g.is(a.to, "/") && !g.numberAt(a.to+1) || g.is(a.to, "per", "bag") || g.is(a.from-1, "/") || !slices.Contains(a.units, "kg") || g.bornAt(a) || g.pumpNear(a) && !g.mentions("weigh", "weight") || g.is(a.from-1, "pump") || g.is(g.signs[a.unitSign].from-1, "per", "a") {
			continue
		}
		if v, _, ok := fits(f, a); ok && !g.answered(f) && (usual(f, g.lex.kind, v) || g.within(&g.signs[a.unitSign], "kilo", "kg", "kilogram", "kgs")) {
			c := g.claimField(f, v, a.from, a.to, a.from, a.to)
			c.sure, c.note = Check, "no word said that this is the weight"
			g.useAmount(a)
		}
	}
	born := fieldAt(schema.ChildBirthWeight)
	for i := range g.signs { // "two point nine kilos at birth"
		if s := &g.signs[i]; s.num != nil && !s.used && s.scope&denied == 0 && g.inNote(born) && !g.answered(born) {
			a, _ := g.amountAt(i)
			if v, _, ok := fits(born, a); ok && slices.Contains(a.units, "kg") && g.is(a.to, "at") && g.is(a.to+1, "birth") {
				g.claimField(born, v, a.from, a.to, a.from, a.to+2)
				g.useAmount(a)
			}
		}
	}
	if g.answered(born) && !g.answered(f) {
		for i := range g.signs { // "two point nine kilos at birth and now three point one"
			s := &g.signs[i]
			if s.num == nil || !g.plainTalk(i) || !g.is(s.from-1, "now") {
				continue
			}
			a, _ := g.amountAt(i)
			if v, _, ok := fits(f, a); ok && a.units == nil && strings.Contains(a.decimal, ".") {
				c := g.claimField(f, v, a.from, a.to, a.from-1, a.to)
				c.sure, c.note = Check, "said beside the weight at birth"
				g.useAmount(a)
			}
		}
	}
	length := fieldAt(schema.MeasuresLength)
	for i := range g.signs { // "3.2 kilos and 49 centimetres"
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 || !g.mentions("kilo", "kg", "kilogram", "weight", "weighed", "weighing", "weigh") {
			continue
		}
		a, _ := g.amountAt(i)
		if v, exact, ok := fits(length, a); ok && exact && a.units != nil && usual(length, g.lex.kind, v) {
			c := g.claimField(length, v, a.from, a.to, a.from, a.to)
			c.sure, c.note = Check, "no word said that this is the length"
			g.useAmount(a)
		}
	}
}

// pumpNear tells whether the pump of an infusion, not that of bypass, is spoken of
// beside an amount.
func (g *segment) pumpNear(a amount) bool {
	for k := max(0, a.from-6); k < min(len(g.toks), a.to+6); k++ {
		if g.is(k, "pump") && !g.is(k-1, "off", "on", "the", "no", "without", "heart", ".") {
			return true
		}
	}
	return false
}

// readGestation reads "thirty nine weeks plus two", and weeks that can be nothing
// else.
func (g *segment) readGestation() {
	weeks, days := fieldAt(schema.ChildGestationWeeks), fieldAt(schema.ChildGestationDays)
	if !g.inNote(weeks) {
		return
	}
	for i, a := range g.plainAmounts() {
		s := &g.signs[i]
		v, err := strconv.ParseFloat(a.decimal, 64)
		if err != nil || v < 22 || v > 42 || strings.Contains(a.decimal, ".") {
			continue
		}
		if g.is(s.to, "/") && g.is(s.to+1, "40") {
			g.claimField(weeks, a.decimal, a.from, a.to, a.from, a.to+2)
			g.useAmount(a)
			continue
		}
		plus := a.units == nil && (g.is(a.to, "plus", "+") || g.is(a.to, "and") && g.text[g.toks[a.to].span.Start] == '+') && g.numberAt(a.to+1) && g.signs[g.at[a.to+1]].to <= a.to+2 && (g.mentions("born", "gestation", "term", "preterm", "twin", "weeker", "gestational") || v >= 30)
		if !slices.Contains(a.units, "wk") && !plus || g.is(a.to, "ago", "later", "old", "after", "post") || g.is(a.from-1, "in", "for", "after", "at") && !g.mentions("born", "gestation", "term") {
			continue
		}
		c := g.claimField(weeks, a.decimal, a.from, a.to, a.from, a.to)
		if !g.mentions("born", "gestation", "term", "weeker", "twin") {
			c.sure, c.note = Check, "no word said that this is the gestation"
		}
		g.useAmount(a)
		if g.is(a.to, "plus", "and", "+") && g.numberAt(a.to+1) {
			n := int(g.at[a.to+1])
			b, _ := g.amountAt(n)
			if d, err := strconv.Atoi(b.decimal); err == nil && d < 7 && (b.units == nil || slices.Contains(b.units, "d")) {
				g.claimField(days, b.decimal, b.from, b.to, a.from, b.to)
				g.useAmount(b)
			}
		}
	}
}

// bornAt tells whether an amount is said of the birth.
func (g *segment) bornAt(a amount) bool {
	for k := max(0, a.from-5); k < min(len(g.toks), a.to+3); k++ {
		if k >= a.to && g.is(k, "born") && (g.is(k+1, "at", "by", "on") || g.numberAt(k+1)) {
			continue // "two point six kilos, born at thirty six weeks"
		}
		if g.is(k, "birth", "born") && !g.crosses(min(k, a.from), max(k, a.to-1)) {
			return true
		}
	}
	return false
}

// readACT tells the clotting times on bypass and after apart.
func (g *segment) readACT() {
	on, after := fieldAt(schema.ClottingClottingTimeBypass), fieldAt(schema.ClottingClottingTimeAfter)
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.scope&(unreal&^past|denied) != 0 {
			continue
		}
		named := false
		for _, x := range s.senses {
			named = named || x.kind == namesField && (x.field == on || x.field == after)
		}
		if !named {
			continue
		}
		last := s.to
		for j := i + 1; j < len(g.signs) && g.signs[j].from-last <= 4 && !g.crossesStop(last, g.signs[j].from); j++ {
			p := &g.signs[j]
			if p.num == nil || p.used {
				if p.content() && !p.has(isUnit) && !g.within(p, "bypass", "pump", "act") && !(g.within(p, "protamine") && g.is(p.from-1, "after", "post", "with")) && !g.within(p, "after", "post") {
					break
				}
				last = p.to
				continue
			}
			a, _ := g.amountAt(j)
			v, err := strconv.ParseFloat(a.decimal, 64)
			if err != nil || v < 40 || v > 2000 || a.units != nil && !slices.Contains(a.units, "s") || p.scope&(unreal&^past|denied) != 0 {
				break
			}
			if g.is(a.to, "to") && g.numberAt(a.to+1) { // a range is what it should be
				p.used, g.signs[g.at[a.to+1]].used = true, true
				break
			}
			f := after
			before := j == i+1 && g.within(s, "bypass", "pump", "lowest")
			next := false
			for k := a.to; k < len(g.toks) && k < a.to+3; k++ {
				if g.is(k, ",") || g.numberAt(k) {
					break
				}
				next = next || g.is(k, "bypass", "pump")
			}
			for k := max(last-1, a.from-4); k < a.from; k++ {
				next = next || g.is(k, "bypass", "pump") && k >= last
			}
			if before || next || v >= 300 {
				f = on
			}
			b := g.boundBefore(a)
			if b == "" && j == i+1 && g.is(s.to-1, "above", "over") {
				b = ">" // "ACT stayed above four eighty"
			}
			c := g.claimField(f, a.decimal, a.from, a.to, s.from, a.to)
			c.bound = b
			g.judge(c, a)
			g.useAmount(a)
			last = a.to
		}
	}
}

// readInflow reads the graft that carries the arterial inflow: "cannulated
// through a three and a half millimetre graft".
func (g *segment) readInflow() {
	f := fieldAt(schema.SupportInflowGraft)
	if !g.mentions("cannulated", "cannulation", "cannula", "cannulate", "innominate", "brachiocephalic", "inflow", "bypass") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		a, _ := g.amountAt(i)
		k := a.to
		tube := g.mentions("inflow", "cannulated", "cannulation", "arterial", "bypass")
		for k < len(g.toks) && k < a.to+4 && !g.is(k, "graft", "chimney") && !(tube && g.is(k, "tube")) {
			k++
		}
		if g.is(a.from-1, "of") && g.is(a.from-2, "graft", "tube", "chimney") {
			k = a.from - 2 // "a Gore-Tex tube of three and a half"
		}
		if !g.is(k, "graft", "chimney") && !(tube && g.is(k, "tube")) || !g.mentions("through", "via", "innominate", "chimney", "inflow", "brachiocephalic") {
			continue
		}
		if v, _, ok := fits(f, a); ok && !g.mentions("shunt") {
			g.claimField(f, v, a.from, a.to, min(a.from, k), max(a.to, k+1))
			g.useAmount(a)
			for c := range g.claims {
				if g.claims[c].field.Path == schema.SupportArterialCannulation && g.claims[c].value == "innominate-direct" {
					g.claims[c].value = "innominate-graft"
				}
			}
			if g.mentions("innominate", "brachiocephalic") && (g.mentions("cannulated", "cannulation", "cannula", "inflow", "bypass") || g.graftThrough(a.from)) && !slices.ContainsFunc(g.claims, func(c claim) bool { return c.field.Path == schema.SupportArterialCannulation }) {
				g.claimField(fieldAt(schema.SupportArterialCannulation), "innominate-graft", min(a.from, k), max(a.to, k+1), a.from, k+1)
			}
			g.graft = true
		}
	}
}

// graftThrough tells whether the words before token k say that blood goes into the
// innominate artery by what follows: "innominate through a".
func (g *segment) graftThrough(k int) bool {
	for k--; g.is(k, "a", "an", "the"); k-- {
	}
	if !g.is(k, "through", "via") {
		return false
	}
	for k--; g.is(k, "artery", "the", "inflow"); k-- {
	}
	return g.is(k, "innominate", "brachiocephalic")
}

// readHours reads how long mechanical support lasted.
func (g *segment) readHours() {
	f := fieldAt(schema.MechanicalRunHours)
	if g.lex.kind != schema.SupportOff || f == nil {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(intended|calling|aiming|denied) != 0 || len(g.toks) > 5 && !g.mentions("support", "ecmo", "run", "decannulated", "circuit", "off", "va", "vv", "on", "all") {
			continue
		}
		a, _ := g.amountAt(i)
		long, err := strconv.ParseFloat(a.decimal, 64)
		days := err == nil && long >= 24 && slices.Contains(a.units, "h") && !g.is(a.to, "ago", "before", "later", "old", "after", "post") && !g.is(a.from-1, "next", "within")
		if err == nil && long < 5 && !slices.Contains(a.units, "d") || slices.Contains(a.units, "d") && g.mentions("hour", "h") {
			continue // of a trial, or said more nearly in hours
		}
		if !days && (!slices.Contains(a.units, "h") && !slices.Contains(a.units, "d") || !g.is(a.from-1, "after", "for", "of", "support", "ecmo", "total", "(", "run", ",") && !(a.from == 0 && a.to+1 >= len(g.toks))) {
			continue
		}
		if v, _, ok := fits(f, a); ok {
			g.claimField(f, v, a.from, a.to, a.from-1, a.to)
			g.useAmount(a)
			return
		}
	}
}

// readSupportOn reads when support began: "on at four fifteen", "onto ECMO through the
// chest at six twenty".
func (g *segment) readSupportOn() {
	f := fieldAt(schema.MechanicalStartedAt)
	if g.lex.kind != schema.SupportOn {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.num.clock == "" || !g.is(s.from-1, "at", "from") || s.scope&(unreal|denied) != 0 {
			continue
		}
		for k := s.from - 2; k >= 0 && k >= s.from-10 && g.toks[k].kind != stop && !g.is(k, "off", "arrest", "arrested", "gas", "knife", "heparin"); k-- {
			if g.is(k, "on", "onto", "started", "began", "begun", "ecmo", "support", "established", "converted", "commenced") {
				g.claimField(f, s.num.clock, s.from, s.to, k, s.to)
				s.used = true
				return
			}
		}
	}
}

// readOff reads when support ended: "off at nine thirty".
func (g *segment) readOff() {
	f := fieldAt(schema.MechanicalStoppedAt)
	if g.lex.kind != schema.SupportOff {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.num.clock == "" || !g.is(s.from-1, "at", "off", "stopped") || s.scope&(unreal|denied) != 0 || !s.num.surely && !g.clockish(amount{sign: i, from: s.from, to: s.to}) || g.drugBeforeToken(s.from-1) >= 0 {
			continue
		}
		for k := max(0, s.from-5); k < s.from; k++ {
			if g.is(k, "off", "decannulated", "stopped") && !g.mentions("clamp") && !g.is(k-1, "trial", "trialed") {
				g.claimField(f, s.num.clock, s.from, s.to, k, s.to)
				s.used = true
				return
			}
		}
	}
}

// readLone reads a value that is a sentence, or stands between commas, by
// itself: "Dry.", "no clamp, beating, off on milrinone".
func (g *segment) readLone() {
	edge := func(k int) bool {
		return k < 0 || k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",")
	}
	for i := range g.signs {
		s := &g.signs[i]
		before := s.from - 1
		if i > 0 && g.signs[i-1].to == s.from && g.signs[i-1].is(denies) && g.within(s, "injury") {
			before = g.signs[i-1].from - 1 // "no injuries"
		}
		if s.used || s.num != nil || s.scope&denied != 0 && !g.within(s, "injury") || !edge(before) || !edge(s.to) || g.sideOf(s) != "" {
			continue
		}
		for _, x := range s.senses {
			if x.kind == isValue && !x.inner && x.field.Path.List() == "" && !g.lex.generic[x.field] && !needsName[x.field.Path] && !siteLike[x.field.Name] && x.field.Section != "before" && x.field.Path != schema.ClosingTolerated && x.field.Path != schema.EchoBranchFlow && g.onlyField(s, x.field) {
				g.claimValue(i, option{sense: x, name: -1})
				break
			}
		}
	}
}
