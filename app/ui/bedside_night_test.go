//go:build !(js && wasm)

package ui

import (
	"slices"
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
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
