//go:build js && wasm

package keep

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"syscall/js"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// TestMain runs the tests, or in a page that asks for it gives the page a store to
// drive: window.keep. testdata/browser/keep.test.mjs and testdata/bench/keep.mjs
// do what a test inside one page cannot: kill it, open two, fill the disk.
func TestMain(m *testing.M) {
	if os.Getenv("KEEP_DRIVE") == "" {
		os.Exit(m.Run())
	}
	drive()
	select {}
}

func promise(do func() (any, error)) js.Value {
	run := js.FuncOf(func(_ js.Value, args []js.Value) any {
		go func() {
			v, err := do()
			if err != nil {
				args[1].Invoke(js.Global().Get("Error").New(err.Error()))
				return
			}
			args[0].Invoke(v)
		}()
		return nil
	})
	return js.Global().Get("Promise").New(run)
}

func drive() {
	var s *Store
	ctx := context.Background()
	heard := js.Global().Get("Array").New()
	call := func(name string, do func(args []js.Value) (any, error)) {
		js.Global().Get("keep").Set(name, js.FuncOf(func(_ js.Value, args []js.Value) any {
			return promise(func() (any, error) { return do(args) })
		}))
	}
	js.Global().Set("keep", map[string]any{"heard": heard})
	call("open", func([]js.Value) (_ any, err error) {
		s, err = Open(ctx, Options{
			Closed:  func(why error) { heard.Call("push", "closed: "+why.Error()) },
			Blocked: func(why error) { heard.Call("push", "blocked: "+why.Error()) },
			Grew: func(c ledger.CaseID, events []ledger.Event) {
				heard.Call("push", fmt.Sprintf("grew: %s %d", c, len(events)))
			},
			Erased: func(c ledger.CaseID) { heard.Call("push", "erased: "+string(c)) },
		})
		return nil, err
	})
	// append(case, [[id, words] …]) keeps one event for each.
	call("append", func(args []js.Value) (any, error) {
		var events []ledger.Event
		for i := range args[1].Length() {
			events = append(events, driven(ledger.CaseID(args[0].String()), args[1].Index(i).Index(0).String(), args[1].Index(i).Index(1).String()))
		}
		return nil, s.Append(ctx, events)
	})
	call("events", func(args []js.Value) (any, error) {
		events, err := s.Events(ctx, ledger.CaseID(args[0].String()))
		out := js.Global().Get("Array").New()
		for _, e := range events {
			out.Call("push", js.Global().Get("Array").Call("of", string(e.ID), string(e.Body)))
		}
		if err != nil {
			out.Set("trouble", err.Error())
		}
		return out, nil
	})
	call("cases", func([]js.Value) (any, error) {
		cases, err := s.Cases(ctx)
		b, _ := json.Marshal(cases)
		return string(b), err
	})
	call("saveDraft", func(args []js.Value) (any, error) {
		return nil, s.SaveDraft(ctx, drivenDraft(args))
	})
	call("drafts", func(args []js.Value) (any, error) {
		ds, err := s.Drafts(ctx, ledger.CaseID(args[0].String()))
		b, _ := json.Marshal(ds)
		return string(b), err
	})
	call("erase", func(args []js.Value) (any, error) { return nil, s.Erase(ctx, ledger.CaseID(args[0].String())) })
	call("wipe", func([]js.Value) (any, error) { return nil, s.Wipe(ctx) })
	call("room", func([]js.Value) (any, error) { return AskRoom(ctx).Words(), nil })
	call("hold", func(args []js.Value) (any, error) { Hold(ledger.WriterID(args[0].String())); return nil, nil })
	call("writers", func([]js.Value) (any, error) {
		out := js.Global().Get("Array").New()
		for w := range Writers(ctx) {
			out.Call("push", string(w))
		}
		return out, nil
	})
	// timed(case, n) reads a case n times and answers with the milliseconds.
	call("timedRead", func(args []js.Value) (any, error) {
		out := js.Global().Get("Array").New()
		for range args[1].Int() {
			begun := time.Now()
			if _, err := s.Events(ctx, ledger.CaseID(args[0].String())); err != nil {
				return nil, err
			}
			out.Call("push", float64(time.Since(begun).Microseconds())/1000)
		}
		return out, nil
	})
	// timedAppend(case, ids, words) keeps one event after the other.
	call("timedAppend", func(args []js.Value) (any, error) {
		out := js.Global().Get("Array").New()
		for i := range args[1].Length() {
			e := driven(ledger.CaseID(args[0].String()), args[1].Index(i).String(), args[2].String())
			begun := time.Now()
			if err := s.Append(ctx, []ledger.Event{e}); err != nil {
				return nil, err
			}
			out.Call("push", float64(time.Since(begun).Microseconds())/1000)
		}
		return out, nil
	})
	js.Global().Get("document").Call("getElementById", "state").Set("textContent", "driven")
}

func driven(c ledger.CaseID, id, words string) ledger.Event {
	at, err := schema.ParseMoment("2026-07-14T09:42+01:00[Europe/London]")
	if err != nil {
		panic(err)
	}
	body, err := json.Marshal(map[string]string{"path": "child.surname", "value": words})
	if err != nil {
		panic(err)
	}
	return ledger.Event{ID: ledger.EventID(id), Case: c, Writer: "0190f4a0-0000-7000-8000-00000000aaaa", Clock: "0190f4a00000.0000",
		Author: ledger.Author{Name: "A. Invented"}, Happened: at, Entered: at, Kind: ledger.KindFieldSet, V: 1, Body: body}
}

func drivenDraft(args []js.Value) ledger.Draft {
	return ledger.Draft{Case: ledger.CaseID(args[0].String()), Path: schema.Path(args[1].String()),
		Writer: "0190f4a0-0000-7000-8000-00000000aaaa", Text: args[2].String()}
}
