package ui

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/sheet"
)

var _ = addScreen(screen{name: "labels", title: "Tag labels", child: true, note: true, wide: true, draw: drawLabels,
	enter: func(s *Session) { s.commitHere(); s.labelsSoon(10) }, leave: func(s *Session) { s.sheet.forget() }})

const labelsHost = "labels-host"

// drawLabels shows the strip of tag labels, to be printed and folded round each
// line.
func drawLabels(s *Session) app.UI {
	return app.Div().Body(
		s.noteTabs(),
		app.Div().Class("actions", "sheet-actions").Body(
			safe.Button{ID: "print-labels", Class: "main", Words: "Print the labels", Press: func(app.Context) { safe.Print() }}.UI(),
			linkTo(s.place.With("sheet", ""), "Back to the sheet", "button")),
		app.Div().ID(labelsHost).Class("sheet-host").Role("region").Aria("label", "The labels").TabIndex(0))
}

// labelsSoon puts the labels in their place when it has been drawn.
func (s *Session) labelsSoon(times int) {
	if app.IsServer || times == 0 {
		return
	}
	time.AfterFunc(30*time.Millisecond, func() {
		s.later(func() {
			if _, ok := safe.Element(labelsHost); !ok || s.child == nil {
				s.labelsSoon(times - 1)
				return
			}
			o := s.child.open(s.place.Note)
			l := sheet.LabelsFor(sheet.Facts{Note: o.working, At: s.now(), Profile: s.profile()}, sheet.PaperOf(s.profile()))
			new(safe.Pane).Put(labelsHost, []safe.Block{{ID: "labels", HTML: l.HTML()}})
		})
	})
}
