package page

import (
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// hostile are words that pages have been broken with.
var hostile = []string{
	`<script>alert(1)</script>`, `</p></section><img src=x onerror=alert(1)>`, `" onmouseover="alert(1)`,
	`' autofocus onfocus='x`, `&lt;b&gt; &amp; &#60;`, "a\u202Egnp.exe", "\u2066left\u2069 \u200Fright", "שלום (עולם)",
	"Łukasz Đặng", "محمد", strings.Repeat("ab<", 100), "👶🏽👩‍👩‍👧", "a\x00b\x1b[31m", "\xff\xfe", "line\r\none\u2028two", "--><!--", "]]>",
	"javascript:alert(1)", "{{.}}", "", " ",
}

func FuzzWords(f *testing.F) {
	for _, h := range hostile {
		f.Add(h)
	}
	f.Fuzz(func(t *testing.T, words string) {
		var b Builder
		b.Open("section", ID("s"), Class(words), Label(words), Data("tag", words))
		b.Open("p")
		b.Words(words)
		b.Close()
		b.El("b", words)
		b.Open("svg")
		b.Shape("path", SVG("d", words))
		b.Open("text")
		b.Text(words)
		b.Close()
		b.Close()
		b.Close()
		check(t, b.String(), words)
	})
}

// check holds what was built against an HTML parser of others: the tree has
// exactly the elements and attributes that were asked for, and their words.
func check(t *testing.T, out, words string) {
	t.Helper()
	doc, err := html.Parse(strings.NewReader("<!doctype html><html><head></head><body>" + out + "</body></html>"))
	if err != nil {
		t.Fatal(err)
	}
	attrs := map[string]string{}
	texts := map[string]string{}
	count := map[string]int{}
	var walk func(n *html.Node, in string)
	walk = func(n *html.Node, in string) {
		switch n.Type {
		case html.ElementNode:
			count[n.Data]++
			if n.Data != "bdi" {
				in = n.Data
			}
			for _, a := range n.Attr {
				attrs[n.Data+" "+a.Key] = a.Val
			}
		case html.TextNode:
			texts[in] += n.Data
		case html.CommentNode:
			t.Fatalf("a comment appeared: %q", n.Data)
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, in)
		}
	}
	walk(doc, "")
	for name, n := range count {
		if n > 1 || !strings.Contains(" html head body section p b svg path text bdi ", " "+name+" ") {
			t.Fatalf("element %s appeared %d times in %q", name, n, out)
		}
	}
	want := Plain(words)
	for _, in := range []string{"p", "b", "text"} {
		if texts[in] != want {
			t.Errorf("%s holds %q, want %q", in, texts[in], want)
		}
	}
	if got := attrs["section aria-label"]; got != want {
		t.Errorf("aria-label is %q, want %q", got, want)
	}
	// In an attribute the raw words stand, except what no HTML document can hold.
	raw := strings.NewReplacer("\x00", "\uFFFD", "\r\n", "\n", "\r", "\n").Replace(words)
	for _, a := range []string{"section class", "section data-tag", "path d"} {
		if got := attrs[a]; got != raw {
			t.Errorf("%s is %q, want %q", a, got, raw)
		}
	}
	if len(attrs) != 5 {
		t.Errorf("attributes %v, want five", attrs)
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"Adam":             "Adam",
		"a\u202Eb":         "a[U+202E]b",
		"a\u2067b\u2069":   "a[U+2067]b[U+2069]",
		"Łukasz Đặng":      "Łukasz Đặng",
		"two\r\nlines":     "two lines",
		"bell\a":           "bell\uFFFD",
		"\xff":             "\uFFFD",
		"soft\u00ADhyphen": "soft[U+00AD]hyphen",
		"👩‍👧":              "👩‍👧", // the joiner stays: it has a use
	} {
		if got := Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
		if again := Plain(Plain(in)); again != want {
			t.Errorf("Plain is not settled after one use: %q", again)
		}
	}
}

func TestRefusals(t *testing.T) {
	refuses := func(name string, do func(b *Builder)) {
		t.Helper()
		defer func() {
			if recover() == nil {
				t.Errorf("%s was written", name)
			}
		}()
		var b Builder
		do(&b)
	}
	refuses("a script", func(b *Builder) { b.Open("script") })
	refuses("an iframe", func(b *Builder) { b.Open("iframe") })
	refuses("a link", func(b *Builder) { b.Void("link") })
	refuses("a handler", func(b *Builder) { b.Shape("path", SVG("onload", "x")) })
	refuses("an address", func(b *Builder) { b.Shape("use", SVG("xlink:href", "x")) })
	refuses("an inline style", func(b *Builder) { b.Shape("path", SVG("style", "x")) })
	refuses("a style sheet with markup", func(b *Builder) { b.Sheet("a{} </style><script>") })
	refuses("an unclosed element", func(b *Builder) { b.Open("p"); _ = b.String() })
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{1: "1", 0.5: "0.5", -0.001: "0", 12.345: "12.35", 100: "100", -3.10: "-3.1"} {
		if got := Number(v); got != want {
			t.Errorf("Number(%v) = %s, want %s", v, got, want)
		}
	}
}
