package web

import (
	"compress/gzip"
	"net/http"
	"strings"
)

// policy lets a page load from this server alone, and run no script or style
// that stands in it.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// mostBody is the most that a form may send; a file may be mostFile.
const (
	mostBody = 256 << 10
	mostFile = 12 << 20
)

// guard is what goes before every route: headers, the check of where a form
// comes from, the limit of its size, compression.
func (s *Server) guard(next http.Handler) http.Handler {
	sameOrigin := http.NewCrossOriginProtection()
	sameOrigin.SetDenyHandler(s.serve(route{pattern: "denied", open: true, do: func(*request) error { return fromElsewhere() }}))
	inner := sameOrigin.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=()")
		h.Set("Cache-Control", "no-store") // health data; assets say otherwise
		if s.o.Secure {
			h.Set("Strict-Transport-Security", "max-age=31536000")
		}
		most := int64(mostBody)
		if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data") {
			most = mostFile
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") && r.Method != http.MethodHead {
			z := &zipped{ResponseWriter: w}
			defer z.close()
			w = z
		}
		inner.ServeHTTP(w, r)
	})
}

// zipped compresses text answers.
type zipped struct {
	http.ResponseWriter
	z     *gzip.Writer
	begun bool
}

func (z *zipped) WriteHeader(status int) {
	if !z.begun {
		z.begun = true
		h := z.Header()
		h.Add("Vary", "Accept-Encoding")
		kind, _, _ := strings.Cut(h.Get("Content-Type"), ";")
		text := strings.HasPrefix(kind, "text/") || kind == "application/json"
		if text && h.Get("Content-Encoding") == "" && status != http.StatusNotModified && status != http.StatusNoContent {
			h.Set("Content-Encoding", "gzip")
			h.Del("Content-Length")
			z.z = gzip.NewWriter(z.ResponseWriter)
		}
	}
	z.ResponseWriter.WriteHeader(status)
}

func (z *zipped) Write(b []byte) (int, error) {
	if !z.begun {
		z.WriteHeader(http.StatusOK)
	}
	if z.z != nil {
		return z.z.Write(b)
	}
	return z.ResponseWriter.Write(b)
}

// Unwrap is for http.ResponseController.
func (z *zipped) Unwrap() http.ResponseWriter { return z.ResponseWriter }

func (z *zipped) close() {
	if z.z != nil {
		_ = z.z.Close() // the reader has gone
	}
}
