package dictation

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// tokenKind sorts the pieces a text is cut into.
type tokenKind uint8

const (
	word   tokenKind = iota
	figure           // a number in figures: 3.5, 1,200, 10:20
	mark             // punctuation that means something: , . ; : / % < > = + - ( )
	stop             // the end of a sentence, or of a line
)

// token is one piece of the text. What lies between tokens is white space,
// hyphens, apostrophes and what no rule looks at.
type token struct {
	span Span
	kind tokenKind
	text string // normal form, see normal
	id   int32  // in the lexicon; 0 for a word it does not know
	// glued tells that nothing, or only a hyphen, stands before it.
	glued bool
}

// hesitation are sounds between words, which no rule looks at.
var hesitation = map[string]bool{"um": true, "uh": true, "er": true, "erm": true, "uhm": true}

// tokenize cuts a text into tokens. Offsets are from base.
func tokenize(text string, base int) []token {
	toks := make([]token, 0, len(text)/5+4)
	add := func(kind tokenKind, from, to int, s string) {
		glued := len(toks) > 0 && (toks[len(toks)-1].span.End == from+base ||
			toks[len(toks)-1].span.End == from+base-1 && text[from-1] == '-')
		toks = append(toks, token{span: Span{from + base, to + base}, kind: kind, text: s, glued: glued})
	}
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case c >= '0' && c <= '9' || c == '.' && i+1 < len(text) && isDigit(text[i+1]) && (i == 0 || !isDigit(text[i-1])):
			j := endOfFigure(text, i)
			add(figure, i, j, text[i:j])
			i = j
		case isLetter(c) || c >= utf8.RuneSelf:
			j, s := endOfWord(text, i)
			if s == "" { // a symbol, a combining mark, an emoji
				r, n := utf8.DecodeRuneInString(text[i:])
				if sym := symbol(r); sym != "" {
					if (r == '–' || r == '—') && i+n < len(text) && isDigit(text[i+n]) {
						sym = "-" // of a range, or before a number
					}
					kind := mark
					if sym == "and" || sym == "degrees" || sym[0] >= '0' && sym[0] <= '9' {
						kind = word
						if sym[0] != 'a' && sym[0] != 'd' {
							kind = figure
						}
					}
					add(kind, i, i+n, sym)
				}
				i += n
				continue
			}
			if n := len(toks); hesitation[s] && !(n > 0 && toks[n-1].kind == figure) {
				for i = j; j < len(text) && text[j] == ' '; {
					j++
				}
				if j < len(text) && text[j] == ',' && (n == 0 || toks[n-1].kind == stop || toks[n-1].text == ",") {
					i = j + 1 // "sats, um, eighty"
				}
				continue
			}
			add(word, i, j, s)
			i = j
		case c == '\n' || c == ';' || c == '!' || c == '?':
			if n := len(toks); n == 0 || toks[n-1].kind != stop {
				add(stop, i, i+1, string(c))
			}
			i++
		case strings.HasPrefix(text[i:], "..."):
			if n := len(toks); n > 0 && toks[n-1].kind != stop {
				add(mark, i, i+3, ",") // a pause, as a comma
			}
			i += 3
		case c == '.':
			if n := len(toks); n > 0 && toks[n-1].kind != stop && !abbreviates(text, i, toks[n-1].text) {
				add(stop, i, i+1, ".")
			}
			i++
		case c == '&' || c == '+' && (i+1 >= len(text) || !isDigit(text[i+1]) || i > 0 && (text[i-1] == ' ' || isDigit(text[i-1]))):
			if n := len(toks); n == 0 || toks[n-1].text != "and" { // "clot ++" is not two
				add(word, i, i+1, "and")
			}
			i++
		case c == '@':
			add(word, i, i+1, "at")
			i++
		case c == '>' && i > 0 && (text[i-1] == '-' || text[i-1] == '='):
			add(mark, i-1, i+1, "→") // an arrow typed with two signs
			i++
		case strings.IndexByte(",:/%<>=+()", c) >= 0:
			add(mark, i, i+1, string(c))
			i++
		case c == '-':
			// Between or before figures it means something; in words it joins.
			if i+1 < len(text) && isDigit(text[i+1]) {
				add(mark, i, i+1, "-")
			} else if i > 0 && text[i-1] == ' ' && i+1 < len(text) && text[i+1] == ' ' {
				add(mark, i, i+1, ",") // a dash
			}
			i++
		case c == '\'' && i > 0 && isDigit(text[i-1]) && (i+1 >= len(text) || !isLetter(text[i+1])):
			add(word, i, i+1, "min") // 61'
			i++
		default:
			i++
		}
	}
	return toks
}

func isDigit(c byte) bool  { return c >= '0' && c <= '9' }
func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// abbreviates tells whether the full stop at i belongs to a word of one letter
// ("a.m.", "i.v.") or stands inside a token.
func abbreviates(text string, i int, before string) bool {
	if i+1 < len(text) && (isLetter(text[i+1]) || isDigit(text[i+1])) {
		return len(before) <= 2
	}
	return len(before) == 1 && isLetter(before[0]) && i > 1 && text[i-2] == '.'
}

// endOfFigure finds where a number in figures ends: digits, with commas between
// thousands, a point or a comma as the decimal sign, or a colon in a clock time.
func endOfFigure(text string, i int) int {
	j := i
	for j < len(text) && isDigit(text[j]) {
		j++
	}
	run := func(k int) int { // digits from k
		n := 0
		for k+n < len(text) && isDigit(text[k+n]) {
			n++
		}
		return n
	}
	if j < len(text) && text[j] == ':' && run(j+1) == 2 && j-i <= 2 {
		return j + 3
	}
	for j < len(text) && text[j] == ',' && run(j+1) > 0 {
		j += 1 + run(j+1)
	}
	if j < len(text) && text[j] == '.' && run(j+1) > 0 {
		j += 1 + run(j+1)
	}
	return j
}

// endOfWord finds where a word ends and gives its normal form; "" for what is
// not a word.
func endOfWord(text string, i int) (int, string) {
	j, plain := i, true
	for j < len(text) {
		c := text[j]
		if isLetter(c) {
			j++
			continue
		}
		if c == '\'' && j+1 < len(text) && isLetter(text[j+1]) {
			j++
			continue
		}
		if c < utf8.RuneSelf {
			break
		}
		r, n := utf8.DecodeRuneInString(text[j:])
		if r == '’' && j+n < len(text) && isLetter(text[j+n]) || unicode.IsLetter(r) || unicode.Is(unicode.Mn, r) && j > i {
			plain = false
			j += n
			continue
		}
		break
	}
	if j == i {
		return i, ""
	}
	w := text[i:j]
	if !plain {
		w = fold(w)
	}
	return j, normal(w)
}

// fold writes the letters that matter without accents or ligatures.
func fold(w string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case 'é', 'è', 'ê', 'É':
			return 'e'
		case 'ü', 'Ü':
			return 'u'
		case 'ö', 'Ö':
			return 'o'
		case 'µ', 'μ':
			return 'u'
		case '’':
			return '\''
		}
		return r
	}, strings.NewReplacer("æ", "ae", "œ", "oe").Replace(w))
}

// symbol is what a sign outside ASCII stands for.
func symbol(r rune) string {
	switch r {
	case '½':
		return "0.5"
	case '¼':
		return "0.25"
	case '¾':
		return "0.75"
	case '°', 'º':
		return "degrees"
	case '×':
		return "x"
	case '–', '—', '…':
		return ","
	case '−':
		return "-"
	case '≥':
		return ">"
	case '≤':
		return "<"
	case '→':
		return "→"
	}
	return ""
}

// normal is the form in which words are compared: small letters, American
// spelling, singular. Text and vocabulary go through it alike, so it need not be
// a word.
func normal(w string) string {
	lower := true
	for i := 0; i < len(w); i++ {
		if c := w[i]; c >= 'A' && c <= 'Z' || c == '\'' || c >= utf8.RuneSelf {
			lower = false
			break
		}
	}
	if !lower {
		w = strings.ToLower(w)
		if strings.HasSuffix(w, "n't") {
			w = w[:len(w)-3] + "nt"
		}
		w = strings.TrimSuffix(w, "'s")
		if strings.IndexByte(w, '\'') >= 0 {
			w = strings.ReplaceAll(w, "'", "")
		}
	}
	if len(w) < 4 {
		return w
	}
	if strings.Contains(w, "ae") {
		w = strings.ReplaceAll(w, "ae", "e")
	}
	if strings.Contains(w, "oe") && len(w) > 5 {
		w = strings.ReplaceAll(w, "oe", "e")
	}
	if n := len(w); n > 4 && w[n-1] == 's' && w[n-2] != 's' && w[n-2] != 'u' && w[n-2] != 'i' {
		w = w[:n-1]
	} else if n == 4 && w[n-1] == 's' && w[n-2] != 's' && w[n-2] != 'u' && w[n-2] != 'i' && w != "does" && w != "gas" {
		w = w[:n-1]
	}
	n := len(w)
	if n < 5 {
		return w
	}
	switch {
	case strings.HasSuffix(w, "tre"):
		w = w[:n-2] + "er"
	case strings.HasSuffix(w, "olour"):
		w = w[:n-2] + "r"
	case strings.HasSuffix(w, "isation"):
		w = w[:n-6] + "zation"
	case strings.HasSuffix(w, "ised"), strings.HasSuffix(w, "iser"):
		w = w[:n-3] + "z" + w[n-2:]
	case strings.HasSuffix(w, "ise"):
		w = w[:n-2] + "ze"
	case strings.HasSuffix(w, "lled") && n > 6:
		w = w[:n-3] + "ed"
	case strings.HasSuffix(w, "lling") && n > 7:
		w = w[:n-4] + "ing"
	case strings.HasSuffix(w, "gramme"):
		w = w[:n-2]
	case strings.Contains(w, "sulph"):
		w = strings.ReplaceAll(w, "sulph", "sulf")
	}
	return w
}
