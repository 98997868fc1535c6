package schema_test

import (
	"encoding/json"
	"os"
	"reflect"
	"strings"
	"testing"

	"fairlead/schema"
)

// The reader of the definitions reads what encoding/json reads, all of it, and
// keeps the order of members.
func TestDefinitionsAreReadAsEncodingJSONReadsThem(t *testing.T) {
	texts := []string{`{"b":1,"a":[true,null,-1.5e3,"x"],"c":{}}`, `[]`, ` [ {"q" : "a\"b\\" , "r":"é\n"} , [ [ ] ] ] `, `"}{]["`, `{"a":"\\"}`}
	b, err := os.ReadFile("generated/definitions.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range append(texts, string(b)) {
		var want any
		if err := json.Unmarshal([]byte(text), &want); err != nil {
			t.Fatal(err)
		}
		got, names, err := schema.ReadOrdered(text)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%.60s is read as %.200v, %v", text, got, err)
		}
		if strings.HasPrefix(text, `{"b"`) && strings.Join(names, "") != "bac" {
			t.Errorf("members in the order %v", names)
		}
		shallow, err := schema.PassOver(text)
		if err != nil || shallow != strings.TrimSpace(text) {
			t.Errorf("%.60s is passed over as %.60s, %v", text, shallow, err)
		}
	}
	for _, text := range []string{"", "{", `{"a"`, `{"a":`, `{"a":1`, `[1`, `"a`, `{"a":1}}`, `{a:1}`, `{"a" 1}`, `["a\`} {
		if got, _, err := schema.ReadOrdered(text); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}
