package calc

import (
	"fmt"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Timeline is what the picture of support is drawn from: bars by kind on one
// scale of minutes, and temperatures as points. It holds only what the record
// says; a period in minutes without a clock has no place on it and is named in
// Unplaced.
type Timeline struct {
	Start, End schema.Moment // whole scale; zero if there is nothing to draw
	Lanes      []Lane
	Curve      []Point // the child's temperature, in order
	Unplaced   []string
}

// Lane is one kind of period: bypass, clamp, arrest, cerebral perfusion,
// lower-body perfusion.
type Lane struct {
	Title string
	Bars  []Bar
}

// Bar is one period. From and To are minutes from the timeline's start.
type Bar struct {
	From, To int
	Path     schema.Path // the row
	Words    string      // "Bypass 1: 09:52 to 12:31, 2 h 39 min"
}

// Point is one temperature, At minutes from the timeline's start.
type Point struct {
	At      int
	Celsius float64
	Path    schema.Path
	Words   string // "10:31, 18.4 °C, nasopharyngeal"
}

// Minutes is the length of the scale.
func (t Timeline) Minutes() int { return int(minute(t.End) - minute(t.Start)) }

// TimelineOf reads the timeline of a note.
func TimelineOf(n *schema.Note) Timeline {
	var t Timeline
	type placed struct {
		lane int
		p    Period
		bar  Bar
	}
	var bars []placed
	lanes := []struct {
		title string
		list  schema.Path
	}{
		{"Bypass", schema.SupportRuns}, {"Clamp", schema.SupportClamps}, {"Circulatory arrest", schema.SupportArrests},
		{"Cerebral perfusion", schema.SupportPerfusions}, {"Lower-body perfusion", schema.SupportLowerBody},
	}
	first := func(m schema.Moment) {
		if t.Start.IsZero() || m.Before(t.Start) {
			t.Start = m
		}
		if t.End.IsZero() || m.After(t.End) {
			t.End = m
		}
	}
	for i, lane := range lanes {
		rows := n.Rows(lane.list)
		for k, row := range rows {
			name := lane.title
			if len(rows) > 1 {
				name = fmt.Sprintf("%s %d", lane.title, k+1)
			}
			p := Period{Row: row}
			p.From, _ = n.Moment(schema.RowPath(lane.list, row, "on"))
			p.To, _ = n.Moment(schema.RowPath(lane.list, row, "off"))
			if !p.Clocked() || p.To.Before(p.From) {
				t.Unplaced = append(t.Unplaced, name)
				continue
			}
			first(p.From)
			first(p.To)
			length := int(minute(p.To) - minute(p.From))
			bars = append(bars, placed{i, p, Bar{Path: schema.RowPath(lane.list, row, "on"),
				Words: fmt.Sprintf("%s: %s to %s, %s", name, p.From.Clock(), p.To.Clock(), Minutes(length))}})
		}
	}
	type temperature struct {
		at    schema.Moment
		point Point
	}
	var temps []temperature
	add := func(at schema.Moment, v float64, p schema.Path, site string) {
		if f := schema.FieldAt(p); f != nil && !(schema.Range{Low: f.Min, High: f.Max}).Holds(v) {
			return // refused: it would flatten the curve of the others
		}
		words := at.Clock() + ", " + Shown(v, 1, "Cel")
		if site != "" {
			words += ", " + lower(site)
		}
		temps = append(temps, temperature{at, Point{Celsius: v, Path: p, Words: words}})
		first(at)
	}
	for _, row := range n.Rows(schema.PerfusionReadings) {
		at, ok := n.Moment(schema.PerfusionReadingsAt.In(row))
		if v, ok2 := n.Number(schema.PerfusionReadingsTemperature.In(row)); ok && ok2 {
			add(at, v, schema.PerfusionReadingsTemperature.In(row), "")
		}
	}
	if at, ok := n.Moment(schema.PerfusionLowestTemperatureAt); ok {
		v, ok := n.Number(schema.PerfusionLowestTemperature)
		same := slices.ContainsFunc(temps, func(x temperature) bool { return minute(x.at) == minute(at) && x.point.Celsius == v })
		if ok && !same {
			site := n.Text(schema.PerfusionLowestTemperatureSite)
			if f := schema.FieldAt(schema.PerfusionLowestTemperatureSite); f != nil && site != "" {
				site = f.Label(site)
			}
			add(at, v, schema.PerfusionLowestTemperature, site)
		}
	}
	for i, lane := range lanes {
		l := Lane{Title: lane.title}
		for _, b := range bars {
			if b.lane == i {
				b.bar.From, b.bar.To = int(minute(b.p.From)-minute(t.Start)), int(minute(b.p.To)-minute(t.Start))
				l.Bars = append(l.Bars, b.bar)
			}
		}
		if len(l.Bars) > 0 {
			t.Lanes = append(t.Lanes, l)
		}
	}
	sorting.By(temps, func(a, b temperature) int { return int(minute(a.at) - minute(b.at)) })
	for _, x := range temps {
		x.point.At = int(minute(x.at) - minute(t.Start))
		t.Curve = append(t.Curve, x.point)
	}
	return t
}
