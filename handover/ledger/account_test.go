package ledger

import (
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// second is another record with one value in it, and its events.
func (w *ward) second() (CaseID, []Event) {
	id := CaseID(w.ids.New())
	v := w.a.For(id)
	return id, []Event{v.OpenCase(), v.Set(FoldCase(id, nil), "", schema.ChildBloodGroup, Stated("unknown"))}
}

func TestJoinedPartedAndJoinedAgain(t *testing.T) {
	w := newWard(t)
	other, events := w.second()
	apply := func(es ...Event) {
		w.rec.Apply(es...)
		events = append(events, es...)
	}
	joined := func(what string, want bool) {
		t.Helper()
		all := append(w.rec.everything(), events...)
		for _, c := range []CaseID{w.rec.Case(), other} {
			if got := len(FoldCase(c, all).Joined()) > 0; got != want {
				t.Errorf("%s: seen from %s joined is %v", what, c, got)
			}
		}
		if l := w.rec.Links(); len(l) != 1 || l[0].Joined != want || l[0].Other != other {
			t.Errorf("%s: the links are %v", what, l)
		}
	}
	apply(events...)
	apply(w.a.Join(w.rec, other, "same number")...)
	joined("joined", true)
	apply(w.a.Part(w.rec, other, "twins")...)
	joined("parted", false)
	if f := w.rec.Faults(); len(f) > 0 || w.rec.Child().Stated(schema.ChildBloodGroup) != "" {
		t.Errorf("what was parted is still there: %v", f)
	}
	undone, ok := w.a.Undo(w.rec)
	if !ok {
		t.Fatal("parting cannot be undone")
	}
	apply(undone...)
	joined("parting undone", true)
	apply(w.n.Part(w.rec, other, "twins, truly")...)
	joined("parted again", false)
	apply(w.n.Join(w.rec, other, "one child after all")...)
	joined("joined again", true)
}

func TestAccount(t *testing.T) {
	w := newWard(t)
	w.do(w.a.OpenCase())
	w.set(schema.MeasuresWeight, Number("3.2"))
	wrong := w.a.Set(w.rec, w.note, schema.ChildBloodGroup, Stated("unknown"))
	w.do(wrong)
	drain := w.list(w.note, "drain")
	w.do(w.n.Check(w.rec, w.note, CheckView{Item: drain, Occasion: Arrival, Answer: CannotSee, Note: "under the dressing"}))
	w.do(w.a.SignNote(w.rec, w.note, 2))
	w.do(w.a.Retract(w.note, []EventID{wrong.ID}, "another child's", ""))
	w.do(w.n.Register("", KindRemoved, drain, RegisterFacts{Complete: "yes", Bleeding: "no"}))
	if _, ok := w.rec.StayEnded(); ok {
		t.Error("a stay ended before anybody said so")
	}
	w.do(w.n.Discharge())
	strange := w.n.Discharge()
	strange.Kind = "ward round"
	w.do(strange)
	var got []string
	for _, s := range w.rec.Account() {
		words := s.Author.Name[:1] + " " + s.Words
		if s.Retracted {
			words += " RETRACTED"
		}
		got = append(got, words)
	}
	want := []string{"A A note was begun: Stage 1.", "A The record was begun.", "A Operation weight: 3.2 kg.", "A Blood group: Not known. RETRACTED",
		"A Tag 1 (Drain) was listed.", "N Tag 1 (Drain), check on arrival: cannot see now (under the dressing).", "A The note was signed with 2 open items.", "A 1 entry retracted (another child's).",
		"N Tag 1 (Drain) was taken out (all of it; no bleeding).", "N The stay ended: tags begin at 1 again.", "N Something that this version cannot read: ward round."}
	if !slices.Equal(got, want) {
		t.Errorf("the account is\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if s, ok := w.rec.StayEnded(); !ok || s.Author.Name != "N. Example" {
		t.Errorf("the stay ended: %v %v", s, ok)
	}
}

// What is said is said whole: both values of a corrected entry and who gave the first,
// which entry of a list, how a question was answered, what differs from what, how much
// it bled.
func TestAccountLeavesNothingOut(t *testing.T) {
	w := newWard(t)
	w.set(schema.MeasuresWeight, Number("3.2"))
	w.do(w.n.Set(w.rec, w.note, schema.MeasuresWeight, Number("3.7")))
	w.do(w.n.AnswerQuestion(w.rec, w.note, schema.Problem{Rule: "usual", Path: schema.MeasuresWeight}, "confirmed", "weighed twice"))
	for _, drug := range []string{"cefazolin", "vancomycin"} {
		row := w.a.NewRow()
		w.do(w.a.AddRow(w.rec, w.note, schema.WorkAntibiotics, row)...)
		w.set(schema.RowPath(schema.WorkAntibiotics, row, "drug"), Entry{Value: drug})
	}
	pump := w.a.NewRow()
	w.do(w.a.AddRow(w.rec, w.note, schema.InfusionsRunning, pump)...)
	w.set(schema.RowPath(schema.InfusionsRunning, pump, "drug"), Entry{Value: "milrinone"})
	w.set(schema.RowPath(schema.InfusionsRunning, pump, "rate"), Number("2"))
	tube := w.list(w.note, "airway")
	w.do(w.n.Check(w.rec, w.note, CheckView{Item: tube, Occasion: Arrival, Answer: Differs, Differs: []Difference{{Field: "depth", Sheet: "11 cm", Bedside: "12 cm"}}}))
	w.do(w.n.Register("", KindRemoved, tube, RegisterFacts{Complete: "yes", Bleeding: "a little"}))
	var got []string
	for _, s := range w.rec.Account() {
		got = append(got, s.Words)
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{"Operation weight: 3.7 kg; was 3.2 kg, said A. Example (surgeon).", "Operation weight: a question was answered, confirmed (weighed twice).", "Antibiotics 1, Drug: cefazolin.",
		"Antibiotics 2, Drug: vancomycin.", "Infusions 1, Drug: milrinone.", "Infusions 1 (milrinone), Rate: 2 mL/h.", "Tag 1 (Airway), check on arrival: differs, depth 12 cm where the sheet says 11 cm.", "Tag 1 (Airway) was taken out (all of it; bleeding: a little)."} {
		if !slices.Contains(got, want) {
			t.Errorf("the account lacks %q:\n%s", want, all)
		}
	}
	if strings.Contains(all, schema.NotRecorded) {
		t.Errorf("what was recorded reads as if it was not:\n%s", all)
	}
}

// The end of a stay keeps what was asked before it; one of the first release, with
// nothing asked, is read as it was.
func TestEndOfStayKeepsWhatWasAsked(t *testing.T) {
	w := newWard(t)
	w.do(w.n.Discharge(Condition{What: "The chest is open.", Answer: "for palliation (decided by Dr Example)"}))
	account := w.rec.Account()
	want := "The stay ended: tags begin at 1 again. Asked: The chest is open. Answered: for palliation (decided by Dr Example)."
	if got := account[len(account)-1].Words; got != want {
		t.Errorf("the account says %q, want %q", got, want)
	}
	if got := string(w.n.Discharge().Body); got != "{}" {
		t.Errorf("with nothing asked the body is %s", got)
	}
}
