// Package ui is what people see and touch: the screens, one file a screen.
//
// The key type is [Session]: what one tab has open. It holds who is writing, the
// [Place] on screen, the [Child] there with its ledger.Record and what this tab
// is typing, and the keeper that hands what was done to the device's store and
// says truthfully how far that is. [Form] turns a note into widgets.Field values,
// which package widgets draws; package safe holds the guarded elements, civil the
// clock and the zones, typed the reading of what was typed.
//
//	s := newSession(civil.Here(), rand.Reader)
//	app.RouteWithRegexp("^/.*", func() app.Composer { return &frame{s: s} })
//
// # To add a screen
//
// Write one file. Add the screen to the table with its name, which is its address:
// "review" is shown at /child/<case>/note/<note>/review.
//
//	var _ = addScreen(screen{name: "review", title: "Review and sign", child: true, note: true, draw: drawReview})
//
//	func drawReview(s *Session) app.UI {
//		o := s.child.open(s.place.Note) // the note as this tab has it open
//		o.all()                         // every problem, sorted
//		…
//	}
//
// Drawing is a pure function of the session. It runs again after every event of
// the page: keep it cheap, or put a part into a component whose exported fields
// are all it shows (the framework leaves that alone while they are equal; see
// fieldList and rail). Function fields are never equal: put them in components
// that are few and small.
//
// Elements that take input come from package safe only, a field of a note from
// widgets.Slot only; guarded_test.go holds it. Everything tapped is 44 px high or
// more, has words, and does not depend on colour. Links go to a Place; use
// safe.FocusSoon to take the focus to what appears. Ids come from what they name,
// never from data about a child.
//
// # To record something
//
// Make events with s.child.writer and hand them to s.child.act: the record takes
// them, the store keeps them, other tabs hear of them, and the screen is drawn
// again. Before reading the record for something final call s.commitHere, which
// takes what is being typed as meant.
//
//	s.child.act(s.child.writer.SignNote(s.child.rec, note, open))
//
// What is typed into a form that is no field of a note, such as a reason, stands in
// Child.halfEntry under a name of its own, which keeps it as a draft; forget it with
// Child.halfTyped when the form is done.
//
// Slow work runs in a goroutine under safe.Guard and comes back with s.later.
package ui
