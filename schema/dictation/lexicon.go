package dictation

import (
	"slices"
	"strings"
	"sync"

	"fairlead/schema"
)

// senseKind sorts what a phrase can mean.
type senseKind uint8

const (
	namesField senseKind = iota // it names a field: "clamp time"
	isValue                     // it is a value of a field's list: "ringed"
	isItem                      // it names a thing left in the child: "right pleural drain"
	isVariety                   // the same without its noun: "mediastinal"
	isHead                      // the noun alone: "drain"
	isUnit
	isCue
	isPair // it names two fields, one for each side: "pleura"
)

// sense is one meaning of a phrase.
type sense struct {
	kind  senseKind
	field *schema.Field
	value string // of the field's list, or the item's variety; "*-pleural" wants a side
	item  *schema.ItemKind
	unit  string
	cue   cue
	inner bool  // of the last words of a longer phrase
	node  int32 // of those words
}

// lexicon is the vocabulary of one kind of note: a tree of words.
type lexicon struct {
	kind    schema.Kind
	ids     map[string]int32
	next    map[uint64]int32       // node and word to node
	senses  [][]sense              // by node
	long    []bool                 // by node: more than one word
	generic map[*schema.Field]bool // its list of values is not its own
	pairs   map[int32]pairOf
	partner map[*schema.Field]*schema.Field // of a pair, the other side
	alone   []bool                          // by node: the phrase means its value without its field's name
	held    map[*schema.Field]bool          // the fields that notes of the kind hold
	frames  map[string][]*frame             // by a word of their first part
}

func newLexicon(kind schema.Kind) *lexicon {
	return &lexicon{kind: kind, ids: map[string]int32{}, next: map[uint64]int32{}, senses: make([][]sense, 1), generic: map[*schema.Field]bool{}, pairs: map[int32]pairOf{}, partner: map[*schema.Field]*schema.Field{}, held: map[*schema.Field]bool{}, frames: map[string][]*frame{}}
}

func (l *lexicon) id(w string) int32 {
	id, ok := l.ids[w]
	if !ok {
		id = int32(len(l.ids) + 1)
		l.ids[w] = id
	}
	return id
}

// idOf is the number of a token's word, or 0. A small number in figures is its
// word: "SpO2" is "S p O two".
func (l *lexicon) idOf(t *token) int32 {
	return l.ids[wordOf(t)]
}

func wordOf(t *token) string {
	if t.kind == figure && len(t.text) == 1 {
		return digitWords[t.text[0]-'0']
	}
	return t.text
}

var digitWords = [10]string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"}

// add gives a phrase one more meaning.
func (l *lexicon) add(phrase string, s sense) (last int32) {
	for _, words := range variants(phrase) {
		if len(words) == 0 {
			continue
		}
		node := int32(0)
		for _, w := range words {
			key := uint64(node)<<32 | uint64(l.id(w))
			to, ok := l.next[key]
			if !ok {
				to = int32(len(l.senses))
				l.senses = append(l.senses, nil)
				l.next[key] = to
			}
			node = to
		}
		if !slices.Contains(l.senses[node], s) {
			l.senses[node] = append(l.senses[node], s)
		}
		last = node
	}
	return last
}

// passedOver are words that may stand inside any phrase.
var passedOver = map[string]bool{"+": true, ",": true, "/": true, "the": true, "um": true, "er": true, "uh": true, "erm": true, "uhm": true, "her": true, "his": true, "him": true}

// match is the longest phrase that starts at t[i]: the node it ends in and the
// token after it.
func (l *lexicon) match(t []token, i int) (node int32, to int) {
	return l.walk(t, i, i, 0, false)
}

// walk goes on from a node at t[k] and gives the longest phrase found. A word
// that may be passed over is tried both ways: "in the end" begins like "in the".
func (l *lexicon) walk(t []token, i, k int, at int32, comma bool) (node int32, to int) {
	for ; k < len(t); k++ {
		if k > i && passedOver[t[k].text] && !(t[k-1].text == "," && t[k].text == "the") && (t[k-1].text != "left" && t[k-1].text != "right" || t[k].text == "the" && k+1 < len(t) && doorways[t[k+1].text] || t[k].text == "um" || t[k].text == "er" || t[k].text == "uh" || t[k].text == "erm") {
			if n, e := l.walk(t, i, k+1, at, comma || t[k].text == ","); n != 0 && e > to {
				node, to = n, e // "left of the neo-aorta"
			}
		}
		if t[k].id == 0 {
			break
		}
		nx, ok := l.next[uint64(at)<<32|uint64(t[k].id)]
		if !ok {
			break
		}
		// The name of a thing, and a unit, do not run over a comma: "3.4 kilos, day six".
		if at = nx; l.senses[at] != nil && !(comma && (l.senses[at][0].kind == isItem || l.senses[at][0].kind == isUnit)) && k+1 > to {
			node, to = at, k+1
		}
	}
	return node, to
}

// doorways are what is left by a door, and not at the left: "left the theatre".
var doorways = wordSet("theatre room operating")

// variants are the ways a phrase of the vocabulary may be met: as it stands,
// without its signs, and with "per" for a stroke.
func variants(phrase string) [][]string {
	plain, perWord, bare := []string{}, []string{}, []string{}
	stroke := false
	toks := tokenize(phrase, 0)
	for i, t := range toks {
		if i > 0 && i < len(toks)-1 && passedOver[t.text] {
			continue
		}
		if t.kind == stop || t.kind == mark && t.text != "/" && t.text != "%" && t.text != "+" {
			continue
		}
		t.text = wordOf(&t)
		plain = append(plain, t.text)
		if t.text == "/" {
			stroke = true
			perWord = append(perWord, "per")
			continue
		}
		perWord, bare = append(perWord, t.text), append(bare, t.text)
	}
	out := [][]string{plain}
	if stroke {
		out = append(out, perWord, bare)
	}
	if j := joinLetters(plain); len(j) < len(plain) {
		out = append(out, j)
	}
	if h := asHeard(plain); h != nil {
		out = append(out, h)
	}
	return out
}

// joinLetters writes letters said one by one as one word: "r p a" as "rpa".
func joinLetters(words []string) []string {
	var out []string
	for i := 0; i < len(words); {
		j := i
		for j < len(words) && len(words[j]) == 1 && words[j][0] >= 'a' && words[j][0] <= 'z' {
			j++
		}
		if j-i >= 2 {
			out = append(out, strings.Join(words[i:j], ""))
			i = j
			continue
		}
		out = append(out, words[i])
		i++
	}
	return out
}

var (
	fieldsMu  sync.RWMutex
	fieldsMet = map[schema.Path]*schema.Field{}
)

// fieldAt is [schema.FieldAt], each path looked up once.
func fieldAt(p schema.Path) *schema.Field {
	fieldsMu.RLock()
	f, ok := fieldsMet[p]
	fieldsMu.RUnlock()
	if !ok {
		f = schema.FieldAt(p)
		fieldsMu.Lock()
		fieldsMet[p] = f
		fieldsMu.Unlock()
	}
	return f
}

var (
	lexMu    sync.Mutex
	lexicons = map[schema.Kind]*lexicon{}
)

// lexiconOf builds the vocabulary of a kind of note when it is first wanted.
func lexiconOf(kind schema.Kind) *lexicon {
	lexMu.Lock()
	defer lexMu.Unlock()
	l, ok := lexicons[kind]
	if !ok {
		l = buildLexicon(kind)
		lexicons[kind] = l
	}
	return l
}

// buildLexicon gathers what the definitions say each thing is called.
func buildLexicon(kind schema.Kind) *lexicon {
	l := newLexicon(kind)
	for _, c := range cues {
		for _, p := range strings.Split(c.phrases, ";") {
			if p = strings.TrimSpace(p); p != "" {
				l.add(p, sense{kind: isCue, cue: c.cue})
			}
		}
	}
	for _, when := range strings.Fields("last previous yesterday's tomorrow's") {
		for _, who := range strings.Fields("patient pt patient's pt's kid kid's child child's baby baby's fella fella's fellow lad lad's lass girl girl's boy boy's bairn infant") {
			l.add(when+" "+who, sense{kind: isCue, cue: others})
		}
	}
	for _, u := range schema.Units() {
		names := append([]string{schema.UnitShown(u), u}, schema.UnitSpoken(u)...)
		for _, n := range append(names, moreUnits[u]...) {
			if strings.Trim(n, "1[]{}") != "" {
				l.add(n, sense{kind: isUnit, unit: u})
			}
		}
	}
	for u, parts := range compounds {
		for _, n := range parts[0] {
			for _, m := range parts[1] {
				for _, t := range parts[2] {
					l.add(strings.TrimSpace(n+" "+m+" "+t), sense{kind: isUnit, unit: u})
				}
			}
		}
	}
	for u, names := range otherUnits {
		for _, n := range names {
			l.add(n, sense{kind: isUnit, unit: u})
		}
	}
	var lists []*schema.Field
	for _, s := range schema.SectionsOf(kind) {
		for _, f := range s.FieldsIn(kind) {
			l.held[f] = true
			for _, r := range f.Rows {
				l.held[r] = r.In(kind)
			}
			if kind == schema.SupportOn && f.Path == schema.BetweenReason {
				continue // why support was begun is asked once
			}
			if f.Path == schema.WorkProcedures || f.Path == schema.CountsPacksOut && fieldAt(schema.RemovalsPacksRetrieved) != nil && hasSection(kind, "removals") {
				continue // what these say has a field of its own too
			}
			l.addField(f)
			l.addFrames(f)
			for _, r := range f.Rows {
				l.addField(r)
			}
			if len(f.Enum) > 0 {
				lists = append(lists, f)
			}
		}
		l.addPairs(s.FieldsIn(kind))
	}
	l.findGeneric(lists)
	for _, k := range schema.ItemKinds() {
		if !ignored[k.Name] {
			l.addItemKind(k)
		}
	}
	l.settleAlone()
	return l
}

func hasSection(kind schema.Kind, name string) bool {
	d := schema.KindNamed(kind)
	return d != nil && slices.Contains(d.Sections, name)
}

// addField adds a field's names and the names of its values.
func (l *lexicon) addField(f *schema.Field) {
	names := append([]string{f.Title}, f.Spoken...)
	as := fieldAt(f.SpokenAs)
	if as != nil {
		names = append(names, as.Spoken...)
	}
	for _, n := range names {
		if l.sayable(n) {
			l.add(n, sense{kind: namesField, field: f})
		}
	}
	for _, v := range f.Enum {
		said := valueNames(f, v)
		if as != nil {
			said = append(said, as.SpokenValues[v]...)
		}
		if kin := valueKin[v]; kin != "" && shareValueKin(f) {
			said = append(said, strings.Split(kin, "|")...)
		}
		for _, n := range said {
			if w := variants(n)[0]; len(w) == 1 && (w[0] == "a" || w[0] == "yes" || w[0] == "no" || units[w[0]] > 0 || w[0] == "other" || littleWords[w[0]] && w[0] != "off" && w[0] != "out") {
				continue
			} else if len(w) > 0 && units[w[0]] > 0 && (f.Name == "material" || f.Name == "rings" || strings.HasSuffix(f.Name, "Material") || strings.HasSuffix(f.Name, "Patch")) {
				continue // "five ringed": the number is the size
			} else if len(w) == 2 && units[w[0]] > 0 && len(w[1]) == 1 {
				continue // "2a": more often two of something
			}
			l.add(n, sense{kind: isValue, field: f, value: v})
		}
	}
}

// sayable tells whether a name can serve to find its field: not one made of
// little words, or holding a number, or that is only a unit.
func (l *lexicon) sayable(name string) bool {
	words := variants(name)[0]
	if len(words) == 0 {
		return false
	}
	little := true
	for _, w := range words {
		if _, ok := units[w]; ok && w != "o" {
			return len(words) > 1 && (words[0] == "stage" || words[0] == "p" || (words[len(words)-1] == "two" || words[len(words)-1] == "three" && words[0][0] == 'h') && units[words[0]] == 0)
		}
		if teens[w] > 0 || tens[w] > 0 || w == "half" {
			return false
		}
		little = little && littleWords[w]
	}
	switch words[len(words)-1] {
	case "a":
		return len(words) > 1 && len(words[len(words)-2]) == 1 // "mean P A"
	case "are", "is", "was", "of":
		return false
	}
	return !little && !l.isUnitName(words)
}

var littleWords = wordSet("a an the of to from at for by in on off with over via because between above below up down no more than least also then until unless value given when so far and")

func (l *lexicon) isUnitName(words []string) bool {
	at := int32(0)
	for _, w := range words {
		nx, ok := l.next[uint64(at)<<32|uint64(l.ids[w])]
		if !ok {
			return false
		}
		at = nx
	}
	for _, s := range l.senses[at] {
		if s.kind == isUnit {
			return true
		}
	}
	return false
}

// valueNames are the ways a value of a list is said.
func valueNames(f *schema.Field, v string) []string {
	names := []string{f.Label(v), strings.ReplaceAll(v, "-", " ")}
	if sidesOnly(f) {
		for _, n := range f.SpokenValues[v] { // "left of the aorta" is more than a side
			if strings.Contains(n, "aorta") || strings.Contains(n, "neo") {
				names = append(names, n)
			}
		}
		return names
	}
	if f.Name == "what" { // "Lactate, mmol/L": the unit is not said
		before, _, _ := strings.Cut(f.Label(v), ",")
		names = append(names, before)
	}
	if strings.Contains(f.Label(v), ", ") {
		names = append(names, strings.ReplaceAll(f.Label(v), ", ", " and "))
	}
	if before, rest, ok := strings.Cut(f.Label(v), " ("); ok { // "adrenaline (epinephrine)"
		names = append(names, before)
		if inside, _, ok := strings.Cut(rest, ")"); ok {
			names = append(names, inside)
		}
	}
	return append(names, f.SpokenValues[v]...)
}

// sidesOnly tells whether a field holds nothing but a side.
func sidesOnly(f *schema.Field) bool {
	for _, v := range f.Enum {
		switch v {
		case "right", "left", "both", "midline", "central":
		default:
			return false
		}
	}
	return len(f.Enum) > 0
}

// pairOf is a pair of fields, one for each side: "pleura" for both pleurae.
type pairOf struct{ right, left *schema.Field }

// addPairs adds the names of fields that come in pairs, their side left out.
func (l *lexicon) addPairs(fields []*schema.Field) {
	for _, f := range fields {
		name := f.Name
		rest, ok := strings.CutPrefix(name, "right")
		other := "left" + rest
		if !ok {
			if rest, ok = strings.CutSuffix(name, "Right"); !ok {
				continue
			}
			other = rest + "Left"
		}
		for _, g := range fields {
			if g.Name != other {
				continue
			}
			l.partner[f], l.partner[g] = g, f
			for _, n := range append([]string{f.Title}, f.Spoken...) {
				var words []string
				for _, w := range variants(n)[0] {
					if w != "right" {
						words = append(words, w)
					}
				}
				if len(words) == len(variants(n)[0]) || len(words) == 0 || !l.sayable(strings.Join(words, " ")) {
					continue
				}
				node := l.add(strings.Join(words, " "), sense{kind: isPair, field: f})
				l.pairs[node] = pairOf{f, g}
			}
		}
	}
}

// addItemKind adds a kind of item: its varieties with and without their noun,
// the noun, and the names of its attributes.
func (l *lexicon) addItemKind(k *schema.ItemKind) {
	variety := k.Field("variety")
	for _, n := range append([]string{k.Title}, headsOf(k)...) {
		l.add(n, sense{kind: isHead, item: k})
	}
	for _, f := range k.Fields {
		if f == variety || unsaid[f.Name] {
			continue
		}
		l.addField(f)
	}
	if variety == nil {
		return
	}
	mods := map[string][]string{}
	var loose [][2]string
	heads := map[string]bool{}
	for _, h := range headsOf(k) {
		for _, words := range variants(h) {
			heads[strings.Join(words, " ")] = true
		}
	}
	sided := func(v string) string { // "*-pleural" for right-pleural
		if rest, ok := strings.CutPrefix(v, "right-"); ok && slices.Contains(variety.Enum, "left-"+rest) {
			return "*-" + rest
		}
		if rest, ok := strings.CutPrefix(v, "left-"); ok && slices.Contains(variety.Enum, "right-"+rest) {
			return "*-" + rest
		}
		return ""
	}
	for _, v := range variety.Enum {
		for _, n := range valueNames(variety, v) {
			words := variants(n)[0]
			if len(words) > 1 && (words[0] == "right" || words[0] == "left") && sided(v) == "" && !strings.HasPrefix(v, words[0]) && words[1] != "atrial" && words[1] != "ventricular" { // a chamber is no side
				words = words[1:]
				n = strings.Join(words, " ")
			}
			phrase := strings.Join(words, " ")
			if heads[phrase] || phrase == "a" || notItems[phrase] {
				continue // the noun alone says no variety
			}
			modifier := func(words []string, value string) {
				if m := strings.Join(words, " "); m != "a" && m != "v" && m != "right" && m != "left" && m != "chest" {
					mods[value] = append(mods[value], m)
					l.add(m, sense{kind: isVariety, item: k, value: value})
				}
			}
			cutHead := func(words []string, value string) bool {
				cut := false
				for n := 1; n <= 3 && n < len(words); n++ {
					if heads[strings.Join(words[len(words)-n:], " ")] {
						cut = true
						modifier(words[:len(words)-n], value)
					}
				}
				return cut
			}
			if cutHead(words, v) {
				l.add(n, sense{kind: isItem, item: k, value: v})
			} else {
				loose = append(loose, [2]string{n, v})
			}
			if s := sided(v); s != "" && len(words) > 1 && (words[0] == "right" || words[0] == "left") {
				if cutHead(words[1:], s) {
					l.add(strings.Join(words[1:], " "), sense{kind: isItem, item: k, value: s})
				}
			}
		}
	}
	// Names without a noun: a word that others put before the noun, or everyday
	// words, stay modifiers; the rest need no noun ("a Foley").
	for _, x := range loose {
		words := variants(x[0])[0]
		if j := joinLetters(words); len(j) == 1 {
			words = j
		}
		common := true
		for _, w := range words {
			common = common && everydayWords()[w] && !wholeNames[w]
		}
		kind := isItem
		if (common || len(strings.Join(words, "")) <= 2 && k.Name == "intracardiac-line") && len(heads) > 0 {
			kind = isVariety
		}
		for n := 1; n < len(words)-1; n++ {
			if heads[strings.Join(words[:n], " ")] && leadsIn[words[n]] {
				kind = isItem // "a line in the common atrium" has its noun before it
			}
		}
		for _, m := range mods[x[1]] {
			for _, w := range variants(x[0]) {
				if strings.Join(w, " ") == m && !wholeNames[m] {
					kind = isVariety
				}
			}
		}
		l.add(x[0], sense{kind: kind, item: k, value: x[1]})
	}
	if slices.Contains(variety.Enum, "right-pleural") && slices.Contains(variety.Enum, "left-pleural") {
		for _, p := range []string{"in each pleura", "in both pleura", "in each pleural space", "in both pleural spaces", "in each side of the chest", "in each chest", "in both chests", "to both pleural spaces", "to both pleurae", "to each pleura", "into each pleura", "into both pleurae", "to both chests"} {
			l.add(p, sense{kind: isVariety, item: k, value: "right-pleural+left-pleural"})
		}
	}
	if slices.Contains(variety.Enum, "atrial") && slices.Contains(variety.Enum, "ventricular") {
		l.add("a and v", sense{kind: isVariety, item: k, value: "atrial+ventricular"})
	}
}

// leadsIn are the words between the noun of a thing and its place.
var leadsIn = wordSet("in on behind through to into")

// findGeneric finds the fields whose list of values is also another field's
// (materials, structures, grades): their values mean nothing until the field is
// named.
func (l *lexicon) findGeneric(fields []*schema.Field) {
	count := map[string]int{}
	for _, f := range fields {
		count[strings.Join(f.Enum, "|")]++
	}
	for _, f := range fields {
		l.generic[f] = count[strings.Join(f.Enum, "|")] > 1 || f.Path == schema.LeavingRhythmBeneath
	}
}

// settleAlone decides which phrases mean a value though its field is not named:
// those that belong to one field only and are not everyday words.
func (l *lexicon) settleAlone() {
	words := make([]string, len(l.ids)+1)
	for w, id := range l.ids {
		words[id] = w
	}
	l.alone, l.long = make([]bool, len(l.senses)), make([]bool, len(l.senses))
	// Walk the tree with the phrase so far.
	type step struct {
		node   int32
		common bool
		n      int
	}
	children := map[int32][]uint64{}
	for key := range l.next {
		children[int32(key>>32)] = append(children[int32(key>>32)], key)
	}
	stack := []step{{0, true, 0}}
	for len(stack) > 0 {
		s := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, key := range children[s.node] {
			w := words[uint32(key)]
			nx := step{l.next[key], s.common && everydayWords()[w], s.n + 1}
			l.alone[nx.node] = !nx.common
			l.long[nx.node] = nx.n > 1
			stack = append(stack, nx)
		}
	}
}

// headsOf are the nouns of a kind of item: the last words of its varieties'
// names, and what the definitions call any of them.
func headsOf(k *schema.ItemKind) []string {
	variety := k.Field("variety")
	if variety == nil {
		return nil
	}
	var out []string
	add := func(h string) {
		h = strings.ToLower(h)
		if h != "" && !slices.Contains(out, h) && !notHeads[h] {
			out = append(out, h)
		}
	}
	for _, s := range variety.Spoken {
		named := false // the name of one variety is no noun for all
		for _, v := range variety.Enum {
			named = named || slices.Contains(variety.SpokenValues[v], s)
		}
		if !named {
			add(s)
		}
	}
	for _, v := range variety.Enum {
		words := strings.Fields(variety.Label(v))
		if len(words) > 1 {
			add(words[len(words)-1])
		}
		if n := len(words); n > 2 {
			add(strings.Join(words[n-2:], " "))
		}
	}
	return out
}

var notHeads = map[string]bool{"two and two": true, "packed": true, "packing": true, "left in": true, "left on purpose": true, "left behind": true, "used": true, "put in": true,
	"implant": true, "thing left": true, "left": true, "tube inside": true, "removed": true, "be removed": true, "stump": true, "spreader": true, "membrane": true, "dressing": true, "pack": true, "swabs": true, "packs": true,
	"vent": true, "pads": true, "plate": true, "for support": true, "support": true, "p d": true, "atrial line": true, "i o": true, "intraosseous": true, "intra osseous": true, "ezio": true, "bone needle": true, "heart vent": true, "chest membrane": true, "sternal spreader": true, "cannula stump": true,
	"tenckhoff": true, "ten cough": true, "dialysis catheter": true, "peritoneal catheter": true, "p d catheter": true, "pacing wires": false, "pleural drain": true, "temperature probe": true, "near-infrared probe": true, "infrared probe": true, "venous catheter": false, "earth wire": true, "gas probe": true, "pressure dressing": true, "tracheal tube": false, "atrial lines": true, "suture line": true, "jugular cannula": true, "tibial arterial": true, "dialysis": true, "spinae catheter": true, "perfusion cannula": true, "venous cannula": true, "inflow cannula": true, "outflow cannula": true}

// wholeNames are names of things that need no noun, though some add one: "the PICC",
// "a Foley". Other names said with a noun are no thing without it: "mediastinal".
var wholeNames = wordSet("picc foley tracheostomy trachy trach trachie trache ngt ogt replogle peg redivac cal")

// notItems are words that the definitions give for an item but that, alone,
// more often mean something done.
var notItems = map[string]bool{"throat pack": true, "echo probe": true, "toe probe": true, "t o e probe": true, "t e e probe": true, "echo": true, "packed": true, "packing": true, "clip": true, "partial clip": true, "tourniquet": true, "clip to come off": true, "skin suture": true, "graft": true, "sheath": true, "vent": true, "neck": true, "other": true, "stump": true, "temporal": true, "direct": true, "earth": true, "indifferent": true, "wound": true, "wires": true, "chest membrane": false, "lap": true, "swab": true, "sponge": true, "sponges": true, "laps": true, "gore tex membrane": false}
