package dictation

import (
	"slices"

	"fairlead/schema"
)

// totalOf gives the field that holds the sum of a list of periods, and so what
// one duration said of it means.
var totalOf = map[schema.Path]schema.Path{
	schema.SupportRuns:       schema.SupportBypassTotal,
	schema.SupportClamps:     schema.SupportClampTotal,
	schema.SupportArrests:    schema.SupportArrestTotal,
	schema.SupportPerfusions: schema.SupportPerfusionTotal,
}

// periods are the lists whose rows are from one time to another.
var periods = []schema.Path{schema.SupportRuns, schema.SupportClamps, schema.SupportArrests, schema.SupportPerfusions, schema.SupportLowerBody}

// listNamed is the list of periods that a sign names, or "".
func (g *segment) listNamed(s *sign) schema.Path {
	for _, x := range s.senses {
		if x.kind == isValue && x.field.Path == schema.SupportMode {
			if x.value == "bypass" {
				return schema.SupportRuns
			}
			break
		}
	}
	if s.to-s.from == 1 && g.is(s.from, "antegrade") && g.mentions("plegia", "cardioplegia", "nido", "dose") && !g.mentions("perfusion", "perfused", "cerebral", "acp") {
		return "" // the way cardioplegia went in
	}
	if g.stoppedByClamp(s) {
		return schema.SupportClamps
	}
	stopped := g.within(s, "arrest", "arrested") && !g.within(s, "circulatory", "circ", "hypothermic", "dhca") // the heart, not the circulation
	stopped = stopped && (g.lex.kind == schema.SupportOn || g.mentions("compression", "cpr", "massage", "massaged", "ecpr"))
	for _, p := range periods {
		if p == schema.SupportArrests && stopped {
			continue
		}
		for _, x := range s.senses {
			if x.kind == namesField && (x.field.Path == p || x.field.Path.List() == p && (x.field.Name == "minutes" || x.field.Name == "on" || x.field.Name == "off" || x.field.Name == "temperature" && p == schema.SupportArrests) || x.field.Path == totalOf[p]) {
				return p
			}
		}
	}
	return ""
}

// stoppedByClamp tells whether it is the heart that was arrested, and the clamp that
// timed it: "the heart arrested for forty-six under the clamp".
func (g *segment) stoppedByClamp(s *sign) bool {
	return s.to-s.from == 1 && g.is(s.from, "arrested") && g.anyWithin(s.from-3, s.from, "heart", "myocardium") && g.anyWithin(s.to, min(len(g.toks), s.to+9), "clamp")
}

// readPeriods reads "arrest from 9:50 to 9:58", "two runs, 120 and 35 minutes",
// "clamp on at 10:02, off at 11:04", and cerebral perfusion with its flow.
func (g *segment) readPeriods() {
	for i := range g.signs {
		s := &g.signs[i]
		list := g.listNamed(s)
		if list == "" || s.used {
			continue
		}
		if s.scope&(unreal|denied) != 0 {
			continue
		}
		g.readPeriod(i, list)
	}
}

func (g *segment) readPeriod(i int, list schema.Path) {
	s := &g.signs[i]
	end := len(g.toks)
	for j := i + 1; j < len(g.signs); j++ {
		if l := g.listNamed(&g.signs[j]); l != "" && (l != list || g.signs[j].from-s.to > 12) {
			end = g.signs[j].from
			break
		}
	}
	var clocks, spans []amount
	var fresh bool
	last := s.to
	var flow, temp *amount
	var flowField *schema.Field
	row := func(name string) *schema.Field { return fieldAt(schema.RowPath(list, "*", name)) }
	for j := i + 1; j < len(g.signs) && g.signs[j].from < end; j++ {
		p := &g.signs[j]
		if p.used && p.from-last <= 4 && (p.num != nil || p.is(corrects) || p.is(scratches)) {
			last = p.to // what a correction has moved
			continue
		}
		if p.from-last > 4 || p.used || p.scope&(unreal|denied) != 0 || p.is(turns) && len(clocks)%2 == 0 || g.stopsItem(last, p.from) {
			break
		}
		if p.num == nil {
			if p.content() && !p.has(isUnit) && g.listNamed(p) != list && !g.rowWord(p, list) && !g.is(p.from, "off", "on", "run", "ran", "running") && !(p.is(through) && p.to-p.from <= 2) && g.sideOf(p) == "" && !(list == schema.SupportClamps && g.within(p, "aorta", "aortic")) && !g.within(p, "off", "released") {
				break
			}
			if !p.has(isUnit) && !p.is(turns) {
				last = p.to
			}
			continue
		}
		a, _ := g.amountAt(j)
		switch f := row("flow"); {
		case f != nil && a.units != nil && anyPerKilo(a.units):
			if v, _, ok := fits(f, a); ok && v != "" && flow == nil {
				b := a
				flow, flowField = &b, f
			}
		case a.clock != "" && a.units == nil && (p.num.surely || g.is(a.from-1, "at", "from", "to", "until", "till", "on", "off", "-", "and", "@", "then", "/") || len(clocks)%2 == 1 || a.decimal == "" || p.num.figures && g.is(a.to, "-", "to", "until") && len(g.words(a.from, a.to)) >= 3):
			clocks = append(clocks, a)
		case slices.Contains(a.units, "min"):
			spans = append(spans, a)
		case a.units == nil && g.minutesLater(j, end):
			spans = append(spans, a)
		case a.units == nil && row("flow") != nil && (g.is(a.from-1, "at") || g.namesRow(j-1, "flow")) && flow == nil && list == schema.SupportPerfusions && len(spans) > 0:
			if v, _, ok := fits(row("flow"), a); ok && v != "" {
				b := a
				flow, flowField = &b, row("flow")
			}
		case a.units == nil && list != schema.SupportRuns && len(spans) == 0 && (p.from-s.to <= 2):
			spans = append(spans, a)
		case slices.Contains(a.units, "Cel") && row("temperature") != nil:
			b := a
			temp = &b
		default:
			fresh = true
		}
		if fresh {
			break
		}
		last = a.to
		j = max(j, a.unitSign)
	}
	why := func(a amount) (int, int) { return s.from, a.to }
	made := -1
	for n := 0; n+1 < len(clocks); n += 2 {
		gi := g.newGroup(list, s.from, clocks[n+1].to)
		made = gi
		for m, name := range []string{"on", "off"} {
			a := clocks[n+m]
			w, wt := why(a)
			g.claimIn(gi, row(name), a.clock, a.from, a.to, w, wt)
			g.useAmount(a)
		}
	}
	if len(clocks)%2 == 1 {
		a := clocks[len(clocks)-1]
		name := "on"
		if g.offBefore(s, a) {
			name = "off"
		}
		gi := g.newGroup(list, s.from, a.to)
		made = gi
		g.groups[gi].mention = true
		w, wt := why(a)
		g.claimIn(gi, row(name), a.clock, a.from, a.to, w, wt)
		g.useAmount(a)
	}
	if len(spans) >= 2 && flow == nil {
		for _, a := range spans {
			gi := g.newGroup(list, s.from, a.to)
			w, wt := why(a)
			g.claimIn(gi, row("minutes"), a.decimal, a.from, a.to, w, wt)
			g.useAmount(a)
		}
		s.used = true
		return
	}
	side := g.rowSide(i, last, list)
	if flow != nil || side >= 0 || temp != nil && list == schema.SupportArrests && made >= 0 {
		gi := made
		if gi < 0 {
			gi = g.newGroup(list, s.from, last)
			if len(spans) == 1 {
				a := spans[0]
				w, wt := why(a)
				g.claimIn(gi, row("minutes"), a.decimal, a.from, a.to, w, wt)
				g.useAmount(a)
			} else if a, ok := g.spanBefore(i); ok {
				g.claimIn(gi, row("minutes"), a.decimal, a.from, a.to, a.from, s.to)
				g.useAmount(a)
			}
		}
		if flow != nil {
			v, _, _ := fits(flowField, *flow)
			w, wt := why(*flow)
			g.claimIn(gi, flowField, v, flow.from, flow.to, w, wt)
			g.useAmount(*flow)
		}
		if side >= 0 {
			p := &g.signs[side]
			g.claimIn(gi, row("side"), g.sideOf(p), p.from, p.to, s.from, p.to)
			p.used = true
		}
		if temp != nil && row("temperature") != nil {
			v, _, _ := fits(row("temperature"), *temp)
			g.claimIn(gi, row("temperature"), v, temp.from, temp.to, s.from, temp.to)
			g.useAmount(*temp)
		}
		s.used = true
		return
	}
	if made >= 0 && len(spans) == 0 {
		s.used = true
	}
}

// spanBefore is a duration that stands just before sign i: "forty minutes of
// cerebral perfusion at fifty per kilo".
func (g *segment) spanBefore(i int) (amount, bool) {
	for j := i - 1; j >= 0 && j >= i-3; j-- {
		if g.signs[j].num == nil {
			continue
		}
		a, ok := g.amountAt(j)
		if ok && g.signs[i].from-a.to <= 2 && slices.Contains(a.units, "min") {
			return a, true
		}
		return a, false
	}
	return amount{}, false
}

func anyPerKilo(units []string) bool {
	return slices.Contains(units, "mL/kg/min") || slices.Contains(units, "mL/kg")
}

// minutesLater tells whether the number at sign j stands in a list that ends in
// minutes: "120 and 35 minutes".
func (g *segment) minutesLater(j, end int) bool {
	for k := j + 1; k < len(g.signs) && g.signs[k].from < end; k++ {
		p := &g.signs[k]
		if p.from-g.signs[k-1].to > 2 {
			return false
		}
		if p.num != nil {
			a, _ := g.amountAt(k)
			if slices.Contains(a.units, "min") {
				return true
			}
			if a.units != nil {
				return false
			}
			continue
		}
		if p.content() {
			return false
		}
	}
	return false
}

// rowWord tells whether a sign names a field of the list's rows, or is one of
// its values.
func (g *segment) rowWord(p *sign, list schema.Path) bool {
	for _, x := range p.senses {
		if x.field != nil && x.field.Path.List() == list {
			return true
		}
	}
	return false
}

func (g *segment) namesRow(j int, name string) bool {
	if j < 0 {
		return false
	}
	for _, x := range g.signs[j].senses {
		if x.kind == namesField && x.field.Name == name {
			return true
		}
	}
	return false
}

// rowSide is the sign that gives the side of a perfusion period, or -1.
func (g *segment) rowSide(i, last int, list schema.Path) int {
	if list != schema.SupportPerfusions {
		return -1
	}
	if i > 0 && g.sideOf(&g.signs[i-1]) != "" && g.signs[i-1].to == g.signs[i].from && !g.signs[i-1].used {
		return i - 1
	}
	for j := i + 1; j < len(g.signs) && g.signs[j].from <= last+2 && j <= i+7; j++ {
		p := &g.signs[j]
		if p.used || p.has(isItem) || p.has(isVariety) {
			break
		}
		if p.is(both) || (p.is(rightSide) || p.is(leftSide)) && g.toks[p.to-1].text != "right" && g.toks[p.to-1].text != "left" {
			return j
		}
	}
	return -1
}

// offBefore tells whether a single time is when something ended.
func (g *segment) offBefore(s *sign, a amount) bool {
	for k := max(0, s.from-2); k < a.from; k++ {
		switch g.toks[k].text {
		case "off", "until", "till", "ended", "end", "finished", "unclamped", "out", "removed", "released", "stopped", "down":
			return true
		}
	}
	return false
}

// keyed are the lists whose rows are known by a value of their first field, and
// whether a row needs a number to count.
var keyed = []struct {
	list   schema.Path
	key    string
	number bool
}{
	{schema.BloodProducts, "product", true},
	{schema.PerfusionUltrafiltration, "kind", false},
	{schema.PerfusionPrime, "product", true},
}

// readKeyed reads rows such as "forty of red cells and a pool of platelets, 30".
func (g *segment) readKeyed() {
	for _, k := range keyed {
		list := fieldAt(k.list)
		if list == nil || !g.inNote(list) {
			continue
		}
		named := false
		for i := range g.signs {
			for _, x := range g.signs[i].senses {
				if x.kind == namesField && x.field == list && g.signs[i].scope&unreal == 0 {
					named = true
				}
			}
		}
		if k.list == schema.BloodProducts && g.mentions("prime", "primed") {
			continue // what the circuit was filled with was not given
		}
		for i := range g.signs {
			s := &g.signs[i]
			if s.used || s.scope&unreal != 0 && !(k.list == schema.PerfusionUltrafiltration && s.scope&(unreal&^past) == 0) {
				continue
			}
			value := ""
			for _, x := range s.senses {
				if x.kind == isValue && !x.inner && x.field.Path.List() == k.list && x.field.Name == k.key {
					value = x.value
					break
				}
			}
			if s.scope&denied != 0 {
				g.denyKeyed(i, k.list, k.key, value)
				continue
			}
			if value == "" || !named && everydayWords()[g.toks[s.from].text] && s.to-s.from == 1 && k.list != schema.BloodProducts {
				continue
			}
			if k.list == schema.PerfusionPrime && !named {
				continue
			}
			if k.list == schema.PerfusionUltrafiltration && s.to-s.from == 1 && !g.mentions("muf", "cuf", "zbuf", "ultrafiltration", "filtration", "filtered", "uf") {
				continue // "a three and a half modified BT"
			}
			if g.is(s.from, "blood") && s.to-s.from == 1 && g.is(s.to, "loss", "lost", "gas", "pressure", "group", "culture") {
				continue
			}
			if value == "crystalloid" && g.mentions("washed", "washout", "wash", "irrigated", "lavage", "rinsed") {
				continue // "washed out, saline, two litres": what it was washed with
			}
			if value == "platelets" && !g.volumesSaid(i) {
				continue // a count, more likely than a volume
			}
			unit := k.list == schema.PerfusionPrime && g.is(s.from-1, "of") && g.is(s.from-2, "unit", "bag") // "a unit of plasma"
			g.readKeyedRow(i, k.list, k.key, value, k.number && !unit)
		}
	}
	g.phaseRows()
}

// plainProducts are the products that are said not to have been given by name.
var plainProducts = map[string]bool{"plasma": true, "platelets": true, "cryoprecipitate": true, "red-cells": true, "cell-saver": true}

// denyKeyed reads a row said not to be: "no plasma", "and no MUF".
func (g *segment) denyKeyed(i int, list schema.Path, key, value string) {
	s := &g.signs[i]
	switch {
	case list == schema.BloodProducts && (!plainProducts[value] || g.is(s.from, "blood") || g.mentions("available", "left", "need", "want")):
		return
	case list == schema.PerfusionUltrafiltration && (value == "" || s.to-s.from == 1 && g.is(s.from, "modified", "conventional")):
		return
	case list == schema.PerfusionPrime:
		return
	}
	gi := g.newGroup(list, s.from, s.to)
	g.groups[gi].denied = true
	g.claimIn(gi, rowField(list, key), value, s.from, s.to, s.from, s.to)
	s.used = true
}

// volumesSaid tells whether the number beside a product is a volume: it has its
// unit, or stands among products with theirs.
func (g *segment) volumesSaid(i int) bool {
	for j := max(0, i-2); j < len(g.signs) && j <= i+2; j++ {
		for _, x := range g.signs[j].senses {
			if x.kind == isUnit && x.unit == "mL" {
				return true
			}
		}
	}
	if i > 0 && g.signs[i-1].num != nil && !g.signs[i-1].used && (g.is(g.signs[i].from-1, "of") || smallCount(g.signs[i-1].num.decimal) > 0) {
		return true
	}
	if i > 1 && g.signs[i-1].has(isUnit) && g.signs[i-1].num == nil && g.signs[i-2].num != nil && g.signs[i-2].to == g.signs[i-1].from && smallCount(g.signs[i-2].num.decimal) > 0 && g.is(g.signs[i].from-1, "of") {
		return true // "two units of platelets"
	}
	for j := i + 1; j < len(g.signs) && g.signs[j].from-g.signs[i].to <= 5 && !g.crossesStop(g.signs[i].to, g.signs[j].from); j++ {
		for _, x := range g.signs[j].senses { // "platelets 60, FFP 40"
			if x.kind == isValue && x.field.Path.List() == schema.BloodProducts && x.field.Name == "product" && !x.inner && g.numberAt(g.signs[j].to) {
				return true
			}
		}
	}
	for c := range g.claims {
		if g.claims[c].group >= 0 && g.groups[g.claims[c].group].list == schema.BloodProducts {
			return true
		}
	}
	return false
}

func (g *segment) readKeyedRow(i int, list schema.Path, key, value string, number bool) {
	s := &g.signs[i]
	row := func(name string) *schema.Field { return fieldAt(schema.RowPath(list, "*", name)) }
	volume, donors := row("volume"), row("donors")
	var got *amount
	var field *schema.Field
	try := func(a amount, near bool) bool {
		if slices.Contains(a.units, "mL/kg") {
			return false
		}
		if v, _, ok := fits(volume, a); ok && a.units != nil && v != "" || ok && near && smallCount(a.decimal) == 0 && a.units == nil {
			got, field = &a, volume
			return true
		}
		if donors != nil {
			b := a
			if slices.Contains(a.units, "[iU]") {
				b.units = nil
			}
			if v, _, ok := fits(donors, b); ok && v != "" && (b.units == nil) && smallCount(a.decimal) > 0 {
				got, field = &a, donors
				return true
			}
		}
		return false
	}
	after := i+1 < len(g.signs) && g.signs[i+1].num != nil && g.signs[i+1].from == s.to && !g.is(s.from-1, "of")
	for j := i - 1; j >= 0 && j >= i-3 && !after; j-- {
		if g.signs[j].used || g.crosses(g.signs[j].to, s.from) {
			break
		}
		if g.signs[j].num != nil {
			a, _ := g.amountAt(j)
			if s.from-a.to <= 2 && try(a, true) {
				break
			}
			break
		}
		if g.signs[j].content() && !g.signs[j].has(isUnit) {
			break
		}
	}
	if got == nil {
		for j := i + 1; j < len(g.signs) && j <= i+5; j++ {
			p := &g.signs[j]
			if p.used || p.from-s.to > 2 && !g.tookOff(s.to, p.from) || p.from-s.to > 8 {
				break
			}
			if p.num != nil {
				a, _ := g.amountAt(j)
				if slices.Contains(a.units, "min") && list == schema.PerfusionUltrafiltration {
					continue // how long it took
				}
				if n := g.nextSign(a.to); g.is(a.to, "of") && n < len(g.signs) && g.signs[n].from == a.to+1 && g.signs[n].content() {
					break // "a cryo, forty mils of plasma": of what follows
				}
				try(a, true)
				break
			}
			if p.content() && !p.has(isUnit) && !g.tookOff(p.from, p.to) {
				break
			}
		}
	}
	if got == nil && number {
		return
	}
	gi := g.newGroup(list, s.from, s.to)
	g.claimIn(gi, row(key), value, s.from, s.to, s.from, s.to)
	if got != nil {
		v, _, ok := fits(field, *got)
		if !ok {
			v = got.decimal
		}
		g.claimIn(gi, field, v, got.from, got.to, min(s.from, got.from), max(s.to, got.to))
		g.useAmount(*got)
	}
	s.used = true
	if list == schema.PerfusionPrime {
		g.primeDetails(gi, i, got)
	}
	if f := row("phase"); f != nil && len(g.signs) > 0 {
		for n := 0; n < min(2, i); n++ {
			v, p := g.valueOf(&g.signs[n], f), &g.signs[n]
			if v == "" || p.from > 1 && !(p.from <= 2 && g.is(p.to, ":")) {
				continue // "After bypass he got sixty mils of platelets", "Products after bypass: ..."
			}
			g.claimIn(gi, f, v, p.from, p.to, p.from, s.to)
			return
		}
	}
}

// phaseRows gives the phase said after products to all of them that have none:
// "plasma 150, platelets 100 and cryo 60, all after bypass".
func (g *segment) phaseRows() {
	list := schema.BloodProducts
	phase := rowField(list, "phase")
	for k := range g.toks {
		v, end := "", k+1
		if n := g.at[k]; n >= 0 && g.signs[n].from == k {
			v, end = g.valueOf(&g.signs[n], phase), g.signs[n].to
		}
		if v == "" && g.is(k, "post", "after", "afterward") && (k+1 >= len(g.toks) || g.toks[k+1].kind == stop || g.is(k+1, ",", ")")) {
			v = "after-bypass"
		}
		if v == "" {
			continue
		}
		last := k
		for x := len(g.groups) - 1; x >= 0; x-- {
			r := &g.groups[x]
			if r.list != list || r.denied || r.gone || r.from >= k {
				continue
			}
			to := r.to
			for c := range g.claims {
				if g.claims[c].group == x {
					to = max(to, g.claims[c].to)
				}
			}
			if g.claimed(x, phase) || to > k || last == k && !g.onlyGiven(to, k) || last < k && !g.listedOn(to, last) {
				break
			}
			g.claimIn(x, phase, v, k, end, r.from, end)
			last = r.from
		}
	}
}

// listedOn tells whether nothing but what joins two things of a list stands between
// two tokens.
func (g *segment) listedOn(from, to int) bool {
	for k := from; k < to; k++ {
		if g.toks[k].kind == word && !g.is(k, "and", "plus", "of", "then", "also", "with", "some", "a", "mil", "unit") && !g.numberAt(k) || g.toks[k].kind == stop {
			return false
		}
	}
	return true
}

// productBefore tells whether a blood product is named right before sign i.
func (g *segment) productBefore(i int) bool {
	for j := i - 1; j >= 0 && g.signs[i].from-g.signs[j].to <= 4 && !g.crossesStop(g.signs[j].to, g.signs[i].from); j-- {
		if g.valueOf(&g.signs[j], rowField(schema.BloodProducts, "product")) != "" {
			return true
		}
	}
	return false
}

// onlyGiven tells whether the words between two tokens say no more than that a
// product was given.
func (g *segment) onlyGiven(from, to int) bool {
	for k := from; k < to; k++ {
		if !g.is(k, "went", "in", "were", "was", "given", "transfused", "got", "used", "all", "both", "each", "product", "the", ",", "of", "them", "(", "back") {
			return to-from == 1 && g.toks[k].kind == word
		}
	}
	return true
}

// tookOff tells whether the words from one token to another say no more than that a
// filter took something off.
func (g *segment) tookOff(from, to int) bool {
	for k := from; k < to; k++ {
		if !g.is(k, "took", "off", "removed", "of", "was", "another", "a", ":", "volume", "for", "min", "minute", "filtered", "then", "about", "out", "gave", "back", "returned", "during", "on", "rewarming", "filtration", "ultrafiltration", "while") && !g.numberAt(k) && !(g.at[k] >= 0 && g.signs[g.at[k]].num != nil) {
			return false
		}
	}
	return true
}

// primeDetails reads how old the cells of the prime were, and that they were
// irradiated.
func (g *segment) primeDetails(gi, i int, got *amount) {
	age, irradiated := rowField(schema.PerfusionPrime, "age"), rowField(schema.PerfusionPrime, "irradiated")
	last := g.signs[i].to
	if got != nil {
		last = max(last, got.to)
	}
	from := g.signs[i].from
	for n := g.nextSign(last); n < len(g.signs) && g.signs[n].from-last <= 3 && !g.crossesStop(last, g.signs[n].from); n++ {
		s := &g.signs[n]
		if s.num != nil {
			a, _ := g.amountAt(n)
			if !slices.Contains(a.units, "d") && !g.is(a.to, "day") || g.claimed(gi, age) {
				return
			}
			g.claimIn(gi, age, a.decimal, a.from, a.to, from, a.to)
			g.useAmount(a)
			last = a.to
			for g.is(last, "day", "old") {
				last++
			}
			continue
		}
		if g.within(s, "irradiated", "irrad") {
			g.claimIn(gi, irradiated, "true", s.from, s.to, from, s.to)
			s.used = true
		} else if s.content() && !s.has(isUnit) && !g.within(s, "old") {
			return
		}
		last = s.to
	}
	for k := last; k < len(g.toks) && k < last+2; k++ {
		if g.is(k, "irradiated", "irrad") && g.at[k] < 0 {
			g.claimIn(gi, irradiated, "true", k, k+1, from, k+1)
		}
	}
}

// inNote tells whether notes of the kind have the field.
func (g *segment) inNote(f *schema.Field) bool { return g.lex.held[f] }
