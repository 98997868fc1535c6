package lines

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

func openWords(r Register) string {
	var out []string
	for _, p := range r.Open {
		out = append(out, p.What+": "+p.Words)
	}
	return strings.Join(out, "\n")
}

// What is wrong with the child, or was said in words, does not leave with the thing.
func TestProblemsOfTheChildStay(t *testing.T) {
	b := newBed(t)
	line := b.list("arterial-line", "umbilical-arterial")
	for _, what := range []string{"limb-pale", "no pulse in the foot", "infection-suspected", "tissued", "blocked"} {
		b.do(b.w.ReportProblem(line, what, "", "", "doctor told"))
	}
	_, events := b.w.Exchange(b.rec, line, "", ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"})
	b.do(events...)
	r := b.register(t, settings(t), "2026-07-15T09:00+00:00")
	var got []string
	for _, p := range r.Open {
		got = append(got, p.What)
	}
	if want := []string{"limb-pale", "no pulse in the foot", "infection-suspected", "tissued"}; !slices.Equal(got, want) {
		t.Errorf("open are %v, want %v", got, want)
	}
}

// A condition answered "no" before removal stays open under the removal, with who
// decided, until somebody settles it.
func TestRemovedDespiteStaysOpen(t *testing.T) {
	b := newBed(t)
	line := b.list("intracardiac-line", "right-atrial")
	out := b.w.Remove(line, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Why: "surgeon at the bed",
		Conditions: []ledger.Condition{{What: "Platelets known", Answer: "no"}, {What: "Heparin off", Answer: "yes"}}})
	b.do(out)
	open := func() string { return openWords(b.register(t, settings(t), "2026-07-15T09:00+00:00")) }
	if got, want := open(), "despite: came out although answered no: Platelets known (surgeon at the bed)"; got != want {
		t.Errorf("open: %q, want %q", got, want)
	}
	b.do(b.w.Settle("", out.ID, "Platelets 210, no bleeding", ""))
	if got := open(); got != "" {
		t.Errorf("settled, and open: %q", got)
	}
}

// A piece of a drain that was left in drains nothing: the next one is the last.
func TestPieceOfADrainIsNoDrain(t *testing.T) {
	b := newBed(t)
	line, piece, last := b.list("intracardiac-line", "right-atrial"), b.list("drain", "mediastinal"), b.list("drain", "right-pleural")
	b.do(b.w.Remove(piece, ledger.RegisterFacts{Complete: "no"}))
	asks := func(id ledger.ItemID) string {
		return strings.Join(RemovalOf(b.rec, settings(t), id, moment(t, "2026-07-15T09:00+00:00")).Questions, " ")
	}
	if q := asks(last); !strings.Contains(q, "This is the last chest drain") {
		t.Errorf("the last that drains: %q", q)
	}
	b.do(b.w.Remove(last, ledger.RegisterFacts{Complete: "yes"}))
	if q := asks(line); !strings.Contains(q, "No chest drain is in") {
		t.Errorf("the line: %q", q)
	}
}

// What another device dated ahead is not "just now".
func TestSeenInTheFuture(t *testing.T) {
	s := &Seen{By: ledger.Author{Name: "C. Other"}, At: moment(t, "2026-07-14T13:00+00:00"), How: "output read"}
	if got := s.Words(moment(t, "2026-07-14T12:00+00:00")); !strings.Contains(got, "14-Jul-2026 13:00, which is still to come") || strings.Contains(got, "just now") {
		t.Error(got)
	}
}

// Where nobody said how many lumens there are, a second infusion does not displace
// the first: it may run through the other.
func TestTwoInfusionsWithoutALumen(t *testing.T) {
	b := newBed(t)
	neck, arm := b.list("central-venous-line", "jugular"), b.list("peripheral-cannula", "")
	for _, id := range []ledger.ItemID{neck, arm} {
		b.do(b.w.Connect(id, "", "adrenaline"))
		b.do(b.w.Connect(id, "", "milrinone"))
	}
	runs := func(id ledger.ItemID) string {
		it, _ := b.register(t, settings(t), "2026-07-15T09:00+00:00").Item(id)
		var out []string
		for _, l := range it.Lumens {
			out = append(out, l.Runs)
		}
		return strings.Join(out, ", ")
	}
	if got := runs(neck); got != "adrenaline, milrinone" {
		t.Errorf("the jugular line: %q", got)
	}
	if got := runs(arm); got != "milrinone" {
		t.Errorf("a cannula has one lumen: %q", got)
	}
}

// A round that was never closed is not today's.
func TestStaleRound(t *testing.T) {
	b := newBed(t)
	line := b.list("central-venous-line", "jugular")
	begun := b.at(t, "03:09").OpenRound()
	b.do(begun, b.at(t, "03:10").AnswerNeed(begun.ID, line, ledger.StillNeeded, ""))
	for at, stale := range map[string]bool{"2026-07-14T12:00+00:00": false, "2026-07-15T09:00+00:00": true} {
		r := b.register(t, settings(t), at)
		if it, _ := r.Item(line); r.Stale != stale || it.Asked == stale {
			t.Errorf("%s: stale %v, asked %v", at, r.Stale, it.Asked)
		}
	}
}

// A new chamber takes over the drains of the old one: what comes is counted in it,
// and what came before stays counted.
func TestExchangedChamberHasTheDrains(t *testing.T) {
	b := newBed(t)
	first, second := b.list("drain", "mediastinal"), b.list("drain", "right-pleural")
	old := b.list("drain-chamber", "")
	b.set(schema.ItemPath(string(old), "drains"), ledger.Entry{Value: []string{string(first), string(second)}})
	b.do(b.at(t, "10:00").ReadOutput(old, ledger.Output{Total: "0"}), b.at(t, "11:00").ReadOutput(old, ledger.Output{Total: "40"}))
	fresh, events := b.at(t, "12:00").Exchange(b.rec, old, "", ledger.RegisterFacts{Complete: "yes"})
	b.do(events...)
	b.do(b.at(t, "12:01").ReadOutput(fresh, ledger.Output{Total: "0"}), b.at(t, "13:01").ReadOutput(fresh, ledger.Output{Total: "12"}))
	r := b.register(t, settings(t), "2026-07-14T14:00+00:00")
	for _, id := range []ledger.ItemID{first, second, fresh} {
		if it, _ := r.Item(id); it.Drainage == nil || it.Drainage.Of != fresh || it.Drainage.Total != 12 {
			t.Errorf("%s: %+v", it.Name, it.Drainage)
		}
	}
	all := 0.0
	for _, i := range r.Losses.Intervals {
		all += i.ML
	}
	if all != 52 {
		t.Errorf("40 mL and 12 mL came, %v are counted", all)
	}
	// A new drain goes to the chamber of the old.
	drain, events := b.at(t, "14:00").Exchange(b.rec, first, "", ledger.RegisterFacts{Complete: "yes"})
	b.do(events...)
	if it, _ := b.register(t, settings(t), "2026-07-14T14:30+00:00").Item(drain); it.Drainage == nil || it.Drainage.Of != fresh {
		t.Errorf("the new drain: %+v", it.Drainage)
	}
}
