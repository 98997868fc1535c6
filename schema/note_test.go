package schema_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fairlead/schema"
)

func TestNoteKeepsTheFourStatesApart(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	p := schema.MeasuresWeight
	check := func(has, answered bool, stated string) {
		t.Helper()
		if n.Has(p) != has || n.Answered(p) != answered || n.Stated(p) != stated {
			t.Errorf("has %v, answered %v, stated %q", n.Has(p), n.Answered(p), n.Stated(p))
		}
	}
	check(false, false, "")
	n.State(p, schema.StatedUnknown)
	check(false, true, schema.StatedUnknown)
	n.Set(p, json.Number("3.20"))
	check(true, true, "")
	if n.Decimal(p) != "3.20" {
		t.Errorf("written as %q", n.Decimal(p))
	}
	n.SetBound(p, ">")
	if v, ok := n.Number(p); v != 3.2 || !ok || n.Bound(p) != ">" {
		t.Errorf("%v %v %q", v, ok, n.Bound(p))
	}
	n.State(p, schema.StatedNotMeasured)
	check(false, true, schema.StatedNotMeasured)
	if n.Bound(p) != "" {
		t.Error("the comparator stayed without its figure")
	}
	n.Clear(p)
	check(false, false, "")
	if s := string(n.JSON()); strings.Contains(s, "stated") || strings.Contains(s, "bound") {
		t.Errorf("something is left: %s", s)
	}
}

func TestSetTakesEveryKindOfValue(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	n.Set("a.text", "x")
	n.Set("a.yes", true)
	n.Set("a.whole", 3)
	n.Set("a.float", 0.1)
	n.Set("a.list", []string{"p", "q"})
	n.Set("a.gone", "x")
	n.Set("a.gone", []string{})
	n.Set("a.alsoGone", 1)
	n.Set("a.alsoGone", nil)
	for typed, want := range map[json.Number]string{"007": "7", ".5": "0.5", "+3.50": "3.5", "2.50": "2.50", "1e3": "1e3"} {
		if n.Set("a.typed", typed); n.Decimal("a.typed") != want {
			t.Errorf("%q is kept as %q, want %q", typed, n.Decimal("a.typed"), want)
		}
	}
	for _, typed := range []json.Number{"", "3..5", "about 3", "NaN", "--1", "1 2"} {
		if n.Set("a.typed", typed); n.Text("a.typed") != string(typed) || n.Decimal("a.typed") != "" {
			t.Errorf("%q, which is no number, is kept as %q and %q", typed, n.Text("a.typed"), n.Decimal("a.typed"))
		}
		n.JSON()
	}
	n.Set("a.typed", math.NaN())
	n.JSON()
	n.Clear("a.typed")
	yes, ok := n.Bool("a.yes")
	if n.Text("a.text") != "x" || !yes || !ok || n.Decimal("a.whole") != "3" || n.Decimal("a.float") != "0.1" || !slices.Equal(n.List("a.list"), []string{"p", "q"}) {
		t.Errorf("%s", n.JSON())
	}
	if n.Has("a.gone") || n.Has("a.alsoGone") {
		t.Error("an empty list, or nothing, stands as a value")
	}
	// Reading one kind of value as another finds nothing.
	if n.Text("a.yes") != "" || n.Decimal("a.text") != "" || n.List("a.text") != nil || n.Rows("a.list") != nil {
		t.Error("a value was read as another kind")
	}
	if _, ok := n.Number("a.text"); ok {
		t.Error("a text was read as a number")
	}
}

func TestRowsAndItems(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	runs := schema.SupportRuns
	n.State(runs, schema.StatedNone)
	n.AddRow(runs, "a")
	n.AddRow(runs, "b")
	n.AddRow(runs, "a")
	if !slices.Equal(n.Rows(runs), []string{"a", "b"}) || n.Stated(runs) != "" {
		t.Errorf("rows %v, stated %q", n.Rows(runs), n.Stated(runs))
	}
	if !n.Set(schema.SupportRunsMinutes.In("b"), 12) || n.Set(schema.SupportRunsMinutes.In("z"), 12) {
		t.Error("a row that is there was not written, or one that is not was")
	}
	n.RemoveRow(runs, "a")
	if d := n.Decimal("support.runs.b.minutes"); d != "12" {
		t.Errorf("after its neighbour went the row has %q", d)
	}
	n.RemoveRow(runs, "b")
	if n.Has(runs) {
		t.Error("an empty list is left")
	}

	n.AddItem("drain", "d", 12)
	n.AddItem("central-venous-line", "l", 3)
	n.AddItem("drain", "d", 99)
	n.AddRow(schema.ItemPath("l", "lumens"), "x")
	n.Set("items.l.lumens.x.name", "proximal")
	var tags []int
	for _, it := range n.Items() {
		tags = append(tags, it.Tag)
	}
	if !slices.Equal(tags, []int{3, 12}) {
		t.Errorf("tags %v", tags)
	}
	it, ok := n.Item("l")
	if !ok || it.Kind != "central-venous-line" || n.Text("items.l.lumens.x.name") != "proximal" {
		t.Errorf("%+v %v", it, ok)
	}
	if f := n.FieldAt("items.l.lumens.x.name"); f == nil || f.Path != "items.central-venous-line.lumens.*.name" {
		t.Errorf("the field of a lumen's name is %+v", f)
	}
	for _, p := range n.Paths() {
		if n.FieldAt(p) == nil && p.Last() != "kind" && p.Last() != "tag" {
			t.Errorf("%s has no definition", p)
		}
	}
	n.RemoveItem("d")
	n.RemoveItem("l")
	if s := string(n.JSON()); strings.Contains(s, "items") {
		t.Errorf("an empty list is left: %s", s)
	}
}

// Nothing that stands where a section, a list or a map of answers should be is
// overwritten: it may be from a version we do not know.
func TestNothingUnreadableIsOverwritten(t *testing.T) {
	const odd = `{"answers":5,"case":"c","child":"text","format":"fairlead-note/1","items":{"a":1},"kind":"stage1","measures":{"bound":7,"stated":[1]},"note":"n","support":{"runs":"two"}}`
	n, _, err := schema.ParseNote([]byte(odd))
	if err != nil {
		t.Fatal(err)
	}
	if n.Set(schema.ChildSurname, "Alder") || n.State(schema.ChildSurname, schema.StatedUnknown) || n.State(schema.MeasuresWeight, schema.StatedUnknown) {
		t.Error("said to be written")
	}
	n.SetBound(schema.MeasuresWeight, "<")
	n.Clear(schema.ChildSurname)
	n.AddRow(schema.SupportRuns, "a")
	n.RemoveRow(schema.SupportRuns, "a")
	n.AddItem("drain", "d", 1)
	n.RemoveItem("d")
	for _, p := range []schema.Path{"format.x", "kind", "case.x", "answers.x", "items.x", "", ".", "..", "a.b.c", "child.stated.x.y.z"} {
		n.Set(p, "x")
		n.Clear(p)
	}
	if got := string(n.JSON()); got != odd {
		t.Errorf("it became\n%s\nfrom\n%s", got, odd)
	}
	if len(schema.Validate(n)) == 0 {
		t.Error("and nothing is said about it")
	}
}

// A model: a map from path to value or answer, against the note's own accessors,
// over any sequence of writes.
func TestNoteAgainstAModel(t *testing.T) {
	type cell struct{ value, stated, bound string }
	rapid.Check(t, func(t *rapid.T) {
		n := schema.NewNote(schema.Stage1, "n", "c")
		n.AddRow("s.rows", "r")
		n.AddItem("drain", "i", 1)
		paths := []schema.Path{"s.a", "s.b", "s.rows.r.a", "items.i.a", "items.i.b"}
		model := map[schema.Path]cell{}
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			p := rapid.SampledFrom(paths).Draw(t, "path")
			c := model[p]
			switch rapid.IntRange(0, 3).Draw(t, "do") {
			case 0:
				c.value, c.stated = rapid.StringMatching(`(0|[1-9][0-9]{0,2})(\.[0-9])?`).Draw(t, "value"), ""
				n.Set(p, json.Number(c.value))
			case 1:
				c = cell{stated: rapid.SampledFrom(schema.StatedAnswers()).Draw(t, "answer")}
				n.State(p, c.stated)
			case 2:
				c.bound = rapid.SampledFrom([]string{"<", ">", ""}).Draw(t, "bound")
				n.SetBound(p, c.bound)
			case 3:
				c = cell{}
				n.Clear(p)
			}
			model[p] = c
			back, _, err := schema.ParseNote(n.JSON())
			if err != nil {
				t.Fatal(err)
			}
			for _, note := range []*schema.Note{n, back} {
				for _, p := range paths {
					if got := (cell{note.Decimal(p), note.Stated(p), note.Bound(p)}); got != model[p] {
						t.Fatalf("%s is %+v, want %+v", p, got, model[p])
					}
				}
			}
		}
	})
}

// A watched note tells what was read through it, and its items do too.
func TestWatchedNoteTellsWhatIsRead(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	n.AddItem("drain", "d", 1)
	read := map[string]bool{}
	w := n.Watched(func(section string) { read[section] = true })
	w.Has(schema.ChildSurname)
	w.Rows(schema.SupportRuns)
	if read["items"] || !read["child"] || !read["support"] {
		t.Errorf("read %v", read)
	}
	w.Items()[0].Text("size")
	w.PathsIn("plan")
	if !read["items"] || !read["plan"] {
		t.Errorf("read %v", read)
	}
}
