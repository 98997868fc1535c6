//go:build !(js && wasm)

package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"

	"fairlead/handover/calc/values"
	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

var _ = add(command{
	name:  "check",
	usage: "NOTE-OR-RECORD [--json] [--profile FILE] [--at TIME]",
	short: "Checks a note, or every note of a child's record, and prints what is wrong, unusual or not recorded.",
	run:   check,
})

// verdict is what check says about one note.
type verdict struct {
	Note     string           `json:"note"`
	Kind     schema.Kind      `json:"kind"`
	Errors   int              `json:"errors"`
	Question int              `json:"questions"`
	Missing  int              `json:"missing"`
	Problems []schema.Problem `json:"problems"`
}

func check(_ context.Context, p *program, args []string) int {
	var asJSON bool
	a, code, ok := p.ask("check", "nothing was changed", args, func(set *flag.FlagSet) {
		set.BoolVar(&asJSON, "json", false, "print JSON for another program")
	})
	if !ok {
		return code
	}
	verdicts := a.check(a.unit, a.now)
	if len(verdicts) == 0 {
		return p.fail(errors.New(a.file+": the record holds no note"), "choose another file")
	}
	if asJSON {
		enc := json.NewEncoder(p.out)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		if err := enc.Encode(struct {
			File  string    `json:"file"`
			Notes []verdict `json:"notes"`
		}{a.file, verdicts}); err != nil {
			return p.fail(err, "")
		}
	}
	code = exitDone
	for _, v := range verdicts {
		if len(v.Problems) > 0 {
			code = exitProblems
		}
		if !asJSON {
			p.verdict(v)
		}
	}
	return code
}

// check judges the note, or each note of the record.
func (o opened) check(prof *profile.Profile, now schema.Moment) []verdict {
	if o.note != nil {
		ctx := rules.Context{Now: now, Asked: values.Asked(prof)}
		return []verdict{judge(o.note, append(o.problems, rules.Everything(o.note, prof, ctx)...))}
	}
	var out []verdict
	for i, view := range o.record.Notes() {
		n := o.record.Note(view.ID)
		if n == nil {
			continue
		}
		ctx := values.ContextOf(o.record, view.ID, prof)
		ctx.Now = now
		found := append(o.record.Problems(view.ID), rules.Everything(n, prof, ctx)...)
		if i == 0 {
			found = append(append([]schema.Problem(nil), o.problems...), found...)
			for _, f := range o.record.Faults() {
				found = append(found, schema.Problem{Rule: f.Rule, Severity: schema.Error, What: f.What, Do: f.Do})
			}
		}
		out = append(out, judge(n, found))
	}
	return out
}

func judge(n *schema.Note, found []schema.Problem) verdict {
	v := verdict{Note: n.ID(), Kind: n.Kind(), Problems: []schema.Problem{}}
	for _, x := range found {
		switch x.Severity {
		case schema.Error:
			v.Errors++
		case schema.Question:
			v.Question++
		default:
			v.Missing++
		}
	}
	v.Problems = append(v.Problems, found...)
	schema.SortProblems(v.Problems)
	return v
}

// verdict prints one verdict for people.
func (p *program) verdict(v verdict) {
	title := string(v.Kind)
	if d := schema.KindNamed(v.Kind); d != nil {
		title = d.Title
	}
	if len(v.Problems) == 0 {
		fmt.Fprintf(p.out, "%s, note %s: nothing to say.\n", title, v.Note)
		return
	}
	fmt.Fprintf(p.out, "%s, note %s: %s, %s, %d not recorded.\n", title, v.Note, count(v.Errors, "error"), count(v.Question, "question"), v.Missing)
	for _, x := range v.Problems {
		fmt.Fprintf(p.out, "  %-8s  %s  %s\n", x.Severity, x.Path, x.What)
		if x.Do != "" {
			fmt.Fprintf(p.out, "            %s\n", x.Do)
		}
	}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprint(n, " ", what, "s")
}
