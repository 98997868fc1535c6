package ui

import (
	"encoding/json"
	"slices"
	"strings"
	"time"

	"fairlead/app/ui/civil"
	"fairlead/app/ui/typed"
	"fairlead/app/ui/widgets"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// Draft is what is being typed into one field: not yet an event, but kept.
type Draft struct {
	Text  string   `json:"text,omitempty"`
	Day   string   `json:"day,omitempty"`   // the date typed beside a time of day
	Pick  []string `json:"pick,omitempty"`  // choices passed over by keyboard
	Wrong string   `json:"wrong,omitempty"` // why it could not be taken, when it was tried

	// Begun says that Saw is what stood in the field when typing began, and what was
	// taken of the typing since: another person may have written there meanwhile.
	Begun bool             `json:"begun,omitempty"`
	Saw   []ledger.EventID `json:"saw,omitempty"`

	meant bool // typing rested and it was taken as meant; its letters stay while the focus is there
}

// Form is what the fields of one note show. It is plain data; drawing it asks
// nobody else.
type Form struct {
	Note     *schema.Note // what is recorded, with the drafts that can be read
	Drafts   map[schema.Path]Draft
	Problems map[schema.Path][]schema.Problem
	Answered map[schema.Path]map[string]string // rule → what was answered
	Versions map[schema.Path][]widgets.Version
	Origin   map[schema.Path]string
	Changed  map[schema.Path]string
	Locked   bool
	Zone     civil.Zone
	Gone     func(id string) string // words an item that is not listed any more; may be nil
	Names    map[string]string      // of the items, by id, as far as they were worded; may be nil

	More   map[schema.Path]bool   // the other answers are open
	Rows   map[schema.Path]string // the row that is open, by list
	Asking map[schema.Path]string // the rule whose answer is being typed
	Twice  map[schema.Path][]schema.Moment
}

// Section lists the fields of a section, those that do not apply marked Off, so
// that a field that appears moves no other out of its place in the tree.
func (f *Form) Section(s *schema.Section) []widgets.Field {
	var out []widgets.Field
	for _, def := range s.FieldsIn(f.Note.Kind()) {
		out = append(out, f.Field(def, def.Path))
	}
	return out
}

// Item lists the attributes of an item.
func (f *Form) Item(it schema.Item) []widgets.Field {
	kind := schema.ItemKindNamed(it.Kind)
	if kind == nil {
		return nil
	}
	var out []widgets.Field
	for _, def := range kind.Fields {
		out = append(out, f.Field(def, it.Path(def.Name), it.ID))
	}
	return out
}

// Field is one field as it is shown now; in are the ids of the item and the row
// it lies in.
func (f *Form) Field(def *schema.Field, at schema.Path, in ...string) widgets.Field {
	n := f.Note
	w := widgets.Field{Def: def, At: at, Locked: f.Locked, More: f.More[at], Origin: f.Origin[at], Changed: f.Changed[at], Versions: f.Versions[at]}
	if !n.Relevant(def, in...) {
		// A value in a field that does not apply is kept, shown and questioned.
		if !n.Answered(at) {
			w.Off = true
			return w
		}
		w.Note = "This field does not apply as the note stands; what it holds is kept."
		if on, held := n.HeldBy(def, in...); held && !n.Answered(on) {
			if of := n.FieldAt(on); of != nil {
				w.Note = "This field hangs on " + of.Title + ", which is not recorded; what it holds is kept."
			}
		}
	}
	w.Wanted = def.Required.By(n.Kind()) || def.Required.Always
	w.Stated, w.Bound, w.Shown = n.Stated(at), n.Bound(at), schema.Show(def, n, at)
	w.Picks = pickList(def)
	if def.Format == "item" || def.Format == "items" {
		w.Items = f.itemChoices(def, at)
		for _, id := range append(n.List(at), n.Text(at)) {
			if words := f.gone(id); words != "" {
				w.Items = append(w.Items, widgets.Choice{Value: id, Words: words})
				if def.Format == "item" {
					w.Shown = words
				}
			}
		}
	}
	f.fill(&w)
	if d, ok := f.Drafts[at]; ok {
		w.Typing, w.Wrong = !d.meant, d.Wrong
		if d.Pick != nil {
			w.Chosen, w.Stated = d.Pick, ""
		} else {
			w.Text = d.Text
			if d.Day != "" {
				w.Day = d.Day
			}
			if d.Text != "" {
				w.Stated = ""
			}
		}
	}
	for _, p := range f.Problems[at] {
		if p.Severity == schema.Missing {
			continue // said at review; the field says "wanted"
		}
		w.Words = append(w.Words, widgets.Word{Rule: p.Rule, Severity: p.Severity, What: p.What, Do: p.Do,
			Answer: f.Answered[at][p.Rule], Asking: f.Asking[at] == p.Rule})
	}
	for _, m := range f.Twice[at] {
		_, off := m.Zone()
		w.Readings = append(w.Readings, widgets.Choice{Value: m.String(), Words: m.Clock() + " at " + offsetShown(off)})
	}
	if len(w.Readings) > 0 {
		w.Note = "The clocks went back that night: this time came twice. Say which one it was."
	}
	if def.Type == "rows" {
		f.fillRows(&w)
	}
	return w
}

// fill puts the recorded value into the form that the field's control shows.
func (f *Form) fill(w *widgets.Field) {
	n, def := f.Note, w.Def
	switch {
	case def.Type == "rows":
	case def.Type == "list":
		w.Chosen = n.List(w.At)
	case def.Type == "boolean":
		if yes, ok := n.Bool(w.At); ok && yes {
			w.Chosen = []string{"yes"}
		} else if ok {
			w.Chosen = []string{"no"}
		}
	case def.Numeric():
		if n.Has(w.At) {
			w.Text = schema.ShowNumber(n.Decimal(w.At))
		}
	case len(def.Enum) > 0 || def.Format == "item":
		if v := n.Text(w.At); v != "" {
			w.Chosen = []string{v}
		}
	case def.Format == "moment":
		near, _ := f.near(w.Def, w.At)
		w.Day = near.Date().Shown()
		if m, ok := n.Moment(w.At); ok {
			w.Text, w.Day = m.Clock(), m.Date().Shown()
			if days, ok := near.Date().DaysTo(m.Date()); ok && days == 1 {
				w.Note = "The next day: " + m.Date().Shown() + "."
			}
		}
	case def.Format == "date":
		if v := n.Text(w.At); v != "" {
			w.Text = schema.Date(v).Shown()
		}
	default:
		w.Text = n.Text(w.At)
	}
}

func (f *Form) fillRows(w *widgets.Field) {
	for i, id := range f.Note.Rows(w.At) {
		in := []string{id}
		if item := w.At.Item(); item != "" {
			in = []string{item, id}
		}
		r := widgets.Row{ID: id, Title: w.Def.Title + " " + itoa(i+1), Open: f.Rows[w.At] == id}
		var words []string
		for _, def := range w.Def.Rows {
			at := schema.RowPath(w.At, id, def.Name)
			if f.Note.Answered(at) {
				said := schema.Show(def, f.Note, at)
				if gone := f.gone(f.Note.Text(at)); def.Format == "item" && gone != "" {
					said = gone
				}
				// A unit that the figure before it carries is not said twice.
				if n := len(words); n == 0 || !strings.HasSuffix(words[n-1], " "+said) {
					words = append(words, short(said))
				}
			}
			for _, p := range f.Problems[at] {
				count(&r.Marks, p, f.Answered[at][p.Rule] != "")
			}
			if r.Open {
				r.Fields = append(r.Fields, f.Field(def, at, in...))
			}
		}
		r.Summary = strings.Join(words, " · ")
		if r.Summary == "" {
			r.Summary = schema.NotRecorded
		}
		w.Rows = append(w.Rows, r)
	}
}

func count(m *widgets.Marks, p schema.Problem, answered bool) {
	switch {
	case answered:
	case p.Severity == schema.Error:
		m.Errors++
	case p.Severity == schema.Question:
		m.Questions++
	default:
		m.Missing++
	}
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

// pickList words the quick picks of a field.
func pickList(def *schema.Field) []widgets.Choice {
	var out []widgets.Choice
	for _, raw := range def.Picks {
		var s string
		if json.Unmarshal(raw, &s) != nil {
			s = schema.ShowNumber(string(raw))
		}
		out = append(out, widgets.Choice{Value: s, Words: def.Label(s)})
	}
	return out
}

// itemChoices lists the items a field can name: those of a fitting kind but the one
// it lies in, and what it names already.
func (f *Form) itemChoices(def *schema.Field, at schema.Path) []widgets.Choice {
	var out []widgets.Choice
	of, named := at.Item(), append(f.Note.List(at), f.Note.Text(at))
	for _, it := range f.Note.Items() {
		if it.ID != of && (fitting(def, it) || slices.Contains(named, it.ID)) {
			out = append(out, widgets.Choice{Value: it.ID, Words: f.itemName(it), Tag: it.Tag})
		}
	}
	return out
}

// itemName words an item, once as long as the names are kept.
func (f *Form) itemName(it schema.Item) string {
	if words, ok := f.Names[it.ID]; ok {
		return words
	}
	words := itemName(it)
	if f.Names != nil {
		f.Names[it.ID] = words
	}
	return words
}

// fitting tells whether a field can name an item of a kind: nothing runs through a
// pack, and no gas is drawn from a drain.
func fitting(def *schema.Field, it schema.Item) bool {
	is := func(kinds ...string) bool { return slices.Contains(kinds, it.Kind) }
	switch def.Path {
	case schema.InfusionsRunningItem, schema.GasItem:
		return !is("airway", "drain", "drain-chamber", "implant", "left-on-purpose", "pacing-wires", "surface-probe", "inner-probe")
	case schema.PressuresReadingsItem:
		return !is("airway", "drain-chamber", "implant", "left-on-purpose", "pacing-wires", "surface-probe")
	case schema.SupplyItem, schema.HybridBandsItem, schema.HybridStentsItem, schema.Stage1ArchPatchItem, schema.Stage3ConduitItem:
		return is("implant")
	case schema.Stage3Snare, schema.ApproachBarrier:
		return is("implant", "left-on-purpose")
	case schema.Stage2OldSupplyItems:
		return it.FeedsLungs()
	case schema.MechanicalCannulae, schema.MechanicalDecannulatedItem:
		return is("support-cannula")
	case schema.ItemDrainChamber:
		return is("drain-chamber")
	case schema.ItemDrainChamberDrains:
		return is("drain")
	case schema.LeavingPacingItems:
		return is("pacing-wires", "implant")
	}
	return true
}

// gone words an item that a field names and that was taken off the list, or is "".
func (f *Form) gone(id string) string {
	if _, listed := f.Note.Item(id); id == "" || listed || f.Gone == nil {
		return ""
	}
	return f.Gone(id)
}

// near is the moment that a time of day typed into a field most likely lies
// close to: the last one recorded before it in its row, in the row before, or in
// its section; else noon of the day of operation; else, with nothing known, now.
func (f *Form) near(def *schema.Field, at schema.Path) (near schema.Moment, known bool) {
	n := f.Note
	last := func(fields []*schema.Field, path func(*schema.Field) schema.Path) (m schema.Moment, ok bool) {
		for _, x := range fields {
			if x.Format != "moment" || x.Path == def.Path {
				if x.Path == def.Path {
					return m, ok
				}
				continue
			}
			if v, is := n.Moment(path(x)); is {
				m, ok = v, true
			}
		}
		return m, ok
	}
	if list := at.List(); list != "" && list != "items" {
		if parent := n.FieldAt(list); parent != nil {
			if m, ok := last(parent.Rows, func(x *schema.Field) schema.Path { return schema.RowPath(list, at.Row(), x.Name) }); ok {
				return m, true
			}
			rows := n.Rows(list)
			for i := slices.Index(rows, at.Row()) - 1; i >= 0; i-- {
				for j := len(parent.Rows) - 1; j >= 0; j-- {
					if m, ok := n.Moment(schema.RowPath(list, rows[i], parent.Rows[j].Name)); ok {
						return m, true
					}
				}
			}
		}
	} else if s := schema.SectionNamed(at.Section()); s != nil {
		if m, ok := last(s.Fields, func(x *schema.Field) schema.Path { return x.Path }); ok {
			return m, true
		}
	}
	if m, ok := n.Moment(schema.OperationStarted); ok {
		return m, true
	}
	if d := n.Text(schema.OperationDate); d != "" {
		if r := civil.Readings(f.Zone, schema.Date(d), 12, 0); len(r) > 0 {
			return r[0], true
		}
	}
	return civil.Now(f.Zone), false
}

// ahead are the times that may lie ahead; at all others something has happened.
var ahead = []string{"next", "until", "startAt", "syringeEnds"}

// Reading is what a draft means: a value or a stated answer to record, or the
// sentence that says why it cannot be read.
type Reading struct {
	Value any // as Note.Set takes it; nil clears the field
	Bound string
	State string
	Twice []schema.Moment // the two moments it can mean
	Wrong string
}

// Read reads a draft for a field.
func (f *Form) Read(def *schema.Field, at schema.Path, d Draft) Reading {
	if d.Pick != nil {
		return readPick(def, d.Pick)
	}
	text := strings.TrimSpace(d.Text)
	if text == "" && def.Format != "moment" {
		return Reading{}
	}
	switch strings.ToLower(text) {
	case "not known", "unknown", "nk":
		if def.Numeric() || def.Format == "moment" || def.Format == "date" || def.Format == "clock" {
			return Reading{State: schema.StatedUnknown}
		}
	case "none", "nil":
		if def.None != "" {
			return Reading{State: schema.StatedNone}
		}
	}
	switch {
	case def.Numeric():
		a, wrong := typed.Number(text, def)
		if wrong != "" {
			return Reading{Wrong: wrong}
		}
		return Reading{Value: a.Decimal, Bound: a.Bound}
	case def.Format == "moment":
		return f.readMoment(def, at, text, strings.TrimSpace(d.Day))
	case def.Format == "date":
		v, wrong := typed.Date(text, civil.Today(f.Zone), def)
		if wrong != "" {
			return Reading{Wrong: wrong}
		}
		return Reading{Value: string(v)}
	case def.Format == "clock":
		h, m, wrong := typed.Clock(text)
		if wrong != "" {
			return Reading{Wrong: wrong}
		}
		return Reading{Value: clockShown(h, m)}
	}
	s, wrong := typed.Words(d.Text, def)
	if wrong != "" {
		return Reading{Wrong: wrong}
	}
	if s == "" {
		return Reading{}
	}
	return Reading{Value: s}
}

func readPick(def *schema.Field, pick []string) Reading {
	switch {
	case def.Type == "list":
		if len(pick) == 0 {
			return Reading{}
		}
		return Reading{Value: pick}
	case len(pick) == 0:
		return Reading{}
	case def.Type == "boolean":
		return Reading{Value: pick[0] == "yes"}
	}
	return Reading{Value: pick[0]}
}

// readMoment reads a time of day and the date beside it. With no date typed, the
// date is the one on which the time lies nearest to what came before.
func (f *Form) readMoment(def *schema.Field, at schema.Path, text, day string) Reading {
	if text == "" && day == "" {
		return Reading{}
	}
	if text == "" {
		return Reading{Wrong: "There is a date without a time. Enter the time too, or say that it is not known."}
	}
	h, m, wrong := typed.Clock(text)
	if wrong != "" {
		return Reading{Wrong: wrong}
	}
	near, known := f.near(def, at)
	date := civil.Nearest(near, h, m)
	if soon := civil.Now(f.Zone).Add(time.Hour); !known && !slices.Contains(ahead, def.Name) && string(date)+clockShown(h, m) > string(soon.Date())+soon.Clock() {
		date = civil.AddDays(date, -1) // all that is known of when it was is that it has been
	}
	if day != "" {
		if date, wrong = typed.Date(day, civil.Today(f.Zone), nil); wrong != "" {
			return Reading{Wrong: wrong}
		}
	}
	switch r := civil.Readings(f.Zone, date, h, m); len(r) {
	case 0:
		return Reading{Wrong: "There was no " + clockShown(h, m) + " on " + date.Shown() + ": the clocks went forward. Enter the time that the clock showed."}
	case 1:
		return Reading{Value: r[0].String()}
	default:
		return Reading{Twice: r, Wrong: "The clocks went back that night: " + clockShown(h, m) + " came twice. Say which one it was."}
	}
}
