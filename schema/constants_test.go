package schema_test

import (
	"os"
	"regexp"
	"testing"

	"fairlead/schema"
)

// Every constant that names a field leads to its definition, and back.
func TestEveryConstantLeadsToItsField(t *testing.T) {
	b, err := os.ReadFile("paths_gen.go")
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`(?m)^\t(\w+)\s+Path = "(.+)"$`).FindAllStringSubmatch(string(b), -1)
	if len(named) < 700 {
		t.Fatalf("only %d constants", len(named))
	}
	for _, c := range named {
		f := schema.FieldAt(schema.Path(c[2]))
		if f == nil || string(f.Path) != c[2] {
			t.Errorf("%s = %q leads to %+v", c[1], c[2], f)
		}
	}
	for _, p := range []schema.Path{"", "child", "child.nothing", "nothing.surname", "child.surname.x", "support.runs.on", "items.drain", "items.nothing.size", "items.drain.size.x.y", "items.drain.size.x", "support.runs.*.on.x"} {
		if f := schema.FieldAt(p); f != nil {
			t.Errorf("%q leads to %s", p, f.Path)
		}
	}
}
