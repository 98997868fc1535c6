package rules

import (
	"fmt"
	"slices"

	"fairlead/schema"
)

var listRules = []entry{
	{Rule{"duplicate-tag", "Two items with one tag", schema.Error, ranges},
		[]string{"items"}, duplicateTag},
	{Rule{"denied-but-listed", "An item denied in the note but listed", schema.Error, ranges},
		append([]string{"items"}, denialSections...), deniedButListed},
	{Rule{"named-but-not-listed", "Something the note says is in the child but the list does not hold", schema.Error, ranges},
		[]string{"items", "airway", "supply", "hybrid", "leaving", "removals", "stage3"}, namedNotListed},
	{Rule{"not-in-the-list", "A field that names an item the list does not hold", schema.Error, graph},
		append([]string{"items"}, referring...), notInList},
}

func duplicateTag(l *look) {
	first := map[int]schema.Item{}
	for _, it := range l.listedAll() {
		if it.Tag == 0 {
			continue
		}
		other, taken := first[it.Tag]
		if !taken {
			first[it.Tag] = it
			continue
		}
		if other.ID != it.ID {
			l.find(l.at(it, "tag"), fmt.Sprintf("Tag %d is on two items: %s, and %s.", it.Tag, name(other), name(it)),
				"Give one of the two a tag that is not in use.", l.at(other, "tag"))
		}
	}
}

// denials are the answers that deny what an item of that kind and variety is. The
// answer is "none" unless words are given.
var denials = []struct {
	at        schema.Path
	words     []string
	kind      string
	varieties []string
}{
	{schema.AirwayThroatPack, []string{"in-and-out"}, "left-on-purpose", []string{"throat-pack"}},
	{schema.AirwayEchoProbe, []string{"in-and-out"}, "inner-probe", []string{"echo-probe"}},
	{schema.ApproachBarrier, nil, "implant", []string{"barrier"}},
	{schema.Stage3Leads, nil, "implant", []string{"lead"}},
	{schema.Stage3Pocket, nil, "implant", []string{"generator"}},
	{schema.SupportInflowGraftFate, []string{"removed", "became-shunt"}, "left-on-purpose", []string{"graft-left-for-support"}},
	{schema.LeavingSupport, []string{"no"}, "support-cannula", []string{"arterial", "venous", "second-venous", "inflow", "outflow", "limb-perfusion"}},
	{schema.MechanicalVent, nil, "support-cannula", []string{"vent"}},
	{schema.CountsPacksLeft, nil, "left-on-purpose", []string{"packs", "swabs"}},
}

var denialSections = []string{"airway", "approach", "stage3", "support", "leaving", "mechanical", "counts", "removals"}

func deniedButListed(l *look) {
	for _, d := range denials {
		if !l.none(d.at) && !l.is(d.at, d.words...) {
			continue
		}
		for _, it := range l.stillIn(d.kind, d.varieties...) {
			// What stays for good from an earlier operation is not denied by what
			// was left at this one.
			if _, here := l.Item(it.ID); it.Kind == "implant" && !here {
				continue
			}
			l.find(d.at, fmt.Sprintf("%s, but %s is listed.", l.said(d.at), name(it)), "Correct the one that is wrong: look at the child.", l.at(it, "variety"))
		}
	}
}

// claims are the answers that say a thing is in the child.
var claims = []struct {
	at        schema.Path
	words     []string
	kind      string
	varieties []string
	thing     string
}{
	{schema.AirwayThroatPack, []string{"still-in"}, "left-on-purpose", []string{"throat-pack"}, "throat pack"},
	{schema.AirwayEchoProbe, []string{"still-in"}, "inner-probe", []string{"echo-probe"}, "echo probe"},
	{schema.SupplyKind, []string{"modified-blalock-taussig-thomas", "central-shunt"}, "implant", []string{"shunt"}, "shunt"},
	{schema.SupplyKind, []string{"ventricle-pulmonary-conduit"}, "implant", []string{"conduit"}, "conduit"},
	{schema.SupplyKind, []string{"branch-bands", "main-pulmonary-band"}, "implant", []string{"band"}, "band"},
	{schema.SupplyKind, []string{"ductal-stent"}, "implant", []string{"stent"}, "stent"},
	{schema.Stage3Connection, []string{"extracardiac", "intra-extracardiac"}, "implant", []string{"conduit"}, "conduit"},
	{schema.LeavingSupport, []string{"yes"}, "support-cannula", nil, "support cannula"},
}

func namedNotListed(l *look) {
	for _, c := range claims {
		if l.is(c.at, c.words...) && len(l.stillIn(c.kind, c.varieties...)) == 0 {
			l.find(c.at, fmt.Sprintf("%s, but no %s is listed.", l.said(c.at), c.thing), "List it with its tag, or correct the answer.")
		}
	}
	if len(l.Rows(schema.HybridStents)) > 0 && len(l.stillIn("implant", "stent")) == 0 {
		l.find(schema.HybridStents, fmt.Sprintf("%s are recorded, but no stent is listed.", l.title(schema.HybridStents)), "List it with its tag, or take the entry out.")
	}
	if l.chose(schema.Stage3Leads, "atrial", "ventricular") && len(l.stillIn("implant", "lead")) == 0 {
		l.find(schema.Stage3Leads, fmt.Sprintf("%s, but no lead is listed.", l.said(schema.Stage3Leads)), "List it with its tag, or correct the answer.")
	}
}

// referring are the sections with fields that name an item.
var referring = []string{"pressures", "infusions", "gas", "leaving", "approach", "stage1", "supply", "hybrid", "stage2", "stage3", "mechanical", "removals"}

func notInList(l *look) {
	l.eachWith(append([]string{"items"}, referring...), []string{"item", "items"}, func(p schema.Path) {
		ids := l.List(p)
		if id := l.Text(p); id != "" {
			ids = append(ids, id)
		}
		if slices.ContainsFunc(ids, func(id string) bool { _, ok := l.listed(id); return id != "" && !ok }) {
			l.find(p, fmt.Sprintf("%s names an item that is not in the list.", l.title(p)), "Choose a listed item, or list this one.")
		}
	})
}
