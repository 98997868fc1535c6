package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// satMoment is the time at which a saturation was read.
type satMoment uint8

const (
	satPlain satMoment = iota
	satThen            // before, during, at first
	satNow             // now, leaving, after
)

// satRead is one saturation of a sentence.
type satRead struct {
	a      amount
	when   satMoment
	oxygen *amount // what it was in
}

var (
	// saturates are the words that name a saturation, with the verbs.
	saturates = wordSet("sat sats saturation saturations saturating saturated saturates saturate satting satted spo2 sao2")
	// thenBefore and nowBefore stand before a saturation, thenAfter and nowAfter behind it.
	thenBefore = wordSet("was were been had from before during initially first dropped fell sank started presented came preop")
	nowBefore  = wordSet("now currently leaving after afterward finally settled final is are")
	thenAfter  = wordSet("before during initially beforehand earlier")
	satTalk    = wordSet("state theatre leaves leave left departs at on the a to up both band bands table with way off in down coming going")
	nowAfter   = wordSet("now leaving after afterward currently finally since")
)

// readSaturationSeries reads several saturations told in one breath, each with its moment,
// and one that is named by nothing but the oxygen it was in: "sats were sixty-eight when we
// first came off, eighty-one now on sixty per cent", "ninety-four before the bands, eighty-six
// after the first one, eighty-one leaving", "she leaves at eighty-two percent in forty". The
// last of now is the one on leaving; one of a moment that is over never is.
func (g *segment) readSaturationSeries() {
	f := fieldAt(schema.LeavingSaturation)
	if !g.inNote(f) || g.mentions("nir", "cerebral", "venous", "svo2", "somatic", "cath", "catheter") {
		return
	}
	reads := g.saturationsRead()
	if hasSection(g.lex.kind, "between") && g.lex.kind != schema.Closure && (len(reads) > 1 || g.mentions("sat", "stat", "saturation", "spo2")) {
		return // what it was before the work has its own place there
	}
	best, earlier := -1, false
	for n, r := range reads {
		switch {
		case r.when == satNow, r.when == satPlain && (earlier || r.oxygen != nil) && (best < 0 || reads[best].when == satPlain):
			best = n
		case r.when == satThen:
			earlier = true
		}
	}
	if len(reads) < 2 && !(best >= 0 && reads[best].oxygen != nil) || best >= 0 && !earlier && reads[best].oxygen == nil && reads[best].when == satPlain {
		return
	}
	if best < 0 {
		return
	}
	r := reads[best]
	v, _, ok := fits(f, r.a)
	if !ok {
		return
	}
	for n := range best {
		q := reads[n]
		if g.signs[q.a.sign].scope&past == 0 {
			g.useAmount(q.a)
		}
		if q.oxygen != nil {
			g.useAmount(*q.oxygen)
		}
	}
	c := g.claimField(f, v, r.a.from, r.a.to, r.a.from, r.a.to)
	c.leaving = nowAfter[g.wordAt(r.a.to)] || g.leavingAt(r.a)
	g.judge(c, r.a)
	g.useAmount(r.a)
	if o := fieldAt(schema.LeavingInspiredOxygen); r.oxygen != nil && g.inNote(o) && !g.answered(o) {
		x := *r.oxygen
		if x.units == nil && !strings.HasPrefix(x.decimal, "0.") {
			x.units = []string{"%"}
		}
		if w, _, ok := fits(o, amount{sign: x.sign, decimal: x.decimal, units: x.units}); ok {
			c := g.claimField(o, w, x.from, x.to, r.a.from, x.to)
			if r.oxygen.units == nil {
				c.sure, c.note = Check, "the unit was not said"
			}
			g.useAmount(x)
		}
	}
}

// saturationsRead are the saturations of the segment, in order.
func (g *segment) saturationsRead() (out []satRead) {
	f := fieldAt(schema.LeavingSaturation)
	named := false
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil {
			if g.saturates(s) {
				named = s.scope&(calling|aiming|intended|weighed|hearsay|denied) == 0
			} else if !g.momentSaid(s) && (g.saturationOther(s) && !(named && g.momentWord(s)) || g.pressureAt(i) != "") {
				named = false
			}
			continue
		}
		a, ok := g.amountAt(i)
		if n := len(out); n > 0 && out[n-1].oxygen != nil && out[n-1].oxygen.sign == i || g.is(a.to, "oxygen", "o2") {
			continue
		}
		percent := slices.Contains(a.units, "%")
		if !ok || !plausible(f, a.decimal) || strings.Contains(a.decimal, ".") || a.decimal < "30" || len(a.decimal) != 2 || a.units != nil && !percent || s.scope&(calling|aiming|weighed|hearsay|denied) != 0 {
			continue
		}
		if g.is(a.from-1, "in", "on", "fio2", "oxygen", "over", "/", "by", "x") || g.is(a.to, "over", "/", "lumen", "hour", "day", "week", "mic", "french") || g.is(a.from-1, "at") && g.mentions("paced", "pacing", "sinus", "junctional", "rate") {
			continue
		}
		r := satRead{a: a, when: g.saturationMoment(a)}
		r.oxygen = g.inOxygen(a, len(out) > 0 || named)
		if !named && (r.oxygen == nil || a.decimal < "55" || !percent && !g.childAt(a.from) && r.when != satNow && !g.partBegins(a.from) && !g.is(a.from-1, "to") || g.otherNamed(i) && !g.momentSaid(&g.signs[i-1])) {
			if !(len(out) > 0 && r.when == satNow && g.is(a.from-1, "to") && out[len(out)-1].when == satThen && !g.otherNamed(i)) {
				continue
			}
		}
		out = append(out, r)
	}
	return out
}

// saturates tells whether a sign names the saturation of the blood in the arteries.
func (g *segment) saturates(s *sign) bool {
	for k := s.from; k < s.to; k++ {
		if saturates[g.toks[k].text] {
			return true
		}
	}
	return false
}

// momentWord tells whether a sign may only say when a saturation was read: the bands, the
// clamp, the table.
func (g *segment) momentWord(s *sign) bool {
	for k := s.from - 1; k >= 0 && k > s.from-4 && g.toks[k].kind == word; k-- {
		if g.is(k, "before", "after", "with", "on", "when", "during") {
			return true
		}
	}
	return false
}

// momentSaid tells whether a sign says nothing but when, or how, a saturation came to be:
// "went from", "before the bands", "leaves theatre at".
func (g *segment) momentSaid(s *sign) bool {
	for k := s.from; k < s.to; k++ {
		if w := g.toks[k].text; !thenBefore[w] && !nowBefore[w] && !thenAfter[w] && !nowAfter[w] && !movers[w] && !satTalk[w] {
			return false
		}
	}
	return true
}

// saturationMoment tells when a saturation was read, by the words beside it.
func (g *segment) saturationMoment(a amount) satMoment {
	k := a.to
	switch {
	case g.is(k, "off", "pre", "on") && g.is(k+1, "the", "arrival", "opening", "pump", "bypass", "admission"):
		return satThen
	case nowAfter[g.wordAt(k)] && !(g.is(k, "after") && g.is(k+1, "the", "induction") && g.is(k+2, "first", "initial")), g.is(k, "on", "at") && g.is(k+1, "leaving", "departure", "transfer"), g.is(k, "at", "in") && g.is(k+1, "the") && g.is(k+2, "end"), g.is(k, "by") && g.is(k+1, "the"), g.is(k, "with") && g.is(k+1, "both", "it"):
		return satNow
	case thenAfter[g.wordAt(k)], g.is(k, "at") && g.is(k+1, "first", "worst", "its", "his", "her", "induction", "start", "the"), g.is(k, "when") && g.is(k+1, "we", "he", "she", "i", "they"), g.is(k, "going", "coming", "came", "went") && g.is(k+1, "in"), g.is(k, "with") && g.is(k+1, "the"), g.is(k, "after") && g.is(k+1, "the"), g.is(k, "off", "pre"):
		return satThen
	}
	from := a.from
	if g.is(from-1, ",") && !g.numberEnds(from-2) {
		from-- // "after, eighty-two"
	}
	for n := from - 1; n >= 0 && n > from-7 && g.toks[n].kind != stop && !g.numberEnds(n) && !g.is(n, ","); n-- {
		switch w := g.toks[n].text; {
		case n == a.from-1 && w == "to", nowBefore[w] && !g.is(n, "came"):
			return satNow
		case w == "to" && g.is(n-1, "up", "back", "came", "rose", "went"):
			return satNow
		case thenBefore[w]:
			return satThen
		}
	}
	return satPlain
}

// inOxygen is the fraction of oxygen that a saturation was in, or nil: "in sixty", "now on
// forty per cent", "and we're on forty". A bare number counts only where a saturation is
// spoken of, or has its unit.
func (g *segment) inOxygen(a amount, named bool) *amount {
	k := a.to
	for g.is(k, "now", "then", ",", "and", "we", "were", "are", "he", "she", "is", "with", "leaving", "fio2") {
		k++
	}
	if !g.is(k, "in", "on") && !(g.is(k, "/") && k == a.to) && !(g.is(k-1, "now") && g.is(k, ",")) {
		if !(k > a.to+1 && g.is(k-1, ",") && g.is(k-2, "now")) {
			return nil
		}
		k-- // "77 now, 45 per cent"
	}
	k++
	if !g.numberAt(k) {
		return nil
	}
	b, ok := g.amountAt(int(g.at[k]))
	v, err := strconv.ParseFloat(b.decimal, 64)
	if !ok || err != nil || b.units != nil && !slices.Contains(b.units, "%") || g.signs[b.sign].scope&(calling|aiming|denied) != 0 {
		return nil
	}
	part := v >= 0.21 && v <= 1 && b.units == nil
	switch {
	case part, v >= 21 && v <= 100 && slices.Contains(b.units, "%"):
		return &b
	case v >= 21 && v <= 100 && (named || slices.Contains(a.units, "%") || g.childAt(a.from)) && (b.to >= len(g.toks) || g.toks[b.to].kind != word || !g.is(b.to, "mic", "french", "over", "to", "ml", "joule")):
		return &b
	}
	return nil
}
