// Package fold makes the demo's notes from the notes the tests use.
package fold

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

var onPacket = regexp.MustCompile(`"(expires|made)":"(20)`)

// Notes reads the notes in dir and folds them into one file.
func Notes(dir string) ([]byte, error) {
	read := func(name string, change ...string) (json.RawMessage, error) {
		b, err := os.ReadFile(filepath.Join(dir, name+".json"))
		if err != nil {
			return nil, err
		}
		var small bytes.Buffer
		if err := json.Compact(&small, b); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		// No test note has a 29 February, so that years can be moved as text. What a
		// packet says of itself stays, as it must agree with its code.
		text := onPacket.ReplaceAllString(small.String(), `"$1":"~$2`)
		text = strings.NewReplacer(`"2026-`, `"2022-`, `"2027-`, `"2023-`, `"2028-`, `"2024-`, `"2029-`, `"2025-`,
			`"hospitalNumber":"`, `"hospitalNumber":"INVENTED `).Replace(text)
		text = strings.ReplaceAll(text, `:"~`, `:"`)
		for i := 0; i+1 < len(change); i += 2 {
			if !strings.Contains(text, change[i]) {
				return nil, fmt.Errorf("%s: has no %s to change", name, change[i])
			}
			text = strings.ReplaceAll(text, change[i], change[i+1])
		}
		return json.RawMessage(text), nil
	}
	var all struct {
		Journey []json.RawMessage `json:"journey"`
		Others  []json.RawMessage `json:"others"`
	}
	for _, name := range []string{"stage1", "closure", "shunt-revision", "stage2", "stage3"} {
		raw, err := read(name)
		if err != nil {
			return nil, err
		}
		all.Journey = append(all.Journey, raw)
	}
	for i, child := range [][]string{
		{"Testerby", "June", "INVENTED TX0048231", "2022-07-09", "0190a1b2-0000-7000-8000-00000001ca5e", "0190a1b2-0001-"},
		{"Sampleworth", "Olli", "INVENTED TX0050117", "2022-06-02", "0190a1b2-0000-7000-8000-00000002ca5e", "0190a1b2-0002-"},
	} {
		raw, err := read(filepath.Join("minimal", []string{"stage1", "stage2"}[i]),
			`"surname":"Testerby"`, `"surname":"`+child[0]+`","givenName":"`+child[1]+`"`,
			`"INVENTED TX0048213"`, `"`+child[2]+`"`, `"birthDate":"2022-07-08"`, `"birthDate":"`+child[3]+`"`,
			"0190a1b2-0000-7000-8000-00000000ca5e", "CASE", "0190a1b2-0000-", child[5], "CASE", child[4])
		if err != nil {
			return nil, err
		}
		all.Others = append(all.Others, raw)
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	err := enc.Encode(all)
	return bytes.ReplaceAll(out.Bytes(), []byte(`},{"format"`), []byte("},\n{\"format\"")), err
}
