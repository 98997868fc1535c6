//go:build !(js && wasm)

package ui

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// atBed is the bedside of a child of 3.2 kg with one item, on 14-Jul-2026 at 12:00.
func atBed(t *testing.T, kind string, fields map[string]ledger.Entry) (*bedsidePane, func() lines.InChild) {
	t.Helper()
	s, o := weighed(t)
	c := s.child
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(o.id, id, kind, c.rec.NextTag()))
	for name, e := range fields {
		set(s, o, schema.ItemPath(string(id), name), e)
	}
	s.place = Place{Screen: "bedside", Case: c.id, Part: string(id)}
	p := &bedsidePane{S: s, Place: s.place}
	return p, func() lines.InChild {
		it, ok := c.register().Item(id)
		if !ok {
			t.Fatal("it is not in")
		}
		return it
	}
}

// fill types into the form of an action; what is left out is emptied.
func (p *bedsidePane) fill(a *bedsideAction, it lines.InChild, answers map[string]string) {
	for _, q := range append(p.asksOf(a, it), sureAsks...) {
		p.S.child.halfTyped(a.half(it)+q.key, answers[q.key])
	}
	p.begin(a, it)
}

// A figure at the bed is judged as in the note's form: its own unit may stand behind
// it; another unit, a comma, a limit for a figure, what cannot be, is refused with a
// sentence that says what was expected, and stays in its box.
func TestFiguresAreJudgedAtTheBed(t *testing.T) {
	p, item := atBed(t, "drain", map[string]ledger.Entry{"variety": {Value: "mediastinal"}})
	a := action("read")
	for _, c := range []struct {
		answers   map[string]string
		at, words string
	}{
		{map[string]string{"total": "5"}, "", ""}, {map[string]string{"total": "5 mL"}, "", ""}, {map[string]string{"suction": "-20"}, "", ""}, {map[string]string{"suction": "20 cmH2O"}, "", ""},
		{map[string]string{"total": "5 mmHg"}, "total", "has the unit mmHg; this field is in mL"}, {map[string]string{"total": "0.1 L"}, "total", "100 mL"},
		{map[string]string{"total": "3,500"}, "total", "“3,500” may mean 3.500 or 3500."}, {map[string]string{"total": "<5"}, "total", "“<5” is a limit and not a figure."},
		{map[string]string{"total": "-5"}, "total", "Running total -5 mL is outside what is possible: 0 to 20000 mL."},
		{map[string]string{"total": "99999"}, "total", "outside what is possible"}, {map[string]string{"volume": "5", "minutes": "0"}, "minutes", "1 to 1440 min"},
		{map[string]string{"volume": "5", "minutes": "-10"}, "minutes", "1 to 1440 min"}, {map[string]string{"total": "5", "when": "2560"}, "when", "There is no time"},
		{map[string]string{"total": "five"}, "total", "is not a number"},
	} {
		it := item()
		p.fill(a, it, c.answers)
		got, at, wrong := p.answers(a, it)
		if at != c.at || (c.words == "") != (wrong == "") || !strings.Contains(wrong, c.words) {
			t.Errorf("%v: at %q: %q; want %q at %q", c.answers, at, wrong, c.words, c.at)
		}
		if c.at == "" && got["total"] != "" && got["total"] != "5" {
			t.Errorf("%v: recorded as %v", c.answers, got)
		}
		html := drawn(t, p.form(a, it))
		if v := c.answers[c.at]; c.at != "" && (!strings.Contains(html, `aria-invalid`) || p.S.child.half[a.half(it)+c.at] != v) {
			t.Errorf("%v: the box is not marked, or does not hold what was typed", c.answers)
		}
	}
}

// What is unusual is asked about, and goes through with a reason, which is kept with
// the reading; another figure is asked about anew.
func TestUnusualFigureNeedsAReason(t *testing.T) {
	p, item := atBed(t, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "left-atrial"}})
	a, it := action("pressure"), item()
	p.fill(a, it, map[string]string{"mean": "25", "sure": "read again"}) // said before it was asked
	for _, mean := range []string{"25", "26"} {
		p.S.child.halfTyped(a.half(it)+"mean", mean)
		_, at, wrong := p.answers(a, it)
		if at != "sure" || !strings.Contains(wrong, "Mean "+mean+" mmHg is unusual: 4 to 12 mmHg is usual.") {
			t.Fatalf("%s: at %q: %q", mean, at, wrong)
		}
		if html := drawn(t, p.form(a, it)); !strings.Contains(html, "Read again: Is it right?") {
			t.Error("there is no way to say that it is right")
		}
	}
	p.S.child.halfTyped(a.half(it)+"sure", "read again")
	p.S.child.halfTyped(a.half(it)+"because", "tamponade, surgeon at the bed")
	again := &bedsidePane{S: p.S, Place: p.Place} // the tablet died, and the form is taken up again
	if html := drawn(t, again.form(a, it)); !strings.Contains(html, "Mean 26 mmHg is unusual: 4 to 12 mmHg is usual.") {
		t.Error("what was asked is not there again")
	}
	answers, _, wrong := again.answers(a, it)
	if wrong != "" {
		t.Fatal(wrong)
	}
	p.record("", a.record(p, p.S.child.writer, it, answers)...)
	account := p.S.child.rec.Account()
	if got := account[len(account)-1].Words; !strings.Contains(got, "mean 25 mmHg") && !strings.Contains(got, "mean 26 mmHg") || !strings.Contains(got, "unusual, and right: read again (tamponade, surgeon at the bed)") {
		t.Errorf("the account says %q", got)
	}
}

// A time of day that is still to come was yesterday, and the form says so, with the
// date, before it is kept.
func TestTimeIsShownWithItsDate(t *testing.T) {
	p, item := atBed(t, "drain", nil)
	a, it := action("read"), item()
	for text, want := range map[string]string{"1130": "Today, 14-Jul-2026 11:30", "23:50": "Taken as yesterday, 13-Jul-2026 23:50: 23:50 today is still to come. If it was another day, enter the date before the time.", "": "", "2560": "",
		"12-Jul 22:10": "12-Jul-2026 22:10", "13-Jul-2026 0942": "Yesterday, 13-Jul-2026 09:42", "15-Jul-2026 09:00": ""} {
		p.fill(a, it, map[string]string{"total": "5", "when": text})
		if got := p.S.understood(text); got != want {
			t.Errorf("%q is taken for %q, want %q", text, got, want)
		}
		if html := drawn(t, p.form(a, it)); want != "" && !strings.Contains(html, want) {
			t.Errorf("%q: the form does not show %q", text, want)
		}
	}
}

// What runs in a line of several lumens names the lumen.
func TestWhichLumen(t *testing.T) {
	a := action("runs")
	p, item := atBed(t, "central-venous-line", map[string]ledger.Entry{"variety": {Value: "jugular"}, "lumenCount": ledger.Number("2")})
	it := item()
	p.fill(a, it, map[string]string{"runs": "milrinone"})
	if _, at, wrong := p.answers(a, it); at != "lumen" || wrong != "Say which lumen: it has 2." {
		t.Errorf("two lumens without names: at %q: %q", at, wrong)
	}
	p.fill(a, it, map[string]string{"runs": "milrinone", "lumen": "distal"})
	if _, _, wrong := p.answers(a, it); wrong != "" {
		t.Error(wrong)
	}
	p, item = atBed(t, "central-venous-line", map[string]ledger.Entry{"variety": {Value: "jugular"}})
	c, o := p.S.child, p.S.child.open(p.S.child.rec.Notes()[0].ID)
	list := item().Item.Path("lumens")
	for _, name := range []string{"proximal", "distal"} {
		row := p.S.ids.New()
		c.act(c.writer.AddRow(c.rec, o.id, list, row)...)
		set(p.S, o, schema.RowPath(list, row, "name"), ledger.Entry{Value: name})
	}
	it = item()
	p.fill(a, it, map[string]string{"off": "capped"})
	if _, at, wrong := p.answers(a, it); at != "lumen" || wrong == "" {
		t.Errorf("two named lumens: at %q: %q", at, wrong)
	}
	if html := drawn(t, p.form(a, it)); !strings.Contains(html, "Distal: Which lumen?") {
		t.Error("the lumens are not offered by name")
	}
	p, item = atBed(t, "peripheral-cannula", nil)
	it = item()
	p.fill(a, it, map[string]string{"runs": "maintenance fluid"})
	if _, _, wrong := p.answers(a, it); wrong != "" {
		t.Errorf("one lumen: %q", wrong)
	}
}

// An exchange asks of the old one what a removal asks, and what it left in stays open.
func TestExchangeAsksWhatARemovalAsks(t *testing.T) {
	p, item := atBed(t, "intracardiac-line", map[string]ledger.Entry{"variety": {Value: "left-atrial"}})
	a, it := action("exchange"), item()
	answers := map[string]string{"same": "yes", "complete": "no", "length": "12 cm", "next": "30", "note": "hub broke"}
	for i := range p.asked(it) {
		p.fill(a, it, answers)
		if _, at, wrong := p.answers(a, it); at != "if"+itoa(i) || !strings.HasPrefix(wrong, "Answer first: ") {
			t.Errorf("the condition %d is not asked: at %q: %q", i, at, wrong)
		}
		answers["if"+itoa(i)] = "yes"
	}
	if len(p.asked(it)) == 0 {
		t.Error("nothing speaks against taking the line out without a drain")
	}
	p.fill(a, it, answers)
	if _, at, wrong := p.answers(a, it); at != "tip" {
		t.Errorf("the tip is not asked for: at %q: %q", at, wrong)
	}
	answers["tip"] = "no"
	p.fill(a, it, answers)
	got, _, wrong := p.answers(a, it)
	if wrong != "" {
		t.Fatal(wrong)
	}
	p.record("", a.record(p, p.S.child.writer.Together(), it, got)...)
	r := p.S.child.register()
	if was, in := r.Item(it.ID); !in || was.View.Where != ledger.RemovedPart || len(r.Open) != 1 || r.Open[0].What != lines.ProblemLeftInPart {
		t.Errorf("what was left is not open: in %v, %+v", in, r.Open)
	}
	fresh, ok := r.Item(r.Items[len(r.Items)-1].ID)
	if !ok || fresh.InPlaceOf != it.ID || !fresh.SinceSure || fresh.Item.Text("placed") == "" {
		t.Errorf("the new one: %+v", fresh)
	}
	// A next look that is past by now is refused.
	p.fill(action("out"), it, map[string]string{"complete": "yes", "tip": "yes", "if0": "yes", "if1": "yes", "if2": "yes", "if3": "yes", "when": "10:00", "next": "30"})
	if _, at, wrong := p.answers(action("out"), it); at != "next" || !strings.Contains(wrong, "14-Jul-2026 10:30, which is past") {
		t.Errorf("a next look in the past: at %q: %q", at, wrong)
	}
}
