package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readPumpTime reads how long bypass took where no name of the time stands beside it: told
// by who ran the pump, of a child who had to go on, or as what several periods come to.
func (g *segment) readPumpTime() {
	f := fieldAt(schema.SupportBypassTotal)
	if !g.inNote(f) || g.lex.kind == schema.SupportOff {
		return
	}
	g.readAllTold()
	if g.lex.kind == schema.SupportOn || g.answered(f) || slices.ContainsFunc(g.claims, func(c claim) bool { return c.group >= 0 && !c.gone && g.groups[c.group].list == schema.SupportRuns }) {
		return
	}
	for k := range g.toks {
		a, ok := g.wentOnFor(k)
		if !ok {
			a, ok = g.perfusionSays(k)
		}
		if v, _, fit := fits(f, a); ok && fit && len(v) > 1 {
			g.claimField(f, v, a.from, a.to, k, a.to)
			g.useAmount(a)
			return
		}
	}
}

// wentOnFor is how long a child was on bypass who went on it after all, told from token k
// on: "we had to go on for twenty six minutes", "then on for twenty-six".
func (g *segment) wentOnFor(k int) (amount, bool) {
	j := k + 1
	switch {
	case g.is(k, "go", "went", "gone", "going") && g.is(j, "on") && !g.is(k-1, "not", "never"):
		j++
	case g.is(k, "on") && g.is(j, "for") && g.is(k-1, "then", "and", "but", ",", "so") && g.startedOff():
	default:
		return amount{}, false
	}
	certain := false
	for ; g.is(j, "after", "all", "in", "the", "end", "for", "eventually", "then", ",", "bypass", "pump", "cpb", "briefly", "about", "just", "only", "a", "to", "quickly", "anyway"); j++ {
		certain = certain || g.is(j, "for", "all", "bypass", "pump", "cpb")
	}
	if !g.numberAt(j) {
		return amount{}, false
	}
	a, ok := g.amountAt(int(g.at[j]))
	ok = ok && g.minutesHere(a) && g.signs[a.sign].scope&(denied|calling|aiming) == 0 && (a.units != nil || certain && g.startedOff())
	return a, ok && !g.is(a.to, "of", "later", "before", "after")
}

// startedOff tells whether the segment speaks of doing without bypass, as first meant.
func (g *segment) startedOff() bool {
	return g.mentions("pump", "bypass", "cpb") && g.mentions("off", "without")
}

// minutesHere tells whether an amount may be a length of time in minutes: whole, in no
// other unit, and no time of day.
func (g *segment) minutesHere(a amount) bool {
	return a.decimal != "" && !strings.Contains(a.decimal, ".") && (a.units == nil || slices.Contains(a.units, "min")) && !g.signs[a.sign].num.surely && !g.signs[a.sign].used
}

// tellsMe are the verbs of who reads a time from the sheet.
var tellsMe = wordSet("say says said tell tells told give gives gave has had make makes reads read got gets call calls")

// perfusionSays is the time on bypass that who ran the pump gives, named at token k, with
// nothing else named that it could be of: "perfusion says thirty eight minutes", "Anika on
// the pump says one nineteen and forty-one of clamp".
func (g *segment) perfusionSays(k int) (amount, bool) {
	named := g.is(k, "perfusion", "perfusionist") && !g.is(k-1, "cerebral", "head", "selective", "brain", "regional", "body", "antegrade") || g.is(k, "pump") && g.is(k-1, "the") && g.is(k-2, "on")
	if !named {
		return amount{}, false
	}
	if n := g.ctx.number; n != nil && n.Path != schema.SupportBypassTotal && n.Path != schema.SupportMode && k < 3 {
		return amount{}, false // of what the sentence before named
	}
	j := k + 1
	for ; tellsMe[g.wordAt(j)] || g.is(j, "me", "us", "it", "a", ":", ","); j++ {
	}
	if j == k+1 || g.is(k+1, ",") || !g.numberAt(j) {
		return amount{}, false
	}
	for n := g.prevSign(j); n >= 0; n-- {
		if l := g.listNamed(&g.signs[n]); l != "" && l != schema.SupportRuns && !g.within(&g.signs[n], "perfusion") && g.signs[n].scope&denied == 0 || g.signs[n].num != nil && !g.signs[n].used && g.signs[n].from < k && j-g.signs[n].to < 8 {
			return amount{}, false // "clamp, the perfusionist says sixty", "a hundred, perfusion says ninety eight"
		}
	}
	a, ok := g.amountAt(int(g.at[j]))
	if !ok || !g.minutesHere(a) || g.signs[a.sign].scope&(denied|calling|aiming) != 0 {
		return amount{}, false
	}
	onPump := g.is(a.to, "on", "of") && g.pumpAt(a.to+1) || g.pumpAt(a.to)
	clamp := g.is(a.to, "and") && g.numberAt(a.to+1) && g.mentions("clamp", "xclamp", "arrest")
	ends := a.units != nil && (g.partEnds(a.to) || g.is(a.to, "and", "warm", "with", "on", "no", "in"))
	return a, onPump || clamp || ends
}

// allTold are the words with which a speaker adds up what was told one by one.
var allTold = [][]string{{"in", "all"}, {"all", "told"}, {"all", "up"}, {"all", "in"}, {"in", "total"}, {"altogether"}, {"together"}, {"total"}, {"overall"}, {"all", "together"}}

// readAllTold reads what several periods come to, told after them: "first run 10:05 to
// 13:31, second 13:50 to 14:22, two hundred and thirty-eight all up", "10:05-13:20 = 195".
func (g *segment) readAllTold() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil || s.used || s.scope&(denied|calling|aiming|intended) != 0 {
			continue
		}
		a, ok := g.amountAt(i)
		if !ok || !g.minutesHere(a) || !(g.is(a.from-1, "=", "total", "so", "making", "make") || slices.ContainsFunc(allTold, func(w []string) bool { return g.wordsAt(a.to, w) })) {
			continue
		}
		list := g.periodsBefore(a.from)
		f := fieldAt(totalOf[list])
		if f == nil || !g.inNote(f) || g.answered(f) {
			continue
		}
		if v, _, fit := fits(f, a); fit {
			g.claimField(f, v, a.from, a.to, a.from, a.to)
			g.useAmount(a)
		}
	}
}

// periodsBefore is the list of the periods told last before token k, where nothing else
// that takes time was named since, or "".
func (g *segment) periodsBefore(k int) schema.Path {
	list, end := schema.Path(""), -1
	for i := range g.claims {
		c := &g.claims[i]
		if c.gone || c.group < 0 || c.to > k || c.to < end || totalOf[g.groups[c.group].list] == "" {
			continue
		}
		list, end = g.groups[c.group].list, c.to
	}
	for n := g.nextSign(max(end, 0)); end >= 0 && n < len(g.signs) && g.signs[n].from < k; n++ {
		if l := g.listNamed(&g.signs[n]); l != "" && l != list {
			return ""
		}
	}
	return list
}

// pumpTimeAfter tells whether "on pump", at sign i, is followed by how long, and that is all
// that its part of the sentence says: "on pump fifty-one", "total on bypass was ninety".
func (g *segment) pumpTimeAfter(i int) bool {
	s := &g.signs[i]
	if !g.is(s.from, "on") || !pumpWords[g.wordAt(s.to-1)] || s.to-s.from > 3 || !(g.clauseBegins(s.from) || g.is(s.from-1, "total", "time", "minute")) {
		return false
	}
	k := s.to
	for g.is(k, "was", "for", "of", ":", "is", "about", "just") {
		k++
	}
	if !g.numberAt(k) {
		return false
	}
	n := &g.signs[g.at[k]]
	return len(n.num.decimal) > 1 && !strings.Contains(n.num.decimal, ".") && !n.num.surely && g.partEnds(n.to)
}

// clauseBegins tells whether a part of a sentence begins at token k.
func (g *segment) clauseBegins(k int) bool {
	return k == 0 || g.toks[k-1].kind == stop || g.is(k-1, ",", ":", "so", "and", "the")
}

// reports tells whether the word at token k is of somebody who tells, and asks for no call:
// "Marcus tells me", not "tell me if".
func (g *segment) reports(k int) bool {
	t := &g.toks[k]
	return strings.EqualFold(g.text[t.span.Start:t.span.End], "tells") || strings.EqualFold(g.text[t.span.Start:t.span.End], "gives")
}

// noPumpTime tells whether an amount beside the word for bypass at sign s is no time on it:
// "lactate 4.4 (7.2 on CPB)", "pump one, milrinone", "make the bypass dose four hundred".
func (g *segment) noPumpTime(s *sign, a amount) bool {
	return a.units == nil && (len(a.decimal) < 2 || strings.Contains(a.decimal, ".") || g.is(s.to, "dose"))
}
