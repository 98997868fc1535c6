package schema_test

import (
	"encoding/csv"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// testdata/statements.tsv lists what the note, the sheet and the check must hold,
// one fact a line: id, statement, what holds it, and whether the sheet must show
// it. "What holds it" is field paths, path=choice where a choice of a list holds
// it, and rule:, sheet:, check:, ledger:, screen: or calc: where it is no field
// but a feature, held by the tests that testdata/statements-held.tsv names.

type statement struct {
	id, text string
	where    []string
	sheet    string // yes, no, or the kinds of note
}

func statements(t *testing.T) []statement {
	t.Helper()
	f, err := os.Open("../testdata/statements.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = '\t', true, 4
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []statement
	for _, row := range rows[1:] {
		out = append(out, statement{row[0], row[1], strings.Fields(row[2]), row[3]})
	}
	return out
}

var features = []string{"rule:", "sheet:", "check:", "ledger:", "screen:", "calc:"}

func isFeature(w string) bool {
	return slices.ContainsFunc(features, func(p string) bool { return strings.HasPrefix(w, p) })
}

// holder finds the field a place names. items.*.x is an attribute of every item.
func holder(path string) *schema.Field {
	if rest, ok := strings.CutPrefix(path, "items.*."); ok {
		for _, k := range schema.ItemKinds() {
			if f := schema.FieldAt(schema.Path("items." + k.Name + "." + rest)); f != nil {
				return f
			}
		}
		return nil
	}
	return schema.FieldAt(schema.Path(path))
}

func TestEveryStatementHasAHolder(t *testing.T) {
	seen := map[string]bool{}
	all := statements(t)
	for _, s := range all {
		if seen[s.id] {
			t.Errorf("statement %s stands twice", s.id)
		}
		seen[s.id] = true
		if s.text == "" || len(s.where) == 0 {
			t.Errorf("statement %s is empty or held by nothing", s.id)
		}
		place := -1
		for i, w := range s.where {
			if isFeature(w) {
				place = i
				continue
			}
			if !strings.Contains(w, ".") {
				// the second word of a feature, as in "check:cannot see now"
				if place < 0 {
					t.Errorf("statement %s: %q is neither a field nor a feature", s.id, w)
				}
				continue
			}
			path, choice, hasChoice := strings.Cut(w, "=")
			f := holder(path)
			if f == nil {
				t.Errorf("statement %s names %s, which is not there", s.id, path)
				continue
			}
			if hasChoice && !slices.Contains(f.Enum, choice) {
				t.Errorf("statement %s names the choice %s", s.id, w)
			}
			if !hasChoice && sheetOf(f) != s.sheet {
				t.Errorf("statement %s says required on the sheet: %s; %s says %s", s.id, s.sheet, path, sheetOf(f))
			}
		}
	}
	t.Logf("%d statements", len(all))
}

// What no field holds, a test holds, which the table names and which is there.
func TestEveryFeatureHasATest(t *testing.T) {
	wanted := map[string]bool{}
	for _, s := range statements(t) {
		if slices.ContainsFunc(s.where, isFeature) {
			wanted[s.id] = true
		}
	}
	table, err := os.ReadFile("../testdata/statements-held.tsv")
	if err != nil {
		t.Fatal(err)
	}
	held := map[string]bool{}
	for i, line := range strings.Split(strings.TrimSpace(string(table)), "\n") {
		cells := strings.Split(line, "\t")
		if len(cells) != 3 {
			t.Fatalf("line %d has %d cells", i+1, len(cells))
		}
		if i == 0 {
			continue
		}
		id, file, test := cells[0], cells[1], cells[2]
		held[id] = true
		if !wanted[id] {
			t.Errorf("line %d: the statement %s is no feature", i+1, id)
		}
		source, err := os.ReadFile("../" + file)
		if err != nil {
			t.Error(err)
			continue
		}
		if !strings.Contains(string(source), "func "+test+"(t *testing.T)") && !strings.Contains(string(source), "test('"+test+"'") && !strings.Contains(string(source), "test(`"+test+"`") {
			t.Errorf("statement %s: %s has no test %q", id, file, test)
		}
	}
	for id := range wanted {
		if !held[id] {
			t.Errorf("no test is named for the statement %s", id)
		}
	}
}

// sheetOf is a field's requirement on the sheet as the table writes it.
func sheetOf(f *schema.Field) string {
	if f.Sheet.Required.Always {
		return "yes"
	}
	if len(f.Sheet.Required.Kinds) == 0 {
		return "no"
	}
	var ks []string
	for _, k := range f.Sheet.Required.Kinds {
		ks = append(ks, string(k))
	}
	return strings.Join(ks, ",")
}

// Both directions: a field cites the statements it holds, each of which names it
// back; a field no statement asks for says why it is there.
func TestEveryFieldCitesOrGivesAReason(t *testing.T) {
	names := map[string][]string{} // path to statements
	for _, s := range statements(t) {
		for _, w := range s.where {
			if isFeature(w) || !strings.Contains(w, ".") {
				continue
			}
			path, _, _ := strings.Cut(w, "=")
			if !slices.Contains(names[path], s.id) {
				names[path] = append(names[path], s.id)
			}
		}
	}
	for path, f := range raw(t) {
		var cited []string
		if list, ok := f["x-clinical"].([]any); ok {
			for _, id := range list {
				cited = append(cited, id.(string))
			}
		}
		reason, _ := f["x-comment"].(string)
		if len(cited) == 0 && reason == "" {
			t.Errorf("%s cites no statement and gives no reason", path)
		}
		slices.Sort(cited)
		want := slices.Clone(names[path])
		slices.Sort(want)
		if !slices.Equal(cited, want) {
			t.Errorf("%s cites %v; the table says %v", path, cited, want)
		}
		delete(names, path)
	}
	for _, path := range slices.Sorted(maps.Keys(names)) {
		t.Errorf("the table names %s, which no definition has", path)
	}
}

// The chapters of the page all have statements, so that a whole chapter cannot
// be lost: the note (2), what is left in (3), the sheet (4), the check (5), what
// users insist on (10), and each of their groups.
func TestEveryChapterHasStatements(t *testing.T) {
	counts := map[string]int{}
	for _, s := range statements(t) {
		parts := strings.Split(s.id, ".")
		counts[parts[0]]++
		if parts[0] == "10" {
			counts["10."+parts[1]]++
		}
	}
	for chapter, least := range map[string]int{"2": 120, "3": 35, "4": 14, "5": 5, "10": 150,
		"10.all": 8, "10.surgeon": 40, "10.anaesthetist": 12, "10.perfusionist": 10, "10.clotting": 5, "10.support": 7, "10.nurse": 13,
		"10.kinds": 14, "10.attributes": 10, "10.top": 30, "10.caution": 5} {
		if counts[chapter] < least {
			t.Errorf("chapter %s has %d statements, fewer than %d", chapter, counts[chapter], least)
		}
	}
}
