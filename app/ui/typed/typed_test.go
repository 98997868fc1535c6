package typed

import (
	"strings"
	"testing"

	"fairlead/schema"
)

func field(kind, unit string, min float64) *schema.Field {
	return &schema.Field{Title: "Depth", Type: kind, Unit: unit, Min: &min}
}

// The rules for zeros and units are ISMP's (List of Error-Prone Abbreviations,
// Symbols, and Dose Designations): a leading zero always, a trailing zero never.
// What may be typed is our own choice.
func TestNumber(t *testing.T) {
	f := field("number", "kg", 0)
	for text, want := range map[string]Amount{
		"3.5": {"3.5", ""}, " 3.50 ": {"3.5", ""}, ".5": {"0.5", ""}, "4.0": {"4", ""}, "<0.3": {"0.3", "<"}, "> 40": {"40", ">"},
		"3.1 kg": {"3.1", ""}, "\u22122": {"-2", ""}, "+7": {"7", ""}, "12.": {"12", ""},
		"3,5": {"3.5", ""}, "<0,25": {"0.25", "<"}, "2,5 kg": {"2.5", ""}, "0,200": {"0.2", ""}, // what can mean thousands is refused
	} {
		if got, wrong := Number(text, f); wrong != "" || got != want {
			t.Errorf("%q: %v, %q; want %v", text, got, wrong, want)
		}
	}
	for text, part := range map[string]string{
		"": "Type a number in kg, like 3.2 kg", "three": "not a number. Type a number in kg", "1 2": "a space inside", "1e3": "exponent",
		"3..5": "more than one point", "3,200": "may mean 3.200 or 3200", "1,200,5": "more than one point or comma", "1,200.5": "more than one point or comma",
		"3;5": "“;5” is not a unit", "0x10": "“x10” is not a unit", "١٢": "not a number", "1234567890.1234567": "more digits", "--3": "not a number",
	} {
		if got, wrong := Number(text, f); !strings.Contains(wrong, part) {
			t.Errorf("%q: %v, %q; want a sentence with %q", text, got, wrong, part)
		}
	}
	for _, text := range []string{"-20", "20 cmH2O", "20cmh2o", "-20 cm[H2O]"} {
		if got, wrong := Number(text, field("number", "cm[H2O]", 0)); wrong != "" || got.Decimal != "20" {
			t.Errorf("suction %s: %v %q", text, got, wrong)
		}
	}
	for _, text := range []string{"7.32 %", "pH 7.32 pCO2 5.1 kPa Hct 41 %"} { // a whole gas, pasted into one box
		if _, wrong := Number(text, schema.FieldAt(schema.GasPh)); !strings.Contains(wrong, "figure alone") || strings.Contains(wrong, " .") || strings.Contains(wrong, " in .") {
			t.Errorf("%q: %q", text, wrong)
		}
	}
	for _, text := range []string{"", "two"} { // a count has no decimals to show
		if _, wrong := Number(text, schema.ItemKindNamed("pacing-wires").Field("count")); !strings.HasSuffix(wrong, "Type a whole number, like 3.") {
			t.Errorf("a count of %q: %q", text, wrong)
		}
	}
	if _, wrong := Number("2.5", field("integer", "", 0)); !strings.Contains(wrong, "whole") {
		t.Errorf("a count of 2.5: %q", wrong)
	}
}

func TestClock(t *testing.T) {
	for text, want := range map[string][2]int{"0942": {9, 42}, "9:42": {9, 42}, "09.42": {9, 42}, "0010": {0, 10}, "2359": {23, 59}, "942": {9, 42}} {
		if h, m, wrong := Clock(text); wrong != "" || h != want[0] || m != want[1] {
			t.Errorf("%q: %d:%d %q", text, h, m, wrong)
		}
	}
	for _, text := range []string{"2400", "0960", "9", "9am", "", "09:4", "094200"} {
		if h, m, wrong := Clock(text); wrong == "" {
			t.Errorf("%q read as %d:%d", text, h, m)
		}
	}
}

// Without a year a date of what has happened does not lie in the future, and one of
// what can lie years away is not guessed.
func TestDateWithoutYear(t *testing.T) {
	weighed, out := schema.FieldAt(schema.MeasuresWeightDate), schema.FieldAt(schema.CareNeckLineOut)
	for _, c := range []struct {
		text string
		f    *schema.Field
		want schema.Date
	}{
		{"28 dec", weighed, "2025-12-28"}, {"26 nov", weighed, "2026-11-26"}, {"27 nov", weighed, "2025-11-27"}, {"3 jan", weighed, "2026-01-03"},
		{"28 dec", out, "2026-12-28"}, {"28 dec", nil, "2026-12-28"}, {"27 nov", schema.FieldAt(schema.OperationDate), "2026-11-27"},
	} {
		if got, wrong := Date(c.text, "2026-11-26", c.f); got != c.want {
			t.Errorf("%q: %s %q, want %s", c.text, got, wrong, c.want)
		}
	}
	for _, f := range []*schema.Field{schema.FieldAt(schema.ChildBirthDate), schema.ItemKindNamed("implant").Field("expires"), schema.ItemKindNamed("implant").Field("made")} {
		if got, wrong := Date("28 dec", "2026-11-26", f); got != "" || !strings.Contains(wrong, "Enter the year too") {
			t.Errorf("%s: %s %q", f.Name, got, wrong)
		}
		if got, _ := Date("28 dec 25", "2026-11-26", f); got != "2025-12-28" {
			t.Errorf("%s: %s", f.Name, got)
		}
	}
}

func TestDate(t *testing.T) {
	for text, want := range map[string]schema.Date{
		"14-Jul-2026": "2026-07-14", "14 july 2026": "2026-07-14", "2026-07-14": "2026-07-14", "14/07/2026": "2026-07-14", "07/14/2026": "2026-07-14",
		"14Jul26": "2026-07-14", "3-jan": "2027-01-03", "07/07/2026": "2026-07-07", "28 Sept": "2026-09-28", "29-Feb-2028": "2028-02-29",
	} {
		if got, wrong := Date(text, "2026-11-25", nil); wrong != "" || got != want {
			t.Errorf("%q: %s %q, want %s", text, got, wrong, want)
		}
	}
	for text, part := range map[string]string{
		"07/08/2026": "two days", "30-Feb-2026": "no day", "yesterday": "not a date", "14": "not a date", "32/01/2026": "no day", "14-Foo-2026": "not a date", "": "not a date",
	} {
		if got, wrong := Date(text, "2026-11-25", nil); !strings.Contains(wrong, part) {
			t.Errorf("%q: %s %q, want a sentence with %q", text, got, wrong, part)
		}
	}
}

func TestWords(t *testing.T) {
	f := &schema.Field{Title: "Hospital number", Format: "digits", MaxLen: 5}
	if s, wrong := Words(" 12 345 ", f); s != "12345" || wrong != "" {
		t.Errorf("%q %q", s, wrong)
	}
	for _, text := range []string{"12a", "123456", "\u202e12"} {
		if s, wrong := Words(text, f); wrong == "" {
			t.Errorf("%q read as %q", text, s)
		}
	}
}

func FuzzNothingPanics(f *testing.F) {
	for _, s := range []string{"3.5 kg", "14-Jul-2026", "0942", "<", "\u202e", strings.Repeat("9", 300)} {
		f.Add(s)
	}
	num := field("number", "kg", 0)
	f.Fuzz(func(t *testing.T, s string) {
		if a, wrong := Number(s, num); wrong == "" {
			again, wrong := Number(a.Bound+string(a.Decimal), num)
			if wrong != "" || again != a {
				t.Errorf("%q: %v read again as %v %q", s, a, again, wrong)
			}
		}
		if d, wrong := Date(s, "2026-11-25", nil); wrong == "" {
			if again, wrong := Date(d.Shown(), "2026-11-25", nil); wrong != "" || again != d {
				t.Errorf("%q: %s read again as %s %q", s, d, again, wrong)
			}
		}
		Clock(s)
		Words(s, num)
	})
}
