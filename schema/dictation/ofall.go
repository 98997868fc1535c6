package dictation

import (
	"slices"

	"fairlead/schema"
)

// saidOfAll is one value said of several drains at once, in whatever order: "both
// fifteen French", "twelve French each", "all three to suction of twenty".
type saidOfAll struct {
	field *schema.Field
	value string
	from  int // tokens of the value
	to    int
	at    int // where what is said begins
	n     int // of how many; 0: of all there are
}

// allFrom reads at token k the words that mean all of several things: their end and
// how many they count, 0 where they do not say. The end is k where none stand there.
func (g *segment) allFrom(k int) (end, n int) {
	switch {
	case g.is(k, "all", "the") && k+1 < len(g.toks) && units[g.toks[k+1].text] > 1 && units[g.toks[k+1].text] < 5:
		n, end = units[g.toks[k+1].text], k+2
		if g.is(k, "the") && !g.is(end, "of") {
			return k, 0
		}
	case g.is(k, "both"):
		n, end = 2, k+1
	case g.is(k, "each", "all", "apiece"):
		end = k + 1
	case g.is(k, "every") && g.is(k+1, "one"):
		end = k + 2
	default:
		return k, 0
	}
	if g.is(end, "of") && g.is(end+1, "them", "these", "those", "the") {
		end += 2
	}
	if g.is(end, "one") && g.is(k, "each", "every") && !g.is(end+1, "in", "on") && !(end+1 < len(g.toks) && g.at[end+1] >= 0 && g.signs[g.at[end+1]].content2()) {
		end++
	}
	if g.is(end, "drain", "tube") {
		end++
	}
	return end, n
}

// leadsToValue are the words between those that mean all and the value.
var leadsToValue = wordSet("of to on at is are were was go goes going went set size sized a with now have been connected running put under hooked blake they and , : = same")

// reserveOfAll finds what is said of several drains together, so that no single one of
// them takes it.
func (g *segment) reserveOfAll() {
	kind := schema.ItemKindNamed("drain")
	for k := 0; k < len(g.toks); k++ {
		end, n := g.allFrom(k)
		if end == k {
			end = g.headOfAll(k)
		}
		if end == k && !g.onlyAmount(k) || !g.drainsTold(kind, k, end) {
			continue
		}
		if s := g.at[k]; s >= 0 && g.signs[s].scope&(unreal|denied) != 0 || g.maybe(k) {
			continue
		}
		before, ok := g.amountEnding(k)
		after := g.valuesAfter(kind, end, k, n)
		each := g.is(k, "each", "apiece", "every") && !g.crosses(before.to, k)
		if ok && (each || len(after) == 0 && (end >= len(g.toks) || g.toks[end].kind == stop || g.is(end, ",", "and"))) {
			after = append(g.amountOfAll(kind, before, before.from, k, n), after...)
		}
		for _, x := range after {
			x.at = min(x.at, k)
			for j := x.from; j < x.to; j++ {
				if s := g.at[j]; s >= 0 {
					g.signs[s].used = true
				}
			}
			g.ofAll = append(g.ofAll, x)
		}
		for j := k; j < end && len(after) > 0; j++ { // they have done their work
			if s := g.at[j]; s >= 0 && g.signs[s].num != nil {
				g.signs[s].used = true
			}
			g.toks[j].text, g.toks[j].kind = ",", mark
		}
		k = max(k, end-1)
	}
}

// headOfAll is the token after a noun at token k that heads a list, and of which a
// value is said before the list begins: "Drains on suction fifteen: right, left". It is
// k where none stands there.
func (g *segment) headOfAll(k int) int {
	if k > 2 || !g.is(k, "drain", "tube") || !g.pluralAt(k) || !g.is(k+1, "on", "to", "at", "under") {
		return k
	}
	for j := k + 1; j < len(g.toks) && j < k+8; j++ {
		if g.is(j, ":") {
			return k + 1
		}
	}
	return k
}

// onlyAmount tells whether the segment is no more than a size, which is then said of
// what the one before listed: "Twenty four French."
func (g *segment) onlyAmount(k int) bool {
	if k == 0 && g.ctx.last != "drain" || k > 0 && g.toks[k-1].kind != stop || !g.numberAt(k) {
		return false
	}
	a, ok := g.amountAt(int(g.at[k]))
	if !ok || a.from != k || a.to < len(g.toks) && g.toks[a.to].kind != stop || a.to+1 < len(g.toks) {
		return false
	}
	return slices.Contains(a.units, "[Ch]") || g.pluralAt(a.to-1) && a.units == nil
}

// drainsTold tells whether what stands at tokens k to end is said of drains: the
// thing named last before it is one, or, where none is, the first after it, or
// what the sentence before listed.
func (g *segment) drainsTold(kind *schema.ItemKind, k, end int) bool {
	for n := g.prevSign(k); n >= 0; n-- {
		if s := &g.signs[n]; s.content2() {
			return slices.ContainsFunc(s.senses, func(x sense) bool { return x.item == kind })
		}
	}
	if g.ctx.last == kind.Name {
		return true
	}
	for n := g.nextSign(end); n < len(g.signs) && g.signs[n].from-end <= 8; n++ {
		if s := &g.signs[n]; s.content2() {
			return slices.ContainsFunc(s.senses, func(x sense) bool { return x.item == kind })
		}
	}
	return false
}

// amountEnding is the amount that ends before token k, with nothing but a comma or a
// preposition between.
func (g *segment) amountEnding(k int) (amount, bool) {
	j := k
	for g.is(j-1, ",", "on", "to", "of", "for", "at", "suction") && j > k-3 {
		j--
	}
	for i := g.prevSign(j); i >= 0 && j-g.signs[i].to <= 2; i-- {
		if g.signs[i].num == nil {
			if !g.signs[i].has(isUnit) {
				break
			}
			continue
		}
		a, ok := g.amountAt(i)
		return a, ok && a.to == j && g.plainTalk(i)
	}
	return amount{}, false
}

// valuesAfter are the values that follow, at token k, the words that mean all.
func (g *segment) valuesAfter(kind *schema.ItemKind, k, at, n int) []saidOfAll {
	var out []saidOfAll
	drainage := kind.Field("drainage")
	for start := k; k < len(g.toks) && k < start+8; {
		i := g.at[k]
		switch {
		case i >= 0 && g.signs[i].from == k && g.signs[i].num != nil:
			a, ok := g.amountAt(int(i))
			if !ok || !g.plainTalk(int(i)) {
				return out
			}
			beside := a.to + 2
			if g.is(a.to, ",") || g.is(a.to, "suction") && g.numberAt(a.to+1) {
				beside = a.to // "both fifteen, suction ten"
			}
			more := g.amountOfAll(kind, a, max(at, a.from-2), beside, n)
			if len(more) == 0 || slices.ContainsFunc(out, func(x saidOfAll) bool { return x.field == more[0].field }) {
				return out
			}
			out, k = append(out, more...), a.to
			if slices.ContainsFunc(more, func(x saidOfAll) bool { return x.field.Name == "suction" }) {
				return out
			}
		case i >= 0 && g.signs[i].from == k && !g.signs[i].content2():
			s := &g.signs[i]
			if f, v := g.attributeValue(kind, int(i), nil); f == drainage && s.scope&(unreal|denied) == 0 {
				out = append(out, saidOfAll{f, v, s.from, s.to, at, n})
			} else if !g.is(s.to-1, "suction") && !(s.is(filler) || leadsToValue[g.toks[k].text]) {
				return out
			}
			k = s.to
		case leadsToValue[g.toks[k].text] || g.is(k, "suction"):
			k++
		default:
			return out
		}
	}
	return out
}

// amountOfAll is an amount as the size of drains or as their suction: that is
// negative, or has the word beside it between tokens from and to.
func (g *segment) amountOfAll(kind *schema.ItemKind, a amount, from, to, n int) []saidOfAll {
	f := g.attributeFor(kind, a)
	if a.units == nil && (a.decimal[0] == '-' || g.anyWithin(max(0, from-1), min(to, len(g.toks)), "suction")) || slices.Contains(a.units, "cm[H2O]") || g.bareSuction(a) {
		f = kind.Field("suction")
	}
	if f == nil || f.Name != "size" && f.Name != "suction" || g.is(a.from-1, "at", "on") && f.Name == "size" {
		return nil
	}
	v, _, ok := fits(f, a)
	if !ok {
		return nil
	}
	return []saidOfAll{{f, v, a.from, a.to, min(from, a.from), n}}
}

// bareSuction tells whether a number with no unit is the suction that drains are put on,
// by the word before it: "on ten", "to fifteen". It is set in fives.
func (g *segment) bareSuction(a amount) bool {
	return a.units == nil && slices.Contains(suctionsSaid, a.decimal) && g.is(a.from-1, "on", "to")
}

var suctionsSaid = []string{"5", "10", "15", "20", "25"}

// sameSizeWords stand after "same" where it is a size that is.
var sameSizeWords = wordSet("size gauge caliber bore french width")

// readSameSize gives a thing the size of the one listed before it: "a twenty French
// mediastinal drain, and a left pleural of the same size", "left pleural ditto".
func (g *segment) readSameSize() {
	for k := range g.toks {
		end := k + 1
		sized := g.is(k, "same") && k+1 < len(g.toks) && sameSizeWords[g.toks[k+1].text]
		if sized {
			end++
		}
		if !sized && !(g.is(k, "ditto", "same", "likewize", "similarly") && (end == len(g.toks) || g.toks[end].kind == stop || g.is(end, ",", "and"))) || g.unrealAt(k) || g.maybe(k) {
			continue
		}
		to, from := -1, -1
		for i := range g.groups {
			x := &g.groups[i]
			if x.item == nil || x.denied || x.gone || x.item.Field("size") == nil || g.crossesStop(min(x.from, k), max(x.from, k)) {
				continue
			}
			if x.from < k && k-x.to <= 5 || sized && x.from > k && x.from-end <= 3 && g.is(end, "in", "on") {
				if f := x.item.Field("size"); !g.claimed(i, f) && (to < 0 || x.from > g.groups[to].from && g.groups[to].from < k) {
					to = i
				}
			}
		}
		if to < 0 {
			continue
		}
		for i := range g.groups {
			if x := &g.groups[i]; i != to && x.item == g.groups[to].item && !x.denied && !x.gone && x.from < g.groups[to].from && g.claimed(i, x.item.Field("size")) && (from < 0 || x.from >= g.groups[from].from) {
				from = i
			}
		}
		if from < 0 {
			continue
		}
		for _, c := range slices.Clone(g.claims) {
			name := c.field.Name
			if c.group != from || c.gone || name != "size" && (sized || name != "suction" && name != "drainage") || g.claimed(to, c.field) {
				continue
			}
			c.group, c.sure, c.note = to, Check, "said to be the same"
			g.claims = append(g.claims, c)
		}
	}
}

// giveOfAll gives what was said of several drains to each that lacks it: to those
// listed before it, to those after where it heads the list, or to those of the
// sentence before.
func (g *segment) giveOfAll() {
	kind := schema.ItemKindNamed("drain")
	for _, x := range g.ofAll {
		var to []int
		for _, heads := range []bool{false, true} {
			for i := range g.groups {
				y := &g.groups[i]
				if y.item == kind && !y.denied && !y.gone && !y.ofLast && !g.claimed(i, x.field) && (heads || y.from < x.at) {
					to = append(to, i)
				}
			}
			if len(to) > 0 {
				break
			}
		}
		if x.n > 0 && len(to) > 0 && len(to) > x.n {
			continue
		}
		if g.ctx.last == kind.Name && (x.n == 0 || x.n > len(to)) {
			gi := g.newGroup("items", x.from, x.to)
			g.groups[gi].item, g.groups[gi].ofLast, g.groups[gi].many = kind, true, x.n-len(to)
			if x.n == 0 {
				g.groups[gi].many = -1
			}
			to = append(to, gi)
		}
		for _, gi := range to {
			c := g.claimIn(gi, x.field, x.value, x.from, x.to, min(x.at, x.from), x.to)
			if x.field.Name == "size" && !g.anyWithin(x.from, x.to, "french") {
				c.sure, c.note = Check, "the unit was not said"
			}
		}
	}
}
