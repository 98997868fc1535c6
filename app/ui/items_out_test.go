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

// Where a thing comes out is read in full in its row, however much is recorded beside it.
func TestPlaceIsReadInFull(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(o.id, id, "central-venous-line", 1))
	long := "Right internal jugular vein, low in the neck, beside the old scar of the cannulation"
	for name, v := range map[string]string{"variety": "jugular", "exit": "right-neck", "site": long, "fixation": "sutured", "skin": "clean", "movedTo": "6 cm at the skin"} {
		if schema.FieldAt(schema.ItemPath("central-venous-line", name)) != nil {
			c.act(c.writer.Set(c.rec, o.id, schema.ItemPath(string(id), name), ledger.Entry{Value: v}))
		}
	}
	o.renew()
	p := &itemsPane{S: s, Place: Place{Screen: "items", Case: c.id, Note: o.id}}
	html := drawn(t, p.draw())
	for _, want := range []string{"Where it comes out: right neck", lowerFirst(long)} {
		if !strings.Contains(html, want) {
			t.Errorf("the row does not say %q", want)
		}
	}
}
