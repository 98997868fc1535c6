package safe

import "github.com/maxence-charriere/go-app/v10/pkg/app"

const svgNamespace = "http://www.w3.org/2000/svg"

// SVG makes one SVG element; its children must be made by SVG too. The
// framework gives a child no namespace of its own, and without one the browser
// draws nothing.
func SVG(tag string, attributes map[string]string, children ...app.UI) app.UI {
	el := app.Elem(tag).XMLNS(svgNamespace)
	for name, value := range attributes {
		el = el.Attr(name, value)
	}
	return el.Body(children...)
}

// SVGText makes an SVG text element.
func SVGText(attributes map[string]string, words string) app.UI {
	return SVG("text", attributes, app.Text(words))
}
