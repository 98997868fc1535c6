package ui

import (
	"maps"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// wrongChildPart moves what this person entered here to the child it belongs to.
func (s *Session) wrongChildPart() app.UI {
	var others []listed
	for _, l := range s.list {
		if !l.is(s.child.id) {
			others = append(others, l)
		}
	}
	return &wrongChild{S: s, Case: s.child.id, Version: s.child.rec.Version(), Who: s.who, Others: others}
}

type wrongChild struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	Who     ledger.Author
	Others  []listed

	open  bool
	most  int
	lacks string
}

// The names of what is half said of entries on the wrong child: which, whose, why.
const (
	halfWrong    = "wrong-chosen"
	halfWrongTo  = "wrong-to"
	halfWrongWhy = "wrong-why"
)

// chosen tells whether an entry is ticked.
func (w *wrongChild) chosen(e ledger.EventID) bool {
	return strings.Contains(w.S.child.half[halfWrong], string(e)+" ")
}

// choose ticks an entry, or takes the tick away.
func (w *wrongChild) choose(e ledger.EventID, on bool) {
	c := w.S.child
	ids := strings.ReplaceAll(c.half[halfWrong], string(e)+" ", "")
	if on {
		ids += string(e) + " "
	}
	c.halfTyped(halfWrong, ids)
}

// forget leaves everything where it is.
func (w *wrongChild) forget() {
	w.open, w.lacks, w.most = false, "", 0
	for _, name := range []string{halfWrong, halfWrongTo, halfWrongWhy} {
		w.S.child.halfTyped(name, "")
	}
}

func (w *wrongChild) CompoID() string { return "wrong-child-" + string(w.Case) }

func (w *wrongChild) Render() app.UI { return safe.Drawn("wrong child", w.draw) }

func (w *wrongChild) draw() app.UI {
	if w.S.child == nil || w.S.child.id != w.Case {
		return app.Div()
	}
	half := w.S.child.half
	open := w.open || half[halfWrong]+half[halfWrongTo]+half[halfWrongWhy] != ""
	w.most = max(w.most, atOnce)
	body := []app.UI{app.H2().ID("wrong-title").Text("Entered on the wrong child"),
		safe.Button{ID: "wrong-open", Words: map[bool]string{false: "Move what I entered here to another child…", true: "Leave it here"}[open], Opens: "wrong", Open: open,
			Off: w.Who.Name == "" || len(w.Others) == 0, Press: func(app.Context) {
				w.forget()
				w.open = !open
			}}.UI()}
	if len(w.Others) == 0 {
		body = append(body, app.P().Text("There is no other child on this device to move it to."))
	}
	in := app.Div().ID("wrong")
	if open {
		in = in.Class("reason").Body(w.form()...)
	}
	return app.Section().Class("page").Aria("labelledby", "wrong-title").Body(append(body, in)...)
}

// movable lists what this person entered here and what still counts, newest first.
func movable(rec *ledger.Record, who ledger.Author) []saidLine {
	foreign := map[ledger.NoteID]bool{} // notes in which others wrote too
	all := accountOf(rec)
	for _, l := range all {
		if l.Author != who {
			foreign[l.Note] = true
		}
	}
	var out []saidLine
	for _, l := range all {
		switch l.Kind {
		case ledger.KindFieldSet, ledger.KindRowAdded, ledger.KindItemListed:
		case ledger.KindNoteOpened:
			if foreign[l.Note] {
				continue // it is not this person's alone to take away
			}
		default:
			continue
		}
		if l.Author == who && !l.Retracted {
			out = append(out, l)
		}
	}
	slices.Reverse(out)
	return out
}

func (w *wrongChild) form() []app.UI {
	c := w.S.child
	mine := movable(c.rec, w.Who)
	if len(mine) == 0 {
		return []app.UI{app.P().Text(w.Who.String() + " has entered nothing here that still counts.")}
	}
	var rows []app.UI
	for _, l := range mine[:min(w.most, len(mine))] {
		rows = append(rows, app.Li().Body(safe.Tick{ID: "wrong-" + string(l.Event), Words: l.Words, Aside: l.Happened.Shown() + " · " + l.where, On: w.chosen(l.Event),
			Change: func(ctx app.Context, on, _ bool) { w.choose(l.Event, on) }}.UI()))
	}
	var to []safe.Option
	for _, l := range w.Others {
		to = append(to, safe.Option{Value: string(l.Case), Words: clipped(l.Name(), 60) + ", No. " + clipped(l.numberShown(), 30) + ", born " + bornShown(l.identity)})
	}
	return []app.UI{
		app.P().Text("Tick what belongs to another child. It no longer counts here, stays on record, and is offered there: nothing of the other child changes until somebody takes it. A listed thing is taken off here and must be listed anew there."),
		app.Ul().Class("to-move").Body(rows...),
		app.Div().Class("actions").Body(
			app.If(len(mine) > w.most, func() app.UI {
				return safe.Button{ID: "wrong-more", Class: "quiet", Words: "Show older ones", Press: func(app.Context) { w.most += 200 }}.UI()
			}),
			safe.Button{ID: "wrong-all", Class: "quiet", Words: "Tick all that is shown", Press: func(app.Context) {
				for _, l := range mine[:min(w.most, len(mine))] {
					w.choose(l.Event, true)
				}
			}}.UI()),
		app.Label().For("wrong-to").Text("Which child does it belong to?"),
		safe.Select{ID: "wrong-to", Value: c.half[halfWrongTo], Empty: "Choose the child", Options: to, Wrong: w.lacks != "" && c.half[halfWrongTo] == "", Change: func(ctx app.Context, v string) { c.halfTyped(halfWrongTo, v) }}.UI(),
		app.Label().For("wrong-why").Text("Why?"),
		c.halfEntry("wrong-why", halfWrongWhy, 300, w.lacks != "" && strings.TrimSpace(c.half[halfWrongWhy]) == "", nil),
		app.If(w.lacks != "", func() app.UI { return app.P().Class("wrong").Role("alert").Text(w.lacks) }),
		app.Div().Class("actions").Body(safe.Button{ID: "wrong-move", Class: "main", Words: "Take it off here and offer it there", Press: func(app.Context) { w.move() }}.UI()),
	}
}

// move takes what is ticked off this child and offers it to the other.
func (w *wrongChild) move() {
	c := w.S.child
	by := map[ledger.NoteID][]ledger.EventID{}
	to, why := ledger.CaseID(c.half[halfWrongTo]), strings.TrimSpace(c.half[halfWrongWhy])
	n := 0
	for _, l := range movable(c.rec, w.Who) {
		if w.chosen(l.Event) {
			by[l.Note] = append(by[l.Note], l.Event)
			n++
		}
	}
	switch {
	case n == 0:
		w.lacks = "Tick what belongs to the other child."
		return
	case to == "":
		w.lacks = "Choose the child it belongs to."
		safe.FocusSoon("wrong-to")
		return
	case why == "":
		w.lacks = "Say why: it stays on record with both children."
		safe.FocusSoon("wrong-why")
		return
	}
	w.S.commitHere()
	var events []ledger.Event
	for _, note := range slices.Sorted(maps.Keys(by)) {
		ids := by[note]
		slices.Reverse(ids) // as they were entered
		events = append(events, c.writer.MoveToOther(c.rec, note, ids, to, why)...)
	}
	c.act(events...)
	w.forget()
	w.S.say(notice{id: "moved", words: itoa(n) + " taken off here and offered to the other child. Somebody takes or refuses it there.", do: "Go to the other child",
		act: func(app.Context) { w.S.unsay("moved"); w.S.goTo(Place{Screen: "child", Case: to}) }})
	w.S.keeper.whenKept(w.S.readList)
	safe.FocusSoon("moved")
}

func bornShown(id identity) string {
	if id.Birth == "" {
		return schema.NotRecorded
	}
	return id.Birth.Shown()
}

func offeredWords(n int) string {
	if n == 0 {
		return ""
	}
	return "OFFERED: entered on another child first"
}

// offersPart shows what was entered on another child first and is offered here.
func (s *Session) offersPart() app.UI {
	return &offersPane{S: s, Case: s.child.id, Version: s.child.rec.Version(), Who: s.who, Others: len(s.list)}
}

type offersPane struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	Who     ledger.Author
	Others  int // children in the list: the one it was taken off may have come

	notes map[ledger.EventID]ledger.NoteID // where each offer is to stand
	lacks string
}

func (p *offersPane) CompoID() string { return "offers-" + string(p.Case) }

func (p *offersPane) Render() app.UI { return safe.Drawn("offers", p.draw) }

func (p *offersPane) draw() app.UI {
	if p.S.child == nil || p.S.child.id != p.Case {
		return app.Div()
	}
	var body []app.UI
	for i, o := range p.S.child.rec.Offers() {
		body = append(body, p.offer(itoa(i), o))
	}
	return app.Div().Body(body...)
}

// placing is one offered value and where it would stand here.
type placing struct {
	ledger.OfferedValue
	def  *schema.Field
	note ledger.NoteID
	not  string // why it cannot stand here, or ""
}

// placings finds where the values of an offer would stand, those of a note in the
// note given.
func (c *Child) placings(o ledger.Offer, note ledger.NoteID) (out []placing, asksNote bool) {
	for _, v := range o.Sets {
		pl := placing{OfferedValue: v}
		section := schema.SectionNamed(v.Path.Section())
		switch {
		case v.Path.Section() == "items":
			pl.not = "it is about a listed thing: list it here yourself"
		case section != nil && section.Scope == "child":
			pl.def = schema.FieldAt(v.Path)
		default:
			asksNote = true
			if pl.note = note; note != "" {
				pl.def = c.open(note).working.FieldAt(v.Path)
			}
		}
		if pl.not == "" && pl.def == nil && (note != "" || section == nil) {
			pl.not = "that note has no such field"
		}
		out = append(out, pl)
	}
	return out, asksNote
}

func (p *offersPane) offer(id string, o ledger.Offer) app.UI {
	c := p.S.child
	all := c.rec.Notes()
	note := p.notes[o.Event]
	if note == "" && len(all) == 1 {
		note = all[0].ID
	}
	sets, asksNote := c.placings(o, note)
	from := "a child that is not on this device"
	for _, l := range p.S.list {
		if l.is(o.From) {
			from = clipped(l.Name(), 60) + ", No. " + clipped(l.numberShown(), 30)
		}
	}
	var rows []app.UI
	for _, v := range sets {
		def, working := v.def, c.rec.Child()
		if v.note != "" {
			working = c.open(v.note).working
		}
		title := v.Path.Last()
		if def == nil {
			def = schema.FieldAt(v.Path)
		}
		if def != nil {
			title = def.Title
		}
		words := title + ": " + v.Entry.Shown(def, working) + " (" + v.Author.String() + ")"
		switch {
		case v.not != "":
			words += ". It cannot be taken: " + v.not + "."
		case v.def != nil:
			if now := c.rec.Values(v.note, v.Path); len(now) == 1 && now[0].Same(v.Entry) {
				words += ". It stands here already."
			} else if len(now) > 0 && !now[0].Cleared() {
				words += ". Here it says: " + now[0].Shown(v.def, working) + "; taking it replaces that."
			}
		}
		rows = append(rows, app.Li().Text(words))
	}
	if len(rows) == 0 {
		rows = append(rows, app.Li().Text("No values: a note or a listed thing was taken off the other child. Begin it here yourself."))
	}
	body := []app.UI{
		app.H2().ID("offer-title-" + id).Text("Entered on another child, and offered here"),
		app.P().Text(o.Author.String() + " took it off " + from + ", " + o.At.Shown() + ": " + orNot(o.Why) + ". Read the wristband before you take it."),
		app.Ul().Class("names").Body(rows...),
	}
	if asksNote && len(all) > 1 {
		var to []safe.Option
		for _, v := range all {
			to = append(to, safe.Option{Value: string(v.ID), Words: noteName(c.rec, v)})
		}
		body = append(body, app.Label().For("offer-note-"+id).Text("Into which note?"),
			safe.Select{ID: "offer-note-" + id, Value: string(note), Empty: "Choose the note", Options: to, Wrong: p.lacks != "", Change: func(ctx app.Context, v string) {
				if p.notes == nil {
					p.notes = map[ledger.EventID]ledger.NoteID{}
				}
				p.notes[o.Event], p.lacks = ledger.NoteID(v), ""
			}}.UI())
	}
	if p.lacks != "" {
		body = append(body, app.P().Class("wrong").Role("alert").Text(p.lacks))
	}
	body = append(body, app.Div().Class("actions").Body(
		safe.Button{ID: "offer-take-" + id, Class: "main", Words: "Take it: it is this child's", Off: p.Who.Name == "", Press: func(app.Context) {
			if p.lacks = p.S.takeOffer(o, note); p.lacks == "" {
				safe.FocusSoon("heading")
			}
		}}.UI(),
		safe.Button{ID: "offer-refuse-" + id, Words: "Refuse it: it is not this child's", Off: p.Who.Name == "", Press: func(app.Context) {
			c.act(c.writer.AnswerOffer(o.Event, false))
			safe.FocusSoon("heading")
		}}.UI()))
	return app.Section().Class("page", "notice-page").Aria("labelledby", "offer-title-"+id).Body(body...)
}

// takeOffer sets every value of an offer that can stand here, as one action. It
// returns what is lacking, in a sentence.
func (s *Session) takeOffer(o ledger.Offer, note ledger.NoteID) string {
	c := s.child
	s.commitHere()
	sets, asksNote := c.placings(o, note)
	if asksNote && note == "" {
		if len(c.rec.Notes()) == 0 {
			return "It belongs in a note, and this child has none. Begin the note first."
		}
		return "Choose the note it belongs in."
	}
	w := c.writer.Together()
	var events []ledger.Event
	rows := map[string]bool{}
	for _, v := range sets {
		if v.not != "" || v.def == nil {
			continue
		}
		if list, row := v.Path.List(), v.Path.Row(); list != "" && row != "" && !rows[row] {
			rows[row] = true
			tree := c.rec.Child()
			if v.note != "" {
				tree = c.open(v.note).working
			}
			if !slices.Contains(tree.Rows(list), row) {
				events = append(events, w.AddRow(c.rec, v.note, list, row)...)
			}
		}
		if now := c.rec.Values(v.note, v.Path); len(now) != 1 || !now[0].Same(v.Entry) {
			events = append(events, w.Set(c.rec, v.note, v.Path, v.Entry))
		}
	}
	c.act(append(events, w.AnswerOffer(o.Event, true))...)
	safe.Announce("said-aloud", "Taken: "+itoa(len(events))+" entries.")
	return ""
}
