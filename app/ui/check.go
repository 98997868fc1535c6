package ui

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "check", title: "Check of every item", child: true, note: true, bare: true, draw: drawCheck,
	enter: func(s *Session) { s.commitHere(); stayAwake(true) }, leave: func(s *Session) { s.commitHere(); stayAwake(false) }})

// occasions word the two checks.
var occasions = map[ledger.Occasion]struct{ title, why, other string }{
	ledger.Leaving: {"Leaving theatre", "Look at each item and follow it to where it comes out. Silence is not confirmation: what has no answer is open.", "On arrival"},
	ledger.Arrival: {"Arrival in intensive care", "Ventilation and transducers first: this check waits, and goes on where it stopped. Silence is not confirmation: what has no answer is open.", "Leaving theatre"},
}

// drawCheck is the check of every item at the bed, on leaving theatre or on
// arrival. Every answer is kept the moment it is given, so that it can be left at
// any time.
func drawCheck(s *Session) app.UI {
	o := ledger.Occasion(s.place.Part)
	if _, ok := occasions[o]; !ok {
		o = ledger.Leaving
	}
	return app.Div().Class("checking").Body(
		s.noteTabs(),
		app.H1().ID("heading").TabIndex(-1).Text(occasions[o].title),
		app.If(s.who.Name == "", func() app.UI { return &whoForm{S: s} }),
		&checkPane{S: s, Note: s.place.Note, Occasion: o, Version: s.child.rec.Version(), Locked: s.who.Name == "", Place: s.place})
}

// checkPane is the list with the tally, and the next item under the thumb.
type checkPane struct {
	app.Compo
	S        *Session
	Note     ledger.NoteID
	Occasion ledger.Occasion
	Version  int
	Locked   bool
	Place    Place

	open  ledger.ItemID // whose other answers are open
	extra bool          // "found and not listed" is open
	last  time.Time     // of the last tap on the button under the thumb
	lacks string
	begun bool
}

func (c *checkPane) CompoID() string { return string(c.Note) + "/" + string(c.Occasion) }

func (c *checkPane) Render() app.UI { return safe.Drawn("check", c.draw) }

func (c *checkPane) draw() app.UI {
	if c.S.child == nil {
		return app.Div()
	}
	ch := lines.CheckOf(c.S.child.rec, c.Note, c.Occasion)
	if !c.begun { // what was half said comes first
		c.begun = true
		for _, e := range ch.Entries {
			if c.open == "" && c.halfSaid(e.Item.ID) {
				c.open = ledger.ItemID(e.Item.ID)
			}
		}
	}
	var rows []app.UI
	for _, e := range ch.Entries {
		rows = append(rows, c.row(e, contains(ch.Tally.Unsettled, ledger.ItemID(e.Item.ID))))
	}
	for _, x := range ch.Extras {
		rows = append(rows, c.extraRow(x, contains(ch.Tally.Unsettled, x.Item)))
	}
	again := c.lookAgain(ch)
	return app.Div().Class("page", "check").Body(
		app.P().Class("help").Text(occasions[c.Occasion].why),
		c.band(),
		app.P().ID("tally").Class("tally", tallyClass(ch, again)).Role("status").Text(ch.Words()),
		alert(again),
		app.If(len(ch.Entries) == 0, func() app.UI {
			return app.P().Body(app.Text("Nothing is listed that can be looked for at the bed. "), linkTo(c.Place.With("items", ""), "List what is in the child", "button"))
		}),
		app.Ol().Class("check-list").Body(rows...),
		c.addExtra(),
		c.closing(ch, again),
		c.thumb(ch))
}

func tallyClass(ch lines.Check, again string) string {
	switch {
	case !ch.Ready():
		return "is-open"
	case again != "":
		return ""
	}
	return "is-balanced"
}

// lookAgain names what could not be seen and was not looked at since; "" for nothing.
func (c *checkPane) lookAgain(ch lines.Check) (words string) {
	due := c.S.child.register().Due
	for i := range due {
		d := &due[i]
		if d.What == lines.DueLook && contains(ch.Tally.LookAgain, d.Item) {
			words += " Tag " + itoa(d.Tag) + ", " + d.Name + ": " + lowerFirst(dueWords(*d)) + "."
		}
	}
	return strings.TrimSpace(words)
}

// band asks at the bed whether this is the child.
func (c *checkPane) band() app.UI {
	if c.Occasion != ledger.Arrival {
		return nil
	}
	o := c.S.child.open(c.Note)
	o.agree() // a time still to come is said here, where it is typed
	f := o.sectionForm("arrival")
	var body []app.UI
	for _, p := range []schema.Path{schema.ArrivalArrived, schema.ArrivalBandChecked, schema.ArrivalBandCheckedBy} {
		if def := schema.FieldAt(p); def != nil {
			body = append(body, widgets.Slot{Field: f.Field(def, p), Do: o.do}.UI())
		}
	}
	if name := c.S.who.Name; name != "" { // typed once already
		at := schema.ArrivalBandCheckedBy
		body = append(body, safe.Button{ID: "band-by-me", Class: "pick", Words: "Checked by " + name, Toggle: true, On: o.working.Text(at) == name, Press: func(ctx app.Context) { o.do.Pick(ctx, at, name) }}.UI())
	}
	return app.Div().Class("form", "band").Body(body...)
}

// factWords is what the sheet says of an item beside its name.
func factWords(it schema.Item) string {
	var facts []string
	for _, f := range lines.Facts(it) {
		facts = append(facts, f.Title+": "+lowerFirst(f.Sheet))
	}
	return strings.Join(facts, " · ")
}

// row is one item: what the sheet says, and the answers.
func (c *checkPane) row(e lines.Entry, unsettled bool) app.UI {
	id := ledger.ItemID(e.Item.ID)
	class := "check-row"
	switch {
	case unsettled:
		class += " is-unsettled"
	case e.Answered:
		class += " is-answered"
	}
	body := []app.UI{
		app.Div().Class("check-what").Body(
			app.Span().Class("flag").Text(safe.Int(e.Item.Tag)),
			app.Strong().Text(e.Name),
			app.If(e.New, func() app.UI { return app.Span().Class("mark asked").Text("listed after the check was signed") }),
			app.If(len(lines.Facts(e.Item)) > 0, func() app.UI { return app.Span().Class("check-facts").Text(factWords(e.Item)) }),
			app.If(e.Became != "", func() app.UI { return app.Span().Class("check-answer", "is-gone").Text(upperFirst(e.Became)) }),
			app.If(e.Before != nil, func() app.UI {
				return app.Span().Class("check-facts").Text("On leaving theatre: " + lines.AnswerWords(*e.Before) + ", " + e.Before.Author.String() + ", " + e.Before.Happened.Clock())
			}),
			app.If(e.Answered, func() app.UI {
				class := "check-answer"
				if e.Answer.Answer != ledger.Found && e.Answer.Answer != ledger.Inside {
					class += " is-gone" // it is settled, not as listed
				}
				return app.Span().Class(class).Text(upperFirst(lines.AnswerWords(e.Answer)) + ", " + e.Answer.Author.String() + ", " + e.Answer.Happened.Clock())
			}),
			app.If(e.Answer.Settled != nil, func() app.UI {
				return app.Span().Class("check-answer").Text(settledWords(e.Answer.Settled))
			})),
	}
	open, half := c.open == id, c.halfSaid(e.Item.ID)
	buttons := []app.UI{}
	switch {
	case e.Answered, open, half, e.Counted && e.Count == "": // what was begun is ended in its form; what is to be counted has one
	case e.Counted:
		buttons = append(buttons, safe.Button{ID: "inside-" + e.Item.ID, Class: "found", Words: insideWords(e), Name: insideWords(e) + ": " + e.Name, Off: c.Locked,
			Press: func(app.Context) { c.give(e.InsideCounted("by count", e.Count)) }}.UI())
	case e.Inside:
		buttons = append(buttons, safe.Button{ID: "inside-" + e.Item.ID, Class: "found", Words: "Inside, counted", Name: "Inside, counted: " + e.Name, Off: c.Locked,
			Press: func(app.Context) { c.give(e.InsideNow("by count")) }}.UI())
	default:
		buttons = append(buttons, safe.Button{ID: "found-" + e.Item.ID, Class: "found", Words: e.FoundWords(), Name: e.FoundWords() + ": " + e.Name, Off: c.Locked,
			Press: func(app.Context) { c.give(e.Found()) }}.UI())
	}
	words := otherWords(e)
	buttons = append(buttons, safe.Button{ID: "other-" + e.Item.ID, Class: "quiet", Words: words, Name: words + " " + e.Name, Opens: "answers-" + e.Item.ID, Open: open, Off: c.Locked,
		Press: func(app.Context) {
			if c.open == id {
				c.open = ""
			} else {
				c.open = id
			}
		}}.UI())
	body = append(body, app.Div().Class("check-buttons").Body(buttons...))
	if half && !open {
		body = append(body, app.P().Class("said", "wrong").Text("Half entered, not recorded yet: open it and go on."))
	}
	if open {
		body = append(body, &otherAnswer{Pane: c, Entry: e, Key: e.Item.ID})
	}
	if unsettled && !open {
		body = append(body, &settleForm{Pane: c, Check: e.Answer.Event, Name: e.Name, Item: e.Item, Answer: e.Answer})
	}
	return app.Li().ID("check-" + e.Item.ID).TabIndex(-1).Class(class).Body(body...)
}

// settledWords says how a difference was settled, and who answers for it.
func settledWords(st *ledger.Settlement) string {
	by := st.By
	if by == "" {
		by = st.Author.String()
	}
	return "Settled: " + st.How + " (" + by + ", " + st.At.Clock() + ")"
}

// extraRow is something found and not listed.
func (c *checkPane) extraRow(x ledger.CheckView, unsettled bool) app.UI {
	flag, what := "+", "Not listed: "
	if v, ok := c.S.child.rec.Item(x.Item); ok {
		flag = safe.Int(v.Tag)
		what = "Not listed then, tag " + flag + " now: "
	}
	body := []app.UI{app.Div().Class("check-what").Body(
		app.Span().Class("flag").Text(flag),
		app.Strong().Text(what+orWords(x.Note, schema.NotRecorded)),
		app.Span().Class("check-answer").Text("Found by "+x.Author.String()+", "+x.Happened.Clock()),
		app.If(x.Settled != nil, func() app.UI { return app.Span().Class("check-answer").Text(settledWords(x.Settled)) }))}
	if unsettled {
		body = append(body, app.Div().Class("check-buttons").Body(
			&listExtra{Pane: c, Item: x.Item},
			safe.Button{ID: "back-" + string(x.Item), Class: "quiet", Words: "Take back", Off: c.Locked, Press: func(app.Context) {
				c.give(ledger.CheckView{Item: x.Item, Occasion: c.Occasion, Answer: ledger.NoAnswer})
			}}.UI()),
			&settleForm{Pane: c, Check: x.Event, Name: orWords(x.Note, "what was found")})
	}
	return app.Li().ID("check-"+string(x.Item)).TabIndex(-1).Class("check-row", "is-extra").Body(body...)
}

// half names what is half typed into a form of this check.
func (c *checkPane) half(form string) string {
	return form + " " + string(c.Note) + " " + string(c.Occasion)
}

// give records an answer at once.
func (c *checkPane) give(v ledger.CheckView) {
	if c.Locked || c.S.child == nil {
		return
	}
	child := c.S.child
	child.act(child.writer.Check(child.rec, c.Note, v))
	c.open, c.lacks = "", ""
	c.Version = child.rec.Version()
}

// addExtra takes what is there and not on the list.
func (c *checkPane) addExtra() app.UI {
	child, half := c.S.child, c.half("extra")
	if !c.extra && child.half[half] == "" {
		return app.Div().Class("actions").Body(safe.Button{ID: "extra", Words: "Found and not listed…", Off: c.Locked,
			Press: func(app.Context) { c.extra = true; safe.FocusSoon("extra-what") }}.UI())
	}
	add := func(app.Context) {
		what := strings.TrimSpace(child.half[half])
		if what == "" {
			c.lacks = "Say in a few words what it is and where it comes out."
			safe.FocusSoon("extra-what")
			return
		}
		c.give(lines.ExtraFound(ledger.ItemID(c.S.ids.New()), c.Occasion, what))
		child.halfTyped(half, "")
		c.extra = false
	}
	return app.Div().Class("answer-form").Role("group").Aria("label", "Found and not listed").Body(
		app.Label().For("extra-what").Text("What is it, and where does it come out?"),
		child.halfEntry("extra-what", half, 200, c.lacks != "", add),
		alert(c.lacks),
		app.Div().Class("actions").Body(
			safe.Button{ID: "extra-save", Class: "main", Words: "Add what was found", Press: add}.UI(),
			safe.Button{ID: "extra-drop", Class: "quiet", Words: "Never mind", Press: func(app.Context) {
				child.halfTyped(half, "")
				c.extra, c.lacks = false, ""
			}}.UI()))
}

// thumb is the next item without an answer, at the bottom, where the thumb is. A
// second tap that follows at once is taken for a tremor, not for an answer about
// an item that was not looked at.
func (c *checkPane) thumb(ch lines.Check) app.UI {
	if ch.Next < 0 || c.Locked || c.open != "" { // while a form is open its own button is the one
		return nil
	}
	e := ch.Entries[ch.Next]
	answer, words, other := e.Found(), e.FoundWords(), otherWords(e)
	switch {
	case c.halfSaid(e.Item.ID):
		words, other = "", "Go on…"
	case e.Counted && e.Count == "":
		words = ""
	case e.Counted:
		answer, words = e.InsideCounted("by count", e.Count), insideWords(e)
	case e.Inside:
		answer, words = e.InsideNow("by count"), insideWords(e)
	}
	return app.Div().Class("thumb").Role("group").Aria("label", "Next item").Body(
		app.Div().Class("thumb-what").Body(app.Span().Class("flag").Text(safe.Int(e.Item.Tag)), app.Strong().Text(e.Name),
			app.Small().Text(factWords(e.Item))),
		safe.Button{ID: "next-other", Class: "quiet", Words: other, Name: other + " " + e.Name, Press: func(app.Context) {
			c.open = ledger.ItemID(e.Item.ID)
			safe.FocusSoon("other-" + e.Item.ID)
		}}.UI(),
		app.If(words != "", func() app.UI {
			return safe.Button{ID: "next-found", Class: "main found", Words: words, Name: words + ": " + e.Name, Press: func(app.Context) {
				now := time.Now()
				if now.Sub(c.last) < 350*time.Millisecond {
					return
				}
				c.last = now
				c.give(answer)
			}}.UI()
		}))
}

// insideWords are on the button for what lies inside.
func insideWords(e lines.Entry) string {
	if e.Count != "" {
		return "Inside: " + e.Count + ", as counted"
	}
	return "Inside, counted"
}

// otherWords are on the button that opens the other answers.
func otherWords(e lines.Entry) string {
	switch {
	case e.Answered:
		return "Change"
	case e.Counted && e.Count == "":
		return "How many?…"
	}
	if _, lack := lines.Unrecorded(e.Item, e.Occasion); lack != "" {
		return "Record it, or other…"
	}
	return "Other…"
}

func contains(ids []ledger.ItemID, id ledger.ItemID) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

func orWords(s, other string) string {
	if strings.TrimSpace(s) == "" {
		return other
	}
	return s
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lowerFirst(s string) string {
	if len(s) > 1 && strings.ToUpper(s[1:2]) == s[1:2] && s[1:2] != strings.ToLower(s[1:2]) {
		return s // an abbreviation
	}
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
