package identifiers

import (
	"fmt"
	"strings"
)

// alphabet37 gives the values 0 to 36 of ISO 7064 mod 37-2.
const alphabet37 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"

// CheckISO7064 is the check character of text by ISO 7064 mod 37-2, as ISBT 128
// uses it for donation identification numbers. ok is false if a character is not
// a digit or capital.
func CheckISO7064(body string) (char byte, ok bool) {
	p := 0
	for i := 0; i < len(body); i++ {
		v := strings.IndexByte(alphabet37[:36], body[i])
		if v < 0 {
			return 0, false
		}
		p = (p + v) * 2 % 37
	}
	return alphabet37[(38-p)%37], body != ""
}

// structure is an ISBT 128 data structure by its identifier.
type structure struct {
	key, title string
	length     int
	set        func(id *Identifier, title, v string, year int)
}

var structures = []structure{
	{"=/", "Processor and product", 16, func(id *Identifier, _, v string, _ int) {
		id.Device = v
		id.Model = v[5:11]
	}},
	{"=,", "Serial within the donation", 6, func(id *Identifier, _, v string, _ int) { id.Serial = v }},
	{"=<", "Product code", 8, func(id *Identifier, _, v string, _ int) { id.Model = v }},
	{"=>", "Expires on", 6, func(id *Identifier, title, v string, year int) { id.Expires = id.cYYJJJ(title, v, year) }},
	{"&>", "Expires on, with time", 10, func(id *Identifier, title, v string, year int) { id.Expires = id.cYYJJJ(title, v, year) }},
	{"=}", "Made on", 6, func(id *Identifier, title, v string, year int) { id.Made = id.cYYJJJ(title, v, year) }},
	{"&}", "Made on, with time", 10, func(id *Identifier, title, v string, year int) { id.Made = id.cYYJJJ(title, v, year) }},
	{"=*", "Collected on", 6, func(id *Identifier, title, v string, year int) { id.cYYJJJ(title, v, year) }},
	{"&*", "Collected on, with time", 10, func(id *Identifier, title, v string, year int) { id.cYYJJJ(title, v, year) }},
	{"&,1", "Lot", 18, func(id *Identifier, _, v string, _ int) { id.Lot = v }},
}

// isbt reads concatenated ISBT 128 data structures.
func (id *Identifier) isbt(text string, year int) {
	for text != "" {
		if text[0] != '=' && text[0] != '&' {
			id.refuse(fmt.Sprintf("The part beginning %q is not an ISBT 128 data structure.", clip(text)), retype)
			return
		}
		s, ok := structureAt(text)
		if !ok {
			end := len(text)
			if i := strings.IndexAny(text[1:], "=&"); i >= 0 {
				end = i + 1
			}
			id.element("?", "Not known", text[:end])
			id.doubt(fmt.Sprintf("The part %q is not one this program knows.", clip(text[:end])), retype)
			text = text[end:]
			continue
		}
		text = text[len(s.key):]
		if len(text) < s.length {
			id.refuse(fmt.Sprintf("%s needs %d characters and has %d.", s.title, s.length, len(text)), retype)
			return
		}
		v := text[:s.length]
		if strings.ContainsAny(v, "=&") {
			id.refuse(fmt.Sprintf("%s is cut short: %q.", s.title, clip(v)), retype)
			return
		}
		id.element(s.key, s.title, v)
		s.set(id, s.title, v, year)
		text = text[s.length:]
	}
	if id.Made != "" && id.Expires != "" && id.Made > id.Expires {
		id.doubt("It expires before it was made.", retype)
	}
}

func structureAt(text string) (structure, bool) {
	for _, s := range structures {
		if strings.HasPrefix(text, s.key) {
			return s, true
		}
	}
	// "=" and a facility's first character open a donation number: 13
	// characters and two flags.
	if len(text) > 1 && text[0] == '=' && facility(text[1]) {
		return structure{"=", "Donation identification number", 15, func(id *Identifier, title, v string, _ int) {
			if !donation(v[:13]) || !digits(v[13:]) {
				id.refuse(fmt.Sprintf("%s: %q is not a facility, year and number.", title, v), retype)
				return
			}
			id.Donation = v[:13]
		}}, true
	}
	return structure{}, false
}

// facility tells whether c may open a facility identification number: a capital
// but not O, or a digit but not 0.
func facility(c byte) bool { return c >= 'A' && c <= 'Z' && c != 'O' || c >= '1' && c <= '9' }

// donation tells whether s has the form of a donation number: facility (five),
// year (two digits), number (six digits).
func donation(s string) bool {
	if len(s) != 13 || !facility(s[0]) || !digits(s[5:]) {
		return false
	}
	for i := 1; i < 5; i++ {
		if strings.IndexByte(alphabet37[:36], s[i]) < 0 {
			return false
		}
	}
	return true
}

func compact(text string) string { return strings.ToUpper(strings.ReplaceAll(text, " ", "")) }

// looksDonation tells whether text looks like a donation number as it is printed
// for the eye: spaced, with or without its check character, and with a letter,
// which a trade item number never has.
func looksDonation(text string) bool {
	s := compact(text)
	return (len(s) == 13 || len(s) == 14) && donation(s[:13]) && !digits(s[:5])
}

func (id *Identifier) typedDonation(text string) {
	s := compact(text)
	want, _ := CheckISO7064(s[:13])
	id.element("donation", "Donation identification number", s[:13])
	id.Donation = s[:13]
	switch {
	case len(s) == 13:
		id.doubt("The check character in the box behind the donation number was not typed.", "Type it too: it catches exchanged digits.")
	case s[13] != want:
		id.refuse(fmt.Sprintf("The donation number's check character %q does not fit: two digits may be exchanged.", s[13]), retype)
	}
}

// cYYJJJ reads the century digit, the year in it and the day of the year:
// 014032 is the 32nd day of 2014.
func (id *Identifier) cYYJJJ(title, v string, year int) string {
	if !digits(v[:6]) {
		id.refuse(fmt.Sprintf("%s: %q is not a date of six digits.", title, v), retype)
		return ""
	}
	y := 1000*(year/1000) + 100*int(v[0]-'0') + number(v[1:3])
	if y > year+500 { // 900 to 999 are the years before 2000
		y -= 1000
	}
	d, ok := ordinal(y, number(v[3:6]))
	if !ok {
		id.refuse(fmt.Sprintf("%s: day %s does not exist in %d.", title, v[3:6], y), retype)
		return ""
	}
	return d
}
