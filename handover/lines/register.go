package lines

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

// Register is what is in one child at one moment, with what is due, what is open
// and what was read. It is a pure function of the record, the unit's settings and
// the moment.
type Register struct {
	At     schema.Moment
	Note   ledger.NoteID // the latest operation's note; "" while there is none
	Stage  schema.Kind   // its kind
	Items  []InChild     // what [ledger.Whereabouts.In] holds of, by tag, implants last: what was lost, cut and left, or goes with the child too; View.Where says which
	Due    []Due         // over all of them, soonest first
	Open   []Problem     // over all of them, those that came out too, oldest first
	Round  *ledger.Round // the latest round of "still needed?", or nil
	Stale  bool          // it was never closed, and another is due since: what it was told is not of today
	Tally  ledger.RegisterTally
	Faults []ledger.Fault // what cannot be in the events, by rule
	Left   []Left         // packs, membranes, an open chest: for the banner, until reconciled
	Losses Losses         // what all chest drains gave together

	note   *schema.Note // the latest operation's note, or nil
	margin float64      // of pacing: see marginOf
}

// InChild is one item that is in the child.
type InChild struct {
	View  ledger.ItemView
	Item  schema.Item
	ID    ledger.ItemID
	Tag   int
	Name  string // with its size
	Place string // on the map

	Since     schema.Moment // since when it has been in
	SinceSure bool          // false: only when it was listed is known
	In        string        // how long that is: "3 days 4 h"
	Seen      *Seen         // by whom it was seen last, or nil
	Dwell     Dwell
	Due       []Due // soonest first
	Problems  []Problem
	Lumens    []Lumen
	Pressures []Read // oldest first
	Tests     []Read // of wires
	Capture   string // of wires: that the box may not capture, as last told, or ""
	Moves     []Read
	Drainage  *Drainage    // of a drain or chamber; a joined drain has its chamber's
	Need      *ledger.Need // the latest answer to "still needed?", or nil
	Asked     bool         // answered in the round that is open
	Implant   bool         // in for good: not looked for at the bed

	InPlaceOf ledger.ItemID // the item it was exchanged for, or ""
}

// MovedTo is where the item was moved to last, as it was said; "" if it was not.
func (e *InChild) MovedTo() string {
	for i := len(e.Moves) - 1; i >= 0; i-- {
		if to := e.Moves[i].Facts.To; to != "" {
			return to
		}
	}
	return ""
}

// Seen is when an item was last seen at the bed, by whom and how.
type Seen struct {
	By  ledger.Author
	At  schema.Moment
	How string // "found on arrival", "checked", "output read" …
}

// Words is that in words: "seen 2 h ago by A. Example (nurse): checked".
func (s *Seen) Words(now schema.Moment) string {
	if s == nil {
		return "not seen since it was listed"
	}
	if d := now.Sub(s.At); d <= -time.Minute {
		return "seen at " + s.At.Shown() + ", which is still to come (a clock is wrong), by " + s.By.String() + ": " + s.How
	}
	return "seen " + ago(now.Sub(s.At)) + " by " + s.By.String() + ": " + s.How
}

// Read is one reading, test or move of an item.
type Read struct {
	Item  ledger.ItemID // of which it was said: a drain, or the chamber it goes to
	Event ledger.EventID
	Kind  string
	Facts *ledger.RegisterFacts
	By    ledger.Author
	At    schema.Moment
	Clock ledger.Clock // which of two of one minute was entered later
}

// Lumen is a lumen and what runs through it.
type Lumen struct {
	Name  string
	State string // as recorded, in words
	Runs  string // "" for nothing, or not recorded: State says which
	By    ledger.Author
	At    schema.Moment // zero where only the note says so
}

// Dwell is how long an item has been in against the unit's limit. A limit asks for
// a review; it never orders removal.
type Dwell struct {
	Limit  float64       // days; 0 while the unit has none in force
	By     schema.Moment // when that is reached
	Review bool          // it is past
	Entry  profile.Entry // the setting; its source is Entry.Basis()
	Words  string
}

// Problem is something open about an item.
type Problem struct {
	Event   ledger.EventID // settle it under this id; "" if a note says so
	Item    ledger.ItemID
	Tag     int
	Name    string
	What    string // a value of the item's "state", or one of the names below
	Words   string
	By      ledger.Author
	At      schema.Moment
	Settled *ledger.Settlement
}

// What a problem may be beside the states of an item.
const (
	ProblemLeftInPart = "left-in-part"
	ProblemLost       = "lost"
	ProblemDiffers    = "differs"
	ProblemNotFound   = "not-found"
	ProblemStopped    = "drain-stopped"
	ProblemExtra      = "extra"
	ProblemLoss       = "drain-loss" // a rule of the unit is met; Item is ""
	ProblemDespite    = "despite"    // it came out although a condition was answered "no"
	ProblemStuck      = "will not come out"
	ProblemNoCapture  = "does not capture"
	ProblemNoSensing  = "does not sense"
)

// problemsOnly are the problems that only things of some kinds can have, with those kinds.
var problemsOnly = map[string]string{"clamped": hollow, "blocked": hollow + "implant ", "leaking": hollow + "implant left-on-purpose ", "lumen-blocked": " central-venous-line intracardiac-line ",
	"tissued": vessels, "limb-pale": vessels + "support-cannula ", "rewired": vessels + "intracardiac-line dialysis-catheter ",
	ProblemNoCapture: " pacing-wires ", ProblemNoSensing: " pacing-wires "}

const (
	vessels = " central-venous-line arterial-line peripheral-cannula intraosseous-needle "
	hollow  = vessels + "intracardiac-line support-cannula airway drain drain-chamber dialysis-catheter gut-and-bladder wound-catheter "
)

// Problems are what can be wrong with a thing of the kind: values of its "state", and words.
func Problems(k *schema.ItemKind) []string {
	all := append(slices.Clone(k.Field("state").Enum), ProblemNoCapture, ProblemNoSensing, ProblemStuck)
	return slices.DeleteFunc(all, func(s string) bool { return s == "working" || s == "inside-accounted" || !canHave(k, s) })
}

func canHave(k *schema.ItemKind, problem string) bool {
	only := problemsOnly[problem]
	return only == "" || strings.Contains(only, " "+k.Name+" ")
}

// wentWith are the states of the thing and not of the child: they are over when it is
// out. A pale leg, an infection, what was said in words stay open until they are settled.
var wentWith = []string{"clamped", "blocked", "leaking", "dislodged", "moved", "lumen-blocked", "not-for-use", "rewired", "unplanned-removal", ProblemStopped, ProblemStuck, ProblemNoCapture, ProblemNoSensing}

// Due is something that is to be done about an item.
type Due struct {
	Item    ledger.ItemID
	Tag     int
	Name    string
	What    string // one of the names below
	Words   string
	At      schema.Moment // zero: at no set time
	Overdue bool          // its time is past
}

// What may be due.
const (
	DueReview  = "review"   // the unit's limit of days in
	DueOutBy   = "out-by"   // the day the note names for review
	DueLook    = "look"     // not to be seen at the check: look again
	DueSite    = "site"     // the next look after it was read, or came out
	DueNeed    = "need"     // the daily question
	DueComeOut = "come-out" // answered: not needed
	DuePlan    = "plan"     // a pack or the like: how it is to come out
	DueLeaving = "leaving"  // gone home or transferred: when it must come out
	DueWorking = "working"  // a stopped drain
)

// RegisterOf works the register out.
func RegisterOf(rec *ledger.Record, p *profile.Profile, now schema.Moment) Register {
	r := Register{At: now, Tally: rec.RegisterTally(), Left: LeftIn(rec)}
	r.Faults = append(rec.Faults(), rec.ClocksAhead(now.Instant())...)
	notes := rec.Notes()
	if n := len(notes); n > 0 {
		r.Note, r.Stage = notes[n-1].ID, notes[n-1].Kind
		r.note = rec.Whole(r.Note)
	}
	r.margin = marginOf(p)
	if rounds := rec.Rounds(); len(rounds) > 0 {
		r.Round = &rounds[len(rounds)-1]
		r.Stale = r.Round.Closed == nil && now.Sub(r.Round.Opened) >= needEvery(p)
	}
	seen := lastSeen(rec, notes)
	tree := rec.Child()
	drains := drainageOf(rec, p)
	r.Losses = lossesOf(rec, drains, p, now)
	items := rec.Items()
	exchanged := map[ledger.ItemID]ledger.ItemID{}
	for _, v := range items {
		for _, x := range v.Events {
			if x.Kind == ledger.KindExchanged && x.Facts.For != "" {
				exchanged[x.Facts.For] = v.ID
			}
		}
	}
	for _, v := range items {
		if v.Withdrawn {
			continue
		}
		it, ok := tree.Item(string(v.ID))
		if !ok {
			continue
		}
		e := InChild{InPlaceOf: exchanged[v.ID], View: v, Item: it, ID: v.ID, Tag: v.Tag, Name: NameNow(&v, it), Place: Place(it), Implant: !ledger.Bedside(v.Kind)}
		e.follow(rec, notes, now)
		if v.Where.In() {
			e.Since, e.SinceSure = rec.Since(v.ID)
			if e.In = Span(now.Sub(e.Since)); e.Since.After(now) {
				e.In = "since " + e.Since.Shown() + ", which is still to come (a clock is wrong)"
			}
			if s, ok := seen[v.ID]; ok {
				e.Seen = &s
			}
			e.Drainage = drains[v.ID]
			if v.Kind == "pacing-wires" && v.InUse() {
				e.Capture = r.captureWords(r.pacingOf(e, now))
			}
			if v.Stand() != ledger.StandsCut { // nothing of it is to come out
				e.dwell(p, now)
				e.due(rec, p, now)
			}
			if r.Round != nil && r.Round.Closed == nil && !r.Stale {
				_, e.Asked = r.Round.Answers[e.ID]
			}
			r.Items = append(r.Items, e)
		}
		r.Due, r.Open = append(r.Due, e.Due...), append(r.Open, e.Problems...)
	}
	r.Open = append(r.Open, r.Losses.calls(rec)...)
	for _, n := range notes {
		for _, o := range []ledger.Occasion{ledger.Leaving, ledger.Arrival} {
			for _, c := range rec.Checks(n.ID, o) {
				if _, listed := rec.Item(c.Item); c.Answer == ledger.Extra && c.Settled == nil && !listed {
					r.Open = append(r.Open, Problem{Event: c.Event, Item: c.Item, Name: "Not listed: " + orNotRecorded(c.Note), What: ProblemExtra, Words: "found and not listed", By: c.Author, At: c.Happened})
				}
			}
		}
	}
	sorting.By(r.Items, func(a, b InChild) int { return rank(a.Implant) - rank(b.Implant) })
	sortDue(r.Due)
	sorting.By(r.Open, func(a, b Problem) int { return a.At.Instant().Compare(b.At.Instant()) })
	return r
}

// Item is the item of that id, if it is in.
func (r Register) Item(id ledger.ItemID) (InChild, bool) {
	for _, e := range r.Items {
		if e.ID == id {
			return e, true
		}
	}
	return InChild{}, false
}

// lastSeen is who saw each item last, by item.
func lastSeen(rec *ledger.Record, notes []ledger.NoteView) map[ledger.ItemID]Seen {
	out := map[ledger.ItemID]Seen{}
	see := func(id ledger.ItemID, s Seen) {
		if was, ok := out[id]; !ok || !s.At.Before(was.At) {
			out[id] = s
		}
	}
	for _, n := range notes {
		for o, how := range map[ledger.Occasion]string{ledger.Leaving: "found on leaving theatre", ledger.Arrival: "found on arrival"} {
			for _, c := range rec.Checks(n.ID, o) {
				if c.Answer == ledger.Found || c.Answer == ledger.Differs {
					see(c.Item, Seen{c.Author, c.Happened, how})
				}
			}
		}
	}
	for _, v := range rec.Items() {
		for _, e := range v.Events {
			if e.Kind == ledger.KindExchanged && e.Facts.For != "" {
				see(e.Facts.For, Seen{e.Author, e.Happened, "placed"})
			}
			how := seenBy[e.Kind]
			if how == "" || e.Kind == ledger.KindChecked && e.Facts.Answer != "" && e.Facts.Answer != ledger.Found && e.Facts.Answer != ledger.Differs {
				continue
			}
			see(v.ID, Seen{e.Author, e.Happened, how})
		}
	}
	return out
}

// seenBy words the events by which an item was seen.
var seenBy = map[string]string{ledger.KindPlaced: "placed", ledger.KindConfirmed: "confirmed", ledger.KindChecked: "checked", ledger.KindMoved: "moved",
	ledger.KindOutputRead: "output read", ledger.KindPressureRead: "pressure read", ledger.KindWiresTested: "tested", ledger.KindConnected: "connected",
	ledger.KindDisconnected: "disconnected", ledger.KindProblem: "problem found"}

// follow goes through what happened to the item.
func (e *InChild) follow(rec *ledger.Record, notes []ledger.NoteView, now schema.Moment) {
	e.lumens()
	out := false
	for _, x := range e.View.Events {
		read := Read{e.ID, x.Event, x.Kind, x.Facts, x.Author, x.Happened, x.Clock}
		switch x.Kind {
		case ledger.KindPressureRead:
			e.Pressures = append(e.Pressures, read)
		case ledger.KindWiresTested:
			e.Tests = append(e.Tests, read)
		case ledger.KindMoved:
			e.Moves = append(e.Moves, read)
		case ledger.KindConnected, ledger.KindDisconnected:
			e.connect(x)
		case ledger.KindNeedAnswered:
			e.Need = &ledger.Need{Event: x.Event, Needed: x.Facts.Needed, Why: x.Facts.Why, Author: x.Author, At: x.Happened, Clock: x.Clock}
		case ledger.KindProblem:
			e.problem(rec, x, x.Facts.Problem, problemWords(e.Item, x.Facts))
		case ledger.KindRemoved, ledger.KindExchanged:
			what, words := "", ""
			if x.Facts.RemovedPart() {
				what, words = ProblemLeftInPart, "did not come out complete"
				if x.Facts.Complete != "no" {
					words = "came out, and " + strings.Join(x.Facts.LeftBehind(), ", ")
				}
				if x.Kind == ledger.KindExchanged {
					words += " when it was exchanged"
				}
				words += note(x.Facts.Note)
			} else if x.Facts.Complete == "yes" { // the rest of it came out
				e.Problems = slices.DeleteFunc(e.Problems, func(p Problem) bool { return p.What == ProblemLeftInPart })
			}
			if no := despite(x.Facts); no != "" {
				if what == "" {
					what = ProblemDespite
				} else {
					words += "; "
				}
				words += no
			}
			if what != "" {
				e.problem(rec, x, what, words)
			}
			out = true
		}
	}
	if e.View.Where == ledger.Lost {
		p := Problem{Item: e.ID, Tag: e.Tag, Name: e.Name, What: ProblemLost, Words: "could not be found", At: e.View.Since}
		for _, x := range e.View.Events {
			if x.Kind == ledger.KindLost {
				p.Event, p.By, p.Words = x.Event, x.Author, "could not be found"+note(x.Facts.Note)
			}
		}
		if p.Settled = rec.Settled(p.Event); p.Settled == nil {
			e.Problems = append(e.Problems, p)
		}
	}
	if out && !e.View.Where.In() {
		e.Problems = slices.DeleteFunc(e.Problems, func(p Problem) bool { return slices.Contains(wentWith, p.What) })
	}
	for _, n := range notes {
		for _, o := range []ledger.Occasion{ledger.Leaving, ledger.Arrival} {
			c, ok := rec.Check(n.ID, o, e.ID)
			if !ok || !e.View.Where.In() {
				continue
			}
			switch {
			case c.Answer == ledger.CannotSee && c.Settled == nil && !c.LookAgainBy.IsZero():
				if s := e.lastSince(c.Happened); s == nil {
					e.Due = append(e.Due, e.dueAt(DueLook, "Look again: "+orNotRecorded(c.Note), c.LookAgainBy, now))
				}
			case (c.Answer == ledger.Differs || c.Answer == ledger.NotFound) && c.Settled == nil:
				what := ProblemDiffers
				if c.Answer == ledger.NotFound {
					what = ProblemNotFound
				}
				e.Problems = append(e.Problems, Problem{Event: c.Event, Item: e.ID, Tag: e.Tag, Name: e.Name, What: what, Words: AnswerWords(c), By: c.Author, At: c.Happened})
			}
		}
	}
	if s := e.Item.Text("state"); s != "" && s != "working" && s != "inside-accounted" && (e.View.Where.In() || !slices.Contains(wentWith, s)) {
		if f := e.Item.Note().FieldAt(e.Item.Path("state")); f != nil {
			vs := rec.Values("", e.Item.Path("state"))
			p := Problem{Item: e.ID, Tag: e.Tag, Name: e.Name, What: s, Words: "as noted: " + lower(f.Label(s))}
			if n := len(vs); n > 0 {
				p.By, p.At, p.Event = vs[n-1].Author, vs[n-1].Happened, vs[n-1].Event
				p.Settled = rec.Settled(p.Event)
			}
			if p.Settled == nil {
				e.Problems = append(e.Problems, p)
			}
		}
	}
	if n := len(e.View.Events); n > 0 {
		last := e.View.Events[n-1]
		if !last.Facts.Next.IsZero() {
			words := "Look again"
			if !e.View.Where.In() {
				words = "Look at the site again"
			}
			e.Due = append(e.Due, e.dueAt(DueSite, words, last.Facts.Next, now))
		}
		if last.Kind == ledger.KindGoneHome || last.Kind == ledger.KindTransferred {
			e.Due = append(e.Due, Due{Item: e.ID, Tag: e.Tag, Name: e.Name, What: DueLeaving, Words: "To come out: " + orNotRecorded(last.Facts.OutBy) + "; known to " + orNotRecorded(last.Facts.Knows)})
		}
	}
}

// despite words the conditions that did not hold when it came out, and who decided.
func despite(f *ledger.RegisterFacts) string {
	var no []string
	for _, c := range f.Conditions {
		if c.Answer == "no" {
			no = append(no, c.What)
		}
	}
	if len(no) == 0 {
		return ""
	}
	return "came out although answered no: " + strings.Join(no, "; ") + note(f.Why)
}

// lastSince is a sighting after a moment, or nil.
func (e *InChild) lastSince(at schema.Moment) *ledger.ItemEvent {
	for i := range e.View.Events {
		if x := &e.View.Events[i]; x.Happened.After(at) && seenBy[x.Kind] != "" {
			return x
		}
	}
	return nil
}

func (e *InChild) problem(rec *ledger.Record, x ledger.ItemEvent, what, words string) {
	p := Problem{Event: x.Event, Item: e.ID, Tag: e.Tag, Name: e.Name, What: what, Words: words, By: x.Author, At: x.Happened}
	if x.Event != "" {
		p.Settled = rec.Settled(x.Event)
	}
	if p.Settled == nil {
		e.Problems = append(e.Problems, p)
	}
}

// problemWords words a problem as the item's own state has it.
func problemWords(it schema.Item, f *ledger.RegisterFacts) string {
	words := f.Problem
	if k := schema.ItemKindNamed(it.Kind); k != nil {
		if d := k.Field("state"); d != nil && slices.Contains(d.Enum, f.Problem) {
			words = lower(d.Label(f.Problem))
		}
	}
	if f.Lumen != "" {
		words += ", lumen " + f.Lumen
	}
	if f.To != "" {
		words += ", at " + f.To
	}
	return words + note(f.Note)
}

func note(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

// lumens reads what the note says of the lumens.
func (e *InChild) lumens() {
	n, list := e.Item.Note(), e.Item.Path("lumens")
	for _, row := range n.Rows(list) {
		shown := func(field string) string {
			at := schema.RowPath(list, row, field)
			if f := n.FieldAt(at); f != nil && n.Answered(at) {
				return schema.Show(f, n, at)
			}
			return ""
		}
		e.Lumens = append(e.Lumens, Lumen{Name: shown("name"), State: cmp.Or(shown("state"), schema.NotRecorded), Runs: shown("runs")})
	}
}

// connect follows what was joined to a lumen, or taken off it. Where it is not known
// how many there are, what came to a lumen that was not named is kept beside what
// runs: it may be another.
func (e *InChild) connect(x ledger.ItemEvent) {
	i := slices.IndexFunc(e.Lumens, func(l Lumen) bool { return strings.EqualFold(l.Name, x.Facts.Lumen) })
	if x.Facts.Lumen == "" {
		switch runs := slices.IndexFunc(e.Lumens, func(l Lumen) bool { return l.Name == "" && l.Runs == x.Facts.Runs }); {
		case len(e.Lumens) == 1 && e.OneLumen():
			i = 0
		case runs >= 0:
			i = runs
		case i >= 0 && x.Kind == ledger.KindConnected && e.Lumens[i].Runs != "" && !e.OneLumen():
			i = -1
		}
	}
	if i < 0 {
		i = len(e.Lumens)
		e.Lumens = append(e.Lumens, Lumen{Name: x.Facts.Lumen})
	}
	l := &e.Lumens[i]
	l.By, l.At = x.Author, x.Happened
	if l.State, l.Runs = "Running", x.Facts.Runs; x.Kind == ledger.KindDisconnected {
		l.State, l.Runs = "Disconnected", ""
	}
}

// OneLumen tells whether the item has one lumen for sure: things of its kind have no
// more, or the note says so.
func (e *InChild) OneLumen() bool {
	k := schema.ItemKindNamed(e.Item.Kind)
	if k == nil || k.Field("lumens") == nil {
		return k != nil
	}
	n := e.Item.Note()
	rows, count := len(n.Rows(e.Item.Path("lumens"))), n.Decimal(e.Item.Path("lumenCount"))
	return count == "1" && rows <= 1 || count == "" && rows == 1
}

// dwell holds the days in against the unit's limit.
func (e *InChild) dwell(p *profile.Profile, now schema.Moment) {
	days, entry, ok := p.Dwell(e.View.Kind, e.Item.Text("variety"))
	e.Dwell.Entry = entry
	if !ok {
		e.Dwell.Words = "no limit in force"
		return
	}
	e.Dwell.Limit = days
	e.Dwell.By = e.Since.Add(time.Duration(days * float64(24*time.Hour)))
	e.Dwell.Review = now.After(e.Dwell.By)
	limit := "the unit's limit is " + schema.ShowNumber(strconv.FormatFloat(days, 'f', -1, 64)) + " days"
	if e.Dwell.Words = "review by " + e.Dwell.By.Shown() + ": " + limit; e.Dwell.Review {
		e.Dwell.Words = "review: in " + e.In + ", " + limit
	}
	e.Due = append(e.Due, e.dueAt(DueReview, "Review: "+limit, e.Dwell.By, now))
}

func (e *InChild) dueAt(what, words string, at, now schema.Moment) Due {
	return Due{Item: e.ID, Tag: e.Tag, Name: e.Name, What: what, Words: words, At: at, Overdue: now.After(at)}
}

// due gathers what else is due.
func (e *InChild) due(rec *ledger.Record, p *profile.Profile, now schema.Moment) {
	if day := e.Item.Text("outBy"); day != "" {
		_, offset := now.Zone()
		if d, err := schema.ParseMoment(day + "T23:59" + offsetText(offset)); err == nil {
			e.Due = append(e.Due, e.dueAt(DueOutBy, "Review: to come out by "+schema.Date(day).Shown(), d, now))
		}
	}
	if plan := e.Item.Text("removalPlan"); plan != "" {
		e.Due = append(e.Due, Due{Item: e.ID, Tag: e.Tag, Name: e.Name, What: DuePlan, Words: plan})
	}
	// What was found may be said under the last reading; the next one asks again.
	if d := e.Drainage; d != nil && d.Stop != nil && e.View.InUse() {
		p := Problem{Event: d.endedBy(d.Stop.Fell.To), Item: e.ID, Tag: e.Tag, Name: e.Name, What: ProblemStopped, Words: d.Caution, At: d.Stop.Fell.To}
		if p.Settled = rec.Settled(p.Event); p.Settled == nil {
			e.Due = append(e.Due, e.dueAt(DueWorking, d.Caution, p.At, now))
			e.Problems = append(e.Problems, p)
		}
	}
	if !e.Implant && e.View.InUse() {
		every := needEvery(p)
		switch {
		case e.Need != nil && e.Need.Needed == ledger.ToComeOut:
			e.Due = append(e.Due, e.dueAt(DueComeOut, "To come out: not needed, says "+e.Need.Author.String(), e.Need.At, now))
		case e.Need != nil && e.Need.Needed == ledger.StillNeeded:
			e.Due = append(e.Due, e.dueAt(DueNeed, "Still needed? Asked "+e.Need.At.Shown(), e.Need.At.Add(every), now))
		default:
			e.Due = append(e.Due, e.dueAt(DueNeed, "Still needed? Not asked yet", e.Since.Add(every), now))
		}
	}
	sortDue(e.Due)
}

// needEvery is how often it is asked whether a thing is still needed: daily, unless
// the unit has it otherwise.
func needEvery(p *profile.Profile) time.Duration {
	if h, _, ok := p.Number(profile.NeedHours); ok && h > 0 {
		return time.Duration(h * float64(time.Hour))
	}
	return 24 * time.Hour
}

// sortDue orders by time; what has none comes last.
func sortDue(ds []Due) {
	sorting.By(ds, func(a, b Due) int {
		return cmp.Or(rank(a.At.IsZero())-rank(b.At.IsZero()), a.At.Instant().Compare(b.At.Instant()), cmp.Compare(a.Tag, b.Tag))
	})
}

// Span words how long something has been: "3 days 4 h", "5 h", "20 min".
func Span(d time.Duration) string {
	h := int(d / time.Hour)
	switch {
	case d < 0:
		return "not yet"
	case h < 1:
		return calc.Minutes(int(d / time.Minute))
	case h < 24:
		return strconv.Itoa(h) + " h"
	}
	s := strconv.Itoa(h/24) + " " + plural(h/24, "day", "days")
	if h%24 > 0 {
		s += " " + strconv.Itoa(h%24) + " h"
	}
	return s
}

func ago(d time.Duration) string {
	if d < time.Minute {
		return "just now"
	}
	return Span(d) + " ago"
}

func offsetText(minutes int) string {
	sign := "+"
	if minutes < 0 {
		sign, minutes = "-", -minutes
	}
	two := func(n int) string { return strconv.Itoa(n/10) + strconv.Itoa(n%10) }
	return sign + two(minutes/60) + ":" + two(minutes%60)
}
