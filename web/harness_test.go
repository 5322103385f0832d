package web_test

import (
	"context"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/alexedwards/argon2id"

	"glidepath/access"
	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
	"glidepath/store"
	"glidepath/web"
)

// world is a running server with what it stands on.
type world struct {
	*httptest.Server
	t        testing.TB
	app      *app.App
	accounts *account.Desk
	data     *store.Store
	today    civil.Date
	kept     map[string]string // messages of the outbox
}

// clock is the moment at which every test happens.
var clock = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

// demo is simulated once; a test gets a store of its own filled with it.
var demo = sync.OnceValue(scenario.Demo)

const password = "a long password of a test"

// serve starts a server on an empty desk, with an owner's account "owner".
func serve(t testing.TB, change func(*web.Options)) *world {
	t.Helper()
	data, err := store.OpenMemory(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return serveFrom(t, data, change)
}

// serveFrom is the same on a store of its own.
func serveFrom(t testing.TB, data *store.Store, change func(*web.Options)) *world {
	t.Helper()
	now := func() time.Time { return clock }
	w := &world{t: t, data: data, today: civil.FromTime(clock), kept: map[string]string{}}
	w.app = &app.App{Store: data, Now: now}
	w.accounts = &account.Desk{Store: data.Accounts(), Now: now, Cost: &argon2id.Params{Memory: 64, Iterations: 1, Parallelism: 1, SaltLength: 16, KeyLength: 32}}
	o := web.Options{
		Desk: web.Desk{App: w.app, Today: func() civil.Date { return w.today }, Version: data.Changes}, Accounts: w.accounts, Now: now,
		Log: slog.New(slog.NewTextHandler(t.Output(), nil)), Futures: 200,
		Demo: func(ctx context.Context) (web.Desk, error) {
			memory, err := store.OpenMemory(ctx)
			if err != nil {
				return web.Desk{}, err
			}
			a := &app.App{Store: memory, Now: now}
			return web.Desk{App: a, Today: func() civil.Date { return demo().AsOf }}, fill(ctx, a)
		},
		KeepMessage: func(id string, on civil.Date, text string) (string, error) {
			w.kept[id] = text
			return fmt.Sprintf("%s-%s.txt", on, id), nil
		},
	}
	if change != nil {
		change(&o)
	}
	s := web.New(o)
	w.app = s.App()
	w.Server = httptest.NewServer(s)
	t.Cleanup(func() {
		w.Close()
		s.Close()
		if err := data.Close(); err != nil {
			t.Error(err)
		}
	})
	return w
}

func fill(ctx context.Context, a *app.App) error {
	r := demo()
	for i := range r.Seasons {
		one := &r.Seasons[i]
		err := a.Restore(ctx, &app.Archive{
			Athlete: one.Athlete, Days: one.Days, Measurements: one.Measurements, Sets: one.Sets, Sessions: one.Sessions, Prescriptions: one.Prescriptions, Programmes: one.Programmes,
		}, app.Source{Name: "demo", At: clock})
		if err != nil {
			return err
		}
	}
	return nil
}

// filled starts a server with the invented roster as its own data.
func filled(t testing.TB) *world {
	t.Helper()
	w := serve(t, nil)
	if err := fill(t.Context(), w.app); err != nil {
		t.Fatal(err)
	}
	w.today = demo().AsOf
	return w
}

// browser is one reader with their cookies.
type browser struct {
	w      *world
	client *http.Client
	who    *account.Visitor
}

func (w *world) browser() *browser {
	jar, err := cookiejar.New(nil)
	if err != nil {
		w.t.Fatal(err)
	}
	return &browser{w: w, client: &http.Client{Jar: jar, Timeout: time.Minute}}
}

// cookies are those of the reader.
func (b *browser) cookies() []*http.Cookie {
	b.w.t.Helper()
	at, err := url.Parse(b.w.URL)
	if err != nil {
		b.w.t.Fatal(err)
	}
	return b.client.Jar.Cookies(at)
}

// owner makes the first account and signs in with it.
func (w *world) owner() *browser {
	w.t.Helper()
	secret, err := w.accounts.First(w.t.Context(), "owner", "Wren Owner", password, "127.0.0.1:1")
	if err != nil {
		w.t.Fatal(err)
	}
	return w.with(secret)
}

func (w *world) with(secret string) *browser {
	w.t.Helper()
	b := w.browser()
	at, err := url.Parse(w.URL)
	if err != nil {
		w.t.Fatal(err)
	}
	b.client.Jar.SetCookies(at, []*http.Cookie{{Name: account.CookieName, Value: secret}})
	if b.who, err = w.accounts.BySession(w.t.Context(), secret, "127.0.0.1:1"); err != nil {
		w.t.Fatal(err)
	}
	return b
}

// role adds an account of a role, with athletes or as one, and signs it in.
func (w *world) role(owner *browser, role access.Role, ids ...string) *browser {
	w.t.Helper()
	one := account.Account{Login: string(role) + "-account", Name: "Robin " + string(role), Role: role}
	if role == access.Athlete {
		one.AthleteID = ids[0]
	} else {
		one.Athletes = ids
	}
	if _, err := w.accounts.Add(w.t.Context(), owner.who, one, password); err != nil {
		w.t.Fatal(err)
	}
	secret, err := w.accounts.SignIn(w.t.Context(), one.Login, password, "127.0.0.1:1")
	if err != nil {
		w.t.Fatal(err)
	}
	return w.with(secret)
}

// answer is what came back, after redirects.
type answer struct {
	code   int
	body   string
	path   string
	header http.Header
}

func (b *browser) do(r *http.Request) answer {
	b.w.t.Helper()
	res, err := b.client.Do(r)
	if err != nil {
		b.w.t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	text, err := io.ReadAll(res.Body)
	if err != nil {
		b.w.t.Fatal(err)
	}
	return answer{res.StatusCode, string(text), res.Request.URL.RequestURI(), res.Header}
}

func (b *browser) get(path string) answer {
	b.w.t.Helper()
	r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodGet, b.w.URL+path, http.NoBody)
	if err != nil {
		b.w.t.Fatal(err)
	}
	return b.do(r)
}

func (b *browser) post(path string, pairs ...string) answer {
	b.w.t.Helper()
	form := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodPost, b.w.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return b.do(r)
}

// wants checks the status and that the page says something.
func (a answer) wants(t testing.TB, code int, says ...string) answer {
	t.Helper()
	if a.code != code {
		t.Fatalf("%s: answered %d, not %d: %s", a.path, a.code, code, short(a.body))
	}
	for _, s := range says {
		if !strings.Contains(strings.ToLower(a.body), strings.ToLower(s)) { // a sentence begins with a capital
			t.Errorf("%s: does not say %q: %s", a.path, s, short(a.body))
		}
	}
	return a
}

func short(s string) string {
	if i := strings.Index(s, "<main"); i >= 0 {
		s = s[i:]
	}
	if len(s) > 1500 {
		s = s[:1500]
	}
	return s
}

// hidden is the value of an input in a page.
func (a answer) hidden(t *testing.T, name string) string {
	t.Helper()
	_, rest, ok := strings.Cut(a.body, `name="`+name+`" value="`)
	if !ok {
		t.Fatalf("%s: no input %s", a.path, name)
	}
	value, _, _ := strings.Cut(rest, `"`)
	return value
}

// mara is an invented athlete who logs nothing.
func mara() athlete.Athlete {
	return athlete.Athlete{
		ID: "mara", Name: "Mara Lindqvist", Sex: athlete.Female, BirthDate: civil.Of(1994, 5, 17), HeightCm: 168, WeightKg: 64.9,
		WeighedOn: civil.Of(2026, 3, 1), TrainingYears: 7, StepsPerDay: 9000, CardioMinutesMax: 240, Units: athlete.Metric,
		Screening: athlete.Screening{AnsweredOn: civil.Of(2026, 3, 1)},
	}
}
