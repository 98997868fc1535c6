//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/sheet"
	"fairlead/schema"
)

// Signing answers who signed and when: the sheet must not say signed and, in the same
// line, not recorded. What was written there before stays.
func TestSigningAnswersWhoAndWhen(t *testing.T) {
	s, _, _ := begun(t)
	c := s.child
	o := c.open(s.place.Note)
	if n := len(unsaidBySigning(o)); n != 2 {
		t.Fatalf("%d of the two are open before", n)
	}
	c.sign(o, "Ida Sample", 7)
	o = c.open(s.place.Note)
	if by := o.working.Text(schema.SigningWrittenBy); by != "Ida Sample" {
		t.Errorf("signed by %q", by)
	}
	if _, ok := o.working.Moment(schema.SigningWrittenAt); !ok {
		t.Errorf("signed at %v", o.working.Text(schema.SigningWrittenAt))
	}
	st := c.standing(o.id)
	if st.Signed == nil || st.Amended || st.Signed.Open != 7 {
		t.Errorf("the signature: %+v", st)
	}
	var names string
	for _, l := range sheet.Flow(factsNow(o)).Block("signatures").Lines {
		names += sheet.Text(l.Spans) + "\n"
	}
	if strings.Contains(names, "Signed, typed name: not recorded") || strings.Contains(names, "Signed at: not recorded") {
		t.Errorf("signed, and not recorded: %s", names)
	}
	c.sign(o, "Bo Other", 7)
	if by := c.open(s.place.Note).working.Text(schema.SigningWrittenBy); by != "Ida Sample" {
		t.Errorf("the second signature overwrote the first name: %q", by)
	}
}
