package corpus

import (
	"fmt"
	"io"
	"strings"

	"fairlead/schema"
)

// WriteFields lists, for the people who write dictations, every field that one
// can fill: path, unit or values, and the kinds of note that have it.
func WriteFields(w io.Writer) {
	fmt.Fprint(w, "# What a dictation can fill\n\nWritten by `go run ./schema/dictation/score -fields`. One line a field: path, unit or\nvalues, what it is. `none` after the values: the field can be said to be none.\nKinds in square brackets: only notes of those kinds have it.\n")
	in := map[string][]string{}
	for _, k := range schema.Kinds() {
		for _, s := range k.Sections {
			in[s] = append(in[s], string(k.Kind))
		}
	}
	seen := map[string]bool{}
	for _, k := range schema.Kinds() {
		for _, s := range schema.SectionsOf(k.Kind) {
			if seen[s.Name] {
				continue
			}
			seen[s.Name] = true
			fmt.Fprintf(w, "\n## %s: %s\n\n", s.Name, s.Title)
			if len(in[s.Name]) < len(schema.Kinds()) {
				fmt.Fprintf(w, "Only in notes of kind %s.\n\n", strings.Join(in[s.Name], ", "))
			}
			for _, f := range s.Fields {
				writeField(w, f, "")
				for _, r := range f.Rows {
					writeField(w, r, "  ")
				}
			}
		}
	}
	fmt.Fprint(w, "\n# What can be left in the child\n")
	for i, k := range schema.ItemKinds() {
		fmt.Fprintf(w, "\n## item %s: %s\n\n", k.Name, k.Title)
		every := map[string]bool{"site": true, "exit": true, "tip": true, "placedWhere": true}
		for _, f := range k.Fields {
			if every[f.Name] || f.Type == "rows" || i > 0 && common[f.Name] || textual(f) {
				continue
			}
			writeField(w, f, "")
		}
	}
}

// common are the attributes of every item, listed with the first kind only.
var common = map[string]bool{"side": true, "tipProof": true, "state": true, "movedTo": true, "fixation": true,
	"visible": true, "radiopaque": true, "mri": true, "placed": true, "outBy": true, "notBefore": true}

// textual tells whether a field holds free text, a name or a calendar date,
// which are not scored.
func textual(f *schema.Field) bool {
	if f.Type != "string" || len(f.Enum) > 0 {
		return false
	}
	return f.Format != "moment" && f.Format != "clock" && f.Format != "item"
}

func writeField(w io.Writer, f *schema.Field, indent string) {
	name := string(f.Path)
	if indent != "" || f.Path.Section() == "items" {
		name = f.Name
	}
	var of string
	switch {
	case f.Type == "rows":
		of = "rows:"
	case textual(f) && f.Format == "":
		of = "text"
	case textual(f):
		of = f.Format
	case len(f.Enum) > 0:
		of = strings.Join(f.Enum, " | ")
		if f.Type == "list" {
			of = "any of " + of
		}
	case f.Numeric():
		of = f.Type + " " + f.Unit
	case f.Format == "moment":
		of = "clock time"
	case f.Type == "boolean":
		of = "true | false"
	default:
		of = f.Format
	}
	if f.None != "" {
		of += " (none: " + f.None + ")"
	}
	kinds := ""
	if len(f.Kinds) > 0 {
		kinds = fmt.Sprintf(" %v", f.Kinds)
	}
	fmt.Fprintf(w, "%s- `%s` %s; %s%s\n", indent, name, strings.TrimSpace(of), f.Title, kinds)
}
