//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"
	"time"

	"fairlead/app/ui/civil"
	"fairlead/handover/ledger"
)

// A reading is begun at 12:00 with the time 11:50 and not recorded. At 12:30, 30 minutes
// later, it is the same reading still; at 12:31 the form says how old it and its time are.
// With the first figure that is typed anew, or when the button opens the form again, the
// old time goes and that is said; the figures stay until they are typed over.
func TestOldTimeIsNotCarriedIntoAnotherReading(t *testing.T) {
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	it, a, c := item(), action("read"), p.S.child
	start := p.S.zone.Now()
	at := func(d time.Duration) { p.S.zone = civil.In(time.UTC, func() time.Time { return start.Add(d) }) }
	half := func(key string) string { return c.half[a.half(it)+key] }
	fill := func() {
		at(0)
		p.typedIn(a, it, "when", "11:50")
		p.typedIn(a, it, "total", "40")
	}
	says := func() string { return drawn(t, p.form(a, it)) }

	fill()
	at(30 * time.Minute)
	p.typedIn(a, it, "total", "41")
	if half("when") != "11:50" || strings.Contains(says(), "Half filled in") {
		t.Errorf("after 30 minutes the time is %q", half("when"))
	}
	at(31 * time.Minute)
	if html := says(); !strings.Contains(html, "Half filled in 31 min ago, ") || !strings.Contains(html, "Its time, “11:50”, was typed 31 min ago, ") {
		t.Error("after 31 minutes the form does not say how old its time is")
	}
	// To answer what is asked about the same figures is no other reading.
	p.typedIn(a, it, "sure", "read again")
	if half("when") == "" {
		t.Error("the answer to a question took the time")
	}
	p.typedIn(a, it, "total", "60")
	if half("when") != "" || half("total") != "60" || !strings.Contains(says(), "The time “11:50” was typed 31 min ago, ") {
		t.Errorf("another figure, and the time is %q", half("when"))
	}
	// A time that is typed now is the one of this reading.
	p.typedIn(a, it, "when", "12:20")
	p.typedIn(a, it, "total", "61")
	if half("when") != "12:20" || strings.Contains(says(), "is taken out") {
		t.Errorf("the time of this reading is %q", half("when"))
	}
	for _, key := range []string{"when", "total", "sure"} {
		p.typedIn(a, it, key, "")
	}
	if p.unfinished(it) != nil || len(c.half) != 0 {
		t.Errorf("emptied, and half said: %v", c.half)
	}

	fill()
	at(2 * time.Hour)
	p.begin(a, it)
	if half("when") != "" || half("total") != "40" || !strings.Contains(says(), "The time “11:50” was typed 2 h ago, ") || !strings.Contains(says(), "No time stands in it: recorded, it would be of now.") {
		t.Errorf("opened again, and the time is %q", half("when"))
	}
}
