package sheet

import (
	"os"
	"strings"
	"testing"

	"fairlead/schema"
)

// The minutes on the sheet are those worked out everywhere: where the values want
// something, the sheet says what, and shows no minutes. The figures are sums of the
// committed note's clock times, by hand.
func TestMinutesAreTheValues(t *testing.T) {
	at, _ := schema.ParseMoment("2026-07-14T15:00+01:00[Europe/London]")
	minutes := func(change func(*schema.Note)) string {
		n := committed(t)["notes/stage1.json"].Clone()
		change(n)
		for _, bl := range Flow(Facts{Note: n, At: at}).Blocks {
			for _, l := range bl.Lines {
				if s := Text(l.Spans); strings.HasPrefix(s, "Minutes: ") {
					return s
				}
			}
		}
		t.Fatal("no minutes on the sheet")
		return ""
	}
	runs := func(n *schema.Note) []string { return n.Rows(schema.SupportRuns) }
	for name, c := range map[string]struct {
		change func(*schema.Note)
		says   string
	}{
		"as committed": {func(*schema.Note) {}, "bypass 188, clamp 56, circulatory arrest 11, selective cerebral perfusion 34"}, // 159+29, 42+14, 5+6, 28+6
		"over midnight": {func(n *schema.Note) {
			n.Set(schema.RowPath(schema.SupportRuns, runs(n)[1], "on"), "2026-07-14T23:50+01:00[Europe/London]")
			n.Set(schema.RowPath(schema.SupportRuns, runs(n)[1], "off"), "2026-07-15T00:10+01:00[Europe/London]")
			n.Clear(schema.RowPath(schema.SupportRuns, runs(n)[1], "minutes"))
			n.Clear(schema.SupportBypassTotal)
		}, "bypass 179,"}, // 159 + 20
		"runs overlap": {func(n *schema.Note) {
			n.Set(schema.RowPath(schema.SupportRuns, runs(n)[1], "on"), "2026-07-14T12:21+01:00[Europe/London]")
			n.Clear(schema.RowPath(schema.SupportRuns, runs(n)[1], "minutes"))
		}, "bypass not computed: run 2 overlaps run 1 by 10 min"}, // 12:21 to 12:31
		"entered total disagrees": {func(n *schema.Note) { n.Set(schema.SupportBypassTotal, 88) }, "bypass not computed: total of runs as entered 88 min, and the periods add up to 188 min"},
		"end missing": {func(n *schema.Note) {
			n.Clear(schema.RowPath(schema.SupportRuns, runs(n)[0], "off"))
			n.Clear(schema.RowPath(schema.SupportRuns, runs(n)[0], "minutes"))
		}, "bypass not computed: run 1 end not recorded"},
		"total alone": {func(n *schema.Note) {
			for _, row := range runs(n) {
				n.RemoveRow(schema.SupportRuns, row)
			}
			n.Set(schema.SupportBypassTotal, 188)
		}, "bypass 188,"},
	} {
		if got := minutes(c.change); !strings.Contains(got, c.says) {
			t.Errorf("%s: %q, want %q", name, got, c.says)
		}
	}
}

// The picture of support stands on the sheet beside the note, which is the one the
// app prints, as on the sheet with pages.
func TestClockOnBothSheets(t *testing.T) {
	at, _ := schema.ParseMoment("2026-07-14T15:00+01:00[Europe/London]")
	data, err := os.ReadFile("../../testdata/notes/stage1.json")
	if err != nil {
		t.Fatal(err)
	}
	n, _, err := schema.ParseNote(data)
	if err != nil {
		t.Fatal(err)
	}
	f := Facts{Note: n, At: at}
	for name, s := range map[string]*Sheet{"beside the note": Flow(f), "with pages": Make(f, A4)} {
		bl := s.Block("clock")
		if bl == nil || bl.Times == nil || !strings.Contains(bl.Times.Words, "Bypass 1: 09:52 to 12:31") {
			t.Errorf("%s: no picture of support", name)
		}
	}
	html := ""
	for _, b := range Flow(f).BlocksHTML() {
		html += b.HTML
	}
	if !strings.Contains(html, "09:52 to 12:31") || !strings.Contains(html, "<svg") {
		t.Error("the picture is not in the blocks of the page")
	}
}
