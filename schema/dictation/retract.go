package dictation

import (
	"strings"

	"fairlead/schema"
)

// interjected tells whether a sign is a "no" that stands by itself and takes back
// what was said, rather than denying something.
func (g *segment) interjected(s *sign) bool {
	if s.to-s.from == 1 && g.is(s.from, "no") && s.from > 0 && g.is(s.to, "i", "we", "its", "it", "that") && g.is(s.to+1, "did", "is", "was", "had", "meant", "made", "left", "put", "used", "took", "tied", "we", "i", "planned", "am", "have", "looked", "misread", "cut", "closed", "opened", "clipped", "kept") {
		return true
	}
	return s.to-s.from == 1 && g.is(s.from, "no") && s.from > 0 && g.is(s.to, ",", "i", "we", "it", "its", "she", "he", "that", "they") &&
		(g.is(s.from-1, ",", "→", ">") || g.toks[s.from-1].kind == stop && !g.is(s.from-1, "?"))
}

// weakCues open a correction as often as they add to what was said.
func (g *segment) weakCue(s *sign) bool {
	return g.is(s.from, "actually", "fact", "well", "rather", "in", "i", "was", "let", "hang", "hold", "wait") && !g.within(s, "mean", "meant", "lie", "misspoke", "should", "no")
}

// retract drops what a correction took back but left standing: of two values of
// one field on both sides of it the second stands, and where nothing took the
// place of the first, the words right before it are left to a person.
func (g *segment) retract() {
	g.deniedAgain()
	g.notQuite()
	g.ofAnotherStart()
	for i := range g.signs {
		s := &g.signs[i]
		cue := (s.is(corrects) || s.is(scratches)) && s.num == nil
		no := !cue && g.interjected(s)
		if !cue && !no || s.from == 0 {
			continue
		}
		settled := s.used
		for b := range g.claims { // the second of two values of one field
			y := &g.claims[b]
			if y.group >= 0 || y.gone || y.from < s.to || y.from-s.to > 14 {
				continue
			}
			for a := range g.claims {
				x := &g.claims[a]
				if x.group < 0 && !x.gone && x.field == y.field && x.field.Type != "list" && x.to <= s.from && s.from-x.to <= 14 {
					x.gone = x.value != y.value || x.stated != y.stated || x.bound != y.bound
					settled = true
				}
			}
		}
		settled = g.pronounInstead(i) || settled
		for b := range g.groups { // the second of two things of one kind
			y := &g.groups[b]
			if s.used || y.item == nil || y.gone || y.denied || y.from < s.to || y.from-s.to > 5 || g.crossesStop(s.to, y.from) {
				continue
			}
			for a := range g.groups {
				x := &g.groups[a]
				if x.item == y.item && !x.gone && x.to <= s.from && s.from-x.to <= 3 && (x.variety != y.variety || x.denied) {
					x.gone, settled = true, true
				}
			}
		}
		for b := range g.claims { // the second of two rows known by one word
			y := &g.claims[b]
			if y.group < 0 || y.from < s.to || y.from-s.to > 5 || rowKey[g.groups[y.group].list] != y.field.Name {
				continue
			}
			for a := range g.claims {
				x := &g.claims[a]
				if x.group >= 0 && x.group != y.group && x.field == y.field && x.value == y.value && x.to <= s.from {
					g.groups[x.group].gone, settled = true, true
				}
			}
		}
		pronoun := no && g.is(s.to, "i", "we", "it", "its", "that", "she", "he", "they")
		pronoun = pronoun && !(i+1 < len(g.signs) && g.signs[i+1].is(corrects) && g.signs[i+1].from-s.to <= 1) // "no, I tell a lie" has its own cue
		if settled || g.weakCue(s) || !pronoun && i+1 < len(g.signs) && g.signs[i+1].used && g.signs[i+1].from-s.to <= 2 {
			continue
		}
		// nothing took its place: what stands right before it is in doubt
		for a := range g.claims {
			x := &g.claims[a]
			if x.to > s.from || s.from-min(max(x.to, x.whyTo), s.from) > 2 || x.gone {
				continue
			}
			if x.group < 0 {
				x.gone = true
			} else {
				g.groups[x.group].sure, g.groups[x.group].note = Check, "a correction follows"
			}
		}
	}
}

// deniedAgain drops a value that the same words deny right after: "I tied it, good
// God no, I did not tie it".
func (g *segment) deniedAgain() {
	for a := range g.claims {
		if x := &g.claims[a]; x.group < 0 && !x.gone && x.value != "" && !x.field.Numeric() && g.deniedOfIt(x) {
			x.gone = true
		}
	}
	for i := range g.signs {
		s := &g.signs[i]
		if s.scope&denied == 0 && !(s.scope&weighed != 0 && g.correctedBefore(i)) {
			continue
		}
		for a := range g.claims {
			x := &g.claims[a]
			if s.scope&weighed != 0 && x.group < 0 && x.value != "" && x.to <= s.from && s.from-x.to <= 14 && g.valueOf(s, x.field) == x.value {
				x.gone = true // "in the duct. No wait, the duct was the plan"
			}
			if x.group < 0 && !x.gone && x.value != "" && x.to <= s.from && s.from-x.to <= 10 && !g.crossesStop(x.to, s.from) && s.scope&unreal == 0 && g.valueOf(s, x.field) == x.value && !g.swappedAt(x, s) {
				x.gone = true
			}
		}
	}
}

// correctedBefore tells whether a correction stands before sign i.
func (g *segment) correctedBefore(i int) bool {
	for j := i - 1; j >= 0 && j >= i-5; j-- {
		if s := &g.signs[j]; s.is(corrects) || s.is(scratches) {
			return true
		}
	}
	return false
}

// swappedAt tells whether a claim has its value from sign s by a correction: "open, no
// closed". "Swab sent, no tissue" is none: "no" before a thing denies it.
func (g *segment) swappedAt(x *claim, s *sign) bool {
	w := g.toks[s.from].text
	if x.field.Type == "list" || !strings.HasSuffix(w, "ed") && !g.is(s.from, "open", "shut", "cut", "left", "right", "oversewn", "none") {
		return false
	}
	for k := x.from; k < x.to; k++ {
		if n := g.at[k]; n >= 0 && g.signs[n].swap[1] > 0 && g.signs[n].swap[0] <= s.from && s.to <= g.signs[n].swap[1] {
			return true
		}
	}
	return false
}

// pronounInstead carries out "the azygos was left, actually no, I did tie it": after
// the correction at sign i only "it" says what the new value is of.
func (g *segment) pronounInstead(i int) bool {
	s := &g.signs[i]
	for n := i + 1; n < len(g.signs) && g.signs[n].from-s.to <= 6 && !g.crossesStop(s.to, g.signs[n].from); n++ {
		p := &g.signs[n]
		if p.used || p.scope&(unreal|denied) != 0 || !g.is(p.to, "it", "them", "that") && !g.is(p.from-1, "it", "them") {
			continue
		}
		for a := range g.claims {
			x := &g.claims[a]
			if x.group >= 0 || x.gone || x.value == "" || x.field.Type != "string" || x.to > s.from || s.from-x.to > 4 {
				continue
			}
			if v := g.valueOf(p, x.field); v != "" && v != x.value {
				x.gone, p.used = true, true
				g.claimField(x.field, v, p.from, p.to, x.from, p.to)
				return true
			}
		}
	}
	return false
}

// notQuite drops what was only nearly so: "Extubated... well, nearly.", "Closed, almost."
func (g *segment) notQuite() {
	for k := 1; k < len(g.toks); k++ {
		if !g.is(k, "nearly", "almost") && !(g.is(k, "not") && g.is(k+1, "quite")) || !g.is(k-1, ",", "well", "?") && g.toks[k-1].kind != stop {
			continue
		}
		end := k + 1
		if g.is(k, "not") {
			end++
		}
		if end < len(g.toks) && g.toks[end].kind != stop && !g.is(end, ",") {
			continue // "nearly four"
		}
		for a := range g.claims {
			if c := &g.claims[a]; c.group < 0 && !c.field.Numeric() && c.value != "" && c.to <= k && k-c.to <= 7 {
				c.gone = true
			}
		}
	}
}

// ofAnotherStart drops the start of the operation where it is something else that was started,
// and a dose of nitric oxide that is a number read after it was given: "Started it at twenty",
// "sixteen after nitric".
func (g *segment) ofAnotherStart() {
	for a := range g.claims {
		switch c := &g.claims[a]; c.field.Path {
		case schema.OperationStarted:
			c.gone = c.gone || c.from > 1 && g.is(c.from-1, "at") && g.is(c.from-2, "it", "that", "them", "him", "her")
		case schema.VentilationNitricOxide:
			c.gone = c.gone || c.stated == "" && g.is(c.to, "after", "before", "despite")
		}
	}
}
