package sheet

import (
	"fairlead/schema/profile"
	"strings"

	"fairlead/handover/sheet/bodymap"
	"fairlead/handover/sheet/timeline"
)

// The layout decides which block stands on which page, the same everywhere: it
// counts with the widths of one face and never asks a browser. Lengths are in
// millimetres, type sizes in points.

// Paper is a size of paper.
type Paper struct {
	Name          string
	Width, Height float64
}

// The papers.
var (
	A4     = Paper{"A4", 210, 297}
	Letter = Paper{"Letter", 215.9, 279.4}
)

// PaperNamed is the paper of that name, in small or large letters.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range []Paper{A4, Letter} {
		if strings.EqualFold(p.Name, name) {
			return p, true
		}
	}
	return Paper{}, false
}

// PaperOf is the paper the unit lays its sheets out on; nil is the shipped profile.
func PaperOf(prof *profile.Profile) Paper {
	if prof == nil {
		prof = profile.Default()
	}
	if name, _, ok := prof.Choice(profile.SheetPaper); ok {
		if p, ok := PaperNamed(name); ok {
			return p
		}
	}
	return A4
}

// The measures of the page, which the style sheet and the PDF repeat.
const (
	Margin   = 7.5  // mm, on every side
	Gutter   = 3.0  // mm, between columns
	BodySize = 9.0  // pt
	LoudSize = 9.3  // pt: what must be seen first
	NameSize = 15.0 // pt: the child's name
	BoxSize  = 9.0  // pt: the framed words
	HeadSize = 9.0  // pt: the banner's other lines
	TitleBar = 4.3  // mm: a block's title with its rule
	BlockGap = 1.3  // mm: after a block
	LineGap  = 0.3  // mm: after a line of a list
	FootBar  = 10.5 // mm: the foot of a page
	TagWidth = 7.0  // mm: the column of tags
	TickBox  = 9.6  // mm: one column of check answers
	CellPad  = 1.0  // mm

	mm      = 25.4 / 72
	leading = 1.2  // line height beside the size of the type
	slack   = 0.99 // of the page that is used, so that a wider face still fits
)

// LineHeight is the height of a line of type of that size, in mm.
func LineHeight(size float64) float64 { return size * leading * mm }

// Piece is a run of words of one kind on one line of the page, X mm from its
// beginning.
type Piece struct {
	Span
	X, Width float64
}

// Bold tells whether words of the kind are set bold.
func (k Kind) Bold() bool {
	return k == Strong || k == Caution || k == Conflict || k == Missing || k == Head
}

// Wrap breaks spans into lines no wider than width (mm) in type of that size
// (pt). A line is broken at a space alone, wherever one span ends and the next
// begins; a word that is wider than the line is broken anywhere.
func Wrap(spans []Span, width, size float64) [][]Piece {
	w := wrapper{width: width, size: size}
	for _, s := range spans {
		for rest := s.Words; rest != ""; {
			if rest[0] == ' ' {
				w.place() // what came before is a whole word
			}
			i := 0
			for i < len(rest) && rest[i] == ' ' {
				i++
			}
			for i < len(rest) && rest[i] != ' ' {
				i++
			}
			w.word = append(w.word, Span{rest[:i], s.Kind})
			rest = rest[i:]
		}
	}
	w.place()
	if len(w.line) > 0 || len(w.lines) == 0 {
		w.end()
	}
	return w.lines
}

// wrapper gathers a word, which may lie in several spans, and puts it on a line.
type wrapper struct {
	width, size float64
	lines       [][]Piece
	line        []Piece
	x           float64
	word        []Span
}

func (w *wrapper) measure(s Span) float64 { return TextWidth(s.Words, w.size, s.Kind.Bold()) * mm }

func (w *wrapper) end() {
	w.lines = append(w.lines, w.line)
	w.line, w.x = nil, 0
}

func (w *wrapper) place() {
	sum := 0.0
	for _, s := range w.word {
		sum += w.measure(s)
	}
	if w.x+sum > w.width && w.x > 0 {
		w.end()
		w.word[0].Words = strings.TrimLeft(w.word[0].Words, " ")
	}
	for _, s := range w.word {
		for long := w.measure(s); w.x+long > w.width; long = w.measure(s) {
			head, tail := cut(s.Words, w.width-w.x, w.size, s.Kind.Bold())
			if tail == "" {
				break
			}
			w.put(Span{head, s.Kind}, w.measure(Span{head, s.Kind}))
			w.end()
			s.Words = tail
		}
		if s.Words != "" {
			w.put(s, w.measure(s))
		}
	}
	w.word = w.word[:0]
}

func (w *wrapper) put(s Span, long float64) {
	if last := len(w.line) - 1; last >= 0 && w.line[last].Kind == s.Kind {
		w.line[last].Words += s.Words
		w.line[last].Width += long
	} else {
		w.line = append(w.line, Piece{s, w.x, long})
	}
	w.x += long
}

// metrics are the widths of the words of a paragraph in type of size 1, counted
// once: where the lines break at any width and size follows from them.
type metrics struct {
	spans []Span
	words []wordWidth
	total float64 // of all words
	most  float64 // the widest word without its spaces
}

// wordWidth is the width of a word with the spaces before it, and of those alone,
// in thousandths.
type wordWidth struct{ all, lead int32 }

func measure(spans []Span) *metrics { return new(measurer).measure(spans) }

// measurer measures paragraphs; what it finds of many lies side by side.
type measurer struct {
	all   []metrics
	words []wordWidth
	room  int // for words of how many to get at once
}

func (me *measurer) measure(spans []Span) *metrics {
	words := 1 // at most
	for _, s := range spans {
		words += strings.Count(s.Words, " ")
	}
	if cap(me.words)-len(me.words) < words {
		me.words = make([]wordWidth, 0, max(words, me.room))
	}
	from := len(me.words)
	word, open := wordWidth{}, false
	for _, s := range spans {
		widths := &plainWidths
		if s.Kind.Bold() {
			widths = &boldWidths
		}
		inSpace := false
		for _, r := range s.Words {
			w := int32(restWidth)
			if i := uint(r) - firstWidth; i < uint(len(widths)) {
				w = int32(widths[i])
			}
			if r != ' ' {
				inSpace = false
			} else {
				if open && !inSpace {
					me.words, word = append(me.words, word), wordWidth{}
				}
				inSpace = true
				word.lead += w
			}
			word.all += w
			open = true
		}
	}
	if open {
		me.words = append(me.words, word)
	}
	m := metrics{spans: spans, words: me.words[from:]}
	total, most := int32(0), int32(0)
	for _, w := range m.words {
		total += w.all
		most = max(most, w.all-w.lead)
	}
	m.total, m.most = float64(total)/1000, float64(most)/1000
	me.all = append(me.all, m)
	return &me.all[len(me.all)-1]
}

// lines is how many lines the paragraph takes.
func (m *metrics) lines(width, size float64) int {
	unit := size * mm
	if m.most*unit > width {
		return len(Wrap(m.spans, width, size)) // a word has to be cut
	}
	if m.total*unit < width-0.001 {
		return 1
	}
	n, x := 1, 0.0
	for _, w := range m.words {
		all := float64(w.all) / 1000
		if x+all*unit > width && x > 0 {
			n++
			x = (all - float64(w.lead)/1000) * unit
		} else {
			x += all * unit
		}
	}
	return n
}

// cut parts a word at the last letter that fits; at least one letter does.
func cut(word string, width, size float64, bold bool) (head, tail string) {
	sum := 0.0
	for i, r := range word {
		sum += TextWidth(string(r), size, bold) * mm
		if sum > width && i > 0 {
			return word[:i], word[i:]
		}
	}
	return word, ""
}

// Band is a strip of the page with one or more columns.
type Band struct {
	Columns []Column
}

// Column is blocks one under another; Share is its part of the width in
// hundredths.
type Column struct {
	Share  int
	Blocks []*Block
}

// Page is one page.
type Page struct {
	Bands    []Band
	Overleaf []string // the titles of what stands on later pages, on the first page
	Cut      []string // what must stand on the first page and found no room on it
	Height   float64  // of the bands, as counted
}

// Width is the width between the margins.
func (p Paper) width() float64 { return p.Width - 2*Margin }

// room is the height between banner and foot.
func (s *Sheet) room() float64 {
	return (s.Paper.Height-2*Margin-FootBar)*slack - HeadHeight(s.Head, s.Paper.width())
}

// HeadHeight is the height of the banner.
func HeadHeight(h Banner, width float64) float64 {
	height := func(spans []Span, size float64) float64 {
		return float64(measure(spans).lines(width-4, size)) * LineHeight(size)
	}
	sum := height(h.Name, NameSize)
	if !h.OneRow(width) {
		sum += height(h.Number, HeadSize)
	}
	for _, l := range h.Lines {
		sum += height(l, HeadSize)
	}
	return sum + height(h.Operation, HeadSize) + 2.4
}

// OneRow tells whether the name and the number stand on one line of the banner.
func (h Banner) OneRow(width float64) bool {
	sum := 8.0
	for _, s := range h.Name {
		sum += TextWidth(s.Words, NameSize, true) * mm
	}
	for _, s := range h.Number {
		sum += TextWidth(s.Words, HeadSize, true) * mm
	}
	return sum <= width
}

// ColumnWidth is the width of a column in a band of that width.
func (b Band) ColumnWidth(i int, width float64) float64 {
	return (width - Gutter*float64(len(b.Columns)-1)) * float64(b.Columns[i].Share) / 100
}

func (b Band) height(width float64) float64 {
	most := 0.0
	for i, c := range b.Columns {
		sum := 0.0
		for _, bl := range c.Blocks {
			sum += bl.Height(b.ColumnWidth(i, width))
		}
		most = max(most, sum)
	}
	return most
}

// Joined is a running block's spans as they follow one another, and the lines
// that are set apart after them.
func (bl *Block) Joined() (run []Span, apart []Line) {
	long := 0
	for i := range bl.Lines {
		long += 1 + len(bl.Lines[i].Spans)
	}
	run = make([]Span, 0, long)
	for _, l := range bl.Lines {
		if l.Frame {
			apart = append(apart, l)
			continue
		}
		if len(run) > 0 {
			run = append(run, Span{" · ", Fixed})
		}
		run = append(run, l.Spans...)
	}
	return run, apart
}

// Height is the height of a block in a column of that width.
func (bl *Block) Height(width float64) float64 {
	for _, h := range bl.heights {
		if h.width == width {
			return h.height
		}
	}
	h := bl.height(width)
	if bl.laid {
		bl.heights = append(bl.heights, heightAt{width, h})
	}
	return h
}

// heightAt is how high a block is in a column of a width.
type heightAt struct{ width, height float64 }

func (bl *Block) height(width float64) float64 {
	sum := BlockGap
	if bl.Titled() {
		sum += TitleBar
	}
	switch bl.Form {
	case Boxes:
		return sum + float64(len(bl.BoxRows(width)))*BoxHeight
	case Drawing:
		sum += MapHeight(width)
	case Clock:
		sum += ClockHeight(bl.Times, width)
	case Running:
		m := bl.counted
		if m == nil {
			run, _ := bl.Joined()
			m = measure(run)
		}
		if len(m.words) > 0 {
			sum += float64(m.lines(width, BodySize)) * LineHeight(BodySize)
		}
		for i := range bl.Lines {
			if l := &bl.Lines[i]; l.Frame {
				sum += l.height(width)
			}
		}
		return sum
	case Table:
		sum += LineHeight(BodySize)
	}
	for i := range bl.Lines {
		sum += bl.LineHeight(&bl.Lines[i], width)
	}
	return sum
}

// LineHeight is the height of one line of the block, which may wrap.
func (bl *Block) LineHeight(l *Line, width float64) float64 {
	switch {
	case bl.Form == Table && l.Cells != nil:
		most := 0
		for i, c := range l.Cells {
			most = max(most, l.cell(i, c).lines(bl.CellWidth(i, width), BodySize))
		}
		return float64(most)*LineHeight(BodySize) + LineGap
	case bl.Form == Items && l.Item != "":
		n := l.measured().lines(bl.ItemWidth(width), BodySize)
		for _, c := range l.Checks {
			if c.Words != tick {
				n = max(n, measure([]Span{c}).lines(TickBox-CellPad, checkSize))
			}
		}
		return max(float64(n)*LineHeight(BodySize), TagHeight) + LineGap
	}
	return l.height(width)
}

// TagHeight is the height of a tag in the list.
const TagHeight = 3.7

// ItemWidth is the width of the words of an item.
func (bl *Block) ItemWidth(width float64) float64 {
	w := width - TagWidth
	if bl.checked() {
		w -= 2 * TickBox
	}
	return w
}

// checked tells whether the list has columns for the bedside checks.
func (bl *Block) checked() bool { return len(bl.Heads) > 0 }

// CellWidth is the width of the words in column i of a table.
func (bl *Block) CellWidth(i int, width float64) float64 {
	total := 0
	for _, w := range bl.Widths {
		total += w
	}
	return width*float64(bl.Widths[i])/float64(total) - 2*CellPad
}

func (l *Line) height(width float64) float64 {
	size := BodySize
	if l.Loud {
		size = LoudSize
	}
	h := LineGap
	if l.Frame {
		width -= FramePad * 2
		h += FramePad
	}
	return h + float64(l.measured().lines(width, size))*LineHeight(size)
}

// measured are the metrics of the line, counted when it was built or now.
func (l *Line) measured() *metrics {
	if l.counted != nil {
		return l.counted
	}
	return measure(l.Spans)
}

func (l *Line) cell(i int, c []Span) *metrics {
	if i < len(l.cells) {
		return l.cells[i]
	}
	return measure(c)
}

// count measures every paragraph of the block once, before it is laid out.
func (bl *Block) count() {
	n := len(bl.Lines)
	me := measurer{all: make([]metrics, 0, n+1), room: min(256, 16*n)}
	for i := range bl.Lines {
		l := &bl.Lines[i]
		switch {
		case l.Cells != nil:
			l.cells = make([]*metrics, len(l.Cells))
			for j, c := range l.Cells {
				l.cells[j] = me.measure(c)
			}
		case l.Frame || bl.Form != Running && bl.Form != Boxes:
			l.counted = me.measure(l.Spans)
		}
	}
	bl.laid, bl.heights = true, make([]heightAt, 0, 4)
	if bl.Form == Running {
		run, _ := bl.Joined()
		bl.counted = me.measure(run)
	}
}

// checkSize is the size of the type of the check answers.
const checkSize = BodySize * 0.85

// FramePad is the room between the words and the rule of a line set apart.
const FramePad = 1.5

// BoxHeight is the height of a framed word with the room round it.
const BoxHeight = 5.4

// BoxGap is the room between two framed words.
const BoxGap = 1.0

// BoxWidth is the width of a framed word.
func BoxWidth(l *Line) float64 {
	sum := 2.3
	for _, s := range l.Spans {
		sum += TextWidth(s.Words, BoxSize, true) * mm
	}
	return sum
}

// BoxRows puts the boxes into rows.
func (bl *Block) BoxRows(width float64) [][]Line {
	var rows [][]Line
	x := 0.0
	for _, l := range bl.Lines {
		w := BoxWidth(&l)
		if len(rows) == 0 || x+w > width {
			rows = append(rows, nil)
			x = 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], l)
		x += w + BoxGap
	}
	return rows
}

// ClockHeight is the height of the drawn times in a column of that width.
func ClockHeight(d *timeline.Drawing, width float64) float64 {
	if d == nil {
		return 0
	}
	return min(width, clockMost) * d.Height / d.Width
}

// clockMost is the greatest width of the drawn times, mm.
const clockMost = 110

// MapHeight is the height of the map in a column of that width.
func MapHeight(width float64) float64 { return width * bodymap.Height / bodymap.Width }
