//go:build !(js && wasm)

package main

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// A listed is what `go list -json` says of one package.
type listed struct {
	ImportPath, Dir string
	Name            string // "main" for a generator, which runs on a desk
	GoFiles         []string
	Imports         []string
}

func list(t *testing.T, env []string, args ...string) []listed {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-json=ImportPath,Dir,Name,GoFiles,Imports"}, args...)...)
	cmd.Env = append(os.Environ(), env...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list %v: %v", args, err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

// TestBrowserClosure: text/template and html/template keep the linker from
// removing dead code, net/http brings TLS along; each costs the first visit
// hundreds of kilobytes. The embedded files of app/web would be the app inside
// itself.
func TestBrowserClosure(t *testing.T) {
	if out, err := exec.Command("node", "../.build/build.mjs", "modules").CombinedOutput(); err != nil {
		t.Fatalf("the changed modules cannot be made: %v\n%s", err, out)
	}
	browser := []string{"GOOS=js", "GOARCH=wasm"}
	reached := map[string]bool{}
	for _, p := range list(t, browser, "-modfile=../.build/out/browser.mod", "-deps", ".") {
		reached[p.ImportPath] = true
		for _, heavy := range []string{
			"text/template", "html/template", "net/http", "crypto/tls", "crypto/x509", "encoding/xml", "encoding/gob",
			"database/sql", "os/exec", "regexp", "net", "mime", "log", "crypto/rand", "crypto/md5", "crypto/sha1", "testing", "go/", "fairlead/app/web", "fairlead/app/server",
			"codeberg.org/go-pdf", "github.com/andybalholm/brotli", "golang.org/x/net",
		} {
			if p.ImportPath == "net/url" || p.ImportPath == "net/netip" {
				continue // addresses only, without a network
			}
			if p.ImportPath == heavy || strings.HasPrefix(p.ImportPath, strings.TrimSuffix(heavy, "/")+"/") {
				t.Errorf("the browser's program reaches %s: leave it out or replace it in .build/patches.mjs", p.ImportPath)
			}
		}
	}
	if !reached["fairlead/app/ui"] || !reached["github.com/maxence-charriere/go-app/v10/pkg/app"] {
		t.Error("the closure was not listed: the app itself is missing from it")
	}
}

// TestImportsPointOneWay: wasm → app → handover → schema.
func TestImportsPointOneWay(t *testing.T) {
	rooms := []string{"schema", "handover", "app", "wasm"}
	room := func(path string) int {
		for i, name := range rooms {
			if path == "fairlead/"+name || strings.HasPrefix(path, "fairlead/"+name+"/") {
				return i
			}
		}
		return -1
	}
	seen := 0
	// The browser's files count as well as the server's.
	for _, env := range [][]string{nil, {"GOOS=js", "GOARCH=wasm"}} {
		for _, p := range list(t, env, "-e", "../...") {
			from := room(p.ImportPath)
			if from < 0 {
				t.Errorf("%s is in none of the rooms %v", p.ImportPath, rooms)
				continue
			}
			seen++
			for _, to := range p.Imports {
				if room(to) > from {
					t.Errorf("%s imports %s: imports point from wasm to app to handover to schema", p.ImportPath, to)
				}
			}
		}
	}
	if seen < 5 {
		t.Errorf("only %d packages were looked at", seen)
	}
}

// TestDomainIsPlain: schema and handover know nothing of browser, network,
// database, clock, time zone or chance; all of that is handed to them.
func TestDomainIsPlain(t *testing.T) {
	forbidden := map[string]bool{
		"syscall/js": true, "net/http": true, "net": true, "database/sql": true, "os/exec": true,
		"math/rand": true, "math/rand/v2": true, "crypto/rand": true,
		"github.com/maxence-charriere/go-app/v10/pkg/app": true,
	}
	clock := map[string]bool{
		"Now": true, "Since": true, "Until": true, "Local": true, "LoadLocation": true,
		"After": true, "AfterFunc": true, "Tick": true, "NewTimer": true, "NewTicker": true, "Sleep": true,
	}
	for _, env := range [][]string{nil, {"GOOS=js", "GOARCH=wasm"}} {
		for _, p := range list(t, env, "-e", "../schema/...", "../handover/...") {
			if p.Name == "main" {
				continue
			}
			for _, to := range p.Imports {
				// A conformance suite draws its steps from a fixed seed.
				if forbidden[to] && !(strings.HasSuffix(p.ImportPath, "/logtest") && to == "math/rand/v2") {
					t.Errorf("%s imports %s", p.ImportPath, to)
				}
			}
			for _, name := range p.GoFiles {
				files := token.NewFileSet()
				file, err := parser.ParseFile(files, p.Dir+"/"+name, nil, 0)
				if err != nil {
					t.Error(err)
					continue
				}
				ast.Inspect(file, func(n ast.Node) bool {
					call, ok := n.(*ast.SelectorExpr)
					if !ok {
						return true
					}
					of, ok := call.X.(*ast.Ident)
					if !ok {
						return true
					}
					at := files.Position(call.Pos())
					switch {
					case of.Name == "time" && of.Obj == nil && clock[call.Sel.Name]:
						t.Errorf("%s:%d reads the clock or the zone: time.%s", at.Filename, at.Line, call.Sel.Name)
					case of.Name == "uuid" && of.Obj == nil && (strings.HasPrefix(call.Sel.Name, "New") && !strings.Contains(call.Sel.Name, "FromReader") &&
						call.Sel.Name != "NewSHA1" && call.Sel.Name != "NewMD5" && call.Sel.Name != "NewHash"):
						t.Errorf("%s:%d makes an identifier by chance: uuid.%s", at.Filename, at.Line, call.Sel.Name)
					}
					return true
				})
			}
		}
	}
}
