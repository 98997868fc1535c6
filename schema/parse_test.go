package schema_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf16"
	"unicode/utf8"

	"fairlead/schema"
)

const small = `{"format":"fairlead-note/1","kind":"stage1","note":"n","case":"c","child":{"surname":"Alder"}}`

// utf16Of writes s as UTF-16 with a byte-order mark or without.
func utf16Of(s string, order binary.AppendByteOrder, mark bool) []byte {
	var b []byte
	if mark {
		b = order.AppendUint16(b, 0xFEFF)
	}
	for _, u := range utf16.Encode([]rune(s)) {
		b = order.AppendUint16(b, u)
	}
	return b
}

// What cannot be read is refused with a sentence that says where and what to do.
func TestParseNoteRefuses(t *testing.T) {
	cases := []struct {
		name string
		data []byte
		want []string // parts of the sentence
	}{
		{"empty", nil, []string{"empty"}},
		{"white space", []byte(" \n\t"), []string{"empty"}},
		{"a byte-order mark alone", []byte("\xEF\xBB\xBF"), []string{"empty"}},
		{"truncated", []byte(small[:60]), []string{"ends too early", "line 1, column 61", "get it again"}},
		{"truncated after a line", []byte("{\n \"format\":"), []string{"ends too early", "line 2"}},
		{"not JSON", []byte("Dear colleague,"), []string{"not JSON", "line 1, column 1", `'D'`}},
		{"a comma too many", []byte("{\"format\":\"fairlead-note/1\",\n}"), []string{"not JSON", "line 2, column 1", `'}'`}},
		{"two texts", []byte(small + small), []string{"more after its end", "expected one JSON object alone"}},
		{"UTF-16, little end first, marked", utf16Of(small, binary.LittleEndian, true), []string{"UTF-16", "UTF-8"}},
		{"UTF-16, big end first, marked", utf16Of(small, binary.BigEndian, true), []string{"UTF-16", "UTF-8"}},
		{"UTF-16, little end first, not marked", utf16Of(small, binary.LittleEndian, false), []string{"UTF-16", "UTF-8"}},
		{"UTF-16, big end first, not marked", utf16Of(small, binary.BigEndian, false), []string{"UTF-16", "UTF-8"}},
		{"Latin-1", []byte("{\"format\":\"fairlead-note/1\",\n\"child\":{\"surname\":\"M\xFCller\"}}"), []string{"not UTF-8", "line 2, column 22"}},
		{"a list", []byte("[1,2]"), []string{"not an object", "{"}},
		{"null", []byte("null"), []string{"not an object"}},
		{"another program's JSON", []byte(`{"resourceType":"Bundle","entry":[]}`), []string{"not a note", "fairlead-note/1"}},
		{"our other format", []byte(`{"format":"fairlead-profile/1"}`), []string{"not a note", "fairlead-profile/1"}},
		{"a format with no version", []byte(`{"format":"fairlead-note"}`), []string{"names no version", "fairlead-note/1"}},
		{"version nought", []byte(`{"format":"fairlead-note/0","kind":"stage1"}`), []string{"names no version"}},
		{"a format that is no text", []byte(`{"format":1}`), []string{"not a note"}},
		{"no kind", []byte(`{"format":"fairlead-note/1"}`), []string{"kind", "stage1"}},
		{"unknown kind", []byte(`{"format":"fairlead-note/1","kind":"stage9"}`), []string{"stage9", "expected one of", "takedown"}},
		{"a name twice", []byte(`{"format":"fairlead-note/1","kind":"stage1","child":{"surname":"A",` + "\n" + `"surname":"B"}}`), []string{"surname", "twice", "line 2"}},
		{"a name twice, written in two ways", []byte(`{"format":"fairlead-note/1","kind":"stage1","child":{"sex":"male","\u0073ex":"female"}}`), []string{"sex", "twice"}},
		{"a name twice in a list", []byte(`{"format":"fairlead-note/1","kind":"stage1","items":[{"id":"a"},{"id":"b","id":"c"}]}`), []string{`"id"`, "twice"}},
		{"a number too large", []byte(`{"format":"fairlead-note/1","kind":"stage1","measures":{"weight":1e999}}`), []string{"1e999", "line 1, column", "too large"}},
		{"a number with a vast exponent", []byte(`{"format":"fairlead-note/1","kind":"stage1","measures":{"weight":1e99999999999}}`), []string{"too large"}},
		{"a number of a million digits", []byte(`{"format":"fairlead-note/1","kind":"stage1","measures":{"weight":0.` + strings.Repeat("3", 1_000_000) + `}}`), []string{"too long"}},
		{"nested a million deep", []byte(strings.Repeat("[", 1_000_000)), []string{"nested deeper"}},
		{"nested a million deep inside", []byte(`{"format":"fairlead-note/1","kind":"stage1","x":` + strings.Repeat(`{"a":`, 500_000) + "1" + strings.Repeat("}", 500_000) + `}`), []string{"nested deeper"}},
		{"a number with a leading nought", []byte(`{"format":"fairlead-note/1","kind":"stage1","x":03}`), []string{"not JSON", "'3'"}},
		{"a naked point", []byte(`{"x":.5}`), []string{"not JSON", "'.'"}},
		{"a tab inside a text", []byte("{\"x\":\"a\tb\"}"), []string{"not JSON", `'\t'`}},
	}
	for _, c := range cases {
		start := time.Now()
		n, _, err := schema.ParseNote(c.data)
		if took := time.Since(start); took > 2*time.Second {
			t.Errorf("%s: took %v", c.name, took)
		}
		if err == nil || n != nil {
			t.Errorf("%s: was read", c.name)
			continue
		}
		for _, part := range c.want {
			if !strings.Contains(err.Error(), part) {
				t.Errorf("%s: %q does not say %q", c.name, err, part)
			}
		}
		if len(err.Error()) > 300 || strings.Contains(err.Error(), "json:") || strings.Contains(err.Error(), "invalid character") {
			t.Errorf("%s: %q is not for a nurse", c.name, err)
		}
	}
}

func TestParseNoteRefusesAFileOverTheLimitAtOnce(t *testing.T) {
	for _, size := range []int{schema.MaxNote + 1, 5 << 20, 50 << 20} {
		start := time.Now()
		_, _, err := schema.ParseNote(bytes.Repeat([]byte{' '}, size))
		if !errors.Is(err, schema.ErrTooLarge) || !strings.Contains(err.Error(), "4 MB") {
			t.Errorf("%d bytes: %v", size, err)
		}
		if took := time.Since(start); took > time.Second {
			t.Errorf("%d bytes took %v", size, took)
		}
	}
	padded := append([]byte(small), bytes.Repeat([]byte{'\n'}, schema.MaxNote-len(small))...)
	if _, _, err := schema.ParseNote(padded); err != nil {
		t.Errorf("a file at the limit: %v", err)
	}
}

func TestParseNoteReadsAByteOrderMark(t *testing.T) {
	n, problems, err := schema.ParseNote([]byte("\xEF\xBB\xBF" + small))
	if err != nil || len(problems) > 0 || n.Text(schema.ChildSurname) != "Alder" {
		t.Errorf("%v %v", problems, err)
	}
}

// A note from a newer version is read, kept whole and reported; what this version
// does not know comes out as it went in, whatever is changed beside it.
func TestNewerNotesKeepWhatThisVersionDoesNotKnow(t *testing.T) {
	const newer = `{"format":"fairlead-note/7","kind":"stage9","note":"n","case":"c","schema":"abc","laser":{"power":12.50,"on":true},
		"child":{"surname":"Alder","temperament":"mild","stated":{"temperament":"unknown","sex":"unknown"},"bound":{"future":">"}},
		"items":[{"id":"i","kind":"nanobot","tag":3,"swarm":[1,2,{"id":"x"}]},"text",5],"answers":[]}`
	n, problems, err := schema.ParseNote([]byte(newer))
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) != 1 || problems[0].Rule != "newer-format" || !strings.Contains(problems[0].What, "fairlead-note/7") {
		t.Errorf("problems: %+v", problems)
	}
	n.Set(schema.ChildGivenName, "Wren")
	n.State(schema.ChildBirthDate, schema.StatedUnknown)
	n.AddItem("drain", "d", 4)
	n.RemoveItem("d")
	n.Clear(schema.ChildGivenName)
	n.Clear(schema.ChildBirthDate)
	var was, is any
	for text, into := range map[string]*any{newer: &was, string(n.JSON()): &is} {
		dec := json.NewDecoder(strings.NewReader(text))
		dec.UseNumber()
		if err := dec.Decode(into); err != nil {
			t.Fatal(err)
		}
	}
	if a, b := mustJSON(was), mustJSON(is); a != b {
		t.Errorf("it became\n%s\nfrom\n%s", b, a)
	}
	schema.Validate(n)
}

// parse(write(x)) = x for full and for broken notes.
func TestNoteRoundTrip(t *testing.T) {
	for _, d := range schema.Kinds() {
		n := committed(t, d.Kind)
		first := n.JSON()
		back, _, err := schema.ParseNote(first)
		if err != nil || !bytes.Equal(back.JSON(), first) {
			t.Errorf("%s: became another note, %v", d.Kind, err)
		}
		if clone := n.Clone(); !bytes.Equal(clone.JSON(), first) {
			t.Errorf("%s: the copy is another note", d.Kind)
		} else {
			clone.Set(schema.ChildSurname, "Other")
			clone.RemoveItem(clone.Items()[0].ID)
			if !bytes.Equal(n.JSON(), first) {
				t.Errorf("%s: changing the copy changed the note", d.Kind)
			}
		}
	}
}

func FuzzParseNote(f *testing.F) {
	files, err := filepath.Glob("../testdata/notes/minimal/*.json")
	if err != nil || len(files) == 0 {
		f.Fatal("no notes to begin with: ", err)
	}
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	for _, s := range []string{small, small[:60], "[[[[", `{"a":1e999}`, "\xFF\xFE{\x00", `{"format":"fairlead-note/2","kind":"x","items":[{"id":"a"}]}`,
		`{"format":"fairlead-note/1","kind":"stage1","child":null,"items":{},"answers":5,"support":{"runs":[{"id":"a","stated":7,"bound":[]}],"stated":5}}`} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		n, _, err := schema.ParseNote(data)
		if err != nil {
			if s := err.Error(); s == "" || !utf8.ValidString(s) {
				t.Fatalf("the sentence %q", s)
			}
			return
		}
		b := n.JSON()
		back, _, err := schema.ParseNote(b)
		if err != nil || !bytes.Equal(back.JSON(), b) {
			t.Fatalf("%s became another note: %v", b, err)
		}
		for _, p := range schema.Validate(n) {
			if p.What == "" || p.Do == "" || p.Rule == "" || !strings.HasSuffix(p.What, ".") {
				t.Fatalf("%+v", p)
			}
		}
		for _, p := range n.Paths() {
			schema.Show(n.FieldAt(p), n, p)
			n.Set(p, "x")
			n.State(p, schema.StatedUnknown)
			n.SetBound(p, "<")
			n.AddRow(p, "new")
			n.RemoveRow(p, "new")
			n.Clear(p)
		}
		n.JSON()
	})
}
