package ui

import (
	"encoding/json"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// accountPart is everything that was said of the child, to be read in order.
func (s *Session) accountPart() app.UI {
	return &accountPane{S: s, Case: s.child.id, Version: s.child.rec.Version(), Ask: s.accountAsk}
}

// accountAsked is what the account is narrowed to when somebody comes from an item
// or a field to read of it.
type accountAsked struct{ item, field string }

// readAccount opens the account of the open child at what was said of an item, a
// field, or of a section where field ends in a point.
func (s *Session) readAccount(item, field string) {
	s.accountAsk = &accountAsked{item, field}
	s.goToAt(Place{Screen: "child", Case: s.child.id}, "account-title")
}

// accountButton goes to what was said of an item or a field.
func (s *Session) accountButton(id, name, item, field string) app.UI {
	return safe.Button{ID: id, Class: "quiet", Words: "Who entered what, and when", Name: "Who entered what, and when: " + name, Press: func(app.Context) { s.readAccount(item, field) }}.UI()
}

// atOnce is how many lines are shown before more are asked for.
const atOnce = 40

type accountPane struct {
	app.Compo
	S       *Session
	Case    ledger.CaseID
	Version int
	Ask     *accountAsked // what the page was opened for; nil: nothing

	open   bool
	oldest bool // the oldest first
	words  string
	only   [4]string // by which of accountKeys; "" is all
	most   int

	said    []saidLine // of version
	choices [4][]safe.Option
	of      int
}

// saidLine is one line, with where it was said in words.
type saidLine struct {
	ledger.Said
	where string
	plain string        // all of it in small letters, to look for words in
	back  string        // who took it back, when and why
	to    ledger.CaseID // the child it was moved to
	keys  [4]string
	names [4]string
	of    string // of an item: the operation whose note listed it
}

// accountKeys are what the account can be narrowed by.
var accountKeys = [4]struct{ id, words, all string }{{"account-item", "Item", "Every item, and what is about none"}, {"account-field", "Field", "Every field"},
	{"account-person", "Person", "Everybody"}, {"account-kind", "Kind of entry", "Every kind"}}

// accountKinds gathers the kinds of events as a reader thinks of them; what is in
// none happened to an item.
var accountKinds = [...][2]string{{"Written in a field", "field set,row added,row removed,question answered,offered,offer answered"},
	{"Item listed or taken off the list", "item listed,item withdrawn,item retagged"}, {"Checked, or still needed?", "item checked,checked,check closed,difference settled,need answered,need round opened,need round closed"},
	{"Read or tested", "output read,pressure read,threshold tested"}, {"Came out, or goes along", "removed,exchanged,cut and left,lost,taken back to theatre,transferred,gone home,discharged"},
	{"Signed or told", "section signed,note signed,amended,sheet told"}, {"Taken back", "retracted,retraction withdrawn"},
	{"Note or record begun, joined or parted", "case opened,note opened,cases joined,cases parted"}}

func accountKind(kind string) string {
	for _, k := range accountKinds {
		if strings.Contains(","+k[1]+",", ","+kind+",") {
			return k[0]
		}
	}
	return "Placed, moved, connected, problem"
}

func (a *accountPane) CompoID() string { return "account-" + string(a.Case) }

func (a *accountPane) Render() app.UI { return safe.Drawn("account", a.draw) }

func (a *accountPane) draw() app.UI {
	if a.S.child == nil || a.S.child.id != a.Case {
		return app.Div()
	}
	if a.Ask != nil && a.S.accountAsk == a.Ask {
		a.S.accountAsk = nil
		a.open, a.most, a.words, a.only = true, atOnce, "", [4]string{a.Ask.item, a.Ask.field}
	}
	body := []app.UI{app.H2().ID("account-title").TabIndex(-1).Text("Who said what, when"),
		safe.Button{ID: "account-open", Words: map[bool]string{false: "Show it in order", true: "Hide it"}[a.open], Opens: "account", Open: a.open, Press: func(app.Context) {
			a.open, a.most = !a.open, atOnce
			if a.open {
				safe.FocusSoon("account-words")
			}
		}}.UI()}
	in := app.Div().ID("account")
	if a.open {
		in = in.Body(a.list()...)
	}
	return app.Section().Class("page").Aria("labelledby", "account-title").Body(append(body, in)...)
}

func (a *accountPane) list() []app.UI {
	found := a.found()
	var rows []app.UI
	for _, l := range found[:min(a.most, len(found))] {
		class := "said-line"
		words := []app.UI{app.Span().Class("said-words").Text(l.Words)}
		if l.Retracted {
			class += " is-retracted"
			words = append(words, app.Strong().Text(" "+l.back))
			if l.to != "" {
				words = append(words, app.Strong().Text(" To "+a.S.childNamed(l.to)+"."))
			}
		}
		when := l.Happened.Shown()
		if l.Entered.Shown() != when {
			when += ", entered " + l.Entered.Shown()
		}
		words = append(words, app.Small().Text(strings.Join(parts(when, l.Author.String(), l.names[0], l.where), " · ")))
		if canTakeBack(l) {
			words = append(words, &takeBack{S: a.S, Event: l.Event, Words: l.Words, Locked: a.S.who.Name == ""})
		}
		rows = append(rows, app.Li().Class(class).Body(words...))
	}
	count := itoa(len(found)) + " of " + itoa(len(a.said)) + " entries"
	if a.words == "" && a.only == [4]string{} {
		count = itoa(len(a.said)) + " entries"
	}
	var narrow []app.UI
	for i, k := range accountKeys {
		narrow = append(narrow, app.Div().Body(app.Label().For(k.id).Text(k.words), safe.Select{ID: k.id, Value: a.only[i], Empty: k.all, Options: a.choices[i],
			Change: func(_ app.Context, v string) { a.only[i], a.most = v, atOnce }}.UI()))
	}
	order := "Oldest first"
	if a.oldest {
		order = "Newest first"
	}
	return []app.UI{
		app.Div().Class("reason").Body(
			app.Label().For("account-words").Text("Only what holds these words (a name, a field, a date, “drain”)"),
			safe.Entry{ID: "account-words", Value: a.words, Max: 80, Type: func(ctx app.Context, t string) { a.words, a.most = t, atOnce }}.UI(),
			app.Div().Class("account-narrow").Body(narrow...),
			app.Div().Class("actions").Body(safe.Button{ID: "account-order", Class: "quiet", Words: order, Press: func(app.Context) { a.oldest = !a.oldest }}.UI(),
				safe.Button{ID: "account-table", Class: "quiet", Words: "Save these as a table (CSV)", Off: len(found) == 0, Press: func(app.Context) { a.save("csv", "text/csv", accountTable) }}.UI(),
				safe.Button{ID: "account-data", Class: "quiet", Words: "Save these as data (JSON)", Off: len(found) == 0, Press: func(app.Context) { a.save("json", "application/json", accountData) }}.UI()),
			app.P().ID("account-count").Role("status").Text(count)),
		app.Ol().Class("account").Body(rows...),
		app.If(len(found) > a.most, func() app.UI {
			return safe.Button{ID: "account-more", Words: "Show " + itoa(min(200, len(found)-a.most)) + " more", Press: func(app.Context) { a.most += 200 }}.UI()
		}),
	}
}

// canTakeBack tells whether one entry by itself can be taken back here: what was
// read, tested, moved or seen of a thing, or that it came out. An exchange has a
// second thing hanging on it, and a note has its own amendments.
func canTakeBack(l saidLine) bool {
	switch l.Kind {
	case ledger.KindOutputRead, ledger.KindPressureRead, ledger.KindWiresTested, ledger.KindMoved, ledger.KindChecked, ledger.KindProblem, ledger.KindConnected, ledger.KindDisconnected,
		ledger.KindRemoved, ledger.KindCutLeft, ledger.KindLost, ledger.KindToTheatre, ledger.KindTransferred, ledger.KindGoneHome, ledger.KindNeedAnswered:
		return !l.Retracted
	}
	return false
}

// takeBack takes one entry back, with the reason: it stays on record and no longer
// counts.
type takeBack struct {
	app.Compo
	S      *Session
	Event  ledger.EventID
	Words  string
	Locked bool

	open  bool
	lacks string
}

func (t *takeBack) CompoID() string { return "back-" + string(t.Event) }

func (t *takeBack) Render() app.UI { return safe.Drawn("back", t.draw) }

func (t *takeBack) draw() app.UI {
	id, c := string(t.Event), t.S.child
	if c == nil {
		return app.Div()
	}
	if !t.open {
		return safe.Button{ID: "back-" + id, Class: "quiet", Words: "Take it back…", Name: "Take it back: " + t.Words, Off: t.Locked, Press: func(app.Context) {
			t.open = true
			safe.FocusSoon("back-why-" + id)
		}}.UI()
	}
	half := "back-" + id
	save := func(app.Context) {
		why := strings.TrimSpace(c.half[half])
		if why == "" {
			t.lacks = "Say why it was wrong; then enter what is right at the bedside."
			safe.FocusSoon("back-why-" + id)
			return
		}
		c.halfTyped(half, "")
		t.open, t.lacks = false, ""
		c.act(c.writer.Retract("", []ledger.EventID{t.Event}, why, ""))
		safe.FocusSoon("account-title")
	}
	return app.Div().Class("answer-form").Role("group").Aria("label", "Take back: "+t.Words).Body(
		app.Label().For("back-why-"+id).Text("Why was it wrong? It stays on record and no longer counts."),
		c.halfEntry("back-why-"+id, half, 300, t.lacks != "", save),
		alert(t.lacks),
		app.Div().Class("actions").Body(safe.Button{ID: "back-yes-" + id, Class: "main", Words: "Take it back", Press: save}.UI(),
			safe.Button{ID: "back-no-" + id, Class: "quiet", Words: "Leave it", Press: func(app.Context) {
				t.open = false
				c.halfTyped(half, "")
				safe.FocusSoon("back-" + id)
			}}.UI()))
}

// found are the lines that hold all the words, in the order that is wanted.
func (a *accountPane) found() []saidLine {
	rec := a.S.child.rec
	if a.said == nil || a.of != rec.Version() {
		a.said, a.of = accountOf(rec), rec.Version()
		a.choices = accountChoices(a.said)
	}
	words := strings.Fields(strings.ToLower(a.words))
	var out []saidLine
	for _, l := range a.said {
		fits := true
		for i, only := range a.only {
			fits = fits && (only == "" || only == l.keys[i] || strings.HasSuffix(only, ".") && strings.HasPrefix(l.keys[i], only))
		}
		if fits && !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(l.plain, w) }) {
			out = append(out, l)
		}
	}
	if !a.oldest {
		slices.Reverse(out)
	}
	return out
}

// accountOf is the account of a record, oldest first.
func accountOf(rec *ledger.Record) []saidLine {
	names := map[ledger.NoteID]string{"": "about the child"}
	for _, v := range rec.Notes() {
		names[v.ID] = noteName(rec, v)
	}
	var out []saidLine
	tree, at := rec.Child(), map[ledger.EventID]int{}
	for _, s := range rec.Account() {
		where, ok := names[s.Note]
		if !ok {
			where = "a note that was taken back"
		}
		l := saidLine{Said: s, where: where, keys: [4]string{string(s.Item), "", s.Author.String(), accountKind(s.Kind)}}
		l.names = l.keys
		if v, ok := rec.Item(s.Item); ok {
			l.names[0], l.of = "Tag "+itoa(v.Tag), names[v.Note]
			if v.Note == "" {
				l.of = "listed at the bed, " + v.Happened.Date().Shown()
			}
			if it, ok := tree.Item(string(s.Item)); ok {
				l.names[0] += ", " + itemName(it)
			}
		} else if s.Item != "" {
			l.names[0] = "Something not listed"
		}
		if f := tree.FieldAt(s.Path); f != nil && s.Path != "" {
			l.keys[1], l.names[1] = string(f.Path), f.Title
			if d := schema.SectionNamed(s.Path.Section()); d != nil {
				l.names[1] = d.Title + ": " + f.Title
			} else if k := schema.ItemKindNamed(f.Section); k != nil {
				l.names[1] = k.Title + ": " + f.Title
			}
		}
		l.plain = strings.ToLower(strings.Join([]string{s.Words, s.Author.String(), s.Happened.Shown(), where, l.names[0]}, " "))
		at[s.Event] = len(out)
		if s.Retracted {
			l.back = "Taken back: it no longer counts."
		}
		if by := s.First.Author; by.Name != "" {
			l.Words += " Entered on another child first, by " + by.String() + ", " + s.First.Entered.Shown() + "."
		}
		out = append(out, l)
	}
	for _, l := range out {
		for _, id := range l.Undoes {
			if i, ok := at[id]; ok && out[i].Retracted {
				out[i].to, out[i].back = l.MovedTo, "Taken back: it no longer counts. "+l.Author.String()+", "+l.Happened.Shown()+": "+l.Words
			}
		}
	}
	return out
}

// accountChoices lists what each filter can be set to: items in the order they were
// listed, the others by their words; whole sections before their fields.
func accountChoices(said []saidLine) (out [4][]safe.Option) {
	for i := range out {
		seen := map[string]bool{"": true}
		for _, l := range said {
			section, _, _ := strings.Cut(l.keys[i], ".")
			if d := schema.SectionNamed(section); i == 1 && d != nil && !seen[section+"."] {
				seen[section+"."] = true
				out[i] = append(out[i], safe.Option{Value: section + ".", Words: d.Title + ": every field"})
			}
			if k := l.keys[i]; !seen[k] {
				seen[k] = true
				words := l.names[i]
				if i == 0 && l.of != "" {
					words += " (" + l.of + ")"
				}
				out[i] = append(out[i], safe.Option{Value: k, Words: words})
			}
		}
		if i > 0 {
			sorting.By(out[i], func(x, y safe.Option) int { return strings.Compare(x.Words, y.Words) })
		}
	}
	return out
}

// accountColumns heads the table that is saved.
var accountColumns = []string{"happened", "entered", "who", "about", "kind", "item", "field", "words", "takenBack", "event", "record"}

func (l *saidLine) cells() []string {
	return []string{l.Happened.String(), l.Entered.String(), l.Author.String(), l.where, l.Kind, l.names[0], string(l.Path), l.Words, l.back, string(l.Event), string(l.Case)}
}

// save saves what is shown, the oldest first.
func (a *accountPane) save(ending, media string, written func([]saidLine) []byte) {
	found := a.found()
	if !a.oldest {
		slices.Reverse(found)
	}
	safe.Save("fairlead-account-"+string(a.Case)+"."+ending, media, written(found))
}

// accountTable is the lines as CSV (RFC 4180). A cell that a spreadsheet would take
// for a formula gets an apostrophe in front.
func accountTable(said []saidLine) []byte {
	var b strings.Builder
	row := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				b.WriteByte(',')
			}
			if c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
				c = "'" + c
			}
			b.WriteByte('"')
			b.WriteString(strings.ReplaceAll(c, "\"", "\"\""))
			b.WriteByte('"')
		}
		b.WriteString("\r\n")
	}
	row(accountColumns)
	for i := range said {
		row(said[i].cells())
	}
	return []byte(b.String())
}

// accountData is the lines as JSON: an array of objects of text.
func accountData(said []saidLine) []byte {
	all := []map[string]string{}
	for i := range said {
		row := map[string]string{}
		for j, c := range said[i].cells() {
			row[accountColumns[j]] = c
		}
		all = append(all, row)
	}
	out, err := json.MarshalIndent(all, "", "  ")
	if err != nil {
		panic(err) // text: it cannot fail
	}
	return append(out, '\n')
}
