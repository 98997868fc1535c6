package ledger

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Author is who did what an event says. The name is typed and not authenticated.
type Author struct {
	Name string `json:"name"`
	Role string `json:"role,omitempty"`
}

func (a Author) String() string {
	switch {
	case a.Name == "":
		return "not known"
	case a.Role == "":
		return a.Name
	}
	return a.Name + " (" + a.Role + ")"
}

// Event is one thing that happened. It is never changed after it is written.
type Event struct {
	ID       EventID
	Case     CaseID
	Note     NoteID // "" if it is about the child
	Writer   WriterID
	Clock    Clock
	Author   Author
	Happened schema.Moment // when it was so
	Entered  schema.Moment // when it was entered
	Action   EventID       // the first event of the action it is a part of; "" if it stands alone
	Undoes   EventID       // the action it takes back; "" for most
	First    First         // where it was entered first, if that was on another child
	Kind     string
	V        int // the version of the body
	Body     json.RawMessage

	more map[string]json.RawMessage // members that this version does not know
}

// First is where, by whom and when something was entered that was taken over from
// another child. The event's own author is who took it over.
type First struct {
	Case    CaseID        `json:"case"`
	Event   EventID       `json:"event"`
	Author  Author        `json:"author"`
	Entered schema.Moment `json:"entered"`
}

// by is who said what an event says: of what was taken over, who entered it first.
func (e *Event) by() Author {
	if e.First.Author.Name != "" {
		return e.First.Author
	}
	return e.Author
}

// wire is an event as it is written.
type wire struct {
	ID       EventID         `json:"id"`
	Case     CaseID          `json:"case"`
	Note     NoteID          `json:"note,omitempty"`
	Writer   WriterID        `json:"writer"`
	Clock    Clock           `json:"clock"`
	Author   Author          `json:"author"`
	Happened schema.Moment   `json:"happened"`
	Entered  schema.Moment   `json:"entered"`
	Action   EventID         `json:"action,omitempty"`
	Undoes   EventID         `json:"undoes,omitempty"`
	First    First           `json:"first,omitzero"`
	Kind     string          `json:"kind"`
	V        int             `json:"v"`
	Body     json.RawMessage `json:"body"`
}

var wireNames = []string{"id", "case", "note", "writer", "clock", "author", "happened", "entered", "action", "undoes", "first", "kind", "v", "body"}

// MarshalJSON writes the event, with the members this version does not know.
func (e Event) MarshalJSON() ([]byte, error) {
	body := e.Body
	if len(body) == 0 {
		body = json.RawMessage("{}")
	}
	b, err := json.Marshal(wire{e.ID, e.Case, e.Note, e.Writer, e.Clock, e.Author, e.Happened, e.Entered, e.Action, e.Undoes, e.First, e.Kind, e.V, body})
	if err != nil || len(e.more) == 0 {
		return b, err
	}
	var out bytes.Buffer
	out.Write(b[:len(b)-1])
	for _, name := range slices.Sorted(maps.Keys(e.more)) {
		key, err := json.Marshal(name)
		if err != nil {
			return nil, err
		}
		out.WriteByte(',')
		out.Write(key)
		out.WriteByte(':')
		out.Write(e.more[name])
	}
	out.WriteByte('}')
	return out.Bytes(), nil
}

// UnmarshalJSON reads what MarshalJSON wrote. It judges the envelope; the body is
// read by the fold, so that a kind not known here is kept whole.
func (e *Event) UnmarshalJSON(b []byte) error {
	var all map[string]json.RawMessage
	if err := json.Unmarshal(b, &all); err != nil {
		return err
	}
	var w wire
	if err := json.Unmarshal(b, &w); err != nil {
		return err
	}
	*e = Event{ID: w.ID, Case: w.Case, Note: w.Note, Writer: w.Writer, Clock: w.Clock, Author: w.Author,
		Happened: w.Happened, Entered: w.Entered, Action: w.Action, Undoes: w.Undoes, First: w.First, Kind: w.Kind, V: w.V, Body: w.Body}
	for _, name := range wireNames {
		delete(all, name)
	}
	if len(all) > 0 {
		e.more = all
	}
	return e.Valid()
}

// Valid judges an event as far as every reader must: what is wrong with it, or nil.
// What the body says is judged by the fold.
func (e *Event) Valid() error {
	if err := e.validEnvelope(); err != nil {
		return err
	}
	body := bytes.TrimSpace(e.Body)
	if len(body) == 0 || body[0] != '{' || !json.Valid(body) {
		return fmt.Errorf("the body of event %s is not a JSON object", e.ID)
	}
	return nil
}

func (e *Event) validEnvelope() error {
	_, _, clock := e.Clock.parts()
	switch {
	case !isID(string(e.ID)):
		return fmt.Errorf("the event's id %q is not a UUID", clip(string(e.ID)))
	case !isID(string(e.Case)):
		return fmt.Errorf("the child's id %q of event %s is not a UUID", clip(string(e.Case)), e.ID)
	case e.Note != "" && !isID(string(e.Note)):
		return fmt.Errorf("the note's id %q of event %s is not a UUID", clip(string(e.Note)), e.ID)
	case !isID(string(e.Writer)):
		return fmt.Errorf("the writer's id %q of event %s is not a UUID", clip(string(e.Writer)), e.ID)
	case e.Action != "" && !isID(string(e.Action)), e.Undoes != "" && !isID(string(e.Undoes)):
		return fmt.Errorf("event %s names an action whose id is not a UUID", e.ID)
	case !clock:
		return fmt.Errorf("the clock %q of event %s is not twelve hexadecimal digits, a point and four more", clip(string(e.Clock)), e.ID)
	case e.First != (First{}) && (!isID(string(e.First.Case)) || e.First.Author.Name == ""):
		return fmt.Errorf("event %s does not say on whom and by whom it was entered first", e.ID)
	case e.Kind == "":
		return fmt.Errorf("event %s does not say its kind", e.ID)
	case e.V < 1:
		return fmt.Errorf("event %s does not say the version of its body", e.ID)
	case e.Happened.IsZero(), e.Entered.IsZero():
		return fmt.Errorf("event %s does not say when it happened and when it was entered", e.ID)
	}
	return nil
}

// envelope is the event without its body, comparable.
func (e *Event) envelope() any {
	type envelope struct {
		id, action, undoes EventID
		child              CaseID
		note               NoteID
		writer             WriterID
		clock              Clock
		author             Author
		happened, entered  schema.Moment
		first              First
		kind               string
		v                  int
	}
	return envelope{e.ID, e.Action, e.Undoes, e.Case, e.Note, e.Writer, e.Clock, e.Author, e.Happened, e.Entered, e.First, e.Kind, e.V}
}

// action is the id under which the event is undone.
func (e *Event) action() EventID { return cmp.Or(e.Action, e.ID) }

// canonical writes an event so that two of them are the same exactly if the text
// is: members sorted, spaces gone.
func canonical(e Event) (string, error) {
	b, err := json.Marshal(e)
	if err != nil {
		return "", err
	}
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.UseNumber()
	var v any
	if err := dec.Decode(&v); err != nil {
		return "", err
	}
	b, err = json.Marshal(v)
	return string(b), err
}

// SameEvent tells whether two events say the same, whatever the order of members.
func SameEvent(a, b Event) bool {
	if a.ID != b.ID {
		return false
	}
	if len(a.more) == 0 && len(b.more) == 0 && a.envelope() == b.envelope() && bytes.Equal(a.Body, b.Body) {
		return true
	}
	x, err1 := canonical(a)
	y, err2 := canonical(b)
	return err1 == nil && err2 == nil && x == y
}

// before orders events for display: by clock, then by id, so that it is total.
func before(a, b *Event) int {
	if c := cmp.Compare(a.Clock, b.Clock); c != 0 {
		return c
	}
	return cmp.Compare(a.ID, b.ID)
}

// Sort orders events for display and for files: by clock, then by id.
func Sort(events []Event) {
	sorting.By(events, func(a, b Event) int { return before(&a, &b) })
}

// inOrder sorts entries the same way.
func inOrder(es []*entry) {
	if len(es) > 1 {
		sorting.By(es, func(a, b *entry) int { return before(&a.Event, &b.Event) })
	}
}

// errBody says that a body cannot be read; the event is kept and counted.
var errBody = errors.New("the body cannot be read")
