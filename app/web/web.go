// Package web holds what the server hands to the browser: the app as built,
// the empty page it starts in, the service worker, the stylesheet and the icons.
//
// The sources are the files beside this one; `make build` compresses them, and
// the app itself, into built/, which is embedded here. A program built without
// that step carries no app, and says so when asked to serve.
//
// The browser's program never imports this package.
package web

import (
	"embed"
	"io/fs"
)

//go:embed all:built
var files embed.FS

// Built returns the built files, each as name.br.
func Built() fs.FS {
	built, err := fs.Sub(files, "built")
	if err != nil {
		panic(err) // the folder is named in this file
	}
	return built
}
