package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// holding settles which of several numbers said of one thing holds: "sixty, sixty six
// per the sheet", "a twenty two, no, I opened a twenty two but it would not thread,
// it's a twenty four". It is asked of what was read, so that it does not matter how
// the words between are put: the numbers that follow a value, have no name of their
// own and could stand for it are weighed by the words beside each.
func (g *segment) holding() {
	for a := range g.claims {
		c := &g.claims[a]
		if c.gone || c.stated != "" || c.bound != "" || !c.field.Numeric() && c.field.Format == "" || c.field.Name == "count" || !g.numberAt(c.from) {
			continue
		}
		chain := g.numbersFor(c)
		if len(chain) < 2 {
			continue
		}
		best := g.bestOf(chain)
		if best <= 0 || (strings.HasPrefix(c.field.Name, "peak") || strings.HasPrefix(c.field.Name, "lowest")) && !g.correctedIn(c.to, g.signs[chain[best]].from) {
			continue // "lactate peaked at eight, five now": the peak stays
		}
		am, _ := g.amountAt(chain[best])
		v, _, _ := fits(c.field, am)
		for _, n := range chain[:best+1] {
			g.signs[n].used = true
		}
		if v != c.value {
			c.value, c.sure, c.note = v, Check, "another number was said first"
		}
		c.from, c.to = am.from, am.to
		c.whyTo = max(c.whyTo, c.to)
	}
}

// giveWay puts a number that holds in the place of the first said of a thing, where
// that one was only meant, told by another or passing: "between fifteen and seventeen,
// I'd call it sixteen", "sized at an eighteen, we had only a twenty, so it is a twenty".
func (g *segment) giveWay() {
	for i := range g.signs {
		a := &g.signs[i]
		if a.num == nil || a.used || a.content() || a.scope&(weighed|hearsay|intended|past) == 0 || a.scope&(calling|aiming|coming|denied) != 0 || !g.namedBefore(i) {
			continue
		}
		if g.is(a.from-1, "peaked", "peak") || g.is(a.from-2, "peaked", "peak", "lowest") || i > 0 && g.peakOf(i-1, i) {
			continue // a value of its own
		}
		if a.scope&past != 0 && hasSection(g.lex.kind, "between") {
			continue // what it was before the work is a fact there
		}
		chain, end := []int{i}, a.to
		for len(chain) < 6 {
			n := g.following(end, 12)
			if n < 0 || g.ofPair(n) || !sameSort(a, &g.signs[n]) || !g.nearEnough(a, &g.signs[n]) || g.unitsDiffer(i, n) || g.signs[n].scope&(calling|aiming) != 0 {
				break
			}
			chain, end = append(chain, n), g.signs[n].to
		}
		best := g.bestOf(chain)
		if best <= 0 {
			continue
		}
		for _, n := range chain[1 : best+1] {
			g.signs[n].used = true
		}
		g.takePlace(i, chain[best])
	}
}

// namedBefore tells whether the thing that the number at sign i is said of stands
// shortly before it.
func (g *segment) namedBefore(i int) bool {
	for j := i - 1; j >= 0 && g.signs[i].from-g.signs[j].to <= 7; j-- {
		switch p := &g.signs[j]; {
		case p.num != nil:
			return false
		case p.content() && !p.used:
			return p.scope&(calling|aiming|coming|denied) == 0
		}
	}
	return false
}

// numbersFor are the signs of the numbers that may be the value of a claim: its own,
// and those that follow with nothing else named between.
func (g *segment) numbersFor(c *claim) []int {
	first := int(g.at[c.from])
	chain, end := []int{first}, c.to
	for len(chain) < 6 {
		n := g.following(end, 14)
		if n >= 0 && len(chain) == 1 {
			g.withPoint(c.value, n)
		}
		if n < 0 || g.claimedSign(n) || g.signs[n].scope&(calling|aiming) != 0 || g.ofPair(n) {
			break
		}
		am, ok := g.amountAt(n)
		if !ok || !g.nearEnough(&g.signs[first], &g.signs[n]) || g.unitsDiffer(first, n) {
			break
		}
		if _, _, fit := fits(c.field, am); !fit {
			break
		}
		chain, end = append(chain, n), am.to
	}
	return chain
}

// following is the next number after token k, not further than so many words from
// what is named or counted before it, that has no name of its own; -1 where there is
// none. Deeds told between do not matter: "three, actually we gave four".
func (g *segment) following(k, most int) int {
	last := k
	for j := k; j < len(g.toks) && j-last < most; j++ {
		i := int(g.at[j])
		if i < 0 || g.signs[i].from != j {
			continue
		}
		switch p := &g.signs[i]; {
		case p.num != nil && !p.content():
			if p.used || g.namedAfter(i) {
				return -1
			}
			return i
		case p.is(calls), p.is(targets), p.is(depends), p.is(intends) && !p.is(corrects) && !g.refuses(p) && !g.is(p.from, "well", "meant"), g.names(p):
			return -1
		}
	}
	return -1
}

// withPoint reads two digits said for a value with a point, where the value they put
// right has one: "three eight, no, four one".
func (g *segment) withPoint(value string, n int) {
	if n+1 >= len(g.signs) || g.signs[n].num == nil || !strings.Contains(value, ".") {
		return
	}
	a, b := &g.signs[n], &g.signs[n+1]
	if b.num != nil && a.to == b.from && len(a.num.decimal) == 1 && len(b.num.decimal) == 1 && !b.used {
		num := *a.num
		num.decimal += "." + b.num.decimal
		a.num, b.used = &num, true
	}
}

// ofPair tells whether a number is the second of two that are said together, or of
// something that only the word before it tells: "seventy over thirty", "on fifty percent".
func (g *segment) ofPair(n int) bool {
	return g.is(g.signs[n].from-1, "over", "by", "x", "/", "on", "in", "with", "and", "then", "plus")
}

// bestOf is the place in a chain of numbers of the one that holds; -1 where the words
// do not tell.
func (g *segment) bestOf(chain []int) int {
	best := -1
	for i, n := range chain {
		lo, hi := 0, len(g.toks)
		if i > 0 {
			lo = g.signs[chain[i-1]].to
		}
		if i+1 < len(chain) {
			hi = g.signs[chain[i+1]].from
		}
		if g.heldOff(n, lo, hi) {
			continue
		}
		same := slices.ContainsFunc(chain[:i], func(m int) bool {
			return g.signs[m].num.decimal == g.signs[n].num.decimal && g.signs[m].num.clock == g.signs[n].num.clock
		})
		if i > 0 && (g.correctedIn(lo, g.signs[n].from) || (same || g.settledOn(n, lo, hi)) && (g.unitAfter(chain[0]) == "" || g.unitAfter(n) != "")) {
			best = i
		}
	}
	return best
}

// heldOff tells whether a number is said not to hold by the words beside it, which
// stand between tokens lo and hi.
func (g *segment) heldOff(n, lo, hi int) bool {
	s := &g.signs[n]
	if s.scope&(denied|past|coming|weighed|intended|formerly|hearsay) != 0 && !g.settledBefore(s.from, lo) {
		return true
	}
	j := s.from - 1
	for j >= lo && g.is(j, "a", "an", "the", "at", "about") {
		j--
	}
	if j >= lo && g.is(j, "not", "said", "opened", "planned", "wanted", "wrote", "nearly", "almost", "than", "from") {
		return true
	}
	if j >= lo && g.is(j, "was", "were", "been") && !g.correctedIn(lo, j) && !g.settledBy(n, hi) {
		return true // "lactate nine, it was twelve"
	}
	for k := s.to; k < hi && k < s.to+6 && !g.is(k, ",") && g.toks[k].kind != stop; k++ {
		if g.is(k, "first", "before", "earlier", "wrong", "initially") || g.is(k, "wouldnt", "didnt", "would", "did") && (!g.is(k, "would", "did") || g.is(k+1, "not")) {
			return true
		}
	}
	return false
}

// settledOn tells whether a number is said to hold by the words beside it, which stand
// between tokens lo and hi.
func (g *segment) settledOn(n, lo, hi int) bool {
	s := &g.signs[n]
	return g.settledBefore(s.from, lo) || g.settledBy(n, hi)
}

// settledBy tells whether a number is said to hold by the words after it, up to token hi.
func (g *segment) settledBy(n, hi int) bool {
	s := &g.signs[n]
	for k := s.to; k < hi && k < s.to+5 && g.toks[k].kind != stop; k++ {
		if g.is(k, "now", "today", "yes", "right", "stand", "sheet", "correct", "final", "finally", "last", "after", "afterward", "latest", "since") || g.is(k, "it") && g.is(k+1, "is") || g.is(k, "on", "at", "as", "by") && (g.is(k+1, "leaving", "handover", "transfer", "time") || g.is(k+1, "the", "we") && g.is(k+2, "door", "end", "leave", "left", "last")) {
			return true
		}
	}
	return false
}

// settledBefore tells whether the words before token k, from token lo on, say that what
// follows holds.
func (g *segment) settledBefore(k, lo int) bool {
	if start, ok := g.endsIn(superseded, lo, k); ok && !g.is(start, "say", "has", "perfusion") {
		return true
	}
	j := k - 1
	for j >= lo && g.is(j, "a", "an", "the", "at", "about", "that", "her", "his", "to") {
		j--
	}
	return j >= lo && (g.is(j, "its", "so", "used", "put", "write", "take", "enter", "record", "now", "today", "ended", "finally", "fact") || g.is(j, "is", "are", "was") && g.is(j-1, "it", "our", "that", "her", "his", "they", "really", "answer") || g.is(j, "it") && g.is(j-1, "call", "make", "say") || g.is(j, "down", "up", "back") && g.is(j+1, "to"))
}

// correctedIn tells whether the words from token lo to hi take back what stood before.
func (g *segment) correctedIn(lo, hi int) bool {
	for k := lo; k < hi; k++ {
		if i := g.at[k]; i >= 0 && (g.signs[i].is(corrects) || g.signs[i].is(scratches)) || g.is(k, "no", "hmm", "wait", "sorry", "not", "wrong", "?") || g.is(k, "hm", "rechecked", "recheck", "recounted") || doubts[g.toks[k].text] && g.crossesStop(lo, k) {
			return true
		}
	}
	return false
}

// names tells whether a sign names a thing, a choice or a number's field. Who says
// something is no such thing, nor what only belongs to a row, nor the words that
// people talk with.
func (g *segment) names(s *sign) bool {
	if s.has(isUnit) && s.num == nil {
		return false
	}
	talk := true
	for k := s.from; k < s.to; k++ {
		talk = talk && (bareTalk[g.toks[k].text] || bareTellers[g.toks[k].text] || doubts[g.toks[k].text])
	}
	if talk {
		return false
	}
	return slices.ContainsFunc(s.senses, func(x sense) bool {
		switch x.kind {
		case isCue, isUnit:
			return false
		case namesField:
			return x.field.Path.List() == "" && !textual(x.field)
		case isValue:
			return x.field.Path.List() == "" && x.field.Path != schema.ChildSex || x.field.Name == "drug"
		}
		return true
	})
}

// holdingSide lets a side said afterwards stand for the one said of a thing: "left
// pleural drain. It's the right one", "right radial, no, I'm wrong, it's on the left".
func (g *segment) holdingSide() {
	for n := range g.signs {
		s := &g.signs[n]
		if !g.bareSide(n) || s.used || g.sideRefused(n) || g.is(s.to, "was", "were") || s.scope&(denied|unreal) != 0 && !g.settledBefore(s.from, 0) || g.claimedSign(n) || n+1 < len(g.signs) && g.signs[n+1].from == s.to && g.names(&g.signs[n+1]) {
			continue
		}
		side, other := "right", "left"
		if s.is(leftSide) {
			side, other = other, side
		}
		best := -1
		for a := range g.claims {
			c := &g.claims[a]
			if !c.gone && c.to <= s.from && strings.Contains(c.value, other) && slices.Contains(c.field.Enum, strings.Replace(c.value, other, side, 1)) && (best < 0 || c.to >= g.claims[best].to) {
				best = a
			}
		}
		if best < 0 || s.from-g.claims[best].to > 18 || !g.correctedIn(g.claims[best].to, s.from) && !g.crossesStop(g.claims[best].to, s.from) || !g.settledBefore(s.from, g.claims[best].to) && !g.correctedIn(g.claims[best].to, s.from) {
			continue
		}
		if slices.ContainsFunc(g.signs[:n], func(p sign) bool {
			return p.from >= g.claims[best].to && p.num == nil && !(p.is(leftSide) || p.is(rightSide)) && g.names(&p) && !g.sameGroup(best, p.from)
		}) {
			continue // of something else
		}
		c := &g.claims[best]
		c.value, c.sure, c.note = strings.Replace(c.value, other, side, 1), Check, "the other side was said first"
		if c.group >= 0 && c.field.Name == "variety" {
			g.groups[c.group].variety = c.value
		}
		c.whyTo = max(c.whyTo, s.to)
		s.used = true
	}
}

// sameGroup tells whether a claim of the group of claim a was read at token k.
func (g *segment) sameGroup(a, k int) bool {
	if g.claims[a].group < 0 {
		return false
	}
	x := &g.groups[g.claims[a].group]
	return k >= x.from && k < x.to || slices.ContainsFunc(g.claims, func(c claim) bool { return c.group == g.claims[a].group && c.from <= k && k < c.to })
}

// amendsEarlier tells whether a sentence says, by how it begins or by what it says of
// itself, that it puts right an earlier one: "Going back, the clamp was fifty seven",
// "The Glenn pressure I gave wrongly: thirteen".
func (g *segment) amendsEarlier() bool {
	k := 0
	for g.is(k, ",", "and", "um", "uh", "er", "ah") {
		k++
	}
	switch {
	case g.is(k, "oh", "correction", "only", "amend", "amendment") && !g.numberAt(k), g.is(k, "going", "go", "coming", "come") && g.is(k+1, "back") && (g.is(k+2, ",") || g.is(k+2, "to") && !g.is(k+3, "bypass", "theater")),
		g.is(k, "change", "correct", "alter", "fix") && g.is(k+1, "the", "that", "his", "her"), g.is(k, "for") && g.is(k+1, "the") && g.mentions("read"):
		return true
	}
	for j := k; j < len(g.toks); j++ {
		if g.is(j, "wrongly", "mistaken", "misspoke", "misread") || g.is(j, "mixed") && g.is(j+1, "up") || g.is(j, "again") && g.is(j+1, ":") {
			return true
		}
	}
	return false
}

// deniedFor are the values of a field that the segment denies.
func (g *segment) deniedFor(f *schema.Field) []string {
	var out []string
	for i := range g.signs {
		s := &g.signs[i]
		if s.scope&denied == 0 {
			continue
		}
		if s.num != nil && (f.Numeric() || f.Format != "") {
			if am, ok := g.amountAt(i); ok {
				if v, _, fit := fits(f, am); fit {
					out = append(out, v)
				}
			}
		}
		for _, x := range s.senses {
			if x.kind == isValue && x.field == f {
				out = append(out, x.value)
			}
		}
	}
	return out
}

// sideRefused tells whether the side at sign n was denied before it: "left jugular, not the
// right, the surgeon wants nothing in the right".
func (g *segment) sideRefused(n int) bool {
	return slices.ContainsFunc(g.signs[:n], func(p sign) bool {
		return p.num == nil && p.scope&denied != 0 && g.sideOf(&p) == g.sideOf(&g.signs[n])
	})
}
