package schema

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// The definitions are 400 kB of JSON in which the order of members is the order of
// the form. encoding/json keeps no order, and read through its tokens they cost the
// browser 0.4 s before a note could be shown. This reader goes over the text once,
// and over a section only when it is asked for. It is for the generated file alone,
// which json.Marshal wrote and tests check: it does not look for every fault.

// value is one JSON value; which parts are set follows from its first byte.
type value struct {
	raw     string // as written
	members []named
	list    []value
}

type named struct {
	name  string
	value value
}

// read reads raw; deep tells whether members of members are read too.
func read(raw string, deep bool) (v value, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	r := &reader{s: raw}
	v = r.value(deep, true)
	r.space()
	if r.at != len(r.s) {
		err = fmt.Errorf("more after the end, at %d", r.at)
	}
	return v, err
}

type reader struct {
	s  string
	at int
}

func (r *reader) space() {
	for r.at < len(r.s) && (r.s[r.at] == ' ' || r.s[r.at] == '\n' || r.s[r.at] == '\t' || r.s[r.at] == '\r') {
		r.at++
	}
}

// next passes white space and gives the byte there.
func (r *reader) next() byte {
	r.space()
	if r.at >= len(r.s) {
		panic("cut short")
	}
	return r.s[r.at]
}

func (r *reader) expect(c byte) {
	if got := r.next(); got != c {
		panic(fmt.Sprintf("%q instead of %q at %d", got, c, r.at))
	}
	r.at++
}

// value reads one value; open tells whether to look into it rather than pass it.
func (r *reader) value(deep, open bool) value {
	first := r.next()
	start := r.at
	var v value
	switch {
	case first == '"':
		r.text()
	case first == '{' && open:
		r.at++
		for c := r.next(); c != '}'; c = r.next() {
			r.next()
			from := r.at
			r.text()
			name := unquote(r.s[from:r.at])
			r.expect(':')
			v.members = append(v.members, named{name, r.value(deep, deep)})
			if r.next() != ',' {
				break
			}
			r.at++
		}
		r.expect('}')
	case first == '[' && open:
		r.at++
		for c := r.next(); c != ']'; c = r.next() {
			v.list = append(v.list, r.value(deep, deep))
			if r.next() != ',' {
				break
			}
			r.at++
		}
		r.expect(']')
	case first == '{' || first == '[':
		r.pass()
	default:
		for r.at < len(r.s) && !strings.ContainsRune(",]} \n\t\r", rune(r.s[r.at])) {
			r.at++
		}
	}
	v.raw = r.s[start:r.at]
	return v
}

// text passes a string.
func (r *reader) text() {
	r.expect('"')
	for {
		i := strings.IndexAny(r.s[r.at:], `"\`)
		if i < 0 {
			panic("cut short in a text")
		}
		r.at += i + 1
		if r.s[r.at-1] == '"' {
			return
		}
		r.at++ // what the backslash stands before
	}
}

// pass passes an object or a list without looking into it.
func (r *reader) pass() {
	depth := 0
	for {
		i := strings.IndexAny(r.s[r.at:], `"{}[]`)
		if i < 0 {
			panic("cut short in a group")
		}
		r.at += i
		switch r.s[r.at] {
		case '"':
			r.text()
			continue
		case '{', '[':
			depth++
		default:
			depth--
		}
		r.at++
		if depth == 0 {
			return
		}
	}
}

func unquote(s string) string {
	if len(s) >= 2 && strings.IndexByte(s, '\\') < 0 {
		return s[1 : len(s)-1]
	}
	var out string
	if err := json.Unmarshal([]byte(s), &out); err != nil {
		panic(err)
	}
	return out
}

func (v value) member(name string) value {
	for _, m := range v.members {
		if m.name == name {
			return m.value
		}
	}
	return value{}
}

func (v value) there() bool { return v.raw != "" && v.raw != "null" }

func (v value) text() string {
	if strings.HasPrefix(v.raw, `"`) {
		return unquote(v.raw)
	}
	return ""
}

func (v value) texts() []string {
	var out []string
	for _, x := range v.list {
		out = append(out, x.text())
	}
	return out
}

func (v value) number() *float64 {
	if !v.there() {
		return nil
	}
	f, err := strconv.ParseFloat(v.raw, 64)
	if err != nil {
		panic(v.raw + " is not a number")
	}
	return &f
}

func (v value) whole() int {
	n, _ := strconv.Atoi(v.raw)
	return n
}

// any is the value as encoding/json would give it, groups apart.
func (v value) any() any {
	switch {
	case v.raw == "true", v.raw == "false":
		return v.raw == "true"
	case strings.HasPrefix(v.raw, `"`):
		return v.text()
	case v.there():
		return *v.number()
	}
	return nil
}

func (v value) kinds() []Kind {
	var out []Kind
	for _, x := range v.list {
		out = append(out, Kind(x.text()))
	}
	return out
}

// The parts of a field, as they are written.

func (v value) span() Range {
	var r Range
	if len(v.list) == 2 {
		r.Low, r.High = v.list[0].number(), v.list[1].number()
	}
	return r
}

func (v value) spans() map[string]Range {
	if !v.there() {
		return nil
	}
	out := make(map[string]Range, len(v.members))
	for _, m := range v.members {
		out[m.name] = m.value.span()
	}
	return out
}

func (v value) words() map[string]string {
	if !v.there() {
		return nil
	}
	out := make(map[string]string, len(v.members))
	for _, m := range v.members {
		out[m.name] = m.value.text()
	}
	return out
}

func (v value) requirement() Requirement {
	return Requirement{Always: v.text() == "always", Kinds: v.kinds()}
}

func (v value) conditions() []Condition {
	var out []Condition
	for _, c := range v.list {
		out = append(out, Condition{Path(c.member("field").text()), c.member("in").anys(), c.member("notIn").anys()})
	}
	return out
}

func (v value) anys() []any {
	var out []any
	for _, x := range v.list {
		out = append(out, x.any())
	}
	return out
}

func (v value) rawJSON() json.RawMessage {
	if !v.there() {
		return nil
	}
	return json.RawMessage(v.raw)
}

// section is a section as it is written.
func (v value) section(name string) *Section {
	return &Section{Name: name, Title: v.member("title").text(), Help: v.member("description").text(), Owner: v.member("x-owner").text(),
		Scope: v.member("x-scope").text(), Fields: v.member("properties").fields(name, Path(name)+".")}
}

// item is a kind of item as it is written.
func (v value) item() *ItemKind {
	about := v.member("x-item")
	name := v.member("x-name").text()
	return &ItemKind{Name: name, Title: v.member("title").text(), Help: v.member("description").text(), Raw: about.rawJSON(),
		Group: about.member("group").text(), Intracardiac: about.member("intracardiac").raw == "true",
		Fields: v.member("properties").fields(name, itemsName+"."+Path(name)+".")}
}

func (v value) fields(section string, prefix Path) []*Field {
	out := make([]*Field, 0, len(v.members))
	for _, m := range v.members {
		out = append(out, m.value.field(section, prefix, m.name))
	}
	return out
}

func (v value) field(section string, prefix Path, name string) *Field {
	f := &Field{Path: prefix + Path(name), Section: section, Name: name}
	for _, m := range v.members {
		x := m.value
		switch m.name {
		case "title":
			f.Title = x.text()
		case "description":
			f.Help = x.text()
		case "type":
			f.Type = x.text()
		case "enum":
			f.Enum = x.texts()
		case "minimum":
			f.Min = x.number()
		case "maximum":
			f.Max = x.number()
		case "maxLength":
			f.MaxLen = x.whole()
		case "x-labels":
			f.Labels = x.words()
		case "x-unit":
			f.Unit = x.text()
		case "x-usual":
			f.Usual = x.spans()
		case "x-kinds":
			f.Kinds = x.kinds()
		case "x-required":
			f.Required = x.requirement()
		case "x-when":
			f.When = x.conditions()
		case "x-none":
			f.None = x.text()
		case "x-format":
			f.Format = x.text()
		case "x-picks":
			for _, p := range x.list {
				f.Picks = append(f.Picks, p.rawJSON())
			}
		case "x-spoken":
			f.Spoken = x.texts()
		case "x-spoken-values":
			f.SpokenValues = map[string][]string{}
			for _, s := range x.members {
				f.SpokenValues[s.name] = s.value.texts()
			}
		case "x-spoken-frames":
			f.SpokenFrames = map[string][]string{}
			for _, s := range x.members {
				f.SpokenFrames[s.name] = s.value.texts()
			}
		case "x-spoken-as":
			f.SpokenAs = Path(x.text())
		case "x-sheet":
			f.Sheet = Place{x.member("place").text(), x.member("order").whole(), x.member("required").requirement(), x.member("top").raw == "true"}
		case "x-next":
			f.Next = x.text()
		case "x-export":
			f.Export = x.rawJSON()
		case "x-source":
			f.Source = x.text()
		case "x-by":
			for _, b := range x.list {
				f.By = append(f.By, Variant{b.member("when").conditions(), b.member("unit").text(), b.member("minimum").number(), b.member("maximum").number(), b.member("usual").spans()})
			}
		case "x-per-kg":
			f.PerKg = &PerWeight{x.member("plausible").span(), x.member("usual").spans()}
		}
	}
	if f.Type == "array" {
		of := v.member("items")
		f.Type, f.Enum = "list", of.member("enum").texts()
		if f.Labels == nil {
			f.Labels = of.member("x-labels").words()
		}
		if rows := of.member("properties"); rows.there() {
			f.Type, f.Rows = "rows", rows.fields(section, f.Path+".*.")
		}
	}
	return f
}
