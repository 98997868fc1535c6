// What the browser build changes in three modules, and why.
//
// text/template keeps every method of every type it might be handed, and
// net/http brings TLS with it: together more than a megabyte after brotli,
// none of it used in the browser. Each module is copied from the module cache
// and the files named here are rewritten. Every rewritten file is checked
// against the hash of the version these changes were made for, so that a new
// version of a module stops the build until somebody has read it.

import fs from 'node:fs';
import path from 'node:path';

const browserOnly = '//go:build wasm\n\n';
const elsewhere = '//go:build !wasm\n\n';

// swap replaces text that must be there exactly once.
function swap(text, from, to) {
  const parts = text.split(from);
  if (parts.length !== 2) {
    throw new Error(`expected exactly one place to change, found ${parts.length - 1}: ${from.slice(0, 60)}`);
  }
  return parts.join(to);
}

// The package clause is the only line that changes on the way.
const ownPattern = swap(fs.readFileSync(path.join(import.meta.dirname, '../schema/pattern/pattern.go'), 'utf8'), '\npackage pattern\n', '\npackage gojsonschema\n');

export const modules = [
  {
    path: 'github.com/maxence-charriere/go-app/v10',
    version: 'v10.1.11',
    folders: ['pkg/app', 'pkg/errors'],
    files: {
      // The framework's own server: not used, ours is app/server.
      'pkg/app/http.go': {
        sha256: '0601189a9f611378e9b24ab4bdf42780a03cbf95c1bbebd4171b523ddbe9a32d',
        rewrite: (text) => ({
          'pkg/app/http.go': elsewhere + text,
          'pkg/app/http_browser.go': browserOnly + `package app

// Handler serves nothing in the browser.
type Handler struct{}
`,
        }),
      },
      // What an event changed is shown after the next tick of 1/120 s, which is most of
      // what a key waits for. Where nothing was drawn for a while it is shown after
      // 1 ms, which still gathers what one key sets off; while the app opens, or much
      // comes at once, the ticks stay as they are.
      'pkg/app/engine.go': {
        sha256: '8400019d85d00fb6a904a9214ab78e1874ead07bb7ec719c2c254955864db5b2',
        rewrite: (text) => ({
          'pkg/app/engine.go': swap(swap(swap(text,
            '\tdefer frames.Stop()\n', '\tdefer frames.Stop()\n\tvar drawn time.Time\n'),
          '\t\t\t\tframes.Reset(activeFrameDuration)\n',
          '\t\t\t\tif time.Since(drawn) > 30*time.Millisecond {\n\t\t\t\t\tframes.Reset(time.Millisecond)\n\t\t\t\t} else {\n\t\t\t\t\tframes.Reset(activeFrameDuration)\n\t\t\t\t}\n'),
          '\t\t\te.processFrame()\n\t\t\tframes.Reset(iddleFrameDuration)\n', '\t\t\te.processFrame()\n\t\t\tdrawn = time.Now()\n\t\t\tframes.Reset(iddleFrameDuration)\n'),
        }),
      },
      // Sealed local storage: ours is app/keep, with the browser's own cipher.
      'pkg/app/crypto.go': {
        sha256: 'c0fc14126207dc9fa15fb8869bd882874486654919835dc35d5bef8a6122aa97',
        rewrite: (text) => ({
          'pkg/app/crypto.go': elsewhere + text,
          'pkg/app/crypto_browser.go': browserOnly + `package app

import "github.com/maxence-charriere/go-app/v10/pkg/errors"

var errSealed = errors.New("the framework seals nothing in this build")

func encrypt(string, []byte) ([]byte, error) { return nil, errSealed }

func decrypt(string, []byte) ([]byte, error) { return nil, errSealed }
`,
        }),
      },
      // The one route of ours takes every path. Regular expressions bring every
      // script of Unicode; in the browser a route is the beginning of a path.
      'pkg/app/route.go': {
        sha256: '3252c7f2876cba69c3fbb203b0b4d5770ddd4651cdaf3ad69e5c33bfd1ccf5bd',
        rewrite: (text) => ({
          'pkg/app/route.go': swap(swap(swap(text, '\t"regexp"\n', ''), 'regexp.MustCompile(pattern)', 'compileRoute(pattern)'), '*regexp.Regexp', '*routePattern'),
          'pkg/app/route_pattern.go': elsewhere + `package app

import "regexp"

type routePattern = regexp.Regexp

func compileRoute(pattern string) *routePattern { return regexp.MustCompile(pattern) }
`,
          'pkg/app/route_pattern_browser.go': browserOnly + `package app

import "strings"

type routePattern struct{ prefix string }

func (p *routePattern) MatchString(path string) bool { return strings.HasPrefix(path, p.prefix) }

func compileRoute(pattern string) *routePattern {
	prefix, from := strings.CutPrefix(pattern, "^")
	prefix, on := strings.CutSuffix(prefix, ".*")
	if !from || !on || strings.ContainsAny(prefix, "\\\\.+*?()|[]{}^$") {
		panic("in the browser a route is ^, the beginning of a path, and .*: " + pattern)
	}
	return &routePattern{prefix}
}
`,
        }),
      },
      'pkg/app/resource.go': {
        sha256: '6b52ab4ec2f4171d403384bffe159e9ec22699933e768ef5868f2851a1b84baa',
        rewrite: (text) => ({
          'pkg/app/resource.go': elsewhere + text,
          'pkg/app/resource_browser.go': browserOnly + `package app

import "strings"

func clientResourceResolver(resourcesLocation string) func(string) string {
	return func(location string) string {
		if remoteLocation(location) || !webLocation(location) {
			return location
		}
		location = strings.Trim(location, "/")
		return resourcesLocation + "/" + strings.TrimPrefix(location, "web/")
	}
}

func remoteLocation(location string) bool {
	return strings.HasPrefix(location, "https://") ||
		strings.HasPrefix(location, "http://")
}

func webLocation(location string) bool {
	return strings.HasPrefix(location, "/web/") ||
		location == "/web" ||
		strings.HasPrefix(location, "web/") ||
		location == "web"
}
`,
        }),
      },
    },
  },
  {
    path: 'github.com/xeipuuv/gojsonschema',
    version: 'v1.2.0',
    folders: ['.'],
    files: {
      // Error sentences hold plain {{.name}} places only.
      'errors.go': {
        sha256: '7dae1c7a4c3c956777e406adb5cb55d0862289496e2697646c244178c4a83a7c',
        rewrite: (text) => {
          text = swap(text, `import (
	"bytes"
	"sync"
	"text/template"
)

var errorTemplates = errorTemplate{template.New("errors-new"), sync.RWMutex{}}

// template.Template is not thread-safe for writing, so some locking is done
// sync.RWMutex is used for efficiently locking when new templates are created
type errorTemplate struct {
	*template.Template
	sync.RWMutex
}
`, `import (
	"fmt"
	"strings"
)
`);
          const at = text.indexOf('func formatErrorDescription(');
          return {
            'errors.go': text.slice(0, at) + `func formatErrorDescription(s string, details ErrorDetails) string {
	var out strings.Builder
	for {
		from := strings.Index(s, "{{.")
		if from < 0 {
			break
		}
		length := strings.Index(s[from:], "}}")
		if length < 0 {
			break
		}
		out.WriteString(s[:from])
		value, ok := details[s[from+3:from+length]]
		if ok && value != nil {
			fmt.Fprint(&out, value)
		} else {
			out.WriteString("<no value>")
		}
		s = s[from+length+2:]
	}
	out.WriteString(s)
	return out.String()
}
`,
          };
        },
      },
      'schema.go': {
        sha256: '08d770b743733ce906951288997427ee195e62c0e2fff8d6c738c3ae99966b8e',
        rewrite: (text) => {
          text = swap(text, '\t"text/template"\n', '');
          text = swap(text, '\t"regexp"\n', '');
          text = swap(text, 'regexp.MatchString(k, "")', 'matchPattern(k, "")');
          text = swap(text, 'regexp.Compile(m[KEY_PATTERN].(string))', 'compilePattern(m[KEY_PATTERN].(string))');
          return { 'schema.go': swap(text, 'template.FuncMap', 'map[string]interface{}') };
        },
      },
      // Formats bring the network, mail and mime packages. Our schemas use no format
      // (held by a test), so the browser judges none.
      'format_checkers.go': {
        sha256: 'd72d75cdb75270e8049754e6ee11d736944d7fdaba3efe07991316f83d0553e9',
        rewrite: (text) => ({
          'format_checkers.go': elsewhere + text,
          'format_checkers_browser.go': browserOnly + `package gojsonschema

// FormatCheckerChain judges no format in the browser.
type FormatCheckerChain struct{}

// IsFormat takes any value.
func (FormatCheckerChain) IsFormat(string, interface{}) bool { return true }

// FormatCheckers is empty in the browser.
var FormatCheckers FormatCheckerChain
`,
        }),
      },
      // Patterns bring the regular expressions and with them every script of
      // Unicode. In the browser ours are read by schema/pattern; another is refused.
      'subSchema.go': {
        sha256: '83f6e5734f37cb70ff1974d527d83c02463dfc0ab2a4fa2c2979cbcfd4e2bfdd',
        rewrite: (text) => ({
          'subSchema.go': swap(swap(text, '\t"regexp"\n', ''), '*regexp.Regexp', '*compiledPattern'),
          'pattern.go': elsewhere + `package gojsonschema

import "regexp"

type compiledPattern = regexp.Regexp

func compilePattern(s string) (*compiledPattern, error) { return regexp.Compile(s) }

func matchPattern(pattern, s string) (bool, error) { return regexp.MatchString(pattern, s) }
`,
          'pattern_browser.go': browserOnly + ownPattern + `
type compiledPattern = Pattern

func compilePattern(s string) (*compiledPattern, error) { return Compile(s) }

func matchPattern(pattern, s string) (bool, error) {
	p, err := Compile(pattern)
	return err == nil && p.MatchString(s), err
}
`,
        }),
      },
      'validation.go': {
        sha256: '1cf13d901c0cb095c4b876ada57837ba4181b5f227880b53c3008d7d16cdd114',
        rewrite: (text) => ({
          'validation.go': swap(swap(text, '\t"regexp"\n', ''), 'regexp.MatchString(pk, key)', 'matchPattern(pk, key)')
            .replace(/new\(big\.Float\)\.SetRat\(/g, 'shortest('),
          // A limit in a sentence, as big.Float prints it, which brings 45 kB of
          // its own arithmetic and formats.
          'shortest.go': `package gojsonschema

import (
	"math/big"
	"strconv"
)

func shortest(limit *big.Rat) string {
	f, _ := limit.Float64()
	return strconv.FormatFloat(f, 'g', -1, 64)
}
`,
        }),
      },
      // Never called: the switch before it is a constant.
      'internalLog.go': {
        sha256: '70be3ce1484be27b711fddd0e8d6d3202a6b23a31c5272effcbdd301510da52f',
        rewrite: (text) => ({
          'internalLog.go': swap(swap(text, 'import (\n\t"log"\n)\n', ''), '\tlog.Printf(format, v...)\n', ''),
        }),
      },
      // Schemas are embedded; nothing is loaded over the network.
      'jsonLoader.go': {
        sha256: 'd2e62cda4eb6ae0d5bc4f99f4bac5ac3b03714a09bad84ffff7658caf12a1f5e',
        rewrite: (text) => {
          text = swap(text, '\t"net/http"\n', '');
          text = text.replaceAll('http.FileSystem', 'fileSystem').replaceAll('http.File', 'io.ReadCloser');
          text = swap(text, 'var osFS = osFileSystem(os.Open)', `type fileSystem interface {
	Open(name string) (io.ReadCloser, error)
}

var osFS = osFileSystem(os.Open)`);
          const from = text.indexOf('\tresp, err := http.Get(address)');
          const to = text.indexOf('func (l *jsonReferenceLoader) loadFromFile');
          return {
            'jsonLoader.go': text.slice(0, from) +
              '\treturn nil, errors.New("schemas are not loaded over the network: " + address)\n}\n\n' + text.slice(to),
          };
        },
      },
    },
  },
  {
    path: 'github.com/google/uuid',
    version: 'v1.6.0',
    folders: ['.'],
    files: {
      // Ids made of names, and the database's interfaces: not used in the browser.
      'hash.go': {
        sha256: 'afe975c3f3e8b9a972c66165f06e978cc5c2f8ea5a4809dae4c46b4cfebbadce',
        rewrite: (text) => ({
          'hash.go': elsewhere + text,
          'nil_browser.go': browserOnly + `package uuid

// Nil is the UUID of zeros.
var Nil UUID
`,
        }),
      },
      'sql.go': {
        sha256: '29281b11e8f97f1ddf73d087854cb401ba42a87c4f59ce45fc69763a4d927f2f',
        rewrite: (text) => ({ 'sql.go': elsewhere + text }),
      },
      'null.go': {
        sha256: '791638f42d54fcf07ac752df6b2df92593f7da308f944465e2cda443dc3346cf',
        rewrite: (text) => ({ 'null.go': elsewhere + text }),
      },
      // The browser's own random numbers, without a generator beside them.
      'uuid.go': {
        sha256: '0edec8e34c6b6fe0db31b71a29069a09ed832e3fd04ee0175916b58f2b60e5c1',
        rewrite: (text) => ({
          'uuid.go': swap(text, '\t"crypto/rand"\n', '').replaceAll('rand.Reader', 'randReader'),
          'random.go': elsewhere + `package uuid

import "crypto/rand"

var randReader = rand.Reader
`,
          'random_browser.go': browserOnly + `package uuid

import (
	"io"
	"syscall/js"
)

var randReader io.Reader = browserRandom{}

type browserRandom struct{}

// Read fills b from crypto.getRandomValues, which gives 65 536 bytes at most.
func (browserRandom) Read(b []byte) (int, error) {
	if len(b) > 65536 {
		b = b[:65536]
	}
	a := js.Global().Get("Uint8Array").New(len(b))
	js.Global().Get("crypto").Call("getRandomValues", a)
	return js.CopyBytesToGo(b, a), nil
}
`,
        }),
      },
    },
  },
];

// What the browser build changes in Go's own packages, for what they bring along. A
// file that is not the one a change was written for, of another version of Go, stays
// as it is: the program is then larger and does the same.
// findsByNumber is the file with which the runtime finds a function by its number.
export const findsByNumber = 'runtime/symtab.go';

export const standard = [
  // Which function an address is in: a table of 20 bytes for every 4096 addresses, of
  // which each function of a module has 65536. They are numbered without a gap, so that
  // the number finds it (strip.mjs makes sure of it): 3 of 16 MB that a browser reads
  // at each start.
  {
    file: findsByNumber,
    sha256: '556bdcf7743dc7be1c7c6bef9f95b968879c152696a4fa96afb6b6c48e2f45e9',
    rewrite: (text) => {
      const find = text.indexOf('func findfunc(pc uintptr) funcInfo {');
      const from = text.indexOf('\tconst nsub = ', find);
      const rest = text.indexOf('\tpcOff, ok := ', find);
      const search = text.indexOf('\tx := uintptr(pcOff)', find);
      const end = text.indexOf('\tfuncoff := datap.ftab[idx].funcoff', find);
      return `${text.slice(0, from)}${text.slice(rest, search)}\tidx := pcOff - uint32((datap.minpc-datap.text)>>16)\n${text.slice(end)}`;
    },
  },
  // Settings of the environment variable GODEBUG, which no browser has: with them come
  // the runtime's metrics and a search by halves for what a setting changed.
  {
    file: 'internal/godebug/godebug.go',
    sha256: 'cd492e76ae63872ac4310fc09b2e097229588dbf114d14d713be3f027b0233c8',
    rewrite: () => `package godebug

// A Setting is always at its default.
type Setting struct{ name string }

func New(name string) *Setting { return &Setting{name} }

func (s *Setting) Name() string { return s.name }

func (*Setting) Value() string { return "" }

func (*Setting) IncNonDefault() {}
`,
  },
  // Another implementation of the same sums, which is not in this build, and with it
  // ciphers and a generator of random numbers.
  {
    file: 'crypto/sha256/sha256.go',
    sha256: '34c5c7e8408022e7b8fd570453aebe6a95607761c14fbae61f465f9ba6328da9',
    rewrite: (text) => swap(text, '\t"crypto/internal/boring"\n', '').replace(/\tif boring\.Enabled \{\n.*\n\t\}\n/g, ''),
  },
  // Addresses in square brackets: the app knows none.
  {
    file: 'net/url/url.go',
    sha256: '7bec001746c2cd512275c7269bc293f3d36cb004ddb193d736e02e361a3778aa',
    rewrite: (text) => {
      const from = text.indexOf('\t\tcloseBracketIdx := strings.LastIndex(');
      const to = text.indexOf('\t} else if i := strings.Index(host, ":")', from);
      return swap(text.slice(0, from) + '\t\treturn "", errors.New("an address in square brackets is not read here")\n' + text.slice(to), '\t"net/netip"\n', '');
    },
  },
];
