//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
)

// Where a tube is moved to is judged as the note judges its depth. A tube by the mouth
// lies at 5 to 26 cm and after stage 1 usually at 8 to 10.5 cm: 95 cm, a comma, a letter
// and another unit are refused, 12 cm is asked about, 9.5 cm is recorded.
func TestMovedIsJudgedAsTheNoteIs(t *testing.T) {
	p, item := atBed(t, "airway", map[string]ledger.Entry{"variety": {Value: "oral-tube"}, "depth": ledger.Number("10")})
	it := item()
	for to, want := range map[string]string{
		"95 cm at the lips": "Depth 95 cm is outside what is possible: 5 to 26 cm. Check the figure. If 95 was in mm, type 9.5 cm.", "at the lips 95cm": "outside what is possible",
		"9,500 cm at the lips": "may mean 9.500 or 9500", "9O cm at the lips": "has a letter where a digit belongs", "95 mm at the lips": "If 9.5 cm is meant",
		"9,5 at the lips": "Enter where it is now with its unit, such as 9.5 cm at the lips.", "95": "no unit", "4 cm": "outside what is possible",
	} {
		if at, wrong := p.refused("moved", it, map[string]string{"to": to}); !strings.Contains(wrong, want) || at != "to" && to != "95" {
			t.Errorf("%q: at %q: %q, want %q", to, at, wrong, want)
		}
	}
	for to, want := range map[string]string{"12 cm at the lips": "Depth 12 cm is unusual: 8 to 10.5 cm is usual.", "from 9 cm to 95 cm": "Depth 95 cm is outside what is possible"} {
		if at, wrong := p.refused("moved", it, map[string]string{"to": to}); at != "sure" || !strings.Contains(wrong, want) {
			t.Errorf("%q: at %q: %q, want %q", to, at, wrong, want)
		}
		if html := drawn(t, p.form(action("moved"), it)); !strings.Contains(html, "Is it right?") {
			t.Error("there is no way to say that it is right")
		}
	}
	for _, to := range []string{"9.5 cm at the lips", "the left corner of the mouth", "9.5cm, taped", "10 in the left corner"} {
		if at, wrong := p.refused("moved", it, map[string]string{"to": to}); wrong != "" {
			t.Errorf("%q: at %q: %q", to, at, wrong)
		}
	}
	if at, wrong := p.refused("problem", it, map[string]string{"what": "moved", "to": "95 cm at the lips"}); at != "to" || wrong == "" {
		t.Errorf("as a problem: at %q: %q", at, wrong)
	}
	// Said to be right, it is kept with that.
	a := action("moved")
	p.fill(a, it, map[string]string{"to": "12 cm at the lips"})
	p.answers(a, it)
	p.S.child.halfTyped(a.half(it)+"sure", "read again")
	answers, _, wrong := p.answers(a, it)
	if wrong != "" {
		t.Fatal(wrong)
	}
	p.record("", a.record(p, p.S.child.writer, it, answers)...)
	account := p.S.child.rec.Account()
	if got := account[len(account)-1].Words; !strings.Contains(got, "12 cm at the lips") || !strings.Contains(got, "unusual, and right: read again") {
		t.Errorf("the account says %q", got)
	}
}
