package values

import (
	"fmt"
	"strings"
	"testing"

	"fairlead/handover/calc/growth"
	"fairlead/schema"
	"fairlead/schema/rules"
)

// put sets path, value, path, value …
func put(n *schema.Note, pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		n.Set(schema.Path(fmt.Sprint(pairs[i])), pairs[i+1])
	}
}

// asking is the one problem of a rule in a note that stands alone, or "".
func asking(t *testing.T, n *schema.Note, rule string) schema.Problem {
	t.Helper()
	var got []schema.Problem
	for _, p := range rules.Check(n, nil, rules.Context{Asked: Asked(nil)}) {
		if p.Rule == rule {
			got = append(got, p)
		}
	}
	switch len(got) {
	case 0:
		return schema.Problem{}
	case 1:
		return got[0]
	}
	t.Fatalf("%d problems of %s: %v", len(got), rule, got)
	return schema.Problem{}
}

// The WHO standard's boy of day 0 at z 0 weighs 3.3464 kg; the weights of day 60 at
// z −0.99 and −1.01 come from its L, M and S, which the growth tests hold against the
// published tables. The unit's setting as shipped is a change of 1.
func TestWeightFarFromTheLastIsAskedAbout(t *testing.T) {
	note := func(kg float64) *schema.Note {
		n := schema.NewNote(schema.Stage1, "n", "c")
		put(n, schema.ChildSex, "male", schema.ChildBirthDate, "2026-01-01", schema.ChildBirthWeight, 3.3464, schema.ChildGestationWeeks, 39,
			schema.OperationDate, "2026-03-02", schema.MeasuresWeight, kg)
		return n
	}
	p60, _ := growth.WeightLMS(growth.Boy, 60)
	inside, beyond := p60.At(-0.99), p60.At(-1.01)
	if p := asking(t, note(inside), rules.WeightChanged); p.What != "" {
		t.Errorf("inside the setting asks %q", p.What)
	}
	n := note(beyond)
	p := asking(t, n, rules.WeightChanged)
	if p.Path != schema.MeasuresWeight || p.Severity != schema.Question || !strings.Contains(p.What, "z -1.0") && !strings.Contains(p.What, "-1.01") || !strings.Contains(p.What, "Birth") {
		t.Errorf("beyond the setting: %+v", p)
	}
	n.SetAnswers([]schema.Answer{{Rule: p.Rule, Path: p.Path, Answer: "weighed twice", By: "A. Plain", Saw: p.Saw(n)}})
	if p := asking(t, n, rules.WeightChanged); p.What != "" {
		t.Errorf("asked again after its answer: %q", p.What)
	}
	n.Set(schema.MeasuresWeight, beyond-0.5)
	if p := asking(t, n, rules.WeightChanged); p.What == "" {
		t.Error("an answer about another weight still holds")
	}
}

// By hand: mL/h × mg/mL × 1000 / 60 / kg. At 3 kg and 0.09 mg/mL of adrenaline 0.1
// mL/h is 0.05 mcg/kg/min, 1 mL/h 0.5 and 7 mL/h 3.5, which is above what ranges.md
// calls possible.
func TestRateOfATenfoldDoseIsAskedAbout(t *testing.T) {
	note := func(rate float64) *schema.Note {
		n := schema.NewNote(schema.Stage1, "n", "c")
		n.AddRow(schema.InfusionsRunning, "m")
		put(n, "infusions.running.m.drug", "adrenaline", "infusions.running.m.rate", rate, "infusions.running.m.concentration", 0.09,
			"infusions.running.m.concentrationUnit", "mg/mL", "infusions.running.m.pumpWeight", 3.0)
		return n
	}
	if p := asking(t, note(0.1), rules.RateTenfold); p.What != "" {
		t.Errorf("a usual dose asks %q", p.What)
	}
	for rate, words := range map[float64]string{1: "ten times too high", 7: "not plausible"} {
		p := asking(t, note(rate), rules.RateTenfold)
		if p.Path != "infusions.running.m.rate" || p.Severity != schema.Question || !strings.Contains(p.What, words) {
			t.Errorf("%v mL/h: %+v", rate, p)
		}
	}
	n := note(1)
	put(n, "infusions.running.m.dose", 0.5, "infusions.running.m.doseUnit", "ug/kg/min")
	if p := asking(t, n, rules.RateTenfold); p.What != "" {
		t.Errorf("beside an entered dose, which has its own rule: %q", p.What)
	}
}
