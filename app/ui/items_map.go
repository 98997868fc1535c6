package ui

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/handover/lines"
	"fairlead/handover/sheet"
	"fairlead/handover/sheet/bodymap"
	"fairlead/schema"
)

// bodyMap draws where each item comes out. A tag on it leads to its item; the
// others are faint while one is open.
func (s *Session) bodyMap(n *schema.Note, at Place) app.UI { return s.mapOf(n, n.Items(), at, nil) }

// mapOf draws these items on the body of the child of note n, with what is to be said
// under it.
func (s *Session) mapOf(n *schema.Note, items []schema.Item, at Place, under []string) app.UI {
	view := bodymap.View{Chest: chestOf(n), Apex: apexOf(n)}
	by := map[int]mapped{}
	var off []string
	for _, it := range items {
		if !lines.Checked(it) {
			continue
		}
		place, ok := bodymap.At(lines.Place(it))
		if !ok {
			off = append(off, itoa(it.Tag))
			continue
		}
		by[it.Tag] = mapped{it.ID, lines.FullName(it)}
		if it.ID == at.Part {
			view.Solo = it.Tag
		}
		view.Marks = append(view.Marks, bodymap.Mark{Tag: it.Tag, Words: lowerFirst(lines.Name(it)), Family: sheet.Family(it), Place: place})
	}
	return &mapView{View: view, Off: off, By: by, At: at, Under: under}
}

// mapped is an item with a tag on the map.
type mapped struct{ ID, Name string }

// mapView is the drawing; it is made again only when it shows something else.
type mapView struct {
	app.Compo
	View  bodymap.View
	Off   []string
	Under []string // sentences
	By    map[int]mapped
	At    Place
}

func (m *mapView) Render() app.UI { return safe.Drawn("map", m.draw) }

func (m *mapView) draw() app.UI {
	d := bodymap.Draw(m.View)
	var under []app.UI
	tags := map[int][]app.UI{}
	var order []int
	for _, sh := range d.Shapes {
		el := shapeUI(sh)
		if sh.Tag == 0 || m.By[sh.Tag].ID == "" || sh.Ink == bodymap.Leader || sh.Ink == bodymap.Exit {
			under = append(under, el)
			continue
		}
		if tags[sh.Tag] == nil {
			order = append(order, sh.Tag)
		}
		tags[sh.Tag] = append(tags[sh.Tag], el)
	}
	for _, tag := range order {
		it := m.By[tag]
		class := "map-link"
		if m.View.Solo == tag {
			class += " solo"
		}
		link := tags[tag]
		for _, mk := range d.Marks { // room for a finger
			if mk.Tag == tag {
				link = append([]app.UI{safe.SVG("circle", map[string]string{"cx": safe.Number(mk.At.X), "cy": safe.Number(mk.At.Y), "r": "12", "class": "map-touch"})}, link...)
			}
		}
		under = append(under, safe.SVG("a", map[string]string{"href": m.At.With(m.At.Screen, it.ID).Path() + "#item-" + it.ID, "class": class, "aria-label": "Tag " + itoa(tag) + ", " + it.Name}, link...))
	}
	notes := []app.UI{app.P().Class("map-key").Text("● arterial  ○ venous  ◎ in the heart  □ drain  ◇ wires  ⬡ other")}
	if len(m.Off) > 0 {
		notes = append(notes, app.P().Class("map-off").Text("Where it comes out is not recorded: tags "+strings.Join(m.Off, ", ")+"."))
	}
	for _, words := range m.Under {
		notes = append(notes, app.P().Class("map-off").Text(words))
	}
	if len(d.Crowd) > 0 {
		var tags []string
		for _, t := range d.Crowd {
			tags = append(tags, itoa(t))
		}
		notes = append(notes, app.P().Class("map-off").Text("No room on the map: tags "+strings.Join(tags, ", ")+"."))
	}
	if m.View.Chest == bodymap.Unstated {
		notes = append(notes, app.P().Text("Chest: "+schema.NotRecorded+"."))
	}
	return app.Div().Class("map-room").Body(append([]app.UI{
		safe.SVG("svg", map[string]string{"class": "map", "viewBox": "0 0 " + safe.Number(bodymap.Width) + " " + safe.Number(bodymap.Height),
			"role": "group", "aria-label": d.Words, "fill": "none", "stroke": "currentColor"}, under...)}, notes...)...)
}

// shapeUI is one shape as an SVG element, with the classes of the printed map.
func shapeUI(sh bodymap.Shape) app.UI {
	a := map[string]string{"class": "map-" + string(sh.Ink)}
	if sh.Steps == nil {
		a["x"], a["y"] = safe.Number(sh.At.X), safe.Number(sh.At.Y+sh.Size*0.36) // half the height of a digit
		a["font-size"], a["text-anchor"], a["font-weight"], a["stroke"] = safe.Number(sh.Size), "middle", "bold", "none"
		return safe.SVGText(a, sh.Words)
	}
	var d strings.Builder
	n := func(v float64) { d.WriteString(strconv.FormatFloat(float64(int(v*10+0.5))/10, 'f', -1, 64)) }
	for _, st := range sh.Steps {
		d.WriteByte(byte(st.Op))
		points := 1
		switch st.Op {
		case bodymap.Curve:
			points = 3
		case bodymap.Shut:
			points = 0
		}
		for i := range points {
			if i > 0 {
				d.WriteByte(' ')
			}
			n(st.Points[i].X)
			d.WriteByte(' ')
			n(st.Points[i].Y)
		}
	}
	a["d"], a["stroke-width"] = d.String(), strokes[sh.Ink]
	return safe.SVG("path", a)
}

// strokes are the widths of the lines, as on the printed map.
var strokes = map[bodymap.Ink]string{bodymap.Body: "1.3", bodymap.Faint: "0.7", bodymap.Wound: "1.1", bodymap.Leader: "0.6", bodymap.Exit: "0.8", bodymap.Artery: "0.8",
	bodymap.TagInk: "1", bodymap.Vein: "1", bodymap.Heart: "1"}

func chestOf(n *schema.Note) bodymap.Chest {
	switch n.Text(schema.ClosingSternum) {
	case "open":
		return bodymap.Open
	case "closed":
		return bodymap.Closed
	case "not-opened":
		return bodymap.Untouched
	}
	return bodymap.Unstated
}

func apexOf(n *schema.Note) bodymap.Apex {
	switch n.Text(schema.AnatomyCardiacPosition) {
	case "levocardia":
		return bodymap.ApexLeft
	case "dextrocardia":
		return bodymap.ApexRight
	case "mesocardia":
		return bodymap.ApexMiddle
	}
	return bodymap.ApexUnstated
}
