package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// What is half typed into a form that is not a field of a note, such as the reason
// for taking an item off the list, is a draft too: kept at once, and there again
// after the tablet was switched off. Its path begins with halfPath, which is no
// section of any note.
const halfPath = "half."

// halfAnswers begins the name of a reason for an answer; the note, the field and
// the rule follow.
const halfAnswers = "answer "

// halfTyped remembers what stands in a form under a name; "" forgets it.
func (c *Child) halfTyped(name, text string) {
	key := ledger.Draft{Case: c.id, Path: schema.Path(halfPath + name), Writer: c.s.writerID}
	if text == "" {
		if c.half[name] != "" {
			delete(c.half, name)
			c.s.keeper.draft(key, nil)
		}
		return
	}
	c.half[name] = text
	c.s.keeper.draft(key, &Draft{Text: text})
}

// takeHalf takes up what was half typed into a form; ok is false if the draft is
// of a field.
func (c *Child) takeHalf(d ledger.Draft, draft Draft) (ok bool) {
	name, ok := strings.CutPrefix(string(d.Path), halfPath)
	if !ok {
		return false
	}
	if c.half[name] == "" {
		c.half[name] = draft.Text
	}
	if words := strings.Fields(name); strings.HasPrefix(name, halfAnswers) && len(words) == 4 {
		c.open(ledger.NoteID(words[1])).asking[schema.Path(words[2])] = words[3]
	}
	if d.Writer != c.s.writerID || d.Case != c.id { // from now on it is this tab's
		c.halfTyped(name, c.half[name])
		c.s.keeper.draft(d.Place(), nil)
	}
	return true
}

// halfPicks asks what is answered by a tap, and kept under a name: each answer with its
// words. The button of one has its answer between the two parts of an id.
func (c *Child) halfPicks(before, after, name, ask string, answers [][2]string) app.UI {
	var picks []app.UI
	for _, x := range answers {
		picks = append(picks, safe.Button{ID: before + x[0] + after, Class: "pick", Words: x[1], Toggle: true, On: c.half[name] == x[0], Press: func(app.Context) { c.halfTyped(name, x[0]) }}.UI())
	}
	return app.Div().Role("group").Aria("label", ask).Body(app.P().Text(ask), app.Div().Class("ticks").Body(picks...))
}

// halfEntry is a line of a form whose text is kept under a name while it is typed.
func (c *Child) halfEntry(id, name string, max int, wrong bool, enter func(app.Context)) app.UI {
	return safe.Entry{ID: id, Value: c.half[name], Max: max, Wrong: wrong, Type: func(_ app.Context, t string) { c.halfTyped(name, t) }, Enter: enter}.UI()
}
