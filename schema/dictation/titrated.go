package dictation

import (
	"slices"
	"strconv"
	"strings"
)

// titrated is the dose that the drug at sign i was changed to, where more than one is told,
// or one with the way it went: "point one, down to point oh eight", "was at point oh six, I
// had them bring it down to point oh three", "point oh two, was point oh six", "up to point
// oh four". It is nil where no change is told.
func (g *segment) titrated(i int, drug string, end int) *amount {
	from := g.drugEnd(i)
	var plain, now *amount
	plains, olds := 0, 0
	last := from // where the number before ended
	for k := from; k < min(end, from+30) && g.toks[k].kind != stop; k++ {
		if !g.numberAt(k) {
			if g.speaksOther(k) && !g.movesAt(k) {
				break
			}
			continue
		}
		n := int(g.at[k])
		if g.signs[n].used && g.signs[n].num.decimal != "" { // one that gave way already
			olds++
			last, k = g.signs[n].to, g.signs[n].to-1
			continue
		}
		a, ok := g.amountAt(n)
		if !ok || g.signs[n].scope&(calling|aiming) != 0 || a.decimal == "" || !g.doseLike(drug, a) {
			if ok && (a.clock != "" && a.decimal != "" || a.units != nil) {
				k = max(k, a.to-1)
				continue // when it was, or for how long
			}
			break
		}
		switch g.doseThen(last, a) {
		case doseNow:
			now = &a
		case doseOld:
			olds++
		case dosePlain:
			plains++
			plain = &a
		}
		last, k = a.to, a.to-1
	}
	switch {
	case now != nil:
		return now
	case olds > 0 && plains == 1:
		return plain
	}
	return nil
}

// doseWhen is the time a dose is told of.
type doseWhen uint8

const (
	dosePlain doseWhen = iota
	doseOld
	doseNow
	doseLater
)

var (
	// oldDose and newDose are words before a dose, or right after it, that say when it was
	// given.
	oldDose  = wordSet("was were had been from started initially first originally used max peak peaked pk maximum")
	newDose  = wordSet("now currently no sorry actually rather reduced increased weaned dropped halved doubled turned changed settled ended kept cut brought titrated before same unchanged")
	wayWords = wordSet("up down back")
)

// doseThen tells of which time a dose is told, by the words since token from and those
// right after it.
func (g *segment) doseThen(from int, a amount) doseWhen {
	if u := g.signs[a.sign].scope & (intended | denied); u != 0 || afterwards[g.wordAt(a.to)] || g.is(a.to, "by", "if", "when", "once") && !g.is(a.to+1, "i", "we") {
		if u != 0 || !g.is(a.to, "when") {
			return doseLater
		}
	}
	old, now, way, later := false, g.signs[a.sign].swap[1] > 0, false, false
	now = now || a.from-from == 1 && g.is(from, "to") && g.numberAt(from-1) // "0.03 to 0.05 to get there"
	for k := from; k < a.from; k++ {
		w := g.toks[k].text
		switch {
		case k == from && w == "now" && g.numberAt(k-1) && g.anyWithin(k, a.from, "was", "were", "from"):
			// "point one now, it was point oh four": of the one before
		case w == "to" && (way || k == from && g.numberAt(k-1)), !old && g.is(k, "on", "at") && g.is(k-1, "back", "down", "up"), g.is(k, "on") && g.is(k-1, "back"), newDose[w], w == "its", g.is(k, "it", "he", "she") && g.is(k+1, "at", "on"), w == "is" && k > from && old:
			now = true
		case oldDose[w] && !now:
			old = true
		case g.is(k, "can", "may", "will", "could", "going", "coming"):
			later = true
		}
		way = way || wayWords[w] || movers[w] || changers[w] || newDose[w]
	}
	tail := a.to
	for g.is(tail, "(", ",") {
		tail++
	}
	switch {
	case later && !g.is(a.to, "now"):
		return doseLater
	case g.is(a.to, "now", "since", "currently"), g.is(tail, "now") && g.is(tail-1, ",") && !g.numberAt(tail+1):
		return doseNow
	case g.is(a.to, "at") && g.is(a.to+1, "the", "it", "first", "worst", "most") && !g.is(a.to+2, "door", "end", "moment", "minute"), g.is(a.to, "for") && (g.is(a.to+1, "the", "a") || g.numberAt(a.to+1)),
		g.is(a.to, "to") && g.is(a.to+1, "start", "begin"), g.is(a.to, "loaded", "loading", "load"), g.is(a.to, "before") && !g.is(a.to+1, "we", "he", "she", "leaving", "transfer"), g.is(a.to, "initially", "earlier", "yesterday", "overnight", "during", "peak", "max"):
		return doseOld
	case now:
		return doseNow
	case old:
		return doseOld
	}
	return dosePlain
}

// drugEnd is where the name of the drug at sign i ends; where another was said in its place,
// where that ends: "noradrenaline, no, vasopressin".
func (g *segment) drugEnd(i int) int {
	if s := &g.signs[i]; s.num == nil && s.swap[1] > s.to {
		return s.swap[1]
	}
	return g.signs[i].to
}

// movesAt tells whether the word at token k only tells how a dose went.
func (g *segment) movesAt(k int) bool {
	return movers[g.toks[k].text] || changers[g.toks[k].text] || g.is(k, "down", "up", "now", "off", "closure", "back", "left", "coming", "came", "going", "at", "the", "they", "right", "before", "same", "unchanged", "had", "for", "closing", "as", "theater", "from")
}

// doseLike tells whether a bare number is a dose of the drug in its usual unit.
func (g *segment) doseLike(drug string, a amount) bool {
	if a.units != nil {
		return g.wholeUnit(a) && !slices.Contains(a.units, "min")
	}
	u, ok := usualDose[drug]
	v, err := strconv.ParseFloat(a.decimal, 64)
	return ok && err == nil && v >= u.low && v <= u.high
}

// movers are verbs that take a number from one value to another.
var movers = wordSet("went gone came come rose fell dropped climbed crept slid")

// changers are words for giving a number a new value.
var changers = wordSet("enlarged widened dilated extended trimmed upsized downsized stretched opened cut reduced weaned increased turned changed swapped revised improved upped brought lowered raised dialed titrated")

// changedLater tells whether the number at sign i is later said to have been
// changed to another.
func (g *segment) changedLater(i int) bool {
	s := &g.signs[i]
	for k := s.to; k < len(g.toks) && k < s.to+8; k++ {
		if g.toks[k].kind == stop {
			return false
		}
		if !changers[g.toks[k].text] || g.is(k, "cut") && !g.is(k+1, "it", "that", "back", "down") {
			continue
		}
		for j := k + 1; j < len(g.toks) && j < k+5; j++ {
			if n := g.at[j]; n >= 0 && (g.drugAt(int(n)) != "" || g.changesOther(&g.signs[n])) {
				return false
			}
			if g.is(j, "to") && (g.numberAt(j+1) || g.is(j+1, "a") && g.numberAt(j+2)) {
				return true
			}
		}
	}
	return false
}

// changesOther tells whether a sign names something else that was changed: "sats seventy
// eight, and we turned the nitric to ten".
func (g *segment) changesOther(s *sign) bool {
	return s.num == nil && g.speaks(s) && !slices.ContainsFunc(s.senses, func(x sense) bool {
		return x.field == nil || x.field.Section != "ventilation" && x.field.Section != "infusions"
	})
}

// neverRan tells whether the drug at sign i is said never to have been started.
func (g *segment) neverRan(i int) bool {
	k := g.signs[i].to
	for g.is(k, "was", "is", "were", "has", "been", "we", "have", "i", "did", ",") || g.is(k, "no") && g.is(k-1, ",") && g.is(k+1, ",") {
		k++
	}
	if !g.is(k, "never", "not") {
		return false
	}
	for k++; g.is(k, "been", "yet"); k++ {
	}
	return g.is(k, "start", "need", "use", "started", "begun", "needed", "required", "used", "given", "run", "running")
}

// laterOn tells whether the words at token k put what went before off.
func (g *segment) laterOn(k int) bool {
	for n := 0; n < 7 && k+n < len(g.toks); n++ {
		switch g.toks[k+n].text {
		case "from":
			if g.numberAt(k+n+1) && !strings.HasPrefix(g.signs[g.at[k+n+1]].num.decimal, "0.") && !g.is(k+n-1, "up", "down") || g.is(k+n+1, "tomorrow", "tonight") {
				return true
			}
		case "when":
			return !g.cameThen(k + n + 1)
		case "once", "if", "tonight", "tomorrow", "later", "unless", "pending", "provided", "providing", "assuming":
			return true
		case "to":
			return g.is(k+n+1, "start", "begin", "follow", "commence") && !(g.is(k+n+2, ",") && g.numberAt(k+n+3))
		case "at", "in", "after": // "at six hours"
			if g.numberAt(k+n+1) && g.is(g.signs[g.at[k+n+1]].to, "hour", "h", "hr") || n < 3 && g.is(k+n+1, "midnight") {
				return true
			}
		case ",":
			return g.is(k+n+1, "if", "provided", "assuming", "unless") || g.is(k+n+1, "when", "once") && g.is(k+n+2, "dry", "the", "she", "he")
		case ".", "and", "through", "via":
			return false
		}
	}
	return false
}

// cameThen tells whether the words at token k tell of what happened: "it was point oh four when
// we came" puts nothing off.
func (g *segment) cameThen(k int) bool {
	return g.is(k, "we", "i", "he", "she", "they") && g.is(k+1, "came", "arrived", "started", "began", "left", "opened", "went", "got", "took", "had", "were", "was")
}
