package ui

import (
	"context"
	"encoding/json"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// relink follows what the events say of other records being of this child: it
// reads those that are joined now and not here, and forgets those that are parted.
func (c *Child) relink(events []ledger.Event) {
	if !linking(events) {
		return
	}
	cases := c.rec.Cases()
	for was := range c.loaded {
		if !slices.Contains(cases, was) {
			delete(c.loaded, was)
		}
	}
	for id := range c.notes {
		if _, ok := c.rec.NoteView(id); !ok {
			delete(c.notes, id)
		}
	}
	for _, other := range cases {
		if !c.loaded[other] {
			c.loaded[other] = true
			c.s.readInto(c, other, nil)
		}
	}
}

// linking tells whether events may join records or part them.
func linking(events []ledger.Event) bool {
	return slices.ContainsFunc(events, func(e ledger.Event) bool {
		return e.Kind == ledger.KindCasesJoined || e.Kind == ledger.KindCasesParted || e.Kind == ledger.KindRetracted
	})
}

// readInto reads another record into the child's, and then does something.
func (s *Session) readInto(c *Child, other ledger.CaseID, then func()) {
	if s.store == nil {
		return
	}
	go safe.Guard("joined", func() {
		events, err := s.store.Events(context.Background(), other)
		s.later(func() {
			s.unread(err)
			if s.child != c || err != nil && len(events) == 0 {
				return
			}
			c.writer.Observe(events...)
			c.take(events)
			if then != nil {
				then()
			}
		})
	})
}

// joinWith says that another record on this device is of the child on screen. Its
// events are read first, so that what was said of the two before is seen.
func (s *Session) joinWith(other ledger.CaseID, why string) {
	c := s.child
	s.commitHere()
	s.readInto(c, other, func() {
		c.loaded[other] = true
		c.act(c.writer.Join(c.rec, other, why)...)
		safe.Announce("said-aloud", "The two records are joined.")
	})
}

// part says that a joined record is not of this child after all.
func (s *Session) part(l ledger.Link, why string) {
	c := s.child
	s.commitHere()
	c.act(c.writer.For(l.Case).Part(c.rec, l.Other, why)...)
	safe.Announce("said-aloud", "The two records are parted.")
}

// likeness is another record on this device that may be of the same child.
type likeness struct {
	Line listed
	Why  string // by what they are alike
	Was  string // what was said of the two before, in words, or ""
}

// likenesses lists the records that look like the child on screen and are not
// joined to it.
func (s *Session) likenesses() []likeness {
	c := s.child
	me := identityIn(c.rec).facts()
	links := c.rec.Links()
	var out []likeness
	for _, l := range s.list {
		if l.is(c.id) {
			continue
		}
		why, ok := ledger.Alike(me, l.identity.facts())
		if !ok {
			continue
		}
		like := likeness{Line: l, Why: why}
		for _, said := range links {
			if l.is(said.Other) && !said.Joined {
				like.Was = said.Author.String() + " parted them, " + said.At.Shown() + ": " + orNot(said.Why)
			}
		}
		out = append(out, like)
	}
	return out
}

// facts are the facts by which two records are held against each other.
func (id identity) facts() *schema.Note {
	n := schema.NewNote("", "", "")
	for p, v := range map[schema.Path]string{schema.ChildHospitalNumber: id.Number, schema.ChildSurname: id.Surname, schema.ChildGivenName: id.Given,
		schema.ChildBabyOf: id.BabyOf, schema.ChildBirthDate: string(id.Birth)} {
		if v != "" {
			n.Set(p, v)
		}
	}
	if id.Provisional {
		n.Set(schema.ChildNumberProvisional, true)
	}
	if id.Order != "" {
		n.Set(schema.ChildBirthOrder, json.Number(id.Order))
	}
	return n
}

// joinedPart is what the child's page says of other records: those that may be of
// the same child, and those that are joined.
func (s *Session) joinedPart() app.UI {
	return &joinedPane{S: s, Case: s.child.id, Version: s.child.rec.Version(), Who: s.who, Like: s.likenesses()}
}

type joinedPane struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	Who     ledger.Author
	Like    []likeness

	asked ledger.CaseID // which of them a reason is being given for
	lacks string
}

func (j *joinedPane) CompoID() string { return "joined-" + string(j.Case) }

func (j *joinedPane) Render() app.UI { return safe.Drawn("joined records", j.draw) }

func (j *joinedPane) draw() app.UI {
	c := j.S.child
	if c == nil || c.id != j.Case {
		return app.Div()
	}
	var body []app.UI
	for i, l := range j.Like {
		body = append(body, j.proposal(i, l))
	}
	for i, l := range c.rec.Links() {
		if l.Joined {
			body = append(body, j.joined(i, l))
		}
	}
	return app.Div().Body(body...)
}

// proposal puts the two records side by side. Nothing is joined unless somebody
// says so, with a reason.
func (j *joinedPane) proposal(i int, l likeness) app.UI {
	me, today := identityIn(j.S.child.rec), j.S.now().Date()
	row := func(name, mine, other string) app.UI {
		return app.Tr().Body(app.Th().Scope("row").Text(name), app.Td().Text(clipped(mine, 80)), app.Td().Text(clipped(other, 80)))
	}
	mine := lineOf(j.S.child.rec)
	id := itoa(i)
	body := []app.UI{
		app.H2().ID("alike-title-" + id).Text("These two records may be of one child"),
		app.P().Text("They have " + l.Why + ". Nothing is joined unless you say so: hold the wristband, the number and the date of birth against both."),
		app.Table().Class("side-by-side").Body(
			app.THead().Body(app.Tr().Body(app.Td(), app.Th().Scope("col").Text("This record"), app.Th().Scope("col").Text("The other record"))),
			app.TBody().Body(
				row("Name", me.Name(), l.Line.Name()), row("Number", me.numberShown(), l.Line.numberShown()),
				row("Born", me.birthShown(today), l.Line.birthShown(today)), row("Birth order", orNot(me.Order), orNot(l.Line.Order)),
				row("Last note", mine.Last, l.Line.Last), row("In the child", inWords(mine.Held), inWords(l.Line.Held)))),
		app.If(l.Was != "", func() app.UI { return app.P().Class("wrong").Text("Take care: " + l.Was + ".") }),
	}
	ask := "Who compared what? Say why they are of one child."
	body = append(body, j.reason("join-"+id, l.Line.Case, "They are of one child…", ask, "Join the two records", func(why string) { j.S.joinWith(l.Line.Case, why) })...)
	body = append(body, app.Div().Class("actions").Body(linkTo(Place{Screen: "child", Case: l.Line.Case}, "Look at the other record", "button", "quiet")))
	return app.Section().Class("page", "notice-page").Aria("labelledby", "alike-title-"+id).Body(body...)
}

// joined says which record is joined, by whom and why, and parts it again.
func (j *joinedPane) joined(i int, l ledger.Link) app.UI {
	other := lineOf(j.S.child.apart(l.Other))
	id := itoa(i)
	body := []app.UI{
		app.H2().ID("joined-title-" + id).Text("Two records, joined"),
		app.P().Text("Another record of this child, begun as " + clipped(other.Name(), 80) + ", No. " + clipped(other.numberShown(), 40) + ", stands in this one. " +
			l.Author.String() + " joined them, " + l.At.Shown() + ": " + orNot(l.Why) + "."),
	}
	body = append(body, j.reason("part-"+id, l.Other, "They are two children…", "Say why they are not of one child.", "Part the two records", func(why string) { j.S.part(l, why) })...)
	return app.Section().Class("page").Aria("labelledby", "joined-title-"+id).Body(body...)
}

// apart is one of the joined records by itself.
func (c *Child) apart(other ledger.CaseID) *ledger.Record {
	var theirs []ledger.Event
	for _, e := range c.rec.Events() {
		if e.Case == other {
			theirs = append(theirs, e)
		}
	}
	return ledger.FoldCase(other, theirs)
}

// reason asks why before something is done.
func (j *joinedPane) reason(id string, other ledger.CaseID, open, ask, words string, do func(why string)) []app.UI {
	c, half := j.S.child, id[:4]+" "+string(other) // its place in the list may change
	if j.asked != other && c.half[half] == "" {
		return []app.UI{app.Div().Class("actions").Body(safe.Button{ID: id, Words: open, Off: j.Who.Name == "",
			Press: func(app.Context) { j.asked, j.lacks = other, ""; safe.FocusSoon(id + "-why") }}.UI())}
	}
	act := func(app.Context) {
		why := strings.TrimSpace(c.half[half])
		if why == "" {
			j.lacks = "Say why first: it stays on record."
			safe.FocusSoon(id + "-why")
			return
		}
		j.asked, j.lacks = "", ""
		c.halfTyped(half, "")
		do(why)
		safe.FocusSoon("heading")
	}
	return []app.UI{app.Div().Class("reason").Role("group").Aria("label", words).Body(
		app.Label().For(id+"-why").Text(ask),
		c.halfEntry(id+"-why", half, 300, j.lacks != "", act),
		alert(j.lacks),
		app.Div().Class("actions").Body(
			safe.Button{ID: id + "-yes", Class: "main", Words: words, Off: j.Who.Name == "", Press: act}.UI(),
			safe.Button{ID: id + "-no", Class: "quiet", Words: "Leave it as it is", Press: func(app.Context) {
				j.asked, j.lacks = "", ""
				c.halfTyped(half, "")
				safe.FocusSoon(id)
			}}.UI()))}
}
