package calc

import (
	"fmt"
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

var bloodCatalogue = []calculation{
	{id: "predicted-haematocrit", group: GroupBlood, title: "Predicted haematocrit on bypass",
		reads:    []schema.Path{schema.MeasuresWeight, schema.PerfusionHaematocritBefore, schema.PerfusionPrime, schema.SupportMode, schema.SupportRuns},
		settings: []profile.ID{profile.BloodVolume}, run: predictedHaematocrit},
	{id: "lowest-haematocrit", group: GroupBlood, title: "Lowest haematocrit on bypass",
		reads: []schema.Path{schema.PerfusionLowestHaematocrit, schema.SupportMode, schema.SupportRuns},
		run: func(l *look) {
			if !l.has(schema.PerfusionLowestHaematocrit) && !l.used(schema.SupportRuns) {
				return
			}
			if v, ok := l.number(schema.PerfusionLowestHaematocrit, "lowest haematocrit"); ok {
				l.formula("Measured", "as entered", "The note")
				l.value(v, "%", 1)
			}
		}},
	sumCalculation("prime-volume", "Prime", schema.PerfusionPrime, "product", nil),
	sumCalculation("ultrafiltrate", "Ultrafiltrate", schema.PerfusionUltrafiltration, "kind", func(kind string) bool { return kind != "prebypass" }),
	sumCalculation("cardioplegia", "Cardioplegia", schema.PerfusionCardioplegiaDoses, "route", nil),
	{id: "products", group: GroupBlood, title: "Blood product", reads: []schema.Path{schema.BloodProducts, schema.MeasuresWeight}, run: products},
	{id: "bypass-balance", group: GroupBlood, title: "Fluid balance on bypass, computed",
		reads: []schema.Path{schema.PerfusionPrime, schema.PerfusionUltrafiltration, schema.PerfusionCardioplegiaDoses, schema.PerfusionCardioplegia, schema.SupportClamps, schema.PerfusionUrine, schema.BloodProducts, schema.SupportMode, schema.SupportRuns, schema.MeasuresWeight},
		run:   balance},
	{id: "balance-entered", group: GroupBlood, title: "Fluid balance on bypass, as entered", reads: []schema.Path{schema.PerfusionBalance, schema.MeasuresWeight},
		run: func(l *look) {
			if !l.has(schema.PerfusionBalance) {
				l.drop()
				return
			}
			v, ok := l.number(schema.PerfusionBalance, "balance")
			w, ok2 := l.weight()
			if ok && ok2 {
				l.formula("By weight", "balance / weight", "Arithmetic")
				l.value(v/w.In(Kilogram), "mL/kg", 1)
				l.res.Shown = Shown(v, 0, "mL") + ", " + l.res.Shown
			}
		}},
}

func predictedHaematocrit(l *look) {
	if !l.used(schema.SupportRuns) {
		return
	}
	w, ok := l.weight()
	hct, ok2 := l.percent(schema.PerfusionHaematocritBefore, "haematocrit before bypass")
	var perKg float64
	if ok {
		v, e, set := l.e.prof.ForWeight(profile.BloodVolume, w.In(Kilogram))
		l.fromProfile(profile.BloodVolume, e, set, Shown(v, 1, "mL/kg"))
		perKg, ok = v, set
	}
	rows := l.rows(schema.PerfusionPrime)
	if len(rows) == 0 {
		l.want(schema.PerfusionPrime, "prime", l.missing(nil, schema.PerfusionPrime), "Record each product and its volume.")
	}
	var prime, cells, load float64
	for i, row := range rows {
		v, have := l.number(schema.PerfusionPrimeVolume.In(row), fmt.Sprintf("prime %d", i+1))
		if !have {
			continue
		}
		prime += v
		switch l.word(schema.PerfusionPrimeProduct.In(row)) {
		case "red-cells", "whole-blood", "cell-saver", "residual-circuit":
			h, have := l.percent(schema.PerfusionPrimeHaematocrit.In(row), fmt.Sprintf("haematocrit of prime %d", i+1))
			if have {
				cells += v
				load += v * h.In(One)
			}
		case "":
			l.want(schema.PerfusionPrimeProduct.In(row), fmt.Sprintf("product of prime %d", i+1), schema.NotRecorded, "Record it.")
		}
	}
	if !ok || !ok2 || len(l.res.Wanted) > 0 {
		return
	}
	mean := Of(0, One)
	if cells > 0 {
		mean = Of(load/cells, One)
	}
	got, r := PredictedHaematocrit(Of(perKg*w.In(Kilogram), Millilitre), hct, Of(prime, Millilitre), Of(cells, Millilitre), mean)
	if l.refused(r) {
		return
	}
	l.formula("Dilution", "(blood volume × Hct + red cells × their Hct) / (blood volume + prime)", "Arithmetic")
	l.caveat("Before any ultrafiltration, cardioplegia or loss.")
	l.value(got.In(Percent), "%", 1)
}

// volumes sums the volume of the rows of a list whose kind counts; what names one.
func (l *look) volumes(list schema.Path, what, kind string, counts func(string) bool) (total float64) {
	for i, row := range l.rows(list) {
		if counts != nil && !counts(l.word(schema.RowPath(list, row, kind))) {
			continue
		}
		if v, ok := l.number(schema.RowPath(list, row, "volume"), fmt.Sprintf("%s %d", what, i+1)); ok {
			total += v
		}
	}
	return total
}

// sumCalculation is the sum of a list's volumes in mL and mL/kg.
func sumCalculation(id ID, title string, list schema.Path, kind string, counts func(string) bool) calculation {
	return calculation{id: id, group: GroupBlood, title: title, reads: []schema.Path{list, schema.MeasuresWeight, schema.SupportMode},
		run: func(l *look) {
			if !l.used(list) {
				return
			}
			if len(l.rows(list)) == 0 {
				l.drop()
				return
			}
			total := l.volumes(list, lower(title), kind, counts)
			w, ok := l.weight()
			if !ok || len(l.res.Wanted) > 0 {
				return
			}
			v, r := PerKg(Of(total, Millilitre), w)
			if l.refused(r) {
				return
			}
			l.formula("By weight", "sum of the volumes / weight", "Arithmetic")
			if counts != nil {
				l.caveat("Filtered before bypass not counted.")
			}
			l.value(v.In(MLPerKg), "mL/kg", 1)
			l.res.Shown = Shown(total, 0, "mL") + ", " + l.res.Shown
		}}
}

// products gives one line for each product, phases together.
func products(l *look) {
	rows := l.rows(schema.BloodProducts)
	l.drop()
	var names []string
	for _, row := range rows {
		switch p := l.word(schema.BloodProductsProduct.In(row)); {
		case p == "" && l.has(schema.BloodProductsVolume.In(row)):
			l.begin("")
			l.want(schema.BloodProductsProduct.In(row), "which product", l.missing(nil, schema.BloodProductsProduct.In(row)), "Record it.")
			l.end()
		case p != "" && !slices.Contains(names, p):
			names = append(names, p)
		}
	}
	for _, name := range names {
		title := name
		if f := schema.FieldAt(schema.BloodProductsProduct); f != nil {
			title = f.Label(name)
		}
		l.begin(title)
		total := 0.0
		for _, row := range rows {
			if l.word(schema.BloodProductsProduct.In(row)) != name {
				continue
			}
			phase := l.word(schema.BloodProductsPhase.In(row))
			if v, ok := l.number(schema.BloodProductsVolume.In(row), strings.TrimSpace(lower(title)+" "+strings.ReplaceAll(phase, "-", " "))); ok {
				total += v
			}
		}
		w, ok := l.weight()
		if !ok || len(l.res.Wanted) > 0 {
			continue
		}
		l.formula("By weight", "sum of the volumes / weight", "Arithmetic")
		l.value(total/w.In(Kilogram), "mL/kg", 1)
		l.res.Shown = Shown(total, 0, "mL") + ", " + l.res.Shown
	}
}

func balance(l *look) {
	if !l.used(schema.SupportRuns) {
		return
	}
	// A list that nobody answered is not a list of nothing.
	for _, x := range [...]struct {
		list schema.Path
		name string
	}{{schema.PerfusionPrime, "prime"}, {schema.PerfusionCardioplegiaDoses, "cardioplegia"}, {schema.BloodProducts, "blood products"}, {schema.PerfusionUltrafiltration, "ultrafiltration"}} {
		if x.list == schema.PerfusionCardioplegiaDoses && (l.stated(schema.PerfusionCardioplegia) == schema.StatedNone || l.stated(schema.SupportClamps) == schema.StatedNone) {
			continue
		}
		if len(l.rows(x.list)) == 0 && (l.stated(x.list) != schema.StatedNone || x.list == schema.PerfusionPrime) {
			l.want(x.list, x.name, l.missing(nil, x.list), "Record each with its volume, or that there was none.")
		}
	}
	for i, row := range l.rows(schema.BloodProducts) {
		if l.word(schema.BloodProductsPhase.In(row)) == "" {
			l.want(schema.BloodProductsPhase.In(row), fmt.Sprintf("phase of product %d", i+1), l.missing(nil, schema.BloodProductsPhase.In(row)), "Record whether it was given on bypass.")
		}
	}
	prime := l.volumes(schema.PerfusionPrime, "prime", "product", nil)
	cardioplegia := l.volumes(schema.PerfusionCardioplegiaDoses, "cardioplegia", "route", nil)
	given := l.volumes(schema.BloodProducts, "product", "phase", func(p string) bool { return p == "on-bypass" })
	filtered := l.volumes(schema.PerfusionUltrafiltration, "ultrafiltrate", "kind", func(k string) bool { return k != "prebypass" })
	urine := 0.0
	if l.stated(schema.PerfusionUrine) == schema.StatedNone {
		l.input(schema.PerfusionUrine, "urine", "none")
	} else {
		urine, _ = l.number(schema.PerfusionUrine, "urine on bypass")
	}
	w, ok := l.weight()
	if !ok || len(l.res.Wanted) > 0 {
		return
	}
	v := prime + cardioplegia + given - filtered - urine
	l.formula("Balance", "prime + cardioplegia + products on bypass − ultrafiltrate − urine", "Arithmetic")
	l.caveat("What stayed in the circuit and what was lost are not in it.")
	l.value(v/w.In(Kilogram), "mL/kg", 1)
	l.res.Shown = Shown(v, 0, "mL") + ", " + l.res.Shown
}
