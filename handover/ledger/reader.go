package ledger

import (
	"bytes"
	"encoding/json"
	"strconv"

	"fairlead/schema"
)

// Reader reads many events that were written by MarshalJSON and are known to be
// unchanged, because the store that held them says so: it does not judge them
// again. What it does not find exactly as MarshalJSON writes it, it leaves to
// UnmarshalJSON. Reading this way is some ten times as fast, which is what opening
// a child's record takes. A Reader is not safe for concurrent use.
type Reader struct {
	words   map[string]string
	moments map[string]schema.Moment
}

// Read reads one event. The event keeps b.
func (r *Reader) Read(b []byte) (Event, error) {
	if r.words == nil {
		r.words, r.moments = map[string]string{}, map[string]schema.Moment{}
	}
	if e, ok := r.quick(b); ok {
		return e, nil
	}
	var e Event
	err := json.Unmarshal(b, &e)
	return e, err
}

// quick reads the members in the order in which they are written, as long as no
// text holds an escape and no member is unknown.
func (r *Reader) quick(b []byte) (e Event, ok bool) {
	s := scan{rest: b, ok: true}
	e.ID = EventID(s.text(`{"id":`))
	e.Case = CaseID(r.word(s.text(`,"case":`)))
	if s.has(`,"note":`) {
		e.Note = NoteID(r.word(s.text(`,"note":`)))
	}
	e.Writer = WriterID(r.word(s.text(`,"writer":`)))
	e.Clock = Clock(s.text(`,"clock":`))
	e.Author.Name = r.word(s.text(`,"author":{"name":`))
	if s.has(`,"role":`) {
		e.Author.Role = r.word(s.text(`,"role":`))
	}
	e.Happened = r.moment(&s, s.text(`},"happened":`))
	e.Entered = r.moment(&s, s.text(`,"entered":`))
	if s.has(`,"action":`) {
		e.Action = EventID(s.text(`,"action":`))
	}
	if s.has(`,"undoes":`) {
		e.Undoes = EventID(s.text(`,"undoes":`))
	}
	e.Kind = r.word(s.text(`,"kind":`))
	e.V = s.number(`,"v":`)
	e.Body = s.object(`,"body":`)
	return e, s.ok && len(s.rest) == 1 && s.rest[0] == '}'
}

// word is the text, the same string for the same letters.
func (r *Reader) word(b []byte) string {
	w, ok := r.words[string(b)]
	if !ok {
		w = string(b)
		r.words[w] = w
	}
	return w
}

func (r *Reader) moment(s *scan, b []byte) schema.Moment {
	m, ok := r.moments[string(b)]
	if !ok && s.ok {
		var err error
		if m, err = schema.ParseMoment(string(b)); err != nil {
			s.ok = false
			return m
		}
		r.moments[string(b)] = m
	}
	return m
}

// scan walks along JSON as this program writes it. Once something is not as
// expected, ok is false for good.
type scan struct {
	rest []byte
	ok   bool
}

func (s *scan) has(name string) bool {
	return s.ok && len(s.rest) >= len(name) && string(s.rest[:len(name)]) == name
}

func (s *scan) skip(name string) bool {
	s.ok = s.has(name)
	if s.ok {
		s.rest = s.rest[len(name):]
	}
	return s.ok
}

// text is the string after a name, without its quotes.
func (s *scan) text(name string) []byte {
	if !s.skip(name) || !s.skip(`"`) {
		return nil
	}
	end := bytes.IndexByte(s.rest, '"')
	if end < 0 || bytes.IndexByte(s.rest[:end], '\\') >= 0 {
		s.ok = false
		return nil
	}
	text := s.rest[:end]
	s.rest = s.rest[end+1:]
	return text
}

func (s *scan) number(name string) int {
	if !s.skip(name) {
		return 0
	}
	end := 0
	for end < len(s.rest) && s.rest[end] >= '0' && s.rest[end] <= '9' {
		end++
	}
	n, err := strconv.Atoi(string(s.rest[:end]))
	s.ok = err == nil
	s.rest = s.rest[end:]
	return n
}

// object is the object after a name, as it stands.
func (s *scan) object(name string) json.RawMessage {
	if !s.skip(name) || len(s.rest) == 0 || s.rest[0] != '{' {
		s.ok = false
		return nil
	}
	depth, inText := 0, false
	for i := 0; i < len(s.rest); i++ {
		switch c := s.rest[i]; {
		case inText && c == '\\':
			i++
		case c == '"':
			inText = !inText
		case inText:
		case c == '{':
			depth++
		case c == '}':
			if depth--; depth == 0 {
				object := s.rest[: i+1 : i+1]
				s.rest = s.rest[i+1:]
				return json.RawMessage(object)
			}
		}
	}
	s.ok = false
	return nil
}
