package ledger

import (
	"fmt"
	"strconv"
	"time"
)

// MaxAhead is how far another device's clock may be ahead of ours and still be
// followed.
const MaxAhead = 5 * time.Minute

// Clock is a reading of a hybrid logical clock (Kulkarni and others, "Logical
// Physical Clocks", 2014): twelve hexadecimal digits of milliseconds since 1970, a
// point, and four of a counter. Readings compare as strings. A clock orders what
// is shown; it never decides which of two values holds.
type Clock string

func clockOf(ms int64, count int) Clock { return Clock(fmt.Sprintf("%012x.%04x", ms, count)) }

// parts reads a clock; ok is false if it is not one.
func (c Clock) parts() (ms int64, count int, ok bool) {
	if len(c) != 17 || c[12] != '.' {
		return 0, 0, false
	}
	for i := range len(c) {
		if d := c[i]; i != 12 && (d < '0' || d > '9') && (d < 'a' || d > 'f') {
			return 0, 0, false
		}
	}
	ms, err1 := strconv.ParseInt(string(c[:12]), 16, 64)
	n, err2 := strconv.ParseInt(string(c[13:]), 16, 64)
	return ms, int(n), err1 == nil && err2 == nil
}

// Time is the millisecond of the reading.
func (c Clock) Time() time.Time {
	ms, _, _ := c.parts()
	return time.UnixMilli(ms).UTC()
}

// Ahead tells whether the reading lies more than MaxAhead after now.
func (c Clock) Ahead(now time.Time) bool {
	ms, _, _ := c.parts()
	return ms > now.Add(MaxAhead).UnixMilli()
}

// Generator makes clock readings for one writer. It never runs backward, even if
// the wall clock does. A Generator is not safe for concurrent use.
type Generator struct {
	wall  func() time.Time
	ms    int64
	count int
}

// NewGenerator makes readings over a wall clock.
func NewGenerator(wall func() time.Time) *Generator { return &Generator{wall: wall} }

// Next is a reading later than every one made or observed before.
func (g *Generator) Next() Clock {
	if now := g.wall().UnixMilli(); now > g.ms {
		g.ms, g.count = now, 0
	} else if g.count++; g.count > 0xffff {
		g.ms, g.count = g.ms+1, 0
	}
	return clockOf(g.ms, g.count)
}

// Observe takes note of a reading from elsewhere, so that later ones of ours come
// after it. A reading more than MaxAhead in our future is not followed; ahead is
// then true, and the person is to be told that one of the two clocks is wrong.
func (g *Generator) Observe(c Clock) (ahead bool) {
	ms, count, ok := c.parts()
	if !ok {
		return false
	}
	if c.Ahead(g.wall()) {
		return true
	}
	if ms > g.ms || ms == g.ms && count > g.count {
		g.ms, g.count = ms, count
	}
	return false
}
