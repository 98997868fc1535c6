package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/schema/profile"
)

var _ = addScreen(screen{name: "profile", title: "Unit profile", draw: drawProfile, leave: (*Session).leaveProfile})

// leaveProfile forgets a change that was begun and what was said of the last one.
func (s *Session) leaveProfile() {
	s.settings.change, s.settings.did = change{}, ""
	s.settings.faults, s.settings.offer = nil, nil
	s.settings.adding, s.settings.addWrong = "", ""
}

// group is one group of entries and how they stand.
type group struct {
	title                    string
	entries                  []profile.Entry
	inForce, inactive, empty int
}

func groupsOf(p *profile.Profile) []group {
	var out []group
	at := map[string]int{}
	for _, e := range p.Entries() {
		i, ok := at[e.Group]
		if !ok {
			i = len(out)
			at[e.Group] = i
			out = append(out, group{title: e.Group})
		}
		g := &out[i]
		g.entries = append(g.entries, e)
		switch {
		case !e.HasValue():
			g.empty++
		case e.InForce():
			g.inForce++
		default:
			g.inactive++
		}
	}
	return out
}

func (g group) words() string {
	var out []string
	for _, x := range []struct {
		n    int
		what string
	}{{g.inForce, "in force"}, {g.inactive, "inactive"}, {g.empty, "empty on purpose"}} {
		if x.n > 0 {
			out = append(out, itoa(x.n)+" "+x.what)
		}
	}
	return strings.Join(out, ", ")
}

// drawProfile shows the unit's profile to read and to change, one group at a time.
func drawProfile(s *Session) app.UI {
	p := s.profile()
	groups := groupsOf(p)
	here := 0
	for i, g := range groups {
		if slug(g.title) == s.place.Part || s.place.Part == "" && g.title == "Emergency card" {
			here = i
		}
	}
	var list []app.UI
	for i, g := range groups {
		list = append(list, app.Li().Body(safe.Link{To: Place{Screen: "profile", Part: slug(g.title)}.Path() + "#group", Words: g.title, Aside: g.words(), Here: i == here, Class: "button quiet"}.UI()))
	}
	body := []app.UI{}
	if s.who.Name == "" {
		body = append(body, &whoForm{S: s})
	}
	body = append(body, app.Div().Class("page").Body(
		app.H2().Text(p.Title),
		app.P().Text(p.Unit),
		app.If(p.Comment != "", func() app.UI { return app.P().Class("help").Text(p.Comment) }),
		app.P().Text("Everything that differs between hospitals. A limit or a dose does nothing until a named person activates it; an entry without a value says why. Names are typed and not authenticated. Local protocols and licensed clinicians decide."),
		s.profileFiles()))
	var entries []app.UI
	for _, e := range groups[here].entries {
		entries = append(entries, s.settingUI(e))
	}
	body = append(body,
		app.Nav().Class("page").Aria("label", "Groups of settings").Body(app.Ul().Class("jump groups").Body(list...)),
		app.Section().Class("page").Aria("labelledby", "group").Body(
			app.H2().ID("group").TabIndex(-1).Text(groups[here].title),
			app.P().ID("profile-did").Class("did").Role("status").Text(s.settings.did),
			app.Ul().Class("settings").Body(entries...),
			s.addUI(groups[here])))
	return app.Div().Body(body...)
}

// profileFiles is about the profile as one file: taking one in, saving it, going
// back to the shipped one, and what is wrong with a file that was refused.
func (s *Session) profileFiles() app.UI {
	set := &s.settings
	actions := []app.UI{
		safe.File{ID: "profile-import", Words: "Open a profile file…", Accept: ".json,application/json", Max: profile.MaxBytes, Chosen: func(ctx app.Context, name string, content []byte, refused string) {
			s.chooseProfile(name, content, refused)
		}}.UI(),
		safe.Button{ID: "profile-export", Words: "Save the profile as a file", Press: func(app.Context) { safe.Save("fairlead-profile.json", "application/json", s.profile().JSON()) }}.UI(),
	}
	if set.unusable != "" {
		actions = append(actions, safe.Button{ID: "profile-unusable", Words: "Save what is kept and cannot be used", Press: func(app.Context) { safe.Save("fairlead-profile-kept.json", "application/json", []byte(set.unusable)) }}.UI())
	}
	body := []app.UI{app.Div().Class("actions").Body(actions...)}
	if len(set.faults) > 0 {
		var all []app.UI
		for _, f := range set.faults {
			all = append(all, app.Li().Text(f.Error()))
		}
		words := "The file “" + clipped(set.file, 60) + "” is refused whole. The profile in use stays as it is. "
		body = append(body, app.Div().ID("profile-refused").TabIndex(-1).Class("notice", "bad").Role("alert").Body(
			app.P().Text(words+faultCount(len(set.faults))), app.Ul().Body(all...)))
	}
	if set.offer != nil {
		body = append(body, s.offerUI())
	}
	if len(set.acts) > 0 {
		var all []app.UI
		for _, a := range set.acts {
			all = append(all, app.Li().Text(shownAt(a.At)+", "+a.By+": "+a.Did))
		}
		body = append(body, app.H3().Text("Done to the profile as a whole"), app.Ul().Class("history").Body(all...))
	}
	return app.Div().Body(body...)
}

func faultCount(n int) string {
	if n == 1 {
		return "One fault:"
	}
	return itoa(n) + " faults:"
}

// chooseProfile reads a file that was chosen. A faulty one is refused whole; a
// good one is offered with what it would change.
func (s *Session) chooseProfile(name string, content []byte, refused string) {
	set := &s.settings
	set.file, set.faults, set.offer, set.did = name, nil, nil, ""
	if refused != "" {
		set.faults = []profile.Fault{{Place: "the file", What: refused, Do: "Check that it is a unit profile."}}
		safe.FocusSoon("profile-refused")
		return
	}
	p, faults := profile.Load(content)
	if len(faults) > 0 {
		set.faults = faults
		safe.FocusSoon("profile-refused")
		return
	}
	set.offer = p
	safe.FocusSoon("profile-offer")
}

// offerUI says what a good file would change and asks whether to use it.
func (s *Session) offerUI() app.UI {
	set := &s.settings
	var changes []app.UI
	for _, e := range set.offer.Entries() {
		was, known := s.profile().Entry(e.ID)
		value, standing := calc.ShowEntry(e) != calc.ShowEntry(was), e.InForce() != was.InForce()
		switch {
		case !known:
			changes = append(changes, app.Li().Text(e.Title+": new, "+calc.ShowEntry(e)+" ("+standingWords(e)+")"))
		case value || standing:
			changes = append(changes, app.Li().Text(e.Title+": "+calc.ShowEntry(was)+" ("+standingWords(was)+") becomes "+calc.ShowEntry(e)+" ("+standingWords(e)+")"))
		}
	}
	words := "It would change nothing but sources and remarks."
	if len(changes) > 0 {
		words = "It would change:"
	}
	return app.Div().ID("profile-offer").TabIndex(-1).Class("notice").Role("group").Aria("label", "The file that was chosen").Body(
		app.P().Text("“"+clipped(set.file, 60)+"” is a good profile: "+profileName(set.offer)+". "+words),
		app.Ul().Body(changes...),
		app.Div().Class("actions").Body(
			safe.Button{ID: "profile-use", Class: "main", Words: "Use this profile", Off: s.who.Name == "" || set.busy, Press: func(app.Context) {
				p := set.offer
				set.offer = nil
				s.keepProfile(p, "The profile was taken from the file “"+clipped(set.file, 60)+"”.", true, nil)
			}}.UI(),
			safe.Button{ID: "profile-keep", Words: "Keep the one in use", Press: func(app.Context) { set.offer = nil; safe.FocusSoon("heading") }}.UI()))
}

// standingWords words how an entry stands, with its moment for people.
func standingWords(e profile.Entry) string {
	if e.InForce() && e.Active != nil {
		return "activated by " + byAt(*e.Active)
	}
	return e.Standing()
}

// known words how well a figure is known.
var known = map[string]string{"C": "Seen in the source.", "2": "Second-hand.", "M": "From memory.", "P": "Common practice, no source.", "U": "The unit's own."}

// effects words what an entry does.
var effects = map[profile.Effect]string{
	profile.Method: "How a value is worked out.", profile.Prompt: "When a question is asked.", profile.Limit: "A limit that flags or calls.",
	profile.Dosing: "An amount given to a child.", profile.Words: "Wording.",
}

// settingUI draws one entry with its source, how it stands, who changed it, and
// what can be done.
func (s *Session) settingUI(e profile.Entry) app.UI {
	class := "setting"
	switch {
	case !e.HasValue():
		class += " is-empty"
	case !e.InForce():
		class += " is-inactive"
	}
	id := settingID(e.ID)
	var about []app.UI
	line := func(name, words string) {
		if words != "" {
			about = append(about, app.Dt().Text(name), app.Dd().Text(words))
		}
	}
	value := calc.ShowEntry(e)
	if !e.HasValue() {
		value = "empty on purpose"
		line("Why empty", e.Empty)
	}
	line("What it does", effects[e.Effect])
	line("Source", e.Source)
	if e.HasValue() {
		line("How known", known[e.Mark])
	}
	line("Remarks", e.Comment)
	if len(e.History) > 0 {
		var acts []app.UI
		for _, a := range e.History {
			acts = append(acts, app.Li().Text(historyWords(e, a)))
		}
		about = append(about, app.Dt().Text("Changed"), app.Dd().Body(app.Ul().Class("history").Body(acts...)))
	}
	body := []app.UI{
		app.Div().Class("result-head").Body(app.H3().ID(id+"-title").Text(e.Title), app.P().Class("shown").Text(value)),
		app.P().Class("standing").Text(sentence(standingWords(e))),
		app.Dl().Class("from").Body(about...),
	}
	if s.settings.change.id == e.ID {
		body = append(body, s.changeUI(e))
	} else {
		body = append(body, s.settingActions(e))
	}
	return app.Li().ID(id).TabIndex(-1).Class(class).Body(body...)
}

// historyWords words one thing done to an entry.
func historyWords(e profile.Entry, a profile.Act) string {
	words := shownAt(a.At) + ", " + a.By + ": " + a.Did
	if a.Did == "changed" {
		was := e
		was.Value, was.Empty = a.Was, "why is not kept."
		words += ", before: " + strings.TrimSuffix(calc.ShowEntry(was), ".")
	}
	if a.Why != "" {
		words += ". " + sentence(a.Why)
	}
	return words
}

// settingActions are what can be done to an entry.
func (s *Session) settingActions(e profile.Entry) app.UI {
	set := &s.settings
	id := settingID(e.ID)
	off := s.who.Name == "" || set.busy
	var out []app.UI
	begin := func(do string) func(app.Context) {
		return func(app.Context) { s.beginChange(e, do) }
	}
	switch {
	case e.Effect.NeedsActivation() && e.HasValue() && e.Active == nil:
		out = append(out, safe.Button{ID: id + "-activate", Words: "Activate…", Name: "Activate " + e.Title, Off: off, Press: begin("activate")}.UI())
	case e.Effect.NeedsActivation() && e.Active != nil:
		out = append(out, safe.Button{ID: id + "-deactivate", Words: "Take out of force", Name: "Take out of force: " + e.Title, Off: off, Press: func(app.Context) {
			next, faults := s.profile().Deactivate(e.ID, s.who.Name, s.now().String(), "")
			s.changed(next, faults, e.Title+" is out of force.", id)
		}}.UI())
	}
	out = append(out, safe.Button{ID: id + "-change", Class: "quiet", Words: "Change…", Name: "Change " + e.Title, Off: off, Press: begin("change")}.UI())
	if s.profile().Own(e.ID) {
		out = append(out, s.dropButton(e))
	}
	return app.Div().Class("actions").Body(out...)
}

// changed keeps a changed profile, or shows why it is refused.
func (s *Session) changed(p *profile.Profile, faults []profile.Fault, did, focus string) {
	if len(faults) > 0 {
		s.settings.change.faults = faults
		return
	}
	s.settings.change = change{}
	s.keepProfile(p, did, false, func() { safe.FocusSoon(focus) })
}

// profileLink leads to the unit's profile and says how it stands.
func (s *Session) profileLink() app.UI {
	return app.Div().Class("page").Body(
		app.H2().Text("Unit profile"),
		app.P().Text("Thresholds, formulas, doses and wording of this unit: "+profileName(s.profile())+"."),
		linkTo(Place{Screen: "profile"}, "Read and change the unit profile", "button"))
}
