package identifiers

import (
	"fmt"
	"strings"
)

// alphabet43 gives the values 0 to 42 of HIBC's characters (those of Code 39).
const alphabet43 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-. $/+%"

// CheckHIBC is the check character of a HIBC text without one: the sum of the
// characters' values modulo 43 (ANSI/HIBC 2.6, 4.2). ok is false if a character
// is not in the alphabet.
func CheckHIBC(body string) (char byte, ok bool) {
	sum := 0
	for i := 0; i < len(body); i++ {
		v := strings.IndexByte(alphabet43, body[i])
		if v < 0 {
			return 0, false
		}
		sum += v
	}
	return alphabet43[sum%43], body != ""
}

// hibc reads a primary, a secondary or a concatenated HIBC text. A check
// character that does not agree is doubted, not refused: texts whose check is
// wrong are widely copied.
func (id *Identifier) hibc(text string, year int) {
	text = strings.TrimSuffix(strings.TrimPrefix(text, "*"), "*")
	// A check character that is a space is printed as an underscore for the eye,
	// and other spaces at the end mean nothing.
	if bare := strings.TrimRight(text, " _"); bare != text {
		text = bare
		if c, ok := CheckHIBC(bare); ok && c == ' ' {
			text += " "
		}
	}
	if len(text) < 3 {
		id.refuse("The text is too short for HIBC.", retype)
		return
	}
	want, ok := CheckHIBC(text[:len(text)-1])
	if !ok || strings.IndexByte(alphabet43, text[len(text)-1]) < 0 {
		id.refuse("It holds a character HIBC does not allow: capitals, digits and - . $ / + % and space.", retype)
		return
	}
	if got := text[len(text)-1]; got != want {
		id.doubt(fmt.Sprintf("The HIBC check character is %q and should be %q.", got, want), retype)
	}
	body := text[1 : len(text)-1]
	first, rest, joined := strings.Cut(body, "/")
	switch {
	case strings.HasPrefix(body, "$") || first != "" && first[0] >= '0' && first[0] <= '9' && !joined:
		// A secondary text on its own ends in the primary's check character.
		link := body[len(body)-1:]
		id.element("link", "Check character of the first symbol", link)
		id.secondary(body[:len(body)-1], year)
		id.doubt("This is only the second of the packet's two symbols.", "Scan the first one too: it holds the device identifier.")
		return
	case len(first) < 6 || first[0] < 'A' || first[0] > 'Z':
		id.refuse("The labeler, a letter and three characters, is missing.", retype)
		return
	}
	id.element("labeler", "Labeler", first[:4])
	id.Model = first[4 : len(first)-1]
	id.Device = first
	id.element("item", "Labeler's item number", id.Model)
	if len(id.Model) > 18 {
		id.refuse(fmt.Sprintf("The item number has %d characters; at most 18 are allowed.", len(id.Model)), retype)
	}
	if unit := first[len(first)-1]; unit < '0' || unit > '9' {
		id.refuse(fmt.Sprintf("The unit of measure is %q and should be a digit.", unit), retype)
	} else {
		id.element("unit", "Unit of measure", string(unit))
	}
	for joined {
		var part string
		part, rest, joined = strings.Cut(rest, "/")
		id.secondary(part, year)
	}
}

// secondary reads one part after the primary: lot, serial, dates, count.
func (id *Identifier) secondary(part string, year int) {
	switch {
	case strings.HasPrefix(part, "$$+"):
		id.Serial = id.dated("$$+", part[3:], year)
		id.element("$$+", "Serial", id.Serial)
	case strings.HasPrefix(part, "$$"):
		id.Lot = id.dated("$$", part[2:], year)
		id.element("$$", "Lot", id.Lot)
	case strings.HasPrefix(part, "$+"):
		id.Serial = part[2:]
		id.element("$+", "Serial", id.Serial)
	case strings.HasPrefix(part, "$"):
		id.Lot = part[1:]
		id.element("$", "Lot", id.Lot)
	case strings.HasPrefix(part, "S"):
		id.Serial = part[1:]
		id.element("S", "Serial", id.Serial)
	case strings.HasPrefix(part, "16D"):
		id.Made = id.full("16D", "Made on", part[3:])
	case strings.HasPrefix(part, "14D"):
		id.Expires = id.full("14D", "Expires on", part[3:])
	case strings.HasPrefix(part, "Q") && digits(part[1:]):
		id.element("Q", "Count", part[1:])
	case len(part) >= 5 && digits(part[:5]):
		y := century(number(part[:2]), year)
		d, ok := ordinal(y, number(part[2:5]))
		if !ok {
			id.refuse(fmt.Sprintf("%s is not a year and day of the year.", part[:5]), retype)
		}
		id.Expires, id.Lot = d, part[5:]
		id.element("YYJJJ", "Expires on", d)
		id.element("lot", "Lot", id.Lot)
	default:
		id.doubt(fmt.Sprintf("The part %q is not one this program knows.", clip(part)), retype)
		id.element("?", "Not known", part)
	}
	if len(id.Lot) > 18 || len(id.Serial) > 18 {
		id.refuse("A lot or serial has more than 18 characters.", retype)
	}
}

// dated reads the count and expiry that may stand before a lot or serial, and
// gives what remains (ANSI/HIBC 2.6, table 3).
func (id *Identifier) dated(key, s string, year int) string {
	need := func(n int) bool {
		if len(s) >= n && digits(s[:n]) {
			return true
		}
		id.refuse(fmt.Sprintf("The date or count after %s is cut short or not digits.", key), retype)
		return false
	}
	if s != "" && (s[0] == '8' || s[0] == '9') {
		n := 3
		if s[0] == '9' {
			n = 6
		}
		if !need(n) {
			return s
		}
		id.element(key+s[:1], "Count", s[1:n])
		s = s[n:]
	}
	if s == "" {
		return ""
	}
	set := func(y, m, d int) {
		if m < 1 || m > 12 || d < 1 || d > daysIn(y, m) {
			id.refuse("The expiry is not a date.", retype)
			return
		}
		id.Expires = date(y, m, d)
		id.element(key, "Expires on", id.Expires)
	}
	yy := func(at int) int { return century(number(s[at:at+2]), year) }
	switch s[0] {
	case '0', '1': // MMYY: the last of the month
		if need(4) {
			y, m := yy(2), number(s[:2])
			if m < 1 || m > 12 {
				id.refuse("The expiry is not a date.", retype)
				return s[4:]
			}
			set(y, m, daysIn(y, m))
			return s[4:]
		}
	case '2': // MMDDYY
		if need(7) {
			set(yy(5), number(s[1:3]), number(s[3:5]))
			return s[7:]
		}
	case '3', '4': // YYMMDD, YYMMDDHH
		n := 7
		if s[0] == '4' {
			n = 9
		}
		if need(n) {
			set(yy(1), number(s[3:5]), number(s[5:7]))
			return s[n:]
		}
	case '5', '6': // YYJJJ, YYJJJHH
		n := 6
		if s[0] == '6' {
			n = 8
		}
		if need(n) {
			d, ok := ordinal(yy(1), number(s[3:6]))
			if !ok {
				id.refuse("The expiry is not a year and day of the year.", retype)
				return s[n:]
			}
			id.Expires = d
			id.element(key, "Expires on", d)
			return s[n:]
		}
	case '7': // no date
		return s[1:]
	default:
		id.doubt(fmt.Sprintf("After %s a digit that says the form of the date was expected.", key), retype)
	}
	return s
}

// full reads YYYYMMDD.
func (id *Identifier) full(key, title, s string) string {
	if len(s) != 8 || !digits(s) {
		id.refuse(fmt.Sprintf("%s: %q is not a year, month and day.", title, clip(s)), retype)
		return ""
	}
	y, m, d := number(s[:4]), number(s[4:6]), number(s[6:])
	if m < 1 || m > 12 || d < 1 || d > daysIn(y, m) {
		id.refuse(fmt.Sprintf("%s: %s is not a date.", title, s), retype)
		return ""
	}
	id.element(key, title, date(y, m, d))
	return date(y, m, d)
}
