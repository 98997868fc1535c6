// Package page builds HTML that is escaped by construction.
//
// The key type is [Builder]. Element and attribute names can only be constants
// of the program's text; every word that comes from outside goes through
// [Builder.Text], [Builder.Words] or an attribute's value and is escaped there.
// There is no way to pass markup through. Event handlers, style attributes and
// addresses cannot be written at all.
//
//	var b page.Builder
//	b.Open("p", page.Class("line"))
//	b.Words(name) // isolated: right-to-left words cannot reorder what is around
//	b.Close()
package page

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// constant can only be given as a constant of the program's own text, because
// its type cannot be named outside this package.
type constant string

// Attr is one attribute.
type Attr struct {
	name  constant
	value string
}

// Class, ID, Role, Label, Lang, Dir and the rest make the attributes a page may
// have. A value is escaped when it is written.
func Class(names string) Attr   { return Attr{"class", names} }
func ID(id string) Attr         { return Attr{"id", id} }
func Role(role constant) Attr   { return Attr{"role", string(role)} }
func Label(words string) Attr   { return Attr{"aria-label", Plain(words)} }
func LabelledBy(id string) Attr { return Attr{"aria-labelledby", id} }
func Hidden() Attr              { return Attr{"aria-hidden", "true"} }
func Lang(code constant) Attr   { return Attr{"lang", string(code)} }
func Scope(s constant) Attr     { return Attr{"scope", string(s)} }
func Span(columns int) Attr     { return Attr{"colspan", strconv.Itoa(columns)} }
func Charset() Attr             { return Attr{"charset", "utf-8"} }

// Meta makes the two attributes of a meta element.
func Meta(name, content constant) []Attr {
	return []Attr{{"name", string(name)}, {"content", string(content)}}
}

// Data makes a data attribute; its name is "data-" and the constant.
func Data(name constant, value string) Attr { return Attr{"data-" + name, value} }

// SVG makes an attribute of a drawing from a constant name and a computed
// value. Names that could run or fetch anything are refused.
func SVG(name constant, value string) Attr {
	if n := strings.ToLower(string(name)); strings.HasPrefix(n, "on") || strings.Contains(n, "href") || n == "style" || n == "src" {
		panic("page: attribute " + string(name) + " is not for drawings")
	}
	return Attr{name, value}
}

// SVGNumber is SVG with a number, written with at most two decimals.
func SVGNumber(name constant, v float64) Attr { return SVG(name, Number(v)) }

// Number writes a coordinate with at most two decimals.
func Number(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// Builder writes elements one after another. The zero Builder is ready.
type Builder struct {
	out  []byte
	open []constant
}

// Grow makes room for n more bytes, for speed alone.
func (b *Builder) Grow(n int) {
	if cap(b.out)-len(b.out) < n {
		b.out = append(make([]byte, 0, len(b.out)+n), b.out...)
	}
}

// Doctype begins a whole document.
func (b *Builder) Doctype() { b.out = append(b.out, "<!doctype html>\n"...) }

// Open begins an element; Close ends the innermost one.
func (b *Builder) Open(name constant, attrs ...Attr) {
	b.start(name, attrs)
	b.out = append(b.out, '>')
	b.open = append(b.open, name)
}

// Close ends the innermost open element.
func (b *Builder) Close() {
	last := len(b.open) - 1
	b.out = append(b.out, "</"...)
	b.out = append(b.out, b.open[last]...)
	b.out = append(b.out, '>')
	b.open = b.open[:last]
}

// Void writes an element that has no content in HTML, such as meta or br.
func (b *Builder) Void(name constant, attrs ...Attr) {
	b.start(name, attrs)
	b.out = append(b.out, '>')
}

// Shape writes an empty element of a drawing, closed as XML wants it.
func (b *Builder) Shape(name constant, attrs ...Attr) {
	b.start(name, attrs)
	b.out = append(b.out, "/>"...)
}

// forbidden are the elements whose content is not text and those that fetch or
// run something.
func forbidden(name constant) bool {
	switch name {
	case "script", "style", "iframe", "object", "embed", "template", "noscript", "textarea", "xmp", "plaintext", "foreignObject", "link", "base":
		return true
	}
	return false
}

func (b *Builder) start(name constant, attrs []Attr) {
	if forbidden(name) {
		panic("page: element " + string(name) + " is not written by this builder")
	}
	b.out = append(b.out, '<')
	b.out = append(b.out, name...)
	for _, a := range attrs {
		b.out = append(b.out, ' ')
		b.out = append(b.out, a.name...)
		b.out = append(b.out, `="`...)
		b.escape(a.value)
		b.out = append(b.out, '"')
	}
}

// Fixed writes words of the program's own.
func (b *Builder) Fixed(words constant) { b.escape(string(words)) }

// Text writes words, escaped and made plain.
func (b *Builder) Text(words string) { b.escape(Plain(words)) }

// Words writes words that came from outside, isolated so that their direction
// cannot reorder what stands around them.
func (b *Builder) Words(words string) {
	if ascii(words) {
		b.escape(Plain(words))
		return
	}
	b.out = append(b.out, "<bdi>"...)
	b.escape(Plain(words))
	b.out = append(b.out, "</bdi>"...)
}

// El writes an element that holds nothing but words.
func (b *Builder) El(name constant, words string, attrs ...Attr) {
	b.Open(name, attrs...)
	b.Text(words)
	b.Close()
}

// Sheet writes a style element from the program's own style sheet. It refuses
// text that could end the element.
func (b *Builder) Sheet(css string) {
	if strings.Contains(strings.ToLower(css), "</") || strings.Contains(css, "<!") {
		panic("page: a style sheet cannot hold markup")
	}
	b.out = append(b.out, "<style>"...)
	b.out = append(b.out, css...)
	b.out = append(b.out, "</style>"...)
}

// String is what was written. Every element must be closed.
func (b *Builder) String() string {
	if len(b.open) > 0 {
		panic("page: element " + string(b.open[len(b.open)-1]) + " is not closed")
	}
	return string(b.out)
}

// Bytes is what was written so far, without a copy.
func (b *Builder) Bytes() []byte { return b.out }

// Reset empties the builder and keeps its room.
func (b *Builder) Reset() { b.out, b.open = b.out[:0], b.open[:0] }

func (b *Builder) escape(s string) {
	from := 0
	for i := 0; i < len(s); i++ {
		var to string
		switch s[i] {
		case '&':
			to = "&amp;"
		case '<':
			to = "&lt;"
		case '>':
			to = "&gt;"
		case '"':
			to = "&#34;"
		case '\'':
			to = "&#39;"
		case 0:
			to = "\uFFFD"
		default:
			continue
		}
		b.out = append(b.out, s[from:i]...)
		b.out = append(b.out, to...)
		from = i + 1
	}
	b.out = append(b.out, s[from:]...)
}

func ascii(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// Plain makes words fit to stand on one line of a page: line ends become
// spaces, characters that would steer the direction or hide text are written
// out by their code, other control characters and broken UTF-8 become U+FFFD.
// What is plain stays as it is.
func Plain(s string) string {
	plain := true
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < ' ' || c >= 0x7F {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	var out strings.Builder
	out.Grow(len(s))
	for _, r := range s {
		switch {
		case r == '\n' || r == '\t' || r == '\u2028' || r == '\u2029':
			out.WriteByte(' ')
		case r == '\r':
			// part of a line end
		case r < ' ' || r >= 0x7F && r < 0xA0 || r == utf8.RuneError:
			out.WriteRune(utf8.RuneError)
		case Steering(r):
			out.WriteString("[U+" + strings.ToUpper(strconv.FormatInt(int64(r)+0x10000, 16)[1:]) + "]")
		default:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// Steering tells whether a character has no shape of its own and changes the
// order or the look of others: the marks, embeddings, overrides and isolates of
// Unicode's bidirectional algorithm, and the invisible fillers. The joiners that
// some scripts need are not among them.
func Steering(r rune) bool {
	switch {
	case r == 0x061C, r >= 0x200E && r <= 0x200F, r >= 0x202A && r <= 0x202E, r >= 0x2060 && r <= 0x206F:
		return true
	case r == 0x00AD, r == 0x200B, r == 0xFEFF, r >= 0xFFF9 && r <= 0xFFFB:
		return true
	}
	return false
}
