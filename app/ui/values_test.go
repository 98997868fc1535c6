//go:build !(js && wasm)

package ui

import (
	"context"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/keep"
	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// texts is a settingStore in memory, with the one promise: a write over another
// revision than the one kept is refused.
type texts struct {
	text     string
	revision int
	why      error
}

func (t *texts) Read(context.Context, string) (string, int, error) { return t.text, t.revision, nil }

func (t *texts) Write(_ context.Context, _, text string, over int) (int, error) {
	switch {
	case t.why != nil:
		return over, t.why
	case over != t.revision:
		return over, keep.ErrOvertaken
	}
	t.text, t.revision = text, t.revision+1
	return t.revision, nil
}

// set enters a value as somebody in the room would.
func set(s *Session, o *openNote, at schema.Path, v ledger.Entry) {
	s.child.act(s.child.writer.Set(s.child.rec, o.id, at, v))
}

func weighed(t *testing.T) (*Session, *openNote) {
	s, o, _ := begun(t)
	set(s, o, schema.MeasuresWeight, ledger.Number("3.2"))
	set(s, o, schema.MeasuresLength, ledger.Number("49"))
	set(s, o, schema.MeasuresDosingWeight, ledger.Number("3.2"))
	set(s, o, schema.MeasuresDosingWeightBy, ledger.Entry{Value: "A. Surgeon"})
	set(s, o, schema.MeasuresDosingWeightAt, ledger.Entry{Value: "2026-07-14T11:30+01:00[Europe/London]"})
	s.place = Place{Screen: "values", Case: s.child.id, Note: o.id}
	return s, o
}

func screenText(ui app.UI) string { return app.HTMLString(ui) }

// settle waits for what a change started to come back: the session is not mounted,
// so it comes back at once on the other goroutine.
func waitFor(t *testing.T, what string, ok func() bool) {
	t.Helper()
	for range 200 {
		if ok() {
			return
		}
		time.Sleep(5 * time.Millisecond)
	}
	t.Fatalf("never: %s", what)
}

// The values stand with formula, inputs, origin and source. √(3.2 × 49 / 3600) is
// 0.2087 (Mosteller 1987).
func TestValuesStandWithTheirOrigin(t *testing.T) {
	s, _ := weighed(t)
	html := screenText(drawValues(s))
	for _, words := range []string{"0.209 m²", "Mosteller 1987", "√(H × W / 3600)", "A. Surgeon, 14-Jul-2026 12:00",
		"/section/measures#f-measures-weight", "not set by this unit", "Does not apply to this note", "not shown"} {
		if !strings.Contains(html, words) {
			t.Errorf("%q is not on the screen", words)
		}
	}
	if strings.Contains(html, "ARREST ONLY") {
		t.Error("an inactive dose is on the card")
	}
}

// The card prints what a named person activated, the weight beside each dose, and
// stops when two weights disagree. 0.01 mg/kg of 3.2 kg is 32 mcg, 0.32 mL of
// 0.1 mg/mL (references: resuscitation-council values, second-hand).
func TestCardOnScreen(t *testing.T) {
	s, o := weighed(t)
	p, faults := s.profile().Activate("emergency.adrenaline", "B. Invented", "2026-07-14T09:00+01:00")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	s.useProfile(p)
	html := screenText(drawValues(s))
	for _, words := range []string{"ARREST ONLY", "32 mcg", "0.32 mL of 0.1 mg/mL", "for 3.2 kg of 14-Jul-2026, A. Surgeon", "Not a prescription", "Activated by B. Invented, 14-Jul-2026 09:00"} {
		if !strings.Contains(html, words) {
			t.Errorf("%q is not on the card", words)
		}
	}
	set(s, o, schema.MeasuresWeight, ledger.Number("2.3"))
	html = screenText(drawValues(s))
	if strings.Contains(html, "ARREST ONLY") || !strings.Contains(html, "STOPPED") || !strings.Contains(html, "2.3 kg disagrees with the dosing weight, 3.2 kg") {
		t.Error("the card does not stop at 2.3 kg beside 3.2 kg")
	}
	// A tenth of the lighter is still one weight: 3.5 and 3.2 differ by 0.3, under
	// 0.32; 2.9 and 3.2 by 0.3, above 0.29 (setting: a tenth).
	for weight, stops := range map[string]bool{"3.5": false, "2.9": true} {
		set(s, o, schema.MeasuresWeight, ledger.Number(weight))
		if got := strings.Contains(screenText(drawValues(s)), "STOPPED"); got != stops {
			t.Errorf("%s kg beside 3.2 kg: stopped %v", weight, got)
		}
	}
}

// In the form the section's values stand under its fields, and nothing of other
// sections.
func TestWorkedOutInTheForm(t *testing.T) {
	s, o := weighed(t)
	html := screenText(s.workedOut(o.id, "measures"))
	if !strings.Contains(html, "Body surface area 0.209 m² (Mosteller)") {
		t.Errorf("not under the measures: %s", html)
	}
	if ui := s.workedOut(o.id, "plan"); ui != nil {
		t.Errorf("under the plan: %s", screenText(ui))
	}
}

// A changed profile is kept with who changed what, holds only once it is kept, and
// is there after a reload.
func TestProfileIsKept(t *testing.T) {
	s, _ := weighed(t)
	store := &texts{}
	s.settings.store = store
	e, _ := s.profile().Entry("arrest.flag-minutes")
	s.beginChange(e, "change")
	s.settings.change.texts["value"] = "4O"
	s.settings.change.source = "The unit's meeting, 01-Jul-2026"
	s.settings.change.why = "Agreed"
	s.saveChange(e)
	if wrong := s.settings.change.wrong["value"]; !strings.Contains(wrong, "Did you mean 40") || s.settings.change.texts["value"] != "4O" || store.text != "" {
		t.Fatalf("a letter in the figure: %q, typed %q", wrong, s.settings.change.texts["value"])
	}
	s.settings.change.texts["value"] = "40"
	s.saveChange(e)
	waitFor(t, "the change is kept", func() bool { return store.revision == 1 && !s.settings.busy })
	e, _ = s.profile().Entry("arrest.flag-minutes")
	if _, _, ok := s.profile().Number("arrest.flag-minutes"); ok || string(e.Value) != "40" || len(e.History) != 1 || e.History[0].By != "A. Surgeon" || e.History[0].Why != "Agreed" {
		t.Fatalf("after the change: %+v", e)
	}
	next, faults := s.profile().Activate(e.ID, s.who.Name, s.now().String())
	s.changed(next, faults, "In force.", "")
	waitFor(t, "the activation is kept", func() bool { return store.revision == 2 && !s.settings.busy })

	other, _, _ := begun(t)
	other.settings.store = store
	other.takeKept(store.text, store.revision)
	if v, e, ok := other.profile().Number("arrest.flag-minutes"); !ok || v != 40 || e.Active.By != "A. Surgeon" {
		t.Errorf("after a reload: %v %v %+v", v, ok, e)
	}
	other.place = Place{Screen: "profile", Part: "limits"}
	if html := screenText(drawProfile(other)); !strings.Contains(html, "A. Surgeon: changed, before: 41 min. Agreed.") {
		t.Errorf("who changed what is not on the screen: %s", html)
	}

	// A tab that has not seen it changes nothing.
	s.settings.revision = 1
	next, _ = s.profile().Deactivate(e.ID, "A. Surgeon", s.now().String(), "")
	s.changed(next, nil, "Out of force.", "")
	waitFor(t, "the refusal", func() bool { return !s.settings.busy })
	if _, _, ok := s.profile().Number("arrest.flag-minutes"); !ok || store.revision != 2 {
		t.Error("a change went over another tab's")
	}
}

// A faulty file is refused whole, every fault named; the profile in use stays. One
// that is kept and cannot be used is left alone.
func TestFaultyProfileIsRefusedWhole(t *testing.T) {
	s, _, _ := begun(t)
	before := s.profile()
	s.place = Place{Screen: "profile"}
	s.chooseProfile("unit.json", []byte(`{"format":"fairlead-profile/1","title":"Bad","unit":"U","entries":[
{"id":"arrest.flag-minutes","group":"Limits","title":"x","effect":"limit","shape":"number","ucum":"min","value":4000,"mark":"U","source":"x"},
{"id":"nonsense","group":"Limits","title":"x","effect":"limit","shape":"number","value":1,"mark":"U","source":"x"}]}`), "")
	html := screenText(drawProfile(s))
	if s.profile() != before || s.settings.offer != nil {
		t.Error("something of it was taken")
	}
	for _, words := range []string{"refused whole", "2 faults", "4000 is outside 1 to 150 min", "No entry is called"} {
		if !strings.Contains(html, words) {
			t.Errorf("%q is not said", words)
		}
	}
	store := &texts{text: `{"format":"fairlead-kept-profile/1","profile":"{}"}`, revision: 3}
	s.settings.store = store
	s.takeKept(store.text, store.revision)
	if s.profile() != before || s.settings.unusable == "" || store.revision != 3 {
		t.Error("what is kept and unusable was not left alone")
	}
}

// Every entry that ships can be changed to itself through its boxes: parse and
// form give the same value again.
func TestBoxesGiveTheValueBack(t *testing.T) {
	p := profile.Default()
	shapes := map[profile.Shape]int{}
	for _, e := range p.Entries() {
		if !e.HasValue() {
			continue
		}
		wrong := map[string]string{}
		value := valueOf(e, textsOf(e), wrong)
		if len(wrong) > 0 {
			t.Errorf("%s: %v", e.ID, wrong)
			continue
		}
		next, faults := p.Change(e.ID, value, e.Source, "A. Invented", "2026-07-14T09:00+01:00", "")
		if len(faults) > 0 {
			t.Errorf("%s: %s: %v", e.ID, value, faults)
			continue
		}
		after, _ := next.Entry(e.ID)
		if got, want := compact(after.Value), compact(e.Value); got != want {
			t.Errorf("%s: %s, was %s", e.ID, got, want)
		}
		shapes[e.Shape]++
	}
	if len(shapes) < 6 {
		t.Errorf("only the shapes %v", shapes)
	}
}

// compact is JSON without spaces and with its members sorted.
func compact(raw []byte) string {
	var v any
	if json.Unmarshal(raw, &v) != nil {
		return string(raw)
	}
	out, _ := json.Marshal(v)
	return string(out)
}

// The shapes of which no entry ships with a value are filled in by hand.
func TestBoxesOfEmptyEntries(t *testing.T) {
	for id, c := range map[profile.ID]struct {
		texts map[string]string
		want  string
	}{
		"blood-volume.per-kg": {map[string]string{"under0": "10", "value0": "85", "value1": "80"}, `[{"under":10,"value":85},{"value":80}]`},
		"saturation.targets":  {map[string]string{"stage1-lowest": "75", "stage1-highest": "85"}, `{"stage1":[75,85]}`},
		"emergency.bicarbonate": {map[string]string{"unit": "mmol", "routes": "intravenous", "perKg0": "1", "amount": "0,5", "named": "4.2 %"},
			`{"concentration":{"amount":0.5,"named":"4.2 %"},"routes":["intravenous"],"steps":[{"perKg":1}],"unit":"mmol"}`},
		"removal.pacing-wires": {map[string]string{"value": "platelets above 50\n\nblood in the room\n"}, `["platelets above 50","blood in the room"]`},
	} {
		e, ok := profile.Default().Entry(id)
		if !ok {
			t.Errorf("%s is gone", id)
			continue
		}
		wrong := map[string]string{}
		value := valueOf(e, c.texts, wrong)
		if got := compact(value); got != c.want || len(wrong) > 0 {
			t.Errorf("%s: %s %v", id, got, wrong)
		}
		if _, faults := profile.Default().Change(id, value, "The unit", "A. Invented", "2026-07-14T09:00+01:00", ""); len(faults) > 0 {
			t.Errorf("%s: %v", id, faults)
		}
	}
	e, _ := profile.Default().Entry("emergency.bicarbonate")
	for name, texts := range map[string]map[string]string{
		"named":  {"unit": "mmol", "routes": "intravenous", "perKg0": "1", "amount": "0.5"},
		"unit":   {"routes": "intravenous", "perKg0": "1"},
		"perKg0": {"unit": "mmol", "routes": "intravenous", "perKg0": "NaN"},
		"routes": {"unit": "mmol", "perKg0": "1"},
	} {
		wrong := map[string]string{}
		if valueOf(e, texts, wrong); wrong[name] == "" {
			t.Errorf("nothing is wrong with %s: %v", name, wrong)
		}
	}
}

// Both ways, by hand: 0.05 mcg/kg/min × 60 min × 3.2 kg = 9.6 mcg/h, of 0.02 mg/mL
// 0.48 mL/h; a pump at 4.8 mL/h gives ten times the dose, and is asked about.
func TestInfusionBothWays(t *testing.T) {
	s, o := weighed(t)
	const row = "r1"
	add := func(at schema.Path, v any) { o.working.Set(at.In(row), v) }
	o.working.AddRow(schema.InfusionsRunning, row)
	add(schema.InfusionsRunningDrug, "adrenaline")
	add(schema.InfusionsRunningState, "running")
	add(schema.InfusionsRunningDose, json.Number("0.05"))
	add(schema.InfusionsRunningDoseUnit, "ug/kg/min")
	add(schema.InfusionsRunningConcentration, json.Number("0.02"))
	add(schema.InfusionsRunningConcentrationUnit, "mg/mL")
	add(schema.InfusionsRunningPumpWeight, json.Number("3.2"))
	for rate, want := range map[string]string{
		"":     "0.05 mcg/kg/min needs 0.48 mL/h; ",
		"0.48": "0.48 mL/h gives 0.05 mcg/kg/min; by 3.2 kg; through: not recorded.",
		"4.8":  "4.8 mL/h gives 0.5 mcg/kg/min; by 3.2 kg; through: not recorded. The dose entered and the dose the pump gives differ tenfold",
	} {
		o.working.Clear(schema.InfusionsRunningRate.In(row))
		if rate != "" {
			add(schema.InfusionsRunningRate, json.Number(rate))
		}
		fs := calc.Infusions(o.working, s.profile())
		if got := infusionWords(o.working, fs[0]); !strings.Contains(got, want) {
			t.Errorf("at %q mL/h: %s", rate, got)
		}
	}
}

// The sheet beside the note shows the values of the screen of values, and leaves out
// one that is worked out from what is being typed. 85 / 3.2 is 26.6, by hand.
func TestSheetShowsTheValues(t *testing.T) {
	s, o := weighed(t)
	set(s, o, schema.WorkEstimatedLoss, ledger.Number("85"))
	text := func() string {
		all := ""
		for _, b := range makeSheet(o) {
			all += b.HTML
		}
		return all
	}
	if got := text(); !strings.Contains(got, "85 mL, 26.6 mL/kg") || !strings.Contains(screenText(drawValues(s)), "85 mL, 26.6 mL/kg") {
		t.Errorf("the sheet or the screen lacks the loss by weight: %s", got)
	}
	o.drafts[schema.WorkEstimatedLoss] = Draft{Text: "8"}
	if got := text(); strings.Contains(got, "26.6 mL/kg") {
		t.Error("the loss by weight stands beside another loss being typed")
	}
}

// A weight whose score moved by more than the unit's setting from the child's last
// is questioned beside the field, and one that moved less is not. Boys at birth and
// at 6 days, WHO weight for age: 3.3 kg is -0.10 and 3.4 kg at 6 days about +0.0;
// 5.2 kg at 6 days is beyond +3.
func TestWeightFarFromTheLastIsQuestioned(t *testing.T) {
	for kg, asked := range map[string]bool{"3.4": false, "5.2": true} {
		s, o := weighed(t)
		for at, v := range map[schema.Path]ledger.Entry{schema.ChildSex: {Value: "male"}, schema.ChildBirthDate: {Value: "2026-07-08"}, schema.ChildGestationWeeks: ledger.Number("39"),
			schema.ChildBirthWeight: ledger.Number("3.3"), schema.OperationDate: {Value: "2026-07-14"}, schema.MeasuresWeight: ledger.Number(kg)} {
			set(s, o, at, v)
		}
		got := screenText(s.workedOut(o.id, "measures"))
		if !strings.Contains(got, "Change in weight for age since Birth") || strings.Contains(got, "is one of the two weights wrong?") != asked || strings.Contains(got, `class="asked"`) != asked {
			t.Errorf("%s kg: %s", kg, got)
		}
	}
}
