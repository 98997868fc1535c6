package ledger_test

import (
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/ledger/logtest"
)

func TestMemoryLog(t *testing.T) {
	logtest.Run(t, func(*testing.T) ledger.Log { return ledger.NewMemory() })
}
