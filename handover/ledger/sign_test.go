package ledger

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/schema"
)

// The digest of two known ids, made outside this program:
// printf '…01\n…02\n' | sha256sum (GNU coreutils 9.1).
func TestDigest(t *testing.T) {
	ids := []EventID{"00000000-0000-7000-8000-000000000002", "00000000-0000-7000-8000-000000000001", "00000000-0000-7000-8000-000000000002"}
	if got, want := Digest(ids), "64bf2ec8a4924809614461a78709282a20d3075c5b78da4c54ca73078d0c3d03"; got != want {
		t.Errorf("the digest is %s, want %s", got, want)
	}
	names, ok := cover(ids).names()
	if !ok || len(names) != 2 || !names[ids[0]] || !names[ids[1]] {
		t.Errorf("covered are %v, %v", names, ok)
	}
}

func TestSignature(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.2"))
	// The nurse wrote this before the signature, on a tablet that shares later.
	early := w.n.Set(w.rec, w.note, schema.ChildBloodGroup, Entry{Value: "o-positive"})
	w.wall = w.wall.Add(time.Hour)
	w.do(w.a.SignNote(w.rec, w.note, 2))
	st := w.rec.Standing(w.note)
	if st.Signed == nil || st.Signed.How != SignedOpen || st.Signed.Open != 2 || st.Amended || st.Signed.Broken {
		t.Fatalf("signed, it stands %+v", st)
	}
	w.do(early)
	if early.Clock >= st.Signed.clockOf(w.rec) {
		t.Fatal("the test is wrong: the late event has a later clock")
	}
	st = w.rec.Standing(w.note)
	if !st.Amended || len(st.Changes) != 1 || st.Changes[0].Path != schema.ChildBloodGroup || len(st.Untold) != 1 {
		t.Fatalf("what arrived after the signature is not a change, whatever its clock: %+v", st)
	}
	w.do(w.n.TellSheet(w.rec, w.note, "Dr R. Example"))
	w.set(schema.MeasuresWeight, Number("3.3"))
	w.do(w.a.Amend(w.note, "weighed again"))
	st = w.rec.Standing(w.note)
	if len(st.Changes) != 2 || len(st.Untold) != 1 || st.Untold[0].Path != schema.MeasuresWeight || len(st.Told) != 1 || st.Told[0].Who != "Dr R. Example" || st.Reasons[0].Why != "weighed again" {
		t.Errorf("told and changed again: %+v", st)
	}
	w.do(w.a.SignNote(w.rec, w.note, 0))
	st = w.rec.Standing(w.note)
	if st.Signed.How != SignedComplete || len(st.Open) != 0 || !st.Amended || st.First.How != SignedOpen {
		t.Errorf("signed again: %+v", st)
	}
	// The register's life at the bed is no amendment of the note.
	id := w.list(w.note, "drain")
	w.do(w.a.SignNote(w.rec, w.note, 0))
	w.do(w.n.Register(w.note, KindRemoved, id, RegisterFacts{}), w.n.Check(w.rec, w.note, CheckView{Item: id, Occasion: Arrival, Answer: Found}))
	if st = w.rec.Standing(w.note); len(st.Open) != 0 {
		t.Errorf("removing a drain on the ward amends the note: %+v", st.Open)
	}
	w.do(w.a.AnswerQuestion(w.rec, w.note, schema.Problem{Rule: "usual", Path: schema.MeasuresWeight}, "yes, really", "weighed twice"))
	if st = w.rec.Standing(w.note); len(st.Open) != 1 || st.Open[0].Path != schema.MeasuresWeight {
		t.Errorf("a question answered after is no change: %+v", st.Open)
	}
	w.do(w.a.SignNote(w.rec, w.note, 0))
	w.do(w.a.WithdrawItem(w.rec, id, "never placed"))
	if st = w.rec.Standing(w.note); len(st.Open) != 1 || st.Open[0].Item != id {
		t.Errorf("withdrawing an item does not: %+v", st.Open)
	}
}

func (s *Signature) clockOf(r *Record) Clock {
	e, _ := r.Event(s.Event)
	return e.Clock
}

func TestSectionSignature(t *testing.T) {
	w := newWard(t)
	w.set(schema.SupportMode, Entry{Value: "bypass"})
	id := w.list(w.note, "drain")
	p := w.writer(w.rec.Case(), "P. Example", "perfusionist")
	w.do(p.SignSection(w.rec, w.note, "support"), w.a.SignSection(w.rec, w.note, "items"))
	w.set(schema.MeasuresWeight, Number("3.2"))
	st := w.rec.Standing(w.note)
	if len(st.Sections) != 2 || len(st.Sections["support"].Changes) != 0 || len(st.Sections["items"].Changes) != 0 || st.Signed != nil {
		t.Fatalf("the weight changed what others signed: %+v", st.Sections)
	}
	w.set(schema.SupportMode, Entry{Value: "off-pump"})
	w.set(schema.ItemPath(string(id), "size"), Number("12"))
	st = w.rec.Standing(w.note)
	if len(st.Sections["support"].Changes) != 1 || len(st.Sections["items"].Changes) != 1 {
		t.Errorf("changed after: %+v", st.Sections)
	}
}

func TestBrokenSignature(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.2"))
	e := w.a.SignNote(w.rec, w.note, 0)
	e.Body = []byte(strings.Replace(string(e.Body), `"covers":"`, `"covers":"00`, 1))
	w.do(e)
	if s := w.rec.Signatures(w.note); len(s) != 1 || !s[0].Broken {
		t.Errorf("a signature whose digest does not agree is not named: %+v", s)
	}
	// A signature over events that have not arrived here says so.
	good := w.a.SignNote(w.rec, w.note, 0)
	partly := FoldCase(w.rec.Case(), slices.DeleteFunc(w.rec.Events(), func(e Event) bool { return e.Kind == KindFieldSet }))
	partly.Apply(good)
	if s := partly.Signatures(w.note); !s[len(s)-1].Broken {
		t.Error("a signature over an event that is missing here is not named")
	}
}

func TestUndoIsOnesOwn(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.2"))
	if w.n.CanUndo(w.rec) {
		t.Error("the nurse can undo the surgeon's entry")
	}
	if w.a.As(Author{Name: "B. Example", Role: "surgeon"}).CanUndo(w.rec) {
		t.Error("another person at the same tab can undo it")
	}
	w.do(w.n.Set(w.rec, w.note, schema.MeasuresWeight, Number("3.4")))
	if w.a.CanUndo(w.rec) {
		t.Error("the surgeon can undo what the nurse has replaced")
	}
	es, ok := w.n.Undo(w.rec)
	if !ok {
		t.Fatal("the nurse cannot undo her own")
	}
	w.do(es...)
	if got := w.rec.Note(w.note).Decimal(schema.MeasuresWeight); got != "3.2" {
		t.Errorf("undone, the weight is %q", got)
	}
	if !w.n.CanRedo(w.rec) {
		t.Error("it cannot be done again")
	}
	w.do(w.n.Set(w.rec, w.note, schema.ChildBloodGroup, Entry{Value: "o-positive"}))
	if w.n.CanRedo(w.rec) {
		t.Error("it can be done again after something else was done")
	}
	w.set(schema.SupportMode, Entry{Value: "bypass"})
	w.do(w.a.SignNote(w.rec, w.note, 0))
	if w.a.CanUndo(w.rec) {
		t.Error("what was signed can be undone")
	}
}

func TestUndoTakesAWholeAction(t *testing.T) {
	w := newWard(t)
	tog := w.a.Together()
	for i, p := range []schema.Path{"gas.ph", "gas.lactate", "gas.potassium"} {
		w.do(tog.Set(w.rec, w.note, p, Number([]string{"7.35", "2.1", "4"}[i])))
	}
	es, ok := w.a.Undo(w.rec)
	if !ok || len(es) != 3 {
		t.Fatalf("undoing a pasted gas makes %d events, %v", len(es), ok)
	}
	w.do(es...)
	if ps := w.rec.Note(w.note).Paths(); len(ps) != 0 {
		t.Errorf("undone, there stand %v", ps)
	}
	es, _ = w.a.Redo(w.rec)
	w.do(es...)
	if ps := w.rec.Note(w.note).Paths(); len(ps) != 3 {
		t.Errorf("done again, there stand %v", ps)
	}
}

func TestUndoStopsAtOthersWork(t *testing.T) {
	w := newWard(t)
	row := w.a.NewRow()
	w.do(w.a.AddRow(w.rec, w.note, "child.allergies", row)...)
	w.do(w.n.Set(w.rec, w.note, schema.RowPath("child.allergies", row, "substance"), Entry{Value: "latex"}))
	if w.a.CanUndo(w.rec) {
		t.Error("undoing an entry takes another's words with it")
	}
	b := newWard(t)
	id := b.list(b.note, "drain")
	b.do(b.n.Check(b.rec, b.note, CheckView{Item: id, Occasion: Arrival, Answer: Found}))
	if b.a.CanUndo(b.rec) {
		t.Error("undoing the listing takes the nurse's answer with it")
	}
}

func TestUndoOfRegisterAndRetraction(t *testing.T) {
	w := newWard(t)
	id := w.list(w.note, "drain")
	w.do(w.a.Register(w.note, KindRemoved, id, RegisterFacts{}))
	for i, want := range []Whereabouts{InChild, Removed, InChild, Removed} {
		step := w.a.Undo
		if i%2 == 1 {
			step = w.a.Redo
		}
		es, ok := step(w.rec)
		if !ok {
			t.Fatalf("step %d cannot be taken", i)
		}
		w.do(es...)
		if v, _ := w.rec.Item(id); v.Where != want {
			t.Errorf("after step %d it is %s, want %s", i, v.Where, want)
		}
	}
	w.set(schema.MeasuresWeight, Number("3.2"))
	e := w.rec.Values(w.note, schema.MeasuresWeight)[0].Event
	r := w.a.Retract(w.note, []EventID{e}, "wrong", "")
	w.do(r)
	w.do(w.a.WithdrawRetraction(w.note, r.ID, "right"))
	for i, want := range []bool{false, true} {
		step := w.a.Undo
		if i == 1 {
			step = w.a.Redo
		}
		es, ok := step(w.rec)
		if !ok {
			t.Fatalf("step %d about the retraction cannot be taken", i)
		}
		w.do(es...)
		if got := w.rec.Note(w.note).Has(schema.MeasuresWeight); got != want {
			t.Errorf("after step %d about the retraction the weight stands: %v", i, got)
		}
	}
}

func TestChangeWords(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.2"))
	id := w.list(w.note, "drain")
	w.do(w.a.SignNote(w.rec, w.note, 0))
	w.set(schema.MeasuresWeight, Number("3.40"))
	w.set(schema.ChildBloodGroup, Stated("unknown"))
	w.set(schema.ItemPath(string(id), "size"), Number("12"))
	w.do(w.a.AddRow(w.rec, w.note, "child.allergies", w.a.NewRow())...)
	w.do(w.a.RetagItem(w.rec, id, 5))
	other := w.list(w.note, "drain")
	w.do(w.a.WithdrawItem(w.rec, other, "never placed"))
	var got []string
	for _, c := range w.rec.Standing(w.note).Changes {
		got = append(got, w.rec.Words(c))
	}
	want := []string{"Operation weight: 3.4 kg; was 3.2 kg.", "Blood group: Not known.", "Tag 5 (Drain), Size: 12 Fr.",
		"Allergies: an entry was added.", "Drain was given the tag 5.", "Tag 6 (Drain) was listed.", "Tag 6 (Drain) was withdrawn (never placed)."}
	if !slices.Equal(got, want) {
		t.Errorf("the changes are %q, want %q", got, want)
	}
}

func TestAlike(t *testing.T) {
	child := func(number, surname, given, born string) *schema.Note {
		n := schema.NewNote("", "", "c")
		for p, v := range map[schema.Path]string{schema.ChildHospitalNumber: number, schema.ChildSurname: surname, schema.ChildGivenName: given, schema.ChildBirthDate: born} {
			if v != "" {
				n.Set(p, v)
			}
		}
		return n
	}
	for _, c := range []struct {
		a, b *schema.Note
		want bool
	}{
		{child("999 123", "Invented", "", ""), child("999-123", "Other", "", ""), true},
		{child("", "Invented", "Ada", "2026-07-10"), child("", "INVENTED ", "ada", "2026-07-10"), true},
		{child("", "Invented", "", "2026-07-10"), child("", "Invented", "Ada", "2026-07-10"), true},
		{child("", "Invented", "Ada", "2026-07-10"), child("", "Invented", "Bea", "2026-07-10"), false},
		{child("", "Invented", "Ada", "2026-07-10"), child("", "Invented", "Ada", "2026-07-11"), false},
		{child("", "Invented", "Ada", ""), child("", "Invented", "Ada", ""), false},
		{child("", "", "", ""), child("", "", "", ""), false},
	} {
		if _, ok := Alike(c.a, c.b); ok != c.want {
			t.Errorf("%s and %s: alike %v", c.a.JSON(), c.b.JSON(), ok)
		}
	}
	a, b := child("999 123", "Invented", "", "2026-07-10"), child("999 123", "Invented", "", "2026-07-10")
	a.Set(schema.ChildNumberProvisional, true)
	a.Set(schema.ChildBirthOrder, 1)
	b.Set(schema.ChildBirthOrder, 2)
	if why, ok := Alike(a, b); ok {
		t.Errorf("twins, one with a provisional number, are proposed for joining by %s", why)
	}
}
