package schema_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fairlead/schema"
	"fairlead/schema/outside"
)

// The examples of RFC 9557 (Internet Extended Date/Time Format, 2024), sections
// 3.4, 4 and appendix; a moment keeps minutes, so seconds are dropped.
func TestMomentReadsTheExamplesOfRFC9557(t *testing.T) {
	const source = "RFC 9557, examples"
	read := map[string]string{
		"1996-12-19T16:39:57-08:00":                                   "1996-12-19T16:39-08:00",
		"1996-12-19T16:39:57-08:00[America/Los_Angeles]":              "1996-12-19T16:39-08:00[America/Los_Angeles]",
		"1996-12-19T16:39:57-08:00[America/Los_Angeles][u-ca=hebrew]": "1996-12-19T16:39-08:00[America/Los_Angeles]",
		"1996-12-19T16:39:57-08:00[_foo=bar][_baz=bat]":               "1996-12-19T16:39-08:00",
		"2022-07-08T00:14:07+01:00[Europe/Paris]":                     "2022-07-08T00:14+01:00[Europe/Paris]", // section 3.4: inconsistent, not critical, left to the application
		"2022-07-08T00:14:07+01:00[+01:00]":                           "2022-07-08T00:14+01:00[+01:00]",
		"2022-07-08T00:14:07Z":                                        "2022-07-08T00:14+00:00",
		"2022-07-08T00:14:07Z[u-ca=chinese][u-ca=japanese]":           "2022-07-08T00:14+00:00",
	}
	for in, want := range read {
		m, err := schema.ParseMoment(in)
		if err != nil || m.String() != want {
			t.Errorf("ParseMoment(%q) = %q, %v; want %q", in, m, err, want)
		}
		outside.Check(t, source)
	}
	refused := []string{
		"2022-07-08T00:14:07+01:00[!Europe/Paris]",           // critical: the zone cannot be looked up here
		"2022-07-08T00:14:07Z[!u-ca=chinese][u-ca=japanese]", // critical: no such calendar here
		"1996-12-19T16:39:57-08:00[_foo=bar][!_baz=bat]",     // critical and unknown
		"2022-07-08T00:14:07Z[Europe/Paris]",                 // the reading of the local clock is not given
	}
	for _, in := range refused {
		if m, err := schema.ParseMoment(in); err == nil {
			t.Errorf("ParseMoment(%q) = %q; want it refused", in, m)
		}
		outside.Check(t, source)
	}
}

// The examples of RFC 3339 section 5.8 (the leap second apart, which a clinical
// clock never shows).
func TestMomentReadsTheExamplesOfRFC3339(t *testing.T) {
	for in, utc := range map[string]string{
		"1985-04-12T23:20:50.52Z":      "1985-04-12T23:20Z",
		"1996-12-19T16:39:57-08:00":    "1996-12-20T00:39Z",
		"1937-01-01T12:00:27.87+00:20": "1937-01-01T11:40Z",
	} {
		m, err := schema.ParseMoment(in)
		if got := m.Instant().Format("2006-01-02T15:04Z"); err != nil || got != utc {
			t.Errorf("ParseMoment(%q) is %s, %v; want %s", in, got, err, utc)
		}
		outside.Check(t, "RFC 3339 section 5.8, examples")
	}
}

func TestMomentRefusesWithASentence(t *testing.T) {
	for _, in := range []string{"", "2026-07-14", "2026-07-14T09:42", "2026-07-14 09:42+01:00", "2026-7-14T09:42+01:00",
		"2026-07-14T9:42+01:00", "2026-07-14T24:00+01:00", "2026-02-30T09:42+01:00", "2026-07-14T09:60+01:00", "14-Jul-2026 09:42",
		"2026-07-14T09:42+01:00[", "2026-07-14T09:42+01:00[]", "2026-07-14T09:42+01:00[Europe/London", "2026-07-14T09:42+01:00[a][b]",
		"2026-07-14T09:42+01:00[[x]]", "2026-07-14T09:42+01:00x", "２０２６-07-14T09:42+01:00"} {
		if m, err := schema.ParseMoment(in); err == nil {
			t.Errorf("ParseMoment(%q) = %q; want it refused", in, m)
		} else if !strings.Contains(err.Error(), "2026-07-14T09:42+01:00") {
			t.Errorf("ParseMoment(%q): %q does not show the form expected", in, err)
		}
	}
}

// In London the hour from 01:00 repeats on 25-Oct-2026 (common knowledge of the
// zone; the offsets are written in the notes): the offset tells the two apart.
func TestMomentTellsARepeatedHourApart(t *testing.T) {
	first := moment(t, "2026-10-25T01:30+01:00[Europe/London]")
	second := moment(t, "2026-10-25T01:30+00:00[Europe/London]")
	if got := second.Sub(first); got != time.Hour {
		t.Errorf("from the first 01:30 to the second: %v, want 1h", got)
	}
	if !first.Before(second) || second.Before(first) || !second.After(first) {
		t.Error("the first 01:30 is not before the second")
	}
	if first.Shown() != second.Shown() || first.String() == second.String() {
		t.Error("both read 01:30 on the wall, and only the written form tells them apart")
	}
	across := moment(t, "2026-10-25T02:10+00:00[Europe/London]")
	if got := across.Sub(moment(t, "2026-10-25T00:50+01:00[Europe/London]")); got != 140*time.Minute {
		t.Errorf("00:50 to 02:10 over the change: %v, want 2h20m", got)
	}
	// 29-Mar-2026: 01:00 to 02:00 is missing.
	if got := moment(t, "2026-03-29T02:05+01:00").Sub(moment(t, "2026-03-29T00:55+00:00")); got != 10*time.Minute {
		t.Errorf("00:55 to 02:05 over the missing hour: %v, want 10m", got)
	}
}

func TestMomentShown(t *testing.T) {
	m := moment(t, "2026-07-04T09:02-03:30[America/St_Johns]")
	if m.Shown() != "04-Jul-2026 09:02" || m.Clock() != "09:02" || m.Date() != "2026-07-04" {
		t.Errorf("shown %q, clock %q, date %q", m.Shown(), m.Clock(), m.Date())
	}
	if zone, off := m.Zone(); zone != "America/St_Johns" || off != -210 {
		t.Errorf("zone %q %d", zone, off)
	}
	if got := m.Add(15 * time.Hour).String(); got != "2026-07-05T00:02-03:30[America/St_Johns]" {
		t.Errorf("15 h later: %s", got)
	}
	var zero schema.Moment
	if zero.Shown() != "not recorded" || zero.String() != "" || !zero.IsZero() {
		t.Errorf("the zero moment shows %q, writes %q", zero.Shown(), zero.String())
	}
	b, err := json.Marshal([]schema.Moment{m, zero})
	if err != nil {
		t.Fatal(err)
	}
	var back []schema.Moment
	if err := json.Unmarshal(b, &back); err != nil || back[0] != m || back[1] != zero {
		t.Errorf("through JSON: %s became %v, %v", b, back, err)
	}
}

// parse(format(x)) = x, and civil reading minus offset is the instant.
func TestMomentRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y, mo, d := rapid.IntRange(1900, 2999).Draw(t, "y"), rapid.IntRange(1, 12).Draw(t, "m"), rapid.IntRange(1, 28).Draw(t, "d")
		h, mi := rapid.IntRange(0, 23).Draw(t, "h"), rapid.IntRange(0, 59).Draw(t, "min")
		off := rapid.IntRange(-23*60-59, 23*60+59).Draw(t, "off")
		m := schema.MomentOf(y, mo, d, h, mi, off, rapid.SampledFrom([]string{"", "Europe/London", "Etc/GMT+5"}).Draw(t, "zone"))
		back, err := schema.ParseMoment(m.String())
		if err != nil || back != m {
			t.Fatalf("%s became %s, %v", m, back, err)
		}
		want := time.Date(y, time.Month(mo), d, h, mi, 0, 0, time.FixedZone("", off*60))
		if !m.Instant().Equal(want) {
			t.Fatalf("%s is %s, want %s", m, m.Instant(), want)
		}
	})
}

// What the schemas let pass as a time can be read as one, unless no such day ever
// was; and what a moment writes the schemas let pass.
func TestMomentsAndThePatternAgree(t *testing.T) {
	pattern := regexp.MustCompile(schema.MomentPattern)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(schema.MomentPattern).Draw(t, "text")
		m, err := schema.ParseMoment(s)
		_, noDay := schema.ParseDate(s[:10])
		if (err == nil) != (noDay == nil) {
			t.Fatalf("%q: %v, its date: %v", s, err, noDay)
		}
		if err == nil && !m.IsZero() && !pattern.MatchString(m.String()) {
			t.Fatalf("%q is written %q, which the schemas refuse", s, m)
		}
	})
}

func FuzzParseMoment(f *testing.F) {
	for _, s := range []string{"2026-07-14T09:42+01:00[Europe/London]", "2026-07-14T09:42:59.5Z", "0000-01-01T00:00+00:00", "9999-12-31T23:59-23:59[x][y=z]"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := schema.ParseMoment(s)
		if err != nil {
			return
		}
		back, err := schema.ParseMoment(m.String())
		if m.IsZero() {
			return
		}
		if err != nil || back != m {
			t.Fatalf("%q was read as %s, which is read as %s, %v", s, m, back, err)
		}
	})
}

// days counts calendar days by the civil-date arithmetic of Fliegel and Van
// Flandern (Communications of the ACM 11:657, 1968), which shares nothing with
// the time package.
func days(y, m, d int) int {
	return d - 32075 + 1461*(y+4800+(m-14)/12)/4 + 367*(m-2-(m-14)/12*12)/12 - 3*((y+4900+(m-14)/12)/100)/4
}

func TestDaysToAgainstJulianDayNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) (schema.Date, int) {
			y, m := rapid.IntRange(1, 9998).Draw(t, name+" y"), rapid.IntRange(1, 12).Draw(t, name+" m")
			length := days(y+m/12, m%12+1, 1) - days(y, m, 1)
			d := rapid.IntRange(1, length).Draw(t, name+" d")
			date, err := schema.ParseDate(fmt.Sprintf("%04d-%02d-%02d", y, m, d))
			if err != nil {
				t.Fatal(err)
			}
			return date, days(y, m, d)
		}
		a, ja := draw("a")
		b, jb := draw("b")
		if got, ok := a.DaysTo(b); !ok || got != jb-ja {
			t.Fatalf("%s to %s: %d, %v; want %d", a, b, got, ok, jb-ja)
		}
	})
	outside.Check(t, "Fliegel and Van Flandern 1968, Julian day numbers")
	if _, ok := schema.Date("2026-02-30").DaysTo("2026-03-01"); ok {
		t.Error("a date that does not exist was counted from")
	}
}

// Ages in years and months are checked against java.time.Period.between and its
// documented rule ("the number of complete months, then days"), worked by hand
// from its documentation; bands of wording are common practice, no source.
func TestAgeShown(t *testing.T) {
	for _, c := range []struct{ birth, on, want string }{
		{"2026-07-14", "2026-07-14", "0 days"},
		{"2026-07-14", "2026-07-15", "1 day"},
		{"2026-07-14", "2026-08-10", "27 days"},
		{"2026-07-14", "2026-08-11", "4 weeks"},
		{"2026-07-14", "2026-08-12", "4 weeks 1 day"},
		{"2026-07-14", "2026-10-12", "12 weeks 6 days"},
		{"2026-07-14", "2026-10-13", "2 months"},
		{"2026-07-14", "2026-10-14", "3 months"},
		{"2024-02-29", "2025-02-28", "11 months"},
		{"2024-02-29", "2025-03-01", "12 months"},
		{"2024-01-31", "2025-12-31", "23 months"},
		{"2024-01-31", "2026-01-30", "23 months"},
		{"2024-01-31", "2026-01-31", "2 years"},
		{"2021-11-25", "2026-11-25", "5 years"},
		{"2021-10-25", "2026-11-25", "5 years 1 month"},
		{"2026-07-14", "2026-07-13", "not yet born on this date"},
		{"", "2026-07-13", "age not known"},
		{"2026-02-30", "2026-07-13", "age not known"},
	} {
		if got := schema.AgeShown(schema.Date(c.birth), schema.Date(c.on)); got != c.want {
			t.Errorf("born %s, on %s: %q, want %q", c.birth, c.on, got, c.want)
		}
	}
}

func TestDateShown(t *testing.T) {
	for in, want := range map[schema.Date]string{"2026-07-14": "14-Jul-2026", "2026-01-02": "02-Jan-2026", "soon": "soon"} {
		if got := in.Shown(); got != want {
			t.Errorf("%q shows %q, want %q", in, got, want)
		}
	}
}

func moment(t testing.TB, s string) schema.Moment {
	t.Helper()
	m, err := schema.ParseMoment(s)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A moment as this package writes it takes the short way, and is the one that the
// long way reads of it with seconds.
func TestPlainMoments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := func(name string, most int) string {
			return fmt.Sprintf("%02d", rapid.IntRange(0, most).Draw(t, name))
		}
		minute := digits("century", 99) + digits("year", 99) + "-" + digits("month", 14) + "-" + digits("day", 33) + "T" + digits("hour", 25) + ":" + digits("minute", 61)
		offset := rapid.SampledFrom([]string{"+", "-"}).Draw(t, "sign") + digits("hours", 16) + ":" + digits("minutes", 61) + rapid.SampledFrom([]string{"", "[Europe/London]", "[]", "[a][b]", "[u-ca=x]", "[!a]", "x"}).Draw(t, "tag")
		short, err := schema.ParseMoment(minute + offset)
		long, err2 := schema.ParseMoment(minute + ":00" + offset)
		if short != long || (err == nil) != (err2 == nil) {
			t.Fatalf("%s is %v (%v), with seconds %v (%v)", minute+offset, short, err, long, err2)
		}
		if err == nil && short.Clock() != minute[len(minute)-5:] {
			t.Fatalf("the clock of %s reads %s", minute, short.Clock())
		}
		if err == nil && (!short.On(short.Date()) || short.On(short.Add(24*time.Hour).Date())) {
			t.Fatalf("%v does not lie on its date alone", short)
		}
	})
}
