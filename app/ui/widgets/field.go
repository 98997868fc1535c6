package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/schema"
)

// draw draws a field: its title and the answers that are not values, what one
// types or chooses in, its help, and what is said of it.
func draw(f *Field, do Actions) app.UI {
	if f.Off {
		return app.Div().ID(ID(f.At)).Class("field").Hidden(true)
	}
	box := app.Div().ID(ID(f.At)).Class("field", shape(f), state(f)).DataSet("path", string(f.At))
	if f.Def.Type == "rows" {
		return box.Role("group").Aria("labelledby", part("t", f.At)).Body(drawRows(f, do), said(f, do))
	}
	main := []app.UI{app.Div().Class("body").Body(append(control(f, do), answers(f, do))...)}
	if f.More {
		main = append(main, more(f, do))
	}
	main = append(main, said(f, do))
	body := []app.UI{head(f), app.Div().Class("main").Body(main...)}
	if grouped(f) {
		return box.Role("group").Aria("labelledby", part("t", f.At)).Body(body...)
	}
	return box.Body(body...)
}

// grouped tells whether the field is several controls under one title, rather
// than one entry with its label.
func grouped(f *Field) bool {
	switch shape(f) {
	case "text", "long", "number", "date", "clock", "moment", "select":
		return false
	}
	return true
}

// fits is the most choices that stand side by side.
const fits = 9

// shape is the kind of control a field gets; it is also its class.
func shape(f *Field) string {
	d := f.Def
	switch {
	case d.Type == "rows":
		return "rows"
	case d.Type == "list":
		return "several"
	case d.Numeric():
		return "number"
	case d.Type == "boolean":
		return "one"
	case d.Format == "item":
		if len(f.Items) <= fits {
			return "one"
		}
		return "select"
	case len(d.Enum) > fits:
		return "select"
	case len(d.Enum) > 0:
		return "one"
	case d.Format == "moment", d.Format == "date", d.Format == "clock":
		return d.Format
	case d.Format == "long-text":
		return "long"
	}
	return "text"
}

// state is the class for how the field stands.
func state(f *Field) string {
	switch {
	case f.Wrong != "" || has(f, schema.Error):
		return "is-wrong"
	case len(f.Versions) > 1:
		return "is-two"
	case has(f, schema.Question):
		return "is-asked"
	case f.Typing:
		return "is-typing"
	case f.Stated != "":
		return "is-stated"
	case f.Text != "" || len(f.Chosen) > 0:
		return "is-filled"
	}
	return "is-empty"
}

func has(f *Field, s schema.Severity) bool {
	for _, w := range f.Words {
		if w.Severity == s && w.Answer == "" {
			return true
		}
	}
	return false
}

// head is the title and the help: the left-hand column where there is room.
func head(f *Field) app.UI {
	title := []app.UI{app.Text(f.Def.Title)}
	if f.Wanted {
		title = append(title, app.Span().Class("wanted").Text("wanted"))
	}
	var words app.UI
	if grouped(f) {
		words = app.Span().Class("title").ID(part("t", f.At)).Body(title...)
	} else {
		words = app.Label().Class("title").ID(part("t", f.At)).For(EntryID(f.At)).Body(title...)
	}
	return app.Div().Class("head").Body(words, app.If(f.Def.Help != "", func() app.UI {
		return app.P().Class("help").ID(part("h", f.At)).Text(f.Def.Help)
	}))
}

// answers are the answers that are not values, one tap each. Choices carry
// theirs among the choices.
func answers(f *Field, do Actions) app.UI {
	var out []app.UI
	if !grouped(f) && !f.Locked {
		if f.Def.None != "" {
			out = append(out, answer(f, do, schema.StatedNone))
		}
		out = append(out, answer(f, do, schema.StatedUnknown))
	}
	switch {
	case f.Locked:
	case f.Def.Numeric():
		out = append(out, safe.Button{ID: part("m", f.At), Class: "quiet more", Words: "⋯", Name: "More answers for " + f.Def.Title,
			Opens: part("o", f.At), Open: f.More, Press: func(ctx app.Context) { do.Open(ctx, f.At, !f.More) }}.UI())
	case grouped(f) && (len(f.Chosen) > 0 || f.Stated != ""):
		out = append(out, clearButton(f, do))
	}
	return app.Div().Class("answers").Body(out...)
}

func answer(f *Field, do Actions, stated string) app.UI {
	on := f.Stated == stated
	return safe.Button{ID: part("a-"+stated[:2], f.At), Class: "quiet answer", Words: schema.ShowStated(f.Def, stated),
		Name: f.Def.Title + ": " + schema.ShowStated(f.Def, stated), Toggle: true, On: on,
		Press: func(ctx app.Context) {
			if on {
				do.State(ctx, f.At, "")
			} else {
				do.State(ctx, f.At, stated)
			}
		}}.UI()
}

func clearButton(f *Field, do Actions) app.UI {
	return safe.Button{ID: part("c", f.At), Class: "quiet", Words: "Clear", Name: "Clear " + f.Def.Title,
		Press: func(ctx app.Context) { do.Clear(ctx, f.At) }}.UI()
}

// accountButton goes to who entered what in the field.
func accountButton(f *Field, do Actions) app.UI {
	return safe.Button{ID: part("y", f.At), Class: "quiet", Words: "Who entered what, and when", Name: "Who entered what, and when: " + f.Def.Title,
		Press: func(ctx app.Context) { do.Account(ctx, f.At) }}.UI()
}

// more holds the rarer answers to a number.
func more(f *Field, do Actions) app.UI {
	var body []app.UI
	for _, b := range []struct{ bound, words string }{{"<", "< less than"}, {">", "> more than"}} {
		on := f.Bound == b.bound
		body = append(body, safe.Button{ID: part("b-"+map[string]string{"<": "lt", ">": "gt"}[b.bound], f.At), Class: "quiet", Words: b.words, Toggle: true, On: on,
			Press: func(ctx app.Context) {
				if on {
					do.SetBound(ctx, f.At, "")
				} else {
					do.SetBound(ctx, f.At, b.bound)
				}
			}}.UI())
	}
	for _, s := range []string{schema.StatedNotMeasured, schema.StatedUnrecordable, schema.StatedClotted} {
		body = append(body, answer(f, do, s))
	}
	body = append(body, clearButton(f, do), accountButton(f, do))
	return app.Div().Class("others").ID(part("o", f.At)).Role("group").Aria("label", "More answers for "+f.Def.Title).Body(body...)
}

// told lists the ids of the elements that describe the entry.
func told(f *Field) string {
	s := ""
	if f.Def.Help != "" {
		s = part("h", f.At)
	}
	if speaks(f) {
		if s != "" {
			s += " "
		}
		s += part("w", f.At)
	}
	return s
}

func speaks(f *Field) bool {
	return f.Wrong != "" || f.Note != "" || f.Origin != "" || f.Changed != "" || len(f.Words) > 0 || len(f.Versions) > 1
}

// said is what is said of the field. The element is always there, so that a
// sentence that appears is read out and moves nothing above it.
func said(f *Field, do Actions) app.UI {
	var body []app.UI
	if len(f.Versions) > 1 {
		body = append(body, versions(f, do))
	}
	if f.Wrong != "" {
		body = append(body, sentence("wrong", "Not taken", f.Wrong, ""))
	}
	for _, w := range f.Words {
		body = append(body, word(f, do, w)...)
	}
	if f.Changed != "" {
		body = append(body, sentence("changed", "Changed after signing", f.Changed, ""))
	}
	if f.Note != "" {
		body = append(body, app.P().Class("note").Text(f.Note))
	}
	if f.Origin != "" {
		body = append(body, app.P().Class("origin").Text(f.Origin))
	}
	if (f.Origin != "" || f.Changed != "" || len(f.Versions) > 1) && !f.More { // else it stands among the answers
		body = append(body, accountButton(f, do))
	}
	return app.Div().Class("said").ID(part("w", f.At)).Aria("live", "polite").Body(body...)
}

// sentence says something in words, with a word before it so that the colour
// never carries the meaning alone.
func sentence(class, lead, what, do string) app.UI {
	body := []app.UI{app.Strong().Text(lead + ": "), app.Span().Text(what)}
	if do != "" {
		body = append(body, app.Text(" "), app.Span().Class("do").Text(do))
	}
	return app.P().Class(class).Body(body...)
}

func word(f *Field, do Actions, w Word) []app.UI {
	switch {
	case w.Severity == schema.Missing:
		return []app.UI{sentence("missing", "Not recorded", w.What, w.Do)}
	case w.Answer != "":
		return []app.UI{sentence("answered", "Answered", w.Answer, w.What)}
	}
	lead, class := "Check", "wrong"
	switch {
	case w.Severity == schema.Question:
		lead, class = "Asked", "asked"
	case w.Rule == "plausible":
		lead = "Refused"
	}
	out := []app.UI{sentence(class, lead, w.What, w.Do)}
	if w.Severity == schema.Question { // what is impossible is mended, not answered
		out = append(out, answerBox(f, do, w))
	}
	return out
}

// answerBox takes "yes, really" and the reason.
func answerBox(f *Field, do Actions, w Word) app.UI {
	id := part("q", f.At) + "-" + w.Rule
	if !w.Asking {
		return safe.Button{ID: id, Class: "quiet", Words: "Yes, really…", Name: "Yes, really… " + w.What,
			Press: func(ctx app.Context) { do.Ask(ctx, f.At, w.Rule, true) }}.UI()
	}
	return &answerForm{ID: id, What: w.What, Begun: do.Reason(f.At, w.Rule), Keep: func(why string) { do.Because(f.At, w.Rule, why) }, Reply: func(ctx app.Context, why string, send bool) {
		if send {
			do.Answer(ctx, f.At, w.Rule, why)
		} else {
			do.Because(f.At, w.Rule, "")
			do.Ask(ctx, f.At, w.Rule, false)
		}
	}}
}

// answerForm holds a reason while it is typed.
type answerForm struct {
	app.Compo
	ID    string
	What  string
	Begun string // what was typed before
	Keep  func(why string)
	Reply func(ctx app.Context, why string, send bool)
	why   string
	shown bool
}

func (a *answerForm) OnMount(ctx app.Context) { safe.FocusSoon(a.ID + "-why") }

func (a *answerForm) Render() app.UI {
	if !a.shown {
		a.shown, a.why = true, a.Begun
	}
	send := func(ctx app.Context) { a.Reply(ctx, a.why, true) }
	return app.Div().Class("answer-form").Role("group").Aria("label", "Answer: "+a.What).Body(
		app.Label().For(a.ID+"-why").Text("Why it is right"),
		safe.Entry{ID: a.ID + "-why", Value: a.why, Max: 300,
			Type: func(ctx app.Context, s string) {
				a.why = s
				a.Keep(s)
			},
			Enter: send}.UI(),
		safe.Button{ID: a.ID + "-yes", Class: "main", Words: "Yes, really", Press: send}.UI(),
		safe.Button{ID: a.ID + "-no", Class: "quiet", Words: "Leave it open",
			Press: func(ctx app.Context) { a.Reply(ctx, "", false) }}.UI())
}

// versions shows answers that disagree, side by side, none of them chosen.
func versions(f *Field, do Actions) app.UI {
	var body []app.UI
	for i, v := range f.Versions {
		body = append(body, app.Li().Body(
			app.Strong().Class("shown").Text(v.Shown), app.Span().Class("by").Text(v.By+", "+v.When),
			app.If(!f.Locked, func() app.UI {
				return safe.Button{ID: part("v"+safe.Int(i), f.At), Class: "quiet", Words: "Keep this one", Name: "Keep this one: " + v.Shown + ", from " + v.By,
					Press: func(ctx app.Context) { do.Settle(ctx, f.At, i) }}.UI()
			})))
	}
	return app.Div().Class("versions").Body(
		app.P().Body(app.Strong().Text("Two answers: "), app.Text("they were given apart from each other. Keep one, or enter another.")),
		app.Ul().Body(body...))
}
