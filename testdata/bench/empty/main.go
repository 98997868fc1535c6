//go:build js && wasm

// Command empty is the framework with nothing in it: one component, one
// heading. What the app's start is compared with.
package main

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type empty struct{ app.Compo }

func (e *empty) Render() app.UI { return app.Main().Body(app.H1().Text("empty")) }

func main() {
	app.RouteWithRegexp("^/.*", func() app.Composer { return &empty{} })
	app.RunWhenOnBrowser()
}
