// Package schema says what a note is: the fields, where each is defined once,
// and the note itself, read through accessors and checked against JSON Schema.
//
// The key type is [Field]; every form, check, dictation word, sheet line and
// export reads it. The sources are kinds.json, units.json, sections/ and items/;
// the generator in gen/ folds them into generated/, which is what ships.
// A [Note] is a tree and keeps what this version does not know.
//
//	n := schema.NewNote(schema.Stage1, noteID, caseID)
//	n.Set(schema.SupportMode, "bypass")
//	problems := schema.Validate(n)
//
// The package knows no clock, no network and no browser.
package schema

//go:generate go run fairlead/schema/gen
