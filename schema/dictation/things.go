package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// thing is one item as a phrase names it: "two", "right", "pleural".
type thing struct {
	sign      int // of the variety
	options   []sense
	full      bool // named with its noun, or by a word that needs none
	head      int  // sign of its noun, or -1
	from, to  int  // tokens, what stands before and its noun included
	count     int  // 0: not said
	plural    bool
	sides     []string // right, left
	amounts   []amount
	lumens    int
	fresh     bool // "a new"
	again     bool // "another", "a second"
	through   bool // "through the ..."
	definite  bool // "the ..."
	of        *schema.ItemKind
	varieties []string
	groups    []int
	pre       []int // signs of attributes that stand before it
	gone      bool  // taken out
	nounSized bool  // its size stands before its noun
}

// findThings finds each variety in the segment, with what stands before it.
func (g *segment) findThings() []thing {
	var out []thing
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.num != nil && s.to-s.from == 1 && !s.content() {
			continue
		}
		if s.to-s.from == 2 && g.is(s.from, "right", "left") && g.is(s.to-1, "drain") && g.pluralAt(s.to-1) && g.is(s.from-1, "the") && g.is(s.from-2, "on") {
			continue // "a four on the left drains one mediastinal"
		}
		t := thing{sign: i, head: -1, from: s.from, to: s.to}
		for _, x := range s.senses {
			switch x.kind {
			case isItem:
				t.options, t.full = append(t.options, x), true
			case isVariety:
				t.options = append(t.options, x)
			}
		}
		t.options = slices.DeleteFunc(t.options, func(x sense) bool { return x.value == "sheath" && !g.mentions("sheath") }) // no "venous" or "arterial" alone
		if len(t.options) > 0 && t.options[0].value == "skin-earth" && !g.mentions("earth", "ground", "pacing", "atrial", "ventricular", "electrode", "indifferent") {
			continue // "four wires in, the skin ..."
		}
		if len(t.options) == 0 && s.to-s.from > 1 && g.is(s.to-1, "cannula") && (g.lex.kind == schema.SupportOn || g.lex.kind == schema.SupportOff) {
			n, to := g.lex.match(g.toks[:s.to], s.from+1) // "right atrial cannula"
			for _, x := range g.lex.senses[n] {
				if x.kind == isItem && to == s.to {
					t.options, t.full = append(t.options, x), true
				}
			}
		}
		if len(t.options) == 0 {
			g.sidedVessel(&t)
		}
		if len(t.options) == 0 {
			t.options = g.drainedSide(i)
			t.full = len(t.options) > 0 && t.options[0].kind == isItem
		}
		if len(t.options) == 0 {
			continue
		}
		out = append(out, t)
	}
	for n := range out {
		g.bothSides(&out[n])
	}
	pre := g.sizesFirst(out)
	for n := range out {
		if n == 0 {
			g.lookBefore(&out[n], 0, nil)
			continue
		}
		before := &out[n-1]
		if pre || g.crosses(before.to, out[n].from) && !g.crossesSoon(out[n].from) {
			before = nil // sizes are said before the things
		}
		g.lookBefore(&out[n], out[n-1].to, before)
		if p := &out[n-1]; out[n].count > 0 && p.count == 0 && p.counted() && out[n].counted() && (g.pluralAt(p.to-1) || g.countsFollow(out, n)) && !g.crosses(p.to, out[n].from) && !(g.is(out[n].from-1, "and", "plus", "but") && !g.countsFollow(out, n)) {
			// "atrial wires two ventricular wires two": counts are said after
			out[n].from, out[n].count = g.afterCount(&out[n]), 0
		}
	}
	return out
}

// sidedVessel reads a vessel named with its side as the place of a line where the
// noun, a size or its lumens say so: "left subclavian line", "line in the left subclavian".
func (g *segment) sidedVessel(t *thing) {
	s := &g.signs[t.sign]
	if s.to-s.from < 2 || !g.is(s.from, "right", "left", "r", "l") || s.content2() {
		return
	}
	node, to := g.lex.match(g.toks, s.from+1)
	if to < s.to {
		return
	}
	n := g.nextSign(to)
	named := n < len(g.signs) && g.signs[n].from == to && (g.signs[n].has(isHead) || g.lumensAt(n) > 0)
	for _, a := range g.amountsAfter(to) {
		named = named || a.from-to <= 1 && slices.ContainsFunc(a.units, func(u string) bool { return u == "[Ch]" || u == "{gauge}" })
	}
	h := g.prevSign(s.from)
	named = named || h >= 0 && g.signs[h].has(isHead) && s.from-g.signs[h].to <= 2 && g.placeWords(g.signs[h].to, s.from)
	if !named {
		return
	}
	for _, x := range g.lex.senses[node] {
		if x.kind == isVariety || x.kind == isItem {
			t.options = append(t.options, x)
			t.full = t.full || x.kind == isItem
		}
	}
	if len(t.options) > 0 {
		t.to = to
		t.sides = []string{map[bool]string{true: "right", false: "left"}[g.is(s.from, "right", "r")]}
	}
}

// countsFollow tells whether, in a list of counted things, the counts stand after
// them: the last of the list is followed by one.
func (g *segment) countsFollow(ts []thing, n int) bool {
	m := n
	for m+1 < len(ts) && ts[m+1].counted() && ts[m+1].from-ts[m].to <= 3 {
		m++
	}
	k := ts[m].end(g)
	if !g.numberAt(k) || ts[m].to >= k+3 {
		return false
	}
	a, ok := g.amountAt(int(g.at[k]))
	return ok && a.units == nil && smallCount(a.decimal) > 0
}

// bothSides reads "right and left pleural" where the second side is part of the
// name: it means both.
func (g *segment) bothSides(t *thing) {
	s := &g.signs[t.sign]
	first := g.toks[s.from].text
	if first != "right" && first != "left" && first != "r" && first != "l" || !g.is(s.from-1, "and", "+", "/") || s.from < 2 || g.at[s.from-2] < 0 {
		return
	}
	p := &g.signs[g.at[s.from-2]]
	if w := g.sideOf(p); w != "right" && w != "left" || p.content2() {
		return
	}
	for i, o := range t.options {
		for _, side := range []string{"right-", "left-"} {
			if rest, ok := strings.CutPrefix(o.value, side); ok {
				t.options = slices.Clone(t.options)
				t.options[i].value = "*-" + rest
				t.sides, t.from = []string{"right", "left"}, p.from
			}
		}
	}
}

// sizesFirst tells whether the list says sizes before the things: some size
// stands before a thing and touches no other.
func (g *segment) sizesFirst(ts []thing) bool {
	for n := range ts {
		t, stopAt := ts[n], 0
		if n > 0 {
			stopAt = ts[n-1].to
		}
		g.lookBefore(&t, stopAt, nil)
		for _, a := range t.amounts {
			if (a.units != nil || g.cannulaSize(&t, a)) && (n == 0 || !g.touches(&ts[n-1], a)) {
				return true
			}
		}
	}
	return false
}

// crossesSoon tells whether punctuation stands right before token k.
func (g *segment) crossesSoon(k int) bool { return k > 0 && g.crosses(k-1, k) }

// counted tells whether the thing may be of a kind that is counted.
func (t *thing) counted() bool {
	return slices.ContainsFunc(t.options, func(s sense) bool { return s.item.Field("count") != nil })
}

// afterCount is the token after the count that stands before a thing.
func (g *segment) afterCount(t *thing) int {
	for n := g.nextSign(t.from); n < t.sign; n++ {
		if g.signs[n].num != nil {
			return g.signs[n].to
		}
	}
	return t.from
}

// lookBefore takes in the counts, sizes and sides that stand before a thing. A
// size that touches the thing before it is left to that one, where after gives
// it: there the sizes are said after the things.
func (g *segment) lookBefore(t *thing, stopAt int, after *thing) {
	k := t.from
	for k > stopAt {
		n := g.at[k-1]
		if n >= 0 && g.signs[n].used && (g.signs[n].num != nil || g.signs[n].is(corrects) || g.signs[n].is(denies) || g.sideOf(&g.signs[n]) != "") && g.moved(int(n)) {
			k = g.signs[n].from // what a correction has left behind
			continue
		}
		if g.is(k-1, "small", "large", "big", "little", "fresh") && t.from > 0 && (n < 0 || g.signs[n].from == k-1 && g.signs[n].to == k && !g.signs[n].content2()) && !g.crosses(k-1, t.from) {
			t.fresh = t.fresh || g.is(k-1, "fresh")
			k-- // "two small swabs", "one fresh pack"
			continue
		}
		if n < 0 {
			switch g.toks[k-1].text {
			case ",":
				if k < len(g.toks) && g.at[k] >= 0 && g.signs[g.at[k]].used && g.moved(int(g.at[k])) {
					k--
					continue
				}
				if m := k - 2; m >= stopAt && g.at[m] >= 0 && g.signs[g.at[m]].used && g.moved(int(g.at[m])) {
					k--
					continue
				}
			case "x", "time":
				if t.count > 0 && k < len(g.toks) && g.numberAt(k) || g.countedBy(t, k-1, stopAt) { // "12F x2 mediastinal", "2 x mediastinal"
					k--
					continue
				}
			case "new", "fresh":
				t.fresh = true
				k--
				continue
			case "a", "an", "single", "size", "number", "standard", "soft", "of":
				k--
				continue
			case "the":
				t.definite = true
				k--
				continue
			case "in", "at":
				// "a 24 in the left hand"
				if k-2 >= stopAt && g.at[k-2] >= 0 && (g.signs[g.at[k-2]].num != nil || g.signs[g.at[k-2]].has(isUnit)) && !g.crosses(k-1, t.from) {
					k--
					continue
				}
			}
			break
		}
		s := &g.signs[n]
		switch {
		case s.from < stopAt:
			return
		case s.num != nil && g.is(s.from-1, "day", "pod", "stage", "bed", "d"):
			t.from = k
			return
		case s.num != nil && s.num.decimal != "" && !s.num.surely && (!s.content() || len(s.senses) == 0):
			a, ok := g.amountAt(int(n))
			if !ok {
				return
			}
			if a.units == nil && g.lineNumber(a.from, a.to) {
				return // "Three, airway: nasal tube": the number of the line
			}
			counted := g.countedSize(t, &a)
			if strings.HasPrefix(a.decimal, "-") || after != nil && g.is(a.from-1, "at") && a.units == nil {
				return // suction of what stands before
			}
			if t.options[0].item != nil && t.options[0].item.Group == "lines" && g.readOn(a) {
				return // what the line reads
			}
			if after != nil && after.counted() && after.count == 0 && a.units == nil && smallCount(a.decimal) > 0 && a.from == after.end(g) && g.pluralAt(a.from-1) {
				return // "ventricular wires two, umbilical venous line"
			}
			if a.units != nil && (!g.sizeOfSome(t, a) || after != nil && g.touches(after, a)) {
				return
			}
			if a.units == nil {
				if n > 0 && g.signs[n-1].to == s.from && g.signs[n-1].num == nil && g.sideOf(&g.signs[n-1]) == "" && g.attributeSign(int(n-1)) {
					return // "suction ten left pleural"
				}
				if after != nil && !after.counted() && g.touchesBare(after, a) {
					return
				}
				if t.count > 0 || len(t.amounts) > 0 && smallCount(a.decimal) == 0 {
					return
				}
				if counted > 0 {
					t.count, t.amounts = counted, append(t.amounts, a)
				} else if c := smallCount(a.decimal); c > 0 && t.count == 0 && !t.isAirway() {
					t.count = c
				} else {
					t.amounts = append(t.amounts, a)
				}
			} else {
				t.amounts = append(t.amounts, a)
				t.count = max(t.count, counted)
			}
			k = s.from
		case s.has(isUnit) && n > 0 && g.signs[n-1].num != nil && g.signs[n-1].to == s.from:
			a, ok := g.amountAt(int(n - 1))
			if !ok || g.signs[n-1].from < stopAt || !g.sizeOfSome(t, a) || after != nil && g.touches(after, a) {
				return
			}
			t.amounts = append(t.amounts, a)
			k = g.signs[n-1].from
		case s.is(both):
			t.sides = []string{"right", "left"}
			k = s.from
		case s.is(rightSide) && !s.is(leftSide):
			t.sides = append([]string{"right"}, t.sides...)
			k = s.from
		case s.is(leftSide):
			if g.is(s.to, "a", "an", "the", "one", "two", "three", "four", "in") || g.numberAt(s.to) {
				t.from = k
				return // "we left a common atrial line"
			}
			t.sides = append([]string{"left"}, t.sides...)
			k = s.from
		case s.is(another):
			t.again = true
			k = s.from
		case s.is(through):
			w := g.toks[s.to-1].text
			t.through = true
			if w == "the" {
				t.definite = true
			}
			if g.crosses(s.from, t.from) || !(s.from-1 >= stopAt && g.at[s.from-1] >= 0 && g.isAmountSign(int(g.at[s.from-1]))) || !(g.is(s.from, "in", "on", "into", "via")) {
				t.from = k
				return
			}
			k = s.from
		case s.is(approx), s.is(filler):
			k = s.from
		default:
			if g.attributeOf(t, int(n)) {
				t.pre = append(t.pre, int(n))
				k = s.from
				t.from = k
				continue
			}
			if l := g.lumensAt(int(n)); l > 0 && slices.ContainsFunc(t.options, func(o sense) bool { return o.item.Field("lumenCount") != nil }) {
				t.lumens = l
				k = s.from
				continue
			}
			t.from = k
			return
		}
		if len(t.sides) == 1 && g.is(k-1, "a", "an", "the", "one") && g.is(k-2, "and") && k-3 >= stopAt && g.at[k-3] >= 0 && (g.signs[g.at[k-3]].is(rightSide) || g.signs[g.at[k-3]].is(leftSide)) && !g.signs[g.at[k-3]].content2() {
			k-- // "a right and a left pleural drain"
		}
		if len(t.sides) == 1 && k > stopAt && g.is(k-1, "and", "+") && k-2 >= stopAt && g.at[k-2] >= 0 && (g.signs[g.at[k-2]].is(rightSide) || g.signs[g.at[k-2]].is(leftSide)) && !g.signs[g.at[k-2]].content2() {
			k-- // "right and left pleural"
		}
		t.from = k
	}
}

// countedBy tells whether the "x" at token k follows the count of a thing that is right
// after it or after its size: "2 x mediastinal", "2 x 12F mediastinal".
func (g *segment) countedBy(t *thing, k, stopAt int) bool {
	return g.is(k, "x") && t.count == 0 && k > stopAt && g.numberAt(k-1) && smallCount(g.toks[k-1].text) > 0
}

// countedSize parts a count from the size it is run together with, where the two are no
// size of the thing as one number: "one twenty-four in the mediastinum", "two sixteens".
// It gives the count, or 0.
func (g *segment) countedSize(t *thing, a *amount) int {
	if len(a.decimal) != 3 || smallCount(a.decimal[:1]) == 0 || smallCount(a.decimal[:1]) > 3 || units[g.toks[a.from].text] == 0 || a.units == nil && !g.is(a.to, "in", "on", "mediastinal", "right", "left", "pleural", "blake", "drain") || g.sizeOfSome(t, *a) {
		return 0
	}
	size := *a
	if size.decimal = a.decimal[1:]; !g.sizeOfSome(t, size) {
		return 0
	}
	*a = size
	return units[g.toks[a.from].text]
}

// end is the token after a thing and its noun.
func (t *thing) end(g *segment) int {
	k := t.to
	if n := g.nextSign(k); n < len(g.signs) && g.signs[n].from == k && g.signs[n].has(isHead) {
		k = g.signs[n].to
	}
	return k
}

// touches tells whether no punctuation stands between a thing and an amount.
func (g *segment) touches(t *thing, a amount) bool {
	if g.is(a.from-1, "a", "an") && g.is(a.from-2, "and", "plus") {
		return false // "left radial line and a five French right jugular line"
	}
	return !g.crosses(t.to, a.from) && a.from-t.to <= 10 && g.sizeOfSome(t, a)
}

// touchesBare tells whether a number without unit stands right after a thing and
// can be its size: "Foley 6".
func (g *segment) touchesBare(t *thing, a amount) bool {
	k := t.to
	for k < a.from && g.is(k, "is", "was", "a", "an", "are", "of") {
		k++ // "the left chest drain is a ten"
	}
	return a.from-k <= 1 && !g.crosses(t.to, a.from) && g.sizeOfSome(t, a)
}

// attributeSign tells whether a sign is an attribute of things: "suction".
func (g *segment) attributeSign(n int) bool {
	if g.signs[n].content2() {
		return false
	}
	for _, x := range g.signs[n].senses {
		if (x.kind == namesField || x.kind == isValue) && x.field.Path.Section() == "items" {
			return true
		}
	}
	return false
}

// attributeOf tells whether a sign is a value of an attribute of the thing, and
// nothing of its own: "cuffed".
func (g *segment) attributeOf(t *thing, n int) bool {
	s := &g.signs[n]
	if s.to == t.from && g.isMaterialOf(t, s) {
		return true
	}
	for _, x := range s.senses {
		if x.kind != isValue && x.kind != namesField || x.inner || x.field.Path.Section() != "items" {
			return false
		}
	}
	for _, x := range s.senses {
		for _, o := range t.options {
			if x.kind == isValue && x.field.Section == o.item.Name && x.field.Name != "side" {
				return true
			}
		}
	}
	return false
}

// isMaterialOf tells whether a sign is a material that the thing may be made of.
func (g *segment) isMaterialOf(t *thing, s *sign) bool {
	if s.content2() || s.num != nil {
		return false
	}
	for _, o := range t.options {
		f := o.item.Field("material")
		if f != nil && slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isValue && x.field == f }) {
			return true
		}
	}
	return false
}

// sizeOfSome tells whether an amount is an attribute of any kind of thing that
// the words may name.
func (g *segment) sizeOfSome(t *thing, a amount) bool {
	for _, o := range t.options {
		if g.attributeFor(o.item, a) != nil {
			return true
		}
	}
	return false
}

// isAirway tells whether the thing may be a tube in the airway: there is one, so
// that a number is its size.
func (t *thing) isAirway() bool {
	return slices.ContainsFunc(t.options, func(s sense) bool { return s.item.Name == "airway" })
}

// moved tells whether sign n is part of a correction that was carried out: its
// cue, or the word that took the place of another.
func (g *segment) moved(n int) bool {
	s := &g.signs[n]
	if s.num == nil && g.sideOf(s) == "" {
		return s.is(corrects) || s.is(denies)
	}
	for i := range g.signs {
		if g.signs[i].swap == [2]int{s.from, s.to} && s.to > 0 {
			return true
		}
	}
	return false
}

// content2 tells whether a sign speaks of a thing rather than a side.
func (s *sign) content2() bool { return s.has(isItem) || s.has(isVariety) || s.has(isHead) }

func (g *segment) isAmountSign(n int) bool {
	return g.signs[n].num != nil || g.signs[n].has(isUnit)
}

// crosses tells whether punctuation stands between tokens a and b.
func (g *segment) crosses(a, b int) bool {
	for k := a; k < b; k++ {
		if g.toks[k].kind == stop || g.toks[k].kind == mark && (g.toks[k].text == "," || g.toks[k].text == ":") {
			return true
		}
	}
	return false
}

func smallCount(d string) int {
	if len(d) == 1 && d[0] >= '1' && d[0] <= '6' {
		return int(d[0] - '0')
	}
	return 0
}

// lumensAt reads "double lumen", "triple lumen", "two lumen" at sign n or the
// words just before it.
func (g *segment) lumensAt(n int) int {
	s := &g.signs[n]
	if g.toks[s.to-1].text != "lumen" {
		return 0
	}
	k := s.from
	if s.to-s.from == 1 {
		k = s.from - 1
	}
	if k < 0 {
		return 0
	}
	switch g.toks[k].text {
	case "single":
		return 1
	case "double", "dual", "two", "2":
		return 2
	case "triple", "three", "3":
		return 3
	case "quad", "quadruple", "four", "4":
		return 4
	}
	return 0
}

// newThings opens the groups of a thing: one for each side and copy.
func (g *segment) newThings(t *thing, kind *schema.ItemKind, variety, side []string, copies int, sc scope) []int {
	var out []int
	v := kind.Field("variety")
	for i := range variety {
		for c := 0; c < copies; c++ {
			gi := g.newGroup("items", t.from, t.to)
			gr := &g.groups[gi]
			gr.item, gr.variety, gr.denied = kind, variety[i], sc&denied != 0
			gr.again = t.again || copies > 1 || i > 0 && variety[i] == variety[i-1]
			gr.mention = t.through || t.definite
			if t.through {
				gr.sure, gr.note = Check, "named only as what something runs through"
			}
			g.claimIn(gi, v, variety[i], g.signs[t.sign].from, g.signs[t.sign].to, t.from, t.to)
			if side[i] != "" {
				if f := kind.Field("side"); f != nil && kind.Name != "drain" {
					g.claimIn(gi, f, side[i], t.from, t.to, t.from, t.to)
				}
			}
			out = append(out, gi)
		}
	}
	return out
}
