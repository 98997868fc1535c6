package ledger

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/schema"
)

// The sequences that cannot be, each with the one just inside it. Nothing is lost:
// every event stays in the account, and the record still folds.
func TestSequencesThatCannotBe(t *testing.T) {
	type story struct {
		*ward
		item ItemID
	}
	for _, c := range []struct {
		name, rule string
		bad, good  func(*story)
		words      string
	}{
		{"removed twice", RuleOutTwice,
			func(s *story) { s.do(s.n.Remove(s.item, RegisterFacts{})); s.do(s.a.Remove(s.item, RegisterFacts{})) },
			func(s *story) {
				s.do(s.n.Remove(s.item, RegisterFacts{Complete: "no"}))
				s.do(s.a.Remove(s.item, RegisterFacts{Complete: "yes"}))
			}, "Tag 1 was taken out at 14-Jul-2026 11:03 (N. Example (intensive-care nurse)), and again was taken out at 14-Jul-2026 11:04 (A. Example (surgeon))."},
		{"exchanged after it was removed", RuleOutTwice,
			func(s *story) {
				s.do(s.n.Remove(s.item, RegisterFacts{}))
				s.do(s.n.Happen(KindExchanged, s.item, RegisterFacts{}))
			},
			func(s *story) {
				s.do(s.n.Remove(s.item, RegisterFacts{}))
				s.do(s.n.Happen(KindConfirmed, s.item, RegisterFacts{}))
				s.do(s.n.Happen(KindExchanged, s.item, RegisterFacts{}))
			}, "and again was exchanged"},
		{"lost after it was removed", RuleLeftAfterOut,
			func(s *story) {
				s.do(s.n.Remove(s.item, RegisterFacts{}))
				s.do(s.n.Happen(KindLost, s.item, RegisterFacts{}))
			},
			func(s *story) {
				s.do(s.n.Happen(KindLost, s.item, RegisterFacts{}))
				s.do(s.n.Remove(s.item, RegisterFacts{}))
			}, "and then was lost"},
		{"read after it was removed", RuleSaidAfterOut,
			func(s *story) {
				s.do(s.n.Remove(s.item, RegisterFacts{}))
				s.do(s.n.ReadOutput(s.item, Output{Volume: "5"}))
			},
			func(s *story) {
				s.do(s.n.ReadOutput(s.item, Output{Volume: "5"}))
				s.do(s.n.Remove(s.item, RegisterFacts{}))
			}, "and then was read"},
		{"removed before it was placed", RuleBeforePlaced,
			func(s *story) {
				s.do(s.n.Happen(KindPlaced, s.item, RegisterFacts{}))
				s.do(s.n.At(s.civil().Add(-2*time.Hour)).Remove(s.item, RegisterFacts{}))
			},
			func(s *story) {
				s.do(s.n.Happen(KindPlaced, s.item, RegisterFacts{}))
				s.do(s.n.Remove(s.item, RegisterFacts{}))
			}, "earlier than that"},
		{"removed before the time its own field has", RuleBeforePlaced,
			func(s *story) {
				s.do(s.a.Set(s.rec, s.note, schema.ItemPath(string(s.item), "placed"), Entry{Value: "2026-07-14T11:00+01:00"}))
				s.do(s.n.At(s.civil().Add(-2*time.Hour)).Remove(s.item, RegisterFacts{}))
			},
			func(s *story) {
				s.do(s.a.Set(s.rec, s.note, schema.ItemPath(string(s.item), "placed"), Entry{Value: "2026-07-14T11:00+01:00"}))
				s.do(s.n.Remove(s.item, RegisterFacts{}))
			}, "was placed at 14-Jul-2026 11:00"},
		{"placed twice", RulePlacedTwice,
			func(s *story) {
				s.do(s.n.Happen(KindPlaced, s.item, RegisterFacts{}))
				s.do(s.n.Happen(KindPlaced, s.item, RegisterFacts{}))
			},
			func(s *story) {
				s.do(s.n.Happen(KindPlaced, s.item, RegisterFacts{}))
				s.do(s.n.Remove(s.item, RegisterFacts{}))
				s.do(s.n.Happen(KindPlaced, s.item, RegisterFacts{}))
			}, "and again was placed"},
		{"output below its running total", RuleTotalFalls,
			func(s *story) {
				s.do(s.n.ReadOutput(s.item, Output{Total: "50"}))
				s.do(s.n.ReadOutput(s.item, Output{Total: "49.9"}))
			},
			func(s *story) {
				s.do(s.n.ReadOutput(s.item, Output{Total: "50", Emptied: "yes"}))
				s.do(s.n.ReadOutput(s.item, Output{Total: "0"}))
				s.do(s.n.ReadOutput(s.item, Output{Total: "0"}))
			}, "held 50 mL at 14-Jul-2026 11:03, and 49.9 mL"},
		{"a total corrected in its minute, to below the one before", RuleTotalFalls,
			func(s *story) { // 20, then 42 put right as 19: 19 is less than the 20 before
				at := s.civil()
				s.do(s.n.At(at.Add(-time.Hour)).ReadOutput(s.item, Output{Total: "20"}))
				s.do(s.n.At(at).ReadOutput(s.item, Output{Total: "42"}))
				s.do(s.n.At(at).ReadOutput(s.item, Output{Total: "19"}))
			},
			func(s *story) { // 42 put right as 24, emptied, put right as 26: 8 is what came since
				at := s.civil()
				s.do(s.n.At(at.Add(-2*time.Hour)).ReadOutput(s.item, Output{Total: "20"}))
				s.do(s.n.At(at.Add(-time.Hour)).ReadOutput(s.item, Output{Total: "42"}))
				s.do(s.n.At(at.Add(-time.Hour)).ReadOutput(s.item, Output{Total: "24", Emptied: "yes"}))
				s.do(s.n.At(at.Add(-time.Hour)).ReadOutput(s.item, Output{Total: "26"}))
				s.do(s.n.At(at).ReadOutput(s.item, Output{Total: "8"}))
			}, "held 20 mL"},
		{"happened hours after it was entered", RuleHappenedLater,
			func(s *story) { s.do(s.n.At(s.civil().Add(3*time.Hour)).Remove(s.item, RegisterFacts{})) },
			func(s *story) { s.do(s.n.At(s.civil().Add(5*time.Minute)).Remove(s.item, RegisterFacts{})) }, "3 hours before it can have happened"},
		{"exchanged for something nobody listed", RuleExchangeUnknown,
			func(s *story) { s.do(s.n.Happen(KindExchanged, s.item, RegisterFacts{For: s.n.NewItem()})) },
			func(s *story) {
				_, es := s.n.Exchange(s.rec, s.item, "", RegisterFacts{})
				s.do(es...)
			}, "for an item that is not listed"},
		{"an item nobody listed", RuleUnlisted,
			func(s *story) { s.do(s.n.Remove(s.n.NewItem(), RegisterFacts{})) },
			func(s *story) { s.do(s.n.Remove(s.item, RegisterFacts{})) }, "recorded of an item that is not listed that it was taken out"},
		{"a round nobody began", RuleRoundUnknown,
			func(s *story) { s.do(s.n.AnswerNeed(EventID(s.ids.New()), s.item, StillNeeded, "")) },
			func(s *story) {
				o := s.n.OpenRound()
				s.do(o)
				s.do(s.n.AnswerNeed(o.ID, s.item, StillNeeded, ""))
				s.do(s.n.CloseRound(s.rec, o.ID, ""))
			}, "1 answer of a round"},
	} {
		for _, bad := range []bool{true, false} {
			s := &story{ward: newWard(t)}
			s.do(s.a.OpenCase())
			s.item = s.list(s.note, "drain-chamber")
			n := s.rec.Len()
			if bad {
				c.bad(s)
			} else {
				c.good(s)
			}
			faults := slices.DeleteFunc(s.rec.Faults(), func(f Fault) bool { return f.Rule != c.rule })
			switch {
			case !bad && len(faults) > 0:
				t.Errorf("%s, just inside: %q", c.name, faults[0].What)
			case bad && len(faults) != 1:
				t.Errorf("%s: %d faults of %s among %v", c.name, len(faults), c.rule, s.rec.Faults())
			case bad && (!strings.Contains(faults[0].What, c.words) || faults[0].Do == ""):
				t.Errorf("%s: worded %q, want %q", c.name, faults[0].What, c.words)
			}
			if account := s.rec.Account(); len(account) != s.rec.Len() || len(account) == n {
				t.Errorf("%s: %d events, %d in the account", c.name, s.rec.Len(), len(account))
			}
			if !s.rec.RegisterTally().Balances {
				t.Errorf("%s: the tally does not balance", c.name)
			}
			if !bad || len(faults) != 1 || c.rule == RuleRoundUnknown || c.rule == RuleUnlisted {
				continue
			}
			// Settled by name, it is no fault any more; and that can be taken back.
			last := faults[0].Events[len(faults[0].Events)-1]
			s.do(s.a.Settle("", last, "Looked at the child: it is out", "A. Example"))
			if slices.ContainsFunc(s.rec.Faults(), func(f Fault) bool { return f.Rule == c.rule }) {
				t.Errorf("%s: settled, and still a fault", c.name)
			}
			es, ok := s.a.Undo(s.rec)
			if !ok {
				t.Fatalf("%s: the settlement cannot be undone", c.name)
			}
			s.do(es...)
			if !slices.ContainsFunc(s.rec.Faults(), func(f Fault) bool { return f.Rule == c.rule }) {
				t.Errorf("%s: no longer settled, and no fault", c.name)
			}
		}
	}
}

// A child this device has never heard of, and a clock that is hours ahead.
func TestUnknownChildAndClock(t *testing.T) {
	b := newBench(8)
	w := b.writer(CaseID(b.ids.New()), "N. Example", "nurse")
	e := w.Remove(w.NewItem(), RegisterFacts{})
	r := Fold([]Event{e})
	if !slices.ContainsFunc(r.Faults(), func(f Fault) bool {
		return f.Rule == FaultCaseNotOpened && strings.Contains(f.What, "1 event of a child this device has never heard of")
	}) {
		t.Errorf("faults %v", r.Faults())
	}
	if tally := r.RegisterTally(); !tally.Balances || len(tally.Disputed) != 1 {
		t.Errorf("tally %+v", tally)
	}
	r.Apply(w.OpenCase())
	if slices.ContainsFunc(r.Faults(), func(f Fault) bool { return f.Rule == FaultCaseNotOpened }) {
		t.Error("opened, and still unknown")
	}
	if fs := r.ClocksAhead(b.wall.Add(-3 * time.Hour)); len(fs) != 1 || !strings.Contains(fs[0].What, "3 hours") {
		t.Errorf("a clock three hours ahead: %v", fs)
	}
	if fs := r.ClocksAhead(b.wall.Add(-5 * time.Minute)); len(fs) != 0 {
		t.Errorf("five minutes ahead: %v", fs)
	}
}

// Every kind of event of the register can be taken back by who wrote it, and done
// again; the register then says what it said.
func TestRegisterUndo(t *testing.T) {
	s := newWard(t)
	item := s.list(s.note, "drain-chamber")
	var round Event
	at := s.civil()
	for _, make := range []func() []Event{
		func() []Event { return []Event{s.n.ReadOutput(item, Output{Total: "5", Colour: "serous"})} },
		func() []Event { return []Event{s.n.ReadPressure(item, Pressure{Mean: "8"})} },
		func() []Event { return []Event{s.n.TestWires(item, WireTest{Threshold: "1", LastNeeded: at})} },
		func() []Event { return []Event{s.n.Connect(item, "distal", "milrinone")} },
		func() []Event { return []Event{s.n.Disconnect(item, "distal", "")} },
		func() []Event { return []Event{s.n.ReportProblem(item, "leaking", "", "", "")} },
		func() []Event { round = s.n.OpenRound(); return []Event{round} },
		func() []Event { return []Event{s.n.AnswerNeed(round.ID, item, ToComeOut, "dry")} },
		func() []Event { return []Event{s.n.CloseRound(s.rec, round.ID, "")} },
		func() []Event { _, es := s.n.Exchange(s.rec, item, "", RegisterFacts{}); return es },
		func() []Event { return []Event{s.n.Remove(item, RegisterFacts{Complete: "no"})} },
		func() []Event { return []Event{s.n.Transfer(item, "Ward of examples", "N. Example", "")} },
		func() []Event { return []Event{s.n.GoHome(item, "parents", "clinic")} },
	} {
		says := func() string {
			var words []string
			for _, x := range s.rec.Account() {
				if !x.Retracted && x.Kind != KindRetracted && x.Kind != KindRetractionWithdrawn && x.Kind != KindItemListed && x.Kind != KindItemWithdrawn && x.Kind != KindFieldSet {
					words = append(words, x.Words)
				}
			}
			return strings.Join(words, "\n") + s.rec.RegisterTally().Words()
		}
		before := says()
		es := make()
		s.do(es...)
		after := says()
		if after == before {
			t.Errorf("%s changes nothing", es[len(es)-1].Kind)
		}
		if !s.n.CanUndo(s.rec) {
			t.Errorf("%s cannot be undone", es[len(es)-1].Kind)
			continue
		}
		undone, _ := s.n.Undo(s.rec)
		s.do(undone...)
		if got := says(); got != before {
			t.Errorf("%s undone says\n%s\nbefore it said\n%s", es[len(es)-1].Kind, got, before)
		}
		again, ok := s.n.Redo(s.rec)
		if !ok {
			t.Errorf("%s cannot be done again", es[len(es)-1].Kind)
			continue
		}
		s.do(again...)
		if got := says(); got != after {
			t.Errorf("%s done again says\n%s\nthen it said\n%s", es[len(es)-1].Kind, got, after)
		}
	}
}

// The account says of a closed round what was not asked about, each by name.
func TestRoundInTheAccount(t *testing.T) {
	s := newWard(t)
	one, _ := s.list(s.note, "drain"), s.list(s.note, "airway")
	o := s.n.OpenRound()
	s.do(o)
	s.do(s.n.AnswerNeed(o.ID, one, StillNeeded, "drains"))
	s.do(s.n.CloseRound(s.rec, o.ID, "called away"))
	account := s.rec.Account()
	if got, want := account[len(account)-1].Words, "The round of what is still needed was closed, and not asked about were: Tag 2 (Airway) (called away)."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got, want := account[len(account)-2].Words, "Tag 1 (Drain) is still needed (drains)."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Figures that are none, or two ways of saying a volume at once, are not read: the
// event is kept, counted and shown.
func TestRegisterBodiesJudged(t *testing.T) {
	s := newWard(t)
	item := s.list(s.note, "drain-chamber")
	for _, e := range []Event{
		s.n.ReadOutput(item, Output{Total: "much"}), s.n.ReadOutput(item, Output{Total: "-1"}), s.n.ReadOutput(item, Output{Total: "5", Volume: "5"}),
		s.n.ReadPressure(item, Pressure{Mean: "eight"}), s.n.TestWires(item, WireTest{Threshold: "-1"}), s.n.ReportProblem(item, "", "", "", ""),
		s.n.AnswerNeed("", item, "", ""), s.n.Happen(KindOutputRead, item, RegisterFacts{}),
	} {
		if _, how := decode(&e); how != unreadable {
			t.Errorf("%s %s is read", e.Kind, e.Body)
		}
	}
	if e := s.n.ReadPressure(item, Pressure{Mean: "-2"}); func() reading { _, how := decode(&e); return how }() != read {
		t.Error("a pressure below nought is not read")
	}
}
