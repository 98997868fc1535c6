package dictation

import (
	"testing"

	"fairlead/schema"
)

// The care on leaving as it is told: pressures by the chamber alone, a saturation by the
// oxygen it is in, limits said in any order, what closing did, what runs and what is off.
// Written as families are.
//
// The sentences are written by hand: common practice of the trade, no source.
func TestCare(t *testing.T) { holds(t, care) }

var care = []family{
	// the chamber, or the line in it, and a number
	{schema.Stage1, "Seventy over thirty-six, common atrium nine.", "pressures.readings pressure=arterial systolic=70 diastolic=36\npressures.readings pressure=common-atrial mean=9"},
	{schema.Stage1, "RA line, eight.", "pressures.readings pressure=right-atrial mean=8"},
	{schema.Reexploration, "Mean forty four, left atrium eight, lactate seven point one.", "pressures.readings pressure=left-atrial mean=8\ngas.lactate=7.1"},
	{schema.Stage1, "Left atrial line, four French, two lumens.", "!pressures.readings pressure=left-atrial mean=4"},
	{schema.SupportOn, "Venous, sixteen French, in the right atrium.", "!pressures.readings pressure=right-atrial"},
	{schema.Stage1, "Sats eighty, arterial sixty six on thirty three.", "pressures.readings pressure=arterial systolic=66 diastolic=33\nleaving.saturation=80"},
	{schema.Stage1, "Sats eighty two on forty per cent.", "leaving.saturation=82\nleaving.inspiredOxygen=0.4\n!pressures.readings pressure=arterial systolic=82"},
	{schema.SupportOn, "Left femoral artery, three French, mean forty-eight.", "pressures.readings pressure=arterial mean=48\n!pressures.readings pressure=leg"},
	// a saturation that its oxygen names
	{schema.Stage3, "Awake, tube out, two litres nasal, ninety-five.", "leaving.saturation=95"},
	{schema.Stage3, "Breathing for herself with two litres by prongs, ninety-one percent.", "leaving.saturation=91\n!leaving.inspiredOxygen=0.91"},
	{schema.Stage1, "Saturations were sixty-eight with the clamp on, up to eighty-three now in thirty per cent oxygen.", "leaving.saturation=83\nleaving.inspiredOxygen=0.3\n!leaving.saturation=68"},
	{schema.Stage2, "Two litres of flow, rate ninety five.", "!leaving.saturation=95"},
	// a limit of what was named before it, or after it, or that asks for the call last
	{schema.Stage1, "Saturation is now seventy-six, it shall stay between seventy-five and eighty-five.", "leaving.saturation=76\nplan.targets what=saturation low=75 high=85"},
	{schema.Stage1, "Lactate four, call me if it goes over six.", "gas.lactate=4\nplan.calls what=lactate direction=above value=6"},
	{schema.ShuntRevision, "Ring me if his stats go under sixty five, target seventy to eighty.", "plan.calls what=saturation direction=below value=65\nplan.targets what=saturation low=70 high=80"},
	{schema.Stage1, "Ring me above ninety or below sixty-five on the sats.", "plan.calls what=saturation direction=above value=90\nplan.calls what=saturation direction=below value=65"},
	{schema.ShuntRevision, "Ring me if the sats go over eighty-eight or below seventy.", "plan.calls what=saturation direction=above value=88\nplan.calls what=saturation direction=below value=70"},
	{schema.SupportOff, "Lactate above five, ring.", "plan.calls what=lactate direction=above value=5\n!gas.lactate=>5"},
	{schema.Stage1, "If the drains do more than ten a kilo an hour, ring.", "plan.calls what=drain-loss direction=above value=10"},
	{schema.Closure, "Call for MAP <40 x10 min.", "plan.calls what=mean-arterial direction=below value=40 howLong=10"},
	{schema.Closure, "I'd like to be called if the atrial pressure passes fourteen for more than ten minutes.", "plan.calls what=atrial direction=above value=14 howLong=10"},
	{schema.Stage3, "If the drains bring more than twenty per kilogram in one day, please inform me.", "plan.calls what=drain-day direction=above value=20"},
	{schema.Stage1, "Sats seventy five to eighty five will do.", "plan.targets what=saturation low=75 high=85\n!leaving.saturation=85"},
	{schema.Stage3, "Mean to stay above fifty-five.", "plan.targets what=mean-arterial low=55"},
	{schema.Stage1, "Haemoglobin no lower than twelve.", "plan.targets what=haemoglobin low=12\n!gas.haemoglobin=12"},
	{schema.Stage1, "The haemoglobin was no lower than nine on bypass.", "!plan.targets what=haemoglobin low=9"},
	{schema.Stage3, "Targets: temperature less than thirty-seven five.", "plan.targets what=temperature high=37.5"},
	{schema.Stage1, "The mean was above forty all through.", "!plan.targets what=mean-arterial low=40"},
	// what closing the chest did
	{schema.Closure, "Mean 51 open, 46 shut.", "closing.tolerance measure=mean-arterial before=51 after=46\n!closing.sternum=open"},
	{schema.Closure, "Mean was fifty one with the chest open and forty six with it closed.", "closing.tolerance measure=mean-arterial before=51 after=46\n!closing.sternum=open"},
	{schema.Closure, "Peak airway twenty-two, went to twenty-five.", "closing.tolerance measure=peak-airway before=22 after=25"},
	{schema.Closure, "Common atrial nine, sixteen.", "closing.tolerance measure=atrial before=9 after=16"},
	{schema.Closure, "Sats seventy eight, forty five percent.", "!closing.tolerance measure=saturation before=78 after=45"},
	{schema.Closure, "Right atrial line read eleven when closed, seven now.", "!closing.tolerance measure=atrial before=11 after=7"},
	{schema.Closure, "Mean dropped four, from fifty to forty six.", "closing.tolerance measure=mean-arterial before=50 after=46"},
	// what runs, what is off
	{schema.Stage1, "Rocuronium's off, calcium chloride stopped before we left.", "infusions.running drug=rocuronium state=stopped\ninfusions.running drug=calcium-chloride state=stopped"},
	{schema.Stage3, "Adrenaline was point one, at present point zero four.", "infusions.running drug=adrenaline dose=0.04\n!infusions.running drug=adrenaline dose=0.1"},
	{schema.Reexploration, "Milrinone point two five, noradrenaline I turned off.", "infusions.running drug=milrinone dose=0.25\ninfusions.running drug=noradrenaline state=stopped"},
	{schema.SupportOff, "Vasopressin, no, we never started that.", "none infusions.running drug=vasopressin"},
	{schema.Stage1, "Adrenaline came off an hour ago, milrinone point five.", "infusions.running drug=adrenaline state=stopped\ninfusions.running drug=milrinone dose=0.5"},
	{schema.SupportOn, "Epi and vaso off once on.", "infusions.running drug=adrenaline state=stopped\ninfusions.running drug=vasopressin state=stopped"},
	{schema.Stage2, "Milrinone and dopamine are both off.", "infusions.running drug=milrinone state=stopped\ninfusions.running drug=dopamine state=stopped"},
	{schema.Stage2, "Dopamine was used coming off, stopped now.", "infusions.running drug=dopamine state=stopped"},
	{schema.Closure, "The noradrenaline, which somebody had started in the night, we stopped it.", "infusions.running drug=noradrenaline state=stopped"},
	{schema.Stage3, "Finished: tranexamic acid.", "infusions.running drug=tranexamic-acid state=stopped"},
	{schema.Stage3, "On standby: noradrenaline and vasopressin.", "infusions.running drug=noradrenaline state=standby\ninfusions.running drug=vasopressin state=standby"},
	{schema.Stage1, "Adr loaded, not started.", "infusions.running drug=adrenaline state=standby"},
	{schema.Stage1, "Milrinone we loaded but it's not running.", "none infusions.running drug=milrinone"},
	{schema.Takedown, "The noradrenaline I mentioned to the registrar was never connected.", "none infusions.running drug=noradrenaline"},
	{schema.Stage3, "Adrenaline never.", "none infusions.running drug=adrenaline"},
	{schema.Takedown, "Levosimendan we talked, but we did not begin it.", "none infusions.running drug=levosimendan"},
	{schema.SupportOn, "Heparin, not yet.", "none infusions.running drug=heparin"},
	{schema.Stage3, "Heparin isn't running.", "none infusions.running drug=heparin\n!infusions.running=none"},
	{schema.Stage1, "She is on milrinone at a quarter and the Prostin is off.", "infusions.running drug=milrinone dose=0.25\n!infusions.running drug=milrinone state=stopped"},
	{schema.Stage3, "Adrenaline, off... actually not off, on nought point nought two.", "!infusions.running drug=adrenaline state=stopped"},
	{schema.Closure, "Adrenaline has gone from 0.04 to 0.06.", "!infusions.running drug=adrenaline state=stopped"},
	{schema.Stage3, "Milrinone point five, vasopressin .0002, going off tonight.", "infusions.running drug=vasopressin dose=0.0002\n!infusions.running drug=vasopressin state=stopped"},
	// doses that were changed, or are said with the way they went
	{schema.Closure, "Epi up to point oh four.", "infusions.running drug=adrenaline dose=0.04"},
	{schema.Closure, "Adrenaline up to point oh six for the closing, now point oh three.", "infusions.running drug=adrenaline dose=0.03"},
	{schema.Closure, "Epi .05 up from .03. Mil .5.", "infusions.running drug=adrenaline dose=0.05\ninfusions.running drug=milrinone dose=0.5"},
	{schema.Closure, "Adrenaline nought point oh two, was oh six.", "infusions.running drug=adrenaline dose=0.02"},
	{schema.Reexploration, "Adrenaline had been point two, now point one two.", "infusions.running drug=adrenaline dose=0.12\n!infusions.running dose=0.2"},
	{schema.ShuntRevision, "Adrenaline point oh five, point oh three since the last gas.", "infusions.running drug=adrenaline dose=0.03"},
	{schema.Stage2, "Milrinone I started at point five and cut to point two five.", "infusions.running drug=milrinone dose=0.25"},
	{schema.Stage3, "Noradrenaline nought point oh five, no, oh four.", "infusions.running drug=noradrenaline dose=0.04"},
	{schema.Closure, "Adr 0.04 up from 0.02 → back to 0.03 before we left.", "infusions.running drug=adrenaline dose=0.03"},
	{schema.Stage2, "Milrinone quarter mike.", "infusions.running drug=milrinone dose=0.25"},
	{schema.ShuntRevision, "Heparin running, fifteen an hour.", "infusions.running drug=heparin dose=15 doseUnit=[iU]/kg/h"},
	{schema.SupportOn, "Hep 20/kg/h running.", "infusions.running drug=heparin dose=20 doseUnit=[iU]/kg/h"},
	// drugs that recognisers cut into common words
	{schema.Stage1, "mill are known at point five and a drain a lin point oh three", "infusions.running drug=milrinone dose=0.5\ninfusions.running drug=adrenaline dose=0.03"},
	{schema.Stage1, "mill ring own point three and dope a mean five", "infusions.running drug=milrinone dose=0.3\ninfusions.running drug=dopamine dose=5"},
	{schema.Stage2, "nor adrenalin point oh eight mil renown point five adrenalin came off an hour ago", "infusions.running drug=noradrenaline dose=0.08\ninfusions.running drug=milrinone dose=0.5\ninfusions.running drug=adrenaline state=stopped"},
	{schema.Stage2, "no milrinone nor adrenaline was needed", "!infusions.running drug=noradrenaline"},
	{schema.Stage2, "Milrinone a quarter.", "infusions.running drug=milrinone dose=0.25"},
	{schema.Stage3, "Epi's hanging, not running.", "infusions.running drug=adrenaline state=standby"},
	{schema.Stage2, "Nitric was twenty, we're at ten.", "ventilation.nitricOxide=10\n!ventilation.nitricOxide=20"},
	{schema.Stage1, "Nitric 20 ppm started, then off.", "!ventilation.nitricOxide=20"},
	{schema.Stage1, "Nitric stopped.", "ventilation.nitricOxide=none"},
	{schema.Stage1, "He came off nitric in theatre.", "ventilation.nitricOxide=none"},
	{schema.Stage1, "The weight is fine, nitric tomorrow if needed.", "!ventilation.nitricOxide=none"},
	// counts, by words that say it only beside them
	{schema.Stage3, "Swabs, needles, instruments all there.", "counts.swabs=correct\ncounts.needles=correct\ncounts.instruments=correct"},
	{schema.Stage3, "Swabs were one short; found under the drape, so correct.", "counts.swabs=correct\n!counts.swabs=incorrect"},
	{schema.Stage1, "One swab missing, not found.", "!counts.swabs=correct"},
	{schema.Stage1, "Repair complete, swabs next.", "!counts.swabs=correct"},
	// when the gas was taken
	{schema.Stage1, "Gas 16:40: 7.33, CO2 45, lact 3.9.", "gas.sampled=16:40\ngas.ph=7.33\ngas.lactate=3.9"},
	{schema.ShuntRevision, "Lact 4.6 at 13:35, pH 7.35.", "gas.sampled=13:35\ngas.lactate=4.6"},
	// several saturations, each with its moment; one named by its oxygen alone
	{schema.Stage1, "Sats were sixty-eight when we first came off, then we changed the settings, eighty-one now on sixty per cent.", "leaving.saturation=81\nleaving.inspiredOxygen=0.6\n!leaving.saturation=68"},
	{schema.Stage1, "Sats ninety-four before the bands, eighty-six after the first one, eighty-one leaving on room air.", "leaving.saturation=81\n!leaving.saturation=86"},
	{schema.Stage1, "Sats were seventy-four before, sixty-nine on the side clamp, eighty-five leaving.", "leaving.saturation=85\n!leaving.saturation=69"},
	{schema.Stage1, "Saturation: before the bands ninety-six, after, eighty-two, in air.", "leaving.saturation=82\nleaving.inspiredOxygen=0.21"},
	{schema.Stage1, "sats went from seventy four on the table to eighty nine with both open", "leaving.saturation=89"},
	{schema.Stage2, "Sats seventy-nine on sixty, eighty-three now and we're on forty.", "leaving.saturation=83\nleaving.inspiredOxygen=0.4"},
	{schema.Stage2, "He went from 74 before to 86 on fifty per cent.", "leaving.saturation=86\nleaving.inspiredOxygen=0.5"},
	{schema.Stage2, "The atrium reads six and she leaves theatre at eighty-two percent in forty.", "leaving.saturation=82\nleaving.inspiredOxygen=0.4"},
	{schema.Reexploration, "State: eighty-one percent in sixty, fifty-five over thirty.", "leaving.saturation=81\nleaving.inspiredOxygen=0.6\npressures.readings pressure=arterial systolic=55 diastolic=30"},
	{schema.Closure, "Sats 77 now, 45 per cent.", "leaving.saturation=77\nleaving.inspiredOxygen=0.45"},
	{schema.Stage3, "Saturations eighty seven percent in sixty percent, heart block at first, now sinus at ninety eight.", "leaving.saturation=87\nleaving.heartRate=98"},
	// weights without their point, or in grams
	{schema.Stage3, "Weight sixteen two.", "measures.weight=16.2"},
	{schema.Stage1, "He was two point seven five kilos this morning, birth weight two point six.", "measures.weight=2.75\nchild.birthWeight=2.6"},
	{schema.Stage1, "Two eight kilos.", "measures.weight=2.8"},
	{schema.Stage3, "Thirteen kilos eight. Fontan fifteen.", "measures.weight=13.8"},
	{schema.Reexploration, "This is the Norwood from yesterday, two point nine kilos.", "measures.weight=2.9"},
	{schema.Stage2, "She was three kilos at her Norwood and is six point one kilos today.", "measures.weight=6.1\n!measures.weight=3"},
	{schema.Stage1, "Norwood when he's three and a half kilos, not before.", "!measures.weight=3.5"},
	{schema.Stage2, "8mo, 7.3kg/66cm.", "measures.weight=7.3"},
	{schema.Stage2, "He is six kilos and four hundred.", "measures.weight=6.4"},
	{schema.Stage1, "Weighs two nine.", "measures.weight=2.9"},
	{schema.Stage1, "Two thousand eight hundred grams.", "measures.weight=2.8"},
	{schema.Stage1, "Fibrinogen two grams.", "!measures.weight=2"},
	// what the drains lost
	{schema.Stage2, "Drains: right pleural sixteen and mediastinal sixteen, twenty-five mils between them.", "leaving.drainLoss=25"},
	{schema.Stage1, "Urine sixty, drains eighteen mils.", "leaving.urine=60\nleaving.drainLoss=18"},
	{schema.Stage2, "Mediastinal twenty French, fifteen mils so far.", "!leaving.drainLoss=15"},
}
