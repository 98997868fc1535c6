package lines

import (
	"fmt"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// offered is what is offered in lines: "stage1: Date 14-Jul-2026, Operation Stage 1".
func offered(kept []Kept) string {
	var out []string
	for _, k := range kept {
		var parts []string
		for _, p := range k.Parts {
			parts = append(parts, p.Title+" "+p.Words)
		}
		out = append(out, fmt.Sprintf("%s: %s", k.By.Kind, strings.Join(parts, ", ")))
	}
	return strings.Join(out, "\n")
}

func (b *bed) begin(kind schema.Kind, day string) ledger.NoteID {
	b.note = b.w.NewNote()
	b.do(b.w.OpenNote(b.note, kind))
	if day != "" {
		b.says(schema.OperationDate, day)
	}
	return b.note
}

func (b *bed) says(at schema.Path, value any) {
	b.do(b.w.Set(b.rec, b.note, at, ledger.Entry{Value: value}))
}

func (b *bed) row(list schema.Path, pairs ...string) string {
	row := b.w.NewRow()
	b.do(b.w.AddRow(b.rec, b.note, list, row)...)
	for i := 0; i < len(pairs); i += 2 {
		b.says(schema.RowPath(list, row, pairs[i]), pairs[i+1])
	}
	return row
}

// The operations on record are offered to the note of the next, with what was used and
// what went wrong, each from its note; taken, they stand there and are offered no more.
func TestOperationsOnRecordAreOffered(t *testing.T) {
	b := newBed(t)
	first := b.note
	if got := offered(KeptBefore(b.rec, first)); got != "" {
		t.Fatalf("to the first note: %s", got)
	}
	b.says(schema.OperationDate, "2026-07-14")
	b.says(schema.OperationSurgeon, "I. Fictus")
	b.says(schema.WorkSummary, "Norwood with a right shunt.")
	b.says(schema.Stage1Form, "norwood")
	b.says(schema.SupplyKind, "modified-blalock-taussig-thomas")
	b.do(b.w.Set(b.rec, b.note, schema.SupplyShuntDiameter, ledger.Number("3.5")))
	b.row(schema.WorkProblems, "problem", "Kinked shunt")
	b.row(schema.BeforeOperations, "operation", "pulmonary-artery-band", "date", "2026-07-02", "where", "Elsewhere")
	b.row(schema.BeforeCatheterProcedures, "procedure", "balloon-septostomy", "date", "2026-07-11")
	b.begin(schema.Closure, "2026-07-16")
	b.row(schema.BeforeOperations, "operation", "stage-1", "facts", "Shunt") // of the note before: not offered twice
	b.begin(schema.Reexploration, "")                                        // begun and left empty: nothing to offer
	late := b.begin(schema.ShuntRevision, "2027-03-01")                      // of a later day
	next := b.begin(schema.Stage2, "2026-11-17")

	want := "stage1: Date 02-Jul-2026, Operation Pulmonary artery band, Where Elsewhere\n" +
		"stage1: Date 14-Jul-2026, Operation Stage 1, Surgeon I. Fictus, What was used and left Norwood with a right shunt. Stage 1: Norwood reconstruction. " +
		"Lung supply: Modified Blalock-Taussig-Thomas shunt. Shunt diameter: 3.5 mm, Trouble at entry or after Problems and how they were handled: Kinked shunt, Stage 1 Recorded here\n" +
		"closure: Date 16-Jul-2026, Operation Delayed sternal closure\n" +
		"stage1: Date 11-Jul-2026, Procedure Balloon atrial septostomy"
	kept := KeptBefore(b.rec, next)
	if got := offered(kept); got != want {
		t.Fatalf("offered:\n%s\nwant\n%s", got, want)
	}

	// What the note has already is completed, not doubled; what was taken back stays so.
	row := b.row(schema.BeforeOperations, "operation", "stage-1", "surgeon", "I. F.")
	b.do(b.w.Set(b.rec, next, schema.RowPath(schema.BeforeOperations, row, "facts"), ledger.Entry{}))
	kept = KeptBefore(b.rec, next)
	if got := strings.Split(offered(kept), "\n")[1]; got != "stage1: Date 14-Jul-2026, Trouble at entry or after Problems and how they were handled: Kinked shunt, Stage 1 Recorded here" {
		t.Errorf("beside a row that says a part of it: %s", got)
	}
	w := b.w.Together()
	for _, k := range kept {
		b.do(k.Take(w, b.rec, next, "the note")...)
	}
	n := b.rec.Note(next)
	if rows := n.Rows(schema.BeforeOperations); len(rows) != 3 || n.Text(schema.RowPath(schema.BeforeOperations, row, "date")) != "2026-07-14" ||
		n.Text(schema.RowPath(schema.BeforeOperations, row, "surgeon")) != "I. F." || n.Has(schema.RowPath(schema.BeforeOperations, row, "facts")) {
		t.Errorf("taken: %d rows", len(rows))
	}
	if n.Text(schema.BeforeStageOne) != "recorded-here" {
		t.Errorf("stage 1: %q", n.Text(schema.BeforeStageOne))
	}
	if v := b.rec.Values(next, schema.RowPath(schema.BeforeOperations, row, "date")); len(v) != 1 || v[0].Origin != (ledger.Origin{How: ledger.HowCopied, Words: "the note"}) {
		t.Errorf("its origin: %+v", v)
	}
	if got := offered(KeptBefore(b.rec, next)); got != "" {
		t.Errorf("offered again: %s", got)
	}
	if undo, ok := b.w.Undo(b.rec); !ok || len(undo) == 0 {
		t.Error("it cannot be taken back")
	} else if b.do(undo...); len(b.rec.Note(next).Rows(schema.BeforeOperations)) != 1 {
		t.Error("not all of it is taken back at once")
	}

	// Where a stage was done is told on, and the latest word holds.
	b.note = late
	b.says(schema.BeforeStageOne, "not-needed")
	third := b.begin(schema.Stage3, "2029-05-01")
	got := offered(KeptBefore(b.rec, third))
	if !strings.Contains(got, "Stage 1 Recorded here") || strings.Contains(got, "No stage 1") || strings.Contains(got, "Stage 2 Recorded here") == false {
		t.Errorf("to stage 3: %s", got)
	}
}

// A hybrid first stage keeps its name; said in other words on its day it is one.
func TestFirstStagesHaveNames(t *testing.T) {
	b := newBed(t)
	b.says(schema.OperationDate, "2026-07-14")
	b.says(schema.Stage1Form, "hybrid")
	next := b.begin(schema.Stage2, "2026-11-17")
	if got := offered(KeptBefore(b.rec, next)); !strings.Contains(got, "Operation Hybrid stage 1") {
		t.Errorf("offered: %s", got)
	}
	b.row(schema.BeforeOperations, "operation", "stage-1", "date", "2026-07-14")
	if got := offered(KeptBefore(b.rec, next)); strings.Contains(got, "Operation") {
		t.Errorf("offered beside the same in other words: %s", got)
	}
}

// A stage done elsewhere, once said, is offered to the note after.
func TestDoneElsewhereIsToldOn(t *testing.T) {
	b := newBed(t)
	b.begin(schema.Stage2, "2026-11-17")
	b.says(schema.BeforeStageOne, "done-elsewhere")
	next := b.begin(schema.Stage3, "2029-05-01")
	if got, want := offered(KeptBefore(b.rec, next)), "stage2: Date 17-Nov-2026, Operation Stage 2, Stage 2 Recorded here\nstage2: Stage 1 Done elsewhere"; got != want {
		t.Errorf("offered:\n%s\nwant\n%s", got, want)
	}
}
