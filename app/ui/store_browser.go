//go:build js && wasm

package ui

import (
	"context"

	"fairlead/app/keep"
)

// openStore opens the store of this device. If there is none, err says why, and
// the store is one that forgets with the tab.
func openStore(ctx context.Context, s *Session) (device, error) {
	st, err := keep.Open(ctx, keep.Options{Closed: s.closed, Blocked: s.blocked, Grew: s.grew, Erased: s.erased})
	if err != nil {
		return forgetful(), err
	}
	keep.Hold(s.writerID)
	return device{
		log:     st,
		promise: func(ctx context.Context) string { return keep.AskRoom(ctx).Words() },
		writers: keep.Writers,
		wipe:    st.Wipe,
		briefs:  st,
	}, nil
}
