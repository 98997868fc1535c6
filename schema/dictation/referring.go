package dictation

import (
	"slices"
	"strings"

	"fairlead/schema"
)

// linkWords lead from a thing to what is said of it, and name nothing themselves:
// "the right one is a fifteen", "which is also the usual".
var linkWords = wordSet("one ones side which that it its this they these those is are was were has have had a an the also still size sits just only now being both usual standard of")

// beingWords are those of them that say that what follows is said of it.
var beingWords = wordSet("is are was were has have had a an its size")

// linkEnd is the end of the words from token k on that only lead to what is said of
// the thing before; k itself where none do.
func (g *segment) linkEnd(k int) int {
	j, being := k, false
	for j < len(g.toks) && j < k+7 && (linkWords[g.toks[j].text] || j == k && g.is(j, ",") || g.is(j, "and") && g.is(j+1, "it", "that", "they", "this", "is", "are", "was")) {
		being = being || beingWords[g.toks[j].text]
		j++
	}
	if !being {
		return k
	}
	return j
}

// sideEnd reads the side that follows a thing, "radial on the right", and where its
// words end; side is "" and the end k where there is none.
func (g *segment) sideEnd(k int) (side string, end int) {
	j := k
	for g.is(j, ",", "on", "in", "the", "her", "his") && j < k+4 {
		j++
	}
	if !g.is(j, "right", "left") || g.is(j, "left") && g.is(j+1, "in", "open", "on", "to", "there", "as", "alone") || j+1 < len(g.toks) && g.at[j+1] >= 0 && g.signs[g.at[j+1]].content2() {
		return "", k
	}
	if g.is(j+1, "side") {
		return g.toks[j].text, j + 2
	}
	return g.toks[j].text, j + 1
}

// keptWords tell that what is told of an earlier time is in the child still.
var keptWords = wordSet("stay stays stayed remain remains remained kept unchanged untouched")

// isKept tells whether a thing of an earlier time is said to be there still: "the wires
// from the Norwood are still in", "the old jugular was kept".
func (g *segment) isKept(t *thing) bool {
	for k := t.from - 4; k < len(g.toks) && k < t.to+14; k++ {
		if k < 0 {
			continue
		}
		if g.toks[k].kind == stop && k >= t.to {
			return false
		}
		if g.toks[k].kind != word || g.maybe(k) || g.is(k-1, "not", "to", "will", "until", "if") {
			continue
		}
		switch {
		case k < t.from && g.is(k, "kept") || k >= t.to && keptWords[g.toks[k].text]:
			return true
		case k < t.to:
		case k <= t.to+2 && g.is(k, "before") && g.is(k-1, "from", "as", "like"), k <= t.to+2 && g.is(k, "from") && g.is(k+1, "last", "the") && g.is(k+2, "time", "last", "first"):
			return true // "two ventricular wires from before"
		case g.is(k, "still") && g.is(k+1, "in", "there", "working", "running", "on", "patent", "good", "fine", "connected", "being"),
			g.is(k, "left") && g.is(k+1, "in", "alone", "as", "where", "there", "untouched") && g.is(k-1, "was", "were", "been", "we", "i"),
			g.is(k, "in") && g.is(k+1, "use", "place", "situ") && g.is(k-1, "is", "are", "still", "and"):
			return true
		}
	}
	return false
}

// keep takes the words about a thing that is there still for words of now.
func (g *segment) keep(t *thing, limit int) {
	for i := g.nextSign(t.from); i < len(g.signs) && g.signs[i].from < limit && !g.crossesStop(t.to, max(t.to, g.signs[i].from)); i++ {
		g.signs[i].scope &^= past | formerly
	}
}

// sameWords say of a side what was said of a thing before.
var sameWords = wordSet("same likewise ditto identical similarly again")

// readSameAgain lists on the other side what was listed on one: "right pleural a
// twenty, same again on the left", "left radial 22, ditto right".
func (g *segment) readSameAgain() {
	for k := range g.toks {
		if !sameWords[g.toks[k].text] || g.is(k, "again") && !g.is(k-1, "and") || g.unrealAt(k) || k == 0 && g.ctx.last == "" {
			continue
		}
		j := k + 1
		for g.is(j, "again", "for", "on", "in", "to", "the", "size", "one", "thing", "a", "number", "with") && j < k+6 {
			j++
		}
		if !g.is(j, "right", "left", "other") || j > k+6 {
			continue
		}
		last := -1
		for i := range g.groups {
			if x := &g.groups[i]; x.item != nil && !x.denied && !x.gone && x.to <= k && (last < 0 || g.groups[last].from <= x.from) && g.sideOfGroup(i) != "" {
				last = i
			}
		}
		if last < 0 {
			continue
		}
		was := g.sideOfGroup(last)
		side := g.toks[j].text
		if side == "other" {
			side = map[string]string{"right": "left", "left": "right"}[was]
		}
		if side == was {
			continue
		}
		x := g.groups[last]
		gi := g.newGroup("items", k, j+1)
		y := &g.groups[gi]
		y.item, y.variety, y.again = x.item, x.variety, true
		for _, c := range slices.Clone(g.claims) {
			if c.group != last || c.gone || c.field.Name == "output" {
				continue
			}
			switch {
			case c.field.Name == "side":
				c.value, c.from, c.to = side, j, j+1
			case c.field.Name == "variety":
				if rest, ok := strings.CutPrefix(c.value, was+"-"); ok {
					c.value = side + "-" + rest
					y.variety = c.value
				}
			}
			c.group, c.why, c.whyTo = gi, min(c.why, k), max(c.whyTo, j+1)
			g.claims = append(g.claims, c)
		}
		for i := range g.groups { // the bare side was taken for a thing without a size
			if z := &g.groups[i]; i != gi && z.item == y.item && z.from >= k && z.from <= j && z.variety == y.variety {
				z.gone = true
			}
		}
		for i := k; i <= j; i++ {
			if n := g.at[i]; n >= 0 {
				g.signs[n].used = true
			}
		}
	}
}

// sideOfGroup is the side of a listed thing, by its variety or as it was said.
func (g *segment) sideOfGroup(gi int) string {
	for _, side := range []string{"right", "left"} {
		if strings.HasPrefix(g.groups[gi].variety, side+"-") && g.groups[gi].item.Name == "drain" {
			return side
		}
	}
	for i := range g.claims {
		if c := &g.claims[i]; c.group == gi && c.field.Name == "side" && (c.value == "right" || c.value == "left") {
			return c.value
		}
	}
	return ""
}

// sideInList is the drain that a bare side means where drains are listed and the
// words that follow lead to its size: "the right one is a fifteen".
func (g *segment) sideInList(i int, kind *schema.ItemKind) []sense {
	s := &g.signs[i]
	side := g.sideOf(s)
	if side != "right" && side != "left" || s.to-s.from != 1 || s.content2() || s.scope&(unreal|denied) != 0 {
		return nil
	}
	k := s.to
	if side == "left" && g.is(s.from-1, "and") && strings.HasSuffix(g.wordAt(s.from-2), "ed") {
		return nil // "flushed and left, a twelve"
	}
	if g.is(s.from-1, "the") && !g.is(s.from-2, ",", "and", ".", ";", ":", "on", "for", "in") && s.from > 1 {
		return nil
	}
	end := g.linkEnd(k)
	if end == k && g.is(k, "one", "side") {
		end = k + 1
	}
	if end == k || !g.numberAt(end) || !g.is(end-1, "a", "an") && !g.is(k, "one") && !g.pluralAt(end) {
		return nil
	}
	a, ok := g.amountAt(int(g.at[end]))
	if f := g.attributeFor(kind, a); !ok || f == nil || f.Name != "size" {
		return nil
	}
	return []sense{{kind: isVariety, item: kind, value: side + "-pleural"}}
}
