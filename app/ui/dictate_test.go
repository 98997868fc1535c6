//go:build !(js && wasm)

package ui

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/dictation"
)

// dictated is the screen for dictation of a new child's note, with a text in it.
func dictated(t *testing.T, text string) (*Session, *openNote, *dictatePane) {
	t.Helper()
	was := readHere
	readHere = func(kind schema.Kind, text string) string {
		b, err := json.Marshal(dictation.Read(kind, text))
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	t.Cleanup(func() { readHere = was })
	s, o, _ := begun(t)
	s.place = Place{Screen: "dictate", Case: s.child.id, Note: o.id}
	p := &dictatePane{S: s, Place: s.place}
	p.put(text)
	return s, o, p
}

func (p *dictatePane) offersNow(o *openNote) []*offered {
	o.agree()
	return o.offersOf(p.reading)
}

// An infusion that was taken is in the note: the same words offer nothing more, and
// its dose is shown with its unit before and after.
func TestInfusionTakenMatchesItself(t *testing.T) {
	for _, text := range []string{"Milrinone 0.5 mics per kilo per minute.", "Adrenaline running at 0.05 mcg per kilo a minute."} {
		_, o, p := dictated(t, text)
		find := func() *offered {
			for _, of := range p.offersNow(o) {
				if of.section == "infusions" {
					return of
				}
			}
			t.Fatalf("%q: no infusion is offered", text)
			return nil
		}
		of := find()
		for _, part := range of.parts {
			if part.def.Name == "dose" && !strings.HasSuffix(part.words, " mcg/kg/min") {
				t.Errorf("%q: the dose is offered as %q", text, part.words)
			}
		}
		if left := o.takeOffers([]*offered{of}, false); len(left) > 0 {
			t.Fatal(left)
		}
		if of := find(); of.state != offerSame {
			t.Errorf("%q: after it was taken it is %s, and the note says %q", text, of.state, of.now)
		}
	}
}

// What an offer shows is what it writes, also in a field of several choices.
func TestOfferShowsWhatItWrites(t *testing.T) {
	for text, want := range map[string]string{
		"Bicaval cannulation.": "bicaval",
		"Arterial cannulation through a 3.5 mm graft on the innominate artery.": "innominate-graft",
	} {
		_, o, p := dictated(t, text)
		found := false
		for _, of := range p.offersNow(o) {
			for _, part := range of.parts {
				if part.def.Type != "list" {
					continue
				}
				found = true
				if chosen, _ := part.entry.Value.([]string); part.words != part.def.Label(want) || !slices.Contains(chosen, want) {
					t.Errorf("%q: shown %q, would write %v", text, part.words, part.entry.Value)
				}
			}
		}
		if !found {
			t.Errorf("%q: nothing of several choices is offered", text)
		}
	}
}

// What is said not to be there and is listed, and what was said in two ways, is not
// called done until it is.
func TestNotDoneWhileSomethingIsOpen(t *testing.T) {
	const all = "Everything understood stands in the note."
	tally := func(p *dictatePane) string {
		_, rest, _ := strings.Cut(drawn(t, p.Render()), `id="offers-tally"`)
		rest, _, _ = strings.Cut(rest, "</p>")
		return rest
	}
	s, o, p := dictated(t, "No left pleural drain.")
	if got := tally(p); !strings.Contains(got, all) {
		t.Errorf("denied and not listed: %s", got)
	}
	drain := s.child.writer.NewItem()
	s.child.act(s.child.writer.ListItem(o.id, drain, "drain", 1))
	s.child.act(s.child.writer.Set(s.child.rec, o.id, schema.ItemPath(string(drain), "variety"), ledger.Entry{Value: "left-pleural"}))
	if got := tally(p); !strings.Contains(got, "1 of 1 still to be taken or looked at.") {
		t.Errorf("denied, and listed: %s", got)
	}

	s, o, p = dictated(t, "Clamp was sixty two minutes. Clamp was sixty five minutes.")
	s.child.act(s.child.writer.Set(s.child.rec, o.id, schema.SupportMode, ledger.Entry{Value: "bypass"}))
	if got := tally(p); !strings.Contains(got, "1 of 2 still") { // the other is bypass, answered
		t.Fatalf("said in two ways: %s", got)
	}
	for _, v := range []string{"65", "62"} { // one is taken, then the other
		of := p.offersNow(o)[1] // after support
		if of.sure != "conflict" || !slices.Equal(of.parts[0].other, []string{"62", "65"}) {
			t.Fatalf("the offer is %+v", of)
		}
		for _, one := range o.ways(of) {
			if one.key == "support-clampTotal-"+v {
				o.takeOffers([]*offered{one}, false)
			}
		}
		if got := o.c.rec.Whole(o.id).Decimal(schema.SupportClampTotal); got != v {
			t.Errorf("%s was taken, and the note says %q", v, got)
		}
		if got := tally(p); !strings.Contains(got, "of what was said in two ways (1), one.") {
			t.Errorf("%s stands: %s", v, got)
		}
	}
}

// Words of which nothing is understood can go under Findings all the same.
func TestNothingUnderstoodGoesUnderFindings(t *testing.T) {
	const text = "Everybody was in a very good mood"
	_, o, p := dictated(t, text)
	if offers := p.offersNow(o); len(offers) > 0 {
		t.Fatalf("understood: %+v", offers[0])
	}
	html := drawn(t, p.Render())
	for _, want := range []string{"Nothing is understood yet.", `id="dictate-rest"`, text, `id="take-rest"`} {
		if !strings.Contains(html, want) {
			t.Errorf("the screen does not show %q", want)
		}
	}
	p.putRest(o, p.notUnderstood())
	if got := o.c.rec.Whole(o.id).Text(findings); got != text {
		t.Errorf("under Findings stands %q", got)
	}
}

// A reader that failed once and answers again is no longer said to have failed.
func TestReaderAnswersAgain(t *testing.T) {
	s, _, _ := dictated(t, "")
	s.reader.failed = "The reader could not be opened on this device."
	got := false
	s.reader.answered(&said{}, func(*said) { got = true })
	if !got || s.reader.failed != "" {
		t.Errorf("after an answer: %v, %q", got, s.reader.failed)
	}
}

// What is in from an earlier operation is not changed without a word: the offer says
// whose and of when it is, it is taken with no others, and a correction amends the
// signed note that listed it, with the reason.
func TestOldItemIsAmendedNotOverwritten(t *testing.T) {
	s, first, p := dictated(t, "")
	c := s.child
	drain := c.writer.NewItem()
	c.act(c.writer.ListItem(first.id, drain, "drain", 1))
	set(s, first, schema.ItemPath(string(drain), "variety"), ledger.Entry{Value: "mediastinal"})
	set(s, first, schema.ItemPath(string(drain), "size"), ledger.Number("10"))
	c.act(c.writer.SignNote(c.rec, first.id, 3))

	second := c.writer.NewNote()
	c.act(c.writer.OpenNote(second, schema.Stage2))
	o := c.open(second)
	s.place.Note, p.Place.Note = second, second
	p.put("One mediastinal drain, a 12 French.")
	var of *offered
	for _, x := range p.offersNow(o) {
		if x.section == "items" {
			of = x
		}
	}
	if of == nil || of.in != string(drain) || of.state != offerDiffers || takable(of) {
		t.Fatalf("the offer is %+v", of)
	}
	html := drawn(t, p.Render())
	for _, want := range []string{"Tag 1, in from before (Stage 1, 14-Jul-2026), listed by A. Surgeon", "Size: 10 Fr (A. Surgeon (surgeon), 14-Jul-2026 12:00)", "Add as another", "Correct the old one"} {
		if !strings.Contains(html, want) {
			t.Errorf("the offer does not say %q: %s", want, html[max(0, strings.Index(html, "offer is-")):])
		}
	}
	o.takeOffers([]*offered{of}, true)
	if got := c.rec.Child(); len(got.Items()) != 2 || got.Decimal(schema.ItemPath(string(drain), "size")) != "10" || c.rec.Standing(first.id).Amended {
		t.Errorf("added as another: %d items, the old one is %s, amended %v", len(got.Items()), got.Decimal(schema.ItemPath(string(drain), "size")), c.rec.Standing(first.id).Amended)
	}
	o.takeOffers([]*offered{of}, false)
	st := c.rec.Standing(first.id)
	if got := c.rec.Child().Decimal(schema.ItemPath(string(drain), "size")); got != "12" || !st.Amended || len(st.Reasons) != 1 || !strings.Contains(st.Reasons[0].Why, "Tag 1, as dictated for Stage 2") {
		t.Errorf("corrected: %s, amended %v, for %v", got, st.Amended, st.Reasons)
	}
	if got := p.offersNow(o); got[len(got)-1].state != offerSame {
		t.Errorf("after that the offer is %s: %s", got[len(got)-1].state, got[len(got)-1].now)
	}
}

// What is taken leads on to the next offer that is open, not back to the top of a list
// that is several screens long; a second tap at once takes nothing.
func TestTakenLeadsOnToTheNext(t *testing.T) {
	_, o, p := dictated(t, "Six point one kilos. Sinus rhythm 128. Lost about 60. Milrinone at 0.5. Lactate 2.1.")
	draw := func() []*offered { offers := p.offersNow(o); p.offersUI(o, offers); return p.shown }
	shown := draw()
	var sure []*offered
	open := map[string]int{}
	for i, of := range shown {
		if of.sure == "sure" {
			sure = append(sure, of)
		} else {
			open[of.title] = i
		}
	}
	id := func(title string) string { return "offer-" + shown[open[title]].key }
	if len(open) != 3 || len(sure) < 3 {
		t.Fatalf("%d offers are sure, and open are %v", len(sure), open)
	}
	if got := p.after(sure); got != id("Operation weight") {
		t.Errorf("all that are sure lead to %s", got)
	}
	p.take(o, sure, false)
	if shown = draw(); p.after(shown[open["Operation weight"]:][:1]) != id("Estimated blood loss") || p.after(shown[open["Infusions"]:][:1]) != id("Operation weight") {
		t.Errorf("one taken does not lead to the next open one, and from the last to the first")
	}
	weight := shown[open["Operation weight"]]
	p.take(o, []*offered{weight}, false)
	if o.working.Answered(weight.parts[0].def.Path) {
		t.Error("a second tap at once took an offer that was not looked at")
	}
}

// A drain on minus ten is on suction, and a run of bypass is on bypass: both are offered
// though nobody said so, the second to be looked at. What was denied, what is answered
// and what was said otherwise offers neither.
func TestOffersWhatGoesWithIt(t *testing.T) {
	find := func(offers []*offered, title string) (out []*offered) {
		for _, of := range offers {
			if of.title == title {
				out = append(out, of)
			}
		}
		return out
	}
	_, o, p := dictated(t, "Bypass on at 09:42, off at 10:51. Cooled to 32 nasopharyngeal. Mediastinal drain on minus ten suction.")
	offers := p.offersNow(o)
	mode := find(offers, "Support")
	if len(mode) != 1 || mode[0].parts[0].words != "Bypass" || mode[0].sure != "check" || mode[0].key != "support-mode" {
		t.Fatalf("with a run of bypass is offered %+v", mode)
	}
	if left := o.takeOffers(offers, false); len(left) > 0 {
		t.Fatal(left)
	}
	if got := o.working.Text(schema.SupportMode); got != "bypass" {
		t.Errorf("taken, support is %q", got)
	}
	if it := o.working.Items()[0]; it.Text("drainage") != "suction" || it.Decimal("suction") != "10" {
		t.Errorf("taken, the drain is on %q at %q", it.Text("drainage"), it.Decimal("suction"))
	}
	for _, text := range []string{"We did not arrest. Aortic clamp not used.", "Off pump. Lowest temperature 35."} {
		_, o, p := dictated(t, text)
		for _, of := range find(p.offersNow(o), "Support") {
			if of.note != "" {
				t.Errorf("%q offers %s", text, of.parts[0].words)
			}
		}
	}
}
