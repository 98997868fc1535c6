package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"fairlead/schema"
)

// at is when the sheets of these tests are made.
var at = func() schema.Moment {
	m, err := schema.ParseMoment("2026-11-18T13:45+00:00[Europe/London]")
	if err != nil {
		panic(err)
	}
	return m
}()

// committed are the notes committed for tests: one of real size and one minimal
// of each kind, and one of our own.
func committed(t testing.TB) map[string]*schema.Note {
	t.Helper()
	out := map[string]*schema.Note{}
	for _, pattern := range []string{"notes/*.json", "notes/minimal/*.json", "sheets/*.json"} {
		files, err := filepath.Glob(filepath.Join("../../testdata", pattern))
		if err != nil || len(files) == 0 {
			t.Fatalf("no notes at %s: %v", pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			n, _, err := schema.ParseNote(data)
			if err != nil {
				t.Fatalf("%s: %v", file, err)
			}
			out[strings.TrimPrefix(file, "../../testdata/")] = n
		}
	}
	return out
}

// spansOf are all spans of a sheet: the banner's, the blocks', the foot's.
func spansOf(s *Sheet) []Span {
	var out []Span
	out = append(out, s.Head.Name...)
	out = append(out, s.Head.Number...)
	for _, l := range s.Head.Lines {
		out = append(out, l...)
	}
	out = append(out, s.Head.Operation...)
	for _, b := range s.Blocks {
		out = append(out, blockSpans(b)...)
	}
	return append(out, s.Foot...)
}

func blockSpans(b Block) []Span {
	var out []Span
	for _, l := range b.Lines {
		out = append(out, l.Spans...)
		for _, c := range l.Cells {
			out = append(out, c...)
			out = append(out, Span{" ", Fixed})
		}
		out = append(out, l.Checks...)
		out = append(out, Span{"\n", Fixed})
	}
	return out
}

func countKind(s *Sheet, k Kind) int {
	n := 0
	for _, span := range spansOf(s) {
		if span.Kind == k {
			n++
		}
	}
	return n
}

// read is the text of an HTML document as a reader sees it, by a parser of
// others.
func read(t testing.TB, document string) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(document))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range doc.Descendants() {
		if n.Type == html.TextNode && (n.Parent == nil || n.Parent.Data != "style") {
			b.WriteString(n.Data)
		}
		if n.Type == html.ElementNode && (n.Data == "td" || n.Data == "p" || n.Data == "th" || n.Data == "li" || n.Data == "h2") {
			b.WriteString("\n")
		}
	}
	return b.String()
}

// elements finds the elements with a class.
func elements(t testing.TB, document, class string) []*html.Node {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(document))
	if err != nil {
		t.Fatal(err)
	}
	var out []*html.Node
	for n := range doc.Descendants() {
		for _, a := range n.Attr {
			if a.Key == "class" && strings.Contains(" "+a.Val+" ", " "+class+" ") {
				out = append(out, n)
			}
		}
	}
	return out
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}
