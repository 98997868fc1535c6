package ledger

import (
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Digest is the SHA-256 of the ids, sorted, each followed by a line feed, in
// hexadecimal. It names exactly the events a signature covers.
func Digest(ids []EventID) string {
	ids = slices.Compact(slices.Sorted(slices.Values(ids)))
	h := sha256.New()
	for _, id := range ids {
		h.Write([]byte(id))
		h.Write([]byte{'\n'})
	}
	return hex.EncodeToString(h.Sum(nil))
}

// cover makes the part of a signature's body that names what it covers.
func cover(ids []EventID) covered {
	ids = slices.Compact(slices.Sorted(slices.Values(ids)))
	packed := make([]byte, 0, 16*len(ids))
	for _, id := range ids {
		u, err := packID(string(id))
		if err != nil {
			return covered{Covers: Digest(ids), Count: len(ids)} // never made by this program
		}
		packed = append(packed, u[:]...)
	}
	return covered{Digest(ids), len(ids), base64.RawURLEncoding.EncodeToString(packed)}
}

// names lists the ids covered; ok is false if they cannot be told or do not agree
// with the digest.
func (c covered) names() (ids map[EventID]bool, ok bool) {
	packed, err := base64.RawURLEncoding.DecodeString(c.IDs)
	if err != nil || len(packed)%16 != 0 {
		return nil, false
	}
	ids = make(map[EventID]bool, len(packed)/16)
	list := make([]EventID, 0, len(packed)/16)
	for i := 0; i < len(packed); i += 16 {
		id := EventID(uuidText(packed[i : i+16]))
		ids[id] = true
		list = append(list, id)
	}
	return ids, Digest(list) == c.Covers
}

// covers tells whether the signature covers exactly these events.
func (c covered) covers(ids []EventID) bool { return Digest(ids) == c.Covers }

func uuidText(b []byte) string {
	h := hex.EncodeToString(b)
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}

// Signature is a typed name under a note or a section. It is not authenticated.
type Signature struct {
	Event   EventID
	Note    NoteID
	Section string // "" for the whole note
	How     string // "complete" or "open items"
	Open    int    // how many items were open
	Author  Author
	At      schema.Moment
	Entered schema.Moment
	Covers  string // the digest
	Count   int    // how many events it covers
	Broken  bool   // the ids it names do not give its digest, or events it covers are missing here
	Changes []Change
}

// How a note was signed.
const (
	SignedComplete = "complete"
	SignedOpen     = "open items"
)

// Change is one event after a signature.
type Change struct {
	Event    EventID
	Kind     string
	Path     schema.Path // of a value or a row
	Item     ItemID
	Author   Author
	Happened schema.Moment
	Entered  schema.Moment
}

// Signatures lists the signatures under a note and its sections, by clock. Each
// carries the changes made after it: every event about what it signed that is not
// among the events it covers, whatever the clock says.
func (r *Record) Signatures(note NoteID) []Signature {
	var out []Signature
	for _, e := range sortedEntries(slices.Concat(r.kinds[KindNoteSigned], r.kinds[KindSectionSigned])) {
		if e.Note != note {
			continue
		}
		b := e.body.(*signed)
		s := Signature{Event: e.ID, Note: note, Section: b.Section, How: b.How, Open: b.Open, Author: e.Author,
			At: e.Happened, Entered: e.Entered, Covers: b.Covers, Count: b.Count}
		if e.Kind == KindNoteSigned {
			s.Section = ""
		}
		s.Changes, s.Broken = r.changesAfter(e, note, s.Section)
		out = append(out, s)
	}
	return out
}

func (r *Record) changesAfter(by *entry, note NoteID, section string) (changes []Change, broken bool) {
	names, ok := r.namesIn(by)
	broken = !ok
	for id := range names {
		if r.all[id] == nil {
			broken = true
		}
	}
	for _, e := range r.speakingOf(note, section, names) {
		changes = append(changes, changeOf(e))
	}
	return changes, broken
}

// coverage is the events a signature names, read once.
type coverage struct {
	names map[EventID]bool
	ok    bool
}

func (r *Record) namesIn(by *entry) (map[EventID]bool, bool) {
	c, ok := r.covers[by]
	if !ok {
		c.names, c.ok = by.body.(*signed).names()
		r.covers[by] = c
	}
	return c.names, c.ok
}

// AsSigned is the record as the signature of that id saw it: the events it covers,
// and the openings of notes. ok is false if there is no such signature here, or if
// what it covers cannot be told.
func (r *Record) AsSigned(signature EventID) (then *Record, ok bool) {
	e := r.all[signature]
	if e == nil || e.Kind != KindNoteSigned && e.Kind != KindSectionSigned {
		return nil, false
	}
	names, ok := r.namesIn(e)
	if !ok {
		return nil, false
	}
	var events []Event
	for id, x := range r.all {
		if names[id] || x.Kind == KindCaseOpened || x.Kind == KindNoteOpened {
			events = append(events, x.Event)
		}
	}
	return FoldCase(r.child, events), true
}

func changeOf(e *entry) Change {
	c := Change{Event: e.ID, Kind: e.Kind, Author: e.Author, Happened: e.Happened, Entered: e.Entered}
	switch b := e.body.(type) {
	case *fieldBody:
		c.Path = b.path
		if b.path.Section() == itemsSection {
			c.Item = ItemID(b.path.Item())
		}
	case *rowChange:
		c.Path, c.Item = b.List, ItemID(b.List.Item())
	case *itemListed:
		c.Item = b.Item
	case *itemWithdrawn:
		c.Item = b.Item
	case *itemRetagged:
		c.Item = b.Item
	case *questionAnswered:
		c.Path = b.Path
	}
	return c
}

// Words says a change in one sentence: what, and what it was before.
func (r *Record) Words(c Change) string {
	e := r.all[c.Event]
	if e == nil {
		return ""
	}
	tag := func(id ItemID) string {
		if _, ok := r.Item(id); ok {
			return r.tagOf(id)
		}
		return "An item that is not listed"
	}
	switch b := e.body.(type) {
	case *fieldBody:
		f, n := r.fieldOf(b.path), r.Child()
		words := r.placeOf(b.path, f, e.Note) + ": " + strings.TrimSuffix(b.entry.Shown(f, n), ".")
		var was []string
		for _, o := range r.replacedIn(r.fieldSlot(e.Note, b.path), e) {
			entry := o.body.(*fieldBody).entry
			if entry.Cleared() { // it was taken back: nothing stood there
				continue
			}
			said := entry.Shown(f, n)
			if o.Author != e.Author {
				said = strings.TrimSuffix(said, ".") + ", said " + o.Author.String()
			}
			was = append(was, strings.TrimSuffix(said, "."))
		}
		if len(was) == 0 {
			return words + "."
		}
		return words + "; was " + strings.Join(was, " and ") + "."
	case *rowChange:
		what := "an entry was added."
		if e.Kind == KindRowRemoved {
			what = "an entry was removed."
		}
		return r.placeOf(b.List, r.fieldOf(b.List), e.Note) + ": " + what
	case *itemListed:
		return tag(b.Item) + " was listed."
	case *itemWithdrawn:
		return tag(b.Item) + " was withdrawn (" + orNotRecorded(b.Why) + ")."
	case *itemRetagged:
		words := "What is not listed"
		if v, ok := r.Item(b.Item); ok {
			words = r.thing(v)
		}
		return words + " was given the tag " + strconv.Itoa(b.Tag) + "."
	case *questionAnswered:
		words := r.placeOf(b.Path, r.fieldOf(b.Path), e.Note) + ": a question was answered, " + orNotRecorded(b.Answer)
		if b.Why != "" {
			words += " (" + strings.TrimSuffix(b.Why, ".") + ")"
		}
		return words + "."
	case *retracted:
		if e.Kind == KindRetractionWithdrawn {
			return "A retraction was withdrawn (" + orNotRecorded(b.Why) + ")."
		}
		did := " retracted ("
		if b.OfferedTo != "" {
			did = " moved to another child ("
		}
		return count(len(b.Events), "entry") + did + orNotRecorded(b.Why) + ")."
	case *joined:
		if e.Kind == KindCasesParted {
			return "Another record was parted from this one."
		}
		return "Another record was joined with this one."
	}
	return ""
}

// speakingOf lists the events a signature under the note, or under one section of
// it ("items" for the list of items), is about, by clock; those among beside are
// left out.
func (r *Record) speakingOf(note NoteID, section string, beside map[EventID]bool) []*entry {
	listed := map[ItemID]bool{}
	if whole := r.Whole(note); whole != nil {
		for _, it := range whole.Items() {
			listed[ItemID(it.ID)] = true
		}
	}
	at := func(p schema.Path, by *entry) bool {
		s := p.Section()
		if section != "" && s != section {
			return false
		}
		if s == itemsSection {
			return listed[ItemID(p.Item())]
		}
		scope := r.scope(p, by.Note)
		return scope == "" || scope == note
	}
	onItem := func(id ItemID, by *entry) bool {
		return (section == "" || section == itemsSection) && (by.Note == note || listed[id])
	}
	var about func(e *entry, deep int) bool
	about = func(e *entry, deep int) bool {
		switch b := e.body.(type) {
		case *fieldBody:
			return at(b.path, e)
		case *rowChange:
			return at(schema.RowPath(b.List, b.Row, "x"), e)
		case *itemListed:
			return onItem(b.Item, e)
		case *itemWithdrawn:
			return onItem(b.Item, e)
		case *itemRetagged:
			return onItem(b.Item, e)
		case *questionAnswered:
			return e.Note == note && (section == "" || b.Path.Section() == section)
		case *retracted:
			for _, id := range b.Events {
				if t := r.all[id]; t != nil && deep < 2 && about(t, deep+1) {
					return true
				}
			}
		case *joined:
			return section == ""
		}
		return false
	}
	var out []*entry
	for _, e := range r.all {
		if !beside[e.ID] && r.cases[e.Case] && e.how == read && about(e, 0) {
			out = append(out, e)
		}
	}
	inOrder(out)
	return out
}

// Covered lists the ids a signature under the note or section would cover now.
func (r *Record) Covered(note NoteID, section string) []EventID {
	return idsOf(r.speakingOf(note, section, nil))
}

// Standing is how a note stands between its signatures and the sheet.
type Standing struct {
	Signed   *Signature // the latest under the whole note, or nil
	First    *Signature // the first under the whole note, or nil
	Sections map[string]Signature
	Amended  bool     // something changed after the first signature: the sheet says so
	Changes  []Change // what changed after the first signature
	Open     []Change // what changed after the latest: not signed for yet
	Told     []Told   // who was told of changes, by clock
	Untold   []Change // changes after the first signature that nobody was told of
	Reasons  []Reason // why it was amended, in the author's words
}

// Told is a receiver who was told again after a change.
type Told struct {
	Event  EventID
	Who    string
	Author Author
	At     schema.Moment
}

// Reason is why a signed note was changed.
type Reason struct {
	Why    string
	Author Author
	At     schema.Moment
}

// Standing is how the note stands: signed, amended, told.
func (r *Record) Standing(note NoteID) Standing {
	st := Standing{Sections: map[string]Signature{}}
	for _, s := range r.Signatures(note) {
		if s.Section != "" {
			st.Sections[s.Section] = s
			continue
		}
		if st.First == nil {
			st.First = &s
		}
		st.Signed = &s
	}
	for _, e := range sortedEntries(r.kinds[KindAmended]) {
		if e.Note == note {
			st.Reasons = append(st.Reasons, Reason{e.body.(*amended).Why, e.Author, e.Happened})
		}
	}
	told := map[EventID]bool{}
	for _, e := range sortedEntries(r.kinds[KindSheetTold]) {
		if e.Note != note {
			continue
		}
		b := e.body.(*signed)
		names, _ := r.namesIn(e)
		st.Told = append(st.Told, Told{e.ID, b.Who, e.Author, e.Happened})
		for id := range names {
			told[id] = true
		}
	}
	if st.First == nil {
		return st
	}
	st.Changes, st.Open = st.First.Changes, st.Signed.Changes
	st.Amended = len(st.Changes) > 0
	for _, c := range st.Changes {
		if !told[c.Event] {
			st.Untold = append(st.Untold, c)
		}
	}
	sorting.By(st.Untold, func(a, b Change) int { return cmp.Compare(a.Path, b.Path) })
	return st
}
