//go:build js && wasm

// Command checks measures in the browser how long it takes to check the invented
// child's stage 1 note against its schema: a changed section, the whole note with
// the other sections remembered, and with nothing remembered. The page finds the
// milliseconds, and the note, in window.checks.
package main

import (
	"encoding/json"
	"strconv"
	"syscall/js"

	"fairlead/schema"
	"fairlead/testdata/bench/full"
)

const rounds = 100

func main() {
	rec, id := full.Note()
	n := rec.Whole(id).Clone()
	i := 0
	change := func() {
		i++
		n.Set(schema.MeasuresWeight, json.Number("3."+strconv.Itoa(1+i%997)))
	}
	times := func(several int, do func()) []any { return full.Times(rounds, several, do) }

	section := times(20, func() { change(); schema.ValidateSection(n, "measures") })
	cached := times(10, func() { change(); schema.Validate(n) })
	// With a member of its own in every section and item, nothing is remembered; a
	// member that this version does not know is let be.
	var others []*schema.Note
	for range rounds + 1 {
		others = append(others, unlike(n, len(others)))
	}
	uncached := times(1, func() { schema.Validate(others[0]); others = others[1:] })
	js.Global().Set("checks", map[string]any{"note": string(n.JSON()), "section": section, "cached": cached, "uncached": uncached})
	select {}
}

// unlike is the note with a member x-round in every section and item.
func unlike(n *schema.Note, round int) *schema.Note {
	var tree map[string]any
	if err := json.Unmarshal(n.JSON(), &tree); err != nil {
		panic(err)
	}
	mark := func(v any) {
		if m, ok := v.(map[string]any); ok {
			m["x-round"] = strconv.Itoa(round)
		}
	}
	for _, v := range tree {
		mark(v)
		if list, ok := v.([]any); ok {
			for _, item := range list {
				mark(item)
			}
		}
	}
	data, err := json.Marshal(tree)
	if err != nil {
		panic(err)
	}
	other, _, err := schema.ParseNote(data)
	if err != nil {
		panic(err)
	}
	return other
}
