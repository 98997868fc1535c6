package ledger

import (
	"fmt"
	"io"
	"time"

	"github.com/google/uuid"
)

// The identifiers. Each is a UUID in its usual lower-case text form, and each has
// a type of its own, so that a case cannot be passed for an item.
type (
	CaseID   string // one child
	NoteID   string // one operation's note; "" is the child itself
	ItemID   string // one thing in the child
	EventID  string // one event
	WriterID string // one open tab or program that writes events
)

// IDs makes identifiers: UUID version 7 (RFC 9562), whose first 48 bits are the
// millisecond. Time and randomness come from the caller. An IDs is not safe for
// concurrent use.
type IDs struct {
	random io.Reader
	now    func() time.Time
}

// NewIDs makes identifiers from a source of randomness and a clock.
func NewIDs(random io.Reader, now func() time.Time) *IDs {
	return &IDs{random: random, now: now}
}

// New is a new identifier. It panics if the randomness fails, because an
// identifier that may repeat must never be written.
func (g *IDs) New() string {
	id, err := uuid.NewRandomFromReader(g.random)
	if err != nil {
		panic("ledger: no randomness for an identifier: " + err.Error())
	}
	ms := uint64(g.now().UnixMilli())
	for i := range 6 {
		id[i] = byte(ms >> (40 - 8*i))
	}
	id[6] = id[6]&0x0f | 0x70
	return id.String()
}

// isID tells whether s is a UUID in the one form that is stored.
func isID(s string) bool {
	if len(s) != 36 {
		return false
	}
	for i := range len(s) {
		c := s[i]
		switch i {
		case 8, 13, 18, 23:
			if c != '-' {
				return false
			}
		default:
			if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
				return false
			}
		}
	}
	return true
}

// packID is the 16 bytes of an identifier.
func packID(id string) ([16]byte, error) {
	u, err := uuid.Parse(id)
	if err != nil || !isID(id) {
		return u, fmt.Errorf("%q is not an identifier", clip(id))
	}
	return u, nil
}

// clip shortens what is quoted in a sentence.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
