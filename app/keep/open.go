//go:build js && wasm

package keep

import (
	"context"
	"errors"
	"syscall/js"

	"fairlead/handover/ledger"
)

// Open opens the device's store, and makes it when there is none. The error is a
// sentence: nothing can be kept, and why.
func Open(ctx context.Context, o Options) (*Store, error) {
	if o.Name == "" {
		o.Name = Name
	}
	factory, err := databases()
	if err != nil {
		return nil, err
	}
	crypto := js.Global().Get("crypto")
	if !crypto.Truthy() || !crypto.Get("subtle").Truthy() {
		return nil, errors.New("keeping needs encryption, which browsers allow on a secure connection (https) only: open this page by its https address")
	}
	s := &Store{options: o, pairs: map[ledger.CaseID]pair{}, read: map[ledger.CaseID]place{}}
	db, err := s.openDatabase(ctx, factory, version, layout)
	if err != nil {
		return nil, err
	}
	s.db = db
	s.watchDatabase()
	s.joinTabs()
	return s, nil
}

// databases is the browser's IndexedDB.
func databases() (factory js.Value, err error) {
	// Get cannot catch what looking throws in some browsers, Call can.
	err = guard(func() { factory = js.Global().Get("Reflect").Call("get", js.Global(), "indexedDB") })
	if err != nil || !factory.Truthy() {
		return js.Undefined(), errRefused
	}
	return factory, nil
}

// version is the number of the database's layout.
const version = 1

// layout makes the stores of version 1.
func layout(db js.Value) {
	db.Call("createObjectStore", "keys", map[string]any{"keyPath": "case"})
	events := db.Call("createObjectStore", "events", map[string]any{"keyPath": []any{"case", "id", "mark"}})
	events.Call("createIndex", "seq", []any{"case", "seq"}, map[string]any{"unique": true})
	db.Call("createObjectStore", "drafts", map[string]any{"keyPath": []any{"case", "id"}})
}

func (s *Store) openDatabase(ctx context.Context, factory js.Value, version int, layout func(db js.Value)) (js.Value, error) {
	done := make(chan error, 1)
	var request js.Value
	if err := guard(func() { request = factory.Call("open", s.options.Name, version) }); err != nil {
		return js.Undefined(), err
	}
	var upgrade, success, failure, blocked js.Func
	end := func(err error) {
		upgrade.Release()
		success.Release()
		failure.Release()
		blocked.Release()
		done <- err
	}
	upgrade = js.FuncOf(func(js.Value, []js.Value) any {
		if err := guard(func() { layout(request.Get("result")) }); err != nil {
			_ = guard(func() { request.Get("transaction").Call("abort") })
		}
		return nil
	})
	success = js.FuncOf(func(js.Value, []js.Value) any { end(nil); return nil })
	failure = js.FuncOf(func(js.Value, []js.Value) any {
		err := wrong(request.Get("error"))
		if name := text(request.Get("error"), "name"); name == "UnknownError" || name == "InvalidStateError" {
			err = errRefused // how browsers answer in private windows
		}
		end(err)
		return nil
	})
	blocked = js.FuncOf(func(js.Value, []js.Value) any {
		if s.options.Blocked != nil {
			go s.options.Blocked(ledger.ErrBlocked)
		}
		return nil
	})
	request.Set("onupgradeneeded", upgrade)
	request.Set("onsuccess", success)
	request.Set("onerror", failure)
	request.Set("onblocked", blocked)
	select {
	case err := <-done:
		if err != nil {
			return js.Undefined(), err
		}
		return request.Get("result"), nil
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
}

// watchDatabase closes when another tab needs the database to itself, or when the
// browser took it away.
func (s *Store) watchDatabase() {
	giveWay := js.FuncOf(func(js.Value, []js.Value) any {
		s.shut(ledger.ErrClosed, true)
		return nil
	})
	s.db.Set("onversionchange", giveWay)
	s.db.Set("onclose", giveWay)
}

// shut closes the store for good.
func (s *Store) shut(why error, say bool) {
	s.mu.Lock()
	already := s.closed != nil
	if !already {
		s.closed = why
		clear(s.pairs)
	}
	s.mu.Unlock()
	if already {
		return
	}
	s.db.Call("close") // what is under way still completes
	go func() {        // the browser may be asking, and the lock be held until it answers
		s.briefing.Lock()
		defer s.briefing.Unlock()
		if s.briefs != nil {
			s.briefs.shut(why, false)
		}
	}()
	if s.channel.Truthy() {
		s.channel.Call("close")
	}
	if say && s.options.Closed != nil {
		go s.options.Closed(why)
	}
}

// Close ends the use of the store. What is under way completes.
func (s *Store) Close() { s.shut(ledger.ErrClosed, false) }

// database is the open database, or why there is none.
func (s *Store) database() (js.Value, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.db, s.closed
}

// Wipe destroys the whole store: the keys first, then the database. This store is
// closed afterwards, and so are those of the other tabs.
func (s *Store) Wipe(ctx context.Context) error {
	err := s.transact(ctx, "readwrite", []any{"keys"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("clear")}
	}, func(js.Value, []js.Value) error { return nil })
	if err != nil {
		return err
	}
	s.shut(ledger.ErrClosed, false)
	js.Global().Get("indexedDB").Call("deleteDatabase", s.briefsName()) // no key opens them any more
	request := js.Global().Get("indexedDB").Call("deleteDatabase", s.options.Name)
	done := make(chan error, 1)
	var success, failure, blocked js.Func
	success = js.FuncOf(func(js.Value, []js.Value) any { done <- nil; return nil })
	failure = js.FuncOf(func(js.Value, []js.Value) any { done <- wrong(request.Get("error")); return nil })
	blocked = js.FuncOf(func(js.Value, []js.Value) any { done <- ledger.ErrBlocked; return nil })
	request.Set("onsuccess", success)
	request.Set("onerror", failure)
	request.Set("onblocked", blocked)
	select {
	case err := <-done:
		return err // the functions stay: a blocked deletion still answers later
	case <-ctx.Done():
		return ctx.Err()
	}
}
