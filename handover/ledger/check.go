package ledger

import (
	"cmp"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Occasion is when the items are checked at the bed.
type Occasion string

const (
	Leaving Occasion = "leaving" // on leaving theatre
	Arrival Occasion = "arrival" // on arrival in intensive care
)

// Answer is what was found of one item.
type Answer string

const (
	Found     Answer = "found"
	Differs   Answer = "differs"
	NotFound  Answer = "not found"
	Extra     Answer = "extra"          // found, and not listed
	CannotSee Answer = "cannot see now" // with a reason and a time to look again
	Inside    Answer = "inside"         // not to be seen: accounted for by count or X-ray
	NoAnswer  Answer = ""               // an answer taken back
)

// Difference is one thing that differs from what is listed.
type Difference struct {
	Field   string `json:"field"` // the attribute's name, or "other"
	Sheet   string `json:"sheet"` // as the sheet has it, in words
	Bedside string `json:"bedside"`
}

// CheckView is the answer in force about one item on one occasion.
type CheckView struct {
	Item        ItemID
	Occasion    Occasion
	Answer      Answer
	Differs     []Difference
	Note        string // the checker's words
	LookAgainBy schema.Moment
	Event       EventID
	Author      Author
	Happened    schema.Moment
	Clock       Clock

	Several bool        // two people answered differently, each without seeing the other's answer
	Others  []CheckView // those other answers
	Settled *Settlement // how the difference was settled, or nil
}

// Settlement says how a difference was settled, or who signed for it.
type Settlement struct {
	Event  EventID
	How    string
	By     string // who answers for it, if not the author
	Author Author
	At     schema.Moment
}

// Unsettled tells whether the answer leaves something open that must be settled
// or signed for before the tally balances.
func (c CheckView) Unsettled() bool {
	if c.Several {
		return true
	}
	switch c.Answer {
	case Differs, NotFound, Extra:
		return c.Settled == nil
	case CannotSee:
		return c.Settled == nil && (c.Note == "" || c.LookAgainBy.IsZero())
	}
	return false
}

// Checks lists the answers in force on an occasion of a note, by clock. An answer
// taken back is left out.
func (r *Record) Checks(note NoteID, occasion Occasion) []CheckView {
	var out []CheckView
	for _, it := range r.items {
		if c, ok := r.Check(note, occasion, it.id); ok {
			out = append(out, c)
		}
	}
	sorting.By(out, func(a, b CheckView) int {
		return cmp.Or(cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.Event, b.Event))
	})
	return out
}

// Check is the answer in force about one item.
func (r *Record) Check(note NoteID, occasion Occasion, item ItemID) (CheckView, bool) {
	now := r.checkSlot(note, occasion, item).now()
	if len(now) == 0 {
		return CheckView{}, false
	}
	views := make([]CheckView, len(now))
	for i, e := range now {
		views[i] = r.checkView(e)
	}
	v := views[len(views)-1]
	for _, o := range views[:len(views)-1] {
		if !sameCheck(o, v) {
			v.Several = true
			v.Others = append(v.Others, o)
		} else if v.Settled == nil {
			v.Settled = o.Settled
		}
	}
	return v, v.Answer != NoAnswer || v.Several
}

func sameCheck(a, b CheckView) bool {
	return a.Answer == b.Answer && slices.Equal(a.Differs, b.Differs)
}

func (r *Record) checkSlot(note NoteID, occasion Occasion, item ItemID) *slot {
	return r.slots[slotKey{checkSlot, note, string(occasion) + "|" + string(item)}]
}

func (r *Record) checkView(e *entry) CheckView {
	b := e.body.(*itemChecked)
	v := CheckView{Item: b.Item, Occasion: b.Occasion, Answer: b.Answer, Differs: b.Differs, Note: b.Note, LookAgainBy: b.LookAgainBy,
		Event: e.ID, Author: e.by(), Happened: e.Happened, Clock: e.Clock}
	v.Settled = r.Settled(e.ID)
	if b.Answer == NotFound && v.Settled == nil {
		v.Settled = r.leftSince(&v)
	}
	return v
}

// leftSince is how a thing that was not found left, if that was said since: it answers.
func (r *Record) leftSince(c *CheckView) (s *Settlement) {
	item, _ := r.Item(c.Item)
	for i := range item.Events {
		x := &item.Events[i]
		if x.Leaves != "" && x.Leaves != InChild && x.Clock > c.Clock {
			s = &Settlement{x.Event, string(x.Leaves) + ", " + x.When(), "", x.Author, x.Happened}
		}
	}
	return s
}

// Counts is the tally in numbers. Listed is the sum of the next six when every
// item has one clear answer; extras stand apart.
type Counts struct {
	Listed     int `json:"listed"`
	Found      int `json:"found"`
	Differs    int `json:"differs"`
	NotFound   int `json:"notFound"`
	CannotSee  int `json:"cannotSee"`
	Inside     int `json:"inside"`
	Unanswered int `json:"unanswered"`
	Extra      int `json:"extra"`
}

// Tally is how the check of a note's items stands on one occasion.
type Tally struct {
	Counts     Counts
	Listed     []ItemID // what is to be answered, by tag
	Unanswered []ItemID // by tag
	Unsettled  []ItemID // differences, extras and double answers neither settled nor signed for
	LookAgain  []ItemID // not to be seen now, each with a time
	Extra      []ItemID // found and not listed, by clock
	Balances   bool     // every item has an answer and nothing is unsettled
}

// Bedside tells whether items of a kind are looked for at the bed. What is in the
// child for good is not.
func Bedside(kind string) bool {
	k := schema.ItemKindNamed(kind)
	return k == nil || k.Group != "implants"
}

// Tally counts the answers of one occasion. What is listed is every item in the
// child that is looked for at the bed: this note's, and earlier ones still in;
// once answered, an item counts even after it has come out.
func (r *Record) Tally(note NoteID, occasion Occasion) Tally {
	var t Tally
	var extras []CheckView
	view, _ := r.NoteView(note)
	for _, v := range r.Items() {
		c, answered := r.Check(note, occasion, v.ID)
		if v.Withdrawn || !Bedside(v.Kind) {
			continue
		}
		if answered && c.Answer == Extra && !c.Several {
			if c.Settled == nil { // listed since: that settles it
				c.Settled = &Settlement{Event: v.Listed, How: "listed since", Author: v.Author, At: v.Happened}
			}
			extras = append(extras, c)
			continue
		}
		if !answered && !r.expected(v, view) {
			continue
		}
		t.Listed = append(t.Listed, v.ID)
		if !answered {
			t.Unanswered = append(t.Unanswered, v.ID)
			continue
		}
		switch {
		case c.Several:
		case c.Answer == Found:
			t.Counts.Found++
		case c.Answer == Differs:
			t.Counts.Differs++
		case c.Answer == NotFound:
			t.Counts.NotFound++
		case c.Answer == Inside:
			t.Counts.Inside++
		case c.Answer == CannotSee:
			t.Counts.CannotSee++
			t.LookAgain = append(t.LookAgain, v.ID)
		}
		if c.Unsettled() {
			t.Unsettled = append(t.Unsettled, v.ID)
		}
	}
	for id, it := range r.items {
		if all, _ := partition(it.presence.all, KindItemListed); len(all) > 0 {
			continue
		}
		if c, ok := r.Check(note, occasion, id); ok {
			extras = append(extras, c)
		}
	}
	sorting.By(extras, func(a, b CheckView) int {
		return cmp.Or(cmp.Compare(a.Clock, b.Clock), cmp.Compare(a.Event, b.Event))
	})
	for _, c := range extras {
		t.Extra = append(t.Extra, c.Item)
		if c.Unsettled() {
			t.Unsettled = append(t.Unsettled, c.Item)
		}
	}
	t.Counts.Listed, t.Counts.Unanswered, t.Counts.Extra = len(t.Listed), len(t.Unanswered), len(t.Extra)
	t.Balances = len(t.Unanswered) == 0 && len(t.Unsettled) == 0
	return t
}

// expected tells whether an item without an answer is to be looked for after the
// note's operation.
func (r *Record) expected(v ItemView, note NoteView) bool {
	if !v.Where.AtBedside() {
		return false
	}
	if v.Note == note.ID {
		return true
	}
	return r.inAlready(v, note.ID)
}

// Closing is a name under a tally.
type Closing struct {
	Event             EventID
	Occasion          Occasion
	Author            Author
	At                schema.Moment
	Clock             Clock
	Counts            Counts
	SignedDifferences []EventID // the answers signed for as they stand
	Changed           bool      // an answer or an item changed after
}

// Closings lists who closed the check of an occasion, by clock.
func (r *Record) Closings(note NoteID, occasion Occasion) []Closing {
	var out []Closing
	var ids []EventID
	for _, e := range sortedEntries(r.kinds[KindCheckClosed]) {
		b := e.body.(*checkClosed)
		if e.Note != note || b.Occasion != occasion {
			continue
		}
		if ids == nil {
			ids = r.checkEvents(note, occasion)
		}
		out = append(out, Closing{e.ID, occasion, e.Author, e.Happened, e.Clock, b.Tally, b.SignedDifferences, !b.covers(ids)})
	}
	return out
}

// checkEvents are the events a name under a tally covers: the answers, how
// differences were settled, and the items listed.
func (r *Record) checkEvents(note NoteID, occasion Occasion) []EventID {
	var out []EventID
	answers := map[EventID]bool{}
	for _, e := range r.kinds[KindItemChecked] {
		if b := e.body.(*itemChecked); e.Note == note && b.Occasion == occasion {
			answers[e.ID] = true
			out = append(out, e.ID)
		}
	}
	for _, e := range r.kinds[KindDifferenceSettled] {
		if answers[e.body.(*differenceSettled).Check] {
			out = append(out, e.ID)
		}
	}
	for _, kind := range []string{KindItemListed, KindItemWithdrawn, KindItemRetagged} {
		for _, e := range r.kinds[kind] {
			if e.Note == note {
				out = append(out, e.ID)
			}
		}
	}
	return out
}

func sortedEntries(es []*entry) []*entry {
	es = slices.Clone(es)
	inOrder(es)
	return es
}
