package dictation

import "strings"

// spokenMarks are marks of punctuation said as words, as a dictaphone is told them.
var spokenMarks = []string{"comma", "full stop", "new line", "new paragraph", "next line", "next paragraph"}

// withMarks writes a text with the marks of punctuation it says as words, byte for byte
// as long. Between numbers "comma" is the sign of a decimal, as it is in much of the
// world, "six comma nine kilograms"; in a text that says its commas for want of others
// it parts them, unless the number has a unit.
func withMarks(text string) string {
	var out []byte
	written := strings.Contains(text, ", ") || strings.Contains(text, ". ")
	for i := 1; i < len(text); i++ {
		if text[i-1] != ' ' && text[i-1] != '\n' {
			continue
		}
		said := markAt(text[i:])
		if said == "" {
			continue
		}
		end, by := i+len(said), "."
		if said == "comma" {
			by = ","
			if decimalComma(text[:i], text[end:], written) {
				by = "point"
			}
		}
		if out == nil {
			out = []byte(text)
		}
		copy(out[i:end], by+strings.Repeat(" ", len(said)-len(by)))
		if by != "point" && out[i-1] == ' ' { // no space before the mark
			out[i-1], out[i] = by[0], ' '
		}
		i = end
	}
	if out == nil {
		return text
	}
	return string(out)
}

// markAt is the mark that a text begins with the words of, or "".
func markAt(text string) string {
	for _, m := range spokenMarks {
		if len(text) >= len(m) && strings.EqualFold(text[:len(m)], m) && (len(text) == len(m) || !isLetterOrDigit(text[len(m)])) {
			return m
		}
	}
	return ""
}

// decimalComma tells whether the word "comma" between two stretches of text is the sign
// of a decimal.
func decimalComma(before, after string, written bool) bool {
	next := tokenize(after[:min(len(after), 60)], 0)
	n, ok := readNumber(next, 0)
	if !ok || n.decimal == "" || strings.Contains(n.decimal, ".") {
		return false
	}
	if n.to < len(next) && len(n.decimal) == 1 && counted[next[n.to].text] {
		return false // "fifteen comma two wires"
	}
	if written {
		return true
	}
	last := tokenize(before[max(0, len(before)-12):], 0)
	if _, ok := readNumber(last, max(0, len(last)-1)); !ok {
		return false
	}
	switch last[len(last)-1].text {
	case "zero", "nought", "naught", "oh":
		return true
	}
	return n.to < len(next) && unitsSaid[next[n.to].text]
}

// unitsSaid are the units before which a number is one value, and no end of a list.
var unitsSaid = wordSet("kg kilo kilogram kilograms gram mm millimeter milligram mg french liter percent mmol millimole degree")

// answered writes a short question that a number answers as a heading, byte for byte as
// long: "Clamp? Thirty three." is "Clamp: Thirty three." Who is asked is left out: "And on
// bypass, Olu? Ninety six." A question that holds a number of its own is left to be put
// right by its answer.
func answered(text string) string {
	var out []byte
	for i := 1; i < len(text); i++ {
		if text[i] != '?' {
			continue
		}
		start := strings.LastIndexAny(text[:i], ".;:!?\n") + 1
		if !asksNumber(text[start:i]) || !answersNumber(text[i+1:]) {
			continue
		}
		if out == nil {
			out = []byte(text)
		}
		from := i
		if c := strings.LastIndexByte(text[start:i], ','); c > 0 {
			if who := strings.TrimSpace(text[start+c+1 : i]); who != "" && !strings.Contains(who, " ") && who[0] >= 'A' && who[0] <= 'Z' && !isUpper(who) {
				from = start + c
			}
		}
		copy(out[from:i+1], ":"+strings.Repeat(" ", i-from))
	}
	if out == nil {
		return text
	}
	return string(out)
}

// isUpper tells whether a word is of capitals alone, as letters said one by one are.
func isUpper(w string) bool { return w == strings.ToUpper(w) }

// asksNumber tells whether a text can be a question for a number: a few words, and no
// number among them.
func asksNumber(text string) bool {
	toks := tokenize(text, 0)
	if len(toks) == 0 || len(toks) > 7 || len(toks) > 1 && len(toks) < 5 && (toks[0].text == "is" || toks[0].text == "was") && (toks[1].text == "it" || toks[1].text == "that") {
		return false // "Is it?" asks of what was said
	}
	for k := range toks {
		if _, ok := readNumber(toks, k); ok {
			return false
		}
	}
	return true
}

// answersNumber tells whether a text begins with a number.
func answersNumber(text string) bool {
	text = strings.TrimLeft(afterHesitation(strings.TrimLeft(text, " \"'“”")), "\"'“”")
	toks := tokenize(text[:min(len(text), 40)], 0)
	n, ok := readNumber(toks, 0)
	return ok && !(n.to < len(toks) && toks[n.to].text == "of")
}
