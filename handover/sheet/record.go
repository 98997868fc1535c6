package sheet

import (
	"slices"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// Build makes the sheet of one note of a child's record on A4. at is when it is
// made. It is nil if nothing in the record speaks of the note.
func Build(rec *ledger.Record, note ledger.NoteID, prof *profile.Profile, at schema.Moment) *Sheet {
	f, ok := FromRecord(rec, note, prof, at)
	if !ok {
		return nil
	}
	return Make(f, A4)
}

// FromRecord gathers the facts of one note from a child's record; ok is false if
// nothing in the record speaks of the note.
func FromRecord(rec *ledger.Record, note ledger.NoteID, prof *profile.Profile, at schema.Moment) (f Facts, ok bool) {
	own := rec.Note(note)
	if own == nil {
		return Facts{}, false
	}
	f = Facts{Note: rec.Whole(note), Profile: prof, At: at, About: calc.FromRecord(rec, note), News: map[string]News{}, Fates: map[string]Fate{}, Opinions: map[schema.Path][]Opinion{}}
	open := 0
	for _, p := range schema.Validate(own) {
		if p.Severity == schema.Missing && !slices.Contains(SaidBySigning, p.Path) {
			open++
		}
	}
	for _, d := range rec.Disagreements() {
		if d.Note != "" && d.Note != note {
			continue
		}
		field := f.Note.FieldAt(d.Path)
		for _, v := range d.Values {
			f.Opinions[d.Path] = append(f.Opinions[d.Path], Opinion{Shown: v.Shown(field, f.Note), By: v.Author.Name, At: v.Happened})
		}
		if field != nil && field.Required.By(f.Note.Kind()) {
			open-- // it is recorded, twice over
		}
	}
	f.Open = new(int)
	*f.Open = max(0, open)
	f.items(rec, note)
	left, timed := f.Note.Moment(schema.OperationLeftTheatre)
	for _, x := range lines.LastOutputs(rec) {
		if _, in := f.Note.Item(string(x.Item)); in && !(timed && x.At.Before(left)) {
			f.Drained = append(f.Drained, x)
		}
	}
	f.Checks[Leaving] = checkOf(rec, note, ledger.Leaving)
	f.Checks[Arrival] = checkOf(rec, note, ledger.Arrival)
	for _, l := range lines.LeftIn(rec) {
		if l.Cut {
			f.Inside = append(f.Inside, l)
		}
	}
	f.standing(rec, note)
	stages := &f.Earlier
	for _, n := range rec.Notes() {
		if n.ID == note {
			stages = &f.Later
			continue
		}
		day, plan := schema.Date(""), map[schema.Path]int{}
		if other := rec.Note(n.ID); other != nil {
			day = schema.Date(other.Text(schema.OperationDate))
			for _, p := range []schema.Path{schema.PlanWorries, schema.PlanTargets, schema.PlanCalls} {
				plan[p] = len(other.Rows(p))
			}
		}
		*stages = append(*stages, Stage{Kind: n.Kind, Date: day, Plan: plan})
	}
	for _, fault := range rec.Faults() {
		f.Faults = append(f.Faults, fault.What+" "+fault.Do)
	}
	for _, p := range rec.Problems(note) {
		if p.Rule != ledger.RuleDisagreement && p.Rule != ledger.RuleTagTwice && p.Rule != ledger.RuleAnswersDiffer {
			f.Faults = append(f.Faults, p.What+" "+p.Do)
		}
	}
	return f, true
}

// items says of each item whether it is new, and which are no longer in.
func (f *Facts) items(rec *ledger.Record, note ledger.NoteID) {
	out := map[string]bool{}
	for _, row := range f.Note.Rows(schema.RemovalsOut) {
		out[f.Note.Text(schema.RowPath(schema.RemovalsOut, row, "item"))] = true
	}
	for _, id := range f.Note.OldSupplyOut() {
		out[id] = true
	}
	ended, timed := f.Note.Moment(schema.OperationClosed)
	opened, _ := rec.NoteView(note)
	for _, it := range rec.Items() {
		id := string(it.ID)
		listed, in := f.Note.Item(id)
		if !in {
			if added, ok := rec.Child().Item(id); ok && it.Note == "" && !it.Withdrawn && it.Where.AtBedside() {
				f.Added = append(f.Added, Gone{Item: id, Tag: it.Tag, Words: lines.Name(added), How: "listed", At: it.Happened, Since: true})
			}
			continue
		}
		fate := fateOf(&it, listed)
		fate.Then = it.StandAt(func(e *ledger.ItemEvent) bool {
			return e.Event == "" && e.Note == note || timed && e.Happened.Before(ended) || !timed && e.Clock < opened.Clock
		})
		if fate.changed() || fate.Goes != "" {
			f.Fates[id] = fate
		}
		f.News[id] = Unchanged
		if it.Note == note {
			f.News[id] = New
		}
		if !it.AtBedside() && it.Where != ledger.CutAndLeft && !(fate.Stand == ledger.StandsCut && fate.Then == fate.Stand) { // a stump from before is in, whoever went with it
			how := string(it.Where)
			if it.FoundOut {
				how += ", found out, its time is not known"
			}
			f.Gone = append(f.Gone, Gone{Item: id, Tag: it.Tag, Words: lines.Name(listed), How: how, Fate: fate, At: it.Since,
				Since: !out[id] && !(timed && ended.After(it.Since))})
		}
	}
}

// checkOf is the bedside check of one occasion.
func checkOf(rec *ledger.Record, note ledger.NoteID, occasion ledger.Occasion) Check {
	c := Check{Answers: map[string]Answer{}}
	var signedFor []ledger.EventID
	var signer ledger.Closing
	for _, closing := range rec.Closings(note, occasion) {
		c.Closed, c.ClosedAt, c.Changed = true, closing.At, closing.Changed
		c.By = append(c.By, closing.Author.Name)
		if len(closing.SignedDifferences) > 0 {
			c.Signed = true
			signedFor, signer = append(signedFor, closing.SignedDifferences...), closing
		}
	}
	for _, v := range rec.Checks(note, occasion) {
		c.Begun = true
		a := answerOf(v)
		if a.SettledBy == "" && slices.Contains(signedFor, v.Event) {
			a.SettledBy, a.Settled = signer.Author.Name, "as it stands"
		}
		if v.Answer == ledger.Extra {
			if it, ok := rec.Item(v.Item); ok && !it.Withdrawn {
				a.Flag = it.Tag
			}
			c.Extra = append(c.Extra, a)
			continue
		}
		c.Answers[string(v.Item)] = a
	}
	if c.Begun || c.Closed {
		c.Tally = lines.CheckOf(rec, note, occasion).Words()
	}
	return c
}

func answerOf(v ledger.CheckView) Answer {
	a := Answer{Word: string(v.Answer), Note: v.Note, LookAgain: v.LookAgainBy, By: v.Author.Name, At: v.Happened}
	for _, d := range v.Differs {
		a.Differences = append(a.Differences, Difference{Field: d.Field, Sheet: d.Sheet, Bedside: d.Bedside})
	}
	for _, o := range v.Others {
		a.Others = append(a.Others, lines.AnswerWords(o)+" ("+name(o.Author.Name)+")")
	}
	if s := v.Settled; s != nil {
		a.SettledBy, a.Settled = s.By, s.How
		if a.SettledBy == "" {
			a.SettledBy = s.Author.Name
		}
	}
	return a
}

// standing is who signed and what changed after.
func (f *Facts) standing(rec *ledger.Record, note ledger.NoteID) {
	for _, s := range rec.Signatures(note) {
		f.Signatures = append(f.Signatures, Signature{Section: s.Section, Name: s.Author.Name, Role: s.Author.Role, At: s.At, Open: s.Open})
	}
	st := rec.Standing(note)
	after := map[ledger.EventID]bool{}
	for _, c := range st.Changes {
		after[c.Event] = true
	}
	for _, c := range st.Changes {
		path := c.Path
		if path == "" && c.Item != "" {
			path = schema.ItemPath(string(c.Item), "")
		}
		f.Changes = slices.DeleteFunc(f.Changes, func(x Change) bool { return path != "" && x.Path == path && x.What == c.Kind })
		change := Change{Path: path, What: c.Kind, By: c.Author.Name, At: c.Entered}
		if field := f.Note.FieldAt(path); field != nil && c.Kind == ledger.KindFieldSet {
			change.Was, change.Is = schema.NotRecorded, schema.NotRecorded
			for _, v := range rec.History(note, path) {
				if !after[v.Event] {
					change.Was = v.Shown(field, f.Note)
				}
			}
			for i, v := range rec.Values(note, path) {
				if i > 0 {
					change.Is += " / " + v.Shown(field, f.Note)
				} else {
					change.Is = v.Shown(field, f.Note)
				}
			}
		}
		f.Changes = append(f.Changes, change)
	}
	for _, r := range st.Reasons {
		f.Reasons = append(f.Reasons, Reason{Why: r.Why, By: r.Author.Name, At: r.At})
	}
	f.Untold = len(st.Untold)
	for _, t := range st.Told {
		f.Told = append(f.Told, Told{Who: t.Who, By: t.Author.Name, At: t.At})
	}
}
