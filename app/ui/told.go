package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// toldBefore shows what the notes before say of what the section is about: it is read,
// not copied, since what holds now is for the one who looks now. The newest stands
// open, the older ones in one fold that names them.
func (s *Session) toldBefore(note ledger.NoteID, section string) app.UI {
	told := lines.ToldBefore(s.child.rec, note, section)
	var inside []app.UI
	if section == schema.ApproachAdhesions.Section() {
		for _, l := range lines.InsideBefore(s.child.rec, note) {
			inside = append(inside, app.Dt().Text(l.Words+" (tag "+itoa(l.Tag)+")"), app.Dd().Text(l.Said))
		}
	}
	if len(told)+len(inside) == 0 {
		return nil
	}
	body := []app.UI{app.H2().Text("From the notes before")}
	if len(inside) > 0 {
		body = append(body, app.H3().Text("Left inside"), app.Dl().ID("told-inside").Class("facts").Body(inside...))
	}
	var old []app.UI
	var older []string
	for i, t := range told {
		var said []app.UI
		for _, x := range t.Said {
			said = append(said, app.Dt().Text(x.Title), app.Dd().Text(x.Words))
		}
		name := noteName(s.child.rec, t.By)
		told := []app.UI{app.H3().Text(name), app.Dl().Class("facts").Body(said...)}
		if i == 0 {
			body = append(body, told...)
			continue
		}
		older, old = append(older, name), append(old, told...)
	}
	if len(older) > 0 {
		words := itoa(len(older)) + " older notes: "
		if len(older) == 1 {
			words = "1 older note: "
		}
		body = append(body, app.Details().Class("fold").Body(append([]app.UI{app.Summary().Text(words + strings.Join(older, "; "))}, old...)...))
	}
	return app.Div().Class("told-before").Role("group").Aria("label", "From the notes before").Body(body...)
}

// onRecord offers what the notes before tell of the time before and this one does not
// hold: each with the note it is from, taken in one tap or all at once. What is taken
// stands in the fields, to be read and corrected there.
func (s *Session) onRecord(note ledger.NoteID, section string) app.UI {
	if section != schema.BeforeOperations.Section() {
		return nil
	}
	c := s.child
	kept := lines.KeptBefore(c.rec, note)
	if len(kept) == 0 {
		return nil
	}
	take := func(kept []lines.Kept) func(app.Context) { return func(app.Context) { s.takeOver(note, kept) } }
	off := s.who.Name == ""
	body := []app.UI{app.H2().Text("On record, and not in this note")}
	if len(kept) > 1 {
		body = append(body, safe.Button{ID: "take-all-kept", Class: "main", Words: "Take all " + itoa(len(kept)) + " into this note", Off: off, Press: take(kept)}.UI())
	}
	for i, k := range kept {
		name := noteName(c.rec, k.By)
		var said []app.UI
		for _, x := range k.Parts {
			said = append(said, app.Dt().Text(x.Title), app.Dd().Text(x.Words))
		}
		class := "quiet"
		if len(kept) == 1 {
			class = "main"
		}
		head := "From " + name + " (" + noteState(c.standing(k.By.ID)) + ")"
		offer := []app.UI{app.Dl().Class("facts").Body(said...), safe.Button{ID: "take-kept-" + itoa(i), Class: class, Words: "Take it into this note", Name: "Take it into this note: " + k.Parts[0].Words + ", from " + name, Off: off, Press: take(kept[i : i+1])}.UI()}
		if len(kept) <= 2 {
			body = append(append(body, app.H3().Text(head)), offer...)
			continue
		}
		first := k.Parts[0].Words // several are long: each is told in a line, and whole where it is opened
		if len(k.Parts) > 1 {
			first += ", " + k.Parts[1].Words
		}
		body = append(body, app.Details().Class("fold").Body(append([]app.UI{app.Summary().Text(head + ": " + first)}, offer...)...))
	}
	return app.Div().Class("told-before").ID("on-record").Role("group").Aria("label", "On record, and not in this note").Body(body...)
}

// takeOver writes what was offered into the note, as one action.
func (s *Session) takeOver(note ledger.NoteID, kept []lines.Kept) {
	s.commitHere()
	c := s.child
	w := c.writer.Together()
	for _, k := range kept {
		c.act(k.Take(w, c.rec, note, noteName(c.rec, k.By))...)
	}
	safe.Announce("said-aloud", "It stands in this note now, below.")
	safe.FocusSoon("heading") // what was offered is gone; the fields follow
}
