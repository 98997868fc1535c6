package ui

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"fairlead/app/ui/safe"
	"fairlead/schema"
)

// said is what the reader of dictations sends back: dictation.Reading, as far as the
// screen needs it. The reader itself is not a part of the app (wasm/words).
type said struct {
	Text      string
	Refused   string
	Proposals []proposed
	Groups    []grouped
	Pieces    []struct {
		Start, End int
		Proposals  []int
	}
}

// proposed is one value that the text says.
type proposed struct {
	Path                   schema.Path // general
	Group, Value, Stated   string
	Bound, Item, Why, Sure string
	Note                   string
	Other                  []string
}

// grouped is one row or item that the text says.
type grouped struct {
	ID                    string
	List                  schema.Path
	Kind, Why, Sure, Note string
	Denied                bool
}

// wordsReader asks the reader in its worker. One text is read at a time; of those
// that come meanwhile only the last is read.
type wordsReader struct {
	s      *Session
	worker app.Value
	busy   bool
	next   func()
	failed string
	// answers counts what the reader sent: what shows it is drawn anew with each.
	answers int

	fixed string // what it answers in the gallery, where nothing is read
}

// readHere reads without a worker, where there is none: in the tests on the host.
var readHere func(kind schema.Kind, text string) string

// read reads a text and hands what was understood to done, on the user interface's
// goroutine.
func (r *wordsReader) read(kind schema.Kind, text string, done func(*said)) {
	if r.fixed != "" {
		done(readingOf(r.fixed))
		return
	}
	if app.IsServer {
		if readHere != nil {
			done(readingOf(readHere(kind, text)))
		}
		return
	}
	if r.busy {
		r.next = func() { r.read(kind, text, done) }
		return
	}
	if r.worker == nil {
		r.worker = app.Window().Get("Worker").New("/web/words.js")
		safe.Listen(r.worker, "error", func(app.Value) { r.fail() })
	}
	r.busy = true
	var end func()
	end = safe.Listen(r.worker, "message", func(ev app.Value) {
		data := ev.Get("data")
		end()
		if data.Get("failed").Truthy() {
			r.fail()
			return
		}
		reading := readingOf(data.Get("reading").String())
		r.s.later(func() { r.answered(reading, done) })
	})
	r.worker.Call("postMessage", map[string]any{"number": 1, "kind": string(kind), "text": text})
}

// answered hands on what was read, and has the text read that came meanwhile.
func (r *wordsReader) answered(reading *said, done func(*said)) {
	r.busy, r.failed = false, ""
	r.answers++
	done(reading)
	if next := r.next; next != nil {
		r.next = nil
		next()
	}
}

// fail says that texts cannot be read; another try opens the worker anew.
func (r *wordsReader) fail() {
	r.s.later(func() {
		if r.worker != nil {
			r.worker.Call("terminate")
		}
		r.worker, r.busy, r.next = nil, false, nil
		r.answers++
		r.failed = "The reader could not be opened on this device. The text is kept; open this screen again when there is a network."
	})
}

func readingOf(text string) *said {
	var out said
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		out.Refused = "What the reader sent could not be read (" + err.Error() + ")."
	}
	return &out
}
