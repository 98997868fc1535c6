package calc

import (
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// GroupLungs is the group of breathing's values.
const GroupLungs = "Lungs"

var circulationCatalogue = []calculation{
	{id: "infusion", group: GroupCirculation, title: "Infusion", reads: []schema.Path{schema.InfusionsRunning, schema.MeasuresDosingWeight, "items"}, settings: []profile.ID{profile.DoseMismatch}, run: infusionResults},
	{id: "vasoactive-score", group: GroupCirculation, title: "Vasoactive-inotropic score", reads: []schema.Path{schema.InfusionsRunning, schema.MeasuresDosingWeight},
		settings: []profile.ID{profile.ScoreDrugs, profile.ScoreHigh, profile.DoseMismatch}, run: vasoactiveScore},
	{id: "flow-ratio", group: GroupCirculation, title: "Lung to body flow ratio",
		reads: []schema.Path{schema.GasKind, schema.GasSaturation, schema.GasVenousSaturation, schema.GasVenousSite, schema.GasPulmonaryVenousSaturation}, run: flowRatio},
	{id: "transpulmonary-gradient", group: GroupCirculation, title: "Transpulmonary gradient",
		reads: []schema.Path{schema.Stage2CavalPressure, schema.Stage2AtrialPressure, schema.Stage3ConduitPressure, schema.Stage3AtrialPressure, schema.PressuresReadings}, run: transpulmonary},
	{id: "lung-resistance", group: GroupCirculation, title: "Indexed resistance of the lungs",
		reads: []schema.Path{schema.CatheterMeanPulmonaryPressure, schema.CatheterAtrialPressure, schema.CatheterPulmonaryFlowIndex},
		run: func(l *look) {
			if !l.has(schema.CatheterMeanPulmonaryPressure) && !l.has(schema.CatheterPulmonaryFlowIndex) {
				l.off()
				return
			}
			p, ok1 := l.pressure(schema.CatheterMeanPulmonaryPressure, "mean pulmonary artery pressure")
			a, ok2 := l.pressure(schema.CatheterAtrialPressure, "atrial pressure")
			q, ok3 := l.number(schema.CatheterPulmonaryFlowIndex, "pulmonary flow index")
			if !ok1 || !ok2 || !ok3 {
				return
			}
			r, x := LungResistance(Transpulmonary(p, a), Of(q, LPerMinM2))
			if l.refused(x) {
				return
			}
			l.formula("Indexed resistance", "(mean pulmonary artery − atrial pressure) / pulmonary flow index", "Arithmetic")
			l.caveat("From the study before the operation.")
			l.value(r.In(WoodM2), "mm[Hg].min.m2/L", 1)
		}},
	{id: "nakata", group: GroupCirculation, title: "Nakata index", reads: []schema.Path{schema.CatheterRightBranch, schema.CatheterLeftBranch}, uses: []ID{"surface-area"},
		run: func(l *look) {
			if !l.has(schema.CatheterRightBranch) && !l.has(schema.CatheterLeftBranch) {
				l.off()
				return
			}
			r, ok1 := l.number(schema.CatheterRightBranch, "right branch")
			f, ok2 := l.number(schema.CatheterLeftBranch, "left branch")
			a, ok3 := l.uses("surface-area")
			if !ok1 || !ok2 || !ok3 {
				return
			}
			v, x := Nakata(Of(r, Millimetre), Of(f, Millimetre), Of(a, SquareMetre))
			if l.refused(x) {
				return
			}
			l.formula("Nakata", "π/4 × (right² + left²) / surface area", "Nakata 1984, J Thorac Cardiovasc Surg 88:610; reference 330 ± 30 mm²/m²")
			l.caveat("Branches measured before the operation, surface area at the operation.")
			l.value(v, "mm2/m2", 0)
		}},
	{id: "mcgoon", group: GroupCirculation, title: "McGoon ratio", reads: []schema.Path{schema.CatheterRightBranch, schema.CatheterLeftBranch, schema.CatheterDescendingAorta},
		run: func(l *look) {
			if !l.has(schema.CatheterDescendingAorta) && !l.has(schema.CatheterRightBranch) && !l.has(schema.CatheterLeftBranch) {
				l.off()
				return
			}
			r, ok1 := l.number(schema.CatheterRightBranch, "right branch")
			f, ok2 := l.number(schema.CatheterLeftBranch, "left branch")
			a, ok3 := l.number(schema.CatheterDescendingAorta, "descending aorta")
			if !ok1 || !ok2 || !ok3 {
				return
			}
			v, x := McGoon(Of(r, Millimetre), Of(f, Millimetre), Of(a, Millimetre))
			if l.refused(x) {
				return
			}
			l.formula("McGoon", "(right + left branch) / descending aorta", "Arithmetic")
			l.value(v.In(One), "1", 2)
		}},
	{id: "fenestration", group: GroupCirculation, title: "Fenestration and saturation",
		reads: []schema.Path{schema.Stage3Fenestration, schema.LeavingSaturation}, settings: []profile.ID{profile.FenestrationOpen, profile.FenestrationClosed}, run: fenestration},
	{id: "saturation-range", group: GroupCirculation, title: "Saturation beside the unit's range", reads: []schema.Path{schema.LeavingSaturation}, settings: []profile.ID{profile.SaturationTargets},
		run: func(l *look) {
			lo, hi, e, ok := l.e.prof.ForStage(profile.SaturationTargets, string(l.n.Kind()))
			if !ok { // no range is built in
				l.drop()
				return
			}
			span := Number(lo, 1) + " to " + Shown(hi, 1, e.UCUM)
			l.fromProfile(profile.SaturationTargets, e, true, span)
			v, ok := l.number(schema.LeavingSaturation, "saturation")
			if !ok {
				return
			}
			l.formula("The unit's range for this stage", "saturation beside the range", e.Basis())
			l.value(v, "%", 0)
			l.res.Shown += ", the unit's range is " + span
			if compare(v, lo) < 0 || compare(v, hi) > 0 {
				l.flag(profile.SaturationTargets, "Outside "+span, "")
			}
		}},
	{id: "oxygenation-index", group: GroupLungs, title: "Oxygenation index", reads: []schema.Path{schema.VentilationMeanAirwayPressure, schema.GasInspiredOxygen, schema.GasOxygen, schema.GasKind},
		run: func(l *look) {
			if !l.has(schema.VentilationMeanAirwayPressure) {
				l.off()
				return
			}
			m, ok1 := l.number(schema.VentilationMeanAirwayPressure, "mean airway pressure")
			f, ok2 := l.number(schema.GasInspiredOxygen, "inspired oxygen")
			p, ok3 := l.pressure(schema.GasOxygen, "PaO2")
			l.arterialOnly()
			if !ok1 || !ok2 || !ok3 || len(l.res.Wanted) > 0 {
				return
			}
			v, x := OxygenationIndex(Of(m, CmH2O), Of(f, One), p)
			if l.refused(x) {
				return
			}
			l.formula("Oxygenation index", "mean airway pressure × inspired oxygen × 100 / PaO2", "Arithmetic")
			if k := l.n.Kind(); k != "stage3" {
				l.caveat("Misleading here: a low PaO2 is expected before stage 3.")
			} else {
				l.caveat("Misleading with a fenestration: a low PaO2 is expected.")
			}
			l.value(v, "1", 1)
		}},
	{id: "tidal-volume", group: GroupLungs, title: "Tidal volume by weight", reads: []schema.Path{schema.VentilationTidalVolume, schema.MeasuresWeight}, run: perKgOf(schema.VentilationTidalVolume, "tidal volume")},
	{id: "carbon-dioxide-gap", group: GroupLungs, title: "Arterial to end-tidal carbon dioxide", reads: []schema.Path{schema.GasCarbonDioxide, schema.LeavingEndTidal, schema.GasKind},
		run: func(l *look) {
			if !l.has(schema.LeavingEndTidal) {
				l.off()
				return
			}
			a, ok1 := l.pressure(schema.GasCarbonDioxide, "arterial carbon dioxide")
			e, ok2 := l.pressure(schema.LeavingEndTidal, "end-tidal carbon dioxide")
			l.arterialOnly()
			if !ok1 || !ok2 || len(l.res.Wanted) > 0 {
				return
			}
			l.formula("Gap", "arterial − end-tidal", "Arithmetic")
			l.value(a.Minus(e).In(MmHg), "mm[Hg]", 0)
		}},
}

// arterialOnly wants another sample when the gas is said not to be arterial.
func (l *look) arterialOnly() {
	switch k := l.word(schema.GasKind); k {
	case "arterial":
	case "":
		l.want(schema.GasKind, "kind of blood gas", schema.NotRecorded, "Record that it is arterial.")
	default:
		l.want(schema.GasKind, "arterial blood gas", "the sample is "+k, "Enter an arterial one.")
	}
}

func flowRatio(l *look) {
	kind := string(l.n.Kind())
	if kind != "stage1" {
		l.off()
		return
	}
	if !l.has(schema.GasVenousSaturation) && !l.has(schema.GasPulmonaryVenousSaturation) {
		l.off()
		return
	}
	a, ok1 := l.percent(schema.GasSaturation, "arterial saturation")
	v, ok2 := l.percent(schema.GasVenousSaturation, "venous saturation")
	p, ok3 := l.percent(schema.GasPulmonaryVenousSaturation, "pulmonary venous saturation")
	l.arterialOnly()
	switch site := l.word(schema.GasVenousSite); site {
	case "superior-caval":
	case "common-atrial":
		l.want(schema.GasVenousSite, "mixed venous saturation", "a common-atrial sample is not mixed venous", "Use a superior caval sample.")
	case "":
		l.want(schema.GasVenousSite, "site of the venous sample", schema.NotRecorded, "Record it.")
	default:
		l.caveat("Venous sample from another site than the superior caval vein.")
	}
	if !ok1 || !ok2 || !ok3 || len(l.res.Wanted) > 0 {
		return
	}
	r, x := FlowRatio(kind, a, v, p)
	if l.refused(x) {
		return
	}
	l.formula("Fick, saturations only", "(SaO2 − SvO2) / (SpvO2 − SpaO2), SpaO2 = SaO2", "Arithmetic")
	l.caveat("Stage 1 only; dissolved oxygen is neglected.")
	l.value(r.In(One), "1", 2)
}

// transpulmonary takes the operation's own pressures, or those read on leaving
// theatre.
func transpulmonary(l *look) {
	p, a := schema.Path(""), schema.Path("")
	switch {
	case l.has(schema.Stage2CavalPressure) || l.has(schema.Stage2AtrialPressure):
		p, a = schema.Stage2CavalPressure, schema.Stage2AtrialPressure
	case l.has(schema.Stage3ConduitPressure) || l.has(schema.Stage3AtrialPressure):
		p, a = schema.Stage3ConduitPressure, schema.Stage3AtrialPressure
	default:
		for _, row := range l.rows(schema.PressuresReadings) {
			mean := schema.PressuresReadingsMean.In(row)
			switch l.word(schema.PressuresReadingsPressure.In(row)) {
			case "glenn", "fontan":
				if p == "" {
					p = mean
				}
			case "left-atrial", "common-atrial":
				if a == "" {
					a = mean
				}
			}
		}
		if p == "" {
			if k := l.n.Kind(); k == "stage2" || k == "stage3" {
				l.want(schema.PressuresReadings, "Glenn or Fontan pressure", schema.NotRecorded, "Record it with the line it was read from.")
				return
			}
			l.off()
			return
		}
	}
	pv, ok1 := l.pressure(p, "Glenn or Fontan pressure")
	if a == "" {
		l.want(schema.PressuresReadings, "atrial pressure", schema.NotRecorded, "Record it with the line it was read from.")
		return
	}
	av, ok2 := l.pressure(a, "atrial pressure")
	if !ok1 || !ok2 {
		return
	}
	g := Transpulmonary(pv, av).In(MmHg)
	l.formula("Transpulmonary gradient", "Glenn or Fontan pressure − atrial pressure", "Arithmetic")
	if g <= 0 {
		l.caveat("Not above zero: zero both lines again.")
	}
	l.value(g, "mm[Hg]", 1)
}

func fenestration(l *look) {
	state := l.word(schema.Stage3Fenestration)
	none := l.stated(schema.Stage3Fenestration) == schema.StatedNone
	switch {
	case l.n.Kind() != "stage3":
		l.off()
		return
	case state == "" && !none:
		l.want(schema.Stage3Fenestration, "fenestration", l.missing(schema.FieldAt(schema.Stage3Fenestration), schema.Stage3Fenestration), "Record it, or that there is none.")
		return
	}
	s, ok := l.number(schema.LeavingSaturation, "saturation")
	if !ok {
		return
	}
	open := state == "open" || state == "snared-open"
	l.formula("Settings of the unit", "saturation beside the fenestration's state", "From memory")
	if open {
		l.input(schema.Stage3Fenestration, "fenestration", "open")
		l.words("open, " + Shown(s, 0, "%"))
		l.above(profile.FenestrationOpen, s, "{limit} or more with an open fenestration: is it open?", "", atLeast)
	} else {
		l.input(schema.Stage3Fenestration, "fenestration", "none or closed")
		l.words("none or closed, " + Shown(s, 0, "%"))
		l.above(profile.FenestrationClosed, s, "Under {limit} without a fenestration: why?", "", under)
	}
	l.res.Value, l.res.Unit = s, "%"
}

// perKgOf divides a volume by the operation weight; it is off where the volume
// is not recorded.
func perKgOf(p schema.Path, name string) func(*look) {
	return func(l *look) {
		if !l.has(p) {
			l.off()
			return
		}
		v, ok1 := l.number(p, name)
		w, ok2 := l.weight()
		if !ok1 || !ok2 {
			return
		}
		x, r := PerKg(Of(v, Millilitre), w)
		if l.refused(r) {
			return
		}
		l.formula("By weight", name+" / weight", "Arithmetic")
		l.value(x.In(MLPerKg), "mL/kg", 1)
		l.res.Shown = Shown(v, 1, "mL") + ", " + l.res.Shown
	}
}

var lossCatalogue = []calculation{
	{id: "blood-loss", group: GroupLosses, title: "Estimated blood loss", reads: []schema.Path{schema.WorkEstimatedLoss, schema.MeasuresWeight}, run: perKgOf(schema.WorkEstimatedLoss, "estimated loss")},
	{id: "drain-loss", group: GroupLosses, title: "Drain loss on leaving theatre", reads: []schema.Path{schema.LeavingDrainLoss, schema.MeasuresWeight}, run: perKgOf(schema.LeavingDrainLoss, "drain loss")},
	{id: "urine", group: GroupLosses, title: "Urine", reads: []schema.Path{schema.LeavingUrine, schema.MeasuresWeight}, run: perKgOf(schema.LeavingUrine, "urine")},
}

// unlisted are drugs that act on heart or vessels and may be missing from a
// unit's score list: they are named beside the score. From memory.
var unlisted = []string{"levosimendan", "phenylephrine", "isoprenaline", "dopamine", "dobutamine", "adrenaline", "noradrenaline", "milrinone", "vasopressin"}

func vasoactiveScore(l *look) {
	list, e, ok := l.e.prof.Weights(profile.ScoreDrugs)
	var shown []string
	for _, w := range list {
		shown = append(shown, w.Name+" × "+Number(w.Factor, 2))
	}
	l.fromProfile(profile.ScoreDrugs, e, ok, strings.Join(shown, ", "))
	rows := l.rows(schema.InfusionsRunning)
	if len(rows) == 0 && l.stated(schema.InfusionsRunning) != schema.StatedNone {
		l.want(schema.InfusionsRunning, "infusions", l.missing(nil, schema.InfusionsRunning), "List them, or record that there are none.")
	}
	var drugs []ScoreDrug
	for _, f := range infusions(l) {
		counts := slices.Contains(unlisted, f.Drug) || slices.ContainsFunc(list, func(w profile.Weight) bool { return w.Name == f.Drug })
		if !counts || f.State == "stopped" || f.State == "standby" {
			continue
		}
		p := schema.InfusionsRunningDose.In(f.Row)
		switch {
		case f.State == "":
			l.want(schema.InfusionsRunningState.In(f.Row), "state of "+lower(f.Title), schema.NotRecorded, "Record whether it runs.")
			continue
		case f.Question != "":
			l.want(p, "dose of "+lower(f.Title), "dose and pump rate disagree", f.Question)
			continue
		case f.Dose == nil && len(f.Wanted) > 0:
			for _, w := range f.Wanted {
				l.want(w.Path, w.Name+" of "+lower(f.Title), w.Why, w.Do)
			}
			continue
		case f.Dose == nil:
			l.want(p, "dose of "+lower(f.Title), schema.NotRecorded, "Record the dose, or rate, concentration and weight.")
			continue
		}
		d := ScoreDrug{Name: f.Drug}
		target := "ug/kg/min"
		if DosedInUnits(f.Drug) {
			target = "[iU]/kg/min"
		}
		v, ok := Convert(f.Dose.Value, f.Dose.UCUM, target)
		if !ok {
			l.want(p, "dose of "+lower(f.Title), UnitShown(f.Dose.UCUM)+" cannot be scored", "Enter it in "+UnitShown(target)+".")
			continue
		}
		if f.Computed {
			p = schema.InfusionsRunningRate.In(f.Row)
		}
		d.Dose, d.Unit = Of(v, UgPerKgMin), Of(v, UnitsPerKgMin)
		l.input(p, lower(f.Title), Shown(f.Dose.Value, 6, f.Dose.UCUM))
		drugs = append(drugs, d)
	}
	if len(l.res.Wanted) > 0 {
		return
	}
	score, left, r := Score(drugs, list)
	if l.refused(r) {
		return
	}
	l.formula("Vasoactive-inotropic score", "sum of dose × multiplier", e.Source)
	l.caveat("There is no single accepted list of drugs: this is the unit's.")
	if len(left) > 0 {
		l.caveat("Running and not in the list: " + strings.Join(left, ", ") + ".")
	}
	l.value(score, "1", 1)
	l.above(profile.ScoreHigh, score, "{limit} or more", "Said of the first 24 hours.", atLeast)
}
