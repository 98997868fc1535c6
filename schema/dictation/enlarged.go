package dictation

import (
	"slices"

	"fairlead/schema"
)

// widens are the words for enlarging a lung artery.
var widens = wordSet("enlarged patched augmented widened patch plasty enlargement augmentation enlarge widening augment plastied patching patchplasty")

// part is a stretch of the lung arteries named in the text.
type part struct {
	value    string
	from, to int
	bare     bool // a side with no noun: it counts only beside another part
}

// partAt is the part of the lung arteries that token k begins to name.
func (g *segment) partAt(k int) (p part, ok bool) {
	artery := func(k int) int { // the token after "pulmonary artery", "PA", "branch" at k, or k
		if g.is(k, "branch") {
			k++
		}
		switch {
		case g.is(k, "pulmonary", "pulm", "lung"):
			if k++; g.is(k, "artery", "arterie", "branch") {
				k++
			}
		case g.is(k, "pa"):
			k++
		case g.is(k, "p") && g.is(k+1, "a"):
			k += 2
		}
		return k
	}
	switch {
	case g.is(k, "confluence"):
		return part{"central", k, k + 1, false}, true
	case g.is(k, "centrally") || g.is(k, "middle") && (g.is(k-1, "the") || g.is(k-2, "across")):
		return part{"central", k, k + 1, false}, true
	case g.is(k, "central"):
		e := artery(k + 1)
		return part{"central", k, e, e == k+1}, !g.is(k+1, "line", "venous", "shunt")
	case g.is(k, "l", "r") && g.is(k+1, "p") && g.is(k+2, "a"):
		return part{map[string]string{"l": "left", "r": "right"}[g.toks[k].text], k, k + 3, false}, true
	case g.is(k, "lpa"):
		return part{"left", k, k + 1, false}, true
	case g.is(k, "rpa"):
		return part{"right", k, k + 1, false}, true
	case g.is(k, "left", "right"):
		e := artery(k + 1)
		return part{g.toks[k].text, k, e, e == k+1}, true
	}
	return part{}, false
}

// joining are words between parts that were enlarged together: "the confluence and
// out to the left branch", "so left and central".
var joining = wordSet("and plus + , & the as well too up out into onto on to across both side")

// widensAt tells whether token k says that something was enlarged: by its verb, or by what it
// got for it: "so that got bovine pericardium".
func (g *segment) widensAt(k int) bool {
	switch {
	case widens[g.toks[k].text]:
		return true
	case g.is(k, "opened"):
		return g.is(k+1, "out", "up") || g.is(k+1, "it", "them", "that") && g.is(k+2, "out", "up")
	}
	return g.is(k, "got", "get") && g.anyWithin(k+1, k+5, "pericardium", "pericardial", "homograft", "allograft")
}

// readEnlargement reads where the lung arteries were enlarged: "patched the left
// branch", "the confluence looked narrow so we patched it", "left and central".
func (g *segment) readEnlargement(f *schema.Field) {
	if !g.inNote(f) {
		return
	}
	var parts []part
	arteries := g.mentions("pa", "pulmonary", "branch", "lpa", "rpa", "confluence", "pulm")
	for k := 0; k < len(g.toks); k++ {
		if p, ok := g.partAt(k); ok && !g.unrealAt(k) {
			parts = append(parts, p)
			k = p.to - 1
		}
	}
	for k := range g.toks {
		if !g.widensAt(k) || g.unrealAt(k) || g.is(k+1, "to", "on") && g.is(k+2, "the") && g.is(k+3, "arch", "aorta", "root") || g.is(k-1, "arch", "stump", "aortic", "septal") {
			continue
		}
		best, near := -1, 9
		back := g.is(k+1, "it", "them", "this", "that") || g.anyWithin(k-5, k, "it", "they", "that", "which")
		if back {
			near = 18 // "tight where the shunt came in and we opened it out"
		}
		for n, p := range parts {
			gap := k - p.to
			if p.from > k {
				gap = p.from - k - 1
			}
			if p.bare && !(arteries && (g.is(p.to, "was", "is") && p.to+1 == k || g.is(p.to, "one") && p.to < k && k-p.to <= 4)) || gap < 0 || p.from > k && gap >= 9 || back && p.from < k && g.anyWithin(p.to, k, "arch", "isthmus", "coarctation", "root", "hole", "atrium", "septum", "aorta") && !g.anyWithin(p.to, k, "behind") || gap >= near || g.crossesStop(min(p.from, k), max(p.from, k)) || g.is(p.from-1, "to", "joined", "into") && p.from < k {
				continue
			}
			best, near = n, gap
		}
		if best < 0 || slices.ContainsFunc(g.claims, func(c claim) bool { return c.field == f }) {
			continue
		}
		low, high := best, best
		for low > 0 && g.joinedParts(parts[low-1].to, parts[low].from) {
			low--
		}
		for high+1 < len(parts) && g.joinedParts(parts[high].to, parts[high+1].from) {
			high++
		}
		for n, p := range parts {
			again := p.bare && n > high && (g.is(p.from-1, "so", "both", "actually") || n > 0 && g.joinedParts(parts[n-1].to, p.from)) && n+1 <= len(parts) && p.from-parts[n-1].to <= 9 && arteries
			if n < low || n > high && !again {
				continue
			}
			if again {
				high = n // "... so left and central"
			}
			g.claimField(f, p.value, p.from, p.to, min(k, p.from), max(k+1, p.to))
			for j := p.from; j < p.to; j++ {
				if i := g.at[j]; i >= 0 && g.valueOf(&g.signs[i], f) != "" {
					g.signs[i].used = true
				}
			}
		}
	}
}

// joinedParts tells whether nothing but words of joining stands between two tokens.
func (g *segment) joinedParts(a, b int) bool {
	met := false
	for k := a; k < b; k++ {
		if !joining[g.toks[k].text] {
			return false
		}
		met = met || g.is(k, "and", "plus", "+", "&", "well", "to")
	}
	return met
}
