package dictation

import (
	"slices"
	"strings"
)

// deny marks what a denial at sign i denies: what it stands before, or, for
// "was not used", what it stands after.
func (g *segment) deny(i int, flags []scope) {
	s := &g.signs[i]
	if i+1 < len(g.signs) && (g.signs[i+1].is(corrects) || g.signs[i+1].is(scratches)) && g.signs[i+1].from-s.to <= 1 {
		return // "no, I tell a lie"
	}
	if g.is(s.from, "no") && g.is(s.from-1, "?") && g.is(s.to, ",") && i+1 < len(g.signs) && g.signs[i+1].from == s.to+1 && g.sideOf(&g.signs[i+1]) != "" {
		return // "left femoral? no, right femoral"
	}
	if g.is(s.from, "no") && g.is(s.to, ",") && g.is(s.to+1, "just", "only") && (g.numberAt(s.to+2) || g.numberAt(s.to+3)) {
		return // "two and two, no, just two atrial"
	}
	if g.interjected(s) {
		return // "right pleural drain. No, left."
	}
	if g.leftAsWas(i) {
		return // "nasal tube, not touched"
	}
	if g.denyBare(i, flags) || g.denyEcho(i, flags) || g.denyFirst(i, flags) {
		return
	}
	if i+1 < len(g.signs) && g.signs[i+1].from-s.to <= 1 {
		k := g.signs[i+1].to
		if (g.is(k, "other") && g.is(k+1, "than") || g.is(k, "apart") && g.is(k+1, "from")) && g.numberAt(k+2) || g.is(k, "except") && (g.numberAt(k+1) || g.numberAt(k+2)) {
			for j := k; !g.numberAt(j); j++ { // "no arrest other than three minutes": it was three minutes
				if n := g.at[j]; n >= 0 {
					g.signs[n].senses = nil
				}
			}
			return
		}
	}
	trailing := s.to-s.from == 1 && g.is(s.from, "not") && (s.to >= len(g.toks) || g.toks[s.to].kind == stop) // "Aprotinin not."
	if i > 0 && g.is(s.from, "nil", "none", "zero") && s.to-s.from == 1 && g.signs[i-1].to == s.from && g.within(&g.signs[i-1], "pack", "swab") && (i < 2 || g.signs[i-2].num == nil || g.signs[i-2].to != g.signs[i-1].from) {
		trailing = true // "packs nil LA line in"
	}
	if g.is(s.from-1, "?") { // "Chest open? No."
		trailing = true
	}
	if i > 0 && g.is(s.from, "no") && s.to-s.from == 1 && g.is(s.from-1, ",", ":") && g.signs[i-1].to == s.from-1 && (g.signs[i-1].has(isItem) || g.signs[i-1].has(isVariety)) {
		k := s.to
		if i+1 < len(g.signs) && g.signs[i+1].from == k && g.signs[i+1].has(isHead) && !g.signs[i+1].has(isItem) && g.headsOf(&g.signs[i+1], &g.signs[i-1]) {
			k = g.signs[i+1].to
		}
		if k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",") && k > s.to {
			for j := g.signs[i-1].from; j < k; j++ {
				flags[j] |= denied // "left pleural, no", "right pleural, no drain"
			}
			return
		}
	}
	if s.to-s.from == 1 && g.is(s.from, "nil", "none", "no") && g.is(s.to, "left", "right") && (s.to+1 >= len(g.toks) || g.toks[s.to+1].kind == stop) && g.drainBefore(s.from) {
		flags[s.to] |= denied // "one mediastinal, nil left"
		return
	}
	if i > 0 && s.to-s.from == 1 && g.is(s.from, "0", "zero", "nil", "none") && g.signs[i-1].content() && s.from-g.signs[i-1].to <= 1 && !g.is(s.from-1, "/") && g.signs[i-1].num == nil &&
		(s.to >= len(g.toks) || g.toks[s.to].kind != word && g.toks[s.to].kind != figure || g.is(s.to, "left", "remaining", "now") || i+1 < len(g.signs) && g.signs[i+1].from == s.to && g.listNamed(&g.signs[i+1]) != "" && g.listNamed(&g.signs[i-1]) != "") {
		trailing = true // "DHCA 0 / ACP 62 min"
	}
	if s.to-s.from > 1 && g.is(s.to-1, "in") && s.is(deniesBefore) && s.to < len(g.toks) && g.is(s.to, "the", "a", "his", "her", "either", "both", "place") {
		return // "in the mediastinum, not in the pleura"
	}
	if g.is(s.from, "none") && s.to-s.from == 1 && g.is(s.to, "cannulated", "used", "opened", "cut", "touched", "needed", "of", "was", "were") && !g.is(s.to, "of") {
		return // "both groins were exposed, none cannulated"
	}
	if g.is(s.from, "none", "nil") && s.to-s.from == 1 && g.is(s.from-1, ",", "and") && i+1 < len(g.signs) && i > 0 && g.signs[i+1].from == s.to && g.signs[i+1].content2() && (g.signs[i+1].to >= len(g.toks) || g.toks[g.signs[i+1].to].kind == stop || g.is(g.signs[i+1].to, ",", "and") && g.signs[i-1].has(isHead)) && g.signs[i-1].content2() {
		for k := s.to; k < g.signs[i+1].to; k++ {
			flags[k] |= denied // "two atrial, none ventricular"
		}
		return
	}
	if g.is(s.from, "none", "nil", "nothing") && s.to-s.from == 1 && i+1 < len(g.signs) && (g.signs[i+1].has(isVariety) || g.signs[i+1].has(isItem)) && !g.signs[i+1].has(isHead) && (g.is(g.signs[i+1].from, "in", "into", "to", "on", "behind") && g.signs[i+1].from == s.to || g.is(s.to, "in", "into", "to", "on") && g.signs[i+1].from <= s.to+2) {
		for k := g.signs[i+1].from; k < g.signs[i+1].to; k++ {
			flags[k] |= denied // "one in each pleura, and none in the mediastinum"
		}
		return
	}
	if g.is(s.from, "none", "nil") && g.is(s.from-1, "and") && s.to < len(g.toks) && g.toks[s.to].kind == word {
		return // "no bypass was needed and none stood by"
	}
	if g.is(s.from-1, "and", "but") && s.is(deniesBefore) && i > 0 && (g.signs[i-1].is(intends) || g.signs[i-1].is(weighs)) && g.signs[i-1].to == s.from-1 {
		for k := g.startOf(s.from, 10); k < s.from; k++ { // "was considered and not placed"
			flags[k] &^= intended | weighed
		}
		for j := i - 2; j >= 0 && j >= i-3 && g.signs[j].from >= g.startOf(s.from, 10); j-- {
			if p := &g.signs[j]; p.has(isItem) || p.has(isVariety) {
				for k := p.from; k < p.to; k++ {
					flags[k] |= denied
				}
				return
			}
		}
	}
	// "two atrial, I didn't place any ventricular ones": what follows is denied
	ahead := !trailing && g.is(s.from-1, "i", "we", "they") && i+1 < len(g.signs) && g.signs[i+1].content2() && g.signs[i+1].from-s.to <= 2 && !g.crosses(s.to, g.signs[i+1].from)
	ahead = ahead || g.deniesUnknown(s)
	if !ahead && (s.is(deniesBefore) || trailing) && !(s.is(denies) && !trailing && i+1 < len(g.signs) && g.signs[i+1].from-s.to <= 1 && (g.signs[i+1].content() || g.signs[i+1].num != nil || g.sideOf(&g.signs[i+1]) != "" || g.signs[i+1].is(another)) && !g.crosses(s.to, g.signs[i+1].from)) {
		for j := i - 1; j >= 0; j-- {
			p := &g.signs[j]
			if s.from-p.to > 3 || g.clause[p.from] != g.clause[s.from] && !(g.toks[s.from-1].text == "," && s.from-p.to <= 1) {
				break
			}
			if p.num != nil && !p.content() || p.is(arrives) || p.is(removed) || p.is(denies) || p.has(isUnit) && !p.content() {
				break
			}
			if g.wiresCounted(s, j) {
				return
			}
			if p.content() && !g.within(p, "she", "he") {
				if !(s.is(denies) && flags[p.from]&denied != 0) {
					for j >= 0 { // and what is joined to it
						p = &g.signs[j]
						for k := p.from; k < p.to; k++ {
							flags[k] |= denied
						}
						joins := g.is(p.from-1, "and", "or") && !aloneDenies[g.toks[s.to-1].text] || g.is(p.from-1, ",") && g.is(s.from, "were", "weren")
						if j > 0 && (joins && g.signs[j-1].to == p.from-1 || g.signs[j-1].to == p.from && p.content2() && !p.has(isItem) && !g.signs[j-1].has(isItem) && !sameSort(p, &g.signs[j-1])) && g.signs[j-1].content() && g.signs[j-1].num == nil && flags[g.signs[j-1].from]&denied == 0 {
							j--
							continue
						}
						break
					}
				}
				return
			}
		}
		if n := i + 1; !s.is(denies) && !(g.is(s.to-1, "needed", "used", "required", "wanted", "placed", "given", "opened") && n < len(g.signs) && g.signs[n].content() && g.signs[n].from-s.to <= 2 && !g.crosses(s.to, g.signs[n].from)) {
			return
		} // but "she never needed nitric"
	}
	seen, joined := false, true
	last := s.to
	number := -1 // a number that stands where what is denied should
	defer func() {
		if !seen && number >= 0 {
			for j := g.signs[number].from; j < g.signs[number].to; j++ {
				flags[j] |= denied // "eighteen, not a twenty"
			}
		}
	}()
	for k := s.to; k < len(g.toks); k++ {
		t := g.toks[k]
		if t.text == "," && !(seen && k+1 < len(g.toks) && (g.is(k+1, "or", "nor"))) && !(seen && g.orAhead(k+1)) {
			if !seen || !g.orAhead(k+1) {
				break
			}
		}
		if g.clause[k] != g.clause[s.to] && t.text != "," && g.toks[k].kind == word && subject[t.text] {
			break
		}
		n := g.at[k]
		if !seen && g.is(k, "one", "it", "them", "this") && t.kind == word && g.text[t.span.Start:t.span.End] != "one" {
			return // "we did not put new ones"
		}
		if n < 0 {
			switch t.text {
			case "or", "nor", ",":
				joined = true
			case "and":
				joined = false
				if !seen {
					joined = true
				}
			default:
				if !seen && k-s.to > 4 {
					return
				}
			}
			continue
		}
		p := &g.signs[n]
		if p.from != k {
			continue
		}
		if p.is(arrives) || p.is(turns) || p.is(denies) && seen || p.is(depends) || p.is(history) && seen {
			break
		}
		if w := g.sideOf(p); w != "" && !p.content2() && !seen && int(n)+1 < len(g.signs) && g.signs[n+1].from == p.to && g.signs[n+1].content2() {
			for j := p.from; j < p.to; j++ {
				flags[j] |= denied // "no right radial"
			}
			last = p.to
			continue
		}
		if p.content() || p.num != nil {
			if seen && !joined && g.newNoun(p, n) {
				break // "no pleural drains wires two and two"
			}
			touching := p.from == last && (((p.has(isHead) || p.has(isVariety)) && !p.has(isItem)) && n > 0 && g.signs[n-1].content2() || g.valueNamedBy(p, n))
			if seen && !joined && !touching {
				break
			}
			if seen && !joined && touching && p.num != nil {
				break
			}
			if p.num != nil && !seen && !p.content() && p.num.decimal != "0" {
				// "no 12 French drain": the number is part of what is denied
				number, last = int(n), p.to
				continue
			}
			for j := p.from; j < p.to; j++ {
				flags[j] |= denied
			}
			seen, joined, last = true, false, p.to
			continue
		}
		if seen && !p.is(through) && !p.is(leftSide) && !p.is(rightSide) && !p.is(both) {
			if p.has(isUnit) {
				break
			}
		}
		if p.to > last && (p.is(leftSide) || p.is(rightSide) || p.is(both) || p.is(another)) {
			for j := p.from; j < p.to; j++ {
				flags[j] |= denied
			}
			last = p.to
		}
	}
}

// valueNamedBy tells whether sign n is a value of the field that the sign before
// it names.
func (g *segment) valueNamedBy(p *sign, n int32) bool {
	if n == 0 {
		return false
	}
	for _, x := range p.senses {
		if x.kind != isValue {
			continue
		}
		for _, y := range g.signs[n-1].senses {
			if y.kind == namesField && y.field == x.field {
				return true
			}
		}
	}
	return false
}

// orAhead tells whether a list that goes on at k ends in "or": its commas join
// what is denied.
func (g *segment) orAhead(k int) bool {
	for j := k; j < len(g.toks) && j-k < 8; j++ {
		if g.toks[j].text == "or" || g.toks[j].text == "nor" {
			return true
		}
		if g.toks[j].text == "and" || g.toks[j].kind == figure {
			return false
		}
	}
	return false
}

// denyEcho reads a denial that only echoes the statement before it: "I said there was
// a drain, there is not", "I was going to put atrial wires in and did not".
func (g *segment) denyEcho(i int, flags []scope) bool {
	s := &g.signs[i]
	if !g.is(s.to-1, "not") && !strings.HasSuffix(g.toks[s.to-1].text, "nt") || s.to-s.from > 3 {
		return false
	}
	if s.to < len(g.toks) && g.toks[s.to].kind != stop && !g.is(s.to, ",") {
		return false
	}
	k := s.from - 1
	for g.is(k, "there", "it", "they", "we", "i", "then", "in", "the", "end") {
		k--
	}
	if !g.is(k, ",", "and", "but") || !(g.is(k, "and", "but") || k < s.from-1) {
		return false
	}
	for g.is(k, ",", "and", "but") {
		k--
	}
	for j := i - 1; j >= 0 && k-g.signs[j].to <= 2; j-- {
		p := &g.signs[j]
		if p.num != nil && !p.content() {
			return false
		}
		if !p.has(isItem) && !p.has(isVariety) {
			continue
		}
		from := p.from
		if j > 0 && g.sideOf(&g.signs[j-1]) != "" && g.signs[j-1].to == from {
			from = g.signs[j-1].from
		}
		for n := from; n < p.to; n++ {
			flags[n] = flags[n]&^(intended|weighed) | denied
		}
		return true
	}
	return false
}

// wiresCounted tells whether what is not needed, at sign s, is pacing: the wires at sign j
// are counted, and are in. "Two atrial and two ventricular wires, not needed."
func (g *segment) wiresCounted(s *sign, j int) bool {
	p := &g.signs[j]
	if !g.is(s.to-1, "needed", "required", "used", "necessary", "unused") || !g.is(p.to-1, "wire", "ventricular", "atrial", "v", "a") {
		return false
	}
	for ; j > 0 && g.signs[j-1].to == g.signs[j].from; j-- {
		if g.signs[j-1].num != nil {
			return smallCount(g.signs[j-1].num.decimal) > 0
		}
	}
	return false
}

// denyFirst reads a denial that ends a sentence as a part of its own, with an aside before it,
// as said of what the sentence began with: "ECMO primed, circuit in the room, not used".
func (g *segment) denyFirst(i int, flags []scope) bool {
	s := &g.signs[i]
	if !s.is(deniesBefore) || s.to-s.from < 2 || !g.is(s.from-1, ",") || s.to < len(g.toks) && g.toks[s.to].kind != stop {
		return false
	}
	begin := s.from - 1
	for begin > 0 && g.toks[begin-1].kind != stop {
		begin--
	}
	n := g.nextSign(begin)
	if n >= i || g.signs[n].from > begin+1 || !g.signs[n].content() || g.signs[n].num != nil {
		return false
	}
	last := n
	for last+1 < i && g.signs[last+1].from == g.signs[last].to && g.signs[last+1].content() && g.signs[last+1].num == nil {
		last++
	}
	for j := last + 1; j < i; j++ {
		if p := &g.signs[j]; p.num != nil || p.content2() || p.content() && s.from-p.to <= 1 && !g.within(p, "room", "corner", "shelf", "fridge", "table") {
			return false
		}
	}
	if !g.anyWithin(g.signs[last].to, s.from, "primed", "ready", "room", "corner", "standby", "available", "fridge", "table", "shelf", "outside") || g.drugAt(n) != "" {
		return false // "left groin exposed first, not used": it was exposed
	}
	for k := g.signs[n].from; k < g.signs[last].to; k++ {
		flags[k] |= denied
	}
	return true
}

// deniesUnknown tells whether a plain "no" stands before a word the vocabulary does not
// have, and so denies what that says, and nothing before it: "second sternotomy, no drama".
func (g *segment) deniesUnknown(s *sign) bool {
	return s.to-s.from == 1 && g.is(s.from, "no") && s.to < len(g.toks) && g.toks[s.to].kind == word && g.at[s.to] < 0 && g.is(s.from-1, ",") && !subject[g.toks[s.to].text] && !g.is(s.to, "one", "more", "longer", "not", "it", "its", "that", "sorry", "wait", "then", "now", "of", "on", "in", "at", "as", "just", "only", "and", "or", "but", "make", "yes", "never")
}

// leftAsWas tells whether the denial at sign i is of a change to the thing named before it,
// which is there as it was: "nasal tube, not touched", "the drains were not changed".
func (g *segment) leftAsWas(i int) bool {
	s := &g.signs[i]
	if !g.is(s.from, "not", "never", "wasnt", "werent") && !g.is(s.to-1, "not") && !g.is(s.from+1, "not") || !g.is(s.to-1, "touched", "changed", "moved", "disturbed", "replaced") && !g.is(s.to, "touched", "changed", "moved", "disturbed", "replaced") {
		return false
	}
	for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 4 && !g.crossesStop(g.signs[j].to, s.from); j-- {
		if g.signs[j].content2() {
			return true
		}
	}
	return false
}

// newNoun tells whether sign n is the noun of another kind than the thing named right
// before it, and so begins a list of its own.
func (g *segment) newNoun(p *sign, n int32) bool {
	return n > 0 && p.has(isHead) && !p.has(isItem) && g.signs[n-1].content2() && !g.headsOf(p, &g.signs[n-1])
}

// headsOf tells whether a noun may be that of a thing: "no wires" denies no drain.
func (g *segment) headsOf(head, s *sign) bool {
	return slices.ContainsFunc(head.senses, func(x sense) bool {
		return x.kind == isHead && slices.ContainsFunc(s.senses, func(y sense) bool { return y.item == x.item })
	})
}
