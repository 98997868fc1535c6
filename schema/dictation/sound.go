package dictation

import (
	"strings"
	"sync"
)

// soundWords are long words of the trade that recognisers cut up or respell. A
// word the vocabulary does not know, alone or with its neighbours, is taken for
// the one of these that sounds the same.
const soundWords = `milrinone adrenaline noradrenaline epinephrine norepinephrine vasopressin dopamine dobutamine levosimendan dexmedetomidine
	rocuronium vecuronium fentanyl morphine midazolam ketamine alprostadil prostaglandin calcium heparin protamine tranexamic
	mediastinal pericardial peritoneal innominate brachiocephalic subclavian carotid jugular femoral umbilical brachial axillary
	fenestration fenestrated septectomy cardioplegia azygos kawashima norwood blalock taussig stansel extracardiac homograft pericardium
	coarctation confluence infundibulum antegrade cerebral perfusion circulatory ultrafiltration thoracotomy sternotomy ventriculotomy
	bidirectional membrane silastic gastrostomy nasogastric tracheostomy endotracheal intracardiac ventricular haematocrit fibrinogen
	cryoprecipitate platelets saturations potassium lactate haemoglobin bicarbonate annuloplasty regurgitation tricuspid hypothermic
	nasopharyngeal oesophageal tympanic veno-arterial cannula cannulation decannulated cannulated compressions tamponade junctional
	extubated intubated uncuffed oscillating unobstructed restrictive unrestrictive interdigitating atresia stenosis hypoplastic
	centimetres millimetres milliamps atrium saline microgram kilogram diaphragm plication thrombosed pulmonary infusion pleural`

// sounds gives the words by their sound.
var sounds = sync.OnceValue(func() map[string][]string {
	m := map[string][]string{}
	for _, w := range strings.Fields(soundWords) {
		t := tokenize(w, 0)
		if len(t) != 1 {
			continue
		}
		if k := soundOf(w); len(k) >= 4 {
			m[k] = append(m[k], t[0].text)
		}
	}
	return m
})

// soundOf is the consonants of a word as they sound, its first vowel kept.
func soundOf(w string) string {
	var b []byte
	put := func(c byte) {
		if len(b) == 0 || b[len(b)-1] != c {
			b = append(b, c)
		}
	}
	for i := 0; i < len(w); i++ {
		c := w[i]
		next := byte(0)
		if i+1 < len(w) {
			next = w[i+1]
		}
		switch c {
		case 'a', 'e', 'i', 'o', 'u', 'y':
			if len(b) == 0 {
				b = append(b, 'a')
			}
		case 'h', 'w':
			if len(b) == 0 && c == 'h' {
				b = append(b, 'h')
			}
		case 'c':
			switch {
			case next == 'h':
				put('k')
			case next == 'e' || next == 'i' || next == 'y':
				put('s')
			default:
				put('k')
			}
		case 'q', 'k':
			if c == 'q' || next != 'n' { // "known" sounds like "own"
				put('k')
			}
		case 'x':
			put('k')
			put('s')
		case 'z', 's':
			put('s')
		case 'p':
			if next == 'h' {
				put('f')
			} else {
				put('p')
			}
		case 'v', 'f':
			put('f')
		case 'j', 'g':
			if c == 'j' || i == 0 || w[i-1] != 'n' { // "ring" sounds like "rin"
				put('g')
			}
		case 'd', 't':
			if c == 't' && i+2 < len(w) && next == 'i' && (w[i+2] == 'o' || w[i+2] == 'a') && i > 0 {
				put('s') // "junction" sounds like "junkshun"
				continue
			}
			put('t')
		default:
			if c >= 'a' && c <= 'z' {
				put(c)
			}
		}
	}
	return string(b)
}

// soundDrugs are the drugs that recognisers cut into common words, so that only the dose
// or the state said after them tells that a drug is meant: "mill are known point five".
var soundDrugs = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, w := range strings.Fields("milrinone adrenaline adrenalin noradrenaline noradrenalin epinephrine norepinephrine vasopressin dopamine dobutamine levosimendan dexmedetomidine") {
		m[soundOf(w)] = tokenize(strings.Replace(w, "nalin", "naline", 1), 0)[0].text
	}
	return m
})

// soundsDrug is the drug that the two to five words from token i sound like, where its
// dose or its state follows, or "".
func (g *segment) soundsDrug(i int) (string, int) {
	joined, best, size := "", "", 0
	if t := &g.toks[i]; t.kind != word || strings.IndexByte("aedlmnv", t.text[0]) < 0 {
		return "", 0
	}
	for n := 1; n <= 5 && i+n <= len(g.toks); n++ {
		t := &g.toks[i+n-1]
		if t.kind != word || n > 1 && (units[t.text] > 0 || tens[t.text] > 0 || teens[t.text] > 0 || g.is(i+n-1, "and", "point", "oh", "nought", "at", "is", "no", "nor", "off")) {
			break
		}
		joined += t.text
		if n < 2 || len(joined) < 6 || !g.drugFollows(i+n) {
			continue
		}
		if soundDrugs()[soundOf(g.toks[i].text)] != "" {
			break // "milrinone a quarter": the first word is the drug
		}
		if w := soundDrugs()[soundOf(joined)]; w != "" && joined[0] == w[0] {
			best, size = w, n
		}
	}
	return best, size
}

// drugFollows tells whether what is said of a drug follows at token k: a dose, or that it
// is off.
func (g *segment) drugFollows(k int) bool {
	for g.is(k, "at", "is", "on", "was", "running", "still", "going", "now", "infusion", "of", "just", "came", ",") {
		k++
	}
	return g.smallDoseAt(k) || g.is(k, "nought", "zero", "oh", "off", "stopped", "quarter", "half", "not", "none", "only") || g.numberish(k) || units[g.wordAt(k)] > 2 || g.is(k, "a") && g.is(k+1, "quarter", "half")
}

// soundsLike is the word that n tokens from token i sound like, or "".
func (g *segment) soundsLike(i int) (string, int) {
	if w, n := g.soundsDrug(i); n > 0 {
		return w, n
	}
	joined, unknown := "", false
	best, size := "", 0
	for n := 1; n <= 3 && i+n <= len(g.toks); n++ {
		t := &g.toks[i+n-1]
		if t.kind != word || n > 1 && (units[t.text] > 0 || tens[t.text] > 0 || teens[t.text] > 0 || t.text == "and" || t.text == "point" || t.text == "oh") {
			break
		}
		joined += t.text
		unknown = unknown || t.id == 0 && !everydayWords()[t.text]
		if !unknown || len(joined) < 6 {
			continue
		}
		for _, w := range sounds()[soundOf(joined)] {
			if d := len(w) - len(joined); d >= -3 && d <= 3 && w != joined && (w[0] == joined[0] || !strings.ContainsRune("aeiou", rune(w[0]))) {
				best, size = w, n
			}
		}
	}
	return best, size
}

// joinNor joins "nor" to the adrenaline after it, which recognisers part: "milrinone point
// five nor adrenalin off". Where a list of what was not given stands before, it is the word
// "nor".
func (g *segment) joinNor() {
	for i := 0; i+1 < len(g.toks); i++ {
		w := map[string]string{"adrenaline": "noradrenaline", "adrenalin": "noradrenaline", "epinephrine": "norepinephrine"}[g.toks[i+1].text]
		if w == "" || !g.is(i, "nor") || g.deniesList(i) && !g.drugFollows(i+2) {
			continue
		}
		t := &g.toks[i]
		t.span.End, t.text, t.id = g.toks[i+1].span.End, w, g.lex.ids[w]
		g.toks = append(g.toks[:i+1], g.toks[i+2:]...)
	}
}

// deniesList tells whether a denial, and no number, stands shortly before token k, with a
// word between.
func (g *segment) deniesList(k int) bool {
	for n := k - 2; n >= 0 && n > k-7 && g.toks[n].kind == word; n-- {
		switch {
		case g.is(n, "no", "neither", "not", "never", "without"):
			return true
		case g.numberish(n) || g.is(n, "point", "off"):
			return false
		}
	}
	return false
}
