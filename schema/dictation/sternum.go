package dictation

import (
	"slices"

	"fairlead/schema"
)

// readSternum takes from the material a sternum was closed with that it is
// closed.
func (g *segment) readSternum() {
	f := fieldAt(schema.ClosingSternum)
	material, said := -1, false
	for i := range g.claims {
		switch c := &g.claims[i]; c.field.Path {
		case schema.ClosingSternalMaterial, schema.ClosingSternalSutures:
			material = i
		case schema.ClosingSternum:
			said = true
		}
	}
	if material >= 0 && g.claims[material].field.Path == schema.ClosingSternalSutures && !slices.ContainsFunc(g.claims, func(c claim) bool { return c.field.Path == schema.ClosingSternalMaterial }) {
		c := g.claims[material]
		for k := c.why; k < c.whyTo; k++ {
			if g.is(k, "steel") {
				g.claimField(fieldAt(schema.ClosingSternalMaterial), "steel-wire", c.from, c.to, c.why, c.whyTo)
				break
			}
		}
	}
	if material >= 0 && g.claims[material].field.Path == schema.ClosingSternalMaterial {
		g.readSuturesTimes(g.claims[material])
	}
	if material >= 0 && !said {
		c := g.claims[material]
		g.claimField(f, "closed", c.from, c.to, c.why, c.whyTo)
	}
}

// readSuturesTimes reads how many sutures closed the sternum where their number stands
// right after what they are: "PDS x4", "steel wires times five".
func (g *segment) readSuturesTimes(material claim) {
	f, k := fieldAt(schema.ClosingSternalSutures), material.to
	if g.is(k, "x", "time") && g.numberAt(k+1) && !g.answered(f) && (material.from == 0 || g.mentions("sternum", "sternal", "bone", "breastbone", "chest", "shut", "closed")) {
		a, ok := g.amountAt(int(g.at[k+1]))
		if v, _, fit := fits(f, a); ok && fit && a.units == nil && g.plainTalk(int(g.at[k+1])) {
			g.claimField(f, v, a.from, a.to, material.from, a.to)
			g.useAmount(a)
		}
	}
}

// closingNote marks a closing that failed by what was told of it, until it is told to have
// been tolerated after all.
const closingNote = "taken from a chest that did not stay closed"

// sternumNouns name the chest where it is told how it was left.
var sternumNouns = wordSet("chest sternum breastbone")

// readSternumTold reads how the chest was left where no phrase of the definitions says it:
// a sentence that is no more than "Closed.", a thought of leaving it open that ends in
// "closed it", a sternum left alone, a closing that did not hold.
func (g *segment) readSternumTold() {
	f := fieldAt(schema.ClosingSternum)
	if !g.inNote(f) || g.answered(f) {
		return
	}
	if v, k := g.sternumAlone(); v != "" {
		g.claimField(f, v, k, k+1, 0, k+1)
		return
	}
	if k := g.closingFailed(); k >= 0 {
		if tolerated := fieldAt(schema.ClosingTolerated); !g.answered(tolerated) {
			c := g.claimField(tolerated, "no", k, k+1, k, k+1)
			c.sure, c.note = Check, closingNote
		}
		return
	}
	for k := range g.toks {
		if !sternumNouns[g.toks[k].text] || g.is(k-1, "right", "left") || g.is(k+1, "drain", "tube", "compression", "xray") {
			continue
		}
		if j := g.sternumUntouched(k); j > 0 {
			g.claimField(f, "not-opened", j-1, j, min(k, j-1), max(k+1, j))
			return
		}
		if v, j := g.sternumInTheEnd(k); v != "" {
			c := g.claimField(f, v, j, j+1, k, j+1)
			c.sure, c.note = Check, "the last that was said of it"
			return
		}
	}
}

// sternumAlone is what a sentence says of the chest that says no more than a word or two
// of how it was left, and the token that says it: "Closed.", "Open, new membrane."
func (g *segment) sternumAlone() (string, int) {
	if g.ctx.opens {
		return "", 0 // of what the sentence before named
	}
	k := 0
	for g.is(k, "not", "still", "now", "again", "and", "so", "left") {
		k++
	}
	if !g.is(k, "open", "closed", "shut") || k > 2 || len(g.toks) > k+9 {
		return "", 0
	}
	v := "closed"
	if g.is(k, "open") {
		v = "open"
	}
	if g.is(0, "not") || v == "open" && g.lex.kind != schema.Stage1 && !betweenStages(g.lex.kind) {
		return "", 0
	}
	j := k + 1
	for g.is(j, ",", "again", "of", "course", "today", "primarily", "as", "planned", "easily", "yes") {
		j++
	}
	if j >= len(g.toks) || g.toks[j].kind == stop {
		return v, k
	}
	if v == "open" && g.is(j, ",", "with", "under", "+") && g.mentions("membrane", "silastic", "membran") {
		return v, k
	}
	return "", 0
}

// sternumUntouched is the token after what says that the sternum, at token k, was not
// opened, or 0: "I did not reopen the sternum", "the sternum we did not touch", "left the
// sternum alone".
func (g *segment) sternumUntouched(k int) int {
	before := k - 1
	for g.is(before, "the", "his", "her") {
		before--
	}
	opens := func(j int) bool {
		return g.is(j, "open", "opened", "reopen", "reopened", "touch", "touched", "disturb")
	}
	if opens(before) && (g.denyingAt(before-1) || g.is(before-1, "to") && g.denyingAt(before-3)) {
		return k + 1
	}
	j := k + 1
	if g.is(before, "left", "leave", "leaving") && g.is(j, "alone", "be", "undisturbed", "intact", "untouched") {
		return j + 1
	}
	for g.is(j, "was", "is", "i", "we", "did", "has", "been", ",", "itself", "today", ":", "this", "time") {
		j++
	}
	switch {
	case g.is(j, "left") && g.is(j+1, "alone", "be", "undisturbed", "untouched", "intact"):
		return j + 2
	case g.is(j, "untouched", "undisturbed"):
		return j + 1
	case g.denyingAt(j) && (opens(j+1) || opens(j+2) && g.is(j+1, "be", "been", "re")):
		return j + 2
	}
	return 0
}

// inTheEnd lead to what was done after something else was thought of.
var inTheEnd = wordSet("so then but end eventually finally now instead")

// otherOpenings are what else may be open or closed beside the chest.
var otherOpenings = wordSet("skin fenestration pleura pericardium shunt duct azygo snare clip branch valve flow conduit artery septum vein pleural stent drain catheter sano line hole")

// sternumInTheEnd is how the chest named at token k was left after something else had been
// thought of, and the token that says it: "I had thought to leave the chest open, in the
// end closed it", "the chest was open before and stays so".
func (g *segment) sternumInTheEnd(k int) (string, int) {
	value, at := "", -1
	was, led := "", false
	for j := k + 1; j < len(g.toks) && j < k+26; j++ {
		w := g.toks[j].text
		switch {
		case otherOpenings[w] && at < 0:
			return "", -1
		case otherOpenings[w]:
			return value, at
		case inTheEnd[w]:
			led = true
		case g.is(j, "open", "closed", "shut", "close"):
			v := "closed"
			if w == "open" {
				v = "open"
			}
			done := g.is(j, "closed", "shut") || g.is(j-1, "it", "its", "is", "left", "stay", "so", ",", "remain")
			if was != "" && led && v != was && done && !g.denyingAt(j-1) && !g.maybe(j) {
				value, at = v, j
			}
			was = v
		case (g.is(j, "stay", "remain", "stayed", "remained") || g.is(j, "is", "was") && g.is(j+1, "still")) && g.is(j+1, "so", "like", "that") && was == "open":
			value, at = "open", j
		}
	}
	return value, at
}

// closingFailed is the token that says that the chest could not be closed, or that it was
// opened again, in a note of its closing; or -1: "we couldn't close", "She is not closed,
// we opened it straight back up".
func (g *segment) closingFailed() int {
	if g.lex.kind != schema.Closure {
		return -1
	}
	at := -1
	for k := range g.toks {
		switch {
		case g.is(k, "close", "closed", "shut") && (g.denyingAt(k-1) && !g.is(k-1, "never") || g.is(k-1, "be") && g.denyingAt(k-2) || g.is(k-1, "to") && g.is(k-2, "unable")) && (g.endsClause(k+1) || g.is(k+1, "him", "her", "it", "the", "because", "as", "when", "and")) && !(g.is(k+1, "the") && !sternumNouns[g.wordAt(k+2)]):
			at = k
		case g.is(k, "couldnt") && g.endsClause(k+1) && g.anyWithin(max(0, k-7), k, "close", "shut"):
			at = k
		case g.is(k, "opened") && (g.is(k+1, "again") || g.is(k+1, "it", "him", "her", "the", "straight", "back", "right") && g.openedAgain(k+1)), g.is(k, "reopened") && !g.unrealAt(k), g.is(k, "apart") && g.is(k+1, "again"):
			at = k
		case at >= 0 && (g.is(k, "retry") || g.is(k, "tried", "try") && (g.is(k+1, "again") || g.is(k-1, "second", "2nd"))):
			at = -1
		case g.is(k, "closed", "shut", "reclosed") && at >= 0 && !g.denyingAt(k-1) && (g.is(k+1, "again") || g.anyWithin(max(at, k-5), k, "then", "second", "finally", "later", "end")):
			at = -1
		}
	}
	return at
}

// openedAgain tells whether from token k on no more is said than that a thing was opened
// again: "it straight back up", "the sternum again".
func (g *segment) openedAgain(k int) bool {
	for g.is(k, "it", "him", "her", "the", "straight", "right") || sternumNouns[g.wordAt(k)] {
		k++
	}
	return g.is(k, "again", "back") || g.is(k, "up") && g.is(k+1, "again")
}

// closingTolerated lets what is told of how a closing was taken stand before what only
// follows from a chest that had to be opened: "reopened, retry ... tolerated".
func (s *settling) closingTolerated() {
	told := slices.ContainsFunc(s.plain, func(p *Proposal) bool {
		return p.Note != closingNote && (p.Path == schema.ClosingTolerated || p.Path == schema.ClosingSternum && p.Value == "closed" || p.Path == schema.ClosingSternalSutures || p.Path == schema.ClosingSternalMaterial)
	})
	if told {
		s.plain = slices.DeleteFunc(s.plain, func(p *Proposal) bool { return p.Note == closingNote })
	}
}

// sternumFrom takes a chest that nobody called open for open where the closing was not
// tolerated, or where a membrane was left over it, as no later stage leaves one over an open chest alone.
func (s *settling) sternumFrom() {
	f := fieldAt(schema.ClosingSternum)
	var from *Proposal
	note := ""
	for _, p := range s.plain {
		switch {
		case p.Path == f.Path:
			return
		case p.Path == schema.ClosingTolerated && p.Value == "no" && p.Sure != Conflict && s.reading.Kind == schema.Closure:
			from, note = p, "taken from a closing that was not tolerated"
		}
	}
	if from == nil && (betweenStages(s.reading.Kind) || s.reading.Kind == schema.Stage1) {
		for _, x := range s.groups {
			if x.item != nil && x.item.Name == "left-on-purpose" && x.variety == "membrane" && !x.gone && !x.Denied && len(x.values) > 0 {
				from, note = x.values[0], "taken from the membrane"
			}
		}
	}
	if from != nil {
		s.plain = append(s.plain, &Proposal{Path: f.Path, Value: "open", Spans: from.Spans[:1:1], Why: from.Why, Sure: Check, Note: note})
	}
}

// mayBeOpen are the words for what may be open or closed beside the chest.
var mayBeOpen = []string{"fenestration", "fenestrated", "duct", "azygo", "septum", "snare", "valve", "pleura", "pericardium", "skin", "shunt", "sano", "conduit", "stent", "hole", "asd", "vsd", "arteriosus"}

// betweenStages tells whether a kind of note is of an operation between the stages, where a
// membrane closes an open chest.
func betweenStages(k schema.Kind) bool {
	return slices.Contains([]schema.Kind{schema.Closure, schema.Reexploration, schema.ShuntRevision, schema.SupportOn, schema.SupportOff, schema.Takedown}, k)
}
