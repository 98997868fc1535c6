package ui

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "items", title: "What is left in the child", child: true, note: true, wide: true, draw: drawItems,
	enter: (*Session).commitHere, leave: (*Session).commitHere})

// drawItems lists everything in the child by tag, with the map, and lists more.
// The part of the place is the item that is open.
func drawItems(s *Session) app.UI {
	return app.Div().Class("items-screen").Body(
		s.noteTabs(),
		app.If(s.who.Name == "", func() app.UI { return &whoForm{S: s} }),
		&itemsPane{S: s, Place: s.place, Version: s.child.rec.Version(), Locked: s.who.Name == ""})
}

// itemsPane is the screen's inside.
type itemsPane struct {
	app.Compo
	S       *Session
	Place   Place
	Version int
	Locked  bool

	kind   string // whose varieties are shown
	listed ledger.ItemID
}

func (p *itemsPane) CompoID() string { return "items-" + string(p.Place.Note) }

func (p *itemsPane) Render() app.UI { return safe.Drawn("items", p.draw) }

func (p *itemsPane) draw() app.UI {
	if p.S.child == nil {
		return app.Div()
	}
	o := p.S.child.open(p.Place.Note)
	o.agree()
	earlier := map[string]bool{}
	for _, it := range p.S.child.context(o.id).Register {
		earlier[it.ID] = true
	}
	marks := map[string]widgets.Marks{}
	answered := o.answered()
	for _, pr := range o.problems("items") {
		m := marks[pr.Path.Item()]
		count(&m, pr, answered[pr.Path][pr.Rule] != "")
		marks[pr.Path.Item()] = m
	}
	var rows, inside []app.UI
	for _, it := range o.working.Items() {
		row := p.row(o, it, earlier[it.ID], marks[it.ID])
		if lines.Checked(it) {
			rows = append(rows, row)
		} else {
			inside = append(inside, row)
		}
	}
	return app.Div().Body(app.Div().Class("items-desk").Body(
		app.Div().Class("items-list").Body(
			safe.Link{Class: "skip", To: p.Place.Path() + "#add-title", Words: "Skip the list: list an item"}.UI(),
			p.toSettle(o),
			app.If(len(rows) == 0, func() app.UI {
				return app.P().Class("page").Text("Nothing is listed yet that can be looked for at the bed.")
			}),
			app.Ol().Class("item-rows").Aria("label", "In the child, by tag").Body(rows...),
			app.If(len(inside) > 0, func() app.UI {
				return app.Div().Body(app.H2().Text("Stays inside for good"), app.Ol().Class("item-rows").Aria("label", "Stays inside for good").Body(inside...))
			}),
			p.withdrawn(o),
			p.absent(o),
			app.Div().Class("neighbours").Body(linkTo(p.Place.With("check", "leaving"), "Leaving theatre: check them ›", "button", "main", "next"))),
		app.Aside().Class("items-map").Aria("label", "Map of the child").Body(p.S.bodyMap(o.working, p.Place))),
		p.adder(o))
}

// row is one item: its flag and name, what is recorded, and its fields when open.
func (p *itemsPane) row(o *openNote, it schema.Item, earlier bool, m widgets.Marks) app.UI {
	open := p.Place.Part == it.ID
	to := p.Place.With("items", it.ID)
	if open {
		to.Part = ""
	}
	var facts, place []string // the place is read in full, the others as far as there is room
	for _, f := range lines.Facts(it) {
		switch words := f.Title + ": " + lowerFirst(f.Sheet); {
		case f.Sheet == schema.NotRecorded:
		case f.Field == "exit" || f.Field == "side" || f.Field == "site":
			place = append(place, words)
		default:
			facts = append(facts, words)
		}
	}
	facts = parts(strings.Join(place, " · "), short(strings.Join(facts, " · ")))
	if earlier {
		facts = append([]string{"in from before"}, facts...)
		if at, ok := it.Moment("placed"); ok {
			facts[0] += ", since " + at.Date().Shown()
		}
	}
	v, _ := p.S.child.rec.Item(ledger.ItemID(it.ID))
	if !v.Where.In() { // it came out since this note was begun
		facts = append([]string{"OUT: " + string(v.Where) + ", " + v.SinceWords()}, facts...)
	}
	body := []app.UI{
		safe.Card{ID: "item-" + it.ID, To: to.Path(), Class: "item-head", Body: []app.UI{
			app.Span().Class("flag").Text(safe.Int(it.Tag)),
			app.Span().Class("item-words").Body(app.Span().Body(app.Strong().Text(lines.NameNow(&v, it)), notWhole(v)), app.Span().Class("check-facts").Text(strings.Join(facts, " · "))),
			app.Span().Class("item-more").Aria("hidden", true).Text(map[bool]string{true: "▴", false: "▾"}[open])}}.UI(),
	}
	if m.Any() {
		body = append(body, widgets.MarksUI(m))
	}
	if open {
		body = append(body, p.editor(o, it, earlier))
	}
	return app.Li().Class("item-row").ID("row-" + it.ID).Body(body...)
}

// editor is the fields of one item, and what can be done with it.
func (p *itemsPane) editor(o *openNote, it schema.Item, earlier bool) app.UI {
	fields := o.sectionForm("items").Item(it)
	id := ledger.ItemID(it.ID)
	actions := []app.UI{}
	if twins := p.S.child.rec.Twins(); len(twins[it.Tag]) > 1 {
		actions = append(actions, safe.Button{ID: "retag-" + it.ID, Class: "main", Words: "Give it a free tag: " + safe.Int(p.S.child.rec.NextTag()), Off: p.Locked, Press: func(app.Context) {
			p.do(p.S.child.writer.RetagItem(p.S.child.rec, id, p.S.child.rec.NextTag()))
		}}.UI())
	}
	if earlier {
		actions = append(actions, &outForm{Pane: p, Note: o.id, Item: id})
	} else {
		actions = append(actions, &withdrawForm{Pane: p, Item: id})
	}
	actions = append(actions, p.S.accountButton("account-of-"+it.ID, "tag "+itoa(it.Tag)+", "+itemName(it), it.ID, ""))
	return app.Div().Class("form", "item-fields").Body(
		&fieldList{Section: "item-" + it.ID, Fields: fields, Do: o.do},
		app.Div().Class("actions").Body(actions...))
}

func (p *itemsPane) do(events ...ledger.Event) {
	p.S.child.act(events...)
	p.Version = p.S.child.rec.Version()
}

// adder lists an item in two taps: its kind, then which. It stands at the foot of
// the screen, under the thumb, however long the list is.
func (p *itemsPane) adder(o *openNote) app.UI {
	var kinds []app.UI
	for _, k := range schema.ItemKinds() {
		kinds = append(kinds, safe.Button{ID: "kind-" + k.Name, Class: "pick", Words: k.Title, Toggle: true, On: p.kind == k.Name, Off: p.Locked, Press: func(app.Context) {
			switch {
			case k.Field("variety") == nil:
				p.list(o, k, "")
			case p.kind == k.Name:
				p.kind = ""
			default:
				p.kind = k.Name
			}
		}}.UI())
	}
	strip := app.Div().Class("ticks", "kinds-of").Role("group").Aria("labelledby", "add-title").Body(kinds...)
	if p.Locked {
		strip = strip.TabIndex(0) // nothing in it takes the focus, and it may be wider than the screen
	}
	body := []app.UI{app.H2().ID("add-title").TabIndex(-1).Text("List an item"), strip}
	if k := schema.ItemKindNamed(p.kind); k != nil {
		f := k.Field("variety")
		usual := lines.Usual(k.Name)
		names := slices.Clone(usual)
		for _, v := range f.Enum {
			if !slices.Contains(names, v) {
				names = append(names, v)
			}
		}
		var picks []app.UI
		for _, v := range names {
			class := "pick"
			if slices.Contains(usual, v) {
				class += " usual"
			}
			picks = append(picks, safe.Button{ID: "variety-" + v, Class: class, Words: f.Label(v), Off: p.Locked, Press: func(app.Context) { p.list(o, k, v) }}.UI())
		}
		body = append(body, app.P().ID("which").Text("Which "+map[bool]string{true: "thing "}[k.Name == "left-on-purpose"]+strings.ToLower(k.Title)+"? A tap lists it."),
			app.Div().Class("ticks", "varieties").Role("group").Aria("labelledby", "which").Body(picks...))
	}
	if it, ok := o.working.Item(string(p.listed)); ok {
		body = append(body, app.P().ID("just-listed").Class("signed-words").Role("status").Body(
			app.Span().Class("flag").Text(safe.Int(it.Tag)), app.Text(" Listed: "+lowerFirst(lines.FullName(it))+". "),
			linkTo(p.Place.With("items", it.ID), "Say where it comes out, its size or how many", "button")))
	}
	return app.Div().Class("page", "adder").Body(body...)
}

// list lists one item with the next free tag.
func (p *itemsPane) list(o *openNote, k *schema.ItemKind, variety string) {
	c := p.S.child
	if c == nil || p.Locked {
		return
	}
	id := c.writer.NewItem()
	w := c.writer.Together()
	c.act(w.ListItem(o.id, id, k.Name, c.rec.NextTag()))
	if variety != "" {
		c.act(w.Set(c.rec, o.id, schema.ItemPath(string(id), "variety"), ledger.Entry{Value: variety, Origin: ledger.Origin{How: ledger.HowPick}}))
	}
	p.listed, p.Version = id, c.rec.Version()
}

// withdrawForm takes an item off the list that was never there, with the reason.
type withdrawForm struct {
	app.Compo
	Pane *itemsPane
	Item ledger.ItemID

	open  bool
	lacks string
}

func (f *withdrawForm) CompoID() string { return "withdraw-" + string(f.Item) }

func (f *withdrawForm) Render() app.UI {
	return safe.Drawn("withdraw", func() app.UI {
		id := string(f.Item)
		c, half := f.Pane.S.child, "withdraw-"+id
		if c == nil {
			return app.Div()
		}
		if !f.open && c.half[half] == "" {
			return safe.Button{ID: "withdraw-" + id, Class: "quiet", Words: "Listed by mistake…", Off: f.Pane.Locked, Press: func(app.Context) { f.open = true; safe.FocusSoon("withdraw-why-" + id) }}.UI()
		}
		save := func(app.Context) {
			why := strings.TrimSpace(c.half[half])
			if why == "" {
				f.lacks = "Say why it was never there."
				safe.FocusSoon("withdraw-why-" + id)
				return
			}
			c.halfTyped(half, "")
			f.Pane.do(c.writer.WithdrawItem(c.rec, f.Item, why))
			f.Pane.S.goTo(f.Pane.Place.With("items", ""))
		}
		return app.Div().Class("answer-form").Role("group").Aria("label", "Listed by mistake").Body(
			app.Label().For("withdraw-why-"+id).Text("It was never in the child. Why was it listed? (What was taken out is not withdrawn: it is recorded as out.)"),
			c.halfEntry("withdraw-why-"+id, half, 200, f.lacks != "", save),
			alert(f.lacks),
			safe.Button{ID: "withdraw-save-" + id, Class: "danger", Words: "Take it off the list", Press: save}.UI(),
			safe.Button{ID: "withdraw-no-" + id, Class: "quiet", Words: "Leave it on the list", Press: func(app.Context) {
				c.halfTyped(half, "")
				f.open, f.lacks = false, ""
				safe.FocusSoon("withdraw-" + id)
			}}.UI())
	})
}
