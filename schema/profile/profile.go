// Package profile is what differs between hospitals: every threshold, formula
// choice, dose, concentration, dwell limit, list and wording.
//
// A Profile is read from one JSON file (profile.schema.json describes it) and is
// never changed in place: Activate, Change and the like give a new one. Each
// entry carries its source and says how well the figure is known. An entry whose
// effect is a limit or a dose does nothing until a named person activates it; an
// entry without a value says why it is empty on purpose.
//
//	p := profile.Default()
//	if minutes, entry, ok := p.Number(profile.ArrestFlag); ok { … }
//
// ok is false for an entry that is empty or not yet activated: nothing is then
// computed, flagged or printed from it. A fault in a file is data, not an error:
// Load refuses the file whole and names every one.
package profile

import (
	_ "embed"
	"encoding/json"
	"sort"
	"strings"
)

// Format is the name and version of the file format.
const Format = "fairlead-profile/1"

//go:embed default.json
var shipped []byte

//go:embed profile.schema.json
var schemaText []byte

// Schema is the draft-07 schema of a profile file.
func Schema() []byte { return schemaText }

// Shipped is the default profile's own file, with its comments.
func Shipped() []byte { return shipped }

// ID names an entry.
type ID string

// The entries that the program itself reads by name. The groups below whose
// members a unit may add to (doses, drain rules, dwell limits, removal
// conditions) are read by prefix.
const (
	SurfaceFormula     ID = "surface-area.formula"
	OxygenBinding      ID = "oxygen.binding"
	OxygenDissolved    ID = "oxygen.dissolved"
	OxygenThreshold    ID = "oxygen.delivery-threshold"
	ScoreDrugs         ID = "score.drugs"
	ScoreHigh          ID = "score.high"
	HypothermiaClasses ID = "hypothermia.classes"
	GrowthStandard     ID = "growth.standard"
	GrowthPreterm      ID = "growth.preterm-weeks"
	GrowthTerm         ID = "growth.term-weeks"
	GrowthChange       ID = "growth.z-change"
	BloodVolume        ID = "blood-volume.per-kg"
	FlowTable          ID = "flow.table"
	DoseMismatch       ID = "dose.mismatch-fraction"
	WeightDifference   ID = "weight.difference-fraction"
	WeightOldest       ID = "weight.oldest-days"
	MinutesTolerance   ID = "times.minutes-tolerance"
	PacingMargin       ID = "pacing.output-margin"
	ArrestWarm         ID = "arrest.warm-above"
	ArrestCooling      ID = "arrest.cooling-minutes"
	ArrestFlag         ID = "arrest.flag-minutes"
	FenestrationOpen   ID = "fenestration.open-saturation"
	FenestrationClosed ID = "fenestration.closed-saturation"
	OutletTemperature  ID = "temperature.outlet"
	OutletGradient     ID = "temperature.gradient"
	WarmFrom           ID = "temperature.warm-from"
	WarmGradient       ID = "temperature.warm-gradient"
	WarmRate           ID = "temperature.warm-rate"
	SaturationTargets  ID = "saturation.targets"
	DrainStopFraction  ID = "drain.stop-fraction"
	DrainStopReadings  ID = "drain.stop-readings"
	ProlongedEffusion  ID = "effusion.prolonged-days"
	NeedHours          ID = "need.hours"
	CardEdition        ID = "emergency.edition"
	CardCaution        ID = "emergency.caution"
	BetweenSaturation  ID = "between.saturation"
	BetweenLoss        ID = "between.weight-loss"
	BetweenGain        ID = "between.weight-gain"
	BetweenDays        ID = "between.weight-days"
	BetweenIntake      ID = "between.intake"
	ReentryClose       ID = "reentry.close"
	Completeness       ID = "completeness.standard"
	NilBloodLoss       ID = "completeness.nil-blood-loss"
	SheetPaper         ID = "sheet.paper"
	WordsShuntArm      ID = "words.shunt-arm"
	WordsNeckLine      ID = "words.neck-line"
	WordsDrainStopped  ID = "words.drain-stopped"
	WordsDrainFell     ID = "words.drain-fell"
	WordsAir           ID = "words.air"
	WordsPatency       ID = "words.patency"
)

// Prefixes of the groups a unit may add entries to.
const (
	EmergencyPrefix = "emergency."
	DrainRulePrefix = "drain.rule."
	DwellPrefix     = "dwell."
	RemovalPrefix   = "removal."
	WordsPrefix     = "words."
)

// Effect says what an entry does, and so whether it must be activated.
type Effect string

// The effects. Limit and Dose wait for a named person.
const (
	Method Effect = "method" // how a value is computed; its name is always shown
	Prompt Effect = "prompt" // when a question is asked
	Limit  Effect = "limit"  // a figure or list that flags, calls or restrains
	Dosing Effect = "dose"   // an amount given to a child
	Words  Effect = "words"  // wording and labels
)

// NeedsActivation tells whether entries of this effect do nothing until a named
// person activates them.
func (e Effect) NeedsActivation() bool { return e == Limit || e == Dosing }

// Shape is the form of an entry's value.
type Shape string

// The shapes.
const (
	ShapeNumber  Shape = "number"
	ShapeRange   Shape = "range"   // [low, high]
	ShapeChoice  Shape = "choice"  // one of choices
	ShapeWords   Shape = "words"   // text
	ShapeList    Shape = "list"    // texts
	ShapeWeights Shape = "weights" // name → factor
	ShapeSteps   Shape = "steps"   // rising numbers
	ShapeTable   Shape = "table"   // rows by weight
	ShapeByStage Shape = "by-stage"
	ShapeDrain   Shape = "drain-rule"
	ShapeDose    Shape = "dose"
)

// Act is something a named person did to an entry.
type Act struct {
	By  string          `json:"by"`
	At  string          `json:"at"` // RFC 9557 or RFC 3339, or a date
	Did string          `json:"did,omitempty"`
	Was json.RawMessage `json:"was,omitempty"`
	Why string          `json:"why,omitempty"`
}

// Entry is one setting. Value is null where Empty says why.
type Entry struct {
	ID      ID              `json:"id"`
	Group   string          `json:"group"`
	Title   string          `json:"title"`
	Effect  Effect          `json:"effect"`
	Shape   Shape           `json:"shape"`
	UCUM    string          `json:"ucum,omitempty"`
	Between []float64       `json:"between,omitempty"`
	Choices []string        `json:"choices,omitempty"`
	Value   json.RawMessage `json:"value"`
	Empty   string          `json:"empty,omitempty"`
	Mark    string          `json:"mark,omitempty"`
	Source  string          `json:"source,omitempty"`
	Comment string          `json:"comment,omitempty"`
	Active  *Act            `json:"active,omitempty"`
	History []Act           `json:"history,omitempty"`
}

// HasValue tells whether the entry holds anything at all.
func (e Entry) HasValue() bool { return len(e.Value) > 0 && string(e.Value) != "null" }

// InForce tells whether the entry may be used: it has a value and, if it is a
// limit or a dose, somebody has activated it.
func (e Entry) InForce() bool {
	return e.HasValue() && (!e.Effect.NeedsActivation() || e.Active != nil)
}

// Standing words how the entry stands, for a screen or a list.
func (e Entry) Standing() string {
	switch {
	case !e.HasValue():
		return "empty on purpose"
	case !e.InForce():
		return "inactive: nobody has activated it"
	case e.Active != nil:
		return "activated by " + e.Active.By + ", " + e.Active.At
	}
	return "in force"
}

// Basis words where the figure comes from and how well it is known.
func (e Entry) Basis() string {
	known := map[string]string{"2": " (second-hand)", "M": " (from memory)", "U": " (the unit's own)"}[e.Mark]
	if strings.Contains(strings.ToLower(e.Source), strings.Trim(known, " ()")) {
		known = ""
	}
	return e.Source + known
}

// Profile is one unit's settings. The zero value holds nothing.
type Profile struct {
	Title   string
	Unit    string
	Comment string
	entries []Entry
	at      map[ID]int
}

// Default is the profile shipped with the program. Its limits and doses are
// inactive.
func Default() *Profile {
	p, faults := read(shipped, nil)
	if len(faults) > 0 {
		panic("profile: the shipped default is faulty: " + faults[0].Error())
	}
	return p
}

// Entries are all entries in the order of the file; the caller must not change
// what they point to.
func (p *Profile) Entries() []Entry { return append([]Entry(nil), p.entries...) }

// Entry is the entry of that name.
func (p *Profile) Entry(id ID) (Entry, bool) {
	if p == nil {
		return Entry{}, false
	}
	i, ok := p.at[id]
	if !ok {
		return Entry{}, false
	}
	return p.entries[i], true
}

// WithPrefix are the entries whose names begin so, in the order of the file.
func (p *Profile) WithPrefix(prefix string) []Entry {
	var out []Entry
	if p == nil {
		return nil
	}
	for _, e := range p.entries {
		if strings.HasPrefix(string(e.ID), prefix) {
			out = append(out, e)
		}
	}
	return out
}

func (p *Profile) value(id ID, into any) (Entry, bool) {
	e, ok := p.Entry(id)
	if !ok || !e.InForce() || json.Unmarshal(e.Value, into) != nil {
		return e, false
	}
	return e, true
}

// Number is a single figure in the entry's UCUM unit.
func (p *Profile) Number(id ID) (v float64, e Entry, ok bool) {
	e, ok = p.value(id, &v)
	return v, e, ok && e.Shape == ShapeNumber
}

// Range is a low and a high figure in the entry's UCUM unit.
func (p *Profile) Range(id ID) (low, high float64, e Entry, ok bool) {
	var v []float64
	e, ok = p.value(id, &v)
	if !ok || len(v) != 2 {
		return 0, 0, e, false
	}
	return v[0], v[1], e, true
}

// Choice is the name that was chosen.
func (p *Profile) Choice(id ID) (v string, e Entry, ok bool) {
	e, ok = p.value(id, &v)
	return v, e, ok && e.Shape == ShapeChoice
}

// Wording is a text.
func (p *Profile) Wording(id ID) (v string, ok bool) {
	e, ok := p.value(id, &v)
	return v, ok && e.Shape == ShapeWords
}

// List is a list of texts.
func (p *Profile) List(id ID) (v []string, e Entry, ok bool) {
	e, ok = p.value(id, &v)
	return v, e, ok
}

// Steps are rising figures.
func (p *Profile) Steps(id ID) (v []float64, e Entry, ok bool) {
	e, ok = p.value(id, &v)
	return v, e, ok && e.Shape == ShapeSteps
}

// Weight is one named factor.
type Weight struct {
	Name   string
	Factor float64
}

// Weights are named factors, sorted by name.
func (p *Profile) Weights(id ID) (v []Weight, e Entry, ok bool) {
	var m map[string]float64
	e, ok = p.value(id, &m)
	for name, f := range m {
		v = append(v, Weight{name, f})
	}
	sort.Slice(v, func(i, j int) bool { return v[i].Name < v[j].Name })
	return v, e, ok && e.Shape == ShapeWeights
}

// ForWeight looks a weight in kg up in a table by weight: the first row whose
// "under" is above it (a last row without "under" holds for the rest).
func (p *Profile) ForWeight(id ID, kg float64) (v float64, e Entry, ok bool) {
	var rows []TableRow
	e, ok = p.value(id, &rows)
	if !ok || e.Shape != ShapeTable {
		return 0, e, false
	}
	for _, r := range rows {
		if r.Under == nil || kg < *r.Under {
			return r.Value, e, true
		}
	}
	return 0, e, false
}

// TableRow is one line of a table by weight.
type TableRow struct {
	Under *float64 `json:"under,omitempty"` // kg; absent in the last row
	Value float64  `json:"value"`
}

// ForStage is the range set for a kind of note ("stage1").
func (p *Profile) ForStage(id ID, kind string) (low, high float64, e Entry, ok bool) {
	var m map[string][]float64
	e, ok = p.value(id, &m)
	if r := m[kind]; ok && len(r) == 2 {
		return r[0], r[1], e, true
	}
	return 0, 0, e, false
}

// DrainRule is a definition of excessive loss: at least PerKg mL/kg in each of
// Times consecutive windows of Hours, within the first Within hours (0: at any
// time).
type DrainRule struct {
	Entry  Entry   `json:"-"`
	PerKg  float64 `json:"perKg"`
	Hours  float64 `json:"hours"`
	Times  int     `json:"times"`
	Within float64 `json:"within,omitempty"`
}

// DrainRules are the rules in force.
func (p *Profile) DrainRules() []DrainRule {
	var out []DrainRule
	for _, e := range p.WithPrefix(DrainRulePrefix) {
		r := DrainRule{Entry: e}
		if e.InForce() && json.Unmarshal(e.Value, &r) == nil {
			out = append(out, r)
		}
	}
	return out
}

// Dose is one line of the emergency card.
type Dose struct {
	Entry         Entry          `json:"-"`
	Unit          string         `json:"unit"`            // UCUM unit of perKg and max, without the kilogram
	Shown         string         `json:"shown,omitempty"` // UCUM unit the amount is shown in; Unit if absent
	Heading       string         `json:"heading,omitempty"`
	Routes        []string       `json:"routes"`
	Steps         []DoseStep     `json:"steps"`
	Concentration *Concentration `json:"concentration,omitempty"`
}

// DoseStep is one amount by weight: PerKg, or from PerKg up to To, never above
// Max or under Min.
type DoseStep struct {
	Label string   `json:"label,omitempty"`
	PerKg float64  `json:"perKg"`
	To    *float64 `json:"to,omitempty"`
	Max   *float64 `json:"max,omitempty"`
	Min   *float64 `json:"min,omitempty"`
}

// Concentration is the one named concentration a dose is drawn from, in the
// dose's unit per mL.
type Concentration struct {
	Amount float64 `json:"amount"`
	Named  string  `json:"named"`
}

// Doses are the emergency doses in force, in the order of the file.
func (p *Profile) Doses() []Dose {
	var out []Dose
	for _, e := range p.WithPrefix(EmergencyPrefix) {
		if e.Effect != Dosing || !e.InForce() {
			continue
		}
		d := Dose{Entry: e}
		if json.Unmarshal(e.Value, &d) == nil {
			if d.Shown == "" {
				d.Shown = d.Unit
			}
			out = append(out, d)
		}
	}
	return out
}

// EmptyDoses are the rows of the card that the unit has left empty: they are
// printed as empty rows, never filled.
func (p *Profile) EmptyDoses() []Entry {
	var out []Entry
	for _, e := range p.WithPrefix(EmergencyPrefix) {
		if e.Effect == Dosing && !e.HasValue() {
			out = append(out, e)
		}
	}
	return out
}

// Dwell is the number of days after which an item of that kind and variety is to
// be reviewed: dwell.KIND.VARIETY where the unit has one, else dwell.KIND.
func (p *Profile) Dwell(kind, variety string) (days float64, e Entry, ok bool) {
	if variety != "" {
		if days, e, ok = p.Number(ID(DwellPrefix + kind + "." + variety)); ok {
			return days, e, true
		}
	}
	return p.Number(ID(DwellPrefix + kind))
}

// Removal are the unit's conditions before an item of that kind comes out.
func (p *Profile) Removal(kind string) ([]string, Entry, bool) {
	return p.List(ID(RemovalPrefix + kind))
}

// Of is a profile of just these entries, as they stand.
func Of(entries ...Entry) *Profile {
	p := &Profile{at: map[ID]int{}}
	for _, e := range entries {
		p.at[e.ID] = len(p.entries)
		p.entries = append(p.entries, e)
	}
	return p
}

// Table is a table by weight, whether or not it is complete.
func (p *Profile) Table(id ID) []TableRow {
	var rows []TableRow
	if _, ok := p.value(id, &rows); !ok {
		return nil
	}
	return rows
}
