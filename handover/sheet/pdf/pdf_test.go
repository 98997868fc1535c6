package pdf

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"fairlead/handover/lines"
	"fairlead/handover/sheet"
	"fairlead/schema"
	"fairlead/schema/outside"
)

var at = schema.MomentOf(2026, 7, 14, 16, 30, 60, "Europe/London")

func note(t testing.TB, name string) *schema.Note {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../../testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	n, _, err := schema.ParseNote(data)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func written(t testing.TB, s *sheet.Sheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, s, at); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// run runs a tool of others on a file. The tools are poppler's and qpdf, which
// the project's set-up installs.
func run(t testing.TB, tool string, args ...string) string {
	t.Helper()
	out, err := exec.Command(tool, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", tool, strings.Join(args, " "), err, out)
	}
	return string(out)
}

func flat(s string) string { return strings.Join(strings.Fields(s), "") }

// TestPrinted holds the printed file against tools of others: it is whole, it is
// of the paper asked for, its fonts are inside, every page names the child, and
// every word of the model can be read from it.
func TestPrinted(t *testing.T) {
	for _, name := range []string{"notes/stage1.json", "notes/stage2.json", "notes/stage3.json", "notes/takedown.json", "notes/support-on.json", "notes/minimal/stage1.json", "sheets/stage1.json"} {
		for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
			n := note(t, name)
			s := sheet.Make(sheet.Facts{Note: n, At: at}, paper)
			file := written(t, s)
			if said := run(t, "qpdf", "--check", file); !strings.Contains(said, "No syntax or stream encoding errors") {
				t.Errorf("%s: qpdf says %s", name, said)
			}
			outside.Check(t, "qpdf: the printed file is whole")
			info := run(t, "pdfinfo", file)
			if pages := regexp.MustCompile(`Pages: +(\d+)`).FindStringSubmatch(info); pages == nil || pages[1] != strconv.Itoa(len(s.Pages)) {
				t.Errorf("%s: %d pages were laid out, the file has %v", name, len(s.Pages), pages)
			}
			if !strings.Contains(info, "("+paper.Name+")") && !strings.Contains(strings.ToLower(info), strings.ToLower(paper.Name)) {
				t.Errorf("%s: the file is not %s: %s", name, paper.Name, info)
			}
			if fonts := run(t, "pdffonts", file); len(regexp.MustCompile(` yes (yes|no) +yes `).FindAllString(fonts, -1)) < 2 {
				t.Errorf("%s: the fonts are not all inside:\n%s", name, fonts)
			}
			text := flat(run(t, "pdftotext", "-layout", file, "-"))
			plain := flat(run(t, "pdftotext", "-raw", file, "-"))
			for _, b := range s.Blocks {
				for _, l := range b.Lines {
					for _, span := range l.Spans {
						for _, word := range strings.Fields(span.Words) {
							if ascii(word) && !strings.Contains(text, word) && !strings.Contains(plain, word) {
								t.Errorf("%s: %q of %s is not printed", name, word, b.ID)
							}
						}
					}
				}
			}
			for _, it := range n.Items() {
				if want := flat(lines.Name(it)); it.Kind != "implant" && !strings.Contains(strings.ToLower(plain), strings.ToLower(want)) {
					t.Errorf("%s: tag %d %s is not printed", name, it.Tag, lines.Name(it))
				}
			}
			outside.Check(t, "poppler: every word and every item can be read from the printed file")
			for i := range s.Pages {
				page := run(t, "pdftotext", "-layout", "-f", strconv.Itoa(i+1), "-l", strconv.Itoa(i+1), file, "-")
				for _, p := range []schema.Path{schema.ChildHospitalNumber, schema.ChildSurname} {
					if v := n.Text(p); v != "" && !strings.Contains(strings.ToUpper(page), strings.ToUpper(v)) {
						t.Errorf("%s: page %d does not name the child by %s", name, i+1, v)
					}
				}
				if want := fmt.Sprintf("Page %d of %d", i+1, len(s.Pages)); !strings.Contains(page, want) {
					t.Errorf("%s: page %d does not say %q", name, i+1, want)
				}
			}
		}
	}
}

func ascii(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// TestInside: nothing that is drawn lies outside the paper's margins.
func TestInside(t *testing.T) {
	for _, paper := range []sheet.Paper{sheet.A4, sheet.Letter} {
		file := written(t, sheet.Make(sheet.Facts{Note: note(t, "notes/stage1.json"), At: at}, paper))
		boxes := run(t, "pdftotext", "-bbox", file, "-")
		for _, m := range regexp.MustCompile(`xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"`).FindAllStringSubmatch(boxes, -1) {
			var v [4]float64
			for i := range v {
				v[i], _ = strconv.ParseFloat(m[i+1], 64)
				v[i] *= 25.4 / 72
			}
			if v[0] < 5 || v[1] < 5 || v[2] > paper.Width-5 || v[3] > paper.Height-5 {
				t.Errorf("%s: a word lies at %v mm", paper.Name, v)
			}
		}
	}
}

// TestWidths holds the table the page is counted with against the font itself.
func TestWidths(t *testing.T) {
	p := start(sheet.A4, "", at)
	for _, bold := range []bool{false, true} {
		style := map[bool]string{false: "", true: "B"}[bold]
		p.f.SetFont(face, style, 1000)
		for r := rune(0x20); r < 0x180; r++ {
			if r >= 0x7F && r < 0xA0 {
				continue
			}
			want := p.f.GetStringWidth(string(r)) * 72 / 25.4
			if got := sheet.TextWidth(string(r), 1000, bold); got < want-1 || got > want+1 {
				t.Errorf("%q bold %v is counted %.0f wide, the font has %.0f", r, bold, got, want)
			}
		}
	}
}

// TestNames: names in other scripts are printed so that they can be read; what
// the face does not have is marked, and the foot says so.
func TestNames(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Łukasz", "Łukasz"}, {"Đặng", "Đặng"}, {"Şeyma", "Şeyma"}, {"Ελένη", "Ελένη"}, {"Анна", "Анна"},
	} {
		n := note(t, "notes/minimal/stage1.json")
		n.Set(schema.ChildGivenName, c.name)
		text := run(t, "pdftotext", "-layout", written(t, sheet.Make(sheet.Facts{Note: n, At: at}, sheet.A4)), "-")
		if !strings.Contains(text, c.want) {
			t.Errorf("%s cannot be read from the print", c.name)
		}
	}
	n := note(t, "notes/minimal/stage1.json")
	n.Set(schema.ChildGivenName, "小明👶")
	text := run(t, "pdftotext", "-layout", written(t, sheet.Make(sheet.Facts{Note: n, At: at}, sheet.A4)), "-")
	if !strings.Contains(text, "□□□") || !strings.Contains(text, "this print cannot show") {
		t.Errorf("letters that the face lacks are not marked: %s", text[:400])
	}
}

// TestVisual: words of right-to-left scripts are put in the order they are drawn
// in, and Arabic letters take the forms of their places. The expected forms are
// Unicode's presentation forms B, from its character charts.
func TestVisual(t *testing.T) {
	for in, want := range map[string]string{
		"abc":  "abc",
		"שלום": "םולש",
		"محمد": "\uFEAA\uFEE4\uFEA4\uFEE3", // drawn from the left: dal final, meem medial, hah medial, meem initial
		"دار":  "\uFEAD\uFE8D\uFEA9",       // letters that join only backward stand alone
		"a ב":  "a ב",
	} {
		if got := visual(in); got != want {
			t.Errorf("%q is drawn as %+q, want %+q", in, got, want)
		}
		outside.Check(t, "Unicode character database: Arabic presentation forms B, bidirectional algorithm")
	}
}

// TestSame: the same sheet gives the same file.
func TestSame(t *testing.T) {
	s := sheet.Make(sheet.Facts{Note: note(t, "notes/stage2.json"), At: at}, sheet.A4)
	var a, b bytes.Buffer
	if err := Write(&a, s, at); err != nil {
		t.Fatal(err)
	}
	if err := Write(&b, s, at); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two prints of one sheet differ")
	}
}

// TestLabels: a label for each item that comes out again, with its tag, its name,
// the child's surname and number, on both flags.
func TestLabels(t *testing.T) {
	n := note(t, "notes/stage1.json")
	l := sheet.LabelsFor(sheet.Facts{Note: n, At: at}, sheet.A4)
	var b bytes.Buffer
	if err := WriteLabels(&b, l, at); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "labels.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	text := flat(run(t, "pdftotext", "-raw", file, "-"))
	count := 0
	for _, it := range n.Items() {
		if !lines.Checked(it) {
			continue
		}
		count++
		if got := strings.Count(strings.ToLower(text), strings.ToLower(flat(lines.Name(it)))); got < 2 {
			t.Errorf("tag %d %s stands on %d tags", it.Tag, lines.Name(it), got)
		}
	}
	if got := strings.Count(text, strings.ToUpper(n.Text(schema.ChildSurname))); got != 2*count {
		t.Errorf("the surname stands %d times on %d labels", got, count)
	}
	if got := strings.Count(text, n.Text(schema.ChildHospitalNumber)); got != 2*count {
		t.Errorf("the number stands %d times on %d labels", got, count)
	}
	if got := strings.Count(text, n.Text(schema.ChildGivenName)); got < 2*count {
		t.Errorf("the given name, which tells twins apart, stands %d times on %d labels", got, count)
	}
}

// TestSoon: a sheet is printed within a second.
func TestSoon(t *testing.T) {
	n := note(t, "notes/stage1.json")
	best := time.Hour
	for range 5 {
		from := time.Now()
		var b bytes.Buffer
		if err := Write(&b, sheet.Make(sheet.Facts{Note: n, At: at}, sheet.A4), at); err != nil {
			t.Fatal(err)
		}
		best = min(best, time.Since(from))
	}
	if best > time.Second {
		t.Errorf("printing takes %v", best)
	}
}

// BenchmarkFigureSheetPdf is the sheet as PDF from the full stage-1 note.
func BenchmarkFigureSheetPdf(b *testing.B) {
	n := note(b, "notes/stage1.json")
	for b.Loop() {
		var out bytes.Buffer
		if err := Write(&out, sheet.Make(sheet.Facts{Note: n, At: at}, sheet.A4), at); err != nil {
			b.Fatal(err)
		}
	}
}
