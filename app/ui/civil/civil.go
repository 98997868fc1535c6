// Package civil is the clock on the wall: what a civil date and time mean in a
// time zone. A program in the browser cannot load zones, so the browser's Intl
// is asked, behind [Zone]; everything else here is plain arithmetic on it.
package civil

import (
	"slices"
	"time"

	"fairlead/schema"
)

// Zone is the clock and the time zone of the place the device is in.
type Zone interface {
	Now() time.Time            // the instant
	Name() string              // the zone's name, such as "Europe/London"
	OffsetAt(at time.Time) int // minutes ahead of UTC that held at an instant
}

// Now is the present minute as a clinical time.
func Now(z Zone) schema.Moment { return At(z, z.Now()) }

// Today is the date on the wall. It does not ask for the zone's name, which takes a
// browser some 25 ms the first time.
func Today(z Zone) schema.Date {
	_, t := wall(z, z.Now())
	return schema.Date(t.Format("2006-01-02"))
}

// wall is an instant as the clock on the wall shows it, and its offset in minutes.
func wall(z Zone, at time.Time) (off int, t time.Time) {
	off = z.OffsetAt(at)
	return off, at.UTC().Add(time.Duration(off) * time.Minute)
}

// At is an instant as a clinical time.
func At(z Zone, at time.Time) schema.Moment {
	off, t := wall(z, at)
	return schema.MomentOf(t.Year(), int(t.Month()), t.Day(), t.Hour(), t.Minute(), off, z.Name())
}

// Readings lists the moments that a date and a clock reading can mean, earliest
// first: one as a rule, two in the hour that comes twice when clocks go back,
// none in the hour that is missing when they go forward.
func Readings(z Zone, d schema.Date, hour, minute int) []schema.Moment {
	t, err := time.Parse("2006-01-02", string(d))
	if err != nil {
		return nil
	}
	wall := time.Date(t.Year(), t.Month(), t.Day(), hour, minute, 0, 0, time.UTC)
	// Every change of offset known lies within a day of both samples.
	var offs []int
	for _, sample := range []time.Duration{-26 * time.Hour, 26 * time.Hour} {
		off := z.OffsetAt(wall.Add(sample))
		if !slices.Contains(offs, off) && z.OffsetAt(wall.Add(-time.Duration(off)*time.Minute)) == off {
			offs = append(offs, off)
		}
	}
	slices.Sort(offs)
	slices.Reverse(offs) // the larger offset comes first in true time
	var out []schema.Moment
	for _, off := range offs {
		out = append(out, schema.MomentOf(t.Year(), int(t.Month()), t.Day(), hour, minute, off, z.Name()))
	}
	return out
}

// AddDays is the date n days later.
func AddDays(d schema.Date, n int) schema.Date {
	t, err := time.Parse("2006-01-02", string(d))
	if err != nil {
		return d
	}
	return schema.Date(t.AddDate(0, 0, n).Format("2006-01-02"))
}

// Nearest is the date a clock reading is taken to mean beside a moment: "00:10"
// near 23:50 is the day after, "23:50" near 00:10 the day before. What is told
// beside a moment lies more often after it: up to 16 hours after it, and 12 before.
func Nearest(near schema.Moment, hour, minute int) schema.Date {
	c := near.Clock()
	was := int(c[0]-'0')*600 + int(c[1]-'0')*60 + int(c[3]-'0')*10 + int(c[4]-'0')
	switch gap := hour*60 + minute - was; {
	case gap <= -12*60:
		return AddDays(near.Date(), 1)
	case gap > 16*60:
		return AddDays(near.Date(), -1)
	}
	return near.Date()
}
