package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// runOn is how many words without a mark between them make speech run on.
const runOn = 22

// statementsOf cuts speech that runs on without marks where a new statement plainly
// begins: before the name of a measure that is followed by its number, before a
// denial of something else, before "we" and "there is". What has marks stays whole:
// it gives where the statements after the first begin.
func statementsOf(lex *lexicon, text string) []int {
	g := runningOn(lex, text)
	if g == nil {
		return nil
	}
	g.findSigns()
	var out []int
	last := 0
	for t := 1; t < len(g.toks); t++ {
		i := int(g.at[t])
		after := i >= 1 && g.signs[i].from == t && t-last > 1 && g.afterChest(i)
		if !after && (t-last < 4 || !(i >= 1 && g.signs[i].from == t && g.beginsStatement(i) || i < 0 && g.beginsTelling(t))) {
			continue
		}
		k := t
		for k > last+1 && g.is(k-1, "the", "a", "his", "her", "and", "so", "um", "uh", "er", "then", "total", "our", "okay", "now") && !g.numberAt(k-1) {
			k--
		}
		if i >= 0 {
			if b := g.thingStart(i); b < k && b > last {
				k = b
			} else if b := g.countBefore(i); b < k && b > last {
				k = b
			}
		}
		if k-last < 4 && !(after && k-last > 1) || g.toks[k].span.Start <= g.toks[k-1].span.Start {
			continue
		}
		out = append(out, g.toks[k].span.Start)
		last = k
	}
	return out
}

// marked tells whether a text has marks between its words; those inside a number,
// as in 22:40, do not count.
func marked(s string) bool {
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case ',', ';', ':', '(', ')':
			if i == 0 || i+1 == len(s) || !isDigit(s[i-1]) || !isDigit(s[i+1]) {
				if s[i] == ',' && i > 0 && i+1 < len(s) && s[i+1] != ' ' && strings.Contains(s[max(0, i-60):min(len(s), i+4)], ",no,") {
					continue // see withStops
				}
				return true
			}
		}
	}
	return false
}

// named are the words of the trade that are written large wherever they stand.
var named = wordSet("french precedex nakata mcgoon guedel ross konno ebstein eisenmenger down turner digeorge noonan kabuki charge english gauge glenn fontan norwood sano gore tex goretex blalock taussig thomas kawashima damus kaye stansel silastic dacron hegar foley cormack lehane esmarch contegra melody potts waterston hickman broviac blake monday tuesday wednesday thursday friday saturday sunday january february march april may june july august september october november december nido del custodiol bretschneider doppler seldinger prostin teflon")

// unwritten is a mark that was not written: by which character, in the place of which space.
type unwritten struct {
	at int
	by byte
}

// unwrittenIn are the stops that the capitals of a sentence tell of where its own are
// gone, and the commas that set off a "no" that breaks off: what begins a sentence is then
// read as one, and a correction is one of the sentence before.
func unwrittenIn(lex *lexicon, text string) []unwritten {
	g := runningOn(lex, text)
	if g == nil {
		return nil
	}
	var out []unwritten
	put := func(k int, by byte) { // a mark before token k
		if at := g.toks[k].span.Start - 1; text[at] == ' ' {
			out = append(out, unwritten{at, by})
		}
	}
	for _, k := range g.capitals() {
		put(k, '\n')
	}
	g.findSigns()
	for k := 1; k+1 < len(g.toks); k++ {
		if g.breaksOff(k) {
			put(k, ',')
			put(k+1, ',')
			n := g.nextSign(k + 2)
			for n < len(g.signs) && g.signs[n].num == nil {
				n++
			}
			if n < len(g.signs) && g.signs[n].num != nil && g.signs[n].from-k > 4 && g.signs[n].from-k <= 9 {
				put(g.signs[n].from, ',')
			}
		}
	}
	return out
}

// afterBreak follow on a "no" that takes back what was said.
var afterBreak = wordSet("we i i'm it it's he she that that's what not never")

// breaksOff tells whether the "no" at token k, in speech without marks, takes back the value
// before it and denies nothing: "bypass two hundred and ten no I'm reading the wrong line".
func (g *segment) breaksOff(k int) bool {
	n := g.at[k]
	if g.toks[k].text != "no" || !afterBreak[g.toks[k+1].text] || g.at[k-1] < 0 || n < 0 || g.signs[n].to > k+1 {
		return false // or a correction in itself: "no sorry"
	}
	p := &g.signs[g.at[k-1]]
	return p.to == k && (p.num != nil || p.has(isUnit) || p.has(isValue))
}

// runningOn is a sentence as far as its signs, where it runs on without marks;
// nil where it does not.
func runningOn(lex *lexicon, text string) *segment {
	if len(text) < 5*runOn || marked(strings.TrimRight(text, ".;\n ")) {
		return nil
	}
	g := &segment{lex: lex, text: text, toks: tokenize(text, 0)}
	if len(g.toks) < runOn {
		return nil
	}
	for i := range g.toks {
		g.toks[i].id = lex.idOf(&g.toks[i])
	}
	g.hear()
	g.hearDrainPlaces()
	return g
}

// capitals are the tokens that begin a sentence by their capital alone, where the
// stops are gone but the capitals have stayed: "... gradient eight Sats 82".
func (g *segment) capitals() []int {
	var out []int
	for k := 1; k < len(g.toks); k++ {
		t := &g.toks[k]
		if t.kind != word || t.glued || t.span.End-t.span.Start < 3 && !g.is(k, "on", "no", "we", "he", "it", "at", "in", "to") || t.span.Start <= g.toks[k-1].span.Start || t.span.Start == g.toks[0].span.Start || named[t.text] {
			continue
		}
		w := g.text[t.span.Start:t.span.End]
		if w[0] < 'A' || w[0] > 'Z' || strings.ToLower(w[1:]) != w[1:] || strings.HasPrefix(w, "I'") {
			continue
		}
		out = append(out, k)
	}
	if len(out) > len(g.toks)/2 {
		return nil // a title, or all written so
	}
	return out
}

// beginsTelling tells whether token k begins to tell what somebody did: "we fixed".
func (g *segment) beginsTelling(k int) bool {
	if !g.is(k, "we", "she", "he", "they") || g.toks[k].kind != word || subordinates(g, k) || g.is(k-1, "which", "than", "like", "and", "or", "but", "what", "said", "hope", "think", "where", "the", "because", "since", "for", "to", "by", "how", "whatever") {
		return false
	}
	if g.is(k, "they") && g.is(k+1, "are", "were") {
		return false // of the things just named
	}
	n := g.prevSign(k)
	for j := n; j >= 0 && k-g.signs[j].to <= 7; j-- {
		if q := &g.signs[j]; q.is(corrects) || q.is(scratches) || q.is(depends) || q.is(calls) || q.is(targets) {
			return false
		}
	}
	for j := g.nextSign(k); j < len(g.signs) && g.signs[j].from-k <= 5; j++ {
		if g.signs[j].is(corrects) || g.signs[j].is(scratches) || g.signs[j].is(chooses) {
			return false // "we used the four" chooses between what went before
		}
	}
	return n >= 0 && (g.signs[n].num != nil || g.signs[n].content() || g.signs[n].has(isUnit) || k-g.signs[n].to > 1)
}

// countBefore is the token of the number that stands right before the name at sign
// i and cannot belong to what went before: "needed two shocks".
func (g *segment) countBefore(i int) int {
	s := &g.signs[i]
	if i == 0 || g.signs[i-1].num == nil || g.signs[i-1].to != s.from || smallCount(g.signs[i-1].num.decimal) == 0 {
		return s.from
	}
	p := &g.signs[i-1]
	if i == 1 || p.from-g.signs[i-2].to > 1 && !g.is(p.from-1, "of", "is", "was", "at") || p.from == g.signs[i-2].to && (g.signs[i-2].num != nil || g.signs[i-2].has(isUnit)) {
		return p.from
	}
	return s.from
}

// beginsStatement tells whether sign i begins a statement of its own.
func (g *segment) beginsStatement(i int) bool {
	s, p := &g.signs[i], &g.signs[i-1]
	for j := max(0, i-3); j <= i; j++ { // a correction belongs to what it corrects
		q := &g.signs[j]
		if (q.is(corrects) || q.is(scratches)) && s.from-q.to <= 6 {
			return false
		}
	}
	for j := i; j < len(g.signs) && g.signs[j].from-s.to <= 5; j++ {
		if g.signs[j].is(corrects) || g.signs[j].is(scratches) {
			return false
		}
	}
	if p.num != nil && p.to == s.from && g.is(s.from, "millimeter", "mm", "mill", "mil", "cm", "centimeter", "minute", "min", "hour", "percent", "per") {
		return false // "nineteen millimetres round"
	}
	if g.is(s.from, "loss", "output") && g.is(s.from-1, "drain", "drainage", "chest", "tube") {
		return false
	}
	if g.is(s.to, "to", "from") && g.is(s.from-1, "and", "the") {
		return false // "the mean fell to thirty three and the saturation to fifty eight"
	}
	if g.within(s, "gradient") {
		for k := max(0, s.from-16); k < s.from; k++ {
			if g.is(k, "band", "banded", "ring") {
				return false // it is the band's: "RPA band 3.5 gradient 38"
			}
		}
	}
	k := s.from - 1
	for k > 0 && g.is(k, "the", "a", "his", "her", "total") {
		k--
	}
	if g.is(k, "of", "with", "for", "on", "at", "from", "before", "after", "no", "to", "in", "by", "because", "when", "if", "until", "while", "call", "me", "keep", "aim", "target", "above", "below", "over", "under", "or", "that", "through", "via", "mean", "was", "is", "were") {
		return false
	}
	for j := i - 1; j >= 0 && j >= i-6; j-- {
		if q := &g.signs[j]; (q.is(calls) || q.is(targets) || q.is(depends)) && s.from-q.to < 12 {
			return false
		}
	}
	if g.tellsChest(s) {
		return true
	}
	whole := p.num != nil || p.has(isUnit) || p.content() || p.is(arrives) || p.is(deniesBefore)
	if !whole && s.from-p.to <= 2 {
		return false
	}
	next := func(n int) bool { // a number follows
		for ; n < len(g.signs) && n <= i+2; n++ {
			q := &g.signs[n]
			if q.from-g.signs[n-1].to > 3 {
				return false
			}
			if q.num != nil {
				return true
			}
			if q.content() && !q.has(isUnit) {
				return false
			}
		}
		return false
	}
	if g.bloodProduct(i) && (i > 1 && g.bloodProduct(i-2) || i > 2 && g.bloodProduct(i-3)) {
		return false // one list of what was given
	}
	if g.beginsDrugs(i) || g.beginsThings(i) || s.is(calls) && p.num == nil == p.has(isUnit) {
		return true
	}
	if n := i + 1; !s.content2() && s.num == nil && n < len(g.signs) && g.signs[n].from-s.to <= 1 && !(s.to-s.from == 1 && weakNames[g.toks[s.from].text]) {
		for _, x := range s.senses { // "rhythm junctional", "azygos ligated"
			if x.kind == namesField && !x.inner && x.field.Section == "counts" {
				break // "swab, needle and instrument counts correct"
			}
			if x.kind == namesField && !x.inner && x.field.Path.List() == "" && len(x.field.Enum) > 0 && x.field.Path.Section() != "items" && g.valueOf(&g.signs[n], x.field) != "" {
				return true
			}
		}
	}
	for _, x := range s.senses {
		switch {
		case x.inner:
		case x.kind == namesField && (x.field.Numeric() || totalOf[x.field.Path] != "" || len(x.field.Enum) > 0 && x.field.Path.Section() != "items" && g.sizeOf(x) != nil) && x.field.Path.List() == "" && x.field.Path.Section() != "items" && !s.content2() && s.num == nil && next(i+1) && !(s.to-s.from == 1 && weakNames[g.toks[s.from].text]):
			return true
		case x.kind == isValue && repairSections[x.field.Section] && x.field.Path.List() == "" && x.field.Type == "string" && s.to-s.from > 1 && g.lex.alone[s.node] && deedEnds[g.toks[s.to-1].text] && g.otherField(p, x.field):
			return true
		}
	}
	if s.is(denies) && g.is(s.from, "no") && s.to-s.from == 1 && i+1 < len(g.signs) && g.signs[i+1].from-s.to <= 1 && g.signs[i+1].content() && (p.num != nil || p.has(isUnit) || p.content()) {
		return true
	}
	return false
}

// tellsChest tells whether a sign is all of a statement of the chest: "chest is closed".
func (g *segment) tellsChest(s *sign) bool {
	means := slices.ContainsFunc(s.senses, func(x sense) bool {
		return x.kind == isValue && !x.inner && x.field.Path == schema.ClosingSternum
	})
	return means && (g.lex.long[s.node] && g.lex.alone[s.node] || g.within(s, "chest", "sternum", "breastbone"))
}

// afterChest tells whether sign i begins something else after a statement of the chest:
// "chest closed target sats seventy five", "chest is closed if the Glenn goes over twenty".
func (g *segment) afterChest(i int) bool {
	s, p := &g.signs[i], &g.signs[i-1]
	return p.to == s.from && g.within(p, "chest", "sternum", "breastbone") && g.tellsChest(p) && (s.is(targets) || s.is(calls) || s.is(depends) || s.is(denies) || s.is(intends) || g.is(s.from, "she", "he"))
}

// repairSections hold what was done to the heart: a phrase that names a thing and
// what became of it is a statement of its own.
var repairSections = map[string]bool{"stage1": true, "stage2": true, "stage3": true, "hybrid": true, "between": true}

// deedEnds are the words that end such a phrase.
var deedEnds = wordSet("excized resected ligated divided clipped oversewn tied removed patched repaired ballooned plicated closed")

// otherField tells whether a sign ends a statement on something else than field f.
func (g *segment) otherField(p *sign, f *schema.Field) bool {
	return (p.content() || p.has(isUnit) || p.num != nil) && !slices.ContainsFunc(p.senses, func(x sense) bool { return x.field == f })
}

// beginsDrugs tells whether sign i is the first of a list of drugs with their doses.
func (g *segment) beginsDrugs(i int) bool {
	if g.drugAt(i) == "" || g.drugAt(i) == "other" || i+1 >= len(g.signs) || g.signs[i+1].num == nil || g.signs[i+1].from-g.signs[i].to > 2 {
		return false
	}
	for j := i - 1; j >= 0 && j >= i-5; j-- {
		if q := &g.signs[j]; g.drugAt(j) != "" || q.is(through) && g.signs[i].from-q.to <= 2 && q.to-q.from > 1 || q.is(denies) {
			return false
		}
	}
	return true
}

// thingStart is the token where what is said of the thing at sign i begins: its
// sides, its size and how many there are.
func (g *segment) thingStart(i int) int {
	if !g.signs[i].content2() {
		return g.signs[i].from
	}
	j, number := i, false
	for j > 0 && g.signs[j-1].to == g.signs[j].from {
		p := &g.signs[j-1]
		switch {
		case p.num != nil && (!number || smallCount(p.num.decimal) > 0 && g.signs[j].has(isUnit)):
			number = true
		case g.sideOf(p) != "" && !p.content2(), p.has(isUnit) && !p.content() && !number && j > 1 && g.signs[j-2].num != nil:
		default:
			return g.signs[j].from
		}
		j--
	}
	return g.signs[j].from
}

// beginsThings tells whether sign i is the first of a list of things left in the
// child, after something else.
func (g *segment) beginsThings(i int) bool {
	s := &g.signs[i]
	if !s.content2() || s.num != nil {
		return false
	}
	listed := false
	for _, x := range s.senses {
		listed = listed || x.item != nil && (x.kind == isItem || x.kind == isVariety && x.value != "atrial" && x.value != "ventricular") && (x.item.Name == "drain" || x.item.Name == "pacing-wires")
	}
	if !listed {
		return false
	}
	if k := g.thingStart(i); k > 0 && g.is(k-1, "with", "of", "by", "for", "in", "from", "no", "not", "the", "a", "on", "to", "old") {
		return false
	}
	for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 9; j-- {
		q := &g.signs[j]
		if q.content2() || q.is(removed) || q.is(denies) || q.is(through) && q.to-q.from > 1 {
			return false
		}
		if q.content() && q.num == nil && !q.has(isUnit) {
			return true
		}
	}
	return false
}

// lastsMinutes tells whether a number of minutes follows sign i.
func (g *segment) lastsMinutes(i int) bool {
	s := &g.signs[i]
	for n := i + 1; n+1 < len(g.signs) && g.signs[n].from-s.to <= 2; n++ {
		if g.signs[n].num == nil {
			continue
		}
		for _, x := range g.signs[n+1].senses {
			if x.kind == isUnit && x.unit == "min" && g.signs[n+1].from == g.signs[n].to {
				return true
			}
		}
		return false
	}
	return false
}

// bloodProduct tells whether sign i names a product that may have been given.
func (g *segment) bloodProduct(i int) bool {
	for _, x := range g.signs[i].senses {
		if x.kind == isValue && !x.inner && x.field.Path.List() == schema.BloodProducts && x.field.Name == "product" {
			return true
		}
	}
	return false
}
