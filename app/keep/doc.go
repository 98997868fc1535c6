// Package keep is the device's own store: a ledger.Log over IndexedDB, encrypted.
//
// The key type is [Store]. It keeps events and drafts, tells the other tabs of
// this device which case grew, and says what became of the browser's promise to
// keep it all. It runs in the browser only; [Words] and the numbers of the format
// build anywhere.
//
//	s, err := keep.Open(ctx, keep.Options{Closed: func(why error) { … }})
//	err = s.Append(ctx, events) // nil: the transaction completed, strictly
//
// # The format
//
// Every format that was released can be read for ever. A record names its format;
// one with a number that this version does not know stays where it is, is counted,
// and is reported with a *ledger.UnreadError.
//
// Format 1. The database is called "fairlead", version 1, with three stores.
//
// "keys", by case:
//
//	{case, kid, seal, mark}   seal: AES-GCM 256, mark: HMAC SHA-256, both made by
//	                          WebCrypto and not extractable; kid: a random name
//	                          of the pair
//	{case, erased: true}      the case was erased; nothing is kept of it again
//	                          until it is opened anew
//
// "events", by [case, id, mark], indexed by [case, seq]:
//
//	{format: 1, case, id, mark, seq, nonce, ciphertext}
//
// case and id are the event's own, both random; mark is the first 16 bytes, in
// hexadecimal, of the HMAC of the event in ledger.Canonical form, so that equal
// events share a record and one id with two contents has two, without decrypting
// anything inside a transaction; seq counts 1, 2, 3 … within the case in the order
// of keeping, whichever tab wrote; nonce is 12 random bytes; ciphertext is the
// event as JSON. The additional data is "fairlead 1 event " and the case and id,
// with a space between, so that a record moved elsewhere does not open.
//
// "drafts", by [case, id]:
//
//	{format: 1, case, id, nonce, ciphertext}
//
// id is the first 16 bytes, in hexadecimal, of the HMAC of "draft", note, path and
// writer, joined by line feeds: which field was being typed in is not readable
// either. ciphertext is the ledger.Draft as JSON; the additional data as above
// with "draft".
//
// Beside them, in a database of their own that may be lost, are the briefs (briefs.go).
//
// Nothing that was entered stands outside the ciphertext. What can be seen without
// a key: how many children there are, how many events each has and how long they
// are, and from the identifiers, which hold a millisecond, when they were made.
//
// One event is one record, and an action is one transaction. Packing an action's
// events into one record would save little, since most actions are one event, and
// would take from a record the key of its event. Reading is fast because all of a
// case is decrypted in one call of app/web/keep.js and decoded by ledger.Reader
// (testdata/figures.tsv, keep-read-10000).
//
// What it does not do: hide an erased record from somebody who takes the disk
// apart. The key and the records are deleted in one transaction; when the browser
// overwrites their bytes is the browser's affair.
//
// testdata/ledger/store-1.json is a database as this format left it, with keys
// that were made extractable for the purpose; a test reads it.
package keep

// Format is the number that new records carry.
const Format = 1

// Name is the name of the database.
const Name = "fairlead"
