// Package demo is the invented children: one through all three stages with two
// operations in between, and two more for the list, one of them with a like name.
// Nothing in it is real. The same call gives the same events, byte for byte, so
// that loading it twice, or on two tablets, makes nothing double.
//
// The notes are those of testdata/notes, moved some years back so that none lies
// in the future; gen/ folds them into notes.json, which the screens fetch (demo.json)
// when someone asks for the children, and every other build has in it.
package demo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand"
	"slices"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Prefix begins the hospital number of every invented child.
const Prefix = "INVENTED"

// Of are the events of all the invented children, from their notes.
func Of(notesJSON []byte) ([]ledger.Event, error) {
	var files struct {
		Journey []json.RawMessage `json:"journey"`
		Others  []json.RawMessage `json:"others"`
	}
	if err := json.Unmarshal(notesJSON, &files); err != nil {
		return nil, fmt.Errorf("demo: notes.json: %w", err)
	}
	s := &story{random: rand.New(rand.NewSource(1))}
	if err := s.journey(files.Journey); err != nil {
		return nil, err
	}
	for i, raw := range files.Others {
		s.record, s.writer = nil, nil
		if err := s.other(raw, i); err != nil {
			return nil, err
		}
	}
	return s.events, nil
}

// story writes the events, its clock set by the notes themselves.
type story struct {
	random *rand.Rand
	at     schema.Moment
	record *ledger.Record
	writer *ledger.Writer
	events []ledger.Event
}

func (s *story) begin(child ledger.CaseID) {
	wall := func() time.Time { return s.at.Instant() }
	s.record = ledger.FoldCase(child, nil)
	s.writer = ledger.NewWriterAt(child, ledger.Author{}, wall, ledger.NewIDs(s.random, wall), func() schema.Moment { return s.at })
}

func (s *story) add(es ...ledger.Event) {
	s.record.Apply(es...)
	s.events = append(s.events, es...)
}

// journey is the child with all its notes. What is still in from before keeps its
// tag; what is not listed again came out in between.
func (s *story) journey(raws []json.RawMessage) error {
	var arrived schema.Moment // after the operation before
	for i, raw := range raws {
		n, err := read(raw)
		if err != nil {
			return err
		}
		if i == 0 {
			s.at, _ = n.Moment(schema.OperationIntoTheatre)
			s.begin(ledger.CaseID(n.Case()))
		}
		s.at, _ = n.Moment(schema.OperationIntoTheatre)
		if k := n.Kind(); i > 0 && (k == schema.Stage2 || k == schema.Stage3) {
			s.at = arrived
			s.home()
			s.at, _ = n.Moment(schema.OperationIntoTheatre)
		}
		if n, err = s.continued(n, raw); err != nil {
			return err
		}
		left, ok := n.Moment(schema.OperationLeftTheatre)
		if !ok {
			return fmt.Errorf("demo: the note %s does not say when theatre was left", n.Kind())
		}
		s.at = left
		surgeon := s.writer.As(ledger.Author{Name: n.Text(schema.OperationSurgeon), Role: "surgeon"})
		es := ledger.Enter(s.record, surgeon, n)
		s.events = append(s.events, es...)
		s.check(n, ledger.Leaving, ledger.Author{Name: n.Text(schema.OperationAnaesthetist), Role: "anaesthetist"})
		s.add(surgeon.SignNote(s.record, ledger.NoteID(n.ID()), 0))
		if at, ok := n.Moment(schema.ArrivalArrived); ok {
			s.at = at.Add(6 * time.Minute)
			arrived = s.at
			s.check(n, ledger.Arrival, ledger.Author{Name: n.Text(schema.ArrivalReceivedByNurse), Role: "intensive-care nurse"})
		}
	}
	return nil
}

// continued gives what is still in from earlier notes its own id and tag in this
// one; there it is not listed again. What this operation did not leave in came out
// at it. The rest gets the next tags.
func (s *story) continued(n *schema.Note, raw json.RawMessage) (*schema.Note, error) {
	type like struct{ kind, variety, side string }
	kindOf := func(it schema.Item) like { return like{it.Kind, it.Text("variety"), it.Text("side")} }
	before := map[like]ledger.ItemView{}
	for _, v := range s.record.ItemsIn() {
		if it, ok := s.record.Child().Item(string(v.ID)); ok && ledger.Bedside(v.Kind) {
			before[kindOf(it)] = v
		}
	}
	var kept []string
	for _, it := range n.Items() {
		if was, ok := before[kindOf(it)]; ok {
			raw = bytes.ReplaceAll(raw, []byte(it.ID), []byte(was.ID))
			kept = append(kept, string(was.ID))
			delete(before, kindOf(it))
		}
	}
	surgeon := s.writer.As(ledger.Author{Name: n.Text(schema.OperationSurgeon), Role: "surgeon"})
	for _, v := range s.record.ItemsIn() {
		for _, left := range before {
			if left.ID == v.ID {
				s.add(surgeon.Register("", ledger.KindRemoved, v.ID, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Bleeding: "no"}))
			}
		}
	}
	out, err := read(raw)
	if err != nil {
		return nil, err
	}
	for _, id := range kept {
		out.RemoveItem(id)
	}
	taken := map[int]bool{}
	for _, v := range s.record.ItemsIn() {
		taken[v.Tag] = true
	}
	next := s.record.NextTag()
	for _, it := range out.Items() {
		for taken[next] {
			next++
		}
		out.Set(it.Path("tag"), next)
		next++
	}
	return out, nil
}

// stay is on which day after arrival a thing came out in these stories, by its
// kind, and homeOn the day the child left. What is not named came out on the last.
var stay = [...][]string{
	1: {"airway"},
	2: {"arterial-line", "surface-probe", "inner-probe"},
	3: {"drain", "drain-chamber"},
	4: {"pacing-wires"},
	5: {"central-venous-line", "gut-and-bladder"},
	6: nil,
}

const homeOn = 9

// home ends a stay: all that is looked for at the bed came out day by day after
// arrival, and the next stay begins its tags anew.
func (s *story) home() {
	arrived := s.at
	nurse := s.writer.As(ledger.Author{Name: "P. Pretend", Role: "intensive-care nurse"})
	for day := 1; day < len(stay); day++ {
		s.at = arrived.Add(time.Duration(day) * 24 * time.Hour)
		for _, v := range s.record.ItemsIn() {
			if ledger.Bedside(v.Kind) && (slices.Contains(stay[day], v.Kind) || day == len(stay)-1) {
				s.at = s.at.Add(2 * time.Minute)
				s.add(nurse.Register("", ledger.KindRemoved, v.ID, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Bleeding: "no"}))
			}
		}
	}
	s.at = arrived.Add(homeOn * 24 * time.Hour)
	s.add(nurse.Discharge())
}

// check answers for every item on one occasion. On arrival after the first
// operation one thing differs and is settled, one is accounted for by count.
func (s *story) check(n *schema.Note, occasion ledger.Occasion, by ledger.Author) {
	w := s.writer.As(by)
	note := ledger.NoteID(n.ID())
	for _, id := range s.record.Tally(note, occasion).Listed {
		it, _ := s.record.Whole(note).Item(string(id))
		c := ledger.CheckView{Item: id, Occasion: occasion, Answer: ledger.Found}
		switch {
		case it.Text("state") == "inside-accounted":
			c.Answer, c.Note = ledger.Inside, "By count at sign-out"
		case n.Kind() == schema.Stage1 && occasion == ledger.Arrival && it.Kind == "airway":
			c.Answer = ledger.Differs
			c.Differs = []ledger.Difference{{Field: "depth", Sheet: schema.Show(schema.FieldAt(schema.ItemAirwayDepth), s.record.Whole(note), it.Path("depth")), Bedside: "10 cm"}}
		}
		e := w.Check(s.record, note, c)
		s.add(e)
		if c.Answer == ledger.Differs {
			s.add(w.Settle(note, e.ID, "Tube back to the mark and taped again; chest X-ray asked for", ""))
		}
	}
	s.add(w.CloseCheck(s.record, note, occasion))
}

// other is a child with one note just begun.
func (s *story) other(raw json.RawMessage, _ int) error {
	n, err := read(raw)
	if err != nil {
		return err
	}
	closed, ok := n.Moment(schema.OperationClosed)
	if !ok {
		return fmt.Errorf("demo: the note %s of another child does not say when the skin was closed", n.Kind())
	}
	s.at = closed
	s.begin(ledger.CaseID(n.Case()))
	w := s.writer.As(ledger.Author{Name: n.Text(schema.OperationSurgeon), Role: "surgeon"})
	s.events = append(s.events, ledger.Enter(s.record, w, n)...)
	return nil
}

func read(raw json.RawMessage) (*schema.Note, error) {
	n, _, err := schema.ParseNote(raw)
	if err != nil {
		return nil, fmt.Errorf("demo: %w", err)
	}
	return n, nil
}
