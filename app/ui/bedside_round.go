package ui

import (
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
)

// openRound is the round of "still needed?" that is open; "" if none is. One that was
// never closed when the next was due is not this round.
func (p *bedsidePane) openRound() ledger.EventID {
	if r := p.S.child.register(); r.Round != nil && r.Round.Closed == nil && !r.Stale {
		return r.Round.ID
	}
	return ""
}

// round asks of every item whether it is still needed, one after the other. It does
// not close over what was not asked: each is named, with the reason.
func (p *bedsidePane) round(r *lines.Register) app.UI {
	c := p.S.child
	body := []app.UI{app.H2().ID("round-title").TabIndex(-1).Text("Still needed?")}
	rd := r.Round
	if rd == nil || rd.Closed != nil || r.Stale {
		words := "No round has been done yet."
		if r.Stale {
			words = "The round begun " + rd.Opened.Shown() + " by " + rd.Author.String() + " was never closed: " + itoa(len(rd.Answers)) + " answered, " + itoa(len(rd.Unasked)) + " not asked. Begin today's; that one is closed as it stands."
		} else if rd != nil {
			words = "Last round closed " + rd.Closed.At.Shown() + " by " + rd.Closed.Author.String() + "."
			if n := len(rd.Closed.Unasked); n > 0 {
				words += " " + itoa(n) + " not asked."
			}
		}
		return app.Div().Class("page", "round").Body(append(body, app.P().Text(words),
			safe.Button{ID: "round-begin", Class: "main", Words: "Begin the round", Off: p.Locked, Press: func(app.Context) {
				var events []ledger.Event
				w := c.writer.Together()
				if r.Stale {
					events = append(events, w.CloseRound(c.rec, rd.ID, "not closed before the next round was due"))
				}
				p.record("The round has begun.", append(events, w.OpenRound())...)
				safe.FocusSoon("round-title")
			}}.UI())...)
	}
	var next *lines.InChild
	var left []string
	for _, id := range rd.Unasked {
		if it, ok := r.Item(id); ok && !it.Implant {
			if next == nil {
				next = &it
			}
			left = append(left, itoa(it.Tag))
		}
	}
	body = append(body, app.P().ID("round-state").Role("status").Text("Begun "+rd.Opened.Shown()+" by "+rd.Author.String()+". "+itoa(len(rd.Answers))+" answered, "+itoa(len(left))+" to ask."))
	if next != nil {
		it := *next
		why := "round-why"
		answer := func(id, words string, needed ledger.Needed, must bool) app.UI {
			return safe.Button{ID: id, Class: "main", Words: words, Name: words + ": tag " + itoa(it.Tag) + ", " + it.Name, Off: p.Locked, Press: func(app.Context) {
				now := time.Now() // a second tap that follows at once is no answer about the next thing
				if now.Sub(p.last) < 350*time.Millisecond {
					return
				}
				reason := strings.TrimSpace(c.half[why])
				if must && reason == "" {
					p.lacks = "Say why it is not asked now."
					safe.FocusSoon("round-why")
					return
				}
				p.last = now
				c.halfTyped(why, "")
				p.record("Still needed? "+neededShown[needed]+": tag "+itoa(it.Tag)+", "+it.Name+".", c.writer.AnswerNeed(rd.ID, it.ID, needed, reason))
				safe.FocusSoon("round-title")
			}}.UI()
		}
		facts := parts(sinceIn(it), it.Seen.Words(r.At))
		if it.Dwell.Limit > 0 {
			facts = append(facts, it.Dwell.Words)
		}
		body = append(body, app.Div().Class("check-what").Body(
			app.Span().Class("flag").Text(safe.Int(it.Tag)), app.Strong().ID("round-item").Text(it.Name),
			app.Span().Class("check-facts").Text(strings.Join(facts, " · "))),
			app.Div().Class("ticks").Body(answer("round-yes", "Still needed", ledger.StillNeeded, false), answer("round-no", "Not needed: to come out", ledger.ToComeOut, false), answer("round-later", "Not asked now", ledger.NotAskedNow, true)),
			app.Label().For("round-why").Text("Why? (what it is used for, or why it is not asked now)"),
			c.halfEntry("round-why", why, 200, p.lacks != "" && p.act == "", nil))
		if p.act == "" {
			body = append(body, p.lacking())
		}
	}
	words := "Close the round"
	if len(left) > 0 {
		words = "Close it with " + itoa(len(left)) + " not asked"
	}
	body = append(body, safe.Button{ID: "round-close", Class: map[bool]string{true: "main", false: "quiet"}[len(left) == 0], Words: words, Off: p.Locked, Press: func(app.Context) {
		if len(left) > 0 {
			if p.act == "round-close" || c.half["round-close"] != "" { // not yet, after all
				p.act = "-"
				c.halfTyped("round-close", "")
				return
			}
			p.act, p.lacks = "round-close", ""
			safe.FocusSoon("round-close-why")
			return
		}
		p.record("The round is closed: every item was asked about.", c.writer.CloseRound(c.rec, rd.ID, ""))
	}}.UI())
	if (p.act == "round-close" || c.half["round-close"] != "") && len(left) > 0 {
		half := "round-close"
		save := func(app.Context) {
			why := strings.TrimSpace(c.half[half])
			if why == "" {
				p.lacks = "Say why these are not asked."
				safe.FocusSoon("round-close-why")
				return
			}
			c.halfTyped(half, "")
			p.record("The round is closed. Not asked: tags "+strings.Join(left, ", ")+".", c.writer.CloseRound(c.rec, rd.ID, why))
		}
		body = append(body, app.Div().Class("answer-form").Role("group").Aria("label", "Close the round").Body(
			app.P().ID("round-unasked").Text("Not asked: tags "+strings.Join(left, ", ")+"."),
			app.Label().For("round-close-why").Text("Why are these not asked?"),
			c.halfEntry("round-close-why", half, 200, p.lacks != "", save), p.lacking(),
			safe.Button{ID: "round-close-save", Class: "danger", Words: "Close the round without them", Press: save}.UI()))
	}
	return app.Div().Class("page", "round").Body(body...)
}

// drained is what came into the chamber of the open item.
func (p *bedsidePane) drained(r *lines.Register, it lines.InChild) app.UI {
	d := it.Drainage
	var body []app.UI
	body = append(body, alert(d.Caution))
	for _, g := range d.Gaps {
		body = append(body, app.P().Class("aside").Text(g))
	}
	for _, of := range slices.Compact([]ledger.ItemID{it.ID, d.Of}) {
		if words := looked(d, of); words != "" {
			body = append(body, app.P().Text(map[bool]string{true: "The chamber: "}[of != it.ID]+words))
		}
	}
	if hasTimed(d.Intervals) {
		body = append(body, lossChart(d.Intervals, r.Losses, "Loss through tag "+itoa(it.Tag)))
	}
	if len(d.Days)+len(d.Across) > 0 {
		body = append(body, lossDays(d.Days, d.Across, r.Losses.Kg, "days-"+string(it.ID)))
	}
	return app.Div().Class("drained").Body(body...)
}

// looked is how a drain, or its chamber, looked when that was said last of it itself:
// drains that share a chamber do not look alike.
func looked(d *lines.Drainage, of ledger.ItemID) string {
	for i := len(d.Readings) - 1; i >= 0; i-- {
		last := d.Readings[i]
		o := last.Facts.Output
		if o == nil || last.Item != of {
			continue
		}
		looks := parts(o.Colour, map[string]string{"yes": "swinging", "no": "not swinging"}[o.Swing], bubblingWords(o.Bubbling), o.Drainage)
		if o.Suction != "" {
			looks = append(looks, "suction "+o.Suction+" cmH2O")
		}
		if len(looks) > 0 {
			return upperFirst(strings.Join(looks, ", ")) + sinceWords(last.By, last.At)
		}
	}
	return ""
}

// tenths is a figure that was worked out, to one decimal.
func tenths(v float64) string { return safe.Number(float64(int(v*10+0.5)) / 10) }

func bubblingWords(s string) string {
	switch s {
	case "":
		return ""
	case "none":
		return "no bubbling"
	case "with-breaths":
		return "bubbling with breaths"
	}
	return "bubbling all the time"
}

// losses are all chest drains together, against the unit's rules.
func (p *bedsidePane) losses(r *lines.Register) app.UI {
	l := r.Losses
	if len(l.Intervals) == 0 {
		return nil
	}
	weight := upperFirst(l.Weight) + ": no figure a kilogram is worked out."
	if l.Kg > 0 {
		weight = "Worked out with " + safe.Number(l.Kg) + " kg (" + l.Weight + ")."
	}
	body := []app.UI{app.H2().Text("Loss through the chest drains"), app.P().Text(weight)}
	body = append(body, alert(l.Caution))
	for _, ru := range l.Rulings {
		class, met := "aside", ""
		if ru.Outcome == calc.Met {
			class, met = "wrong", "MET: "
		}
		body = append(body, app.P().Class(class).Text(met+ru.Rule.Entry.Title+": "+ru.Words+". "+upperFirst(ru.Rule.Entry.Basis())+"."))
	}
	switch {
	case l.Rules == 0:
		body = append(body, app.P().Class("aside").Text("The unit has no rule for loss in force (Unit profile)."))
	case len(l.Rulings)+len(l.Wanted) == 0:
		body = append(body, app.P().Class("aside").Text("The unit's rules for loss cannot be held against this yet: since when it came is not known. The next reading can be."))
	}
	for _, w := range l.Wanted {
		body = append(body, app.P().Class("aside").Text(w.Name+": "+w.Why+". "+w.Do))
	}
	if hasTimed(l.Intervals) {
		body = append(body, lossChart(l.Intervals, l, "Loss through all chest drains"))
	}
	if l.DayCount > 0 {
		body = append(body, app.P().ID("loss-day").Text("Day "+itoa(l.DayCount)+" with a chest drain in."))
	}
	body = append(body, lossDays(l.Days, l.Across, l.Kg, "loss-days"))
	if l.Prolonged != "" {
		body = append(body, app.P().Class("wrong").Text(l.Prolonged))
	}
	return app.Div().Class("page", "losses").ID("losses").Body(body...)
}

// lossDays lists what came on each of the last seven days, and between them what was
// read once over midnight, of which it is not known how much came on which day.
func lossDays(days []lines.DayVolume, across []lines.Interval, kg float64, id string) app.UI {
	var out []app.UI
	over := func(n int) {
		for _, i := range across[:n] {
			out = append(out, app.Li().Text(i.Words(kg)+" in all; how much of it on which day is not known."))
		}
		across = across[n:]
	}
	for _, d := range days {
		words := "Day " + itoa(d.N) + ", " + d.Day.Shown() + ": "
		switch {
		case d.Low:
			words += "at least "
		case d.Of:
			words += "about "
		}
		words += tenths(d.ML) + " mL"
		if kg > 0 {
			words += ", " + tenths(d.ML/kg) + " mL/kg"
		}
		n := 0
		for n < len(across) && across[n].To.Date() <= d.Day {
			n++
		}
		over(n)
		out = append(out, app.Li().Text(words+"."))
	}
	over(len(across))
	if n := len(out) - 7; n > 0 {
		out = append(out[n:], app.Li().Text("The last 7 lines; there are "+itoa(n)+" before them."))
	}
	return app.Ul().Class("known").ID(id).Body(out...)
}

// leftWords says on the banner what is still to be reconciled: an open chest, packs,
// a membrane.
func (c *Child) leftWords() []string {
	l := c.look()
	if l.left == nil {
		l.left = []string{}
		for _, x := range lines.LeftIn(c.rec) {
			words := x.Words
			if x.Tag > 0 {
				words += " (tag " + itoa(x.Tag) + ")"
			}
			l.left = append(l.left, words)
		}
	}
	return l.left
}
