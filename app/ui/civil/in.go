package civil

import "time"

// In is a zone that Go knows, with a clock given: for tests, and for pages that
// stand still. In the browser Go knows no zone but fixed ones.
func In(place *time.Location, now func() time.Time) Zone { return given{place, now} }

type given struct {
	place *time.Location
	now   func() time.Time
}

func (g given) Now() time.Time { return g.now() }
func (g given) Name() string   { return g.place.String() }
func (g given) OffsetAt(at time.Time) int {
	_, off := at.In(g.place).Zone()
	return off / 60
}
