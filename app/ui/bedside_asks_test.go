//go:build !(js && wasm)

package ui

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// refused fills the form in and says at which question it is refused, and why.
func (p *bedsidePane) refused(name string, it lines.InChild, answers map[string]string) (at, wrong string) {
	a := action(name)
	p.fill(a, it, answers)
	_, at, wrong = p.answers(a, it)
	return at, wrong
}

// keep records the form of an action.
func (p *bedsidePane) keep(t *testing.T, name string, it lines.InChild, answers map[string]string) {
	t.Helper()
	a := action(name)
	p.fill(a, it, answers)
	got, at, wrong := p.answers(a, it)
	if wrong != "" {
		t.Fatalf("%s: at %q: %s", name, at, wrong)
	}
	p.record(a.words+".", a.record(p, p.S.child.writer.Together(), it, got)...)
}

// A "no" before removal wants who decided and why; both stay open after it.
func TestNoBeforeRemoval(t *testing.T) {
	p, item := atBed(t, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "right-atrial"}})
	it := item()
	answers := map[string]string{"complete": "yes", "tip": "yes"}
	for i := range p.asked(it) {
		answers["if"+itoa(i)] = "no"
	}
	if at, wrong := p.refused("out", it, answers); at != "despite" || !strings.Contains(wrong, "who decided") {
		t.Fatalf("at %q: %q", at, wrong)
	}
	answers["despite"] = "surgeon at the bed"
	p.keep(t, "out", it, answers)
	r := p.S.child.register()
	if len(r.Open) != 1 || r.Open[0].What != lines.ProblemDespite || !strings.Contains(r.Open[0].Words, "surgeon at the bed") {
		t.Errorf("open %+v", r.Open)
	}
}

// The answers to the conditions are those of the one who takes it out: another
// person's, left in a form that was not recorded, do not count.
func TestConditionsOfAnother(t *testing.T) {
	p, item := atBed(t, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "right-atrial"}})
	it, a := item(), action("out")
	for i := range p.asked(it) {
		p.pick(a, it, "if"+itoa(i), "yes")
	}
	p.S.child.halfTyped(a.half(it)+"complete", "yes")
	p.S.child.halfTyped(a.half(it)+"tip", "yes")
	if _, at, wrong := p.answers(a, it); wrong != "" {
		t.Fatalf("the same person, now: at %q: %s", at, wrong)
	}
	p.S.who.Name = "E. Morning"
	if _, at, wrong := p.answers(a, it); at != "if0" {
		t.Errorf("another person: at %q: %q", at, wrong)
	}
	if html := drawn(t, p.form(a, it)); !strings.Contains(html, "Answer these again.") {
		t.Error("the form does not say so")
	}
	p.pick(a, it, "if0", "yes")
	if p.held(a, it, "if0") != "yes" || len(p.asked(it)) > 1 && p.held(a, it, "if1") != "" {
		t.Error("answered anew, the others of the first person count again")
	}
}

// Packs are counted out: how many, how it was made sure, and all is all.
func TestPacksAreCountedOut(t *testing.T) {
	p, item := atBed(t, "left-on-purpose", map[string]ledger.Entry{"variety": {Value: "packs"}, "count": ledger.Number("2")})
	it := item()
	for _, c := range []struct {
		answers map[string]string
		at      string
	}{
		{map[string]string{"complete": "yes"}, "number"},
		{map[string]string{"complete": "yes", "number": "2"}, "proved"},
		{map[string]string{"complete": "yes", "number": "1", "proved": "counted"}, "complete"},
		{map[string]string{"complete": "yes", "number": "3", "proved": "counted"}, "number"},
		{map[string]string{"complete": "yes", "number": "two", "proved": "counted"}, "number"},
		{map[string]string{"complete": "yes", "number": "2", "proved": "not yet"}, "proved"},
	} {
		if at, wrong := p.refused("out", it, c.answers); at != c.at || wrong == "" {
			t.Errorf("%v: at %q: %q, want %q", c.answers, at, wrong, c.at)
		}
	}
	p.keep(t, "out", it, map[string]string{"complete": "no", "number": "1", "proved": "counted"})
	if left := p.S.child.leftWords(); len(left) != 1 || !strings.HasPrefix(left[0], "1 of 2 left in: packs") {
		t.Errorf("one of two out, the banner has %v", left)
	}
}

// Wires are counted out, of how many are in; those that stay are listed still, and are
// what the next removal is counted against.
func TestWiresAreCountedOut(t *testing.T) {
	p, item := atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("2")})
	if at, wrong := p.refused("out", item(), map[string]string{"complete": "yes"}); at != "number" || wrong == "" {
		t.Errorf("how many is not asked: at %q: %q", at, wrong)
	}
	p.begin(action("out"), item())
	if html := drawn(t, p.form(action("out"), item())); !strings.Contains(html, "How many came out, of 2?") {
		t.Error("of how many is not said")
	}
	p.keep(t, "out", item(), map[string]string{"complete": "no", "number": "1"})
	if it := item(); it.Name != "1 of 2 left in: atrial wires" || it.View.Where != ledger.RemovedPart {
		t.Errorf("one of two out: %q, %q", it.Name, it.View.Where)
	}
	if at, _ := p.refused("out", item(), map[string]string{"complete": "yes", "number": "2"}); at != "number" {
		t.Errorf("two out of the one that is left: at %q", at)
	}
	id := item().ID
	p.keep(t, "out", item(), map[string]string{"complete": "yes", "number": "1"})
	if v, _ := p.S.child.rec.Item(id); v.Where != ledger.Removed {
		t.Errorf("both out: %q", v.Where)
	}
}

// Of several some can be cut and left: the others stay on the list with all that is done
// of a wire that is in, and what was cut stands as left inside. How many, and where no
// number is listed whether others are in, is asked.
func TestSomeOfSeveralAreCut(t *testing.T) {
	p, item := atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("2")})
	p.begin(action("cut"), item())
	if html := drawn(t, p.form(action("cut"), item())); !strings.Contains(html, "How many were cut and left, of 2?") || !strings.Contains(html, "Cut and left: tag ") {
		t.Error("how many of how many, or of what, is not said")
	}
	for _, number := range []string{"", "0", "3", "one"} {
		answers := map[string]string{"note": "3 cm left, parents told"}
		if number != "" {
			answers["number"] = number
		}
		if at, wrong := p.refused("cut", item(), answers); at != "number" || wrong == "" {
			t.Errorf("%q of two: at %q: %q", number, at, wrong)
		}
	}
	p.keep(t, "cut", item(), map[string]string{"note": "3 cm left, parents told", "number": "2"})
	if it := item(); it.View.Where != ledger.CutAndLeft || lines.LeftOf(&it.View, it.Item).Cut != "Cut and left inside" {
		t.Errorf("both cut: %q", it.View.Where)
	}

	p, item = atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("2")})
	p.keep(t, "cut", item(), map[string]string{"note": "3 cm left, parents told", "number": "1"})
	it := item()
	html := drawn(t, p.draw())
	for _, want := range []string{"1 of 2 in, 1 cut and left inside: atrial wires", "Test the wires", "1 cut and left (3 cm left, parents told)", "the rest stays on the list, to come out"} {
		if !strings.Contains(html, want) {
			t.Errorf("one is cut, and the list lacks %q", want)
		}
	}
	if words := p.S.child.leftWords(); len(words) != 1 || !strings.HasPrefix(words[0], "1 of 2 cut and left inside: atrial wires, 14-Jul-2026 (tag ") {
		t.Errorf("the banner says %q", words)
	}
	if html := drawn(t, p.form(action("out"), it)); !strings.Contains(html, "How many came out, of 1?") || !strings.Contains(html, "Beside what was cut and left inside: did all of it come out?") {
		t.Error("the form does not ask of the other wire")
	}
	p.keep(t, "out", item(), map[string]string{"complete": "yes", "number": "1"})
	it = item()
	if html = drawn(t, p.draw()); it.View.Stand() != ledger.StandsCut || !strings.Contains(html, "1 of 2 cut and left inside: atrial wires") || !strings.Contains(html, "What was cut stands as left inside, until it comes out.") || strings.Contains(html, "Test the wires") {
		t.Errorf("the other was pulled, it stands %v", it.View.Stand())
	}
	if _, wrong := p.refused("cut", item(), map[string]string{"note": "again"}); wrong == "" {
		t.Error("none is left, and another is cut")
	}

	p, item = atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}})
	if at, _ := p.refused("cut", item(), map[string]string{"note": "3 cm", "number": "1"}); at != "others" {
		t.Errorf("how many there are is not listed: at %q", at)
	}
	p.keep(t, "cut", item(), map[string]string{"note": "3 cm", "number": "1", "others": "yes"})
	if it := item(); it.View.Stand() != ledger.StandsIn || it.Name != "Others in, 1 cut and left inside: atrial wires" {
		t.Errorf("others are in, and it stands %v as %q", it.View.Stand(), it.Name)
	}

	// Of one that is left of two, one is all; of a single wire it is not asked.
	p, item = atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("2")})
	p.keep(t, "out", item(), map[string]string{"complete": "no", "number": "1"})
	p.keep(t, "cut", item(), map[string]string{"note": "3 cm left", "number": "1"})
	p, item = atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("1")})
	p.keep(t, "cut", item(), map[string]string{"note": "3 cm left"})
	if it := item(); it.View.Where != ledger.CutAndLeft {
		t.Errorf("one wire, cut: %q", it.View.Where)
	}
}

// All that a form lacks is said at once, each beside its question; the first has the
// focus. With an answer its words go.
func TestAllThatLacksIsSaid(t *testing.T) {
	p, item := atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("2")})
	a, it := action("out"), item()
	if at, _ := p.refused("out", it, map[string]string{"when": "2560", "length": "many"}); at != "when" {
		t.Errorf("the first is %q", at)
	}
	html := drawn(t, p.form(a, it))
	for _, want := range []string{"There is no time", "Count what came out, and enter how many.", "Say whether all of it came out.", "is not a number"} {
		if !strings.Contains(html, want) {
			t.Errorf("it is not said: %q", want)
		}
	}
	p.pick(a, it, "complete", "yes")
	if strings.Contains(drawn(t, p.form(a, it)), "Say whether all of it came out.") {
		t.Error("answered, and asked for still")
	}
}

// A line that is found out already: its time, whether it came out whole and whether its
// tip did are not known, which is an answer; nobody took it out, and the conditions are
// not asked. It stays on the list as in doubt.
func TestFoundOutAlready(t *testing.T) {
	p, item := atBed(t, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "left-atrial"}})
	it := item()
	if at, _ := p.refused("out", it, map[string]string{"complete": "yes", "tip": "yes"}); at != "if0" {
		t.Fatalf("the condition is not asked: %q", at)
	}
	p.keep(t, "out", it, map[string]string{"when": ledger.NotKnown, "complete": ledger.NotKnown, "tip": ledger.NotKnown})
	if html := drawn(t, p.draw()); !strings.Contains(html, "Part may be left in: left atrial line") {
		t.Error("it is not said as it was answered")
	}
	it = item()
	last := it.View.Events[len(it.View.Events)-1]
	if !strings.HasSuffix(p.done, "It stays on the list: part of it is left in, or may be.") {
		t.Errorf("what was done is told as %q", p.done)
	}
	if it.View.Where != ledger.PerhapsPart || !it.View.FoundOut || last.Facts.Time != ledger.NotKnown || len(last.Facts.Conditions) != 0 {
		t.Errorf("recorded as %q with %+v", it.View.Where, last.Facts)
	}
	account := p.S.child.rec.Account()
	if got := account[len(account)-1].Words; !strings.Contains(got, "not known: all of it; not known: tip seen") || !strings.Contains(got, "at what time is not known") {
		t.Errorf("the account says %q", got)
	}
}

// What the last recording said stands only while it holds.
func TestDoneIsNotSaidAfterUndo(t *testing.T) {
	p, item := atBed(t, "airway", nil)
	p.keep(t, "out", item(), map[string]string{"complete": "yes"})
	if html := drawn(t, p.draw()); !strings.Contains(html, "Take it out.") {
		t.Fatal("it is not said that it was recorded")
	}
	es, ok := p.S.child.writer.Undo(p.S.child.rec)
	if !ok {
		t.Fatal("it cannot be undone")
	}
	p.S.child.act(es...)
	if html := drawn(t, p.draw()); strings.Contains(html, "bedside-done") {
		t.Error("taken back, and still said")
	}
}

// Each of two drains to one chamber has its own look; the volume is the chamber's.
func TestEachDrainHasItsLook(t *testing.T) {
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	c := p.S.child
	note := c.rec.Notes()[0].ID
	other, chamber := c.writer.NewItem(), c.writer.NewItem()
	c.act(c.writer.ListItem(note, other, "drain", c.rec.NextTag()))
	c.act(c.writer.ListItem(note, chamber, "drain-chamber", c.rec.NextTag()))
	set(p.S, c.open(note), schema.ItemPath(string(chamber), "drains"), ledger.Entry{Value: []string{string(item().ID), string(other)}})
	p.keep(t, "read", item(), map[string]string{"total": "5", "swing": "no", "colour": "serous"})
	r := c.register()
	second, _ := r.Item(other)
	if first := item(); first.Drainage.Of != chamber || !strings.Contains(looked(first.Drainage, first.ID), "not swinging") {
		t.Errorf("the drain that was looked at: %+v", first.Drainage)
	}
	if looked(second.Drainage, other) != "" || looked(second.Drainage, chamber) != "" {
		t.Error("what was seen of one drain is said of the other")
	}
	if n := len(second.Drainage.Readings); n != 2 {
		t.Errorf("%d readings", n)
	}
}

// Answers that were dropped, and places without a unit.
func TestNothingAnsweredIsDropped(t *testing.T) {
	p, item := atBed(t, "pacing-wires", nil)
	p.keep(t, "test", item(), map[string]string{"needed": "not now"})
	it := item()
	if n := len(it.Tests); n != 1 || !strings.Contains(readWords(it.Tests[0]), "pacing not needed") {
		t.Errorf("the test: %+v", it.Tests)
	}
	if _, wrong := p.refused("moved", it, map[string]string{"to": "5"}); !strings.Contains(wrong, "no unit") {
		t.Errorf("moved to 5: %q", wrong)
	}
	p.keep(t, "moved", it, map[string]string{"to": "5 cm at the skin"})
	if html := drawn(t, p.row(p.S.child.register(), item())); !strings.Contains(html, "moved to 5 cm at the skin · ") {
		t.Error("its line does not say where it was moved to")
	}
	it = item()
	p.keep(t, "cut", it, map[string]string{"note": "2 cm left under the skin, surgeon told", "number": "1", "others": "no"})
	if html := drawn(t, p.draw()); !strings.Contains(html, "cut and left (2 cm left under the skin, surgeon told)") {
		t.Error("how much was left is not said in the list")
	}
}

// A time of day that is minutes ahead of this clock is not yesterday without a word.
func TestMinutesAheadAreAsked(t *testing.T) {
	p, item := atBed(t, "airway", nil)
	if at, wrong := p.refused("moved", item(), map[string]string{"to": "11 cm at the lips", "when": "12:06"}); at != "sure" || !strings.Contains(wrong, "13-Jul-2026 12:06") {
		t.Errorf("at %q: %q", at, wrong)
	}
	if _, wrong := p.refused("moved", item(), map[string]string{"to": "11 cm at the lips", "when": "23:50"}); wrong != "" {
		t.Errorf("last night: %q", wrong)
	}
	if _, wrong := p.refused("moved", item(), map[string]string{"to": "11 cm at the lips", "when": "13-Jul 12:06"}); wrong != "" {
		t.Errorf("with its date: %q", wrong)
	}
	if at, wrong := p.refused("moved", item(), map[string]string{"to": "11 cm at the lips", "when": "15-Jul 12:06"}); at != "when" || !strings.Contains(wrong, "still to come") {
		t.Errorf("tomorrow: at %q: %q", at, wrong)
	}
}

// Where the lumens were not listed, the lumen is asked for.
func TestLumenNotListed(t *testing.T) {
	p, item := atBed(t, "central-venous-line", map[string]ledger.Entry{"variety": {Value: "jugular"}})
	if at, wrong := p.refused("runs", item(), map[string]string{"runs": "milrinone"}); at != "lumen" || !strings.Contains(wrong, "how many it has is not recorded") {
		t.Errorf("at %q: %q", at, wrong)
	}
}

// The new one is of the old one's sort and place only where that was said, and the
// screen leads to it.
func TestExchangedForAnotherSort(t *testing.T) {
	for same, variety := range map[string]string{"yes": "umbilical-arterial", "no": ""} {
		p, item := atBed(t, "arterial-line", map[string]ledger.Entry{"variety": {Value: "umbilical-arterial"}})
		p.keep(t, "exchange", item(), map[string]string{"same": same, "complete": "yes", "tip": "yes"})
		r := p.S.child.register()
		fresh := r.Items[len(r.Items)-1]
		if got := fresh.Item.Text("variety"); got != variety {
			t.Errorf("%s: the new one is %q", same, got)
		}
		if html := drawn(t, p.draw()); !strings.Contains(html, "Tag 2 is new: enter its size, depth and place") {
			t.Error("nothing leads to the new one")
		}
	}
}

// A fault in the record is not "balanced"; one flag on two things is mended here.
func TestTwinsAtTheBed(t *testing.T) {
	p, item := atBed(t, "airway", nil)
	c := p.S.child
	old := item()
	_, one := c.writer.Exchange(c.rec, old.ID, "", ledger.RegisterFacts{Complete: "yes"})
	_, two := c.writer.Exchange(c.rec, old.ID, "", ledger.RegisterFacts{Complete: "yes"})
	c.act(one...)
	c.act(two...)
	html := drawn(t, p.draw())
	for _, want := range []string{"Tag 2 stands on 2 things.", "Tag 3 for the", "Only one is in: tag 2"} {
		if !strings.Contains(html, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(html, "is-balanced") {
		t.Error("with faults open it is called balanced")
	}
}

// What is due says by when, or since when; what is for now has neither.
func TestDueHasItsTime(t *testing.T) {
	at := schema.MomentOf(2026, 7, 14, 15, 20, 0, "UTC")
	for _, c := range []struct {
		due  lines.Due
		want string
	}{
		{lines.Due{What: lines.DueLook, Words: "Look again: Under wraps", At: at}, "Look again: Under wraps, by 14-Jul-2026 15:20"},
		{lines.Due{What: lines.DueNeed, Words: "Still needed? Not asked yet", At: at, Overdue: true}, "DUE since 14-Jul-2026 15:20: Still needed? Not asked yet"},
		{lines.Due{What: lines.DueWorking, Words: "Look now.", At: at}, "Look now."},
		{lines.Due{What: lines.DuePlan, Words: "At closure"}, "At closure"},
	} {
		if got := dueWords(c.due); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// That a thing will not come out can be chosen among the problems of a line, wires and a
// drain, also from the form that takes it out; it stays in, with the problem open until it
// is settled or the thing is out after all.
func TestWillNotComeOut(t *testing.T) {
	for kind, variety := range map[string]string{"intracardiac-line": "right-atrial", "pacing-wires": "ventricular", "drain": "mediastinal"} {
		p, item := atBed(t, kind, map[string]ledger.Entry{"variety": {Value: variety}})
		it := item()
		p.Place.Part = string(it.ID)
		if html := drawn(t, p.form(action("problem"), it)); !strings.Contains(html, "Will not come out") || !strings.Contains(html, "In your own words") || strings.Contains(html, "It stays on the list") {
			t.Errorf("%s: it cannot be chosen, or not in words: %s", kind, html)
		}
		if html := drawn(t, p.form(takeOut(), it)); !strings.Contains(html, "It will not come out…") {
			t.Errorf("%s: the form that takes it out does not lead there", kind)
		}
		p.S.child.halfTyped(takeOut().half(it)+"note", "tried twice")
		p.stuck(takeOut(), it)
		if html := drawn(t, p.form(action("problem"), it)); !strings.Contains(html, "It stays on the list as in") || p.unfinished(it) != action("problem") {
			t.Errorf("%s: it is not chosen, or the other form is left half filled in: %s", kind, html)
		}
		p.keep(t, "problem", it, map[string]string{"what": lines.ProblemStuck, "note": "surgeon told"})
		r := p.S.child.register()
		if it := item(); len(r.Open) != 1 || r.Open[0].Words != "will not come out (surgeon told)" || it.View.Where != ledger.InChild {
			t.Fatalf("%s: open %+v", kind, r.Open)
		}
		p.record("out", p.S.child.writer.Remove(it.ID, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
		if open := p.S.child.register().Open; len(open) != 0 {
			t.Errorf("%s: out, and open is %+v", kind, open)
		}
	}
}

// Of a piece that was left in, and of a stump, only what makes sense is offered: neither is
// read, tested, moved, exchanged or asked about.
func TestWhatAPieceOffers(t *testing.T) {
	offered := func(p *bedsidePane, it lines.InChild) (out []string) {
		for i := range bedsideActions {
			if a := bedsideActions[i].on(it); a.fits(it) {
				out = append(out, a.words)
			}
		}
		return out
	}
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	if got := offered(p, item()); !slices.Contains(got, "Read the output") || !slices.Contains(got, "Moved") || !slices.Contains(got, "Take it out") {
		t.Errorf("of a drain that is in: %v", got)
	}
	p.keep(t, "out", item(), map[string]string{"complete": "no"})
	it := item()
	if got, want := offered(p, it), []string{"Problem", "What was left came out", "Nothing was left in", "Cut and left", "Cannot be found", "Back to theatre for it"}; !slices.Equal(got, want) {
		t.Errorf("of a piece: %v, want %v", got, want)
	}
	if html := drawn(t, p.draw()); strings.Contains(html, "Read the output") || strings.Contains(html, "to ask") || strings.Contains(html, "Seen, as it was") {
		t.Error("the output of a piece is to be read, or it is asked whether it is needed")
	}
	p.keep(t, "cut", it, map[string]string{"note": "4 cm left, told"})
	if got, want := offered(p, item()), []string{"Problem", "What was left came out"}; !slices.Equal(got, want) {
		t.Errorf("of a stump: %v, want %v", got, want)
	}
	p.keep(t, "out", item(), map[string]string{"complete": "yes"})
	if v, _ := p.S.child.rec.Item(it.ID); v.Where != ledger.Removed || len(p.S.child.leftWords()) > 0 {
		t.Errorf("it came out: %q, banner %q", v.Where, p.S.child.leftWords())
	}
	p, item = atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "atrial"}, "count": ledger.Number("2")})
	p.keep(t, "out", item(), map[string]string{"complete": "no", "number": "1"})
	if got := offered(p, item()); !slices.Contains(got, "Test the wires") || !slices.Contains(got, "Take it out") {
		t.Errorf("of the other wire, which is in whole: %v", got)
	}
}
