package lines

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// fullBed is a child with a thing of most kinds, the same each time.
func fullBed(t *testing.T) (*bed, map[string]ledger.ItemID) {
	b := newBed(t)
	ids := map[string]ledger.ItemID{}
	for _, s := range []string{
		"tube airway nasal-tube exit=right-nostril size=3.5 depth=11 cuffed=cuffed",
		"la intracardiac-line left-atrial exit=subxiphoid size=3 mark=6 filter=fitted",
		"ra intracardiac-line right-atrial exit=right-subcostal size=3 mark=7",
		"neck central-venous-line jugular side=right exit=right-neck size=4 lumenCount=2 depth=5.5 state=working",
		"radial arterial-line radial side=left exit=left-wrist gauge=24 trace=good",
		"hand peripheral-cannula hand side=right exit=right-hand gauge=24 working=yes",
		"awires pacing-wires atrial exit=right-subcostal count=2 connection=connected boxPort=atrial",
		"vwires pacing-wires ventricular exit=left-subcostal count=2 connection=insulated boxPort=ventricular",
		"med drain mediastinal exit=subxiphoid size=12 drainage=suction suction=10",
		"rpl drain right-pleural exit=right-subcostal size=10 drainage=suction suction=10",
		"chamber drain-chamber level=20",
		"chamber2 drain-chamber level=5",
		"pd dialysis-catheter peritoneal exit=left-lower-abdomen use=open",
		"packs left-on-purpose packs count=2 exit=inside-mediastinum removalPlan=closure",
		"snare left-on-purpose snare exit=right-neck lengthOutside=3",
		"membrane left-on-purpose membrane exit=sternum",
		"ecmo support-cannula arterial exit=sternum size=8 depth=3",
		"nirs surface-probe cerebral-near-infrared exit=forehead skin=intact",
		"bladder gut-and-bladder urinary-catheter exit=urethra size=6",
	} {
		w := strings.Fields(s)
		variety, rest := "", w[2:]
		if len(rest) > 0 && !strings.Contains(rest[0], "=") {
			variety, rest = rest[0], rest[1:]
		}
		ids[w[0]] = b.list(w[1], variety, rest...)
	}
	for _, d := range []string{"med", "rpl"} {
		b.put(ids[d], "chamber", string(ids["chamber"]))
	}
	for _, l := range []struct{ name, runs string }{{"proximal", "milrinone"}, {"distal", "proximal: Running, adrenaline; distal: Running, milrinone, listed proximal: Running, milrinone"}} {
		list := schema.ItemPath(string(ids["neck"]), "lumens")
		row := b.w.NewRow()
		b.do(b.w.AddRow(b.rec, b.note, list, row)...)
		for field, v := range map[string]string{"name": l.name, "state": "running", "runs": l.runs} {
			b.do(b.w.Set(b.rec, b.note, schema.RowPath(list, row, field), ledger.Entry{Value: v}))
		}
	}
	return b, ids
}

// put sets an attribute.
func (b *bed) put(id ledger.ItemID, field, value string) {
	p := schema.ItemPath(string(id), field)
	v, _ := b.rec.Item(id)
	e := ledger.Entry{Value: value}
	if f := schema.FieldAt(schema.ItemPath(v.Kind, field)); f != nil && f.Numeric() {
		e = ledger.Number(value)
	}
	b.do(b.w.Set(b.rec, b.note, p, e))
}

// walk is a nurse who goes round a bed: she reads the flag, and compares what the
// check shows of that flag with what she sees. She knows nothing else.
func walk(t *testing.T, b *bed, bedside map[int]schema.Item, unflagged []schema.Item) Check {
	t.Helper()
	for _, e := range CheckOf(b.rec, b.note, ledger.Arrival).Entries {
		there, ok := bedside[e.Item.Tag]
		delete(bedside, e.Item.Tag)
		if !ok {
			b.do(b.w.Check(b.rec, b.note, e.NotFound()))
			continue
		}
		var differs []ledger.Difference
		if sheet, see := Name(e.Item), Name(there); sheet != see {
			differs = append(differs, ledger.Difference{Field: FieldOther, Sheet: sheet, Bedside: "it is a different thing: " + lower(see)})
		}
		seen := map[string]string{}
		for _, f := range Facts(there) {
			seen[f.Field] = f.Sheet
		}
		for _, f := range Facts(e.Item) {
			if see, ok := seen[f.Field]; !ok && f.Sheet != schema.NotRecorded || ok && see != f.Sheet {
				differs = append(differs, ledger.Difference{Field: f.Field, Sheet: f.Sheet, Bedside: see})
			}
			delete(seen, f.Field)
		}
		for field, see := range seen { // what the check does not show, she may still say
			differs = append(differs, ledger.Difference{Field: field, Sheet: schema.NotRecorded, Bedside: see})
		}
		if len(differs) > 0 {
			b.do(b.w.Check(b.rec, b.note, e.Differs(differs...)))
		} else {
			b.do(b.w.Check(b.rec, b.note, e.Found()))
		}
	}
	for _, it := range bedside {
		unflagged = append(unflagged, it)
	}
	for _, it := range unflagged {
		b.do(b.w.Check(b.rec, b.note, ExtraFound(b.w.NewItem(), ledger.Arrival, FullName(it))))
	}
	return CheckOf(b.rec, b.note, ledger.Arrival)
}

// Every kind of difference between the sheet and the bed surfaces at the check, by
// the item's number and name and what differs; and nothing else does.
func TestPlantedDifferences(t *testing.T) {
	type truth struct {
		*bed
		ids     map[string]ledger.ItemID
		gone    map[string]bool // not there at all
		noFlag  map[string]bool // there, without its flag
		further []string        // there, and not listed: "kind variety"
	}
	swap := func(x *truth, a, b string) {
		va, _ := x.rec.Item(x.ids[a])
		vb, _ := x.rec.Item(x.ids[b])
		x.do(x.w.RetagItem(x.rec, va.ID, vb.Tag), x.w.RetagItem(x.rec, vb.ID, va.Tag))
	}
	set := func(item, field, value string) func(*truth) {
		return func(x *truth) { x.put(x.ids[item], field, value) }
	}
	gone := func(item string) func(*truth) { return func(x *truth) { x.gone[item] = true } }
	extra := func(s string) func(*truth) { return func(x *truth) { x.further = append(x.further, s) } }
	lumen := func(x *truth, i int, field, value string) {
		list := schema.ItemPath(string(x.ids["neck"]), "lumens")
		row := x.rec.Child().Rows(list)[i]
		x.do(x.w.Set(x.rec, x.note, schema.RowPath(list, row, field), ledger.Entry{Value: value}))
	}
	cases := []struct {
		name  string
		plant func(*truth)
		want  []string // each is in a line of its own of what is open
	}{
		{"a drain is missing", gone("rpl"), []string{"10 Right pleural drain 10 Fr: not found"}},
		{"a line is missing", gone("ra"), []string{"3 Right atrial line 3 Fr: not found"}},
		{"wires are missing", gone("vwires"), []string{"8 Ventricular wires, 2: not found"}},
		{"a pack is missing altogether", gone("packs"), []string{"14 Packs, 2: not found"}},
		{"a cannula is missing", gone("hand"), []string{"6 Right hand cannula"}},
		{"an extra cannula", extra("peripheral-cannula foot"), []string{"Not listed: Foot cannula"}},
		{"an extra drain", extra("drain left-pleural"), []string{"Not listed: Left pleural drain"}},
		{"an extra throat pack", extra("left-on-purpose throat-pack"), []string{"Not listed: Throat pack"}},
		{"two extras", func(x *truth) { x.further = []string{"drain left-pleural", "peripheral-cannula foot"} }, []string{"Not listed: Left pleural drain", "Not listed: Foot cannula"}},
		{"wrong side, line", func(x *truth) { set("radial", "side", "right")(x); set("radial", "exit", "right-wrist")(x) }, []string{"it is a different thing: right radial arterial line", "side is Right, listed Left"}},
		{"wrong side, neck line", set("neck", "exit", "left-neck"), []string{"where it comes out is Left neck, listed Right neck"}},
		{"wrong side, drain", set("rpl", "variety", "left-pleural"), []string{"it is a different thing: left pleural drain"}},
		{"wrong place", set("med", "exit", "left-subcostal"), []string{"9 Mediastinal drain"}},
		{"wrong depth, tube", set("tube", "depth", "9"), []string{"1 Nasal tracheal tube 3.5 mm: differs", "depth", "9 cm, listed 11 cm"}},
		{"wrong depth, line", set("neck", "depth", "3"), []string{"3 cm, listed 5.5 cm"}},
		{"wrong depth, support cannula", set("ecmo", "depth", "5"), []string{"5 cm, listed 3 cm"}},
		{"the mark has slipped", set("la", "mark", "4"), []string{"2 Left atrial line 3 Fr", "4 cm, listed 6 cm"}},
		{"swapped wires at the box", func(x *truth) { set("awires", "boxPort", "ventricular")(x); set("vwires", "boxPort", "atrial")(x) }, []string{"7 Atrial wires", "8 Ventricular wires"}},
		{"swapped tags on wires", func(x *truth) { swap(x, "awires", "vwires") }, []string{"it is a different thing: ventricular wires", "it is a different thing: atrial wires"}},
		{"swapped tags on atrial lines", func(x *truth) { swap(x, "la", "ra") }, []string{"it is a different thing: right atrial line", "it is a different thing: left atrial line"}},
		{"swapped lumens", func(x *truth) { lumen(x, 0, "runs", "adrenaline"); lumen(x, 1, "runs", "milrinone") }, []string{"4 Right jugular line 4 Fr", "proximal: Running, adrenaline; distal: Running, milrinone, listed proximal: Running, milrinone"}},
		{"a lumen is blocked", func(x *truth) { lumen(x, 1, "state", "blocked") }, []string{"4 Right jugular line", "distal: Blocked"}},
		{"wrong count, wires", set("awires", "count", "1"), []string{"7 Atrial wires, 2: differs", "is 1, listed 2"}},
		{"wrong count, packs", set("packs", "count", "3"), []string{"14 Packs, 2: differs", "is 3, listed 2"}},
		{"exchanged and not recorded, with another tag", func(x *truth) { x.gone["radial"] = true; x.further = []string{"arterial-line femoral"} }, []string{"5 Left radial arterial line", "not found", "Not listed: Femoral arterial line"}},
		{"exchanged and not recorded, under the old tag", set("tube", "size", "4"), []string{"1 Nasal tracheal tube 3.5 mm: differs", "4 mm, listed 3.5 mm"}},
		{"wrong size, drain", set("med", "size", "14"), []string{"14 Fr, listed 12 Fr"}},
		{"wrong gauge", set("hand", "gauge", "22"), []string{"6 Right hand cannula", "22"}},
		{"oral, not nasal", func(x *truth) { set("tube", "variety", "oral-tube")(x); set("tube", "exit", "mouth")(x) }, []string{"it is a different thing: oral tracheal tube"}},
		{"the cuff", set("tube", "cuffed", "uncuffed"), []string{"1 Nasal tracheal tube", "cuffed is Uncuffed, listed Cuffed"}},
		{"off suction", set("med", "drainage", "gravity"), []string{"9 Mediastinal drain", "drainage is Gravity, listed Suction"}},
		{"clamped drain", set("rpl", "drainage", "clamped"), []string{"drainage is Clamped, listed Suction"}},
		{"wrong suction", set("rpl", "suction", "20"), []string{"suction is 20 cmH2O, listed 10 cmH2O"}},
		{"another chamber", func(x *truth) { set("rpl", "chamber", string(x.ids["chamber2"]))(x) }, []string{"10 Right pleural drain", "goes to chamber is tag 12, listed tag 11"}},
		{"the level has risen", set("chamber", "level", "60"), []string{"11 Drain chamber", "60 mL, listed 20 mL"}},
		{"wires off the box", set("awires", "connection", "insulated"), []string{"7 Atrial wires", "nsulated"}},
		{"no filter", set("la", "filter", "to-be-fitted"), []string{"2 Left atrial line", "filter"}},
		{"a damped trace", set("radial", "trace", "damped"), []string{"5 Left radial arterial line", "amped"}},
		{"tissued", set("hand", "working", "no"), []string{"6 Right hand cannula", "orking is No"}},
		{"dislodged", set("neck", "state", "dislodged"), []string{"4 Right jugular line", "Dislodged"}},
		{"dialysis clamped", set("pd", "use", "clamped"), []string{"13", "Clamped, listed Open"}},
		{"the snare is shorter", set("snare", "lengthOutside", "1"), []string{"15 Snare", "1 cm, listed 3 cm"}},
		{"the skin beneath a probe", set("nirs", "skin", "red"), []string{"18", "skin"}},
		{"no tag", func(x *truth) { x.noFlag["ra"] = true }, []string{"3 Right atrial line 3 Fr: not found", "Not listed: Right atrial line 3 Fr"}},
	}
	if len(cases) < 30 {
		t.Fatalf("%d kinds of difference", len(cases))
	}
	for _, c := range cases {
		b, _ := fullBed(t)
		other, ids := fullBed(t)
		x := &truth{other, ids, map[string]bool{}, map[string]bool{}, nil}
		c.plant(x)
		for _, s := range x.further {
			w := strings.Fields(s)
			id := x.list(w[0], w[1])
			x.ids["further "+s], x.noFlag["further "+s] = id, true
		}
		there := map[int]schema.Item{}
		var unflagged []schema.Item
		for name, id := range x.ids {
			it := x.item(t, id)
			switch {
			case x.gone[name]:
			case x.noFlag[name]:
				unflagged = append(unflagged, it)
			default:
				there[it.Tag] = it
			}
		}
		check := walk(t, b, there, unflagged)
		open := strings.Join(stillOpenWords(check), "\n")
		for _, want := range c.want {
			if !strings.Contains(open, want) {
				t.Errorf("%s: %q is not named among\n%s", c.name, want, open)
			}
		}
		if check.Ready() {
			t.Errorf("%s: the check could be closed silently", c.name)
		}
	}
	// The bed as listed: nothing is open.
	b, _ := fullBed(t)
	other, ids := fullBed(t)
	there := map[int]schema.Item{}
	for _, id := range ids {
		it := other.item(t, id)
		there[it.Tag] = it
	}
	if check := walk(t, b, there, nil); !check.Ready() || len(check.Open()) > 0 {
		t.Errorf("without a difference, open are %v", check.Open())
	}
}

// Something found and not listed stays open in the register until it is listed or
// settled; a line that took another's place says whose.
func TestExtraAndExchanged(t *testing.T) {
	b, ids := fullBed(t)
	x := ExtraFound(b.w.NewItem(), ledger.Arrival, "a cannula in the left foot")
	b.do(b.w.Check(b.rec, b.note, x))
	now := moment(t, "2026-07-15T09:00+00:00")
	r := RegisterOf(b.rec, settings(t), now)
	if len(r.Open) != 1 || r.Open[0].What != ProblemExtra || !strings.Contains(r.Open[0].Name, "a cannula in the left foot") {
		t.Errorf("open %+v", r.Open)
	}
	b.do(b.w.ListItem(b.note, x.Item, "peripheral-cannula", b.rec.NextTag()))
	if r := RegisterOf(b.rec, settings(t), now); len(r.Open) != 0 {
		t.Errorf("listed, and open %+v", r.Open)
	}
	next := b.rec.NextTag()
	fresh, es := b.w.Exchange(b.rec, ids["radial"], "", ledger.RegisterFacts{})
	b.do(es...)
	r = RegisterOf(b.rec, settings(t), now)
	e, ok := r.Item(fresh)
	if _, still := r.Item(ids["radial"]); !ok || still || e.InPlaceOf != ids["radial"] || e.Tag != next || e.View.Kind != "arterial-line" {
		t.Errorf("exchanged: %+v", e)
	}
	// A device whose clock is hours ahead is named, and what it wrote is kept.
	if r := RegisterOf(b.rec, settings(t), moment(t, "2026-07-14T09:00+00:00")); !slices.ContainsFunc(r.Faults, func(f ledger.Fault) bool { return f.Rule == ledger.FaultClockAhead }) {
		t.Error("a clock hours ahead is not named")
	}
}

// What was recorded as out and is found at the bed is in dispute, by name.
func TestOutAndFound(t *testing.T) {
	b, ids := fullBed(t)
	b.do(b.w.Remove(ids["rpl"], ledger.RegisterFacts{Complete: "yes"}))
	b.wall = b.wall.Add(time.Hour)
	b.do(b.w.Happen(ledger.KindChecked, ids["rpl"], ledger.RegisterFacts{Answer: ledger.Found}))
	tally := b.rec.RegisterTally()
	if len(tally.Disputed) != 1 || tally.Disputed[0].Item != ids["rpl"] || tally.Disputed[0].Rule != ledger.RuleOutAndFound || !tally.Balances {
		t.Errorf("in dispute: %+v", tally.Disputed)
	}
}
