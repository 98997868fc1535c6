package sheet

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// begins is what begins a line of a pinned sheet, so that a difference is read at
// the paragraph or the row it lies in.
var begins = regexp.MustCompile(`<(section|header|footer|p|tr|li|svg)\b`)

// TestWholeSheets: the sheet of every committed note, printed and as it stands on
// screen, is as it was when somebody last looked at it, to the letter. If this fails
// and the change was meant, read how the files changed after FAIRLEAD_PIN=1.
func TestWholeSheets(t *testing.T) {
	for name, n := range committed(t) {
		f := Facts{Note: n, At: at}
		pages := Make(f, A4).PagesHTML()
		whole := pages
		for _, part := range Flow(f).BlocksHTML() {
			if !strings.Contains(pages, part.HTML) { // most say the same on screen
				whole += part.HTML
			}
		}
		got := begins.ReplaceAllString(whole, "\n$0") + "\n"
		file := filepath.Join("../../testdata/sheets/whole", strings.ReplaceAll(strings.TrimSuffix(name, ".json"), "/", "-")+".html")
		if os.Getenv("FAIRLEAD_PIN") != "" {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		pinned, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		is, was := strings.Split(got, "\n"), strings.Split(string(pinned), "\n")
		for i := range min(len(is), len(was)) {
			if is[i] != was[i] {
				t.Errorf("%s: line %d is\n%s\nand was\n%s", name, i+1, is[i], was[i])
				break
			}
		}
		if len(is) != len(was) {
			t.Errorf("%s: %d lines, and there were %d", name, len(is), len(was))
		}
	}
}
