package ledger

import (
	"testing"

	"fairlead/schema"
)

// What the stage 2 note says was taken out leaves the list by that note, at the end of
// its operation; what is taken back is in again, and what two people differ about
// takes nothing off the list.
func TestOldSupplyLeavesTheList(t *testing.T) {
	w := newWard(t)
	shunt := w.list(w.note, "implant")
	w.do(w.a.Set(w.rec, w.note, schema.ItemPath(string(shunt), "variety"), Entry{Value: "shunt"}))
	next := w.open(schema.Stage2)
	where := func() Whereabouts { v, _ := w.rec.Item(shunt); return v.Where }
	says := func(p schema.Path, e Entry) { w.do(w.a.Set(w.rec, next, p, e)) }
	says(schema.Stage2OldSupplyItems, Entry{Value: []string{string(shunt)}})
	says(schema.Stage2OldSupply, Entry{Value: "clipped"})
	if where() != InChild || len(w.rec.Whole(next).Items()) != 1 {
		t.Fatalf("clipped, and it is %s", where())
	}
	says(schema.Stage2OldSupply, Entry{Value: "taken-out"})
	v, _ := w.rec.Item(shunt)
	if v.Where != Removed || len(v.Events) != 1 || v.Events[0].Note != next || v.Events[0].Author != w.a.Author() {
		t.Fatalf("taken out, and it is %s: %+v", v.Where, v.Events)
	}
	says(schema.OperationClosed, Entry{Value: "2026-07-14T13:05+01:00"})
	if v, _ := w.rec.Item(shunt); v.Since.Clock() != "13:05" {
		t.Errorf("out since %s, not since the end of the operation", v.Since.Shown())
	}
	if len(w.rec.Earlier(next)) != 1 {
		t.Error("the note that took it out no longer knows it")
	}
	if after := w.open(schema.Closure); len(w.rec.Earlier(after)) != 0 {
		t.Error("it is handed on to the note after")
	}
	w.do(w.n.Set(w.rec, next, schema.Stage2OldSupply, Entry{Value: "taken-out"}))
	apart := []Event{w.a.Set(w.rec, next, schema.Stage2OldSupply, Entry{Value: "taken-out"}), w.n.Set(w.rec, next, schema.Stage2OldSupply, Entry{Value: "left-open"})}
	w.do(apart...)
	if where() != InChild {
		t.Errorf("two people differ, and it is %s", where())
	}
	says(schema.Stage2OldSupply, Entry{Value: "taken-out"})
	says(schema.Stage2OldSupplyItems, Entry{})
	if where() != InChild {
		t.Errorf("none is named, and it is %s", where())
	}
}
