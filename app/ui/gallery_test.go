//go:build !(js && wasm)

package ui

import (
	"testing"
)

// The browser tests judge what the gallery shows, so each screen must stand in it,
// and be drawn from what its state sets up.
func TestEveryScreenHasAState(t *testing.T) {
	events, err := demoEvents()
	if err != nil {
		t.Fatal(err)
	}
	g := newGallery(events)
	shown := map[string]bool{"gallery": true}
	for _, st := range galleryStates {
		g.reset()
		st.make(g)
		sc := g.screenAt()
		shown[sc.name] = true
		if sc.name == lostScreen.name && st.name != "lost" {
			t.Errorf("state %s leads to no screen: %+v", st.name, g.place)
		}
	}
	for name := range screens {
		if !shown[name] {
			t.Errorf("the screen %s has no state in gallery_states.go", name)
		}
	}
}
