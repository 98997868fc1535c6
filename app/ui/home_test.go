//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// On going home a thing comes out by the bedside's own form: what speaks against it is
// asked, whether the tip of a line was seen must be said, and the time is a time.
func TestOutOnGoingHomeAsksAsTheBedside(t *testing.T) {
	s, o, _ := begun(t)
	line := listIn(s, o.id, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "right-atrial"}})
	c := s.child
	c.halfTyped(halfForm+string(line), "out")
	h := &homePane{S: s, Case: c.id, Who: s.who}
	html := drawn(t, h.draw())
	if !strings.Contains(html, "No chest drain is in.") || !strings.Contains(html, "At what time, if not now?") || !strings.Contains(html, "Local protocols and licensed clinicians decide.") {
		t.Error("it is not asked as at the bedside")
	}
	a := takeOut()
	it, _ := c.register().Item(line)
	c.halfTyped(a.half(it)+"complete", "yes")
	if _, _, wrong := h.bed.answers(a, it); !strings.HasPrefix(wrong, "Answer first: No chest drain is in.") {
		t.Errorf("recorded without an answer: %q", wrong)
	}
	c.halfTyped(a.half(it)+"if0", "yes")
	if _, _, wrong := h.bed.answers(a, it); wrong != "Say whether its tip was seen." {
		t.Errorf("the tip: %q", wrong)
	}
	c.halfTyped(a.half(it)+"tip", "yes")
	answers, _, wrong := h.bed.answers(a, it)
	if wrong != "" {
		t.Fatal(wrong)
	}
	h.bed.record("Out.", a.record(&h.bed, c.writer, it, answers)...)
	if v, _ := c.rec.Item(line); v.Where != ledger.Removed {
		t.Errorf("it is %s", v.Where)
	}
	if html := drawn(t, h.draw()); !strings.Contains(html, "Everything is answered.") || !strings.Contains(html, "Out.") {
		t.Error("it is out, and that is not said")
	}
}

// An event that another device dated ahead does not take back what was said after it;
// nor does a reading. Taken back, a stump is a stump again.
func TestGoesWithTheChildHolds(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	wires := listIn(s, o.id, "pacing-wires", nil)
	c.act(c.writer.At(s.now().Add(minutesOf("60"))).ReadOutput(wires, ledger.Output{Total: "5"}),
		c.writer.Happen(ledger.KindCutLeft, wires, ledger.RegisterFacts{Note: "2 cm under the skin"}),
		c.writer.Transfer(wires, "Ward 4", "ward", "never"), c.writer.Happen(ledger.KindChecked, wires, ledger.RegisterFacts{}))
	v, _ := c.rec.Item(wires)
	by := goes(c.rec, v)
	if by == nil || len(unanswered(c.rec)) != 0 {
		t.Fatal("what was said last does not hold")
	}
	h := &homePane{S: s, Case: c.id, Who: s.who}
	if html := drawn(t, h.draw()); !strings.Contains(html, "On record: cut and left (2 cm under the skin), A. Surgeon") {
		t.Error("the stump reads as a whole thing")
	}
	h.take(wires, c.writer.Retract(by.Note, []ledger.EventID{by.Event}, "x", ""))
	if v, _ = c.rec.Item(wires); v.Where != ledger.CutAndLeft || len(unanswered(c.rec)) != 1 {
		t.Errorf("taken back, it is %s", v.Where)
	}
	if html := drawn(t, c.inNow()); !strings.Contains(html, "cut and left (2 cm under the skin)") {
		t.Error("on the child's page the stump reads as a whole thing")
	}
}

// What goes with the child is on the bedside list until the child has left, and says
// that it goes.
func TestGoesAlongIsAtTheBed(t *testing.T) {
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	c := p.S.child
	c.act(c.writer.Transfer(item().ID, "Ward 4", "sister on 0000", "day 7"))
	html := drawn(t, p.draw())
	for _, want := range []string{"Goes to Ward 4. Known to: sister on 0000", `id="seen-` + string(item().ID), "Read the output"} {
		if !strings.Contains(html, want) {
			t.Errorf("the bedside does not say %q", want)
		}
	}
	c.act(c.writer.Discharge())
	if html := drawn(t, p.draw()); strings.Contains(html, `id="seen-`) || !strings.Contains(html, "transferred") {
		t.Error("the child has left, and it is looked for here")
	}
}

// On the next note's list a stump or a piece is not a whole thing, and what came out
// since is out.
func TestListOfItemsSaysWhatIsNotWhole(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	wires, drain := listIn(s, o.id, "pacing-wires", nil), listIn(s, o.id, "drain", map[string]ledger.Entry{"variety": {Value: "left-pleural"}})
	c.act(c.writer.Happen(ledger.KindCutLeft, wires, ledger.RegisterFacts{Note: "2 cm under the skin"}))
	next := c.writer.NewNote()
	c.act(c.writer.OpenNote(next, schema.Reexploration))
	c.act(c.writer.Remove(drain, ledger.RegisterFacts{Complete: "yes"}))
	s.place = Place{Screen: "items", Case: c.id, Note: next}
	html := drawn(t, (&itemsPane{S: s, Place: s.place}).draw())
	for _, want := range []string{"cut and left (2 cm under the skin)", "OUT: removed"} {
		if !strings.Contains(html, want) {
			t.Errorf("the list does not say %q", want)
		}
	}
}

// What lies deep is asked about before the child goes home with it; what is made to
// stay, or lies where a child is fed or breathes for long, is not.
func TestWhatIsAskedBeforeGoingHome(t *testing.T) {
	for _, x := range []struct{ kind, variety, words string }{
		{"pacing-wires", "ventricular", "lies on the heart."},
		{"central-venous-line", "jugular", "lies in a great vein."},
		{"central-venous-line", "tunnelled", ""},
		{"central-venous-line", "port", ""},
		{"dialysis-catheter", "venous", "lies in a great vein."},
		{"dialysis-catheter", "peritoneal", ""},
		{"airway", "nasal-tube", "lies in the windpipe."},
		{"airway", "tracheostomy", ""},
		{"drain", "right-pleural", "lies in the chest."},
		{"drain", "peritoneal", ""},
		{"support-cannula", "venous", "lies in the heart or a great vessel."},
		{"gut-and-bladder", "gastric-tube", ""},
	} {
		s, o, _ := begun(t)
		c := s.child
		c.act(c.writer.GoHome(listIn(s, o.id, x.kind, map[string]ledger.Entry{"variety": {Value: x.variety}}), "community nurse", "day 7"))
		asks := (&homePane{S: s, Case: c.id, Who: s.who}).asks()
		if said := len(asks) == 1 && strings.HasSuffix(asks[0].Words, x.words) && x.words != ""; said != (x.words != "") || len(asks) > 1 {
			t.Errorf("%s, %s: %+v", x.kind, x.variety, asks)
		}
	}
}

// A child does not go home with the chest open, packs in, a line in an artery or in the
// heart without a reason and a name; to another ward it goes as it is. The answers stand
// in the account.
func TestGoingHomeWithTheChestOpenIsAsked(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	set(s, o, schema.ClosingSternum, ledger.Entry{Value: "open"})
	var things []ledger.ItemID
	for _, x := range [][2]string{{"left-on-purpose", "packs"}, {"left-on-purpose", "membrane"}, {"arterial-line", "radial"}, {"intracardiac-line", "left-atrial"}, {"gut-and-bladder", "gastric-tube"}} {
		things = append(things, listIn(s, o.id, x[0], map[string]ledger.Entry{"variety": {Value: x[1]}}))
	}
	if h := (&homePane{S: s, Case: c.id, Who: s.who}); len(h.asks()) != 1 {
		t.Errorf("of what may still come out it is asked already: %+v", h.asks())
	}
	for _, id := range things {
		c.act(c.writer.GoHome(id, "community nurse", "day 7"))
	}
	h := &homePane{S: s, Case: c.id, Who: s.who}
	html := drawn(t, h.draw())
	for _, want := range []string{"The chest is on record as open.", "Tag 1, Packs", "Tag 2, Open-chest membrane", "lies in an artery.", "lies in the heart.", "5 questions below"} {
		if !strings.Contains(html, want) {
			t.Errorf("the screen does not say %q", want)
		}
	}
	if strings.Contains(html, "Everything is answered.") || strings.Contains(html, "Tag 5, Gastric") {
		t.Error("it says that everything is answered, or asks of a gastric tube")
	}
	h.end()
	if _, ended := c.rec.StayEnded(); ended || !strings.Contains(h.lacks, "The chest is on record as open.") {
		t.Fatalf("the stay ended without an answer: %q", h.lacks)
	}
	for i, g := range h.asks() {
		c.halfTyped(halfAskedWhy+g.Key, "for palliation at home")
		h.end()
		if _, ended := c.rec.StayEnded(); ended || !strings.Contains(h.lacks, "Say who decided") {
			t.Fatalf("%d: a reason without a name: %q", i, h.lacks)
		}
		c.halfTyped(halfAskedWho+g.Key, "Dr Example")
	}
	if html := drawn(t, h.draw()); !strings.Contains(html, "Everything is answered.") {
		t.Error("all is answered, and that is not said")
	}
	h.end()
	if _, ended := c.rec.StayEnded(); !ended || h.lacks != "" {
		t.Fatalf("it does not end: %q", h.lacks)
	}
	account := c.rec.Account()
	if got := account[len(account)-1].Words; !strings.Contains(got, "Asked: The chest is on record as open.") || !strings.Contains(got, "Answered: for palliation at home (decided by Dr Example).") {
		t.Errorf("the account says %q", got)
	}
	for name := range c.half {
		if strings.HasPrefix(name, "going ") {
			t.Errorf("%q is half said still", name)
		}
	}
	// The same to another ward is not asked.
	s, o, _ = begun(t)
	set(s, o, schema.ClosingSternum, ledger.Entry{Value: "open"})
	s.child.halfTyped(halfWard, "yes")
	h = &homePane{S: s, Case: s.child.id, Who: s.who}
	if len(h.asks()) != 0 {
		t.Errorf("to another ward: %+v", h.asks())
	}
}

// Once the stay has ended, nothing is "not answered": what went home stays answered, and
// the child's page says that it went. In the next stay it is asked again.
func TestNothingIsOpenAfterTheStay(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	tube := listIn(s, o.id, "gut-and-bladder", map[string]ledger.Entry{"variety": {Value: "gastric-tube"}})
	c.act(c.writer.GoHome(tube, "community nurse", "day 7"))
	if html := drawn(t, c.inNow()); !strings.Contains(html, "goes home with the child, A. Surgeon") {
		t.Error("the child's page does not say that it goes home")
	}
	h := &homePane{S: s, Case: c.id, Who: s.who}
	h.end()
	html := drawn(t, h.draw())
	if h.ended == "" || strings.Contains(html, "not answered") || strings.Contains(html, "Not answered") || !strings.Contains(html, "What went with the child") || !strings.Contains(html, "Went home with the child.") {
		t.Error("the stay has ended, and something is not answered")
	}
	if html := drawn(t, c.inNow()); !strings.Contains(html, "gone home with the child, A. Surgeon") {
		t.Error("the child's page does not say that it went home")
	}
	next := c.writer.NewNote()
	c.act(c.writer.OpenNote(next, schema.Stage2))
	if html := drawn(t, h.draw()); len(unanswered(c.rec)) != 1 || !strings.Contains(html, "1 thing is not answered") {
		t.Error("in the next stay it is not asked again")
	}
}
