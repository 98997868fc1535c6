package safe

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Entry is a line, or with Lines above 1 a box, to type in. What stands in it
// belongs to the browser, which may be a letter ahead of us: the page can be drawn
// after a key changed the element and before its event is handled. So Value is
// written into it only when it changed otherwise than by typing.
type Entry struct {
	app.Compo

	ID       string // of the element
	Value    string // what should stand in it
	Class    string
	Name     string // aria-label, where no label element names it
	Labelled string // ids of the elements that name it
	Told     string // ids of the elements that describe it
	Keys     string // the keyboard wanted: "decimal", "numeric", "text" …
	Type_    string // "text" unless given: "search", "password"
	Hint     string // placeholder: the form wanted, never a label, nor what can be taken for a value
	Complete string // autocomplete; "off" unless given
	Lines    int
	Max      int // characters
	Wrong    bool
	Wanted   bool
	Locked   bool

	Type  func(ctx app.Context, text string) // on each change
	Leave func(ctx app.Context)              // on leaving it
	Enter func(ctx app.Context)              // on the Enter key; in a box, with Ctrl

	first string
	begun bool
	shown string // what the element is known to show
}

// UI returns the entry as a part of a screen.
func (e Entry) UI() app.UI { return &e }

// OnUpdate writes the value into the element if it changed otherwise than by
// typing.
func (e *Entry) OnUpdate(ctx app.Context) {
	Guard(where("entry", e.ID), func() {
		if e.Value == e.shown {
			return
		}
		e.shown = e.Value
		if el := ctx.JSSrc(); el.Truthy() && el.Get("value").String() != e.Value {
			el.Set("value", e.Value)
		}
	})
}

// Render draws the entry. The value attribute never changes after the first
// time; see OnUpdate.
func (e *Entry) Render() app.UI {
	if !e.begun {
		e.begun, e.first, e.shown = true, e.Value, e.Value
	}
	complete := e.Complete
	if complete == "" {
		complete = "off"
	}
	if e.Lines > 1 {
		box := app.Textarea().ID(e.ID).Class("entry", e.Class).Rows(e.Lines).
			Attr("value", e.first).Attr("autocomplete", complete).Attr("placeholder", e.Hint).
			ReadOnly(e.Locked).Spellcheck(true).
			OnInput(e.typed).OnBlur(e.left).OnKeyDown(e.key)
		if e.Max > 0 {
			box = box.MaxLength(e.Max)
		}
		for name, value := range e.aria() {
			box = box.Attr(name, value)
		}
		return box
	}
	kind := e.Type_
	if kind == "" {
		kind = "text"
	}
	line := app.Input().ID(e.ID).Class("entry", e.Class).Type(kind).
		Attr("value", e.first).Attr("autocomplete", complete).Attr("placeholder", e.Hint).
		Attr("inputmode", e.Keys).Attr("enterkeyhint", "next").Spellcheck(false).ReadOnly(e.Locked).
		OnInput(e.typed).OnBlur(e.left).OnKeyDown(e.key)
	if e.Max > 0 {
		line = line.MaxLength(e.Max)
	}
	for name, value := range e.aria() {
		line = line.Attr(name, value)
	}
	return line
}

// aria holds only what is there: the framework drops an empty attribute.
func (e *Entry) aria() map[string]string {
	out := map[string]string{}
	put := func(name, value string) {
		if value != "" {
			out[name] = value
		}
	}
	put("aria-label", e.Name)
	put("aria-labelledby", e.Labelled)
	put("aria-describedby", e.Told)
	if e.Wrong {
		out["aria-invalid"] = "true"
	}
	if e.Wanted {
		out["aria-required"] = "true"
	}
	return out
}

func (e *Entry) typed(ctx app.Context, ev app.Event) {
	Guard(where("typing", e.ID), func() {
		text := ctx.JSSrc().Get("value").String()
		e.Value, e.shown = text, text
		if e.Type != nil {
			e.Type(ctx, text)
		}
	})
}

func (e *Entry) left(ctx app.Context, ev app.Event) { call(where("leaving", e.ID), ctx, e.Leave) }

func (e *Entry) key(ctx app.Context, ev app.Event) {
	Guard(where("key", e.ID), func() {
		if ev.Get("key").String() != "Enter" || ev.Get("isComposing").Truthy() || e.Enter == nil {
			return
		}
		if e.Lines > 1 && !ev.Get("ctrlKey").Truthy() {
			return
		}
		ev.PreventDefault()
		e.Enter(ctx)
	})
}
