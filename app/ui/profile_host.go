//go:build !(js && wasm)

package ui

import "context"

// openSettings has nothing to open: there is no browser.
func openSettings(context.Context, func(name string)) (settingStore, error) {
	return nil, errNoStore
}
