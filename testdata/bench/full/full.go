// Package full is what the programs that measure in the browser share: the fullest
// note of the invented child, and how a thing is timed there.
package full

import (
	"time"

	"fairlead/app/demo"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Note is the record and the stage 1 note with the most in it.
func Note() (rec *ledger.Record, id ledger.NoteID) {
	events, err := demo.Events()
	if err != nil {
		panic(err)
	}
	most := 0
	byCase := map[ledger.CaseID][]ledger.Event{}
	for _, e := range events {
		byCase[e.Case] = append(byCase[e.Case], e)
	}
	for c, es := range byCase {
		r := ledger.FoldCase(c, es)
		for _, v := range r.Notes() {
			if n := r.Whole(v.ID); v.Kind == schema.Stage1 && len(n.Paths()) > most {
				most, rec, id = len(n.Paths()), r, v.ID
			}
		}
	}
	return rec, id
}

// Times are the milliseconds that do takes, once for each round. The browser's clock
// is coarse: a short thing is done several times a round.
func Times(rounds, several int, do func()) []any {
	do() // what is made once is made
	var out []any
	for range rounds {
		begun := time.Now()
		for range several {
			do()
		}
		out = append(out, float64(time.Since(begun).Nanoseconds())/1e6/float64(several))
	}
	return out
}
