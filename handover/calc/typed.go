package calc

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Typed is what became of a text typed into a box for a number. Text is always
// what was typed; Value and Decimal hold its meaning in the box's unit when
// Problem is nil. Note says how an unusual writing was read.
type Typed struct {
	Text    string
	Value   float64
	Decimal string // the value as a decimal number, for an event
	Bound   string // "<" or ">" where one was typed before the number
	Note    string
	Problem *Mistyped
}

// Mistyped is what is wrong with a typed text: one sentence of what is wrong and
// one of what was expected. Where the program can guess what was meant, Meant is
// a text that would be accepted: it is offered, never taken silently.
type Mistyped struct {
	What  string
	Do    string
	Meant string
}

// Error is both sentences.
func (m *Mistyped) Error() string { return m.What + " " + m.Do }

// Box says what a box expects: a UCUM unit and, where there are any, the lowest
// and highest plausible value in it.
type Box struct {
	UCUM     string
	Min, Max *float64
	Whole    bool // a count
}

// guesses are the units a number outside the plausible range was probably typed
// in, by the box's unit.
var guesses = map[string][]string{
	"kg": {"g", "[lb_av]"}, "g": {"kg"}, "cm": {"mm", "m", "[in_i]"}, "mm": {"cm", "m"}, "Cel": {"[degF]"},
	"mm[Hg]": {"kPa"}, "g/dL": {"g/L"}, "mL": {"L"}, "min": {"h"}, "1": {"%"}, "%": {"1"}, "[iU]/kg/min": {"m[iU]/kg/min"},
}

// Read reads text typed into a box.
func (b Box) Read(text string) Typed {
	t := Typed{Text: text}
	fail := func(meant, what, do string) Typed {
		t.Problem = &Mistyped{What: what, Do: do, Meant: meant}
		return t
	}
	kind := "number"
	if b.Whole {
		kind = "whole number"
	}
	expected := "Type a " + kind + b.unitWords() + ", like " + b.example() + "."
	s := strings.TrimSpace(strings.Map(plainSpace, text))
	if s == "" {
		return fail("", "Nothing was typed.", expected)
	}
	switch r, rest := s[0], strings.TrimSpace(s[1:]); r {
	case '<', '>':
		t.Bound, s = string(r), rest
	}
	digits, after := splitNumber(s)
	if digits == "" {
		switch strings.ToLower(s) {
		case "nan", "inf", "+inf", "-inf", "infinity", "null", "undefined", "none", "nil", "n/a", "na", "-", "--", "?":
			return fail("", quote(text)+" is not a measurement.", "Choose none, not known or not measured beside the box, or type a number"+b.unitWords()+".")
		}
		return fail("", quote(text)+" is not a number.", expected)
	}
	if mended := strings.Map(digitLike, digits); mended != digits {
		return fail(strings.TrimSpace(t.Bound+mended+space(after)), quote(digits)+" has a letter where a digit belongs.", "Did you mean "+mended+"? Type it again with digits only.")
	}
	if e := strings.ToLower(after); len(e) > 1 && e[0] == 'e' && (unicode.IsDigit(rune(e[1])) || e[1] == '-' || e[1] == '+') {
		return fail("", quote(s)+" is written with an exponent.", "Write the number in full"+b.unitWords()+".")
	}
	if rest := strings.TrimSpace(after); rest != "" && (rest[0] >= '0' && rest[0] <= '9') {
		return fail("", quote(s)+" has a space inside the number.", "Type one number without a space: a point for decimals, nothing between thousands.")
	}
	plain, note, problem := plainDecimal(digits)
	if problem != nil {
		t.Problem = problem
		return t
	}
	t.Note = note
	v, err := strconv.ParseFloat(plain, 64)
	if err != nil || len(strings.TrimLeft(plain, "-0.")) > 12 {
		return fail("", quote(digits)+" is too long for a measurement.", expected)
	}
	if after = strings.TrimSpace(after); after != "" {
		if meant, ok := b.pounds(v, after); ok {
			return fail(meant, fmt.Sprintf("%s is in pounds.", quote(text)), "This box is in "+b.shown()+". If it is "+meant+", type that; better, weigh again in "+b.shown()+".")
		}
		u := unitNamed(after)
		switch {
		case u == nil:
			return fail("", quote(after)+" is not a unit this box knows.", "Type the number in "+b.shown()+".")
		case u.ucum != b.UCUM && !SameDimension(u.ucum, b.UCUM):
			return fail("", fmt.Sprintf("%s is not the kind of unit this box is in.", quote(after)), "It expects "+b.shown()+".")
		case u.ucum != b.UCUM:
			c, _ := Convert(v, u.ucum, b.UCUM)
			meant := t.Bound + Shown(c, Significant(c, 4), b.UCUM)
			return fail(meant, quote(text)+" was typed; this box "+b.takes()+".", "If "+meant+" is meant, type that.")
		}
	}
	t.Value, t.Decimal = v, canonical(plain)
	if what, do, meant := b.implausible(v); what != "" {
		t.Decimal = ""
		return fail(meant, what, do)
	}
	return t
}

// implausible words why v cannot stand in this box; what is "" if it can.
func (b Box) implausible(v float64) (what, do, meant string) {
	low, high := b.Min != nil && v < *b.Min, b.Max != nil && v > *b.Max
	if !low && !high {
		return "", "", ""
	}
	span := b.span()
	switch {
	case v == 0:
		return "Zero is not possible here.", "It lies between " + span + ". If it was not measured, say so beside the box.", ""
	case v < 0 && b.Min != nil && *b.Min >= 0:
		return Shown(v, 6, b.UCUM) + " is negative.", "It lies between " + span + ".", ""
	}
	what = Shown(v, 6, b.UCUM) + " is not plausible."
	do = "It lies between " + span + ". Check the number and its unit."
	for _, g := range guesses[b.UCUM] {
		c, ok := Convert(v, g, b.UCUM)
		if ok && (b.Min == nil || c >= *b.Min) && (b.Max == nil || c <= *b.Max) {
			meant = Shown(c, Significant(c, 4), b.UCUM)
			name := UnitShown(g)
			if name == "" {
				name = "a fraction"
			}
			return what, "It lies between " + span + ". If " + Number(v, 6) + " was in " + name + ", type " + meant + ".", meant
		}
	}
	return what, do, ""
}

func (b Box) span() string {
	switch {
	case b.Min != nil && b.Max != nil:
		return Number(*b.Min, 6) + " and " + Shown(*b.Max, 6, b.UCUM)
	case b.Min != nil:
		return Shown(*b.Min, 6, b.UCUM) + " and more"
	}
	return "less and " + Shown(*b.Max, 6, b.UCUM)
}

func (b Box) shown() string {
	if u := UnitShown(b.UCUM); u != "" {
		return u
	}
	return "a plain number"
}

// takes words what the box takes.
func (b Box) takes() string {
	if u := UnitShown(b.UCUM); u != "" {
		return "is in " + u
	}
	return "takes a plain number"
}

func (b Box) unitWords() string {
	if u := UnitShown(b.UCUM); u != "" {
		return " in " + u
	}
	return ""
}

func (b Box) example() string {
	v := 3.2
	if b.Min != nil && b.Max != nil && (v < *b.Min || v > *b.Max) {
		v = (*b.Min + *b.Max) / 2
	}
	if b.Whole {
		v = float64(int(v))
	}
	return Shown(v, Significant(v, 2), b.UCUM)
}

// pounds reads "7 lb 3 oz" and "7lb 3" where a mass is expected.
func (b Box) pounds(lb float64, after string) (meant string, ok bool) {
	if u := unitAt[b.UCUM]; u == nil || u.dim != "mass" {
		return "", false
	}
	f := strings.Fields(strings.ToLower(splitLetters(after)))
	if len(f) < 2 || len(f) > 3 || !strings.HasPrefix(f[0], "lb") && !strings.HasPrefix(f[0], "pound") {
		return "", false
	}
	oz, err := strconv.ParseFloat(f[1], 64)
	if err != nil || oz < 0 || oz >= 16 || len(f) == 3 && !strings.HasPrefix(f[2], "oz") && !strings.HasPrefix(f[2], "ounce") {
		return "", false
	}
	c, _ := Convert(lb+oz/16, "[lb_av]", b.UCUM)
	return Shown(c, Significant(c, 4), b.UCUM), true
}

// splitLetters puts spaces between letters and digits.
func splitLetters(s string) string {
	var b strings.Builder
	var last rune
	for _, r := range s {
		if last != 0 && unicode.IsDigit(r) != unicode.IsDigit(last) && r != '.' && last != '.' {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}

// Parse reads a quantity typed where unit u is expected, between lo and hi in it
// (nil: no bound). The quantity keeps what was typed.
func Parse[D any](text string, u Unit[D], lo, hi *float64) (Quantity[D], *Mistyped) {
	t := Box{UCUM: u.def.ucum, Min: lo, Max: hi}.Read(text)
	if t.Problem == nil && t.Bound != "" {
		t.Problem = &Mistyped{What: quote(text) + " is only a limit.", Do: "Type the measured number" + Box{UCUM: u.def.ucum}.unitWords() + "."}
	}
	if t.Problem != nil {
		return Quantity[D]{typed: text}, t.Problem
	}
	return Of(t.Value, u).WithTyped(text), nil
}

// splitNumber cuts the leading number, with letters that pass for digits when
// they touch one, from what follows it.
func splitNumber(s string) (number, after string) {
	i := 0
	seen := false
	for i < len(s) {
		c := s[i]
		next := i+1 < len(s) && (s[i+1] >= '0' && s[i+1] <= '9' || s[i+1] == '.' || s[i+1] == ',')
		switch {
		case c >= '0' && c <= '9':
			seen = true
		case c == '.' || c == ',' || c == '\'':
		case (c == '-' || c == '+') && i == 0:
		case (c == 'O' || c == 'o') && (seen || next) && !wordAhead(s[i:]):
		case (c == 'I' || c == 'l') && (i == 0 && next || seen && !wordAhead(s[i:])):
		default:
			if !seen {
				return "", s
			}
			return s[:i], s[i:]
		}
		i++
	}
	if !seen {
		return "", s
	}
	return s, ""
}

// wordAhead tells whether a letter begins a unit rather than stands for a digit:
// "oz", "l", "l/min".
func wordAhead(s string) bool {
	end := strings.IndexFunc(s, func(r rune) bool { return unicode.IsDigit(r) || r == '.' || r == ',' || r == ' ' })
	word := s
	if end >= 0 {
		word = s[:end]
	}
	return unitNamed(word) != nil || unitNamed(s) != nil
}

// digitLike turns the letters people mistake for digits into them.
func digitLike(r rune) rune {
	switch r {
	case 'O', 'o':
		return '0'
	case 'I', 'l':
		return '1'
	}
	return r
}

// plainSpace makes every kind of space a space and every kind of minus a minus.
func plainSpace(r rune) rune {
	switch {
	case unicode.IsSpace(r), r == '\u00a0', r == '\u202f', r == '\u2009':
		return ' '
	case r == '−', r == '–', r == '‐', r == '‑':
		return '-'
	case r >= '０' && r <= '９':
		return r - '０' + '0'
	}
	return r
}

// plainDecimal reads points and commas. One comma with one, two or more than
// three digits behind it is a decimal comma and is read as one; with exactly
// three it could be thousands, and is asked about.
func plainDecimal(s string) (plain, note string, p *Mistyped) {
	points, commas := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case strings.Contains(s, "'") || commas > 1 || points > 1 || points+commas > 1:
		return "", "", &Mistyped{What: quote(s) + " has more than one point or comma.", Do: "Type one number: a point for decimals, nothing between thousands."}
	case commas == 1:
		whole, part, _ := strings.Cut(s, ",")
		if len(part) == 3 && strings.TrimLeft(whole, "-+0") != "" {
			return "", "", &Mistyped{What: quote(s) + " may mean " + whole + "." + part + " or " + whole + part + ".", Do: "Type it with a point for decimals and nothing between thousands."}
		}
		s = whole + "." + part
		note = "The comma was read as a decimal point: " + canonical(s) + "."
	}
	sign := ""
	if s[0] == '-' || s[0] == '+' {
		sign, s = strings.TrimPrefix(s[:1], "+"), s[1:]
	}
	if strings.HasPrefix(s, ".") {
		note = "Read as 0" + s + "."
		s = "0" + s
	}
	s = strings.TrimSuffix(s, ".")
	if s == "" {
		return "", "", &Mistyped{What: "There is no digit.", Do: "Type a number."}
	}
	return sign + s, note, nil
}

// canonical is the shortest writing of a plain decimal: no plus, no leading or
// trailing zeros.
func canonical(s string) string {
	sign := ""
	s = strings.TrimPrefix(s, "+")
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	whole, part, _ := strings.Cut(s, ".")
	whole, part = strings.TrimLeft(whole, "0"), strings.TrimRight(part, "0")
	if whole == "" {
		whole = "0"
	}
	if part != "" {
		whole += "." + part
	} else if whole == "0" {
		sign = ""
	}
	return sign + whole
}

func quote(s string) string {
	if r := []rune(s); len(r) > 30 {
		s = string(r[:30]) + "…"
	}
	return "“" + s + "”"
}

func space(s string) string {
	if s = strings.TrimSpace(s); s == "" {
		return ""
	}
	return " " + s
}

// Between is a convenience for the two bounds of Parse and Box.
func Between(lo, hi float64) (*float64, *float64) {
	if math.IsNaN(lo) || math.IsNaN(hi) {
		panic("calc: a bound is not a number")
	}
	return &lo, &hi
}
