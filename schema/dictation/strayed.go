package dictation

import (
	"strings"

	"fairlead/schema"
)

// notPlaceOf are the words before a place that is not where the operation was done, but
// where something else was, or where the child goes.
var notPlaceOf = wordSet("extub extubate extubated extubating extubation extubates extube out pulled remove removed come coming wean weaned weaning standby cpr compression compressions arrest arrested dropped fell crashed sats stats goes went going go sent returned back transferred transfer they ask wait waiting dictating happy now already tell nurse nurses")

// strayed tells whether the words of a value are said of something else than its field,
// because what the field is of is nowhere spoken of.
func (g *segment) strayed(c *claim) bool {
	if c.group >= 0 && c.field.Name == "side" && strings.HasPrefix(g.groups[c.group].variety, "umbilical") {
		return true // "UAC and UVC both in"
	}
	switch c.field.Path {
	case schema.OperationPlace:
		for k := c.from - 1; k >= 0 && k >= c.from-7 && g.toks[k].kind != stop && !g.is(k, ","); k-- {
			switch {
			case g.is(k, "done", "closed", "closure", "performed", "carried", "operation", "procedure", "washout", "opened", "reopened", "cutdown", "in"),
				c.value == "theatre" && g.is(k, "back", "brought", "took", "taken", "went"), g.lex.kind == schema.SupportOn && g.is(k, "cpr", "arrest", "arrested", "compression"):
				return false
			case notPlaceOf[g.toks[k].text] && !g.is(k-1, "carried"):
				return true
			}
		}
		return g.is(c.to, "summary", "list", "report", "charge", "fellow", "team") || g.is(c.to-1, "bed") && c.to-c.from <= 3 && (c.to >= len(g.toks) || g.numberAt(c.to) || g.is(c.to, "the")) && !g.is(c.to, "space")
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
