package values

import (
	"strings"

	"fairlead/handover/calc"
	"fairlead/handover/calc/growth"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

// Asked is what the values of a note that stands alone ask of whoever signs it, in
// the shape [rules.Context] wants: a weight further in score from the birth weight
// than the unit's setting, and a pump rate that gives an impossible dose or one a
// power of ten from the usual. p may be nil for the shipped profile.
func Asked(p *profile.Profile) func(*schema.Note, string) []schema.Problem {
	return asked(p, calc.About{}, func() []growth.Measured { return nil })
}

// AskedOf is [Asked] of a note of a child's record: its weights in other notes
// count, and what two people differ about is not used.
func AskedOf(r *ledger.Record, note ledger.NoteID, p *profile.Profile) func(*schema.Note, string) []schema.Problem {
	return asked(p, calc.FromRecord(r, note), func() []growth.Measured { return Earlier(r, note) })
}

// asked gathers the earlier weights only when a weight has changed.
func asked(p *profile.Profile, about calc.About, earlier func() []growth.Measured) func(*schema.Note, string) []schema.Problem {
	if p == nil {
		p = profile.Default()
	}
	return func(n *schema.Note, rule string) []schema.Problem {
		switch rule {
		case rules.WeightChanged:
			return weightChanged(n, growth.Results(n, p, about, earlier()))
		case rules.RateTenfold:
			return rateTenfold(n, p)
		}
		return nil
	}
}

func weightChanged(n *schema.Note, grown []calc.Result) []schema.Problem {
	r, ok := calc.Find(grown, "weight-z-change")
	if !ok || !r.OK || len(r.Flags) == 0 {
		return nil
	}
	then := r.Inputs[len(r.Inputs)-1] // the earlier weight is entered last
	what := "Weight " + schema.Show(n.FieldAt(schema.MeasuresWeight), n, schema.MeasuresWeight) + " is a change of " + r.Shown +
		" in weight for age from the " + then.Name + ", " + then.Shown + ". " + r.Flags[0].What
	return []schema.Problem{{Path: schema.MeasuresWeight, What: what, Do: "Check both against the scales, or say why both are right.",
		Others: []schema.Path{schema.ChildSex, schema.ChildBirthDate, schema.ChildGestationWeeks}}}
}

func rateTenfold(n *schema.Note, p *profile.Profile) []schema.Problem {
	var out []schema.Problem
	for _, f := range calc.Infusions(n, p) {
		why := f.Impossible
		if f.Computed && f.Unusual != "" { // a dose that was entered has its own rule
			why = f.Unusual
		}
		if why == "" {
			continue
		}
		at := schema.InfusionsRunningRate.In(f.Row)
		out = append(out, schema.Problem{Path: at, What: "Pump rate " + schema.Show(n.FieldAt(at), n, at) + " (" + f.Title + "): " + strings.TrimSuffix(why, "."),
			Do:     "Check the rate and the label of the syringe against the pump, with a second person.",
			Others: []schema.Path{schema.InfusionsRunningConcentration.In(f.Row), schema.InfusionsRunningConcentrationUnit.In(f.Row), f.WeightAt}})
	}
	return out
}
