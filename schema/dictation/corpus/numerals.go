package corpus

import (
	"strconv"
	"strings"
)

// toFigures writes numbers in words as figures where a recogniser would: plain
// cardinals, "point", "and a half", "one eighty six".
func toFigures(t string) string {
	words := splitWords(t)
	var b strings.Builder
	for i := 0; i < len(words); {
		if s, n := figuresAt(words, i); n > 0 {
			b.WriteString(s)
			i += n
			continue
		}
		b.WriteString(words[i])
		i++
	}
	return b.String()
}

// splitWords cuts a text into words and what lies between them.
func splitWords(t string) []string {
	var out []string
	start := 0
	for i := 1; i <= len(t); i++ {
		if i == len(t) || isWordByte(t[i]) != isWordByte(t[i-1]) {
			out = append(out, t[start:i])
			start = i
		}
	}
	return out
}

func isWordByte(c byte) bool { return letter(c) || digit(c) || c >= 0x80 || c == '\'' }

// figuresAt turns the number in words at words[i] into figures, and says how
// many words and gaps it took; 0 when there is none it is sure of.
func figuresAt(words []string, i int) (string, int) {
	at := func(k int) string {
		if k < len(words) {
			return strings.ToLower(words[k])
		}
		return ""
	}
	gap := func(k int) bool { return k < len(words) && (words[k] == " " || words[k] == "-") }
	under := func(k int) (v, n int) { // a number under a hundred
		w, ok := cardinals[at(k)]
		if !ok {
			return 0, 0
		}
		if w >= 20 && gap(k+1) {
			if u, ok := cardinals[at(k+2)]; ok && u > 0 && u < 10 {
				return w + u, 3
			}
		}
		return w, 1
	}
	v, n := under(i)
	s := ""
	switch {
	case n == 0 && at(i) == "point":
		s = "0"
	case n == 0:
		return "", 0
	default:
		s = strconv.Itoa(v)
		// "one eighty six", "two twenty": hundreds said short
		if v < 10 && v > 0 && gap(i+n) {
			if u, m := under(i + n + 1); m > 0 && u >= 10 {
				s = strconv.Itoa(v*100 + u)
				n += 1 + m
			} else if at(i+n+1) == "hundred" {
				total, k := v*100, i+n+2
				if gap(k) && at(k+1) == "and" && gap(k+2) {
					if u, m := under(k + 3); m > 0 {
						total += u
						k += 3 + m
					}
				}
				s, n = strconv.Itoa(total), k-i
			}
		}
	}
	k := i + n
	if at(i) == "point" {
		k = i - 1
	}
	if at(i) == "point" || gap(k) && at(k+1) == "point" {
		frac := ""
		j := k + 2
		for gap(j) {
			w := at(j + 1)
			if w == "oh" || w == "o" {
				frac += "0"
				j += 2
				continue
			}
			u, m := under(j + 1)
			if m == 0 || u >= 10 && frac != "" && strings.Trim(frac, "0") != "" {
				break
			}
			frac += strconv.Itoa(u)
			j += 1 + m
			if u >= 10 {
				break
			}
		}
		if frac != "" {
			return s + "." + frac, j - i
		}
		if at(i) == "point" {
			return "", 0
		}
	}
	if gap(k) && at(k+1) == "and" && gap(k+2) && at(k+3) == "a" && gap(k+4) && at(k+5) == "half" {
		return s + ".5", k + 6 - i
	}
	if v == 1 && n == 1 { // "one" is often a word, not a number
		return "", 0
	}
	return s, n
}

// toWords writes figures as words, as a recogniser does that spells numbers out.
func toWords(t string) string {
	var b strings.Builder
	for i := 0; i < len(t); {
		if !digit(t[i]) || i > 0 && (letter(t[i-1]) || t[i-1] == '.') {
			b.WriteByte(t[i])
			i++
			continue
		}
		j := i
		for j < len(t) && (digit(t[j]) || (t[j] == '.' || t[j] == ':') && j+1 < len(t) && digit(t[j+1])) {
			j++
		}
		if j < len(t) && letter(t[j]) || i > 0 && t[i-1] == '/' || j < len(t) && t[j] == '/' {
			b.WriteString(t[i:j])
			i = j
			continue
		}
		b.WriteString(spell(t[i:j]))
		i = j
	}
	return b.String()
}

func spell(s string) string {
	if h, m, ok := strings.Cut(s, ":"); ok {
		hh, _ := strconv.Atoi(h)
		mm, _ := strconv.Atoi(m)
		switch {
		case mm == 0 && hh >= 10:
			return cardinal(hh) + " hundred hours"
		case mm == 0:
			return cardinal(hh) + " o'clock"
		case mm < 10:
			return hour(hh) + " oh " + cardinal(mm)
		}
		return hour(hh) + " " + cardinal(mm)
	}
	whole, part, ok := strings.Cut(s, ".")
	if strings.Contains(part, ".") || len(whole) > 4 {
		return s
	}
	v, _ := strconv.Atoi(whole)
	out := cardinal(v)
	if !ok {
		return out
	}
	out += " point"
	for _, d := range part {
		if d == '0' {
			out += " oh"
			continue
		}
		out += " " + cardinal(int(d-'0'))
	}
	return out
}

func hour(h int) string {
	if h < 10 {
		return "oh " + cardinal(h)
	}
	return cardinal(h)
}

var cardinalWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}

var tensWords = []string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

func cardinal(v int) string {
	switch {
	case v < 20:
		return cardinalWords[v]
	case v < 100:
		if v%10 == 0 {
			return tensWords[v/10]
		}
		return tensWords[v/10] + " " + cardinalWords[v%10]
	case v < 1000:
		s := cardinalWords[v/100] + " hundred"
		if v%100 > 0 {
			s += " and " + cardinal(v%100)
		}
		return s
	}
	s := cardinal(v/1000) + " thousand"
	if v%1000 > 0 {
		if v%1000 < 100 {
			s += " and"
		}
		s += " " + cardinal(v%1000)
	}
	return s
}
