package schema

import (
	"cmp"
	"encoding/json"
	"strings"

	"fairlead/schema/sorting"
)

// Severity says what a problem stops.
type Severity int

const (
	// Missing is a wanted field without an answer: it stops a complete
	// signature, never the sheet.
	Missing Severity = iota
	// Question is something unusual: it wants an answer, which is kept.
	Question
	// Error is something that cannot be right: it stops a complete signature.
	Error
)

func (s Severity) String() string {
	return [...]string{"missing", "question", "error"}[s]
}

// MarshalText writes the severity as its word.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Problem is something found in a note. It is data, never a Go error.
type Problem struct {
	Rule     string   `json:"rule"`           // the rule's lasting id
	Path     Path     `json:"path"`           // where
	Severity Severity `json:"severity"`       // what it stops
	Section  string   `json:"section"`        // the section to open, or "items"
	What     string   `json:"what"`           // one sentence: what is wrong, and where
	Do       string   `json:"do"`             // one sentence: what to do
	Others   []Path   `json:"also,omitempty"` // the other places it speaks of
}

// Saw words the values a problem is about, so that an answer to it can be held to
// them: when one changes, the question is open again.
func (p Problem) Saw(n *Note) string {
	var b strings.Builder
	for i, at := range append([]Path{p.Path}, p.Others...) {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(string(at))
		b.WriteByte('=')
		if s := n.Stated(at); s != "" {
			b.WriteString(s)
		} else if v, ok := n.Value(at); ok {
			text, _ := json.Marshal(v)
			b.WriteString(n.Bound(at))
			b.Write(text)
		}
	}
	return b.String()
}

// SortProblems orders problems by severity, then place, then rule, so that the
// same note always gives the same list.
func SortProblems(ps []Problem) {
	sorting.By(ps, func(a, b Problem) int {
		return cmp.Or(-cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Path, b.Path),
			cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.What, b.What))
	})
}
