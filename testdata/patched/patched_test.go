// Package patched holds what the browser build changes in gojsonschema against
// the module as it comes: the same verdicts and the same sentences, over the
// draft-07 suite that the module ships, and over our own schemas and every JSON
// document in testdata.
package patched

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"

	"github.com/xeipuuv/gojsonschema"
)

const answersEnv = "FAIRLEAD_ANSWERS"

// TestSameVerdictsAndSentences runs the corpus through both builds, each in a
// process of its own, and compares every answer.
func TestSameVerdictsAndSentences(t *testing.T) {
	if name := os.Getenv(answersEnv); name != "" {
		if err := os.WriteFile(name, answers(t), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	browserMod, err := filepath.Abs("../../.build/out/browser.mod")
	if err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("node", "../../.build/build.mjs", "modules").CombinedOutput(); err != nil {
		t.Fatalf("the changed modules cannot be made: %v\n%s", err, out)
	}
	plain := answersOf(t)
	changed := answersOf(t, "-modfile="+browserMod)
	if !bytes.Equal(plain, changed) {
		a, b := strings.Split(string(plain), "\n"), strings.Split(string(changed), "\n")
		for i := range min(len(a), len(b)) {
			if a[i] != b[i] {
				t.Fatalf("the builds differ, first here:\nplain:   %s\nchanged: %s", a[i], b[i])
			}
		}
		t.Fatalf("the builds gave %d and %d answers", len(a), len(b))
	}
	suite, own := 0, 0
	for _, line := range strings.Split(string(plain), "\n") {
		if strings.HasPrefix(line, "suite ") {
			suite++
		} else if strings.HasPrefix(line, "own ") {
			own++
		}
	}
	t.Logf("the same answer to %d cases of the module's suite and %d of our own", suite, own)
	if suite < 400 || own < 400 {
		t.Fatalf("only %d and %d answers: the corpus was not found", suite, own)
	}
	outside.Count(t, "gojsonschema v1.2.0 as published, its own draft-07 suite", suite)
}

func answersOf(t *testing.T, flags ...string) []byte {
	t.Helper()
	name := filepath.Join(t.TempDir(), "answers")
	cmd := exec.Command("go", append(append([]string{"test", "-count=1", "-run", "^TestSameVerdictsAndSentences$"}, flags...), ".")...)
	cmd.Env = append(os.Environ(), answersEnv+"="+name)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func answers(t *testing.T) []byte {
	var out bytes.Buffer
	moduleSuite(t, &out)
	ourOwn(t, &out)
	return out.Bytes()
}

// moduleSuite asks every case of the suite in the published module.
func moduleSuite(t *testing.T, out *bytes.Buffer) {
	version, err := exec.Command("go", "list", "-m", "-f", "{{.Version}}", "github.com/xeipuuv/gojsonschema").Output()
	if err != nil {
		t.Fatal(err)
	}
	about, err := exec.Command("go", "mod", "download", "-json", "github.com/xeipuuv/gojsonschema@"+strings.TrimSpace(string(version))).Output()
	if err != nil {
		t.Fatal(err)
	}
	var module struct{ Dir string }
	if err := json.Unmarshal(about, &module); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(module.Dir, "testdata", "draft7", "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("the module's draft-07 suite is not where it was: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var groups []struct {
			Description string
			Schema      json.RawMessage
			Tests       []struct{ Data json.RawMessage }
		}
		if err := json.Unmarshal(data, &groups); err != nil {
			t.Fatal(err)
		}
		for _, g := range groups {
			if bytes.Contains(g.Schema, []byte(`"http://localhost`)) {
				continue // loads over the network, which the browser build leaves out
			}
			s, err := gojsonschema.NewSchema(gojsonschema.NewBytesLoader(g.Schema))
			for i, c := range g.Tests {
				name := fmt.Sprintf("suite %s %s %d", filepath.Base(file), g.Description, i)
				if err != nil {
					fmt.Fprintf(out, "%s: %v\n", name, err)
					continue
				}
				answer(out, name, s, c.Data)
			}
		}
	}
}

// ourOwn asks about every JSON document in testdata under the schema of every
// kind of note, and about notes with a whole section of wrong values: most are
// wrong on purpose, which makes for many sentences.
func ourOwn(t *testing.T, out *bytes.Buffer) {
	var documents []string
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if d != nil && d.Name() == "node_modules" {
			return fs.SkipDir
		}
		if err == nil && strings.HasSuffix(path, ".json") && !d.IsDir() {
			if info, err := d.Info(); err == nil && info.Size() < 1<<20 {
				documents = append(documents, path)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range schema.Kinds() {
		s, err := gojsonschema.NewSchema(gojsonschema.NewBytesLoader(schema.Compose(kind.Kind)))
		if err != nil {
			t.Fatalf("the schema of %s does not compile: %v", kind.Kind, err)
		}
		for _, name := range documents {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			answer(out, "own "+string(kind.Kind)+" "+name, s, data)
		}
		for _, section := range schema.SectionsOf(kind.Kind) {
			for _, value := range []string{`"x"`, `""`, `-1`, `1e9`, `0.5`, `true`, `null`, `[]`, `["x","x"]`, `{}`, `[{}]`} {
				var fields []string
				for _, f := range section.Fields {
					fields = append(fields, fmt.Sprintf("%q:%s", f.Name, value))
				}
				note := fmt.Sprintf(`{"format":"fairlead-note/1","kind":%q,%q:{%s}}`, kind.Kind, section.Name, strings.Join(fields, ","))
				answer(out, "own "+string(kind.Kind)+" "+section.Name+" "+value, s, []byte(note))
			}
		}
	}
}

// answer writes one line: the verdict and every sentence, sorted, since the
// order of the module's errors varies between runs.
func answer(out *bytes.Buffer, name string, s *gojsonschema.Schema, document []byte) {
	result, err := s.Validate(gojsonschema.NewBytesLoader(document))
	if err != nil {
		fmt.Fprintf(out, "%s: not read: %v\n", name, err)
		return
	}
	var sentences []string
	for _, e := range result.Errors() {
		sentences = append(sentences, fmt.Sprintf("%q", e.String()))
	}
	sort.Strings(sentences)
	fmt.Fprintf(out, "%s: %t %s\n", name, result.Valid(), strings.Join(sentences, " "))
}
