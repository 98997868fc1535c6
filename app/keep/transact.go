//go:build js && wasm

package keep

import (
	"context"
	"math"
	"syscall/js"

	"fairlead/handover/ledger"
)

// transact runs one transaction. It places the requests of ask; when the last of
// them is answered, all are, and decide may read their results and write. An error
// of decide aborts. transact returns nil when the transaction has completed.
//
// Nothing in ask or decide may wait: IndexedDB commits as soon as nobody asks.
func (s *Store) transact(ctx context.Context, mode string, stores []any, ask func(tx js.Value) []js.Value, decide func(tx js.Value, answers []js.Value) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	db, err := s.database()
	if err != nil {
		return err
	}
	done := make(chan error, 1)
	var why error // what decide said
	var complete, abort, answered js.Func
	release := func() {
		complete.Release()
		abort.Release()
		answered.Release()
	}
	var tx js.Value
	var requests []js.Value
	complete = js.FuncOf(func(js.Value, []js.Value) any {
		release()
		done <- nil
		return nil
	})
	abort = js.FuncOf(func(js.Value, []js.Value) any {
		release()
		if why == nil {
			why = wrong(tx.Get("error"))
		}
		done <- why
		return nil
	})
	answered = js.FuncOf(func(js.Value, []js.Value) any {
		answers := make([]js.Value, len(requests))
		for i, r := range requests {
			answers[i] = r.Get("result")
		}
		thrown := guard(func() { why = decide(tx, answers) })
		if thrown != nil {
			why = thrown
		}
		if why != nil {
			_ = guard(func() { tx.Call("abort") }) // it may be aborting already
		}
		return nil
	})
	err = guard(func() {
		options := object.New()
		if mode == "readwrite" {
			options.Set("durability", "strict")
		}
		tx = db.Call("transaction", array.New(stores...), mode, options)
		tx.Set("oncomplete", complete)
		tx.Set("onabort", abort)
		requests = ask(tx)
		requests[len(requests)-1].Set("onsuccess", answered)
	})
	if err != nil {
		if !tx.Truthy() {
			release()
			return err
		}
		_ = guard(func() { tx.Call("abort") }) // abort releases
		return err
	}
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// within is the range of keys that begin with the case.
func within(c ledger.CaseID) js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", array.New(string(c)), array.New(string(c), array.New()))
}

// counted is the range of [case, seq] in which seq is a number.
func counted(c ledger.CaseID) js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", array.New(string(c)), array.Call("of", string(c), math.Inf(1)))
}

// after is the range of [case, seq] with a greater seq.
func after(c ledger.CaseID, seq int) js.Value {
	return js.Global().Get("IDBKeyRange").Call("bound", array.Call("of", string(c), seq), array.New(string(c), array.New()), true)
}

func storeOf(tx js.Value, name string) js.Value { return tx.Call("objectStore", name) }
