package lines

import (
	"testing"

	"fairlead/handover/ledger"
	"fairlead/testdata/bench/shift"
)

// Opening the register of a child with 10 000 events: every event folded. At most
// 10 ms.
func BenchmarkFigureRegisterFold10000(b *testing.B) {
	child, _, events, _ := shift.Events(1, 10000)
	b.ReportAllocs()
	for b.Loop() {
		if r := ledger.FoldCase(child, events); len(r.ItemsIn()) != 15 {
			b.Fatal("wrong")
		}
	}
}

// What the bedside screen asks for after a tap, with 1000 events.
func BenchmarkFigureRegisterOf1000(b *testing.B) {
	child, _, events, now := shift.Events(1, 1000)
	r, p := ledger.FoldCase(child, events), settings(b)
	for b.Loop() {
		if reg := RegisterOf(r, p, now); len(reg.Items) != 15 || !reg.Tally.Balances {
			b.Fatal("wrong")
		}
	}
}

// The same with 10 000 events.
func BenchmarkFigureRegisterOf10000(b *testing.B) {
	child, _, events, now := shift.Events(1, 10000)
	r, p := ledger.FoldCase(child, events), settings(b)
	for b.Loop() {
		if reg := RegisterOf(r, p, now); len(reg.Items) != 15 || !reg.Tally.Balances {
			b.Fatal("wrong")
		}
	}
}
