//go:build !(js && wasm)

package ui

import (
	"math/rand"
	"testing"

	"time"

	"fairlead/app/demo"
	"fairlead/app/ui/civil"
	"fairlead/handover/ledger"
	"fairlead/handover/sheet"
	"fairlead/schema"
)

// full is a session with the invented child's stage 1 note open.
func full(t testing.TB) (*Session, *openNote) {
	s := newSession(civil.In(time.UTC, time.Now), rand.New(rand.NewSource(7)))
	s.store = ledger.NewMemory()
	s.setWho(ledger.Author{Name: "A. Surgeon", Role: "surgeon"})
	events, err := demo.Events()
	if err != nil {
		t.Fatal(err)
	}
	var best *ledger.Record
	for _, c := range casesIn(events) {
		var own []ledger.Event
		for _, e := range events {
			if e.Case == c {
				own = append(own, e)
			}
		}
		if r := ledger.FoldCase(c, own); best == nil || r.Len() > best.Len() {
			best = r
		}
	}
	s.child = s.newChildOf(best)
	note := best.Notes()[0].ID
	s.place = Place{Screen: "section", Case: best.Case(), Note: note, Part: "gas"}
	return s, s.child.open(note)
}

// BenchmarkKey is what Go does between a key and its drawing, natively.
func BenchmarkKey(b *testing.B) {
	s, o := full(b)
	drawSection(s)
	for i := 0; b.Loop(); i++ {
		o.do.Type(none, schema.GasLactate, []string{"1", "12"}[i%2])
		s.banner(screens["section"])
		drawSection(s)
	}
}

// BenchmarkSheet is the sheet beside the note, made on each key.
func BenchmarkSheet(b *testing.B) {
	_, o := full(b)
	for i := 0; b.Loop(); i++ {
		o.do.Type(none, schema.GasLactate, []string{"1", "12"}[i%2])
		makeSheet(o)
	}
}

// BenchmarkSheetAnew is the same sheet with nothing kept.
func BenchmarkSheetAnew(b *testing.B) {
	_, o := full(b)
	for b.Loop() {
		sheet.Flow(factsNow(o)).BlocksHTML()
	}
}
