//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// A note written late does not make the removal late; a time that cannot be is not
// kept, and stays in its box.
func TestWhenItCameOutIsAsked(t *testing.T) {
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "left-pleural"}}) // at 12:00
	s, id := p.S, item().ID
	c := s.child
	next := c.writer.NewNote()
	c.act(c.writer.OpenNote(next, schema.Reexploration))
	s.place = Place{Screen: "items", Case: c.id, Note: next, Part: string(id)}
	f := &outForm{Pane: &itemsPane{S: s, Place: s.place}, Note: next, Item: id}

	f.open = true
	c.halfTyped("out-"+string(id), "at dawn")
	f.record("yes")
	if v, _ := c.rec.Item(id); !v.Where.In() || f.wrong == "" || c.half["out-"+string(id)] != "at dawn" {
		t.Errorf("“at dawn” was taken: %q %q", v.Where, f.wrong)
	}
	c.halfTyped("out-"+string(id), "10:20")
	if html := drawn(t, f.Render()); !strings.Contains(html, "Today, 14-Jul-2026 10:20") {
		t.Errorf("it is not said what the time is taken for:\n%s", html)
	}
	f.record("yes")
	if v, _ := c.rec.Item(id); v.Where != ledger.Removed || v.Since.Shown() != "14-Jul-2026 10:20" {
		t.Errorf("removed: %q since %q", v.Where, v.Since.Shown())
	}
	if c.half["out-"+string(id)] != "" || f.open {
		t.Error("the form stays open")
	}
}
