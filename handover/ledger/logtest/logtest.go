// Package logtest holds every ledger.Log to what the interface promises.
//
//	func TestLog(t *testing.T) {
//		logtest.Run(t, func(t *testing.T) ledger.Log { return ledger.NewMemory() })
//	}
//
// open returns an empty log each time; it may register clean-up with t. After each
// step the whole log is read and compared with a list kept beside it.
package logtest

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Run runs every check, each on a log of its own.
func Run(t *testing.T, open func(t *testing.T) ledger.Log) {
	for _, c := range []struct {
		name  string
		check func(h *held)
	}{
		{"EmptyAtFirst", emptyAtFirst},
		{"OrderOfKeeping", orderOfKeeping},
		{"SameEventOnce", sameEventOnce},
		{"SameIDOtherBody", sameIDOtherBody},
		{"AllOrNone", allOrNone},
		{"CasesApart", casesApart},
		{"LargeBatches", largeBatches},
		{"KeptWhole", keptWhole},
		{"NotTheCallersMemory", notTheCallersMemory},
		{"Drafts", drafts},
		{"SpentDrafts", spentDrafts},
		{"Erase", erase},
		{"EraseAndOpenAgain", eraseAndOpenAgain},
		{"Concurrent", concurrent},
		{"EndedContext", endedContext},
		{"RandomSteps", randomSteps},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.check(&held{T: t, log: open(t), want: map[ledger.CaseID][]ledger.Event{}, drafts: map[ledger.Draft]string{}, maker: newMaker(1)})
		})
	}
}

// held is a log beside what must be in it.
type held struct {
	*testing.T
	*maker
	log    ledger.Log
	want   map[ledger.CaseID][]ledger.Event
	drafts map[ledger.Draft]string
}

var ctx = context.Background()

// maker makes events; the same seed makes the same.
type maker struct {
	random *rand.ChaCha8
	ids    *ledger.IDs
	clock  *ledger.Generator
	at     time.Time
	writer ledger.WriterID
}

func newMaker(seed byte) *maker {
	m := &maker{random: rand.NewChaCha8([32]byte{seed}), at: time.Date(2026, 7, 14, 8, 42, 0, 0, time.UTC)}
	now := func() time.Time { m.at = m.at.Add(time.Millisecond); return m.at }
	m.ids, m.clock = ledger.NewIDs(m.random, now), ledger.NewGenerator(now)
	m.writer = ledger.WriterID(m.ids.New())
	return m
}

func (m *maker) child() ledger.CaseID { return ledger.CaseID(m.ids.New()) }

func (m *maker) event(c ledger.CaseID, body string) ledger.Event {
	at, err := schema.ParseMoment("2026-07-14T09:42+01:00[Europe/London]")
	if err != nil {
		panic(err)
	}
	return ledger.Event{ID: ledger.EventID(m.ids.New()), Case: c, Writer: m.writer, Clock: m.clock.Next(),
		Author: ledger.Author{Name: "A. Invented", Role: "surgeon"}, Happened: at, Entered: at,
		Kind: ledger.KindFieldSet, V: 1, Body: json.RawMessage(body)}
}

func (m *maker) events(c ledger.CaseID, n int) []ledger.Event {
	var out []ledger.Event
	for i := range n {
		out = append(out, m.event(c, fmt.Sprintf(`{"path":"child.surname","value":"n%d"}`, i)))
	}
	return out
}

func (m *maker) opening(c ledger.CaseID) ledger.Event {
	e := m.event(c, `{}`)
	e.Kind = ledger.KindCaseOpened
	return e
}

// append hands events over and notes what must now be there.
func (h *held) append(events []ledger.Event, spent ...ledger.Draft) {
	h.Helper()
	if err := h.log.Append(ctx, events, spent...); err != nil {
		h.Fatalf("Append: %v", err)
	}
	h.note(events, spent...)
	h.verify()
}

func (h *held) note(events []ledger.Event, spent ...ledger.Draft) {
	for _, e := range events {
		if !slices.ContainsFunc(h.want[e.Case], func(was ledger.Event) bool { return ledger.SameEvent(was, e) }) {
			h.want[e.Case] = append(h.want[e.Case], e)
		}
	}
	for _, d := range spent {
		delete(h.drafts, d.Place())
	}
}

func (h *held) save(d ledger.Draft) {
	h.Helper()
	if err := h.log.SaveDraft(ctx, d); err != nil {
		h.Fatalf("SaveDraft: %v", err)
	}
	h.drafts[d.Place()] = d.Text
	h.verify()
}

func (h *held) erase(c ledger.CaseID) {
	h.Helper()
	if err := h.log.Erase(ctx, c); err != nil {
		h.Fatalf("Erase: %v", err)
	}
	delete(h.want, c)
	for d := range h.drafts {
		if d.Case == c {
			delete(h.drafts, d)
		}
	}
	h.verify()
}

// verify reads the whole log.
func (h *held) verify() {
	h.Helper()
	var cases []ledger.CaseID
	for c, events := range h.want {
		if len(events) > 0 {
			cases = append(cases, c)
		}
	}
	slices.Sort(cases)
	got, err := h.log.Cases(ctx)
	if err != nil {
		h.Fatalf("Cases: %v", err)
	}
	if !slices.Equal(got, cases) {
		h.Fatalf("Cases: %v, want %v", got, cases)
	}
	with := map[ledger.CaseID][]ledger.Draft{}
	for d, text := range h.drafts {
		d.Text = text
		with[d.Case] = append(with[d.Case], d)
	}
	seen := slices.Clone(cases)
	for c := range with {
		seen = append(seen, c)
	}
	for _, c := range seen {
		events, err := h.log.Events(ctx, c)
		if err != nil {
			h.Fatalf("Events: %v", err)
		}
		if !slices.EqualFunc(events, h.want[c], ledger.SameEvent) {
			h.Fatalf("Events of %s:\n%s\nwant\n%s", c, show(events), show(h.want[c]))
		}
		ledger.SortDrafts(with[c])
		ds, err := h.log.Drafts(ctx, c)
		if err != nil {
			h.Fatalf("Drafts: %v", err)
		}
		if !slices.Equal(ds, with[c]) {
			h.Fatalf("Drafts of %s:\n%q\nwant\n%q", c, ds, with[c])
		}
	}
}

func show(events []ledger.Event) string {
	var b strings.Builder
	for _, e := range events {
		fmt.Fprintf(&b, "%s %s %.80s\n", e.ID, e.Kind, e.Body)
	}
	return b.String()
}

func emptyAtFirst(h *held) {
	h.verify()
	c := h.child()
	events, err := h.log.Events(ctx, c)
	if err != nil || len(events) > 0 {
		h.Errorf("Events of a case that is not there: %v, %v", events, err)
	}
	ds, err := h.log.Drafts(ctx, c)
	if err != nil || len(ds) > 0 {
		h.Errorf("Drafts of a case that is not there: %v, %v", ds, err)
	}
	h.append(nil)
}

func orderOfKeeping(h *held) {
	c := h.child()
	events := h.events(c, 6)
	slices.Reverse(events) // neither clocks nor ids decide
	for _, e := range events {
		h.append([]ledger.Event{e})
	}
	more := h.events(c, 5)
	slices.Reverse(more)
	h.append(more)
}

func sameEventOnce(h *held) {
	c := h.child()
	events := h.events(c, 3)
	h.append(events)
	h.append(events)
	h.append([]ledger.Event{events[2], events[0]})
	e := h.event(c, `{"path":"child.surname","value":"x"}`)
	h.append([]ledger.Event{e, e, events[1]})
	other := e
	other.Body = json.RawMessage("{ \"value\": \"x\",\n\t\"path\": \"child.surname\" }")
	h.append([]ledger.Event{other})
	if n := len(h.want[c]); n != 4 {
		h.Errorf("%d events, want 4", n)
	}
}

func sameIDOtherBody(h *held) {
	c := h.child()
	e := h.event(c, `{"path":"child.surname","value":"first"}`)
	h.append([]ledger.Event{e})
	body := e
	body.Body = json.RawMessage(`{"path":"child.surname","value":"second"}`)
	author := e
	author.Author.Name = "B. Invented"
	h.append([]ledger.Event{body, h.event(c, `{}`), author})
	h.append([]ledger.Event{author, e, body})
	if n := len(h.want[c]); n != 4 {
		h.Errorf("%d events, want 4", n)
	}
}

func allOrNone(h *held) {
	c := h.child()
	h.append(h.events(c, 2))
	broken := h.event(c, `{}`)
	broken.Kind = ""
	for _, batch := range [][]ledger.Event{
		{h.event(c, `{}`), broken},
		{h.event(h.child(), `{}`), broken},
		{broken, h.event(c, `{}`)},
	} {
		if err := h.log.Append(ctx, batch); err == nil {
			h.Error("an event without a kind was taken")
		}
		h.verify()
	}
	notJSON := h.event(c, `{"path":`)
	if err := h.log.Append(ctx, []ledger.Event{notJSON}); err == nil {
		h.Error("an event whose body is not JSON was taken")
	}
	h.verify()
}

func casesApart(h *held) {
	a, b, c := h.child(), h.child(), h.child()
	var mixed []ledger.Event
	for i := range 9 {
		mixed = append(mixed, h.event([]ledger.CaseID{c, a, b}[i%3], fmt.Sprintf(`{"n":%d}`, i)))
	}
	h.append(mixed)
	same := h.event(a, `{}`)
	elsewhere := same
	elsewhere.Case = b
	h.append([]ledger.Event{same, elsewhere})
	h.append([]ledger.Event{elsewhere, same})
}

func largeBatches(h *held) {
	c, other := h.child(), h.child()
	first := h.events(c, 40)
	h.append(first)
	second := h.events(c, 400)
	batch := append(slices.Clone(first[10:30]), second...)
	batch = append(batch, first[:10]...)
	batch = append(batch, h.events(other, 3)...)
	batch = append(batch, second[:5]...)
	h.append(batch)
	h.append(batch)
}

func keptWhole(h *held) {
	c := h.child()
	var batch []ledger.Event
	for _, value := range []string{"", " ", "<script>alert(1)</script>", "\u202emirrored\u202c", "👶🏽", "e\u0301\u0000\uFEFF", strings.Repeat("long ", 60_000)} {
		b, err := json.Marshal(map[string]any{"path": "child.surname", "value": value})
		if err != nil {
			h.Fatal(err)
		}
		batch = append(batch, h.event(c, string(b)))
	}
	batch = append(batch, h.event(c, `{"n":12345678901234567890.123456789,"deep":[[[{"a":null}]]]}`))
	newer := h.event(c, `{"anything":true}`)
	newer.Kind, newer.V = "a kind of a later version", 7
	batch = append(batch, newer)
	b, err := json.Marshal(h.event(c, `{}`))
	if err != nil {
		h.Fatal(err)
	}
	var more ledger.Event
	if err := json.Unmarshal([]byte(strings.Replace(string(b), "{", `{"later":{"x":[1,2.50]},`, 1)), &more); err != nil {
		h.Fatal(err)
	}
	h.append(append(batch, more))
	events, err := h.log.Events(ctx, c)
	if err != nil {
		h.Fatal(err)
	}
	b, err = json.Marshal(events[len(events)-1])
	if err != nil || !strings.Contains(string(b), `"later":{"x":[1,2.50]}`) {
		h.Errorf("a member that this version does not know: %s, %v", b, err)
	}
}

func notTheCallersMemory(h *held) {
	c := h.child()
	events := h.events(c, 2)
	kept := slices.Clone(events)
	for i := range kept {
		kept[i].Body = slices.Clone(events[i].Body)
	}
	if err := h.log.Append(ctx, events); err != nil {
		h.Fatal(err)
	}
	copy(events[0].Body, `{"xxxx"`)
	events[1] = events[0]
	h.note(kept)
	h.verify()
}

func drafts(h *held) {
	c, other := h.child(), h.child()
	n1, n2 := ledger.NoteID(h.ids.New()), ledger.NoteID(h.ids.New())
	w2 := ledger.WriterID(h.ids.New())
	d := ledger.Draft{Case: c, Note: n1, Path: "child.surname", Writer: h.writer, Text: "Ad"}
	h.save(d) // before there is any event of the case
	d.Text = "Ada"
	h.save(d)
	d.Text = ""
	h.save(d)
	d.Text = "<b>\u202e👶 " + strings.Repeat("x", 100_000)
	h.save(d)
	for _, x := range []ledger.Draft{
		{Case: c, Note: n2, Path: "child.surname", Writer: h.writer, Text: "1"},
		{Case: c, Note: "", Path: "child.surname", Writer: h.writer, Text: "2"},
		{Case: c, Note: n1, Path: "child.given_name", Writer: h.writer, Text: "3"},
		{Case: c, Note: n1, Path: "child.surname", Writer: w2, Text: "4"},
		{Case: other, Note: n1, Path: "child.surname", Writer: h.writer, Text: "5"},
	} {
		h.save(x)
	}
	gone := ledger.Draft{Case: c, Note: n1, Path: "child.surname", Writer: w2, Text: "whatever"}
	for range 2 {
		if err := h.log.DropDraft(ctx, gone); err != nil {
			h.Fatalf("DropDraft: %v", err)
		}
		delete(h.drafts, gone.Place())
		h.verify()
	}
	gone.Case = h.child()
	if err := h.log.DropDraft(ctx, gone); err != nil {
		h.Errorf("DropDraft of a case that is not there: %v", err)
	}
}

func spentDrafts(h *held) {
	c := h.child()
	d := ledger.Draft{Case: c, Path: "child.surname", Writer: h.writer, Text: "Ada"}
	other := ledger.Draft{Case: c, Path: "child.given_name", Writer: h.writer, Text: "B"}
	h.save(d)
	h.save(other)
	broken := h.event(c, `{}`)
	broken.V = 0
	if err := h.log.Append(ctx, []ledger.Event{broken}, d); err == nil {
		h.Error("an event without a version was taken")
	}
	h.verify() // the draft outlives the refusal
	h.append(h.events(c, 1), d.Place())
	h.append(nil, other)
	h.append(nil, other)
}

func erase(h *held) {
	a, b := h.child(), h.child()
	ofA, ofB := append(h.events(a, 3), h.opening(a)), h.events(b, 3)
	h.append(append(ofA, ofB...))
	draft := ledger.Draft{Case: a, Path: "child.surname", Writer: h.writer, Text: "x"}
	h.save(draft)
	h.save(ledger.Draft{Case: b, Path: "child.surname", Writer: h.writer, Text: "y"})
	h.erase(a)
	h.erase(a)
	h.erase(h.child())
	gone := func(what string, err error) {
		h.Helper()
		var g *ledger.GoneError
		if !errors.As(err, &g) || g.Case != a || !errors.Is(err, ledger.ErrGone) {
			h.Errorf("%s of an erased case: %v, want a GoneError that names it", what, err)
		}
		h.verify()
	}
	gone("Append", h.log.Append(ctx, ofA[:3]))
	gone("Append with another case", h.log.Append(ctx, append(h.events(b, 1), ofA[0])))
	gone("SaveDraft", h.log.SaveDraft(ctx, draft))
	if err := h.log.DropDraft(ctx, draft); err != nil {
		h.Errorf("DropDraft of an erased case: %v", err)
	}
	if events, err := h.log.Events(ctx, a); err != nil || len(events) > 0 {
		h.Errorf("Events of an erased case: %d, %v", len(events), err)
	}
	if ds, err := h.log.Drafts(ctx, a); err != nil || len(ds) > 0 {
		h.Errorf("Drafts of an erased case: %d, %v", len(ds), err)
	}
}

func eraseAndOpenAgain(h *held) {
	c := h.child()
	opened := h.opening(c)
	first := append([]ledger.Event{opened}, h.events(c, 3)...)
	h.append(first)
	h.erase(c)
	h.append([]ledger.Event{first[1], opened}) // from a file
	h.append(first)
	h.save(ledger.Draft{Case: c, Path: "child.surname", Writer: h.writer, Text: "z"})
}

func concurrent(h *held) {
	c := h.child()
	const writers, batches, each = 4, 8, 3
	var wait sync.WaitGroup
	var all [writers][batches][]ledger.Event
	for w := range writers {
		for b := range batches {
			all[w][b] = h.events(c, each)
		}
	}
	for w := range writers {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for b := range batches {
				if err := h.log.Append(ctx, all[w][b]); err != nil {
					h.Errorf("Append: %v", err)
				}
			}
		}()
	}
	wait.Wait()
	got, err := h.log.Events(ctx, c)
	if err != nil || len(got) != writers*batches*each {
		h.Fatalf("%d events, %v; want %d", len(got), err, writers*batches*each)
	}
	at := map[ledger.EventID]int{}
	for i, e := range got {
		at[e.ID] = i
	}
	for w := range writers {
		last := -1
		for b := range batches {
			for i, e := range all[w][b] {
				n, ok := at[e.ID]
				if !ok || n <= last || i > 0 && n != last+1 {
					h.Fatalf("writer %d, batch %d, event %d stands at %d (%v) after %d: a batch stays together, in order", w, b, i, n, ok, last)
				}
				last = n
			}
		}
	}
}

func endedContext(h *held) {
	c := h.child()
	h.append(h.events(c, 1))
	ended, end := context.WithCancel(ctx)
	end()
	if err := h.log.Append(ended, h.events(c, 1)); !errors.Is(err, context.Canceled) {
		h.Errorf("Append: %v", err)
	}
	if err := h.log.SaveDraft(ended, ledger.Draft{Case: c, Path: "child.surname", Writer: h.writer}); !errors.Is(err, context.Canceled) {
		h.Errorf("SaveDraft: %v", err)
	}
	if err := h.log.Erase(ended, c); !errors.Is(err, context.Canceled) {
		h.Errorf("Erase: %v", err)
	}
	if _, err := h.log.Events(ended, c); !errors.Is(err, context.Canceled) {
		h.Errorf("Events: %v", err)
	}
	h.verify()
}

// randomSteps does what tabs may do, in any order, beside the naive list.
func randomSteps(h *held) {
	r := rand.New(rand.NewPCG(7, 7))
	cases := []ledger.CaseID{h.child(), h.child(), h.child()}
	paths := []schema.Path{"child.surname", "child.given_name"}
	erased := map[ledger.CaseID]bool{}
	var past []ledger.Event
	for range 120 {
		c := cases[r.IntN(len(cases))]
		d := ledger.Draft{Case: c, Path: paths[r.IntN(2)], Writer: h.writer, Text: fmt.Sprint(r.IntN(1000))}
		switch r.IntN(12) {
		case 0:
			h.erase(c)
			erased[c] = true
		case 1, 2, 3:
			if !erased[c] {
				h.save(d)
			}
		case 4:
			if err := h.log.DropDraft(ctx, d); err != nil {
				h.Fatal(err)
			}
			delete(h.drafts, d.Place())
			h.verify()
		case 5: // once more
			if len(past) > 0 {
				if e := past[r.IntN(len(past))]; !erased[e.Case] {
					h.append([]ledger.Event{e})
				}
			}
		default:
			events := h.events(c, 1+r.IntN(3))
			if erased[c] {
				events = append(events, h.opening(c))
			}
			delete(erased, c)
			past = append(past, events...)
			h.append(events, d)
		}
	}
}
