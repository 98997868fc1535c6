package schema_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/rules"
)

func table(t *testing.T, file string, columns int) [][]string {
	t.Helper()
	f, err := os.Open("../testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = '\t', true, columns
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// found is everything the program says about a note, by place and rule. The day
// is that of the newest committed note.
func found(t *testing.T, n *schema.Note) map[string]bool {
	t.Helper()
	now, err := schema.ParseMoment("2029-12-01T10:00+00:00[Europe/London]")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, p := range rules.Everything(n, nil, rules.Context{Now: now}) {
		out[string(p.Path)+" "+p.Rule] = true
	}
	return out
}

// without is a copy of the note with every place of a field cleared: in each row,
// in each item of the kind. It tells whether there was anything to clear.
func without(n *schema.Note, path string) (*schema.Note, bool) {
	c, cleared := n.Clone(), false
	for _, p := range n.Paths() {
		if f := n.FieldAt(p); f != nil && string(f.Path) == path {
			c.Clear(p)
			cleared = true
		}
	}
	return c, cleared
}

// Each item of the published lists is held by fields; each field, taken out of a
// whole note of every kind, is missed. A + joins fields that stand for each
// other: they are missed when all are gone. The element numbers of the lists are
// labels of the unit's profile and stand nowhere here.
func TestPublishedListsAreMissedWhenRemoved(t *testing.T) {
	for _, row := range table(t, "completeness.tsv", 4) {
		source, item, fields, missed := row[0], row[1], strings.Fields(row[2]), row[3]
		if missed != "yes" && missed != "held" {
			t.Fatalf("%s, %s: %q is neither yes nor held", source, item, missed)
		}
		for _, d := range schema.Kinds() {
			whole := committed(t, d.Kind)
			before := found(t, whole)
			for _, together := range fields {
				n, cleared := whole, false
				for _, path := range strings.Split(together, "+") {
					if holder(path) == nil {
						t.Errorf("%s, %s: %s is not there", source, item, path)
					}
					var was bool
					n, was = without(n, path)
					cleared = cleared || was
				}
				// Only some notes have an extra procedure, or an implant.
				if !cleared {
					if d.Kind == schema.Stage1 {
						t.Errorf("%s, %s: the whole stage-1 note has no %s to remove", source, item, together)
					}
					continue
				}
				if missed == "held" {
					continue
				}
				after := found(t, n)
				ok := false
				for _, path := range strings.Split(together, "+") {
					for said := range after {
						at, _, _ := strings.Cut(said, " ")
						if f := whole.FieldAt(schema.Path(at)); !before[said] && f != nil && string(f.Path) == path {
							ok = true
						}
					}
				}
				if !ok && bought(whole, together) {
					t.Errorf("%s, %s: %s taken out of a whole %s note is not missed", source, item, together, d.Kind)
				}
			}
		}
		outside.Check(t, source)
	}
}

// bought tells whether the note has, for a question about implants' packets, an
// implant that comes in one; sternal wires do not.
func bought(n *schema.Note, fields string) bool {
	if !strings.HasPrefix(fields, "items.implant.") {
		return true
	}
	return slices.ContainsFunc(n.Items(), func(it schema.Item) bool {
		return it.Kind == "implant" && it.Text("variety") != "sternal-wires"
	})
}

// The Royal College's list has 18 items as the project counts them; audits split
// it differently (references.md A), so this holds the table, not the college.
func TestEveryItemOfTheListsIsInTheTable(t *testing.T) {
	counts := map[string]int{}
	for _, row := range table(t, "completeness.tsv", 4) {
		counts[row[0]]++
	}
	for source, n := range map[string]int{"RCS England Good Surgical Practice 2014, 1.3": 18,
		"Joint Commission RC.02.01.03, interim note": 5, "WHO Surgical Safety Checklist, sign-out": 7} {
		if counts[source] != n {
			t.Errorf("%s has %d items in the table, not %d", source, counts[source], n)
		}
	}
}

// Blood loss must carry a statement, and "nil" is one.
func TestNilBloodLossIsAStatement(t *testing.T) {
	n := committed(t, schema.Stage1)
	n.Clear(schema.WorkEstimatedLoss)
	if !n.State(schema.WorkEstimatedLoss, schema.StatedNone) {
		t.Fatal("blood loss cannot be stated as none")
	}
	if ps := schema.Validate(n); len(ps) > 0 {
		t.Errorf("nil blood loss is refused: %v", ps)
	}
}

// The items handed over in the published studies (the studies and their figures:
// references.md B; their single items from memory) each have a place on the
// sheet, and stand there whenever they are recorded.
func TestHandoverItemsHaveAPlaceOnTheSheet(t *testing.T) {
	for _, row := range table(t, "completeness-handover.tsv", 3) {
		for _, path := range strings.Fields(row[2]) {
			f := holder(path)
			if f == nil {
				t.Errorf("%s, %s: %s is not there", row[0], row[1], path)
				continue
			}
			if f.Sheet.Place == "" {
				t.Errorf("%s, %s: %s has no place on the sheet", row[0], row[1], path)
			}
		}
		outside.Check(t, row[0]+" (items from memory)")
	}
}
