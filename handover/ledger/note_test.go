package ledger

import (
	"bytes"
	"math/rand/v2"
	"testing"
	"time"

	"fairlead/schema"
)

// bench is what a test needs to write events: a clock it moves itself and
// randomness from a fixed seed.
type bench struct {
	wall time.Time
	ids  *IDs
}

func newBench(seed byte) *bench {
	b := &bench{wall: time.Date(2026, 7, 14, 9, 0, 0, 0, time.UTC)}
	b.ids = NewIDs(rand.NewChaCha8([32]byte{seed}), b.now)
	return b
}

func (b *bench) now() time.Time { return b.wall }

func (b *bench) civil() schema.Moment {
	t := b.wall.Add(time.Hour)
	return schema.MomentOf(t.Year(), int(t.Month()), t.Day(), t.Hour(), t.Minute(), 60, "Europe/London")
}

func (b *bench) writer(child CaseID, name, role string) *Writer {
	return NewWriterAt(child, Author{name, role}, b.now, b.ids, b.civil)
}

func TestOneNote(t *testing.T) {
	b := newBench(1)
	child := CaseID(b.ids.New())
	w := b.writer(child, "A. Example", "surgeon")
	r := FoldCase(child, nil)
	note := w.NewNote()
	do := func(es ...Event) { b.wall = b.wall.Add(time.Minute); r.Apply(es...) }
	do(w.OpenCase())
	do(w.OpenNote(note, schema.Stage1))
	do(w.Set(r, note, schema.ChildSurname, Entry{Value: "Invented"}))
	do(w.Set(r, note, schema.MeasuresWeight, Number("3.20")))
	item := w.NewItem()
	do(w.ListItem(note, item, "drain", r.NextTag()))
	do(w.Set(r, note, schema.ItemPath(string(item), "size"), Number("12")))
	n := r.Note(note)
	if n.Text(schema.ChildSurname) != "Invented" || n.Decimal(schema.MeasuresWeight) != "3.20" {
		t.Fatalf("the note is %s", n.JSON())
	}
	if its := n.Items(); len(its) != 1 || its[0].Tag != 1 || its[0].Decimal("size") != "12" {
		t.Fatalf("the items are %s", n.JSON())
	}
	again := Fold(r.Events())
	if !bytes.Equal(again.Note(note).JSON(), n.JSON()) {
		t.Errorf("folded anew\n%s\nas applied\n%s", again.Note(note).JSON(), n.JSON())
	}
	file, err := Export(r.Events())
	if err != nil {
		t.Fatal(err)
	}
	back, problems, err := Import(file)
	if err != nil || len(problems) > 0 || len(back) != r.Len() {
		t.Fatalf("imported %d events of %d, %v, %v", len(back), r.Len(), problems, err)
	}
}
