package dictation

import (
	"strings"

	"fairlead/schema"
)

// takenOut tells whether the thing is said to have been taken out.
func (g *segment) takenOut(t *thing, limit int) bool {
	far := 3
	if g.is(t.to, "that", "which") { // "the catheter that was put in there was removed"
		far = 11
	}
	for n := g.nextSign(t.to); n < len(g.signs) && g.signs[n].from < limit && g.signs[n].from-t.to <= far; n++ {
		s := &g.signs[n]
		if s.is(removed) && s.scope&(intended|denied) == 0 && !g.exits(s) || s.is(stoppedCue) && strings.HasSuffix(t.of.Name, "-probe") {
			return true
		}
		if s.content2() {
			break
		}
	}
	last := t.to
	for n := g.nextSign(t.to); n < len(g.signs) && g.signs[n].from < limit && g.signs[n].from-last <= 4 && !g.crossesStop(last, g.signs[n].from); n++ {
		s := &g.signs[n] // "hand cannula right, twenty two, tissued, taken out"
		if s.is(removed) && s.scope&(intended|denied) == 0 && s.to-s.from > 1 {
			return true
		}
		if !(s.num != nil || s.has(isUnit) || g.sideOf(s) != "" || g.attributeSign(n)) {
			break
		}
		last = s.to
	}
	for n := g.nextSign(t.to); n < len(g.signs) && g.signs[n].from < limit && g.signs[n].from-t.to <= 9; n++ {
		s := &g.signs[n] // "a left radial from the ward that is out", "was put in and then taken out"
		if s.is(removed) && s.scope&(intended|denied) == 0 && (g.is(s.from-1, "that", "which", "then", "later", "subsequently") || g.is(s.from-2, "that", "which") && g.is(s.from-1, "is", "has", "was", "came", "now")) {
			return true
		}
		if s.content2() || s.is(turns) && !g.within(s, "then") || g.toks[s.from-1].kind == stop {
			break
		}
	}
	for k := t.to; k < len(g.toks) && k < t.to+8 && g.toks[k].kind != stop; k++ { // "the right hand cannula tissued, so that is gone"
		if n := g.at[k]; n >= 0 && g.signs[n].content2() {
			break
		}
		if g.is(k, "gone") && g.is(k-1, "is", "has", "now", "was", "s") && !g.unrealAt(k) {
			return true
		}
	}
	if t.of.Name == "left-on-purpose" && (g.is(t.to, "came", "lifted") && g.is(t.to+1, "off", "away") || g.is(t.to, "was") && g.is(t.to+1, "lifted")) {
		return true
	}
	if n := g.nextSign(t.to); t.of.Name == "support-cannula" && n < len(g.signs) && g.signs[n].from <= t.to && g.within(&g.signs[n], "out", "removed") {
		return true // "venous cannulas out"
	}
	if t.of.Name == "pacing-wires" && g.wiresCut(t) {
		return true
	}
	if t.of.Name == "left-on-purpose" && g.is(t.to, "off", "away", "gone") {
		return true
	}
	if t.of.Name == "left-on-purpose" && g.is(t.to, "and") { // "membrane and three packs removed"
		for k := t.to + 1; k < len(g.toks) && k < t.to+5; k++ {
			if g.is(k, "pack", "swab") && g.is(k+1, "removed", "out", "retrieved") {
				return true
			}
		}
	}
	if g.is(t.to, "with") && g.is(t.to+1, "them", "it", "those") { // "the packs came out, and the membrane with them"
		for n := range g.signs {
			if s := &g.signs[n]; s.is(removed) && s.to <= t.from && s.scope&(intended|denied) == 0 && !g.crossesStop(s.to, t.from) {
				return true
			}
		}
	}
	for k := t.to; k+1 < len(g.toks) && k < t.to+11; k++ { // "the wires did not capture so we pulled them"
		if n := g.at[k]; g.toks[k].kind == stop || n >= 0 && g.signs[n].content2() {
			break
		}
		if (g.is(k, "pulled", "removed", "withdrew", "took", "discarded", "pull", "threw", "binned") || t.of.Name == "pacing-wires" && g.is(k, "cut", "snipped")) && g.is(k+1, "it", "them", "both", "that", "those") && !g.unrealAt(k) && !g.maybe(k) && !g.is(k-1, "not", "to") && (!g.is(k, "took", "threw") || g.is(k+2, "out", "off", "away")) {
			return true
		}
	}
	if t.of.Name == "left-on-purpose" && g.is(t.to, ":", ",") && g.is(t.to+1, "off") && (t.to+2 >= len(g.toks) || g.is(t.to+2, ",") || g.toks[t.to+2].kind == stop) {
		return true // "Membrane: off, discarded."
	}
	if n := g.prevSign(t.from); n >= 0 && !g.within(&g.signs[n], "was", "were", "been", "is", "are", "came") && !g.is(g.signs[n].from-1, "was", "were", "been", "is", "are", "has", "have") {
		s := &g.signs[n]
		if n > 0 && g.signs[n-1].content2() && s.from-g.signs[n-1].to <= 1 && g.crosses(s.to, t.from) {
			return false // "left internal jugular removed, right femoral venous 5.5 French"
		}
		if s.is(removed) && t.from-s.to <= 2 && !g.is(s.to-1, "out") {
			return true
		}
		if s.is(removed) && t.from-s.to <= 1 && s.to-s.from >= 2 {
			return true
		}
	}
	return false
}

// wiresCut tells whether wires are said to have been cut off, which is how they go where
// they do not pull, or thrown away: "were cut yesterday", "cut flush", "we cut the atrial
// ones".
func (g *segment) wiresCut(t *thing) bool {
	for k := t.to; k < t.to+4 && k < len(g.toks) && g.toks[k].kind == word; k++ {
		if g.is(k, "cut", "snipped") {
			return !g.is(k-1, "not", "to", "be") && !g.is(k+1, "short", "to") && !g.maybe(k)
		}
	}
	k := t.from - 1
	for g.is(k, "the", "his", "her", "both", "two", "old") {
		k--
	}
	return g.is(k, "cut", "snipped", "threw", "binned", "discarded") && !g.is(k-1, "not", "to", "be", "will") && !g.maybe(k)
}

// exits tells whether "out" says where a thing comes through the skin: "brought out
// below the xiphoid".
func (g *segment) exits(s *sign) bool {
	return g.is(s.to-1, "out") && (g.is(s.to-2, "brought", "tunneled", "led") || g.is(s.to, "below", "beneath", "under", "through", "via", "above", "beside", "subxiphoid", "either", "laterally", "subcostally"))
}

// goneWith tells whether what stands between a thing that was taken out and another
// says that the second went with it: "was taken out together with the two packs".
func (g *segment) goneWith(from, to int) bool {
	with := false
	for k := from; k < to; k++ {
		switch {
		case g.is(k, "with"):
			with = true
		case g.toks[k].kind != word && !g.is(k, ","), !with && g.is(k, "in", "left", "placed"):
			return false
		}
	}
	return with && to-from <= 9
}

// withdraw notes that a thing is not there, though sentences before may have listed it.
func (g *segment) withdraw(t *thing) {
	sides := t.sides
	if len(sides) == 0 {
		sides = []string{""}
	}
	for _, v := range t.varieties {
		for _, side := range sides {
			if rest, sided := strings.CutPrefix(v, "*-"); sided {
				v, side = side+"-"+rest, ""
			}
			g.taken = append(g.taken, withdrawn{sense{kind: isItem, item: t.of, value: v}, side})
			if side == "" {
				g.dropBefore(t.of, v, t.from)
			}
		}
	}
}

// dropBefore takes back what the segment listed of a kind and variety before token k:
// "two and two, no, the atrial ones came away".
func (g *segment) dropBefore(kind *schema.ItemKind, variety string, k int) {
	for i := range g.groups {
		if x := &g.groups[i]; x.item == kind && x.variety == variety && x.from < k && !x.denied {
			x.gone = true
		}
	}
}

// outSince tells whether a thing is said to have come out since it was put in, so that
// it is not there though the words speak of the past: "the right pleural came out yesterday".
func (g *segment) outSince(t *thing, limit int) bool {
	if g.signs[t.sign].scope&(intended|formerly|weighed|hearsay|calling|aiming|denied) != 0 {
		return false
	}
	return g.fateOf(t, limit) == gone || g.takenOut(t, limit)
}

// goneSoon tells whether what stands at token k is said to be out.
func (g *segment) goneSoon(k int) bool {
	for j := k; j < len(g.toks) && j < k+5; j++ {
		if g.is(j, "removed", "out", "pulled") {
			return true
		}
	}
	return false
}

// heading reads the word that heads the list a thing stands in where nothing but a
// capital marks it: "Out membrane 2 packs ... In med drain". It is "out", "not in"
// or "".
func (g *segment) heading(t *thing) string {
	for k := t.from - 1; k >= 0; k-- {
		w := g.toks[k]
		if w.kind == stop || w.kind == mark && w.text == ":" {
			return ""
		}
		if c := g.text[w.span.Start]; c < 'A' || c > 'Z' || w.kind != word {
			continue
		}
		switch {
		case w.text == "out" && (k+1 == t.from || g.at[k+1] >= 0 || g.is(k+1, "the")):
			return "out"
		case w.text == "what" && g.is(k+1, "is", "was", "came", "has") && (g.is(k+2, "out") || g.is(k+3, "out")):
			return "out"
		case w.text == "not" && g.is(k+1, "in") && (k+2 == t.from || g.at[k+2] >= 0):
			return "not in"
		case w.text == "in" || w.text == "what" || w.text == "stay" || w.text == "still" || w.text == "not" || w.text == "remain":
			return ""
		}
	}
	return ""
}

// listsWhatIsOut tells whether the sentence is a list of what was taken out:
// "What is out: the membrane, one pack, the left atrial line."
func (g *segment) listsWhatIsOut() bool {
	out := g.ctx.out && !g.mentions(":", "stay", "remain", "in", "still")
	if out {
		return true // "Gone: the left pleural drain; both atrial wires."
	}
	if g.is(0, "not") && g.is(1, "there", "present") && g.is(2, ":") {
		return true
	}
	for k := 0; k < len(g.toks) && k < 7; k++ {
		switch g.toks[k].text {
		case "out", "removed", "pulled", "gone":
			out = true
		case ":":
			return out
		case ",", "stay", "in", "left", "remain":
			return false
		}
	}
	return false
}

// readInAndOut reads a throat pack or an echo probe that went in and came out again,
// told word by word: "throat pack in at the start and out at the end".
func (g *segment) readInAndOut() {
	for k := 0; k+2 < len(g.toks); k++ {
		var f *schema.Field
		end := k + 2
		switch {
		case g.is(k, "throat") && g.is(k+1, "pack"):
			f = fieldAt(schema.AirwayThroatPack)
		case g.is(k, "pack") && g.is(k+1, "in") && g.is(k+2, "the") && g.is(k+3, "throat"):
			f, end = fieldAt(schema.AirwayThroatPack), k+4
		case g.is(k, "echo", "toe", "tee") && g.is(k+1, "probe"), g.is(k, "toe", "tee") && g.is(k+1, "in") && g.is(k+2, "and") && g.is(k+3, "out"):
			f = fieldAt(schema.AirwayEchoProbe)
		default:
			continue
		}
		told := func(j int) bool { // "at the start" is no plan here
			n := g.at[j]
			return n < 0 || g.signs[n].scope&(denied|past|hearsay|calling) == 0
		}
		if !g.inNote(f) || !told(k) || g.maybe(k) {
			continue
		}
		for j := end; j < len(g.toks) && j < end+10 && g.toks[j].kind != stop; j++ {
			if n := g.at[j]; g.is(j, "not", "no", "never", "still", "will", "stay", "to", "when", "until") || n >= 0 && (g.signs[n].content2() || !told(j)) {
				break
			}
			if !g.is(j, "out", "removed", "retrieved") {
				continue
			}
			c := j + 1
			if g.is(c, "at") {
				c++
			}
			if g.numberAt(c) {
				n := g.at[c]
				at := fieldAt(schema.AirwayThroatPackOut)
				if f.Path == schema.AirwayEchoProbe {
					at = fieldAt(schema.AirwayEchoProbeOut)
				}
				if s := &g.signs[n]; s.num.clock != "" && !s.used && j > end && g.anyWithin(end, j, "in") { // "in at ten, out at two"
					g.claimField(at, s.num.clock, s.from, s.to, j, s.to)
					s.used = true
				} else {
					continue
				}
			}
			if !g.claimsValue(f, "in-and-out") {
				g.claimField(f, "in-and-out", j, j+1, k, j+1)
			}
			break
		}
	}
}
