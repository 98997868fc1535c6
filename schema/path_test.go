package schema_test

import (
	"testing"

	"fairlead/schema"
)

func TestPathParts(t *testing.T) {
	for _, c := range []struct {
		p, section, last, row, list string
	}{
		{"child.surname", "child", "surname", "", ""},
		{"support.runs.a1.on", "support", "on", "a1", "support.runs"},
		{"support.runs.*.on", "support", "on", "*", "support.runs"},
		{"items.7f.size", "items", "size", "7f", "items"},
		{"items.7f.lumens.b.name", "items", "name", "b", "items.7f.lumens"},
		{"items.7f", "items", "7f", "7f", "items"},
		{"child", "child", "child", "", ""},
		{"", "", "", "", ""},
		{"a.b.c.d.e", "a", "e", "", ""},
	} {
		p := schema.Path(c.p)
		if p.Section() != c.section || p.Last() != c.last || p.Row() != c.row || string(p.List()) != c.list {
			t.Errorf("%q: section %q, last %q, row %q, list %q", c.p, p.Section(), p.Last(), p.Row(), p.List())
		}
	}
}

func TestPathIn(t *testing.T) {
	for in, want := range map[schema.Path]schema.Path{
		"support.runs.*.on": "support.runs.x.on",
		"items.drain.size":  "items.x.size",
		"child.surname":     "child.surname",
	} {
		if got := in.In("x"); got != want {
			t.Errorf("%q in x is %q, want %q", in, got, want)
		}
	}
	lumen := schema.Path("items.central-venous-line.lumens.*.name")
	if got := lumen.In("x", "y"); got != "items.x.lumens.y.name" || got.Item() != "x" {
		t.Errorf("item and row: %q of item %q", got, got.Item())
	}
	if got := lumen.In("x"); got != "items.x.lumens.*.name" {
		t.Errorf("item alone: %q", got)
	}
	if schema.ItemPath("x", "size") != "items.x.size" || schema.RowPath("support.runs", "x", "on") != "support.runs.x.on" {
		t.Error("ItemPath or RowPath does not build what In does")
	}
}
