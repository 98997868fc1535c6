// Jsonschema judges whole notes with github.com/santhosh-tekuri/jsonschema/v6, in
// one process, as ../ajv.mjs does with ajv: the same arguments but for the
// definitions, the same verdicts out.
package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

func main() {
	if err := run(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(generated, notesFile, editsFile string) error {
	files, err := filepath.Glob(filepath.Join(generated, "*.schema.json"))
	if err != nil {
		return err
	}
	compiled := map[string]*jsonschema.Schema{}
	for _, file := range files {
		f, err := os.Open(file)
		if err != nil {
			return err
		}
		doc, err := jsonschema.UnmarshalJSON(f)
		f.Close()
		if err != nil {
			return err
		}
		c := jsonschema.NewCompiler() // checks against the metaschema
		c.DefaultDraft(jsonschema.Draft7)
		if err := c.AddResource(file, doc); err != nil {
			return err
		}
		kind := strings.TrimSuffix(filepath.Base(file), ".schema.json")
		if compiled[kind], err = c.Compile(file); err != nil {
			return err
		}
	}
	edits, err := lines(editsFile)
	if err != nil {
		return err
	}
	verdicts := make([]byte, len(edits))
	const workers = 2
	var wg sync.WaitGroup
	for w := range workers {
		notes, err := lines(notesFile) // its own, because the edits change them
		if err != nil {
			return err
		}
		kinds := make([]string, len(notes))
		for i, n := range notes {
			kinds[i] = n.(map[string]any)["kind"].(string)
		}
		wg.Go(func() {
			for i := w; i < len(edits); i += workers {
				e := edits[i].(map[string]any)
				at, _ := e["note"].(json.Number).Int64()
				list, _ := e["edits"].([]any)
				undo := apply(notes[at], list)
				verdicts[i] = '0'
				if compiled[kinds[at]].Validate(notes[at]) == nil {
					verdicts[i] = '1'
				}
				undo()
			}
		})
	}
	wg.Wait()
	out := bufio.NewWriter(os.Stdout)
	for _, v := range verdicts {
		out.WriteByte(v)
		out.WriteByte('\n')
	}
	return out.Flush()
}

func lines(file string) ([]any, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	dec := json.NewDecoder(f)
	dec.UseNumber()
	var out []any
	for dec.More() {
		var v any
		if err := dec.Decode(&v); err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

func child(at, step any) any {
	switch m := at.(type) {
	case map[string]any:
		if name, ok := step.(string); ok {
			return m[name]
		}
	case []any:
		if n, ok := step.(json.Number); ok {
			if i, err := n.Int64(); err == nil && int(i) < len(m) {
				return m[i]
			}
		}
	}
	return nil
}

func apply(note any, edits []any) (undo func()) {
	var undos []func()
	for _, e := range edits {
		e := e.(map[string]any)
		way := e["at"].([]any)
		del, _ := e["del"].(bool)
		holder := note
		for _, step := range way[:len(way)-1] {
			holder = child(holder, step)
		}
		switch m := holder.(type) {
		case map[string]any:
			name, ok := way[len(way)-1].(string)
			if !ok {
				continue
			}
			was, had := m[name]
			undos = append(undos, func() {
				if had {
					m[name] = was
				} else {
					delete(m, name)
				}
			})
			if del {
				delete(m, name)
			} else {
				m[name] = e["set"]
			}
		case []any:
			n, ok := way[len(way)-1].(json.Number)
			i, err := n.Int64()
			if !ok || err != nil || int(i) >= len(m) || del {
				continue
			}
			was := m[i]
			undos = append(undos, func() { m[i] = was })
			m[i] = e["set"]
		}
	}
	return func() {
		for i := len(undos) - 1; i >= 0; i-- {
			undos[i]()
		}
	}
}
