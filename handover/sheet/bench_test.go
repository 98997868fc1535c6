package sheet

import (
	"testing"

	"fairlead/schema"
)

// full is the committed full stage-1 note.
func full(b *testing.B) *schema.Note {
	b.Helper()
	return committed(b)["notes/stage1.json"]
}

// BenchmarkFigureSheetHtml is the sheet as HTML from the full stage-1 note.
func BenchmarkFigureSheetHtml(b *testing.B) {
	n := full(b)
	b.ReportAllocs()
	for b.Loop() {
		Make(Facts{Note: n, At: at}, A4).PagesHTML()
	}
}

// BenchmarkModel is the model of the page alone.
func BenchmarkModel(b *testing.B) {
	n := full(b)
	b.ReportAllocs()
	for b.Loop() {
		Make(Facts{Note: n, At: at}, A4)
	}
}

// BenchmarkBlocks is the HTML of a sheet made before.
func BenchmarkBlocks(b *testing.B) {
	s := Make(Facts{Note: full(b), At: at}, A4)
	b.ReportAllocs()
	for b.Loop() {
		s.BlocksHTML()
	}
}

// BenchmarkFigureSheetFlow is what the app does on a keystroke: the blocks
// without pages, as HTML.
func BenchmarkFigureSheetFlow(b *testing.B) {
	n := full(b)
	b.ReportAllocs()
	for b.Loop() {
		Flow(Facts{Note: n, At: at}).BlocksHTML()
	}
}
