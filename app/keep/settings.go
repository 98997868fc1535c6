//go:build js && wasm

package keep

import (
	"context"
	"syscall/js"

	"fairlead/handover/ledger"
)

// Settings keeps texts that are about the unit and not about any child, such as
// its profile: in clear, in a database of its own, so that wiping the children's
// records leaves it alone and the format of the records does not change with it.
//
// The database is called "fairlead-settings", version 1, with one store:
//
//	"texts", by name: {format: 1, name, revision, text}
type Settings struct {
	s       *Store
	channel js.Value
	heard   js.Func
}

// SettingsName is the name of the database of settings.
const SettingsName = "fairlead-settings"

// OpenSettings opens the settings of this device. changed is told when another tab
// wrote one; it may be nil.
func OpenSettings(ctx context.Context, changed func(name string)) (*Settings, error) {
	factory, err := databases()
	if err != nil {
		return nil, err
	}
	s := &Store{options: Options{Name: SettingsName}, pairs: map[ledger.CaseID]pair{}, read: map[ledger.CaseID]place{}}
	db, err := s.openDatabase(ctx, factory, 1, func(db js.Value) {
		db.Call("createObjectStore", "texts", map[string]any{"keyPath": "name"})
	})
	if err != nil {
		return nil, err
	}
	s.db = db
	s.watchDatabase()
	t := &Settings{s: s}
	if channel := js.Global().Get("BroadcastChannel"); channel.Truthy() {
		t.channel = channel.New(SettingsName)
		t.heard = js.FuncOf(func(_ js.Value, args []js.Value) any {
			if name := text(args[0], "data"); name != "" && changed != nil {
				go changed(name)
			}
			return nil
		})
		t.channel.Set("onmessage", t.heard)
	}
	return t, nil
}

// Read is a text and its revision: "" and 0 where none is kept.
func (t *Settings) Read(ctx context.Context, name string) (kept string, revision int, err error) {
	err = t.s.transact(ctx, "readonly", []any{"texts"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "texts").Call("get", name)}
	}, func(_ js.Value, answers []js.Value) error {
		if r := answers[0]; r.Truthy() {
			kept, revision = text(r, "text"), r.Get("revision").Int()
		}
		return nil
	})
	return kept, revision, err
}

// Write keeps a text in place of the one of that revision, and gives the new one.
// If another tab wrote meanwhile, nothing is kept and the error is ErrOvertaken.
func (t *Settings) Write(ctx context.Context, name, words string, over int) (revision int, err error) {
	err = t.s.transact(ctx, "readwrite", []any{"texts"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "texts").Call("get", name)}
	}, func(tx js.Value, answers []js.Value) error {
		here := 0
		if r := answers[0]; r.Truthy() {
			here = r.Get("revision").Int()
		}
		if here != over {
			return ErrOvertaken
		}
		revision = over + 1
		storeOf(tx, "texts").Call("put", map[string]any{"format": 1, "name": name, "revision": revision, "text": words})
		return nil
	})
	if err != nil {
		return over, err
	}
	if t.channel.Truthy() {
		_ = guard(func() { t.channel.Call("postMessage", name) }) // closed meanwhile: nobody to tell
	}
	return revision, nil
}
