package ui

import (
	"context"
	"encoding/json"
	"errors"
	"strings"

	"fairlead/app/keep"
	"fairlead/app/ui/safe"
	"fairlead/schema"
	"fairlead/schema/profile"
)

// settings is how the unit's profile is kept on this device, and the change to it
// that is under way.
type settings struct {
	store    settingStore
	trouble  string // why a change is not kept, in a sentence
	revision int
	acts     []act
	unusable string // what is kept and cannot be used by this version

	busy   bool
	did    string // what was done last, in a sentence
	file   string // the name of the file that was chosen last
	faults []profile.Fault
	offer  *profile.Profile // a good file, until somebody says to use it
	change change

	adding, addWrong string // the name of an entry being added, and what is wrong with it
}

// settingStore keeps texts about the unit by name; a write names the revision it
// goes over, and fails with keep.ErrOvertaken if that is not the one kept.
type settingStore interface {
	Read(ctx context.Context, name string) (text string, revision int, err error)
	Write(ctx context.Context, name, text string, over int) (revision int, err error)
}

// keptProfile is the name the profile is kept under.
const keptProfile = "unit-profile"

// act is something done to the profile as a whole.
type act struct {
	By  string `json:"by"`
	At  string `json:"at"`
	Did string `json:"did"`
}

// keptText is the profile as it is kept: the file itself, and what was done to it
// as a whole.
type keptText struct {
	Format  string `json:"format"`
	Profile string `json:"profile"`
	Acts    []act  `json:"acts,omitempty"`
}

const keptFormat = "fairlead-kept-profile/1"

// readSettings opens the settings of this device and takes the profile from them.
// Until then the shipped one holds, in which no limit and no dose is in force.
func (s *Session) readSettings() {
	go safe.Guard("settings", func() {
		store, err := openSettings(context.Background(), func(name string) {
			if name == keptProfile {
				s.readProfile()
			}
		})
		s.later(func() {
			if err != nil {
				s.settings.trouble = notKeptWords(err)
				return
			}
			s.settings.store = store
			s.readProfile()
		})
	})
}

// readProfile reads what is kept, at the start and when another tab changed it.
func (s *Session) readProfile() {
	store := s.settings.store
	if store == nil {
		return
	}
	go safe.Guard("profile", func() {
		text, revision, err := store.Read(context.Background(), keptProfile)
		s.later(func() {
			if err != nil {
				s.settings.trouble = notKeptWords(err)
				s.say(notice{id: "profile", class: "bad", words: "The unit profile of this device could not be read: " + notKeptWords(err) + " The shipped one holds, in which no dose and no limit is in force."})
				return
			}
			s.takeKept(text, revision)
		})
	})
}

// takeKept takes the profile from what is kept. What cannot be used is left as it
// is, and the profile in use stays.
func (s *Session) takeKept(text string, revision int) {
	s.settings.revision = revision
	if text == "" {
		return
	}
	var kept keptText
	err := json.Unmarshal([]byte(text), &kept)
	p, faults := profile.Load([]byte(kept.Profile))
	if err != nil || kept.Format != keptFormat || len(faults) > 0 {
		s.settings.unusable = kept.Profile
		if kept.Profile == "" {
			s.settings.unusable = text
		}
		s.settings.file, s.settings.faults = "the one kept on this device", faults
		s.say(notice{id: "profile", class: "bad", words: "The unit profile kept on this device cannot be used by this version. " + s.standsIn() + " What is kept stays until somebody changes the profile; the unit profile's screen says what is wrong."})
		return
	}
	s.settings.unusable, s.settings.acts = "", kept.Acts
	s.useProfile(p)
}

func (s *Session) standsIn() string {
	if s.settings.revision == 0 || s.unit == nil {
		return "The shipped one holds, in which no dose and no limit is in force."
	}
	return "The last good one stays."
}

// useProfile puts a profile in force in this tab: everything that was worked out
// with the one before is worked out again.
func (s *Session) useProfile(p *profile.Profile) {
	s.unit = p
	if s.child != nil {
		for _, o := range s.child.notes {
			o.due[""], o.facts = true, nil
			clear(o.lines)
		}
	}
	s.sheetSoon()
}

// keepProfile keeps a changed profile and puts it in force once it is kept. did
// says what was done, in a sentence; whole is for what concerns all of it.
func (s *Session) keepProfile(p *profile.Profile, did string, whole bool, then func()) {
	set := &s.settings
	acts := set.acts
	if whole {
		acts = append(acts[:len(acts):len(acts)], act{By: s.who.String(), At: s.now().String(), Did: did})
	}
	text, err := json.Marshal(keptText{Format: keptFormat, Profile: string(p.JSON()), Acts: acts})
	if err != nil {
		panic("profile: " + err.Error()) // it is made of strings
	}
	done := func(revision int, err error) {
		set.busy = false
		if errors.Is(err, keep.ErrOvertaken) {
			set.did = ""
			s.say(notice{id: "profile", class: "bad", words: "Not changed: " + keep.ErrOvertaken.Error() + "."})
			s.readProfile()
			return
		}
		set.revision, set.acts, set.did, set.unusable = revision, acts, did+" Kept on this device.", ""
		if err != nil {
			set.trouble = notKeptWords(err)
		}
		if set.trouble != "" {
			set.did = did + " NOT KEPT: it holds in this tab only, until it is closed. " + set.trouble
		}
		s.useProfile(p)
		safe.Announce("said-aloud", set.did)
		if then != nil {
			then()
		}
	}
	if set.store == nil {
		done(set.revision, errNoStore)
		return
	}
	set.busy = true
	over, store := set.revision, set.store
	go safe.Guard("profile", func() {
		revision, err := store.Write(context.Background(), keptProfile, string(text), over)
		s.later(func() {
			if err == nil {
				set.trouble = ""
			}
			done(revision, err)
		})
	})
}

// settingID is the id of the element that shows a setting.
func settingID(id profile.ID) string { return "set-" + strings.ReplaceAll(string(id), ".", "-") }

// shownAt words a moment of the profile for people; one in another form stays.
func shownAt(at string) string {
	if m, err := schema.ParseMoment(at); err == nil {
		return m.Shown()
	}
	if d, err := schema.ParseDate(at); err == nil {
		return d.Shown()
	}
	return at
}

// byAt names who did something and when.
func byAt(a profile.Act) string { return a.By + ", " + shownAt(a.At) }

// shownActivity words "Activated by NAME, MOMENT" for people.
func shownActivity(s string) string {
	if i := strings.LastIndex(s, ", "); i >= 0 {
		return s[:i+2] + shownAt(s[i+2:]) + "."
	}
	return s
}
