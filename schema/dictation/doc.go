// Package dictation reads what a person said after an operation and proposes
// values for the note, each with its place in the text. It never writes a note.
//
// The key type is [Reading]; its pieces in order are always the whole text. The
// words it knows stand beside the fields in schema/sections, items and units.json;
// this package knows how people talk, not which fields there are.
// A value denied, corrected, historical or intended is not proposed as present.
// The same words always give the same proposals: no clock, network or chance.
package dictation
