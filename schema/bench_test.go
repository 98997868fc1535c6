package schema_test

import (
	"encoding/json"
	"os"
	"strconv"
	"testing"

	"fairlead/schema"
)

// full is the committed full stage-1 note.
func full(b *testing.B) *schema.Note {
	b.Helper()
	data, err := os.ReadFile("../testdata/notes/stage1.json")
	if err != nil {
		b.Fatal(err)
	}
	n, _, err := schema.ParseNote(data)
	if err != nil {
		b.Fatal(err)
	}
	return n
}

// A keystroke: one section, its content new each time.
func BenchmarkFigureValidateChangedSection(b *testing.B) {
	n := full(b)
	for i := 0; b.Loop(); i++ {
		n.Set(schema.MeasuresLengthDate, "2026-07-"+strconv.Itoa(10+i%18))
		n.Set(schema.MeasuresWeight, json.Number("3."+strconv.Itoa(1+i%997)))
		schema.ValidateSection(n, "measures")
	}
}

// A keystroke in the largest section.
func BenchmarkFigureValidateChangedSupport(b *testing.B) {
	n := full(b)
	for i := 0; b.Loop(); i++ {
		n.Set(schema.SupportBypassTotal, json.Number("1"+strconv.Itoa(10+i%89)+"."+strconv.Itoa(1+i%997)))
		schema.ValidateSection(n, "support")
	}
}

// The whole note after one section changed: the rest from the cache.
func BenchmarkFigureValidateWholeCached(b *testing.B) {
	n := full(b)
	schema.Validate(n)
	for i := 0; b.Loop(); i++ {
		n.Set(schema.MeasuresWeight, json.Number("3."+strconv.Itoa(1+i%997)))
		schema.Validate(n)
	}
}

// The whole note with nothing in the cache.
func BenchmarkFigureValidateWholeUncached(b *testing.B) {
	n := full(b)
	schema.Validate(n)
	for b.Loop() {
		schema.ForgetVerdicts()
		schema.Validate(n)
	}
}

// Compiling every section and item kind of a stage-1 note, as on first opening.
func BenchmarkFigureCompileStage1(b *testing.B) {
	n := full(b)
	for b.Loop() {
		schema.ForgetSchemas()
		schema.Validate(n)
	}
}

func BenchmarkFigureParseNote(b *testing.B) {
	data := full(b).JSON()
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, _, err := schema.ParseNote(data); err != nil {
			b.Fatal(err)
		}
	}
}
