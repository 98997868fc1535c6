package ledger

import (
	"cmp"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Whereabouts says where a thing is now, as far as the record tells.
type Whereabouts string

const (
	InChild     Whereabouts = "in"
	Removed     Whereabouts = "removed"
	RemovedPart Whereabouts = "removed in part"        // not all of it came out
	PerhapsPart Whereabouts = "out, perhaps not whole" // its tip was not seen, or nobody knows
	Exchanged   Whereabouts = "exchanged"
	CutAndLeft  Whereabouts = "cut and left"
	Lost        Whereabouts = "lost"
	InTheatre   Whereabouts = "taken back to theatre"
	GoneHome    Whereabouts = "gone home"
	Transferred Whereabouts = "transferred" // with the child, to another ward
)

// In tells whether something of it is in the child: all of it, or a part.
func (w Whereabouts) In() bool {
	switch w {
	case Removed, Exchanged:
		return false
	}
	return true
}

// AtBedside tells whether it is still looked for at the bed. What was lost is: it
// must be found.
func (w Whereabouts) AtBedside() bool {
	switch w {
	case InChild, InTheatre, RemovedPart, PerhapsPart, Lost:
		return true
	}
	return false
}

// ItemEvent is one thing that happened to an item in the register.
type ItemEvent struct {
	Event    EventID // "" if it stands in a note's list of what came out
	Note     NoteID
	Kind     string
	Facts    *RegisterFacts // never nil; the record's: read it, do not change it
	Author   Author
	Happened schema.Moment
	Entered  schema.Moment
	Clock    Clock
	Leaves   Whereabouts // where it leaves the thing; "" if it says nothing of that
}

// When is when it happened, in words: of a thing that was found out, when that was seen.
func (e *ItemEvent) When() string { return foundOut(e.Facts.Time != "") + e.Happened.Shown() }

func foundOut(found bool) string {
	if found {
		return "found out (its time is not known) "
	}
	return ""
}

// ItemView is one thing in, on or left in the child, as the record has it.
type ItemView struct {
	ID       ItemID
	Kind     string
	Tag      int
	Tags     []int  // every tag in force: more than one is a problem
	Note     NoteID // the note it was listed in
	Listed   EventID
	Author   Author // who listed it
	Happened schema.Moment
	Clock    Clock

	Withdrawn bool   // listed by mistake
	Why       string // why it was withdrawn
	Clash     bool   // withdrawn by one, changed or checked by another who had not seen that
	Where     Whereabouts
	Cut       bool          // something of it was cut, and is left inside: whatever became of the rest
	Piece     bool          // no more than a piece of it is in
	Since     schema.Moment // since when it is where it is; zero for "in"
	FoundOut  bool          // when it came out is not known: it was found out at Since
	Events    []ItemEvent   // the register, by when it happened
	Going     bool          // it goes with the child, who has not left: until the stay ends it is at the bed

	stay int
	only bool // see way
}

// AtBedside tells whether it is still looked for at the bed: see
// [Whereabouts.AtBedside]. What goes with the child is, until the child goes.
func (v ItemView) AtBedside() bool { return v.Where.AtBedside() || v.Going }

// SinceWords is since when it is where it is, in words; "" for nothing said.
func (v *ItemView) SinceWords() string {
	if v.Since.IsZero() {
		return ""
	}
	return foundOut(v.FoundOut) + v.Since.Shown()
}

// viewCache holds what is worked out from the record on asking.
type viewCache struct {
	notes []NoteView
	items []ItemView     // by clock
	at    map[ItemID]int // where each stands among them

	settled map[EventID]*entry
}

// clear forgets it all; most often there is nothing.
func (c *viewCache) clear() {
	if c.notes != nil || c.items != nil || c.settled != nil {
		*c = viewCache{}
	}
}

func (it *itemData) withdrawals() bool {
	return slices.ContainsFunc(it.presence.now(), func(e *entry) bool { return e.Kind == KindItemWithdrawn })
}

// listing is every item that was ever listed, in order of listing.
func (r *Record) listing() []ItemView {
	if r.views.items != nil {
		return r.views.items
	}
	out := []ItemView{}
	taken := r.takenOut()
	for _, it := range r.items {
		if v, ok := r.itemView(it, taken[it.id]); ok {
			out = append(out, v)
		}
	}
	sorting.By(out, func(a, b ItemView) int {
		return cmp.Or(cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.ID, b.ID))
	})
	r.views.items, r.views.at = out, make(map[ItemID]int, len(out))
	for i, v := range out {
		r.views.at[v.ID] = i
	}
	return out
}

// Items lists every item ever listed, withdrawn ones too, by tag and then as
// listed. The slice is the caller's; what it points to is not.
func (r *Record) Items() []ItemView {
	out := slices.Clone(r.listing())
	sorting.By(out, func(a, b ItemView) int { return cmp.Compare(a.Tag, b.Tag) })
	return out
}

// ItemsIn lists what is in the child now, by tag.
func (r *Record) ItemsIn() []ItemView {
	return slices.DeleteFunc(r.Items(), func(v ItemView) bool { return v.Withdrawn || !v.Where.In() })
}

// Item is the item of that id.
func (r *Record) Item(id ItemID) (ItemView, bool) {
	all := r.listing()
	if i, ok := r.views.at[id]; ok {
		return all[i], true
	}
	return ItemView{}, false
}

func (r *Record) itemView(it *itemData, taken []ItemEvent) (ItemView, bool) {
	now := it.presence.now()
	listed, withdrawn := partition(now, KindItemListed)
	all, _ := partition(it.presence.all, KindItemListed)
	if len(all) == 0 {
		return ItemView{}, false // something found at the bed, or not arrived yet
	}
	first := slices.MinFunc(all, func(a, b *entry) int { return before(&a.Event, &b.Event) })
	b := first.body.(*itemListed)
	v := ItemView{ID: it.id, Kind: b.Kind, Note: first.Note, Listed: first.ID, Author: first.by(),
		Happened: first.Happened, Clock: first.Clock, Where: InChild, stay: r.stayOf(&first.Event)}
	for _, e := range it.tags.now() {
		tag := 0
		switch b := e.body.(type) {
		case *itemListed:
			tag = b.Tag
		case *itemRetagged:
			tag = b.Tag
		}
		if !slices.Contains(v.Tags, tag) {
			v.Tags = append(v.Tags, tag)
		}
	}
	slices.Sort(v.Tags)
	v.Tag = v.Tags[0]
	if len(withdrawn) > 0 {
		v.Why = withdrawn[len(withdrawn)-1].body.(*itemWithdrawn).Why
		held := slices.Concat(r.onItem[it.id], it.checks)
		switch {
		case len(listed) > 0, r.unseen(withdrawn, held), r.unseenRegister(withdrawn, it.register):
			v.Clash = true
		default:
			v.Withdrawn = true
		}
	}
	v.Events = make([]ItemEvent, 0, len(taken)+len(it.register))
	v.Events = append(v.Events, taken...)
	for _, e := range it.register {
		if e.First.Event != "" && slices.ContainsFunc(it.register, func(o *entry) bool {
			return o.First.Event == e.First.Event && before(&o.Event, &e.Event) < 0
		}) {
			continue // taken over by two who did not see each other: it happened once
		}
		v.Events = append(v.Events, ItemEvent{Event: e.ID, Note: e.Note, Kind: e.Kind, Facts: &e.body.(*registered).RegisterFacts, Author: e.by(), Happened: e.Happened, Entered: e.Entered, Clock: e.Clock})
	}
	inOrder := func(a, b ItemEvent) int {
		if c := a.Happened.Instant().Compare(b.Happened.Instant()); c != 0 {
			return c
		}
		return cmp.Or(cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.Event, b.Event))
	}
	if !slices.IsSortedFunc(v.Events, inOrder) {
		sorting.By(v.Events, inOrder)
	}
	at := newWay()
	for i := range v.Events {
		e := &v.Events[i]
		if !at.take(e) {
			continue
		}
		e.Leaves = at.where
		goes := at.where == GoneHome || at.where == Transferred
		v.Going = goes && (v.Going || v.Where.AtBedside()) && !slices.ContainsFunc(r.kinds[KindDischarged], func(d *entry) bool { return d.Clock > e.Clock })
		if !(e.Facts.NoneLeft() && (v.Where == RemovedPart || v.Where == PerhapsPart)) { // else it came out before
			v.Since, v.FoundOut = e.Happened, e.Facts.Time != ""
		}
		v.Where = at.where
	}
	v.Cut, v.only, v.Piece = at.cut, at.only, r.piece(&v, at.where)
	return v, true
}

func (r *Record) unseenRegister(withdrawn, register []*entry) bool {
	if len(register) == 0 {
		return false
	}
	return r.unseen(withdrawn, []*slot{{all: register, current: register}})
}

// takenOut reads the notes' lists of what came out at an operation: a row there
// says how an item left, and need not be said again. So does what a stage 2 note says
// of the earlier lung supply.
func (r *Record) takenOut() map[ItemID][]ItemEvent {
	out := map[ItemID][]ItemEvent{}
	for note := range r.notes {
		what, by := r.agreed(note, schema.Stage2OldSupplyItems)
		became, said := r.agreed(note, schema.Stage2OldSupply)
		items, _ := what.([]any)
		if items == nil || became != "taken-out" {
			continue
		}
		if before(&by.Event, &said.Event) < 0 {
			by = said
		}
		at := by.Happened
		closed, _ := r.agreed(note, schema.OperationClosed)
		if text, _ := closed.(string); text != "" { // by then it was out, whenever that was written
			if m, err := schema.ParseMoment(text); err == nil {
				at = m
			}
		}
		for _, item := range items {
			if id, _ := item.(string); id != "" {
				out[ItemID(id)] = append(out[ItemID(id)], ItemEvent{Facts: new(RegisterFacts), Note: note, Kind: KindRemoved, Author: by.Author, Happened: at, Entered: by.Entered, Clock: by.Clock})
			}
		}
	}
	for _, rw := range r.rows {
		if rw.list != takenOutList || !r.rowState(rw).present {
			continue
		}
		get := func(field string) (string, *entry) {
			v, by := r.agreed(rw.key.note, schema.RowPath(rw.list, rw.id, field))
			s, _ := v.(string)
			return s, by
		}
		item, by := get("item")
		how, said := get("how")
		if item == "" || how == "" {
			continue // until it says what and how, nothing left the list
		}
		if before(&by.Event, &said.Event) < 0 {
			by = said
		}
		ev := ItemEvent{Facts: new(RegisterFacts), Note: rw.key.note, Kind: takenOutKinds[how], Author: by.by(), Happened: by.Happened, Entered: by.Entered, Clock: by.Clock}
		if ev.Kind == "" {
			continue // a way that this version does not know takes nothing off the list
		}
		ev.Facts.Complete, _ = get("complete")
		ev.Facts.Note, _ = get("remark")
		if at, _ := get("at"); at != "" {
			if m, err := schema.ParseMoment(at); err == nil {
				ev.Happened = m
			}
		}
		out[ItemID(item)] = append(out[ItemID(item)], ev)
	}
	return out
}

// agreed is the value that stands at a place of a note, and who entered it; nil where
// there is none or two people differ.
func (r *Record) agreed(note NoteID, p schema.Path) (any, *entry) {
	now := r.slots[slotKey{fieldSlot, note, string(p)}].now()
	if len(now) == 0 || !allSame(now) {
		return nil, nil
	}
	return now[0].body.(*fieldBody).entry.Value, now[0]
}

// moves tells whether what stands at a place of a note says what came out.
func moves(p schema.Path) bool {
	switch p {
	case schema.Stage2OldSupply, schema.Stage2OldSupplyItems, schema.OperationClosed:
		return true
	}
	return p.Section() == removalsSection
}

var takenOutList = schema.RemovalsOut

var takenOutKinds = map[string]string{"removed": KindRemoved, "exchanged": KindExchanged, "cut-and-left": KindCutLeft, "lost": KindLost}

// inAlready tells whether an item of an earlier note was still in the child when
// the note was opened.
func (r *Record) inAlready(it ItemView, note NoteID) bool {
	v, ok := r.NoteView(note)
	if !ok || it.Note == note || it.Withdrawn {
		return false
	}
	if listedIn, ok := r.NoteView(it.Note); ok && !earlier(listedIn, v) {
		return false
	} else if !ok && it.Clock > v.Clock {
		return false
	}
	was := newWay()
	for i := range it.Events {
		if e := &it.Events[i]; e.Note != note && e.Happened.Before(v.Happened) { // else at this operation, or later
			was.take(e)
		}
	}
	return was.where.In()
}

func earlier(a, b NoteView) bool {
	return cmp.Or(a.Happened.Instant().Compare(b.Happened.Instant()), cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.ID, b.ID)) < 0
}

// Earlier lists the items of earlier notes that were still in the child when the
// note was opened: where its list begins.
func (r *Record) Earlier(note NoteID) []schema.Item {
	whole := r.Whole(note)
	if whole == nil {
		return nil
	}
	return slices.DeleteFunc(whole.Items(), func(i schema.Item) bool {
		v, ok := r.Item(ItemID(i.ID))
		return !ok || v.Note == note
	})
}

// stayOf counts the discharges before an event: tags are used again only in the
// next stay.
func (r *Record) stayOf(e *Event) int {
	n := 0
	for _, d := range r.kinds[KindDischarged] {
		if before(&d.Event, e) < 0 {
			n++
		}
	}
	return n
}

// NextTag is the tag for the next item listed: the first after those used in this
// stay that nothing still in the child bears. A new stay begins at 1 again.
func (r *Record) NextTag() int {
	stay := len(r.kinds[KindDischarged])
	last := 0
	taken := map[int]bool{}
	for _, v := range r.listing() {
		if v.stay == stay {
			last = max(last, slices.Max(v.Tags))
		}
		if !v.Withdrawn && v.Where.In() {
			for _, tag := range v.Tags {
				taken[tag] = true
			}
		}
	}
	for _, it := range r.items { // tags that were in force once are not used again either
		for _, e := range it.tags.all {
			if r.stayOf(&e.Event) != stay {
				continue
			}
			switch b := e.body.(type) {
			case *itemListed:
				last = max(last, b.Tag)
			case *itemRetagged:
				last = max(last, b.Tag)
			}
		}
	}
	for last++; taken[last]; last++ {
	}
	return last
}

// Twins lists the tags that stand on more than one item: within a stay, or on
// things that are in the child at once.
func (r *Record) Twins() map[int][]ItemID {
	by := map[int][]ItemView{}
	for _, v := range r.listing() {
		if v.Withdrawn {
			continue
		}
		for _, tag := range v.Tags {
			by[tag] = append(by[tag], v)
		}
	}
	out := map[int][]ItemID{}
	for tag, vs := range by {
		for i, v := range vs {
			for _, w := range vs[:i] {
				if v.stay != w.stay && !(v.Where.In() && w.Where.In()) {
					continue
				}
				for _, id := range []ItemID{w.ID, v.ID} {
					if !slices.Contains(out[tag], id) {
						out[tag] = append(out[tag], id)
					}
				}
			}
		}
		slices.Sort(out[tag])
	}
	return out
}
