package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// scope says how the words at one place are meant.
type scope uint16

const (
	denied   scope = 1 << iota // said not to be
	past                       // of an earlier stage, or of a state that has passed
	intended                   // planned, hoped, conditional
	calling                    // a limit to call for
	aiming                     // a target
	weighed                    // considered, not done
	hearsay                    // someone else's report
	vague                      // about, I think
	formerly                   // the old shunt
	coming                     // of the child before this operation, with past
)

// unreal is what keeps a statement from being a fact of this operation.
const unreal = past | formerly | intended | calling | aiming | weighed | hearsay

// sign is a phrase of the lexicon, or a number, met in the text.
type sign struct {
	from, to int // tokens
	node     int32
	senses   []sense
	num      *number
	scope    scope
	used     bool    // taken by a claim
	item     bool    // it names a listed thing
	was      []sense // what it meant before a correction
	wasNode  int32
	swap     [2]int // the tokens of the correction it now speaks for
}

func (s *sign) is(c cue) bool {
	for i := range s.senses {
		if s.senses[i].kind == isCue && s.senses[i].cue == c {
			return true
		}
	}
	return false
}

func (s *sign) has(k senseKind) bool {
	for i := range s.senses {
		if s.senses[i].kind == k {
			return true
		}
	}
	return false
}

// content tells whether the sign speaks of something in a note.
func (s *sign) content() bool {
	for i := range s.senses {
		switch s.senses[i].kind {
		case namesField, isValue, isItem, isVariety, isHead:
			return true
		}
	}
	return false
}

// context is what earlier segments said that later ones lean on: what the lung
// supply is, which connection was made.
type context struct {
	attempts                 int // attempts to come off bypass that were told to have failed
	supply, form, connection string
	runsOn                   bool          // nothing but a cut of ours parts it from the one before
	before                   bool          // the sentence before told of an earlier time
	coming                   bool          // it told of the child right before this operation
	catheter                 bool          // the sentence before told what the catheter measured
	line                     string        // the line named last: "central-venous-line/femoral/left"
	lumen                    string        // the lumen named last
	out                      bool          // a list of what came out goes on after a semicolon
	limits                   scope         // a list of targets or limits goes on after a semicolon
	limitsToo                scope         // the same after a full stop, where no more than a limit is said
	sized                    bool          // the conduit's size was said
	shunt                    bool          // a shunt was spoken of, whatever its kind
	topic                    string        // the section that a sentence before spoke of
	age                      int8          // how many sentences before
	last                     string        // the kind of the thing listed last, in the sentence before
	head                     int32         // the noun that heads a list still going on: "Wires: ..."
	what                     string        // what the sentence before set a limit to, or measured
	number                   *schema.Field // the number that the sentence before named last
	opens                    bool          // the sentence before spoke of something else than the chest that may be open
	opening                  int8          // how many sentences came before, up to openingOf
	packs                    packTalk      // what was said of packs in the sentence before
	fate                     string        // what became of the vessel told of last
	bands                    int8          // for how many more sentences a bare side is of the branch bands
}

// openingOf is how many sentences open a note: they say why it was done.
const openingOf = 5

// value is the value of a field in the context.
func (c context) value(p schema.Path) string {
	switch p {
	case schema.SupplyKind:
		if c.supply == "" && c.shunt {
			return "modified-blalock-taussig-thomas" // only for the size it calls for
		}
		return c.supply
	case schema.Stage1Form:
		return c.form
	case schema.Stage3Connection:
		return c.connection
	}
	return ""
}

// within adds to the context what the segment itself plainly says.
func (c context) within(g *segment) context {
	for i := range g.signs {
		s := &g.signs[i]
		if s.scope&(unreal|denied) != 0 || s.num != nil {
			continue
		}
		for _, x := range s.senses {
			if x.kind != isValue || x.inner || !g.lex.alone[s.node] && !g.lex.long[s.node] {
				continue
			}
			switch {
			case x.field.Path == schema.SupplyKind && c.supply == "":
				c.supply = x.value
			case x.field.Path == schema.Stage1Form && c.form == "":
				c.form = x.value
			case x.field.Path == schema.Stage3Connection && c.connection == "":
				c.connection = x.value
			}
		}
		if g.within(s, "shunt") && (g.lex.kind == schema.Stage1 || g.lex.kind == schema.ShuntRevision || g.lex.kind == schema.Takedown) {
			c.shunt = true
		}
		for _, x := range s.senses {
			if x.kind == namesField && (x.field.Path == schema.HybridBands || x.field.Path == schema.HybridStents) && c.form == "" {
				c.form = "hybrid"
			}
		}
	}
	return c
}

// goesOn tells whether a sentence goes on telling of the time the one before told
// of: "In the referring hospital ... He was given adrenaline."
func (g *segment) goesOn() bool {
	if g.ctx.runsOn && !g.mentions("we", "i", "today", "now", "is", "are") {
		return true
	}
	if g.ctx.coming && g.tellsState() {
		return true
	}
	return len(g.toks) > 0 && g.is(0, "and", "he", "she", "it", "they", "then", "his", "her", "since", "after", "there") && !g.mentions("we", "i", "today", "now")
}

// stateSubjects are what the state of a child before an operation is told of.
var stateSubjects = wordSet("septum valve function duct ventricle kidney saturation sat leak regurgitation prostaglandin prostin arch lactate")

// tellsState tells whether a sentence goes on with how the child was: "The septum was
// restrictive, the valve leaked mildly".
func (g *segment) tellsState() bool {
	if g.mentions("we", "i", "today", "now", "is", "are", "leaving", "after", "patched", "divided") {
		return false
	}
	for k := 0; k < min(4, len(g.toks)); k++ {
		if stateSubjects[g.toks[k].text] {
			return g.is(k+1, "was", "were", "leaked", "ran", "had") || g.is(k+2, "was", "were", "leaked")
		}
	}
	return false
}

// after is the context after a segment's claims.
func (c context) after(g *segment) context {
	told := c.before && g.goesOn()
	for i := range g.signs {
		if s := &g.signs[i]; s.is(history) && s.from <= 1 {
			told = true
		} else if s.is(arrives) && !s.is(passing) {
			told = false
		}
	}
	c.before = told
	c.catheter = slices.ContainsFunc(g.claims, func(x claim) bool { return x.field.Section == "catheter" && !x.gone })
	c.coming = told && (g.ctx.coming && g.goesOn() || slices.ContainsFunc(g.signs, func(s sign) bool { return s.is(comes) && s.from <= 1 }))
	c.opening = min(g.ctx.opening+1, openingOf)
	c.opens = g.mentions(mayBeOpen...)
	c.attempts = g.ctx.attempts
	c.head = g.headAfter()
	c.number = g.numberNamed()
	c.packs = g.packs
	c.fate = g.fate
	if c.bands = max(0, g.ctx.bands-1); g.speaksOfBands() {
		c.bands = bandsReach
	}
	c.what = g.limited()
	c.last = ""
	for i := range g.groups {
		if x := &g.groups[i]; x.item != nil {
			c.last = x.item.Name
		}
	}
	for i := range g.groups {
		x := &g.groups[i]
		if x.item == nil || x.item.Group != "lines" || x.denied || x.gone || ignored[x.item.Name] {
			continue
		}
		c.line = x.item.Name + "/" + x.variety
		for k := range g.claims {
			if y := &g.claims[k]; y.group == i && y.field.Name == "side" {
				c.line += "/" + y.value
			}
		}
	}
	for i := range g.claims {
		if y := &g.claims[i]; y.field.Path == schema.InfusionsRunningLumen && !y.gone {
			c.lumen = y.value
		}
	}
	c.out = strings.HasSuffix(g.text, ";") && g.listsWhatIsOut()
	c.limits = 0
	if strings.HasSuffix(g.text, ";") {
		c.limits = g.ctx.limits
		for i := range g.signs {
			if s := &g.signs[i]; s.from > 1 {
				break
			} else if s.is(targets) {
				c.limits = aiming
			} else if s.is(calls) {
				c.limits = calling
			}
		}
	}
	c.limitsToo = g.limitsBegun()
	c.shunt = c.shunt || g.ctx.shunt
	if c.age++; c.age > 3 {
		c.topic, c.age = "", 0
	}
	for i := range g.claims {
		switch x := &g.claims[i]; x.field.Section {
		case "supply", "stage3":
			c.topic, c.age = x.field.Section, 0
		}
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.scope&(unreal|denied) != 0 {
			continue
		}
		for _, x := range s.senses {
			if x.kind == isValue && !x.inner && (x.field.Path == schema.SupplyKind || x.field.Path == schema.Stage3Connection) || g.within(s, "shunt") && x.field != nil && x.field.Section == "supply" {
				c.topic, c.age = x.field.Section, 0
			}
		}
	}
	for i := range g.groups {
		if x := &g.groups[i]; x.list == schema.HybridBands && !x.denied && !x.gone && c.form == "" {
			c.form = "hybrid"
		}
	}
	for i := range g.claims {
		switch x := &g.claims[i]; x.field.Path {
		case schema.SupplyKind:
			c.supply = x.value
		case schema.Stage1Form:
			c.form = x.value
		case schema.Stage3Connection:
			c.connection = x.value
		case schema.Stage3ConduitDiameter:
			c.sized = true
		}
	}
	return c
}

// headAfter is the noun that heads a list which the next segment goes on with:
// "Wires: atrial two; ventricular two."
func (g *segment) headAfter() int32 {
	if len(g.toks) == 0 {
		return 0
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.from > 2 || i > 1 {
			break
		}
		if s.has(isHead) && !s.has(isItem) && s.scope&(unreal|denied) == 0 && (s.to >= len(g.toks) || g.toks[s.to].kind == stop || g.is(s.to, ":")) {
			return s.node
		}
	}
	if g.ctx.head == 0 {
		return 0
	}
	for i := range g.groups {
		if x := &g.groups[i]; x.item != nil {
			for _, h := range g.lex.senses[g.ctx.head] {
				if h.kind == isHead && h.item == x.item {
					return g.ctx.head
				}
			}
		}
	}
	return 0
}

// withdrawn is what a sentence takes back of those before it, of one side or any.
type withdrawn struct {
	sense
	side string
}

// segment is one sentence, or what stands between two stops.
type segment struct {
	struck   []struckDrain // drains that the words take off the list
	lex      *lexicon
	ctx      context
	text     string // the text of the segment
	toks     []token
	signs    []sign
	at       []int32   // by token: the sign that covers it, or -1
	wordBits [4]uint64 // by wordBit: which words may be there, see mentions
	clause   []int16   // by token
	claims   []claim
	groups   []group
	links    []link
	old      []string       // numbers said to be of a time before
	amends   []amend        // numbers of before, put right
	paired   map[int]amount // by sign: the number said of it "respectively"
	taken    []withdrawn    // what is taken back of what was said before
	fate     string         // what became of the vessel told of last
	graft    bool           // the arterial inflow is through a graft
	ofAll    []saidOfAll    // what is said of several drains together
	turned   bool           // tokens stand in another order than in the text
	packs    packTalk       // what the segment says of packs
}

// span is the stretch of text that tokens from..to cover.
func (g *segment) span(from, to int) Span {
	sp := Span{g.toks[from].span.Start, g.toks[to-1].span.End}
	if g.turned {
		for i := from; i < to; i++ {
			sp = Span{min(sp.Start, g.toks[i].span.Start), max(sp.End, g.toks[i].span.End)}
		}
	}
	return sp
}

func (g *segment) words(from, to int) string {
	s := g.span(from, to)
	return g.text[s.Start:s.End]
}

// is tells whether token k is word w.
func (g *segment) is(k int, w ...string) bool {
	return k >= 0 && k < len(g.toks) && slices.Contains(w, g.toks[k].text)
}

// newSegment finds the signs of a segment and how each is meant.
func newSegment(lex *lexicon, text string, ctx context) *segment {
	g := &segment{lex: lex, text: text, toks: tokenize(text, 0), ctx: ctx}
	for i := range g.toks {
		g.toks[i].id = lex.idOf(&g.toks[i])
	}
	g.hear()
	g.hearDeeds()
	g.hearDrainPlaces()
	g.hearEllipses()
	g.dropThinking()
	g.dropAmounts()
	g.turnValuesFirst()
	for i := range g.toks {
		b := wordBit(g.toks[i].text)
		g.wordBits[b>>6] |= 1 << (b & 63)
	}
	g.findSigns()
	g.joinDurations()
	g.findClauses()
	g.findScopes()
	if ctx.before && g.goesOn() {
		for i := range g.signs {
			if g.signs[i].is(arrives) && !g.signs[i].is(passing) {
				break
			}
			g.signs[i].scope |= past
			if ctx.coming {
				g.signs[i].scope |= coming
			}
		}
	}
	goesOn := ctx.limits
	if goesOn == 0 && ctx.limitsToo != 0 && g.onlyLimits(ctx.limitsToo) {
		goesOn = ctx.limitsToo
	}
	for i := range g.signs {
		if g.signs[i].is(calls) || g.signs[i].is(targets) || g.signs[i].is(arrives) {
			break
		}
		if g.signs[i].scope |= goesOn; goesOn != 0 && ctx.limits == 0 {
			g.signs[i].scope &^= past // "from forty to fifty five"
		}
	}
	g.askedLimits()
	g.ctx = ctx.within(g)
	return g
}

func (g *segment) findSigns() {
	g.at = make([]int32, len(g.toks))
	g.signs = make([]sign, 0, len(g.toks)/2)
	for i := 0; i < len(g.toks); {
		node, to := g.lex.match(g.toks, i)
		if to == i+2 && g.is(i, "a") && g.is(i+1, "line") && !g.arterialA(i) {
			node, to = 0, 0 // "a line in the right jugular"
		}
		if to == i+2 && g.is(i, "are") && g.is(i+1, "a") && g.is(i-1, "line", "drain", "wire", "cannula", "tube", "there", "they") {
			node, to = 0, 0 // "the lines are a right jugular"
		}
		if to == i+2 && g.is(i+1, "plus") && (g.numberAhead(to) || g.is(to, "a", "an")) {
			node, to = 0, 0 // "two plus two" counts, and grades no leak
		}
		if to > i+2 && g.is(i, "not") && g.is(to-1, "left") {
			node, to = g.lex.match(g.toks[:i+1], i) // "not the left" is a side, "not left" is none
		}
		if to == i+3 && g.is(i, "not") && g.is(i+1, "the") && g.is(i+2, "right") {
			node, to = g.lex.match(g.toks[:i+1], i) // a side, and no word of correction
		}
		if to == i+2 && g.is(i, "no") && g.is(i+1, "flow") && g.is(to, "probe", "meter", "measurement", "velocity") {
			node, to = g.lex.match(g.toks[:i+1], i) // nobody measured it
		}
		if to > i+2 && g.is(to-1, "no") && g.is(to-2, ",") && !g.numberAhead(to) && g.lex.senses[node][0].kind == namesField {
			node, to = g.lex.match(g.toks[:to-1], i) // "sternotomy, no bypass" numbers no sternotomy
		}
		if g.is(i, "and") && g.is(to-1, "no") && (to > i+2 || g.is(to, "it", "its", "that", "we", "i")) {
			node, to = 0, 0 // "a right atrial line and, no, a common one"
		}
		if to == i+1 && g.is(i, "or") && g.words(i, to) != "OR" {
			node, to = 0, 0 // no operating room
		}
		if to == i+3 && g.is(i, "right", "left") && g.is(i+1, "and") && g.is(i+2, "right", "left") && slices.ContainsFunc(g.toks[to:], func(t token) bool { return t.text == "respectively" }) {
			node, to = g.lex.match(g.toks[:i+1], i) // each has its own number
		}
		if to == i+1 && g.is(i, "mean") && strings.EqualFold(g.words(i, to), "means") && !(i+1 < len(g.toks) && g.toks[i+1].kind == figure) {
			node, to = 0, 0 // "that means too much flow", no mean pressure
		}
		if to == i+1 && g.is(i, "has") && g.words(i, to) != "HAS" {
			node, to = 0, 0 // "he has", no human albumin solution
		}
		if to == i+1 && g.is(i, "eat") && g.words(i, to) != "EAT" {
			node, to = 0, 0 // "aspirin when she eats", no ectopic atrial tachycardia
		}
		if g.is(i, "sit") && strings.EqualFold(g.words(i, i+1), "sits") {
			node, to = 0, 0 // "it sits at fifteen" is no target
		}
		if to == i+1 && g.is(i, "saw") && (g.is(i-1, "never", "clearly", "really") || g.is(i+1, "none", "no", "nothing", "it", "them")) {
			node, to = 0, 0 // seen, and no tool
		}
		if to > i+1 && g.is(i, "peak") && (g.ventTalk() || g.is(i+1, "of") && g.mentions("over")) {
			node, to = g.lex.match(g.toks[:i+1], i) // of the ventilator, and nothing that has passed
		}
		if to > i+1 && g.is(i, "at") {
			if m, ok := readNumber(g.toks, i+1); ok && m.to > to {
				node, to = 0, 0 // "held at one point six", "at three thousand revs"
			}
		}
		n, ok := readNumber(g.toks, i)
		if t := n.to - 2; ok && (t == i || t == i+1 && g.is(i, "minus")) && n.to < len(g.toks) && g.toks[t].kind == word && tens[g.toks[t].text] > 0 && units[g.toks[t+1].text] > 0 && units[g.toks[t+1].text] <= 4 && g.is(n.to, "atrial", "ventricular") {
			n, ok = readNumber(g.toks[:t+1], i) // "minus twenty, two atrial wires"
		}
		if t := n.to - 1; ok && t-2 > i && g.anyWithin(i+1, t-1, "point") && units[g.toks[t].text] > 0 && units[g.toks[t].text] <= 4 && g.countedAt(n.to) {
			n, ok = readNumber(g.toks[:t], i) // "threshold one point two, one ventricular wire"
		}
		if ok && n.to == i+2 && g.toks[i].kind == word && units[g.toks[i].text] > 0 && len(n.decimal) == 3 && g.is(n.to, "french", "gauge", "fr") {
			n, ok = readNumber(g.toks[:i+1], i) // "two twenty French drains"
		}
		if ok && n.to == i+1 && g.is(i, "an") {
			node, to = 0, 0 // "an hour and ten minutes" is no rate
		}
		if ok && g.pronounOne(i) {
			n, ok = number{}, false
			if node != 0 && to == i+1 {
				node = 0
			}
		}
		var s sign
		switch {
		case ok && n.to >= to:
			num := n
			s = sign{from: i, to: n.to, num: &num}
			if node != 0 && n.to == to {
				s.senses = g.lex.senses[node]
			}
		case node != 0 && to-i > 1 && (g.toks[i].text == "right" || g.toks[i].text == "left") && g.valuesOnly(node):
			// "left radial" is a side and a place, whatever else it may be
			n1, _ := g.lex.match(g.toks[:i+1], i)
			for k := i; k < i+1; k++ {
				g.at[k] = int32(len(g.signs))
			}
			g.signs = append(g.signs, sign{from: i, to: i + 1, node: n1, senses: g.lex.senses[n1]})
			n2, to2 := g.lex.match(g.toks, i+1)
			if n2 == 0 || !g.namesThing(n2) {
				g.signs = g.signs[:len(g.signs)-1]
				s = sign{from: i, to: to, node: node, senses: g.withInner(node, i, to)}
				i--
			} else if to2 < to {
				n2, to2 = node, to
				s = sign{from: i + 1, to: to, node: node, senses: g.lex.senses[node]}
			} else {
				s = sign{from: i + 1, to: to2, node: n2, senses: g.withInner(n2, i+1, to2)}
				if to2 == to {
					s.senses = append(s.senses[:len(s.senses):len(s.senses)], g.lex.senses[node]...)
				}
			}
			i++
		case node != 0:
			s = sign{from: i, to: to, node: node, senses: g.withInner(node, i, to)}
			if ok {
				num := n
				s.num = &num
				if n.to != to {
					s.num = nil
				}
			}
		default:
			g.at[i] = -1
			i++
			continue
		}
		for k := i; k < s.to; k++ {
			g.at[k] = int32(len(g.signs))
		}
		g.signs = append(g.signs, s)
		i = s.to
	}
}

// numberAhead tells whether a small number in words or figures stands at token k.
func (g *segment) numberAhead(k int) bool {
	return k < len(g.toks) && (g.toks[k].kind == figure || units[g.toks[k].text] > 0)
}

// pronounOne tells whether the "one" at token i stands for a thing and is no
// number: "the little one", "on this one", "the right one was cut".
func (g *segment) pronounOne(i int) bool {
	if !g.is(i, "one") || g.toks[i].kind != word {
		return false
	}
	if w := g.wordAt(i - 1); w == "little" || w == "young" || g.words(i, i+1) == "ones" {
		return true
	}
	if w := g.wordAt(i + 1); g.is(i-1, "new", "fresh") && (teens[w] > 0 || tens[w] > 0) {
		return true // "changed, new one fifteen"
	} else if w == "hundred" || w == "thousand" || w == "point" || units[w] > 0 || teens[w] > 0 || tens[w] > 0 {
		return false
	}
	switch g.wordAt(i - 1) {
	case "every", "little", "this", "that", "which", "other", "young", "small", "new", "old":
		return !g.is(i-2, "make") && (g.at[i-1] < 0 || g.signs[g.at[i-1]].num == nil)
	case "right", "left", "the":
		return g.is(i+1, "we", "that", "which") || g.is(i+1, oneVerbs...) || g.is(i-2, "the") && g.is(i-3, "its", "is", "was", "mean", "meant") // "it's the right one"
	}
	n := g.prevSign(i) // "the right atrial one stays"
	return n >= 0 && g.signs[n].to == i && g.signs[n].has(isVariety) && (g.is(i+1, oneVerbs...) || g.is(g.signs[n].from-1, "the", "that"))
}

// oneVerbs follow a "one" that stands for a thing, and no count.
var oneVerbs = []string{"was", "is", "had", "has", "stay", "remain", "will", "came", "come", "went", "can", "did", "need", "still"}

// arterialA tells whether the "a" of "a line" stands for arterial: written large,
// joined, or after a place.
func (g *segment) arterialA(i int) bool {
	if s := g.toks[i].span; g.text[s.Start:s.End] == "A" && i > 0 || g.toks[i+1].glued {
		return true
	}
	if i == 0 || g.at[i-1] < 0 {
		return false
	}
	p := &g.signs[g.at[i-1]]
	return p.content2() || g.sideOf(p) != "" || p.has(isUnit) || p.num != nil
}

// valuesOnly tells whether a phrase that begins with a side means nothing but
// values of lists that have that side in them.
func (g *segment) valuesOnly(node int32) bool {
	for _, s := range g.lex.senses[node] {
		if s.kind != isValue || !strings.HasPrefix(s.value, "right") && !strings.HasPrefix(s.value, "left-") && s.value != "left" || s.value == "left-open" {
			return false
		}
	}
	return true
}

// namesThing tells whether a phrase names a thing that may be in the child.
func (g *segment) namesThing(node int32) bool {
	for _, s := range g.lex.senses[node] {
		if s.kind == isItem || s.kind == isVariety || s.kind == isHead {
			return true
		}
	}
	return false
}

// withInner adds to the senses of a phrase the values of the phrase within it
// that ends where it ends: "left open" is also "open".
func (g *segment) withInner(node int32, from, to int) []sense {
	senses := g.lex.senses[node]
	if to-from < 2 || refusing[g.toks[from].text] {
		return senses // "not bleeding" is no bleeding
	}
	values := false
	for _, s := range senses {
		values = values || s.kind == isValue || s.kind == namesField
	}
	if !values {
		return senses
	}
	add := func(n int32, whole bool) {
		for _, s := range g.lex.senses[n] {
			if s.kind != isValue {
				continue
			}
			if whole {
				s.node = n
			}
			known := false
			for _, x := range senses {
				known = known || x.kind == isValue && x.field == s.field
			}
			if !known {
				s.inner = true
				senses = append(senses[:len(senses):len(senses)], s)
			}
		}
	}
	for k := from + 1; k < to; k++ {
		if n, end := g.lex.match(g.toks[:to], k); n != 0 && end == to {
			add(n, true)
			break
		}
	}
	cued := false
	for _, s := range senses {
		cued = cued || s.kind == isCue
	}
	if n, _ := g.lex.match(g.toks[:to-1], from); n != 0 && !cued {
		for _, s := range g.lex.senses[n] { // "ring me if" begins with "ring me"
			switch {
			case s.kind != isCue:
			case (s.cue == intends || s.cue == passing) && slices.ContainsFunc(senses, func(x sense) bool { return x.kind == namesField && x.field.Numeric() }):
				// "starting crit" is the name of a number, and no intention
			case s.cue == calls, s.cue == targets, s.cue == intends, s.cue == depends, s.cue == history, s.cue == former, s.cue == passing, s.cue == comes:
				senses = append(senses[:len(senses):len(senses)], s)
			}
		}
	}
	if n, end := g.lex.match(g.toks[:to-1], from); n != 0 && !(end-from == 1 && g.is(from, "left", "right")) {
		add(n, false) // "Gore-Tex" in "Gore-Tex tube"
	}
	return senses
}

// findClauses cuts the segment where a new statement begins.
func (g *segment) findClauses() {
	g.clause = make([]int16, len(g.toks))
	c := int16(0)
	for i := range g.toks {
		t := &g.toks[i]
		switch {
		case (t.text == "," || t.text == "(" || t.text == ")") && t.kind == mark:
			c++
		case t.kind == word && i > 0 && subject[t.text] && !subordinates(g, i):
			c++
		case t.text == "because" || t.text == "whereas":
			c++
		default:
			if k := g.at[i]; k >= 0 && g.signs[k].from == i && g.signs[k].is(turns) {
				c++
			}
		}
		g.clause[i] = c
	}
}

var subject = wordSet("we i she he they there")

func subordinates(g *segment, i int) bool {
	switch g.toks[i-1].text {
	case "before", "that", "if", "when", "until", "after", "as", "while", "once", "unless", "because", "and", "so", "call", "what", "which":
		return g.toks[i-1].text != "and" && g.toks[i-1].text != "so"
	}
	return false
}
