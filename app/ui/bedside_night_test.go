//go:build !(js && wasm)

package ui

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// The tip of a line was not seen, and the X-ray shows nothing: it is out, since it came
// out and not since the X-ray, with how that was made sure.
func TestNothingWasLeftIn(t *testing.T) {
	p, item := atBed(t, "central-venous-line", map[string]ledger.Entry{"variety": {Value: "jugular"}, "side": {Value: "right"}})
	id := item().ID
	p.record("out", p.S.child.writer.At(p.when(map[string]string{"when": "09:40"})).Remove(id, ledger.RegisterFacts{Complete: "yes", TipSeen: "no"}))
	none := action("none").on(item())
	if len(p.S.child.leftWords()) != 1 || !none.fits(item()) || action("none").fits(item()) {
		t.Fatal("part may be left in: the banner does not say so, or it cannot be answered")
	}
	if at, wrong := p.refused("none", item(), nil); at != "proved" || wrong == "" {
		t.Errorf("how it was made sure is not asked: at %q: %q", at, wrong)
	}
	if html := drawn(t, p.form(none, item())); !strings.Contains(html, "Nothing was left in: tag 1, right jugular line") {
		t.Error("the form does not say of what")
	}
	p.keep(t, "none", item(), map[string]string{"proved": "X-ray", "note": "N. Night and the intensivist"})
	v, _ := p.S.child.rec.Item(id)
	if v.Where != ledger.Removed || v.Since.Clock() != "09:40" || len(p.S.child.leftWords()) != 0 || len(p.S.child.register().Open) != 0 {
		t.Errorf("%q since %s, banner %q, open %+v", v.Where, v.Since.Shown(), p.S.child.leftWords(), p.S.child.register().Open)
	}
	if said := p.S.child.rec.Account(); !strings.Contains(said[len(said)-1].Words, "is out, and nothing of it was left in (all of it; made sure that none is left: X-ray") {
		t.Errorf("the account says %q", said[len(said)-1].Words)
	}
	// A piece that came out later came out then.
	p, item = atBed(t, "central-venous-line", map[string]ledger.Entry{"variety": {Value: "jugular"}})
	id = item().ID
	p.record("out", p.S.child.writer.At(p.when(map[string]string{"when": "09:40"})).Remove(id, ledger.RegisterFacts{Complete: "no"}))
	p.record("out", p.S.child.writer.At(p.when(map[string]string{"when": "11:10"})).Remove(id, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes"}))
	if v, _ := p.S.child.rec.Item(id); v.Since.Clock() != "11:10" {
		t.Errorf("the rest came out at 11:10, and since when is %s", v.Since.Shown())
	}
}

// What is offered as wrong with a thing can be wrong with it.
func TestProblemsOfItsKind(t *testing.T) {
	for kind, want := range map[string][2]string{
		"pacing-wires":        {lines.ProblemNoCapture, "tissued,limb-pale,lumen-blocked,blocked,leaking"},
		"airway":              {"blocked", "tissued,limb-pale,lumen-blocked," + lines.ProblemNoCapture},
		"drain":               {"clamped", "tissued,limb-pale,lumen-blocked," + lines.ProblemNoSensing},
		"arterial-line":       {"limb-pale", "lumen-blocked"},
		"central-venous-line": {"lumen-blocked", lines.ProblemNoCapture},
		"surface-probe":       {"dislodged", "blocked,tissued,limb-pale"},
		"left-on-purpose":     {"leaking", "blocked,tissued,limb-pale"},
		"intracardiac-line":   {"lumen-blocked", "limb-pale"},
		"peripheral-cannula":  {"tissued", "lumen-blocked"},
		"gut-and-bladder":     {"dislodged", "tissued,limb-pale,rewired"},
		"intraosseous-needle": {"limb-pale", "lumen-blocked"},
		"dialysis-catheter":   {"rewired", "tissued"},
		"support-cannula":     {"limb-pale", "tissued"},
		"wound-catheter":      {"leaking", "limb-pale"},
		"inner-probe":         {"moved", "leaking"},
		"drain-chamber":       {"leaking", "tissued"},
	} {
		p, item := atBed(t, kind, nil)
		for _, q := range p.asksOf(action("problem"), item()) {
			if q.of != "state" {
				continue
			}
			if !slices.Contains(q.picks, want[0]) || !slices.Contains(q.picks, lines.ProblemStuck) {
				t.Errorf("%s: %v lacks %s", kind, q.picks, want[0])
			}
			for _, no := range strings.Split(want[1], ",") {
				if slices.Contains(q.picks, no) {
					t.Errorf("%s: %s is offered", kind, no)
				}
			}
		}
	}
	_, item := atBed(t, "pacing-wires", nil)
	for _, d := range lines.Differences(item().Item) {
		if d.Field == "state" && slices.Contains(d.Picks, "Tissued") || d.Field == lines.FieldTag && slices.Contains(d.Picks, "Another number") {
			t.Errorf("at the check %s is picked among %q", d.Field, d.Picks)
		}
	}
}

// What was put in since the note is listed in the register alone: the note, and the check
// that was closed on arrival, stay as they were; what it is, how many and when it went in
// are entered at the bed.
func TestSomethingNewAtTheBed(t *testing.T) {
	p, item := atBed(t, "airway", map[string]ledger.Entry{"variety": {Value: "oral-tube"}})
	c, note := p.S.child, item().View.Note
	c.act(c.writer.Check(c.rec, note, lines.CheckOf(c.rec, note, ledger.Arrival).Entries[0].Found()))
	c.act(c.writer.CloseCheck(c.rec, note, ledger.Arrival))
	html := drawn(t, p.draw())
	if !strings.Contains(html, `id="list-as-new"`) || strings.Contains(html, `/items"`) {
		t.Error("it is listed in a note, or nowhere")
	}
	id := c.writer.NewItem()
	p.list("", id, "left-on-purpose")
	it, in := c.register().Item(id)
	ch := lines.CheckOf(c.rec, note, ledger.Arrival)
	if !in || it.View.Note != "" || it.Tag != 2 || !ch.Ready() || ch.Closings[0].Changed {
		t.Fatalf("in %v in note %q as tag %d; the check is ready %v, changed %v", in, it.View.Note, it.Tag, ch.Ready(), ch.Closings[0].Changed)
	}
	f := &aboutForm{S: p.S, Item: it.Item}
	for name, text := range map[string]string{"variety": "packs", "count": "3", "removalPlan": "at closure, counted", "placed": "25:10"} {
		c.halfTyped(f.key(name), text)
	}
	if f.save(); f.wrong["placed"] == "" || len(f.wrong) != 1 {
		t.Fatalf("a time that cannot be is taken, or more is refused: %v", f.wrong)
	}
	c.halfTyped(f.key("placed"), "11:20")
	f.save()
	it, _ = c.register().Item(id)
	if left := c.leftWords(); len(left) != 1 || left[0] != "Packs, 3 (tag 2)" || !it.SinceSure || it.Since.Clock() != "11:20" || it.Item.Text("removalPlan") != "at closure, counted" {
		t.Errorf("banner %q, in since %s (sure %v), plan %q", left, it.Since.Shown(), it.SinceSure, it.Item.Text("removalPlan"))
	}
	f.Item = it.Item
	if html := drawn(t, f.draw()); !strings.Contains(html, "14-Jul-2026 11:20") || !strings.Contains(html, "at closure, counted") {
		t.Errorf("what was entered does not stand in its box: %s", html)
	}
}

// A line that is another than the list has it differs in what it is, and the list is put
// right when that is settled.
func TestAnotherLineThanListed(t *testing.T) {
	_, item := atBed(t, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "right-atrial"}})
	it := item().Item
	for _, d := range lines.Differences(it) {
		if d.Field != "variety" {
			continue
		}
		said := ledger.Difference{Field: d.Field, Sheet: d.Sheet, Bedside: "Left atrial line"}
		if d.Title != "What it is" || !slices.Contains(d.Picks, said.Bedside) || lines.DifferenceWords(said) != "it is left atrial line, listed right atrial line" {
			t.Errorf("%+v, in words %q", d, lines.DifferenceWords(said))
		}
		if e, ok := takenUp(it, said); !ok || e.Value != "left-atrial" {
			t.Errorf("the list cannot take it: %v, %v", e.Value, ok)
		}
		return
	}
	t.Error("it cannot be said")
}

// A chamber comes out nowhere: at the check its level is wanted and shown.
func TestChamberAtTheCheck(t *testing.T) {
	p, item := atBed(t, "drain-chamber", nil)
	c, note := p.S.child, item().View.Note
	e := lines.CheckOf(c.rec, note, ledger.Arrival).Entries[0]
	if e.FoundWords() != "Found; level not recorded" || strings.Contains(factWords(e.Item), "omes out") {
		t.Errorf("%q; facts %q", e.FoundWords(), factWords(e.Item))
	}
	c.act(c.writer.Set(c.rec, note, schema.ItemPath(e.Item.ID, "levelArrival"), ledger.Entry{Value: json.Number("35"), Unit: "mL", Origin: ledger.Origin{How: ledger.HowTyped}}))
	if e = lines.CheckOf(c.rec, note, ledger.Arrival).Entries[0]; e.FoundWords() != "Found as listed" || !strings.Contains(factWords(e.Item), "Level on arrival: 35 mL") {
		t.Errorf("35 mL: %q; facts %q", e.FoundWords(), factWords(e.Item))
	}
}

// What is begun can be left: a form that says that a thing goes along. Others are left in
// testdata/browser/register.test.mjs.
func TestWhatIsBegunCanBeLeft(t *testing.T) {
	p, item := atBed(t, "gut-and-bladder", map[string]ledger.Entry{"variety": {Value: "gastric-tube"}})
	h := &homePane{S: p.S, Case: p.S.child.id, Who: p.S.who}
	v, half := item().View, p.S.child.half
	for _, name := range []string{halfForm, halfKnows, halfBy} {
		half[name+string(v.ID)] = "goes"
	}
	if html := drawn(t, app.Div().Body(h.goesForm(string(v.ID), v)...)); !strings.Contains(html, `id="goes-no-`) {
		t.Error("the form that says that it goes along cannot be left")
	}
	if h.forget(v.ID); half[halfForm+string(v.ID)]+half[halfKnows+string(v.ID)]+half[halfBy+string(v.ID)] != "" {
		t.Errorf("left, and half said is %v", half)
	}
}

// The list of what was listed by mistake says which it was; what a check found is copied
// from there, not from an earlier note.
func TestWhichWasListedByMistake(t *testing.T) {
	p, item := atBed(t, "pacing-wires", map[string]ledger.Entry{"variety": {Value: "skin-earth"}})
	c, it := p.S.child, item()
	c.act(c.writer.WithdrawItem(c.rec, it.ID, "none was put in"))
	o := c.open(it.View.Note)
	if html := drawn(t, (&itemsPane{S: p.S, Place: Place{Screen: "items", Case: c.id, Note: o.id}}).withdrawn(o)); !strings.Contains(html, "Skin earth wire") {
		t.Errorf("which is not said: %s", html)
	}
	found := ledger.ItemID(p.S.ids.New())
	c.act(c.writer.Check(c.rec, o.id, lines.ExtraFound(found, ledger.Arrival, "cannula, left foot")))
	c.act(c.listFound(o.id, found, "peripheral-cannula", 2)...)
	if vs := c.rec.Values(o.id, schema.ItemPath(string(found), "remark")); len(vs) != 1 || vs[0].Origin.Words != "what the check found" {
		t.Errorf("the remark comes from %+v", vs)
	}
}

// Who checked the wristband is said in one tap; what is due is not said as by whom.
func TestSaidOnceIsTapped(t *testing.T) {
	p, item := atBed(t, "gut-and-bladder", map[string]ledger.Entry{"variety": {Value: "gastric-tube"}})
	c := &checkPane{S: p.S, Note: item().View.Note, Occasion: ledger.Arrival}
	if html := drawn(t, c.band()); !strings.Contains(html, `id="band-by-me"`) || !strings.Contains(html, "Checked by A. Surgeon") {
		t.Errorf("it is to be typed: %s", html)
	}
	if got := dueWords(item().Due[0]); got != "Still needed? Not asked yet, due by 15-Jul-2026 12:00" {
		t.Error(got)
	}
}
