package calc

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// The groups results stand under.
const (
	GroupChild       = "Child"
	GroupSupport     = "Support"
	GroupBlood       = "Blood and fluid"
	GroupCirculation = "Circulation"
	GroupLosses      = "Losses"
)

const adult = "Adult evidence."

var childCatalogue = []calculation{
	{id: "surface-area", group: GroupChild, title: "Body surface area",
		reads: []schema.Path{schema.MeasuresWeight, schema.MeasuresLength}, settings: []profile.ID{profile.SurfaceFormula},
		run: func(l *look) {
			name, e, ok := l.e.prof.Choice(profile.SurfaceFormula)
			f := SurfaceFormulas[name]
			l.fromProfile(profile.SurfaceFormula, e, ok, f.Name)
			w, ok1 := l.weight()
			h, ok2 := l.number(schema.MeasuresLength, "length")
			if !ok || !ok1 || !ok2 {
				return
			}
			a, r := SurfaceArea(name, w, Of(h, Centimetre))
			if l.refused(r) {
				return
			}
			l.formula(f.Name, f.Text, f.Source)
			if name == "boyd" {
				l.caveat("The formula's coefficients are from memory.")
			}
			l.value(a.In(SquareMetre), "m2", 3)
		}},
	{id: "age", group: GroupChild, title: "Age at operation",
		reads: []schema.Path{schema.ChildBirthDate, schema.OperationDate},
		run: func(l *look) {
			birth, on := schema.Date(l.word(schema.ChildBirthDate)), schema.Date(l.word(schema.OperationDate))
			if birth == "" {
				l.want(schema.ChildBirthDate, "date of birth", l.missing(nil, schema.ChildBirthDate), "Record it.")
			}
			if on == "" {
				l.want(schema.OperationDate, "date of operation", l.missing(nil, schema.OperationDate), "Record it.")
			}
			days, ok := birth.DaysTo(on)
			switch {
			case birth == "" || on == "":
			case !ok:
				l.want(schema.ChildBirthDate, "date of birth", "not a date", "Check both dates.")
			case days < 0:
				l.want(schema.ChildBirthDate, "date of birth", "after the operation", "Check both dates.")
			default:
				l.input(schema.ChildBirthDate, "date of birth", birth.Shown())
				l.input(schema.OperationDate, "date of operation", on.Shown())
				l.formula("Calendar days", "date of operation − date of birth", "Arithmetic")
				l.value(float64(days), "d", 0)
				l.res.Shown = schema.AgeShown(birth, on)
			}
		}},
	{id: "sternum-distance", group: GroupChild, title: "Sternum to the nearest structure", reads: []schema.Path{schema.ApproachImagingDistance}, settings: []profile.ID{profile.ReentryClose}, run: toSternum},
}

// used tells whether support of a kind applies: off when the mode says not or
// the list is answered with none.
func (l *look) used(list schema.Path) bool {
	mode := l.word(schema.SupportMode)
	if l.stated(list) == schema.StatedNone || len(l.rows(list)) == 0 && (mode == "off-pump" || mode == "caval-shunt" || mode == "mechanical-support" || l.stated(schema.SupportMode) == schema.StatedNone) {
		l.off()
		return false
	}
	return true
}

// periodsOf reads a list of periods.
func (l *look) periodsOf(list schema.Path) []Period {
	var out []Period
	for _, row := range l.rows(list) {
		p := Period{Row: row}
		p.From, _ = l.moment(schema.RowPath(list, row, "on"))
		p.To, _ = l.moment(schema.RowPath(list, row, "off"))
		if v, ok := l.n.Number(schema.RowPath(list, row, "minutes")); ok {
			p.Minutes = &v
		}
		out = append(out, p)
	}
	return out
}

// timeOf sums one kind of period from its rows, or takes the entered total where
// there are no rows. Anything that makes the sum doubtful is wanted instead.
func (l *look) timeOf(list, total schema.Path, what string) (float64, bool) {
	if !l.used(list) {
		return 0, false
	}
	ps := l.periodsOf(list)
	tolerance, _ := l.setting(profile.MinutesTolerance, 0)
	if len(ps) == 0 {
		if !l.has(total) {
			l.want(list, what+" periods", l.missing(nil, list), "Record each period by the clock or in minutes.")
			return 0, false
		}
		v, ok := l.number(total, what+" minutes as entered")
		l.formula("Entered total", "minutes as entered", "The note")
		return v, ok
	}
	t := Total(ps, tolerance)
	name := func(row string) string {
		for i, p := range ps {
			if p.Row == row {
				return fmt.Sprintf("%s %d", what, i+1)
			}
		}
		return what
	}
	for i, p := range ps {
		at := schema.RowPath(list, p.Row, "on")
		for _, part := range [...]string{"on", "off", "minutes"} {
			if part := schema.RowPath(list, p.Row, part); l.disputed(part) {
				l.want(part, name(p.Row), l.missing(nil, part), "Settle which holds.")
			}
		}
		if at := schema.RowPath(list, p.Row, "minutes"); p.Minutes != nil && !p.Clocked() {
			l.number(at, name(p.Row)+" minutes") // refused or only a limit: wanted
			l.res.Inputs = slices.DeleteFunc(l.res.Inputs, func(in Input) bool { return in.Path == at })
		}
		switch {
		case p.Clocked():
			l.input(at, name(p.Row), fmt.Sprintf("%s to %s, %s", p.From.Clock(), p.To.Clock(), Minutes(int(t.Each[i]))))
		case !math.IsNaN(t.Each[i]):
			l.input(at, name(p.Row), Shown(t.Each[i], 0, "min"))
		case p.From.IsZero() && p.To.IsZero() && p.Minutes == nil:
			l.want(at, name(p.Row), "without times or minutes", "Record its start and end, or its minutes.")
		}
	}
	for _, f := range t.Findings {
		switch f.What {
		case "reversed":
			l.want(schema.RowPath(list, f.Rows[0], "off"), name(f.Rows[0]), "ends before it starts", "Check both times and the date.")
		case "half":
			if p := ps[rowIndex(ps, f.Rows[0])]; p.From.IsZero() {
				l.want(schema.RowPath(list, f.Rows[0], "on"), name(f.Rows[0]), "start not recorded", "Record it.")
			} else {
				l.want(schema.RowPath(list, f.Rows[0], "off"), name(f.Rows[0]), "end not recorded", "Record it.")
			}
		case "overlap":
			l.want(schema.RowPath(list, f.Rows[1], "on"), name(f.Rows[1]), fmt.Sprintf("overlaps %s by %s", name(f.Rows[0]), Minutes(f.Min)), "Check the times.")
		case "minutes differ":
			l.want(schema.RowPath(list, f.Rows[0], "minutes"), name(f.Rows[0]), fmt.Sprintf("entered minutes and clock times differ by %s", Minutes(f.Min)), "Correct the one that is wrong.")
		case "gap":
			l.caveat(fmt.Sprintf("%s between one %s and the next.", Minutes(f.Min), what))
		}
	}
	if v, ok := l.n.Number(total); ok && math.Abs(v-t.Union) > tolerance {
		l.want(total, "total of "+what+"s as entered", fmt.Sprintf("%s, and the periods add up to %s", Shown(v, 0, "min"), Shown(t.Union, 0, "min")), "Correct the one that is wrong.")
	}
	if f := schema.FieldAt(total); f != nil && f.Max != nil && len(l.res.Wanted) == 0 && t.Union > *f.Max {
		l.want(list, what+" times", Minutes(int(t.Union))+" in all is not plausible", "Check the dates and the times.")
	}
	l.formula("Union of the periods", "every minute counted once", "Arithmetic")
	return t.Union, len(l.res.Wanted) == 0
}

func rowIndex(ps []Period, row string) int {
	for i, p := range ps {
		if p.Row == row {
			return i
		}
	}
	return 0
}

func timeCalculation(id ID, title string, list, total schema.Path, what string, then func(*look, float64)) calculation {
	return calculation{id: id, group: GroupSupport, title: title, reads: []schema.Path{schema.SupportMode, list, total},
		settings: []profile.ID{profile.MinutesTolerance, profile.ArrestFlag},
		run: func(l *look) {
			if v, ok := l.timeOf(list, total, what); ok {
				l.value(v, "min", 0)
				if then != nil {
					then(l, v)
				}
			}
		}}
}

// toSternum is the distance on imaging from the sternum to what lies behind it, where
// the unit says what it calls close.
func toSternum(l *look) {
	if _, _, ok := l.e.prof.Number(profile.ReentryClose); !ok || !l.has(schema.ApproachImagingDistance) {
		l.drop()
		return
	}
	l.setting(profile.ReentryClose, 1)
	if v, ok := l.number(schema.ApproachImagingDistance, "distance on imaging"); ok {
		l.formula("Measured", "as entered, beside what the unit calls close", "The note")
		l.value(v, "mm", 1)
		l.above(profile.ReentryClose, v, "Under {limit}: close to the sternum", "", under)
	}
}

var supportCatalogue = []calculation{
	timeCalculation("bypass-time", "Bypass", schema.SupportRuns, schema.SupportBypassTotal, "run", nil),
	timeCalculation("clamp-time", "Clamp", schema.SupportClamps, schema.SupportClampTotal, "clamp", nil),
	timeCalculation("arrest-time", "Circulatory arrest", schema.SupportArrests, schema.SupportArrestTotal, "arrest", func(l *look, v float64) {
		l.above(profile.ArrestFlag, v, "Above {limit}", "Not a safe limit: a cut-point from another operation and cohort.", more)
	}),
	timeCalculation("perfusion-time", "Selective cerebral perfusion", schema.SupportPerfusions, schema.SupportPerfusionTotal, "perfusion", nil),
	flowCalculation("bypass-flow", "Bypass flow", schema.SupportRuns, "run"),
	flowCalculation("perfusion-flow", "Cerebral perfusion flow", schema.SupportPerfusions, "perfusion"),
	{id: "hypothermia", group: GroupSupport, title: "Hypothermia class", reads: []schema.Path{schema.PerfusionLowestTemperature, schema.SupportMode, schema.SupportRuns}, settings: []profile.ID{profile.HypothermiaClasses},
		run: func(l *look) {
			if !l.has(schema.PerfusionLowestTemperature) && !l.used(schema.SupportRuns) {
				return
			}
			steps, e, ok := l.e.prof.Steps(profile.HypothermiaClasses)
			var shown []string
			for i, name := range []string{"profound", "deep", "moderate", "mild"} {
				if i < len(steps) {
					shown = append(shown, name+" to "+Number(steps[i], 1))
				}
			}
			l.fromProfile(profile.HypothermiaClasses, e, ok, strings.Join(shown, ", ")+" °C")
			v, ok2 := l.number(schema.PerfusionLowestTemperature, "lowest temperature")
			if !ok || !ok2 {
				return
			}
			class, r := HypothermiaClass(Of(v, Celsius), steps)
			if l.refused(r) {
				return
			}
			l.formula("Classes of hypothermia", "lowest temperature, rounded to 0.1 °C", e.Basis())
			l.words(class)
			l.res.Value, l.res.Unit = v, "Cel"
		}},
	{id: "temperature-change", group: GroupSupport, title: "Temperature change", reads: []schema.Path{schema.PerfusionReadings},
		settings: []profile.ID{profile.OutletTemperature, profile.OutletGradient, profile.WarmFrom, profile.WarmGradient, profile.WarmRate}, run: temperatureChanges},
	{id: "temperature-gradient", group: GroupSupport, title: "Outlet to venous gradient", reads: []schema.Path{schema.PerfusionReadings},
		settings: []profile.ID{profile.OutletTemperature, profile.OutletGradient, profile.WarmFrom, profile.WarmGradient, profile.WarmRate}, run: gradients},
	{id: "delivered-oxygen", group: GroupSupport, title: "Delivered oxygen index", reads: []schema.Path{schema.PerfusionReadings, schema.MeasuresWeight}, uses: []ID{"surface-area"},
		settings: []profile.ID{profile.OxygenBinding, profile.OxygenDissolved, profile.OxygenThreshold}, run: deliveredOxygen},
}

// flowCalculation gives each period's flow in mL/min and by surface area.
func flowCalculation(id ID, title string, list schema.Path, what string) calculation {
	return calculation{id: id, group: GroupSupport, title: title, reads: []schema.Path{list, schema.MeasuresWeight}, uses: []ID{"surface-area"}, settings: []profile.ID{profile.FlowTable},
		run: func(l *look) {
			rows := l.rows(list)
			l.drop()
			for i, row := range rows {
				p := schema.RowPath(list, row, "flow")
				if !l.has(p) {
					continue
				}
				l.begin(numbered(title, what, i, len(rows)))
				per, ok := l.number(p, "flow")
				w, ok2 := l.weight()
				if !ok || !ok2 {
					continue
				}
				f, r := FlowOf(Of(per, MLPerKgMin), w)
				if l.refused(r) {
					continue
				}
				l.formula("Flow by weight", "flow per kg × weight", "Arithmetic")
				if table, e, ok := l.e.prof.ForWeight(profile.FlowTable, w.In(Kilogram)); ok && list == schema.SupportRuns {
					l.fromProfile(profile.FlowTable, e, true, Shown(table, 0, e.UCUM))
					l.caveat("The unit's table has " + Shown(table, 0, e.UCUM) + " at this weight.")
				}
				l.value(f.In(MillilitrePerMinute), "mL/min", 0)
				l.begin(numbered(title+" index", what, i, len(rows)))
				l.input("", lower(title), f.Show(MillilitrePerMinute, 0))
				a, ok := l.uses("surface-area")
				if !ok {
					continue
				}
				x, r := IndexOf(f, Of(a, SquareMetre))
				if l.refused(r) {
					continue
				}
				l.formula("Flow by surface area", "flow / surface area", "Arithmetic")
				l.value(x.In(LPerMinM2), "L/min/m2", 2)
			}
		}}
}

func numbered(title, what string, i, n int) string {
	if n == 1 {
		return title
	}
	return fmt.Sprintf("%s, %s %d", title, what, i+1)
}

// reading is one row of the readings on bypass.
type reading struct {
	row string
	at  schema.Moment
}

func (l *look) readings() []reading {
	var out []reading
	for _, row := range l.rows(schema.PerfusionReadings) {
		if m, ok := l.moment(schema.PerfusionReadingsAt.In(row)); ok {
			out = append(out, reading{row, m})
		}
	}
	for i := 1; i < len(out); i++ { // few rows, usually in order
		for j := i; j > 0 && out[j].at.Before(out[j-1].at); j-- {
			out[j], out[j-1] = out[j-1], out[j]
		}
	}
	return out
}

func temperatureChanges(l *look) {
	l.drop()
	for _, row := range l.rows(schema.PerfusionReadings) {
		at := schema.PerfusionReadingsAt.In(row)
		if _, timed := l.moment(at); !timed && l.has(schema.PerfusionReadingsTemperature.In(row)) {
			l.begin("Temperature change")
			l.want(at, "time of a temperature", l.missing(nil, at), "Record it.")
		}
	}
	l.end()
	limits := BypassLimits(l.e.prof)
	var last reading
	for _, r := range l.readings() {
		if !l.has(schema.PerfusionReadingsTemperature.In(r.row)) {
			continue
		}
		if last.row != "" {
			l.begin("Temperature change " + last.at.Clock() + " to " + r.at.Clock())
			a, ok1 := l.number(schema.PerfusionReadingsTemperature.In(last.row), "temperature at "+last.at.Clock())
			b, ok2 := l.number(schema.PerfusionReadingsTemperature.In(r.row), "temperature at "+r.at.Clock())
			if ok1 && ok2 {
				over := Of(float64(minute(r.at)-minute(last.at)), Minute)
				v, x := Change(Of(a, Celsius), Of(b, Celsius), over)
				if !l.refused(x) {
					l.formula("Rate", "change / minutes between", "Arithmetic")
					l.caveat("An average between two readings.")
					rate := v.In(CelsiusPerMinute)
					l.value(rate, "Cel/min", 2)
					if o, ok := l.n.Number(schema.PerfusionReadingsOutlet.In(r.row)); ok && rate > 0 {
						out := Of(o, Celsius)
						for _, name := range limits.Exceeded(OnBypass{Outlet: &out, Rate: &v}) {
							if name == "warm rate" {
								l.flag(profile.WarmRate, "Faster than the unit's limit above "+Shown(*limits.WarmFrom, 1, "Cel"), adult)
							}
						}
					}
				}
			}
		}
		last = r
	}
}

func gradients(l *look) {
	l.drop()
	limits := BypassLimits(l.e.prof)
	for _, r := range l.readings() {
		out, venous := schema.PerfusionReadingsOutlet.In(r.row), schema.PerfusionReadingsVenous.In(r.row)
		if !l.has(out) || !l.has(venous) {
			continue
		}
		l.begin("Outlet to venous gradient at " + r.at.Clock())
		o, ok1 := l.number(out, "arterial outlet")
		v, ok2 := l.number(venous, "venous return")
		if !ok1 || !ok2 {
			continue
		}
		l.formula("Gradient", "arterial outlet − venous return", "Arithmetic")
		l.value(o-v, "Cel", 1)
		a, b := Of(o, Celsius), Of(v, Celsius)
		for _, name := range limits.Exceeded(OnBypass{Outlet: &a, Inlet: &b}) {
			switch name {
			case "outlet":
				l.flag(profile.OutletTemperature, "Outlet at or above "+Shown(*limits.Outlet, 1, "Cel"), adult)
			case "gradient":
				l.flag(profile.OutletGradient, "More than "+Shown(*limits.Gradient, 1, "Cel"), adult)
			case "warm gradient":
				l.flag(profile.WarmGradient, "More than "+Shown(*limits.WarmGradient, 1, "Cel")+" above "+Shown(*limits.WarmFrom, 1, "Cel"), adult)
			}
		}
	}
}

func (l *look) oxygen() (Oxygen, bool) {
	b, ok1 := l.setting(profile.OxygenBinding, 3)
	d, ok2 := l.setting(profile.OxygenDissolved, 4)
	return Oxygen{b, d}, ok1 && ok2
}

func deliveredOxygen(l *look) {
	l.drop()
	for _, r := range l.readings() {
		if !l.has(schema.PerfusionReadingsFlow.In(r.row)) || !l.has(schema.PerfusionReadingsHaemoglobin.In(r.row)) {
			continue
		}
		l.begin("Delivered oxygen index at " + r.at.Clock())
		k, ok := l.oxygen()
		per, ok1 := l.number(schema.PerfusionReadingsFlow.In(r.row), "pump flow")
		hb, ok2 := l.number(schema.PerfusionReadingsHaemoglobin.In(r.row), "haemoglobin")
		sat, ok3 := l.percent(schema.PerfusionReadingsSaturation.In(r.row), "arterial saturation")
		po2, ok4 := l.pressure(schema.PerfusionReadingsOxygen.In(r.row), "arterial oxygen pressure")
		w, ok5 := l.weight()
		a, ok6 := l.uses("surface-area")
		if !ok || !ok1 || !ok2 || !ok3 || !ok4 || !ok5 || !ok6 {
			continue
		}
		f, x1 := FlowOf(Of(per, MLPerKgMin), w)
		i, x2 := IndexOf(f, Of(a, SquareMetre))
		c, x3 := k.Content(Of(hb, GPerDL), sat, po2)
		if l.refused(first(x1, x2, x3)) {
			continue
		}
		d, x := DeliveryIndex(i, c)
		if l.refused(x) {
			continue
		}
		l.formula("Delivered oxygen index", fmt.Sprintf("flow index × (%s × Hb × Sat + %s × PO2) × 10", Number(k.Binding, 3), Number(k.Dissolved, 4)), "Arithmetic of oxygen content")
		v := d.In(MLPerMinM2)
		l.value(v, "mL/min/m2", 1)
		if lo, hi, _, ok := l.e.prof.Range(profile.OxygenThreshold); ok {
			switch {
			case compare(v, lo) < 0:
				l.flag(profile.OxygenThreshold, "Below "+Number(lo, 0), adult)
			case compare(v, hi) < 0:
				l.flag(profile.OxygenThreshold, "Between "+Number(lo, 0)+" and "+Number(hi, 0), adult)
			}
		}
	}
}
