package dictation

import (
	"slices"

	"fairlead/schema"
)

// readBands reads branch bands and ductal stents of a hybrid stage 1.
func (g *segment) readBands() {
	bands, stents := fieldAt(schema.HybridBands), fieldAt(schema.HybridStents)
	if !g.inNote(bands) {
		return
	}
	row := func(list schema.Path, n string) *schema.Field { return fieldAt(schema.RowPath(list, "*", n)) }
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		if g.valueOf(s, row(schema.HybridStents, "type")) != "" && g.ctx.form == "hybrid" && s.from <= 1 && len(g.toks) <= 12 && !g.mentions("stent", "no", "not", "but", "opened", "tried", "swapped", "instead", "first") { // "Self-expanding, eight by eighteen."
			g.readStent(i, func(n string) *schema.Field { return row(schema.HybridStents, n) })
			continue
		}
		for _, x := range s.senses {
			if x.kind != namesField {
				continue
			}
			switch x.field {
			case stents:
				g.readStent(i, func(n string) *schema.Field { return row(schema.HybridStents, n) })
			case bands:
				g.readBand(i, func(n string) *schema.Field { return row(schema.HybridBands, n) })
			}
		}
	}
}

// readStent reads "eight by twenty" beside a stent.
func (g *segment) readStent(i int, row func(string) *schema.Field) {
	s := &g.signs[i]
	for j := max(0, i-5); j < len(g.signs) && j <= i+5; j++ {
		p := &g.signs[j]
		if p.num == nil || p.used || p.scope&unreal != 0 {
			continue
		}
		if p.from > s.to && p.from-s.to > 6 && !(p.from-s.to <= 10 && g.anyWithin(s.to, p.from, ":")) || p.to < s.from && s.from-p.to > 6 {
			continue
		}
		a, _ := g.amountAt(j)
		n := g.nextSign(a.to)
		if !g.is(a.to, "by", "x") || n >= len(g.signs) || g.signs[n].num == nil || g.signs[n].from != a.to+1 {
			continue
		}
		b, _ := g.amountAt(n)
		v, _, ok := fits(row("diameter"), a)
		w, _, ok2 := fits(row("length"), b)
		if !ok || !ok2 {
			continue
		}
		gi := g.newGroup(schema.HybridStents, min(s.from, a.from), max(s.to, b.to))
		g.claimIn(gi, row("diameter"), v, a.from, a.to, min(s.from, a.from), b.to)
		g.claimIn(gi, row("length"), w, b.from, b.to, min(s.from, a.from), b.to)
		for k := max(0, i-4); k < len(g.signs) && k <= i+4; k++ {
			for _, x := range g.signs[k].senses {
				if x.kind == isValue && x.field == row("type") && !g.signs[k].used {
					g.claimIn(gi, row("type"), x.value, g.signs[k].from, g.signs[k].to, s.from, s.to)
					g.signs[k].used = true
				}
			}
		}
		g.useAmount(a)
		g.useAmount(b)
		s.used = true
		return
	}
}

// readBand reads "right band three and a half, left three", "bilateral bands cut
// from three and a half".
func (g *segment) readBand(i int, row func(string) *schema.Field) {
	s := &g.signs[i]
	type side struct {
		which    string
		from, to int
	}
	var sides []side
	var sizes []amount
	material, method := -1, -1
	edge := s.from
	sideSign := func(p *sign) string {
		for _, x := range p.senses {
			if x.kind == isValue && x.field == row("side") {
				return x.value
			}
		}
		if w := g.sideOf(p); w == "right" || w == "left" || w == "both" {
			return w
		}
		return ""
	}
	// A side that stands before the word belongs to it; then what follows.
	start := i
	for start > 0 && start > i-4 {
		p := &g.signs[start-1]
		if p.used || edge-p.to > 2 || g.crossesStop(p.to, edge) || p.num == nil && sideSign(p) == "" && !p.has(isUnit) && !g.bandWord(p, row) {
			break
		}
		start--
		edge = p.from
	}
	last := edge
	end := i
	for j := start; j < len(g.signs) && j < i+12; j++ {
		p := &g.signs[j]
		if p.used && p.from-last <= 5 {
			last = p.to
			continue
		}
		if p.used || p.scope&(unreal|denied) != 0 || p.from-last > 5 || g.crossesStop(last, p.from) || p.is(turns) {
			break
		}
		if p.num != nil {
			a, _ := g.amountAt(j)
			if _, _, ok := fits(row("size"), a); !ok {
				break
			}
			if g.is(a.to, "by", "x") {
				break
			}
			sizes = append(sizes, a)
			last, end = a.to, max(j, a.unitSign)
			j = end
			continue
		}
		switch w := sideSign(p); {
		case w == "both":
			sides = append(sides, side{"right", p.from, p.to}, side{"left", p.from, p.to})
		case w != "":
			if k := slices.IndexFunc(sides, func(x side) bool { return x.which == w }); k < 0 {
				sides = append(sides, side{w, p.from, p.to})
			} else {
				sides[k] = side{w, p.from, p.to}
			}
		case g.valueOf(p, row("material")) != "":
			material = j
		case g.valueOf(p, row("method")) != "":
			method = j
		case g.within(p, "pulmonary", "branch", "artery"):
		case p.has(namesField) && g.namesStents(p):
			j = len(g.signs)
			continue
		case p.content() && !p.has(isUnit) && !g.rowWord(p, schema.HybridBands) && !g.namesList(p, schema.HybridBands):
			j = len(g.signs)
			continue
		}
		last, end = p.to, j
	}
	if len(sides) == 0 && g.pluralAt(s.to-1) && len(sizes) > 0 {
		sides = []side{{"right", s.from, s.to}, {"left", s.from, s.to}}
	}
	if len(sides) == 0 || len(sizes) == 0 {
		return
	}
	if len(sizes) >= 2 { // each side has its own: in the order they are said
		slices.SortStableFunc(sides, func(a, b side) int { return a.from - b.from })
	}
	for n, sd := range sides {
		a := sizes[min(n, len(sizes)-1)]
		gi := g.newGroup(schema.HybridBands, s.from, last)
		g.claimIn(gi, row("side"), sd.which, sd.from, sd.to, s.from, last)
		v, _, _ := fits(row("size"), a)
		g.claimIn(gi, row("size"), v, a.from, a.to, s.from, last)
		if material >= 0 {
			m := &g.signs[material]
			g.claimIn(gi, row("material"), g.valueOf(m, row("material")), m.from, m.to, s.from, last)
		}
		if method >= 0 {
			m := &g.signs[method]
			g.claimIn(gi, row("method"), g.valueOf(m, row("method")), m.from, m.to, s.from, last)
		}
	}
	for j := start; j <= end && j < len(g.signs); j++ {
		if !g.alsoForm(&g.signs[j]) {
			g.signs[j].used = true
		}
	}
}

func (g *segment) alsoForm(s *sign) bool {
	for _, x := range s.senses {
		if x.kind == isValue && (x.field.Path == schema.Stage1Form || x.field.Path == schema.SupplyKind) {
			return true
		}
	}
	return false
}

func (g *segment) bandWord(p *sign, row func(string) *schema.Field) bool {
	return g.valueOf(p, row("material")) != "" || g.valueOf(p, row("method")) != ""
}

func (g *segment) namesStents(p *sign) bool { return g.namesList(p, schema.HybridStents) }

func (g *segment) namesList(p *sign, list schema.Path) bool {
	for _, x := range p.senses {
		if x.kind == namesField && x.field.Path == list {
			return true
		}
	}
	return false
}

// valueOf is the value of field f that a sign may mean, or "".
func (g *segment) valueOf(p *sign, f *schema.Field) string {
	for _, x := range p.senses {
		if x.kind == isValue && x.field == f {
			return x.value
		}
	}
	return ""
}

// readBandsMore reads what is said of the bands apart from their sizes: how they
// were made, the gradient across each, a size put right.
func (g *segment) readBandsMore() {
	list := fieldAt(schema.HybridBands)
	if !g.inNote(list) || g.ctx.form != "hybrid" && g.ctx.form != "bands-prostaglandin" && g.ctx.supply != "branch-bands" {
		return
	}
	own := -1
	for i := range g.groups {
		if g.groups[i].list == schema.HybridBands {
			own = i
		}
	}
	row := func(n string) *schema.Field { return rowField(schema.HybridBands, n) }
	side := func(i int) string {
		for _, x := range g.signs[i].senses {
			if x.kind == isValue && x.field == row("side") {
				return x.value
			}
		}
		if w := g.sideOf(&g.signs[i]); w == "right" || w == "left" {
			return w
		}
		return ""
	}
	for i := range g.signs {
		w := side(i)
		if w == "" || !g.plainTalk(i) && own < 0 {
			continue
		}
		s := &g.signs[i]
		for j := i + 1; j < len(g.signs) && g.signs[j].from-s.to <= 3 && !g.crossesStop(s.to, g.signs[j].from); j++ {
			if side(j) != "" {
				break
			}
			if g.signs[j].num == nil || !g.plainTalk(j) {
				continue
			}
			a, _ := g.amountAt(j)
			if g.mentions("gradient") {
				if v, _, ok := fits(row("gradient"), a); ok && (a.units == nil || slices.Contains(a.units, "mm[Hg]")) && len(a.decimal) == 2 {
					gi := g.newGroup(schema.HybridBands, s.from, a.to)
					g.claimIn(gi, row("side"), w, s.from, s.to, s.from, a.to)
					g.claimIn(gi, row("gradient"), v, a.from, a.to, s.from, a.to)
					g.useAmount(a)
					s.used = true
				}
				break
			}
			if own < 0 {
				break
			}
			corrected := false
			for k := 0; k < i; k++ {
				corrected = corrected || g.signs[k].is(corrects) || g.interjected(&g.signs[k])
			}
			v, _, ok := fits(row("size"), a)
			if !ok || !corrected || !usual(row("size"), g.lex.kind, v) {
				break
			}
			for c := range g.claims { // "right is three point oh and left is three point five"
				x := &g.claims[c]
				if x.group >= 0 && x.field == row("side") && x.value == w {
					for d := range g.claims {
						if y := &g.claims[d]; y.group == x.group && y.field == row("size") {
							y.value, y.from, y.to, y.whyTo = v, a.from, a.to, a.to
						}
					}
				}
			}
			g.useAmount(a)
			s.used = true
			break
		}
	}
	if own >= 0 || g.mentions("stent", "shunt", "conduit", "arch") {
		return
	}
	gi := -1
	for i := range g.signs {
		for _, name := range []string{"method", "material"} {
			v := g.valueOf(&g.signs[i], row(name))
			if v == "" || !g.plainTalk(i) || gi >= 0 && g.claimed(gi, row(name)) || name == "material" && gi < 0 && len(g.toks) > 8 && !g.mentions("ring") {
				continue
			}
			s := &g.signs[i]
			if name == "method" && !(g.lex.alone[s.node] || len(g.toks) <= 6 || g.mentions("band") || g.ctx.bands > 0) {
				continue
			}
			if gi < 0 {
				gi = g.newGroup(schema.HybridBands, s.from, s.to)
			}
			g.claimIn(gi, row(name), v, s.from, s.to, s.from, s.to)
			s.used = true
		}
	}
	if gi >= 0 && g.mentions("both", "band", "bilateral", "each", "ring") {
		g.readTubeSize(gi)
	}
}

// readTubeSize reads the size that both bands have of the tube they were cut from: "both
// rings cut from a three and a half Gore-Tex tube".
func (g *segment) readTubeSize(gi int) {
	size := rowField(schema.HybridBands, "size")
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || !g.plainTalk(i) {
			continue
		}
		a, _ := g.amountAt(i)
		v, _, ok := fits(size, a)
		tube := g.anyWithin(a.to, a.to+4, "tube", "gore", "ptfe", "gt", "ring")
		if !ok || !tube || !usual(size, g.lex.kind, v) || a.units != nil && !slices.Contains(a.units, "mm") {
			continue
		}
		g.claimIn(gi, size, v, a.from, a.to, a.from, a.to)
		g.useAmount(a)
		return
	}
}

// readSeptumGradient reads the gradient told beside the septum and nothing else that
// has one: "septum ballooned, gradient two".
func (g *segment) readSeptumGradient() {
	f := fieldAt(schema.HybridSeptumGradient)
	if !g.inNote(f) || !g.mentions("septum", "septal", "septostomy", "asd", "bas") || g.anyPrefix("arch", "pull", "aort", "band", "stent") || g.answered(f) {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(unreal|denied) != 0 {
			continue
		}
		k := s.from - 1
		if i+1 < len(g.signs) && (g.is(s.to, "to") && g.signs[i+1].num != nil && g.signs[i+1].from == s.to+1 || g.is(s.to, "→", ">") && g.numberAfterArrow(s.to)) {
			continue // "six to two", "7 → ballooned → 2": it is the last that stays
		}
		for g.is(k, "of", "now", "is", "was", "about", "only", "just", "at", "to", "from", "went", "fell", "came", "down", "dropped", "→", ">", "ballooned") || k > 0 && g.numberAt(k) && g.is(k+1, "to", "→", ">") {
			k--
		}
		if !g.is(k, "gradient", "grad") || g.is(k-1, "pulmonary", "transpulmonary") {
			continue
		}
		if a, ok := g.amountAt(i); ok {
			if v, _, ok := fits(f, a); ok {
				g.useAmount(a)
				g.claimField(f, v, a.from, a.to, k, a.to)
				return
			}
		}
	}
}

// numberAfterArrow tells whether a number follows the arrow at token k, or a second arrow
// after it.
func (g *segment) numberAfterArrow(k int) bool {
	for j := k; j < len(g.toks) && j < k+5; j++ {
		if g.is(j, "→", ">") && g.numberAt(j+1) {
			return true
		}
	}
	return false
}
