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
	out  strings.Builder
	open []constant
	from int // where what was not cut off yet begins
}

// Grow makes room for n more bytes, for speed alone.
func (b *Builder) Grow(n int) { b.out.Grow(n) }

// Doctype begins a whole document.
func (b *Builder) Doctype() { b.out.WriteString("<!doctype html>\n") }

// Open begins an element; Close ends the innermost one.
func (b *Builder) Open(name constant, attrs ...Attr) {
	b.start(name, attrs)
	b.out.WriteByte('>')
	b.open = append(b.open, name)
}

// Close ends the innermost open element.
func (b *Builder) Close() {
	last := len(b.open) - 1
	b.end(b.open[last])
	b.open = b.open[:last]
}

func (b *Builder) end(name constant) {
	b.out.WriteString("</")
	b.out.WriteString(string(name))
	b.out.WriteByte('>')
}

// Void writes an element that has no content in HTML, such as meta or br.
func (b *Builder) Void(name constant, attrs ...Attr) {
	b.start(name, attrs)
	b.out.WriteByte('>')
}

// Shape writes an empty element of a drawing, closed as XML wants it.
func (b *Builder) Shape(name constant, attrs ...Attr) {
	b.start(name, attrs)
	b.out.WriteString("/>")
}

// Tag is an element with its attributes, written once to be used often. The zero
// Tag is none.
type Tag struct{ open, shut string }

// TagOf makes a tag.
func TagOf(name constant, attrs ...Attr) Tag {
	var open, shut Builder
	open.start(name, attrs)
	open.out.WriteByte('>')
	shut.end(name)
	return Tag{open.out.String(), shut.out.String()}
}

// Tagged writes an element that holds nothing but words of the program's own, like
// El; Within one that holds words from outside, like Words.
func (b *Builder) Tagged(t Tag, words string) {
	b.out.WriteString(t.open)
	b.Text(words)
	b.out.WriteString(t.shut)
}

// Within writes words that came from outside in an element.
func (b *Builder) Within(t Tag, words string) {
	b.out.WriteString(t.open)
	b.Words(words)
	b.out.WriteString(t.shut)
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
	b.out.WriteByte('<')
	b.out.WriteString(string(name))
	for _, a := range attrs {
		b.out.WriteByte(' ')
		b.out.WriteString(string(a.name))
		b.out.WriteString(`="`)
		b.escape(a.value, traits(a.value))
		b.out.WriteByte('"')
	}
}

// Fixed writes words of the program's own.
func (b *Builder) Fixed(words constant) { b.escape(string(words), traits(string(words))) }

// Text writes words, escaped and made plain.
func (b *Builder) Text(words string) { b.plain(words, traits(words)) }

// Words writes words that came from outside, isolated so that their direction
// cannot reorder what stands around them.
func (b *Builder) Words(words string) {
	t := traits(words)
	if t&foreign == 0 {
		b.plain(words, t)
		return
	}
	b.out.WriteString("<bdi>")
	b.plain(words, t)
	b.out.WriteString("</bdi>")
}

func (b *Builder) plain(words string, t byte) {
	if t&unplain != 0 {
		words = made(words)
	}
	b.escape(words, t)
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
	b.out.WriteString("<style>")
	b.out.WriteString(css)
	b.out.WriteString("</style>")
}

// String is what was written. Every element must be closed.
func (b *Builder) String() string {
	if len(b.open) > 0 {
		panic("page: element " + string(b.open[len(b.open)-1]) + " is not closed")
	}
	return b.out.String()
}

// Cut is what was written since the last Cut, as [Builder.String] gives all of it.
func (b *Builder) Cut() string {
	part := b.String()[b.from:]
	b.from += len(part)
	return part
}

// The traits of a byte in words.
const (
	marked  = 1 << iota // it would be read as markup
	unplain             // it needs a look by Plain
	foreign             // it is not ASCII
)

var traitsOf = func() (t [256]byte) {
	for _, c := range []byte("&<>\"'") {
		t[c] = marked
	}
	for c := range t {
		switch {
		case c >= utf8.RuneSelf:
			t[c] = unplain | foreign
		case c < ' ' || c == 0x7F:
			t[c] = unplain
		}
	}
	t[0] |= marked
	return t
}()

// traits are the traits of all bytes of s. Most words have none.
func traits(s string) (t byte) {
	for i := range len(s) {
		t |= traitsOf[s[i]]
	}
	return t
}

func (b *Builder) escape(s string, t byte) {
	if t&marked == 0 {
		b.out.WriteString(s)
		return
	}
	from := 0
	for i := range len(s) {
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
		b.out.WriteString(s[from:i])
		b.out.WriteString(to)
		from = i + 1
	}
	b.out.WriteString(s[from:])
}

// Plain makes words fit to stand on one line of a page: line ends become
// spaces, characters that would steer the direction or hide text are written
// out by their code, other control characters and broken UTF-8 become U+FFFD.
// What is plain stays as it is.
func Plain(s string) string {
	if traits(s)&unplain == 0 {
		return s
	}
	return made(s)
}

// made is Plain of words that may not be plain.
func made(s string) string {
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
