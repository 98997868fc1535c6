//go:build js && wasm

package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/keep"
	"fairlead/app/ui/civil"
)

// Start shows the app in the browser and returns when it stops.
func Start() {
	s := newSession(civil.Here(), keep.Random)
	app.RouteWithRegexp("^/.*", func() app.Composer { return &frame{s: s} })
	app.RunWhenOnBrowser()
}
