package ledger

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// The rules of the problems that a record itself can have.
const (
	RuleDisagreement   = "disagreement"
	RuleRowClash       = "row-removed-and-changed"
	RuleNoneAndRows    = "none-and-entries"
	RuleItemClash      = "item-withdrawn-and-changed"
	RuleTagTwice       = "tag-twice"
	RuleTagsDiffer     = "tags-differ"
	RuleOutAndFound    = "item-out-and-found"
	RuleItemLost       = "item-lost"
	RuleLeftInPart     = "item-left-in-part"
	RuleAnswersDiffer  = "answers-differ"
	RuleItemNotListed  = "item-not-listed"
	RulePacksExpected  = "packs-expected"
	RuleJoinDisputed   = "join-disputed"
	RuleMovedTwice     = "moved-and-brought-back"
	FaultTwoBodies     = "one-id-two-bodies"
	FaultUnknown       = "newer-events"
	FaultUnreadable    = "unreadable-events"
	FaultOtherChild    = "events-of-another-child"
	FaultClockAhead    = "clock-ahead"
	FaultNoteNotOpened = "note-not-opened"
	FaultNoteTwoKinds  = "note-of-two-kinds"
)

// Problems lists what in the record stands in the way of a sure note: values that
// disagree, rows and items removed by one and changed by another, tags that stand
// twice. They are found in a note's rules' manner: data, with what to do.
func (r *Record) Problems(note NoteID) []schema.Problem {
	var out []schema.Problem
	add := func(rule string, p schema.Path, sev schema.Severity, what, do string) {
		out = append(out, schema.Problem{Rule: rule, Path: p, Severity: sev, Section: p.Section(), What: what, Do: do})
	}
	whole := r.Whole(note)
	for _, d := range r.Disagreements() {
		if d.Note != "" && d.Note != note {
			continue
		}
		f := r.fieldOf(d.Path)
		var said []string
		for _, v := range d.Values {
			said = append(said, fmt.Sprintf("%s says %s", v.Author, v.Shown(f, whole)))
		}
		add(RuleDisagreement, d.Path, schema.Error,
			fmt.Sprintf("%s: %s.", r.nameOf(d.Path, f), strings.Join(said, "; ")),
			"Choose the value that is right.")
	}
	for _, rw := range r.sortedRows() {
		if rw.key.note != "" && rw.key.note != note {
			continue
		}
		if r.rowState(rw).clash {
			_, removes := partition(rw.presence.now(), KindRowAdded)
			f := schema.FieldAt(rw.list)
			add(RuleRowClash, schema.RowPath(rw.list, rw.id, ""), schema.Error,
				fmt.Sprintf("%s: an entry was removed by %s, and changed by another who had not seen that.", r.nameOf(rw.list, f), removes[len(removes)-1].Author),
				"Look at the entry and keep it, or remove it again.")
		}
	}
	for _, s := range r.slots {
		if s.key.kind != fieldSlot || s.key.note != "" && s.key.note != note || whole == nil {
			continue
		}
		p := schema.Path(s.key.name)
		now := s.now()
		if e := now[len(now)-1].body.(*fieldBody).entry; e.Stated != "" && len(whole.Rows(p)) > 0 {
			f := schema.FieldAt(p)
			add(RuleNoneAndRows, p, schema.Error,
				fmt.Sprintf("%s: %s says %q, and there are entries.", r.nameOf(p, f), now[len(now)-1].Author, schema.ShowStated(f, e.Stated)),
				"Remove the entries, or take the answer back.")
		}
	}
	out = append(out, r.itemProblems(note)...)
	out = append(out, r.packProblems(note, whole)...)
	schema.SortProblems(out)
	return out
}

func (r *Record) itemProblems(note NoteID) []schema.Problem {
	var out []schema.Problem
	view, opened := r.NoteView(note)
	add := func(rule string, id ItemID, what, do string) {
		out = append(out, schema.Problem{Rule: rule, Path: schema.ItemPath(string(id), "tag"), Severity: schema.Error, Section: itemsSection, What: what, Do: do})
	}
	ask := func(rule string, id ItemID, what, do string) {
		add(rule, id, what, do)
		out[len(out)-1].Severity = schema.Question
	}
	concerns := map[ItemID]ItemView{}
	for _, v := range r.listing() {
		if !opened || v.Note == note || r.inAlready(v, view.ID) {
			concerns[v.ID] = v
		}
	}
	for _, v := range r.listing() {
		if _, ok := concerns[v.ID]; !ok || v.Withdrawn {
			continue
		}
		if v.Clash {
			add(RuleItemClash, v.ID, fmt.Sprintf("Tag %d was withdrawn (%s), and changed or checked by another who had not seen that.", v.Tag, orNotRecorded(v.Why)),
				"Look at the child: keep the item, or withdraw it again.")
		}
		if len(v.Tags) > 1 {
			add(RuleTagsDiffer, v.ID, fmt.Sprintf("One item was given the tags %s.", joinInts(v.Tags)), "Look at its tag and choose the tag it wears.")
		}
		if found, ok := r.foundAfter(v); ok {
			add(RuleOutAndFound, v.ID, fmt.Sprintf("Tag %d was %s at %s, and found at the bed by %s at %s.", v.Tag, v.Where, v.SinceWords(), found.Author, found.Happened.Shown()),
				"Look at the child and record which is so.")
		}
		switch v.Where {
		case Lost:
			ask(RuleItemLost, v.ID, fmt.Sprintf("Tag %d could not be found (%s).", v.Tag, v.Since.Shown()), "Find it, or say how it is accounted for.")
		case RemovedPart, PerhapsPart:
			words := "did not come out complete"
			if v.Where == PerhapsPart {
				words = "is out, and perhaps not whole"
			}
			ask(RuleLeftInPart, v.ID, fmt.Sprintf("Tag %d %s (%s).", v.Tag, words, v.SinceWords()), "Say what is left and who was told.")
		}
		for _, o := range []Occasion{Leaving, Arrival} {
			if c, ok := r.Check(note, o, v.ID); ok && c.Several {
				add(RuleAnswersDiffer, v.ID, fmt.Sprintf("Tag %d: %s answered %q, and %s answered %q.", v.Tag, c.Others[0].Author, string(c.Others[0].Answer), c.Author, string(c.Answer)),
					"Look again and answer once more.")
			}
		}
	}
	twins := r.Twins()
	for _, tag := range slices.Sorted(maps.Keys(twins)) {
		ids := twins[tag]
		i := slices.IndexFunc(ids, func(id ItemID) bool { _, ok := concerns[id]; return ok })
		if i < 0 {
			continue
		}
		add(RuleTagTwice, ids[i], fmt.Sprintf("Tag %d stands on %d items.", tag, len(ids)), fmt.Sprintf("Give all but one of them a new tag; %d is free.", r.NextTag()))
	}
	for id := range r.items {
		all, _ := partition(r.items[id].presence.all, KindItemListed)
		if len(all) > 0 {
			continue
		}
		var by *entry
		for _, s := range r.onItem[id] {
			if e := s.now()[0]; (e.Note == note || e.Note == "") && (by == nil || before(&e.Event, &by.Event) < 0) {
				by = e
			}
		}
		if by != nil {
			add(RuleItemNotListed, id, fmt.Sprintf("%s recorded something of an item that is not listed.", by.Author),
				"List the item, or wait until the device it was listed on has shared it.")
		}
	}
	return out
}

// packProblems holds a note's counts of packs against those that lay in the child
// when it was opened: a pack that an earlier note left is accounted for before the
// chest is closed over it.
func (r *Record) packProblems(note NoteID, whole *schema.Note) []schema.Problem {
	view, ok := r.NoteView(note)
	if !ok || whole == nil || !slices.ContainsFunc(r.Notes(), func(n NoteView) bool { return earlier(n, view) }) {
		return nil // without an earlier note here, what it left is not known here
	}
	packs, known, tags := 0, true, []int(nil)
	for _, v := range r.listing() {
		if v.Kind != "left-on-purpose" || !r.inAlready(v, view.ID) {
			continue
		}
		it, ok := whole.Item(string(v.ID))
		if variety := it.Text("variety"); !ok || variety != "packs" && variety != "swabs" {
			continue
		}
		n, ok := it.Number("count")
		packs, known, tags = packs+int(n), known && ok, append(tags, v.Tag)
	}
	if !known {
		return nil // a pack without a number is asked for where it is listed
	}
	var out []schema.Problem
	for _, p := range []schema.Path{schema.CountsPacksIn, schema.RemovalsPacksExpected} {
		said, ok := whole.Number(p)
		if whole.Stated(p) == "none" {
			said, ok = 0, true
		}
		if f := schema.FieldAt(p); ok && f != nil && int(said) != packs {
			what := fmt.Sprintf("%s: %d, but the register has %d in the child", f.Title, int(said), packs)
			if len(tags) > 0 {
				what += fmt.Sprintf(" (tag %s)", joinInts(tags))
			}
			out = append(out, schema.Problem{Rule: RulePacksExpected, Path: p, Severity: schema.Error, Section: p.Section(), What: what + ".",
				Do: "Count again before the chest is closed, and correct the one that is wrong."})
		}
	}
	return out
}

// foundAfter is an answer that found an item which had left the child before.
func (r *Record) foundAfter(v ItemView) (CheckView, bool) {
	if v.Where != Removed && v.Where != Exchanged {
		return CheckView{}, false
	}
	var found *entry
	for _, s := range r.items[v.ID].checks {
		for _, e := range s.now() {
			b := e.body.(*itemChecked)
			if (b.Answer == Found || b.Answer == Differs) && e.Happened.After(v.Since) && (found == nil || before(&e.Event, &found.Event) < 0) {
				found = e
			}
		}
	}
	if found != nil {
		return r.checkView(found), true
	}
	for _, ev := range v.Events {
		if ev.Kind == KindChecked && ev.Facts.Answer == Found && ev.Happened.After(v.Since) {
			return CheckView{Item: v.ID, Answer: Found, Author: ev.Author, Happened: ev.Happened, Clock: ev.Clock, Event: ev.Event}, true
		}
	}
	return CheckView{}, false
}

func orNotRecorded(s string) string {
	if s == "" {
		return "why is not recorded"
	}
	return s
}

func joinInts(ns []int) string {
	var words []string
	for _, n := range ns {
		words = append(words, fmt.Sprint(n))
	}
	return strings.Join(words, " and ")
}

func (r *Record) sortedRows() []*row {
	rows := slices.Collect(maps.Values(r.rows))
	sorting.By(rows, func(a, b *row) int {
		return cmp.Or(cmp.Compare(a.key.note, b.key.note), cmp.Compare(a.key.name, b.key.name))
	})
	return rows
}

// fieldOf is the definition of a concrete path, or nil.
func (r *Record) fieldOf(p schema.Path) *schema.Field {
	if p.Section() != itemsSection {
		return schema.FieldAt(p)
	}
	if v, ok := r.Item(ItemID(p.Item())); ok {
		return schema.FieldAt(schema.Path(itemsSection + "." + v.Kind + strings.TrimPrefix(string(p), itemsSection+"."+p.Item())))
	}
	return nil
}

// nameOf is what a path is called in a sentence.
func (r *Record) nameOf(p schema.Path, f *schema.Field) string {
	name := string(p)
	if f != nil {
		name = f.Title
	}
	if p.Section() == itemsSection {
		if _, ok := r.Item(ItemID(p.Item())); ok {
			return r.tagOf(ItemID(p.Item())) + ", " + name
		}
	}
	return name
}

// placeOf is nameOf, with the entry of a list that it is in: "Procedures, in order
// 2, Procedure".
func (r *Record) placeOf(p schema.Path, f *schema.Field, note NoteID) string {
	name := r.nameOf(p, f)
	list, row := p.List(), p.Row()
	if row == "" || list == itemsSection {
		return name
	}
	of := r.nameOf(list, r.fieldOf(list))
	n := r.Whole(note)
	if p.Section() == itemsSection {
		n = r.Child()
	}
	if n != nil {
		if i := slices.Index(n.Rows(list), row); i >= 0 {
			of += " " + strconv.Itoa(i+1)
		}
		// What is chosen in an entry, such as the drug, tells it from the next.
		if parent := r.fieldOf(list); parent != nil {
			for _, sub := range parent.Rows {
				if at := schema.RowPath(list, row, sub.Name); len(sub.Enum) > 0 && sub.Type == "string" && at != p && n.Has(at) {
					of += " (" + schema.Show(sub, n, at) + ")"
					break
				}
			}
		}
	}
	if f != nil {
		name = f.Title
	}
	return of + ", " + name
}

// Fault is something wrong with the events themselves. Nothing is lost by it: the
// events are kept.
type Fault struct {
	Rule   string
	Events []EventID
	What   string // one sentence: what is wrong
	Do     string // one sentence: what to do
}

// Faults lists what is wrong with the events: one id with two bodies, events that
// a newer version wrote, bodies that cannot be read, events of another child, and
// what cannot be in the register.
func (r *Record) Faults() []Fault {
	var out []Fault
	for _, id := range slices.Sorted(maps.Keys(r.bodies)) {
		out = append(out, Fault{FaultTwoBodies, []EventID{id},
			fmt.Sprintf("Event %s came twice, saying different things. Both are kept; one of them counts.", id),
			"Compare the note with the paper, and tell whoever looks after this program: an event must never change."})
	}
	if es := sortedEntries(r.asides[unknown]); len(es) > 0 {
		var kinds []string
		for _, e := range es {
			k := fmt.Sprintf("%s, version %d", e.Kind, e.V)
			if !slices.Contains(kinds, k) {
				kinds = append(kinds, k)
			}
		}
		slices.Sort(kinds)
		out = append(out, Fault{FaultUnknown, idsOf(es),
			fmt.Sprintf("%s from a newer version of this program cannot be shown here (%s), and will be kept whole.", count(len(es), "event"), strings.Join(kinds, "; ")),
			"Update this program; until then do not rely on this record being complete."})
	}
	if es := sortedEntries(r.asides[unreadable]); len(es) > 0 {
		out = append(out, Fault{FaultUnreadable, idsOf(es),
			fmt.Sprintf("%s cannot be read, the first by %s at %s, and will be kept whole.", count(len(es), "event"), es[0].Author, es[0].Happened.Shown()),
			"Compare the note with the paper, and tell whoever looks after this program."})
	}
	if es := sortedEntries(r.strange()); len(es) > 0 {
		out = append(out, Fault{FaultOtherChild, idsOf(es),
			fmt.Sprintf("%s of another child cannot be shown here.", count(len(es), "event")),
			"If both records are of one child, join them."})
	}
	for _, id := range slices.Sorted(maps.Keys(r.notes)) {
		nd := r.notes[id]
		if len(nd.opened) == 0 && !r.openingVoid(id) {
			out = append(out, Fault{FaultNoteNotOpened, []EventID{nd.first.ID},
				fmt.Sprintf("The event that opened a note has not arrived; %s wrote in it.", nd.first.Author),
				"Import the record again from the device the note was begun on."})
		}
		for _, e := range nd.opened {
			if e.body.(*noteOpened).Kind != nd.opened[0].body.(*noteOpened).Kind {
				out = append(out, Fault{FaultNoteTwoKinds, idsOf(sortedEntries(nd.opened)),
					"One note was opened as two kinds of note; the first counts.", "Open a new note for the other kind."})
				break
			}
		}
	}
	for _, s := range r.slots {
		if s.key.kind != linkSlot {
			continue
		}
		if in, parted := partition(s.now(), KindCasesJoined); len(in) > 0 && len(parted) > 0 {
			out = append(out, Fault{RuleJoinDisputed, idsOf(s.now()),
				fmt.Sprintf("%s joined this record with another, and %s parted them. They are shown apart.", in[0].Author, parted[0].Author),
				"Decide together whether both are one child, and join or part them again."})
		}
	}
	out = append(append(out, r.movedFaults()...), r.registerFaults()...)
	sorting.By(out, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Rule, b.Rule), slices.Compare(a.Events, b.Events))
	})
	return out
}

// ClocksAhead finds the events whose writer's clock was more than MaxAhead ahead of
// now. They are kept and shown; the order in which they are listed is in doubt.
func (r *Record) ClocksAhead(now time.Time) []Fault {
	by := map[WriterID][]*entry{}
	for _, e := range r.all {
		if e.Clock.Ahead(now) {
			by[e.Writer] = append(by[e.Writer], e)
		}
	}
	var out []Fault
	for _, w := range slices.Sorted(maps.Keys(by)) {
		es := sortedEntries(by[w])
		out = append(out, Fault{FaultClockAhead, idsOf(es),
			fmt.Sprintf("%s by %s came from a device whose clock is ahead of this one by %s.", count(len(es), "event"), es[0].Author, words(es[len(es)-1].Clock.Time().Sub(now))),
			"Set the clock of one of the two devices right."})
	}
	return out
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	if stem, ok := strings.CutSuffix(what, "y"); ok && !strings.HasSuffix(stem, "a") {
		return fmt.Sprintf("%d %sies", n, stem)
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// words is a span in whole minutes, hours or days.
func words(d time.Duration) string {
	switch m := int(d.Minutes()); {
	case m < 120:
		return count(m, "minute")
	case m < 48*60:
		return count(m/60, "hour")
	default:
		return count(m/60/24, "day")
	}
}

// strange lists the events of children that were never joined to this one. What
// was parted is no fault.
func (r *Record) strange() []*entry {
	return slices.DeleteFunc(slices.Clone(r.foreign), func(e *entry) bool {
		for c := range r.cases {
			if s := r.slots[linkKey(c, e.Case)]; s != nil {
				in, parted := partition(s.now(), KindCasesJoined)
				return len(parted) > 0 && len(in) == 0
			}
		}
		return false
	})
}
