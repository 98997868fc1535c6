// Package timeline draws the times of support: bars for bypass, clamp, arrest and
// perfusion over the clock, and the child's temperature under them.
//
// The key type is [Drawing]: shapes in plain numbers, which the page builder, the
// screen and the PDF each write in their own way. It is legible in black on white:
// each lane is named, each bar carries its minutes and has its own hatching, and
// nothing is told by colour.
//
//	d, ok := timeline.Draw(calc.TimelineOf(note), 700)
//	d.SVG(&builder)
package timeline

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fairlead/handover/calc"
)

// Kind says how a shape is drawn.
type Kind string

// The kinds of shape.
const (
	Bar   Kind = "bar"   // a filled rectangle
	Open  Kind = "open"  // an outlined rectangle
	Grid  Kind = "grid"  // a thin line
	Axis  Kind = "axis"  // a line
	Curve Kind = "curve" // the temperature
	Dot   Kind = "dot"   // one temperature
	Words Kind = "words" // text
	Bold  Kind = "bold"  // text of a title
	On    Kind = "on"    // text on a filled bar
)

// Shape is one part of the drawing. A rectangle has X, Y, W and H; a line goes
// through Points; words stand with their baseline at X, Y.
type Shape struct {
	Kind       Kind
	X, Y, W, H float64
	Points     [][2]float64
	Text       string
	Anchor     string // "start", "middle" or "end"
}

// Drawing is the picture, Width by Height, and what it says in words.
type Drawing struct {
	Width, Height float64
	Shapes        []Shape
	Words         string
}

// The measures of the drawing, in the unit its width is given in.
const (
	size   = 12.0 // of the type
	lane   = 24.0
	bar    = 16.0
	curve  = 96.0
	narrow = 480.0 // below it the names stand over their lanes
	letter = 0.56  // the width of a letter beside its size, generously
)

// Draw draws a timeline so wide. ok is false where there is nothing with a clock
// time to draw; what then has only minutes is in the timeline's Unplaced.
func Draw(t calc.Timeline, width float64) (d Drawing, ok bool) {
	if t.Start.IsZero() || len(t.Lanes) == 0 && len(t.Curve) < 2 {
		return Drawing{}, false
	}
	p := picture{t: t, d: Drawing{Width: width}, left: 166, over: width < narrow}
	if p.over {
		p.left = 30
	}
	p.begin, p.end = t.Start.Clock(), t.End.Clock()
	p.minutes = float64(max(t.Minutes(), 1))
	p.right = width - 24
	p.lanes()
	p.temperatures()
	p.clock()
	p.d.Words = words(t)
	return p.d, true
}

type picture struct {
	t           calc.Timeline
	d           Drawing
	left, right float64
	minutes     float64
	begin, end  string
	over        bool
	y           float64
}

func (p *picture) x(minute float64) float64 {
	return p.left + minute/p.minutes*(p.right-p.left)
}

func (p *picture) add(s Shape) { p.d.Shapes = append(p.d.Shapes, s) }

func (p *picture) text(kind Kind, x, y float64, anchor, words string) {
	p.add(Shape{Kind: kind, X: x, Y: y, Text: words, Anchor: anchor})
}

// lanes draws the bars, each with its minutes on it, or beside it where they do
// not fit.
func (p *picture) lanes() {
	p.y = 4
	for i, l := range p.t.Lanes {
		if p.over {
			p.text(Bold, 2, p.y+size, "start", l.Title)
			p.y += size + 6
		} else {
			p.text(Bold, p.left-8, p.y+size+1, "end", l.Title)
		}
		free := p.left // right end of what stands in the lane
		for _, b := range l.Bars {
			x, w := p.x(float64(b.From)), p.x(float64(b.To))-p.x(float64(b.From))
			kind, on := Bar, On
			if i%2 == 1 {
				kind, on = Open, Words
			}
			p.add(Shape{Kind: kind, X: x, Y: p.y, W: math.Max(w, 1.5), H: bar})
			label := calc.Minutes(b.To - b.From)
			need := float64(len([]rune(label))) * size * letter
			switch {
			case need+8 <= w:
				p.text(on, x+w/2, p.y+size, "middle", label)
				free = x + w
			case x+w+4+need <= p.d.Width && !p.taken(l, b, x+w+4+need):
				p.text(Words, x+w+4, p.y+size, "start", label)
				free = x + w + 4 + need
			case x-4-need >= free:
				p.text(Words, x-4, p.y+size, "end", label)
				free = x + w
			default:
				free = x + w // told in the words below the picture
			}
		}
		p.y += lane
	}
}

// taken tells whether another bar of the lane begins before x.
func (p *picture) taken(l calc.Lane, b calc.Bar, x float64) bool {
	for _, o := range l.Bars {
		if o.From > b.From && p.x(float64(o.From)) < x {
			return true
		}
	}
	return false
}

// temperatures draws the curve over its own scale. A single reading is a point
// with its figure.
func (p *picture) temperatures() {
	if len(p.t.Curve) == 0 {
		return
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range p.t.Curve {
		lo, hi = math.Min(lo, c.Celsius), math.Max(hi, c.Celsius)
	}
	bottom, top := 5*math.Floor((lo-5)/5), 5*math.Ceil((hi+1)/5)
	p.y += 4
	if p.over {
		p.text(Bold, 2, p.y+size, "start", "Temperature, °C")
		p.y += size + 8
	} else {
		p.text(Bold, p.left-30, p.y+curve/2, "end", "Temperature")
		p.text(Words, p.left-30, p.y+curve/2+size+2, "end", "°C")
	}
	y := func(v float64) float64 { return p.y + 6 + (top-v)/(top-bottom)*(curve-12) }
	step := 5.0
	if top-bottom > 15 {
		step = 10
	}
	for v := step * math.Ceil(bottom/step); v <= top; v += step {
		p.add(Shape{Kind: Grid, Points: [][2]float64{{p.left, y(v)}, {p.right, y(v)}}})
		p.text(Words, p.left-5, y(v)+size*0.36, "end", strconv.Itoa(int(v)))
	}
	line := Shape{Kind: Curve}
	coldest := 0
	for i, c := range p.t.Curve {
		line.Points = append(line.Points, [2]float64{p.x(float64(c.At)), y(c.Celsius)})
		if c.Celsius < p.t.Curve[coldest].Celsius {
			coldest = i
		}
	}
	if len(line.Points) > 1 {
		p.add(line)
	}
	for i, at := range line.Points {
		p.add(Shape{Kind: Dot, X: at[0], Y: at[1], W: 2.5})
		if i != coldest && i != 0 && i != len(line.Points)-1 {
			continue
		}
		anchor, dx := "start", 5.0
		if at[0] > (p.left+p.right)/2 {
			anchor, dx = "end", -5
		}
		dy := -4.0
		if i == coldest && y(bottom)-at[1] > size+4 {
			dy = size + 2
		}
		p.text(Words, at[0]+dx, at[1]+dy, anchor, calc.Number(p.t.Curve[i].Celsius, 1))
	}
	p.y += curve
}

// clock draws the axis, with round times, the first and last of a day named with
// their day when midnight lies between.
func (p *picture) clock() {
	p.add(Shape{Kind: Axis, Points: [][2]float64{{p.left, p.y}, {p.right, p.y}}})
	room := (p.right - p.left) / (6 * size * letter) // how many times fit
	step := 15.0
	for _, s := range []float64{15, 30, 60, 120, 240, 480, 1440} {
		if step = s; p.minutes/s <= room {
			break
		}
	}
	first := clockMinutes(p.begin)
	grid := []Shape{}
	midnight := false
	for m := math.Ceil(first/step)*step - first; m <= p.minutes+0.01; m += step {
		x := p.x(m)
		grid = append(grid, Shape{Kind: Grid, Points: [][2]float64{{x, 2}, {x, p.y}}})
		of := int(math.Mod(first+m, 1440))
		p.text(Words, x, p.y+size+4, "middle", fmt.Sprintf("%02d:%02d", of/60, of%60))
		if of == 0 && m > 0 {
			midnight = true
		}
	}
	p.d.Shapes = append(grid, p.d.Shapes...)
	p.y += size + 10
	if midnight || p.t.Start.Date() != p.t.End.Date() {
		p.y += 4
		p.text(Words, p.left, p.y+size, "start", p.t.Start.Date().Shown()+" into "+p.t.End.Date().Shown())
		p.y += size + 6
	}
	_, begins := p.t.Start.Zone()
	if _, ends := p.t.End.Zone(); begins != ends {
		p.text(Words, p.left, p.y+size, "start", "The clocks changed: the axis keeps the")
		p.text(Words, p.left, p.y+2*size+2, "start", "time of the start.")
		p.y += 2*size + 8
	}
	p.d.Height = p.y
}

func clockMinutes(s string) float64 {
	h, m, _ := strings.Cut(s, ":")
	hours, _ := strconv.Atoi(h)
	minutes, _ := strconv.Atoi(m)
	return float64(60*hours + minutes)
}

// words says all that is drawn, for those who do not see it.
func words(t calc.Timeline) string {
	var parts []string
	for _, l := range t.Lanes {
		for _, b := range l.Bars {
			parts = append(parts, b.Words)
		}
	}
	for _, c := range t.Curve {
		parts = append(parts, c.Words)
	}
	return "Times of support, " + t.Start.Date().Shown() + ". " + strings.Join(parts, ". ") + "."
}
