package ledger

import "fairlead/schema"

// Enter enters a whole note as events: the note itself if it is new, what differs
// from the record of the child's own facts, the items that are not listed yet, and
// every value and answer, those of a newer version too. The events are applied to the record and returned. It
// serves files of notes, the demo and tests; what stands in the record and not in
// the note is left alone.
func Enter(r *Record, w *Writer, n *schema.Note) []Event {
	var out []Event
	note := NoteID(n.ID())
	add := func(es ...Event) {
		r.Apply(es...)
		out = append(out, es...)
	}
	if r.Len() == 0 {
		add(w.OpenCase())
	}
	if _, ok := r.NoteView(note); !ok {
		add(w.OpenNote(note, n.Kind()))
	}
	for _, it := range n.Items() {
		if _, listed := r.Item(ItemID(it.ID)); !listed {
			add(w.ListItem(note, ItemID(it.ID), it.Kind, it.Tag))
		}
	}
	for _, p := range n.Paths() {
		f := n.FieldAt(p)
		if !placeable(p) {
			continue // an item's kind and tag, which are entered by listing it
		}
		if list := p.List(); f == nil && list != "" && list != itemsSection && n.FieldAt(list) == nil {
			continue // a row of a list not known here: the list is entered whole
		}
		if f != nil && f.Type == "rows" && n.Stated(p) == "" {
			for _, id := range n.Rows(p) {
				rw := r.rows[slotKey{rowSlot, r.scope(p, note), string(p) + "." + id}]
				if rw == nil || !r.rowState(rw).present {
					add(w.AddRow(r, note, p, id)...)
				}
			}
			continue
		}
		in := Entry{Stated: n.Stated(p), Bound: n.Bound(p)}
		if v, ok := n.Value(p); ok && in.Stated == "" {
			if in.Value = v; f != nil && f.Type == "list" {
				in.Value = n.List(p)
			}
		}
		if vs := r.Values(note, p); len(vs) == 1 && vs[0].Same(in) {
			continue
		}
		add(w.Set(r, note, p, in))
	}
	for _, a := range n.Answers() {
		add(w.As(Author{Name: a.By}).AnswerQuestion(r, note, schema.Problem{Rule: a.Rule, Path: a.Path}, a.Answer, a.Why))
	}
	return out
}
