package safe

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Tick is one radio button or one tick box, with its words. The whole of it can
// be tapped.
type Tick struct {
	app.Compo

	ID     string
	Group  string // radio buttons of one group; "" makes a tick box
	Words  string
	Aside  string // smaller words beside them
	Class  string
	On     bool
	Locked bool
	Told   string // ids of the elements that describe it

	// Change is told of a change; tapped is false when it came from the
	// keyboard, where moving through a group passes over choices.
	Change func(ctx app.Context, on, tapped bool)
	Leave  func(ctx app.Context) // when the focus leaves the group

	tapped bool
	begun  bool
	first  bool
	shown  bool // what the element is known to show; see Entry
}

// UI returns the tick as a part of a screen.
func (t Tick) UI() app.UI { return &t }

// OnUpdate makes the element show what the record says, if that changed otherwise
// than by this element.
func (t *Tick) OnUpdate(ctx app.Context) {
	Guard(where("tick", t.ID), func() {
		if t.On == t.shown {
			return
		}
		t.shown = t.On
		if el := ctx.JSSrc(); el.Truthy() {
			if in := el.Get("firstElementChild"); in.Truthy() && in.Get("checked").Bool() != t.On {
				in.Set("checked", t.On)
			}
		}
	})
}

// Render draws it.
func (t *Tick) Render() app.UI {
	kind := "checkbox"
	if t.Group != "" {
		kind = "radio"
	}
	if !t.begun {
		t.begun, t.first, t.shown = true, t.On, t.On
	}
	in := app.Input().ID(t.ID).Type(kind).Checked(t.first).Disabled(t.Locked).
		OnChange(t.change).OnClick(t.click)
	if t.Leave != nil {
		in = in.OnBlur(t.left)
	}
	if t.Group != "" {
		in = in.Name(t.Group)
	}
	if t.Told != "" {
		in = in.Aria("describedby", t.Told)
	}
	return app.Label().Class("tick", kind, t.Class).Body(in,
		app.Span().Class("words").Text(t.Words),
		app.If(t.Aside != "", func() app.UI { return app.Small().Text(t.Aside) }))
}

// click comes before change; a pointer counts its clicks from one, a key not.
func (t *Tick) click(ctx app.Context, ev app.Event) {
	Guard(where("tick", t.ID), func() { t.tapped = ev.Get("detail").Int() > 0 || ev.Get("pointerType").String() == "touch" })
}

func (t *Tick) change(ctx app.Context, ev app.Event) {
	Guard(where("tick", t.ID), func() {
		t.On = ctx.JSSrc().Get("checked").Bool()
		t.shown = t.On
		if t.Change != nil {
			t.Change(ctx, t.On, t.tapped)
		}
		t.tapped = false
	})
}

// left tells of the focus leaving; moving on inside the group is not leaving.
func (t *Tick) left(ctx app.Context, ev app.Event) {
	Guard(where("tick", t.ID), func() {
		to := ev.Get("relatedTarget")
		if t.Group != "" && to.Truthy() && to.Get("name").Truthy() && to.Get("name").String() == t.Group {
			return
		}
		t.Leave(ctx)
	})
}

// Option is one choice of a [Select].
type Option struct{ Value, Words string }

// Select is a list that drops down, for more choices than fit side by side.
type Select struct {
	app.Compo

	ID       string
	Value    string // "" is the first line, Empty
	Empty    string // the words of the line that chooses nothing
	Options  []Option
	Class    string
	Name     string // aria-label
	Labelled string
	Told     string
	Wrong    bool
	Locked   bool

	Change func(ctx app.Context, value string)
	Leave  func(ctx app.Context)

	begun bool
	first string
	shown string // what the element is known to show; see Entry
}

// UI returns the list as a part of a screen.
func (s Select) UI() app.UI { return &s }

// OnUpdate makes the element show what the record says, once its options are
// drawn, if that changed otherwise than by this element.
func (s *Select) OnUpdate(ctx app.Context) {
	if s.Value == s.shown {
		return
	}
	s.shown = s.Value
	ctx.Defer(func(ctx app.Context) {
		Guard(where("select", s.ID), func() {
			want := s.Value
			if want == "" {
				want = emptyChoice
			}
			if el := ctx.JSSrc(); el.Truthy() && el.Get("value").String() != want {
				el.Set("value", want)
			}
		})
	})
}

// Render draws the list.
func (s *Select) Render() app.UI {
	if !s.begun {
		s.begun, s.first, s.shown = true, s.Value, s.Value
	}
	options := make([]app.UI, 0, len(s.Options)+1)
	// The framework drops value=""; an option without the attribute would have
	// its words for a value, so the empty line carries a sign of its own.
	options = append(options, app.Option().Attr("value", emptyChoice).Selected(s.first == "").Text(s.Empty))
	for _, o := range s.Options {
		options = append(options, app.Option().Attr("value", o.Value).Selected(o.Value == s.first).Text(o.Words))
	}
	sel := app.Select().ID(s.ID).Class("list", s.Class).Disabled(s.Locked).Body(options...).
		OnChange(s.change).OnBlur(s.left)
	if s.Name != "" {
		sel = sel.Aria("label", s.Name)
	}
	if s.Labelled != "" {
		sel = sel.Aria("labelledby", s.Labelled)
	}
	if s.Told != "" {
		sel = sel.Aria("describedby", s.Told)
	}
	if s.Wrong {
		sel = sel.Aria("invalid", "true")
	}
	return sel
}

const emptyChoice = "~"

func (s *Select) change(ctx app.Context, ev app.Event) {
	Guard(where("select", s.ID), func() {
		v := ctx.JSSrc().Get("value").String()
		if v == emptyChoice {
			v = ""
		}
		s.Value, s.shown = v, v
		if s.Change != nil {
			s.Change(ctx, v)
		}
	})
}

func (s *Select) left(ctx app.Context, ev app.Event) { call(where("leaving", s.ID), ctx, s.Leave) }
