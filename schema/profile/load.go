package profile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"
)

// MaxBytes is the largest profile file that is read.
const MaxBytes = 1 << 20

// Fault is one thing wrong with a profile file, worded for the person who keeps
// it.
type Fault struct {
	Entry ID     // "" where the fault lies outside an entry
	Place string // "entries[3].value"
	What  string // what is wrong
	Do    string // what to do
}

// Error is the fault in one line.
func (f Fault) Error() string {
	where := f.Place
	if f.Entry != "" {
		where = string(f.Entry) + " (" + f.Place + ")"
	}
	return where + ": " + f.What + " " + f.Do
}

// Load reads a profile file. A file with any fault is refused whole and every
// fault is named; the caller keeps the last good one. Entries that the file does
// not hold are those of the shipped default: Added names them.
func Load(data []byte) (*Profile, []Fault) {
	p, faults := read(data, base())
	if len(faults) > 0 {
		return nil, faults
	}
	return p, nil
}

// base is the shipped default, read once, to hold others against.
var base = sync.OnceValue(Default)

type file struct {
	Format  string            `json:"format"`
	Title   string            `json:"title"`
	Unit    string            `json:"unit"`
	Comment string            `json:"comment,omitempty"`
	Entries []json.RawMessage `json:"entries"`
}

// read parses and checks; base is nil when the shipped default itself is read.
func read(data []byte, base *Profile) (*Profile, []Fault) {
	one := func(what, do string) (*Profile, []Fault) {
		return nil, []Fault{{Place: "the file", What: what, Do: do}}
	}
	switch {
	case len(data) > MaxBytes:
		return one(fmt.Sprintf("It has %d bytes; a profile has at most %d.", len(data), MaxBytes), "Check that it is a unit profile.")
	case len(bytes.TrimSpace(data)) == 0:
		return one("It is empty.", "Start from the shipped default.")
	case !utf8.Valid(data):
		return one("It is not UTF-8 text.", "Save it as UTF-8.")
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	var f file
	if !json.Valid(data) {
		dec := json.NewDecoder(bytes.NewReader(data))
		for {
			if _, err := dec.Token(); err != nil {
				if err == io.EOF || strings.Contains(err.Error(), "unexpected EOF") {
					return one("It ends in the middle: the JSON is cut short.", "Fetch the whole file again.")
				}
				line := 1 + bytes.Count(data[:min(int(dec.InputOffset()), len(data))], []byte("\n"))
				return one(fmt.Sprintf("It is not JSON near line %d.", line), "Mend that line: a comma, a quote or a bracket is usual.")
			}
		}
	}
	var c checker
	top := c.object("the file", data)
	if top == nil {
		return nil, c.faults
	}
	if err := json.Unmarshal(top["format"], &f.Format); err != nil || f.Format != Format {
		if strings.HasPrefix(f.Format, "fairlead-profile/") {
			return one(fmt.Sprintf("It is written in the format %q and this program reads %q.", f.Format, Format), "Update the program, or use a file of this format.")
		}
		return one("It is not a unit profile: \"format\" is not "+Format+".", "Choose a unit profile file.")
	}
	c.members("the file", top, "format", "title", "unit", "comment", "entries")
	c.text("title", top["title"], &f.Title, true)
	c.text("unit", top["unit"], &f.Unit, true)
	c.text("comment", top["comment"], &f.Comment, false)
	if err := json.Unmarshal(top["entries"], &f.Entries); err != nil || f.Entries == nil {
		c.add("entries", "The list of entries is missing.", "Copy it from the shipped default.")
	}
	p := &Profile{Title: f.Title, Unit: f.Unit, Comment: f.Comment, at: map[ID]int{}}
	for i, raw := range f.Entries {
		c.entry = ""
		e := c.readEntry(fmt.Sprintf("entries[%d]", i), raw, base)
		if _, twice := p.at[e.ID]; twice && e.ID != "" {
			c.add(fmt.Sprintf("entries[%d].id", i), "This entry stands twice.", "Delete one of the two.")
		}
		p.at[e.ID] = len(p.entries)
		p.entries = append(p.entries, e)
	}
	if len(c.faults) > 0 {
		return nil, c.faults
	}
	if base != nil {
		for _, e := range base.entries {
			if _, ok := p.at[e.ID]; !ok {
				e.Comment = strings.TrimSpace(addedMark + " " + e.Comment)
				p.at[e.ID] = len(p.entries)
				p.entries = append(p.entries, e)
			}
		}
	}
	return p, nil
}

const addedMark = "Not in the unit's file: taken from the shipped default."

// Added are the entries the unit's file did not hold and the shipped default
// lent it.
func (p *Profile) Added() []ID {
	var out []ID
	for _, e := range p.entries {
		if strings.HasPrefix(e.Comment, addedMark) {
			out = append(out, e.ID)
		}
	}
	return out
}

// checker gathers faults.
type checker struct {
	faults []Fault
	entry  ID
}

func (c *checker) add(place, what, do string) {
	c.faults = append(c.faults, Fault{c.entry, place, what, do})
}

func (c *checker) object(place string, raw json.RawMessage) map[string]json.RawMessage {
	var m map[string]json.RawMessage
	if json.Unmarshal(raw, &m) != nil || m == nil {
		c.add(place, "An object in curly brackets was expected.", "See profile.schema.json.")
		return nil
	}
	// Of a word that stands twice only the last would count.
	dec := json.NewDecoder(bytes.NewReader(raw))
	seen := map[string]bool{}
	for _, _ = dec.Token(); dec.More(); {
		word, _ := dec.Token()
		k, _ := word.(string)
		if seen[k] {
			c.add(place, fmt.Sprintf("%q stands twice.", k), "Delete one of the two.")
		}
		seen[k] = true
		var skip json.RawMessage
		if dec.Decode(&skip) != nil {
			break
		}
	}
	return m
}

func (c *checker) members(place string, m map[string]json.RawMessage, known ...string) {
	var odd []string
	for k := range m {
		if !slices.Contains(known, k) {
			odd = append(odd, k)
		}
	}
	slices.Sort(odd)
	for _, k := range odd {
		c.add(place, fmt.Sprintf("%q is not a word this place knows.", k), "Known are: "+strings.Join(known, ", ")+". Put remarks in comment.")
	}
}

// text reads a string of 1 to 2 000 characters; nil raw is allowed unless needed.
func (c *checker) text(place string, raw json.RawMessage, into *string, needed bool) {
	if raw == nil {
		if needed {
			c.add(place, "It is missing.", "Write it.")
		}
		return
	}
	if raw[0] != '"' || json.Unmarshal(raw, into) != nil {
		c.add(place, "Text in quotes was expected.", "Put it in quotes.")
		return
	}
	if n := utf8.RuneCountInString(*into); n == 0 && needed || n > 2000 {
		c.add(place, "The text is empty or longer than 2000 characters.", "Write 1 to 2000 characters.")
	}
}

// number reads a finite number; ok tells whether it could.
func (c *checker) number(place string, raw json.RawMessage) (v float64, ok bool) {
	if len(raw) == 0 || raw[0] == 'n' || json.Unmarshal(raw, &v) != nil || math.IsInf(v, 0) {
		c.add(place, fmt.Sprintf("%s is not a number.", show(raw)), "Write a number without quotes, with a point: 3.2.")
		return 0, false
	}
	return v, true
}

func show(raw json.RawMessage) string {
	if len(raw) == 0 {
		return "Nothing"
	}
	if r := []rune(string(raw)); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return string(raw)
}

func (c *checker) readEntry(place string, raw json.RawMessage, base *Profile) (e Entry) {
	m := c.object(place, raw)
	if m == nil {
		return e
	}
	var id string
	c.text(place+".id", m["id"], &id, true)
	e.ID, c.entry = ID(id), ID(id)
	c.members(place, m, "id", "group", "title", "effect", "shape", "ucum", "between", "choices", "value", "empty", "mark", "source", "comment", "active", "history")
	c.text(place+".group", m["group"], &e.Group, true)
	c.text(place+".title", m["title"], &e.Title, true)
	c.text(place+".ucum", m["ucum"], &e.UCUM, false)
	c.text(place+".empty", m["empty"], &e.Empty, false)
	c.text(place+".mark", m["mark"], &e.Mark, false)
	c.text(place+".source", m["source"], &e.Source, false)
	c.text(place+".comment", m["comment"], &e.Comment, false)
	var effect, shape string
	c.text(place+".effect", m["effect"], &effect, true)
	c.text(place+".shape", m["shape"], &shape, true)
	e.Effect, e.Shape = Effect(effect), Shape(shape)
	if effect != "" && !slices.Contains([]Effect{Method, Prompt, Limit, Dosing, Words}, e.Effect) {
		c.add(place+".effect", fmt.Sprintf("%q is not an effect.", effect), "Write method, prompt, limit, dose or words.")
	}
	c.definition(place, m, &e, base)
	e.Value = m["value"]
	if !e.HasValue() {
		e.Value = json.RawMessage("null")
	}
	switch {
	case !e.HasValue() && e.Empty == "":
		c.add(place+".value", "It has no value and does not say why.", "Give a value, or say in empty why it is empty on purpose.")
	case e.HasValue() && e.Empty != "":
		c.add(place+".empty", "It has a value and also says that it is empty on purpose.", "Delete one of the two.")
	case e.HasValue() && e.Source == "":
		c.add(place+".source", "The value names no source.", "Name the source; for the unit's own decision name who decided, and when.")
	case e.HasValue() && !slices.Contains([]string{"C", "2", "M", "P", "U"}, e.Mark):
		c.add(place+".mark", "It does not say how well the figure is known.", "Write C (seen in the source), 2 (second-hand), M (from memory), P (common practice) or U (the unit's own).")
	}
	if e.HasValue() {
		c.value(place+".value", e, e.Value)
	}
	if raw, ok := m["active"]; ok && string(raw) != "null" {
		e.Active = c.act(place+".active", raw)
		if e.Active != nil && !e.HasValue() {
			c.add(place+".active", "An entry without a value cannot be active.", "Give the value first.")
		}
	}
	if raw, ok := m["history"]; ok {
		var list []json.RawMessage
		if json.Unmarshal(raw, &list) != nil || list == nil {
			c.add(place+".history", "A list in square brackets was expected.", "See profile.schema.json.")
		}
		for i, raw := range list {
			if a := c.act(fmt.Sprintf("%s.history[%d]", place, i), raw); a != nil {
				e.History = append(e.History, *a)
			}
		}
	}
	return e
}

// additions are the groups a unit may add to, and what an entry of each is.
var additions = []addition{{EmergencyPrefix, Dosing, ShapeDose}, {DrainRulePrefix, Limit, ShapeDrain}, {DwellPrefix, Limit, ShapeNumber}, {RemovalPrefix, Limit, ShapeList}, {WordsPrefix, Words, ShapeWords}}

type addition struct {
	prefix string
	effect Effect
	shape  Shape
}

// definition reads what says how the value must look. For an entry the program
// knows, the shipped definition holds and the file may not depart from it.
func (c *checker) definition(place string, m map[string]json.RawMessage, e *Entry, base *Profile) {
	if raw, ok := m["between"]; ok {
		if json.Unmarshal(raw, &e.Between) != nil || len(e.Between) != 2 || e.Between[0] > e.Between[1] {
			c.add(place+".between", "Two rising numbers were expected.", "Write [lowest, highest].")
			e.Between = nil
		}
	}
	if raw, ok := m["choices"]; ok {
		if json.Unmarshal(raw, &e.Choices) != nil || len(e.Choices) == 0 {
			c.add(place+".choices", "A list of names was expected.", "Write [\"one\", \"other\"].")
		}
	}
	if base == nil {
		return
	}
	known, ok := base.Entry(e.ID)
	if !ok {
		for _, p := range additions {
			if strings.HasPrefix(string(e.ID), p.prefix) && len(e.ID) > len(p.prefix) {
				if e.Effect != p.effect || e.Shape != p.shape {
					c.add(place, fmt.Sprintf("An entry of the group %q has the effect %s and the shape %s.", p.prefix, p.effect, p.shape), "Write those.")
				}
				if p.prefix == DwellPrefix {
					e.UCUM, e.Between = "d", []float64{1, 36500}
				}
				return
			}
		}
		if e.ID != "" {
			c.add(place+".id", fmt.Sprintf("No entry is called %q.", e.ID), nearest(e.ID, base))
		}
		return
	}
	if e.Effect != known.Effect || e.Shape != known.Shape {
		c.add(place, fmt.Sprintf("Its effect is %s and its shape %s in this program.", known.Effect, known.Shape), "Leave effect and shape as shipped.")
	}
	if e.UCUM != "" && e.UCUM != known.UCUM {
		c.add(place+".ucum", fmt.Sprintf("The unit is %q; this entry is kept in %q.", e.UCUM, known.UCUM), "Convert the value and write the shipped unit.")
	}
	e.Effect, e.Shape, e.UCUM, e.Between, e.Choices = known.Effect, known.Shape, known.UCUM, known.Between, known.Choices
}

// nearest suggests the entry whose name differs least.
func nearest(id ID, base *Profile) string {
	best, least := "", 4
	for _, e := range base.entries {
		if d := distance(string(id), string(e.ID)); d < least {
			best, least = string(e.ID), d
		}
	}
	if best == "" {
		return "Delete it, or name it after a group that takes additions: emergency., drain.rule., dwell., removal., words."
	}
	return fmt.Sprintf("Did you mean %q?", best)
}

// distance is the number of single-letter edits between two names.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		diagonal := row[0]
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := diagonal
			if a[i-1] != b[j-1] {
				cost++
			}
			diagonal = row[j]
			row[j] = min(cost, row[j]+1, row[j-1]+1)
		}
	}
	return row[len(b)]
}

func (c *checker) act(place string, raw json.RawMessage) *Act {
	m := c.object(place, raw)
	if m == nil {
		return nil
	}
	a := Act{Was: m["was"]}
	c.members(place, m, "by", "at", "did", "was", "why")
	before := len(c.faults)
	c.text(place+".by", m["by"], &a.By, true)
	c.text(place+".at", m["at"], &a.At, true)
	c.text(place+".did", m["did"], &a.Did, false)
	c.text(place+".why", m["why"], &a.Why, false)
	if len(c.faults) > before {
		return nil
	}
	if strings.TrimSpace(a.By) == "" {
		c.add(place+".by", "No name is given.", "Write the name of the person who answers for it.")
	}
	if _, err := time.Parse(time.DateOnly, a.At[:min(len(a.At), len(time.DateOnly))]); err != nil {
		c.add(place+".at", fmt.Sprintf("%q is not a date and time.", a.At), "Write it like 2026-07-14T09:42+01:00.")
	}
	return &a
}
