package sheet

import (
	"fairlead/handover/calc"
	"fairlead/handover/ledger"
	"fairlead/handover/lines"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// Facts is everything the sheet is made from. [FromRecord] gathers them from a
// child's record; a bare note needs only the first three.
type Facts struct {
	Note    *schema.Note
	Profile *profile.Profile // nil: the profile that ships
	At      schema.Moment    // when the sheet is made; passed in, never read

	Opinions   map[schema.Path][]Opinion // places where two people's values differ
	Unread     map[schema.Path]string    // what was typed in places of the note where it could not be read
	Checks     [2]Check                  // the bedside checks: Leaving, Arrival
	Signatures []Signature
	Changes    []Change // made after the note was signed
	Reasons    []Reason
	Untold     int     // changes after signing that no receiver was told of
	Told       []Told  // who was told again after a change
	Earlier    []Stage // the operations before this one, oldest first
	Later      []Stage // those after it
	News       map[string]News
	Fates      map[string]Fate    // what happened to the items at the bed, where anything did
	Gone       []Gone             // items that are no longer in the child
	Added      []Gone             // items listed at the bed since, in no note: in the child, and not in this note
	Drained    []lines.LastOutput // what was read last of the drains at the bed
	About      calc.About         // who entered what, for what is computed; may be left out
	Computed   []calc.Result      // the values computed from the note; nil: computed here
	Open       *int               // fields wanted and not recorded, where the caller has counted them; nil: counted here
	Inside     []lines.Left       // what was cut and left inside, whichever note lists it
	Faults     []string           // sentences about what the record could not settle
}

// The two occasions of the bedside check.
const (
	Leaving = 0
	Arrival = 1
)

// occasions words them.
var occasions = [2]string{"Leaving theatre", "Arrival"}

// Opinion is one of several current values of one place.
type Opinion struct {
	Shown string // as a reader sees it
	By    string
	At    schema.Moment
}

// Answer is what a bedside check found of one item.
type Answer struct {
	Word        string // found, differs, not found, extra, cannot see now, inside
	Differences []Difference
	Note        string
	LookAgain   schema.Moment
	By          string
	At          schema.Moment
	Others      []string // what others answered who had not seen this answer
	SettledBy   string   // who settled or signed for the difference
	Settled     string   // what was done
	Flag        int      // what was found and not listed: the flag under which it is now; 0 for none
}

// Difference is one attribute that the bedside shows otherwise.
type Difference struct{ Field, Sheet, Bedside string }

// Check is one bedside check.
type Check struct {
	Begun    bool
	Answers  map[string]Answer // by item
	Extra    []Answer          // found and not listed
	Closed   bool
	ClosedAt schema.Moment
	By       []string // the names that signed it
	Signed   bool     // closed with a difference signed for
	Changed  bool     // an answer or an item changed after it was closed
	Tally    string   // the count in one sentence
}

// Signature is one typed, unauthenticated name under the note or a section.
type Signature struct {
	Section string // "" is the whole note
	Name    string
	Role    string
	At      schema.Moment
	Open    int // items open when it was signed
}

// Change is what was changed at one place after signing, by whom and when last.
type Change struct {
	Path schema.Path // "" if it is about none
	What string      // the kind of event
	Was  string      // the value that was signed, where it is about a field
	Is   string      // the value now
	By   string
	At   schema.Moment
}

// Reason is why a signed note was changed, in somebody's words.
type Reason struct {
	Why string
	By  string
	At  schema.Moment
}

// Told is one word that the receiver was told again.
type Told struct {
	Who string
	By  string
	At  schema.Moment
}

// Stage is one operation of the child.
type Stage struct {
	Kind schema.Kind
	Date schema.Date
	Plan map[schema.Path]int // how many worries, targets and calls its note has
}

// News says how an item stands to this operation.
type News string

// The standings.
const (
	New       News = "new"
	Unchanged News = "unchanged"
)

// Gone is an item that is no longer in the child, or that left the unit in the child.
type Gone struct {
	Item  string
	Tag   int
	Words string // its name
	How   string // removed, exchanged, gone home …
	Fate  Fate   // what had happened to it before
	At    schema.Moment
	Since bool // it was in when this operation ended
}

// withChild tells whether it is in the child still, who went home or to a ward.
func (g Gone) withChild() bool {
	return g.How == string(ledger.GoneHome) || g.How == string(ledger.Transferred)
}
