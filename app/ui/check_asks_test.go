//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// A depth typed as a difference is judged as the note judges it. The list has 10 cm of a
// tube by the mouth, which lies at 5 to 26 cm and after stage 1 usually at 8 to 10.5:
// 95 (9.5 was meant) is refused, with a comma or a letter it is not a number, 12 is asked
// about once and recorded by a tap of its own, 9.5 is recorded.
func TestDifferenceIsJudgedAsTheNoteIs(t *testing.T) {
	s, o, _ := begun(t)
	tube := listIn(s, o.id, "airway", map[string]ledger.Entry{"variety": {Value: "oral-tube"}, "depth": ledger.Number("10")})
	p := arrival(s, o.id)
	e := entryOf(t, p, tube)
	for text, want := range map[string]string{
		"95": "If 95 was in mm, type 9.5 cm.", "9,500": "may mean 9.500 or 9500", "9O": "has a letter where a digit belongs", "95 mm": "If 9.5 cm is meant, type that.",
	} {
		if words, wrong := bedsideValue(e.Item, "depth", text); words != "" || !strings.Contains(wrong, want) {
			t.Errorf("%q is read as %q: %q, want %q", text, words, wrong, want)
		}
	}
	if words, wrong := bedsideValue(e.Item, "depth", "9.5"); words != "9.5 cm" || wrong != "" {
		t.Errorf("9.5: %q, %q", words, wrong)
	}
	// What an older version recorded is not put on the list.
	if _, ok := takenUp(e.Item, ledger.Difference{Field: "depth", Bedside: "95 cm"}); ok {
		t.Error("95 cm is offered to the list")
	}
	a := &otherAnswer{Pane: p, Entry: e, Key: string(tube)}
	drawn(t, a.draw())
	a.Mode, a.Field, a.Value = "differs", "depth", "12"
	for range 2 { // a second tap is no answer
		if a.usual(ledger.Difference{Field: "depth", Bedside: "12 cm"}) {
			t.Fatal("12 is taken without a question")
		}
	}
	if html := drawn(t, a.draw()); !strings.Contains(html, "Depth 12 cm is unusual: 8 to 10.5 cm is usual. Is it right?") {
		t.Error("it is not asked")
	}
	// The tablet dies, and what was asked is there again.
	a = &otherAnswer{Pane: p, Entry: e, Key: string(tube)}
	if html := drawn(t, a.draw()); !strings.Contains(html, "Yes, 12 cm is right: read again") {
		t.Error("there is no way to say that it is right")
	}
	a.Value = "13"
	if html := drawn(t, a.draw()); strings.Contains(html, "is right: read again") {
		t.Error("another figure is said to be right by the answer to the first")
	}
	a.Value = "12"
	a.sure()
	if len(a.Found) != 1 || a.Found[0] != (ledger.Difference{Field: "depth", Sheet: "10 cm", Bedside: "12 cm"}) {
		t.Fatalf("taken as %+v", a.Found)
	}
	a.Found, a.Field, a.Value, a.Ends = nil, "depth", "12", true
	a.usual(ledger.Difference{Field: "depth", Bedside: "12 cm"})
	if html := drawn(t, a.draw()); !strings.Contains(html, "is right: read again, record it") {
		t.Error("the one confirmation does not say that it records")
	}
	a.sure() // the one confirmation records the answer
	if got := lines.AnswerWords(entryOf(t, p, tube).Answer); got != "differs: depth is 12 cm, listed 10 cm (asked, and right: depth 12 cm is unusual: 8 to 10.5 cm is usual)" {
		t.Errorf("recorded as %q", got)
	}
}

// A time of arrival that is still to come is asked about on the screen of the check, beside
// the box it was typed in: it is 12:00, and 23:59 was typed.
func TestArrivalStillToComeIsAskedAtTheCheck(t *testing.T) {
	s, o, _ := begun(t)
	p := arrival(s, o.id)
	for at, asked := range map[string]bool{"T11:50": false, "T23:59": true} {
		set(s, o, schema.ArrivalArrived, ledger.Entry{Value: string(s.now().Date()) + at + "+01:00"})
		html := drawn(t, p.band())
		if strings.Contains(html, "is later than now") != asked || asked && !strings.Contains(html, "Correct the time, or check the clock of this device.") {
			t.Errorf("%s: asked %v, want %v", at, !asked, asked)
		}
	}
}
