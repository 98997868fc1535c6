package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/ledger"
)

// screen is one screen: a file of its own that adds it with
//
//	var _ = addScreen(screen{name: "review", title: "Review and sign", child: true, note: true, draw: drawReview})
type screen struct {
	name  string // in the address
	title string // its heading, and what the tab of the browser says
	child bool   // it needs a child
	note  bool   // it needs a note of that child
	wide  bool   // it uses the whole width
	bare  bool   // it draws its own heading, with id="heading"
	draw  func(s *Session) app.UI

	// enter and leave are called when it comes and when it goes; they may be nil.
	enter, leave func(s *Session)
}

var screens = map[string]screen{}

func addScreen(sc screen) bool {
	screens[sc.name] = sc
	return true
}

// openingScreen is what is drawn before the address has been read.
var openingScreen = screen{name: "opening", title: "Opening", draw: func(s *Session) app.UI {
	return app.P().Class("page").Aria("busy", true).Text("Reading what is kept…")
}}

// lostScreen is shown for an address that leads nowhere.
var lostScreen = screen{name: "", title: "There is nothing here", draw: func(s *Session) app.UI {
	return app.Div().Class("page").Body(
		app.P().Text("The address leads to nothing that is kept on this device. A child that was entered on another device must be imported from its file first."),
		linkTo(Place{Screen: "children"}, "All children", "button"))
}}

// noNoteScreen is shown for a note of the child on screen that is not there.
var noNoteScreen = screen{name: "", title: "This note is not here", child: true, draw: func(s *Session) app.UI {
	return app.Div().Class("page").Body(
		app.P().Text("It was taken back when it had just been begun, or it was begun on another device and has not come here yet."),
		linkTo(Place{Screen: "child", Case: s.place.Case}, "This child", "button"))
}}

// screenAt is the screen of a place, given what is kept.
func (s *Session) screenAt() screen {
	sc, ok := screens[s.place.Screen]
	switch {
	case s.locked:
		return lockScreen
	case !ok,
		sc.child && s.place.Case == "",
		sc.note && s.place.Note == ledger.NoteID(""):
		return lostScreen
	case sc.child && s.child == nil && !s.opening:
		return lostScreen
	case sc.note && s.child != nil && !s.opening && s.child.rec.NoteGone(s.place.Note):
		return noNoteScreen
	}
	return sc
}
