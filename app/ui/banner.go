package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/demo"
	"fairlead/app/ui/civil"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// identity is who a child is, in the words of the banner and the list.
type identity struct {
	Surname, Given, BabyOf string
	Number                 string
	Provisional            bool // the number is to be replaced
	Birth                  schema.Date
	Order                  string // among twins, or ""
	Weight                 string // with its date
	Invented               bool
	Two                    disputed // what people disagree about; the value itself is then blank
}

// disputed words who a child is where two people said different things of it.
type disputed struct{ Surname, Given, Number, Birth string }

// inDispute words the values at a path that nobody has chosen between, or is "".
func inDispute(rec *ledger.Record, note ledger.NoteID, at schema.Path) string {
	vs := rec.Values(note, at)
	if len(vs) < 2 {
		return ""
	}
	var words []string
	for _, v := range vs {
		words = append(words, v.Shown(schema.FieldAt(at), nil))
	}
	return strings.Join(words, " or ") + " (in dispute)"
}

// identityOf reads it from the child's facts or from a note.
func identityOf(n *schema.Note) identity {
	id := identity{Surname: n.Text(schema.ChildSurname), Given: n.Text(schema.ChildGivenName), BabyOf: n.Text(schema.ChildBabyOf),
		Number: n.Text(schema.ChildHospitalNumber), Birth: schema.Date(n.Text(schema.ChildBirthDate))}
	id.Provisional, _ = n.Bool(schema.ChildNumberProvisional)
	id.Order = n.Decimal(schema.ChildBirthOrder)
	id.Invented = strings.HasPrefix(id.Number, demo.Prefix)
	return id
}

// Name is "SURNAME, Given" (NHS Common User Interface, "Patient Banner").
func (id identity) Name() string {
	switch {
	case id.Two.Surname != "":
		return strings.ToUpper(id.Two.Surname) + strings.TrimSuffix(", "+id.given(), ", ")
	case id.Surname == "" && id.BabyOf == "" && id.given() == "":
		return "Name not recorded"
	case id.Surname == "":
		return strings.TrimSpace("Baby of " + id.BabyOf)
	}
	name := strings.ToUpper(id.Surname)
	switch {
	case id.given() != "":
		name += ", " + id.given()
	case id.BabyOf != "":
		name += ", baby of " + id.BabyOf
	}
	return name
}

func (id identity) given() string {
	if id.Two.Given != "" {
		return id.Two.Given
	}
	return id.Given
}

// numberShown and birthShown never leave a blank.
func (id identity) numberShown() string {
	if id.Two.Number != "" {
		return id.Two.Number
	}
	return orNot(id.Number)
}

func (id identity) birthShown(today schema.Date) string {
	if id.Birth == "" {
		if id.Two.Birth != "" {
			return id.Two.Birth
		}
		return schema.NotRecorded
	}
	return id.Birth.Shown() + " (" + schema.AgeShown(id.Birth, today) + ")"
}

func orNot(s string) string {
	if s == "" {
		return schema.NotRecorded
	}
	return s
}

// banner says whose screen it is, on every screen of a child.
func (s *Session) banner(sc screen) []app.UI {
	if !sc.child || s.child == nil {
		return nil
	}
	id := s.child.identity()
	today := civil.Today(s.zone)
	fact := func(name, value string) app.UI {
		return app.Span().Class("fact").Body(app.B().Text(name+" "), app.Text(value))
	}
	body := []app.UI{
		app.Span().Class("who").Text(clipped(id.Name(), 80)),
		fact("No.", clipped(id.numberShown(), 40)),
		fact("born", id.birthShown(today)),
		fact("weight", orNot(id.Weight)),
	}
	if id.Invented {
		body = append(body, app.Span().Class("invented").Text("INVENTED"))
	}
	if s.alike(s.child.id) != "" {
		body = append(body, app.Span().Class("alike").Text("LIKE NAME"))
	}
	for _, words := range s.child.leftWords() {
		body = append(body, app.Span().Class("left-in").Text(strings.ToUpper(words)))
	}
	return []app.UI{app.Section().Class("banner").Aria("label", "Whose record this is").Body(body...)}
}

// clipped shortens what would push the rest of a line away. The whole of it
// stands in the section it belongs to.
func clipped(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
