package dictation

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"fairlead/schema"
)

// hold checks what must be true of any reading of any text.
func hold(t *testing.T, r *Reading) {
	t.Helper()
	at := 0
	for _, p := range r.Pieces {
		if p.Start != at || p.End <= p.Start {
			t.Fatalf("pieces do not follow one another: %v after %d", p, at)
		}
		at = p.End
		for _, n := range p.Proposals {
			if n < 0 || n >= len(r.Proposals) {
				t.Fatalf("a piece names proposal %d of %d", n, len(r.Proposals))
			}
		}
	}
	if at != len(r.Text) {
		t.Fatalf("the pieces end at %d of %d", at, len(r.Text))
	}
	groups := map[string]bool{}
	for _, g := range r.Groups {
		if groups[g.ID] {
			t.Fatalf("two groups are called %s", g.ID)
		}
		groups[g.ID] = true
	}
	for _, p := range r.Proposals {
		if len(p.Spans) == 0 {
			t.Fatalf("%s has no place in the text", p.Path)
		}
		for _, s := range p.Spans {
			if utf8.ValidString(r.Text) && !r.validSpan(s) || s.Start < 0 || s.Start >= s.End || s.End > len(r.Text) {
				t.Fatalf("%s has the impossible span %v in %d bytes", p.Path, s, len(r.Text))
			}
		}
		f := schema.FieldAt(p.Path)
		switch {
		case f == nil:
			t.Fatalf("no field %s", p.Path)
		case p.Value == "" && p.Stated == "" || p.Value != "" && p.Stated != "":
			t.Fatalf("%s has the value %q and the answer %q", p.Path, p.Value, p.Stated)
		case p.Group != "" && !groups[p.Group]:
			t.Fatalf("%s belongs to no group %q", p.Path, p.Group)
		case p.Value != "" && len(f.Enum) > 0 && !contains(f.Enum, p.Value):
			t.Fatalf("%s has no value %q", p.Path, p.Value)
		case p.Value != "" && f.Numeric() && f.Path.List() == "" && !plausible(f, p.Value):
			t.Fatalf("%s: %s is outside what is possible", p.Path, p.Value)
		}
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// texts are the dictations of the corpus, facts left out.
func texts(t testing.TB) map[string]schema.Kind {
	t.Helper()
	files, err := filepath.Glob("../../testdata/dictation/tuned/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no corpus: %v", err)
	}
	out := map[string]schema.Kind{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		parts := strings.Split(string(b), "\n---\n")
		kind, _, _ := strings.Cut(strings.TrimPrefix(parts[0], "kind: "), "\n")
		out[parts[1]] = schema.Kind(kind)
	}
	return out
}

func TestReadingsHold(t *testing.T) {
	for text, kind := range texts(t) {
		r := Read(kind, text)
		hold(t, r)
		if again := Read(kind, text); !reflect.DeepEqual(again.Proposals, r.Proposals) {
			t.Errorf("the same words give other proposals: %.60q", text)
		}
	}
}

// Reading a text as it grows, word by word, and as it is edited, gives what
// reading it at once gives.
func TestUpdateIsRead(t *testing.T) {
	dice := rand.New(rand.NewPCG(7, 11))
	n := 0
	for text, kind := range texts(t) {
		if n++; n > 12 {
			break
		}
		r := Read(kind, "")
		words := strings.SplitAfter(text, " ")
		for i := range words {
			r.Update(strings.Join(words[:i+1], ""))
		}
		for range 5 {
			i := dice.IntN(len(words))
			words[i] = "zwei "
			r.Update(strings.Join(words, ""))
		}
		whole := Read(kind, r.Text)
		if !reflect.DeepEqual(r.Proposals, whole.Proposals) || !reflect.DeepEqual(r.Pieces, whole.Pieces) || !reflect.DeepEqual(r.Groups, whole.Groups) {
			t.Errorf("an edited text is read otherwise than a new one: %.60q", r.Text)
		}
	}
}

func TestTooLong(t *testing.T) {
	text := strings.Repeat("Sats seventy nine. ", 5<<20/19)
	r := Read(schema.Stage1, text)
	if r.Refused == "" || !strings.Contains(r.Refused, "500000") {
		t.Errorf("5 MB were not refused with the limit: %q", r.Refused)
	}
	if len(r.Proposals) != 0 || len(r.Pieces) != 1 || r.Text != text {
		t.Error("the refused text was not kept whole")
	}
	hold(t, r)
}

// Another language, other scripts, signs and emoji are text: nothing is made of
// them.
func TestNothingInvented(t *testing.T) {
	for _, text := range []string{
		"Das Kind wurde stabil auf die Intensivstation verlegt, keine besonderen Vorkommnisse.",
		"El niño salió del quirófano estable y sin complicaciones.",
		"手术顺利完成。患儿情况稳定。",
		"تمت العملية بنجاح",
		"\x00\x01\x02 \u202e abc \u200b",
		"🫀🩸 ✅ 👍🏽",
		"The quick brown fox jumps over the lazy dog and then goes home for tea with twelve friends.",
		"The meeting is at half past nine in room 214; bring three copies of the report and 12 pens.",
	} {
		for _, k := range schema.Kinds() {
			r := Read(k.Kind, text)
			hold(t, r)
			if len(r.Proposals) > 0 {
				t.Errorf("%s: %q gives %v", k.Kind, text, r.Proposals)
			}
		}
	}
}

// A field becomes dictatable where it is defined: every plain numeric field of
// every kind of note is understood by its title and a usual value.
func TestEveryNumericFieldByTitle(t *testing.T) {
	missed, all := 0, 0
	for _, k := range schema.Kinds() {
		for _, s := range schema.SectionsOf(k.Kind) {
			for _, f := range s.FieldsIn(k.Kind) {
				if !f.Numeric() || f.Unit == "1" {
					continue
				}
				all++
				v := "1"
				if r, ok := f.UsualFor(k.Kind); ok && r.Low != nil && r.High != nil {
					v = trimDecimal(formatFloat(float64(int(*r.Low*0.4 + *r.High*0.6))))
				} else if f.Min != nil && *f.Min > 1 {
					v = trimDecimal(formatFloat(*f.Min))
				}
				text := f.Title + " " + v + " " + schema.UnitShown(f.Unit) + "."
				if f.Section == "catheter" {
					text = "At catheter " + text
				}
				found := false
				for _, p := range Read(k.Kind, text).Proposals {
					found = found || p.Path == f.Path
				}
				if !found {
					missed++
					t.Logf("%s: %q is not read as %s", k.Kind, text, f.Path)
				}
			}
		}
	}
	if missed*100 > all*8 {
		t.Errorf("%d of %d fields are not understood by their title", missed, all)
	}
}

func formatFloat(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

func FuzzRead(f *testing.F) {
	f.Add("stage1", "Forty percent oxygen.") // its unit opens the text
	for text, kind := range texts(f) {
		f.Add(string(kind), text)
	}
	f.Add("stage1", "no, make that \xff\xfe scratch that 3½ 1/2 , , . no no no")
	f.Add("stage3", "from to from to 18 18 18 mm mm no not without or nor and")
	f.Fuzz(func(t *testing.T, kind, text string) {
		hold(t, Read(schema.Kind(kind), text))
	})
}

// words1000 is a thousand words of dictation, and words600 six hundred.
func manyWords(b testing.TB, n int) string {
	var all []string
	for _, name := range []string{"stage1-narrative-02", "stage1-listing-02", "stage1-narrative-04", "stage1-narrative-06", "stage1-narrative-07", "stage1-terse-04", "stage1-narrative-03", "stage1-listing-01", "stage1-recogniser-03", "stage1-listing-03"} {
		raw, err := os.ReadFile("../../testdata/dictation/tuned/" + name + ".txt")
		if err != nil {
			b.Fatal(err)
		}
		all = append(all, strings.Fields(strings.Split(string(raw), "\n---\n")[1])...)
	}
	for len(all) < n {
		all = append(all, all...)
	}
	return strings.Join(all[:n], " ")
}

func BenchmarkFigureDictateThousandWords(b *testing.B) {
	text := manyWords(b, 1000)
	Read(schema.Stage1, "")
	for b.Loop() {
		Read(schema.Stage1, text)
	}
}

func BenchmarkFigureDictateWord(b *testing.B) {
	text := manyWords(b, 600)
	r := Read(schema.Stage1, text)
	extra := []string{" and", " two", " atrial", " wires"}
	for n := 0; b.Loop(); n++ {
		r.Update(text + extra[n%4])
	}
}

// The worst case: no punctuation, so that the whole text is one sentence.
func BenchmarkFigureDictateWordRunOn(b *testing.B) {
	text := strings.Map(func(r rune) rune {
		if r == '.' || r == ',' || r == ';' || r == ':' {
			return -1
		}
		return r
	}, manyWords(b, 600))
	r := Read(schema.Stage1, text)
	extra := []string{" and", " two", " atrial", " wires"}
	for n := 0; b.Loop(); n++ {
		r.Update(text + extra[n%4])
	}
}

func BenchmarkBuildVocabulary(b *testing.B) {
	for b.Loop() {
		buildLexicon(schema.Stage1)
	}
}
