package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// superseded are the words right before a number that put it in the place of the
// one before it, with nothing else named between.
var superseded = splitPhrases("shaking her head; shaking his head; shakes her head; shakes his head; got him on; got her on; got them on; has him on; has her on; have him on; have her on; have them on; got it at; got it on; have it on; has it on; right number is; real number is; true number is; properly zeroed it is; zeroed properly it is; finally; by then; was down to; got to; ended in; settled to; settled at; settling to; settling at; settled on; settled back to; came down to; come down to; came up to; came back to; came out at; came out as; got down to; got it down to; got that down to; got up to; got it up to; have cut it to; cut it to; we cut it to; i cut it to; turned it to; cut that to; cut it back to; cut to; turned down to; turned it down to; turned up to; turned it up to; we only gave; only gave; more like; is actually; are up to; is up to; up from there to; brought down to; brought it down to; brought that down to; dropped it to; dropped to; fell to; fallen to; weaned to; weaned it to; weaned down to; went up to; gone up to; put it up to; leave on; leaves on; left on; leaving on; leave it at; leave at; left it at; ended up at; ended up with; ended up as; ended up on; ended at; ended with; finished at; finished on; finished with; turned out to be; turned out at; proved to be; measured at last; perfusion says; perfusion say; perfusion have; perfusionist says; perfusionist has; sheet says; sheet has; chart says; chart has; record says; perfusion has; says; says it is; say; has it at; has it as; has it down as; reads really; to be honest; be honest; lets be honest; let me see; let me look; let me check; let me count; let me check the sheet; let me check the chart; half of that; in the end; in the end it was; down from there to; it is now; it now; is now; are now; now it; now it is; now it reads; and now; now; now at; is down to; are down to; we are down to; are now down to; and down to; are now on; are now at; we are now on; is up to; now down to; now up to; zeroed and it is; zeroed and it; zeroed it is; zeroed it; zeroed and now; flushed it and it; flushed it and it is; flushed and it; flushed and it was; flushed and it is; and then it was; then it was; and now reads; now reads; now reading; and then; on the second; on the repeat; repeat; repeat is; the repeat is; repeat was; repeated; repeated is; second time; and it; and it is; and is; and ours is; ours is; ours was; ours")

func splitPhrases(s string) [][]string {
	var out [][]string
	for _, p := range strings.Split(s, "; ") {
		var words []string
		for _, w := range strings.Fields(p) {
			words = append(words, normal(w))
		}
		out = append(out, words)
	}
	return out
}

// endsIn tells whether the words before token k, marks apart, end in one of the
// phrases, and where the phrase begins; not before token from.
func (g *segment) endsIn(phrases [][]string, from, k int) (int, bool) {
	var said []int // backwards
	for j := k - 1; j >= from && len(said) < 5; j-- {
		switch {
		case g.toks[j].kind == word:
			said = append(said, j)
		case g.toks[j].kind == stop && len(said) > 0:
			j = from
		}
	}
	for len(said) > 0 && g.is(said[0], "a", "an", "about", "only", "just") {
		said = said[1:]
	}
	start := -1
	for _, p := range phrases {
		n := len(p)
		if n <= len(said) && (start < 0 || said[n-1] < start) && !slices.ContainsFunc(p, func(w string) bool { n--; return g.toks[said[n]].text != w }) {
			start = said[len(p)-1]
		}
	}
	return start, start >= 0
}

// supersede lets a number give way to a later one that the words between put in its
// place: "came up as fifteen, we re-zeroed, and it's twelve", "a hundred and ten, or
// one twenty, perfusion says one eighteen".
func (g *segment) supersede() {
	for i := range g.signs {
		a := &g.signs[i]
		if a.num == nil || a.used || a.content() || a.scope&(calling|aiming|denied) != 0 {
			continue
		}
		for j := i + 1; j < len(g.signs) && g.signs[j].from-a.to <= 14; j++ {
			b := &g.signs[j]
			if b.is(calls) || b.is(targets) || b.is(depends) || b.is(scratches) {
				break
			}
			if b.num == nil || b.used || b.content() || !sameSort(a, b) || b.scope&(calling|aiming) != 0 || b.scope&intended != 0 && g.is(b.to, "by", "tonight", "tomorrow", "later") || g.unitsDiffer(i, j) || !g.nearEnough(a, b) {
				continue
			}
			if g.is(a.to, "now") && g.is(a.to+1, ",") {
				break // "77 now, 45 per cent": the first is of now
			}
			start, ok := g.endsIn(superseded, a.to, b.from)
			if !ok && (g.settledAfter(i, j) || !hasSection(g.lex.kind, "between") && g.beforeThis(i) && (g.is(b.to, "after", "afterward", "now") || g.is(b.from-1, "after", "now"))) {
				start, ok = a.to, true
			}
			if !ok && g.shutThen(a.to, b) {
				start, ok = a.to, true
			}
			if !ok || slices.ContainsFunc(g.signs[i+1:j], func(s sign) bool { return s.content() && s.from < start && !s.is(passing) }) && !g.thatWasThen(a.to, start) {
				continue
			}
			if g.is(a.to, "shock") || g.lex.kind == schema.Closure && g.is(start, "and") && g.is(start+1, "then") {
				continue // "two shocks, five and then ten joules"
			}
			if p := (amount{from: a.from, to: a.to}); g.onBypass(p) || g.anyWithin(a.from-3, b.from, "worst", "peak", "highest", "top") || g.besideAny(p, peakWords) && g.mentions("lactate", "lac") {
				continue // "lactate six on pump and is four now": both are facts
			}
			if g.is(start, "now") && g.is(a.from-1, "was", "were", "after", "to") && (g.lex.kind == schema.ShuntRevision || g.lex.kind == schema.Reexploration || g.lex.kind == schema.SupportOn) {
				continue // what it was before the work is a fact there
			}
			if g.is(start, "and") && g.is(start+1, "then") && g.mentions("run", "period", "dose", "attempt") {
				continue // "two runs, 140 minutes and then 32"
			}
			if g.is(start, "say", "has", "perfusion", "perfusionist", "sheet", "chart", "record") && !g.inDoubt(i, j) {
				continue // "112, perfusion says 121": they differ
			}
			if g.standsByItself(i, j) { // "a five, in the end a six millimetre Sano"
				a.used = true
				break
			}
			for k := i + 1; k < j; k++ {
				if g.signs[k].num != nil || g.signs[k].is(corrects) || g.signs[k].is(denies) {
					g.signs[k].used = true
				}
			}
			g.takePlace(i, j)
			break
		}
	}
}

// anyWithin tells whether one of the words is among the tokens from a up to b.
func (g *segment) anyWithin(a, b int, words ...string) bool {
	for k := a; k < b; k++ {
		if g.is(k, words...) {
			return true
		}
	}
	return false
}

// thatWasThen tells whether all that is told between tokens a and b is when the first
// number held: "fifteen, that was before the nitric, now thirteen".
func (g *segment) thatWasThen(a, b int) bool {
	if g.is(a, "with", "while", "when", "until") || g.anyWithin(a, b+1, "flushed", "zeroed", "rezeroed") {
		return true // "nineteen with the clamp on; the number you want is fourteen"
	}
	for k := a; k+2 < b && k < a+6; k++ {
		if g.is(k, "that", "which", "it") && g.is(k+1, "was") && g.is(k+2, "before", "with", "without", "on", "until") {
			return true
		}
	}
	return false
}

// shutThen tells whether the first of two numbers was with something shut that is
// open with the second: "eighteen with the fenestration shut, fifteen with it open".
func (g *segment) shutThen(a int, b *sign) bool {
	shut := false
	for k := a + 1; k < b.from; k++ {
		shut = shut || g.is(k, "shut", "closed", "clamped", "snared", "occluded") && !g.is(k-1, "not")
	}
	k := b.to
	for g.is(k, "with", "it", "the", "fenestration", "now", "once") {
		k++
	}
	return shut && g.is(a, "with") && k > b.to && b.from-a <= 8 && (g.is(k, "open", "opened") || g.is(k, "was") && g.is(k+1, "open", "opened"))
}

// settledAfter tells whether the number at sign j, which follows on the one at i, is
// chosen over it by what comes after: "31, 33 by the chart, use that", "sixty per
// cent, fifty, I have just turned it down".
func (g *segment) settledAfter(i, j int) bool {
	near := !slices.ContainsFunc(g.signs[i+1:j], func(s sign) bool { return !s.has(isUnit) || s.num != nil })
	k := g.signs[j].to
	if g.ofNowFrom(k) && !hasSection(g.lex.kind, "between") && !slices.ContainsFunc(g.signs[i+1:j], func(s sign) bool { return s.num == nil && s.content() && !s.is(passing) }) { // there both are facts
		return true
	}
	for end := k + 9; k < end && k < len(g.toks) && g.toks[k].kind != stop && !g.numberAt(k); k++ {
		switch {
		case (g.is(k, "take", "trust", "believe", "use") || g.is(k, "with", "by") && g.is(k-1, "go")) && (g.is(k+1, "their", "her", "his", "them", "him") || g.is(k+1, "the") && g.is(k+2, "sheet", "chart", "record", "perfusionist")),
			near && g.is(k, "use", "take", "trust", "believe", "with", "keep", "write", "enter") && g.is(k+1, "that", "those", "it"):
			return true
		case !near:
		case g.is(k, "turned", "turning", "weaned", "put", "brought", "nudged", "dropped") && g.is(k+1, "it", "that", "them") && g.is(k-1, "just", "have", "ive", "i", "we", "weve", "has"):
			return true
		}
	}
	return false
}

// ofNow are the words after a number that say it is the one of now.
var ofNow = splitPhrases("as i speak; as we speak; by the time we left; by the time he left; by the time she left; leaving; on leaving; at the end; by the end; going out; on the way out; as we left; as he left; as she left; is what she leaves with; is what he leaves with; when we left; at handover; on arrival")

// ofNowFrom tells whether the words from token k on say that a number is the one of now.
func (g *segment) ofNowFrom(k int) bool {
	return slices.ContainsFunc(ofNow, func(p []string) bool {
		for n, w := range p {
			if !g.is(k+n, w) {
				return false
			}
		}
		return !g.numberAt(k + len(p)) // "leaving fourteen": of the number that follows
	})
}

// inDoubt tells whether the speaker leaves it to the record which number it is: "or
// one twenty, perfusion says one eighteen", "the sheet says sixty, so take the sheet".
func (g *segment) inDoubt(i, j int) bool {
	for k := g.signs[i].from; k < g.signs[j].from; k++ {
		if g.is(k, "or", "but", "wait", "check", "hang", "see", "no") {
			return true
		}
	}
	k := g.signs[j].to
	for ; k < len(g.toks) && k < g.signs[j].to+8 && g.toks[k].kind != stop; k++ {
		if g.is(k, "take", "use", "trust", "believe", "with") && g.is(k+1, "that", "the", "it", "them") {
			return true
		}
	}
	return false
}

// noneAfterAll denies what was only written down: "I'd written nine minutes of
// arrest; there was none".
func (g *segment) noneAfterAll() {
	for i := range g.signs {
		s := &g.signs[i]
		if !s.is(denies) && !s.is(deniesBefore) || !g.is(s.to-1, "none") || !g.is(s.from, "there", "it", "none") {
			continue
		}
		if n := g.nextSign(s.to); n < len(g.signs) && g.signs[n].from-s.to <= 2 && !g.crosses(s.to, g.signs[n].from) {
			continue
		}
		g.denyRefused(i)
		for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 5; j-- {
			p := &g.signs[j]
			if !p.content() || p.num != nil {
				continue
			}
			if p.scope&weighed != 0 {
				p.scope = p.scope&^weighed | denied
				for n := range p.senses {
					if l := p.senses[n].field; p.senses[n].kind == namesField && l.Path.List() != "" {
						p.senses[n].field = fieldAt(l.Path.List()) // of the periods: none at all
					}
				}
				for k := 0; k < i; k++ {
					if g.signs[k].num != nil && p.from-g.signs[k].to <= 2 && g.signs[k].from-p.to <= 2 {
						g.signs[k].used = true
					}
				}
			}
			break
		}
	}
}

// denyRefused denies the thing named before the "there is none" at sign i, where a "no" stands
// between: "PICC in the left arm: no, that one was refused, there is none".
func (g *segment) denyRefused(i int) {
	at := g.signs[i].from
	if !g.is(at, "there") || !g.is(at-1, ",", ";", "and") {
		return
	}
	refused := false
	for k := at - 1; k >= 0 && k > at-18 && g.toks[k].kind != stop; k-- {
		refused = refused || g.is(k, "no") && g.is(k-1, ":", ",")
		n := g.at[k]
		if n < 0 || !g.signs[n].content2() {
			continue
		}
		if p := &g.signs[n]; refused && p.has(isItem) {
			p.scope = p.scope&^(weighed|intended) | denied
		}
		return
	}
}

// takePlace substitutes number sign b for a, with how b is meant and its unit.
func (g *segment) takePlace(a, b int) {
	keep := g.signs[b].scope &^ (past | coming | formerly | weighed | intended | denied | hearsay)
	g.substitute(a, b)
	g.signs[a].scope = keep
	for j := a - 1; j >= 0 && g.signs[a].from-g.signs[j].from <= 8 && g.clause[g.signs[j].from] == g.clause[g.signs[a].from]; j-- {
		if g.signs[j].content() {
			g.signs[j].scope &^= past | coming | weighed | intended
			break
		}
	}
	if u := b + 1; u < len(g.signs) && g.signs[u].has(isUnit) && g.signs[u].num == nil && g.signs[u].from == g.signs[b].to {
		g.signs[u].used = true
		if q := a + 1; q < b && g.signs[q].has(isUnit) && g.signs[q].num == nil && g.signs[q].from == g.signs[a].to {
			g.signs[q].senses = g.signs[u].senses
		}
	}
}

// unitsDiffer tells whether two numbers are said in units that differ, or only the
// second in one.
func (g *segment) unitsDiffer(a, b int) bool {
	unit := func(n int) int32 {
		if u := n + 1; u < len(g.signs) && g.signs[u].has(isUnit) && g.signs[u].num == nil && g.signs[u].from == g.signs[n].to {
			return g.signs[u].node
		}
		return -1
	}
	x, y := unit(a), unit(b)
	return x != y && y >= 0 && x >= 0
}

// nearEnough tells whether the second of two numbers may be the first put right: of
// one magnitude.
func (g *segment) nearEnough(a, b *sign) bool {
	if a.num.decimal == "" {
		return true
	}
	x, err := strconv.ParseFloat(a.num.decimal, 64)
	y, err2 := strconv.ParseFloat(b.num.decimal, 64)
	return err == nil && err2 == nil && x > 0 && y > 0 && x/y <= 8 && y/x <= 8
}

// ofAnother skips what is said of a first word before the right one comes: "no, that
// was yesterday's child, a right Glenn", "sorry, that's the other twin, eighty one".
func (g *segment) ofAnother(i int) bool {
	c := &g.signs[i]
	k := c.to
	for g.is(k, ",", "no", "sorry", "wait", "hang", "on", ".") {
		k++
	}
	if n := g.nextSign(k); n < len(g.signs) && g.signs[n].from == k && g.signs[n].num != nil && g.is(g.signs[n].to, "was", "is") {
		k = g.signs[n].to // "no, seventeen was before the fenestration"
	} else if g.is(k, "that", "it", "this", "those") && g.is(k+1, "was", "is", "were", "came", "the", "our", "my", "his", "her", "another", "for", "from", "how", "what", "yesterday") {
		k++
	} else if !g.is(k, "not") && !g.is(k-1, "was", "not") {
		return false
	}
	end := k
	for end < len(g.toks) && end-k < 10 && !g.is(end, ",") && g.toks[end].kind != stop {
		end++
	}
	r := g.nextSign(end)
	for r < len(g.signs) && !g.signs[r].content() && g.signs[r].num == nil && g.signs[r].from-end <= 4 && g.sideOf(&g.signs[r]) == "" {
		r++
	}
	if end >= len(g.toks) || end == k || r >= len(g.signs) || g.signs[r].from-end > 5 || g.signs[r].scope&(calling|aiming) != 0 {
		return false
	}
	p := g.counterpart(i, r)
	if p < 0 || c.from-g.signs[p].to > 4 || g.signs[r].num != nil && (!g.nearEnough(&g.signs[p], &g.signs[r]) || g.unitsDiffer(p, r)) {
		return false
	}
	if r+1 < len(g.signs) && g.signs[r].num != nil && g.signs[r+1].content() && !g.is(g.signs[r].to, ",") && g.toks[g.signs[r].to].kind != stop {
		return false // "sorry, that was low, two atrial wires": of something else
	}
	for n := i; n < r; n++ {
		g.signs[n].used = true
	}
	for n := r; n < len(g.signs); n++ {
		g.signs[n].scope &^= denied | hearsay | past | coming | formerly
	}
	if g.signs[r].num != nil {
		g.takePlace(p, r)
		return true
	}
	for n := 0; n < p; n++ {
		if g.signs[n].from >= g.signs[p].from-2 && g.sideOf(&g.signs[n]) != "" {
			g.signs[n].used = true
		}
	}
	g.signs[p].used = true
	return true
}

// amend is a number that was said wrong, and the right one.
type amend struct{ wrong, right string }

// wrongOnes finds "the five I said was wrong, it is a six": a number of an earlier
// sentence, put right by its value.
func (g *segment) wrongOnes() {
	for i := range g.signs {
		a := &g.signs[i]
		if a.num == nil || a.num.decimal == "" || a.used || !g.is(a.from-1, "the", "that") {
			continue
		}
		said, wrong := i > 0 && g.signs[i-1].is(retracts) && g.signs[i-1].to == a.from, 0
		if said {
			wrong = a.to // "strike the five, it was a six"
		} else if g.is(a.to, "should") && g.is(a.to+1, "be", "have", "read") || g.is(a.to, "is", "was") && g.is(a.to+1, "wrong") {
			said = true // "the twelve should be a fourteen"
		}
		for k := a.to; wrong == 0 && k < len(g.toks) && k < a.to+8 && g.toks[k].kind != stop; k++ {
			said = said || g.is(k, "said", "gave", "told", "quoted", "mentioned")
			if g.is(k, "wrong", "mistake", "error", "incorrect", "misread") || g.is(k, "should") && g.is(k+1, "be", "have", "read") {
				wrong = k
				break
			}
		}
		if !said || wrong == 0 {
			continue
		}
		for j := i + 1; j < len(g.signs) && g.signs[j].from-wrong <= 6; j++ {
			if b := &g.signs[j]; b.num != nil && b.num.decimal != "" && !b.used {
				g.amends = append(g.amends, amend{a.num.decimal, b.num.decimal})
				a.used, b.used = true, true
				break
			}
		}
	}
}

// putRight gives the last value that was said wrong the right one.
func (s *settling) putRight(a amend) {
	var last *Proposal
	see := func(p *Proposal) {
		if f := fieldAt(p.Path); f != nil && f.Numeric() && p.Value == a.wrong && p.Bound == "" && (last == nil || p.Spans[0].Start > last.Spans[0].Start) {
			last = p
		}
	}
	for _, p := range s.plain {
		see(p)
	}
	for _, x := range s.groups {
		if x.gone {
			continue
		}
		for _, p := range x.values {
			see(p)
		}
	}
	if last != nil {
		last.Value, last.Sure, last.Note = a.right, Check, "another number was said first"
	}
}

// amendsAt tells whether the words from token lo to hi are said to put right what was
// said before: "Sorry, the clamp was fifty eight", "clamp fifty eight, I misread it".
func (g *segment) amendsAt(lo, hi int) bool {
	for i := range g.signs {
		s := &g.signs[i]
		if !s.is(corrects) && !s.is(scratches) || g.weakCue(s) {
			continue
		}
		if s.to <= lo && lo-s.to <= 3 && !g.crossesStop(s.to, lo) && (s.from == 0 || g.toks[s.from-1].kind == stop) || s.from >= hi && s.from-hi <= 1 && g.within(s, "misread", "wrong") {
			return true
		}
	}
	return false
}

// varietyOf is the variety that sign b names of the thing in the senses; nil where it
// names none.
func varietyOf(b *sign, of []sense) *sense {
	for _, x := range of {
		if x.kind != isItem {
			continue
		}
		for _, y := range b.senses {
			if y.kind == isVariety && y.item == x.item && y.value != x.value {
				y.kind = isItem
				return &y
			}
		}
	}
	return nil
}

// otherVariety tells whether sign r names, without its noun, another variety of the
// thing at sign p.
func (g *segment) otherVariety(p, r *sign) bool {
	return !r.has(isItem) && varietyOf(r, p.senses) != nil
}

// ordinalInstead is the last ordinal from token k on that takes the place of one said
// before, and its token: "third sternotomy, did I say third, it is the second".
func (g *segment) ordinalInstead(k int) (n, at int) {
	cue := false
	for j := k; j < len(g.toks) && j < k+14; j++ {
		if i := g.at[j]; i >= 0 && g.signs[i].from == j {
			s := &g.signs[i]
			cue = cue || s.is(corrects) || s.is(scratches) || s.is(weighs)
			if s.content() && ordinals[g.toks[j].text] == 0 && !g.is(j, "chest", "sternum") {
				break
			}
		}
		cue = cue || g.is(j, "or", "no")
		counted := g.is(j-1, ",") && (g.is(j+1, "if", "counting", "with") || g.is(j+1, "time") && g.is(j+2, "if", "counting", "with", ",")) // "third time, if you count the band"
		if m := ordinals[g.toks[j].text]; counted && m > 0 {
			n, at = m, j
		} else if cue && m > 0 && !g.is(j+1, "degree", "run", "attempt", "time", "dose", "shunt") && !g.is(j-1, "say") {
			n, at = m, j
		}
	}
	return n, at
}

// readInstead reads a choice that is said of what was named with an intention: "the
// azygos I was going to clip, but it's ligated".
func (g *segment) readInstead() {
	for i := range g.signs {
		s := &g.signs[i]
		if s.used || s.num != nil || s.scope&(unreal|denied|past) != 0 || !g.insteadBefore(s.from) {
			continue
		}
	names:
		for j := i - 1; j >= 0 && s.from-g.signs[j].to <= 12; j-- {
			for _, x := range g.signs[j].senses {
				if x.kind != namesField || x.field.Section == "before" || x.field.Section == "catheter" || x.field.Section == "anatomy" {
					continue
				}
				if v := g.valueOf(s, x.field); v != "" && x.field.Path.List() == "" && g.inNote(x.field) {
					c := g.claimField(x.field, v, s.from, s.to, g.signs[j].from, s.to)
					c.sure, c.note = Check, "something else was meant first"
					s.used, g.signs[j].used = true, true
					break names
				}
			}
		}
	}
}

// insteadBefore tells whether "but", "in the end" or "instead" stands shortly before
// token k, after an intention.
func (g *segment) insteadBefore(k int) bool {
	for j := k - 1; j > 0 && k-j <= 5 && g.toks[j].kind != stop; j-- {
		if g.is(j, "but", "instead") || g.is(j, "end") && g.is(j-1, "the") {
			return slices.ContainsFunc(g.signs, func(s sign) bool { return s.to <= j && (s.is(intends) || s.is(weighs)) })
		}
	}
	return false
}

// numberOver is the number that stands before the noun at sign j, where sign r right
// after a "no" is a number by itself: "fifteen venous, no, eighteen". It is j itself
// where there is none.
func (g *segment) numberOver(j, r int) int {
	if g.signs[r].num == nil || g.signs[j].num != nil || !g.signs[j].content() {
		return j
	}
	if r+1 < len(g.signs) && g.signs[r+1].from-g.signs[r].to <= 1 && !g.crosses(g.signs[r].to, g.signs[r+1].from) {
		return j
	}
	m := j - 1
	for m >= 0 && g.signs[m].num == nil && g.signs[m].has(isUnit) {
		m--
	}
	if m < 0 || g.signs[m].num == nil || g.signs[m].used || g.signs[m+1].from-g.signs[m].to > 0 || g.signs[j].from-g.signs[m].to > 3 || !g.nearEnough(&g.signs[m], &g.signs[r]) {
		return j
	}
	return m
}
