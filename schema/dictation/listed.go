package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// headSize gives the size said with the noun that heads a list to all in it:
// "three drains, twenty French: mediastinal, right, left".
func (g *segment) headSize(ts []thing) {
	for len(ts) > 1 && g.nounOnly(&ts[0]) {
		ts = ts[1:]
	}
	t := &ts[0]
	if t.of == nil || t.of.Name != "drain" || len(ts) < 2 || len(t.amounts) > 1 {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.from >= t.to || i+1 >= len(g.signs) {
			return
		}
		if !s.has(isHead) || s.has(isItem) && g.toks[s.from].text != "chest" || !g.pluralAt(s.to-1) || i == 0 && !g.is(s.to, ",", "of", ":") && g.signs[i+1].num == nil {
			continue
		}
		for j := i + 1; j < len(g.signs) && g.signs[j].from-s.to <= 4 && g.signs[j].from < t.to; j++ {
			if g.signs[j].num == nil || g.signs[j].used {
				continue
			}
			a, _ := g.amountAt(j)
			f := g.attributeFor(t.of, a)
			if a.units == nil && !(g.pluralAt(a.to-1) && g.toks[a.to-1].kind == word) || f == nil || f.Name != "size" {
				continue
			}
			g.sizeOfAll(ts, a)
			return
		}
		if n := i - 1; n >= 0 && g.signs[n].to == s.from && g.is(s.to, ",", ":") {
			if n > 0 && g.signs[n].num == nil && g.signs[n].has(isUnit) {
				n--
			}
			if a, ok := g.amountAt(n); ok && a.units != nil && a.to == s.from {
				g.countedSize(t, &a)
				if f := g.attributeFor(t.of, a); f != nil && f.Name == "size" {
					g.sizeOfAll(ts, a) // "three twenty French drains, one in ..."
				}
			}
		}
		return
	}
}

// sizeOfAll gives a size to all drains of a list that have none of their own.
func (g *segment) sizeOfAll(ts []thing, a amount) {
	for n := range ts {
		if ts[n].of == ts[0].of && (len(ts[n].amounts) == 0 || n == 0) && !g.sizeFollows(&ts[n]) {
			ts[n].amounts = []amount{a}
		}
	}
}

// nounOnly tells whether a thing is no more than the noun of what follows: "three
// chest drains".
func (g *segment) nounOnly(t *thing) bool {
	s := &g.signs[t.sign]
	return t.full && len(t.sides) == 0 && s.has(isHead) && strings.HasPrefix(t.options[0].value, "*-")
}

// sizeFollows tells whether a size stands right after a thing.
func (g *segment) sizeFollows(t *thing) bool {
	for _, a := range g.amountsAfter(t.to) {
		if a.units != nil && g.sizeOfSome(t, a) {
			return true
		}
	}
	return false
}

// countAfter takes in how many there are, said after the noun: "mediastinal drains
// two, both 12 French", "mediastinal drain, one, fifteen French".
func (g *segment) countAfter(t *thing, kind *schema.ItemKind) {
	k := t.to
	for g.is(k, ",", ":", "x", "time") {
		k++
	}
	if k-t.to > 2 || !g.numberAt(k) {
		return
	}
	a, ok := g.amountAt(int(g.at[k]))
	if f := g.attributeFor(kind, a); ok && f != nil && f.Name == "size" && g.is(a.to, "x", "time") && g.numberAt(a.to+1) && !g.is(g.signs[g.at[a.to+1]].to, "lumen") {
		b, ok := g.amountAt(int(g.at[a.to+1])) // "med drain 12F x2"
		if c := smallCount(b.decimal); ok && b.units == nil && c > 1 && c <= 4 {
			t.count = c
			g.useAmount(b)
		}
		return
	}
	if c := smallCount(a.decimal); !ok || a.units != nil || c == 0 || c > 4 || g.attributeFor(kind, a) != nil {
		return
	}
	if a.to < len(g.toks) && g.toks[a.to].kind != stop && !g.is(a.to, ",", "both", "each", "all", "of") && !g.numberAt(a.to) {
		return
	}
	t.count = smallCount(a.decimal)
	g.useAmount(a)
	t.to = a.to
}

// listHeaded tells whether the things up to the nth stand in a list that a plural
// noun heads, each with its size, so that what ends it is said of all.
func (g *segment) listHeaded(ts []thing, n int) bool {
	if n == 0 || n+1 < len(ts) && ts[n+1].of == ts[n].of {
		return false
	}
	first := n
	for first > 0 && ts[first-1].of == ts[n].of && !g.nounOnly(&ts[first-1]) {
		first--
	}
	h := g.prevSign(ts[first].from)
	for h > 0 && !g.signs[h].has(isHead) && (g.signs[h].num != nil || g.signs[h].has(isUnit) || g.signs[h].is(each) || g.signs[h].is(both) || g.within(&g.signs[h], "all")) && ts[first].from-g.signs[h-1].to <= 8 {
		h--
	}
	if first == n || h < 0 || !g.signs[h].has(isHead) || !g.pluralAt(g.signs[h].to-1) {
		return false
	}
	for m := first; m <= n; m++ {
		for _, gi := range ts[m].groups {
			sized := false
			for i := range g.claims {
				if c := &g.claims[i]; c.group == gi {
					sized = sized || c.field.Name == "size"
				}
			}
			if !sized && !g.groups[gi].denied {
				return false
			}
		}
	}
	return true
}

// amountsAfter are the amounts just after token k.
func (g *segment) amountsAfter(k int) []amount {
	var out []amount
	for n := g.nextSign(k); n < len(g.signs) && g.signs[n].from-k <= 2; n++ {
		s := &g.signs[n]
		if s.num == nil && s.has(isUnit) && n+1 < len(g.signs) && g.signs[n+1].num != nil && g.signs[n+1].from == s.to && !s.used {
			continue // "mediastinal, French sixteen"
		}
		if s.num != nil {
			if a, ok := g.amountAt(n); ok {
				out = append(out, a)
				k = a.to
				if a.unitSign > n {
					n = a.unitSign
				}
				continue
			}
		}
		break
	}
	return out
}

// bigBore tells whether a thing is wider than any line for infusion.
func (g *segment) bigBore(t *thing) bool {
	for _, a := range append(slices.Clone(t.amounts), g.amountsAfter(t.to)...) {
		if slices.Contains(a.units, "[Ch]") && (len(a.decimal) > 1 && a.decimal[1] != '.' || a.decimal >= "8") {
			return true
		}
	}
	return false
}

// ofTheCircuit takes a line in a neck or groin vein, in a note of going on support, for the
// venous cannula of the circuit where its size is no line's: "RIJ 14 Fr". A cannula told
// without a side lies in the side of the neck or groin that the sentence names.
func (g *segment) ofTheCircuit(ts []thing) {
	kind := schema.ItemKindNamed("support-cannula")
	if g.lex.kind != schema.SupportOn || kind == nil {
		return
	}
	for n := range ts {
		t := &ts[n]
		if n > 0 && ts[n-1].offers(kind) && t.from-ts[n-1].to <= 2 {
			continue // "second venous: left femoral, twelve French": where that one lies
		}
		if g.lineInVein(t) && g.bigBore(t) && !g.severalLumensAfter(t) {
			t.of, t.options, t.lumens = kind, []sense{{kind: isVariety, item: kind, value: "venous"}}, 0
			if n+1 < len(ts) && ts[n+1].options[0].value == "venous" && g.toks[ts[n+1].to-1].kind == word && !g.crosses(t.to, ts[n+1].to) {
				t.amounts = append(t.amounts, ts[n+1].amounts...) // "right i j fourteen French venous"
				ts[n+1].of, g.signs[ts[n+1].sign].used = nil, true
			}
		}
		if t.of == kind && len(t.sides) == 0 {
			if w, _ := g.sideOfAccess(); w != "" {
				t.sides = []string{w}
			}
		}
	}
}

// ofKind are the senses of a thing that are of one kind.
func ofKind(options []sense, k *schema.ItemKind) []sense {
	var out []sense
	for _, o := range options {
		if o.item == k {
			out = append(out, o)
		}
	}
	return out
}

// sizedByNext is the thing before thing n where the size that stands right after it is its
// own, since thing n has another after its name: "left femoral venous four French art line
// right radial twenty two gauge".
func (g *segment) sizedByNext(ts []thing, n int) *thing {
	if n == 0 || !g.numberAt(ts[n-1].to) || len(g.amountsAfter(ts[n].to)) == 0 {
		return nil
	}
	return &ts[n-1]
}

// hasBefore tells whether it is told before token k that the child has what stands there:
// "she has her left internal jugular and her right femoral arterial".
func (g *segment) hasBefore(k int) bool {
	for g.is(k-1, "her", "his", "the", "its") {
		k--
	}
	return g.is(k-1, "has", "have", "keep", "kept", "got") || g.is(k-1, "and", ",") && g.anyWithin(max(0, k-9), k, "has", "keep", "kept")
}

// jugularSized tells whether a vein of the neck or groin is listed as a line by its side
// and a size without a unit: "Jugular right, 5.5, three lumens".
func (g *segment) jugularSized(t *thing, kinds []*schema.ItemKind, after []amount) bool {
	if len(kinds) == 0 || kinds[0].Name != "central-venous-line" || !g.listTalk(t) {
		return false
	}
	return slices.ContainsFunc(after, func(a amount) bool {
		f := g.attributeFor(kinds[0], a)
		v, _, ok := "", false, false
		if f != nil {
			v, _, ok = fits(f, a)
		}
		return a.units == nil && f != nil && f.Name == "size" && ok && usual(f, g.lex.kind, v)
	})
}

// lineInVein tells whether a thing is a line in a vein that a circuit drains.
func (g *segment) lineInVein(t *thing) bool {
	return slices.ContainsFunc(t.options, func(o sense) bool {
		return o.item != nil && o.item.Name == "central-venous-line" && (o.value == "jugular" || o.value == "femoral")
	}) && (t.of == nil || t.of.Name == "central-venous-line") && !g.is(t.to-1, "line", "catheter")
}

// severalLumensAfter tells whether lumens are told of a thing, which a cannula has not.
func (g *segment) severalLumensAfter(t *thing) bool {
	for k := t.to; k < len(g.toks) && k < t.to+8 && g.toks[k].kind != stop; k++ {
		if g.is(k, "lumen", "double", "triple", "dl", "tl", "line", "dialysis", "gauge") {
			return true
		}
	}
	return t.lumens > 0
}

// sideOfAccess is the side of the neck or groin that a sentence names, with its token; ""
// where it names none.
func (g *segment) sideOfAccess() (string, int) {
	for k := range g.toks {
		if w := g.sideAt(k - 1); w != "" && g.is(k, "neck", "groin") && !g.unrealAt(k) {
			return w, k - 1
		}
	}
	return "", -1
}

// exchangeWords tell that one thing came for another; removalWords that the first is
// out, so that a new one after it came in its place.
var (
	exchangeWords = wordSet("exchanged changed swapped upsized downsized replaced switched change changing")
	removalWords  = wordSet("removed out blocked clotted pulled binned")
	newOneWords   = wordSet("it them that out off away and we i put in place placed left a an the new fresh bigger larger smaller wider from second another one ones so for to with by as is are now instead then went goes has have been got size both")
)

// exchangedFor is the size of what a thing was changed for: "the mediastinal drain
// was exchanged for a new fifteen French", "blocked, so I took it out and put in a new
// one, an eighteen", "went in as a twelve".
func (g *segment) exchangedFor(t *thing, limit int) (*amount, int) {
	from := t.to
	for k := t.from - 1; k >= 0 && k > t.from-4; k-- { // "we changed the mediastinal drain to a bigger one"
		if exchangeWords[g.toks[k].text] && g.is(t.to, "to", "for", "with", "by") {
			from = k
		}
	}
	if k := g.wasThenIs(from); k > 0 { // "I changed, was twelve, is now a fifteen"
		if a, ok := g.amountAt(int(g.at[k])); ok && g.attributeFor(t.of, a) != nil {
			return &a, a.to
		}
	}
	for k := from; k < limit && k < t.to+13 && g.toks[k].kind != stop; k++ {
		exchanged := exchangeWords[g.toks[k].text] || g.is(k, "went") && g.is(k+1, "in") && g.is(k+2, "as")
		if !exchanged && !removalWords[g.toks[k].text] || g.maybe(k) || g.is(k-1, "not", "never", "to") {
			continue
		}
		j, fresh := max(k+1, t.to), false
		for ; j < limit && j < k+14 && (newOneWords[g.toks[j].text] || g.is(j, ",", "→", "clot", "w") || exchanged && g.oldSize(j) > j); j++ {
			if end := g.oldSize(j); end > j { // "swapped, twelve out, fifteen in"
				j, fresh = end-1, true
				continue
			}
			fresh = fresh || g.is(j, "new", "fresh", "bigger", "larger", "another") || exchanged && g.is(j, "for", "to", "with", "by", "as", "now")
		}
		if !fresh && g.numberAt(j) && g.is(j+1, "new") { // "changed, two new 12 French"
			if b, ok := g.amountAt(int(g.at[j])); ok && smallCount(b.decimal) > 0 {
				t.count, fresh = smallCount(b.decimal), true
				j += 2
			}
		}
		if g.is(j, "french") { // "changed for a French sixteen"
			j++
		}
		if !fresh || !g.numberAt(j) || g.signs[g.at[j]].used {
			continue
		}
		a, ok := g.amountAt(int(g.at[j]))
		if f := g.attributeFor(t.of, a); !ok || f == nil || f.Name != "size" && f.Name != "gauge" && f.Name != "french" {
			continue
		}
		if n := g.nextSign(a.to); n < len(g.signs) && g.signs[n].from-a.to <= 1 && g.signs[n].content2() && !g.signs[n].has(isHead) && !g.crosses(a.to, g.signs[n].from) {
			continue // "out, and a new twelve right pleural": the size of another
		}
		return &a, a.to
	}
	return nil, 0
}

// oldSize is the token after a size at token j that a thing is said to have had: "from a
// twelve", "twelve out". It is j where none stands there.
func (g *segment) oldSize(j int) int {
	if !g.numberAt(j) {
		return j
	}
	a, ok := g.amountAt(int(g.at[j]))
	from := g.is(j-1, "from") || g.is(j-1, "a", "an", "the") && g.is(j-2, "from")
	if !ok || !from && !g.is(a.to, "out", "off") {
		return j
	}
	return a.to
}

// wasThenIs is the number that a thing is now where it is told from token k to have been
// changed, and what it was: "I changed, was twelve, is now a fifteen". 0 where not.
func (g *segment) wasThenIs(k int) int {
	for g.is(k, "i", "we", ",", "has", "have", "been", "was") {
		k++
	}
	if !exchangeWords[g.wordAt(k)] {
		return 0
	}
	for k++; g.is(k, ",", "it", "from", "that"); k++ {
	}
	if !g.is(k, "was") || !g.numberAt(k+1) && !g.is(k+1, "a", "an") {
		return 0
	}
	for j := k + 2; j < len(g.toks) && j < k+9 && g.toks[j].kind != stop; j++ {
		if g.is(j, "now") || g.is(j, "is") && !g.is(j-1, "that") {
			for j++; g.is(j, "a", "an", "now", "is", "it"); j++ {
			}
			switch {
			case !g.numberAt(j):
				return 0
			case g.signs[g.at[j]].used && g.numberAt(k+1):
				return k + 1 // which holds the later one already
			}
			return j
		}
	}
	return 0
}

// severalLumens is the kind of a thing that is said to have lumens, where its name
// may mean an artery or a vein.
func (g *segment) severalLumens(t *thing) *schema.ItemKind {
	said := t.lumens > 0
	for n := g.nextSign(t.to); n < len(g.signs) && g.signs[n].from-t.to <= 4 && !g.crosses(t.to, g.signs[n].from); n++ {
		said = said || g.lumensAt(n) > 0
		if g.signs[n].content2() {
			break
		}
	}
	if !said {
		return nil
	}
	for _, o := range t.options {
		if o.item.Name == "central-venous-line" {
			return o.item
		}
	}
	return nil
}

// sizesInOrder gives sizes said together to the things listed before them, in their
// order: "mediastinal and right pleural, 15 and 12 French".
func (g *segment) sizesInOrder(ts []thing) {
	for n := 1; n < len(ts); n++ {
		first := n
		for first > 0 && ts[first-1].of == ts[n].of && ts[n].of != nil && !g.nounOnly(&ts[first-1]) && g.joined(ts[first-1].to, ts[first].from) && !g.numberIn(ts[first-1].to, ts[first].from) && len(ts[first].amounts) == 0 && len(ts[first-1].amounts) == 0 {
			first--
		}
		if first == n || n+1 < len(ts) && ts[n+1].of == ts[n].of && g.joined(ts[n].to, ts[n+1].from) {
			continue
		}
		sizes := g.sizesFrom(ts[n].to)
		if len(sizes) == 0 && ts[n].of.Name == "drain" {
			sizes = g.sizesAhead(ts[first].from)
		}
		if len(sizes) != n-first+1 || sizes[len(sizes)-1].units == nil && ts[n].of.Name != "drain" {
			continue
		}
		last := sizes[len(sizes)-1]
		for m := range sizes {
			a := sizes[m]
			if a.units == nil {
				a.units = last.units
			}
			if f := g.attributeFor(ts[first+m].of, a); f == nil || f.Name != "size" {
				return
			}
			ts[first+m].amounts = []amount{a}
		}
	}
}

// sizesFrom are the sizes said one after the other from token k on: "15 and 12 French".
func (g *segment) sizesFrom(k int) (sizes []amount) {
	for {
		j := k
		for g.is(j, ",", "and") || len(sizes) > 0 && g.is(j, "a", "an") {
			j++
		}
		if j-k > 3 || !g.numberAt(j) || len(sizes) > 0 && j == k || g.signs[g.at[j]].used {
			return sizes
		}
		a, ok := g.amountAt(int(g.at[j]))
		if !ok || smallCount(a.decimal) > 0 || a.decimal[0] == '-' {
			return sizes
		}
		sizes = append(sizes, a)
		k = a.to
	}
}

// sizesAhead are the sizes said one after the other before the list that begins at token
// k: "drains: a 12 and a 10, mediastinal and right pleural".
func (g *segment) sizesAhead(k int) []amount {
	if !g.is(k-1, ",", ":") {
		return nil
	}
	for j := k - 2; j >= 0 && (g.is(j, ",", "and", "a", "an") || g.at[j] >= 0 && (g.signs[g.at[j]].num != nil || g.signs[g.at[j]].has(isUnit))); j-- {
		if g.is(j-1, "are", "were", ":", "drain", "of") || j == 0 {
			for g.is(j, "a", "an") {
				j++
			}
			if sizes := g.sizesFrom(j); len(sizes) > 1 && sizes[len(sizes)-1].to == k-1 {
				return sizes
			}
		}
	}
	return nil
}

// listHead tells whether a plural noun heads the list that the nth thing stands in.
func (g *segment) listHead(ts []thing, n int) bool {
	first := n
	for first > 0 && ts[first-1].of == ts[n].of {
		first--
	}
	h := g.prevSign(ts[first].from)
	for h > 0 && g.signs[h].num != nil && g.signs[h].from-g.signs[h-1].to <= 1 {
		h-- // "Drains two: ..."
	}
	return first < n && (h >= 0 && g.signs[h].has(isHead) && g.pluralAt(g.signs[h].to-1) || g.nounOnly(&ts[first]))
}

// sharedFrom is the token from which what follows the last of a list is said of all
// of it: "right 20, left 20, all on suction", "a right and a left pleural, twenty
// French each, on ten". It is -1 where nothing is.
func (g *segment) sharedFrom(ts []thing, n int, attrs []claim) int {
	t := &ts[n]
	if n > 0 && t.plural && (t.head >= 0 || t.full) && t.of.Name == "drain" && ts[n-1].of == t.of && ts[n-1].head < 0 && !ts[n-1].full && len(ts[n-1].amounts) == 0 && g.joined(ts[n-1].to, t.from) {
		return t.to // "right pleural and mediastinal drains, sixteen French, on ten of suction"
	}
	if n == 0 || ts[n-1].of != t.of || n+1 < len(ts) && ts[n+1].of == t.of {
		return -1
	}
	end := t.to
	for _, c := range attrs {
		end = max(end, c.to, c.whyTo)
	}
	for k := t.to; k < min(end+3, len(g.toks)); k++ {
		if g.toks[k].kind == stop && k >= end {
			break
		}
		if !g.is(k, "all", "each", "both", "apiece", "every", "everyone") || g.is(k, "both") && g.sidedPair(ts, n) {
			continue
		}
		from := k
		for _, c := range attrs { // "twenty French each"
			if c.from >= t.to && c.from < k && k-max(c.to, c.whyTo) <= 1 && !g.crosses(max(c.to, c.whyTo), k) {
				from = min(from, c.from)
			}
		}
		for from > t.to && g.is(from-1, "to", "on", "at", "in") {
			from--
		}
		return from
	}
	return -1
}

// sidedPair tells whether "both" after the last of a list may mean two of the list
// alone: the list has more than two.
func (g *segment) sidedPair(ts []thing, n int) bool {
	first := n
	for first > 0 && ts[first-1].of == ts[n].of && !g.nounOnly(&ts[first-1]) {
		first--
	}
	return n-first > 1
}

// sizeBeforeNoun gives a thing the sizes, or the count, that stand before the noun at sign h
// which its place follows: "a 3.5 ETT oral", "one fifteen Blake in the mediastinum", "two
// wires on the atrium".
func (g *segment) sizeBeforeNoun(ts []thing, n int, kind *schema.ItemKind, h int) {
	t := &ts[n]
	if !g.placeWords(g.signs[h].to, t.from) || len(t.amounts) > 0 || g.crosses(g.signs[h].to, t.from) {
		return
	}
	b := thing{sign: h, options: ofKind(t.options, kind), head: -1, from: g.signs[h].from, to: g.signs[h].to}
	prev := 0
	if n > 0 {
		prev = ts[n-1].to
	}
	g.lookBefore(&b, prev, g.sizedByNext(ts, n))
	drain := kind.Name == "drain"
	fit := len(b.amounts) > 0
	for _, a := range b.amounts {
		fit = fit && g.attributeFor(kind, a) != nil && !(a.units == nil && (g.pluralAt(g.signs[h].to-1) && !(drain && b.count > 1) || drain && g.numberAt(t.to)))
	}
	if fit {
		t.amounts, t.from, t.nounSized = b.amounts, b.from, true
		if drain && t.count == 0 {
			t.count = b.count
		}
	} else if len(b.amounts) == 0 && t.count == 0 && b.count > 0 && kind.Field("count") != nil {
		t.count, t.from = b.count, b.from
	}
}

// sizeOfAnother gives a drain the size of the one before it, where it is counted as another
// of the same: "one fifteen Blake in the mediastinum and one in the right chest".
func (g *segment) sizeOfAnother(ts []thing, n int) {
	if n == 0 || len(ts[n].amounts) > 0 || ts[n].head >= 0 || ts[n].of.Name != "drain" {
		return
	}
	t, p := &ts[n], &ts[n-1]
	if !p.nounSized && !g.is(g.signs[p.sign].from, "drain", "blake") || len(p.amounts) == 0 || p.of != t.of || !(t.again || t.count == 1 && g.is(t.from, "one")) || !g.joined(p.to, t.from) || g.numberIn(t.to, min(t.to+4, len(g.toks))) {
		return
	}
	t.amounts, t.nounSized = p.amounts, true
}

// nounOver is the sign of the noun that a thing's size and place follow, or -1.
func (g *segment) nounOver(t *thing) int {
	for i := t.sign - 1; i >= 0 && !g.crossesStop(g.signs[i].to, t.from); i-- {
		s := &g.signs[i]
		if s.has(isHead) && !s.has(isItem) {
			if slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isHead && x.item == t.of }) {
				return i
			}
			return -1
		}
		if s.num == nil && !s.has(isUnit) && g.lumensAt(i) == 0 && !s.is(through) && g.sideOf(s) == "" {
			return -1
		}
	}
	return -1
}

// amountsBetween gives a thing what stands between its noun and its place: "a chest
// tube, twelve French, in the right chest".
func (g *segment) amountsBetween(ts []thing, n int) {
	t := &ts[n]
	if len(t.amounts) > 0 || t.head >= 0 {
		return
	}
	from := 0
	if n > 0 && ts[n-1].of == t.of && g.nounOnly(&ts[n-1]) {
		from = ts[n-1].to
	} else if h := g.nounOver(t); h >= 0 && (n == 0 || ts[n-1].sign < h) {
		from = g.signs[h].to
	}
	if from == 0 || g.pluralAt(from-1) && !(g.is(from, "one", "1") || g.is(from, ":", ",") && g.is(from+1, "one", "1")) {
		return
	}
	for i := g.nextSign(from); i < t.sign; i++ {
		if l := g.lumensAt(i); l > 0 && t.lumens == 0 {
			t.lumens = l
		}
		if a, ok := g.amountAt(i); ok && a.units != nil && g.plainTalk(i) && g.attributeFor(t.of, a) != nil {
			t.amounts = append(t.amounts, a)
		}
	}
}

// unitBetween tells whether a unit stands in tokens a..b: there the thing before has
// been told of, and what follows is another's.
func (g *segment) unitBetween(a, b int) bool {
	for k := a; k < b; k++ {
		if n := g.at[k]; n >= 0 && g.signs[n].has(isUnit) {
			return true
		}
	}
	return false
}

// placeWords tells whether tokens a..b, between a noun and where it lies, are few or
// only lead there: "a cannula in the back of the left hand".
func (g *segment) placeWords(a, b int) bool {
	if b-a <= 2 {
		return true
	}
	for k := a; k < b; k++ {
		if !g.is(k, "in", "at", "on", "the", "back", "of", "dorsum", "his", "her") {
			return false
		}
	}
	return true
}

// oneLine makes one line of two words for it: what it is, and the vein it lies in.
func (g *segment) oneLine(ts []thing) {
	for n := 0; n+1 < len(ts); n++ { // "Broviac in the right subclavian": where it goes in
		t, p := &ts[n], &ts[n+1]
		if t.of == nil || t.of.Name != "central-venous-line" || !p.offers(t.of) || len(t.options) == 0 || !slices.Contains([]string{"picc", "tunnelled", "port"}, t.options[0].value) || g.signs[p.sign].from-t.to > 3 || g.crosses(t.to, g.signs[p.sign].from) || !(g.is(t.to, "in", "into", "via", "through") || p.through) {
			continue
		}
		if len(t.sides) == 0 {
			t.sides = p.sides
		}
		t.to, p.of, p.options = g.signs[p.sign].to, nil, nil
		g.signs[p.sign].used = true
	}
	for n := 0; n+1 < len(ts); n++ { // "right femoral PICC", "a tunnelled Broviac": one line, not two
		t, p := &ts[n], &ts[n+1]
		near := g.signs[p.sign].from == g.signs[t.sign].to || g.is(g.signs[t.sign].to, "venous") && g.signs[p.sign].from == g.signs[t.sign].to+1
		if t.of != nil && t.of.Name == "central-venous-line" && p.of == t.of && p.sign == t.sign+1 && near && len(p.options) > 0 && (p.options[0].value == "picc" || p.options[0].value == "sheath" || p.options[0].value == t.options[0].value) {
			if len(p.sides) == 0 {
				p.sides = t.sides
			}
			p.from, t.of = t.from, nil
			g.signs[t.sign].used = true
		}
	}
}
