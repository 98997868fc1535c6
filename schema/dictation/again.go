package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// readItemAgain reads what puts right a thing that was listed before, in the same
// sentence or an earlier one: "no, the pleural is a twelve", "actually the
// mediastinal one was a nineteen". Only the attribute is said; the rest stands.
func (g *segment) readItemAgain() {
	for i := range g.signs {
		s := &g.signs[i]
		senses := s.senses
		if side := g.sideOf(s); (side == "right" || side == "left") && !s.content2() && (g.ctx.last == "drain" || g.mentions("drain", "pleural")) {
			senses = []sense{{kind: isVariety, item: schema.ItemKindNamed("drain"), value: side + "-pleural"}} // "scratch that, the left's a ten"
		}
		if s.used || !s.has(isVariety) && !s.has(isItem) && len(senses) != 1 || s.scope&(unreal|denied) != 0 && !g.is(s.from-2, "scratch") {
			continue
		}
		article := 0
		if g.is(s.from-1, "the", "that", "her", "his") {
			article = 1
		} else if len(senses) == 1 {
			continue
		}
		cue := g.cueBefore(s.from - article)
		if cue < 0 {
			continue
		}
		k := s.to
		if n := g.nextSign(k); n < len(g.signs) && g.signs[n].from == k && g.signs[n].has(isHead) && g.signs[n].num == nil {
			k = g.signs[n].to
		}
		if g.is(k, "one") && !g.ends(k+1) {
			k++
		}
		if !g.saysAgain(k, s.from-article) || article == 0 && !g.is(k, "is", "was", "are", "were") {
			continue
		}
		for g.is(k, ",", "its", "just", "make", "it", "to", "is", "was", "are", "were", "should", "be", "a", "an", "actually", "in", "fact", "only", "really", "the", "size") {
			k++
		}
		if !g.numberAt(k) {
			continue
		}
		a, ok := g.amountAt(int(g.at[k]))
		if !ok {
			continue
		}
		for _, x := range senses {
			if x.kind != isVariety && x.kind != isItem || ignored[x.item.Name] {
				continue
			}
			f := g.attributeFor(x.item, a)
			if f == nil && a.units == nil && smallCount(a.decimal) > 0 && x.item.Name == "pacing-wires" {
				f = x.item.Field("count")
			}
			if f == nil {
				continue
			}
			v, _, _ := fits(f, a)
			gi := g.newGroup("items", s.from, a.to)
			y := &g.groups[gi]
			y.item, y.variety, y.amends = x.item, x.value, true
			g.claimIn(gi, f, v, a.from, a.to, s.from, a.to)
			s.used = true
			g.useAmount(a)
			for n := g.nextSign(cue); n < i; n++ { // the cue has done its work
				g.signs[n].used, g.signs[n].senses = true, nil
			}
			for j := cue; j < s.from-article; j++ {
				g.toks[j].text, g.toks[j].kind = ",", mark
			}
			break
		}
	}
}

// saysAgain tells whether what stands at token k gives the thing named before it its
// number: "the mediastinal is a twelve", "make the ventricular one", "scratch the
// ventricular, only one". The words of correction end before token cue.
func (g *segment) saysAgain(k, cue int) bool {
	switch {
	case g.is(k, "is", "was", "are", "were", "should"), g.is(k, "a", "an") && g.numberAt(k+1):
		return true
	case g.is(cue-1, "make"):
		return g.numberAt(k) || g.is(k, "just", "only", "to")
	case g.is(cue-1, "scratch"):
		return g.is(k, ",") && g.is(k+1, "only", "just", "its", "it", "make")
	}
	return false
}

// pass makes words that have done their work a pause.
func (g *segment) pass(from, to int) {
	for j := from; j < to; j++ {
		if n := g.at[j]; n >= 0 {
			g.signs[n].used, g.signs[n].senses = true, nil
		}
		g.toks[j].text, g.toks[j].kind = ",", mark
	}
}

// cueBefore is the first token of the words of correction right before token k, -1
// where there are none.
func (g *segment) cueBefore(k int) int {
	at := -1
	for j := k - 1; j >= 0 && j >= k-6; j-- {
		n := g.at[j]
		switch {
		case g.toks[j].kind == stop:
			return at
		case g.is(j, "no", "nope", "actually", "sorry", "correction", "wait", "well", "make", "scratch") || n >= 0 && (g.signs[n].is(corrects) || g.signs[n].is(scratches)):
			at = j
			if n >= 0 {
				at = g.signs[n].from
			}
		case g.is(j, ",", "and", "oh", "but", "um", "er", "hang", "on", "hold", "that", "is", "it"):
		default:
			return at
		}
	}
	return at
}

// amendItems puts right what was listed before; what was not listed is dropped where
// its side is not known, else listed.
func (s *settling) amendItems() {
	for _, x := range s.groups {
		if !x.amends || x.gone {
			continue
		}
		var y *settled
		for _, z := range s.groups {
			if !z.gone && !z.Denied && !z.amends && z.item == x.item && sameVariety(x.variety, z.variety) && z.Spans[0].Start < x.Spans[0].Start {
				y = z
			}
		}
		if y == nil {
			if strings.HasPrefix(x.variety, "*-") {
				x.gone = true
				continue
			}
			x.values = append(x.values, &Proposal{Path: x.item.Field("variety").Path, Value: x.variety, Spans: x.Spans, Why: x.Why, Sure: x.Sure})
			continue
		}
		x.gone = true
		for _, p := range x.values {
			n := slices.IndexFunc(y.values, func(q *Proposal) bool { return q.Path == p.Path })
			if n < 0 {
				y.values = append(y.values, p)
				continue
			}
			p.Sure, p.Note = Check, "another number was said first"
			y.values[n] = p
		}
		y.Spans = append(y.Spans, x.Spans...)
	}
}

// sameVariety tells whether a variety with its side left out, "*-pleural", or said,
// is the other.
func sameVariety(x, y string) bool {
	if rest, ok := strings.CutPrefix(x, "*-"); ok {
		return y == "right-"+rest || y == "left-"+rest
	}
	return x == y
}

// takeBackNamed takes back what was listed before where it is named again to be struck out:
// "scratch the left one, that pleura was never opened", "scratch the ventricular, only one".
func (g *segment) takeBackNamed() {
	for k := 0; k+2 < len(g.toks); k++ {
		if !g.is(k, "scratch", "strike", "cancel", "delete", "scrap") || !g.is(k+1, "the") {
			continue
		}
		kind, variety := "drain", ""
		switch w := g.toks[k+2].text; {
		case !g.is(k+3, "one", "drain", "pleural", "pleura", "wire") && !g.partEnds(k+3):
		case (w == "left" || w == "right") && (g.ctx.last == "drain" || g.mentions("drain", "pleural")):
			variety = w + "-pleural"
		case w == "mediastinal":
			variety = w
		case w == "ventricular" || w == "atrial":
			kind, variety = "pacing-wires", w
		}
		if variety == "" {
			continue
		}
		item := schema.ItemKindNamed(kind)
		if n := g.countKept(k + 3); n > 0 && kind == "pacing-wires" {
			g.countLeft(item, item.Field("count"), variety, n, k, min(k+8, len(g.toks)))
			continue
		}
		g.dropBefore(item, variety, k)
		g.taken = append(g.taken, withdrawn{sense{kind: isItem, item: item, value: variety}, ""})
	}
}

// countKept is the number right after "only" or "just" from token k on, 0 where there is none.
func (g *segment) countKept(k int) int {
	for j := k; j < len(g.toks) && j < k+4; j++ {
		if g.is(j, "only", "just") && g.numberAt(j+1) {
			return smallCount(g.signs[g.at[j+1]].num.decimal)
		}
	}
	return 0
}
