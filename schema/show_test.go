package schema_test

import (
	"encoding/json"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fairlead/schema"
	"fairlead/schema/outside"
)

// ISMP's List of Error-Prone Abbreviations, Symbols, and Dose Designations:
// "Trailing zero after decimal point (e.g., 1.0 mg)", "Naked decimal point (e.g.,
// .5 mg)", "> and <" (mistaken as the opposite of what was meant). Its commas for
// large doses are not followed: a comma is a decimal sign in half the world.
func TestShowNumberKeepsTheSafeDoseDesignations(t *testing.T) {
	for in, want := range map[string]string{
		"1.0": "1", ".5": "0.5", "0.5": "0.5", "4": "4", "4.0": "4", "3.50": "3.5", "-.25": "-0.25", "-5": "-5", "-0.0": "0", "0": "0",
		"0.05": "0.05", "10": "10", "100": "100", "007": "7", "+2.5": "2.5", "1e2": "100", "5E-4": "0.0005", "0.0001": "0.0001", " 3 ": "3",
		"1e999": "1e999", "12345678901234567890.10": "12345678901234567890.1", "": "",
	} {
		if got := schema.ShowNumber(in); got != want {
			t.Errorf("ShowNumber(%q) = %q, want %q", in, got, want)
		}
		outside.Check(t, "ISMP error-prone abbreviations, symbols and dose designations")
	}
}

// Shown and read again a number is the same number, and its form is safe.
func TestShowNumberRoundTrip(t *testing.T) {
	safe := regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?$`)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`-?(0|[1-9][0-9]{0,6})(\.[0-9]{1,8})?`).Draw(t, "number")
		got := schema.ShowNumber(s)
		a, _ := new(big.Rat).SetString(s)
		b, ok := new(big.Rat).SetString(got)
		if !ok || a.Cmp(b) != 0 || !safe.MatchString(got) {
			t.Fatalf("ShowNumber(%q) = %q", s, got)
		}
	})
}

func number(min, max float64, unit string) *schema.Field {
	return &schema.Field{Path: "plain.size", Section: "plain", Name: "size", Title: "Size", Type: "number", Min: &min, Max: &max, Unit: unit}
}

// The four states: recorded, recorded as none, unknown, not recorded. No two read
// the same and none is blank.
func TestShowTellsTheFourStatesApart(t *testing.T) {
	f := number(0, 10, "mL")
	f.None = "Not used"
	n := schema.NewNote(schema.Stage1, "n", "c")
	seen := map[string]string{}
	see := func(state, want string) {
		t.Helper()
		got := schema.Show(f, n, f.Path)
		if got != want {
			t.Errorf("%s: shows %q, want %q", state, got, want)
		}
		if was, ok := seen[got]; ok || strings.TrimSpace(got) == "" {
			t.Errorf("%s shows %q, as %q does", state, got, was)
		}
		seen[got] = state
	}
	see("not recorded", "not recorded")
	for answer, want := range map[string]string{schema.StatedNone: "Not used", schema.StatedUnknown: "Not known",
		schema.StatedNotMeasured: "Not measured", schema.StatedUnrecordable: "Unrecordable", schema.StatedClotted: "Sample clotted"} {
		n.State(f.Path, answer)
		see(answer, want)
	}
	n.Set(f.Path, json.Number("0"))
	see("zero", "0 mL")
	n.Set(f.Path, json.Number("3.50"))
	see("a value", "3.5 mL")
	n.SetBound(f.Path, "<")
	see("a value with a comparator", "less than 3.5 mL")
	n.SetBound(f.Path, ">")
	see("the other comparator", "more than 3.5 mL")
	n.Clear(f.Path)
	if got := schema.Show(f, n, f.Path); got != schema.NotRecorded {
		t.Errorf("cleared, it shows %q", got)
	}
}

func TestShowValue(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	n.AddItem("drain", "d1", 7)
	enum := &schema.Field{Type: "string", Enum: []string{"a-b"}, Labels: map[string]string{"a-b": "A and B"}}
	for _, c := range []struct {
		f    *schema.Field
		v    any
		want string
	}{
		{enum, "a-b", "A and B"},
		{enum, "other", "other"},
		{&schema.Field{Type: "list", Labels: enum.Labels}, []any{"a-b", "c"}, "A and B, c"},
		{&schema.Field{Type: "list"}, []any{}, "not recorded"},
		{&schema.Field{Type: "rows"}, []any{map[string]any{}}, "1 entry"},
		{&schema.Field{Type: "rows"}, []any{map[string]any{}, map[string]any{}}, "2 entries"},
		{&schema.Field{Type: "boolean"}, true, "Yes"},
		{&schema.Field{Type: "boolean"}, false, "No"},
		{&schema.Field{Type: "string", Format: "date"}, "2026-07-04", "04-Jul-2026"},
		{&schema.Field{Type: "string", Format: "moment"}, "2026-07-04T09:42+01:00[Europe/London]", "04-Jul-2026 09:42"},
		{&schema.Field{Type: "string", Format: "moment"}, "about ten", "about ten"},
		{&schema.Field{Type: "string", Format: "item"}, "d1", "tag 7"},
		{&schema.Field{Type: "string", Format: "item"}, "d2", "an item that is not listed"},
		{&schema.Field{Type: "list", Format: "items"}, []any{"d1", "d2"}, "tag 7, an item that is not listed"},
		{&schema.Field{Type: "number", Unit: "1"}, json.Number("2"), "2"},
		{&schema.Field{Type: "number"}, map[string]any{}, "not recorded"},
		{&schema.Field{Type: "number"}, nil, "not recorded"},
	} {
		if got := schema.ShowValue(c.f, c.v, n); got != c.want {
			t.Errorf("%s %v shows %q, want %q", c.f.Type, c.v, got, c.want)
		}
	}
}

// What is written plainly takes the short way, and reads as on the long one.
func TestPlainNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[+-]?[0-9.]{0,5}`).Draw(t, "number")
		if got, long := schema.ShowNumber(s), schema.ShowNumber(" "+s); got != long {
			t.Fatalf("%q is shown as %q, and with a space before it as %q", s, got, long)
		}
	})
}
