//go:build !js

// The outside validators are other programs, which the browser's engine cannot start.

package schema_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/xeipuuv/gojsonschema"

	"fairlead/schema"
	"fairlead/schema/outside"
)

const (
	ajv     = "ajv 8.20.0, verdict on whole notes"
	second  = "github.com/santhosh-tekuri/jsonschema v6.0.3, verdict on whole notes"
	library = "gojsonschema v1.2.0 on the whole schema, beside our verdict by sections"

	// The whole schema is slow in gojsonschema: it judges one note in so many.
	sampled = 12
)

// Our verdict by sections, gojsonschema's on the whole composed schema, ajv's and
// a second Go library's are one, on generated notes and on notes changed in one
// place: every requirement, choice, range and condition turned over at least once,
// and thousands at random.
func TestVerdictsAgree(t *testing.T) {
	const seed = 2026_11_25
	random := 300
	if os.Getenv("FAIRLEAD_SOAK") != "" {
		random = 10_000
	}
	rnd := rand.New(rand.NewPCG(seed, 1))
	var notes []tree
	var work []judged
	counted := map[string]int{}
	seen := map[string]bool{}
	add := func(n tree) int { notes = append(notes, n); return len(notes) - 1 }
	for _, d := range schema.Kinds() {
		full := generated(rnd, d.Kind, 1)
		fl := flips{note: add(full), kind: d.Kind, counted: counted, seen: seen}
		fl.add("full "+string(d.Kind), 1)
		fl.whole(full)
		work = append(work, fl.out...)
		var starts []int
		for _, chance := range []float64{0.1, 0.5, 0.9, 0.9} {
			starts = append(starts, add(generated(rnd, d.Kind, chance)))
			work = append(work, judged{Note: starts[len(starts)-1], want: -1})
		}
		starts = append(starts, fl.note, fl.note, add(treeOf(t, committed(t, d.Kind))))
		for range random {
			i := starts[rnd.IntN(len(starts))]
			edits := []edit{mutation(rnd, notes[i])}
			if rnd.IntN(3) == 0 {
				edits = append(edits, mutation(rnd, notes[i]))
			}
			work = append(work, judged{Note: i, Edits: edits, want: -1})
		}
	}
	if len(work) < 10_000 {
		t.Fatalf("only %d notes to judge", len(work))
	}

	dir := t.TempDir()
	notesFile, editsFile := filepath.Join(dir, "notes"), filepath.Join(dir, "edits")
	writeLines(t, notesFile, notes)
	writeLines(t, editsFile, work)
	var wg sync.WaitGroup
	var fromAjv, fromSecond []string
	var ajvErr, secondErr error
	wg.Go(func() {
		fromAjv, ajvErr = verdictsOf("../testdata", "node", "outside/ajv.mjs", abs(t, "generated"), abs(t, "."), notesFile, editsFile)
	})
	wg.Go(func() {
		fromSecond, secondErr = verdictsOf("../testdata/outside/jsonschema", "go", "run", ".", abs(t, "generated"), notesFile, editsFile)
	})

	ours := make([]bool, len(work))
	wholes := wholeVerdicts(t, notes, work)
	for i, w := range work {
		n := notes[w.Note]
		kind := n["kind"]
		undo := apply(n, w.Edits)
		ours[i] = n["kind"] == kind && len(schema.Structure(schema.NoteOf(n))) == 0
		undo()
	}
	wg.Wait()
	if ajvErr != nil || secondErr != nil {
		t.Fatalf("ajv: %v; second: %v (is node there, and are testdata's packages installed?)", ajvErr, secondErr)
	}
	t.Logf("seed %d: %d notes, %s; ajv: %s", seed, len(work), summary(counted), fromAjv[0])
	fromAjv = fromAjv[1:]
	if len(fromAjv) != len(work) || len(fromSecond) != len(work) {
		t.Fatalf("%d notes, %d verdicts from ajv, %d from the second library", len(work), len(fromAjv), len(fromSecond))
	}
	fits, shown := 0, 0
	for i, w := range work {
		all := [4]bool{ours[i], ours[i], fromAjv[i] == "1", fromSecond[i] == "1"}
		if i%sampled == 0 {
			all[1] = wholes[i]
		}
		wrong := all != [4]bool{all[0], all[0], all[0], all[0]} || w.want >= 0 && all[0] != (w.want == 1)
		if wrong && shown < 20 {
			shown++
			t.Errorf("%s %s: ours, gojsonschema, ajv, second = %v, want %d\n%.300s", notes[w.Note]["kind"], w.why, all, w.want, mustJSON(w.Edits))
		}
		if all[0] {
			fits++
		}
	}
	if fits < len(work)/5 || fits > len(work)*4/5 {
		t.Errorf("%d of %d fit: too one-sided to tell anything", fits, len(work))
	}
	for _, what := range []string{"required", "answered", "condition", "enum", "range", "type", "pattern", "length", "list", "row", "item", "stated", "bound", "head"} {
		if counted[what] == 0 {
			t.Errorf("nothing of the sort %q was turned over", what)
		}
	}
	outside.Count(t, ajv, len(work))
	outside.Count(t, second, len(work))
	outside.Count(t, library, (len(work)+sampled-1)/sampled)
	outside.Count(t, "JSON Schema draft-07 metaschema, through ajv", len(schema.Kinds()))
}

// wholeVerdicts are gojsonschema's on the whole schemas, of one note in sampled, in
// as many goroutines as there are processors.
func wholeVerdicts(t *testing.T, notes []tree, work []judged) []bool {
	compiled := map[string]*gojsonschema.Schema{}
	for _, d := range schema.Kinds() {
		s, err := gojsonschema.NewSchema(gojsonschema.NewBytesLoader(schema.Compose(d.Kind)))
		if err != nil {
			t.Fatal(err)
		}
		compiled[string(d.Kind)] = s
	}
	out := make([]bool, len(work))
	var wg sync.WaitGroup
	workers := runtime.NumCPU()
	for w := range workers {
		own := make([]tree, len(notes))
		for i, n := range notes {
			own[i] = treeOf(t, schema.NoteOf(n))
		}
		wg.Go(func() {
			for i := w * sampled; i < len(work); i += workers * sampled {
				n := own[work[i].Note]
				s := compiled[n["kind"].(string)]
				undo := apply(n, work[i].Edits)
				r, err := s.Validate(gojsonschema.NewRawLoader(n))
				out[i] = err == nil && r.Valid()
				undo()
			}
		})
	}
	wg.Wait()
	return out
}

func treeOf(t *testing.T, n *schema.Note) tree {
	t.Helper()
	object, err := schema.ReadObject(n.JSON())
	if err != nil {
		t.Fatal(err)
	}
	return object
}

func verdictsOf(dir, name string, args ...string) ([]string, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOFLAGS=")
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("%w: %.500s", err, stderr.String())
	}
	return strings.Fields(string(out)), nil
}

func writeLines[T any](t *testing.T, file string, values []T) {
	t.Helper()
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	w := bufio.NewWriter(f)
	enc := json.NewEncoder(w)
	for _, v := range values {
		if err := enc.Encode(v); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

func abs(t *testing.T, path string) string {
	t.Helper()
	p, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func summary(counted map[string]int) string {
	var words []string
	for _, name := range []string{"required", "answered", "optional", "condition", "enum", "range", "type", "pattern", "length", "list", "row", "item", "stated", "bound", "head"} {
		words = append(words, fmt.Sprint(counted[name], " ", name))
	}
	return strings.Join(words, ", ")
}
