package ui

import (
	"cmp"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

var _ = addScreen(screen{name: "review", title: "Review and sign", child: true, note: true, draw: drawReview, enter: (*Session).commitHere})

// drawReview lists what is still wrong, asked and not recorded, with links to each
// place, and takes the signatures.
func drawReview(s *Session) app.UI {
	return app.Div().Class("review").Body(
		s.noteTabs(),
		app.If(s.who.Name == "", func() app.UI { return &whoForm{S: s} }),
		&reviewPane{S: s, Place: s.place, Version: s.child.rec.Version(), Who: s.who, Others: len(s.list)})
}

type reviewPane struct {
	app.Compo
	S       *Session
	Place   Place
	Version int
	Who     ledger.Author
	Others  int // children in the list: a like name may have come

	sure  bool // the right child among like-named ones was confirmed here
	lacks string
}

func (r *reviewPane) CompoID() string { return "review-" + string(r.Place.Note) }

func (r *reviewPane) Render() app.UI { return safe.Drawn("review", r.draw) }

func (r *reviewPane) draw() app.UI {
	if r.S.child == nil {
		return app.Div()
	}
	o := r.S.child.open(r.Place.Note)
	errors, questions, missing := o.stillOpen()
	st := r.S.child.standing(o.id)
	return app.Div().Body(
		r.summary(o, errors, questions, missing),
		r.disagreements(o),
		r.unchecked(o),
		r.answers(o),
		r.sections(o, st),
		r.sign(o, st, len(errors)+len(questions)+len(missing), len(errors)),
		r.amended(o, st))
}

// stillOpen is what is open in the note: the one list that is shown, counted and
// signed with. What signing itself answers is not in it, nor on the sheet's count.
func (o *openNote) stillOpen() (errors, questions, missing []schema.Problem) {
	answered := o.answered()
	for _, p := range o.all() {
		switch {
		case answered[p.Path][p.Rule] != "":
		case p.Severity == schema.Error:
			errors = append(errors, p)
		case p.Severity == schema.Question:
			questions = append(questions, p)
		case !slices.Contains(sheet.SaidBySigning, p.Path):
			missing = append(missing, p)
		}
	}
	order := schema.KindNamed(o.working.Kind()).Sections
	place := func(p schema.Problem) int { return int(uint32(slices.Index(order, p.Path.Section()))) } // of an item: last
	sorting.By(missing, func(a, b schema.Problem) int { return place(a) - place(b) })
	return errors, questions, missing
}

// summary is the list of what is open, each with a link to its place in the same
// words as beside it. What is wanted says no more: what may be answered stands there.
func (r *reviewPane) summary(o *openNote, errors, questions, missing []schema.Problem) app.UI {
	if len(errors)+len(questions)+len(missing) == 0 {
		return app.Div().Class("page").ID("open").TabIndex(-1).Body(app.P().Class("signed-words").Text("Nothing is open: every wanted field has an answer, and nothing disagrees."))
	}
	body := []app.UI{app.H2().ID("open").TabIndex(-1).Text(openWords(len(errors), len(questions), len(missing)))}
	for _, g := range []struct {
		title, class string
		of           []schema.Problem
	}{{"To put right", "wrong", errors}, {"Unusual: say that it is so, with a reason, or mend it", "asked", questions}, {"Wanted and not recorded", "missing", missing}} {
		if len(g.of) == 0 {
			continue
		}
		var items []app.UI
		for _, p := range g.of {
			words := p.What
			if p.Do != "" && p.Severity != schema.Missing {
				words += " " + p.Do
			}
			items = append(items, app.Li().Class(g.class).Body(safe.Link{To: r.to(p.Path) + "#" + widgets.ID(p.Path), Words: words}.UI()))
		}
		body = append(body, app.H3().Text(g.title), app.Ul().Class("open-items").Body(items...))
	}
	return app.Div().Class("page", "summary").Body(body...)
}

func openWords(errors, questions, missing int) string {
	var parts []string
	for _, c := range []struct {
		n         int
		one, more string
	}{{errors, "1 thing to put right", " things to put right"}, {questions, "1 question", " questions"}, {missing, "1 wanted field not recorded", " wanted fields not recorded"}} {
		switch {
		case c.n == 1:
			parts = append(parts, c.one)
		case c.n > 1:
			parts = append(parts, itoa(c.n)+c.more)
		}
	}
	return "Open: " + strings.Join(parts, ", ")
}

// to is the address of the place where a path is filled in.
func (r *reviewPane) to(p schema.Path) string {
	if item := p.Item(); item != "" {
		return r.Place.With("items", item).Path()
	}
	if p.Section() == "items" {
		return r.Place.With("items", "").Path()
	}
	return r.Place.With("section", p.Section()).Path()
}

// disagreements lists the fields that two people answered differently while apart.
func (r *reviewPane) disagreements(o *openNote) app.UI {
	var items []app.UI
	for _, d := range r.S.child.look().disagree {
		if d.Note != "" && d.Note != o.id {
			continue
		}
		title := string(d.Path)
		if f := o.working.FieldAt(d.Path); f != nil {
			title = f.Title
		}
		var said []string
		for _, v := range d.Values {
			said = append(said, v.Shown(o.working.FieldAt(d.Path), o.working)+" ("+v.Author.String()+")")
		}
		items = append(items, app.Li().Class("two").Body(safe.Link{To: r.to(d.Path) + "#" + widgets.ID(d.Path), Words: title + ": " + strings.Join(said, ", or ") + ". Choose which holds."}.UI()))
	}
	if len(items) == 0 {
		return nil
	}
	return app.Div().Class("page").Body(app.H2().Text("Two answers to one field"), app.Ul().Class("open-items").Body(items...))
}

// unchecked says how the two checks at the bed stand. They never hold a signature
// up.
func (r *reviewPane) unchecked(o *openNote) app.UI {
	var items []app.UI
	for _, occasion := range []ledger.Occasion{ledger.Leaving, ledger.Arrival} {
		c := lines.CheckOf(r.S.child.rec, o.id, occasion)
		words := occasions[occasion].title + ": " + c.Words()
		if c.Ready() && len(c.Closings) == 0 && c.Tally.Counts.Listed > 0 {
			words += " No name stands under it yet."
		}
		line := []app.UI{safe.Link{To: r.Place.With("check", string(occasion)).Path(), Words: words}.UI()}
		var differ []app.UI
		for _, x := range c.Open() {
			if x.Differs {
				differ = append(differ, r.Place.openItem(occasion, x))
			}
		}
		if len(differ) > 0 {
			line = append(line, app.Text("To be settled:"), app.Ul().Class("open-items").Body(differ...))
		}
		items = append(items, app.Li().Body(line...))
	}
	return app.Div().Class("page").Body(app.H2().Text("Checks at the bed"), app.Ul().Class("open-items").Body(items...))
}

// answers lists the questions that were answered.
func (r *reviewPane) answers(o *openNote) app.UI {
	if len(o.answers) == 0 {
		return nil
	}
	var items []app.UI
	for _, a := range o.answers {
		words := a.What + " Answered: " + a.Answer.Answer
		if a.Answer.Why != "" {
			words += ", " + a.Answer.Why
		}
		items = append(items, app.Li().Body(safe.Link{To: r.to(a.Path) + "#" + widgets.ID(a.Path), Words: words + " (" + a.Answer.By + ")."}.UI()))
	}
	return app.Div().Class("page").Body(app.H2().Text("Answered questions"), app.Ul().Class("open-items").Body(items...))
}

// sections lets each role sign the sections it fills.
func (r *reviewPane) sections(o *openNote, st ledger.Standing) app.UI {
	var owners []string
	by := map[string][]*schema.Section{}
	for _, s := range schema.SectionsOf(o.working.Kind()) {
		if s.Owner == "" {
			continue
		}
		if by[s.Owner] == nil {
			owners = append(owners, s.Owner)
		}
		by[s.Owner] = append(by[s.Owner], s)
	}
	mine := r.Who.Role
	sorting.By(owners, func(a, b string) int { return cmp.Compare(rankOf(a != mine), rankOf(b != mine)) })
	var rows []app.UI
	for _, owner := range owners {
		var unsigned []string
		var names []string
		for _, s := range by[owner] {
			if sig, ok := st.Sections[s.Name]; ok && len(sig.Changes) == 0 {
				names = append(names, s.Title+" ("+sig.Author.Name+", "+sig.At.Clock()+")")
			} else {
				unsigned = append(unsigned, s.Name)
			}
		}
		words := itoa(len(by[owner])-len(unsigned)) + " of " + itoa(len(by[owner])) + " signed"
		row := []app.UI{app.Strong().Text(upperFirst(owner) + "'s sections: " + words), app.If(len(names) > 0, func() app.UI { return app.Span().Class("check-facts").Text(strings.Join(names, " · ")) })}
		if owner == mine && len(unsigned) > 0 {
			row = append(row, safe.Button{ID: "sign-sections", Words: "Sign my sections as they stand", Press: func(app.Context) {
				c := r.S.child
				r.S.commitHere()
				w := c.writer.Together()
				for _, name := range unsigned {
					c.act(w.SignSection(c.rec, o.id, name))
				}
				r.Version = c.rec.Version()
			}}.UI())
		}
		rows = append(rows, app.Li().Class("owner-row").Body(row...))
	}
	return app.Div().Class("page").Body(app.H2().Text("Sections"), app.Ul().Class("open-items").Body(rows...))
}

func rankOf(b bool) int {
	if b {
		return 1
	}
	return 0
}

// sign takes the signature under the whole note. It never holds the sheet up:
// unsigned, the sheet says so.
func (r *reviewPane) sign(o *openNote, st ledger.Standing, open, errors int) app.UI {
	body := []app.UI{app.H2().Text("Signature")}
	if st.Signed != nil {
		words := "Signed by " + st.Signed.Author.String() + ", " + st.Signed.At.Shown()
		if st.Signed.Open > 0 {
			words += ", with " + itoa(st.Signed.Open) + " open items"
		}
		body = append(body, app.P().Class("signed-words").Text(words+". What is changed now is an amendment: dated, and the sheet says so."))
	}
	if st.Signed == nil {
		body = append(body, r.S.child.signedThere(o.id, func(kind string) bool { return kind != ledger.KindCheckClosed }))
	}
	if r.Who.Name == "" {
		return app.Div().Class("page").Body(append(body, app.P().Text("Say who is writing, above, before you sign."))...)
	}
	alike := r.S.alike(r.S.child.id)
	if alike != "" {
		body = append(body, safe.Tick{ID: "right-child", Words: "I have read the wristband: this is the right child, not " + alike + ".", On: r.sure,
			Change: func(ctx app.Context, on, _ bool) { r.sure = on }}.UI())
	}
	words := "Sign the whole note"
	switch {
	case open > 0 && st.Signed == nil:
		words = "Sign with " + itoa(open) + " open items"
	case open > 0:
		words = "Sign again, with " + itoa(open) + " open items"
	case st.Signed != nil:
		words = "Sign again as it stands now"
	}
	if open == 1 {
		words = strings.Replace(words, "items", "item", 1)
	}
	if errors > 0 {
		body = append(body, app.P().Class("said", "wrong").Text("A complete signature wants no open error. In an arrest or on support sign with what is open: the sheet says so."))
	}
	body = append(body,
		app.P().ID("sign-why").Text("You sign as "+r.Who.String()+". The name is typed and not authenticated. The sheet prints with or without a signature."),
		alert(r.lacks),
		app.Div().Class("actions").Body(
			safe.Button{ID: "sign", Class: "main", Words: words, Told: "sign-why", Press: func(app.Context) {
				if alike != "" && !r.sure {
					r.lacks = "Another child here has a like name. Read the wristband, then say above that this is the right child."
					safe.FocusSoon("right-child")
					return
				}
				r.lacks = ""
				r.S.commitHere()
				c := r.S.child
				c.sign(o, r.Who.Name, open)
				r.Version = c.rec.Version()
			}}.UI(),
			linkTo(r.Place.With("sheet", ""), "See and print the sheet", "button")))
	return app.Div().Class("page").ID("signature").Body(body...)
}

// unsaidBySigning are the fields that signing answers and nobody has yet.
func unsaidBySigning(o *openNote) []schema.Path {
	var out []schema.Path
	for _, p := range sheet.SaidBySigning {
		if !o.working.Answered(p) {
			out = append(out, p)
		}
	}
	return out
}

// sign puts the signature under the note, and writes its name and time where the
// note asks for them: the sheet would say signed, and not recorded, in one breath.
func (c *Child) sign(o *openNote, by string, open int) {
	for _, p := range unsaidBySigning(o) {
		value := by
		if p == schema.SigningWrittenAt {
			value = c.s.now().String()
		}
		c.act(c.writer.Set(c.rec, o.id, p, ledger.Entry{Value: value}))
	}
	c.act(c.writer.SignNote(c.rec, o.id, open)) // it signs what the record shows by then
}

// amended says what changed after the signature, and to whom it must be told.
func (r *reviewPane) amended(o *openNote, st ledger.Standing) app.UI {
	if st.Signed == nil || !st.Amended {
		return nil
	}
	var changes []app.UI
	for _, ch := range st.Changes {
		name := changeName(ch)
		if f := o.working.FieldAt(ch.Path); f != nil {
			name = f.Title
		}
		changes = append(changes, app.Li().Text(name+": changed by "+ch.Author.String()+", "+ch.Happened.Shown()))
		if len(changes) == 40 {
			changes = append(changes, app.Li().Text("and "+itoa(len(st.Changes)-40)+" more"))
			break
		}
	}
	body := []app.UI{app.H2().Text("Amended after signing"), app.Ul().Class("names").Body(changes...), r.S.amendment(o.id)}
	for _, t := range st.Told {
		body = append(body, app.P().Text("Told again: "+t.Who+", "+t.At.Shown()+" ("+t.Author.String()+")"))
	}
	if len(st.Untold) > 0 {
		c, half := r.S.child, "told "+string(o.id)
		tell := func(app.Context) {
			if who := strings.TrimSpace(c.half[half]); who != "" {
				c.halfTyped(half, "")
				c.act(c.writer.TellSheet(c.rec, o.id, who))
				r.Version = c.rec.Version()
				return
			}
			safe.FocusSoon("told-who")
		}
		body = append(body, app.Div().Class("answer-form").Role("group").Aria("label", "Tell the receiver again").Body(
			app.Label().For("told-who").Text("The receiver has an older sheet. Who was told of the change?"),
			c.halfEntry("told-who", half, 80, false, tell),
			safe.Button{ID: "told-save", Class: "main", Words: "Told again", Off: r.Who.Name == "", Press: tell}.UI()))
	}
	return app.Div().Class("page").Body(body...)
}

func changeName(ch ledger.Change) string {
	switch {
	case ch.Path != "":
		return string(ch.Path)
	case ch.Item != "":
		return "An item"
	}
	return ch.Kind
}
