package schema_test

import (
	"encoding/json"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// placed is the path an edit's way leads to in t.
func placed(t tree, way []any) schema.Path {
	var parts []string
	var here any = t
	for _, step := range way {
		switch s := step.(type) {
		case string:
			if s != "stated" && s != "bound" {
				parts = append(parts, s)
			}
		case int:
			id, _ := child(child(here, s), "id").(string)
			parts = append(parts, id)
		}
		here = child(here, step)
	}
	return schema.Path(strings.Join(parts, "."))
}

var goish = regexp.MustCompile(`%!|map\[|<nil>|\bnil\b|interface|json\.|\{|\}|\[\]`)

// Every fault of structure is told at the field it lies in, in one sentence that
// names the field and ends with a full stop, with one that says what to do.
func TestEveryFaultIsWordedAtItsField(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	full := generated(rnd, schema.Stage1, 1)
	fl := flips{kind: schema.Stage1, counted: map[string]int{}, seen: map[string]bool{}}
	fl.whole(full)
	told, every := 0, 1
	if testing.Short() {
		every = 20
	}
	for i, w := range fl.out {
		if i%every != 0 {
			continue
		}
		sort, of, _ := strings.Cut(w.why, " ")
		if w.want != 0 || !slices.Contains([]string{"type", "enum", "range", "pattern", "length", "list", "required", "stated", "bound"}, sort) || !strings.Contains(of, ".") {
			continue
		}
		undo := apply(full, w.Edits)
		n := schema.NoteOf(full)
		way := w.Edits[len(w.Edits)-1].At
		at := placed(full, way)
		if set, ok := w.Edits[len(w.Edits)-1].Set.(tree); ok && (sort == "stated" || sort == "bound") {
			for name := range set {
				at += schema.Path("." + name)
			}
		}
		f := schema.FieldAt(schema.Path(of))
		found := false
		for _, p := range schema.ValidateSection(n, at.Section()) {
			for _, s := range []string{p.What, p.Do} {
				if !strings.HasSuffix(s, ".") || strings.HasSuffix(s, "..") || goish.MatchString(s) || strings.Contains(strings.TrimSuffix(s, "."), ". ") {
					t.Errorf("%s: %q is not one good sentence", w.why, s)
				}
			}
			if p.Section != at.Section() {
				t.Errorf("%s: its section is %q", w.why, p.Section)
			}
			if p.Path == at && strings.Contains(p.What, f.Title) {
				found = true
				if want := map[bool]schema.Severity{true: schema.Missing, false: schema.Error}[sort == "required"]; p.Severity != want {
					t.Errorf("%s is of severity %s: %s", w.why, p.Severity, p.What)
				}
			}
		}
		if !found {
			t.Errorf("%s: nothing is told at %s that names %q: %v", w.why, at, f.Title, schema.ValidateSection(n, at.Section()))
		}
		told++
		undo()
	}
	if told < 2000/every {
		t.Errorf("only %d faults were told", told)
	}
}

// Validate is what its sections say, and the head of the note beside them.
func TestValidateIsTheSumOfItsSections(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	for _, d := range schema.Kinds() {
		full := generated(rnd, d.Kind, 0.8)
		for range 30 {
			undo := apply(full, []edit{mutation(rnd, full), mutation(rnd, full)})
			n := schema.NoteOf(full)
			var parts []schema.Problem
			for _, s := range schema.SectionsOf(n.Kind()) {
				parts = append(parts, schema.ValidateSection(n, s.Name)...)
			}
			parts = append(parts, schema.ValidateSection(n, "items")...)
			schema.SortProblems(parts)
			whole := slices.DeleteFunc(schema.Validate(n), func(p schema.Problem) bool {
				return p.Section == "" || schema.SectionNamed(p.Section) != nil && !inKind(n.Kind(), p.Section)
			})
			if a, b := mustJSON(parts), mustJSON(whole); a != b && n.Kind() == d.Kind {
				t.Fatalf("%s: the sections say\n%s\nthe whole says\n%s", d.Kind, a, b)
			}
			undo()
		}
	}
}

func inKind(k schema.Kind, section string) bool {
	return slices.ContainsFunc(schema.SectionsOf(k), func(s *schema.Section) bool { return s.Name == section })
}

// What JSON Schema cannot say of one field: an answer beside a value, an answer
// that means nothing, a comparator without a figure, a day there never was, an id
// twice. Each with a note just inside it.
func TestPlainProblems(t *testing.T) {
	cases := []struct {
		rule, broken, fine string
	}{
		{"value-and-answer", `"measures":{"weight":3,"stated":{"weight":"unknown"}}`, `"measures":{"stated":{"weight":"unknown"}}`},
		{"none-has-no-meaning", `"measures":{"stated":{"weight":"none"}}`, `"child":{"stated":{"allergies":"none"}}`},
		{"bound-without-number", `"measures":{"bound":{"weight":"<"}}`, `"measures":{"weight":3,"bound":{"weight":"<"}}`},
		{"bound-without-number", `"child":{"surname":"A","bound":{"surname":">"}}`, `"gas":{"lactate":20,"bound":{"lactate":">"}}`},
		{"no-such-date", `"child":{"birthDate":"2026-02-29"}`, `"child":{"birthDate":"2024-02-29"}`},
		{"no-such-date", `"operation":{"closed":"2026-06-31T10:00+01:00"}`, `"operation":{"closed":"2026-06-30T10:00+01:00"}`},
		{"same-id", `"support":{"runs":[{"id":"a"},{"id":"a"}]}`, `"support":{"runs":[{"id":"a"},{"id":"b"}]}`},
		{"same-id", `"items":[{"id":"a","kind":"drain","tag":1},{"id":"a","kind":"drain","tag":2}]`, `"items":[{"id":"a","kind":"drain","tag":1},{"id":"b","kind":"drain","tag":2}]`},
	}
	says := func(body, rule string) bool {
		n, _, err := schema.ParseNote([]byte(`{"format":"fairlead-note/1","kind":"stage1","note":"n","case":"c",` + body + `}`))
		if err != nil {
			t.Fatal(err)
		}
		return slices.ContainsFunc(schema.Validate(n), func(p schema.Problem) bool { return p.Rule == rule && p.Severity == schema.Error })
	}
	for _, c := range cases {
		if !says(c.broken, c.rule) {
			t.Errorf("%s is not said of %s", c.rule, c.broken)
		}
		if says(c.fine, c.rule) {
			t.Errorf("%s is said of %s", c.rule, c.fine)
		}
	}
}

// A number the validator cannot hold, set by code rather than read from a file, is
// a problem and not the end of the program.
func TestANumberTooLargeIsAProblem(t *testing.T) {
	for _, number := range []json.Number{"1e99999999", "1E1000000000000", "-1e400"} {
		n := schema.NewNote(schema.Stage1, "n", "c")
		n.Set(schema.MeasuresWeight, number)
		found := false
		for _, p := range schema.Validate(n) {
			found = found || p.Path == schema.MeasuresWeight && p.Severity == schema.Error
		}
		if !found {
			t.Errorf("nothing is said of %s", number)
		}
	}
}

// The cache of verdicts tells one content from another.
func TestVerdictsFollowTheContent(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "n", "c")
	for range 3 {
		for i, weight := range []string{"3.2", "300", "3.2", "-1"} {
			n.Set(schema.MeasuresWeight, json.Number(weight))
			refused := slices.ContainsFunc(schema.Structure(n), func(p schema.Problem) bool { return p.Rule == "plausible" && p.Path == schema.MeasuresWeight })
			if refused != (i%2 == 1) {
				t.Errorf("%s kg is refused: %v", weight, refused)
			}
		}
	}
}
