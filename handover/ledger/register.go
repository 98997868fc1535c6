package ledger

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// What is read, tested, answered and done between arrival and the last one out.
const (
	KindOutputRead   = "output read"
	KindPressureRead = "pressure read"
	KindWiresTested  = "threshold tested"
	KindConnected    = "connected"
	KindDisconnected = "disconnected"
	KindProblem      = "problem"
	KindTransferred  = "transferred"
	KindNeedAnswered = "need answered"
	KindRoundOpened  = "need round opened"
	KindRoundClosed  = "need round closed"
)

// RegisterKinds are the events that happen to one item, in the order a person
// thinks of them.
var RegisterKinds = []string{KindPlaced, KindConfirmed, KindChecked, KindMoved, KindOutputRead, KindPressureRead, KindWiresTested,
	KindConnected, KindDisconnected, KindProblem, KindNeedAnswered, KindExchanged, KindRemoved, KindCutLeft, KindLost, KindToTheatre,
	KindTransferred, KindGoneHome}

// NotKnown is an answer, and no default: the one who was asked could not know.
const NotKnown = "not known"

// RegisterFacts is what an event of the register may say beside its kind. Every
// answer is "yes", "no" or "" for not recorded; every figure is a decimal as text.
type RegisterFacts struct {
	Complete string `json:"complete,omitempty"` // removed, exchanged: all of it came out; or [NotKnown]
	TipSeen  string `json:"tipSeen,omitempty"`  // or [NotKnown]
	Time     string `json:"time,omitempty"`     // removed, exchanged: [NotKnown] if it was found out already; it happened when that was seen
	Bleeding string `json:"bleeding,omitempty"` // "no", "yes" or how much, in words
	Planned  string `json:"planned,omitempty"`
	For      ItemID `json:"for,omitempty"` // exchanged: the item that took its place
	To       string `json:"to,omitempty"`  // moved: where to, in words or with its unit
	Answer   Answer `json:"answer,omitempty"`
	Note     string `json:"note,omitempty"`

	Length     string        `json:"length,omitempty"`    // removed: cm that came out
	Number     string        `json:"number,omitempty"`    // removed: how many came out, of packs and the like
	Cut        string        `json:"cut,omitempty"`       // cut and left: how many were cut, of several
	Others     string        `json:"others,omitempty"`    // cut and left: "yes" if others of the same sort were not cut, and are in
	Proved     string        `json:"proved,omitempty"`    // removed: how it was made sure that none is left
	Site       string        `json:"site,omitempty"`      // removed: how the site looks
	Next       schema.Moment `json:"next,omitzero"`       // when it, or its site, is to be looked at again
	Conditions []Condition   `json:"conditions,omitzero"` // the unit's conditions before removal, each answered

	Output   *Output   `json:"output,omitempty"`
	Pressure *Pressure `json:"pressure,omitempty"`
	Test     *WireTest `json:"test,omitempty"`
	Problem  string    `json:"problem,omitempty"` // a value of the item's "state", or words
	Lumen    string    `json:"lumen,omitempty"`   // connected, disconnected, problem: which one; "" for the only one
	Runs     string    `json:"runs,omitempty"`    // connected: what runs, or what it is joined to
	Needed   Needed    `json:"needed,omitempty"`
	Why      string    `json:"why,omitempty"`
	Round    EventID   `json:"round,omitempty"` // need answered: the round it belongs to; "" for none
	Ward     string    `json:"ward,omitempty"`  // transferred: where to
	Knows    string    `json:"knows,omitempty"` // transferred, gone home: who there knows of it
	OutBy    string    `json:"outBy,omitempty"` // transferred, gone home: when it must come out, in words
}

// Condition is one of the unit's conditions before removal, with the answer.
type Condition struct {
	What   string `json:"what"`
	Answer string `json:"answer,omitempty"` // "yes", "no" or ""
}

// discharged is the body of the end of a stay.
type discharged struct {
	Asked []Condition `json:"asked,omitempty"`
}

// Output is a reading of a drain or its chamber. One of Total and Volume, or
// neither where only what it looks like was seen.
type Output struct {
	Total    string `json:"total,omitempty"`    // mL: the running total, which is the level of a chamber
	Volume   string `json:"volume,omitempty"`   // mL that came in the Minutes before
	Minutes  string `json:"minutes,omitempty"`  // 60 if absent
	Emptied  string `json:"emptied,omitempty"`  // "yes": emptied after Total was read; counting begins at Begins
	Changed  string `json:"changed,omitempty"`  // "yes": another chamber after Total was read
	Begins   string `json:"begins,omitempty"`   // mL at which counting begins again; 0 if absent
	Colour   string `json:"colour,omitempty"`   // a value of the drain's "colour"
	Swing    string `json:"swing,omitempty"`    // a value of "swing"
	Bubbling string `json:"bubbling,omitempty"` // a value of "bubbling": the air leak
	Drainage string `json:"drainage,omitempty"` // a value of "drainage"
	Suction  string `json:"suction,omitempty"`  // cmH2O
	Milked   string `json:"milked,omitempty"`   // "yes": milked at the reading
}

// Fresh tells whether counting begins again after the reading.
func (o *Output) Fresh() bool { return o.Emptied == "yes" || o.Changed == "yes" }

// Corrects tells whether a reading takes the place of one that was entered before it
// for the same minute: both stay in the account, and the later one counts. Less than
// what was emptied is no correction: it is what stood in the chamber afterwards.
func (o *Output) Corrects(was *Output) bool {
	if o.Total+o.Volume == "" || was.Total+was.Volume == "" {
		return false
	}
	if o.Fresh() || !was.Fresh() || o.Total == "" {
		return true
	}
	now, err1 := strconv.ParseFloat(o.Total, 64)
	before, err2 := strconv.ParseFloat(was.Total, 64)
	return err1 == nil && err2 == nil && now >= before
}

// InPlaceOf is the reading as it counts where it corrects another: that the chamber
// was emptied or changed stands.
func (o *Output) InPlaceOf(was *Output) *Output {
	if o.Fresh() || !was.Fresh() {
		return o
	}
	counts := *o
	counts.Emptied, counts.Changed, counts.Begins = was.Emptied, was.Changed, was.Begins
	return &counts
}

// Pressure is a pressure read through a line, in mmHg.
type Pressure struct {
	Systolic  string `json:"systolic,omitempty"`
	Diastolic string `json:"diastolic,omitempty"`
	Mean      string `json:"mean,omitempty"`
	Zeroed    string `json:"zeroed,omitempty"`
	Trace     string `json:"trace,omitempty"` // good, damped, …
}

// WireTest is a test of pacing wires, or how they stand at the box.
type WireTest struct {
	Threshold  string        `json:"threshold,omitempty"` // mA
	Sensing    string        `json:"sensing,omitempty"`   // mV
	Site       string        `json:"site,omitempty"`      // which wire, where there are several
	Rhythm     string        `json:"rhythm,omitempty"`    // the child's own beneath
	Mode       string        `json:"mode,omitempty"`      // of the box: VVI, DDD, …
	Rate       string        `json:"rate,omitempty"`      // of the box, per minute
	Output     string        `json:"output,omitempty"`    // of the box, mA
	Delay      string        `json:"delay,omitempty"`     // of the box, atrioventricular, ms
	Sense      string        `json:"sense,omitempty"`     // of the box: the sensitivity, mV
	Connection string        `json:"connection,omitempty"`
	BoxPort    string        `json:"boxPort,omitempty"`
	LastNeeded schema.Moment `json:"lastNeeded,omitzero"` // when the child last needed pacing
	Needed     string        `json:"needed,omitempty"`    // "no": pacing was not needed at the test
}

// Needed is an answer of the daily round.
type Needed string

const (
	StillNeeded Needed = "yes"
	ToComeOut   Needed = "no"
	NotAskedNow Needed = "not asked now"
)

// roundClosed is the body of a closed round.
type roundClosed struct {
	Round   EventID   `json:"round"`
	Unasked []Unasked `json:"unasked,omitempty"`
}

// Unasked is an item that had no answer when its round was closed.
type Unasked struct {
	Item ItemID `json:"item"`
	Why  string `json:"why,omitempty"`
}

// RemovedPart tells whether the facts of a removal, or of an exchange, which removes
// too, leave something in, or in doubt.
func (f *RegisterFacts) RemovedPart() bool {
	return f.Complete == "no" || f.TipSeen == "no" || f.Complete == NotKnown || f.TipSeen == NotKnown
}

// NoneLeft tells whether the facts of a removal say that nothing was left of what had
// perhaps not come out whole: nothing came out then, it was made sure.
func (f *RegisterFacts) NoneLeft() bool {
	return f.Complete == "yes" && f.Proved != "" && f.Number == ""
}

// Part is where a thing of such facts is.
func (f *RegisterFacts) Part() Whereabouts {
	switch {
	case f.Complete == "no":
		return RemovedPart
	case f.RemovedPart():
		return PerhapsPart
	}
	return Removed
}

// LeftBehind says of such facts what is not as it should be, a thing an entry: how much
// came out, and whether the tip was seen.
func (f *RegisterFacts) LeftBehind() (out []string) {
	if f.Complete == "no" {
		out = append(out, "not all of it came out")
	} else if f.Complete == NotKnown {
		out = append(out, "whether all of it came out is not known")
	}
	if f.TipSeen == "no" {
		out = append(out, "its tip was not seen")
	} else if f.TipSeen == NotKnown {
		out = append(out, "whether its tip came out is not known")
	}
	return out
}

// ofItem reads the body of a register event; ok says whether it says enough.
func ofItem(ok func(*registered) bool) []func(json.RawMessage) (any, error) {
	return []func(json.RawMessage) (any, error){func(body json.RawMessage) (any, error) {
		b, err := readRegistered(body)
		if err == nil && !(isID(string(b.Item)) && ok(b)) {
			err = errBody
		}
		return b, err
	}}
}

// readAnyRegistered reads a body of the first release, which was not judged.
func readAnyRegistered(body json.RawMessage) (any, error) { return readRegistered(body) }

func init() {
	for kind, ok := range map[string]func(*registered) bool{
		KindOutputRead: func(b *registered) bool {
			return b.Output != nil && plain(b.Output.Total, b.Output.Volume, b.Output.Minutes, b.Output.Begins, b.Output.Suction) &&
				(b.Output.Total == "" || b.Output.Volume == "")
		},
		KindPressureRead: func(b *registered) bool {
			return b.Pressure != nil && decimals(b.Pressure.Systolic, b.Pressure.Diastolic, b.Pressure.Mean)
		},
		KindWiresTested: func(b *registered) bool {
			return b.Test != nil && plain(b.Test.Threshold, b.Test.Sensing, b.Test.Rate, b.Test.Output, b.Test.Delay, b.Test.Sense)
		},
		KindConnected:    anything,
		KindDisconnected: anything,
		KindProblem:      func(b *registered) bool { return b.Problem != "" },
		KindTransferred:  anything,
		KindNeedAnswered: func(b *registered) bool { return b.Needed != "" },
	} {
		readers[kind] = ofItem(ok)
	}
	readers[KindRoundOpened] = []func(json.RawMessage) (any, error){leaf[empty]}
	readers[KindRoundClosed] = []func(json.RawMessage) (any, error){checkedItem(func(b *roundClosed) bool { return isID(string(b.Round)) })}
}

func anything(*registered) bool { return true }

// decimals tells whether each text is a decimal or empty; plain, whether none is
// below nought either.
func decimals(texts ...string) bool {
	return !slices.ContainsFunc(texts, func(s string) bool { return s != "" && !isDecimal(s) })
}

func plain(texts ...string) bool {
	return decimals(texts...) && !slices.ContainsFunc(texts, func(s string) bool { return strings.HasPrefix(s, "-") })
}

// Happen records what happened to an item, as the child's register has it.
func (w *Writer) Happen(kind string, item ItemID, facts RegisterFacts) Event {
	return w.Register("", kind, item, facts)
}

// ReadOutput, ReadPressure and TestWires record a reading.
func (w *Writer) ReadOutput(item ItemID, o Output) Event {
	return w.Happen(KindOutputRead, item, RegisterFacts{Output: &o})
}

func (w *Writer) ReadPressure(item ItemID, p Pressure) Event {
	return w.Happen(KindPressureRead, item, RegisterFacts{Pressure: &p})
}

func (w *Writer) TestWires(item ItemID, t WireTest) Event {
	return w.Happen(KindWiresTested, item, RegisterFacts{Test: &t})
}

// Connect says what runs through a lumen; Disconnect that nothing does now.
func (w *Writer) Connect(item ItemID, lumen, runs string) Event {
	return w.Happen(KindConnected, item, RegisterFacts{Lumen: lumen, Runs: runs})
}

func (w *Writer) Disconnect(item ItemID, lumen, why string) Event {
	return w.Happen(KindDisconnected, item, RegisterFacts{Lumen: lumen, Why: why})
}

// ReportProblem records a problem, which stays open until it is settled with
// [Writer.Settle] under the event's id. what is a value of the item's "state" or
// words; to is where it moved to, with its unit.
func (w *Writer) ReportProblem(item ItemID, what, lumen, to, note string) Event {
	return w.Happen(KindProblem, item, RegisterFacts{Problem: what, Lumen: lumen, To: to, Note: note})
}

// Remove records how an item came out.
func (w *Writer) Remove(item ItemID, facts RegisterFacts) Event {
	return w.Happen(KindRemoved, item, facts)
}

// Exchange lists the item that takes another's place, under the next free tag (a
// tag is not used again within a stay), and says that the other went. It is listed
// in the register and in no note, so that a signed note stays as it was signed, and
// was put in when the other went. Set its other attributes with Set. The facts say of
// the old one what a removal says. It returns one action of three events.
func (w *Writer) Exchange(r *Record, old ItemID, kind string, facts RegisterFacts) (fresh ItemID, events []Event) {
	if w.action == nil {
		w = w.Together()
	}
	fresh = w.NewItem()
	if v, ok := r.Item(old); ok {
		kind = cmp.Or(kind, v.Kind)
	}
	facts.For = fresh
	gone := w.Happen(KindExchanged, old, facts)
	put := Entry{Value: gone.Happened.String(), Origin: Origin{How: HowPick}}
	return fresh, []Event{w.ListItem("", fresh, kind, r.NextTag()), gone, w.set("", schema.ItemPath(string(fresh), "placed"), put, nil, r)}
}

// Transfer says that an item goes with the child to another ward.
func (w *Writer) Transfer(item ItemID, ward, knows, outBy string) Event {
	return w.Happen(KindTransferred, item, RegisterFacts{Ward: ward, Knows: knows, OutBy: outBy})
}

// GoHome says that an item goes home with the child.
func (w *Writer) GoHome(item ItemID, knows, outBy string) Event {
	return w.Happen(KindGoneHome, item, RegisterFacts{Knows: knows, OutBy: outBy})
}

// OpenRound begins the daily round that asks of every item whether it is still
// needed. The event's id names the round.
func (w *Writer) OpenRound() Event { return w.event("", KindRoundOpened, empty{}) }

// AnswerNeed answers for one item, in a round or, with round "", outside one.
func (w *Writer) AnswerNeed(round EventID, item ItemID, needed Needed, why string) Event {
	return w.Happen(KindNeedAnswered, item, RegisterFacts{Round: round, Needed: needed, Why: why})
}

// CloseRound closes a round. Every item without an answer is named in it, with why
// it was not asked.
func (w *Writer) CloseRound(r *Record, round EventID, why string) Event {
	b := roundClosed{Round: round}
	if v, ok := r.Round(round); ok {
		for _, id := range v.Unasked {
			b.Unasked = append(b.Unasked, Unasked{id, why})
		}
	}
	return w.event("", KindRoundClosed, b)
}

// Need is the answer for one item in a round.
type Need struct {
	Event  EventID
	Needed Needed
	Why    string
	Author Author
	At     schema.Moment
	Clock  Clock
}

// Round is one round of the daily question "still needed?".
type Round struct {
	ID      EventID
	Author  Author
	Opened  schema.Moment
	Clock   Clock
	Answers map[ItemID]Need // the latest of each item
	Unasked []ItemID        // in the child and not answered for, by tag
	Closed  *RoundClosing   // nil while it is open
}

// RoundClosing is who closed a round, and what they had not asked.
type RoundClosing struct {
	Event   EventID
	Author  Author
	At      schema.Moment
	Unasked []Unasked // as the one who closed it knew
}

// Rounds lists the rounds, the first begun first.
func (r *Record) Rounds() []Round {
	var out []Round
	for _, e := range sortedEntries(r.kinds[KindRoundOpened]) {
		out = append(out, Round{ID: e.ID, Author: e.Author, Opened: e.Happened, Clock: e.Clock, Answers: map[ItemID]Need{}})
	}
	if len(out) == 0 {
		return nil
	}
	find := func(id EventID) *Round {
		i := slices.IndexFunc(out, func(o Round) bool { return o.ID == id })
		if i < 0 {
			return nil
		}
		return &out[i]
	}
	for _, e := range sortedEntries(r.kinds[KindNeedAnswered]) {
		b := e.body.(*registered)
		if o := find(b.Round); o != nil {
			o.Answers[b.Item] = Need{e.ID, b.Needed, b.Why, e.Author, e.Happened, e.Clock}
		}
	}
	for _, e := range sortedEntries(r.kinds[KindRoundClosed]) {
		b := e.body.(*roundClosed)
		if o := find(b.Round); o != nil && o.Closed == nil {
			o.Closed = &RoundClosing{e.ID, e.Author, e.Happened, b.Unasked}
		}
	}
	items := r.Items()
	for i := range out {
		o := &out[i]
		until := schema.Moment{}
		if o.Closed != nil {
			until = o.Closed.At
		}
		for _, v := range items {
			if _, answered := o.Answers[v.ID]; !answered && r.askedOf(v, *o, until) {
				o.Unasked = append(o.Unasked, v.ID)
			}
		}
	}
	return out
}

// askedOf tells whether an item belongs in a round: it is looked for at the bed,
// and was there when the round was closed, or is there now.
func (r *Record) askedOf(v ItemView, o Round, until schema.Moment) bool {
	if v.Withdrawn || !Bedside(v.Kind) {
		return false
	}
	if until.IsZero() {
		return v.InUse()
	}
	if v.Happened.After(until) {
		return false
	}
	was := newWay()
	for i := range v.Events {
		if e := &v.Events[i]; !e.Happened.After(until) {
			was.take(e)
		}
	}
	return was.where.AtBedside() && !r.piece(&v, was.where)
}

// Round is the round of that id.
func (r *Record) Round(id EventID) (Round, bool) {
	for _, o := range r.Rounds() {
		if o.ID == id {
			return o, true
		}
	}
	return Round{}, false
}

// Settled is how an event was settled: a problem, a fault of the register or a
// difference; nil while it is open.
func (r *Record) Settled(id EventID) *Settlement {
	e := r.settlements()[id]
	if e == nil {
		return nil
	}
	b := e.body.(*differenceSettled)
	return &Settlement{e.ID, b.How, b.By, e.by(), e.Happened}
}

// settlements is the last settlement of each event, by that event.
func (r *Record) settlements() map[EventID]*entry {
	if r.views.settled == nil {
		r.views.settled = map[EventID]*entry{}
		for _, s := range r.kinds[KindDifferenceSettled] {
			id := s.body.(*differenceSettled).Check
			if last := r.views.settled[id]; last == nil || before(&last.Event, &s.Event) < 0 {
				r.views.settled[id] = s
			}
		}
	}
	return r.views.settled
}

// Words says what the facts hold, beyond the kind of their event, one thing an entry.
func (f RegisterFacts) Words() []string { return factWords(f) }

// factWords says what the facts of a register event hold, beyond their kind.
func factWords(f RegisterFacts) []string {
	var out []string
	add := func(name, v, unit string) {
		if v != "" {
			out = append(out, strings.TrimSpace(name+" "+schema.ShowNumber(v)+" "+unit))
		}
	}
	said := func(name, v string) {
		if v != "" {
			out = append(out, strings.TrimSpace(name+" "+v))
		}
	}
	if o := f.Output; o != nil {
		add("running total", o.Total, "mL")
		if o.Volume != "" {
			out = append(out, schema.ShowNumber(o.Volume)+" mL in "+schema.ShowNumber(cmp.Or(o.Minutes, "60"))+" min")
		}
		for _, x := range [][2]string{{o.Emptied, "emptied"}, {o.Changed, "chamber changed"}, {o.Milked, "milked"}} {
			if x[0] == "yes" {
				out = append(out, x[1])
			}
		}
		add("counting begins at", o.Begins, "mL")
		said("", o.Colour)
		said("swinging:", o.Swing)
		said("bubbling:", strings.ReplaceAll(o.Bubbling, "-", " "))
		said("", strings.ReplaceAll(o.Drainage, "-", " "))
		add("suction", o.Suction, "cmH2O")
	}
	if p := f.Pressure; p != nil {
		add("systolic", p.Systolic, "mmHg")
		add("diastolic", p.Diastolic, "mmHg")
		add("mean", p.Mean, "mmHg")
		said("zeroed:", p.Zeroed)
		said("trace", p.Trace)
	}
	if t := f.Test; t != nil {
		said("", t.Site)
		add("threshold", t.Threshold, "mA")
		add("sensing", t.Sensing, "mV")
		said("own rhythm beneath:", t.Rhythm)
		said("box", t.Mode)
		add("rate", t.Rate, "per minute")
		add("output", t.Output, "mA")
		add("delay", t.Delay, "ms")
		add("sensitivity", t.Sense, "mV")
		said("", t.Connection)
		said("box port", t.BoxPort)
		if !t.LastNeeded.IsZero() {
			out = append(out, "last needed "+t.LastNeeded.Shown())
		}
		if t.Needed == "no" {
			out = append(out, "pacing not needed")
		}
	}
	said("", strings.ReplaceAll(f.Problem, "-", " "))
	said("lumen", f.Lumen)
	said("", f.Runs)
	if f.Time != "" {
		out = append(out, "found out already: at what time is not known")
	}
	add("length", f.Length, "cm")
	add("number that came out:", f.Number, "")
	add("number that was cut:", f.Cut, "")
	if f.Others == "yes" {
		out = append(out, "the others were not cut, and are in")
	}
	said("made sure that none is left:", f.Proved)
	said("site:", f.Site)
	for _, c := range f.Conditions {
		out = append(out, c.What+": "+cmp.Or(c.Answer, schema.NotRecorded))
	}
	said("to", f.Ward)
	said("known to", f.Knows)
	said("to come out", f.OutBy)
	said("", f.Why)
	if !f.Next.IsZero() {
		out = append(out, "next look "+f.Next.Shown())
	}
	return out
}

// happened words the kinds of register events.
var happenedWords = map[string]string{KindPlaced: "was placed", KindConfirmed: "was confirmed to be in", KindChecked: "was checked", KindMoved: "was moved",
	KindRemoved: "was taken out", KindExchanged: "was exchanged", KindCutLeft: "was cut and left", KindLost: "was lost",
	KindToTheatre: "went back to theatre", KindGoneHome: "goes home with the child", KindOutputRead: "was read", KindPressureRead: "pressure was read",
	KindWiresTested: "was tested", KindConnected: "was connected", KindDisconnected: "was disconnected", KindProblem: "has a problem",
	KindTransferred: "goes with the child"}

var neededWords = map[Needed]string{StillNeeded: "is still needed", ToComeOut: "is not needed: to come out", NotAskedNow: "was not asked about now"}

func (r *Record) roundWords(b *roundClosed) string {
	if len(b.Unasked) == 0 {
		return "The round of what is still needed was closed: every item was asked about."
	}
	var names []string
	for _, u := range b.Unasked {
		names = append(names, r.tagOf(u.Item)+" ("+orNotRecorded(u.Why)+")")
	}
	return "The round of what is still needed was closed, and not asked about were: " + strings.Join(names, ", ") + "."
}
