package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// gaveWayTo marks what held only until it was put right: what was measured before they
// went back on, "came off with a Fontan of nineteen, sats ninety four, so we went back
// on", and the rhythm and the pacing before "she's back in sinus".
func (g *segment) gaveWayTo(set func(from, to int, f scope)) {
	g.ledBack(set)
	for k := 1; k+1 < len(g.toks); k++ {
		if !g.is(k, "back") {
			continue
		}
		switch {
		case g.is(k+1, "on") && g.is(k-1, "went", "go", "going", "put", "straight") && !g.is(k+2, "the", "to", "a"),
			g.is(k+1, "onto", "on") && g.is(k-1, "went", "go", "going", "put") && g.anyWithin(k+2, min(len(g.toks), k+4), "bypass", "pump", "machine"):
			for j := k - 1; j >= 0 && k-j < 40; j-- {
				if g.is(j, "came", "come", "coming", "got") && g.is(j+1, "off") {
					set(j+2, k, past)
					break
				}
			}
		case g.is(k+1, "in", "into", "to") && !g.anyWithin(0, len(g.toks), "underneath", "beneath", "underlying"):
			n := g.nextSign(k + 2)
			if n < len(g.signs) && g.signs[n].from-k <= 4 && g.rhythmAt(n) && g.signs[n].scope&unreal == 0 && g.is(k-1, "is", "she", "he", "rhythm", "now", "went", "came", "are", "theyre", "and", "but", "its") {
				for i := 0; i < n; i++ {
					if g.rhythmAt(i) {
						set(g.signs[i].from, g.signs[i].to, past)
						if i+1 < n && g.signs[i+1].num != nil && g.signs[i+1].from-g.signs[i].to <= 3 {
							set(g.signs[i+1].from, g.signs[i+1].to, past) // "paced at one ten"
						}
					}
				}
			}
		}
	}
}

// returns are the kinds of note that are of going back to a child.
var returns = map[schema.Kind]bool{schema.Takedown: true, schema.Reexploration: true, schema.ShuntRevision: true, schema.SupportOn: true}

// ledBack marks the numbers that were the reason to go back: "her sats were sixty one on a
// hundred percent, so we took her back".
func (g *segment) ledBack(set func(from, to int, f scope)) {
	if !returns[g.lex.kind] {
		return
	}
	for k := 1; k+2 < len(g.toks); k++ {
		if g.is(k, "had") && g.is(k+1, "lost", "drained", "bled", "poured", "put") && !g.mentions("leaving", "left", "now") {
			n := g.nextSign(k + 2)
			for n+1 < len(g.signs) && g.signs[n].num == nil && g.signs[n].from <= k+3 {
				n++
			}
			if n < len(g.signs) && g.signs[n].num != nil && g.signs[n].from <= k+5 {
				set(g.signs[n].from, g.signs[n].to, past) // "the drains had lost sixty mils in an hour"
			}
		}
		if !g.is(k, "so", "why", "hence") {
			continue
		}
		j := k + 1
		if g.is(j, "we", "i", "they", "it", "she", "he") {
			j++
		}
		switch {
		case g.is(j, "went", "took", "brought", "came", "was", "had", "straight", "rushed", "called", "back") && g.anyWithin(j, min(len(g.toks), j+5), "back", "theater", "reopened") && !g.anyWithin(j, min(len(g.toks), j+5), "bypass", "pump", "on"):
		case g.is(j, "reopened", "opened") && g.is(j+1, "the", "her", "him", "up", "again") && !g.anyWithin(j, min(len(g.toks), j+4), "shunt", "clip", "fenestration"):
		case g.is(j, "took") && g.is(j+1, "it") && g.is(j+2, "down"):
		default:
			continue
		}
		for i := g.prevSign(k); i >= 0 && k-g.signs[i].from < 40 && !g.crossesStop(g.signs[i].to, k); i-- {
			if g.signs[i].num != nil && !(g.inNote(fieldAt(schema.BetweenSaturationBeforeWork)) && i > 0 && g.meansName(&g.signs[i-1], fieldAt(schema.LeavingSaturation))) {
				set(g.signs[i].from, g.signs[i].to, past) // a saturation of before has its own place
			}
		}
	}
}

// moreExactly puts a number that is said once more with its point in the place of the
// one without: "sixteen kilos, sixteen point two".
func (g *segment) moreExactly() {
	for i := 1; i < len(g.signs); i++ {
		b := &g.signs[i]
		if b.num == nil || b.used || b.content() || g.namedAfter(i) || b.scope&(calling|aiming) != 0 {
			continue
		}
		whole, _, pointed := strings.Cut(b.num.decimal, ".")
		j := i - 1
		if j > 0 && g.signs[j].num == nil && g.signs[j].has(isUnit) && g.signs[j].from == g.signs[j-1].to {
			j--
		}
		a := &g.signs[j]
		if j+1 < i && g.nearlyAgain(j, i) {
			g.takePlace(j, i)
			continue
		}
		if !pointed || a.num == nil || a.used || a.content() || a.num.decimal != whole || a.num.surely || g.unitsDiffer(j, i) {
			continue
		}
		k := a.to
		if j+1 < i {
			k = g.signs[j+1].to
		}
		for g.is(k, ",", "or", "well", "its") || k < b.from && g.toks[k].kind == stop {
			k++
		}
		if k == b.from {
			g.takePlace(j, i)
		}
	}
}

// nearlyAgain tells whether the number at sign i, bare and last in its sentence, says once more
// the minutes told of one thing right before it: "bypass was thirty eight minutes, forty one".
// Of several runs or periods each has its own.
func (g *segment) nearlyAgain(j, i int) bool {
	a, b := &g.signs[j], &g.signs[i]
	if a.num == nil || a.used || j == 0 || !g.is(g.signs[j+1].to-1, "minute", "min") || !g.is(g.signs[j+1].to, ",") || g.signs[j+1].to+1 != b.from ||
		b.to < len(g.toks) && g.toks[b.to].kind != stop || !g.is(a.from-1, "was", "is", "of") && g.signs[j-1].to != a.from || g.mentions("run", "two", "period", "then", "and", "dose") {
		return false
	}
	x, err := strconv.ParseFloat(a.num.decimal, 64)
	y, err2 := strconv.ParseFloat(b.num.decimal, 64)
	return err == nil && err2 == nil && x >= 10 && y > 0.7*x && y < 1.4*x
}

// thatsThe carries out "through the left jugular... that's the right jugular": after a
// pause the same thing is named with its side.
func (g *segment) thatsThe() {
	for k := 2; k+2 < len(g.toks); k++ {
		if !g.is(k, "that") || !g.is(k+1, "the") || !g.is(k-1, ",") && g.toks[k-1].kind != stop {
			continue
		}
		i := g.nextSign(k + 2)
		if i >= len(g.signs) || g.signs[i].from != k+2 || g.sideOf(&g.signs[i]) == "" {
			continue
		}
		n := g.nameAgain(i)
		for p := n - 1; n >= 0 && p >= 0 && k-g.signs[p].to <= 2; p-- {
			if g.signs[p].from < k && g.signs[p].content2() && sameThing(&g.signs[p], &g.signs[n]) {
				if g.moveBefore(i, n, p) {
					g.signs[n].used = true
				}
				break
			}
		}
	}
}

// deniedOfIt drops a value that is denied right after of "it": "the arch was patched, it
// was not patched at all".
func (g *segment) deniedOfIt(x *claim) bool {
	for w := x.why; w < x.whyTo; w++ {
		if !strings.HasSuffix(g.toks[w].text, "ed") {
			continue
		}
		for k := x.whyTo; k < len(g.toks) && k < x.whyTo+12; k++ {
			if !g.is(k, g.toks[w].text) || !g.is(k-1, "not", "never") && !contracted[g.wordAt(k-1)] {
				continue
			}
			if slices.ContainsFunc(g.toks[max(0, k-4):k], func(t token) bool { return t.text == "it" || t.text == "they" || t.text == "that" }) {
				return true
			}
		}
	}
	return false
}

// askedBack tells whether the number at sign i is only asked: "one thirty now, is it?".
func (g *segment) askedBack(i int) bool {
	k := g.signs[i].to
	if !g.is(k, "now") {
		return false
	}
	if k++; g.is(k, ",") {
		k++
	}
	return g.is(k, "is", "was") && g.is(k+1, "it", "that") && g.is(k+2, "?")
}

// otherDose carries out a correction of a dose that changes its unit as well: "0.03 units
// per kilo per hour, sorry, 0.3 milliunits per kilo per minute".
func (g *segment) otherDose() {
	dose := func(n int) bool { // a number with a unit by the kilo and the time
		u := n + 1
		return n >= 0 && u < len(g.signs) && g.signs[n].num != nil && !g.signs[n].used && g.signs[u].from == g.signs[n].to &&
			slices.ContainsFunc(g.signs[u].senses, func(x sense) bool {
				return x.kind == isUnit && strings.Contains(x.unit, "/kg/") && !strings.HasPrefix(x.unit, "mL")
			})
	}
	for b := 3; b < len(g.signs); b++ {
		if !dose(b) {
			continue
		}
		for a := b - 1; a >= 0 && a >= b-6; a-- {
			if c := &g.signs[a]; c.num != nil && !dose(a) || g.drugAt(a) != "" {
				break
			}
			if dose(a) && g.unitsDiffer(a, b) && g.correctedIn(g.signs[a+1].to, g.signs[b].from) {
				g.takePlace(a, b)
				for k := a + 2; k < b; k++ {
					g.signs[k].used = true
				}
				break
			}
		}
	}
}
