package ui

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// undoButtons take back and do again this person's last action at this tab.
func (s *Session) undoButtons() []app.UI {
	l := s.child.look()
	return []app.UI{
		safe.Button{ID: "undo", Class: "quiet", Words: "Undo", Off: !l.canUndo && !s.child.typing(), Press: func(app.Context) { s.undo(false) }}.UI(),
		safe.Button{ID: "redo", Class: "quiet", Words: "Redo", Off: !l.canRedo, Press: func(app.Context) { s.undo(true) }}.UI(),
	}
}

// typing tells whether something is typed and not yet taken as meant.
func (c *Child) typing() bool {
	for _, o := range c.notes {
		if len(o.drafts) > 0 {
			return true
		}
	}
	return false
}

// undo takes back, or with redo does again, this person's last action. What is
// being typed is taken as meant first, so that it is what is taken back; text
// that cannot be read is dropped.
func (s *Session) undo(redo bool) {
	c := s.child
	if c == nil || s.who.Name == "" {
		return
	}
	s.commitHere()
	if !redo && c.typing() {
		for _, o := range c.notes {
			for _, at := range o.sortedDrafts() {
				o.dropDraft(at)
			}
		}
		return
	}
	var events []ledger.Event
	var ok bool
	if redo {
		events, ok = c.writer.Redo(c.rec)
	} else {
		events, ok = c.writer.Undo(c.rec)
	}
	if !ok {
		words := "There is nothing of yours here to take back: it was signed for, or somebody has changed it since."
		if redo {
			words = "There is nothing to do again."
		}
		s.say(notice{id: "undo-none", words: words})
		return
	}
	c.act(events...)
	words := "Taken back: "
	if redo {
		words = "Done again: "
	}
	safe.Announce("said-aloud", words+c.wordsFor(events))
	c.goToChange(events)
}

// about is the place an event speaks of: a field, a list, or an item.
func about(e ledger.Event) (at schema.Path, item string) {
	var b struct {
		Path schema.Path `json:"path"`
		List schema.Path `json:"list"`
		Item string      `json:"item"`
	}
	if json.Unmarshal(e.Body, &b) != nil {
		return "", ""
	}
	if b.Path == "" {
		b.Path = b.List
	}
	return b.Path, b.Item
}

// wordsFor says what events were about.
func (c *Child) wordsFor(events []ledger.Event) string {
	for _, e := range events {
		at, item := about(e)
		if at != "" {
			for _, o := range c.notes {
				if def := o.working.FieldAt(at); def != nil {
					return def.Title
				}
			}
			return at.Last()
		}
		if item != "" {
			return "an item"
		}
	}
	return "the last action"
}

// goToChange takes the focus to what was taken back, if it is on this screen, or
// else to its section; where the note on screen was taken back, to the child's page.
func (c *Child) goToChange(events []ledger.Event) {
	if note := c.s.place.Note; note != "" && c.rec.NoteGone(note) {
		c.s.goToAt(Place{Screen: "child", Case: c.id}, "new-note")
		return
	}
	for _, e := range events {
		at, _ := about(e)
		if at == "" || c.s.place.Screen != "section" {
			continue
		}
		if list := at.List(); list != "" && list.Section() != "items" {
			c.open(c.s.place.Note).rows[list] = at.Row()
		}
		place := c.s.place
		if section := at.Section(); schema.SectionNamed(section) != nil {
			place = place.With("section", section)
		}
		c.s.goToAt(place, widgets.EntryID(at))
		return
	}
}
