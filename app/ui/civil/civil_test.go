//go:build !(js && wasm)

package civil

import (
	"testing"
	"time"
	_ "time/tzdata"

	"fairlead/schema"
)

// The zones' changes are those of the IANA time zone database, as Go carries it
// (time/tzdata): London went forward at 01:00 UTC on 29-Mar-2026 and goes back
// at 01:00 UTC on 25-Oct-2026; Kathmandu stands at +05:45; Lord Howe changes by
// half an hour.
func TestReadings(t *testing.T) {
	for _, c := range []struct {
		zone string
		date schema.Date
		h, m int
		want []string
	}{
		{"Europe/London", "2026-07-14", 9, 42, []string{"2026-07-14T09:42+01:00[Europe/London]"}},
		{"Europe/London", "2026-12-14", 9, 42, []string{"2026-12-14T09:42+00:00[Europe/London]"}},
		{"Europe/London", "2026-03-29", 1, 30, nil},
		{"Europe/London", "2026-03-29", 0, 59, []string{"2026-03-29T00:59+00:00[Europe/London]"}},
		{"Europe/London", "2026-03-29", 2, 0, []string{"2026-03-29T02:00+01:00[Europe/London]"}},
		{"Europe/London", "2026-10-25", 1, 30, []string{"2026-10-25T01:30+01:00[Europe/London]", "2026-10-25T01:30+00:00[Europe/London]"}},
		{"Asia/Kathmandu", "2026-10-25", 1, 30, []string{"2026-10-25T01:30+05:45[Asia/Kathmandu]"}},
		{"Australia/Lord_Howe", "2026-04-05", 1, 45, []string{"2026-04-05T01:45+11:00[Australia/Lord_Howe]", "2026-04-05T01:45+10:30[Australia/Lord_Howe]"}},
		{"America/New_York", "2026-11-01", 1, 15, []string{"2026-11-01T01:15-04:00[America/New_York]", "2026-11-01T01:15-05:00[America/New_York]"}},
		{"Europe/London", "2026-02-30", 1, 30, nil},
	} {
		place, err := time.LoadLocation(c.zone)
		if err != nil {
			t.Fatal(err)
		}
		got := Readings(In(place, time.Now), c.date, c.h, c.m)
		if len(got) != len(c.want) {
			t.Errorf("%s %s %02d:%02d: %v, want %v", c.zone, c.date, c.h, c.m, got, c.want)
			continue
		}
		for i := range got {
			if got[i].String() != c.want[i] {
				t.Errorf("%s %s %02d:%02d: %v, want %v", c.zone, c.date, c.h, c.m, got, c.want)
			}
		}
	}
}

// Every hour of two years in three zones: the true moment is among the readings
// of its own wall time.
func TestReadingsHoldTheMoment(t *testing.T) {
	for _, name := range []string{"Europe/London", "America/St_Johns", "Australia/Lord_Howe"} {
		place, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		z := In(place, time.Now)
		for at := time.Date(2026, 1, 1, 0, 15, 0, 0, time.UTC); at.Year() < 2028; at = at.Add(time.Hour) {
			m := At(z, at)
			found := false
			w := at.In(place)
			for _, r := range Readings(z, m.Date(), w.Hour(), w.Minute()) {
				found = found || r.Instant().Equal(at)
			}
			if today := Today(In(place, func() time.Time { return at })); today != m.Date() {
				t.Fatalf("%s: today is %s at %v", name, today, m)
			}
			if !found || m.Clock() != w.Format("15:04") || string(m.Date()) != w.Format("2006-01-02") {
				t.Fatalf("%s: %v read as %v", name, w, m)
			}
		}
	}
}

func TestNearest(t *testing.T) {
	near := schema.MomentOf(2026, 7, 14, 23, 50, 60, "Europe/London")
	for clock, want := range map[[2]int]schema.Date{
		{0, 10}: "2026-07-15", {23, 55}: "2026-07-14", {23, 40}: "2026-07-14", {12, 0}: "2026-07-14", {11, 49}: "2026-07-15",
	} {
		if got := Nearest(near, clock[0], clock[1]); got != want {
			t.Errorf("%v near %s: %s, want %s", clock, near.Shown(), got, want)
		}
	}
	if got := Nearest(schema.MomentOf(2026, 7, 14, 0, 10, 60, ""), 23, 50); got != "2026-07-13" {
		t.Errorf("23:50 near 00:10: %s", got)
	}
	// A syringe that runs out at 23:10, told beside an operation begun at 08:52.
	if got := Nearest(schema.MomentOf(2026, 7, 14, 8, 52, 60, ""), 23, 10); got != "2026-07-14" {
		t.Errorf("23:10 near 08:52: %s", got)
	}
}
