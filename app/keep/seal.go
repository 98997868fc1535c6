//go:build js && wasm

package keep

import (
	"context"
	"encoding/hex"
	"errors"
	"io"
	"strings"
	"syscall/js"

	"fairlead/handover/ledger"
)

// pair is the two keys of one case. Neither can leave WebCrypto.
type pair struct {
	kid        string
	seal, mark js.Value
}

// errNoKey says that there is no key for a case, because nothing was kept of it.
var errNoKey = errors.New("there is no key for this child")

func subtle() js.Value { return js.Global().Get("crypto").Get("subtle") }

// makePair makes new keys and the record that keeps them.
func makePair(ctx context.Context, c ledger.CaseID) (pair, js.Value, error) {
	promises := array.New(
		subtle().Call("generateKey", map[string]any{"name": "AES-GCM", "length": 256}, false, []any{"encrypt", "decrypt"}),
		subtle().Call("generateKey", map[string]any{"name": "HMAC", "hash": "SHA-256"}, false, []any{"sign"}))
	made, err := all(ctx, promises)
	if err != nil {
		return pair{}, js.Undefined(), err
	}
	p := pair{hex.EncodeToString(random(16)), made.Index(0), made.Index(1)}
	r := object.New()
	r.Set("case", string(c))
	r.Set("kid", p.kid)
	r.Set("seal", p.seal)
	r.Set("mark", p.mark)
	return p, r, nil
}

// pairIn reads the keys in a record of the store.
func pairIn(r js.Value) (p pair, erased, ok bool) {
	if !r.Truthy() {
		return pair{}, false, false
	}
	if r.Get("erased").Truthy() {
		return pair{}, true, false
	}
	p = pair{text(r, "kid"), r.Get("seal"), r.Get("mark")}
	return p, false, p.kid != "" && p.seal.Truthy() && p.mark.Truthy()
}

// Random is the browser's own source of random numbers; reading from it never
// fails.
var Random io.Reader = source{}

type source struct{}

func (source) Read(b []byte) (int, error) {
	n := min(len(b), 65536) // what getRandomValues gives at most
	a := js.Global().Get("Uint8Array").New(n)
	js.Global().Get("crypto").Call("getRandomValues", a)
	return js.CopyBytesToGo(b, a), nil
}

func random(n int) []byte {
	b := make([]byte, n)
	_, _ = io.ReadFull(Random, b)
	return b
}

func bound(what string, c ledger.CaseID, id string) js.Value {
	return bytesTo([]byte("fairlead 1 " + what + " " + string(c) + " " + id))
}

// sealed is what was asked of encrypt and sign for one record.
type sealed struct {
	id, mark   string
	nonce      js.Value
	ciphertext js.Value
}

// sealOne begins to encrypt one record; the promise is added to the array.
func (p pair) sealOne(promises js.Value, what string, c ledger.CaseID, id string, plain []byte) js.Value {
	nonce := bytesTo(random(12))
	how := object.New()
	how.Set("name", "AES-GCM")
	how.Set("iv", nonce)
	how.Set("additionalData", bound(what, c, id))
	promises.Call("push", subtle().Call("encrypt", how, p.seal, bytesTo(plain)))
	return nonce
}

// sealEvents encrypts events of one case.
func (p pair) sealEvents(ctx context.Context, c ledger.CaseID, events []ledger.Event) ([]sealed, error) {
	promises := array.New()
	out := make([]sealed, len(events))
	for i, e := range events {
		plain, err := e.MarshalJSON()
		if err != nil {
			return nil, err
		}
		same, err := ledger.Canonical(e)
		if err != nil {
			return nil, err
		}
		out[i].id = string(e.ID)
		out[i].nonce = p.sealOne(promises, "event", c, string(e.ID), plain)
		promises.Call("push", subtle().Call("sign", "HMAC", p.mark, bytesTo([]byte(same))))
	}
	done, err := all(ctx, promises)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i].ciphertext = done.Index(2 * i)
		out[i].mark = markIn(done.Index(2*i + 1))
	}
	return out, nil
}

func markIn(signature js.Value) string {
	b, _ := bytesFrom(signature)
	return hex.EncodeToString(b[:16])
}

// draftIDs are the names under which drafts of one case are kept.
func (p pair) draftIDs(ctx context.Context, drafts []ledger.Draft) ([]string, error) {
	promises := array.New()
	for _, d := range drafts {
		name := strings.Join([]string{"draft", string(d.Note), string(d.Path), string(d.Writer)}, "\n")
		promises.Call("push", subtle().Call("sign", "HMAC", p.mark, bytesTo([]byte(name))))
	}
	done, err := all(ctx, promises)
	if err != nil {
		return nil, err
	}
	ids := make([]string, len(drafts))
	for i := range ids {
		ids[i] = markIn(done.Index(i))
	}
	return ids, nil
}
