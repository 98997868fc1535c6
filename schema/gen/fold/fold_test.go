package fold_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fairlead/schema"
	"fairlead/schema/gen/fold"
)

const dir = "../.."

// What ships was made from the definitions as they are now: go generate ./schema
// was run, and nobody wrote into a generated file.
func TestGeneratedFilesAreUpToDate(t *testing.T) {
	files, err := fold.Definitions(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range schema.Kinds() {
		files["generated/"+string(k.Kind)+".schema.json"] = fold.Lines(schema.Compose(k.Kind), 4)
	}
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not what the definitions make of it (%v): run go generate ./schema", name, err)
		}
	}
	there, err := filepath.Glob(filepath.Join(dir, "generated", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range there {
		if _, ok := files["generated/"+filepath.Base(file)]; !ok {
			t.Errorf("%s is made from nothing: take it out", file)
		}
	}
}

// Folding drops what only writers of definitions need, and nothing else.
func TestNothingOfADefinitionIsLost(t *testing.T) {
	sources, err := filepath.Glob(filepath.Join(dir, "sections", "*.json"))
	if err != nil || len(sources) < 30 {
		t.Fatal(len(sources), err)
	}
	folded, err := fold.Definitions(dir)
	if err != nil {
		t.Fatal(err)
	}
	var bundle struct {
		Sections map[string]any `json:"sections"`
	}
	if err := json.Unmarshal(folded["generated/definitions.json"], &bundle); err != nil {
		t.Fatal(err)
	}
	var strip func(v any) any
	strip = func(v any) any {
		switch v := v.(type) {
		case map[string]any:
			for _, dropped := range []string{"x-clinical", "$schema", "x-comment"} {
				delete(v, dropped)
			}
			for _, x := range v {
				strip(x)
			}
		case []any:
			for _, x := range v {
				strip(x)
			}
		}
		return v
	}
	for _, file := range sources {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var source any
		if err := json.Unmarshal(b, &source); err != nil {
			t.Fatal(err)
		}
		want, _ := json.Marshal(strip(source))
		got, _ := json.Marshal(bundle.Sections[strings.TrimSuffix(filepath.Base(file), ".json")])
		if !bytes.Equal(got, want) {
			t.Errorf("%s is folded into another thing", file)
		}
	}
}

func TestLinesChangeNothingButWhiteSpace(t *testing.T) {
	for _, text := range []string{`{"a":[1,{"b":"x, y: {z}"}],"c":{}}`, `[]`, `{"a\"b":"\\"}`} {
		for depth := range 5 {
			var out bytes.Buffer
			if err := json.Compact(&out, fold.Lines([]byte(text), depth)); err != nil || strings.TrimSpace(out.String()) != text {
				t.Errorf("%s in lines to depth %d is %s, %v", text, depth, out.String(), err)
			}
		}
	}
}
