// Package typed reads what a person typed into a field. It never guesses: what
// can be read in two ways is refused with a sentence that says how to write it,
// and the text stays where it was typed.
//
//	n, wrong := typed.Number("3,200", field) // wrong: "“3,200” may mean 3.200 or 3200. …"
package typed

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"fairlead/handover/calc"
	"fairlead/schema"
)

// Amount is a number as it was meant: its decimal, and "<" or ">" before it.
type Amount struct {
	Decimal json.Number
	Bound   string
}

// digitsOf cuts the digits off the beginning of s.
func digitsOf(s string) (digits, rest string) {
	rest = strings.TrimLeft(s, "0123456789")
	return s[:len(s)-len(rest)], rest
}

// parted reads a sign, digits, one mark and digits; the mark may be missing.
func parted(s, mark string) (before, after string, marked, ok bool) {
	if s != "" && (s[0] == '+' || s[0] == '-') {
		s = s[1:]
	}
	before, s = digitsOf(s)
	s, marked = strings.CutPrefix(s, mark)
	after, s = digitsOf(s)
	return before, after, marked, s == "" && before+after != ""
}

// Number reads a number for a field. A sign of comparison may stand before it
// and the field's own unit after it.
func Number(text string, f *schema.Field) (a Amount, wrong string) {
	s := strings.TrimSpace(text)
	s = strings.NewReplacer("\u2212", "-", "\u00a0", " ", "\u202f", " ").Replace(s)
	for _, bound := range []string{"<", ">"} {
		if rest, ok := strings.CutPrefix(s, bound); ok {
			a.Bound, s = bound, strings.TrimSpace(rest)
		}
	}
	s, other := cutUnit(s, f)
	if other != "" {
		if p := misread(text, f); p != nil && p.Meant != "" {
			return Amount{}, p.Error()
		}
		if own := schema.UnitShown(f.Unit); own != "" && f.Unit != "1" {
			return Amount{}, fmt.Sprintf("“%s” has the unit %s; this field is in %s. Enter it in %[3]s.", clip(text), other, own)
		}
		return Amount{}, fmt.Sprintf("“%s” has the unit %s; this field has none. Enter the one figure alone.", clip(text), other)
	}
	_, decimals, commaed, whole := parted(s, ",")
	_, _, _, isNumber := parted(s, ".")
	if !isNumber {
		if p := misread(text, f); p != nil {
			return Amount{}, p.Error()
		}
	}
	switch {
	case whole && commaed && decimals != "": // the only key for it on many a tablet; what may mean thousands was refused above
		s = strings.Replace(s, ",", ".", 1)
	case !isNumber:
		return Amount{}, fmt.Sprintf("“%s” is not a number. Enter the figure alone, as digits.", clip(text))
	}
	a.Decimal = json.Number(schema.ShowNumber(s))
	// Suction is spoken of as minus twenty and recorded as twenty.
	if f.Unit == "cm[H2O]" && f.Min != nil && *f.Min >= 0 {
		a.Decimal = json.Number(strings.TrimPrefix(string(a.Decimal), "-"))
	}
	if f.Type == "integer" && strings.Contains(string(a.Decimal), ".") {
		return Amount{}, fmt.Sprintf("%s is counted in whole numbers; “%s” is not one.", f.Title, clip(text))
	}
	if len(a.Decimal) > 15 {
		return Amount{}, fmt.Sprintf("“%s” has more digits than can be measured.", clip(text))
	}
	return a, ""
}

// misread is what is wrong with a text that is no number of the field and what was
// expected, as everywhere a number is typed; nil if nothing is.
func misread(text string, f *schema.Field) *calc.Mistyped {
	return calc.Box{UCUM: f.Unit, Min: f.Min, Max: f.Max, Whole: f.Type == "integer"}.Read(text).Problem
}

// Implausible says of a number outside what its field can hold what was probably
// meant, such as grams in a field for kilograms; "" where nothing is.
func Implausible(v float64, f *schema.Field) string {
	low, high := f.Min, f.Max
	if low == nil && high == nil || low != nil && v >= *low && (high == nil || v <= *high) || low == nil && v <= *high {
		return ""
	}
	if p := (calc.Box{UCUM: f.Unit, Min: low, Max: high}).Read(schema.ShowNumber(strconv.FormatFloat(v, 'f', -1, 64))).Problem; p != nil && p.Meant != "" {
		return p.Do
	}
	return ""
}

// cutUnit takes the field's own unit off the end; other is a different unit.
func cutUnit(s string, f *schema.Field) (rest, other string) {
	for _, own := range append([]string{f.Unit, schema.UnitShown(f.Unit)}, schema.UnitSpoken(f.Unit)...) { // it may end in a figure: cmH2O
		if n := len(s) - len(own); own != "" && n > 0 && strings.EqualFold(s[n:], own) {
			if rest := strings.TrimSpace(s[:n]); rest != "" && strings.IndexByte("0123456789.,", rest[len(rest)-1]) >= 0 {
				return rest, ""
			}
		}
	}
	i := strings.LastIndexAny(s, "0123456789.,")
	if i < 0 || i == len(s)-1 {
		return s, ""
	}
	unit := strings.TrimSpace(s[i+1:])
	for _, u := range schema.Units() {
		if unit == u || unit == schema.UnitShown(u) {
			return s, unit
		}
	}
	return s, ""
}

// Clock reads a time of day on the 24-hour clock: "09:42", "0942", "9.42".
func Clock(text string) (hour, minute int, wrong string) {
	s := strings.TrimSpace(text)
	h, rest := digitsOf(s)
	switch {
	case rest == "" && len(h) > 2:
		h, rest = h[:len(h)-2], h[len(h)-2:]
	case rest != "" && strings.ContainsRune(":.h ", rune(rest[0])):
		rest = rest[1:]
	}
	m, more := digitsOf(rest)
	if len(h) < 1 || len(h) > 2 || len(m) != 2 || more != "" {
		if len(h) > 0 && h == s {
			return 0, 0, fmt.Sprintf("“%s” has no minutes. Enter all four digits, such as 0942.", clip(text))
		}
		return 0, 0, fmt.Sprintf("“%s” is not a time of day. Enter it on the 24-hour clock, such as 09:42.", clip(text))
	}
	hour, minute = atoi(h), atoi(m)
	if hour > 23 || minute > 59 {
		return 0, 0, fmt.Sprintf("There is no time “%s”. Hours go to 23 and minutes to 59.", clip(text))
	}
	return hour, minute, ""
}

// Date reads a calendar date: "14-Jul-2026", "14 July", "2026-07-14". A date of
// figures alone is read only when it can mean one day and no other. Without a
// year the field says which is meant: for what has happened the last such day, for
// what may lie ahead and beside a time of day (f is nil) the one nearest to today;
// a birth, and when a product was made and expires, can lie years away and need it.
func Date(text string, today schema.Date, f *schema.Field) (d schema.Date, wrong string) {
	s := strings.TrimSpace(text)
	lost := func() (schema.Date, string) {
		return "", fmt.Sprintf("“%s” is not a date. Enter it with the month's name, such as 14-Jul-2026.", clip(text))
	}
	var y, m, day int
	first, rest := digitsOf(s)
	mark := ""
	if rest != "" && strings.ContainsRune("-./ ", rune(rest[0])) {
		mark, rest = rest[:1], rest[1:]
	}
	second, rest := digitsOf(rest)
	third := ""
	if second != "" && rest != "" && strings.ContainsRune("-./ ", rune(rest[0])) {
		third, rest = digitsOf(rest[1:])
	}
	few := func(s string) bool { return len(s) == 1 || len(s) == 2 }
	name := strings.TrimRightFunc(rest, func(r rune) bool { return r < 'A' })
	year := strings.TrimLeft(rest[len(name):], "-. /,")
	name = strings.TrimRight(name, "-. /,")
	switch {
	case len(first) == 4 && few(second) && few(third) && mark == "-" && strings.Count(s, "-") == 2 && rest == "":
		y, m, day = atoi(first), atoi(second), atoi(third)
	case few(first) && second == "" && len(name) >= 3 && len(name) <= 9 && isDigits(year) && len(year) != 1 && len(year) != 3 && len(year) <= 4:
		day, m = atoi(first), month(name)
		switch len(year) {
		case 4:
			y = atoi(year)
		case 2:
			y = 2000 + atoi(year)
		default:
			name := ""
			if f != nil {
				name = f.Name
			}
			switch name {
			case "birthDate", "expires", "made":
				return "", fmt.Sprintf("“%s” has no year. Enter the year too, as in 14-Jul-2026.", clip(text))
			case "", "neckLineOut", "notBefore", "outBy":
				y = nearestYear(today, m, day)
			default:
				if f.Path == schema.OperationDate { // may be tomorrow
					y = nearestYear(today, m, day)
				} else {
					y = lastYear(today, m, day)
				}
			}
		}
	case few(first) && few(second) && len(third) == 4 && rest == "":
		a, b := atoi(first), atoi(second)
		y = atoi(third)
		switch {
		case a > 12 || a == b:
			day, m = a, b
		case b > 12:
			day, m = b, a
		default:
			return "", fmt.Sprintf("“%s” can mean two days. Enter it with the month's name, such as 14-Jul-2026.", clip(text))
		}
	default:
		return lost()
	}
	if m < 1 || m > 12 {
		return lost()
	}
	d, err := schema.ParseDate(fmt.Sprintf("%04d-%02d-%02d", y, m, day))
	if err != nil {
		return "", fmt.Sprintf("There is no day “%s” in the calendar.", clip(text))
	}
	return d, ""
}

func month(name string) int {
	name = strings.ToLower(name)
	for m := time.January; m <= time.December; m++ {
		if full := strings.ToLower(m.String()); len(name) >= 3 && strings.HasPrefix(full, name) || name == "sept" && m == time.September {
			return int(m)
		}
	}
	return 0
}

func nearestYear(today schema.Date, m, day int) int {
	t, err := time.Parse("2006-01-02", string(today))
	if err != nil {
		return 0
	}
	best, gap := t.Year(), time.Duration(1<<62)
	for y := t.Year() - 1; y <= t.Year()+1; y++ {
		if g := time.Date(y, time.Month(m), day, 0, 0, 0, 0, time.UTC).Sub(t).Abs(); g < gap {
			best, gap = y, g
		}
	}
	return best
}

// lastYear is the year in which a day came last, today included.
func lastYear(today schema.Date, m, day int) int {
	if len(today) < 10 {
		return 0
	}
	y := atoi(string(today[:4]))
	if fmt.Sprintf("%02d-%02d", m, day) > string(today[5:]) {
		y--
	}
	return y
}

func isDigits(s string) bool { return strings.Trim(s, "0123456789") == "" }

// Words reads a line of text for a field: its length and, for a field of digits,
// that it is nothing else.
func Words(text string, f *schema.Field) (s, wrong string) {
	s = strings.TrimSpace(strings.ReplaceAll(text, "\x00", ""))
	if f.Format == "digits" {
		s = strings.ReplaceAll(s, " ", "")
		if !isDigits(s) {
			return "", fmt.Sprintf("“%s” holds more than digits. %s takes digits only.", clip(text), f.Title)
		}
	}
	if n := len([]rune(s)); f.MaxLen > 0 && n > f.MaxLen {
		return "", fmt.Sprintf("%s is %d characters too long. Shorten it, or move part of it to another field.", f.Title, n-f.MaxLen)
	}
	return s, ""
}

func atoi(s string) int {
	n := 0
	for _, r := range s {
		n = n*10 + int(r-'0')
	}
	return n
}

func clip(s string) string {
	if r := []rune(strings.TrimSpace(s)); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return strings.TrimSpace(s)
}
