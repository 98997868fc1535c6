package widgets

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/schema"
)

// control draws what one types or chooses in.
func control(f *Field, do Actions) []app.UI {
	switch shape(f) {
	case "number":
		return number(f, do)
	case "one":
		return one(f, do)
	case "several":
		return several(f, do)
	case "select":
		return dropDown(f, do)
	case "moment":
		return moment(f, do)
	case "long":
		e := entry(f, do)
		e.Lines, e.Enter = 3, nil
		return append([]app.UI{e.UI()}, picks(f, do)...)
	case "date":
		e := entry(f, do)
		e.Hint, e.Class = "dd-Mmm-yyyy", "day"
		return append([]app.UI{e.UI()}, picks(f, do)...)
	case "clock":
		e := entry(f, do)
		e.Hint, e.Class, e.Keys = "hh:mm", "time", "numeric"
		return append([]app.UI{e.UI()}, picks(f, do)...)
	}
	e := entry(f, do)
	if f.Def.Format == "digits" {
		e.Keys = "numeric"
	}
	return append([]app.UI{e.UI()}, picks(f, do)...)
}

func entry(f *Field, do Actions) safe.Entry {
	e := safe.Entry{
		ID: EntryID(f.At), Value: f.Text, Told: told(f), Max: 4000,
		Wrong: f.Wrong != "" || has(f, schema.Error), Wanted: f.Wanted, Locked: f.Locked,
		Type:  func(ctx app.Context, s string) { do.Type(ctx, f.At, s) },
		Leave: func(ctx app.Context) { do.Leave(ctx, f.At) },
		Enter: func(ctx app.Context) { do.Leave(ctx, f.At); safe.FocusNext() },
	}
	if f.Stated != "" {
		e.Hint = schema.ShowStated(f.Def, f.Stated)
	}
	return e
}

func number(f *Field, do Actions) []app.UI {
	e := entry(f, do)
	e.Keys = "decimal"
	if f.Def.Type == "integer" {
		e.Keys = "numeric"
	}
	if f.Def.Min != nil && *f.Def.Min < 0 {
		e.Keys = "text" // a number pad has no minus
	}
	unit := ""
	if f.Def.Unit != "" && f.Def.Unit != "1" {
		unit = schema.UnitShown(f.Def.Unit)
		e.Labelled = part("t", f.At) + " " + part("u", f.At)
	}
	out := []app.UI{app.Span().Class("amount").Body(
		app.Span().Class("bound").Text(f.Bound), // always there: what comes and goes before the box would take the focus from it
		e.UI(),
		app.If(unit != "", func() app.UI { return app.Span().Class("unit").ID(part("u", f.At)).Text(unit) }))}
	return append(out, picks(f, do)...)
}

// picks are the values quick to pick with one thumb.
func picks(f *Field, do Actions) []app.UI {
	if len(f.Picks) == 0 || f.Locked {
		return nil
	}
	var body []app.UI
	for i, c := range f.Picks {
		on := f.Text == c.Value || f.Text == c.Words
		body = append(body, safe.Button{ID: part("p"+safe.Int(i), f.At), Class: "pick", Words: c.Words, Name: f.Def.Title + " " + c.Words, Toggle: true, On: on,
			Press: func(ctx app.Context) { do.Pick(ctx, f.At, c.Value) }}.UI())
	}
	return []app.UI{app.Div().Class("picks").Role("group").Aria("label", "Quick picks for "+f.Def.Title).Body(body...)}
}

// choices lists what can be chosen of a field.
func choices(f *Field) []Choice {
	switch {
	case f.Def.Format == "item" || f.Def.Format == "items":
		return f.Items
	case f.Def.Type == "boolean":
		yes, no := Choice{Value: "yes", Words: "Yes"}, Choice{Value: "no", Words: "No"}
		if l := f.Def.Labels["true"]; l != "" {
			yes.Words = l
		}
		if l := f.Def.Labels["false"]; l != "" {
			no.Words = l
		}
		return []Choice{yes, no}
	}
	var out []Choice
	for _, v := range f.Def.Enum {
		out = append(out, Choice{Value: v, Words: f.Def.Label(v)})
	}
	return out
}

// stated are the answers that are not values, to stand among the choices, save
// those the choices have themselves.
func stated(f *Field) []string {
	var out []string
	if f.Def.None != "" && !slices.Contains(f.Def.Enum, "none") {
		out = append(out, schema.StatedNone)
	}
	if !slices.Contains(f.Def.Enum, "unknown") && !slices.Contains(f.Def.Enum, "not-known") {
		out = append(out, schema.StatedUnknown)
	}
	return out
}

// one draws choices of which one holds. Arrow keys pass over the choices
// between, so only a tap is taken as meant at once.
func one(f *Field, do Actions) []app.UI {
	group := EntryID(f.At)
	var body []app.UI
	for i, c := range choices(f) {
		body = append(body, safe.Tick{ID: choiceID(f, i), Group: group, Words: flagged(c), On: slices.Contains(f.Chosen, c.Value), Locked: f.Locked, Told: told(f),
			Class: choiceClass(c),
			Leave: func(ctx app.Context) { do.Leave(ctx, f.At) },
			Change: func(ctx app.Context, on, tapped bool) {
				if on {
					do.Choose(ctx, f.At, []string{c.Value}, tapped)
				}
			}}.UI())
	}
	if len(body) == 0 && f.Def.Format == "item" {
		body = append(body, app.P().Class("none-listed").Text("Nothing that fits is listed yet. List it under Items first."))
	}
	for _, s := range stated(f) {
		body = append(body, safe.Tick{ID: part("s-"+s[:2], f.At), Group: group, Class: "stated", Words: schema.ShowStated(f.Def, s), On: f.Stated == s, Locked: f.Locked,
			Change: func(ctx app.Context, on, _ bool) {
				if on {
					do.State(ctx, f.At, s)
				}
			}}.UI())
	}
	return []app.UI{app.Div().Class("ticks").Role("radiogroup").Aria("labelledby", part("t", f.At)).Body(body...)}
}

// several draws choices of which any number hold.
func several(f *Field, do Actions) []app.UI {
	all := choices(f)
	var body []app.UI
	for i, c := range all {
		if len(all) > 2*fits && !slices.Contains(f.Chosen, c.Value) && !picked(f, c.Value) {
			continue // in the list below
		}
		body = append(body, safe.Tick{ID: choiceID(f, i), Words: flagged(c), On: slices.Contains(f.Chosen, c.Value), Locked: f.Locked, Told: told(f),
			Class:  choiceClass(c),
			Change: func(ctx app.Context, on, tapped bool) { do.Toggle(ctx, f.At, c.Value, on) }}.UI())
	}
	if len(all) == 0 {
		body = append(body, app.P().Class("none-listed").Text("Nothing that fits is listed yet. List it under Items first."))
	}
	for _, s := range stated(f) {
		body = append(body, safe.Tick{ID: part("s-"+s[:2], f.At), Class: "stated", Words: schema.ShowStated(f.Def, s), On: f.Stated == s, Locked: f.Locked,
			Change: func(ctx app.Context, on, _ bool) {
				if on {
					do.State(ctx, f.At, s)
				} else {
					do.State(ctx, f.At, "")
				}
			}}.UI())
	}
	out := []app.UI{app.Div().Class("ticks").Body(body...)}
	if len(all) > 2*fits {
		s := list(f, "", "Add another…")
		s.ID = part("x", f.At)
		s.Name = "Add to " + f.Def.Title
		s.Labelled = ""
		s.Change = func(ctx app.Context, v string) {
			if v != "" {
				do.Toggle(ctx, f.At, v, true)
			}
		}
		out = append(out, s.UI())
	}
	return out
}

func picked(f *Field, value string) bool {
	return slices.ContainsFunc(f.Picks, func(c Choice) bool { return c.Value == value })
}

func choiceID(f *Field, i int) string {
	if i == 0 {
		return EntryID(f.At) // links and labels lead to the first
	}
	return EntryID(f.At) + "-" + safe.Int(i)
}

func flagged(c Choice) string {
	if c.Tag != 0 {
		return safe.Int(c.Tag) + "  " + c.Words
	}
	return c.Words
}

func choiceClass(c Choice) string {
	if c.Tag != 0 {
		return "tagged"
	}
	return ""
}

func list(f *Field, value, empty string) safe.Select {
	s := safe.Select{ID: EntryID(f.At), Value: value, Empty: empty, Labelled: part("t", f.At), Told: told(f), Locked: f.Locked,
		Wrong: has(f, schema.Error)}
	for _, c := range choices(f) {
		s.Options = append(s.Options, safe.Option{Value: c.Value, Words: flagged(c)})
	}
	return s
}

// dropDown draws choices too many to stand side by side, the usual ones first.
func dropDown(f *Field, do Actions) []app.UI {
	value := ""
	if len(f.Chosen) > 0 {
		value = f.Chosen[0]
	}
	empty := schema.NotRecorded
	if f.Stated != "" {
		empty = schema.ShowStated(f.Def, f.Stated)
	}
	s := list(f, value, empty)
	s.Change = func(ctx app.Context, v string) {
		if v == "" {
			do.Clear(ctx, f.At)
			return
		}
		do.Choose(ctx, f.At, []string{v}, false)
	}
	s.Leave = func(ctx app.Context) { do.Leave(ctx, f.At) }
	quick := *f
	quick.Text = value
	return append([]app.UI{s.UI()}, picks(&quick, do)...)
}

// moment draws a time of day with the date that goes with it.
func moment(f *Field, do Actions) []app.UI {
	e := entry(f, do)
	e.Keys, e.Class = "numeric", "time"
	if e.Hint == "" {
		e.Hint = "hh:mm"
	}
	out := []app.UI{e.UI()}
	day := safe.Entry{ID: DayID(f.At), Value: f.Day, Class: "day", Name: "Date of " + f.Def.Title, Locked: f.Locked, Hint: "dd-Mmm-yyyy",
		Type:  func(ctx app.Context, s string) { do.TypeDay(ctx, f.At, s) },
		Leave: func(ctx app.Context) { do.Leave(ctx, f.At) },
		Enter: func(ctx app.Context) { do.Leave(ctx, f.At); safe.FocusNext() },
	}
	out = append(out, day.UI())
	if !f.Locked {
		out = append(out, safe.Button{ID: part("n", f.At), Class: "pick", Words: "Now", Name: f.Def.Title + ": now",
			Press: func(ctx app.Context) { do.Now(ctx, f.At) }}.UI())
	}
	for i, r := range f.Readings {
		out = append(out, safe.Button{ID: part("r"+safe.Int(i), f.At), Class: "quiet", Words: r.Words,
			Press: func(ctx app.Context) { do.Read(ctx, f.At, r.Value) }}.UI())
	}
	return out
}
