package ledger

import (
	"strings"
	"testing"
)

// Two devices apart each exchange the tube: both new ones bear the next flag, and it is
// asked which of them is in.
func TestExchangedOnTwoDevices(t *testing.T) {
	s := newWard(t)
	tube := s.list(s.note, "airway")
	one, first := s.n.Exchange(s.rec, tube, "", RegisterFacts{})
	two, second := s.a.Exchange(s.rec, tube, "", RegisterFacts{})
	s.do(append(first, second...)...)
	said := func(rule string) string {
		for _, f := range s.rec.Faults() {
			if f.Rule == rule {
				return f.What + " " + f.Do
			}
		}
		return ""
	}
	if got := said(RuleTagTwice); !strings.Contains(got, "Tag 2 stands on 2 things.") || !strings.Contains(got, "3 is free") {
		t.Errorf("one tag on two things: %q", got)
	}
	if got := said(RuleOutTwice); strings.Count(got, "for tag 2") != 2 || !strings.Contains(got, "which of the new ones is in?") {
		t.Errorf("exchanged twice: %q", got)
	}
	s.do(s.n.RetagItem(s.rec, two, s.rec.NextTag()))
	if got := said(RuleTagTwice); got != "" {
		t.Errorf("given another tag: %q", got)
	}
	s.do(s.n.WithdrawItem(s.rec, one, "never put in"))
	if v, _ := s.rec.Item(two); v.Tag != 3 || !v.Where.In() {
		t.Errorf("the other: %+v", v)
	}
}

// What was answered of packs that come out, and of pacing, is in the account.
func TestAnswersOfPacksAndPacing(t *testing.T) {
	s := newWard(t)
	packs, wires := s.list(s.note, "left-on-purpose"), s.list(s.note, "pacing-wires")
	s.do(s.n.Remove(packs, RegisterFacts{Complete: "no", Number: "1", Proved: "counted"}), s.n.TestWires(wires, WireTest{Needed: "no"}))
	words := ""
	for _, x := range s.rec.Account() {
		words += x.Words + "\n"
	}
	for _, want := range []string{"number that came out: 1", "made sure that none is left: counted", "pacing not needed"} {
		if !strings.Contains(words, want) {
			t.Errorf("the account has no %q:\n%s", want, words)
		}
	}
}
