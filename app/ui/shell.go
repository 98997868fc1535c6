package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
)

// shell is what app/web/loader.js knows: whether the app is kept for use without
// a network, and whether a newer version waits.
type shell struct {
	Version         string
	OfflineReady    bool
	OfflineProblem  string
	UpdateWaiting   bool
	UpdateElsewhere bool
	RestReady       bool // what is fetched after the app is kept too
}

// programVersion is the version of the program that is running, which the server
// writes into the page; "" where it is not known.
func programVersion() string {
	if app.IsServer {
		return ""
	}
	if v := safe.Document().Get("documentElement").Get("dataset").Get("version"); v.Truthy() {
		return v.String()
	}
	return ""
}

// readShell reads it from the page.
func readShell() shell {
	if app.IsServer {
		return shell{}
	}
	v := app.Window().Get("fairlead")
	if !v.Truthy() {
		return shell{}
	}
	word := func(name string) string {
		if x := v.Get(name); x.Truthy() {
			return x.String()
		}
		return ""
	}
	return shell{word("version"), v.Get("offlineReady").Truthy(), word("offlineProblem"), v.Get("updateWaiting").Truthy(), v.Get("updateElsewhere").Truthy(), v.Get("restReady").Truthy()}
}

// watchShell calls changed whenever it changes.
func watchShell(changed func()) (end func()) {
	if app.IsServer {
		return func() {}
	}
	return safe.Listen(app.Window(), "fairlead-shell", func(app.Value) { changed() })
}

// applyUpdate moves to the version that waits; the page reloads.
func applyUpdate() {
	if v := app.Window().Get("fairlead"); v.Truthy() {
		v.Call("applyUpdate")
	}
}

// remembered and remember keep a choice of this tab, such as who is writing, over
// a reload. Nothing about a child goes there.
func remembered(name string) string { return smallGet("sessionStorage", name) }
func remember(name, value string)   { smallSet("sessionStorage", name, value) }

// settled and settle keep a choice of this device, such as its look. Nothing about
// a child or a person goes there.
func settled(name string) string { return smallGet("localStorage", name) }
func settle(name, value string)  { smallSet("localStorage", name, value) }

// smallGet and smallSet use the browser's stores of single words; where the browser
// refuses them, app/web/loader.js has something stand in. When one throws because
// there is no room, the choice is lost with the page, and no more than that.
func smallGet(store, name string) (value string) {
	if app.IsServer {
		return ""
	}
	defer func() { _ = recover() }()
	if v := app.Window().Get(store).Call("getItem", "fairlead "+name); v.Truthy() {
		value = v.String()
	}
	return value
}

func smallSet(store, name, value string) {
	if app.IsServer {
		return
	}
	defer func() { _ = recover() }()
	app.Window().Get(store).Call("setItem", "fairlead "+name, value)
}

// chooseLook sets the look of the screen: "" as the device has it, "day" or
// "night".
func chooseLook(look string) {
	safe.Mark("data-look", look)
	settle("look", look)
}
