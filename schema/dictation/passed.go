package dictation

import (
	"slices"

	"fairlead/schema"
)

// passedRhythms marks a rhythm, or pacing, that lasted only a while: "three minutes of
// complete block", "flutter for a bit", "junctional ten minutes off bypass", "for an hour
// he wanted sequential pacing".
func (g *segment) passedRhythms(set func(from, to int, f scope)) {
	for i := range g.signs {
		s := &g.signs[i]
		if !g.rhythmAt(i) {
			continue
		}
		k := s.to
		for g.is(k, "rhythm", "just") {
			k++
		}
		j := s.from
		for g.is(j-1, "a", "an", "early", "brief", "short", "atrial", "the", "he", "she", "wanted", "needed", "had", "was", "we", "paced", "in") {
			j--
		}
		switch {
		case g.is(k, "for") && g.whileAt(k+1) && !g.is(k+1, "now"), g.minutesAt(k) && g.is(g.signs[g.at[k]+1].to, "off", "after", "coming", "on"),
			g.is(k, "coming") && g.is(k+1, "off"), g.is(k, "that", "which", "but") && g.is(k+1, "went", "settled", "resolved", "passed", "has") && !g.is(k+2, "on", "to", "been"),
			g.is(j-1, "of") && g.is(j-2, "run", "burst", "spell", "episode", "bout", "minute", "period", "hour", "beat"),
			g.is(k, "responded") || g.is(k, ",") && g.is(k+1, "cardioverted", "shocked"):
			set(s.from, s.to, past)
		case g.whileBefore(j):
			set(s.from, s.to, past)
		}
	}
}

// rhythmAt tells whether sign i is a rhythm or a way of pacing.
func (g *segment) rhythmAt(i int) bool {
	return slices.ContainsFunc(g.signs[i].senses, func(x sense) bool {
		return x.kind == isValue && (x.field.Path == schema.LeavingRhythm || x.field.Path == schema.LeavingPacing && x.value != "standby")
	})
}

// whileAt tells whether a while is told from token k: "a bit", "some minutes", "about a
// minute", "ten minutes".
func (g *segment) whileAt(k int) bool {
	for n := 0; n < 4; n++ {
		if g.is(k, "bit", "while", "minute", "moment", "hour", "spell", "second", "time") {
			return true
		}
		if !g.is(k, "a", "an", "some", "about", "few", "the", "first", "short", "little", "couple", "of") && !g.numberAt(k) {
			return false
		}
		if g.numberAt(k) {
			k = g.signs[g.at[k]].to
		} else {
			k++
		}
	}
	return false
}

// minutesAt tells whether a number of minutes stands at token k.
func (g *segment) minutesAt(k int) bool {
	if !g.numberAt(k) {
		return false
	}
	n := int(g.at[k]) + 1
	return n < len(g.signs) && g.signs[n].from == g.signs[n-1].to && g.is(g.signs[n].from, "minute", "min")
}

// whileBefore tells whether a while is told right before token k: "for an hour he".
func (g *segment) whileBefore(k int) bool {
	for j := k - 2; j >= 0 && j >= k-6; j-- {
		if g.is(j, "for") && (j == 0 || g.toks[j-1].kind == stop || g.is(j-1, ",")) {
			return g.whileAt(j + 1)
		}
	}
	return false
}

// keptAsBefore tells whether what stands before "as before", at sign i, is a thing left in
// or a drug, which stays as it was.
func (g *segment) keptAsBefore(i int) bool {
	for j := i - 1; j >= 0 && g.signs[i].from-g.signs[j].to <= 4; j-- {
		s := &g.signs[j]
		if g.drugAt(j) != "" || slices.ContainsFunc(s.senses, func(x sense) bool {
			return x.item != nil && (x.item.Name == "pacing-wires" || x.item.Name == "drain")
		}) {
			return true
		}
		if s.content() && s.num == nil && !s.has(isUnit) {
			return false
		}
	}
	return false
}
