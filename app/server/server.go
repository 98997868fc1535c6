// Package server hands the app to browsers. It holds no record of any child.
//
// A [Site] is one built version of the app; [Handler] serves it: one empty page
// for every address inside the app, its files precompressed, and the headers
// that keep everything else out. Nothing that a person types is ever part of an
// address, and requests are not logged.
package server

import (
	"context"
	"crypto/tls"
	"errors"
	"io"
	"log"
	"net"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"
)

// policy allows the app's own files and nothing else. 'wasm-unsafe-eval' is
// what a browser asks for before it compiles WebAssembly.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
	"img-src 'self' blob: data:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; " +
	"font-src 'self'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'; form-action 'none'"

// Handler serves one version of the app.
func Handler(s *Site) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(self), microphone=(self), geolocation=(), payment=(), usb=(), browsing-topics=()")
		if r.TLS != nil {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD are answered here", http.StatusMethodNotAllowed)
			return
		}
		f, ok := s.files[r.URL.Path]
		if !ok {
			if !insideApp(r.URL.Path) {
				http.Error(w, "there is no such file", http.StatusNotFound)
				return
			}
			f = s.files["/"]
		}
		serve(w, r, f)
	})
}

// insideApp tells a place inside the app, which gets its one page, from a file
// that is missing.
func insideApp(address string) bool {
	return !strings.HasPrefix(address, "/web/") && path.Ext(address) == ""
}

func serve(w http.ResponseWriter, r *http.Request, f *File) {
	h := w.Header()
	h.Set("Content-Type", f.Type)
	h.Set("Vary", "Accept-Encoding")
	// Kept by the browser but asked about every time: the answer is mostly 304,
	// and the service worker's copy costs no second download.
	h.Set("Cache-Control", "no-cache")
	body, tag := f.Raw, f.ETag
	if f.Brotli != nil && acceptsBrotli(r.Header.Get("Accept-Encoding")) {
		h.Set("Content-Encoding", "br")
		body, tag = f.Brotli, strings.TrimSuffix(f.ETag, `"`)+`-br"`
	}
	h.Set("ETag", tag)
	if matches(r.Header.Get("If-None-Match"), tag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method == http.MethodHead {
		return
	}
	// A failed write means that the browser has gone away: there is nobody to tell.
	_, _ = w.Write(body)
}

// acceptsBrotli reads an Accept-Encoding header (RFC 9110, 12.5.3).
func acceptsBrotli(header string) bool {
	for _, part := range strings.Split(header, ",") {
		coding, weight, _ := strings.Cut(part, ";")
		if strings.ToLower(strings.TrimSpace(coding)) != "br" {
			continue
		}
		value, found := strings.CutPrefix(strings.ReplaceAll(weight, " ", ""), "q=")
		if !found {
			return true
		}
		q, err := strconv.ParseFloat(value, 64)
		return err == nil && q > 0
	}
	return false
}

// matches reads an If-None-Match header (RFC 9110, 13.1.2: weak comparison).
func matches(header, tag string) bool {
	for _, part := range strings.Split(header, ",") {
		part = strings.TrimPrefix(strings.TrimSpace(part), "W/")
		if part == tag || part == "*" {
			return true
		}
	}
	return false
}

// Serve answers on the listener until the context ends. Without a certificate
// it speaks plain HTTP, which browsers trust on localhost only.
func Serve(ctx context.Context, l net.Listener, h http.Handler, cert *tls.Certificate) error {
	server := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       30 * time.Second,
		WriteTimeout:      5 * time.Minute, // a slow network takes its time over the first download
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    1 << 16,
		ErrorLog:          log.New(io.Discard, "", 0), // it would name addresses
	}
	if cert != nil {
		server.TLSConfig = &tls.Config{Certificates: []tls.Certificate{*cert}, MinVersion: tls.VersionTLS12}
	}
	ended := make(chan error, 1)
	go func() {
		if cert != nil {
			ended <- server.ServeTLS(l, "", "")
		} else {
			ended <- server.Serve(l)
		}
	}()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	quiet, stop := context.WithTimeout(context.Background(), 3*time.Second)
	defer stop()
	if err := server.Shutdown(quiet); err != nil {
		_ = server.Close() // some browser holds on; it loses nothing
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
