//go:build js && wasm

package keep

import (
	"context"
	"fmt"
	"syscall/js"

	"fairlead/handover/ledger"
)

// Briefs: what a page wants to have at hand of a case without reading all that is
// kept of it, such as its line in the list of children. They stand in a database of
// their own, so that the format of the records does not change with them, and are
// sealed with the key of their case: with the key they are gone. A brief may be lost
// at any time, and is then made again from the events.
//
// The database is called as the store's with "-briefs" after it, version 1, with one
// store:
//
//	"briefs", by case: {format: 1, case, id: "brief", nonce, ciphertext}
//
// The additional data is that of an event, with "brief".

// briefsName is the name of the database of a store's briefs.
func (s *Store) briefsName() string { return s.options.Name + "-briefs" }

// openBriefs opens the database of the briefs once.
func (s *Store) openBriefs(ctx context.Context) (*Store, error) {
	s.briefing.Lock()
	defer s.briefing.Unlock()
	if s.briefs != nil {
		return s.briefs, nil
	}
	factory, err := databases()
	if err != nil {
		return nil, err
	}
	b := &Store{options: Options{Name: s.briefsName()}}
	b.db, err = b.openDatabase(ctx, factory, 1, func(db js.Value) {
		db.Call("createObjectStore", "briefs", map[string]any{"keyPath": "case"})
	})
	if err != nil {
		return nil, err
	}
	b.watchDatabase()
	s.briefs = b
	return b, nil
}

// Marks says of each case that has events how far it is kept: in another word with
// every event more, and after it was erased and begun anew.
func (s *Store) Marks(ctx context.Context) (map[ledger.CaseID]string, error) {
	marks := map[ledger.CaseID]string{}
	last := map[ledger.CaseID]int{}
	var step js.Func
	err := s.transact(ctx, "readonly", []any{"keys", "events"}, func(tx js.Value) []js.Value {
		// A walk from the last record of each case to the last of the case before.
		walk := storeOf(tx, "events").Call("index", "seq").Call("openKeyCursor", nil, "prev")
		step = js.FuncOf(func(js.Value, []js.Value) any {
			cursor := walk.Get("result")
			if !cursor.Truthy() {
				return nil
			}
			key := cursor.Get("key")
			last[ledger.CaseID(key.Index(0).String())] = key.Index(1).Int()
			cursor.Call("continue", array.Call("of", key.Index(0)))
			return nil
		})
		walk.Call("addEventListener", "success", step)
		return []js.Value{storeOf(tx, "keys").Call("getAll")}
	}, func(_ js.Value, answers []js.Value) error {
		for i := range answers[0].Length() {
			record := answers[0].Index(i)
			if p, _, ok := pairIn(record); ok {
				c := ledger.CaseID(text(record, "case"))
				marks[c] = p.kid
				s.remember(c, p)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err // step may still be called
	}
	step.Release()
	out := make(map[ledger.CaseID]string, len(last))
	for c, seq := range last {
		out[c] = fmt.Sprintf("%s %d", marks[c], seq)
	}
	return out, nil
}

// Briefs lists what KeepBrief kept last of each case and can be opened.
func (s *Store) Briefs(ctx context.Context) (map[ledger.CaseID][]byte, error) {
	b, err := s.openBriefs(ctx)
	if err != nil {
		return nil, err
	}
	var records js.Value
	err = b.transact(ctx, "readonly", []any{"briefs"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "briefs").Call("getAll")}
	}, func(_ js.Value, answers []js.Value) error {
		records = answers[0]
		return nil
	})
	if err != nil {
		return nil, err
	}
	var cases []ledger.CaseID
	promises := array.New()
	for i := range records.Length() {
		record := records.Index(i)
		c := ledger.CaseID(text(record, "case"))
		p, err := s.pairOf(ctx, c, false, false)
		if err != nil {
			continue // erased
		}
		cases = append(cases, c)
		promises.Call("push", js.Global().Call("fairleadOpen", array.Call("of", record), p.seal, "brief", Format))
	}
	opened, err := all(ctx, promises)
	if err != nil {
		return nil, err
	}
	briefs := map[ledger.CaseID][]byte{}
	for i, c := range cases {
		var u unread
		if plain := contents(opened.Index(i), &u); len(plain) == 1 {
			briefs[c] = plain[0]
		}
	}
	return briefs, nil
}

// KeepBrief keeps a brief of a case in place of the one before. Nothing depends on
// it: what fails is no loss.
func (s *Store) KeepBrief(ctx context.Context, c ledger.CaseID, plain []byte) error {
	p, err := s.pairOf(ctx, c, false, false)
	if err != nil {
		return err
	}
	b, err := s.openBriefs(ctx)
	if err != nil {
		return err
	}
	promises := array.New()
	nonce := p.sealOne(promises, "brief", c, "brief", plain)
	ciphertext, err := all(ctx, promises)
	if err != nil {
		return err
	}
	return b.transact(ctx, "readwrite", []any{"briefs"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "briefs").Call("put", map[string]any{"format": Format, "case": string(c), "id": "brief",
			"nonce": nonce, "ciphertext": ciphertext.Index(0)})}
	}, func(js.Value, []js.Value) error { return nil })
}

// dropBrief forgets the brief of a case; the key that opens it is gone already.
func (s *Store) dropBrief(ctx context.Context, c ledger.CaseID) {
	b, err := s.openBriefs(ctx)
	if err != nil {
		return
	}
	_ = b.transact(ctx, "readwrite", []any{"briefs"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "briefs").Call("delete", string(c))}
	}, func(js.Value, []js.Value) error { return nil })
}
