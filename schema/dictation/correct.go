package dictation

import (
	"slices"

	"fairlead/schema"
)

// correct carries out "no, make that four" and "scratch that": the word said
// first gives way to the word said instead, and keeps its place in the sentence.
func (g *segment) correct() {
	g.wentIn()
	g.affirm()
	g.saidElse()
	g.explained()
	g.restate()
	g.renamed()
	g.renamedAfter()
	g.wrongOnes()
	g.decide()
	g.secondThoughts()
	g.longRepair()
	g.moreExactly()
	g.otherDose()
	g.thatsThe()
	g.moments()
	g.itsNow()
	g.arrowsEnd()
	g.supersede()
	g.giveWay()
	g.noneAfterAll()
	for i := 0; i < len(g.signs); i++ {
		s := &g.signs[i]
		switch {
		case s.used:
		case s.is(corrects) && g.givenWay(i):
			s.used = true
		case (s.is(corrects) || s.is(scratches) || g.is(s.from, "no") && s.is(denies)) && g.ofAnother(i):
		case s.is(denies) && g.is(s.from, "no") && s.to-s.from == 1 && i+1 < len(g.signs) && g.signs[i+1].from == s.to && g.ofAList(&g.signs[i+1]):
			// "two units of platelets, no cryo": each of a list is there or is not
		case g.replaceNone(i), g.only(i):
		case s.is(denies) && g.is(s.from, "no") && s.to-s.from == 1 && (g.recount(i) || g.recountNamed(i)):
		case s.is(scratches):
			if !g.replace(i) {
				g.strike(i)
			}
		case s.is(corrects):
			if !g.opensWithRight(i) && !g.replace(i) {
				g.afterwards(i)
			}
		case s.is(denies) && s.to-s.from == 1 && g.toks[s.from].text == "no":
			g.replaceTight(i)
		case g.is(s.from, "well") && s.to-s.from == 1 && g.is(s.from-1, ","):
			g.replace(i) // "for bleeding, well, for low output"
		}
	}
}

// recountNamed carries out "ventricular two, no, ventricular one": the number said first of
// what is named again gives way.
func (g *segment) recountNamed(i int) bool {
	s := &g.signs[i]
	if i+2 >= len(g.signs) || !g.is(s.from-1, ",") || !g.is(s.to, ",") {
		return false
	}
	r, n := &g.signs[i+1], &g.signs[i+2]
	if !r.content2() || r.from != s.to+1 || n.num == nil || n.from != r.to {
		return false
	}
	for p := i - 2; p >= 0 && p >= i-6; p-- {
		was := &g.signs[p+1] // the number after the name
		if !sameThing(&g.signs[p], r) || was.num == nil || was.used || was.from != g.signs[p].to || g.unitsDiffer(p+1, i+2) {
			continue
		}
		was.used, s.used = true, true
		r.scope &^= denied
		n.scope &^= denied
		return true
	}
	return false
}

// ofAList tells whether a sign names a product of blood: of those several are told of in
// one breath, and the one that "no" stands before was not given.
func (g *segment) ofAList(s *sign) bool {
	return slices.ContainsFunc(s.senses, func(x sense) bool {
		return x.kind == isValue && x.field.Path.List() == schema.BloodProducts && x.field.Name == "product" && plainProducts[x.value]
	})
}

// replace puts what follows the cue at sign i in the place of what it corrects.
func (g *segment) replace(i int) bool {
	c := &g.signs[i]
	r := i + 1
	for r < len(g.signs) && (g.signs[r].is(corrects) || g.signs[r].is(scratches) || g.signs[r].is(filler) || g.signs[r].is(approx) || g.signs[r].is(denies) && g.signs[r].to-g.signs[r].from == 1 || g.signs[r].is(chooses)) && !g.signs[r].content() && g.signs[r].num == nil {
		g.signs[r].used = true
		r++
	}
	for r+1 < len(g.signs) && g.signs[r].num == nil && g.signs[r].content() && !g.speaks(&g.signs[r]) && !g.signs[r].has(isValue) && g.signs[r+1].from-g.signs[r].to <= 2 {
		r++ // who says it: "hang on, the perfusionist says eighty eight"
	}
	if r >= len(g.signs) || g.signs[r].from-c.to > 9 {
		return false
	}
	// "two packs, actually no packs": what was listed is taken back.
	if (r > i+1 && g.signs[r-1].is(denies) || g.is(c.to-1, "no", "not")) && g.signs[r].content() {
		for j := i - 1; j >= 0 && j >= i-6; j-- {
			p := &g.signs[j]
			if p.used || !p.content() || !sameThing(p, &g.signs[r]) {
				continue
			}
			p.used, c.used = true, true
			g.signs[r].scope |= denied
			if j > 0 && g.signs[j-1].num != nil && g.signs[j-1].to == p.from {
				g.signs[j-1].used = true
			}
			return true
		}
	}
	if i > 0 && g.bareSide(i-1) && c.from-g.signs[i-1].to <= 1 && (g.signs[r].content2() || g.is(g.signs[r].from, "right", "left")) && !g.bareSide(r) && g.signs[r].num == nil && g.signs[r].has(isValue) {
		g.signs[i-1].used, g.signs[i-1].senses, c.used = true, nil, true // "the left, sorry, the common atrial pressure"
		return true
	}
	// The first thing after the cue that matches something before it.
	for k := r; k < len(g.signs) && k < r+4; k++ {
		if g.signs[k].used || g.signs[k].scope&(past|formerly|hearsay|intended|weighed) != 0 && !(g.signs[k].scope&unreal == past && g.weighedBefore(i)) {
			continue // "sinus, well, it was junctional until we warmed up"
		}
		p := g.counterpart(i, k)
		if p > 0 && g.signs[k].num != nil && g.crossesStop(g.signs[p].to, c.from) && k+1 < len(g.signs) && g.signs[k+1].from == g.signs[k].to && g.signs[k+1].content2() && g.signs[p-1].to <= g.signs[p].from && g.signs[p-1].content() && !g.signs[p-1].content2() {
			return false // "Atrium eight. I said two ventricular wires": of something else
		}
		if p >= 0 && g.signs[k].num != nil && g.is(g.signs[k].from-1, "the") && g.is(g.signs[k].to, "was", "were", "is") {
			return false // "twenty two, sorry, the twenty four was handed back": a statement of its own
		}
		if p >= 0 && g.signs[k].num == nil && g.is(g.signs[k].to, "one", "was", "were", "is", "are", "has", "have", "had") && !g.is(c.from, "sorry", "correction", "no", "scratch") {
			return false // "actually the atrial ones were removed": a statement of its own
		}
		if p < 0 {
			if g.signs[k].content() && k > r {
				break
			}
			continue
		}
		if k > r && g.between2(r, k) {
			if g.repeats(p, r, k) { // "bypass 120. Sorry, bypass 130"
				if g.signs[k].num != nil && g.signs[k].num.clock != "" { // "on at ten, off at eleven. Sorry, off at twelve"
					g.substitute(p, k)
					for n := r; n < k; n++ {
						g.signs[n].used = true
					}
				}
				g.signs[p].used, c.used = g.signs[k].num == nil || g.signs[k].num.clock == "", true
				return true
			}
			break
		}
		// "seven by fifteen, hang on, seven by eighteen"
		if g.signs[k].num != nil && g.is(g.signs[k].to, "by", "x", "over", "/") && k+1 < len(g.signs) && g.signs[k+1].num != nil && p > 0 && g.signs[p-1].num != nil && g.is(g.signs[p].from-1, "by", "x", "over", "/") {
			g.substitute(p-1, k)
			g.substitute(p, k+1)
			c.used = true
			return true
		}
		if g.standsByItself(p, k) {
			// "a five, sorry, six millimetre Sano": what was said first goes
			g.signs[p].used, c.used = true, true
			if p+1 < i && g.signs[p+1].has(isUnit) && g.signs[p+1].num == nil && g.signs[p+1].from == g.signs[p].to {
				g.signs[p+1].used = true
			}
			return true
		}
		if g.bareSide(p) && g.bareSide(k) && k+1 < len(g.signs) && g.signs[k+1].from == g.signs[k].to && g.signs[p+1].from > g.signs[p].to {
			g.signs[p].used, g.signs[p].senses, c.used = true, nil, true // "the left, sorry, right femoral line"
			return true
		}
		g.substitute(p, k)
		c.used = true
		// what stood beside it: a unit, a noun, a side
		for n := 1; k+n < len(g.signs) && n <= 2; n++ {
			x := &g.signs[k+n]
			if x.from-g.signs[k+n-1].to > 0 {
				break
			}
			if x.has(isUnit) && x.num == nil {
				if q := p + 1; q < i && g.signs[q].has(isUnit) && g.signs[q].from == g.signs[p].to {
					g.signs[q].senses = x.senses
				}
				x.used = true
				continue
			}
			if x.is(corrects) || x.is(scratches) {
				break
			}
			if p+n < i && sameSort(&g.signs[p+n], x) && g.signs[p+n].from == g.signs[p+n-1].to {
				g.signs[p+n].senses, g.signs[p+n].num, g.signs[p+n].node = x.senses, x.num, x.node
				x.used = true
			}
		}
		return true
	}
	// "fenestration, none, no sorry, four millimetres": the denial is taken back
	if i > 0 && g.signs[i-1].is(deniesBefore) && !g.signs[i-1].has(namesField) && g.signs[r].num != nil {
		for j := i - 1; j >= 0 && j >= i-3; j-- {
			g.signs[j].scope &^= denied
		}
		g.signs[i-1].used, c.used = true, true
		return true
	}
	return false
}

// weighedBefore tells whether the number before sign i is a weight or a length, which is
// taken before the operation: "three point six, hang on, three point nine this morning".
func (g *segment) weighedBefore(i int) bool {
	for j := i - 1; j >= 0 && j >= i-4; j-- {
		if p := &g.signs[j]; slices.ContainsFunc(p.senses, func(x sense) bool { return x.kind == namesField && x.field.Section == "measures" }) {
			return true
		}
	}
	return false
}

// bareSide tells whether sign n is a side and names nothing.
func (g *segment) bareSide(n int) bool {
	s := &g.signs[n]
	return s.num == nil && (s.is(rightSide) || s.is(leftSide)) && !s.content2()
}

// repeats tells whether the words from sign r to k name again what was named
// before sign p.
func (g *segment) repeats(p, r, k int) bool {
	for j := r; j < k; j++ {
		if !g.signs[j].content() {
			continue
		}
		for q := p - 1; q >= 0 && q >= p-3; q-- {
			for _, x := range g.signs[j].senses {
				for _, y := range g.signs[q].senses {
					if x.field != nil && x.field == y.field && x.kind == y.kind || x.item != nil && x.item == y.item && x.kind == y.kind {
						return true
					}
				}
			}
		}
	}
	return false
}

// afterwards reads a cue that follows: "one fifty, one sixty five I mean".
func (g *segment) afterwards(i int) bool {
	if i < 2 || i+1 < len(g.signs) && g.signs[i+1].from-g.signs[i].to <= 1 && !g.crosses(g.signs[i].to, g.signs[i+1].from) {
		return false
	}
	r := i - 1
	if g.signs[r].has(isUnit) && g.signs[r].num == nil && r > 0 {
		r--
	}
	p := r - 1
	if p > 0 && (g.signs[p].has(isUnit) || g.signs[p].content() && g.signs[p-1].to == g.signs[p].from) && g.signs[p].num == nil {
		p-- // past the unit, or the noun: "four wires, five actually"
	}
	if p < 0 || g.signs[i].from-g.signs[i-1].to > 1 || g.signs[r].from-g.signs[p+1].from > 4 || g.signs[r].from-g.signs[p].to > 4 || g.signs[p].used || g.signs[r].used || g.signs[p].num == nil || g.signs[r].num == nil || !g.crosses(g.signs[p].to, g.signs[r].from) && !(r+1 < i && p+1 < r && g.signs[p+1].has(isUnit) && g.signs[p+1].node == g.signs[r+1].node) {
		return false
	}
	g.substitute(p, r)
	g.signs[i].used = true
	return true
}

// standsByItself tells whether the number at sign k has its own noun after it,
// and the one at p has nothing before it to keep its place for.
func (g *segment) standsByItself(p, k int) bool {
	r := &g.signs[k]
	if r.num == nil {
		return false
	}
	j, end := k+1, r.to
	if j < len(g.signs) && g.signs[j].has(isUnit) && g.signs[j].from == end {
		end = g.signs[j].to
		j++
	}
	for j < len(g.signs) && g.signs[j].from == end && g.sideOf(&g.signs[j]) != "" && !g.signs[j].content2() {
		end = g.signs[j].to
		j++
	}
	if j >= len(g.signs) || g.signs[j].from != end || !g.signs[j].content() {
		return false
	}
	if p > 0 {
		q := &g.signs[p-1]
		if q.content() && q.num == nil && g.signs[p].from-q.to <= 2 && !g.crosses(q.to, g.signs[p].from) && !g.is(g.signs[p].from-1, "a", "with", "an") {
			return false
		}
	}
	return true
}

// between2 tells whether something of its own stands between signs r and k.
func (g *segment) between2(r, k int) bool {
	for j := r; j < k; j++ {
		if g.signs[j].content() {
			return true
		}
	}
	return false
}

// replaceTight reads a bare "no" between two of a sort as a correction: "three
// point five, no, four".
func (g *segment) replaceTight(i int) {
	if i == 0 || i+1 >= len(g.signs) {
		return
	}
	s, p, r := &g.signs[i], &g.signs[i-1], &g.signs[i+1]
	if r.used || r.num == nil && g.sideOf(r) == "" && g.deniesFinding(s, p, r) {
		return
	}
	if p.num == nil && p.scope&denied != 0 && g.is(p.from-1, "no") && s.to == r.from {
		return // "no vasopressin, no noradrenaline"
	}
	wide := p.num != nil && r.num != nil && g.is(s.from-1, ",") && g.is(s.to, ",") && r.from-s.to <= 8 && g.is(r.from-1, ",") // "sixteen forty, no, I looked again, sixteen fifty"
	for k := s.to; k < r.from && !wide; k++ {
		if !g.is(k, ",", "a", "an", "the", "it", "was", "is", "that", "at") || r.from-s.to > 4 {
			return
		}
	}
	if s.from-p.to > 2 || s.from > p.to && g.toks[s.from-1].text != "," && g.toks[s.from-1].kind != stop || r.from-s.to > 1 && s.from == p.to && !wide {
		return
	}
	j := i - 1
	if p.used { // it has taken the place of another already
		for k := range g.signs[:i] {
			if g.signs[k].swap == [2]int{p.from, p.to} && p.to > 0 {
				j, p = k, &g.signs[k]
			}
		}
	}
	if p.num == nil && j > 0 && (p.has(isUnit) || p.has(namesField) && !p.content2() && g.signs[j-1].num != nil && g.signs[j-1].to == p.from) {
		j--
		p = &g.signs[j]
	}
	if m := g.numberOver(j, i+1); m != j {
		j, p = m, &g.signs[m]
	}
	switch {
	case p.num != nil && r.num != nil:
	case g.sideOf(p) != "" && !p.content2() && r.content2() && g.is(r.from, "right", "left"):
		p.used, s.used = true, true // "a left, no, right pleural drain"
		for j := range g.signs {
			if j > i {
				g.signs[j].scope &^= denied
			}
		}
		return
	case g.sideOf(p) != "" && g.sideOf(r) != "" && !p.content2():
	case g.otherVariety(p, r) && g.is(s.to, ","):
		p.scope &^= denied // "right atrial line, no, common atrial"
	case sameSort(p, r) && !p.content2() && !r.content2() && g.crosses(p.to, s.from) || sameSort(p, r) && p.has(isValue) && !p.content2():
		p.scope &^= denied
	default:
		return
	}
	if p.num != nil && g.standsByItself(j, i+1) {
		p.used, s.used = true, true // "ten French, no, twelve French venous cannula"
		if j+1 < i && g.signs[j+1].has(isUnit) && g.signs[j+1].num == nil {
			g.signs[j+1].used = true
		}
		return
	}
	g.substitute(j, i+1)
	g.signs[j].scope &^= denied
	s.used = true
	if i+2 < len(g.signs) && g.signs[i+2].has(isUnit) && g.signs[i+2].from == r.to {
		g.signs[i+2].used = true
	}
}

// counterpart is the sign before the cue at c that sign k takes the place of:
// the nearest of the same sort.
func (g *segment) counterpart(c, k int) int {
	r := &g.signs[k]
	for j := c - 1; j >= 0 && j >= c-9; j-- {
		p := &g.signs[j]
		if p.used || p.is(corrects) || p.is(scratches) {
			continue
		}
		if r.num == nil && r.content2() && sameThing(p, r) {
			return -1 // "ventricular one, sorry, ventricular two": named again, and not another
		}
		if r.num != nil && p.num != nil && g.unitsDiffer(j, k) {
			continue // "seven minutes at twenty degrees, sorry, eight minutes"
		}
		if sameSort(p, r) && g.is(g.signs[c].from, "call") && p.num != nil {
			for k := j - 1; k >= 0 && (g.signs[k].num != nil || !g.signs[k].content()); k-- {
				if sameSort(&g.signs[k], r) && !g.signs[k].used {
					g.signs[j].used = true // "eighty, eighty two after suction, call it eighty two"
					j = k
				}
			}
			return j
		}
		if sameSort(p, r) && !(r.num != nil && g.unitsDiffer(j, k)) {
			return j
		}
	}
	return -1
}

// sameThing tells whether two signs name the same variety.
func sameThing(p, r *sign) bool {
	for _, x := range p.senses {
		for _, y := range r.senses {
			if x.kind == isValue && y.kind == isValue && !x.inner && !y.inner && x.field == y.field && x.value == y.value && x.field.Path.List() == "" {
				return true
			}
			if (x.kind == isItem || x.kind == isVariety) && (y.kind == isItem || y.kind == isVariety) && x.item == y.item && x.value == y.value {
				return true
			}
		}
	}
	return false
}

// sameSort tells whether two signs can stand in for one another.
func sameSort(p, r *sign) bool {
	if r.num != nil {
		return p.num != nil && (r.num.decimal != "" && p.num.decimal != "" || r.num.clock != "" && p.num.clock != "")
	}
	if p.num != nil {
		return false
	}
	side := func(s *sign) bool { return s.is(rightSide) || s.is(leftSide) || s.is(both) || s.is(midline) }
	if side(r) && side(p) {
		return true
	}
	for _, x := range r.senses {
		for _, y := range p.senses {
			switch {
			case x.kind != y.kind:
			case x.kind == isValue && x.field == y.field && x.value != y.value:
				return true
			case (x.kind == isItem || x.kind == isVariety) && x.item == y.item && x.value != y.value:
				return true
			}
		}
	}
	return slices.ContainsFunc(r.senses, func(x sense) bool {
		return (x.kind == isItem || x.kind == isVariety) && slices.ContainsFunc(p.senses, func(y sense) bool {
			return (y.kind == isItem || y.kind == isVariety) && y.item == x.item && y.value != x.value
		})
	})
}

// substitute lets sign p mean what sign r says.
func (g *segment) substitute(p, r int) {
	a, b := &g.signs[p], &g.signs[r]
	if a.num != nil && b.num != nil {
		g.withPoint(a.num.decimal, r)
	}
	a.was, a.wasNode = a.senses, a.node
	a.senses, a.node = b.senses, b.node
	a.swap = [2]int{b.from, b.to}
	if b.num == nil && a.num == nil { // of a value, only what both may mean
		var both []sense
		for _, x := range b.senses {
			for _, y := range a.was {
				if x.kind == isValue && y.kind == isValue && x.field == y.field && !y.inner {
					both = append(both, x)
				}
			}
		}
		if len(both) > 0 {
			for _, x := range b.senses {
				if x.kind == isCue && (x.cue == rightSide || x.cue == leftSide) {
					both = append(both, x) // "the left, hmm, no, the right radial"
				}
			}
			a.senses, a.node = both, a.wasNode
		}
	}
	if v := varietyOf(b, a.was); v != nil {
		a.senses, a.node = append([]sense{*v}, slices.DeleteFunc(slices.Clone(b.senses), func(x sense) bool { return x.kind != isValue })...), a.wasNode
	}
	if b.num != nil {
		n := *b.num
		a.num = &n
	} else {
		a.num = nil
	}
	b.used = true
}

// strike takes back the statement before the cue at sign i.
func (g *segment) strike(i int) {
	c, at := &g.signs[i], g.signs[i].from
	for j := i - 1; j >= 0 && (g.signs[j].is(corrects) || g.signs[j].is(scratches)) && at-g.signs[j].to <= 1; j-- {
		at = g.signs[j].from // "that's wrong, strike it"
	}
	from := at
	seen := false
	for k := at - 1; k >= 0; k-- {
		if n := g.at[k]; n >= 0 && g.signs[n].content() {
			seen = true
		}
		if g.toks[k].kind == stop && seen {
			break
		}
		if k < at-1 && seen && g.clause[k] != g.clause[at-1] && !g.commaOnly(k, at) {
			break
		}
		if at-k > 14 {
			break
		}
		from = k
	}
	for j := range g.signs {
		if g.signs[j].from >= from && g.signs[j].from < at {
			g.signs[j].used = true
		}
	}
	c.used = true
}

// commaOnly tells whether only a comma before the cue parts token k from it.
func (g *segment) commaOnly(k, c int) bool {
	return c > 0 && g.toks[c-1].text == "," && g.clause[k]+1 == g.clause[c]
}
