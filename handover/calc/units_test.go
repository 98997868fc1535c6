package calc

import (
	"strings"
	"testing"

	"fairlead/schema/profile"
)

// TestUnitsOfTheProfile: no unit of a setting is shown in the code of UCUM.
func TestUnitsOfTheProfile(t *testing.T) {
	for _, e := range profile.Default().Entries() {
		if shown := UnitShown(e.UCUM); strings.ContainsAny(shown, "[]{}_") || shown == "Cel" || shown == "wk" || shown == "d" {
			t.Errorf("%s: the unit is shown as %q", e.ID, shown)
		}
	}
}
