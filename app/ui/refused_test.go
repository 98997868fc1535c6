//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/sheet"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// TestWhatCannotBeReadStays: a figure that cannot be read is answered with a
// sentence that says what is wrong and what was expected, nothing of it is recorded,
// and what was typed stays in its box, also after a reload. 7 lb is 3.175 kg by the
// international pound of 0.45359237 kg (1959).
func TestWhatCannotBeReadStays(t *testing.T) {
	for typed, says := range map[string]string{
		"1O": "Did you mean 10", "7 lb": "3.175 kg", "3200 g": "3.2 kg", "3200g": "3.2 kg",
		"NaN": "not a measurement", "Infinity": "not a measurement", "three": "is not a number", "3.2.1": "more than one point", "3,200": "may mean 3.200 or 3200", "3 200": "a space inside", "3.2 cm": "this field is in kg",
	} {
		s, o, store := begun(t)
		at := schema.MeasuresWeight
		o.do.Type(none, at, typed)
		o.do.Leave(none, at)
		if s.child.rec.Note(o.id).Has(at) {
			t.Errorf("%q was recorded as %s", typed, s.child.rec.Note(o.id).Decimal(at))
		}
		check := func(when string, o *openNote) {
			f := o.sectionForm("measures").Field(schema.FieldAt(at), at)
			html := drawn(t, widgets.Slot{Field: f, Do: o.do}.UI())
			if f.Text != typed || !strings.Contains(f.Wrong, says) || !strings.Contains(html, "aria-invalid") {
				t.Errorf("%q, %s: the box holds %q and is told %q, want %q", typed, when, f.Text, f.Wrong, says)
			}
		}
		check("left", o)
		if err := keepNow(s); err != nil {
			t.Fatal(err)
		}
		drafts, err := store.Drafts(t.Context(), s.child.id)
		if err != nil {
			t.Fatal(err)
		}
		again := s.newChildOf(s.child.rec)
		again.takeDrafts(drafts, nil)
		check("after a reload", again.open(o.id))
	}
}

// TestNothingStandsUnderWhatCannotBeRead: typed over a value, or going on from
// letters that were one ("3", then "3,400"), what cannot be read leaves no value in
// the note, on the sheet or in the record; the value typed over is in the account.
func TestNothingStandsUnderWhatCannotBeRead(t *testing.T) {
	s, o := weighed(t)
	at := schema.MeasuresWeight
	if !o.working.Has(at) {
		t.Fatal("nothing to type over")
	}
	o.do.Type(none, at, "3")
	o.rested(at, true)
	o.do.Type(none, at, "3,400")
	if o.working.Has(at) {
		t.Errorf("while it is typed, the note holds %s", o.working.Decimal(at))
	}
	o.do.Leave(none, at)
	if o.working.Has(at) || s.child.rec.Note(o.id).Has(at) {
		t.Errorf("the note holds %q, the record %q", o.working.Decimal(at), s.child.rec.Note(o.id).Decimal(at))
	}
	shown := ""
	for _, b := range makeSheet(o) {
		shown += b.HTML
	}
	if !strings.Contains(shown, "“3,400” REFUSED: it cannot be read") {
		t.Errorf("the sheet does not name it: %s", shown)
	}
	o.do.Type(none, schema.ChildBirthDate, "28 dec")
	o.do.Leave(none, schema.ChildBirthDate)
	if id := s.child.identity(); id.Weight != "“3,400” cannot be read" || id.birthShown("2026-07-14") != "“28 dec” cannot be read" {
		t.Errorf("the banner says weight %s, born %s", id.Weight, id.birthShown("2026-07-14"))
	}
	o.do.Type(none, at, "3.4")
	o.do.Leave(none, at)
	if got := o.working.Decimal(at); got != "3.4" {
		t.Errorf("put right, the note holds %q", got)
	}
}

// TestImpossibleIsRefused: outside the plausible range a number is refused, inside
// it and unusual it is asked about. What is refused stays in its box, is named as
// refused on screen, at review and on the sheet, goes into no value, and no answer
// makes it right.
func TestImpossibleIsRefused(t *testing.T) {
	s, o := weighed(t)
	at, def := schema.MeasuresWeight, schema.FieldAt(schema.MeasuresWeight)
	look := func() (widgets.Field, string) {
		f := o.sectionForm("measures").Field(def, at)
		return f, drawn(t, widgets.Slot{Field: f, Do: o.do}.UI())
	}
	enter := func(text string) {
		o.do.Type(none, at, text)
		o.do.Leave(none, at)
		o.agree()
	}
	enter("3200")
	f, html := look()
	for _, want := range []string{"Refused: ", "outside what is possible", "0.5 to 150 kg", "If 3200 was in g, type 3.2 kg"} {
		if !strings.Contains(html, want) {
			t.Errorf("the field does not say %q: %s", want, html)
		}
	}
	if f.Text != "3200" || strings.Contains(html, "Yes, really") {
		t.Errorf("the box holds %q; can it be answered: %v", f.Text, strings.Contains(html, "Yes, really"))
	}
	s.child.act(s.child.writer.AnswerQuestion(s.child.rec, o.id, schema.Problem{Rule: "plausible", Path: at}, "yes, really", "an older version let this be said"))
	o.do.Answer(none, at, "plausible", "really")
	o.agree()
	if _, html = look(); !strings.Contains(html, "Refused: ") || strings.Contains(html, "Answered: ") {
		t.Error("an answer made it right")
	}
	s.place = Place{Screen: "review", Case: s.child.id, Note: o.id}
	review := screenText(&reviewPane{S: s, Place: s.place, Version: s.child.rec.Version(), Who: s.who})
	if !strings.Contains(review, "To put right") || !strings.Contains(review, "3200") {
		t.Error("review does not list it")
	}
	s.place = Place{Screen: "values", Case: s.child.id, Note: o.id}
	if html := screenText(drawValues(s)); strings.Contains(html, "Mosteller)") || !strings.Contains(html, "3200 kg is not plausible") {
		t.Error("a value was worked out from it, or none says why it is wanted")
	}
	sh := sheet.Build(s.child.rec, o.id, nil, s.now())
	head := ""
	for _, l := range sh.Head.Lines {
		head += sheet.Text(l)
	}
	if !strings.Contains(head, "3200 kg REFUSED: outside what is possible") {
		t.Errorf("the sheet says %s", head)
	}
	set(s, o, schema.MeasuresDosingWeight, ledger.Number("9.4"))
	enter("9.4") // possible, and unusual at stage 1 (usual 2 to 4.5 kg)
	if _, html = look(); strings.Contains(html, "Refused: ") || !strings.Contains(html, "Yes, really…") {
		t.Errorf("9.4 kg is not asked about: %s", html)
	}
	o.do.Answer(none, at, "usual", "weighed twice")
	o.agree()
	if _, html = look(); !strings.Contains(html, "Answered: ") || !strings.Contains(html, "weighed twice") {
		t.Errorf("the answer is not taken: %s", html)
	}
}

// TestOldWeightStopsTheCardOnScreen: a weight older than the unit allows stops the
// emergency card, a day younger does not.
func TestOldWeightStopsTheCardOnScreen(t *testing.T) {
	s, o := weighed(t)
	limited, faults := s.profile().Change(profile.WeightOldest, []byte("7"), "The unit", "B. Invented", "2026-07-01T08:00+01:00", "")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s.useProfile(limited)
	for _, id := range []profile.ID{"emergency.adrenaline", profile.WeightOldest} {
		p, faults := s.profile().Activate(id, "B. Invented", "2026-07-01T09:00+01:00")
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		s.useProfile(p)
	}
	days, _, ok := s.profile().Number(profile.WeightOldest)
	if !ok || days != 7 {
		t.Fatalf("the limit in force is %v days, %v", days, ok)
	}
	for day, stops := range map[string]bool{"07": false, "06": true} { // it is 14-Jul-2026
		set(s, o, schema.MeasuresDosingWeightAt, ledger.Entry{Value: "2026-07-" + day + "T11:30+01:00[Europe/London]"})
		html := screenText(drawValues(s))
		if got := strings.Contains(html, "STOPPED"); got != stops || strings.Contains(html, "ARREST ONLY") == stops {
			t.Errorf("weighed on the %s: stopped %v", day, got)
		}
		if stops && (!strings.Contains(html, "8 days old, the unit allows 7") || !strings.Contains(html, "Weigh the child again")) {
			t.Error("the card does not say why it stopped, and what to do")
		}
	}
}
