package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

var infusionRules = []entry{
	{Rule{"infusion-disagrees", "Dose, rate, concentration and weight of one infusion disagree", schema.Error, ranges},
		[]string{"infusions", "measures"}, infusionDisagrees},
	{Rule{"infusion-tenfold", "A dose that looks ten times too high or too low", schema.Question, ranges},
		[]string{"infusions"}, infusionTenfold},
	{Rule{"infusion-without-line", "A running infusion that names no line", schema.Error, "clinical.md 3: every infusion names a listed item"},
		[]string{"infusions"}, infusionWithoutLine},
	{Rule{"infusion-not-in-a-line", "An infusion in something that is not a line", schema.Error, ranges},
		[]string{"infusions", "items"}, infusionNotInLine},
	{Rule{"infusion-in-artery", "An infusion in an arterial line", schema.Error, ranges},
		[]string{"infusions", "items"}, infusionInArtery},
	{Rule{"two-in-one-lumen", "Two infusions in one lumen that are not said to be joined", schema.Error, ranges},
		[]string{"infusions", "items"}, twoInOneLumen},
	{Rule{"vasoactive-shared", "A vasoactive drug in a lumen used for boluses or sampling", schema.Question, ranges},
		[]string{"infusions", "items"}, vasoactiveShared},
	{Rule{"vasoactive-peripheral", "A vasoactive drug in a peripheral cannula", schema.Question, ranges},
		[]string{"infusions", "items"}, vasoactivePeripheral},
}

// vasoactive are the drugs a bolus or an interruption of which is at once felt.
// From memory.
var vasoactive = []string{"adrenaline", "noradrenaline", "dopamine", "dobutamine", "milrinone", "vasopressin", "levosimendan",
	"phenylephrine", "isoprenaline", "calcium-chloride", "sodium-nitroprusside", "glyceryl-trinitrate", "phentolamine", "esmolol", "nicardipine"}

// infusion is one row of the running infusions.
type infusion struct {
	row, drug, item, lumen, state string
}

func (l *look) infusions() []infusion {
	var out []infusion
	for _, row := range l.Rows(schema.InfusionsRunning) {
		out = append(out, infusion{row, l.Text(schema.InfusionsRunningDrug.In(row)), l.Text(schema.InfusionsRunningItem.In(row)),
			l.Text(schema.InfusionsRunningLumen.In(row)), l.Text(schema.InfusionsRunningState.In(row))})
	}
	return out
}

// goes tells whether the drug runs or is about to: anything but stopped.
func (f infusion) goes() bool { return f.state != "stopped" }

// named is the drug and its place in the list: "milrinone (infusion 2)".
func (l *look) named(f infusion) string {
	p := schema.InfusionsRunningDrug.In(f.row)
	drug := l.label(p, f.drug)
	if other := l.Text(schema.InfusionsRunningOtherDrug.In(f.row)); other != "" {
		drug = other
	}
	if drug == "" {
		drug = "drug not recorded"
	}
	return fmt.Sprintf("%s (infusion %d)", drug, 1+slices.Index(l.Rows(schema.InfusionsRunning), f.row))
}

// perMinute reads a dose unit: the amount's unit, whether it is per kg, and the
// factor to one minute.
func perMinute(unit string) (amount string, perKg bool, factor float64) {
	parts := strings.Split(unit, "/")
	if len(parts) < 2 {
		return "", false, 0
	}
	factor = map[string]float64{"min": 1, "h": 1.0 / 60}[parts[len(parts)-1]]
	return parts[0], len(parts) == 3 && parts[1] == "kg", factor
}

// inBase is how much of its family's base unit one unit is, and the family.
func inBase(unit string) (family string, factor float64) {
	switch unit {
	case "ng":
		return "mass", 1e-9
	case "ug":
		return "mass", 1e-6
	case "mg":
		return "mass", 1e-3
	case "g":
		return "mass", 1
	case "m[iU]":
		return "units", 1e-3
	case "[iU]":
		return "units", 1
	case "mmol":
		return "substance", 1
	case "mL":
		return "volume", 1
	}
	return "", 0
}

// reckoned is the dose that rate, concentration and weight give, in the unit the
// dose is entered in; ok is false where one of them is missing or does not fit.
func (l *look) reckoned(row string) (dose float64, weight schema.Path, ok bool) {
	amount, perKg, toMinute := perMinute(l.Text(schema.InfusionsRunningDoseUnit.In(row)))
	rate, hasRate := l.Number(schema.InfusionsRunningRate.In(row))
	if !hasRate || toMinute == 0 {
		return 0, "", false
	}
	family, base := inBase(amount)
	perMinute := rate / 60 // mL a minute
	if family != "volume" {
		concentration, has := l.Number(schema.InfusionsRunningConcentration.In(row))
		of, _, _ := strings.Cut(l.Text(schema.InfusionsRunningConcentrationUnit.In(row)), "/")
		cFamily, cBase := inBase(of)
		if !has || cFamily != family || family == "" {
			return 0, "", false
		}
		perMinute *= concentration * cBase / base
	}
	if perKg {
		weight = schema.InfusionsRunningPumpWeight.In(row)
		kg, has := l.Number(weight)
		if !has {
			weight = schema.MeasuresDosingWeight
			kg, has = l.Number(weight)
		}
		if !has || kg <= 0 {
			return 0, "", false
		}
		perMinute /= kg
	}
	return perMinute / toMinute, weight, true
}

func infusionDisagrees(l *look) {
	share, ok := l.number(profile.DoseMismatch)
	if !ok {
		return
	}
	for _, f := range l.infusions() {
		at := schema.InfusionsRunningDose.In(f.row)
		dose, has := l.Number(at)
		reckoned, weight, ok := l.reckoned(f.row)
		if !has || !ok || dose <= 0 || !over(math.Abs(reckoned-dose), share*dose) {
			continue
		}
		unit := l.label(schema.InfusionsRunningDoseUnit.In(f.row), l.Text(schema.InfusionsRunningDoseUnit.In(f.row)))
		others := []schema.Path{schema.InfusionsRunningRate.In(f.row), schema.InfusionsRunningConcentration.In(f.row)}
		if weight != "" {
			others = append(others, weight)
		}
		l.find(at, fmt.Sprintf("Dose %s %s (%s) does not agree with its rate, concentration and weight, which give %s %s.",
			schema.ShowNumber(l.Decimal(at)), unit, l.named(f), significant(reckoned), unit),
			"Read the pump and the syringe label again, and correct what is wrong.", others...)
	}
}

func infusionTenfold(l *look) {
	field := schema.FieldAt(schema.InfusionsRunningDose)
	for _, f := range l.infusions() {
		at := schema.InfusionsRunningDose.In(f.row)
		v, has := l.Number(at)
		usual, ok := l.VariantAt(field, f.row).UsualFor(l.Kind())
		if !has || !ok || usual.Holds(v) {
			continue
		}
		for _, c := range []struct {
			factor float64
			words  string
		}{{10, "ten times too high"}, {0.1, "ten times too low"}, {1000, "a thousand times too high"}, {0.001, "a thousand times too low"}} {
			if !usual.Holds(v / c.factor) {
				continue
			}
			l.find(at, fmt.Sprintf("Dose %s (%s) may be %s.", l.value(at), l.named(f), c.words),
				"Check the figure and its unit against the pump, with a second person.", schema.InfusionsRunningDoseUnit.In(f.row))
			break
		}
	}
}

func infusionWithoutLine(l *look) {
	for _, f := range l.infusions() {
		if f.item == "" && f.state == "running" {
			l.find(schema.InfusionsRunningItem.In(f.row), fmt.Sprintf("Line is not recorded for %s.", l.named(f)), "Choose the line it runs through.")
		}
	}
}

// carriers are the kinds of item a drug may run through, and those of arteries,
// which have their own rule.
var carriers = []string{"central-venous-line", "intracardiac-line", "peripheral-cannula", "intraosseous-needle", "wound-catheter",
	"arterial-line", "dialysis-catheter", "support-cannula"}

func infusionNotInLine(l *look) {
	for _, f := range l.infusions() {
		if it, ok := l.listed(f.item); ok && f.goes() && !slices.Contains(carriers, it.Kind) {
			l.find(schema.InfusionsRunningItem.In(f.row), fmt.Sprintf("Line of %s is %s, through which nothing runs.", l.named(f), name(it)),
				"Choose the line it runs through.", l.at(it, "variety"))
		}
	}
}

func infusionInArtery(l *look) {
	for _, f := range l.infusions() {
		it, ok := l.listed(f.item)
		// A flush, with or without heparin, is what keeps an arterial line open.
		flush := f.drug == "flush" || f.drug == "heparin" && l.is(schema.InfusionsRunningDoseUnit.In(f.row), "mL/h")
		if ok && f.goes() && it.Kind == "arterial-line" && !flush {
			l.find(schema.InfusionsRunningItem.In(f.row), fmt.Sprintf("Line of %s is %s: a drug given into an artery can cost the limb.", l.named(f), name(it)),
				"Look at the line now: choose the venous line it runs through, or stop it.", l.at(it, "variety"))
		}
	}
}

// lumenOf names the one lumen an infusion runs in: its item, and the lumen where
// the item has more than one. ok is false if that cannot be told.
func (l *look) lumenOf(f infusion) (where string, ok bool) {
	it, listed := l.listed(f.item)
	if !listed {
		return "", false
	}
	single := slices.Contains([]string{"peripheral-cannula", "intraosseous-needle", "wound-catheter"}, it.Kind)
	if n, has := it.Number("lumenCount"); has && n == 1 {
		single = true
	}
	if it.Kind == "intracardiac-line" && len(lumensOf(it)) < 2 {
		single = true
	}
	if single {
		return it.ID, true
	}
	return it.ID + "." + fold(f.lumen), f.lumen != ""
}

func twoInOneLumen(l *look) {
	first := map[string]infusion{}
	for _, f := range l.infusions() {
		where, ok := l.lumenOf(f)
		if !ok || !f.goes() {
			continue
		}
		other, taken := first[where]
		if !taken {
			first[where] = f
			continue
		}
		joined := l.Text(schema.InfusionsRunningJoinedWith.In(f.row)) + l.Text(schema.InfusionsRunningJoinedWith.In(other.row))
		if joined == "" {
			it, _ := l.listed(f.item)
			lumen := ""
			if f.lumen != "" {
				lumen = " lumen " + quoted(f.lumen)
			}
			l.find(schema.InfusionsRunningLumen.In(f.row), fmt.Sprintf("Lumen: %s and %s are both in %s%s, and are not said to be joined.", l.named(other), l.named(f), name(it), lumen),
				"Correct the lumen of one, or say under “Joined with” that they run together on purpose.", schema.InfusionsRunningLumen.In(other.row))
		}
	}
}

func vasoactiveShared(l *look) {
	for _, use := range []struct {
		at   schema.Path
		word string
	}{{schema.InfusionsBolusLumen, "boluses are to be given"}, {schema.InfusionsSampleLumen, "samples are to be taken"}} {
		text := l.Text(use.at)
		if text == "" {
			continue
		}
		for _, f := range l.infusions() {
			it, ok := l.listed(f.item)
			if !ok || !f.goes() || !slices.Contains(vasoactive, f.drug) || !speaksOf(text, it, f.lumen) {
				continue
			}
			l.find(schema.InfusionsRunningLumen.In(f.row), fmt.Sprintf("Lumen: %s runs where %s (%s: %s).", l.named(f), use.word, l.title(use.at), quoted(text)),
				"Choose another lumen, or say why this one is used.", use.at)
		}
	}
}

// speaksOf tells whether a text names this lumen of this item: by tag and, where
// the item has lumens, by the lumen's name.
func speaksOf(text string, it schema.Item, lumen string) bool {
	words := fields(text)
	tagged, other := false, false
	for i, w := range words {
		if w == "tag" && i+1 < len(words) {
			tagged = tagged || words[i+1] == fmt.Sprint(it.Tag)
			other = other || words[i+1] != fmt.Sprint(it.Tag)
		}
	}
	if lumen == "" {
		return tagged
	}
	return (tagged || !other) && contains(words, fields(lumen))
}

func vasoactivePeripheral(l *look) {
	for _, f := range l.infusions() {
		it, ok := l.listed(f.item)
		if ok && f.goes() && it.Kind == "peripheral-cannula" && slices.Contains(vasoactive, f.drug) {
			l.find(schema.InfusionsRunningItem.In(f.row), fmt.Sprintf("Line of %s is %s.", l.named(f), name(it)),
				"Move it to a central line, or say why it must run here and who watches the skin.", l.at(it, "variety"))
		}
	}
}
