package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"

	"glidepath/access"
	"glidepath/account"
	"glidepath/api"
	"glidepath/app"
	"glidepath/scenario"
	"glidepath/store"
)

// demo is the invented roster, simulated once.
var demo = sync.OnceValue(scenario.Demo)

// The athletes of the desk in these tests: Wren's, and another coach's.
const (
	own     = "aroha-jensen"
	another = "dmitri-halvorsen"
	own2    = "saoirse-whitlock-tan" // with an open caution
)

const password = "four words nobody guesses"

// desk is a desk with athletes, accounts and the interface to it.
type desk struct {
	testing.TB
	app     *app.App
	desk    *account.Desk
	handler http.Handler
	now     time.Time
	logged  bytes.Buffer
	tokens  map[access.Role]string
}

// cheap hashes passwords quickly: these tests are not about that.
var cheap = &argon2id.Params{Memory: 64, Iterations: 1, Parallelism: 1, SaltLength: 16, KeyLength: 32}

func newDesk(t testing.TB) *desk {
	t.Helper()
	like := template()
	path := filepath.Join(t.TempDir(), "data.db")
	if err := os.WriteFile(path, like.file, 0o600); err != nil {
		t.Fatal(err)
	}
	d := &desk{TB: t, tokens: like.tokens}
	d.open(path)
	return d
}

// open puts a desk up on a data file.
func (d *desk) open(path string) {
	d.Helper()
	s, err := store.Open(context.Background(), path)
	if err != nil {
		d.Fatal(err)
	}
	d.Cleanup(func() { _ = s.Close() })
	d.now = time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	clock := func() time.Time { return d.now }
	d.app = &app.App{Store: s, Now: clock}
	d.desk = &account.Desk{Store: s.Accounts(), Now: clock, Cost: cheap}
	d.handler = api.Handler(d.app, d.desk, api.Options{Log: slog.New(slog.NewTextHandler(&d.logged, nil))})
}

// template is a data file that every desk begins as, made once.
var template = sync.OnceValue(func() (out struct {
	file   []byte
	tokens map[access.Role]string
},
) {
	dir, err := os.MkdirTemp("", "glidepath-api")
	if err != nil {
		panic(err)
	}
	defer func() { _ = os.RemoveAll(dir) }()
	maker := &maker{}
	d := &desk{TB: maker, tokens: map[access.Role]string{}}
	d.open(filepath.Join(dir, "data.db"))
	for _, id := range []string{own, own2, another} {
		d.restore(id)
	}
	d.account(access.Owner, account.Account{Login: "owner@example.org", Name: "Imogen"})
	d.account(access.Coach, account.Account{Login: "wren@example.org", Name: "Wren", Athletes: []string{own, own2}})
	d.account(access.Assistant, account.Account{Login: "sol@example.org", Name: "Sol", Athletes: []string{own, own2}})
	d.account(access.Athlete, account.Account{Login: "aroha@example.org", Name: "Aroha", AthleteID: own})
	maker.close() // folds the log into the file
	if out.file, err = os.ReadFile(filepath.Join(dir, "data.db")); err != nil {
		panic(err)
	}
	out.tokens = d.tokens
	return out
})

// maker is a testing.TB for what is made outside any test.
type maker struct {
	testing.TB
	cleanups []func()
}

func (m *maker) Helper()                  {}
func (m *maker) Context() context.Context { return context.Background() }
func (m *maker) Cleanup(f func())         { m.cleanups = append(m.cleanups, f) }
func (m *maker) Fatal(args ...any)        { panic(fmt.Sprint(args...)) }

func (m *maker) close() {
	for _, f := range m.cleanups {
		f()
	}
}

func season(id string) *scenario.Season {
	all := demo().Seasons
	for i := range all {
		if all[i].Athlete.ID == id {
			return &all[i]
		}
	}
	panic("no invented athlete " + id)
}

func (d *desk) restore(id string) {
	d.Helper()
	se := season(id)
	a := app.Archive{Athlete: se.Athlete, Measurements: se.Measurements, Prescriptions: se.Prescriptions, Programmes: se.Programmes}
	late := monday.AddDays(-7 * 9) // of the log, so much as keeps these tests quick
	for _, v := range se.Days {
		if v.Date >= late {
			a.Days = append(a.Days, v)
		}
	}
	for _, v := range se.Sets {
		if v.Date >= late {
			a.Sets = append(a.Sets, v)
		}
	}
	for _, v := range se.Sessions {
		if v.Date >= late {
			a.Sessions = append(a.Sessions, v)
		}
	}
	err := d.app.Restore(d.Context(), &a, app.Source{Name: "demo"})
	if err != nil {
		d.Fatal(err)
	}
}

// account makes an account with a token of every scope.
func (d *desk) account(role access.Role, a account.Account) {
	d.Helper()
	a.Role = role
	made, err := d.desk.Add(d.Context(), account.Console("test"), a, password)
	if err != nil {
		d.Fatal(err)
	}
	d.tokens[role] = d.token(made.ID, account.AllScopes()...)
}

func (d *desk) token(accountID string, scopes ...account.Scope) string {
	d.Helper()
	text, _, err := d.desk.AddToken(d.Context(), account.Console("test"), accountID, "test", scopes, 0)
	if err != nil {
		d.Fatal(err)
	}
	return text
}

// request is one request to the interface.
type request struct {
	method, path string
	token        string
	body         any // JSON, or a string as it is
	header       map[string]string
}

func (d *desk) send(r request) *httptest.ResponseRecorder {
	d.Helper()
	var body io.Reader
	switch b := r.body.(type) {
	case nil:
	case string:
		body = strings.NewReader(b)
	default:
		text, err := json.Marshal(b)
		if err != nil {
			d.Fatal(err)
		}
		body = bytes.NewReader(text)
	}
	req := httptest.NewRequestWithContext(d.Context(), r.method, "http://desk.example/api/v1"+r.path, body)
	if body != nil {
		req.Header.Set("Content-Type", "application/json")
	}
	if r.token != "" {
		req.Header.Set("Authorization", "Bearer "+r.token)
	}
	for k, v := range r.header {
		req.Header.Set(k, v)
	}
	w := httptest.NewRecorder()
	d.handler.ServeHTTP(w, req)
	described(d).check(d, req, w)
	return w
}

// ask sends a request that must end with a status, and reads the answer.
func ask[T any](d *desk, status int, r request) (out T) {
	d.Helper()
	if r.token == "" {
		r.token = d.tokens[access.Owner]
	}
	w := d.send(r)
	if w.Code != status {
		d.Fatalf("%s %s: status %d, want %d: %s%s", r.method, r.path, w.Code, status, w.Body, d.logged.String())
	}
	if w.Body.Len() > 0 {
		if err := json.Unmarshal(w.Body.Bytes(), &out); err != nil {
			d.Fatalf("%s %s: %v: %s", r.method, r.path, err, w.Body)
		}
	}
	return out
}
