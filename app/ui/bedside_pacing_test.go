//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
)

// A test of wires with an output of 0.5 mA under a threshold of 0.8 mA is asked about
// before it is recorded, and stands on the row until another test says otherwise.
func TestOutputUnderThresholdIsAsked(t *testing.T) {
	p, item := atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "ventricular"}})
	const words = "The output 0.5 mA is under the threshold 0.8 mA: the heart may not be captured."
	a, it := action("test"), item()
	if at, wrong := p.refused("test", it, map[string]string{"threshold": "0.8", "output": "0.5"}); at != "sure" || !strings.HasPrefix(wrong, words) {
		t.Fatalf("at %q: %q", at, wrong)
	}
	p.S.child.halfTyped(a.half(it)+"sure", "known, and being treated")
	answers, _, wrong := p.answers(a, it)
	if wrong != "" {
		t.Fatal(wrong)
	}
	p.record("", a.record(p, p.S.child.writer, it, answers)...)
	if html := drawn(t, p.row(p.S.child.register(), item())); !strings.Contains(html, words) || !strings.Contains(html, "is-unsettled") {
		t.Error("the row does not say it, or says it as if all were well")
	}
	p.keep(t, "test", item(), map[string]string{"output": "5"})
	if html := drawn(t, p.row(p.S.child.register(), item())); strings.Contains(html, "may not be captured") {
		t.Error("raised, and still said")
	}
}
