// Package pdf prints the handover sheet and its labels as PDF, from the command
// line; it is not part of the app in the browser.
//
// [Write] draws exactly the pages that package sheet laid out, in the face they
// were counted with. The file holds its fonts, asks for nothing from outside and
// is the same for the same sheet.
//
//	err := pdf.Write(w, s, at)
package pdf

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"fairlead/handover/sheet"
	"fairlead/handover/sheet/bodymap"
	"fairlead/handover/sheet/page"
	"fairlead/handover/sheet/timeline"
	"fairlead/schema"
)

// printer draws on the pages of one document. Lengths are in mm.
type printer struct {
	f     *fpdf.Fpdf
	paper sheet.Paper
	lost  bool // a letter was left out of the face
}

// start is an empty document.
func start(paper sheet.Paper, title string, at schema.Moment) *printer {
	f := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}})
	f.SetCatalogSort(true)
	f.SetTitle(title, true)
	f.SetCreator("fairlead", true)
	f.SetProducer("fairlead", true)
	f.SetLang("en")
	made := time.Unix(0, 0).UTC()
	if !at.IsZero() {
		made = at.Instant()
	}
	f.SetCreationDate(made)
	f.SetModificationDate(made)
	f.AddUTF8FontFromBytes(face, "", append([]byte(nil), plainFace...))
	f.AddUTF8FontFromBytes(face, "B", append([]byte(nil), boldFace...))
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	return &printer{f: f, paper: paper}
}

// Write prints the sheet. at is written into the file as the time it was made.
func Write(w io.Writer, s *sheet.Sheet, at schema.Moment) error {
	p := start(s.Paper, page.Plain(s.Title+" · "+s.Head.Short), at)
	for i, pg := range s.Pages {
		p.f.AddPage()
		y := p.head(s.Head, i == 0)
		for _, band := range pg.Bands {
			y = p.band(band, y)
		}
		p.foot(s, pg, i+1)
	}
	if err := p.f.Output(w); err != nil {
		return fmt.Errorf("the sheet cannot be printed: %w", err)
	}
	return nil
}

func (p *printer) width() float64 { return p.paper.Width - 2*sheet.Margin }

// words draws words with their left end at x on the line whose top is y, and
// returns the width they took.
func (p *printer) words(x, y float64, s string, size float64, bold bool) float64 {
	style := ""
	if bold {
		style = "B"
	}
	s, lost := drawable(page.Plain(s))
	p.lost = p.lost || lost
	p.f.SetFont(face, style, size)
	shown := visual(s)
	p.f.Text(x, y+baseline(size), shown)
	return p.f.GetStringWidth(shown)
}

// baseline is how far below the top of a line the letters stand.
func baseline(size float64) float64 { return sheet.LineHeight(size) * 0.79 }

// ink is the colour of a kind of words: grey for titles, black for the rest.
func (p *printer) ink(k sheet.Kind, reversed bool) {
	switch {
	case reversed:
		p.f.SetTextColor(255, 255, 255)
	case k == sheet.Label:
		p.f.SetTextColor(60, 60, 60)
	default:
		p.f.SetTextColor(0, 0, 0)
	}
}

// spans draws wrapped spans and returns the y below them.
func (p *printer) spans(x, y, width, size float64, list []sheet.Span) float64 {
	for _, line := range sheet.Wrap(list, width, size) {
		at := x
		for _, piece := range line {
			p.ink(piece.Kind, false)
			w := p.words(at, y, piece.Words, size, piece.Kind.Bold())
			if piece.Kind == sheet.Missing || piece.Kind == sheet.Conflict {
				p.f.SetLineWidth(0.2)
				lead := strings.TrimLeft(piece.Words, " ")
				skip := sheet.TextWidth(piece.Words[:len(piece.Words)-len(lead)], size, true) * 25.4 / 72
				p.f.Line(at+skip, y+baseline(size)+0.6, at+w, y+baseline(size)+0.6)
				if piece.Kind == sheet.Conflict {
					p.f.Line(at+skip, y+baseline(size)+1, at+w, y+baseline(size)+1)
				}
			}
			at += w
		}
		y += sheet.LineHeight(size)
	}
	p.f.SetTextColor(0, 0, 0)
	return y
}

func (p *printer) rule(x1, y1, x2, y2, width float64, grey int) {
	p.f.SetDrawColor(grey, grey, grey)
	p.f.SetLineWidth(width)
	p.f.Line(x1, y1, x2, y2)
	p.f.SetDrawColor(0, 0, 0)
}

// head draws the banner and returns the y below it.
func (p *printer) head(h sheet.Banner, first bool) float64 {
	x, y, w := sheet.Margin, sheet.Margin, p.width()
	top := y
	y += 0.8
	line := y
	y = p.spans(x+2, y, w-4, sheet.NameSize, strong(h.Name))
	if h.OneRow(w) {
		at := x + w - 2
		for _, s := range h.Number {
			at -= sheet.TextWidth(s.Words, sheet.HeadSize, s.Kind.Bold()) * 25.4 / 72
		}
		drop := baseline(sheet.NameSize) - baseline(sheet.HeadSize)
		p.spans(at, line+drop, w, sheet.HeadSize, h.Number)
	} else {
		y = p.spans(x+2, y, w-4, sheet.HeadSize, h.Number)
	}
	for _, l := range h.Lines {
		y = p.spans(x+2, y, w-4, sheet.HeadSize, l)
	}
	if first {
		y = p.spans(x+2, y, w-4, sheet.HeadSize, h.Operation)
	}
	y += 0.6
	p.f.SetLineWidth(0.5)
	p.f.Rect(x, top, w, y-top, "D")
	return y + sheet.BlockGap
}

// strong makes the name bold whatever its parts are.
func strong(spans []sheet.Span) []sheet.Span {
	out := make([]sheet.Span, len(spans))
	for i, s := range spans {
		if s.Kind == sheet.Fixed {
			s.Kind = sheet.Strong
		}
		out[i] = s
	}
	return out
}

func (p *printer) foot(s *sheet.Sheet, pg sheet.Page, number int) {
	x, w := sheet.Margin, p.width()
	const size = 7.0
	list := append(append([]sheet.Span(nil), s.Foot...), sheet.Span{Words: " Page " + strconv.Itoa(number) + " of " + strconv.Itoa(len(s.Pages)) + ".", Kind: sheet.Fixed})
	if p.lost {
		list = append(list, sheet.Span{Words: " □ is a letter that this print cannot show: read it on the screen.", Kind: sheet.Strong})
	}
	var over []sheet.Span
	h := float64(len(sheet.Wrap(list, w, size))) * sheet.LineHeight(size)
	if len(pg.Overleaf) > 0 {
		over = []sheet.Span{{Words: "Continues overleaf: " + strings.Join(pg.Overleaf, "; "), Kind: sheet.Strong}}
		h += float64(len(sheet.Wrap(over, w, size))) * sheet.LineHeight(size)
	}
	y := p.paper.Height - sheet.Margin - h
	p.rule(x, y-0.6, x+w, y-0.6, 0.2, 0)
	if over != nil {
		y = p.spans(x, y, w, size, over)
	}
	p.spans(x, y, w, size, list)
}

func (p *printer) band(band sheet.Band, y float64) float64 {
	x, low := sheet.Margin, y
	for i, c := range band.Columns {
		w := band.ColumnWidth(i, p.width())
		at := y
		for _, bl := range c.Blocks {
			at = p.block(bl, x, at, w)
		}
		low = max(low, at)
		x += w + sheet.Gutter
	}
	return low
}

// block draws one block and returns the y below it.
func (p *printer) block(bl *sheet.Block, x, y, w float64) float64 {
	end := y + bl.Height(w)
	if bl.Titled() {
		title := strings.ToUpper(bl.Heading())
		p.rule(x, y+0.2, x+w, y+0.2, 0.4, 0)
		p.words(x, y+0.6, title, sheet.BodySize*0.95, true)
		if len(bl.Heads) > 0 && bl.Form == sheet.Items {
			for i, h := range bl.Heads {
				p.words(x+w-float64(2-i)*sheet.TickBox+sheet.CellPad, y+0.8, h, sheet.BodySize*0.85, false)
			}
		}
		y += sheet.TitleBar
	}
	switch bl.Form {
	case sheet.Boxes:
		p.boxes(bl, x, y, w)
	case sheet.Drawing:
		p.drawing(bl.Map, x, y, w)
		y += sheet.MapHeight(w)
		p.lines(bl.Lines, x, y, w)
	case sheet.Clock:
		p.clock(bl.Times, x, y, w)
	case sheet.Running:
		run, apart := bl.Joined()
		if len(run) > 0 {
			y = p.spans(x, y, w, sheet.BodySize, run)
		}
		p.lines(apart, x, y, w)
	case sheet.Table:
		p.table(bl, x, y, w)
	case sheet.Items:
		p.items(bl, x, y, w)
	default:
		p.lines(bl.Lines, x, y, w)
	}
	return end
}

func (p *printer) lines(list []sheet.Line, x, y, w float64) {
	for _, l := range list {
		y = p.line(l, x, y, w)
	}
}

func (p *printer) line(l sheet.Line, x, y, w float64) float64 {
	size := sheet.BodySize
	if l.Loud {
		size = sheet.LoudSize
	}
	if !l.Frame {
		return p.spans(x, y, w, size, l.Spans) + sheet.LineGap
	}
	top := y + sheet.FramePad/2
	low := p.spans(x+2*sheet.FramePad, top, w-2*sheet.FramePad, size, l.Spans)
	p.f.SetFillColor(0, 0, 0)
	p.f.Rect(x, top-0.3, 1.2, low-top+0.6, "F")
	return low + sheet.FramePad/2 + sheet.LineGap
}

func (p *printer) boxes(bl *sheet.Block, x, y, w float64) {
	for _, row := range bl.BoxRows(w) {
		at := x
		for _, l := range row {
			bw := sheet.BoxWidth(&l)
			h := sheet.BoxHeight - 0.6
			p.f.SetLineWidth(0.5)
			p.f.SetFillColor(0, 0, 0)
			style := "D"
			if l.Loud {
				style = "FD"
			}
			p.f.Rect(at, y, bw, h, style)
			in := at + (bw-boxWords(l))/2
			for _, s := range l.Spans {
				p.ink(sheet.Strong, l.Loud)
				in += p.words(in, y+0.5, s.Words, sheet.BoxSize, true)
			}
			at += bw + sheet.BoxGap
		}
		y += sheet.BoxHeight
	}
	p.f.SetTextColor(0, 0, 0)
}

func boxWords(l sheet.Line) float64 {
	sum := 0.0
	for _, s := range l.Spans {
		sum += sheet.TextWidth(s.Words, sheet.BoxSize, true) * 25.4 / 72
	}
	return sum
}

func (p *printer) table(bl *sheet.Block, x, y, w float64) {
	at := x
	for i, h := range bl.Heads {
		p.words(at+sheet.CellPad, y-0.2, h, sheet.BodySize*0.9, false)
		at += bl.CellWidth(i, w) + 2*sheet.CellPad
	}
	y += sheet.LineHeight(sheet.BodySize)
	p.rule(x, y, x+w, y, 0.2, 0)
	for _, l := range bl.Lines {
		h := bl.LineHeight(&l, w)
		if l.Cells == nil {
			p.line(l, x+sheet.CellPad, y, w-2*sheet.CellPad)
		}
		at := x
		for i, c := range l.Cells {
			p.spans(at+sheet.CellPad, y+0.1, bl.CellWidth(i, w), sheet.BodySize, c)
			at += bl.CellWidth(i, w) + 2*sheet.CellPad
		}
		y += h
		p.rule(x, y, x+w, y, 0.15, 150)
	}
}

func (p *printer) items(bl *sheet.Block, x, y, w float64) {
	checked := len(bl.Heads) > 0
	for _, l := range bl.Lines {
		if l.Item == "" {
			y = p.line(l, x, y, w)
			continue
		}
		h := bl.LineHeight(&l, w)
		p.tag(l.Tag, l.Family, x+2.4, y+sheet.TagHeight/2+0.1)
		p.spans(x+sheet.TagWidth, y+0.05, bl.ItemWidth(w), sheet.BodySize, l.Spans)
		if checked {
			for i, c := range l.Checks {
				left := x + w - float64(len(l.Checks)-i)*sheet.TickBox
				p.rule(left, y, left, y+h, 0.15, 150)
				p.spans(left+sheet.CellPad, y+0.05, sheet.TickBox-sheet.CellPad, sheet.BodySize*0.85, []sheet.Span{c})
			}
		}
		y += h
		p.rule(x, y, x+w, y, 0.15, 150)
	}
}

// tag draws a tag of the list with its middle at x, y. Its number is larger
// beside its outline than on the map, because it is smaller on the page.
func (p *printer) tag(tag int, family bodymap.Family, x, y float64) {
	const scale = sheet.TagHeight / 2 / bodymap.TagRadius
	shapes := bodymap.TagShapes(bodymap.Mark{Tag: tag, Family: family})
	for i := range shapes {
		shapes[i].Size *= 1.15
	}
	p.shapes(shapes, x, y, scale)
}

// drawing draws the map with its left upper corner at x, y.
func (p *printer) drawing(d *bodymap.Drawing, x, y, w float64) {
	if d != nil {
		p.shapes(d.Shapes, x, y, w/bodymap.Width)
	}
}

// clock draws the times of support with the left upper corner at x, y.
func (p *printer) clock(d *timeline.Drawing, x, y, w float64) {
	if d == nil {
		return
	}
	f, scale := p.f, sheet.ClockHeight(d, w)/d.Height
	for _, s := range d.Shapes {
		f.SetDrawColor(0, 0, 0)
		f.SetFillColor(255, 255, 255)
		f.SetTextColor(0, 0, 0)
		f.SetLineWidth(0.25)
		at, top := x+s.X*scale, y+s.Y*scale
		switch {
		case s.Kind.IsText():
			style := ""
			if s.Kind == timeline.Bold {
				style = "B"
			}
			if s.Kind == timeline.On {
				f.SetTextColor(255, 255, 255)
			}
			words, lost := drawable(page.Plain(s.Text))
			p.lost = p.lost || lost
			f.SetFont(face, style, timeline.Size*scale*72/25.4)
			switch long := f.GetStringWidth(words); s.Anchor {
			case "middle":
				at -= long / 2
			case "end":
				at -= long
			}
			f.Text(at, top, visual(words))
		case s.Kind == timeline.Dot:
			f.SetFillColor(0, 0, 0)
			f.Circle(at, top, s.W*scale, "F")
		case s.Points != nil:
			if s.Kind == timeline.Grid {
				f.SetDrawColor(180, 180, 180)
				f.SetLineWidth(0.15)
			}
			for i := 1; i < len(s.Points); i++ {
				a, b := s.Points[i-1], s.Points[i]
				f.Line(x+a[0]*scale, y+a[1]*scale, x+b[0]*scale, y+b[1]*scale)
			}
		case s.Kind == timeline.Bar:
			f.SetFillColor(50, 50, 50)
			f.Rect(at, top, s.W*scale, s.H*scale, "FD")
		default:
			f.Rect(at, top, s.W*scale, s.H*scale, "D")
		}
	}
	f.SetDrawColor(0, 0, 0)
	f.SetTextColor(0, 0, 0)
}

func (p *printer) shapes(list []bodymap.Shape, x, y, scale float64) {
	f := p.f
	for _, s := range list {
		if s.Steps == nil {
			p.f.SetTextColor(0, 0, 0)
			if s.Ink == bodymap.Reverse {
				p.f.SetTextColor(255, 255, 255)
			}
			size := s.Size * scale * 72 / 25.4
			f.SetFont(face, "B", size)
			w := f.GetStringWidth(s.Words)
			f.Text(x+s.At.X*scale-w/2, y+s.At.Y*scale+s.Size*scale*0.36, s.Words)
			continue
		}
		style := "D"
		f.SetDrawColor(0, 0, 0)
		f.SetFillColor(255, 255, 255)
		width := min(0.35, 1.3*scale)
		switch s.Ink {
		case bodymap.Body:
			width = 0.4
		case bodymap.Faint:
			f.SetDrawColor(120, 120, 120)
			width = 0.2
		case bodymap.Leader:
			width = 0.18
		case bodymap.Exit, bodymap.Artery:
			style = "FD"
			f.SetFillColor(0, 0, 0)
		case bodymap.TagInk, bodymap.Vein, bodymap.Heart:
			style = "FD"
		}
		f.SetLineWidth(width)
		for _, step := range s.Steps {
			a, b, c := step.Points[0], step.Points[1], step.Points[2]
			switch step.Op {
			case bodymap.Move:
				f.MoveTo(x+a.X*scale, y+a.Y*scale)
			case bodymap.Line:
				f.LineTo(x+a.X*scale, y+a.Y*scale)
			case bodymap.Curve:
				f.CurveBezierCubicTo(x+a.X*scale, y+a.Y*scale, x+b.X*scale, y+b.Y*scale, x+c.X*scale, y+c.Y*scale)
			case bodymap.Shut:
				f.ClosePath()
			}
		}
		f.DrawPath(style)
	}
	f.SetTextColor(0, 0, 0)
	f.SetDrawColor(0, 0, 0)
}
