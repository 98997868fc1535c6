package sheet

import (
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/profile"
)

// Beside every dose on paper stand the weight, its date and who set it; the
// caution stands on the card; the amounts are the published ones at 3.2 kg
// (Resuscitation-council values, second-hand). What nobody activated prints
// nothing, and neither does anything when two weights disagree.
func TestCardOnPaper(t *testing.T) {
	at, _ := schema.ParseMoment("2026-07-14T15:00+01:00[Europe/London]")
	n := committed(t)["notes/stage1.json"].Clone()
	card := func(p *profile.Profile) (lines []string) {
		for _, l := range Make(Facts{Note: n, Profile: p, At: at}, A4).Block("emergency").Lines {
			lines = append(lines, Text(l.Spans))
		}
		return lines
	}
	all, faults := profile.Default().ActivateAll("Dr Invented Example", "2026-07-14")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	doses := 0
	text := strings.Join(card(all), "\n")
	for _, l := range card(all) {
		if !strings.Contains(l, "/kg") {
			continue
		}
		doses++
		if !strings.Contains(l, " for 3.2 kg of 14-Jul-2026, C. Mock, ") || !strings.Contains(l, "intravenous or intraosseous") && !strings.Contains(l, "external") {
			t.Errorf("a dose without its weight, its date, its author or its route: %s", l)
		}
	}
	if doses != 6 {
		t.Errorf("%d lines of doses", doses)
	}
	for _, want := range []string{"ARREST ONLY Adrenaline 32 mcg = 0.32 mL of 0.1 mg/mL", "first 6.4 J", "then 12.8 J", "1.6 to 3.2 J", "Amiodarone 16 mg", "first 0.32 mg", "then 0.64 mg", "Calcium chloride 64 mg"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the card:\n%s", want, text)
		}
		outside.Check(t, "Resuscitation-council paediatric doses by weight, second-hand, on the printed sheet")
	}
	if !strings.Contains(text, "Calculated from 3.2 kg entered 14-Jul-2026 07:50 by C. Mock. Second person checks. Unit protocol overrides. Not a prescription.") {
		t.Errorf("no caution:\n%s", text)
	}
	one, _ := profile.Default().Activate("emergency.amiodarone", "Dr Invented Example", "2026-07-14")
	if text := strings.Join(card(one), "\n"); !strings.Contains(text, "Amiodarone 16 mg") || strings.Contains(text, "drenaline 32") || strings.Contains(text, "Calcium") || strings.Contains(text, " J") {
		t.Errorf("one was activated:\n%s", text)
	}
	if text := strings.Join(card(profile.Default()), "\n"); text != "Doses: not set by this unit" {
		t.Errorf("none was activated:\n%s", text)
	}
	n.Set(schema.MeasuresWeight, 3.6)
	if text := strings.Join(card(all), "\n"); !strings.HasPrefix(text, "STOPPED: operation weight 3.6 kg disagrees with the dosing weight, 3.2 kg") || strings.Contains(text, "mcg") {
		t.Errorf("two weights disagree:\n%s", text)
	}
}
