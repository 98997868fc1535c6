// Package corpus holds the reader of dictations against what careful readers
// took from the same words: the format of the files, the scoring and the ways
// the texts are made worse. testdata/dictation/README.md says it in words.
package corpus

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"fairlead/schema"
)

// Voices are the ways of talking a dictation may be written in.
var Voices = []string{"terse", "narrative", "shorthand", "recogniser", "correcting", "listing"}

// Dictation is one file of the corpus.
type Dictation struct {
	Name  string
	Kind  schema.Kind
	Voice string
	Text  string
	Wants []Fact
	Nots  []Fact
}

// Fact is one line of the third part.
type Fact struct {
	Line     int
	Optional bool
	Conflict bool
	Denied   bool        // a thing said not to be there
	Path     schema.Path // of a plain field, or of the list of a row; "items" for an item
	Kind     string      // the item's kind
	Op       string      // "=", "<", ">", or "" where no value is given
	Value    string      // of a plain field
	Unit     string
	Values   []string          // of a conflict
	Attrs    map[string]string // of a row or item
}

// IsGroup tells whether the fact is a row or an item.
func (f Fact) IsGroup() bool { return f.Attrs != nil }

func (f Fact) String() string {
	s := string(f.Path)
	if f.Kind != "" {
		s = "item " + f.Kind
	}
	if f.Denied {
		s = "none " + s
	}
	if f.IsGroup() {
		s += ":"
		for _, k := range slices.Sorted(mapsKeys(f.Attrs)) {
			s += " " + k + "=" + f.Attrs[k]
		}
		return s
	}
	if f.Conflict {
		return "conflict " + s + " = " + strings.Join(f.Values, " | ")
	}
	if f.Op == "" {
		return s
	}
	return strings.TrimSpace(s + " " + f.Op + " " + f.Value + " " + f.Unit)
}

func mapsKeys(m map[string]string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// Load reads every dictation in a folder, in order of name.
func Load(dir string) ([]*Dictation, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.txt"))
	if err != nil {
		return nil, err
	}
	sort.Strings(files)
	var out []*Dictation
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		d, err := Parse(strings.TrimSuffix(filepath.Base(f), ".txt"), string(b))
		if err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
}

// Parse reads one file and checks it against the definitions.
func Parse(name, file string) (*Dictation, error) {
	parts := strings.Split(strings.ReplaceAll(file, "\r\n", "\n"), "\n---\n")
	if len(parts) != 3 {
		return nil, fmt.Errorf("%s: want three parts separated by lines of ---, found %d", name, len(parts))
	}
	d := &Dictation{Name: name, Text: strings.TrimRight(parts[1], "\n")}
	for _, line := range strings.Split(parts[0], "\n") {
		if line, _, _ = strings.Cut(line, "#"); strings.TrimSpace(line) == "" {
			continue
		}
		key, value, _ := strings.Cut(line, ":")
		switch value = strings.TrimSpace(value); strings.TrimSpace(key) {
		case "kind":
			d.Kind = schema.Kind(value)
		case "voice":
			d.Voice = value
		default:
			return nil, fmt.Errorf("%s: %q is not kind or voice", name, key)
		}
	}
	if schema.KindNamed(d.Kind) == nil {
		return nil, fmt.Errorf("%s: no kind of note is called %q", name, d.Kind)
	}
	if !slices.Contains(Voices, d.Voice) {
		return nil, fmt.Errorf("%s: no voice is called %q", name, d.Voice)
	}
	first := strings.Count(parts[0], "\n") + strings.Count(parts[1], "\n") + 5
	for i, line := range strings.Split(parts[2], "\n") {
		line = stripComment(line)
		if line == "" {
			continue
		}
		f, not, err := parseFact(line)
		if err == nil {
			err = f.check(d.Kind, not)
		}
		if err != nil {
			return nil, fmt.Errorf("%s, line %d: %w: %s", name, first+i, err, line)
		}
		f.Line = first + i
		if not {
			d.Nots = append(d.Nots, f)
		} else {
			d.Wants = append(d.Wants, f)
		}
	}
	return d, nil
}

func stripComment(s string) string {
	if i := strings.Index(s, "#"); i == 0 || i > 0 && s[i-1] == ' ' {
		s = s[:i]
	}
	return strings.TrimSpace(s)
}

func parseFact(line string) (f Fact, not bool, err error) {
	if rest, ok := strings.CutPrefix(line, "? "); ok {
		f.Optional, line = true, strings.TrimSpace(rest)
	}
	if rest, ok := strings.CutPrefix(line, "not "); ok {
		not, line = true, strings.TrimSpace(rest)
	}
	if rest, ok := strings.CutPrefix(line, "none "); ok {
		f.Denied, line = true, strings.TrimSpace(rest)
	}
	if rest, ok := strings.CutPrefix(line, "item "); ok {
		kind, attrs, _ := strings.Cut(rest, ":")
		f.Path, f.Kind = "items", strings.TrimSpace(kind)
		f.Attrs, err = parseAttrs(attrs)
		return f, not, err
	}
	if rest, ok := strings.CutPrefix(line, "row "); ok {
		list, attrs, _ := strings.Cut(rest, ":")
		f.Path = schema.Path(strings.TrimSpace(list))
		f.Attrs, err = parseAttrs(attrs)
		return f, not, err
	}
	if rest, ok := strings.CutPrefix(line, "conflict "); ok {
		f.Conflict = true
		path, values, _ := strings.Cut(rest, "=")
		f.Path, f.Op = schema.Path(strings.TrimSpace(path)), "="
		for _, v := range strings.Split(values, "|") {
			num, _, _ := strings.Cut(strings.TrimSpace(v), " ")
			f.Values = append(f.Values, num)
		}
		return f, not, nil
	}
	words := strings.Fields(line)
	f.Path = schema.Path(words[0])
	if len(words) == 1 {
		if not {
			return f, not, nil
		}
		return f, not, fmt.Errorf("no value")
	}
	switch f.Op = words[1]; f.Op {
	case "?":
		f.Op, f.Optional = "=", true
	case "=", "<", ">":
	default:
		return f, not, fmt.Errorf("want =, <, > or ? after the path")
	}
	rest := strings.Join(words[2:], " ")
	if slices.Contains(schema.StatedAnswers(), rest) {
		f.Value = rest
		return f, not, nil
	}
	if len(words) < 3 {
		return f, not, fmt.Errorf("no value")
	}
	f.Value, f.Unit = words[2], strings.Join(words[3:], " ")
	return f, not, nil
}

func parseAttrs(s string) (map[string]string, error) {
	attrs := map[string]string{}
	for s = strings.TrimSpace(s); s != ""; s = strings.TrimSpace(s) {
		key, rest, ok := strings.Cut(s, "=")
		if !ok {
			return nil, fmt.Errorf("want field=value, found %q", s)
		}
		var value string
		if strings.HasPrefix(rest, `"`) {
			value, s, ok = strings.Cut(rest[1:], `"`)
			if !ok {
				return nil, fmt.Errorf("a quote is not closed")
			}
		} else if value, s, ok = strings.Cut(rest, " "); !ok {
			s = ""
		}
		attrs[strings.TrimSpace(key)] = value
	}
	return attrs, nil
}

// check holds a fact against the definitions, so that a slip of the pen in the
// corpus is not counted against the reader.
func (f Fact) check(kind schema.Kind, not bool) error {
	field := func(p schema.Path, value string) error {
		d := schema.FieldAt(p)
		if d == nil {
			return fmt.Errorf("no field %s", p)
		}
		if p.Section() != "items" && !not && !hasField(kind, d) {
			return fmt.Errorf("%s is not in notes of kind %s", p, kind)
		}
		switch {
		case value == "" || slices.Contains(schema.StatedAnswers(), value):
		case len(d.Enum) > 0 && !slices.Contains(d.Enum, value):
			return fmt.Errorf("%s has no value %q", p, value)
		case d.Numeric() && !isNumber(value):
			return fmt.Errorf("%s wants a number, not %q", p, value)
		case d.Type == "boolean" && value != "true" && value != "false":
			return fmt.Errorf("%s wants true or false", p)
		}
		return nil
	}
	switch {
	case f.Kind != "":
		if schema.ItemKindNamed(f.Kind) == nil {
			return fmt.Errorf("no kind of item is called %q", f.Kind)
		}
		for k, v := range f.Attrs {
			if err := field(schema.ItemPath(f.Kind, k), v); err != nil {
				return err
			}
		}
	case f.IsGroup():
		d := schema.FieldAt(f.Path)
		if d == nil || d.Type != "rows" || !not && !hasField(kind, d) {
			return fmt.Errorf("no list of rows %s in notes of kind %s", f.Path, kind)
		}
		for k, v := range f.Attrs {
			if err := field(schema.RowPath(f.Path, "*", k), v); err != nil {
				return err
			}
		}
	case f.Conflict:
		for _, v := range f.Values {
			if err := field(f.Path, v); err != nil {
				return err
			}
		}
	default:
		return field(f.Path, f.Value)
	}
	return nil
}

func hasField(kind schema.Kind, f *schema.Field) bool {
	d := schema.KindNamed(kind)
	return d != nil && slices.Contains(d.Sections, f.Path.Section()) && f.In(kind)
}

func isNumber(s string) bool {
	digits := 0
	for i, c := range s {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == '.' || c == '-' && i == 0:
		default:
			return false
		}
	}
	return digits > 0
}
