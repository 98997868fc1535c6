package bodymap

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"fairlead/handover/sheet/page"
)

func TestPlaces(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Places() {
		if seen[p.Name] {
			t.Errorf("%s is named twice", p.Name)
		}
		seen[p.Name] = true
		if p.X < 0 || p.X > Width || p.Y < 0 || p.Y > Height {
			t.Errorf("%s lies off the drawing", p.Name)
		}
		// The patient's right is on the reader's left in a front view (common
		// practice in medical drawing, no source).
		if strings.Contains(p.Name, "right") && p.X >= middle || strings.Contains(p.Name, "left") && p.X <= middle {
			t.Errorf("%s lies on the wrong side", p.Name)
		}
	}
	for _, c := range []struct{ name, side, want string }{
		{"neck", "right", "right-neck"}, {"right-neck", "", "right-neck"}, {"umbilicus", "", "umbilicus"},
		{"umbilicus", "right", "umbilicus"}, {"inside-pleura", "left", "inside-left-pleura"}, {"lateral chest", "left", "left-lateral-chest"},
	} {
		if p, ok := Find(c.name, c.side); !ok || p.Name != c.want {
			t.Errorf("Find(%q, %q) = %q, want %q", c.name, c.side, p.Name, c.want)
		}
	}
	if _, ok := Find("neck", ""); ok {
		t.Error("a neck without a side has a place: it must be asked for")
	}
}

// TestLegible holds the promise of the map: whatever is listed, no tag lies over
// another tag, over an exit, or off the page, and the same list draws the same.
func TestLegible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 60).Draw(t, "items")
		marks := make([]Mark, n)
		for i := range marks {
			marks[i] = Mark{Tag: i + 1, Place: rapid.SampledFrom(places()).Draw(t, "place"),
				Family: rapid.SampledFrom([]Family{Arterial, Venous, Intracardiac, Drain, Wire, Other}).Draw(t, "family")}
		}
		d := Draw(View{Marks: marks, Chest: Open})
		if len(d.Marks) != n || len(d.Crowd) > 0 {
			t.Fatalf("%d of %d tags are on the map, %v left out", len(d.Marks), n, d.Crowd)
		}
		words := map[string]int{}
		for _, s := range d.Shapes {
			if s.Tag > 0 && s.Words != "" {
				words[s.Words]++
			}
		}
		for i, a := range d.Marks {
			if a.At.X < TagRadius || a.At.X > Width-TagRadius || a.At.Y < TagRadius || a.At.Y > Height-TagRadius {
				t.Fatalf("tag %d lies off the drawing at %v", a.Tag, a.At)
			}
			for _, b := range d.Marks[i+1:] {
				if math.Hypot(a.At.X-b.At.X, a.At.Y-b.At.Y) < 2*TagRadius {
					t.Fatalf("tags %d and %d overlap", a.Tag, b.Tag)
				}
			}
			for _, b := range d.Marks {
				if !b.Place.Off && math.Hypot(a.At.X-b.Place.X, a.At.Y-b.Place.Y) < TagRadius {
					t.Fatalf("tag %d hides the exit at %s", a.Tag, b.Place.Name)
				}
			}
			if strings.HasPrefix(a.Place.Name, "right-") && a.At.X > middle || strings.HasPrefix(a.Place.Name, "left-") && a.At.X < middle {
				t.Fatalf("tag %d of %s stands on the other side", a.Tag, a.Place.Name)
			}
		}
		slices.Reverse(marks)
		again := Draw(View{Marks: marks, Chest: Open})
		var x, y page.Builder
		d.SVG(&x)
		again.SVG(&y)
		if x.String() != y.String() {
			t.Fatal("the order of listing changes the map")
		}
	})
}

// TestDextrocardia: the heart's outline follows the apex and nothing else moves.
func TestDextrocardia(t *testing.T) {
	neck, _ := At("right-neck")
	marks := []Mark{{Tag: 1, Place: neck, Family: Venous}}
	left, right := Draw(View{Marks: marks, Apex: ApexLeft}), Draw(View{Marks: marks, Apex: ApexRight})
	if len(left.Shapes) != len(right.Shapes) || left.Marks[0].At != right.Marks[0].At {
		t.Fatal("the map moved with the heart")
	}
	differ := 0
	for i := range left.Shapes {
		if !slices.Equal(left.Shapes[i].Steps, right.Shapes[i].Steps) {
			differ++
		}
	}
	if differ != 1 {
		t.Errorf("%d shapes differ, want the heart alone", differ)
	}
	if !strings.Contains(right.Words, "patient's right is on the left of the picture") {
		t.Errorf("the side is not said: %s", right.Words)
	}
}

func TestSVG(t *testing.T) {
	neck, _ := At("right-neck")
	d := Draw(View{Marks: []Mark{{Tag: 7, Words: `<b>"line"`, Place: neck, Family: Venous}}, Chest: Open})
	var b page.Builder
	d.SVG(&b)
	doc, err := html.Parse(strings.NewReader(b.String()))
	if err != nil {
		t.Fatal(err)
	}
	var tags int
	for n := range doc.Descendants() {
		if n.Data == "b" || n.Type == html.ElementNode && n.Data == "script" {
			t.Error("words became markup")
		}
		if n.Type == html.TextNode && n.Data == "7" {
			tags++
		}
	}
	if tags != 1 {
		t.Errorf("tag 7 stands %d times on the map", tags)
	}
	if path := os.Getenv("FAIRLEAD_SEE_MAP"); path != "" { // for people who work on the drawing
		if err := os.WriteFile(path, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	var marks []Mark
	for i := range 28 {
		marks = append(marks, Mark{Tag: i + 1, Place: places()[i*3%len(places())], Family: Drain})
	}
	for b.Loop() {
		Draw(View{Marks: marks, Chest: Open})
	}
}
