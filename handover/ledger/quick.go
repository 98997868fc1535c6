package ledger

import (
	"encoding/json"
	"strings"

	"fairlead/schema"
)

// quick reads a body as this program writes it: an object whose members are plain
// texts, lists of them, or such objects. At anything else it gives up, and
// encoding/json reads the body: what is accepted is the same either way.
type quick struct {
	rest   string
	first  bool // no member of the object was read yet
	failed bool
}

// open begins an object.
func (q *quick) open() bool {
	if !strings.HasPrefix(q.rest, "{") {
		q.failed = true
		return false
	}
	q.rest, q.first = q.rest[1:], true
	return true
}

// member is the name of the next member; ok is false at the end of the object.
func (q *quick) member() (name string, ok bool) {
	if q.failed || q.rest == "" {
		q.failed = true
		return "", false
	}
	switch c := q.rest[0]; {
	case c == '}':
		q.rest, q.first = q.rest[1:], false // the object around it has this member
		return "", false
	case (c == ',') == q.first:
		q.failed = true
		return "", false
	case c == ',':
		q.rest = q.rest[1:]
	}
	q.first = false
	name = q.text()
	if !strings.HasPrefix(q.rest, ":") {
		q.failed = true
		return "", false
	}
	q.rest = q.rest[1:]
	return name, !q.failed
}

// text is a plain text: no escapes, nothing beyond ASCII.
func (q *quick) text() string {
	if !strings.HasPrefix(q.rest, `"`) {
		q.failed = true
		return ""
	}
	for i := 1; i < len(q.rest); i++ {
		switch c := q.rest[i]; {
		case c == '"':
			text := q.rest[1:i]
			q.rest = q.rest[i+1:]
			return text
		case c < ' ' || c == '\\' || c >= 0x80:
			q.failed = true
			return ""
		}
	}
	q.failed = true
	return ""
}

// ids is a list of identifiers.
func (q *quick) ids() (out []EventID) {
	if !strings.HasPrefix(q.rest, `["`) {
		q.failed = true
		return nil
	}
	for !q.failed && q.rest[0] != ']' {
		q.rest = q.rest[1:]
		out = append(out, EventID(q.text()))
		if q.rest == "" || q.rest[0] != ',' && q.rest[0] != ']' {
			q.failed = true
		}
	}
	if !q.failed {
		q.rest = q.rest[1:]
	}
	return out
}

// membered is an object of plain texts, by name.
type membered interface{ textOf(name string) *string }

// fill reads an object of plain texts.
func (q *quick) fill(into membered) {
	if !q.open() {
		return
	}
	for name, ok := q.member(); ok; name, ok = q.member() {
		at := into.textOf(name)
		if at == nil {
			q.failed = true
			return
		}
		*at = q.text()
	}
}

func (o *Output) textOf(name string) *string {
	switch name {
	case "total":
		return &o.Total
	case "volume":
		return &o.Volume
	case "minutes":
		return &o.Minutes
	case "emptied":
		return &o.Emptied
	case "changed":
		return &o.Changed
	case "begins":
		return &o.Begins
	case "colour":
		return &o.Colour
	case "swing":
		return &o.Swing
	case "bubbling":
		return &o.Bubbling
	case "drainage":
		return &o.Drainage
	case "suction":
		return &o.Suction
	case "milked":
		return &o.Milked
	}
	return nil
}

func (p *Pressure) textOf(name string) *string {
	switch name {
	case "systolic":
		return &p.Systolic
	case "diastolic":
		return &p.Diastolic
	case "mean":
		return &p.Mean
	case "zeroed":
		return &p.Zeroed
	case "trace":
		return &p.Trace
	}
	return nil
}

func (t *WireTest) textOf(name string) *string {
	switch name {
	case "threshold":
		return &t.Threshold
	case "sensing":
		return &t.Sensing
	case "rhythm":
		return &t.Rhythm
	case "connection":
		return &t.Connection
	}
	return nil // the rest is rare
}

func (b *registered) textOf(name string) *string {
	switch name {
	case "item":
		return (*string)(&b.Item)
	case "complete":
		return &b.Complete
	case "tipSeen":
		return &b.TipSeen
	case "bleeding":
		return &b.Bleeding
	case "to":
		return &b.To
	case "answer":
		return (*string)(&b.Answer)
	case "note":
		return &b.Note
	case "problem":
		return &b.Problem
	case "lumen":
		return &b.Lumen
	case "runs":
		return &b.Runs
	case "needed":
		return (*string)(&b.Needed)
	case "why":
		return &b.Why
	case "round":
		return (*string)(&b.Round)
	}
	return nil
}

// readRegistered reads the body of a register event.
func readRegistered(body json.RawMessage) (*registered, error) {
	q, b := quick{rest: string(body)}, new(registered)
	q.open()
	for name, ok := q.member(); ok; name, ok = q.member() {
		switch name {
		case "output":
			b.Output = new(Output)
			q.fill(b.Output)
		case "pressure":
			b.Pressure = new(Pressure)
			q.fill(b.Pressure)
		case "test":
			b.Test = new(WireTest)
			q.fill(b.Test)
		default:
			if at := b.textOf(name); at != nil {
				*at = q.text()
			} else {
				q.failed = true
			}
		}
	}
	if !q.failed && q.rest == "" {
		return b, nil
	}
	b = new(registered)
	return b, json.Unmarshal(body, b)
}

// quickFieldSet reads the body of a value that was set; ok is false if it is to be
// read by encoding/json.
func quickFieldSet(body json.RawMessage) (f fieldSet, ok bool) {
	q := quick{rest: string(body)}
	q.open()
	for name, more := q.member(); more; name, more = q.member() {
		switch name {
		case "path":
			f.Path = schema.Path(q.text())
		case "value":
			at := len(body) - len(q.rest)
			q.text()
			if !q.failed {
				f.Value = body[at : len(body)-len(q.rest)]
			}
		case "decimal":
			f.Decimal = q.text()
		case "stated":
			f.Stated = q.text()
		case "bound":
			f.Bound = q.text()
		case "typed":
			f.Typed = q.text()
		case "unit":
			f.Unit = q.text()
		case "origin":
			f.Origin = new(Origin)
			q.fill(f.Origin)
		case "replaces":
			f.Replaces = q.ids()
		default:
			q.failed = true
		}
	}
	return f, !q.failed && q.rest == ""
}

func (o *Origin) textOf(name string) *string {
	switch name {
	case "how":
		return &o.How
	case "words":
		return &o.Words
	}
	return nil
}
