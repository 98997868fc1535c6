package ledger

import (
	"encoding/json"
	"slices"

	"fairlead/schema"
)

// act is one action of a person: an event that stands alone, or several together.
type act struct {
	id     EventID
	undoes EventID // the action it takes back
	of     *act    // that action
	events []*entry
}

// who is a person at one tab.
type who struct {
	writer WriterID
	author Author
}

// past is what one person at one tab did: what can be undone, the last one last,
// and the undoings that can be redone.
type past struct {
	acts         map[EventID]*act
	last         *entry
	done, undone []*act
}

// add takes in the next event of that person.
func (p *past) add(e *entry) {
	p.last = e
	if e.Kind == KindNoteSigned || e.Kind == KindSectionSigned || e.Kind == KindCheckClosed {
		p.acts, p.done, p.undone = map[EventID]*act{}, nil, nil // behind a signature nothing is undone
		return
	}
	if a := p.acts[e.action()]; a != nil {
		a.events = append(a.events, e)
		return
	}
	a := &act{id: e.action(), undoes: e.Undoes, events: []*entry{e}}
	p.acts[a.id] = a
	d, u := len(p.done)-1, len(p.undone)-1
	switch {
	case a.undoes == "":
		p.done, p.undone = append(p.done, a), nil
	case d >= 0 && p.done[d].id == a.undoes:
		a.of = p.done[d]
		p.done, p.undone = p.done[:d], append(p.undone, a)
	case u >= 0 && p.undone[u].id == a.undoes:
		p.done, p.undone = append(p.done, p.undone[u].of), p.undone[:u] // done again, it is the first action once more
	}
}

// pastOf is what this writer and author did. It is worked out once and then
// followed; an event that belongs further back makes it be worked out again.
func (r *Record) pastOf(w who) *past {
	if p := r.pasts[w]; p != nil {
		return p
	}
	var mine []*entry
	for _, e := range r.all {
		if e.Writer == w.writer && e.Author == w.author && r.cases[e.Case] && e.how == read {
			mine = append(mine, e)
		}
	}
	p := &past{acts: map[EventID]*act{}}
	for _, e := range sortedEntries(mine) {
		p.add(e)
	}
	r.pasts[w] = p
	return p
}

// follow takes a fresh event into the past of whoever wrote it.
func (r *Record) follow(e *entry) {
	w := who{e.Writer, e.Author}
	p := r.pasts[w]
	switch {
	case p == nil || !r.cases[e.Case] || e.how != read:
	case p.last != nil && before(&p.last.Event, &e.Event) > 0:
		delete(r.pasts, w)
	default:
		p.add(e)
	}
}

// lastOf is the last of a list of acts, or nil.
func lastOf(acts []*act) *act {
	if len(acts) == 0 {
		return nil
	}
	return acts[len(acts)-1]
}

// Undo makes the events that take back the last action of this writer and author.
// ok is false if there is none, if somebody has since replaced what it did, or if
// they have signed since: what is signed is changed by entering it anew.
func (w *Writer) Undo(r *Record) (events []Event, ok bool) {
	return w.takeBack(r, lastOf(r.pastOf(who{w.id, w.author}).done))
}

// Redo makes the events that take back the last undoing, if this writer and author
// did nothing since.
func (w *Writer) Redo(r *Record) (events []Event, ok bool) {
	return w.takeBack(r, lastOf(r.pastOf(who{w.id, w.author}).undone))
}

// CanUndo and CanRedo tell whether there is something to take back. They make no
// events.
func (w *Writer) CanUndo(r *Record) bool {
	return r.untouched(lastOf(r.pastOf(who{w.id, w.author}).done))
}

// CanRedo tells whether Redo would do something.
func (w *Writer) CanRedo(r *Record) bool {
	return r.untouched(lastOf(r.pastOf(who{w.id, w.author}).undone))
}

// standing lists the events that the event in force stands for: itself, or, if it
// restored something, what it restored. Undoing goes back through those.
func (r *Record) standing(s *slot, e *entry, deep int) []*entry {
	if e.Undoes == "" || deep > 200 {
		return []*entry{e}
	}
	var out []*entry
	for _, took := range s.all {
		if took.action() != e.Undoes {
			continue
		}
		for _, was := range r.replacedIn(s, took) {
			if sameContent(was, e) {
				out = append(out, r.standing(s, was, deep+1)...)
			}
		}
	}
	return out
}

// replacedIn lists the events of the same register that an event replaces.
func (r *Record) replacedIn(s *slot, e *entry) []*entry {
	var out []*entry
	for _, id := range s.replaces(e) {
		if was := r.all[id]; was != nil && was != e && was.how == read && r.slotOf(was) == s {
			out = append(out, was)
		}
	}
	return out
}

// sameContent tells, of two events of one register, whether the one may be the
// other restored.
func sameContent(a, b *entry) bool {
	switch b.body.(type) {
	case *rowChange, *itemWithdrawn:
		return a.Kind == b.Kind
	}
	x, ok1 := a.body.(*fieldBody)
	y, ok2 := b.body.(*fieldBody)
	return !ok1 || !ok2 || x.entry.Same(y.entry)
}

// inForce is the event that stands for e in its register now, or nil.
func (r *Record) inForce(s *slot, e *entry) *entry {
	first := r.standing(s, e, 0)
	for _, c := range s.now() {
		if c == e {
			return c
		}
		if stands := r.standing(s, c, 0); len(first) > 0 && !slices.ContainsFunc(first, func(f *entry) bool { return !slices.Contains(stands, f) }) {
			return c
		}
	}
	return nil
}

// untouched tells whether everything an action did is still in force and can be
// taken back.
func (r *Record) untouched(a *act) bool {
	if a == nil {
		return false
	}
	own := r.replacedWithin(a)
	for _, e := range a.events {
		s := r.slotOf(e)
		switch {
		case own[e.ID]:
			continue
		case s != nil:
			if r.inForce(s, e) == nil {
				return false
			}
		case e.Kind == KindRetracted:
			if became, _, _ := r.became(e.body.(*retracted)); r.retractionWithdrawn(e.ID) || became == MoveTaken || became == MoveInPart {
				return false // what another child has is not counted here too
			}
		case e.Kind == KindRetractionWithdrawn:
			for _, id := range r.takenBackBy(e) {
				if t := r.all[id]; t != nil && r.isVoid(t) {
					return false
				}
			}
		case !retractable(e.Kind) || r.isVoid(e), e.Kind == KindOfferAnswered && !r.answersHere(e):
			return false
		}
		// What somebody else said inside a row or of an item stays; so then does
		// the row or the item.
		var inside []*slot
		switch b := e.body.(type) {
		case *rowChange:
			inside = r.rows[s.key].fields
		case *itemListed:
			inside = slices.Concat(r.onItem[b.Item], r.items[b.Item].checks, []*slot{r.items[b.Item].tags})
		}
		if e.Kind != KindRowAdded && e.Kind != KindItemListed {
			continue
		}
		for _, f := range inside {
			for _, v := range f.now() {
				if v.Writer != e.Writer || v.Author != e.Author {
					return false
				}
			}
		}
	}
	return true
}

// replacedWithin lists the events of an action that others of it replace: a value taken
// over from another child comes with those before it.
func (r *Record) replacedWithin(a *act) map[EventID]bool {
	var out map[EventID]bool
	for _, e := range a.events {
		if s := r.slotOf(e); s != nil {
			for _, was := range r.replacedIn(s, e) {
				if was.action() == e.action() {
					if out == nil {
						out = map[EventID]bool{}
					}
					out[was.ID] = true
				}
			}
		}
	}
	return out
}

// replacedBefore lists the events that an event, and those of its action that it
// replaces, took the place of.
func (r *Record) replacedBefore(s *slot, e *entry, deep int) (out []*entry) {
	for _, was := range r.replacedIn(s, e) {
		switch {
		case was.action() != e.action() || deep > 200:
			if !slices.Contains(out, was) {
				out = append(out, was)
			}
		default:
			for _, x := range r.replacedBefore(s, was, deep+1) {
				if !slices.Contains(out, x) {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// answersHere tells whether an answer is to an offer made to this child, and not the
// word of it that was written into the record the offer came from.
func (r *Record) answersHere(e *entry) bool {
	o := r.all[e.body.(*offerAnswered).Offer]
	return o != nil && r.cases[o.Case]
}

// takenBackBy lists what the retractions that an event withdraws had retracted.
func (r *Record) takenBackBy(e *entry) []EventID {
	var out []EventID
	for _, id := range e.body.(*retracted).Events {
		if t := r.all[id]; t != nil && t.Kind == KindRetracted && t.how == read {
			out = append(out, t.body.(*retracted).Events...)
		}
	}
	return out
}

func (r *Record) retractionWithdrawn(id EventID) bool {
	return slices.ContainsFunc(r.kinds[KindRetractionWithdrawn], func(e *entry) bool {
		return slices.Contains(e.body.(*retracted).Events, id)
	})
}

// retractable tells whether undoing an event of the kind is retracting it.
func retractable(kind string) bool {
	switch kind {
	case KindNoteOpened, KindDifferenceSettled, KindAmended, KindPlaced, KindConfirmed, KindChecked, KindMoved, KindRemoved, KindExchanged,
		KindCutLeft, KindLost, KindToTheatre, KindGoneHome, KindDischarged, KindOfferAnswered, KindOutputRead, KindPressureRead, KindWiresTested,
		KindConnected, KindDisconnected, KindProblem, KindTransferred, KindNeedAnswered, KindRoundOpened, KindRoundClosed:
		return true
	}
	return false
}

// slotOf is the register an event speaks in, or nil.
func (r *Record) slotOf(e *entry) *slot {
	switch b := e.body.(type) {
	case *fieldBody:
		return r.fieldSlot(e.Note, b.path)
	case *rowChange:
		return r.slots[slotKey{rowSlot, r.scope(schema.RowPath(b.List, b.Row, "x"), e.Note), string(b.List) + "." + b.Row}]
	case *itemListed:
		return r.slots[slotKey{presenceSlot, "", string(b.Item)}]
	case *itemWithdrawn:
		return r.slots[slotKey{presenceSlot, "", string(b.Item)}]
	case *itemRetagged:
		return r.slots[slotKey{tagSlot, "", string(b.Item)}]
	case *itemChecked:
		return r.checkSlot(e.Note, b.Occasion, b.Item)
	case *questionAnswered:
		return r.slots[slotKey{answerSlot, e.Note, b.Rule + "|" + string(b.Path)}]
	case *joined:
		return r.slots[linkKey(e.Case, b.Other)]
	}
	return nil
}

// takeBack makes the events that restore what stood before an action, marked with
// the action they undo.
func (w *Writer) takeBack(r *Record, a *act) ([]Event, bool) {
	if !r.untouched(a) {
		return nil, false
	}
	w = w.Together()
	var out []Event
	own := r.replacedWithin(a)
	gone := map[string]bool{} // rows and items that the action made: what is in them goes with them
	for _, e := range a.events {
		switch b := e.body.(type) {
		case *itemListed:
			gone[string(b.Item)] = true
		case *rowChange:
			if e.Kind == KindRowAdded {
				gone[b.Row] = true
			}
		}
	}
	for i := len(a.events) - 1; i >= 0; i-- {
		e := a.events[i]
		if own[e.ID] {
			continue
		}
		if b, ok := e.body.(*fieldBody); ok && (gone[b.path.Row()] || gone[b.path.Item()]) {
			continue
		}
		out = append(out, w.For(e.Case).restore(r, e)...)
	}
	for i := range out {
		out[i].Undoes = a.id
	}
	return out, len(out) > 0
}

// restore makes the events that restore what an event replaced.
func (w *Writer) restore(r *Record, e *entry) []Event {
	self := []EventID{e.ID}
	var before []*entry
	if s := r.slotOf(e); s != nil {
		self = []EventID{r.inForce(s, e).ID}
		before = r.replacedBefore(s, e, 0)
	}
	switch b := e.body.(type) {
	case *fieldBody:
		if len(before) == 0 {
			return []Event{w.set(e.Note, b.path, Entry{}, self, r)}
		}
		var out []Event
		for _, was := range before { // a settled disagreement is one again
			out = append(out, w.set(e.Note, b.path, was.body.(*fieldBody).entry, self, r))
		}
		return out
	case *rowChange:
		if len(before) == 0 {
			if e.Kind == KindRowRemoved {
				return []Event{w.event(e.Note, KindRowAdded, rowChange{List: b.List, Row: b.Row, Replaces: self})}
			}
			return []Event{w.event(e.Note, KindRowRemoved, rowChange{List: b.List, Row: b.Row, Replaces: self, Saw: seen(r.rows[r.slotOf(e).key].fields)})}
		}
		var out []Event
		for _, was := range before {
			out = append(out, w.event(e.Note, was.Kind, rowChange{List: b.List, Row: b.Row, Replaces: self, Saw: was.saw()}))
		}
		return out
	case *itemListed:
		it := r.items[b.Item]
		if len(before) == 0 {
			c := itemWithdrawn{Item: b.Item, Why: "undone", Replaces: self, Saw: append(seen(slices.Concat(r.onItem[b.Item], it.checks)), idsOf(it.register)...)}
			return []Event{w.event(e.Note, KindItemWithdrawn, c)}
		}
		return w.listedBefore(r, e, b.Item, before, self)
	case *itemWithdrawn:
		return w.listedBefore(r, e, b.Item, before, self)
	case *itemRetagged:
		var out []Event
		for _, was := range before {
			switch p := was.body.(type) {
			case *itemListed:
				out = append(out, w.event(e.Note, KindItemRetagged, itemRetagged{b.Item, p.Tag, self}))
			case *itemRetagged:
				out = append(out, w.event(e.Note, KindItemRetagged, itemRetagged{b.Item, p.Tag, self}))
			}
		}
		return out
	case *itemChecked:
		if len(before) == 0 {
			return []Event{w.event(e.Note, KindItemChecked, itemChecked{Item: b.Item, Occasion: b.Occasion, Replaces: self})}
		}
		return w.again(before, e, self)
	case *questionAnswered:
		if len(before) == 0 {
			return []Event{w.event(e.Note, KindQuestionAnswered, questionAnswered{Rule: b.Rule, Path: b.Path, Replaces: self})}
		}
		return w.again(before, e, self)
	case *joined:
		kind := KindCasesParted
		if e.Kind == KindCasesParted {
			kind = KindCasesJoined
		}
		out := []Event{w.event("", kind, joined{b.Other, "undone", idsOf(r.link(e.Case, b.Other).now())})}
		if !r.cases[b.Other] { // parted: the other half of the action is not among ours
			out = append(out, w.For(b.Other).event("", kind, joined{e.Case, "undone", idsOf(r.link(e.Case, b.Other).now())}))
		}
		return out
	case *retracted:
		if e.Kind == KindRetractionWithdrawn {
			var out []Event
			for _, id := range b.Events { // what had been moved is moved again
				if t := r.all[id]; t != nil && t.Kind == KindRetracted && t.how == read && t.body.(*retracted).Offer != "" {
					was := t.body.(*retracted)
					out = append(out, w.MoveToOther(r, was.Events, was.OfferedTo, was.Why)...)
				}
			}
			if len(out) > 0 {
				return out
			}
			return []Event{w.Retract(e.Note, r.takenBackBy(e), "undone", "")}
		}
		return w.BringBack(r, e.ID, "undone")
	case *offerAnswered:
		out := []Event{w.Retract(e.Note, self, "undone", "")}
		if b.With != "" {
			out = append(out, w.For(b.With).event("", KindOfferAnswered, offerAnswered{Offer: b.Offer, Undone: true, With: e.Case}))
		}
		return out
	case *registered, *roundClosed, *differenceSettled, *noteOpened, *amended, *empty:
		return []Event{w.Retract(e.Note, self, "undone", "")}
	}
	return nil
}

// listedBefore lists or withdraws an item as the events before said.
func (w *Writer) listedBefore(r *Record, e *entry, item ItemID, before []*entry, self []EventID) []Event {
	var out []Event
	for _, was := range before {
		if p, ok := was.body.(*itemWithdrawn); ok {
			out = append(out, w.event(e.Note, KindItemWithdrawn, itemWithdrawn{Item: item, Why: p.Why, Replaces: self, Saw: p.Saw}))
			continue
		}
		v, ok := r.Item(item)
		if !ok {
			continue
		}
		out = append(out, w.event(v.Note, KindItemListed, itemListed{item, v.Kind, v.Tag, self, idsOf(r.items[item].tags.now())}))
	}
	return out
}

// again says what was said before, in place of e.
func (w *Writer) again(before []*entry, e *entry, replaces []EventID) []Event {
	var out []Event
	for _, was := range before {
		var body map[string]json.RawMessage
		if json.Unmarshal(was.Body, &body) != nil {
			continue
		}
		self, err := json.Marshal(replaces)
		if err != nil {
			continue
		}
		body["replaces"] = self
		out = append(out, w.event(e.Note, e.Kind, body))
	}
	return out
}
