//go:build !(js && wasm)

package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"net"
	"os"

	"fairlead/app/server"
	"fairlead/app/web"
)

var _ = add(command{
	name:  "serve",
	usage: "[-at HOST:PORT] [-tls-cert FILE -tls-key FILE]",
	short: "Serves the app to browsers until it is interrupted.",
	run:   serve,
})

func serve(ctx context.Context, p *program, args []string) int {
	at := "localhost:8350"
	var certFile, keyFile, dir string
	var plant bool
	rest, code, ok := p.flags("serve", args, func(f *flag.FlagSet) {
		f.StringVar(&at, "at", at, "`host:port` to answer on; port 0 takes a free one")
		f.StringVar(&certFile, "tls-cert", "", "certificate `file` (PEM); needed away from localhost, where browsers keep nothing offline without https")
		f.StringVar(&keyFile, "tls-key", "", "the certificate's private key `file` (PEM)")
		f.StringVar(&dir, "web", "", "serve the build in this `folder` instead of the one inside the program (for tests)")
		f.BoolVar(&plant, "plant-panic", false, "let a page stop the app on purpose (for tests)")
	})
	if !ok {
		return code
	}
	if len(rest) > 0 {
		return p.fail(fmt.Errorf("serve takes options only, not %q", rest[0]), `type "fairlead serve -help" for them`)
	}
	if (certFile == "") != (keyFile == "") {
		return p.fail(errors.New("-tls-cert and -tls-key belong together"), "give both, or neither")
	}
	var cert *tls.Certificate
	if certFile != "" {
		pair, err := tls.LoadX509KeyPair(certFile, keyFile)
		if err != nil {
			return p.fail(fmt.Errorf("the certificate and key cannot be used: %w", err), "both must be PEM files, and belong to each other")
		}
		cert = &pair
	}
	var built fs.FS = web.Built()
	if dir != "" {
		built = os.DirFS(dir)
	}
	site, err := server.Load(built)
	if errors.Is(err, server.ErrNoApp) {
		return p.fail(err, `build it with "make build"`)
	}
	if err != nil {
		return p.fail(err, `build the app again with "make build"`)
	}
	if plant {
		if err := site.AllowPlantedPanic(); err != nil {
			return p.fail(err, "")
		}
	}
	if _, _, err := net.SplitHostPort(at); err != nil {
		return p.fail(fmt.Errorf("-at: %q is not a host and a port", at), "write it like localhost:8350")
	}
	l, err := net.Listen("tcp", at)
	if err != nil {
		return p.fail(fmt.Errorf("cannot answer on %s: %w", at, err), "choose another address with -at")
	}
	fmt.Fprintln(p.out, address(at, l.Addr(), cert != nil))
	if err := server.Serve(ctx, l, server.Handler(site), cert); err != nil {
		return p.fail(fmt.Errorf("serving stopped: %w", err), "")
	}
	return exitDone
}

// address is what to type into a browser: the host as it was asked for, since a
// certificate and the browser's trust in localhost go by name.
func address(asked string, got net.Addr, secure bool) string {
	host, _, err := net.SplitHostPort(asked)
	if err != nil || host == "" {
		host = "localhost"
	}
	_, port, err := net.SplitHostPort(got.String())
	if err != nil {
		return got.String()
	}
	if secure {
		return "https://" + net.JoinHostPort(host, port)
	}
	return "http://" + net.JoinHostPort(host, port)
}
