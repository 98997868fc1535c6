//go:build js && wasm

package keep

import (
	"context"
	"errors"
	"syscall/js"
)

var errNotFetched = errors.New("it is not kept on this device yet and could not be fetched: check the network, then try again")

// Fetch reads a file of the app itself, by its address: from what the service worker
// keeps, or from the server.
func Fetch(ctx context.Context, address string) ([]byte, error) {
	response, err := await(ctx, js.Global().Call("fetch", address))
	if err != nil || !response.Get("ok").Bool() {
		return nil, errNotFetched
	}
	buffer, err := await(ctx, response.Call("arrayBuffer"))
	if err != nil {
		return nil, errNotFetched
	}
	bytes := js.Global().Get("Uint8Array").New(buffer)
	content := make([]byte, bytes.Length())
	js.CopyBytesToGo(content, bytes)
	return content, nil
}
