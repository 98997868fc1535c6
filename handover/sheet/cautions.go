package sheet

import (
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// The cautions, worded as the trade wants them; the unit profile may word them
// otherwise.
const (
	cautionArm     = "Right-arm pressure may read low on the side of this shunt: compare another limb."
	cautionNeck    = "This neck line measures lung-artery pressure. Clot or air here goes to the lungs: ask daily whether it can come out."
	cautionAir     = "Air filter, no bubbles: blood can cross to the brain."
	cautionPatency = "Patency unknown is not open."
)

func (b *builder) wording(id profile.ID, otherwise string) string {
	if s, ok := b.prof.Wording(id); ok && s != "" {
		return s
	}
	return otherwise
}

// armCautions warn of an arm whose pressure a shunt may lower: an innominate or
// subclavian shunt takes its flow from that arm.
func (b *builder) armCautions() []string {
	if b.n.Text(schema.SupplyKind) != "modified-blalock-taussig-thomas" {
		return nil
	}
	words := b.wording(profile.WordsShuntArm, cautionArm)
	switch b.n.Text(schema.SupplySide) {
	case "right":
		return []string{words}
	case "left":
		return []string{strings.NewReplacer("Right-arm", "Left-arm", "right-arm", "left-arm").Replace(words)}
	}
	return nil
}

// cavopulmonary tells whether the upper body's veins drain to the lungs after
// this operation.
func (b *builder) cavopulmonary() bool {
	switch b.kind {
	case schema.Stage2, schema.Stage3:
		return true
	case schema.Stage1:
		return false
	case schema.Takedown:
		return b.n.Text(schema.BetweenTakenDown) == "fontan"
	}
	for _, s := range b.f.Earlier {
		if s.Kind == schema.Stage2 || s.Kind == schema.Stage3 {
			return true
		}
	}
	return b.n.Text(schema.BeforeStageTwo) == "recorded-here" || b.n.Text(schema.BeforeStageTwo) == "done-elsewhere"
}

// neckLine tells whether an item is a line in the upper body's veins.
func neckLine(it schema.Item) bool {
	if it.Kind == "central-venous-line" {
		switch it.Text("variety") {
		case "jugular", "subclavian":
			return true
		}
		exit := it.Text("exit")
		return strings.HasSuffix(exit, "neck") || strings.HasSuffix(exit, "subclavian")
	}
	return it.Kind == "peripheral-cannula" && it.Text("variety") == "neck"
}

// venous tells whether what runs into an item reaches a vein or the heart.
func venous(it schema.Item) bool {
	switch it.Kind {
	case "intracardiac-line", "central-venous-line", "peripheral-cannula", "intraosseous-needle":
		return true
	}
	return false
}

// veins tells whether anything in the child leads into a vein or the heart.
func (b *builder) veins() bool {
	return slices.ContainsFunc(b.items, func(in inside) bool { return venous(in.Item) })
}

// patencyUnknown tells whether the note speaks of a vessel without knowing that
// it is open.
func (b *builder) patencyUnknown() bool {
	p := schema.BeforeVessels
	if b.n.Stated(p) == schema.StatedUnknown {
		return true
	}
	for _, r := range b.rowsAt(p) {
		if v := r.Text("state"); v == "not-known" || v == "" {
			return true
		}
	}
	return b.n.Has(schema.CareCannulationPlan) && !b.n.Answered(p)
}

// crossing tells whether blood can cross from the veins to the brain: in every
// child before the third stage, and after it where the fenestration is not known
// to be closed.
func (b *builder) crossing() bool {
	if b.kind != schema.Stage3 {
		return true
	}
	return b.n.Stated(schema.Stage3Fenestration) != schema.StatedNone && b.n.Text(schema.Stage3Fenestration) != "closed"
}
