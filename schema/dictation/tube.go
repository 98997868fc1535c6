package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readTube reads the tube in the airway with all that is said of it around its
// name, in whatever order: "a four cuffed oral tube at eleven", "airway: nasal
// tube, three and a half, cuffed, twelve at the right nostril, grade one". There is
// one tube, so its size and its depth need no unit and no noun.
func (g *segment) readTube() {
	kind := schema.ItemKindNamed("airway")
	for _, named := range []func(int) bool{g.tubeNamed, g.tubeByCuff} {
		for i := range g.signs {
			if named(i) && g.readTubeAt(kind, i) {
				return
			}
		}
	}
}

// tubeByCuff tells whether sign i is a cuff, or its want, of a tube that is named by its
// way alone: "oral three, no cuff", "a three oh uncuffed, by mouth".
func (g *segment) tubeByCuff(i int) bool {
	s := &g.signs[i]
	if s.used || s.scope&unreal != 0 || !slices.ContainsFunc(s.senses, func(x sense) bool {
		return x.kind == isValue && x.field.Section == "airway" && x.field.Name == "cuffed"
	}) {
		return false
	}
	way, size := g.tubeWay(max(0, s.from-10), min(len(g.toks), s.to+10)) != "", false
	for k := max(0, s.from-8); k < min(len(g.toks), s.to+3); k++ {
		size = size || g.numberAt(k)
	}
	return way && size && !g.mentions("gastric", "feeding", "drain")
}

// tubeWays are the ways of a tube that are told without naming one.
var tubeWays = map[string]string{"mouth": "oral-tube", "oral": "oral-tube", "orally": "oral-tube", "nose": "nasal-tube", "nasal": "nasal-tube", "nasally": "nasal-tube", "nostril": "nasal-tube", "naris": "nasal-tube", "lip": "oral-tube", "teeth": "oral-tube"}

// tubeWay is the way of a tube told among tokens from to end: "by mouth".
func (g *segment) tubeWay(from, end int) string {
	for k := from; k < end; k++ {
		if v := tubeWays[g.toks[k].text]; v != "" {
			return v
		}
	}
	return ""
}

// tubeNamed tells whether sign i names a tube in the airway and no other: by its
// own name, or as a tube with its way or a cuff beside it.
func (g *segment) tubeNamed(i int) bool {
	s := &g.signs[i]
	if s.used || s.scope&(unreal|denied) != 0 {
		return false
	}
	if s.has(isItem) || s.has(isVariety) {
		for _, x := range s.senses {
			if x.item != nil && x.item.Name == "airway" && (x.kind == isItem || x.kind == isVariety) {
				switch x.value {
				case "oral-tube", "nasal-tube":
					return s.to-s.from > 1 || g.is(s.to, "tube", "ett", "one") || g.is(s.from, "oett", "nett", "nasotracheal", "orotracheal")
				}
			}
		}
	}
	if !s.has(isHead) || !slices.ContainsFunc(s.senses, func(x sense) bool { return x.kind == isHead && x.item.Name == "airway" }) {
		return false
	}
	if g.is(s.to-1, "airway") { // "Airway: ..."
		return s.from == 0 && g.is(s.to, ":", ",", "is", "was", "-")
	}
	if s.to-s.from > 1 || g.is(s.from, "ett") || g.is(s.from-1, "et") {
		return true
	}
	if !g.is(s.from, "tube") || g.is(s.from-1, "chest", "gastric", "feeding", "ng", "drainage", "pleural", "mediastinal", "g") {
		return false
	}
	for n := max(0, i-3); n < len(g.signs) && n <= i+8; n++ {
		if g.signs[n].from > s.to+12 || g.signs[n].to < s.from-4 || g.crossesStop(min(s.from, g.signs[n].from), max(s.to, g.signs[n].to)) {
			continue
		}
		if slices.ContainsFunc(g.signs[n].senses, func(x sense) bool {
			return x.field != nil && x.field.Section == "airway" && (x.field.Name == "cuffed" || x.field.Name == "depthAt") && x.kind == isValue
		}) {
			return true
		}
	}
	return false
}

// readTubeAt reads the words around the name at sign i; ok is false where too
// little is said to list a tube by.
func (g *segment) readTubeAt(kind *schema.ItemKind, i int) (ok bool) {
	if g.goneSoon(g.signs[i].to) {
		return false
	}
	if t := (&thing{sign: i, from: g.signs[i].from, to: g.signs[i].to, of: kind, varieties: []string{""}}); g.fateOf(t, len(g.toks)) == gone {
		g.signs[i].used = true // "the oral tube was changed to a nasal one"
		return false
	}
	from, to := g.tubeSpan(kind, i)
	for k := from; k < len(g.toks) && !g.mentions("reintubated"); k++ {
		if g.is(k, "extubated") && !g.maybe(k) && !g.extubatedLater(k) && !g.is(k-1, "be", "not") {
			for n := g.nextSign(from); n < len(g.signs) && g.signs[n].from < max(k, to); n++ {
				if g.signs[n].from < to || g.ofTube(kind, n) {
					g.signs[n].used = true // "five and a half oral ... he's extubated, ignore that"
				}
			}
			return true
		}
	}
	r := &tubeReading{g: g, kind: kind, have: map[string]*claim{}}
	for n := g.nextSign(from); n < len(g.signs) && g.signs[n].from < to; n++ {
		n = r.take(n, to)
	}
	for k := from; k < to; k++ { // common words, which are no signs
		if g.is(k, "attempt", "pass", "go", "look", "try") && ordinals[g.toks[k-min(k, 1)].text] > 0 {
			r.put("attempts", itoa(int64(ordinals[g.toks[k-1].text])), k-1, k+1)
		}
	}
	if c := r.have["depthAt"]; c != nil && r.have["variety"] == nil {
		r.put("variety", map[string]string{"lip": "oral-tube", "gum": "oral-tube", "nostril": "nasal-tube"}[c.value], c.from, c.to)
	}
	if r.have["variety"] == nil {
		for k := from; k < min(to+4, len(g.toks)) && (k < to || g.toks[k].kind != stop); k++ {
			if g.is(k, "mouth", "nose") && g.is(k-1, "by", "through", "via", "the") {
				r.put("variety", tubeWays[g.toks[k].text], k, k+1)
			}
		}
	}
	if r.have["variety"] == nil && (r.have["size"] == nil || r.have["cuffed"] == nil && r.have["depth"] == nil && !g.is(g.signs[i].from, "endotracheal", "ett", "et")) {
		return false
	}
	gi := g.newGroup("items", from, to)
	g.groups[gi].item = kind
	if v := r.have["variety"]; v != nil {
		g.groups[gi].variety = v.value
	}
	g.groups[gi].from, g.groups[gi].to = g.signs[i].from, g.signs[i].to
	for _, name := range r.order {
		c := r.have[name]
		g.claimIn(gi, c.field, c.value, c.from, c.to, min(c.from, g.signs[i].from), max(c.to, g.signs[i].to))
	}
	for _, n := range r.taken {
		g.signs[n].used = true
	}
	g.signs[i].used = true
	return true
}

// tubeSpan is what may be said of the tube: back over what stands right before its
// name, and on to the end of the sentence or to the next thing that is listed.
func (g *segment) tubeSpan(kind *schema.ItemKind, i int) (from, to int) {
	from, to = g.signs[i].from, g.signs[i].to
	for n := i - 1; n >= 0 && !g.is(to, ":"); n-- {
		s := &g.signs[n]
		if s.used || from-s.to > 3 || s.num != nil && from-s.to > 1 || g.crossesStop(s.to, from) || s.num == nil && !g.ofTube(kind, n) && !(s.is(filler) && !s.content()) && !s.has(isUnit) {
			break
		}
		if s.num != nil && n > 0 && g.signs[n-1].to == s.from && g.signs[n-1].content() && !g.ofTube(kind, n-1) && !g.is(s.from-1, "size", "intubated") {
			break // the number is of what stands before it
		}
		if s.num != nil && g.lineNumber(s.from, s.to) && g.smallSizeSoon(to) {
			break // "Three, airway: nasal tube five"
		}
		from = s.from
	}
	last := to
	for n := i + 1; n < len(g.signs); n++ {
		s := &g.signs[n]
		if g.crossesStop(last, s.from) || s.from-last > 6 || s.used && !g.moved(n) && s.num == nil {
			break
		}
		if (s.has(isItem) || s.has(isVariety) || s.has(isHead)) && !g.ofTube(kind, n) {
			break
		}
		if s.content() && s.num == nil && !g.ofTube(kind, n) && !s.has(isUnit) && g.sideOf(s) == "" {
			break
		}
		last = s.to
	}
	for last < len(g.toks) && last < to+40 && g.toks[last].kind != stop && g.at[last] < 0 {
		last++
	}
	return from, last
}

// lineNumber tells whether tokens from to to are the number of a line that is read out: one
// figure that begins a sentence, set off by a mark.
func (g *segment) lineNumber(from, to int) bool {
	return to == from+1 && g.is(to, ",", ":") && (from == 0 || g.toks[from-1].kind == stop) && g.numberAt(from) && len(g.signs[g.at[from]].num.decimal) == 1
}

// smallSizeSoon tells whether a number that can be the size of a tube stands at token k or
// shortly after it.
func (g *segment) smallSizeSoon(k int) bool {
	for j := k; j < k+4 && j < len(g.toks); j++ {
		if g.numberAt(j) {
			return halfMillimetre(g.signs[g.at[j]].num.decimal)
		}
	}
	return false
}

// ofTube tells whether sign n is a value or the name of something of the tube.
func (g *segment) ofTube(kind *schema.ItemKind, n int) bool {
	return slices.ContainsFunc(g.signs[n].senses, func(x sense) bool {
		return x.field != nil && x.field.Section == kind.Name && x.field.Path.Section() == "items" || x.item == kind
	})
}

// tubeReading gathers what is said of one tube.
type tubeReading struct {
	g     *segment
	kind  *schema.ItemKind
	have  map[string]*claim
	order []string
	taken []int
}

// put keeps the first value that is said of each attribute.
func (r *tubeReading) put(name, value string, from, to int) bool {
	f := r.kind.Field(name)
	if f == nil || value == "" || r.have[name] != nil {
		return false
	}
	r.have[name] = &claim{field: f, value: value, from: from, to: to}
	r.order = append(r.order, name)
	return true
}

// take reads sign n and what belongs to it, and gives the last sign it took.
func (r *tubeReading) take(n, limit int) int {
	g, s := r.g, &r.g.signs[n]
	if s.used || s.scope&unreal != 0 {
		return n
	}
	if s.num != nil {
		return r.number(n, limit)
	}
	for _, x := range s.senses {
		switch {
		case (x.kind == isItem || x.kind == isVariety) && x.item == r.kind:
			if s.scope&denied == 0 {
				r.put("variety", x.value, s.from, s.to)
			}
		case x.kind == isValue && x.field.Section == r.kind.Name && x.field.Path.Section() == "items":
			switch x.field.Name {
			case "leak", "nostril", "variety", "side":
				continue // these have their own words below
			case "cuffed":
				if s.scope&denied != 0 {
					r.put("cuffed", "uncuffed", s.from, s.to)
					continue
				}
			}
			if s.scope&denied == 0 && !(x.value == "direct" && s.to-s.from == 1 && !g.is(s.to, "laryngoscope", "laryngoscopy", "vision")) || x.value == "direct" && g.is(s.from, "direct") {
				r.put(x.field.Name, x.value, s.from, s.to)
			}
		default:
			continue
		}
		r.taken = append(r.taken, n)
	}
	if side := g.sideOf(s); (side == "left" || side == "right") && g.is(s.to, "nostril", "naris", "nare") {
		r.put("nostril", side, s.from, s.to+1)
		r.taken = append(r.taken, n)
	}
	for k := s.from; k < s.to; k++ {
		if g.is(k, "leak") {
			r.leak(n, k, limit)
		}
	}
	return n
}

// leak reads "leak none", "no leak", "audible leak", "leak at twenty"; k is the word.
func (r *tubeReading) leak(n, k, limit int) {
	g, s := r.g, &r.g.signs[n]
	r.taken = append(r.taken, n)
	value := "yes"
	if s.scope&denied != 0 || g.is(k-1, "no") || g.is(k+1, "none", "no", "absent") {
		value = "no"
	}
	for m := n + 1; m < len(g.signs) && m <= n+2 && g.signs[m].from < limit && g.signs[m].from-k <= 4 && value == "yes"; m++ {
		if g.signs[m].num == nil || !g.is(g.signs[m].from-1, "at", "@") {
			continue
		}
		if a, ok := g.amountAt(m); ok {
			if v, _, ok := fits(r.kind.Field("leakPressure"), a); ok && r.put("leakPressure", v, a.from, a.to) {
				r.taken = append(r.taken, m)
				if g.is(k+1, "yes", "present", "audible") || g.is(k-1, "audible", "small") {
					break
				}
				return // the pressure says that there is one
			}
		}
	}
	r.put("leak", value, s.from, s.to)
}

// number reads a bare number by what stands about it: what leaks, how often it was
// tried, how deep it lies; the first that is left is the size, the second the depth.
func (r *tubeReading) number(n, limit int) int {
	g := r.g
	a, ok := g.amountAt(n)
	if !ok || g.signs[n].scope&denied != 0 || a.clock != "" && a.decimal == "" || slices.Contains(r.taken, n) {
		return n
	}
	if m := n + 1; r.have["size"] == nil && a.units == nil && m < len(g.signs) && g.signs[m].num != nil && g.signs[m].from == a.to && len(a.decimal) == 1 && g.signs[n].to-g.signs[n].from == 1 {
		// "three five" and "four oh" are said without their point
		if d := g.signs[m].num.decimal; (d == "5" || d == "0") && g.signs[m].to == a.to+1 && !g.is(a.to+1, "mm", "cm") && r.put("size", a.decimal+"."+d, a.from, a.to+1) {
			r.taken = append(r.taken, n, m)
			return m
		}
	}
	bare := a.units == nil || slices.Contains(a.units, "mm") || slices.Contains(a.units, "cm")
	v := func(name string) string {
		v, _, ok := fits(r.kind.Field(name), a)
		if !ok {
			return ""
		}
		return v
	}
	done := func() int {
		r.taken = append(r.taken, n)
		return max(n, a.unitSign)
	}
	if g.is(a.to, "attempt", "go", "look", "pass", "try") {
		if c := smallCount(a.decimal); c > 0 && r.put("attempts", itoa(int64(c)), a.from, a.to+1) {
			return done()
		}
	}
	if g.is(a.from-1, "attempt") && smallCount(a.decimal) > 0 && !g.crosses(a.from-1, a.from) {
		if r.put("attempts", a.decimal, a.from-1, a.to) {
			return done()
		}
	}
	if !bare || g.is(a.from-1, "grade", "view", "peep", "rate", "pressure", "for") || g.is(a.from-2, "cuff") {
		return n
	}
	where, side, end := g.tubeMark(a.to)
	d := v("depth")
	if where != "" && d != "" {
		r.put("depth", d, a.from, a.to)
		r.put("depthAt", where, end-1, end)
		if side != "" && where == "nostril" {
			r.put("nostril", side, end-2, end)
		}
		for k := a.to; k < end; k++ {
			if m := g.at[k]; m >= 0 {
				r.taken = append(r.taken, int(m))
			}
		}
		return done()
	}
	size := v("size")
	if r.have["size"] == nil && size != "" && halfMillimetre(size) && !slices.Contains(a.units, "cm") && !(g.is(a.from-1, "at", "@", "to") && r.have["variety"] != nil && d != "") {
		r.put("size", size, a.from, a.to)
		return done()
	}
	if d != "" && (r.have["size"] != nil || slices.Contains(a.units, "cm") || g.is(a.from-1, "at", "@")) {
		if w, side, to := g.tubeMarkBefore(a.from); w != "" { // "right nostril, eleven"
			r.put("depthAt", w, a.from-1, a.from)
			if side != "" && w == "nostril" {
				r.put("nostril", side, to, to+1)
			}
		}
		if r.put("depth", d, a.from, a.to) {
			return done()
		}
	}
	return n
}

// halfMillimetre tells whether a size is one that tubes are made in.
func halfMillimetre(size string) bool {
	whole, part, _ := strings.Cut(size, ".")
	return len(whole) == 1 && (part == "" || part == "0" || part == "5")
}

// tubeMark reads what a depth is counted from, after it: "at the right nostril".
func (g *segment) tubeMark(k int) (where, side string, end int) {
	for ; k < len(g.toks); k++ {
		switch w := g.toks[k].text; w {
		case "at", "to", "@", "the", "her", "his", "cm":
		case "right", "left":
			side = w
		case "lip", "teeth", "mouth":
			return "lip", side, k + 1
		case "gum":
			return "gum", side, k + 1
		case "nostril", "naris", "nare", "nose":
			return "nostril", side, k + 1
		default:
			return "", "", k
		}
	}
	return "", "", k
}

// tubeMarkBefore reads it before the depth: "nostril, eleven".
func (g *segment) tubeMarkBefore(k int) (where, side string, at int) {
	for k--; k >= 0; k-- {
		switch g.toks[k].text {
		case ",", "at", "is", ":":
			continue
		case "nostril", "naris", "nare":
			if g.is(k-1, "right", "left") {
				return "nostril", g.toks[k-1].text, k - 1
			}
			return "nostril", "", k
		case "lip":
			return "lip", "", k
		}
		break
	}
	return "", "", 0
}

// extubatedLater tells whether token k speaks of an extubation on the unit, which is yet
// to come: "oral ETT 4.5, extub in ICU 2h".
func (g *segment) extubatedLater(k int) bool {
	n := k + 2
	if g.is(n, "the") {
		n++
	}
	return g.is(k, "extubated") && g.is(k+1, "in", "on", "at") && g.is(n, "icu", "picu", "itu", "cicu", "unit")
}

// tubeWords may follow the size of a tube.
var tubeWords = wordSet("nasal oral ett tube cuffed uncuffed endotracheal nasotracheal orotracheal")

// hearTubeSize puts the point in the size of a tube that is said without it: "three-five
// nasal", "four oh cuffed".
func (g *segment) hearTubeSize() {
	for k := 0; k+2 < len(g.toks); k++ {
		n := units[g.toks[k].text]
		if n < 2 || n > 7 || !g.is(k+1, "five", "oh", "o") || !tubeWords[g.toks[k+2].text] {
			continue
		}
		if w := g.wordAt(k - 1); w == "point" || units[w] > 0 || tens[w] > 0 || teens[w] > 0 || k > 0 && g.toks[k-1].kind == figure {
			continue
		}
		g.hearAs(k, k+2, g.toks[k].text+" point "+g.toks[k+1].text)
	}
}
