package server

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/andybalholm/brotli"
)

const text = "a text that is long enough to become shorter when it is compressed: a text that is long enough"

func packed(t *testing.T, s string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := brotli.NewWriter(&b)
	if _, err := w.Write([]byte(s)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// build is a folder such as the build makes.
func build(t *testing.T) fstest.MapFS {
	t.Helper()
	built := fstest.MapFS{}
	for _, f := range served {
		content := f.Path + ": " + text
		switch f.Path {
		case "/":
			content = `<!doctype html><html lang="en" data-version="{{version}}">` + text
		case "/worker.js":
			content = `const version = "{{version}}"; const files = {{files}};` + text
		}
		built[builtName(f.Path)+".br"] = &fstest.MapFile{Data: packed(t, content)}
	}
	return built
}

func load(t *testing.T, built fstest.MapFS) *Site {
	t.Helper()
	s, err := Load(built)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func ask(t *testing.T, s *Site, method, path string, header ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, path, nil)
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	Handler(s).ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) []byte {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestNegotiatesBrotli(t *testing.T) {
	s := load(t, build(t))
	want := "/web/app.wasm: " + text
	br := ask(t, s, "GET", "/web/app.wasm", "Accept-Encoding", "gzip, deflate, br")
	if br.Header.Get("Content-Encoding") != "br" || br.Header.Get("Content-Type") != "application/wasm" || br.Header.Get("Vary") != "Accept-Encoding" {
		t.Errorf("headers: %v", br.Header)
	}
	raw, err := io.ReadAll(brotli.NewReader(br.Body))
	if err != nil || string(raw) != want {
		t.Errorf("compressed: %q %v", raw, err)
	}
	for _, accept := range []string{"", "gzip", "br;q=0", "gzip, br; q=0.0", "brown"} {
		plain := ask(t, s, "GET", "/web/app.wasm", "Accept-Encoding", accept)
		if plain.Header.Get("Content-Encoding") != "" || string(body(t, plain)) != want {
			t.Errorf("Accept-Encoding %q got %q", accept, plain.Header.Get("Content-Encoding"))
		}
		if plain.Header.Get("ETag") == br.Header.Get("ETag") {
			t.Error("both forms have one strong validator")
		}
	}
}

func TestSecondDownloadCostsNothing(t *testing.T) {
	s := load(t, build(t))
	tag := ask(t, s, "GET", "/web/app.wasm", "Accept-Encoding", "br").Header.Get("ETag")
	for _, known := range []string{tag, "W/" + tag, `"other", ` + tag, "*"} {
		again := ask(t, s, "GET", "/web/app.wasm", "Accept-Encoding", "br", "If-None-Match", known)
		if again.StatusCode != http.StatusNotModified || len(body(t, again)) != 0 {
			t.Errorf("If-None-Match %s: %s", known, again.Status)
		}
	}
	if other := ask(t, s, "GET", "/web/app.wasm", "Accept-Encoding", "br", "If-None-Match", `"other"`); other.StatusCode != http.StatusOK {
		t.Errorf("another validator: %s", other.Status)
	}
}

func TestEveryPlaceInTheAppIsTheOnePage(t *testing.T) {
	s := load(t, build(t))
	page := body(t, ask(t, s, "GET", "/"))
	for _, path := range []string{"/children", "/children/0190f4a0-0000-7000-8000-000000000001/sheet", "/x?y=z"} {
		if got := ask(t, s, "GET", path); got.StatusCode != http.StatusOK || !bytes.Equal(body(t, got), page) {
			t.Errorf("%s: %s", path, got.Status)
		}
	}
	for _, path := range []string{"/web/other.js", "/favicon.ico", "/robots.txt", "/web/../secret.txt"} {
		if got := ask(t, s, "GET", path); got.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %s", path, got.Status)
		}
	}
	if head := ask(t, s, "HEAD", "/"); head.StatusCode != http.StatusOK || len(body(t, head)) != 0 {
		t.Errorf("HEAD: %s", head.Status)
	}
	if post := ask(t, s, "POST", "/"); post.StatusCode != http.StatusMethodNotAllowed {
		t.Errorf("POST: %s", post.Status)
	}
}

// What OWASP ASVS 5.0 chapter 3 asks of every answer, errors included.
func TestEveryAnswerIsGuarded(t *testing.T) {
	s := load(t, build(t))
	for _, path := range []string{"/", "/web/app.wasm", "/web/missing.js"} {
		h := ask(t, s, "GET", path).Header
		for name, want := range map[string]string{
			"Content-Security-Policy":      "default-src 'none'",
			"X-Content-Type-Options":       "nosniff",
			"Referrer-Policy":              "no-referrer",
			"Cross-Origin-Opener-Policy":   "same-origin",
			"Cross-Origin-Resource-Policy": "same-origin",
		} {
			if !strings.HasPrefix(h.Get(name), want) {
				t.Errorf("%s: %s is %q", path, name, h.Get(name))
			}
		}
		if strings.Contains(h.Get("Content-Security-Policy"), "unsafe-inline") || strings.Contains(h.Get("Content-Security-Policy"), "'unsafe-eval'") {
			t.Errorf("%s: the policy allows inline script or eval", path)
		}
	}
}

func TestVersionComesFromContent(t *testing.T) {
	first := load(t, build(t))
	if again := load(t, build(t)); again.Version != first.Version {
		t.Errorf("the same build is %s and %s", first.Version, again.Version)
	}
	for _, f := range served {
		changed := build(t)
		name := builtName(f.Path) + ".br"
		raw, err := io.ReadAll(brotli.NewReader(bytes.NewReader(changed[name].Data)))
		if err != nil {
			t.Fatal(err)
		}
		changed[name] = &fstest.MapFile{Data: packed(t, string(raw)+".")}
		if load(t, changed).Version == first.Version {
			t.Errorf("a change in %s is the same version", f.Path)
		}
	}
	if page := string(body(t, ask(t, first, "GET", "/"))); !strings.Contains(page, `data-version="`+first.Version+`"`) {
		t.Errorf("the page does not say the version %s: %.200s", first.Version, page)
	}
	worker := string(first.files["/worker.js"].Raw)
	if !strings.Contains(worker, `"`+first.Version+`"`) || strings.Contains(worker, "{{") {
		t.Errorf("the worker is %s", worker)
	}
	for _, f := range first.Files() {
		if listed := strings.Contains(worker, fmt.Sprintf("%q:", f.Path)); listed != f.Offline {
			t.Errorf("%s: kept offline %t, in the worker's list %t", f.Path, f.Offline, listed)
		}
	}
}

func TestPlantedPanicOnlyWhereAllowed(t *testing.T) {
	s := load(t, build(t))
	plain := s.Version
	if bytes.Contains(body(t, ask(t, s, "GET", "/")), []byte("plant-panic")) {
		t.Error("the page allows it unasked")
	}
	if err := s.AllowPlantedPanic(); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(body(t, ask(t, s, "GET", "/")), []byte("data-plant-panic")) || s.Version == plain {
		t.Error("the page does not allow it, or the version did not change")
	}
}

func TestBrokenBuilds(t *testing.T) {
	if _, err := Load(fstest.MapFS{}); !errors.Is(err, ErrNoApp) {
		t.Errorf("an empty folder: %v", err)
	}
	missing := build(t)
	delete(missing, "loader.js.br")
	if _, err := Load(missing); err == nil || !strings.Contains(err.Error(), "loader.js") {
		t.Errorf("a missing file: %v", err)
	}
	cut := build(t)
	cut["app.wasm.br"] = &fstest.MapFile{Data: cut["app.wasm.br"].Data[:10]}
	if _, err := Load(cut); err == nil || !strings.Contains(err.Error(), "app.wasm") {
		t.Errorf("a cut file: %v", err)
	}
}

// A browser makes a module at once of what comes as application/wasm alone.
func TestPackedModule(t *testing.T) {
	packed := build(t)
	delete(packed, "words.wasm.br")
	packed["words.wasm"] = &fstest.MapFile{Data: []byte("pck2 and what follows")}
	s := load(t, packed)
	for path, want := range map[string]string{"/web/words.wasm": "application/octet-stream", "/web/app.wasm": "application/wasm"} {
		if got := ask(t, s, "GET", path).Header.Get("Content-Type"); got != want {
			t.Errorf("%s is %s, not %s", path, got, want)
		}
	}
}

func TestFirstVisitLeavesOut(t *testing.T) {
	s := load(t, build(t))
	for _, f := range s.FirstVisit() {
		if f.Icon || f.Later || f.Sent() >= len(f.Raw) {
			t.Errorf("%s is counted as %d bytes", f.Path, f.Sent())
		}
	}
	icons, later := 0, len(s.Later())
	for _, f := range s.Files() {
		if f.Icon {
			icons++
		}
	}
	if icons == 0 || later == 0 || len(s.FirstVisit()) != len(s.Files())-icons-later {
		t.Errorf("%d files are counted", len(s.FirstVisit()))
	}
}

// A new file beside the page must be named in the list, or it is built and
// never served; what the page and the manifest ask for must be served.
func TestEverySourceIsServed(t *testing.T) {
	byName, byPath := map[string]bool{"wasm_exec.js": true, "app.wasm": true, "words.wasm": true}, map[string]bool{}
	for _, f := range served {
		byName[builtName(f.Path)], byPath[f.Path] = true, true
	}
	entries, err := os.ReadDir("../web")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !e.IsDir() && !strings.HasSuffix(e.Name(), ".go") && !byName[e.Name()] {
			t.Errorf("app/web/%s is not served: name it in the list in site.go", e.Name())
		}
	}
	for _, name := range []string{"index.html", "manifest.webmanifest"} {
		data, err := os.ReadFile("../web/" + name)
		if err != nil {
			t.Fatal(err)
		}
		asked := regexp.MustCompile(`(?:href=|src=|"src": )"([^"]+)"`).FindAllStringSubmatch(string(data), -1)
		if len(asked) < 4 {
			t.Errorf("%s was seen to ask for %d files only", name, len(asked))
		}
		for _, a := range asked {
			if !byPath[a[1]] {
				t.Errorf("%s asks for %s, which is not served", name, a[1])
			}
		}
	}
}
