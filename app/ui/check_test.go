//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// arrival is the check on arrival of a child with one item, as a fresh screen has it.
func arrival(s *Session, note ledger.NoteID) *checkPane {
	return &checkPane{S: s, Note: note, Occasion: ledger.Arrival, Place: Place{Screen: "check", Case: s.child.id, Note: note, Part: "arrival"}}
}

func listIn(s *Session, note ledger.NoteID, kind string, fields map[string]ledger.Entry) ledger.ItemID {
	c := s.child
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(note, id, kind, c.rec.NextTag()))
	for name, e := range fields {
		set(s, c.open(note), schema.ItemPath(string(id), name), e)
	}
	return id
}

func entryOf(t *testing.T, p *checkPane, id ledger.ItemID) lines.Entry {
	t.Helper()
	for _, e := range lines.CheckOf(p.S.child.rec, p.Note, p.Occasion).Entries {
		if e.Item.ID == string(id) {
			return e
		}
	}
	t.Fatal("it is not in the check")
	return lines.Entry{}
}

// What is half entered of a difference, also what was added and not yet recorded, is
// there again after another row was open and after a reload; until it is recorded or
// left out no other answer takes its place, and the bar under the thumb offers none.
func TestHalfEnteredDifferenceStays(t *testing.T) {
	s, o, store := begun(t)
	id := listIn(s, o.id, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "left-atrial"}})
	p := arrival(s, o.id)
	a := &otherAnswer{Pane: p, Entry: entryOf(t, p, id), Key: string(id)}
	drawn(t, a.draw())
	a.Mode, a.Field, a.Value = "differs", "mark", "4.5"
	a.Found = []ledger.Difference{{Field: lines.FieldOther, Bedside: "dressing wet"}}
	a.keep()
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	drafts, err := store.Drafts(t.Context(), s.child.id)
	if err != nil {
		t.Fatal(err)
	}
	s.child = s.newChildOf(s.child.rec)
	s.child.takeDrafts(drafts, nil)

	p = arrival(s, o.id)
	html := drawn(t, p.draw())
	if p.open != id || strings.Contains(html, `id="next-found"`) || strings.Contains(html, `id="found-`) {
		t.Errorf("open is %q, and “found as listed” is offered over what is half entered", p.open)
	}
	again := &otherAnswer{Pane: p, Entry: entryOf(t, p, id), Key: string(id)}
	if html := drawn(t, again.draw()); again.Value != "4.5" || !strings.Contains(html, "Dressing wet") {
		t.Errorf("it is not there again: %+v", again.differing)
	}
	if !again.typedDifference() || again.lacks == "" {
		t.Error("another answer drops it without a word")
	}
	p.open = ""
	if html := drawn(t, p.draw()); !strings.Contains(html, "Half entered, not recorded yet") || !strings.Contains(html, "Go on…") || strings.Contains(html, `id="next-found"`) {
		t.Error("closed, and nothing says that it is half entered")
	}
	again.give(again.Entry.Differs(again.Found...))
	if p.halfSaid(string(id)) {
		t.Error("recorded, and still half entered")
	}
}

// A figure at the bed is judged as the note judges it, and kept with its unit.
func TestBedsideValueHasItsUnit(t *testing.T) {
	s, o, _ := begun(t)
	id := listIn(s, o.id, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "left-atrial"}})
	it := entryOf(t, arrival(s, o.id), id).Item
	for _, c := range []struct{ field, text, words, wrong string }{
		{"mark", "4.5", "4.5 cm", ""}, {"mark", "4.5 cm", "4.5 cm", ""}, {"mark", "4,5", "4.5 cm", ""}, {"mark", "4,500", "", "may mean 4.500 or 4500"}, {"mark", "45 mmHg", "", "has the unit mmHg"},
		{"mark", " ", "", "Say how it is"}, {lines.FieldOther, "4,5", "4,5", ""},
	} {
		words, wrong := bedsideValue(it, c.field, c.text)
		if words != c.words || (wrong == "") != (c.wrong == "") || !strings.Contains(wrong, c.wrong) {
			t.Errorf("%s %q: %q, %q", c.field, c.text, words, wrong)
		}
	}
}

// Packs are accounted for by number: where none is listed no single tap answers, and
// another number than the list's is a difference.
func TestPacksAreCounted(t *testing.T) {
	s, o, _ := begun(t)
	packs := listIn(s, o.id, "left-on-purpose", map[string]ledger.Entry{"variety": {Value: "packs"}})
	p := arrival(s, o.id)
	html := drawn(t, p.draw())
	if strings.Contains(html, `id="next-found"`) || strings.Contains(html, `id="found-`) || strings.Contains(html, `id="inside-`) || !strings.Contains(html, "How many?…") {
		t.Error("packs without a number are confirmed by one tap")
	}
	a := &otherAnswer{Pane: p, Entry: entryOf(t, p, packs), Key: string(packs)}
	drawn(t, a.draw())
	for _, wrong := range []string{"", "two", "0", "-1", "1.5", "<3"} {
		a.Count = wrong
		a.inside("by count")
		if a.lacks == "" || entryOf(t, p, packs).Answered {
			t.Errorf("%q is taken for a count", wrong)
		}
	}
	a.Count = "2"
	a.inside("by count")
	if e := entryOf(t, p, packs); e.Answer.Answer != ledger.Differs || e.Answer.Differs[0].Bedside != "2" || lines.CheckOf(s.child.rec, o.id, ledger.Arrival).Ready() {
		t.Errorf("two counted and no number listed: %+v", e.Answer)
	}
	set(s, o, schema.ItemPath(string(packs), "count"), ledger.Number("3"))
	e := entryOf(t, p, packs)
	if v := e.InsideCounted("by count", "3"); v.Answer != ledger.Inside || v.Note != "by count: 3" {
		t.Errorf("as listed: %+v", v)
	}
	if v := e.InsideCounted("by count", "2"); v.Answer != ledger.Differs {
		t.Errorf("one too few: %+v", v)
	}
}

// A piece that was left is asked about as what it is.
func TestPieceIsCheckedAsPiece(t *testing.T) {
	s, o, _ := begun(t)
	drain := listIn(s, o.id, "drain", map[string]ledger.Entry{"variety": {Value: "left-pleural"}})
	s.child.act(s.child.writer.Remove(drain, ledger.RegisterFacts{Complete: "no", TipSeen: "no", Note: "3 cm missing"}))
	html := drawn(t, arrival(s, o.id).draw())
	if strings.Contains(html, "Found as listed") || !strings.Contains(html, "Removed in part (not all of it came out, its tip was not seen, 3 cm missing), A. Surgeon") {
		t.Error("the piece is offered as found as listed")
	}
}

// What was not found does not stay listed as in because it was settled: it is off the
// list, lost, or its way out is asked for.
func TestNotFoundIsSettledByWhatBecameOfIt(t *testing.T) {
	for fate, want := range map[string]func(*Session, ledger.ItemView) bool{
		"": func(_ *Session, v ledger.ItemView) bool { return v.Where == ledger.InChild && !v.Withdrawn },
		"never": func(_ *Session, v ledger.ItemView) bool {
			return v.Withdrawn && strings.Contains(v.Why, "says the anaesthetist (B. Other)")
		},
		"lost": func(_ *Session, v ledger.ItemView) bool { return v.Where == ledger.Lost },
	} {
		s, o, _ := begun(t)
		id := listIn(s, o.id, "central-venous-line", map[string]ledger.Entry{"variety": {Value: "jugular"}})
		p := arrival(s, o.id)
		s.child.act(s.child.writer.Check(s.child.rec, o.id, entryOf(t, p, id).NotFound()))
		e := entryOf(t, p, id)
		f := &settleForm{Pane: p, Check: e.Answer.Event, Name: e.Name, Item: e.Item, Answer: e.Answer}
		s.child.halfTyped("settle-how-"+string(f.Check), "says the anaesthetist")
		s.child.halfTyped("settle-by-"+string(f.Check), "B. Other")
		s.child.halfTyped("settle-fate-"+string(f.Check), fate)
		f.save()
		if v, _ := s.child.rec.Item(id); !want(s, v) || (fate == "") != (f.lacks != "") {
			t.Errorf("%q: %+v %q", fate, v, f.lacks)
		}
		if fate == "" && !strings.Contains(drawn(t, f.draw()), "What became of it?") {
			t.Error("it is not asked")
		}
	}
}

// That it came out is asked in its place, as at the bedside; what is recorded there, in
// part too, settles it at once, and what is left in is what the row is headed with.
func TestNotFoundCameOut(t *testing.T) {
	s, o, _ := begun(t)
	id := listIn(s, o.id, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	p := arrival(s, o.id)
	s.child.act(s.child.writer.Check(s.child.rec, o.id, entryOf(t, p, id).NotFound()))
	e := entryOf(t, p, id)
	f := &settleForm{Pane: p, Check: e.Answer.Event, Name: e.Name, Item: e.Item, Answer: e.Answer}
	fate := "settle-fate-" + string(f.Check)
	s.child.halfTyped(fate, "out")
	if html := drawn(t, f.draw()); !strings.Contains(html, "Did all of it come out?") || !strings.Contains(html, "Not known: found out already") {
		t.Fatal("how it came out is not asked here")
	}
	f.bed.act = "-" // left without a record
	if html := drawn(t, f.draw()); !strings.Contains(html, "Settled, signed for") || s.child.half[fate] != "" {
		t.Error("left, and the form is there still")
	}
	s.child.halfTyped(fate, "out")
	drawn(t, f.draw())
	it, _ := s.child.register().Item(id)
	f.bed.keep(t, "out", it, map[string]string{"complete": "no", "note": "snapped"})
	html := drawn(t, p.draw())
	if !lines.CheckOf(s.child.rec, o.id, ledger.Arrival).Ready() || s.child.half[fate] != "" || !strings.Contains(html, "Part left in: mediastinal drain") || !strings.Contains(html, "Settled: removed in part") {
		t.Error("recorded in part, and not settled, or the piece is not what stands out")
	}
}

// What cannot be seen now is named, with its flag, where all else balances, until it was
// looked at.
func TestStillToBeLookedAt(t *testing.T) {
	s, o, _ := begun(t)
	id := listIn(s, o.id, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	p := arrival(s, o.id)
	s.child.act(s.child.writer.Check(s.child.rec, o.id, entryOf(t, p, id).CannotSee("under the dressing", s.now().Add(time.Hour))))
	for _, name := range []string{"A. One", "B. Two"} {
		s.child.act(s.child.writer.As(ledger.Author{Name: name, Role: "surgeon"}).CloseCheck(s.child.rec, o.id, ledger.Arrival))
	}
	html := drawn(t, p.draw())
	if strings.Contains(html, "alances") || strings.Contains(html, "is-balanced") || strings.Count(html, "Tag 1, Mediastinal drain: look again: under the dressing, by 14-Jul-2026 13:00.") != 2 || !strings.Contains(html, "Two names stand under it.") {
		t.Errorf("what is still to be looked at is not named:\n%s", html)
	}
	s.child.act(s.child.writer.At(s.now().Add(time.Minute)).Happen(ledger.KindChecked, id, ledger.RegisterFacts{}))
	if html := drawn(t, p.draw()); strings.Contains(html, "To be looked at still") || !strings.Contains(html, "is-balanced") {
		t.Error("it was looked at, and is named still")
	}
}

// "Found as listed" is not said of what is not listed: what is not recorded is named on
// the button and in the answer, and is taken beside it.
func TestWhatIsNotRecordedIsSaid(t *testing.T) {
	s, o, _ := begun(t)
	id := listIn(s, o.id, "airway", map[string]ledger.Entry{"variety": {Value: "oral-tube"}})
	p := arrival(s, o.id)
	e := entryOf(t, p, id)
	if got := e.FoundWords(); got != "Found; place and depth not recorded" {
		t.Errorf("the button says %q", got)
	}
	a := &otherAnswer{Pane: p, Entry: e, Key: string(id)}
	if html := drawn(t, a.draw()); !strings.Contains(html, "Not recorded: look, and enter it") || !strings.Contains(html, "Where it comes out") {
		t.Error("it cannot be recorded here")
	}
	lack, _ := lines.Unrecorded(e.Item, e.Occasion)
	f := &aboutForm{S: s, Item: e.Item, Note: o.id, Fields: lack}
	s.child.halfTyped(f.key("depth"), "ten")
	s.child.halfTyped(f.key("exit"), "mouth")
	f.save()
	if entryOf(t, p, id).Item.Text("exit") != "" || f.wrong["depth"] == "" {
		t.Errorf("“ten” is taken for a depth: %v", f.wrong)
	}
	s.child.halfTyped(f.key("depth"), "")
	f.save()
	if e = entryOf(t, p, id); e.FoundWords() != "Found; depth not recorded" || e.Found().Note != "depth not recorded" {
		t.Errorf("with its place: %q, %q", e.FoundWords(), e.Found().Note)
	}
	set(s, o, schema.ItemPath(string(id), "depth"), ledger.Number("10"))
	if e = entryOf(t, p, id); e.FoundWords() != "Found as listed" || e.Found().Note != "" {
		t.Errorf("all recorded: %q, %q", e.FoundWords(), e.Found().Note)
	}
}

// What was found and not listed is listed under its id with what was said of it as its
// remark: of an answer on arrival before one on leaving, and in the note it is listed in
// or in the register alone.
func TestListFound(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	for i, note := range []ledger.NoteID{o.id, ""} {
		id := ledger.ItemID(s.ids.New())
		says := []string{"in the left foot, capped", "said on leaving"}
		c.act(c.writer.Check(c.rec, o.id, lines.ExtraFound(id, ledger.Leaving, "said on leaving")))
		if i == 0 {
			c.act(c.writer.Check(c.rec, o.id, lines.ExtraFound(id, ledger.Arrival, says[0])))
		}
		tag := c.rec.NextTag()
		c.act(c.listFound(note, id, "peripheral-cannula", tag)...)
		v, ok := c.rec.Item(id)
		it, _ := c.rec.Child().Item(string(id))
		if !ok || v.Tag != tag || v.Kind != "peripheral-cannula" || v.Note != note || it.Text("remark") != says[i] {
			t.Errorf("listed in %q: %+v, remark %q", note, v, it.Text("remark"))
		}
	}
	// What no check found has nothing said of it, and is listed all the same.
	id := ledger.ItemID(s.ids.New())
	if events := c.listFound(o.id, id, "drain", c.rec.NextTag()); len(events) != 1 || events[0].Kind != ledger.KindItemListed {
		t.Errorf("nothing was said of it: %+v", events)
	}
}

// What stands at the bed is offered to the list, and goes there only if that is said.
func TestDifferenceIsTakenIntoTheList(t *testing.T) {
	s, o, _ := begun(t)
	id := listIn(s, o.id, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "left-atrial"}})
	p := arrival(s, o.id)
	for i, take := range []bool{false, true} {
		d := ledger.Difference{Field: "mark", Bedside: []string{"4.5 cm", "5 cm"}[i]}
		s.child.act(s.child.writer.Check(s.child.rec, o.id, entryOf(t, p, id).Differs(d)))
		e := entryOf(t, p, id)
		f := &settleForm{Pane: p, Check: e.Answer.Event, Item: e.Item, Answer: e.Answer}
		if html := drawn(t, f.draw()); !strings.Contains(html, d.Bedside+", as found") {
			t.Error("it is not offered")
		}
		s.child.halfTyped("settle-how-"+string(f.Check), "measured again")
		f.save()
		if f.lacks != "Say what the list is to say." {
			t.Errorf("what the list holds is not asked: %q", f.lacks)
		}
		s.child.halfTyped("settle-take-mark-"+string(f.Check), map[bool]string{true: "yes", false: "no"}[take])
		f.save()
		if got := entryOf(t, p, id).Item.Decimal("mark"); got != map[bool]string{true: "5"}[take] {
			t.Errorf("take it: %t, and the list has %q", take, got)
		}
	}
	if _, ok := takenUp(entryOf(t, p, id).Item, ledger.Difference{Field: lines.FieldOther, Bedside: "wet"}); ok {
		t.Error("what is no attribute is offered to the list")
	}
}

// A pack that came out at the bed after the closure note was begun is not said to be
// listed still; one that is in is.
func TestClosureKnowsWhatCameOutAtTheBed(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	packs := listIn(s, o.id, "left-on-purpose", map[string]ledger.Entry{"variety": {Value: "packs"}, "count": ledger.Number("2")})
	closure := c.writer.NewNote()
	c.act(c.writer.OpenNote(closure, schema.Closure))
	n := c.open(closure)
	set(s, n, schema.ClosingSternum, ledger.Entry{Value: "closed"})
	set(s, n, schema.CountsPacksLeft, ledger.Number("0"))
	found := func() (rules []string) {
		for _, p := range n.all() {
			if p.Rule == "closed-chest-with" || strings.Contains(p.What, "the items listed make") {
				rules = append(rules, p.What)
			}
		}
		return rules
	}
	if got := found(); len(got) != 2 {
		t.Errorf("with two packs in: %q", got)
	}
	c.act(c.writer.Remove(packs, ledger.RegisterFacts{Complete: "yes"}))
	if got := found(); len(got) != 0 {
		t.Errorf("they are out: %q", got)
	}
}

// What is not settled at a check is named on the review screen too, and each name leads
// to where it is settled.
func TestUnsettledDifferenceIsALink(t *testing.T) {
	s, o, _ := begun(t)
	id := listIn(s, o.id, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	listIn(s, o.id, "drain", map[string]ledger.Entry{"variety": {Value: "right-pleural"}})
	p := arrival(s, o.id)
	p.give(entryOf(t, p, id).NotFound())
	to := `href="` + p.Place.Path() + "#check-" + string(id) + `"`
	review := &reviewPane{S: s, Place: Place{Screen: "review", Case: s.child.id, Note: o.id}, Who: s.who}
	if html := drawn(t, review.draw()); strings.Count(html, to) != 1 || !strings.Contains(html, "1 Mediastinal drain: not found") {
		t.Errorf("on the review screen the difference is no link: %s", html)
	}
	html := drawn(t, p.draw())
	if !strings.Contains(html, to) || !strings.Contains(html, `id="check-`+string(id)+`"`) || strings.Count(html, `tabindex="-1"`) < 2 {
		t.Errorf("under the check the difference is no link, or there is no place it leads to: %s", html)
	}
}
