package ui

import (
	"cmp"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/typed"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// aboutNames are the attributes that are asked of what was put in at the bed, as far
// as its kind has them: what it is, how wide and deep, how many, where it comes out, when it went in.
var aboutNames = []string{"variety", "side", "site", "exit", "size", "gauge", "french", "count", "lumenCount", "depth", "mark", "tip", "placed", "removalPlan"}

// aboutForm takes what is known of a thing that stands in the register alone, such as
// what was put in at the bed: no note lists it, so none can be opened for it. At a check it
// takes what is not recorded of a thing of the note.
type aboutForm struct {
	app.Compo
	S       *Session
	Item    schema.Item
	Note    ledger.NoteID   // "" for the register
	Fields  []*schema.Field // which; none: those of aboutNames
	Version int
	Locked  bool

	wrong map[string]string
}

func (f *aboutForm) CompoID() string { return "about-" + f.Item.ID }

func (f *aboutForm) Render() app.UI { return safe.Drawn("about", f.draw) }

func (f *aboutForm) key(name string) string { return "about-" + f.Item.ID + "-" + name }

func (f *aboutForm) fields() (out []*schema.Field) {
	if len(f.Fields) > 0 {
		return f.Fields
	}
	if k := schema.ItemKindNamed(f.Item.Kind); k != nil {
		for _, name := range aboutNames {
			if def := k.Field(name); def != nil && f.Item.Note().Relevant(def, f.Item.ID) {
				out = append(out, def)
			}
		}
	}
	return out
}

func (f *aboutForm) draw() app.UI {
	c := f.S.child
	if c == nil {
		return app.Div()
	}
	title, save := "What it is, its size and where it comes out", "Record what it is"
	if len(f.Fields) > 0 {
		title, save = "Not recorded: look, and enter it", "Record it"
	}
	body := []app.UI{app.H2().ID(f.key("title")).TabIndex(-1).Text(title)}
	for _, def := range f.fields() {
		id, now := f.key(def.Name), c.half[f.key(def.Name)]
		label := def.Title
		if u := schema.UnitShown(def.Unit); u != "" {
			label += ", " + u
		}
		body = append(body, app.Label().For(id).Text(label))
		at := f.Item.Path(def.Name)
		if len(def.Enum) > 0 {
			var options []safe.Option
			for _, v := range def.Enum {
				options = append(options, safe.Option{Value: v, Words: def.Label(v)})
			}
			if now == "" {
				now = f.Item.Text(def.Name)
			}
			body = append(body, safe.Select{ID: id, Value: now, Empty: schema.NotRecorded, Options: options, Locked: f.Locked, Change: func(_ app.Context, v string) { c.halfTyped(f.key(def.Name), v) }}.UI())
			continue
		}
		keys := "decimal"
		if def.Type == "string" {
			keys = "text"
		}
		if now == "" && f.Item.Note().Answered(at) {
			now = schema.Show(def, f.Item.Note(), at)
			if keys == "decimal" {
				now = f.Item.Note().Decimal(at)
			}
		}
		body = append(body, safe.Entry{ID: id, Value: now, Keys: keys, Max: 200, Wrong: f.wrong[def.Name] != "", Told: id + "-wrong", Type: func(_ app.Context, t string) { c.halfTyped(f.key(def.Name), t) }}.UI(),
			app.P().ID(id+"-wrong").Class("wrong").Text(f.wrong[def.Name]))
		if def.Format == "moment" {
			body = append(body, app.P().Class("aside").Role("status").Text(f.S.understood(strings.TrimSpace(c.half[f.key(def.Name)]))))
		}
	}
	return app.Div().Class("answer-form").Role("group").Aria("labelledby", f.key("title")).Body(append(body,
		safe.Button{ID: f.key("save"), Class: "main", Words: save, Off: f.Locked, Press: func(app.Context) { f.save() }}.UI())...)
}

// save records what was entered; a figure that cannot be read keeps its place, and
// nothing is recorded until it can.
func (f *aboutForm) save() {
	c := f.S.child
	f.wrong = map[string]string{}
	entries := map[string]ledger.Entry{}
	for _, def := range f.fields() {
		text := strings.TrimSpace(c.half[f.key(def.Name)])
		if text == "" {
			continue
		}
		e, wrong := ledger.Entry{Value: text, Origin: ledger.Origin{How: ledger.HowPick}}, ""
		switch {
		case len(def.Enum) > 0:
		case def.Format == "moment":
			var at schema.Moment
			at, _, wrong = f.S.moment(text)
			e.Value, e.Origin.How = at.String(), ledger.HowTyped
		case def.Type == "string":
			e.Origin.How = ledger.HowTyped
		default:
			var n typed.Amount
			n, wrong = typed.Number(text, f.Item.Note().VariantAt(def, f.Item.ID))
			e = ledger.Entry{Value: n.Decimal, Bound: n.Bound, Unit: def.Unit, Origin: ledger.Origin{How: ledger.HowTyped}}
		}
		if wrong != "" {
			if f.wrong[def.Name] = wrong; len(f.wrong) == 1 {
				safe.FocusSoon(f.key(def.Name))
			}
		}
		entries[def.Name] = e
	}
	if len(f.wrong) > 0 {
		return
	}
	w := c.writer.Together()
	var events []ledger.Event
	for _, def := range f.fields() {
		if e, ok := entries[def.Name]; ok {
			events = append(events, w.Set(c.rec, f.Note, f.Item.Path(def.Name), e))
		}
	}
	if len(events) == 0 {
		return
	}
	for _, def := range f.fields() {
		c.halfTyped(f.key(def.Name), "")
	}
	c.act(events...)
	safe.FocusSoon(map[bool]string{true: "more-", false: "found-"}[f.Note == ""] + f.Item.ID)
}

// bedsideMap draws what is in the child now, by the register: not what a note once
// listed. What was lost or moved since it was placed is said under the map.
func (p *bedsidePane) bedsideMap(r *lines.Register, n *schema.Note) app.UI {
	var in []schema.Item
	var lost, moved []string
	for _, it := range r.Items {
		switch {
		case !it.View.AtBedside() || it.Implant:
		case it.View.Where == ledger.Lost:
			lost = append(lost, itoa(it.Tag))
		default:
			in = append(in, it.Item)
			if to := it.MovedTo(); to != "" {
				moved = append(moved, itoa(it.Tag)+" ("+to+")")
			}
		}
	}
	var under []string
	if len(moved) > 0 {
		under = append(under, "Moved since it was placed, and drawn where it was: tag "+strings.Join(moved, ", ")+".")
	}
	if len(lost) > 0 {
		under = append(under, "On record as lost, not drawn: tags "+strings.Join(lost, ", ")+".")
	}
	return p.S.mapOf(n, in, p.Place, under)
}

// cameOut lists what came out since the day of the latest operation, the latest first, so that what was
// recorded by mistake is found again and can be taken back.
func (p *bedsidePane) cameOut(r *lines.Register) app.UI {
	c := p.S.child
	var gone []ledger.ItemView
	var from schema.Date
	if n := c.rec.Note(r.Note); n != nil {
		from = schema.Date(n.Text(schema.OperationDate))
	}
	for _, v := range c.rec.Items() {
		if !v.Withdrawn && !v.Where.In() && v.Since.Date() >= from {
			gone = append(gone, v)
		}
	}
	if len(gone) == 0 {
		return nil
	}
	sorting.By(gone, func(a, b ledger.ItemView) int { return cmp.Compare(b.Since.Instant().Unix(), a.Since.Instant().Unix()) })
	var rows []app.UI
	for _, v := range gone[:min(len(gone), 12)] {
		name := "Something"
		if it, ok := c.rec.Child().Item(string(v.ID)); ok {
			name = lines.FullName(it)
		}
		words := "See, or take it back"
		if v.Where == ledger.Exchanged {
			words = "See what was entered"
		}
		rows = append(rows, app.Li().Body(app.Span().Class("flag").Text(safe.Int(v.Tag)), app.Span().Text(name+": "+string(v.Where)+", "+v.SinceWords()),
			safe.Button{ID: "gone-" + string(v.ID), Class: "quiet", Words: words, Name: words + ": tag " + itoa(v.Tag) + ", " + name, Press: func(app.Context) { p.S.readAccount(string(v.ID), "") }}.UI()))
	}
	head := "Came out"
	if len(gone) > len(rows) {
		head += ", the last " + itoa(len(rows)) + " of " + itoa(len(gone))
	}
	return app.Div().Class("page").Body(app.H2().Text(head), app.Ul().Class("in-child").ID("bedside-gone").Body(rows...))
}

// listFound takes what was found and not listed onto the list, at once or under the
// kind that is chosen: only what is listed is looked for again.
func (p *bedsidePane) listFound(note ledger.NoteID, item ledger.ItemID) app.UI {
	return listAs(string(item), "List it as…", p.Locked, func(kind string) { p.list(note, item, kind) })
}

// listNew lists what was put in since the note: in the register alone, so that the note,
// and the checks of it, stay as they were signed.
func (p *bedsidePane) listNew() app.UI {
	return listAs("new", "Something new was put in…", p.Locked, func(kind string) {
		if c := p.S.child; c != nil {
			p.list("", c.writer.NewItem(), kind)
		}
	})
}

// list lists something, and goes to where it is said what it is.
func (p *bedsidePane) list(note ledger.NoteID, item ledger.ItemID, kind string) {
	c := p.S.child
	if c == nil {
		return
	}
	tag := c.rec.NextTag()
	p.record("Listed: tag "+itoa(tag)+". Put that tag on it, and enter what it is.", c.listFound(note, item, kind, tag)...)
	if note != "" {
		p.S.goTo(Place{Screen: "items", Case: p.Place.Case, Note: note, Part: string(item)})
	} else {
		p.S.goToAt(p.Place.With("bedside", string(item)), "about-"+string(item)+"-title")
	}
}

// listFound lists what a check found, with what was said of it then as its remark.
func (c *Child) listFound(note ledger.NoteID, item ledger.ItemID, kind string, tag int) []ledger.Event {
	w := c.writer.Together()
	events := []ledger.Event{w.ListItem(note, item, kind, tag)}
	for _, o := range []ledger.Occasion{ledger.Arrival, ledger.Leaving} {
		for _, n := range c.rec.Notes() {
			if x, ok := c.rec.Check(n.ID, o, item); ok && x.Note != "" {
				remark := ledger.Entry{Value: x.Note, Origin: ledger.Origin{How: ledger.HowCopied, Words: "what the check found"}}
				return append(events, w.Set(c.rec, note, schema.ItemPath(string(item), "remark"), remark))
			}
		}
	}
	return events
}

// listAs chooses under which kind something found, or put in, is listed.
func listAs(item, words string, locked bool, list func(kind string)) app.UI {
	var options []safe.Option
	for _, k := range schema.ItemKinds() {
		options = append(options, safe.Option{Value: k.Name, Words: k.Title})
	}
	return safe.Select{ID: "list-as-" + item, Empty: words, Name: strings.TrimSuffix(words, "…"), Options: options, Locked: locked, Change: func(_ app.Context, kind string) {
		if kind != "" {
			list(kind)
		}
	}}.UI()
}
