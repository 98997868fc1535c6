package rules

import (
	"fmt"
	"slices"
	"strconv"

	"fairlead/schema"
)

// StageOrder is asked as soon as a note is begun.
const StageOrder = "stage-out-of-order"

var orderRules = []entry{
	{Rule{"times-out-of-order", "Birth, operation, leaving and arrival not in this order", schema.Error, ranges},
		[]string{"child", "operation", "arrival"}, timesInOrder},
	{Rule{"age-impossible", "An age that no child or adult with this heart has", schema.Error, ranges},
		[]string{"child", "operation"}, ageImpossible},
	{Rule{"age-unusual", "An age outside the usual one for the stage", schema.Question, ranges},
		[]string{"child", "operation"}, ageUnusual},
	{Rule{"later-than-now", "Something recorded as done that lies in the future", schema.Question, "decisions.md 9: a clock ahead is kept and flagged"},
		[]string{"child", "measures", "operation", "support", "perfusion", "supply", "arrival", "items"}, laterThanNow},
	{Rule{"checked-before-placed", "An item looked at, or taken out, before it was put in", schema.Error, ranges},
		[]string{"items", "removals"}, checkedBeforePlaced},
	{Rule{"earlier-stage-unknown", "An earlier stage that is neither on record nor said to be done elsewhere", schema.Question, ranges},
		[]string{"before"}, earlierStage},
	{Rule{StageOrder, "A stage begun after a later one", schema.Question, "clinical.md 1: the stages follow each other"},
		[]string{"operation"}, stageOrder},
}

// birthRules has an entry for each section with dates in it, so that a keystroke
// looks at one.
var birthRules = func() []entry {
	var out []entry
	for _, section := range append([]string{"items"}, dated...) {
		out = append(out, entry{Rule{"before-birth", "A date before the child was born", schema.Error, "issue 2: dates against birth"},
			[]string{"child", "operation", section}, func(l *look) { beforeBirth(l, section) }})
	}
	return out
}()

// civil is the calendar date at a path that holds a date or a time.
func (l *look) civil(p schema.Path) (schema.Date, bool) {
	text := l.Text(p)
	if len(text) == len("2006-01-02") {
		d, err := schema.ParseDate(text)
		return d, err == nil
	}
	m, ok := l.Moment(p)
	return m.Date(), ok
}

func timesInOrder(l *look) {
	birth, born := l.civil(schema.ChildBirthDate)
	day, dated := l.civil(schema.OperationDate)
	if born && dated && day < birth {
		l.find(schema.OperationDate, fmt.Sprintf("%s is before %s.", l.said(schema.OperationDate), l.said(schema.ChildBirthDate)), "Correct the date that is wrong.", schema.ChildBirthDate)
	}
	times := []schema.Path{schema.OperationIntoTheatre, schema.OperationStarted, schema.OperationClosed, schema.OperationLeftTheatre, schema.ArrivalArrived}
	last := schema.Path("")
	for _, p := range times {
		m, ok := l.Moment(p)
		if !ok {
			continue
		}
		// A day either side is an operation that began before midnight.
		if days, ok := day.DaysTo(m.Date()); dated && ok && (days < 0 || days > 2) {
			l.find(p, fmt.Sprintf("%s does not fit %s.", l.said(p), l.said(schema.OperationDate)), "Correct the date that is wrong.", schema.OperationDate)
		}
		if earlier, ok := l.Moment(last); ok && m.Before(earlier) {
			l.find(p, fmt.Sprintf("%s is before %s.", l.said(p), l.said(last)), "Correct the time, or its date if it was past midnight.", last)
			continue
		}
		last = p
	}
}

// age is the age at operation in days and in completed calendar months.
func (l *look) age() (days, months int, ok bool) {
	birth, born := l.civil(schema.ChildBirthDate)
	day, dated := l.civil(schema.OperationDate)
	if !born || !dated {
		return 0, 0, false
	}
	days, ok = birth.DaysTo(day)
	part := func(d schema.Date, from, to int) int { n, _ := strconv.Atoi(string(d)[from:to]); return n }
	months = (part(day, 0, 4)-part(birth, 0, 4))*12 + part(day, 5, 7) - part(birth, 5, 7)
	if part(day, 8, 10) < part(birth, 8, 10) {
		months--
	}
	return days, months, ok && days >= 0
}

func ageImpossible(l *look) {
	if _, months, ok := l.age(); ok && months > 70*12 {
		l.find(schema.OperationDate, fmt.Sprintf("%s is over 70 years after %s.", l.said(schema.OperationDate), l.said(schema.ChildBirthDate)), "Correct the date that is wrong.", schema.ChildBirthDate)
	}
}

// ageUnusual asks about ages outside 1 to 14 days, 3 to 8 months, 1.5 to 6 years.
func ageUnusual(l *look) {
	days, months, ok := l.age()
	if !ok || months > 70*12 {
		return
	}
	usual := ""
	switch l.Kind() {
	case schema.Stage1:
		if days < 1 || days > 14 {
			usual = "1 to 14 days"
		}
	case schema.Stage2:
		if months < 3 || months > 8 {
			usual = "3 to 8 months"
		}
	case schema.Stage3:
		if months < 18 || months > 72 {
			usual = "1.5 to 6 years"
		}
	}
	if usual != "" {
		birth, _ := l.civil(schema.ChildBirthDate)
		day, _ := l.civil(schema.OperationDate)
		l.find(schema.OperationDate, fmt.Sprintf("%s makes the child %s; usual at this operation is %s.", l.said(schema.OperationDate), schema.AgeShown(birth, day), usual), "Check both dates, or say why the child has this age now.", schema.ChildBirthDate)
	}
}

// dated are the sections with dates of what happened to the child. Birth itself,
// and what may rightly lie before it, are left out in mayPrecede.
var dated = []string{"measures", "before", "catheter", "approach", "operation", "work", "support", "perfusion", "supply", "clotting",
	"gas", "blood", "airway", "mechanical", "arrival"}

// mayPrecede are dates that may rightly lie before birth: those of a thing rather
// than of the child. Work on the unborn child is told apart by its procedure.
func (l *look) mayPrecede(p schema.Path) bool {
	if p.Last() == "made" || p.Last() == "expires" {
		return true
	}
	return p.List() == schema.BeforeCatheterProcedures && l.is(schema.BeforeCatheterProceduresProcedure.In(p.Row()), "foetal-intervention")
}

func beforeBirth(l *look, section string) {
	birth, ok := l.civil(schema.ChildBirthDate)
	if day, dated := l.civil(schema.OperationDate); !ok || dated && day < birth {
		return // the date of the operation has been asked about already
	}
	l.eachWith([]string{section}, []string{"date", "moment"}, func(p schema.Path) {
		// Dates and times both begin with the civil date.
		if text := l.Text(p); text == "" || text >= string(birth) || l.mayPrecede(p) || p == schema.OperationDate {
			return
		}
		if d, ok := l.civil(p); ok && d < birth {
			l.find(p, fmt.Sprintf("%s is before %s.", l.said(p), l.said(schema.ChildBirthDate)), "Correct the date that is wrong.", schema.ChildBirthDate)
		}
	})
}

// done are the times of things that have happened once the note says so.
var done = []schema.Path{schema.OperationIntoTheatre, schema.OperationStarted, schema.OperationClosed, schema.OperationLeftTheatre,
	schema.ArrivalArrived, schema.PerfusionCoolingFrom, schema.PerfusionLowestTemperatureAt, schema.PerfusionRewarmingFrom, schema.SupplyOpened}

func laterThanNow(l *look) {
	if l.ctx.Now.IsZero() {
		return
	}
	at := slices.Clone(done)
	for _, of := range allPeriods {
		for _, row := range l.Rows(of.list) {
			at = append(at, of.on.In(row), of.off.In(row))
		}
	}
	for _, it := range l.Items() {
		at = append(at, it.Path("placed"))
	}
	today := l.ctx.Now.Date()
	for _, p := range []schema.Path{schema.ChildBirthDate, schema.MeasuresWeightDate, schema.MeasuresLengthDate} {
		if d, ok := l.civil(p); ok && d > today {
			l.find(p, fmt.Sprintf("%s is later than today, %s.", l.said(p), today.Shown()), "Correct the date, or check the clock of this device.")
		}
	}
	for _, p := range at {
		if m, ok := l.Moment(p); ok && m.Sub(l.ctx.Now).Minutes() > 5 {
			l.find(p, fmt.Sprintf("%s is later than now, %s.", l.said(p), l.ctx.Now.Shown()), "Correct the time, or check the clock of this device.")
		}
	}
}

func checkedBeforePlaced(l *look) {
	before := func(at schema.Moment, it schema.Item, what string, where schema.Path) {
		if placed, ok := it.Moment("placed"); ok && at.Before(placed) {
			l.find(where, fmt.Sprintf("%s was %s at %s, before it was put in at %s.", name(it), what, at.Shown(), placed.Shown()), "Correct the time that is wrong.", l.at(it, "placed"))
		}
	}
	for _, c := range l.ctx.Checks {
		if it, ok := l.listed(c.Item); ok {
			before(c.At, it, "checked", l.at(it, "placed"))
		}
	}
	for _, row := range l.Rows(schema.RemovalsOut) {
		it, ok1 := l.listed(l.Text(schema.RemovalsOutItem.In(row)))
		at, ok2 := l.Moment(schema.RemovalsOutAt.In(row))
		if ok1 && ok2 {
			before(at, it, "taken out", schema.RemovalsOutAt.In(row))
		}
	}
}

func earlierStage(l *look) {
	type stage struct {
		kind   schema.Kind
		answer schema.Path
		named  []string
		title  string
	}
	one := stage{schema.Stage1, schema.BeforeStageOne, []string{"stage-1", "hybrid-stage-1", "pulmonary-artery-band", "shunt-alone"}, "Stage 1"}
	two := stage{schema.Stage2, schema.BeforeStageTwo, []string{"stage-2"}, "Stage 2"}
	var wanted []stage
	switch l.Kind() {
	case schema.Stage1:
		return
	case schema.Stage3:
		wanted = []stage{one, two}
	default:
		wanted = []stage{one}
	}
	for _, s := range wanted {
		if slices.Contains(l.ctx.Recorded, s.kind) || l.is(s.answer, "done-elsewhere", "not-needed") {
			continue
		}
		listed := false
		for _, row := range l.Rows(schema.BeforeOperations) {
			listed = listed || l.is(schema.BeforeOperationsOperation.In(row), s.named...)
		}
		if !listed {
			l.find(s.answer, fmt.Sprintf("%s %s, and no note of it is on this device.", l.title(s.answer), l.value(s.answer)),
				"Bring its note in, list it among the previous operations, or say that it was done elsewhere or not needed.", schema.BeforeOperations)
		}
	}
}

// stageOrder asks about a stage after a later one, unless that was taken down between.
func stageOrder(l *look) {
	stages := []schema.Kind{schema.Stage1, schema.Stage2, schema.Stage3}
	mine := slices.Index(stages, l.Kind())
	if mine < 0 {
		return
	}
	later := ""
	for _, d := range l.ctx.Done {
		switch {
		case d.Kind == schema.Takedown:
			later = ""
		case slices.Index(stages, d.Kind) > mine:
			later = schema.KindNamed(d.Kind).Title
			if d.Day != "" {
				later += " of " + d.Day.Shown()
			}
		}
	}
	if at := schema.OperationDate; later != "" {
		l.find(at, fmt.Sprintf("%s: this is a note of %s, and %s is on record as done before.", l.said(at), lower(schema.KindNamed(l.Kind()).Title), lower(later)),
			"If this was done earlier, give its date; if another kind of note was meant, undo and begin that; or say why.")
	}
}
