//go:build !(js && wasm)

package ui

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// settleAll keeps what was done and waits until what is read meanwhile has come.
func settleAll(t *testing.T, s *Session, until func() bool) {
	t.Helper()
	for range 2000 {
		if err := keepNow(s); err != nil {
			t.Fatal(err)
		}
		s.early.Lock()
		done := until()
		s.early.Unlock()
		if done {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatal("what was waited for did not come")
}

// twoRecords are two records of one child, begun apart; the first is on screen.
func twoRecords(t *testing.T) (s *Session, other *ledger.Record) {
	t.Helper()
	s, _, _ = begun(t)
	put := func(c *Child, given string) {
		for p, v := range map[schema.Path]string{schema.ChildSurname: "Invented", schema.ChildGivenName: given, schema.ChildBirthDate: "2026-07-10"} {
			c.act(c.writer.Set(c.rec, "", p, ledger.Entry{Value: v}))
		}
	}
	put(s.child, "Ada")
	id := ledger.CaseID(s.ids.New())
	w := ledger.NewWriter(id, s.writerID, ledger.Author{Name: "N. Nurse", Role: "intensive-care nurse"}, s.clock, s.ids, s.now)
	other = ledger.FoldCase(id, []ledger.Event{w.OpenCase()})
	note := w.NewNote()
	other.Apply(w.OpenNote(note, schema.Closure))
	for p, v := range map[schema.Path]string{schema.ChildSurname: "INVENTED", schema.ChildGivenName: "Ada", schema.ChildBirthDate: "2026-07-10"} {
		other.Apply(w.Set(other, "", p, ledger.Entry{Value: v}))
	}
	other.Apply(w.ListItem(note, w.NewItem(), "drain", 1))
	s.keeper.append(other.Events())
	s.keeper.whenKept(s.readList)
	settleAll(t, s, func() bool { return len(s.list) == 2 })
	return s, other
}

func drawn(t *testing.T, ui app.UI) string {
	t.Helper()
	return app.HTMLString(ui)
}

func TestJoinAndPart(t *testing.T) {
	s, other := twoRecords(t)
	like := s.likenesses()
	if len(like) != 1 || like[0].Line.Case != other.Case() || like[0].Why != "the same name and date of birth" {
		t.Fatalf("proposed: %+v", like)
	}
	if len(s.child.rec.Joined()) != 0 {
		t.Fatal("joined without being told to")
	}
	s.joinWith(other.Case(), "read both wristbands")
	settleAll(t, s, func() bool { return len(s.list) == 1 && len(s.child.rec.Notes()) == 2 })
	if got := len(s.child.rec.ItemsIn()); got != 1 {
		t.Errorf("joined, %d things are in, want the other record's one", got)
	}
	if len(s.likenesses()) != 0 {
		t.Error("joined, the other record is still proposed")
	}
	if l := s.list[0]; !l.is(other.Case()) || !l.is(s.child.id) {
		t.Errorf("the one line stands for %v", l.Cases)
	}
	// Opened from the other side it is the same child, once the joining is kept.
	settleAll(t, s, func() bool {
		rec, err := ledger.Load(context.Background(), s.store, other.Case())
		return err == nil && len(rec.Notes()) == 2
	})
	words := drawn(t, s.joinedPart())
	if !strings.Contains(words, "Two records, joined") || !strings.Contains(words, "read both wristbands") {
		t.Errorf("the page says %s", words)
	}
	s.part(s.child.rec.Links()[0], "twins after all")
	settleAll(t, s, func() bool { return len(s.list) == 2 })
	if len(s.child.rec.Notes()) != 1 || len(s.child.rec.ItemsIn()) != 0 || s.child.loaded[other.Case()] {
		t.Error("parted, the other record still shows")
	}
	if f := s.child.rec.Faults(); len(f) > 0 {
		t.Errorf("parted, faults: %v", f)
	}
	if like := s.likenesses(); len(like) != 1 || !strings.Contains(like[0].Was, "twins after all") {
		t.Errorf("that they were parted is not said: %+v", like)
	}
	s.joinWith(other.Case(), "one child, shown by the number")
	settleAll(t, s, func() bool { return len(s.list) == 1 && len(s.child.rec.Notes()) == 2 })
}

func TestMoveToTheRightChild(t *testing.T) {
	s, other := twoRecords(t)
	here := s.child
	note := s.place.Note
	here.act(here.writer.Set(here.rec, note, schema.MeasuresWeight, ledger.Number("3.2")))
	row := here.writer.NewRow()
	here.act(here.writer.AddRow(here.rec, note, "child.allergies", row)...)
	substance := schema.FieldAt("child.allergies").Rows[0].Name
	here.act(here.writer.Set(here.rec, note, schema.RowPath("child.allergies", row, substance), ledger.Entry{Value: "Latex"}))
	here.act(here.writer.As(ledger.Author{Name: "B. Other"}).Set(here.rec, note, schema.GasLactate, ledger.Number("2.1")))
	w := s.wrongChildPart().(*wrongChild)
	for _, l := range movable(here.rec, s.who) {
		if l.Author != s.who {
			t.Errorf("somebody else's entry can be moved: %s", l.Words)
		}
		if l.Kind == ledger.KindNoteOpened && !strings.HasPrefix(l.Words, "The whole note Stage 1") {
			t.Errorf("a note is not named as a whole: %s", l.Words)
		}
		w.choose(l.Event, l.Path == schema.MeasuresWeight || l.Path.List() == "child.allergies" || l.Path == "child.allergies")
	}
	for _, lack := range []struct {
		do   func()
		want string
	}{{func() {}, "Choose the child"}, {func() { here.halfTyped(halfWrongTo, string(other.Case())) }, "Say why"}} {
		lack.do()
		if w.move(); !strings.HasPrefix(w.lacks, lack.want) || here.rec.Note(note).Decimal(schema.MeasuresWeight) != "3.2" {
			t.Errorf("lacking: %q, want %q", w.lacks, lack.want)
		}
	}
	here.halfTyped(halfWrongWhy, "two tablets lay on one bed")
	w.move()
	if here.rec.Note(note).Has(schema.MeasuresWeight) || len(here.rec.Child().Rows("child.allergies")) != 0 {
		t.Error("what was moved still counts here")
	}
	if here.rec.Note(note).Decimal(schema.GasLactate) != "2.1" {
		t.Error("what another entered was moved too")
	}
	settleAll(t, s, func() bool { return slices.ContainsFunc(s.list, func(l listed) bool { return l.Offers > 0 }) })

	rec, err := ledger.Load(context.Background(), s.store, other.Case())
	if err != nil {
		t.Fatal(err)
	}
	s.child = s.newChildOf(rec)
	offers := rec.Offers()
	if len(offers) == 0 || rec.Note(rec.Notes()[0].ID).Has(schema.MeasuresWeight) {
		t.Fatalf("offered: %+v; nothing may change before it is taken", offers)
	}
	if words := drawn(t, s.offersPart()); !strings.Contains(words, "two tablets lay on one bed") || !strings.Contains(words, "3.2 kg (A. Surgeon (surgeon), ") {
		t.Errorf("the offer says %s", words)
	}
	into := ledger.Into{Note: rec.Notes()[0].ID}
	if lacks := s.takeOffer(offers[0], into); lacks != "" {
		t.Fatal(lacks)
	}
	n := s.child.rec.Note(rec.Notes()[0].ID)
	if n.Decimal(schema.MeasuresWeight) != "3.2" || len(s.child.rec.Child().Rows("child.allergies")) != 1 {
		t.Errorf("taken: weight %q, allergies %v", n.Decimal(schema.MeasuresWeight), s.child.rec.Child().Rows("child.allergies"))
	}
	if len(s.child.rec.Offers()) != 0 {
		t.Error("the offer still stands")
	}
	// The wrong child's record says where it went and who took it.
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	back, err := ledger.Load(context.Background(), s.store, here.id)
	if err != nil {
		t.Fatal(err)
	}
	s.child = s.newChildOf(back)
	if words := drawn(t, s.wrongChildPart()); !strings.Contains(words, "3 entries moved to INVENTED, Ada, ") || !strings.Contains(words, "Taken there by A. Surgeon (surgeon), ") || strings.Contains(words, "Bring it back here") {
		t.Errorf("the wrong child's page says %s", words)
	}
}

// A whole note with another's check and a signature: the screen says who else's entries go
// along and that it must be signed anew, before it moves, where it is offered, once it is
// taken and where it is signed; until it is taken it can be brought back.
func TestMoveASignedNote(t *testing.T) {
	s, other := twoRecords(t)
	here, note := s.child, s.place.Note
	nurse := here.writer.As(ledger.Author{Name: "N. Nurse", Role: "intensive-care nurse"})
	drain := here.writer.NewItem()
	here.act(here.writer.ListItem(note, drain, "drain", 1))
	here.act(nurse.Check(here.rec, note, ledger.CheckView{Item: drain, Occasion: ledger.Leaving, Answer: ledger.Found}))
	here.act(nurse.CloseCheck(here.rec, note, ledger.Leaving))
	here.act(here.writer.SignNote(here.rec, note, 3))
	w := s.wrongChildPart().(*wrongChild)
	whole := movable(here.rec, s.who)[0]
	if whole.Kind != ledger.KindNoteOpened {
		t.Fatalf("first stands %s", whole.Words)
	}
	w.choose(whole.Event, true)
	says := func(when string, ui app.UI, want ...string) {
		t.Helper()
		words := drawn(t, ui)
		for _, x := range want {
			if !strings.Contains(words, x) {
				t.Errorf("%s it does not say %q: %s", when, x, words)
			}
		}
	}
	says("before it moves", w, "5 entries would move, of them 1 that others entered and that go along: N. Nurse (intensive-care nurse).", "The note was signed with 3 open items (A. Surgeon (surgeon), ", "it must be signed there anew")
	move := func() {
		here.halfTyped(halfWrongTo, string(other.Case()))
		here.halfTyped(halfWrongWhy, "wrong tablet")
		w.choose(whole.Event, true)
		if w.move(); w.lacks != "" {
			t.Fatal(w.lacks)
		}
	}
	move()
	says("moved", s.wrongChildPart(), "5 entries moved to INVENTED, Ada, ", "Nobody there has taken or refused it yet: it counts nowhere.", "Bring it back here")
	here.act(here.writer.BringBack(here.rec, here.rec.Moves()[0].Retraction, "brought back")...)
	if len(here.rec.Notes()) != 1 || here.standing(note).Signed == nil {
		t.Fatal("brought back, it is not there again")
	}
	move()
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	rec, err := ledger.Load(context.Background(), s.store, other.Case())
	if err != nil {
		t.Fatal(err)
	}
	s.child = s.newChildOf(rec)
	if n := len(rec.Offers()); n != 1 {
		t.Fatalf("%d offers", n)
	}
	says("offered", s.offersPart(), "The whole note Stage 1", "It was signed on the other child. That does not hold here", "The note was signed with 3 open items", "N. Nurse")
	if lacks := s.takeOffer(rec.Offers()[0], ledger.Into{}); lacks != "" {
		t.Fatal(lacks)
	}
	if !slices.ContainsFunc(s.notices, func(n notice) bool {
		return strings.Contains(n.words, "What wore tag 1 is tag 2 here") && strings.Contains(n.words, "sign it anew") && n.do != ""
	}) {
		t.Errorf("taken, the notices are %+v", s.notices)
	}
	c, _ := rec.Check(note, ledger.Leaving, drain)
	if c.Answer != ledger.Found || c.Author.Name != "N. Nurse" {
		t.Errorf("the nurse's check is %+v", c)
	}
	review := &reviewPane{S: s, Place: Place{Screen: "review", Case: rec.Case(), Note: note}, Who: s.who}
	says("under review", review, "This was taken over from another child, and was signed there.", "The note was signed with 3 open items")
	says("at the check", &checkPane{S: s, Note: note, Occasion: ledger.Leaving, Place: review.Place}, "A name was put under the check on leaving theatre (N. Nurse")
	s.child.act(s.child.writer.SignNote(rec, note, 0))
	if words := drawn(t, review.draw()); strings.Contains(words, "taken over from another child") {
		t.Error("signed anew, and it says still that it must be")
	}
}

func TestGoingHome(t *testing.T) {
	s, _, _ := begun(t)
	c := s.child
	list := func(kind string) ledger.ItemID {
		id := c.writer.NewItem()
		c.act(c.writer.ListItem(s.place.Note, id, kind, c.rec.NextTag()))
		return id
	}
	drain, wires, shunt := list("drain"), list("pacing-wires"), list("implant")
	h := &homePane{S: s, Case: c.id, Who: s.who}
	h.end()
	if _, ended := c.rec.StayEnded(); ended || !strings.Contains(h.lacks, "2 things are not answered: tags 1, 2.") {
		t.Fatalf("ended with things unanswered, or without words: %q", h.lacks)
	}
	out := func(facts ledger.RegisterFacts) ledger.Event {
		return c.writer.Happen(ledger.KindRemoved, drain, facts)
	}
	h.take(drain, out(ledger.RegisterFacts{Complete: "no"}))
	if len(unanswered(c.rec)) != 2 {
		t.Error("a drain of which a part is left counts as out")
	}
	h.take(drain, out(ledger.RegisterFacts{Complete: "yes", Note: "the rest, in theatre"}))
	h.take(wires, c.writer.GoHome(wires, "ward", "in a week"))
	h.take(wires, c.writer.Happen(ledger.KindConfirmed, wires, ledger.RegisterFacts{})) // the answer taken back
	if open := unanswered(c.rec); len(open) != 1 || open[0].ID != wires {
		t.Fatalf("not answered: %v", open)
	}
	c.halfTyped(halfWard, "yes")
	c.halfTyped(halfKnows+string(wires), "ward")
	h.take(wires, c.writer.Transfer(wires, "Ward 4", "ward", "in a week"))
	if c.half[halfKnows+string(wires)] != "" {
		t.Error("what was half said of a thing is kept after it was recorded")
	}
	if h.end(); !strings.HasPrefix(h.lacks, "Say which ward") {
		t.Errorf("ended to nowhere: %q", h.lacks)
	}
	c.halfTyped(halfWhere, "Ward 4")
	h.end()
	if ended, ok := c.rec.StayEnded(); !ok || ended.Author != s.who {
		t.Fatalf("the stay did not end: %q", h.lacks)
	}
	// Flags begin anew, but not on one that something still bears.
	if got := c.rec.NextTag(); got != 1 {
		t.Errorf("the next tag is %d, want 1: the drain is out", got)
	}
	c.act(c.writer.OpenNote(c.writer.NewNote(), schema.Stage2)) // the next stay begins
	if open := unanswered(c.rec); len(open) != 1 || open[0].ID != wires {
		t.Errorf("in the next stay what is still in is not asked of again: %v", open)
	}
	if v, _ := c.rec.Item(shunt); !v.Where.In() {
		t.Error("the shunt is gone from the record")
	}
}

func TestAccountIsFoundByWords(t *testing.T) {
	s, _ := full(t)
	a := s.accountPart().(*accountPane)
	a.open, a.most = true, atOnce
	all := a.found()
	if len(all) != s.child.rec.Len() {
		t.Errorf("%d lines of %d events", len(all), s.child.rec.Len())
	}
	for _, l := range all {
		if l.Words == "" || l.Author.Name == "" || l.Happened.IsZero() {
			t.Errorf("a line without words, name or time: %+v", l)
		}
		if strings.Contains(l.Words, "cannot read") {
			t.Errorf("%s", l.Words)
		}
	}
	if !slices.IsSortedFunc(all, func(x, y saidLine) int { return strings.Compare(string(y.Clock), string(x.Clock)) }) {
		t.Error("not the newest first")
	}
	a.words = "weight SURGEON"
	some := a.found()
	if len(some) == 0 || len(some) == len(all) {
		t.Fatalf("%d of %d lines found", len(some), len(all))
	}
	for _, l := range some {
		if !strings.Contains(l.plain, "weight") || !strings.Contains(l.plain, "surgeon") {
			t.Errorf("found without the words: %s", l.plain)
		}
	}
	if a.oldest = true; a.found()[0].Event != some[len(some)-1].Event {
		t.Error("the oldest is not first")
	}
}

// TestEraseSaysWhatGoesWithIt: erasing a child erases the records joined to it; the
// form names each before it does, and one that is parted again is not named and
// stays.
func TestEraseSaysWhatGoesWithIt(t *testing.T) {
	s, other := twoRecords(t)
	form := func() string {
		f := &eraseForm{S: s, Case: s.child.id, Version: s.child.rec.Version(), sure: true}
		return drawn(t, f.Render())
	}
	if words := form(); strings.Contains(words, "joined") || !strings.Contains(words, "Erase it") {
		t.Errorf("alone, it says %s", words)
	}
	s.joinWith(other.Case(), "one wristband")
	settleAll(t, s, func() bool { return len(s.list) == 1 && len(s.child.rec.Notes()) == 2 })
	words := form()
	for _, want := range []string{"erased too", "INVENTED", "Delayed sternal closure", "1 tag in", "Erase all 2 records", "part the two first"} {
		if !strings.Contains(words, want) {
			t.Errorf("the form does not say %q: %s", want, words)
		}
	}
	s.erase(s.child.id)
	settleAll(t, s, func() bool { return s.child == nil && len(s.list) == 0 })
	if cases, err := s.store.Cases(context.Background()); err != nil || len(cases) != 0 {
		t.Errorf("still here: %v, %v", cases, err)
	}
}

// Two people who said different things of one child while apart: the banner and the
// list show both, and not that nothing is recorded.
func TestBannerShowsWhatIsInDispute(t *testing.T) {
	s, o, _ := begun(t)
	other := ledger.NewWriter(s.child.id, ledger.WriterID(s.ids.New()), ledger.Author{Name: "B. Gas", Role: "anaesthetist"}, s.clock, s.ids, s.now)
	before := ledger.FoldCase(s.child.id, s.child.rec.Events())
	for at, two := range map[schema.Path][2]ledger.Entry{
		schema.MeasuresWeight:      {ledger.Number("3.6"), ledger.Number("3.2")},
		schema.ChildBirthDate:      {{Value: "2026-07-08"}, {Value: "2026-07-09"}},
		schema.ChildHospitalNumber: {{Value: "X1"}, {Value: "X2"}},
		schema.ChildSurname:        {{Value: "Alder"}, {Value: "Birch"}},
	} {
		mine := s.child.writer.Set(s.child.rec, o.id, at, two[0])
		theirs := other.Set(before, o.id, at, two[1])
		s.child.act(mine)
		s.child.act(theirs)
	}
	o.renew()
	shown := ""
	for _, part := range s.banner(screen{child: true}) {
		shown += app.HTMLString(part)
	}
	for _, want := range []string{"3.6 kg", "3.2 kg", "08-Jul-2026", "09-Jul-2026", "X1", "X2", "ALDER", "BIRCH"} {
		if !strings.Contains(shown, want) {
			t.Errorf("the banner does not show %s: %s", want, shown)
		}
	}
	if line := lineOf(s.child.rec); !strings.Contains(line.Weight, "3.6 kg or 3.2 kg") && !strings.Contains(line.Weight, "3.2 kg or 3.6 kg") {
		t.Errorf("the list: %q", line.Weight)
	}
}
