//go:build js && wasm

// Command fairlead in the browser: the app itself.
package main

import (
	"os"
	"syscall/js"

	"fairlead/app/ui"
)

func main() {
	if len(os.Args) > 1 && os.Args[1] == "plant-panic" {
		allowPlantedPanic()
	}
	ui.Start()
}

// allowPlantedPanic gives the page a way to stop the app, past every recover.
func allowPlantedPanic() {
	js.Global().Get("fairlead").Set("plantPanic", js.FuncOf(func(js.Value, []js.Value) any {
		go panic("planted by a test")
		return nil
	}))
}
