package calc

import (
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// FromRecord is what the ledger knows about a note's values: who entered each,
// when, and whether two people differ.
func FromRecord(r *ledger.Record, note ledger.NoteID) About {
	return About{
		Origin: func(p schema.Path) Origin {
			vs := r.Values(note, p)
			if len(vs) == 0 {
				return Origin{}
			}
			v := vs[len(vs)-1]
			return Origin{By: v.Author.Name, At: v.Entered.Shown()}
		},
		Disputed: func(p schema.Path) bool {
			_, ok := r.Disagreement(note, p)
			return ok
		},
	}
}
