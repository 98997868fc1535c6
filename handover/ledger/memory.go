package ledger

import (
	"context"
	"maps"
	"slices"
	"sync"
)

// Memory is a Log that forgets when the program ends: for tests, the gallery, the
// command line, and a browser that keeps nothing.
type Memory struct {
	mu     sync.Mutex
	events map[CaseID][]Event
	byID   map[CaseID]map[EventID][]Event
	drafts map[Draft]string // by place
	erased map[CaseID]bool
}

// NewMemory is an empty Memory.
func NewMemory() *Memory {
	return &Memory{events: map[CaseID][]Event{}, byID: map[CaseID]map[EventID][]Event{}, drafts: map[Draft]string{}, erased: map[CaseID]bool{}}
}

var _ Log = (*Memory)(nil)

// Append keeps the events, all or none.
func (m *Memory) Append(ctx context.Context, events []Event, spent ...Draft) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	for i := range events {
		if err := events[i].Valid(); err != nil {
			return err
		}
		if c := events[i].Case; m.erased[c] && !Opens(events, c) {
			return &GoneError{c}
		}
	}
	for _, e := range events {
		delete(m.erased, e.Case)
		if m.byID[e.Case] == nil {
			m.byID[e.Case] = map[EventID][]Event{}
		}
		same := m.byID[e.Case][e.ID]
		if slices.ContainsFunc(same, func(was Event) bool { return SameEvent(was, e) }) {
			continue
		}
		e.Body = slices.Clone(e.Body)
		m.byID[e.Case][e.ID] = append(same, e)
		m.events[e.Case] = append(m.events[e.Case], e)
	}
	for _, d := range spent {
		delete(m.drafts, d.Place())
	}
	return nil
}

// Events lists the events of one case in the order they were kept.
func (m *Memory) Events(ctx context.Context, child CaseID) ([]Event, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Clone(m.events[child]), ctx.Err()
}

// Cases lists the cases that have events.
func (m *Memory) Cases(ctx context.Context) ([]CaseID, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	return slices.Sorted(maps.Keys(m.events)), ctx.Err()
}

// SaveDraft keeps text in progress.
func (m *Memory) SaveDraft(ctx context.Context, d Draft) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.erased[d.Case] {
		return &GoneError{d.Case}
	}
	m.drafts[d.Place()] = d.Text
	return nil
}

// DropDraft forgets a draft.
func (m *Memory) DropDraft(ctx context.Context, d Draft) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.drafts, d.Place())
	return nil
}

// Drafts lists the drafts of one case.
func (m *Memory) Drafts(ctx context.Context, child CaseID) ([]Draft, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	var out []Draft
	for d, text := range m.drafts {
		if d.Case == child {
			d.Text = text
			out = append(out, d)
		}
	}
	SortDrafts(out)
	return out, ctx.Err()
}

// Erase destroys all that is kept of a case.
func (m *Memory) Erase(ctx context.Context, child CaseID) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	delete(m.events, child)
	delete(m.byID, child)
	maps.DeleteFunc(m.drafts, func(d Draft, _ string) bool { return d.Case == child })
	m.erased[child] = true
	return nil
}
