// Package safe is the only user of the framework's constructors for inputs,
// options, buttons, SVG and handlers. The framework shows wrong things in these
// places unless guarded: an emptied input goes on showing what stood there,
// 3.5 becomes "3.5000", an empty attribute is dropped, SVG children are made
// without their namespace, a handler that changed is not replaced, a link
// inside the page moves no focus, and after a panic the page ignores taps.
//
// Everything here is a component whose exported fields are what it shows; the
// functions it calls are read when the event comes, so they are never stale.
// Every handler recovers, tells [Faults] and leaves the app running.
//
//	safe.Entry{ID: "weight", Value: text, Type: func(ctx app.Context, s string) { … }}.UI()
package safe

import (
	"fmt"
	"runtime/debug"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Faults is told of every panic that was caught: where, and what it said.
// It must not panic itself.
var Faults = func(where string, what any) { app.Log("fault in", where, what, string(debug.Stack())) }

// Guard runs do and catches a panic in it.
func Guard(where string, do func()) {
	defer func() {
		if what := recover(); what != nil {
			Faults(where, what)
		}
	}()
	do()
}

// Drawn returns what draw draws, or a sentence in its place if it panics, so
// that one broken part of a screen does not take the rest with it.
func Drawn(where string, draw func() app.UI) (ui app.UI) {
	defer func() {
		if what := recover(); what != nil {
			Faults(where, what)
			ui = app.P().Class("fault").Role("alert").Text("This part cannot be shown. What was kept is safe; reload the page to go on.")
		}
	}()
	return draw()
}

// Number writes a number for people and for attributes: no trailing zeros, no
// exponent.
func Number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Int writes a whole number.
func Int(v int) string { return strconv.Itoa(v) }

// Call runs f, if there is one, guarded.
func call(where string, ctx app.Context, f func(app.Context)) {
	if f != nil {
		Guard(where, func() { f(ctx) })
	}
}

// where names a place for a fault report; it holds no data about a child.
func where(kind, id string) string { return fmt.Sprintf("%s %s", kind, id) }
