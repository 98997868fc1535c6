package calc

import (
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// ID names a result: "surface-area".
type ID string

// Formula is how a result was computed.
type Formula struct {
	Name   string // "Mosteller"
	Text   string // "√(height × weight / 3600)"
	Source string
}

// Input is one value a result was computed from, and where it came from: a field
// of the note with the time it was entered and by whom, or a setting of the unit
// profile.
type Input struct {
	Name    string
	Shown   string
	Path    schema.Path
	At      string // when it was entered, for people; "" if not known here
	By      string // who entered it
	Setting profile.ID
}

// Wanted is an input that is missing, doubtful or refused. While there is one,
// the result has no value.
type Wanted struct {
	Name    string
	Path    schema.Path
	Setting profile.ID
	Why     string // "not recorded", "two values disagree", "below the caval saturation"
	Do      string
}

// Flag is something a result raises by a rule of the unit profile.
type Flag struct {
	Setting profile.ID
	What    string // "Above 41 min"
	Caution string // what it is not: "not a safe limit"
	Source  string
}

// Result is a computed value with everything that belongs beside it. OK is false
// when an input is wanted; Shown is then empty and Wanted says which. Off is true
// for a value that does not apply to this note at all: it asks for nothing.
type Result struct {
	ID      ID
	Group   string
	Title   string
	Value   float64
	Unit    string // UCUM
	Shown   string // "0.209 m²"
	OK      bool
	Off     bool
	Formula Formula
	Inputs  []Input
	Wanted  []Wanted
	Caveats []string
	Flags   []Flag
}

// Line words the result in one line: "Body surface area 0.209 m² (Mosteller)",
// or what is wanted.
func (r Result) Line() string {
	switch {
	case r.Off:
		return r.Title + ": does not apply"
	case !r.OK:
		return r.Title + ": wants " + r.WantedWords()
	}
	s := r.Title + " " + r.Shown
	if r.Formula.Name != "" && r.Formula.Name != r.Title {
		s += " (" + r.Formula.Name + ")"
	}
	return s
}

// WantedWords lists the inputs that are wanted: "weight (not recorded) and
// length (not recorded)".
func (r Result) WantedWords() string {
	var parts []string
	for _, w := range r.Wanted {
		parts = append(parts, w.Name+" ("+w.Why+")")
	}
	if n := len(parts); n > 1 {
		return strings.Join(parts[:n-1], ", ") + " and " + parts[n-1]
	}
	return strings.Join(parts, "")
}

// Refusal says why a formula gives no value for these inputs, which are in
// themselves possible. Input names the one to look at.
type Refusal struct {
	Input string
	What  string
	Do    string
}

// Error is both sentences.
func (r *Refusal) Error() string { return r.What + " " + r.Do }

func refuse(input, what, do string) *Refusal { return &Refusal{input, what, do} }

// positive refuses what cannot be: zero, negative or no number.
func positive(name string, v float64) *Refusal {
	if !usable(v) || v <= 0 {
		return refuse(name, "The "+name+" must be above zero.", "Check it.")
	}
	return nil
}

// notNegative refuses a negative value or no number.
func notNegative(name string, v float64) *Refusal {
	if !usable(v) || v < 0 {
		return refuse(name, "The "+name+" cannot be negative.", "Check it.")
	}
	return nil
}

// percentage refuses what is not a saturation or a haematocrit: the value is a
// fraction of one.
func percentage(name string, v float64) *Refusal {
	if !usable(v) || v <= 0 || v > 1 {
		return refuse(name, "The "+name+" must lie above 0 and at most at 100 %.", "Check it.")
	}
	return nil
}

func first(rs ...*Refusal) *Refusal {
	for _, r := range rs {
		if r != nil {
			return r
		}
	}
	return nil
}
