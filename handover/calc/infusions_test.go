package calc

import (
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
)

// What is impossible for the drug is refused whatever unit it is typed in, and
// nothing is worked out from it; a dose that only the rate gives is asked about when
// it is ten times the usual. Ranges from memory (ranges.md): adrenaline 0.001 to 3,
// usual 0.01 to 0.15 mcg/kg/min; vasopressin 0.00001 to 0.01 units/kg/min.
func TestImpossibleInfusions(t *testing.T) {
	const a = "r69" // adrenaline 0.02 mg/mL at 0.48 mL/h for 3.2 kg: 0.05 mcg/kg/min
	dose, rate, unit := schema.InfusionsRunningDose.In(a), schema.InfusionsRunningRate.In(a), schema.InfusionsRunningDoseUnit.In(a)
	vasopressin := func(v float64, u string) func(*schema.Note) {
		return func(n *schema.Note) {
			n.Set(schema.InfusionsRunningDrug.In(a), "vasopressin")
			n.Set(schema.InfusionsRunningConcentration.In(a), 0.2)
			n.Set(schema.InfusionsRunningConcentrationUnit.In(a), "[iU]/mL")
			n.Set(dose, v)
			n.Set(unit, u)
			n.Clear(rate)
		}
	}
	onlyRate := func(v float64) func(*schema.Note) {
		return func(n *schema.Note) { n.Set(rate, v); n.Clear(dose); n.Clear(unit) }
	}
	for name, c := range map[string]struct {
		change func(*schema.Note)
		shown  string
		says   string // of what is wanted, or of what is asked
	}{
		"vasopressin 0.5 units/kg/min":       {vasopressin(0.5, "[iU]/kg/min"), "", "not plausible"},
		"vasopressin 0.0005 units/kg/min":    {vasopressin(0.0005, "[iU]/kg/min"), "0.0005 units/kg/min, 0.48 mL/h", ""}, // 0.0005 × 60 × 3.2 / 0.2
		"vasopressin 0.03 units/kg/h":        {vasopressin(0.03, "[iU]/kg/h"), "0.03 units/kg/h, 0.48 mL/h", ""},
		"vasopressin 0.5 milliunits/kg/min":  {vasopressin(0.5, "m[iU]/kg/min"), "0.5 milliunits/kg/min, 0.48 mL/h", ""},
		"vasopressin 0.5 units/kg/h":         {vasopressin(0.5, "[iU]/kg/h"), "0.5 units/kg/h, 8 mL/h", "ten times too high"}, // 0.00833 units/kg/min
		"vasopressin 30 milliunits/kg/min":   {vasopressin(30, "m[iU]/kg/min"), "", "0.03 units/kg/min"},
		"adrenaline 50 mcg/kg/min":           {func(n *schema.Note) { n.Set(dose, 50); n.Clear(rate) }, "", "50 mcg/kg/min is not plausible"},
		"adrenaline 5000 nanograms/kg/min":   {func(n *schema.Note) { n.Set(dose, 5000); n.Set(unit, "ng/kg/min"); n.Clear(rate) }, "", "5 mcg/kg/min"},
		"adrenaline by the rate":             {onlyRate(0.48), "0.05 mcg/kg/min, 0.48 mL/h", ""},
		"adrenaline by the rate, ten times":  {onlyRate(4.8), "0.5 mcg/kg/min, 4.8 mL/h", "0.5 mcg/kg/min may be ten times too high: is the pump rate right?"},
		"adrenaline by the rate, a tenth":    {onlyRate(0.048), "0.005 mcg/kg/min, 0.048 mL/h", "ten times too low"},
		"adrenaline by the rate, impossible": {onlyRate(48), "", "5 mcg/kg/min is not plausible for adrenaline"},
	} {
		n := note(t, "stage1")
		c.change(n)
		rs := Compute(n, active(t), About{})
		r, _ := Find(rs, "infusion")
		all := r.WantedWords() + " " + strings.Join(r.Caveats, " ")
		if r.Shown != c.shown || !strings.Contains(all, c.says) || c.says == "" && strings.Contains(all, "times") {
			t.Errorf("%s: %s; %s", name, r.Line(), all)
		}
		score, _ := Find(rs, "vasoactive-score")
		if score.OK != (c.shown != "") {
			t.Errorf("%s: %s", name, score.Line())
		}
	}
	outside.Check(t, "Vasopressin 0.5 entered as U/kg/min is refused")
	// The same by weight, from memory: 26 mL of tidal volume is 8.1 mL/kg, 260 mL is 81.
	n := note(t, "stage1")
	n.Set(schema.VentilationTidalVolume, 260)
	if r, _ := Find(Compute(n, active(t), About{}), "tidal-volume"); r.OK || !strings.Contains(r.WantedWords(), "81.3 mL/kg, which is not plausible") {
		t.Errorf("%s", r.Line())
	}
	// And what is no number at all is named, not called missing.
	n.Set(schema.MeasuresWeight, "NaN")
	if r, _ := Find(Compute(n, active(t), About{}), "surface-area"); r.OK || !strings.Contains(r.WantedWords(), "“NaN” is not a number") {
		t.Errorf("%s", r.Line())
	}
}

// An infusion names every input of its formula, by the place it stands in, and
// nothing that was itself worked out.
func TestInfusionInputs(t *testing.T) {
	n := note(t, "stage1")
	row := n.Rows(schema.InfusionsRunning)[0]
	n.Clear(schema.InfusionsRunningPumpWeight.In(row))
	n.Clear(schema.InfusionsRunningRate.In(row))
	r, _ := Find(Compute(n, active(t), About{}), "infusion")
	var at []schema.Path
	for _, in := range r.Inputs {
		if in.Setting == "" {
			at = append(at, in.Path)
		}
	}
	want := []schema.Path{schema.InfusionsRunningDose.In(row), schema.InfusionsRunningConcentration.In(row), schema.MeasuresDosingWeight, schema.InfusionsRunningItem.In(row)}
	if !r.OK || !slices.Equal(at, want) {
		t.Errorf("%s from %v, want %v", r.Line(), at, want)
	}
	// The committed note runs it through the distal lumen of tag 3.
	if last := r.Inputs[len(r.Inputs)-1]; !strings.HasSuffix(last.Shown, ", distal") {
		t.Errorf("through %q", last.Shown)
	}
}
