package ledger

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/schema"
)

// A note's file goes into the ledger and comes out the same: rows, rows in items,
// answers, comparators, and what a newer version wrote.
func TestEnterWholeNote(t *testing.T) {
	const text = `{"answers":[{"answer":"yes, really","by":"A. Example (surgeon)","path":"measures.weight","rule":"usual","why":"weighed twice"}],` +
		`"case":"0190f4a0-0000-7000-8000-00000000000a",` +
		`"child":{"allergies":[{"id":"r1","substance":"latex"},{"id":"r2","stated":{"reaction":"unknown"},"substance":"egg"}],"stated":{"syndrome":"none"},"surname":"Invented","wishes":"of next year"},` +
		`"format":"fairlead-note/1","gas":{"bound":{"lactate":"<"},"lactate":0.30},` +
		`"items":[{"id":"0190f4a0-0000-7000-8000-0000000000f1","kind":"intracardiac-line","lumens":[{"id":"l1","name":"only","state":"transduced"}],"size":3.5,"tag":1,"variety":"left-atrial"},` +
		`{"glow":["a","b"],"id":"0190f4a0-0000-7000-8000-0000000000f2","kind":"kind-of-next-year","tag":2}],` +
		`"kind":"stage1","measures":{"weight":3.20},"next":{"deep":{"a":[1,2]},"list":[{"id":"x","n":5}]},` +
		`"note":"0190f4a0-0000-7000-8000-00000000000b","schema":"VERSION"}`
	n, problems, err := schema.ParseNote([]byte(text))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	b := newBench(6)
	w := b.writer(CaseID(n.Case()), "A. Example", "surgeon")
	r := FoldCase(w.Case(), nil)
	events := Enter(r, w, n)
	want := string(n.JSON())
	got := r.Note(NoteID(n.ID())).Clone()
	if text := versioned(string(got.JSON())); text != want {
		t.Errorf("out comes\n%s\nwant\n%s", text, want)
	}
	if again := Enter(r, w, n); len(again) > 1 { // its one answer is given again
		t.Errorf("entered twice it makes %d more events", len(again))
	}
	if len(events) != r.Len()-1 {
		t.Errorf("%d events are returned, %d stand", len(events), r.Len())
	}
}

func versioned(s string) string {
	return strings.Replace(s, `"schema":"`+schema.Version()+`"`, `"schema":"VERSION"`, 1)
}

// Every invented note goes in with its answered questions, and they still stand
// after the record went out and in again, and after another note of the child.
func TestEnterKeepsAnswers(t *testing.T) {
	files, err := filepath.Glob("../../testdata/notes/*.json")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	b := newBench(6)
	var all *Record
	var w *Writer
	var notes []*schema.Note
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		n, _, err := schema.ParseNote(data)
		if err != nil {
			t.Fatal(err)
		}
		if all == nil {
			w = b.writer(CaseID(n.Case()), "A. Example", "surgeon")
			all = FoldCase(w.Case(), nil)
		}
		b.wall = b.wall.Add(time.Hour)
		Enter(all, w, n)
		notes = append(notes, n)
		file, err := Export(all.Events())
		if err != nil {
			t.Fatal(err)
		}
		events, _, err := Import(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range []*Record{all, Fold(events)} {
			for _, n := range notes {
				got, want := r.Note(NoteID(n.ID())).Answers(), n.Answers()
				if !slices.EqualFunc(got, want, func(a, b schema.Answer) bool { return a == b }) || len(want) == 0 {
					t.Errorf("%s: the answers are %v, entered were %v", n.Kind(), got, want)
				}
			}
		}
	}
}
