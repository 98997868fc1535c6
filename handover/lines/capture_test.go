package lines

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// noMargin are settings without the unit's margin of pacing.
func noMargin(t *testing.T) *profile.Profile {
	t.Helper()
	p, faults := profile.Default().Change(profile.PacingMargin, []byte("null"), "", "Dr Invented Example", "2026-07-14", "This unit has no margin")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

// The output of the box against the threshold of the wires. In any case (arithmetic): 0.5
// is under 0.8 mA, 0.8 is no more than 0.8, 0.9 is more. Where the unit's margin of 2
// (profile, from memory) is in force: 1.5 is under 2 x 0.8 = 1.6 mA, 1.6 is not, and 0.6
// is not under 2 x 0.3 = 0.6 mA, whatever binary fractions make of it.
func TestOutputAgainstThreshold(t *testing.T) {
	const raise = " Raise the output, or test the wires again."
	for _, c := range []struct {
		output, threshold, plain, margin string
	}{
		{"0.5", "0.8", "The output 0.5 mA is under the threshold 0.8 mA: the heart may not be captured." + raise, "="},
		{"0.8", "0.8", "The output 0.8 mA is no more than the threshold 0.8 mA: the heart may not be captured." + raise, "="},
		{"0.9", "0.8", "", "The output 0.9 mA is under 2 times the threshold 0.8 mA (the unit's setting)." + raise},
		{"1.5", "0.8", "", "The output 1.5 mA is under 2 times the threshold 0.8 mA (the unit's setting)." + raise}, {"1.6", "0.8", "", ""}, {"0.6", "0.3", "", ""},
	} {
		for _, inForce := range []bool{false, true} {
			p, want := noMargin(t), c.plain
			if inForce {
				if p = settings(t); c.margin != "=" {
					want = c.margin
				}
			}
			b := newBed(t)
			wires := b.list("pacing-wires", "ventricular")
			r := b.register(t, p, "2026-07-14T18:00+00:00")
			it, _ := r.Item(wires)
			out, _ := number(c.output)
			thr, _ := number(c.threshold)
			got := ""
			for _, d := range r.Doubts(it, map[string]float64{"threshold": thr, "output": out}, r.At) {
				if d.Figure == "output" && strings.HasPrefix(d.What, "The output") {
					got = d.What
					if !d.Ask {
						t.Error("refused, and not asked")
					}
				}
			}
			if got != want {
				t.Errorf("%s mA at %s mA, margin in force %v: asked %q, want %q", c.output, c.threshold, inForce, got, want)
			}
			b.do(b.at(t, "12:00").TestWires(wires, ledger.WireTest{Threshold: c.threshold, Output: c.output}))
			if it, _ = b.register(t, p, "2026-07-14T18:00+00:00").Item(wires); it.Capture != want {
				t.Errorf("%s mA at %s mA, margin in force %v: the row says %q, want %q", c.output, c.threshold, inForce, it.Capture, want)
			}
		}
	}
}

// What one test does not tell holds as it was told before; the remark stands until a test
// says otherwise, and not for wires that are not at the box.
func TestOutputAgainstWhatWasToldBefore(t *testing.T) {
	b := newBed(t)
	wires := b.list("pacing-wires", "ventricular", "threshold=0.8")
	now := func() (Register, InChild) {
		r := b.register(t, noMargin(t), "2026-07-14T18:00+00:00")
		it, _ := r.Item(wires)
		return r, it
	}
	says := func(when string, want bool) {
		t.Helper()
		if _, it := now(); (it.Capture != "") != want {
			t.Errorf("%s: the row says %q", when, it.Capture)
		}
	}
	says("no output is known", false)
	r, it := now()
	if ds := r.Doubts(it, map[string]float64{"output": 0.5}, r.At); len(ds) != 1 || !strings.Contains(ds[0].What, "under the threshold 0.8 mA") {
		t.Errorf("the box set under the threshold that the note has: %+v", ds)
	}
	b.set(schema.LeavingPacing, ledger.Entry{Value: "ventricular"})
	b.set(schema.LeavingVentricularOutput, ledger.Number("0.5"))
	says("as the note has it", true)
	b.do(b.at(t, "12:00").TestWires(wires, ledger.WireTest{Output: "5"}))
	says("the output was raised", false)
	b.do(b.at(t, "13:00").TestWires(wires, ledger.WireTest{Threshold: "6"}))
	says("the threshold rose", true)
	b.do(b.at(t, "14:00").TestWires(wires, ledger.WireTest{Sensing: "4"}))
	says("only sensing was tested since", true)
	b.do(b.at(t, "15:00").TestWires(wires, ledger.WireTest{Connection: "insulated"}))
	says("off the box", false)
	b.do(b.at(t, "16:00").TestWires(wires, ledger.WireTest{Connection: "connected"}))
	says("at the box again", true)
	b.do(b.at(t, "17:00").TestWires(wires, ledger.WireTest{Threshold: "0.8"}))
	says("the threshold fell", false)
}
