package dictation

import (
	"strings"

	"fairlead/schema"
)

// strayed tells whether the words of a value are said of something else than its field,
// because what the field is of is nowhere spoken of.
func (g *segment) strayed(c *claim) bool {
	if c.group >= 0 && c.field.Name == "side" && strings.HasPrefix(g.groups[c.group].variety, "umbilical") {
		return true // "UAC and UVC both in"
	}
	switch c.field.Path {
	case schema.SupplyKind:
		return c.value == "native-outflow" && (g.is(c.from, "antegrade") || g.is(c.to-1, "antegrade")) && (g.anyPrefix("nido", "cardiopleg", "plegi", "htk", "custodiol") || g.mentions("cerebral", "head"))
	case schema.LeavingSaturation:
		for k := c.why - 1; k > 0 && k > c.why-9 && g.toks[k].kind != stop; k-- {
			if g.is(k, "for", "because") && g.is(k-1, "down", "back", "theater", "reopened", "revized") {
				return true // "taken down for high pressures and sats of fifty five"
			}
		}
	case schema.Stage3FenestrationDiameter:
		return g.mentions("chest", "sternum", "sternal") && !g.anyPrefix("fen", "punch", "hole") // "chest closed three drains"
	case schema.BloodNeeds:
		return c.value == "washed" && !g.mentions("cell", "blood", "unit", "product", "irradiated", "prbc", "rbc", "saver")
	case schema.EchoSupplyFlow:
		return c.value == "seen" && g.is(c.from, "good") && !g.mentions("echo", "echocardiogram", "doppler", "toe", "tee", "epicardial", "color", "imaging") && g.ctx.topic != "echo"
	case schema.SupportInflowGraftFate:
		return c.value == "removed" && !g.anyPrefix("graft", "chimney", "innom", "cannul", "tube", "stub")
	case schema.BetweenShuntDone:
		return c.stated == "" && c.value != "moved" && c.value != "none" && g.lex.kind != schema.ShuntRevision && g.lex.kind != schema.Takedown && !g.anyPrefix("shunt", "sano", "conduit", "bt", "mbt", "clip", "fenestr")
	case schema.OperationUrgency:
		return c.value == "elective" && (g.is(c.from-1, "i", "we", "id", "wed", "had") || g.is(c.to, "off", "left", "right", "a"))
	}
	return false
}
