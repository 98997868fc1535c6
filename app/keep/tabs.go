//go:build js && wasm

package keep

import (
	"context"
	"strings"
	"syscall/js"

	"fairlead/handover/ledger"
)

// joinTabs listens to the other tabs of this device. Only identifiers are said.
func (s *Store) joinTabs() {
	make := js.Global().Get("BroadcastChannel")
	if !make.Truthy() {
		return
	}
	s.channel = make.New("fairlead keep " + s.options.Name)
	heard := js.FuncOf(func(_ js.Value, args []js.Value) any {
		what, c := text(args[0].Get("data"), "what"), ledger.CaseID(text(args[0].Get("data"), "case"))
		if c != "" {
			go s.heard(what, c)
		}
		return nil
	})
	s.channel.Set("onmessage", heard)
}

func (s *Store) tell(what string, c ledger.CaseID) {
	if s.channel.Truthy() {
		_ = guard(func() { s.channel.Call("postMessage", map[string]any{"what": what, "case": string(c)}) }) // closed meanwhile: nobody to tell
	}
}

func (s *Store) heard(what string, c ledger.CaseID) {
	switch what {
	case "grew":
		if s.options.Grew == nil {
			return
		}
		s.mu.Lock()
		from, read := s.read[c]
		s.mu.Unlock()
		if !read {
			s.options.Grew(c, nil)
			return
		}
		events, err := s.eventsAfter(context.Background(), c, from)
		if err == nil || len(events) > 0 {
			s.options.Grew(c, events)
		}
	case "erased":
		s.forget(c)
		if s.options.Erased != nil {
			s.options.Erased(c)
		}
	}
}

const lockPrefix = "fairlead writer "

// Hold says to the other tabs that this writer is at work, until the tab ends,
// however it ends (W3C Web Locks API).
func Hold(w ledger.WriterID) {
	locks := js.Global().Get("navigator").Get("locks")
	if !locks.Truthy() {
		return
	}
	never := js.FuncOf(func(js.Value, []js.Value) any {
		return js.Global().Get("Promise").New(js.FuncOf(func(js.Value, []js.Value) any { return nil }))
	})
	locks.Call("request", lockPrefix+string(w), never)
}

// Writers are those at work in any tab, this one included. It is empty where the
// browser does not tell.
func Writers(ctx context.Context) map[ledger.WriterID]bool {
	at := map[ledger.WriterID]bool{}
	locks := js.Global().Get("navigator").Get("locks")
	if !locks.Truthy() {
		return at
	}
	all, err := await(ctx, locks.Call("query"))
	if err != nil {
		return at
	}
	held := all.Get("held")
	for i := range held.Length() {
		if w, ok := strings.CutPrefix(text(held.Index(i), "name"), lockPrefix); ok {
			at[ledger.WriterID(w)] = true
		}
	}
	return at
}
