package ui

import (
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/safe"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/sorting"
)

// doing is what a person does to the fields of one note. Typing makes a draft,
// which is kept at once; a draft becomes an event on leaving the field, on Enter,
// when typing rests, and when the page is hidden. A tap makes an event at once.
type doing struct {
	s *Session
	o *openNote
}

func (d *doing) can() bool { return d.s.who.Name != "" }

// Type takes text in progress.
func (d *doing) Type(ctx app.Context, at schema.Path, text string) {
	if !d.can() {
		return
	}
	draft := d.o.draft(at)
	draft.Text, draft.Pick, draft.meant = text, nil, false
	d.drafted(at, draft)
}

// TypeDay takes the date beside a time of day, in progress.
func (d *doing) TypeDay(ctx app.Context, at schema.Path, text string) {
	if !d.can() {
		return
	}
	draft := d.o.draft(at)
	draft.Day, draft.Pick, draft.meant = text, nil, false
	if draft.Day == "" {
		draft.Day = " " // emptied, not untouched
	}
	d.drafted(at, draft)
}

// drafted keeps a draft and shows what the checks say of it.
func (d *doing) drafted(at schema.Path, draft Draft) {
	if draft.Wrong != "" { // once told, keep telling the truth
		draft.Wrong = d.o.form().Read(d.o.working.FieldAt(at), at, draft).Wrong
	}
	d.o.begun(at, &draft)
	d.o.drafts[at] = draft
	delete(d.o.twice, at)
	d.o.try(at, draft)
	d.o.changedSection(at.Section())
	d.s.keeper.draft(d.o.key(at), &draft)
	d.o.restSoon(at)
	d.s.sheetSoon()
}

// Leave takes what was typed as meant.
func (d *doing) Leave(ctx app.Context, at schema.Path) { d.o.commit(at, ledger.HowTyped) }

// Pick takes one quick pick.
func (d *doing) Pick(ctx app.Context, at schema.Path, value string) {
	if !d.can() {
		return
	}
	draft := Draft{Text: value}
	if def := d.o.working.FieldAt(at); def != nil && len(def.Enum) > 0 {
		draft = Draft{Pick: []string{value}}
	}
	d.o.drafts[at] = draft
	d.o.commit(at, ledger.HowPick)
}

// Choose takes choices; settled ones at once, others when they rest.
func (d *doing) Choose(ctx app.Context, at schema.Path, values []string, settled bool) {
	if !d.can() {
		return
	}
	if values == nil {
		values = []string{}
	}
	draft := Draft{Pick: values}
	if settled {
		d.o.drafts[at] = draft
		d.o.commit(at, ledger.HowPick)
		return
	}
	d.drafted(at, draft)
}

// Toggle takes one choice of several, or takes it back. It starts from what stands
// now, not from what was drawn: two keys may come between two drawings.
func (d *doing) Toggle(ctx app.Context, at schema.Path, value string, on bool) {
	now := d.o.working.List(at)
	if draft, ok := d.o.drafts[at]; ok && draft.Pick != nil {
		now = draft.Pick
	}
	values := slices.DeleteFunc(slices.Clone(now), func(v string) bool { return v == value })
	if on {
		values = append(values, value)
	}
	if def := d.o.working.FieldAt(at); def != nil && len(def.Enum) > 0 {
		sorting.By(values, func(a, b string) int { return slices.Index(def.Enum, a) - slices.Index(def.Enum, b) })
	}
	d.Choose(ctx, at, values, true)
}

// State takes an answer that is not a value; "" takes it back.
func (d *doing) State(ctx app.Context, at schema.Path, answer string) {
	if d.can() {
		d.o.dropDraft(at)
		d.o.set(at, ledger.Entry{Stated: answer, Origin: ledger.Origin{How: ledger.HowPick}})
	}
}

// SetBound takes "<" or ">" before the number.
func (d *doing) SetBound(ctx app.Context, at schema.Path, bound string) {
	if !d.can() {
		return
	}
	text := strings.TrimLeft(d.o.textOf(at), "<> ")
	if text == "" {
		d.o.say(at, "Enter the figure first, then say that it is less or more.")
		return
	}
	d.o.drafts[at] = Draft{Text: bound + text}
	d.o.commit(at, ledger.HowPick)
}

// Clear makes the field not recorded.
func (d *doing) Clear(ctx app.Context, at schema.Path) {
	if d.can() {
		d.o.dropDraft(at)
		d.o.set(at, ledger.Entry{Origin: ledger.Origin{How: ledger.HowPick}})
	}
}

// Now takes the present minute.
func (d *doing) Now(ctx app.Context, at schema.Path) {
	if d.can() {
		d.o.dropDraft(at)
		d.o.set(at, ledger.Entry{Value: civil.Now(d.s.zone).String(), Origin: ledger.Origin{How: ledger.HowPick}})
	}
}

// Read takes one of the two moments a time can mean.
func (d *doing) Read(ctx app.Context, at schema.Path, moment string) {
	if d.can() {
		d.o.dropDraft(at)
		d.o.set(at, ledger.Entry{Value: moment, Origin: ledger.Origin{How: ledger.HowPick}})
	}
}

// Open opens or closes the rarer answers.
func (d *doing) Open(ctx app.Context, at schema.Path, open bool) {
	if open {
		d.o.more[at] = true
	} else {
		delete(d.o.more, at)
	}
}

// Account goes to what was entered in the field, by whom and when.
func (d *doing) Account(ctx app.Context, at schema.Path) {
	if f := d.o.working.FieldAt(at); f != nil {
		d.s.commitHere()
		d.s.readAccount(at.Item(), string(f.Path))
	}
}

// Settle keeps one of several answers.
func (d *doing) Settle(ctx app.Context, at schema.Path, version int) {
	if !d.can() {
		return
	}
	if dis, ok := d.o.c.disagreement(d.o.id, at); ok && version < len(dis.Values) {
		v := dis.Values[version]
		d.o.dropDraft(at)
		d.o.set(at, ledger.Entry{Value: v.Value, Stated: v.Stated, Bound: v.Bound, Origin: ledger.Origin{How: ledger.HowPick}})
		safe.FocusSoon(widgets.EntryID(at))
	}
}

// Ask opens or closes the place for an answer to a question.
func (d *doing) Ask(ctx app.Context, at schema.Path, rule string, open bool) {
	if open {
		d.o.asking[at] = rule
	} else {
		delete(d.o.asking, at)
	}
}

// halfAnswer names the reason that is half typed for an answer to a question.
func (o *openNote) halfAnswer(at schema.Path, rule string) string {
	return halfAnswers + string(o.id) + " " + string(at) + " " + rule
}

// Because keeps a reason while it is typed.
func (d *doing) Because(at schema.Path, rule, why string) {
	d.o.c.halfTyped(d.o.halfAnswer(at, rule), why)
}

// Reason is the one half typed.
func (d *doing) Reason(at schema.Path, rule string) string {
	return d.o.c.half[d.o.halfAnswer(at, rule)]
}

// Answer takes "yes, really" with its reason.
func (d *doing) Answer(ctx app.Context, at schema.Path, rule, why string) {
	if !d.can() {
		return
	}
	delete(d.o.asking, at)
	d.Because(at, rule, "")
	d.o.commit(at, ledger.HowTyped)
	for _, p := range d.o.problems(at.Section()) {
		if p.Rule == rule && p.Path == at && p.Severity == schema.Question {
			d.o.c.act(d.o.c.writer.AnswerQuestion(d.o.c.rec, d.o.id, p, "yes, really", strings.TrimSpace(why)))
			break
		}
	}
	safe.FocusSoon(widgets.EntryID(at))
}

// AddRow adds an entry to a list, opens it and goes to its first field.
func (d *doing) AddRow(ctx app.Context, list schema.Path) {
	if !d.can() {
		return
	}
	d.o.commitAll()
	row := d.s.ids.New()
	d.o.c.act(d.o.c.writer.AddRow(d.o.c.rec, d.o.id, list, row)...)
	d.o.rows[list] = row
	if def := d.o.working.FieldAt(list); def != nil && len(def.Rows) > 0 {
		safe.FocusSoon(widgets.EntryID(schema.RowPath(list, row, def.Rows[0].Name)))
	}
}

// RemoveRow takes an entry out of a list. Undo brings it back.
func (d *doing) RemoveRow(ctx app.Context, list schema.Path, row string) {
	if !d.can() {
		return
	}
	for at := range d.o.drafts {
		if at.List() == list && at.Row() == row {
			d.o.dropDraft(at)
		}
	}
	d.o.c.act(d.o.c.writer.RemoveRow(d.o.c.rec, d.o.id, list, row))
	safe.FocusSoon(widgets.EntryID(list))
}

// OpenRow opens one entry of a list; another that was open closes.
func (d *doing) OpenRow(ctx app.Context, list schema.Path, row string, open bool) {
	d.o.commitAll()
	if open {
		d.o.rows[list] = row
	} else {
		delete(d.o.rows, list)
	}
}

// draft is the draft of a field, begun from what is recorded.
func (o *openNote) draft(at schema.Path) Draft {
	if d, ok := o.drafts[at]; ok {
		return d
	}
	return Draft{Text: o.textOf(at), Day: ""}
}

// begun notes in a draft what its typing takes the place of.
func (o *openNote) begun(at schema.Path, d *Draft) {
	old, on := o.drafts[at]
	on = on && old.Begun
	d.Begun, d.Saw = true, slices.Clone(old.Saw)
	for _, v := range o.c.rec.Values(o.id, at) {
		e, _ := o.c.rec.Event(v.Event)
		if (!on || e.Writer == o.c.s.writerID) && !slices.Contains(d.Saw, v.Event) {
			d.Saw = append(d.Saw, v.Event)
		}
	}
}

// textOf is what stands in the entry of a field.
func (o *openNote) textOf(at schema.Path) string {
	if d, ok := o.drafts[at]; ok {
		return d.Text
	}
	def := o.working.FieldAt(at)
	if def == nil {
		return ""
	}
	w := widgets.Field{Def: def, At: at}
	o.form().fill(&w)
	return w.Text
}

// say puts a sentence beside a field about what was typed into it.
func (o *openNote) say(at schema.Path, wrong string) {
	d := o.draft(at)
	d.Wrong = wrong
	o.drafts[at] = d
}

// changedSection makes the checks look at a section again, and at the whole note
// when typing rests.
func (o *openNote) changedSection(section string) {
	delete(o.structure, section)
	delete(o.lines, section)
	if section == "items" {
		clear(o.names)
	}
	o.due[section] = true
}

// dropDraft forgets what was being typed into a field.
func (o *openNote) dropDraft(at schema.Path) {
	delete(o.twice, at)
	if _, ok := o.drafts[at]; !ok {
		return
	}
	delete(o.drafts, at)
	o.c.s.keeper.draft(o.key(at), nil)
	o.renew()
}

// commit makes the draft of a field an event, if it can be read; if not, it stays
// where it was typed, with the reason.
func (o *openNote) commit(at schema.Path, how string) {
	d, ok := o.drafts[at]
	if !ok || o.c.s.who.Name == "" {
		return
	}
	if d.meant { // it is recorded: only its letters go
		delete(o.drafts, at)
		o.renew()
		return
	}
	def := o.working.FieldAt(at)
	if def == nil {
		return // from a newer version, or its row is gone: it stays a draft
	}
	r := o.form().Read(def, at, d)
	if r.Wrong != "" {
		d.Wrong = r.Wrong
		o.drafts[at] = d
		if len(r.Twice) > 0 {
			o.twice[at] = r.Twice
		}
		o.write(at, ledger.Entry{Origin: ledger.Origin{How: how}}, d) // also when its first letters were a value
		o.c.s.keeper.draft(o.key(at), &d)
		o.renew()
		return
	}
	e := ledger.Entry{Value: r.Value, Stated: r.State, Bound: r.Bound, Origin: ledger.Origin{How: how}}
	if how == ledger.HowTyped && def.Numeric() {
		if text := strings.TrimSpace(d.Text); text != schema.ShowNumber(text) {
			e.Typed = text
		}
		e.Unit = def.Unit
	}
	delete(o.drafts, at)
	delete(o.twice, at)
	if !o.write(at, e, d) {
		o.c.s.keeper.draft(o.key(at), nil)
	}
	o.renew()
}

// set records an entry and forgets the draft it came from. It tells whether there
// was anything to record: not if it says what stands there already.
func (o *openNote) set(at schema.Path, e ledger.Entry) bool { return o.write(at, e, Draft{}) }

// write is set for what was typed. What another person wrote in the field since the
// typing began is not taken away unseen: both stand, and are shown.
func (o *openNote) write(at schema.Path, e ledger.Entry, d Draft) bool {
	now := o.c.rec.Values(o.id, at)
	if len(now) == 1 && now[0].Same(e) || len(now) == 0 && e.Cleared() {
		return false
	}
	events := []ledger.Event{o.c.writer.Set(o.c.rec, o.id, at, e)}
	if d.Begun {
		if e.Cleared() && !slices.ContainsFunc(now, func(v ledger.Value) bool { return slices.Contains(d.Saw, v.Event) }) {
			return false // nothing to take away that was seen
		}
		events = []ledger.Event{o.c.writer.SetSeen(o.c.rec, o.id, at, e, d.Saw)}
	}
	o.c.take(events)
	o.c.s.keeper.append(events, o.key(at))
	return true
}

// key names the draft of a field: the draft without its text.
func (o *openNote) key(at schema.Path) ledger.Draft {
	return ledger.Draft{Case: o.c.id, Note: o.id, Path: at, Writer: o.c.s.writerID}
}

// commitAll makes every draft of the note that can be read an event.
func (o *openNote) commitAll() {
	for _, at := range o.sortedDrafts() {
		o.commit(at, ledger.HowTyped)
	}
}

// restSoon commits a field when typing has rested.
func (o *openNote) restSoon(at schema.Path) {
	if t := o.resting[at]; t != nil {
		t.Stop()
	}
	o.resting[at] = time.AfterFunc(rest, func() {
		o.c.s.later(func() {
			delete(o.resting, at)
			if o.c == o.c.s.child {
				o.rested(at, inField(at))
			}
		})
	})
}

// rested takes what was typed as meant when typing has rested. While the focus is
// in the field its letters stay as they are: "3." may go on as "3.5".
func (o *openNote) rested(at schema.Path, here bool) {
	d, ok := o.drafts[at]
	if !ok || d.meant {
		return
	}
	o.commit(at, ledger.HowTyped)
	if _, still := o.drafts[at]; here && !still && d.Pick == nil {
		d.meant, d.Wrong = true, ""
		o.drafts[at] = d
	}
}

// inField tells whether the focus is in the field.
func inField(at schema.Path) bool {
	id := safe.Focused()
	return id != "" && (id == widgets.EntryID(at) || id == widgets.DayID(at))
}

// act takes new events into the record and hands them to the store.
func (c *Child) act(events ...ledger.Event) {
	if len(events) == 0 {
		return
	}
	c.take(events)
	c.s.keeper.append(events)
	if linking(events) { // other lines of the list change too, once it is kept
		c.s.keeper.whenKept(c.s.readList)
	}
}

// take takes events into the record, from here or from another tab.
func (c *Child) take(events []ledger.Event) {
	for _, e := range events {
		if !c.rec.Has(e.ID) {
			c.s.worked.Took(e)
		}
	}
	c.rec.Apply(events...)
	c.relink(events)
	for _, o := range c.notes {
		o.renew()
	}
	c.s.sheetSoon()
	c.s.listChanged(c)
}

func (c *Child) disagreement(note ledger.NoteID, at schema.Path) (ledger.Disagreement, bool) {
	all := c.look().disagree
	i := slices.IndexFunc(all, func(d ledger.Disagreement) bool { return d.Path == at && (d.Note == "" || d.Note == note) })
	if i < 0 {
		return ledger.Disagreement{}, false
	}
	return all[i], true
}
