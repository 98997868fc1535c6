package ui

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet"
)

var _ = addScreen(screen{name: "leaving-us", title: "Going home, or to another ward", child: true, draw: drawHome, enter: (*Session).commitHere})

// leavingLink is the way from the child's page, with how the last stay ended.
func (s *Session) leavingLink() app.UI {
	words := ""
	if ended, ok := s.child.rec.StayEnded(); ok {
		words = "The last stay ended " + ended.Happened.Shown() + " (" + ended.Author.String() + ")."
	}
	return app.Div().Body(
		app.If(words != "", func() app.UI { return app.P().ID("stay-ended").Text(words) }),
		app.Div().Class("actions").Body(linkTo(Place{Screen: "leaving-us", Case: s.child.id}, "Going home, or to another ward", "button")))
}

// drawHome asks of everything that is still in whether it is out or goes with the
// child, and ends the stay when all is answered.
func drawHome(s *Session) app.UI {
	return app.Div().Class("checking").Body(
		app.If(s.who.Name == "", func() app.UI { return &whoForm{S: s} }),
		&homePane{S: s, Case: s.child.id, Version: s.child.rec.Version(), Who: s.who})
}

type homePane struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	Who     ledger.Author

	bed   bedsidePane // takes a thing out: with the bedside's own form, conditions and questions
	lacks string
	ended string
}

// What is half said of going away is kept under these names, each with the thing it
// is about: a form that was begun is there again after the tablet was switched off.
const (
	halfWard  = "going ward"  // "yes": to another ward, not home
	halfWhere = "going where" // which
	halfForm  = "going form " // "out" or "goes": the form that is open for a thing
	halfKnows = "going knows "
	halfBy    = "going by "
)

func (h *homePane) CompoID() string { return "home-" + string(h.Case) }

func (h *homePane) Render() app.UI { return safe.Drawn("going home", h.draw) }

// goes is the answer that a thing goes with the child, given in this stay; nil if
// there is none that still holds. What was said last counts, whatever time it was
// said of: another device's clock may be ahead. To read or look at it takes nothing
// back.
func goes(rec *ledger.Record, v ledger.ItemView) *ledger.ItemEvent {
	ended, _ := rec.StayEnded()
	if lines.StayOver(rec) { // what was answered then holds until another begins
		ended.Clock = ""
	}
	var last *ledger.ItemEvent
	for i := range v.Events {
		e := &v.Events[i]
		switch e.Kind {
		case ledger.KindGoneHome, ledger.KindTransferred, ledger.KindPlaced, ledger.KindConfirmed, ledger.KindMoved, ledger.KindRemoved, ledger.KindExchanged, ledger.KindCutLeft, ledger.KindLost, ledger.KindToTheatre:
			if e.Clock > ended.Clock && (last == nil || e.Clock >= last.Clock) {
				last = e
			}
		}
	}
	if last == nil || last.Kind != ledger.KindGoneHome && last.Kind != ledger.KindTransferred {
		return nil
	}
	return last
}

// goesWords is that answer in words.
func goesWords(e *ledger.ItemEvent) string {
	words := "Goes home with the child"
	if e.Kind == ledger.KindTransferred {
		words = "Goes to " + e.Facts.Ward
	}
	return words + ". Known to: " + e.Facts.Knows + ". To come out: " + strings.TrimSuffix(e.Facts.OutBy, ".") + "."
}

// unanswered lists what is in the child and neither out nor said to go along.
func unanswered(rec *ledger.Record) []ledger.ItemView {
	var out []ledger.ItemView
	for _, v := range rec.ItemsIn() {
		if ledger.Bedside(v.Kind) && goes(rec, v) == nil {
			out = append(out, v)
		}
	}
	return out
}

func (h *homePane) draw() app.UI {
	c := h.S.child
	if c == nil || c.id != h.Case {
		return app.Div()
	}
	h.bed.S, h.bed.Place = h.S, Place{Screen: "bedside", Case: h.Case}
	var rows, stay []app.UI
	tree := c.rec.Child()
	for _, v := range c.rec.ItemsIn() {
		name := v.Kind
		if it, ok := tree.Item(string(v.ID)); ok {
			name = lines.NameNow(&v, it)
		}
		if !ledger.Bedside(v.Kind) {
			stay = append(stay, app.Li().Body(app.Span().Class("flag").Text(safe.Int(v.Tag)), app.Span().Text(name)))
			continue
		}
		rows = append(rows, h.row(v, name))
	}
	class, tally := h.tally()
	over := lines.StayOver(c.rec)
	ward := c.half[halfWard] != ""
	body := []app.UI{
		app.Div().Class("page").Body(
			app.H2().ID("where-title").Text("Where to?"),
			app.Div().Class("ticks").Role("radiogroup").Aria("labelledby", "where-title").Body(
				safe.Tick{ID: "to-home", Group: "where-to", Words: "Home", On: !ward, Change: func(app.Context, bool, bool) { c.halfTyped(halfWard, "") }}.UI(),
				safe.Tick{ID: "to-ward", Group: "where-to", Words: "Another ward or hospital", On: ward, Change: func(app.Context, bool, bool) { c.halfTyped(halfWard, "yes"); safe.FocusSoon("to-where") }}.UI()),
			app.If(ward, func() app.UI {
				return app.Div().Class("reason").Body(app.Label().For("to-where").Text("Which?"),
					c.halfEntry("to-where", halfWhere, 120, h.lacks != "" && h.half(halfWhere) == "", nil))
			})),
		app.Div().Class("page").Body(
			app.H2().Text(map[bool]string{false: "What is still in", true: "What went with the child"}[over]),
			app.If(h.bed.done != "", func() app.UI {
				return app.P().ID("bedside-done").Class("signed-words").Role("status").TabIndex(-1).Text(h.bed.done)
			}),
			app.P().ID("home-tally").Class("tally", class).Role("status").Text(tally),
			app.If(len(rows) == 0, func() app.UI { return app.P().Text("Nothing is listed that would have to come out.") }),
			app.If(len(rows) > 0, func() app.UI { return app.Ul().Class("check-list").Body(rows...) })),
	}
	if len(stay) > 0 {
		body = append(body, app.Div().Class("page").Body(app.H2().Text("Stays in for good"), app.Ul().Class("in-child").Body(stay...)))
	}
	if part := h.askedPart(); part != nil {
		body = append(body, part)
	}
	end := []app.UI{app.H2().Text("End of the stay"),
		app.P().ID("end-why").Text("Ends this stay under the name " + h.Who.String() + ", which is not authenticated. In the next stay tags begin at 1 again, but not on a tag that something still bears.")}
	end = append(end, alert(h.lacks))
	if h.ended != "" {
		end = append(end, app.P().ID("ended").Class("signed-words").Role("status").Text(h.ended))
	}
	end = append(end, app.Div().Class("actions").Body(
		safe.Button{ID: "end-stay", Class: "main", Words: "End the stay", Told: "end-why home-tally", Off: h.Who.Name == "" || over, Press: func(app.Context) { h.end() }}.UI(),
		linkTo(Place{Screen: "transfer", Case: c.id}, "Transfer sheet", "button"),
		linkTo(Place{Screen: "child", Case: c.id}, "Back to the child", "button")))
	return app.Div().Body(append(body, app.Div().Class("page").Body(end...))...)
}

// openTags says which flags are not answered.
func openTags(open []ledger.ItemView) string {
	var tags []string
	for _, v := range open {
		tags = append(tags, itoa(v.Tag))
	}
	if len(tags) == 1 {
		return "1 thing is not answered: tag " + tags[0] + ". Is it out, or does it go with the child?"
	}
	return itoa(len(tags)) + " things are not answered: tags " + strings.Join(tags, ", ") + ". Is each out, or does it go with the child?"
}

func (h *homePane) row(v ledger.ItemView, name string) app.UI {
	c, id := h.S.child, string(v.ID)
	class, answer := "check-row is-unsettled", "Not answered."
	became := lines.Became(v)
	by := goes(c.rec, v)
	if by != nil {
		class, answer = "check-row is-answered", goesWords(by)
		if lines.StayOver(c.rec) {
			answer = "Went" + strings.TrimPrefix(answer, "Goes")
		}
	}
	what := []app.UI{app.Span().Class("flag").Text(safe.Int(v.Tag)), app.Strong().Text(name), app.Span().Class("check-answer").Text(answer),
		app.If(became != "", func() app.UI { return app.Span().Class("check-answer").Text("On record: " + became + ".") })}
	press := func(mode string) func(app.Context) {
		return func(app.Context) {
			h.lacks, h.ended = "", ""
			c.halfTyped(halfForm+id, mode)
			h.bed.act, h.bed.lacks, h.bed.done = "", "", ""
			safe.FocusSoon(map[string]string{"out": "out-" + id + "-form", "goes": "knows-" + id}[mode])
		}
	}
	name = "tag " + itoa(v.Tag) + ", " + name
	off := h.Who.Name == "" || lines.StayOver(c.rec)
	buttons := []app.UI{
		safe.Button{ID: "out-" + id, Words: "It is out", Name: "It is out: " + name, Off: off, Press: press("out")}.UI(),
		safe.Button{ID: "goes-" + id, Words: "It goes with the child", Name: "It goes with the child: " + name, Off: off, Press: press("goes")}.UI(),
	}
	if by != nil {
		buttons = []app.UI{safe.Button{ID: "back-" + id, Class: "quiet", Words: "Take the answer back", Name: "Take the answer back: " + name, Off: off, Press: func(app.Context) {
			h.take(v.ID, c.writer.Retract(by.Note, []ledger.EventID{by.Event}, "It is not said yet that it goes with the child", ""))
		}}.UI()}
	}
	body := []app.UI{app.Div().Class("check-what").Body(what...), app.Div().Class("check-buttons").Body(buttons...)}
	mode := c.half[halfForm+id]
	if mode == "out" && (h.bed.done != "" || h.bed.act == "-") { // recorded, or left
		c.halfTyped(halfForm+id, "")
		mode = ""
	}
	switch {
	case by != nil || off:
	case mode == "out":
		body = append(body, h.outForm(v)...)
	case mode == "goes":
		body = append(body, app.Div().Class("answer-form").Role("group").Aria("label", name).Body(h.goesForm(id, v)...))
	}
	return app.Li().Class(class).Body(body...)
}

// half is what is half said under a name, without spaces round it.
func (h *homePane) half(name string) string { return strings.TrimSpace(h.S.child.half[name]) }

// outForm asks how it came out, with the unit's conditions and what speaks against it,
// as at the bedside.
func (h *homePane) outForm(v ledger.ItemView) []app.UI {
	it, ok := h.S.child.register().Item(v.ID)
	if !ok {
		return nil
	}
	a := takeOut().on(it)
	return []app.UI{h.bed.form(a, it),
		app.If((&ledger.RegisterFacts{Complete: h.S.child.half[a.half(it)+"complete"], TipSeen: h.S.child.half[a.half(it)+"tip"]}).RemovedPart(), func() app.UI {
			return app.P().Class("wrong").Role("status").Text("Not all of it is out for sure, so it stays on the list: tell the surgeon. Then say what goes with the child.")
		})}
}

// takeOut is the bedside's way to take something out.
func takeOut() *bedsideAction { return action("out") }

// wanted tells whether something is said under a name; if not, it says so and leads
// there.
func (h *homePane) wanted(name, lacks, at string) bool {
	if h.half(name) != "" {
		return true
	}
	h.lacks = lacks
	safe.FocusSoon(at)
	return false
}

// goesForm asks who knows of it, and when it must come out.
func (h *homePane) goesForm(id string, v ledger.ItemView) []app.UI {
	c := h.S.child
	return []app.UI{
		app.Label().For("knows-" + id).Text("Who knows that it goes with the child? (name and how to reach)"),
		c.halfEntry("knows-"+id, halfKnows+id, 150, h.lacks != "" && h.half(halfKnows+id) == "", nil),
		app.Label().For("by-" + id).Text("When must it come out, or why does it stay?"),
		c.halfEntry("by-"+id, halfBy+id, 150, h.lacks != "" && h.half(halfBy+id) == "", nil),
		safe.Button{ID: "goes-save-" + id, Class: "main", Words: "Record that it goes with the child", Press: func(app.Context) {
			if !h.wanted(halfKnows+id, "Say who knows that it goes with the child.", "knows-"+id) || !h.wanted(halfBy+id, "Say when it must come out, or why it stays.", "by-"+id) || !h.wardSaid() {
				return
			}
			e := c.writer.GoHome(v.ID, h.half(halfKnows+id), h.half(halfBy+id))
			if c.half[halfWard] != "" {
				e = c.writer.Transfer(v.ID, h.half(halfWhere), h.half(halfKnows+id), h.half(halfBy+id))
			}
			h.take(v.ID, e)
		}}.UI(),
		safe.Button{ID: "goes-no-" + id, Class: "quiet", Words: "Do not record", Press: func(app.Context) {
			h.forget(v.ID)
			safe.FocusSoon("goes-" + id)
		}}.UI(),
	}
}

func (h *homePane) wardSaid() bool {
	return h.half(halfWard) == "" || h.wanted(halfWhere, "Say which ward or hospital the child goes to.", "to-where")
}

// take records what becomes of a thing; what was half said of it is spent.
func (h *homePane) take(id ledger.ItemID, e ledger.Event) {
	h.S.child.act(e)
	h.forget(id)
	h.Version = h.S.child.rec.Version()
	safe.FocusSoon("home-tally")
}

// forget leaves the form of a thing.
func (h *homePane) forget(id ledger.ItemID) {
	for _, name := range []string{halfForm, halfKnows, halfBy} {
		h.S.child.halfTyped(name+string(id), "")
	}
	h.lacks, h.ended = "", ""
}

// end ends the stay, if everything is answered.
func (h *homePane) end() {
	c := h.S.child
	h.S.commitHere()
	open := unanswered(c.rec)
	if len(open) > 0 {
		h.lacks = "The stay cannot end yet. " + openTags(open)
		return
	}
	if !h.wardSaid() || !h.askedSaid() {
		return
	}
	c.act(c.writer.Discharge(h.askedAnswers()...))
	c.halfTyped(halfWard, "")
	c.halfTyped(halfWhere, "")
	h.lacks, h.Version = "", c.rec.Version()
	h.ended = "The stay has ended. Tags begin at 1 again."
	safe.FocusSoon("ended")
}

var _ = addScreen(screen{name: "transfer", title: "Transfer sheet", child: true, wide: true, draw: drawTransfer, enter: (*Session).commitHere})

// drawTransfer shows the transfer sheet, to be printed.
func drawTransfer(s *Session) app.UI {
	s.transferSoon(10)
	return app.Div().Body(
		app.Div().Class("actions", "sheet-actions").Body(
			safe.Button{ID: "print-transfer", Class: "main", Words: "Print the sheet", Press: func(app.Context) { safe.Print() }}.UI(),
			linkTo(Place{Screen: "leaving-us", Case: s.child.id}, "Going home, or to another ward", "button")),
		app.Div().ID(transferHost).Class("sheet-host").Role("region").Aria("label", "The transfer sheet").TabIndex(0))
}

const transferHost = "transfer-host"

// transferSoon puts the sheet in its place when that has been drawn.
func (s *Session) transferSoon(times int) {
	if app.IsServer || times == 0 {
		return
	}
	time.AfterFunc(30*time.Millisecond, func() {
		s.later(func() {
			if _, ok := safe.Element(transferHost); !ok || s.child == nil {
				s.transferSoon(times - 1)
				return
			}
			if t := sheet.TransferOf(s.child.rec, s.profile(), s.now(), sheet.PaperOf(s.profile())); t != nil {
				new(safe.Pane).Put(transferHost, []safe.Block{{ID: "transfer", HTML: t.PagesHTML()}})
			}
		})
	})
}
