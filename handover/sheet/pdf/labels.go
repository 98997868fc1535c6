package pdf

import (
	"fmt"
	"io"

	"fairlead/handover/sheet"
	"fairlead/handover/sheet/bodymap"
	"fairlead/handover/sheet/page"
	"fairlead/schema"
)

// WriteLabels prints the strip of tag labels.
func WriteLabels(w io.Writer, l *sheet.Labels, at schema.Moment) error {
	p := start(l.Paper, page.Plain("Tag labels · "+l.Child), at)
	for _, flags := range l.PagesOf() {
		p.f.AddPage()
		if len(flags) == 0 {
			p.words(sheet.Margin, sheet.Margin, "No item is listed.", sheet.BodySize, false)
		}
		for i, f := range flags {
			x := sheet.Margin + float64(i%2)*(sheet.LabelWidth+sheet.LabelGapX)
			y := sheet.Margin + float64(i/2)*(sheet.LabelHeight+sheet.LabelGapY)
			p.label(f, x, y)
		}
		p.words(sheet.Margin, p.paper.Height-sheet.Margin-4, l.Foot, 7, false)
	}
	if err := p.f.Output(w); err != nil {
		return fmt.Errorf("the labels cannot be printed: %w", err)
	}
	return nil
}

func (p *printer) label(f sheet.Flag, x, y float64) {
	const half = (sheet.LabelWidth - sheet.LabelFold) / 2
	p.f.SetLineWidth(0.2)
	p.f.SetDashPattern([]float64{1, 1}, 0)
	p.f.Rect(x, y, sheet.LabelWidth, sheet.LabelHeight, "D")
	p.f.Line(x+half, y, x+half, y+sheet.LabelHeight)
	p.f.Line(x+half+sheet.LabelFold, y, x+half+sheet.LabelFold, y+sheet.LabelHeight)
	p.f.SetDashPattern(nil, 0)
	for _, left := range []float64{x, x + half + sheet.LabelFold} {
		p.shapes(bodymap.TagShapes(bodymap.Mark{Tag: f.Tag, Family: f.Family}), left+5, y+sheet.LabelHeight/2, 0.45)
		at := y + 1
		// Whose it is comes first: what does not fit is the end of the item's name.
		for _, part := range []sheet.Span{{Words: f.Child, Kind: sheet.Value}, {Words: f.Name, Kind: sheet.Strong}} {
			for n, line := range sheet.Wrap([]sheet.Span{part}, half-11, 7) {
				if at > y+sheet.LabelHeight-sheet.LineHeight(7) || n > 1 && part.Words == f.Child {
					break
				}
				for _, piece := range line {
					p.words(left+10, at, piece.Words, 7, piece.Kind.Bold())
				}
				at += sheet.LineHeight(7)
			}
		}
	}
}
