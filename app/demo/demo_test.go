package demo

import (
	"bytes"
	"encoding/json"
	"os"
	"strings"
	"testing"

	"fairlead/app/demo/gen/fold"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

func folded(t *testing.T) map[ledger.CaseID]*ledger.Record {
	t.Helper()
	events, err := Events()
	if err != nil {
		t.Fatal(err)
	}
	by := map[ledger.CaseID][]ledger.Event{}
	for _, e := range events {
		by[e.Case] = append(by[e.Case], e)
	}
	out := map[ledger.CaseID]*ledger.Record{}
	for c, es := range by {
		out[c] = ledger.Fold(es)
	}
	return out
}

func TestNotesAreFoldedAnew(t *testing.T) {
	want, err := fold.Notes("../../testdata/notes")
	if err != nil {
		t.Fatal(err)
	}
	have, err := os.ReadFile("notes.json")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, have) {
		t.Error("notes.json is not what gen makes of testdata/notes: run go run fairlead/app/demo/gen")
	}
}

func TestTheSameEventsEachTime(t *testing.T) {
	a, err := Events()
	if err != nil {
		t.Fatal(err)
	}
	b, _ := Events()
	x, _ := json.Marshal(a)
	y, _ := json.Marshal(b)
	if !bytes.Equal(x, y) {
		t.Error("two calls gave different events")
	}
}

func TestTheChildren(t *testing.T) {
	children := folded(t)
	if len(children) != 3 {
		t.Fatalf("%d children, want 3", len(children))
	}
	journeys := 0
	var names []string
	for c, r := range children {
		child := r.Child()
		names = append(names, child.Text(schema.ChildSurname)+", "+child.Text(schema.ChildGivenName))
		if !strings.HasPrefix(child.Text(schema.ChildHospitalNumber), Prefix) {
			t.Errorf("child %s is not marked as invented", c)
		}
		if fs := r.Faults(); len(fs) > 0 {
			t.Errorf("child %s: the record has faults: %v", c, fs)
		}
		if ds := r.Disagreements(); len(ds) > 0 {
			t.Errorf("child %s: the record has disagreements: %v", c, ds)
		}
		if tw := r.Twins(); len(tw) > 0 {
			t.Errorf("child %s: tags stand twice: %v", c, tw)
		}
		if len(r.Notes()) > 1 {
			journeys++
			checkJourney(t, r)
		}
	}
	if journeys != 1 {
		t.Errorf("%d children with more than one note, want 1", journeys)
	}
	t.Log(names)
}

func checkJourney(t *testing.T, r *ledger.Record) {
	t.Helper()
	want := []schema.Kind{schema.Stage1, schema.Closure, schema.ShuntRevision, schema.Stage2, schema.Stage3}
	notes := r.Notes()
	if len(notes) != len(want) {
		t.Fatalf("%d notes, want %d", len(notes), len(want))
	}
	for i, v := range notes {
		if v.Kind != want[i] {
			t.Errorf("note %d is %s, want %s", i, v.Kind, want[i])
		}
		n := r.Whole(v.ID)
		for _, p := range schema.Validate(n) {
			t.Errorf("%s: %s %s: %s", v.Kind, p.Rule, p.Path, p.What)
		}
		if len(r.Signatures(v.ID)) == 0 {
			t.Errorf("%s is not signed", v.Kind)
		}
		for _, o := range []ledger.Occasion{ledger.Leaving, ledger.Arrival} {
			tally := r.Tally(v.ID, o)
			if !tally.Balances || len(tally.Listed) < 8 {
				t.Errorf("%s, %s: the tally does not balance: %+v", v.Kind, o, tally)
			}
		}
	}
}

// What came out between two operations came out within days of the one before, not
// when the next was near: months at the bed are in no child's story.
func TestThingsComeOutWithinDays(t *testing.T) {
	for _, r := range folded(t) {
		out := 0
		for _, it := range r.Items() {
			if it.Where != ledger.Removed {
				continue
			}
			out++
			if days := it.Since.Instant().Sub(it.Happened.Instant()).Hours() / 24; days < 0 || days > 30 {
				t.Errorf("tag %d, %s: in from %s until %s, %.0f days", it.Tag, it.Kind, it.Happened.Shown(), it.Since.Shown(), days)
			}
		}
		if len(r.Notes()) > 1 && out < 20 {
			t.Errorf("only %d things came out", out)
		}
	}
}
