package rules

import (
	"fmt"
	"slices"
	"strings"

	"fairlead/schema"
)

var allergyRules = []entry{
	{Rule{"allergy-conflict", "An allergy that conflicts with a drug in the note", schema.Error, ranges},
		[]string{"child", "infusions", "work", "airway", "anticoagulation", "clotting", "mechanical"}, allergyConflict},
	{Rule{"allergy-latex-chlorhexidine", "Latex or chlorhexidine allergy", schema.Question, ranges},
		[]string{"child"}, allergyContact},
}

// families are drugs an allergy to one of which may be to all, by how their names
// begin or end. From memory: a hint to look, never a clearance.
var families = []struct {
	name  string
	words []string // names
	stems []string // beginnings
	ends  []string
}{
	{"penicillin", []string{"penicillin", "penicillins", "benzylpenicillin", "tazocin"}, []string{"amoxi", "ampici", "fluclox", "piperac", "co amoxiclav", "cloxac", "oxacill", "nafcill"}, []string{"cillin"}},
	{"cephalosporin", []string{"cephalosporin", "cephalosporins"}, []string{"cef", "ceph"}, nil},
	{"heparin", []string{"heparin", "enoxaparin", "dalteparin", "tinzaparin"}, nil, []string{"parin"}},
	{"aprotinin", []string{"aprotinin"}, nil, nil},
	{"protamine", []string{"protamine", "fish"}, nil, nil},
	{"egg or soya", []string{"egg", "eggs", "soya", "soy", "propofol"}, nil, nil},
	{"sulfonamide", []string{"sulfonamide", "sulphonamide", "sulfa", "sulpha", "co trimoxazole"}, []string{"sulfameth", "sulphameth"}, nil},
	{"vancomycin", []string{"vancomycin", "teicoplanin"}, nil, nil},
	{"gentamicin", []string{"gentamicin", "amikacin", "tobramycin", "aminoglycoside", "aminoglycosides"}, nil, nil},
	{"morphine", []string{"morphine", "codeine", "diamorphine"}, nil, nil},
}

func familyOf(text string) string {
	words := fields(text)
	joined := strings.Join(words, " ")
	for _, f := range families {
		for _, w := range words {
			if slices.Contains(f.words, w) || slices.ContainsFunc(f.stems, func(s string) bool { return strings.HasPrefix(w, s) }) ||
				slices.ContainsFunc(f.ends, func(s string) bool { return len(w) > len(s) && strings.HasSuffix(w, s) }) {
				return f.name
			}
		}
		for _, w := range append(slices.Clone(f.words), f.stems...) {
			if strings.Contains(w, " ") && strings.Contains(joined, w) {
				return f.name
			}
		}
	}
	return ""
}

// given is a drug the note says the child has or is to have.
type given struct {
	at   schema.Path
	text string
}

func (l *look) drugs() []given {
	var out []given
	for _, f := range l.infusions() {
		if p := schema.InfusionsRunningDrug.In(f.row); f.goes() && f.drug != "" {
			out = append(out, given{p, l.label(p, f.drug)})
		}
		if p := schema.InfusionsRunningOtherDrug.In(f.row); f.goes() && l.Text(p) != "" {
			out = append(out, given{p, l.Text(p)})
		}
	}
	for _, list := range []struct{ list, drug schema.Path }{{schema.WorkAntibiotics, schema.WorkAntibioticsDrug}, {schema.AirwayDoses, schema.AirwayDosesDrug}} {
		for _, row := range l.Rows(list.list) {
			if p := list.drug.In(row); l.Text(p) != "" {
				out = append(out, given{p, l.Text(p)})
			}
		}
	}
	if p := schema.AnticoagulationPlan; l.is(p, "heparin", "heparin-then-antiplatelet", "heparin-then-warfarin", "low-molecular-heparin") {
		out = append(out, given{p, "heparin"})
	}
	for _, p := range []schema.Path{schema.ClottingHeparin, schema.ClottingHeparinOther} {
		if v, ok := l.Number(p); ok && v > 0 {
			out = append(out, given{p, "heparin"})
		}
	}
	if v, ok := l.Number(schema.ClottingProtamine); ok && v > 0 {
		out = append(out, given{schema.ClottingProtamine, "protamine"})
	}
	for _, p := range []schema.Path{schema.MechanicalAnticoagulant, schema.ClottingAntifibrinolytic} {
		if l.Text(p) != "" {
			out = append(out, given{p, l.label(p, l.Text(p))})
		}
	}
	return out
}

func allergyConflict(l *look) {
	drugs := l.drugs()
	for _, row := range l.Rows(schema.ChildAllergies) {
		kind, at := l.Text(schema.ChildAllergiesKind.In(row)), schema.ChildAllergiesSubstance.In(row)
		substance := l.Text(at)
		if kind == "heparin-induced" {
			substance = "heparin"
		} else if kind == "latex" || kind == "chlorhexidine" || kind == "adhesive" {
			continue
		}
		if substance == "" {
			continue
		}
		family := familyOf(substance)
		for _, d := range drugs {
			same := contains(fields(d.text), fields(substance)) || contains(fields(substance), fields(d.text))
			if !same && (family == "" || familyOf(d.text) != family) {
				continue
			}
			l.find(d.at, fmt.Sprintf("%s conflicts with the recorded allergy to %s.", l.said(d.at), substance),
				"Stop and check with the anaesthetist, and correct the one that is wrong.", at)
		}
	}
}

func allergyContact(l *look) {
	for _, row := range l.Rows(schema.ChildAllergies) {
		kind := schema.ChildAllergiesKind.In(row)
		for _, c := range []string{"latex", "chlorhexidine"} {
			if !l.is(kind, c) && !slices.Contains(fields(l.Text(schema.ChildAllergiesSubstance.In(row))), c) {
				continue
			}
			l.find(kind, fmt.Sprintf("%s: %s; it is in gloves, tubes, dressings or skin cleaning.", l.title(kind), c),
				"Say that what touches the child was checked, and by whom.", schema.ChildAllergiesSubstance.In(row))
		}
	}
}
