package dictation

import "strings"

// noSides are kinds of item of which "both" only means two.
var noSides = map[string]bool{"left-on-purpose": true, "inner-probe": true, "pacing-wires": true, "drain": false}

// shareBackward gives what is said of "both", "each" or "all" to the things
// listed before it too: "mediastinal and right pleural, both 12 French".
func (g *segment) shareBackward(ts []thing, n int, lists []int, attrs []claim) {
	ts[n].groups = lists
	if len(lists) == 0 {
		return
	}
	lastShared := -1
	zone := g.sharedFrom(ts, n, attrs)
	for _, c := range attrs {
		shared := zone >= 0 && min(c.from, c.why) >= zone || lastShared >= 0 && c.why-lastShared <= 2 && c.why >= lastShared && !g.crosses(lastShared, c.why)
		for k := max(ts[n].to, c.why-3); k < c.why; k++ {
			if g.is(k, "both", "all", "each", "every") {
				shared = true
			}
		}
		if k := c.why - 1; !c.field.Numeric() || c.field.Name == "suction" {
			for k > 0 && g.is(k, "to", "on", "at", "-", "suction", "all", "both", "each") {
				k--
			}
			if g.is(k, "stay", "remain", "go") && !strings.HasSuffix(g.words(k, k+1), "s") && n > 0 && ts[n-1].of == ts[n].of && g.joined(ts[n-1].to, ts[n].from) {
				shared = true // "med 15F and R pl 12F stay on ten"
			}
			if g.is(k, ",", ".") && g.listHeaded(ts, n) {
				shared = true // "Drains: right 20, left 20, mediastinal 20, on suction ten"
			}
		}
		if ts[n].of.Name == "pacing-wires" && (c.field.Name == "tested" || c.field.Name == "connection") && n > 0 && ts[n-1].of == ts[n].of && c.from >= ts[n].to && g.joined(ts[n-1].to, ts[n].from) {
			shared = true // "Pacing wires: 1 atrial, 2 ventricular, tested"
		}
		if c.field.Name == "size" && c.from > ts[n].to && g.listHead(ts, n) && strings.HasSuffix(g.words(c.to-1, c.to), "s") && !strings.HasSuffix(g.words(c.to-1, c.to), "ss") && g.signs[max(0, g.at[c.from])].num != nil && g.at[c.to-1] >= 0 && g.signs[g.at[c.to-1]].num != nil {
			shared = true // "Drains mediastinal, right pleural, fifteens"
		}
		if g.is(c.to, "each", "apiece", "both") || g.is(c.whyTo, "each") {
			shared = true
		}
		if ts[n].plural && n > 0 && !c.field.Numeric() && g.joined(ts[n-1].to, ts[n].from) && c.from-ts[n].to <= 2 && c.from >= ts[n].to {
			shared = true // "two atrial and two ventricular wires, tested"
		}
		if (ts[n].head >= 0 || ts[n].full) && ts[n].plural && n > 0 && ts[n-1].head < 0 && !ts[n-1].full && g.joined(ts[n-1].to, ts[n].from) && c.from >= ts[n].to && c.from-ts[n].to <= 2 {
			shared = true // "mediastinal and right pleural drains 12 French"
		}
		if !shared {
			continue
		}
		lastShared = max(c.to, c.whyTo)
		for m := n - 1; m >= 0 && ts[m].of == ts[n].of; m-- {
			for _, gi := range ts[m].groups {
				if !g.claimed(gi, c.field) && !g.groups[gi].denied {
					d := c
					d.group = gi
					g.claims = append(g.claims, d)
				}
			}
		}
	}
}
