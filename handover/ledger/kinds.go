package ledger

import (
	"encoding/json"

	"fairlead/schema"
)

// The kinds of event. The body of each is documented in doc.go.
const (
	KindCaseOpened          = "case opened"
	KindNoteOpened          = "note opened"
	KindFieldSet            = "field set"
	KindRowAdded            = "row added"
	KindRowRemoved          = "row removed"
	KindItemListed          = "item listed"
	KindItemWithdrawn       = "item withdrawn"
	KindItemRetagged        = "item retagged"
	KindItemChecked         = "item checked"
	KindDifferenceSettled   = "difference settled"
	KindCheckClosed         = "check closed"
	KindQuestionAnswered    = "question answered"
	KindSectionSigned       = "section signed"
	KindNoteSigned          = "note signed"
	KindAmended             = "amended"
	KindSheetTold           = "sheet told"
	KindCasesJoined         = "cases joined"
	KindCasesParted         = "cases parted"
	KindRetracted           = "retracted"
	KindRetractionWithdrawn = "retraction withdrawn"
	KindOffered             = "offered"
	KindOfferAnswered       = "offer answered"
	KindDischarged          = "discharged"

	// What happens to an item in the register.
	KindPlaced    = "placed"
	KindConfirmed = "confirmed"
	KindChecked   = "checked"
	KindMoved     = "moved"
	KindRemoved   = "removed"
	KindExchanged = "exchanged"
	KindCutLeft   = "cut and left"
	KindLost      = "lost"
	KindToTheatre = "taken back to theatre"
	KindGoneHome  = "gone home"
)

// How a value came to be entered.
const (
	HowTyped     = "typed"
	HowPick      = "pick"
	HowDictation = "dictation"
	HowPasted    = "pasted"
	HowCopied    = "copied forward"
	HowOffered   = "offered" // it was entered on another child first
)

// Origin is how a value came to be entered, and the words it was taken from.
type Origin struct {
	How   string `json:"how"`
	Words string `json:"words,omitempty"`
}

// The bodies, version 1. Members are as in doc.go; ids in replaces are the events
// the author saw in force and sets aside.
type (
	fieldSet struct {
		Path     schema.Path     `json:"path"`
		Value    json.RawMessage `json:"value,omitempty"`
		Decimal  string          `json:"decimal,omitempty"`
		Stated   string          `json:"stated,omitempty"`
		Bound    string          `json:"bound,omitempty"`
		Typed    string          `json:"typed,omitempty"`
		Unit     string          `json:"unit,omitempty"`
		Origin   *Origin         `json:"origin,omitempty"`
		Replaces []EventID       `json:"replaces,omitempty"`
	}
	rowChange struct { // row added, row removed
		List     schema.Path `json:"list"`
		Row      string      `json:"row"`
		Replaces []EventID   `json:"replaces,omitempty"`
		Saw      []EventID   `json:"saw,omitempty"`
	}
	itemListed struct {
		Item     ItemID    `json:"item"`
		Kind     string    `json:"kind"`
		Tag      int       `json:"tag"`
		Replaces []EventID `json:"replaces,omitempty"`
		Retags   []EventID `json:"retags,omitempty"`
	}
	itemWithdrawn struct {
		Item     ItemID    `json:"item"`
		Why      string    `json:"why,omitempty"`
		Replaces []EventID `json:"replaces,omitempty"`
		Saw      []EventID `json:"saw,omitempty"`
	}
	itemRetagged struct {
		Item     ItemID    `json:"item"`
		Tag      int       `json:"tag"`
		Replaces []EventID `json:"replaces,omitempty"`
	}
	itemChecked struct {
		Item        ItemID        `json:"item"`
		Occasion    Occasion      `json:"occasion"`
		Answer      Answer        `json:"answer"`
		Differs     []Difference  `json:"differs,omitempty"`
		Note        string        `json:"note,omitempty"`
		LookAgainBy schema.Moment `json:"lookAgainBy"`
		Replaces    []EventID     `json:"replaces,omitempty"`
	}
	differenceSettled struct {
		Check EventID `json:"check"`
		How   string  `json:"how"`
		By    string  `json:"by,omitempty"`
	}
	checkClosed struct {
		Occasion          Occasion  `json:"occasion"`
		Tally             Counts    `json:"tally"`
		SignedDifferences []EventID `json:"signedDifferences,omitempty"`
		covered
	}
	questionAnswered struct {
		Rule     string                 `json:"rule"`
		Path     schema.Path            `json:"path"`
		Answer   string                 `json:"answer"`
		Why      string                 `json:"why,omitempty"`
		Saw      map[schema.Path]string `json:"saw,omitempty"`
		Replaces []EventID              `json:"replaces,omitempty"`
	}
	signed struct { // section signed, note signed, sheet told
		Section string `json:"section,omitempty"`
		How     string `json:"how,omitempty"`
		Open    int    `json:"open,omitempty"`
		Who     string `json:"who,omitempty"`
		covered
	}
	covered struct {
		Covers string `json:"covers"`
		Count  int    `json:"count"`
		IDs    string `json:"ids,omitempty"`
	}
	joined struct {
		Other    CaseID    `json:"other"`
		Why      string    `json:"why,omitempty"`
		Replaces []EventID `json:"replaces,omitempty"`
	}
	retracted struct { // retracted, retraction withdrawn
		Events    []EventID `json:"events"`
		Why       string    `json:"why,omitempty"`
		OfferedTo CaseID    `json:"offeredTo,omitempty"`
		Offer     EventID   `json:"offer,omitempty"`
	}
	offered struct { // version 2; of version 1 its values are made into such events
		From   CaseID  `json:"from"`
		Why    string  `json:"why,omitempty"`
		Events []Event `json:"events"`
		Things []Thing `json:"things,omitempty"` // that they are about and do not list

		again []int // of version 1: which value stands before at the same path, from 1
	}
	offeredSets struct { // offered, version 1
		From CaseID         `json:"from"`
		Sets []offeredValue `json:"sets"`
		Why  string         `json:"why,omitempty"`
	}
	offeredValue struct {
		Path    schema.Path     `json:"path"`
		Value   json.RawMessage `json:"value,omitempty"`
		Decimal string          `json:"decimal,omitempty"`
		Stated  string          `json:"stated,omitempty"`
		Bound   string          `json:"bound,omitempty"`
		Author  Author          `json:"author"`
	}
	offerAnswered struct {
		Offer  EventID   `json:"offer"`
		Taken  bool      `json:"taken"`
		Events []EventID `json:"events,omitempty"` // taken of it; none: all of it
		With   CaseID    `json:"with,omitempty"`   // the other record
		Undone bool      `json:"undone,omitempty"` // the answer was taken back, or what was offered was brought back
	}
	registered struct { // placed … gone home
		Item ItemID `json:"item"`
		RegisterFacts
	}
	noteOpened struct {
		Kind schema.Kind `json:"kind"`
	}
	amended struct {
		Why string `json:"why"`
	}
	empty struct{}
)

func leaf[T any](b json.RawMessage) (any, error) {
	t := new(T)
	err := json.Unmarshal(b, t)
	return t, err
}

// readers reads the body of a kind, by version: the first reads version 1. A later
// version gets a reader of its own, and the older ones stay and upgrade what they
// read.
var readers = map[string][]func(json.RawMessage) (any, error){
	KindCaseOpened:          {leaf[empty]},
	KindNoteOpened:          {leaf[noteOpened]},
	KindFieldSet:            {readFieldSet},
	KindRowAdded:            {readRow},
	KindRowRemoved:          {readRow},
	KindItemListed:          {checkedItem(func(b *itemListed) bool { return isID(string(b.Item)) && b.Kind != "" && b.Tag > 0 })},
	KindItemWithdrawn:       {checkedItem(func(b *itemWithdrawn) bool { return isID(string(b.Item)) })},
	KindItemRetagged:        {checkedItem(func(b *itemRetagged) bool { return isID(string(b.Item)) && b.Tag > 0 })},
	KindItemChecked:         {checkedItem(func(b *itemChecked) bool { return isID(string(b.Item)) && b.Occasion != "" })},
	KindDifferenceSettled:   {leaf[differenceSettled]},
	KindCheckClosed:         {leaf[checkClosed]},
	KindQuestionAnswered:    {leaf[questionAnswered]},
	KindSectionSigned:       {leaf[signed]},
	KindNoteSigned:          {leaf[signed]},
	KindSheetTold:           {leaf[signed]},
	KindAmended:             {leaf[amended]},
	KindCasesJoined:         {checkedItem(func(b *joined) bool { return isID(string(b.Other)) })},
	KindCasesParted:         {checkedItem(func(b *joined) bool { return isID(string(b.Other)) })},
	KindRetracted:           {leaf[retracted]},
	KindRetractionWithdrawn: {leaf[retracted]},
	KindOffered:             {readOfferedSets, leaf[offered]},
	KindOfferAnswered:       {leaf[offerAnswered]},
	KindDischarged:          {leaf[discharged]},
	KindPlaced:              {readAnyRegistered},
	KindConfirmed:           {readAnyRegistered},
	KindChecked:             {readAnyRegistered},
	KindMoved:               {readAnyRegistered},
	KindRemoved:             {readAnyRegistered},
	KindExchanged:           {readAnyRegistered},
	KindCutLeft:             {readAnyRegistered},
	KindLost:                {readAnyRegistered},
	KindToTheatre:           {readAnyRegistered},
	KindGoneHome:            {readAnyRegistered},
}

// checkedItem reads a body and refuses one that says nothing usable.
func checkedItem[T any](ok func(*T) bool) func(json.RawMessage) (any, error) {
	return func(b json.RawMessage) (any, error) {
		t := new(T)
		if err := json.Unmarshal(b, t); err != nil {
			return nil, err
		}
		if !ok(t) {
			return nil, errBody
		}
		return t, nil
	}
}

func readRow(b json.RawMessage) (any, error) {
	r := new(rowChange)
	if err := json.Unmarshal(b, r); err != nil {
		return nil, err
	}
	if !placeable(schema.RowPath(r.List, r.Row, "x")) {
		return nil, errBody
	}
	return r, nil
}

// reading is what the fold made of an event's body.
type reading int

const (
	read       reading = iota
	unknown            // a kind or version from a newer program
	unreadable         // a kind we know, with a body that cannot be
)

// decode reads the body of an event, upgrading older versions.
func decode(e *Event) (any, reading) {
	versions, ok := readers[e.Kind]
	if !ok || e.V > len(versions) {
		return nil, unknown
	}
	if e.V < 1 {
		return nil, unreadable
	}
	body, err := versions[e.V-1](e.Body)
	if err != nil {
		return nil, unreadable
	}
	return body, read
}
