package api_test

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
)

// description is what the server says of itself, read by a library that had no
// part in writing it (kin-openapi).
type description struct {
	doc *openapi3.T
	mux *http.ServeMux // finds the operation of a request
}

func init() { openapi3filter.RegisterBodyDecoder("image/jpeg", openapi3filter.FileBodyDecoder) }

var (
	readOnce sync.Once
	read     *description
)

// described is the served description; it is the same for every desk.
func described(d *desk) *description {
	d.Helper()
	readOnce.Do(func() {
		w := httptest.NewRecorder()
		d.handler.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/api/openapi.json", nil))
		doc, err := openapi3.NewLoader().LoadFromData(w.Body.Bytes())
		if err != nil {
			d.Fatal(err)
		}
		if err := doc.Validate(d.Context()); err != nil {
			d.Fatalf("the description does not keep to OpenAPI: %v", err)
		}
		mux := http.NewServeMux()
		for path, item := range doc.Paths.Map() {
			for method := range item.Operations() {
				mux.HandleFunc(method+" "+path, http.NotFound)
			}
		}
		read = &description{doc, mux}
	})
	return read
}

// operation is the route of a request, nil for an address that is not there.
func (c *description) route(req *http.Request) (*routers.Route, map[string]string) {
	_, pattern := c.mux.Handler(req)
	method, path, ok := strings.Cut(pattern, " ")
	if !ok {
		return nil, nil
	}
	item := c.doc.Paths.Value(path)
	names := map[string]string{}
	want, got := strings.Split(path, "/"), strings.Split(req.URL.Path, "/")
	for i := range want {
		if strings.HasPrefix(want[i], "{") {
			names[strings.Trim(want[i], "{}")] = got[i]
		}
	}
	return &routers.Route{Spec: c.doc, Path: path, PathItem: item, Method: method, Operation: item.GetOperation(method)}, names
}

// check holds every answer in these tests to the description: status, content
// type, headers and body.
func (c *description) check(d *desk, req *http.Request, w *httptest.ResponseRecorder) {
	d.Helper()
	route, names := c.route(req)
	if w.Code >= 400 && w.Header().Get("Content-Type") != "application/problem+json" {
		d.Errorf("%s %s: status %d is no problem+json: %s", req.Method, req.URL, w.Code, w.Body)
	}
	if w.Header().Get("Cache-Control") != "no-store" {
		d.Errorf("%s %s may be kept by a cache", req.Method, req.URL)
	}
	if route == nil {
		if w.Code != http.StatusNotFound && w.Code != http.StatusMethodNotAllowed {
			d.Errorf("%s %s: status %d is not described", req.Method, req.URL, w.Code)
		}
		return
	}
	err := openapi3filter.ValidateResponse(d.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: req, PathParams: names, Route: route},
		Status:                 w.Code, Header: w.Header(), Body: io.NopCloser(bytes.NewReader(w.Body.Bytes())),
		Options: &openapi3filter.Options{IncludeResponseStatus: true, MultiError: true},
	})
	if err != nil {
		d.Errorf("%s %s: the answer is not as described: %.600v\n%.400s", req.Method, req.URL, err, w.Body)
	}
}

// The check can fail: an answer with a field too many, one too few, one of a wrong
// type and a status that is not described are all found.
func TestTheContractIsChecked(t *testing.T) {
	d := newDesk(t)
	c := described(d)
	for name, answer := range map[string]struct {
		status int
		body   string
	}{
		"a field too many": {200, `{"name":"a","login":"b","role":"coach","more":1}`},
		"a field too few":  {200, `{"name":"a","login":"b"}`},
		"a wrong type":     {200, `{"name":1,"login":"b","role":"coach"}`},
		"another list":     {200, `[]`},
	} {
		caught := &failures{TB: t}
		fake := &desk{TB: caught, handler: d.handler}
		w := httptest.NewRecorder()
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Cache-Control", "no-store")
		w.WriteHeader(answer.status)
		_, _ = w.WriteString(answer.body)
		c.check(fake, httptest.NewRequest(http.MethodGet, "http://desk.example/api/v1/me", nil), w)
		if caught.n == 0 {
			t.Errorf("%s was not found", name)
		}
	}
}

// failures counts the errors that are meant to happen.
type failures struct {
	testing.TB
	n int
}

func (f *failures) Errorf(string, ...any) { f.n++ }
