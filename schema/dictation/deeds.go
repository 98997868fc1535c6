package dictation

import (
	"slices"

	"fairlead/schema"
)

// deeds are verbs as they stand after "did" or "had to", with the form in which the
// vocabulary tells of what was done.
var deeds = map[string]string{
	"tie": "tied", "ligate": "ligated", "divide": "divided", "oversew": "oversewn", "excise": "excized", "excize": "excized", "resect": "resected",
	"remove": "removed", "cannulate": "cannulated", "enlarge": "enlarged", "augment": "augmented", "repair": "repaired", "plicate": "plicated",
	"fenestrate": "fenestrated", "replace": "replaced", "close": "closed", "clip": "clipped", "snare": "snared", "pack": "packed",
	"revise": "revized", "revize": "revized", "reopen": "reopened", "wire": "wired", "clamp": "clamped", "arrest": "arrested", "cool": "cooled",
}

// hearDeeds reads a verb after "did" as what was done: "I did tie it", "we did not
// ligate the azygos", "we had to clip it". A form the vocabulary knows stays.
func (g *segment) hearDeeds() {
	for k := 1; k < len(g.toks); k++ {
		w := deeds[g.toks[k].text]
		if w == "" || g.toks[k].kind != word {
			continue
		}
		j := k - 1
		for j > 0 && g.is(j, "not", "then", "also", "have", "still", "just", "actually", "finally") {
			j--
		}
		if !g.is(j, "did", "didnt") && !(g.is(j, "to") && g.is(j-1, "had")) {
			continue
		}
		if n, _ := g.lex.match(g.toks[:k+1], k); n != 0 && g.plainMeaning(n) {
			continue
		}
		g.toks[k].text, g.toks[k].id = w, g.lex.ids[w]
	}
}

// dropThinking takes out what is said while looking for the number: "bypass was, let
// me see, one hundred and four".
func (g *segment) dropThinking() {
	for k := 2; k+4 < len(g.toks); k++ { // "drain loss, all three together, fifty-five"
		if g.is(k, "all") && g.is(k-1, ",") && units[g.toks[k+1].text] > 1 && g.is(k+2, "together") && g.is(k+3, ",") {
			g.toks = append(g.toks[:k-1:k-1], g.toks[k+3:]...)
		}
	}
	for k := 2; k+4 < len(g.toks); k++ {
		if !g.is(k, "let") || !g.is(k+1, "me") || !g.is(k+2, "see", "look", "check", "think") || !g.is(k-1, ",") || !g.is(k-2, "was", "is", "were", "are", "of", "at", "for", "by") {
			continue
		}
		end := k + 3
		for g.is(end, ",", "yes", "here", "now") {
			end++
		}
		g.toks = append(g.toks[:k-1:k-1], g.toks[end:]...)
	}
}

// plainMeaning tells whether a phrase has a meaning of its own beside its rows.
func (g *segment) plainMeaning(node int32) bool {
	for _, x := range g.lex.senses[node] {
		if x.kind == namesField || x.kind == isValue && x.field.Path.List() == "" {
			return true
		}
	}
	return false
}

// dropAmounts takes out what is said of how little of a drug there is: "a bit of
// milrinone", "a touch of adrenaline".
func (g *segment) dropAmounts() {
	for k := 0; k+2 < len(g.toks); k++ {
		if !g.is(k, "a") || !g.is(k+1, "bit", "touch", "little", "whiff", "sniff", "smidge", "dash") {
			continue
		}
		end := k + 2
		if g.is(end, "of") {
			end++
		}
		if node, _ := g.lex.match(g.toks, end); node != 0 && g.lex.infused(node) {
			g.toks = append(g.toks[:k:k], g.toks[end:]...)
		}
	}
}

// infused tells whether a phrase is the name of a drug that is infused.
func (l *lexicon) infused(node int32) bool {
	return slices.ContainsFunc(l.senses[node], func(x sense) bool { return x.kind == isValue && x.field.Path == schema.InfusionsRunningDrug })
}

// plainDeeds are participles of what a surgeon does that end in no "ed".
var plainDeeds = wordSet("brought sewn taken made put cut swung run led laid shut drawn sutured oversewn undone")

// deedAt tells whether token k is a participle of something done: "divided", "sewn".
func (g *segment) deedAt(k int) bool {
	w := g.wordAt(k)
	return plainDeeds[w] || len(w) > 4 && w[len(w)-2:] == "ed"
}

// lasting are participles of what cannot pass again: when it was done does not make it undone.
var lasting = wordSet("excised resected ligated divided transected oversewn patched augmented anastomosed sutured plastied amputated")

// doneForGood tells whether tokens from up to to tell of a deed that lasts, and of no
// number that may have passed since: "the septum was excised during the arrest".
func (g *segment) doneForGood(from, to int) bool {
	done := false
	for k := max(from, 0); k < min(to, len(g.toks)); k++ {
		if g.numberAt(k) {
			return false
		}
		done = done || lasting[g.toks[k].text]
	}
	return done
}

// bothCutOut takes the ductal tissue for excised where the coarctation was in the same
// breath, and the other way round: "the coarctation and all the ductal tissue came out".
func (g *segment) bothCutOut() {
	shelf, tissue := fieldAt(schema.Stage1Coarctation), fieldAt(schema.Stage1DuctalTissue)
	if !g.inNote(shelf) || !g.mentions("duct", "ductal", "ductu") || !g.mentions("coarctation", "coarct", "coarc", "shelf") {
		return
	}
	for i := range g.claims {
		c := g.claims[i]
		other := shelf
		switch {
		case c.gone || c.value != "excised" || c.group >= 0:
			continue
		case c.field == shelf:
			other = tissue
		case c.field != tissue:
			continue
		}
		if g.answered(other) {
			continue
		}
		if from, to := g.joinedNouns(); to > 0 {
			g.claimField(other, "excised", from, to, min(from, c.why), max(to, c.whyTo))
		}
		return
	}
}

// joinedNouns is the stretch from the coarctation to the ductal tissue, either first, where
// "and" joins them and no verb parts them.
func (g *segment) joinedNouns() (from, to int) {
	isShelf := func(k int) bool { return g.is(k, "coarctation", "coarct", "coarc", "shelf") }
	isTissue := func(k int) bool { return g.is(k, "ductal", "duct", "ductu") && g.is(k+1, "tissue") }
	for k := range g.toks {
		if !isShelf(k) && !isTissue(k) {
			continue
		}
		met := false
		for j := k + 1; j < len(g.toks) && j <= k+8 && g.toks[j].kind != stop && !g.denyingAt(j) && !g.is(j, "left", "was", "were", "but"); j++ {
			met = met || g.is(j, "and", "+", "&", "plus", "with")
			if met && (isShelf(k) && isTissue(j) || isTissue(k) && isShelf(j)) {
				return k, j + 1
			}
		}
	}
	return 0, 0
}
