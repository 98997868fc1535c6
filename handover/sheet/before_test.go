package sheet

import (
	"strings"
	"testing"

	"fairlead/schema"
)

// Back in theatre the same night, the new sheet says what the older one alone has:
// its worries, targets and limits. After a month, or once the note has its own, it
// does not.
func TestWhatTheSheetBeforeHas(t *testing.T) {
	n := schema.NewNote(schema.Reexploration, "n", "c")
	n.Set(schema.OperationDate, "2026-07-15")
	plan := map[schema.Path]int{schema.PlanWorries: 2, schema.PlanTargets: 3, schema.PlanCalls: 1}
	html := func(day schema.Date) string {
		return Make(Facts{Note: n, At: at, Earlier: []Stage{{Kind: schema.Stage1, Date: day, Plan: plan}}}, A4).PagesHTML()
	}
	for day, want := range map[schema.Date]bool{"2026-07-14": true, "2026-06-15": true, "2026-06-14": false, "": false} {
		got := html(day)
		for _, words := range []string{"has 2 worries, and none is recorded here", "has 3 targets, and none is recorded here", "has 1 limit to call for"} {
			if strings.Contains(got, words) != want {
				t.Errorf("sheet of %q: %q is there: %v", day, words, !want)
			}
		}
	}
	n.AddRow(schema.PlanTargets, "t")
	n.Set(schema.RowPath(schema.PlanTargets, "t", "what"), "saturation")
	if got := html("2026-07-14"); strings.Contains(got, "3 targets") || !strings.Contains(got, "2 worries") {
		t.Error("the note's own targets do not take the place of the earlier ones, or take the worries along")
	}
}
