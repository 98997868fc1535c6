package schema

import (
	"encoding/json"
	"slices"
)

// Composition: from the fields' definitions to plain draft-07. It keeps to the
// subset on which gojsonschema, ajv and santhosh-tekuri/jsonschema agree.

type object = map[string]any

const (
	momentPattern = `^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])T([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9])?(Z|[+-]([01][0-9]|2[0-3]):[0-5][0-9](\[[A-Za-z0-9_+/-]+\])?)$`
	datePattern   = `^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$`
	clockPattern  = `^([01][0-9]|2[0-3]):[0-5][0-9]$`
	digitsPattern = `^[0-9]+$`
	idPattern     = `^[A-Za-z0-9_-]{1,64}$` // no dot: an id is a part of a path
)

// The longest text a field takes, in characters.
const (
	maxText     = 2000
	maxLongText = 20000
	maxRows     = 200
)

// fieldSchema is the draft-07 schema of one value in notes of kind k.
func fieldSchema(f *Field, k Kind) object {
	o := object{"title": f.Title}
	switch f.Type {
	case "rows":
		o["type"] = "array"
		o["minItems"], o["maxItems"] = 1, maxRows
		row := objectSchema(f.Rows, k, true)
		row["required"] = []string{"id"}
		o["items"] = row
		return o
	case "list":
		of := object{"type": "string"}
		if len(f.Enum) > 0 {
			of["enum"] = f.Enum
		} else {
			of["maxLength"] = maxText
		}
		o["type"], o["items"], o["uniqueItems"], o["minItems"] = "array", of, true, 1
		return o
	}
	o["type"] = f.Type
	if f.Min != nil {
		o["minimum"] = *f.Min
	}
	if f.Max != nil {
		o["maximum"] = *f.Max
	}
	if len(f.Enum) > 0 {
		o["enum"] = f.Enum
	}
	if f.Type == "string" && len(f.Enum) == 0 {
		switch f.Format {
		case "moment":
			o["pattern"] = momentPattern
		case "date":
			o["pattern"] = datePattern
		case "clock":
			o["pattern"] = clockPattern
		case "digits":
			o["pattern"] = digitsPattern
		}
		switch {
		case f.MaxLen > 0:
			o["maxLength"] = f.MaxLen
		case f.Format == "long-text":
			o["maxLength"] = maxLongText
		default:
			o["maxLength"] = maxText
		}
	}
	return o
}

// answered is the schema "field has a value or a stated answer".
func answered(name string) object {
	return object{"anyOf": []any{
		object{"required": []string{name}},
		object{"required": []string{statedName}, "properties": object{statedName: object{"type": "object", "required": []string{name}}}},
	}}
}

// ifHolds is the schema "the sibling field satisfies the condition".
func ifHolds(c Condition, sibling string, list bool) object {
	match := func(values []any) object {
		if list {
			return object{"type": "array", "contains": object{"enum": values}}
		}
		return object{"enum": values}
	}
	o := object{"required": []string{sibling}}
	if c.In != nil {
		o["properties"] = object{sibling: match(c.In)}
	} else {
		o["not"] = object{"properties": object{sibling: match(c.NotIn)}}
	}
	return o
}

// siblingOf is the field of the same object a condition looks at, or "".
func siblingOf(c Condition, section string, inRow bool) string {
	if s := string(c.Field); s[0] == '.' {
		return s[1:]
	}
	if !inRow && c.Field.Section() == section {
		return c.Field.Last()
	}
	return ""
}

// wanted tells whether notes of kind k ask for the field, conditions aside.
func wanted(f *Field, k Kind) bool { return f.In(k) && f.Required.By(k) }

// objectSchema is the schema of a section, a row or an item in notes of kind k.
func objectSchema(fields []*Field, k Kind, inRow bool) object {
	props := object{
		statedName: object{"type": "object", "additionalProperties": object{"enum": StatedAnswers()}},
		boundName:  object{"type": "object", "additionalProperties": object{"enum": []string{"<", ">"}}},
	}
	if inRow {
		props["id"] = object{"type": "string", "pattern": idPattern}
	}
	var all []any
	for _, f := range fields {
		if !f.In(k) {
			continue
		}
		props[f.Name] = fieldSchema(f, k)
		if wanted(f, k) && localConditions(f, inRow) {
			all = append(all, requireWhen(f, f.When, fields, inRow))
		}
	}
	o := object{"type": "object", "properties": props}
	if len(all) > 0 {
		o["allOf"] = all
	}
	return o
}

// requireWhen is the schema "if these conditions on siblings hold, the field is
// answered".
func requireWhen(f *Field, conditions []Condition, siblings []*Field, inRow bool) object {
	if len(conditions) == 0 {
		return answered(f.Name)
	}
	var conds []any
	for _, c := range conditions {
		sib := siblingOf(c, f.Section, inRow)
		target := fieldNamed(siblings, sib)
		conds = append(conds, ifHolds(c, sib, target != nil && target.Type == "list"))
	}
	var when any = object{"allOf": conds}
	if len(conds) == 1 {
		when = conds[0]
	}
	return object{"if": when, "then": answered(f.Name)}
}

// requireAcross is the same for a field with conditions on other sections: it
// stands at the root of the note, and place puts what is wanted where the field
// is; needed says that it is wanted even where nothing stands there yet.
func requireAcross(f *Field, siblings []*Field, inRow bool, place func(o object, needed bool) object) object {
	var local []Condition
	var across []any
	for _, c := range f.When {
		if siblingOf(c, f.Section, inRow) != "" {
			local = append(local, c)
			continue
		}
		target := FieldAt(c.Field)
		sec := c.Field.Section()
		holds := ifHolds(c, c.Field.Last(), target != nil && target.Type == "list")
		holds["type"] = "object"
		across = append(across, object{"required": []string{sec}, "properties": object{sec: holds}})
	}
	return object{"if": object{"allOf": across}, "then": place(requireWhen(f, local, siblings, inRow), len(local) == 0)}
}

func localConditions(f *Field, inRow bool) bool {
	return !slices.ContainsFunc(f.When, func(c Condition) bool { return siblingOf(c, f.Section, inRow) == "" })
}

// sectionSchema is the schema of one section in notes of kind k.
func sectionSchema(s *Section, k Kind) object { return objectSchema(s.Fields, k, false) }

// itemSchema is the schema of one item in notes of kind k.
func itemSchema(it *ItemKind, k Kind) object {
	o := objectSchema(it.Fields, k, true)
	o["properties"].(object)["kind"] = object{"const": it.Name}
	o["properties"].(object)["tag"] = object{"type": "integer", "minimum": 1, "maximum": 9999}
	o["required"] = []string{"id", "kind", "tag"}
	return o
}

// inSection puts a schema in the place of a section.
func inSection(name string, required bool, o object) object {
	o["type"] = "object"
	placed := object{"properties": object{name: o}}
	if required {
		placed["required"] = []string{name}
	}
	return placed
}

// Compose is the whole-note draft-07 schema of a kind, for validators outside
// this program. Its verdict is the one [Structure] reaches section by section.
func Compose(k Kind) []byte {
	props := object{
		"format": object{"type": "string", "pattern": `^fairlead-note/[0-9]+$`},
		"kind":   object{"const": string(k)},
		"note":   object{"type": "string", "minLength": 1, "maxLength": 64},
		"case":   object{"type": "string", "minLength": 1, "maxLength": 64},
		"schema": object{"type": "string", "maxLength": 64},
		"answers": object{"type": "array", "items": object{"type": "object", "required": []string{"rule", "path", "answer", "by"},
			"properties": object{"rule": object{"type": "string"}, "path": object{"type": "string"},
				"answer": object{"type": "string"}, "by": object{"type": "string"}, "why": object{"type": "string"}, "saw": object{"type": "string"}}}},
	}
	var all []any
	for _, s := range SectionsOf(k) {
		props[s.Name] = sectionSchema(s, k)
		always := false
		for _, f := range s.Fields {
			if wanted(f, k) && len(f.When) == 0 {
				always = true
			}
			if wanted(f, k) && !localConditions(f, false) {
				all = append(all, requireAcross(f, s.Fields, false, func(o object, needed bool) object {
					return inSection(s.Name, needed, o)
				}))
			}
			if !f.In(k) {
				continue
			}
			for _, rf := range f.Rows {
				if wanted(rf, k) && !localConditions(rf, true) {
					all = append(all, requireAcross(rf, f.Rows, true, func(o object, _ bool) object {
						o["type"] = "object"
						return inSection(s.Name, false, object{"type": "object",
							"properties": object{f.Name: object{"type": "array", "items": o}}})
					}))
				}
			}
		}
		if always {
			all = append(all, object{"required": []string{s.Name}})
		}
	}
	defs := object{}
	var byKind []any
	for _, it := range ItemKinds() {
		defs["item-"+it.Name] = itemSchema(it, k)
		named := object{"required": []string{"kind"}, "properties": object{"kind": object{"const": it.Name}}}
		byKind = append(byKind, object{"if": named, "then": object{"$ref": "#/definitions/item-" + it.Name}})
		for _, f := range it.Fields {
			if wanted(f, k) && !localConditions(f, true) {
				all = append(all, requireAcross(f, it.Fields, true, func(o object, _ bool) object {
					return object{"properties": object{itemsName: object{"type": "array",
						"items": object{"type": "object", "if": named, "then": o}}}}
				}))
			}
		}
	}
	props[itemsName] = object{"type": "array", "maxItems": maxRows * 5, "items": object{"type": "object",
		"required": []string{"id", "kind", "tag"}, "properties": object{"kind": object{"type": "string"}}}}
	if len(byKind) > 0 {
		props[itemsName].(object)["items"].(object)["allOf"] = byKind
	}
	title := string(k)
	if d := KindNamed(k); d != nil {
		title = d.Title
	}
	o := object{
		"$schema": "http://json-schema.org/draft-07/schema#", "$id": "fairlead:note/" + string(k), "title": title,
		"type": "object", "required": []string{"format", "kind", "note", "case"}, "properties": props, "definitions": defs,
	}
	if len(all) > 0 {
		o["allOf"] = all
	}
	b, err := json.Marshal(o)
	if err != nil {
		panic("schema: compose: " + err.Error())
	}
	return b
}
