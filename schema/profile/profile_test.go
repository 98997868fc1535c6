package profile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fairlead/schema/outside"

	"github.com/xeipuuv/gojsonschema"
)

const by, at = "Dr Invented Example", "2026-07-14T09:42+01:00"

// Every published figure waits for a named person, and every empty entry says
// that it is empty on purpose.
func TestDefaultIsInactive(t *testing.T) {
	p := Default()
	if len(p.entries) < 70 {
		t.Fatalf("only %d entries", len(p.entries))
	}
	for _, e := range p.Entries() {
		if e.Active != nil || len(e.History) > 0 {
			t.Errorf("%s is shipped as activated", e.ID)
		}
		if e.Effect.NeedsActivation() && e.InForce() {
			t.Errorf("%s is in force without a person", e.ID)
		}
		if e.HasValue() == (e.Empty != "") {
			t.Errorf("%s: a value and a reason to be empty exclude each other", e.ID)
		}
		if e.HasValue() && (e.Source == "" || e.Mark == "") {
			t.Errorf("%s names no source", e.ID)
		}
		if e.Mark == "M" && e.Effect == Dosing {
			t.Errorf("%s: a dose from memory is shipped", e.ID)
		}
	}
	if len(p.Doses()) != 0 || len(p.DrainRules()) != 0 {
		t.Error("doses or drain rules are in force in the default")
	}
	if _, _, ok := p.Number(ArrestFlag); ok {
		t.Error("the arrest flag is in force in the default")
	}
	if f, _, ok := p.Choice(SurfaceFormula); !ok || f != "mosteller" {
		t.Error("no surface formula")
	}
}

// What no part of the program reads says so where it is set: nobody activates a limit
// in the belief that it now holds.
func TestUnreadEntriesSaySo(t *testing.T) {
	read := ""
	for _, dir := range []string{"../../app", "../../handover", "../../schema", "../../wasm"} {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, "profile/profile.go") {
				return err
			}
			data, err := os.ReadFile(path)
			read += string(data)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	names, err := os.ReadFile("profile.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range Default().Entries() {
		switch id := string(e.ID); {
		case strings.HasPrefix(id, DwellPrefix), strings.HasPrefix(id, RemovalPrefix), strings.HasPrefix(id, DrainRulePrefix), e.Effect == Dosing, e.ID == GrowthStandard:
			continue // read as a group; of the growth standards there is one
		}
		m := regexp.MustCompile(`(?m)^\t(\w+) +ID = "` + regexp.QuoteMeta(string(e.ID)) + `"`).FindSubmatch(names)
		used := strings.Contains(read, `"`+string(e.ID)+`"`)
		if m != nil {
			used = used || strings.Contains(read, "profile."+string(m[1]))
		}
		if says := strings.Contains(e.Comment, "works nothing out from it"); says == used && !strings.HasPrefix(string(e.ID), "between.") {
			t.Errorf("%s is read: %v, and says that it is not: %v", e.ID, used, says)
		}
	}
}

// The published figures the default holds, each with its source (references.md).
func TestPublishedValues(t *testing.T) {
	p, faults := Default().ActivateAll(by, at)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for id, want := range map[ID]string{
		ArrestFlag: "41", OxygenBinding: "1.34", OxygenDissolved: "0.003", OxygenThreshold: "[260, 300]", ScoreHigh: "20", HypothermiaClasses: "[14, 20, 28, 34]",
		OutletTemperature: "37", OutletGradient: "10", WarmFrom: "30", WarmGradient: "4", WarmRate: "0.5", ProlongedEffusion: "14",
		"dwell.arterial-line.umbilical-arterial": "5", "dwell.central-venous-line.umbilical-venous": "14", BetweenSaturation: "[75, 90]", BetweenLoss: "30", BetweenGain: "20", BetweenDays: "3", BetweenIntake: "100",
		ScoreDrugs:        `{"dopamine": 1, "dobutamine": 1, "adrenaline": 100, "noradrenaline": 100, "milrinone": 10, "vasopressin": 10000}`,
		"drain.rule.hour": `{"perKg": 10, "hours": 1, "times": 1, "within": 12}`, "drain.rule.three-hours": `{"perKg": 5, "hours": 1, "times": 3, "within": 12}`,
		"drain.rule.two-hours": `{"perKg": 7, "hours": 1, "times": 2, "within": 12}`, "drain.rule.day": `{"perKg": 84, "hours": 24, "times": 1}`,
	} {
		e, ok := p.Entry(id)
		if !ok || string(e.Value) != want || !e.InForce() {
			t.Errorf("%s holds %s, published %s", id, e.Value, want)
		}
		outside.Check(t, e.Basis())
	}
}

func TestActivateChangeDeactivate(t *testing.T) {
	p, faults := Default().Activate(ArrestFlag, by, at)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if v, e, ok := p.Number(ArrestFlag); !ok || v != 41 || e.Active.By != by {
		t.Fatalf("got %v %v", v, ok)
	}
	if _, _, ok := Default().Number(ArrestFlag); ok {
		t.Fatal("the default itself was changed")
	}
	q, faults := p.Change(ArrestFlag, []byte("35"), "Unit meeting", by, at, "we flag earlier")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	e, _ := q.Entry(ArrestFlag)
	if e.InForce() || e.Mark != "U" || len(e.History) != 2 || string(e.History[1].Was) != "41" {
		t.Fatalf("after a change the entry must wait again and keep what it was: %+v", e)
	}
	if _, faults := q.Change(ArrestFlag, []byte("4100"), "x", by, at, ""); len(faults) == 0 {
		t.Fatal("an absurd value was accepted")
	}
	if _, faults := q.Activate("emergency.fluid", by, at); len(faults) == 0 {
		t.Fatal("an empty dose was activated")
	}
	if _, faults := p.Activate("arrest.flag", by, at); len(faults) == 0 {
		t.Fatal("an unknown entry was activated")
	}
	if _, faults := p.Activate("emergency.amiodarone", " ", at); len(faults) == 0 {
		t.Fatal("a dose was activated by nobody")
	}
	r, faults := p.Deactivate(ArrestFlag, by, at, "under discussion")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if _, _, ok := r.Number(ArrestFlag); ok {
		t.Fatal("still in force")
	}
	back, faults := Load(q.JSON())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if !bytes.Equal(back.JSON(), q.JSON()) {
		t.Fatal("a profile does not survive being written and read")
	}
}

func TestAccessors(t *testing.T) {
	p, faults := Default().ActivateAll(by, at)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if n := len(p.Doses()); n != 6 {
		t.Errorf("%d doses", n)
	}
	if n := len(p.DrainRules()); n != 4 {
		t.Errorf("%d drain rules", n)
	}
	if d, _, ok := p.Dwell("central-venous-line", "umbilical-venous"); !ok || d != 14 {
		t.Errorf("umbilical vein: %v %v", d, ok)
	}
	if _, _, ok := p.Dwell("drain", ""); ok {
		t.Error("an empty dwell limit answered")
	}
	if lo, hi, _, ok := p.Range(BetweenSaturation); !ok || lo != 75 || hi != 90 {
		t.Error("between stages")
	}
	if c, _, ok := p.Removal("intracardiac-line"); !ok || len(c) != 7 {
		t.Error("removal conditions")
	}
	if _, ok := p.Wording(CardCaution); !ok {
		t.Error("caution")
	}
	q, faults := p.Change(BloodVolume, []byte(`[{"under":10,"value":85},{"value":75}]`), "Unit table", by, at, "")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for kg, want := range map[float64]float64{3.2: 85, 9.99: 85, 10: 75, 60: 75} {
		if v, _, ok := q.ForWeight(BloodVolume, kg); !ok || v != want {
			t.Errorf("%v kg: %v", kg, v)
		}
	}
	q, faults = p.Change(SaturationTargets, []byte(`{"stage1":[75,85]}`), "Unit", by, at, "")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	q, _ = q.Activate(SaturationTargets, by, at)
	if lo, hi, _, ok := q.ForStage(SaturationTargets, "stage1"); !ok || lo != 75 || hi != 85 {
		t.Error("targets by stage")
	}
	if _, _, _, ok := q.ForStage(SaturationTargets, "stage2"); ok {
		t.Error("a target nobody set")
	}
	var none *Profile
	if _, _, ok := none.Number(ArrestFlag); ok {
		t.Error("a missing profile answered")
	}
}

// A file is refused whole and every fault is named.
func TestFaults(t *testing.T) {
	good := string(Default().JSON())
	edit := func(pairs ...string) []byte {
		s := good
		for i := 0; i < len(pairs); i += 2 {
			if !strings.Contains(s, pairs[i]) {
				t.Fatalf("nothing to edit: %s", pairs[i])
			}
			s = strings.Replace(s, pairs[i], pairs[i+1], 1)
		}
		return []byte(s)
	}
	for name, c := range map[string]struct {
		data []byte
		n    int
		says string
	}{
		"empty":           {nil, 1, "empty"},
		"cut short":       {[]byte(good[:len(good)/2]), 1, "cut short"},
		"not JSON":        {[]byte("{\n\"format\": fairlead}"), 1, "near line 2"},
		"not an object":   {[]byte("[1,2]"), 1, "object"},
		"another program": {[]byte(`{"resourceType":"Patient"}`), 1, "not a unit profile"},
		"newer":           {edit("fairlead-profile/1", "fairlead-profile/2"), 1, "Update the program"},
		"encoding":        {[]byte("{\"format\":\"\xff\xfe\"}"), 1, "UTF-8"},
		"too large":       {bytes.Repeat([]byte(" "), MaxBytes+1), 1, "at most"},
		"misspelt entry":  {edit(`"arrest.flag-minutes"`, `"arrest.flag-minute"`), 1, `Did you mean "arrest.flag-minutes"`},
		"misspelt word":   {edit(`"comment": "Adult`, `"coment": "Adult`), 1, `"coment" is not a word`},
		"twice":           {edit(`"id": "score.high"`, `"id": "arrest.flag-minutes"`), 2, "twice"},
		"three faults":    {edit(`"value": 41`, `"value": "41"`, `"value": 1.34`, `"value": 13.4`, `"mosteller",`+"\n      \"mark\"", `"mostella",`+"\n      \"mark\""), 3, "not one of the choices"},
		"no source":       {edit(`"source": "Yan 2013, consensus on classification of hypothermia, second-hand",`, ``), 1, "names no source"},
		"activated by no one": {edit(`"value": 41,`, `"value": 41, "active": {"by": "", "at": "2026-07-14"},`), 1,
			"active.by"},
		"drain rule":  {edit(`"perKg": 84`, `"perKg": -84`), 1, "not above 0"},
		"falling":     {edit("14,\n        20", "20,\n        14"), 1, "do not rise"},
		"wrong unit":  {edit(`"ucum": "min",`, `"ucum": "h",`), 1, "kept in"},
		"dose unit":   {edit(`"unit": "mg"`, `"unit": "mcg"`), 2, "not a unit a dose is set in"},
		"other shape": {edit(`"shape": "dose"`, `"shape": "number"`), 1, "as shipped"},
		"no reason":   {edit(`"empty": "Set by the unit."`, `"comment": ""`), 1, "does not say why"},
		"extra entry": {edit(`"entries": [`, `"entries": [{"id":"colour.of-walls","group":"g","title":"t","effect":"words","shape":"words","value":"x","source":"s","mark":"U"},`), 1, "No entry is called"},
		// A concentration named otherwise than it is computed with is a tenfold slip on
		// the card: 1 mg/mL beside 0.1 mg for each mL.
		"named tenfold":       {edit(`"named": "0.1 mg/mL"`, `"named": "1 mg/mL"`), 1, "which is 1 mg in each mL, and the amount is 0.1"},
		"named in micrograms": {edit(`"named": "0.1 mg/mL"`, `"named": "1 in 1000 (1000 mcg/mL)"`), 1, "which is 1 mg in each mL"},
		"value twice":         {edit(`"value": 41,`, `"value": 41, "value": 60,`), 1, `"value" stands twice`},
		"entries twice":       {edit(`"entries": [`, `"entries": [], "entries": [`), 1, `"entries" stands twice`},
		"no such day":         {edit(`"value": 41,`, `"value": 41, "active": {"by": "Dr Invented Example", "at": "2026-13-45"},`), 1, "not a date"},
		"empty amount":        {edit(`"amount": 0.1`, `"amount": 0`), 1, "above 0"},
	} {
		p, faults := Load(c.data)
		if p != nil || len(faults) != c.n || !strings.Contains(fmt.Sprint(faults), c.says) {
			t.Errorf("%s: %d faults, want %d with %q:\n%v", name, len(faults), c.n, c.says, faults)
		}
		for _, f := range faults {
			if f.What == "" || f.Do == "" || f.Place == "" {
				t.Errorf("%s: a fault without words: %+v", name, f)
			}
		}
	}
	if p, faults := Load(edit(`"named": "0.1 mg/mL"`, `"named": "1 in 10 000 (100 micrograms/mL)"`)); p == nil {
		t.Errorf("0.1 mg/mL in other words: %v", faults)
	}
	if p, faults := Load(append([]byte("\xef\xbb\xbf"), good...)); p == nil {
		t.Errorf("a byte order mark: %v", faults)
	}
}

// A unit's file may hold only what it sets; the rest is lent, inactive, and named.
func TestAdditionsAndGaps(t *testing.T) {
	p, faults := Load([]byte(`{"format":"fairlead-profile/1","title":"Short","unit":"Invented unit","entries":[
	 {"id":"emergency.magnesium","group":"Emergency card","title":"Magnesium sulfate","effect":"dose","shape":"dose","mark":"U","source":"Unit protocol, invented",
	  "value":{"unit":"mg","routes":["intravenous"],"steps":[{"perKg":25,"to":50,"max":2000}]},"active":{"by":"Dr Invented Example","at":"2026-07-14"}},
	 {"id":"dwell.dialysis-catheter","group":"Days in","title":"Dialysis catheter","effect":"limit","shape":"number","mark":"U","source":"Unit","value":7}]}`))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if len(p.Added()) != len(Default().entries) {
		t.Errorf("%d entries lent", len(p.Added()))
	}
	if d := p.Doses(); len(d) != 1 || d[0].Entry.ID != "emergency.magnesium" || d[0].Shown != "mg" {
		t.Errorf("%+v", d)
	}
	if again, faults := Load(p.JSON()); len(faults) > 0 || len(again.Added()) != 0 {
		t.Errorf("writing a profile out makes it whole: %v", faults)
	}
}

// A unit adds a dose of its own by name: empty first, then set, then activated; it
// survives a file, and can be taken off again. What ships cannot.
func TestAddAndDrop(t *testing.T) {
	p, id, faults := Default().Add(EmergencyPrefix, " Magnesium sulfate ", by, at)
	if len(faults) > 0 || id != "emergency.magnesium-sulfate" {
		t.Fatal(id, faults)
	}
	e, _ := p.Entry(id)
	if e.Title != "Magnesium sulfate" || e.Group != "Emergency card" || e.HasValue() || len(p.EmptyDoses()) != len(Default().EmptyDoses())+1 || e.History[0].By != by {
		t.Errorf("%+v", e)
	}
	p, faults = p.Change(id, []byte(`{"unit":"mg","routes":["intravenous"],"steps":[{"perKg":25,"max":2000}]}`), "Unit protocol, invented", by, at, "")
	if len(faults) > 0 || len(p.Doses()) != 0 {
		t.Fatal(faults)
	}
	if p, faults = p.Activate(id, by, at); len(faults) > 0 || len(p.Doses()) != 1 {
		t.Fatal(faults)
	}
	again, faults := Load(p.JSON())
	if len(faults) > 0 || len(again.Doses()) != 1 || !again.Own(id) {
		t.Errorf("%v", faults)
	}
	for name, c := range map[string][2]string{"again": {EmergencyPrefix, "magnesium  SULFATE"}, "nameless": {EmergencyPrefix, " - "}, "another group": {"score.", "x"}} {
		c[1] = strings.ReplaceAll(c[1], "  ", " ")
		if q, _, faults := p.Add(c[0], c[1], by, at); q != nil || len(faults) != 1 || faults[0].What == "" || faults[0].Do == "" {
			t.Errorf("%s: %v", name, faults)
		}
	}
	if q, faults := p.Drop(id); len(faults) > 0 || len(q.Doses()) != 0 || len(q.Entries()) != len(Default().Entries()) {
		t.Errorf("%v", faults)
	}
	if _, faults := p.Drop("emergency.adrenaline"); len(faults) != 1 {
		t.Error("an entry that ships was taken off")
	}
}

// A unit limits the days in of a variety that has no entry, and writes conditions
// for a kind that has none.
func TestAnItemsOwnEntryIsAdded(t *testing.T) {
	const by, at = "B. Invented", "2026-07-01T09:00+01:00"
	p, days, faults := Default().AddFor(DwellPrefix, "central-venous-line", "femoral", "Femoral line, review after", by, at)
	if len(faults) > 0 || days != "dwell.central-venous-line.femoral" {
		t.Fatal(days, faults)
	}
	if _, faults := p.Change(days, []byte("0"), "Invented unit", by, at, ""); len(faults) != 1 {
		t.Errorf("no days at all: %v", faults)
	}
	p, faults = p.Change(days, []byte("5"), "Invented unit", by, at, "")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	p, list, faults := p.AddFor(RemovalPrefix, "arterial-line", "", "Before it comes out: arterial line", by, at)
	if len(faults) > 0 || list != "removal.arterial-line" {
		t.Fatal(list, faults)
	}
	if p, faults = p.Change(list, []byte(`["Heparin off"]`), "Invented unit", by, at, ""); len(faults) > 0 {
		t.Fatal(faults)
	}
	if p, faults = p.ActivateAll(by, at); len(faults) > 0 {
		t.Fatal(faults)
	}
	p, faults = Load(p.JSON())
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if d, e, ok := p.Dwell("central-venous-line", "femoral"); !ok || d != 5 || e.UCUM != "d" || e.Group != "Days in" {
		t.Errorf("%v %+v %v", d, e, ok)
	}
	if c, e, ok := p.Removal("arterial-line"); !ok || len(c) != 1 || e.Group != "Removal" {
		t.Errorf("%v %+v %v", c, e, ok)
	}
	if q, _, faults := p.AddFor(DwellPrefix, "central-venous-line", "femoral", "Femoral line", by, at); q != nil || len(faults) != 1 {
		t.Errorf("added twice: %v", faults)
	}
}

// The schema and the program agree: what the schema refuses, Load refuses, over
// the shipped file and mutations of it; and the schema accepts the shipped file.
func TestSchemaAgrees(t *testing.T) {
	compiled, err := gojsonschema.NewSchema(gojsonschema.NewBytesLoader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	valid := func(data []byte) bool {
		r, err := compiled.Validate(gojsonschema.NewBytesLoader(data))
		return err == nil && r.Valid()
	}
	whole, _ := Default().ActivateAll(by, at)
	if !valid(Shipped()) || !valid(whole.JSON()) {
		t.Fatal("the schema refuses the shipped profile")
	}
	small := &Profile{Title: "t", Unit: "u", at: whole.at}
	for _, e := range whole.Entries() {
		if !slices.ContainsFunc(small.entries, func(o Entry) bool { return o.Shape == e.Shape && o.HasValue() == e.HasValue() }) {
			small.entries = append(small.entries, e)
		}
	}
	file := small.JSON()
	rng := rand.New(rand.NewSource(4))
	junk := []any{nil, true, -1.0, 0.0, 41.5, "", "x", []any{}, []any{1.0}, []any{2.0, 1.0}, map[string]any{}, map[string]any{"by": "A", "at": "2026-01-01"}}
	refused, stricter, tries := 0, 0, 250
	if os.Getenv("FAIRLEAD_SOAK") != "" {
		tries = 5000
	}
	for n := 0; n < tries; n++ {
		var tree map[string]any
		if err := json.Unmarshal(file, &tree); err != nil {
			t.Fatal(err)
		}
		mutate(rng, tree, junk)
		data, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		_, faults := Load(data)
		switch s := valid(data); {
		case !s && len(faults) == 0:
			t.Fatalf("the schema refuses what the program takes: %s", data)
		case !s:
			refused++
		case len(faults) > 0:
			stricter++
		}
	}
	if refused < tries/2 {
		t.Errorf("only %d mutations were refused by both", refused)
	}
	t.Logf("%d mutations: refused by both %d, by the program alone %d", tries, refused, stricter)
}

// mutate replaces, deletes or adds one member somewhere in the tree.
func mutate(rng *rand.Rand, tree map[string]any, junk []any) {
	var node any = tree
	for depth := 0; ; depth++ {
		switch v := node.(type) {
		case map[string]any:
			ks := make([]string, 0, len(v))
			for k := range v {
				ks = append(ks, k)
			}
			if len(ks) == 0 {
				v["odd"] = 1.0
				return
			}
			slices.Sort(ks)
			k := ks[rng.Intn(len(ks))]
			if depth == 0 && rng.Intn(10) > 0 {
				k = "entries"
			}
			switch _, isMap := v[k].(map[string]any); {
			case isMap || k == "entries" && rng.Intn(50) > 0:
				node = v[k]
				continue
			}
			switch rng.Intn(3) {
			case 0:
				delete(v, k)
			case 1:
				v["odd"] = 1.0
			default:
				v[k] = junk[rng.Intn(len(junk))]
			}
			return
		case []any:
			i := rng.Intn(len(v))
			if m, ok := v[i].(map[string]any); ok {
				node = m
				continue
			}
			v[i] = junk[rng.Intn(len(junk))]
			return
		default:
			return
		}
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(shipped)
	f.Add([]byte(`{"format":"fairlead-profile/1","title":"t","unit":"u","entries":[{}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, faults := Load(data); (p == nil) == (len(faults) == 0) {
			t.Fatal("neither a profile nor a fault")
		}
	})
}
