//go:build js && wasm

package keep

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"slices"
	"sync"
	"syscall/js"

	"fairlead/handover/ledger"
)

// Store keeps events and drafts in the browser. Make one with Open.
type Store struct {
	options Options

	mu     sync.Mutex
	db     js.Value
	closed error
	pairs  map[ledger.CaseID]pair
	read   map[ledger.CaseID]place

	channel js.Value

	briefing sync.Mutex
	briefs   *Store // of the database of the briefs; nil until it is needed
}

// place is how far this tab has read a case.
type place struct {
	kid string
	seq int
}

// Options are what a Store tells its user. Each may be nil.
type Options struct {
	Name    string                                           // of the database; "" is the usual
	Closed  func(why error)                                  // nothing more is kept; ledger.ErrClosed
	Blocked func(why error)                                  // opening waits for another tab; ledger.ErrBlocked
	Grew    func(child ledger.CaseID, events []ledger.Event) // another tab kept these; none if the case was not read here
	Erased  func(child ledger.CaseID)                        // another tab erased the case
}

var _ ledger.Log = (*Store)(nil)

// Append keeps the events, all or none, in one transaction.
func (s *Store) Append(ctx context.Context, events []ledger.Event, spent ...ledger.Draft) error {
	for i := range events {
		if err := events[i].Valid(); err != nil {
			return err
		}
	}
	if len(events)+len(spent) == 0 {
		return ctx.Err()
	}
	for tries := 0; ; tries++ {
		err := s.append(ctx, events, spent)
		if !errors.Is(err, errOtherKey) || tries == 3 {
			return err
		}
	}
}

// errOtherKey says that the keys of a case changed between encrypting and writing:
// another tab erased it and began it anew.
var errOtherKey = errors.New("the keys of this child changed meanwhile: try again")

// batch is the part of an Append that is about one case.
type batch struct {
	child  ledger.CaseID
	pair   pair
	keyed  bool // there is a pair
	events []ledger.Event
	sealed []sealed
	drafts []ledger.Draft
	ids    []string // of the drafts
}

// single is how many events are looked up one by one; above it all keys of the
// case are read at once.
const single = 16

func (s *Store) append(ctx context.Context, events []ledger.Event, spent []ledger.Draft) error {
	var batches []*batch
	of := func(c ledger.CaseID) *batch {
		i := slices.IndexFunc(batches, func(b *batch) bool { return b.child == c })
		if i < 0 {
			i = len(batches)
			batches = append(batches, &batch{child: c})
		}
		return batches[i]
	}
	for _, e := range events {
		b := of(e.Case)
		b.events = append(b.events, e)
	}
	for _, d := range spent {
		b := of(d.Case)
		b.drafts = append(b.drafts, d)
	}
	for _, b := range batches {
		var err error
		b.pair, err = s.pairOf(ctx, b.child, len(b.events) > 0, ledger.Opens(b.events, b.child))
		if errors.Is(err, errNoKey) && len(b.events) == 0 {
			continue
		}
		if err != nil {
			return err
		}
		b.keyed = true
		if b.sealed, err = b.pair.sealEvents(ctx, b.child, b.events); err != nil {
			return err
		}
		if b.ids, err = b.pair.draftIDs(ctx, b.drafts); err != nil {
			return err
		}
	}
	batches = slices.DeleteFunc(batches, func(b *batch) bool { return !b.keyed })
	if len(batches) == 0 {
		return nil
	}
	err := s.transact(ctx, "readwrite", []any{"keys", "events", "drafts"}, func(tx js.Value) []js.Value {
		var asked []js.Value
		kept := storeOf(tx, "events")
		for _, b := range batches {
			asked = append(asked, storeOf(tx, "keys").Call("get", string(b.child)),
				kept.Call("index", "seq").Call("openKeyCursor", counted(b.child), "prev"))
			if len(b.events) > single {
				asked = append(asked, kept.Call("getAllKeys", within(b.child)))
				continue
			}
			for _, r := range b.sealed {
				asked = append(asked, kept.Call("getKey", array.New(string(b.child), r.id, r.mark)))
			}
		}
		return asked
	}, func(tx js.Value, answers []js.Value) error {
		next := func() js.Value {
			a := answers[0]
			answers = answers[1:]
			return a
		}
		for _, b := range batches {
			p, _, ok := pairIn(next())
			if !ok || p.kid != b.pair.kid {
				s.forget(b.child)
				return errOtherKey
			}
			seq := 0
			if cursor := next(); cursor.Truthy() {
				seq = cursor.Get("key").Index(1).Int()
			}
			b.write(tx, seq, b.here(next))
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, b := range batches {
		if len(b.events) > 0 {
			s.tell("grew", b.child)
		}
	}
	return nil
}

// here finds which records are kept already.
func (b *batch) here(next func() js.Value) map[[2]string]bool {
	kept := map[[2]string]bool{}
	if len(b.events) > single {
		keys := next()
		for i := range keys.Length() {
			k := keys.Index(i)
			kept[[2]string{k.Index(1).String(), k.Index(2).String()}] = true
		}
		return kept
	}
	for _, r := range b.sealed {
		if next().Truthy() {
			kept[[2]string{r.id, r.mark}] = true
		}
	}
	return kept
}

func (b *batch) write(tx js.Value, seq int, kept map[[2]string]bool) {
	events, drafts := storeOf(tx, "events"), storeOf(tx, "drafts")
	for _, r := range b.sealed {
		key := [2]string{r.id, r.mark}
		if kept[key] {
			continue
		}
		kept[key] = true
		seq++
		record := object.New()
		record.Set("format", Format)
		record.Set("case", string(b.child))
		record.Set("id", r.id)
		record.Set("mark", r.mark)
		record.Set("seq", seq)
		record.Set("nonce", r.nonce)
		record.Set("ciphertext", r.ciphertext)
		events.Call("put", record)
	}
	for _, id := range b.ids {
		drafts.Call("delete", array.New(string(b.child), id))
	}
}

// pairOf finds the keys of a case, or with create makes them. A case that was
// erased is begun again only with anew.
func (s *Store) pairOf(ctx context.Context, c ledger.CaseID, create, anew bool) (pair, error) {
	s.mu.Lock()
	p, ok := s.pairs[c]
	s.mu.Unlock()
	if ok {
		return p, nil
	}
	var erased bool
	err := s.transact(ctx, "readonly", []any{"keys"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("get", string(c))}
	}, func(_ js.Value, answers []js.Value) error {
		p, erased, ok = pairIn(answers[0])
		return nil
	})
	switch {
	case err != nil:
		return pair{}, err
	case ok:
		return s.remember(c, p), nil
	case erased && create && !anew:
		return pair{}, &ledger.GoneError{Case: c}
	case !create:
		return pair{}, errNoKey
	}
	made, record, err := makePair(ctx, c)
	if err != nil {
		return pair{}, err
	}
	err = s.transact(ctx, "readwrite", []any{"keys"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("get", string(c))}
	}, func(tx js.Value, answers []js.Value) error {
		p, erased, ok = pairIn(answers[0])
		switch {
		case ok: // another tab was sooner
			return nil
		case erased && !anew:
			return &ledger.GoneError{Case: c}
		}
		p = made
		storeOf(tx, "keys").Call("put", record)
		return nil
	})
	if err != nil {
		return pair{}, err
	}
	return s.remember(c, p), nil
}

func (s *Store) remember(c ledger.CaseID, p pair) pair {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.pairs[c] = p
	return p
}

func (s *Store) forget(c ledger.CaseID) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.pairs, c)
	delete(s.read, c)
}

// Events lists the events of one case in the order they were kept.
func (s *Store) Events(ctx context.Context, c ledger.CaseID) ([]ledger.Event, error) {
	return s.eventsAfter(ctx, c, place{})
}

// eventsAfter lists the events that were kept after a place.
func (s *Store) eventsAfter(ctx context.Context, c ledger.CaseID, from place) ([]ledger.Event, error) {
	var records, key js.Value
	err := s.transact(ctx, "readonly", []any{"keys", "events"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("get", string(c)),
			storeOf(tx, "events").Call("index", "seq").Call("getAll", after(c, from.seq))}
	}, func(_ js.Value, answers []js.Value) error {
		key, records = answers[0], answers[1]
		return nil
	})
	if err != nil {
		return nil, err
	}
	p, _, _ := pairIn(key)
	if from.kid != "" && p.kid != from.kid {
		return s.eventsAfter(ctx, c, place{})
	}
	unread := unread{Case: c}
	plain, err := s.open(ctx, "event", p, records, &unread)
	if err != nil {
		return nil, err
	}
	var reader ledger.Reader
	events := make([]ledger.Event, 0, len(plain))
	for _, b := range plain {
		e, err := reader.Read(b)
		if err != nil || e.Case != c {
			unread.Newer++ // it was written whole: the tag of the encryption is right
			continue
		}
		events = append(events, e)
	}
	if n := records.Length(); n > 0 {
		last := int(whole(records.Index(n-1), "seq"))
		if missing := last - from.seq - n; missing > 0 {
			unread.Damaged += missing
		}
		s.mu.Lock()
		s.read[c] = place{p.kid, last}
		s.mu.Unlock()
	} else if from.seq == 0 {
		s.mu.Lock()
		s.read[c] = place{p.kid, 0}
		s.mu.Unlock()
	}
	return events, unread.orNil()
}

// unread counts what cannot be read.
type unread ledger.UnreadError

func (u unread) orNil() error {
	if u.Damaged+u.Newer == 0 {
		return nil
	}
	e := ledger.UnreadError(u)
	return &e
}

// open decrypts records of one case. What cannot be read is counted.
func (s *Store) open(ctx context.Context, what string, p pair, records js.Value, u *unread) ([][]byte, error) {
	if records.Length() == 0 {
		return nil, nil
	}
	var opened js.Value
	if err := guard(func() { opened = js.Global().Call("fairleadOpen", records, p.seal, what, Format) }); err != nil {
		return nil, err
	}
	opened, err := await(ctx, opened)
	if err != nil {
		return nil, err
	}
	return contents(opened, u), nil
}

// contents are what app/web/keep.js opened.
func contents(opened js.Value, u *unread) [][]byte {
	all, _ := bytesFrom(opened.Get("bytes"))
	lengths, _ := bytesFrom(opened.Get("lengths"))
	plain := make([][]byte, 0, len(lengths)/4)
	for ; len(lengths) > 0; lengths = lengths[4:] {
		switch n := int32(binary.LittleEndian.Uint32(lengths)); n {
		case -1:
			u.Damaged++
		case -2:
			u.Newer++
		default:
			plain = append(plain, all[:n:n])
			all = all[n:]
		}
	}
	return plain
}

// Cases lists the cases that have events.
func (s *Store) Cases(ctx context.Context) ([]ledger.CaseID, error) {
	var cases []ledger.CaseID
	var step js.Func
	err := s.transact(ctx, "readonly", []any{"events"}, func(tx js.Value) []js.Value {
		// A walk that jumps from the first record of each case to the next case.
		walk := storeOf(tx, "events").Call("index", "seq").Call("openKeyCursor")
		step = js.FuncOf(func(js.Value, []js.Value) any {
			cursor := walk.Get("result")
			if !cursor.Truthy() {
				return nil
			}
			c := cursor.Get("key").Index(0).String()
			cases = append(cases, ledger.CaseID(c))
			cursor.Call("continue", array.New(c, array.New()))
			return nil
		})
		walk.Call("addEventListener", "success", step)
		return []js.Value{storeOf(tx, "events").Call("count", "none")}
	}, func(js.Value, []js.Value) error { return nil })
	if err == nil || !errors.Is(err, ctx.Err()) {
		step.Release()
	}
	return cases, err
}

// SaveDraft keeps text in progress.
func (s *Store) SaveDraft(ctx context.Context, d ledger.Draft) error {
	for tries := 0; ; tries++ {
		err := s.saveDraft(ctx, d)
		if !errors.Is(err, errOtherKey) || tries == 3 {
			return err
		}
	}
}

func (s *Store) saveDraft(ctx context.Context, d ledger.Draft) error {
	p, err := s.pairOf(ctx, d.Case, true, false)
	if err != nil {
		return err
	}
	plain, err := json.Marshal(d)
	if err != nil {
		return err
	}
	ids, err := p.draftIDs(ctx, []ledger.Draft{d})
	if err != nil {
		return err
	}
	promises := array.New()
	nonce := p.sealOne(promises, "draft", d.Case, ids[0], plain)
	ciphertext, err := all(ctx, promises)
	if err != nil {
		return err
	}
	record := object.New()
	record.Set("format", Format)
	record.Set("case", string(d.Case))
	record.Set("id", ids[0])
	record.Set("nonce", nonce)
	record.Set("ciphertext", ciphertext.Index(0))
	return s.transact(ctx, "readwrite", []any{"keys", "drafts"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("get", string(d.Case))}
	}, func(tx js.Value, answers []js.Value) error {
		if now, _, ok := pairIn(answers[0]); !ok || now.kid != p.kid {
			s.forget(d.Case)
			return errOtherKey
		}
		storeOf(tx, "drafts").Call("put", record)
		return nil
	})
}

// DropDraft forgets a draft.
func (s *Store) DropDraft(ctx context.Context, d ledger.Draft) error {
	return s.Append(ctx, nil, d)
}

// Drafts lists the drafts of one case.
func (s *Store) Drafts(ctx context.Context, c ledger.CaseID) ([]ledger.Draft, error) {
	var records, key js.Value
	err := s.transact(ctx, "readonly", []any{"keys", "drafts"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("get", string(c)), storeOf(tx, "drafts").Call("getAll", within(c))}
	}, func(_ js.Value, answers []js.Value) error {
		key, records = answers[0], answers[1]
		return nil
	})
	if err != nil {
		return nil, err
	}
	p, _, _ := pairIn(key)
	unread := unread{Case: c}
	plain, err := s.open(ctx, "draft", p, records, &unread)
	if err != nil {
		return nil, err
	}
	var drafts []ledger.Draft
	for _, b := range plain {
		var d ledger.Draft
		if err := json.Unmarshal(b, &d); err != nil || d.Case != c {
			unread.Newer++
			continue
		}
		drafts = append(drafts, d)
	}
	ledger.SortDrafts(drafts)
	return drafts, unread.orNil()
}

// Erase destroys the key of a case, and then its records.
func (s *Store) Erase(ctx context.Context, c ledger.CaseID) error {
	tombstone := object.New()
	tombstone.Set("case", string(c))
	tombstone.Set("erased", true)
	err := s.transact(ctx, "readwrite", []any{"keys", "events", "drafts"}, func(tx js.Value) []js.Value {
		return []js.Value{storeOf(tx, "keys").Call("put", tombstone),
			storeOf(tx, "events").Call("delete", within(c)),
			storeOf(tx, "drafts").Call("delete", within(c))}
	}, func(js.Value, []js.Value) error { return nil })
	if err != nil {
		return err
	}
	s.forget(c)
	s.dropBrief(ctx, c)
	s.tell("erased", c)
	return nil
}
