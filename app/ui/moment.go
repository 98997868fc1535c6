package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/app/ui/typed"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// whenWords ask for the moment of what is recorded after it happened.
const whenWords = "At what time, if not now? (before yesterday with its date)"

// unknownTime says beside a time's box that it is not known: the thing was found out
// already. take gets what then stands for the time.
func unknownTime(id, now string, take func(string)) app.UI {
	on := now == ledger.NotKnown
	return app.Div().Class("ticks").Body(safe.Button{ID: id + "-unknown", Class: "pick", Words: "Not known: found out already", Toggle: true, On: on, Press: func(app.Context) {
		take(map[bool]string{false: ledger.NotKnown}[on])
	}}.UI())
}

// moment reads a time of day, which is the last time the clock showed that, or one
// with its date before it; dated tells which.
func (s *Session) moment(text string) (at schema.Moment, dated bool, wrong string) {
	text = strings.TrimSpace(text)
	if text == "" {
		return at, false, ""
	}
	now := civil.Now(s.zone)
	clock := text
	var days []schema.Date
	if i := strings.LastIndex(text, " "); i > 0 {
		if d, bad := typed.Date(text[:i], now.Date(), nil); bad == "" {
			days, clock = append(days, d), text[i+1:]
		}
	}
	h, m, wrong := typed.Clock(clock)
	if wrong != "" {
		return at, false, wrong + " Before it may stand a date, such as 14-Jul-2026 09:42."
	}
	if dated = len(days) > 0; !dated {
		days = append(days, now.Date(), civil.AddDays(now.Date(), -1))
	}
	for _, d := range days {
		if at := civil.Readings(s.zone, d, h, m); len(at) > 0 && !now.Before(at[0]) {
			return at[0], dated, ""
		}
	}
	if dated {
		return at, true, "“" + text + "” is still to come. Enter when it was, or leave it empty for now."
	}
	return now, false, ""
}

// understood says which moment a time is taken for, before it is kept: one that is
// still to come today was yesterday.
func (s *Session) understood(text string) string {
	if text == ledger.NotKnown {
		return "It is recorded as found out now; when it came out stays not known."
	}
	at, dated, wrong := s.moment(text)
	today := civil.Today(s.zone)
	switch {
	case wrong != "" || at.IsZero():
		return ""
	case !dated && at.Date() < today:
		return "Taken as yesterday, " + at.Shown() + ": " + at.Clock() + " today is still to come. If it was another day, enter the date before the time."
	case at.Date() == today:
		return "Today, " + at.Shown()
	case at.Date() == civil.AddDays(today, -1):
		return "Yesterday, " + at.Shown()
	}
	return at.Shown()
}
