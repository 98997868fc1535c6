//go:build js && wasm

package keep

import (
	"context"
	"syscall/js"
)

// AskRoom asks the browser to keep the store for good, and what room there is
// (WHATWG Storage Standard).
func AskRoom(ctx context.Context) Room {
	var r Room
	storage := js.Global().Get("navigator").Get("storage")
	if !storage.Truthy() {
		return r
	}
	_ = guard(func() { // what it does not say stays not known
		if storage.Get("persist").Truthy() {
			if v, err := await(ctx, storage.Call("persist")); err == nil {
				r.Asked, r.Lasting = true, v.Truthy()
			}
		}
		if storage.Get("estimate").Truthy() {
			if v, err := await(ctx, storage.Call("estimate")); err == nil {
				r.Used, r.Allowed = whole(v, "usage"), whole(v, "quota")
			}
		}
	})
	return r
}
