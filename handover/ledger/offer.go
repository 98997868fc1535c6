package ledger

import (
	"encoding/json"
	"fmt"
	"slices"

	"fairlead/schema"
)

// Offer is what was entered on another child first and is offered here.
type Offer struct {
	Event  EventID
	From   CaseID
	Why    string
	Author Author
	At     schema.Moment
	Left   []EventID // what of it is not here yet, by clock
	Events []Event   // all of it as it stood there, by clock
	Things []Thing   // that it is about, and that did not come along
}

// Thing is something listed on the other child, with the tag it has there.
type Thing struct {
	Item ItemID `json:"item"`
	Kind string `json:"kind"`
	Tag  int    `json:"tag"`
}

// Notes are the notes that an offer brings whole; asks tells whether something of it is of
// another note: into which it goes here must be said.
func (o Offer) Notes() (whole []NoteID, asks bool) {
	for _, e := range o.Events {
		if e.Kind == KindNoteOpened {
			whole = append(whole, e.Note)
		}
	}
	r := o.There()
	for _, id := range o.Left {
		e := r.all[id]
		if e == nil || e.Note == "" || slices.Contains(whole, e.Note) {
			continue
		}
		switch b := e.body.(type) {
		case *fieldBody:
			asks = asks || r.scope(b.path, e.Note) != ""
		case *rowChange:
			asks = asks || r.scope(schema.RowPath(b.List, b.Row, "x"), e.Note) != ""
		case *itemListed, *itemChecked, *questionAnswered:
			asks = true
		}
	}
	return whole, asks
}

// lists are the things that the events list.
func (o *offered) lists() map[ItemID]bool {
	out := map[ItemID]bool{}
	for _, e := range o.Events {
		var b struct{ Item ItemID }
		if e.Kind == KindItemListed && json.Unmarshal(e.Body, &b) == nil {
			out[b.Item] = true
		}
	}
	return out
}

// There is what is offered as a record of its own: as it stood on the other child.
func (o Offer) There() *Record { return FoldCase(o.From, o.Events) }

// offers lists every offer, answered or not, by clock.
func (r *Record) offers() []Offer {
	taken, closed := map[EventID]bool{}, map[EventID]bool{}
	for _, e := range r.kinds[KindOfferAnswered] {
		b := e.body.(*offerAnswered)
		if b.Undone || !b.Taken || len(b.Events) == 0 {
			closed[b.Offer] = true
		}
		if !b.Taken {
			continue
		}
		for _, id := range b.Events {
			taken[id] = true
		}
	}
	var out []Offer
	for _, e := range sortedEntries(r.kinds[KindOffered]) {
		b := e.body.(*offered)
		o := Offer{Event: e.ID, From: b.From, Why: b.Why, Author: e.Author, At: e.Happened, Things: b.Things}
		for i, x := range b.Events {
			if x.Case = b.From; x.ID == "" { // of the first version
				x.ID, x.Note, x.Clock, x.Happened, x.Entered = firstID(e, i), NoteID(e.ID), e.Clock, e.Happened, e.Entered
				if b.again[i] > 0 {
					x.Body = edited(x.Body, map[string]any{"replaces": []EventID{firstID(e, b.again[i]-1)}})
				}
			}
			o.Events = append(o.Events, x)
			if CanMove(x.Kind) && !taken[x.ID] && !closed[e.ID] {
				o.Left = append(o.Left, x.ID)
			}
		}
		out = append(out, o)
	}
	return out
}

// firstID names a value of an offer of the first version, which had no name.
func firstID(offer *entry, i int) EventID { return EventID(fmt.Sprintf("%s/%04d", offer.ID, i)) }

// Offers lists the offers of which something is neither taken nor refused, by clock.
func (r *Record) Offers() []Offer {
	var out []Offer
	for _, o := range r.offers() {
		if len(o.Left) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// SignedThere lists the names that stood under a note while it was on another child.
// They do not hold here: what was signed is signed anew.
func (r *Record) SignedThere(note NoteID) []Said {
	var out []Said
	for _, o := range r.offers() {
		for _, e := range o.Events {
			if IsSignature(e.Kind) && e.Note == note && len(o.Left) < len(o.Events) {
				for _, s := range o.There().Account() {
					if IsSignature(s.Kind) && s.Note == note {
						out = append(out, s)
					}
				}
				break
			}
		}
	}
	return out
}

// readOfferedSets reads version 1, which had values alone: each is an event of its own,
// without an id until it is known in which offer it stands.
func readOfferedSets(b json.RawMessage) (any, error) {
	var old offeredSets
	if err := json.Unmarshal(b, &old); err != nil {
		return nil, err
	}
	out, at := &offered{From: old.From, Why: old.Why}, map[schema.Path]int{}
	for _, s := range old.Sets {
		if _, err := readEntry(s.Value, s.Decimal, s.Stated, s.Bound); err != nil || !placeable(s.Path) {
			continue
		}
		body, err := json.Marshal(fieldSet{Path: s.Path, Value: s.Value, Decimal: s.Decimal, Stated: s.Stated, Bound: s.Bound})
		if err != nil {
			return nil, err
		}
		out.again = append(out.again, at[s.Path])
		out.Events = append(out.Events, Event{Author: s.Author, Kind: KindFieldSet, V: 1, Body: body})
		at[s.Path] = len(out.Events)
	}
	return out, nil
}
