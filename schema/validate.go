package schema

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/xeipuuv/gojsonschema"
)

// Validation of structure. Each section, and each item, is checked on its own
// against its compiled schema, and the verdict is kept by content: on a keystroke
// only the section that changed is checked anew.

// Validate checks the whole note: its structure, and the answers that are not
// values. It reads nothing but the note.
func Validate(n *Note) []Problem {
	ps := Structure(n)
	for section := range n.tree {
		ps = append(ps, plainProblems(n, section)...)
	}
	SortProblems(ps)
	return ps
}

// ValidateSection checks one section ("items" is all items).
func ValidateSection(n *Note, section string) []Problem {
	var ps []Problem
	if section == itemsName {
		ps = append(itemsStructure(n), itemsMissingAcross(n)...)
	} else if s := SectionNamed(section); s != nil {
		ps = append(sectionStructure(n, s), missingAcross(n, s)...)
	}
	ps = append(ps, plainProblems(n, section)...)
	SortProblems(ps)
	return ps
}

// Structure is the verdict of JSON Schema alone: it finds nothing exactly when
// the note fits Compose(n.Kind()).
func Structure(n *Note) []Problem {
	var ps []Problem
	broken := func(member, what, do string) {
		ps = append(ps, Problem{Rule: "structure", Path: Path(member), Severity: Error, What: what, Do: do})
	}
	if !formatFits(n.tree["format"]) {
		broken("format", "The note does not say its format.", "Restore the file.")
	}
	for _, name := range []string{"note", "case"} {
		if s, _ := n.tree[name].(string); s == "" || utf8.RuneCountInString(s) > 64 {
			broken(name, "The note does not say which "+map[string]string{"note": "note", "case": "child"}[name]+" it is.",
				"Open the note again from the child's record, or restore the file.")
		}
	}
	if a, ok := n.tree["answers"]; ok && !answersFit(a) {
		broken("answers", "The answered questions of this note cannot be read.", "Answer the questions again, or restore the file.")
	}
	if v, ok := n.tree["schema"]; ok {
		if s, ok := v.(string); !ok || utf8.RuneCountInString(s) > 64 {
			broken("schema", "The note's schema version is not text.", "Restore the file.")
		}
	}
	for _, s := range SectionsOf(n.Kind()) {
		ps = append(ps, sectionStructure(n, s)...)
		ps = append(ps, missingAcross(n, s)...)
	}
	ps = append(ps, itemsStructure(n)...)
	ps = append(ps, itemsMissingAcross(n)...)
	SortProblems(ps)
	return ps
}

func formatFits(v any) bool {
	s, _ := v.(string)
	version, ok := strings.CutPrefix(s, "fairlead-note/")
	return ok && version != "" && strings.Trim(version, "0123456789") == ""
}

func answersFit(v any) bool {
	list, ok := v.([]any)
	if !ok {
		return false
	}
	for _, x := range list {
		m, ok := x.(map[string]any)
		if !ok {
			return false
		}
		for _, name := range []string{"rule", "path", "answer", "by"} {
			if _, ok := m[name].(string); !ok {
				return false
			}
		}
		for _, name := range []string{"why", "saw"} {
			if v, ok := m[name]; ok {
				if _, ok := v.(string); !ok {
					return false
				}
			}
		}
	}
	return true
}

// checker validates one kind of object and remembers recent verdicts.
type checker struct {
	once   sync.Once
	source func() object
	schema *gojsonschema.Schema
	mu     sync.Mutex
	recent []verdict
}

type verdict struct {
	content  string
	problems []fault
}

// fault is what the validator said, before it is worded: the place inside the
// object and the kind of failure.
type fault struct {
	at   []string
	kind string
}

const keptVerdicts = 48

func (c *checker) faults(v any) []fault {
	b, err := json.Marshal(v)
	if err != nil {
		return []fault{{kind: "unreadable"}}
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	content := string(b)
	for _, r := range c.recent {
		if r.content == content {
			return r.problems
		}
	}
	c.once.Do(func() {
		// Through JSON once, so that the loader sees what a file would hold.
		src, err := json.Marshal(c.source())
		if err == nil {
			c.schema, err = gojsonschema.NewSchema(gojsonschema.NewBytesLoader(src))
		}
		if err != nil {
			panic("schema: compile: " + err.Error()) // built in, checked by tests
		}
	})
	var fs []fault
	if at := unreadable(v, nil); at != nil {
		// The validator stops the program on a number it cannot hold.
		fs = append(fs, fault{at, "unreadable"})
	} else if result, err := c.schema.Validate(gojsonschema.NewRawLoader(v)); err != nil {
		fs = append(fs, fault{kind: "unreadable"})
	} else {
		for _, e := range result.Errors() {
			fs = append(fs, fault{strings.Split(e.Context().String(), ".")[1:], e.Type()})
		}
	}
	if len(c.recent) == keptVerdicts {
		c.recent = slices.Delete(c.recent, 0, 1)
	}
	c.recent = append(c.recent, verdict{content, fs})
	return fs
}

// unreadable is the place of a number too large or too long to be read the same
// everywhere, or nil.
func unreadable(v any, at []string) []string {
	switch v := v.(type) {
	case json.Number:
		if !readable(string(v)) {
			return at
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			if found := unreadable(v[name], append(slices.Clip(at), name)); found != nil {
				return found
			}
		}
	case []any:
		for i, x := range v {
			if found := unreadable(x, append(slices.Clip(at), strconv.Itoa(i))); found != nil {
				return found
			}
		}
	}
	return nil
}

var (
	checkersMu sync.Mutex
	checkers   = map[string]*checker{}
)

func checkerFor(key string, source func() object) *checker {
	checkersMu.Lock()
	defer checkersMu.Unlock()
	c, ok := checkers[key]
	if !ok {
		c = &checker{source: source}
		checkers[key] = c
	}
	return c
}

func sectionStructure(n *Note, s *Section) []Problem {
	v, ok := n.tree[s.Name]
	if !ok {
		v = map[string]any{}
	}
	m, ok := v.(map[string]any)
	if !ok {
		return []Problem{{Rule: "structure", Path: Path(s.Name), Section: s.Name, Severity: Error,
			What: fmt.Sprintf("The section “%s” is not in the form of a section.", s.Title),
			Do:   "Restore the file, or clear the section and fill it again."}}
	}
	k := n.Kind()
	c := checkerFor(string(k)+"/sections/"+s.Name, func() object { return sectionSchema(s, k) })
	return word(n, c.faults(m), m, s.Title, s.Name, Path(s.Name)+".", s.Fields, "")
}

func itemsStructure(n *Note) []Problem {
	v, ok := n.tree[itemsName]
	if !ok {
		return nil
	}
	broken := func(what string) []Problem {
		return []Problem{{Rule: "structure", Path: itemsName, Section: itemsName, Severity: Error, What: what,
			Do: "Restore the file; nothing in it has been changed."}}
	}
	rows, ok := v.([]any)
	if !ok {
		return broken("The list of items is not in the form of a list.")
	}
	if len(rows) > maxRows*5 {
		return broken(fmt.Sprintf("The list of items is longer than %d.", maxRows*5))
	}
	var ps []Problem
	for _, r := range rows {
		m, ok := r.(map[string]any)
		if !ok {
			ps = append(ps, broken("An entry in the list of items is not in the form of an item.")...)
			continue
		}
		kind, ok := m["kind"].(string)
		_, hasID := m["id"]
		_, hasTag := m["tag"]
		if !ok || !hasID || !hasTag {
			ps = append(ps, broken("An item in the list has no kind, no id or no tag.")...)
			continue
		}
		def := ItemKindNamed(kind)
		if def == nil {
			continue // from a newer version: kept, and counted on screen
		}
		id, ok := m["id"].(string)
		if !ok {
			ps = append(ps, broken("An item's id is not text.")...)
			continue
		}
		k := n.Kind()
		c := checkerFor(string(k)+"/items/"+kind, func() object { return itemSchema(def, k) })
		name := def.Title
		if tag, ok := m["tag"].(json.Number); ok {
			name += ", tag " + clip(string(tag))
		}
		ps = append(ps, word(n, c.faults(m), m, name, itemsName, ItemPath(id, ""), def.Fields, id)...)
	}
	return ps
}

// missingAcross finds the fields wanted because of another section.
func missingAcross(n *Note, s *Section) []Problem {
	k := n.Kind()
	var ps []Problem
	for _, f := range s.Fields {
		if wanted(f, k) && !localConditions(f, false) && n.Relevant(f) && !n.hasAnswer(f.Path) {
			ps = append(ps, missing(f, f.Path, s.Name, s.Title))
		}
		if !f.In(k) {
			continue
		}
		for _, rf := range f.Rows {
			if !wanted(rf, k) || localConditions(rf, true) {
				continue
			}
			for i, row := range n.Rows(f.Path) {
				if p := rf.Path.In(row); n.Relevant(rf, row) && !n.hasAnswer(p) {
					ps = append(ps, missing(rf, p, s.Name, rowWhere(s.Title, f, i)))
				}
			}
		}
	}
	return ps
}

// itemsMissingAcross finds the attributes of items wanted because of a section.
func itemsMissingAcross(n *Note) []Problem {
	k := n.Kind()
	var ps []Problem
	for _, it := range n.Items() {
		def := ItemKindNamed(it.Kind)
		if def == nil {
			continue
		}
		for _, f := range def.Fields {
			if p := f.Path.In(it.ID); wanted(f, k) && !localConditions(f, true) && n.Relevant(f, it.ID) && !n.hasAnswer(p) {
				ps = append(ps, missing(f, p, itemsName, fmt.Sprintf("%s, tag %d", def.Title, it.Tag)))
			}
		}
	}
	return ps
}

// hasAnswer is what the schema's "answered" asks: a member of that name, whatever
// it holds, or one among the stated answers.
func (n *Note) hasAnswer(p Path) bool {
	m, name := n.holder(p, false)
	if _, ok := m[name]; ok {
		return true
	}
	_, ok := member(m, statedName, false)[name]
	return ok
}

func rowWhere(section string, list *Field, i int) string {
	return fmt.Sprintf("%s, %s %d", section, list.Title, i+1)
}

func missing(f *Field, p Path, section, where string) Problem {
	do := "Fill it in, or say that it is not known."
	if f.None != "" {
		do = fmt.Sprintf("Fill it in, or say “%s” or that it is not known.", f.None)
	}
	return Problem{Rule: "missing", Path: p, Section: section, Severity: Missing,
		What: fmt.Sprintf("%s is not recorded (%s).", f.Title, where), Do: do}
}

// word turns faults inside one object into problems in a reader's words.
func word(n *Note, fs []fault, m map[string]any, where, section string, prefix Path, fields []*Field, item string) []Problem {
	var ps []Problem
	incomplete := false
	told := map[Path]bool{}
	for _, ft := range fs {
		switch ft.kind {
		case "number_any_of", "number_all_of", "number_one_of", "number_not", "condition_then", "condition_else":
			incomplete = true
			continue
		case "required":
			incomplete = true
			continue
		}
		p, f, v := locate(ft.at, m, prefix, fields)
		if told[p] {
			continue
		}
		told[p] = true
		ps = append(ps, wordFault(ft.kind, f, p, v, section, where))
	}
	if !incomplete {
		return ps
	}
	before := len(ps)
	for _, f := range fields {
		ps = append(ps, missingField(n, f, section, where, ids(item)...)...)
		for i, row := range rowsOf(m[f.Name], f) {
			rowWhere := rowWhere(where, f, i)
			id, ok := row["id"].(string)
			if !ok || id == "" {
				ps = append(ps, Problem{Rule: "structure", Path: f.Path, Section: section, Severity: Error,
					What: "A row has no id (" + rowWhere + ").", Do: "Restore the file, or take the row out and add it again."})
				continue
			}
			for _, rf := range f.Rows {
				ps = append(ps, missingField(n, rf, section, rowWhere, ids(item, id)...)...)
			}
		}
	}
	if len(ps) == before {
		ps = append(ps, Problem{Rule: "structure", Path: prefix[:len(prefix)-1], Section: section, Severity: Error,
			What: fmt.Sprintf("%s does not fit together as it stands.", where), Do: "Look through it for a part that is cut short."})
	}
	return ps
}

func rowsOf(v any, f *Field) []map[string]any {
	if f.Type != "rows" {
		return nil
	}
	list, _ := v.([]any)
	var out []map[string]any
	for _, r := range list {
		if m, ok := r.(map[string]any); ok {
			out = append(out, m)
		}
	}
	return out
}

// ids leaves out what is empty.
func ids(of ...string) []string {
	return slices.DeleteFunc(of, func(id string) bool { return id == "" })
}

func missingField(n *Note, f *Field, section, where string, in ...string) []Problem {
	p := f.Path.In(in...)
	if !wanted(f, n.Kind()) || !localConditions(f, len(in) > 0) || !n.Relevant(f, in...) || n.hasAnswer(p) {
		return nil
	}
	return []Problem{missing(f, p, section, where)}
}

// locate finds the field a fault speaks of, its concrete path and its value.
func locate(at []string, m map[string]any, prefix Path, fields []*Field) (Path, *Field, any) {
	if len(at) == 0 {
		return prefix[:len(prefix)-1], nil, nil
	}
	f := fieldNamed(fields, at[0])
	v := m[at[0]]
	p := prefix + Path(at[0])
	if (at[0] == statedName || at[0] == boundName) && len(at) > 1 {
		sub, _ := v.(map[string]any)
		return prefix + Path(at[1]), fieldNamed(fields, at[1]), sub[at[1]]
	}
	if len(at) < 2 || f == nil {
		return p, f, v
	}
	list, _ := v.([]any)
	i, err := strconv.Atoi(at[1])
	if err != nil || i >= len(list) {
		return p, f, v
	}
	row, ok := list[i].(map[string]any)
	if !ok || len(at) < 3 {
		return p, f, list[i]
	}
	id, _ := row["id"].(string)
	rp, rf, rv := locate(at[2:], row, Path(string(p)+"."+id+"."), f.Rows)
	return rp, rf, rv
}

func wordFault(kind string, f *Field, p Path, v any, section, where string) Problem {
	pr := Problem{Rule: "structure", Path: p, Section: section, Severity: Error}
	if f == nil {
		pr.What = fmt.Sprintf("“%s” does not fit where it stands (%s).", clip(p.Last()), where)
		pr.Do = "Restore the file, or take this entry out."
		return pr
	}
	said := quote(f, v)
	switch kind {
	case "number_gte", "number_lte", "number_gt", "number_lt":
		pr.Rule = "plausible"
		pr.What = fmt.Sprintf("%s %s is outside what is possible, %s", f.Title, said, showRange(f.Min, f.Max, f.Unit))
		pr.Do = "Check the figure and its unit."
	case "invalid_type":
		pr.What = fmt.Sprintf("%s: %s is not %s", f.Title, said, map[string]string{"number": "a number", "integer": "a whole number",
			"boolean": "a yes or a no", "string": "text", "list": "a list of choices", "rows": "a list of entries"}[f.Type])
		pr.Do = "Choose or enter it again."
		if f.Numeric() {
			pr.Do = "Enter the figure alone, as digits."
		}
	case "enum", "const":
		pr.What = fmt.Sprintf("%s: %s is not one of the choices", f.Title, said)
		pr.Do = "Choose one that is listed."
	case "pattern":
		pr.What = fmt.Sprintf("%s: %s is not %s", f.Title, said, map[string]string{"moment": "a date and time",
			"date": "a date", "clock": "a time such as 09:42", "digits": "digits only"}[f.Format])
		pr.Do = "Enter it again."
	case "string_lte":
		pr.What = fmt.Sprintf("%s is longer than it may be", f.Title)
		pr.Do = "Shorten it, or move part of it to another field."
	case "unique":
		pr.What = fmt.Sprintf("%s names the same thing twice", f.Title)
		pr.Do = "Take one out."
	case "array_min_items":
		pr.What = fmt.Sprintf("%s is an empty list", f.Title)
		pr.Do = "Add what belongs in it, or say that there is none."
	case "array_max_items":
		pr.What = fmt.Sprintf("%s has more than %d entries", f.Title, maxRows)
		pr.Do = "Take out those that are not needed."
	default:
		pr.What = fmt.Sprintf("%s: %s does not fit here", f.Title, said)
		pr.Do = "Enter it again."
	}
	pr.What += " (" + where + ")."
	return pr
}

// quote words a value that does not fit, as it was given.
func quote(f *Field, v any) string {
	switch v := v.(type) {
	case json.Number:
		if !f.Numeric() || !readable(string(v)) {
			return "“" + clip(string(v)) + "”"
		}
		return ShowValue(&Field{Unit: f.Unit}, v, nil)
	case string:
		return "“" + clip(v) + "”"
	case bool:
		return map[bool]string{true: "“yes”", false: "“no”"}[v]
	case nil:
		return "an empty value"
	case []any:
		return "a list"
	}
	return "a group of values"
}

func showRange(lo, hi *float64, unit string) string {
	num := func(f float64) string { return ShowNumber(strconv.FormatFloat(f, 'f', -1, 64)) }
	u := ""
	if unit != "" && unit != "1" {
		u = " " + UnitShown(unit)
	}
	switch {
	case lo != nil && hi != nil:
		return num(*lo) + " to " + num(*hi) + u
	case lo != nil:
		return num(*lo) + u + " or more"
	case hi != nil:
		return num(*hi) + u + " or less"
	}
	return "any"
}

// plainProblems finds what JSON Schema cannot say and no other field is needed
// for: answers that mean nothing, a value beside such an answer, comparators
// without a number, dates that do not exist, ids that stand twice. It looks at one
// section, or at "items".
func plainProblems(n *Note, section string) []Problem {
	var ps []Problem
	if section != itemsName {
		if s := SectionNamed(section); s != nil {
			m, _ := n.tree[section].(map[string]any)
			plainObject(&ps, m, s.Fields, section+".")
		}
		return ps
	}
	rows, _ := n.tree[itemsName].([]any)
	for _, r := range rows {
		m, id := identified(r)
		kind, _ := m["kind"].(string)
		if k := ItemKindNamed(kind); k != nil && id != "" {
			plainObject(&ps, m, k.Fields, itemsName+"."+id+".")
		}
	}
	if id := twice(idsOf(n.tree[itemsName])); id != "" {
		ps = append(ps, Problem{Rule: "same-id", Path: ItemPath(id, "tag"), Section: itemsName, Severity: Error,
			What: "Two listed items carry the same id, so only the first can be reached.", Do: "Restore the file, or list one of them again."})
	}
	return ps
}

// plainObject looks at one section, row or item. Members without a definition are
// from a newer version: kept, not judged.
func plainObject(ps *[]Problem, m map[string]any, fields []*Field, prefix string) {
	if m == nil {
		return
	}
	stated, bound := member(m, statedName, false), member(m, boundName, false)
	for _, f := range fields {
		add := func(rule, what, do string, words ...any) {
			p := Path(prefix + f.Name)
			*ps = append(*ps, Problem{Rule: rule, Path: p, Section: p.Section(), Severity: Error, What: fmt.Sprintf(what, words...), Do: do})
		}
		v, has := m[f.Name]
		has = has && v != nil
		answer, _ := stated[f.Name].(string)
		if answer != "" && has {
			add("value-and-answer", "%s has both a value and the answer “%s”.", "Keep one of the two.", f.Title, ShowStated(f, answer))
		}
		if answer == StatedNone && f.None == "" {
			add("none-has-no-meaning", "%s cannot be “none”.", "Give the value, or say that it is not known.", f.Title)
		}
		if b, _ := bound[f.Name].(string); b != "" {
			if _, isNumber := v.(json.Number); !isNumber || !f.Numeric() {
				add("bound-without-number", "%s has “%s” but no figure.", "Enter the figure, or take the words out.", f.Title, strings.TrimSpace(ShowBound(b)))
			}
		}
		if s, ok := v.(string); ok && !calendarFits(f, s) {
			add("no-such-date", "%s: %s does not exist.", "Check the day and the month.", f.Title, quote(f, s))
		}
		if f.Type != "rows" || !has {
			continue
		}
		if id := twice(idsOf(v)); id != "" {
			add("same-id", "Two entries of %s carry the same id, so only the first can be reached.", "Restore the file, or take one out and enter it again.", f.Title)
		}
		rows, _ := v.([]any)
		for _, r := range rows {
			if row, id := identified(r); id != "" {
				plainObject(ps, row, f.Rows, prefix+f.Name+"."+id+".")
			}
		}
	}
}

// calendarFits is false for a date or time that has the right form and yet names
// no day there ever was.
func calendarFits(f *Field, s string) bool {
	if len(s) < len("2006-01-02") || f.Format != "moment" && f.Format != "date" {
		return true
	}
	if !looksLike(s, "dddd-dd-dd") {
		return true // the pattern has said so
	}
	_, err := ParseDate(s[:len("2006-01-02")])
	return err == nil
}

func twice(ids []string) string {
	seen := map[string]bool{}
	for _, id := range ids {
		if seen[id] {
			return id
		}
		seen[id] = true
	}
	return ""
}
