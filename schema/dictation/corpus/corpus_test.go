package corpus

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

const dir = "../../../testdata/dictation"

// The committed scores are what the reader comes to now: a change of either is
// seen. go run ./schema/dictation/score -write renews them.
func TestScoresAreCurrent(t *testing.T) {
	for _, part := range PartNames {
		t.Run(part, func(t *testing.T) {
			parts, err := Scores(dir, part)
			if err != nil {
				t.Fatal(err)
			}
			var scores, fields bytes.Buffer
			WriteScores(&scores, parts)
			WriteFieldScores(&fields, parts)
			for name, b := range map[string][]byte{"scores.tsv": scores.Bytes(), "fields.tsv": fields.Bytes()} {
				file, err := os.ReadFile(dir + "/" + name)
				if err != nil {
					t.Fatal(err)
				}
				want, got := LinesOf(string(b), part), LinesOf(string(file), part)
				if got != want {
					t.Errorf("%s is not what the reader comes to; run go run ./schema/dictation/score -part %s -write\n%s", name, part, want[:min(len(want), 2000)])
				}
			}
		})
	}
}

func TestFieldListIsCurrent(t *testing.T) {
	var b bytes.Buffer
	WriteFields(&b)
	got, err := os.ReadFile(dir + "/FIELDS.md")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, b.Bytes()) {
		t.Error("FIELDS.md is not current; run go run ./schema/dictation/score -fields > testdata/dictation/FIELDS.md")
	}
}

// The tuned part covers every kind of note and every voice.
func TestTunedCorpusIsWhole(t *testing.T) {
	ds, err := Load(dir + "/tuned")
	if err != nil {
		t.Fatal(err)
	}
	if len(ds) < 100 {
		t.Errorf("%d tuned dictations, want 100", len(ds))
	}
	kinds, voices := map[string]int{}, map[string]int{}
	for _, d := range ds {
		kinds[string(d.Kind)]++
		voices[d.Voice]++
		if len(d.Wants) == 0 {
			t.Errorf("%s wants nothing", d.Name)
		}
	}
	for _, v := range Voices {
		if voices[v] == 0 {
			t.Errorf("no dictation is %s", v)
		}
	}
	if len(kinds) != 9 {
		t.Errorf("kinds: %v", kinds)
	}
}

// The scorer itself: right, wrong, missed, optional, forbidden, half right.
func TestScorer(t *testing.T) {
	file := "kind: stage1\nvoice: terse\n---\nClamp 62 minutes. One mediastinal drain, 12 French. Sats 79. Lactate 4.\n---\n"
	for _, c := range []struct {
		facts                                   string
		right, proposed, met, wanted, falseTold int
	}{
		{"support.clampTotal = 62 min\nleaving.saturation = 79\ngas.lactate = 4\nitem drain: variety=mediastinal size=12", 4, 4, 4, 4, 0},
		{"support.clampTotal = 1.0 h\nleaving.saturation = 79\ngas.lactate = 4\nitem drain: variety=mediastinal size=12", 3, 4, 3, 4, 0},
		{"support.clampTotal ? 62\nleaving.saturation = 79\ngas.lactate = 4\nitem drain: variety=mediastinal", 2, 3, 2, 3, 0},
		{"support.clampTotal = 62\nleaving.saturation = 79\ngas.lactate < 4\nitem drain: variety=mediastinal size=12\nnot gas.lactate = 4", 3, 4, 3, 4, 1},
		{"support.clampTotal = 62\nleaving.saturation = 79\ngas.lactate = 4\nnot item drain: variety=mediastinal", 3, 4, 3, 3, 1},
	} {
		d, err := Parse("x", file+c.facts+"\n")
		if err != nil {
			t.Fatal(err)
		}
		r := Score(d)
		if r.Right != c.right || r.Proposed != c.proposed || r.Met != c.met || r.Wanted != c.wanted || r.False != c.falseTold {
			t.Errorf("%s\ngives %+v\n%s", c.facts, r.Count, strings.Join(r.Misses, "\n"))
		}
	}
	// Both chambers denied deny the kind; of one that is wanted by its name the other is a denial too much.
	wires := "kind: stage1\nvoice: terse\n---\nNo pacing wires.\n---\n"
	for facts, want := range map[string]Count{
		"none item pacing-wires:": {Right: 1, Proposed: 1, Met: 1, Wanted: 1},
		"none item pacing-wires:\n? none item pacing-wires: variety=atrial\n? none item pacing-wires: variety=ventricular": {Right: 1, Proposed: 1, Met: 1, Wanted: 1},
		"none item pacing-wires: variety=atrial\nnone item pacing-wires: variety=ventricular":                              {Right: 2, Proposed: 2, Met: 2, Wanted: 2},
		"none item pacing-wires: variety=atrial\nnot none item pacing-wires: variety=ventricular":                          {Right: 1, Proposed: 2, Met: 1, Wanted: 1, False: 1},
	} {
		d, err := Parse("x", wires+facts+"\n")
		if err != nil {
			t.Fatal(err)
		}
		if r := Score(d); r.Count != want {
			t.Errorf("%s\ngives %+v", facts, r.Count)
		}
	}
	for _, bad := range []string{"support.clampTotal", "no.such = 4", "item drain: variety=spinal", "gas.lactate = many", "row support.clamps: on"} {
		if _, err := Parse("x", file+bad+"\n"); err == nil {
			t.Errorf("%q passes as a fact", bad)
		}
	}
}

func TestDegrade(t *testing.T) {
	for in, want := range map[string]string{
		"Clamp one eighty six, size three and a half, point oh five and two drains.": "Clamp 186, size 3.5, 0.05 and 2 drains.",
	} {
		if got := toFigures(in); got != want {
			t.Errorf("in figures %q, want %q", got, want)
		}
	}
	for in, want := range map[string]string{
		"Clamp 186 at 09:42, 3.5 mm, 0.05.": "Clamp one hundred and eighty six at oh nine forty two, three point five mm, zero point oh five.",
	} {
		if got := toWords(in); got != want {
			t.Errorf("in words %q, want %q", got, want)
		}
	}
	if got := dropPunctuation("Two, 3.5: (four)."); got != "Two 3.5 four" {
		t.Errorf("without punctuation %q", got)
	}
}
