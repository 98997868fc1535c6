package ledger

import (
	"strconv"
	"strings"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Said is one thing that was said of a child: who said what, and when.
type Said struct {
	Event     EventID
	Case      CaseID // the record it was written in; another than the child's own if joined
	Note      NoteID // "" if it is about the child
	Kind      string
	Path      schema.Path // of a value or a row
	Item      ItemID      // what it is about, if that is one item
	Undoes    []EventID   // of a retraction: what it takes back
	Words     string      // one sentence
	Author    Author
	Happened  schema.Moment
	Entered   schema.Moment
	Clock     Clock
	Retracted bool   // it no longer counts
	MovedTo   CaseID // of a retraction: the child to whom it was offered
	First     First  // where it was entered first, if that was on another child
}

// Account lists everything that was said of the child and of records joined to it,
// by clock: what was retracted too, and in words of its own what this version
// cannot read.
func (r *Record) Account() []Said {
	var out []Said
	for _, e := range r.all {
		if !r.cases[e.Case] {
			continue
		}
		s := Said{Event: e.ID, Case: e.Case, Note: e.Note, Kind: e.Kind, Author: e.Author, Happened: e.Happened, Entered: e.Entered, Clock: e.Clock,
			Retracted: e.how == read && (r.isVoid(e) || IsSignature(e.Kind) && r.openingVoid(e.Note)), First: e.First}
		c := changeOf(e)
		s.Path, s.Item = c.Path, c.Item
		about := e
		if b, ok := e.body.(*differenceSettled); ok && r.all[b.Check] != nil {
			about = r.all[b.Check]
		}
		switch b := about.body.(type) {
		case *registered:
			s.Item = b.Item
		case *itemChecked:
			s.Item = b.Item
		case *retracted:
			if e.Kind == KindRetracted && !s.Retracted && !r.retractionWithdrawn(e.ID) {
				s.Undoes, s.MovedTo = b.Events, b.OfferedTo
			}
		}
		if s.Words = r.Words(c); s.Words == "" {
			s.Words = r.otherWords(e)
		}
		out = append(out, s)
	}
	sorting.By(out, func(a, b Said) int {
		return before(&Event{Clock: a.Clock, ID: a.Event}, &Event{Clock: b.Clock, ID: b.Event})
	})
	return out
}

// otherWords says in one sentence what is not a change of the note.
func (r *Record) otherWords(e *entry) string {
	switch b := e.body.(type) {
	case *noteOpened:
		if k := schema.KindNamed(b.Kind); k != nil {
			return "A note was begun: " + k.Title + "."
		}
		return "A note of a newer kind was begun."
	case *itemChecked:
		return r.tagOf(b.Item) + ", check " + occasionWords[b.Occasion] + ": " + r.answerWords(b) + "."
	case *differenceSettled:
		words := "A difference was settled ("
		if of := r.all[b.Check]; of != nil {
			if x, ok := of.body.(*registered); ok {
				words = r.tagOf(x.Item) + ": what was said of it was settled ("
			}
		}
		words += orNotRecorded(b.How) + ")"
		if b.By != "" {
			words += ", signed for by " + b.By
		}
		return words + "."
	case *checkClosed:
		return "A name was put under the check " + occasionWords[b.Occasion] + "."
	case *amended:
		return "Why the signed note was changed: " + orNotRecorded(b.Why) + "."
	case *signed:
		return signedWords(e.Kind, b)
	case *offered:
		return count(len(b.Events), "entry") + " offered that stood on another child first (" + orNotRecorded(b.Why) + ")."
	case *offerAnswered:
		return r.answeredWords(b)
	case *roundClosed:
		return r.roundWords(b)
	case *registered:
		return r.tagOf(b.Item) + " " + registerWords(e.Kind, b.RegisterFacts) + "."
	case *discharged:
		words := "The stay ended: tags begin at 1 again."
		for _, c := range b.Asked {
			words += " Asked: " + c.What + " Answered: " + strings.TrimSuffix(orNotRecorded(c.Answer), ".") + "."
		}
		return words
	case *empty:
		if e.Kind == KindRoundOpened {
			return "The round of what is still needed was begun."
		}
		return "The record was begun."
	}
	return "Something that this version cannot read: " + e.Kind + "."
}

// answeredWords says what became of an offer, from the side on which it is read.
func (r *Record) answeredWords(b *offerAnswered) string {
	here := false
	if e := r.all[b.Offer]; e != nil {
		here = r.cases[e.Case]
	}
	did := "taken"
	switch {
	case b.Undone && here:
		return "What was offered from another child was brought back there: it is offered no more."
	case b.Undone:
		return "The answer to what was moved to another child was taken back there."
	case !b.Taken:
		did = "refused"
	}
	if here {
		return "What was offered from another child was " + did + "."
	}
	return "What was moved to another child was " + did + " there."
}

// tagOf names an item in a sentence, by its flag and what it is.
func (r *Record) tagOf(id ItemID) string {
	v, ok := r.Item(id)
	if !ok {
		return "Something not listed"
	}
	return "Tag " + strconv.Itoa(v.Tag) + " (" + r.thing(v) + ")"
}

// thing is what an item is: its variety, or its kind where that is not known.
func (r *Record) thing(v ItemView) string {
	k := schema.ItemKindNamed(v.Kind)
	if k == nil {
		return v.Kind
	}
	if f := k.Field("variety"); f != nil {
		if vs := r.Values("", schema.ItemPath(string(v.ID), "variety")); len(vs) == 1 {
			if text, ok := vs[0].Value.(string); ok && text != "" {
				return f.Label(text)
			}
		}
	}
	return k.Title
}

var occasionWords = map[Occasion]string{Leaving: "on leaving theatre", Arrival: "on arrival"}

func (r *Record) answerWords(b *itemChecked) string {
	words := string(b.Answer)
	switch b.Answer {
	case NoAnswer:
		return "the answer was taken back"
	case Found:
		words = "found as listed"
	case Extra:
		words = "found and not listed"
	case Inside:
		words = "inside, accounted for"
	}
	for _, d := range b.Differs {
		name := d.Field
		if v, ok := r.Item(b.Item); ok {
			if k := schema.ItemKindNamed(v.Kind); k != nil && k.Field(d.Field) != nil {
				name = strings.ToLower(k.Field(d.Field).Title)
			}
		}
		words += ", " + name + " " + d.Bedside
		if d.Sheet != "" {
			words += " where the sheet says " + d.Sheet
		}
	}
	if b.Note != "" {
		words += " (" + b.Note + ")"
	}
	return words
}

func signedWords(kind string, b *signed) string {
	switch kind {
	case KindSheetTold:
		return b.Who + " was told again, with the sheet as it stood."
	case KindSectionSigned:
		title := b.Section
		if s := schema.SectionNamed(b.Section); s != nil {
			title = s.Title
		}
		return "The section " + title + " was signed."
	}
	if b.Open > 0 {
		return "The note was signed with " + count(b.Open, "open item") + "."
	}
	return "The note was signed."
}

// registerWords says what happened to an item.
func registerWords(kind string, f RegisterFacts) string {
	words := happenedWords[kind]
	switch {
	case kind == KindNeedAnswered:
		words = neededWords[f.Needed]
	case kind == KindRemoved && f.NoneLeft():
		words = "is out, and nothing of it was left in"
	}
	var facts []string
	for _, x := range []struct{ answer, yes, no string }{{f.Complete, "all of it", "not all of it"}, {f.TipSeen, "tip seen", "tip not seen"},
		{f.Bleeding, "it bled", "no bleeding"}, {f.Planned, "planned", "not planned"}} {
		switch x.answer {
		case "yes":
			facts = append(facts, x.yes)
		case "no":
			facts = append(facts, x.no)
		case "":
		case NotKnown:
			facts = append(facts, "not known: "+x.yes)
		default: // of bleeding, how much in words
			facts = append(facts, "bleeding: "+x.answer)
		}
	}
	facts = append(facts, factWords(f)...)
	for _, s := range []string{f.To, string(f.Answer), f.Note} {
		if s != "" {
			facts = append(facts, s)
		}
	}
	if len(facts) > 0 {
		words += " (" + strings.Join(facts, "; ") + ")"
	}
	return words
}

// StayEnded is when the last stay ended that did, and who said so; ok is false
// while it is the first.
func (r *Record) StayEnded() (s Said, ok bool) {
	ends := sortedEntries(r.kinds[KindDischarged])
	if len(ends) == 0 {
		return s, false
	}
	e := ends[len(ends)-1]
	return Said{Event: e.ID, Case: e.Case, Kind: e.Kind, Author: e.Author, Happened: e.Happened, Entered: e.Entered, Clock: e.Clock}, true
}

// StayAsked are the questions that were asked before the last stay ended, each with
// its answer and the name of who decided.
func (r *Record) StayAsked() []Condition {
	ends := sortedEntries(r.kinds[KindDischarged])
	if len(ends) == 0 {
		return nil
	}
	b, _ := ends[len(ends)-1].body.(*discharged)
	if b == nil {
		return nil
	}
	return b.Asked
}
