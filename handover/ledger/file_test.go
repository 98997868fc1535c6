package ledger

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"fairlead/schema"
)

func exported(t testing.TB, w *ward) []byte {
	t.Helper()
	b, err := Export(w.rec.Events())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func smallRecord(t *testing.T) []byte {
	w := newWard(t)
	w.set(schema.ChildSurname, Entry{Value: "Invented <i>\u202e\u2028 🙂"})
	w.set(schema.MeasuresWeight, Number("3.2"))
	return exported(t, w)
}

func TestImportRefuses(t *testing.T) {
	good := smallRecord(t)
	lines := bytes.SplitAfter(good, []byte("\n"))
	utf16le := []byte{0xFF, 0xFE}
	for _, u := range utf16.Encode([]rune(string(good))) {
		utf16le = append(utf16le, byte(u), byte(u>>8))
	}
	edit := func(from, to string) []byte { return bytes.Replace(good, []byte(from), []byte(to), 1) }
	for _, c := range []struct {
		name string
		data []byte
		want []string // all of these stand in the sentence
	}{
		{"nothing", nil, []string{"empty"}},
		{"spaces", []byte(" \n\n"), []string{"empty"}},
		{"too large", bytes.Repeat([]byte("x"), MaxFile+1), []string{"16 MB", "limit"}},
		{"UTF-16", utf16le, []string{"UTF-16", "UTF-8"}},
		{"UTF-16 without a mark", utf16le[2:], []string{"UTF-16"}},
		{"Latin-1", edit("Invented", "Inv\xe9nted"), []string{"line 3", "UTF-8"}},
		{"a picture", []byte("\x89PNG\r\n\x1a\n"), []string{"UTF-8"}},
		{"text", []byte("Dear colleague,\nthank you"), []string{"not a child's record", "not JSON"}},
		{"other JSON", []byte(`{"resourceType":"Bundle"}`), []string{"not a child's record", `"format"`}},
		{"other JSON over lines", []byte("{\n \"a\": 1\n}\n"), []string{"not a child's record", `"format"`}},
		{"a list", []byte(`[1,2]`), []string{"not a child's record"}},
		{"another program's format", []byte(`{"format":"acme/1"}` + "\n"), []string{`"acme/1"`, "not a child's record"}},
		{"a note", schema.NewNote("stage1", "n", "c").JSON(), []string{"one note"}},
		{"no version", edit("fairlead-record/1", "fairlead-record/"), []string{"names no version"}},
		{"a newer format", edit("fairlead-record/1", "fairlead-record/2"), []string{"newer version", "update"}},
		{"no child", edit(`"case":"`, `"case":"x`), []string{"line 1", "which child"}},
		{"head of the wrong type", edit(`"events":`, `"events":"`+"\",\"x\":"), []string{"line 1"}},
		{"another child's event", bytes.Join([][]byte{lines[0], bytes.Replace(lines[1], []byte(`"case":"0`), []byte(`"case":"1`), 1)}, nil), []string{"line 2", "another child"}},
		{"an event that is no event", bytes.Join([][]byte{lines[0], []byte("{\"id\":\"x\"}\n")}, nil), []string{"line 2", "not a UUID"}},
		{"an event of the wrong type", bytes.Join([][]byte{lines[0], []byte("{\"id\":5}\n")}, nil), []string{"line 2", `"id"`}},
		{"an event without time", edit(`"entered":"`, `"entered":"","x":"`), []string{"line 2", "when it happened"}},
		{"a bad time", edit(`"entered":"2026`, `"entered":"20x6`), []string{"line 2"}},
		{"not JSON inside", bytes.Join([][]byte{lines[0], []byte("{oops}\n"), lines[1]}, nil), []string{"line 2", "not JSON"}},
		{"cut in a line", good[:len(good)/2], []string{"cut short"}},
		{"the last line gone", bytes.Join(lines[:len(lines)-2], nil), []string{"cut short", "line 5"}},
		{"a line gone", bytes.Join([][]byte{lines[0], lines[1], lines[3], lines[4]}, nil), []string{"changed or damaged"}},
		{"a value changed", edit("3.2", "3.9"), []string{"changed or damaged"}},
		{"more after the end", append(bytes.Clone(good), "{}\n"...), []string{"more after its end", "line 6"}},
	} {
		events, _, err := Import(c.data)
		if err == nil || events != nil {
			t.Errorf("%s: taken in, %d events, %v", c.name, len(events), err)
			continue
		}
		for _, want := range c.want {
			if !strings.Contains(err.Error(), want) {
				t.Errorf("%s: %q does not say %q", c.name, err, want)
			}
		}
		for _, jargon := range []string{"json:", "Go ", "unmarshal", "invalid character"} {
			if strings.Contains(err.Error(), jargon) {
				t.Errorf("%s: %q speaks the machine's language", c.name, err)
			}
		}
	}
}

// Cut at any byte, or with any byte changed, the file is refused or says the same.
func TestImportDamaged(t *testing.T) {
	good := smallRecord(t)
	want, _, err := Import(good)
	if err != nil {
		t.Fatal(err)
	}
	whole := fingerprint(Fold(want))
	for i := range len(good) - 1 {
		if events, _, err := Import(good[:i]); err == nil || events != nil {
			if got := fingerprint(Fold(events)); got != whole {
				t.Fatalf("cut at byte %d it is taken in and says something else", i)
			}
		}
		for _, bit := range []byte{1, 0x20, 0x80} {
			bad := bytes.Clone(good)
			bad[i] ^= bit
			if events, _, err := Import(bad); err == nil && fingerprint(Fold(events)) != whole {
				t.Fatalf("with byte %d changed it is taken in and says something else:\n%s", i, bad)
			}
		}
	}
}

func TestImportForgives(t *testing.T) {
	good := smallRecord(t)
	want, _, err := Import(good)
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{
		"a byte order mark":    append([]byte{0xEF, 0xBB, 0xBF}, good...),
		"Windows line ends":    bytes.ReplaceAll(good, []byte("\n"), []byte("\r\n")),
		"no last line end":     bytes.TrimSuffix(good, []byte("\n")),
		"blank lines after it": append(bytes.Clone(good), "\n \n"...),
	} {
		got, problems, err := Import(data)
		if err != nil || len(problems) > 0 || fingerprint(Fold(got)) != fingerprint(Fold(want)) {
			t.Errorf("with %s: %v, %v", name, problems, err)
		}
	}
}

func TestImportLargeIsQuick(t *testing.T) {
	big := bytes.Repeat([]byte(`{"format":"fairlead-record/1"}`+"\n"), 50<<20/31)
	start := time.Now()
	if _, _, err := Import(big); err == nil {
		t.Error("50 MB are taken in")
	}
	if took := time.Since(start); took > time.Second {
		t.Errorf("refusing 50 MB takes %v", took)
	}
}

// Merging is by the same fold: twice is harmless, and both versions of a
// disagreement are there.
func TestMergeTwiceIsHarmless(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.0"))
	shared := exported(t, w)
	away, _, err := Import(shared)
	if err != nil {
		t.Fatal(err)
	}
	other := FoldCase(w.rec.Case(), away)
	other.Apply(w.n.Set(other, w.note, schema.MeasuresWeight, Number("3.4")))
	w.set(schema.MeasuresWeight, Number("3.2"))
	theirs, err := Export(other.Events())
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		events, _, err := Import(theirs)
		if err != nil {
			t.Fatal(err)
		}
		w.do(events...)
		if d, ok := w.rec.Disagreement(w.note, schema.MeasuresWeight); !ok || len(d.Values) != 2 {
			t.Fatalf("merged: %+v", d)
		}
	}
}

// A file with the same id twice, saying different things, is read and named.
func TestImportNamesTwoBodies(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.2"))
	es := w.rec.Events()
	forged := es[len(es)-1]
	forged.Author.Name = "B. Example"
	file, err := Export(append(es, forged))
	if err != nil {
		t.Fatal(err)
	}
	got, problems, err := Import(file)
	if err != nil || len(got) != len(es)+1 || len(problems) != 1 || problems[0].Rule != FaultTwoBodies || !strings.Contains(problems[0].What, "line 4") {
		t.Errorf("%d events, %v, %v", len(got), problems, err)
	}
}

const released = "../../testdata/ledger"

// Every released format stays readable for good. What each sample says was written
// by hand before the sample was made: see testdata/ledger/README.md.
func TestReleasedFormats(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(released, "record-*.jsonl"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no samples: %v", err)
	}
	kinds := map[string]bool{}
	defer func() {
		for kind := range readers {
			if !kinds[kind] {
				t.Errorf("no sample has %q", kind)
			}
		}
	}()
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		events, problems, err := Import(data)
		if err != nil || len(problems) > 0 {
			t.Errorf("%s: %v, %v", file, problems, err)
			continue
		}
		again, err := Export(events)
		if err != nil || !bytes.Equal(again, data) {
			t.Errorf("%s: written again it differs (%v)", file, err)
		}
		for _, e := range events {
			kinds[e.Kind] = true
			if _, how := decode(&e); how != read {
				t.Errorf("%s: event %s (%s) is not read", file, e.ID, e.Kind)
			}
		}
		var want struct {
			Events        int
			Kinds         []string
			Values        map[string]string
			Disagreements map[string][]string
			Items         map[string]string
			Tally         string
			Signed        string
			Changed       []string
			Told          string
			Joined        int
			Offers        int
			Allergies     []string
			Register      string   `json:",omitempty"` // these from the second sample on
			Rounds        []string `json:",omitempty"`
			Faults        []string `json:",omitempty"`
			Settled       int      `json:",omitempty"`
		}
		text, err := os.ReadFile(strings.TrimSuffix(file, ".jsonl") + ".says.json")
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		r := Fold(events)
		notes := r.Notes()
		got := want
		got.Events, got.Kinds, got.Joined, got.Offers = r.Len(), nil, len(r.Joined()), len(r.Offers())
		for _, v := range notes {
			got.Kinds = append(got.Kinds, string(v.Kind))
		}
		first := r.Note(notes[0].ID)
		got.Values = map[string]string{}
		for p := range want.Values {
			p := schema.Path(p)
			got.Values[string(p)] = strings.TrimSpace(first.Bound(p) + first.Text(p) + first.Decimal(p) + " " + first.Stated(p))
		}
		got.Disagreements = map[string][]string{}
		for _, d := range r.Disagreements() {
			for _, v := range d.Values {
				got.Disagreements[string(d.Path)] = append(got.Disagreements[string(d.Path)], v.Author.String()+": "+v.Shown(nil, nil))
			}
		}
		got.Items = map[string]string{}
		for _, v := range r.Items() {
			state := string(v.Where)
			if v.Withdrawn {
				state = "withdrawn"
			}
			got.Items[jsonText(v.Tag)] = v.Kind + ", " + state
		}
		c := r.Tally(notes[0].ID, Leaving).Counts
		got.Tally = jsonText([]int{c.Listed, c.Found, c.Differs, c.NotFound, c.CannotSee, c.Inside, c.Unanswered, c.Extra})
		st := r.Standing(notes[0].ID)
		got.Signed = st.Signed.Author.String() + ", " + st.Signed.How
		got.Changed = nil
		for _, ch := range st.Changes {
			got.Changed = append(got.Changed, string(ch.Path))
		}
		got.Told = st.Told[0].Who
		got.Allergies = nil
		for _, row := range first.Rows("child.allergies") {
			got.Allergies = append(got.Allergies, first.Text(schema.RowPath("child.allergies", row, "substance")))
		}
		if want.Register != "" {
			got.Register, got.Rounds, got.Faults, got.Settled = r.RegisterTally().Words(), nil, nil, 0
			for _, o := range r.Rounds() {
				got.Rounds = append(got.Rounds, fmt.Sprintf("%d answered, %d not asked about", len(o.Answers), len(o.Unasked)))
			}
			for _, f := range r.Faults() {
				got.Faults = append(got.Faults, f.Rule)
			}
			for _, v := range r.Items() {
				for _, e := range v.Events {
					if r.Settled(e.Event) != nil {
						got.Settled++
					}
				}
			}
		}
		if g, w := jsonText(got), jsonText(want); g != w {
			t.Errorf("%s says\n%s\nwant\n%s", file, g, w)
		}
	}
}

func jsonText(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(b)
}

func FuzzImport(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join(released, "record-*.jsonl"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`{"format":"fairlead-record/1","case":"00000000-0000-7000-8000-000000000001","events":0}` + "\n" +
		`{"end":"fairlead-record/1","events":0,"sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}` + "\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		events, _, err := Import(data)
		if err != nil {
			if events != nil {
				t.Fatal("refused, and events returned")
			}
			return
		}
		r := Fold(events)
		for _, v := range r.Notes() {
			r.Whole(v.ID)
			r.Problems(v.ID)
		}
		if len(events) == 0 {
			return
		}
		file, err := Export(events)
		if err != nil {
			t.Fatal(err)
		}
		again, _, err := Import(file)
		if err != nil || fingerprint(Fold(again)) != fingerprint(r) {
			t.Fatalf("written and read again it differs: %v", err)
		}
	})
}

// FuzzLines puts any lines between a right head and a right end, so that what stands
// in them is reached.
func FuzzLines(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join(released, "record-*.jsonl"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		lines := bytes.SplitAfter(data, []byte("\n"))
		f.Add(bytes.Join(lines[1:len(lines)-2], nil))
		f.Add(lines[min(20, len(lines)/2)])
	}
	f.Fuzz(func(t *testing.T, middle []byte) {
		if len(middle) > 0 && !bytes.HasSuffix(middle, []byte("\n")) {
			middle = append(middle, '\n')
		}
		n := bytes.Count(middle, []byte("\n"))
		sum := sha256.Sum256(middle)
		data := fmt.Appendf(nil, "{\"format\":%q,\"case\":\"019f5fda-c280-78da-b007-b05614969f34\",\"events\":%d}\n%s{\"end\":%q,\"events\":%d,\"sha256\":\"%x\"}\n", FileFormat, n, middle, FileFormat, n, sum)
		events, _, err := Import(data)
		if err != nil {
			if events != nil {
				t.Fatal("refused, and events returned")
			}
			return
		}
		if len(events) == 0 {
			return
		}
		r := Fold(events)
		file, err := Export(events)
		if err != nil {
			t.Fatal(err)
		}
		again, _, err := Import(file)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := fingerprint(Fold(again)), fingerprint(r); got != want {
			t.Fatalf("written and read again it differs:\n%s", firstDifference(got, want))
		}
	})
}

// FuzzEvent reads any event: nothing stops the fold, and what was read is written
// the same.
func FuzzEvent(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join(released, "record-*.jsonl"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		for _, line := range bytes.Split(data, []byte("\n")) {
			f.Add(line)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		var e Event
		if json.Unmarshal(data, &e) != nil {
			return
		}
		text, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		var again Event
		if err := json.Unmarshal(text, &again); err != nil || !SameEvent(e, again) {
			t.Fatalf("%s is written as %s and read otherwise: %v", data, text, err)
		}
		r := Fold([]Event{e})
		for _, v := range r.Notes() {
			r.Whole(v.ID).JSON()
			r.Problems(v.ID)
			r.Standing(v.ID)
			r.Tally(v.ID, Leaving)
		}
		r.Child().JSON()
		r.Faults()
		r.Offers()
		r.Items()
		r.NextTag()
	})
}
