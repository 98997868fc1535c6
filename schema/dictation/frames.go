package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// frame is a way of saying a value in words that need not touch: "clip" and "off"
// for a clip removed, whatever stands between. The definitions hold them beside the
// spoken phrases, for what has a verb and a thing and no fixed wording.
type frame struct {
	field   *schema.Field
	value   string
	parts   [][]choice // one of each must be met
	ordered bool
	commas  bool // it may run over commas
	denies  bool // the words themselves deny, or the answer is none
}

// choice is one way of saying a part of a frame: words that touch.
type choice []string

// noneFrame is the key of frames that say a field is none.
const noneFrame = "none"

// frameGap is how many words may stand between two parts of a frame.
const frameGap = 7

// apart are words that part statements, or speak of another thing of the kind: no
// frame reaches over them.
var apart = wordSet("and but then so while because or nor though although before until after when if which instead except than second third another further more other additional extra")

// refusing are words that deny: a frame that holds one is met in a denial alone.
var refusing = wordSet("not no nothing never without none nil neither")

// contracted are "not" run together with its verb.
var contracted = wordSet("didnt wasnt werent isnt arent doesnt dont couldnt cant wouldnt wont hasnt havent hadnt")

// denyingAt tells whether token k denies.
func (g *segment) denyingAt(k int) bool {
	return k >= 0 && k < len(g.toks) && (refusing[g.toks[k].text] || contracted[g.toks[k].text])
}

// addFrames adds a field's frames, each known by the words of its first part.
func (l *lexicon) addFrames(f *schema.Field) {
	for _, v := range append(slices.Clone(f.Enum), "true", "false", noneFrame) {
		for _, text := range f.SpokenFrames[v] {
			fr := &frame{field: f, value: v, ordered: strings.Contains(text, ">"), commas: strings.Contains(text, ">>")}
			fr.denies = v == noneFrame
			for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == '+' || r == '>' }) {
				var choices []choice
				for _, w := range strings.Split(withKin(strings.TrimSpace(part)), "|") {
					var c choice
					for _, t := range strings.Fields(w) {
						c = append(c, normal(t))
					}
					fr.denies = fr.denies || refusing[c[0]]
					choices = append(choices, c)
				}
				fr.parts = append(fr.parts, choices)
			}
			for _, c := range fr.parts[0] {
				l.frames[c[0]] = append(l.frames[c[0]], fr)
				if c[0] == "not" {
					for w := range contracted {
						l.frames[w] = append(l.frames[w], fr)
					}
				}
			}
		}
	}
}

// readFrames claims what is said in frames and by nothing else.
func (g *segment) readFrames() {
	for k := range g.toks {
		if g.toks[k].kind != word {
			continue
		}
		for _, fr := range g.lex.frames[g.toks[k].text] {
			if at := g.frameAt(fr, k); at != nil {
				g.claimFrame(fr, at)
			}
		}
	}
}

// frameAt is where the parts of a frame stand whose first is token k; nil where one
// is missing, too far off, or said of something not done.
func (g *segment) frameAt(fr *frame, k int) []int {
	n := g.choiceAt(fr.parts[0], k)
	if n == 0 {
		return nil
	}
	var at []int
	low, high := k, k-1
	take := func(j, n int) {
		low, high = min(low, j), max(high, j+n-1)
		for ; n > 0; n, j = n-1, j+1 {
			at = append(at, j)
		}
	}
	take(k, n)
	for _, part := range fr.parts[1:] {
		found, near := 0, high
		if fr.ordered && !fr.commas {
			near = g.pastAside(high)
		}
		for d := 1; d <= frameGap+1 && found == 0; d++ {
			j := near + d
			if found = g.choiceAt(part, j); found == 0 && !fr.ordered && d < high-low {
				j = low + d // between the two met so far
				found = g.choiceAt(part, j)
			}
			if found == 0 && !fr.ordered {
				j = low - d
				found = g.choiceAt(part, j)
			}
			if found == 0 {
				continue
			}
			if g.parted(min(near, j), max(low, j), fr) && !g.sharesSubject(near, j, found) {
				return nil
			}
			take(j, found)
		}
		if found == 0 {
			return nil
		}
	}
	for j := low; j <= high; j++ {
		if !fr.denies && g.denyingAt(j) || g.is(j, "thought") && g.is(j+1, "to") {
			return nil // "the septum I thought to enlarge"
		}
		n := g.at[j]
		if n < 0 {
			continue
		}
		s := &g.signs[n]
		if !fr.denies && (s.is(denies) || s.is(deniesBefore)) || s.is(corrects) || s.is(scratches) {
			return nil
		}
		if slices.Contains(at, j) && g.saysOther(s, fr) {
			return nil
		}
		if slices.Contains(at, j) && (!allowed(fr.field, g.whyScope(fr.field, s.scope)) || !fr.denies && s.scope&denied != 0) {
			return nil
		}
	}
	if n := g.at[max(0, low-1)]; low > 0 && n >= 0 && g.signs[n].to == low && namesBeside(&g.signs[n], fr.field) && g.meansName(g.signAt(high), fr.field) {
		return nil // "right phrenic seen, left phrenic not": it is the first that was seen
	}
	if g.unsettled(high+1, fr.field) || g.lex.kind == schema.Stage1 && !pastSections[fr.field.Section] && g.daysBefore(high+1) {
		return nil
	}
	return at
}

// saysOther tells whether a word of a frame is part of a longer phrase that means
// another value of its field: "homograft" in "aortic homograft".
func (g *segment) saysOther(s *sign, fr *frame) bool {
	if s.to-s.from < 2 || fr.value == noneFrame {
		return false
	}
	other := false
	for i := range s.senses {
		if x := &s.senses[i]; x.kind == isValue && x.field == fr.field && !x.inner {
			if x.value == fr.value || moreSpecific(fr.field.Path, fr.value, x.value) == fr.value {
				return false
			}
			other = true
		}
	}
	return other
}

// unsettled tells whether what ends before token k is put in question right after:
// "left open, no wait", "ballooned? No", "clipped. Not fully".
func (g *segment) unsettled(k int, f *schema.Field) bool {
	for end := k + 4; k < end && k < len(g.toks); k++ {
		if g.toks[k].kind == stop || g.is(k, ",", "?") {
			if g.is(k, "?") || g.is(k+1, "not", "nearly", "almost", "partly", "partially") || g.is(k+1, "no") && !g.deniesOther(k+2, f) {
				return true
			}
			end = k + 3
		}
		if n := g.at[k]; n >= 0 && (g.signs[n].is(corrects) || g.signs[n].is(scratches)) {
			return true
		}
	}
	return false
}

// deniesOther tells whether what is denied from token k is another thing than a value
// of f: "closure went fine, no drop in pressure".
func (g *segment) deniesOther(k int, f *schema.Field) bool {
	if k >= len(g.toks) || g.toks[k].kind != word || subject[g.toks[k].text] || g.is(k, "it", "its", "that", "not", "wait", "sorry", "make") {
		return false
	}
	n := g.at[k]
	return n < 0 || !slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.kind == isValue && x.field == f || x.kind == isCue })
}

// choiceAt is how many words of one of the choices stand at token k.
func (g *segment) choiceAt(part []choice, k int) int {
	if k < 0 {
		return 0
	}
	for _, c := range part {
		n := 0
		for n < len(c) && (g.is(k+n, c[n]) && !(c[n] == "left" && g.leftIsSide(k+n)) || c[n] == "not" && k+n < len(g.toks) && contracted[g.toks[k+n].text]) {
			n++
		}
		if n == len(c) {
			return n
		}
	}
	return 0
}

// besideShunt are the words for a shunt that stand right after its side; beforeVerb are those
// after which "left" is what was done with it.
var (
	besideShunt = wordSet("bt b shunt blalock modified mbt mbts mbtt btt bts sano")
	beforeVerb  = wordSet("we i and was were is are been but then deliberately just , . :")
)

// leftIsSide tells whether "left" at token k is the side of a shunt: "the left BT shunt was
// divided", not "we left BT shunt open".
func (g *segment) leftIsSide(k int) bool {
	return k > 0 && k+1 < len(g.toks) && besideShunt[g.toks[k+1].text] && !beforeVerb[g.toks[k-1].text]
}

// sidesOfShunts takes from "left" what it means of a thing that stays, where it is the side
// of a shunt.
func (g *segment) sidesOfShunts() {
	if !g.mentions("left") {
		return
	}
	for i := range g.signs {
		if s := &g.signs[i]; s.to-s.from == 1 && g.is(s.from, "left") && g.leftIsSide(s.from) {
			s.senses = slices.DeleteFunc(slices.Clone(s.senses), func(x sense) bool { return x.kind == isValue && !strings.HasSuffix(x.field.Name, "ide") })
		}
	}
}

// parted tells whether something between tokens a and b begins another statement.
func (g *segment) parted(a, b int, fr *frame) bool {
	for k := a + 1; k < b; k++ {
		if t := &g.toks[k]; t.kind == stop || t.text == "," && !fr.commas || fr.denies && subject[t.text] || t.text == ":" && !(fr.denies && k == a+1) || apart[t.text] && !g.numberAt(k) && !(t.text == "which" && k == a+1) && !(t.text == "then" && g.is(k-1, "was", "were")) {
			return true
		}
		if n := g.at[k]; n >= 0 && g.signs[n].from == k && namesBeside(&g.signs[n], fr.field) {
			return true // "needles correct, instruments not counted"
		}
	}
	return false
}

// opensAside begin what is said of a thing between two commas; resumes go on with what
// became of the thing.
var (
	opensAside = wordSet("a an the which from done made put placed one who that still of")
	resumes    = wordSet("was were is are has have had got we i")
)

// asideReach is how many words an aside may have.
const asideReach = 12

// pastAside is the token that closes the aside which follows token k, or k: "the old shunt,
// a three and a half from another hospital, was clipped".
func (g *segment) pastAside(k int) int {
	if !g.is(k+1, ",") || k+2 >= len(g.toks) || !opensAside[g.toks[k+2].text] {
		return k
	}
	for j := k + 3; j+1 < len(g.toks) && j < k+3+asideReach && g.toks[j].kind != stop; j++ {
		if g.is(j, ",") {
			if resumes[g.toks[j+1].text] {
				return j
			}
			return k
		}
	}
	return k
}

// asideAround is the stretch of tokens of the aside in which token k stands.
func (g *segment) asideAround(k int) (from, to int) {
	for j := k - 1; j > 0 && j > k-asideReach && g.toks[j].kind != stop; j-- {
		if g.is(j, ",") {
			if end := g.pastAside(j - 1); end > k {
				return j + 1, end
			}
			break
		}
	}
	return k, k
}

// inAside tells whether token k stands in an aside.
func (g *segment) inAside(k int) bool {
	_, to := g.asideAround(k)
	return to > k
}

// sharesSubject tells whether only "and" parts two parts of a frame, and the second
// is a verb of the same thing: "the arch was opened and enlarged", "was narrow and I
// patched it"; not "was left and patched the other".
func (g *segment) sharesSubject(high, j, n int) bool {
	k := j - 1
	for k > high && g.is(k, "i", "we", "was", "were", "is", "are", "then", "also", "later") {
		k--
	}
	if k <= high || !g.is(k, "and") || g.is(j+n, "the", "a", "an", "his", "her", "this", "both", "other", "right", "left") {
		return false
	}
	for i := high + 1; i < k; i++ {
		if t := &g.toks[i]; t.kind == stop || t.text == "," || t.text == ":" || apart[t.text] {
			return false
		}
	}
	return true
}

// signAt is the sign that covers token k, or an empty one.
func (g *segment) signAt(k int) *sign {
	if n := g.at[k]; n >= 0 {
		return &g.signs[n]
	}
	return &sign{}
}

// namesBeside tells whether a sign names another field with the values of f, and not f.
func namesBeside(s *sign, f *schema.Field) bool {
	other := false
	for _, x := range s.senses {
		if x.kind != namesField || x.field == f {
			return false
		}
		other = other || slices.Equal(x.field.Enum, f.Enum)
	}
	return other
}

// claimFrame claims the value of a frame, unless the field is answered already with
// as much.
func (g *segment) claimFrame(fr *frame, at []int) {
	from, to := slices.Min(at), slices.Max(at)+1
	for i := range g.claims {
		c := &g.claims[i]
		if c.field == fr.field && c.group < 0 && !c.gone && (fr.field.Type != "list" || c.value == fr.value) {
			if fr.field.Type != "list" && c.stated == "" && c.value != fr.value && moreSpecific(fr.field.Path, fr.value, c.value) == fr.value {
				c.value, c.whyTo = fr.value, max(c.whyTo, to) // "general", and "with a block"
			}
			return
		}
	}
	value, stated := fr.value, ""
	if value == noneFrame && !slices.Contains(fr.field.Enum, noneFrame) {
		value, stated = "", schema.StatedNone
	}
	g.claimField(fr.field, value, from, to, from, to).stated = stated
	for _, k := range at {
		if n := g.at[k]; n >= 0 && g.meansOnly(&g.signs[n], fr.field) {
			g.signs[n].used = true
		}
	}
}

// meansOnly tells whether a sign can mean values of one field and nothing else.
func (g *segment) meansOnly(s *sign, f *schema.Field) bool {
	met := false
	for i := range s.senses {
		x := &s.senses[i]
		if x.kind != isValue || x.field != f && x.field.Path.List() == "" {
			return false
		}
		met = met || x.field == f
	}
	return met && s.num == nil
}
