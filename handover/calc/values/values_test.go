package values

import (
	"os"
	"slices"
	"testing"

	"fairlead/handover/calc"
	"fairlead/handover/calc/growth"
	"fairlead/schema"
	"fairlead/schema/profile"
)

func committed(t testing.TB) *schema.Note {
	t.Helper()
	data, err := os.ReadFile("../../../testdata/notes/stage1.json")
	if err != nil {
		t.Fatal(err)
	}
	n, _, err := schema.ParseNote(data)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// Nothing that calc or growth worked out is lost on the way to its group, and
// nothing is altered.
func TestEverythingIsGathered(t *testing.T) {
	n, p := committed(t), profile.Default()
	v := Of(n, p, calc.About{}, nil, "2026-07-14")
	want := append(calc.Compute(n, p, calc.About{}), growth.Results(n, p, calc.About{}, nil)...)
	got := v.All()
	if len(got) != len(want) {
		t.Fatalf("%d results of %d", len(got), len(want))
	}
	for _, w := range want {
		if !slices.ContainsFunc(got, func(g calc.Result) bool { return g.ID == w.ID && g.Title == w.Title && g.Line() == w.Line() }) {
			t.Errorf("lost or altered: %s", w.Line())
		}
	}
	var titles []string
	for _, g := range v.Groups {
		if slices.Contains(titles, g.Title) || len(g.Results) == 0 {
			t.Errorf("the group %q stands twice or is empty", g.Title)
		}
		titles = append(titles, g.Title)
	}
	if len(v.Infusions) != len(n.Rows(schema.InfusionsRunning)) || len(v.Timeline.Lanes) != 5 {
		t.Errorf("%d infusions, %d lanes", len(v.Infusions), len(v.Timeline.Lanes))
	}
}

// BenchmarkFigureValuesNative is all values of a full note: the aim is under 1 ms native.
func BenchmarkFigureValuesNative(b *testing.B) {
	n, p := committed(b), profile.Default()
	for b.Loop() {
		Of(n, p, calc.About{}, nil, "2026-07-14")
	}
}
