package dictation

import (
	"slices"

	"fairlead/schema"
)

// readWiresShort reads wires as they are written in a hurry: "A x2 V x2", "2A 2V",
// "two A two V".
func (g *segment) readWiresShort() {
	kind := schema.ItemKindNamed("pacing-wires")
	first, last := 0, len(g.toks)
	if !g.mentions("wire", "pacing", "pace", "lead") {
		first, last = g.twoLetters()
	}
	if kind == nil || last == 0 {
		return
	}
	letter := func(k int) string {
		if k < 0 || k >= len(g.toks) || g.at[k] >= 0 && g.signs[g.at[k]].to-g.signs[g.at[k]].from > 1 && g.signs[g.at[k]].used {
			return ""
		}
		switch g.toks[k].text {
		case "ra":
			if !g.mentions("wire", "lead") {
				return ""
			}
			return "atrial"
		case "rv":
			if !g.mentions("wire", "lead") {
				return ""
			}
			return "ventricular"
		case "a":
			if g.is(k+1, "pair", "set", "single", "couple") {
				return ""
			}
			return "atrial"
		case "v":
			return "ventricular"
		case "atrium", "ventricle":
			if g.mentions("wire") && k > 0 && g.numberAt(k-1) && !g.is(k-1, "a", "an") {
				return chamberWord[g.toks[k].text]
			}
		}
		return ""
	}
	taken := map[int]bool{}
	count := func(k int) (string, int, int) { // number at token k
		if taken[k] {
			return "", 0, 0
		}
		if k < 0 || k >= len(g.toks) || g.at[k] < 0 {
			return "", 0, 0
		}
		s := &g.signs[g.at[k]]
		if s.num == nil || s.used || smallCount(s.num.decimal) == 0 {
			return "", 0, 0
		}
		return s.num.decimal, s.from, s.to
	}
	type found struct {
		variety, n     string
		from, to, sign int
	}
	var fs []found
	for k := range g.toks {
		if len(fs) > 0 && g.is(k, "thresh", "threshold", "thr") && letter(k+1) != "" {
			break // "2A 2V, thresh A 2 mA": no count
		}
		v := letter(k)
		if v == "" || k < first || k >= last {
			continue
		}
		before := k
		for g.is(before-1, "temporary", "temp") {
			before--
		}
		if n, from, to := count(before - 1); n != "" && to == before && (v == "ventricular" || g.letterNear(k, "v", "rv", "ventricle") || g.toks[k].glued && g.mentions("wire")) {
			taken[before-1] = true
			fs = append(fs, found{v, n, from, k + 1, int(g.at[before-1])})
			continue
		}
		j := k + 1
		if g.is(j, "x", "wire", "time") {
			j++
		}
		if g.is(j, "x") {
			j++
		}
		if n, _, to := count(j); n != "" && (j > k+1 || g.letterNear(k, "a", "v", "ra", "rv") || g.is(k-1, "wire") && v == "ventricular") {
			taken[j] = true
			fs = append(fs, found{v, n, k, to, int(g.at[j])})
		}
	}
	if len(fs) > 0 {
		g.denyLetters(kind, letter)
	}
	if len(fs) == 1 && fs[0].variety == "ventricular" { // "A and V wires two each"
		k := fs[0].to
		for v := fs[0].from; v > 1 && v >= fs[0].from-2; v-- {
			if g.is(v, "v") && g.is(v-1, "and", "+", "/") && g.is(v-2, "a") && g.is(k, "each") {
				fs = append(fs, found{"atrial", fs[0].n, v - 2, v - 1, fs[0].sign})
				break
			}
		}
	}
	if len(fs) == 0 || len(fs) == 1 && fs[0].variety == "atrial" {
		return
	}
	var made []int
	end := 0
	for _, f := range fs {
		end = max(end, f.to)
		if g.signs[f.sign].scope&(unreal|denied) != 0 || g.signs[f.sign].used && f.from > 0 && !g.is(f.to+1, "v") {
			continue
		}
		gi := g.newGroup("items", f.from, f.to)
		g.groups[gi].item, g.groups[gi].variety = kind, f.variety
		g.claimIn(gi, kind.Field("variety"), f.variety, f.from, f.to, f.from, f.to)
		g.claimIn(gi, kind.Field("count"), f.n, g.signs[f.sign].from, g.signs[f.sign].to, f.from, f.to)
		made = append(made, gi)
		g.signs[f.sign].used = true
		for k := f.from; k < f.to; k++ {
			if n := g.at[k]; n >= 0 {
				g.signs[n].used = true
			}
		}
	}
	all := g.is(end, "all", "both", "each") || g.is(end+1, "all", "both", "each")
	for m, gi := range made {
		limit := len(g.toks)
		if m+1 < len(made) {
			limit = g.groups[made[m+1]].from
		}
		g.wiresSaid(kind, made, m, g.groups[gi].variety, limit, all)
	}
}

// readNoWires reads that there are no pacing wires at all: neither atrial nor
// ventricular.
func (g *segment) readNoWires() {
	kind := schema.ItemKindNamed("pacing-wires")
	for i := range g.signs {
		s := &g.signs[i]
		if s.used && g.is(s.from, "v") && g.is(s.from-1, "/", "or", "nor") && g.is(s.from-2, "a") && g.is(s.from-3, "no") { // "no A/V wires": the ventricular have been read
			gi := g.newGroup("items", s.from-2, s.to)
			g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, "atrial", true
			g.claimIn(gi, kind.Field("variety"), "atrial", s.from-2, s.to, s.from-2, s.to)
			return
		}
		if s.used || s.scope&denied == 0 || s.scope&unreal != 0 || !slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isHead && x.item == kind }) || !g.pluralAt(s.to-1) {
			continue
		}
		named := g.is(s.to, ",", ":") && g.is(s.to+1, "not", "no", "neither", "nor") && g.is(s.to+2, "atrial", "ventricular") && g.mentions("atrial") && g.mentions("ventricular") && len(g.toks) <= s.to+10
		named = named || g.chambersAfter(s.to)
		if !named && (g.mentions("sternal", "steel", "sternum", "guide", "atrial", "ventricular", "a", "v", "skin", "earth") && !g.within(s, "pacing") || g.chambersSaid()) || g.is(s.to, "connected", "tested") {
			return
		}
		for _, v := range []string{"atrial", "ventricular"} {
			gi := g.newGroup("items", s.from, s.to)
			g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied, g.groups[gi].whole = kind, v, true, !named
			g.claimIn(gi, kind.Field("variety"), v, s.from, s.to, s.from, s.to)
		}
		s.used = true
		return
	}
}

// chambersAfter tells whether a list of both chambers, and no more, stands at token k:
// "no wires, A or V".
func (g *segment) chambersAfter(k int) bool {
	first, second := "", ""
	for ; k < len(g.toks) && g.toks[k].kind != stop; k++ {
		switch v := chamberWord[g.toks[k].text]; {
		case v != "" && first == "":
			first = v
		case v != "" && second == "":
			second = v
		case !g.is(k, ",", "or", "nor", "and", "/", "either", "neither", "at", "all"):
			return false
		}
	}
	return second != "" && first != second
}

// twoLetters finds both chambers by their letters, each with its count, as they are
// jotted down with no word for wires: "2A 2V", "A x2 V x1", "V x2, no A". It gives the
// tokens they take; to is 0 where they are not there.
func (g *segment) twoLetters() (from, to int) {
	for k := range g.toks {
		first, end := g.letterCount(k)
		if first == "" {
			continue
		}
		j := end
		for j < end+3 && g.is(j, ",", "and", "+", "/", "only") {
			j++
		}
		if second, last := g.letterCount(j); second != "" && second != first && (g.toks[last-1].glued || g.toks[last-1].kind != word || last >= len(g.toks) || g.toks[last].kind != word || g.is(last, "wire")) {
			return k, last
		}
		if g.is(end-2, "x") && g.is(j, "no", "0") && g.is(j+1, "a", "v") && !g.is(j+1, first) && (j+2 >= len(g.toks) || g.toks[j+2].kind != word) {
			return k, j + 2
		}
	}
	return 0, 0
}

// letterCount reads at token k a chamber by its letter, with how many wires it has: "2A",
// "A2", "A x2", "2x V", "two A". It gives the letter and where they end.
func (g *segment) letterCount(k int) (letter string, end int) {
	switch j := k + 1; {
	case j >= len(g.toks):
	case smallNumber(g.toks[k].text):
		for g.is(j, "x") {
			j++
		}
		if g.is(j, "a", "v") {
			return g.toks[j].text, j + 1
		}
	case g.is(k, "a", "v"):
		glued := g.toks[j].glued
		for g.is(j, "x") {
			j++
		}
		if j < len(g.toks) && g.toks[j].kind == figure && smallNumber(g.toks[j].text) && (j > k+1 || glued || isCapital(g.text[g.toks[k].span.Start])) {
			return g.toks[k].text, j + 1
		}
	}
	return "", k
}

// smallNumber tells whether a word counts one or two wires.
func smallNumber(w string) bool { return w == "one" || w == "two" || w == "1" || w == "2" }

// letterNear tells whether one of the letters stands within four tokens of k.
func (g *segment) letterNear(k int, letters ...string) bool {
	for j := max(0, k-4); j < len(g.toks) && j <= k+4; j++ {
		if j != k && slices.Contains(letters, g.toks[j].text) {
			return true
		}
	}
	return false
}

// readPermanentLeads reads leads left for good, which are no pacing wires: "epicardial
// leads, one atrial and one ventricular, and a pocket behind the rectus".
func (g *segment) readPermanentLeads() {
	f := fieldAt(schema.Stage3Leads)
	if !g.inNote(f) || !g.mentions("lead") || g.mentions("temporary") || !g.mentions("permanent", "epicardial", "generator", "pocket", "buried", "pacemaker") {
		return
	}
	for k := range g.toks {
		if !g.is(k, "lead") {
			continue
		}
		for j := max(0, k-6); j < len(g.toks) && j < k+10 && !g.crossesStop(min(j, k), max(j, k)); j++ {
			v := chamberWord[g.toks[j].text]
			if v == "" || g.is(j, "a", "v") || g.unrealAt(j) || g.is(j+1, "wire", "line", "pressure") || slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f && c.value == v }) {
				continue
			}
			g.claimField(f, v, j, j+1, min(j, k), max(j, k)+1)
			for m := min(j, k); m <= max(j, k); m++ {
				if n := g.at[m]; n >= 0 && (m == j || m == k) {
					g.signs[n].used = true
				}
			}
		}
		return
	}
}

// eachChamber tells whether the number at sign i is said of the wires on each chamber:
// "wires in both chambers, two each", "four wires, two on each".
func (g *segment) eachChamber(i int, kind *schema.ItemKind) bool {
	s := &g.signs[i]
	if smallCount(s.num.decimal) == 0 || s.scope&(unreal|denied) != 0 {
		return false
	}
	k := s.to
	for g.is(k, "on", "in", "for", "to", "of", "per", "wire") {
		k++
	}
	if !g.is(k, "each", "both", "either") && !(g.is(k, "chamber") && g.is(k-1, "per")) || g.is(k+1, "side", "pleura") || g.is(k, "both") && g.numberAt(k+1) {
		return false // "right pleural one, both twenty French"
	}
	return slices.ContainsFunc(g.signs[:i], func(x sign) bool {
		return !x.used && !x.has(isItem) && slices.ContainsFunc(x.senses, func(y sense) bool { return y.kind == isHead && y.item == kind })
	}) && (g.mentions("chamber", "pacing", "each") || g.mentions("atrium", "atrial")) && !g.mentions("sternal", "steel")
}

// listBothChambers lists as many wires on each chamber as sign i says.
func (g *segment) listBothChambers(i int, kind *schema.ItemKind) {
	s := &g.signs[i]
	for _, v := range []string{"atrial", "ventricular"} {
		if slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && x.variety == v && !x.gone }) {
			continue
		}
		gi := g.newGroup("items", s.from, s.to)
		g.groups[gi].item, g.groups[gi].variety = kind, v
		g.claimIn(gi, kind.Field("variety"), v, s.from, s.to, s.from, s.to)
		g.claimIn(gi, kind.Field("count"), s.num.decimal, s.from, s.to, s.from, s.to)
	}
	s.used = true
}

// readTwoAndTwo reads "wires two and two" and "two and two for pacing".
func (g *segment) readTwoAndTwo() {
	kind := schema.ItemKindNamed("pacing-wires")
	if kind == nil {
		return
	}
	for i := range g.signs {
		a := &g.signs[i]
		if a.used || a.num == nil {
			continue
		}
		next := i // "two on each chamber" is two and two
		if !g.eachChamber(i, kind) {
			if next = g.nextSign(a.to + 1); next >= len(g.signs) || !g.is(a.to, "and", "+", "plus") {
				continue
			}
		}
		b := &g.signs[next]
		if next == i {
			g.listBothChambers(i, kind)
			return
		}
		if b.used || b.num == nil || b.from != a.to+1 || smallCount(a.num.decimal) == 0 || smallCount(b.num.decimal) == 0 {
			continue
		}
		near := g.ctx.last == kind.Name && g.onlyStay(0, a.from) || g.is(a.from-1, "on", "through", "via") && g.mentions("pacing", "paced")
		for j := max(0, i-2); j < len(g.signs) && j <= i+3; j++ {
			if g.signs[j].used {
				continue
			}
			for _, x := range g.signs[j].senses {
				if x.kind == isHead && x.item == kind && (j > i+1 && g.signs[j].from-b.to <= 2 || j < i && (a.from-g.signs[j].to <= 2 || a.from-g.signs[j].to <= 5 && g.onlyStay(g.signs[j].to, a.from))) {
					near = true
				}
			}
		}
		if !near || (a.scope|b.scope)&(unreal|denied) != 0 || g.recounted(next, kind) {
			continue
		}
		a.used, b.used = true, true
		t := thing{head: -1, to: b.to, of: kind, varieties: []string{"atrial"}}
		attrs := g.attributesOf(&t, kind, len(g.toks))
		for k, v := range []string{"atrial", "ventricular"} {
			s := []*sign{a, b}[k]
			gi := g.newGroup("items", s.from, s.to)
			g.groups[gi].item, g.groups[gi].variety = kind, v
			g.claimIn(gi, kind.Field("variety"), v, s.from, s.to, a.from, b.to)
			g.claimIn(gi, kind.Field("count"), s.num.decimal, s.from, s.to, a.from, b.to)
			for _, c := range attrs {
				if !c.field.Numeric() { // "two and two, insulated"
					c.group = gi
					g.claims = append(g.claims, c)
				}
			}
		}
	}
}

// chambersSaid tells whether a chamber is spoken of that is no line's and no pressure's.
func (g *segment) chambersSaid() bool {
	for k := range g.toks {
		if g.is(k, "atrial", "ventricular") && !g.is(k+1, "line", "pressure", "catheter") {
			return true
		}
	}
	return false
}

// countedAt tells whether what stands at token k is a wire or a drain, so that a number
// word before it counts it.
func (g *segment) countedAt(k int) bool {
	return g.is(k, "atrial", "ventricular", "v", "drain", "mediastinal", "retrosternal", "wire") || g.is(k, "right", "left", "pleural", "pacing", "chest") && g.is(k+1, "pleural", "drain", "wire")
}
