package ledger

import (
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/schema"
)

// ward is one record with people who write in it.
type ward struct {
	*bench
	t    *testing.T
	rec  *Record
	a, n *Writer // surgeon and nurse, each at a tab of their own
	note NoteID
}

func newWard(t *testing.T) *ward {
	t.Helper()
	b := newBench(5)
	child := CaseID(b.ids.New())
	w := &ward{bench: b, t: t, rec: FoldCase(child, nil), a: b.writer(child, "A. Example", "surgeon"), n: b.writer(child, "N. Example", "intensive-care nurse")}
	w.note = w.open(schema.Stage1)
	return w
}

func (w *ward) open(kind schema.Kind) NoteID {
	w.wall = w.wall.Add(time.Hour)
	note := w.a.NewNote()
	w.do(w.a.OpenNote(note, kind))
	return note
}

// do applies events a minute later, and holds the record against a fold anew.
func (w *ward) do(es ...Event) {
	w.t.Helper()
	w.wall = w.wall.Add(time.Minute)
	w.rec.Apply(es...)
	if got, want := fingerprint(w.rec), fingerprint(FoldCase(w.rec.Case(), w.rec.everything())); got != want {
		w.t.Fatalf("folded anew it differs:\n%s", firstDifference(got, want))
	}
}

func (w *ward) set(p schema.Path, e Entry) { w.t.Helper(); w.do(w.a.Set(w.rec, w.note, p, e)) }

func (w *ward) list(note NoteID, kind string) ItemID {
	w.t.Helper()
	id := w.a.NewItem()
	w.do(w.a.ListItem(note, id, kind, w.rec.NextTag()))
	return id
}

// problem is the one problem of a rule; it fails the test if there is none, or with
// want "" if there is one.
func (w *ward) problem(note NoteID, rule, want string) {
	w.t.Helper()
	for _, p := range w.rec.Problems(note) {
		if p.Rule == rule {
			if want == "" {
				w.t.Errorf("%s is found: %s", rule, p.What)
			} else if !strings.Contains(p.What, want) {
				w.t.Errorf("%s says %q, want it to say %q", rule, p.What, want)
			}
			return
		}
	}
	if want != "" {
		w.t.Errorf("%s is not found among %v", rule, w.rec.Problems(note))
	}
}

func TestTwoDisagree(t *testing.T) {
	w := newWard(t)
	p := schema.MeasuresWeight
	w.set(p, Number("3.0"))
	// Both saw 3.0; neither saw the other's.
	one := w.a.Set(w.rec, w.note, p, Number("3.2"))
	w.wall = w.wall.Add(time.Minute)
	two := w.n.Set(w.rec, w.note, p, Number("3.4"))
	w.do(one, two)
	d, ok := w.rec.Disagreement(w.note, p)
	if !ok || len(d.Values) != 2 || d.Values[0].Author.Name != "A. Example" || d.Values[1].Author.Name != "N. Example" {
		t.Fatalf("the disagreement is %+v, %v", d, ok)
	}
	if w.rec.Note(w.note).Has(p) {
		t.Error("one of two disagreeing values stands in the note as if it were sure")
	}
	w.problem(w.note, RuleDisagreement, "A. Example (surgeon) says 3.2 kg; N. Example (intensive-care nurse) says 3.4 kg")
	settle := w.n.Set(w.rec, w.note, p, Number("3.4"))
	w.do(settle)
	if got := w.rec.Note(w.note).Decimal(p); got != "3.4" || len(w.rec.Disagreements()) > 0 {
		t.Errorf("settled, the note says %q", got)
	}
	if h := w.rec.History(w.note, p); len(h) != 4 {
		t.Errorf("the history has %d entries, want 4", len(h))
	}
	es, ok := w.n.Undo(w.rec)
	if !ok {
		t.Fatal("settling cannot be undone")
	}
	w.do(es...)
	if len(w.rec.Disagreements()) != 1 {
		t.Error("undoing the settling does not bring the disagreement back")
	}
}

func TestEqualValuesAgree(t *testing.T) {
	w := newWard(t)
	for _, c := range []struct {
		path schema.Path
		a, b Entry
		same bool
	}{
		{schema.MeasuresWeight, Number("3.2"), Number("3.20"), true},
		{schema.MeasuresWeight, Number("320e-2"), Number("3.2"), true},
		{schema.MeasuresWeight, Number("0"), Number("-0.00"), true},
		{schema.MeasuresWeight, Number("3.2"), Number("-3.2"), false},
		{schema.MeasuresWeight, Number("3.2"), Number("32"), false},
		{schema.MeasuresWeight, Number("9007199254740993"), Number("9007199254740992"), false}, // the same as floats
		{schema.MeasuresWeight, Number("3.2"), Entry{Value: "3.2"}, false},
		{schema.MeasuresWeight, Number("3"), Entry{Value: json.Number("3"), Bound: "<"}, false},
		{schema.MeasuresWeight, Stated("none"), Stated("unknown"), false},
		{schema.MeasuresWeight, Stated("none"), Entry{}, false},
		{"between.source", Entry{Value: []string{"a", "b"}}, Entry{Value: []string{"b", "a"}}, true},
		{"between.source", Entry{Value: []string{"a"}}, Entry{Value: []string{"a", "b"}}, false},
		{"between.source", Entry{Value: []string{}}, Entry{}, true},
		{"child.surname", Entry{Value: ""}, Entry{}, true},
	} {
		one, two := w.a.Set(w.rec, w.note, c.path, c.a), w.n.Set(w.rec, w.note, c.path, c.b)
		w.do(one, two)
		if _, differ := w.rec.Disagreement(w.note, c.path); differ == c.same {
			t.Errorf("%v and %v: disagreement %v", c.a, c.b, differ)
		}
		w.set(c.path, Entry{}) // as before
	}
}

func TestScope(t *testing.T) {
	w := newWard(t)
	later := w.open(schema.Stage2)
	w.set(schema.ChildSurname, Entry{Value: "Invented"})
	w.set(schema.MeasuresWeight, Number("3.2"))
	if n := w.rec.Note(later); n.Text(schema.ChildSurname) != "Invented" || n.Has(schema.MeasuresWeight) {
		t.Errorf("the child's name and the first note's weight in the second note: %s", n.JSON())
	}
	if got := w.a.Set(w.rec, w.note, schema.ChildSurname, Entry{Value: "x"}); got.Note != "" {
		t.Error("an event about the child carries a note")
	}
}

func TestCircleHidesNothing(t *testing.T) {
	w := newWard(t)
	one, two := w.a.Set(w.rec, w.note, schema.MeasuresWeight, Number("3.2")), w.n.Set(w.rec, w.note, schema.MeasuresWeight, Number("3.4"))
	ring := func(e *Event, other EventID) {
		e.Body = json.RawMessage(strings.TrimSuffix(string(e.Body), "}") + `,"replaces":["` + string(other) + `"]}`)
	}
	ring(&one, two.ID)
	ring(&two, one.ID)
	w.do(one)
	w.do(two)
	if len(w.rec.Values(w.note, schema.MeasuresWeight)) != 2 {
		t.Error("two values that replace each other are both gone")
	}
}

func TestRowRemovedWhileChanged(t *testing.T) {
	w := newWard(t)
	row := w.a.NewRow()
	list := schema.Path("child.allergies")
	w.do(w.a.AddRow(w.rec, w.note, list, row)...)
	w.set(schema.RowPath(list, row, "substance"), Entry{Value: "latex"})
	removed, changed := w.a.RemoveRow(w.rec, w.note, list, row), w.n.Set(w.rec, w.note, schema.RowPath(list, row, "reaction"), Entry{Value: "rash"})
	w.do(removed, changed)
	n := w.rec.Note(w.note)
	if !slices.Equal(n.Rows(list), []string{row}) || n.Text(schema.RowPath(list, row, "reaction")) != "rash" {
		t.Fatalf("an entry changed by another is gone: %s", n.JSON())
	}
	w.problem(w.note, RuleRowClash, "removed by A. Example (surgeon)")
	w.do(w.n.KeepRow(w.rec, w.note, list, row))
	w.problem(w.note, RuleRowClash, "")
	w.do(w.a.RemoveRow(w.rec, w.note, list, row))
	if len(w.rec.Note(w.note).Rows(list)) > 0 {
		t.Error("seen and removed, and still there")
	}
}

func TestNoneAndRows(t *testing.T) {
	w := newWard(t)
	list := schema.Path("child.allergies")
	w.set(list, Stated("none"))
	row := w.n.NewRow()
	added := w.n.AddRow(FoldCase(w.rec.Case(), nil), w.note, list, row) // a tab that did not see "none"
	w.do(added...)
	if n := w.rec.Note(w.note); len(n.Rows(list)) != 1 || n.Stated(list) != "" {
		t.Fatalf("an allergy beside \"none\" is lost: %s", n.JSON())
	}
	w.problem(w.note, RuleNoneAndRows, "A. Example (surgeon) says")
	w.do(w.n.AddRow(w.rec, w.note, list, w.n.NewRow())...) // one who sees "none" takes it back
	w.problem(w.note, RuleNoneAndRows, "")
}

func TestAnswerStandsWhileTheValueDoes(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("9"))
	q := schema.Problem{Rule: "usual", Path: schema.MeasuresWeight, Others: []schema.Path{schema.OperationDate}}
	w.do(w.a.AnswerQuestion(w.rec, w.note, q, "yes, really", "weighed twice"))
	if as := w.rec.Note(w.note).Answers(); len(as) != 1 || as[0].By != "A. Example (surgeon)" || as[0].Why != "weighed twice" {
		t.Fatalf("answers: %v", as)
	}
	w.set(schema.MeasuresWeight, Number("9.0")) // the same
	if len(w.rec.Note(w.note).Answers()) != 1 {
		t.Error("the same weight written otherwise lost the answer")
	}
	w.set(schema.MeasuresWeight, Number("90"))
	if len(w.rec.Note(w.note).Answers()) != 0 {
		t.Error("the answer about 9 kg stands for 90 kg")
	}
	w.set(schema.MeasuresWeight, Number("9"))
	w.set(schema.OperationDate, Entry{Value: "2026-07-14"})
	if len(w.rec.Note(w.note).Answers()) != 0 {
		t.Error("the answer stands although the other place it was about has changed")
	}
}

func TestTags(t *testing.T) {
	w := newWard(t)
	first, second := w.list(w.note, "drain"), w.list(w.note, "drain")
	w.do(w.a.WithdrawItem(w.rec, second, "none was placed"))
	if got := w.rec.NextTag(); got != 3 {
		t.Errorf("after tag 2 was withdrawn the next is %d, want 3: tags are not used again in a stay", got)
	}
	// Two tablets list one item each, apart: both take tag 3.
	one, two := w.a.ListItem(w.note, w.a.NewItem(), "drain", 3), w.n.ListItem(w.note, w.n.NewItem(), "arterial-line", 3)
	w.do(one, two)
	w.problem(w.note, RuleTagTwice, "Tag 3 stands on 2 items")
	if len(w.rec.ItemsIn()) != 3 {
		t.Errorf("%d items are in, want 3", len(w.rec.ItemsIn()))
	}
	twin := w.rec.Twins()[3][0]
	w.do(w.a.RetagItem(w.rec, twin, w.rec.NextTag()))
	w.problem(w.note, RuleTagTwice, "")
	// Two people give one item different tags.
	three, four := w.a.RetagItem(w.rec, first, 7), w.n.RetagItem(w.rec, first, 8)
	w.do(three, four)
	w.problem(w.note, RuleTagsDiffer, "7 and 8")
	w.do(w.a.RetagItem(w.rec, first, 8))
	w.problem(w.note, RuleTagsDiffer, "")
	if got := w.rec.NextTag(); got != 9 {
		t.Errorf("the next tag is %d, want 9", got)
	}
	// A new stay begins at 1, and passes over what is still in.
	shunt := w.list(w.note, "implant") // tag 9
	for _, v := range w.rec.ItemsIn() {
		if v.ID != shunt {
			w.do(w.a.Register(w.note, KindRemoved, v.ID, RegisterFacts{Complete: "yes"}))
		}
	}
	w.do(w.a.Discharge())
	if got := w.rec.NextTag(); got != 1 {
		t.Errorf("in the next stay, with tag 9 still in, the next is %d, want 1", got)
	}
	for want := 1; want <= 8; want++ {
		w.list(w.note, "drain")
	}
	if got := w.rec.NextTag(); got != 10 {
		t.Errorf("after eight in the next stay, with tag 9 still in, the next is %d, want 10", got)
	}
	w.do(w.a.Register(w.note, KindRemoved, shunt, RegisterFacts{Complete: "yes"}))
	if got := w.rec.NextTag(); got != 9 {
		t.Errorf("after eight in the next stay, with tag 9 out, the next is %d, want 9", got)
	}
}

func TestItemWithdrawnWhileChecked(t *testing.T) {
	w := newWard(t)
	id := w.list(w.note, "drain")
	withdrawn, checked := w.a.WithdrawItem(w.rec, id, "by mistake"), w.n.Check(w.rec, w.note, CheckView{Item: id, Occasion: Arrival, Answer: Found})
	w.do(withdrawn)
	if len(w.rec.Note(w.note).Items()) != 0 {
		t.Fatal("a withdrawn item stands in the note")
	}
	w.do(checked)
	if v, _ := w.rec.Item(id); v.Withdrawn || !v.Clash || len(w.rec.Note(w.note).Items()) != 1 {
		t.Fatalf("an item the nurse found is gone from the list: %+v", v)
	}
	w.problem(w.note, RuleItemClash, "withdrawn (by mistake)")
	e, ok := w.n.KeepItem(w.rec, id)
	if !ok {
		t.Fatal("it cannot be kept")
	}
	w.do(e)
	w.problem(w.note, RuleItemClash, "")
}

// The next operation's list begins with what is still in; the register follows the
// child, not the admission (clinical.md 1 and 3).
func TestRegisterAcrossNotes(t *testing.T) {
	w := newWard(t)
	var ids []ItemID
	for range 7 {
		ids = append(ids, w.list(w.note, "drain"))
	}
	do := func(kind string, i int, facts RegisterFacts) { w.do(w.n.Register("", kind, ids[i], facts)) }
	do(KindRemoved, 0, RegisterFacts{Complete: "yes"})
	do(KindRemoved, 1, RegisterFacts{Complete: "no"})
	do(KindCutLeft, 2, RegisterFacts{})
	do(KindLost, 3, RegisterFacts{})
	do(KindExchanged, 4, RegisterFacts{})
	do(KindMoved, 5, RegisterFacts{To: "7 cm"})
	next := w.open(schema.Reexploration)
	want := map[ItemID]Whereabouts{ids[0]: Removed, ids[1]: RemovedPart, ids[2]: CutAndLeft, ids[3]: Lost, ids[4]: Exchanged, ids[5]: InChild, ids[6]: InChild}
	for _, v := range w.rec.Items() {
		if v.Where != want[v.ID] {
			t.Errorf("tag %d is %s, want %s", v.Tag, v.Where, want[v.ID])
		}
	}
	tags := func(its []schema.Item) (out []int) {
		for _, it := range its {
			out = append(out, it.Tag)
		}
		return out
	}
	if got := tags(w.rec.Earlier(next)); !slices.Equal(got, []int{2, 3, 4, 6, 7}) {
		t.Errorf("the new list begins with tags %v", got)
	}
	w.problem(next, RuleItemLost, "Tag 4")
	w.problem(next, RuleLeftInPart, "Tag 2")
	// What came out at the new operation stands in its note, once.
	row := w.a.NewRow()
	w.do(w.a.AddRow(w.rec, next, schema.RemovalsOut, row)...)
	w.do(w.a.Set(w.rec, next, schema.RowPath(schema.RemovalsOut, row, "item"), Entry{Value: string(ids[6])}))
	if v, _ := w.rec.Item(ids[6]); v.Where != InChild {
		t.Error("it left the list before anybody said how")
	}
	w.do(w.a.Set(w.rec, next, schema.RowPath(schema.RemovalsOut, row, "how"), Entry{Value: "removed"}))
	if v, _ := w.rec.Item(ids[6]); v.Where != Removed || len(v.Events) != 1 || v.Events[0].Note != next {
		t.Errorf("it is %s, %+v", v.Where, v.Events)
	}
	if got := tags(w.rec.Earlier(next)); !slices.Contains(got, 7) {
		t.Error("the note that took it out no longer knows it")
	}
	if after := w.open(schema.Closure); slices.Contains(tags(w.rec.Earlier(after)), 7) {
		t.Error("it is handed on to the note after")
	}
	w.do(w.a.RemoveRow(w.rec, next, schema.RemovalsOut, row))
	if v, _ := w.rec.Item(ids[6]); v.Where != InChild {
		t.Error("the row is gone, and the item still out")
	}
	// Found at the bed, and then taken out: nothing is wrong with that.
	last := w.list(next, "drain")
	w.do(w.n.Check(w.rec, next, CheckView{Item: last, Occasion: Arrival, Answer: Found}))
	w.do(w.n.Register(next, KindRemoved, last, RegisterFacts{Complete: "yes"}))
	w.problem(next, RuleOutAndFound, "")
	// Out, says one; found at the bed later, says another.
	w.do(w.n.Check(w.rec, next, CheckView{Item: ids[0], Occasion: Arrival, Answer: Found}))
	w.problem(w.note, RuleOutAndFound, "Tag 1 was removed")
}

func TestRetractAndOffer(t *testing.T) {
	w := newWard(t)
	w.set(schema.ChildBloodGroup, Entry{Value: "o-positive"})
	w.set(schema.ChildBloodGroup, Entry{Value: "a-negative"}) // meant for another child
	wrong := w.rec.Values(w.note, schema.ChildBloodGroup)[0].Event
	otherCase := CaseID(w.ids.New())
	both := w.a.MoveToOther(w.rec, []EventID{wrong}, otherCase, "entered on the wrong child")
	w.do(both...)
	if got := w.rec.Note(w.note).Text(schema.ChildBloodGroup); got != "o-positive" {
		t.Errorf("retracted, the note says %q; what it replaced should stand again", got)
	}
	if len(w.rec.Faults()) > 0 || slices.ContainsFunc(w.rec.Events(), func(e Event) bool { return e.Case == otherCase }) {
		t.Errorf("the offer to another child stands in this one's record: %v", w.rec.Faults())
	}
	other := FoldCase(otherCase, both)
	offers := other.Offers()
	if len(offers) != 1 || len(offers[0].Left) != 1 || offers[0].There().Child().Text(schema.ChildBloodGroup) != "a-negative" || offers[0].Why != "entered on the wrong child" {
		t.Fatalf("the offer is %+v", offers)
	}
	if other.Child().Has(schema.ChildBloodGroup) {
		t.Error("the other child changed before anybody took the offer")
	}
	ow := w.a.For(otherCase)
	took, _ := ow.TakeOffer(other, offers[0], Into{})
	other.Apply(took...)
	if other.Child().Text(schema.ChildBloodGroup) != "a-negative" || len(other.Offers()) > 0 {
		t.Error("taken, it does not stand there")
	}
	w.do(w.a.WithdrawRetraction(w.note, both[0].ID, "it was this child"))
	if got := w.rec.Note(w.note).Text(schema.ChildBloodGroup); got != "a-negative" {
		t.Errorf("the retraction withdrawn, the note says %q", got)
	}
}

// A retraction counts in its own case and in those joined to it, and nowhere else;
// it is itself taken back only by its own kind of event.
func TestRetractionReaches(t *testing.T) {
	w := newWard(t)
	w.set(schema.ChildBloodGroup, Entry{Value: "o-positive"})
	id := w.rec.Values("", schema.ChildBloodGroup)[0].Event
	otherCase := CaseID(w.ids.New())
	far := w.n.For(otherCase).Retract("", []EventID{id}, "wrong child", "")
	w.do(far)
	if !w.rec.Note(w.note).Has(schema.ChildBloodGroup) {
		t.Error("a retraction in another child's record reaches into this one")
	}
	join := w.a.Join(w.rec, otherCase, "same number")
	w.do(join...)
	if w.rec.Note(w.note).Has(schema.ChildBloodGroup) {
		t.Error("joined, it does not")
	}
	w.do(w.a.Retract("", []EventID{far.ID}, "twice", ""))
	if w.rec.Note(w.note).Has(schema.ChildBloodGroup) {
		t.Error("a retraction was taken back by a retraction")
	}
	w.do(w.a.WithdrawRetraction("", far.ID, "right after all"))
	if !w.rec.Note(w.note).Has(schema.ChildBloodGroup) {
		t.Error("a retraction withdrawn still counts")
	}
}

func TestRetractionBeforeItsEvent(t *testing.T) {
	w := newWard(t)
	e := w.a.Set(w.rec, w.note, schema.MeasuresWeight, Number("3.2"))
	w.do(w.a.Retract(w.note, []EventID{e.ID}, "wrong child", ""))
	w.do(e)
	if w.rec.Note(w.note).Has(schema.MeasuresWeight) {
		t.Error("a retracted value stands because the retraction came first")
	}
}

func TestTwoRecordsOfOneChild(t *testing.T) {
	w := newWard(t)
	otherCase := CaseID(w.ids.New())
	ow := w.writer(otherCase, "N. Example", "intensive-care nurse")
	other := FoldCase(otherCase, nil)
	w.set(schema.ChildSurname, Entry{Value: "Invented"})
	theirs := ow.Set(other, "", schema.ChildSurname, Entry{Value: "Inventet"})
	w.do(theirs)
	if f := w.rec.Faults(); len(f) != 1 || f[0].Rule != FaultOtherChild {
		t.Errorf("events of another child: %+v", f)
	}
	join := w.a.Join(w.rec, otherCase, "same number and birth date")
	w.do(join...)
	if len(w.rec.Disagreements()) != 1 || !slices.Equal(w.rec.Joined(), []CaseID{otherCase}) || len(w.rec.Faults()) > 0 {
		t.Errorf("joined: %v, %v, %v", w.rec.Disagreements(), w.rec.Joined(), w.rec.Faults())
	}
	if from := FoldCase(otherCase, append(w.rec.everything(), theirs)); !slices.Equal(from.Joined(), []CaseID{w.rec.Case()}) {
		t.Errorf("seen from the other record it is not joined: %v", from.Joined())
	}
	// One parts them while another, who did not see that, joins them again.
	part, again := w.a.Part(w.rec, otherCase, "twins"), w.n.Join(w.rec, otherCase, "same")
	w.do(append(part, again...)...)
	if len(w.rec.Joined()) > 0 {
		t.Error("while it is disputed they count as one child")
	}
	if !slices.ContainsFunc(w.rec.Faults(), func(f Fault) bool { return f.Rule == RuleJoinDisputed }) {
		t.Errorf("nothing says that it is disputed: %v", w.rec.Faults())
	}
	w.do(w.n.Part(w.rec, otherCase, "twins")...)
	if slices.ContainsFunc(w.rec.Events(), func(e Event) bool { return e.Case == otherCase }) {
		t.Error("parted, the other child's events stand in this one's record, and would leave in its file")
	}
	if got := w.rec.Note(w.note).Text(schema.ChildSurname); got != "Invented" {
		t.Errorf("parted, the surname is %q", got)
	}
}

func TestOneIDTwoBodies(t *testing.T) {
	w := newWard(t)
	e := w.a.Set(w.rec, w.note, schema.MeasuresWeight, Number("3.2"))
	forged := e
	forged.Body = json.RawMessage(strings.Replace(string(e.Body), "3.2", "9.9", 1))
	spaced := e
	spaced.Body = json.RawMessage(" " + strings.Replace(string(e.Body), ":", " : ", 1))
	w.do(e)
	w.do(spaced)
	if len(w.rec.Faults()) > 0 {
		t.Errorf("the same event written with spaces is a fault: %v", w.rec.Faults())
	}
	w.do(forged)
	if f := w.rec.Faults(); len(f) != 1 || f[0].Rule != FaultTwoBodies {
		t.Fatalf("the fault is %v", f)
	}
	if len(w.rec.everything()) != len(w.rec.all)+1 {
		t.Error("one of the two bodies is lost")
	}
}

func TestNewerEventsAreKept(t *testing.T) {
	w := newWard(t)
	var e Event
	raw := `{"id":"` + w.ids.New() + `","case":"` + string(w.rec.Case()) + `","writer":"` + w.ids.New() + `","clock":"019f5fdac280.0000","author":{"name":"A. Example"},` +
		`"happened":"2026-07-14T09:00+01:00","entered":"2026-07-14T09:00+01:00","kind":"output read","v":3,"body":{"mL":5},"seen":true}`
	if err := json.Unmarshal([]byte(raw), &e); err != nil {
		t.Fatal(err)
	}
	w.do(e)
	if f := w.rec.Faults(); len(f) != 1 || f[0].Rule != FaultUnknown || !strings.Contains(f[0].What, "output read, version 3") {
		t.Errorf("the fault is %v", f)
	}
	got, _ := w.rec.Event(e.ID)
	b, err := json.Marshal(got)
	if err != nil || !strings.Contains(string(b), `"seen":true`) {
		t.Errorf("a member of a newer version is lost: %s, %v", b, err)
	}
}

// What is loaded is the child's own record with all that is joined to it, however far.
func TestLoad(t *testing.T) {
	ctx := context.Background()
	w := newWard(t)
	log := NewMemory()
	second, third := CaseID(w.ids.New()), CaseID(w.ids.New())
	w.set(schema.ChildSurname, Entry{Value: "Invented"})
	w.do(w.a.Join(w.rec, second, "same number")...)
	sw := w.a.For(second)
	srec := FoldCase(second, nil)
	srec.Apply(sw.OpenCase(), sw.Set(srec, "", schema.ChildGivenName, Entry{Value: "Ada"}))
	srec.Apply(sw.Join(srec, third, "same mother")...)
	tw := w.a.For(third)
	trec := FoldCase(third, nil)
	trec.Apply(tw.OpenCase(), tw.Set(trec, "", schema.ChildBloodGroup, Entry{Value: "o-positive"}))
	for _, r := range []*Record{w.rec, srec, trec} {
		if err := log.Append(ctx, r.everything()); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []CaseID{w.rec.Case(), second, third} {
		r, err := Load(ctx, log, c)
		if err != nil {
			t.Fatal(err)
		}
		n := r.Child()
		if n.Text(schema.ChildSurname) != "Invented" || n.Text(schema.ChildGivenName) != "Ada" || n.Text(schema.ChildBloodGroup) != "o-positive" {
			t.Errorf("loaded from %s it is %s", c, n.JSON())
		}
	}
}
