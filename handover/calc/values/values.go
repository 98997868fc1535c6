// Package values gathers everything that is worked out for one note, in the order
// it is shown. It is the one function that the form, the screen of values, the
// sheet, the register and the command line call, so that they cannot differ.
//
//	v := values.FromRecord(rec, note, prof, today)
//	for _, g := range v.Groups { … }
//
// Nothing here computes: packages calc and growth do.
package values

import (
	"slices"

	"fairlead/handover/calc"
	"fairlead/handover/calc/growth"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

// Infusions is the heading infusions stand under, apart from the circulation
// they drive.
const Infusions = "Infusions"

// order is the order of the groups. One that is not named here comes last.
var order = []string{calc.GroupChild, calc.GroupSupport, calc.GroupBlood, calc.GroupCirculation, calc.GroupLungs, Infusions, calc.GroupLosses, growth.Group}

// Values is all that is worked out for a note.
type Values struct {
	Groups    []Group
	Infusions []calc.Infusion // both ways: dose from rate, and rate from dose
	Timeline  calc.Timeline
	Card      calc.Card
}

// Group is one heading with its results.
type Group struct {
	Title   string
	Results []calc.Result
}

// All are the results of every group, in order.
func (v Values) All() []calc.Result {
	var out []calc.Result
	for _, g := range v.Groups {
		out = append(out, g.Results...)
	}
	return out
}

// Find is the first result of that name.
func (v Values) Find(id calc.ID) (calc.Result, bool) { return calc.Find(v.All(), id) }

// Of works out a note. earlier are the child's weights from other notes; today is
// the day the emergency card is read.
func Of(n *schema.Note, p *profile.Profile, about calc.About, earlier []growth.Measured, today schema.Date) Values {
	v := Values{Infusions: calc.Infusions(n, p), Timeline: calc.TimelineOf(n), Card: calc.CardOf(n, p, about, today)}
	v.group(calc.New(p, about).Compute(n), growth.Results(n, p, about, earlier))
	return v
}

// group puts results under their headings, in order.
func (v *Values) group(lists ...[]calc.Result) {
	v.Groups = nil
	for _, r := range slices.Concat(lists...) {
		title := r.Group
		if r.ID == "infusion" {
			title = Infusions
		}
		i := slices.IndexFunc(v.Groups, func(g Group) bool { return g.Title == title })
		if i < 0 {
			i = len(v.Groups)
			v.Groups = append(v.Groups, Group{Title: title})
		}
		v.Groups[i].Results = append(v.Groups[i].Results, r)
	}
	rank := func(g Group) int {
		if i := slices.Index(order, g.Title); i >= 0 {
			return i
		}
		return len(order)
	}
	sorting.By(v.Groups, func(a, b Group) int { return rank(a) - rank(b) })
}

// FromRecord works out a note of a child's record: origins, disputes and earlier
// weights come from there.
func FromRecord(r *ledger.Record, note ledger.NoteID, p *profile.Profile, today schema.Date) Values {
	n := r.Whole(note)
	if n == nil {
		return Values{}
	}
	return Of(n, p, calc.FromRecord(r, note), Earlier(r, note), today)
}

// Earlier are the child's weights in the other notes of the record.
func Earlier(r *ledger.Record, note ledger.NoteID) []growth.Measured {
	var out []growth.Measured
	for _, view := range r.Notes() {
		if view.ID == note {
			continue
		}
		n := r.Note(view.ID)
		if n == nil {
			continue
		}
		kg, ok := n.Number(schema.MeasuresWeight)
		_, disputed := r.Disagreement(view.ID, schema.MeasuresWeight)
		if !ok && !disputed {
			continue
		}
		on := schema.Date(n.Text(schema.MeasuresWeightDate))
		if on == "" {
			on = schema.Date(n.Text(schema.OperationDate))
		}
		if on == "" {
			continue
		}
		where := string(n.Kind())
		if k := schema.KindNamed(n.Kind()); k != nil {
			where = k.Title
		}
		out = append(out, growth.Measured{On: on, Kg: kg, Where: where, Doubt: calc.Doubt(n, schema.MeasuresWeight, disputed)})
	}
	return out
}
