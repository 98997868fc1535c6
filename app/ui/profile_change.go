package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/schema/profile"
)

// change is a change to one entry that is under way. What is typed stays until it
// is kept or given up.
type change struct {
	id     profile.ID
	do     string // "activate" or "change"
	texts  map[string]string
	wrong  map[string]string // by box, what is wrong with what was typed
	source string
	why    string
	empty  bool // leave it without a value
	faults []profile.Fault
}

func (s *Session) beginChange(e profile.Entry, do string) {
	s.settings.did = ""
	s.settings.change = change{id: e.ID, do: do, texts: textsOf(e), empty: !e.HasValue()}
	if do == "change" {
		s.settings.change.empty = false
		safe.FocusSoon(settingID(e.ID) + "-form")
		return
	}
	safe.FocusSoon(settingID(e.ID) + "-yes")
}

func (s *Session) endChange(e profile.Entry) {
	s.settings.change = change{}
	safe.FocusSoon(settingID(e.ID))
}

// changeUI is the form of the change under way.
func (s *Session) changeUI(e profile.Entry) app.UI {
	if s.settings.change.do == "activate" {
		return s.activateUI(e)
	}
	c := &s.settings.change
	id := settingID(e.ID)
	var body, boxes []app.UI
	if !c.empty {
		for _, b := range boxesOf(e, c.texts) {
			boxes = append(boxes, s.boxUI(id+"-"+b.name, b))
		}
		body = append(body, app.Div().Class("boxes").Body(boxes...))
	}
	body = append(body, safe.Tick{ID: id + "-empty", Words: "Leave it empty on purpose", On: c.empty, Change: func(ctx app.Context, on, _ bool) { c.empty = on }}.UI())
	ask := func(name, words, value string, set func(string)) {
		label := app.Label().For(id + "-" + name).Text(words)
		body = append(body, label, safe.Entry{ID: id + "-" + name, Value: value, Max: 2000, Wrong: c.wrong[name] != "", Told: id + "-wrong-" + name, Type: func(ctx app.Context, t string) { set(t) }}.UI(),
			app.P().ID(id+"-wrong-"+name).Class("wrong").Text(c.wrong[name]))
	}
	if c.empty {
		ask("why", "Why it is empty", c.why, func(t string) { c.why = t })
	} else {
		ask("source", "Source of the new value, or who in the unit decided it and when", c.source, func(t string) { c.source = t })
		ask("why", "Why it is changed", c.why, func(t string) { c.why = t })
	}
	for _, f := range c.faults {
		body = append(body, app.P().Class("wrong").Role("alert").Text(f.What+" "+f.Do))
	}
	if e.Effect.NeedsActivation() && !c.empty {
		body = append(body, app.P().Text("The new value does nothing until a named person activates it: what was activated was the earlier one."))
	}
	body = append(body, app.Div().Class("actions").Body(
		safe.Button{ID: id + "-save", Class: "main", Words: "Change it in the name of " + s.who.Name, Off: s.settings.busy, Press: func(app.Context) { s.saveChange(e) }}.UI(),
		safe.Button{ID: id + "-leave", Words: "Leave it as it is", Press: func(app.Context) { s.endChange(e) }}.UI()))
	return app.Div().ID(id+"-form").TabIndex(-1).Class("setting-form").Role("group").Aria("labelledby", id+"-title").Body(body...)
}

// activateUI asks once more before a limit or a dose comes into force.
func (s *Session) activateUI(e profile.Entry) app.UI {
	id := settingID(e.ID)
	var body []app.UI
	body = append(body, app.P().Text("From now on this holds for every child on this device, in your name: "+e.Title+", "+calc.ShowEntry(e)+". Compare it with your unit's own protocol first. Source: "+sentence(e.Basis())))
	for _, f := range s.settings.change.faults {
		body = append(body, app.P().Class("wrong").Role("alert").Text(f.What+" "+f.Do))
	}
	body = append(body, app.Div().Class("actions").Body(
		safe.Button{ID: id + "-yes", Class: "main", Words: "Activate in the name of " + s.who.Name, Off: s.settings.busy, Press: func(app.Context) {
			next, faults := s.profile().Activate(e.ID, s.who.Name, s.now().String())
			s.changed(next, faults, e.Title+" is in force.", id)
		}}.UI(),
		safe.Button{ID: id + "-no", Words: "Leave it inactive", Press: func(app.Context) { s.endChange(e) }}.UI()))
	return app.Div().ID(id+"-form").TabIndex(-1).Class("setting-form").Role("group").Aria("labelledby", id+"-title").Body(body...)
}

// boxUI draws one box of the form, with what is wrong with what was typed.
func (s *Session) boxUI(id string, b box) app.UI {
	c := &s.settings.change
	typed := func(ctx app.Context, t string) { c.texts[b.name] = t }
	told := id + "-wrong"
	var in app.UI
	switch {
	case b.options != nil:
		in = safe.Select{ID: id, Value: c.texts[b.name], Empty: b.none, Options: b.options, Told: told, Wrong: c.wrong[b.name] != "", Change: typed}.UI()
	case b.lines > 1:
		in = safe.Entry{ID: id, Value: c.texts[b.name], Lines: b.lines, Max: 2000, Told: told, Wrong: c.wrong[b.name] != "", Type: typed}.UI()
	default:
		keys := "text"
		if b.number {
			keys = "decimal"
		}
		in = safe.Entry{ID: id, Value: c.texts[b.name], Max: 200, Keys: keys, Told: told, Wrong: c.wrong[b.name] != "", Type: typed}.UI()
	}
	label := b.label
	if u := calc.UnitShown(b.ucum); u != "" {
		label += ", " + u
	}
	return app.Div().Class("box").Body(app.Label().For(id).Text(label), in, app.P().ID(told).Class("wrong").Text(c.wrong[b.name]))
}

// saveChange reads the form and changes the entry, or says what is wrong.
func (s *Session) saveChange(e profile.Entry) {
	c := &s.settings.change
	c.wrong, c.faults = map[string]string{}, nil
	value := []byte("null")
	if !c.empty {
		value = valueOf(e, c.texts, c.wrong)
		if strings.TrimSpace(c.source) == "" {
			c.wrong["source"] = "Name the source, or who decided it."
		}
	}
	if c.empty && strings.TrimSpace(c.why) == "" {
		c.wrong["why"] = "Say why it is empty: whoever comes next reads it."
	}
	if len(c.wrong) > 0 {
		for _, name := range append(boxNames(e, c.texts), "source", "why") {
			if c.wrong[name] != "" {
				safe.FocusSoon(settingID(e.ID) + "-" + name)
				return
			}
		}
	}
	next, faults := s.profile().Change(e.ID, value, strings.TrimSpace(c.source), s.who.Name, s.now().String(), strings.TrimSpace(c.why))
	s.changed(next, faults, e.Title+" was changed.", settingID(e.ID))
}

// dropButton takes an entry off the list that the unit added itself.
func (s *Session) dropButton(e profile.Entry) app.UI {
	return safe.Button{ID: settingID(e.ID) + "-drop", Class: "quiet", Words: "Take off the list", Name: "Take off the list: " + e.Title, Off: s.who.Name == "" || s.settings.busy, Press: func(app.Context) {
		if next, faults := s.profile().Drop(e.ID); len(faults) == 0 {
			s.keepProfile(next, e.Title+" was taken off the list; before: "+strings.TrimSuffix(calc.ShowEntry(e), ".")+".", true, func() { safe.FocusSoon("group") })
		}
	}}.UI()
}
