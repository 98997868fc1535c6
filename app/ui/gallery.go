package ui

import (
	"math/rand"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// The gallery shows every widget and every screen in every state, from fixed
// invented data and without a store, for the people who work on them.
var _ = addScreen(screen{name: "gallery", title: "Gallery", wide: true, bare: true, draw: drawGallery, enter: enterGallery, leave: leaveGallery})

// gallery is a session of its own, over the invented children, that keeps nothing.
type gallery struct {
	*Session
	events map[ledger.CaseID][]ledger.Event
	full   ledger.CaseID // the child with the whole journey
	others []ledger.CaseID
	at     time.Time
	state  string // the state it stands in
}

// newGallery makes it. Its clock stands a day after the last thing that happened
// to the invented children, and goes on a millisecond each time it is read.
func newGallery(events []ledger.Event) *gallery {
	g := &gallery{events: map[ledger.CaseID][]ledger.Event{}}
	for _, e := range events {
		if g.events[e.Case] == nil {
			g.others = append(g.others, e.Case)
		}
		g.events[e.Case] = append(g.events[e.Case], e)
		if at := e.Happened.Instant(); at.After(g.at) {
			g.at = at
		}
	}
	g.full, g.others = g.others[0], g.others[1:]
	g.at = g.at.Add(24 * time.Hour)
	now := func() time.Time { g.at = g.at.Add(time.Millisecond); return g.at }
	faults := safe.Faults
	g.Session = newSession(civil.In(time.UTC, now), rand.New(rand.NewSource(11)))
	safe.Faults = faults // the page's own session is told
	g.store, g.device = ledger.NewMemory(), forgetful()
	return g
}

// reset goes back to where every state begins: A. Surgeon writes, the three
// children are in the list, none is open.
func (g *gallery) reset() {
	g.keeper = newKeeper(g.Session)
	g.keeper.never, g.keeper.failed = galleryKeepsNothing, galleryKeepsNothing
	g.child, g.opening, g.storeTrouble, g.notices, g.offlineNews = nil, false, "", nil, false
	g.persistent, g.shell, g.look = "This is the gallery: nothing is kept.", shell{Version: "gallery", OfflineReady: true}, ""
	g.who = ledger.Author{Name: "A. Surgeon", Role: "surgeon"}
	g.unit = nil // as it ships
	g.board, g.reader = board{}, &wordsReader{s: g.Session}
	g.place, g.list, g.listRead = Place{Screen: "children"}, nil, true
	for _, c := range append([]ledger.CaseID{g.full}, g.others...) {
		g.listLine(lineOf(ledger.FoldCase(c, g.events[c])))
	}
	g.sheet.forget()
}

const galleryKeepsNothing = "this is the gallery, and it keeps nothing."

// open opens one of the invented children at a screen of one of its notes, counted
// from 0; below 0, from the last.
func (g *gallery) open(c ledger.CaseID, note int, screen, part string) {
	g.child = g.newChildOf(ledger.FoldCase(c, g.events[c]))
	notes := g.child.rec.Notes()
	if note < 0 {
		note += len(notes)
	}
	g.place = Place{Screen: screen, Case: c, Note: notes[note].ID, Part: part}
}

// begin opens a new child, and with a kind a new note of it.
func (g *gallery) begin(kind schema.Kind, screen, part string) {
	id := ledger.CaseID(g.ids.New())
	w := ledger.NewWriter(id, g.writerID, g.who, g.clock, g.ids, g.now)
	g.child = g.newChildOf(ledger.FoldCase(id, []ledger.Event{w.OpenCase()}))
	g.place = Place{Screen: screen, Case: id, Part: part}
	if kind != "" {
		g.place.Note = w.NewNote()
		g.child.act(w.OpenNote(g.place.Note, kind))
	}
}

// set enters a value in the note that is open.
func (g *gallery) set(p schema.Path, e ledger.Entry) {
	g.child.act(g.child.writer.Set(g.child.rec, g.place.Note, p, e))
}

// another is a second person at another tab.
func (g *gallery) another(name, role string) *ledger.Writer {
	return ledger.NewWriter(g.child.id, ledger.WriterID(g.ids.New()), ledger.Author{Name: name, Role: role}, g.clock, g.ids, g.now)
}

func enterGallery(s *Session) {
	s.withDemo(func(events []ledger.Event) {
		if s.place.Screen == "gallery" { // it may have been left meanwhile
			s.gallery = newGallery(events)
		}
	})
}

func leaveGallery(s *Session) {
	s.gallery = nil
	s.keeper.show()
	safe.Mark("data-look", s.look)
}

// drawGallery draws the list of all there is, or one state of one screen.
func drawGallery(s *Session) app.UI {
	if s.gallery == nil {
		return app.P().Aria("busy", true).Text("The invented children are being fetched…")
	}
	g := s.gallery
	for i, st := range galleryStates {
		if st.name != s.place.Part {
			continue
		}
		if g.state != st.name {
			g.state = st.name
			g.reset()
			st.make(g)
			if sc := screens[g.place.Screen]; sc.enter != nil && g.child != nil {
				sc.enter(g.Session)
			}
		}
		return app.Div().Class("gallery").Body(
			app.Nav().Class("gallery-bar").Aria("label", "Gallery").Body(
				linkTo(Place{Screen: "gallery"}, "Gallery", "button", "quiet"),
				app.Span().Text(itoa(i+1)+" of "+itoa(len(galleryStates))+": "+st.words),
				app.If(i+1 < len(galleryStates), func() app.UI {
					return linkTo(Place{Screen: "gallery", Part: galleryStates[(i+1)%len(galleryStates)].name}, "Next", "button", "quiet")
				}),
				galleryLooks()),
			&galleryRoom{State: st.name, G: g, Draw: func() app.UI { return g.draw() }})
	}
	g.state = ""
	var groups []app.UI
	var items []app.UI
	title := ""
	end := func() {
		if len(items) > 0 {
			groups = append(groups, app.Div().Class("page").Body(app.H2().Text(title), app.Ul().Class("gallery-list").Body(items...)))
		}
		items = nil
	}
	for _, st := range galleryStates {
		if st.screen != title {
			end()
			title = st.screen
		}
		items = append(items, app.Li().Body(safe.Link{To: Place{Screen: "gallery", Part: st.name}.Path(), Words: st.words}.UI()))
	}
	end()
	return app.Div().Class("gallery").Body(
		app.H1().ID("heading").TabIndex(-1).Text("Gallery"),
		app.P().Text("Every screen and every widget in every state, for the people who work on them. The children are invented; nothing is kept."),
		galleryLooks(),
		app.Div().Class("gallery-groups").Body(groups...),
		app.Section().Class("page", "form").Aria("labelledby", "pinned-title").Body(
			app.H2().ID("pinned-title").Text("Widgets, "+itoa(len(pinnedFields()))), drawPinned(idle{})))
}

// galleryLooks show the page by day and by night, whatever the device has.
func galleryLooks() app.UI {
	put := func(value, words string) app.UI {
		return safe.Button{ID: "gallery-" + words, Class: "quiet", Words: words, Press: func(app.Context) { safe.Mark("data-look", value) }}.UI()
	}
	return app.Div().Class("gallery-looks").Role("group").Aria("label", "Look").Body(put("", "As the device"), put("day", "Day"), put("night", "Night"))
}

// galleryRoom is one state; another state gets new elements.
type galleryRoom struct {
	app.Compo
	State string
	G     *gallery
	Draw  func() app.UI
}

func (r *galleryRoom) CompoID() string { return r.State }

func (r *galleryRoom) Render() app.UI { return safe.Drawn("gallery", r.Draw) }

// draw draws the screen the gallery stands at, with its banner and notices.
func (g *gallery) draw() app.UI {
	s := g.Session
	sc := s.screenAt()
	var body []app.UI
	if b := s.banner(sc); len(b) > 0 {
		body = append(body, app.Div().Class("gallery-banner").Body(b...))
	}
	if g.keeper.never == "" || len(g.notices) > 0 || g.shell.UpdateWaiting {
		body = append(body, app.Div().Class("notices").Body(s.noticesUI()...))
	}
	if !sc.bare {
		body = append(body, app.H1().ID("heading").TabIndex(-1).Text(sc.title))
	}
	body = append(body, safe.Drawn("screen "+sc.name, func() app.UI {
		if sc.child && s.opening {
			return app.P().Class("page").Aria("busy", true).Text("Opening…")
		}
		return app.Div().Class("screen").Body(sc.draw(s))
	}))
	if g.child != nil && sc.note {
		s.sheetSoon()
	}
	return app.Div().Class("gallery-room", "screen-"+sc.name).Body(body...)
}
