package safe

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Block is one part of a page that is kept outside the framework's tree: HTML
// from a builder that escapes by construction (package handover/sheet/page),
// and the id by which a changed one is found again.
type Block struct{ ID, HTML string }

// Pane is a place for blocks. The framework sees an empty element.
type Pane struct {
	shown []Block
	in    string
}

// Put shows the blocks in the element of that id: only changed ones are
// replaced, so that scrolling and selection in the rest stay.
func (p *Pane) Put(id string, blocks []Block) {
	host, ok := Element(id)
	if !ok {
		return
	}
	same := p.in == id && len(p.shown) == len(blocks) && host.Get("childElementCount").Int() == len(blocks)
	for i := 0; same && i < len(blocks); i++ {
		same = p.shown[i].ID == blocks[i].ID
	}
	if !same {
		host.Set("textContent", "")
		for _, b := range blocks {
			host.Call("appendChild", blockElement(b))
		}
	} else {
		children := host.Get("children")
		for i, b := range blocks {
			if p.shown[i].HTML != b.HTML {
				children.Index(i).Call("replaceWith", blockElement(b))
			}
		}
	}
	p.in, p.shown = id, append(p.shown[:0], blocks...)
}

// Forget makes the next Put show everything anew.
func (p *Pane) Forget() { p.shown, p.in = nil, "" }

func blockElement(b Block) app.Value {
	el := Document().Call("createElement", "div")
	el.Set("className", "sheet-block")
	el.Call("setAttribute", "data-block", b.ID)
	el.Set("innerHTML", b.HTML)
	return el
}
