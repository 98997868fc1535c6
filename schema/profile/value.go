package profile

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
)

// DoseUnits are the units a dose may be set in, per kilogram of weight.
var DoseUnits = []string{"ug", "mg", "g", "mL", "J", "mmol", "[iU]"}

// Stages are the kinds of note a setting by stage may name.
var Stages = []string{"stage1", "stage2", "stage3"}

// value checks a value against its entry's shape.
func (c *checker) value(place string, e Entry, raw json.RawMessage) {
	switch e.Shape {
	case ShapeNumber:
		c.bounded(place, raw, e)
	case ShapeRange:
		c.low(place, raw, e)
	case ShapeChoice:
		var s string
		if json.Unmarshal(raw, &s) != nil || !slices.Contains(e.Choices, s) {
			c.add(place, show(raw)+" is not one of the choices.", "Choose "+strings.Join(e.Choices, ", ")+".")
		}
	case ShapeWords:
		var s string
		c.text(place, raw, &s, true)
	case ShapeList:
		list := c.list(place, raw)
		for i, raw := range list {
			var s string
			c.text(fmt.Sprintf("%s[%d]", place, i), raw, &s, true)
		}
	case ShapeWeights:
		m := c.object(place, raw)
		for _, k := range keys(m) {
			if v, ok := c.number(place+"."+k, m[k]); ok && v < 0 {
				c.add(place+"."+k, "A multiplier cannot be negative.", "Write 0 or more.")
			}
		}
		if m != nil && len(m) == 0 {
			c.add(place, "The list is empty.", "Name at least one drug.")
		}
	case ShapeSteps:
		last := 0.0
		list := c.list(place, raw)
		if list != nil && len(list) != 4 {
			c.add(place, "Four temperatures were expected.", "Write the highest of profound, deep, moderate and mild.")
		}
		for i, raw := range list {
			v, ok := c.number(fmt.Sprintf("%s[%d]", place, i), raw)
			if ok && i > 0 && v <= last {
				c.add(fmt.Sprintf("%s[%d]", place, i), "The figures do not rise.", "Put them in rising order.")
			}
			last = v
		}
	case ShapeTable:
		c.table(place, raw, e)
	case ShapeByStage:
		m := c.object(place, raw)
		for _, k := range keys(m) {
			if !slices.Contains(Stages, k) {
				c.add(place, fmt.Sprintf("%q is not a stage.", k), "Write stage1, stage2 or stage3.")
			}
			c.low(place+"."+k, m[k], e)
		}
	case ShapeDrain:
		c.drain(place, raw)
	case ShapeDose:
		c.dose(place, raw)
	default:
		c.add(strings.TrimSuffix(place, ".value")+".shape", fmt.Sprintf("%q is not a shape.", e.Shape), "See profile.schema.json for the shapes.")
	}
}

func keys(m map[string]json.RawMessage) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func (c *checker) list(place string, raw json.RawMessage) []json.RawMessage {
	var list []json.RawMessage
	if json.Unmarshal(raw, &list) != nil || list == nil {
		c.add(place, "A list in square brackets was expected.", "Write [\"first\", \"second\"].")
		return nil
	}
	if len(list) == 0 {
		c.add(place, "The list is empty.", "Write null and say in empty why.")
	}
	return list
}

func (c *checker) bounded(place string, raw json.RawMessage, e Entry) (float64, bool) {
	v, ok := c.number(place, raw)
	if ok && len(e.Between) == 2 && (v < e.Between[0] || v > e.Between[1]) {
		c.add(place, fmt.Sprintf("%v is outside %v to %v %s.", v, e.Between[0], e.Between[1], e.UCUM), "Check the figure and its unit.")
		return v, false
	}
	return v, ok
}

// low reads [low, high].
func (c *checker) low(place string, raw json.RawMessage, e Entry) {
	list := c.list(place, raw)
	if len(list) != 2 {
		if list != nil {
			c.add(place, "Two numbers were expected.", "Write [lowest, highest].")
		}
		return
	}
	lo, ok1 := c.bounded(place+"[0]", list[0], e)
	hi, ok2 := c.bounded(place+"[1]", list[1], e)
	if ok1 && ok2 && lo > hi {
		c.add(place, "The lowest is above the highest.", "Write [lowest, highest].")
	}
}

func (c *checker) table(place string, raw json.RawMessage, e Entry) {
	last := 0.0
	list := c.list(place, raw)
	for i, raw := range list {
		at := fmt.Sprintf("%s[%d]", place, i)
		m := c.object(at, raw)
		if m == nil {
			continue
		}
		c.members(at, m, "under", "value")
		c.bounded(at+".value", m["value"], e)
		under, has := m["under"]
		switch {
		case has:
			v, ok := c.number(at+".under", under)
			if ok && v <= last {
				c.add(at+".under", "The weights do not rise.", "Put the rows in rising order of weight, in kg.")
			}
			last = v
		case i < len(list)-1:
			c.add(at+".under", "Only the last row may leave the weight out.", "Write the weight in kg this row ends at.")
		}
	}
}

func (c *checker) drain(place string, raw json.RawMessage) {
	m := c.object(place, raw)
	if m == nil {
		return
	}
	c.members(place, m, "perKg", "hours", "times", "within")
	positive := func(name string, highest float64, needed bool) {
		if _, ok := m[name]; !ok && !needed {
			return
		}
		v, ok := c.number(place+"."+name, m[name])
		if ok && (v <= 0 || v > highest) {
			c.add(place+"."+name, fmt.Sprintf("%v is not above 0 and at most %v.", v, highest), "Check the figure.")
		}
		if ok && name == "times" && v != float64(int(v)) {
			c.add(place+".times", "The number of windows must be whole.", "Write 1, 2, 3 …")
		}
	}
	positive("perKg", 500, true)
	positive("hours", 72, true)
	positive("times", 72, true)
	positive("within", 720, false)
}

func (c *checker) dose(place string, raw json.RawMessage) {
	m := c.object(place, raw)
	if m == nil {
		return
	}
	c.members(place, m, "unit", "shown", "heading", "routes", "steps", "concentration")
	var unit, shown, heading string
	c.text(place+".unit", m["unit"], &unit, true)
	c.text(place+".shown", m["shown"], &shown, false)
	c.text(place+".heading", m["heading"], &heading, false)
	if unit != "" && !slices.Contains(DoseUnits, unit) {
		c.add(place+".unit", fmt.Sprintf("%q is not a unit a dose is set in.", unit), "Write one of "+strings.Join(DoseUnits, ", ")+": per kilogram is understood.")
	}
	mass := []string{"ug", "mg", "g"}
	if shown != "" && shown != unit && !(slices.Contains(mass, unit) && slices.Contains(mass, shown)) {
		c.add(place+".shown", fmt.Sprintf("An amount in %s cannot be shown in %s.", unit, shown), "Show it in a unit of the same kind.")
	}
	for i, raw := range c.list(place+".routes", m["routes"]) {
		var s string
		c.text(fmt.Sprintf("%s.routes[%d]", place, i), raw, &s, true)
	}
	for i, raw := range c.list(place+".steps", m["steps"]) {
		c.step(fmt.Sprintf("%s.steps[%d]", place, i), raw)
	}
	if raw, ok := m["concentration"]; ok && string(raw) != "null" {
		at := place + ".concentration"
		if m := c.object(at, raw); m != nil {
			c.members(at, m, "amount", "named")
			v, ok := c.number(at+".amount", m["amount"])
			if ok && v <= 0 {
				c.add(at+".amount", "A concentration must be above 0.", fmt.Sprintf("Write it in %s per mL.", unit))
			}
			var named string
			c.text(at+".named", m["named"], &named, true)
			if said, found := namedAmount(named, unit); ok && v > 0 && slices.Contains(DoseUnits, unit) && found && math.Abs(said-v) > 1e-9*v {
				c.add(at, fmt.Sprintf("It is named %q, which is %v %s in each mL, and the amount is %v.", named, said, unit, v), "Correct the one that is wrong.")
			}
		}
		if unit == "mL" || unit == "J" {
			c.add(at, "A volume or an energy has no concentration.", "Delete it.")
		}
	}
}

// namedAmount is the amount for each mL that the name of a concentration holds,
// "1 in 10 000 (100 mcg/mL)", in the dose's unit; found is false if it holds none.
func namedAmount(named, unit string) (v float64, found bool) {
	words := strings.FieldsFunc(strings.ToLower(named), func(r rune) bool { return strings.ContainsRune(" \u00a0()[],;=", r) })
	for i, w := range words {
		w, ok := strings.CutSuffix(w, "/ml")
		if !ok {
			continue
		}
		digits := strings.TrimRight(w, "abcdefghijklmnopqrstuvwxyzµμ")
		of := w[len(digits):]
		if digits == "" && i > 0 {
			digits = words[i-1]
		}
		v, err := strconv.ParseFloat(digits, 64)
		mg := map[string]float64{"ug": 0.001, "mcg": 0.001, "µg": 0.001, "μg": 0.001, "microgram": 0.001, "micrograms": 0.001, "mg": 1, "g": 1000}
		switch a, b := mg[of], mg[unit]; {
		case err != nil:
		case a > 0 && b > 0:
			return v * a / b, true
		case strings.Trim(of, "s") == "unit" && unit == "[iU]" || of == unit:
			return v, true
		}
	}
	return 0, false
}

func (c *checker) step(at string, raw json.RawMessage) {
	m := c.object(at, raw)
	if m == nil {
		return
	}
	c.members(at, m, "label", "perKg", "to", "max", "min")
	var label string
	c.text(at+".label", m["label"], &label, false)
	values := map[string]float64{}
	for _, name := range []string{"perKg", "to", "max", "min"} {
		if _, ok := m[name]; !ok && name != "perKg" {
			continue
		}
		v, ok := c.number(at+"."+name, m[name])
		if ok && v <= 0 {
			c.add(at+"."+name, "It must be above 0.", "Check the figure.")
			ok = false
		}
		if ok {
			values[name] = v
		}
	}
	if to, ok := values["to"]; ok && to <= values["perKg"] {
		c.add(at+".to", "The upper end is not above the lower.", "Write perKg as the lower and to as the upper end.")
	}
	if hi, ok := values["max"]; ok && hi < values["min"] {
		c.add(at+".max", "The maximum is under the minimum.", "Check both.")
	}
}
