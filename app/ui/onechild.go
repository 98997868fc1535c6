package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/rules"
)

var _ = addScreen(screen{name: "child", title: "This child", child: true, draw: drawChild})

// drawChild shows one child: what is in the child, the notes, what can be begun.
func drawChild(s *Session) app.UI {
	c := s.child
	var notes []app.UI
	all := c.rec.Notes()
	for i := len(all) - 1; i >= 0; i-- {
		v := all[i]
		notes = append(notes, app.Li().Body(safe.Link{ID: "note-" + string(v.ID), To: Place{Screen: "section", Case: c.id, Note: v.ID}.Path(),
			Words: noteName(c.rec, v), Aside: noteState(c.standing(v.ID))}.UI()))
	}
	body := []app.UI{}
	if s.who.Name == "" {
		body = append(body, &whoForm{S: s})
	}
	body = append(body, s.offersPart(), s.joinedPart())
	if part := c.faultsHere(); part != nil {
		body = append(body, part)
	}
	body = append(body, app.Div().Class("page").Body(app.H2().Text("In the child now"), c.inNow(),
		app.Div().Class("actions").Body(linkTo(Place{Screen: "bedside", Case: c.id}, "At the bedside: what is due", "button", "main")), s.leavingLink()),
		app.Div().Class("page").Body(
			app.H2().Text("Notes"),
			app.If(len(notes) > 0, func() app.UI { return app.Ul().Class("notes-of").Body(notes...) }),
			app.If(len(notes) == 0, func() app.UI { return app.P().Text("No note yet.") }),
			app.Details().Class("fold").Open(len(notes) == 0).Body(app.Summary().ID("new-note").Text("Begin a note"), s.kindButtons())))
	body = append(body, s.accountPart(), s.wrongChildPart())
	body = append(body, app.Div().Class("page").Body(
		app.H2().Text("This child's whole record"),
		app.P().Text("It leaves as one file and can be opened on another device, where it joins what is there. The file is not encrypted: treat it as the notes themselves."),
		app.Div().Class("actions").Body(
			safe.Button{ID: "export", Words: "Save as a file", Press: func(app.Context) { s.export(c.id) }}.UI(),
			&eraseForm{S: s, Case: c.id, Version: c.rec.Version()})))
	return app.Div().Body(body...)
}

func noteState(st ledger.Standing) string {
	switch {
	case st.Amended:
		return "amended after signing"
	case st.Signed != nil && st.Signed.How == ledger.SignedOpen:
		return "signed with open items"
	case st.Signed != nil:
		return "signed"
	}
	return "not signed"
}

// kindButtons begin a note of each kind.
func (s *Session) kindButtons() app.UI {
	var body []app.UI
	for _, k := range schema.Kinds() {
		body = append(body, safe.Button{ID: "begin-" + string(k.Kind), Words: k.Title, Off: s.who.Name == "", Press: func(app.Context) { s.beginNote(k.Kind) }}.UI())
	}
	return app.Div().Class("kinds").Role("group").Aria("labelledby", "new-note").Body(body...)
}

// inNow lists what is in the child, by tag.
func (c *Child) inNow() app.UI {
	in := c.rec.ItemsIn()
	if len(in) == 0 {
		return app.P().Text("Nothing is listed as in the child.")
	}
	tree := c.rec.Child()
	var body []app.UI
	for _, v := range in {
		name := v.Kind
		if it, ok := tree.Item(string(v.ID)); ok {
			name = lines.NameNow(&v, it)
		}
		body = append(body, app.Li().Body(app.Span().Class("flag").Text(safe.Int(v.Tag)), app.Span().Body(app.Text(name), notWhole(v), wentAlong(v))))
	}
	return app.Div().Body(app.P().ID("held").Text(upperFirst(inWords(c.rec.RegisterTally().Held))+". "+oneTag), app.Ul().Class("in-child").Body(body...))
}

// oneTag says what is counted.
const oneTag = "One tag counts as one: a pair of wires is one."

// notWhole says of a thing in a list what became of it, if it is not in whole.
func notWhole(v ledger.ItemView) app.UI {
	became := lines.Became(v)
	if became == "" {
		return nil
	}
	return app.Strong().Text(": " + became)
}

// beginNote opens a note and goes to where it begins.
func (s *Session) beginNote(kind schema.Kind) {
	c := s.child
	if c == nil || s.who.Name == "" {
		return
	}
	id := c.writer.NewNote()
	c.act(c.writer.OpenNote(id, kind))
	if place := s.beginsAt(id); place.Part == "" {
		s.goTo(place)
	} else {
		s.goToAt(place, widgets.EntryID(schema.OperationDate))
	}
}

// beginsAt is where a note begins: at its first section or, where a later stage is on
// record, at what is asked of that.
func (s *Session) beginsAt(note ledger.NoteID) Place {
	place := Place{Screen: "section", Case: s.child.id, Note: note}
	o := s.child.open(note)
	o.agree()
	for _, p := range o.agreement {
		if p.Rule == rules.StageOrder {
			place.Part = p.Path.Section()
		}
	}
	return place
}

// newChild opens a case and begins with the child's own facts, which belong to
// every note: a stage 1 note by default is not assumed, so the child's page comes
// first.
func (s *Session) newChild() {
	if s.who.Name == "" {
		return
	}
	id := ledger.CaseID(s.ids.New())
	w := ledger.NewWriter(id, s.writerID, s.who, s.clock, s.ids, s.now)
	e := w.OpenCase()
	s.child = s.newChildOf(ledger.FoldCase(id, []ledger.Event{e}))
	s.keeper.append([]ledger.Event{e})
	s.listChanged(s.child)
	s.goToAt(Place{Screen: "child", Case: id}, "new-note")
}

// eraseForm asks twice before a child's record is destroyed on this device, and
// says what goes with it.
type eraseForm struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	sure    bool
}

func (e *eraseForm) CompoID() string { return string(e.Case) }

func (e *eraseForm) Render() app.UI {
	if !e.sure {
		return safe.Button{ID: "erase", Class: "danger", Words: "Erase from this device…", Press: func(app.Context) { e.sure = true; safe.FocusSoon("erase-no") }}.UI()
	}
	yes, key := "Erase it", "This destroys the key to this child's record on this device. It cannot be undone. Save it as a file first if it is nowhere else."
	var with []app.UI
	if e.S.child != nil {
		with = e.S.child.erasedToo()
	}
	if len(with) > 0 {
		yes = "Erase all " + itoa(len(with)+1) + " records"
	}
	return app.Div().Class("notice", "bad").Role("group").Aria("label", "Erase this child's record").Body(
		app.P().Text(key),
		app.If(len(with) > 0, func() app.UI {
			return app.Div().ID("erase-with").Body(
				app.P().Text("What is joined to it is erased too, also what was entered there before it was joined:"),
				app.Ul().Class("names").Body(with...),
				app.P().Text("To keep another record, part the two first, under “Two records, joined”."))
		}),
		safe.Button{ID: "erase-no", Words: "Keep it", Press: func(app.Context) { e.sure = false; safe.FocusSoon("erase") }}.UI(),
		safe.Button{ID: "erase-yes", Class: "danger", Words: yes, Press: func(app.Context) { e.S.erase(e.Case) }}.UI())
}

// erasedToo names the records joined to the child's, which are erased with it.
func (c *Child) erasedToo() []app.UI {
	var out []app.UI
	for _, other := range c.rec.Cases() {
		if other == c.id {
			continue
		}
		l := lineOf(c.apart(other))
		out = append(out, app.Li().Text(clipped(l.Name(), 80)+", No. "+clipped(l.numberShown(), 40)+" · "+strings.Join(parts(l.Last, inWords(l.Held)), " · ")))
	}
	return out
}
