package api

import (
	"bytes"
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"runtime/debug"
	"slices"
	"strings"

	"glidepath/account"
	"glidepath/civil"
	"glidepath/fault"
)

// keyHeader names a request that may be sent again (IETF draft
// draft-ietf-httpapi-idempotency-key-header).
const (
	keyHeader = "Idempotency-Key"
	maxKey    = 200
)

// gate is a mux whose handlers are reached only past the rules of their routes.
type gate struct {
	*http.ServeMux
	s *server
}

// HandleFunc implements humago.Mux.
func (g *gate) HandleFunc(pattern string, next func(http.ResponseWriter, *http.Request)) {
	r := g.s.routes[pattern]
	if r == nil {
		panic("api: " + pattern + " has no rule")
	}
	g.ServeMux.HandleFunc(pattern, func(w http.ResponseWriter, req *http.Request) { g.s.pass(w, req, r, next) })
}

// pass takes a request through the gate.
func (s *server) pass(w http.ResponseWriter, req *http.Request, r *route, next http.HandlerFunc) {
	visitor, err := s.visitor(req)
	if err != nil {
		s.refuse(w, req, err)
		return
	}
	id := req.PathValue("athlete")
	if err := r.check(visitor, id); err != nil {
		if visitor != nil { // strangers leave no line: they could fill the file
			if noting := s.desk.Record(req.Context(), visitor, r.do, id, "was refused: "+r.words); noting != nil {
				err = noting
			}
		}
		s.refuse(w, req, err)
		return
	}
	body, problem := readBody(w, req, r)
	if problem != nil {
		writeProblem(w, problem)
		return
	}
	v := &visit{Visitor: visitor}
	if id != "" {
		v.athletes = []string{id}
	}
	ctx := context.WithValue(req.Context(), visitKey{}, v)
	req = req.WithContext(ctx)
	if key := req.Header.Get(keyHeader); key != "" && req.Method == http.MethodPost && !r.secret {
		s.once(w, req, r, v, key, body, next)
		return
	}
	s.do(req, r, v, body, next).send(w)
}

// visitor is who asks: by token, else by the session of the pages. A session
// answers to its own origin only, since a browser sends it along from anywhere.
func (s *server) visitor(req *http.Request) (*account.Visitor, error) {
	address := s.o.Address(req)
	if scheme, token, ok := strings.Cut(req.Header.Get("Authorization"), " "); ok && strings.EqualFold(scheme, "Bearer") {
		return s.desk.ByToken(req.Context(), strings.TrimSpace(token), address)
	}
	cookie, err := req.Cookie(account.CookieName)
	if err != nil {
		return nil, nil //nolint:nilerr // no cookie is nobody, which is no error
	}
	if err := s.cross.Check(req); err != nil {
		return nil, fault.New(fault.Forbidden, "this request comes from another site.").
			WithHint("Use a token instead of the pages' session.")
	}
	return s.desk.BySession(req.Context(), cookie.Value, address)
}

// refuse answers with an error from before the handler.
func (s *server) refuse(w http.ResponseWriter, req *http.Request, err error) {
	p, ok := problemOf(err)
	if !ok {
		s.o.Log.ErrorContext(req.Context(), "the API failed", "method", req.Method, "path", req.URL.Path, "error", err)
	}
	writeProblem(w, p)
}

// readBody reads a body that is of the kind the route takes and not too large.
func readBody(w http.ResponseWriter, req *http.Request, r *route) ([]byte, *Problem) {
	most := cmp.Or(r.most, maxBody)
	if kind, _, err := mime.ParseMediaType(req.Header.Get("Content-Type")); len(r.takes) > 0 && (err != nil || !slices.Contains(r.takes, kind)) {
		return nil, plain(http.StatusUnsupportedMediaType, "This address takes "+strings.Join(r.takes, " or ")+".")
	}
	body, err := io.ReadAll(http.MaxBytesReader(w, req.Body, most))
	if large, ok := errors.AsType[*http.MaxBytesError](err); ok {
		p := plain(http.StatusRequestEntityTooLarge, fmt.Sprintf("The body is larger than %d MB.", large.Limit>>20))
		if p.Hint = "Send it in parts."; len(r.takes) > 0 {
			p.Hint = "Send a smaller one."
		}
		return nil, p
	}
	if err != nil {
		return nil, plain(http.StatusBadRequest, "The body did not arrive whole.")
	}
	return body, nil
}

// once does a request unless it was done before under the same key.
func (s *server) once(w http.ResponseWriter, req *http.Request, r *route, v *visit, key string, body []byte, next http.HandlerFunc) {
	if len(key) > maxKey || strings.ContainsFunc(key, func(c rune) bool { return c < '!' || c > '~' }) {
		p := plain(http.StatusUnprocessableEntity, fmt.Sprintf("An %s is 1 to %d plain characters.", keyHeader, maxKey))
		p.Field = keyHeader
		writeProblem(w, p)
		return
	}
	sum := sha256.New()
	_, _ = fmt.Fprintf(sum, "%s\n%s\n%s\n", req.Method, req.URL.EscapedPath(), req.URL.RawQuery) // a hash takes everything
	sum.Write(body)
	asked, id := sum.Sum(nil), req.PathValue("athlete")
	kept, err := s.desk.Begin(req.Context(), v.Visitor, key, asked, id)
	if err != nil {
		s.refuse(w, req, err)
		return
	}
	if kept != nil {
		a := &answer{header: http.Header{}, status: kept.Status}
		for name, value := range kept.Header {
			a.header.Set(name, value)
		}
		a.header.Set("Idempotency-Replayed", "true")
		a.body.Write(kept.Body)
		a.send(w)
		return
	}
	// What is begun is finished even when the client goes away.
	ctx := context.WithoutCancel(req.Context())
	a := s.do(req.WithContext(ctx), r, v, body, next)
	if a.status < 300 {
		if len(v.athletes) == 1 {
			id = v.athletes[0]
		}
		err = s.desk.Finish(ctx, &account.Answer{
			AccountID: v.AccountID, Key: key, Request: asked, AthleteID: id, Status: a.status,
			Header: a.kept(), Body: a.body.Bytes(),
		})
	} else { // nothing was done, so it may be tried again
		err = s.desk.Abandon(ctx, v.Visitor, key)
	}
	if err != nil {
		s.refuse(w, req, err)
		return
	}
	a.send(w)
}

// do runs the handler and keeps a record before anything is sent.
func (s *server) do(req *http.Request, r *route, v *visit, body []byte, next http.HandlerFunc) (a *answer) {
	a = &answer{header: http.Header{}}
	defer func() {
		if failed := recover(); failed != nil {
			s.o.Log.ErrorContext(req.Context(), "the API panicked", "route", r.pattern(), "panic", failed, "stack", string(debug.Stack()))
			p, _ := problemOf(errors.New("panic"))
			a = &answer{header: http.Header{}}
			writeProblem(a, p)
		}
	}()
	req.Body = io.NopCloser(bytes.NewReader(body))
	next(a, req)
	if v.failed != nil {
		s.o.Log.ErrorContext(req.Context(), "the API failed", "route", r.pattern(), "error", v.failed)
	}
	if a.status < 400 && r.noted {
		return a
	}
	ctx := context.WithoutCancel(req.Context())
	if err := s.leaveLine(ctx, req, r, v, a.status >= 400); err != nil {
		s.o.Log.ErrorContext(ctx, "the record failed", "route", r.pattern(), "error", err)
		p, _ := problemOf(errors.New("record"))
		a = &answer{header: http.Header{}}
		writeProblem(a, p)
	}
	return a
}

// leaveLine keeps a record of what was done, or tried in vain, for each of those whom it
// is about.
func (s *server) leaveLine(ctx context.Context, req *http.Request, r *route, v *visit, vain bool) error {
	words := r.words
	if vain {
		words = "tried in vain: " + words
	}
	switch on, err := civil.Parse(req.PathValue("date")); {
	case len(v.athletes) == 0:
		return s.desk.Record(ctx, v.Visitor, r.do, "", words)
	case r.dated && err == nil:
		return s.desk.RecordOnce(ctx, v.Visitor, r.do, v.athletes[0], words+", "+on.String())
	}
	return s.desk.RecordEach(ctx, v.Visitor, r.do, v.athletes, words)
}

// answer holds a response until it may be sent.
type answer struct {
	header http.Header
	status int
	body   bytes.Buffer
}

// Header implements http.ResponseWriter.
func (a *answer) Header() http.Header { return a.header }

// WriteHeader implements http.ResponseWriter.
func (a *answer) WriteHeader(status int) {
	if a.status == 0 {
		a.status = status
	}
}

// Write implements http.ResponseWriter.
func (a *answer) Write(b []byte) (int, error) {
	a.WriteHeader(http.StatusOK)
	return a.body.Write(b)
}

// kept are the headers that go with an answer that is given again.
func (a *answer) kept() map[string]string {
	out := map[string]string{}
	for _, name := range []string{"Content-Type", "Location", "Link"} {
		if v := a.header.Get(name); v != "" {
			out[name] = v
		}
	}
	return out
}

func (a *answer) send(w http.ResponseWriter) {
	h := w.Header()
	for name, values := range a.header {
		h[name] = slices.Clone(values)
	}
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	w.WriteHeader(max(a.status, http.StatusOK))
	_, _ = w.Write(a.body.Bytes()) // the client is gone
}
