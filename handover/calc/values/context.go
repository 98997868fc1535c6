package values

import (
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

// ContextOf is what a note of a child's record is checked against beside itself, but
// for the time and the other children. p may be nil for the shipped profile.
func ContextOf(r *ledger.Record, note ledger.NoteID, p *profile.Profile) rules.Context {
	ctx := rules.Context{Register: r.Earlier(note), Asked: AskedOf(r, note, p)}
	for _, v := range r.Notes() {
		if v.ID != note {
			ctx.Recorded = append(ctx.Recorded, v.Kind)
		}
	}
	for _, v := range lines.Before(r, note) {
		ctx.Done = append(ctx.Done, rules.Done{Kind: v.Kind, Day: schema.Date(r.Note(v.ID).Text(schema.OperationDate))})
	}
	for _, it := range ctx.Register {
		if v, ok := r.Item(ledger.ItemID(it.ID)); ok && !v.Where.In() {
			ctx.Out = append(ctx.Out, it.ID)
		}
	}
	for _, o := range []ledger.Occasion{ledger.Leaving, ledger.Arrival} {
		for _, c := range r.Checks(note, o) {
			ctx.Checks = append(ctx.Checks, rules.Checked{Item: string(c.Item), At: c.Happened})
		}
	}
	return ctx
}
