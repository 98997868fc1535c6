package server

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"sort"
	"strings"

	"github.com/andybalholm/brotli"
)

// A File is one thing the browser can ask for.
type File struct {
	Path    string // address below the server, such as "/web/app.wasm"
	Type    string // media type
	Raw     []byte // content
	Brotli  []byte // content compressed, nil if it was not
	ETag    string // strong validator of the content, with its quotes
	Icon    bool   // an icon: counted apart
	Offline bool   // kept by the service worker
	Later   bool   // kept too, but fetched once the app can be used
}

// Sent is the number of body bytes a browser downloads for the file.
func (f *File) Sent() int {
	if f.Brotli != nil {
		return len(f.Brotli)
	}
	return len(f.Raw)
}

// A Site is one version of the app, ready to be served.
type Site struct {
	Version string // from the content of every file, never from the time
	files   map[string]*File
	page    string // the page before the version is put in
	worker  string // the service worker before version and files are
}

// ErrNoApp says that there is no app to serve: the program was built without it.
var ErrNoApp = errors.New("this program was built without the app")

// What each built file is served as. Files the worker keeps are all that the
// app needs; the larger icons are fetched only when the app is installed.
var served = []File{
	{Path: "/", Type: "text/html; charset=utf-8", Offline: true},
	{Path: "/worker.js", Type: "text/javascript; charset=utf-8"},
	{Path: "/manifest.webmanifest", Type: "application/manifest+json", Offline: true},
	{Path: "/web/app.wasm", Type: "application/wasm", Offline: true},
	{Path: "/web/unpack.js", Type: "text/javascript; charset=utf-8", Offline: true},
	{Path: "/web/loader.js", Type: "text/javascript; charset=utf-8", Offline: true},
	{Path: "/web/keep.js", Type: "text/javascript; charset=utf-8", Offline: true},
	{Path: "/web/wasm_exec.js", Type: "text/javascript; charset=utf-8", Offline: true},
	{Path: "/web/fairlead.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/widgets.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/screens.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/bedside.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/items.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/values.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/board.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/dictate.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/sheet.css", Type: "text/css; charset=utf-8", Offline: true},
	{Path: "/web/words.js", Type: "text/javascript; charset=utf-8", Later: true},
	{Path: "/web/words.wasm", Type: "application/wasm", Later: true},
	{Path: "/web/demo.json", Type: "application/json", Later: true},
	{Path: "/web/icon.svg", Type: "image/svg+xml", Icon: true, Offline: true},
	{Path: "/web/icon-180.png", Type: "image/png", Icon: true},
	{Path: "/web/icon-192.png", Type: "image/png", Icon: true},
	{Path: "/web/icon-512.png", Type: "image/png", Icon: true},
	{Path: "/web/icon-maskable-512.png", Type: "image/png", Icon: true},
}

// builtName is the file's name in the build folder.
func builtName(address string) string {
	if address == "/" {
		return "index.html"
	}
	return path.Base(address)
}

// Load reads a build: each file as name.br, or plain as name. It returns
// ErrNoApp if the folder holds no app at all.
func Load(built fs.FS) (*Site, error) {
	s := &Site{files: map[string]*File{}}
	if _, err := fs.Stat(built, "app.wasm.br"); errors.Is(err, fs.ErrNotExist) {
		if _, err := fs.Stat(built, "app.wasm"); errors.Is(err, fs.ErrNotExist) {
			return nil, ErrNoApp
		}
	}
	for _, f := range served {
		if err := read(built, &f); err != nil {
			return nil, fmt.Errorf("the built file %s cannot be read: %w", builtName(f.Path), err)
		}
		if bytes.HasPrefix(f.Raw, []byte("pck2")) {
			f.Type = "application/octet-stream" // a packed module; unpack.js knows it by its type
		}
		s.files[f.Path] = &f
	}
	s.page, s.worker = string(s.files["/"].Raw), string(s.files["/worker.js"].Raw)
	return s, s.seal()
}

// AllowPlantedPanic marks the page so that a test can make the app stop by
// calling fairlead.plantPanic() in it. Pages served without the mark have no
// such call.
func (s *Site) AllowPlantedPanic() error {
	const plain, marked = `<html lang="en"`, `<html lang="en" data-plant-panic`
	if !strings.Contains(s.page, plain) {
		return fmt.Errorf("the page has no %s to mark", plain)
	}
	s.page = strings.Replace(s.page, plain, marked, 1)
	return s.seal()
}

func read(built fs.FS, f *File) error {
	name := builtName(f.Path)
	packed, err := fs.ReadFile(built, name+".br")
	if errors.Is(err, fs.ErrNotExist) {
		f.Raw, err = fs.ReadFile(built, name)
		return err
	}
	if err != nil {
		return err
	}
	f.Raw, err = io.ReadAll(brotli.NewReader(bytes.NewReader(packed)))
	if err != nil {
		return err
	}
	if len(packed) < len(f.Raw) { // a PNG does not get smaller
		f.Brotli = packed
	}
	return nil
}

// seal derives the version from the content of all files, writes it into the page
// and the service worker, there with the list of kept files and their hashes, and
// sets the validators.
func (s *Site) seal() error {
	page, worker := s.files["/"], s.files["/worker.js"]
	page.Raw, worker.Raw = []byte(s.page), []byte(s.worker)
	all := sha256.New()
	for _, f := range s.Files() {
		fmt.Fprintf(all, "%s %x\n", f.Path, digest(f.Raw))
	}
	s.Version = hex.EncodeToString(all.Sum(nil)[:6])
	if err := page.write(strings.ReplaceAll(s.page, "{{version}}", s.Version)); err != nil {
		return err
	}
	kept, later := map[string]string{}, map[string]string{}
	for _, f := range s.Files() {
		switch hash := "sha256-" + base64.StdEncoding.EncodeToString(digest(f.Raw)); {
		case f.Offline:
			kept[f.Path] = hash
		case f.Later:
			later[f.Path] = hash
		}
	}
	list, err := json.Marshal(kept)
	if err != nil {
		return err
	}
	rest, err := json.Marshal(later)
	if err != nil {
		return err
	}
	if err := worker.write(strings.NewReplacer("{{unpack}}", string(s.files["/web/unpack.js"].Raw), "{{version}}", s.Version, "{{files}}", string(list), "{{later}}", string(rest)).Replace(s.worker)); err != nil {
		return err
	}
	for _, f := range s.files {
		f.ETag = `"` + hex.EncodeToString(digest(f.Raw)[:16]) + `"`
	}
	return nil
}

// write gives a file its content, and the same packed.
func (f *File) write(content string) error {
	var packed bytes.Buffer
	w := brotli.NewWriterLevel(&packed, brotli.BestCompression)
	if _, err := io.WriteString(w, content); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	f.Raw, f.Brotli = []byte(content), packed.Bytes()
	return nil
}

// Files returns every file in the order of its address.
func (s *Site) Files() []*File {
	files := make([]*File, 0, len(s.files))
	for _, f := range s.files {
		files = append(files, f)
	}
	sort.Slice(files, func(i, j int) bool { return files[i].Path < files[j].Path })
	return files
}

// FirstVisit returns what a browser downloads until the app is ready to work
// offline, icons apart.
func (s *Site) FirstVisit() []*File {
	var files []*File
	for _, f := range s.Files() {
		if !f.Icon && !f.Later {
			files = append(files, f)
		}
	}
	return files
}

// Later returns what is fetched once the app can be used.
func (s *Site) Later() []*File {
	var files []*File
	for _, f := range s.Files() {
		if f.Later {
			files = append(files, f)
		}
	}
	return files
}

func digest(b []byte) []byte {
	sum := sha256.Sum256(b)
	return sum[:]
}
