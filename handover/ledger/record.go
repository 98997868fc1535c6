package ledger

import (
	"cmp"
	"maps"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Record is the fold of one child's events: everything that is known of the child,
// with who said it. It is read through its methods; [Record.Apply] adds events.
// A Record is not safe for concurrent use.
type Record struct {
	child   CaseID
	all     map[EventID]*entry   // every event ever applied, set aside or not
	slab    []entry              // for the next to come
	came    []*entry             // the same, as they came; not in step while bodies has any
	bodies  map[EventID][]Event  // ids that came with more than one body
	cases   map[CaseID]bool      // the cases that count as this child: its own and those joined
	void    map[EventID][]*entry // retracted events, and what retracted each
	slots   map[slotKey]*slot    // the registers
	content map[NoteID][]*slot   // field slots by scope
	onItem  map[ItemID][]*slot   // field slots of items
	rows    map[slotKey]*row     // rows by scope, list and id
	items   map[ItemID]*itemData // items by id
	notes   map[NoteID]*noteData // notes by id
	asides  map[reading][]*entry // events whose body could not be used
	foreign []*entry             // events of other children
	kinds   map[string][]*entry  // the events of the kinds that are simple lists

	differ map[*slot]bool       // field slots in disagreement
	lists  map[schema.Path]bool // lists that have or had rows

	pasts  map[who]*past       // what people did, as far as it was asked for
	covers map[*entry]coverage // what signatures name, as far as it was asked for

	version int
	built   map[builtKey]*built // notes as trees
	views   viewCache
}

// entry is an event with its body read.
type entry struct {
	Event
	body any
	how  reading
}

func (e *entry) replaces() []EventID {
	switch b := e.body.(type) {
	case *fieldBody:
		return b.replaces
	case *rowChange:
		return b.Replaces
	case *itemListed:
		return b.Replaces
	case *itemWithdrawn:
		return b.Replaces
	case *itemRetagged:
		return b.Replaces
	case *itemChecked:
		return b.Replaces
	case *questionAnswered:
		return b.Replaces
	case *joined:
		return b.Replaces
	}
	return nil
}

// replaces lists what an event sets aside in this register.
func (s *slot) replaces(e *entry) []EventID {
	if b, ok := e.body.(*itemListed); ok && s.key.kind == tagSlot {
		return b.Retags
	}
	return e.replaces()
}

// saw lists the events inside a row or an item that its remover had seen.
func (e *entry) saw() []EventID {
	switch b := e.body.(type) {
	case *rowChange:
		return b.Saw
	case *itemWithdrawn:
		return b.Saw
	}
	return nil
}

type slotKind byte

const (
	fieldSlot    slotKind = 'f'
	rowSlot      slotKind = 'r'
	presenceSlot slotKind = 'i'
	tagSlot      slotKind = 't'
	checkSlot    slotKind = 'c'
	answerSlot   slotKind = 'q'
	linkSlot     slotKind = 'l'
)

type slotKey struct {
	kind slotKind
	note NoteID // the scope
	name string
}

// slot is a register: events that speak of the same thing. Those that none of the
// others replaces are current.
type slot struct {
	key      slotKey
	all      []*entry
	replaced map[EventID]bool
	current  []*entry // by clock, then id
	stale    bool     // current is to be worked out again
	looped   bool     // every event is replaced by another: all are current
}

func (s *slot) add(e *entry) {
	s.all = append(s.all, e)
	if s.stale || s.looped {
		s.stale = true
		return
	}
	for _, id := range s.replaces(e) {
		if id == e.ID {
			continue
		}
		if s.replaced == nil {
			s.replaced = map[EventID]bool{}
		}
		s.replaced[id] = true
		s.current = slices.DeleteFunc(s.current, func(c *entry) bool { return c.ID == id })
	}
	if !s.replaced[e.ID] {
		i, _ := slices.BinarySearchFunc(s.current, e, func(a, b *entry) int { return before(&a.Event, &b.Event) })
		s.current = slices.Insert(s.current, i, e)
	}
	if len(s.current) == 0 {
		s.stale = true
	}
}

// now lists the current events. A circle of replacements, which no honest writer
// makes, hides nothing: then all are current.
func (s *slot) now() []*entry {
	if s == nil {
		return nil
	}
	if s.stale {
		s.stale, s.looped = false, false
		s.replaced, s.current = map[EventID]bool{}, nil
		for _, e := range s.all {
			for _, id := range s.replaces(e) {
				if id != e.ID {
					s.replaced[id] = true
				}
			}
		}
		for _, e := range s.all {
			if !s.replaced[e.ID] {
				s.current = append(s.current, e)
			}
		}
		if len(s.current) == 0 {
			s.looped, s.current = true, slices.Clone(s.all)
		}
		inOrder(s.current)
	}
	return s.current
}

func idsOf(es []*entry) []EventID {
	out := make([]EventID, len(es))
	for i, e := range es {
		out[i] = e.ID
	}
	return out
}

// row is one row of a list: whether it is there, and the fields in it.
type row struct {
	key      slotKey
	list     schema.Path
	id       string
	presence *slot
	fields   []*slot
	order    *entry // the first that spoke of it
}

type itemData struct {
	id       ItemID
	presence *slot
	tags     *slot
	register []*entry // placed … gone home
	checks   []*slot
}

type noteData struct {
	id     NoteID
	opened []*entry
	first  *entry // the first event that names the note
	rows   []*row
	asked  []*slot // answered questions
}

// Fold makes the record of one child from its events, in any order and with any
// repeats. If the events are of several cases, the record is of the first of them
// by id, with those that are joined to it; see [FoldCase].
func Fold(events []Event) *Record {
	var first CaseID
	for _, e := range events {
		if first == "" || e.Case < first {
			first = e.Case
		}
	}
	return FoldCase(first, events)
}

// FoldCase makes the record of one child. Events of other cases count only while
// that case is joined to this one; the rest are set aside and named in Faults.
func FoldCase(child CaseID, events []Event) *Record {
	r := &Record{child: child, all: make(map[EventID]*entry, len(events)), bodies: map[EventID][]Event{}, came: make([]*entry, 0, len(events))}
	r.slab = make([]entry, len(events))
	for _, e := range events {
		r.keep(e)
	}
	r.refold()
	return r
}

// Apply adds events. The record is then the same as the fold of all of them.
// Notes got from the record earlier may change.
func (r *Record) Apply(events ...Event) {
	var fresh []*entry
	again := false
	for _, e := range events {
		was := r.all[e.ID]
		now := r.keep(e)
		switch {
		case now == was: // a repeat
		case was != nil:
			again = true
		default:
			fresh = append(fresh, now)
			switch now.Kind {
			case KindCasesJoined, KindCasesParted, KindRetracted, KindRetractionWithdrawn:
				again = true
			}
		}
	}
	if again {
		r.refold()
		return
	}
	for _, e := range fresh {
		r.insert(e)
		r.follow(e)
	}
	if len(fresh) > 0 {
		r.version++
	}
}

// keep takes an event in and returns the one that stands under its id: the same
// as before if it is a repeat. Of two bodies under one id the first by text
// counts, so that the order of arrival decides nothing; the fault is named.
func (r *Record) keep(e Event) *entry {
	was, ok := r.all[e.ID]
	if !ok {
		if len(r.slab) == 0 {
			r.slab = make([]entry, 16)
		}
		n := &r.slab[0]
		r.slab = r.slab[1:]
		n.Event = e
		n.body, n.how = decode(&n.Event)
		r.all[e.ID] = n
		r.came = append(r.came, n)
		return n
	}
	others := r.bodies[e.ID]
	if others == nil {
		others = []Event{was.Event}
	}
	for _, o := range others {
		if SameEvent(o, e) {
			return was
		}
	}
	others = append(others, e)
	sorting.By(others, func(a, b Event) int {
		x, _ := canonical(a)
		y, _ := canonical(b)
		return cmp.Compare(x, y)
	})
	r.bodies[e.ID] = others
	n := &entry{Event: others[0]}
	n.body, n.how = decode(&n.Event)
	r.all[e.ID] = n
	return n
}

// refold works everything out again from the events.
func (r *Record) refold() {
	r.slots = map[slotKey]*slot{}
	r.content = map[NoteID][]*slot{}
	r.onItem = map[ItemID][]*slot{}
	r.rows = map[slotKey]*row{}
	r.items = map[ItemID]*itemData{}
	r.notes = map[NoteID]*noteData{}
	r.asides = map[reading][]*entry{}
	r.kinds = map[string][]*entry{}
	r.foreign = nil
	r.differ = map[*slot]bool{}
	r.lists = map[schema.Path]bool{}
	r.covers = map[*entry]coverage{}
	r.pasts = map[who]*past{}
	r.built = map[builtKey]*built{}
	r.views = viewCache{}
	r.version++

	inOrder := func(a, b *entry) int { return before(&a.Event, &b.Event) }
	if len(r.bodies) > 0 {
		r.came = slices.AppendSeq(r.came[:0], maps.Values(r.all))
	}
	if !slices.IsSortedFunc(r.came, inOrder) {
		sorting.By(r.came, inOrder)
	}
	sorted := r.came
	r.void = voided(sorted)
	r.cases = nil // not known until the joins are
	r.cases = linked(r.child, sorted, r.isVoid)
	for _, e := range sorted {
		r.insert(e)
	}
}

// voided finds the retractions of each event, whether or not it has arrived yet.
func voided(events []*entry) map[EventID][]*entry {
	withdrawn := map[EventID]bool{}
	for _, e := range events {
		if e.Kind == KindRetractionWithdrawn && e.how == read {
			for _, id := range e.body.(*retracted).Events {
				withdrawn[id] = true
			}
		}
	}
	void := map[EventID][]*entry{}
	for _, e := range events {
		if e.Kind != KindRetracted || e.how != read || withdrawn[e.ID] {
			continue
		}
		for _, id := range e.body.(*retracted).Events {
			void[id] = append(void[id], e)
		}
	}
	return void
}

// isVoid tells whether a retraction takes an event out of account: one in the same
// case, or in a case that counts as the same child. What joins cases is retracted
// only in its own.
func (r *Record) isVoid(e *entry) bool {
	_, joins := e.body.(*joined)
	return !lasting(e.Kind) && slices.ContainsFunc(r.void[e.ID], func(by *entry) bool {
		return by.Case == e.Case || !joins && r.cases[by.Case] && r.cases[e.Case]
	})
}

// lasting tells whether an event stays in account whatever retracts it: a
// retraction is taken back by its own kind of event, and a signature by none.
func lasting(kind string) bool {
	switch kind {
	case KindRetracted, KindRetractionWithdrawn, KindNoteSigned, KindSectionSigned, KindCheckClosed, KindSheetTold:
		return true
	}
	return false
}

// insert puts one event in its places. It is the same whether the record is folded
// anew or the event comes later.
func (r *Record) insert(e *entry) {
	if !r.cases[e.Case] {
		if !e.speaksOf(r.child) {
			r.foreign = append(r.foreign, e)
		}
		return
	}
	if e.how != read {
		r.asides[e.how] = append(r.asides[e.how], e)
		return
	}
	if r.isVoid(e) {
		return
	}
	var nd *noteData
	if e.Note != "" {
		nd = r.noteFor(e.Note)
		if nd.first == nil || before(&e.Event, &nd.first.Event) < 0 {
			nd.first = e
			r.views.clear()
			if len(nd.opened) == 0 { // the note's place among the others is not sure yet
				clear(r.built)
			}
		}
	}
	if b, ok := e.body.(*fieldBody); ok {
		r.insertField(e, b)
		return
	}
	r.views.clear()
	switch b := e.body.(type) {
	case *rowChange:
		rw := r.rowFor(r.scope(b.List, e.Note), b.List, b.Row)
		rw.presence.add(e)
		rw.note(e)
	case *itemListed:
		it := r.itemFor(b.Item)
		it.presence.add(e)
		it.tags.add(e)
	case *itemWithdrawn:
		r.itemFor(b.Item).presence.add(e)
	case *itemRetagged:
		r.itemFor(b.Item).tags.add(e)
	case *itemChecked:
		key := slotKey{checkSlot, e.Note, string(b.Occasion) + "|" + string(b.Item)}
		it := r.itemFor(b.Item)
		if r.slots[key] == nil {
			it.checks = append(it.checks, r.slotFor(key))
		}
		r.slotFor(key).add(e)
	case *registered:
		it := r.itemFor(b.Item)
		it.register = append(it.register, e)
	case *noteOpened:
		if nd != nil {
			nd.opened = append(nd.opened, e)
		}
	case *questionAnswered:
		key := slotKey{answerSlot, e.Note, b.Rule + "|" + string(b.Path)}
		if r.slots[key] == nil && nd != nil {
			nd.asked = append(nd.asked, r.slotFor(key))
		}
		r.slotFor(key).add(e)
	case *joined:
		r.slotFor(linkKey(e.Case, b.Other)).add(e)
	}
	r.kinds[e.Kind] = append(r.kinds[e.Kind], e)
	if rebuilds(e.Kind) || r.onWithdrawn(e) {
		clear(r.built)
	}
}

// speaksOf tells whether an event in another case is the other half of something done
// here: joined, parted, offered there or answered.
func (e *entry) speaksOf(child CaseID) bool {
	switch b := e.body.(type) {
	case *joined:
		return b.Other == child
	case *offered:
		return b.From == child
	case *offerAnswered:
		return b.With == child
	}
	return false
}

// onWithdrawn tells whether an event speaks of an item that somebody withdrew, which
// may bring it back.
func (r *Record) onWithdrawn(e *entry) bool {
	var id ItemID
	switch b := e.body.(type) {
	case *itemChecked:
		id = b.Item
	case *registered:
		id = b.Item
	}
	it := r.items[id]
	return it != nil && it.withdrawals()
}

// rebuilds tells whether an event of the kind may change a note as a tree.
func rebuilds(kind string) bool {
	switch kind {
	case KindItemChecked, KindDifferenceSettled, KindCheckClosed, KindNoteSigned, KindSectionSigned, KindSheetTold,
		KindAmended, KindChecked, KindOffered, KindOfferAnswered, KindOutputRead, KindPressureRead, KindWiresTested, KindConnected,
		KindDisconnected, KindProblem, KindNeedAnswered, KindRoundOpened, KindRoundClosed:
		return false
	}
	return true
}

func (r *Record) slotFor(key slotKey) *slot {
	s := r.slots[key]
	if s == nil {
		s = &slot{key: key}
		r.slots[key] = s
	}
	return s
}

func (r *Record) noteFor(id NoteID) *noteData {
	nd := r.notes[id]
	if nd == nil {
		nd = &noteData{id: id}
		r.notes[id] = nd
	}
	return nd
}

func (r *Record) itemFor(id ItemID) *itemData {
	it := r.items[id]
	if it == nil {
		it = &itemData{id: id,
			presence: r.slotFor(slotKey{presenceSlot, "", string(id)}),
			tags:     r.slotFor(slotKey{tagSlot, "", string(id)})}
		r.items[id] = it
	}
	return it
}

func (r *Record) rowFor(scope NoteID, list schema.Path, id string) *row {
	key := slotKey{rowSlot, scope, string(list) + "." + id}
	rw := r.rows[key]
	if rw == nil {
		rw = &row{key: key, list: list, id: id, presence: r.slotFor(key)}
		r.lists[list] = true
		r.rows[key] = rw
		if scope != "" {
			nd := r.noteFor(scope)
			nd.rows = append(nd.rows, rw)
		}
	}
	return rw
}

func (rw *row) note(e *entry) {
	if rw.order == nil || before(&e.Event, &rw.order.Event) < 0 {
		rw.order = e
	}
}

// scope is the note a path belongs to: "" for what holds for the child and for
// items, whichever note it was entered from.
func (r *Record) scope(p schema.Path, note NoteID) NoteID {
	section := p.Section()
	if section == itemsSection {
		return ""
	}
	if s := schema.SectionNamed(section); s != nil && s.Scope == "child" {
		return ""
	}
	return note
}

const (
	itemsSection    = "items"
	removalsSection = "removals" // what came out at an operation
)

// insertField puts a value in its place and, where that is all that changes, into
// the notes that are built.
func (r *Record) insertField(e *entry, b *fieldBody) {
	scope := r.scope(b.path, e.Note)
	key := slotKey{fieldSlot, scope, string(b.path)}
	s := r.slots[key]
	list := b.path.List()
	var rw *row
	if list != "" && list != itemsSection {
		rw = r.rowFor(scope, list, b.path.Row())
	}
	if s == nil {
		s = r.slotFor(key)
		if rw != nil {
			rw.fields = append(rw.fields, s)
		}
		if id := ItemID(b.path.Item()); id != "" {
			r.itemFor(id)
			r.onItem[id] = append(r.onItem[id], s)
		} else {
			r.content[scope] = append(r.content[scope], s)
		}
	}
	s.add(e)
	if rw != nil {
		rw.note(e)
	}
	if now := s.now(); len(now) > 1 && !allSame(now) {
		r.differ[s] = true
	} else {
		delete(r.differ, s)
	}
	// Most values change nothing but themselves; those of what came out change where
	// things are, and those of an item that was withdrawn whether it is back.
	if it := r.items[ItemID(b.path.Item())]; moves(b.path) || it != nil && len(it.presence.all) > 1 {
		r.views.clear()
	}
	r.show(s, rw)
}

// Case is the child the record is of; Cases are all that count as this child.
func (r *Record) Case() CaseID    { return r.child }
func (r *Record) Cases() []CaseID { return slices.Sorted(maps.Keys(r.cases)) }

// Version changes whenever the record does.
func (r *Record) Version() int { return r.version }

// Len is the number of different events taken in, whatever became of them.
func (r *Record) Len() int { return len(r.all) }

// Events lists the child's events, and those of cases joined to it, by clock and id;
// of an id with two bodies both. Events of another child that were given too are
// left out. The slice is the caller's.
func (r *Record) Events() []Event {
	return slices.DeleteFunc(r.everything(), func(e Event) bool { return !r.cases[e.Case] })
}

// everything lists every event taken in.
func (r *Record) everything() []Event {
	var out []Event
	for id, e := range r.all {
		if others := r.bodies[id]; others != nil {
			out = append(out, others...)
			continue
		}
		out = append(out, e.Event)
	}
	sorting.By(out, func(a, b Event) int {
		if c := before(&a, &b); c != 0 {
			return c
		}
		x, _ := canonical(a)
		y, _ := canonical(b)
		return cmp.Compare(x, y)
	})
	return out
}

// Event is the event of that id that counts.
func (r *Record) Event(id EventID) (Event, bool) {
	if e := r.all[id]; e != nil {
		return e.Event, true
	}
	return Event{}, false
}

// Has tells whether the record has taken in an event of that id.
func (r *Record) Has(id EventID) bool { return r.all[id] != nil }
