package ui

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

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

	into  map[ledger.EventID]ledger.Into // where each offer is to stand
	all   bool                           // every line is shown
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

// placed is where an offer goes, as far as that was said or is plain.
func (p *offersPane) placed(o ledger.Offer) ledger.Into {
	into := p.into[o.Event]
	if all := p.S.child.rec.Notes(); into.Note == "" && len(all) == 1 {
		into.Note = all[0].ID
	}
	return into
}

// place says where an offer goes.
func (p *offersPane) place(o ledger.Offer, change func(*ledger.Into)) {
	if p.into == nil {
		p.into = map[ledger.EventID]ledger.Into{}
	}
	into := p.placed(o)
	change(&into)
	p.into[o.Event], p.lacks = into, ""
}

// atOffer is how many entries of an offer are shown before all are asked for.
const atOffer = 20

func (p *offersPane) offer(id string, o ledger.Offer) app.UI {
	c := p.S.child
	there, into := o.There(), p.placed(o)
	whole, asksNote := o.Notes()
	var rows, signed []app.UI
	for _, l := range accountOf(there) {
		words := strings.TrimSuffix(l.Words, ".") + " (" + l.Author.String() + ", " + l.Happened.Shown() + ")"
		if ledger.IsSignature(l.Kind) {
			signed = append(signed, app.Li().Text(words))
		}
		if !slices.Contains(o.Left, l.Event) {
			continue
		}
		note := l.Note
		if !slices.Contains(whole, note) {
			note = into.Note
		}
		rows = append(rows, app.Li().Text(words+"."+c.instead(there, l, note)))
	}
	more := len(rows) - atOffer
	if more > 0 && !p.all {
		rows = rows[:atOffer]
	}
	body := []app.UI{
		app.H2().ID("offer-title-" + id).Text("Entered on another child, and offered here"),
		app.P().Text(o.Author.String() + " took it off " + p.S.childNamed(o.From) + ", " + o.At.Shown() + ": " + orNot(o.Why) + ". Read the wristband before you take it."),
	}
	for _, v := range there.Notes() {
		if slices.Contains(whole, v.ID) {
			body = append(body, app.P().Body(app.Strong().Text("The whole note "+noteName(there, v)), app.Text(": "+entries(len(o.Left))+". It becomes a note of this child.")))
		}
	}
	if len(signed) > 0 {
		body = append(body, app.Div().ID("offer-signed-"+id).Body(
			app.P().Body(app.Strong().Text("It was signed on the other child. That does not hold here: once it is taken, read it and sign it anew.")), app.Ul().Class("names").Body(signed...)))
	}
	body = append(body, app.Ul().Class("names").Body(rows...))
	if more > 0 {
		words := "Show all " + itoa(len(rows)+more)
		if p.all {
			words = "Show fewer"
		}
		body = append(body, safe.Button{ID: "offer-all-" + id, Class: "quiet", Words: words, Press: func(app.Context) { p.all = !p.all }}.UI())
	}
	if all := c.rec.Notes(); asksNote && len(all) > 1 {
		var to []safe.Option
		for _, v := range all {
			to = append(to, safe.Option{Value: string(v.ID), Words: noteName(c.rec, v)})
		}
		body = append(body, app.Label().For("offer-note-"+id).Text("Into which note?"),
			safe.Select{ID: "offer-note-" + id, Value: string(into.Note), Empty: "Choose the note", Options: to, Wrong: p.lacks != "", Change: func(_ app.Context, v string) {
				p.place(o, func(in *ledger.Into) { in.Note = ledger.NoteID(v) })
			}}.UI())
	}
	for _, x := range o.Things {
		body = append(body, p.thing(id, o, x, into)...)
	}
	body = append(body, alert(p.lacks))
	body = append(body, app.Div().Class("actions").Body(
		safe.Button{ID: "offer-take-" + id, Class: "main", Words: "Take it: it is this child's", Off: p.Who.Name == "", Press: func(app.Context) {
			if p.lacks = p.S.takeOffer(o, into); p.lacks == "" {
				safe.FocusSoon("heading")
			}
		}}.UI(),
		safe.Button{ID: "offer-refuse-" + id, Words: "Refuse it: it is not this child's", Off: p.Who.Name == "", Press: func(app.Context) {
			p.S.answer(c.writer.AnswerOffer(o, false, nil))
			safe.FocusSoon("heading")
		}}.UI()))
	return app.Section().Class("page", "notice-page").Aria("labelledby", "offer-title-"+id).Body(body...)
}

// instead says what an offered value would take the place of.
func (c *Child) instead(there *ledger.Record, l saidLine, note ledger.NoteID) string {
	def := there.Child().FieldAt(l.Path)
	if l.Kind != ledger.KindFieldSet || def == nil {
		return ""
	}
	now, was := c.rec.Values(note, l.Path), there.Values(l.Note, l.Path)
	switch {
	case len(now) == 0 || now[0].Cleared() || len(was) == 0:
		return ""
	case len(now) == 1 && now[0].Same(was[0].Entry):
		return " It stands here already."
	}
	return " Here it says: " + now[0].Shown(def, c.rec.Child()) + "; taking it replaces that."
}

// thing asks which thing of this child is meant by one that is listed on the other.
func (p *offersPane) thing(id string, o ledger.Offer, x ledger.Thing, into ledger.Into) []app.UI {
	name, at := x.Kind, "offer-thing-"+id+"-"+itoa(x.Tag)
	if k := schema.ItemKindNamed(x.Kind); k != nil {
		name = k.Title
	}
	tree := p.S.child.rec.Child()
	var here []safe.Option
	for _, v := range p.S.child.rec.Items() {
		if it, ok := tree.Item(string(v.ID)); ok && v.Kind == x.Kind && !v.Withdrawn {
			here = append(here, safe.Option{Value: string(v.ID), Words: "Tag " + itoa(v.Tag) + ", " + lines.NameNow(&v, it)})
		}
	}
	if len(here) == 0 {
		return []app.UI{app.P().Text("A part of it is about a " + lowerFirst(name) + ", tag " + itoa(x.Tag) + " on the other child. None is listed here: list it first; until then that part stays offered.")}
	}
	return []app.UI{app.Label().For(at).Text("A part of it is about a " + lowerFirst(name) + ", tag " + itoa(x.Tag) + " on the other child. Which one is that here?"),
		safe.Select{ID: at, Value: string(into.Items[x.Item]), Empty: "None of these: leave it offered", Options: here, Change: func(_ app.Context, v string) {
			p.place(o, func(in *ledger.Into) {
				items := map[ledger.ItemID]ledger.ItemID{x.Item: ledger.ItemID(v)}
				for was, is := range in.Items {
					if was != x.Item {
						items[was] = is
					}
				}
				in.Items = items
			})
		}}.UI()}
}

// answer keeps an answer to an offer, in the other record too if that is on this device.
func (s *Session) answer(events []ledger.Event) {
	s.child.act(slices.DeleteFunc(events, func(e ledger.Event) bool { return e.Case != s.child.id && !s.onDevice(e.Case) })...)
	s.keeper.whenKept(s.readList)
}

// takeOffer takes over what of an offer can stand here, as one action. It returns what
// is lacking, in a sentence.
func (s *Session) takeOffer(o ledger.Offer, into ledger.Into) string {
	c := s.child
	s.commitHere()
	events, left := c.writer.TakeOffer(c.rec, o, into)
	if len(events) == 0 && left > 0 {
		switch _, asks := o.Notes(); {
		case asks && into.Note == "" && len(c.rec.Notes()) == 0:
			return "It belongs in a note, and this child has none. Begin the note first."
		case asks && into.Note == "":
			return "Choose the note it belongs in."
		}
		return "It has no place here yet. Choose or list what it is about, or another note."
	}
	s.answer(events)
	words := "Taken."
	if left > 0 {
		words = "Taken in part: " + entries(left) + " found no place here and stay offered."
	}
	there := o.There()
	for _, was := range there.Items() {
		if is, ok := c.rec.Item(was.ID); ok && is.Tag != was.Tag && slices.Contains(o.Left, was.Listed) {
			words += " What wore tag " + itoa(was.Tag) + " is tag " + itoa(is.Tag) + " here: change the flag on the child."
		}
	}
	n := notice{id: "taken", words: words}
	for _, v := range c.rec.Notes() {
		if len(c.rec.SignedThere(v.ID)) > 0 && c.standing(v.ID).Signed == nil {
			n.words += " It was signed on the other child: that does not hold here. Read it and sign it anew."
			n.do, n.act = "Review and sign", func(app.Context) {
				s.unsay("taken")
				s.goTo(Place{Screen: "review", Case: c.id, Note: v.ID})
			}
		}
	}
	s.say(n)
	safe.Announce("said-aloud", n.words)
	return ""
}

// signedThere says which names stood under a note, or under a check in it, while it was
// on another child, as long as it is not signed anew.
func (c *Child) signedThere(note ledger.NoteID, of func(kind string) bool) app.UI {
	var names []app.UI
	for _, x := range c.rec.SignedThere(note) {
		if of(x.Kind) {
			names = append(names, app.Li().Text(strings.TrimSuffix(x.Words, ".")+" ("+x.Author.String()+", "+x.Happened.Shown()+")"))
		}
	}
	if len(names) == 0 {
		return nil
	}
	return app.Div().ID("signed-there").Body(app.P().Body(app.Strong().Text("This was taken over from another child, and was signed there. That does not hold here: read it and sign it anew.")), app.Ul().Class("names").Body(names...))
}
