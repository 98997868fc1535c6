package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// noneWords take the place of a count: "packs one, no, none".
var noneWords = wordSet("none nil zero nought")

// replaceNone carries out "packs one, no, none" and "two packs, correction, none
// left": what was counted is said not to be there.
func (g *segment) replaceNone(i int) bool {
	c := &g.signs[i]
	bare := c.is(denies) && c.to-c.from == 1 && g.is(c.from, "no")
	if !bare && !c.is(corrects) && !c.is(scratches) || i == 0 {
		return false
	}
	k := c.to
	for g.is(k, ",", "no", "sorry", "make", "that", "it", "was", "is", "there", "were", "wait", "actually", "are", ".") {
		k++
	}
	if k >= len(g.toks) || !noneWords[g.toks[k].text] || k-c.to > 5 {
		return false
	}
	n := int(g.at[k])
	if n < 0 || g.signs[n].to < len(g.toks) && g.numberAt(g.signs[n].to) || g.is(g.signs[n].to, "point") {
		return false
	}
	end := g.signs[n].to
	for g.is(end, "left", "at", "in", "all") {
		end++
	}
	next := g.nextSign(end)
	named := next < len(g.signs) && g.signs[next].from <= end && g.signs[next].content2()
	for j := i - 1; j >= 0 && j >= i-4 && c.from-g.signs[j].to <= 5; j-- {
		p := &g.signs[j]
		if p.used || !p.content2() || named && !sameThing(p, &g.signs[next]) {
			continue
		}
		// its count goes, and the thing itself is denied
		for m := max(0, j-1); m < i; m++ {
			if g.signs[m].num != nil && !g.signs[m].content() && (g.signs[m].to == p.from || g.signs[m].from-p.to <= 1 && g.signs[m].from >= p.to) {
				g.signs[m].used = true
			}
		}
		p.scope |= denied
		c.used, g.signs[n].used = true, true
		if named {
			g.signs[next].used = true
		}
		return true
	}
	return false
}

// affirm takes back a denial that a later yes goes against: "not fenestrated, wait,
// yes it was in the end", "left pleural we said no, but there is one there". It runs
// before the signs are read.
func (g *segment) affirm() {
	for k := 1; k < len(g.toks); k++ {
		yes := g.is(k, "yes") || g.is(k, "there") && g.is(k+1, "is", "was") && g.is(k+2, "one") || g.is(k, "there") && g.is(k+1, "one") || g.is(k, "i", "we") && g.is(k+1, "did") && !g.is(k+2, "not", "nt", "need", "no") && g.is(k-1, ",", "actually", "but", "oh")
		if !yes || g.is(k-1, "?") || g.is(k-2, "?") {
			continue
		}
		// the same thing said again without a denial
		for i := range g.signs {
			p := &g.signs[i]
			if p.to > k || k-p.to > 9 || p.scope&denied == 0 || !p.content() || p.scope&unreal != 0 {
				continue
			}
			again := false
			for j := i + 1; j < len(g.signs) && g.signs[j].from-k <= 4; j++ {
				if g.signs[j].from >= k && g.signs[j].scope&denied == 0 && sharesSense(p, &g.signs[j]) {
					again = true
				}
			}
			if again || g.is(k, "there") {
				p.scope &^= denied
				if again {
					p.used = true
				}
				continue
			}
			p.used = true // said to be so after all, but how is for a person
		}
	}
}

// sharesSense tells whether two signs can mean the same.
func sharesSense(p, r *sign) bool {
	for _, x := range p.senses {
		if x.kind == isCue || x.kind == isUnit {
			continue
		}
		for _, y := range r.senses {
			if x.kind == y.kind && x.field == y.field && x.item == y.item && x.value == y.value || x.kind == isValue && y.kind == isValue && x.field == y.field {
				return true
			}
		}
	}
	return false
}

// renamedAfter does so where no cue stands between: "bypass time 140. Hmm, that's the
// clamp".
func (g *segment) renamedAfter() {
	for i := range g.signs {
		p := &g.signs[i]
		if p.num == nil || p.used || p.content() || i == 0 || !g.speaks(&g.signs[i-1]) {
			continue
		}
		k := p.to
		if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == k {
			k = g.signs[i+1].to
		}
		begun := k
		for g.is(k, ".", ",", "hmm", "no", "wait", "sorry", "oh") || k < len(g.toks) && g.toks[k].kind == stop {
			k++
		}
		if k == begun || !(g.is(k, "that") && g.is(k+1, "is", "was")) {
			continue
		}
		for g.is(k, "that", "is", "was", "the") {
			k++
		}
		n := g.nextSign(k)
		if n >= len(g.signs) || g.signs[n].from != k || g.signs[n].num != nil || !g.speaks(&g.signs[n]) || sharesSense(&g.signs[n], &g.signs[i-1]) || g.signs[n].is(arrives) || g.signs[n].is(priorly) {
			continue
		}
		if e := g.signs[n].to; e < len(g.toks) && g.toks[e].kind != stop && !g.is(e, ",", "time") {
			continue // it goes on: "that is the line which ..."
		}
		p.used = true
	}
}

// renamed drops a number that is then said to be of something else: "clamp eighty
// minutes, no, eighty is the head perfusion", "3.2, no that was the birth weight".
func (g *segment) renamed() {
	for i := range g.signs {
		s := &g.signs[i]
		bare := s.is(denies) && g.is(s.to-1, "no")
		if !bare && !s.is(corrects) && !s.is(scratches) || i == 0 || s.num != nil {
			continue
		}
		var p *sign // the number before the cue
		for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 6 && p == nil; j-- {
			if g.signs[j].num != nil {
				p = &g.signs[j]
			} else if !g.signs[j].has(isUnit) && !g.signs[j].is(corrects) {
				break
			}
		}
		if p == nil {
			continue
		}
		k := s.to
		for g.is(k, ",", "that", "hang", "on", "wait", "sorry", ".", "no") && !g.is(k, "that") {
			k++
		}
		j := k
		switch {
		case g.is(k, "that") || g.is(s.to-1, "that") || g.is(s.to-2, "that"):
			if g.is(k, "that") {
				j = k + 1
			}
		case g.numberAt(k) && g.signs[g.at[k]].num.decimal == p.num.decimal && p.num.decimal != "":
			j = g.signs[g.at[k]].to
		default:
			continue
		}
		is := g.is(s.to-1, "was") || g.is(j, "is", "was", "s") || j == k+1 && strings.HasSuffix(g.words(k, j), "s")
		for g.is(j, "is", "was", "s", "the", "her", "his", "its", "a") {
			j++
		}
		n := g.nextSign(j)
		if !is || n >= len(g.signs) || g.signs[n].from-j > 1 || g.signs[n].num != nil || !g.speaks(&g.signs[n]) {
			continue
		}
		p.used = true
		if p0 := g.at[k]; g.numberAt(k) && p0 >= 0 {
			g.signs[p0].used = false
		} else {
			g.signs[n].used = true // its number went with the first
		}
		s.used = true
	}
}

// denyBare reads a denial that names only the noun of what was named before it,
// or only its side: "right pleural, no drain", "pleural drains: right ten French,
// left none".
func (g *segment) denyBare(i int, flags []scope) bool {
	s := &g.signs[i]
	if i > 0 && g.is(s.from-1, ",") && g.is(s.from-2, "?") && s.to-s.from == 1 && g.is(s.from, "no") && g.signs[i-1].content() && g.signs[i-1].num == nil && s.from-g.signs[i-1].to <= 2 {
		for k := g.signs[i-1].from; k < g.signs[i-1].to; k++ {
			flags[k] |= denied // "left thoracotomy? - no, sternotomy"
		}
		return true
	}
	if g.is(s.from-1, "?") && s.to-s.from == 1 && g.is(s.from, "no", "none", "nil") {
		if g.numberAt(s.to) {
			return true // "6 mm clip? No, 5"
		}
		if i > 1 && g.signs[i-1].has(isValue) && g.signs[i-1].num == nil && !g.signs[i-1].content2() && g.signs[i-2].has(namesField) && g.is(g.startOf(s.from-2, 8), "left", "kept", "leave") {
			for k := g.startOf(s.from-2, 8); k < s.from-1; k++ {
				flags[k] |= weighed // "left the shunt open? No, tied it off"
			}
			return true
		}
		if i > 1 && slices.ContainsFunc(g.signs[i-1].senses, func(x sense) bool { return x.field != nil && x.field.Path == schema.OperationPlace }) && g.signs[i-2].content() && g.signs[i-1].from-g.signs[i-2].to <= 2 {
			for k := g.signs[i-2].from; k < g.signs[i-2].to; k++ {
				flags[k] |= denied // "extubated in theatre? No"
			}
			return true
		}
	}
	mark := func(p *sign) {
		for k := p.from; k < p.to; k++ {
			flags[k] |= denied
		}
	}
	ends := func(k int) bool { return k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",") }
	if g.is(s.from, "none", "nothing") && s.to-s.from == 1 && g.is(s.to, "in", "on") { // "drain in right chest, none in left"
		k := s.to + 1
		for g.is(k, "the", "his", "her") {
			k++
		}
		if n := g.nextSign(k); n < len(g.signs) && g.signs[n].from == k && (g.sideOf(&g.signs[n]) == "right" || g.sideOf(&g.signs[n]) == "left") {
			mark(&g.signs[n])
			return true
		}
	}
	if i > 0 && noneWords[g.toks[s.from].text] && s.to-s.from == 1 && ends(s.to) {
		p := &g.signs[i-1]
		if w := g.sideOf(p); (w == "right" || w == "left") && !p.content2() && p.to == s.from && (p.from == 0 || g.is(p.from-1, ",", ":", "and") || g.toks[p.from-1].kind == stop) {
			mark(p)
			return true
		}
	}
	if i == 0 || i+1 >= len(g.signs) || !g.is(s.from, "no", "without") || s.to-s.from > 1 {
		return false
	}
	p, h := &g.signs[i-1], &g.signs[i+1]
	if h.from != s.to || !h.has(isHead) || h.has(isItem) || h.has(isVariety) || !ends(h.to) || !p.has(isVariety) || p.has(isItem) || s.from-p.to > 1 || p.num != nil {
		return false
	}
	for _, x := range p.senses {
		for _, y := range h.senses {
			if x.kind == isVariety && y.kind == isHead && x.item == y.item {
				mark(p)
				return true
			}
		}
	}
	return false
}

// closesClause tells whether a cue of history stands by itself between commas, said
// of the words before it: "plicated, two weeks ago, not now".
func (g *segment) closesClause(s *sign) bool {
	if !g.within(s, "ago", "yesterday", "previously") {
		return false
	}
	k := s.to
	if k < len(g.toks) && g.toks[k].kind != stop && !g.is(k, ",", "and") {
		return false
	}
	return g.previousClause(s) < s.from
}

// previousClause is where the clause before a cue between commas begins; the cue's
// own place where it does not stand so.
func (g *segment) previousClause(s *sign) int {
	k := s.from
	for k > 0 && (g.numberAt(k-1) || g.at[k-1] >= 0 && (g.signs[g.at[k-1]].has(isUnit) || g.signs[g.at[k-1]].num != nil) || g.is(k-1, "a", "few", "some", "about", "several", "couple", "of")) {
		k--
	}
	if k < 2 || !g.is(k-1, ",") {
		return s.from
	}
	j := k - 1
	for j > 0 && !g.is(j-1, ",") && g.toks[j-1].kind != stop && k-j < 9 {
		j--
	}
	return j
}

// wasOnce tells whether the number at sign i is what a shunt was found to be: "the
// shunt was a four".
func (g *segment) wasOnce(i int) bool {
	if k := g.signs[i].to; g.is(k, "clotted", "thrombosed", "blocked", "narrowed", "kinked", "occluded", "stenosed") || g.is(k, "mm", "mill", "millimeter") && g.is(k+1, "clotted", "thrombosed", "blocked", "narrowed", "kinked", "occluded", "stenosed") {
		return true
	}
	k := g.signs[i].from - 1
	for g.is(k, "a", "an", "only", "just") {
		k--
	}
	if !g.is(k, "was") || !g.is(k-1, "shunt", "sano", "conduit", "one") {
		return false
	}
	return !g.is(k-2, "new", "fresh", "second", "replacement", "bigger", "larger", "smaller", "this")
}

// findings are fields whose values are looked for and not found: "no tamponade"
// denies one, and does not put it in the place of another.
var findings = map[string]bool{"reason": true, "reasonOn": true, "source": true, "shuntFound": true, "problems": true}

// findingNouns name what may be found: after a bare "no" it is denied, where a state would
// take the place of another: "open, no kinked".
var findingNouns = wordSet("kink kinking clot thrombus narrowing stenosis obstruction tamponade effusion bleeder")

// deniesFinding tells whether sign r, after a bare "no" without a comma, is a
// finding that is denied, not one that takes the place of what stands before.
func (g *segment) deniesFinding(no, p, r *sign) bool {
	if g.is(no.to, ",") {
		return false
	}
	if g.is(no.from-1, ",") && (deniesAnswer(p, r) || findingNouns[g.wordAt(r.to-1)]) {
		return true // "wide open, no kink"
	}
	if g.is(no.from-1, ",") { // "to underwater seal, no suction"
		return slices.ContainsFunc(r.senses, func(x sense) bool {
			return x.kind == isValue && x.field.Path.Section() == "items" && slices.ContainsFunc(p.senses, func(y sense) bool { return y.kind == isValue && y.field == x.field })
		})
	}
	for _, x := range r.senses {
		if x.kind == isValue && findings[x.field.Name] && slices.ContainsFunc(p.senses, func(y sense) bool { return y.kind == isValue && y.field == x.field }) {
			return !slices.ContainsFunc(r.senses, func(z sense) bool {
				return z.kind == isValue && z.field.Section == "mechanical" && slices.ContainsFunc(p.senses, func(y sense) bool { return y.kind == isValue && y.field == z.field })
			})
		}
	}
	return g.is(r.to, "was", "were", "seen", "found", "needed")
}

// deniesAnswer tells whether r names a thing that can be absent, and p says nothing of
// it: "left cava to the coronary sinus, no innominate vein".
func deniesAnswer(p, r *sign) bool {
	return slices.ContainsFunc(r.senses, func(x sense) bool {
		return x.kind == namesField && absence[x.field.None] && !slices.ContainsFunc(p.senses, func(y sense) bool {
			return y.field == x.field || y.kind == isItem || y.kind == isVariety
		})
	})
}

// recount carries out "three packs, no, two packs": the second count of a thing
// stands.
func (g *segment) recount(i int) bool {
	if i < 2 || i+2 >= len(g.signs) {
		return false
	}
	n, p, m, r := &g.signs[i-2], &g.signs[i-1], &g.signs[i+1], &g.signs[i+2]
	if n.num == nil || m.num == nil || n.used || p.used || !p.content2() || n.to != p.from || m.to != r.from || !sameThing(p, r) || m.from-g.signs[i].to > 3 {
		return false
	}
	g.substitute(i-2, i+1)
	r.used, g.signs[i].used = true, true
	return true
}

// sideDenied is the side that is denied after token k, in the list that a noun heads:
// "pleural drains: right ten French, left none".
func (g *segment) sideDenied(k int) string {
	for j := range g.signs {
		if p := &g.signs[j]; p.from >= k && p.scope&denied != 0 && !p.content2() && j+1 < len(g.signs) && g.signs[j+1].from == p.to && noneWords[g.toks[p.to].text] {
			if w := g.sideOf(p); w == "right" || w == "left" {
				return w
			}
		}
	}
	return ""
}

// only carries out "membrane and two packs left, sorry, just the membrane": of what
// was listed before the correction, only what is named again stands.
func (g *segment) only(i int) bool {
	c := &g.signs[i]
	if !c.is(corrects) && !c.is(scratches) && !(c.is(denies) && g.is(c.from, "no")) {
		return false
	}
	k := c.to
	for g.is(k, ",", "no", "its", "it", "is", "actually") {
		k++
	}
	if !g.is(k, "just", "only") {
		return false
	}
	for k++; g.is(k, "the", "a", "one"); k++ {
	}
	n := g.nextSign(k)
	if n >= len(g.signs) || g.signs[n].from != k || !g.signs[n].content2() {
		return false
	}
	done := false
	for j := i - 1; j >= 0 && c.from-g.signs[j].to <= 14 && !g.crossesStop(g.signs[j].to, c.from-1); j-- {
		p := &g.signs[j]
		if !p.content2() && !(p.content() && g.within(p, "pack", "wire", "drain", "line")) || sameThing(p, &g.signs[n]) {
			continue
		}
		p.used, done = true, true
		if j > 0 && g.signs[j-1].num != nil && g.signs[j-1].to == p.from {
			g.signs[j-1].used = true
		}
	}
	if done {
		c.used = true
	}
	return done
}

// wasElse tells whether the number at sign i is what a state named before it was
// earlier: "ACT 180 now, was 210".
func (g *segment) wasElse(i int) bool {
	k := g.signs[i].from - 1
	for g.is(k, "a", "an", "on", "at", "about", "up", "down") {
		k--
	}
	if !g.is(k, "was", "were") || !g.is(k-1, ",") && !g.numberAt(k-1) || strings.ContainsAny(g.words(k, k+1), "'’") {
		return false // "we're at ten" is now
	}
	for j := i - 1; j >= 0 && k-g.signs[j].to <= 6; j-- {
		if g.signs[j].num != nil {
			return true
		}
	}
	return false
}

// remaining is the number in a sentence that says no more than how many are left:
// "So one left."
func (g *segment) remaining() string {
	n := -1
	for i := range g.signs {
		s := &g.signs[i]
		switch {
		case s.num != nil && n < 0 && smallCount(s.num.decimal) > 0:
			n = i
		case s.num != nil || s.content2() || s.content() && g.sideOf(s) == "" && !s.is(turns):
			return ""
		}
	}
	if n < 0 || len(g.toks) > 8 {
		return ""
	}
	k := g.signs[n].to
	if g.is(k, "left", "remain", "remaining", "stay") || g.is(k, "is", "are") && g.is(k+1, "left", "still") || g.is(k, "still") && g.is(k+1, "in") {
		return g.signs[n].num.decimal
	}
	return ""
}

var weekdays = []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// unlikely marks what was only suspected, what failed, and what was before a now:
// "tamponade queried, none", "right jugular tried, failed", "was left radial, now right
// femoral".
func (g *segment) unlikely(set func(from, to int, f scope)) {
	for k := range g.toks {
		if to := g.triedVessels(k); to > 0 {
			set(k, to, weighed)
		}
		if k == 0 || g.toks[k].kind != word {
			continue
		}
		switch {
		case g.wantedOf(k):
			set(g.startOf(k-1, 6), k, weighed) // "five millimetres I had planned but", "the balloon I was going to do and did not"
		case g.is(k, "about") && g.anyWithin(max(0, k-6), k, "talked", "talk", "discussed", "discussion", "debated", "argued", "conversation", "thinking") && !g.numberAt(k+1):
			set(k+1, g.endWeigh(k+1, 8), weighed) // "we had talked at the meeting about leaving some flow"
		case g.extubatedLater(k):
			set(k, g.endState(k+3, 6), intended) // "oral ETT 4.5, extub in ICU 2h"
		case g.is(k, "plan", "idea", "intention") && g.is(k-1, "the", "our", "my") && g.is(k-2, "was", "were"):
			set(g.startOf(k-2, 7), k, weighed) // "lateral tunnel was the plan"
		case g.is(k, "thought") && g.is(k-1, "we", "i") && g.is(k-2, ",") && g.is(k+1, ",", "but"):
			set(g.startOf(k-3, 5), k-2, weighed) // "left open, we thought, but"
		case g.is(k, "what") && g.is(k+1, "i", "we") && (g.is(k+2, "asked", "wanted", "planned", "ordered", "meant", "intended") || g.is(k+2, "had", "have") && g.is(k+3, "said", "agreed", "discussed", "planned", "wanted", "asked")), // "what we had said"
			g.is(k, "what") && g.is(k+1, "wed", "id") && g.is(k+2, "said", "agreed", "discussed", "planned", "wanted", "asked"),
			g.is(k, "requested", "intended") && g.is(k-1, "was", "were"), g.is(k, "thought") && g.is(k+1, "better") && g.is(k+2, "of"):
			j := k // "bovine pericardium is what I asked for"
			for j > 0 && !g.is(j-1, ",", ":") && g.toks[j-1].kind != stop && k-j < 12 {
				j--
			}
			set(j, k, weighed)
		case g.is(k, "canceled") && g.is(k-1, "is", "was", "been", "that", "now"):
			for j := k; j > 0 && g.toks[j-1].kind != stop; j-- {
				set(j-1, j, weighed) // "I said balloon next week, this is cancelled"
			}
		case g.is(k, "on") && g.is(k+1, weekdays...) && g.anyWithin(max(0, k-3), k, "was"):
			set(g.startOf(k, 5), k, past) // "it was elective on Monday"
		case g.is(k, "said", "told") && g.is(k-1, "i", "we"):
			for j := k + 1; j < len(g.toks) && j < k+14 && g.toks[j].kind != stop; j++ {
				if g.is(j, "but") {
					set(k+1, j, weighed) // "I said on the phone it was tamponade, but"
				}
			}
		case g.is(k, "since") && (g.is(k+1, weekdays...) || g.is(k+1, "yesterday", "the", "last", "birth", "stage", "norwood", "his", "her")):
			set(g.startOf(k, 5), k, past) // "open since Monday"
		case g.is(k, "on", "by", "in", "from", "per") && k > 1 && (g.numberAt(k-1) || g.numberAt(k-2) && g.at[k-1] >= 0 && g.signs[g.at[k-1]].has(isUnit)) && g.is(k+1, "the", "our") && paperWords[g.wordAt(k+2)]:
			n := int(g.at[k-1])
			if g.signs[n].num == nil {
				n--
			}
			if g.is(k, "on") && n > 0 && g.signs[n-1].num != nil || g.is(k+1, "the") && g.otherSoon(k+3, n) {
				set(g.signs[n].from, g.signs[n].to, hearsay) // "146 actual, 150 on the sheet", "3.4 on the form, 3.6 on the scales"
			}
		case g.is(k, "table", "shelf", "bench") && g.is(k-1, "the", "our") && g.is(k-2, "on") && g.spareBefore(k-2):
			set(g.startOf(k-2, 9), g.endState(k+1, 9), weighed) // "I had a second stent on the table, a nine by twenty, but"
		case g.is(k, "opened", "thawed", "unwrapped", "drawn") && (g.is(k+1, "but") || g.is(k+1, "up", ",") && g.is(k+2, "but")) && g.goodsBefore(k):
			set(g.startOf(k, 6), k, weighed) // "a bovine patch was opened but"
		case g.is(k, "dry", "intact", "sound", "secure", "fine", "hemostatic", "quiet", "clean") && g.lex.kind != schema.Closure:
			for j := k - 1; j >= 0 && j >= k-5; j-- {
				if g.is(j, "was", "were", "is", "are", "all", "looked", "both", "edge", "site", "line", "and", "bone", "itself", "completely", "perfectly", "quite", "very", "end", "at", ",") && (g.at[j] < 0 || g.signs[g.at[j]].is(weighs)) {
					continue
				}
				n := g.at[j]
				if n < 0 {
					break
				}
				if slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.kind == isValue && x.field.Path == schema.BetweenSource }) {
					set(g.signs[n].from, g.signs[n].to, weighed) // "the suture lines were dry": no source
					break
				}
			}
		case g.is(k, "called") && g.is(k+1, "it") && (k+2 >= len(g.toks) || g.toks[k+2].kind == stop || g.is(k+2, ",")) && g.anyWithin(0, k, "go", "goe", "attempt", "try", "time", "run"),
			g.is(k, "off", "out") && g.is(k+1, "again") && g.is(k-1, ",", "so", "and") && g.anyWithin(max(0, k-9), k, "tried"):
			from := k
			for from > 0 && g.toks[from-1].kind != stop {
				from--
			}
			set(from, k, past) // "third go with nitric at twenty, sats of fifty five, and I called it"
		case g.is(k, "queried", "suspected"):
			set(g.startOf(k, 5), k, weighed)
		case g.is(k, "failed") && g.is(k+1, ",") && (g.anyWithin(max(0, k-5), k, "attempt", "try") || g.is(0, "first", "second", "third", "1st", "2nd")):
			end := k
			for end < len(g.toks) && g.toks[end].kind != stop && !g.is(end, "so", "then", "therefore", "and") {
				end++
			}
			set(k, end, past) // "second attempt failed, saturation 55"
		case g.is(k, "failed", "unsuccessful", "unsuccessfully", "abandoned") || g.is(k, "without", "no") && g.is(k+1, "success", "luck"):
			j := k - 1
			for j > 0 && (g.is(j, "tried", "attempted", "attempt", "twice", "once", "but", ",", "was", "were", "and", "it", "first", "x", "time", "then", "we") || g.numberAt(j)) {
				j--
			}
			n := g.at[j]
			if n < 0 || !g.signs[n].content2() && !slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.kind == isValue && x.field.Path == schema.MechanicalCannulation }) {
				continue
			}
			from := g.signs[n].from
			for from > 0 && g.at[from-1] >= 0 && g.sideOf(&g.signs[g.at[from-1]]) != "" {
				from = g.signs[g.at[from-1]].from
			}
			set(from, g.signs[n].to, weighed)
		case g.is(k, "was", "were"):
			for j := k + 1; j < len(g.toks) && j < k+7 && g.toks[j].kind != stop; j++ {
				if !g.is(j, "now") {
					continue
				}
				if n := g.nextSign(j + 1); n < len(g.signs) && g.signs[n].from <= j+2 && (g.signs[n].content2() || g.sideOf(&g.signs[n]) != "") {
					for i := range g.signs {
						if p := &g.signs[i]; p.from > k && p.to <= j && (p.content2() || g.sideOf(p) != "") {
							set(p.from, p.to, past)
						}
					}
				}
				break
			}
		}
	}
}

// paperWords are where a number may be written that is not the one measured.
var paperWords = wordSet("sheet board chart log form whiteboard ward clinic letter referral booking list wristband notes")

// otherSoon tells whether another number of the sort of the one at sign n follows soon after
// token k, with nothing else named between.
func (g *segment) otherSoon(k, n int) bool {
	for j := k; j < len(g.toks) && j < k+6 && g.toks[j].kind != stop; j++ {
		if g.numberAt(j) {
			b := int(g.at[j])
			return sameSort(&g.signs[n], &g.signs[b]) && !g.unitsDiffer(n, b) && g.nearTo(n, b, 1.5) && !g.namedAfter(b)
		}
		if i := g.at[j]; i >= 0 && g.speaks(&g.signs[i]) {
			return false
		}
	}
	return false
}

// wanters and wants are who wanted a thing, and the verbs of it.
var (
	wanters = wordSet("i we they he she id wed theyd hed")
	wants   = wordSet("planned wanted meant hoped intended asked ordered thought considered fancied requested promised contemplated")
)

// wantedOf tells whether the words at token k say that the thing right before them was only
// wanted: "a flow probe I asked for", "the right I was going to patch and left alone".
func (g *segment) wantedOf(k int) bool {
	if !wanters[g.toks[k].text] || g.at[k-1] < 0 || g.anyWithin(g.startOf(k-1, 4), k, "no", "not", "without") {
		return false
	}
	if s := &g.signs[g.at[k-1]]; s.num == nil && !s.content() && g.sideOf(s) == "" && !s.has(isUnit) {
		return false
	}
	j := k + 1
	for g.is(j, "had", "have", "first", "originally", "alway", "also", "been", "really") {
		j++
	}
	switch {
	case j < len(g.toks) && wants[g.toks[j].text]:
	case g.is(j, "was", "were") && g.is(j+1, "going", "thinking", "planning", "hoping", "tempted", "about"):
		j++
	case g.is(j, "would") && g.is(j+1, "have"):
	default:
		return false
	}
	mused := g.is(j, "thought", "considered", "talked") // "nitric twenty, we thought about a tunnel" is of the tunnel
	for end := j + 6; j < end; j++ {
		switch {
		case j >= len(g.toks) || g.toks[j].kind == stop || g.is(j, ",", "but", "though", "only", "however"):
			return true
		case g.is(j, "and"):
			return g.anyWithin(j+1, min(len(g.toks), j+6), "not", "never", "didnt", "couldnt", "hadnt", "havent", "wasnt", "wouldnt", "alone", "against", "none", "nobody")
		case g.at[j] >= 0 && g.signs[g.at[j]].from == j && (g.signs[g.at[j]].num != nil || g.signs[g.at[j]].content2() || mused && g.signs[g.at[j]].content()):
			return false
		}
	}
	return false
}

// numberSoon tells whether a number stands shortly before sign i, which it may put
// right.
func (g *segment) numberSoon(i int) bool {
	for j := i - 1; j >= 0 && g.signs[i].from-g.signs[j].to <= 5; j-- {
		if g.signs[j].num != nil {
			return true
		}
	}
	return false
}

// spareBefore tells whether what stands before token k is told to have been at hand,
// and no more: "we had a four".
func (g *segment) spareBefore(k int) bool {
	for j := k - 1; j >= 0 && j >= k-8 && g.toks[j].kind != stop; j-- {
		if g.is(j, "had", "have", "stood", "lay", "ready", "waiting") {
			return !g.is(j+1, "to")
		}
	}
	return false
}

// goodsBefore tells whether something that comes in a packet stands just before token k.
func (g *segment) goodsBefore(k int) bool {
	for j := k - 1; j >= 0 && j >= k-5 && g.toks[j].kind != stop; j-- {
		if g.is(j, "patch", "homograft", "graft", "conduit", "tube", "stent", "punch", "ring", "shunt", "valve", "ptfe", "goretex") {
			return true
		}
	}
	return false
}

// givenWay tells whether the number right before the correction at sign i has given way to
// the one after it already, so that the next one is of something else: "fourteen, no, it's
// fifteen now, atrial pressure six".
func (g *segment) givenWay(i int) bool {
	if i == 0 || i+1 >= len(g.signs) {
		return false
	}
	p, r := &g.signs[i-1], &g.signs[i+1]
	return p.num != nil && r.num != nil && r.used && p.swap == [2]int{r.from, r.to}
}
