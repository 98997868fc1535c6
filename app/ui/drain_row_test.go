//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
)

// The closed row of a drain has its figures: nothing has to be opened to read them.
// 10 mL put right in its minute as 8 mL in an hour are 8 mL/h.
func TestDrainRowHasItsFigures(t *testing.T) {
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	p.keep(t, "read", item(), map[string]string{"total": "10", "colour": "blood"})
	p.keep(t, "read", item(), map[string]string{"volume": "8", "minutes": "60", "sure": "seen"})
	html := drawn(t, p.row(p.S.child.register(), item()))
	for _, words := range []string{"Last read ", "8 mL in 60 min, blood.", "8 mL/h", "In all since it was put in: "} {
		if !strings.Contains(html, words) {
			t.Errorf("%q does not stand in the row:\n%s", words, html)
		}
	}
}
