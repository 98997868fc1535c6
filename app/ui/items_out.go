package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
)

// outForm records in a note that an item from before came out, when, and whether
// whole. A note is often written after the operation: the time it is written is not
// the time of the removal.
type outForm struct {
	app.Compo
	Pane *itemsPane
	Note ledger.NoteID
	Item ledger.ItemID

	open  bool
	wrong string
}

func (f *outForm) CompoID() string { return "out-" + string(f.Item) }

func (f *outForm) Render() app.UI {
	return safe.Drawn("out", func() app.UI {
		id, half := string(f.Item), "out-"+string(f.Item)
		s := f.Pane.S
		c := s.child
		if c == nil {
			return app.Div()
		}
		if !f.open && c.half[half] == "" {
			return safe.Button{ID: "out-" + id, Words: "It is out…", Off: f.Pane.Locked, Press: func(app.Context) { f.open = true; safe.FocusSoon("out-when-" + id) }}.UI()
		}
		body := []app.UI{
			app.Label().For("out-when-" + id).Text(whenWords),
			safe.Entry{ID: "out-when-" + id, Value: strings.TrimPrefix(c.half[half], ledger.NotKnown), Max: 40, Wrong: f.wrong != "", Type: func(_ app.Context, t string) { c.halfTyped(half, t) }}.UI(),
			unknownTime("out-when-"+id, c.half[half], func(v string) { c.halfTyped(half, v) }),
			app.P().ID("out-when-" + id + "-is").Class("aside").Role("status").Text(s.understood(strings.TrimSpace(c.half[half]))),
		}
		body = append(body, alert(f.wrong))
		for _, whole := range []struct{ value, words string }{{"yes", "It is out, whole"}, {"no", "It is out, not whole"}, {ledger.NotKnown, "It is out; whether whole is not known"}} {
			body = append(body, safe.Button{ID: "out-" + strings.ReplaceAll(whole.value, " ", "-") + "-" + id, Words: whole.words, Off: f.Pane.Locked, Press: func(app.Context) {
				f.record(whole.value)
			}}.UI())
		}
		return app.Div().Class("answer-form").Role("group").Aria("label", "It is out").Body(append(body,
			safe.Button{ID: "out-leave-" + id, Class: "quiet", Words: "Leave it in", Press: func(app.Context) {
				c.halfTyped(half, "")
				f.open, f.wrong = false, ""
				safe.FocusSoon("out-" + id)
			}}.UI())...)
	})
}

// record keeps the removal, if its time can be read.
func (f *outForm) record(whole string) {
	s, half := f.Pane.S, "out-"+string(f.Item)
	facts, text := ledger.RegisterFacts{Complete: whole}, s.child.half[half]
	if text == ledger.NotKnown {
		facts.Time, text = text, ""
	}
	at, _, wrong := s.moment(text)
	if f.wrong = wrong; wrong != "" {
		safe.FocusSoon("out-when-" + string(f.Item))
		return
	}
	w := s.child.writer
	if !at.IsZero() {
		w = w.At(at)
	}
	s.child.halfTyped(half, "")
	f.open = false
	f.Pane.do(w.Register(f.Note, ledger.KindRemoved, f.Item, facts))
}
