package timeline

import (
	"strings"

	"fairlead/handover/sheet/page"
)

// Look is how a shape is inked without a style sheet: black on white.
func (k Kind) Look() (fill, stroke, width string) {
	switch k {
	case Bar:
		return "#333", "#000", "1"
	case Open:
		return "#fff", "#000", "1.5"
	case Grid:
		return "none", "#bbb", "0.6"
	case Axis:
		return "none", "#000", "1.2"
	case Curve:
		return "none", "#000", "1.6"
	case Dot:
		return "#000", "#000", "0.5"
	case On:
		return "#fff", "none", "0"
	}
	return "#000", "none", "0"
}

// IsText tells whether shapes of this kind are words.
func (k Kind) IsText() bool { return k == Words || k == Bold || k == On }

// Path writes the points of a line as SVG has them.
func (s Shape) Path() string {
	var b strings.Builder
	for i, p := range s.Points {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(page.Number(p[0]) + "," + page.Number(p[1]))
	}
	return b.String()
}

// Size is the size of the type.
const Size = size

// SVG writes the drawing as an SVG element. Its look is the style sheet's, by the
// classes "time-" and the kind; without one it is still black on white.
func (d Drawing) SVG(b *page.Builder) {
	b.Open("svg", page.SVG("xmlns", "http://www.w3.org/2000/svg"), page.Class("timeline"),
		page.SVG("viewBox", "0 0 "+page.Number(d.Width)+" "+page.Number(d.Height)),
		page.SVGNumber("width", d.Width), page.SVGNumber("height", d.Height), page.Role("img"), page.Label(d.Words))
	for _, s := range d.Shapes {
		fill, stroke, width := s.Kind.Look()
		class := page.Class("time-" + string(s.Kind))
		ink := []page.Attr{class, page.SVG("fill", fill), page.SVG("stroke", stroke), page.SVG("stroke-width", width)}
		switch {
		case s.Kind.IsText():
			weight := "normal"
			if s.Kind == Bold {
				weight = "bold"
			}
			b.Open("text", append(ink, page.SVGNumber("x", s.X), page.SVGNumber("y", s.Y), page.SVGNumber("font-size", Size),
				page.SVG("text-anchor", s.Anchor), page.SVG("font-weight", weight), page.SVG("font-family", "sans-serif"))...)
			b.Text(s.Text)
			b.Close()
		case s.Kind == Dot:
			b.Shape("circle", append(ink, page.SVGNumber("cx", s.X), page.SVGNumber("cy", s.Y), page.SVGNumber("r", s.W))...)
		case s.Points != nil:
			b.Shape("polyline", append(ink, page.SVG("points", s.Path()))...)
		default:
			b.Shape("rect", append(ink, page.SVGNumber("x", s.X), page.SVGNumber("y", s.Y), page.SVGNumber("width", s.W), page.SVGNumber("height", s.H))...)
		}
	}
	b.Close()
}
