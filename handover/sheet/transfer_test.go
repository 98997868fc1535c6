package sheet

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// The transfer sheet lists every item that is in the child and nothing else, and of
// each who knows of it and when it must come out, in the words that were said. What
// is in is counted here from the record's own list; the words were typed above the
// check. That a list at a hand-over names each thing left in is common practice; no
// source is held here.
func TestTransferListsWhatIsIn(t *testing.T) {
	for _, file := range []string{"notes/stage1.json", "notes/stage2.json", "notes/stage3.json"} {
		rec, w, _ := entered(t, file)
		in := rec.ItemsIn()
		var bedside []ledger.ItemView
		for _, v := range in {
			if ledger.Bedside(v.Kind) {
				bedside = append(bedside, v)
			}
		}
		if len(bedside) < 5 {
			t.Fatalf("%s: only %d things", file, len(bedside))
		}
		rec.Apply(w.Happen(ledger.KindRemoved, bedside[0].ID, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
		rec.Apply(w.Happen(ledger.KindRemoved, bedside[1].ID, ledger.RegisterFacts{Complete: "no"}))
		rec.Apply(w.Transfer(bedside[2].ID, "Ward Six", "Sister Example, on 0000", "before Friday"))
		rec.Apply(w.GoHome(bedside[3].ID, "community nurse", "when feeds are established"))
		rec.Apply(w.Transfer(bedside[4].ID, "Ward Nine", "somebody", "never"))
		rec.Apply(w.Happen(ledger.KindConfirmed, bedside[4].ID, ledger.RegisterFacts{})) // taken back
		s := TransferOf(rec, nil, at, A4)

		var want, got []string
		for _, v := range in {
			if v.ID != bedside[0].ID {
				want = append(want, string(v.ID))
			}
		}
		cells := map[string]Line{}
		for _, bl := range s.Blocks {
			for _, l := range bl.Lines {
				if l.Item != "" {
					got, cells[l.Item] = append(got, l.Item), l
				}
			}
		}
		slices.Sort(want)
		slices.Sort(got)
		if !slices.Equal(want, got) {
			t.Errorf("%s: on the sheet %v, in the child %v", file, got, want)
		}
		for _, x := range []struct {
			item        ledger.ItemID
			knows, outs string
		}{{bedside[2].ID, "Sister Example, on 0000", "before Friday"}, {bedside[3].ID, "community nurse", "when feeds are established"},
			{bedside[4].ID, schema.NotRecorded, schema.NotRecorded}, {bedside[1].ID, schema.NotRecorded, schema.NotRecorded}} {
			l := cells[string(x.item)]
			if k, o := Text(l.Cells[4]), Text(l.Cells[5]); !strings.HasPrefix(k, x.knows) || !strings.HasPrefix(o, x.outs) {
				t.Errorf("%s: tag %s: known to %q, to come out %q; want %q, %q", file, Text(l.Cells[0]), k, o, x.knows, x.outs)
			}
		}
		if what := Text(cells[string(bedside[1].ID)].Cells[1]); !strings.Contains(what, "REMOVED IN PART") {
			t.Errorf("%s: a part left in is listed as %q", file, what)
		}
		to := Text(s.Block("transfer-to").Lines[0].Spans)
		if !strings.Contains(to, "Ward Six") || !strings.Contains(to, "home") || strings.Contains(to, "Ward Nine") {
			t.Errorf("%s: goes to %q", file, to)
		}
		if open := s.Block("transfer-open"); !strings.Contains(Text(open.Lines[0].Spans), "did not come out complete") {
			t.Errorf("%s: what is open: %q", file, Text(open.Lines[0].Spans))
		}
		// Every page holds its lines, and all lines stand on some page.
		printed := 0
		for _, p := range s.Pages {
			for _, band := range p.Bands {
				for _, c := range band.Columns {
					for _, bl := range c.Blocks {
						for _, l := range bl.Lines {
							if l.Item != "" {
								printed++
							}
						}
					}
				}
			}
		}
		if printed != len(want) {
			t.Errorf("%s: %d items on the pages, want %d", file, printed, len(want))
		}
	}
}

// With nothing in, the sheet says so, and that somebody must look.
func TestTransferOfNothing(t *testing.T) {
	rec, w, _ := entered(t, "notes/stage1.json")
	for _, v := range rec.ItemsIn() {
		rec.Apply(w.Happen(ledger.KindRemoved, v.ID, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	}
	s := TransferOf(rec, nil, at, A4)
	if got := Text(s.Block("transfer-items").Lines[0].Spans); !strings.Contains(got, "Look at the child") || s.Block("transfer-stays") != nil {
		t.Errorf("with nothing in: %q", got)
	}
	if TransferOf(ledger.FoldCase(rec.Case(), nil), nil, schema.Moment{}, A4) != nil {
		t.Error("a sheet of no record")
	}
}

// Of each thing the last readings stand on the sheet, when and by whom: what a drain
// gave in all, a line's pressure, wires' threshold; of what was not read, that it was
// not. The figures were typed here and added by hand. That the ward gets the latest
// figures is common practice; no source is held here.
func TestTransferHasTheLastReadings(t *testing.T) {
	rec, w, _ := entered(t, "notes/stage1.json")
	item := func(kind, variety string) ledger.ItemID {
		id := w.NewItem()
		rec.Apply(w.ListItem("", id, kind, rec.NextTag()))
		rec.Apply(w.Set(rec, "", schema.ItemPath(string(id), "variety"), ledger.Entry{Value: variety}))
		return id
	}
	drain, unread, line, wires := item("drain", "mediastinal"), item("drain", "left-pleural"), item("intracardiac-line", "left-atrial"), item("pacing-wires", "ventricular")
	nurse := ledger.Author{Name: "N. Example", Role: "intensive-care-nurse"}
	when := func(s string) *ledger.Writer {
		m, err := schema.ParseMoment(s)
		if err != nil {
			t.Fatal(err)
		}
		return w.As(nurse).At(m)
	}
	for _, x := range [][2]string{{"2026-07-15T08:00+01:00", "20"}, {"2026-07-15T09:00+01:00", "52.5"}} {
		rec.Apply(when(x[0]).ReadOutput(drain, ledger.Output{Total: x[1], Colour: "serous"}))
	}
	rec.Apply(when("2026-07-15T09:30+01:00").ReadOutput(drain, ledger.Output{Volume: "7", Minutes: "30", Colour: "blood", Emptied: "yes"}))
	rec.Apply(when("2026-07-15T08:10+01:00").ReadPressure(line, ledger.Pressure{Mean: "9"}), when("2026-07-15T10:10+01:00").ReadPressure(line, ledger.Pressure{Mean: "7", Trace: "good"}))
	rec.Apply(when("2026-07-15T08:20+01:00").TestWires(wires, ledger.WireTest{Threshold: "1.5", Sensing: "4"}), when("2026-07-15T10:20+01:00").TestWires(wires, ledger.WireTest{Mode: "VVI", Rate: "120"}))
	rec.Apply(when("2026-07-15T11:00+01:00").Happen(ledger.KindChecked, line, ledger.RegisterFacts{}))
	gone := item("drain", "pericardial")
	look, _ := schema.ParseMoment("2026-07-15T12:30+01:00")
	rec.Apply(when("2026-07-15T11:30+01:00").Remove(gone, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Next: look}))
	s := TransferOf(rec, nil, at, A4)
	cells := map[string]string{}
	for _, l := range s.Block("transfer-items").Lines {
		cells[l.Item] = Text(l.Cells[3])
	}
	for _, x := range []struct {
		item ledger.ItemID
		has  []string
		not  []string
	}{
		// 20 since it was put in, 52.5 - 20 and 7.
		{drain, []string{"59.5 mL in all", "7 mL in 30 min", "blood", "emptied", "15-Jul-2026 09:30", "N. Example"}, []string{"52.5", "serous"}},
		{unread, []string{"what it drained " + schema.NotRecorded, "not seen since it was listed"}, nil},
		{line, []string{"mean 7 mmHg", "15-Jul-2026 10:10", "checked 15-Jul-2026 11:00"}, []string{"mean 9"}},
		{wires, []string{"threshold 1.5 mA", "sensing 4 mV", "15-Jul-2026 08:20", "box VVI", "rate 120 per minute", "15-Jul-2026 10:20"}, nil},
	} {
		for _, has := range x.has {
			if !strings.Contains(cells[string(x.item)], has) {
				t.Errorf("%q is not in %q", has, cells[string(x.item)])
			}
		}
		for _, not := range x.not {
			if strings.Contains(cells[string(x.item)], not) {
				t.Errorf("%q is in %q", not, cells[string(x.item)])
			}
		}
	}
	due := s.Block("transfer-due")
	if due == nil || !strings.Contains(Text(due.Lines[0].Spans), "Pericardial drain: Look at the site again, by 15-Jul-2026 12:30") {
		t.Errorf("the site that is to be looked at is not named: %+v", due)
	}
}

// What was asked before the child went home, and who decided it, goes with the child.
// Invented answers.
func TestTransferTellsWhatWasAsked(t *testing.T) {
	rec, w, _ := entered(t, "notes/stage1.json")
	for _, v := range rec.ItemsIn() {
		rec.Apply(w.GoHome(v.ID, "community nurse", "in six weeks"))
	}
	asked := ledger.Condition{What: "Tag 4 lies on the heart.", Answer: "cut at the skin on Monday (decided by B. Physician)"}
	if s := TransferOf(rec, nil, at, A4); s.Block("transfer-asked") != nil {
		t.Error("the stay goes on, and answers of its end are told")
	}
	rec.Apply(w.Discharge(asked))
	bl := TransferOf(rec, nil, at, A4).Block("transfer-asked")
	if bl == nil || len(bl.Lines) != 1 {
		t.Fatalf("%v", bl)
	}
	for _, want := range []string{asked.What, asked.Answer, "recorded by "} {
		if got := Text(bl.Lines[0].Spans); !strings.Contains(got, want) {
			t.Errorf("%q lacks %q", got, want)
		}
	}
}
