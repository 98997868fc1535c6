//go:build js && wasm

package keep

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"strings"
	"syscall/js"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/handover/ledger/logtest"
)

// These run in a real browser's page: testdata/browser/keep.test.mjs takes them
// there.

var opened int

// fresh is a store in a database of its own.
func fresh(t *testing.T, o Options) *Store {
	t.Helper()
	opened++
	o.Name = fmt.Sprintf("test %d %s", opened, t.Name())
	return openNamed(t, o)
}

func openNamed(t *testing.T, o Options) *Store {
	t.Helper()
	s, err := Open(context.Background(), o)
	if err != nil {
		t.Fatalf("Open: %v", err)
	}
	t.Cleanup(func() {
		s.Close()
		js.Global().Get("indexedDB").Call("deleteDatabase", o.Name)
		js.Global().Get("indexedDB").Call("deleteDatabase", s.briefsName())
	})
	return s
}

func TestLog(t *testing.T) {
	logtest.Run(t, func(t *testing.T) ledger.Log { return fresh(t, Options{}) })
}

const (
	caseA = ledger.CaseID("0190f4a0-0000-7000-8000-00000000000a")
	caseB = ledger.CaseID("0190f4a0-0000-7000-8000-00000000000b")
)

var bg = context.Background()

func id(n int) string { return fmt.Sprintf("0190f4a0-0000-7000-8000-0001%08d", n) }

// raw does something to one store of the database beneath s, past it.
func raw(t *testing.T, s *Store, store string, do func(store js.Value) js.Value) js.Value {
	t.Helper()
	var answer js.Value
	err := s.transact(bg, "readwrite", []any{store}, func(tx js.Value) []js.Value {
		return []js.Value{do(storeOf(tx, store))}
	}, func(_ js.Value, answers []js.Value) error {
		answer = answers[0]
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return answer
}

func getAll(store js.Value) js.Value { return store.Call("getAll") }

// dump writes everything that lies in a record, buffers as their bytes.
func dump(out *bytes.Buffer, v js.Value) {
	if b, ok := bytesOrNot(v); ok {
		out.Write(b)
		return
	}
	switch v.Type() {
	case js.TypeObject:
		names := object.Call("keys", v)
		for i := range names.Length() {
			out.WriteString(names.Index(i).String() + "\n")
			dump(out, v.Get(names.Index(i).String()))
		}
	default:
		out.WriteString(js.Global().Get("String").Invoke(v).String() + "\n")
	}
}

func bytesOrNot(v js.Value) ([]byte, bool) {
	if v.Type() != js.TypeObject {
		return nil, false
	}
	return bytesFrom(v)
}

func dumpAll(t *testing.T, s *Store) []byte {
	var out bytes.Buffer
	for _, store := range []string{"keys", "events", "drafts"} {
		dump(&out, raw(t, s, store, getAll))
		dump(&out, raw(t, s, store, func(st js.Value) js.Value { return st.Call("getAllKeys") }))
	}
	return out.Bytes()
}

func TestNothingEnteredIsReadable(t *testing.T) {
	s := fresh(t, Options{})
	planted := []string{"Plantedsurname", "planted.path.weight", "A. Invented", "field set", "Europe/London"}
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "Plantedsurname")}); err != nil {
		t.Fatal(err)
	}
	if err := s.SaveDraft(bg, ledger.Draft{Case: caseA, Path: "planted.path.weight", Writer: "0190f4a0-0000-7000-8000-00000000aaaa", Text: "Plantedsurname"}); err != nil {
		t.Fatal(err)
	}
	all := dumpAll(t, s)
	if !bytes.Contains(all, []byte(caseA)) || !bytes.Contains(all, []byte(id(1))) {
		t.Fatalf("the dump does not even hold the identifiers: %q", all)
	}
	for _, word := range planted {
		if bytes.Contains(all, []byte(word)) || bytes.Contains(bytes.ToLower(all), []byte(strings.ToLower(word))) {
			t.Errorf("%q can be read in what is kept", word)
		}
	}
	for _, name := range []string{"seal", "mark"} {
		key := raw(t, s, "keys", getAll).Index(0).Get(name)
		if key.Get("extractable").Bool() {
			t.Errorf("the key %s can be taken out of the browser", name)
		}
		if _, err := await(bg, subtle().Call("exportKey", "raw", key)); err == nil {
			t.Errorf("the key %s was exported", name)
		}
	}
}

func TestRecordsHaveTheFormat(t *testing.T) {
	s := fresh(t, Options{})
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x"), driven(caseA, id(2), "y")}); err != nil {
		t.Fatal(err)
	}
	r := raw(t, s, "events", getAll).Index(1)
	if got := object.Call("keys", r).Call("join").String(); got != "format,case,id,mark,seq,nonce,ciphertext" {
		t.Errorf("an event's record has %s", got)
	}
	if r.Get("format").Int() != 1 || r.Get("seq").Int() != 2 || r.Get("id").String() != id(2) || r.Get("nonce").Length() != 12 {
		t.Errorf("format %v, seq %v, id %v, nonce of %d bytes", r.Get("format"), r.Get("seq"), r.Get("id"), r.Get("nonce").Length())
	}
	nonce := func(i int) string {
		b, _ := bytesFrom(raw(t, s, "events", getAll).Index(i).Get("nonce"))
		return string(b)
	}
	if nonce(0) == nonce(1) {
		t.Error("a nonce was used twice")
	}
}

func TestErasedIsGone(t *testing.T) {
	s := fresh(t, Options{})
	for i, c := range []ledger.CaseID{caseA, caseB} {
		if err := s.Append(bg, []ledger.Event{driven(c, id(i), "x")}); err != nil {
			t.Fatal(err)
		}
		if err := s.SaveDraft(bg, ledger.Draft{Case: c, Path: "child.surname", Writer: "0190f4a0-0000-7000-8000-00000000aaaa"}); err != nil {
			t.Fatal(err)
		}
	}
	stolen := raw(t, s, "events", getAll).Index(0)
	if err := s.Erase(bg, caseA); err != nil {
		t.Fatal(err)
	}
	for _, store := range []string{"events", "drafts"} {
		left := raw(t, s, store, getAll)
		for i := range left.Length() {
			if text(left.Index(i), "case") == string(caseA) {
				t.Errorf("%s still holds a record of the erased case", store)
			}
		}
	}
	key := raw(t, s, "keys", func(st js.Value) js.Value { return st.Call("get", string(caseA)) })
	if got := object.Call("keys", key).Call("join").String(); got != "case,erased" {
		t.Errorf("in place of the keys there is %s", got)
	}
	// A record copied before the erasure and put back opens for nobody.
	raw(t, s, "events", func(st js.Value) js.Value { return st.Call("put", stolen) })
	events, err := s.Events(bg, caseA)
	var unread *ledger.UnreadError
	if len(events) != 0 || !errors.As(err, &unread) || unread.Damaged != 1 {
		t.Errorf("a copied record of an erased case: %d events, %v", len(events), err)
	}
	if events, err := s.Events(bg, caseB); len(events) != 1 || err != nil {
		t.Errorf("the other case: %d events, %v", len(events), err)
	}
}

// A case's mark changes with every event more, and with its keys; its brief opens
// only with the key under which it was kept, and names nothing that was entered.
func TestMarksAndBriefs(t *testing.T) {
	s := fresh(t, Options{})
	if marks, err := s.Marks(bg); err != nil || len(marks) != 0 {
		t.Fatalf("of nothing: %v, %v", marks, err)
	}
	opening := driven(caseA, id(9), "x")
	opening.Kind, opening.Body = ledger.KindCaseOpened, json.RawMessage(`{}`)
	if err := s.Append(bg, []ledger.Event{opening, driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	for i := range 20 { // more than are looked up one by one
		if err := s.Append(bg, []ledger.Event{driven(caseB, id(100+i), "x")}); err != nil {
			t.Fatal(err)
		}
	}
	before, err := s.Marks(bg)
	if err != nil || len(before) != 2 || before[caseA] == "" || before[caseB] == "" {
		t.Fatalf("of two cases: %v, %v", before, err)
	}
	for _, c := range []ledger.CaseID{caseA, caseB} {
		if err := s.KeepBrief(bg, c, []byte("Plantedsurname of "+c)); err != nil {
			t.Fatal(err)
		}
	}
	again := openNamed(t, Options{Name: s.options.Name}) // another tab, or the next day
	if marks, err := again.Marks(bg); err != nil || !maps.Equal(marks, before) {
		t.Errorf("nothing was kept since, and the marks are %v, not %v (%v)", marks, before, err)
	}
	got, err := again.Briefs(bg)
	if err != nil || len(got) != 2 || string(got[caseA]) != "Plantedsurname of "+string(caseA) || string(got[caseB]) != "Plantedsurname of "+string(caseB) {
		t.Errorf("the briefs are %q, %v", got, err)
	}
	var out bytes.Buffer
	dump(&out, raw(t, s.briefs, "briefs", getAll))
	if !bytes.Contains(out.Bytes(), []byte(caseA)) || bytes.Contains(out.Bytes(), []byte("Planted")) {
		t.Errorf("a brief can be read in what is kept: %q", out.Bytes())
	}
	if err := again.Append(bg, []ledger.Event{driven(caseA, id(2), "y")}); err != nil {
		t.Fatal(err)
	}
	if marks, _ := s.Marks(bg); marks[caseA] == before[caseA] || marks[caseB] != before[caseB] {
		t.Errorf("after one event more: %v, before %v", marks, before)
	}

	stolen := raw(t, s.briefs, "briefs", getAll).Index(0)
	if err := s.Erase(bg, caseA); err != nil {
		t.Fatal(err)
	}
	if n := raw(t, s.briefs, "briefs", getAll).Length(); n != 1 {
		t.Errorf("%d briefs are left of one case", n)
	}
	if marks, err := s.Marks(bg); err != nil || len(marks) != 1 {
		t.Errorf("after erasing: %v, %v", marks, err)
	}
	raw(t, s.briefs, "briefs", func(st js.Value) js.Value { return st.Call("put", stolen) })
	if got, err := s.Briefs(bg); err != nil || len(got) != 1 {
		t.Errorf("a copied brief of an erased case: %q, %v", got, err)
	}
	if err := s.Append(bg, []ledger.Event{opening, driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	if marks, err := s.Marks(bg); err != nil || len(marks) != 2 || marks[caseA] == before[caseA] {
		t.Errorf("begun anew: %v, before %v (%v)", marks, before, err)
	}
	if got, err := s.Briefs(bg); err != nil || len(got) != 1 {
		t.Errorf("a brief from before the case was begun anew: %q, %v", got, err)
	}
	if err := s.Wipe(bg); err != nil {
		t.Fatal(err)
	}
	anew := openNamed(t, Options{Name: s.options.Name})
	if got, err := anew.Briefs(bg); err != nil || len(got) != 0 {
		t.Errorf("after wiping: %q, %v", got, err)
	}
}

// What cannot be read is counted, stays, and hides nothing else.
func TestUnreadable(t *testing.T) {
	change := func(name string, value any) func(js.Value) {
		return func(r js.Value) { r.Set(name, value) }
	}
	for _, c := range []struct {
		name           string
		change         func(r js.Value)
		damaged, newer int
	}{
		{"a byte of the ciphertext", func(r js.Value) {
			b, _ := bytesFrom(r.Get("ciphertext"))
			b[3] ^= 1
			r.Set("ciphertext", bytesTo(b))
		}, 1, 0},
		{"an empty ciphertext", func(r js.Value) { r.Set("ciphertext", bytesTo(nil)) }, 1, 0},
		{"no ciphertext", change("ciphertext", nil), 1, 0},
		{"a nonce that is text", change("nonce", "x"), 1, 0},
		{"no format", change("format", nil), 1, 0},
		{"a later format", change("format", 2), 0, 1},
		{"a later format without anything else", func(r js.Value) {
			r.Set("format", 9)
			r.Set("ciphertext", js.Null())
			r.Set("nonce", js.Null())
		}, 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := fresh(t, Options{})
			if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x"), driven(caseA, id(2), "y"), driven(caseA, id(3), "z")}); err != nil {
				t.Fatal(err)
			}
			r := raw(t, s, "events", getAll).Index(1)
			c.change(r)
			raw(t, s, "events", func(st js.Value) js.Value { return st.Call("put", r) })
			for range 2 {
				events, err := s.Events(bg, caseA)
				var unread *ledger.UnreadError
				if !errors.As(err, &unread) || unread.Damaged != c.damaged || unread.Newer != c.newer {
					t.Errorf("%v, want %d damaged, %d newer", err, c.damaged, c.newer)
				}
				if len(events) != 2 || events[0].ID != ledger.EventID(id(1)) || events[1].ID != ledger.EventID(id(3)) {
					t.Errorf("the others: %v", events)
				}
			}
			if n := raw(t, s, "events", getAll).Length(); n != 3 {
				t.Errorf("%d records are left of 3", n)
			}
			if err := s.Append(bg, []ledger.Event{driven(caseA, id(4), "more")}); err != nil {
				t.Errorf("Append after it: %v", err)
			}
		})
	}
}

func TestRecordMovedElsewhereDoesNotOpen(t *testing.T) {
	s := fresh(t, Options{})
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	r := raw(t, s, "events", getAll).Index(0)
	r.Set("id", id(2))
	r.Set("seq", 2)
	raw(t, s, "events", func(st js.Value) js.Value { return st.Call("put", r) })
	events, err := s.Events(bg, caseA)
	var unread *ledger.UnreadError
	if len(events) != 1 || !errors.As(err, &unread) || unread.Damaged != 1 {
		t.Errorf("%d events, %v", len(events), err)
	}
}

func TestRecordThatVanishedIsCounted(t *testing.T) {
	s := fresh(t, Options{})
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x"), driven(caseA, id(2), "y"), driven(caseA, id(3), "z")}); err != nil {
		t.Fatal(err)
	}
	r := raw(t, s, "events", getAll).Index(1)
	raw(t, s, "events", func(st js.Value) js.Value {
		return st.Call("delete", array.New(r.Get("case"), r.Get("id"), r.Get("mark")))
	})
	events, err := s.Events(bg, caseA)
	var unread *ledger.UnreadError
	if len(events) != 2 || !errors.As(err, &unread) || unread.Damaged != 1 {
		t.Errorf("%d events, %v", len(events), err)
	}
}

func TestUnreadableDraft(t *testing.T) {
	s := fresh(t, Options{})
	for _, p := range []string{"child.surname", "child.given_name"} {
		if err := s.SaveDraft(bg, drivenDraft([]js.Value{js.ValueOf(string(caseA)), js.ValueOf(p), js.ValueOf("x")})); err != nil {
			t.Fatal(err)
		}
	}
	r := raw(t, s, "drafts", getAll).Index(0)
	r.Set("nonce", bytesTo(make([]byte, 12)))
	raw(t, s, "drafts", func(st js.Value) js.Value { return st.Call("put", r) })
	ds, err := s.Drafts(bg, caseA)
	var unread *ledger.UnreadError
	if len(ds) != 1 || !errors.As(err, &unread) || unread.Damaged != 1 {
		t.Errorf("%d drafts, %v", len(ds), err)
	}
}

// Two handles on one database are what two tabs have.
func TestTwoHandles(t *testing.T) {
	type grown struct {
		child  ledger.CaseID
		events []ledger.Event
	}
	heard, erased := make(chan grown, 9), make(chan ledger.CaseID, 9)
	a := fresh(t, Options{})
	b := openNamed(t, Options{Name: a.options.Name,
		Grew:   func(c ledger.CaseID, events []ledger.Event) { heard <- grown{c, events} },
		Erased: func(c ledger.CaseID) { erased <- c }})
	within := func(what string, ok func() bool) {
		t.Helper()
		for range 200 {
			if ok() {
				return
			}
			time.Sleep(10 * time.Millisecond)
		}
		t.Fatalf("not within two seconds: %s", what)
	}
	hear := func() (g grown) {
		t.Helper()
		within("the other tab hears", func() bool {
			select {
			case g = <-heard:
				return true
			default:
				return false
			}
		})
		return g
	}
	if err := a.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	if g := hear(); g.child != caseA || len(g.events) != 0 {
		t.Errorf("a case not read here: %v", g)
	}
	if events, err := b.Events(bg, caseA); err != nil || len(events) != 1 {
		t.Fatalf("%v, %v", events, err)
	}
	if err := a.Append(bg, []ledger.Event{driven(caseA, id(2), "y"), driven(caseA, id(3), "z")}); err != nil {
		t.Fatal(err)
	}
	if g := hear(); g.child != caseA || len(g.events) != 2 || g.events[0].ID != ledger.EventID(id(2)) {
		t.Errorf("a case read here: %v", g)
	}
	if err := a.Erase(bg, caseA); err != nil {
		t.Fatal(err)
	}
	within("the erasure is heard", func() bool { return len(erased) == 1 })
	if err := b.Append(bg, []ledger.Event{driven(caseA, id(4), "late")}); !errors.Is(err, ledger.ErrGone) {
		t.Errorf("a late append: %v", err)
	}
}

// The keys may change between encrypting and writing.
func TestErasedAndBegunAnewMeanwhile(t *testing.T) {
	a := fresh(t, Options{})
	b := openNamed(t, Options{Name: a.options.Name})
	b.channel.Call("close") // it hears of nothing
	opening := driven(caseA, id(9), "x")
	opening.Kind, opening.Body = ledger.KindCaseOpened, json.RawMessage(`{}`)
	for _, s := range []*Store{a, b} {
		if err := s.Append(bg, []ledger.Event{opening, driven(caseA, id(1), "x")}); err != nil {
			t.Fatal(err)
		}
	}
	if err := a.Erase(bg, caseA); err != nil {
		t.Fatal(err)
	}
	if err := a.Append(bg, []ledger.Event{opening}); err != nil {
		t.Fatal(err)
	}
	if err := b.Append(bg, []ledger.Event{driven(caseA, id(2), "y")}); err != nil {
		t.Fatal(err)
	}
	if err := b.SaveDraft(bg, ledger.Draft{Case: caseA, Path: "child.surname", Writer: "0190f4a0-0000-7000-8000-00000000aaaa"}); err != nil {
		t.Fatal(err)
	}
	for _, s := range []*Store{a, b} {
		if events, err := s.Events(bg, caseA); err != nil || len(events) != 2 {
			t.Errorf("%d events, %v", len(events), err)
		}
	}
}

func TestNewerVersionOfTheStore(t *testing.T) {
	closed := make(chan error, 1)
	s := fresh(t, Options{Closed: func(why error) { closed <- why }})
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	// A newer version of the program opens it: this one must give way at once.
	newer := js.Global().Get("indexedDB").Call("open", s.options.Name, 2)
	done := make(chan string, 2)
	newer.Set("onsuccess", js.FuncOf(func(js.Value, []js.Value) any { done <- "success"; return nil }))
	newer.Set("onblocked", js.FuncOf(func(js.Value, []js.Value) any { done <- "blocked"; return nil }))
	if got := <-done; got != "success" {
		t.Fatalf("the newer version: %s", got)
	}
	if why := <-closed; !errors.Is(why, ledger.ErrClosed) {
		t.Errorf("told %v", why)
	}
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(2), "y")}); !errors.Is(err, ledger.ErrClosed) {
		t.Errorf("Append afterwards: %v", err)
	}
	if _, err := s.Events(bg, caseA); !errors.Is(err, ledger.ErrClosed) {
		t.Errorf("Events afterwards: %v", err)
	}
	newer.Get("result").Call("close")
	if _, err := Open(bg, Options{Name: s.options.Name}); err == nil || !strings.Contains(err.Error(), "newer version") {
		t.Errorf("opening what a newer version wrote: %v", err)
	}
}

func TestBlockedByAnOlderTab(t *testing.T) {
	opened++
	name := fmt.Sprintf("test %d blocked", opened)
	// An older page that does not give way, with the store at an older version.
	factory := js.Global().Get("indexedDB")
	done := make(chan js.Value, 1)
	deleting := make(chan bool, 1)
	hold := factory.Call("open", name, 1)
	hold.Set("onsuccess", js.FuncOf(func(js.Value, []js.Value) any { done <- hold.Get("result"); return nil }))
	older := <-done
	remove := factory.Call("deleteDatabase", name) // waits for the older page, and we wait for it
	remove.Set("onblocked", js.FuncOf(func(js.Value, []js.Value) any { deleting <- true; return nil }))
	<-deleting
	ready := make(chan *Store, 1)
	go func() {
		s, err := Open(bg, Options{Name: name})
		if err != nil {
			t.Errorf("Open: %v", err)
		}
		ready <- s
	}()
	select {
	case <-ready:
		t.Fatal("opened while the older page holds the store")
	case <-time.After(100 * time.Millisecond):
	}
	older.Call("close")
	s := <-ready
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Error(err)
	}
	s.Close()
	factory.Call("deleteDatabase", name)
}

// A later layout needs the store to itself; while a page does not give way, that
// is told.
func TestBlockedWhileUpgrading(t *testing.T) {
	opened++
	name := fmt.Sprintf("test %d upgrade", opened)
	factory := js.Global().Get("indexedDB")
	held := make(chan js.Value, 1)
	hold := factory.Call("open", name, 1)
	hold.Set("onsuccess", js.FuncOf(func(js.Value, []js.Value) any { held <- hold.Get("result"); return nil }))
	older := <-held
	told, done := make(chan error, 1), make(chan error, 1)
	s := &Store{options: Options{Name: name, Blocked: func(why error) { told <- why }}}
	go func() {
		db, err := s.openDatabase(bg, factory, version+1, layout)
		if err == nil {
			db.Call("close")
		}
		done <- err
	}()
	if why := <-told; !errors.Is(why, ledger.ErrBlocked) {
		t.Errorf("told %v", why)
	}
	older.Call("close")
	if err := <-done; err != nil {
		t.Errorf("once the older page is closed: %v", err)
	}
	factory.Call("deleteDatabase", name)
}

// Whatever lies in the database, the program goes on.
func TestRubbishInTheDatabase(t *testing.T) {
	s := fresh(t, Options{})
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	for i, seq := range []any{"x", 2.5, []any{}, nil} {
		r := object.New()
		r.Set("case", string(caseA))
		r.Set("id", id(10+i))
		r.Set("mark", "m")
		r.Set("seq", seq)
		r.Set("format", 1)
		raw(t, s, "events", func(st js.Value) js.Value { return st.Call("put", r) })
	}
	key := object.New()
	key.Set("case", string(caseB))
	key.Set("seal", "x")
	raw(t, s, "keys", func(st js.Value) js.Value { return st.Call("put", key) })
	events, err := s.Events(bg, caseA)
	var unread *ledger.UnreadError
	if len(events) != 1 || !errors.As(err, &unread) || unread.Damaged < 2 {
		t.Errorf("%d events, %v", len(events), err)
	}
	if err := s.Append(bg, []ledger.Event{driven(caseA, id(2), "y")}); err != nil {
		t.Errorf("Append beside it: %v", err)
	}
	if events, _ := s.Events(bg, caseA); len(events) != 2 {
		t.Errorf("%d events", len(events))
	}
	if err := s.Append(bg, []ledger.Event{driven(caseB, id(3), "z")}); err != nil {
		t.Errorf("Append over a broken key: %v", err)
	}
	if events, err := s.Events(bg, caseB); len(events) != 1 || err != nil {
		t.Errorf("%d events, %v", len(events), err)
	}
}

func TestWipe(t *testing.T) {
	closed := make(chan error, 1)
	a := fresh(t, Options{})
	openNamed(t, Options{Name: a.options.Name, Closed: func(why error) { closed <- why }})
	if err := a.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Fatal(err)
	}
	if err := a.Wipe(bg); err != nil {
		t.Fatalf("Wipe: %v", err)
	}
	if why := <-closed; !errors.Is(why, ledger.ErrClosed) {
		t.Errorf("the other tab was told %v", why)
	}
	if err := a.Append(bg, []ledger.Event{driven(caseA, id(2), "x")}); !errors.Is(err, ledger.ErrClosed) {
		t.Errorf("Append afterwards: %v", err)
	}
	again := openNamed(t, Options{Name: a.options.Name})
	if cases, err := again.Cases(bg); err != nil || len(cases) != 0 {
		t.Errorf("after wiping: %v, %v", cases, err)
	}
	if err := again.Append(bg, []ledger.Event{driven(caseA, id(1), "x")}); err != nil {
		t.Errorf("keeping anew: %v", err)
	}
}

func TestWriters(t *testing.T) {
	w := ledger.WriterID("0190f4a0-0000-7000-8000-00000000bbbb")
	if Writers(bg)[w] {
		t.Fatal("at work before it began")
	}
	Hold(w)
	for range 100 {
		if Writers(bg)[w] {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Error("a writer at work is not seen")
}
