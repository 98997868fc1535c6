package bodymap

import "sync"

// Op is one step of an outline.
type Op byte

// The steps: move, line, cubic curve, close.
const (
	Move  Op = 'M'
	Line  Op = 'L'
	Curve Op = 'C'
	Shut  Op = 'Z'
)

// Step is one step with its points: one for Move and Line, three for Curve (two
// handles and the end).
type Step struct {
	Op     Op
	Points [3]Point
}

// Point is a place on the drawing.
type Point struct{ X, Y float64 }

// Ink says how a shape is drawn; the page and the PDF translate it.
type Ink string

// The inks. Colour, where there is any, only repeats what the shape says.
const (
	Body    Ink = "body"    // the outline of the child
	Faint   Ink = "faint"   // guide lines inside the outline
	Wound   Ink = "wound"   // the breastbone wound
	Leader  Ink = "leader"  // from an exit to its tag
	Exit    Ink = "exit"    // the dot where something comes out
	TagInk  Ink = "tag"     // the outline of a tag, white inside
	Artery  Ink = "artery"  // a solid tag with a white number
	Vein    Ink = "vein"    // an outlined tag
	Heart   Ink = "heart"   // a doubly outlined tag
	Words   Ink = "words"   // a number or a word
	Reverse Ink = "reverse" // a number on a solid tag
)

// Shape is one thing to draw: an outline, or words at a point.
type Shape struct {
	Ink   Ink
	Steps []Step
	Words string
	At    Point   // of words: their centre
	Size  float64 // of words: the height of the type
	Tag   int     // the tag the shape belongs to, or 0

	path string // the steps as SVG writes them, of what is the same in all drawings
}

// Drawing is a picture in units of its own, Width by Height.
type Drawing struct {
	Shapes []Shape
	Marks  []Mark // as placed, in the order of their tags
	Words  string // the picture in words, for those who do not see it
	Crowd  []int  // tags that found no room: the list beside the map holds them
}

type outline struct{ steps []Step }

func (o *outline) move(x, y float64) {
	o.steps = append(o.steps, Step{Op: Move, Points: [3]Point{{x, y}}})
}
func (o *outline) line(x, y float64) {
	o.steps = append(o.steps, Step{Op: Line, Points: [3]Point{{x, y}}})
}
func (o *outline) shut() { o.steps = append(o.steps, Step{Op: Shut}) }

// circle is a closed circle of four curves.
func circle(c Point, r float64) []Step { return ellipse(c, r, r) }

func ellipse(c Point, rx, ry float64) []Step {
	const k = 0.5523 // the handle length that makes a cubic look round
	return []Step{
		{Move, [3]Point{{c.X + rx, c.Y}}},
		{Curve, [3]Point{{c.X + rx, c.Y + k*ry}, {c.X + k*rx, c.Y + ry}, {c.X, c.Y + ry}}},
		{Curve, [3]Point{{c.X - k*rx, c.Y + ry}, {c.X - rx, c.Y + k*ry}, {c.X - rx, c.Y}}},
		{Curve, [3]Point{{c.X - rx, c.Y - k*ry}, {c.X - k*rx, c.Y - ry}, {c.X, c.Y - ry}}},
		{Curve, [3]Point{{c.X + k*rx, c.Y - ry}, {c.X + rx, c.Y - k*ry}, {c.X + rx, c.Y}}},
		{Op: Shut},
	}
}

func polygon(points ...Point) []Step {
	var o outline
	o.move(points[0].X, points[0].Y)
	for _, p := range points[1:] {
		o.line(p.X, p.Y)
	}
	o.shut()
	return o.steps
}

// smooth is a curve through the points (Catmull and Rom's, as cubics), open or
// closed.
func smooth(points []Point, closed bool) []Step {
	n := len(points)
	at := func(i int) Point {
		if closed {
			return points[(i+n)%n]
		}
		return points[max(0, min(n-1, i))]
	}
	steps := []Step{{Move, [3]Point{points[0]}}}
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		a, b, c, d := at(i-1), at(i), at(i+1), at(i+2)
		steps = append(steps, Step{Curve, [3]Point{
			{b.X + (c.X-a.X)/6, b.Y + (c.Y-a.Y)/6},
			{c.X - (d.X-b.X)/6, c.Y - (d.Y-b.Y)/6}, c}})
	}
	if closed {
		steps = append(steps, Step{Op: Shut})
	}
	return steps
}

// half is the outline of the child's right half, as the reader sees it on the
// left: from the neck out along the arm, down the side, along the leg to the
// crotch. Distances are from the midline.
var half = []Point{
	{11, 60}, {12, 66}, {17, 71}, {33, 74}, {47, 79}, {54, 88}, {61, 106}, {70, 123}, {79, 141}, {87, 155},
	{93, 163}, {94, 171}, {88, 175}, {81, 171}, {76, 160}, {67, 145}, {57, 130}, {49, 116}, {43, 105},
	{41, 116}, {39, 132}, {37, 148}, {38, 164}, {40, 178}, {41, 196}, {38, 212}, {37, 226}, {36, 238}, {42, 247}, {41, 252},
	{30, 253}, {22, 250}, {21, 240}, {20, 226}, {16, 212}, {7, 203}, {0, 201},
}

// body is the child, seen from in front.
var body = sync.OnceValue(func() []Shape {
	var ring []Point
	for _, p := range half {
		ring = append(ring, Point{middle - p.X, p.Y})
	}
	for i := len(half) - 2; i >= 0; i-- {
		ring = append(ring, Point{middle + half[i].X, half[i].Y})
	}
	head := ellipse(Point{middle, 34}, 25, 30)
	ear := func(side float64) []Step {
		x := middle + side*25
		return smooth([]Point{{x, 31}, {x + side*4, 33}, {x + side*3, 41}, {x - side*1, 44}}, false)
	}
	at := func(points ...Point) []Step { return smooth(points, false) }
	shapes := []Shape{
		{Ink: Body, Steps: smooth(ring, false)},
		{Ink: Body, Steps: head},
		{Ink: Body, Steps: ear(-1)},
		{Ink: Body, Steps: ear(1)},
		// Closed eyes, nose and mouth: enough to see which way the child faces.
		{Ink: Faint, Steps: at(Point{middle - 14, 34}, Point{middle - 10, 36}, Point{middle - 6, 34})},
		{Ink: Faint, Steps: at(Point{middle + 6, 34}, Point{middle + 10, 36}, Point{middle + 14, 34})},
		{Ink: Faint, Steps: at(Point{middle - 3, 43}, Point{middle, 45}, Point{middle + 3, 43})},
		{Ink: Faint, Steps: at(Point{middle - 5, 51}, Point{middle, 53}, Point{middle + 5, 51})},
		// Collarbones, rib margin, navel, groins.
		{Ink: Faint, Steps: at(Point{middle - 5, 77}, Point{middle - 18, 75}, Point{middle - 36, 78})},
		{Ink: Faint, Steps: at(Point{middle + 5, 77}, Point{middle + 18, 75}, Point{middle + 36, 78})},
		{Ink: Faint, Steps: at(Point{middle - 36, 141}, Point{middle - 20, 131}, Point{middle, 125}, Point{middle + 20, 131}, Point{middle + 36, 141})},
		{Ink: Faint, Steps: circle(Point{middle, 162}, 1.5)},
		{Ink: Faint, Steps: at(Point{middle - 31, 180}, Point{middle - 18, 192}, Point{middle - 8, 199})},
		{Ink: Faint, Steps: at(Point{middle + 31, 180}, Point{middle + 18, 192}, Point{middle + 8, 199})},
	}
	for i, s := range shapes {
		shapes[i].path = string(appendPath(nil, s.Steps))
	}
	return shapes
})
