package timeline

import (
	"encoding/json"
	"encoding/xml"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"fairlead/handover/calc"
	"fairlead/handover/sheet/page"
	"fairlead/schema"
)

func at(day, hour, minute, offset int) schema.Moment {
	return schema.MomentOf(2026, 7, day, hour, minute, offset, "Europe/London")
}

// note is a note with two runs that go on past midnight, one clamp, one short
// arrest, and temperatures.
func note() *schema.Note {
	n := schema.NewNote(schema.Stage1, "0190a1b2-0000-7000-8000-000000000001", "0190a1b2-0000-7000-8000-000000000002")
	row := func(list schema.Path, id string, on, off schema.Moment) {
		n.AddRow(list, id)
		n.Set(schema.RowPath(list, id, "on"), on.String())
		n.Set(schema.RowPath(list, id, "off"), off.String())
	}
	row(schema.SupportRuns, "r1", at(14, 22, 0, 60), at(14, 23, 30, 60))
	row(schema.SupportRuns, "r2", at(14, 23, 50, 60), at(15, 0, 40, 60))
	row(schema.SupportClamps, "c1", at(14, 22, 30, 60), at(14, 23, 10, 60))
	row(schema.SupportArrests, "a1", at(14, 22, 40, 60), at(14, 22, 44, 60))
	row(schema.SupportLowerBody, "l1", at(14, 22, 50, 60), at(14, 22, 52, 60))
	for i, x := range []struct {
		at schema.Moment
		v  string
	}{{at(14, 22, 5, 60), "36.1"}, {at(14, 22, 38, 60), "18.4"}, {at(15, 0, 30, 60), "36"}} {
		id := string(rune('p' + i))
		n.AddRow(schema.PerfusionReadings, id)
		n.Set(schema.PerfusionReadingsAt.In(id), x.at.String())
		n.Set(schema.PerfusionReadingsTemperature.In(id), json.Number(x.v))
	}
	return n
}

func texts(d Drawing) []string {
	var out []string
	for _, s := range d.Shapes {
		if s.Kind.IsText() {
			out = append(out, s.Text)
		}
	}
	return out
}

// Every bar stands where its minutes say, by hand: 160 minutes from 22:00 to
// 00:40, so the clamp from minute 30 to 70 takes 3/16 to 7/16 of the scale.
func TestBarsStandAtTheirMinutes(t *testing.T) {
	d, ok := Draw(calc.TimelineOf(note()), 700)
	if !ok {
		t.Fatal("nothing was drawn")
	}
	var bars []Shape
	axis := Shape{}
	for _, s := range d.Shapes {
		switch {
		case s.Kind == Bar || s.Kind == Open:
			bars = append(bars, s)
		case s.Kind == Axis:
			axis = s
		}
	}
	if len(bars) != 5 {
		t.Fatalf("%d bars", len(bars))
	}
	left, right := axis.Points[0][0], axis.Points[1][0]
	near := func(got, part float64) bool { return math.Abs(got-(left+part*(right-left))) < 0.01 }
	for i, want := range [][2]float64{{0, 90.0 / 160}, {110.0 / 160, 1}, {30.0 / 160, 70.0 / 160}, {40.0 / 160, 44.0 / 160}} {
		if b := bars[i]; !near(b.X, want[0]) || !near(b.X+b.W, want[1]) {
			t.Errorf("bar %d from %.1f to %.1f", i, b.X, b.X+b.W)
		}
	}
	for _, words := range []string{"Bypass", "Clamp", "Circulatory arrest", "Temperature", "1 h 30 min", "50 min", "40 min", "4 min", "18.4", "00:00", "14-Jul-2026 into 15-Jul-2026"} {
		if !slices.Contains(texts(d), words) {
			t.Errorf("%q is not in the picture: %q", words, texts(d))
		}
	}
	for _, words := range []string{"Bypass 1: 22:00 to 23:30, 1 h 30 min", "Bypass 2: 23:50 to 00:40, 50 min", "22:38, 18.4 °C"} {
		if !strings.Contains(d.Words, words) {
			t.Errorf("%q is not told in words", words)
		}
	}
}

// The picture holds at every width of screen and paper: nothing outside it, no
// words over each other in a line of bars.
func TestFitsEveryWidth(t *testing.T) {
	for _, width := range []float64{280, 334, 480, 700, 900} {
		d, ok := Draw(calc.TimelineOf(note()), width)
		if !ok {
			t.Fatal("nothing was drawn")
		}
		type span struct{ y, from, to float64 }
		var spans []span
		for _, s := range d.Shapes {
			from, to := s.X, s.X+s.W
			if s.Kind.IsText() {
				w := float64(len([]rune(s.Text))) * size * letter
				if s.Kind == Bold {
					w *= 1.12
				}
				from, to = s.X, s.X+w
				switch s.Anchor {
				case "middle":
					from, to = s.X-w/2, s.X+w/2
				case "end":
					from, to = s.X-w, s.X
				}
				for _, o := range spans {
					if math.Abs(o.y-s.Y) < size*0.8 && from < o.to-1 && to > o.from+1 {
						t.Errorf("width %v: %q stands over other words", width, s.Text)
					}
				}
				spans = append(spans, span{s.Y, from, to})
			}
			for _, p := range s.Points {
				if p[0] < 0 || p[0] > width || p[1] < 0 || p[1] > d.Height {
					t.Errorf("width %v: a line leaves the picture at %v", width, p)
				}
			}
			if from < -0.5 || to > width+0.5 || s.Y > d.Height {
				t.Errorf("width %v: %s %q leaves the picture, %.0f to %.0f at %.0f of %.0f", width, s.Kind, s.Text, from, to, s.Y, d.Height)
			}
		}
	}
}

// The SVG is well-formed XML, has no style attribute, and nothing but black,
// white and grey.
func TestSVG(t *testing.T) {
	d, _ := Draw(calc.TimelineOf(note()), 700)
	var b page.Builder
	d.SVG(&b)
	dec := xml.NewDecoder(strings.NewReader(b.String()))
	shapes := 0
	for {
		token, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			shapes++
			for _, a := range e.Attr {
				if a.Name.Local == "style" {
					t.Error("a style attribute")
				}
				if c := a.Value; (a.Name.Local == "fill" || a.Name.Local == "stroke") && c != "none" && (len(c) != 4 || c[1] != c[2] || c[2] != c[3]) {
					t.Errorf("the colour %s", c)
				}
			}
		}
	}
	if shapes != len(d.Shapes)+1 {
		t.Errorf("%d elements for %d shapes", shapes, len(d.Shapes))
	}
}

// Without clock times there is no picture.
func TestNothingToDraw(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "0190a1b2-0000-7000-8000-000000000001", "0190a1b2-0000-7000-8000-000000000002")
	if _, ok := Draw(calc.TimelineOf(n), 700); ok {
		t.Error("a picture of nothing")
	}
	n.AddRow(schema.SupportRuns, "r1")
	n.Set(schema.RowPath(schema.SupportRuns, "r1", "minutes"), json.Number("41"))
	line := calc.TimelineOf(n)
	if _, ok := Draw(line, 700); ok || len(line.Unplaced) != 1 {
		t.Errorf("a period without a clock: %v", line.Unplaced)
	}
}

// When the clocks go back during the run, every time on the axis is the one of its
// start, and the picture says so (Europe/London, 25-Oct-2026, 02:00 to 01:00).
func TestClockChange(t *testing.T) {
	n := schema.NewNote(schema.Stage1, "0190a1b2-0000-7000-8000-000000000001", "0190a1b2-0000-7000-8000-000000000002")
	n.AddRow(schema.SupportRuns, "r1")
	n.Set(schema.RowPath(schema.SupportRuns, "r1", "on"), schema.MomentOf(2026, 10, 25, 0, 30, 60, "Europe/London").String())
	n.Set(schema.RowPath(schema.SupportRuns, "r1", "off"), schema.MomentOf(2026, 10, 25, 1, 30, 0, "Europe/London").String())
	d, ok := Draw(calc.TimelineOf(n), 700)
	if !ok || !slices.Contains(texts(d), "2 h") {
		t.Errorf("the run of two hours: %q", texts(d))
	}
	if !slices.ContainsFunc(texts(d), func(s string) bool { return strings.Contains(s, "clocks changed") }) {
		t.Errorf("the change is not said: %q", texts(d))
	}
}
