// Package widgets draws one field of a note, whatever it holds, in every state
// it can be in: empty, filled, none, not known, not measured, two answers that
// disagree, asked about, wrong, being typed, locked by a signature, changed
// after it.
//
// The key type is [Field]: all that a reader sees of a field, as data. [Slot] is
// the component that draws one; the framework compares its fields and leaves a
// slot alone whose Field did not change, so a keystroke costs one slot. What a
// person does goes to [Actions]; nothing is decided here.
//
//	widgets.Slot{Field: f, Do: screen}.UI()
package widgets

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/schema"
)

// Field is one field as it is shown now.
type Field struct {
	Def *schema.Field
	At  schema.Path // the concrete path
	Off bool        // it does not apply: only its place is kept

	Text   string   // what stands in the entry, typed or recorded
	Bound  string   // "<", ">" or ""
	Chosen []string // what is chosen, of choices, items, "yes" and "no"
	Stated string   // the answer that is not a value
	Shown  string   // what a reader sees of it elsewhere
	Typing bool     // what stands in the entry is not an entry in the record yet

	Wanted  bool   // this kind of note wants it
	Locked  bool   // it cannot be changed here
	More    bool   // the other answers are open
	Wrong   string // why what was typed is not taken, and what to do
	Note    string // something to know about it, such as "next day"
	Origin  string // where the value came from, if it was not typed here
	Changed string // it was changed after the signature: when and by whom

	Words    []Word    // what the checks say of it
	Versions []Version // two or more answers, given apart
	Items    []Choice  // for a reference: what is listed
	Picks    []Choice  // quick to pick with one thumb
	Day      string    // for a moment: the date that goes with the time
	Readings []Choice  // for a moment: the two times it can mean
	Rows     []Row
}

// Word is one thing the checks say of a field.
type Word struct {
	Rule     string
	Severity schema.Severity
	What, Do string
	Answer   string // what a person answered, if it was a question
	Asking   bool   // the place for the answer is open
}

// Version is one of several answers that disagree.
type Version struct {
	Shown string
	By    string // name and role
	When  string
}

// Choice is one thing to choose.
type Choice struct {
	Value, Words string
	Tag          int // of an item; 0 none
}

// Row is one entry of a list.
type Row struct {
	ID      string
	Title   string // "Bypass runs 2"
	Summary string
	Open    bool
	Fields  []Field
	Marks   Marks
}

// Marks counts what is wrong, asked and missing in a part of the note.
type Marks struct{ Errors, Questions, Missing, Disagreements int }

// Any tells whether there is anything to see to.
func (m Marks) Any() bool { return m != Marks{} }

// Actions is what a person can do to a field. Every call is made on the user
// interface's own goroutine.
type Actions interface {
	Type(ctx app.Context, at schema.Path, text string)  // text in progress
	Leave(ctx app.Context, at schema.Path)              // what was typed is meant
	Pick(ctx app.Context, at schema.Path, value string) // one choice, at once
	Choose(ctx app.Context, at schema.Path, values []string, settled bool)
	// Toggle takes one choice of several, or takes it back.
	Toggle(ctx app.Context, at schema.Path, value string, on bool)
	State(ctx app.Context, at schema.Path, answer string) // "" takes it back
	SetBound(ctx app.Context, at schema.Path, bound string)
	Clear(ctx app.Context, at schema.Path)
	TypeDay(ctx app.Context, at schema.Path, text string)
	Now(ctx app.Context, at schema.Path)
	Read(ctx app.Context, at schema.Path, moment string) // one of the readings
	Open(ctx app.Context, at schema.Path, open bool)     // the other answers
	Settle(ctx app.Context, at schema.Path, version int)
	Ask(ctx app.Context, at schema.Path, rule string, open bool)
	Because(at schema.Path, rule, why string)  // a reason in progress; "" forgets it
	Reason(at schema.Path, rule string) string // the one in progress
	Answer(ctx app.Context, at schema.Path, rule, why string)
	Account(ctx app.Context, at schema.Path) // who entered what there, and when
	AddRow(ctx app.Context, list schema.Path)
	RemoveRow(ctx app.Context, list schema.Path, row string)
	OpenRow(ctx app.Context, list schema.Path, row string, open bool)
}

// ID is the id of the element that holds a field; links to a field go there.
func ID(at schema.Path) string { return "f-" + strings.ReplaceAll(string(at), ".", "-") }

func part(letter string, at schema.Path) string {
	return letter + "-" + strings.ReplaceAll(string(at), ".", "-")
}

// EntryID is the id of the element one types or chooses in.
func EntryID(at schema.Path) string { return part("e", at) }

// drawn counts the slots drawn, for the test that holds their cost.
var drawn int

// DayID is the id of the element one types the date of a moment in.
func DayID(at schema.Path) string { return part("d", at) }

// Slot is the place of one field on a screen.
type Slot struct {
	app.Compo
	Field Field
	Do    Actions
}

// UI returns the slot as a part of a screen.
func (s Slot) UI() app.UI { return &s }

// CompoID keeps one field's elements from being used for another.
func (s *Slot) CompoID() string { return string(s.Field.At) }

// Render draws the field.
func (s *Slot) Render() app.UI {
	drawn++
	return safe.Drawn("field "+string(s.Field.Def.Path), func() app.UI { return draw(&s.Field, s.Do) })
}
