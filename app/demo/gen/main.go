// Gen folds the notes of testdata/notes into the demo's notes.json: the dates moved
// some years back so that none lies in the future, the hospital numbers marked, and
// two more children made of the small notes. Run it after changing those notes; a
// test finds what was forgotten.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"fairlead/app/demo/gen/fold"
)

func main() {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err == nil {
		dir := strings.TrimSpace(string(out))
		var b []byte
		if b, err = fold.Notes(filepath.Join(dir, "testdata", "notes")); err == nil {
			err = os.WriteFile(filepath.Join(dir, "app", "demo", "notes.json"), b, 0o644)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "demo/gen:", err)
		os.Exit(1)
	}
}
