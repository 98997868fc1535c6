package safe

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Button does one thing when it is pressed.
type Button struct {
	app.Compo

	ID     string
	Words  string
	Aside  string // smaller words beside them
	Class  string // "main", "quiet", "danger", "pick" …
	Name   string // aria-label, when the words alone do not say enough
	Told   string // ids of the elements that describe it
	Toggle bool   // it has two states, and On says which
	On     bool
	Opens  string // id of the part of the page that it opens and closes
	Open   bool
	Off    bool // it cannot be pressed now
	Flag   int  // a tag shown as a flag before the words; 0 none

	Press func(ctx app.Context)
}

// UI returns the button as a part of a screen.
func (b Button) UI() app.UI { return &b }

// Render draws the button.
func (b *Button) Render() app.UI {
	el := app.Button().Type("button").ID(b.ID).Class("button", b.Class).Disabled(b.Off).OnClick(b.press)
	if b.Name != "" {
		el = el.Aria("label", b.Name)
	}
	if b.Told != "" {
		el = el.Aria("describedby", b.Told)
	}
	if b.Toggle {
		el = el.Aria("pressed", b.On)
	}
	if b.Opens != "" {
		el = el.Aria("expanded", b.Open).Aria("controls", b.Opens)
	}
	return el.Body(
		app.If(b.Flag != 0, func() app.UI { return app.Span().Class("flag").Text(Int(b.Flag)) }),
		app.Span().Class("words").Text(b.Words),
		app.If(b.Aside != "", func() app.UI { return app.Small().Text(b.Aside) }))
}

func (b *Button) press(ctx app.Context, ev app.Event) { call(where("button", b.ID), ctx, b.Press) }

// Link goes to another screen, or to a place on this one, and takes the focus
// there.
type Link struct {
	app.Compo

	ID      string
	To      string // a path of this app, with "#id" for a place on the screen
	Words   string
	Aside   string
	Class   string
	Name    string
	Here    bool // it stands for the screen one is on
	Flag    int
	Current string // aria-current when Here: "page" unless given

	Before func(ctx app.Context) // before going
}

// UI returns the link as a part of a screen.
func (l Link) UI() app.UI { return &l }

// Render draws the link.
func (l *Link) Render() app.UI {
	el := app.A().ID(l.ID).Href(l.To).Class("link", l.Class).OnClick(l.follow)
	if l.Name != "" {
		el = el.Aria("label", l.Name)
	}
	if l.Here {
		current := l.Current
		if current == "" {
			current = "page"
		}
		el = el.Aria("current", current)
	}
	return el.Body(
		app.If(l.Flag != 0, func() app.UI { return app.Span().Class("flag").Text(Int(l.Flag)) }),
		app.Span().Class("words").Text(l.Words),
		app.If(l.Aside != "", func() app.UI { return app.Small().Text(l.Aside) }))
}

// follow lets the framework navigate and then moves the focus, which it does
// not; going to where one already is, it does nothing at all.
func (l *Link) follow(ctx app.Context, ev app.Event) {
	call(where("link", l.ID), ctx, l.Before)
	if _, id, ok := strings.Cut(l.To, "#"); ok {
		Guard(where("link", l.ID), func() { ctx.Defer(func(app.Context) { FocusSoon(id) }) })
	}
}

// File lets a person choose a file from the device.
type File struct {
	app.Compo

	ID     string
	Words  string
	Accept string // such as ".json,application/json"
	Class  string
	Max    int // bytes; a larger file is refused without being read

	// Chosen gets the file's name and content; refused says in a sentence why
	// there is none.
	Chosen func(ctx app.Context, name string, content []byte, refused string)
}

// UI returns the chooser as a part of a screen.
func (f File) UI() app.UI { return &f }

// Render draws the chooser.
func (f *File) Render() app.UI {
	return app.Label().Class("file", "button", f.Class).Body(
		app.Input().ID(f.ID).Type("file").Accept(f.Accept).OnChange(f.change),
		app.Span().Class("words").Text(f.Words))
}

func (f *File) change(ctx app.Context, ev app.Event) {
	Guard(where("file", f.ID), func() {
		in := ctx.JSSrc()
		file := in.Get("files").Index(0)
		if !file.Truthy() || f.Chosen == nil {
			return
		}
		name := file.Get("name").String()
		if size := file.Get("size").Int(); f.Max > 0 && size > f.Max {
			in.Set("value", "")
			f.Chosen(ctx, name, nil, "The file is larger than "+Number(float64(f.Max>>20))+" MB, the most that is read. Nothing was read from it.")
			return
		}
		file.Call("arrayBuffer").Then(func(buffer app.Value) {
			array := app.Window().Get("Uint8Array").New(buffer)
			content := make([]byte, array.Get("length").Int())
			app.CopyBytesToGo(content, array)
			ctx.Dispatch(func(ctx app.Context) {
				Guard(where("file", f.ID), func() { f.Chosen(ctx, name, content, "") })
			})
		})
		in.Set("value", "") // the same file can be chosen again
	})
}

// Card is a link with more in it than words.
type Card struct {
	app.Compo
	ID    string
	To    string
	Class string
	Body  []app.UI
}

// UI returns the card as a part of a screen.
func (c Card) UI() app.UI { return &c }

// Render draws the card.
func (c *Card) Render() app.UI {
	return app.A().ID(c.ID).Href(c.To).Class("card", c.Class).Body(c.Body...)
}
