package api

import (
	"encoding/json"
	"log/slog"
	"net/http"
	"path"
	"reflect"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"glidepath/account"
	"glidepath/app"
	"glidepath/civil"
)

// Options bound what the interface does. The zero value is recommended.
type Options struct {
	// Address tells where a request comes from; nil is its remote address. A server
	// behind a proxy that it trusts sets it.
	Address func(*http.Request) string
	Log     *slog.Logger // of what failed inside; nil is slog.Default
	Workers int          // cores for a forecast; 0 is one. Answers do not depend on it
	// Today is the date where a request gives none; nil is that of app.Now.
	Today func() civil.Date
}

// Sizes that a request may have, bytes.
const (
	maxBody = 1 << 20
	maxBulk = 16 << 20 // uploads of thousands of days
	// maxArchive is an athlete with the photos of some years, written in base64.
	maxArchive = 128 << 20
)

// server is what the handlers share.
type server struct {
	app  *app.App
	desk *account.Desk
	o    Options
	huma huma.API
	// routes by pattern of the mux.
	routes map[string]*route
	cross  *http.CrossOriginProtection
	// darkroom has room for the photos that are being made small.
	darkroom chan struct{}
}

// Handler serves everything under /api/.
func Handler(a *app.App, desk *account.Desk, o Options) http.Handler {
	s := &server{app: a, desk: desk, o: o, routes: map[string]*route{}, cross: http.NewCrossOriginProtection(), darkroom: make(chan struct{}, 1)}
	if s.o.Log == nil {
		s.o.Log = slog.Default()
	}
	if s.o.Address == nil {
		s.o.Address = func(r *http.Request) string { return r.RemoteAddr }
	}
	if s.o.Today == nil {
		s.o.Today = func() civil.Date { return civil.FromTime(a.Now()) }
	}
	mux := &gate{ServeMux: http.NewServeMux(), s: s}
	s.huma = humago.New(mux, s.config())
	s.athletes()
	s.log()
	s.own()
	s.training()
	s.catalogue()
	s.photos()
	s.notes()
	s.look()
	s.rules()
	s.seasons()
	s.week()
	s.office()
	text := s.describe()
	mux.ServeMux.HandleFunc("GET /api/openapi.json", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/vnd.oai.openapi+json;version=3.1")
		_, _ = w.Write(text) // the client is gone
	})
	mux.ServeMux.HandleFunc("/api/", s.nowhere(mux.ServeMux))
	return mux.ServeMux
}

func (s *server) config() huma.Config {
	format := huma.DefaultJSONFormat
	types := huma.NewMapRegistry("#/components/schemas/", schemaName)
	types.RegisterTypeAlias(reflect.TypeFor[civil.Date](), reflect.TypeFor[dateSchema]())
	for from, to := range aliases {
		types.RegisterTypeAlias(from, to)
	}
	return huma.Config{
		OpenAPI: &huma.OpenAPI{
			OpenAPI: "3.1.0",
			Info: &huma.Info{
				Title: "Glidepath", Version: "1",
				Description: "Brings physique athletes to a contest date. Weights are in kg, energy in kcal, dates YYYY-MM-DD; intervals are of 90 %. No medical advice.",
			},
			Components: &huma.Components{
				Schemas: types,
				SecuritySchemes: map[string]*huma.SecurityScheme{
					"token":   {Type: "http", Scheme: "bearer", Description: "A token from glidepath token add, within its scopes."},
					"session": {Type: "apiKey", In: "cookie", Name: account.CookieName, Description: "The session of the pages, from the same origin."},
				},
			},
			Security: []map[string][]string{{"token": {}}, {"session": {}}},
		},
		Formats:                      map[string]huma.Format{"application/json": format, "json": format},
		DefaultFormat:                "application/json",
		RejectUnknownQueryParameters: true,
	}
}

// schemaName names a type of another package with the package, since names repeat.
func schemaName(t reflect.Type, hint string) string {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	name := huma.DefaultSchemaNamer(t, hint)
	switch pkg := path.Base(t.PkgPath()); {
	case t.Name() == "", pkg == "api", pkg == "athlete", pkg == "app", pkg == ".":
		return name
	case strings.EqualFold(pkg, name): // season.Season
		return name
	default:
		return strings.ToUpper(pkg[:1]) + pkg[1:] + name
	}
}

// describe is the description of all routes, which is fixed from here on.
func (s *server) describe() []byte {
	boundTexts(s.huma.OpenAPI().Components.Schemas)
	text, err := json.Marshal(s.huma.OpenAPI())
	if err != nil {
		panic(err) // a schema of ours that is not JSON
	}
	return text
}

// nowhere answers for addresses that are not there, or not with that method.
func (s *server) nowhere(mux *http.ServeMux) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var allowed []string
		for _, method := range []string{"GET", "POST", "PUT", "DELETE"} {
			other := r.Clone(r.Context())
			other.Method = method
			if _, pattern := mux.Handler(other); pattern != "/api/" {
				allowed = append(allowed, method)
			}
		}
		if len(allowed) > 0 {
			w.Header().Set("Allow", strings.Join(allowed, ", "))
			writeProblem(w, plain(http.StatusMethodNotAllowed, "This address does not take "+safeMethod(r.Method)+"."))
			return
		}
		writeProblem(w, plain(http.StatusNotFound, "There is nothing at this address."))
	}
}

// safeMethod does not echo what is no method.
func safeMethod(m string) string {
	if len(m) > 10 {
		return "that method"
	}
	return m
}
