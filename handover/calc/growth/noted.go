package growth

import (
	"fmt"

	"fairlead/handover/calc"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// Measured is a weight of the child from elsewhere: an earlier note, a clinic.
type Measured struct {
	On    schema.Date
	Kg    float64
	Where string // "Stage 1"
	Doubt string // why it may not be used: nothing is worked out against it; "" if it may
}

// Reads are the places of a note that growth is worked out from.
var Reads = []schema.Path{schema.MeasuresWeight, schema.MeasuresWeightDate, schema.MeasuresLength, schema.MeasuresLengthDate, schema.OperationDate,
	schema.ChildSex, schema.ChildBirthDate, schema.ChildBirthWeight, schema.ChildGestationWeeks, schema.ChildGestationDays}

// Group is the group growth's results stand under.
const Group = "Growth"

// Results are the growth values of a note: weight and length for age, the weight
// at birth, the change in score since the last earlier weight and the gain per
// day. earlier may be in any order. The unit profile says who counts as preterm,
// for whom age is corrected and the result says so.
func Results(n *schema.Note, p *profile.Profile, about calc.About, earlier []Measured) []calc.Result {
	g := gatherer{n: n, p: p, about: about}
	weight := g.weightFor("weight-for-age", "Weight for age", schema.MeasuresWeight, g.day(schema.MeasuresWeightDate, schema.OperationDate))
	length := g.lengthFor()
	birth := g.weightFor("birth-weight-for-age", "Birth weight for age", schema.ChildBirthWeight, schema.Date(n.Text(schema.ChildBirthDate)))
	out := []calc.Result{weight, length, birth}
	kg, ok := n.Number(schema.MeasuresWeight)
	on := g.day(schema.MeasuresWeightDate, schema.OperationDate)
	var last *Measured
	all := earlier
	b, born := n.Number(schema.ChildBirthWeight)
	doubt := calc.Doubt(n, schema.ChildBirthWeight, about.Disputed != nil && about.Disputed(schema.ChildBirthWeight))
	if (born || doubt != "") && n.Text(schema.ChildBirthDate) != "" {
		all = append([]Measured{{schema.Date(n.Text(schema.ChildBirthDate)), b, "Birth", doubt}}, earlier...)
	}
	for i := range all {
		if d, ok := all[i].On.DaysTo(on); ok && d > 0 && (last == nil || last.On < all[i].On) {
			last = &all[i]
		}
	}
	if last == nil || !ok {
		return out
	}
	return append(out, g.change(weight, *last), g.gain(*last, kg, on))
}

type gatherer struct {
	n     *schema.Note
	p     *profile.Profile
	about calc.About
}

// day is the first of the dates that is recorded.
func (g gatherer) day(paths ...schema.Path) schema.Date {
	for _, p := range paths {
		if d := g.n.Text(p); d != "" {
			return schema.Date(d)
		}
	}
	return ""
}

func begin(id calc.ID, title string) calc.Result {
	return calc.Result{ID: id, Group: Group, Title: title, Formula: calc.Formula{Name: "LMS", Text: "((y/M)^L − 1) / (L × S), beyond ±3 by the distance from the second to the third SD", Source: Source}}
}

func want(r *calc.Result, p schema.Path, name, why, do string) {
	r.Wanted = append(r.Wanted, calc.Wanted{Name: name, Path: p, Why: why, Do: do})
}

func (g gatherer) input(r *calc.Result, p schema.Path, name, shown string) {
	in := calc.Input{Name: name, Path: p, Shown: shown}
	if g.about.Origin != nil {
		o := g.about.Origin(p)
		in.By, in.At = o.By, o.At
	}
	r.Inputs = append(r.Inputs, in)
}

// number reads a measurement that may be used: measured, undisputed, plausible.
func (g gatherer) number(r *calc.Result, p schema.Path, name, ucum string) (float64, bool) {
	v, ok := g.n.Number(p)
	doubt := calc.Doubt(g.n, p, g.about.Disputed != nil && g.about.Disputed(p))
	switch {
	case doubt != "":
		want(r, p, name, doubt, "Settle which holds, or check the number and its unit.")
		ok = false
	case !ok:
		why := schema.NotRecorded
		if s := g.n.Stated(p); s != "" {
			why = s
		}
		want(r, p, name, why, "Record it.")
	}
	if ok {
		g.input(r, p, name, calc.Shown(v, 3, ucum))
	}
	return v, ok
}

// age is the day of age on a date to look up, corrected for a preterm child.
func (g gatherer) age(r *calc.Result, on schema.Date) (sex Sex, days int, ok bool) {
	before := len(r.Wanted)
	for _, x := range [...]struct {
		p    schema.Path
		name string
	}{{schema.ChildSex, "sex"}, {schema.ChildBirthDate, "date of birth"}, {schema.ChildGestationWeeks, "gestation"}} {
		if g.about.Disputed != nil && g.about.Disputed(x.p) {
			want(r, x.p, x.name, "different values were entered", "Settle which holds.")
		}
	}
	if len(r.Wanted) > before {
		return 0, 0, false
	}
	switch g.n.Text(schema.ChildSex) {
	case "male":
		sex = Boy
	case "female":
		sex = Girl
	default:
		want(r, schema.ChildSex, "sex", "not recorded or not assigned", "The standard has a table for boys and one for girls.")
	}
	birth := schema.Date(g.n.Text(schema.ChildBirthDate))
	days, dated := birth.DaysTo(on)
	switch {
	case birth == "":
		want(r, schema.ChildBirthDate, "date of birth", schema.NotRecorded, "Record it.")
	case on == "":
		want(r, schema.OperationDate, "date of measuring", schema.NotRecorded, "Record it.")
	case !dated || days < 0:
		want(r, schema.ChildBirthDate, "date of birth", "does not lie before the measuring", "Check both dates.")
	default:
		g.input(r, schema.ChildBirthDate, "date of birth", birth.Shown())
	}
	weeks, have := g.n.Number(schema.ChildGestationWeeks)
	limit, _, set1 := g.p.Number(profile.GrowthPreterm)
	term, _, set2 := g.p.Number(profile.GrowthTerm)
	switch {
	case !have:
		want(r, schema.ChildGestationWeeks, "gestation", schema.NotRecorded, "Record it: a preterm child's age is corrected.")
	case !set1 || !set2:
		r.Wanted = append(r.Wanted, calc.Wanted{Name: "preterm limit", Setting: profile.GrowthPreterm, Why: "not in the unit profile", Do: "The unit sets it."})
	case weeks < limit:
		extra, _ := g.n.Number(schema.ChildGestationDays)
		corrected := CorrectedDays(days, int(weeks), int(extra), term)
		g.input(r, schema.ChildGestationWeeks, "gestation", fmt.Sprintf("%d weeks %d days", int(weeks), int(extra)))
		r.Caveats = append(r.Caveats, fmt.Sprintf("Corrected age: %d days instead of %d, to term at %s weeks.", corrected, days, calc.Number(term, 0)))
		if days = corrected; days < 0 {
			want(r, schema.ChildGestationWeeks, "age", "before term by corrected age", "The standard begins at term.")
		}
	default:
		g.input(r, schema.ChildGestationWeeks, "gestation", calc.Shown(weeks, 0, "wk"))
	}
	if days > LastDay {
		want(r, schema.ChildBirthDate, "age", "beyond the standard's five years", "The tables end there.")
	}
	return sex, days, len(r.Wanted) == before
}

func (g gatherer) weightFor(id calc.ID, title string, p schema.Path, on schema.Date) calc.Result {
	r := begin(id, title)
	kg, ok := g.number(&r, p, "weight", "kg")
	sex, days, ok2 := g.age(&r, on)
	if !ok || !ok2 {
		return r
	}
	g.finish(&r, func() (float64, bool) { return WeightZ(sex, days, kg) }, days)
	if p, _ := WeightLMS(sex, days); r.OK && (p.Raw(kg) > 3 || p.Raw(kg) < -3) {
		r.Caveats = append(r.Caveats, "Beyond three standard deviations: the standard's linear extension.")
	}
	return r
}

func (g gatherer) lengthFor() calc.Result {
	r := begin("length-for-age", "Length for age")
	cm, ok := g.number(&r, schema.MeasuresLength, "length", "cm")
	sex, days, ok2 := g.age(&r, g.day(schema.MeasuresLengthDate, schema.OperationDate))
	if !ok || !ok2 {
		return r
	}
	g.finish(&r, func() (float64, bool) { return LengthZ(sex, days, cm) }, days)
	if r.OK && days >= HeightFrom {
		r.Caveats = append(r.Caveats, "Standing height from two years: add 0.7 cm if it was lying length.")
	}
	return r
}

func (g gatherer) finish(r *calc.Result, z func() (float64, bool), days int) {
	v, ok := z()
	if !ok {
		want(r, schema.ChildBirthDate, "age", "outside the standard's tables", "Check the date of birth.")
		return
	}
	r.Value, r.Unit, r.OK = v, "1", true
	r.Shown = "z " + signed(v) + " at " + fmt.Sprint(days) + " days"
}

func signed(v float64) string {
	s := calc.Fixed(v, 2)
	if v > 0 && s != "0.00" {
		s = "+" + s
	}
	return s
}

// change is the difference in score from the last earlier weight, asked about
// beyond the unit's setting.
func (g gatherer) change(now calc.Result, last Measured) calc.Result {
	r := begin("weight-z-change", "Change in weight for age since "+last.Where)
	r.Formula = calc.Formula{Name: "Difference", Text: "z now − z then", Source: Source}
	r.Wanted = append(r.Wanted, now.Wanted...)
	then := begin("then", "then")
	sex, days, ok := g.age(&then, last.On)
	r.Inputs = append(r.Inputs, now.Inputs...)
	last.enter(&r)
	if !ok {
		r.Wanted = append(r.Wanted, then.Wanted...)
	}
	z, have := WeightZ(sex, days, last.Kg)
	if len(r.Wanted) > 0 || !now.OK {
		return r
	}
	if !have {
		want(&r, schema.MeasuresWeight, "earlier weight", "outside the standard's tables", "Check it.")
		return r
	}
	r.Caveats = append(r.Caveats, now.Caveats...)
	r.Value, r.Unit, r.OK = now.Value-z, "1", true
	r.Shown = signed(r.Value)
	if limit, e, ok := g.p.Number(profile.GrowthChange); ok && (r.Value > limit || r.Value < -limit) {
		r.Flags = append(r.Flags, calc.Flag{Setting: e.ID, What: "More than " + calc.Number(limit, 2) + ": is one of the two weights wrong?", Source: e.Basis()})
	}
	return r
}

// gain is the weight gained per day since the last earlier weight.
func (g gatherer) gain(last Measured, kg float64, on schema.Date) calc.Result {
	r := calc.Result{ID: "weight-gain", Group: Group, Title: "Weight gain since " + last.Where,
		Formula: calc.Formula{Name: "Gain per day", Text: "(weight now − weight then) / days between", Source: "Arithmetic"}}
	if _, ok := g.number(&r, schema.MeasuresWeight, "weight", "kg"); !ok {
		return r
	}
	days, _ := last.On.DaysTo(on)
	if last.enter(&r); len(r.Wanted) > 0 {
		return r
	}
	r.Value, r.Unit, r.OK = (kg-last.Kg)*1000/float64(days), "g/d", true
	r.Shown = calc.Shown(r.Value, 0, "g/d") + " over " + calc.Shown(float64(days), 0, "d")
	return r
}

// enter puts an earlier weight among the inputs, or among what is wanted.
func (m Measured) enter(r *calc.Result) {
	name := "weight at " + m.Where
	if m.Doubt != "" {
		want(r, "", name+" of "+m.On.Shown(), m.Doubt, "Settle it there.")
		return
	}
	r.Inputs = append(r.Inputs, calc.Input{Name: name, Shown: calc.Shown(m.Kg, 3, "kg") + " on " + m.On.Shown()})
}

// RedFlag is a warning between the stages that the unit has activated.
type RedFlag struct {
	Setting profile.ID
	What    string
	Source  string
}

// Between judges what a family or a clinic reports between the stages: the
// saturation in %, the change in weight in grams over days, the intake in
// mL/kg/day; nil for what was not reported. Only limits in force are judged.
// Weight loss counts at any time; too little gain only over at least the unit's
// number of days.
func Between(p *profile.Profile, saturation, change, days, intake *float64) []RedFlag {
	var out []RedFlag
	add := func(e profile.Entry, what string) { out = append(out, RedFlag{e.ID, what, e.Basis()}) }
	if lo, hi, e, ok := p.Range(profile.BetweenSaturation); ok && saturation != nil {
		switch {
		case *saturation < lo:
			add(e, "Saturation under "+calc.Shown(lo, 0, "%"))
		case *saturation > hi:
			add(e, "Saturation above "+calc.Shown(hi, 0, "%"))
		}
	}
	if change != nil {
		if loss, e, ok := p.Number(profile.BetweenLoss); ok && -*change >= loss {
			add(e, "Lost "+calc.Shown(-*change, 0, "g"))
		}
		gain, e, ok := p.Number(profile.BetweenGain)
		over, _, ok2 := p.Number(profile.BetweenDays)
		if ok && ok2 && days != nil && *days >= over && *change < gain {
			add(e, fmt.Sprintf("Gained less than %s in %s", calc.Shown(gain, 0, "g"), calc.Shown(over, 0, "d")))
		}
	}
	if least, e, ok := p.Number(profile.BetweenIntake); ok && intake != nil && *intake < least {
		add(e, "Intake under "+calc.Shown(least, 0, "mL/kg/d"))
	}
	return out
}
