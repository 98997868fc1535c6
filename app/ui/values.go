package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/typed"
	"fairlead/app/ui/widgets"
	"fairlead/handover/calc"
	"fairlead/handover/calc/values"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

var _ = addScreen(screen{name: "values", title: "Values worked out from the note", child: true, note: true, draw: drawValues, enter: (*Session).commitHere})

// valuesOf is all that is worked out for a note of the child on screen, from the
// record as it stands.
func (s *Session) valuesOf(note ledger.NoteID) values.Values {
	return s.worked.Values(s.child.rec, note, s.profile(), s.now().Date())
}

// drawValues shows everything that is worked out for the note, with what it was
// worked out from.
func drawValues(s *Session) app.UI {
	v := s.valuesOf(s.place.Note)
	var jump, body []app.UI
	part := func(id, title string, content ...app.UI) {
		jump = append(jump, app.Li().Body(safe.Link{To: s.place.Path() + "#" + id, Words: title, Class: "button quiet"}.UI()))
		body = append(body, app.Section().Class("page", "values").Aria("labelledby", id).Body(
			append([]app.UI{app.H2().ID(id).TabIndex(-1).Text(title)}, content...)...))
	}
	for _, g := range v.Groups {
		content := []app.UI{}
		if g.Title == calc.GroupSupport {
			content = append(content, timelineUI(v.Timeline)...)
		}
		content = append(content, s.groupUI(g)...)
		if g.Title == values.Infusions {
			content = append(content, infusionsUI(s.child.rec.Whole(s.place.Note), v.Infusions))
		}
		part("group-"+slug(g.Title), g.Title, content...)
	}
	part("group-card", "Emergency card", s.cardUI(v.Card)...)
	return app.Div().Body(
		s.noteTabs(),
		app.Div().Class("page").Body(
			app.P().Text("Worked out from what is recorded in this note, each with its formula, where it came from and its source. What lacks an input is not shown and says what it wants. Local protocols and licensed clinicians decide."),
			app.P().Class("settings-of").Body(app.Text("Settings: "+profileName(s.profile())+". "), linkTo(Place{Screen: "profile"}, "Unit profile")),
			app.Nav().Aria("label", "Groups of values").Body(app.Ul().Class("jump").Body(jump...))),
		app.Div().Body(body...))
}

func slug(title string) string { return strings.ReplaceAll(strings.ToLower(title), " ", "-") }

// groupUI draws the results of a group; those that do not apply to the note stand
// in one line at its end.
func (s *Session) groupUI(g values.Group) []app.UI {
	var list, off []app.UI
	for i, r := range g.Results {
		if r.Off {
			off = append(off, app.Li().Text(r.Title))
			continue
		}
		list = append(list, s.resultUI("value-"+string(r.ID)+"-"+itoa(i), r))
	}
	out := []app.UI{app.Ul().Class("results").Body(list...)}
	if len(list) == 0 {
		out = []app.UI{app.P().Text("Nothing here applies to this note.")}
	}
	if len(off) > 0 {
		out = append(out, app.Div().Class("off").Body(app.P().Text("Does not apply to this note:"), app.Ul().Body(off...)))
	}
	return out
}

// resultUI draws one result with all that belongs beside it.
func (s *Session) resultUI(id string, r calc.Result) app.UI {
	class := "result"
	head := []app.UI{app.H3().Text(r.Title)}
	if r.OK {
		head = append(head, app.P().Class("shown").Text(r.Shown))
	} else {
		class += " lacking"
		head = append(head, app.P().Class("shown").Text("not shown"))
	}
	body := []app.UI{app.Div().Class("result-head").Body(head...)}
	for _, f := range r.Flags {
		words := f.What + "."
		if f.Caution != "" {
			words += " " + sentence(f.Caution)
		}
		body = append(body, app.P().Class("flagged").Body(app.B().Text(words), app.Small().Text(" Set by the unit profile. "+sentence(f.Source))))
	}
	var about []app.UI
	line := func(name string, content ...app.UI) {
		about = append(about, app.Dt().Text(name), app.Dd().Body(content...))
	}
	if len(r.Wanted) > 0 {
		var wants []app.UI
		for _, w := range r.Wanted {
			wants = append(wants, app.Li().Body(s.wantedUI(w)...))
		}
		line("Wanted", app.Ul().Body(wants...))
	}
	if len(r.Inputs) > 0 {
		var from []app.UI
		for _, in := range r.Inputs {
			from = append(from, app.Li().Body(s.inputUI(in)...))
		}
		line("From", app.Ul().Body(from...))
	}
	if r.Formula.Text != "" {
		name := r.Formula.Name
		if name != "" {
			name += ": "
		}
		line("Formula", app.Text(name+r.Formula.Text))
	}
	if r.Formula.Source != "" {
		line("Source", app.Text(r.Formula.Source))
	}
	if len(r.Caveats) > 0 {
		var all []app.UI
		for _, c := range r.Caveats {
			all = append(all, app.Li().Text(c))
		}
		line("Take care", app.Ul().Class("caveats").Body(all...))
	}
	return app.Li().ID(id).Class(class).Body(append(body, app.Dl().Class("from").Body(about...))...)
}

// inputUI names an input with its origin; its name leads to the field.
func (s *Session) inputUI(in calc.Input) []app.UI {
	out := []app.UI{s.toField(in.Path, in.Setting, in.Name), app.Text(" "), app.B().Text(in.Shown)}
	origin := strings.Join(parts(in.By, in.At), ", ")
	if origin != "" {
		out = append(out, app.Small().Text(" "+origin))
	}
	return out
}

func (s *Session) wantedUI(w calc.Wanted) []app.UI {
	return []app.UI{s.toField(w.Path, w.Setting, w.Name), app.Text(": " + sentence(w.Why) + " " + w.Do)}
}

// toField leads to a field of the note or to a setting of the profile; without
// either the name stands alone.
func (s *Session) toField(at schema.Path, setting profile.ID, name string) app.UI {
	switch {
	case setting != "":
		e, _ := s.profile().Entry(setting)
		return safe.Link{To: Place{Screen: "profile", Part: slug(e.Group)}.Path() + "#" + settingID(setting), Words: name}.UI()
	case at == "" || s.place.Note == "":
		return app.Span().Text(name)
	case at.Section() == "items":
		return safe.Link{To: s.place.With("items", "").Path() + "#" + widgets.ID(at), Words: name}.UI()
	}
	return safe.Link{To: s.place.With("section", at.Section()).Path() + "#" + widgets.ID(at), Words: name, Before: func(app.Context) { s.openRowOf(at) }}.UI()
}

// openRowOf opens the entry of a list that holds the field, so that it can be gone
// to.
func (s *Session) openRowOf(at schema.Path) {
	p := strings.Split(string(at), ".")
	if len(p) == 4 && s.child != nil {
		s.child.open(s.place.Note).rows[schema.Path(p[0]+"."+p[1])] = p[2]
	}
}

// sentence begins with a capital and ends with a stop.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}

func profileName(p *profile.Profile) string { return p.Title + " (" + p.Unit + ")" }

// workedOut lists what is worked out from a section of the note, beside its
// fields: a line each, and the way to all that belongs to it.
func (s *Session) workedOut(note ledger.NoteID, section string) app.UI {
	var lines []app.UI
	results := s.valuesOf(note).All()
	for i := range results {
		r := &results[i]
		concerns, asked := false, ""
		for _, in := range r.Inputs {
			concerns = concerns || in.Path.Section() == section
		}
		for _, w := range r.Wanted {
			if w.Path.Section() == section && strings.HasSuffix(w.Do, "?") {
				concerns, asked = true, w.Name+": "+w.Why+". "+w.Do
			}
		}
		switch {
		case !concerns || r.ID == "infusion" && section == schema.InfusionsRunning.Section():
		case r.OK:
			words, class := r.Line(), ""
			for _, f := range r.Flags {
				words, class = words+". "+sentence(f.What), "asked"
			}
			lines = append(lines, app.Li().Class(class).Text(words))
		case asked != "":
			lines = append(lines, app.Li().Class("asked").Text(r.Title+": "+asked))
		}
	}
	var both app.UI
	if section == schema.InfusionsRunning.Section() {
		both = infusionsUI(s.child.rec.Whole(note), s.valuesOf(note).Infusions)
	}
	if len(lines) == 0 && both == nil {
		return nil
	}
	return app.Div().Class("worked-out").Body(
		app.H2().Text("Worked out from this"),
		both,
		app.Ul().Body(lines...),
		linkTo(s.place.With("values", ""), "Formulas, inputs and sources"))
}

// hinted is a problem with, for a number that its field cannot hold, what was
// probably meant.
func (o *openNote) hinted(p schema.Problem) schema.Problem {
	if p.Rule != "plausible" {
		return p
	}
	v, ok := o.working.Number(p.Path)
	if def := o.working.FieldAt(p.Path); ok && def != nil {
		if meant := typed.Implausible(v, def); meant != "" {
			p.Do = meant
		}
	}
	return p
}
