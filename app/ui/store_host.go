//go:build !(js && wasm)

package ui

import "context"

// openStore opens a store that forgets with the program: there is no browser.
func openStore(context.Context, *Session) (device, error) {
	return forgetful(), nil
}
