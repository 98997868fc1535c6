package calc

import (
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"
)

// usual tells whether a figure of a field is possible, and whether it passes
// without a question in a kind of note.
func usual(t *testing.T, p schema.Path, k schema.Kind, v float64) (possible, unasked bool) {
	t.Helper()
	f := schema.FieldAt(p)
	if f == nil {
		t.Fatalf("no field %s", p)
	}
	r, ok := f.UsualFor(k)
	return (schema.Range{Low: f.Min, High: f.Max}).Holds(v), !ok || r.Holds(v)
}

// Published series are held against what the note takes and what it asks about: a
// range that questioned what a published series did as a rule would be wrong.
func TestPublishedSeriesAreUsual(t *testing.T) {
	for _, c := range []struct {
		source string
		at     schema.Path
		kind   schema.Kind
		v      float64
		asked  bool
	}{
		// mean 56.6 ± 10.6 mL/kg/min in 57 children: the mean and one deviation either way
		{"Andropoulos, selective cerebral perfusion, mean flow 56.6 ± 10.6 mL/kg/min", schema.SupportPerfusionsFlow, "stage1", 46.0, false},
		{"Andropoulos, selective cerebral perfusion, mean flow 56.6 ± 10.6 mL/kg/min", schema.SupportPerfusionsFlow, "stage1", 56.6, false},
		{"Andropoulos, selective cerebral perfusion, mean flow 56.6 ± 10.6 mL/kg/min", schema.SupportPerfusionsFlow, "stage1", 67.2, false},
		{"PMID 19632413, extracardiac conduits of 14 to 22 mm, 16 and 18 optimal", schema.Stage3ConduitDiameter, "stage3", 16, false},
		{"PMID 19632413, extracardiac conduits of 14 to 22 mm, 16 and 18 optimal", schema.Stage3ConduitDiameter, "stage3", 18, false},
		{"PMID 19632413, extracardiac conduits of 14 to 22 mm, 16 and 18 optimal", schema.Stage3ConduitDiameter, "stage3", 22, false},
		{"PMID 19632413, extracardiac conduits of 14 to 22 mm, 16 and 18 optimal", schema.Stage3ConduitDiameter, "stage3", 14, true},
		{"Branch bands cut from tubes of 3 to 3.5 mm, published series", schema.HybridBandsSize, "stage1", 3, false},
		{"Branch bands cut from tubes of 3 to 3.5 mm, published series", schema.HybridBandsSize, "stage1", 3.5, false},
		{"Extracardiac stage 3 at 11.6 kg, n = 210, published series", schema.MeasuresWeight, "stage3", 11.6, false},
	} {
		possible, unasked := usual(t, c.at, c.kind, c.v)
		if !possible || unasked == c.asked {
			t.Errorf("%s: %v is possible %v, unasked %v", c.source, c.v, possible, unasked)
		}
		outside.Check(t, c.source)
	}
	// The randomised shunt trial: the conduit lay left of the new aorta in 61 %, right
	// in 39 %, and the side matters at re-entry: it is a field with both answers.
	side := schema.FieldAt(schema.SupplyNeoAortaSide)
	if side == nil || !slices.Contains(side.Enum, "left") || !slices.Contains(side.Enum, "right") {
		t.Errorf("the side of the conduit cannot be recorded: %+v", side)
	}
	outside.Check(t, "Randomised shunt trial (Ohye 2010), conduit left of the new aorta in 61 %, right in 39 %")
	// 58 % of one series did stage 3 off bypass: nothing of bypass is then wanted.
	n := schema.NewNote("stage3", "n", "c")
	n.Set(schema.SupportMode, "off-pump")
	for _, id := range []ID{"bypass-time", "clamp-time", "arrest-time", "perfusion-time", "predicted-haematocrit", "bypass-balance"} {
		if r, ok := Find(Compute(n, active(t), About{}), id); ok && !r.Off {
			t.Errorf("off bypass: %s", r.Line())
		}
	}
	outside.Check(t, "Stage 3 off bypass in 58 % of one published series: bypass and clamp do not apply")
}

// Published thresholds of delivered oxygen, 260 and 300, are adult evidence: flagged
// with that word. The figures are worked out by hand: flow 2.4 L/min/m² of blood
// with 8 g/dL, 100 % and 250 mmHg gives 1.34 × 8 + 0.003 × 250 = 11.47 mL/dL and
// 275.3 mL/min/m².
func TestDeliveredOxygenThresholds(t *testing.T) {
	n := schema.NewNote("stage2", "n", "c")
	n.Set(schema.MeasuresWeight, 10)
	n.Set(schema.MeasuresLength, 90) // √(90 × 10 / 3600) = 0.5 m²
	n.AddRow(schema.PerfusionReadings, "a")
	n.Set(schema.PerfusionReadingsAt.In("a"), "2026-07-14T10:00+01:00")
	n.Set(schema.PerfusionReadingsHaemoglobin.In("a"), 8)
	n.Set(schema.PerfusionReadingsSaturation.In("a"), 100)
	n.Set(schema.PerfusionReadingsOxygen.In("a"), 250)
	for _, c := range []struct {
		flow float64 // mL/kg/min; the index is flow × 10 / 1000 / 0.5
		want string
		flag string
	}{
		{120, "275.3 mL/min/m²", "Between 260 and 300"}, // 2.4 × 114.7 = 275.3
		{113.3, "259.9 mL/min/m²", "Below 260"},         // 2.266 × 114.7 = 259.9
		{113.4, "260.1 mL/min/m²", "Between"},           // 2.268 × 114.7 = 260.1
		{130.7, "299.8 mL/min/m²", "Between"},           // 2.614 × 114.7 = 299.8
		{130.8, "300.1 mL/min/m²", ""},                  // 2.616 × 114.7 = 300.1
	} {
		n.Set(schema.PerfusionReadingsFlow.In("a"), c.flow)
		r, _ := Find(Compute(n, active(t), About{}), "delivered-oxygen")
		said, caution := "", ""
		for _, f := range r.Flags {
			said, caution = said+f.What, f.Caution
		}
		if r.Shown != c.want || !strings.Contains(said, c.flag) || c.flag == "" && said != "" || said != "" && caution != "Adult evidence." {
			t.Errorf("%v: %s, flagged %q %q", c.flow, r.Line(), said, caution)
		}
		outside.Check(t, "Delivered oxygen index thresholds of 260 to 300, adult evidence")
	}
	if r, _ := Find(Compute(n, profile.Default(), About{}), "delivered-oxygen"); len(r.Flags) > 0 {
		t.Error("flagged by a threshold that nobody activated")
	}
}

// What the default profile says of published figures that it does not put in force.
func TestProfileQuotesItsSources(t *testing.T) {
	p := profile.Default()
	for _, c := range []struct {
		id     profile.ID
		quotes string
		source string
	}{
		{"dwell.pacing-wires", "median of 4.5 days (2 to 9; Jowett", "Jowett 2007, pacing wires removed at a median of 4.5 days (2 to 9)"},
		{"line-depth.formula", "4.0 to 5.71 cm at 50 cm", "Four published formulas for a central line's depth at 50 cm length: 4.0, 4.87, 5.20, 5.71 cm"},
		{"arrest.flag-minutes", "one-sided lower limit 32", "Wypij 2003, J Thorac Cardiovasc Surg 126:1397: cut-point 41 min, one-sided lower limit 32"},
		{"emergency.atropine", "0.1 mg minimum is more than 0.02 mg per kg below 5 kg", "Atropine's old minimum of 0.1 mg: 0.02 mg/kg × 5 kg, arithmetic"},
	} {
		e, ok := p.Entry(c.id)
		if all := e.Empty + e.Source + e.Comment; !ok || !strings.Contains(all, c.quotes) || e.InForce() {
			t.Errorf("%s: %q in force %v, want %q", c.id, all, e.InForce(), c.quotes)
		}
		outside.Check(t, c.source)
	}
	if list, _, ok := active(t).Removal("pacing-wires"); !ok || strings.Join(list, "; ") != "Platelets above 50; INR below 2; Pacing box off for 24 hours; One wire at a time" {
		t.Errorf("%v", list)
	}
	outside.Check(t, "One unit's published rule for pacing wires: platelets > 50, INR < 2, 24 h off the box, one at a time")
	n := note(t, "stage1")
	if r, _ := Find(Compute(n, p, About{}), "nakata"); !strings.Contains(r.Formula.Source, "reference 330 ± 30") {
		t.Errorf("%s", r.Formula.Source)
	}
	outside.Check(t, "Nakata 1984, reference 330 ± 30 mm²/m²")
}
