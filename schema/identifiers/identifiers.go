// Package identifiers reads the identifier printed on an implant's packet: GS1
// element strings, HIBC and ISBT 128, as scanned or as typed.
//
// The text that was read is always kept whole in Raw, whatever is wrong with it.
// What is wrong is data: each Problem says whether the identifier is refused or
// only doubted. Two-digit years need to know which century is meant, so the
// current year is passed in; nothing here reads a clock.
//
//	id := identifiers.Parse("(01)51022222233336(17)150707(10)A213B1", 2026)
package identifiers

import (
	"fmt"
	"strings"
)

// Kind is the standard an identifier follows.
type Kind string

// The kinds.
const (
	GS1     Kind = "GS1"
	HIBC    Kind = "HIBC"
	ISBT128 Kind = "ISBT 128"
	Unknown Kind = "not known"
)

// Element is one piece of the identifier in the standard's own terms.
type Element struct {
	Key   string // "01", "$$3", "=>"
	Title string
	Value string
}

// Problem is something wrong with an identifier.
type Problem struct {
	What   string // what is wrong
	Do     string // what to do
	Refuse bool   // the identifier cannot be right; otherwise it is only doubted
}

// Identifier is what was read. Dates are calendar dates, "2015-07-07", or empty.
type Identifier struct {
	Raw      string // exactly what was scanned or typed
	Kind     Kind
	Device   string // device identifier
	Model    string // maker's own item number
	Lot      string
	Serial   string
	Made     string
	Expires  string
	Donation string // tissue donor code: donation identification number
	Elements []Element
	Problems []Problem
}

// Refused tells whether any problem refuses the identifier.
func (id *Identifier) Refused() bool {
	for _, p := range id.Problems {
		if p.Refuse {
			return true
		}
	}
	return false
}

func (id *Identifier) refuse(what, do string) {
	id.Problems = append(id.Problems, Problem{what, do, true})
}

func (id *Identifier) doubt(what, do string) {
	id.Problems = append(id.Problems, Problem{what, do, false})
}

func (id *Identifier) element(key, title, value string) {
	id.Elements = append(id.Elements, Element{key, title, value})
}

// MaxLength is the longest text that is read.
const MaxLength = 400

const retype = "Scan it again, or compare every character with the packet. What was read is kept."

// separator is FNC1 as scanners transmit it.
const separator = "\x1d"

// Parse reads an identifier. year is the current year, for two-digit years.
func Parse(raw string, year int) Identifier {
	id := Identifier{Raw: raw, Kind: Unknown}
	if len(raw) > MaxLength {
		id.refuse(fmt.Sprintf("The text has %d characters; an identifier has at most %d.", len(raw), MaxLength), "Check that only the identifier was scanned.")
		return id
	}
	text := strings.Trim(raw, " \t\r\n")
	if strings.HasPrefix(text, "+") { // a space may be a HIBC check character
		text = strings.TrimRight(strings.TrimLeft(raw, " \t\r\n"), "\t\r\n")
	}
	symbology := ""
	if len(text) > 3 && text[0] == ']' {
		symbology, text = text[:3], text[3:]
	}
	switch {
	case text == "":
		id.refuse("Nothing was read.", "Scan or type the identifier, or record that it is not in the packet.")
	case symbology == "]d2" || symbology == "]C1" || symbology == "]Q3" || symbology == "]e0" || strings.HasPrefix(text, separator):
		id.Kind = GS1
		id.raw(strings.TrimLeft(text, separator), year)
	case strings.HasPrefix(text, "("):
		id.Kind = GS1
		id.bracketed(text, year)
	case strings.HasPrefix(text, "+"):
		id.Kind = HIBC
		id.hibc(text, year)
	case strings.HasPrefix(text, "=") || strings.HasPrefix(text, "&"):
		id.Kind = ISBT128
		id.isbt(text, year)
	case looksDonation(text):
		id.Kind = ISBT128
		id.typedDonation(text)
	case digits(text) && (len(text) == 8 || len(text) >= 12 && len(text) <= 14):
		id.Kind = GS1
		id.bare(text, year)
	case looksGS1(text):
		id.Kind = GS1
		id.raw(text, year)
	default:
		id.doubt("This is not a GS1, HIBC or ISBT 128 identifier.", "Keep it as it is if the packet carries nothing else. What was read is kept.")
	}
	return id
}

// looksGS1 tells whether text without brackets or a symbology mark begins like
// a device's element string.
func looksGS1(text string) bool {
	return len(text) >= 16 && strings.HasPrefix(text, "01") && digits(text[:16])
}

func digits(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// number is the value of a string of digits.
func number(s string) int {
	n := 0
	for i := 0; i < len(s); i++ {
		n = n*10 + int(s[i]-'0')
	}
	return n
}

// daysIn is the number of days of a month.
func daysIn(year, month int) int {
	switch month {
	case 2:
		if leap(year) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

func leap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

func date(year, month, day int) string { return fmt.Sprintf("%04d-%02d-%02d", year, month, day) }

// century completes a two-digit year as GS1 General Specifications 7.12 has it:
// the year that lies within 49 years back and 50 forward of the current one.
func century(yy, year int) int {
	y := year - year%100 + yy
	switch d := yy - year%100; {
	case d >= 51:
		y -= 100
	case d <= -50:
		y += 100
	}
	return y
}

// ordinal is the day n of a year as a calendar date.
func ordinal(year, n int) (string, bool) {
	if n < 1 || n > 365 && !(n == 366 && leap(year)) {
		return "", false
	}
	month := 1
	for n > daysIn(year, month) {
		n -= daysIn(year, month)
		month++
	}
	return date(year, month, n), true
}
