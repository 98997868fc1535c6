package lines

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Entry is one item in a check.
type Entry struct {
	Item     schema.Item
	Name     string // with its size
	Place    string // on the map
	Occasion ledger.Occasion
	Answered bool
	Answer   ledger.CheckView  // the answer in force
	Before   *ledger.CheckView // on arrival: what was answered on leaving theatre, or nil
	Inside   bool              // recorded as one that cannot be seen: "inside" is offered first
	Counted  bool              // packs or swabs: they lie inside, and the answer says how many
	Count    string            // how many are listed, or ""
	Became   string            // if it is not in whole: what became of it, in words; see [Became]
	New      bool              // listed after somebody closed this check
}

// Found and the rest are the answers one can give, ready for [ledger.Writer.Check].
func (e Entry) Found() ledger.CheckView {
	c := e.answer(ledger.Found)
	_, c.Note = Unrecorded(e.Item, e.Occasion)
	return c
}

// Unrecorded are the attributes that say where a thing comes out and how far in it lies,
// as far as they are not recorded: nothing at the bed can be held against them. words
// says so, "place and depth not recorded"; "" where all are. A chamber comes
// out nowhere: of it the level is wanted.
func Unrecorded(it schema.Item, o ledger.Occasion) (fields []*schema.Field, words string) {
	k, n := schema.ItemKindNamed(it.Kind), it.Note()
	if k == nil {
		return nil, ""
	}
	wanted := []string{"exit", "depth", "mark"}
	if it.Kind == "drain-chamber" {
		wanted = []string{map[ledger.Occasion]string{ledger.Leaving: "level", ledger.Arrival: "levelArrival"}[o]}
	}
	for _, name := range wanted {
		f := k.Field(name)
		if f == nil || !n.Relevant(f, it.ID) || n.Answered(it.Path(name)) {
			continue
		}
		switch name {
		case "exit":
			name = "place"
		case "levelArrival":
			name = "level"
		}
		if fields != nil {
			words += " and "
		}
		fields, words = append(fields, f), words+name
	}
	if fields != nil {
		words += " not recorded"
	}
	return fields, words
}

// NotFound is the answer that it is not there.
func (e Entry) NotFound() ledger.CheckView { return e.answer(ledger.NotFound) }

// InsideNow is the answer that it lies inside, accounted for: how says by what
// count or X-ray.
func (e Entry) InsideNow(how string) ledger.CheckView {
	c := e.answer(ledger.Inside)
	c.Note = how
	return c
}

// InsideCounted is the answer that n of what is counted lie inside; another number
// than is listed, or one where none is, is a difference, to be settled.
func (e Entry) InsideCounted(how, n string) ledger.CheckView {
	if n != e.Count {
		c := e.Differs(ledger.Difference{Field: "count", Sheet: e.Count, Bedside: n})
		c.Note = "inside, " + how
		return c
	}
	return e.InsideNow(how + ": " + n)
}

// FoundWords words the answer that it is there as the record has it: of a stump or a
// piece, that this is what was found.
func (e Entry) FoundWords() string {
	if e.Became != "" {
		return "As recorded: not whole"
	}
	if _, words := Unrecorded(e.Item, e.Occasion); words != "" {
		return "Found; " + words
	}
	return "Found as listed"
}

// CannotSee is the answer that it cannot be seen now: why, and when to look again.
func (e Entry) CannotSee(why string, lookAgainBy schema.Moment) ledger.CheckView {
	c := e.answer(ledger.CannotSee)
	c.Note, c.LookAgainBy = why, lookAgainBy
	return c
}

// Differs is the answer that it is there, and differs.
func (e Entry) Differs(what ...ledger.Difference) ledger.CheckView {
	c := e.answer(ledger.Differs)
	c.Differs = what
	return c
}

func (e Entry) answer(a ledger.Answer) ledger.CheckView {
	return ledger.CheckView{Item: ledger.ItemID(e.Item.ID), Occasion: e.Occasion, Answer: a}
}

// Check is the check of all items on one occasion, as far as it has come.
type Check struct {
	Note     ledger.NoteID
	Occasion ledger.Occasion
	Entries  []Entry            // in the order they are looked at
	Extras   []ledger.CheckView // found and not listed
	Tally    ledger.Tally
	Closings []ledger.Closing // the names under it
	Next     int              // the first entry without an answer, or -1
}

// CheckOf is the check as the record has it: after an interruption it goes on
// where it stopped, because every answer is an event.
func CheckOf(rec *ledger.Record, note ledger.NoteID, o ledger.Occasion) Check {
	c := Check{Note: note, Occasion: o, Tally: rec.Tally(note, o), Closings: rec.Closings(note, o), Next: -1}
	var items []schema.Item
	for _, id := range c.Tally.Listed {
		if it, ok := itemIn(rec, note, id); ok {
			items = append(items, it)
		}
	}
	for _, it := range Sequence(items) {
		e := Entry{Item: it, Name: FullName(it), Place: Place(it), Occasion: o, Inside: inside(it), Counted: counted(it)}
		if e.Counted {
			e.Count = schema.ShowNumber(it.Decimal("count"))
		}
		if v, ok := rec.Item(ledger.ItemID(it.ID)); ok {
			e.Name, e.Became = NameNow(&v, it), Became(v)
		}
		e.Answer, e.Answered = rec.Check(note, o, ledger.ItemID(it.ID))
		if o == ledger.Arrival {
			if before, ok := rec.Check(note, ledger.Leaving, ledger.ItemID(it.ID)); ok {
				e.Before = &before
			}
		}
		if v, ok := rec.Item(ledger.ItemID(it.ID)); ok && len(c.Closings) > 0 {
			e.New = v.Clock > c.Closings[len(c.Closings)-1].Clock
		}
		if !e.Answered && c.Next < 0 {
			c.Next = len(c.Entries)
		}
		c.Entries = append(c.Entries, e)
	}
	for _, id := range c.Tally.Extra {
		if x, ok := rec.Check(note, o, id); ok {
			c.Extras = append(c.Extras, x)
		}
	}
	return c
}

// itemIn is the item as the note has it, or as the child's register has it.
func itemIn(rec *ledger.Record, note ledger.NoteID, id ledger.ItemID) (schema.Item, bool) {
	if tree := rec.Whole(note); tree != nil {
		if it, ok := tree.Item(string(id)); ok {
			return it, true
		}
	}
	return rec.Child().Item(string(id))
}

// ExtraFound is the answer that something is there which is not listed: under a
// fresh id, with words for what it is. If it is then listed, it is under that id.
func ExtraFound(id ledger.ItemID, o ledger.Occasion, what string) ledger.CheckView {
	return ledger.CheckView{Item: id, Occasion: o, Answer: ledger.Extra, Note: what}
}

// Ready tells whether the check can be closed with a name: every item has an
// answer, and every difference is settled or signed for.
func (c Check) Ready() bool { return c.Tally.Balances }

// Words is the tally in one sentence: "7 listed: 5 found, 1 differs, 1 not found."
func (c Check) Words() string {
	n := c.Tally.Counts
	var parts []string
	add := func(k int, words string) {
		if k > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", k, words))
		}
	}
	add(n.Found, "found")
	add(n.Differs, plural(n.Differs, "differs", "differ"))
	add(n.NotFound, "not found")
	add(n.CannotSee, "cannot be seen now")
	add(n.Inside, "inside, accounted for")
	add(n.Unanswered, "not answered")
	doubled := 0
	for _, e := range c.Entries {
		if e.Answered && e.Answer.Several {
			doubled++
		}
	}
	add(doubled, "answered in two ways")
	s := fmt.Sprintf("%d listed", n.Listed)
	if len(parts) > 0 {
		s += ": " + strings.Join(parts, ", ")
	}
	s += "."
	if n.Extra > 0 {
		s += fmt.Sprintf(" %d found and not listed.", n.Extra)
	}
	return s
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// StillOpen is what keeps the tally from balancing: of one item, or of something that
// is not listed.
type StillOpen struct {
	Item    ledger.ItemID
	Words   string
	Differs bool // it was answered, and the answer is to be settled
}

// Open lists what keeps the tally from balancing: one line an item.
func (c Check) Open() []StillOpen {
	var out []StillOpen
	for _, e := range c.Entries {
		id := ledger.ItemID(e.Item.ID)
		switch {
		case !e.Answered:
			out = append(out, StillOpen{id, fmt.Sprintf("%d %s: no answer yet", e.Item.Tag, e.Name), false})
		case slices.Contains(c.Tally.Unsettled, id):
			out = append(out, StillOpen{id, fmt.Sprintf("%d %s: %s", e.Item.Tag, e.Name, AnswerWords(e.Answer)), true})
		}
	}
	for _, x := range c.Extras {
		if slices.Contains(c.Tally.Unsettled, x.Item) {
			out = append(out, StillOpen{x.Item, "Not listed: " + orNotRecorded(x.Note), true})
		}
	}
	return out
}

// AnswerWords is an answer in words, with what differs, why and until when.
func AnswerWords(c ledger.CheckView) string {
	if c.Several {
		words := fmt.Sprintf("%s by %s", answers[c.Answer], c.Author)
		for _, o := range c.Others {
			words += fmt.Sprintf(", but %s by %s", answers[o.Answer], o.Author)
		}
		return words
	}
	words := answers[c.Answer]
	switch c.Answer {
	case ledger.Differs:
		var parts []string
		for _, d := range c.Differs {
			parts = append(parts, DifferenceWords(d))
		}
		if len(parts) > 0 {
			words += ": " + strings.Join(parts, "; ")
		}
	case ledger.CannotSee:
		words += " (" + orNotRecorded(c.Note) + "; look again by " + c.LookAgainBy.Shown() + ")"
		return words
	}
	if c.Note != "" {
		words += " (" + c.Note + ")"
	}
	return words
}

// DifferenceWords is one difference in words: "suction is 5 cmH2O, listed 10 cmH2O".
func DifferenceWords(d ledger.Difference) string {
	s := AttributeName(d.Field)
	if d.Field == FieldOther || s == "" {
		return orNotRecorded(d.Bedside)
	}
	if d.Field == "variety" {
		s, d.Bedside, d.Sheet = "it", lower(orNotRecorded(d.Bedside)), lower(orNotRecorded(d.Sheet))
	}
	return fmt.Sprintf("%s is %s, listed %s", s, orNotRecorded(d.Bedside), orNotRecorded(d.Sheet))
}

// AttributeName is what an attribute that can differ is called in a sentence.
func AttributeName(field string) string {
	if t, ok := titles()[field]; ok {
		return lower(t)
	}
	return field
}

// titles names the attributes that can differ, each as most kinds name it: a tube's
// size is its inner diameter, and a drain's is not.
var titles = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	times := map[[2]string]int{}
	for _, k := range schema.ItemKinds() {
		for _, f := range k.Fields {
			times[[2]string{f.Name, f.Title}]++
			if best, ok := out[f.Name]; !ok || times[[2]string{f.Name, f.Title}] > times[[2]string{f.Name, best}] {
				out[f.Name] = f.Title
			}
		}
	}
	out[FieldTag], out["variety"] = "Tag", "What it is"
	return out
})

var answers = map[ledger.Answer]string{ledger.Found: "found", ledger.Differs: "differs", ledger.NotFound: "not found", ledger.Extra: "found and not listed",
	ledger.CannotSee: "cannot be seen now", ledger.Inside: "inside, accounted for", ledger.NoAnswer: "no answer"}

func orNotRecorded(s string) string {
	if s == "" {
		return schema.NotRecorded
	}
	return s
}
