package lines

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
)

// An intracardiac line that is on record as lost is not said to be in the heart before
// the last drain comes out: it is said to be lost. One that is in is said to be in.
func TestLostLineIsNotSaidToBeIn(t *testing.T) {
	b := newBed(t)
	drain := b.list("drain", "mediastinal")
	atrial := b.list("intracardiac-line", "left-atrial")
	asks := func() string {
		return strings.Join(RemovalOf(b.rec, settings(t), drain, moment(t, "2026-07-16T09:00+00:00")).Questions, "|")
	}
	b.do(b.w.Happen(ledger.KindLost, atrial, ledger.RegisterFacts{Note: "not under the dressing"}))
	got := asks()
	if strings.Contains(got, "still in the heart") || !strings.Contains(got, "2 Left atrial line is on record as lost: whether any of it is in the heart is not known.") {
		t.Errorf("one, and it is lost: %q", got)
	}
	b.list("intracardiac-line", "right-atrial")
	got = asks()
	if !strings.Contains(got, "3 Right atrial line is still in the heart") || !strings.Contains(got, "2 Left atrial line is on record as lost") || strings.Contains(got, "2 Left atrial line and") {
		t.Errorf("one is in and one is lost: %q", got)
	}
}
