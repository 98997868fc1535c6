// Command board writes the records of 60 invented children with 15 things each, as
// one file that the app opens.
package main

import (
	"fmt"
	"os"

	"fairlead/handover/ledger"
	"fairlead/testdata/bench/shift"
)

func main() {
	var all []ledger.Event
	for seed := range 60 {
		_, _, events, _ := shift.Events(byte(seed+1), 100)
		all = append(all, events...)
	}
	file, err := ledger.Export(all)
	if err == nil {
		_, err = os.Stdout.Write(file)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "board:", err)
		os.Exit(2)
	}
}
