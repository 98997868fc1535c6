package ledger

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"fairlead/schema"
	"fairlead/schema/sorting"
)

// Log keeps events and drafts: in memory, in the browser, in a database. Package
// logtest holds every implementation to what is said here. A Log is safe for
// concurrent use.
type Log interface {
	// Append keeps the events, all or none, and forgets the drafts they came from.
	// When it returns nil they are safe. An event that is kept already with the
	// same content is passed over; the same id with other content is kept beside
	// it, for the fold to name. An event that is not valid is an error.
	Append(ctx context.Context, events []Event, spent ...Draft) error
	// Events lists the events of one case in the order they were kept. With an
	// *UnreadError it lists those that can be read.
	Events(ctx context.Context, child CaseID) ([]Event, error)
	// Cases lists the cases that have events, by id.
	Cases(ctx context.Context) ([]CaseID, error)
	// SaveDraft keeps text in progress, in place of what the same writer had at
	// the same field.
	SaveDraft(ctx context.Context, d Draft) error
	// DropDraft forgets the draft at that place, whatever its text. It is no error
	// if there is none.
	DropDraft(ctx context.Context, d Draft) error
	// Drafts lists the drafts of one case, by note, path and writer. With an
	// *UnreadError it lists those that can be read.
	Drafts(ctx context.Context, child CaseID) ([]Draft, error)
	// Erase destroys all that is kept of a case: where the log encrypts, its key
	// first. It is no error if nothing is kept. From then on nothing more is kept
	// of the case, so that another tab cannot bring a part of it back, until
	// events are appended among which the case is opened: a *GoneError.
	Erase(ctx context.Context, child CaseID) error
}

// Draft is text on its way to becoming an event. It is nobody's record yet. There
// is one for each case, note, path and writer.
type Draft struct {
	Case   CaseID      `json:"case"`
	Note   NoteID      `json:"note"`
	Path   schema.Path `json:"path"`
	Writer WriterID    `json:"writer"`
	Text   string      `json:"text"`
}

// Place is the draft without its text: what tells it from others.
func (d Draft) Place() Draft {
	d.Text = ""
	return d
}

// SortDrafts orders drafts by note, path and writer.
func SortDrafts(ds []Draft) {
	sorting.By(ds, func(a, b Draft) int {
		return cmp.Or(cmp.Compare(a.Note, b.Note), cmp.Compare(a.Path, b.Path), cmp.Compare(a.Writer, b.Writer))
	})
}

// What a log may answer. Each is a sentence for the person at the device.
var (
	// ErrFull says that there is no room: what was given is not kept.
	ErrFull = errors.New("this device has no room left: save the record as a file, then free some space")
	// ErrClosed says that the log was closed, because a newer version of the
	// program needs it or the device was wiped: reload.
	ErrClosed = errors.New("the store was closed from another tab: reload this page")
	// ErrBlocked says that an older version of the program holds the store.
	ErrBlocked = errors.New("an older version of this program is open in another tab: close that tab")
)

// ErrGone says that the case was erased while it was open here. It comes as a
// *GoneError, which names the case.
var ErrGone = errors.New("this child's record was erased on this device: nothing more can be kept in it")

// GoneError is ErrGone for one case.
type GoneError struct{ Case CaseID }

func (e *GoneError) Error() string { return ErrGone.Error() }

// Is tells that it is ErrGone.
func (e *GoneError) Is(target error) bool { return target == ErrGone }

// UnreadError says that something that is kept cannot be read back. It stays where
// it is.
type UnreadError struct {
	Case    CaseID
	Damaged int // the content is broken, or its key is gone
	Newer   int // written in a form that this version does not know
}

func (e *UnreadError) Error() string {
	entries := func(n int) string {
		if n == 1 {
			return "1 entry"
		}
		return fmt.Sprintf("%d entries", n)
	}
	switch {
	case e.Damaged == 0:
		return entries(e.Newer) + " of this child's record cannot be read by this version of the program: update it, then open the record again"
	case e.Newer == 0:
		return entries(e.Damaged) + " of this child's record cannot be read back on this device: what is shown is not complete; save it as a file and compare it with another device or the paper"
	}
	return entries(e.Damaged) + " of this child's record cannot be read back on this device, and " + entries(e.Newer) +
		" by this version of the program: what is shown is not complete; update the program, save the record as a file and compare it with another device or the paper"
}

// Opens tells whether a case is opened among the events, which alone begins it
// again after it was erased.
func Opens(events []Event, child CaseID) bool {
	return slices.ContainsFunc(events, func(e Event) bool { return e.Case == child && e.Kind == KindCaseOpened })
}
