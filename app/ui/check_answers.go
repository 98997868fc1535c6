package ui

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/typed"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// otherAnswer are the answers beside "found as listed".
type otherAnswer struct {
	app.Compo
	Pane  *checkPane
	Entry lines.Entry
	Key   string

	begun bool
	differing
	lacks string
}

// differing is what is half said in it. It is a draft like all that is half typed:
// kept with every key, and there again when another row was open or the tablet died.
type differing struct {
	Mode  string              `json:"mode,omitempty"`  // "", "differs", "unseen", "inside"
	Field string              `json:"field,omitempty"` // the attribute that differs
	Value string              `json:"value,omitempty"`
	Found []ledger.Difference `json:"found,omitempty"`
	By    schema.Moment       `json:"by,omitzero"`
	Count string              `json:"count,omitempty"`
	Asked ledger.Difference   `json:"asked,omitzero"` // the unusual figure that was asked about last
	Ends  bool                `json:"ends,omitempty"` // that it is right records the answer
}

// halfDiffers names what is half said of an item in a check.
func (c *checkPane) halfDiffers(item string) string { return c.half("differs-" + item) }

// halfSaid tells whether something is: no answer was given yet.
func (c *checkPane) halfSaid(item string) bool {
	return c.S.child.half[c.halfDiffers(item)] != "" || c.S.child.half[c.half("unseen-"+item)] != ""
}

func (a *otherAnswer) CompoID() string { return "answers-" + a.Key }

func (a *otherAnswer) Render() app.UI { return safe.Drawn("answers", a.draw) }

// keep keeps what is half said.
func (a *otherAnswer) keep() {
	d := a.differing
	if d.Mode == "" || d.Field+d.Value+d.Count == "" && len(d.Found) == 0 && d.By.IsZero() {
		a.Pane.S.child.halfTyped(a.Pane.halfDiffers(a.Key), "")
		return
	}
	if text, err := json.Marshal(d); err == nil {
		a.Pane.S.child.halfTyped(a.Pane.halfDiffers(a.Key), string(text))
	}
}

// typedDifference tells whether a difference is half entered: another answer would
// drop it.
func (a *otherAnswer) typedDifference() bool {
	if strings.TrimSpace(a.Value) == "" && len(a.Found) == 0 {
		return false
	}
	a.lacks = "A difference is half entered here. Record it, or leave it out, first."
	return true
}

func (a *otherAnswer) draw() app.UI {
	if a.Pane.S.child == nil {
		return app.Div()
	}
	e := a.Entry
	if !a.begun {
		a.begun = true
		if text := a.Pane.S.child.half[a.Pane.halfDiffers(a.Key)]; text != "" {
			if json.Unmarshal([]byte(text), &a.differing) != nil {
				a.Mode, a.Field, a.Value = "differs", lines.FieldOther, text // what cannot be read is shown as it is
			}
		} else if a.Pane.S.child.half[a.Pane.half("unseen-"+a.Key)] != "" {
			a.Mode = "unseen"
		} else if e.Counted && !e.Answered {
			a.Mode = "inside"
		}
	}
	pick := func(mode, words string) app.UI {
		return safe.Button{ID: mode + "-" + a.Key, Class: "pick", Words: words, Toggle: true, On: a.Mode == mode, Press: func(app.Context) {
			if mode != "differs" && a.typedDifference() {
				return
			}
			a.Mode, a.lacks = mode, ""
			a.keep()
		}}.UI()
	}
	give := func(v ledger.CheckView) func(app.Context) {
		return func(app.Context) {
			if !a.typedDifference() {
				a.give(v)
			}
		}
	}
	body := []app.UI{app.Div().Class("ticks").Body(
		app.If(!e.Counted, func() app.UI {
			return safe.Button{ID: "as-listed-" + a.Key, Class: "pick", Words: e.FoundWords(), Press: give(e.Found())}.UI()
		}),
		pick("differs", "Found, but differs"),
		safe.Button{ID: "not-found-" + a.Key, Class: "pick", Words: "Not found", Press: give(e.NotFound())}.UI(),
		pick("unseen", "Cannot see now"),
		pick("inside", "Inside: accounted for"),
		app.If(e.Answered, func() app.UI {
			return safe.Button{ID: "no-answer-" + a.Key, Class: "pick", Words: "Take the answer back", Press: give(ledger.CheckView{Item: ledger.ItemID(e.Item.ID), Occasion: e.Occasion, Answer: ledger.NoAnswer})}.UI()
		}))}
	switch a.Mode {
	case "differs":
		body = append(body, a.differs()...)
	case "unseen":
		body = append(body, a.unseen()...)
	case "inside":
		if e.Counted {
			body = append(body, app.Label().For("count-"+a.Key).Text("How many are in, as counted?"),
				safe.Entry{ID: "count-" + a.Key, Value: a.Count, Keys: "numeric", Max: 20, Wrong: a.lacks != "", Type: func(_ app.Context, t string) { a.Count = t; a.keep() }}.UI())
		}
		for _, how := range []string{"by count", "by X-ray", "by count and X-ray"} {
			body = append(body, safe.Button{ID: strings.ReplaceAll(how, " ", "-") + "-" + a.Key, Class: "pick", Words: upperFirst(how), Press: func(app.Context) { a.inside(how) }}.UI())
		}
	}
	body = append(body, alert(a.lacks))
	if lack, _ := lines.Unrecorded(e.Item, e.Occasion); lack != nil {
		body = append(body, &aboutForm{S: a.Pane.S, Item: e.Item, Note: a.Pane.Note, Fields: lack, Version: a.Pane.S.child.rec.Version(), Locked: a.Pane.Locked})
	}
	return app.Div().ID("answers-"+a.Key).Class("answer-form").Role("group").Aria("label", "Answers for "+e.Name).Body(body...)
}

// give records the answer; what was half said is spent.
func (a *otherAnswer) give(v ledger.CheckView) {
	if a.Pane.Locked {
		return
	}
	a.differing, a.lacks = differing{}, ""
	a.keep()
	a.Pane.S.child.halfTyped(a.Pane.half("unseen-"+a.Key), "")
	a.Pane.give(v)
}

// inside records that it lies inside: of what is counted, with how many there are.
func (a *otherAnswer) inside(how string) {
	if !a.Entry.Counted {
		a.give(a.Entry.InsideNow(how))
		return
	}
	n, wrong := typed.Number(a.Count, &schema.Field{Type: "integer"})
	if k := schema.ItemKindNamed(a.Entry.Item.Kind); strings.TrimSpace(a.Count) == "" {
		wrong = "Say how many are in."
	} else if f := k.Field("count"); wrong == "" && n.Bound+wrong == "" && f != nil {
		if x, err := strconv.Atoi(string(n.Decimal)); err != nil || x < 1 || f.Max != nil && float64(x) > *f.Max {
			wrong = "“" + clipped(a.Count, 20) + "” cannot be how many are in. If there are none, answer Not found."
		}
	}
	if n.Bound != "" {
		wrong = "Say how many are in, as one number."
	}
	if a.lacks = wrong; wrong != "" {
		safe.FocusSoon("count-" + a.Key)
		return
	}
	a.give(a.Entry.InsideCounted(how, string(n.Decimal)))
}

// differs takes what differs: the attribute, and how it is at the bed.
func (a *otherAnswer) differs() []app.UI {
	var fields []app.UI
	var at lines.Differing
	for _, d := range lines.Differences(a.Entry.Item) {
		if d.Field == a.Field {
			at = d
		}
		fields = append(fields, safe.Button{ID: "differs-" + d.Field + "-" + a.Key, Class: "pick", Words: d.Title, Toggle: true, On: a.Field == d.Field,
			Press: func(app.Context) {
				if strings.TrimSpace(a.Value) != "" && a.Field != d.Field {
					a.lacks = "Add “" + clipped(a.Value, 40) + "” first, or empty its box."
					return
				}
				a.Field = d.Field
				a.keep()
			}}.UI())
	}
	body := []app.UI{app.P().Text("What differs from the sheet?"), app.Div().Class("ticks").Body(fields...)}
	for i, d := range a.Found {
		words := upperFirst(lines.DifferenceWords(d))
		body = append(body, app.P().Text("· "+words+" "), safe.Button{ID: "differs-off-" + safe.Int(i) + "-" + a.Key, Class: "quiet", Words: "Take this one back", Name: "Take this one back: " + words, Press: func(app.Context) {
			a.Found = slices.Delete(slices.Clone(a.Found), i, i+1)
			a.keep()
		}}.UI())
	}
	take := func(value string, ends bool) bool {
		a.Ends = ends
		value, wrong := bedsideValue(a.Entry.Item, at.Field, value)
		if a.lacks = wrong; wrong != "" {
			safe.FocusSoon("differs-value-" + a.Key)
			return false
		}
		if !a.usual(ledger.Difference{Field: at.Field, Bedside: value}) {
			return false
		}
		a.Found = append(a.Found, ledger.Difference{Field: at.Field, Sheet: at.Sheet, Bedside: value})
		a.Field, a.Value = "", ""
		a.keep()
		return true
	}
	if at.Field != "" {
		sheet := ""
		if at.Sheet != "" {
			sheet = " The sheet says: " + at.Sheet + "."
		}
		unit := ""
		if def := figureAt(a.Entry.Item, at.Field); def != nil && def.Unit != "" {
			unit = " (" + schema.UnitShown(def.Unit) + ")"
		}
		body = append(body, app.Label().For("differs-value-"+a.Key).Text(at.Title+unit+" at the bed?"+sheet))
		var picks []app.UI
		for i, p := range at.Picks {
			picks = append(picks, safe.Button{ID: "differs-pick-" + safe.Int(i) + "-" + a.Key, Class: "pick", Words: p, Press: func(app.Context) { take(p, false) }}.UI())
		}
		body = append(body, app.Div().Class("ticks").Body(picks...),
			safe.Entry{ID: "differs-value-" + a.Key, Value: a.Value, Max: 120, Wrong: a.lacks != "", Type: func(ctx app.Context, t string) { a.Value = t; a.keep() }, Enter: func(app.Context) { take(a.Value, false) }}.UI())
		body = append(body, a.askSure()...)
	}
	return append(body, app.Div().Class("actions").Body(
		safe.Button{ID: "differs-save-" + a.Key, Class: "main", Words: "Record the difference", Press: func(app.Context) {
			if at.Field != "" && (strings.TrimSpace(a.Value) != "" || len(a.Found) == 0) && !take(a.Value, true) {
				return
			}
			if len(a.Found) == 0 {
				a.lacks = "Choose what differs, and say how it is at the bed."
				return
			}
			a.give(a.unusual(a.Entry.Differs(a.Found...)))
		}}.UI(),
		safe.Button{ID: "differs-drop-" + a.Key, Class: "quiet", Words: "No difference after all", Name: "No difference after all: " + a.Entry.Name, Press: func(app.Context) {
			a.differing, a.lacks = differing{}, ""
			a.keep()
		}}.UI()))
}

// figureAt is the definition of an attribute that is a number; nil for any other.
func figureAt(it schema.Item, field string) *schema.Field {
	k := schema.ItemKindNamed(it.Kind)
	if k == nil || k.Field(field) == nil {
		return nil
	}
	def := it.Note().VariantAt(k.Field(field), it.ID)
	if def.Type != "number" && def.Type != "integer" {
		return nil
	}
	return def
}

// bedsideValue is a value as it stands at the bed, in words: a figure with its unit,
// judged as the note judges it.
func bedsideValue(it schema.Item, field, text string) (words, wrong string) {
	text = strings.TrimSpace(text)
	if text == "" {
		return "", "Say how it is at the bed."
	}
	def := figureAt(it, field)
	if def == nil {
		return text, ""
	}
	n, wrong := typed.Number(text, def)
	if wrong != "" {
		return "", wrong
	}
	if d, bad := figureDoubt("", it, field, string(n.Decimal)); bad && !d.Ask {
		return "", d.Words()
	}
	return strings.TrimSpace(n.Bound + string(n.Decimal) + " " + schema.UnitShown(def.Unit)), ""
}

// unseen takes why it cannot be seen now, and when somebody looks again.
func (a *otherAnswer) unseen() []app.UI {
	now, c, why := a.Pane.S.now(), a.Pane.S.child, a.Pane.half("unseen-"+a.Key)
	var picks []app.UI
	for _, after := range []struct {
		d time.Duration
		w string
	}{{15 * time.Minute, "15 minutes"}, {30 * time.Minute, "30 minutes"}, {time.Hour, "1 hour"}, {2 * time.Hour, "2 hours"}} {
		picks = append(picks, safe.Button{ID: "again-" + strings.ReplaceAll(after.w, " ", "-") + "-" + a.Key, Class: "pick", Words: "In " + after.w, Toggle: true, On: !a.By.IsZero() && a.By.Sub(now).Round(time.Minute) == after.d,
			Press: func(app.Context) { a.By = now.Add(after.d); a.keep() }}.UI())
	}
	by := "Look again by when?"
	if !a.By.IsZero() {
		by = "Look again by " + a.By.Shown() + "."
	}
	return []app.UI{
		app.Label().For("unseen-why-" + a.Key).Text("Why can it not be seen now?"),
		c.halfEntry("unseen-why-"+a.Key, why, 200, false, nil),
		app.P().Text(by), app.Div().Class("ticks").Body(picks...),
		safe.Button{ID: "unseen-save-" + a.Key, Class: "main", Words: "Cannot see it now", Press: func(app.Context) {
			if a.lacks = ""; a.By.IsZero() || a.By.Before(a.Pane.S.now()) {
				a.lacks = "Say by when somebody looks again."
				safe.FocusSoon("again-15-minutes-" + a.Key)
			}
			if strings.TrimSpace(c.half[why]) == "" {
				a.lacks = strings.TrimSpace("Say why it cannot be seen now. " + a.lacks)
				safe.FocusSoon("unseen-why-" + a.Key)
			}
			if a.lacks == "" {
				a.give(a.Entry.CannotSee(strings.TrimSpace(c.half[why]), a.By))
			}
		}}.UI(),
	}
}

// settleForm takes how a difference was settled, or the name that signs for it. Of
// what was not found it takes what became of it; of what differs it offers what
// stands at the bed to the list.
type settleForm struct {
	app.Compo
	Pane   *checkPane
	Check  ledger.EventID
	Name   string
	Item   schema.Item // none for what is not listed
	Answer ledger.CheckView

	lacks string
	bed   bedsidePane // takes it out: with the bedside's own form, conditions and questions
}

// What can have become of a thing that was not found.
var notFoundFates = [][2]string{{"never", "It was never put in"}, {"out", "It came out"}, {"lost", "It cannot be found"}}

func (f *settleForm) CompoID() string { return "settle-" + string(f.Check) }

func (f *settleForm) Render() app.UI { return safe.Drawn("settle", f.draw) }

func (f *settleForm) draw() app.UI {
	id, c := string(f.Check), f.Pane.S.child
	if c == nil {
		return app.Div()
	}
	if f.Answer.Several {
		return app.P().Class("said", "wrong").Text("Two people answered differently. Look again, and press Change to give the answer that holds.")
	}
	how, by, fate := "settle-how-"+id, "settle-by-"+id, "settle-fate-"+id
	var first []app.UI
	if f.Answer.Answer == ledger.NotFound {
		first = []app.UI{c.halfPicks("fate-", "-"+id, fate, "What became of it? (If it is there, press Change.)", notFoundFates)}
	}
	if f.bed.act == "-" { // left
		f.bed.act = ""
		c.halfTyped(fate, "")
	}
	if c.half[fate] == "out" { // what is said here settles it
		if it, in := c.register().Item(ledger.ItemID(f.Item.ID)); in && it.View.AtBedside() {
			f.bed.S, f.bed.Place, f.bed.ends, f.bed.then = f.Pane.S, Place{Screen: "bedside", Case: c.id}, fate, "tally"
			return app.Div().Class("answer-form").Body(append(first, f.bed.form(takeOut(), it))...)
		}
	}
	for _, d := range f.Answer.Differs {
		if _, ok := takenUp(f.Item, d); !ok {
			continue
		}
		key := "settle-take-" + d.Field + "-" + id
		first = append(first, c.halfPicks("take-", "-"+d.Field+"-"+id, key, upperFirst(lines.AttributeName(d.Field))+": what is the list to say from now on?",
			[][2]string{{"yes", orNot(d.Bedside) + ", as found"}, {"no", orNot(d.Sheet) + ", as it is"}}))
	}
	return app.Div().Class("answer-form").Role("group").Aria("label", "Settle the difference: "+f.Name).Body(append(first,
		app.Label().For(how).Text("What was done about it?"),
		c.halfEntry(how, how, 300, f.lacks != "", func(app.Context) { f.save() }),
		app.Label().For(by).Text("Who answers for it, if not you?"),
		c.halfEntry(by, by, 80, false, func(app.Context) { f.save() }),
		alert(f.lacks),
		safe.Button{ID: "settle-save-" + id, Class: "main", Words: "Settled, signed for", Off: f.Pane.Locked, Press: func(app.Context) { f.save() }}.UI())...)
}

// save settles it, and does to the list what was said: nothing that was not found
// stays listed as in because it was settled.
func (f *settleForm) save() {
	id, c := string(f.Check), f.Pane.S.child
	how, by, fate := strings.TrimSpace(c.half["settle-how-"+id]), strings.TrimSpace(c.half["settle-by-"+id]), c.half["settle-fate-"+id]
	f.lacks = ""
	lack := func(is bool, words, at string) {
		if is && f.lacks == "" {
			safe.FocusSoon(at + id)
		}
		if is {
			f.lacks = strings.TrimSpace(f.lacks + " " + words)
		}
	}
	lack(f.Answer.Answer == ledger.NotFound && fate == "", "Say what became of it.", "fate-never-")
	for _, d := range f.Answer.Differs {
		_, ok := takenUp(f.Item, d)
		lack(ok && c.half["settle-take-"+d.Field+"-"+id] == "", "Say what the list is to say.", "take-yes-"+d.Field+"-")
	}
	lack(how == "", "Say what was done about the difference.", "settle-how-")
	if f.lacks != "" {
		return
	}
	item := ledger.ItemID(f.Item.ID)
	said := how
	if by != "" {
		said += " (" + by + ")"
	}
	c.act(c.writer.Settle(f.Pane.Note, f.Check, how, by))
	switch fate {
	case "never":
		c.act(c.writer.WithdrawItem(c.rec, item, said))
	case "lost":
		c.act(c.writer.Happen(ledger.KindLost, item, ledger.RegisterFacts{Note: said}))
	}
	o := c.open(f.Pane.Note)
	for _, d := range f.Answer.Differs {
		if e, ok := takenUp(f.Item, d); ok && c.half["settle-take-"+d.Field+"-"+id] == "yes" {
			o.set(schema.ItemPath(f.Item.ID, d.Field), e)
			if exit := exitOn(f.Item, d.Field, e.Value); exit != "" {
				o.set(schema.ItemPath(f.Item.ID, "exit"), ledger.Entry{Value: exit, Origin: e.Origin})
			}
			o.renew()
		}
		c.halfTyped("settle-take-"+d.Field+"-"+id, "")
	}
	for _, name := range []string{"how", "by", "fate"} {
		c.halfTyped("settle-"+name+"-"+id, "")
	}
	f.lacks, f.Pane.Version = "", c.rec.Version()
}

// takenUp is what stands at the bed as an entry of the item; ok is false where its
// attribute cannot hold it.
func takenUp(it schema.Item, d ledger.Difference) (e ledger.Entry, ok bool) {
	e = ledger.Entry{Value: d.Bedside, Origin: ledger.Origin{How: ledger.HowTyped}}
	if def := figureAt(it, d.Field); def != nil {
		n, wrong := typed.Number(d.Bedside, def)
		if bad, doubted := figureDoubt("", it, d.Field, string(n.Decimal)); doubted && !bad.Ask {
			return e, false // recorded before it was refused
		}
		e.Value, e.Bound, e.Unit = n.Decimal, n.Bound, def.Unit
		return e, wrong == ""
	}
	k := schema.ItemKindNamed(it.Kind)
	if k == nil || k.Field(d.Field) == nil {
		return e, false
	}
	f := k.Field(d.Field)
	for _, v := range f.Enum {
		if f.Label(v) == d.Bedside {
			e.Value, e.Origin.How = v, ledger.HowPick
			return e, true
		}
	}
	return e, f.Type == "string" && len(f.Enum) == 0 && (f.Format == "" || f.Format == "text") && (f.MaxLen == 0 || len(d.Bedside) <= f.MaxLen)
}

// exitOn is where an item comes out once its side is put right: the same place on the
// other side, or "" where that does not follow.
func exitOn(it schema.Item, field string, side any) string {
	was := it.Text("exit")
	for _, pair := range [][2]string{{"right", "left"}, {"left", "right"}} {
		if rest, ok := strings.CutPrefix(was, pair[0]+"-"); ok && field == "side" && side == pair[1] {
			return pair[1] + "-" + rest
		}
	}
	return ""
}

// listExtra lists what was found under its kind, with a tag of its own.
type listExtra struct {
	app.Compo
	Pane *checkPane
	Item ledger.ItemID
}

func (l *listExtra) CompoID() string { return "list-" + string(l.Item) }

func (l *listExtra) Render() app.UI {
	return listAs(string(l.Item), "List it as…", l.Pane.Locked, func(kind string) {
		if c := l.Pane.S.child; c != nil {
			c.act(c.listFound(l.Pane.Note, l.Item, kind, c.rec.NextTag())...)
			l.Pane.S.goTo(l.Pane.Place.With("items", string(l.Item)))
		}
	})
}

// closing puts names under the tally: it must balance, or every difference be
// signed for, first.
func (c *checkPane) closing(ch lines.Check, again string) app.UI {
	var names []app.UI
	people := map[string]bool{}
	for _, cl := range ch.Closings {
		words := cl.Author.String() + ", " + cl.At.Shown()
		if cl.Changed {
			words += ": something changed after this name"
		} else {
			people[strings.ToLower(cl.Author.Name)] = true
		}
		names = append(names, app.Li().Text(words))
	}
	body := []app.UI{app.H2().Text("Names under the check")}
	if len(names) > 0 {
		body = append(body, app.Ul().Class("names").Body(names...))
	}
	if len(names) == 0 {
		body = append(body, c.S.child.signedThere(c.Note, func(kind string) bool { return kind == ledger.KindCheckClosed }))
	}
	switch {
	case !ch.Ready():
		var open []app.UI
		for _, x := range ch.Open() {
			open = append(open, c.Place.openItem(c.Occasion, x))
		}
		return app.Div().Class("closing").Body(append(body, app.P().Text("Before a name goes under it, every item needs an answer and every difference must be settled or signed for."),
			app.Ul().Class("open-items").Body(open...))...)
	case len(ch.Entries)+len(ch.Extras) == 0:
		return nil
	}
	if len(people) < 2 {
		body = append(body, app.P().Text("Two names are wanted: who hands over and who takes over. Names are typed and not authenticated."), &closeForm{Pane: c, Key: safe.Int(len(ch.Closings))})
	} else {
		words := "The tally balances and two names stand under it."
		if again != "" {
			words = "Two names stand under it. To be looked at still: " + again
		}
		body = append(body, app.P().Class("signed-words").Text(words))
	}
	return app.Div().Class("closing").Body(body...)
}

// openItem leads to the place in a check where something of it is answered or settled.
func (p Place) openItem(o ledger.Occasion, x lines.StillOpen) app.UI {
	return app.Li().Body(safe.Link{To: p.With("check", string(o)).Path() + "#check-" + string(x.Item), Words: x.Words}.UI())
}

// closeForm puts a name under the tally: one's own, or that of the person beside
// one, on the same tablet.
type closeForm struct {
	app.Compo
	Pane *checkPane
	Key  string

	name, role string
	chosen     bool // the role, by hand: the writer's own is only that of the writer's own name
	begun      bool
	lacks      string
}

func (f *closeForm) CompoID() string { return "close-" + f.Key }

func (f *closeForm) Render() app.UI {
	return safe.Drawn("close", func() app.UI {
		who, c := f.Pane.S.who, f.Pane.S.child
		if c == nil {
			return app.Div()
		}
		nameHalf, roleHalf := f.Pane.half("close-name"), f.Pane.half("close-role")
		if !f.begun {
			f.begun, f.name, f.role = true, orWords(c.half[nameHalf], who.Name), orWords(c.half[roleHalf], who.Role)
			f.chosen = c.half[roleHalf] != ""
		}
		var options []safe.Option
		for _, r := range roles {
			options = append(options, safe.Option{Value: r, Words: upperFirst(r)})
		}
		save := func(app.Context) {
			name := strings.Join(strings.Fields(f.name), " ")
			if name == "" || f.role == "" {
				f.lacks = "Enter a name and choose a role."
				safe.FocusSoon("close-name")
				return
			}
			for _, cl := range c.rec.Closings(f.Pane.Note, f.Pane.Occasion) {
				if !cl.Changed && strings.EqualFold(cl.Author.Name, name) {
					f.lacks = "This name stands there already: the second name is another person's."
					safe.FocusSoon("close-name")
					return
				}
			}
			c.act(c.writer.As(ledger.Author{Name: name, Role: f.role}).CloseCheck(c.rec, f.Pane.Note, f.Pane.Occasion))
			c.halfTyped(nameHalf, "")
			c.halfTyped(roleHalf, "")
			f.Pane.Version = c.rec.Version()
		}
		return app.Div().Class("answer-form").Role("group").Aria("label", "Put a name under the check").Body(
			app.Label().For("close-name").Text("Name"),
			safe.Entry{ID: "close-name", Value: f.name, Max: 80, Wrong: f.lacks != "", Type: func(ctx app.Context, t string) {
				f.name = t
				c.halfTyped(nameHalf, t)
				if !f.chosen && !strings.EqualFold(strings.TrimSpace(t), who.Name) {
					f.role = ""
				}
			}, Enter: save}.UI(),
			app.Label().For("close-role").Text("Role"),
			safe.Select{ID: "close-role", Value: f.role, Empty: "Choose…", Options: options, Change: func(ctx app.Context, v string) {
				f.role, f.chosen = v, true
				c.halfTyped(roleHalf, v)
			}}.UI(),
			alert(f.lacks),
			safe.Button{ID: "close-save", Class: "main", Words: "Put this name under the check", Off: f.Pane.Locked, Press: save}.UI())
	})
}
