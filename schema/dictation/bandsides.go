package dictation

import (
	"slices"
	"strconv"

	"fairlead/schema"
)

// bandSaid is a side, or a number that may be a size or a gradient, in a sentence on
// branch bands.
type bandSaid struct {
	side string
	n    amount
	from int
	to   int
}

// bandsReach is for how many sentences after the bands were spoken of a side with nothing
// but a number is of one of them: "Bands, cut rings. The left is a three. Right: three and
// a half."
const bandsReach = 3

// speaksOfBands tells whether the segment speaks of branch bands.
func (g *segment) speaksOfBands() bool {
	if g.ctx.form != "hybrid" && g.ctx.form != "bands-prostaglandin" {
		return false
	}
	return g.mentions("band", "banded", "banding") || slices.ContainsFunc(g.groups, func(x group) bool { return x.list == schema.HybridBands && !x.gone && !x.denied })
}

// onlyBand tells whether the segment says no more than a side and a number that may be the
// size of its band, and how that was made.
func (g *segment) onlyBand() bool {
	sides, numbers := 0, 0
	for i := range g.signs {
		s := &g.signs[i]
		switch {
		case s.num != nil:
			numbers++
		case g.bandSide(s) != "":
			sides++
		case g.bandWord(s, func(n string) *schema.Field { return rowField(schema.HybridBands, n) }), s.has(isUnit), g.is(s.from, "first", "second", "final"):
		case s.content():
			return false
		}
	}
	return sides == 1 && numbers == 1
}

// readBandsBySide reads the bands where each side is told with its own numbers, in
// whichever order: "on the right a three and a half ring, on the left a three",
// "gradients thirty eight right and forty left".
func (g *segment) readBandsBySide() {
	if !g.inNote(fieldAt(schema.HybridBands)) || !g.mentions("band", "banded", "banding", "ring", "gradient") && !(g.ctx.bands > 0 && g.onlyBand()) {
		return
	}
	hybrid := g.ctx.form == "hybrid" || g.ctx.form == "bands-prostaglandin" || g.mentions("band", "banded", "banding")
	if !hybrid {
		return
	}
	if g.readBandRows() {
		return
	}
	row := func(n string) *schema.Field { return rowField(schema.HybridBands, n) }
	var sizes, gradients []bandSaid
	across := false
	end := len(g.toks)
	for i := range g.signs {
		s := &g.signs[i]
		if g.namesStents(s) || g.is(s.from, "stent", "septum", "arch", "duct", "prostaglandin", "prostin") {
			end = s.from
			break
		}
	}
	for k := 0; k < end; k++ {
		across = across || g.is(k, "gradient")
		i := g.at[k]
		if i < 0 || g.signs[i].from != k || !g.plainTalk(int(i)) {
			continue
		}
		s := &g.signs[i]
		x := bandSaid{from: s.from, to: s.to}
		if s.num == nil {
			if x.side = g.bandSide(s); x.side == "" {
				continue
			}
		} else {
			x.n, _ = g.amountAt(int(i))
			x.to = x.n.to
			if x.n.decimal == "" || g.is(x.n.to, "by", "x") {
				return
			}
			if g.is(x.n.to, "band") && x.n.units == nil && smallCount(x.n.decimal) == 2 {
				g.useAmount(x.n)
				continue // "two bands"
			}
		}
		if across {
			gradients = append(gradients, x)
		} else {
			sizes = append(sizes, x)
		}
	}
	groups := map[string]int{}
	if len(sizes) == 1 && sizes[0].side == "" && g.mentions("both", "bilateral", "each") { // "both branches banded with three and a half rings"
		x := sizes[0]
		sizes = []bandSaid{{side: "right", from: x.from, to: x.to}, x, {side: "left", from: x.from, to: x.to}, x}
	}
	claim := func(said []bandSaid, name, unit string) {
		by := pairedBySide(said, func(a amount) bool {
			_, _, ok := fits(row(name), a)
			return ok && (a.units == nil || slices.Contains(a.units, unit)) && (name != "gradient" || len(a.decimal) == 2)
		})
		for _, p := range by {
			gi, ok := groups[p[0].side]
			if !ok {
				gi = g.newGroup(schema.HybridBands, min(p[0].from, p[1].from), max(p[0].to, p[1].to))
				g.claimIn(gi, row("side"), p[0].side, p[0].from, p[0].to, p[0].from, p[0].to)
				groups[p[0].side] = gi
			}
			v, _, _ := fits(row(name), p[1].n)
			g.claimIn(gi, row(name), v, p[1].n.from, p[1].n.to, min(p[0].from, p[1].from), max(p[0].to, p[1].to))
		}
		for _, p := range by {
			g.useAmount(p[1].n)
			g.signs[g.at[p[0].from]].used = true
		}
	}
	claim(sizes, "size", "mm")
	sized := len(groups) > 0
	if sized && len(gradients) == 2 && gradients[0].side == "" && gradients[1].side == "" { // in the order of the sizes
		first, second := "right", "left"
		for _, x := range sizes {
			if x.side != "" {
				if x.side == "left" {
					first, second = second, first
				}
				break
			}
		}
		a, b := gradients[0], gradients[1]
		gradients = []bandSaid{{side: first, from: a.from, to: a.to}, a, {side: second, from: b.from, to: b.to}, b}
	}
	claim(gradients, "gradient", "mm[Hg]")
	if !sized {
		return
	}
	var told []int // one phrase may tell both: "Gore-Tex ring"
	for _, name := range []string{"material", "method"} {
		for i := range g.signs {
			s := &g.signs[i]
			v := g.valueOf(s, row(name))
			if v == "" || !g.plainTalk(i) || s.from >= end {
				continue
			}
			for _, side := range []string{"right", "left"} {
				g.claimIn(groups[side], row(name), v, s.from, s.to, s.from, s.to)
			}
			told = append(told, i)
			break
		}
	}
	for _, i := range told {
		g.signs[i].used = !g.alsoForm(&g.signs[i])
	}
	for i := range g.signs { // the bands are told; what names them is not read again
		if s := &g.signs[i]; s.from < end && g.namesList(s, schema.HybridBands) && !g.alsoForm(s) {
			s.used = true
		}
	}
}

// pairedBySide joins each of two sides with its number, where sides and numbers take
// turns.
func pairedBySide(said []bandSaid, right func(amount) bool) [][2]bandSaid {
	if len(said) != 4 {
		return nil
	}
	var out [][2]bandSaid
	for i := 0; i < 4; i += 2 {
		a, b := said[i], said[i+1]
		if a.side == "" {
			a, b = b, a
		}
		if a.side == "" || b.side != "" || !right(b.n) || (said[i].side == "") != (said[0].side == "") {
			return nil
		}
		out = append(out, [2]bandSaid{a, b})
	}
	if out[0][0].side == out[1][0].side {
		return nil
	}
	return out
}

// bandRow is one band, with all that is told of it.
type bandRow struct {
	side           *sign
	which          string
	size, gradient *amount
	words          map[string]*sign // by field: material, method
}

// readBandRows reads bands each told with its side first and then its numbers: "RPA
// band 3.5 Gore-Tex, gradient 38, LPA band 3, gradient 34". It claims nothing, and
// says so, where a side comes twice or a number is in doubt.
func (g *segment) readBandRows() bool {
	row := func(n string) *schema.Field { return rowField(schema.HybridBands, n) }
	var rows []bandRow
	shared := bandRow{words: map[string]*sign{}}
	last := &shared
	told := func() bool { // both are told, and what follows is of something else
		return len(rows) == 2 && rows[0].size != nil && rows[1].size != nil
	}
	for i := 0; i < len(g.signs); i++ {
		s := &g.signs[i]
		if g.namesStents(s) || g.is(s.from, "stent", "septum", "arch", "duct", "prostaglandin", "prostin", "sat", "saturation") {
			break
		}
		if s.is(corrects) || s.is(scratches) {
			return false
		}
		if !g.plainTalk(i) {
			continue
		}
		if s.num != nil {
			a, _ := g.amountAt(i)
			v, err := strconv.ParseFloat(a.decimal, 64)
			if (err != nil || g.is(a.to, "by", "x")) && told() {
				break
			}
			if err != nil || g.is(a.to, "by", "x") {
				return false
			}
			if g.is(a.to, "band", "ring") && a.units == nil && v <= 2 {
				continue // "two bands"
			}
			if b, ok := g.bothGradients(i, a); ok && told() && rows[0].gradient == nil && rows[1].gradient == nil {
				rows[0].gradient, rows[1].gradient = &a, &b
				i = b.sign
				continue
			}
			to := &last.size
			if v >= 10 {
				to = &last.gradient
			}
			if *to != nil || v < 10 && shared.size != nil || v < 10 && a.units != nil && !slices.Contains(a.units, "mm") || v >= 10 && (last == &shared && !g.mentions("both", "bilateral", "each") || a.units != nil && !slices.Contains(a.units, "mm[Hg]")) {
				if told() {
					break
				}
				return false
			}
			*to = &a
			i = max(i, a.unitSign)
			continue
		}
		if w := g.bandSide(s); w != "" {
			if slices.ContainsFunc(rows, func(r bandRow) bool { return r.which == w }) {
				if told() && rows[0].gradient != nil {
					break
				}
				return false
			}
			rows = append(rows, bandRow{side: s, which: w, words: map[string]*sign{}})
			last = &rows[len(rows)-1]
		}
		for _, name := range []string{"material", "method"} {
			if g.valueOf(s, row(name)) != "" && last.words[name] == nil {
				last.words[name] = s
			}
		}
	}
	for name, s := range last.words { // "right three, left three and a half, cut rings"
		if shared.words[name] == nil && last.size != nil && s != nil && s.from > last.size.to {
			shared.words[name] = s
		}
	}
	for i := range g.signs { // "bilateral bands of three millimetres, gradient thirty five"
		if s := &g.signs[i]; len(rows) == 0 && shared.size != nil && shared.gradient != nil && s.is(both) {
			rows = []bandRow{{side: s, which: "right", gradient: shared.gradient, words: map[string]*sign{}}, {side: s, which: "left", gradient: shared.gradient, words: map[string]*sign{}}}
		}
	}
	same := g.mentions("same", "also", "both", "each")
	for n := range rows {
		r := &rows[n]
		if r.size == nil {
			r.size = shared.size
		}
		if r.size == nil && same && n > 0 {
			r.size = rows[0].size
		}
		if r.size == nil || r.gradient == nil && (len(rows) == 1 && !(g.ctx.bands > 0 && g.onlyBand()) || rows[0].gradient != nil) {
			return false
		}
		for _, name := range []string{"material", "method"} {
			if r.words[name] == nil {
				r.words[name] = shared.words[name]
			}
			if r.words[name] == nil && n > 0 {
				r.words[name] = rows[0].words[name] // said of the first, and meant of both
			}
		}
	}
	for _, r := range rows {
		gi := g.newGroup(schema.HybridBands, r.side.from, r.side.to)
		g.claimIn(gi, row("side"), r.which, r.side.from, r.side.to, r.side.from, r.side.to)
		for _, name := range []string{"size", "gradient"} {
			if a := map[string]*amount{"size": r.size, "gradient": r.gradient}[name]; a != nil {
				v, _, _ := fits(row(name), *a)
				g.claimIn(gi, row(name), v, a.from, a.to, min(r.side.from, a.from), max(r.side.to, a.to))
			}
		}
		for _, name := range []string{"material", "method"} {
			if s := r.words[name]; s != nil {
				g.claimIn(gi, row(name), g.valueOf(s, row(name)), s.from, s.to, s.from, s.to)
			}
		}
	}
	for _, r := range rows {
		g.useAmount(*r.size)
		if r.gradient != nil {
			g.useAmount(*r.gradient)
		}
		r.side.used = !g.alsoForm(r.side)
		for _, s := range r.words {
			if s != nil {
				s.used = !g.alsoForm(s)
			}
		}
	}
	if len(rows) > 0 {
		for i := range g.signs {
			if s := &g.signs[i]; g.namesList(s, schema.HybridBands) && !g.alsoForm(s) {
				s.used = true
			}
		}
	}
	return len(rows) > 0
}

// bothGradients is the gradient told right after the one at sign i, of the other band:
// "right three, left three and a half, gradients forty four and forty six".
func (g *segment) bothGradients(i int, a amount) (amount, bool) {
	n := max(i, a.unitSign) + 1
	if len(a.decimal) != 2 || n >= len(g.signs) || g.signs[n].num == nil || !g.is(a.to, "and", ",", "/") || g.signs[n].from != a.to+1 {
		return amount{}, false
	}
	b, ok := g.amountAt(n)
	return b, ok && len(b.decimal) == 2 && !(n+1 < len(g.signs) && g.bandSide(&g.signs[n+1]) != "" && g.signs[n+1].from == b.to)
}

// bandSide is the side that a sign tells of a band: "right", "LPA band", "the left
// pulmonary artery".
func (g *segment) bandSide(s *sign) string {
	if w := g.valueOf(s, rowField(schema.HybridBands, "side")); w == "right" || w == "left" {
		return w
	}
	if w := g.sideOf(s); w == "right" || w == "left" {
		return w
	}
	for k := s.from; k < s.to; k++ {
		switch {
		case g.is(k, "left", "lpa") || g.is(k, "l") && g.is(k+1, "p"):
			return "left"
		case g.is(k, "right", "rpa") || g.is(k, "r") && g.is(k+1, "p"):
			return "right"
		}
	}
	return ""
}

// shareBands gives what is said of the bands together to each of them.
func (s *settling) shareBands() {
	s.bothBands()
	for _, x := range s.groups {
		if x.gone || x.List != schema.HybridBands || x.value("side") != "" {
			continue
		}
		for _, y := range s.groups {
			if y.gone || y.List != x.List || y.value("side") == "" {
				continue
			}
			for _, p := range x.values {
				if y.value(p.Path.Last()) == "" {
					q := *p
					y.values = append(y.values, &q)
				}
			}
		}
		x.gone = true
	}
	s.madeAlike()
}

// bothBands makes of a size that is told of the bands together a band on each side, where
// neither side is told of.
func (s *settling) bothBands() {
	var both *settled
	sided := map[string]bool{}
	for _, x := range s.groups {
		switch {
		case x.gone || x.Denied || x.List != schema.HybridBands:
		case x.value("side") != "":
			sided[x.value("side")] = true
		case x.value("size") != "" && both == nil:
			both = x
		}
	}
	if both == nil {
		return
	}
	var size *Proposal
	for _, p := range both.values {
		if p.Path.Last() == "size" {
			size = p
		}
	}
	side := rowField(schema.HybridBands, "side")
	for _, w := range []string{"right", "left"} {
		if sided[w] {
			continue
		}
		x, p := *both, *size
		p.Path, p.Value, p.Unit = side.Path, w, ""
		p.Sure, p.Note = Check, "said of both bands"
		x.values = []*Proposal{&p}
		s.groups = append(s.groups, &x)
	}
}

// madeAlike gives a band the material, and the way it was made, that are told of the other
// one alone.
func (s *settling) madeAlike() {
	for _, name := range []string{"material", "method"} {
		var from, to *settled
		for _, x := range s.groups {
			switch {
			case x.gone || x.Denied || x.List != schema.HybridBands || x.value("side") == "":
			case x.value(name) != "":
				from = x
			default:
				to = x
			}
		}
		if from == nil || to == nil {
			continue
		}
		for _, p := range from.values {
			if p.Path.Last() == name {
				q := *p
				to.values = append(to.values, &q)
				break
			}
		}
	}
}
