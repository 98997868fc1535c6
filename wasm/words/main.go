//go:build js && wasm

// Command words reads dictations in a worker of the browser, beside the app: it is
// fetched after the app can be used, and reading never holds up a key.
package main

import (
	"encoding/json"
	"syscall/js"

	"fairlead/schema"
	"fairlead/schema/dictation"
)

func main() {
	var last *dictation.Reading
	// fairleadRead(kind, text) gives the reading as JSON. Text that was read before
	// and did not change is not read again.
	js.Global().Set("fairleadRead", js.FuncOf(func(_ js.Value, args []js.Value) any {
		kind, text := schema.Kind(args[0].String()), args[1].String()
		if last == nil || last.Kind != kind {
			last = dictation.Read(kind, text)
		} else {
			last.Update(text)
		}
		b, err := json.Marshal(last)
		if err != nil {
			panic(err) // plain data: it cannot fail
		}
		return string(b)
	}))
	// fairleadPractise(kind) reads a text of our own, and gives nothing.
	js.Global().Set("fairleadPractise", js.FuncOf(func(_ js.Value, args []js.Value) any {
		dictation.Read(schema.Kind(args[0].String()), practice)
		return nil
	}))
	js.Global().Call("fairleadReady")
	select {}
}
