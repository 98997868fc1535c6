package calc

import (
	"fmt"
	"slices"
	"strings"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// Origin is who entered a value and when, in words for people.
type Origin struct{ By, At string }

// About is what a note does not say about itself. All of it may be left out:
// origins are then not named and no value is doubted for being disputed.
type About struct {
	Origin   func(schema.Path) Origin
	Disputed func(schema.Path) bool // more than one value stands at this place
}

// calculation is one line of the catalogue: what it reads, what it builds on and
// how. A path of a list covers its rows.
type calculation struct {
	id       ID
	group    string
	title    string
	reads    []schema.Path
	uses     []ID
	settings []profile.ID
	run      func(l *look)
}

// Engine computes every value of a note and, after a change, only what depends
// on it. It keeps results between calls and is not safe for concurrent use.
type Engine struct {
	prof  *profile.Profile
	about About
	kept  map[ID][]Result
	ran   int
}

// New is an engine with a unit's profile.
func New(p *profile.Profile, about About) *Engine {
	return &Engine{prof: p, about: about, kept: map[ID][]Result{}}
}

// Compute computes everything, in the order of the catalogue.
func (e *Engine) Compute(n *schema.Note) []Result {
	clear(e.kept)
	e.ran = 0
	for i := range catalogue {
		e.one(n, &catalogue[i])
	}
	return e.all()
}

// Update computes again only what depends on the changed places, and gives all
// results. Before the first Compute everything is computed.
func (e *Engine) Update(n *schema.Note, changed ...schema.Path) []Result {
	if len(e.kept) == 0 {
		return e.Compute(n)
	}
	e.ran = 0
	again := map[ID]bool{}
	for i := range catalogue {
		c := &catalogue[i]
		if slices.ContainsFunc(c.uses, func(id ID) bool { return again[id] }) || c.concerns(changed) {
			again[c.id] = true
			e.one(n, c)
		}
	}
	return e.all()
}

// Ran is how many calculations the last call did, out of how many there are.
func (e *Engine) Ran() (ran, of int) { return e.ran, len(catalogue) }

// Compute computes every value of a note once.
func Compute(n *schema.Note, p *profile.Profile, about About) []Result {
	return New(p, about).Compute(n)
}

// Some computes the values of those names, and what they build on, and no others.
func Some(n *schema.Note, p *profile.Profile, about About, ids ...ID) []Result {
	e := New(p, about)
	for i := len(catalogue) - 1; i >= 0; i-- { // those others build on stand first
		if c := &catalogue[i]; slices.Contains(ids, c.id) {
			ids = append(ids, c.uses...)
		}
	}
	for i := range catalogue {
		if c := &catalogue[i]; slices.Contains(ids, c.id) {
			e.one(n, c)
		}
	}
	return e.all()
}

// Find is the first result of that name.
func Find(rs []Result, id ID) (Result, bool) {
	i := slices.IndexFunc(rs, func(r Result) bool { return r.ID == id })
	if i < 0 {
		return Result{}, false
	}
	return rs[i], true
}

func (e *Engine) all() []Result {
	out := make([]Result, 0, 2*len(catalogue))
	for i := range catalogue {
		out = append(out, e.kept[catalogue[i].id]...)
	}
	return out
}

func (e *Engine) one(n *schema.Note, c *calculation) {
	e.ran++
	l := &look{e: e, n: n, c: c}
	l.begin("")
	c.run(l)
	l.end()
	e.kept[c.id] = l.out
}

// concerns tells whether any changed place is one this calculation reads.
func (c *calculation) concerns(changed []schema.Path) bool { return Concerns(c.reads, changed) }

// Concerns tells whether any changed place is one of those read, lies in one, or
// holds one.
func Concerns(reads, changed []schema.Path) bool {
	for _, p := range changed {
		for _, r := range reads {
			if within(p, r) || within(r, p) {
				return true
			}
		}
	}
	return false
}

// within tells whether p is place or lies under it.
func within(p, place schema.Path) bool {
	return p == place || strings.HasPrefix(string(p), string(place)+".")
}

// Doubt says why a number that stands in a note may not be used: people differ about
// it, it is only a limit, or it is not plausible; "" if it may.
func Doubt(n *schema.Note, p schema.Path, disputed bool) string {
	v, ok := n.Number(p)
	f := n.FieldAt(p)
	switch {
	case disputed:
		return "different values were entered"
	case !ok:
	case n.Bound(p) != "":
		return "only a limit"
	case f != nil && (f.Min != nil && v < *f.Min || f.Max != nil && v > *f.Max):
		return Shown(v, 3, f.Unit) + " is not plausible"
	}
	return ""
}

// look reads a note for one calculation and gathers what goes beside the result.
// Reading a place the calculation has not declared panics: the value would not
// be computed again when that place changes.
type look struct {
	e   *Engine
	n   *schema.Note
	c   *calculation
	res *Result
	out []Result
}

// begin starts a result; row names the row it belongs to when there are several.
func (l *look) begin(title string) {
	l.end()
	if title == "" {
		title = l.c.title
	}
	l.res = &Result{ID: l.c.id, Group: l.c.group, Title: title}
}

// end keeps the result begun, unless nothing became of it: neither a value nor a
// wish nor word that it does not apply.
func (l *look) end() {
	if r := l.res; r != nil && (r.OK || r.Off || len(r.Wanted) > 0) {
		if !r.OK || len(r.Wanted) > 0 {
			r.OK, r.Shown, r.Value, r.Flags = false, "", 0, nil
		}
		l.out = append(l.out, *r)
	}
	l.res = nil
}

// drop forgets the result begun.
func (l *look) drop() { l.res = nil }

func (l *look) declared(p schema.Path) {
	for _, r := range l.c.reads {
		if within(p, r) {
			return
		}
	}
	panic("calc: " + string(l.c.id) + " reads " + string(p) + " without declaring it")
}

// want records an input that keeps the result from having a value.
func (l *look) want(p schema.Path, name, why, do string) {
	l.res.Wanted = append(l.res.Wanted, Wanted{Name: name, Path: p, Why: why, Do: do})
}

// number reads a number of the note. What is missing, a limit only, disputed or
// outside the plausible range is wanted, not used.
func (l *look) number(p schema.Path, name string) (v float64, ok bool) {
	l.declared(p)
	f := l.n.FieldAt(p)
	if f != nil && len(f.By) > 0 { // the ranges that hold for this drug, line or kind
		if at := l.n.VariantAt(f, p.Row()); p.Item() == "" {
			f = at
		}
	}
	unit := ""
	if f != nil {
		unit = f.Unit
	}
	v, ok = l.n.Number(p)
	switch {
	case l.disputed(p):
		l.want(p, name, "different values were entered", "Settle which holds.")
		ok = false
	case !ok:
		l.want(p, name, l.missing(f, p), "Record it.")
	case l.n.Bound(p) != "":
		l.want(p, name, "only a limit: "+l.n.Bound(p)+" "+Shown(v, 6, unit), "Record the measured value.")
		ok = false
	case f != nil && (f.Min != nil && v < *f.Min || f.Max != nil && v > *f.Max):
		l.want(p, name, Shown(v, 6, unit)+" is not plausible", "Check the number and its unit.")
		ok = false
	case f != nil && f.PerKg != nil:
		ok = l.plausibleByWeight(p, name, v, f)
	}
	if ok {
		l.input(p, name, Shown(v, 6, unit))
	}
	return v, ok
}

// plausibleByWeight holds a number against what is possible for each kilogram, where
// there is a weight; without one the calculation wants that.
func (l *look) plausibleByWeight(p schema.Path, name string, v float64, f *schema.Field) bool {
	l.declared(schema.MeasuresWeight)
	kg, ok := l.n.Number(schema.MeasuresWeight)
	if !ok || kg <= 0 || f.PerKg.Plausible.Holds(v/kg) {
		return true
	}
	l.want(p, name, Shown(v, 6, f.Unit)+" is "+Shown(v/kg, 1, f.Unit+"/kg")+", which is not plausible", "Check the number, its unit and the weight.")
	return false
}

func (l *look) disputed(p schema.Path) bool {
	return l.e.about.Disputed != nil && l.e.about.Disputed(p)
}

// missing words what stands at a place without a value.
func (l *look) missing(f *schema.Field, p schema.Path) string {
	if l.disputed(p) {
		return "different values were entered"
	}
	if s := l.n.Stated(p); s != "" {
		return strings.ToLower(schema.ShowStated(f, s))
	}
	if v, ok := l.n.Value(p); ok && f != nil && f.Numeric() {
		return quote(fmt.Sprint(v)) + " is not a number"
	}
	return schema.NotRecorded
}

func (l *look) input(p schema.Path, name, shown string) {
	in := Input{Name: name, Shown: shown, Path: p}
	if l.e.about.Origin != nil && p != "" {
		o := l.e.about.Origin(p)
		in.By, in.At = o.By, o.At
	}
	l.res.Inputs = append(l.res.Inputs, in)
}

// word reads a chosen word, quietly.
func (l *look) word(p schema.Path) string {
	l.declared(p)
	return l.n.Text(p)
}

// has tells whether a number stands at p, or several that differ, quietly.
func (l *look) has(p schema.Path) bool {
	l.declared(p)
	_, ok := l.n.Number(p)
	return ok || l.disputed(p)
}

func (l *look) moment(p schema.Path) (schema.Moment, bool) {
	l.declared(p)
	return l.n.Moment(p)
}

func (l *look) rows(list schema.Path) []string {
	l.declared(list)
	return l.n.Rows(list)
}

func (l *look) stated(p schema.Path) string {
	l.declared(p)
	return l.n.Stated(p)
}

// kg, cm and the like read a number as a quantity.
func (l *look) kg(p schema.Path, name string) (Mass, bool) {
	v, ok := l.number(p, name)
	return Of(v, Kilogram), ok
}

func (l *look) weight() (Mass, bool) { return l.kg(schema.MeasuresWeight, "operation weight") }

func (l *look) pressure(p schema.Path, name string) (Pressure, bool) {
	v, ok := l.number(p, name)
	return Of(v, MmHg), ok
}

func (l *look) percent(p schema.Path, name string) (Ratio, bool) {
	v, ok := l.number(p, name)
	return Of(v, Percent), ok
}

// setting reads a figure of the unit profile. One that is empty or not activated
// is wanted.
func (l *look) setting(id profile.ID, places int) (v float64, ok bool) {
	v, e, ok := l.e.prof.Number(id)
	l.fromProfile(id, e, ok, Shown(v, places, e.UCUM))
	return v, ok
}

func (l *look) fromProfile(id profile.ID, e profile.Entry, ok bool, shown string) {
	if !slices.Contains(l.c.settings, id) {
		panic("calc: " + string(l.c.id) + " reads the setting " + string(id) + " without declaring it")
	}
	if !ok {
		why := e.Standing()
		if e.ID == "" {
			why = "not in the unit profile"
		}
		l.res.Wanted = append(l.res.Wanted, Wanted{Name: lower(orWords(e.Title, string(id))), Setting: id, Why: why, Do: "The unit sets it in its profile."})
		return
	}
	l.res.Inputs = append(l.res.Inputs, Input{Name: lower(e.Title), Shown: shown, Setting: id, By: "unit profile"})
}

// uses takes an earlier result as an input; what it wants is wanted here too.
func (l *look) uses(id ID) (float64, bool) {
	if !slices.Contains(l.c.uses, id) {
		panic("calc: " + string(l.c.id) + " builds on " + string(id) + " without declaring it")
	}
	rs := l.e.kept[id]
	if len(rs) == 0 {
		return 0, false
	}
	r := rs[0]
	for _, w := range r.Wanted {
		if !slices.ContainsFunc(l.res.Wanted, func(o Wanted) bool { return o.Path == w.Path && o.Setting == w.Setting && o.Name == w.Name }) {
			l.res.Wanted = append(l.res.Wanted, w)
		}
	}
	if !r.OK {
		return 0, false
	}
	shown := r.Shown
	if r.Formula.Name != "" {
		shown += " (" + r.Formula.Name + ")"
	}
	l.res.Inputs = append(l.res.Inputs, Input{Name: lower(r.Title), Shown: shown})
	for _, c := range r.Caveats {
		l.caveat(c)
	}
	return r.Value, true
}

// refused turns a formula's refusal into what is wanted.
func (l *look) refused(r *Refusal) bool {
	if r != nil {
		l.want("", r.Input, strings.TrimSuffix(lower(r.What), "."), r.Do)
	}
	return r != nil
}

func (l *look) caveat(words string) {
	if words != "" && !slices.Contains(l.res.Caveats, words) {
		l.res.Caveats = append(l.res.Caveats, words)
	}
}

func (l *look) formula(name, text, source string) { l.res.Formula = Formula{name, text, source} }

// value gives the result; places is how many decimals are shown.
func (l *look) value(v float64, ucum string, places int) {
	l.res.Value, l.res.Unit, l.res.Shown, l.res.OK = v, ucum, Shown(v, places, ucum), true
}

// words gives a result that is a word.
func (l *look) words(s string) { l.res.Shown, l.res.OK = s, true }

func (l *look) off() { l.res.Off = true }

// flag raises something by a setting that is in force.
func (l *look) flag(id profile.ID, what, caution string) {
	e, _ := l.e.prof.Entry(id)
	l.res.Flags = append(l.res.Flags, Flag{Setting: id, What: what, Caution: caution, Source: e.Basis()})
}

// above raises a flag when v is beyond a setting that is in force, quietly
// otherwise. over says by which comparison.
func (l *look) above(id profile.ID, v float64, what, caution string, over func(int) bool) {
	if !slices.Contains(l.c.settings, id) {
		panic("calc: " + string(l.c.id) + " reads the setting " + string(id) + " without declaring it")
	}
	if limit, e, ok := l.e.prof.Number(id); ok && over(compare(v, limit)) {
		l.flag(id, strings.ReplaceAll(what, "{limit}", Shown(limit, 3, e.UCUM)), caution)
	}
}

func more(c int) bool    { return c > 0 }
func atLeast(c int) bool { return c >= 0 }
func under(c int) bool   { return c < 0 }

func lower(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && (s[1] < 'A' || s[1] > 'Z') {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

// catalogue is every calculation, those others build on first.
var catalogue []calculation

// init joins the parts of the catalogue, which stand beside their subjects.
func init() {
	catalogue = slices.Concat(childCatalogue, supportCatalogue, bloodCatalogue, circulationCatalogue, lossCatalogue)
}

// Catalogue lists the calculations: id, group, title and the places each reads.
func Catalogue() []struct {
	ID           ID
	Group, Title string
	Reads        []schema.Path
} {
	var out []struct {
		ID           ID
		Group, Title string
		Reads        []schema.Path
	}
	for _, c := range catalogue {
		out = append(out, struct {
			ID           ID
			Group, Title string
			Reads        []schema.Path
		}{c.id, c.group, c.title, c.reads})
	}
	return out
}
