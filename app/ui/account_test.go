//go:build !(js && wasm)

package ui

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/handover/ledger"
	"fairlead/schema"
)

// The saved account is read back with the standard library's readers of CSV (RFC
// 4180) and JSON, and holds every entry, each cell as it was.
func TestAccountIsSaved(t *testing.T) {
	s, _, _ := begun(t)
	c := s.child
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(s.place.Note, id, "drain", 1))
	c.act(c.writer.Happen(ledger.KindProblem, id, ledger.RegisterFacts{Note: "=1+1, \"quoted\"\nand a second line"}))
	c.act(c.writer.Set(c.rec, s.place.Note, schema.MeasuresWeight, ledger.Number("3.2")))
	c.act(c.writer.Set(c.rec, s.place.Note, schema.MeasuresWeight, ledger.Number("3.7")))
	a := s.accountPart().(*accountPane)
	all := a.found()
	rows, err := csv.NewReader(bytes.NewReader(accountTable(all))).ReadAll()
	if err != nil || len(rows) != len(all)+1 {
		t.Fatalf("%d rows of %d entries: %v", len(rows), len(all), err)
	}
	var data []map[string]string
	if err := json.Unmarshal(accountData(all), &data); err != nil || len(data) != len(all) {
		t.Fatalf("%d objects of %d entries: %v", len(data), len(all), err)
	}
	both := false
	for i, l := range all {
		for j, column := range rows[0] {
			if data[i][column] != rows[i+1][j] {
				t.Errorf("entry %d, %s: %q in the data, %q in the table", i, column, data[i][column], rows[i+1][j])
			}
		}
		if data[i]["words"] != l.Words || data[i]["who"] != l.Author.String() || data[i]["event"] != string(l.Event) {
			t.Errorf("entry %d reads %v", i, data[i])
		}
		both = both || strings.Contains(l.Words, "3.7") && strings.Contains(l.Words, "was 3.2")
	}
	if !both {
		t.Error("the corrected weight does not show both values")
	}
	line := saidLine{where: "=SUM(A1)"}
	if got := string(accountTable([]saidLine{line})); !strings.Contains(got, `"'=SUM(A1)"`) {
		t.Errorf("a formula is left to be worked out: %s", got)
	}
}

// Each filter alone leaves exactly the entries of that item, field, person or kind;
// a whole section, those of its fields.
func TestAccountIsNarrowed(t *testing.T) {
	s, _ := full(t)
	a := s.accountPart().(*accountPane)
	all := a.found()
	for i, choices := range a.choices {
		if len(choices) < 2 {
			t.Errorf("%s: only %d to choose from", accountKeys[i].words, len(choices))
		}
		sum, without := 0, 0
		for _, l := range all {
			if l.keys[i] == "" {
				without++
			}
		}
		for _, o := range choices {
			a.only = [4]string{}
			a.only[i] = o.Value
			found := a.found()
			whole := i == 1 && strings.HasSuffix(o.Value, ".")
			if !whole {
				sum += len(found)
			}
			for _, l := range found {
				if l.keys[i] != o.Value && !(whole && l.Path.Section()+"." == o.Value) {
					t.Errorf("%s %s: %+v", accountKeys[i].words, o.Words, l.Said)
				}
			}
		}
		if sum+without != len(all) {
			t.Errorf("%s: the choices leave %d entries, and %d are about none; there are %d", accountKeys[i].words, sum, without, len(all))
		}
	}
}

// Whoever comes from a field or an item reads of that alone; a second look at the
// page starts where it was left.
func TestAccountOfOneFieldAndOneItem(t *testing.T) {
	s, _, _ := begun(t)
	c := s.child
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(s.place.Note, id, "drain", 1))
	c.act(c.writer.Set(c.rec, s.place.Note, schema.MeasuresWeight, ledger.Number("3.2")))
	c.act(c.writer.Set(c.rec, s.place.Note, schema.MeasuresWeight, ledger.Number("3.7")))
	c.act(c.writer.Set(c.rec, s.place.Note, schema.MeasuresLength, ledger.Number("50")))
	o := c.open(s.place.Note)
	o.do.Account(app.Context{}, schema.MeasuresWeight)
	a := s.accountPart().(*accountPane)
	a.draw()
	if found := a.found(); len(found) != 2 || !a.open {
		t.Errorf("of the weight there are %d entries", len(found))
	}
	s.readAccount("", "measures.")
	a = s.accountPart().(*accountPane)
	a.draw()
	if found := a.found(); len(found) != 3 {
		t.Errorf("of the section there are %d entries", len(found))
	}
	s.readAccount(string(id), "")
	a = s.accountPart().(*accountPane)
	a.draw()
	if found := a.found(); len(found) != 1 || found[0].Item != id {
		t.Errorf("of the drain there are %d entries", len(found))
	}
	a.only = [4]string{}
	a.draw()
	if found := a.found(); len(found) < 4 {
		t.Errorf("it is narrowed again though nobody asked: %d entries", len(found))
	}
}

// What was taken back says who took it back, and why.
func TestAccountSaysWhoTookBack(t *testing.T) {
	s, _, _ := begun(t)
	c := s.child
	id := c.writer.NewItem()
	c.act(c.writer.ListItem(s.place.Note, id, "drain", 1))
	e := c.writer.Happen(ledger.KindRemoved, id, ledger.RegisterFacts{Complete: "yes"})
	c.act(e)
	c.act(c.writer.Retract("", []ledger.EventID{e.ID}, "Read from the wrong bed", ""))
	a := s.accountPart().(*accountPane)
	for _, l := range a.found() {
		if l.Event == e.ID {
			if !strings.Contains(l.back, "wrong bed") || !strings.Contains(l.back, s.who.Name) || string(l.Item) != string(id) {
				t.Errorf("taken back: %q", l.back)
			}
			return
		}
	}
	t.Error("what was taken back is not in the account")
}

// Tags begin at 1 again in a later stay: the filter says of each which operation listed it.
func TestAccountNamesTheOperation(t *testing.T) {
	s, o, _ := begun(t)
	c := s.child
	set(s, o, schema.OperationDate, ledger.Entry{Value: "2026-07-14"})
	c.act(c.writer.ListItem(o.id, c.writer.NewItem(), "drain", 1), c.writer.Discharge())
	later := c.writer.NewNote()
	c.act(c.writer.OpenNote(later, schema.Stage2))
	c.act(c.writer.Set(c.rec, later, schema.OperationDate, ledger.Entry{Value: "2026-11-03"}))
	old := c.writer.NewItem()
	c.act(c.writer.ListItem(later, old, "drain", 1))
	_, events := c.writer.Exchange(c.rec, old, "", ledger.RegisterFacts{})
	c.act(events...)
	a := s.accountPart().(*accountPane)
	a.found()
	var got []string
	for _, o := range a.choices[0] {
		got = append(got, o.Words)
	}
	for _, want := range []string{"Tag 1, Drain (Stage 1, 14-Jul-2026)", "Tag 1, Drain (Stage 2, 03-Nov-2026)", "Tag 2, Drain (listed at the bed, 14-Jul-2026)"} {
		if !slices.Contains(got, want) {
			t.Errorf("%q is not offered; there are %q", want, got)
		}
	}
}
