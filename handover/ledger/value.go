package ledger

import (
	"bytes"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"fairlead/schema"
)

// Entry is what a person enters at one path: a value, or a stated answer, or
// neither, which takes back what stood there ("not recorded").
type Entry struct {
	Value  any    // string, bool, json.Number, []string, or other JSON; nil for none of these
	Stated string // "none", "unknown", "not measured", …
	Bound  string // "<" or ">" beside a number
	Typed  string // what was typed, if that is not the value itself
	Unit   string // the unit it was typed in
	Origin Origin

	key string // same for equal entries
}

// Number is the entry of a decimal, as written.
func Number(decimal string) Entry { return Entry{Value: json.Number(decimal)} }

// Stated is the entry of an answer that is not a value.
func Stated(answer string) Entry { return Entry{Stated: answer} }

// Cleared tells whether the entry takes back what stood there.
func (e Entry) Cleared() bool { return e.Value == nil && e.Stated == "" }

// Same tells whether two entries say the same. Numbers are compared as decimals,
// never as floats; lists of words as sets.
func (e Entry) Same(o Entry) bool { return e.sameKey() == o.sameKey() }

func (e Entry) sameKey() string {
	if e.key != "" {
		return e.key
	}
	switch v := e.Value.(type) {
	case nil:
		if e.Stated == "" {
			return "cleared"
		}
		return "stated " + e.Stated
	case json.Number:
		return "number " + e.Bound + plainDecimal(string(v))
	case []string:
		return "words " + wordsKey(v)
	case []any:
		if words, ok := asWords(v); ok {
			return "words " + wordsKey(words)
		}
	}
	if text, ok := e.Value.(string); ok && bare(text) {
		return `value "` + text + `"` // as JSON writes it
	}
	b, err := json.Marshal(e.Value)
	if err != nil {
		return "unreadable"
	}
	return "value " + string(b)
}

// bare tells whether JSON writes a text as it stands.
func bare(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c >= 0x7f || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' {
			return false
		}
	}
	return true
}

func asWords(list []any) ([]string, bool) {
	words := make([]string, len(list))
	for i, x := range list {
		s, ok := x.(string)
		if !ok {
			return nil, false
		}
		words[i] = s
	}
	return words, true
}

func wordsKey(words []string) string {
	words = slices.Clone(words)
	slices.Sort(words)
	b, _ := json.Marshal(slices.Compact(words))
	return string(b)
}

// plainDecimal writes a JSON number so that equal numbers have one text: digits
// without leading or trailing zeros, and the power of ten.
func plainDecimal(s string) string {
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	mantissa, power, _ := strings.Cut(strings.ToLower(s), "e")
	exp, err := strconv.Atoi(strings.TrimPrefix(power, "+"))
	if power != "" && err != nil {
		return sign + s // a power beyond reading: itself
	}
	whole, part, _ := strings.Cut(mantissa, ".")
	digits := strings.TrimLeft(whole+part, "0")
	exp -= len(part)
	short := strings.TrimRight(digits, "0")
	exp += len(digits) - len(short)
	if short == "" {
		return "0"
	}
	return sign + short + "e" + strconv.Itoa(exp)
}

// isDecimal tells whether s is a JSON number.
func isDecimal(s string) bool {
	return s != "" && len(s) <= 64 && (s[0] == '-' || s[0] >= '0' && s[0] <= '9') && json.Valid([]byte(s))
}

// Value is an entry that somebody made.
type Value struct {
	Entry
	Event    EventID
	Author   Author
	Happened schema.Moment
	Entered  schema.Moment
	Clock    Clock
}

// Shown is what a reader sees of the entry: f may be nil where the field is not
// known; the note resolves items and may be nil.
func (e Entry) Shown(f *schema.Field, n *schema.Note) string {
	switch {
	case e.Stated != "":
		return schema.ShowStated(f, e.Stated)
	case e.Value == nil:
		return schema.NotRecorded
	case f != nil:
		return schema.ShowBound(e.Bound) + schema.ShowValue(f, e.Value, n)
	}
	switch v := e.Value.(type) {
	case string:
		return v
	case json.Number:
		return schema.ShowBound(e.Bound) + schema.ShowNumber(string(v))
	}
	b, err := json.Marshal(e.Value)
	if err != nil {
		return schema.NotRecorded
	}
	return string(b)
}

// reserved are the members of a section, row or item that no field may have.
var reservedLast = []string{"id", "stated", "bound"}

// placeable tells whether a value may be written at p.
func placeable(p schema.Path) bool {
	var room [5]string
	parts := room[:0]
	for rest, more := string(p), true; more; {
		var part string
		part, rest, more = strings.Cut(rest, ".")
		if part == "" || len(parts) == len(room) {
			return false
		}
		parts = append(parts, part)
	}
	last := parts[len(parts)-1]
	if slices.Contains(reservedLast, last) {
		return false
	}
	switch parts[0] {
	case "format", "schema", "kind", "note", "case", "answers":
		return false
	case "items":
		if len(parts) == 5 {
			return isID(parts[1]) && parts[3] != "*" && !slices.Contains(reservedLast, parts[2])
		}
		return len(parts) == 3 && isID(parts[1]) && last != "kind" && last != "tag"
	}
	switch len(parts) {
	case 2:
		return true
	case 4:
		return parts[2] != "*" && !slices.Contains(reservedLast, parts[1])
	}
	return false
}

// fieldBody is a field set, read.
type fieldBody struct {
	path     schema.Path
	entry    Entry
	replaces []EventID
}

func readFieldSet(b json.RawMessage) (any, error) {
	f, ok := quickFieldSet(b)
	if !ok {
		f = fieldSet{}
		if err := json.Unmarshal(b, &f); err != nil {
			return nil, err
		}
	}
	e, err := readEntry(f.Value, f.Decimal, f.Stated, f.Bound)
	if err != nil || !placeable(f.Path) {
		return nil, errBody
	}
	e.Typed, e.Unit = f.Typed, f.Unit
	if f.Origin != nil {
		e.Origin = *f.Origin
	}
	return &fieldBody{f.Path, e, f.Replaces}, nil
}

func readEntry(value json.RawMessage, decimal, stated, bound string) (Entry, error) {
	e := Entry{Stated: stated}
	if text, ok := plainText(value); ok {
		e.Value = text
	} else if len(value) > 0 && string(value) != "null" {
		dec := json.NewDecoder(bytes.NewReader(value))
		dec.UseNumber()
		if err := dec.Decode(&e.Value); err != nil {
			return e, err
		}
	}
	if decimal != "" {
		if e.Value != nil || !isDecimal(decimal) {
			return e, errBody
		}
		e.Value = json.Number(decimal)
	}
	if e.Value != nil && stated != "" || bound != "" && bound != "<" && bound != ">" {
		return e, errBody
	}
	if _, number := e.Value.(json.Number); number {
		e.Bound = bound
	}
	e.emptyIsNothing()
	e.key = e.sameKey()
	return e, nil
}

// plainText reads a JSON text without escapes, which most values are.
func plainText(value json.RawMessage) (string, bool) {
	if n := len(value); n < 2 || value[0] != '"' || value[n-1] != '"' || bytes.IndexByte(value, '\\') >= 0 || !utf8.Valid(value) {
		return "", false
	}
	return string(value[1 : len(value)-1]), true
}

// emptyIsNothing makes an empty text or choice what it is: not recorded.
func (e *Entry) emptyIsNothing() {
	switch v := e.Value.(type) {
	case string:
		if v == "" {
			e.Value = nil
		}
	case []string:
		if len(v) == 0 {
			e.Value = nil
		}
	case []any:
		if len(v) == 0 {
			e.Value = nil
		}
	}
}

// write puts an entry into the form of a body.
func (e Entry) write() (f fieldSet, err error) {
	e.emptyIsNothing()
	f = fieldSet{Stated: e.Stated, Bound: e.Bound, Typed: e.Typed, Unit: e.Unit}
	if e.Origin != (Origin{}) {
		o := e.Origin
		f.Origin = &o
	}
	switch v := e.Value.(type) {
	case nil:
	case json.Number:
		f.Decimal = string(v)
	case int:
		f.Decimal = strconv.Itoa(v)
	case float64:
		f.Decimal = strconv.FormatFloat(v, 'f', -1, 64)
	default:
		f.Value, err = json.Marshal(v)
	}
	return f, err
}
