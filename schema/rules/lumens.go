package rules

import (
	"fmt"
	"strings"

	"fairlead/schema"
)

const graph = "clinical.md 3: the list is a graph, and it must close"

var lumenRules = []entry{
	{Rule{"lumen-without-use", "A lumen that says neither what runs in it nor that it is capped", schema.Error, graph},
		[]string{"items", "infusions"}, lumenWithoutUse},
	{Rule{"lumens-not-all-listed", "Fewer lumens listed than the line has", schema.Error, graph},
		[]string{"items"}, lumensNotAllListed},
	{Rule{"lumen-not-listed", "An infusion in a lumen its line does not list", schema.Error, graph},
		[]string{"items", "infusions"}, lumenNotListed},
	{Rule{"lumen-closed-in-use", "An infusion in a lumen said to be capped, blocked or not used", schema.Error, graph},
		[]string{"items", "infusions"}, lumenClosed},
}

// lumen is one row of a line's lumens.
type lumen struct {
	row, name, state, runs string
}

func lumensOf(it schema.Item) []lumen {
	list := it.Path("lumens")
	var out []lumen
	for _, row := range it.Note().Rows(list) {
		get := func(field string) string { return it.Note().Text(schema.RowPath(list, row, field)) }
		out = append(out, lumen{row, get("name"), get("state"), get("runs")})
	}
	return out
}

// runsIn tells whether an infusion names this lumen of this item.
func (l *look) runsIn(it schema.Item, lumen string) bool {
	for _, f := range l.infusions() {
		if f.item == it.ID && f.goes() && (fold(f.lumen) == fold(lumen) || lumen == "") {
			return true
		}
	}
	return false
}

func lumenWithoutUse(l *look) {
	for _, it := range l.Items() {
		for i, lu := range lumensOf(it) {
			// Capped, blocked, transduced, flushed and not used say enough; running
			// must say what.
			if lu.state != "" && lu.state != "running" || strings.TrimSpace(lu.runs) != "" || lu.name != "" && l.runsIn(it, lu.name) {
				continue
			}
			l.find(schema.RowPath(it.Path("lumens"), lu.row, "runs"), fmt.Sprintf("What runs is not recorded for lumen %s of %s.", lumenName(lu, i), name(it)),
				"Say what runs in it, or that it is capped.")
		}
		switch it.Kind {
		case "peripheral-cannula", "intraosseous-needle", "wound-catheter":
			if it.Text("runs") == "" && it.Stated("runs") != schema.StatedNone && !l.runsIn(it, "") {
				l.find(it.Path("runs"), fmt.Sprintf("What runs is not recorded for %s.", name(it)), "Say what runs in it, or that it is capped.")
			}
		}
	}
}

func lumenName(lu lumen, i int) string {
	if lu.name != "" {
		return quoted(lu.name)
	}
	return fmt.Sprint(i + 1)
}

func lumensNotAllListed(l *look) {
	for _, it := range l.Items() {
		count, ok := it.Number("lumenCount")
		if listed := len(lumensOf(it)); ok && float64(listed) != count {
			l.find(it.Path("lumenCount"), fmt.Sprintf("Number of lumens %s, but %s listed (%s).", it.Decimal("lumenCount"), plural(listed, "is", "are"), name(it)),
				"List every lumen with what runs in it, or correct the number.", it.Path("lumens"))
		}
	}
}

func lumenNotListed(l *look) {
	for _, f := range l.infusions() {
		it, ok := l.listed(f.item)
		if !ok || f.lumen == "" || len(lumensOf(it)) == 0 {
			continue
		}
		if _, known := lumenNamed(it, f.lumen); !known {
			l.find(schema.InfusionsRunningLumen.In(f.row), fmt.Sprintf("Lumen %s of %s is not a lumen that %s lists.", quoted(f.lumen), l.named(f), name(it)),
				"Choose one of its lumens, or add this one to the line.", l.at(it, "lumens"))
		}
	}
}

func lumenNamed(it schema.Item, word string) (lumen, bool) {
	for _, lu := range lumensOf(it) {
		if fold(lu.name) == fold(word) {
			return lu, true
		}
	}
	return lumen{}, false
}

func lumenClosed(l *look) {
	for _, f := range l.infusions() {
		it, ok := l.listed(f.item)
		if !ok || f.lumen == "" || f.state != "running" {
			continue
		}
		lu, known := lumenNamed(it, f.lumen)
		if known && (lu.state == "capped" || lu.state == "blocked" || lu.state == "not-used") {
			p := schema.RowPath(it.Path("lumens"), lu.row, "state")
			l.find(schema.InfusionsRunningLumen.In(f.row), fmt.Sprintf("Lumen %s of %s carries %s and is also said to be %s.", quoted(lu.name), name(it), l.named(f), lower(it.Note().FieldAt(p).Label(lu.state))),
				"Correct the lumen of the infusion, or the state of the lumen.", l.at(it, "lumens"))
		}
	}
}
