package dictation

import "fairlead/schema"

// Sure says how far a proposal may be trusted before a person looks at it.
type Sure string

const (
	// Certain is said plainly, once, with unit and place clear.
	Certain Sure = "sure"
	// Check wants a look: a unit left unsaid, "about", outside the usual range.
	Check Sure = "check"
	// Conflict is said two ways that cannot both hold; nothing is taken.
	Conflict Sure = "conflict"
)

// Span is a stretch of the text, in bytes; End is the byte after the last.
type Span struct {
	Start int `json:"start"`
	End   int `json:"end"`
}

// Proposal is one value that the text says should stand in the note.
type Proposal struct {
	// Path is the field's general path, as in the definitions.
	Path schema.Path `json:"path"`
	// Group ties together the values of one row or item; "" for a plain field.
	// It is the ID of one of the reading's groups.
	Group string `json:"group,omitempty"`
	// Value is a decimal, a word of the field's list, "true" or "false", a clock
	// time "09:42", or for a reference to an item "kind/variety" with "/side" if
	// said. It is "" where Stated is not.
	Value  string `json:"value,omitempty"`
	Stated string `json:"stated,omitempty"` // an answer that is not a value: none, unknown ...
	Bound  string `json:"bound,omitempty"`  // "<" or ">"
	Unit   string `json:"unit,omitempty"`   // UCUM, that of the field
	// Item is the group that a reference means, when the text lists the item.
	Item  string   `json:"item,omitempty"`
	Spans []Span   `json:"spans"` // where it is said; the first is the value
	Why   string   `json:"why"`   // the phrase it was read from
	Sure  Sure     `json:"sure"`
	Note  string   `json:"note,omitempty"`  // why it wants a look
	Other []string `json:"other,omitempty"` // the values it conflicts with

	leaving bool     // said of the state on leaving
	amends  bool     // it is said to put right what was said before
	denied  []string // values of its field that the same sentence denies
	twelve  bool     // a time of day that may be twelve hours later
}

// Group is one row of a list, or one item.
type Group struct {
	ID     string      `json:"id"`
	List   schema.Path `json:"list"`             // "support.runs", or "items"
	Kind   string      `json:"kind,omitempty"`   // the kind of item
	Tag    int         `json:"tag,omitempty"`    // the item's number, in order of listing
	Denied bool        `json:"denied,omitempty"` // said not to be there
	Spans  []Span      `json:"spans"`
	Why    string      `json:"why"`
	Sure   Sure        `json:"sure"`
	Note   string      `json:"note,omitempty"`
}

// Piece is a stretch of the text; the pieces in order are the whole text.
type Piece struct {
	Span
	// Proposals are the indices of the proposals read from it; none: narrative.
	Proposals []int `json:"proposals,omitempty"`
}
