// Gen folds the definitions in schema/ into what ships (generated/definitions.json,
// minified), what code names (paths_gen.go) and what outside validators read
// (generated/<kind>.schema.json). Run it from anywhere in the module after every
// change to a definition; a test finds what was forgotten.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"fairlead/schema/gen/fold"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "gen:", err)
		os.Exit(1)
	}
}

func run() error {
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}").Output()
	if err != nil {
		return err
	}
	dir := filepath.Join(strings.TrimSpace(string(out)), "schema")
	files, err := fold.Definitions(dir)
	if err != nil {
		return err
	}
	if err := fold.Write(dir, files); err != nil {
		return err
	}
	// The composed schemas come from the definitions just written, so from a
	// program built after them.
	cmd := exec.Command("go", "run", "fairlead/schema/gen/compose")
	cmd.Dir, cmd.Stdout, cmd.Stderr = filepath.Dir(dir), os.Stdout, os.Stderr
	return cmd.Run()
}
