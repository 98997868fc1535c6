package profile

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"
)

// JSON writes the profile as a file that Load reads.
func (p *Profile) JSON() []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	own := make([]Entry, len(p.entries))
	copy(own, p.entries)
	for i := range own {
		own[i].Comment = strings.TrimSpace(strings.TrimPrefix(own[i].Comment, addedMark))
	}
	if err := enc.Encode(struct {
		Format  string  `json:"format"`
		Title   string  `json:"title"`
		Unit    string  `json:"unit"`
		Comment string  `json:"comment,omitempty"`
		Entries []Entry `json:"entries"`
	}{Format, p.Title, p.Unit, p.Comment, own}); err != nil {
		panic("profile: " + err.Error()) // every entry was checked as JSON when it was read
	}
	return b.Bytes()
}

// Activate puts a limit or a dose in force in by's name. at is the moment, as
// RFC 9557 has it. The result is a new profile.
func (p *Profile) Activate(id ID, by, at string) (*Profile, []Fault) {
	return p.alter(id, func(e *Entry) []Fault {
		if !e.HasValue() {
			return []Fault{{id, "value", "It is empty on purpose and cannot be activated.", "Give it a value and a source first."}}
		}
		e.Active = &Act{By: by, At: at}
		e.History = append(e.History, Act{By: by, At: at, Did: "activated"})
		return nil
	})
}

// Deactivate takes a limit or a dose out of force again.
func (p *Profile) Deactivate(id ID, by, at, why string) (*Profile, []Fault) {
	return p.alter(id, func(e *Entry) []Fault {
		e.Active = nil
		e.History = append(e.History, Act{By: by, At: at, Did: "deactivated", Why: why})
		return nil
	})
}

// Change gives an entry another value (JSON; null empties it, and why then says
// why it is empty on purpose). The source becomes source; a limit or a dose must
// be activated again, because what was activated was the earlier value.
func (p *Profile) Change(id ID, value []byte, source, by, at, why string) (*Profile, []Fault) {
	return p.alter(id, func(e *Entry) []Fault {
		if !json.Valid(value) {
			return []Fault{{id, "value", "The new value is not JSON.", "Check quotes and brackets."}}
		}
		e.History = append(e.History, Act{By: by, At: at, Did: "changed", Was: e.Value, Why: why})
		e.Value, e.Empty = bytes.Clone(value), ""
		e.Source, e.Mark = source, "U"
		e.Active = nil
		if !e.HasValue() {
			e.Empty, e.Source, e.Mark = why, "", ""
		}
		return nil
	})
}

// Add puts a new entry into one of the groups a unit may add to, named by its prefix:
// empty, until somebody gives it a value. Its name in the file is made of the title.
func (p *Profile) Add(prefix, title, by, at string) (*Profile, ID, []Fault) {
	title = strings.TrimSpace(title)
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		}
		return '-'
	}, strings.ToLower(title))
	return p.addAs(prefix, ID(prefix+strings.Trim(name, "-")), title, by, at)
}

// AddFor puts in a new entry for a kind of item, or for one variety of it ("" for
// all): a limit of days in (prefix [DwellPrefix]) or conditions before it comes out
// ([RemovalPrefix], which are by kind alone). It is empty until somebody gives it a
// value.
func (p *Profile) AddFor(prefix, kind, variety, title, by, at string) (*Profile, ID, []Fault) {
	id := ID(prefix + kind)
	if variety != "" {
		id += ID("." + variety)
	}
	return p.addAs(prefix, id, title, by, at)
}

func (p *Profile) addAs(prefix string, id ID, title, by, at string) (*Profile, ID, []Fault) {
	i := slices.IndexFunc(additions, func(a addition) bool { return a.prefix == prefix })
	switch _, there := p.Entry(id); {
	case i < 0:
		return nil, "", []Fault{{id, "id", "Nothing can be added to this group.", "Change an entry of it."}}
	case string(id) == prefix:
		return nil, "", []Fault{{id, "title", "It has no name.", "Write its name in letters, such as the drug's."}}
	case there:
		return nil, "", []Fault{{id, "id", "One of this name stands in the list already.", "Change that one, or give this another name."}}
	}
	group := title
	if others := p.WithPrefix(prefix); len(others) > 0 {
		group = others[0].Group
	}
	next := &Profile{Title: p.Title, Unit: p.Unit, Comment: p.Comment, at: maps.Clone(p.at)}
	next.entries = append(append([]Entry(nil), p.entries...), Entry{ID: id, Group: group, Title: title, Effect: additions[i].effect, Shape: additions[i].shape,
		Value: json.RawMessage("null"), Empty: "Added, and not set yet.", History: []Act{{By: by, At: at, Did: "added"}}})
	next.at[id] = len(next.entries) - 1
	next, faults := next.alter(id, func(*Entry) []Fault { return nil }) // as a whole entry it is checked
	return next, id, faults
}

// Own tells whether the unit added the entry: it may then be taken off the list.
func (p *Profile) Own(id ID) bool {
	_, shipped := base().Entry(id)
	_, here := p.Entry(id)
	return here && !shipped
}

// Drop takes an entry off the list that the unit itself has added.
func (p *Profile) Drop(id ID) (*Profile, []Fault) {
	if !p.Own(id) {
		return nil, []Fault{{id, "id", "It is one of the program's own entries.", "Leave it empty on purpose instead."}}
	}
	next := &Profile{Title: p.Title, Unit: p.Unit, Comment: p.Comment, at: map[ID]int{}}
	for _, e := range p.entries {
		if e.ID != id {
			next.at[e.ID] = len(next.entries)
			next.entries = append(next.entries, e)
		}
	}
	return next, nil
}

// ActivateAll activates every entry that has a value and waits for it, in one
// person's name: for a demonstration or a test, where the person is invented.
func (p *Profile) ActivateAll(by, at string) (*Profile, []Fault) {
	out := p
	for _, e := range p.entries {
		if e.HasValue() && e.Effect.NeedsActivation() && e.Active == nil {
			next, faults := out.Activate(e.ID, by, at)
			if len(faults) > 0 {
				return nil, faults
			}
			out = next
		}
	}
	return out, nil
}

// alter copies the profile, changes one entry and checks the whole of it again.
func (p *Profile) alter(id ID, change func(*Entry) []Fault) (*Profile, []Fault) {
	i, ok := p.at[id]
	if !ok {
		return nil, []Fault{{id, "id", "No entry has this name.", "Choose one from the list."}}
	}
	next := &Profile{Title: p.Title, Unit: p.Unit, Comment: p.Comment, at: p.at}
	next.entries = append([]Entry(nil), p.entries...)
	e := next.entries[i]
	e.History = append([]Act(nil), e.History...)
	if faults := change(&e); len(faults) > 0 {
		return nil, faults
	}
	next.entries[i] = e
	raw, err := json.Marshal(e)
	if err != nil {
		return nil, []Fault{{id, "value", "The entry cannot be written as JSON.", "Check the value."}}
	}
	var c checker
	read := c.readEntry("entry", raw, base())
	if len(c.faults) > 0 {
		return nil, c.faults
	}
	next.entries[i].UCUM, next.entries[i].Between = read.UCUM, read.Between // of an added one only the group knows them
	return next, nil
}
