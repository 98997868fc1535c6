package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// contrasts are words after which a second number may be meant instead of the
// first.
var contrasts = wordSet("maybe perhaps no not but actually or instead though although says said has had now so take use wait well rather sorry correction mean make call checked until later changed swapped exchanged replaced upsized it its is was ended went")

// supersedes are words right before, or after, the number that holds now.
var supersedes = wordSet("now currently presently today finally lately")

// bareNext is the next number after token k that has no name of its own and may
// stand for what was said before it; contrast tells whether a word between sets
// the two against each other. -1 where there is none.
func (g *segment) bareNext(k, most int) (n int, contrast bool) {
	last := k
	for j := k; j < len(g.toks) && j-last < most; j++ {
		i := int(g.at[j])
		if g.toks[j].kind == word && contrasts[g.toks[j].text] {
			contrast = true
		}
		if i < 0 || g.signs[i].from != j {
			continue
		}
		p := &g.signs[i]
		switch {
		case p.num != nil && !p.content():
			if p.used || g.namedAfter(i) {
				return -1, false
			}
			return i, contrast
		case p.is(calls), p.is(targets), p.is(depends), p.is(intends) && !p.is(corrects) && !g.is(p.from, "well"):
			return -1, false
		case g.speaks(p):
			return -1, false
		}
	}
	return -1, false
}

// speaks tells whether a sign names something that a number may be said of; who
// said it is no such thing.
func (g *segment) speaks(p *sign) bool {
	if !p.content() || p.has(isUnit) && p.num == nil || g.onlyValues(p) {
		return false
	}
	for _, x := range p.senses {
		if x.kind != namesField || !textual(x.field) {
			return true
		}
	}
	return false
}

// onlyValues tells whether a sign is nothing but a value: "closed", not the name
// of anything.
func (g *segment) onlyValues(p *sign) bool {
	for _, x := range p.senses {
		if x.kind == namesField || x.kind == isItem || x.kind == isVariety || x.kind == isHead || x.kind == isValue && x.field.Path.List() != "" {
			return false
		}
	}
	return true
}

// namedAfter tells whether the number at sign i is said of what follows it: "two
// packs", "five joules".
func (g *segment) namedAfter(i int) bool {
	s := &g.signs[i]
	end := s.to
	for j := i + 1; j < len(g.signs) && g.signs[j].from == end; j++ {
		p := &g.signs[j]
		if p.has(isUnit) && p.num == nil && j == i+1 {
			end = p.to
			continue
		}
		return p.content() && p.num == nil && !g.onlyValues(p) && !g.capital(p.from)
	}
	if end < len(g.toks) && g.toks[end].kind == word && g.at[end] < 0 && end == s.to && !plainAfter[g.toks[end].text] {
		return true // a word the reader does not know: "two dogs"
	}
	return false
}

// capital tells whether the word at token k begins a sentence by its capital alone.
func (g *segment) capital(k int) bool {
	w := g.words(k, k+1)
	return k > 0 && len(w) > 2 && w[0] >= 'A' && w[0] <= 'Z' && w[1] >= 'a' && w[1] <= 'z' && !named[g.toks[k].text]
}

// plainAfter are words that may follow a number and name nothing.
var plainAfter = wordSet("and but in on at is was it we i she he they so then now no not or for by the a to with as per after before when since instead only today from until while if again though overall altogether total exactly")

// passedBy tells whether the number at sign i is followed by another, with nothing
// else named between, that is said to hold now: "sats sixty four and now eighty
// four", "0.1 earlier and 0.07 now", "five, or ten, it is ten now".
func (g *segment) passedBy(i int) bool {
	a := &g.signs[i]
	if a.num == nil || a.num.decimal == "" || g.namedAfter(i) {
		return false
	}
	end := a.to
	for hops := 0; hops < 3; hops++ {
		n, _ := g.bareNext(end, 10)
		if n < 0 || g.signs[n].num.decimal == "" || g.crossesStop(a.to, g.signs[n].from) {
			return false
		}
		b := &g.signs[n]
		k := b.from - 1
		for g.is(k, "a", "an", "at", "about", "is", "its", "are", "to") {
			k--
		}
		if k >= a.to && k >= 0 && g.toks[k].kind == word && supersedes[g.toks[k].text] {
			return true
		}
		k = b.to
		if n+1 < len(g.signs) && g.signs[n+1].has(isUnit) && g.signs[n+1].num == nil && g.signs[n+1].from == k {
			k = g.signs[n+1].to
		}
		if k < len(g.toks) && g.toks[k].kind == word && supersedes[g.toks[k].text] || g.is(k, "on") && g.is(k+1, "leaving") || g.is(k, "at") && g.is(k+1, "the") && g.is(k+2, "door", "end") {
			return true
		}
		end = b.to
	}
	return false
}

// exchanged tells whether the number at sign i is of a thing that was changed for
// another: "a fifteen, changed for a sixteen".
func (g *segment) exchanged(i int) bool {
	s := &g.signs[i]
	for k := s.to; k < len(g.toks) && k < s.to+9 && g.toks[k].kind != stop; k++ {
		if !g.is(k, "changed", "swapped", "exchanged", "replaced", "upsized", "downsized", "switched", "traded") {
			continue
		}
		for j := k + 1; j < len(g.toks) && j < k+4; j++ {
			if g.is(j, "for", "to", "with", "by") {
				for j++; g.is(j, "a", "an", "the", "new", "fresh"); j++ {
				}
				return g.numberAt(j)
			}
		}
	}
	return false
}

// fallen are words for a state that got worse and is not said to have stayed so.
var fallen = wordSet("dropped fell drifted sank sagged slipped crept plunged plummeted crashed tumbled drifting falling sinking dipped desaturated dropping went drifts")

// fellTo tells whether the number at sign i is what a state fell to: "the
// saturation drifted down to fifty five", or joined to one that did: "the mean fell
// to thirty three and the saturation to fifty eight".
func (g *segment) fellTo(i int) bool {
	k := g.signs[i].from - 1
	for g.is(k, "about", "around", "a", "the", "low") {
		k--
	}
	if !g.is(k, "to", "into", "at") {
		return false
	}
	joined := false
	for j := k - 1; j >= 0 && j >= k-12; j-- {
		t := &g.toks[j]
		if t.kind == stop || t.text == "but" || t.text == "now" || t.text == "then" {
			return false
		}
		if fallen[t.text] && t.kind == word {
			down := t.text != "went" || g.is(j+1, "down", "off", "as")
			return down && (joined || j >= k-4 || g.is(j+1, "from") || g.is(j+2, "from"))
		}
		joined = joined || t.text == "and"
	}
	return false
}

// tookOut tells whether the number at sign i is the size of a shunt or conduit said
// to have come out: "a three and a half shunt came out and a four went in".
func (g *segment) tookOut(i int) bool {
	end, met := g.signs[i].to, false
	for j := i + 1; j < len(g.signs) && g.signs[j].from-end <= 3 && !g.crosses(end, g.signs[j].from); j++ {
		p := &g.signs[j]
		if p.from == end && g.is(p.from, "came") && g.is(p.from+1, "off") && !g.is(p.from+2, "bypass", "pump") && !(g.signs[i].num.clock != "" && g.is(g.signs[i].from-1, "at")) {
			return true // "the three and a half came off, a four went on"
		}
		if p.is(removed) {
			return met && p.scope&(denied|intended) == 0 && !g.is(p.from-1, "not", "clip", "snare")
		}
		supply := g.within(p, "shunt", "conduit", "tube")
		for _, x := range p.senses {
			supply = supply || x.field != nil && x.field.Section == "supply"
		}
		if !supply && !(p.has(isUnit) && p.num == nil) {
			return false
		}
		met = met || supply
		end = p.to
	}
	return false
}

// beforeThis tells whether the number at sign i is of before, where another of after
// follows: "twelve before volume, nine after".
func (g *segment) beforeThis(i int) bool {
	end := g.signs[i].to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == end {
		end = g.signs[i+1].to
	}
	if !g.is(end, "before", "pre") {
		return false
	}
	for k := end + 1; k < len(g.toks) && k < end+7 && g.toks[k].kind != stop; k++ {
		if g.numberAt(k) {
			j := g.signs[g.at[k]].to
			return g.is(j, "after", "afterward", "post", "now") || g.is(k-1, "after", "now", "post")
		}
	}
	return false
}

// onTest tells whether the number at sign i was read while something was tried:
// "test occluded, saturations rose to 95".
func (g *segment) onTest(i int) bool {
	k := g.signs[i].from - 1
	if !g.is(k, "to", "at", "was") {
		return false
	}
	for j := k - 1; j >= 0 && j >= k-9 && g.toks[j].kind != stop; j-- {
		if g.is(j, "now", "leaving", "open", "opened", "reopened", "released") {
			return false
		}
		if g.is(j, "occluded", "occlusion", "occluding") || g.is(j, "test", "trial") && g.is(j+1, "clamp", "clamped", "clamping", "snared", "closed") {
			return true
		}
	}
	return false
}

// decides reads the words right before token k that settle between numbers: "so
// four", "go with fourteen", "leave it at one seventy". It gives the token where
// they begin, or -1.
func (g *segment) decides(k int) int {
	j := k - 1
	for g.is(j, "a", "an", "the") {
		j--
	}
	switch {
	case g.is(j, "with", "by") && g.is(j-1, "go", "going", "stick", "stay", "went"):
		return j - 1
	case g.is(j, "at") && g.is(j-1, "it") && g.is(j-2, "leave", "keep", "put"):
		return j - 2
	case g.is(j, "it") && g.is(j-1, "call", "make", "say"):
		return j - 1
	case g.is(j, "put") && g.is(j-1, "so"):
		return j - 1
	case g.is(j, "use", "take", "believe", "trust", "enter", "record", "write") && (j == 0 || !g.is(j-1, "to", "not", "we", "i", "they", "will", "did")):
		return j
	case g.is(j, "so") && j > 0 && g.is(j-1, ","):
		return j
	case g.is(j, "used", "chose", "using") && (g.is(j-1, ",", "but", "then", "and", "instead") || g.is(j-1, "we", "i") && g.is(j-2, ",", "but", "so", "and")):
		return j
	case g.is(j, "is", "its") && g.is(j-1, "it", "so", "answer") && g.is(j-2, "so", ",", "and") || g.is(j, "its") && g.is(j-1, "so"):
		return j - 1
	}
	return -1
}

// decide carries out "eleven, the perfusionist has fourteen, go with fourteen":
// the number decided for takes the place of all that were said before it.
func (g *segment) decide() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.num.decimal == "" || s.used {
			continue
		}
		from := g.decides(s.from)
		if from < 1 || g.namedAfter(i) || g.is(s.to, "between", "across", "apart") {
			continue
		}
		unit := func(j int) bool { // tells whether a unit stands right after
			return j+1 < len(g.signs) && g.signs[j+1].has(isUnit) && g.signs[j+1].num == nil && g.signs[j+1].from == g.signs[j].to
		}
		first, last := -1, from
		var seen []int
		for j := i - 1; j >= 0; j-- {
			p := &g.signs[j]
			if told := j > 0 && p.is(calls) && g.signs[j-1].to == p.from && g.tells(&g.signs[j-1]); last-p.to > 9 || p.is(calls) && !told || p.is(targets) {
				break
			}
			if p.num != nil && !p.content() {
				if p.num.decimal == "" {
					break
				}
				if p.num.decimal != s.num.decimal && !g.nearTo(j, i, 2) && (g.is(p.from-1, "the") || g.is(s.from-1, "put")) {
					continue // "I can't tell the two apart, call it thirteen"
				}
				if unit(i) && unit(j) && g.words(g.signs[i+1].from, g.signs[i+1].to) != g.words(g.signs[j+1].from, g.signs[j+1].to) {
					break // a size and a time
				}
				if !p.used && p.scope&unreal == 0 && !g.namedAfter(j) {
					first, last = j, p.from
					seen = append(seen, j)
				}
				continue
			}
			if g.speaks(p) && !g.is(p.from, "number", "figure") && !g.bareSide(j) && !g.tells(p) {
				break
			}
		}
		if first < 0 {
			continue
		}
		for _, j := range seen {
			g.signs[j].used = true
		}
		for j := first + 1; j < i; j++ {
			if g.is(g.signs[j].from, "no") && g.signs[j].is(denies) {
				g.signs[j].used = true // the number decided for is what it led to
			}
		}
		g.signs[first].used = false
		g.signs[first].scope &^= denied | past | weighed | hearsay | vague
		if g.signs[first].num.decimal == s.num.decimal && g.signs[first].num.clock == s.num.clock {
			s.used = true
			continue
		}
		g.substitute(first, i)
	}
}

// tells tells whether a sign is who tells a number: "perfusion tells me", "by perfusion".
func (g *segment) tells(p *sign) bool {
	return g.is(p.from, "told") && g.is(p.to-1, "by") || g.is(p.from, "perfusion", "perfusionist", "anesthesia", "anesthetist") && (g.is(p.to, "say", "said", "tell", "told", "has", "just", "make") || g.is(p.to, "is") && g.is(p.to+1, "telling", "saying") || g.is(p.from-1, "by"))
}

// doubt drops what the words after it put in question and nothing settled: a
// value that is not certain is not proposed.
func (g *segment) doubt() {
	for a := range g.claims {
		c := &g.claims[a]
		if c.gone || c.stated != "" || !c.field.Numeric() && c.field.Format == "" || c.field.Name == "count" {
			continue
		}
		n, contrast := g.bareNext(c.to, 12)
		contrast = contrast || n >= 0 && c.group < 0 && g.signs[n].from == c.to && g.numberAt(c.to-1) // "fifty fifty five"
		if n < 0 || !contrast || g.claimedSign(n) || g.crossesStop(c.to, g.signs[n].from) && !g.correctsSoon(c.to) {
			continue
		}
		am, ok := g.amountAt(n)
		if !ok || g.olderThan(c.to, n) || g.signs[n].scope&(calling|aiming|intended|denied|past) != 0 {
			continue
		}
		if v, _, fit := fits(c.field, am); !fit || v == c.value {
			continue
		}
		c.gone = true
		if c.group >= 0 && g.groups[c.group].item == nil {
			g.groups[c.group].gone = true
		}
	}
	for a := range g.claims { // "adrenaline, off. No wait, point oh two"
		c := &g.claims[a]
		if c.gone || c.field.Name != "state" || c.value != "stopped" || c.group < 0 {
			continue
		}
		for i := range g.signs {
			if s := &g.signs[i]; s.from >= c.to && s.from-c.to <= 5 && (s.is(corrects) || s.is(scratches) || g.interjected(s)) && s.num == nil {
				if n, _ := g.bareNext(s.to, 4); n >= 0 && !g.claimedSign(n) {
					g.groups[c.group].gone = true
				}
			}
		}
	}
	for a := range g.claims { // "sats 74 to 76", "mean 44, 45"
		c := &g.claims[a]
		if c.gone || c.stated != "" || c.field.Format != "" || !c.field.Numeric() || c.sure != Certain || c.field.Name == "count" || !g.numberAt(c.from) {
			continue
		}
		if k := c.to; (g.is(k, "to", ",") || g.is(k, ",") && g.is(k+1, "to")) && g.numberAt(k+1) {
			n := int(g.at[k+1])
			if g.signs[n].from != k+1 || g.namedAfter(n) || g.claimedSign(n) || g.signs[n].used || g.signs[n].scope != 0 {
				continue
			}
			if am, ok := g.amountAt(n); ok {
				if _, _, fit := fits(c.field, am); fit {
					c.sure, c.note = Check, "two numbers were said"
				}
			}
		}
	}
	for a := range g.claims { // "no arrest. Actually there was, four minutes"
		c := &g.claims[a]
		if c.gone || c.stated != schema.StatedNone || c.group >= 0 || c.field.Section != "support" {
			continue
		}
		n, contrast := g.bareNext(c.to, 12)
		if n < 0 || !contrast && !g.correctsSoon(c.to) || g.claimedSign(n) {
			continue
		}
		if am, ok := g.amountAt(n); ok && len(am.units) > 0 && slices.Contains(am.units, "min") {
			c.gone = true
		}
	}
	for a := range g.claims { // "duct tied, ligated, not divided": one of them denied is not none
		c := &g.claims[a]
		if c.gone || c.stated != schema.StatedNone && c.value != "none" || len(c.field.Enum) == 0 || !g.is(c.from-1, "not") {
			continue
		}
		for b := range g.claims {
			if o := &g.claims[b]; b != a && !o.gone && o.field == c.field && o.stated == "" && o.value != "none" && !g.crossesStop(min(o.to, c.from), max(o.to, c.from)) {
				c.gone = true
			}
		}
	}
	for k := 1; k+1 < len(g.toks); k++ { // "Left Glenn? Right."
		if !g.is(k, "?") || !g.is(k+1, "right", "left", "bilateral") {
			continue
		}
		for a := range g.claims {
			if c := &g.claims[a]; c.group < 0 && max(c.to, c.whyTo) == k && (strings.Contains(c.value, "left") || strings.Contains(c.value, "right")) && !strings.Contains(c.value, g.toks[k+1].text) {
				c.gone = true
			}
		}
	}
	g.exceptions()
	g.doubtPairs()
	g.doubtSternum()
	g.doubtLoss()
	g.doubtBounds()
	g.doubtCannulas()
	g.foundAgain()
}

// onlyLimits are values of a blood gas that are measured, not bounded: a bound said of
// one is a limit or a target.
var onlyLimits = map[string]bool{"haemoglobin": true, "haematocrit": true, "potassium": true, "ionisedCalcium": true, "sodium": true}

// doubtBounds drops limits taken for measured values: "Haemoglobin over ten."
func (g *segment) doubtBounds() {
	for a := range g.claims {
		if c := &g.claims[a]; c.bound != "" && c.field.Section == "gas" && onlyLimits[c.field.Name] {
			c.gone = true
		}
	}
}

// doubtCannulas drops the cannulas of a support that has ended, unless one is said to
// have been left: what is told of them is how they came out.
func (g *segment) doubtCannulas() {
	if g.lex.kind != schema.SupportOff {
		return
	}
	stays := g.mentions("stump", "stay", "remain", "kept") || g.mentions("left") && g.mentions("in", "situ", "clamped")
	for i := range g.groups {
		if x := &g.groups[i]; !stays && !x.denied && x.item != nil && x.item.Name == "support-cannula" {
			x.gone = true
		}
	}
}

// foundAgain takes a count that was short and then made up for correct: "one short,
// found it under the drape, right".
func (g *segment) foundAgain() {
	for a := range g.claims {
		c := &g.claims[a]
		if c.gone || c.field.Section != "counts" || c.value != "incorrect" {
			continue
		}
		found := false
		for k := c.to; k < len(g.toks) && k < c.to+14; k++ {
			found = found || g.is(k, "found", "turned", "recount", "recounted")
			if found && g.is(k, "correct", "right", "fine", "complete", "ok") && !g.is(k-1, "not") {
				c.value, c.sure, c.note = "correct", Check, "said to be short first"
				break
			}
		}
	}
}

// exceptions leave to a person what is said with an exception: "swab count correct
// except the two packs".
func (g *segment) exceptions() {
	for k := range g.toks {
		if !(g.is(k, "except", "excepting", "barring", "bar") || g.is(k, "apart", "aside") && g.is(k+1, "from") || g.is(k, "other") && g.is(k+1, "than") || g.is(k, "but", "save") && g.is(k+1, "for")) {
			continue
		}
		for a := range g.claims {
			if c := &g.claims[a]; c.group < 0 && c.stated == "" && len(c.field.Enum) > 0 && max(c.to, c.whyTo) <= k && k-max(c.to, c.whyTo) <= 4 && !g.crossesStop(c.to, k) {
				c.sure, c.note = Check, "an exception follows: "+g.words(k, min(len(g.toks), k+5))
			}
		}
	}
}

// doubtPairs drops a saturation and the oxygen it was measured in where another pair
// follows: "90 in 100 percent, 76 in 40". It drops that no bypass was used, too,
// where it is then said that they had to go on.
func (g *segment) doubtPairs() {
	for a := range g.claims {
		c := &g.claims[a]
		if c.gone || c.group >= 0 {
			continue
		}
		switch {
		case c.field.Path == schema.LeavingSaturation && c.stated == "" && g.is(c.to, "in", "on"):
			for k := c.to + 2; k < len(g.toks) && k < c.to+8 && g.toks[k].kind != stop; k++ {
				if !g.numberAt(k) || g.at[k] == g.at[k-1] || !g.is(k-1, ",", "and", "then") || !g.is(g.signs[g.at[k]].to, "in", "on") || !g.numberAt(g.signs[g.at[k]].to+1) {
					continue
				}
				c.gone = true
				for b := range g.claims {
					if o := &g.claims[b]; o.field.Path == schema.LeavingInspiredOxygen && o.from >= c.to {
						o.gone = true
					}
				}
			}
		case c.field.Path == schema.SupportMode && (c.value == "off-pump" || c.value == "caval-shunt"):
			for k := c.to; k+2 < len(g.toks) && k < c.to+14; k++ {
				if g.is(k, "had", "needed") && g.is(k+1, "to") && g.is(k+2, "go", "use", "convert", "cannulate") || g.is(k, "went") && g.is(k+1, "on") {
					c.gone = true
				}
			}
		}
	}
}

// doubtLoss leaves a loss to the drain or the tear it is said of, a heart rate to the box
// that paces it, and a number of runs to what counts them.
func (g *segment) doubtLoss() {
	for a := range g.claims {
		c := &g.claims[a]
		if c.gone || c.group >= 0 {
			continue
		}
		switch c.field.Path {
		case schema.WorkEstimatedLoss:
			for k := c.why; k >= 0 && k >= c.why-9 && (k == c.why || g.toks[k].kind != stop); k-- {
				if g.is(k, "drain", "drainage", "vein", "tore", "torn", "tear", "injury", "injured", "chamber", "bottle", "laceration", "lacerated", "nicked", "hole") {
					c.gone = true
				}
			}
		case schema.LeavingHeartRate:
			for b := range g.claims {
				if p := &g.claims[b]; !p.gone && p.field.Path == schema.LeavingPacingRate && p.from > c.to && p.value != c.value {
					c.gone = true
				}
			}
		case schema.SupportBypassTotal, schema.SupportClampTotal, schema.SupportArrestTotal:
			if k := c.to; g.is(k, "run", "period") || g.is(k, "pump", "bypass", "clamp", "arrest") && g.is(k+1, "run", "period") {
				c.gone = true // "two pump runs" counts them
			}
		}
	}
}

// olderThan tells whether the number at sign n is said of before, or is denied:
// "nine point one, was 8.4 in clinic", "eighteen, not twenty".
func (g *segment) olderThan(k, n int) bool {
	j := g.signs[n].from - 1
	for g.is(j, "a", "an", "at", "about") {
		j--
	}
	if g.is(j, "not") {
		return true
	}
	if !g.is(j, "was", "were", "been") {
		return false
	}
	for ; j >= k; j-- {
		if g.is(j, "no", "but", "actually", "sorry", "wait", "correction") {
			return false
		}
	}
	return true
}

// maybe tells whether the word at token k is only spoken of: "we may have to
// reopen".
func (g *segment) maybe(k int) bool {
	for j := k - 1; j >= 0 && j >= k-5 && g.toks[j].kind == word; j-- {
		if g.is(j, "may", "might", "would", "could", "will", "if", "ready", "need", "should", "can", "when", "plan", "planned", "next", "later") {
			return true
		}
	}
	return false
}

// claimedSign tells whether any claim was read from sign n.
func (g *segment) claimedSign(n int) bool {
	for i := range g.claims {
		if c := &g.claims[i]; !c.gone && c.from < g.signs[n].to && g.signs[n].from < c.to {
			return true
		}
	}
	return false
}

// correctsSoon tells whether what follows the next stop takes back what stood
// before it.
func (g *segment) correctsSoon(k int) bool {
	for ; k < len(g.toks); k++ {
		if g.toks[k].kind == stop {
			i := g.nextSign(k)
			return i < len(g.signs) && g.signs[i].from-k <= 2 && (g.signs[i].is(corrects) || g.signs[i].is(scratches) || g.signs[i].is(denies))
		}
	}
	return false
}

// doubtSternum lets the last word on the chest stand: "I closed the bone, then
// opened it again", "Closed. No, of course it isn't, so it is open".
func (g *segment) doubtSternum() {
	f := fieldAt(schema.ClosingSternum)
	if !g.inNote(f) {
		return
	}
	closed := -1 // where it was said to be closed
	for a := range g.claims {
		if c := &g.claims[a]; !c.gone && c.field == f && c.value == "closed" {
			closed = max(closed, c.to)
		}
	}
	said := closed >= 0
	for a := range g.claims {
		said = said && !(g.claims[a].field == f && g.claims[a].value == "open" && !g.claims[a].gone && g.claims[a].from > closed)
	}
	chest := -1
	for k := range g.toks {
		if g.is(k, "chest", "sternum", "bone") && (closed >= 0 || g.is(k+1, "closed", "shut") || g.is(k+2, "closed", "shut")) {
			chest = k
			break
		}
	}
	from := closed
	if from < 0 {
		from = chest
	}
	if from < 0 {
		return
	}
	for k := from; k < len(g.toks); k++ {
		w := g.toks[k].text
		again := w == "reopened" || w == "reopen" || strings.HasPrefix(w, "open") && (g.is(k+1, "again") || g.is(k+2, "again")) && g.is(k, "opened", "open")
		open := w == "open" && (g.is(k-1, "left", "stay", "stayed", "is", "its", "remain", "remained", "so", "still", "back", "leave", "stood", "keep", "kept", "sternum", "bone") || g.is(k-1, ",") && (g.is(k-2, "so", "no")) || g.toks[max(0, k-1)].kind == stop && (g.is(k-2, "no") || g.is(k-2, "not")))
		if !again && !open || g.unrealAt(k) || g.maybe(k) || g.is(k-1, "not", "never") || g.is(k-2, "not") || g.is(k+1, "under") || g.skinBefore(k) || g.is(k-2, "pericardium") || g.is(k-3, "pericardium") {
			continue
		}
		dropped := false
		for a := range g.claims {
			if c := &g.claims[a]; c.field == f && c.value == "closed" && c.to <= k {
				c.gone, dropped = true, true
			}
		}
		if open && (dropped || !said && chest >= 0) && !g.claimsValue(f, "open") {
			c := g.claimField(f, "open", k, k+1, k, k+1)
			c.sure, c.note = Check, "said to be closed first"
		}
		closedAgain := false
		for j := k + 1; j < len(g.toks); j++ {
			closedAgain = closedAgain || g.is(j, "reclosed") || g.is(j, "closed", "close", "shut") && (g.is(j+1, "again") || g.is(j-1, "then", "finally"))
		}
		if closedAgain {
			for a := range g.claims {
				if c := &g.claims[a]; c.field == f && c.value == "open" && c.from <= k {
					c.gone = true
				}
			}
		}
	}
}

func (g *segment) claimsValue(f *schema.Field, v string) bool {
	for a := range g.claims {
		if c := &g.claims[a]; !c.gone && c.field == f && c.value == v {
			return true
		}
	}
	return false
}

// skinBefore tells whether the word at token k is said of the skin, or of a wound
// or another thing that may be open.
func (g *segment) skinBefore(k int) bool {
	for j := k - 1; j >= 0 && j >= k-5; j-- {
		if g.is(j, "chest", "sternum", "bone", "sternal") {
			return false
		}
		if g.is(j, "skin", "fenestration", "pleura", "pericardium", "shunt", "duct", "azygo", "snare", "clip", "branch", "valve", "flow", "conduit", "artery") {
			return true
		}
	}
	return false
}
