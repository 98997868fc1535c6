package sheet

import (
	"slices"

	"fairlead/handover/calc"
	"fairlead/schema"
)

// worth are the computed values that intensive care reads off the sheet. The
// others have their own place in the app.
var worth = []calc.ID{"products", "blood-loss", "drain-loss", "urine", "vasoactive-score", "transpulmonary-gradient", "carbon-dioxide-gap", "tidal-volume"}

// computed are those values, each with its formula, what it was computed from
// and its source. One that wants an input is not shown.
func (b *builder) computed() Block {
	bl := Block{ID: "computed", Title: "Computed from the note", Form: Listed, Keep: 2}
	for _, r := range b.computedNow() {
		if !slices.Contains(worth, r.ID) || !r.OK || r.Off {
			continue
		}
		w := words{{r.Title + " ", Label}}
		w.strong(r.Shown)
		w.fixed(" (" + r.Formula.Text)
		for i, in := range r.Inputs {
			if i == 0 {
				w.fixed("; ")
			} else {
				w.fixed(", ")
			}
			w.fixed(low(in.Name) + " ")
			w.value(in.Shown)
		}
		if s := r.Formula.Source; s != "" && s != "Arithmetic" {
			w.fixed("; " + s)
		}
		w.fixed(")")
		for _, c := range r.Caveats {
			w.fixed(". " + c)
		}
		bl.Lines = append(bl.Lines, Line{Spans: w})
	}
	return bl
}

// computedNow is what the caller computed, or else the values that the sheet
// shows, computed here once.
func (b *builder) computedNow() []calc.Result {
	if results := b.computedBefore(); results != nil {
		return results
	}
	if b.worked == nil {
		b.worked = calc.Some(b.n, b.prof, b.about(), slices.Concat(worth, totals)...)
	}
	return b.worked
}

// about is what is known of the note's values beside the values.
func (b *builder) about() calc.About {
	a := b.f.About
	if a.Disputed == nil {
		a.Disputed = func(p schema.Path) bool { return len(b.f.Opinions[p]) > 1 }
	}
	return a
}
