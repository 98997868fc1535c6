package dictation

// restate carries out a correction that names the thing once more, with its count,
// size or side before it: "two ventricular wires, make that one ventricular", "left
// femoral arterial line, no, right femoral". What stood there first gives way; the
// thing is not listed twice.
func (g *segment) restate() {
	for i := range g.signs {
		s := &g.signs[i]
		if g.is(s.from, "i") && g.within(s, "said") && g.saidWrongly(i) {
			continue
		}
		if s.used || i == 0 || !(s.is(corrects) || s.is(scratches) || g.is(s.from, "no") && s.to-s.from == 1 && (g.is(s.from-1, ",") || s.from > 0 && g.toks[s.from-1].kind == stop)) {
			continue
		}
		for j := i + 1; j < len(g.signs); {
			n := g.nameAgain(j)
			if n < 0 {
				break
			}
			p := -1
			for q := i - 1; q >= 0 && q >= i-14; q-- {
				if !g.signs[q].used && g.signs[q].content2() && sameThing(&g.signs[q], &g.signs[n]) {
					p = q
					break
				}
			}
			if p < 0 || !g.moveBefore(j, n, p) {
				break
			}
			s.used = true
			g.signs[n].used = true
			if g.is(s.from, "no") {
				g.signs[p].scope &^= denied // "One atrial. No. Two atrial": nothing is denied
			}
			j = n + 1
			for j < len(g.signs) && g.signs[j].has(isHead) && !g.signs[j].has(isItem) && g.signs[j].from == g.signs[j-1].to {
				g.signs[j].used = true
				j++
			}
		}
	}
}

// nameAgain is the sign that names a thing, from sign j on, after no more than its
// count, size or side; -1 where something else is said first, or nothing before it.
func (g *segment) nameAgain(j int) int {
	first := j
	for ; j < len(g.signs) && j < first+4; j++ {
		x := &g.signs[j]
		if x.used || j > first && x.from-g.signs[j-1].to > 1 || x.from > 0 && j == first && x.from-g.signs[j-1].to > 4 {
			return -1
		}
		switch {
		case x.num != nil && !x.content2(), x.has(isUnit) && !x.content(), g.sideOf(x) != "" && !x.content2(), x.is(corrects) && j == first:
			continue
		case x.content2() && j > first:
			if k := x.to; g.is(k, "is", "was", "are", "were", "has", "have") {
				return -1
			}
			return j
		}
		return -1
	}
	return -1
}

// moveBefore puts the numbers and sides that stand before sign n, from sign j on, in
// the place of those before sign p. It tells whether there was one for each.
func (g *segment) moveBefore(j, n, p int) bool {
	type pair struct{ old, fresh int }
	var pairs []pair
	for r := j; r < n; r++ {
		x := &g.signs[r]
		if x.num == nil && g.sideOf(x) == "" {
			continue
		}
		old := -1
		if q := p + 1; g.signs[q].has(isHead) && !g.signs[q].has(isItem) && q+1 < j && g.signs[q].from == g.signs[p].to {
			p = q
		}
		if q := p + 1; q < j && g.signs[q].from == g.signs[p].to && !g.signs[q].used && !g.signs[q].content2() && sameSort(&g.signs[q], x) && g.unitAfter(q) == g.unitAfter(r) {
			old = q // "atrial wires two, no, one atrial"
		}
		for q := p - 1; old < 0 && q >= 0 && q >= p-4 && g.signs[q+1].from-g.signs[q].to <= 1; q-- {
			y := &g.signs[q]
			if y.content2() || !y.used && y.num == nil && g.sideOf(y) == "" && !y.has(isUnit) {
				break
			}
			if !y.used && sameSort(y, x) && g.unitAfter(q) == g.unitAfter(r) {
				old = q
				break
			}
		}
		if old < 0 {
			return false
		}
		pairs = append(pairs, pair{old, r})
	}
	for _, m := range pairs {
		g.substitute(m.old, m.fresh)
	}
	for r := j; r < n; r++ {
		g.signs[r].used = true
	}
	return len(pairs) > 0
}

// unitAfter is the unit said right after sign i, or "".
func (g *segment) unitAfter(i int) string {
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == g.signs[i].to {
		return g.words(g.signs[i+1].from, g.signs[i+1].to)
	}
	return ""
}

// saidWrongly denies what was only said: "I said there was a mediastinal drain, there
// is not". It tells whether the sign i begins such words.
func (g *segment) saidWrongly(i int) bool {
	s := &g.signs[i]
	for k := s.to; k+1 < len(g.toks) && k < s.to+14 && g.toks[k].kind != stop; k++ {
		if !g.is(k, "there") || !g.is(k-1, ",", "but", "and") || !(g.is(k+1, "is", "was", "are", "were") && g.is(k+2, "not", "none", "no") || g.is(k+1, "isnt", "wasnt", "arent", "werent")) {
			continue
		}
		for j := i + 1; j < len(g.signs) && g.signs[j].from < k; j++ {
			if g.signs[j].content2() {
				g.signs[j].scope |= denied
			}
		}
		s.used = true
		return true
	}
	return false
}
