package sheet

import (
	"fmt"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// rowOf is the line of one item on a sheet, its cells one after another.
func rowOf(s *Sheet, item string) string {
	for _, bl := range s.Blocks {
		for _, l := range bl.Lines {
			if l.Item == item {
				text := Text(l.Spans)
				for _, c := range l.Cells {
					text += " | " + Text(c)
				}
				return text
			}
		}
	}
	return ""
}

// TestStumps: what was cut and left, or came out in part, says so in its row with how
// much and who was told, on the note's sheet and on the transfer sheet, and goes on
// saying so when it is answered as going with the child. Where the first page is full
// the row has the state, and the words stand among the details.
func TestStumps(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	nurse := w.As(ledger.Author{Name: "N. Nurse", Role: "intensive-care-nurse"})
	wires, drain := "", ""
	for _, it := range rec.Whole(note).Items() {
		switch it.Kind {
		case "pacing-wires":
			wires = it.ID
		case "drain":
			drain = it.ID
		}
	}
	rec.Apply(nurse.Happen(ledger.KindCutLeft, ledger.ItemID(wires), ledger.RegisterFacts{Note: "2 cm left under the skin, surgeon told"}))
	rec.Apply(nurse.Happen(ledger.KindRemoved, ledger.ItemID(drain), ledger.RegisterFacts{Complete: "no", Length: "7", Note: "snapped at the skin"}))
	rec.Apply(nurse.Happen(ledger.KindConfirmed, ledger.ItemID(drain), ledger.RegisterFacts{})) // seen again: a piece all the same
	check := func(when string, sheets ...*Sheet) {
		t.Helper()
		for i, s := range sheets {
			for item, wants := range map[string][]string{wires: {"CUT AND LEFT INSIDE: 2 cm left under the skin, surgeon told", "N. Nurse"},
				drain: {"REMOVED IN PART: not all of it came out, 7 cm came out, snapped at the skin"}} {
				row := rowOf(s, item)
				if state, _, _ := strings.Cut(wants[0], ":"); !strings.Contains(row, state) {
					t.Errorf("%s, sheet %d: the row lacks %q: %s", when, i, state, row)
				}
				if more := s.Block("details"); more != nil { // where the first page is full
					row += Text(blockSpans(*more))
				}
				for _, want := range wants {
					if !strings.Contains(row, want) {
						t.Errorf("%s, sheet %d: %q is missing: %s", when, i, want, row)
					}
				}
			}
		}
	}
	check("left in", Build(rec, note, nil, at), TransferOf(rec, nil, at, A4))
	rec.Apply(nurse.Transfer(ledger.ItemID(wires), "Ward Six", "Sister Example", "never"), nurse.Transfer(ledger.ItemID(drain), "Ward Six", "Sister Example", "Friday"))
	check("going with the child", TransferOf(rec, nil, at, A4))
	if all := Text(blockSpans(*Build(rec, note, nil, at).Block("items"))); !strings.Contains(all, "CUT AND LEFT INSIDE: 2 cm left") || !strings.Contains(all, "REMOVED IN PART") {
		t.Errorf("the sheet of the note: %s", all)
	}
	rec.Apply(nurse.Happen(ledger.KindRemoved, ledger.ItemID(drain), ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	if all := Text(spansOf(Build(rec, note, nil, at))); strings.Contains(all, "REMOVED IN PART") {
		t.Error("the rest of the drain came out, and the sheet still has a piece in")
	}
}

// TestRunsMoved: what was connected, and where a line was moved to, stands in its row
// on both sheets; a trace without a figure does not hide the last pressure.
func TestRunsMoved(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	central, atrial := "", ""
	for _, it := range rec.Whole(note).Items() {
		switch it.Kind {
		case "central-venous-line":
			central = it.ID
		case "intracardiac-line":
			atrial = it.ID
		}
	}
	rec.Apply(w.Connect(ledger.ItemID(central), "distal", "milrinone"), w.Connect(ledger.ItemID(central), "proximal", "adrenaline"),
		w.Happen(ledger.KindMoved, ledger.ItemID(central), ledger.RegisterFacts{To: "5 cm"}))
	rec.Apply(w.Disconnect(ledger.ItemID(central), "proximal", "stopped"))
	rec.Apply(w.ReadPressure(ledger.ItemID(atrial), ledger.Pressure{Mean: "8"}))
	rec.Apply(w.ReadPressure(ledger.ItemID(atrial), ledger.Pressure{Trace: "damped"}))
	transfer := TransferOf(rec, nil, at, A4)
	for i, s := range []*Sheet{Build(rec, note, nil, at), transfer} {
		row := rowOf(s, central)
		for _, want := range []string{"MOVED to 5 cm", "distal: now runs milrinone", "proximal: now disconnected"} {
			if !strings.Contains(row, want) {
				t.Errorf("sheet %d: the row lacks %q: %s", i, want, row)
			}
		}
		if strings.Contains(row, "now runs adrenaline") {
			t.Errorf("sheet %d: adrenaline was disconnected: %s", i, row)
		}
	}
	if row := rowOf(transfer, atrial); !strings.Contains(row, "mean 8 mmHg") || !strings.Contains(row, "trace damped") {
		t.Errorf("the last pressure and the trace: %s", row)
	}
}

// TestUnchanged: on the sheet of an operation in between, what was cut, moved or
// joined to another drug since it was listed is not called unchanged.
func TestUnchanged(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	later := w.NewNote()
	rec.Apply(w.OpenNote(later, schema.Reexploration))
	var in []schema.Item
	for _, it := range rec.Whole(note).Items() {
		if lines.Checked(it) && len(in) < 3 {
			in = append(in, it)
		}
	}
	line := func(label string) string {
		for _, l := range Build(rec, later, nil, at).Block("changed").Lines {
			if s := Text(l.Spans); strings.HasPrefix(s, label) {
				return s
			}
		}
		return ""
	}
	if got := line("UNCHANGED: "); !strings.Contains(got, fmt.Sprintf("tags %d–", in[0].Tag)) || line("CHANGED SINCE") != "" {
		t.Errorf("nothing has changed, and the sheet says %q %q", got, line("CHANGED SINCE"))
	}
	rec.Apply(w.Happen(ledger.KindCutLeft, ledger.ItemID(in[0].ID), ledger.RegisterFacts{Note: "2 cm left"}),
		w.Happen(ledger.KindMoved, ledger.ItemID(in[1].ID), ledger.RegisterFacts{To: "5 cm"}), w.Connect(ledger.ItemID(in[2].ID), "", "milrinone"))
	for i, want := range []string{"CUT AND LEFT", "MOVED to 5 cm", "now runs milrinone"} {
		if got := line("CHANGED SINCE IT WAS LISTED: "); !strings.Contains(got, want) || !strings.Contains(got, fmt.Sprintf("tag %d ", in[i].Tag)) {
			t.Errorf("tag %d: %q lacks %q", in[i].Tag, got, want)
		}
	}
	if got := line("UNCHANGED: "); strings.HasPrefix(got, fmt.Sprintf("UNCHANGED: tags %d", in[0].Tag)) {
		t.Errorf("what changed is called unchanged: %s", got)
	}
}

// TestCutAndLeftInside: what was cut and left inside stands under what is to be looked at
// first, with what it is, how much, when, and its MRI status; on the sheet
// of the next operation too, and after the child went home with it. It is counted apart
// from what is in, and no longer when it came out.
func TestCutAndLeftInside(t *testing.T) {
	rec, w, note := entered(t, "notes/stage1.json")
	if Build(rec, note, nil, at).Block("faults") != nil {
		t.Fatal("there is something to look at first already")
	}
	var wires schema.Item
	for _, it := range rec.Whole(note).Items() {
		if it.Kind == "pacing-wires" {
			wires = it
		}
	}
	id, when := ledger.ItemID(wires.ID), fmt.Sprint("(tag ", wires.Tag, "): 2 cm under the skin, ")
	boxes := func(note ledger.NoteID) string { return Text(blockSpans(*Build(rec, note, nil, at).Block("state"))) }
	stands := func(what string, note ledger.NoteID, cut string) {
		t.Helper()
		s := Build(rec, note, nil, at)
		first := ""
		if bl := s.Block("faults"); bl != nil {
			first = Text(blockSpans(*bl))
		}
		for _, want := range []string{cut + ": ventricular wires", when, "MRI"} {
			if !strings.Contains(first, want) {
				t.Errorf("%s: to be looked at first is %q, without %q", what, first, want)
			}
		}
		if row := rowOf(s, wires.ID); !strings.Contains(row, strings.ToUpper(cut)) {
			t.Errorf("%s: its row says %q", what, row)
		}
	}
	rec.Apply(w.Happen(ledger.KindCutLeft, id, ledger.RegisterFacts{Cut: "1", Others: "yes", Note: "2 cm under the skin"}))
	stands("one cut", note, "1 of 2 cut and left inside")
	if got := boxes(note); !strings.Contains(got, "23 TAGS IN + 3 IMPLANTS") || strings.Contains(got, "NOW") {
		t.Errorf("the other is in, and the boxes say %s", got)
	}
	rec.Apply(w.Remove(id, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Number: "1"}))
	stands("the other pulled", note, "1 of 2 cut and left inside")
	if got := boxes(note); !strings.Contains(got, "23 TAGS IN + 3 IMPLANTS") || !strings.Contains(got, "OF THESE NOW 22 TAGS IN + 1 CUT AND LEFT INSIDE + 3 IMPLANTS") {
		t.Errorf("as they were left, and now, the boxes say %s", got)
	}
	s := Build(rec, note, nil, at)
	for _, m := range s.Block("map").Map.Marks {
		if m.Tag == wires.Tag {
			t.Error("the map shows where it comes out")
		}
	}
	for _, l := range s.Block("items").Lines {
		for _, c := range l.Checks {
			if l.Item == wires.ID && c.Words != "inside" {
				t.Errorf("it is to be looked for at the bed: %q", c.Words)
			}
		}
	}
	rec.Apply(w.GoHome(id, "Dr Example", "never"), w.Discharge())
	later := w.NewNote()
	rec.Apply(w.OpenNote(later, schema.Stage2))
	stands("the next operation", later, "1 of 2 cut and left inside")
	if got := boxes(note); !strings.Contains(got, "OF THESE NOW 22 TAGS IN + 1 CUT AND LEFT INSIDE + 3 IMPLANTS") {
		t.Errorf("now, the boxes say %s", got)
	}
	rec.Apply(w.Register(later, ledger.KindRemoved, id, ledger.RegisterFacts{Complete: "yes"}))
	if bl := Build(rec, later, nil, at).Block("faults"); bl != nil {
		t.Errorf("it came out as well, and the sheet says %s", boxes(later))
	}
}
