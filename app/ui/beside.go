package ui

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/handover/sheet"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "sheet", title: "Handover sheet", child: true, note: true, wide: true, draw: drawSheet,
	enter: func(s *Session) {
		s.commitHere()
		s.sheet.unlisten()
		s.sheet.printing = safe.Listen(app.Window(), "beforeprint", func(app.Value) { s.paperNow() })
	},
	leave: func(s *Session) { s.sheet.unlisten() }})

// beside is the sheet on screen, kept outside the framework's tree: in it, each
// key typed would cost twice as much. Only blocks that changed are replaced, after
// the field has been drawn.
type beside struct {
	pane  safe.Pane
	timer *time.Timer
	took  time.Duration // to make it lately

	seen bool // its place takes up room; false: to be looked at

	printing func() // ends waiting for the page to be printed
}

const (
	sheetHost = "sheet-host"
	paperHost = "sheet-paper" // the same laid out in pages; seen on paper only
)

func (b *beside) unlisten() {
	if b.printing != nil {
		b.printing()
		b.printing = nil
	}
}

func (b *beside) forget() {
	b.pane.Forget()
	b.seen = false
}

// shows tells whether the sheet has a place on the screen. To look makes the browser
// lay the page out, so it is done once for a screen of one size.
func (b *beside) shows() bool {
	b.seen = b.seen || safe.Seen(sheetHost)
	return b.seen
}

// sheetBeside is the place of the sheet next to the note. Narrow screens have it
// as a tab instead.
func (s *Session) sheetBeside() app.UI {
	return app.Aside().Class("beside").TabIndex(0).Aria("label", "Handover sheet as it stands").Body(
		app.Div().ID(sheetHost).Class("sheet-host"))
}

// drawSheet shows the sheet on a screen of its own, and prints it.
func drawSheet(s *Session) app.UI {
	return app.Div().Body(
		s.noteTabs(),
		app.Div().Class("actions", "sheet-actions").Body(
			safe.Button{ID: "print", Class: "main", Words: "Print", Press: func(app.Context) { s.paperNow(); safe.Print() }}.UI(),
			linkTo(s.place.With("labels", ""), "Tag labels", "button")),
		app.Div().ID(sheetHost).Class("sheet-host"),
		app.Div().ID(paperHost).Class("sheet-host", "paper-only"))
}

// sheetSoon makes the sheet again, and works out what the rules say, after what was
// typed has been drawn: the framework draws within a tick of 1 ms. Where the sheet is
// slow to make it waits until typing pauses.
func (s *Session) sheetSoon() {
	if app.IsServer || s.place.Note == "" {
		return
	}
	if s.sheet.timer != nil {
		s.sheet.timer.Stop()
	}
	wait := 2 * time.Millisecond
	if took := s.sheet.took; took > 40*time.Millisecond { // slower than one typing fast waits between keys
		wait = 60*time.Millisecond + took
	}
	s.sheet.timer = time.AfterFunc(wait, func() { s.aside("sheet", func() { s.agreeNow(); s.sheetNow() }) })
}

// agreeNow works out what the rules say of the note on screen, and the lines of its
// sections.
func (s *Session) agreeNow() {
	if s.child == nil || s.place.Note == "" {
		return
	}
	o := s.child.open(s.place.Note)
	o.agree()
	o.progress()
}

// sheetDrawn makes the sheet when the screen that is to show it has been drawn.
func (s *Session) sheetDrawn() {
	if app.IsServer || !s.ready {
		return
	}
	s.ctx.Defer(func(app.Context) { safe.Guard("sheet", s.sheetNow) })
}

// sheetNow makes the sheet and shows it.
func (s *Session) sheetNow() {
	c := s.child
	if c == nil || s.place.Note == "" {
		return
	}
	if !s.sheet.shows() {
		return
	}
	begun := time.Now()
	o := c.open(s.place.Note)
	blocks := []safe.Block{}
	for _, b := range makeSheet(o) {
		blocks = append(blocks, safe.Block{ID: b.ID, HTML: b.HTML})
	}
	s.sheet.pane.Put(sheetHost, blocks)
	s.sheet.took += (time.Since(begun) - s.sheet.took) / 4 // one slow time, on a busy device, is not yet slow
}

// paperNow lays the sheet out in pages, to be printed.
func (s *Session) paperNow() {
	if _, ok := safe.Element(paperHost); ok && s.child != nil {
		c := s.child
		t := sheet.Make(factsNow(c.open(s.place.Note)), sheet.PaperOf(s.profile()))
		new(safe.Pane).Put(paperHost, []safe.Block{{ID: "paper", HTML: t.PagesHTML()}})
	}
}

// makeSheet makes the sheet of a note as it stands, drafts included.
func makeSheet(o *openNote) []sheet.BlockHTML {
	now := factsNow(o)
	return o.sheet.Flow(o.facts, now)
}

func factsNow(o *openNote) sheet.Facts {
	if o.factsOf != o.c.rec.Version() || o.facts == nil {
		f, ok := sheet.FromRecord(o.c.rec, o.id, o.c.s.profile(), o.c.s.now())
		if !ok {
			f = sheet.Facts{Profile: o.c.s.profile()}
		}
		o.facts, o.factsOf = &f, o.c.rec.Version()
	}
	f := *o.facts
	f.Note, f.At, f.Unread = o.working, o.c.s.now(), map[schema.Path]string{}
	for at, d := range o.drafts {
		if d.Wrong != "" {
			f.Unread[at] = strings.TrimSpace(d.Text + " " + d.Day)
		}
	}
	f.Computed = o.settled(o.c.s.worked.Values(o.c.rec, o.id, o.c.s.profile(), f.At.Date()).All())
	return f
}

// settled leaves out what is worked out from a field that is being typed into: it
// holds for what stood there before.
func (o *openNote) settled(all []calc.Result) []calc.Result {
	if len(o.drafts) == 0 {
		return all
	}
	out := make([]calc.Result, 0, len(all))
	for _, r := range all {
		typing := false
		for _, in := range r.Inputs {
			_, draft := o.drafts[in.Path]
			typing = typing || draft
		}
		if !typing {
			out = append(out, r)
		}
	}
	return out
}
