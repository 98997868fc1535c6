//go:build js && wasm

// Command values measures in the browser how long it takes to work out everything
// for the invented child's stage 1 note, and again after the weight changed. The
// page finds the milliseconds in window.values.
package main

import (
	"syscall/js"

	"fairlead/handover/calc"
	"fairlead/handover/calc/values"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/testdata/bench/full"
)

// rounds is how often each is measured.
const rounds = 200

func main() {
	rec, id := full.Note()
	prof := profile.Default()
	times := func(several int, do func()) []any { return full.Times(rounds, several, do) }

	shown := 0
	for _, r := range values.FromRecord(rec, id, prof, "2026-07-14").All() {
		if r.OK {
			shown++
		}
	}
	n := rec.Whole(id).Clone()
	engine := calc.New(prof, calc.FromRecord(rec, id))
	engine.Compute(n)
	whole := times(1, func() { values.FromRecord(rec, id, prof, "2026-07-14") })
	computing := times(1, func() { engine.Compute(n) })
	weight := times(20, func() { engine.Update(n, schema.MeasuresWeight) })
	ran, of := engine.Ran()
	oxygen := times(20, func() { engine.Update(n, schema.GasOxygen) })
	ranOxygen, _ := engine.Ran()
	js.Global().Set("values", map[string]any{"whole": whole, "compute": computing, "weight": weight, "oxygen": oxygen,
		"ran": ran, "ranOxygen": ranOxygen, "of": of, "shown": shown})
	select {}
}
