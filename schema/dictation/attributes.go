package dictation

import (
	"slices"
	"strings"
	"sync"

	"fairlead/schema"
)

// attributesOf reads what is said of a thing: what stood before it, and what
// follows it up to token limit or the next statement about something else.
func (g *segment) attributesOf(t *thing, kind *schema.ItemKind, limit int) []claim {
	var out []claim
	have := map[string]bool{"variety": true}
	add := func(f *schema.Field, value string, from, to, why, whyTo int, note string) {
		if have[f.Name] || f.Name == "" {
			return
		}
		have[f.Name] = true
		c := claim{group: -1, field: f, value: value, from: from, to: to, why: min(why, from), whyTo: max(whyTo, to), sure: Certain, ref: -1, note: note}
		if note != "" {
			c.sure = Check
		}
		out = append(out, c)
	}
	amountClaim := func(f *schema.Field, a amount, why, whyTo int) bool {
		v, _, ok := fits(f, a)
		if !ok || have[f.Name] {
			return false
		}
		note := ""
		if a.units == nil && (f.Unit == "[Ch]" || f.Unit == "{gauge}") {
			note = "the unit was not said"
		}
		add(f, v, a.from, a.to, why, whyTo, note)
		g.useAmount(a)
		return true
	}
	for _, a := range t.amounts {
		if f := g.attributeFor(kind, a); f != nil {
			amountClaim(f, a, t.from, t.to)
		}
	}
	for _, n := range t.pre { // "a three and a half cuffed nasal tube"
		if f, v := g.attributeValue(kind, n, have); f != nil {
			add(f, v, g.signs[n].from, g.signs[n].to, t.from, t.to, "")
			g.signs[n].used = true
		}
	}
	if f := kind.Field("material"); f != nil {
		if v, from, to := g.valueWithin(f, g.signs[t.sign].from, t.to); v != "" {
			add(f, v, from, to, t.from, t.to, "") // "a silicone membrane"
		}
	}
	if f := kind.Field("lumenCount"); f != nil && t.lumens == 0 {
		for j := t.to; j < limit && j < t.to+9 && g.toks[j].kind != stop; j++ { // "five French, triple"
			n := map[string]string{"single": "1", "double": "2", "dual": "2", "triple": "3", "quadruple": "4", "dl": "2", "tl": "3", "sl": "1"}[g.toks[j].text]
			if n != "" && (j+1 >= len(g.toks) || g.toks[j+1].kind == stop || g.is(j+1, ",")) {
				add(f, n, j, j+1, j, j+1, "")
			}
		}
	}
	if f := kind.Field("attempts"); f != nil {
		g.attemptsAfter(t, f, limit, add)
	}
	if f := kind.Field("tipProof"); f != nil {
		for k := t.to; k < limit && g.toks[k].kind != stop; k++ {
			if !g.is(k, "tip", "position") {
				continue
			}
			if v, at, to := g.valueAfter(f, f.Enum, k+1, min(limit, k+8)); v != "" && v != "not-proved" {
				add(f, v, at, to, k, to, "") // "tip seen on X-ray"
			}
		}
	}
	if f := kind.Field("state"); f != nil && kind.Group == "lines" {
		if v, at, to := g.valueAfter(f, statesSaid, t.to, limit); v != "" {
			add(f, v, at, to, t.from, to, "")
			for j := at; j < to; j++ {
				if n := g.at[j]; n >= 0 {
					g.signs[n].used = true
				}
			}
		}
	}
	k := t.to
	lastField := -1 // the last attribute name met, not yet filled
	for n := g.nextSign(k); n < len(g.signs) && g.signs[n].from < limit; n++ {
		s := &g.signs[n]
		if s.used {
			k = s.to
			continue
		}
		if s.num == nil && (g.is(s.from-1, "through", "via") || g.is(s.from-1, "the", "his", "her") && g.is(s.from-2, "through", "via")) && s.from-k <= 4 && !g.itemAttribute(kind, n) {
			k = s.to // "through the appendage": the way it took
			continue
		}
		if s.from-k <= 2 && g.is(s.from, "still") && g.is(s.from+1, "in") && s.to == s.from+2 || s.from-k <= 2 && s.is(arrives) && g.within(s, "still", "stay", "remain", "in") && !s.content() {
			k = s.to // "umbilical venous line still in, five French"
			continue
		}
		if g.is(s.from, "also") && s.to == s.from+1 && s.from-k <= 2 {
			k = s.to // ", also a sixteen"
			continue
		}
		if s.from-k > 5 || s.is(arrives) && !s.is(through) || s.is(turns) || s.is(corrects) {
			break
		}
		if g.stopsItem(k, s.from) && !(g.is(k, ".") && g.ofAllAt(k+1)) && !g.saysSize(kind, k, n) {
			break
		}
		if s.scope&unreal != 0 {
			break
		}
		if s.num != nil && g.is(s.from-1, "x", "time") && kind.Field("count") == nil && smallCount(s.num.decimal) == 1 {
			k = s.to // "12 Fr x1, on suction"
			continue
		}
		if f := kind.Field("count"); f != nil && !have["count"] && s.num != nil && g.is(s.from-1, "x", "time") && smallCount(s.num.decimal) > 0 && s.from-k <= 2 {
			add(f, s.num.decimal, s.from, s.to, t.from, s.to, "") // "ventricular times two, threshold one"
			s.used = true
			k = s.to
			continue
		}
		if s.num != nil && g.is(s.to, "a", "per", "each", "on", "either") && g.is(s.to+1, "side", "each") {
			k = s.to + 2 // "one a side"
			continue
		}
		if s.num != nil && s.num.decimal != "" {
			a, _ := g.amountAt(n)
			if n+1 < len(g.signs) && g.signs[n+1].from == s.to && g.lumensAt(n+1) > 0 {
				k = s.to
				continue // "three lumens"
			}
			if f := kind.Field("lumenCount"); f != nil && !have["lumenCount"] && slices.Contains(a.units, "L") && smallCount(a.decimal) > 0 && a.unitSign >= 0 && g.toks[g.signs[a.unitSign].from].glued {
				add(f, a.decimal, a.from, a.to, a.from, a.to, "") // "RIJ 4.5F 2L"
				g.useAmount(a)
				k, n = a.to, max(n, a.unitSign)
				continue
			}
			if lastField < 0 && a.units == nil && have["drainage"] && !have["suction"] && n > 0 && g.is(g.signs[n-1].to-1, "suction") && s.from-g.signs[n-1].to <= 2 {
				if f := kind.Field("suction"); f != nil && amountClaim(f, a, g.signs[n-1].from, a.to) {
					k = a.to
					continue
				}
			}
			if f := kind.Field("output"); f != nil && !have["output"] && a.units == nil && g.is(a.to, "so") && g.is(a.to+1, "far") {
				add(f, a.decimal, a.from, a.to, a.from, a.to+2, "the unit was not said")
				g.useAmount(a)
				k = a.to + 2
				continue
			}
			if lastField >= 0 {
				if f := g.namedAttribute(kind, lastField, a); f != nil && amountClaim(f, a, g.signs[lastField].from, a.to) {
					k, lastField = a.to, -1
					n = max(n, a.unitSign)
					continue
				}
			}
			if nx := n + 1; nx < len(g.signs) && !(a.units == nil && g.is(a.to, "to", "on", "all", "both", "each") && g.sizeHere(kind, a, have)) {
				j := max(n, a.unitSign) + 1
				if j < len(g.signs) && !g.signs[j].used && g.signs[j].from-a.to <= 1 && !((g.crosses(a.to, g.signs[j].from) || g.signs[j].from > a.to || a.units == nil && g.sizeHere(kind, a, have)) && (g.numberAt(g.signs[j].to) || g.is(g.signs[j].to, "of", "at", "minus"))) {
					if f := g.namedAttribute(kind, j, a); f != nil && amountClaim(f, a, a.from, g.signs[j].to) {
						g.signs[j].used = true
						k = g.signs[j].to
						n = j
						continue
					}
				}
			}
			if f := kind.Field("suction"); f != nil && strings.HasPrefix(a.decimal, "-") && a.units == nil && amountClaim(f, a, a.from, a.to) {
				if d := kind.Field("drainage"); d != nil {
					add(d, "suction", a.from, a.to, a.from, a.to, "")
				}
				k = a.to
				continue
			}
			if f := kind.Field("suction"); f != nil && have["size"] && g.bareSuction(a) && amountClaim(f, a, a.from-1, a.to) {
				k = a.to
				continue
			}
			if f := g.attributeFor(kind, a); f != nil && amountClaim(f, a, a.from, a.to) {
				k = a.to
				n = max(n, a.unitSign)
				continue
			}
			if f := kind.Field("count"); f != nil && !have["count"] && t.varieties[0] != "membrane" && a.units == nil && (g.is(s.from-1, "x", "time") || g.is(s.from-1, ":", ",") || s.from == t.to) && smallCount(a.decimal) > 0 && (a.to >= len(g.toks) || a.to >= limit || g.at[a.to] < 0 || g.attributeSign(int(g.at[a.to])) || g.signs[g.at[a.to]].is(each)) {
				add(f, a.decimal, a.from, a.to, t.from, a.to, "")
				s.used = true
				k = a.to
				continue
			}
			if a.units == nil && lastField < 0 && g.is(s.from-1, "at", "to") {
				if f := g.depthFor(kind, s, a); f != nil && amountClaim(f, a, a.from, a.to) {
					k = a.to
					continue
				}
			}
			break
		}
		if l := g.lumensAt(n); l > 0 && kind.Field("lumenCount") != nil {
			add(kind.Field("lumenCount"), itoa(int64(l)), s.from, s.to, s.from, s.to, "")
			s.used = true
			k = s.to
			continue
		}
		if s.is(through) && !s.has(isUnit) && (!s.content() || kind.Field("route") == nil && g.is(s.from, "through", "via") && !s.content2()) {
			k = s.to
			continue
		}
		if f := kind.Field("route"); f != nil && s.from-k <= 3 && g.nostrilAt(s) >= 0 {
			at := g.nostrilAt(s)
			add(f, "nostril", at, at+1, s.from, at+1, "") // "in the left nostril"
			if g.is(at-1, "left", "right") {
				add(kind.Field("side"), g.toks[at-1].text, at-1, at, at-1, at+1, "")
			}
			for ; n+1 < len(g.signs) && g.signs[n+1].from <= at; n++ {
				g.signs[n].used = true
			}
			g.signs[n].used = true
			k = at + 1
			continue
		}
		if f, v := g.attributeValue(kind, n, have); f != nil && !(g.amountSoon(n+1) && g.signs[n+1].from == s.to && g.namesNumber(kind, n)) {
			if f.Name == "material" && (t.varieties[0] == "packs" || t.varieties[0] == "swabs") && v != "gauze" && v != "haemostatic" {
				break // "two packs, Gore-Tex over them": of what covers them
			}
			if f.Name == "fixation" && (t.varieties[0] == "snare" || t.varieties[0] == "membrane") {
				break // a loose snare is an open one, and every membrane is sewn to something
			}
			if s.scope&denied != 0 {
				v = g.deniedOf(s, f, v)
			}
			if v != "" {
				add(f, v, s.from, s.to, s.from, s.to, "")
				s.used = true
			}
			k = s.to
			continue
		}
		if g.namesAttribute(kind, n) {
			if f := boolAttribute(kind, s); f != nil && !have[f.Name] && !(g.amountSoon(n+1) && g.signs[n+1].from == s.to && g.namesNumber(kind, n)) {
				add(f, yesNo(f, s.scope&denied == 0), s.from, s.to, s.from, s.to, "")
				s.used = true
			} else {
				lastField = n
			}
			k = s.to
			continue
		}
		if s.is(both) && (g.amountSoon(n+1) || g.is(s.to, "on", "to")) {
			k = s.to
			continue
		}
		if kind.Name == "drain" && g.sideOf(s) != "" && s.from-k <= 2 && !s.content2() {
			k = s.to
			continue
		}
		if g.leftVerb(s) && s.from-k <= 3 {
			k = s.to
			continue
		}
		if side := g.sideOf(s); side != "" && len(t.sides) == 0 && !have["side"] && kind.Name != "drain" && !noSides[kind.Name] && kind.Field("side") != nil && (s.from-t.to <= 4 || s.from-t.to <= 16 && g.is(s.from-1, "the") && g.is(s.from-2, "on", "in")) && !s.content2() && !(n+1 < len(g.signs) && g.signs[n+1].from == s.to && g.signs[n+1].content() && g.signs[n+1].num == nil) {
			if !strings.HasPrefix(t.varieties[0], "*") {
				add(kind.Field("side"), side, s.from, s.to, t.from, s.to, "")
				s.used = true
			}
			k = s.to
			continue
		}
		if w := g.limbSide(s); w != "" && len(t.sides) == 0 && !have["side"] && kind.Field("side") != nil && s.from-k <= 3 {
			add(kind.Field("side"), w, s.from, s.to, t.from, s.to, "")
			s.used = true
			k = s.to
			continue
		}
		if g.is(s.to-1, "changed", "exchanged", "swapped", "replaced", "new") {
			k = s.to
			continue
		}
		if s.content() && !s.is(filler) && !s.is(both) && !s.is(each) && !(g.adjunct(s.from) && s.from-k <= 3) {
			break
		}
		k = s.to
	}
	return out
}

// valueWithin is a value of a field that stands among the words from token a to b,
// with its tokens: the material in the name of a thing.
func (g *segment) valueWithin(f *schema.Field, a, b int) (value string, from, to int) {
	for k := a; k < b; k++ {
		for to := b; to > k; to-- {
			n, end := g.lex.match(g.toks[:to], k)
			for _, x := range g.lex.senses[n] {
				if x.kind == isValue && x.field == f {
					return x.value, k, end
				}
			}
		}
	}
	return "", 0, 0
}

// nostrilAt is the token of a nostril, with its side or without, that sign s begins;
// -1 where it is none.
func (g *segment) nostrilAt(s *sign) int {
	for k := s.from; k <= s.to && k < len(g.toks); k++ {
		if g.is(k, "nostril", "naris", "nare") {
			return k
		}
	}
	return -1
}

// ofAllAt tells whether the sentence that begins at token k says something of all
// things listed before it.
func (g *segment) ofAllAt(k int) bool {
	return g.is(k, "all", "both", "each", "on")
}

// saysSize tells whether what stands between token k and sign n refers back to a
// thing that the sign gives the size of: "both drains stay, they are French twelve".
func (g *segment) saysSize(kind *schema.ItemKind, k, n int) bool {
	if !g.is(k, "they", "it") || !g.is(k+1, "are", "is", "were", "was") || g.signs[n].from > k+3 {
		return false
	}
	if g.signs[n].num == nil {
		n++
	}
	if n >= len(g.signs) || g.signs[n].num == nil {
		return false
	}
	a, ok := g.amountAt(n)
	if !ok || a.units == nil {
		return false
	}
	return g.attributeFor(kind, a) != nil
}

// limbSide is the side of the limb, neck or groin that a sign names.
func (g *segment) limbSide(s *sign) string {
	if s.to-s.from != 2 || !g.is(s.from, "right", "left") {
		return ""
	}
	switch g.toks[s.to-1].text {
	case "arm", "leg", "hand", "foot", "neck", "groin", "side", "wrist", "forearm", "elbow", "thigh", "ankle", "subclavian", "jugular", "femoral", "ear", "finger", "toe":
		return g.toks[s.from].text
	}
	return ""
}

// statesSaid are the states of a line that dictation tells.
var statesSaid = []string{"tissued"}

// attemptsAfter reads how many attempts a thing took: "first pass", "three goes".
func (g *segment) attemptsAfter(t *thing, f *schema.Field, limit int, add func(f *schema.Field, value string, from, to, why, whyTo int, note string)) {
	for k := t.to; k+1 < limit && g.toks[k].kind != stop; k++ {
		if !g.is(k+1, "attempt", "pass", "go", "look", "try", "stick", "shot") {
			continue
		}
		c := ordinals[g.toks[k].text]
		if c == 0 && g.numberAt(k) && g.plainTalk(int(g.at[k])) {
			c = smallCount(g.signs[g.at[k]].num.decimal)
			if c > 0 {
				g.signs[g.at[k]].used = true
			}
		}
		if c > 0 {
			add(f, itoa(int64(c)), k, k+2, k, k+2, "")
			return
		}
	}
}

// valueAfter is the value of a field that follows a thing in words, with its tokens,
// where the words are common ones and no part of the vocabulary.
func (g *segment) valueAfter(f *schema.Field, values []string, from, limit int) (value string, at, to int) {
	for k := from; k < limit && g.toks[k].kind != stop; k++ {
		for _, v := range values {
			for _, words := range namesInWords(f, v) {
				if g.wordsAt(k, words) && !g.unrealAt(k) {
					return v, k, k + len(words)
				}
			}
		}
	}
	return "", 0, 0
}

// namesInWords are the names of a value, word by word, cut once for each.
func namesInWords(f *schema.Field, v string) [][]string {
	key := [2]string{string(f.Path), v}
	if kept, ok := nameWords.Load(key); ok {
		return kept.([][]string)
	}
	var out [][]string
	for _, n := range valueNames(f, v) {
		out = append(out, variants(n)[0])
	}
	nameWords.Store(key, out)
	return out
}

var nameWords sync.Map

// wordsAt tells whether the words stand at token k.
func (g *segment) wordsAt(k int, words []string) bool {
	for j, w := range words {
		if k+j >= len(g.toks) || wordOf(&g.toks[k+j]) != w {
			return false
		}
	}
	return len(words) > 0
}

// sizeHere tells whether a bare amount may be the size of the thing, still wanted.
func (g *segment) sizeHere(kind *schema.ItemKind, a amount, have map[string]bool) bool {
	f := g.attributeFor(kind, a)
	return f != nil && !have[f.Name]
}

// amountSoon tells whether sign n is a number.
func (g *segment) amountSoon(n int) bool { return n < len(g.signs) && g.signs[n].num != nil }

// stopsItem tells whether the words between two signs begin another statement.
func (g *segment) stopsItem(a, b int) bool {
	for k := a; k < b; k++ {
		if g.toks[k].kind == stop || g.toks[k].kind == word && subject[g.toks[k].text] {
			return true
		}
	}
	return false
}

func (g *segment) sideOf(s *sign) string {
	switch {
	case s.is(both):
		return "both"
	case s.is(rightSide) && !s.is(leftSide):
		return "right"
	case s.is(leftSide):
		return "left"
	case s.is(midline):
		return "midline"
	}
	return ""
}

// useAmount takes an amount out of what others may claim.
func (g *segment) useAmount(a amount) {
	g.signs[a.sign].used = true
	if a.unitSign >= 0 {
		g.signs[a.unitSign].used = true
	}
}

// namedAttribute is the attribute that sign n names and an amount can fill.
func (g *segment) namedAttribute(kind *schema.ItemKind, n int, a amount) *schema.Field {
	for _, x := range g.signs[n].senses {
		if x.kind != namesField && x.kind != isValue || x.field == nil {
			continue
		}
		f := kind.Field(x.field.Name)
		if f == nil || x.kind == isValue {
			// "on suction of 10", "10 of suction": the value names the amount
			if x.kind == isValue && x.value == "suction" {
				f = kind.Field("suction")
			}
			if f == nil || x.kind == isValue && x.value != "suction" {
				continue
			}
		}
		if x.kind == namesField && (x.field.Section != kind.Name || !f.Numeric()) {
			continue
		}
		if v, _, ok := fits(f, a); ok && v != "" {
			return f
		}
	}
	return nil
}

func (g *segment) namesAttribute(kind *schema.ItemKind, n int) bool {
	for _, x := range g.signs[n].senses {
		if x.kind == namesField && x.field.Section == kind.Name && x.field.Path.Section() == "items" {
			return true
		}
	}
	return false
}

// namesNumber tells whether sign n names an attribute that is a number: "capture 1.0".
func (g *segment) namesNumber(kind *schema.ItemKind, n int) bool {
	return slices.ContainsFunc(g.signs[n].senses, func(x sense) bool {
		return x.kind == namesField && x.field.Section == kind.Name && x.field.Path.Section() == "items" && x.field.Numeric()
	})
}

// attributeValue is the attribute of the kind that sign n is a value of.
func (g *segment) attributeValue(kind *schema.ItemKind, n int, have map[string]bool) (*schema.Field, string) {
	s := &g.signs[n]
	for _, x := range s.senses {
		if x.kind == isValue && x.field.Section == kind.Name && x.field.Path.Section() == "items" && !have[x.field.Name] && (x.field.Type == "string" || x.field.Name == "fixation") && x.field.Name != "side" {
			if weakAttribute(g, s, x.field) && !g.namedNear(n, x.field) && !(x.field.Name == "colour" && g.bySelf(s)) {
				continue
			}
			return x.field, x.value
		}
	}
	return nil, ""
}

// weakAttribute tells whether a value says too little without its field's name.
func weakAttribute(g *segment, s *sign, f *schema.Field) bool {
	if s.to-s.from > 1 {
		return false
	}
	switch g.toks[s.from].text {
	case "yes", "no", "none", "good", "normal", "clear", "red", "right", "left", "blood", "atrial", "ventricular", "direct", "mouth", "single", "other":
		return true
	}
	return false
}

// namedNear tells whether the field's name stands within three words of sign n.
func (g *segment) namedNear(n int, f *schema.Field) bool {
	for m := max(0, n-2); m < len(g.signs) && m <= n+2; m++ {
		if m == n {
			continue
		}
		for _, x := range g.signs[m].senses {
			if x.kind == namesField && x.field == f {
				return true
			}
		}
	}
	return false
}

// boolAttribute is the yes-or-no attribute that a sign names: "swinging".
func boolAttribute(kind *schema.ItemKind, s *sign) *schema.Field {
	for _, x := range s.senses {
		if x.kind == namesField && x.field.Section == kind.Name && x.field.Path.Section() == "items" && isYesNo(x.field) {
			return x.field
		}
	}
	return nil
}

// isYesNo tells whether a field is a yes or a no.
func isYesNo(f *schema.Field) bool {
	if f.Type == "boolean" {
		return true
	}
	yes, no := false, false
	for _, v := range f.Enum {
		yes, no = yes || v == "yes", no || v == "no"
	}
	return yes && no
}

func yesNo(f *schema.Field, yes bool) string {
	switch {
	case f.Type == "boolean" && yes:
		return "true"
	case f.Type == "boolean":
		return "false"
	case yes:
		return "yes"
	}
	return "no"
}

// deniedValue is the value that a denial of v means, or "".
func deniedValue(f *schema.Field, v string) string {
	if v == "injury" && f.Name == "entry" {
		return "uneventful"
	}
	for _, w := range f.Enum {
		if w == "not-"+v || w == "un"+v || v == "yes" && w == "no" {
			return w
		}
	}
	if f.Type == "boolean" && v == "true" {
		return "false"
	}
	return ""
}

// deniedOf is the value that the denial of v by sign s means, or "": wires that do not
// capture have been tested.
func (g *segment) deniedOf(s *sign, f *schema.Field, v string) string {
	if f.Name == "tested" && !g.is(s.from, "tested", "checked") {
		return ""
	}
	return deniedValue(f, v)
}

// depthFor takes a bare number after "at" as a depth: "umbilical vein at 9".
func (g *segment) depthFor(kind *schema.ItemKind, s *sign, a amount) *schema.Field {
	if !g.is(s.from-1, "at", "to") {
		return nil
	}
	for _, name := range []string{"depth", "mark"} {
		if f := kind.Field(name); f != nil {
			if v, _, ok := fits(f, a); ok && usual(f, g.lex.kind, v) {
				return f
			}
		}
	}
	return nil
}

// onlyStay tells whether tokens a..b say no more than that things stay.
func (g *segment) onlyStay(a, b int) bool {
	for k := a; k < b; k++ {
		if !g.is(k, ":", ",", "all", "stay", "remain", "in", "unchanged", "still", "there", "are", "as", "before", "same", "left", "kept", "yes", "from", "the", "norwood", "glenn", "last", "time") {
			return false
		}
	}
	return true
}

// recounted tells whether the count that ends with sign n is taken back for one that
// names a chamber: "two and two, no, just two atrial".
func (g *segment) recounted(n int, kind *schema.ItemKind) bool {
	if n++; n >= len(g.signs) || !g.signs[n].is(corrects) && !g.is(g.signs[n].from, "no", "sorry", "well", "actually") || g.signs[n].from-g.signs[n-1].to > 1 {
		return false
	}
	for n++; n < len(g.signs) && !g.crossesStop(g.signs[n-1].to, g.signs[n].from); n++ {
		if slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.item == kind && x.kind == isVariety }) {
			return n > 0 && g.signs[n-1].num != nil
		}
	}
	return false
}
