package lines

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/testdata/bench/shift"
)

// The board of one child lists each thing that is in, the oldest first, and no
// implant; what is due and open is what the register says.
func TestUnitChild(t *testing.T) {
	b := newBed(t)
	late := b.list("drain", "mediastinal", "placed=2026-07-13T10:00+00:00")
	early := b.list("arterial-line", "umbilical-arterial", "placed=2026-07-01T10:00+00:00")
	gone := b.list("pacing-wires", "atrial", "placed=2026-07-01T09:00+00:00")
	b.list("implant", "")
	b.do(b.w.Happen(ledger.KindRemoved, gone, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	b.do(b.at(t, "10:00").Happen(ledger.KindProblem, late, ledger.RegisterFacts{Problem: "blocked", Note: "clot in it"}))
	c := UnitChildOf(b.register(t, settings(t), "2026-07-14T12:00+00:00"))
	var got []ledger.ItemID
	for _, u := range c.Items {
		got = append(got, u.ID)
	}
	if !slices.Equal(got, []ledger.ItemID{early, late}) {
		t.Fatalf("on the board %v, want the line of 1-Jul and then the drain of 13-Jul", got)
	}
	if c.Items[0].In != "13 days 2 h" || c.Items[0].Tag != 2 || !c.Items[0].Overdue {
		t.Errorf("the line: %+v", c.Items[0])
	}
	if c.Items[0].Problem != "" || !strings.Contains(c.Items[1].Problem, "clot in it") || c.Open != 1 {
		t.Errorf("what is open: %q, %q, %d", c.Items[0].Problem, c.Items[1].Problem, c.Open)
	}
	if !c.Oldest.Instant().Equal(moment(t, "2026-07-01T10:00+00:00").Instant()) {
		t.Errorf("oldest %s", c.Oldest.Shown())
	}
}

// Children stand by their oldest thing; those with nothing in stand last.
func TestSortUnit(t *testing.T) {
	at := func(day string) schema.Moment { return moment(t, "2026-07-"+day+"T08:00+00:00") }
	one := []UnitItem{{}}
	all := []UnitChild{{Who: "none"}, {Who: "young", Items: one, Oldest: at("09")}, {Who: "old", Items: one, Oldest: at("02")}, {Who: "many, younger", Items: []UnitItem{{}, {}}, Oldest: at("05")}}
	SortUnit(all)
	var got []string
	for _, c := range all {
		got = append(got, c.Who)
	}
	if want := []string{"old", "many, younger", "young", "none"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Sixty invented children with fifteen things each, one of them left on purpose: the
// filter keeps every thing of its kind and nothing else, and the choices count what
// is there. The numbers are those of the invented list, counted by hand.
func TestUnitFilter(t *testing.T) {
	var all []UnitChild
	for seed := range 60 {
		child, _, events, now := shift.Events(byte(seed+1), 60)
		c := UnitChildOf(RegisterOf(ledger.FoldCase(child, events), nil, now))
		all = append(all, c)
	}
	items := 0
	for _, c := range all {
		items += len(c.Items)
	}
	if items != 900 {
		t.Fatalf("%d things, want 60 times 15", items)
	}
	want := map[string]int{"intracardiac-line/": 120, "intracardiac-line/left-atrial": 60, "arterial-line/umbilical-arterial": 60, "drain/": 120, "left-on-purpose/membrane": 60, "airway/": 60, "/umbilical": 60}
	found := 0
	for _, k := range UnitKinds(all) {
		n := 0
		for _, c := range all {
			for _, u := range c.Only(k.Kind, k.Variety).Items {
				if k.Kind == "" {
					if !strings.Contains(u.Name, "mbilical") {
						t.Errorf("%s shows %s", k.Words, u.Name)
					}
				} else if u.Kind != k.Kind || k.Variety != "" && u.Variety != k.Variety {
					t.Errorf("%s shows %+v", k.Words, u)
				}
				n++
			}
		}
		if n != k.N {
			t.Errorf("%s: %d to choose, %d shown", k.Words, k.N, n)
		}
		if w, ok := want[k.Kind+"/"+k.Variety]; ok {
			if found++; w != n {
				t.Errorf("%s: %d, want %d", k.Words, n, w)
			}
		}
	}
	if found != len(want) {
		t.Errorf("%d of %d kinds are to choose from", found, len(want))
	}
	if got := all[0].Only("", ""); len(got.Items) != len(all[0].Items) {
		t.Error("without a filter something is left out")
	}
}

// Every umbilical catheter, in the artery or in the vein; what is due and open is
// counted over what is shown.
func TestUnitUmbilical(t *testing.T) {
	b := newBed(t)
	artery, vein := b.list("arterial-line", "umbilical-arterial"), b.list("central-venous-line", "umbilical-venous")
	drain := b.list("drain", "mediastinal")
	b.do(b.at(t, "10:00").Happen(ledger.KindProblem, drain, ledger.RegisterFacts{Problem: "blocked"}))
	b.do(b.at(t, "10:05").Happen(ledger.KindProblem, vein, ledger.RegisterFacts{Problem: "leaking"}))
	c := UnitChildOf(b.register(t, settings(t), "2026-07-20T12:00+00:00"))
	only := c.Only("", UmbilicalCatheters)
	if len(only.Items) != 2 || !slices.ContainsFunc(only.Items, func(u UnitItem) bool { return u.ID == artery }) || !slices.ContainsFunc(only.Items, func(u UnitItem) bool { return u.ID == vein }) {
		t.Errorf("umbilical catheters: %+v", only.Items)
	}
	if c.Open != 2 || only.Open != 1 || only.Overdue != 2 {
		t.Errorf("open %d and of the umbilical ones %d; due of these %d", c.Open, only.Open, only.Overdue)
	}
}

// What is open or due and about nothing that is in is said in words, not only
// counted: what came out in part and is out, what was found and not listed, a site to
// be looked at.
func TestUnitAlso(t *testing.T) {
	b := newBed(t)
	line := b.list("intracardiac-line", "left-atrial")
	b.do(b.at(t, "10:00").Remove(line, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Next: moment(t, "2026-07-14T11:00+00:00")}))
	b.do(b.w.Check(b.rec, b.note, ExtraFound(b.w.NewItem(), ledger.Arrival, "A cannula in the left foot")))
	c := UnitChildOf(b.register(t, settings(t), "2026-07-15T12:00+00:00"))
	if len(c.Items) != 0 || len(c.Also) != 2 {
		t.Fatalf("%d things in and beside them %+v", len(c.Items), c.Also)
	}
	if a := c.Also[0]; !a.Open || !strings.Contains(a.Words, "A cannula in the left foot") {
		t.Errorf("what was found: %+v", a)
	}
	if a := c.Also[1]; a.Open || a.Tag != 1 || a.Words != "Left atrial line: Look at the site again" {
		t.Errorf("the site: %+v", a)
	}
}

// What is not simply in says so: a stump that was cut and left, what was lost.
func TestUnitWhere(t *testing.T) {
	b := newBed(t)
	wires, tube := b.list("pacing-wires", "atrial"), b.list("gut-and-bladder", "gastric-tube")
	b.list("drain", "mediastinal")
	b.do(b.at(t, "10:00").Happen(ledger.KindCutLeft, wires, ledger.RegisterFacts{Note: "at the skin"}))
	b.do(b.at(t, "10:00").Happen(ledger.KindLost, tube, ledger.RegisterFacts{}))
	var got []string
	for _, u := range UnitChildOf(b.register(t, nil, "2026-07-15T12:00+00:00")).Items {
		got = append(got, u.Name)
	}
	if want := []string{"Cut and left inside: atrial wires", "Gastric tube (lost)", "Mediastinal drain"}; !slices.Equal(got, want) {
		t.Errorf("on the board %q, want %q", got, want)
	}
}
