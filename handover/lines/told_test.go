package lines

import (
	"fmt"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// said is what is told in one line: "stage1: Adhesions: Dense; …".
func said(told []Told) string {
	var out []string
	for _, t := range told {
		words := string(t.By.Kind) + ":"
		for _, s := range t.Said {
			words += fmt.Sprintf(" %s: %s.", s.Title, s.Words)
		}
		out = append(out, words)
	}
	return strings.Join(out, "\n")
}

// Before the chest is opened again the surgeon has what the notes before say of the way
// in: what lies behind the sternum, earlier injury, which vessels are open (clinical.md 7).
func TestToldBefore(t *testing.T) {
	b := newBed(t)
	first := b.note
	set := func(at schema.Path, e ledger.Entry) { b.do(b.w.Set(b.rec, b.note, at, e)) }
	set(schema.ApproachNearestStructure, ledger.Entry{Value: "aorta"})
	set(schema.ApproachImagingDistance, ledger.Number("3"))
	set(schema.ApproachReentryAdvice, ledger.Entry{Value: "Aorta close under the upper third."})
	set(schema.ApproachSaw, ledger.Entry{Value: "oscillating"}) // of no use next time
	row := b.w.NewRow()
	b.do(b.w.AddRow(b.rec, first, schema.BeforeVessels, row)...)
	set(schema.RowPath(schema.BeforeVessels, row, "vessel"), ledger.Entry{Value: "femoral-vein"})
	set(schema.RowPath(schema.BeforeVessels, row, "side"), ledger.Entry{Value: "right"})
	set(schema.RowPath(schema.BeforeVessels, row, "state"), ledger.Stated("unknown"))
	if got := said(ToldBefore(b.rec, first, "approach")); got != "" {
		t.Errorf("before the first note: %q", got)
	}

	b.note = b.w.NewNote()
	b.do(b.w.OpenNote(b.note, schema.Stage2))
	other := b.w.As(ledger.Author{Name: "B. Other", Role: "surgeon"})
	b.do(b.w.Set(b.rec, b.note, schema.ApproachImagingDistance, ledger.Number("5")), other.Set(b.rec, b.note, schema.ApproachImagingDistance, ledger.Number("2")))
	second := b.note
	b.note = b.w.NewNote()
	b.do(b.w.OpenNote(b.note, schema.Stage3))

	got := said(ToldBefore(b.rec, b.note, "approach"))
	want := "stage2: Nearest structure behind the sternum: 5 mm or 2 mm (in dispute).\n" +
		"stage1: Nearest structure behind the sternum: 3 mm. Nearest structure: Aorta or neo-aorta. Advice for the next entry: Aorta close under the upper third.."
	if got != want {
		t.Errorf("of the way in:\n%s\nwant\n%s", got, want)
	}
	if got, want := said(ToldBefore(b.rec, b.note, "before")), "stage1: Vessels known open or blocked: Femoral vein, Right, Not known."; got != want {
		t.Errorf("of the vessels: %q, want %q", got, want)
	}
	if told := ToldBefore(b.rec, second, "approach"); len(told) != 1 || told[0].By.ID != first {
		t.Errorf("before the second note: %+v", told)
	}
	if told := ToldBefore(b.rec, b.note, "closing"); len(told) != 0 {
		t.Errorf("beside a section that shows none: %+v", told)
	}
}

// Every section beside which something is shown again exists.
func TestNextNamesSections(t *testing.T) {
	n := 0
	for _, k := range schema.Kinds() {
		for _, s := range schema.SectionsOf(k.Kind) {
			for _, f := range s.FieldsIn(k.Kind) {
				if f.Next == "" {
					continue
				}
				if n++; schema.SectionNamed(f.Next) == nil {
					t.Errorf("%s is to be shown beside %q, which is no section", f.Path, f.Next)
				}
			}
		}
	}
	if n == 0 {
		t.Error("no field is shown again")
	}
}
