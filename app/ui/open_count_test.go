//go:build !(js && wasm)

package ui

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/ledger"
	"fairlead/handover/sheet"
	"fairlead/schema"
)

// The list of what is open, the button that signs with it and the sheet count by one
// rule: what signing answers is in none of the three.
func TestOneCountOfWhatIsOpen(t *testing.T) {
	var files []string
	for _, pattern := range []string{"*.json", "minimal/*.json"} {
		some, _ := filepath.Glob(filepath.Join("../../testdata/notes", pattern))
		files = append(files, some...)
	}
	if len(files) < 6 {
		t.Fatalf("only %d notes", len(files))
	}
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		n, _, err := schema.ParseNote(raw)
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		for _, p := range sheet.SaidBySigning {
			n.Clear(p) // as before anyone signs
		}
		s, _, _ := begun(t)
		id := ledger.CaseID(n.Case())
		rec := ledger.FoldCase(id, nil)
		ledger.Enter(rec, ledger.NewWriter(id, s.writerID, s.who, s.clock, s.ids, s.now), n)
		s.child = s.newChildOf(rec)
		s.place.Case, s.place.Note = s.child.id, ledger.NoteID(n.ID())
		o := s.child.open(s.place.Note)
		errors, questions, missing := o.stillOpen()
		all := len(errors) + len(questions) + len(missing)

		pane := app.HTMLString((&reviewPane{S: s, Place: s.place, Who: s.who}).draw())
		button := "Sign the whole note"
		if all > 0 {
			button = strings.TrimSuffix("Sign with "+itoa(all)+" open items", map[bool]string{true: "s"}[all == 1])
			if want := openWords(len(errors), len(questions), len(missing)); !strings.Contains(pane, want) {
				t.Errorf("%s: the list does not say %q", file, want)
			}
		}
		if !strings.Contains(pane, button) {
			t.Errorf("%s: the button does not say %q", file, button)
		}
		if got := *factsNow(o).Open; got != len(missing) {
			t.Errorf("%s: %d are not recorded on the sheet, %d on the list", file, got, len(missing))
		}
	}
}

// What is wanted is listed as one goes through the note, section by section.
func TestWantedInTheOrderOfTheNote(t *testing.T) {
	_, o, _ := begun(t)
	o.working.AddItem("drain", "i", 1)
	_, _, missing := o.stillOpen()
	order := append(slices.Clone(schema.KindNamed(o.working.Kind()).Sections), "items")
	last := 0
	for _, p := range missing {
		at := slices.Index(order, p.Path.Section())
		if at < last {
			t.Errorf("%s stands after what follows it in the note", p.Path)
		}
		last = at
	}
	if len(missing) < 30 {
		t.Errorf("a new note lacks only %d", len(missing))
	}
}
