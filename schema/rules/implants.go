package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
	"fairlead/schema/identifiers"
)

var implantRules = []entry{
	{Rule{"implant-expired", "An implant past its date on the day", schema.Error, ranges},
		[]string{"items", "operation"}, implantExpired},
	{Rule{"identifier-wrong", "An identifier whose check digit or form is wrong", schema.Error, ranges},
		[]string{"items", "operation"}, identifierWrong},
	{Rule{"identifier-disagrees", "Lot, serial or date that differ from the scanned identifier", schema.Error, "issue 2: derived values against entered ones"},
		[]string{"items", "operation"}, identifierDisagrees},
	{Rule{"serial-in-two-children", "One serial number in two children", schema.Error, ranges},
		[]string{"items"}, serialInTwo},
	{Rule{"no-identifier", "An implant without identifier, lot or serial", schema.Question, ranges},
		[]string{"items", "operation"}, noIdentifier},
}

// bought are the implants that come in a packet with an identifier.
var bought = []string{"shunt", "conduit", "patch", "stent", "band", "lead", "generator", "coils", "occluder", "valve", "annuloplasty", "barrier", "haemostatic-agent"}

// year is the year of the operation, for the two-digit years of identifiers; 0 if
// it is not known.
func (l *look) year() int {
	d, ok := l.civil(schema.OperationDate)
	if !ok {
		d, ok = l.ctx.Now.Date(), !l.ctx.Now.IsZero()
	}
	if !ok || len(d) < 4 {
		return 0
	}
	y, _ := strconv.Atoi(string(d[:4]))
	return y
}

func implantExpired(l *look) {
	day, ok := l.civil(schema.OperationDate)
	if !ok {
		return
	}
	for _, it := range l.items("implant") {
		at := it.Path("expires")
		expires, ok := l.civil(at)
		if l.earlier(it) {
			continue
		}
		if !ok {
			if id := identifiers.Parse(it.Text("identifier"), l.year()); it.Text("identifier") != "" && l.year() > 0 {
				at = it.Path("identifier")
				d, err := schema.ParseDate(id.Expires)
				expires, ok = d, err == nil
			}
		}
		if ok && expires < day {
			l.find(at, fmt.Sprintf("%s: it expired on %s, before %s.", l.title(at), expires.Shown(), l.said(schema.OperationDate)), "Read the packet again; if it is right, tell the surgeon now.", schema.OperationDate)
		}
	}
}

func identifierWrong(l *look) {
	year := l.year()
	for _, it := range l.items("implant") {
		at := it.Path("identifier")
		raw := it.Text("identifier")
		if raw == "" || year == 0 {
			continue
		}
		id := identifiers.Parse(raw, year)
		for _, p := range id.Problems {
			if p.Refuse {
				do, _, _ := strings.Cut(strings.TrimSuffix(p.Do, "."), ". ")
				l.find(at, fmt.Sprintf("%s: %s", l.title(at), sentence(p.What)), do+"; what was read is kept.")
				break
			}
		}
	}
}

// sentence ends a text with one full stop.
func sentence(s string) string { return strings.TrimRight(strings.TrimSpace(s), ".") + "." }

func identifierDisagrees(l *look) {
	year := l.year()
	for _, it := range l.items("implant") {
		raw := it.Text("identifier")
		if raw == "" || year == 0 {
			continue
		}
		id := identifiers.Parse(raw, year)
		for _, c := range []struct{ field, read string }{{"lot", id.Lot}, {"serial", id.Serial}, {"expires", id.Expires}, {"made", id.Made}, {"deviceIdentifier", id.Device}, {"donorCode", id.Donation}} {
			typed := it.Text(c.field)
			if typed != "" && c.read != "" && !strings.EqualFold(strings.TrimSpace(typed), c.read) {
				at := it.Path(c.field)
				l.find(at, fmt.Sprintf("%s, but the identifier as scanned says %s.", l.said(at), quoted(c.read)), "Read the packet again, and correct the one that is wrong.", it.Path("identifier"))
			}
		}
	}
}

func serialInTwo(l *look) {
	for _, it := range l.items("implant") {
		serial := strings.TrimSpace(it.Text("serial"))
		if serial == "" {
			continue
		}
		for _, other := range l.ctx.OtherChildren {
			if slices.ContainsFunc(other.Serials, func(s string) bool { return strings.EqualFold(strings.TrimSpace(s), serial) }) {
				l.find(it.Path("serial"), fmt.Sprintf("%s is also recorded in another child, hospital number %s.", l.said(it.Path("serial")), orWords(other.HospitalNumber)),
					"Read both packets again: one serial number is in one child.")
			}
		}
	}
}

func orWords(s string) string {
	if s == "" {
		return schema.NotRecorded
	}
	return s
}

func noIdentifier(l *look) {
	for _, it := range l.items("implant") {
		if !slices.Contains(bought, it.Text("variety")) || strings.HasPrefix(it.Text("material"), "own-") || l.earlier(it) {
			continue
		}
		if it.Text("identifier") != "" || it.Text("deviceIdentifier") != "" || it.Text("lot") != "" || it.Text("serial") != "" {
			continue
		}
		if it.Stated("identifier") == schema.StatedNone && it.Text("identifierBy") != "" {
			continue // "not in the packet", by name
		}
		at := it.Path("identifier")
		l.find(at, fmt.Sprintf("%s %s.", l.title(at), l.value(at)), "Scan or type it, or say “Not in the packet” and who looked.", it.Path("identifierBy"))
	}
}
