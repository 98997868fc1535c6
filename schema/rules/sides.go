package rules

import (
	"fmt"
	"strings"

	"fairlead/schema"
)

var sideRules = []entry{
	{Rule{"sides-disagree", "Left and right that do not agree", schema.Error, "issue 2: laterality"},
		[]string{"items", "supply", "hybrid"}, sidesDisagree},
	{Rule{"caval-veins-disagree", "A connection that does not fit the caval veins", schema.Error, "issue 2: laterality"},
		[]string{"stage2", "veins"}, cavalVeins},
}

// sideIn is the side a word begins with: "right-groin", "right".
func sideIn(word string) string {
	for _, side := range []string{"right", "left"} {
		if word == side || strings.HasPrefix(word, side+"-") {
			return side
		}
	}
	return ""
}

// paired are the places one goes in and comes out on the same side: limbs, neck,
// groin and nostril. A drain or a wire may cross under the skin.
var paired = []string{"neck", "subclavian", "shoulder", "axilla", "upper-arm", "antecubital-fossa", "forearm", "wrist", "hand",
	"groin", "thigh", "knee", "lower-leg", "ankle", "foot", "nostril"}

func sidesDisagree(l *look) {
	for _, it := range l.Items() {
		side := it.Text("side")
		if side != "right" && side != "left" {
			continue
		}
		against := func(field string) {
			if word := it.Text(field); sideIn(word) != "" && sideIn(word) != side {
				l.find(it.Path("side"), fmt.Sprintf("%s, but %s.", l.said(it.Path("side")), l.said(it.Path(field))), "Look at the child, and correct the one that is wrong.", it.Path(field))
			}
		}
		switch it.Kind {
		case "airway":
			against("nostril")
		case "drain":
			against("variety")
			continue
		case "implant", "pacing-wires", "left-on-purpose", "intracardiac-line":
			continue
		}
		for _, place := range paired {
			if strings.HasSuffix(it.Text("exit"), "-"+place) {
				against("exit")
			}
		}
		if it.Kind == "surface-probe" && strings.HasSuffix(it.Text("exit"), "-forehead") {
			against("exit")
		}
	}
	if to, side := schema.SupplyTo, schema.SupplySide; sideIn(l.Text(to)) != "" && sideIn(l.Text(side)) != "" && sideIn(l.Text(to)) != sideIn(l.Text(side)) &&
		l.is(schema.SupplyKind, "modified-blalock-taussig-thomas") {
		l.find(side, fmt.Sprintf("%s, but %s.", l.said(side), l.said(to)), "Correct the one that is wrong.", to)
	}
	seen := map[string]schema.Path{}
	for _, row := range l.Rows(schema.HybridBands) {
		p := schema.HybridBandsSide.In(row)
		side := l.Text(p)
		if first, twice := seen[side]; twice && side != "" {
			l.find(p, fmt.Sprintf("%s, and %s: two bands on one side.", l.said(p), l.said(first)), "Correct the side of one.", first)
			continue
		}
		seen[side] = p
	}
}

func cavalVeins(l *look) {
	right, left, at := schema.Stage2RightCavalVein, schema.Stage2LeftCavalVein, schema.Stage2Connection
	need := func(p schema.Path) {
		if l.Has(p) && !l.is(p, "connected") || l.none(p) {
			l.find(p, fmt.Sprintf("%s, but %s.", l.said(p), l.said(at)), "Correct the one that is wrong.", at)
		}
	}
	switch l.Text(at) {
	case "glenn-right":
		need(right)
	case "glenn-left":
		need(left)
	case "glenn-bilateral":
		need(right)
		need(left)
	}
	for _, pair := range [][2]schema.Path{{right, schema.VeinsRightSuperiorCavalVein}, {left, schema.VeinsLeftSuperiorCavalVein}} {
		if l.is(pair[0], "connected") && l.none(pair[1]) {
			l.find(pair[0], fmt.Sprintf("%s, but among the veins %s.", l.said(pair[0]), l.said(pair[1])), "Correct the one that is wrong.", pair[1])
		}
	}
}
