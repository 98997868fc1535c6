package ui

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "bedside", title: "At the bedside", child: true, wide: true, draw: drawBedside,
	enter: func(s *Session) { s.commitHere(); stayAwake(true) }, leave: func(s *Session) { s.commitHere(); stayAwake(false) }})

// drawBedside is what is in one child, in the order of what is due. The part of the
// place is the item that is open, or "round".
func drawBedside(s *Session) app.UI {
	return app.Div().Class("bedside").Body(
		app.If(s.who.Name == "", func() app.UI { return &whoForm{S: s} }),
		&bedsidePane{S: s, Place: s.place, Version: s.child.rec.Version(), Locked: s.who.Name == "", Minute: s.zone.Now().Unix() / 60})
}

// register is what is in the child now, worked out once a change and a minute.
func (c *Child) register() *lines.Register {
	l := c.look()
	minute := c.s.zone.Now().Unix() / 60
	if l.register == nil || l.registerAt != minute {
		r := lines.RegisterOf(c.rec, c.s.profile(), civil.Now(c.s.zone))
		l.register, l.registerAt = &r, minute
	}
	return l.register
}

// bedsidePane is the screen's inside. What is half entered is kept under the item,
// the action and the answer: see half.go.
type bedsidePane struct {
	app.Compo
	S       *Session
	Place   Place
	Version int
	Locked  bool
	Minute  int64

	act    string // the action whose form is open; "-" after one was closed
	lacks  string
	wrong  map[string]string // what the form of an action lacks, by the id of the question; that of the form for its foot
	ends   string            // in a check: the half said that the record of it spends, and what then has the focus
	then   string
	spent  string         // that an old time was taken out of the form
	done   string         // what was recorded last, in words
	doneV  int            // the record's version then: what came later, an undo too, may take it back
	listed ledger.EventID // the listing of what took the place of another, if that was recorded last
	last   time.Time      // of the last answer in the round
}

func (p *bedsidePane) CompoID() string { return "bedside-" + string(p.Place.Case) }

func (p *bedsidePane) Render() app.UI { return safe.Drawn("bedside", p.draw) }

func (p *bedsidePane) draw() app.UI {
	c := p.S.child
	if c == nil || c.id != p.Place.Case {
		return app.Div()
	}
	r := c.register()
	var rows, cut, stay, away []app.UI
	for _, it := range inOrderOfDue(r) {
		if it.View.Stand() == ledger.StandsCut {
			cut = append(cut, p.row(r, it))
			continue
		}
		if where := it.View.Where; !it.View.AtBedside() {
			away = append(away, app.Li().Body(app.Span().Class("flag").Text(safe.Int(it.Tag)), app.Span().Text(it.Name+": "+string(where)+parenthesis(howLeft(it))+sinceMoment(it.View.Since))))
			continue
		}
		if it.Implant {
			stay = append(stay, app.Li().Body(app.Span().Class("flag").Text(safe.Int(it.Tag)), app.Span().Text(it.Name)))
			continue
		}
		rows = append(rows, p.row(r, it))
	}
	note := c.rec.Whole(r.Note)
	if r.Note == "" || note == nil {
		note = c.rec.Child()
	}
	return app.Div().Class("bedside-desk").Body(
		app.Div().Class("bedside-list").Body(
			p.top(r),
			app.If(len(rows) == 0, func() app.UI {
				return app.P().Class("page").Text("Nothing is listed as in the child that can be looked for.")
			}),
			app.If(len(rows) > 0, func() app.UI {
				return app.Ol().Class("check-list", "page").Aria("label", "In the child, by what is due").Body(rows...)
			}),
			p.losses(r),
			app.If(len(cut) > 0, func() app.UI {
				return app.Div().Class("page").Body(app.H2().ID("bedside-cut").Text("Cut and left inside: tell the next surgeon, and before an MRI"), app.Ol().Class("check-list").Aria("labelledby", "bedside-cut").Body(cut...))
			}),
			app.If(len(away) > 0, func() app.UI {
				return app.Div().Class("page").Body(app.H2().Text("Gone with the child"), app.Ul().Class("in-child").ID("bedside-away").Body(away...))
			}),
			p.cameOut(r),
			app.If(len(stay) > 0, func() app.UI {
				return app.Div().Class("page").Body(app.H2().Text("Stays in for good"), app.Ul().Class("in-child").Body(stay...))
			})),
		app.Aside().Class("bedside-side").Aria("label", "Map and round").Body(
			p.round(r),
			p.bedsideMap(r, note),
			app.Div().Class("page").Body(app.H2().Text("More of this child"), app.Div().Class("actions").Body(
				safe.Link{To: Place{Screen: "child", Case: c.id}.Path() + "#new-note", Words: "The chest was opened: begin a note", Class: "button"}.UI(),
				app.If(r.Note != "", func() app.UI {
					return linkTo(Place{Screen: "values", Case: c.id, Note: r.Note}, "Values worked out", "button")
				}),
				linkTo(Place{Screen: "leaving-us", Case: c.id}, "Going home, or to another ward", "button")))))
}

// inOrderOfDue is the items by what is due first: what is open or overdue, then by
// the time of what comes next, then by tag.
func inOrderOfDue(r *lines.Register) []lines.InChild {
	seen := map[ledger.ItemID]bool{}
	var out []lines.InChild
	put := func(id ledger.ItemID) {
		if it, ok := r.Item(id); ok && !seen[id] {
			seen[id] = true
			out = append(out, it)
		}
	}
	for _, pr := range r.Open {
		put(pr.Item)
	}
	for _, d := range r.Due {
		put(d.Item)
	}
	for _, it := range r.Items {
		put(it.ID)
	}
	return out
}

// top says how it stands: the tally, what stands open, what was recorded last.
func (p *bedsidePane) top(r *lines.Register) app.UI {
	class := "is-open"
	if r.Tally.Balances && len(r.Open)+len(r.Faults) == 0 && !slices.ContainsFunc(r.Due, func(d lines.Due) bool { return d.What == lines.DueLook }) {
		class = "is-balanced"
	}
	body := []app.UI{app.P().ID("register-tally").Class("tally", class).Role("status").Text(r.Tally.Words())}
	if p.done != "" && p.doneV == p.S.child.rec.Version() {
		body = append(body, app.P().ID("bedside-done").Class("signed-words").Role("status").TabIndex(-1).Text(p.done))
		for _, it := range r.Items {
			if it.View.Listed == p.listed && it.View.Note == "" {
				words := "Tag " + itoa(it.Tag) + " is new: enter its size, depth and place"
				body = append(body, linkTo(Place{Screen: "bedside", Case: p.Place.Case, Part: string(it.ID)}, words, "button"))
			}
		}
	}
	if n := p.toAsk(r); n > 0 {
		words := "Still needed? " + itoa(n) + " to ask"
		body = append(body, safe.Button{ID: "round-go", Class: "quiet", Words: words, Press: func(app.Context) { safe.FocusSoon("round-title") }}.UI())
	}
	body = append(body, p.listNew())
	for _, f := range r.Faults {
		words := f.What + " " + f.Do
		if n := len(f.Events); n > 0 && strings.Contains(settledByName, " "+f.Rule+" ") {
			body = append(body, p.problem(lines.Problem{Event: f.Events[n-1], Name: "The record", Words: words}))
			body = append(body, p.onlyOne(r, f)...)
			continue
		}
		body = append(body, app.P().Class("wrong").Text(words))
		if f.Rule == ledger.RuleTagTwice {
			body = append(body, p.otherFlag(r, f)...)
		}
	}
	for _, d := range r.Tally.Disputed {
		if !slices.ContainsFunc(r.Faults, func(f ledger.Fault) bool { return f.What == d.Why }) {
			body = append(body, app.Div().Class("check-row", "is-unsettled").Body(app.Div().Class("check-what").Body(
				app.If(d.Tag > 0, func() app.UI { return app.Span().Class("flag").Text(safe.Int(d.Tag)) }), app.Strong().Text("In dispute"), app.Span().Class("check-answer").Text(d.Why)),
				app.Div().Class("check-buttons").Body(p.S.accountButton("dispute-"+string(d.Item), "tag "+itoa(d.Tag), string(d.Item), ""))))
		}
	}
	for _, d := range r.Due {
		if _, in := r.Item(d.Item); d.What == lines.DueSite && !in {
			body = append(body, p.problem(lines.Problem{Event: ledger.EventID(d.Item), Item: d.Item, Tag: d.Tag, Name: d.Name, What: d.What, Words: dueWords(d) + " (it came out)"}))
		}
	}
	for _, it := range r.Items {
		if a := p.unfinished(it); a != nil && p.Place.Part != string(it.ID) {
			words := a.words + ", half filled in: tag " + itoa(it.Tag) + ", " + it.Name
			body = append(body, linkTo(Place{Screen: "bedside", Case: p.Place.Case, Part: string(it.ID)}, words, "button"))
		}
	}
	for _, pr := range r.Open {
		body = append(body, p.problem(pr))
	}
	return app.Div().Class("page").Body(body...)
}

// howLeft is what was said of a thing when it was left or went: how much, where, who
// was told.
func howLeft(it lines.InChild) string {
	for i := len(it.View.Events) - 1; i >= 0; i-- {
		if x := it.View.Events[i]; x.Happened == it.View.Since && x.Facts.Note != "" {
			return x.Facts.Note
		}
	}
	return ""
}

// otherFlag gives one of the things that wear the same flag another.
func (p *bedsidePane) otherFlag(r *lines.Register, f ledger.Fault) (out []app.UI) {
	c := p.S.child
	for _, it := range r.Items {
		if next := c.rec.NextTag(); slices.Contains(f.Events, it.View.Listed) {
			out = append(out, safe.Button{ID: "flag-" + string(it.ID), Words: "Tag " + itoa(next) + " for the " + lowerFirst(it.Name), Off: p.Locked, Press: func(app.Context) {
				p.record("Put tag "+itoa(next)+" on the child: "+it.Name+".", c.writer.RetagItem(c.rec, it.ID, next))
			}}.UI())
		}
	}
	return out
}

// onlyOne settles that a thing was exchanged twice where only one new one was put in:
// the other comes off the list.
func (p *bedsidePane) onlyOne(r *lines.Register, f ledger.Fault) (out []app.UI) {
	c := p.S.child
	var fresh []lines.InChild
	for _, v := range c.rec.Items() {
		for _, x := range v.Events {
			if it, in := r.Item(x.Facts.For); in && slices.Contains(f.Events, x.Event) {
				fresh = append(fresh, it)
			}
		}
	}
	if f.Rule != ledger.RuleOutTwice || len(fresh) < 2 {
		return nil
	}
	for i, it := range fresh {
		other := fresh[(i+1)%2]
		words := "Only one is in: tag " + itoa(it.Tag) + ", listed " + it.View.Happened.Clock() + " by " + it.View.Author.String()
		out = append(out, safe.Button{ID: "only-" + string(it.ID), Words: words, Off: p.Locked, Press: func(app.Context) {
			why := "exchanged once; tag " + itoa(it.Tag) + ", listed at " + it.View.Happened.Shown() + ", is the one that is in"
			w := c.writer.Together()
			p.record(words+". The other is off the list.", w.WithdrawItem(c.rec, other.ID, why), w.Settle("", f.Events[len(f.Events)-1], why, ""))
		}}.UI())
	}
	return out
}

// unfinished is the action whose form for an item was left half filled in, or nil.
func (p *bedsidePane) unfinished(it lines.InChild) *bedsideAction {
	for i := range bedsideActions {
		a := bedsideActions[i].on(it)
		for key := range p.S.child.half {
			if a.fits(it) && strings.HasPrefix(key, a.half(it)) {
				return a
			}
		}
	}
	return nil
}

// settledByName are the rules about the order of events that a person can answer for.
var settledByName = " " + strings.Join([]string{ledger.RuleOutTwice, ledger.RuleLeftAfterOut, ledger.RuleSaidAfterOut, ledger.RuleBeforePlaced, ledger.RulePlacedTwice,
	ledger.RuleTotalFalls, ledger.RuleHappenedLater, ledger.RuleExchangeUnknown, ledger.RuleUnlisted, ledger.RuleRoundUnknown, ledger.RuleMovedTwice}, " ") + " "

// toAsk is how many things are to be asked about in the round that is open, or
// would be in one begun now.
func (p *bedsidePane) toAsk(r *lines.Register) int {
	n := 0
	for _, it := range r.Items {
		if !it.Implant && it.View.InUse() && (p.openRound() == "" || !it.Asked) {
			n++
		}
	}
	return n
}

// problem is one open problem, with the way to settle it; or the site of something
// that came out, to be looked at.
func (p *bedsidePane) problem(pr lines.Problem) app.UI {
	key := "settle-" + string(pr.Event)
	flagged := ""
	if pr.Tag > 0 {
		flagged = "tag " + itoa(pr.Tag) + ", "
	}
	body := []app.UI{app.Div().Class("check-what").Body(
		app.If(pr.Tag > 0, func() app.UI { return app.Span().Class("flag").Text(safe.Int(pr.Tag)) }), app.Strong().Text(pr.Name),
		app.Span().Class("check-answer").Text(upperFirst(pr.Words)),
		app.If(!pr.At.IsZero(), func() app.UI { return app.Span().Class("check-facts").Text(byWhom(pr.By) + pr.At.Shown()) }))}
	settle, ask, yes := "Settle", "What was found, and what was done?", "Record that it is settled"
	if pr.What == lines.ProblemExtra { // settled in words alone it would be looked for no more
		settle, ask, yes = "It is not in the child", "What was it, and where is it now?", "Record that it is not in the child"
	}
	if pr.What == lines.DueSite {
		settle, ask, yes = "Site looked at", "How does the site look?", "Record how it looks"
	}
	if pr.What == lines.ProblemExtra && p.act != key {
		body = append(body, p.listFound(p.S.child.register().Note, pr.Item))
	}
	if pr.Event != "" {
		body = append(body, app.Div().Class("check-buttons").Body(safe.Button{ID: key, Words: settle, Name: settle + ": " + pr.Name, Off: p.Locked, Press: func(app.Context) {
			if p.act == key { // not yet, after all
				p.act = "-"
				return
			}
			p.act, p.lacks = key, ""
			safe.FocusSoon(key + "-how")
		}}.UI()))
	}
	if p.act == key {
		c := p.S.child
		save := func(app.Context) {
			how := strings.TrimSpace(c.half[key])
			if how == "" {
				p.lacks = "Say what was found."
				safe.FocusSoon(key + "-how")
				return
			}
			c.halfTyped(key, "")
			if pr.What == lines.DueSite {
				p.record("Site looked at: "+flagged+pr.Name+".", c.writer.Happen(ledger.KindChecked, pr.Item, ledger.RegisterFacts{Site: how}))
				return
			}
			if pr.What == lines.ProblemExtra {
				how = "not in the child: " + how
			}
			p.record("Settled: "+flagged+pr.Name+".", c.writer.Settle("", pr.Event, how, ""))
		}
		body = append(body, app.Div().Class("answer-form").Role("group").Aria("label", ask).Body(
			app.Label().For(key+"-how").Text(ask),
			c.halfEntry(key+"-how", key, 300, p.lacks != "", save), p.lacking(),
			safe.Button{ID: key + "-save", Class: "main", Words: yes, Press: save}.UI()))
	}
	return app.Div().Class("check-row", "is-unsettled").Body(body...)
}

func (p *bedsidePane) lacking() app.UI { return alert(p.lacks) }

// alert says what a form lacks, or nothing. Its place is kept when it says nothing: what
// stands after it is not drawn anew, under a finger, when it comes or goes.
func alert(words string) app.UI {
	return together(app.If(words != "", func() app.UI { return app.P().Class("wrong").Role("alert").Text(words) }))
}

// together keeps what comes and goes in one place among its neighbours, for the same reason.
func together(body ...app.UI) app.UI { return app.Div().Class("together").Body(body...) }

// record keeps what was done, says so, and closes the form.
func (p *bedsidePane) record(words string, events ...ledger.Event) {
	c := p.S.child
	c.act(events...)
	p.act, p.lacks, p.wrong, p.done, p.Version = "", "", nil, words, c.rec.Version()
	p.doneV, p.listed = p.Version, ""
	for _, e := range events {
		switch e.Kind {
		case ledger.KindItemListed:
			p.listed = e.ID
		case ledger.KindRemoved, ledger.KindExchanged, ledger.KindCutLeft:
			for _, v := range c.rec.ItemsIn() {
				switch in := v.Stand() == ledger.StandsIn; {
				case !slices.ContainsFunc(v.Events, func(of ledger.ItemEvent) bool { return of.Event == e.ID }):
				case v.Cut && in:
					p.done += " What was cut stands as left inside; the rest stays on the list, to come out."
				case v.Cut:
					p.done += " What was cut stands as left inside, until it comes out."
				default:
					p.done += " It stays on the list: part of it is left in, or may be."
				}
			}
		}
	}
	c.halfTyped(p.ends, "")
	safe.FocusSoon(cmp.Or(p.then, "bedside-done"))
}

// row is one item. What is done most is one tap away, the rest two.
func (p *bedsidePane) row(r *lines.Register, it lines.InChild) app.UI {
	id := string(it.ID)
	open := p.Place.Part == id
	class := "check-row"
	if len(it.Problems) > 0 || it.Dwell.Review || it.Capture != "" {
		class += " is-unsettled"
	}
	facts := parts(sinceIn(it), it.Seen.Words(r.At))
	if to := it.MovedTo(); to != "" {
		facts = slices.Insert(facts, 0, "moved to "+to)
	}
	if it.Dwell.Limit > 0 {
		facts = append(facts, it.Dwell.Words)
	}
	var due []string
	for _, d := range it.Due {
		due = append(due, dueWords(d))
	}
	what := []app.UI{
		app.Span().Class("flag").Text(safe.Int(it.Tag)), app.Strong().Text(it.Name),
		app.Span().Class("check-facts").Text(strings.Join(facts, " · "))}
	for _, words := range r.DrainWords(it) {
		if !it.View.InUse() {
			break
		}
		what = append(what, app.Span().Class("check-facts", "drain-words").Text(words))
	}
	if words := lines.Became(it.View); words != "" {
		what = append(what, app.Span().Class("check-answer").Text("On record: "+words+"."))
	}
	if it.Capture != "" {
		what = append(what, app.Span().Class("check-answer").Text(it.Capture))
	}
	if by := goes(p.S.child.rec, it.View); by != nil {
		what = append(what, app.Span().Class("check-answer").Text(goesWords(by)+" Until the child leaves it is looked after here."))
	}
	if len(due) > 0 {
		what = append(what, app.Span().Class("check-facts", "due").Text(strings.Join(due, " · ")))
	}
	// What is back from theatre, or was lost and is found, is in again.
	seen, done, kind := "Seen, as it was", "Seen", ledger.KindChecked
	if it.View.Where == ledger.InTheatre || it.View.Where == ledger.Lost {
		seen, kind = map[ledger.Whereabouts]string{ledger.InTheatre: "Back from theatre, in", ledger.Lost: "Found, in place"}[it.View.Where], ledger.KindConfirmed
		done = seen
	}
	first := firstOf(it)
	more := map[bool]string{true: "Close", false: "More"}[open]
	to := p.Place.With("bedside", id)
	if open {
		to.Part = ""
	}
	body := []app.UI{
		app.Div().Class("check-what").ID("item-" + id).Body(what...),
		app.Div().Class("check-buttons").Body(
			app.If(it.View.Stand() != ledger.StandsCut && !it.View.Piece, func() app.UI { // a piece lies inside
				return safe.Button{ID: "seen-" + id, Words: seen, Name: seen + ": tag " + itoa(it.Tag) + ", " + it.Name, Off: p.Locked, Press: func(app.Context) {
					p.record(done+": tag "+itoa(it.Tag)+", "+it.Name+".", p.S.child.writer.Happen(kind, it.ID, ledger.RegisterFacts{}))
				}}.UI()
			}),
			app.If(first != nil, func() app.UI {
				return safe.Button{ID: "first-" + id, Words: first.words, Name: first.words + ": tag " + itoa(it.Tag) + ", " + it.Name, Off: p.Locked, Press: func(app.Context) {
					p.S.goToAt(p.Place.With("bedside", id), p.begin(first, it))
				}}.UI()
			}),
			safe.Link{ID: "more-" + id, To: to.Path(), Class: "button", Words: more, Name: more + ": tag " + itoa(it.Tag) + ", " + it.Name}.UI())}
	if open {
		body = append(body, p.inside(r, it))
	}
	return app.Li().Class(class).Body(body...)
}

// sinceIn is how long a thing has been in, as far as that is known.
func sinceIn(it lines.InChild) string {
	if !it.SinceSure {
		return "in " + it.In + " or longer (when it went in is not recorded)"
	}
	return "in " + it.In
}

// inside is what is known of the open item and what can be done about it.
func (p *bedsidePane) inside(r *lines.Register, it lines.InChild) app.UI {
	var known []app.UI
	say := func(words string) { known = append(known, app.Li().Text(words)) }
	for _, l := range it.Lumens {
		what := l.Runs
		if what == "" {
			what = l.State
		}
		say("Lumen " + orNot(l.Name) + ": " + orNot(what) + sinceWords(l.By, l.At))
	}
	for _, list := range [][]lines.Read{it.Pressures, it.Tests, it.Moves} {
		for i := max(0, len(list)-3); i < len(list); i++ {
			say(readWords(list[i]) + sinceWords(list[i].By, list[i].At))
		}
	}
	if it.Need != nil {
		say("Still needed? " + neededShown[it.Need.Needed] + parenthesis(it.Need.Why) + sinceWords(it.Need.Author, it.Need.At))
	}
	act := p.act
	if a := p.unfinished(it); a != nil && act == "" { // taken up where it was left
		act = a.name + "-" + string(it.ID)
	}
	var buttons []app.UI
	for i := range bedsideActions {
		a := bedsideActions[i].on(it)
		if !a.fits(it) {
			continue
		}
		id := a.name + "-" + string(it.ID)
		buttons = append(buttons, safe.Button{ID: id, Class: "pick", Words: a.words, Name: a.words + ": tag " + itoa(it.Tag) + ", " + it.Name, Toggle: a.asks != nil, On: act == id, Off: p.Locked, Press: func(app.Context) {
			if p.act == id {
				p.act = "-"
				return
			}
			if a.asks == nil { // there is nothing to ask
				p.record(a.words+": tag "+itoa(it.Tag)+", "+it.Name+".", a.record(p, p.S.child.writer, it, nil)...)
				return
			}
			p.begin(a, it)
			safe.FocusSoon(id + "-form")
		}}.UI())
	}
	body := []app.UI{}
	if it.Drainage != nil {
		body = append(body, p.drained(r, it))
	}
	if len(known) > 0 {
		body = append(body, app.Ul().Class("known").Body(known...))
	}
	body = append(body, app.Div().Class("ticks").Role("group").Aria("label", "What to record").Body(buttons...))
	for i := range bedsideActions {
		if a := bedsideActions[i].on(it); act == a.name+"-"+string(it.ID) && a.fits(it) {
			body = append(body, p.form(a, it))
		}
	}
	all := []app.UI{p.S.accountButton("account-of-"+string(it.ID), "tag "+itoa(it.Tag)+", "+it.Name, string(it.ID), "")}
	if it.View.Note == "" {
		body = append(body, &aboutForm{S: p.S, Item: it.Item, Version: p.Version, Locked: p.Locked})
	} else if r.Note != "" {
		all = append(all, linkTo(Place{Screen: "items", Case: p.Place.Case, Note: r.Note, Part: string(it.ID)}, "All that is recorded of it", "button", "quiet"))
	}
	body = append(body, app.Div().Class("actions").Body(all...))
	return app.Div().Class("answer-form").Role("group").Aria("label", "Tag "+itoa(it.Tag)+", "+it.Name).Body(body...)
}

// dueWords says what is due, and by when, or since when.
func dueWords(d lines.Due) string {
	switch {
	case d.At.IsZero():
		return d.Words
	case d.Overdue:
		return "DUE since " + d.At.Shown() + ": " + d.Words
	case d.What == lines.DueOutBy || d.What == lines.DueWorking: // its words have the day; it is for now
		return d.Words
	}
	by := ", by "
	if d.What == lines.DueNeed { // "not asked yet, by" would be by whom
		by = ", due by "
	}
	return strings.TrimSuffix(d.Words, ".") + by + d.At.Shown()
}

// byWhom is who did something, before its time; "" where nobody said it.
func byWhom(by ledger.Author) string {
	if by.Name == "" {
		return ""
	}
	return by.String() + ", "
}

func sinceMoment(at schema.Moment) string {
	if at.IsZero() {
		return ""
	}
	return ", " + at.Shown()
}

func sinceWords(by ledger.Author, at schema.Moment) string {
	if at.IsZero() {
		return ""
	}
	return ". " + by.String() + ", " + at.Shown()
}

func parenthesis(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

// readWords words a reading, a test or a move.
func readWords(r lines.Read) string {
	var out []string
	add := func(name, value, unit string) {
		if value != "" {
			out = append(out, name+" "+value+unit)
		}
	}
	f := r.Facts
	if v := f.Pressure; v != nil {
		add("systolic", v.Systolic, " mmHg")
		add("diastolic", v.Diastolic, " mmHg")
		add("mean", v.Mean, " mmHg")
		add("zeroed:", v.Zeroed, "")
		add("trace", v.Trace, "")
		return "Pressure: " + strings.Join(out, ", ")
	}
	if v := f.Test; v != nil {
		add("threshold", v.Threshold, " mA")
		add("sensing", v.Sensing, " mV")
		add("wire", v.Site, "")
		add("own rhythm", v.Rhythm, "")
		add("box", v.Mode, "")
		add("rate", v.Rate, " per minute")
		add("output", v.Output, " mA")
		add("box sensitivity", v.Sense, " mV")
		add("delay", v.Delay, " ms")
		add("", v.Connection, "")
		if !v.LastNeeded.IsZero() {
			add("last needed", v.LastNeeded.Shown(), "")
		}
		if v.Needed == "no" {
			add("pacing", "not needed", "")
		}
		return "Test: " + strings.Join(out, ", ")
	}
	add("Moved to", f.To, "")
	add("", f.Note, "")
	return strings.Join(out, ", ")
}
