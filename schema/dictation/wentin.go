package dictation

import "strconv"

// sizedThings are the things of the repair that come in sizes, of which one is taken
// back and another put in.
var sizedThings = wordSet("shunt conduit tube graft gore goretex sano bt btt mbtt extracardiac")

// wentIn lets a size give way to the one that was put in: "a twenty, it kinked, the
// eighteen went in", "we went down to an eighteen", "eighteen it is", "we opened the
// four and put it back, it was a three and a half".
func (g *segment) wentIn() {
	for i := len(g.signs) - 1; i > 0; i-- {
		s := &g.signs[i]
		if !g.sizeSaid(i) || s.scope&(calling|aiming) != 0 || !g.putIn(i) {
			continue
		}
		first, instead := -1, g.wentTo(s.from)
		for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 30; j-- {
			p := &g.signs[j]
			if !g.sizeSaid(j) || p.scope&(calling|aiming) != 0 {
				continue
			}
			if p.num.decimal == s.num.decimal && !instead {
				return // said of the same one twice
			}
			if g.sizedThing(j) {
				first = j
			}
		}
		if first < 0 {
			continue
		}
		for k := g.signs[first].to; k < s.from && !instead; k++ {
			instead = g.is(k, "no", "not", "sorry", "back", "kinked", "opened", "but", "small", "big", "large", "too", "wait")
		}
		if !instead {
			continue
		}
		for k := first + 1; k < i; k++ {
			if p := &g.signs[k]; g.sizeSaid(k) || p.is(corrects) || p.is(denies) || p.is(scratches) {
				p.used = true
			}
		}
		g.takePlace(first, i)
		return
	}
}

// sizeSaid tells whether sign i is a number that may be a size in millimetres.
func (g *segment) sizeSaid(i int) bool {
	s := &g.signs[i]
	if s.num == nil || s.used || s.num.decimal == "" {
		return false
	}
	v, err := strconv.ParseFloat(s.num.decimal, 64)
	a, ok := g.amountAt(i)
	return err == nil && ok && v >= 3 && v <= 26 && (a.units == nil || a.units[0] == "mm") && !g.is(a.to, "by", "x")
}

// sizedThing tells whether a thing that comes in sizes is named beside sign i.
func (g *segment) sizedThing(i int) bool {
	s := &g.signs[i]
	for k := s.from - 5; k < s.to+5; k++ {
		if k >= 0 && k < len(g.toks) && sizedThings[g.toks[k].text] {
			return true
		}
	}
	return false
}

// wentTo tells whether the words before token k change to the size there: "went down
// to an", "came up to a".
func (g *segment) wentTo(k int) bool {
	k--
	for g.is(k, "a", "an", "the") {
		k--
	}
	return g.is(k, "in") && g.is(k-1, "put", "sewed", "sewn") || g.is(k, "to") && g.is(k-1, "down", "up") && g.is(k-2, "went", "gone", "came", "go", "moved", "dropped") ||
		g.is(k, "to") && g.is(k-1, "went", "moved", "changed", "switched") && g.is(k-2, "we", "i") || g.is(k, "put") && g.is(k-1, "i", "we") ||
		g.is(k, "for", "on") && g.is(k-1, "settled")
}

// putIn tells whether the size at sign i is said to be that of what was put in.
func (g *segment) putIn(i int) bool {
	s := &g.signs[i]
	if g.wentTo(s.from) {
		return true
	}
	k := s.to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == k {
		k = g.signs[i+1].to
	}
	if g.is(k, "went", "is", "was") && g.is(k+1, "in") || g.is(k, "it") && g.is(k+1, "is", "was") && (k+2 >= len(g.toks) || g.toks[k+2].kind == stop || g.is(k+2, ",")) {
		return true
	}
	for n := g.nextSign(k); n < len(g.signs) && g.signs[n].from == k && g.signs[n].num == nil && g.signs[n].has(isValue) && g.onlyValues(&g.signs[n]); n++ {
		k = g.signs[n].to // its material
	}
	if g.is(k, "is", "was") && g.is(k+1, "what") || g.is(k, "that") && (g.is(k+1, "went") && g.is(k+2, "in") || g.is(k+1, "in") && g.partEnds(k+2)) {
		return true // "a twenty is what finally went in", "it's an eight that's in"
	}
	j := s.from - 1
	for g.is(j, "a", "an", "the") {
		j--
	}
	if g.is(j, "is", "was") && g.is(j-1, "him", "her", "place") && g.is(j-2, "in", "inside") {
		return true // "the one inside him is three and a half"
	}
	if g.is(j, "was", "is") && g.is(j-1, "in", "used") && g.is(j-2, "went", "we", "i") && (g.is(j-3, "what") || g.is(j-3, "one")) {
		return true // "what went in is a"
	}
	return j < s.from-1 && (g.is(j, "was", "is") && g.is(j-1, "it") || g.is(j, "its", "it")) && g.putBack(i)
}

// putBack tells whether a thing before sign i was taken back: "and put it back".
func (g *segment) putBack(i int) bool {
	for k := 1; k < g.signs[i].from; k++ {
		if g.is(k, "back") && (g.is(k-1, "put", "sent", "handed", "went") || g.is(k-1, "it", "that") && g.is(k-2, "put", "sent", "gave", "handed")) {
			return true
		}
	}
	return false
}
