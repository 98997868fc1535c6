package ui

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "children", title: "Children on this device", draw: drawChildren})

// listed is one child as the list shows it.
type listed struct {
	Case  ledger.CaseID
	Cases []ledger.CaseID // with the records joined to it
	identity
	Last  string      // the latest note, in words
	State string      // what is open
	Held  ledger.Held // how many things are in the child, by how they stand

	Offers  int      // entered on another child first, and not answered here
	Serials []string // of implants: one serial belongs to one child
}

// is tells whether the line stands for that record.
func (l listed) is(c ledger.CaseID) bool { return l.Case == c || slices.Contains(l.Cases, c) }

// drawChildren lists the children kept on this device.
func drawChildren(s *Session) app.UI {
	today := civil.Today(s.zone)
	var rows []app.UI
	for _, l := range s.list {
		rows = append(rows, app.Li().Body(&childLine{Line: l, Today: today, Alike: s.alike(l.Case)}))
	}
	body := []app.UI{}
	if s.who.Name == "" {
		body = append(body, &whoForm{S: s})
	}
	switch {
	case !s.listRead && s.storeTrouble == "":
		body = append(body, app.P().Class("page").Aria("busy", true).Text("Reading what is kept…"))
	case len(rows) == 0:
		body = append(body, app.Div().Class("page", "nothing-yet").Body(
			app.P().Text("No child is kept on this device yet."), s.listActions()))
	default:
		body = append(body, app.Ul().Class("children").Body(rows...), s.listActions())
	}
	if s.offlineNews { // below all that is tapped: it comes late, and must move nothing away
		body = append(body, app.Div().ID("offline-ready").Class("notice").Role("status").Body(app.P().Text("Ready to work offline."),
			safe.Button{ID: "offline-ready-close", Class: "quiet", Words: "Put away", Press: func(app.Context) { s.offlineNews = false }}.UI()))
	}
	body = append(body, s.storeWords())
	return app.Div().Body(body...)
}

// childLine is one line of the list.
type childLine struct {
	app.Compo
	Line  listed
	Today schema.Date
	Alike string
}

func (c *childLine) CompoID() string { return string(c.Line.Case) }

func (c *childLine) Render() app.UI {
	l := c.Line
	return safe.Card{To: Place{Screen: "child", Case: l.Case}.Path(), Body: []app.UI{
		app.Span().Class("child-name").Body(app.Text(clipped(l.Name(), 120)), app.If(l.Invented, func() app.UI {
			return app.Span().Class("invented").Text("INVENTED")
		})),
		app.Span().Class("child-facts").Text("No. " + clipped(l.numberShown(), 60) + " · born " + l.birthShown(c.Today)),
		app.Span().Class("child-state").Text(strings.Join(parts(l.Last, l.State, inWords(l.Held), offeredWords(l.Offers)), " · ")),
		app.If(c.Alike != "", func() app.UI {
			return app.Span().Class("child-alike").Text("Take care: another child here has a like name, " + c.Alike + ". Compare the number and the date of birth.")
		}),
	}}.UI()
}

// inWords is how many tags are in, as on every screen.
func inWords(h ledger.Held) string {
	if h[ledger.StandsOut] = 0; h == (ledger.Held{}) {
		return "nothing listed as in"
	}
	return h.Words("tag")
}

func parts(words ...string) []string {
	return slices.DeleteFunc(words, func(s string) bool { return s == "" })
}

// listActions are what can be done from the list.
func (s *Session) listActions() app.UI {
	body := []app.UI{
		safe.Button{ID: "new-child", Class: "main", Words: "New child", Off: s.who.Name == "", Press: func(ctx app.Context) { s.newChild() }}.UI(),
		safe.File{ID: "import", Words: "Open a child's file…", Accept: ".jsonl,.json,application/json", Max: ledger.MaxFile, Chosen: func(ctx app.Context, name string, content []byte, refused string) {
			s.importFile(content, refused)
		}}.UI(),
	}
	if len(s.list) > 0 {
		body = append(body, linkTo(Place{Screen: "board"}, "The unit: what is in every child", "button"))
	}
	if !s.hasDemo() {
		body = append(body, safe.Button{ID: "demo", Words: "Load the invented children", Aside: "to try it out", Press: func(app.Context) { s.loadDemo() }}.UI())
	}
	return app.Div().Class("actions").Body(body...)
}

// alike names another child on this device whose name could be taken for this
// one's, or "". Names are compared without case, accents' marks, spaces and
// hyphens, and one letter more, less or other is still alike.
func (s *Session) alike(c ledger.CaseID) string {
	i := slices.IndexFunc(s.list, func(l listed) bool { return l.is(c) })
	if i < 0 {
		return ""
	}
	me := s.list[i]
	for _, l := range s.list {
		if !l.is(c) && alikeNames(me.identity, l.identity) {
			return clipped(l.Name(), 60) + ", No. " + clipped(l.numberShown(), 30)
		}
	}
	return ""
}

func alikeNames(a, b identity) bool {
	x, y := plainName(cmp.Or(a.Surname, a.BabyOf)), plainName(cmp.Or(b.Surname, b.BabyOf))
	return len(x) > 0 && len(y) > 0 && within1(x, y)
}

func plainName(s string) []rune {
	var out []rune
	for _, r := range strings.ToLower(s) {
		if unicode.IsLetter(r) {
			out = append(out, r)
		}
	}
	return out
}

// within1 tells whether one change of a letter, one letter more, or two letters
// changed over makes a into b.
func within1(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return slices.Equal(a[i:], b[i+1:])
	}
	return i == len(a) || slices.Equal(a[i+1:], b[i+1:]) ||
		i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && slices.Equal(a[i+2:], b[i+2:])
}
