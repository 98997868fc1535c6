package sheet

import (
	"strings"
	"testing"

	"golang.org/x/net/html"

	"fairlead/handover/sheet/page"
	"fairlead/schema"
)

// hostile are names and texts that have broken pages.
var hostile = []string{
	`<script>alert(1)</script>`, `</p></section></main><img src=x onerror=alert(1)>`, `" onmouseover="alert(1)" x="`,
	"Smith\u202Eнапример\u202C", "\u2066a\u2069\u200F", strings.Repeat("Featherstonehaugh-", 17), "👶🏽 Ayşe 👩‍👩‍👧", "محمد عبد الله",
	"Łukasz Đặng", "a\x00b\x1b", "line\r\none\u2028two", "&lt;b&gt;", "{{.}}", "--><!--", "   ",
}

// TestHostile: whatever is typed anywhere, the page keeps its elements, runs
// nothing, and shows the words.
func TestHostile(t *testing.T) {
	base := committed(t)["notes/stage1.json"]
	shape := outlineOf(t, Make(Facts{Note: base, At: at}, A4).Document(noStyle))
	for _, words := range hostile {
		n := base.Clone()
		for _, p := range n.Paths() {
			f := n.FieldAt(p)
			if f == nil || f.Type != "string" || len(f.Enum) > 0 || !n.Has(p) {
				continue
			}
			switch f.Format {
			case "text", "long-text", "name", "digits", "":
				n.Set(p, words)
			}
		}
		s := Make(Facts{Note: n, At: at, Signatures: []Signature{{Name: words, Role: words, At: at}},
			Faults: []string{words}, Opinions: map[schema.Path][]Opinion{schema.ChildSex: {{Shown: words, By: words}, {Shown: "b", By: words}}}}, A4)
		for _, document := range []string{s.Document(noStyle), LabelsFor(Facts{Note: n, At: at}, A4).Document(noStyle)} {
			doc, err := html.Parse(strings.NewReader(document))
			if err != nil {
				t.Fatal(err)
			}
			for e := range doc.Descendants() {
				if e.Type == html.CommentNode {
					t.Errorf("%q made a comment", words)
				}
				if e.Type != html.ElementNode {
					continue
				}
				switch e.Data {
				case "script", "img", "iframe", "object", "embed", "link", "base", "form", "input", "a":
					t.Errorf("%q made a %s", words, e.Data)
				}
				for _, a := range e.Attr {
					if strings.HasPrefix(a.Key, "on") || a.Key == "style" || a.Key == "href" || a.Key == "src" {
						t.Errorf("%q made an attribute %s", words, a.Key)
					}
				}
			}
			if shown := strings.TrimSpace(page.Plain(words)); shown != "" && !strings.Contains(read(t, document), shown) {
				t.Errorf("%q is not shown", words)
			}
			if strings.ContainsAny(document, "\u202A\u202B\u202C\u202D\u202E\u2066\u2067\u2068\u2069\x00\x1b") {
				t.Errorf("%q left a character that steers", words)
			}
		}
		if got := outlineOf(t, s.Document(noStyle)); len(got) < len(shape)/2 {
			t.Errorf("%q lost half of the page: %d elements of %d", words, len(got), len(shape))
		}
	}
}

// outlineOf lists the elements of a document.
func outlineOf(t *testing.T, document string) []string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(document))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for e := range doc.Descendants() {
		if e.Type == html.ElementNode {
			out = append(out, e.Data)
		}
	}
	return out
}

// FuzzSheet: any words as the child's name and as a worry leave the page whole.
func FuzzSheet(f *testing.F) {
	for _, h := range hostile {
		f.Add(h)
	}
	f.Fuzz(func(t *testing.T, words string) {
		n := schema.NewNote(schema.Stage1, "n", "c")
		n.Set(schema.ChildSurname, words)
		n.Set(schema.WorkSummary, words)
		n.AddRow(schema.PlanWorries, "w")
		n.Set(schema.RowPath(schema.PlanWorries, "w", "worry"), words)
		s := Make(Facts{Note: n, At: at}, Letter)
		got := outlineOf(t, s.Document(noStyle))
		for _, e := range got {
			switch e {
			case "html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "section", "header", "footer", "div", "p", "ul", "li",
				"table", "thead", "tbody", "tr", "th", "td", "span", "b", "strong", "bdi", "svg", "path", "text":
			default:
				t.Fatalf("%q made a %s", words, e)
			}
		}
	})
}

// TestWrap: no line is wider than its column, no letter is lost, whatever the
// words.
func TestWrap(t *testing.T) {
	for _, words := range append(hostile, "a", "", "one two three", strings.Repeat("x", 500)) {
		for _, width := range []float64{4, 20, 90, 195} {
			spans := []Span{{"Label: ", Label}, {words, Strong}, {" and more of it", Value}}
			lines := Wrap(spans, width, BodySize)
			var all strings.Builder
			for _, l := range lines {
				sum := 0.0
				for _, p := range l {
					all.WriteString(p.Words)
					sum += p.Width
				}
				if sum > width+0.01 && len(l) > 0 && len([]rune(Text([]Span{l[0].Span}))) > 1 {
					t.Errorf("%q in %.0f mm makes a line of %.1f mm", words, width, sum)
				}
			}
			flat := func(s string) string { return strings.ReplaceAll(s, " ", "") }
			if flat(all.String()) != flat(Text(spans)) {
				t.Errorf("%q in %.0f mm became %q", words, width, all.String())
			}
			if got := measure(spans).lines(width, BodySize); got != len(lines) {
				t.Errorf("%q in %.0f mm: %d lines are counted and %d made", words, width, got, len(lines))
			}
		}
	}
}
