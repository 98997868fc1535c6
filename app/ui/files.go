package ui

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

func (s *Session) now() schema.Moment { return civil.Now(s.zone) }

func definitionsVersion() string { return schema.Version() }

// notKeptWords says why something was not kept, and what to do, in a sentence.
func notKeptWords(err error) string {
	switch {
	case errors.Is(err, errNoStore):
		return "This browser keeps nothing for this page. Private windows often do not."
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return "The device's store did not answer."
	}
	words := err.Error()
	if words == "" {
		return "The device's store refused it."
	}
	words = strings.ToUpper(words[:1]) + words[1:]
	if !strings.HasSuffix(words, ".") {
		words += "."
	}
	return words
}

// export saves a child's whole record as a file. Nothing about the child stands
// in the file's name.
func (s *Session) export(c ledger.CaseID) {
	s.commitHere()
	save := func(rec *ledger.Record) {
		content, err := ledger.Export(rec.Events())
		if err != nil {
			s.say(notice{id: "export", class: "bad", words: "The file could not be made: " + notKeptWords(err)})
			return
		}
		safe.Save(ledger.FileName(c), "application/json", content)
	}
	if s.child != nil && s.child.id == c {
		save(s.child.rec)
		return
	}
	if s.store == nil {
		return
	}
	go safe.Guard("export", func() {
		rec, err := ledger.Load(context.Background(), s.store, c)
		s.later(func() {
			if err != nil {
				s.say(notice{id: "unread", class: "bad", words: "The record could not be read for the file: " + notKeptWords(err)})
				return
			}
			save(rec)
		})
	})
}

// importFile takes a child's file in. What is here already joins with it; nothing
// is overwritten.
func (s *Session) importFile(content []byte, refused string) {
	if refused != "" {
		s.say(notice{id: "import", class: "bad", words: refused})
		return
	}
	events, problems, err := ledger.Import(content)
	if err != nil {
		s.say(notice{id: "import", class: "bad", words: "The file was not opened: " + notKeptWords(err) + " Nothing here was changed."})
		return
	}
	if len(events) == 0 {
		s.say(notice{id: "import", class: "bad", words: "The file holds nothing that can be read. Nothing here was changed."})
		return
	}
	words := ""
	for _, p := range problems {
		words += " " + p.What + " " + p.Do
	}
	if len(casesIn(events)) == 0 {
		return
	}
	s.takeIn(events, words)
}

// takeIn takes the events of a file in. What is kept already is passed over; an
// entry whose id is kept with another content is kept beside it, and named by the
// record.
func (s *Session) takeIn(events []ledger.Event, words string) {
	c := events[0].Case
	if s.child != nil && slices.ContainsFunc(events, func(e ledger.Event) bool { return s.child.loaded[e.Case] }) {
		s.child.take(events)
	}
	s.keeper.append(events)
	s.say(notice{id: "import", words: "The file was opened: " + itoa(len(events)) + " entries, joined with what was here." + words})
	s.keeper.whenKept(func() {
		s.readList()
		s.goTo(Place{Screen: "child", Case: c})
	})
}

func casesIn(events []ledger.Event) []ledger.CaseID {
	var out []ledger.CaseID
	for _, e := range events {
		if !slices.Contains(out, e.Case) {
			out = append(out, e.Case)
		}
	}
	return out
}

// erase destroys a child's record on this device.
func (s *Session) erase(c ledger.CaseID) {
	if s.store == nil {
		return
	}
	cases := []ledger.CaseID{c}
	if s.child != nil && s.child.loaded[c] {
		cases = s.child.rec.Cases()
	}
	go safe.Guard("erase", func() {
		var err error
		for _, c := range cases { // with the records joined to it: they are of one child
			err = cmp.Or(err, s.store.Erase(context.Background(), c))
		}
		s.later(func() {
			if err != nil {
				s.say(notice{id: "erase", class: "bad", words: "The record was not erased: " + notKeptWords(err)})
				return
			}
			s.child = nil
			s.say(notice{id: "erase", words: "The record was erased from this device."})
			s.readList()
			s.goTo(Place{Screen: "children"})
		})
	})
}

// hasDemo tells whether an invented child is here already.
func (s *Session) hasDemo() bool {
	for _, l := range s.list {
		if l.Invented {
			return true
		}
	}
	return false
}

// loadDemo takes the invented children in.
func (s *Session) loadDemo() {
	s.say(notice{id: "demo", words: "Getting the invented children …"})
	s.withDemo(func(events []ledger.Event) {
		s.unsay("demo")
		s.keeper.append(events)
		s.keeper.whenKept(s.readList)
	})
}

// withDemo gets the events of the invented children and hands them on, or says why not.
func (s *Session) withDemo(do func([]ledger.Event)) {
	go safe.Guard("demo", func() {
		events, err := demoEvents()
		s.later(func() {
			if err != nil {
				s.say(notice{id: "demo", class: "bad", words: "The invented children could not be made: " + notKeptWords(err)})
				return
			}
			do(events)
		})
	})
}

// wipeForm locks and wipes.
func (s *Session) wipeActions() app.UI {
	return app.Div().Class("actions").Body(
		safe.Button{ID: "lock", Words: "Lock this screen", Press: func(app.Context) { s.lock() }}.UI(),
		&wipeForm{S: s})
}

// lock puts everything about every child out of sight, also over a reload, and
// forgets who was writing.
func (s *Session) lock() {
	s.commitHere()
	s.setWho(ledger.Author{})
	s.locked = true
	remember("locked", "yes")
	s.goTo(Place{Screen: "children"})
	safe.FocusSoon("heading")
}

// lockScreen is all that is shown while the screen is locked.
var lockScreen = screen{name: "locked", title: "Locked", draw: func(s *Session) app.UI {
	return app.Div().Body(
		app.P().Class("page").Text("What is kept here is out of sight. Say who is writing to go on. This keeps out eyes, not hands: whoever holds the device can go on."),
		&whoForm{S: s})
}}

type wipeForm struct {
	app.Compo
	S    *Session
	sure bool
}

func (w *wipeForm) Render() app.UI {
	if !w.sure {
		return safe.Button{ID: "wipe", Class: "danger", Words: "Wipe this device…", Press: func(app.Context) { w.sure = true; safe.FocusSoon("wipe-no") }}.UI()
	}
	return app.Div().Class("notice", "bad").Role("group").Aria("label", "Wipe this device").Body(
		app.P().Text("This destroys every child's record on this device. It cannot be undone. Save each as a file first if it is nowhere else."),
		safe.Button{ID: "wipe-no", Words: "Keep them", Press: func(app.Context) { w.sure = false; safe.FocusSoon("wipe") }}.UI(),
		safe.Button{ID: "wipe-yes", Class: "danger", Words: "Wipe everything", Press: func(ctx app.Context) { w.S.wipe(); w.sure = false }}.UI())
}

// wipe destroys every child's record on this device.
func (s *Session) wipe() {
	if s.store == nil {
		return
	}
	go safe.Guard("wipe", func() {
		err := s.device.wipe(context.Background())
		s.later(func() {
			s.child = nil
			if err != nil {
				s.say(notice{id: "erase", class: "bad", words: "Not everything was wiped: " + notKeptWords(err)})
			} else {
				app.Window().Get("location").Set("href", "/") // the store is gone: begin anew
			}
		})
	})
}
