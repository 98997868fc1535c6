package ledger

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"fairlead/schema"
)

// MaxFile is the largest record file read, in bytes.
const MaxFile = 16 << 20

// FileFormat is the format of a record's file; see doc.go.
const FileFormat = "fairlead-record/1"

// FileName is the name a record's file is given. It tells nothing of the child.
func FileName(child CaseID) string { return "fairlead-" + string(child) + ".jsonl" }

type fileHead struct {
	Format string   `json:"format"`
	Case   CaseID   `json:"case"`
	Cases  []CaseID `json:"cases,omitempty"` // with those joined to it
	Events int      `json:"events"`
}

type fileEnd struct {
	End    string `json:"end"`
	Events int    `json:"events"`
	SHA256 string `json:"sha256"` // of the lines between, each with its line feed
}

// Export writes the whole record of one child, and of the cases joined to it, as
// one file: JSON, one object a line. The same events give the same bytes. The file
// is readable by anyone who has it.
func Export(events []Event) ([]byte, error) {
	if len(events) == 0 {
		return nil, errors.New("there is nothing to export: nothing is recorded of this child")
	}
	events = slices.Clone(events)
	Sort(events)
	head := fileHead{Format: FileFormat}
	cases := map[CaseID]bool{}
	var lines bytes.Buffer
	seen := map[string]bool{}
	for _, e := range events {
		line, err := json.Marshal(e)
		if err != nil {
			return nil, fmt.Errorf("event %s cannot be written: %w", e.ID, err)
		}
		if seen[string(line)] {
			continue
		}
		seen[string(line)] = true
		cases[e.Case] = true
		head.Events++
		lines.Write(line)
		lines.WriteByte('\n')
	}
	head.Cases = slices.Sorted(maps.Keys(cases))
	head.Case = head.Cases[0]
	if len(head.Cases) < 2 {
		head.Cases = nil
	}
	sum := sha256.Sum256(lines.Bytes())
	first, err := json.Marshal(head)
	if err != nil {
		return nil, err
	}
	last, err := json.Marshal(fileEnd{FileFormat, head.Events, hex.EncodeToString(sum[:])})
	if err != nil {
		return nil, err
	}
	return slices.Concat(first, []byte("\n"), lines.Bytes(), last, []byte("\n")), nil
}

// Import reads a record's file. It is all or nothing: on an error no event is
// returned, and the error's sentence names the place and what to do. Problems are
// about events that are returned and cannot be shown, or that stand twice.
func Import(data []byte) ([]Event, []schema.Problem, error) {
	if len(data) > MaxFile {
		return nil, nil, fmt.Errorf("the file is larger than %d MB, the limit for one child's record: choose the record's own file", MaxFile>>20)
	}
	switch {
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}), bytes.HasPrefix(data, []byte{0xFF, 0xFE}), len(data) > 1 && (data[0] == 0) != (data[1] == 0):
		return nil, nil, errors.New("the file is in UTF-16: save it again as UTF-8")
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		data = data[3:]
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, nil, errors.New("the file is empty")
	}
	first, rest, _ := bytes.Cut(data, []byte("\n"))
	if err := utf8Fault(first, 1); err != nil {
		return nil, nil, err
	}
	if err := whatFile(first, data); err != nil {
		return nil, nil, err
	}
	var head fileHead
	if err := json.Unmarshal(first, &head); err != nil {
		return nil, nil, fmt.Errorf("line 1 of the file cannot be read: %s", jsonFault(err))
	}
	return readLines(head, rest)
}

// whatFile judges the first line: is this a record's file that can be read here?
func whatFile(first, data []byte) error {
	var is struct {
		Format string `json:"format"`
	}
	if !json.Valid(first) {
		if json.Valid(data) {
			first = data // JSON over several lines
		} else {
			return errors.New(`this is not a child's record: its first line is not JSON; choose a file that was made by "export the record"`)
		}
	}
	if json.Unmarshal(first, &is) != nil || is.Format == "" {
		return fmt.Errorf(`this is JSON, but not a child's record: line 1 has no member "format" saying %q; choose a file that was made by "export the record"`, FileFormat)
	}
	name, version, _ := strings.Cut(is.Format, "/")
	switch {
	case name == "fairlead-note":
		return errors.New("this is the file of one note, not a child's record: choose a file that was made by \"export the record\"")
	case name != "fairlead-record":
		return fmt.Errorf("this is JSON, but not a child's record: its format is %q; choose a file that was made by \"export the record\"", clip(is.Format))
	case version == "" || strings.Trim(version, "0123456789") != "":
		return fmt.Errorf("the record's format %q names no version: expected %q", clip(is.Format), FileFormat)
	case is.Format != FileFormat:
		return fmt.Errorf("this record was written by a newer version of this program (format %s; this one reads %s): update this program, then open the file again", clip(is.Format), FileFormat)
	}
	return nil
}

func readLines(head fileHead, rest []byte) ([]Event, []schema.Problem, error) {
	if !isID(string(head.Case)) {
		return nil, nil, fmt.Errorf("line 1 of the file does not say which child it is: %q is not a UUID", clip(string(head.Case)))
	}
	cases := map[CaseID]bool{head.Case: true}
	for _, c := range head.Cases {
		cases[c] = true
	}
	sum := sha256.New()
	var events []Event
	var problems []schema.Problem
	known := map[EventID]Event{}
	var reader Reader // every line is found to be JSON before it reads it
	for number := 2; ; number++ {
		line, more, whole := bytes.Cut(rest, []byte("\n"))
		rest = more
		line = bytes.TrimSuffix(line, []byte("\r"))
		if len(bytes.TrimSpace(line)) == 0 && len(bytes.TrimSpace(rest)) == 0 {
			return nil, nil, fmt.Errorf("the file ends too early (line %d): it was cut short; get it again from where it came", number)
		}
		if err := utf8Fault(line, number); err != nil {
			return nil, nil, err
		}
		if !json.Valid(line) {
			if !whole {
				return nil, nil, fmt.Errorf("the file ends too early (line %d): it was cut short; get it again from where it came", number)
			}
			return nil, nil, fmt.Errorf("line %d of the file is not JSON: get the file again from where it came", number)
		}
		var end fileEnd
		if bytes.HasPrefix(line, []byte(`{"end":`)) && json.Unmarshal(line, &end) == nil && end.End != "" {
			if len(bytes.TrimSpace(rest)) > 0 {
				return nil, nil, fmt.Errorf("the file has more after its end (line %d): expected one child's record alone", number+1)
			}
			if end.Events != head.Events || head.Events != number-2 || end.SHA256 != hex.EncodeToString(sum.Sum(nil)) {
				return nil, nil, errors.New("the file was changed or damaged after it was written (its check sum on the last line does not agree): get it again from where it came")
			}
			return finish(events, problems)
		}
		e, err := reader.Read(line)
		if err == nil {
			err = e.validEnvelope()
		}
		if err != nil {
			return nil, nil, fmt.Errorf("line %d of the file cannot be read: %s; get the file again from where it came", number, jsonFault(err))
		}
		if !cases[e.Case] {
			return nil, nil, fmt.Errorf("line %d of the file is about another child than line 1 says: get the file again from where it came", number)
		}
		sum.Write(line)
		sum.Write([]byte{'\n'})
		if was, ok := known[e.ID]; ok {
			if !SameEvent(was, e) {
				problems = append(problems, schema.Problem{Rule: FaultTwoBodies, Path: "", Severity: schema.Error,
					What: fmt.Sprintf("Event %s stands twice in the file, saying different things (line %d).", e.ID, number),
					Do:   "Compare the note with the paper: an event must never change."})
				events = append(events, e)
			}
			continue
		}
		known[e.ID] = e
		events = append(events, e)
	}
}

// finish counts what cannot be shown among the events read.
func finish(events []Event, problems []schema.Problem) ([]Event, []schema.Problem, error) {
	newer, bad := 0, 0
	for _, e := range events {
		switch _, how := decode(&e); how {
		case unknown:
			newer++
		case unreadable:
			bad++
		}
	}
	if newer > 0 {
		problems = append(problems, schema.Problem{Rule: FaultUnknown, Severity: schema.Question,
			What: fmt.Sprintf("%s in the file, from a newer version of this program, cannot be shown here, and will be kept whole.", count(newer, "event")),
			Do:   "Update this program; until then do not rely on this record being complete."})
	}
	if bad > 0 {
		problems = append(problems, schema.Problem{Rule: FaultUnreadable, Severity: schema.Error,
			What: fmt.Sprintf("%s in the file cannot be read, and will be kept whole.", count(bad, "event")),
			Do:   "Compare the note with the paper, and tell whoever looks after this program."})
	}
	return events, problems, nil
}

func utf8Fault(line []byte, number int) error {
	if utf8.Valid(line) {
		return nil
	}
	return fmt.Errorf("line %d of the file is not UTF-8 text: save it again as UTF-8", number)
}

// jsonFault words what the decoder says without its own jargon.
func jsonFault(err error) string {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("its member %q holds a %s, where something else is expected", wrong.Field, wrong.Value)
	}
	return err.Error()
}
