//go:build !(js && wasm)

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"strings"
	"unicode/utf8"

	"fairlead/schema"
	"fairlead/schema/dictation"
)

var _ = add(command{
	name:  "read",
	usage: "-kind KIND [TEXT-FILE]",
	short: "Reads a dictation and prints what it would propose for the note, as JSON.",
	run:   readDictation,
})

// readDictation reads the text of a file, or of the input, and prints the
// reading. Nothing is written into any note.
func readDictation(_ context.Context, p *program, args []string) int {
	var kind string
	rest, code, ok := p.flags("read", args, func(set *flag.FlagSet) {
		set.StringVar(&kind, "kind", "", "the `kind` of note: "+kindNames())
	})
	if !ok {
		return code
	}
	if schema.KindNamed(schema.Kind(kind)) == nil {
		return p.fail(fmt.Errorf("no kind of note is called %q", kind), "give -kind one of "+kindNames())
	}
	if len(rest) > 1 {
		return p.fail(fmt.Errorf("read takes one file, and %d were named", len(rest)), "give one text file at a time")
	}
	file := "-"
	if len(rest) == 1 {
		file = rest[0]
	}
	text, err := readLimited(file, p.in, dictation.Limit, fmt.Errorf("%w: the limit is %d bytes", dictation.ErrTooLong, dictation.Limit))
	if errors.Is(err, dictation.ErrTooLong) {
		return p.fail(fmt.Errorf("%s: %w", file, err), "divide the text; the file itself is untouched")
	}
	if err != nil {
		return p.fail(fmt.Errorf("%s: %w", file, err), "give the name of a text file, or nothing to read the input")
	}
	if problem := notText(text); problem != "" {
		return p.fail(fmt.Errorf("%s: %s", file, problem), "save it again as UTF-8 text; the file itself is untouched")
	}
	r := dictation.Read(schema.Kind(kind), string(text))
	if r.Proposals == nil {
		r.Proposals = []dictation.Proposal{} // a list without anything, not no list
	}
	enc := json.NewEncoder(p.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(r); err != nil {
		return p.fail(err, "")
	}
	for _, x := range r.Proposals {
		if x.Sure == dictation.Conflict {
			return exitProblems
		}
	}
	return exitDone
}

// notText says why what a file holds cannot be read as words, with the line where
// that begins; "" when it can.
func notText(data []byte) string {
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return "the file is in UTF-16"
	}
	line := 1
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size == 1 || r == 0 {
			return fmt.Sprintf("the file is not UTF-8 text (line %d)", line)
		}
		if r == '\n' {
			line++
		}
		at += size
	}
	return ""
}

func kindNames() string {
	var names []string
	for _, k := range schema.Kinds() {
		names = append(names, string(k.Kind))
	}
	return strings.Join(names, ", ")
}
