package schema

import (
	"encoding/json"
	"strings"
)

// entry is an object of the note's tree, found once: an item or a row.
type entry struct {
	note *Note
	held map[string]any
}

// Text and the rest read one field of the item or the row.
func (e entry) Text(field string) string            { s, _ := e.held[field].(string); return s }
func (e entry) Number(field string) (float64, bool) { return numberOf(e.Decimal(field)) }
func (e entry) Decimal(field string) string         { d, _ := e.held[field].(json.Number); return string(d) }
func (e entry) Bool(field string) (yes, ok bool)    { yes, ok = e.held[field].(bool); return yes, ok }
func (e entry) Stated(field string) string          { return textIn(e.held, statedName, field) }
func (e entry) Bound(field string) string           { return textIn(e.held, boundName, field) }
func (e entry) List(field string) []string          { return wordsOf(e.held[field]) }

// Answer is what stands at a field: a value, or nil, and what was stated.
func (e entry) Answer(field string) (value any, stated string) { return e.held[field], e.Stated(field) }

// Answered tells whether a field has a value or a stated answer.
func (e entry) Answered(field string) bool { return e.held[field] != nil || e.Stated(field) != "" }

// Moment is the time at a field; ok is false if there is none.
func (e entry) Moment(field string) (Moment, bool) {
	m, err := ParseMoment(e.Text(field))
	return m, err == nil
}

// Relevant tells whether a field of the item or the row applies: [Note.Relevant]
// without searching for it again.
func (e entry) Relevant(f *Field) bool {
	if !f.In(e.note.Kind()) {
		return false
	}
	for _, c := range f.When {
		var v any
		if sib, ok := strings.CutPrefix(string(c.Field), "."); ok {
			v = e.held[sib]
		} else {
			v, _ = e.note.Value(c.Field)
		}
		if !c.holds(v) {
			return false
		}
	}
	return true
}

// Note is the note the item or the row was read from.
func (e entry) Note() *Note { return e.note }

// Item is one thing in, on or left in the child.
type Item struct {
	ID   string
	Kind string
	Tag  int
	entry
}

// Path is the path of one attribute of the item.
func (i Item) Path(field string) Path { return ItemPath(i.ID, field) }

// Row is one row of a list.
type Row struct {
	ID string
	entry
}

// RowsAt lists the rows of a list, in order.
func (n *Note) RowsAt(list Path) []Row {
	m, name := n.holder(list, false)
	return rowsIn(n, m[name])
}

func rowsIn(n *Note, list any) []Row {
	rows, _ := list.([]any)
	out := make([]Row, 0, len(rows))
	for _, r := range rows {
		if m, ok := r.(map[string]any); ok {
			if id, ok := m["id"].(string); ok {
				out = append(out, Row{id, entry{n, m}})
			}
		}
	}
	return out
}
