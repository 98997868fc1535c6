package dictation

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"fairlead/schema"
)

// told reads a text and writes each proposal as one word a line: plain fields as
// path=value, rows and items as their list with their values.
func told(kind schema.Kind, text string) []string {
	r := Read(kind, text)
	var out []string
	rows := map[string]int{}
	for _, g := range r.Groups {
		name := string(g.List)
		if g.Kind != "" {
			name = g.Kind
		}
		if g.Denied {
			name = "none " + name
		}
		rows[g.ID] = len(out)
		out = append(out, name)
	}
	for _, p := range r.Proposals {
		v := p.Value + p.Stated
		if p.Sure == Conflict {
			v = strings.Join(p.Other, "|")
		}
		if p.Group == "" {
			out = append(out, string(p.Path)+"="+p.Bound+v)
			continue
		}
		out[rows[p.Group]] += " " + p.Path.Last() + "=" + p.Bound + v
	}
	return out
}

// Two things of one kind listed with their sizes each have their own.
func TestEachHasItsOwnSize(t *testing.T) {
	for text, want := range map[string][]string{
		"Two right pleural drains, a 12 French and a 15 French.": {"drain variety=right-pleural size=12", "drain variety=right-pleural size=15"},
		"Two mediastinal drains, both 15 French.":                {"drain variety=mediastinal size=15", "drain variety=mediastinal size=15"},
		// which side has which was not said
		"Two pleural drains, a 12 and a 15 French.": {"drain variety=right-pleural", "drain variety=left-pleural"},
	} {
		if got := told(schema.Stage1, text); !slices.Equal(got, want) {
			t.Errorf("%s\n got %q\nwant %q", text, got, want)
		}
	}
}

// The word that denies is part of what was understood.
func TestDenialIsUnderstood(t *testing.T) {
	for text, cue := range map[string]string{
		"No left pleural drain.":             "No",
		"Circulatory arrest was not used.":   "was not used",
		"No ventricular wires were placed.":  "No",
		"Right pleural drain 12. No packs.":  "No",
		"Mediastinal drain. Left pleural no": "no",
	} {
		r := Read(schema.Stage1, text)
		for _, n := range r.Narrative() {
			if strings.Contains(n, cue) {
				t.Errorf("%s: %q is left over as not understood: %q", text, cue, r.Narrative())
			}
		}
	}
}

// A lumen is proposed with the drug that runs through it.
func TestLumens(t *testing.T) {
	for text, want := range map[string][]string{
		"Right jugular line. Milrinone 0.5 through the proximal lumen of the right jugular line, adrenaline 0.05 through the distal.": {
			"item=central-venous-line/jugular/right lumen=proximal", "item=central-venous-line/jugular/right lumen=distal"},
		"Right internal jugular double lumen. Adrenaline 0.05 through the proximal lumen.":                      {"item=central-venous-line/jugular/right", "lumen=proximal"},
		"Milrinone point five proximal, adrenaline point oh eight distal, both through the right femoral line.": {"drug=milrinone", "lumen=proximal", "drug=adrenaline", "lumen=distal"},
	} {
		got := strings.Join(told(schema.Stage1, text), "\n")
		for _, w := range want {
			for _, part := range strings.Fields(w) {
				if !strings.Contains(got, part) {
					t.Errorf("%s\n got %s\nwant %s in it", text, got, part)
				}
			}
		}
	}
}

// Commas in figures mean what the form takes them for (handover/calc, Box.Read):
// a decimal comma is read, thousands or three places are for a person, more than
// one comma is no number.
func TestCommasAsTheFormReadsThem(t *testing.T) {
	for text, want := range map[string][]string{
		"Weight 3,5 kg.":         {"measures.weight=3.5"},
		"Weight 3,25 kg.":        {"measures.weight=3.25"},
		"Lactate 1,200.":         {"gas.lactate=1.2"}, // 1200 cannot be
		"Urine output 1,200 mL.": nil,                 // 1.2 or 1200
		"Urine output 1,2,3 mL.": nil,
	} {
		if got := told(schema.Stage1, text); !slices.Equal(got, want) {
			t.Errorf("%s\n got %q\nwant %q", text, got, want)
		}
	}
	if r := Read(schema.Stage1, "Lactate 1,200."); len(r.Proposals) != 1 || r.Proposals[0].Sure != Check {
		t.Error("a comma that may stand between thousands is not marked to be looked at")
	}
}

// What was said first and taken back, told of another time or child, or only meant
// to be, is not claimed. The sentences are invented; how people talk so is common
// practice, no source.
func TestMakesNoFalseClaim(t *testing.T) {
	for _, c := range []struct {
		kind      schema.Kind
		text      string
		want, not string // in the lines, each on its own; not: nowhere
	}{
		{schema.Stage1, "The chest is closed. No, of course it isn't, we tried closing and the pressure fell, so it is open with a membrane on.", "closing.sternum=open", "sternum=closed"},
		{schema.Stage1, "Sternum closed with wires. Actually no, I reopened it before leaving; it is open.", "", "sternum=closed"},
		{schema.SupportOn, "Flow is a hundred and twenty, now a hundred and forty per kilo. Sweep was one, now nought point seven.", "mechanical.sweep=0.7", "=120"},
		{schema.Stage1, "Nitric five, or ten, it is ten now.", "ventilation.nitricOxide=10", "nitricOxide=5"},
		{schema.Stage1, "Circulatory arrest I said eleven, the perfusionist has fourteen, go with fourteen.", "support.arrestTotal=14", "=11"},
		{schema.Stage1, "I had written arrest seven minutes but that was the previous patient, there was none in this child.", "", "=7"},
		{schema.Stage1, "I told the team the sats were eighty five but the gas said 79, take seventy nine.", "", "=85"},
		{schema.Stage1, "The clamp was on for eighty minutes, no hang on, eighty is the head perfusion. Clamp was sixty six.", "support.clampTotal=66", "clampTotal=80"},
		{schema.Stage1, "She has a right atrial line and, no, it's a common atrial line.", "intracardiac-line variety=common-atrial", "right-atrial"},
		{schema.Stage1, "Packs one, no, none.", "none left-on-purpose variety=packs", "count=1"},
		{schema.Reexploration, "Right pleural, no drain. Left pleural, a twelve.", "none drain variety=right-pleural", "size=12 right"},
		{schema.Reexploration, "Pleural drains, right ten French on gravity, left none.", "none drain variety=left-pleural", "\ndrain variety=left-pleural"},
		{schema.Reexploration, "Diaphragm right plicated, two weeks ago, not now.", "", "plication=right"},
		{schema.Closure, "The sternum could not be brought together: the mean dropped from forty nine to thirty three and the saturation to fifty eight.", "", "leaving.saturation"},
		{schema.ShuntRevision, "A three and a half shunt came out and a four went in.", "", "3.5"},
		{schema.Stage1, "Norwood with a BT shunt, three and a half. The cousin had a five Sano by the way.", "", "conduitDiameter"},
		{schema.Stage1, "Her sister had a hybrid with 3.5 bands. Here a Norwood.", "", "hybrid"},
		{schema.Stage2, "Took the azygos, no, left the azygos, no I did ligate it.", "", "azygos=left-open"},
		{schema.Stage3, "Not fenestrated, wait, yes it was in the end, four millimetres and open.", "", "fenestration=none"},
		{schema.Stage1, "Weight three point two, no that was birth weight, three point six today.", "", "weight=3.2"},
		{schema.Stage1, "Nurse asked about a Foley, there isn't one.", "", "\ngut-and-bladder"},
		{schema.Stage1, "The anaesthetist reckons the left atrial pressure is twelve but the line is not zeroed.", "", "=12"},
		{schema.Stage1, "Right radial art line, not the left, the left was lost.", "arterial-line side=right variety=radial", "none arterial-line"},
		{schema.SupportOff, "Total run, seventy two hours, well, seventy four.", "", "=72"},
		{schema.Stage1, "Sinus rhythm, well, it was junctional until we warmed up, sinus now.", "leaving.rhythm=sinus", "rhythm=junctional"},
		{schema.Stage1, "There was a left radial from the ward that is out.", "", "arterial-line"},
	} {
		got := "\n" + strings.Join(told(c.kind, c.text), "\n") + "\n"
		if c.want != "" && !strings.Contains(got, "\n"+c.want+"\n") && !strings.Contains(got, "\n"+c.want+" ") {
			t.Errorf("%s\n got %s\nwant %s", c.text, got, c.want)
		}
		if strings.Contains(got, c.not) {
			t.Errorf("%s\n got %s\nwhich claims %q", c.text, got, c.not)
		}
	}
}

// A text is read after each of its words, whatever stands last. The time is that of all
// words of all texts: here every twentieth text is taken, in the soak each.
func TestEveryBeginningIsRead(t *testing.T) {
	all, step := texts(t), 20
	if os.Getenv("FAIRLEAD_SOAK") != "" {
		step = 1
	}
	for i, text := range slices.Sorted(maps.Keys(all)) {
		if i%step != 0 {
			continue
		}
		r := Read(all[text], "")
		at := 0
		for _, w := range strings.SplitAfter(text, " ") {
			at += len(w)
			r.Update(text[:at]) // does not panic
		}
		hold(t, r)
	}
}

// Found by a cold trial: an exception, a salt left unsaid, times round midnight.
func TestTrialFindings(t *testing.T) {
	sure := func(text string, path schema.Path) Sure {
		for _, p := range Read(schema.Stage1, text).Proposals {
			if p.Path.Last() == path.Last() {
				return p.Sure
			}
		}
		return ""
	}
	if s := sure("Swab count is correct except the two packs.", schema.CountsSwabs); s == Certain {
		t.Error("a count with an exception is taken as sure")
	}
	if s := sure("Swab count is correct.", schema.CountsSwabs); s != Certain {
		t.Errorf("a plain count is %q", s)
	}
	drug := schema.RowPath(schema.InfusionsRunning, "*", "drug")
	if s := sure("Calcium at ten mg per kilo per hour.", drug); s == Certain {
		t.Error("calcium without its salt is taken as sure")
	}
	if s := sure("Calcium chloride at ten mg per kilo per hour.", drug); s != Certain {
		t.Errorf("calcium chloride is %q", s)
	}
	for text, want := range map[string]string{
		"Arrest from 23:50 to five past midnight.":          "support.arrests on=23:50 off=00:05",
		"Arrest from ten to midnight to five past midnight": "support.arrests on=23:50 off=00:05",
		"Bypass on at eleven fifty, off at ten past noon.":  "support.runs on=11:50 off=12:10",
		"Bypass on at 23:10, off at oh two twenty.":         "support.runs on=23:10 off=02:20",
	} {
		if got := told(schema.Stage1, text); !slices.Contains(got, want) {
			t.Errorf("%s\n got %q\nwant %q", text, got, want)
		}
	}
}
