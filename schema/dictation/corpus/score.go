package corpus

import (
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"
	"sync"

	"fairlead/schema"
	"fairlead/schema/dictation"
)

// Count is what a comparison came to.
type Count struct {
	Right    int // proposals that are right
	Proposed int // proposals, optional ones apart
	Met      int // facts met
	Wanted   int
	False    int // false claims
}

func (c *Count) add(d Count) {
	c.Right += d.Right
	c.Proposed += d.Proposed
	c.Met += d.Met
	c.Wanted += d.Wanted
	c.False += d.False
}

// Precision is right proposals in a hundred thousandth of proposals; 1 of none.
func (c Count) Precision() float64 { return share(c.Right, c.Proposed) }

// Recall is facts met of facts wanted.
func (c Count) Recall() float64 { return share(c.Met, c.Wanted) }

func share(a, b int) float64 {
	if b == 0 {
		return 1
	}
	return float64(a) / float64(b)
}

// Result is one dictation's comparison.
type Result struct {
	Count
	Fields map[string]*Count
	Misses []string // facts not met, wrong proposals, false claims, in words
}

// taken is what the reader proposes, in the terms of the corpus.
type taken struct {
	Fact
	conflict bool
}

// takenFrom turns a reading into facts.
func takenFrom(r *dictation.Reading) []taken {
	var out []taken
	groups := map[string]int{}
	for _, g := range r.Groups {
		groups[g.ID] = len(out)
		f := Fact{Path: g.List, Kind: g.Kind, Denied: g.Denied, Attrs: map[string]string{}}
		out = append(out, taken{Fact: f, conflict: false})
	}
	for _, p := range r.Proposals {
		if p.Group != "" {
			t := &out[groups[p.Group]]
			v := p.Value
			if p.Stated != "" {
				v = p.Stated
			}
			if p.Sure == dictation.Conflict {
				t.conflict = true
				v = strings.Join(p.Other, "|")
			}
			t.Attrs[p.Path.Last()] = v
			continue
		}
		f := Fact{Path: p.Path, Op: "=", Value: p.Value, Unit: p.Unit}
		if p.Bound != "" {
			f.Op = p.Bound
		}
		if p.Stated != "" {
			f.Value = p.Stated
		}
		if p.Sure == dictation.Conflict {
			f.Conflict, f.Values = true, p.Other
		}
		out = append(out, taken{Fact: f})
	}
	return out
}

// Score reads a dictation and compares.
func Score(d *Dictation) Result {
	return compare(d, takenFrom(dictation.Read(d.Kind, d.Text)))
}

// denialsWhole is what was taken, with the denials of each variety of a kind ("atrial",
// "ventricular") as the one denial of the kind that d wants: who denies each of them
// denies the kind. A variety that d itself wants stays apart.
func denialsWhole(d *Dictation, got []taken) []taken {
	for _, whole := range d.Wants {
		if !whole.Denied || whole.Kind == "" || len(whole.Attrs) > 0 {
			continue
		}
		named := func(g taken) bool {
			return slices.ContainsFunc(d.Wants, func(w Fact) bool { return w.Denied && !w.Optional && len(w.Attrs) > 0 && same(w, g) })
		}
		part := func(g taken) bool {
			return g.Denied && g.Kind == whole.Kind && len(g.Attrs) == 1 && g.Attrs["variety"] != "" && !g.conflict && !named(g)
		}
		varieties := map[string]bool{}
		for _, g := range got {
			if part(g) {
				varieties[g.Attrs["variety"]] = true
			}
		}
		if !varieties["atrial"] || !varieties["ventricular"] {
			continue
		}
		got = append(slices.DeleteFunc(slices.Clone(got), part), taken{Fact: Fact{Path: whole.Path, Kind: whole.Kind, Denied: true, Attrs: map[string]string{}}})
	}
	return got
}

func compare(d *Dictation, got []taken) Result {
	got = denialsWhole(d, got)
	res := Result{Fields: map[string]*Count{}}
	field := func(name string) *Count {
		c := res.Fields[name]
		if c == nil {
			c = &Count{}
			res.Fields[name] = c
		}
		return c
	}
	met := make([]int, len(d.Wants)) // 0: not met
	used := make([]bool, len(got))
	// Exact matches first; then the nearest for words about what is wrong.
	for i, w := range d.Wants {
		for j, g := range got {
			if !used[j] && same(w, g) {
				met[i], used[j] = 1, true
				break
			}
		}
	}
	for i, w := range d.Wants {
		if w.Optional {
			continue
		}
		name := w.name()
		res.Wanted++
		field(name).Wanted++
		if met[i] == 1 {
			res.Met++
			field(name).Met++
		} else {
			res.Misses = append(res.Misses, "missed: "+w.String())
		}
	}
	for j, g := range got {
		name := g.name()
		matched := -1
		for i := range d.Wants {
			if met[i] == 1 && same(d.Wants[i], g) && used[j] {
				matched = i
				break
			}
		}
		for _, n := range d.Nots {
			if forbids(n, g) {
				res.False++
				field(name).False++
				res.Misses = append(res.Misses, "FALSE: "+g.String()+" (not "+n.String()+")")
				break
			}
		}
		if matched >= 0 {
			if d.Wants[matched].Optional {
				continue
			}
			res.Right++
			res.Proposed++
			field(name).Right++
			field(name).Proposed++
			continue
		}
		if implied(d, g) {
			continue
		}
		res.Proposed++
		field(name).Proposed++
		res.Misses = append(res.Misses, "wrong:  "+g.String())
	}
	return res
}

// name is what a fact is counted under.
func (f Fact) name() string {
	if f.Kind != "" {
		return "items." + f.Kind
	}
	return string(f.Path)
}

// unscored are attributes that the README leaves out of the count.
func unscored(f Fact, name string) bool {
	switch name {
	case "site", "exit", "tip", "placedWhere":
		return true
	case "side":
		return f.Kind == "drain" || f.Kind == "pacing-wires"
	case "method":
		return f.Path == schema.PressuresReadings
	case "item":
		return f.Path == schema.PressuresReadings
	}
	var p schema.Path
	if f.Kind != "" {
		p = schema.ItemPath(f.Kind, name)
	} else {
		p = schema.RowPath(f.Path, "*", name)
	}
	d := schema.FieldAt(p)
	return d == nil || textual(d)
}

// soft are attributes that count only when both sides give them.
func soft(f Fact, name string) bool {
	switch f.Kind {
	case "drain":
		return name == "drainage"
	case "central-venous-line":
		return name == "lumenCount"
	case "airway":
		return name == "depthAt"
	}
	return false
}

// same tells whether a proposal meets a fact.
func same(w Fact, g taken) bool {
	if w.Path != g.Path || w.Kind != g.Kind || w.Denied != g.Denied || w.IsGroup() != g.IsGroup() {
		return false
	}
	if !w.IsGroup() {
		if w.Conflict != g.Conflict {
			return false
		}
		if w.Conflict {
			a, b := slices.Clone(w.Values), slices.Clone(g.Values)
			for i := range a {
				a[i] = plain(a[i])
			}
			sort.Strings(a)
			sort.Strings(b)
			return slices.Equal(a, b)
		}
		return w.Op == g.Op && equalValue(schema.FieldAt(w.Path), w.Value, w.Unit, g.Value)
	}
	if g.conflict {
		return false
	}
	check := func(a, b map[string]string) bool {
		for k, v := range a {
			if unscored(w, k) {
				continue
			}
			u, ok := b[k]
			if !ok && soft(w, k) {
				continue
			}
			if !ok || !equalAttr(k, v, u) {
				return false
			}
		}
		return true
	}
	return check(w.Attrs, g.Attrs) && check(g.Attrs, w.Attrs)
}

// equalAttr compares two values of an attribute: numbers as numbers, references
// with or without the side.
func equalAttr(name, a, b string) bool {
	if name == "item" {
		return a == b || strings.HasPrefix(a, b+"/") || strings.HasPrefix(b, a+"/")
	}
	return plain(a) == plain(b)
}

func plain(v string) string {
	if isNumber(v) && strings.Contains(v, ".") {
		return strings.TrimSuffix(strings.TrimRight(v, "0"), ".")
	}
	return v
}

// equalValue compares a wanted value, which may be in another unit, with a
// proposed one in the field's.
func equalValue(f *schema.Field, want, unit, got string) bool {
	if plain(want) == plain(got) {
		return true
	}
	if f != nil && unit != "" && f.Numeric() {
		if v, ok := dictation.Convert(want, unit, f.Unit); ok && plain(v) == plain(got) {
			return true
		}
	}
	return false
}

// forbids tells whether a proposal is what must not be claimed.
func forbids(n Fact, g taken) bool {
	if n.Path != g.Path || n.Kind != g.Kind || g.Denied != n.Denied {
		return false
	}
	if n.IsGroup() {
		if !g.IsGroup() {
			return false
		}
		for k, v := range n.Attrs {
			if u, ok := g.Attrs[k]; !ok || !equalAttr(k, v, u) {
				return false
			}
		}
		return true
	}
	if n.Op == "" {
		return g.IsGroup() || g.Conflict || !slices.Contains(schema.StatedAnswers(), g.Value)
	}
	if g.IsGroup() {
		return false
	}
	if g.Conflict {
		return false
	}
	return equalValue(schema.FieldAt(n.Path), n.Value, n.Unit, g.Value)
}

// implied tells whether a proposal is one that the README leaves optional.
func implied(d *Dictation, g taken) bool {
	wanted := func(p schema.Path) bool {
		return slices.ContainsFunc(d.Wants, func(w Fact) bool { return w.Path == p && w.Kind == "" })
	}
	item := func(kind, variety string) bool {
		return slices.ContainsFunc(d.Wants, func(w Fact) bool { return w.Kind == kind && (variety == "" || w.Attrs["variety"] == variety) })
	}
	switch g.Path {
	case schema.WorkProcedures:
		return true
	case schema.SupportMode, schema.SupportHeart, schema.VentilationBreathing, schema.VentilationMode, schema.LeavingSupport,
		schema.LeavingPacing, schema.LeavingPacingRoute, schema.Stage1Form, schema.SupplySide, schema.SupplyRings,
		schema.ApproachIncision, schema.ClosingCovering, schema.GasKind, schema.ClottingBleedingNow:
		return !wanted(g.Path)
	case schema.CountsPacksOut:
		return wanted(schema.RemovalsPacksRetrieved)
	case schema.BetweenReason: // it repeats the kind of the note
		return g.Value == "planned-closure" && d.Kind == schema.Closure && !slices.ContainsFunc(d.Wants, func(w Fact) bool { return w.Path == g.Path && w.Value == g.Value })
	case schema.SupplyKind:
		return !wanted(g.Path) && wanted(schema.HybridBands)
	case schema.CountsPacksLeft:
		return !wanted(g.Path) && item("left-on-purpose", "packs")
	case schema.LeavingRhythm:
		return !wanted(g.Path) && wanted(schema.LeavingPacing)
	case schema.SupportPerfusionTotal:
		return !wanted(g.Path) && wanted(schema.SupportPerfusions)
	}
	return false
}

// Part is one line of the scores.
type Part struct {
	Name string
	Count
	Fields map[string]*Count
	Misses []string
}

// ScoreAll scores a list of dictations under a name.
func ScoreAll(name string, ds []*Dictation) Part {
	p := Part{Name: name, Fields: map[string]*Count{}}
	for _, d := range ds {
		r := Score(d)
		p.add(r.Count)
		for k, c := range r.Fields {
			if p.Fields[k] == nil {
				p.Fields[k] = &Count{}
			}
			p.Fields[k].add(*c)
		}
		for _, m := range r.Misses {
			p.Misses = append(p.Misses, d.Name+": "+m)
		}
	}
	return p
}

// Line is "part precision recall false-claims".
func (p Part) Line() string {
	return fmt.Sprintf("%s %.4f %.4f %d", p.Name, p.Precision(), p.Recall(), p.False)
}

// PartNames are the two parts of the corpus.
var PartNames = []string{"tuned", "untuned"}

// Scores reads the named parts of the corpus and scores them, each as it stands
// and in every degradation, on all processors.
func Scores(dir string, names ...string) ([]Part, error) {
	var scored [][]Part
	var group sync.WaitGroup
	for _, name := range names {
		ds, err := Load(dir + "/" + name)
		if err != nil {
			return nil, err
		}
		if len(ds) == 0 {
			continue
		}
		part := make([]Part, 1+len(Degradations))
		scored = append(scored, part)
		group.Go(func() { part[0] = ScoreAll(name, ds) })
		for i, w := range Degradations {
			group.Go(func() { part[i+1] = ScoreAll(name+"/"+w.Name, w.All(ds)) })
		}
	}
	group.Wait()
	return slices.Concat(scored...), nil
}

const (
	scoresHead = "part precision recall false-claims"
	fieldsHead = "part\tfield\tprecision\trecall\tproposed\twanted\tfalse-claims"
)

// LinesOf are the lines of a file of scores that tell of a part.
func LinesOf(file, part string) string {
	var b strings.Builder
	for _, l := range strings.SplitAfter(file, "\n") {
		if strings.HasPrefix(l, part+" ") || strings.HasPrefix(l, part+"/") || strings.HasPrefix(l, part+"\t") {
			b.WriteString(l)
		}
	}
	return b.String()
}

// Renewed is a file of scores with the lines of a part put in place of the old
// ones; the lines of other parts stay.
func Renewed(old, fresh string, part string) string {
	head, _, _ := strings.Cut(fresh, "\n")
	out := head + "\n"
	for _, name := range PartNames {
		if name == part {
			out += LinesOf(fresh, name)
		} else {
			out += LinesOf(old, name)
		}
	}
	return out
}

// WriteScores writes the lines of scores.tsv.
func WriteScores(w io.Writer, parts []Part) {
	fmt.Fprintln(w, scoresHead)
	for _, p := range parts {
		fmt.Fprintln(w, p.Line())
	}
}

// WriteFieldScores writes fields.tsv: precision and recall by field.
func WriteFieldScores(w io.Writer, parts []Part) {
	fmt.Fprintln(w, fieldsHead)
	for _, p := range parts {
		if strings.Contains(p.Name, "/") {
			continue
		}
		names := make([]string, 0, len(p.Fields))
		for n := range p.Fields {
			names = append(names, n)
		}
		sort.Strings(names)
		for _, n := range names {
			c := p.Fields[n]
			fmt.Fprintf(w, "%s\t%s\t%.4f\t%.4f\t%d\t%d\t%d\n", p.Name, n, c.Precision(), c.Recall(), c.Proposed, c.Wanted, c.False)
		}
	}
}
