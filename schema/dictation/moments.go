package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// moment is when a number of a state was so, by the words beside it.
type moment uint8

const (
	anyTime  moment = iota // not said
	before                 // before what was done
	passed                 // at another time that is over
	lastTime               // after what was done, or now
)

// beforePhrases, passedPhrases and lastPhrases tell, right after a number, when it was so,
// where no cue does. What follows them up to the next mark belongs to them.
var (
	beforePhrases = splitPhrases("before; beforehand; pre; prior; going in; coming in; to start; to start with; at start; at the start; to begin with; on the unit; in the unit; on unit; in icu; on icu; in picu; on picu; on itu; on the ward; in the ambulance; on arrival; at cath; at catheter; at the cath; on induction")
	passedPhrases = splitPhrases("during; in the arrest; in arrest; at arrest; on the arrest gas; at the arrest; in the middle; at worst; at the worst; at its worst; at their worst; at peak; at the peak; at its peak; at the highest; at its highest; first off; first time off; at first; first; initially; early on; earlier; coming off; straight off; just off; going on; on bypass; on pump; on the first run; on the first gas; on the first; on first look; at one point; until; while; the old one; the old gas; the first one; the earlier one; from before; from earlier; the wrong one; with the clamp; with the chest; with the sternum; with the fenestration; with the shunt; with the duct; on test")
	lastPhrases   = splitPhrases("now; after; afterwards; afterward; after that; since; leaving; on leaving; at leaving; at the end; by the end; at the door; by the time; on the last; last; on the repeat; repeat; as i speak; as we speak; currently; at present; at handover; post; final; today; once; when we left; when we rolled; when we moved; when we closed; as we left; following; with it")
)

// leadIns may stand between the mark after one number and the next number said of the same.
var leadIns = wordSet("now then and but it is its was were back up down to at only just a an the they are she he by came went reading read about we got settled around roughly")

// moments lets a number of a state give way to a later one of the same, where the words
// after each tell when it was so: "seventeen on the arrest gas, twelve now", "sixteen first
// off, volume out, thirteen now", "six point one at the start, five point four".
func (g *segment) moments() {
	for i := range g.signs {
		if !g.stateNamed(i) {
			continue
		}
		a := g.numberOfName(i)
		if a < 0 {
			continue
		}
		saturation, last := g.ofSaturation(i), a
		for hops := 0; hops < 3; hops++ {
			end, at := g.momentAfter(g.endOfAmount(last))
			if at == before && hops == 0 && g.onUnitThen(i, g.endOfAmount(last)) {
				g.signs[a].scope |= past
			}
			b := g.nextSaid(last, end, at)
			if b >= 0 && at == before && saturation && !hasSection(g.lex.kind, "between") {
				a, last = b, b // which has a field of its own
				continue
			}
			if b < 0 || g.ownPlace(at, saturation && !g.is(g.endOfAmount(last), "during")) || g.looksPh(b) && !g.looksPh(a) {
				break
			}
			_, later := g.momentAfter(g.endOfAmount(b))
			if later == anyTime && g.anyWithin(end, g.signs[b].from, "now", "leaving", "finally", "repeat", "rpt") {
				later = lastTime
			}
			if later == before || later == passed {
				if (at == lastTime || at == anyTime) && !g.ownPlace(later, saturation) && !g.peakOf(i, b) {
					g.signs[b].scope |= past // "4.8, 6.1 at the worst"
				}
				break
			}
			if at == anyTime || at == lastTime && later != lastTime {
				break
			}
			if g.peakOf(i, last) { // the highest has a field of its own
				g.claimLater(i, b)
				break
			}
			for n := last + 1; n < b; n++ {
				if p := &g.signs[n]; p.num == nil && p.from < end && !p.has(isUnit) {
					p.used, p.senses = true, nil
				}
			}
			g.takePlace(a, b)
			g.signs[i].scope &^= past | coming
			last = b
		}
	}
}

// ownPlace tells whether what was so at a moment has a field of its own in the note: a
// saturation before the work, what was measured before the chest was closed.
func (g *segment) ownPlace(at moment, saturation bool) bool {
	return at == before && (saturation || g.lex.kind == schema.Closure) || at != lastTime && saturation && hasSection(g.lex.kind, "between")
}

// looksPh tells whether the number at sign i can hardly be anything but a pH.
func (g *segment) looksPh(i int) bool {
	d := g.signs[i].num.decimal
	return len(d) == 4 && (d[:2] == "7." || d[:2] == "6.")
}

// claimLater reads the number at sign b, which follows the peak of the lactate named at sign
// i, as the lactate of now.
func (g *segment) claimLater(i, b int) {
	f := fieldAt(schema.GasLactate)
	if n, contrast := g.bareNext(g.endOfAmount(b), 5); n >= 0 && contrast && g.nearTo(b, n, 2) {
		g.signs[b].used = true // "four point five, no, five point four now"
		b = n
	}
	a, ok := g.amountAt(b)
	if !ok {
		return
	}
	if v, _, fit := fits(f, a); fit {
		g.claimField(f, v, a.from, a.to, g.signs[i].from, a.to)
		g.useAmount(a)
	}
}

// stateNamed tells whether sign i names a number of the state of the child, which changes
// while one tells of it.
func (g *segment) stateNamed(i int) bool {
	s := &g.signs[i]
	if s.num != nil || s.used || s.scope&(calling|aiming|denied|intended) != 0 {
		return false
	}
	return slices.ContainsFunc(s.senses, func(x sense) bool {
		return x.kind == namesField && x.field.Numeric() && x.field.Path.List() == "" && state(x.field.Path) && (x.field.Section != "ventilation" || x.field.Path == schema.VentilationNitricOxide)
	}) || g.pressureAt(i) != "" || g.partNamed(s) != "" && g.lex.kind != schema.Closure
}

// ofSaturation tells whether sign i names the saturation, which has a field of its own for
// before the work in some notes.
func (g *segment) ofSaturation(i int) bool {
	return g.meansName(&g.signs[i], fieldAt(schema.LeavingSaturation)) || g.meansName(&g.signs[i], fieldAt(schema.BetweenSaturationBeforeWork))
}

// numberOfName is the number right after the name at sign i, or -1.
func (g *segment) numberOfName(i int) int {
	for j := i + 1; j < len(g.signs) && g.signs[j].from-g.signs[i].to <= 4; j++ {
		p := &g.signs[j]
		if p.num != nil {
			if p.used || p.content() || p.num.decimal == "" || p.scope&(calling|aiming|denied) != 0 || g.is(g.endOfAmount(j), "over", "/", "to", "by") || g.crossesStop(g.signs[i].to, p.from) {
				return -1
			}
			return j
		}
		if p.content() && !p.has(isUnit) && !(p.from == g.signs[i].to && g.pressureAt(j) == "" && !g.names(p)) {
			return -1
		}
	}
	return -1
}

// endOfAmount is the token after the number at sign i and its unit.
func (g *segment) endOfAmount(i int) int {
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].num == nil && g.signs[i+1].from == g.signs[i].to {
		return g.signs[i+1].to
	}
	return g.signs[i].to
}

// momentAfter reads the words from token k on that say when the number before them was so,
// up to the mark that ends them.
func (g *segment) momentAfter(k int) (end int, at moment) {
	switch {
	case g.is(k, ",", "(") && g.is(k+1, "that", "which", "this") && g.is(k+2, "was", "is"):
		k += 3
	case g.is(k, ",", "(") && g.is(k+1, "that") && g.is(k+2, "the", "from", "with", "on", "before"):
		k += 2 // "that's the old one"
	}
	match := func(phrases [][]string) bool {
		return slices.ContainsFunc(phrases, func(p []string) bool {
			for n, w := range p {
				if !g.is(k+n, w) {
					return false
				}
			}
			return true
		})
	}
	if k < len(g.toks) && g.at[k] >= 0 && g.signs[g.at[k]].from == k {
		switch s := &g.signs[g.at[k]]; {
		case s.is(comes):
			at = before
		case s.is(passing), s.is(priorly):
			at = passed
		case s.is(arrives):
			at = lastTime
		}
	}
	switch {
	case match(beforePhrases):
		at = before
	case at != anyTime:
	case match(lastPhrases):
		at = lastTime
	case match(passedPhrases):
		at = passed
	}
	if at == anyTime {
		return k, at
	}
	for end = k; end < len(g.toks) && end < k+9 && g.toks[end].kind != stop && !g.is(end, ",", ")", "→", ">", "but", "and", "then"); end++ {
		if end > k && (g.numberAt(end) && !g.is(end-1, "first", "last", "second", "old", "that") || g.is(end, "now")) {
			break
		}
	}
	return end, at
}

// nextSaid is the next number said of the same as the one at sign a, from token k on, where
// the words that told when ended; -1 where something else is named first.
func (g *segment) nextSaid(a, k int, at moment) int {
	pieces := 0
	for ; k < len(g.toks); k++ {
		switch {
		case g.numberAt(k):
			b := int(g.at[k])
			if p := &g.signs[b]; p.from != k || p.used || p.content() || p.scope&(calling|aiming|denied) != 0 || !sameSort(&g.signs[a], p) || g.unitsDiffer(a, b) || !g.nearEnough(&g.signs[a], p) || g.ofPairAfter(b) {
				return -1
			}
			if pieces > 0 && !g.is(k-1, "now") && !g.is(g.endOfAmount(b), "now", "after", "leaving") {
				return -1
			}
			return b
		case g.toks[k].kind == stop:
			return -1
		case g.is(k, ",", "→", ">", ")", ";") || leadIns[g.toks[k].text] && g.toks[k].kind == word:
			if n := g.at[k]; n >= 0 && g.names(&g.signs[n]) {
				return -1
			}
		default:
			if at == anyTime || pieces > 3 || g.at[k] >= 0 && (g.stateNamed(int(g.at[k])) || g.signs[g.at[k]].content2() || g.signs[g.at[k]].is(calls) || g.signs[g.at[k]].is(targets)) {
				return -1
			}
			pieces++
		}
	}
	return -1
}

// ofPairAfter tells whether the number at sign b has a name of its own after it, or is the
// first of two that belong together.
func (g *segment) ofPairAfter(b int) bool {
	k := g.endOfAmount(b)
	if g.is(k, "over", "/", "x") || g.is(k, "by") && !g.is(k+1, "the") {
		return true
	}
	if _, at := g.momentAfter(k); at != anyTime {
		return false
	}
	return g.namedAfter(b)
}

// peakOf tells whether the number at sign b is the peak of the lactate named at sign i,
// which has a field of its own.
func (g *segment) peakOf(i, b int) bool {
	return g.meansName(&g.signs[i], fieldAt(schema.GasLactate)) && g.inNote(fieldAt(schema.PerfusionPeakLactate)) && g.anyPeak(g.endOfAmount(b), g.endOfAmount(b)+5)
}

// anyPeak tells whether the tokens from a up to b say that a number was the highest.
func (g *segment) anyPeak(a, b int) bool {
	for k := a; k < b; k++ {
		if w := g.wordAt(k); peakWords[w] || pumpWords[w] {
			return true
		}
	}
	return false
}

// itsNow lets a number of a state give way to the one that "it" is said to be after what was
// done: "Glenn eighteen, and with nitric it is fifteen", "eighty four, so we turned the oxygen
// down and it's seventy nine now", "twenty one until the nitric brought it to fifteen"; what
// "it was" then is of before.
func (g *segment) itsNow() {
	for i := range g.signs {
		if !g.stateNamed(i) {
			continue
		}
		a := g.numberOfName(i)
		if a < 0 || g.ofSaturation(i) && hasSection(g.lex.kind, "between") {
			continue
		}
		for k := g.endOfAmount(a); k < len(g.toks) && k-g.signs[a].to < 26; k++ {
			if n := g.at[k]; n >= 0 && g.signs[n].from == k && int(n) != i && g.signs[n].num == nil && (g.sameMeasure(i, int(n)) || g.signs[n].is(calls) || g.signs[n].is(targets)) {
				break
			}
			b, was := g.saidOfIt(k)
			if b < 0 || g.is(k, "and", "then") && g.ofSaturation(i) || g.signs[b].used || !sameSort(&g.signs[a], &g.signs[b]) || !g.nearTo(a, b, 1.7) || g.unitsDiffer(a, b) || g.signs[b].scope&(calling|aiming|denied) != 0 || g.ofPairAfter(b) {
				continue
			}
			if was {
				g.signs[b].scope |= past
				break
			}
			for n := a + 1; n < b; n++ {
				if p := &g.signs[n]; p.is(corrects) || p.is(denies) {
					p.used = true
				}
			}
			g.takePlace(a, b)
			g.signs[i].scope &^= past | coming
			break
		}
	}
}

// onUnitThen tells whether the pressure named at sign i was of the days before the operation, by
// the place at token k: "the Glenn was twenty six in the unit".
func (g *segment) onUnitThen(i, k int) bool {
	switch g.lex.kind {
	case schema.Takedown, schema.Stage2, schema.Stage3, schema.ShuntRevision:
	default:
		return false // the work may have been done there
	}
	if g.is(k+1, "the") {
		k++
	}
	return g.pressureAt(i) != "" && g.is(k+1, "unit", "ward", "icu", "picu", "itu") && !g.mentions("now", "today", "leaving")
}

// movedOn are verbs that take a number of the state from what it was to what it is.
var movedOn = wordSet("came went rose climbed jumped walked dropped fell settled improved recovered drifted crept shot")

// sameMeasure tells whether sign n names a number of the same sort as the one that sign i
// names, so that "it" may be said of either.
func (g *segment) sameMeasure(i, n int) bool {
	unit := func(j int) string {
		if g.pressureAt(j) != "" {
			return "mm[Hg]"
		}
		for _, x := range g.signs[j].senses {
			if x.kind == namesField && x.field.Numeric() {
				return x.field.Unit
			}
		}
		return ""
	}
	u := unit(n)
	return u != "" && u == unit(i)
}

// saidOfIt is the number that "it" or "they" is said to be at token k, and whether that was
// before; -1 where there is none.
func (g *segment) saidOfIt(k int) (b int, was bool) {
	j := k
	switch {
	case g.is(k, "brought", "got", "took", "had", "put", "dropped") && g.is(k+1, "it", "that", "them"):
		for j = k + 2; g.is(j, "down", "up", "back"); j++ {
		}
		if !g.is(j, "to") {
			return -1, false
		}
		j++
	case g.is(k, "it") && (g.numberAt(k+1) || g.is(k+1, "now", "only", "down", "up", "at", "reading", "about") && (g.numberAt(k+2) || g.is(k+2, "to", "at"))), g.is(k, "theyre"):
		j = k + 1 // "it's"
	case g.is(k, "it", "they") && g.is(k+1, "is", "are"):
		j = k + 2
	case g.is(k, "it", "they") && g.is(k+1, "came", "settled", "dropped", "fell", "went"):
		for j = k + 2; g.is(j, "down", "up", "back"); j++ {
		}
		if !g.is(j, "to", "at") {
			return -1, false
		}
		j++
	case g.is(k, "and", "then") && movedOn[g.wordAt(k+1)] && g.lex.kind != schema.Closure: // "was thirty two and came straight up to fifty one"
		for j = k + 2; j < k+5 && g.is(j, "down", "up", "back", "straight", "right", "quickly", "slowly", "only", "nicely", "away", "on"); j++ {
		}
		if !g.is(j, "to") {
			return -1, false
		}
		j++
	case g.is(k, "it", "they") && g.is(k+1, "was", "were") && !g.is(k-1, "then", "after", "and", "that"):
		j, was = k+2, true
	default:
		return -1, false
	}
	for g.is(j, "now", "down", "up", "at", "only", "reading", "to", "about", "a", "back", "just", "on") {
		j++
	}
	if !g.numberAt(j) || g.signs[g.at[j]].from != j {
		return -1, false
	}
	return int(g.at[j]), was
}

// arrowsEnd lets the first number of a chain of arrows give way to the last: "18 -> nitric
// on -> 15".
func (g *segment) arrowsEnd() {
	if g.lex.kind == schema.Closure {
		return // before and after closing both are told
	}
	for i := range g.signs {
		a := &g.signs[i]
		k := g.endOfAmount(i)
		asked := k
		for g.is(k, "?") {
			k++ // "71 cm?? -> 61 cm"
		}
		if a.num == nil || a.used || a.content() || !g.is(k, "→", ">") || g.numberAt(k+1) && k == asked {
			continue
		}
		if g.numberAt(k + 1) {
			k--
		}
		for j := k + 1; j < len(g.toks) && j < k+9 && g.toks[j].kind != stop && !g.is(j, ",", ";"); j++ {
			if !g.is(j, "→", ">") || !g.numberAt(j+1) {
				continue
			}
			b := int(g.at[j+1])
			if p := &g.signs[b]; p.from == j+1 && !p.used && !p.content() && sameSort(a, p) && !g.unitsDiffer(i, b) && g.nearEnough(a, p) && p.scope&(calling|aiming) == 0 {
				g.takePlace(i, b)
			}
			break
		}
	}
}

// tellsAfter tells whether a sentence is headed by the time after what was done: "After: Glenn
// 15, common atrium 8".
func (g *segment) tellsAfter() bool {
	return len(g.toks) > 2 && g.is(1, ":") && g.is(0, "after", "afterward", "now", "leaving", "out")
}

// nowAnother tells whether the number at sign i is followed by another that is said
// to be the one now, with nothing else named between.
func (g *segment) nowAnother(i int) bool {
	a := &g.signs[i]
	for j := i + 1; j < len(g.signs) && g.signs[j].from-a.to <= 8 && !g.crossesStop(a.to, g.signs[j].from); j++ {
		p := &g.signs[j]
		if p.content() && p.num == nil && !p.has(isUnit) || p.is(corrects) || p.is(scratches) {
			return false
		}
		if p.num == nil {
			continue
		}
		k := p.to
		if j+1 < len(g.signs) && g.signs[j+1].has(isUnit) && g.signs[j+1].num == nil && g.signs[j+1].from == k {
			k = g.signs[j+1].to
		}
		return g.is(k, "now") && (k+1 >= len(g.toks) || g.toks[k+1].kind == stop || g.is(k+1, ",", "and")) || g.is(k, "at") && g.is(k+1, "the") && g.is(k+2, "door")
	}
	return false
}

// presents are words that tell of now before the number that stands now.
var presents = wordSet("is are its were theyre now present presently currently")

// isNow tells whether the words after token k give the number that holds now, with nothing
// else named before it: "..., we're at ten", "..., at present point zero four".
func (g *segment) isNow(k int) bool {
	for n := k; n < len(g.toks) && n < k+8 && g.toks[n].kind != stop; n++ {
		if g.is(n, "is", "are") && (g.numberAt(n+1) || g.is(n+1, "now") && g.numberAt(n+2)) {
			return true // "was fifty eight when I arrived and is seventy nine now"
		}
	}
	for n := k; n < len(g.toks) && n < k+8 && g.toks[n].kind != stop; n++ {
		if j := g.at[n]; j >= 0 && g.signs[j].num == nil && g.speaks(&g.signs[j]) && !g.signs[j].has(isUnit) && g.signs[j].from > k {
			return false
		}
		if g.is(n, "got", "have") && g.is(n+1, "him", "her", "it", "them") && g.is(n+2, "on", "at", "down") && g.numberIn(n+3, min(len(g.toks), n+5)) {
			return true // "was twenty four, they have got him on eighteen"
		}
		if g.is(n, "were") && !g.is(n-1, ",", "and", "but") || !presents[g.toks[n].text] && !(g.is(n, "it") && strings.EqualFold(g.words(n, n+1), "it's")) {
			continue
		}
		m := n + 1
		for m < n+4 && g.is(m, "now", "at", "on", "to", "down", "up", "about", "only", "just", "back", "a") {
			m++
		}
		if g.numberAt(m) {
			return true
		}
	}
	return false
}
