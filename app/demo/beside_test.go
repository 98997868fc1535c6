package demo

import (
	"sync"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

// The board reads every record beside the one on the screen: what the packages keep
// for all records must bear that. Without the race detector a map that two change at
// once still ends the program now and then.
func TestRecordsBesideEachOther(t *testing.T) {
	events, err := Events()
	if err != nil {
		t.Fatal(err)
	}
	now, err := schema.ParseMoment("2026-11-28T12:00+00:00")
	if err != nil {
		t.Fatal(err)
	}
	prof, made := profile.Default(), make([]int, 4)
	var wg sync.WaitGroup
	for i := range made {
		wg.Go(func() {
			children := map[ledger.CaseID]bool{}
			for _, e := range events {
				children[e.Case] = true
			}
			for child := range children {
				rec := ledger.FoldCase(child, events)
				made[i] += len(lines.UnitChildOf(lines.RegisterOf(rec, prof, now)).Items)
				for _, n := range rec.Notes() {
					rules.Check(rec.Whole(n.ID), prof, rules.Context{Now: now})
					made[i] += len(lines.KeptBefore(rec, n.ID)) + len(sheet.Build(rec, n.ID, prof, now).PagesHTML())
				}
			}
		})
	}
	wg.Wait()
	for _, n := range made {
		if n == 0 || n != made[0] {
			t.Fatalf("made different things of the same records: %v", made)
		}
	}
}
