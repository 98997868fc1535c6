// Package bodymap draws the map of the child: a front view, our own line
// drawing, with a tag at each place where something comes out.
//
// The key types are [Place], the named spots on the body, and [Drawing], plain
// shapes that the page shows as SVG and the PDF draws in ink. The patient's
// right is on the reader's left and is labelled so; the place of the heart never
// mirrors the map. Shapes tell the families apart without colour.
//
//	d := bodymap.Draw(bodymap.View{Marks: marks, Chest: bodymap.Open})
package bodymap

import (
	"slices"
	"strings"
	"sync"
)

// Width and Height are the drawing's size in its own units; y grows downward.
const (
	Width  = 220.0
	Height = 256.0
)

const middle = Width / 2

// Place is a named spot on the body. The names are what an item's exit holds.
type Place struct {
	Name   string // "right-subcostal"
	Title  string // "Right subcostal"
	X, Y   float64
	Inside bool // lies inside the child: nothing comes out there
	Off    bool // not on the child: beside the bed
}

// spot is a place before it is given sides. dx is its distance from the midline.
type spot struct {
	name, title string
	dx, y       float64
}

// The paired places, from the head down. "right-" and "left-" go before the
// name; both are the patient's.
var paired = []spot{
	{"scalp", "scalp", 17, 16},
	{"forehead", "forehead", 10, 25},
	{"nostril", "nostril", 3.5, 43},
	{"neck", "neck", 9.5, 68},
	{"subclavian", "subclavian", 26, 79},
	{"shoulder", "shoulder", 42, 82},
	{"axilla", "axilla", 40, 96},
	{"upper-arm", "upper arm", 54, 103},
	{"antecubital-fossa", "antecubital fossa", 64, 122},
	{"forearm", "forearm", 72, 139},
	{"wrist", "wrist", 80, 156},
	{"hand", "hand", 86, 169},
	{"chest", "chest", 21, 100},
	{"lateral-chest", "lateral chest", 34, 114},
	{"subcostal", "subcostal", 20, 138},
	{"upper-abdomen", "upper abdomen", 24, 149},
	{"flank", "flank", 33, 152},
	{"abdomen", "abdomen", 22, 164},
	{"lower-abdomen", "lower abdomen", 17, 178},
	{"groin", "groin", 17, 191},
	{"thigh", "thigh", 24, 206},
	{"knee", "knee", 27, 220},
	{"lower-leg", "lower leg", 28, 231},
	{"ankle", "ankle", 29, 243},
	{"foot", "foot", 33, 250},
}

// The places on the midline.
var single = []spot{
	{"scalp", "Scalp", 0, 8},
	{"forehead", "Forehead", 0, 24},
	{"nose", "Nose", 0, 41},
	{"mouth", "Mouth", 0, 51},
	{"front-of-neck", "Front of neck", 0, 69},
	{"sternum-upper", "Upper sternum", 0, 86},
	{"sternum", "Sternum", 0, 104},
	{"sternum-lower", "Lower sternum", 0, 120},
	{"subxiphoid", "Subxiphoid", 0, 136},
	{"epigastrium", "Epigastrium", 0, 147},
	{"umbilicus", "Umbilicus", 0, 162},
	{"suprapubic", "Suprapubic", 0, 182},
	{"urethra", "Urethra", 0, 198},
	{"rectum", "Rectum", 0, 205},
	{"back", "Back", -39, 128},
}

// The places with no way out: what lies there is not seen from outside.
var inside = []spot{
	{"inside-throat", "Inside the throat", 0, 60},
	{"inside-heart", "Inside the heart", 6, 112},
	{"inside-mediastinum", "Inside the mediastinum", -6, 96},
	{"inside-right-pleura", "Inside the right pleura", -26, 118},
	{"inside-left-pleura", "Inside the left pleura", 26, 118},
	{"inside-abdomen", "Inside the abdomen", 8, 156},
}

// OffBody is the place of what stands beside the bed.
const OffBody = "off-body"

var places = sync.OnceValue(func() []Place {
	var out []Place
	for _, s := range paired {
		out = append(out,
			Place{Name: "right-" + s.name, Title: "Right " + s.title, X: middle - s.dx, Y: s.y},
			Place{Name: "left-" + s.name, Title: "Left " + s.title, X: middle + s.dx, Y: s.y})
	}
	for _, s := range single {
		out = append(out, Place{Name: s.name, Title: s.title, X: middle + s.dx, Y: s.y})
	}
	for _, s := range inside {
		out = append(out, Place{Name: s.name, Title: s.title, X: middle + s.dx, Y: s.y, Inside: true})
	}
	return append(out, Place{Name: OffBody, Title: "Beside the bed", X: 18, Y: 212, Off: true})
})

// Places lists every named place. The slice is the caller's.
func Places() []Place { return slices.Clone(places()) }

// At is the place of that name; ok is false if there is none.
func At(name string) (p Place, ok bool) {
	for _, p := range places() {
		if p.Name == name {
			return p, true
		}
	}
	return Place{}, false
}

// Find is the place for a name and a side ("right", "left", "midline" or ""),
// which may already stand in the name: "neck" with "right" is "right-neck".
func Find(name, side string) (p Place, ok bool) {
	name = strings.ReplaceAll(strings.TrimSpace(name), " ", "-")
	if side == "right" || side == "left" {
		if p, ok := At(side + "-" + name); ok {
			return p, true
		}
		if rest, cut := strings.CutPrefix(name, "inside-"); cut {
			if p, ok := At("inside-" + side + "-" + rest); ok {
				return p, true
			}
		}
	}
	return At(name)
}
