package ui

import (
	"cmp"
	"context"
	"encoding/json"
	"slices"
	"strings"

	"fairlead/app/ui/safe"
	"fairlead/handover/calc/values"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/rules"
	"fairlead/schema/sorting"
)

// start opens the device's store and reads what is kept.
func (s *Session) start() {
	if s.who.Name == "" { // somebody quick may have said so already
		s.who = ledger.Author{Name: remembered("name"), Role: remembered("role")}
	}
	s.locked = remembered("locked") != ""
	s.look = settled("look")
	chooseLook(s.look)
	s.readSettings()
	go safe.Guard("start", func() {
		ctx := context.Background()
		opened, err := openStore(ctx, s)
		if err != nil {
			s.later(func() {
				s.storeTrouble = notKeptWords(err)
				s.keeper.forgets(s.storeTrouble)
			})
		}
		s.later(func() {
			s.store, s.device = opened.log, opened
			go safe.Guard("keeping", func() { s.keeper.run(ctx) })
			s.readList()
			if s.place.Case != "" {
				s.openChild(s.place.Case)
			} else if s.shown.enter != nil { // it was entered before there was anything to read
				s.shown.enter(s)
			}
		})
		promise := opened.promise(ctx)
		s.later(func() { s.persistent = promise })
	})
}

func sortList(list []listed) {
	sorting.By(list, func(a, b listed) int {
		return cmp.Or(cmp.Compare(plainKey(a.Surname), plainKey(b.Surname)), cmp.Compare(a.Given, b.Given), cmp.Compare(a.Case, b.Case))
	})
}

func plainKey(s string) string { return string(plainName(s)) }

// lineOf words a child's record for the list.
func lineOf(rec *ledger.Record) listed {
	l := listed{Case: rec.Case(), Cases: rec.Cases(), identity: identityIn(rec), Offers: len(rec.Offers()), Held: rec.RegisterTally().Held}
	for _, it := range rec.Child().Items() {
		if serial := it.Text("serial"); serial != "" {
			l.Serials = append(l.Serials, serial)
		}
	}
	notes := rec.Notes()
	if len(notes) == 0 {
		l.Last = "no note yet"
		return l
	}
	last := notes[len(notes)-1]
	l.Last = noteName(rec, last)
	switch st := rec.Standing(last.ID); {
	case st.Amended:
		l.State = "amended after signing"
	case st.Signed != nil:
		l.State = "signed"
	default:
		l.State = "not signed"
	}
	return l
}

// identityIn reads who the child is, with the latest weight on record.
func identityIn(rec *ledger.Record) identity {
	id := identityOf(rec.Child())
	id.Two = disputed{inDispute(rec, "", schema.ChildSurname), inDispute(rec, "", schema.ChildGivenName),
		inDispute(rec, "", schema.ChildHospitalNumber), inDispute(rec, "", schema.ChildBirthDate)}
	for _, v := range rec.Notes() {
		n := rec.Note(v.ID)
		if n == nil {
			continue
		}
		if w := weightIn(rec, v.ID, n); w != "" {
			id.Weight = w
		}
	}
	return id
}

// weightIn is the weight in a note with its date, or "".
func weightIn(rec *ledger.Record, id ledger.NoteID, n *schema.Note) string {
	if !n.Has(schema.MeasuresWeight) {
		return inDispute(rec, id, schema.MeasuresWeight)
	}
	w := schema.Show(schema.FieldAt(schema.MeasuresWeight), n, schema.MeasuresWeight)
	if d := n.Text(schema.MeasuresWeightDate); d != "" {
		return w + " on " + schema.Date(d).Shown()
	}
	return w + ", date not recorded"
}

// noteName is a note's kind with its date.
func noteName(rec *ledger.Record, v ledger.NoteView) string {
	name := "A newer kind of note"
	if k := schema.KindNamed(v.Kind); k != nil {
		name = k.Title
	}
	day := v.Happened.Date()
	if n := rec.Note(v.ID); n != nil && n.Text(schema.OperationDate) != "" {
		day = schema.Date(n.Text(schema.OperationDate))
	}
	return name + ", " + day.Shown()
}

// openChild reads a child's record for the screens.
func (s *Session) openChild(c ledger.CaseID) {
	if s.child != nil && s.child.id == c {
		return
	}
	s.child = nil
	s.opening = c != ""
	if c == "" || s.store == nil {
		return
	}
	go safe.Guard("open", func() {
		ctx := context.Background()
		rec, err := ledger.Load(ctx, s.store, c)
		var drafts []ledger.Draft
		for _, joined := range rec.Cases() {
			more, err2 := s.store.Drafts(ctx, joined)
			drafts, err = append(drafts, more...), cmp.Or(err, err2)
		}
		others := s.device.writers(ctx)
		s.later(func() {
			if s.place.Case != c {
				return // gone elsewhere meanwhile
			}
			s.opening = false
			s.unread(err)
			if rec.Len() == 0 {
				return
			}
			s.child = s.newChildOf(rec)
			s.child.takeDrafts(drafts, others)
			s.shown = s.screenAt()
			if s.shown.enter != nil {
				s.shown.enter(s)
			}
			s.sheetDrawn()
		})
	})
}

// newChildOf is a record ready to be worked on.
func (s *Session) newChildOf(rec *ledger.Record) *Child {
	c := &Child{s: s, id: rec.Case(), rec: rec, notes: map[ledger.NoteID]*openNote{}, loaded: map[ledger.CaseID]bool{}, half: map[string]string{}}
	for _, joined := range rec.Cases() {
		c.loaded[joined] = true
	}
	c.writer = ledger.NewWriter(c.id, s.writerID, s.who, s.clock, s.ids, s.now)
	c.writer.Observe(rec.Events()...)
	return c
}

// takeDrafts takes up what was being typed when the app last stopped. Drafts of a
// tab that is still open stay that tab's.
func (c *Child) takeDrafts(drafts []ledger.Draft, others map[ledger.WriterID]bool) {
	for _, d := range drafts {
		var draft Draft
		if json.Unmarshal([]byte(d.Text), &draft) != nil || others[d.Writer] && d.Writer != c.s.writerID {
			continue
		}
		if c.takeHalf(d, draft) {
			continue
		}
		o := c.open(d.Note)
		if _, ok := o.drafts[d.Path]; ok {
			continue
		}
		o.drafts[d.Path] = draft
		if d.Writer != c.s.writerID || d.Case != c.id { // from now on it is this tab's
			c.s.keeper.draft(o.key(d.Path), &draft)
			c.s.keeper.draft(d.Place(), nil)
		}
	}
	for _, o := range c.notes {
		o.renew()
	}
}

// identity is who the child is, drafts included.
func (c *Child) identity() identity {
	id := identityIn(c.rec)
	if o := c.notes[c.s.place.Note]; o != nil && o.working != nil {
		now := identityOf(o.working)
		now.Two = id.Two
		now.Weight = id.Weight
		if w := weightIn(c.rec, o.id, o.working); w != "" {
			now.Weight = w
		}
		if words := o.unread(schema.MeasuresWeight); words != "" {
			now.Weight = words
		}
		if words := o.unread(schema.ChildBirthDate); words != "" {
			now.Two.Birth = words
		}
		return now
	}
	return id
}

// unread words what stands in a box and cannot be read, or is "". No older value is
// shown in its place.
func (o *openNote) unread(at schema.Path) string {
	d, ok := o.drafts[at]
	if text := strings.TrimSpace(d.Text); ok && text != "" && !o.working.Answered(at) {
		return "“" + clipped(text, 20) + "” cannot be read"
	}
	return ""
}

// context is what a note is checked against beside itself.
func (c *Child) context(note ledger.NoteID) rules.Context {
	l := c.look()
	ctx, ok := l.contexts[note]
	if !ok {
		ctx = values.ContextOf(c.rec, note, c.s.profile())
		l.contexts[note] = ctx
	}
	ctx.Now = c.s.now()
	ctx.Asked = values.AskedOf(c.rec, note, c.s.profile())
	for _, other := range c.s.list {
		if !other.is(c.id) {
			ctx.OtherChildren = append(ctx.OtherChildren, rules.Like{Case: string(other.Case), Surname: other.Surname, GivenName: other.Given, BabyOf: other.BabyOf,
				BirthDate: string(other.Birth), HospitalNumber: other.Number, Serials: other.Serials})
		}
	}
	return ctx
}

// listChanged puts a changed child into the list.
func (s *Session) listChanged(c *Child) {
	s.listLine(lineOf(c.rec))
}

// listLine puts a line in its place in the list.
func (s *Session) listLine(l listed) {
	s.list = slices.DeleteFunc(s.list, func(x listed) bool { return x.is(l.Case) || slices.ContainsFunc(x.Cases, l.is) })
	s.list = append(s.list, l)
	sortList(s.list)
}
