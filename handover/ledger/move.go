package ledger

import (
	"encoding/json"
	"maps"
	"slices"

	"fairlead/schema"
)

// goesAlong tells whether an event of the kind belongs to what a note says, and moves
// with it to another child. A name under it moves too, and counts on neither side: it
// stays on record with the child it was put under.
func goesAlong(kind string) bool {
	switch kind {
	case KindCaseOpened, KindCasesJoined, KindCasesParted, KindRetracted, KindRetractionWithdrawn, KindOffered, KindOfferAnswered, KindDischarged,
		KindRoundOpened, KindRoundClosed:
		return false
	}
	return true
}

// CanMove tells whether an event of the kind can be taken over from another child. A signature cannot: what
// was signed is signed anew. A thing gets its tag when it is taken over.
func CanMove(kind string) bool {
	return goesAlong(kind) && !lasting(kind) && kind != KindAmended && kind != KindItemRetagged
}

// IsSignature tells whether an event of the kind is a name under something.
func IsSignature(kind string) bool {
	return kind == KindNoteSigned || kind == KindSectionSigned || kind == KindCheckClosed
}

// itemOf is the item an event is about, or "".
func (r *Record) itemOf(e *entry) ItemID {
	if b, ok := e.body.(*differenceSettled); ok && r.all[b.Check] != nil {
		e = r.all[b.Check]
	}
	switch b := e.body.(type) {
	case *registered:
		return b.Item
	case *itemChecked:
		return b.Item
	}
	return changeOf(e).Item
}

// rowOf is the row that an event adds, removes or says something in, or nil.
func (r *Record) rowOf(e *entry) *row {
	switch b := e.body.(type) {
	case *rowChange:
		return r.rows[slotKey{rowSlot, r.scope(schema.RowPath(b.List, b.Row, "x"), e.Note), string(b.List) + "." + b.Row}]
	case *fieldBody:
		if list := b.path.List(); list != "" && list != itemsSection {
			return r.rows[slotKey{rowSlot, r.scope(b.path, e.Note), string(list) + "." + b.path.Row()}]
		}
	}
	return nil
}

// GoesAlong lists what moves with events that were entered on the wrong child, by clock:
// themselves, with a row what is in it, with a thing all that was said of it, with a
// note all that was said in it and of what it lists, by whomever it was said. A row of
// which everything moves goes too.
func (r *Record) GoesAlong(events []EventID) []EventID {
	ticked, notes, items, rows := map[EventID]bool{}, map[NoteID]bool{}, map[ItemID]bool{}, map[*row]bool{}
	for _, id := range events {
		ticked[id] = true
	}
	counts := func(e *entry) bool {
		return r.cases[e.Case] && e.how == read && goesAlong(e.Kind) && !r.isVoid(e)
	}
	in := func(e *entry) bool {
		return ticked[e.ID] || e.Note != "" && notes[e.Note] || items[r.itemOf(e)] || rows[r.rowOf(e)]
	}
	for grown := true; grown; {
		was := len(notes) + len(items) + len(rows)
		for _, e := range r.all {
			if !counts(e) || !in(e) {
				continue
			}
			switch b := e.body.(type) {
			case *noteOpened:
				notes[e.Note] = true
			case *itemListed:
				items[b.Item] = true
			case *rowChange:
				if rw := r.rowOf(e); rw != nil && e.Kind == KindRowAdded {
					rows[rw] = true
				}
			case *fieldBody:
				if rw := r.rowOf(e); rw != nil && !slices.ContainsFunc(rw.fields, func(s *slot) bool { return slices.ContainsFunc(s.now(), func(f *entry) bool { return !in(f) }) }) {
					rows[rw] = true
				}
			case *registered:
				if b.For != "" && items[b.Item] { // what took its place
					items[b.For] = true
				}
			}
		}
		grown = len(notes)+len(items)+len(rows) > was
	}
	var out []*entry
	for _, e := range r.all {
		if counts(e) && in(e) {
			out = append(out, e)
		}
	}
	return idsOf(sortedEntries(out))
}

// MoveToOther retracts what was entered on the wrong child, with all that goes along,
// and offers it to another. It returns an event for each of the two records, to be kept
// together. Nothing of the other child changes until somebody there takes the offer.
func (w *Writer) MoveToOther(r *Record, events []EventID, other CaseID, why string) []Event {
	ids := r.GoesAlong(events)
	if len(ids) == 0 {
		return nil
	}
	if w.action == nil {
		w = w.Together()
	}
	moved := map[EventID]bool{}
	for _, id := range ids {
		moved[id] = true
	}
	o := offered{From: w.child, Why: why}
	for _, id := range ids {
		e := r.all[id].Event
		if before := r.replacedAmong(r.all[id], moved); before != nil {
			e.Body = edited(e.Body, map[string]any{"replaces": before})
		}
		o.Events = append(o.Events, e)
	}
	listed := o.lists()
	for _, id := range ids {
		if v, ok := r.Item(r.itemOf(r.all[id])); ok && !listed[v.ID] {
			listed[v.ID] = true
			o.Things = append(o.Things, Thing{v.ID, v.Kind, v.Tag})
		}
	}
	offer := w.For(other).event("", KindOffered, o)
	offer.V = 2
	return []Event{w.event("", KindRetracted, retracted{Events: ids, Why: why, OfferedTo: other, Offer: offer.ID}), offer}
}

// replacedAmong lists which of the events moved an event replaces, also through others
// that are not moved; nil if it speaks in no register.
func (r *Record) replacedAmong(e *entry, moved map[EventID]bool) []EventID {
	s := r.slotOf(e)
	if s == nil {
		return nil
	}
	out, seen := []EventID{}, map[EventID]bool{}
	for todo := []*entry{e}; len(todo) > 0; todo = todo[1:] {
		for _, was := range r.replacedIn(s, todo[0]) {
			switch {
			case seen[was.ID]:
			case moved[was.ID]:
				out = append(out, was.ID)
			default:
				todo = append(todo, was)
			}
			seen[was.ID] = true
		}
	}
	return out
}

// Into is where what is offered goes: the note for what did not come with its own, and,
// for things that stand listed on the other child alone, the things here.
type Into struct {
	Note  NoteID
	Items map[ItemID]ItemID
}

// taking copies what is offered into a record.
type taking struct {
	w     *Writer
	r     *Record
	there *Record // what is offered
	into  Into
	notes map[NoteID]bool     // that come with it, or came
	items map[ItemID]bool     // the same of things
	at    map[EventID]EventID // the copy of each event
	begun map[slotKey]bool    // registers that the copies have spoken in
	rows  map[string]bool     // rows that the copies have made
	tags  map[int]bool        // given here
	out   []Event
}

// TakeOffer makes the events that take an offer over as far as it can stand here, and
// the answer to it, written into both records. What was entered keeps who entered it
// and when it was so. What is here already is not entered again; what cannot stand here
// stays offered. left says how much that is.
func (w *Writer) TakeOffer(r *Record, o Offer, into Into) (events []Event, left int) {
	if w.action == nil {
		w = w.Together()
	}
	t := taking{w: w, r: r, there: o.There(), into: into, notes: map[NoteID]bool{}, items: map[ItemID]bool{}, at: map[EventID]EventID{}, begun: map[slotKey]bool{}, rows: map[string]bool{}, tags: map[int]bool{}}
	for _, e := range r.all {
		if e.First.Event != "" && !r.isVoid(e) {
			t.at[e.First.Event] = e.ID
		}
	}
	all := sortedEntries(slices.Collect(maps.Values(t.there.all)))
	for _, e := range all {
		switch b := e.body.(type) {
		case *noteOpened:
			t.notes[e.Note] = true
		case *itemListed:
			t.items[b.Item] = true
		}
	}
	var taken, open []EventID
	for _, now := range r.Offers() { // it may have been answered since it was shown
		if now.Event == o.Event {
			open = now.Left
		}
	}
	if len(open) == 0 {
		return nil, 0
	}
	for _, e := range all {
		if !slices.Contains(open, e.ID) || e.how != read {
			continue
		}
		if t.copy(e) {
			taken = append(taken, e.ID)
		} else {
			left++
		}
	}
	if len(taken) == 0 && left > 0 {
		return nil, left
	}
	return append(t.out, w.AnswerOffer(o, true, taken)...), left
}

// AnswerOffer takes or refuses an offer, all that is left of it or those of its events.
// It returns an event for each of the two records.
func (w *Writer) AnswerOffer(o Offer, taken bool, events []EventID) []Event {
	if w.action == nil {
		w = w.Together()
	}
	b := offerAnswered{Offer: o.Event, Taken: taken, Events: events, With: o.From}
	there := b
	there.With = w.child
	return []Event{w.event("", KindOfferAnswered, b), w.For(o.From).event("", KindOfferAnswered, there)}
}

// item is the thing here that an event of the offer is about; "" if there is none.
func (t *taking) item(id ItemID) ItemID {
	if to := t.into.Items[id]; to != "" {
		return to
	}
	if _, here := t.r.Item(id); here || t.items[id] {
		return id
	}
	return ""
}

// note is the note here in which an event of the offer stands; ok is false if none was
// named.
func (t *taking) note(e *entry) (note NoteID, ok bool) {
	switch {
	case e.Note == "" || t.notes[e.Note]:
		return e.Note, true
	case t.into.Note != "":
		return t.into.Note, true
	}
	_, listed := e.body.(*registered)
	return "", listed
}

// copy enters one event of the offer here. It tells whether it stands here now.
func (t *taking) copy(e *entry) bool {
	r, w := t.r, t.w
	note, ok := t.note(e)
	item := t.there.itemOf(e)
	if item != "" {
		if item = t.item(item); item == "" {
			return false
		}
	}
	body := map[string]any{}
	slot := slotKey{}
	switch b := e.body.(type) {
	case *fieldBody:
		p := onItem(b.path, item)
		scope := r.scope(p, note)
		if p.Section() != itemsSection {
			note = scope
		}
		if b.entry.Cleared() && len(t.mapped(b.replaces)) == 0 {
			return true // nothing was taken back here
		}
		if !ok && r.scope(p, "note") != "" || item == "" && !t.fits(scope, p) {
			return false
		}
		if now := r.fieldSlot(scope, p).now(); len(now) == 1 && !t.begun[slotKey{fieldSlot, scope, string(p)}] && len(b.replaces) == 0 && now[0].body.(*fieldBody).entry.Same(b.entry) {
			t.at[e.ID] = now[0].ID
			return true // it stands here already
		}
		if list, id := p.List(), p.Row(); list != "" && list != itemsSection {
			t.row(scope, list, id)
		}
		slot = slotKey{fieldSlot, scope, string(p)}
		body["path"], body["origin"] = p, Origin{How: HowOffered}
	case *rowChange:
		list := onItem(b.List, item)
		at := schema.RowPath(list, b.Row, "x")
		scope := r.scope(at, note)
		if !ok && r.scope(at, "note") != "" || item == "" && !t.fits(scope, list) {
			return false
		}
		note = scope
		if e.Kind == KindRowAdded {
			t.clearStated(scope, list)
		}
		t.rows[string(scope)+string(list)+b.Row] = true
		slot = slotKey{rowSlot, scope, string(list) + "." + b.Row}
		body["list"] = list
		if b.Saw != nil {
			body["saw"] = t.mapped(b.Saw)
		}
	case *itemListed:
		if !ok {
			return false
		}
		slot = slotKey{presenceSlot, "", string(item)}
		body["tag"] = t.tag(b.Tag)
		if it := r.items[item]; it != nil {
			body["retags"] = idsOf(it.tags.now())
		}
	case *itemWithdrawn:
		slot = slotKey{presenceSlot, "", string(item)}
		body["saw"] = t.mapped(b.Saw)
	case *itemChecked:
		if !ok || note == "" {
			return false
		}
		slot = slotKey{checkSlot, note, string(b.Occasion) + "|" + string(item)}
	case *questionAnswered:
		if !ok {
			return false
		}
		slot = slotKey{answerSlot, note, b.Rule + "|" + string(b.Path)}
	case *differenceSettled:
		if t.at[b.Check] == "" {
			return false
		}
		body["check"] = t.at[b.Check]
	case *registered:
		if b.Round != "" {
			body["round"] = nil
		}
		if b.For != "" {
			if body["for"] = t.item(b.For); body["for"] == ItemID("") {
				return false
			}
		}
	case *noteOpened:
		if v, here := r.NoteView(e.Note); here && v.Kind == b.Kind && !r.openingVoid(e.Note) {
			return true
		}
	}
	if _, speaks := e.body.(*fieldBody); item != "" && !speaks && body["list"] == nil && body["check"] == nil {
		body["item"] = item
	}
	if slot.kind != 0 {
		replaces := t.mapped(e.replaces())
		if len(replaces) == 0 || !t.begun[slot] { // it takes the place of what stands here
			for _, c := range r.slots[slot].now() {
				if b, check := c.body.(*itemChecked); !check || b.Answer == NoAnswer { // two answers are for a person to settle
					replaces = append(replaces, c.ID)
				}
			}
		}
		t.begun[slot] = true
		body["replaces"] = replaces
	}
	fresh := w.At(e.Happened).event(note, e.Kind, edited(e.Body, body))
	fresh.V, fresh.First = e.V, First{Case: e.Case, Event: e.ID, Author: e.by(), Entered: e.Entered}
	t.at[e.ID] = fresh.ID
	t.out = append(t.out, fresh)
	return true
}

// row makes the row that a value stands in, if nothing else does.
func (t *taking) row(note NoteID, list schema.Path, id string) {
	key := string(note) + string(list) + id
	if t.rows[key] || t.r.rows[slotKey{rowSlot, note, string(list) + "." + id}] != nil {
		return
	}
	t.rows[key] = true
	t.clearStated(note, list)
	t.out = append(t.out, t.w.event(note, KindRowAdded, rowChange{List: list, Row: id}))
}

// clearStated takes back an answer such as "none" beside which a row is to stand.
func (t *taking) clearStated(note NoteID, list schema.Path) {
	key := slotKey{fieldSlot, t.r.scope(schema.RowPath(list, "x", "x"), note), string(list)}
	if t.begun[key] {
		return
	}
	if slices.ContainsFunc(t.r.Values(note, list), func(v Value) bool { return !v.Cleared() }) {
		t.begun[key] = true
		t.out = append(t.out, t.w.Set(t.r, note, list, Entry{}))
	}
}

// fits tells whether a note here has a place of that path.
func (t *taking) fits(note NoteID, p schema.Path) bool {
	if note == "" || t.notes[note] {
		return true
	}
	n := t.r.Whole(note)
	return n != nil && n.FieldAt(p) != nil && slices.ContainsFunc(schema.SectionsOf(n.Kind()), func(s *schema.Section) bool { return s.Name == p.Section() })
}

// mapped are the copies of events, as far as they have one.
func (t *taking) mapped(ids []EventID) []EventID {
	out := []EventID{}
	for _, id := range ids {
		if to := t.at[id]; to != "" {
			out = append(out, to)
		}
	}
	return out
}

// tag is the tag a thing wore on the other child, if it is free here: then the flag on
// the child need not be changed.
func (t *taking) tag(was int) int {
	used, next := t.r.usedTags(), t.r.NextTag()
	for was <= 0 || used[was] || t.tags[was] {
		was = next
		next++
	}
	t.tags[was] = true
	return was
}

// usedTags are the tags that were given in this stay, or are on something still in.
func (r *Record) usedTags() map[int]bool {
	used, stay := map[int]bool{}, len(r.kinds[KindDischarged])
	for _, v := range r.listing() {
		for _, tag := range v.Tags {
			used[tag] = used[tag] || v.stay == stay || !v.Withdrawn && v.Where.In()
		}
	}
	return used
}

// onItem is a path of another item in place of that of an item.
func onItem(p schema.Path, item ItemID) schema.Path {
	if item == "" || p.Section() != itemsSection {
		return p
	}
	was := p.Item()
	return schema.Path(itemsSection+"."+string(item)) + p[len(itemsSection)+1+len(was):]
}

// Move is what was entered here by mistake and offered to another child.
type Move struct {
	Retraction EventID
	Offer      EventID // "" in records of the first release: what became of it is not told
	To         CaseID
	Count      int
	Why        string
	Author     Author
	At         schema.Moment
	Became     string // "" while nobody has answered; else one of the next
	By         Author // who answered there
	Answered   schema.Moment
}

// What can have become of a move.
const (
	MoveTaken   = "taken"
	MoveInPart  = "taken in part"
	MoveRefused = "refused"
)

// Moves lists what was moved to other children and not brought back, by clock.
func (r *Record) Moves() []Move {
	var out []Move
	for _, e := range sortedEntries(r.kinds[KindRetracted]) {
		b := e.body.(*retracted)
		if b.OfferedTo == "" || r.retractionWithdrawn(e.ID) {
			continue
		}
		m := Move{Retraction: e.ID, Offer: b.Offer, To: b.OfferedTo, Count: len(b.Events), Why: b.Why, Author: e.Author, At: e.Happened}
		m.Became, m.By, m.Answered = r.became(b)
		out = append(out, m)
	}
	return out
}

// became is what was answered on the other child, as it was written here.
func (r *Record) became(b *retracted) (became string, by Author, at schema.Moment) {
	taken := map[EventID]bool{}
	for _, e := range sortedEntries(r.kinds[KindOfferAnswered]) {
		a := e.body.(*offerAnswered)
		if b.Offer == "" || a.Offer != b.Offer {
			continue
		}
		by, at = e.Author, e.Happened
		switch {
		case a.Undone:
			became, by, at = "", Author{}, schema.Moment{}
			clear(taken)
			continue
		case !a.Taken && len(taken) > 0:
			became = MoveInPart
			continue
		case !a.Taken:
			became = MoveRefused
			continue
		}
		for _, id := range a.Events {
			taken[id] = true
		}
		became = MoveTaken
		for _, id := range b.Events {
			if t := r.all[id]; len(a.Events) > 0 && t != nil && CanMove(t.Kind) && !taken[id] {
				became = MoveInPart
			}
		}
	}
	return became, by, at
}

// BringBack takes a move back that nobody took over: it counts here again, and is
// offered there no more.
func (w *Writer) BringBack(r *Record, retraction EventID, why string) []Event {
	e := r.all[retraction]
	if e == nil || e.Kind != KindRetracted {
		return nil
	}
	if w.action == nil {
		w = w.Together()
	}
	out := []Event{w.WithdrawRetraction(e.Note, e.ID, why)}
	if b := e.body.(*retracted); b.Offer != "" {
		out = append(out, w.For(b.OfferedTo).event("", KindOfferAnswered, offerAnswered{Offer: b.Offer, Undone: true, With: e.Case}))
	}
	return out
}

// edited is a body with some of its members set, or left out where they are nil; what
// this version does not know of it stays.
func edited(body json.RawMessage, members map[string]any) json.RawMessage {
	all := map[string]json.RawMessage{}
	if err := json.Unmarshal(body, &all); err != nil {
		return body // it was read before
	}
	for name, v := range members {
		ids, list := v.([]EventID)
		text, err := json.Marshal(v)
		if delete(all, name); v != nil && err == nil && (!list || len(ids) > 0) {
			all[name] = text
		}
	}
	out, err := json.Marshal(all)
	if err != nil {
		return body
	}
	return out
}

// movedFaults lists what counts on two children: it was brought back here or there while
// it was taken over on another device.
func (r *Record) movedFaults() []Fault {
	taken, back := map[EventID][]EventID{}, map[EventID]bool{}
	for _, e := range sortedEntries(r.kinds[KindOfferAnswered]) {
		switch b := e.body.(*offerAnswered); {
		case b.Undone && r.answersHere(e):
			back[b.Offer] = true
		case b.Undone:
			delete(taken, b.Offer)
		case b.Taken:
			taken[b.Offer] = append(taken[b.Offer], e.ID)
		}
	}
	for _, e := range r.kinds[KindRetracted] {
		if b := e.body.(*retracted); b.Offer != "" && r.retractionWithdrawn(e.ID) {
			back[b.Offer] = true
		}
	}
	var out []Fault
	for _, offer := range slices.Sorted(maps.Keys(taken)) {
		ids := taken[offer]
		if !back[offer] || r.Settled(ids[len(ids)-1]) != nil {
			continue
		}
		out = append(out, Fault{RuleMovedTwice, ids, "What was moved between two children was taken over on the one and brought back on the other: it counts on both.",
			"Decide whose it is, take it off the other child there, and say here that it is settled."})
	}
	return out
}
