package ledger

import (
	"cmp"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// NoteView is one note of the child.
type NoteView struct {
	ID       NoteID
	Kind     schema.Kind // "" while the event that opened it has not arrived
	Author   Author      // who opened it
	Happened schema.Moment
	Entered  schema.Moment
	Clock    Clock
}

// builtKey names a built tree: a note alone, or with the items that were in the
// child already.
type builtKey struct {
	note  NoteID
	whole bool
}

type built struct {
	tree *schema.Note
	old  bool // to be built again
}

// Notes lists the child's notes in the order they were opened. A note whose
// opening was retracted is left out.
func (r *Record) Notes() []NoteView {
	if r.views.notes == nil {
		views := []NoteView{}
		for id, nd := range r.notes {
			v, ok := nd.view()
			if !ok && r.openingVoid(id) {
				continue
			}
			views = append(views, v)
		}
		sorting.By(views, func(a, b NoteView) int {
			return cmp.Or(a.Happened.Instant().Compare(b.Happened.Instant()), cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.ID, b.ID))
		})
		r.views.notes = views
	}
	return slices.Clone(r.views.notes)
}

func (nd *noteData) view() (NoteView, bool) {
	by, kind := nd.first, schema.Kind("")
	for i, e := range nd.opened {
		if i == 0 || before(&e.Event, &by.Event) < 0 {
			by, kind = e, e.body.(*noteOpened).Kind
		}
	}
	if by == nil {
		return NoteView{ID: nd.id}, false
	}
	return NoteView{nd.id, kind, by.by(), by.Happened, by.Entered, by.Clock}, len(nd.opened) > 0
}

// openingVoid tells whether the note was opened and all openings were retracted.
func (r *Record) openingVoid(id NoteID) bool {
	for voided := range r.void {
		if e := r.all[voided]; e != nil && e.Kind == KindNoteOpened && e.Note == id && r.cases[e.Case] && r.isVoid(e) {
			return true
		}
	}
	return false
}

// NoteGone tells whether there is no such note: nothing speaks of it, or its beginning
// was taken back.
func (r *Record) NoteGone(id NoteID) bool {
	v, ok := r.NoteView(id)
	return !ok || v.Kind == "" && r.openingVoid(id)
}

// NoteView is the note of that id; ok is false if nothing speaks of it.
func (r *Record) NoteView(id NoteID) (v NoteView, ok bool) {
	nd := r.notes[id]
	if nd == nil {
		return v, false
	}
	v, _ = nd.view()
	return v, true
}

// Note is the note as a tree: its own fields, the child's, and the items listed in
// it. It is nil if nothing speaks of the note. Where two people disagree the path
// is left "not recorded": see Disagreements. The tree belongs to the record: read
// it, do not change it, and expect it to follow what is applied later.
func (r *Record) Note(id NoteID) *schema.Note { return r.tree(builtKey{id, false}) }

// Whole is the note with the items that were in the child already when it was
// opened, which keep their tags. It is what a sheet and the graph of lines want.
func (r *Record) Whole(id NoteID) *schema.Note { return r.tree(builtKey{id, true}) }

// Child is the child's own facts and every item ever listed and not withdrawn, as
// a tree without a kind of note.
func (r *Record) Child() *schema.Note { return r.tree(builtKey{"", true}) }

func (r *Record) tree(key builtKey) *schema.Note {
	if key.note != "" && r.notes[key.note] == nil {
		return nil
	}
	b := r.built[key]
	if b == nil {
		b = &built{old: true}
		r.built[key] = b
	}
	if b.old {
		b.tree, b.old = r.build(key), false
	}
	return b.tree
}

func (r *Record) build(key builtKey) *schema.Note {
	var kind schema.Kind
	if key.note != "" {
		v, _ := r.notes[key.note].view()
		kind = v.Kind
	}
	n := schema.NewNote(kind, string(key.note), string(r.child))
	var rows []*row
	for _, rw := range r.rows {
		if rw.key.note == "" || rw.key.note == key.note {
			if state := r.rowState(rw); state.present {
				rows = append(rows, rw)
			}
		}
	}
	sorting.By(rows, func(a, b *row) int {
		return cmp.Or(before(&a.order.Event, &b.order.Event), cmp.Compare(a.key.name, b.key.name))
	})
	for _, rw := range rows {
		if rw.list.Item() == "" {
			n.AddRow(rw.list, rw.id)
		}
	}
	for _, s := range r.content[""] {
		r.write(n, s, true)
	}
	if key.note != "" {
		for _, s := range r.content[key.note] {
			r.write(n, s, true)
		}
	}
	for _, it := range r.listing() {
		if it.Withdrawn || key.note != "" && it.Note != key.note && !(key.whole && r.inAlready(it, key.note)) {
			continue
		}
		n.AddItem(it.Kind, string(it.ID), it.Tag)
		for _, rw := range rows {
			if rw.list.Item() == string(it.ID) {
				n.AddRow(rw.list, rw.id)
			}
		}
		for _, s := range r.onItem[it.ID] {
			r.write(n, s, true)
		}
	}
	if answers := r.standingAnswers(key.note); len(answers) > 0 {
		n.SetAnswers(answers)
	}
	return n
}

// write puts what a register holds into a note. Rows stay where an answer "none"
// is stated beside them: the contradiction is a problem, and rows are not lost.
// A fresh note holds nothing yet.
func (r *Record) write(n *schema.Note, s *slot, fresh bool) {
	p := schema.Path(s.key.name)
	now := s.now()
	first := now[0].body.(*fieldBody).entry
	for _, e := range now[1:] {
		if !e.body.(*fieldBody).entry.Same(first) {
			n.Clear(p) // a doubtful value is not shown as if it were sure
			return
		}
	}
	switch {
	case r.lists[p] && len(n.Rows(p)) > 0:
	case first.Stated != "":
		n.State(p, first.Stated)
	case first.Value != nil:
		n.Set(p, first.Value)
		if first.Bound != "" || !fresh {
			n.SetBound(p, first.Bound)
		}
	default:
		n.Clear(p)
	}
}

// show follows one change of a value in the notes that are built.
func (r *Record) show(s *slot, rw *row) {
	p := schema.Path(s.key.name)
	simple := false
	if now := s.now(); len(now) == 1 {
		simple = !now[0].body.(*fieldBody).entry.Cleared() && (rw == nil || r.rowState(rw) == (rowState{present: true, added: true}))
	}
	item := p.Section() == itemsSection
	if moves(p) {
		simple = false // what came out changes what is in the child
	}
	for key, b := range r.built {
		if s.key.note != "" && s.key.note != key.note || b.old {
			continue
		}
		if item {
			if _, listed := b.tree.Item(p.Item()); !listed {
				if it := r.items[ItemID(p.Item())]; it != nil && it.withdrawals() {
					b.old = true // withdrawn and changed at once: it is back
				}
				continue
			}
		}
		if !simple || r.asked(key.note) {
			b.old = true
			continue
		}
		r.write(b.tree, s, false)
	}
	if moves(p) {
		for _, b := range r.built {
			b.old = true
		}
	}
}

// asked tells whether questions were answered about the note, which an edit may
// make stale.
func (r *Record) asked(id NoteID) bool {
	nd := r.notes[id]
	return nd != nil && len(nd.asked) > 0
}

// rowState says whether a row is in its list.
type rowState struct {
	present bool
	added   bool // by an event that is in force, not only by a value inside
	clash   bool // removed by one, added or changed by another who had not seen that
}

func (r *Record) rowState(rw *row) rowState {
	adds, removes := partition(rw.presence.now(), KindRowAdded)
	st := rowState{present: len(adds) > 0, added: len(adds) > 0}
	switch {
	case len(removes) == 0:
		st.present = true // a value in a row whose adding has not arrived yet is not lost
	case st.present:
		st.clash = true
	case r.unseen(removes, rw.fields):
		st.present, st.clash = true, true
	}
	return st
}

// partition divides events by kind: those of the kind, and the others.
func partition(es []*entry, kind string) (of, others []*entry) {
	for _, e := range es {
		if e.Kind == kind {
			of = append(of, e)
		} else {
			others = append(others, e)
		}
	}
	return of, others
}

// unseen tells whether something said of a row or an item, and in force, was not
// seen by any who removed it. What was only taken back there is no loss.
func (r *Record) unseen(removes []*entry, fields []*slot) bool {
	saw := map[EventID]bool{}
	for _, e := range removes {
		for _, id := range e.saw() {
			saw[id] = true
		}
	}
	for _, s := range fields {
		for _, e := range s.now() {
			if b, ok := e.body.(*fieldBody); ok && b.entry.Cleared() {
				continue
			}
			if b, ok := e.body.(*itemChecked); ok && b.Answer == NoAnswer {
				continue
			}
			if !saw[e.ID] && !r.restoresSeen(s, e, saw) {
				return true
			}
		}
	}
	return false
}

// restoresSeen tells whether an event restored, by undoing, what had been seen.
func (r *Record) restoresSeen(s *slot, e *entry, saw map[EventID]bool) bool {
	if e.Undoes == "" {
		return false
	}
	stands := r.standing(s, e, 0)
	return len(stands) > 0 && !slices.ContainsFunc(stands, func(f *entry) bool { return !saw[f.ID] })
}

// Values lists what is in force at a path: none, one, or several that nobody has
// chosen between, by clock.
func (r *Record) Values(note NoteID, p schema.Path) []Value {
	return valuesOf(r.fieldSlot(note, p).now())
}

// History lists everything that was ever entered at a path, by clock.
func (r *Record) History(note NoteID, p schema.Path) []Value {
	s := r.fieldSlot(note, p)
	if s == nil {
		return nil
	}
	all := slices.Clone(s.all)
	inOrder(all)
	return valuesOf(all)
}

func (r *Record) fieldSlot(note NoteID, p schema.Path) *slot {
	return r.slots[slotKey{fieldSlot, r.scope(p, note), string(p)}]
}

func valuesOf(es []*entry) []Value {
	var out []Value
	for _, e := range es {
		out = append(out, Value{e.body.(*fieldBody).entry, e.ID, e.by(), e.Happened, e.Entered, e.Clock})
	}
	return out
}

// Disagreement is a path at which two or more different values are in force.
type Disagreement struct {
	Note   NoteID // "" if it is about the child or an item
	Path   schema.Path
	Values []Value // each as somebody entered it, by clock
}

// Disagreement is the disagreement at a path, if there is one.
func (r *Record) Disagreement(note NoteID, p schema.Path) (d Disagreement, ok bool) {
	return disagreementOf(r.fieldSlot(note, p))
}

func disagreementOf(s *slot) (d Disagreement, ok bool) {
	now := s.now()
	if len(now) < 2 || allSame(now) {
		return d, false
	}
	return Disagreement{s.key.note, schema.Path(s.key.name), valuesOf(now)}, true
}

func allSame(now []*entry) bool {
	for _, e := range now[1:] {
		if !e.body.(*fieldBody).entry.Same(now[0].body.(*fieldBody).entry) {
			return false
		}
	}
	return true
}

// Disagreements lists every disagreement, by note and path. Settle one by setting
// the path again with the values seen: [Writer.Set] does that.
func (r *Record) Disagreements() []Disagreement {
	var out []Disagreement
	for s := range r.differ {
		d, _ := disagreementOf(s)
		out = append(out, d)
	}
	sorting.By(out, func(a, b Disagreement) int {
		return cmp.Or(cmp.Compare(a.Note, b.Note), cmp.Compare(a.Path, b.Path))
	})
	return out
}

// standingAnswers lists the answered questions whose answers still speak of what
// stands in the note.
func (r *Record) standingAnswers(id NoteID) []schema.Answer {
	nd := r.notes[id]
	if nd == nil {
		return nil
	}
	var out []schema.Answer
	for _, s := range nd.asked {
		now := s.now()
		e := now[len(now)-1] // two answers to one question: both are kept, the later is shown
		b := e.body.(*questionAnswered)
		if b.Answer == "" || !r.stillAs(id, b.Saw) {
			continue
		}
		out = append(out, schema.Answer{Rule: b.Rule, Path: b.Path, Answer: b.Answer, By: e.by().String(), Why: b.Why})
	}
	sorting.By(out, func(a, b schema.Answer) int {
		return cmp.Or(cmp.Compare(a.Path, b.Path), cmp.Compare(a.Rule, b.Rule))
	})
	return out
}

// stillAs tells whether the paths still hold what the answerer saw.
func (r *Record) stillAs(note NoteID, saw map[schema.Path]string) bool {
	for p, key := range saw {
		if r.holds(note, p) != key {
			return false
		}
	}
	return true
}

// holds is the text of what is in force at a path, the same for equal values.
func (r *Record) holds(note NoteID, p schema.Path) string {
	now := r.fieldSlot(note, p).now()
	if len(now) == 0 {
		return "cleared"
	}
	if !allSame(now) {
		return "several"
	}
	return now[0].body.(*fieldBody).entry.sameKey()
}
