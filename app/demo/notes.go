//go:build !screen

package demo

import (
	_ "embed"

	"fairlead/handover/ledger"
)

//go:embed notes.json
var notesJSON []byte

// Events are the events of all the invented children.
func Events() ([]ledger.Event, error) { return Of(notesJSON) }
