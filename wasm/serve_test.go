//go:build !(js && wasm)

package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"math/big"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// aBuild writes a folder such as the build makes, small and uncompressed.
func aBuild(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	styles, err := filepath.Glob("../app/web/*.css")
	if err != nil || len(styles) == 0 {
		t.Fatalf("no style sheets: %v", err)
	}
	for i := range styles {
		styles[i] = filepath.Base(styles[i])
	}
	for _, name := range append(styles,
		"index.html", "worker.js", "manifest.webmanifest", "app.wasm", "words.wasm", "words.js", "demo.json", "unpack.js", "loader.js", "keep.js", "wasm_exec.js",
		"icon.svg", "icon-180.png", "icon-192.png", "icon-512.png", "icon-maskable-512.png",
	) {
		text := name
		if name == "index.html" {
			text = `<!doctype html><html lang="en">`
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// started runs the command line until the test ends and returns the address it
// says it answers on.
func started(t *testing.T, args ...string) (address string) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	out, said := io.Pipe()
	var complained bytes.Buffer
	ended := make(chan int, 1)
	go func() {
		code := Run(ctx, args, strings.NewReader(""), said, &complained)
		said.Close()
		ended <- code
	}()
	t.Cleanup(func() {
		stop()
		if code := <-ended; code != exitDone {
			t.Errorf("serve ended with %d: %s", code, complained.String())
		}
	})
	line := make([]byte, 200)
	n, err := out.Read(line)
	if err != nil {
		t.Fatalf("serve said nothing: %v %s", err, complained.String())
	}
	return strings.TrimSpace(string(line[:n]))
}

func TestServeUntilInterrupted(t *testing.T) {
	address := started(t, "serve", "-at", "localhost:0", "-web", aBuild(t))
	if !strings.HasPrefix(address, "http://localhost:") {
		t.Fatalf("the address is %q", address)
	}
	got, err := http.Get(address + "/children")
	if err != nil {
		t.Fatal(err)
	}
	defer got.Body.Close()
	page, err := io.ReadAll(got.Body)
	if err != nil || got.StatusCode != http.StatusOK || !bytes.HasPrefix(page, []byte("<!doctype html>")) {
		t.Errorf("a place inside the app gave %s %q %v", got.Status, page, err)
	}
}

func TestServeWithCertificate(t *testing.T) {
	cert, key, pool := certificate(t)
	address := started(t, "serve", "-at", "localhost:0", "-web", aBuild(t), "-tls-cert", cert, "-tls-key", key)
	if !strings.HasPrefix(address, "https://localhost:") {
		t.Fatalf("the address is %q", address)
	}
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	got, err := client.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	got.Body.Close()
	if got.Header.Get("Strict-Transport-Security") == "" {
		t.Error("over https the browser is not told to stay with it")
	}
	client.CloseIdleConnections()
}

func certificate(t *testing.T) (cert, key string, pool *x509.CertPool) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := x509.Certificate{
		SerialNumber: big.NewInt(1), DNSNames: []string{"localhost"},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
	}
	der, err := x509.CreateCertificate(rand.Reader, &about, &about, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	packed, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	write := func(name, kind string, der []byte) string {
		name = filepath.Join(t.TempDir(), name)
		if err := os.WriteFile(name, pem.EncodeToMemory(&pem.Block{Type: kind, Bytes: der}), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	parsed, err := x509.ParseCertificate(der)
	if err != nil {
		t.Fatal(err)
	}
	pool = x509.NewCertPool()
	pool.AddCert(parsed)
	return write("cert.pem", "CERTIFICATE", der), write("key.pem", "PRIVATE KEY", packed), pool
}

func TestWhatServeRefuses(t *testing.T) {
	for _, c := range []struct {
		args string
		want string // on standard error
	}{
		{"serve here", `not "here"`},
		{"serve -tls-cert cert.pem", "belong together"},
		{"serve -tls-cert no.pem -tls-key no.pem", "cannot be used"},
		{"serve -web " + t.TempDir(), `"make build"`},
		{"serve -at nowhere", "write it like localhost:8350"},
		{"serve -at 192.0.2.1:8350", "choose another address"},
		{"serve -colour red", "flag provided but not defined"},
		{"", "fairlead serve"},
		{"surf", `"fairlead help"`},
	} {
		var out, complained bytes.Buffer
		code := Run(context.Background(), strings.Fields(c.args), strings.NewReader(""), &out, &complained)
		if code != exitFailed {
			t.Errorf("fairlead %s: exit code %d", c.args, code)
		}
		if !strings.Contains(complained.String(), c.want) {
			t.Errorf("fairlead %s: standard error is %q, without %q", c.args, complained.String(), c.want)
		}
		if out.Len() > 0 {
			t.Errorf("fairlead %s: standard output is %q", c.args, out.String())
		}
	}
}

func TestHelp(t *testing.T) {
	for _, args := range []string{"help", "-h", "--help"} {
		var out, complained bytes.Buffer
		if code := Run(context.Background(), strings.Fields(args), strings.NewReader(""), &out, &complained); code != exitDone {
			t.Errorf("fairlead %s: exit code %d", args, code)
		}
		for name := range commands {
			if !strings.Contains(out.String(), "fairlead "+name+" ") {
				t.Errorf("fairlead %s does not list %s", args, name)
			}
		}
	}
	var out, complained bytes.Buffer
	if code := Run(context.Background(), []string{"serve", "-help"}, strings.NewReader(""), &out, &complained); code != exitDone {
		t.Errorf("fairlead serve -help: exit code %d", code)
	}
}
