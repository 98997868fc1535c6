package rules

import (
	"fmt"
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

var drainRules = []entry{
	{Rule{"drain-without-drainage", "A drain with neither suction, gravity nor water seal", schema.Error, ranges},
		[]string{"items"}, drainWithoutDrainage},
	{Rule{"pleura-without-drain", "An opened pleura with no drain", schema.Question, ranges},
		[]string{"approach", "items", "removals"}, pleuraWithoutDrain},
	{Rule{"drain-reading-falls", "A chamber that reads less than before, neither emptied nor changed", schema.Question, ranges},
		[]string{"items"}, drainFalls},
	{Rule{"drain-stopped", "A drain that stopped suddenly", schema.Question, ranges},
		[]string{"items"}, drainStopped},
}

func drainWithoutDrainage(l *look) {
	good := []string{"suction", "gravity", "water-seal"}
	for _, it := range l.items("drain") {
		if slices.Contains(good, it.Text("drainage")) {
			continue
		}
		if ch, ok := l.listed(it.Text("chamber")); ok && it.Text("drainage") == "" && slices.Contains(good, ch.Text("drainage")) {
			continue // it drains as its chamber does
		}
		at := it.Path("drainage")
		l.find(at, fmt.Sprintf("%s: neither suction, gravity nor water seal.", l.said(at)), "Look at the drain now: open it, and say how it drains.")
	}
}

func pleuraWithoutDrain(l *look) {
	for _, c := range []struct {
		at      schema.Path
		variety string
	}{{schema.ApproachRightPleura, "right-pleural"}, {schema.ApproachLeftPleura, "left-pleural"}} {
		if l.is(c.at, "opened") && len(l.stillIn("drain", c.variety)) == 0 {
			l.find(c.at, fmt.Sprintf("%s, and no drain of that side is listed.", l.said(c.at)), "List the drain, or say why there is none.")
		}
	}
}

// readingsOf lists the readings of one drain or chamber, oldest first, the levels
// the note itself holds among them.
func (l *look) readingsOf(id string) []Reading {
	var out []Reading
	for _, r := range l.ctx.Readings {
		if r.Item == id {
			out = append(out, r)
		}
	}
	sorting.By(out, func(a, b Reading) int { return a.At.Instant().Compare(b.At.Instant()) })
	return out
}

func drainFalls(l *look) {
	for _, it := range l.listedAll() {
		if it.Kind != "drain-chamber" && it.Kind != "drain" {
			continue
		}
		if left, ok := it.Number("level"); ok && it.Kind == "drain-chamber" {
			if arrived, ok := it.Number("levelArrival"); ok && arrived < left {
				at := l.at(it, "levelArrival")
				l.find(at, fmt.Sprintf("Level on arrival %s mL is below level on leaving %s mL (%s).", it.Decimal("levelArrival"), it.Decimal("level"), name(it)),
					"Read the chamber again, or say that it was emptied or changed.", l.at(it, "level"))
			}
		}
		rs := l.readingsOf(it.ID)
		for i, r := range rs {
			if i > 0 && !r.Emptied && r.Level < rs[i-1].Level {
				l.find(l.at(it, "level"), fmt.Sprintf("%s reads %s mL at %s, below %s mL before.", name(it), shown(r.Level), r.At.Shown(), shown(rs[i-1].Level)),
					"Read the chamber again, or say that it was emptied or changed.")
			}
		}
	}
}

// drainStopped compares the last readings with the rate before them. A stopped
// drain is never an improvement by itself: it may be blocked, or hide tamponade.
func drainStopped(l *look) {
	part, ok1 := l.number(profile.DrainStopFraction)
	last, ok2 := l.number(profile.DrainStopReadings)
	if !ok1 || !ok2 {
		return
	}
	for _, it := range l.listedAll() {
		if it.Kind != "drain-chamber" && it.Kind != "drain" {
			continue
		}
		rs := l.readingsOf(it.ID)
		n := len(rs) - 1 - int(last) // the reading the quiet time starts from
		if n < 1 {
			continue
		}
		before, known1 := rate(rs[:n+1])
		after, known2 := rate(rs[n:])
		if known1 && known2 && before > 0 && after < part*before {
			l.find(l.at(it, "level"), fmt.Sprintf("%s drained %s mL an hour until %s and %s mL an hour since.", name(it), shown(before), rs[n].At.Shown(), shown(after)),
				"Blocked, or tamponade? Look now, and say what was found.")
		}
	}
}

// rate is the loss an hour over readings, emptied chambers begun again at 0.
func rate(rs []Reading) (perHour float64, ok bool) {
	hours := rs[len(rs)-1].At.Sub(rs[0].At).Hours()
	if hours <= 0 {
		return 0, false
	}
	loss := 0.0
	for i := 1; i < len(rs); i++ {
		if rs[i].Emptied {
			loss += rs[i].Level
		} else {
			loss += rs[i].Level - rs[i-1].Level
		}
	}
	return loss / hours, true
}
