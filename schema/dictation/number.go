package dictation

import (
	"strconv"
	"strings"
)

// number is a number as it was said.
type number struct {
	from, to int        // tokens, to after the last
	decimal  string     // canonical decimal: "3.5", "-2", "186"; "" when only a clock time
	clock    string     // "09:42" when it can be read as a time of day
	surely   bool       // it can only be a time of day
	figures  bool       // said in figures
	other    string     // what it may be as well: "1,200" is 1200 or 1.2
	pieces   [2]number2 // for "sixteen eighteen": the two numbers it may be instead
}

// number2 is one half of a number that may be two.
type number2 struct {
	from, to int
	decimal  string
}

var units = map[string]int{"zero": 0, "oh": 0, "o": 0, "nought": 0, "naught": 0, "aught": 0, "nil": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9}

var teens = map[string]int{"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19}

var tens = map[string]int{"twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}

// under is a number under a hundred in words, at t[i]. digits is how many
// figures it would take; 0 when there is none.
func under(t []token, i int) (v, n, digits int) {
	if i >= len(t) || t[i].kind != word {
		return 0, 0, 0
	}
	w := t[i].text
	if v, ok := teens[w]; ok {
		return v, 1, 2
	}
	if v, ok := tens[w]; ok {
		if i+1 < len(t) && t[i+1].kind == word {
			if u, ok := units[t[i+1].text]; ok && u > 0 {
				return v + u, 2, 2
			}
		}
		return v, 1, 2
	}
	if v, ok := units[w]; ok && w != "nil" {
		return v, 1, 1
	}
	if w == "twentie" && (i == 0 || beforeSizes[t[i-1].text]) {
		return 20, 1, 2
	}
	return 0, 0, 0
}

// beforeSizes are the words after which "twenties" is a size of several things, and
// not a range: "pressures in the twenties".
var beforeSizes = wordSet(", both all each are with : . ;")

// readNumber reads the longest number that starts at t[i].
func readNumber(t []token, i int) (number, bool) {
	if i >= len(t) {
		return number{}, false
	}
	if t[i].kind == figure {
		return readFigures(t, i)
	}
	if t[i].kind == mark && t[i].text == "-" && i+1 < len(t) && t[i+1].kind == figure && !t[i].glued {
		if n, ok := readFigures(t, i+1); ok && n.decimal != "" {
			n.from, n.decimal, n.clock = i, negative(n.decimal), ""
			return n, true
		}
	}
	if t[i].kind != word {
		return number{}, false
	}
	switch t[i].text {
	case "minus", "negative":
		if n, ok := readNumber(t, i+1); ok && n.decimal != "" && n.decimal[0] != '-' {
			n.from, n.decimal, n.clock, n.surely = i, negative(n.decimal), "", false
			return n, true
		}
		return number{}, false
	}
	n, ok := readWords(t, i)
	if i > 0 && t[i-1].text == "rate" && ok {
		return n, ok // "rate eighteen, nineteen over six" has no time of day
	}
	if c, to, surely := readClockWords(t, i); c != "" && (!ok || to >= n.to) {
		if !ok || to > n.to {
			return number{from: i, to: to, clock: c, surely: surely}, true
		}
		n.clock, n.surely = c, surely
	}
	return n, ok
}

func negative(d string) string {
	if d == "0" {
		return d
	}
	return "-" + d
}

// readWords reads a number in words: cardinals, "one eighty six", "point oh
// five", "three and a half", digit strings after a point.
func readWords(t []token, i int) (number, bool) {
	n := number{from: i}
	at := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	pointAt := func(k int) bool { return at(k, "point") || at(k, "decimal") }
	switch {
	case pointAt(i):
		frac, to := fraction(t, i+1)
		if frac == "" {
			return n, false
		}
		n.to, n.decimal = to, trimDecimal("0."+frac)
		return n, true
	case at(i, "half") && !at(i+1, "past") && !at(i+1, "dose") && !at(i+1, "strength") && !at(i+1, "that"):
		k := i + 1
		if at(k, "a") || at(k, "an") {
			k++
		}
		n.to, n.decimal = k, "0.5"
		return n, true
	case at(i, "one") && at(i+1, "half") && !at(i+2, "past") && !at(i+2, "dose"):
		n.to, n.decimal = i+2, "0.5" // "milrinone one half"
		return n, true
	case at(i, "couple"), at(i, "pair"):
		n.to, n.decimal = i+1, "2"
		if at(i+1, "of") {
			n.to++
		}
		return n, true
	case at(i, "dozen"):
		n.to, n.decimal = i+1, "12"
		return n, true
	}
	if at(i, "a") || at(i, "an") {
		switch {
		case at(i, "an") && at(i+1, "hour") && i > 0 && beforeHour[t[i-1].text]:
			n.to, n.decimal = i+1, "1"
			return n, true
		case at(i+1, "quarter") && ofAnHour(t, i+2):
			n.to, n.decimal = i+4, "0.25"
			return n, true
		case at(i+1, "hundred"), at(i+1, "thousand"):
			return cardinal(t, i, i+1, 1)
		case at(i+1, "half"), at(i+1, "couple"), at(i+1, "pair"), at(i+1, "dozen"):
			m, ok := readWords(t, i+1)
			m.from = i
			return m, ok
		case at(i+1, "quarter") && !at(i+2, "past") && !at(i+2, "to"):
			n.to, n.decimal = i+2, "0.25"
			return n, true
		}
		return n, false
	}
	if at(i, "hundred") && (i == 0 && len(t) > 1 || i > 0 && t[i-1].kind == stop || i > 0 && (t[i-1].kind == word || t[i-1].text == ",") && !at(i-1, "few") && !at(i-1, "several") && !at(i-1, "couple") && !at(i-1, "of")) {
		return cardinal(t, i, i, 1) // "another hundred and fifty", "heparin hundred units"
	}
	v, w, digits := under(t, i)
	if w == 0 {
		return n, false
	}
	k := i + w
	if v == 3 && at(k, "quarter") && ofAnHour(t, k+1) {
		n.to, n.decimal = k+3, "0.75"
		return n, true
	}
	if v > 0 && v < 5 && at(k, "pair") { // "one pair of wires"
		n.to, n.decimal = k+1, strconv.Itoa(2*v)
		if at(k+1, "of") {
			n.to++
		}
		return n, true
	}
	// "oh five", "oh nine": only part of a clock time or a fraction.
	if v == 0 && digits == 1 && !pointAt(k) {
		if t[i].text == "o" || t[i].text == "oh" {
			return n, false
		}
		n.to, n.decimal = k, "0"
		return n, true
	}
	if at(k, "hundred") || at(k, "thousand") {
		return cardinal(t, i, k, v)
	}
	if v > 0 && v < 20 || digits == 2 && v%10 == 0 {
		// "one eighty six", "one oh five", "two twenty", "twelve fifty"
		if v < 10 {
			if at(k, "oh") || at(k, "o") || at(k, "zero") {
				if u, uw, ud := under(t, k+1); uw == 1 && ud == 1 && u > 0 {
					n.to, n.decimal = k+2, strconv.Itoa(v*100+u)
					return n, true
				}
			}
			if u, uw, ud := under(t, k); ud == 2 {
				n.to, n.decimal = k+uw, strconv.Itoa(v*100+u)
				n.pieces = [2]number2{{i, k, strconv.Itoa(v)}, {k, k + uw, strconv.Itoa(u)}}
				return withFraction(t, n), true
			}
		}
	}
	if n, ok := unpointed(t, i, k, v); ok {
		return n, true
	}
	if v > 0 && digits == 1 { // "one four seven"
		a, aw, ad := under(t, k)
		b, bw, bd := under(t, k+aw)
		if aw == 1 && ad == 1 && bw == 1 && bd == 1 {
			if _, cw, _ := under(t, k+2); cw == 0 && !at(k+2, "of") && !at(k+2, "and") && !pointAt(k+2) && !at(k+2, "hundred") {
				n.to, n.decimal = k+2, strconv.Itoa(v*100+a*10+b)
				return n, true
			}
		}
	}
	if v > 0 && digits == 1 && i > 0 && totalWords[t[i-1].text] { // "clamp total six three"
		if a, aw, ad := under(t, k); aw == 1 && ad == 1 && (k+1 >= len(t) || t[k+1].kind != word) {
			n.to, n.decimal = k+1, strconv.Itoa(v*10+a)
			return n, true
		}
	}
	n.to, n.decimal = k, strconv.Itoa(v)
	return withFraction(t, n), true
}

// beforeHour are words after which "an hour" is a length of time, and not the end of
// a rate: "ten mils an hour".
var beforeHour = wordSet("for was is took lasted about nearly almost of time total in came to bypass pump clamp cpb")

// ofAnHour tells whether "of an hour" stands at token k.
func ofAnHour(t []token, k int) bool {
	return k+2 < len(t) && t[k].text == "of" && t[k+1].text == "an" && t[k+2].text == "hour"
}

// unpointed reads a value of a gas that is said without its point, "potassium four
// two", "haemoglobin fourteen two", "pH seven three four", of v and what follows it at
// token k.
func unpointed(t []token, i, k, v int) (number, bool) {
	n := number{from: i}
	b := i - 1
	for b >= 0 && t[b].kind == word && beforeValue[t[b].text] {
		b--
	}
	if b < 0 || t[b].kind != word || v == 0 {
		return n, false
	}
	name := t[b].text
	x, xw, xd := under(t, k)
	if xw != 1 || xd != 1 && !(xd == 2 && name == "ph") {
		return n, false
	}
	frac := strconv.Itoa(x)
	k += xw
	if name == "ph" {
		if v != 7 && v != 6 {
			return n, false
		}
		if y, yw, yd := under(t, k); xd == 1 && yw == 1 && yd == 1 {
			frac, k = frac+strconv.Itoa(y), k+yw
		} else if xd == 1 && k < len(t) && t[k].kind == word {
			return n, false
		}
	} else if v >= 34 && v <= 39 && warmNames[name] { // "thirty six four"
		if k < len(t) && t[k].kind == word && !warmNames[t[k].text] && !beforeValue[t[k].text] {
			return n, false
		}
	} else if !unpointedNames[name] || v > 20 || name != "lactate" && v < 3 || name != "haemoglobin" && name != "hemoglobin" && name != "hb" && v > 9 {
		return n, false
	}
	if k < len(t) && t[k].kind == word {
		if _, w, _ := under(t, k); w > 0 || counted[t[k].text] || t[k].text == "and" && k+1 < len(t) && (t[k+1].text == "half" || t[k+1].text == "a" && k+2 < len(t) && t[k+2].text == "half") {
			return n, false
		}
	}
	n.to, n.decimal = k, trimDecimal(strconv.Itoa(v)+"."+frac)
	return n, true
}

// unpointedNames are names of values that people say without the point; beforeValue are
// words between the name and the value, counted those that make the second figure a
// count of something else.
var (
	unpointedNames = wordSet("potassium lactate haemoglobin hemoglobin hb")
	warmNames      = wordSet("temp temperature core nasopharyngeal rectal bladder esophageal tympanic skin rewarmed warmed leave leaving to degree")
	beforeValue    = wordSet("of is was at now only came then down up")
	counted        = wordSet("point drain wire atrial ventricular line mediastinal pleural right left hour minute min unit pack of lumen bag x run clamp hundred thousand half")
)

// totalWords are words after which two figures said one by one are one number.
var totalWords = wordSet("total clamp bypass arrest pump time perfusion")

// cardinal reads on from "hundred" or "thousand" at t[k], v of them.
func cardinal(t []token, from, k, v int) (number, bool) {
	total := 0
	at := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	rest := func() {
		j := k
		if at(j, "and") {
			j++
		}
		if u, w, d := under(t, j); w > 0 && (d == 2 || u > 0) && !(at(j+w, "hundred") && j == k+1) {
			if at(j+w, "hundred") {
				v, k = u, j+w
				return
			}
			total += u
			k = j + w
		}
		v = 0
	}
	if at(k, "hundred") {
		total += v * 100
		k++
		rest()
		if at(k, "thousand") {
			total *= 1000
			k++
			v = 0
			rest()
			if at(k, "hundred") {
				total += v * 100
				k++
				rest()
			}
		}
	} else {
		total += v * 1000
		k++
		rest()
		if at(k, "hundred") && v > 0 {
			total += v * 100
			k++
			rest()
		}
	}
	n := number{from: from, to: k, decimal: strconv.Itoa(total)}
	return withFraction(t, n), true
}

// withFraction adds "point oh five", "and a half", "and three quarters".
func withFraction(t []token, n number) number {
	at := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	k := n.to
	if at(k, "point") || at(k, "decimal") {
		if frac, to := fraction(t, k+1); frac != "" {
			n.to, n.decimal, n.pieces = to, trimDecimal(n.decimal+"."+frac), [2]number2{}
		}
		return n
	}
	if !at(k, "and") || strings.Contains(n.decimal, ".") {
		return n
	}
	part, j := "", k+1
	switch {
	case at(j, "a") && at(j+1, "half"), at(j, "one") && at(j+1, "half"):
		part, j = ".5", j+2
	case at(j, "half"):
		part, j = ".5", j+1
	case at(j, "a") && at(j+1, "quarter"), at(j, "one") && at(j+1, "quarter"):
		part, j = ".25", j+2
	case at(j, "three") && at(j+1, "quarter"):
		part, j = ".75", j+2
	}
	if part != "" {
		n.to, n.decimal, n.pieces, n.clock = j, n.decimal+part, [2]number2{}, ""
	}
	return n
}

// fraction reads the figures after a point: "five", "oh five", "zero two five",
// "two five", "twenty five".
func fraction(t []token, k int) (string, int) {
	var b strings.Builder
	for k < len(t) {
		if t[k].kind == figure && b.Len() == 0 && !strings.ContainsAny(t[k].text, ".:,") {
			return t[k].text, k + 1
		}
		v, w, d := under(t, k)
		if w == 0 {
			break
		}
		if d == 2 {
			if b.Len() > 0 && strings.Trim(b.String(), "0") != "" {
				break
			}
			b.WriteString(strconv.Itoa(v))
			k += w
			break
		}
		b.WriteString(strconv.Itoa(v))
		k += w
		if b.Len() >= 5 {
			break
		}
	}
	return b.String(), k
}

// trimDecimal writes a decimal without needless zeros.
func trimDecimal(d string) string {
	whole, part, ok := strings.Cut(d, ".")
	whole = strings.TrimLeft(whole, "0")
	if whole == "" || whole == "-" {
		whole += "0"
	}
	if !ok {
		return whole
	}
	if part = strings.TrimRight(part, "0"); part == "" {
		return whole
	}
	return whole + "." + part
}

// plainFigures reads points and commas as the form does: one comma with one, two or
// more than three digits behind it is a decimal comma; with three it may stand
// between thousands too, and other is then the decimal; more than one is no number.
func plainFigures(s string) (decimal, other string) {
	whole, part, comma := strings.Cut(s, ",")
	switch {
	case !comma:
		return trimDecimal(s), ""
	case strings.ContainsAny(part, ",.") || strings.Contains(whole, "."):
		return "", ""
	case len(part) == 3 && strings.TrimLeft(whole, "0") != "":
		return trimDecimal(whole + part), trimDecimal(whole + "." + part)
	}
	return trimDecimal(whole + "." + part), ""
}

// readFigures reads a number in figures.
func readFigures(t []token, i int) (number, bool) {
	s := t[i].text
	n := number{from: i, to: i + 1, figures: true}
	at := func(k int, w string) bool { return k < len(t) && t[k].kind == word && t[k].text == w }
	if h, m, ok := strings.Cut(s, ":"); ok {
		n.clock, n.surely = clockOf(h, m), true
		if n.clock != "" {
			return meridiem(t, n), true
		}
		// "1:45" is a time; "3:30:00" never gets here.
		return n, false
	}
	if n.decimal, n.other = plainFigures(s); n.decimal == "" {
		return n, false
	}
	if whole, part, ok := strings.Cut(s, "."); ok && len(part) == 2 && len(whole) <= 2 && whole != "" && whole != "0" {
		n.clock = clockOf(whole, part)
	}
	if len(s) == 4 && !strings.ContainsAny(s, ".,") {
		n.clock = clockOf(s[:2], s[2:])
		n.surely = n.clock != "" && s[0] == '0'
	}
	if len(s) == 3 && !strings.ContainsAny(s, ".,") {
		n.clock = clockOf(s[:1], s[1:])
	}
	if at(i+1, "hr") || at(i+1, "hour") {
		if n.clock != "" && (len(s) == 4) {
			n.surely = true
			n.to = i + 2
		}
	}
	switch {
	case len(s) <= 2 && (at(i+1, "am") || at(i+1, "pm") || at(i+1, "oclock")):
		n.clock = clockOf(s, "00")
	case at(i+1, "and") && (at(i+2, "a") || at(i+2, "one")) && at(i+3, "half") && !strings.Contains(n.decimal, "."):
		n.to, n.decimal, n.clock = i+4, n.decimal+".5", ""
	case i+1 < len(t) && t[i+1].kind == figure && t[i+1].span.Start <= t[i].span.End+1 && (t[i+1].text == "0.5" || t[i+1].text == "0.25" || t[i+1].text == "0.75") && !strings.Contains(n.decimal, ".") && t[i+1].glued:
		n.to, n.decimal, n.clock = i+2, n.decimal+t[i+1].text[1:], ""
	case i+3 < len(t) && t[i+1].kind == figure && t[i+2].text == "/" && t[i+3].kind == figure && t[i+2].glued && t[i+3].glued:
		if q := quarters(t[i+1].text + "/" + t[i+3].text); q != "" && !strings.Contains(n.decimal, ".") {
			n.to, n.decimal, n.clock = i+4, n.decimal+q, ""
		}
	case at(i+1, "point") && i+2 < len(t) && t[i+2].kind == figure && !strings.Contains(t[i+2].text, ",") && !strings.ContainsAny(n.decimal, "."):
		// recognisers write "3 point 5"
		n.to, n.decimal, n.clock = i+3, trimDecimal(n.decimal+"."+t[i+2].text), ""
	}
	if at(n.to, "hundred") {
		if v, err := strconv.Atoi(n.decimal); err == nil && v < 100 {
			return cardinalFrom(t, n, v*100)
		}
	}
	if at(n.to, "thousand") {
		if v, err := strconv.Atoi(n.decimal); err == nil && v < 1000 {
			return cardinalFrom(t, n, v*1000)
		}
	}
	return meridiem(t, n), true
}

func cardinalFrom(t []token, n number, v int) (number, bool) {
	n.to, n.decimal, n.clock, n.surely = n.to+1, strconv.Itoa(v), "", false
	return n, true
}

func quarters(s string) string {
	switch s {
	case "1/2":
		return ".5"
	case "1/4":
		return ".25"
	case "3/4":
		return ".75"
	}
	return ""
}

// Number reads a text that is one number and nothing else, in words or figures.
// The decimal is "" for what is only a time of day, the clock "" for what cannot
// be one; ok is false for anything else.
func Number(text string) (decimal, clock string, ok bool) {
	t := tokenize(text, 0)
	n, ok := readNumber(t, 0)
	if !ok || n.to != len(t) {
		return "", "", false
	}
	return n.decimal, n.clock, true
}
