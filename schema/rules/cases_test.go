package rules_test

import (
	"testing"

	"fairlead/schema"
	"fairlead/schema/outside"
	"fairlead/schema/rules"
)

type change = func(n *schema.Note, c *rules.Context)

// set is a change that sets path, value, path, value …
func set(pairs ...any) change { return func(n *schema.Note, _ *rules.Context) { put(n, pairs...) } }

func state(p schema.Path, answer string) change {
	return func(n *schema.Note, _ *rules.Context) { n.State(p, answer) }
}

func all(changes ...change) change {
	return func(n *schema.Note, c *rules.Context) {
		for _, do := range changes {
			do(n, c)
		}
	}
}

func addRow(list schema.Path, id string, pairs ...any) change {
	return func(n *schema.Note, _ *rules.Context) { row(n, list, id, pairs...) }
}

func addItem(kind, id string, tag int, pairs ...any) change {
	return func(n *schema.Note, _ *rules.Context) { item(n, kind, id, tag, pairs...) }
}

func drop(id string) change { return func(n *schema.Note, _ *rules.Context) { n.RemoveItem(id) } }

func noRow(list schema.Path, id string) change {
	return func(n *schema.Note, _ *rules.Context) { n.RemoveRow(list, id) }
}

// earlier puts an item of another note on the register.
func earlier(kind, id string, tag int, pairs ...any) change {
	return func(_ *schema.Note, c *rules.Context) {
		old := schema.NewNote(schema.Stage1, "earlier", "case-1")
		item(old, kind, id, tag, pairs...)
		c.Register = append(c.Register, old.Items()...)
	}
}

// done is what is on record as done before.
func done(kinds ...schema.Kind) change {
	return func(_ *schema.Note, c *rules.Context) {
		for _, k := range kinds {
			c.Done = append(c.Done, rules.Done{Kind: k, Day: "2026-07-01"})
		}
	}
}

func other(l rules.Like) change {
	return func(_ *schema.Note, c *rules.Context) { c.OtherChildren = append(c.OtherChildren, l) }
}

func read(id, at string, level float64, emptied bool) change {
	return func(_ *schema.Note, c *rules.Context) {
		m, err := schema.ParseMoment(at)
		if err != nil {
			panic(err)
		}
		c.Readings = append(c.Readings, rules.Reading{Item: id, At: m, Level: level, Emptied: emptied})
	}
}

func checked(id, at string) change {
	return func(_ *schema.Note, c *rules.Context) {
		m, err := schema.ParseMoment(at)
		if err != nil {
			panic(err)
		}
		c.Checks = append(c.Checks, rules.Checked{Item: id, At: m})
	}
}

// asks stands in for the computed values: the rule asks when the number at p is
// above limit. What the values themselves ask is held where they are.
func asks(rule string, p schema.Path, limit float64) change {
	return func(_ *schema.Note, c *rules.Context) {
		c.Asked = func(n *schema.Note, of string) []schema.Problem {
			if of != rule {
				return nil
			}
			if v, _ := n.Number(p); v > limit {
				return []schema.Problem{{Path: p, What: n.FieldAt(p).Title + " is far from what it was.", Do: "Check it."}}
			}
			return nil
		}
	}
}

var nothing change = func(*schema.Note, *rules.Context) {}

// adrenaline's dose by rate: 3 mL/h of 0.0533 mg/mL at 3.2 kg is 0.833 mcg/kg/min
// by hand; the cases below are worked the same way, 60·dose·kg/concentration.
func pump(dose, rate, concentration float64, unit string) change {
	return set("infusions.running.adr.dose", dose, "infusions.running.adr.rate", rate, "infusions.running.adr.concentration", concentration,
		"infusions.running.adr.concentrationUnit", unit)
}

var (
	openChest = all(set(schema.ClosingSternum, "open", schema.ClosingCovering, "membrane", schema.CareChestClosure, "in two days"),
		addItem("left-on-purpose", "mem", 20, "variety", "membrane", "removalPlan", "at closure"))
	twoPacks = addItem("left-on-purpose", "pk", 21, "variety", "packs", "count", 2, "removalPlan", "at closure")
	atrial   = set(schema.LeavingPacing, "atrial", schema.LeavingPacingRoute, "wires", schema.LeavingPacingRate, 140)
	cuff     = func(limb string) change {
		return addRow(schema.PressuresReadings, "cuff", "pressure", "arterial", "systolic", 60, "diastolic", 30, "method", "cuff", "limb", limb)
	}
	hybrid = all(set(schema.Stage1Form, "hybrid", schema.SupplyKind, "branch-bands"), noRow(schema.InfusionsRunning, "none"),
		addItem("implant", "rb", 22, "variety", "band", "lot", "B1"), addItem("implant", "lb", 23, "variety", "band", "lot", "B2"),
		addRow(schema.HybridBands, "b1", "side", "right", "size", 3.5), addRow(schema.HybridBands, "b2", "side", "left", "size", 3.5))
	vessel = func(name, side, state string) change {
		return addRow(schema.BeforeVessels, "v1", "vessel", name, "side", side, "state", state)
	}
	oldShunt = earlier("implant", "old", 30, "variety", "shunt")
	out      = func(id string) change {
		return func(_ *schema.Note, c *rules.Context) { c.Out = append(c.Out, id) }
	}
	outOfRA = all(addRow(schema.RemovalsOut, "o1", "item", "oldla", "how", "removed", "at", at("10:00")),
		earlier("intracardiac-line", "oldla", 30, "variety", "left-atrial", "placed", "2026-07-10T10:00+01:00"))
)

// cases hold, for every rule and every part of it, a note that triggers it and
// one just inside.
var cases = []struct {
	rule, base      string
	trigger, inside change
	at              schema.Path // where the problem must be
}{
	// 1
	{"weights-disagree", "stage1", set("infusions.running.mil.pumpWeight", 3.6), set("infusions.running.mil.pumpWeight", 3.52), "infusions.running.mil.pumpWeight"},
	{"weights-disagree", "stage1", set(schema.MeasuresWeight, 2.8, schema.WorkEstimatedLoss, 30), set(schema.MeasuresWeight, 2.88, schema.WorkEstimatedLoss, 30), schema.MeasuresWeight},
	{"weights-disagree", "stage1", set("infusions.running.mil.pumpWeight", 4.0), set("infusions.running.mil.pumpWeight", 4.0, "infusions.running.mil.state", "stopped"), "infusions.running.mil.pumpWeight"},
	{"weight-unit-unclear", "stage1", set(schema.MeasuresWeight, 7.05), set(schema.MeasuresWeight, 6.0), schema.MeasuresWeight},
	{"weight-unit-unclear", "stage1", func(n *schema.Note, _ *rules.Context) { n.SetBound(schema.MeasuresDosingWeight, "<") }, nothing, schema.MeasuresDosingWeight},
	// 2. 0.05 mcg/kg/min at 3.2 kg of 64 mcg/mL is 0.05·3.2·60/64 = 0.15 mL/h; 10 % more is 0.165.
	{"infusion-disagrees", "stage1", pump(0.05, 0.17, 64, "ug/mL"), pump(0.05, 0.165, 64, "ug/mL"), "infusions.running.adr.dose"},
	{"infusion-disagrees", "stage1", pump(0.05, 1.5, 64, "ug/mL"), pump(0.05, 0.15, 0.064, "mg/mL"), "infusions.running.adr.dose"},
	{"infusion-disagrees", "stage1", all(pump(0.05, 0.3, 64, "ug/mL"), set("infusions.running.adr.pumpWeight", nil)), all(pump(0.05, 0.15, 64, "ug/mL"), set("infusions.running.adr.pumpWeight", nil)), "infusions.running.adr.dose"},
	{"weight-z-change", "stage1", all(asks("weight-z-change", schema.MeasuresWeight, 3.3), set(schema.MeasuresWeight, 3.31)),
		all(asks("weight-z-change", schema.MeasuresWeight, 3.3), set(schema.MeasuresWeight, 3.3)), schema.MeasuresWeight},
	{"infusion-rate-tenfold", "stage1", all(asks("infusion-rate-tenfold", "infusions.running.adr.rate", 3), set("infusions.running.adr.rate", 3.1)),
		all(asks("infusion-rate-tenfold", "infusions.running.adr.rate", 3), set("infusions.running.adr.rate", 3)), "infusions.running.adr.rate"},
	{"infusion-tenfold", "stage1", set("infusions.running.adr.dose", 0.5), set("infusions.running.adr.dose", 0.15), "infusions.running.adr.dose"},
	{"infusion-tenfold", "stage1", set("infusions.running.mil.dose", 0.05), set("infusions.running.mil.dose", 0.25), "infusions.running.mil.dose"},
	// 3
	{"left-without-plan", "stage1", all(openChest, addItem("left-on-purpose", "sp", 24, "variety", "sternal-spreader")), all(openChest, addItem("left-on-purpose", "sp", 24, "variety", "sternal-spreader", "removalPlan", "at closure")), "items.sp.removalPlan"},
	{"left-without-plan", "stage1", all(openChest, twoPacks, state("items.pk.removalPlan", "unknown"), set(schema.CountsPacksPut, 2, schema.CountsPacksLeft, 2)), all(openChest, twoPacks, set(schema.CountsPacksPut, 2, schema.CountsPacksLeft, 2)), "items.pk.removalPlan"},
	{"left-without-plan", "stage1", all(set(schema.AirwayThroatPack, "still-in"), addItem("left-on-purpose", "tp", 24, "variety", "throat-pack")), all(set(schema.AirwayThroatPack, "still-in"), addItem("left-on-purpose", "tp", 24, "variety", "throat-pack", "removalPlan", "before waking")), "items.tp.removalPlan"},
	{"packs-do-not-tally", "stage1", all(openChest, twoPacks, set(schema.CountsPacksPut, 3, schema.CountsPacksLeft, 2)), all(openChest, twoPacks, set(schema.CountsPacksPut, 3, schema.CountsPacksOut, 1, schema.CountsPacksLeft, 2)), schema.CountsPacksLeft},
	{"packs-do-not-tally", "stage1", all(openChest, twoPacks, set(schema.CountsPacksPut, 3, schema.CountsPacksLeft, 3)), all(openChest, twoPacks, set(schema.CountsPacksPut, 2, schema.CountsPacksLeft, 2)), schema.CountsPacksLeft},
	{"packs-do-not-tally", "closure", set(schema.RemovalsPacksRetrieved, 1, schema.CountsPacksOut, 1, schema.CountsPacksIn, 1), set(schema.RemovalsPacksExpected, 1, schema.RemovalsPacksRetrieved, 1, schema.CountsPacksOut, 1, schema.CountsPacksIn, 1), schema.RemovalsPacksRetrieved},
	{"packs-do-not-tally", "closure", set(schema.CountsPacksOut, 1, schema.CountsPacksIn, 1), nothing, schema.CountsPacksOut},
	{"count-correct-with-shortfall", "stage1", set(schema.CountsMissing, "one needle"), set(schema.CountsMissing, "one needle", schema.CountsNeedles, "incorrect", schema.CountsCountXray, "nothing-seen"), schema.CountsMissing},
	{"seen-and-not-listed", "stage1", set(schema.CountsSwabs, "incorrect", schema.CountsCountXray, "seen"), set(schema.CountsSwabs, "incorrect", schema.CountsCountXray, "nothing-seen"), schema.CountsCountXray},
	{"count-unsettled", "stage1", set(schema.CountsNeedles, "incorrect", schema.CountsCountXray, "awaited"), set(schema.CountsNeedles, "incorrect", schema.CountsCountXray, "nothing-seen"), schema.CountsNeedles},
	{"count-unsettled", "stage1", set(schema.CountsSwabs, "incorrect"), set(schema.CountsSwabs, "incorrect", schema.CountsCountAcceptedBy, "B. Crane"), schema.CountsSwabs},
	// 4
	{"open-chest-uncovered", "stage1", set(schema.ClosingSternum, "open"), set(schema.ClosingSternum, "open", schema.ClosingCovering, "skin-only"), schema.ClosingCovering},
	{"open-chest-uncovered", "stage1", set(schema.ClosingSternum, "open", schema.ClosingCovering, "membrane"), openChest, schema.ClosingCovering},
	{"open-chest-uncovered", "stage1", set(schema.ClosingSternum, "open", schema.ClosingCovering, "negative-pressure-dressing"), all(set(schema.ClosingSternum, "open", schema.ClosingCovering, "negative-pressure-dressing"), addItem("left-on-purpose", "np", 24, "variety", "negative-pressure-dressing", "removalPlan", "day 2")), schema.ClosingCovering},
	{"closed-chest-with", "stage1", addItem("left-on-purpose", "mem", 20, "variety", "membrane", "removalPlan", "later"), all(openChest), schema.ClosingSternum},
	{"closed-chest-with", "closure", earlier("left-on-purpose", "mem", 20, "variety", "membrane"), all(earlier("left-on-purpose", "mem", 20, "variety", "membrane"), addRow(schema.RemovalsOut, "o1", "item", "mem", "how", "removed")), schema.ClosingSternum},
	{"closed-chest-with", "stage1", set(schema.CountsPacksPut, 1, schema.CountsPacksLeft, 1), set(schema.CountsPacksPut, 1, schema.CountsPacksOut, 1, schema.CountsPacksLeft, 0), schema.CountsPacksLeft},
	// 5
	{"duplicate-tag", "stage1", set("items.art.tag", 2), set("items.art.tag", 99), "items.art.tag"},
	{"duplicate-tag", "closure", earlier("drain", "old", 4, "variety", "left-pleural", "drainage", "gravity"), earlier("drain", "old", 40, "variety", "left-pleural", "drainage", "gravity"), "items"},
	{"denied-but-listed", "stage1", addItem("left-on-purpose", "tp", 24, "variety", "throat-pack", "removalPlan", "soon"), all(set(schema.AirwayThroatPack, "still-in"), addItem("left-on-purpose", "tp", 24, "variety", "throat-pack", "removalPlan", "soon")), schema.AirwayThroatPack},
	{"denied-but-listed", "stage1", all(set(schema.AirwayEchoProbe, "in-and-out"), addItem("inner-probe", "ep", 24, "variety", "echo-probe")), all(set(schema.AirwayEchoProbe, "in-and-out"), addItem("inner-probe", "ep", 24, "variety", "rectal-temperature")), schema.AirwayEchoProbe},
	{"denied-but-listed", "stage1", all(state(schema.ApproachBarrier, "none"), addItem("implant", "ba", 24, "variety", "barrier", "lot", "1")), all(set(schema.ApproachBarrier, "ba"), addItem("implant", "ba", 24, "variety", "barrier", "lot", "1")), schema.ApproachBarrier},
	{"denied-but-listed", "stage1", addItem("support-cannula", "ac", 24, "variety", "arterial"), addItem("support-cannula", "ac", 24, "variety", "stump"), schema.LeavingSupport},
	{"named-but-not-listed", "stage1", set(schema.AirwayThroatPack, "still-in"), all(set(schema.AirwayThroatPack, "still-in"), addItem("left-on-purpose", "tp", 24, "variety", "throat-pack", "removalPlan", "soon")), schema.AirwayThroatPack},
	{"named-but-not-listed", "stage1", all(drop("shunt"), set(schema.SupplyItem, nil)), nothing, schema.SupplyKind},
	{"named-but-not-listed", "stage3", all(set(schema.Stage3Leads, []string{"atrial"})), all(set(schema.Stage3Leads, []string{"atrial"}), addItem("implant", "le", 24, "variety", "lead", "serial", "77")), schema.Stage3Leads},
	{"named-but-not-listed", "stage1", all(hybrid, addRow(schema.HybridStents, "s1", "diameter", 8, "length", 18)), all(hybrid, addRow(schema.HybridStents, "s1", "diameter", 8, "length", 18), addItem("implant", "st", 24, "variety", "stent", "lot", "9")), schema.HybridStents},
	{"not-in-the-list", "stage1", set("infusions.running.mil.item", "gone"), set("infusions.running.mil.item", "jug"), "infusions.running.mil.item"},
	{"not-in-the-list", "stage1", set("pressures.readings.art.item", "gone"), all(set("pressures.readings.art.item", "oldart"), earlier("arterial-line", "oldart", 44, "variety", "femoral")), "pressures.readings.art.item"},
	{"not-in-the-list", "stage1", set("items.pot.drains", []string{"med", "gone"}), nothing, "items.pot.drains"},
	{"not-in-the-list", "stage1", set(schema.LeavingPacingItems, []string{"gone"}), set(schema.LeavingPacingItems, []string{"aw"}), schema.LeavingPacingItems},
	// 6
	{"infusion-without-line", "stage1", set("infusions.running.mil.item", nil), set("infusions.running.mil.item", nil, "infusions.running.mil.state", "standby"), "infusions.running.mil.item"},
	{"infusion-not-in-a-line", "stage1", set("infusions.running.mil.item", "med"), set("infusions.running.mil.item", "ra", "infusions.running.mil.lumen", "single"), "infusions.running.mil.item"},
	{"infusion-in-artery", "stage1", set("infusions.running.mil.item", "art"), all(set("infusions.running.mil.item", "art", "infusions.running.mil.drug", "flush")), "infusions.running.mil.item"},
	{"two-in-one-lumen", "stage1", set("infusions.running.mil.lumen", "proximal"), set("infusions.running.mil.lumen", "proximal", "infusions.running.mil.joinedWith", "adrenaline"), "infusions.running.mil.lumen"},
	{"two-in-one-lumen", "stage1", set("infusions.running.mil.lumen", "Proximal"), set("infusions.running.mil.lumen", "proximal", "infusions.running.mil.state", "stopped"), "infusions.running.mil.lumen"},
	{"vasoactive-shared", "stage1", set(schema.InfusionsBolusLumen, "Proximal, tag 2"), set(schema.InfusionsBolusLumen, "proximal, tag 9"), "infusions.running.adr.lumen"},
	{"vasoactive-shared", "stage1", set(schema.InfusionsSampleLumen, "distal"), all(set(schema.InfusionsSampleLumen, "distal", "infusions.running.mil.drug", "morphine", "infusions.running.mil.dose", 20, "infusions.running.mil.doseUnit", "ug/kg/h")), "infusions.running.mil.lumen"},
	{"vasoactive-peripheral", "stage1", all(addItem("peripheral-cannula", "pc", 24, "variety", "hand", "gauge", 24), set("infusions.running.mil.item", "pc", "infusions.running.mil.lumen", nil)),
		all(addItem("peripheral-cannula", "pc", 24, "variety", "hand", "gauge", 24), set("infusions.running.mil.item", "pc", "infusions.running.mil.lumen", nil, "infusions.running.mil.drug", "glucose")), "infusions.running.mil.item"},
	{"lumen-without-use", "stage1", set("items.jug.lumens.prox.state", nil, "infusions.running.adr.lumen", "distal", "infusions.running.adr.joinedWith", "milrinone"), set("items.jug.lumens.prox.state", "capped", "infusions.running.adr.lumen", "distal", "infusions.running.adr.joinedWith", "milrinone"), "items.jug.lumens.prox.runs"},
	{"lumen-without-use", "stage1", addItem("peripheral-cannula", "pc", 24, "variety", "hand", "gauge", 24), all(addItem("peripheral-cannula", "pc", 24, "variety", "hand", "gauge", 24), state("items.pc.runs", "none")), "items.pc.runs"},
	{"lumens-not-all-listed", "stage1", set("items.jug.lumenCount", 3), nothing, "items.jug.lumenCount"},
	{"lumen-not-listed", "stage1", set("infusions.running.mil.lumen", "third"), set("infusions.running.mil.lumen", "Distal"), "infusions.running.mil.lumen"},
	{"lumen-closed-in-use", "stage1", set("items.jug.lumens.dist.state", "capped"), set("items.jug.lumens.dist.state", "running"), "infusions.running.mil.lumen"},
	// 7
	{"pressure-does-not-fit", "stage2", set("pressures.readings.gl.pressure", "central-venous"), set("pressures.readings.gl.pressure", "glenn"), "pressures.readings.gl.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.ca.item", "jug", "pressures.readings.ca.pressure", "left-atrial"), set("pressures.readings.ca.pressure", "left-atrial"), "pressures.readings.ca.pressure"},
	{"pressure-does-not-fit", "stage2", all(addItem("central-venous-line", "fem", 24, "variety", "femoral", "guidewire", "yes"), set("pressures.readings.gl.item", "fem")), nothing, "pressures.readings.gl.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.art.item", "jug"), nothing, "pressures.readings.art.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.ca.pressure", "glenn"), set("pressures.readings.ca.pressure", "right-atrial"), "pressures.readings.ca.pressure"},
	{"pressure-does-not-fit", "stage2", set("pressures.readings.gl.pressure", "fontan"), nothing, "pressures.readings.gl.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.art.pressure", "right-arm"), set("pressures.readings.art.pressure", "leg"), "pressures.readings.art.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.ca.pressure", "ventricular"), set("pressures.readings.ca.pressure", "ventricular", "pressures.readings.ca.method", "needle", "pressures.readings.ca.item", nil, "pressures.readings.ca.mean", 40), "pressures.readings.ca.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.ca.pressure", "pulmonary-artery"), set("pressures.readings.ca.pressure", "pulmonary-artery", "items.ra.variety", "pulmonary-artery"), "pressures.readings.ca.pressure"},
	{"pressure-does-not-fit", "stage1", set("pressures.readings.ca.pressure", "femoral-venous"), set("pressures.readings.ca.pressure", "central-venous", "pressures.readings.ca.item", "jug"), "pressures.readings.ca.pressure"},
	{"pressure-not-in-order", "stage1", set("pressures.readings.art.diastolic", 66), set("pressures.readings.art.diastolic", 46), "pressures.readings.art.systolic"},
	{"pressure-not-in-order", "stage1", set("pressures.readings.art.mean", 31), set("pressures.readings.art.mean", 32), "pressures.readings.art.mean"},
	// 8
	{"azygos-tied", "stage2", set(schema.VeinsInferiorCavalVein, "interrupted-azygos"), set(schema.VeinsInferiorCavalVein, "interrupted-azygos", schema.Stage2Azygos, "left-open"), schema.Stage2Azygos},
	{"azygos-tied", "stage2", set(schema.Stage2Connection, "kawashima", schema.Stage2Azygos, "clipped"), set(schema.Stage2Connection, "kawashima", schema.Stage2Azygos, "left-open"), schema.Stage2Azygos},
	// 9
	{"supply-does-not-fit", "stage1", set(schema.SupplyKind, "native-outflow"), set(schema.SupplyKind, "central-shunt"), schema.SupplyKind},
	{"supply-does-not-fit", "stage1", state(schema.SupplyKind, "unknown"), nothing, schema.SupplyKind},
	{"supply-does-not-fit", "stage1", set(schema.Stage1Form, "main-pulmonary-band"), all(set(schema.Stage1Form, "main-pulmonary-band", schema.SupplyKind, "main-pulmonary-band"), addItem("implant", "mb", 24, "variety", "band", "lot", "1")), schema.SupplyKind},
	{"old-supply-open", "stage2", state(schema.Stage2OldSupply, "unknown"), state(schema.Stage2OldSupply, "none"), schema.Stage2OldSupply},
	{"old-supply-open", "stage2", set(schema.Stage2OldSupply, "left-open", schema.Stage2OldSupplyWhy, "small branches"), set(schema.Stage2OldSupply, "left-open", schema.Stage2OldSupplyWhy, "small branches", schema.Stage2AdditionalFlow, "shunt-left"), schema.Stage2OldSupply},
	{"old-supply-open", "stage2", set(schema.Stage2AdditionalFlow, "shunt-left"), set(schema.Stage2AdditionalFlow, "antegrade"), schema.Stage2OldSupply},
	{"old-supply-open", "stage2", all(set(schema.Stage2OldSupply, "left-open", schema.Stage2AdditionalFlow, "shunt-left"), state(schema.Stage2OldSupplyWhy, "unknown")), set(schema.Stage2OldSupply, "left-open", schema.Stage2AdditionalFlow, "shunt-left", schema.Stage2OldSupplyWhy, "small branches"), schema.Stage2OldSupplyWhy},
	{"old-supply-listed", "stage2", all(oldShunt, set(schema.Stage2OldSupply, "taken-out")), all(oldShunt, set(schema.Stage2OldSupply, "taken-out", schema.Stage2OldSupplyItems, []string{"old"})), schema.Stage2OldSupplyItems},
	{"old-supply-listed", "stage2", all(oldShunt, set(schema.Stage2OldSupply, "taken-out")), all(oldShunt, set(schema.Stage2OldSupply, "clipped-and-divided")), schema.Stage2OldSupplyItems},
	{"old-supply-listed", "stage2", all(earlier("implant", "old", 30, "variety", "stent", "site", "duct"), set(schema.Stage2OldSupply, "taken-out")), all(earlier("implant", "old", 30, "variety", "stent", "site", "left-pulmonary-artery"), set(schema.Stage2OldSupply, "taken-out")), schema.Stage2OldSupplyItems},
	{"old-supply-listed", "stage2", all(oldShunt, state(schema.Stage2OldSupply, "none")), state(schema.Stage2OldSupply, "none"), schema.Stage2OldSupply},
	{"old-supply-listed", "stage2", all(oldShunt, out("old"), set(schema.Stage2OldSupply, "clipped")), all(oldShunt, out("old"), set(schema.Stage2OldSupply, "taken-out")), schema.Stage2OldSupply},
	{"caval-route-missing", "stage3", set(schema.BeforeStageTwo, "not-needed"), all(set(schema.BeforeStageTwo, "not-needed"), addRow(schema.WorkProcedures, "p1", "procedure", "bidirectional-glenn")), schema.BeforeStageTwo},
	{"caval-route-missing", "stage3", set(schema.BeforeStageTwo, nil), all(set(schema.BeforeStageTwo, nil), func(_ *schema.Note, c *rules.Context) { c.Recorded = append(c.Recorded, schema.Stage2) }), schema.BeforeStageTwo},
	{"caval-route-missing", "stage3", set(schema.Stage3InferiorDivision, "not-divided"), set(schema.Stage3InferiorDivision, "not-divided", schema.Stage3Connection, "lateral-tunnel", schema.Stage3ConduitDiameter, nil), schema.Stage3InferiorDivision},
	{"caval-route-missing", "stage3", state(schema.Stage3Connection, "unknown"), nothing, schema.Stage3Connection},
	// 10
	{"paced-without-route", "stage1", all(atrial, drop("aw")), atrial, schema.LeavingPacing},
	{"paced-without-route", "stage1", all(set(schema.LeavingPacing, "dual", schema.LeavingPacingRoute, "wires"), drop("vw")), set(schema.LeavingPacing, "dual", schema.LeavingPacingRoute, "transvenous"), schema.LeavingPacing},
	{"paced-without-route", "stage1", set(schema.LeavingPacing, "ventricular", schema.LeavingPacingRoute, "generator"), all(set(schema.LeavingPacing, "ventricular", schema.LeavingPacingRoute, "generator"), addItem("implant", "ge", 24, "variety", "generator", "serial", "5")), schema.LeavingPacing},
	{"rhythm-and-pacing", "stage1", set(schema.LeavingRhythm, "atrial-paced"), all(atrial, set(schema.LeavingRhythm, "atrial-paced")), schema.LeavingRhythm},
	{"rhythm-and-pacing", "stage1", all(set(schema.LeavingRhythm, "ventricular-paced"), atrial), set(schema.LeavingRhythm, "ventricular-paced", schema.LeavingPacing, "dual", schema.LeavingPacingRoute, "wires"), schema.LeavingRhythm},
	{"pacing-margin", "stage1", all(atrial, set(schema.LeavingAtrialOutput, 3.9)), all(atrial, set(schema.LeavingAtrialOutput, 4)), schema.LeavingAtrialOutput},
	{"wires-wrong-port", "stage1", set("items.aw.connection", "connected", "items.aw.boxPort", "ventricular"), set("items.aw.connection", "connected", "items.aw.boxPort", "atrial"), "items.aw.boxPort"},
	// 11
	{"arm-may-read-low", "stage1", all(set(schema.PressuresMisleadingLimbs, nil), cuff("right-arm")), all(set(schema.PressuresMisleadingLimbs, nil), cuff("left-arm")), "pressures.readings.cuff.limb"},
	{"arm-may-read-low", "stage1", set(schema.PressuresMisleadingLimbs, nil, "items.art.variety", "radial", "items.art.side", "right", "items.art.exit", "right-wrist"), set("items.art.variety", "radial", "items.art.side", "right", "items.art.exit", "right-wrist"), "items.art.side"},
	{"arm-may-read-low", "stage1", all(set(schema.AnatomyAberrantSubclavian, "left"), cuff("left-arm")), all(set(schema.AnatomyAberrantSubclavian, "left"), cuff("left-leg")), "pressures.readings.cuff.limb"},
	{"arm-may-read-low", "stage2", all(set(schema.SupportInflowGraft, 3.5, schema.SupportInflowGraftFate, "clipped-stump", schema.SupportArterialCannulation, []string{"innominate-graft"}), cuff("right-arm")), all(set(schema.SupportInflowGraft, 3.5, schema.SupportInflowGraftFate, "removed", schema.SupportArterialCannulation, []string{"innominate-graft"}), cuff("right-arm")), "pressures.readings.cuff.limb"},
	// 12
	{"fenestration-disagrees", "stage3", state(schema.Stage3Fenestration, "none"), all(state(schema.Stage3Fenestration, "none"), set(schema.Stage3FenestrationDiameter, nil)), schema.Stage3FenestrationDiameter},
	{"fenestration-disagrees", "stage3", set(schema.Stage3FenestrationDiameter, nil), nothing, schema.Stage3FenestrationDiameter},
	{"fenestration-disagrees", "stage3", all(state(schema.Stage3Fenestration, "none"), set(schema.Stage3FenestrationDiameter, nil), addItem("left-on-purpose", "sn", 24, "variety", "snare", "site", "fontan-pathway", "removalPlan", "day 5")),
		all(set(schema.Stage3Fenestration, "snared-open", schema.Stage3Snare, "sn"), addItem("left-on-purpose", "sn", 24, "variety", "snare", "site", "fontan-pathway", "removalPlan", "day 5")), "items.sn.site"},
	{"fenestration-disagrees", "stage3", all(set(schema.Stage3Snare, "sn"), addItem("left-on-purpose", "sn", 24, "variety", "snare", "site", "fontan-pathway", "removalPlan", "day 5")), set(schema.Stage3Fenestration, "closed", schema.LeavingSaturation, 95), schema.Stage3Snare},
	{"fenestration-saturation", "stage3", set(schema.LeavingSaturation, 98), set(schema.LeavingSaturation, 97), schema.LeavingSaturation},
	{"fenestration-saturation", "stage3", all(state(schema.Stage3Fenestration, "none"), set(schema.LeavingSaturation, 87)), all(state(schema.Stage3Fenestration, "none"), set(schema.LeavingSaturation, 88)), schema.LeavingSaturation},
	// 13
	{"anticoagulation-missing", "stage1", set(schema.AnticoagulationPlan, nil), nothing, schema.AnticoagulationPlan},
	{"anticoagulation-missing", "stage1", set(schema.AnticoagulationHold, nil), nothing, schema.AnticoagulationHold},
	{"anticoagulation-missing", "stage3", set(schema.AnticoagulationPlan, "decide-later"), set(schema.AnticoagulationPlan, "antiplatelet"), schema.AnticoagulationPlan},
	{"protamine-with-heparin", "stage1", addRow(schema.InfusionsRunning, "hep", "drug", "heparin", "dose", 10, "doseUnit", "[iU]/kg/h", "item", "ra", "state", "running"), addRow(schema.InfusionsRunning, "hep", "drug", "heparin", "dose", 10, "doseUnit", "[iU]/kg/h", "item", "ra", "state", "standby"), schema.ClottingProtamine},
	{"prostaglandin-after-supply", "stage1", addRow(schema.InfusionsRunning, "pge", "drug", "alprostadil", "item", "ra", "state", "running"), addRow(schema.InfusionsRunning, "pge", "drug", "alprostadil", "item", "ra", "state", "stopped"), "infusions.running.pge.drug"},
	{"prostaglandin-after-supply", "stage1", set(schema.BeforeProstaglandin, "still-running", schema.BeforeProstaglandinStopped, nil), nothing, schema.BeforeProstaglandin},
	{"prostaglandin-after-supply", "stage1", all(hybrid, addRow(schema.HybridStents, "s1", "diameter", 8, "length", 18), addItem("implant", "st", 24, "variety", "stent", "lot", "9"), set(schema.HybridProstaglandinAfter, "continues")), all(hybrid, set(schema.HybridProstaglandinAfter, "continues")), schema.HybridProstaglandinAfter},
	{"shunt-state-on-support", "stage1", all(set(schema.LeavingSupport, "yes", schema.SupplyState, "not-known"), addItem("support-cannula", "ac", 24, "variety", "arterial")), all(set(schema.LeavingSupport, "yes"), addItem("support-cannula", "ac", 24, "variety", "arterial")), schema.SupplyState},
	{"shunt-state-on-support", "support-off", all(set(schema.LeavingSupport, "yes", schema.MechanicalShunt, "not-known")), set(schema.LeavingSupport, "yes"), schema.MechanicalShunt},
	// 14
	{"period-backwards", "stage1", set("support.clamps.cl1.off", at("10:00")), set("support.clamps.cl1.off", at("10:50")), "support.clamps.cl1.off"},
	{"period-backwards", "stage1", set(schema.AirwayThroatPack, "in-and-out", schema.AirwayThroatPackIn, at("09:00"), schema.AirwayThroatPackOut, at("08:59")), set(schema.AirwayThroatPack, "in-and-out", schema.AirwayThroatPackIn, at("09:00"), schema.AirwayThroatPackOut, at("09:00")), schema.AirwayThroatPackOut},
	{"period-backwards", "stage1", set("work.antibiotics.ab.next", at("08:00")), nothing, "work.antibiotics.ab.next"},
	{"periods-overlap", "stage1", addRow(schema.SupportRuns, "run2", "on", at("11:39"), "off", at("12:00")), addRow(schema.SupportRuns, "run2", "on", at("11:40"), "off", at("12:00")), "support.runs.run2.on"},
	{"periods-overlap", "stage1", addRow(schema.SupportClamps, "cl2", "on", at("10:40"), "off", at("10:45")), addRow(schema.SupportClamps, "cl2", "on", at("10:50"), "off", at("10:51")), "support.clamps.cl2.on"},
	{"outside-run", "stage1", set("support.clamps.cl1.on", at("09:39")), set("support.clamps.cl1.on", at("09:40")), "support.clamps.cl1.on"},
	{"outside-run", "stage1", set("support.arrests.ar1.on", at("11:41"), "support.arrests.ar1.off", at("11:51")), set("support.arrests.ar1.on", at("11:30"), "support.arrests.ar1.off", at("11:40")), "support.arrests.ar1.on"},
	{"arrest-with-perfusion", "stage1", set("support.perfusions.cp1.on", at("10:24")), set("support.perfusions.cp1.on", at("10:25")), "support.arrests.ar1.on"},
	{"minutes-disagree", "stage1", set("support.clamps.cl1.minutes", 48), set("support.clamps.cl1.minutes", 47), "support.clamps.cl1.minutes"},
	{"minutes-disagree", "stage1", set(schema.SupportBypassTotal, 117), set(schema.SupportBypassTotal, 118), schema.SupportBypassTotal},
	{"minutes-disagree", "stage1", set(schema.OperationSkinToSkin, 273), set(schema.OperationSkinToSkin, 272), schema.OperationSkinToSkin},
	{"minutes-disagree", "support-off", set(schema.MechanicalRunHours, 49), set(schema.MechanicalRunHours, 48.5), schema.MechanicalRunHours},
	{"cooling-order", "stage1", set(schema.PerfusionLowestTemperatureAt, at("11:11")), set(schema.PerfusionLowestTemperatureAt, at("11:10")), schema.PerfusionRewarmingFrom},
	{"off-pump-with-bypass", "closure", addRow(schema.SupportClamps, "x", "minutes", 3), state(schema.SupportClamps, "none"), schema.SupportClamps},
	{"off-pump-with-bypass", "closure", set(schema.SupportBypassTotal, 30), set(schema.SupportClampTotal, 0), schema.SupportBypassTotal},
	{"off-pump-with-bypass", "closure", set(schema.SupportMode, "caval-shunt", schema.PerfusionCardioplegia, "blood"), set(schema.SupportMode, "caval-shunt"), schema.PerfusionCardioplegia},
	{"warm-arrest", "stage1", set("support.arrests.ar1.temperature", 28.1), set("support.arrests.ar1.temperature", 28), "support.arrests.ar1.temperature"},
	{"warm-arrest", "stage1", set("support.arrests.ar1.cooling", 14), set("support.arrests.ar1.cooling", 15), "support.arrests.ar1.cooling"},
	{"warm-arrest", "stage1", set("support.arrests.ar1.temperature", nil, schema.PerfusionLowestTemperature, 29), set("support.arrests.ar1.temperature", nil, schema.PerfusionLowestTemperature, 28), schema.PerfusionLowestTemperature},
	{"warm-arrest", "stage1", set("support.arrests.ar1.cooling", nil, schema.PerfusionCoolingMinutes, 14), set("support.arrests.ar1.cooling", nil, schema.PerfusionCoolingMinutes, 15), schema.PerfusionCoolingMinutes},
	{"long-arrest", "stage1", set(schema.SupportArrestTotal, 42), set(schema.SupportArrestTotal, 41), schema.SupportArrestTotal}, // references.md C: 41 not flagged, 42 flagged
	{"long-arrest", "stage1", set(schema.SupportArrestTotal, nil, "support.arrests.ar1.off", at("10:57")), set(schema.SupportArrestTotal, nil, "support.arrests.ar1.off", at("10:56")), schema.SupportArrests},
	// 15
	{"filling-pressures", "stage2", set(schema.Stage2AtrialPressure, 13, schema.Stage2Gradient, 0), set(schema.Stage2AtrialPressure, 12, schema.Stage2Gradient, 1), schema.Stage2AtrialPressure},
	{"filling-pressures", "stage3", all(set(schema.Stage3Gradient, -1)), set(schema.Stage3Gradient, 6), schema.Stage3Gradient},
	{"filling-pressures", "stage2", all(addItem("intracardiac-line", "ca", 24, "variety", "common-atrial"), addRow(schema.PressuresReadings, "ca", "pressure", "common-atrial", "mean", 13, "method", "line", "item", "ca")), all(addItem("intracardiac-line", "ca", 24, "variety", "common-atrial"), addRow(schema.PressuresReadings, "ca", "pressure", "common-atrial", "mean", 12, "method", "line", "item", "ca")), "pressures.readings.ca.mean"},
	{"gradient-disagrees", "stage2", set(schema.Stage2Gradient, 7), set(schema.Stage2Gradient, 6.5), schema.Stage2Gradient},
	{"gradient-disagrees", "stage3", set(schema.Stage3Gradient, 5), set(schema.Stage3Gradient, 5.5), schema.Stage3Gradient},
	{"common-atrial-sample", "stage1", set(schema.GasVenousSite, "common-atrial", schema.GasVenousSaturation, 60), set(schema.GasVenousSite, "superior-caval", schema.GasVenousSaturation, 60), schema.GasVenousSite},
	// 16
	{"guidewire-not-answered", "stage1", set("items.jug.guidewire", nil), nothing, "items.jug.guidewire"},
	{"guidewire-not-answered", "stage1", set("items.jug.guidewire", "no"), state("items.jug.guidewire", "none"), "items.jug.guidewire"},
	{"guidewire-not-answered", "stage1", state("items.jug.guidewire", "unknown"), nothing, "items.jug.guidewire"},
	// 17
	{"cannula-after-decannulation", "support-off", all(earlier("support-cannula", "ac", 40, "variety", "arterial"), addRow(schema.MechanicalDecannulated, "d", "item", "ac")), all(earlier("support-cannula", "ac", 40, "variety", "arterial"), addRow(schema.MechanicalDecannulated, "d", "item", "ac"), addRow(schema.RemovalsOut, "o", "item", "ac", "how", "removed")), schema.MechanicalDecannulated},
	{"cannula-after-decannulation", "support-off", earlier("support-cannula", "ac", 40, "variety", "venous"), earlier("support-cannula", "ac", 40, "variety", "stump"), schema.MechanicalStoppedAt},
	{"blocked-site-used", "stage1", vessel("internal-jugular", "right", "blocked"), vessel("internal-jugular", "left", "blocked"), "items.jug.site"},
	{"blocked-site-used", "stage1", vessel("femoral-artery", "left", "tied"), vessel("femoral-artery", "left", "narrowed"), "items.art.site"},
	{"blocked-site-used", "stage1", all(vessel("femoral-vein", "right", "blocked"), set(schema.SupportVenousCannulation, []string{"right-groin"})), all(vessel("femoral-vein", "left", "blocked"), set(schema.SupportVenousCannulation, []string{"right-groin"})), schema.SupportVenousCannulation},
	{"plan-on-unproved-vessel", "stage1", all(vessel("femoral-artery", "right", "not-known"), set(schema.CareCannulationPlan, "right groin artery")), all(vessel("femoral-artery", "right", "open"), addRow(schema.BeforeVessels, "v2", "vessel", "femoral-vein", "side", "right", "state", "open"), set(schema.CareCannulationPlan, "right groin artery")), schema.CareCannulationPlan},
	{"plan-on-unproved-vessel", "stage1", set(schema.CareCannulationPlan, "neck"), all(vessel("carotid-artery", "right", "open"), addRow(schema.BeforeVessels, "v2", "vessel", "internal-jugular", "side", "left", "state", "open"), set(schema.CareCannulationPlan, "neck")), schema.CareCannulationPlan},
	// 18
	{"implant-expired", "stage1", set("items.shunt.expires", "2026-07-13"), set("items.shunt.expires", "2026-07-14"), "items.shunt.expires"},
	{"implant-expired", "stage1", set("items.shunt.expires", nil, "items.shunt.identifier", "(01)51022222233336(17)260713(10)L77"), set("items.shunt.expires", nil, "items.shunt.identifier", "(01)51022222233336(17)260714(10)L77"), "items.shunt.identifier"},
	{"implant-expired", "stage1", set("items.shunt.expires", "2026-07-13", "items.shunt.placed", nil), all(set("items.shunt.expires", "2026-07-13", "items.shunt.placed", nil), earlier("implant", "shunt", 8, "variety", "shunt")), "items.shunt.expires"},
	// the GS1 example's check digit is 6 (references.md H)
	{"identifier-wrong", "stage1", set("items.shunt.identifier", "(01)51022222233337(10)L77"), set("items.shunt.identifier", "(01)51022222233336(10)L77"), "items.shunt.identifier"},
	{"identifier-disagrees", "stage1", set("items.shunt.identifier", "(01)51022222233336(10)L78"), set("items.shunt.identifier", "(01)51022222233336(10)L77"), "items.shunt.lot"},
	{"identifier-disagrees", "stage1", set("items.shunt.identifier", "(01)51022222233336(10)L77(21)S901"), set("items.shunt.identifier", "(01)51022222233336(10)L77(21)S900"), "items.shunt.serial"},
	{"serial-in-two-children", "stage1", other(rules.Like{Case: "b", Surname: "Oak", HospitalNumber: "7", Serials: []string{"s900 "}}), other(rules.Like{Case: "b", Surname: "Oak", HospitalNumber: "7", Serials: []string{"S901"}}), "items.shunt.serial"},
	{"no-identifier", "stage1", set("items.shunt.lot", nil, "items.shunt.serial", nil), set("items.shunt.lot", nil), "items.shunt.identifier"},
	{"no-identifier", "stage1", all(set("items.shunt.lot", nil, "items.shunt.serial", nil), state("items.shunt.identifier", "none")), all(set("items.shunt.lot", nil, "items.shunt.serial", nil), state("items.shunt.identifier", "none"), set("items.shunt.identifierBy", "C. Finch")), "items.shunt.identifier"},
	// 19
	{"line-removal-unready", "stage1", all(set("items.ra.outBy", "2026-07-17"), drop("med")), set("items.ra.outBy", "2026-07-17"), "items.ra.outBy"},
	{"line-removal-unready", "stage1", set("items.ra.outBy", "2026-07-17", schema.ClottingPlatelets, nil), set("items.ra.outBy", "2026-07-17"), "items.ra.outBy"},
	{"line-removal-unready", "stage1", set("items.ra.outBy", "2026-07-17", schema.ClottingClottingSampled, "2026-07-13T17:59+01:00"), set("items.ra.outBy", "2026-07-17", schema.ClottingClottingSampled, "2026-07-13T18:00+01:00"), "items.ra.outBy"},
	{"line-removal-unready", "closure", all(outOfRA, addRow(schema.InfusionsRunning, "hep", "drug", "heparin", "dose", 10, "doseUnit", "[iU]/kg/h", "item", "jug", "lumen", "distal", "joinedWith", "milrinone", "state", "running")), outOfRA, "removals.out.o1.item"},
	// 20
	{"drain-reading-falls", "stage1", set("items.pot.levelArrival", 19), set("items.pot.levelArrival", 20), "items.pot.levelArrival"},
	{"drain-reading-falls", "stage1", all(read("pot", at("15:00"), 30, false), read("pot", at("16:00"), 25, false)), all(read("pot", at("15:00"), 30, false), read("pot", at("16:00"), 5, true)), "items.pot.level"},
	{"drain-stopped", "stage1", all(read("pot", at("13:00"), 20, false), read("pot", at("15:00"), 60, false), read("pot", at("16:00"), 62, false), read("pot", at("17:00"), 64, false)), all(read("pot", at("13:00"), 20, false), read("pot", at("15:00"), 60, false), read("pot", at("16:00"), 65, false), read("pot", at("17:00"), 70, false)), "items.pot.level"},
	// 21
	{"tube-unlike-weight", "stage1", set("items.tube.size", 4.5), set("items.tube.size", 4), "items.tube.size"},
	{"tube-unlike-weight", "stage1", set("items.tube.depth", 15), set("items.tube.depth", 14.5), "items.tube.depth"},
	{"tube-unlike-weight", "stage1", set("items.tube.variety", "oral-tube", "items.tube.depth", 12), set("items.tube.variety", "oral-tube", "items.tube.depth", 11.5), "items.tube.depth"},
	{"cuff-not-answered", "stage1", set("items.tube.cuffed", nil), set("items.tube.cuffed", "uncuffed"), "items.tube.cuffed"},
	{"extubated-with-tube", "stage2", set(schema.VentilationBreathing, "high-flow"), all(set(schema.VentilationBreathing, "high-flow"), drop("tube")), schema.VentilationBreathing},
	{"ventilated-without-airway", "stage1", drop("tube"), nothing, schema.VentilationBreathing},
	{"nitric-without-interface", "stage1", set(schema.VentilationNitricOxide, 20), set(schema.VentilationNitricOxide, 20, schema.VentilationNitricInterface, "ventilator"), schema.VentilationNitricInterface},
	// 22
	{"allergy-conflict", "stage1", all(addRow(schema.ChildAllergies, "a", "substance", "penicillin", "kind", "drug"), set("work.antibiotics.ab.drug", "flucloxacillin")), addRow(schema.ChildAllergies, "a", "substance", "penicillin", "kind", "drug"), "work.antibiotics.ab.drug"},
	{"allergy-conflict", "stage1", addRow(schema.ChildAllergies, "a", "substance", "cephalosporins", "kind", "drug"), addRow(schema.ChildAllergies, "a", "substance", "vancomycin", "kind", "drug"), "work.antibiotics.ab.drug"},
	{"allergy-conflict", "stage1", addRow(schema.ChildAllergies, "a", "substance", "thrombocytopenia", "kind", "heparin-induced"), all(addRow(schema.ChildAllergies, "a", "substance", "thrombocytopenia", "kind", "heparin-induced"), set(schema.AnticoagulationPlan, "direct-thrombin", schema.ClottingHeparin, nil)), schema.AnticoagulationPlan},
	{"allergy-conflict", "stage1", addRow(schema.ChildAllergies, "a", "substance", "Milrinone", "kind", "drug"), all(addRow(schema.ChildAllergies, "a", "substance", "Milrinone", "kind", "drug"), set("infusions.running.mil.state", "stopped")), "infusions.running.mil.drug"},
	{"allergy-latex-chlorhexidine", "stage1", addRow(schema.ChildAllergies, "a", "substance", "gloves", "kind", "latex"), addRow(schema.ChildAllergies, "a", "substance", "egg", "kind", "food"), "child.allergies.a.kind"},
	{"allergy-latex-chlorhexidine", "stage1", addRow(schema.ChildAllergies, "a", "substance", "chlorhexidine", "kind", "other"), addRow(schema.ChildAllergies, "a", "substance", "plasters", "kind", "adhesive"), "child.allergies.a.kind"},
	// 23
	{"times-out-of-order", "stage1", set(schema.ArrivalArrived, at("13:59")), set(schema.ArrivalArrived, at("14:00")), schema.ArrivalArrived},
	{"times-out-of-order", "stage1", set(schema.ChildBirthDate, "2026-07-15"), set(schema.ChildBirthDate, "2026-07-14"), schema.OperationDate},
	{"times-out-of-order", "stage1", set(schema.OperationLeftTheatre, "2026-07-17T10:00+01:00", schema.ArrivalArrived, nil), set(schema.OperationLeftTheatre, "2026-07-15T02:00+01:00", schema.ArrivalArrived, nil), schema.OperationLeftTheatre},
	// Ages of the table of ranges, from memory: usual is common practice, no source.
	{"age-impossible", "stage3", set(schema.ChildBirthDate, "1900-01-01", schema.OperationDate, "1970-02-01"), set(schema.ChildBirthDate, "1900-01-01", schema.OperationDate, "1970-01-31"), schema.OperationDate},
	{"age-unusual", "stage1", set(schema.ChildBirthDate, "2026-06-29"), set(schema.ChildBirthDate, "2026-06-30"), schema.OperationDate},
	{"age-unusual", "stage1", set(schema.ChildBirthDate, "2026-07-14"), set(schema.ChildBirthDate, "2026-07-13"), schema.OperationDate},
	{"age-unusual", "stage2", set(schema.ChildBirthDate, "2026-04-15", schema.OperationDate, "2026-07-14"), set(schema.ChildBirthDate, "2026-04-14", schema.OperationDate, "2026-07-14"), schema.OperationDate},
	{"age-unusual", "stage2", set(schema.ChildBirthDate, "2025-10-14", schema.OperationDate, "2026-07-14"), set(schema.ChildBirthDate, "2025-10-15", schema.OperationDate, "2026-07-14"), schema.OperationDate},
	{"age-unusual", "stage3", set(schema.ChildBirthDate, "2025-01-15", schema.OperationDate, "2026-07-14"), set(schema.ChildBirthDate, "2025-01-14", schema.OperationDate, "2026-07-14"), schema.OperationDate},
	{"age-unusual", "stage3", set(schema.ChildBirthDate, "2020-06-14", schema.OperationDate, "2026-07-14"), set(schema.ChildBirthDate, "2020-06-15", schema.OperationDate, "2026-07-14"), schema.OperationDate},
	{"before-birth", "stage1", set(schema.MeasuresWeightDate, "2026-07-07"), set(schema.MeasuresWeightDate, "2026-07-08"), schema.MeasuresWeightDate},
	{"before-birth", "stage1", addRow(schema.BeforeCatheterProcedures, "c", "date", "2026-07-01", "procedure", "balloon-septostomy"), addRow(schema.BeforeCatheterProcedures, "c", "date", "2026-07-01", "procedure", "foetal-intervention"), "before.catheterProcedures.c.date"},
	{"before-birth", "stage1", set("items.jug.placed", "2026-07-07T10:00+01:00"), set("items.shunt.made", "2025-01-01"), "items.jug.placed"},
	{"later-than-now", "stage1", set(schema.ArrivalArrived, at("18:06")), set(schema.ArrivalArrived, at("18:05")), schema.ArrivalArrived},
	{"later-than-now", "stage1", set(schema.ChildBirthDate, "2026-07-15", schema.OperationDate, nil), set(schema.ChildBirthDate, "2026-07-14", schema.OperationDate, nil), schema.ChildBirthDate},
	{"later-than-now", "stage1", set(schema.MeasuresWeightDate, "2026-12-28"), set(schema.MeasuresWeightDate, "2026-07-14"), schema.MeasuresWeightDate},
	{"checked-before-placed", "stage1", checked("jug", at("08:39")), checked("jug", at("08:40")), "items.jug.placed"},
	{"checked-before-placed", "closure", all(earlier("drain", "old", 40, "variety", "mediastinal", "placed", at("11:00")), addRow(schema.RemovalsOut, "o", "item", "old", "at", at("10:00"), "how", "removed")), all(earlier("drain", "old", 40, "variety", "mediastinal", "placed", at("09:00")), addRow(schema.RemovalsOut, "o", "item", "old", "at", at("10:00"), "how", "removed")), "removals.out.o.at"},
	{"earlier-stage-unknown", "stage2", func(n *schema.Note, c *rules.Context) { n.Clear(schema.BeforeStageOne); c.Recorded = nil }, func(n *schema.Note, c *rules.Context) { c.Recorded = nil }, schema.BeforeStageOne},
	{"earlier-stage-unknown", "stage3", func(n *schema.Note, c *rules.Context) {
		n.Set(schema.BeforeStageTwo, "recorded-here")
	}, func(n *schema.Note, c *rules.Context) {
		n.Set(schema.BeforeStageTwo, "recorded-here")
		c.Recorded = append(c.Recorded, schema.Stage2)
	}, schema.BeforeStageTwo},
	{"stage-out-of-order", "stage2", done(schema.Stage3), done(schema.Stage3, schema.Takedown), schema.OperationDate},
	{"stage-out-of-order", "stage1", done(schema.Stage2, schema.Closure), done(schema.Stage1, schema.Closure), schema.OperationDate},
	{"earlier-stage-unknown", "closure", func(n *schema.Note, c *rules.Context) { c.Recorded = nil }, all(func(n *schema.Note, c *rules.Context) { c.Recorded = nil }, addRow(schema.BeforeOperations, "o", "operation", "hybrid-stage-1")), schema.BeforeStageOne},
	// 24
	{"pleura-without-drain", "stage1", set(schema.ApproachRightPleura, "opened"), all(set(schema.ApproachRightPleura, "opened"), addItem("drain", "rp", 24, "variety", "right-pleural", "drainage", "water-seal")), schema.ApproachRightPleura},
	{"drain-without-drainage", "stage1", set("items.med.drainage", "clamped", "items.med.suction", nil), set("items.med.drainage", "water-seal", "items.med.suction", nil), "items.med.drainage"},
	{"drain-without-drainage", "stage1", set("items.med.drainage", nil, "items.med.chamber", nil, "items.med.suction", nil), set("items.med.drainage", nil, "items.med.suction", nil), "items.med.drainage"},
	// 25
	{"plan-names-unlisted", "stage1", set(schema.CareLineRemoval, "Pull the left atrial line on day 2"), set(schema.CareLineRemoval, "Pull the common atrial line on day 2"), schema.CareLineRemoval},
	{"plan-names-unlisted", "stage1", addRow(schema.PlanWorries, "w", "worry", "bleeding", "action", "look at both pleural drains"), addRow(schema.PlanWorries, "w", "worry", "bleeding", "action", "no pleural drain; look at the chest drain"), "plan.worries.w.action"},
	{"plan-names-unlisted", "stage1", set(schema.PlanRemarks, "remove packs with the membrane"), all(openChest, set(schema.PlanRemarks, "remove the membrane")), schema.PlanRemarks},
	{"target-backwards", "stage1", addRow(schema.PlanTargets, "t", "what", "saturation", "low", 85, "high", 75), addRow(schema.PlanTargets, "t", "what", "saturation", "low", 75, "high", 75), "plan.targets.t.high"},
	// laterality
	{"sides-disagree", "stage1", set("items.jug.side", "left"), set("items.jug.exit", nil, "items.jug.side", "left"), "items.jug.side"},
	{"sides-disagree", "stage1", addItem("drain", "rp", 24, "variety", "right-pleural", "drainage", "gravity", "side", "left"), addItem("drain", "rp", 24, "variety", "right-pleural", "drainage", "gravity", "side", "right", "exit", "left-subcostal"), "items.rp.side"},
	{"sides-disagree", "stage1", set("items.tube.side", "left"), set("items.tube.side", "right"), "items.tube.side"},
	{"sides-disagree", "stage1", set(schema.SupplyTo, "left-pulmonary-artery"), set(schema.SupplyTo, "confluence"), schema.SupplySide},
	{"sides-disagree", "stage1", all(hybrid, set("hybrid.bands.b2.side", "right")), hybrid, "hybrid.bands.b2.side"},
	{"caval-veins-disagree", "stage2", set(schema.Stage2RightCavalVein, "tied"), nothing, schema.Stage2RightCavalVein},
	{"caval-veins-disagree", "stage2", all(set(schema.Stage2Connection, "glenn-bilateral")), set(schema.Stage2Connection, "glenn-bilateral", schema.Stage2LeftCavalVein, "connected", schema.VeinsLeftSuperiorCavalVein, "to-coronary-sinus"), schema.Stage2LeftCavalVein},
	{"caval-veins-disagree", "stage2", state(schema.VeinsRightSuperiorCavalVein, "none"), state(schema.VeinsRightSuperiorCavalVein, "unknown"), schema.Stage2RightCavalVein},
	// names
	{"like-named-child", "stage1", other(rules.Like{Case: "b", Surname: "Aldar", GivenName: "Wren", BirthDate: "2025-01-01", HospitalNumber: "9"}), other(rules.Like{Case: "b", Surname: "Eldar", GivenName: "Wren", HospitalNumber: "9"}), schema.ChildSurname},
	{"like-named-child", "stage1", other(rules.Like{Case: "b", Surname: "Alder", GivenName: "Robin", BirthDate: "2026-07-08", HospitalNumber: "9"}), other(rules.Like{Case: "b", Surname: "Alder", GivenName: "Robin", BirthDate: "2024-07-08", HospitalNumber: "9"}), schema.ChildSurname},
	{"like-named-child", "stage1", other(rules.Like{Case: "b", Surname: "Oak", HospitalNumber: "x100200"}), other(rules.Like{Case: "case-1", Surname: "Alder", GivenName: "Wren"}), schema.ChildSurname},
	{"size-unlike-weight", "stage1", set(schema.SupplyShuntDiameter, 4), set(schema.SupplyShuntDiameter, 3.5), schema.SupplyShuntDiameter},
	// ranges
	{"usual", "stage1", set(schema.Stage1ArchGradient, 11), set(schema.Stage1ArchGradient, 10), schema.Stage1ArchGradient},
	{"usual", "stage1", set(schema.LeavingInspiredOxygen, 0.2), set(schema.LeavingInspiredOxygen, 0.21), schema.LeavingInspiredOxygen},
	{"usual", "stage1", set("items.jug.depth", 6.5), set("items.jug.depth", 6), "items.jug.depth"},
	{"usual", "stage1", set(schema.WorkEstimatedLoss, 193), set(schema.WorkEstimatedLoss, 192), schema.WorkEstimatedLoss},
	{"usual", "stage1", set("infusions.running.mil.dose", 0.76), set("infusions.running.mil.dose", 0.75), "infusions.running.mil.dose"},
	{"impossible", "stage1", set("infusions.running.adr.dose", 3.1), set("infusions.running.adr.dose", 3), "infusions.running.adr.dose"},
	{"impossible", "stage1", set(schema.WorkEstimatedLoss, 3201), set(schema.WorkEstimatedLoss, 3200), schema.WorkEstimatedLoss},
	// references.md C: vasopressin 0.5 entered as units/kg/min is refused
	{"impossible", "stage1", set("infusions.running.mil.drug", "vasopressin", "infusions.running.mil.doseUnit", "[iU]/kg/min", "infusions.running.mil.dose", 0.5), set("infusions.running.mil.drug", "vasopressin", "infusions.running.mil.doseUnit", "[iU]/kg/min", "infusions.running.mil.dose", 0.0005), "infusions.running.mil.dose"},
	{"hidden-value", "stage1", set(schema.SupplyConduitDiameter, 5), nothing, schema.SupplyConduitDiameter},
	{"hidden-value", "stage1", set(schema.AirwayThroatPackIn, at("09:00")), set(schema.AirwayThroatPack, "in-and-out", schema.AirwayThroatPackIn, at("09:00"), schema.AirwayThroatPackOut, at("13:00")), schema.AirwayThroatPackIn},
	{"hidden-value", "stage1", set("items.aw.boxPort", "atrial"), set("items.aw.connection", "connected", "items.aw.boxPort", "atrial"), "items.aw.boxPort"},
}

// published are the cases above whose figures somebody else gave.
var published = map[string]string{
	"long-arrest":      "Wypij 2003, J Thorac Cardiovasc Surg 126:1397: cut-point of 41 minutes",
	"identifier-wrong": "GS1 General Specifications, check digit of the example 5102222223333",
}

func TestEveryRuleHasANoteThatTriggersItAndOneJustInside(t *testing.T) {
	covered := map[string]bool{}
	for i, c := range cases {
		covered[c.rule] = true
		find := func(do change) (at []schema.Path, said []schema.Problem) {
			n, ctx := bases[c.base](), context()
			do(n, &ctx)
			for _, p := range rules.Check(n, inForce(), ctx) {
				if p.Rule == c.rule {
					at, said = append(at, p.Path), append(said, p)
				}
			}
			return at, said
		}
		at, _ := find(c.trigger)
		found := false
		for _, p := range at {
			found = found || p == c.at
		}
		if !found {
			t.Errorf("case %d: %s is not triggered at %s; it found %v", i, c.rule, c.at, at)
		}
		if at, said := find(c.inside); len(at) > 0 {
			t.Errorf("case %d: %s is triggered just inside, at %v: %s", i, c.rule, at, said[0].What)
		}
	}
	for rule, source := range published {
		if covered[rule] {
			outside.Check(t, source)
		}
	}
	for _, r := range rules.All() {
		if !covered[r.ID] {
			t.Errorf("the rule %s has no case", r.ID)
		}
		delete(covered, r.ID)
	}
	for id := range covered {
		t.Errorf("a case names %s, which is no rule", id)
	}
}
