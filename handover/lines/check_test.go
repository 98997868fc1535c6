package lines

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// bed is a child with a note, and a writer whose clock the test moves.
type bed struct {
	wall time.Time
	ids  *ledger.IDs
	rec  *ledger.Record
	w    *ledger.Writer
	note ledger.NoteID
}

func newBed(t *testing.T) *bed {
	t.Helper()
	b := &bed{wall: time.Date(2026, 7, 14, 14, 0, 0, 0, time.UTC)}
	b.ids = ledger.NewIDs(rand.NewChaCha8([32]byte{7}), func() time.Time { return b.wall })
	child := ledger.CaseID(b.ids.New())
	civil := func() schema.Moment {
		return schema.MomentOf(b.wall.Year(), int(b.wall.Month()), b.wall.Day(), b.wall.Hour(), b.wall.Minute(), 0, "")
	}
	b.w = ledger.NewWriterAt(child, ledger.Author{Name: "A. Example", Role: "anaesthetist"}, func() time.Time { return b.wall }, b.ids, civil)
	b.rec = ledger.FoldCase(child, nil)
	b.note = b.w.NewNote()
	b.do(b.w.OpenCase(), b.w.OpenNote(b.note, schema.Stage1))
	return b
}

func (b *bed) do(es ...ledger.Event) {
	b.wall = b.wall.Add(time.Minute)
	b.rec.Apply(es...)
}

func (b *bed) list(kind, variety string, more ...string) ledger.ItemID {
	id := b.w.NewItem()
	w := b.w.Together()
	b.do(w.ListItem(b.note, id, kind, b.rec.NextTag()))
	set := func(field string, e ledger.Entry) {
		b.do(w.Set(b.rec, b.note, schema.ItemPath(string(id), field), e))
	}
	if variety != "" {
		set("variety", ledger.Entry{Value: variety})
	}
	for _, m := range more {
		field, value, _ := strings.Cut(m, "=")
		if f := schema.FieldAt(schema.ItemPath(kind, field)); f != nil && f.Numeric() {
			set(field, ledger.Number(value))
		} else {
			set(field, ledger.Entry{Value: value})
		}
	}
	return id
}

func (b *bed) item(t *testing.T, id ledger.ItemID) schema.Item {
	t.Helper()
	it, ok := b.rec.Child().Item(string(id))
	if !ok {
		t.Fatalf("item %s is not in the child's tree", id)
	}
	return it
}

// The names are the trade's: clinical.md 3 and 10 in plain words.
func TestFullName(t *testing.T) {
	b := newBed(t)
	for _, c := range []struct {
		kind, variety string
		more          []string
		want          string
	}{
		{"intracardiac-line", "left-atrial", nil, "Left atrial line"},
		{"intracardiac-line", "left-atrial", []string{"side=right"}, "Left atrial line"},
		{"drain", "right-pleural", []string{"size=12"}, "Right pleural drain 12 Fr"},
		{"central-venous-line", "jugular", []string{"side=right", "size=4.50"}, "Right jugular line 4.5 Fr"},
		{"arterial-line", "radial", []string{"side=left", "gauge=24"}, "Left radial arterial line 24 " + schema.UnitShown("{gauge}")},
		{"arterial-line", "umbilical-arterial", []string{"french=3.5"}, "Umbilical arterial catheter 3.5 Fr"},
		{"pacing-wires", "atrial", []string{"side=right", "count=2"}, "Atrial wires, 2"},
		{"left-on-purpose", "packs", []string{"count=3"}, "Packs, 3"},
		{"airway", "nasal-tube", []string{"size=3.5"}, "Nasal tracheal tube 3.5 mm"},
		{"drain-chamber", "", nil, "Drain chamber"},
		{"kind-from-next-year", "", nil, "Kind from next year"},
	} {
		id := b.list(c.kind, c.variety, c.more...)
		if got := FullName(b.item(t, id)); got != c.want {
			t.Errorf("%s %s %v is called %q, want %q", c.kind, c.variety, c.more, got, c.want)
		}
	}
}

func TestEveryKindHasAnOrderAndDifferences(t *testing.T) {
	b := newBed(t)
	seen := map[int]string{}
	for _, k := range schema.ItemKinds() {
		if k.Name == "_every" {
			continue
		}
		if order(k.Name) == 0 {
			t.Errorf("%s has no order in the check", k.Name)
		}
		if other := seen[order(k.Name)]; other != "" {
			t.Errorf("%s and %s have the same order", k.Name, other)
		}
		seen[order(k.Name)] = k.Name
		for _, p := range Places(k.Name) {
			if f := k.Field("exit"); f != nil && !slices.Contains(f.Enum, p) {
				t.Errorf("%s: the usual place %q is no value of exit", k.Name, p)
			}
		}
		for _, u := range Usual(k.Name) {
			if f := k.Field("variety"); f == nil || !slices.Contains(f.Enum, u) {
				t.Errorf("%s: the usual variety %q is no value of variety", k.Name, u)
			}
		}
		ds := Differences(b.item(t, b.list(k.Name, "")))
		if last := ds[len(ds)-1]; last.Field != FieldOther || len(ds) < 3 {
			t.Errorf("%s can differ in %v", k.Name, ds)
		}
	}
}

func TestFactsSayWhatIsNotRecorded(t *testing.T) {
	b := newBed(t)
	id := b.list("drain", "mediastinal", "drainage=suction", "suction=10", "size=12")
	got := map[string]string{}
	for _, f := range Facts(b.item(t, id)) {
		got[f.Field] = f.Sheet
	}
	for field, want := range map[string]string{"exit": "not recorded", "size": "12 Fr", "drainage": "Suction", "suction": "10 cmH2O"} {
		if got[field] != want {
			t.Errorf("%s stands as %q, want %q", field, got[field], want)
		}
	}
	if _, ok := got["bubbling"]; ok {
		t.Error("bubbling is compared, though it changes by the minute")
	}
	b.do(b.w.Set(b.rec, b.note, schema.ItemPath(string(id), "drainage"), ledger.Entry{Value: "gravity"}))
	b.do(b.w.Set(b.rec, b.note, schema.ItemPath(string(id), "suction"), ledger.Entry{}))
	for _, f := range Facts(b.item(t, id)) {
		if f.Field == "suction" {
			t.Errorf("a drain on gravity is asked for its suction: %v", f)
		}
	}
}

// What one lives by comes first, what cannot be seen last (clinical.md 10: the
// check never delays ventilation or transducers).
func TestSequence(t *testing.T) {
	b := newBed(t)
	pack := b.list("left-on-purpose", "packs", "visible=no")
	drain := b.list("drain", "mediastinal")
	art := b.list("arterial-line", "radial")
	la := b.list("intracardiac-line", "left-atrial")
	tube := b.list("airway", "oral-tube")
	ra := b.list("intracardiac-line", "right-atrial")
	c := CheckOf(b.rec, b.note, ledger.Leaving)
	var got []ledger.ItemID
	for _, e := range c.Entries {
		got = append(got, ledger.ItemID(e.Item.ID))
	}
	if want := []ledger.ItemID{tube, la, ra, art, drain, pack}; !slices.Equal(got, want) {
		t.Errorf("looked at in the order %v, want %v", got, want)
	}
	if last := c.Entries[5]; !last.Inside {
		t.Error("the packs are not offered as inside")
	}
}

func TestCheckToTheEnd(t *testing.T) {
	b := newBed(t)
	for _, v := range []string{"right-atrial", "left-atrial"} {
		b.list("intracardiac-line", v)
	}
	for _, v := range []string{"mediastinal", "right-pleural", "left-pleural"} {
		b.list("drain", v, "size=12")
	}
	b.list("left-on-purpose", "packs", "count=2", "visible=no")
	b.list("implant", "shunt") // stays for good: nobody looks for it at the bed

	at := func() Check { return CheckOf(ledger.FoldCase(b.rec.Case(), b.rec.Events()), b.note, ledger.Leaving) } // taken up after an interruption
	c := at()
	if c.Tally.Counts.Listed != 6 || c.Tally.Counts.Unanswered != 6 || c.Ready() || c.Next != 0 || c.Words() != "6 listed: 6 not answered." {
		t.Fatalf("before the first answer: %+v, next %d, %q", c.Tally, c.Next, c.Words())
	}
	give := func(i int, answer ledger.CheckView) {
		t.Helper()
		b.do(b.w.Check(b.rec, b.note, answer))
		if now := at(); !now.Entries[i].Answered {
			t.Fatalf("the answer about %s did not stay", now.Entries[i].Name)
		}
	}
	give(0, c.Entries[0].Found())
	if at().Next != 1 {
		t.Errorf("after the first answer the next is %d", at().Next)
	}
	give(1, c.Entries[1].Differs(ledger.Difference{Field: "mark", Sheet: "not recorded", Bedside: "7 cm"}))
	give(2, c.Entries[2].Found())
	give(3, c.Entries[3].NotFound())
	give(4, c.Entries[4].CannotSee("under the dressing", schema.MomentOf(2026, 7, 14, 18, 0, 0, "")))
	give(5, c.Entries[5].InsideNow("count and X-ray"))
	b.do(b.w.Check(b.rec, b.note, ExtraFound(b.w.NewItem(), ledger.Leaving, "cannula, left foot")))

	c = at()
	n := c.Tally.Counts
	if n.Found+n.Differs+n.NotFound+n.CannotSee+n.Inside != n.Listed || n.Listed != 6 || n.Extra != 1 {
		t.Errorf("the tally does not add up: %+v", n)
	}
	if want := "6 listed: 2 found, 1 differs, 1 not found, 1 cannot be seen now, 1 inside, accounted for. 1 found and not listed."; c.Words() != want {
		t.Errorf("in words %q, want %q", c.Words(), want)
	}
	if want := []string{"2 Left atrial line: differs: mark at the skin is 7 cm, listed not recorded", "4 Right pleural drain 12 Fr: not found", "Not listed: cannula, left foot"}; !slices.Equal(stillOpenWords(c), want) {
		t.Errorf("open is %q, want %q", stillOpenWords(c), want)
	}
	if c.Ready() {
		t.Error("it balances with three things unsettled")
	}
	b.do(b.w.Settle(b.note, c.Entries[1].Answer.Event, "entered on the sheet", ""))
	b.do(b.w.Settle(b.note, c.Entries[3].Answer.Event, "never placed; taken off the list", "S. Example"))
	if at().Ready() {
		t.Error("it balances with the extra unsettled")
	}
	b.do(b.w.ListItem(b.note, c.Extras[0].Item, "peripheral-cannula", b.rec.NextTag())) // listing it settles it
	c = at()
	if !c.Ready() || len(c.Open()) > 0 {
		t.Fatalf("settled, and still open: %q", stillOpenWords(c))
	}
	if c.Tally.Counts.Listed != 6 || c.Tally.Counts.Extra != 1 {
		t.Errorf("listing the extra changed the count of what was listed: %+v", c.Tally.Counts)
	}
	b.do(b.w.CloseCheck(b.rec, b.note, ledger.Leaving))
	if c = at(); len(c.Closings) != 1 || c.Closings[0].Changed || len(c.Closings[0].SignedDifferences) != 2 {
		t.Fatalf("the name under the tally: %+v", c.Closings)
	}
	// On arrival each is asked again, beside the answer from theatre.
	arrival := CheckOf(b.rec, b.note, ledger.Arrival)
	if arrival.Tally.Counts.Listed != 7 || arrival.Tally.Counts.Unanswered != 7 || arrival.Entries[0].Before == nil || arrival.Entries[0].Before.Answer != ledger.Found {
		t.Errorf("on arrival: %+v", arrival.Tally)
	}
	// A changed answer after the name is seen, and reopens what it reopens.
	b.do(b.w.Check(b.rec, b.note, c.Entries[0].NotFound()))
	if c = at(); !c.Closings[0].Changed || c.Ready() {
		t.Error("an answer changed after the name, and nothing shows it")
	}
}

func TestTwoPeopleAnswerDifferently(t *testing.T) {
	b := newBed(t)
	b.list("drain", "mediastinal")
	other := b.w.As(ledger.Author{Name: "N. Example", Role: "intensive-care nurse"})
	e := CheckOf(b.rec, b.note, ledger.Arrival).Entries[0]
	one, two := b.w.Check(b.rec, b.note, e.Found()), other.Check(b.rec, b.note, e.NotFound()) // neither saw the other's
	b.do(one, two)
	c := CheckOf(b.rec, b.note, ledger.Arrival)
	if c.Ready() || !c.Entries[0].Answer.Several || !strings.Contains(c.Words(), "1 answered in two ways") {
		t.Fatalf("two answers: %+v, %q", c.Entries[0].Answer, c.Words())
	}
	for _, name := range []string{"A. Example", "N. Example"} {
		if !strings.Contains(c.Open()[0].Words, name) {
			t.Errorf("%q does not name %s", c.Open()[0].Words, name)
		}
	}
	b.do(b.w.Check(b.rec, b.note, e.Found()))
	if c = CheckOf(b.rec, b.note, ledger.Arrival); !c.Ready() {
		t.Errorf("answered once more, and still open: %v", c.Open())
	}
}

func TestCannotSeeWantsReasonAndTime(t *testing.T) {
	b := newBed(t)
	b.list("drain", "mediastinal")
	e := CheckOf(b.rec, b.note, ledger.Arrival).Entries[0]
	b.do(b.w.Check(b.rec, b.note, e.CannotSee("", schema.Moment{})))
	if CheckOf(b.rec, b.note, ledger.Arrival).Ready() {
		t.Error("not seen, without a reason or a time, and it balances")
	}
	b.do(b.w.Check(b.rec, b.note, e.CannotSee("under the drapes", schema.MomentOf(2026, 7, 14, 16, 0, 0, ""))))
	c := CheckOf(b.rec, b.note, ledger.Arrival)
	if !c.Ready() || len(c.Tally.LookAgain) != 1 {
		t.Errorf("with a reason and a time: %+v", c.Tally)
	}
	if want := "cannot be seen now (under the drapes; look again by 14-Jul-2026 16:00)"; AnswerWords(c.Entries[0].Answer) != want {
		t.Errorf("in words %q, want %q", AnswerWords(c.Entries[0].Answer), want)
	}
}

// Every combination of answers over four items: the sum of the kinds is what is
// listed, and it balances exactly if nothing is unanswered or unsettled.
func TestTallyAddsUp(t *testing.T) {
	give := []func(Entry) (ledger.CheckView, bool){
		func(e Entry) (ledger.CheckView, bool) { return e.Found(), true },
		func(e Entry) (ledger.CheckView, bool) {
			return e.Differs(ledger.Difference{Field: "other", Bedside: "x"}), false
		},
		func(e Entry) (ledger.CheckView, bool) { return e.NotFound(), false },
		func(e Entry) (ledger.CheckView, bool) { return e.InsideNow("count"), true },
		func(e Entry) (ledger.CheckView, bool) {
			return e.CannotSee("dressing", schema.MomentOf(2026, 7, 14, 18, 0, 0, "")), true
		},
		nil,
	}
	for mix := range 6 * 6 * 6 * 6 {
		b := newBed(t)
		for range 4 {
			b.list("drain", "mediastinal")
		}
		want, each := true, mix
		for _, e := range CheckOf(b.rec, b.note, ledger.Leaving).Entries {
			if g := give[each%6]; g == nil {
				want = false
			} else {
				answer, fine := g(e)
				want = want && fine
				b.do(b.w.Check(b.rec, b.note, answer))
			}
			each /= 6
		}
		c := CheckOf(b.rec, b.note, ledger.Leaving)
		n := c.Tally.Counts
		if sum := n.Found + n.Differs + n.NotFound + n.CannotSee + n.Inside + n.Unanswered; sum != 4 || n.Listed != 4 || c.Ready() != want {
			t.Fatalf("mix %d: %s, balances %v, want %v", mix, fmt.Sprint(n), c.Ready(), want)
		}
	}
}

// After the next operation everything still in is looked for again, under the tags
// it had; what came out, and what was cut and left for good, is not.
func TestCheckAfterTheNextOperation(t *testing.T) {
	b := newBed(t)
	stays, out, cut, lost := b.list("drain", "mediastinal"), b.list("drain", "right-pleural"), b.list("pacing-wires", "atrial"), b.list("arterial-line", "radial")
	b.do(b.w.Register(b.note, ledger.KindRemoved, out, ledger.RegisterFacts{Complete: "yes"}))
	b.do(b.w.Register(b.note, ledger.KindCutLeft, cut, ledger.RegisterFacts{}))
	b.do(b.w.Register(b.note, ledger.KindLost, lost, ledger.RegisterFacts{}))
	b.wall = b.wall.Add(48 * time.Hour)
	b.note = b.w.NewNote()
	b.do(b.w.OpenNote(b.note, schema.Reexploration))
	fresh := b.list("drain", "left-pleural")
	c := CheckOf(b.rec, b.note, ledger.Arrival)
	var got []ledger.ItemID
	for _, e := range c.Entries {
		got = append(got, ledger.ItemID(e.Item.ID))
	}
	if want := []ledger.ItemID{lost, stays, fresh}; !slices.Equal(got, want) {
		t.Errorf("looked for are %v, want %v", got, want)
	}
	if c.Entries[1].Item.Tag != 1 || c.Entries[2].Item.Tag != 5 {
		t.Errorf("under the tags %d and %d, want 1 and 5", c.Entries[1].Item.Tag, c.Entries[2].Item.Tag)
	}
	// What is taken out at the bed after it was answered for still counts; what is
	// taken out before anybody looked no longer does.
	b.do(b.w.Check(b.rec, b.note, c.Entries[1].Found()))
	b.do(b.w.Register(b.note, ledger.KindRemoved, stays, ledger.RegisterFacts{Complete: "yes"}))
	b.do(b.w.Register(b.note, ledger.KindRemoved, fresh, ledger.RegisterFacts{Complete: "yes"}))
	if n := CheckOf(b.rec, b.note, ledger.Arrival).Tally.Counts; n.Listed != 2 || n.Found != 1 || n.Unanswered != 1 {
		t.Errorf("after two came out: %+v", n)
	}
}

func BenchmarkCheckOf(b *testing.B) {
	bed := newBed(&testing.T{})
	for range 40 {
		bed.list("drain", "mediastinal", "size=12")
	}
	for b.Loop() {
		if c := CheckOf(bed.rec, bed.note, ledger.Arrival); len(c.Entries) != 40 {
			b.Fatal("wrong")
		}
	}
}

func stillOpenWords(c Check) (out []string) {
	for _, x := range c.Open() {
		out = append(out, x.Words)
	}
	return out
}
