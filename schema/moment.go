package schema

import (
	"fmt"
	"strings"
	"time"
)

// Moment is a clinical time: a civil date and minute, the offset from UTC that
// held there, and the zone's name where it is known. It is written as RFC 9557
// has it, "2026-07-14T09:42+01:00[Europe/London]". The offset and zone come from
// outside (the browser's Intl); this package never looks a zone up.
type Moment struct {
	civil  time.Time // the civil reading, held as if it were UTC
	offset time.Duration
	zone   string
}

// MomentOf is the civil reading with its offset in minutes and its zone ("" if
// not known). It does not judge the date.
func MomentOf(year, month, day, hour, minute, offsetMinutes int, zone string) Moment {
	return Moment{time.Date(year, time.Month(month), day, hour, minute, 0, 0, time.UTC),
		time.Duration(offsetMinutes) * time.Minute, zone}
}

// ParseMoment reads an RFC 9557 time to the minute (seconds are read and
// dropped). The offset is required; the zone in brackets is not. Refused are a
// zone beside "Z", which says that the clock on the wall is not known, and a tag
// marked critical, which this package cannot honour; other tags are dropped.
func ParseMoment(s string) (Moment, error) {
	fail := func() (Moment, error) {
		return Moment{}, fmt.Errorf("%q is not a date and time: expected one like 2026-07-14T09:42+01:00", clip(s))
	}
	text, zone := s, ""
	if m, ok := plainMoment(s); ok {
		return m, nil
	}
	if i := strings.IndexByte(s, '['); i >= 0 {
		tags, ok := strings.CutSuffix(s[i+1:], "]")
		if !ok {
			return fail()
		}
		text = s[:i]
		for j, tag := range strings.Split(tags, "][") {
			named := strings.Contains(tag, "=")
			if tag == "" || strings.ContainsAny(tag, "[]!") || !named && j > 0 {
				return fail()
			}
			if !named {
				zone = tag
			}
		}
		if zone != "" && strings.HasSuffix(text, "Z") {
			return fail()
		}
	}
	if !looksLike(text, "dddd-dd-ddTdd:dd") { // time.Parse takes an hour of one digit
		return fail()
	}
	layout := "2006-01-02T15:04Z07:00"
	if len(text) > 16 && text[16] == ':' {
		layout = "2006-01-02T15:04:05Z07:00"
	}
	t, err := time.Parse(layout, text)
	if err != nil {
		return fail()
	}
	_, off := t.Zone()
	offset := time.Duration(off) * time.Second
	return Moment{t.UTC().Add(offset).Truncate(time.Minute), offset, zone}, nil
}

// plainMoment reads a moment as this package writes it, on a day that every month
// has: nearly all are, and each is read at every drawing of a sheet.
func plainMoment(s string) (Moment, bool) {
	const shape = "dddd-dd-ddTdd:dd+dd:dd"
	if len(s) < len(shape) || !looksLike(s, shape[:16]) || s[16] != '+' && s[16] != '-' || !looksLike(s[17:], shape[17:]) {
		return Moment{}, false
	}
	zone := ""
	if rest := s[len(shape):]; rest != "" {
		if rest[0] != '[' || rest[len(rest)-1] != ']' || len(rest) < 3 || strings.ContainsAny(rest[1:len(rest)-1], "[]!=") {
			return Moment{}, false
		}
		zone = rest[1 : len(rest)-1]
	}
	two := func(i int) int { return int(s[i]-'0')*10 + int(s[i+1]-'0') }
	month, day, hour, minute, offset := two(5), two(8), two(11), two(14), two(17)*60+two(20)
	if month < 1 || month > 12 || day < 1 || day > 28 || hour > 23 || minute > 59 || two(20) > 59 || offset > 14*60 {
		return Moment{}, false
	}
	if s[16] == '-' {
		offset = -offset
	}
	return MomentOf(two(0)*100+two(2), month, day, hour, minute, offset, zone), true
}

// looksLike tells whether text begins with the shape: d is a digit, the rest is
// itself.
func looksLike(text, shape string) bool {
	if len(text) < len(shape) {
		return false
	}
	for i := range len(shape) {
		if digit := text[i] >= '0' && text[i] <= '9'; shape[i] == 'd' && !digit || shape[i] != 'd' && shape[i] != text[i] {
			return false
		}
	}
	return true
}

// IsZero tells whether m was never set.
func (m Moment) IsZero() bool { return m.civil.IsZero() }

// Instant is the moment in UTC.
func (m Moment) Instant() time.Time { return m.civil.Add(-m.offset) }

// Sub is the time that truly passed from other to m, whatever the clocks did.
func (m Moment) Sub(other Moment) time.Duration { return m.Instant().Sub(other.Instant()) }

// Before and After compare instants.
func (m Moment) Before(other Moment) bool { return m.Instant().Before(other.Instant()) }
func (m Moment) After(other Moment) bool  { return m.Instant().After(other.Instant()) }

// Add moves the moment by d, keeping its offset.
func (m Moment) Add(d time.Duration) Moment {
	return Moment{m.civil.Add(d).Truncate(time.Minute), m.offset, m.zone}
}

// Date is the civil date.
func (m Moment) Date() Date { return Date(m.civil.Format("2006-01-02")) }

// On tells whether the moment lies on that date.
func (m Moment) On(d Date) bool {
	var is [16]byte
	return string(m.civil.AppendFormat(is[:0], "2006-01-02")) == string(d)
}

// Clock is the civil reading of the clock, "09:42".
func (m Moment) Clock() string {
	hour, minute, _ := m.civil.Clock()
	return string([]byte{byte('0' + hour/10), byte('0' + hour%10), ':', byte('0' + minute/10), byte('0' + minute%10)})
}

// Zone is the zone's name and the offset in minutes.
func (m Moment) Zone() (name string, offsetMinutes int) {
	return m.zone, int(m.offset / time.Minute)
}

// String writes the moment as RFC 9557 has it.
func (m Moment) String() string {
	if m.IsZero() {
		return ""
	}
	sign, off := '+', m.offset
	if off < 0 {
		sign, off = '-', -off
	}
	s := fmt.Sprintf("%s%c%02d:%02d", m.civil.Format("2006-01-02T15:04"), sign, off/time.Hour, off%time.Hour/time.Minute)
	if m.zone != "" {
		s += "[" + m.zone + "]"
	}
	return s
}

// Shown is what a reader sees: "14-Jul-2026 09:42".
func (m Moment) Shown() string {
	if m.IsZero() {
		return "not recorded"
	}
	return m.civil.Format("02-Jan-2006 15:04")
}

// MarshalText and UnmarshalText carry the moment as RFC 9557 text; "" is zero.
func (m Moment) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (m *Moment) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*m = Moment{}
		return nil
	}
	*m, err = ParseMoment(string(b))
	return err
}

// Date is a calendar date, "2026-07-14", without time or zone.
type Date string

// ParseDate reads a calendar date and refuses one that does not exist.
func ParseDate(s string) (Date, error) {
	if _, err := time.Parse("2006-01-02", s); err != nil {
		return "", fmt.Errorf("%q is not a date: expected one like 2026-07-14", clip(s))
	}
	return Date(s), nil
}

// Shown is what a reader sees: "14-Jul-2026".
func (d Date) Shown() string {
	t, err := time.Parse("2006-01-02", string(d))
	if err != nil {
		return string(d)
	}
	return t.Format("02-Jan-2006")
}

// DaysTo is the number of calendar days from d to later; negative if later lies
// before d. ok is false if either is not a date.
func (d Date) DaysTo(later Date) (days int, ok bool) {
	a, err1 := time.Parse("2006-01-02", string(d))
	b, err2 := time.Parse("2006-01-02", string(later))
	if err1 != nil || err2 != nil {
		return 0, false
	}
	return int((b.Unix() - a.Unix()) / (24 * 60 * 60)), true // a Duration ends at 292 years
}

// AgeShown words an age in whole days as the trade does: days for the first four
// weeks, weeks and days to three months, months to two years, then years and
// months. Common practice, no source.
func AgeShown(birth, on Date) string {
	days, ok := birth.DaysTo(on)
	if !ok {
		return "age not known"
	}
	switch {
	case days < 0:
		return "not yet born on this date"
	case days < 28:
		return plural(days, "day")
	case days < 91:
		if days%7 == 0 {
			return plural(days/7, "week")
		}
		return plural(days/7, "week") + " " + plural(days%7, "day")
	}
	b, _ := time.Parse("2006-01-02", string(birth))
	o, _ := time.Parse("2006-01-02", string(on))
	months := (o.Year()-b.Year())*12 + int(o.Month()) - int(b.Month())
	if o.Day() < b.Day() {
		months--
	}
	if months < 24 {
		return plural(months, "month")
	}
	if months%12 == 0 {
		return plural(months/12, "year")
	}
	return plural(months/12, "year") + " " + plural(months%12, "month")
}

func plural(n int, unit string) string {
	if n == 1 {
		return "1 " + unit
	}
	return fmt.Sprint(n, " ", unit, "s")
}

// clip shortens what is quoted in a sentence.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
