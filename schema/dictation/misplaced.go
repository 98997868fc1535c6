package dictation

import (
	"slices"
	"strconv"
	"strings"

	"fairlead/schema"
)

// countNouns are things counted that no field counts: the number before one is of
// nothing that stood before it.
var countNouns = wordSet("figure version answer entry period run dose attempt time go shot stitch clip probe pass try day donor sensor pad channel person people stage weaning second-run")

// misplaced drops values whose words are said of something else than their field:
// a vent is no pressure line, two probes are no minutes of perfusion.
func (g *segment) misplaced() {
	for a := range g.claims {
		c := &g.claims[a]
		if c.gone {
			continue
		}
		row := c.group >= 0 && g.groups[c.group].item == nil
		drop := g.ofSupport(c)
		switch c.field.Path {
		case schema.EchoMethod:
			drop = c.value == "transthoracic" && g.anyWithin(c.from, c.to, "surface") && !g.mentions("echo", "echocardiogram")
		case schema.SupportPerfusionTotal:
			drop = c.note != "" && g.mentions("probe", "nir", "sensor", "pad")
		case schema.ClosingSternalSutures:
			drop = !g.mentions("sternal", "sternum", "steel") && (c.value == "1" || c.value == "2" || g.mentions("temporary", "epicardial", "pacing", "ventricle", "atrium")) || g.nextIsThing(c)
		case schema.LeavingPacing, schema.LeavingRhythm:
			drop = c.value != "standby" && strings.HasSuffix(c.value, map[schema.Path]string{schema.LeavingRhythm: "-paced"}[c.field.Path]) && g.is(c.to, "backup", "standby") && c.stated == ""
			drop = drop || (c.value == "atrial" || c.value == "ventricular") && g.mentions("ddd", "sequential") && (g.is(c.to, "output") || g.numberAt(c.to)) // an output of a box that paces both
		case running:
			drop = c.stated != "" && g.mentions("nitric", "ino", "dialysis", "hemofilter", "ecmo", "cooling") || c.stated != "" && slices.ContainsFunc(g.groups, func(x group) bool { return x.list == running && !x.denied && !x.gone }) // "nothing except milrinone"
		case schema.SupplyMaterial: // the graft that the aorta is perfused through
			drop = slices.ContainsFunc(g.claims, func(x claim) bool {
				return !x.gone && x.field.Path == schema.SupportArterialCannulation && x.why <= c.from && c.to <= max(x.to, x.whyTo)
			})
		case schema.Stage1Duct:
			drop = !g.anyPrefix("duct", "duck", "pda") && g.ctx.topic != "stage1" || g.within(&g.signs[max(0, g.at[c.from])], "tissue") && !g.mentions("ductus", "pda")
		case schema.Stage1ArchPatch:
			if b := fieldAt(schema.Stage1BranchMaterial); c.stated == "" && !g.anyPrefix("arch", "aort", "coarct", "isthm") && g.anyPrefix("branch", "rpa", "lpa") && !g.answered(b) {
				c.field = b
				break
			}
			drop = c.value == "bovine-pericardium" && !g.mentions("bovine", "photofix", "cow", "patched", "augmented", "arch") && g.mentions("harvested", "taken", "saved", "glut", "fixed", "glutaraldehyde")
		case schema.Stage1StumpPatch:
			if !g.anyPrefix("stump", "mpa", "main", "trunk", "root") {
				drop = true
				if b := fieldAt(schema.Stage1BranchMaterial); g.anyPrefix("branch", "rpa", "lpa", "confluence") || g.mentions("pa", "artery") {
					c.field, drop = b, g.answered(b)
				}
			}
		case schema.HybridLegPressure, schema.HybridArmPressure:
			drop = c.note != "" && g.anyWithin(c.why, c.whyTo, "foot") || g.anyWithin(c.why, c.whyTo, "hand")
		case schema.Stage1Septectomy:
			drop = !g.anyPrefix("sept", "asd", "atrial", "fossa", "interatrial", "rashkind", "balloon")
		case schema.ClosingTolerated:
			drop = g.is(c.from, "no") && g.is(c.from+1, "change") && !g.mentions("closing", "closed", "close", "closure", "sternum", "chest", "tolerated", "pressure", "saturation")
		case schema.WorkProblems:
			drop = c.stated != "" && g.mentions("entry", "entered", "intubation", "line")
		case schema.ApproachEntry:
			drop = c.value == "uneventful" && g.mentions("tube", "probe", "airway", "intubation", "lumen") && !g.mentions("entry", "sternotomy", "saw", "entered")
		case schema.MechanicalStoppedAt:
			for j := range g.signs {
				p := &g.signs[j]
				drop = drop || g.drugAt(j) != "" && p.to <= c.from && c.from-p.to <= 4 && !g.crosses(p.to, c.from)
			}
			for k := c.to; k < c.to+7; k++ {
				drop = drop || g.is(k, "restarted", "resumed", "recommenced") || g.is(k, "back") && g.is(k+1, "on")
			}
		case schema.Stage2OldSupply:
			drop = g.anyPrefix("azyg", "hemiazyg") && !g.anyPrefix("shunt", "sano", "bt", "conduit", "supply", "duct", "band", "stent", "mbt")
		case schema.SupportBypassTotal, schema.SupportClampTotal, schema.SupportArrestTotal:
			drop = c.field.Path == schema.SupportClampTotal && g.anyWithin(max(0, c.why-4), c.to, "biting", "biter", "sidebiting", "sidebiter", "partial") // of a vessel, and not of the aorta
			if n := g.at[c.why]; c.field.Path == schema.SupportArrestTotal && n >= 0 && g.stoppedByClamp(&g.signs[n]) {
				c.field = fieldAt(schema.SupportClampTotal) // "the heart arrested for forty-six under the clamp"
			}
			for k := c.to; k < c.to+5; k++ {
				drop = drop || g.is(k, "plus") || g.is(k, "second", "another", "further") && g.is(k+1, "run", "period", "clamp", "arrest") && !g.is(k-1, "include", "including", "included") && !g.is(k-2, "include", "including", "included") || g.is(k, "and") && g.is(k+1, "for") && g.numberAt(k+2)
			}
			drop = drop || g.is(c.why-1, "twice") || g.is(c.whyTo, "twice") || g.is(c.from-1, "for") && g.is(c.from-2, ",") && g.is(c.from-3, "twice") || g.is(c.from-2, "twice")
			drop = drop || g.is(c.why-1, "on", "during", "off", "before", "after") && g.toks[c.to-1].text != "min" && g.toks[c.to-1].text != "minute" && c.from > c.why && !g.is(c.from-1, "for", "time", "of", "total", "was")
			for k := c.from - 1; k >= 0 && k >= c.from-4; k-- {
				drop = drop || g.is(k, "second", "another", "further", "third") && g.is(k+1, "run", "period", "clamp", "arrest")
			}
		case schema.Stage1ArchGradient: // "septum ballooned, residual gradient three"
			if f := fieldAt(schema.HybridSeptumGradient); g.mentions("septum", "septal", "septostomy") && !g.anyPrefix("arch", "pull", "aort") && !g.answered(f) {
				c.field = f
			}
			g.gradientOfEcho(c)
		case schema.CatheterArchGradientBefore:
			g.gradientOfEcho(c)
		case schema.EchoArchGradient:
			drop = !g.mentions("gradient", "echo", "peak", "doppler") && !g.is(c.to-1, "hg", "mmhg", "mercury")
		case schema.LeavingDrainLoss:
			drop = g.is(c.why, "drained") && (g.is(c.why+1, "with", "by") || c.stated != "")
		case schema.MeasuresWeight:
			drop = g.is(c.why, "actual") && !g.anyPrefix("weigh", "kg", "kilo", "wt")
		case schema.CountsSwabs:
			drop = c.stated != "" && g.mentions("left", "inside", "behind", "chest")
		case schema.PerfusionPeakLactate:
			drop = g.is(c.from-1, "now") || c.leaving
		case schema.OperationStarted:
			for j := range g.signs {
				drop = drop || g.drugAt(j) != "" && g.signs[j].to <= c.from && c.from-g.signs[j].to <= 6
			}
		case schema.BloodAvailable:
			drop = c.stated != "" && !g.mentions("product", "blood", "nothing", "more")
		case schema.WorkRemoved:
			drop = c.stated != "" && !g.mentions("specimen", "tissue", "sample", "nothing", "removed", "excized", "pathology", "histology")
		case schema.HybridProstaglandinAfter, schema.BeforeProstaglandinStopped:
			drop = g.ctx.topic == "" && !g.anyPrefix("prosta", "pge", "alpro", "prostin", "pg")
		case schema.OperationUrgency:
			drop = g.mentions("sternum", "chest", "bone") && g.mentions("open")
		case schema.Stage2Azygos:
			drop = g.mentions("svc", "lsvc", "cava") && !g.anyPrefix("azyg", "hemiazyg")
		case schema.WorkEstimatedLoss:
			for k := c.to; k < c.to+8; k++ {
				drop = drop || g.is(k, "total") && g.numberAt(k+1)
			}
		case schema.ApproachSternotomyNumber:
			drop = g.is(c.from, "redo") && c.to-c.from == 1 && !g.numberAt(c.to)
		case schema.PerfusionCardioplegia:
			drop = c.stated == "" && !g.anyPrefix("cardiopleg", "plegi", "nido", "custodiol", "htk", "dose")
		case schema.SupportVenousCannulation:
			drop = (g.mentions("interrupted") || !g.anyPrefix("cannul", "bicaval", "caval", "venous", "pump", "bypass", "cpb", "atri")) && !slices.ContainsFunc(g.claims, func(x claim) bool {
				return x.field.Path == schema.SupportArterialCannulation && x.why <= c.from && c.to <= x.whyTo
			})
		case schema.BloodNeeds:
			drop = (g.is(c.from-1, "was", "were") || g.is(c.from-1, "and")) && g.mentions("was", "were", "old") && !g.mentions("need", "require", "only", "must")
		case schema.ClosingSternum:
			drop = c.value == "closed" && (g.is(c.from-1, "skin") || g.is(c.from-1, "only") && g.is(c.from-2, "skin")) || c.value == "open" && g.is(c.from-1, "skin") && !g.is(c.from-2, "and", "to", "the")
		case schema.BetweenReason:
			drop = c.value == "failed-connection" && g.lex.kind != schema.Takedown && g.is(c.from, "failed") && c.to-c.from == 1 // "tried, failed": the closing
		case schema.BetweenPlication:
			drop = c.stated == "" && g.plicationDenied(c)
		case schema.BetweenSource:
			drop = c.stated == "" && g.notTheSource(c)
			for k := c.to; k < c.to+3 && c.stated == ""; k++ {
				drop = drop || g.is(k, "dry", "fine", "ok", "intact", "clean", "okay") // "cannulation site dry"
			}
		case schema.BetweenShuntFound:
			drop = c.value == "narrowed" && g.is(c.to-1, "narrow", "narrowed") && (g.is(c.to-2, "to", "we", "i", "and") || g.mentions("clip"))
		case schema.Stage2EnlargementMaterial, schema.Stage3EnlargementMaterial:
			for k := c.from - 1; k >= 0 && k >= c.from-6 && !g.is(k, ","); k-- {
				drop = drop || g.is(k, "arch") && c.stated == ""
			}
			drop = drop && !g.mentions("pa", "lpa", "rpa", "branch", "confluence")
		case schema.ClosingPericardium:
			drop = c.value == "patched" && g.mentions("arch", "septum", "branch", "aorta", "stump", "pa", "confluence")
		case schema.Stage1ArchTechnique:
			if c.value == "direct-no-patch" && g.is(c.to-1, "patch", "needed", "required") {
				for b := range g.claims { // "we did not need a patch, it was sewn end to side"
					drop = drop || g.claims[b].field == c.field && g.claims[b].value != c.value && !g.claims[b].gone
				}
			}
			for k := range g.toks { // "arch fine, no patch"
				drop = drop || c.value == "direct-no-patch" && g.is(k, "arch") && (g.is(k-1, "no") || g.is(k+1, "fine", "normal", "unobstructed", "ok", "untouched", "left") || g.is(k+1, "was", "is", "itself") && g.is(k+2, "fine", "normal", "unobstructed", "ok", "untouched", "left", "good"))
			}
		case schema.BetweenShuntDone:
			drop = c.value == "clipped" && g.offAgain(c) || c.value == "taken-down" && g.lex.kind == schema.Takedown && !g.anyPrefix("shunt", "sano", "conduit", "bt", "mbt")
			for k := c.from - 1; k >= 0 && k >= c.from-3 && c.value == "taken-down"; k-- {
				drop = drop || g.is(k, "glenn", "fontan", "kawashima")
			}
		case schema.SupplyTo:
			// where the lung end of a conduit was sewn; not "from the ventricle to the confluence"
			if f := fieldAt(schema.SupplyDistalSite); c.value == "confluence" && g.ctx.value(schema.SupplyKind) == "ventricle-pulmonary-conduit" && !g.mentions("from", "rv", "ventricle") && g.inNote(f) && !g.answered(f) {
				c.field = f
			}
			drop = g.mentions("band", "banded") && !g.anyPrefix("shunt", "conduit", "sano", "bt", "innom", "subclav")
		case schema.Stage2Enlargement:
			drop = c.stated == "" && (g.is(c.from-1, "to") || g.is(c.from, "to")) && !g.anyPrefix("patch", "enlarg", "augment", "plast", "widen", "arteriopl", "stent", "homog")
		case schema.SupplyBandGradient:
			drop = !strings.HasSuffix(g.ctx.supply, "band") && !strings.HasSuffix(g.ctx.form, "band") && !g.anyPrefix("band")
		case schema.SupplyFrom:
			drop = g.mentions("aberrant")
		case schema.AnticoagulationPlan:
			drop = g.is(0, "nothing") || c.stated != "" && g.mentions("decided", "decide", "decision") // "not decided yet" is no plan of none
		case schema.SupportMode:
			drop = c.value == "off-pump" && g.is(c.from, "off") && g.numberAt(c.from-1)                                                    // "16 off pump"
			drop = drop || c.value == "off-pump" && g.lex.kind == schema.SupportOn && g.mentions("get", "come", "got", "wean", "separate") // "could not get her off the pump"
			drop = drop || c.value == "mechanical-support" && c.to-c.from == 1 && !g.is(c.from-1, "on", "under")                           // "ECMO if it goes again"
			for k := c.to; k < c.to+6 && c.value == "bypass" && !g.is(k, ","); k++ {
				drop = drop || g.is(k, "primed", "standby", "ready", "stood", "waiting", "outside", "available") || g.is(k, "room", "corner") && g.is(k-1, "the")
			}
			drop = drop || c.value == "bypass" && g.lex.kind == schema.SupportOn && c.to-c.from <= 2 && g.is(c.to-1, "pump")
		case schema.SupplyProof:
			drop = c.value == "flow-probe" && g.probeless(c)
		case schema.SupportArrests:
			drop = c.stated != "" && (g.lex.kind == schema.Reexploration || g.lex.kind == schema.SupportOn || g.lex.kind == schema.SupportOff) &&
				!g.mentions("circulatory", "circ", "dhca", "clamp", "bypass", "cooled", "hypothermic")
		case schema.CareSupportCandidate:
			drop = c.value == "discuss" && !g.mentions("ecmo", "support", "ecl", "mechanical") || g.is(c.from-1, "wont", "not")
		case schema.Stage1Form:
			drop = c.value == "main-pulmonary-band" && g.is(c.from, "band") && c.to-c.from == 1
		}
		if c.field.Numeric() && c.stated == "" && c.field.Name != "count" && c.group < 0 {
			if k := c.to; k < len(g.toks) && g.toks[k].kind == word && countNouns[g.toks[k].text] && g.numberAt(k-1) && c.why < c.from {
				drop = true // "cross clamp, one period only"
			}
			drop = drop || g.is(c.from-1, "bed", "room", "bay", "cot", "page", "table", "slide", "cubicle") || g.is(c.from-1, "number") && c.field.Unit != "mm" // "a number six Sano" is its size
			drop = drop || c.field.Unit == "mm[Hg]" && (c.value == "1" || c.value == "2") && g.wireCount(c)
		}
		switch {
		case c.field.Path.List() == schema.BloodProducts && c.field.Name == "volume" && c.value == "0":
			drop = true // none of it was given
		case c.field.Name == "donors" && g.is(c.to, "day", "week", "hour", "dose", "year", "old"):
			drop = true
		case c.field.Name == "pressure" && row:
			i := int(g.at[c.from])
			drop = g.is(c.to, "vent", "cannula", "appendage") || g.is(c.from-1, "rv", "ll", "ul") || i >= 0 && g.signs[i].to == c.to && g.words(c.from, c.to) == "Ca"
		case c.field.Path == schema.LeavingSaturation && c.why > 0 && g.venousBefore(c):
			drop = true
		case c.field.Path.List() == schema.BloodProducts && c.field.Name == "product" && g.is(c.to, "cardioplegia", "culture"):
			drop = true
		}
		if !drop && !g.strayed(c) {
			continue
		}
		c.gone = true
		if c.field.Path == schema.ClosingSternalSutures { // what it was taken from
			for b := range g.claims {
				if o := &g.claims[b]; o.from == c.from && (o.field.Path == schema.ClosingSternum || o.field.Path == schema.ClosingSternalMaterial) {
					o.gone = true
				}
			}
		}
		if row && c.field.Name != "donors" {
			g.groups[c.group].gone = true
		}
	}
	for a := range g.claims { // no line for infusions is so wide
		c := &g.claims[a]
		if c.gone || c.group < 0 || g.groups[c.group].item == nil || g.groups[c.group].item.Name != "central-venous-line" || c.field.Name != "size" {
			continue
		}
		if v, err := strconv.ParseFloat(c.value, 64); err == nil && v >= 9 {
			c.gone = true
			if g.lex.kind == schema.SupportOn {
				g.groups[c.group].gone = true // a cannula of the circuit
			}
		}
	}
	for i := range g.groups {
		x := &g.groups[i]
		if x.item != nil && x.item.Name == "central-venous-line" && g.mentions("homograft", "patch") && !g.mentions("line", "lumen", "french", "catheter", "gauge") {
			x.gone = true // "homograft arch, femoral vein"
		}
	}
	g.notLines()
	for i := range g.groups { // what is left with no more than its kind
		x := &g.groups[i]
		if x.list != schema.BloodProducts || x.gone {
			continue
		}
		for a := range g.claims {
			if c := &g.claims[a]; c.group == i && c.gone && c.field.Name == "donors" {
				x.gone = true
			}
		}
	}
}

// nextIsThing tells whether the number of a claim counts the thing that follows:
// "two and two wires, one mediastinal".
func (g *segment) nextIsThing(c *claim) bool {
	i := g.nextSign(c.to)
	return i < len(g.signs) && g.signs[i].from == c.to && (g.signs[i].has(isVariety) || g.signs[i].has(isItem)) && g.numberAt(c.to-1)
}

// wireCount tells whether a small number before the name of a chamber counts wires
// or leads: "one atrial and one ventricular".
func (g *segment) wireCount(c *claim) bool {
	if !g.mentions("wire", "lead", "epicardial", "ventricular") {
		return false
	}
	return g.is(c.to, "atrial", "ventricular") || g.is(c.to, "and") || c.why >= c.from
}

// venousBefore tells whether a saturation is of blood that is not arterial: "SVC
// sat 68", "mixed venous saturation".
func (g *segment) venousBefore(c *claim) bool {
	for k := c.why - 1; k >= 0 && k >= c.why-4; k-- {
		if g.is(k, "svc", "ivc", "venous", "caval", "cerebral", "nir", "renal", "regional", "mixed") {
			return true
		}
		if g.is(k, "o", "o2", "2") {
			continue
		}
		if g.toks[k].kind != word || g.numberAt(k) {
			return false
		}
	}
	return false
}

// anyPrefix tells whether a word of the segment begins with one of ps.
func (g *segment) anyPrefix(ps ...string) bool {
	for i := range g.toks {
		for _, p := range ps {
			if strings.HasPrefix(g.toks[i].text, p) {
				return true
			}
		}
	}
	return false
}

// probeless tells whether the flow probe is only told not to have been there, or not to have
// worked: "no flow probe today", "probe: not available", "the probe was flat".
func (g *segment) probeless(c *claim) bool {
	for k := c.from - 1; k >= 0 && k >= c.from-4 && g.toks[k].kind == word; k-- {
		if g.is(k, "no", "without", "find", "lacked", "want", "instead") || contracted[g.toks[k].text] {
			return true
		}
	}
	for k := c.to; k < len(g.toks) && k < c.to+6 && g.toks[k].kind != stop && !g.numberAt(k); k++ {
		if g.is(k, "unavailable", "flat", "broken", "broke", "missing", "dead", "failed", "faulty", "lost", "elsewhere", "useless") ||
			g.is(k, "not") && g.is(k+1, "available", "working", "found", "read", "there", "here", "used", "reading") || contracted[g.toks[k].text] && g.is(k+1, "work", "read") {
			return true
		}
	}
	return false
}

// gradientOfEcho gives a gradient over the arch to the echo where the same sentence tells
// more of what the echo showed, and no other way of measuring it.
func (g *segment) gradientOfEcho(c *claim) {
	f := fieldAt(schema.EchoArchGradient)
	if !g.inNote(f) || g.answered(f) || g.anyPrefix("pull", "cath", "line", "invasive", "direct", "manomet") {
		return
	}
	if slices.ContainsFunc(g.claims, func(x claim) bool {
		return !x.gone && (x.field.Path == schema.EchoMethod || x.field.Path == schema.EchoFunction || x.field.Path == schema.EchoAvValveLeak)
	}) {
		c.field = f
	}
}

// plicationDenied tells whether the diaphragm was only looked at: "both move, not plicated".
func (g *segment) plicationDenied(c *claim) bool {
	for k := c.from; k+1 < len(g.toks) && k < c.to+8 && g.toks[k].kind != stop; k++ {
		if (g.denyingAt(k) || g.is(k, "neither")) && g.is(k+1, "plicated", "plication") {
			return true
		}
	}
	return false
}

// offAgain tells whether the clip that was put on came off in the same breath, and no other
// stayed: "put a clip on it and took it straight off again".
func (g *segment) offAgain(c *claim) bool {
	for k := c.to; k < len(g.toks) && k < c.to+16 && g.toks[k].kind != stop; k++ {
		if g.is(k, "off") && g.anyWithin(max(c.to, k-4), k, "took", "taken", "came", "come") && g.anyWithin(max(c.to, k-4), k, "it", "straight", "that") {
			return !g.mentions("second", "another", "other", "one", "two")
		}
	}
	return false
}

// notTheSource tells whether a place is named as one that did not bleed, or as where
// something else lies: "no bleeding from the suture line", "went over it twice and it was
// dry", "stuck down by the suture line".
func (g *segment) notTheSource(c *claim) bool {
	for k := max(0, c.from-7); k < c.from; k++ {
		if g.toks[k].kind == stop {
			return false
		}
		if g.is(k, "no", "not", "nothing") && g.anyWithin(k+1, c.from, "bleeding", "ooze", "oozing", "bleeder") && g.anyWithin(k+1, c.from, "from", "at", "on") && !g.anyWithin(k+1, c.from, "but", ",") {
			return true
		}
	}
	if g.is(c.from-1, "by", "near", "beside") || g.is(c.from-1, "the") && g.is(c.from-2, "by", "near", "beside") {
		return !g.mentions("bleeding", "bled", "bleeder", "ooze", "oozing", "oozed", "source", "jet", "hole")
	}
	for k := c.to; k < len(g.toks) && k < c.to+10 && g.toks[k].kind != stop; k++ {
		if g.is(k, "bled", "bleeding", "ooze", "oozing", "stitch", "stitched", "sutured", "hole", "until", "then") {
			return false
		}
		if g.is(k, "dry") && g.is(k-1, "was", "is", "were") && g.is(k-2, "it", "they", "and", "that") {
			return true
		}
	}
	return false
}

// ofSupport tells whether a claim takes the cannulae of mechanical support, in a note of
// coming off it, for those of a bypass that nobody spoke of.
func (g *segment) ofSupport(c *claim) bool {
	switch c.field.Path {
	case schema.SupportArterialCannulation, schema.SupportVenousCannulation, schema.SupportInflowGraft, schema.SupportInflowGraftFate:
		return g.lex.kind == schema.SupportOff && !g.mentions("bypass", "cpb")
	}
	return false
}
