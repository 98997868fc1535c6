package lines

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// came words the intervals of a drain: "10 over 60 min".
func cameIn(d *Drainage) string {
	var out []string
	for _, i := range d.Intervals {
		out = append(out, calc.Number(i.ML, 1)+" over "+calc.Number(i.To.Sub(i.From).Minutes(), 0)+" min")
	}
	return strings.Join(out, ", ")
}

func has(words []string, part string) bool {
	return slices.ContainsFunc(words, func(s string) bool { return strings.Contains(s, part) })
}

// The first total counts: from what is noted for leaving theatre at 12:30, or else
// from nothing when it was put in. By hand, with 10 mL read at 13:30 and a child of 4
// kg: 10 mL; 10 - 6 = 4 mL; from a chamber whose drains had given 3 and 4 mL, 3 mL.
func TestFirstReadingCounts(t *testing.T) {
	for _, c := range []struct {
		name   string
		listed []string // of the drain
		theirs []string // "output" of two drains of a chamber
		came   string
		words  []string
		low    bool
	}{
		{"nothing noted, nor when it was put in", nil, nil, "10 over 0 min", []string{"First reading, since it was put in: 10 mL, 2.5 mL/kg; when", "In all since it was put in: 10 mL, 2.5 mL/kg."}, true},
		{"put in at 12:00", []string{"placed=2026-07-14T12:00+00:00"}, nil, "10 over 90 min", []string{"First reading, since it was put in, 12:00 to 13:30 (1 h 30 min): 10 mL, 2.5 mL/kg; on average 6.7 mL/h, 1.7 mL/kg/h.", "In all since it was put in: 10 mL"}, false},
		{"6 mL noted", []string{"placed=2026-07-14T12:00+00:00", "output=6"}, nil, "4 over 60 min", []string{"Last interval, 12:30 to 13:30 (1 h): 4 mL, 1 mL/kg; 4 mL/h, 1 mL/kg/h.", "In all since theatre: 4 mL, 1 mL/kg."}, false},
		{"put in after theatre", []string{"placed=2026-07-14T13:00+00:00", "output=0"}, nil, "10 over 30 min", []string{"In all since it was put in: 10 mL"}, false},
		{"a chamber, and both drains noted", nil, []string{"3", "4"}, "3 over 60 min", []string{"In all since theatre: 3 mL", "One chamber for tags 1 and 2."}, false},
		{"a chamber, and one drain noted", nil, []string{"3", ""}, "10 over 0 min", []string{"In all since it was put in: 10 mL"}, true},
	} {
		b := newBed(t)
		b.set(schema.MeasuresDosingWeight, ledger.Number("4"))
		b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T12:30+00:00"})
		var id ledger.ItemID
		if c.theirs == nil {
			id = b.list("drain", "mediastinal", c.listed...)
		} else {
			var drains []string
			for i, ml := range c.theirs {
				more := []string{"output=" + ml}
				if ml == "" {
					more = nil
				}
				drains = append(drains, string(b.list("drain", []string{"mediastinal", "right-pleural"}[i], more...)))
			}
			id = b.list("drain-chamber", "")
			b.set(schema.ItemPath(string(id), "drains"), ledger.Entry{Value: drains})
		}
		b.do(b.at(t, "13:30").ReadOutput(id, ledger.Output{Total: "10"}))
		r := b.register(t, settings(t), "2026-07-14T14:00+00:00")
		it, _ := r.Item(id)
		if got := cameIn(it.Drainage); got != c.came {
			t.Errorf("%s: %s, by hand %s", c.name, got, c.came)
		}
		got := r.DrainWords(it)
		for _, w := range c.words {
			if !has(got, w) {
				t.Errorf("%s: %q lacks %q", c.name, got, w)
			}
		}
		if n := len(it.Drainage.Days); n != 1 || it.Drainage.Days[0].Low != c.low {
			t.Errorf("%s: days %+v, at least %v", c.name, it.Drainage.Days, c.low)
		}
		if len(r.Losses.Wanted) > 0 || r.Losses.Stop != nil {
			t.Errorf("%s: %+v", c.name, r.Losses)
		}
	}
}

// Of two readings of one minute the one entered later counts. By hand, from 10 mL at
// 12:00: 42 - 10 = 32 and, emptied, 8: 40 mL.
func TestOneMinuteOneReading(t *testing.T) {
	for _, c := range []struct {
		name string
		at13 []ledger.Output
		came string
	}{
		{"put right, and emptied", []ledger.Output{{Total: "20"}, {Total: "42", Emptied: "yes"}}, "32 over 60 min, 8 over 60 min"},
		{"emptied, and put right", []ledger.Output{{Total: "20", Emptied: "yes"}, {Total: "42"}}, "32 over 60 min, 8 over 60 min"},
		{"put right downward", []ledger.Output{{Total: "45"}, {Total: "42", Emptied: "yes"}}, "32 over 60 min, 8 over 60 min"},
		{"emptied, and what stood in it then", []ledger.Output{{Total: "42", Emptied: "yes"}, {Total: "2"}}, "32 over 60 min, 6 over 60 min"},
		{"emptied, and that entered apart", []ledger.Output{{Total: "42"}, {Emptied: "yes"}}, "32 over 60 min, 8 over 60 min"},
		{"a volume put right", []ledger.Output{{Volume: "20"}, {Volume: "32", Emptied: "yes"}}, "32 over 60 min, 8 over 60 min"},
		{"a total, then as a volume", []ledger.Output{{Total: "20"}, {Volume: "32", Emptied: "yes"}}, "32 over 60 min, 8 over 60 min"},
	} {
		b := newBed(t)
		b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T12:00+00:00"})
		id := b.list("drain-chamber", "", "level=10")
		for _, o := range c.at13 {
			b.do(b.at(t, "13:00").ReadOutput(id, o))
		}
		b.do(b.at(t, "14:00").ReadOutput(id, ledger.Output{Total: "8"}))
		r := b.register(t, settings(t), "2026-07-14T15:00+00:00")
		it, _ := r.Item(id)
		if got := cameIn(it.Drainage); got != c.came || len(it.Drainage.Gaps) > 0 || it.Drainage.AtLeast() {
			t.Errorf("%s: %s, gaps %q; by hand %s", c.name, got, it.Drainage.Gaps, c.came)
		}
		if n := len(it.Drainage.Readings); n != 3 { // all of them stay
			t.Errorf("%s: %d readings", c.name, n)
		}
		if fs := b.rec.Faults(); len(fs) > 0 {
			t.Errorf("%s: %+v", c.name, fs)
		}
	}
}

// Two drains that give hourly volumes into one chamber at one minute give both: 5 and
// 7 mL are 12.
func TestTwoVolumesOfOneMinute(t *testing.T) {
	b := newBed(t)
	one, two := b.list("drain", "mediastinal"), b.list("drain", "right-pleural")
	chamber := b.list("drain-chamber", "", "level=0")
	b.set(schema.ItemPath(string(chamber), "drains"), ledger.Entry{Value: []string{string(one), string(two)}})
	b.do(b.at(t, "15:30").ReadOutput(one, ledger.Output{Volume: "5"}), b.at(t, "15:30").ReadOutput(two, ledger.Output{Volume: "7"}))
	if it, _ := b.register(t, settings(t), "2026-07-14T16:00+00:00").Item(chamber); it.Drainage.Total != 12 {
		t.Errorf("%v mL", it.Drainage.Total)
	}
}

// Where something was not read, the day and the total say "at least". 10 mL from 12:00
// to 13:00 and 4 mL from 14:00 to 15:00 leave an hour out; a running total of 40 at
// 16:00, from 20 at 12:00, covers it: 40 - 20 - 14 = 6 mL more, 20 in all.
func TestAtLeast(t *testing.T) {
	for _, c := range []struct {
		name     string
		readings []string // "hh:mm total|volume n [emptied]"
		low      bool
		total    float64
	}{
		{"every hour", []string{"13:00 volume 10", "14:00 volume 4"}, false, 14},
		{"an hour left out", []string{"13:00 volume 10", "15:00 volume 4"}, true, 14},
		{"covered by a total", []string{"13:00 volume 10", "15:00 volume 4", "16:00 total 40"}, false, 20},
		{"less than before", []string{"13:00 total 50", "14:00 total 40"}, true, 30},
		{"emptied, not read", []string{"13:00 total 50", "14:00 none 0 emptied", "15:00 total 6"}, true, 36},
	} {
		b := newBed(t)
		b.set(schema.MeasuresDosingWeight, ledger.Number("4"))
		b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T12:00+00:00"})
		id := b.list("drain", "mediastinal", "output=20")
		for _, s := range c.readings {
			w := strings.Fields(s)
			var o ledger.Output
			switch w[1] {
			case "total":
				o.Total = w[2]
			case "volume":
				o.Volume = w[2]
			}
			if len(w) > 3 {
				o.Emptied = "yes"
			}
			b.do(b.at(t, w[0]).ReadOutput(id, o))
		}
		r := b.register(t, settings(t), "2026-07-14T17:00+00:00")
		it, _ := r.Item(id)
		d := it.Drainage
		if d.AtLeast() != c.low || d.Total != c.total || len(d.Days) != 1 || d.Days[0].Low != c.low || r.Losses.Days[0].Low != c.low || (len(d.Gaps) > 0) != c.low {
			t.Errorf("%s: %v mL, days %+v, gaps %q; by hand %v mL, at least %v", c.name, d.Total, d.Days, d.Gaps, c.total, c.low)
		}
		words := fmt.Sprintf("In all since theatre: %s, %s.", tenth(c.total, "mL"), tenth(c.total/4, "mL/kg"))
		if c.low {
			words = fmt.Sprintf("In all since theatre: at least %s, %s, as far as is known.", tenth(c.total, "mL"), tenth(c.total/4, "mL/kg"))
		}
		if got := r.DrainWords(it); !has(got, words) {
			t.Errorf("%s: %q lacks %q", c.name, got, words)
		}
	}
}

// A chamber that was changed for another unread is said to be so, and the total goes
// on: 40 mL in the old, 12 in the new.
func TestTotalOverAChange(t *testing.T) {
	b := newBed(t)
	b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T10:00+00:00"})
	drain := b.list("drain", "mediastinal")
	old := b.list("drain-chamber", "", "level=0")
	b.set(schema.ItemPath(string(old), "drains"), ledger.Entry{Value: []string{string(drain)}})
	b.do(b.at(t, "11:00").ReadOutput(old, ledger.Output{Total: "40"}))
	fresh, events := b.at(t, "12:00").Exchange(b.rec, old, "", ledger.RegisterFacts{Complete: "yes"})
	b.do(events...)
	b.do(b.at(t, "13:00").ReadOutput(fresh, ledger.Output{Total: "12"}))
	r := b.register(t, settings(t), "2026-07-14T14:00+00:00")
	it, _ := r.Item(drain)
	if got := r.DrainWords(it); !has(got, "In all with what it took the place of: at least 52 mL, as far as is known.") || !has(got, "First reading, since it was put in, 12:00 to 13:00 (1 h): 12 mL; 12 mL/h.") {
		t.Errorf("%q", got)
	}
	if !r.Losses.Days[0].Low || r.Losses.Days[0].ML != 52 {
		t.Errorf("days %+v", r.Losses.Days)
	}
}

// What a nurse asks of a drain, as numbers. By hand, at 3.2 kg from 20 mL at 14:00:
// 25 - 20 = 5 mL; 55 - 25 = 30 mL in 15 min, 9.4 mL/kg, 120 mL/h, 37.5 mL/kg/h; in all
// 35 mL, 10.9 mL/kg; then nothing in the hour from 14:45, and in the next.
func TestDrainWords(t *testing.T) {
	b := newBed(t)
	b.set(schema.MeasuresDosingWeight, ledger.Number("3.2"))
	b.set(schema.OperationLeftTheatre, ledger.Entry{Value: "2026-07-14T14:00+00:00"})
	id := b.list("drain", "mediastinal", "output=20")
	words := func() []string {
		r := b.register(t, profile.Default(), "2026-07-14T17:00+00:00")
		it, _ := r.Item(id)
		return r.DrainWords(it)
	}
	expect := func(want ...string) {
		t.Helper()
		if got := words(); !slices.Equal(got, want) {
			t.Errorf("%q,\nby hand %q", got, want)
		}
	}
	expect("Output not read yet; 20 mL as noted for 14-Jul-2026 14:00.")
	b.do(b.at(t, "14:30").ReadOutput(id, ledger.Output{Total: "25", Colour: "serous"}))
	b.do(b.at(t, "14:45").ReadOutput(id, ledger.Output{Total: "55", Colour: "blood"}))
	expect("Last read 14-Jul-2026 14:45: 55 mL in it, blood.",
		"Last interval, 14:30 to 14:45 (15 min): 30 mL, 9.4 mL/kg; 120 mL/h, 37.5 mL/kg/h.",
		"In all since theatre: 35 mL, 10.9 mL/kg.")
	b.do(b.at(t, "15:45").ReadOutput(id, ledger.Output{Total: "55"}), b.at(t, "16:45").ReadOutput(id, ledger.Output{Total: "55"}))
	expect("Last read 14-Jul-2026 16:45: 55 mL in it, blood at 14-Jul-2026 14:45.",
		"Last interval, 15:45 to 16:45 (1 h): 0 mL, 0 mL/kg; 0 mL/h, 0 mL/kg/h.",
		"Nothing since 14-Jul-2026 14:45.",
		"In all since theatre: 35 mL, 10.9 mL/kg.")
}

// Loss that is fast is asked about, however little time it came in: more in an hour
// than the 0 to 10 mL per kg that are usual in all (ranges of the note; no source has
// an hourly one), or as fast as an hourly rule of the unit, if one is in force and
// still holds. By hand, at 3.2 kg: 30 mL in 15 min are 9.4 mL/kg, 37.5 mL/kg/h; 19.2
// mL in an hour 6 mL/kg/h; 15.9 mL 4.97; 8 mL in 15 min 10 mL/kg/h, 8.1 mL 10.1.
func TestFastLossIsAskedAbout(t *testing.T) {
	b, chamber := drained(t) // 20 mL at 10:00, closed then
	b.do(b.at(t, "13:00").ReadOutput(chamber, ledger.Output{Total: "30"}))
	belly := b.list("drain", "peritoneal", "output=0")
	for _, c := range []struct {
		item    ledger.ItemID
		at      string
		figures map[string]float64
		force   bool
		words   string
	}{
		{chamber, "13:15", map[string]float64{"total": 60}, false, "30 mL since 14-Jul-2026 13:00, in 15 min, is 37.5 mL per kg per hour: in one hour more than the 0 to 10 mL per kg that is usual in all."},
		{chamber, "13:15", map[string]float64{"volume": 30, "minutes": 15}, false, "30 mL, in 15 min, is 37.5 mL per kg per hour: in one hour more"},
		{chamber, "13:15", map[string]float64{"total": 38}, false, ""},
		{chamber, "13:15", map[string]float64{"total": 38.1}, false, "8.1 mL since 14-Jul-2026 13:00, in 15 min, is 10.1 mL per kg per hour"},
		{chamber, "14:00", map[string]float64{"total": 49.2}, false, ""},
		{chamber, "14:00", map[string]float64{"total": 49.2}, true, `19.2 mL since 14-Jul-2026 13:00, in 1 h, is 6 mL per kg per hour: the unit's rule "5 mL per kg per hour for three hours" is about 5 mL per kg per hour.`},
		{chamber, "14:00", map[string]float64{"total": 45.9}, true, ""},
		{chamber, "22:30", map[string]float64{"volume": 19.2, "minutes": 60}, true, "is 6 mL per kg per hour"}, // begun within 12 h of closure
		{chamber, "23:30", map[string]float64{"volume": 19.2, "minutes": 60}, true, ""},                        // and after that
		{belly, "23:30", map[string]float64{"volume": 19.2, "minutes": 60}, true, ""},
	} {
		p := profile.Default()
		if c.force {
			p = settings(t)
		}
		r := b.register(t, p, "2026-07-14T23:45+00:00")
		it, _ := r.Item(c.item)
		ds := r.Doubts(it, c.figures, moment(t, "2026-07-14T"+c.at+"+00:00"))
		if c.words == "" && len(ds) > 0 || c.words != "" && (len(ds) != 1 || !ds[0].Ask || !strings.Contains(ds[0].What, c.words) || ds[0].Do == "") {
			t.Errorf("%s %v, in force %v: %+v; want %q", c.at, c.figures, c.force, ds, c.words)
		}
	}
}
