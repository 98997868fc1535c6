package ui

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// toSettle is what must be put right about the list itself: one flag on two
// things, and what was found at the bed and is not listed.
func (p *itemsPane) toSettle(o *openNote) app.UI {
	rec := p.S.child.rec
	var body []app.UI
	twins := rec.Twins()
	var tags []int
	for t := range twins {
		tags = append(tags, t)
	}
	slices.Sort(tags)
	for _, t := range tags {
		body = append(body, app.P().Text("Tag "+itoa(t)+" stands on two things. Leave it on one; change the other here and on the child."))
		for _, id := range twins[t] {
			if it, ok := o.working.Item(string(id)); ok {
				body = append(body, safe.Button{ID: "twin-" + string(id), Words: "Tag " + itoa(rec.NextTag()) + " for the " + lowerFirst(lines.FullName(it)), Off: p.Locked,
					Press: func(app.Context) { p.do(p.S.child.writer.RetagItem(rec, id, rec.NextTag())) }}.UI())
			}
		}
	}
	for _, occasion := range []ledger.Occasion{ledger.Leaving, ledger.Arrival} {
		for _, x := range lines.CheckOf(rec, o.id, occasion).Extras {
			if _, ok := rec.Item(x.Item); !ok {
				body = append(body, app.P().Text("Found at the bed and not listed: "+orNot(x.Note)+" ("+x.Author.String()+", "+x.Happened.Shown()+")."),
					linkTo(p.Place.With("check", string(occasion)), "List it from the check", "button"))
			}
		}
	}
	if len(body) == 0 {
		return nil
	}
	return app.Div().Class("page", "to-settle").Role("group").Aria("label", "To put right in the list").Body(body...)
}

// absences are the fields that can say a thing was taken out or never put in.
var absences = []schema.Path{schema.AirwayThroatPack, schema.AirwayEchoProbe, schema.CountsPacksLeft, schema.ApproachRightPleura, schema.ApproachLeftPleura,
	schema.ApproachBarrier, schema.LeavingSupport, schema.MechanicalVent, schema.Stage3Leads, schema.Stage3Pocket}

// absent says of what kinds nothing is listed, and what the note says is not
// there, so that "none" is told from "not recorded".
func (p *itemsPane) absent(o *openNote) app.UI {
	listed := map[string]bool{}
	for _, it := range o.working.Items() {
		listed[it.Kind] = true
	}
	var none []string
	for _, k := range schema.ItemKinds() {
		if !listed[k.Name] {
			none = append(none, lowerFirst(k.Title))
		}
	}
	words := "Every kind has something listed."
	if len(none) > 0 {
		words = "Nothing is listed of these kinds: " + strings.Join(none, ", ") + "."
	}
	var said []app.UI
	kind := o.working.Kind()
	for _, at := range absences {
		def := schema.FieldAt(at)
		here := slices.ContainsFunc(schema.SectionsOf(kind), func(s *schema.Section) bool { return s.Name == at.Section() })
		if def == nil || !here || !def.In(kind) || !o.working.Relevant(def) {
			continue
		}
		said = append(said, app.Li().Body(safe.Link{To: p.Place.With("section", at.Section()).Path() + "#" + widgets.ID(at), Words: def.Title, Aside: schema.Show(def, o.working, at)}.UI()))
	}
	return app.Section().Class("page", "absent").Aria("labelledby", "absent-title").Body(
		app.H2().ID("absent-title").Text("Not there"), app.P().Text(words),
		app.If(len(said) > 0, func() app.UI { return app.Ul().Class("absent-said").Body(said...) }))
}

// withdrawn lists what this note listed by mistake, each to be kept after all.
func (p *itemsPane) withdrawn(o *openNote) app.UI {
	var rows []app.UI
	for _, v := range p.S.child.rec.Items() {
		if !v.Withdrawn || v.Note != o.id {
			continue
		}
		name := v.Kind
		if k := schema.ItemKindNamed(v.Kind); k != nil {
			name = k.Title
			if f := k.Field("variety"); f != nil {
				for _, said := range p.S.child.rec.Values("", schema.ItemPath(string(v.ID), "variety")) {
					if which, ok := said.Value.(string); ok {
						name = f.Label(which)
					}
				}
			}
		}
		rows = append(rows, app.Li().Body(
			app.P().Body(app.Span().Class("flag").Text(itoa(v.Tag)), app.Strong().Text(" "+name+" "), app.Text("was taken off the list: "+orNot(v.Why)+".")),
			safe.Button{ID: "keep-" + string(v.ID), Class: "quiet", Words: "It is in the child after all", Name: "It is in the child after all: tag " + itoa(v.Tag), Off: p.Locked,
				Press: func(app.Context) {
					if e, ok := p.S.child.writer.KeepItem(p.S.child.rec, v.ID); ok {
						p.do(e)
						safe.FocusSoon("item-" + string(v.ID))
					}
				}}.UI()))
	}
	if len(rows) == 0 {
		return nil
	}
	return app.Section().Class("page").Aria("labelledby", "withdrawn-title").Body(
		app.H2().ID("withdrawn-title").Text("Listed by mistake"), app.Ul().Class("item-gone").Body(rows...))
}
