//go:build js && wasm

// Command plain is the framework's own form of ten inputs, each with a line that
// shows what was typed. What a keystroke in the app is compared with.
package main

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

type plain struct {
	app.Compo
	typed [10]string
}

func (p *plain) Render() app.UI {
	return app.Main().Body(app.H1().Text("plain"), app.Range(p.typed).Slice(func(i int) app.UI {
		return app.Div().ID("field-"+strconv.Itoa(i)).Body(
			app.Label().For("input-"+strconv.Itoa(i)).Text("Field "+strconv.Itoa(i)),
			app.Input().ID("input-"+strconv.Itoa(i)).Type("text").OnInput(func(ctx app.Context, e app.Event) {
				p.typed[i] = ctx.JSSrc().Get("value").String()
			}, app.EventScope(i)),
			app.P().Text(p.typed[i]))
	}))
}

func main() {
	app.RouteWithRegexp("^/.*", func() app.Composer { return &plain{} })
	app.RunWhenOnBrowser()
}
