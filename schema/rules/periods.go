package rules

import (
	"fmt"
	"math"
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/sorting"
)

var periodRules = []entry{
	{Rule{"period-backwards", "A period, or a pair of times, that ends before it begins", schema.Error, ranges},
		[]string{"support", "airway", "work", "mechanical"}, periodBackwards},
	{Rule{"periods-overlap", "Two periods of one kind that overlap", schema.Error, ranges},
		[]string{"support"}, periodsOverlap},
	{Rule{"outside-run", "A clamp, arrest or perfusion period outside every bypass run", schema.Error, ranges},
		[]string{"support"}, outsideRun},
	{Rule{"arrest-with-perfusion", "Circulatory arrest that overlaps cerebral perfusion", schema.Error, ranges},
		[]string{"support"}, arrestWithPerfusion},
	{Rule{"minutes-disagree", "Entered minutes that differ from the clock times", schema.Error, ranges},
		[]string{"support", "operation", "mechanical"}, minutesDisagree},
	{Rule{"cooling-order", "Cooling, the lowest temperature and rewarming not in this order", schema.Error, ranges},
		[]string{"perfusion"}, coolingOrder},
	{Rule{"off-pump-with-bypass", "Off bypass, with bypass recorded", schema.Error, ranges},
		[]string{"support", "perfusion"}, offPump},
	{Rule{"warm-arrest", "Circulatory arrest while warm, or after little cooling", schema.Question, ranges},
		[]string{"support", "perfusion"}, warmArrest},
	{Rule{"long-arrest", "Circulatory arrest over the unit's flag; not a safe limit", schema.Question, "Wypij 2003, J Thorac Cardiovasc Surg 126:1397, through the profile; its authors name no safe time"},
		[]string{"support"}, longArrest},
}

// lists of periods, each with its start, end and minutes.
type periodList struct {
	list, on, off, minutes, total schema.Path
	word                          string
}

var (
	bypassRuns = periodList{schema.SupportRuns, schema.SupportRunsOn, schema.SupportRunsOff, schema.SupportRunsMinutes, schema.SupportBypassTotal, "bypass"}
	clamps     = periodList{schema.SupportClamps, schema.SupportClampsOn, schema.SupportClampsOff, schema.SupportClampsMinutes, schema.SupportClampTotal, "the clamp"}
	arrests    = periodList{schema.SupportArrests, schema.SupportArrestsOn, schema.SupportArrestsOff, schema.SupportArrestsMinutes, schema.SupportArrestTotal, "circulatory arrest"}
	cerebral   = periodList{schema.SupportPerfusions, schema.SupportPerfusionsOn, schema.SupportPerfusionsOff, schema.SupportPerfusionsMinutes, schema.SupportPerfusionTotal, "cerebral perfusion"}
	lowerBody  = periodList{schema.SupportLowerBody, schema.SupportLowerBodyOn, schema.SupportLowerBodyOff, schema.SupportLowerBodyMinutes, "", "lower-body perfusion"}
	allPeriods = []periodList{bypassRuns, clamps, arrests, cerebral, lowerBody}
)

// period is one row with both its times.
type period struct {
	row      string
	on, off  schema.Moment
	from, to schema.Path
}

// periods lists the rows that have both times, in the order they began.
func (l *look) periods(of periodList) []period {
	var out []period
	for _, row := range l.Rows(of.list) {
		p := period{row: row, from: of.on.In(row), to: of.off.In(row)}
		var ok1, ok2 bool
		p.on, ok1 = l.Moment(p.from)
		p.off, ok2 = l.Moment(p.to)
		if ok1 && ok2 {
			out = append(out, p)
		}
	}
	sorting.By(out, func(a, b period) int { return a.on.Instant().Compare(b.on.Instant()) })
	return out
}

// pairs are times that stand in order, row by row where a list is named.
var pairs = []struct{ list, first, second schema.Path }{
	{"", schema.AirwayThroatPackIn, schema.AirwayThroatPackOut},
	{"", schema.AirwayEchoProbeIn, schema.AirwayEchoProbeOut},
	{"", schema.MechanicalStartedAt, schema.MechanicalStoppedAt},
	{schema.AirwayDoses, schema.AirwayDosesGiven, schema.AirwayDosesNext},
	{schema.WorkAntibiotics, schema.WorkAntibioticsGiven, schema.WorkAntibioticsNext},
}

func periodBackwards(l *look) {
	check := func(from, to schema.Path) {
		a, ok1 := l.Moment(from)
		b, ok2 := l.Moment(to)
		if ok1 && ok2 && b.Before(a) {
			l.find(to, fmt.Sprintf("%s is before %s.", l.said(to), l.said(from)), "Correct the time, or its date if it was past midnight.", from)
		}
	}
	for _, of := range allPeriods {
		for _, row := range l.Rows(of.list) {
			check(of.on.In(row), of.off.In(row))
		}
	}
	for _, p := range pairs {
		if p.list == "" {
			check(p.first, p.second)
			continue
		}
		for _, row := range l.Rows(p.list) {
			check(p.first.In(row), p.second.In(row))
		}
	}
}

func periodsOverlap(l *look) {
	for _, of := range allPeriods {
		ps := l.periods(of)
		for i, later := range ps {
			for _, earlier := range ps[:i] {
				if later.on.Before(earlier.off) && earlier.on.Before(later.off) {
					l.find(later.from, fmt.Sprintf("%s is before %s: two periods of %s overlap.", l.said(later.from), l.said(earlier.to), of.word),
						"Correct the times, or make one period of the two.", earlier.to)
				}
			}
		}
	}
}

func outsideRun(l *look) {
	runs := l.periods(bypassRuns)
	if len(runs) == 0 || len(runs) < len(l.Rows(schema.SupportRuns)) {
		return // a run without its times might be the one
	}
	for _, of := range allPeriods[1:] {
		for _, p := range l.periods(of) {
			if !slices.ContainsFunc(runs, func(r period) bool { return !p.on.Before(r.on) && !p.off.After(r.off) }) && !p.off.Before(p.on) {
				l.find(p.from, fmt.Sprintf("%s to %s: %s lies outside every bypass run.", l.said(p.from), p.off.Clock(), of.word),
					"Correct the times of this period or of the run.", p.to, runs[0].from)
			}
		}
	}
}

func arrestWithPerfusion(l *look) {
	for _, a := range l.periods(arrests) {
		for _, p := range l.periods(cerebral) {
			if a.on.Before(p.off) && p.on.Before(a.off) {
				l.find(a.from, fmt.Sprintf("%s to %s overlaps cerebral perfusion from %s to %s.", l.said(a.from), a.off.Clock(), p.on.Clock(), p.off.Clock()),
					"Correct the times: while the brain is perfused the circulation is not arrested.", a.to, p.from, p.to)
			}
		}
	}
}

func minutesDisagree(l *look) {
	tolerance, ok := l.number(profile.MinutesTolerance)
	if !ok {
		return
	}
	differ := func(at schema.Path, entered, reckoned float64, from string, others ...schema.Path) {
		if over(math.Abs(entered-reckoned), tolerance) {
			l.find(at, fmt.Sprintf("%s, but %s %s.", l.said(at), from, minutes(reckoned)), "Correct the minutes or the times.", others...)
		}
	}
	for _, of := range allPeriods {
		total, all := 0.0, len(l.Rows(of.list)) > 0
		for _, row := range l.Rows(of.list) {
			at := of.minutes.In(row)
			entered, has := l.Number(at)
			on, ok1 := l.Moment(of.on.In(row))
			off, ok2 := l.Moment(of.off.In(row))
			clock := off.Sub(on).Minutes()
			if ok1 && ok2 && clock >= 0 {
				if has {
					differ(at, entered, clock, "the clock times give", of.on.In(row), of.off.In(row))
				}
				total += clock
			} else if has {
				total += entered
			} else {
				all = false
			}
		}
		if entered, has := l.Number(of.total); of.total != "" && has && all {
			differ(of.total, entered, total, "the periods add up to", of.list)
		}
	}
	between := func(at, from, to schema.Path, unit float64) {
		entered, has := l.Number(at)
		a, ok1 := l.Moment(from)
		b, ok2 := l.Moment(to)
		if has && ok1 && ok2 && !b.Before(a) {
			differ(at, entered*unit, b.Sub(a).Minutes(), fmt.Sprintf("%s and %s give", l.said(from), l.said(to)), from, to)
		}
	}
	between(schema.OperationSkinToSkin, schema.OperationStarted, schema.OperationClosed, 1)
	// Hours are entered to one decimal at best: half an hour is their rounding.
	if hours, has := l.Number(schema.MechanicalRunHours); has {
		a, ok1 := l.Moment(schema.MechanicalStartedAt)
		b, ok2 := l.Moment(schema.MechanicalStoppedAt)
		if ok1 && ok2 && !b.Before(a) && over(math.Abs(hours-b.Sub(a).Hours()), 0.5) {
			l.find(schema.MechanicalRunHours, fmt.Sprintf("%s, but the clock times give %s h.", l.said(schema.MechanicalRunHours), shown(b.Sub(a).Hours())),
				"Correct the hours or the times.", schema.MechanicalStartedAt, schema.MechanicalStoppedAt)
		}
	}
}

func coolingOrder(l *look) {
	times := []schema.Path{schema.PerfusionCoolingFrom, schema.PerfusionLowestTemperatureAt, schema.PerfusionRewarmingFrom}
	for i, later := range times {
		for _, earlier := range times[:i] {
			a, ok1 := l.Moment(earlier)
			b, ok2 := l.Moment(later)
			if ok1 && ok2 && b.Before(a) {
				l.find(later, fmt.Sprintf("%s is before %s.", l.said(later), l.said(earlier)), "Correct the times: cooling, then the lowest temperature, then rewarming.", earlier)
			}
		}
	}
}

func offPump(l *look) {
	if !l.is(schema.SupportMode, "off-pump", "caval-shunt") {
		return
	}
	at := []schema.Path{schema.SupportArterialCannulation, schema.SupportBypassTotal, schema.SupportClampTotal, schema.SupportArrestTotal,
		schema.SupportPerfusionTotal, schema.PerfusionLowestTemperature, schema.PerfusionCardioplegia}
	for _, of := range allPeriods {
		at = append(at, of.list)
	}
	for _, p := range at {
		if v, _ := l.Number(p); l.Decimal(p) != "" && v == 0 || !l.Has(p) {
			continue
		}
		l.find(p, fmt.Sprintf("%s is recorded, but %s.", l.title(p), l.said(schema.SupportMode)), "Take it out, or correct how the child was supported.", schema.SupportMode)
	}
}

func warmArrest(l *look) {
	warm, warmOn := l.number(profile.ArrestWarm)
	short, shortOn := l.number(profile.ArrestCooling)
	rows := l.Rows(schema.SupportArrests)
	for _, row := range rows {
		at := schema.SupportArrestsTemperature.In(row)
		t, has := l.Number(at)
		if !has {
			at = schema.PerfusionLowestTemperature // it was no colder than this
			t, has = l.Number(at)
		}
		if warmOn && has && over(t, warm) {
			l.find(at, fmt.Sprintf("%s at circulatory arrest is above %s °C.", l.said(at), shown(warm)), "Check the temperature, or say why.", schema.SupportArrestsOn.In(row))
		}
		cooled := schema.SupportArrestsCooling.In(row)
		if m, has := l.Number(cooled); shortOn && has && over(short, m) {
			l.find(cooled, fmt.Sprintf("%s is under %s.", l.said(cooled), minutes(short)), "Check the time, or say why.", at)
		}
	}
	if m, has := l.Number(schema.PerfusionCoolingMinutes); shortOn && has && len(rows) > 0 && !l.Has(schema.SupportArrestsCooling.In(rows[0])) && over(short, m) {
		l.find(schema.PerfusionCoolingMinutes, fmt.Sprintf("%s before circulatory arrest is under %s.", l.said(schema.PerfusionCoolingMinutes), minutes(short)), "Check the time, or say why.", schema.SupportArrests)
	}
}

func longArrest(l *look) {
	flag, on := l.number(profile.ArrestFlag)
	if !on {
		return
	}
	at := schema.SupportArrestTotal
	total, has := l.Number(at)
	if !has {
		at = schema.SupportArrests
		for _, p := range l.periods(arrests) {
			total += p.off.Sub(p.on).Minutes()
		}
	}
	if over(total, flag) {
		l.find(at, fmt.Sprintf("%s: %s, over %s, the unit's flag, which is not a safe limit.", l.title(at), minutes(total), minutes(flag)),
			"Check the times, and say what the team makes of it.")
	}
}
