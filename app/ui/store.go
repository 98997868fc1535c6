package ui

import (
	"context"
	"errors"
	"slices"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
)

var errNoStore = errors.New("this browser keeps nothing for this page")

// device is the device's own store, and what it says of itself.
type device struct {
	log     ledger.Log
	promise func(ctx context.Context) string                   // asks the browser to keep it for good, and words the answer
	writers func(ctx context.Context) map[ledger.WriterID]bool // the tabs at work now
	wipe    func(ctx context.Context) error
	briefs  briefs // nil: the store keeps none
}

// forgetful is a store that forgets with the program.
func forgetful() device {
	return device{
		log:     ledger.NewMemory(),
		promise: func(context.Context) string { return "" },
		writers: func(context.Context) map[ledger.WriterID]bool { return nil },
		wipe:    func(context.Context) error { return nil },
	}
}

// closed is told that nothing more can be kept by this page.
func (s *Session) closed(why error) {
	s.later(func() {
		s.keeper.fail(notKeptWords(why))
		s.say(notice{id: "closed", class: "bad", words: notKeptWords(why)})
	})
}

// blocked is told that opening waits for another tab.
func (s *Session) blocked(why error) {
	s.later(func() { s.say(notice{id: "blocked", class: "bad", words: notKeptWords(why)}) })
}

// grew is told that another tab kept events of a child.
func (s *Session) grew(c ledger.CaseID, events []ledger.Event) {
	s.later(func() {
		if s.child == nil || !s.child.loaded[c] {
			s.readList()
			return
		}
		if len(events) > 0 {
			s.takeFromOther(events)
			return
		}
		// The store does not know what this page has of a child that was begun here,
		// or that it read for the list: what is missing is looked for.
		go safe.Guard("grew", func() {
			all, err := s.store.Events(context.Background(), c)
			s.later(func() {
				s.unread(err)
				if s.child != nil && s.child.loaded[c] {
					s.takeFromOther(slices.DeleteFunc(all, func(e ledger.Event) bool { return s.child.rec.Has(e.ID) }))
				}
			})
		})
	})
}

// takeFromOther takes another tab's events into the record on screen.
func (s *Session) takeFromOther(events []ledger.Event) {
	if len(events) == 0 {
		return
	}
	s.child.writer.Observe(events...)
	s.child.take(events)
	if linking(events) {
		s.readList()
	}
	safe.Announce("said-aloud", "Another tab changed this child's record.")
}

// erased is told that another tab erased a child's record.
func (s *Session) erased(c ledger.CaseID) {
	s.later(func() {
		if s.child != nil && s.child.loaded[c] {
			s.child = nil
			s.say(notice{id: "erase", class: "bad", words: "This child's record was erased from this device in another tab."})
			s.goTo(Place{Screen: "children"})
		}
		s.readList()
	})
}

// unread says that not everything that is kept could be read.
func (s *Session) unread(err error) {
	if err != nil {
		s.say(notice{id: "unread", class: "bad", words: "Not everything that is kept could be read: " + notKeptWords(err)})
	}
}

// goneCase is the case that err says was erased.
func goneCase(err error) (ledger.CaseID, bool) {
	var gone *ledger.GoneError
	if errors.As(err, &gone) {
		return gone.Case, true
	}
	return "", false
}

// without is the batch without one case: what was erased on this device has
// nowhere to be kept, and must not keep other children's records from being kept.
func (b batch) without(c ledger.CaseID) batch {
	return batch{
		slices.DeleteFunc(b.events, func(e ledger.Event) bool { return e.Case == c }),
		slices.DeleteFunc(b.spent, func(d ledger.Draft) bool { return d.Case == c }),
		slices.DeleteFunc(b.drafts, func(p pendingDraft) bool { return p.key.Case == c }),
	}
}
