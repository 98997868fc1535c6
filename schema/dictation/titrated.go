package dictation

import (
	"slices"
	"strconv"
)

// titrated is the dose that the drug at sign i was changed to, in the words after its
// first one: "point one, down to point oh eight", "was at point oh six, I had them
// bring it down to point oh three", "started at 0.02 and now on 0.05". It is nil where
// no change is told.
func (g *segment) titrated(i int, drug string, end int) *amount {
	s := &g.signs[i]
	var last *amount
	for j := i + 1; j < len(g.signs) && g.signs[j].from < end && g.signs[j].from-s.to < 24; j++ {
		if g.signs[j].num == nil || g.signs[j].used || g.signs[j].scope&(intended|denied|coming) != 0 {
			continue
		}
		a, ok := g.amountAt(j)
		if !ok || a.clock != "" && a.decimal == "" || !g.doseLike(drug, a) || !g.changedTo(s.to, a) {
			continue
		}
		last = &a
	}
	return last
}

// doseLike tells whether a bare number is a dose of the drug in its usual unit.
func (g *segment) doseLike(drug string, a amount) bool {
	if a.units != nil {
		return g.wholeUnit(a)
	}
	u, ok := usualDose[drug]
	v, err := strconv.ParseFloat(a.decimal, 64)
	return ok && err == nil && v >= u.low && v <= u.high
}

// changedTo tells whether the words before an amount say that it is what another was
// changed to, or the word after it that it is so now. Numbers that follow another
// thing of the note are not.
func (g *segment) changedTo(from int, a amount) bool {
	now := g.is(a.to, "now") && g.numberIn(from, a.from)
	k := a.from - 1
	for g.is(k, "to", "at", "on", "about", "around") {
		k--
	}
	if k == a.from-1 && !now {
		return false
	}
	for g.is(k, "it", "that", "them") && g.is(k-1, "left", "leave", "kept", "keep", "turned", "brought", "settled") {
		k-- // "I left it at point oh seven"
	}
	for j := from; j < a.from; j++ {
		if n := g.at[j]; n >= 0 && g.signs[n].content() && !g.signs[n].used && g.signs[n].num == nil && g.signs[n].from == j && !g.rowWord(&g.signs[n], running) && !g.within(&g.signs[n], "down", "up", "now", "off", "closure", "back", "left") && !movers[g.toks[j].text] {
			return false
		}
	}
	return now || g.is(k, "down", "up", "back", "now", "reduced", "increased", "weaned", "dropped", "halved", "doubled", "turned", "changed", "settled", "ended", "left", "leave", "kept", "brought") && g.numberIn(from, k)
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
