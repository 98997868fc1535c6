package lines

import (
	"slices"
	"strings"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Told is what one earlier note says that the next operation must know.
type Told struct {
	By   ledger.NoteView // the note
	Said []SaidThen
}

// SaidThen is one field of an earlier note, in words.
type SaidThen struct{ Title, Words string }

// ToldBefore lists, latest first, what the notes before one say of the fields that are
// shown again beside a section of it (x-next): how the chest was opened, what lies
// behind the sternum, which vessels are known. What two people say differently is
// given in both words; what an earlier note does not hold is left out.
func ToldBefore(rec *ledger.Record, note ledger.NoteID, section string) []Told {
	var out []Told
	for _, v := range slices.Backward(Before(rec, note)) {
		n := rec.Note(v.ID)
		if n == nil {
			continue
		}
		t := Told{By: v}
		for _, s := range schema.SectionsOf(v.Kind) {
			for _, f := range s.FieldsIn(v.Kind) {
				if f.Next != section {
					continue
				}
				if words := toldOf(rec, v.ID, n, f); words != "" {
					t.Said = append(t.Said, SaidThen{f.Title, words})
				}
			}
		}
		if len(t.Said) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// toldOf words a field of a note, or the rows of a list; "" if nothing is recorded.
func toldOf(rec *ledger.Record, note ledger.NoteID, n *schema.Note, f *schema.Field) string {
	if all := rec.Values(note, f.Path); len(all) > 1 {
		words := make([]string, len(all))
		for i, v := range all {
			words[i] = v.Shown(f, n)
		}
		return strings.Join(words, " or ") + " (in dispute)"
	}
	if _, ok := n.Value(f.Path); len(f.Rows) == 0 || n.Stated(f.Path) != "" {
		if !ok && n.Stated(f.Path) == "" {
			return ""
		}
		return schema.Show(f, n, f.Path)
	}
	var rows []string
	for _, row := range n.Rows(f.Path) {
		var parts []string
		for _, part := range f.Rows {
			at := schema.RowPath(f.Path, row, part.Name)
			if _, ok := n.Value(at); ok || n.Stated(at) != "" {
				parts = append(parts, schema.Show(part, n, at))
			}
		}
		if len(parts) > 0 {
			rows = append(rows, strings.Join(parts, ", "))
		}
	}
	return strings.Join(rows, "; ")
}
