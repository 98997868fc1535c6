package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
)

var _ = addScreen(screen{name: "device", title: "This device", draw: drawDevice})

// roles are those who own sections of a note, and others who write in one.
var roles = []string{"surgeon", "anaesthetist", "perfusionist", "scrub nurse", "intensive-care nurse", "intensivist"}

// whoForm asks, once, who is writing. Nothing vouches for the answer, and it says
// so.
type whoForm struct {
	app.Compo
	S    *Session
	Done func(ctx app.Context)

	name, role string
	begun      bool
	lacks      string
}

func (w *whoForm) Render() app.UI { return safe.Drawn("who", w.draw) }

func (w *whoForm) draw() app.UI {
	if !w.begun {
		w.begun, w.name, w.role = true, w.S.who.Name, w.S.who.Role
	}
	var picks []app.UI
	for _, r := range roles {
		picks = append(picks, safe.Tick{ID: "role-" + strings.ReplaceAll(r, " ", "-"), Group: "who-role", Words: strings.ToUpper(r[:1]) + r[1:], On: w.role == r,
			Change: func(ctx app.Context, on, _ bool) { w.role = r }}.UI())
	}
	return app.Div().Class("who-form").Role("group").Aria("labelledby", "who-title").Body(
		app.H2().ID("who-title").Text("Who is writing?"),
		app.P().ID("who-why").Text("Your name goes with everything you enter. It is not authenticated: the device takes your word for it."),
		app.Label().For("who-name").Text("Name"),
		safe.Entry{ID: "who-name", Value: w.name, Max: 80, Complete: "name", Told: "who-why", Wrong: w.lacks != "" && strings.TrimSpace(w.name) == "",
			Type:  func(ctx app.Context, s string) { w.name = s },
			Enter: func(ctx app.Context) { w.save(ctx) }}.UI(),
		app.Div().Class("roles").Role("radiogroup").Aria("label", "Role").Body(picks...),
		alert(w.lacks),
		app.Div().Class("actions").Body(safe.Button{ID: "who-save", Class: "main", Words: "Write under this name", Press: w.save}.UI()))
}

func (w *whoForm) save(ctx app.Context) {
	name := strings.Join(strings.Fields(w.name), " ")
	switch {
	case name == "":
		w.lacks = "Enter your name."
		safe.FocusSoon("who-name")
		return
	case w.role == "":
		w.lacks = "Choose your role."
		safe.FocusSoon("role-surgeon")
		return
	}
	w.lacks = ""
	w.S.setWho(ledger.Author{Name: name, Role: w.role})
	if w.Done != nil {
		w.Done(ctx)
		return
	}
	safe.FocusSoon("heading")
}

// drawDevice is about this device: who is writing, how the screen looks, what is
// kept, and how to lock and wipe it.
func drawDevice(s *Session) app.UI {
	look := func(value, words string) app.UI {
		return safe.Tick{ID: "look-" + words, Group: "look", Words: words, On: s.look == value, Change: func(ctx app.Context, on, _ bool) {
			s.look = value
			chooseLook(value)
		}}.UI()
	}
	offline := "This device is not yet ready to work offline."
	switch {
	case s.shell.OfflineReady:
		offline = "Ready to work offline."
	case s.shell.OfflineProblem != "":
		offline = s.shell.OfflineProblem
	}
	version := s.shell.Version
	if version == "" {
		version = "not known"
	}
	return app.Div().Body(
		app.Div().Class("page").Body(&whoForm{S: s, Done: func(app.Context) { safe.Announce("said-aloud", "Writing as "+s.who.String()) }}),
		s.profileLink(),
		app.Div().Class("page").Body(
			app.H2().ID("look-title").Text("How the screen looks"),
			app.Div().Class("ticks").Role("radiogroup").Aria("labelledby", "look-title").Body(look("", "As the device"), look("day", "Day"), look("night", "Night"))),
		app.Div().Class("page").Body(
			app.H2().Text("What is kept here"),
			app.P().ID("offline-state").Text(offline),
			s.storeWords(),
			app.P().Text("Version "+version+", definitions "+definitionsVersion()+"."),
			s.wipeActions()),
		app.Div().Class("page").Body(
			app.H2().Text("Cautions"),
			app.P().Text("fairlead records, computes and reminds; it does not decide. Local protocols and licensed clinicians decide. Names are typed and not authenticated. What is kept here is on this device only until it is saved as a file.")))
}

// storeWords says what the browser promises about the store.
func (s *Session) storeWords() app.UI {
	if s.storeTrouble != "" {
		return app.P().Class("store", "wrong").Role("alert").Text("Nothing can be kept on this device: " + s.storeTrouble + " You can look around, but what you enter is lost when this page closes. Save it as a file.")
	}
	return app.P().Class("store").Text(s.persistent)
}
