package dictation

import (
	"slices"

	"fairlead/schema"
)

// A wire or a drain that is not there is denied by its place as often as by its name:
// "none on the atrium", "the ventricle has none", "nothing in the right chest", "I said
// I'd do the left and I didn't". The words of such a denial are few and common; where
// one runs from a boundary to a boundary through nothing but them and the place, that
// is what it says.

// notThere are the words that deny.
var notThere = wordSet("no none nothing nil not never neither without zero 0 didnt wasnt isnt arent werent havent hasnt hadnt dont nor")

// notThereTalk are the words that may stand between the denial and the place.
var notThereTalk = wordSet("i we they she he have has had is are was were be been put place placed left leave need needed require required bother want wanted do did use used get got go went gone give given insert inserted sited new another more second drain drained drainage tube wire lead pacing temporary temp epicardial new pleural pleura one ones any a an the of at on in to for into from onto through with it them there either side chest space cavity as well also too really so far end")

// notThereVerbs are the words that a "not" must have after it: "not the left" puts right
// a side, and denies nothing.
var notThereVerbs = wordSet("put place placed leave need needed require required bother want wanted do did use used get give given insert inserted sited drain drained have had been be placing leaving there")

// notThereWish are the words of what was wanted and did not come to be.
var notThereWish = wordSet("earlier nurse sister team unit everyone planned plan meant mean going said thought wanted hoped intended would id wed i'd we'd do put leave doing putting leaving placing about considered asked promised")

// notThereEnds are the words that end such a denial, or begin after it.
var notThereEnds = wordSet("and but so because since as then that this for with or which he she it they we i now plus only just today here yet though who his her all both")

// placesAt reads at token k a place that a wire or a drain has: the varieties of its
// kind, and where the place ends.
func (g *segment) placesAt(k int) (kind string, varieties []string, end int) {
	if k < 0 || k >= len(g.toks) || g.toks[k].kind == stop {
		return "", nil, k
	}
	switch w := g.toks[k].text; w {
	case "atrium", "atrial":
		return "pacing-wires", []string{"atrial"}, k + 1
	case "ventricle", "ventricular":
		return "pacing-wires", []string{"ventricular"}, k + 1
	case "a", "v":
		if g.is(k-1, "no", "0", "zero", "nil") && (k+1 >= len(g.toks) || g.toks[k+1].kind != word || g.is(k+1, "wire") && w == "v") {
			return "pacing-wires", []string{map[string]string{"a": "atrial", "v": "ventricular"}[w]}, k + 1
		}
	case "mediastinum", "mediastinal":
		return "drain", []string{"mediastinal"}, k + 1
	case "front":
		if g.is(k-1, "in", "the") && !g.is(k+1, "of") {
			return "drain", []string{"mediastinal"}, k + 1
		}
	case "right", "left":
		if w == "left" && (g.is(k-1, "we", "i", "was", "were", "have", "has", "been") || g.is(k-1, "wire", "drain", "tube", "none", "nothing") && !sideNouns[g.wordAt(k+1)]) || w == "left" && g.is(k+1, "in", "inside", "behind", "on", "out") || w == "right" && (k == 0 && !g.is(1, "side", "chest", "pleura", "pleural") || g.is(k+1, ",") && g.toks[k-1].kind == stop) {
			return "", nil, k
		}
		end = k + 1
		for g.is(end, "side", "sided", "chest", "pleura", "pleural", "hemithorax", "space", "cavity") {
			end++
		}
		return "drain", []string{w + "-pleural"}, end
	case "either", "both", "each", "neither":
		end = k + 1
		for g.is(end, "side", "chest", "pleura", "pleural", "hemithorax", "space", "cavity", "of", "the") {
			end++
		}
		if end > k+1 {
			return "drain", []string{"right-pleural", "left-pleural"}, end
		}
	}
	return "", nil, k
}

// readNotThere reads the wires and drains that are denied by their place: before things
// are listed, those that would be taken for things that are there; late, those that are
// known to be denied, but were not listed for want of a noun.
func (g *segment) readNotThere(late bool) {
	for k := range g.toks {
		if !notThere[g.toks[k].text] || g.at[k] >= 0 && (g.signs[g.at[k]].used || g.signs[g.at[k]].scope&(past|formerly|hearsay|calling|aiming) != 0) || g.maybe(k) {
			continue
		}
		if g.is(k, "no", "nothing") && g.is(k+1, ",") && g.trailsPlace(k) == 0 || g.is(k, "not", "never", "nor") && k+1 < len(g.toks) && g.toks[k+1].kind == word && !notThereVerbs[g.toks[k+1].text] && !notThereEnds[g.toks[k+1].text] && !g.neverWas(k) {
			continue
		}
		if g.trailsPlace(k) > 0 || !g.notThereAfter(k, late) {
			g.notThereBefore(k, late)
		}
	}
}

// notThereAfter reads the place after the denial at token k: "none on the atrium". It
// is true too where what follows denies something else.
func (g *segment) notThereAfter(k int, late bool) bool {
	d := denial{late: late}
	if g.is(k, "neither") {
		d.take(g.placesAt(k))
	}
	j := max(k+1, d.end)
	for j < len(g.toks) {
		kind, varieties, end := g.placesAt(j)
		if kind != "" && (!d.takes(kind) || d.varieties != nil && !g.anyWithin(d.end, j, "or", "nor")) || d.varieties != nil && subject[g.toks[j].text] {
			break
		}
		if kind != "" && !(g.is(j, "left") && g.is(j-1, "was", "were", "have")) {
			if s := g.at[end-1]; s >= 0 && g.signs[s].to > end && !notThereTalk[g.toks[end].text] && !g.is(end, "or") {
				return true // "no left atrial line"
			}
			if d.varieties != nil && g.numberAt(end) && kind != "drain" {
				break // "no atrial wires, ventricular two"
			}
			d.take(kind, varieties, end)
			j = end
			continue
		}
		if g.is(j, "one") && g.isPlace(j+1) {
			break // "no left one, one mediastinal"
		}
		if w := &g.toks[j]; w.kind == word && notThereTalk[w.text] && d.noun(nounOf(w.text)) || d.varieties != nil && g.is(j, "or", "nor") {
			if g.is(j, "pleural", "pleura") && d.varieties == nil {
				d.pleural = true
			}
			j++
			continue
		}
		break
	}
	if d.varieties == nil && d.pleural {
		return true // told by the name, which is read elsewhere
	}
	if !g.denialEnds(&d, j) && !(d.varieties == nil && j > k+1 && g.is(j-1, "in", "one", "any", "it", "them", "bother")) {
		return true
	}
	if d.varieties == nil {
		return d.named
	}
	g.denyPlaces(&d, k, k, max(d.end, k+1))
	return true
}

// saysThereIs tells whether what is denied before token k is said to be there after all:
// "no mediastinal, wait, there is one".
func (g *segment) saysThereIs(k int) bool {
	for j := k; j < k+8; j++ {
		if (g.is(j, "there") && g.is(j+1, "is", "was", "are", "were") || g.is(j, "i", "we") && g.is(j+1, "did", "have")) && !g.is(j+2, "no", "not", "none", "nothing") {
			return true
		}
	}
	return false
}

// isPlace tells whether a place begins at token k.
func (g *segment) isPlace(k int) bool {
	kind, _, _ := g.placesAt(k)
	return kind != ""
}

// nounOf is the kind of thing that a word names, or "".
func nounOf(w string) string {
	switch w {
	case "drain", "tube", "drained", "pleural", "pleura", "chest", "side":
		return "drain"
	case "wire", "lead", "pacing":
		return "pacing-wires"
	}
	return ""
}

// denialEnds tells whether a denial may end before token j.
func (g *segment) denialEnds(d *denial, j int) bool {
	if j >= len(g.toks) || g.toks[j].kind == stop || g.toks[j].kind == mark || notThereEnds[g.toks[j].text] {
		return true
	}
	if d.varieties == nil {
		return false
	}
	if g.numberAt(j) || notThere[g.toks[j].text] || g.is(d.end-1, "pleural") && g.anyWithin(d.end-5, d.end-1, "drain") || g.is(d.end-1, "atrium", "ventricle", "mediastinum", "chest", "side", "pleura") {
		return true
	}
	n := g.at[j]
	return n >= 0 && g.signs[n].from == j && slices.ContainsFunc(g.signs[n].senses, func(x sense) bool { return x.item != nil && x.item.Name == d.kind })
}

// notThereBefore reads the place before the denial at token k: "the ventricle has none",
// "I was going to leave a left drain and didn't".
func (g *segment) notThereBefore(k int, late bool) {
	if n := g.nextSign(k + 1); g.is(k, "no") && n < len(g.signs) && g.signs[n].from <= k+2 && g.signs[n].content2() && !g.ends(k+1) && g.trailsPlace(k) == 0 && nounOf(g.toks[k+1].text) == "" {
		return // "one twelve French in the mediastinum, no left jugular"
	}
	bare := g.is(k, "none", "nil", "nothing", "no", "0", "zero", "neither", "without")
	from, comma, turn, wish := k, false, -1, false
	for j := k - 1; j >= 0 && j >= k-14; j-- {
		t := &g.toks[j]
		kind, _, end := g.placesAt(j)
		switch {
		case kind != "" && end <= k:
		case t.kind == mark && g.is(j, ",", ":", "?") && !comma && (j == k-1 || turn == j+1):
			comma = true
		case g.is(j, "?") && j == k-1:
			comma = true
		case !bare && g.is(j, "and", "but", "then", ",", ";") && turn <= j+6:
			turn = j
		case t.kind == word && notThereTalk[t.text], g.is(j, "or"), g.is(j, "and") && g.isPlace(j-1) && (g.isPlace(j+1) || g.isPlace(j+2)):
		case !bare && t.kind == word && notThereWish[t.text]:
			wish = true
		default:
			j = -1
			continue
		}
		from = j
	}
	if turn >= 0 && !wish {
		return
	}
	d := denial{late: late}
	if g.is(k, "no") && k+1 < len(g.toks) { // "one in the mediastinum, no wires"
		d.noun(nounOf(g.toks[k+1].text))
	}
	limit := k
	if turn >= 0 {
		limit = turn
	}
	first := -1
	for j := from; j < limit; j++ {
		if kind, varieties, end := g.placesAt(j); kind != "" && end <= limit && d.takes(kind) && !g.is(end, "line", "pressure") {
			if s := g.at[end-1]; s >= 0 && g.signs[s].to > max(end, k) {
				return
			}
			if d.varieties != nil && d.end == j && kind == "pacing-wires" {
				d.varieties, first = nil, -1 // "two ventricular atrial none"
			}
			if first < 0 {
				first = j
			}
			d.take(kind, varieties, end)
			j = end - 1
		} else {
			d.noun(nounOf(g.toks[j].text))
		}
	}
	if d.varieties == nil || turn < 0 && !bare && !g.is(k-1, "i", "we", "they", "is", "was", "were", "has", "have", "did", "side", "chest", "pleura", "pleural", "one", "drain", "right", "left", ",", ":", "atrium", "ventricle") {
		return
	}
	if (comma || !bare) && d.kind == "pacing-wires" && g.numberAt(from-1) && !g.crosses(from-1, from) {
		return // "two atrial, none needed so far"
	}
	for g.is(first-1, "the", "on", "in", "for", "to", "a", "into") && first-1 >= from {
		first--
	}
	if g.anyWithin(from, first, "new", "another", "more", "second") {
		return
	}
	end := k + 1
	for end < len(g.toks) && notThereTalk[g.toks[end].text] {
		end++
	}
	if n := g.trailsPlace(k); n > 0 {
		end = k + n
		d.named = d.named || n == 2 || g.mentions("drain", "tube")
		g.undeny(end)
	}
	g.denyPlaces(&d, k, first, end)
}

// neverWas tells whether "never" at token k says that there was none: "there never was a
// left one".
func (g *segment) neverWas(k int) bool {
	return g.is(k, "never") && (g.is(k-1, "there") && g.is(k+1, "was", "were") || g.is(k-2, "there") && g.is(k-1, "was", "were"))
}

// trailsPlace is how many words deny the pleura or the side named right before token k, in
// a list with no comma to say so: "left pleural nothing pacing wires two", "right pleural no
// drain because", "right side nothing, the pleura is intact"; 0 where they deny what follows.
func (g *segment) trailsPlace(k int) int {
	if !g.is(k-1, "pleural", "side") || !g.is(k-2, "right", "left") {
		return 0
	}
	switch {
	case g.is(k-1, "side") && k+1 < len(g.toks) && g.toks[k+1].kind == word && (g.at[k+1] < 0 || !g.signs[g.at[k+1]].content2()):
		return 0 // "left side nothing found"
	case g.is(k, "nothing", "none", "nil") && !g.is(k+1, "in", "on", "to", "at", "for", "of", "from", "or"):
		return 1
	case g.is(k, "no") && g.is(k+1, "drain", "tube") && !g.is(k+2, "in", "on", "to", "at", "for"):
		return 2
	}
	return 0
}

// undeny takes what stands from token k on out of a denial that spoke of what came before.
func (g *segment) undeny(k int) {
	for ; k < len(g.toks) && g.toks[k].kind != stop && !notThere[g.toks[k].text]; k++ {
		if n := g.at[k]; n >= 0 {
			g.signs[n].scope &^= denied
		}
	}
}

// denial is what a run of words denies.
type denial struct {
	late      bool
	kind      string
	varieties []string
	end       int  // of the last place
	named     bool // the words name a wire or a drain
	pleural   bool // and the pleura, without its side
}

// takes tells whether a place of the kind may be denied with those before it.
func (d *denial) takes(kind string) bool { return d.kind == "" || d.kind == kind }

// noun takes in the kind of thing that a word names; it is false where the denial is
// of another kind.
func (d *denial) noun(kind string) bool {
	if kind != "" && d.takes(kind) {
		d.kind, d.named = kind, true
	}
	return d.takes(kind) || kind == ""
}

// take adds a place.
func (d *denial) take(kind string, varieties []string, end int) {
	d.kind, d.end = kind, end
	for _, v := range varieties {
		if !slices.Contains(d.varieties, v) {
			d.varieties = append(d.varieties, v)
		}
	}
}

// denyPlaces lists as denied what stands in tokens from to end, where wires or drains
// are spoken of.
func (g *segment) denyPlaces(d *denial, k, from, end int) {
	kind := schema.ItemKindNamed(d.kind)
	if !d.named && (!g.tellsOf(kind, from) || g.mentions("explored", "found", "looked", "film", "scan", "echo", "blood", "clot", "source")) {
		return
	}
	for j := from; j < end; j++ {
		if n := g.at[j]; n >= 0 && g.signs[n].scope&(past|formerly|hearsay|calling|aiming) != 0 {
			return
		}
	}
	if (g.knownDenied(from, end) && !g.numberAt(from-1) && len(d.varieties) < 2) != d.late || g.saysThereIs(end) || g.anyWithin(from, end, "new", "another", "second") || g.anyWithin(from, end, "more") && !g.anyWithin(from, end, "any") {
		return
	}
	for _, v := range d.varieties {
		if d.late && slices.ContainsFunc(g.groups, func(x group) bool { return x.item == kind && x.variety == v && !x.gone }) {
			continue
		}
		gi := g.newGroup("items", from, end)
		g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, v, true
		g.claimIn(gi, kind.Field("variety"), v, from, end, from, end)
	}
	for j := from; j < end; j++ {
		if n := g.at[j]; n >= 0 {
			g.signs[n].used = true
		}
	}
}

// knownDenied tells whether all that tokens from to end name is known to be denied.
func (g *segment) knownDenied(from, end int) bool {
	known := false
	for j := from; j < end; j++ {
		if n := g.at[j]; n >= 0 && g.signs[n].content2() {
			if g.signs[n].scope&denied == 0 {
				return false
			}
			known = true
		}
	}
	return known
}

// tellsOf tells whether what was named last before token k is a thing of the kind.
func (g *segment) tellsOf(kind *schema.ItemKind, k int) bool {
	for n := g.prevSign(k); n >= 0; n-- {
		if s := &g.signs[n]; s.content2() {
			return slices.ContainsFunc(s.senses, func(x sense) bool { return x.item == kind })
		}
	}
	return g.ctx.last == kind.Name
}
