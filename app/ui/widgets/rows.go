package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/schema"
)

// drawRows draws a list: one line an entry, opened one at a time.
func drawRows(f *Field, do Actions) app.UI {
	title := []app.UI{app.Text(f.Def.Title)}
	if f.Wanted {
		title = append(title, app.Span().Class("wanted").Text("wanted"))
	}
	var body []app.UI
	head := []app.UI{app.Span().Class("title").ID(part("t", f.At)).Body(title...)}
	if len(f.Rows) == 0 && !f.Locked {
		var quick []app.UI
		if f.Def.None != "" {
			quick = append(quick, answer(f, do, schema.StatedNone))
		}
		quick = append(quick, answer(f, do, schema.StatedUnknown))
		head = append(head, app.Div().Class("answers").Body(quick...))
	}
	body = append(body, app.Div().Class("head").Body(head...))
	if f.Def.Help != "" {
		body = append(body, app.P().Class("help").ID(part("h", f.At)).Text(f.Def.Help))
	}
	if len(f.Rows) > 0 {
		var rows []app.UI
		for _, r := range f.Rows {
			rows = append(rows, &rowSlot{Row: r, List: f.At, Locked: f.Locked, Do: do})
		}
		body = append(body, app.Ol().Class("row-list").Body(rows...))
	}
	if !f.Locked {
		words := "Add one"
		if len(f.Rows) > 0 {
			words = "Add another"
		}
		body = append(body, safe.Button{ID: EntryID(f.At), Class: "add", Words: words, Name: f.Def.Title + ": " + words, Told: told(f),
			Press: func(ctx app.Context) { do.AddRow(ctx, f.At) }}.UI())
	}
	return app.Div().Body(body...)
}

// rowSlot is the place of one entry of a list.
type rowSlot struct {
	app.Compo
	Row    Row
	List   schema.Path
	Locked bool
	Do     Actions
}

func (r *rowSlot) CompoID() string { return r.Row.ID }

func (r *rowSlot) Render() app.UI { return safe.Drawn("row of "+string(r.List.Section()), r.draw) }

func (r *rowSlot) draw() app.UI {
	id := RowID(r.List, r.Row.ID)
	head := safe.Button{ID: id + "-open", Class: "row-head", Words: r.Row.Title, Aside: r.Row.Summary, Opens: id + "-body", Open: r.Row.Open,
		Press: func(ctx app.Context) { r.Do.OpenRow(ctx, r.List, r.Row.ID, !r.Row.Open) }}.UI()
	body := []app.UI{app.Div().Class("row-line").Body(head, MarksUI(r.Row.Marks))}
	inner := app.Div().ID(id + "-body").Class("row-body").Hidden(!r.Row.Open)
	if r.Row.Open {
		var fields []app.UI
		for _, f := range r.Row.Fields {
			fields = append(fields, Slot{Field: f, Do: r.Do}.UI())
		}
		if !r.Locked {
			fields = append(fields, safe.Button{ID: id + "-remove", Class: "quiet danger", Words: "Take this entry out", Name: "Take this entry out: " + r.Row.Title,
				Press: func(ctx app.Context) { r.Do.RemoveRow(ctx, r.List, r.Row.ID) }}.UI())
		}
		inner = inner.Body(fields...)
	}
	return app.Li().ID(id).Class("row").Body(append(body, inner)...)
}

// RowID is the id of the element that holds one entry of a list.
func RowID(list schema.Path, row string) string { return part("l", list) + "-" + row }

// MarksUI shows what a part of the note still needs, in words and numbers.
func MarksUI(m Marks) app.UI {
	var body []app.UI
	put := func(n int, class, one, many string) {
		if n == 0 {
			return
		}
		words := many
		if n == 1 {
			words = one
		}
		body = append(body, app.Span().Class("mark", class).Body(app.B().Text(safe.Int(n)), app.Text(" "+words)))
	}
	put(m.Errors, "wrong", "to check", "to check")
	put(m.Disagreements, "two", "with two answers", "with two answers")
	put(m.Questions, "asked", "asked", "asked")
	put(m.Missing, "missing", "not recorded", "not recorded")
	return app.Span().Class("marks").Body(body...)
}
