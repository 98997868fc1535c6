package ui

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/ledger"
	"fairlead/handover/lines"
)

// What is half said of what speaks against going home, each with what it is about.
const (
	halfAskedWhy = "going why "
	halfAskedWho = "going who "
)

// asks lists what speaks against ending the stay: nothing where the child goes to
// another ward, which takes it over as it is, or has gone; and nothing yet of a thing
// that may still come out.
func (h *homePane) asks() []lines.Going {
	c := h.S.child
	if c.half[halfWard] != "" || lines.StayOver(c.rec) {
		return nil
	}
	open := unanswered(c.rec)
	return slices.DeleteFunc(lines.GoingHome(c.rec), func(g lines.Going) bool {
		return slices.ContainsFunc(open, func(v ledger.ItemView) bool { return string(v.ID) == g.Key })
	})
}

// openAsks is how many of them have no answer with a reason and a name.
func (h *homePane) openAsks() int {
	n := 0
	for _, g := range h.asks() {
		if h.half(halfAskedWhy+g.Key) == "" || h.half(halfAskedWho+g.Key) == "" {
			n++
		}
	}
	return n
}

// askedPart asks who decided that the child goes home with it, and why.
func (h *homePane) askedPart() app.UI {
	asks := h.asks()
	if len(asks) == 0 {
		return nil
	}
	c := h.S.child
	var rows []app.UI
	for _, g := range asks {
		why, who := halfAskedWhy+g.Key, halfAskedWho+g.Key
		class := "check-row is-answered"
		if h.half(why) == "" || h.half(who) == "" {
			class = "check-row is-unsettled"
		}
		rows = append(rows, app.Li().Class(class).Body(
			app.Div().Class("check-what").Body(app.Strong().Text(g.Words), app.Span().Class("check-answer").Text("Does the child go home with it all the same?")),
			app.Div().Class("answer-form").Role("group").Aria("label", g.Words).Body(
				app.Label().For("asked-why-"+g.Key).Text("Why, and what is arranged?"),
				c.halfEntry("asked-why-"+g.Key, why, 200, h.lacks != "" && h.half(why) == "", nil),
				app.Label().For("asked-who-"+g.Key).Text("Who decided it? (name)"),
				c.halfEntry("asked-who-"+g.Key, who, 80, h.lacks != "" && h.half(who) == "", nil))))
	}
	return app.Div().Class("page").Body(app.H2().ID("asked-title").Text("Asked before the child goes home"), app.Ul().Class("check-list").Body(rows...))
}

// askedSaid tells whether all of it is answered; if not, it says what is not and leads
// there.
func (h *homePane) askedSaid() bool {
	for _, g := range h.asks() {
		if !h.wanted(halfAskedWhy+g.Key, "The stay cannot end yet. "+g.Words+" Say why the child goes home with it, and what is arranged.", "asked-why-"+g.Key) ||
			!h.wanted(halfAskedWho+g.Key, "The stay cannot end yet. "+g.Words+" Say who decided that the child goes home with it.", "asked-who-"+g.Key) {
			return false
		}
	}
	return true
}

// askedAnswers are the answers as the end of the stay keeps them; what was half said is
// spent.
func (h *homePane) askedAnswers() []ledger.Condition {
	var out []ledger.Condition
	for _, g := range h.asks() {
		out = append(out, ledger.Condition{What: g.Words, Answer: h.half(halfAskedWhy+g.Key) + " (decided by " + h.half(halfAskedWho+g.Key) + ")"})
	}
	for _, c := range lines.GoingHome(h.S.child.rec) {
		h.S.child.halfTyped(halfAskedWhy+c.Key, "")
		h.S.child.halfTyped(halfAskedWho+c.Key, "")
	}
	return out
}

// tally says how far it is: what is not answered, or that the stay is over.
func (h *homePane) tally() (class, words string) {
	rec := h.S.child.rec
	if ended, ok := rec.StayEnded(); ok && lines.StayOver(rec) {
		return "is-balanced", "The stay ended " + ended.Happened.Shown() + " (" + ended.Author.String() + "). What is listed here went with the child."
	}
	class, words = "is-open", ""
	if open := unanswered(rec); len(open) > 0 {
		words = openTags(open)
	}
	switch n := h.openAsks(); {
	case n > 0:
		words += map[bool]string{true: " "}[words != ""] + map[bool]string{true: "1 question", false: itoa(n) + " questions"}[n == 1] + " below: does the child go home with it?"
	case words == "":
		class, words = "is-balanced", "Everything is answered."
	}
	return class, words
}

// wentAlong says of a thing in a list that it goes, or went, with the child.
func wentAlong(v ledger.ItemView) app.UI {
	words := lines.Went(v)
	if words == "" {
		return nil
	}
	return app.Strong().Text(": " + words)
}
