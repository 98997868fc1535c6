package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// faultsHere lists what of the record could not be used or does not fit, so that
// nothing is left out silently.
func (c *Child) faultsHere() app.UI {
	faults := append(c.rec.Faults(), c.rec.ClocksAhead(c.s.zone.Now())...)
	if len(faults) == 0 {
		return nil
	}
	var body []app.UI
	for _, f := range faults {
		body = append(body, app.Li().Body(app.Text(f.What+" "), app.Span().Class("do").Text(f.Do)))
	}
	return app.Div().Class("page").Body(app.H2().Text("What the record could not settle"), app.Ul().Class("faults").Body(body...))
}
