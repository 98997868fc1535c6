package ledger

import (
	"context"
	"errors"
)

// Load reads a child's record from a log, with every case joined to it. With an
// error the record holds what could be read.
func Load(ctx context.Context, log Log, child CaseID) (*Record, error) {
	events, fault := log.Events(ctx, child)
	r := FoldCase(child, events)
	loaded := map[CaseID]bool{child: true}
	for again := true; again; {
		again = false
		for _, c := range r.Joined() {
			if loaded[c] {
				continue
			}
			loaded[c], again = true, true
			more, err := log.Events(ctx, c)
			fault = errors.Join(fault, err)
			r.Apply(more...)
		}
	}
	return r, fault
}
