package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// addUI asks what entry the unit adds to a group: a dose or a rule for loss by its
// name, a limit of days or a list before removal by what it is for. It is nil where
// nothing can be added.
func (s *Session) addUI(g group) app.UI {
	prefix, what := "", ""
	for _, e := range g.entries {
		switch {
		case e.Shape == profile.ShapeDose:
			prefix, what = profile.EmergencyPrefix, "Another dose on the card"
		case e.Shape == profile.ShapeDrain:
			prefix, what = profile.DrainRulePrefix, "Another rule for loss"
		case strings.HasPrefix(string(e.ID), profile.DwellPrefix):
			prefix, what = profile.DwellPrefix, "Another limit of days in"
		case strings.HasPrefix(string(e.ID), profile.RemovalPrefix):
			prefix, what = profile.RemovalPrefix, "Another list before removal"
		}
	}
	if prefix == "" {
		return nil
	}
	set := &s.settings
	typed := func(_ app.Context, t string) { set.adding = t }
	ask, words := safe.Entry{ID: "profile-add", Value: set.adding, Max: 80, Wrong: set.addWrong != "", Told: "profile-add-wrong", Type: typed}.UI(), "its name"
	if prefix == profile.DwellPrefix || prefix == profile.RemovalPrefix {
		words = "for what"
		ask = safe.Select{ID: "profile-add", Value: set.adding, Empty: "Choose…", Options: unlisted(s.profile(), prefix), Wrong: set.addWrong != "", Told: "profile-add-wrong", Change: typed}.UI()
	}
	return app.Div().Class("setting-form").Role("group").Aria("label", what).Body(
		app.Label().For("profile-add").Text(what+": "+words), ask,
		app.P().ID("profile-add-wrong").Class("wrong").Text(set.addWrong),
		app.Div().Class("actions").Body(safe.Button{ID: "profile-add-yes", Words: "Add it, empty", Off: s.who.Name == "" || set.busy, Press: func(app.Context) { s.addEntry(prefix) }}.UI()))
}

// unlisted are the kinds of item, and for days in their varieties, that have no
// entry of their own yet. A value is the end of the entry's id.
func unlisted(p *profile.Profile, prefix string) []safe.Option {
	var out []safe.Option
	put := func(name, words string) {
		if _, there := p.Entry(profile.ID(prefix + name)); !there {
			out = append(out, safe.Option{Value: name, Words: words})
		}
	}
	for _, k := range schema.ItemKinds() {
		put(k.Name, k.Title)
		if f := k.Field("variety"); f != nil && prefix == profile.DwellPrefix {
			for _, v := range f.Enum {
				put(k.Name+"."+v, k.Title+": "+f.Label(v))
			}
		}
	}
	return out
}

// addEntry adds what the form names, and opens it to be set.
func (s *Session) addEntry(prefix string) {
	set := &s.settings
	var next *profile.Profile
	var id profile.ID
	var faults []profile.Fault
	by, at := s.who.Name, s.now().String()
	switch kind, variety, _ := strings.Cut(set.adding, "."); {
	case prefix != profile.DwellPrefix && prefix != profile.RemovalPrefix:
		next, id, faults = s.profile().Add(prefix, set.adding, by, at)
	case kind == "":
		faults = []profile.Fault{{What: "Nothing is chosen.", Do: "Choose what it is for."}}
	default:
		next, id, faults = s.profile().AddFor(prefix, kind, variety, addedTitle(prefix, kind, variety), by, at)
	}
	if len(faults) > 0 {
		set.addWrong = faults[0].What + " " + faults[0].Do
		safe.FocusSoon("profile-add")
		return
	}
	e, _ := next.Entry(id)
	set.adding, set.addWrong = "", ""
	s.keepProfile(next, e.Title+" was added, empty.", false, func() { s.beginChange(e, "change") })
}

// addedTitle words an entry for a kind of item, or one variety, as the shipped ones
// of its group are worded.
func addedTitle(prefix, kind, variety string) string {
	k := schema.ItemKindNamed(kind)
	words := k.Title
	if variety != "" {
		words += ": " + strings.ToLower(k.Field("variety").Label(variety))
	}
	if prefix == profile.RemovalPrefix {
		return "Before it comes out: " + strings.ToLower(words)
	}
	return words + ", review after"
}
