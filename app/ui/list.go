package ui

import (
	"cmp"
	"context"
	"encoding/json"
	"maps"
	"slices"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
)

// briefs keeps what a page wants to have at hand of a case, and says how far each
// case is kept: the word changes with every event more ([fairlead/app/keep.Store]).
type briefs interface {
	Marks(ctx context.Context) (map[ledger.CaseID]string, error)
	Briefs(ctx context.Context) (map[ledger.CaseID][]byte, error)
	KeepBrief(ctx context.Context, c ledger.CaseID, plain []byte) error
}

// brief is a child's line in the list as this very version of the program made it
// when the record was kept as far as Mark says. While both still hold the list is
// shown without reading the record.
type brief struct {
	Version string `json:"version"`
	Mark    string `json:"mark"`
	Line    listed `json:"line"`
}

// lister reads the list of children.
type lister struct {
	store   ledger.Log
	briefs  briefs // nil: every record is read
	version string // of the program; "" if it is not known, and nothing is then kept

	marks map[ledger.CaseID]string
	known map[ledger.CaseID][]byte
	made  map[ledger.CaseID]listed // to be kept as briefs
}

// readList reads what is kept of every child, for the list.
func (s *Session) readList() {
	if s.store == nil {
		return
	}
	s.listAsked++
	asked := s.listAsked
	l := &lister{store: s.store, briefs: s.device.briefs, version: programVersion()}
	go safe.Guard("list", func() {
		ctx := context.Background()
		list, err := l.read(ctx)
		s.later(func() {
			if asked != s.listAsked {
				return
			}
			s.unread(err)
			s.list, s.listRead = list, true
			sortList(s.list)
		})
		l.keep(ctx)
	})
}

// read lists the children. With an error come those that can be read.
func (l *lister) read(ctx context.Context) ([]listed, error) {
	cases, err := l.cases(ctx)
	var list []listed
	done := map[ledger.CaseID]bool{}
	for _, c := range cases {
		if done[c] {
			continue // joined to one that is listed
		}
		line, ok := l.remembered(c)
		if !ok {
			rec, e := ledger.Load(ctx, l.store, c)
			err = cmp.Or(err, e)
			if rec.Len() == 0 {
				continue
			}
			line = lineOf(rec)
			if e == nil && !slices.ContainsFunc(rec.Events(), ties) {
				l.made[c] = line
			}
		}
		list = append(list, line)
		for _, joined := range line.Cases {
			done[joined] = true
		}
	}
	return list, err
}

// cases are the cases with events. How far they are kept is looked up before any is
// read, so that a brief never claims more than it was made of.
func (l *lister) cases(ctx context.Context) ([]ledger.CaseID, error) {
	l.made = map[ledger.CaseID]listed{}
	if l.briefs != nil && l.version != "" {
		if marks, err := l.briefs.Marks(ctx); err == nil {
			l.marks = marks
			l.known, _ = l.briefs.Briefs(ctx) // what is not there is made again
			return slices.Sorted(maps.Keys(marks)), nil
		}
	}
	return l.store.Cases(ctx)
}

// remembered is a child's line as it was made before, if nothing has changed since.
func (l *lister) remembered(c ledger.CaseID) (listed, bool) {
	var b brief
	plain, ok := l.known[c]
	if !ok || json.Unmarshal(plain, &b) != nil || b.Version != l.version || b.Mark != l.marks[c] || b.Line.Case != c {
		return listed{}, false
	}
	return b.Line, true
}

// ties tells whether an event says that two cases are one child, or are not: the line
// then depends on more than its own case.
func ties(e ledger.Event) bool {
	return e.Kind == ledger.KindCasesJoined || e.Kind == ledger.KindCasesParted
}

// keep remembers the lines that were made.
func (l *lister) keep(ctx context.Context) {
	for c, line := range l.made {
		if mark := l.marks[c]; mark != "" {
			if plain, err := json.Marshal(brief{l.version, mark, line}); err == nil {
				_ = l.briefs.KeepBrief(ctx, c, plain) // made again next time
			}
		}
	}
}
