package corpus

import (
	"hash/fnv"
	"strings"
)

// Degradation is a way in which a text reaches us worse than it was said.
type Degradation struct {
	Name  string
	apply func(text string, dice func(n int) int) string
}

// Degradations are all of them. Each is done by rule, with dice that depend on
// the dictation's name alone, so that the same text always comes out the same.
var Degradations = []Degradation{
	{"no-punctuation", func(t string, _ func(int) int) string { return dropPunctuation(t) }},
	{"no-capitals", func(t string, _ func(int) int) string { return strings.ToLower(t) }},
	{"misheard", mishear},
	{"fillers", fill},
	{"figures", func(t string, _ func(int) int) string { return toFigures(t) }},
	{"words", func(t string, _ func(int) int) string { return toWords(t) }},
}

// All degrades every dictation.
func (d Degradation) All(ds []*Dictation) []*Dictation {
	out := make([]*Dictation, len(ds))
	for i, x := range ds {
		y := *x
		h := fnv.New32a()
		h.Write([]byte(x.Name + d.Name))
		state := h.Sum32() | 1
		dice := func(n int) int { // xorshift
			state ^= state << 13
			state ^= state >> 17
			state ^= state << 5
			return int(state>>1) % n
		}
		y.Text = d.apply(x.Text, dice)
		out[i] = &y
	}
	return out
}

// dropPunctuation takes away what a recogniser does not hear: stops, commas,
// colons, brackets; not the points and strokes inside numbers and units.
func dropPunctuation(t string) string {
	var b strings.Builder
	for i := 0; i < len(t); i++ {
		c := t[i]
		inNumber := i+1 < len(t) && digit(t[i+1]) && (i > 0 && digit(t[i-1]) || c == '.' && (i == 0 || t[i-1] == ' '))
		switch c {
		case '.', ':', ',':
			if inNumber {
				b.WriteByte(c)
			}
		case ';', '!', '?', '(', ')', '"':
		case '\n':
			b.WriteByte(' ')
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

// misheardAs are mistakes recognisers make of words of the trade
// (clinical.md 9 names "glen", "fontaine", "sanno", "go tex", "mill"); the rest
// are sounded out, from memory.
var misheardAs = [][2]string{
	{"glenn", "glen"}, {"fontan", "fontaine"}, {"sano", "sanno"}, {"gore-tex", "go tex"}, {"goretex", "go tex"}, {"gore tex", "go tex"},
	{"norwood", "nor wood"}, {"millimetre", "mill"}, {"millimeter", "mill"}, {"millimetres", "mill"}, {"millimeters", "mill"}, {"pleurals", "plurals"}, {"milrinone", "mil run own"},
	{"adrenaline", "a drenaline"}, {"fenestration", "finestration"}, {"fenestrated", "finestrated"}, {"azygos", "azygous"}, {"neo-aorta", "neo order"}, {"neoaorta", "neo order"},
	{"innominate", "in nominate"}, {"septectomy", "sept ectomy"}, {"lactate", "lack tate"}, {"homograft", "homo graft"}, {"dunked", "donked"}, {"antegrade", "anti grade"},
	{"protamine", "pro tamine"}, {"mics", "micks"}, {"nirs", "nears"}, {"cardioplegia", "cardio plegia"}, {"cross-clamp", "cross clamp"}, {"jugular", "jugula"}, {"transpulmonary", "trans pulmonary"},
	{"kawashima", "kawa shima"}, {"extracardiac", "extra cardiac"}, {"ecmo", "eckmo"}, {"nitric", "night rick"}, {"mediastinal", "media stinal"}, {"fentanyl", "fentanil"}, {"coarctation", "co arctation"},
}

// mishear replaces words of the trade by what a recogniser makes of them.
func mishear(t string, _ func(int) int) string {
	for _, m := range misheardAs {
		t = replaceWord(t, m[0], m[1])
	}
	return t
}

// replaceWord replaces a word wherever it stands by itself, whatever its case.
func replaceWord(t, from, to string) string {
	low := strings.ToLower(t)
	var b strings.Builder
	at := 0
	for {
		i := strings.Index(low[at:], from)
		if i < 0 {
			break
		}
		i += at
		j := i + len(from)
		whole := (i == 0 || !letter(low[i-1])) && (j == len(low) || !letter(low[j]))
		b.WriteString(t[at:i])
		if whole {
			b.WriteString(to)
		} else {
			b.WriteString(t[i:j])
		}
		at = j
	}
	b.WriteString(t[at:])
	return b.String()
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// fill puts "um" and "er" between words, about one in nine, never inside a
// number or right before a unit.
func fill(t string, dice func(int) int) string {
	fillers := []string{"um", "er", "uh", "erm"}
	words := strings.Fields(t)
	var out []string
	for i, w := range words {
		if i > 0 && dice(9) == 0 && !numberish(words[i-1]) && !numberish(w) {
			out = append(out, fillers[dice(len(fillers))])
		}
		out = append(out, w)
	}
	return strings.Join(out, " ")
}

var numberParts = map[string]bool{"point": true, "and": true, "a": true, "oh": true, "o": true, "half": true, "hundred": true, "thousand": true, "quarter": true, "per": true, "kilo": true}

// numberish tells whether a word is, or may be, part of a number.
func numberish(w string) bool {
	w = strings.ToLower(strings.Trim(w, ".,;:()"))
	if numberParts[w] || w == "" {
		return true
	}
	if _, ok := cardinals[w]; ok {
		return true
	}
	return digit(w[0])
}

var cardinals = map[string]int{"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
	"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
