//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// bedOf is the bedside of the child on screen.
func bedOf(s *Session) *bedsidePane {
	return &bedsidePane{S: s, Place: Place{Screen: "bedside", Case: s.child.id}, Version: s.child.rec.Version()}
}

// The map at the bedside is of what is in: what an exchange put in stands on it once
// its place is entered, what came out or was lost does not.
func TestBedsideMapIsOfWhatIsIn(t *testing.T) {
	s, _, _ := begun(t)
	c, note := s.child, s.place.Note
	put := func(kind string, tag int, exit string) ledger.ItemID {
		id := c.writer.NewItem()
		c.act(c.writer.ListItem(note, id, kind, tag), c.writer.Set(c.rec, note, schema.ItemPath(string(id), "exit"), ledger.Entry{Value: exit, Origin: ledger.Origin{How: ledger.HowPick}}))
		return id
	}
	line, hand, la := put("central-venous-line", 1, "right-neck"), put("peripheral-cannula", 2, "left-hand"), put("intracardiac-line", 3, "subxiphoid")
	flag := func(tag int) string { return `aria-label="Tag ` + itoa(tag) + `,` }
	before := drawn(t, bedOf(s))
	for tag := 1; tag <= 3; tag++ {
		if !strings.Contains(before, flag(tag)) {
			t.Fatalf("tag %d is not on the map to begin with", tag)
		}
	}
	fresh, events := c.writer.Exchange(c.rec, line, "", ledger.RegisterFacts{Complete: "yes"})
	c.act(events...)
	c.act(c.writer.Happen(ledger.KindRemoved, hand, ledger.RegisterFacts{Complete: "yes"}), c.writer.Happen(ledger.KindLost, la, ledger.RegisterFacts{Note: "not on the X-ray"}))
	v, _ := c.rec.Item(fresh)
	after := drawn(t, bedOf(s))
	for tag := 1; tag <= 3; tag++ {
		if strings.Contains(after, flag(tag)) {
			t.Errorf("tag %d is out or lost, and on the map", tag)
		}
	}
	if !strings.Contains(after, "is not recorded: tags "+itoa(v.Tag)) || !strings.Contains(after, "On record as lost, not drawn: tags 3") {
		t.Errorf("what is not drawn is not said: %s", after)
	}
	if !strings.Contains(after, `id="gone-`+string(hand)) || !strings.Contains(after, `id="gone-`+string(line)) {
		t.Error("what came out is not listed")
	}

	it, _ := c.register().Item(fresh)
	f := &aboutForm{S: s, Item: it.Item}
	f.draw()
	c.halfTyped(f.key("size"), "fifty")
	c.halfTyped(f.key("exit"), "left-neck")
	f.save()
	if f.wrong["size"] == "" || c.half[f.key("exit")] != "left-neck" {
		t.Errorf("a size in words is taken, or what was entered beside it is lost: %v", f.wrong)
	}
	c.halfTyped(f.key("size"), "5")
	f.save()
	it, _ = c.register().Item(fresh)
	if it.Item.Text("exit") != "left-neck" || it.Item.Note().Decimal(it.Item.Path("size")) != "5" {
		t.Errorf("what the new line is was not recorded: %q, %q", it.Item.Text("exit"), it.Item.Note().Decimal(it.Item.Path("size")))
	}
	if html := drawn(t, bedOf(s)); !strings.Contains(html, flag(v.Tag)) {
		t.Error("the new line is not on the map")
	}
}

// What was found and not listed is listed from the bedside; in words alone it can
// only be said not to be in the child.
func TestFoundAndNotListedIsNotSettledAway(t *testing.T) {
	s, _, _ := begun(t)
	c, note := s.child, s.place.Note
	id := c.writer.NewItem()
	c.act(c.writer.Check(c.rec, note, ledger.CheckView{Occasion: ledger.Arrival, Item: id, Answer: ledger.Extra, Note: "Left pleural drain, left chest"}))
	html := drawn(t, bedOf(s))
	if !strings.Contains(html, `id="list-as-`+string(id)) || !strings.Contains(html, "It is not in the child") || strings.Contains(html, ">Settle<") {
		t.Errorf("an unlisted find offers %s", html)
	}
	c.act(c.writer.ListItem(note, id, "drain", c.rec.NextTag()))
	if r := c.register(); len(r.Open) != 0 || len(r.Items) != 1 {
		t.Errorf("listed, %d are open and %d are in", len(r.Open), len(r.Items))
	}
}

// Out, and found at the bed afterwards: the bedside says which, and why.
func TestDisputeIsShownAtTheBedside(t *testing.T) {
	s, _, _ := begun(t)
	c, note := s.child, s.place.Note
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(note, id, "peripheral-cannula", 1))
	c.act(c.writer.At(s.now().Add(-10*time.Minute)).Happen(ledger.KindRemoved, id, ledger.RegisterFacts{Complete: "yes"}))
	c.act(c.writer.Check(c.rec, note, ledger.CheckView{Occasion: ledger.Arrival, Item: id, Answer: ledger.Found}))
	if n := len(c.register().Tally.Disputed); n != 1 {
		t.Fatalf("%d in dispute", n)
	}
	if html := drawn(t, bedOf(s)); !strings.Contains(html, "found at the bed by") {
		t.Error("the bedside does not say what is in dispute")
	}
}

// A removal entered by mistake is taken back from the account, with the reason, and
// the thing is in again.
func TestOneEntryIsTakenBack(t *testing.T) {
	s, _, _ := begun(t)
	c, note := s.child, s.place.Note
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(note, id, "drain", 1))
	e := c.writer.Happen(ledger.KindRemoved, id, ledger.RegisterFacts{Complete: "yes"})
	c.act(e)
	if len(c.register().Items) != 0 {
		t.Fatal("removed, it is still in")
	}
	s.readAccount(string(id), "")
	a := s.accountPart().(*accountPane)
	if html := drawn(t, a); !strings.Contains(html, `id="back-`+string(e.ID)) {
		t.Fatalf("the removal cannot be taken back: %s", html)
	}
	b := &takeBack{S: s, Event: e.ID, Words: "removed", open: true}
	if html := drawn(t, b); !strings.Contains(html, "back-why-"+string(e.ID)) {
		t.Errorf("no reason is asked: %s", html)
	}
	c.act(c.writer.Retract("", []ledger.EventID{e.ID}, "wrong bed", ""))
	if len(c.register().Items) != 1 {
		t.Error("taken back, it is not in again")
	}
	for _, l := range a.found() {
		if l.Event == e.ID && canTakeBack(l) {
			t.Error("what was taken back can be taken back again")
		}
	}
}

func TestPlaceFollowsTheSide(t *testing.T) {
	s, _, _ := begun(t)
	c, note := s.child, s.place.Note
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(note, id, "central-venous-line", 1), c.writer.Set(c.rec, note, schema.ItemPath(string(id), "exit"), ledger.Entry{Value: "right-neck", Origin: ledger.Origin{How: ledger.HowPick}}))
	it, _ := c.rec.Child().Item(string(id))
	for side, want := range map[string]string{"left": "left-neck", "right": "", "midline": ""} {
		if got := exitOn(it, "side", side); got != want {
			t.Errorf("on the %s it comes out at %q, want %q", side, got, want)
		}
	}
	if exitOn(it, "depth", "left") != "" {
		t.Error("another attribute moves where it comes out")
	}
}
