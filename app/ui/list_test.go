//go:build !(js && wasm)

package ui

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// remembering is a store that keeps briefs, in memory, and counts what is read.
type remembering struct {
	ledger.Log
	kept map[ledger.CaseID][]byte
	read []ledger.CaseID
	fail error
}

func (r *remembering) Events(ctx context.Context, c ledger.CaseID) ([]ledger.Event, error) {
	r.read = append(r.read, c)
	events, err := r.Log.Events(ctx, c)
	return events, errors.Join(err, r.fail)
}

func (r *remembering) Marks(ctx context.Context) (map[ledger.CaseID]string, error) {
	cases, err := r.Log.Cases(ctx)
	marks := map[ledger.CaseID]string{}
	for _, c := range cases {
		events, _ := r.Log.Events(ctx, c)
		marks[c] = fmt.Sprint(len(events))
	}
	return marks, err
}

func (r *remembering) Briefs(context.Context) (map[ledger.CaseID][]byte, error) { return r.kept, nil }

func (r *remembering) KeepBrief(_ context.Context, c ledger.CaseID, plain []byte) error {
	r.kept[c] = plain
	return nil
}

// The list of children is made without reading a record that has not changed since,
// and is the same as if it had been read.
func TestListFromBriefs(t *testing.T) {
	s, other := twoRecords(t)
	store := &remembering{Log: s.store, kept: map[ledger.CaseID][]byte{}}
	list := func(version string) []listed {
		t.Helper()
		store.read = nil
		l := &lister{store: store, briefs: store, version: version}
		out, err := l.read(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		l.keep(t.Context())
		return out
	}
	first := list("one")
	if len(first) != 2 || len(store.read) != 2 || len(store.kept) != 2 {
		t.Fatalf("at first %d lines, %d records read, %d briefs kept", len(first), len(store.read), len(store.kept))
	}
	if again := list("one"); len(store.read) != 0 || !reflect.DeepEqual(again, first) {
		t.Errorf("then %d records were read, for\n%+v, not\n%+v", len(store.read), again, first)
	}
	if again := list("two"); len(store.read) != 2 || !reflect.DeepEqual(again, first) {
		t.Errorf("another version read %d records", len(store.read))
	}
	w := ledger.NewWriter(other.Case(), s.writerID, s.who, s.clock, s.ids, s.now)
	if err := store.Append(t.Context(), []ledger.Event{w.Set(other, "", schema.ChildSurname, ledger.Entry{Value: "Renamed"})}); err != nil {
		t.Fatal(err)
	}
	after := list("two")
	if len(store.read) != 1 || store.read[0] != other.Case() {
		t.Errorf("after a change of one record %v were read", store.read)
	}
	if reflect.DeepEqual(after, first) {
		t.Error("the change is not on the list")
	}
	if list("two"); len(store.read) != 0 {
		t.Errorf("then %v were read", store.read)
	}
	if list(""); len(store.read) != 2 {
		t.Errorf("of an unknown version %v were read", store.read)
	}

	// What could not be read whole is not remembered, nor what depends on two records.
	clear(store.kept)
	store.fail = errors.New("one entry cannot be read")
	l := &lister{store: store, briefs: store, version: "two"}
	if _, err := l.read(t.Context()); err == nil {
		t.Error("a record that cannot be read whole is no error")
	}
	if l.keep(t.Context()); len(store.kept) != 0 {
		t.Errorf("%d lines of what could not be read are kept", len(store.kept))
	}
	store.fail = nil
	if err := store.Append(t.Context(), s.child.writer.Join(s.child.rec, other.Case(), "the same child")); err != nil {
		t.Fatal(err)
	}
	if joined := list("two"); len(joined) != 1 || len(store.kept) != 0 {
		t.Errorf("two records of one child are %d lines, %d kept", len(joined), len(store.kept))
	}
}
