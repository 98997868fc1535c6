package schema

import (
	"encoding/json"
	"strings"
)

// Entry is an object of the note's tree, found once: a section, an item
// or a row.
type Entry struct {
	note *Note
	held map[string]any
}

// Text and the rest read one field of the item or the row.
func (e Entry) Text(field string) string            { s, _ := e.held[field].(string); return s }
func (e Entry) Number(field string) (float64, bool) { return numberOf(e.Decimal(field)) }
func (e Entry) Decimal(field string) string         { d, _ := e.held[field].(json.Number); return string(d) }
func (e Entry) Bool(field string) (yes, ok bool)    { yes, ok = e.held[field].(bool); return yes, ok }
func (e Entry) Stated(field string) string          { return textIn(e.held, statedName, field) }
func (e Entry) Bound(field string) string           { return textIn(e.held, boundName, field) }
func (e Entry) List(field string) []string          { return wordsOf(e.held[field]) }

// Answer is what stands at a field: a value, or nil, and what was stated.
func (e Entry) Answer(field string) (value any, stated string) { return e.held[field], e.Stated(field) }

// Answered tells whether a field has a value or a stated answer.
func (e Entry) Answered(field string) bool { return e.held[field] != nil || e.Stated(field) != "" }

// Moment is the time at a field; ok is false if there is none.
func (e Entry) Moment(field string) (Moment, bool) {
	m, err := ParseMoment(e.Text(field))
	return m, err == nil
}

// RelevantIn is [Note.Relevant] of a field of the section, item or row at hand,
// without searching for it.
func (n *Note) RelevantIn(e Entry, f *Field) bool {
	return f.In(n.Kind()) && n.allHold(e, f.When)
}

// UnitIn is the unit of a field of the section, item or row at hand.
func (n *Note) UnitIn(e Entry, f *Field) string {
	for _, v := range f.By {
		if n.allHold(e, v.When) {
			if v.Unit != "" {
				return v.Unit
			}
			break
		}
	}
	return f.Unit
}

func (n *Note) allHold(e Entry, conditions []Condition) bool {
	for _, c := range conditions {
		var v any
		if sib, ok := strings.CutPrefix(string(c.Field), "."); ok {
			v = e.held[sib]
		} else {
			v, _ = n.Value(c.Field)
		}
		if !c.holds(v) {
			return false
		}
	}
	return true
}

// Note is the note the item or the row was read from.
func (e Entry) Note() *Note { return e.note }

// Item is one thing in, on or left in the child.
type Item struct {
	ID   string
	Kind string
	Tag  int
	Entry
}

// Path is the path of one attribute of the item.
func (i Item) Path(field string) Path { return ItemPath(i.ID, field) }

// Row is one row of a list.
type Row struct {
	ID string
	Entry
}

// Section is the section of that name.
func (n *Note) Section(name string) Entry {
	n.reading(name)
	return Entry{n, member(n.tree, name, false)}
}

// RowsIn lists the rows of a list that stands in the note, in order.
func (n *Note) RowsIn(list any) []Row {
	rows, _ := list.([]any)
	out := make([]Row, 0, len(rows))
	for _, r := range rows {
		if m, ok := r.(map[string]any); ok {
			if id, ok := m["id"].(string); ok {
				out = append(out, Row{id, Entry{n, m}})
			}
		}
	}
	return out
}
