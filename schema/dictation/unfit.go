package dictation

import (
	"strings"

	"fairlead/schema"
)

// unfit is what it costs to choose one field rather than another of the same
// name: those of the note's own stage come first.
func (g *segment) unfit(f *schema.Field) float64 {
	switch f.Section {
	case "echo":
		if g.mentions("echo") {
			return -0.5
		}
		return 0.4
	case "catheter", "before":
		if g.mentions("cath", "catheter", "pre", "before", "preop", "beforehand", "mri", "angiogram", "angio") {
			return -0.5
		}
		return 1.2
	case "between":
		if f.Path == schema.BetweenShuntFound && g.lex.kind == schema.SupportOn {
			return 0.8
		}
		if f.Path == schema.BetweenReason {
			if g.lex.kind == schema.ShuntRevision {
				return 1.2
			}
			return 0.4
		}
	case "perfusion":
		if strings.HasPrefix(f.Name, "lowest") && g.mentions("lowest", "nadir", "low", "minimum") {
			return -0.6
		}
		if strings.HasPrefix(f.Name, "lowest") && f.Path != schema.PerfusionLowestTemperature {
			return 0.5
		}
	case "hybrid":
		switch g.ctx.form {
		case "hybrid", "bands-prostaglandin", "ductal-stent-alone":
			return -0.4
		}
		return 3
	case "child":
		return 0.2
	case "mechanical":
		if f.Path == schema.MechanicalShunt && g.lex.kind == schema.SupportOff {
			return 0.8
		}
		return -0.1
	}
	if f.Path == schema.ClosingSternalMaterial && g.mentions("skin") && !g.mentions("sternum", "wire", "sternal", "chest") {
		return 2
	}
	if f.Path == "ventilation.rate" {
		if g.ventTalk() || g.mentions("respiratory", "peak") {
			return -0.3
		}
		return 0.5
	}
	return 0
}
