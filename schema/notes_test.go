package schema_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// The committed notes, one of each kind, about an invented child. They are
// written by hand and are what other tests start from.
func committed(t testing.TB, kind schema.Kind) *schema.Note {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("../testdata/notes", string(kind)+".json"))
	if err != nil {
		t.Fatal(err)
	}
	n, problems, err := schema.ParseNote(b)
	if err != nil || len(problems) > 0 {
		t.Fatal(kind, err, problems)
	}
	return n
}

func TestCommittedNotesAreWhole(t *testing.T) {
	for _, d := range schema.Kinds() {
		t.Run(string(d.Kind), func(t *testing.T) {
			n := committed(t, d.Kind)
			if n.Kind() != d.Kind {
				t.Fatal("holds a note of kind", n.Kind())
			}
			for _, p := range schema.Validate(n) {
				t.Errorf("%s: %s %s", p.Path, p.What, p.Do)
			}
			for _, p := range n.Paths() {
				if p.Section() == "items" && (p.Last() == "kind" || p.Last() == "tag") {
					continue // what makes it an item
				}
				f := n.FieldAt(p)
				if f == nil {
					t.Errorf("%s is not defined", p)
					continue
				}
				if p.Section() != "items" && (!slices.Contains(d.Sections, p.Section()) || !f.In(d.Kind)) {
					t.Errorf("%s does not belong in this kind of note", p)
				}
				if !n.Relevant(f, owners(n, p)...) {
					t.Errorf("%s holds a value and is not relevant", p)
				}
			}
			if !json.Valid(n.JSON()) {
				t.Error("cannot be written again")
			}
		})
	}
}

// owners are the ids of the item and the row a path lies in, as Relevant wants
// them.
func owners(n *schema.Note, p schema.Path) []string {
	var ids []string
	if p.Section() == "items" {
		ids = append(ids, p.Item())
	}
	if p.Row() != "" {
		ids = append(ids, p.Row())
	}
	return ids
}

// The full stage-1 note is what speed is measured on: it says how full it is.
func TestTheFullStage1NoteIsFull(t *testing.T) {
	n := committed(t, schema.Stage1)
	filled, conditions := 0, 0
	for _, p := range n.Paths() {
		if n.Answered(p) {
			filled++
		}
	}
	fields := 0
	for _, s := range schema.SectionsOf(schema.Stage1) {
		for _, f := range s.FieldsIn(schema.Stage1) {
			fields++
			conditions += len(f.When)
			if f.Type == "rows" && n.Has(f.Path) && len(n.Rows(f.Path)) < 2 {
				t.Errorf("%s has one row; a full note repeats what can be repeated", f.Path)
			}
			for _, rf := range f.Rows {
				fields++
				conditions += len(rf.When)
			}
			// Everything that applies is answered.
			if n.Relevant(f) && !n.Answered(f.Path) {
				t.Errorf("%s is relevant and not answered", f.Path)
			}
		}
	}
	if filled < 200 {
		t.Errorf("%d answers; a full note has 200 and more", filled)
	}
	if len(n.Items()) < 20 {
		t.Errorf("%d items", len(n.Items()))
	}
	t.Logf("full stage-1 note: %d answers, %d items; its form has %d fields and %d conditions", filled, len(n.Items()), fields, conditions)
}

// Every kind of item stands in one of the committed notes or is named here with
// the reason.
func TestCommittedNotesUseTheItemKinds(t *testing.T) {
	used := map[string]bool{}
	for _, d := range schema.Kinds() {
		for _, it := range committed(t, d.Kind).Items() {
			used[it.Kind] = true
		}
	}
	rare := []string{"intraosseous-needle", "wound-catheter"} // only in the small notes
	for _, k := range schema.ItemKinds() {
		if used[k.Name] == slices.Contains(rare, k.Name) {
			t.Errorf("item kind %s: used in a committed note %v", k.Name, used[k.Name])
		}
	}
}

// Anything that names an item names one that is listed, or one that was taken
// out at this operation.
func TestCommittedNotesNameListedItems(t *testing.T) {
	for _, d := range schema.Kinds() {
		n := committed(t, d.Kind)
		listed := map[string]bool{}
		tags := map[int]bool{}
		for _, it := range n.Items() {
			listed[it.ID] = true
			if tags[it.Tag] {
				t.Errorf("%s: tag %d stands twice", d.Kind, it.Tag)
			}
			tags[it.Tag] = true
		}
		for _, p := range n.Paths() {
			f := n.FieldAt(p)
			if f == nil || strings.HasPrefix(string(p), "removals.") || strings.HasPrefix(string(p), "mechanical.decannulated.") {
				continue
			}
			switch f.Format {
			case "item":
				if id := n.Text(p); id != "" && !listed[id] {
					t.Errorf("%s: %s names an item that is not listed", d.Kind, p)
				}
			case "items":
				for _, id := range n.List(p) {
					if !listed[id] {
						t.Errorf("%s: %s names an item that is not listed", d.Kind, p)
					}
				}
			}
		}
	}
}

// The small notes hold what a kind of note cannot be signed without, and nothing
// else: they pass, and each answer taken away is missed.
func TestSmallNotesHoldWhatIsRequiredAndNoMore(t *testing.T) {
	for _, d := range schema.Kinds() {
		t.Run(string(d.Kind), func(t *testing.T) {
			b, err := os.ReadFile(filepath.Join("../testdata/notes/minimal", string(d.Kind)+".json"))
			if err != nil {
				t.Fatal(err)
			}
			n, problems, err := schema.ParseNote(b)
			if err != nil || len(problems) > 0 {
				t.Fatal(err, problems)
			}
			for _, p := range schema.Validate(n) {
				t.Errorf("%s: %s", p.Path, p.What)
			}
			held := map[schema.Path]bool{}
			for _, p := range n.Paths() {
				f := n.FieldAt(p)
				if f == nil || p.Section() == "items" || p.Row() != "" {
					continue
				}
				held[f.Path] = true
				if !f.Required.By(d.Kind) {
					t.Errorf("%s is not required", p)
				}
				c := n.Clone()
				c.Clear(p)
				missed := slices.ContainsFunc(schema.Validate(c), func(q schema.Problem) bool {
					return q.Path == p && q.Severity == schema.Missing
				})
				if !missed {
					t.Errorf("%s taken away is not missed", p)
				}
			}
			for _, s := range schema.SectionsOf(d.Kind) {
				for _, f := range s.FieldsIn(d.Kind) {
					if f.Required.By(d.Kind) && n.Relevant(f) && !held[f.Path] {
						t.Errorf("%s is required, relevant and not in the small note", f.Path)
					}
				}
			}
		})
	}
}
