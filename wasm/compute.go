//go:build !(js && wasm)

package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"strings"

	"fairlead/handover/calc"
	"fairlead/handover/calc/values"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

var _ = add(command{
	name:  "values",
	usage: "NOTE-OR-RECORD [--json] [--note ID] [--profile FILE] [--at TIME]",
	short: "Works out every value of a note, and the emergency card, with formulas, inputs and sources.",
	run:   compute,
})

// computed is what the command writes for other programs.
type computed struct {
	File   string          `json:"file"`
	Note   string          `json:"note"`
	Kind   schema.Kind     `json:"kind"`
	At     string          `json:"at"`
	Unit   string          `json:"profile"`
	Groups []computedGroup `json:"groups"`
	Card   computedCard    `json:"card"`
}

type computedGroup struct {
	Title  string          `json:"title"`
	Values []computedValue `json:"values"`
}

type computedValue struct {
	ID      calc.ID         `json:"id"`
	Title   string          `json:"title"`
	State   string          `json:"state"` // "shown", "wanted" or "does not apply"
	Value   *float64        `json:"value,omitempty"`
	UCUM    string          `json:"ucum,omitempty"`
	Shown   string          `json:"shown,omitempty"`
	Formula *computedRule   `json:"formula,omitempty"`
	Inputs  []computedInput `json:"inputs,omitempty"`
	Wanted  []computedWant  `json:"wanted,omitempty"`
	Caveats []string        `json:"caveats,omitempty"`
	Flags   []computedFlag  `json:"flags,omitempty"`
}

type computedRule struct {
	Name   string `json:"name"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

type computedInput struct {
	Name    string      `json:"name"`
	Shown   string      `json:"shown"`
	Path    schema.Path `json:"path,omitempty"`
	Setting profile.ID  `json:"setting,omitempty"`
	By      string      `json:"by,omitempty"`
	At      string      `json:"at,omitempty"`
}

type computedWant struct {
	Name    string      `json:"name"`
	Why     string      `json:"why"`
	Do      string      `json:"do"`
	Path    schema.Path `json:"path,omitempty"`
	Setting profile.ID  `json:"setting,omitempty"`
}

type computedFlag struct {
	What    string     `json:"what"`
	Caution string     `json:"caution,omitempty"`
	Setting profile.ID `json:"setting"`
	Source  string     `json:"source"`
}

type computedCard struct {
	Weight  *float64       `json:"weightKg,omitempty"`
	Date    schema.Date    `json:"weightDate,omitempty"`
	By      string         `json:"weightBy,omitempty"`
	At      string         `json:"weightAt,omitempty"`
	Stopped []computedWant `json:"stopped,omitempty"`
	Doses   []computedDose `json:"doses"`
	Empty   []string       `json:"notSetByThisUnit,omitempty"`
	Caution string         `json:"caution"`
}

type computedDose struct {
	Title   string `json:"title"`
	Label   string `json:"label,omitempty"`
	Heading string `json:"heading,omitempty"`
	Amount  string `json:"amount"`
	Volume  string `json:"volume,omitempty"`
	Rule    string `json:"rule"`
	Routes  string `json:"routes"`
	Source  string `json:"source"`
}

func compute(_ context.Context, p *program, args []string) int {
	var asJSON bool
	var noteID string
	a, code, ok := p.ask("values", "nothing was worked out", args, func(set *flag.FlagSet) {
		set.BoolVar(&asJSON, "json", false, "print JSON for another program")
		set.StringVar(&noteID, "note", "", "the `id` of the note, where a record holds several; without it, the last")
	}, "note")
	if !ok {
		return code
	}
	n, v, err := a.values(noteID, a.unit, a.now.Date())
	if err != nil {
		return p.fail(fmt.Errorf("%s: %w", a.file, err), "nothing was worked out")
	}
	for _, x := range a.problems {
		fmt.Fprintf(p.err, "fairlead: %s: %s %s\n", a.file, x.What, x.Do)
		code = exitProblems
	}
	for _, r := range v.All() {
		if len(r.Flags) > 0 {
			code = exitProblems
		}
	}
	if len(v.Card.Stopped) > 0 {
		code = exitProblems
	}
	if !asJSON {
		p.values(v)
		return code
	}
	enc := json.NewEncoder(p.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(computed{a.file, n.ID(), n.Kind(), a.now.String(), a.unit.Title, groupsJSON(v), cardJSON(v.Card)}); err != nil {
		return p.fail(err, "")
	}
	return code
}

// values works out the note, or one note of the record.
func (o opened) values(noteID string, prof *profile.Profile, today schema.Date) (*schema.Note, values.Values, error) {
	if o.note != nil {
		if noteID != "" && noteID != o.note.ID() {
			return nil, values.Values{}, fmt.Errorf("the file holds the note %s, not %s", o.note.ID(), noteID)
		}
		return o.note, values.Of(o.note, prof, calc.About{}, nil, today), nil
	}
	notes := o.record.Notes()
	if len(notes) == 0 {
		return nil, values.Values{}, errors.New("the record holds no note")
	}
	id := ledger.NoteID(noteID)
	if noteID == "" {
		id = notes[len(notes)-1].ID
	}
	n := o.record.Whole(id)
	if n == nil {
		return nil, values.Values{}, fmt.Errorf("the record holds no note %s", id)
	}
	return n, values.FromRecord(o.record, id, prof, today), nil
}

// values prints them for people.
func (p *program) values(v values.Values) {
	origin := func(by, at string) string {
		words := strings.Trim(by+", "+at, ", ")
		if words == "" {
			return ""
		}
		return " (" + words + ")"
	}
	for _, g := range v.Groups {
		fmt.Fprintf(p.out, "%s\n", g.Title)
		for _, r := range g.Results {
			fmt.Fprintf(p.out, "  %s\n", r.Line())
			if r.Off {
				continue
			}
			for _, f := range r.Flags {
				fmt.Fprintf(p.out, "      FLAG %s. %s %s\n", f.What, f.Caution, f.Source)
			}
			for _, in := range r.Inputs {
				fmt.Fprintf(p.out, "      from %s %s%s\n", in.Name, in.Shown, origin(in.By, in.At))
			}
			for _, w := range r.Wanted {
				fmt.Fprintf(p.out, "      wants %s: %s. %s\n", w.Name, w.Why, w.Do)
			}
			if r.OK && r.Formula.Text != "" {
				fmt.Fprintf(p.out, "      %s. %s\n", r.Formula.Text, r.Formula.Source)
			}
			for _, c := range r.Caveats {
				fmt.Fprintf(p.out, "      take care: %s\n", c)
			}
		}
	}
	fmt.Fprintln(p.out, "Emergency card")
	c := v.Card
	for _, w := range c.Stopped {
		fmt.Fprintf(p.out, "  STOPPED: %s %s. %s\n", w.Name, w.Why, w.Do)
	}
	if len(c.Stopped) > 0 {
		return
	}
	if len(c.Lines) == 0 {
		fmt.Fprintln(p.out, "  not set by this unit")
		return
	}
	for _, l := range c.Lines {
		title := strings.TrimSpace(strings.Join([]string{l.Heading, l.Title, l.Label}, " "))
		amount := l.Amount
		if l.Volume != "" {
			amount += " = " + l.Volume
		}
		fmt.Fprintf(p.out, "  %s: %s, for %s\n      %s; %s. %s\n", title, amount, c.Weight.Beside(), l.Rule, l.Routes, l.Source)
	}
	for _, title := range c.Empty {
		fmt.Fprintf(p.out, "  %s: not set by this unit\n", title)
	}
	fmt.Fprintf(p.out, "  %s\n", c.Caution)
	for _, n := range c.Notes {
		fmt.Fprintf(p.out, "  %s\n", n)
	}
}

func wants(ws []calc.Wanted) []computedWant {
	var out []computedWant
	for _, w := range ws {
		out = append(out, computedWant{w.Name, w.Why, w.Do, w.Path, w.Setting})
	}
	return out
}

func groupsJSON(v values.Values) []computedGroup {
	out := []computedGroup{}
	for _, g := range v.Groups {
		group := computedGroup{Title: g.Title}
		for _, r := range g.Results {
			x := computedValue{ID: r.ID, Title: r.Title, State: "wanted", Shown: r.Shown, Wanted: wants(r.Wanted), Caveats: r.Caveats}
			switch {
			case r.Off:
				x.State = "does not apply"
			case r.OK:
				x.State, x.UCUM = "shown", r.Unit
				if r.Unit != "" {
					x.Value = &r.Value
				}
			}
			if r.Formula.Text != "" {
				x.Formula = &computedRule{r.Formula.Name, r.Formula.Text, r.Formula.Source}
			}
			for _, in := range r.Inputs {
				x.Inputs = append(x.Inputs, computedInput{in.Name, in.Shown, in.Path, in.Setting, in.By, in.At})
			}
			for _, f := range r.Flags {
				x.Flags = append(x.Flags, computedFlag{f.What, f.Caution, f.Setting, f.Source})
			}
			group.Values = append(group.Values, x)
		}
		out = append(out, group)
	}
	return out
}

func cardJSON(c calc.Card) computedCard {
	out := computedCard{Stopped: wants(c.Stopped), Doses: []computedDose{}, Caution: c.Caution}
	if len(c.Stopped) > 0 {
		return out
	}
	out.Weight, out.Date, out.By, out.At, out.Empty = &c.Weight.Kg, c.Weight.Date, c.Weight.By, c.Weight.At, c.Empty
	for _, l := range c.Lines {
		out.Doses = append(out.Doses, computedDose{l.Title, l.Label, l.Heading, l.Amount, l.Volume, l.Rule, l.Routes, l.Source})
	}
	return out
}
