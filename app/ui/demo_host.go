//go:build !screen

package ui

import (
	"fairlead/app/demo"
	"fairlead/handover/ledger"
)

func demoEvents() ([]ledger.Event, error) { return demo.Events() }
