package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/web"
)

// mayTake is who may take each route for an athlete who is theirs; an owner may
// take all but those of an athlete's own pages. A route that is not here fails the test.
var mayTake = map[string]string{
	"GET /sign-in":      "nobody coach assistant athlete",
	"POST /sign-in":     "nobody coach assistant athlete",
	"GET /first-owner":  "nobody coach assistant athlete",
	"POST /first-owner": "nobody coach assistant athlete",
	"GET /help":         "nobody coach assistant athlete",
	"POST /sign-out":    "coach assistant athlete",

	"POST /sign-in/passkey/ask":                "nobody coach assistant athlete",
	"POST /sign-in/passkey":                    "nobody coach assistant athlete",
	"POST /invitation/{secret}/passkey/ask":    "nobody coach assistant athlete",
	"POST /invitation/{secret}/passkey":        "nobody coach assistant athlete",
	"GET /account":                             "coach assistant athlete",
	"POST /account/password":                   "coach assistant athlete",
	"POST /account/proof/ask":                  "coach assistant athlete",
	"POST /account/passkeys/ask":               "coach assistant athlete",
	"POST /account/passkeys":                   "coach assistant athlete",
	"POST /account/passkeys/rename":            "coach assistant athlete",
	"POST /account/passkeys/remove":            "coach assistant athlete",
	"POST /account/sessions/end":               "coach assistant athlete",
	"POST /accounts/{account}/role":            "",
	"POST /accounts/{account}/passkeys/remove": "",

	"GET /{$}":          "coach assistant athlete", // an athlete goes on to their own page
	"POST /as-of":       "coach assistant",
	"POST /demo":        "coach assistant",
	"POST /demo/leave":  "coach assistant",
	"GET /athletes/new": "coach",
	"POST /athletes":    "coach",

	"GET /exercises":         "coach assistant",
	"GET /exercises/edit":    "coach",
	"POST /exercises":        "coach",
	"POST /exercises/remove": "coach",
	"POST /exercises/names":  "coach",
	"GET /cardio-costs":      "coach assistant",
	"POST /cardio-costs":     "coach",

	"GET /accounts":                          "",
	"POST /accounts":                         "",
	"GET /accounts/{account}":                "",
	"POST /accounts/{account}/athletes":      "",
	"POST /accounts/{account}/password":      "",
	"POST /accounts/{account}/state":         "",
	"POST /accounts/{account}/tokens":        "",
	"POST /accounts/{account}/tokens/revoke": "",
	"GET /record":                            "",
	"GET /record.csv":                        "",

	"GET /athletes/{id}":                  "coach assistant",
	"GET /athletes/{id}/days":             "coach assistant",
	"GET /athletes/{id}/report":           "coach assistant",
	"POST /athletes/{id}/notes":           "coach assistant",
	"POST /athletes/{id}/notes/remove":    "coach",
	"GET /athletes/{id}/review":           "coach assistant",
	"GET /athletes/{id}/review/effect":    "coach assistant",
	"POST /athletes/{id}/review":          "coach",
	"POST /athletes/{id}/weights":         "coach assistant",
	"GET /athletes/{id}/message":          "coach assistant",
	"POST /athletes/{id}/message":         "coach assistant",
	"POST /athletes/{id}/message/send":    "coach",
	"GET /athletes/{id}/season":           "coach assistant",
	"GET /athletes/{id}/season/compared":  "coach assistant",
	"POST /athletes/{id}/season":          "coach",
	"GET /athletes/{id}/profile":          "coach assistant",
	"POST /athletes/{id}/profile":         "coach",
	"POST /athletes/{id}/shows":           "coach",
	"POST /athletes/{id}/shows/remove":    "coach",
	"POST /athletes/{id}/events":          "coach",
	"POST /athletes/{id}/events/remove":   "coach",
	"POST /athletes/{id}/limits":          "coach",
	"POST /athletes/{id}/limits/leave":    "coach",
	"POST /athletes/{id}/screening":       "coach",
	"POST /athletes/{id}/clearances":      "coach",
	"POST /athletes/{id}/measurements":    "coach assistant",
	"GET /athletes/{id}/prescriptions":    "coach assistant",
	"GET /athletes/{id}/import":           "coach assistant",
	"POST /athletes/{id}/import":          "coach assistant",
	"POST /athletes/{id}/import/read":     "coach assistant",
	"POST /athletes/{id}/import/take":     "coach assistant",
	"GET /athletes/{id}/export":           "coach assistant",
	"GET /athletes/{id}/erase":            "coach",
	"POST /athletes/{id}/erase":           "coach",
	"GET /athletes/{id}/training":         "coach assistant",
	"GET /athletes/{id}/cardio":           "coach assistant",
	"GET /athletes/{id}/programme":        "coach assistant",
	"POST /athletes/{id}/programme":       "coach",
	"GET /athletes/{id}/programme/file":   "coach assistant",
	"GET /athletes/{id}/programme/text":   "coach",
	"POST /athletes/{id}/programme/text":  "coach",
	"GET /athletes/{id}/programme/write":  "coach",
	"POST /athletes/{id}/programme/write": "coach",
	"POST /athletes/{id}/injuries":        "coach assistant",
	"POST /athletes/{id}/injuries/end":    "coach",

	"GET /invitation/{secret}":  "nobody coach assistant athlete",
	"POST /invitation/{secret}": "nobody coach assistant athlete",
	"GET /day-worker.js":        "nobody coach assistant athlete",
	"GET /manifest.webmanifest": "nobody coach assistant athlete",
	"GET /icon/{size}":          "nobody coach assistant athlete",

	"GET /day":                  justAthlete,
	"GET /day/{date}":           justAthlete,
	"POST /day/{date}":          justAthlete,
	"POST /day/{date}/{field}":  justAthlete,
	"GET /day/{date}/gym":       justAthlete,
	"POST /day/{date}/gym":      justAthlete,
	"POST /day/{date}/set":      justAthlete,
	"POST /day/{date}/session":  justAthlete,
	"POST /effort":              justAthlete,
	"POST /units":               justAthlete,
	"GET /check-in":             justAthlete,
	"POST /check-in":            justAthlete,
	"GET /progress":             justAthlete,
	"GET /photos":               justAthlete,
	"POST /photos":              justAthlete,
	"POST /photos/remove":       justAthlete,
	"GET /photos/{date}/{pose}": justAthlete,

	"GET /athletes/{id}/check-ins":            "coach assistant",
	"GET /athletes/{id}/photos":               "coach assistant",
	"GET /athletes/{id}/photos/{date}/{pose}": "coach assistant",
	"GET /athletes/{id}/invitation":           "coach",
	"POST /athletes/{id}/invitation":          "coach",
	"POST /athletes/{id}/invitation/revoke":   "coach",
}

// justAthlete are the pages that are about whoever is signed in.
const justAthlete = "own"

// reader is a role with the cookie of its session.
type reader struct {
	role   access.Role
	name   string
	secret string
}

// Every route by every role: for one's own athlete as the table says, for
// anybody else's as though there were no such athlete.
func TestEveryRouteTimesEveryRole(t *testing.T) {
	w := serve(t, nil)
	for _, id := range []string{"mara", "other"} {
		a := mara()
		a.ID = id
		if err := w.app.AddAthlete(t.Context(), a, civil.FromTime(clock), false); err != nil {
			t.Fatal(err)
		}
	}
	owner := w.owner()
	readers := []reader{{access.Nobody, "nobody", ""}, {access.Owner, "owner", ""}}
	for _, role := range []access.Role{access.Coach, access.Assistant, access.Athlete} {
		w.role(owner, role, "mara")
		readers = append(readers, reader{role, string(role), ""})
	}
	if len(readers) != len(access.Roles()) {
		t.Fatalf("%d roles are tried of %d", len(readers), len(access.Roles()))
	}
	patterns := web.Patterns(web.New(web.Options{Desk: web.Desk{App: w.app}, Accounts: w.accounts}))
	for pattern := range mayTake {
		if !slices.Contains(patterns, pattern) {
			t.Errorf("the table has %q, which is no route", pattern)
		}
	}
	for _, pattern := range patterns {
		allowed, ok := mayTake[pattern]
		if !ok {
			t.Errorf("%q is not in the table", pattern)
			continue
		}
		for _, who := range readers {
			// A session of its own each, since one of the routes ends it.
			who.secret = w.session(who)
			for _, id := range []string{"mara", "other", "nobody-here"} {
				if id != "mara" && !strings.Contains(pattern, "{id}") || id == "nobody-here" && who.role == access.Owner {
					continue // an owner is told what is wrong with the form first
				}
				may := slices.Contains(strings.Fields(allowed), who.name) && id != "other"
				if allowed == justAthlete {
					may = who.role == access.Athlete
				} else if who.role == access.Owner {
					may = true
				}
				w.try(t, pattern, who, id, may && id != "nobody-here")
			}
		}
	}
}

func (w *world) session(who reader) string {
	w.t.Helper()
	if who.role == access.Nobody {
		return ""
	}
	login := string(who.role) + "-account"
	if who.role == access.Owner {
		login = "owner"
	}
	secret, err := w.accounts.SignIn(w.t.Context(), login, password, "127.0.0.1:1")
	if err != nil {
		w.t.Fatal(err)
	}
	return secret
}

// try takes a route once and checks that it is let through, or refused in the
// way that a page of its kind is.
func (w *world) try(t *testing.T, pattern string, who reader, id string, may bool) {
	t.Helper()
	method, path, _ := strings.Cut(pattern, " ")
	path = strings.ReplaceAll(strings.ReplaceAll(path, "{id}", id), "{$}", "")
	r, err := http.NewRequestWithContext(t.Context(), method, w.URL+path, strings.NewReader(""))
	if err != nil {
		t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	if who.secret != "" {
		r.AddCookie(&http.Cookie{Name: account.CookieName, Value: who.secret})
	}
	b := w.browser()
	b.client.CheckRedirect = func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }
	got := b.do(r)
	toSignIn := got.code == http.StatusSeeOther && strings.HasPrefix(got.header.Get("Location"), "/sign-in")
	if pattern == "POST /sign-out" || pattern == "GET /first-owner" {
		toSignIn = toSignIn && who.role == access.Nobody && pattern != "GET /first-owner"
	}
	absent := got.code == http.StatusNotFound && strings.Contains(got.body, "There is no athlete")
	denied := got.code == http.StatusForbidden || absent || toSignIn
	switch {
	case got.code >= 500:
		t.Errorf("%s by %s for %s: answered %d", pattern, who.name, id, got.code)
	case may == denied:
		t.Errorf("%s by %s for %s: allowed is %v, answered %d %s", pattern, who.name, id, may, got.code, got.header.Get("Location"))
	case denied && who.role == access.Nobody && !toSignIn:
		t.Errorf("%s by nobody: answered %d, not sent to sign in", pattern, got.code)
	case denied && who.role != access.Nobody && id != "mara" && !absent && who.role != access.Owner:
		t.Errorf("%s by %s for %s: answered %d, which tells who is there", pattern, who.name, id, got.code)
	}
}

// A coach sees their own athletes on the roster, and nobody else's.
func TestRosterIsOnesOwn(t *testing.T) {
	w := filled(t)
	owner := w.owner()
	own := demo().Seasons[0].Athlete
	b := w.role(owner, access.Coach, own.ID)
	page := b.get("/").wants(t, http.StatusOK, own.Name, "1 athlete as of")
	for i := range demo().Seasons[1:] {
		if other := demo().Seasons[1+i].Athlete.Name; strings.Contains(page.body, other) {
			t.Errorf("the roster of another has %s", other)
		}
	}
	b.get("/athletes/"+demo().Seasons[1].Athlete.ID).wants(t, http.StatusNotFound, "There is no athlete")
}

// An athlete who is added by a coach is that coach's own.
func TestAddedIsOnesOwn(t *testing.T) {
	w := serve(t, nil)
	b := w.role(w.owner(), access.Coach)
	b.post("/athletes", newAthleteForm()...).wants(t, http.StatusOK, "The athlete is on the roster", "Mara Lindqvist")
	b.get("/").wants(t, http.StatusOK, "Mara Lindqvist")
}

func newAthleteForm() []string {
	return []string{
		"name", "Mara Lindqvist", "sex", string(athlete.Female), "birth_date", "1994-05-17", "units", "metric", "height", "5 ft 6 in", "weight", "64.9",
		"training_years", "7", "steps_per_day", "9000", "cardio_minutes_per_week", "60", "cardio_minutes_max", "300",
		"training_days", "monday", "training_days", "thursday", "cardio", "walking",
	}
}

// What is looked at and changed is recorded, without the athlete's name in the
// words.
func TestRecord(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := demo().Seasons[0].Athlete.ID
	b.get("/athletes/"+id).wants(t, http.StatusOK)
	b.post("/athletes/"+id+"/events", "event_from", "2026-03-09", "event_to", "2026-03-11").wants(t, http.StatusOK)
	entries, err := w.accounts.Entries(t.Context(), b.who, account.Query{AthleteID: id})
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, e := range entries {
		said = append(said, string(e.Action)+": "+e.What)
	}
	for _, want := range []string{"see: read the overview", "decide: added an event"} {
		if !slices.Contains(said, want) {
			t.Errorf("the record lacks %q; it has %q", want, said)
		}
	}
}
