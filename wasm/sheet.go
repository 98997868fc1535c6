//go:build !(js && wasm)

package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"fairlead/app/web"
	"fairlead/handover/ledger"
	"fairlead/handover/sheet"
	"fairlead/handover/sheet/pdf"
	"fairlead/schema"
	"fairlead/schema/profile"
)

var _ = add(command{
	name:  "sheet",
	usage: "NOTE-OR-RECORD [--html | --pdf] [-o FILE] [--paper a4|letter] [--labels | --transfer] [--note ID] [--profile FILE] [--at TIME]",
	short: "Prints the handover sheet of a note, its tag labels, or the transfer sheet of a record, as HTML or PDF.",
	run:   printSheet,
})

func printSheet(_ context.Context, p *program, args []string) int {
	var asHTML, asPDF, labels, transfer bool
	var to, paperName, noteID string
	a, code, ok := p.ask("sheet", "nothing was printed", args, func(set *flag.FlagSet) {
		set.BoolVar(&asHTML, "html", false, "write HTML, one file with its style inside (the default, unless -o ends in .pdf)")
		set.BoolVar(&asPDF, "pdf", false, "write PDF")
		set.BoolVar(&labels, "labels", false, "print the tag labels instead of the sheet")
		set.BoolVar(&transfer, "transfer", false, "print what goes with the child to another ward or home, from a record")
		set.StringVar(&to, "o", "", "write to this `file`, whole or not at all; without it, to the output")
		set.StringVar(&paperName, "paper", "", "`a4 or letter`; without it, the unit's")
		set.StringVar(&noteID, "note", "", "the `id` of the note, where a record holds several; without it, the last")
	}, "o", "paper", "note")
	if !ok {
		return code
	}
	if asHTML && asPDF {
		return p.fail(errors.New("-html and -pdf were both asked for"), "ask for one at a time")
	}
	if !asHTML && strings.EqualFold(filepath.Ext(to), ".pdf") {
		asPDF = true
	}
	paper, ok := sheet.PaperOf(a.unit), true
	if paperName != "" {
		paper, ok = sheet.PaperNamed(paperName)
	}
	if !ok {
		return p.fail(fmt.Errorf("there is no paper %q here", paperName), "choose a4 or letter")
	}
	if transfer {
		return p.printTransfer(a, paper, asPDF, labels, to)
	}
	facts, err := a.facts(noteID, a.unit, a.now)
	if err != nil {
		return p.fail(fmt.Errorf("%s: %w", a.file, err), "nothing was printed")
	}
	return p.printed(a, to, writerOf(facts, paper, labels, asPDF))
}

// printTransfer prints the transfer sheet of a record.
func (p *program) printTransfer(a asked, paper sheet.Paper, asPDF, labels bool, to string) int {
	if labels {
		return p.fail(errors.New("-labels and -transfer were both asked for"), "ask for one at a time")
	}
	if a.record == nil {
		return p.fail(fmt.Errorf("%s is a single note, which does not say what became of each item", a.file), "give the child's record")
	}
	s := sheet.TransferOf(a.record, a.unit, a.now, paper)
	if s == nil {
		return p.fail(fmt.Errorf("%s: the record says nothing of a child", a.file), "nothing was printed")
	}
	return p.printed(a, to, sheetWriter(s, a.now, asPDF))
}

// printed writes what was asked for to the output or a file, and says what is wrong
// with what was read.
func (p *program) printed(a asked, to string, write func(io.Writer) error) int {
	var err error
	code := 0
	if to == "" {
		err = write(p.out)
	} else {
		err = writeWhole(to, write)
	}
	if err != nil {
		return p.fail(err, "nothing was left half-written")
	}
	for _, x := range a.problems {
		fmt.Fprintf(p.err, "fairlead: %s: %s %s\n", a.file, x.What, x.Do)
		code = exitProblems
	}
	return code
}

// facts are those of the note, or of one note of the record.
func (o opened) facts(noteID string, prof *profile.Profile, now schema.Moment) (sheet.Facts, error) {
	if o.note != nil {
		if noteID != "" && noteID != o.note.ID() {
			return sheet.Facts{}, fmt.Errorf("the file holds the note %s, not %s", o.note.ID(), noteID)
		}
		return sheet.Facts{Note: o.note, Profile: prof, At: now}, nil
	}
	notes := o.record.Notes()
	if len(notes) == 0 {
		return sheet.Facts{}, errors.New("the record holds no note")
	}
	id := ledger.NoteID(noteID)
	if noteID == "" {
		id = notes[len(notes)-1].ID
	}
	f, ok := sheet.FromRecord(o.record, id, prof, now)
	if !ok {
		var ids []string
		for _, n := range notes {
			ids = append(ids, string(n.ID))
		}
		return sheet.Facts{}, fmt.Errorf("the record holds no note %s; it holds %s", noteID, strings.Join(ids, ", "))
	}
	return f, nil
}

// writerOf writes the sheet or the labels in the form asked for.
func writerOf(f sheet.Facts, paper sheet.Paper, labels, asPDF bool) func(io.Writer) error {
	if labels {
		l := sheet.LabelsFor(f, paper)
		if asPDF {
			return func(w io.Writer) error { return pdf.WriteLabels(w, l, f.At) }
		}
		return text(l.Document(web.SheetStyle()))
	}
	return sheetWriter(sheet.Make(f, paper), f.At, asPDF)
}

func sheetWriter(s *sheet.Sheet, at schema.Moment, asPDF bool) func(io.Writer) error {
	if asPDF {
		return func(w io.Writer) error { return pdf.Write(w, s, at) }
	}
	return text(s.Document(web.SheetStyle()))
}

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, s)
		return err
	}
}
