package ledger

import (
	"strings"
	"unicode"

	"fairlead/schema"
)

// Alike tells whether two records look like one child's, and by what: the same
// hospital number, or a like name with the same date of birth. It is for proposing
// to join them, with the reason; a person decides. A provisional number does not
// count, and twins have each their own birth order.
func Alike(a, b *schema.Note) (why string, ok bool) {
	same := func(p schema.Path, plain func(string) string) bool {
		x, y := plain(a.Text(p)), plain(b.Text(p))
		return x != "" && x == y
	}
	provisional := func(n *schema.Note) bool { yes, _ := n.Bool(schema.ChildNumberProvisional); return yes }
	if !provisional(a) && !provisional(b) && same(schema.ChildHospitalNumber, letters) {
		return "the same hospital number", true
	}
	x, y := a.Decimal(schema.ChildBirthOrder), b.Decimal(schema.ChildBirthOrder)
	if !same(schema.ChildBirthDate, letters) || x != "" && y != "" && plainDecimal(x) != plainDecimal(y) {
		return "", false
	}
	switch {
	case same(schema.ChildSurname, letters) && same(schema.ChildGivenName, letters):
		return "the same name and date of birth", true
	case same(schema.ChildSurname, letters) && (a.Text(schema.ChildGivenName) == "" || b.Text(schema.ChildGivenName) == ""):
		return "the same surname and date of birth, as twins have; a given name is not recorded", true
	case same(schema.ChildBabyOf, letters):
		return "the same mother and date of birth", true
	}
	return "", false
}

// letters is the text without spaces, marks and case.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}
