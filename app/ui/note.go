package ui

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "section", title: "Note", child: true, note: true, wide: true, bare: true, draw: drawSection, leave: (*Session).commitHere})

// tabs are the screens of one note, in the order of the work.
var tabs = []struct{ screen, part, words, name string }{
	{"section", "", "Note", "Note, by sections"},
	{"items", "", "Items", "Items left in the child"},
	{"values", "", "Values", "Values worked out from the note"},
	{"sheet", "", "Sheet", "Sheet for handover"},
	{"check", "leaving", "Leaving", "Leaving theatre: check of every item"},
	{"check", "arrival", "Arrival", "Arrival: check of every item"},
	{"review", "", "Sign", "Sign: review and signatures"},
}

// noteTabs leads between the screens of the note on screen. It stands at the
// bottom of a phone or a tablet, under the thumb, and at the top elsewhere.
func (s *Session) noteTabs() app.UI {
	var body []app.UI
	for _, t := range tabs {
		to := s.place.With(t.screen, t.part)
		if t.screen == "section" && s.child != nil {
			to.Part = s.child.lastSection(s.place.Note)
		}
		here := s.place.Screen == t.screen && (t.part == "" || s.place.Part == t.part)
		body = append(body, app.Li().Body(safe.Link{To: to.Path(), Words: t.words, Name: t.name, Here: here}.UI()))
	}
	return app.Nav().Class("tabs").Aria("label", "This note").Body(app.Ul().Body(body...))
}

// drawSection draws one section of the note to fill in, the others as a list
// with how far each is, and the sheet beside it where there is room.
func drawSection(s *Session) app.UI {
	c := s.child
	note := s.place.Note
	kind := schema.KindNamed(c.note(note).Kind())
	if kind == nil {
		return app.Div().Class("page").Body(
			app.H1().ID("heading").TabIndex(-1).Text("A kind of note this version does not know"),
			app.P().Text("It was written by a newer version of fairlead. All of it is kept. Use the newer version to see it."))
	}
	name := s.place.Part
	if !slices.Contains(kind.Sections, name) {
		name = c.lastSection(note)
	}
	section := schema.SectionNamed(name)
	c.openSection(note, name)
	c.open(note).agree()
	return app.Div().Class("desk").Body(
		s.noteTabs(),
		&rail{Place: s.place.With("section", name), Lines: c.open(note).progress()},
		app.Section().Class("page", "form", "filling").Aria("labelledby", "heading").Body(
			app.P().Class("over").Text(kind.Title),
			app.H1().ID("heading").TabIndex(-1).Text(section.Title),
			app.P().Class("owner").Text(ownerWords(section)),
			app.Div().Class("actions").Body(linkTo(s.place.With("dictate", ""), "Dictate", "button")),
			s.lockedWords(note, name),
			app.If(section.Help != "", func() app.UI { return app.P().Class("help").Text(section.Help) }),
			s.onRecord(note, name),
			s.toldBefore(note, name),
			&fieldList{Section: string(note) + "/" + name, Fields: c.form(note, name).Section(section), Do: c.open(note).do},
			s.workedOut(note, name),
			s.stillWanted(note, name),
			app.Div().Class("actions").Body(s.accountButton("account-of-section", section.Title, "", name+".")),
			s.neighbours(kind.Sections, name),
		),
		s.sheetBeside(),
	)
}

// fieldList holds the slots of one section. Another section gets new elements.
type fieldList struct {
	app.Compo
	Section string
	Fields  []widgets.Field
	Do      widgets.Actions
}

func (l *fieldList) CompoID() string { return l.Section }

func (l *fieldList) Render() app.UI {
	return safe.Drawn("fields", func() app.UI {
		body := make([]app.UI, 0, len(l.Fields))
		for _, f := range l.Fields {
			body = append(body, widgets.Slot{Field: f, Do: l.Do}.UI())
		}
		return app.Div().Class("fields").Body(body...)
	})
}

func ownerWords(s *schema.Section) string {
	if s.Owner == "" {
		return ""
	}
	words := "Filled and signed by the " + s.Owner + "."
	if s.Scope == "child" {
		words += " It holds for the child, in every note."
	}
	return words
}

// lockedWords says why the section cannot be written in, if it cannot.
func (s *Session) lockedWords(note ledger.NoteID, section string) app.UI {
	if s.who.Name == "" {
		return &whoForm{S: s}
	}
	words := s.child.signedWords(note, section)
	if words == "" {
		return nil
	}
	return app.Div().Body(app.P().Class("signed-words").Text(words), s.amendment(note))
}

// amendment asks once why a signed note was changed, until the reason is given.
func (s *Session) amendment(note ledger.NoteID) app.UI {
	st := s.child.standing(note)
	if st.Signed == nil || len(st.Open) == 0 {
		return nil
	}
	last := st.Open[len(st.Open)-1]
	for _, r := range st.Reasons {
		if !r.At.Before(last.Happened) {
			return nil
		}
	}
	return &amendForm{S: s, Note: note, Count: len(st.Open)}
}

// amendForm takes the reason for an amendment.
type amendForm struct {
	app.Compo
	S     *Session
	Note  ledger.NoteID
	Count int
}

func (a *amendForm) Render() app.UI {
	c, half := a.S.child, "amend "+string(a.Note)
	if c == nil {
		return app.Div()
	}
	send := func(ctx app.Context) {
		if why := strings.TrimSpace(c.half[half]); why != "" {
			a.S.commitHere()
			c.act(c.writer.Amend(a.Note, why))
			c.halfTyped(half, "")
			safe.FocusSoon("heading")
		}
	}
	words := itoa(a.Count) + " changes since the signature. Why was the note changed?"
	if a.Count == 1 {
		words = "1 change since the signature. Why was the note changed?"
	}
	return app.Div().Class("answer-form").Role("group").Aria("label", "Why the signed note was changed").Body(
		app.Label().For("amend-why").Text(words),
		c.halfEntry("amend-why", half, 300, false, send),
		safe.Button{ID: "amend-save", Class: "main", Words: "Give the reason", Press: send}.UI())
}

// line is one section in the list of sections.
type line struct {
	Name, Title, Owner string
	Wanted, Done       int
	Marks              widgets.Marks
	Signed             bool
	Mine               bool
}

// words says how far the section is.
func (l line) words() string {
	switch {
	case l.Signed:
		return "signed"
	case l.Wanted == 0:
		return ""
	case l.Done == l.Wanted:
		return "complete"
	}
	return itoa(l.Done) + " of " + itoa(l.Wanted)
}

// rail lists the sections with how far each is. On a narrow screen it is folded
// until it is asked for.
type rail struct {
	app.Compo
	Place Place
	Lines []line

	open bool
}

func (r *rail) Render() app.UI { return safe.Drawn("rail", r.draw) }

func (r *rail) draw() app.UI {
	var body []app.UI
	here := 0
	owner := ""
	for i, l := range r.Lines {
		if l.Name == r.Place.Part {
			here = i
		}
		if l.Owner != owner {
			owner = l.Owner
			body = append(body, app.Li().Class("owner").Text(owner))
		}
		class := "section"
		if l.Mine {
			class += " mine"
		}
		body = append(body, app.Li().Class(class).Body(
			safe.Link{To: r.Place.With("section", l.Name).Path(), Words: l.Title, Aside: l.words(), Here: l.Name == r.Place.Part, Current: "step",
				Before: func(app.Context) { r.open = false }}.UI(),
			widgets.MarksUI(l.Marks)))
	}
	fold := app.Div().Class("sections").ID("sections")
	if !r.open {
		fold = fold.Class("folded")
	}
	at := ""
	if len(r.Lines) > 0 {
		at = "Section " + itoa(here+1) + " of " + itoa(len(r.Lines)) + ": " + r.Lines[here].Title
	}
	return app.Nav().Class("rail").Aria("label", "Sections").Body(
		safe.Button{ID: "rail-open", Class: "rail-open", Words: at, Opens: "sections", Open: r.open, Press: func(app.Context) { r.open = !r.open }}.UI(),
		fold.Body(app.Ol().Body(body...)))
}

// stillWanted lists what is wanted in the section and not recorded, with links.
func (s *Session) stillWanted(note ledger.NoteID, section string) app.UI {
	wanted := s.child.open(note).missing(section)
	if len(wanted) == 0 {
		return nil
	}
	var body []app.UI
	for _, p := range wanted {
		body = append(body, app.Li().Body(safe.Link{To: s.place.With("section", section).Path() + "#" + widgets.ID(p.Path), Words: p.What}.UI()))
	}
	return app.Div().Class("still-wanted").Body(app.H2().Text("Still wanted here"), app.Ul().Body(body...))
}

// neighbours lead to the section before and after.
func (s *Session) neighbours(sections []string, name string) app.UI {
	var body []app.UI
	for i, n := range sections {
		if n != name {
			continue
		}
		if i > 0 {
			body = append(body, linkTo(s.place.With("section", sections[i-1]), "‹ "+schema.SectionNamed(sections[i-1]).Title, "button", "quiet"))
		}
		if i+1 < len(sections) {
			body = append(body, linkTo(s.place.With("section", sections[i+1]), schema.SectionNamed(sections[i+1]).Title+" ›", "button", "main", "next"))
		} else {
			body = append(body, linkTo(s.place.With("review", ""), "Review and sign ›", "button", "main", "next"))
		}
	}
	return app.Div().Class("neighbours").Body(body...)
}
