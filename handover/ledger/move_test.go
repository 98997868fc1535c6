package ledger

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/schema"
)

// moved is a ward in whose note much was said by two, all of it of another child, and
// that child's own record.
type moved struct {
	*ward
	other       *Record
	drain, line ItemID
	runs        []string
}

func newMoved(t *testing.T) *moved {
	w := newWard(t)
	m := &moved{ward: w, other: FoldCase(CaseID(w.ids.New()), nil)}
	w.set(schema.MeasuresWeight, Number("3.2"))
	w.set(schema.MeasuresWeight, Number("3.3")) // superseded, by the same
	w.do(w.n.Set(w.rec, w.note, schema.GasLactate, Number("2.1")))
	w.do(w.a.Set(w.rec, w.note, schema.GasLactate, Number("2.4"))) // and by another
	for i, minutes := range []string{"61", "24"} {                 // two runs; of the second the minutes alone, then an empty one
		row := w.a.NewRow()
		m.runs = append(m.runs, row)
		w.do(w.a.AddRow(w.rec, w.note, schema.SupportRuns, row)...)
		w.set(schema.RowPath(schema.SupportRuns, row, "minutes"), Number(minutes))
		if i == 0 {
			w.set(schema.RowPath(schema.SupportRuns, row, "minutes"), Number("62"))
		}
	}
	m.runs = append(m.runs, w.a.NewRow())
	w.do(w.a.AddRow(w.rec, w.note, schema.SupportRuns, m.runs[2])...)
	m.drain, m.line = w.list(w.note, "drain"), w.list(w.note, "intracardiac-line")
	w.do(w.a.Set(w.rec, w.note, schema.ItemPath(string(m.drain), "size"), Number("12")))
	w.do(w.a.Check(w.rec, w.note, CheckView{Item: m.drain, Occasion: Leaving, Answer: Found}))
	differs := w.n.Check(w.rec, w.note, CheckView{Item: m.line, Occasion: Leaving, Answer: NotFound})
	w.do(differs)
	w.do(w.n.Settle(w.note, differs.ID, "it lies under the dressing", "A. Example"))
	w.do(w.n.ReadOutput(m.drain, Output{Volume: "20", Minutes: "60"}))
	w.do(w.a.CloseCheck(w.rec, w.note, Leaving))
	w.do(w.a.SignSection(w.rec, w.note, "gas"))
	w.do(w.a.SignNote(w.rec, w.note, 1))
	ow := w.a.For(m.other.Case())
	m.other.Apply(ow.OpenCase(), ow.ListItem("", ow.NewItem(), "airway", 2))
	return m
}

// opening is the event that opened the note.
func (m *moved) opening() []EventID { return idsOf(m.rec.notes[m.note].opened) }

// here and there do something on this child and on the other, as a screen does: what is
// written into the other one's record goes there alone.
func (m *moved) here(es ...Event)  { m.t.Helper(); m.both(m.rec, m.other, es) }
func (m *moved) there(es ...Event) { m.t.Helper(); m.both(m.other, m.rec, es) }

func (m *moved) both(on, beside *Record, es []Event) {
	m.t.Helper()
	m.wall = m.wall.Add(time.Minute)
	on.Apply(es...)
	for _, e := range es {
		if e.Case == beside.Case() {
			beside.Apply(e)
		}
	}
	for _, r := range []*Record{on, beside} {
		if got, want := fingerprint(r), fingerprint(FoldCase(r.Case(), r.everything())); got != want {
			m.t.Fatalf("folded anew it differs:\n%s", firstDifference(got, want))
		}
		if f := r.Faults(); len(f) > 0 {
			m.t.Fatalf("faults: %v", f)
		}
	}
}

// says is what a record says of the moved note: all that must be there after it moved.
func (m *moved) says(r *Record) string {
	var b strings.Builder
	n := r.Note(m.note)
	if n == nil {
		return "no note"
	}
	for _, p := range n.Paths() {
		if p.Section() != "case" && !strings.HasSuffix(string(p), ".tag") && p.Last() != "id" {
			b.WriteString(string(p) + "=" + n.Text(p) + n.Decimal(p) + "\n")
		}
	}
	b.WriteString("runs " + strings.Join(n.Rows(schema.SupportRuns), ",") + "\n")
	for _, id := range []ItemID{m.drain, m.line} {
		c, _ := r.Check(m.note, Leaving, id)
		v, _ := r.Item(id)
		b.WriteString(v.Kind + " " + string(c.Answer) + " by " + c.Author.String() + " at " + c.Happened.Shown() + ", listed by " + v.Author.String() + "\n")
		for _, x := range v.Events {
			b.WriteString(x.Kind + " " + x.Facts.Output.Volume + " by " + x.Author.String() + " at " + x.Happened.Shown() + "\n")
		}
		if s := c.Settled; s != nil {
			b.WriteString("settled " + s.How + " by " + s.By + ", " + s.Author.String() + "\n")
		}
	}
	for _, p := range []schema.Path{schema.MeasuresWeight, schema.GasLactate, schema.RowPath(schema.SupportRuns, m.runs[0], "minutes")} {
		for _, v := range r.History(m.note, p) {
			b.WriteString(string(p) + " was " + v.Shown(nil, nil) + " by " + v.Author.String() + " at " + v.Happened.Shown() + "\n")
		}
	}
	return b.String()
}

// A whole note moves with everything in it and of what it lists, whoever said it:
// nothing is lost, nothing doubled, the history is the same, no value disagrees. The
// names under it do not come along; where they stood is said on both sides.
func TestMoveWholeNote(t *testing.T) {
	m := newMoved(t)
	before := m.says(m.rec)
	if !strings.Contains(before, "drain found by A. Example (surgeon)") || !strings.Contains(before, "output read 20 by N. Example") || !strings.Contains(before, "settled it lies") || strings.Count(before, " was ") != 6 {
		t.Fatalf("before it moved:\n%s", before)
	}
	m.here(m.a.MoveToOther(m.rec, m.opening(), m.other.Case(), "two tablets on one bed")...)
	if len(m.rec.Notes()) > 0 || len(m.rec.ItemsIn()) > 0 || len(m.other.Notes()) > 0 {
		t.Fatalf("moved, and here stand %v and %v; there %v before it was taken", m.rec.Notes(), m.rec.ItemsIn(), m.other.Notes())
	}
	moves := m.rec.Moves()
	if len(moves) != 1 || moves[0].To != m.other.Case() || moves[0].Became != "" || moves[0].Why != "two tablets on one bed" {
		t.Fatalf("the wrong child's record says %+v", moves)
	}
	gone := 0
	for _, s := range m.rec.Account() {
		if IsSignature(s.Kind) && !s.Retracted {
			t.Errorf("a name counts here still: %s", s.Words)
		}
		if s.Retracted {
			gone++
		}
		if s.MovedTo == m.other.Case() && !strings.Contains(s.Words, "moved to another child (two tablets on one bed)") {
			t.Errorf("the account says %q", s.Words)
		}
	}
	if gone != moves[0].Count {
		t.Errorf("%d entries no longer count, and %d were moved", gone, moves[0].Count)
	}
	offers := m.other.Offers()
	if len(offers) != 1 {
		t.Fatalf("offered: %+v", offers)
	}
	nurse := m.n.For(m.other.Case())
	events, left := nurse.TakeOffer(m.other, offers[0], Into{})
	if left != 0 {
		t.Errorf("%d entries cannot be taken", left)
	}
	m.there(events...)
	if after := m.says(m.other); after != before {
		t.Errorf("after it moved:\n%s\nbefore:\n%s", after, before)
	}
	if d, o := m.other.Disagreements(), m.other.Offers(); len(d) > 0 || len(o) > 0 {
		t.Errorf("disagreements %v, still offered %v", d, o)
	}
	if st := m.other.Standing(m.note); st.Signed != nil || len(st.Sections) > 0 || len(m.other.Closings(m.note, Leaving)) > 0 {
		t.Errorf("signed there without anybody signing: %+v", st)
	}
	names := m.other.SignedThere(m.note)
	if len(names) != 3 || names[2].Author.Name != "A. Example" {
		t.Errorf("the names that stood under it: %+v", names)
	}
	// The airway had tag 2: the drain keeps its 1, and the line takes the next.
	for id, tag := range map[ItemID]int{m.drain: 1, m.line: 3} {
		if v, _ := m.other.Item(id); v.Tag != tag {
			t.Errorf("the %s has tag %d, want %d", v.Kind, v.Tag, tag)
		}
	}
	if mv := m.rec.Moves()[0]; mv.Became != MoveTaken || mv.By.Name != "N. Example" {
		t.Errorf("the wrong child's record says it was %q by %s", mv.Became, mv.By)
	}
	if _, ok := m.a.Undo(m.rec); ok {
		t.Error("what the other child has can be had back by undoing")
	}
	m.there(m.a.For(m.other.Case()).SignNote(m.other, m.note, 0))
	if st := m.other.Standing(m.note); st.Signed == nil || len(st.Open) > 0 {
		t.Errorf("signed anew: %+v", st)
	}
}

// Moving twice, taking twice, and taking on two devices apart double nothing.
func TestMoveTwice(t *testing.T) {
	m := newMoved(t)
	before := m.says(m.rec)
	first := m.a.MoveToOther(m.rec, m.opening(), m.other.Case(), "wrong bed")
	second := m.n.MoveToOther(m.rec, m.opening(), m.other.Case(), "wrong bed") // on another tablet
	m.here(append(first, second...)...)
	if again := m.a.MoveToOther(m.rec, m.opening(), m.other.Case(), "wrong bed"); again != nil {
		t.Errorf("moved already, it moves again: %v", again)
	}
	offers := m.other.Offers()
	if len(offers) != 2 {
		t.Fatalf("%d offers", len(offers))
	}
	nurse, surgeon := m.n.For(m.other.Case()), m.a.For(m.other.Case())
	one, _ := nurse.TakeOffer(m.other, offers[0], Into{})
	two, _ := surgeon.TakeOffer(m.other, offers[1], Into{}) // neither sees the other
	m.other.Apply(one...)
	if o := m.other.Offers(); len(o) != 0 {
		t.Errorf("taken, the same is offered once more: %d entries", len(o[0].Left))
	}
	if again, left := nurse.TakeOffer(m.other, offers[0], Into{}); again != nil || left > 0 {
		t.Errorf("taken, a second tap takes %d events", len(again))
	}
	m.other.Apply(two...)
	for i, line := range strings.Split(before, "\n") { // the history has both, and what counts is the same
		if line != "" && !strings.Contains(line, " was ") && line != strings.Split(m.says(m.other), "\n")[i] {
			t.Errorf("%q became %q", line, strings.Split(m.says(m.other), "\n")[i])
		}
	}
	if d := m.other.Disagreements(); len(d) > 0 {
		t.Errorf("disagreements %v", d)
	}
	if v, _ := m.other.Item(m.drain); len(v.Events) != 1 {
		t.Errorf("the reading of the drain counts %d times", len(v.Events))
	}
}

// Brought back before anybody took it, it counts here and is offered there no more;
// done again it moves again. A taking that is undone is offered again.
func TestMoveBroughtBack(t *testing.T) {
	m := newMoved(t)
	before := m.says(m.rec)
	m.here(m.n.MoveToOther(m.rec, m.opening(), m.other.Case(), "wrong bed")...)
	undo, ok := m.n.Undo(m.rec)
	if !ok {
		t.Fatal("it cannot be undone")
	}
	m.here(undo...)
	if m.says(m.rec) != before || len(m.other.Offers()) > 0 || len(m.rec.Moves()) > 0 {
		t.Errorf("undone: %s; offered %v", m.says(m.rec), m.other.Offers())
	}
	redo, ok := m.n.Redo(m.rec)
	if !ok {
		t.Fatal("it cannot be done again")
	}
	m.here(redo...)
	if len(m.rec.Notes()) > 0 || len(m.other.Offers()) != 1 {
		t.Fatalf("done again: %v here, %d offers", m.rec.Notes(), len(m.other.Offers()))
	}
	surgeon := m.a.For(m.other.Case())
	take, _ := surgeon.TakeOffer(m.other, m.other.Offers()[0], Into{})
	m.there(take...)
	undo, ok = surgeon.Undo(m.other)
	if !ok {
		t.Fatal("the taking cannot be undone")
	}
	m.there(undo...)
	if len(m.other.Notes()) > 0 || len(m.other.ItemsIn()) != 1 || len(m.other.Offers()) != 1 || m.rec.Moves()[0].Became != "" {
		t.Fatalf("undone: %v, %v, %d offers, %q", m.other.Notes(), m.other.ItemsIn(), len(m.other.Offers()), m.rec.Moves()[0].Became)
	}
	take, _ = surgeon.TakeOffer(m.other, m.other.Offers()[0], Into{})
	m.there(take...)
	for _, line := range strings.Split(before, "\n") {
		if !strings.Contains(line, " was ") && !strings.Contains(m.says(m.other), line) {
			t.Errorf("taken again, it lacks %q", line)
		}
	}
	if d := m.other.Disagreements(); len(d) > 0 {
		t.Errorf("disagreements %v", d)
	}
}

// What is refused can be brought back; it is on one side all the time.
func TestMoveRefused(t *testing.T) {
	m := newMoved(t)
	before := m.says(m.rec)
	m.here(m.a.MoveToOther(m.rec, m.opening(), m.other.Case(), "wrong bed")...)
	m.there(m.n.For(m.other.Case()).AnswerOffer(m.other.Offers()[0], false, nil)...)
	if mv := m.rec.Moves()[0]; mv.Became != MoveRefused || mv.By.Name != "N. Example" || len(m.other.Offers()) > 0 {
		t.Fatalf("refused: %+v", mv)
	}
	m.here(m.a.BringBack(m.rec, m.rec.Moves()[0].Retraction, "it was this child")...)
	if m.says(m.rec) != before || len(m.rec.Moves()) > 0 {
		t.Errorf("brought back: %s", m.says(m.rec))
	}
}

// Single entries: the row that is ticked goes with what another said in it, of values in
// one place the last holds, what stays here is not touched, and what has no place on the
// other child stays offered until it has one.
func TestMoveEntries(t *testing.T) {
	m := newMoved(t)
	minutes := schema.RowPath(schema.SupportRuns, m.runs[0], "minutes")
	m.do(m.n.Set(m.rec, m.note, schema.RowPath(schema.SupportRuns, m.runs[0], "flow"), Number("150")))
	var ticked []EventID
	for _, e := range m.rec.Events() {
		var b struct {
			Path schema.Path
			Row  string
		}
		if err := json.Unmarshal(e.Body, &b); err != nil {
			t.Fatal(err)
		}
		if b.Path == schema.MeasuresWeight || e.Kind == KindRowAdded && (b.Row == m.runs[0] || b.Row == m.runs[2]) || e.Kind == KindOutputRead {
			ticked = append(ticked, e.ID)
		}
	}
	m.here(m.a.MoveToOther(m.rec, ticked, m.other.Case(), "wrong bed")...)
	n := m.rec.Note(m.note)
	if n.Has(schema.MeasuresWeight) || n.Has(minutes) || n.Decimal(schema.GasLactate) != "2.4" || !slices.Equal(n.Rows(schema.SupportRuns), m.runs[1:2]) {
		t.Errorf("here stand weight %q, runs %v, lactate %q", n.Decimal(schema.MeasuresWeight), n.Rows(schema.SupportRuns), n.Decimal(schema.GasLactate))
	}
	if st := m.rec.Standing(m.note); st.Signed == nil || !st.Amended {
		t.Error("the signed note does not say that it was changed")
	}
	take := func(into Into) (left int) {
		events, left := m.n.For(m.other.Case()).TakeOffer(m.other, m.other.Offers()[0], into)
		m.there(events...)
		return left
	}
	if left := take(Into{}); left != 8 || len(m.other.Offers()) != 1 {
		t.Fatalf("without a note and a drain %d have no place", left)
	}
	note := m.a.NewNote()
	m.there(m.a.For(m.other.Case()).OpenNote(note, schema.Stage1))
	if left := take(Into{Note: note}); left != 1 || m.rec.Moves()[0].Became != MoveInPart {
		t.Fatalf("with a note %d have no place; %q", left, m.rec.Moves()[0].Became)
	}
	n = m.other.Note(note)
	if n.Decimal(schema.MeasuresWeight) != "3.3" || n.Decimal(minutes) != "62" || n.Decimal(schema.RowPath(schema.SupportRuns, m.runs[0], "flow")) != "150" || len(n.Rows(schema.SupportRuns)) != 2 || len(m.other.Disagreements()) > 0 {
		t.Errorf("there stand weight %q, runs %v, disagreements %v", n.Decimal(schema.MeasuresWeight), n.Rows(schema.SupportRuns), m.other.Disagreements())
	}
	drain := m.a.NewItem()
	m.there(m.a.For(m.other.Case()).ListItem(note, drain, "drain", 1))
	if left := take(Into{Items: map[ItemID]ItemID{m.drain: drain}}); left != 0 || len(m.other.Offers()) > 0 || m.rec.Moves()[0].Became != MoveTaken {
		t.Errorf("with a drain %d have no place", left)
	}
	if v, _ := m.other.Item(drain); len(v.Events) != 1 || v.Events[0].Author.Name != "N. Example" || v.Events[0].Facts.Output.Volume != "20" {
		t.Errorf("the reading: %+v", v.Events)
	}
}

// An offer of the first release holds values alone; of two of one path the last holds.
func TestOfferOfTheFirstRelease(t *testing.T) {
	m := newMoved(t)
	e := m.a.For(m.other.Case()).event("", KindOffered, json.RawMessage(`{"from":"`+string(m.rec.Case())+`","why":"wrong bed","sets":[
		{"path":"child.bloodGroup","value":"o-positive","author":{"name":"A. Example"}},
		{"path":"measures.weight","decimal":"3.1","author":{"name":"A. Example"}},
		{"path":"child.bloodGroup","value":"a-negative","author":{"name":"N. Example"}}]}`))
	m.there(e)
	o := m.other.Offers()
	if len(o) != 1 || len(o[0].Left) != 3 {
		t.Fatalf("offered %+v", o)
	}
	events, left := m.n.For(m.other.Case()).TakeOffer(m.other, o[0], Into{})
	m.there(events...)
	vs := m.other.Values("", schema.ChildBloodGroup)
	if left != 1 || len(vs) != 1 || vs[0].Value != "a-negative" || vs[0].Author.Name != "N. Example" || len(m.other.Offers()[0].Left) != 1 {
		t.Errorf("%d left; the blood group is %+v", left, vs)
	}
}

// Taken over on one device and brought back on another at once, it counts on both: that
// is said on both, until somebody says which holds.
func TestMoveTakenAndBroughtBack(t *testing.T) {
	m := newMoved(t)
	m.here(m.a.MoveToOther(m.rec, m.opening(), m.other.Case(), "wrong bed")...)
	take, _ := m.n.For(m.other.Case()).TakeOffer(m.other, m.other.Offers()[0], Into{})
	back := m.a.BringBack(m.rec, m.rec.Moves()[0].Retraction, "this child after all")
	for _, e := range append(take, back...) {
		for _, r := range []*Record{m.rec, m.other} {
			if e.Case == r.Case() {
				r.Apply(e)
			}
		}
	}
	for _, r := range []*Record{m.rec, m.other} {
		f := r.Faults()
		if len(f) != 1 || f[0].Rule != RuleMovedTwice {
			t.Fatalf("faults %v", f)
		}
		if r.Apply(m.a.For(r.Case()).Settle("", f[0].Events[len(f[0].Events)-1], "it is the other's", "")); len(r.Faults()) > 0 {
			t.Errorf("settled, and still %v", r.Faults())
		}
	}
}
