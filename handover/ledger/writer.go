package ledger

import (
	"encoding/json"
	"slices"
	"time"

	"fairlead/schema"
)

// Writer makes the events of one person at one open tab or program. It reads the
// record only to name what is replaced; it stores nothing: give its events to a
// Log, and to [Record.Apply] once they are kept. A Writer is not safe for
// concurrent use; the copies that As, At and Together make share its clock.
type Writer struct {
	child    CaseID
	id       WriterID
	author   Author
	clock    *Generator
	ids      *IDs
	now      func() schema.Moment
	happened schema.Moment // zero: now
	action   *EventID      // shared by the events of one action
}

// NewWriter makes events for one child. The wall clock stands behind clock, the
// randomness behind ids, and now is the civil time; none is read elsewhere.
func NewWriter(child CaseID, id WriterID, author Author, clock *Generator, ids *IDs, now func() schema.Moment) *Writer {
	return &Writer{child: child, id: id, author: author, clock: clock, ids: ids, now: now}
}

// NewWriterAt is a writer with clock and identifiers of its own.
func NewWriterAt(child CaseID, author Author, wall func() time.Time, ids *IDs, now func() schema.Moment) *Writer {
	return NewWriter(child, WriterID(ids.New()), author, NewGenerator(wall), ids, now)
}

// As is the writer for another person at the same tab.
func (w *Writer) As(a Author) *Writer { c := *w; c.author = a; return &c }

// At is the writer for what happened at another time than now.
func (w *Writer) At(happened schema.Moment) *Writer { c := *w; c.happened = happened; return &c }

// For is the writer for another child.
func (w *Writer) For(child CaseID) *Writer { c := *w; c.child = child; return &c }

// Together is the writer for one action of several events, which are undone
// together: a pasted blood gas, an item with its attributes.
func (w *Writer) Together() *Writer { c := *w; c.action = new(EventID); return &c }

// ID, Author and Case are who writes, and about whom.
func (w *Writer) ID() WriterID   { return w.id }
func (w *Writer) Author() Author { return w.author }
func (w *Writer) Case() CaseID   { return w.child }

// Observe takes note of events from elsewhere, so that later events of this writer
// come after them. It returns those whose clock is too far ahead to follow.
func (w *Writer) Observe(events ...Event) (ahead []Event) {
	for _, e := range events {
		if w.clock.Observe(e.Clock) {
			ahead = append(ahead, e)
		}
	}
	return ahead
}

// NewNote and NewItem are fresh identifiers.
func (w *Writer) NewNote() NoteID { return NoteID(w.ids.New()) }
func (w *Writer) NewItem() ItemID { return ItemID(w.ids.New()) }

// NewRow is a fresh identifier of a row.
func (w *Writer) NewRow() string { return w.ids.New() }

func (w *Writer) event(note NoteID, kind string, body any) Event {
	b, err := json.Marshal(body)
	if err != nil {
		panic("ledger: a body that JSON cannot hold: " + err.Error())
	}
	at := w.now()
	e := Event{ID: EventID(w.ids.New()), Case: w.child, Note: note, Writer: w.id, Clock: w.clock.Next(), Author: w.author,
		Happened: at, Entered: at, Kind: kind, V: 1, Body: b}
	if !w.happened.IsZero() {
		e.Happened = w.happened
	}
	if w.action != nil {
		if *w.action == "" {
			*w.action = e.ID
		}
		e.Action = *w.action
	}
	return e
}

// OpenCase begins a child's record.
func (w *Writer) OpenCase() Event { return w.event("", KindCaseOpened, empty{}) }

// OpenNote begins a note.
func (w *Writer) OpenNote(note NoteID, kind schema.Kind) Event {
	return w.event(note, KindNoteOpened, noteOpened{kind})
}

// Set enters something at a path, in place of what the record shows there. An
// entry without a value or an answer takes back what stood there.
func (w *Writer) Set(r *Record, note NoteID, p schema.Path, in Entry) Event {
	return w.set(note, p, in, idsOf(r.fieldSlot(note, p).now()), r)
}

// SetSeen is Set by somebody who began before all that stands there had come: what
// was not seen stays in force beside what is entered, until one is chosen.
func (w *Writer) SetSeen(r *Record, note NoteID, p schema.Path, in Entry, seen []EventID) Event {
	replaces := slices.DeleteFunc(idsOf(r.fieldSlot(note, p).now()), func(id EventID) bool { return !slices.Contains(seen, id) })
	return w.set(note, p, in, replaces, r)
}

func (w *Writer) set(note NoteID, p schema.Path, in Entry, replaces []EventID, r *Record) Event {
	b, err := in.write()
	if err != nil {
		panic("ledger: a value that JSON cannot hold: " + err.Error())
	}
	b.Path, b.Replaces = p, replaces
	if p.Section() != itemsSection {
		note = r.scope(p, note)
	}
	return w.event(note, KindFieldSet, b)
}

// AddRow adds a row to a list, and takes back an answer such as "none" that stands
// there. It returns one event, or two as one action.
func (w *Writer) AddRow(r *Record, note NoteID, list schema.Path, id string) []Event {
	scope := r.scope(schema.RowPath(list, id, "x"), note)
	var out []Event
	if stated := r.Values(note, list); slices.ContainsFunc(stated, func(v Value) bool { return !v.Cleared() }) {
		if w.action == nil {
			w = w.Together()
		}
		out = append(out, w.Set(r, note, list, Entry{}))
	}
	var replaces []EventID
	if rw := r.rows[slotKey{rowSlot, scope, string(list) + "." + id}]; rw != nil {
		replaces = idsOf(rw.presence.now())
	}
	return append(out, w.event(scope, KindRowAdded, rowChange{List: list, Row: id, Replaces: replaces}))
}

// KeepRow says that a row which one removed and another changed is to stay.
func (w *Writer) KeepRow(r *Record, note NoteID, list schema.Path, id string) Event {
	es := w.AddRow(r, note, list, id)
	return es[len(es)-1]
}

// RemoveRow takes a row out of a list, with the values seen in it.
func (w *Writer) RemoveRow(r *Record, note NoteID, list schema.Path, id string) Event {
	scope := r.scope(schema.RowPath(list, id, "x"), note)
	b := rowChange{List: list, Row: id}
	if rw := r.rows[slotKey{rowSlot, scope, string(list) + "." + id}]; rw != nil {
		b.Replaces = idsOf(rw.presence.now())
		b.Saw = seen(rw.fields)
	}
	return w.event(scope, KindRowRemoved, b)
}

func seen(slots []*slot) []EventID {
	var out []EventID
	for _, s := range slots {
		out = append(out, idsOf(s.now())...)
	}
	slices.Sort(out)
	return out
}

// ListItem lists an item under a tag. Set its attributes with Set on
// schema.ItemPath.
func (w *Writer) ListItem(note NoteID, item ItemID, kind string, tag int) Event {
	return w.event(note, KindItemListed, itemListed{Item: item, Kind: kind, Tag: tag})
}

// KeepItem lists an item again that was withdrawn.
func (w *Writer) KeepItem(r *Record, item ItemID) (Event, bool) {
	v, ok := r.Item(item)
	if !ok {
		return Event{}, false
	}
	it := r.items[item]
	return w.event(v.Note, KindItemListed, itemListed{item, v.Kind, v.Tag, idsOf(it.presence.now()), idsOf(it.tags.now())}), true
}

// WithdrawItem says that an item was listed by mistake: it was never there.
func (w *Writer) WithdrawItem(r *Record, item ItemID, why string) Event {
	b := itemWithdrawn{Item: item, Why: why}
	var note NoteID
	if it := r.items[item]; it != nil {
		b.Replaces = idsOf(it.presence.now())
		b.Saw = append(seen(slices.Concat(r.onItem[item], it.checks)), idsOf(it.register)...)
		if v, ok := r.Item(item); ok {
			note = v.Note
		}
	}
	return w.event(note, KindItemWithdrawn, b)
}

// RetagItem gives an item another tag.
func (w *Writer) RetagItem(r *Record, item ItemID, tag int) Event {
	b := itemRetagged{Item: item, Tag: tag}
	var note NoteID
	if it := r.items[item]; it != nil {
		b.Replaces = idsOf(it.tags.now())
		if v, ok := r.Item(item); ok {
			note = v.Note
		}
	}
	return w.event(note, KindItemRetagged, b)
}

// Check answers for one item on one occasion. For something found and not listed,
// give it a fresh id with the answer Extra and words in Note; if it is listed
// later, under the same id.
func (w *Writer) Check(r *Record, note NoteID, c CheckView) Event {
	b := itemChecked{Item: c.Item, Occasion: c.Occasion, Answer: c.Answer, Differs: c.Differs, Note: c.Note, LookAgainBy: c.LookAgainBy,
		Replaces: idsOf(r.checkSlot(note, c.Occasion, c.Item).now())}
	return w.event(note, KindItemChecked, b)
}

// Settle says how the difference in an answer was settled, or that the named
// person signs for it and what was done. by is "" for the author.
func (w *Writer) Settle(note NoteID, check EventID, how, by string) Event {
	return w.event(note, KindDifferenceSettled, differenceSettled{check, how, by})
}

// CloseCheck puts the author's name under the tally of an occasion.
func (w *Writer) CloseCheck(r *Record, note NoteID, o Occasion) Event {
	b := checkClosed{Occasion: o, Tally: r.Tally(note, o).Counts, covered: cover(r.checkEvents(note, o))}
	for _, c := range r.Checks(note, o) {
		if c.Settled != nil {
			b.SignedDifferences = append(b.SignedDifferences, c.Event)
		}
	}
	return w.event(note, KindCheckClosed, b)
}

// AnswerQuestion answers a question that a rule asked about the paths. The answer
// stands while they hold what they hold now. An empty answer takes it back.
func (w *Writer) AnswerQuestion(r *Record, note NoteID, p schema.Problem, answer, why string) Event {
	b := questionAnswered{Rule: p.Rule, Path: p.Path, Answer: answer, Why: why, Saw: map[schema.Path]string{p.Path: r.holds(note, p.Path)},
		Replaces: idsOf(r.slots[slotKey{answerSlot, note, p.Rule + "|" + string(p.Path)}].now())}
	for _, o := range p.Others {
		b.Saw[o] = r.holds(note, o)
	}
	return w.event(note, KindQuestionAnswered, b)
}

// SignNote puts the author's typed name under the whole note as the record shows
// it, complete or with so many open items.
func (w *Writer) SignNote(r *Record, note NoteID, open int) Event {
	b := signed{How: SignedComplete, covered: cover(r.Covered(note, ""))}
	if open > 0 {
		b.How, b.Open = SignedOpen, open
	}
	return w.event(note, KindNoteSigned, b)
}

// SignSection puts the author's typed name under one section, or under "items".
func (w *Writer) SignSection(r *Record, note NoteID, section string) Event {
	return w.event(note, KindSectionSigned, signed{Section: section, covered: cover(r.Covered(note, section))})
}

// Amend says why a signed note is changed.
func (w *Writer) Amend(note NoteID, why string) Event {
	return w.event(note, KindAmended, amended{why})
}

// TellSheet says that a receiver was told again, of everything as it stands now.
func (w *Writer) TellSheet(r *Record, note NoteID, who string) Event {
	return w.event(note, KindSheetTold, signed{Who: who, covered: cover(r.Covered(note, ""))})
}

// Join says that another record is of the same child. It returns an event for each
// of the two records, to be kept together.
func (w *Writer) Join(r *Record, other CaseID, why string) []Event {
	return w.link(r, KindCasesJoined, other, why)
}

// Part says that the other record is not of this child after all.
func (w *Writer) Part(r *Record, other CaseID, why string) []Event {
	return w.link(r, KindCasesParted, other, why)
}

func (w *Writer) link(r *Record, kind string, other CaseID, why string) []Event {
	replaces := idsOf(r.link(w.child, other).now())
	w = w.Together()
	return []Event{
		w.event("", kind, joined{other, why, replaces}),
		w.For(other).event("", kind, joined{w.child, why, replaces}),
	}
}

// Retract says that events were entered by mistake: they no longer count, and stay
// on record. Use it for what was entered on the wrong child; see also Offer.
func (w *Writer) Retract(note NoteID, events []EventID, why string, offeredTo CaseID) Event {
	return w.event(note, KindRetracted, retracted{Events: events, Why: why, OfferedTo: offeredTo})
}

// WithdrawRetraction says that a retraction was the mistake.
func (w *Writer) WithdrawRetraction(note NoteID, retraction EventID, why string) Event {
	return w.event(note, KindRetractionWithdrawn, retracted{Events: []EventID{retraction}, Why: why})
}

// Register records what happened to an item: placed, moved, removed and so on.
func (w *Writer) Register(note NoteID, kind string, item ItemID, facts RegisterFacts) Event {
	return w.event(note, kind, registered{item, facts})
}

// Discharge ends the stay; the next stay may use its tags again. asked is what spoke
// against it, each with the answer that was given.
func (w *Writer) Discharge(asked ...Condition) Event {
	return w.event("", KindDischarged, discharged{asked})
}
