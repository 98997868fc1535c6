package ledger

import (
	"fmt"
	"testing"
	"time"

	"fairlead/schema"
)

// fullNote writes a stage 1 note with a value at every plain field, forty items and
// enough later edits to make the number of events asked for.
func fullNote(events int) (*bench, *Record, *Writer, NoteID, []Event) {
	b := newBench(9)
	w := b.writer(CaseID(b.ids.New()), "A. Example", "surgeon")
	r := FoldCase(w.Case(), nil)
	note := w.NewNote()
	var all []Event
	do := func(es ...Event) {
		b.wall = b.wall.Add(time.Second)
		r.Apply(es...)
		all = append(all, es...)
	}
	do(w.OpenCase())
	do(w.OpenNote(note, schema.Stage1))
	for tag := range 40 {
		id := w.NewItem()
		do(w.ListItem(note, id, "drain", tag+1))
		for _, f := range []string{"variety", "side", "exit", "drainage", "remark"} {
			do(w.Set(r, note, schema.ItemPath(string(id), f), Entry{Value: "some words"}))
		}
	}
	var fields []*schema.Field
	for _, s := range schema.SectionsOf(schema.Stage1) {
		for _, f := range s.FieldsIn(schema.Stage1) {
			if f.Type != "rows" {
				fields = append(fields, f)
			}
		}
	}
	for i := 0; len(all) < events; i++ {
		f := fields[i%len(fields)]
		e := Entry{Value: fmt.Sprint("words ", i)}
		if f.Numeric() {
			e = Number(fmt.Sprint(i))
		}
		do(w.Set(r, note, f.Path, e))
	}
	return b, r, w, note, all
}

// Opening a record: every event folded, and the note made.
func BenchmarkFold10000(b *testing.B) {
	_, _, _, note, all := fullNote(10000)
	b.ReportAllocs()
	for b.Loop() {
		if Fold(all).Note(note) == nil {
			b.Fatal("no note")
		}
	}
}

func BenchmarkFold1000(b *testing.B) {
	_, _, _, note, all := fullNote(1000)
	for b.Loop() {
		if Fold(all).Note(note) == nil {
			b.Fatal("no note")
		}
	}
}

// What one entry costs: the event made and applied, the note with all its items,
// the items and the disagreements asked for.
func BenchmarkEntry(b *testing.B) {
	_, r, w, note, _ := fullNote(1000)
	i := 0
	for b.Loop() {
		i++
		r.Apply(w.Set(r, note, schema.MeasuresWeight, Number(fmt.Sprint(i))))
		if r.Whole(note).Decimal(schema.MeasuresWeight) != fmt.Sprint(i) || len(r.ItemsIn()) != 40 || len(r.Disagreements()) != 0 {
			b.Fatal("wrong")
		}
	}
}

// The same where the note must be made anew, as after a row is removed.
func BenchmarkEntryAnew(b *testing.B) {
	_, r, w, note, _ := fullNote(1000)
	for b.Loop() {
		r.Apply(w.Set(r, note, schema.MeasuresWeight, Entry{}))
		if r.Whole(note).Has(schema.MeasuresWeight) {
			b.Fatal("wrong")
		}
	}
}

func BenchmarkTally(b *testing.B) {
	_, r, _, note, _ := fullNote(1000)
	for b.Loop() {
		if r.Tally(note, Leaving).Counts.Listed != 40 {
			b.Fatal("wrong")
		}
	}
}

func BenchmarkStanding(b *testing.B) {
	_, r, w, note, _ := fullNote(1000)
	r.Apply(w.SignNote(r, note, 0))
	for b.Loop() {
		if r.Standing(note).Amended {
			b.Fatal("wrong")
		}
	}
}

func BenchmarkExport10000(b *testing.B) {
	_, _, _, _, all := fullNote(10000)
	for b.Loop() {
		if _, err := Export(all); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkImport10000(b *testing.B) {
	_, _, _, _, all := fullNote(10000)
	file, err := Export(all)
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		if _, _, err := Import(file); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCanUndo(b *testing.B) {
	_, r, w, _, _ := fullNote(1000)
	for b.Loop() {
		if !w.CanUndo(r) || w.CanRedo(r) {
			b.Fatal("wrong")
		}
	}
}

func BenchmarkProblems(b *testing.B) {
	_, r, _, note, _ := fullNote(1000)
	for b.Loop() {
		if len(r.Problems(note)) > 0 {
			b.Fatal("wrong")
		}
	}
}
