package sheet

import (
	"strconv"
	"strings"

	"fairlead/handover/lines"
	"fairlead/handover/sheet/bodymap"
	"fairlead/handover/sheet/page"
	"fairlead/schema"
)

// Flag is one label: it is folded round its line, so that both halves show the
// same words.
type Flag struct {
	Tag    int
	Family bodymap.Family
	Name   string // the item's short name
	Child  string // number, SURNAME and given name: a twin has the same surname
}

// Labels are the flags of one child's items, by tag. Items that stay inside for
// good get none.
type Labels struct {
	Paper Paper
	Child string
	Flags []Flag
	Foot  string
}

// The measures of a label in mm, which the style sheet and the PDF repeat.
const (
	LabelWidth  = 92.0
	LabelHeight = 14.0
	LabelFold   = 14.0 // the part that lies round the line
	LabelGapX   = 4.0
	LabelGapY   = 2.0
)

// LabelsFor makes the strip of labels for what is in the child.
func LabelsFor(f Facts, paper Paper) *Labels {
	b := bareBuilder(f)
	surname := strings.ToUpper(f.Note.Text(schema.ChildSurname))
	if surname == "" {
		surname = "SURNAME NOT RECORDED"
	}
	number := f.Note.Text(schema.ChildHospitalNumber)
	if number == "" {
		number = "number not recorded"
	}
	given := f.Note.Text(schema.ChildGivenName)
	if given == "" && f.Note.Text(schema.ChildBabyOf) != "" {
		given = "baby of " + f.Note.Text(schema.ChildBabyOf)
	}
	if given != "" {
		surname += ", " + given
	}
	l := &Labels{Paper: paper, Child: number + " · " + surname, Foot: "Tag labels, made " + f.At.Shown() + "."}
	for _, it := range b.still() {
		if !lines.Checked(it) {
			continue
		}
		l.Flags = append(l.Flags, Flag{Tag: it.Tag, Family: Family(it), Name: lines.Name(it), Child: l.Child})
	}
	return l
}

// PerPage is how many labels a page holds, in two columns.
func (l *Labels) PerPage() int {
	rows := int((l.Paper.Height - 2*Margin - 8 + LabelGapY) / (LabelHeight + LabelGapY))
	return 2 * rows
}

// PagesOf parts the flags into pages; there is at least one.
func (l *Labels) PagesOf() [][]Flag {
	var out [][]Flag
	rest := l.Flags
	for len(rest) > l.PerPage() {
		out = append(out, rest[:l.PerPage()])
		rest = rest[l.PerPage():]
	}
	return append(out, rest)
}

// Document is the labels as a whole HTML document.
func (l *Labels) Document(css string) string {
	return document("Tag labels · "+l.Child, "Tag labels", css, l.write)
}

// HTML is the labels as one block, for a page that holds more.
func (l *Labels) HTML() string {
	b := new(page.Builder)
	l.write(b)
	return b.String()
}

func (l *Labels) write(b *page.Builder) {
	b.Open("div", page.Class("labels label-"+strings.ToLower(l.Paper.Name)))
	for _, flags := range l.PagesOf() {
		b.Open("div", page.Class("label-page"))
		if len(flags) == 0 {
			b.El("p", "No item is listed.")
		}
		for _, f := range flags {
			b.Open("div", page.Class("label"))
			f.write(b)
			b.El("div", "round the line", page.Class("label-fold"), page.Hidden())
			f.write(b)
			b.Close()
		}
		b.El("p", l.Foot, page.Class("label-foot"))
		b.Close()
	}
	b.Close()
}

func (f Flag) write(b *page.Builder) {
	b.Open("div", page.Class("label-flag"))
	b.El("span", strconv.Itoa(f.Tag), page.Class("sheet-tag sheet-tag-"+string(f.Family)))
	b.Open("div")
	b.El("span", f.Child, page.Class("label-child"))
	b.Open("b")
	b.Words(f.Name)
	b.Close()
	b.Close()
	b.Close()
}
