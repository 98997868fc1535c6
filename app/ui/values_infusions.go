package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/calc"
	"fairlead/schema"
)

// infusionsUI lists every infusion both ways: the rate its dose needs, the dose
// its rate gives, by which weight, and the lumen it runs through.
func infusionsUI(n *schema.Note, all []calc.Infusion) app.UI {
	var lines []app.UI
	for _, f := range all {
		if f.State == "stopped" {
			continue
		}
		class := ""
		if f.Question != "" || f.Unusual != "" {
			class = "asked"
		}
		lines = append(lines, app.Li().Class(class).Body(app.B().Text(sentenceStart(f.Title)+" "), app.Text(infusionWords(n, f))))
	}
	if len(lines) == 0 {
		return nil
	}
	return app.Div().Class("both-ways").Body(app.H3().Text("Dose and pump rate, both ways"), app.Ul().Body(lines...))
}

func sentenceStart(s string) string { return strings.TrimSuffix(sentence(s), ".") }

// infusionWords words one infusion both ways. What cannot be worked out is said.
func infusionWords(n *schema.Note, f calc.Infusion) string {
	var out []string
	switch {
	case f.Dose != nil && f.FromDose != nil && !f.Computed && f.Dose.UCUM != f.FromDose.UCUM:
		out = append(out, f.Dose.Shown()+" needs "+f.FromDose.Shown())
	case f.Dose != nil && !f.Computed:
		out = append(out, f.Dose.Shown())
	}
	switch {
	case f.Rate != nil && f.FromRate != nil && f.FromRate.UCUM != f.Rate.UCUM:
		out = append(out, f.Rate.Shown()+" gives "+f.FromRate.Shown())
	case f.Rate != nil && f.FromDose == nil && (f.Dose == nil || f.Dose.UCUM != "mL/h"):
		out = append(out, f.Rate.Shown())
	}
	if len(out) == 0 {
		out = append(out, "dose and rate "+schema.NotRecorded)
	}
	if f.Weight != nil {
		out = append(out, "by "+f.Weight.Shown())
	}
	for _, w := range f.Wanted {
		out = append(out, "wants "+w.Name+" ("+w.Why+")")
	}
	through := schema.NotRecorded
	if f.Item != "" {
		at := schema.InfusionsRunningItem.In(f.Row)
		through = schema.Show(n.FieldAt(at), n, at)
		if f.Lumen != "" {
			at = schema.InfusionsRunningLumen.In(f.Row)
			through += ", " + strings.ToLower(schema.Show(n.FieldAt(at), n, at))
		}
	}
	out = append(out, "through: "+through)
	words := strings.Join(out, "; ") + "."
	for _, q := range [...]string{f.Question, f.Unusual} {
		if q != "" {
			words += " " + q
		}
	}
	return words
}
