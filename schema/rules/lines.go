package rules

import (
	"fmt"
	"slices"

	"fairlead/schema"
)

var lineRules = []entry{
	{Rule{"guidewire-not-answered", "A central line without the answer that the guidewire was seen out", schema.Error, ranges},
		[]string{"items"}, guidewire},
	{Rule{"cannula-after-decannulation", "A cannula still listed after it was taken out", schema.Error, ranges},
		[]string{"items", "mechanical", "removals"}, cannulaAfter},
	{Rule{"blocked-site-used", "A vessel used that is recorded as blocked", schema.Question, ranges},
		[]string{"items", "before", "support", "approach"}, blockedSite},
	{Rule{"plan-on-unproved-vessel", "A cannulation plan on a vessel not known to be open; unknown patency is not open", schema.Question, ranges},
		[]string{"before", "care"}, planOnUnproved},
	{Rule{"line-removal-unready", "An intracardiac line to come out without what its removal needs", schema.Question, ranges},
		[]string{"items", "removals", "infusions", "clotting", "operation"}, lineRemoval},
}

func guidewire(l *look) {
	for _, it := range l.items("central-venous-line") {
		at := it.Path("guidewire")
		if it.Text("guidewire") == "yes" || it.Stated("guidewire") == schema.StatedNone {
			continue
		}
		do := "Say that it was seen out, or that no wire was used."
		if it.Text("guidewire") == "no" {
			do = "Look for it now, with an X-ray, and tell the surgeon."
		}
		l.find(at, fmt.Sprintf("%s.", l.said(at)), do)
	}
}

func cannulaAfter(l *look) {
	out := map[string]bool{}
	for _, row := range l.Rows(schema.MechanicalDecannulated) {
		out[l.Text(schema.MechanicalDecannulatedItem.In(row))] = true
	}
	_, stopped := l.Moment(schema.MechanicalStoppedAt)
	for _, it := range l.stillIn("support-cannula") {
		if it.Text("variety") == "stump" {
			continue
		}
		switch {
		case out[it.ID]:
			l.find(schema.MechanicalDecannulated, fmt.Sprintf("%s: %s is said to be out and is still listed.", l.title(schema.MechanicalDecannulated), name(it)),
				"Record its removal under “Taken out at this operation”, or take the entry out.", l.at(it, "variety"))
		case stopped && l.Kind() == schema.SupportOff:
			l.find(schema.MechanicalStoppedAt, fmt.Sprintf("%s, but %s is still listed.", l.said(schema.MechanicalStoppedAt), name(it)),
				"Record how it came out, or that it was left as a stump.", l.at(it, "variety"))
		}
	}
}

// vessel is one vessel of one side.
type vessel struct{ name, side string }

// vesselState is what the note knows of a vessel: "open", "narrowed", "blocked",
// "tied", or "" where nothing is known. "Not known" is nothing known: unknown
// patency is not open.
func (l *look) vesselState(v vessel) (state string, at schema.Path) {
	for _, row := range l.Rows(schema.BeforeVessels) {
		if l.Text(schema.BeforeVesselsVessel.In(row)) != v.name || l.Text(schema.BeforeVesselsSide.In(row)) != v.side {
			continue
		}
		at = schema.BeforeVesselsState.In(row)
		switch s := l.Text(at); s {
		case "blocked", "tied":
			return s, at
		case "not-known":
		default:
			state = s
		}
	}
	return state, at
}

// cannulated are the vessels a site of cannulation or exposure means.
var cannulated = map[string][]vessel{
	"right-carotid": {{"carotid-artery", "right"}}, "left-carotid": {{"carotid-artery", "left"}},
	"right-femoral": {{"femoral-artery", "right"}}, "left-femoral": {{"femoral-artery", "left"}},
	"right-axillary": {{"axillary-artery", "right"}},
	"right-neck":     {{"internal-jugular", "right"}}, "left-neck": {{"internal-jugular", "left"}},
	"right-groin": {{"femoral-vein", "right"}}, "left-groin": {{"femoral-vein", "left"}},
}

func blockedSite(l *look) {
	ask := func(at schema.Path, v vessel) {
		state, known := l.vesselState(v)
		if state == "blocked" || state == "tied" {
			l.find(at, fmt.Sprintf("%s, but %s.", l.said(at), l.said(known)), "Correct the one that is wrong, or say how the vessel was found to be open.", known)
		}
	}
	for _, it := range l.Items() {
		if site := it.Text("site"); site != "" && it.Kind != "implant" {
			ask(it.Path("site"), vessel{site, it.Text("side")})
		}
	}
	for _, p := range []schema.Path{schema.SupportArterialCannulation, schema.SupportVenousCannulation, schema.ApproachVesselsCannulated} {
		for _, site := range l.List(p) {
			for _, v := range cannulated[site] {
				ask(p, v)
			}
		}
	}
}

func planOnUnproved(l *look) {
	at := schema.CareCannulationPlan
	words := fields(l.Text(at))
	for _, c := range []struct {
		words   []string
		vessels []string
	}{{[]string{"groin", "groins", "femoral"}, []string{"femoral-artery", "femoral-vein"}}, {[]string{"neck", "jugular", "carotid"}, []string{"carotid-artery", "internal-jugular"}}} {
		i := slices.IndexFunc(words, func(w string) bool { return slices.Contains(c.words, w) })
		if i < 0 {
			continue
		}
		if i > 0 && (words[i-1] == "no" || words[i-1] == "not") {
			continue
		}
		side := ""
		for _, w := range words {
			if w == "right" || w == "left" {
				side = w
				break
			}
		}
		for _, v := range c.vessels {
			open, place := false, schema.BeforeVessels
			for _, s := range []string{"right", "left"} {
				if side != "" && s != side {
					continue
				}
				state, known := l.vesselState(vessel{v, s})
				if known != "" {
					place = known
				}
				open = open || state == "open"
			}
			if !open {
				title := l.label(schema.BeforeVesselsVessel, v)
				l.find(at, fmt.Sprintf("%s speaks of the %s, and no %s is recorded as open: unknown is not open.", l.title(at), words[i], lower(title)),
					"Look with ultrasound and record what is open, or say why the plan stands.", place)
			}
		}
	}
}

// oldestClotting is how old a clotting sample may be before a line comes out, in
// hours. Common practice, no source; the unit's own conditions stand in the
// profile.
const oldestClotting = 24

func lineRemoval(l *look) {
	due := map[string]schema.Path{}
	var order []schema.Item
	for _, row := range l.Rows(schema.RemovalsOut) {
		if it, ok := l.listed(l.Text(schema.RemovalsOutItem.In(row))); ok && it.Kind == "intracardiac-line" && l.is(schema.RemovalsOutHow.In(row), "removed") {
			due[it.ID] = schema.RemovalsOutItem.In(row)
			order = append(order, it)
		}
	}
	for _, it := range l.items("intracardiac-line") {
		if it.Text("outBy") != "" && due[it.ID] == "" {
			due[it.ID] = it.Path("outBy")
			order = append(order, it)
		}
	}
	for _, it := range order {
		at := due[it.ID]
		ask := func(why, do string, others ...schema.Path) {
			l.find(at, fmt.Sprintf("%s: %s is to come out, and %s.", l.title(at), name(it), why), do, others...)
		}
		working := slices.ContainsFunc(l.stillIn("drain"), func(d schema.Item) bool {
			return d.Text("drainage") != "clamped" && slices.Contains([]string{"", "working"}, d.Text("state"))
		})
		if !working {
			ask("no working drain is listed", "Keep the line until a drain works, or say why.")
		}
		for _, f := range l.infusions() {
			if f.drug == "heparin" && f.state == "running" && !l.is(schema.InfusionsRunningDoseUnit.In(f.row), "mL/h") {
				ask("heparin is running", "Say when heparin stops, or why the line comes out with it running.", schema.InfusionsRunningDrug.In(f.row))
			}
		}
		sampled, ok := l.Moment(schema.ClottingClottingSampled)
		since := l.ctx.Now
		if since.IsZero() {
			since, _ = l.Moment(schema.OperationClosed)
		}
		_, platelets := l.Number(schema.ClottingPlatelets)
		_, inr := l.Number(schema.ClottingInr)
		switch {
		case !platelets:
			ask("platelets are not recorded", "Give the platelets, or say why.", schema.ClottingPlatelets)
		case !inr && !l.Has(schema.ClottingAptt):
			ask("clotting is not recorded", "Give the clotting, or say why.", schema.ClottingInr)
		case ok && !since.IsZero() && since.Sub(sampled).Hours() > oldestClotting:
			ask(fmt.Sprintf("the clotting was sampled more than %d h ago", oldestClotting), "Sample again, or say why.", schema.ClottingClottingSampled)
		}
	}
}
