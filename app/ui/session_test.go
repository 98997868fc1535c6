//go:build !(js && wasm)

package ui

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/civil"
	"fairlead/handover/ledger"
	"fairlead/schema"
)

// refusing is a store that can be made to refuse.
type refusing struct {
	ledger.Log
	why error
}

func (r *refusing) Append(ctx context.Context, es []ledger.Event, spent ...ledger.Draft) error {
	if r.why != nil {
		return r.why
	}
	return r.Log.Append(ctx, es, spent...)
}

func (r *refusing) SaveDraft(ctx context.Context, d ledger.Draft) error {
	if r.why != nil {
		return r.why
	}
	return r.Log.SaveDraft(ctx, d)
}

// begun is a session with a child and a stage 1 note open, on 14-Jul-2026 at
// 12:00 in London.
func begun(t *testing.T) (*Session, *openNote, *refusing) {
	t.Helper()
	place, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 7, 14, 11, 0, 0, 0, time.UTC)
	seed := rand.New(rand.NewSource(7))
	s := newSession(civil.In(place, func() time.Time { at = at.Add(time.Millisecond); return at }), seed)
	store := &refusing{Log: ledger.NewMemory()}
	s.store, s.device = store, device{log: store}
	s.setWho(ledger.Author{Name: "A. Surgeon", Role: "surgeon"})
	id := ledger.CaseID(s.ids.New())
	w := ledger.NewWriter(id, s.writerID, s.who, s.clock, s.ids, s.now)
	opened := w.OpenCase()
	s.child = s.newChildOf(ledger.FoldCase(id, []ledger.Event{opened}))
	s.keeper.append([]ledger.Event{opened})
	note := s.child.writer.NewNote()
	s.child.act(s.child.writer.OpenNote(note, schema.Stage1))
	s.place = Place{Screen: "section", Case: id, Note: note, Part: "child"}
	return s, s.child.open(note), store
}

// keepNow does one round of what the keeper does on its own goroutine.
func keepNow(s *Session) error {
	b := s.keeper.take()
	if b.empty() {
		return nil
	}
	err := s.keeper.write(context.Background(), b)
	s.keeper.done(b, err)
	return err
}

var none app.Context

func TestTypingIsADraftUntilItIsMeant(t *testing.T) {
	s, o, store := begun(t)
	before := s.child.rec.Len()
	for _, text := range []string{"3", "3.", "3.1"} {
		o.do.Type(none, schema.ChildBirthWeight, text)
	}
	if got := s.child.rec.Len(); got != before {
		t.Errorf("typing made %d events", got-before)
	}
	if got := o.working.Decimal(schema.ChildBirthWeight); got != "3.1" {
		t.Errorf("the note as it stands has %q", got)
	}
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	drafts, _ := store.Drafts(context.Background(), s.child.id)
	if len(drafts) != 1 || !strings.Contains(drafts[0].Text, "3.1") {
		t.Errorf("kept drafts: %v", drafts)
	}
	o.do.Leave(none, schema.ChildBirthWeight)
	if got := s.child.rec.Len(); got != before+1 {
		t.Errorf("leaving made %d events, want 1", got-before)
	}
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	if drafts, _ := store.Drafts(context.Background(), s.child.id); len(drafts) != 0 {
		t.Errorf("the draft outlived its event: %v", drafts)
	}
	o.do.Type(none, schema.ChildBirthWeight, "3.10")
	o.do.Leave(none, schema.ChildBirthWeight)
	if got := s.child.rec.Len(); got != before+1 {
		t.Errorf("the same value again made %d events more", got-before-1)
	}
}

// Typing rests after "3.": it is taken as 3, and its letters stay, so that "5" makes
// it 3.5 and not 35.
func TestLettersStayWhileTypingRests(t *testing.T) {
	s, o, _ := begun(t)
	def := schema.FieldAt(schema.ChildBirthWeight)
	o.do.Type(none, def.Path, "3.")
	o.rested(def.Path, true)
	if v := s.child.rec.Values(o.id, def.Path); len(v) != 1 || v[0].Value != json.Number("3") {
		t.Fatalf("recorded: %v", v)
	}
	if f := o.sectionForm("child").Field(def, def.Path); f.Text != "3." || f.Typing {
		t.Errorf("shown %q, typing %v", f.Text, f.Typing)
	}
	o.do.Type(none, def.Path, "3.5")
	o.rested(def.Path, false)
	if f := o.sectionForm("child").Field(def, def.Path); f.Text != "3.5" || len(o.drafts) != 0 {
		t.Errorf("shown %q, drafts %v", f.Text, o.drafts)
	}
	o.do.Type(none, schema.ChildSurname, "van ")
	o.rested(schema.ChildSurname, true)
	o.do.Leave(none, schema.ChildSurname)
	if f := o.sectionForm("child").Field(schema.FieldAt(schema.ChildSurname), schema.ChildSurname); f.Text != "van" {
		t.Errorf("after leaving: %q", f.Text)
	}
}

func TestWhatCannotBeReadStaysWhereItWasTyped(t *testing.T) {
	s, o, _ := begun(t)
	o.do.Type(none, schema.ChildBirthWeight, "3,100")
	o.do.Leave(none, schema.ChildBirthWeight)
	f := o.sectionForm("child").Field(schema.FieldAt(schema.ChildBirthWeight), schema.ChildBirthWeight)
	if f.Text != "3,100" || !strings.Contains(f.Wrong, "3.1") {
		t.Errorf("text %q, sentence %q", f.Text, f.Wrong)
	}
	o.do.Type(none, schema.ChildBirthWeight, "3,1") // a decimal comma, and nothing else
	if f := o.sectionForm("child").Field(schema.FieldAt(schema.ChildBirthWeight), schema.ChildBirthWeight); f.Wrong != "" {
		t.Errorf("the sentence outlived its reason: %q", f.Wrong)
	}
	o.do.Leave(none, schema.ChildBirthWeight)
	if v := s.child.rec.Values(o.id, schema.ChildBirthWeight); len(v) != 1 || v[0].Origin.How != ledger.HowTyped || fmt.Sprint(v[0].Value) != "3.1" {
		t.Errorf("recorded: %v", v)
	}
}

func TestNoneUnknownAndBound(t *testing.T) {
	_, o, _ := begun(t)
	at := schema.ChildBirthWeight
	o.do.State(none, at, schema.StatedUnknown)
	if o.working.Stated(at) != schema.StatedUnknown || o.working.Has(at) {
		t.Error("not known is not recorded as such")
	}
	o.do.Type(none, at, "<0.5")
	o.do.Leave(none, at)
	if o.working.Bound(at) != "<" || o.working.Decimal(at) != "0.5" || o.working.Stated(at) != "" {
		t.Errorf("<0.5 became %q %q %q", o.working.Bound(at), o.working.Decimal(at), o.working.Stated(at))
	}
	o.do.SetBound(none, at, "")
	if o.working.Bound(at) != "" || o.working.Decimal(at) != "0.5" {
		t.Error("the sign was not taken back alone")
	}
	o.do.Clear(none, at)
	if o.working.Answered(at) {
		t.Error("cleared, and still answered")
	}
}

// Where no time and no day of operation is known, a clock reading is taken for the last
// time it came, not for tomorrow's; what may lie ahead may.
func TestClockWithNothingBesideIt(t *testing.T) {
	_, o, _ := begun(t) // at 12:00
	read := func(at schema.Path, text string) string {
		def := o.working.FieldAt(at)
		return o.sectionForm(at.Section()).readMoment(def, at, text, "").Value.(string)
	}
	row := schema.RowPath(schema.SupportRuns, "r", "on")
	dose := schema.RowPath(schema.WorkAntibiotics, "r", "next")
	o.working.AddRow(schema.SupportRuns, "r")
	o.working.AddRow(schema.WorkAntibiotics, "r")
	for _, c := range []struct {
		at         schema.Path
		text, want string
	}{
		{schema.OperationStarted, "0942", "2026-07-14T09:42"}, {schema.OperationStarted, "2230", "2026-07-13T22:30"}, {row, "1630", "2026-07-13T16:30"},
		{row, "1205", "2026-07-14T12:05"}, // the tablet's clock may be behind
		{dose, "1630", "2026-07-14T16:30"},
	} {
		if got := read(c.at, c.text); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s at %s is %s, want %s", c.text, c.at, got, c.want)
		}
	}
}

// "00:10" after "23:50" is proposed as the next day and shown (decision 9).
func TestMidnight(t *testing.T) {
	_, o, _ := begun(t)
	enter := func(at schema.Path, text, day string) {
		o.do.Type(none, at, text)
		if day != "" {
			o.do.TypeDay(none, at, day)
		}
		o.do.Leave(none, at)
	}
	enter(schema.OperationDate, "14-Jul-2026", "")
	enter(schema.OperationStarted, "2350", "")
	enter(schema.OperationClosed, "0010", "")
	if got := o.working.Text(schema.OperationClosed); got != "2026-07-15T00:10+01:00[Europe/London]" {
		t.Errorf("00:10 after 23:50 is %s", got)
	}
	f := o.sectionForm("operation").Field(schema.FieldAt(schema.OperationClosed), schema.OperationClosed)
	if f.Text != "00:10" || f.Day != "15-Jul-2026" || !strings.Contains(f.Note, "next day") {
		t.Errorf("shown as %q %q %q", f.Text, f.Day, f.Note)
	}
	enter(schema.OperationClosed, "0010", "14-Jul-2026")
	if got := o.working.Text(schema.OperationClosed); got != "2026-07-14T00:10+01:00[Europe/London]" {
		t.Errorf("with its date typed it is %s", got)
	}
	enter(schema.OperationDate, "25-Oct-2026", "")
	enter(schema.OperationStarted, "0130", "25-Oct-2026")
	f = o.sectionForm("operation").Field(schema.FieldAt(schema.OperationStarted), schema.OperationStarted)
	if len(f.Readings) != 2 || !strings.Contains(f.Wrong, "came twice") {
		t.Errorf("01:30 in the night the clocks go back: %v %q", f.Readings, f.Wrong)
	}
	o.do.Read(none, schema.OperationStarted, f.Readings[1].Value)
	if got := o.working.Text(schema.OperationStarted); got != "2026-10-25T01:30+00:00[Europe/London]" {
		t.Errorf("the second reading became %s", got)
	}
	enter(schema.OperationStarted, "0130", "29-Mar-2026")
	f = o.sectionForm("operation").Field(schema.FieldAt(schema.OperationStarted), schema.OperationStarted)
	if !strings.Contains(f.Wrong, "went forward") {
		t.Errorf("01:30 in the night the clocks go forward: %q", f.Wrong)
	}
}

func TestRowsAndUndo(t *testing.T) {
	s, o, _ := begun(t)
	o.do.AddRow(none, schema.SupportRuns)
	rows := o.working.Rows(schema.SupportRuns)
	if len(rows) != 1 || o.rows[schema.SupportRuns] != rows[0] {
		t.Fatalf("rows %v, open %v", rows, o.rows)
	}
	on := schema.SupportRunsOn.In(rows[0])
	o.do.Type(none, on, "0942")
	o.do.Leave(none, on)
	o.do.RemoveRow(none, schema.SupportRuns, rows[0])
	if len(o.working.Rows(schema.SupportRuns)) != 0 {
		t.Fatal("the row stayed")
	}
	s.undo(false)
	if !o.working.Has(on) {
		t.Error("undo did not bring the row and its time back")
	}
	s.undo(false)
	if o.working.Has(on) {
		t.Error("undo did not take the time back")
	}
	s.undo(true)
	if !o.working.Has(on) {
		t.Error("redo did not bring the time back")
	}
}

func TestUndoTakesBackWhatIsBeingTyped(t *testing.T) {
	s, o, _ := begun(t)
	o.do.Type(none, schema.ChildSurname, "Testchild")
	o.do.Leave(none, schema.ChildSurname)
	o.do.Type(none, schema.ChildSurname, "Testchildx")
	s.undo(false)
	if got := o.working.Text(schema.ChildSurname); got != "Testchild" {
		t.Errorf("after one undo: %q", got)
	}
	o.do.Type(none, schema.ChildBirthWeight, "x")
	s.undo(false)
	if len(o.drafts) != 0 || o.working.Text(schema.ChildSurname) != "Testchild" {
		t.Errorf("undo of what cannot be read: drafts %v, surname %q", o.drafts, o.working.Text(schema.ChildSurname))
	}
}

// The address of a note whose beginning was undone says that it is not here; doing it
// again brings it back.
func TestUndoneBeginning(t *testing.T) {
	s, _, _ := begun(t)
	s.beginNote(schema.Stage2)
	for _, n := range s.child.rec.Notes() {
		if n.Kind == schema.Stage2 {
			s.place = Place{Screen: "section", Case: s.child.id, Note: n.ID}
		}
	}
	for i, gone := range []bool{false, true, false} {
		html := app.HTMLString(&frame{s: s})
		if strings.Contains(html, "This note is not here") != gone || strings.Contains(html, `class="over"`) == gone {
			t.Errorf("%d: %.900s", i, html)
		}
		s.undo(i > 0)
	}
}

func TestNothingIsLostWhenTheStoreRefuses(t *testing.T) {
	s, o, store := begun(t)
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	if got := s.keeper.words(); got != "Kept on this device" {
		t.Errorf("says %q", got)
	}
	store.why = ledger.ErrFull
	o.do.Type(none, schema.ChildSurname, "Testchild")
	if got := s.keeper.words(); got != "Keeping…" {
		t.Errorf("says %q while it is not kept", got)
	}
	if err := keepNow(s); !errors.Is(err, ledger.ErrFull) {
		t.Fatal(err)
	}
	o.do.Leave(none, schema.ChildSurname)
	keepNow(s)
	if got := s.keeper.words(); got != "NOT KEPT" {
		t.Errorf("says %q", got)
	}
	if why := s.keeper.trouble(); !strings.Contains(why, "no room") || !strings.HasSuffix(why, ".") {
		t.Errorf("why: %q", why)
	}
	store.why = nil
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	events, _ := store.Events(context.Background(), s.child.id)
	if rec := ledger.FoldCase(s.child.id, events); rec.Note(o.id).Text(schema.ChildSurname) != "Testchild" {
		t.Error("what the store refused was not handed to it again")
	}
	if got := s.keeper.words(); got != "Kept on this device" {
		t.Errorf("says %q", got)
	}
}

func TestDraftsAreTakenUpAfterACrash(t *testing.T) {
	s, o, store := begun(t)
	o.do.Type(none, schema.ChildSurname, "Test")
	o.do.Type(none, schema.ChildBirthWeight, "3,")
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	// The tab is gone; another begins.
	again := newSession(s.zone, rand.New(rand.NewSource(8)))
	again.store, again.device = store, device{log: store}
	again.setWho(s.who)
	events, _ := store.Events(context.Background(), s.child.id)
	drafts, _ := store.Drafts(context.Background(), s.child.id)
	again.child = again.newChildOf(ledger.FoldCase(s.child.id, events))
	again.child.takeDrafts(drafts, nil)
	o2 := again.child.open(o.id)
	if o2.textOf(schema.ChildSurname) != "Test" || o2.textOf(schema.ChildBirthWeight) != "3," {
		t.Errorf("taken up: %v", o2.drafts)
	}
	if err := keepNow(again); err != nil {
		t.Fatal(err)
	}
	drafts, _ = store.Drafts(context.Background(), s.child.id)
	if len(drafts) != 2 {
		t.Fatalf("%d drafts are kept, want the two of the new tab", len(drafts))
	}
	for _, d := range drafts {
		if d.Writer != again.writerID {
			t.Error("a draft still belongs to the tab that is gone")
		}
	}
	// A tab that is still open keeps its own.
	third := newSession(s.zone, rand.New(rand.NewSource(9)))
	third.store = store
	third.child = third.newChildOf(ledger.FoldCase(s.child.id, events))
	third.child.takeDrafts(drafts, map[ledger.WriterID]bool{again.writerID: true})
	if len(third.child.open(o.id).drafts) != 0 {
		t.Error("a draft was taken from a tab that is open")
	}
}

func TestDisagreementIsShownAndSettled(t *testing.T) {
	s, o, _ := begun(t)
	base := ledger.FoldCase(s.child.id, s.child.rec.Events())
	o.do.Type(none, schema.ChildBirthWeight, "3.1")
	o.do.Leave(none, schema.ChildBirthWeight)
	other := ledger.NewWriter(s.child.id, ledger.WriterID(s.ids.New()), ledger.Author{Name: "B. Gas", Role: "anaesthetist"}, s.clock, s.ids, s.now)
	s.child.take([]ledger.Event{other.Set(base, o.id, schema.ChildBirthWeight, ledger.Number("3.4"))})
	f := o.sectionForm("child").Field(schema.FieldAt(schema.ChildBirthWeight), schema.ChildBirthWeight)
	if len(f.Versions) != 2 || f.Versions[0].Shown != "3.1 kg" || f.Versions[1].By != "B. Gas (anaesthetist)" {
		t.Fatalf("versions: %+v", f.Versions)
	}
	o.do.Settle(none, schema.ChildBirthWeight, 1)
	if got := o.working.Decimal(schema.ChildBirthWeight); got != "3.4" || len(s.child.rec.Disagreements()) != 0 {
		t.Errorf("settled to %q, %d disagreements left", got, len(s.child.rec.Disagreements()))
	}
}

// What another person writes into a field while one is typing there is not written
// over unseen: both stand. What one wrote oneself, between two rests, is.
func TestTypingOverWhatCameMeanwhile(t *testing.T) {
	s, o, _ := begun(t)
	at := schema.ChildSurname
	other := ledger.NewWriter(s.child.id, ledger.WriterID(s.ids.New()), ledger.Author{Name: "B. Gas", Role: "anaesthetist"}, s.clock, s.ids, s.now)
	o.do.Type(none, at, "Ald")
	o.rested(at, true)
	o.do.Type(none, at, "Alde")
	o.rested(at, true)
	o.do.Type(none, at, "Alder")
	o.do.Leave(none, at)
	if got := o.working.Text(at); got != "Alder" || len(s.child.rec.Values(o.id, at)) != 1 {
		t.Fatalf("alone: %q, %d values", got, len(s.child.rec.Values(o.id, at)))
	}
	base := ledger.FoldCase(s.child.id, s.child.rec.Events())
	o.do.Type(none, at, "Elder")
	s.child.take([]ledger.Event{other.Set(base, o.id, at, ledger.Entry{Value: "Birch"})})
	o.do.Type(none, at, "Elders")
	o.do.Leave(none, at)
	dis, ok := s.child.rec.Disagreement(o.id, at)
	if !ok || len(dis.Values) != 2 || dis.Values[0].Value != "Birch" || dis.Values[1].Value != "Elders" {
		t.Fatalf("both do not stand: %+v", s.child.rec.Values(o.id, at))
	}
	o.do.Settle(none, at, 1)
	if got := o.working.Text(at); got != "Elders" || len(s.child.rec.Disagreements()) != 0 {
		t.Errorf("settled to %q", got)
	}
	// What cannot be read takes away only what its writer saw.
	at = schema.ChildBirthWeight
	base = ledger.FoldCase(s.child.id, s.child.rec.Events())
	o.do.Type(none, at, "3,400")
	s.child.take([]ledger.Event{other.Set(base, o.id, at, ledger.Number("3.1"))})
	o.do.Leave(none, at)
	if got := s.child.rec.Note(o.id).Decimal(at); got != "3.1" {
		t.Errorf("the record holds %q", got)
	}
}

func TestNobodyWritesWithoutAName(t *testing.T) {
	s, o, _ := begun(t)
	s.setWho(ledger.Author{})
	n := s.child.rec.Len()
	o.do.Type(none, schema.ChildSurname, "x")
	o.do.State(none, schema.ChildSurname, schema.StatedUnknown)
	o.do.AddRow(none, schema.SupportRuns)
	if s.child.rec.Len() != n || len(o.drafts) != 0 {
		t.Error("something was written without a name")
	}
	if !o.sectionForm("child").Locked {
		t.Error("the form is not locked")
	}
}

func TestFileGoesOutAndComesIn(t *testing.T) {
	s, o, store := begun(t)
	o.do.Type(none, schema.ChildSurname, "Testchild")
	s.commitHere()
	content, err := ledger.Export(s.child.rec.Events())
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains([]byte(ledger.FileName(s.child.id)), []byte("Testchild")) {
		t.Error("the file's name tells who the child is")
	}
	keepNow(s)
	before, _ := store.Events(context.Background(), s.child.id)
	s.importFile(content, "")
	keepNow(s)
	after, _ := store.Events(context.Background(), s.child.id)
	if len(before) != len(after) {
		t.Errorf("opening one's own file again made %d of %d events", len(after), len(before))
	}
	for _, bad := range []string{"", "{", "[1,2]", `{"resourceType":"Bundle"}`, "\xff\xfe\x00"} {
		s.notices = nil
		s.importFile([]byte(bad), "")
		if len(s.notices) != 1 || s.notices[0].class != "bad" || !strings.Contains(s.notices[0].words, "othing here was changed") {
			t.Errorf("%q: %+v", bad, s.notices)
		}
	}
}

func TestPlaces(t *testing.T) {
	for _, p := range []Place{
		{Screen: "children"}, {Screen: "device"}, {Screen: "gallery", Part: "widgets"}, {Screen: "child", Case: "c"},
		{Screen: "section", Case: "c", Note: "n", Part: "support"}, {Screen: "check", Case: "c", Note: "n", Part: "arrival"}, {Screen: "sheet", Case: "c", Note: "n"},
	} {
		if got := PlaceAt(p.Path()); got != p {
			t.Errorf("%s read as %+v, want %+v", p.Path(), got, p)
		}
	}
}

func TestAlikeNames(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"Testerby", "Testerby", true}, {"Testerby", "TESTERBY", true}, {"Testerby", "Testerbey", true}, {"Testerby", "Testreby", true},
		{"Testerby", "Tester-by", true}, {"Testerby", "Sampleworth", false}, {"Testerby", "Tasterbey", false}, {"", "", false}, {"Ng", "Ngo", true},
	} {
		if got := alikeNames(identity{Surname: c.a}, identity{Surname: c.b}); got != c.want {
			t.Errorf("%q and %q: %v", c.a, c.b, got)
		}
	}
}

// Every screen that is there draws for a child with a full record, and for an
// address that leads nowhere.
func TestScreensDraw(t *testing.T) {
	s, o, _ := begun(t)
	o.do.Type(none, schema.ChildSurname, `<script>alert(1)</script>`)
	for name, sc := range screens {
		s.place = Place{Screen: name}
		if sc.child {
			s.place.Case = s.child.id
		}
		if sc.note {
			s.place.Note = o.id
		}
		if name == "check" {
			s.place.Part = "leaving"
		}
		f := &frame{s: s}
		html := app.HTMLString(f)
		if strings.Contains(html, "cannot be shown") || strings.Contains(html, "The address leads to nothing") {
			t.Errorf("%s is not drawn: %.300s", name, html)
		}
	}
	s.place = Place{Screen: "nowhere"}
	if html := app.HTMLString(&frame{s: s}); !strings.Contains(html, "leads to nothing") {
		t.Error("a lost address says nothing")
	}
}

// TestHalfTypedForms: a reason half typed into a form is kept as it is typed, is
// there after a restart and after its tab was killed, is forgotten when the form is
// done, and is no field of any note.
func TestHalfTypedForms(t *testing.T) {
	s, _, store := begun(t)
	s.child.halfTyped("withdraw-x", "it was n")
	s.child.halfTyped("wrong-why", "the other bed")
	s.child.halfTyped("wrong-why", "")
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	drafts, err := store.Drafts(context.Background(), s.child.id)
	if err != nil || len(drafts) != 1 {
		t.Fatalf("kept: %v, %v", drafts, err)
	}
	again := func(writer ledger.WriterID, open map[ledger.WriterID]bool) *Child {
		s.writerID = writer
		c := s.newChildOf(s.child.rec)
		c.takeDrafts(drafts, open)
		return c
	}
	o := s.child.open(s.place.Note)
	o.do.Because(schema.MeasuresWeight, "usual", "weighed tw")
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	more, _ := store.Drafts(context.Background(), s.child.id)
	reopened := s.newChildOf(s.child.rec)
	reopened.takeDrafts(more, nil)
	if o := reopened.open(s.place.Note); o.asking[schema.MeasuresWeight] != "usual" || o.do.Reason(schema.MeasuresWeight, "usual") != "weighed tw" {
		t.Errorf("the reason for an answer: %v", reopened.half)
	}
	o.do.Answer(none, schema.MeasuresWeight, "usual", "weighed twice")
	was := s.writerID
	if c := again("another tab", map[ledger.WriterID]bool{was: true}); c.half["withdraw-x"] != "" {
		t.Error("what another open tab is typing was taken from it")
	}
	c := again("after the restart", nil)
	if c.half["withdraw-x"] != "it was n" || len(c.notes) != 0 {
		t.Errorf("after a restart: %v, and %d notes were opened for it", c.half, len(c.notes))
	}
	c.halfTyped("withdraw-x", "")
	if err := keepNow(s); err != nil {
		t.Fatal(err)
	}
	if drafts, _ := store.Drafts(context.Background(), s.child.id); len(drafts) != 0 {
		t.Errorf("the draft outlived its form: %v", drafts)
	}
}

// A field names only what fits it, keeps what it names already, and says which item
// it was when that is taken off the list.
func TestFieldNamesFittingItems(t *testing.T) {
	s, o, _ := begun(t)
	c, row := s.child, s.ids.New()
	line, pack, conduit := c.writer.NewItem(), c.writer.NewItem(), c.writer.NewItem()
	c.act(c.writer.ListItem(o.id, line, "central-venous-line", 7), c.writer.ListItem(o.id, pack, "left-on-purpose", 8), c.writer.ListItem(o.id, conduit, "implant", 9))
	c.act(c.writer.AddRow(c.rec, o.id, schema.InfusionsRunning, row)...)
	choices := func(at schema.Path) (tags []int) {
		o.renew()
		for _, ch := range o.form().Field(o.working.FieldAt(at), at, row).Items {
			tags = append(tags, ch.Tag)
		}
		return tags
	}
	at := schema.InfusionsRunningItem.In(row)
	if got := choices(at); !slices.Equal(got, []int{7}) {
		t.Errorf("an infusion can run through tags %v", got)
	}
	c.act(c.writer.Set(c.rec, o.id, schema.SupplyKind, ledger.Entry{Value: "central-shunt"}))
	if got := choices(schema.SupplyItem); !slices.Equal(got, []int{9}) {
		t.Errorf("the shunt can be tags %v", got)
	}
	c.act(c.writer.Set(c.rec, o.id, at, ledger.Entry{Value: string(pack)}))
	if got := choices(at); !slices.Equal(got, []int{7, 8}) {
		t.Errorf("with a pack named: tags %v", got)
	}
	c.act(c.writer.Set(c.rec, o.id, at, ledger.Entry{Value: string(line)}))
	c.act(c.writer.WithdrawItem(c.rec, line, "another child's"))
	o.renew()
	f := o.form().Field(o.working.FieldAt(at), at, row)
	if !strings.Contains(f.Shown, "tag 7, which was taken off the list") {
		t.Errorf("taken off the list, it reads %q", f.Shown)
	}
	for name, e := range map[string]ledger.Entry{"drug": {Value: "calcium-chloride"}, "dose": ledger.Number("10"), "doseUnit": {Value: "mg/kg/h"}} {
		c.act(c.writer.Set(c.rec, o.id, schema.RowPath(schema.InfusionsRunning, row, name), e))
	}
	o.renew()
	list := o.form().Field(schema.FieldAt(schema.InfusionsRunning), schema.InfusionsRunning)
	if got := list.Rows[0].Summary; strings.Count(got, "mg/kg/h") != 1 {
		t.Errorf("the row reads %q", got)
	}
	if len(list.Rows) != 1 || !strings.Contains(list.Rows[0].Summary, "tag 7") {
		t.Errorf("the row: %+v", list.Rows)
	}
}

// A drain goes to a chamber, not to a pacing wire.
func TestChamberIsAChamber(t *testing.T) {
	s, o, _ := begun(t)
	var id [3]ledger.ItemID
	for i, kind := range []string{"drain", "pacing-wires", "drain-chamber"} {
		id[i] = s.child.writer.NewItem()
		s.child.act(s.child.writer.ListItem(o.id, id[i], kind, i+1))
	}
	o.renew()
	for of, want := range map[schema.Path]string{schema.ItemPath(string(id[0]), "chamber"): string(id[2]), schema.ItemPath(string(id[2]), "drains"): string(id[0])} {
		if got := o.sectionForm("items").itemChoices(o.working.FieldAt(of), of); len(got) != 1 || got[0].Value != want {
			t.Errorf("%s offers %v", of, got)
		}
	}
}

// Beside the way in the surgeon reads what the notes before say of it, where and when.
func TestToldBeforeTheNextOperation(t *testing.T) {
	s, first, _ := begun(t)
	set(s, first, schema.ApproachBehindSternum, ledger.Entry{Value: "conduit"})
	set(s, first, schema.OperationDate, ledger.Entry{Value: "2026-07-14"})
	next := s.child.writer.NewNote()
	s.child.act(s.child.writer.OpenNote(next, schema.Stage2))
	if s.toldBefore(first.id, "approach") != nil {
		t.Error("beside the first note something is told from before")
	}
	html := drawn(t, s.toldBefore(next, "approach"))
	for _, want := range []string{"From the notes before", "Stage 1", "14-Jul-2026", "Behind the sternum now", "Conduit"} {
		if !strings.Contains(html, want) {
			t.Errorf("%q is not told: %s", want, html)
		}
	}
	wires := s.child.writer.NewItem()
	s.child.act(s.child.writer.ListItem(first.id, wires, "pacing-wires", 1))
	s.child.act(s.child.writer.Happen(ledger.KindCutLeft, wires, ledger.RegisterFacts{Note: "2 cm under the skin"}))
	if html := drawn(t, s.toldBefore(next, "approach")); strings.Contains(html, "Left inside") {
		t.Error("what was cut after the note was begun is told from before")
	}
	third := s.child.writer.NewNote()
	s.child.act(s.child.writer.OpenNote(third, schema.Stage3))
	html = drawn(t, s.toldBefore(third, "approach"))
	for _, want := range []string{"Cut and left inside: pacing wires", "(tag 1)", "2 cm under the skin"} {
		if !strings.Contains(html, want) {
			t.Errorf("%q is not told: %s", want, html)
		}
	}
	if s.toldBefore(next, "closing") != nil {
		t.Error("it is told beside another section")
	}
}
