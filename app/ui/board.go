package ui

import (
	"context"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet/page"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "board", title: "The unit: what is in every child", wide: true, draw: drawBoard, enter: (*Session).readBoard, leave: (*Session).leaveBoard})

// board is every child on this device with what is in, what is due and what is in
// dispute, the oldest first. It stands outside the framework's tree: there are
// hundreds of lines, and none of them takes input.
type board struct {
	pane   safe.Pane
	all    []lines.UnitChild
	whole  []safe.Block // of all, without a filter: made once
	at     schema.Moment
	read   bool
	asked  int
	filter string // kind, or kind/variety
	end    func()
}

const boardHost = "board-host"

// readBoard works the board out, child after child, and shows it as it comes.
func (s *Session) readBoard() {
	b := &s.board
	b.asked++
	asked := b.asked
	b.all, b.whole, b.read = nil, nil, false
	if s.store == nil {
		return
	}
	unit, now := s.profile(), civil.Now(s.zone)
	var all []lines.UnitChild
	s.eachRecord(func(rec *ledger.Record) {
		child := lines.UnitChildOf(lines.RegisterOf(rec, unit, now))
		id := identityIn(rec)
		child.Case, child.Who, child.Number, child.Born = rec.Case(), id.Name(), id.numberShown(), id.birthShown(now.Date())
		all = append(all, child)
	}, func() {
		lines.SortUnit(all)
		s.later(func() {
			if asked == b.asked {
				for i := range all {
					all[i].Alike = s.alike(all[i].Case)
				}
				b.all, b.at, b.read = all, now, true
				s.boardDrawn()
			}
		})
	})
}

// eachRecord reads the record of every child on this device, one after another and
// each once, beside what is on the screen, and then says that it is done.
func (s *Session) eachRecord(do func(*ledger.Record), done func()) {
	go safe.Guard("every record", func() {
		ctx := context.Background()
		cases, _ := s.store.Cases(ctx)
		read := map[ledger.CaseID]bool{}
		for _, c := range cases {
			if read[c] {
				continue // joined to one that was read
			}
			rec, _ := ledger.Load(ctx, s.store, c)
			for _, joined := range rec.Cases() {
				read[joined] = true
			}
			if rec.Len() > 0 {
				do(rec)
			}
		}
		done()
	})
}

func (s *Session) leaveBoard() {
	s.board.pane.Forget()
	if s.board.end != nil {
		s.board.end()
		s.board.end = nil
	}
}

// boardDrawn puts the board on the screen once its place is there.
func (s *Session) boardDrawn() {
	switch {
	case app.IsServer:
	case s.ready:
		s.ctx.Defer(func(app.Context) { safe.Guard("board", s.boardNow) })
	default: // the gallery's
		time.AfterFunc(50*time.Millisecond, func() { s.aside("board", s.boardNow) })
	}
}

func (s *Session) boardNow() {
	if !safe.Seen(boardHost) {
		return
	}
	s.board.pane.Put(boardHost, s.board.blocks())
	if host, ok := safe.Element(boardHost); ok && s.board.end == nil {
		s.board.end = safe.Listen(host, "click", func(ev app.Value) {
			at := ev.Get("target").Call("closest", "[data-case]")
			if at.Truthy() {
				s.later(func() {
					s.goTo(Place{Screen: "bedside", Case: ledger.CaseID(at.Call("getAttribute", "data-case").String())})
				})
			}
		})
	}
}

// shown is the board under the filter.
func (b *board) shown() (all []lines.UnitChild, held ledger.Held) {
	kind, variety, _ := strings.Cut(b.filter, "/")
	for _, c := range b.all {
		if c = c.Only(kind, variety); b.filter == "" || len(c.Items) > 0 {
			all = append(all, c)
			for s, n := range c.Held {
				held[s] += n
			}
		}
	}
	return all, held
}

// blocks is the board as HTML, one block a child.
func (b *board) blocks() []safe.Block {
	if b.filter == "" && b.whole != nil {
		return b.whole
	}
	all, _ := b.shown()
	blocks := make([]safe.Block, 0, len(all))
	var h page.Builder
	for _, c := range all {
		id := "board-" + string(c.Case)
		h.Open("section", page.ID(id), page.Class("page board-child"))
		h.Open("h2")
		h.Open("button", page.Class("button board-who"), page.Data("case", string(c.Case)))
		h.Words(c.Who)
		h.Fixed(" ")
		h.Words(c.Number)
		h.Close()
		h.Close()
		h.Open("p", page.Class("board-born"))
		h.Fixed("Born ")
		h.Words(c.Born)
		if c.Alike != "" {
			h.Open("strong")
			h.Fixed(" LIKE NAME: ")
			h.Words(c.Alike)
			h.Close()
		}
		h.Close()
		var state []string
		for _, l := range c.Left {
			state = append(state, strings.ToUpper(l.Words))
		}
		state = append(state, inWords(c.Held))
		for _, n := range []struct {
			n     int
			words string
		}{{c.Overdue, "due"}, {c.Open, "open"}, {c.Faults, "to settle"}} {
			if n.n > 0 {
				state = append(state, itoa(n.n)+" "+n.words)
			}
		}
		h.Open("p", page.Class("board-state"))
		h.Text(strings.Join(state, " · "))
		h.Close()
		h.Open("ul", page.Class("board-items"))
		for _, a := range c.Also {
			before, class := "DUE: ", "board-item"
			if a.Open {
				before, class = "OPEN: ", "board-item is-unsettled"
			}
			h.Open("li", page.Class(class))
			if a.Tag > 0 {
				h.Open("span", page.Class("flag"))
				h.Text(itoa(a.Tag))
				h.Close()
				h.Fixed(" ")
			}
			h.Open("span", page.Class("board-due"))
			h.Text(before + a.Words)
			h.Close()
			h.Close()
		}
		for _, u := range c.Items {
			class := "board-item"
			if u.Problem != "" {
				class += " is-unsettled"
			}
			h.Open("li", page.Class(class))
			h.Open("span", page.Class("flag"))
			h.Text(itoa(u.Tag))
			h.Close()
			h.Fixed(" ")
			h.Open("span", page.Class("board-name"))
			h.Text(u.Name)
			h.Close()
			h.Open("span", page.Class("board-in"))
			h.Text(u.In)
			h.Close()
			h.Open("span", page.Class("board-due"))
			switch {
			case u.Problem != "":
				h.Text("OPEN: " + u.Problem)
			case u.Overdue:
				h.Text("DUE: " + u.Due)
			default:
				h.Text(u.Due)
			}
			h.Close()
			h.Close()
		}
		h.Close()
		h.Close()
		blocks = append(blocks, safe.Block{ID: id, HTML: h.Cut()})
	}
	if b.filter == "" && b.read {
		b.whole = blocks
	}
	return blocks
}

func drawBoard(s *Session) app.UI {
	b := &s.board
	var options []safe.Option
	chosen := ""
	for _, k := range lines.UnitKinds(b.all) {
		value := k.Kind
		if k.Variety != "" {
			value += "/" + k.Variety
		}
		options = append(options, safe.Option{Value: value, Words: k.Words + " (" + itoa(k.N) + ")"})
		if value == b.filter {
			chosen = k.Words
		}
	}
	all, held := b.shown()
	words := itoa(len(all)) + map[bool]string{true: " child", false: " children"}[len(all) == 1] + " on this device, as of " + b.at.Shown() + ": " + inWords(held) + ". " + oneTag + " Look at the child: what is there counts."
	if !b.read {
		words = "Reading what is kept…"
	}
	return app.Div().Class("board").Body(
		app.Div().Class("page", "board-head").Body(
			app.Label().For("board-filter").Text("Which things?"),
			safe.Select{ID: "board-filter", Value: b.filter, Empty: "All of them", Options: options, Change: func(_ app.Context, v string) {
				b.filter = v
				s.boardNow() // its place is on the page: no need to wait for the next frame
			}}.UI(),
			app.If(chosen != "", func() app.UI {
				return app.P().ID("board-only").Class("paper-only").Text("Only this: " + chosen + ". Whatever else is in stands elsewhere.")
			}),
			app.P().ID("board-tally").Role("status").Text(words),
			linkTo(Place{Screen: "counts"}, "Counts over time", "button"),
			safe.Button{ID: "board-print", Words: "Print for the round", Press: func(app.Context) { safe.Print() }}.UI()),
		app.Div().ID(boardHost).Class("board-host"))
}
