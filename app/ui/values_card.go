package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/handover/sheet/timeline"
)

// cardUI draws the emergency card: what the unit has activated and nothing else,
// the weight beside every dose, and nothing at all where the weight is in doubt.
func (s *Session) cardUI(c calc.Card) []app.UI {
	toProfile := linkTo(Place{Screen: "profile", Part: slug("Emergency card")}, "Emergency card in the unit profile")
	if len(c.Stopped) > 0 {
		var why []app.UI
		for _, w := range c.Stopped {
			why = append(why, app.Li().Body(s.wantedUI(w)...))
		}
		return []app.UI{app.Div().ID("card-stopped").Class("notice", "bad").Body(
			app.P().Body(app.B().Text("STOPPED: no dose is shown.")), app.Ul().Body(why...))}
	}
	weight := calc.Shown(c.Weight.Kg, 3, "kg")
	beside := "for " + c.Weight.Beside()
	out := []app.UI{app.P().Class("card-weight").Body(app.Text("Dosing weight "), app.B().Text(weight),
		app.Text(", entered "+orNot(c.Weight.At)+" by "+orNot(c.Weight.By)+"."))}
	if len(c.Lines) == 0 {
		return append(out,
			app.P().ID("card-unset").Text("No dose is activated: not set by this unit. Published values are in the unit profile; each prints only when a named person has activated it."),
			toProfile)
	}
	var doses []app.UI
	for _, l := range c.Lines {
		title := l.Title
		if l.Label != "" {
			title += ", " + l.Label
		}
		rule := l.Rule
		switch {
		case l.Capped:
			rule += ": the maximum"
		case l.Raised:
			rule += ": the minimum"
		}
		doses = append(doses, app.Li().Class("dose").Body(
			app.If(l.Heading != "", func() app.UI { return app.P().Class("dose-heading").Text(l.Heading) }),
			app.H3().Text(title),
			app.P().Class("shown").Body(app.B().Text(l.Amount), app.If(l.Volume != "", func() app.UI { return app.Span().Text(" = " + l.Volume) })),
			app.P().Class("dose-weight").Text(beside),
			app.P().Body(app.Text(rule), app.If(l.Routes != "", func() app.UI { return app.Span().Text(" · " + l.Routes) })),
			app.Small().Text(l.Source+". "+shownActivity(l.Activity))))
	}
	for _, title := range c.Empty {
		doses = append(doses, app.Li().Class("dose", "lacking").Body(app.H3().Text(title), app.P().Text("not set by this unit")))
	}
	if c.Caution != "" {
		out = append(out, app.P().ID("card-caution").Class("caution").Text(c.Caution))
	}
	out = append(out, app.Ul().Class("doses").Body(doses...))
	if c.Edition != "" {
		out = append(out, app.P().Text(sentence(c.Edition)))
	}
	for _, n := range c.Notes {
		out = append(out, app.P().Text(n))
	}
	return append(out, toProfile)
}

// timelineUI draws the times of support as wide as the screen allows, and says in
// words what has no place on it.
func timelineUI(t calc.Timeline) []app.UI {
	width := min(max(float64(safe.Width())-56, 280), 900)
	if safe.Width() == 0 {
		width = 700
	}
	var out []app.UI
	if d, ok := timeline.Draw(t, width); ok {
		out = append(out, drawingUI(d))
		var bars []app.UI
		for _, l := range t.Lanes {
			for _, b := range l.Bars {
				bars = append(bars, app.Li().Text(b.Words))
			}
		}
		out = append(out, app.Ul().Class("timeline-words").Body(bars...))
	}
	for _, name := range t.Unplaced {
		out = append(out, app.P().Class("unplaced").Text(sentence(name)+" It has no clock times and no place in the picture."))
	}
	return out
}

// drawingUI is the picture as elements of the page.
func drawingUI(d timeline.Drawing) app.UI {
	n := safe.Number
	var shapes []app.UI
	for _, s := range d.Shapes {
		fill, stroke, width := s.Kind.Look()
		at := map[string]string{"class": "time-" + string(s.Kind), "fill": fill, "stroke": stroke, "stroke-width": width}
		switch {
		case s.Kind.IsText():
			at["x"], at["y"], at["text-anchor"], at["font-size"] = n(s.X), n(s.Y), s.Anchor, n(timeline.Size)
			if s.Kind == timeline.Bold {
				at["font-weight"] = "bold"
			}
			shapes = append(shapes, safe.SVGText(at, s.Text))
		case s.Kind == timeline.Dot:
			at["cx"], at["cy"], at["r"] = n(s.X), n(s.Y), n(s.W)
			shapes = append(shapes, safe.SVG("circle", at))
		case s.Points != nil:
			at["points"] = s.Path()
			shapes = append(shapes, safe.SVG("polyline", at))
		default:
			at["x"], at["y"], at["width"], at["height"] = n(s.X), n(s.Y), n(s.W), n(s.H)
			shapes = append(shapes, safe.SVG("rect", at))
		}
	}
	return safe.SVG("svg", map[string]string{"class": "timeline", "viewBox": "0 0 " + n(d.Width) + " " + n(d.Height), "width": n(d.Width), "height": n(d.Height),
		"role": "img", "aria-label": d.Words}, shapes...)
}
