// Package sheet makes the handover sheet: what intensive care must know about
// one child after one operation, from the note and the record of what happened.
//
// The key type is [Sheet], the model of the page: the child, the state in one
// glance, blocks of lines, and which block stands on which page. It is made by a
// pure function, [Make]; nothing on it is absent from the record, and what is
// wanted and not recorded says so. [Sheet.Document] is the page as HTML,
// [Sheet.BlocksHTML] the same blocks for the app, package pdf prints it.
//
//	s := sheet.Make(sheet.Facts{Note: n, Profile: prof, At: now}, sheet.A4)
//	html := s.Document(css)
//
// Where a field stands is said by its definition (x-sheet); only the lines that
// weave several fields into one phrase are code.
package sheet

import (
	"strconv"
	"strings"
	"sync"

	"fairlead/handover/sheet/bodymap"
	"fairlead/handover/sheet/timeline"
	"fairlead/schema"
)

// Kind says what a span of words is, for the look and for the tests.
type Kind uint8

// The kinds of span.
const (
	Fixed    Kind = iota // the program's own words
	Label                // the title of a field
	Value                // what the record holds
	Strong               // what the record holds, to be seen first
	Stated               // an answer that is not a value: none, not known, not measured
	Missing              // not recorded
	Caution              // a caution
	Conflict             // two values that disagree, with their names
	Head                 // a heading inside a paragraph
)

// Span is words of one kind.
type Span struct {
	Words string
	Kind  Kind
}

// Line is one line of a block; it may run over several lines of the page.
type Line struct {
	Spans []Span
	Cells [][]Span // of a table, instead of Spans
	Loud  bool     // larger
	Frame bool     // set apart: a caution, a conflict
	Done  bool     // about what was done, among what matters at this stage

	Item   string         // the id of the item, in the list of what is left in
	Tag    int            // its tag
	Family bodymap.Family // the shape of its tag
	Checks []Span         // the bedside checks: on leaving, on arrival

	counted *metrics
	cells   []*metrics
}

// Form is how the lines of a block are set.
type Form uint8

// The forms of a block.
const (
	Listed  Form = iota // each line begins anew
	Running             // the lines follow one another, separated by a dot
	Table               // lines of cells under headings
	Items               // lines with tags
	Drawing             // the map
	Clock               // the times of support, drawn
	Boxes               // framed words side by side
)

// Block is one part of the sheet.
type Block struct {
	ID      string // lasting: the app replaces a block by it
	Title   string
	Form    Form
	Heads   []string // the headings of a table, or over the checks
	Widths  []int    // the shares of a table's columns
	Lines   []Line
	Map     *bodymap.Drawing
	Times   *timeline.Drawing
	Bare    bool // its title is there, and not shown
	Stays   bool // never moves to a continuation page
	Keep    int  // of the blocks that move, those with the lowest number go first
	Strip   int  // blocks of one strip above 0 stand side by side
	Right   bool // on the right of its strip
	Portion int  // which part this is of a block cut in two; 0 is the whole or the first

	counted *metrics // of the running text
	laid    bool     // measured, and its lines stay as they are
	heights []heightAt
}

// empty tells whether nothing stands in the block.
func (bl *Block) empty() bool { return len(bl.Lines) == 0 && bl.Map == nil && bl.Times == nil }

// Titled tells whether the title of the block is shown.
func (bl *Block) Titled() bool { return bl.Title != "" && bl.Form != Boxes && !bl.Bare }

// Heading is the title of the block, or of its part after a cut.
func (bl *Block) Heading() string {
	switch {
	case bl.Portion == 0:
		return bl.Title
	case bl.Portion == 1:
		return bl.Title + ", continued"
	}
	return bl.Title + ", continued (" + strconv.Itoa(bl.Portion+1) + ")"
}

// Banner is who the child is, on every page.
type Banner struct {
	Name      []Span
	Number    []Span   // number, birth, age and sex, beside the name
	Lines     [][]Span // the weights; the allergies
	Operation []Span   // on the first page alone
	Short     string   // SURNAME, Given and the number, for labels and file names
}

// Sheet is the model of the page.
type Sheet struct {
	Title  string
	Note   string // the id of the note
	Head   Banner
	Blocks []Block
	Pages  []Page
	Paper  Paper
	Foot   []Span // when and from what it was made, and the standing caution
}

// Block is the block of that id, or nil.
func (s *Sheet) Block(id string) *Block {
	for i := range s.Blocks {
		if s.Blocks[i].ID == id {
			return &s.Blocks[i]
		}
	}
	return nil
}

// take gives the sheet its blocks.
func (s *Sheet) take(blocks []*Block) {
	s.Blocks = make([]Block, len(blocks))
	for i, bl := range blocks {
		s.Blocks[i] = *bl
	}
}

// Text is all words of spans, one after another.
func Text(spans []Span) string {
	var b strings.Builder
	for _, s := range spans {
		b.WriteString(s.Words)
	}
	return b.String()
}

// words gathers spans.
type words []Span

func (w *words) add(k Kind, s string) {
	if s == "" {
		return
	}
	if *w == nil {
		*w = make(words, 0, 8) // few lines have less
	}
	*w = append(*w, Span{s, k})
}
func (w *words) fixed(s string)     { w.add(Fixed, s) }
func (w *words) label(s string)     { w.add(Label, s) }
func (w *words) value(s string)     { w.add(Value, s) }
func (w *words) strong(s string)    { w.add(Strong, s) }
func (w *words) missing()           { w.add(Missing, schema.NotRecorded) }
func (w *words) append(more []Span) { *w = append(*w, more...) }
func (w *words) sep(between string) {
	if len(*w) > 0 {
		w.fixed(between)
	}
}

// loud turns the values among spans into strong ones.
func loud(spans []Span) []Span {
	out := make([]Span, len(spans))
	for i, s := range spans {
		if s.Kind == Value {
			s.Kind = Strong
		}
		out[i] = s
	}
	return out
}

// low writes the first letter of a label small where it stands inside a line,
// unless it begins an abbreviation or a name of one letter.
func low(s string) string {
	if len(s) < 2 || s[0] < 'A' || s[0] > 'Z' || s[1] >= 'A' && s[1] <= 'Z' || s[1] == ' ' || s[1] == '-' {
		return s
	}
	loweredMu.Lock()
	defer loweredMu.Unlock()
	if small, ok := lowered[s]; ok {
		return small
	}
	small := string(s[0]+'a'-'A') + s[1:]
	for _, name := range names {
		if strings.HasPrefix(s, name) {
			small = s
		}
	}
	if len(s) < 80 { // the words of the definitions, of which there are so many and no more
		lowered[s] = small
	}
	return small
}

var (
	loweredMu sync.Mutex
	lowered   = map[string]string{}
)

// names keep their capital inside a line.
var names = []string{"Glenn", "Fontan", "Kawashima", "Norwood", "Damus", "Blalock", "French", "Ebstein", "Stage "}
