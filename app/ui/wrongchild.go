package ui

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
)

// wrongChildPart moves what this person entered here to the child it belongs to.
func (s *Session) wrongChildPart() app.UI {
	var others []listed
	for _, l := range s.list {
		if !l.is(s.child.id) {
			others = append(others, l)
		}
	}
	return &wrongChild{S: s, Case: s.child.id, Version: s.child.rec.Version(), Who: s.who, Others: others}
}

type wrongChild struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	Who     ledger.Author
	Others  []listed

	open  bool
	most  int
	lacks string
}

// The names of what is half said of entries on the wrong child: which, whose, why.
const (
	halfWrong    = "wrong-chosen"
	halfWrongTo  = "wrong-to"
	halfWrongWhy = "wrong-why"
)

// chosen tells whether an entry is ticked.
func (w *wrongChild) chosen(e ledger.EventID) bool {
	return strings.Contains(w.S.child.half[halfWrong], string(e)+" ")
}

// choose ticks an entry, or takes the tick away.
func (w *wrongChild) choose(e ledger.EventID, on bool) {
	c := w.S.child
	ids := strings.ReplaceAll(c.half[halfWrong], string(e)+" ", "")
	if on {
		ids += string(e) + " "
	}
	c.halfTyped(halfWrong, ids)
}

// forget leaves everything where it is.
func (w *wrongChild) forget() {
	w.open, w.lacks, w.most = false, "", 0
	for _, name := range []string{halfWrong, halfWrongTo, halfWrongWhy} {
		w.S.child.halfTyped(name, "")
	}
}

func (w *wrongChild) CompoID() string { return "wrong-child-" + string(w.Case) }

func (w *wrongChild) Render() app.UI { return safe.Drawn("wrong child", w.draw) }

func (w *wrongChild) draw() app.UI {
	if w.S.child == nil || w.S.child.id != w.Case {
		return app.Div()
	}
	half := w.S.child.half
	open := w.open || half[halfWrong]+half[halfWrongTo]+half[halfWrongWhy] != ""
	w.most = max(w.most, atOnce)
	body := []app.UI{app.H2().ID("wrong-title").Text("Entered on the wrong child"),
		safe.Button{ID: "wrong-open", Words: map[bool]string{false: "Move what I entered here to another child…", true: "Leave it here"}[open], Opens: "wrong", Open: open,
			Off: w.Who.Name == "" || len(w.Others) == 0, Press: func(app.Context) {
				w.forget()
				w.open = !open
			}}.UI()}
	if len(w.Others) == 0 {
		body = append(body, app.P().Text("There is no other child on this device to move it to."))
	}
	body = append(body, w.moved()...)
	in := app.Div().ID("wrong")
	if open {
		in = in.Class("reason").Body(w.form()...)
	}
	return app.Section().Class("page").Aria("labelledby", "wrong-title").Body(append(body, in)...)
}

// moved lists what was moved from here to other children: who moved it, where, and what
// became of it there.
func (w *wrongChild) moved() (out []app.UI) {
	c := w.S.child
	for i, m := range c.rec.Moves() {
		id := itoa(i)
		words := entries(m.Count) + " moved to " + w.S.childNamed(m.To) + ". " + m.Author.String() + ", " + m.At.Shown() + ": " + strings.TrimSuffix(orNot(m.Why), ".") + ". "
		switch m.Became {
		case "":
			words += "Nobody there has taken or refused it yet: it counts nowhere."
		case ledger.MoveRefused:
			words += "Refused there by " + m.By.String() + ", " + m.Answered.Shown() + ": it counts nowhere."
		default:
			words += upperFirst(m.Became) + " there by " + m.By.String() + ", " + m.Answered.Shown() + "."
		}
		if m.Offer == "" {
			words = strings.TrimSuffix(words, "Nobody there has taken or refused it yet: it counts nowhere.")
		}
		buttons := []app.UI{}
		if w.S.onDevice(m.To) {
			buttons = append(buttons, linkTo(Place{Screen: "child", Case: m.To}, "Go to that child", "button", "quiet"))
		}
		if m.Offer != "" && (m.Became == "" || m.Became == ledger.MoveRefused) {
			buttons = append(buttons, safe.Button{ID: "bring-back-" + id, Words: "Bring it back here", Name: "Bring it back here: " + words, Off: w.Who.Name == "", Press: func(app.Context) {
				c.act(c.writer.BringBack(c.rec, m.Retraction, "brought back")...)
				w.S.keeper.whenKept(w.S.readList)
				safe.FocusSoon("wrong-title")
			}}.UI())
		}
		out = append(out, app.Div().ID("moved-"+id).Class("notice").Body(app.P().Text(words), app.Div().Class("actions").Body(buttons...)))
	}
	return out
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return itoa(n) + " entries"
}

// childNamed names another child, as far as its record is on this device.
func (s *Session) childNamed(id ledger.CaseID) string {
	for _, l := range s.list {
		if l.is(id) {
			return clipped(l.Name(), 60) + ", No. " + clipped(l.numberShown(), 30)
		}
	}
	return "a child that is not on this device"
}

func (s *Session) onDevice(id ledger.CaseID) bool {
	return slices.ContainsFunc(s.list, func(l listed) bool { return l.is(id) })
}

// movable lists what can be moved, newest first: each note in which this person wrote,
// whole, and what this person entered here and what still counts.
func movable(rec *ledger.Record, who ledger.Author) []saidLine {
	mine := map[ledger.NoteID]bool{} // notes in which this person wrote
	all := accountOf(rec)
	for _, l := range all {
		if l.Author == who && !l.Retracted {
			mine[l.Note] = true
		}
	}
	var notes, out []saidLine
	for _, l := range all {
		switch {
		case l.Retracted:
		case l.Kind == ledger.KindNoteOpened && mine[l.Note]:
			if v, ok := rec.NoteView(l.Note); ok {
				l.Words = "The whole note " + noteName(rec, v)
			}
			notes = append(notes, l)
		case l.Author != who:
		case l.Kind == ledger.KindFieldSet, l.Kind == ledger.KindRowAdded, l.Kind == ledger.KindItemListed, l.Kind == ledger.KindItemChecked, slices.Contains(ledger.RegisterKinds, l.Kind):
			out = append(out, l)
		}
	}
	out = append(out, notes...)
	slices.Reverse(out)
	return out
}

// along says what moves with what is ticked: how much, of whom, and which names under it.
func (w *wrongChild) along(ids []ledger.EventID) string {
	rec := w.S.child.rec
	goes := map[ledger.EventID]bool{}
	for _, id := range rec.GoesAlong(ids) {
		goes[id] = true
	}
	var others, names []string
	n := 0
	for _, l := range rec.Account() {
		if !goes[l.Event] {
			continue
		}
		switch by := l.Author.String(); {
		case ledger.IsSignature(l.Kind):
			names = append(names, strings.TrimSuffix(l.Words, ".")+" ("+by+", "+l.Happened.Shown()+")")
		case l.Author != w.Who:
			if n++; !slices.Contains(others, by) {
				others = append(others, by)
			}
		}
	}
	words := entries(len(goes)) + " would move"
	if n > 0 {
		words += ", of them " + itoa(n) + " that others entered and that go along: " + strings.Join(others, ", ")
	}
	words += "."
	if len(names) > 0 {
		words += " It is signed here: " + strings.Join(names, "; ") + ". That stays on record here and does not hold there: it must be signed there anew."
	}
	return words
}

func (w *wrongChild) form() []app.UI {
	c := w.S.child
	mine := movable(c.rec, w.Who)
	if len(mine) == 0 {
		return []app.UI{app.P().Text(w.Who.String() + " has entered nothing here that still counts, and has written in no note.")}
	}
	var rows []app.UI
	ticked := w.ticked(mine)
	for _, l := range mine[:min(w.most, len(mine))] {
		rows = append(rows, app.Li().Body(safe.Tick{ID: "wrong-" + string(l.Event), Words: l.Words, Aside: l.Happened.Shown() + " · " + l.where, On: w.chosen(l.Event),
			Change: func(ctx app.Context, on, _ bool) { w.choose(l.Event, on) }}.UI()))
	}
	var to []safe.Option
	for _, l := range w.Others {
		to = append(to, safe.Option{Value: string(l.Case), Words: clipped(l.Name(), 60) + ", No. " + clipped(l.numberShown(), 30) + ", born " + bornShown(l.identity)})
	}
	return []app.UI{
		app.P().Text("Tick what belongs to another child. A note, an entry of a list or a listed thing goes whole, with all that was said in it and of it; what is of the child itself, such as an allergy, is ticked by itself. It no longer counts here, stays on record here with where it went, and is offered there: nothing of the other child changes until somebody takes it. What was signed must be signed there anew."),
		app.Ul().Class("to-move").Body(rows...),
		app.Div().Class("actions").Body(
			app.If(len(mine) > w.most, func() app.UI {
				return safe.Button{ID: "wrong-more", Class: "quiet", Words: "Show older ones", Press: func(app.Context) { w.most += 200 }}.UI()
			}),
			safe.Button{ID: "wrong-all", Class: "quiet", Words: "Tick all that is shown", Press: func(app.Context) {
				for _, l := range mine[:min(w.most, len(mine))] {
					w.choose(l.Event, true)
				}
			}}.UI()),
		app.If(len(ticked) > 0, func() app.UI {
			return app.P().ID("wrong-along").Role("status").Body(app.Strong().Text(w.along(ticked)))
		}),
		app.Label().For("wrong-to").Text("Which child does it belong to?"),
		safe.Select{ID: "wrong-to", Value: c.half[halfWrongTo], Empty: "Choose the child", Options: to, Wrong: w.lacks != "" && c.half[halfWrongTo] == "", Change: func(ctx app.Context, v string) { c.halfTyped(halfWrongTo, v) }}.UI(),
		app.Label().For("wrong-why").Text("Why?"),
		c.halfEntry("wrong-why", halfWrongWhy, 300, w.lacks != "" && strings.TrimSpace(c.half[halfWrongWhy]) == "", nil),
		alert(w.lacks),
		app.Div().Class("actions").Body(safe.Button{ID: "wrong-move", Class: "main", Words: "Take it off here and offer it there", Press: func(app.Context) { w.move() }}.UI()),
	}
}

// ticked lists what is ticked of what can be moved.
func (w *wrongChild) ticked(of []saidLine) (ids []ledger.EventID) {
	for _, l := range of {
		if w.chosen(l.Event) {
			ids = append(ids, l.Event)
		}
	}
	return ids
}

// move takes what is ticked off this child and offers it to the other.
func (w *wrongChild) move() {
	c := w.S.child
	to, why := ledger.CaseID(c.half[halfWrongTo]), strings.TrimSpace(c.half[halfWrongWhy])
	ids := w.ticked(movable(c.rec, w.Who))
	switch {
	case len(ids) == 0:
		w.lacks = "Tick what belongs to the other child."
		return
	case to == "":
		w.lacks = "Choose the child it belongs to."
		safe.FocusSoon("wrong-to")
		return
	case why == "":
		w.lacks = "Say why: it stays on record with both children."
		safe.FocusSoon("wrong-why")
		return
	}
	w.S.commitHere()
	n := len(c.rec.GoesAlong(ids))
	c.act(c.writer.MoveToOther(c.rec, ids, to, why)...)
	w.forget()
	w.S.say(notice{id: "moved", words: entries(n) + " taken off here and offered to the other child. Somebody takes or refuses it there.", do: "Go to the other child",
		act: func(app.Context) { w.S.unsay("moved"); w.S.goTo(Place{Screen: "child", Case: to}) }})
	w.S.keeper.whenKept(w.S.readList)
	safe.FocusSoon("moved")
}
