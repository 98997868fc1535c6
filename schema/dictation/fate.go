package dictation

import (
	"strings"
	"sync"
)

// fate is what a sentence says became of a thing.
type fate uint8

const (
	stays  fate = iota
	gone        // it was there, or was tried for, and is not there now
	absent      // it was wanted and never went in
)

// fatePhrases are the ways it is told, after a thing, that it is not there. Words with
// a stroke between them stand for each other.
var fatePhrases = sync.OnceValue(func() [absent + 1][][][]string {
	var out [absent + 1][][][]string
	for f, text := range [absent + 1]string{
		gone: `, it out|gone|off; , nothing there; no line|cannula|catheter there|in|placed|sited|inserted; went on monday|tuesday|wednesday|thursday|friday|saturday|sunday|day; went yesterday|overnight|earlier|already; went last|this week|night|morning; go|goe|goes , nothing; we|i|they pulled|removed before|earlier|first|already|at|when; gave|given|giving up; taken|came out; try|tried|tries|trying|attempted but|and|then could|can|did|cannot|couldnt|failed|unsuccessful; try|tried|attempted cannot|couldnt|failed; abandoned; taken|peeled|lifted down|off|away; was|is|were|are no good; without success|luck; no luck|joy|success; unsuccessful; unsuccessfully; belonged|belongs to;
			was|were|been|is|are|got|has|have|had|now|then|since|just|both|all|long removed|pulled|withdrawn|lost|discarded|discontinued|out|gone|abandoned|binned|scrapped;
			was|were|been|got|be|and|then taken|moved|lifted out|off|away|down; came|come|comes|fell|worked|slipped out|away|adrift|loose; got|was|been|is replaced|exchanged|swapped|changed|superseded|converted by|with|for|to;
			we|i|they|and|then|has|have removed|pulled|withdrew|discarded|lost|swapped|replaced|abandoned|ditched it|them|that|those|this|one|both|these;
			took|taken|whipped|pulled|had it|them|that|those|this|one|both|these out|away|off; so|and that|it|they|those went; and|then|so pulled|removed|discarded|withdrawn`,
		absent: `nobody|noone got|gets it|one|in; nobody|noone could get; could|would|will|did|can not|never pass|go|thread|advance|feed|float; couldnt|wouldnt|didnt|cannot|cant pass|go|thread|advance|feed|float;
			could|did not|never get|find|pass|place|site|manage one|it|that|them|any; couldnt|didnt|cannot get|find|pass|place|site|manage one|it|that|them|any; never went|got|made|passed in|through|down|it; did|was not|never need|needed|want|wanted|require|required one|it|them|that|any; didnt need|want|require|place|put|use|insert|leave|site one|it|them|any; did not need|want|require|place|put|use|insert|leave|site one|it|them|any; decided against one|it|that|them; against it|that|one|them; changed our|my mind; but|and not placed|put|used|left|needed|inserted|required|sited;
			could|can not|never be passed|placed|sited|got|inserted|found|advanced|threaded; couldnt|cannot be passed|placed|sited|got|inserted|found|advanced|threaded; proved|was impossible; not|never attempted|sited`,
	} {
		for _, p := range strings.Split(text, ";") {
			if f == int(stays) {
				continue
			}
			var words [][]string
			for _, w := range strings.Fields(p) {
				alts := strings.Split(w, "|")
				for i := range alts {
					alts[i] = normal(alts[i])
				}
				words = append(words, alts)
			}
			out[f] = append(out[f], words)
		}
	}
	return out
})

// placedKinds are kinds of thing that are put in with a needle, so that "failed" and
// "tried twice" say of them that they are not in.
var placedKinds = map[string]bool{"arterial-line": true, "central-venous-line": true, "peripheral-cannula": true, "intracardiac-line": true, "intraosseous-needle": true, "wound-catheter": true, "airway": true}

// fateOf is what is said, after the thing and before anything else is spoken of,
// to have become of it.
func (g *segment) fateOf(t *thing, limit int) fate {
	if n := t.to + 1; g.is(t.to, "?") && g.is(n, "no") && n+1 < len(g.toks) && g.toks[n+1].kind != stop && g.at[n] >= 0 && !g.signs[g.at[n]].used {
		return gone // "left femoral? no, right"
	}
	if t.of != nil && t.of.Group == "lines" && g.is(t.to, ",", ":") && g.is(t.to+1, "nothing", "none", "nil") && g.endsClause(t.to+2) {
		return absent // "right internal jugular, nothing"
	}
	stops := 0
	for k := t.to; k < len(g.toks) && k < limit && k < t.to+14; k++ {
		if g.toks[k].kind == stop {
			if stops++; stops > 1 || !g.refersBackAt(k+1) {
				return stays
			}
			continue
		}
		for f, phrases := range fatePhrases() {
			for _, p := range phrases {
				if g.altsAt(k, p) && g.toldOf(k, len(p), fate(f)) {
					return fate(f)
				}
			}
		}
		if n := g.at[k]; n >= 0 && k > t.to && g.signs[n].from == k && g.otherTopic(t, int(n)) && !g.adjunct(k) && !(g.is(k, "closed") && t.varieties[0] == "tracheostomy") {
			return stays
		}
		if g.is(k, "failed") && placedKinds[t.of.Name] && !g.is(k+1, "to") && !g.maybe(k) {
			return gone
		}
		if g.is(k, "closed", "decannulated") && t.varieties[0] == "tracheostomy" && !g.maybe(k) {
			return gone
		}
	}
	return stays
}

// endsClause tells whether no more words stand at token k in its clause.
func (g *segment) endsClause(k int) bool {
	return k >= len(g.toks) || g.toks[k].kind == stop || g.is(k, ",", ":")
}

// vesselStates tell, after the name of a vessel, how it was found, and not what lies in it.
var vesselStates = wordSet("blocked occluded patent ok open untouched thrombosed free clear stenosed narrow fine normal")

// vesselTold tells whether a vessel is told of and no line in it: "left femoral vein ok,
// right blocked", "both groins are untouched".
func (g *segment) vesselTold(t *thing) bool {
	if t.head >= 0 || t.of.Name != "central-venous-line" && t.of.Name != "arterial-line" || g.is(t.to-1, "line", "catheter", "picc", "broviac", "hickman", "port", "central") {
		return false
	}
	k := t.to
	for g.is(k, "is", "are", "was", "were", "both", "all", "still", "being", "looked", "look", "left") {
		k++
	}
	return k < len(g.toks) && vesselStates[g.toks[k].text] || g.is(k, "not") && g.is(k+1, "looked", "seen", "scanned", "touched", "used", "assessed")
}

// altsAt tells whether words follow at token k, each one of those it may be.
func (g *segment) altsAt(k int, words [][]string) bool {
	for j, alts := range words {
		if !g.is(k+j, alts...) {
			return false
		}
	}
	return true
}

// toldOf tells whether a phrase of n words at token k is told as done, of the thing:
// not of what is planned, not denied, and not of how far it was drawn back.
func (g *segment) toldOf(k, n int, f fate) bool {
	if g.maybe(k) || g.is(k-1, "not", "never", "to", "be", "if", "when", "until", "other", "rest") || g.is(k+n, "tomorrow", "tonight", "later", "if", "when") {
		return false
	}
	for j := k; j < k+n && f == gone; j++ {
		if m := g.at[j]; m >= 0 && g.signs[m].scope&(intended|calling|aiming|weighed) != 0 {
			return false
		}
	}
	if g.is(k+n-1, "withdrawn", "pulled", "for", "to", "brought") && (g.numberAt(k+n) || g.is(k+n, "back", "a", "out") && g.numberAt(k+n+1)) {
		return false // "was withdrawn two centimetres", "changed for a fifteen"
	}
	if f == absent && g.is(k+n, "on", "in", "into", "to", "through") && g.is(k+n+1, "the", "either", "his", "her", "that") {
		return false // "two ventricular wires, and I did not put any on the atrium"
	}
	if m := k + n; f == absent && m < len(g.toks) && g.at[m] >= 0 && g.signs[g.at[m]].content2() && g.is(m-1, "any", "one", "a") {
		return false // "two atrial, I didn't place any ventricular ones"
	}
	if k += n; g.is(k-1, "to") && !g.is(k-2, "belonged", "belong") { // "was changed to suction"
		for g.is(k, "a", "an", "the", "new", "right", "left") {
			k++
		}
		return k < len(g.toks) && g.at[k] >= 0 && g.signs[g.at[k]].content2()
	}
	return true
}

// otherTopic tells whether a sign speaks of something else than the thing, or says
// how matters stand now.
func (g *segment) otherTopic(t *thing, n int) bool {
	s := &g.signs[n]
	if side := g.sideOf(s); side != "" && len(t.sides) > 0 && side != t.sides[0] && g.limbSide(s) == "" {
		return true // "right radial art line, the left was lost"
	}
	if s.content2() {
		return !g.is(s.from, "one", "line", "catheter", "cannula", "tube", "drain") || s.to-s.from > 1
	}
	if s.is(removed) || s.is(stoppedCue) || s.is(denies) || s.is(deniesBefore) || s.num != nil || s.has(isUnit) || g.limbSide(s) != "" || !s.content() {
		return false
	}
	return !g.itemAttribute(t.of, n)
}

// adjunct tells whether what stands at token k only says what a thing was for, or
// when: "in for the bypass run".
func (g *segment) adjunct(k int) bool {
	if n := g.at[k]; n >= 0 && g.signs[n].content2() {
		return false
	}
	if g.is(k-1, "the", "this", "her", "his", "last", "a") {
		k--
	}
	return g.is(k-1, "for", "during", "from", "by")
}

// goneWords tell, after a pronoun, that what was listed before is not there now.
var goneWords = wordSet("removed pulled withdrawn withdrew lost discarded out gone replaced binned abandoned")

// refersBack tells whether a sentence that begins with text says of what was named in
// the one before that it is out: "; we removed it", ". That one clotted and is out."
func refersBack(text string) bool {
	return refersBackWords(strings.FieldsFunc(strings.ToLower(firstClause(text)), func(r rune) bool { return r == ' ' || r == ',' || r == '\'' }))
}

// refersBackAt is refersBack for the tokens from k on.
func (g *segment) refersBackAt(k int) bool {
	var words []string
	for ; k < len(g.toks) && g.toks[k].kind != stop && len(words) < 9; k++ {
		words = append(words, g.toks[k].text)
	}
	return refersBackWords(words)
}

func refersBackWords(words []string) bool {
	if len(words) < 2 {
		return false
	}
	switch words[0] {
	case "it", "they", "that", "those", "this", "these", "both":
		for _, w := range words[1:] {
			switch {
			case goneWords[w]:
				return true
			case w == "not" || w == "will" || w == "can" || w == "should" || w == "be" || w == "stays" || w == "in":
				return false
			}
		}
	case "we", "i", "they've", "we've":
		for i := 1; i+1 < len(words) && i < 4; i++ {
			switch words[i] {
			case "removed", "pulled", "took", "taken", "lost", "withdrew", "discarded", "replaced":
				switch words[i+1] {
				case "it", "them", "that", "those", "both", "these", "this":
					return words[i] != "took" && words[i] != "taken" || i+2 < len(words) && (words[i+2] == "out" || words[i+2] == "away" || words[i+2] == "off")
				}
			}
		}
	}
	return false
}

// firstClause is a text up to the first stop, and no more than 80 bytes of it.
func firstClause(text string) string {
	text = strings.TrimLeft(text, " \t\r\n")
	if len(text) > 80 {
		text = text[:80]
	}
	if i := strings.IndexAny(text, ".;\n?!"); i >= 0 {
		text = text[:i]
	}
	return text
}
