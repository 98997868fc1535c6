//go:build js && wasm

package civil

import (
	"syscall/js"
	"time"
)

// Here is the browser's clock and zone.
func Here() Zone { return &browser{offsets: map[int64]int{}} }

type browser struct {
	name    string
	asked   bool          // for the name, which takes the browser some milliseconds
	offsets map[int64]int // by quarter of an hour
}

func (b *browser) Now() time.Time { return time.Now() }

func (b *browser) Name() string {
	if !b.asked {
		b.asked = true
		if name := js.Global().Get("Intl").Get("DateTimeFormat").New().Call("resolvedOptions").Get("timeZone"); name.Type() == js.TypeString {
			b.name = name.String()
		}
	}
	return b.name
}

func (b *browser) OffsetAt(at time.Time) int {
	quarter := at.Unix() / 900
	if off, ok := b.offsets[quarter]; ok {
		return off
	}
	off := -js.Global().Get("Date").New(quarter * 900_000).Call("getTimezoneOffset").Int()
	b.offsets[quarter] = off
	return off
}
