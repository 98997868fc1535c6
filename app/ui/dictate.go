package ui

import (
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

var _ = addScreen(screen{name: "dictate", title: "Dictate", child: true, note: true, wide: true, draw: drawDictate, enter: (*Session).commitHere, leave: (*Session).commitHere})

// mostWords is the most text that is read, in bytes: dictation.Limit. A book is not a
// dictation.
const mostWords = 500_000

// findings is the field for what was said and not understood.
const findings schema.Path = schema.WorkFindings

func drawDictate(s *Session) app.UI {
	return app.Div().Class("dictate").Body(
		s.noteTabs(),
		app.If(s.who.Name == "", func() app.UI { return &whoForm{S: s} }),
		&dictatePane{S: s, Place: s.place, Version: s.child.rec.Version(), Locked: s.who.Name == "", Rest: s.shell.RestReady, Answers: s.reader.answers})
}

// dictatePane takes words on one side and offers what they say to the note on the
// other. Nothing is written before a person takes it.
type dictatePane struct {
	app.Compo
	S       *Session
	Place   Place
	Version int
	Locked  bool
	Rest    bool
	Answers int // of the reader, until now

	reading *said
	read    string // the text the reading is of
	asked   string // the text that was sent to be read
	open    string // the offer whose field is filled in by hand
	told    string
	shown   []*offered // the offers, as they follow each other on the screen
	took    time.Time  // when one was taken last
	talk    *talking
}

func (p *dictatePane) CompoID() string { return "dictate-" + string(p.Place.Note) }

func (p *dictatePane) OnDismount() { p.talk.stop() }

func (p *dictatePane) Render() app.UI { return safe.Drawn("dictate", p.draw) }

func (p *dictatePane) half() string { return "dictated-" + string(p.Place.Note) }

// text is what was dictated: a draft of this note, kept on each key.
func (p *dictatePane) text() string { return p.S.child.half[p.half()] }

func (p *dictatePane) put(text string) {
	p.S.child.halfTyped(p.half(), text)
	p.ask()
}

// ask has the text read, if it is not what was read last.
func (p *dictatePane) ask() {
	c := p.S.child
	if c == nil {
		return
	}
	text := p.text()
	if text == p.asked {
		return
	}
	p.asked = text
	if len(text) > mostWords {
		p.reading = &said{Text: text, Refused: "The text is too long to read: " + itoa(len(text)/1000) + " kB; the limit is " + itoa(mostWords/1000) + " kB. All of it is kept here. Take out what is not this operation."}
		p.read = text
		return
	}
	p.S.reader.read(c.open(p.Place.Note).working.Kind(), text, func(r *said) {
		p.reading, p.read = r, text
	})
}

func (p *dictatePane) draw() app.UI {
	c := p.S.child
	if c == nil {
		return app.Div()
	}
	p.ask()
	o := c.open(p.Place.Note)
	o.agree()
	var offers []*offered
	if p.reading != nil && p.reading.Refused == "" {
		offers = o.offersOf(p.reading)
	}
	return app.Div().Class("dictate-desk").Body(
		app.Section().Class("page", "dictate-words").Aria("labelledby", "dictate-title").Body(
			app.H2().ID("dictate-title").Text("The words"),
			app.P().ID("dictate-help").Text("Talk with the keyboard's own microphone, paste, or type. Nothing goes into the note until you take it."),
			safe.Entry{ID: "dictate-text", Value: p.text(), Lines: 9, Max: 8_000_000, Labelled: "dictate-title", Told: "dictate-help", Locked: p.Locked,
				Type: func(_ app.Context, t string) { p.put(t) }}.UI(),
			p.talkUI(),
			p.stateUI(),
			p.marked()),
		app.Section().Class("page", "dictate-offers").Aria("labelledby", "offers-title").Body(p.offersUI(o, offers)...))
}

// stateUI says how far the reading is, truthfully.
func (p *dictatePane) stateUI() app.UI {
	words, class := "", "aside"
	switch r := p.reading; {
	case p.S.reader.failed != "":
		words, class = p.S.reader.failed, "wrong"
	case r != nil && r.Refused != "" && p.text() != "":
		words, class = r.Refused, "wrong"
	case p.text() == "":
	case p.read != p.text():
		words = "Reading…"
	}
	if words == "" && !p.Rest && app.IsClient {
		words = "The reader of dictations is not yet kept on this device for use without a network. What you dictate is."
	}
	return app.P().ID("dictate-state").Class(class).Role("status").Text(words)
}

// marked shows the text with what was understood marked in it.
func (p *dictatePane) marked() app.UI {
	r := p.reading
	if r == nil || r.Refused != "" || strings.TrimSpace(r.Text) == "" {
		return nil
	}
	var body []app.UI
	for _, piece := range r.Pieces {
		if piece.Start < 0 || piece.End > len(r.Text) || piece.Start > piece.End {
			continue
		}
		text := r.Text[piece.Start:piece.End]
		if len(piece.Proposals) == 0 {
			body = append(body, app.Span().Text(text))
			continue
		}
		sure := "sure"
		for _, i := range piece.Proposals {
			if i < len(r.Proposals) && (r.Proposals[i].Sure == "conflict" || r.Proposals[i].Sure == "check" && sure == "sure") {
				sure = r.Proposals[i].Sure
			}
		}
		body = append(body, app.Mark().Class("said", "is-"+sure).Text(text))
	}
	return app.Div().Class("dictate-marked").Body(
		app.H3().Text("What was understood"),
		app.P().Class("aside").Text("Underlined once: understood. Dashed: to be checked. Twice: said in two ways. Not underlined: not understood."),
		app.P().ID("dictate-marked").Class("said-text").Body(body...))
}

// notUnderstood is what no offer was read from.
func (p *dictatePane) notUnderstood() string {
	var out []string
	for _, piece := range p.reading.Pieces {
		if len(piece.Proposals) == 0 && piece.Start >= 0 && piece.End <= len(p.reading.Text) && piece.Start < piece.End {
			if t := strings.Trim(p.reading.Text[piece.Start:piece.End], " \t\r\n.,;:"); len(t) > 3 {
				out = append(out, t)
			}
		}
	}
	return strings.Join(out, " … ")
}

// asSaid is every sentence that holds something not understood, whole: a sentence
// with its understood words left out may say the opposite.
func (p *dictatePane) asSaid() string {
	text, end := p.reading.Text, 0
	var out []string
	for _, piece := range p.reading.Pieces {
		if len(piece.Proposals) > 0 || piece.Start < 0 || piece.End > len(text) || piece.End <= end || len(strings.Trim(text[max(piece.Start, end):piece.End], " \t\r\n.,;:")) <= 3 {
			continue
		}
		for from := max(piece.Start, end); from < piece.End; {
			from += len(text[from:piece.End]) - len(strings.TrimLeft(text[from:piece.End], " \t\r\n.,;:"))
			if from >= piece.End {
				break
			}
			start := max(end, saidFrom(text, from))
			end = saidTo(text, from)
			out = append(out, strings.TrimSpace(text[start:end]))
			from = end
		}
	}
	return strings.Join(out, " ")
}

// saidFrom and saidTo are the ends of the sentence round a place in a text: a
// point before a space, or a new line. A point in a number ends nothing.
func saidFrom(text string, at int) int {
	for i := at - 1; i > 0; i-- {
		if text[i-1] == '\n' || strings.ContainsRune(".!?", rune(text[i-1])) && (text[i] == ' ' || text[i] == '\n') {
			return i
		}
	}
	return 0
}

func saidTo(text string, at int) int {
	for i := at; i < len(text); i++ {
		if text[i] == '\n' || strings.ContainsRune(".!?", rune(text[i])) && (i+1 == len(text) || text[i+1] == ' ' || text[i+1] == '\n') {
			return i + 1
		}
	}
	return len(text)
}

func (p *dictatePane) offersUI(o *openNote, offers []*offered) []app.UI {
	body := []app.UI{app.H2().ID("offers-title").TabIndex(-1).Text("What they say")}
	if p.told != "" {
		body = append(body, app.P().ID("dictate-told").Class("wrong").Role("alert").Text(p.told))
	}
	if len(offers) == 0 {
		body = append(body, app.P().Text("Nothing is understood yet."))
	}
	open, twice, sure := 0, 0, []*offered{}
	for _, of := range offers {
		if toDo(of) {
			open++
		}
		if of.sure == "conflict" {
			twice++
		}
		if takable(of) && of.sure == "sure" {
			sure = append(sure, of)
		}
	}
	if words := "Everything understood stands in the note."; len(offers) > 0 {
		switch {
		case open > 0:
			words = itoa(open) + " of " + itoa(len(offers)) + " still to be taken or looked at."
		case twice > 0:
			words = "Everything understood stands in the note; of what was said in two ways (" + itoa(twice) + "), one."
		}
		body = append(body, app.P().ID("offers-tally").Role("status").Text(words))
	}
	if len(sure) > 1 {
		body = append(body, safe.Button{ID: "take-sure", Class: "main", Words: "Take all " + itoa(len(sure)) + " that are sure", Off: p.Locked, Press: func(app.Context) { p.take(o, sure, false) }}.UI())
	}
	// What has come and gone above them does not move the offers to other elements, and
	// the focus with them.
	body = []app.UI{app.Div().Body(body...)}
	names := []string{}
	for _, s := range schema.SectionsOf(o.working.Kind()) {
		names = append(names, s.Name)
	}
	p.shown = nil
	for _, name := range append(names, "items") {
		var rows []app.UI
		var all []*offered
		for _, of := range offers {
			if of.section == name {
				p.shown = append(p.shown, of)
				rows = append(rows, p.offerUI(o, of))
				if takable(of) && of.sure != "conflict" {
					all = append(all, of)
				}
			}
		}
		if len(rows) == 0 {
			continue
		}
		title := "Items left in the child"
		if s := schema.SectionNamed(name); s != nil {
			title = s.Title
		}
		head := []app.UI{app.H3().Text(title)}
		if len(all) > 1 {
			head = append(head, safe.Button{ID: "take-all-" + name, Words: "Take these " + itoa(len(all)), Name: "Take these " + itoa(len(all)) + ": " + title, Off: p.Locked, Press: func(app.Context) { p.take(o, all, false) }}.UI())
		}
		body = append(body, app.Div().Class("offers-head").Body(head...), app.Ul().Class("offers").Body(rows...))
	}
	rest, whole := "", ""
	if p.reading != nil && p.reading.Refused == "" {
		rest, whole = p.notUnderstood(), p.asSaid()
	}
	if rest != "" && o.working.FieldAt(findings) != nil {
		body = append(body, app.Div().Class("offers-head").Body(app.H3().Text("Not understood")), app.P().ID("dictate-rest").Text(rest),
			safe.Button{ID: "take-rest", Words: "Put it under Findings, as said", Off: p.Locked || strings.Contains(o.working.Text(findings), whole), Press: func(app.Context) {
				p.putRest(o, whole)
				safe.FocusSoon("offers-title")
			}}.UI())
	}
	return append(body, app.Div().Class("neighbours").Body(
		linkTo(p.Place.With("section", ""), "‹ The note", "button", "quiet"),
		linkTo(p.Place.With("items", ""), "Items ›", "button", "main", "next")))
}

// putRest puts what was not understood under Findings, below what stands there.
func (p *dictatePane) putRest(o *openNote, rest string) {
	c := p.S.child
	text := strings.TrimSpace(o.working.Text(findings) + "\n" + rest)
	c.act(c.writer.Set(c.rec, o.id, findings, ledger.Entry{Value: text, Origin: ledger.Origin{How: ledger.HowDictation, Words: rest}}))
	p.Version = c.rec.Version()
}

// toDo tells whether an offer is still to be taken or looked at.
func toDo(of *offered) bool {
	return of.state != offerSame && (of.state != offerDenied || of.in != "")
}

// takable tells whether an offer can be taken with others, without a closer look.
func takable(of *offered) bool { return of.state == offerNew || of.state == offerMore && of.old == "" }

// take takes offers, and goes on to the next that is open. That comes to lie where the
// finger is: a second tap that follows at once is taken for a tremor.
func (p *dictatePane) take(o *openNote, offers []*offered, again bool) {
	now := time.Now()
	if now.Sub(p.took) < 350*time.Millisecond {
		return
	}
	p.took = now
	next := p.after(offers)
	if p.told = strings.Join(o.takeOffers(offers, again), " "); p.told != "" {
		next = "dictate-told"
	}
	p.Version = p.S.child.rec.Version()
	safe.FocusSoon(next)
}

// after is the offer to look at once these are taken: the next one down the screen
// that is open; else, and when they are of many sections, the first; else the heading.
func (p *dictatePane) after(taken []*offered) string {
	first, next := "", ""
	for _, of := range p.shown {
		open := toDo(of)
		for _, t := range taken {
			if strings.HasPrefix(t.key, of.key) { // one of the ways it was said in
				next, open = "", false
			}
		}
		if open && first == "" {
			first = of.key
		}
		if open && next == "" {
			next = of.key
		}
	}
	if next == "" || taken[0].section != taken[len(taken)-1].section {
		next = first
	}
	if next == "" {
		return "offers-title"
	}
	return "offer-" + next
}

var offerWords = map[string]string{
	"sure": "", "check": "Check this:", "conflict": "Said in two ways.",
}

// offerUI is one offer with what can be done about it.
func (p *dictatePane) offerUI(o *openNote, of *offered) app.UI {
	var what []app.UI
	var why []string
	for i, part := range of.parts {
		if i > 0 && strings.HasSuffix(of.parts[i-1].words, " "+part.words) {
			continue // a unit that the figure before it carries
		}
		title := ""
		if of.group != nil {
			title = part.def.Title + ": "
		}
		what = append(what, app.Span().Class("offer-value").Text(title+part.words))
		if part.why != "" && (len(why) == 0 || why[len(why)-1] != part.why) {
			why = append(why, part.why)
		}
	}
	if of.group != nil && len(why) == 0 {
		why = []string{of.group.Why}
	}
	state, class := "", "offer is-"+of.state+" is-"+of.sure
	switch of.state {
	case offerSame:
		state = "In the note."
	case offerMore:
		if of.in != "" {
			state = "Adds to what the note has."
		}
		if of.old != "" {
			state = "Adds to " + of.old + "."
		}
	case offerDiffers:
		state = "The note says: " + of.now + "."
		if of.old != "" {
			state = upperFirst(of.old) + ". On record: " + of.now + "."
		}
	case offerDenied:
		if state = "Said not to be there; nothing is listed."; of.in != "" {
			state = "Said not to be there, but the note lists it: " + of.now + "."
		}
	}
	words := []app.UI{app.Strong().Text(of.title)}
	words = append(words, what...)
	note := of.note
	if note != "" && !strings.HasSuffix(note, ".") {
		note += "."
	}
	first := offerWords[of.sure]
	if of.sure == "conflict" && note != "" { // which says the same
		first, note = "", upperFirst(note)
	}
	if w := strings.TrimSpace(strings.Join([]string{first, note, state}, " ")); w != "" {
		words = append(words, app.Span().Class("offer-state").Text(w))
	}
	words = append(words, app.Span().Class("offer-why").Text("“"+strings.Join(why, "” … “")+"”"))
	name := of.title
	if len(of.parts) > 0 {
		name += ", " + of.parts[0].words
	}
	take := func(words string, again bool) app.UI {
		id := "take-" + of.key
		if again {
			id = "again-" + of.key
		}
		return safe.Button{ID: id, Words: words, Name: words + ": " + name, Off: p.Locked, Press: func(app.Context) { p.take(o, []*offered{of}, again) }}.UI()
	}
	var buttons []app.UI
	switch {
	case of.state == offerDenied:
		if of.in != "" {
			at := p.Place.With("items", of.in)
			if of.section != "items" {
				at = p.Place.With("section", of.section)
			}
			buttons = append(buttons, linkTo(at, "Look at it", "button"))
		}
	case of.sure == "conflict" && slices.ContainsFunc(of.parts, twoWays):
		for _, one := range o.ways(of) {
			words := one.note
			buttons = append(buttons, safe.Button{ID: "take-" + one.key, Words: words, Name: "Take " + words + ": " + of.title, Off: p.Locked, Press: func(app.Context) { p.take(o, []*offered{one}, false) }}.UI())
		}
	case of.old != "" && of.state != offerSame: // most often another is meant
		buttons = append(buttons, take("Add as another", true), take(map[bool]string{true: "Add to the old one", false: "Correct the old one"}[of.state == offerMore], false))
	case of.state == offerNew, of.state == offerMore:
		buttons = append(buttons, take("Take", false))
	case of.state == offerDiffers:
		buttons = append(buttons, take("Take this instead", false))
		if of.group != nil {
			buttons = append(buttons, take("Add as another", true))
		}
	}
	switch {
	case of.group == nil:
		words := "By hand"
		if p.open == of.key {
			words = "Close"
		}
		buttons = append(buttons, safe.Button{ID: "hand-" + of.key, Class: "quiet", Words: words, Name: words + ": " + of.title, Open: p.open == of.key, Opens: "by-hand-" + of.key, Off: p.Locked, Press: func(app.Context) {
			if p.open == of.key {
				p.S.commitHere()
				p.open = ""
				return
			}
			p.open = of.key
			safe.FocusSoon(widgets.EntryID(of.parts[0].def.Path))
		}}.UI())
	case of.in != "" && of.section == "items" && of.state != offerDenied:
		buttons = append(buttons, linkTo(p.Place.With("items", of.in), "Open", "button", "quiet"))
	case of.in != "":
		buttons = append(buttons, safe.Link{To: p.Place.With("section", of.section).Path() + "#" + widgets.ID(of.group.List), Words: "Open", Class: "button quiet"}.UI())
	}
	body := []app.UI{app.Div().Class("offer-what").Body(words...), app.Div().Class("offer-buttons").Body(buttons...)}
	if p.open == of.key && of.group == nil {
		def := of.parts[0].def
		field := o.sectionForm(def.Path.Section()).Field(def, def.Path)
		body = append(body, app.Div().ID("by-hand-"+of.key).Class("offer-hand").Body(
			app.If(field.Off, func() app.UI {
				return app.P().Text("As the note stands this field does not apply. Fill in first what it depends on, or take it: what it holds is kept, and asked about.")
			}),
			widgets.Slot{Field: field, Do: o.do}.UI()))
	}
	return app.Li().ID("offer-" + of.key).Class(class).Body(body...)
}
