package bodymap

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fairlead/schema/sorting"
)

// Family is what sort of thing a tag marks; each has a shape of its own, so that
// black and white is enough.
type Family string

// The families.
const (
	Arterial     Family = "arterial"     // solid circle
	Venous       Family = "venous"       // circle
	Intracardiac Family = "intracardiac" // double circle
	Drain        Family = "drain"        // square
	Wire         Family = "wire"         // diamond
	Other        Family = "other"        // rounded lozenge: tubes, probes, cannulae, things left
)

// Mark is one item on the map.
type Mark struct {
	Tag    int
	Words  string // its short name, for the picture in words
	Family Family
	Place  Place
	At     Point // where its tag stands, set by Draw
}

// Chest is the state of the breastbone wound.
type Chest string

// The states of the chest. Unstated draws no wound and says so.
const (
	Unstated  Chest = ""
	Open      Chest = "open"
	Closed    Chest = "closed"
	Untouched Chest = "untouched" // no sternal wound at this operation
)

// Apex is the side the apex of the heart points to. It is drawn, faintly, where
// it is recorded; it moves the heart's outline alone and never the map.
type Apex string

// The sides of the apex.
const (
	ApexUnstated Apex = ""
	ApexLeft     Apex = "left"
	ApexRight    Apex = "right"
	ApexMiddle   Apex = "middle"
)

// View is what to draw.
type View struct {
	Marks []Mark
	Chest Chest
	Apex  Apex
	Solo  int // a tag to show alone, the others faint; 0 shows all alike
}

// TagRadius is half the size of a tag.
const TagRadius = 8.0

const (
	gap       = 1.0
	dotRadius = 1.7
	offWords  = 196.0 // the height of the words over what stands beside the bed
)

// Draw makes the picture. The same view always gives the same picture.
func Draw(v View) Drawing {
	d := Drawing{Shapes: slices.Clone(body())}
	d.Shapes = append(d.Shapes, heart(v.Apex)...)
	d.Shapes = append(d.Shapes, wound(v.Chest)...)
	d.Shapes = append(d.Shapes,
		Shape{Ink: Words, Words: "PATIENT'S", At: Point{28, 10}, Size: 8},
		Shape{Ink: Words, Words: "RIGHT", At: Point{28, 19}, Size: 8},
		Shape{Ink: Words, Words: "PATIENT'S", At: Point{Width - 28, 10}, Size: 8},
		Shape{Ink: Words, Words: "LEFT", At: Point{Width - 28, 19}, Size: 8})
	var crowd []int
	d.Marks, crowd = settle(v.Marks)
	d.Crowd = crowd
	exits := map[Point]bool{}
	var leaders, dots, tags []Shape
	off := false
	for _, m := range d.Marks {
		exit := Point{m.Place.X, m.Place.Y}
		if m.Place.Off {
			off = true
		} else {
			if edge, long := reach(m.At, exit); long {
				leaders = append(leaders, Shape{Ink: Leader, Tag: m.Tag, Steps: []Step{{Move, [3]Point{exit}}, {Line, [3]Point{edge}}}})
			}
			if !exits[exit] && !m.Place.Inside {
				exits[exit] = true
				dots = append(dots, Shape{Ink: Exit, Steps: circle(exit, dotRadius)})
			}
		}
		tags = append(tags, TagShapes(m)...)
	}
	if off {
		d.Shapes = append(d.Shapes, Shape{Ink: Words, Words: "BESIDE THE BED", At: Point{34, offWords}, Size: 7})
	}
	d.Shapes = slices.Concat(d.Shapes, leaders, dots, tags)
	d.Words = inWords(v, d.Marks)
	return d
}

// reach is where a leader meets the rim of a tag, and whether it needs drawing.
func reach(tag, exit Point) (Point, bool) {
	dx, dy := exit.X-tag.X, exit.Y-tag.Y
	dist := math.Hypot(dx, dy)
	if dist <= TagRadius {
		return tag, false
	}
	k := TagRadius / dist
	return Point{tag.X + dx*k, tag.Y + dy*k}, true
}

// settle gives each tag a spot of its own, as near its exit as there is room,
// rather outward from the midline, never over another tag or another exit.
func settle(marks []Mark) (placed []Mark, crowd []int) {
	order := slices.Clone(marks)
	sorting.By(order, func(a, b Mark) int {
		return cmp.Or(cmp.Compare(a.Place.Y, b.Place.Y), cmp.Compare(a.Place.X, b.Place.X), cmp.Compare(a.Tag, b.Tag))
	})
	exits := map[Point]bool{}
	for _, m := range order {
		exits[Point{m.Place.X, m.Place.Y}] = true
	}
	dots := make([]Point, 0, len(exits))
	for p := range exits {
		dots = append(dots, p)
	}
	sorting.By(dots, func(a, b Point) int { return cmp.Or(cmp.Compare(a.Y, b.Y), cmp.Compare(a.X, b.X)) })
	taken := make([]Point, 0, len(order))
	for _, m := range order {
		spot, ok := nearest(m.Place, taken, dots)
		if !ok {
			crowd = append(crowd, m.Tag)
			continue
		}
		m.At = spot
		taken = append(taken, spot)
		placed = append(placed, m)
	}
	sorting.By(placed, func(a, b Mark) int { return cmp.Compare(a.Tag, b.Tag) })
	slices.Sort(crowd)
	return placed, crowd
}

// offset is a way from an exit to a tag.
type offset struct {
	Point
	far float64
}

// offsets are those ways, nearest first.
var offsets = sync.OnceValue(func() []offset {
	const step = 2.0
	var out []offset
	for y := -Height; y <= Height; y += step {
		for x := -Width; x <= Width; x += step {
			out = append(out, offset{Point{x, y}, math.Hypot(x, y)})
		}
	}
	sorting.By(out, func(a, b offset) int { return cmp.Compare(a.X*a.X+a.Y*a.Y, b.X*b.X+b.Y*b.Y) })
	return out
})

// nearest is the best free spot for a tag: the cost is the distance from the
// exit, a little more toward the midline than away from it, since the midline
// is where the others come out, and much more across it: a right-sided thing is
// not shown on the left.
func nearest(p Place, taken, dots []Point) (best Point, ok bool) {
	const edge = TagRadius + gap + 1
	lowest := math.Inf(1)
	outward := cmp.Compare(p.X, middle)
	for _, o := range offsets() {
		cost := o.far
		if cost >= lowest {
			break
		}
		c := Point{p.X + o.X, p.Y + o.Y}
		if c.X < edge || c.X > Width-edge || c.Y < edge || c.Y > Height-edge {
			continue
		}
		if outward != 0 && cmp.Compare(c.X, middle) != outward {
			cost += 60
		} else if o.X*float64(outward) < 0 {
			cost += 1.5
		}
		if p.Off != beside(c) {
			cost += 120
		}
		if cost < lowest && !worded(c) && free(c, taken, dots) {
			lowest, best, ok = cost, c, true
		}
	}
	return best, ok
}

// worded keeps tags off the words of the picture.
func worded(c Point) bool {
	return c.Y < 24+TagRadius && (c.X < 56+TagRadius || c.X > Width-56-TagRadius) ||
		c.X < 66+TagRadius && c.Y > offWords-6-TagRadius && c.Y < offWords+6+TagRadius
}

// beside tells whether a spot lies in the corner kept for what stands beside
// the bed.
func beside(c Point) bool { return c.X < 60 && c.Y > offWords }

func free(c Point, taken, dots []Point) bool {
	const apart, clear = 2*TagRadius + gap, TagRadius + dotRadius + gap
	for _, t := range taken {
		if dx, dy := c.X-t.X, c.Y-t.Y; dx*dx+dy*dy < apart*apart {
			return false
		}
	}
	for _, d := range dots {
		if dx, dy := c.X-d.X, c.Y-d.Y; dx*dx+dy*dy < clear*clear {
			return false
		}
	}
	return true
}

// TagShapes are the shapes of one tag, centred where the mark stands.
func TagShapes(m Mark) []Shape {
	c := m.At
	ink, words := TagInk, Words
	var steps []Step
	r := TagRadius
	switch m.Family {
	case Arterial:
		ink, words, steps = Artery, Reverse, circle(c, r)
	case Venous:
		ink, steps = Vein, circle(c, r)
	case Intracardiac:
		ink, steps = Heart, circle(c, r)
	case Drain:
		q := r * 0.9
		steps = polygon(Point{c.X - q, c.Y - q}, Point{c.X + q, c.Y - q}, Point{c.X + q, c.Y + q}, Point{c.X - q, c.Y + q})
	case Wire:
		q := r * 1.14
		steps = polygon(Point{c.X, c.Y - q}, Point{c.X + q, c.Y}, Point{c.X, c.Y + q}, Point{c.X - q, c.Y})
	default:
		q, h, s := r*1.05, r*0.8, r*0.45
		steps = polygon(Point{c.X - q + s, c.Y - h}, Point{c.X + q - s, c.Y - h}, Point{c.X + q, c.Y},
			Point{c.X + q - s, c.Y + h}, Point{c.X - q + s, c.Y + h}, Point{c.X - q, c.Y})
	}
	shapes := []Shape{{Ink: ink, Steps: steps, Tag: m.Tag}}
	if m.Family == Intracardiac {
		shapes = append(shapes, Shape{Ink: Heart, Steps: circle(c, r-1.5), Tag: m.Tag})
	}
	size := 10.5
	if m.Tag > 99 {
		size = 7.5
	} else if m.Family == Wire || m.Family == Intracardiac {
		size = 9.2
	}
	return append(shapes, Shape{Ink: words, Words: strconv.Itoa(m.Tag), At: c, Size: size, Tag: m.Tag})
}

// wound draws the breastbone wound: gaping and cross-hatched while open, one
// line with stitches once closed.
func wound(c Chest) []Shape {
	const top, bottom = 84.0, 128.0
	switch c {
	case Open:
		lens := smooth([]Point{{middle, top - 2}, {middle - 8, top + 12}, {middle - 9, bottom - 16}, {middle, bottom + 2},
			{middle + 9, bottom - 16}, {middle + 8, top + 12}}, true)
		shapes := []Shape{{Ink: Wound, Steps: lens}}
		for y := top + 8; y < bottom-4; y += 7 {
			shapes = append(shapes, Shape{Ink: Wound, Steps: []Step{{Move, [3]Point{{middle - 6.5, y + 3}}}, {Line, [3]Point{{middle + 6.5, y - 3}}}}})
		}
		return shapes
	case Closed:
		shapes := []Shape{{Ink: Wound, Steps: []Step{{Move, [3]Point{{middle, top}}}, {Line, [3]Point{{middle, bottom}}}}}}
		for y := top + 4; y < bottom; y += 8 {
			shapes = append(shapes, Shape{Ink: Wound, Steps: []Step{{Move, [3]Point{{middle - 2.5, y}}}, {Line, [3]Point{{middle + 2.5, y}}}}})
		}
		return shapes
	}
	return nil
}

func heart(a Apex) []Shape {
	var lean float64
	switch a {
	case ApexLeft:
		lean = 1
	case ApexRight:
		lean = -1
	case ApexMiddle:
	default:
		return nil
	}
	x := middle
	tip := Point{x + lean*17, 121}
	if lean == 0 {
		tip = Point{x, 123}
	}
	side := lean
	if side == 0 {
		side = 1
	}
	return []Shape{{Ink: Faint, Steps: smooth([]Point{{x - side*3, 92}, {x - side*12, 102}, {x - side*9, 116}, {x + lean*4, 121}, tip,
		{x + lean*18 + (1-abs(lean))*10, 108}, {x + side*9, 94}}, true)}}
}

func abs(v float64) float64 { return math.Abs(v) }

func inWords(v View, marks []Mark) string {
	var b strings.Builder
	b.WriteString("Front view of the child. The patient's right is on the left of the picture.")
	switch v.Chest {
	case Open:
		b.WriteString(" The chest is open.")
	case Closed:
		b.WriteString(" The chest is closed.")
	}
	for _, m := range marks {
		b.WriteString(" Tag " + strconv.Itoa(m.Tag) + ", " + m.Words + ": " + strings.ToLower(m.Place.Title[:1]) + m.Place.Title[1:] + ".")
	}
	return b.String()
}
