package rules

import (
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// Rule is one thing that is checked.
type Rule struct {
	ID       string // lasting: answers name it
	Title    string
	Severity schema.Severity
	Source   string // the document it comes from; "from memory" where there is none
}

// Context is what a note is checked against beside itself. Its zero value knows
// of nothing else.
type Context struct {
	Now           schema.Moment // passed in, never read from a clock; zero: times are not held against it
	Register      []schema.Item // items of earlier notes that were still in when the note was begun
	Out           []string      // those of them, by id, that came out since, as recorded at the bed
	Done          []Done        // what was done before, the first first
	OtherChildren []Like
	Recorded      []schema.Kind // the kinds of note already on record for this child, this note apart
	Checks        []Checked
	Readings      []Reading
	// Asked finds what a rule asks from the computed values; nil: nothing is asked.
	Asked func(n *schema.Note, rule string) []schema.Problem
}

// Done is an operation on record that lies before the note's.
type Done struct {
	Kind schema.Kind
	Day  schema.Date // "" if it is not recorded
}

// Like is another child on this device, for telling the two apart.
type Like struct {
	Case                       string
	Surname, GivenName, BabyOf string
	BirthDate, HospitalNumber  string
	Serials                    []string // serial numbers of implants
}

// Checked is the time an item was looked at.
type Checked struct {
	Item string
	At   schema.Moment
}

// Reading is one reading of a drain chamber.
type Reading struct {
	Item    string // the drain or the chamber
	At      schema.Moment
	Level   float64 // mL, as it stands in the chamber
	Emptied bool    // emptied or changed since the reading before
}

// entry is a rule with what it reads and how it is run. Rules over every section
// have one entry a section.
type entry struct {
	Rule
	reads []string // sections, or "items"
	run   func(*look)
}

// table is every rule, theme by theme.
var table = slices.Concat(weightRules, sizeRules, infusionRules, lumenRules, pressureRules, pacingRules, lungFlowRules,
	periodRules, orderRules, birthRules, countRules, listRules, lineRules, drainRules, airwayRules, sideRules,
	implantRules, allergyRules, identityRules, planRules, askedRules)

// All lists the rules.
func All() []Rule {
	var out []Rule
	for _, e := range slices.Concat(table, rangeEntries()) {
		if !slices.ContainsFunc(out, func(r Rule) bool { return r.ID == e.ID }) {
			out = append(out, e.Rule)
		}
	}
	return out
}

// Check finds what does not agree and what is to be asked in a note, answered
// questions left out. prof may be nil for the shipped profile. The order is that
// of [schema.SortProblems].
func Check(n *schema.Note, prof *profile.Profile, ctx Context) []schema.Problem {
	open, _ := split(n, found(n, prof, &ctx))
	return open
}

// Answered is a question that has its answer.
type Answered struct {
	schema.Problem
	Answer schema.Answer
}

// AnsweredQuestions lists the questions that would be open but for an answer.
func AnsweredQuestions(n *schema.Note, prof *profile.Profile, ctx Context) []Answered {
	_, answered := split(n, found(n, prof, &ctx))
	return answered
}

// Everything is structure and agreement together, sorted. Where an error says
// more about a place, that it is not recorded is not said as well.
func Everything(n *schema.Note, prof *profile.Profile, ctx Context) []schema.Problem {
	return Join(schema.Validate(n), Check(n, prof, ctx))
}

// Join puts what the structure and what the rules say together, as Everything does.
func Join(structure, agreement []schema.Problem) []schema.Problem {
	ps := slices.DeleteFunc(slices.Clone(structure), func(p schema.Problem) bool {
		return p.Severity == schema.Missing && slices.ContainsFunc(agreement, func(q schema.Problem) bool {
			return q.Path == p.Path && q.Severity == schema.Error
		})
	})
	ps = append(ps, agreement...)
	schema.SortProblems(ps)
	return ps
}

func found(n *schema.Note, prof *profile.Profile, ctx *Context) []schema.Problem {
	var ps []schema.Problem
	for _, e := range entriesFor(n.Kind()) {
		ps = append(ps, e.on(n, prof, ctx)...)
	}
	return settle(ps)
}

// settle sorts, and drops that a value is unusual, or in a field that no longer
// applies, where another rule says more about the same place.
func settle(ps []schema.Problem) []schema.Problem {
	general := func(p schema.Problem) bool { return p.Rule == usualRule.ID || p.Rule == hideRule.ID }
	said := map[schema.Path]bool{}
	for _, p := range ps {
		if !general(p) {
			said[p.Path] = true
		}
	}
	ps = slices.DeleteFunc(ps, func(p schema.Problem) bool { return general(p) && said[p.Path] })
	schema.SortProblems(ps)
	return ps
}

// entriesFor lists the entries that notes of kind k need.
func entriesFor(k schema.Kind) []entry {
	out := slices.Clone(table)
	sections := []string{"items"}
	for _, s := range schema.SectionsOf(k) {
		sections = append(sections, s.Name)
	}
	for _, e := range rangeEntries() {
		if slices.Contains(sections, e.reads[0]) {
			out = append(out, e)
		}
	}
	return out
}

func (e entry) on(n *schema.Note, prof *profile.Profile, ctx *Context) []schema.Problem {
	if prof == nil {
		prof = shipped()
	}
	l := &look{Note: n, profile: prof, ctx: ctx, rule: e.Rule}
	e.run(l)
	return l.found
}

// split parts the open problems from the questions that have their answer.
func split(n *schema.Note, ps []schema.Problem) (open []schema.Problem, answered []Answered) {
	answers := n.Answers()
	for _, p := range ps {
		if a, ok := answerTo(n, p, answers); ok {
			answered = append(answered, Answered{p, a})
		} else {
			open = append(open, p)
		}
	}
	return open, answered
}

// answerTo finds the answer to a question. An answer without a name is none, and
// one given about other values no longer holds.
func answerTo(n *schema.Note, p schema.Problem, answers []schema.Answer) (schema.Answer, bool) {
	if p.Severity != schema.Question {
		return schema.Answer{}, false
	}
	for _, a := range slices.Backward(answers) {
		if a.Rule == p.Rule && a.Path == p.Path && a.By != "" && a.Answer != "" && (a.Saw == "" || a.Saw == p.Saw(n)) {
			return a, true
		}
	}
	return schema.Answer{}, false
}
