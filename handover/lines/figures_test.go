package lines

import (
	"strings"
	"testing"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// What a figure at the bed can be is what ranges.md says of the same figure in the
// note (suction 0 to 60 cmH2O, usually 5 to 20; threshold 0.1 to 25 mA, usually 0.3 to
// 5; rate 30 to 250, usually 120 to 170 after stage 1; mean arterial 5 to 180 mmHg,
// usually 38 to 55; atrial -5 to 40, usually 4 to 12; loss from a drain up to 500
// mL/kg): from memory, as written there. Minutes, next look and length: common
// practice, no source. One figure just inside and one outside each bound.
func TestFiguresAtTheBed(t *testing.T) {
	b := newBed(t)
	b.do(b.w.Set(b.rec, b.note, schema.MeasuresWeight, ledger.Number("3")))
	ids := map[string]ledger.ItemID{
		"drain": b.list("drain", "mediastinal"), "wires": b.list("pacing-wires", "ventricular"), "heart": b.list("intracardiac-line", "left-atrial"),
		"artery": b.list("arterial-line", "radial"), "chamber": b.list("drain-chamber", ""), "side": b.list("drain", "right-pleural"), "noted": b.list("drain", "left-pleural", "output=40"), "vein": b.list("central-venous-line", "jugular"),
	}
	b.do(b.at(t, "15:00").ReadOutput(ids["drain"], ledger.Output{Total: "20"}))
	r := b.register(t, settings(t), "2026-07-14T18:00+00:00")
	for _, c := range []struct {
		item    string
		figures map[string]float64
		words   string // "" for no doubt; begins with ? for a question
	}{
		{"drain", map[string]float64{"suction": 20}, ""}, {"drain", map[string]float64{"suction": 21}, "?Suction 21 cmH2O is unusual: 5 to 20 cmH2O is usual."},
		{"drain", map[string]float64{"suction": 61}, "Suction 61 cmH2O is outside what is possible: 0 to 60 cmH2O."},
		{"drain", map[string]float64{"total": -1}, "Running total -1 mL is outside what is possible: 0 to 20000 mL."},
		{"drain", map[string]float64{"total": 50}, ""}, // 30 mL since, 10 mL/kg
		{"drain", map[string]float64{"total": 51}, "?31 mL since 14-Jul-2026 15:00, in 3 h, 10.3 mL per kg, is unusual: 0 to 10 mL per kg is usual."},
		{"drain", map[string]float64{"total": 1521}, "1501 mL since 14-Jul-2026 15:00, in 3 h, 500.3 mL per kg, is outside what is possible"},
		{"side", map[string]float64{"total": 30}, ""}, {"side", map[string]float64{"total": 31}, "?31 mL so far, over a time that is not known, 10.3 mL per kg,"},
		{"noted", map[string]float64{"total": 70}, ""}, {"noted", map[string]float64{"total": 71}, "?31 mL since the note, in 3 h 45 min, 10.3 mL per kg,"},
		{"drain", map[string]float64{"volume": 30, "minutes": 180}, ""}, {"drain", map[string]float64{"volume": 31, "minutes": 60}, "?31 mL, in 1 h, 10.3 mL per kg, is unusual"},
		{"drain", map[string]float64{"volume": -5, "minutes": 60}, "Volume -5 mL is outside"},
		{"drain", map[string]float64{"volume": 5, "minutes": 0}, "Minutes 0 min is outside what is possible: 1 to 1440 min."},
		{"drain", map[string]float64{"volume": 5, "minutes": -10}, "Minutes -10 min is outside"}, {"drain", map[string]float64{"volume": 5, "minutes": 1440}, ""},
		{"drain", map[string]float64{"length": -3}, "Length -3 cm is outside what is possible: 0.5 to 150 cm."}, {"drain", map[string]float64{"length": 0.5}, ""},
		{"drain", map[string]float64{"next": 2881}, "Next look 2881 min is outside what is possible: 1 to 2880 min."}, {"drain", map[string]float64{"next": 30}, ""},
		{"chamber", map[string]float64{"total": 5001}, "Running total 5001 mL is outside what is possible: 0 to 5000 mL."},
		{"wires", map[string]float64{"threshold": 5, "sensing": 3, "rate": 120, "delay": 80, "output": 10, "sense": 2}, ""},
		{"wires", map[string]float64{"threshold": 5.1}, "?Threshold 5.1 mA is unusual"}, {"wires", map[string]float64{"threshold": 26}, "Threshold 26 mA is outside what is possible: 0.1 to 25 mA."},
		{"wires", map[string]float64{"rate": 251}, "is outside what is possible: 30 to 250 per minute."}, {"wires", map[string]float64{"output": 26}, "Output of the box 26 mA is outside"},
		{"wires", map[string]float64{"sensing": 2.9}, "?Sensing 2.9 mV is unusual: 3 to 15 mV is usual."}, {"wires", map[string]float64{"sense": 0}, "Sensitivity of the box 0 mV is outside"},
		{"heart", map[string]float64{"mean": 12}, ""}, {"heart", map[string]float64{"mean": 13}, "?Mean 13 mmHg is unusual: 4 to 12 mmHg is usual."},
		{"heart", map[string]float64{"mean": 41}, "Mean 41 mmHg is outside what is possible: -5 to 40 mmHg."}, {"heart", map[string]float64{"mean": -6}, "Mean -6 mmHg is outside"},
		{"artery", map[string]float64{"mean": 45, "systolic": 65, "diastolic": 35}, ""},
		{"artery", map[string]float64{"mean": 99999}, "Mean 99999 mmHg is outside what is possible: 5 to 180 mmHg."},
		{"artery", map[string]float64{"systolic": 30, "diastolic": 40}, "The systolic pressure is below the diastolic."},
		{"artery", map[string]float64{"mean": 50, "systolic": 49}, "The mean pressure does not lie between"}, {"artery", map[string]float64{"mean": 38, "diastolic": 39}, "The mean pressure does not lie between"},
	} {
		it, _ := r.Item(ids[c.item])
		ds := r.Doubts(it, c.figures, r.At)
		want, ask := strings.CutPrefix(c.words, "?")
		switch {
		case want == "" && len(ds) > 0:
			t.Errorf("%s %v: %q", c.item, c.figures, ds[0].Words())
		case want == "":
		case len(ds) == 0 || !strings.Contains(ds[0].What, want) || ds[0].Ask != ask || ds[0].Do == "":
			t.Errorf("%s %v: %+v; want %q, asked %v", c.item, c.figures, ds, want, ask)
		}
	}
	// An atrial line has no systolic pressure to ask for.
	if it, _ := r.Item(ids["heart"]); Figure(r.Stage, it.Item, "systolic") != nil || Figure(r.Stage, it.Item, "threshold") != nil {
		t.Error("an atrial line is asked for a systolic pressure or a threshold")
	}
	// After stage 2 a neck line measures lung-artery pressure: 9 to 17 mmHg is usual.
	r.Stage = schema.Stage2
	if it, _ := r.Item(ids["vein"]); len(r.Doubts(it, map[string]float64{"mean": 14}, r.At)) != 0 || len(r.Doubts(it, map[string]float64{"mean": 8}, r.At)) != 1 {
		t.Error("a neck line after stage 2 is not held against the Glenn pressure")
	}
	now := moment(t, "2026-07-14T18:00+00:00")
	if NextLook(moment(t, "2026-07-14T18:01+00:00"), now) != "" || !strings.Contains(NextLook(now, now), "which is past") {
		t.Error("a next look in the past")
	}
}

// A figure that differs at the bed is judged as the note judges it (ranges.md, from
// memory): a tracheal tube lies at 5 to 26 cm, after stage 1 usually at 8 to 10.5 by the
// mouth; 95 cm is 9.5 cm in millimetres, and 4.9 inches
// are 4.9 x 2.54 = 12.446 cm. One figure just inside and one outside each
// bound; where the kind of operation has nothing that is usual, nothing is asked.
func TestAttributeAtTheBed(t *testing.T) {
	b := newBed(t)
	tube, line := b.list("airway", "oral-tube", "depth=10"), b.list("intracardiac-line", "left-atrial")
	for _, c := range []struct {
		stage schema.Kind
		id    ledger.ItemID
		field string
		v     float64
		words string // begins with ? for a question; "" for nothing to say
	}{
		{schema.Stage1, tube, "depth", 9.5, ""}, {schema.Stage1, tube, "depth", 8, ""}, {schema.Stage1, tube, "depth", 10.5, ""},
		{schema.Stage1, tube, "depth", 95, "Depth 95 cm is outside what is possible: 5 to 26 cm. Check the figure. If 95 was in mm, type 9.5 cm."},
		{schema.Stage1, tube, "depth", 26, "?Depth 26 cm is unusual: 8 to 10.5 cm is usual. Is it right?"},
		{schema.Stage1, tube, "depth", 10.6, "?Depth 10.6 cm is unusual: 8 to 10.5 cm is usual. Is it right?"},
		{schema.Stage1, tube, "depth", 4.9, "Depth 4.9 cm is outside what is possible: 5 to 26 cm. Check the figure. If 4.9 was in inches, type 12.45 cm."},
		{schema.Stage3, tube, "depth", 12.5, ""}, {schema.Closure, tube, "depth", 26, ""}, {schema.Stage1, tube, "variety", 3, ""},
		{schema.Stage1, line, "mark", 4, ""}, {schema.Stage1, line, "mark", 3.9, "?Mark at the skin 3.9 cm is unusual: 4 to 20 cm is usual. Is it right?"},
	} {
		it, _ := b.rec.Child().Item(string(c.id))
		d, ok := AttributeDoubt(c.stage, it, c.field, c.v)
		want, ask := strings.CutPrefix(c.words, "?")
		if ok != (want != "") || ok && (d.Words() != want || d.Ask != ask) {
			t.Errorf("%s, %s %v: %q (ask %v), want %q", c.stage, c.field, c.v, d.Words(), d.Ask, c.words)
		}
	}
}
