// Compose writes the whole-note schema of every kind beside the definitions.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"fairlead/schema"
	"fairlead/schema/gen/fold"
)

func main() {
	files := map[string][]byte{}
	for _, k := range schema.Kinds() {
		files[filepath.Join("generated", string(k.Kind)+".schema.json")] = fold.Lines(schema.Compose(k.Kind), 4)
	}
	if err := fold.Write("schema", files); err != nil {
		fmt.Fprintln(os.Stderr, "compose:", err)
		os.Exit(1)
	}
}
