package dictation

import (
	"slices"
	"strings"
)

// patchBefore tells whether a material is that of a patch, and not of a shunt or
// conduit named nearer.
func (g *segment) patchBefore(s *sign) bool {
	if g.is(s.to, "patch") {
		return true
	}
	for k := s.from - 1; k >= 0 && k >= s.from-9 && g.toks[k].kind != stop; k-- {
		if shuntNouns[g.toks[k].text] {
			return false
		}
		if g.is(k, "patch", "plasty", "patched", "augmented") {
			return true
		}
	}
	return false
}

// closureNamed is "skin" or "sternum", whichever was named last within six words
// before a sign.
func (g *segment) closureNamed(s *sign) string {
	for k := s.from - 1; k >= 0 && k >= s.from-6 && g.toks[k].kind != stop; k-- {
		switch {
		case g.is(k, "skin"):
			return "skin"
		case g.is(k, "sternum", "sternal", "wire", "bone", "chest"):
			return "sternum"
		}
	}
	return ""
}

// closedBefore tells whether the sternum is said to be closed just before a sign.
func (g *segment) closedBefore(s *sign) bool {
	for k := max(0, s.from-5); k < s.from; k++ {
		if g.is(k, "sternum", "closed", "chest") {
			return true
		}
	}
	return false
}

// bySelf tells whether a sign is a sentence, or stands between commas, with
// nothing but numbers beside it.
func (g *segment) bySelf(s *sign) bool {
	edge := func(k int) bool {
		return k < 0 || k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",") || g.at[k] >= 0 && (g.signs[g.at[k]].num != nil || g.signs[g.at[k]].has(isUnit))
	}
	return edge(s.from-1) && edge(s.to)
}

// cameTo tells whether the number at sign i is where something stood before it came
// to another: "sats were sixty eight, came up to seventy six".
func (g *segment) cameTo(i int) bool {
	k := g.signs[i].to
	if i+1 < len(g.signs) && g.signs[i+1].has(isUnit) && g.signs[i+1].from == k && g.signs[i+1].num == nil {
		k = g.signs[i+1].to
	}
	for g.is(k, ",", "and", "then", "but", "they", "it", "now") {
		k++
	}
	if g.is(k, "up") && g.is(k+1, "to") && g.numberAt(k+2) && k == g.signs[i].to && i > 0 && g.saturationBefore(i) {
		for j := range g.signs {
			if g.signs[j].is(targets) || g.signs[j].is(calls) {
				return false
			}
		}
		return true // "Sats 70 up to 84"
	}
	if !g.is(k, "came", "rose", "went", "climbed", "improved", "settled", "increased", "dropped", "fell", "recovered", "coming", "falling") {
		return false
	}
	settled := g.is(k, "settled")
	for k++; g.is(k, "up", "down", "back", "again"); k++ {
	}
	return (g.is(k, "to") || settled && g.is(k, "at")) && (g.numberAt(k+1) || g.is(k+1, "a", "about") && g.numberAt(k+2))
}

// readOtherSideToo reads a side that only "was" or "was not" what the other one is
// said to be: "the left pleura was never opened but the right was".
func (g *segment) readOtherSideToo() {
	for i := 1; i < len(g.signs); i++ {
		s := &g.signs[i]
		side := g.sideOf(s)
		if side != "right" && side != "left" || s.content2() || s.used || s.scope&unreal != 0 {
			continue
		}
		k := s.to
		if g.is(k, "one", "side") {
			k++
		}
		if !g.is(k, "was", "is", "were", "did", "has", "wasnt", "isnt", "not", "didnt") {
			continue
		}
		no := g.is(k, "wasnt", "isnt", "not", "didnt") || g.is(k+1, "not")
		for k++; g.is(k, "not", "also", "too", "been"); k++ {
		}
		if k < len(g.toks) && g.toks[k].kind != stop && !g.is(k, ",", "and", "but", "so") {
			continue
		}
		for c := range g.claims {
			x := &g.claims[c]
			q := g.lex.partner[x.field]
			if q == nil || x.gone || x.group >= 0 || x.value == "" || len(q.Enum) == 0 || x.to > s.from || s.from-x.to > 6 || !strings.Contains(strings.ToLower(q.Name), side) {
				continue
			}
			value := strings.TrimPrefix(x.value, "not-")
			if no {
				value = deniedValue(q, value)
			}
			if slices.Contains(q.Enum, value) {
				g.claimField(q, value, s.from, s.to, x.from, k)
				s.used = true
			}
			break
		}
	}
}
