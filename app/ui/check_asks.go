package ui

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/app/ui/typed"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
)

// figureDoubt is what the note would say of a figure of an item at the bed; ok is false
// for nothing.
func figureDoubt(stage schema.Kind, it schema.Item, field, decimal string) (d lines.Doubt, ok bool) {
	v, err := strconv.ParseFloat(decimal, 64)
	if err != nil {
		return d, false
	}
	return lines.AttributeDoubt(stage, it, field, v)
}

// doubtOf is what the note would ask of a difference; "" for nothing.
func (a *otherAnswer) doubtOf(d ledger.Difference) string {
	def := figureAt(a.Entry.Item, d.Field)
	if def == nil {
		return ""
	}
	var stage schema.Kind
	if v, ok := a.Pane.S.child.rec.NoteView(a.Pane.Note); ok {
		stage = v.Kind
	}
	n, _ := typed.Number(d.Bedside, def)
	if doubt, ok := figureDoubt(stage, a.Entry.Item, d.Field, string(n.Decimal)); ok {
		return doubt.What
	}
	return ""
}

// usual tells whether a difference can be taken as it is: an unusual figure is asked
// about first, and taken by a button of its own, so that a second tap that follows at
// once is no answer.
func (a *otherAnswer) usual(d ledger.Difference) bool {
	a.Asked = ledger.Difference{}
	if a.doubtOf(d) != "" {
		a.Asked = d
		a.keep()
		safe.FocusSoon("differs-value-" + a.Key) // not on the answer: a second Enter would give it
		return false
	}
	return true
}

// askSure is the way to say that the unusual figure in the box is right; another figure
// there is asked about anew.
func (a *otherAnswer) askSure() []app.UI {
	words, _ := bedsideValue(a.Entry.Item, a.Asked.Field, a.Value)
	if a.Asked.Field == "" || a.Asked.Field != a.Field || a.Asked.Bedside != words {
		return nil
	}
	yes := "Yes, " + words + " is right: read again"
	if a.Ends {
		yes += ", record it"
	}
	return []app.UI{alert(a.doubtOf(a.Asked) + " Is it right?"), safe.Button{ID: "differs-sure-" + a.Key, Class: "pick", Words: yes, Press: func(app.Context) { a.sure() }}.UI()}
}

// sure takes the figure that was asked about, and records the answer if that was asked for.
func (a *otherAnswer) sure() {
	d := a.Asked
	d.Sheet = a.sheetSays(d.Field)
	a.Found = append(a.Found, d)
	a.Field, a.Value, a.lacks, a.Asked = "", "", "", ledger.Difference{}
	if a.Ends {
		a.give(a.unusual(a.Entry.Differs(a.Found...)))
		return
	}
	a.keep()
	safe.FocusSoon("differs-off-" + safe.Int(len(a.Found)-1) + "-" + a.Key) // it says what was taken, and is new: what stands is drawn anew
}

// sheetSays is how an attribute stands on the sheet.
func (a *otherAnswer) sheetSays(field string) string {
	for _, d := range lines.Differences(a.Entry.Item) {
		if d.Field == field {
			return d.Sheet
		}
	}
	return ""
}

// unusual says in an answer which of its figures are unusual: they were asked about.
func (a *otherAnswer) unusual(v ledger.CheckView) ledger.CheckView {
	var asked []string
	for _, d := range v.Differs {
		if what := a.doubtOf(d); what != "" {
			asked = append(asked, "asked, and right: "+strings.TrimSuffix(lowerFirst(what), "."))
		}
	}
	v.Note = strings.Join(append(parts(v.Note), asked...), "; ")
	return v
}
