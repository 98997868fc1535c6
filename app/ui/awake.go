package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
)

var awake app.Value

// stayAwake keeps the screen from going dark during a check, where the browser
// can: a tablet that sleeps in a gloved hand does not wake for it.
func stayAwake(on bool) {
	if app.IsServer {
		return
	}
	lock := app.Window().Get("navigator").Get("wakeLock")
	if !lock.Truthy() {
		return
	}
	safe.Guard("wake lock", func() {
		if !on {
			if awake != nil && awake.Truthy() {
				awake.Call("release")
			}
			awake = nil
			return
		}
		// The browser may refuse, for want of battery: then the screen sleeps.
		safe.Await("wake lock", lock.Call("request", "screen"), func(v app.Value) { awake = v }, nil)
	})
}
