package ui

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// hasTimed tells whether anything came of which it is known since when: a chart has no
// place for the rest.
func hasTimed(in []lines.Interval) bool { return slices.ContainsFunc(in, lines.Interval.Timed) }

// roundAxis is where an axis ends that has to reach v, and the step of its labels: 1, 2
// or 5 times a power of ten, at most five of them.
func roundAxis(v float64) (step, top float64) {
	step = 0.1
	for k := 0; step*5 < v*(1-1e-9); k++ {
		step *= []float64{2, 2.5, 2}[k%3]
	}
	for top = step; top < v*(1-1e-9); {
		top += step
	}
	return step, top
}

func axisNumber(v float64) string { return tenths(v) }

// clockAt is a round hour under a chart.
type clockAt struct {
	hours float64 // since it begins
	words string
}

// clocksBetween are the round hours under a chart, at most six.
func clocksBetween(begin, end schema.Moment) (out []clockAt) {
	span := end.Sub(begin)
	step := time.Hour
	for _, h := range []int{1, 2, 3, 6, 12} {
		if step = time.Duration(h) * time.Hour; span <= 6*step {
			break
		}
	}
	midnight, err := schema.ParseMoment(string(begin.Date()) + "T00:00" + begin.String()[16:])
	if err != nil {
		return nil
	}
	for at := midnight; !at.After(end); at = at.Add(step) {
		if !at.Before(begin) {
			out = append(out, clockAt{at.Sub(begin).Hours(), at.Clock()})
		}
	}
	return out
}

// flowsOf adds up the rates of all intervals since a moment: between each two edges,
// in hours from then, what came of all chambers together; in mL/kg/h, or with no
// weight in mL/h. even tells where some of it was read once over more than an hour.
func flowsOf(in []lines.Interval, kg float64, begin schema.Moment) (edges, flows []float64, even []bool) {
	hours := func(at schema.Moment) float64 { return max(0, at.Sub(begin).Hours()) }
	for _, i := range in {
		if i.To.After(i.From) && i.To.After(begin) {
			edges = append(edges, hours(i.From), hours(i.To))
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	flows = make([]float64, max(0, len(edges)-1))
	even = make([]bool, len(flows))
	for k := range flows {
		for _, i := range in {
			if !i.To.After(i.From) || hours(i.From) > edges[k] || hours(i.To) < edges[k+1] {
				continue
			}
			rate, weighed := i.PerKgHour(kg)
			if !weighed {
				rate = i.ML / i.To.Sub(i.From).Hours()
			}
			flows[k] += rate
			even[k] = even[k] || i.Sparse()
		}
	}
	return edges, flows, even
}

// chartHours is how far back a chart goes.
const chartHours = 48

// lossChart draws what came against the clock: one block an interval, as wide as it
// was long and as high as the rate of all chambers together, over the last 48 hours; the unit's hourly rules as lines across.
// A block of more than an hour is an average and has a broken outline alone.
func lossChart(in []lines.Interval, l lines.Losses, words string) app.UI {
	const width, height, left, foot = 360.0, 210.0, 38.0, 36.0
	begin, end := in[0].From, in[0].To
	for _, i := range in {
		if begin.After(i.From) {
			begin = i.From
		}
		if i.To.After(end) {
			end = i.To
		}
	}
	if first := end.Add(-chartHours * time.Hour); first.After(begin) { // what came earlier is in the days and the totals
		begin = first
	}
	from := begin.Instant()
	edges, flows, even := flowsOf(in, l.Kg, begin)
	top := 0.0
	for _, v := range flows {
		top = max(top, v)
	}
	type rule struct {
		at    float64
		words string
		met   schema.Moment
	}
	var rules []rule
	for _, ru := range l.Rulings {
		if l.Kg > 0 && ru.Rule.Hours > 0 {
			at := ru.Rule.PerKg / ru.Rule.Hours
			met := ru.To
			if ru.Outcome != calc.Met || ru.Average { // at what time is not known
				met = schema.Moment{}
			}
			words := safe.Number(ru.Rule.PerKg) + " mL/kg in " + safe.Number(ru.Rule.Hours) + " h"
			if ru.Rule.Times > 1 {
				words += ", " + itoa(ru.Rule.Times) + " times running"
			}
			rules = append(rules, rule{at, words, met})
			top = max(top, at)
		}
	}
	step, top := roundAxis(top)
	span := max(end.Sub(begin).Hours(), 0.1)
	x := func(h float64) float64 { return left + h/span*(width-left-6) }
	y := func(v float64) float64 { return (height - foot) - v/top*(height-foot-24) }
	put := tenths
	line := func(class string, x1, y1, x2, y2 float64) app.UI {
		return safe.SVG("line", map[string]string{"class": class, "x1": put(x1), "y1": put(y1), "x2": put(x2), "y2": put(y2), "stroke": "currentColor"})
	}
	text := func(at, down float64, anchor, s string) app.UI {
		return safe.SVGText(map[string]string{"x": put(at), "y": put(down), "text-anchor": anchor, "font-size": "12", "fill": "currentColor", "stroke": "none"}, s)
	}
	shapes := []app.UI{line("chart-axis", left, y(0), width-6, y(0)), line("chart-axis", left, y(0), left, y(top))}
	for v := step; v < top+step/2; v += step {
		shapes = append(shapes, line("chart-grid", left, y(v), width-6, y(v)), text(left-4, y(v)+4, "end", axisNumber(v)))
	}
	for k, v := range flows {
		a, b := x(edges[k]), x(edges[k+1])
		class := "chart-bar"
		if even[k] {
			class = "chart-bar is-even"
		}
		shapes = append(shapes, safe.SVG("rect", map[string]string{"class": class, "x": put(a), "y": put(y(v)), "width": put(max(b-a, 1)), "height": put(y(0) - y(v)), "stroke": "currentColor"}))
		if said := put(v); b-a >= 8*float64(len(said)) { // where it is wide enough to be read
			shapes = append(shapes, text((a+b)/2, y(v)-3, "middle", said))
		}
	}
	for _, ru := range rules {
		shapes = append(shapes, line("chart-rule", left, y(ru.at), width-6, y(ru.at)), text(width-8, y(ru.at)-4, "end", ru.words))
		if h := ru.met.Instant().Sub(from).Hours(); !ru.met.IsZero() && h >= 0 && h <= span {
			shapes = append(shapes, line("chart-met", x(h), y(0), x(h), y(top)), text(x(h)+map[bool]float64{true: 3, false: -3}[h < span/2], y(top)+12, map[bool]string{true: "start", false: "end"}[h < span/2], "met "+ru.met.Clock()))
		}
	}
	unit := "mL/h"
	if l.Kg > 0 {
		unit = "mL/kg/h"
	}
	shapes = append(shapes, text(2, 10, "start", unit), text(left-4, y(0), "end", "0"),
		text(left, height-4, "start", begin.Shown()), text(width-6, height-4, "end", end.Shown()))
	for _, c := range clocksBetween(begin, end) {
		shapes = append(shapes, line("chart-axis", x(c.hours), y(0), x(c.hours), y(0)+4), text(x(c.hours), y(0)+15, "middle", c.words))
	}
	chart := safe.SVG("svg", map[string]string{"class": "chart", "viewBox": "0 0 360 210", "role": "img", "aria-label": words + ", " + unit + ", " + itoa(len(flows)) + " intervals.", "fill": "none"}, shapes...)
	if !slices.Contains(even, true) {
		return chart
	}
	return app.Div().Body(chart, app.P().Class("aside").Text("A broken outline is the average of what was read once over more than an hour: when in that time it came is not known."))
}
