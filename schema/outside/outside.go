// Package outside counts the checks that hold the tool against something
// outside the project: a standard, a published table, an independent library.
//
// A test calls [Check] once for each comparison with the outside, beside the
// comparison itself:
//
//	outside.Check(t, "WHO child growth standards, daily tables")
//
// `make outside` prints how many there were, by source. Only tests import this
// package.
package outside

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// Env names the file that counts are appended to, one line "source TAB n" for
// each call. Unset, nothing is counted.
const Env = "FAIRLEAD_OUTSIDE"

// Check counts one comparison with the source, which is named as a reader would
// find it: title, year, edition, or the library with its version. It fails the
// test if the count cannot be written.
func Check(t testing.TB, source string) {
	t.Helper()
	Count(t, source, 1)
}

// Count counts n comparisons with the source at once, for tests that compare
// thousands in a loop.
func Count(t testing.TB, source string, n int) {
	t.Helper()
	if source == "" || strings.ContainsAny(source, "\t\n") {
		t.Fatalf("a source is named in one line without tabs, not %q", source)
	}
	name := os.Getenv(Env)
	if name == "" || n == 0 {
		return
	}
	f, err := os.OpenFile(name, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatalf("the outside check cannot be counted: %v", err)
	}
	_, err = fmt.Fprintf(f, "%s\t%d\n", source, n)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		t.Fatalf("the outside check cannot be counted: %v", err)
	}
}
