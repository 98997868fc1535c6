package lines

import (
	"slices"
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
	if r := LeftOf(&v, b.item(t, wires)); r.Left != 1 || r.Of != 2 {
		t.Errorf("left %d of %d", r.Left, r.Of)
	}
	b.do(b.w.Happen(ledger.KindConfirmed, wires, ledger.RegisterFacts{})) // seen: one of two all the same
	v, _ = b.rec.Item(wires)
	if r := LeftOf(&v, b.item(t, wires)); r.Part != "1 of 2 left in" {
		t.Errorf("seen again: %q", r.Part)
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
	if got := left(b); got != "Cut and left inside: ventricular wires, 14-Jul-2026" {
		t.Errorf("cut on purpose: %q", got)
	}
}

// Of two wires one is cut and left, and the other pulled, in either order and however late
// the one is entered: what is inside stands as inside from the cut on, with its date,
// wherever what is in stands, and goes when it comes out as well.
func TestOneCutOnePulled(t *testing.T) {
	cut := ledger.RegisterFacts{Cut: "1", Others: "yes", Note: "2 cm under the skin"}
	pulled := ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Number: "1"}
	for _, c := range []struct {
		what string
		do   func(b *bed, wires ledger.ItemID) (between string)
	}{
		{"cut first", func(b *bed, wires ledger.ItemID) string {
			b.do(b.w.Happen(ledger.KindCutLeft, wires, cut))
			v, _ := b.rec.Item(wires)
			if v.Stand() != ledger.StandsIn || !v.InUse() {
				t.Errorf("one is cut, and of the other it says %v", v.Where)
			}
			between := NameNow(&v, b.item(t, wires))
			b.do(b.w.Remove(wires, pulled))
			return between
		}},
		{"pulled first", func(b *bed, wires ledger.ItemID) string {
			part := pulled
			part.Complete = "no"
			b.do(b.w.Remove(wires, part))
			v, _ := b.rec.Item(wires)
			b.do(b.w.Happen(ledger.KindCutLeft, wires, ledger.RegisterFacts{Cut: "1", Note: cut.Note}))
			return NameNow(&v, b.item(t, wires))
		}},
		{"entered the other way round", func(b *bed, wires ledger.ItemID) string {
			b.do(b.w.Happen(ledger.KindCutLeft, wires, cut), b.w.At(moment(t, "2026-07-14T13:00+00:00")).Remove(wires, pulled))
			return ""
		}},
	} {
		b := newBed(t)
		wires := b.list("pacing-wires", "atrial", "count=2")
		between := c.do(b, wires)
		if want := map[string]string{"cut first": "1 of 2 in, 1 cut and left inside: atrial wires", "pulled first": "1 of 2 left in: atrial wires"}[c.what]; between != want {
			t.Errorf("%s: between, the name is %q, want %q", c.what, between, want)
		}
		want := "1 of 2 cut and left inside: atrial wires, 14-Jul-2026"
		v, _ := b.rec.Item(wires)
		if got := left(b); v.Stand() != ledger.StandsCut || got != want {
			t.Errorf("%s: stands %v, banner %q", c.what, v.Stand(), got)
		}
		if name := NameNow(&v, b.item(t, wires)); name != "1 of 2 cut and left inside: atrial wires" || !strings.Contains(Became(v), "1 cut and left (2 cm under the skin)") {
			t.Errorf("%s: %q, became %q", c.what, name, Became(v))
		}
		r := b.register(t, settings(t), "2026-07-24T09:00+00:00")
		if len(r.Faults) > 0 || len(r.Due) > 0 || r.Tally.Words() != "1 tag listed: none in, 1 cut and left inside." {
			t.Errorf("%s: %q, due %+v, faults %+v", c.what, r.Tally.Words(), r.Due, r.Faults)
		}
		said := r.Left[0].Said
		for _, want := range []string{"2 cm under the skin, A. Example", "MRI as listed: not recorded"} {
			if !strings.Contains(said, want) {
				t.Errorf("%s: said of it is %q, without %q", c.what, said, want)
			}
		}
		board := UnitChildOf(r)
		if len(board.Left) != 1 || len(board.Items) != 1 || board.Items[0].Name != "1 of 2 cut and left inside: atrial wires" || board.Held.Words("tag") != "no tag in, 1 cut and left inside" {
			t.Errorf("%s: the board %+v", c.what, board)
		}
		if len(GoingHome(b.rec)) != 0 {
			t.Errorf("%s: asked before going home: %+v", c.what, GoingHome(b.rec))
		}
		b.do(b.w.GoHome(wires, "Dr Example", "never"), b.w.Discharge())
		if v, _ = b.rec.Item(wires); left(b) != want || v.Stand() != ledger.StandsCut {
			t.Errorf("%s: gone home with it, and the banner is %q", c.what, left(b))
		}
		b.do(b.w.Remove(wires, ledger.RegisterFacts{Complete: "yes"}))
		if v, _ = b.rec.Item(wires); left(b) != "" || v.Where != ledger.Removed || Became(v) != "" {
			t.Errorf("%s: it came out as well, and %q stands, %q", c.what, left(b), v.Where)
		}
	}
}

// A stump is a stump still when it was seen, moved or lost and found.
func TestStumpSeenAgain(t *testing.T) {
	b := newBed(t)
	drain := b.list("drain", "mediastinal")
	b.do(b.w.Happen(ledger.KindCutLeft, drain, ledger.RegisterFacts{Note: "5 cm"}), b.w.Happen(ledger.KindLost, drain, ledger.RegisterFacts{}), b.w.Happen(ledger.KindConfirmed, drain, ledger.RegisterFacts{}))
	v, _ := b.rec.Item(drain)
	if got := left(b); got != "Cut and left inside: mediastinal drain, 14-Jul-2026" || !strings.HasPrefix(Became(v), "cut and left (5 cm)") {
		t.Errorf("the banner says %q; became %q", got, Became(v))
	}
}

// Of what came out but for a piece nothing can be read, and it is not asked whether it is
// still needed; of what is several, one may be in whole.
func TestPiece(t *testing.T) {
	b := newBed(t)
	line, wires := b.list("intracardiac-line", "left-atrial"), b.list("pacing-wires", "atrial", "count=2")
	one := b.list("pacing-wires", "ventricular", "count=1")
	for _, id := range []ledger.ItemID{line, wires, one} {
		b.do(b.w.Remove(id, ledger.RegisterFacts{Complete: "no", TipSeen: "no"}))
	}
	r := b.register(t, settings(t), "2026-07-20T09:00+00:00")
	for id, piece := range map[ledger.ItemID]bool{line: true, wires: false, one: true} {
		it, ok := r.Item(id)
		asked := slices.ContainsFunc(it.Due, func(d Due) bool { return d.What == DueNeed })
		if !ok || it.View.Piece != piece || asked == piece {
			t.Errorf("%s: in %v, a piece %v, asked for %v", it.Name, ok, it.View.Piece, asked)
		}
	}
	open := b.w.OpenRound()
	b.do(open)
	if rd, _ := b.rec.Round(open.ID); !slices.Equal(rd.Unasked, []ledger.ItemID{wires}) {
		t.Errorf("the round asks of %v", rd.Unasked)
	}
	if len(LeftIn(b.rec)) != 3 {
		t.Errorf("the banner says %q", left(b))
	}
}
