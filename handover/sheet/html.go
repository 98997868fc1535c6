package sheet

import (
	"strconv"
	"strings"

	"fairlead/handover/sheet/page"
)

// BlockHTML is one part of the sheet for the app, which replaces it by its id
// when it changes.
type BlockHTML struct {
	ID   string // the element's id: "sheet-worries"
	HTML string // the whole element, escaped by construction
}

// BlocksHTML are the banner, the blocks in their order and the foot.
func (s *Sheet) BlocksHTML() []BlockHTML {
	out := make([]BlockHTML, 0, len(s.Blocks)+2)
	var b page.Builder
	b.Grow(128 << 10)
	s.writeHead(&b, true)
	out = append(out, taken("head", &b))
	for i := range s.Blocks {
		s.Blocks[i].write(&b)
		out = append(out, taken(s.Blocks[i].ID, &b))
	}
	s.writeFoot(&b, nil, 0, 0)
	return append(out, taken("foot", &b))
}

// taken is what was written since the last, as the part of that name.
func taken(name string, b *page.Builder) BlockHTML {
	return BlockHTML{"sheet-" + name, b.Cut()}
}

// PagesHTML is the sheet page by page, for printing, as one element.
func (s *Sheet) PagesHTML() string {
	var b page.Builder
	b.Grow(128 << 10)
	s.writePages(&b)
	return b.String()
}

// Document is the sheet as a whole HTML document with its style sheet inside: it
// asks for nothing from anywhere.
func (s *Sheet) Document(css string) string {
	return document(s.Title+" · "+s.Head.Short, s.Title, css, s.writePages)
}

func document(title, heading, css string, body func(*page.Builder)) string {
	var b page.Builder
	b.Grow(128<<10 + len(css))
	b.Doctype()
	b.Open("html", page.Lang("en"))
	b.Open("head")
	b.Void("meta", page.Charset())
	b.Void("meta", page.Meta("viewport", "width=device-width, initial-scale=1")...)
	b.Void("meta", page.Meta("robots", "noindex")...)
	b.El("title", title)
	b.Sheet(css)
	b.Close()
	b.Open("body", page.Class("sheet-body"))
	b.Open("main")
	b.El("h1", heading, page.Class("sheet-unseen"))
	body(&b)
	b.Close()
	b.Close()
	b.Close()
	return b.String() + "\n"
}

func (s *Sheet) writePages(b *page.Builder) {
	b.Open("div", page.Class("sheet sheet-"+strings.ToLower(s.Paper.Name)))
	for i, p := range s.Pages {
		b.Open("section", page.Class("sheet-page"), page.Label("Page "+strconv.Itoa(i+1)+" of "+strconv.Itoa(len(s.Pages))))
		s.writeHead(b, i == 0)
		for _, band := range p.Bands {
			class := "sheet-band"
			if len(band.Columns) > 1 {
				class += " sheet-two sheet-share-" + strconv.Itoa(band.Columns[0].Share)
			}
			b.Open("div", page.Class(class))
			for _, c := range band.Columns {
				b.Open("div", page.Class("sheet-column"))
				for _, bl := range c.Blocks {
					bl.write(b)
				}
				b.Close()
			}
			b.Close()
		}
		s.writeFoot(b, p.Overleaf, i+1, len(s.Pages))
		b.Close()
	}
	b.Close()
}

func (s *Sheet) writeHead(b *page.Builder, first bool) {
	attrs := []page.Attr{page.Class("sheet-head")}
	if first {
		attrs = append(attrs, page.ID("sheet-head"))
	}
	b.Open("header", attrs...)
	b.Open("div", page.Class("sheet-who"))
	b.Open("p", page.Class("sheet-name"))
	spans(b, s.Head.Name)
	b.Close()
	b.Open("p")
	spans(b, s.Head.Number)
	b.Close()
	b.Close()
	for _, l := range s.Head.Lines {
		b.Open("p")
		spans(b, l)
		b.Close()
	}
	if first {
		b.Open("p")
		spans(b, s.Head.Operation)
		b.Close()
	}
	b.Close()
}

func (s *Sheet) writeFoot(b *page.Builder, overleaf []string, number, of int) {
	attrs := []page.Attr{page.Class("sheet-foot")}
	if number <= 1 {
		attrs = append(attrs, page.ID("sheet-foot"))
	}
	b.Open("footer", attrs...)
	if len(overleaf) > 0 {
		b.Open("p", page.Class("sheet-overleaf"))
		b.Fixed("Continues overleaf: ")
		b.Text(strings.Join(overleaf, "; "))
		b.Close()
	}
	b.Open("p")
	spans(b, s.Foot)
	if of > 0 {
		b.Text(" Page " + strconv.Itoa(number) + " of " + strconv.Itoa(of) + ".")
	}
	b.Close()
	b.Close()
}

// write is one block as one element.
func (bl *Block) write(b *page.Builder) {
	id := "sheet-" + bl.ID
	title := bl.Heading()
	if bl.Portion > 0 {
		id += "-" + strconv.Itoa(bl.Portion+1)
	}
	b.Open("section", page.Class("sheet-block sheet-"+bl.ID), page.ID(id), page.LabelledBy(id+"-title"))
	class := "sheet-title"
	if !bl.Titled() {
		class = "sheet-unseen"
	}
	b.El("h2", title, page.ID(id+"-title"), page.Class(class))
	switch bl.Form {
	case Boxes:
		b.Open("ul", page.Class("sheet-boxes"))
		for _, l := range bl.Lines {
			class := "sheet-box"
			if l.Loud {
				class += " sheet-alarm"
			}
			b.Open("li", page.Class(class))
			spans(b, l.Spans)
			b.Close()
		}
		b.Close()
	case Drawing:
		if bl.Map != nil {
			bl.Map.SVG(b)
		}
		bl.writeLines(b, bl.Lines)
	case Clock:
		if bl.Times != nil {
			bl.Times.SVG(b)
		}
	case Running:
		run, apart := bl.Joined()
		if len(run) > 0 {
			b.Open("p", page.Class("sheet-run"))
			spans(b, run)
			b.Close()
		}
		bl.writeLines(b, apart)
	case Table:
		bl.writeTable(b)
	case Items:
		bl.writeItems(b)
	default:
		bl.writeLines(b, bl.Lines)
	}
	b.Close()
}

func (bl *Block) writeLines(b *page.Builder, lines []Line) {
	for i := range lines {
		b.Open("p", page.Class(lines[i].class()))
		spans(b, lines[i].Spans)
		b.Close()
	}
}

func (l *Line) class() string {
	switch {
	case l.Loud && l.Frame:
		return "sheet-line sheet-loud sheet-frame"
	case l.Loud:
		return "sheet-line sheet-loud"
	case l.Frame:
		return "sheet-line sheet-frame"
	}
	return "sheet-line"
}

func (bl *Block) writeTable(b *page.Builder) {
	b.Open("table", page.Class("sheet-table"))
	b.Open("thead")
	b.Open("tr")
	for _, h := range bl.Heads {
		b.El("th", h, page.Scope("col"))
	}
	b.Close()
	b.Close()
	b.Open("tbody")
	for _, l := range bl.Lines {
		b.Open("tr")
		if l.Cells == nil {
			b.Open("td", page.Span(len(bl.Heads)))
			spans(b, l.Spans)
			b.Close()
		}
		for i, c := range l.Cells {
			if i == 0 {
				b.Open("th", page.Scope("row"))
			} else {
				b.Open("td")
			}
			spans(b, c)
			b.Close()
		}
		b.Close()
	}
	b.Close()
	b.Close()
}

func (bl *Block) writeItems(b *page.Builder) {
	var apart []Line
	class := "sheet-list"
	if bl.checked() {
		class += " sheet-checked" // its headings stand on the line of the title
	}
	b.Open("table", page.Class(class))
	if bl.checked() {
		b.Open("thead")
		b.Open("tr")
		for _, h := range []string{"Tag", "What, and where it comes out"} {
			b.Open("th", page.Scope("col"))
			b.El("span", h, page.Class("sheet-unseen"))
			b.Close()
		}
		for _, h := range bl.Heads {
			b.El("th", h, page.Scope("col"), page.Class("sheet-check"))
		}
		b.Close()
		b.Close()
	}
	b.Open("tbody")
	for _, l := range bl.Lines {
		if l.Item == "" {
			apart = append(apart, l)
			continue
		}
		b.Open("tr", page.Data("item", l.Item))
		b.Open("th", page.Scope("row"))
		b.El("span", strconv.Itoa(l.Tag), page.Class("sheet-tag sheet-tag-"+string(l.Family)))
		b.Close()
		b.Open("td")
		spans(b, l.Spans)
		b.Close()
		for _, c := range l.Checks {
			b.Open("td", page.Class("sheet-check"))
			if c.Words == tick {
				b.El("span", c.Words, page.Role("img"), page.Label("not checked"))
			} else {
				spans(b, []Span{c})
			}
			b.Close()
		}
		b.Close()
	}
	b.Close()
	b.Close()
	bl.writeLines(b, apart)
}

// tick is the empty box to be ticked on paper.
const tick = "□"

// tags are the elements of the kinds of span; those without stand in none.
var tags = [...]page.Tag{
	Label:    page.TagOf("span", page.Class("sheet-label")),
	Strong:   page.TagOf("b"),
	Stated:   page.TagOf("span", page.Class("sheet-stated")),
	Missing:  page.TagOf("strong", page.Class("sheet-missing")),
	Caution:  page.TagOf("strong", page.Class("sheet-caution")),
	Conflict: page.TagOf("strong", page.Class("sheet-conflict")),
	Head:     page.TagOf("b", page.Class("sheet-part")),
}

func spans(b *page.Builder, list []Span) {
	for _, s := range list {
		switch s.Kind {
		case Value, Strong, Conflict:
			b.Within(tags[s.Kind], s.Words)
		default:
			b.Tagged(tags[s.Kind], s.Words)
		}
	}
}
