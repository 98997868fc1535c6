//go:build js && wasm

// Command register measures in the browser how long it takes to fold the 10 000
// events of an invented child, and to work out the register from the record. The
// page finds the milliseconds in window.register.
package main

import (
	"syscall/js"
	"time"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema/profile"
	"fairlead/testdata/bench/shift"
)

// rounds is how often each is measured.
const rounds = 40

func main() {
	prof := profile.Default()
	times := func(do func()) []any {
		do() // what is made once is made
		var out []any
		for range rounds {
			begun := time.Now()
			do()
			out = append(out, float64(time.Since(begun).Nanoseconds())/1e6)
		}
		return out
	}
	child, _, events, now := shift.Events(1, 10000)
	var rec *ledger.Record
	fold := times(func() { rec = ledger.FoldCase(child, events) })
	open := times(func() {
		if r := ledger.FoldCase(child, events); len(r.ItemsIn()) == 0 {
			panic("nothing is in")
		}
	})
	register := times(func() { lines.RegisterOf(rec, prof, now) })
	_, _, few, then := shift.Events(1, 1000)
	day := ledger.FoldCase(child, few)
	tap := times(func() { lines.RegisterOf(day, prof, then) })
	js.Global().Set("register", map[string]any{"fold": fold, "open": open, "register": register, "tap": tap, "events": len(events)})
	select {}
}
