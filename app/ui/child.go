package ui

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/handover/sheet"
	"fairlead/schema"
	"fairlead/schema/rules"
)

// Child is the child on screen: the record, and what this tab is doing to it.
type Child struct {
	s      *Session
	id     ledger.CaseID
	rec    *ledger.Record
	writer *ledger.Writer
	notes  map[ledger.NoteID]*openNote
	loaded map[ledger.CaseID]bool // the records that were read: its own and those joined
	half   map[string]string      // what is half typed into forms, by name

	seen seen // what is worked out of the record, until it changes
}

// seen is what the screens ask of the record again and again.
type seen struct {
	version   int
	standings map[ledger.NoteID]ledger.Standing
	disagree  []ledger.Disagreement
	origins   map[string]map[schema.Path]string
	contexts  map[ledger.NoteID]rules.Context

	canUndo, canRedo bool

	register   *lines.Register // of the minute registerAt
	registerAt int64
	left       []string // what stands on the banner until it is reconciled
}

// look is what was worked out of the record as it stands.
func (c *Child) look() *seen {
	if c.seen.version != c.rec.Version() || c.seen.standings == nil {
		c.seen = seen{version: c.rec.Version(), standings: map[ledger.NoteID]ledger.Standing{}, disagree: c.rec.Disagreements(), origins: map[string]map[schema.Path]string{},
			contexts: map[ledger.NoteID]rules.Context{}, canUndo: c.writer.CanUndo(c.rec), canRedo: c.writer.CanRedo(c.rec)}
	}
	return &c.seen
}

// standing is how a note stands between its signatures and the sheet.
func (c *Child) standing(note ledger.NoteID) ledger.Standing {
	l := c.look()
	st, ok := l.standings[note]
	if !ok {
		st = c.rec.Standing(note)
		l.standings[note] = st
	}
	return st
}

// openNote is one note as this tab has it open.
type openNote struct {
	id      ledger.NoteID
	c       *Child
	do      *doing
	version int          // of the record that working was made from
	working *schema.Note // the record's note with the drafts that can be read

	drafts    map[schema.Path]Draft
	structure map[string][]schema.Problem // by section, fresh on each key
	checker   rules.Checker
	agreement []schema.Problem // what the rules say of the note as a whole
	bySection map[string][]schema.Problem
	answers   []rules.Answered
	due       map[string]bool   // sections changed since the rules were asked; "" is all
	lines     map[string]line   // how far each section is
	names     map[string]string // of the items, as far as they were worded
	resting   map[schema.Path]*time.Timer

	facts   *sheet.Facts // for the sheet, from the record of version factsOf
	factsOf int
	sheet   sheet.Kept

	section string // the section last open
	more    map[schema.Path]bool
	rows    map[schema.Path]string
	asking  map[schema.Path]string
	twice   map[schema.Path][]schema.Moment
}

// open is the state of one note, made when it is first asked for.
func (c *Child) open(id ledger.NoteID) *openNote {
	o := c.notes[id]
	if o == nil {
		o = &openNote{id: id, c: c, drafts: map[schema.Path]Draft{}, structure: map[string][]schema.Problem{}, lines: map[string]line{}, due: map[string]bool{"": true}, resting: map[schema.Path]*time.Timer{}, names: map[string]string{},
			more: map[schema.Path]bool{}, rows: map[schema.Path]string{}, asking: map[schema.Path]string{}, twice: map[schema.Path][]schema.Moment{}}
		o.do = &doing{s: c.s, o: o}
		c.notes[id] = o
	}
	if o.working == nil || o.version != c.rec.Version() {
		o.renew()
	}
	return o
}

// renew makes the working note again from the record and the drafts.
func (o *openNote) renew() {
	o.version = o.c.rec.Version()
	tree := o.c.rec.Whole(o.id)
	if tree == nil {
		tree = schema.NewNote("", string(o.id), string(o.c.id))
	}
	o.working = tree.Clone()
	for at, d := range o.drafts {
		o.try(at, d)
	}
	clear(o.structure)
	clear(o.lines)
	clear(o.names)
	o.due[""] = true
}

// try puts a draft into the working note. What cannot be read takes the place of
// what stood there all the same: a value that somebody is writing over is not
// shown, nor reckoned with, as if it held.
func (o *openNote) try(at schema.Path, d Draft) {
	def := o.working.FieldAt(at)
	if def == nil {
		return
	}
	r := o.form().Read(def, at, d)
	switch {
	case r.Wrong != "":
		o.working.Clear(at)
	case r.State != "":
		o.working.State(at, r.State)
	case r.Value == nil:
		o.working.Clear(at)
	default:
		o.working.Set(at, r.Value)
		o.working.SetBound(at, r.Bound)
	}
}

// form is what the fields of the note show now.
func (o *openNote) form() *Form {
	f := &Form{Note: o.working, Drafts: o.drafts, Zone: o.c.s.zone, More: o.more, Rows: o.rows, Asking: o.asking, Twice: o.twice,
		Locked: o.c.s.who.Name == "", Gone: o.gone, Names: o.names}
	return f
}

// gone words an item that was listed by mistake and is named all the same.
func (o *openNote) gone(id string) string {
	v, ok := o.c.rec.Item(ledger.ItemID(id))
	if !ok || !v.Withdrawn {
		return ""
	}
	words := "Tag " + itoa(v.Tag)
	if k := schema.ItemKindNamed(v.Kind); k != nil {
		words = k.Title + ", tag " + itoa(v.Tag)
	}
	return words + ", which was taken off the list"
}

// sectionForm is the form with all that is said of the fields of one section.
func (o *openNote) sectionForm(section string) *Form {
	f := o.form()
	f.Problems = map[schema.Path][]schema.Problem{}
	for _, p := range o.problems(section) {
		f.Problems[p.Path] = append(f.Problems[p.Path], o.hinted(p))
	}
	for _, a := range o.answers {
		if a.Path.Section() == section {
			f.Problems[a.Path] = append(f.Problems[a.Path], a.Problem)
		}
	}
	f.Answered = o.answered()
	f.Versions = o.versions(section)
	f.Changed = o.changed(section)
	f.Origin = o.origins(section)
	return f
}

// own is the note as it stands without the items of earlier notes, which the rules
// get apart.
func (o *openNote) own() *schema.Note {
	earlier := o.c.context(o.id).Register
	if len(earlier) == 0 {
		return o.working
	}
	n := o.working.Clone()
	for _, it := range earlier {
		n.RemoveItem(it.ID)
	}
	return n
}

// problems lists what is found in one section; "items" is all items.
func (o *openNote) problems(section string) []schema.Problem {
	return append(slices.Clip(o.structureOf(section)), o.bySection[section]...)
}

// all lists what is found in the whole note, sorted.
func (o *openNote) all() []schema.Problem {
	o.agree()
	var ps []schema.Problem
	for _, s := range schema.SectionsOf(o.working.Kind()) {
		ps = append(ps, o.structureOf(s.Name)...)
	}
	ps = append(ps, o.structureOf("items")...)
	return rules.Join(ps, o.agreement)
}

func (o *openNote) structureOf(section string) []schema.Problem {
	if _, ok := o.structure[section]; !ok {
		n := o.working
		if section == "items" {
			n = o.own()
		}
		o.structure[section] = schema.ValidateSection(n, section)
	}
	return o.structure[section]
}

// agree works out again what the rules say, as far as it may have changed.
func (o *openNote) agree() {
	if len(o.due) == 0 {
		return
	}
	ctx := o.c.context(o.id)
	own := o.own()
	if o.due[""] {
		o.agreement = o.checker.All(own, o.c.s.profile(), ctx)
	} else {
		o.agreement = o.checker.Changed(own, o.c.s.profile(), ctx, slices.Collect(maps.Keys(o.due))...)
	}
	o.answers = o.checker.Answered(own)
	clear(o.due)
	by := map[string][]schema.Problem{}
	for _, p := range o.agreement {
		by[p.Path.Section()] = append(by[p.Path.Section()], p)
	}
	for name := range o.lines {
		if !sameProblems(by[name], o.bySection[name]) {
			delete(o.lines, name)
		}
	}
	o.bySection = by
}

func sameProblems(a, b []schema.Problem) bool {
	return slices.EqualFunc(a, b, func(x, y schema.Problem) bool {
		return x.Rule == y.Rule && x.Path == y.Path && x.Severity == y.Severity && x.What == y.What
	})
}

// answered is what was answered to questions, by place and rule.
func (o *openNote) answered() map[schema.Path]map[string]string {
	out := map[schema.Path]map[string]string{}
	for _, a := range o.working.Answers() {
		if a.Rule == "plausible" {
			continue // what is impossible is refused, whatever was answered
		}
		if out[a.Path] == nil {
			out[a.Path] = map[string]string{}
		}
		words := a.Answer
		if a.Why != "" {
			words += ": " + a.Why
		}
		out[a.Path][a.Rule] = words + " (" + a.By + ")"
	}
	return out
}

// versions lists the answers that disagree, in one section.
func (o *openNote) versions(section string) map[schema.Path][]widgets.Version {
	out := map[schema.Path][]widgets.Version{}
	for _, d := range o.c.look().disagree {
		if d.Path.Section() != section || d.Note != "" && d.Note != o.id {
			continue
		}
		for _, v := range d.Values {
			out[d.Path] = append(out[d.Path], widgets.Version{Shown: v.Shown(o.working.FieldAt(d.Path), o.working), By: v.Author.String(), When: v.Happened.Shown()})
		}
	}
	return out
}

// progress lists the sections of the note with how far each is.
func (o *openNote) progress() []line {
	var out []line
	answered := o.answered()
	for _, s := range schema.SectionsOf(o.working.Kind()) {
		l, ok := o.lines[s.Name]
		if !ok {
			l = o.line(s, answered)
			o.lines[s.Name] = l
		}
		out = append(out, l)
	}
	return out
}

func (o *openNote) line(s *schema.Section, answered map[schema.Path]map[string]string) line {
	l := line{Name: s.Name, Title: s.Title, Owner: s.Owner, Mine: s.Owner == o.c.s.who.Role}
	for _, f := range s.FieldsIn(o.working.Kind()) {
		if f.Required.By(o.working.Kind()) && o.working.Relevant(f) {
			l.Wanted++
			if o.working.Answered(f.Path) {
				l.Done++
			}
		}
	}
	for _, p := range o.problems(s.Name) {
		count(&l.Marks, p, answered[p.Path][p.Rule] != "")
	}
	l.Marks.Disagreements = len(o.versions(s.Name))
	l.Signed = o.c.signed(o.id, s.Name)
	return l
}

// missing lists what is wanted and not recorded in one section.
func (o *openNote) missing(section string) []schema.Problem {
	return slices.DeleteFunc(o.problems(section), func(p schema.Problem) bool { return p.Severity != schema.Missing })
}

// sortedDrafts lists the fields with something typed and not entered.
func (o *openNote) sortedDrafts() []schema.Path { return slices.Sorted(maps.Keys(o.drafts)) }

// rest is how long typing rests before what was typed is taken as meant.
const rest = 2 * time.Second

// form is what the fields of one section of a note show now.
func (c *Child) form(note ledger.NoteID, section string) *Form {
	return c.open(note).sectionForm(section)
}

// note is the note as it stands, drafts included. It is to be read only.
func (c *Child) note(id ledger.NoteID) *schema.Note { return c.open(id).working }

// openSection remembers the section one is in.
func (c *Child) openSection(note ledger.NoteID, section string) { c.open(note).section = section }

// lastSection is the section of a note one was in last, or its first.
func (c *Child) lastSection(note ledger.NoteID) string {
	o := c.open(note)
	if o.section == "" {
		if k := schema.KindNamed(o.working.Kind()); k != nil && len(k.Sections) > 0 {
			return k.Sections[0]
		}
	}
	return o.section
}

// signed tells whether a section stands signed, unchanged since.
func (c *Child) signed(note ledger.NoteID, section string) bool {
	sig, ok := c.standing(note).Sections[section]
	return ok && len(sig.Changes) == 0
}

// signedWords says who signed the section or the note, and what that means for
// one who changes it.
func (c *Child) signedWords(note ledger.NoteID, section string) string {
	st := c.standing(note)
	if st.Signed != nil {
		return "Signed by " + st.Signed.Author.String() + ", " + st.Signed.At.Shown() + ". What you change now is an amendment: it is dated, and the sheet says that it was changed."
	}
	if sig, ok := st.Sections[section]; ok {
		return "This section was signed by " + sig.Author.String() + ", " + sig.At.Shown() + ". What you change now shows as changed after that."
	}
	return ""
}

// changed says of each field of a section who changed it after the signature.
func (o *openNote) changed(section string) map[schema.Path]string {
	out := map[schema.Path]string{}
	st := o.c.standing(o.id)
	changes := st.Changes
	if sig, ok := st.Sections[section]; ok && st.Signed == nil {
		changes = sig.Changes
	}
	for _, ch := range changes {
		if ch.Path.Section() == section {
			out[ch.Path] = "by " + ch.Author.String() + ", " + ch.Happened.Shown() + "."
		}
	}
	return out
}

// origins says of each field of a section where its value came from, if it was
// not entered by hand.
func (o *openNote) origins(section string) map[schema.Path]string {
	l := o.c.look()
	if out, ok := l.origins[string(o.id)+section]; ok {
		return out
	}
	out := map[schema.Path]string{}
	l.origins[string(o.id)+section] = out
	tree := o.c.rec.Whole(o.id)
	if tree == nil {
		return out
	}
	for _, p := range tree.Paths() {
		if p.Section() != section {
			continue
		}
		for _, v := range o.c.rec.Values(o.id, p) {
			switch v.Origin.How {
			case ledger.HowDictation:
				out[p] = "Dictated: “" + v.Origin.Words + "”."
			case ledger.HowPasted:
				out[p] = "Pasted."
			case ledger.HowCopied:
				out[p] = "Copied forward from " + cmp.Or(v.Origin.Words, "an earlier note") + ". Check that it still holds."
			case ledger.HowOffered:
				out[p] = "Entered on another child first, and taken over here."
			}
		}
	}
	return out
}
