package dictation

import (
	"strings"

	"fairlead/schema"
)

// hearThere puts a pleura in the place of the word that refers back to it: "I'd opened
// the left pleura so there's a twelve in there".
func (g *segment) hearThere() {
	side := ""
	for k := 1; k < len(g.toks); k++ {
		t := &g.toks[k-1]
		switch {
		case t.kind == stop:
			side = ""
		case g.is(k, "pleura") && g.is(k-1, "right", "left"):
			side = t.text
		case g.is(k, "drain", "wire", "pack", "line", "mediastinum", "pericardium") && !g.is(k-1, "a"):
			side = ""
		case side != "" && g.is(k, "there") && g.ends(k+1):
			from := k
			if g.is(k-1, "in") {
				from--
			}
			if n := &g.toks[from-1]; n.kind == figure || teens[n.text] > 0 || tens[n.text] > 0 || g.is(from-1, "french") {
				g.hearAs(from, k+1, "in the "+side+" pleura")
			}
		}
	}
}

// hearAskedBack puts a word of correction in the place of a question that takes back a
// number: "both twelve. Did I say twelve? Fifteens."
func (g *segment) hearAskedBack() {
	for k := 1; k+4 < len(g.toks); k++ {
		if !g.is(k, "did") || !g.is(k+1, "i") || !g.is(k+2, "say") {
			continue
		}
		end := k + 3
		for w := &g.toks[end]; end < k+6 && end+1 < len(g.toks) && (w.kind == figure || units[w.text] > 0 || teens[w.text] > 0 || tens[w.text] > 0); w = &g.toks[end] {
			end++
		}
		if end > k+3 && g.is(end, "?") {
			g.hearAs(k, end+1, "sorry")
		}
	}
}

// drainGone are the words that tell that a drain made way for another.
var drainGone = wordSet("out removed gone pulled blocked clotted changed swapped exchanged replaced binned")

// hearNewOne names again the drain whose place a new one takes: "Old mediastinal drain out.
// New one, fifteen", "blocked so that is gone, a sixteen in its place".
func (g *segment) hearNewOne() {
	for k := 2; k+1 < len(g.toks); k++ {
		switch {
		case g.is(k, "new", "fresh") && g.is(k+1, "one") && !g.pluralAt(k+1) && g.sizeWordAt(k+2):
			if v := g.drainOut(k); v != "" {
				g.hearAs(k+1, k+2, v+" drain")
			}
		case g.is(k, "in") && g.is(k+1, "its") && g.is(k+2, "place", "stead") && !g.is(k-1, "drain", "tube", "new", "one"):
			if v := g.drainOut(k); v != "" {
				g.hearAs(k, k+3, placeOf[v])
			}
		}
	}
}

// sizeWordAt tells whether a size that may be a drain's is said at token k: ", a fifteen".
func (g *segment) sizeWordAt(k int) bool {
	for g.is(k, ",", ":", "is", "a", "size", "french") {
		k++
	}
	return k < len(g.toks) && (g.toks[k].kind == figure || teens[g.toks[k].text] > 0 || tens[g.toks[k].text] > 0)
}

// placeOf is where a drain lies, in words.
var placeOf = map[string]string{"mediastinal": "in the mediastinum", "pericardial": "in the pericardium", "right pleural": "in the right pleura", "left pleural": "in the left pleura"}

// drainOut is the drain, by its place, that the words before token k say made way, or "".
func (g *segment) drainOut(k int) string {
	gone := false
	for j := k - 1; j >= 0 && j > k-14; j-- {
		w := g.toks[j].text
		switch {
		case drainGone[w] && !g.is(j-1, "not", "never"):
			gone = true
		case w == "mediastinal" || w == "pericardial":
			if gone {
				return w
			}
			return ""
		case w == "pleural" && g.is(j-1, "right", "left"):
			if gone {
				return g.toks[j-1].text + " pleural"
			}
			return ""
		case otherNouns[w]:
			return ""
		}
	}
	return ""
}

// newOneNext tells whether a sentence begins with what takes the place of the drain that the
// one before says is out.
func newOneNext(said, rest string) bool {
	rest = strings.ToLower(afterHesitation(rest[:min(len(rest), 24)]))
	for _, w := range []string{"new one", "a new one", "the new one", "fresh one", "a fresh one"} {
		if strings.HasPrefix(rest, w) {
			return anyWord(strings.ToLower(said), "drain", "drain,", "mediastinal", "pleural") && !strings.Contains(strings.ToLower(said), "wire")
		}
	}
	return false
}

// unopenedWords tell why a side of the chest has no drain.
var unopenedWords = wordSet("opened open dry intact untouched unopened entered breached touched")

// readSoNone reads a side that is told to have no drain because it was not opened or is
// dry: "right side dry so none", "never opened the right pleura, so no drain there", "left
// pleura dry, no drain".
func (g *segment) readSoNone() {
	kind := schema.ItemKindNamed("drain")
	if g.ctx.last != "drain" && !g.mentions("drain", "pleural", "mediastinal") {
		return
	}
	for k := 2; k < len(g.toks); k++ {
		end := k + 1
		for g.is(end, "drain", "tube", "there", "in", "needed", "on", "that", "side") {
			end++
		}
		so := g.is(k, "none", "no", "nothing", "nil") && (g.is(k-1, "so", ",") || g.is(k-1, "and") && end > k+1 || g.is(k-1, "is", "was") && g.is(k-2, "there") && end > k+1)
		if !so || end < len(g.toks) && g.toks[end].kind == word && !g.is(end, "and", "but") && !g.isPlace(end) || g.maybe(k) {
			continue
		}
		why := false
		for j := k - 1; j >= 0 && j >= k-14 && g.toks[j].kind != stop; j-- {
			why = why || unopenedWords[g.toks[j].text]
			if !g.is(j, "right", "left") {
				continue
			}
			if !g.is(j+1, "side", "pleura", "pleural", "chest", "not", "never", "wasnt", "dry", "unopened") {
				break
			}
			if why && !(g.is(j+1, "pleura", "side", "chest") && g.is(j+2, "was", "is") && g.is(j+3, "opened", "open")) {
				variety := g.toks[j].text + "-pleural"
				g.dropBefore(kind, variety, k)
				gi := g.newGroup("items", j, end)
				g.groups[gi].item, g.groups[gi].variety, g.groups[gi].denied = kind, variety, true
				g.claimIn(gi, kind.Field("variety"), variety, j, j+2, j, end)
				for m := j; m < end; m++ {
					if n := g.at[m]; n >= 0 && (m < j+2 || m >= k) {
						g.signs[n].used = true
					}
				}
			}
			break
		}
	}
}

// keptOrListed tells whether a place named before token k stands in a list, or is told to
// be as it was: "mediastinal stays", "the right pleural one is as before".
func (g *segment) keptOrListed(k int) bool {
	if g.is(k, "one") {
		k++
	}
	if k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", "and", "only") {
		return true
	}
	if g.is(k, "is", "was", "are", "has", "were") {
		return g.is(k+1, "unchanged", "kept", "the", "as", "untouched", "same", "still", "left")
	}
	return g.is(k, "stay", "remain", "unchanged", "kept", "untouched", "same") || g.is(k, "as", "left") && g.is(k+1, "it", "before", "is", "was", "alone", "in") || g.is(k, "still") && g.is(k+1, "in", "there")
}

// struckDrain is a drain that is taken off the list, and the token from which it is.
type struckDrain struct {
	variety string
	at      int
}

// readStruckDrain reads a drain that the words take off the list, before they would
// strike the whole statement: "Scratch the left one, that pleura was never opened."
func (g *segment) readStruckDrain() {
	if g.ctx.last != "drain" && !g.mentions("drain", "pleural") {
		return
	}
	for k := 0; k+2 < len(g.toks); k++ {
		if !g.is(k, "scratch", "strike", "scrap", "delete", "forget", "cancel", "drop") || !g.is(k+1, "the") || !g.is(k+2, "right", "left") {
			continue
		}
		end := k + 3
		for g.is(end, "pleural", "pleura", "side", "chest", "one", "drain", "tube") {
			end++
		}
		if !g.ends(end) || g.is(end, ",") && g.is(end+1, "only", "just", "its", "it", "make") {
			continue
		}
		variety := g.toks[k+2].text + "-pleural"
		g.struck = append(g.struck, struckDrain{variety, k})
		g.taken = append(g.taken, withdrawn{sense{kind: isItem, item: schema.ItemKindNamed("drain"), value: variety}, ""})
		g.pass(k, end)
	}
}

// dropStruck takes back the drains that were listed and then taken off the list.
func (g *segment) dropStruck() {
	for _, x := range g.struck {
		g.dropBefore(schema.ItemKindNamed("drain"), x.variety, x.at)
	}
}
