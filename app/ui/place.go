package ui

import (
	"strings"

	"fairlead/handover/ledger"
)

// Place is a screen and what it shows. Its address is a real path that opens
// from outside, with or without a network; it holds ids, never anything about a
// child.
type Place struct {
	Screen string // the screen's name, see screens.go
	Case   ledger.CaseID
	Note   ledger.NoteID
	Part   string // the section of a note, the occasion of a check
}

// PlaceAt reads an address.
func PlaceAt(path string) Place {
	p := strings.Split(strings.Trim(path, "/"), "/")
	at := func(i int) string {
		if i < len(p) {
			return p[i]
		}
		return ""
	}
	if at(0) == "" {
		return Place{Screen: "children"}
	}
	if at(0) != "child" || at(1) == "" {
		return Place{Screen: at(0), Part: at(1)}
	}
	place := Place{Screen: "child", Case: ledger.CaseID(at(1))}
	if at(2) == "note" && at(3) != "" {
		place.Note, place.Screen, place.Part = ledger.NoteID(at(3)), at(4), at(5)
		if place.Screen == "" {
			place.Screen = "section"
		}
	} else if at(2) != "" {
		place.Screen, place.Part = at(2), at(3)
	}
	return place
}

// Path is the address of the place.
func (p Place) Path() string {
	var b strings.Builder
	if p.Case != "" {
		b.WriteString("/child/" + string(p.Case))
		if p.Note != "" {
			b.WriteString("/note/" + string(p.Note))
		}
	}
	if p.Screen != "children" && !(p.Screen == "child" && p.Note == "") {
		b.WriteString("/" + p.Screen)
		if p.Part != "" {
			b.WriteString("/" + p.Part)
		}
	}
	if b.Len() == 0 {
		return "/"
	}
	return b.String()
}

// With is the place with another screen and part for the same child and note.
func (p Place) With(screen, part string) Place {
	p.Screen, p.Part = screen, part
	return p
}
