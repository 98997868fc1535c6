//go:build js && wasm

package keep

import (
	"context"
	"errors"
	"fmt"
	"syscall/js"

	"fairlead/handover/ledger"
)

var (
	object     = js.Global().Get("Object")
	array      = js.Global().Get("Array")
	uint8Array = js.Global().Get("Uint8Array")
)

// errRefused says that the browser lets this page keep nothing.
var errRefused = errors.New("this browser does not let this page keep anything: private windows and blocked site data have this effect")

// guard runs do and returns as an error what JavaScript threw in it, or that
// something there was not of the kind it should be.
func guard(do func()) (err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case js.Error:
			err = wrong(r.Value)
		case *js.ValueError:
			err = fmt.Errorf("what is kept on this device is not as it was written (%v): reload this page, and save the record as a file if it goes on", r)
		default:
			panic(r)
		}
	}()
	do()
	return nil
}

// wrong words a DOMException. W3C Indexed Database API 3.0, section 4, has the
// names.
func wrong(e js.Value) error {
	name := "unknown"
	message := ""
	if e.Truthy() {
		name, message = e.Get("name").String(), e.Get("message").String()
	}
	switch name {
	case "QuotaExceededError":
		return ledger.ErrFull
	case "InvalidStateError":
		return ledger.ErrClosed
	case "VersionError":
		return errors.New("what is kept on this device was written by a newer version of this program: reload this page to get it")
	case "SecurityError":
		return errRefused
	}
	return fmt.Errorf("the browser's store failed (%s: %s): reload this page, and save the record as a file if it goes on", name, message)
}

// await waits for a promise.
func await(ctx context.Context, promise js.Value) (js.Value, error) {
	type outcome struct {
		value js.Value
		err   error
	}
	done := make(chan outcome, 1)
	var kept, broken js.Func
	kept = js.FuncOf(func(_ js.Value, args []js.Value) any {
		kept.Release()
		broken.Release()
		done <- outcome{value: args[0]}
		return nil
	})
	broken = js.FuncOf(func(_ js.Value, args []js.Value) any {
		kept.Release()
		broken.Release()
		done <- outcome{err: wrong(args[0])}
		return nil
	})
	promise.Call("then", kept, broken)
	select {
	case o := <-done:
		return o.value, o.err
	case <-ctx.Done():
		return js.Undefined(), ctx.Err()
	}
}

// all waits for every promise of an array.
func all(ctx context.Context, promises js.Value) (js.Value, error) {
	return await(ctx, js.Global().Get("Promise").Call("all", promises))
}

func bytesTo(b []byte) js.Value {
	v := uint8Array.New(len(b))
	js.CopyBytesToJS(v, b)
	return v
}

// bytesFrom copies an ArrayBuffer or a Uint8Array; ok is false for anything else.
func bytesFrom(v js.Value) (b []byte, ok bool) {
	switch {
	case v.InstanceOf(js.Global().Get("ArrayBuffer")):
		v = uint8Array.New(v)
	case !v.InstanceOf(uint8Array):
		return nil, false
	}
	b = make([]byte, v.Get("length").Int())
	js.CopyBytesToGo(b, v)
	return b, true
}

// whole is a member that is a number, or 0 if it is none.
func whole(v js.Value, name string) int64 {
	if m := v.Get(name); m.Type() == js.TypeNumber {
		return int64(m.Float())
	}
	return 0
}

// text is a string member, or "" if it is none.
func text(v js.Value, name string) string {
	if m := v.Get(name); m.Type() == js.TypeString {
		return m.String()
	}
	return ""
}
