package rules_test

import (
	"os"
	"testing"

	"fairlead/schema"
	"fairlead/schema/profile"
	"fairlead/schema/rules"
)

// whole is the committed full stage-1 note.
func whole(b *testing.B) *schema.Note {
	b.Helper()
	data, err := os.ReadFile("../../testdata/notes/stage1.json")
	if err != nil {
		b.Fatal(err)
	}
	n, _, err := schema.ParseNote(data)
	if err != nil {
		b.Fatal(err)
	}
	return n
}

// All rules on the full note: under 2 ms native is asked.
func BenchmarkFigureRulesAll(b *testing.B) {
	n, ctx, prof := whole(b), context(), profile.Default()
	rules.Check(n, prof, ctx)
	for b.Loop() {
		rules.Check(n, prof, ctx)
	}
}

// A keystroke: only the rules that read the section run again.
func BenchmarkFigureRulesChangedSection(b *testing.B) { changed(b, "measures") }
func BenchmarkFigureRulesChangedItems(b *testing.B)   { changed(b, "items") }

func changed(b *testing.B, section string) {
	n, ctx, prof := whole(b), context(), profile.Default()
	var c rules.Checker
	c.All(n, prof, ctx)
	for b.Loop() {
		c.Changed(n, prof, ctx, section)
	}
}

// Structure and rules of the whole note, sections from the cache.
func BenchmarkFigureEverything(b *testing.B) {
	n, ctx, prof := whole(b), context(), profile.Default()
	rules.Everything(n, prof, ctx)
	for b.Loop() {
		rules.Everything(n, prof, ctx)
	}
}
