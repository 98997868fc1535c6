package lines

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
)

// What was not found at the check is answered by how it came out, said since, whole or
// in part: the tally does not wait for a second answer, and what is left in stands first
// in the name, on the banner and in the register. A removal said before the check
// answers nothing.
func TestNotFoundAndThenOut(t *testing.T) {
	for _, c := range []struct {
		facts ledger.RegisterFacts
		name  string // "" where nothing is left
		how   string
	}{
		{ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}, "", "removed, 14-Jul-2026"},
		{ledger.RegisterFacts{Complete: "no", TipSeen: "no"}, "Part left in: right atrial line", "removed in part, 14-Jul-2026"},
		{ledger.RegisterFacts{Complete: "not known", TipSeen: "not known", Time: "not known"}, "Part may be left in: right atrial line",
			"out, perhaps not whole, found out (its time is not known) 14-Jul-2026"},
	} {
		b := newBed(t)
		id := b.list("intracardiac-line", "right-atrial")
		b.do(b.w.Check(b.rec, b.note, CheckOf(b.rec, b.note, ledger.Arrival).Entries[0].NotFound()))
		if CheckOf(b.rec, b.note, ledger.Arrival).Ready() {
			t.Fatal("not found, and the check is ready")
		}
		b.do(b.w.Remove(id, c.facts))
		ch := CheckOf(b.rec, b.note, ledger.Arrival)
		if e := ch.Entries[0]; !ch.Ready() || e.Answer.Settled == nil || !strings.HasPrefix(e.Answer.Settled.How, c.how) {
			t.Errorf("%+v: ready %v, settled %+v", c.facts, ch.Ready(), e.Answer.Settled)
		}
		r := b.register(t, settings(t), "2026-07-14T16:00+00:00")
		it, in := r.Item(id)
		if in != (c.name != "") || it.Name != c.name || left(b) != c.name {
			t.Errorf("%+v: in %v as %q, banner %q", c.facts, in, it.Name, left(b))
		}
		for _, p := range r.Open {
			if p.What != ProblemLeftInPart || p.Name != c.name {
				t.Errorf("%+v: open %+v", c.facts, p)
			}
		}
		if len(r.Open) != rank(c.name != "") {
			t.Errorf("%+v: open %+v", c.facts, r.Open)
		}
		// Another look finds nothing: the piece is not there, and that is open again.
		if c.name != "" {
			b.do(b.w.Check(b.rec, b.note, CheckOf(b.rec, b.note, ledger.Arrival).Entries[0].NotFound()))
			if CheckOf(b.rec, b.note, ledger.Arrival).Ready() {
				t.Errorf("%+v: the piece is not found, and the check is ready", c.facts)
			}
		}
	}
}

// Of two wires one is out: the other stays listed, as what it is; when it comes out
// nothing is left. What a count says of a thing of which no number is listed, it says not.
func TestOneOfTwo(t *testing.T) {
	b := newBed(t)
	wires := b.list("pacing-wires", "atrial", "count=2")
	b.do(b.w.Remove(wires, ledger.RegisterFacts{Complete: "no", Number: "1"}))
	v, _ := b.rec.Item(wires)
	if got := NameNow(&v, b.item(t, wires)); got != "1 of 2 left in: atrial wires" {
		t.Errorf("one of two is out: %q", got)
	}
	if n, of, _ := LeftOf(&v, b.item(t, wires)); n != 1 || of != 2 {
		t.Errorf("left %d of %d", n, of)
	}
	b.do(b.w.Happen(ledger.KindConfirmed, wires, ledger.RegisterFacts{})) // seen: one of two all the same
	v, _ = b.rec.Item(wires)
	if _, _, got := LeftOf(&v, b.item(t, wires)); got != "1 of 2 left in" {
		t.Errorf("seen again: %q", got)
	}
	b.do(b.w.Remove(wires, ledger.RegisterFacts{Complete: "yes", Number: "1"}))
	if v, _ = b.rec.Item(wires); v.Where != ledger.Removed || left(b) != "" {
		t.Errorf("both out: %q, %q", v.Where, left(b))
	}
	cut := b.list("pacing-wires", "ventricular")
	b.do(b.w.Remove(cut, ledger.RegisterFacts{Complete: "no", Number: "1"}))
	v, _ = b.rec.Item(cut)
	if got := NameNow(&v, b.item(t, cut)); got != "Part left in: ventricular wires" {
		t.Errorf("no number is listed: %q", got)
	}
	b.do(b.w.Happen(ledger.KindCutLeft, cut, ledger.RegisterFacts{Note: "2 cm"}))
	if left(b) != "" {
		t.Errorf("cut on purpose: %q", left(b))
	}
}
