package lines

import (
	"math"
	"strings"
	"testing"
	"time"

	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/outside"
)

// The figures are worked out by hand from the times in the test: days are elapsed
// time over 24 h, split at the month's end. That counts stand over denominators
// (device days, removals, answers) is how surveillance of devices is published (NHSN
// device-associated module, from memory); its count of devices at one hour of the
// day is another thing and is not made here.
func TestCountsByHand(t *testing.T) {
	b := newBed(t)
	drain := b.list("drain", "mediastinal", "placed=2026-06-30T12:00+00:00")
	wire := b.list("pacing-wires", "atrial", "placed=2026-07-02T00:00+00:00")
	b.list("left-on-purpose", "membrane")
	b.list("implant", "")
	b.list("drain", "right-pleural", "placed=2026-07-01T00:00+00:00")
	at := func(s string) *ledger.Writer { return b.w.At(moment(t, s)) }
	// In half a day of June and two and a half of July.
	b.do(at("2026-07-03T12:00+00:00").Happen(ledger.KindRemoved, drain, ledger.RegisterFacts{Complete: "yes", TipSeen: "yes", Bleeding: "no", Planned: "yes"}))
	// Four days, and a problem.
	b.do(at("2026-07-06T00:00+00:00").Happen(ledger.KindRemoved, wire, ledger.RegisterFacts{Complete: "no"}))
	// The tube is in until now: seven days of July.
	c := NewCounts(moment(t, "2026-07-08T00:00+00:00"))
	c.Add(b.rec)
	for _, x := range []struct {
		kind, month string
		days        float64
	}{{"drain", "2026-06", 0.5}, {"drain", "2026-07", 2.5 + 7}, {"pacing-wires", "2026-07", 4}, {"", "2026-07", 13.5}} {
		if got := c.Kinds[x.kind].Days[x.month]; math.Abs(got-x.days) > 1e-9 {
			t.Errorf("%q in %s: %v days, want %v", x.kind, x.month, got, x.days)
		}
	}
	for kind, want := range map[string]Share{"drain": {0, 1}, "pacing-wires": {1, 1}, "": {1, 2}} {
		if got := c.Kinds[kind].Removals.Total(); got != want {
			t.Errorf("%q: removals with a problem %v, want %v", kind, got, want)
		}
	}
	if c.Kinds["implant"] != nil {
		t.Error("what stays for good is counted as a device")
	}
	if k := c.Kinds["drain"]; k.Items != 2 || k.Children != 1 {
		t.Errorf("%d drains in %d children", k.Items, k.Children)
	}
}

// Months are those of the moment's own offset: an event at 23:30 UTC on 31 July is
// in August two hours east.
func TestCountsMonthHasItsZone(t *testing.T) {
	c := NewCounts(moment(t, "2026-08-02T10:00+02:00"))
	if m := c.month(moment(t, "2026-07-31T23:30+00:00")); m != "2026-08" {
		t.Error(m)
	}
	if got := c.months(); len(got) != 1 || got[0] != "2026-08" {
		t.Errorf("months of nothing: %v", got)
	}
	by := map[string]float64{}
	c.days(by, moment(t, "2026-07-31T21:00+00:00"), moment(t, "2026-08-01T10:00+00:00")) // 23:00 to 12:00 there
	if math.Abs(by["2026-07"]-1.0/24) > 1e-9 || math.Abs(by["2026-08"]-0.5) > 1e-9 {
		t.Errorf("%v", by)
	}
	c.days(by, moment(t, "0001-01-01T00:00+00:00"), c.Now) // ends, with a wrong year
}

// Differences at arrival stand over the answers of what could be seen; notes signed
// with nothing open over those signed.
func TestCountsAtArrivalAndSigning(t *testing.T) {
	b := newBed(t)
	ids := []ledger.ItemID{b.list("drain", "mediastinal"), b.list("drain", "right-pleural"), b.list("pacing-wires", "atrial"), b.list("airway", "nasal-tube")}
	for _, e := range CheckOf(b.rec, b.note, ledger.Arrival).Entries {
		switch ledger.ItemID(e.Item.ID) {
		case ids[0], ids[1]:
			b.do(b.w.Check(b.rec, b.note, e.Found()))
		case ids[2]:
			b.do(b.w.Check(b.rec, b.note, e.NotFound()))
		} // the fourth is not answered
	}
	c := NewCounts(moment(t, "2026-07-20T00:00+00:00"))
	c.Add(b.rec)
	if got := c.Arrival.Total(); got != (Share{1, 3}) {
		t.Errorf("differences on arrival: %v, want 1 of 3", got)
	}
	if c.Unsigned != 1 || c.Signed.Total() != (Share{}) {
		t.Errorf("an unsigned note: %d, %v", c.Unsigned, c.Signed)
	}
	b.do(b.w.SignNote(b.rec, b.note, 4))
	b.do(b.w.SignNote(b.rec, b.note, 0)) // again: the first one counts
	c = NewCounts(moment(t, "2026-07-20T00:00+00:00"))
	c.Add(b.rec)
	if c.Unsigned != 0 || c.Signed.Total() != (Share{0, 1}) {
		t.Errorf("a signed note: %d, %v", c.Unsigned, c.Signed)
	}
}

// Completeness is counted field by field as audits of operation notes do: "blood loss
// in 18.1 % (42/232)" (audits of free-text notes against the Royal College of Surgeons
// of England, Good Surgical Practice, 2014, 1.3). What was written after the first
// signature does not count, what two people answered differently and "none" do, and
// what is not answered agrees with what the validator misses.
func TestCompletenessByField(t *testing.T) {
	b := newBed(t)
	drain := b.list("drain", "mediastinal")
	b.set(schema.ChildSurname, ledger.Entry{Value: "Countsworthy"})
	b.set(schema.WorkEstimatedLoss, ledger.Entry{Stated: "none"})
	other := b.w.As(ledger.Author{Name: "B. Other", Role: "surgeon"})
	one, two := b.w.Set(b.rec, b.note, schema.MeasuresWeight, ledger.Number("3.2")), other.Set(b.rec, b.note, schema.MeasuresWeight, ledger.Number("3.7"))
	b.do(one, two)
	missing := 0
	for _, p := range schema.Validate(b.rec.Note(b.note)) {
		if p.Severity == schema.Missing && p.Path != schema.MeasuresWeight {
			missing++
		}
	}
	b.do(b.w.SignNote(b.rec, b.note, missing))
	b.set(schema.ChildHospitalNumber, ledger.Entry{Value: "T-1"})                      // after the signature
	b.set(schema.ItemPath(string(drain), "exit"), ledger.Entry{Value: "epigastric"})   // so too
	b.do(b.w.Happen(ledger.KindRemoved, drain, ledger.RegisterFacts{Complete: "yes"})) // and it came out
	second := b.w.NewNote()                                                            // not signed: only said so
	b.do(b.w.OpenNote(second, schema.Closure))
	c := NewCounts(moment(t, "2026-07-20T00:00+00:00"))
	c.Add(b.rec)
	for path, want := range map[schema.Path]Share{schema.ChildSurname: {1, 1}, schema.ChildHospitalNumber: {0, 1}, schema.MeasuresWeight: {1, 1}, schema.WorkEstimatedLoss: {1, 1},
		"items.drain.exit": {0, 1}} {
		if got := c.Fields[string(path)]; got != want {
			t.Errorf("%s: answered %v, want %v", path, got, want)
		}
	}
	var sum, open Share
	for path, x := range c.Fields {
		sum.N, sum.Of = sum.N+x.N, sum.Of+x.Of
		if f := schema.FieldAt(schema.Path(path)); f != nil && f.Required.By(schema.Stage1) {
			open.N, open.Of = open.N+x.Of-x.N, open.Of+1
		}
	}
	if total := c.Complete.Total(); total != sum || total != c.Complete["2026-07"] {
		t.Errorf("over all %v, by field %v, in July %v", total, sum, c.Complete["2026-07"])
	}
	if open.N != missing {
		t.Errorf("%d wanted fields are not answered, the validator misses %d", open.N, missing)
	}
	if c.Unsigned != 1 || c.Untold != 0 {
		t.Errorf("%d not signed, %d not to be told", c.Unsigned, c.Untold)
	}
	for _, p := range c.Pictures("") {
		if p.ID == "fields" {
			shown := 0
			for _, bar := range p.Bars {
				if strings.HasSuffix(bar.Of, "Hospital number") && bar.Words == "0 of 1" {
					shown++
				}
				if strings.Contains(bar.Of, "Surname") {
					t.Error("what was always answered is shown as left out")
				}
			}
			if shown != 1 {
				t.Errorf("the number that was left out is shown %d times: %+v", shown, p.Bars)
			}
		}
	}
	outside.Check(t, "Audits of operation notes count each item over the notes: 42/232 with blood loss (references A)")
}

// No picture names a person or a child, every bar is between 0 and 1 and has words,
// and kinds stand in the order of their definitions, whatever the figures.
func TestCountsNameNobody(t *testing.T) {
	b := newBed(t)
	b.set(schema.ChildSurname, ledger.Entry{Value: "Countsworthy"})
	for i, k := range []string{"airway", "drain", "pacing-wires", "drain"} {
		id := b.list(k, "", "placed=2026-07-0"+string(rune('1'+i))+"T00:00+00:00")
		b.do(b.w.Happen(ledger.KindRemoved, id, ledger.RegisterFacts{Complete: "yes"}))
	}
	c := NewCounts(moment(t, "2026-07-20T00:00+00:00").Add(time.Hour))
	c.Add(b.rec)
	for _, kind := range []string{"", "drain", "no-such-kind"} {
		for _, p := range c.Pictures(kind) {
			last := -1
			for _, bar := range p.Bars {
				if bar.Long < 0 || bar.Long > 1 || bar.Words == "" || bar.Of == "" {
					t.Errorf("%s: %+v", p.ID, bar)
				}
				if strings.Contains(p.Means+bar.Of+bar.Words, "Countsworthy") || strings.Contains(p.Means+bar.Of+bar.Words, "Example") {
					t.Errorf("%s names somebody: %+v", p.ID, bar)
				}
				for i, k := range schema.ItemKinds() {
					if k.Title == bar.Of && strings.HasSuffix(p.ID, "by-kind") {
						if i <= last {
							t.Errorf("%s: %s out of order", p.ID, bar.Of)
						}
						last = i
					}
				}
			}
		}
	}
}
