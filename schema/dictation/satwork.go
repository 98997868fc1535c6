package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readSaturationAtWork reads the saturations right before and right after what was done,
// each by the words beside its number, in notes that have a place for both: "sats fifty
// before we opened and eighty-three after", "fifty-two as I opened", "went straight to
// eighty three". One of before is never the one on leaving.
func (g *segment) readSaturationAtWork() {
	before, after := fieldAt(schema.BetweenSaturationBeforeWork), fieldAt(schema.BetweenSaturationAfterWork)
	if !g.inNote(before) || !g.mentions("sat", "saturation", "spo2", "saturating", "satting", "sao2") {
		return
	}
	named := false
	for i := range g.signs {
		s := &g.signs[i]
		if s.num == nil {
			if g.saturates(s) {
				named = s.scope&(calling|aiming|intended|weighed|denied) == 0
			} else if g.saturationOther(s) && !g.momentSaid(s) && !g.momentWord(s) {
				named = false
			}
			continue
		}
		a, ok := g.amountAt(i)
		if !named || !ok || !g.maySaturate(a) {
			continue
		}
		f := before
		switch g.workMoment(a) {
		case satNow:
			f = after
		case satPlain:
			continue
		}
		if g.answered(f) {
			continue
		}
		v, _, fit := fits(f, a)
		if !fit {
			continue
		}
		if was := g.leavingClaim(a); was != nil && f == before {
			was.gone = true
		}
		g.claimField(f, v, a.from, a.to, a.from, a.to)
		g.useAmount(a)
	}
}

// maySaturate tells whether an amount may be a saturation told at some moment of the work.
func (g *segment) maySaturate(a amount) bool {
	s := &g.signs[a.sign]
	return len(a.decimal) == 2 && a.decimal >= "25" && !strings.Contains(a.decimal, ".") && (a.units == nil || slices.Contains(a.units, "%")) &&
		s.scope&(calling|aiming|weighed|denied) == 0 && !g.is(a.from-1, "in", "on", "fio2", "oxygen", "over", "/", "by", "x", "under", "above") && !g.is(a.to, "over", "/", "lumen", "hour", "day", "week", "minute", "min", "french", "mic") &&
		!(a.sign+1 < len(g.signs) && (g.signs[a.sign+1].is(corrects) || g.signs[a.sign+1].is(scratches)) && g.signs[a.sign+1].from-a.to <= 1)
}

// leavingClaim is the claim of a saturation on leaving that was made of an amount, or nil.
func (g *segment) leavingClaim(a amount) *claim {
	for i := range g.claims {
		if c := &g.claims[i]; !c.gone && c.field.Path == schema.LeavingSaturation && c.from <= a.from && a.to <= c.to {
			return c
		}
	}
	return nil
}

// begins are the words with which the work begins.
var begins = wordSet("opened open reopened started start began begin scrubbed cut going opening did touched do went got had")

// workMoment tells of an amount whether it was read right before what was done, satThen, or
// right after it, satNow, where the words beside it say so.
func (g *segment) workMoment(a amount) satMoment {
	k := a.to
	for g.is(k, "just", "straight", "right", "immediately", "only", "directly") {
		k++
	}
	switch {
	case g.is(k, "before") && (g.partEnds(k+1) || g.is(k+1, "we", "i", "the", "opening", "and", "any", "it", "work")),
		g.is(k, "as", "when", "until") && g.is(k+1, "we", "i") && begins[g.wordAt(k+2)] && !g.is(k+3, "it", "the") || g.is(k, "on") && g.is(k+1, "opening") && g.partEnds(k+2),
		g.is(k, "by") && g.is(k+1, "the") && g.is(k+2, "time") && (g.mentions("chest") || begins[g.wordAt(k+4)]):
		return satThen
	case g.is(k, normal("afterwards"), "after") && (g.partEnds(k+1) || g.is(k+1, "it", "that", "and", "in", "on", "now")) && !g.is(a.from-1, "before"),
		g.is(k, "after") && k > a.to && !g.is(k+1, "the", "we", "induction"), g.is(k, "when") && g.is(k+1, "we", "i") && g.is(k+2, "opened", "released", "unclamped") && g.is(k+3, "it", "the") && g.is(a.from-1, "to"):
		return satNow
	}
	j := a.from - 1
	for g.is(j, "were", "was", ",", ":", "is", "are", "at", "it", "they", "had", "been", "of", "the") {
		j--
	}
	switch {
	case g.is(j, "before", "beforehand") && !g.numberEnds(j-1), begins[g.wordAt(j)] && g.is(j-1, "we", "i") && g.is(j-2, "before"), g.is(j, "work", "operation") && g.is(j-1, "before", "the") && g.anyWithin(j-3, j, "before"):
		return satThen
	case g.is(j, "after", normal("afterwards")) && (g.is(j-1, "straight", "just", "right", "and", ",") || j < 2 || g.saturateAt(j-1) || g.toks[j-1].kind == stop):
		return satNow
	case g.is(a.from-1, "to") && g.cameUp(a.from-2):
		return satNow
	}
	return satPlain
}

// saturateAt tells whether token k names the saturation.
func (g *segment) saturateAt(k int) bool { return saturates[g.wordAt(k)] }

// cameUp tells whether the words that end at token k say that the saturation rose by what
// was done: "came straight up", "went straight", "jumped".
func (g *segment) cameUp(k int) bool {
	if g.ctx.opening == 0 || g.mentions("test", "trial", "tried", "try", "clip", "first") {
		return false
	}
	quick := false
	for ; g.is(k, "up", "straight", "right", "back", "quickly", "immediately"); k-- {
		quick = true
	}
	return g.is(k, "came", "rose", "jumped", "shot") && (quick || g.is(k, "rose", "jumped", "shot")) || quick && g.is(k, "went")
}
