package ledger

import (
	"bytes"
	"encoding/json"
	"unicode/utf8"

	"fairlead/schema"
)

// Canonical writes an event so that two of them say the same exactly if the text
// is the same: members sorted, spaces gone, texts as encoding/json writes them,
// numbers as they stand.
func Canonical(e Event) (string, error) {
	if len(e.more) > 0 || !bareBody(e.Body) || !utf8.ValidString(e.Author.Name) || !utf8.ValidString(e.Author.Role) || !utf8.ValidString(e.Kind) {
		return canonical(e)
	}
	b, err := json.Marshal(sorted{e.Action, sortedAuthor(e.Author), e.Body, e.Case, e.Clock, e.Entered, e.Happened, e.ID, e.Kind, e.Note, e.Undoes, e.V, e.Writer})
	return string(b), err
}

// sorted is wire with its members in order of their names.
type sorted struct {
	Action   EventID         `json:"action,omitempty"`
	Author   sortedAuthor    `json:"author"`
	Body     json.RawMessage `json:"body"`
	Case     CaseID          `json:"case"`
	Clock    Clock           `json:"clock"`
	Entered  schema.Moment   `json:"entered"`
	Happened schema.Moment   `json:"happened"`
	ID       EventID         `json:"id"`
	Kind     string          `json:"kind"`
	Note     NoteID          `json:"note,omitempty"`
	Undoes   EventID         `json:"undoes,omitempty"`
	V        int             `json:"v"`
	Writer   WriterID        `json:"writer"`
}

type sortedAuthor struct {
	Name string `json:"name"`
	Role string `json:"role,omitempty"`
}

// bareBody tells whether valid JSON is an object that is canonical as it stands:
// no spaces, no escapes, nothing that would be escaped, and members in order of
// their names, each once. It may say no of one that is.
func bareBody(b []byte) bool {
	if len(b) == 0 || b[0] != '{' {
		return false
	}
	for _, c := range b {
		if c <= ' ' && c != ' ' || c == '\\' || c == '<' || c == '>' || c == '&' || c >= 0x80 {
			return false
		}
	}
	rest, ok := bareValue(b, 0)
	return ok && len(rest) == 0
}

func bareValue(b []byte, depth int) (rest []byte, ok bool) {
	if len(b) == 0 || depth > 20 {
		return nil, false
	}
	switch b[0] {
	case '{', '[':
		object := b[0] == '{'
		end := byte(']')
		if object {
			end = '}'
		}
		if b = b[1:]; len(b) > 0 && b[0] == end {
			return b[1:], true
		}
		var last []byte
		for first := true; ; first = false {
			if object {
				name, after, ok := bareText(b)
				if !ok || len(after) == 0 || after[0] != ':' || !first && bytes.Compare(name, last) <= 0 {
					return nil, false
				}
				last, b = name, after[1:]
			}
			if b, ok = bareValue(b, depth+1); !ok || len(b) == 0 {
				return nil, false
			}
			switch b[0] {
			case end:
				return b[1:], true
			case ',':
				b = b[1:]
			default:
				return nil, false
			}
		}
	case '"':
		_, rest, ok = bareText(b)
		return rest, ok
	case ' ':
		return nil, false
	}
	n := 0
	for n < len(b) && b[n] != ',' && b[n] != '}' && b[n] != ']' {
		if b[n] == ' ' {
			return nil, false
		}
		n++
	}
	return b[n:], n > 0
}

func bareText(b []byte) (text, rest []byte, ok bool) {
	if len(b) == 0 || b[0] != '"' {
		return nil, nil, false
	}
	end := bytes.IndexByte(b[1:], '"')
	if end < 0 {
		return nil, nil, false
	}
	return b[1 : 1+end], b[2+end:], true
}
