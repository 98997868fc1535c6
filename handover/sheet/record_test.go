package sheet

import (
	"fmt"
	"math/rand"
	"strconv"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// entered is the record of a committed note, and a writer for more.
func entered(t *testing.T, file string) (*ledger.Record, *ledger.Writer, ledger.NoteID) {
	t.Helper()
	n := committed(t)[file]
	now := time.Date(2026, 7, 14, 15, 0, 0, 0, time.UTC)
	ids := ledger.NewIDs(rand.New(rand.NewSource(5)), func() time.Time { now = now.Add(time.Second); return now })
	civil := func() schema.Moment { return schema.MomentOf(2026, 7, 14, 16, 5, 60, "Europe/London") }
	w := ledger.NewWriterAt(ledger.CaseID(n.Case()), ledger.Author{Name: "A. Tester", Role: "surgeon"}, func() time.Time { now = now.Add(time.Second); return now }, ids, civil)
	rec := ledger.FoldCase(ledger.CaseID(n.Case()), nil)
	ledger.Enter(rec, w, n)
	return rec, w, ledger.NoteID(n.ID())
}

// TestRecordAndNote: the sheet of a note entered into a record says what the
// sheet of the note itself says.
func TestRecordAndNote(t *testing.T) {
	for file, n := range committed(t) {
		if strings.Contains(file, "minimal") {
			continue
		}
		rec, _, note := entered(t, file)
		got := Build(rec, note, nil, at)
		want := Make(Facts{Note: n, At: at}, A4)
		for _, id := range []string{"worries", "call", "now", "times", "infusions", "plan", "implants", "details"} {
			a, b := got.Block(id), want.Block(id)
			switch {
			case a == nil && b == nil:
			case a == nil || b == nil:
				t.Errorf("%s: only one of the two has %s", file, id)
			case Text(blockSpans(*a)) != Text(blockSpans(*b)):
				t.Errorf("%s: %s differs:\n%s\n%s", file, id, Text(blockSpans(*a)), Text(blockSpans(*b)))
			}
		}
	}
}

// TestSignatures: unsigned, signed, amended and told again are on the page, and
// a signature never gates it.
func TestSignatures(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	says := func(what string, want bool) {
		t.Helper()
		s := Build(rec, note, nil, at)
		if got := strings.Contains(Text(spansOf(s)), what); got != want {
			t.Errorf("the sheet says %q: %v", what, got)
		}
	}
	says("UNSIGNED", true)
	says("UNSIGNED: ", false)
	rec.Apply(w.SignNote(rec, note, 2))
	says("UNSIGNED", false)
	says("SIGNED WITH OPEN ITEMS: 2", true)
	says("A. Tester", true)
	says("AMENDED", false)
	rec.Apply(w.As(ledger.Author{Name: "N. Later", Role: "surgeon"}).Set(rec, note, schema.CareFeeding, ledger.Entry{Value: "Nothing until the echo"}))
	rec.Apply(w.Amend(note, "Bowel looked pale"))
	says("AMENDED", true)
	says("N. Later", true)
	says("RECEIVER NOT TOLD", true)
	says("Bowel looked pale", true)
	says("Changed after signing: feeding plan", true)
	rec.Apply(w.TellSheet(rec, note, "L. Deputy"))
	says("RECEIVER NOT TOLD", false)
	says("Told again after the change: L. Deputy", true)
}

// TestChangesAfterSigning: each place that was changed after signing stands once
// among the names, with what was signed, what stands now and who changed it last.
func TestChangesAfterSigning(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	rec.Apply(w.Set(rec, note, schema.GasLactate, ledger.Number("5.8")))
	rec.Apply(w.SignNote(rec, note, 0))
	other := w.As(ledger.Author{Name: "N. Later", Role: "surgeon"})
	for _, v := range []string{"4.4", "4", "3.9"} {
		rec.Apply(other.Set(rec, note, schema.GasLactate, ledger.Number(v)))
	}
	rec.Apply(other.Set(rec, note, schema.CareFeeding, ledger.Entry{Value: "Nothing until the echo"}))
	says := func() (out []string) {
		for _, l := range Build(rec, note, nil, at).Block("signatures").Lines {
			if x := Text(l.Spans); strings.HasPrefix(x, "Changed after signing: ") {
				out = append(out, x)
			}
		}
		return out
	}
	got := says()
	if len(got) != 2 || !strings.HasPrefix(got[0], "Changed after signing: lactate from 5.8 mmol/L to 3.9 mmol/L, N. Later, ") || !strings.Contains(got[1], "to Nothing until the echo, N. Later") {
		t.Errorf("five lines are two changes: %q", got)
	}
	rec.Apply(w.Set(rec, note, schema.GasLactate, ledger.Number("5.8")))
	if got = says(); len(got) != 2 || !strings.HasPrefix(got[1], "Changed after signing: lactate, and back to 5.8 mmol/L, A. Tester") {
		t.Errorf("changed back: %q", got)
	}
}

// TestChangedWhereItStands: what was changed after signing says so where it stands,
// with when; what was changed back, or not at all, does not. An item is marked once.
func TestChangedWhereItStands(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	rec.Apply(w.SignNote(rec, note, 0))
	const mark = " [changed after signing, "
	marks := func() (out []string) {
		for _, bl := range Build(rec, note, nil, at).Blocks {
			for _, l := range bl.Lines {
				if x := Text(l.Spans); bl.ID != "signatures" && strings.Contains(x, mark) {
					out = append(out, x)
				}
			}
		}
		return out
	}
	if got := marks(); len(got) > 0 {
		t.Fatalf("nothing was changed: %q", got)
	}
	was := rec.Note(note).Text(schema.CareFeeding)
	rec.Apply(w.Set(rec, note, schema.CareFeeding, ledger.Entry{Value: "Nothing until the echo"}))
	if got := marks(); len(got) != 1 || !strings.Contains(got[0], "Nothing until the echo"+mark+"14 Jul 2026 16:05]") && !strings.Contains(got[0], "Nothing until the echo"+mark+"16:05]") {
		t.Errorf("a changed field: %q", got)
	}
	if was != "" {
		rec.Apply(w.Set(rec, note, schema.CareFeeding, ledger.Entry{Value: was}))
		if got := marks(); len(got) != 0 {
			t.Errorf("changed back: %q", got)
		}
	}
	it := rec.Note(note).Items()[0]
	for _, name := range []string{"depth", "size"} {
		rec.Apply(w.Set(rec, note, it.Path(name), ledger.Number("4")))
	}
	n := 0
	for _, x := range marks() {
		n += strings.Count(x, mark)
	}
	if n != 1 {
		t.Errorf("a changed item is marked %d times: %q", n, marks())
	}
}

// TestDisagreement: two values that neither writer has seen are both on the page
// with the names, and nothing is computed from them.
func TestDisagreement(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	before := ledger.Fold(rec.Events())
	one := w.As(ledger.Author{Name: "B. First", Role: "anaesthetist"}).Set(before, note, schema.MeasuresDosingWeight, ledger.Number("3.4"))
	two := w.As(ledger.Author{Name: "C. Second", Role: "nurse"}).Set(before, note, schema.MeasuresDosingWeight, ledger.Number("3.1"))
	rec.Apply(one, two)
	s := Build(rec, note, nil, at)
	head := ""
	for _, l := range s.Head.Lines {
		head += Text(l)
	}
	for _, want := range []string{"DISAGREE", "3.4 kg", "B. First", "3.1 kg", "C. Second"} {
		if !strings.Contains(head, want) {
			t.Errorf("the banner lacks %q: %s", want, head)
		}
	}
	if card := Text(blockSpans(*s.Block("emergency"))); !strings.Contains(card, "STOPPED") || strings.Contains(card, "mcg") {
		t.Errorf("the card is not stopped: %s", card)
	}
	if faults := s.Block("faults"); faults == nil || !strings.Contains(Text(blockSpans(*faults)), "different values") {
		t.Error("nothing at the top says that two values disagree")
	}
}

// TestBedside: each answer of the bedside check is on the page by its item, with
// what differs and who signed for it.
func TestBedside(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	check := lines.CheckOf(rec, note, ledger.Leaving)
	if check := Build(rec, note, nil, at).Block("items").Lines[0].Checks; check[0].Words != tick {
		t.Errorf("before a check there is no box to tick: %v", check)
	}
	nurse := w.As(ledger.Author{Name: "N. Bedside", Role: "nurse"})
	var differs, lost, later, own string
	for i, e := range check.Entries {
		var answer ledger.CheckView
		switch {
		case i == 0:
			differs = e.Item.ID
			answer = e.Differs(ledger.Difference{Field: "depth", Sheet: "11 cm", Bedside: "12 cm"})
		case i == 1:
			lost = e.Item.ID
			answer = e.NotFound()
		case i == 5:
			own = e.Item.ID
			answer = e.Differs(ledger.Difference{Field: lines.FieldOther, Bedside: "dressing wet"})
		case i == 2:
			later = e.Item.ID
			answer = e.CannotSee("under the drapes", schema.MomentOf(2026, 7, 14, 18, 0, 60, "Europe/London"))
		case i == 3:
			continue // not yet answered
		case e.Inside:
			answer = e.InsideNow("counted at closure")
		default:
			answer = e.Found()
		}
		rec.Apply(nurse.Check(rec, note, answer))
	}
	extra := nurse.NewItem()
	rec.Apply(nurse.Check(rec, note, lines.ExtraFound(extra, ledger.Leaving, "a second foot cannula")))
	s := Build(rec, note, nil, at)
	text := map[string]string{}
	words := map[string]string{}
	count := map[string]int{}
	for _, l := range s.Block("items").Lines {
		if l.Item != "" {
			text[l.Item], words[l.Item] = Text(l.Spans), l.Checks[0].Words
			count[l.Checks[0].Words]++
		}
	}
	for _, c := range []struct{ item, word, says string }{
		{differs, "differs", "depth: sheet 11 cm, bedside 12 cm"},
		{differs, "differs", "NOT YET SETTLED"},
		{own, "differs", "Leaving theatre: differs: dressing wet ("},
		{lost, "not found", "N. Bedside"},
		{later, "later", "look again by 18:00"},
	} {
		if words[c.item] != c.word || !strings.Contains(text[c.item], c.says) {
			t.Errorf("%s: %q, want %q with %q", words[c.item], text[c.item], c.word, c.says)
		}
	}
	if count["not yet"] != 1 || count["found"] < 5 {
		t.Errorf("answers: %v", count)
	}
	all := Text(blockSpans(*s.Block("items")))
	for _, want := range []string{"Found and NOT LISTED", "a second foot cannula", "Leaving theatre: "} {
		if !strings.Contains(all, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
	tag := rec.NextTag()
	rec.Apply(nurse.ListItem(note, extra, "peripheral-cannula", tag)) // one thing, and no second
	all = Text(blockSpans(*Build(rec, note, nil, at).Block("items")))
	if want := fmt.Sprintf("Found and not listed then, tag %d now", tag); !strings.Contains(all, want) || strings.Contains(all, "NOT LISTED") {
		t.Errorf("listed since, and the list lacks %q", want)
	}
	v, _ := rec.Check(note, ledger.Leaving, ledger.ItemID(differs))
	rec.Apply(w.Settle(note, v.Event, "taped again at 12 cm", "B. Anaesthetist"))
	again := ""
	for _, l := range Build(rec, note, nil, at).Block("items").Lines {
		if l.Item == differs {
			again = Text(l.Spans)
		}
	}
	if !strings.Contains(again, "signed for by B. Anaesthetist: taped again at 12 cm") || strings.Contains(again, "NOT YET SETTLED") {
		t.Errorf("the settled difference reads %q", again)
	}
}

// TestRemoved: what has come out is no longer listed as in, and is named as out.
func TestRemoved(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	it := rec.Whole(note).Items()[4]
	rec.Apply(w.Register(note, ledger.KindRemoved, ledger.ItemID(it.ID), ledger.RegisterFacts{Complete: "yes"}))
	s := Build(rec, note, nil, at)
	for _, l := range s.Block("items").Lines {
		if l.Item == it.ID {
			t.Errorf("tag %d is out and still listed as in", it.Tag)
		}
	}
	if all := Text(blockSpans(*s.Block("items"))); !strings.Contains(all, fmt.Sprint("OUT: tag ", it.Tag)) {
		t.Errorf("tag %d is nowhere said to be out", it.Tag)
	}
}

// TestOldSupplyOut: the shunt that the stage 2 note says was taken out is out on its
// sheet, of this operation and not of the time since.
func TestOldSupplyOut(t *testing.T) {
	rec, w, first := entered(t, "notes/stage1.json")
	var shunt schema.Item
	for _, it := range rec.Note(first).Items() {
		if it.Text("variety") == "shunt" {
			shunt = it
		}
	}
	next := w.NewNote()
	rec.Apply(w.OpenNote(next, schema.Stage2))
	rec.Apply(w.Set(rec, next, schema.Stage2OldSupply, ledger.Entry{Value: "taken-out"}), w.Set(rec, next, schema.OperationClosed, ledger.Entry{Value: "2026-07-14T15:30+01:00"}))
	list := func() string { return Text(blockSpans(*Build(rec, next, nil, at).Block("items"))) }
	if said := fmt.Sprint("OUT: tag ", shunt.Tag); strings.Contains(list(), said) {
		t.Fatal("it is out before anybody named it")
	} else if rec.Apply(w.Set(rec, next, schema.Stage2OldSupplyItems, ledger.Entry{Value: []string{shunt.ID}})); !strings.Contains(list(), said) {
		t.Errorf("the sheet does not say that it is out: %s", list())
	}
	f, _ := FromRecord(rec, next, nil, at)
	if len(f.Gone) != 1 || f.Gone[0].Since {
		t.Errorf("it is out since the operation: %+v", f.Gone)
	}
}

// TestWentWithTheChild: what left the unit in the child is not out, and has words of
// its own.
func TestWentWithTheChild(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	its := rec.Whole(note).Items()
	rec.Apply(w.Transfer(ledger.ItemID(its[3].ID), "Ward Six", "Sister Example", "Friday"), w.GoHome(ledger.ItemID(its[4].ID), "community nurse", "in a week"))
	text := func() (items, boxes string) {
		s := Build(rec, note, nil, at)
		for _, l := range s.Block("items").Lines {
			items += Text(l.Spans) + "\n"
		}
		return items, Text(blockSpans(*s.Block("state")))
	}
	items, boxes := text()
	if want := fmt.Sprintf("TO GO WITH THE CHILD: tag %d", its[3].Tag); !strings.Contains(items, want) || strings.Contains(items, "WENT WITH") || strings.Contains(boxes, "GONE") {
		t.Errorf("the child has not left, and the list says %s, the boxes %s", items, boxes)
	}
	rec.Apply(w.Discharge())
	items, boxes = text()
	want := fmt.Sprintf("WENT WITH THE CHILD, STILL IN: tag %d", its[3].Tag)
	if strings.Contains(items, "\nOUT: ") || !strings.Contains(items, want) || !strings.Contains(items, fmt.Sprintf("; tag %d ", its[4].Tag)) || !strings.Contains(items, "gone home") {
		t.Errorf("the list says %s", items)
	}
	if !strings.Contains(boxes, "2 GONE WITH THE CHILD") {
		t.Errorf("the boxes say %s", boxes)
	}
	rec.Apply(w.Happen(ledger.KindRemoved, ledger.ItemID(its[5].ID), ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	if items, _ = text(); !strings.Contains(items, fmt.Sprintf("\nOUT: tag %d ", its[5].Tag)) || !strings.Contains(items, want) {
		t.Errorf("with one truly out the list says %s", items)
	}
}

// TestExchangedSince: a line exchanged at the bed is out, and the one in its place,
// which no note lists, is named on the sheet.
func TestExchangedSince(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	old := rec.Whole(note).Items()[4]
	if all := Text(blockSpans(*Build(rec, note, nil, at).Block("items"))); strings.Contains(all, "IN SINCE") {
		t.Error("nothing was listed since, and the sheet says so")
	}
	tag := rec.NextTag()
	_, es := w.Exchange(rec, ledger.ItemID(old.ID), "", ledger.RegisterFacts{})
	rec.Apply(es...)
	all := Text(blockSpans(*Build(rec, note, nil, at).Block("items")))
	for _, want := range []string{fmt.Sprint("OUT: tag ", old.Tag), fmt.Sprint("IN SINCE, NOT ON THIS NOTE: tag ", tag)} {
		if !strings.Contains(all, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
}

// TestOldNote: on the sheet of a note that later ones follow, what is as of the
// note and what is now are told apart, and the page agrees with itself.
func TestOldNote(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	whole := rec.Whole(note)
	boxes := func() string { return Text(blockSpans(*Build(rec, note, nil, at).Block("state"))) }
	in, implants := 0, 0
	for _, it := range whole.Items() {
		if lines.Checked(it) {
			in++
		} else {
			implants++
		}
	}
	asLeft := fmt.Sprintf("%d TAGS IN + %d IMPLANTS", in, implants)
	if got := boxes(); !strings.Contains(got, asLeft) || strings.Contains(got, "NOW") || strings.Contains(got, "LATER") {
		t.Errorf("nothing has changed, and the boxes say %s", got)
	}
	taken := 0
	for _, it := range whole.Items() {
		if lines.Checked(it) {
			rec.Apply(w.Register(note, ledger.KindRemoved, ledger.ItemID(it.ID), ledger.RegisterFacts{Complete: "yes"}))
			taken++
			if taken == 5 {
				break
			}
		}
	}
	later := w.NewNote()
	rec.Apply(w.OpenNote(later, schema.Closure))
	rec.Apply(w.Set(rec, later, schema.OperationDate, ledger.Entry{Value: "2026-07-16"}), w.Set(rec, later, schema.OperationClosed, ledger.Entry{Value: "2026-07-16T10:00+01:00"}))
	got := boxes()
	for _, want := range []string{"AS LEFT ON 14-Jul-2026", "CHEST OPEN", asLeft, fmt.Sprintf("OF THESE NOW %d TAGS IN + %d IMPLANTS", in-5, implants), "LATER NOTE: Delayed sternal closure, 16-Jul-2026"} {
		if !strings.Contains(got, want) {
			t.Errorf("the boxes lack %q: %s", want, got)
		}
	}
	s := Build(rec, note, nil, at)
	listed := 0
	for _, l := range s.Block("items").Lines {
		if l.Item != "" {
			listed++
		}
	}
	if listed != in-5 || s.Block("items").Title != "Still in now, by tag" || len(s.Block("map").Map.Marks) > listed {
		t.Errorf("%q lists %d, and %d of %d are in", s.Block("items").Title, listed, in-5, in)
	}
	if s := Build(rec, later, nil, at); strings.Contains(Text(blockSpans(*s.Block("state"))), "AS LEFT") {
		t.Error("the last note speaks of itself as an old one")
	}
}

// TestSheetFollowsRegister: after any sequence of events at the bed the list on the
// sheet has exactly what is still in of the note's items, each once, and what has
// gone is named as out.
func TestSheetFollowsRegister(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	r := rand.New(rand.NewSource(20261125))
	items := rec.Whole(note).Items()
	kinds := []string{ledger.KindPlaced, ledger.KindMoved, ledger.KindRemoved, ledger.KindRemoved, ledger.KindExchanged, ledger.KindCutLeft,
		ledger.KindLost, ledger.KindToTheatre, ledger.KindTransferred, ledger.KindGoneHome, ledger.KindChecked}
	for range 60 {
		it := items[r.Intn(len(items))]
		facts := ledger.RegisterFacts{Complete: []string{"yes", "no", ""}[r.Intn(3)]}
		rec.Apply(w.Happen(kinds[r.Intn(len(kinds))], ledger.ItemID(it.ID), facts))
		times := map[string]int{}
		out := ""
		for _, b := range Build(rec, note, nil, at).Blocks {
			for _, l := range b.Lines {
				if l.Item != "" && (b.ID == "items" || b.ID == "implants") {
					times[l.Item]++
				}
			}
			if b.ID == "items" {
				out = Text(blockSpans(b))
			}
		}
		for _, it := range items {
			v, _ := rec.Item(ledger.ItemID(it.ID))
			here := v.AtBedside() || v.Where == ledger.CutAndLeft
			if here != (times[it.ID] == 1) || times[it.ID] > 1 {
				t.Errorf("tag %d is %s and stands %d times in the list", it.Tag, v.Where, times[it.ID])
			}
			if !here && !strings.Contains(out, "tag "+strconv.Itoa(it.Tag)+" ") {
				t.Errorf("tag %d is %s and nowhere said to be out", it.Tag, v.Where)
			}
		}
	}
}

// What was read of a chamber at the bed stands on a later print, with its time, beside
// what the drains had lost on leaving theatre; the latest counts, and what came before
// theatre was left does not.
func TestDrainLossReadAtTheBed(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	row := func() string {
		for _, l := range Build(rec, note, nil, at).Block("now").Lines {
			if len(l.Cells) > 1 && Text(l.Cells[0]) == "Drain loss" {
				return Text(l.Cells[1])
			}
		}
		return "no row"
	}
	if got := row(); got != "20 mL" {
		t.Errorf("before anything was read at the bed: %q", got)
	}
	var chamber ledger.ItemView
	for _, v := range rec.Items() {
		if v.Kind == "drain-chamber" {
			chamber = v
		}
	}
	left, _ := rec.Note(note).Moment(schema.OperationLeftTheatre)
	read := func(after time.Duration, total string) {
		rec.Apply(w.At(left.Add(after)).ReadOutput(chamber.ID, ledger.Output{Total: total}))
	}
	read(-time.Hour, "30")
	if got := row(); got != "20 mL" {
		t.Errorf("read before theatre was left: %q", got)
	}
	read(time.Hour, "45")
	read(2*time.Hour, "61")
	want := fmt.Sprintf("20 mL; at the bed, tag %d: 61 mL in it, %s (in all since ", chamber.Tag, left.Add(2*time.Hour).Clock())
	if got := row(); !strings.HasPrefix(got, want) || strings.Contains(got, "45 mL in it") {
		t.Errorf("read at the bed: %q, want %q", got, want)
	}
}
