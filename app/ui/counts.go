package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "counts", title: "Counts over time", wide: true, draw: drawCounts, enter: (*Session).readCounts, leave: func(s *Session) { s.counts = counted{asked: s.counts.asked + 1} }})

// counted is what is counted over all children on this device.
type counted struct {
	of    *lines.Counts // nil while it is read
	asked int
	kind  string
}

// readCounts counts over every child on this device.
func (s *Session) readCounts() {
	s.counts.asked++
	asked := s.counts.asked
	c := lines.NewCounts(civil.Now(s.zone))
	if s.counts.of = nil; s.store == nil {
		return // until it is open
	}
	s.eachRecord(func(rec *ledger.Record) { c.Add(rec) }, func() {
		s.later(func() {
			if asked == s.counts.asked {
				s.counts.of = c
			}
		})
	})
}

// drawCounts shows the pictures: each is a table whose bars are drawn.
func drawCounts(s *Session) app.UI {
	c := s.counts.of
	if c == nil {
		return app.P().Class("page").Aria("busy", true).Text("Reading what is kept…")
	}
	var options []safe.Option
	for _, k := range schema.ItemKinds() {
		if c.Kinds[k.Name] != nil {
			options = append(options, safe.Option{Value: k.Name, Words: k.Title})
		}
	}
	body := []app.UI{app.Div().Class("page", "board-head").Body(
		app.Label().For("counts-kind").Text("By month, which things?"),
		safe.Select{ID: "counts-kind", Value: s.counts.kind, Empty: "All kinds", Options: options, Change: func(_ app.Context, v string) { s.counts.kind = v }}.UI(),
		app.P().ID("counts-of").Role("status").Text("From the records of "+itoa(c.Children)+map[bool]string{true: " child", false: " children"}[c.Children == 1]+" on this device, for the unit's own learning. Numbers are small: a change may be chance. No person is counted or compared."),
		safe.Button{ID: "counts-print", Words: "Print", Press: func(app.Context) { safe.Print() }}.UI(),
		linkTo(Place{Screen: "board"}, "The unit: what is in every child", "button"))}
	for _, p := range c.Pictures(s.counts.kind) {
		var rows []app.UI
		for _, b := range p.Bars {
			rows = append(rows, app.Tr().Body(app.Th().Scope("row").Text(b.Of), app.Td().Class("count-bar").Body(
				safe.SVG("svg", map[string]string{"viewBox": "0 0 100 10", "preserveAspectRatio": "none", "aria-hidden": "true"},
					safe.SVG("rect", map[string]string{"width": "100", "height": "10", "class": "count-all"}),
					safe.SVG("rect", map[string]string{"width": safe.Number(100 * b.Long), "height": "10", "class": "count-part"}))), app.Td().Text(b.Words)))
		}
		title := "counts-" + p.ID
		in := app.P().Text("Nothing to count yet.")
		body = append(body, app.Section().Class("page", "counts").Aria("labelledby", title).Body(app.H2().ID(title).Text(p.Title), app.P().Text(p.Means),
			app.If(len(rows) == 0, func() app.UI { return in }),
			app.If(len(rows) > 0, func() app.UI {
				return app.Table().Aria("labelledby", title).Body(app.THead().Body(app.Tr().Body(app.Th().Scope("col").Text(p.Heads[0]), app.Td(), app.Th().Scope("col").Text(p.Heads[1]))), app.TBody().Body(rows...))
			})))
	}
	return app.Div().Class("counts-all").Body(body...)
}
