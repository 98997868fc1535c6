package sheet

import (
	"testing"

	"fairlead/handover/calc"
	"fairlead/schema"
)

// full is the committed full stage-1 note.
func full(b *testing.B) *schema.Note {
	b.Helper()
	return committed(b)["notes/stage1.json"]
}

// BenchmarkFigureSheetHtml is the sheet as HTML, all pages, from the full stage-1
// note as it stands in memory. In it is all that is done at the command line after
// the note is read and the record folded: what is computed, the count of what is
// not recorded, the layout.
func BenchmarkFigureSheetHtml(b *testing.B) {
	n := full(b)
	b.ReportAllocs()
	for b.Loop() {
		Make(Facts{Note: n, At: at}, A4).PagesHTML()
	}
}

// BenchmarkPrinted is the same as the app prints it: it has counted what is not
// recorded and computed the values before.
func BenchmarkPrinted(b *testing.B) {
	n := full(b)
	open := Unrecorded(n)
	f := Facts{Note: n, At: at, Open: &open, Computed: calc.Compute(n, shipped(), calc.About{})}
	b.ReportAllocs()
	for b.Loop() {
		Make(f, A4).PagesHTML()
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
