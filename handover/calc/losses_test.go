package calc

import (
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"
)

func TestLosses(t *testing.T) {
	since := at(t, "2026-07-14T10:00+01:00")
	r := Losses(hourly10(t, 22.4, 22.4, 1, 1), kg(3.2), active(t), since)
	if c := r.Calls(); len(r.Rulings) != 4 || len(c) != 1 || c[0].Rule.Entry.ID != "drain.rule.two-hours" || r.Stop == nil ||
		r.Caution != "Drain output fell to 1 mL/h for 2 h after 22.4 mL/h: blocked, or tamponade? Look now." {
		t.Errorf("%+v", r)
	}
	if !near(r.Loss.Total.In(MLPerKg), 46.8/3.2, 9) {
		t.Errorf("%v", r.Loss)
	}
	r = Losses(hourly10(t, 40), kg(3.2), profile.Default(), since)
	if len(r.Rulings) != 0 || len(r.Calls()) != 0 || len(r.Wanted) != 0 {
		t.Errorf("rules nobody activated: %+v", r)
	}
	if r := Losses(nil, kg(3.2), active(t), since); len(r.Wanted) != 1 {
		t.Errorf("%+v", r)
	}
	if r := Losses(hourly10(t, 40), kg(0), active(t), since); len(r.Wanted) != 1 {
		t.Errorf("%+v", r)
	}
}

// More than 14 days (27.4 % of 525).
func TestProlonged(t *testing.T) {
	p := active(t)
	for days, want := range map[float64]bool{13: false, 14: false, 14.1: true, 15: true} {
		got, e, ok := Prolonged(days, p)
		if !ok || got != want {
			t.Errorf("%v days: %v", days, got)
		}
		outside.Check(t, "Prolonged effusion: "+e.Source)
	}
	if _, _, ok := Prolonged(20, profile.Default()); ok {
		t.Error("an inactive definition judged")
	}
}

// Cuffed age/4 + 3.5, depth 3 × size, second-hand.
func TestTubeReference(t *testing.T) {
	for years, want := range map[float64][2]float64{2: {4, 12}, 4: {4.5, 13.5}, 6: {5, 15}} {
		s, d, r := TubeReference(Of(years*365.25, Day))
		if r != nil || compare(s.In(Millimetre), want[0]) != 0 || compare(d.In(Centimetre), want[1]) != 0 {
			t.Errorf("%v years: %v %v %v", years, s, d, r)
		}
		outside.Check(t, "Cuffed tracheal tube age/4 + 3.5, depth 3 × size, second-hand")
	}
	if _, _, r := TubeReference(Of(6, Day)); r == nil {
		t.Error("a newborn got an age formula")
	}
}

func TestShowEntry(t *testing.T) {
	want := map[profile.ID]string{
		profile.ArrestFlag: "41 min", profile.BetweenSaturation: "75 to 90 %", profile.SurfaceFormula: "mosteller", profile.HypothermiaClasses: "14 °C; 20 °C; 28 °C; 34 °C",
		"drain.rule.three-hours": "5 mL/kg in 1 h, 3 times running, within the first 12 h", "emergency.adrenaline": "0.01 mg/kg, at most 1 mg; drawn from 0.1 mg/mL",
		"emergency.cardioversion": "first 0.5 to 1 J/kg; then 2 J/kg", "emergency.fluid": "Empty on purpose. Set by the unit; 5 to 10 mL per kg is usual for a cardiac child (from memory).", "dwell.arterial-line.umbilical-arterial": "5 days",
	}
	for _, e := range profile.Default().Entries() {
		got := ShowEntry(e)
		if got == "" || strings.HasPrefix(got, "{") || strings.HasPrefix(got, "[") {
			t.Errorf("%s is shown as %q", e.ID, got)
		}
		if w, ok := want[e.ID]; ok && got != w {
			t.Errorf("%s: %q, want %q", e.ID, got, w)
		}
	}
	p, faults := profile.Default().Change(profile.BloodVolume, []byte(`[{"under":10,"value":85},{"value":75}]`), "Unit", "Dr Invented Example", "2026-07-14", "")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	e, _ := p.Entry(profile.BloodVolume)
	if got := ShowEntry(e); got != "under 10 kg: 85 mL/kg; otherwise 75 mL/kg" {
		t.Error(got)
	}
	p, _ = p.Change(profile.SaturationTargets, []byte(`{"stage1":[75,85]}`), "Unit", "Dr Invented Example", "2026-07-14", "")
	e, _ = p.Entry(profile.SaturationTargets)
	if got := ShowEntry(e); got != "stage 1: 75 to 85 %" || e.InForce() {
		t.Error(got)
	}
}

// The whole note written in another offset: every value is the same.
func TestZonesDoNotMatter(t *testing.T) {
	p := active(t)
	for _, name := range []string{"stage1", "stage2", "stage3"} {
		n := note(t, name)
		before := Compute(n, p, About{})
		moved := 0
		for _, at := range places(n) {
			f := n.FieldAt(at)
			if f == nil || f.Format != "moment" {
				continue
			}
			if m, ok := n.Moment(at); ok {
				n.Set(at, inOffset(m, 345).String())
				moved++
			}
		}
		after := Compute(n, p, About{})
		if moved < 5 || len(after) != len(before) {
			t.Fatalf("%s: %d moments moved, %d and %d results", name, moved, len(before), len(after))
		}
		for i := range before {
			if before[i].Value != after[i].Value || before[i].OK != after[i].OK || len(before[i].Flags) != len(after[i].Flags) {
				t.Errorf("%s: %s became %s", name, before[i].Line(), after[i].Line())
			}
		}
	}
}

// The profile names item kinds, varieties and drugs as the note does.
func TestProfileNamesWhatTheNoteHas(t *testing.T) {
	p := profile.Default()
	for _, prefix := range []string{profile.DwellPrefix, profile.RemovalPrefix} {
		for _, e := range p.WithPrefix(prefix) {
			kind, variety, has := strings.Cut(strings.TrimPrefix(string(e.ID), prefix), ".")
			k := schema.ItemKindNamed(kind)
			if k == nil || has && !slices.Contains(k.Field("variety").Enum, variety) {
				t.Errorf("%s names no kind or variety of item", e.ID)
			}
		}
	}
	drugs := schema.FieldAt(schema.InfusionsRunningDrug).Enum
	list, _, _ := p.Weights(profile.ScoreDrugs)
	for _, w := range list {
		if !slices.Contains(drugs, w.Name) {
			t.Errorf("the score counts %s, which the note cannot list", w.Name)
		}
	}
	for _, d := range unlisted {
		if !slices.Contains(drugs, d) {
			t.Errorf("%s is not a drug of the note", d)
		}
	}
}
