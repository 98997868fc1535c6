//go:build !(js && wasm)

package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// optionsFirst moves the options before the other arguments, so that people may
// write them in any order. valued names the options that take a value.
func optionsFirst(args []string, valued ...string) []string {
	var options, rest []string
	for i := 0; i < len(args); i++ {
		a := args[i]
		if a == "--" {
			rest = append(rest, args[i+1:]...)
			break
		}
		if a == "-" || !strings.HasPrefix(a, "-") {
			rest = append(rest, a)
			continue
		}
		options = append(options, a)
		name := strings.TrimLeft(a, "-")
		for _, v := range valued {
			if name == v && i+1 < len(args) {
				i++
				options = append(options, args[i])
			}
		}
	}
	return append(append(options, "--"), rest...)
}

// readLimited reads a whole file, or the input where the name is "-". A file over
// the limit is refused before it is read.
func readLimited(name string, stdin io.Reader, limit int, over error) ([]byte, error) {
	in := stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, plainly(err)
		}
		defer f.Close()
		info, err := f.Stat()
		if err != nil {
			return nil, err
		}
		if info.IsDir() {
			return nil, errors.New("it is a folder, not a file")
		}
		if info.Size() > int64(limit) {
			return nil, over
		}
		in = f
	}
	// One byte over the limit is enough to know that it is over.
	data, err := io.ReadAll(io.LimitReader(in, int64(limit)+1))
	if err == nil && len(data) > limit {
		err = over
	}
	return data, err
}

// plainly says of a file that cannot be opened or written what is wrong with it
// and what to do, in words that name no call of the system.
func plainly(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file or folder: check the name")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("it may not be opened or written by whoever runs this program: ask for access, or choose another place")
	}
	return err
}

// opened is what a file held: a bare note, or the record of a child.
type opened struct {
	note     *schema.Note
	record   *ledger.Record
	problems []schema.Problem // about the file itself
}

var errRecordTooLarge = fmt.Errorf("the file is larger than %d MB, the limit for a record: choose the child's own file", ledger.MaxFile>>20)

// open reads a file of either format.
func open(name string, stdin io.Reader) (opened, error) {
	data, err := readLimited(name, stdin, ledger.MaxFile, errRecordTooLarge)
	if err != nil {
		return opened{}, err
	}
	if isRecord(data) {
		events, problems, err := ledger.Import(data)
		if err != nil {
			return opened{}, err
		}
		return opened{record: ledger.Fold(events), problems: problems}, nil
	}
	n, problems, err := schema.ParseNote(data)
	return opened{note: n, problems: problems}, err
}

// isRecord tells whether a file says on its first line that it is a record.
func isRecord(data []byte) bool {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	return bytes.Contains(first, []byte(`"fairlead-record/`))
}

// unit is the unit's profile from a file, or the one that ships.
func (p *program) unit(name string) (*profile.Profile, error) {
	if name == "" {
		return profile.Default(), nil
	}
	data, err := readLimited(name, p.in, schema.MaxNote, errors.New("the file is larger than 4 MB, the limit for a unit's profile"))
	if err != nil {
		return nil, err
	}
	prof, faults := profile.Load(data)
	if len(faults) > 0 {
		var b strings.Builder
		fmt.Fprintf(&b, "the unit's profile %s cannot be used", name)
		for _, f := range faults {
			fmt.Fprintf(&b, "\n          %v", f)
		}
		return nil, errors.New(b.String())
	}
	return prof, nil
}

// asked is what a command was asked to work on: one file that holds notes, the
// unit's profile and the time.
type asked struct {
	file string
	opened
	unit *profile.Profile
	now  schema.Moment
}

// ask reads the line of a command that works on one file: its own options, of
// which valued take a value, and -profile and -at. undone says, where it cannot
// begin, what was left undone.
func (p *program) ask(name, undone string, args []string, define func(*flag.FlagSet), valued ...string) (a asked, code int, ok bool) {
	var unit, at string
	rest, code, ok := p.flags(name, optionsFirst(args, append(valued, "profile", "at")...), func(set *flag.FlagSet) {
		define(set)
		set.StringVar(&unit, "profile", "", "the unit's profile `file`; without it the one that ships, in which no dose is in force")
		set.StringVar(&at, "at", "", "work as at this `time`, such as 2026-07-14T13:45+01:00; without it, now")
	})
	if !ok {
		return a, code, false
	}
	if len(rest) != 1 {
		return a, p.fail(fmt.Errorf("%s takes one file, and %d were named", name, len(rest)), "give the file of a note or of a child's record, or - for the input"), false
	}
	a.file = rest[0]
	var err error
	if a.now, err = moment(at); err != nil {
		return a, p.fail(fmt.Errorf("-at: %w", err), ""), false
	}
	if a.unit, err = p.unit(unit); err != nil {
		return a, p.fail(err, "mend the profile, or leave -profile out"), false
	}
	if a.opened, err = open(a.file, p.in); err != nil {
		return a, p.fail(fmt.Errorf("%s: %w", a.file, err), undone), false
	}
	return a, exitDone, true
}

// moment reads a time given on the command line; "" is now, by the clock of this
// machine.
func moment(text string) (schema.Moment, error) {
	if text != "" {
		return schema.ParseMoment(text)
	}
	now := time.Now()
	zone, offset := now.Zone()
	if name := now.Location().String(); name != "Local" {
		zone = name
	}
	if !strings.Contains(zone, "/") {
		zone = "" // an abbreviation names no zone
	}
	return schema.MomentOf(now.Year(), int(now.Month()), now.Day(), now.Hour(), now.Minute(), offset/60, zone), nil
}

// writeWhole writes a file whole or not at all: under another name first, which
// then takes its place.
func writeWhole(name string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), ".fairlead-*")
	if err != nil {
		return fmt.Errorf("cannot write into the folder %s: %w", filepath.Dir(name), plainly(err))
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err = write(f); err != nil {
		return err
	}
	if err = f.Chmod(0o600); err != nil { // it tells of a child
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
