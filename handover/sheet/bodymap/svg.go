package bodymap

import (
	"strconv"

	"fairlead/handover/sheet/page"
)

// SVG writes the drawing as an SVG element. Its look is the style sheet's, by
// classes "map-" and the ink; without a style sheet it is still black on white.
func (d Drawing) SVG(b *page.Builder) {
	b.Open("svg", page.SVG("xmlns", "http://www.w3.org/2000/svg"), page.Class("map"),
		page.SVG("viewBox", "0 0 "+page.Number(Width)+" "+page.Number(Height)),
		page.Role("img"), page.Label(d.Words), page.SVG("fill", "none"), page.SVG("stroke", "#000"))
	var path []byte
	for _, s := range d.Shapes {
		tag := ""
		if s.Tag > 0 {
			tag = strconv.Itoa(s.Tag)
		}
		fill, stroke, width := s.Ink.look()
		if s.Steps == nil {
			b.Open("text", page.Class("map-"+string(s.Ink)), page.Data("tag", tag),
				page.SVGNumber("x", s.At.X), page.SVGNumber("y", s.At.Y+s.Size*capHeight/2),
				page.SVGNumber("font-size", s.Size), page.SVG("text-anchor", "middle"), page.SVG("font-weight", "bold"),
				page.SVG("font-family", "sans-serif"), page.SVG("stroke", "none"), page.SVG("fill", fill))
			b.Text(s.Words)
			b.Close()
			continue
		}
		outline := s.path
		if outline == "" {
			path = appendPath(path[:0], s.Steps)
			outline = string(path)
		}
		b.Shape("path", page.Class("map-"+string(s.Ink)), page.Data("tag", tag), page.SVG("d", outline),
			page.SVG("fill", fill), page.SVG("stroke", stroke), page.SVG("stroke-width", width))
	}
	b.Close()
}

// capHeight is the height of a digit beside the size of its type, about the
// same in every sans serif.
const capHeight = 0.72

// look is the ink without a style sheet: black on white.
func (i Ink) look() (fill, stroke, width string) {
	switch i {
	case Body:
		return "none", "#000", "1.3"
	case Faint:
		return "none", "#777", "0.7"
	case Wound:
		return "none", "#000", "1.1"
	case Leader:
		return "none", "#000", "0.6"
	case Exit, Artery:
		return "#000", "#000", "0.8"
	case Words:
		return "#000", "none", "0"
	case Reverse:
		return "#fff", "none", "0"
	}
	return "#fff", "#000", "1" // the other tags
}

func appendPath(out []byte, steps []Step) []byte {
	n := func(v float64) { out = appendTenths(out, int(v*10+0.5)) }
	for _, s := range steps {
		out = append(out, byte(s.Op))
		points := 1
		switch s.Op {
		case Curve:
			points = 3
		case Shut:
			points = 0
		}
		for i := range points {
			if i > 0 {
				out = append(out, ' ')
			}
			n(s.Points[i].X)
			out = append(out, ' ')
			n(s.Points[i].Y)
		}
	}
	return out
}

// appendTenths writes a number given in tenths.
func appendTenths(out []byte, n int) []byte {
	if n < 0 {
		out, n = append(out, '-'), -n
	}
	out = strconv.AppendInt(out, int64(n/10), 10)
	if n %= 10; n > 0 {
		out = append(out, '.', byte('0'+n))
	}
	return out
}
