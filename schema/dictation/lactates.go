package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

var (
	// lactateThen stand after a lactate of a time that is over, lactateNow before or after
	// the last one.
	lactateThen = wordSet("start arrest opening beginning worst first old peak going induction during incision arrival")
	lactateNow  = wordSet("now end last repeat repeated rpt leaving currently later finally ours")
)

// readLactateSeries reads several lactates told in one breath, each with its moment:
// "lactate was 7.8 on opening, by the end 4.1", "seventeen on the arrest gas, twelve now",
// "9.1, repeat 6.4". The last is the one of now; what it was on bypass is read elsewhere.
func (g *segment) readLactateSeries() {
	f := fieldAt(schema.GasLactate)
	if !g.inNote(f) || g.lex.kind == schema.Closure && g.mentions("before", "after") {
		return
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || !g.meansName(s, f) || s.scope&(calling|aiming|intended|denied|hearsay|weighed) != 0 {
			continue
		}
		amounts := g.lactatesAfter(i)
		best, then := -1, false
		for n, a := range amounts {
			switch g.lactateMoment(a) {
			case satNow:
				best = n
			case satThen:
				then = true
			default:
				if then && best < 0 {
					best = n
				}
			}
		}
		if best < 1 {
			continue
		}
		a := amounts[best]
		v, _, ok := fits(f, a)
		if !ok {
			continue
		}
		c := g.claimField(f, v, a.from, a.to, s.from, a.to)
		c.leaving = true
		g.judge(c, a)
		for n, x := range amounts {
			if n == best || n < best && !g.onBypass(x) && !g.besideAny(x, peakWords) {
				g.useAmount(x)
			}
		}
		s.used = best == 1 && g.signs[amounts[0].sign].used
		return
	}
}

// lactatesAfter are the numbers after the name at sign i that can be lactates.
func (g *segment) lactatesAfter(i int) (out []amount) {
	last := g.signs[i].to
	for j := i + 1; j < len(g.signs) && g.signs[j].from-last <= 8 && !g.crossesStop(last, g.signs[j].from); j++ {
		p := &g.signs[j]
		if p.num == nil {
			if g.speaks(p) && !p.is(arrives) && !p.is(passing) && !g.within(p, "arrest", "pump", "bypass", "gas", "after", "before", "first", "start", "opening", "worst", "peak", "end", "going", "from", "last") && !p.has(isUnit) {
				break
			}
			continue
		}
		a, ok := g.amountAt(j)
		v, err := strconv.ParseFloat(a.decimal, 64)
		if !ok || err != nil || v >= 30 || a.units != nil && !slices.Contains(a.units, "mmol/L") || p.scope&(calling|aiming|denied|hearsay) != 0 || a.clock != "" && a.decimal == "" {
			break
		}
		if _, part, _ := strings.Cut(a.decimal, "."); len(part) == 2 && v >= 6.5 && v <= 7.8 {
			break // a pH
		}
		if n := j + 1; n < len(g.signs) && a.units == nil && len(a.decimal) == 1 && g.signs[n].num != nil && g.signs[n].from == a.to && len(g.signs[n].num.decimal) == 1 && g.toks[a.from].kind == word {
			a.decimal, a.to = a.decimal+"."+g.signs[n].num.decimal, g.signs[n].to // "one six"
			j = n
		}
		out = append(out, a)
		last = a.to
	}
	return out
}

// lactateMoment tells when a lactate was measured, by the words beside it.
func (g *segment) lactateMoment(a amount) satMoment {
	for k := a.to; k < len(g.toks) && k < a.to+6 && g.toks[k].kind != stop && !g.numberAt(k); k++ {
		switch w := g.toks[k].text; {
		case g.is(k, ",", "and", "but", "→") && k > a.to && !g.is(a.to, ","):
			k = len(g.toks) // what follows is of the next
		case w == "after" && k == a.to, lactateNow[w] && (k == a.to || g.is(k-1, "the", "on", "it", "time")):
			return satNow
		case lactateThen[w], w == "before":
			return satThen
		}
	}
	for k := a.from - 1; k >= 0 && k > a.from-6 && g.toks[k].kind != stop && !g.numberEnds(k); k-- {
		switch w := g.toks[k].text; {
		case lactateNow[w], g.is(k, "is", "its") && k >= a.from-2, g.is(k, "→", ">"):
			return satNow
		case g.is(k, "was", "were", "went", "from", "had", "been", "peaked", "top"), lactateThen[w]:
			return satThen
		case g.is(k, ",") && k < a.from-1:
			return satPlain
		}
	}
	return satPlain
}
