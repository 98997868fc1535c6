package safe

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Element is the element of that id; ok is false if the page has none.
func Element(id string) (el app.Value, ok bool) {
	if app.IsServer {
		return nil, false
	}
	el = app.Window().Get("document").Call("getElementById", id)
	return el, el.Truthy()
}

// Focus moves the focus to an element, brings it into view, and makes it able
// to take the focus if it is a heading or a group. It tells whether the element
// is there.
func Focus(id string) bool {
	el, ok := Element(id)
	if !ok {
		return false
	}
	if el.Get("tabIndex").Int() < 0 && !el.Call("hasAttribute", "tabindex").Bool() {
		el.Call("setAttribute", "tabindex", "-1")
	}
	el.Call("scrollIntoView", map[string]any{"block": "center"})
	el.Call("focus", map[string]any{"preventScroll": true})
	return true
}

// FocusSoon moves the focus to an element that may still be about to be drawn. On
// a busy device that can take seconds; it gives up when the focus has gone
// elsewhere meanwhile, or another place is asked for.
func FocusSoon(id string) {
	if app.IsServer {
		return
	}
	asked++
	mine, from := asked, Focused()
	go Guard(where("focus", id), func() {
		for range 400 {
			if mine != asked {
				return
			}
			if now := Focused(); now != "" && now != from {
				return
			}
			if Focus(id) {
				return
			}
			time.Sleep(15 * time.Millisecond)
		}
	})
}

var asked int // times that a place was asked to take the focus soon

// Focused is the id of the element that has the focus, or "".
func Focused() string {
	if app.IsServer {
		return ""
	}
	el := app.Window().Get("document").Get("activeElement")
	if !el.Truthy() {
		return ""
	}
	return el.Get("id").String()
}

// Announce has a screen reader say words, through the region of that id that
// the page frame holds.
func Announce(region, words string) {
	if el, ok := Element(region); ok {
		el.Set("textContent", words)
	}
}

// Listen calls do on each event of a target such as the window or the document,
// guarded. The function it returns ends it.
func Listen(target app.Value, event string, do func(ev app.Value)) (end func()) {
	if app.IsServer {
		return func() {}
	}
	f := app.FuncOf(func(this app.Value, args []app.Value) any {
		Guard(event, func() {
			var ev app.Value
			if len(args) > 0 {
				ev = args[0]
			}
			do(ev)
		})
		return nil
	})
	target.Call("addEventListener", event, f)
	return func() {
		target.Call("removeEventListener", event, f)
		f.Release()
	}
}

// Document is the page's document.
func Document() app.Value { return app.Window().Get("document") }

// Mark sets an attribute of the page's root element, such as the look chosen.
func Mark(name, value string) {
	if app.IsServer {
		return
	}
	root := Document().Get("documentElement")
	if value == "" {
		root.Call("removeAttribute", name)
		return
	}
	root.Call("setAttribute", name, value)
}

// Save offers content as a file to keep outside the app.
func Save(name, mediaType string, content []byte) {
	if app.IsServer {
		return
	}
	array := app.Window().Get("Uint8Array").New(len(content))
	app.CopyBytesToJS(array, content)
	blob := app.Window().Get("Blob").New([]any{array}, map[string]any{"type": mediaType})
	url := app.Window().Get("URL").Call("createObjectURL", blob)
	a := Document().Call("createElement", "a")
	a.Set("href", url.String())
	a.Set("download", name)
	Document().Get("body").Call("appendChild", a)
	a.Call("click")
	a.Call("remove")
	go Guard("save", func() {
		time.Sleep(time.Minute)
		app.Window().Get("URL").Call("revokeObjectURL", url)
	})
}

// Print opens the browser's print dialogue for the page as it stands.
func Print() {
	if app.IsClient {
		app.Window().Call("print")
	}
}

// FocusNext moves the focus from the entry that has it to the next entry, list
// or first choice of a group, as the Enter key does on paper forms.
func FocusNext() {
	if app.IsServer {
		return
	}
	here := Document().Get("activeElement")
	all := Document().Call("querySelectorAll", "main .field:not([hidden]) :is(input.entry, textarea, select, .ticks input, button.add)")
	seen := false
	for i := range all.Get("length").Int() {
		el := all.Index(i)
		if seen && el.Get("offsetParent").Truthy() && !el.Call("closest", ".field").Equal(here.Call("closest", ".field")) {
			el.Call("focus")
			return
		}
		seen = seen || el.Equal(here)
	}
}

// Tell writes words into an element that the framework leaves empty, with its
// class, at once.
func Tell(id, words, class string) {
	el, ok := Element(id)
	if !ok {
		return
	}
	if el.Get("textContent").String() != words {
		el.Set("textContent", words)
	}
	if el.Get("className").String() != class {
		el.Set("className", class)
	}
}

// Typing tells whether the focus is where letters are typed.
func Typing() bool {
	if app.IsServer {
		return false
	}
	el := Document().Get("activeElement")
	return el.Truthy() && el.Call("matches", "input.entry, textarea").Bool()
}

// Width is the width of the window in CSS pixels.
func Width() int {
	if app.IsServer {
		return 0
	}
	return app.Window().Get("innerWidth").Int()
}

// Seen tells whether an element is on the page and takes up room there.
func Seen(id string) bool {
	el, ok := Element(id)
	return ok && el.Get("offsetParent").Truthy()
}

// Await gives what a promise of the browser's becomes to kept, or the words of its
// refusal to refused; either may be nil. Both are guarded.
func Await(what string, promise app.Value, kept func(v app.Value), refused func(why string)) {
	if app.IsServer || !promise.Truthy() {
		return
	}
	var yes, no app.Func
	end := func() {
		yes.Release()
		no.Release()
	}
	yes = app.FuncOf(func(_ app.Value, args []app.Value) any {
		Guard(what, func() {
			if kept != nil && len(args) > 0 {
				kept(args[0])
			}
		})
		end()
		return nil
	})
	no = app.FuncOf(func(_ app.Value, args []app.Value) any {
		Guard(what, func() {
			if refused != nil {
				why := ""
				if len(args) > 0 && args[0].Truthy() && args[0].Get("message").Truthy() {
					why = args[0].Get("message").String()
				}
				refused(why)
			}
		})
		end()
		return nil
	})
	promise.Call("then", yes, no)
}
