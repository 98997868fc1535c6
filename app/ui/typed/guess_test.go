package typed

import (
	"strings"
	"testing"
)

// What was probably meant is offered, never taken: 7 lb 3 oz is 3.26 kg and 7 lb
// is 3.175 kg (the international avoirdupois pound is 0.45359237 kg, by agreement
// of 1959); the rest is arithmetic.
func TestWhatWasProbablyMeant(t *testing.T) {
	f := field("number", "kg", 0.3)
	most := 6.5
	f.Max = &most
	for text, part := range map[string]string{
		"1O": "Did you mean 10", "3.I": "Did you mean 3.1", "7 lb": "3.175 kg", "7 lb 3 oz": "3.26 kg", "3200 g": "3.2 kg",
		"NaN": "not a measurement", "Infinity": "not a measurement", "undefined": "not a measurement", "3,200": "3.200 or 3200",
	} {
		if got, wrong := Number(text, f); !strings.Contains(wrong, part) {
			t.Errorf("%q: %v, %q; want a sentence with %q", text, got, wrong, part)
		}
	}
	for v, part := range map[float64]string{3200: "If 3200 was in g, type 3.2 kg", 7: "If 7 was in lb, type 3.175 kg"} {
		if got := Implausible(v, f); !strings.Contains(got, part) {
			t.Errorf("%v: %q, want a sentence with %q", v, got, part)
		}
	}
	for _, v := range []float64{0.3, 3.2, 6.5, 0, -3.2} { // possible, or nothing to guess
		if got := Implausible(v, f); got != "" {
			t.Errorf("%v: %q", v, got)
		}
	}
}
