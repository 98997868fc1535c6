package ui

import (
	"time"

	"fairlead/app/ui/civil"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// halfOldAfter is how long a form that was not recorded is taken for the same reading
// still. Common practice, no source.
const halfOldAfter = 30 * time.Minute

// Beside what is half typed into a form stand, as moments, when it was begun and when its
// time was typed; and what was asked about its figures.
const halfBegun, halfTimed, halfDoubt = "begun", "timed", "doubt"

// typedIn keeps what was typed into a form or tapped in it. A time that was typed long
// ago was another reading's: with the first answer that is given anew it goes.
func (p *bedsidePane) typedIn(a *bedsideAction, it lines.InChild, key, text string) {
	c, now := p.S.child, civil.Now(p.S.zone).String()
	delete(p.wrong, a.name+"-"+string(it.ID)+"-"+key)
	switch {
	case key == "when":
		p.spent = ""
		if c.halfTyped(a.half(it)+halfTimed, now); text == "" {
			c.halfTyped(a.half(it)+halfTimed, "")
		}
	case key != "sure" && key != "because" && text != c.half[a.half(it)+key]:
		p.dropOld(a, it)
	}
	c.halfTyped(a.half(it)+key, text)
	if text != "" && c.half[a.half(it)+halfBegun] == "" {
		c.halfTyped(a.half(it)+halfBegun, now)
	}
	p.tidyHalf(a, it)
}

// tidyHalf forgets when a form was begun once nothing stands in it.
func (p *bedsidePane) tidyHalf(a *bedsideAction, it lines.InChild) {
	c := p.S.child
	for _, q := range p.asksOf(a, it) {
		if c.half[a.half(it)+q.key] != "" {
			return
		}
	}
	for _, key := range []string{halfBegun, halfTimed, halfDoubt} {
		c.halfTyped(a.half(it)+key, "")
	}
}

// dropOld takes the time out of a form if it was typed for an earlier reading, and says
// so beside its box.
func (p *bedsidePane) dropOld(a *bedsideAction, it lines.InChild) {
	c := p.S.child
	text, timed := c.half[a.half(it)+"when"], c.half[a.half(it)+halfTimed]
	ago, at, old := p.oldSince(timed)
	if text == "" || !old {
		return
	}
	c.halfTyped(a.half(it)+"when", "")
	c.halfTyped(a.half(it)+halfTimed, "")
	p.spent = "The time “" + text + "” was typed " + ago + " ago, " + at.Shown() + ", for a reading that was not recorded, and is taken out. Enter the time of this one, if it is not now."
	p.tidyHalf(a, it)
}

// oldSince reads a moment kept beside a form; old tells whether it is longer ago than a
// reading takes.
func (p *bedsidePane) oldSince(text string) (ago string, at schema.Moment, old bool) {
	at, err := schema.ParseMoment(text)
	if err != nil {
		return "", at, false
	}
	d := civil.Now(p.S.zone).Sub(at)
	return lines.Span(d), at, d > halfOldAfter
}

// halfOld says how old a form is that was half filled in and not recorded, and its time;
// "" where it is not old.
func (p *bedsidePane) halfOld(a *bedsideAction, it lines.InChild) string {
	c := p.S.child
	ago, at, old := p.oldSince(c.half[a.half(it)+halfBegun])
	if !old {
		return ""
	}
	words := "Half filled in " + ago + " ago, " + at.Shown() + ", and not recorded."
	switch when := c.half[a.half(it)+"when"]; {
	case when == "":
		return words + " No time stands in it: recorded, it would be of now. Leave it, or enter the time it was."
	default:
		if ago, at, old := p.oldSince(c.half[a.half(it)+halfTimed]); old {
			return words + " Its time, “" + when + "”, was typed " + ago + " ago, " + at.Shown() + ". For another reading, leave this one first."
		}
	}
	return words
}
