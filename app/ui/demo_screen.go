//go:build screen

package ui

import (
	"context"

	"fairlead/app/demo"
	"fairlead/app/keep"
	"fairlead/handover/ledger"
)

// demoEvents fetches the invented children: whoever never asks for them need not have
// them.
func demoEvents() ([]ledger.Event, error) {
	notes, err := keep.Fetch(context.Background(), "/web/demo.json")
	if err != nil {
		return nil, err
	}
	return demo.Of(notes)
}
