//go:build !(js && wasm)

package ui

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/rules"
)

// later begins another note of the child on screen, with the day of its operation.
func later(s *Session, kind schema.Kind, day string) *openNote {
	id := s.child.writer.NewNote()
	s.child.act(s.child.writer.OpenNote(id, kind))
	o := s.child.open(id)
	set(s, o, schema.OperationDate, ledger.Entry{Value: day})
	return o
}

// Of four notes before the newest stands open; the others are in one fold that says how
// many, which and of when.
func TestOlderNotesAreFolded(t *testing.T) {
	s, first, _ := begun(t)
	set(s, first, schema.OperationDate, ledger.Entry{Value: "2026-07-14"})
	set(s, first, schema.ApproachBehindSternum, ledger.Entry{Value: "conduit"})
	next := later(s, schema.Closure, "2026-07-16")
	set(s, next, schema.ApproachReentryAdvice, ledger.Entry{Value: "Mind the aorta"})
	last := later(s, schema.Stage2, "2026-11-17")
	set(s, last, schema.ApproachReentryAdvice, ledger.Entry{Value: "Groin first"})
	html := drawn(t, s.toldBefore(later(s, schema.Stage3, "2029-05-01").id, "approach"))
	open, fold, _ := strings.Cut(html, "<details")
	if !strings.Contains(open, "Groin first") || strings.Contains(open, "Mind the aorta") || strings.Contains(open, "Conduit") {
		t.Errorf("open stands: %s", open)
	}
	for _, want := range []string{"2 older notes: Delayed sternal closure, 16-Jul-2026; Stage 1, 14-Jul-2026", "Mind the aorta", "Conduit"} {
		if !strings.Contains(fold, want) {
			t.Errorf("%q is not in the fold: %s", want, fold)
		}
	}
	if html := drawn(t, s.toldBefore(next.id, "approach")); strings.Contains(html, "<details") {
		t.Errorf("one note is folded: %s", html)
	}
}

// What is on record of the time before is offered with its source, and stands in the
// note after one tap, not before.
func TestOnRecordIsOfferedAndTaken(t *testing.T) {
	s, first, _ := begun(t)
	set(s, first, schema.OperationDate, ledger.Entry{Value: "2026-07-14"})
	set(s, first, schema.OperationSurgeon, ledger.Entry{Value: "I. Fictus"})
	next := later(s, schema.Stage2, "2026-11-17")
	if s.onRecord(first.id, "before") != nil || s.onRecord(next.id, "approach") != nil {
		t.Error("it is offered where there is nothing, or elsewhere")
	}
	html := drawn(t, s.onRecord(next.id, "before"))
	for _, want := range []string{"From Stage 1, 14-Jul-2026 (not signed)", "I. Fictus", "Recorded here", "Take it into this note"} {
		if !strings.Contains(html, want) {
			t.Errorf("%q is not offered: %s", want, html)
		}
	}
	if n := s.child.rec.Note(next.id); len(n.Rows(schema.BeforeOperations)) > 0 || n.Has(schema.BeforeStageOne) {
		t.Fatal("it was written before anybody took it")
	}
	s.takeOver(next.id, lines.KeptBefore(s.child.rec, next.id))
	n := s.child.rec.Note(next.id)
	if rows := n.Rows(schema.BeforeOperations); len(rows) != 1 || n.Text(schema.RowPath(schema.BeforeOperations, rows[0], "surgeon")) != "I. Fictus" || n.Text(schema.BeforeStageOne) != "recorded-here" {
		t.Errorf("taken: %v, stage 1 %q", rows, n.Text(schema.BeforeStageOne))
	}
	if got := next.origins("before")[schema.BeforeStageOne]; got != "Copied forward from Stage 1, 14-Jul-2026. Check that it still holds." {
		t.Errorf("where it came from: %q", got)
	}
	if s.onRecord(next.id, "before") != nil {
		t.Error("it is offered again")
	}
	s.undo(false)
	if n := s.child.rec.Note(next.id); len(n.Rows(schema.BeforeOperations)) > 0 || n.Has(schema.BeforeStageOne) {
		t.Error("one undo does not take it back")
	}
}

// With the shunt of stage 1 in the list, "taken out" is asked about, one tap names it,
// and it is out.
func TestOldSupplyIsClosedByTheNote(t *testing.T) {
	s, first, _ := begun(t)
	c := s.child
	shunt, patch := c.writer.NewItem(), c.writer.NewItem()
	c.act(c.writer.ListItem(first.id, shunt, "implant", 1), c.writer.ListItem(first.id, patch, "implant", 2))
	for id, variety := range map[ledger.ItemID]string{shunt: "shunt", patch: "patch"} {
		c.act(c.writer.Set(c.rec, first.id, schema.ItemPath(string(id), "variety"), ledger.Entry{Value: variety}))
	}
	next := later(s, schema.Stage2, "2026-11-17")
	at := schema.Stage2OldSupplyItems
	asked := func() int {
		next.renew()
		next.agree()
		n := 0
		for _, p := range next.bySection["stage2"] {
			if p.Rule == "old-supply-listed" {
				n++
			}
		}
		return n
	}
	set(s, next, schema.Stage2OldSupply, ledger.Entry{Value: "taken-out"})
	if asked() != 1 {
		t.Fatal("nothing is asked while the shunt is listed as in")
	}
	if got := next.form().itemChoices(schema.FieldAt(at), at); len(got) != 1 || got[0].Value != string(shunt) {
		t.Errorf("it can be named as %v", got)
	}
	set(s, next, at, ledger.Entry{Value: []string{string(shunt)}})
	if v, _ := c.rec.Item(shunt); v.Where != ledger.Removed || asked() != 0 {
		t.Errorf("named, it is %s, and %d questions stand", v.Where, asked())
	}
	set(s, next, schema.Stage2OldSupply, ledger.Entry{Value: "divided"})
	if v, _ := c.rec.Item(shunt); v.Where != ledger.InChild || asked() != 0 {
		t.Errorf("divided, it is %s, and %d questions stand", v.Where, asked())
	}
}

// A stage 2 begun after a stage 3 is asked about at once; a date before that answers it,
// and so does a reason.
func TestStageBegunAfterALaterOne(t *testing.T) {
	s, first, _ := begun(t)
	set(s, first, schema.OperationDate, ledger.Entry{Value: "2026-07-14"})
	later(s, schema.Stage3, "2029-05-01")
	asked := func(o *openNote) []schema.Problem {
		o.renew()
		o.agree()
		return slices.DeleteFunc(slices.Clone(o.agreement), func(p schema.Problem) bool { return p.Rule != rules.StageOrder })
	}
	id := s.child.writer.NewNote()
	s.child.act(s.child.writer.At(schema.MomentOf(2029, 5, 3, 9, 0, 60, "Europe/London")).OpenNote(id, schema.Stage2))
	o := s.child.open(id)
	found := asked(o)
	if len(found) != 1 || !strings.Contains(found[0].What, "stage 3 of 01-May-2029") {
		t.Fatalf("asked: %+v", found)
	}
	if got := s.beginsAt(id); got.Part != "operation" {
		t.Errorf("it begins at %q", got.Part)
	}
	set(s, o, schema.OperationDate, ledger.Entry{Value: "2026-11-17"})
	if got := asked(o); len(got) != 0 {
		t.Errorf("with a date before, asked: %+v", got)
	}
	set(s, o, schema.OperationDate, ledger.Entry{Value: "2029-05-02"})
	if found = asked(o); len(found) != 1 {
		t.Fatal("with a date after, nothing is asked")
	}
	s.child.act(s.child.writer.AnswerQuestion(s.child.rec, id, found[0], "It is so", "Done again"))
	if got := asked(o); len(got) != 0 {
		t.Errorf("answered, and asked again: %+v", got)
	}
	if got := asked(first); len(got) != 0 {
		t.Errorf("the first stage is asked about: %+v", got)
	}
	if got := s.beginsAt(first.id); got.Part != "" {
		t.Errorf("the first stage begins at %q", got.Part)
	}
}
