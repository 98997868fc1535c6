package lines

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

func left(b *bed) string {
	var out []string
	for _, l := range LeftIn(b.rec) {
		out = append(out, l.Words)
	}
	return strings.Join(out, "; ")
}

// While two people disagree on whether the chest is open, or on how many packs are
// in, the banner says the worse of it. That what is left in is carried until it is
// reconciled is references.md A (packs left on purpose).
func TestBannerWhileDisputed(t *testing.T) {
	for _, order := range [][2]string{{"open", "closed"}, {"closed", "open"}} {
		b := newBed(t)
		other := b.w.As(ledger.Author{Name: "B. Other", Role: "surgeon"})
		b.do(b.w.Set(b.rec, b.note, schema.ClosingSternum, ledger.Entry{Value: order[0]}), other.Set(b.rec, b.note, schema.ClosingSternum, ledger.Entry{Value: order[1]}))
		if got := left(b); !strings.Contains(got, "Chest open") {
			t.Errorf("%v: the banner says %q", order, got)
		}
		if c := UnitChildOf(b.register(t, nil, "2026-07-15T12:00+00:00")); len(c.Left) != 1 {
			t.Errorf("the board says %+v", c.Left)
		}
		b.do(b.w.Set(b.rec, b.note, schema.CountsPacksLeft, ledger.Number("0")), other.Set(b.rec, b.note, schema.CountsPacksLeft, ledger.Number("2")))
		if got := left(b); !strings.Contains(got, "Packs, 2") {
			t.Errorf("the banner says %q", got)
		}
	}
}

// A pack that was lost stands on the banner until it is found and out; so does one
// that came out in part, and one listed twice is settled by taking one off.
func TestBannerUntilReconciled(t *testing.T) {
	b := newBed(t)
	packs := b.list("left-on-purpose", "packs", "count=3")
	b.do(b.w.Happen(ledger.KindLost, packs, ledger.RegisterFacts{Note: "not in the swab count"}))
	if got := left(b); got != "Packs, 3 (lost)" {
		t.Errorf("lost, and the banner says %q", got)
	}
	b.do(b.w.Happen(ledger.KindConfirmed, packs, ledger.RegisterFacts{}))
	if got := left(b); got != "Packs, 3" {
		t.Errorf("found again, and the banner says %q", got)
	}
	b.do(b.w.Remove(packs, ledger.RegisterFacts{Complete: "no"}))
	if got := left(b); got != "Part left in: packs, 3" {
		t.Errorf("in part, and the banner says %q", got)
	}
	b.do(b.w.Remove(packs, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	if got := left(b); got != "" {
		t.Errorf("all out, and the banner says %q", got)
	}
	if r := b.register(t, settings(t), "2026-07-15T12:00+00:00"); slices.ContainsFunc(r.Open, func(p Problem) bool { return p.What == ProblemLeftInPart && p.Settled == nil }) {
		t.Errorf("all out, and open is %+v", r.Open)
	}
}

// Which of the things left on purpose it is, is in dispute or not recorded: it stands
// there until that is settled. Packs of an earlier operation that are out do not hide
// those that a later one counts and does not list.
func TestBannerOfWhatIsNotKnown(t *testing.T) {
	b := newBed(t)
	id := b.list("left-on-purpose", "")
	if got := left(b); got != "Left on purpose, which not recorded" {
		t.Errorf("the banner says %q", got)
	}
	other := b.w.As(ledger.Author{Name: "B. Other", Role: "surgeon"})
	at := schema.ItemPath(string(id), "variety")
	b.do(b.w.Set(b.rec, b.note, at, ledger.Entry{Value: "packs"}), other.Set(b.rec, b.note, at, ledger.Entry{Value: "snare"}))
	if got := left(b); got != "Left on purpose (in dispute)" {
		t.Errorf("the banner says %q", got)
	}
	b.do(b.w.Set(b.rec, b.note, at, ledger.Entry{Value: "packs"}))
	b.do(b.w.Remove(id, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	b.set(schema.CountsPacksLeft, ledger.Number("1"))
	if got := left(b); got != "Packs, 1, not listed" {
		t.Errorf("one is counted after those listed came out, and the banner says %q", got)
	}
	b.set(schema.CountsPacksLeft, ledger.Number("0"))
	if got := left(b); got != "" {
		t.Errorf("none is in, and the banner says %q", got)
	}
	b.wall = b.wall.Add(6 * time.Hour)
	b.note = b.w.NewNote()
	b.do(b.w.OpenNote(b.note, schema.Reexploration))
	b.set(schema.CountsPacksLeft, ledger.Number("2"))
	if got := left(b); got != "Packs, 2, not listed" {
		t.Errorf("two more are counted, and the banner says %q", got)
	}
}

// The number that a note says is in stands on the banner although what it lists is out
// by the same note, or is fewer; what came out since is taken off. A retained pack is
// looked for by the count (references.md A).
func TestBannerCountsPacks(t *testing.T) {
	for _, c := range []struct {
		count, listed string // said to be left in; on the list
		out           string // "note": by the note itself; "before", "since": at the bed; "": it is in
		want          string
	}{
		{"1", "2", "note", "Packs, 1, not listed"}, {"1", "2", "before", "Packs, 1, not listed"}, {"2", "2", "since", ""}, {"3", "2", "since", "Packs, 1, not listed"},
		{"3", "2", "", "Packs, 2; Packs, 1, not listed"}, {"2", "2", "", "Packs, 2"}, {"2", "", "", "Packs"}, {"2", "", "since", ""}, {"0", "2", "note", ""},
	} {
		b := newBed(t)
		more := []string{}
		if c.listed != "" {
			more = append(more, "count="+c.listed)
		}
		packs := b.list("left-on-purpose", "packs", more...)
		yes := ledger.RegisterFacts{Complete: "yes"}
		if c.out == "before" {
			b.do(b.w.Remove(packs, yes))
		}
		b.do(b.w.Set(b.rec, b.note, schema.CountsPacksLeft, ledger.Number(c.count)))
		switch c.out {
		case "note":
			b.do(b.w.Register(b.note, ledger.KindRemoved, packs, yes))
		case "since":
			b.do(b.w.Remove(packs, yes))
		}
		if got := left(b); got != c.want {
			t.Errorf("%+v: the banner says %q", c, got)
		}
	}
}
