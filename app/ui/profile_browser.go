//go:build js && wasm

package ui

import (
	"context"

	"fairlead/app/keep"
)

// openSettings opens what this device keeps about the unit.
func openSettings(ctx context.Context, changed func(name string)) (settingStore, error) {
	t, err := keep.OpenSettings(ctx, changed)
	if err != nil {
		return nil, err
	}
	return t, nil
}
