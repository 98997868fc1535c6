package ui

import (
	"io"
	"strings"
	"sync"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/calc/values"
	"fairlead/handover/ledger"
	"fairlead/schema/profile"
)

// Session is what one tab has open: who is writing, which screen is shown, the
// child on it, and how far all of it is kept. Everything here happens on the user
// interface's own goroutine; slow work goes to others and comes back through
// [Session.later].
type Session struct {
	zone       civil.Zone
	who        ledger.Author
	locked     bool // nothing of any child is shown until somebody says who they are
	look       string
	shell      shell
	place      Place
	accountAsk *accountAsked // what the account is opened for next
	landing    string        // the element that takes the focus at the next place
	shown      screen

	child   *Child // the child on screen, nil on screens without one
	opening bool   // it is being read from the store

	unit     *profile.Profile // read when first asked for; see profile
	settings settings         // how the unit's profile is kept, and the change under way
	worked   values.Kept      // out of the note on screen
	ids      *ledger.IDs
	clock    *ledger.Generator
	writerID ledger.WriterID

	store        ledger.Log
	storeTrouble string // why nothing can be kept on this device
	persistent   string // what the browser says about keeping it
	keeper       *keeper
	reader       *wordsReader // of dictations
	board        board
	counts       counted
	device       device
	list         []listed
	listRead     bool
	listAsked    int // how often it was asked for: an older answer that comes late is dropped

	notices     []notice
	offlineNews bool // to say that it is ready to work offline
	sheet       beside
	gallery     *gallery // while the gallery is on screen

	early sync.Mutex  // before the frame is mounted, one thing is done after another
	ctx   app.Context // of the frame; zero until it is mounted
	ready bool
}

// newSession is a session of one tab. The wall clock and the randomness come from
// outside.
func newSession(zone civil.Zone, random io.Reader) *Session {
	s := &Session{zone: zone}
	s.ids = ledger.NewIDs(random, zone.Now)
	s.clock = ledger.NewGenerator(zone.Now)
	s.writerID = ledger.WriterID(s.ids.New())
	s.keeper = newKeeper(s)
	s.reader = &wordsReader{s: s}
	told := map[string]bool{}
	log := safe.Faults
	safe.Faults = func(where string, what any) {
		log(where, what)
		if told[where] { // a part that cannot be drawn fails on each drawing
			return
		}
		told[where] = true
		if s.ready {
			go s.later(func() {
				s.say(notice{id: "fault", class: "bad", words: "Something in fairlead failed (" + where + "). What was kept is safe. If the screen looks wrong, reload the page."})
			})
		}
	}
	return s
}

// profile is the unit's profile: thresholds, doses, wording.
func (s *Session) profile() *profile.Profile {
	if s.unit == nil {
		s.unit = profile.Default()
	}
	return s.unit
}

// setWho says who is writing from now on. The name is typed; nothing vouches for
// it.
func (s *Session) setWho(a ledger.Author) {
	s.who = a
	if a.Name != "" {
		s.locked = false
		remember("locked", "")
	}
	remember("name", a.Name)
	remember("role", a.Role)
	if s.child != nil {
		s.child.writer = s.child.writer.As(a)
		s.child.seen = seen{}
		for _, o := range s.child.notes {
			clear(o.lines)
		}
	}
}

// show makes a place the one on screen.
func (s *Session) show(p Place) {
	was := s.place
	if s.shown.leave != nil && was != p {
		s.shown.leave(s)
	}
	s.place = p
	if p.Case != was.Case || s.child == nil && p.Case != "" {
		s.openChild(p.Case)
	}
	s.shown = s.screenAt()
	if s.shown.enter != nil {
		s.shown.enter(s)
	}
	s.sheet.forget()
	s.sheetDrawn()
}

// commitHere takes what was typed on this screen as meant.
func (s *Session) commitHere() {
	if s.child != nil {
		for _, o := range s.child.notes {
			o.commitAll()
		}
	}
}

// watchPage takes what was typed as meant when the page is hidden, and undoes and
// does again with the usual keys.
func (s *Session) watchPage() []func() {
	if app.IsServer {
		return nil
	}
	hide := func(app.Value) { s.later(s.commitHere) }
	return []func(){
		safe.Listen(app.Window(), "resize", func(app.Value) { s.sheet.seen = false }),
		safe.Listen(safe.Document(), "visibilitychange", hide),
		safe.Listen(app.Window(), "pagehide", hide),
		safe.Listen(safe.Document(), "keydown", func(ev app.Value) {
			if !ev.Get("ctrlKey").Truthy() && !ev.Get("metaKey").Truthy() || ev.Get("altKey").Truthy() {
				return
			}
			key := strings.ToLower(ev.Get("key").String())
			redo := key == "y" || key == "z" && ev.Get("shiftKey").Truthy()
			if key != "z" && key != "y" || safe.Typing() {
				return // in an entry the browser's own undo works on the letters
			}
			ev.Call("preventDefault")
			s.later(func() { s.undo(redo) })
		}),
	}
}

// notice is something to say across the top, until it is put away.
type notice struct {
	id, class, words string
	do               string // the words of the button that acts on it; "" none
	act              func(ctx app.Context)
}

// later runs do on the user interface's goroutine and draws the screen anew. It
// may be called from anywhere.
func (s *Session) later(do func()) {
	if !s.ready {
		s.early.Lock()
		defer s.early.Unlock()
		safe.Guard("before the frame", do)
		return
	}
	s.ctx.Dispatch(func(app.Context) { safe.Guard("later", do) })
}

// aside runs do on the user interface's goroutine without drawing the screen anew. A
// timer's own goroutine must not touch a record: where memory is collected in the
// middle of a change to a map, the one that draws can be in it at the same time, which
// ends the program.
func (s *Session) aside(where string, do func()) {
	if !s.ready { // the gallery's
		safe.Guard(where, do)
		return
	}
	s.ctx.Dispatch(func(ctx app.Context) {
		ctx.PreventUpdate()
		safe.Guard(where, do)
	})
}

// say puts a notice across the top; one with the same id is replaced.
func (s *Session) say(n notice) {
	for i := range s.notices {
		if s.notices[i].id == n.id {
			s.notices[i] = n
			return
		}
	}
	s.notices = append(s.notices, n)
}

// unsay takes a notice away.
func (s *Session) unsay(id string) {
	for i := range s.notices {
		if s.notices[i].id == id {
			s.notices = append(s.notices[:i:i], s.notices[i+1:]...)
			return
		}
	}
}

// goTo shows another place, with the focus on its heading.
func (s *Session) goTo(p Place) { s.goToAt(p, "") }

// goToAt shows another place, with the focus on the element of that id.
func (s *Session) goToAt(p Place, id string) {
	if p == s.place && id != "" {
		safe.FocusSoon(id)
	} else if s.ready {
		s.landing = id
		s.ctx.Navigate(p.Path())
	}
}
