package calc

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// Two people who differ about the weight keep every value that needs it from
// being shown; whoever entered it is named beside it until then.
func TestFromRecord(t *testing.T) {
	wall := time.Date(2026, 7, 14, 7, 0, 0, 0, time.UTC)
	now := func() time.Time { wall = wall.Add(time.Minute); return wall }
	ids := ledger.NewIDs(rand.NewChaCha8([32]byte{4}), now)
	civil := func() schema.Moment { return schema.MomentOf(2026, 7, 14, 8, 30, 60, "Europe/London") }
	child := ledger.CaseID(ids.New())
	a := ledger.NewWriterAt(child, ledger.Author{Name: "A. Invented", Role: "anaesthetist"}, now, ids, civil)
	b := ledger.NewWriterAt(child, ledger.Author{Name: "B. Invented", Role: "intensive-care nurse"}, now, ids, civil)
	r := ledger.FoldCase(child, nil)
	id := a.NewNote()
	r.Apply(a.OpenCase())
	r.Apply(a.OpenNote(id, schema.Stage1))
	r.Apply(a.Set(r, id, schema.MeasuresLength, ledger.Number("49")))
	apart := ledger.FoldCase(child, r.Events())
	r.Apply(a.Set(r, id, schema.MeasuresWeight, ledger.Number("3.2")))

	compute := func() Result {
		x, _ := Find(Compute(r.Note(id), profile.Default(), FromRecord(r, id)), "surface-area")
		return x
	}
	if x := compute(); !x.OK || x.Inputs[1].By != "A. Invented" || x.Inputs[1].At != "14-Jul-2026 08:30" {
		t.Fatalf("%s %+v", x.Line(), x.Inputs)
	}
	r.Apply(b.Set(apart, id, schema.MeasuresWeight, ledger.Number("3.9")))
	if x := compute(); x.OK || !strings.Contains(x.WantedWords(), "different values were entered") {
		t.Fatalf("%s", x.Line())
	}
	r.Apply(a.Set(r, id, schema.MeasuresWeight, ledger.Number("3.2")))
	if x := compute(); !x.OK || x.Shown != "0.209 m²" {
		t.Fatalf("settled: %s", x.Line())
	}
}
