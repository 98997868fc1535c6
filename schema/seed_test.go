package schema_test

import (
	"flag"
	"os"
)

// The same draws each time, so that a red test is red for everybody; the long run
// draws anew and prints the seed of what fails. The command line still wins.
func init() {
	if os.Getenv("FAIRLEAD_SOAK") != "" {
		return
	}
	if err := flag.Set("rapid.seed", "20261125"); err != nil {
		panic(err)
	}
}
