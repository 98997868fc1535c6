package schema

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// MaxNote is the largest note file read, in bytes.
const MaxNote = 4 << 20

// ErrTooLarge says that a file is over its limit.
var ErrTooLarge = errors.New("the file is larger than 4 MB, the limit for a note: choose the note's own file")

// ParseNote reads a note's file. What cannot be read at all is an error, worded
// for the person who opened it; a note from a newer version is read, kept whole
// and reported as a problem.
func ParseNote(data []byte) (*Note, []Problem, error) {
	if len(data) > MaxNote {
		return nil, nil, ErrTooLarge
	}
	tree, err := ReadObject(data)
	if err != nil {
		return nil, nil, err
	}
	format, _ := tree["format"].(string)
	name, version, _ := strings.Cut(format, "/")
	switch {
	case name != "fairlead-note":
		if format == "" {
			return nil, nil, errors.New(`this is JSON, but not a note: it has no "format" member saying "fairlead-note/1"; choose a note's file`)
		}
		return nil, nil, fmt.Errorf("this is JSON, but not a note: its format is %q; choose a note's file", clip(format))
	case version == "" || strings.Trim(version, "0123456789") != "" || strings.TrimLeft(version, "0") != version:
		return nil, nil, fmt.Errorf("the note's format %q names no version: expected %q", clip(format), Format)
	}
	n := &Note{tree: tree}
	kind, _ := tree["kind"].(string)
	if kind == "" {
		return nil, nil, errors.New(`the note does not say its kind: expected a member "kind" such as "stage1"`)
	}
	var problems []Problem
	if KindNamed(n.Kind()) == nil {
		if format == Format {
			return nil, nil, fmt.Errorf("the note's kind %q is not known: expected one of %s", clip(kind), kindList())
		}
	}
	if format != Format {
		problems = append(problems, Problem{Rule: "newer-format", Path: "format", Severity: Question,
			What: fmt.Sprintf("This note was written by a newer version (format %s; this program writes %s).", format, Format),
			Do:   "Update this program before you change the note. What it does not know is kept as it is."})
	}
	return n, problems, nil
}

func kindList() string {
	var names []string
	for _, k := range Kinds() {
		names = append(names, string(k.Kind))
	}
	return strings.Join(names, ", ")
}

// ReadObject reads one JSON object, numbers as they were written. Its errors say
// where in the text the fault lies and what to do.
func ReadObject(data []byte) (map[string]any, error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}), bytes.HasPrefix(data, []byte{0xFF, 0xFE}),
		len(data) > 1 && (data[0] == 0) != (data[1] == 0):
		return nil, errors.New("the file is in UTF-16: save it again as UTF-8")
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		data = data[3:]
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, errors.New("the file is empty")
	}
	if !utf8.Valid(data) {
		at := 0
		for at < len(data) {
			r, size := utf8.DecodeRune(data[at:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			at += size
		}
		return nil, fmt.Errorf("the file is not UTF-8 text (%s): save it again as UTF-8", place(data, at))
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var v any
	if err := dec.Decode(&v); err != nil {
		var syntax *json.SyntaxError
		if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
			return nil, fmt.Errorf("the file ends too early (%s): it was cut short; get it again from where it came", place(data, len(data)))
		}
		if errors.As(err, &syntax) {
			at := int(syntax.Offset) - 1
			if strings.Contains(err.Error(), "max depth") {
				return nil, fmt.Errorf("the file is nested deeper than any note (%s): choose a note's file", place(data, at))
			}
			return nil, fmt.Errorf("the file is not JSON (%s): %s does not belong there; get the file again from where it came", place(data, at), found(data, at))
		}
		return nil, fmt.Errorf("the file cannot be read as JSON: %w", err)
	}
	if rest := bytes.TrimSpace(data[dec.InputOffset():]); len(rest) > 0 {
		return nil, fmt.Errorf("the file has more after its end (%s): expected one JSON object alone", place(data, len(data)-len(rest)))
	}
	object, ok := v.(map[string]any)
	if !ok {
		return nil, errors.New("the file holds JSON, but not an object: expected it to begin with {")
	}
	if err := survey(data); err != nil {
		return nil, err
	}
	return object, nil
}

// found words what stands at an offset of a text that is not JSON.
func found(data []byte, at int) string {
	if at < 0 || at >= len(data) {
		return "its end"
	}
	r, _ := utf8.DecodeRune(data[at:])
	return fmt.Sprintf("%q", r)
}

// readable tells whether a number can be computed with here and in every other
// program: it fits a 64-bit float and is not absurdly long.
func readable(number string) bool {
	_, err := strconv.ParseFloat(number, 64)
	return err == nil && len(number) <= 64
}

// survey finds what a decoder would silently lose: a name that stands twice in
// one object, and a number too large or too long to be read the same everywhere.
func survey(data []byte) error {
	type level struct {
		names map[string]bool
		value bool // the next string is a value
	}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.UseNumber()
	var stack []level
	for {
		t, err := dec.Token()
		if err != nil {
			return nil // the end: the decoder before us read all of it
		}
		if num, ok := t.(json.Number); ok && !readable(string(num)) {
			return fmt.Errorf("the number %s (%s) is too large or too long to be read: correct it", clip(string(num)), place(data, int(dec.InputOffset())-len(num)))
		}
		top := len(stack) - 1
		inObject := top >= 0 && stack[top].names != nil
		if d, ok := t.(json.Delim); ok {
			switch d {
			case '{':
				stack = append(stack, level{names: map[string]bool{}})
			case '[':
				stack = append(stack, level{})
			default:
				stack = stack[:top]
				if top--; top >= 0 && stack[top].names != nil {
					stack[top].value = false
				}
			}
			continue
		}
		if !inObject {
			continue
		}
		if stack[top].value {
			stack[top].value = false
			continue
		}
		name := t.(string)
		if stack[top].names[name] {
			return fmt.Errorf("the file names %q twice in one object (%s), so one of the two would be lost: take one out", clip(name), place(data, int(dec.InputOffset())-1))
		}
		stack[top].names[name] = true
		stack[top].value = true
	}
}

// place words an offset as line and column.
func place(data []byte, offset int) string {
	offset = max(0, min(offset, len(data)))
	line := 1 + bytes.Count(data[:offset], []byte("\n"))
	column := 1 + utf8.RuneCount(data[bytes.LastIndexByte(data[:offset], '\n')+1:offset])
	return fmt.Sprintf("line %d, column %d", line, column)
}
