package lines

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Problems stay open until they are settled by name, or, if they are of the thing and
// not of the child, until it is out; each in the words of the item's own states.
func TestProblems(t *testing.T) {
	b, ids := fullBed(t)
	line, radial := ids["neck"], ids["radial"]
	open := func() []string {
		var out []string
		for _, p := range RegisterOf(b.rec, settings(t), moment(t, "2026-07-16T09:00+00:00")).Open {
			out = append(out, p.Name+": "+p.Words)
		}
		return out
	}
	if got := open(); len(got) != 0 {
		t.Fatalf("open from the start: %v", got)
	}
	leak := b.w.ReportProblem(line, "lumen-blocked", "distal", "", "will not flush")
	b.do(leak)
	b.do(b.w.ReportProblem(radial, "limb-pale", "", "", ""))
	b.do(b.w.ReportProblem(radial, "moved", "", "1 cm", ""))
	b.put(ids["med"], "state", "clamped")
	want := []string{"Right jugular line 4 Fr: a lumen blocked, lumen distal (will not flush)", "Left radial arterial line 24 gauge: limb pale",
		"Left radial arterial line 24 gauge: moved, at 1 cm", "Mediastinal drain 12 Fr: as noted: clamped"}
	if got := open(); !slices.Equal(got, want) {
		t.Errorf("open are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	b.do(b.w.Settle("", leak.ID, "Lumen given up, labelled not for use", ""))
	b.do(b.w.Remove(radial, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	if got := open(); !slices.Equal(got, []string{want[1], want[3]}) {
		t.Errorf("one settled and one out, open are\n%s", strings.Join(got, "\n"))
	}
	undo, ok := b.w.Undo(b.rec)
	if !ok {
		t.Fatal("the removal cannot be undone")
	}
	b.do(undo...)
	if got := open(); !slices.Equal(got, want[1:]) {
		t.Errorf("the removal undone, open are\n%s", strings.Join(got, "\n"))
	}
}

// What was lost stays open until somebody says how it is accounted for, and is
// counted as lost even then.
func TestLost(t *testing.T) {
	b, ids := fullBed(t)
	e := b.w.Happen(ledger.KindLost, ids["packs"], ledger.RegisterFacts{Note: "one of two retrieved"})
	b.do(e)
	open := func() []Problem { return RegisterOf(b.rec, settings(t), moment(t, "2026-07-16T09:00+00:00")).Open }
	if ps := open(); len(ps) != 1 || ps[0].What != ProblemLost || ps[0].Event != e.ID || ps[0].Words != "could not be found (one of two retrieved)" {
		t.Errorf("open %+v", ps)
	}
	if ls := LeftIn(b.rec); len(ls) == 0 || !slices.ContainsFunc(ls, func(l Left) bool { return l.Words == "Packs, 2 (lost)" }) {
		t.Errorf("a lost pack stays on the banner: %+v", ls)
	}
	b.do(b.w.Settle("", e.ID, "Seen on the X-ray, in the bin with the dressing", "A. Example"))
	if ps, tally := open(), b.rec.RegisterTally(); len(ps) != 0 || len(tally.Lost) != 1 || !tally.Balances {
		t.Errorf("open %+v, lost %v", ps, tally.Lost)
	}
}

// Last seen, by whom and how; a question is not a sighting.
func TestLastSeen(t *testing.T) {
	b, ids := fullBed(t)
	now := moment(t, "2026-07-14T20:00+00:00")
	seen := func(name string) string {
		e, ok := RegisterOf(b.rec, settings(t), now).Item(ids[name])
		if !ok {
			t.Fatalf("%s is not in", name)
		}
		return e.Seen.Words(now)
	}
	if got := seen("la"); got != "not seen since it was listed" {
		t.Error(got)
	}
	e := CheckOf(b.rec, b.note, ledger.Arrival).Entries
	i := slices.IndexFunc(e, func(e Entry) bool { return e.Item.ID == string(ids["la"]) })
	c := e[i].Found()
	b.do(b.at(t, "16:00").Check(b.rec, b.note, c))
	if got := seen("la"); got != "seen 4 h ago by A. Example (anaesthetist): found on arrival" {
		t.Error(got)
	}
	nurse := b.at(t, "17:30").As(ledger.Author{Name: "N. Example", Role: "nurse"})
	b.do(nurse.ReadPressure(ids["la"], ledger.Pressure{Mean: "8"}))
	b.do(b.at(t, "18:00").AnswerNeed("", ids["la"], ledger.StillNeeded, ""))
	b.do(b.at(t, "18:30").Happen(ledger.KindChecked, ids["la"], ledger.RegisterFacts{Answer: ledger.NotFound}))
	if got := seen("la"); got != "seen 2 h ago by N. Example (nurse): pressure read" {
		t.Error(got)
	}
}

// What is due comes in order of its time; what has none comes last.
func TestDueInOrder(t *testing.T) {
	b, ids := fullBed(t)
	b.put(ids["hand"], "outBy", "2026-07-15")
	b.do(b.at(t, "15:00").Remove(ids["nirs"], ledger.RegisterFacts{Complete: "yes", Next: moment(t, "2026-07-14T16:00+00:00")}))
	e := CheckOf(b.rec, b.note, ledger.Arrival).Entries
	i := slices.IndexFunc(e, func(e Entry) bool { return e.Item.ID == string(ids["pd"]) })
	b.do(b.at(t, "15:10").Check(b.rec, b.note, e[i].CannotSee("under the dressing", moment(t, "2026-07-14T18:00+00:00"))))
	r := RegisterOf(b.rec, settings(t), moment(t, "2026-07-14T17:00+00:00"))
	var got []string
	var last schema.Moment
	timeless := false
	for _, d := range r.Due {
		if d.At.IsZero() {
			timeless = true
		} else if timeless || d.At.Before(last) {
			t.Errorf("%s at %s comes after %s", d.What, d.At.Shown(), last.Shown())
		} else {
			last = d.At
		}
		if d.What != DueNeed {
			got = append(got, d.What+" "+d.At.Shown())
		}
	}
	if want := "site 14-Jul-2026 16:00, look 14-Jul-2026 18:00, out-by 15-Jul-2026 23:59, plan not recorded"; strings.Join(got, ", ") != want {
		t.Errorf("due are %s, want %s", strings.Join(got, ", "), want)
	}
	if !r.Due[0].Overdue || r.Due[1].Overdue {
		t.Errorf("at 17:00 %+v", r.Due[:2])
	}
	b.do(b.at(t, "17:30").Happen(ledger.KindChecked, ids["pd"], ledger.RegisterFacts{Answer: ledger.Found})) // looked at again
	r = RegisterOf(b.rec, settings(t), moment(t, "2026-07-14T19:00+00:00"))
	if slices.ContainsFunc(r.Due, func(d Due) bool { return d.What == DueLook }) {
		t.Error("it was looked at again, and that is still due")
	}
}

// At discharge the list is empty, or says item by item what goes with the child,
// who knows, and when it must come out.
func TestGoesWithTheChild(t *testing.T) {
	b, ids := fullBed(t)
	b.do(b.w.Transfer(ids["neck"], "Ward of examples", "M. Example", "day 7"))
	b.do(b.w.GoHome(ids["snare"], "parents", "at the clinic in a week"))
	r := RegisterOf(b.rec, settings(t), moment(t, "2026-07-16T09:00+00:00"))
	var got []string
	for _, d := range r.Due {
		if d.What == DueLeaving {
			got = append(got, d.Name+". "+d.Words)
		}
	}
	slices.Sort(got)
	want := []string{"Right jugular line 4 Fr. To come out: day 7; known to M. Example", "Snare. To come out: at the clinic in a week; known to parents"}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	// Until the child leaves they are at the bed, are read and asked about: the answer is
	// given hours before. Then they are not.
	asked := func() (n int) {
		for _, d := range RegisterOf(b.rec, settings(t), moment(t, "2026-07-16T09:00+00:00")).Due {
			if d.What == DueNeed && (d.Item == ids["neck"] || d.Item == ids["snare"]) {
				n++
			}
		}
		return n
	}
	if n := asked(); n != 2 {
		t.Errorf("the child is still here, and %d of the two are asked about", n)
	}
	b.do(b.w.OpenRound())
	if round, _ := b.rec.Round(b.rec.Rounds()[0].ID); !slices.Contains(round.Unasked, ids["neck"]) {
		t.Error("the round does not ask of what is still here")
	}
	b.do(b.w.Discharge())
	if n := asked(); n != 0 {
		t.Errorf("the child has left, and %d are asked about", n)
	}
	if v, _ := b.rec.Item(ids["neck"]); v.AtBedside() {
		t.Error("the child has left, and it is looked for at the bed")
	}
	left := b.rec.RegisterTally()
	if words := r.Tally.Words(); strings.Contains(words, "gone") || !strings.Contains(left.Words(), "2 gone with the child") || len(left.In) != len(r.Tally.In)-2 || !left.Balances {
		t.Errorf("the tally says %q, and then %q", words, left.Words())
	}
}
