package rules

import (
	"slices"

	"fairlead/schema"
	"fairlead/schema/profile"
)

// Checker keeps what each rule found, so that after a change only the rules that
// read the changed section run again. One Checker serves one open note; its zero
// value is ready. It is not safe for concurrent use.
type Checker struct {
	kind    schema.Kind
	entries []entry
	found   [][]schema.Problem
}

// Answered lists the questions of the last run that have their answer.
func (c *Checker) Answered(n *schema.Note) []Answered {
	_, answered := split(n, settle(slices.Concat(c.found...)))
	return answered
}

// All runs every rule, as after opening a note or a change of profile or context.
func (c *Checker) All(n *schema.Note, prof *profile.Profile, ctx Context) []schema.Problem {
	c.kind, c.entries = n.Kind(), entriesFor(n.Kind())
	c.found = make([][]schema.Problem, len(c.entries))
	return c.run(n, prof, ctx, func(entry) bool { return true })
}

// Changed runs the rules that read one of the sections ("items" is one), and
// gives the whole list as Check would.
func (c *Checker) Changed(n *schema.Note, prof *profile.Profile, ctx Context, sections ...string) []schema.Problem {
	if c.entries == nil || c.kind != n.Kind() {
		return c.All(n, prof, ctx)
	}
	return c.run(n, prof, ctx, func(e entry) bool {
		return slices.ContainsFunc(e.reads, func(s string) bool { return slices.Contains(sections, s) })
	})
}

func (c *Checker) run(n *schema.Note, prof *profile.Profile, ctx Context, due func(entry) bool) []schema.Problem {
	var all []schema.Problem
	for i, e := range c.entries {
		if due(e) {
			c.found[i] = e.on(n, prof, &ctx)
		}
		all = append(all, c.found[i]...)
	}
	open, _ := split(n, settle(all))
	return open
}
