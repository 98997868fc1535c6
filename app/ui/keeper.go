package ui

import (
	"context"
	"encoding/json"
	"slices"
	"sync"
	"time"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
)

// keeper hands what was done to the device's store, in order and one batch at a
// time, and says truthfully how far that is. What the store refuses stays here
// and is handed to it again.
type keeper struct {
	s    *Session
	wake chan struct{}

	mu sync.Mutex // over all below; the store answers on its own goroutine
	batch
	busy   bool
	failed string // why the last batch was not kept, in a sentence
	never  string // why nothing outlives this tab, in a sentence, or ""
	kept   bool   // something was kept since the start
	after  []func()
}

// batch is what is to be kept: events, with the drafts they came from, and drafts.
type batch struct {
	events []ledger.Event
	spent  []ledger.Draft
	drafts []pendingDraft // the latest of each field
}

func (b batch) empty() bool { return len(b.events)+len(b.drafts) == 0 }

// pendingDraft is what is being typed into one field, or with nil, that it is to
// be forgotten.
type pendingDraft struct {
	key   ledger.Draft // without its text
	draft *Draft
}

func newKeeper(s *Session) *keeper { return &keeper{s: s, wake: make(chan struct{}, 1)} }

// words is the truth about what was done, in few words.
func (k *keeper) words() string {
	k.mu.Lock()
	defer k.mu.Unlock()
	switch {
	case k.failed != "":
		return "NOT KEPT"
	case k.busy || !k.empty():
		return "Keeping…"
	case k.kept:
		return "Kept on this device"
	}
	return ""
}

// show says it on the screen, at once: the words must never be older than what
// stands beside them.
func (k *keeper) show() {
	words := k.words()
	safe.Tell("kept", words, map[bool]string{true: "kept is-failed", false: "kept"}[words == "NOT KEPT"])
}

// trouble is why the last batch was not kept, or "".
func (k *keeper) trouble() string {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.failed
}

// fail says that nothing is kept, and why.
func (k *keeper) fail(why string) {
	k.mu.Lock()
	k.failed = why
	k.mu.Unlock()
	k.show()
}

// forgets says that nothing is kept for longer than this tab, and why.
func (k *keeper) forgets(why string) {
	k.mu.Lock()
	k.never = why
	k.mu.Unlock()
	k.fail(why)
}

// append keeps events, and forgets the drafts they came from.
func (k *keeper) append(events []ledger.Event, spent ...ledger.Draft) {
	k.mu.Lock()
	k.events = append(k.events, events...)
	k.spent = append(k.spent, spent...)
	k.drafts = slices.DeleteFunc(k.drafts, func(p pendingDraft) bool { return slices.Contains(spent, p.key) })
	k.mu.Unlock()
	k.poke()
}

// draft keeps what is being typed, or with nil forgets it.
func (k *keeper) draft(key ledger.Draft, d *Draft) {
	if d != nil {
		now := *d
		d = &now
	}
	p := pendingDraft{key, d}
	k.mu.Lock()
	if i := slices.IndexFunc(k.drafts, func(p pendingDraft) bool { return p.key == key }); i >= 0 {
		k.drafts[i] = p
	} else {
		k.drafts = append(k.drafts, p)
	}
	k.mu.Unlock()
	k.poke()
}

// poke wakes the keeper, also to try again.
func (k *keeper) poke() {
	k.show()
	select {
	case k.wake <- struct{}{}:
	default:
	}
}

// whenKept runs do, on the user interface's goroutine, when all that was done
// until now is kept, or when it was refused.
func (k *keeper) whenKept(do func()) {
	k.mu.Lock()
	now := !k.busy && k.empty() || k.failed != k.never
	if !now {
		k.after = append(k.after, do)
	}
	k.mu.Unlock()
	if now {
		do()
	}
}

// run keeps until the context ends.
func (k *keeper) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-k.wake:
		}
		if k.lettersOnly() {
			time.Sleep(lettersWait)
		}
		for {
			b := k.take()
			if b.empty() {
				break
			}
			err := k.write(ctx, b)
			for c, gone := goneCase(err); gone; c, gone = goneCase(err) {
				b = b.without(c) // erased on this device: there is nowhere to keep it
				err = k.write(ctx, b)
			}
			k.done(b, err)
			if err != nil {
				select { // wait for the next thing done, a press on "try again", or a while
				case <-ctx.Done():
					return
				case <-k.wake:
				case <-time.After(10 * time.Second):
				}
			}
		}
	}
}

// lettersWait is how long letters wait before they are kept: a frame, so that they
// are drawn first.
const lettersWait = 17 * time.Millisecond

// lettersOnly tells whether nothing but what is being typed is to be kept.
func (k *keeper) lettersOnly() bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return len(k.events) == 0 && len(k.spent) == 0 && len(k.drafts) > 0
}

// take is the next batch to keep.
func (k *keeper) take() batch {
	k.mu.Lock()
	defer k.mu.Unlock()
	b := k.batch
	k.batch, k.busy = batch{}, !b.empty()
	return b
}

// done takes the store's answer about a batch.
func (k *keeper) done(b batch, err error) {
	k.mu.Lock()
	was := k.failed
	k.busy = false
	if err != nil {
		k.putBack(b)
		k.failed = notKeptWords(err)
	} else {
		k.kept, k.failed = true, k.never
	}
	var after []func()
	if err != nil || k.empty() {
		after, k.after = k.after, nil
	}
	changed := was != k.failed
	k.mu.Unlock()
	k.show()
	if changed || len(after) > 0 { // the screen says more than the words do
		k.s.later(func() {
			for _, do := range after {
				do()
			}
		})
	}
}

// putBack takes a refused batch in again, before what was done since.
func (k *keeper) putBack(b batch) {
	since := k.batch
	k.batch = batch{append(b.events, since.events...), append(b.spent, since.spent...), since.drafts}
	for _, d := range b.drafts {
		if !slices.Contains(since.spent, d.key) && !slices.ContainsFunc(since.drafts, func(p pendingDraft) bool { return p.key == d.key }) {
			k.drafts = append(k.drafts, d)
		}
	}
}

// write hands a batch to the store. Events go first: a draft typed after them is
// the newer one.
func (k *keeper) write(ctx context.Context, b batch) error {
	if k.s.store == nil {
		return errNoStore
	}
	if len(b.events) > 0 {
		if err := k.s.store.Append(ctx, b.events, b.spent...); err != nil {
			return err
		}
	}
	for _, d := range b.drafts {
		if d.draft == nil {
			if err := k.s.store.DropDraft(ctx, d.key); err != nil {
				return err
			}
			continue
		}
		text, err := json.Marshal(d.draft)
		if err != nil {
			return err
		}
		d.key.Text = string(text)
		if err := k.s.store.SaveDraft(ctx, d.key); err != nil {
			return err
		}
	}
	return nil
}
