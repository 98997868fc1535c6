package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
)

// frame is the one component the framework knows by its address: the bar, the
// child's banner, the notices, and the screen in them.
type frame struct {
	app.Compo
	s     *Session
	end   []func()
	title string
}

func (f *frame) OnMount(ctx app.Context) {
	safe.Guard("mount", func() {
		f.s.ctx, f.s.ready = ctx, true
		f.end = append(f.end, watchShell(func() { f.s.later(f.s.readShell) }))
		f.s.readShell()
		f.end = append(f.end, f.s.watchPage()...)
		f.s.keeper.show()
		f.s.start()
	})
}

func (f *frame) OnDismount() {
	for _, end := range f.end {
		end()
	}
	f.end = nil
}

// OnNav shows the place of the address, and takes the focus there: the framework
// moves none.
func (f *frame) OnNav(ctx app.Context) {
	safe.Guard("nav", func() {
		u := ctx.Page().URL()
		was, landing := f.s.place, f.s.landing
		f.s.landing = ""
		f.s.show(PlaceAt(u.Path))
		switch {
		case landing != "":
			safe.FocusSoon(landing)
		case u.Fragment != "":
			safe.FocusSoon(u.Fragment)
		case was.Screen != "" && was != f.s.place:
			same := was
			same.Part = f.s.place.Part
			opened := "item-" + same.Part
			if same.Part == "" {
				opened += was.Part // it was closed
			}
			ctx.Defer(func(app.Context) {
				safe.Guard("nav", func() {
					if _, there := safe.Element(opened); there && same == f.s.place { // one of a list: stay at it
						safe.FocusSoon(opened)
						return
					}
					app.Window().Call("scrollTo", 0, 0)
					safe.FocusSoon("heading")
				})
			})
		}
	})
}

// Render draws the page.
func (f *frame) Render() app.UI {
	return safe.Drawn("frame", f.draw)
}

func (f *frame) draw() app.UI {
	s := f.s
	sc := s.screenAt()
	if app.IsClient && !s.ready && !s.locked {
		sc = openingScreen
	}
	title := sc.title
	if app.IsClient && s.ready {
		if title := title + " – fairlead"; title != f.title { // nothing about a child: titles are kept in histories
			f.title = title
			safe.Document().Set("title", title)
		}
	}
	main := app.Main().ID("main").Class("screen-" + sc.name).TabIndex(-1)
	if sc.wide {
		main = main.Class("wide")
	}
	if sc.note {
		main = main.Class("tabbed")
	}
	var body []app.UI
	if !sc.bare {
		body = append(body, app.H1().ID("heading").TabIndex(-1).Text(title))
	}
	body = append(body, safe.Drawn("screen "+sc.name, func() app.UI {
		if sc.child && s.opening {
			return app.P().Class("page").Aria("busy", true).Text("Opening…")
		}
		return app.Div().Class("screen").Body(sc.draw(s))
	}))
	return app.Div().ID("app").Body(
		f.bar(sc),
		app.Div().ID("banner").Body(s.banner(sc)...),
		app.Div().Class("notices").Body(s.noticesUI()...),
		main.Body(body...),
		f.status(sc),
		app.Div().ID("said-aloud").Class("aside-only").Aria("live", "polite"),
	)
}

// bar holds the way home, how far things are kept, undo and redo, and who writes.
func (f *frame) bar(sc screen) app.UI {
	s := f.s
	body := []app.UI{
		safe.Link{Class: "skip", To: s.place.Path() + "#main", Words: "Skip to the screen"}.UI(),
		safe.Link{Class: "home", To: "/", Words: "fairlead", Aside: "all children", Here: s.place.Screen == "children"}.UI(),
		app.Span().Class("space")}
	who := "Who is writing?"
	if s.who.Name != "" {
		who = s.who.String()
	}
	body = append(body, safe.Link{ID: "who", To: "/device", Words: who, Name: "Writing: " + who + ". Not authenticated. Change it, the look, or this device's store.", Here: s.place.Screen == "device"}.UI())
	return app.Header().Class("bar").Body(body...)
}

// status says how far things are kept, and offers undo. What it says is put there
// by the keeper, not by the framework, so that it is never older than what stands
// on the screen.
func (f *frame) status(sc screen) app.UI {
	body := []app.UI{app.Span().ID("kept").Class("kept")}
	if f.s.child != nil && sc.child {
		body = append(body, f.s.undoButtons()...)
	}
	return app.Section().Class("status").Aria("label", "Kept, undo").Body(body...)
}

// noticesUI draws what there is to say across the top.
func (s *Session) noticesUI() []app.UI {
	var out []app.UI
	put := func(n notice, close bool, more ...app.UI) {
		body := []app.UI{app.P().Text(n.words)}
		if n.do != "" {
			body = append(body, safe.Button{ID: n.id + "-do", Class: "main", Words: n.do, Press: n.act}.UI())
		}
		body = append(body, more...)
		if close {
			body = append(body, safe.Button{ID: n.id + "-close", Class: "quiet", Words: "Put away", Press: func(app.Context) { s.unsay(n.id) }}.UI())
		}
		out = append(out, app.Div().ID(n.id).Class("notice", n.class).Role("status").Body(body...))
	}
	if trouble := s.keeper.trouble(); trouble != "" {
		n := notice{id: "not-kept", class: "bad", words: "What you enter is not being kept on this device: " + trouble + " It is still on this screen."}
		if s.child != nil {
			n.words += " Save it as a file now, or try again."
			n.do, n.act = "Save as a file", func(app.Context) { s.export(s.child.id) }
		}
		put(n, false, safe.Button{ID: "not-kept-again", Words: "Try again", Press: func(app.Context) { s.keeper.poke() }}.UI())
	}
	if s.shell.UpdateElsewhere {
		put(notice{id: "update-elsewhere", words: "Another tab has moved to a newer version of fairlead. Reload this one when you have finished here.", do: "Reload",
			act: func(ctx app.Context) { s.whenSafe(ctx.Reload) }}, false)
	} else if s.shell.UpdateWaiting {
		put(notice{id: "update-waiting", words: "A new version is ready. It is used when no page is open any more, or now.", do: "Use it now",
			act: func(app.Context) { s.whenSafe(applyUpdate) }}, false)
	}
	// Elsewhere the words LIKE NAME in the banner must do: they take less room.
	if sc := s.place.Screen; s.child != nil && !s.locked && (sc == "child" || sc == "check" || sc == "review") {
		if other := s.alike(s.child.id); other != "" {
			put(notice{id: "alike", words: "Take care: another child on this device has a like name, " + other + ". Compare the number and the date of birth."}, false)
		}
	}
	for _, n := range s.notices {
		put(n, true)
	}
	return out
}

// whenSafe takes what is being typed as meant, and does something that ends the
// page once all of it is kept; if it is not kept, it does not.
func (s *Session) whenSafe(do func()) {
	s.commitHere()
	s.keeper.whenKept(func() {
		if s.keeper.trouble() == "" {
			do()
		}
	})
}

// readShell takes what the page's loader knows, and says once on this device that
// it is ready to work offline.
func (s *Session) readShell() {
	s.shell = readShell()
	if s.shell.OfflineReady && settled("offline said") == "" {
		settle("offline said", "yes")
		s.offlineNews = true
	}
}

// linkTo is a link to a place.
func linkTo(p Place, words string, class ...string) app.UI {
	return safe.Link{To: p.Path(), Words: words, Class: strings.Join(class, " ")}.UI()
}
