// Package fold reads the definitions as they are written and makes the files
// generated from them.
package fold

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"go/format"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
)

// dropped are the words that serve the people who write definitions, not the
// program: they do not ship.
var dropped = []string{"x-clinical", "$schema", "x-comment"}

// unsaid are, besides, the words that only the reader of dictations reads, and where
// a range comes from, which no screen shows: the screens ship without them.
var unsaid = append([]string{"x-source", "x-spoken", "x-spoken-values", "x-spoken-frames", "x-spoken-as"}, dropped...)

// Definitions makes, from the sources in dir, the bundle that ships and the path
// constants. The result maps file names under dir to contents.
func Definitions(dir string) (map[string][]byte, error) {
	var bundle struct {
		Version  string                     `json:"version"`
		Kinds    json.RawMessage            `json:"kinds"`
		Units    json.RawMessage            `json:"units"`
		Sections map[string]json.RawMessage `json:"sections"`
		Items    []json.RawMessage          `json:"items"`
	}
	read := func(name string) (json.RawMessage, error) {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, err
		}
		return minify(name, b)
	}
	var err error
	if bundle.Kinds, err = read("kinds.json"); err != nil {
		return nil, err
	}
	if bundle.Units, err = read("units.json"); err != nil {
		return nil, err
	}
	bundle.Sections = map[string]json.RawMessage{}
	consts := map[string]string{}
	sectionFiles, err := filepath.Glob(filepath.Join(dir, "sections", "*.json"))
	if err != nil {
		return nil, err
	}
	for _, file := range sectionFiles {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		raw, err := read(filepath.Join("sections", filepath.Base(file)))
		if err != nil {
			return nil, err
		}
		bundle.Sections[name] = raw
		if err := constants(consts, raw, name, ""); err != nil {
			return nil, fmt.Errorf("sections/%s.json: %w", name, err)
		}
	}
	every, err := read(filepath.Join("items", "_every.json"))
	if err != nil {
		return nil, err
	}
	itemFiles, err := filepath.Glob(filepath.Join(dir, "items", "*.json"))
	if err != nil {
		return nil, err
	}
	type ordered struct {
		order int
		raw   json.RawMessage
	}
	var kinds []ordered
	for _, file := range itemFiles {
		name := strings.TrimSuffix(filepath.Base(file), ".json")
		if name == "_every" {
			continue
		}
		raw, err := read(filepath.Join("items", filepath.Base(file)))
		if err != nil {
			return nil, err
		}
		joined, order, err := joinItem(name, raw, every)
		if err != nil {
			return nil, fmt.Errorf("items/%s.json: %w", name, err)
		}
		kinds = append(kinds, ordered{order, joined})
		if err := constants(consts, joined, "items."+name, ""); err != nil {
			return nil, fmt.Errorf("items/%s.json: %w", name, err)
		}
	}
	slices.SortStableFunc(kinds, func(a, b ordered) int { return a.order - b.order })
	for _, k := range kinds {
		bundle.Items = append(bundle.Items, k.raw)
	}
	body, err := marshal(bundle)
	if err != nil {
		return nil, err
	}
	bundle.Version = fmt.Sprintf("%x", sha256.Sum256(body))[:12]
	if body, err = marshal(bundle); err != nil {
		return nil, err
	}
	code, err := goConstants(consts)
	if err != nil {
		return nil, err
	}
	var screen bytes.Buffer
	if err := minifyValue(&screen, body, unsaid); err != nil {
		return nil, err
	}
	return map[string][]byte{"generated/definitions.json": Lines(body, 2), "generated/screen.json": Lines(screen.Bytes(), 2), "paths_gen.go": code}, nil
}

func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// Lines breaks minified JSON behind every member down to the given depth, so that
// a change to one field shows as a change to one line.
func Lines(b []byte, depth int) []byte {
	var out bytes.Buffer
	level, inString := 0, false
	for i := 0; i < len(b); i++ {
		c := b[i]
		out.WriteByte(c)
		switch {
		case inString && c == '\\':
			i++
			out.WriteByte(b[i])
		case c == '"':
			inString = !inString
		case inString:
		case c == '{' || c == '[':
			level++
		case c == '}' || c == ']':
			level--
		case c == ',' && level <= depth:
			out.WriteByte('\n')
		}
	}
	out.WriteByte('\n')
	return out.Bytes()
}

// Write puts the files in place, leaving those that are right untouched.
func Write(dir string, files map[string][]byte) error {
	for name, data := range files {
		path := filepath.Join(dir, name)
		if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, data) {
			continue
		}
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// minify drops white space and the words that do not ship, keeping the order of
// members, which is the order of the form.
func minify(name string, b []byte) (json.RawMessage, error) {
	var out bytes.Buffer
	if err := minifyValue(&out, b, dropped); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return out.Bytes(), nil
}

func minifyValue(out *bytes.Buffer, b []byte, dropped []string) error {
	b = bytes.TrimSpace(b)
	if len(b) > 0 && b[0] == '[' {
		var list []json.RawMessage
		if err := json.Unmarshal(b, &list); err != nil {
			return err
		}
		out.WriteByte('[')
		for i, raw := range list {
			if i > 0 {
				out.WriteByte(',')
			}
			if err := minifyValue(out, raw, dropped); err != nil {
				return err
			}
		}
		out.WriteByte(']')
		return nil
	}
	if len(b) == 0 || b[0] != '{' {
		return json.Compact(out, b)
	}
	out.WriteByte('{')
	first := true
	err := eachMember(b, func(name string, raw json.RawMessage) error {
		if slices.Contains(dropped, name) {
			return nil
		}
		if !first {
			out.WriteByte(',')
		}
		first = false
		key, _ := json.Marshal(name)
		out.Write(key)
		out.WriteByte(':')
		return minifyValue(out, raw, dropped)
	})
	out.WriteByte('}')
	return err
}

func eachMember(object []byte, do func(name string, raw json.RawMessage) error) error {
	dec := json.NewDecoder(bytes.NewReader(object))
	if _, err := dec.Token(); err != nil {
		return err
	}
	for dec.More() {
		t, err := dec.Token()
		if err != nil {
			return err
		}
		var raw json.RawMessage
		if err := dec.Decode(&raw); err != nil {
			return err
		}
		if err := do(t.(string), raw); err != nil {
			return err
		}
	}
	_, err := dec.Token()
	return err
}

// joinItem puts the attributes every item has behind those of the kind; the
// kind's own definition of an attribute wins.
func joinItem(name string, raw, every json.RawMessage) (json.RawMessage, int, error) {
	var kind struct {
		Title       string          `json:"title"`
		Description string          `json:"description,omitempty"`
		Name        string          `json:"x-name"`
		Item        json.RawMessage `json:"x-item"`
		Properties  json.RawMessage `json:"properties"`
	}
	if err := json.Unmarshal(raw, &kind); err != nil {
		return nil, 0, err
	}
	var about struct {
		Order   int      `json:"order"`
		Without []string `json:"without"`
	}
	if err := json.Unmarshal(kind.Item, &about); err != nil {
		return nil, 0, fmt.Errorf("x-item: %w", err)
	}
	kind.Name = name
	var props bytes.Buffer
	props.WriteByte('{')
	seen := map[string]bool{}
	add := func(member string, v json.RawMessage) error {
		if seen[member] || slices.Contains(about.Without, member) {
			return nil
		}
		if len(seen) > 0 {
			props.WriteByte(',')
		}
		seen[member] = true
		key, _ := json.Marshal(member)
		props.Write(key)
		props.WriteByte(':')
		props.Write(v)
		return nil
	}
	if err := eachMember(kind.Properties, add); err != nil {
		return nil, 0, err
	}
	var all struct {
		Properties json.RawMessage `json:"properties"`
	}
	if err := json.Unmarshal(every, &all); err != nil {
		return nil, 0, err
	}
	if err := eachMember(all.Properties, add); err != nil {
		return nil, 0, err
	}
	props.WriteByte('}')
	kind.Properties = props.Bytes()
	b, err := marshal(kind)
	return b, about.Order, err
}

// constants collects a Go name for every field path.
func constants(into map[string]string, raw json.RawMessage, prefix, row string) error {
	var o struct {
		Properties json.RawMessage `json:"properties"`
		Items      json.RawMessage `json:"items"`
	}
	if err := json.Unmarshal(raw, &o); err != nil {
		return err
	}
	if o.Properties == nil {
		return fmt.Errorf("no properties")
	}
	return eachMember(o.Properties, func(name string, field json.RawMessage) error {
		path := prefix + row + "." + name
		id := goName(path)
		if was, ok := into[id]; ok && was != path {
			return fmt.Errorf("%s and %s would both be called %s in Go: rename one", was, path, id)
		}
		into[id] = path
		var f struct {
			Type  string          `json:"type"`
			Items json.RawMessage `json:"items"`
		}
		if err := json.Unmarshal(field, &f); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		if f.Type == "array" && bytes.Contains(f.Items, []byte(`"properties"`)) {
			return constants(into, f.Items, path, ".*")
		}
		return nil
	})
}

// goName turns "support.runs.*.on" into SupportRunsOn, "items.drain.size" into
// ItemDrainSize.
func goName(path string) string {
	path = strings.Replace(path, "items.", "item.", 1)
	var b strings.Builder
	up := true
	for _, r := range path {
		switch {
		case r == '.' || r == '-' || r == '*':
			up = true
		case up:
			b.WriteRune(unicode.ToUpper(r))
			up = false
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func goConstants(consts map[string]string) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("// Code generated by schema/gen from the definitions; DO NOT EDIT.\n\npackage schema\n\n// The general path of every field: code that names a field stops compiling when\n// the field is renamed.\nconst (\n")
	for _, name := range slices.Sorted(maps.Keys(consts)) {
		fmt.Fprintf(&b, "\t%s Path = %q\n", name, consts[name])
	}
	b.WriteString(")\n")
	return format.Source(b.Bytes())
}
