package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
)

// talking is the browser's own recognition of speech, where there is one and the
// person has allowed it on this device. It is off until then: most browsers send
// what is said to their maker.
type talking struct {
	rec     app.Value
	trouble string
}

func (t *talking) stop() {
	if t != nil && t.rec != nil {
		t.rec.Call("stop")
		t.rec = nil
	}
}

// recogniser is the browser's constructor for one, if it has one.
func recogniser() (app.Value, bool) {
	if app.IsServer {
		return nil, false
	}
	for _, name := range []string{"SpeechRecognition", "webkitSpeechRecognition"} {
		if v := app.Window().Get(name); v.Truthy() {
			return v, true
		}
	}
	return nil, false
}

// talkUI offers it, and says plainly where the voice goes.
func (p *dictatePane) talkUI() app.UI {
	if _, ok := recogniser(); !ok {
		return nil
	}
	if p.talk == nil {
		p.talk = &talking{}
	}
	on := settled("speech") == "on"
	body := []app.UI{app.P().Text("This browser can turn speech into words. To do so it may send what is said, out of this device, to the browser's maker. It is off unless your unit allows it. The microphone on the keyboard has rules of its own: ask your unit.")}
	switch {
	case !on:
		body = append(body, safe.Button{ID: "speech-on", Words: "Our unit allows it: switch it on here", Press: func(app.Context) { settle("speech", "on") }}.UI())
	default:
		words := "Talk"
		if p.talk.rec != nil {
			words = "Stop listening"
		}
		body = append(body,
			safe.Button{ID: "talk", Class: "main", Words: words, Toggle: true, On: p.talk.rec != nil, Off: p.Locked, Press: func(app.Context) { p.talkOrStop() }}.UI(),
			safe.Button{ID: "speech-off", Class: "quiet", Words: "Switch it off", Press: func(app.Context) { p.talk.stop(); settle("speech", "off") }}.UI())
	}
	body = append(body, alert(p.talk.trouble))
	return app.Div().ID("speech").Class("speech").Body(body...)
}

func (p *dictatePane) talkOrStop() {
	t := p.talk
	if t.rec != nil {
		t.stop()
		return
	}
	make, ok := recogniser()
	if !ok {
		return
	}
	rec := make.New()
	rec.Set("continuous", true)
	rec.Set("interimResults", false)
	rec.Set("lang", "en")
	t.trouble = ""
	var end []func()
	over := func() {
		for _, e := range end {
			e()
		}
		t.rec = nil
	}
	end = append(end,
		safe.Listen(rec, "result", func(ev app.Value) {
			all := ev.Get("results")
			var words []string
			for i := ev.Get("resultIndex").Int(); i < all.Length(); i++ {
				words = append(words, strings.TrimSpace(all.Index(i).Index(0).Get("transcript").String()))
			}
			p.S.later(func() {
				if p.S.child != nil {
					p.put(strings.TrimSpace(p.text() + " " + strings.Join(words, " ")))
				}
			})
		}),
		safe.Listen(rec, "error", func(ev app.Value) {
			why := ev.Get("error").String()
			p.S.later(func() {
				t.trouble = "The browser stopped listening (" + why + "). What was said until then is kept. Without a network it may not work at all: type or paste instead."
			})
		}),
		safe.Listen(rec, "end", func(app.Value) { p.S.later(over) }))
	t.rec = rec
	rec.Call("start")
}
