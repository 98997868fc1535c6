package ledger

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
)

// RFC 9562, appendix A.6: the example of version 7 has the Unix millisecond
// 0x017F22E279B0 for Tuesday, February 22, 2022 2:22:22.00 PM GMT-05:00.
func TestIDs(t *testing.T) {
	at := time.Date(2022, 2, 22, 14, 22, 22, 0, time.FixedZone("", -5*3600))
	ids := NewIDs(rand.NewChaCha8([32]byte{1}), func() time.Time { return at })
	id := ids.New()
	if id[:15] != "017f22e2-79b0-7" {
		t.Errorf("an id of that millisecond is %s, want it to begin 017f22e2-79b0-7", id)
	}
	u, err := uuid.Parse(id)
	if err != nil || u.Version() != 7 || u.Variant() != uuid.RFC4122 || !isID(id) {
		t.Errorf("%s: version %v, variant %v, %v", id, u.Version(), u.Variant(), err)
	}
	if ids.New() == id {
		t.Error("two ids of one millisecond are the same")
	}
	for _, bad := range []string{"", "017F22E2-79B0-7CC3-98C4-DC0C0C07398F", "{017f22e2-79b0-7cc3-98c4-dc0c0c07398f}", "017f22e279b07cc398c4dc0c0c07398f", "017f22e2-79b0-7cc3-98c4-dc0c0c07398g"} {
		if isID(bad) {
			t.Errorf("%q passes for an id in the stored form", bad)
		}
	}
}

func TestGenerator(t *testing.T) {
	wall := time.Date(2026, 7, 14, 9, 0, 0, 0, time.UTC)
	g := NewGenerator(func() time.Time { return wall })
	var made []Clock
	for i := range 70000 { // more than the counter holds, with the wall going back an hour
		if i == 100 {
			wall = wall.Add(-time.Hour)
		}
		made = append(made, g.Next())
	}
	if !slices.IsSorted(made) || len(slices.Compact(made)) != 70000 {
		t.Error("readings do not rise")
	}
	last := made[len(made)-1]
	wall = wall.Add(time.Hour)
	ahead := clockOf(wall.Add(4*time.Minute).UnixMilli(), 3)
	if g.Observe(ahead) {
		t.Error("four minutes ahead is not followed")
	}
	if now := g.Next(); now <= ahead || now <= last {
		t.Errorf("after observing %s comes %s", ahead, now)
	}
	before := g.Next()
	far := clockOf(wall.Add(5*time.Minute+time.Millisecond).UnixMilli(), 0)
	if !g.Observe(far) {
		t.Error("more than five minutes ahead is followed")
	}
	if now := g.Next(); now <= before || now >= far {
		t.Errorf("a clock too far ahead moved ours from %s to %s", before, now)
	}
	if g.Observe(clockOf(wall.Add(5*time.Minute).UnixMilli(), 0)) {
		t.Error("exactly five minutes ahead is not followed")
	}
}

func TestClocksAhead(t *testing.T) {
	w := newWard(t)
	now := w.wall
	w.wall = now.Add(3 * time.Hour)
	w.set("measures.weight", Number("3.2"))
	fs := w.rec.ClocksAhead(now)
	if len(fs) != 1 || fs[0].Rule != FaultClockAhead || len(fs[0].Events) != 1 {
		t.Fatalf("an event of three hours in the future: %+v", fs)
	}
	if want := "1 event by A. Example (surgeon) came from a device whose clock is ahead of this one by 3 hours."; fs[0].What != want {
		t.Errorf("it says %q, want %q", fs[0].What, want)
	}
	if w.rec.Note(w.note).Decimal("measures.weight") != "3.2" {
		t.Error("it is not kept")
	}
	if fs := w.rec.ClocksAhead(w.wall.Add(-MaxAhead)); len(fs) > 0 {
		t.Errorf("within five minutes it is named: %v", fs)
	}
	late := w.n.Observe(w.rec.Events()...)
	if len(late) != 0 {
		t.Errorf("the nurse's clock, by now as late, refuses %d", len(late))
	}
}
