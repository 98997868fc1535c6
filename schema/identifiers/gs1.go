package identifiers

import (
	"fmt"
	"strings"
)

// CheckDigitGS1 is the check digit of a number without one: weights 3 and 1 from
// the right, GS1 General Specifications 7.9. ok is false unless all are digits.
func CheckDigitGS1(body string) (digit byte, ok bool) {
	if !digits(body) {
		return 0, false
	}
	sum := 0
	for i := 0; i < len(body); i++ {
		v := int(body[len(body)-1-i] - '0')
		if i%2 == 0 {
			v *= 3
		}
		sum += v
	}
	return byte('0' + (10-sum%10)%10), true
}

// ai is what the General Specifications say of an application identifier.
type ai struct {
	title   string
	length  int  // exact length, or the longest if variable
	exact   bool // fixed length: no separator follows
	numeric bool
}

// known are the identifiers a packet may carry; families of four digits are in
// lookup.
var known = map[string]ai{
	"00":   {"Shipping container code", 18, true, true},
	"01":   {"Device identifier", 14, true, true},
	"02":   {"Contained item", 14, true, true},
	"10":   {"Lot", 20, false, false},
	"11":   {"Made on", 6, true, true},
	"12":   {"Payment due", 6, true, true},
	"13":   {"Packed on", 6, true, true},
	"15":   {"Best before", 6, true, true},
	"16":   {"Sell by", 6, true, true},
	"17":   {"Expires on", 6, true, true},
	"20":   {"Variant", 2, true, true},
	"21":   {"Serial", 20, false, false},
	"22":   {"Consumer variant", 20, false, false},
	"30":   {"Count", 8, false, true},
	"37":   {"Count of contained items", 8, false, true},
	"235":  {"Third-party serial", 28, false, false},
	"240":  {"Maker's item number", 30, false, false},
	"241":  {"Customer's part number", 30, false, false},
	"243":  {"Packaging component", 20, false, false},
	"250":  {"Secondary serial", 30, false, false},
	"251":  {"Source reference", 30, false, false},
	"253":  {"Document", 30, false, false},
	"254":  {"Location extension", 20, false, false},
	"400":  {"Order number", 30, false, false},
	"410":  {"Ship to", 13, true, true},
	"411":  {"Bill to", 13, true, true},
	"412":  {"Purchased from", 13, true, true},
	"413":  {"Ship for", 13, true, true},
	"414":  {"Location", 13, true, true},
	"415":  {"Invoicing party", 13, true, true},
	"416":  {"Production location", 13, true, true},
	"417":  {"Party", 13, true, true},
	"422":  {"Country of origin", 3, false, true},
	"710":  {"National number (Germany)", 20, false, false},
	"711":  {"National number (France)", 20, false, false},
	"712":  {"National number (Spain)", 20, false, false},
	"713":  {"National number (Brazil)", 20, false, false},
	"714":  {"National number (Portugal)", 20, false, false},
	"7003": {"Expires on, with time", 10, false, true},
	"8004": {"Asset", 30, false, false},
	"8005": {"Price per unit", 6, false, true},
	"8012": {"Software version", 20, false, false},
	"8013": {"Model number", 25, false, false},
	"8018": {"Service recipient", 18, false, true},
}

// lookup finds the application identifier text begins with.
func lookup(text string) (key string, a ai, ok bool) {
	for n := 2; n <= 4 && n <= len(text); n++ {
		if a, ok := known[text[:n]]; ok {
			return text[:n], a, true
		}
	}
	if len(text) >= 2 && digits(text[:2]) {
		switch {
		case text[0] == '9' && text[1] >= '0':
			return text[:2], ai{"Company's own", 90, false, false}, true
		case len(text) >= 4 && digits(text[:4]) && text[:2] >= "31" && text[:2] <= "36":
			return text[:4], ai{"Measure", 6, true, true}, true
		}
	}
	return "", ai{}, false
}

// raw reads a scanned element string, pieces of variable length ended by FNC1.
func (id *Identifier) raw(text string, year int) {
	for text != "" {
		key, a, ok := lookup(text)
		if !ok {
			id.refuse(fmt.Sprintf("The part beginning %q has no application identifier this program knows.", clip(text)), "A separator may be missing in the scan. "+retype)
			return
		}
		text = text[len(key):]
		var value string
		cut := strings.Index(text, separator)
		switch {
		case a.exact && cut >= 0 && cut < a.length, a.exact && cut < 0 && len(text) < a.length:
			id.refuse(fmt.Sprintf("(%s) %s needs %d characters and has fewer.", key, lower(a.title), a.length), retype)
			return
		case a.exact:
			value, text = text[:a.length], strings.TrimPrefix(text[a.length:], separator)
		case cut >= 0:
			value, text = text[:cut], text[cut+1:]
		default:
			value, text = text, ""
		}
		id.take(key, a, value, year)
	}
	id.complete()
}

// bare reads a trade item number that stands alone, of 8, 12, 13 or 14 digits.
func (id *Identifier) bare(text string, year int) {
	id.take("01", known["01"], strings.Repeat("0", 14-len(text))+text, year)
}

// bracketed reads the form printed beside the symbol, "(01)…(17)…". A bracket
// that opens no known identifier belongs to the value.
func (id *Identifier) bracketed(text string, year int) {
	for text != "" {
		key, a, rest, ok := opening(text)
		if !ok {
			id.refuse(fmt.Sprintf("%q is not an application identifier in brackets.", clip(text)), retype)
			return
		}
		end := len(rest)
		for i := 1; i < len(rest); i++ {
			if rest[i] == '(' {
				if _, _, _, ok := opening(rest[i:]); ok && (!a.exact || i >= a.length) {
					end = i
					break
				}
			}
		}
		value := strings.TrimRight(rest[:end], " "+separator)
		if strings.HasPrefix(rest, "(") {
			value, end = "", 0
		}
		id.take(key, a, strings.ReplaceAll(value, " ", ""), year)
		text = rest[end:]
	}
	id.complete()
}

func opening(text string) (key string, a ai, rest string, ok bool) {
	if close := strings.IndexByte(text, ')'); len(text) > 3 && text[0] == '(' && close >= 3 && close <= 5 {
		key, a, ok = lookup(text[1:close])
		return key, a, text[close+1:], ok && len(key) == close-1
	}
	return "", ai{}, "", false
}

// take records one element and checks it.
func (id *Identifier) take(key string, a ai, value string, year int) {
	for _, e := range id.Elements {
		if e.Key == key {
			if e.Value != value {
				id.refuse(fmt.Sprintf("(%s) %s stands twice with different values.", key, lower(a.title)), retype)
			}
			return
		}
	}
	id.element(key, a.title, value)
	switch {
	case value == "":
		id.refuse(fmt.Sprintf("(%s) %s is empty.", key, lower(a.title)), retype)
		return
	case a.exact && len(value) != a.length:
		id.refuse(fmt.Sprintf("(%s) %s needs %d characters and has %d.", key, lower(a.title), a.length, len(value)), retype)
	case len(value) > a.length:
		id.refuse(fmt.Sprintf("(%s) %s has %d characters; at most %d are allowed.", key, lower(a.title), len(value), a.length), "A separator may be missing in the scan. "+retype)
	case a.numeric && !digits(value):
		id.refuse(fmt.Sprintf("(%s) %s may hold digits only; %q has something else.", key, lower(a.title), clip(value)), retype)
	case !set82(value):
		id.refuse(fmt.Sprintf("(%s) %s holds a character GS1 does not allow.", key, lower(a.title)), retype)
	}
	switch key {
	case "01":
		id.Device = value
		if len(value) == 14 && digits(value) {
			if want, _ := CheckDigitGS1(value[:13]); want != value[13] {
				id.refuse(fmt.Sprintf("The device identifier's check digit is %c and should be %c.", value[13], want), retype)
			}
		}
	case "10":
		id.Lot = value
	case "21":
		id.Serial = value
	case "240", "8013":
		id.Model = value
	case "11":
		id.Made = id.day(key, a, value, year)
	case "17":
		id.Expires = id.day(key, a, value, year)
	case "7003":
		if len(value) == 10 {
			id.Expires = id.day(key, a, value[:6], year)
		}
	case "13", "15", "16", "12":
		id.day(key, a, value, year)
	}
}

// day reads YYMMDD; day 00 is the last of the month.
func (id *Identifier) day(key string, a ai, value string, year int) string {
	if len(value) != 6 || !digits(value) {
		return ""
	}
	y, m, d := century(number(value[:2]), year), number(value[2:4]), number(value[4:])
	if m < 1 || m > 12 || d > daysIn(y, m) {
		id.refuse(fmt.Sprintf("(%s) %s: %s is not a date (year, month, day).", key, lower(a.title), value), retype)
		return ""
	}
	if d == 0 {
		d = daysIn(y, m)
	}
	return date(y, m, d)
}

// complete says what a device's identifier lacks.
func (id *Identifier) complete() {
	if id.Device == "" {
		id.doubt("There is no device identifier (01) in it.", "Packets often carry two symbols: scan the other one too.")
	}
	if id.Made != "" && id.Expires != "" && id.Made > id.Expires {
		id.doubt("It expires before it was made.", retype)
	}
}

// set82 tells whether all characters are in GS1's character set 82.
func set82(s string) bool {
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case c >= '0' && c <= '9', c >= 'A' && c <= 'Z', c >= 'a' && c <= 'z':
		case strings.IndexByte("!\"%&'()*+,-./:;<=>?_", c) >= 0:
		default:
			return false
		}
	}
	return true
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }

func clip(s string) string {
	s = strings.ReplaceAll(s, separator, " ")
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return s
}
