//go:build !(js && wasm)

package ui

import (
	"encoding/json"
	"testing"

	"fairlead/schema"
)

// A drug that is said not to run is not taken as one that does, with others or alone.
func TestDeniedRowIsNotTaken(t *testing.T) {
	s, _, _ := begun(t)
	o := s.child.open(s.place.Note)
	r := &said{Groups: []grouped{{ID: "infusions.running#1", List: "infusions.running", Denied: true, Sure: "sure", Why: "no noradrenaline"}},
		Proposals: []proposed{{Path: "infusions.running.*.drug", Group: "infusions.running#1", Value: "noradrenaline", Why: "noradrenaline", Sure: "sure"}}}
	offers := o.offersOf(r)
	for _, of := range offers {
		if of.state != offerDenied || takable(of) {
			t.Errorf("%s is %s", of.title, of.state)
		}
	}
	o.takeOffers(offers, false)
	if rows := o.working.Rows(schema.InfusionsRunning); len(rows) != 0 {
		t.Errorf("a denied drug runs: %v", rows)
	}
}

// What was not understood goes under Findings in whole sentences: with the words left
// out that were understood, "was not placed" loses what was not.
func TestWhatWasSaidStaysWhole(t *testing.T) {
	text := "Sinus. A left atrial line was not placed; we put 3.5 in. Nothing else"
	p := &dictatePane{reading: &said{}}
	if err := json.Unmarshal([]byte(`{"text": "`+text+`", "pieces": [{"start": 0, "end": 6, "proposals": [0]}, {"start": 6, "end": 9}, {"start": 9, "end": 25, "proposals": [1]},
		{"start": 25, "end": 45}, {"start": 45, "end": 55, "proposals": [2]}, {"start": 55, "end": 69}]}`), p.reading); err != nil {
		t.Fatal(err)
	}
	if got, want := p.asSaid(), "A left atrial line was not placed; we put 3.5 in. Nothing else"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// A temporary shunt alone goes with its own kind of support; before bypass, both are
// recorded, and nothing of the note is hidden.
func TestShuntBeforeBypass(t *testing.T) {
	for text, mode := range map[string]string{
		"Temporary shunt time eighteen minutes.":                                           "caval-shunt",
		"Temporary shunt time eighteen minutes, then on bypass at 10:05 and off at 11:00.": "bypass",
	} {
		_, o, p := dictated(t, text)
		var got []string
		offers := p.offersNow(o)
		for _, of := range offers {
			for _, part := range of.parts {
				if part.def.Path == schema.SupportMode {
					got = append(got, part.entry.Value.(string))
				}
			}
		}
		if len(got) != 1 || got[0] != mode {
			t.Errorf("%q: the support is offered as %v, want %s", text, got, mode)
		}
		o.takeOffers(offers, false)
		o.renew()
		if f := schema.FieldAt(schema.SupportCavalShuntMinutes); o.working.Decimal(f.Path) != "18" || !o.working.Relevant(f) {
			t.Errorf("%q: the time is %q", text, o.working.Decimal(f.Path))
		}
		if mode == "bypass" && len(o.working.Rows(schema.SupportRuns)) != 1 {
			t.Errorf("%q: the run is not recorded", text)
		}
	}
}
