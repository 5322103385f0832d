package api_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/account"
	"glidepath/api"
	"glidepath/app"
	"glidepath/athlete"
)

// A request sent again under its key is answered the same and not done twice;
// another under the same key is refused.
func TestIdempotencyKey(t *testing.T) {
	d := newDesk(t)
	show := func(name string) request {
		return request{
			method: "POST", path: "/athletes/" + own + "/events", token: d.tokens[access.Coach],
			body: athlete.Event{From: monday, To: monday, Kind: name}, header: map[string]string{"Idempotency-Key": "k-1"},
		}
	}
	first := d.send(show("travel"))
	again := d.send(show("travel"))
	if first.Code != 200 || again.Code != 200 || !bytes.Equal(first.Body.Bytes(), again.Body.Bytes()) || again.Header().Get("Idempotency-Replayed") != "true" {
		t.Errorf("%d %s\n%d %s", first.Code, first.Body, again.Code, again.Body)
	}
	a, err := d.app.Athlete(t.Context(), own)
	if err != nil || len(a.Events) != len(season(own).Athlete.Events)+1 {
		t.Errorf("%d events, %v", len(a.Events), err)
	}
	if w := d.send(show("holiday")); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "another request") {
		t.Errorf("another request under the same key: %d %s", w.Code, w.Body)
	}
	// The key is the account's own: somebody else may use the same.
	r := show("holiday")
	r.token = d.tokens[access.Owner]
	if w := d.send(r); w.Code != 200 {
		t.Errorf("another's request under the same key: %d %s", w.Code, w.Body)
	}
	// A request that came to nothing may be tried again, put right.
	wrong := show("x")
	wrong.header["Idempotency-Key"] = "k-2"
	wrong.body = athlete.Event{Kind: "travel"}
	if w := d.send(wrong); w.Code != 422 {
		t.Errorf("a wrong request: %d %s", w.Code, w.Body)
	}
	wrong.body = athlete.Event{From: monday, To: monday, Kind: "travel"}
	if w := d.send(wrong); w.Code != 200 {
		t.Errorf("put right under the same key: %d %s", w.Code, w.Body)
	}
	// A day later the key is forgotten.
	d.now = d.now.Add(account.AnswerLife + time.Hour)
	if w := d.send(show("holiday")); w.Code != 200 {
		t.Errorf("a day later: %d %s", w.Code, w.Body)
	}
	for _, key := range []string{"with space", strings.Repeat("k", 201), "tab\t", "é"} {
		r := show("travel")
		r.header["Idempotency-Key"] = key
		if w := d.send(r); w.Code != 422 {
			t.Errorf("the key %q: %d", key, w.Code)
		}
	}
}

// Many at once under one key do it once.
func TestIdempotencyKeyAtOnce(t *testing.T) {
	d := newDesk(t)
	described(d)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			w := d.send(request{
				method: "POST", path: "/athletes/" + own + "/events", token: d.tokens[access.Owner],
				body: athlete.Event{From: monday, To: monday, Kind: "travel"}, header: map[string]string{"Idempotency-Key": "k"},
			})
			if w.Code != 200 && w.Code != 409 {
				t.Errorf("status %d: %s", w.Code, w.Body)
			}
		})
	}
	wg.Wait()
	a, err := d.app.Athlete(t.Context(), own)
	if err != nil || len(a.Events) != len(season(own).Athlete.Events)+1 {
		t.Errorf("%d events, %v", len(a.Events), err)
	}
}

// Erasing an athlete takes the kept answers along.
func TestErasureTakesKeptAnswers(t *testing.T) {
	d := newDesk(t)
	r := request{method: "POST", path: "/athletes", token: d.tokens[access.Coach], body: newcomer("kiri-new"), header: map[string]string{"Idempotency-Key": "k"}}
	w := d.send(r)
	if w.Code != 201 || w.Header().Get("Location") != "/api/v1/athletes/kiri-new" {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	// The athlete is the coach's own from then on.
	ask[any](d, 200, request{method: "GET", path: "/athletes/kiri-new", token: d.tokens[access.Coach]})
	if again := d.send(r); again.Code != 201 || again.Header().Get("Location") != w.Header().Get("Location") {
		t.Errorf("again: %d %s", again.Code, again.Body)
	}
	ask[any](d, 204, request{method: "DELETE", path: "/athletes/kiri-new", token: d.tokens[access.Coach]})
	if again := d.send(r); again.Code != 201 || again.Header().Get("Idempotency-Replayed") != "" {
		t.Errorf("after the erasure: %d %s", again.Code, again.Body)
	}
}

// The session of the pages is taken from their own origin only.
func TestSessionCookie(t *testing.T) {
	d := newDesk(t)
	secret, err := d.desk.SignIn(t.Context(), "wren@example.org", password, "192.0.2.7:1234")
	if err != nil {
		t.Fatal(err)
	}
	cookie := account.CookieName + "=" + secret
	for _, c := range []struct {
		name, method string
		header       map[string]string
		status       int
	}{
		{"the same origin", "POST", map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		{"an older browser", "POST", map[string]string{"Origin": "http://desk.example"}, 200},
		{"another site", "POST", map[string]string{"Sec-Fetch-Site": "cross-site", "Origin": "http://elsewhere.example"}, 403},
		{"another site in an older browser", "POST", map[string]string{"Origin": "http://elsewhere.example"}, 403},
	} {
		c.header["Cookie"] = cookie
		w := d.send(request{method: c.method, path: "/athletes/" + own + "/days", header: c.header, body: `[{"date":"2026-03-01","weight_kg":61}]`})
		if w.Code != c.status {
			t.Errorf("%s: status %d: %s", c.name, w.Code, w.Body)
		}
	}
	me := d.send(request{method: "GET", path: "/me", header: map[string]string{"Cookie": cookie}})
	if me.Code != 200 || !strings.Contains(me.Body.String(), `"role":"coach"`) || strings.Contains(me.Body.String(), "scopes") {
		t.Errorf("me: %d %s", me.Code, me.Body)
	}
	for name, header := range map[string]map[string]string{
		"a made-up session": {"Cookie": account.CookieName + "=abc"},
		"a made-up token":   {"Authorization": "Bearer glide_abcdefghij_" + strings.Repeat("a", 52)},
		"no bearer":         {"Authorization": "Basic " + secret},
		"an empty token":    {"Authorization": "Bearer "},
	} {
		w := d.send(request{method: "GET", path: "/me", header: header})
		if w.Code != http.StatusUnauthorized || w.Header().Get("WWW-Authenticate") == "" {
			t.Errorf("%s: %d %s", name, w.Code, w.Body)
		}
	}
	// A token that is wrong is not helped by a session that is right.
	w := d.send(request{method: "GET", path: "/me", header: map[string]string{"Cookie": cookie, "Authorization": "Bearer x"}})
	if w.Code != http.StatusUnauthorized {
		t.Errorf("a wrong token beside a right session: %d", w.Code)
	}
}

// The record names who, what and whom, of reads, changes and refusals.
func TestTheRecord(t *testing.T) {
	d := newDesk(t)
	d.send(request{method: "GET", path: "/athletes/" + own + "/reading", token: d.tokens[access.Assistant]})
	d.send(request{method: "POST", path: "/athletes/" + own + "/shows", token: d.tokens[access.Assistant], body: athlete.Show{}})
	d.send(request{method: "GET", path: "/athletes/" + another + "/days", token: d.tokens[access.Athlete]})
	d.send(request{method: "GET", path: "/roster", token: d.tokens[access.Coach]})
	all := ask[[]account.Entry](d, 200, request{method: "GET", path: "/audit?from=2026-03-02&to=2026-03-02&limit=2000"})
	var lines []string
	for _, e := range all {
		if e.Via == "command line" {
			continue
		}
		if !strings.HasPrefix(e.Via, "token ") || e.Address == "" || e.AccountID == "" {
			t.Errorf("the line is %+v", e)
		}
		lines = append(lines, e.Who+" "+string(e.Action)+" "+e.AthleteID+": "+e.What)
	}
	want := []string{
		"Sol see " + own + ": read the reading",
		"Sol decide " + own + ": was refused: set a show",
		"Aroha own " + another + ": was refused: read the log",
		"Wren see " + own2 + ": saw on the roster",
		"Wren see " + own + ": saw on the roster",
	}
	if strings.Join(lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("the record is\n%s", strings.Join(lines, "\n"))
	}
	// The pages of the record, lines of one moment too, make up the whole. Looking
	// leaves lines of its own, which come later.
	path, paged := "/audit?from=2026-03-02&to=2026-03-02&limit=2", 0
	d.now = d.now.Add(time.Minute)
	for path != "" && paged < 100 {
		w := d.send(request{method: "GET", path: path, token: d.tokens[access.Owner]})
		var page []account.Entry
		if err := json.Unmarshal(w.Body.Bytes(), &page); err != nil {
			t.Fatal(err)
		}
		for _, e := range page {
			if paged < len(all) && e != all[paged] {
				t.Fatalf("line %d of the pages is %+v, not %+v", paged, e, all[paged])
			}
			paged++
		}
		path = strings.TrimPrefix(strings.TrimSuffix(w.Header().Get("Link"), `>; rel="next"`), "</api/v1")
	}
	if paged <= len(all) {
		t.Errorf("the pages hold %d lines of %d and more", paged, len(all))
	}
	ask[api.Problem](d, 422, request{method: "GET", path: "/audit?after=x~y"})
	if mine := ask[[]account.Entry](d, 200, request{method: "GET", path: "/audit?limit=2&athlete=" + own}); len(mine) != 2 {
		t.Errorf("a page of 2 has %d", len(mine))
	}
}

// What fails inside is logged, and told without its insides.
func TestInsidesStayInside(t *testing.T) {
	d := newDesk(t)
	described(d)
	d.app.Now = func() time.Time { panic("hunter2 in the clock") }
	w := d.send(request{method: "GET", path: "/athletes/" + own + "/reading", token: d.tokens[access.Owner]})
	if w.Code != 500 || !strings.Contains(d.logged.String(), "hunter2") {
		t.Errorf("status %d, logged %q", w.Code, d.logged.String())
	}
	isClear(t, w.Body.String())
	d.app.Now = func() time.Time { return d.now }
	inner := d.app.Store
	d.app.Store = broken{inner}
	d.logged.Reset()
	w = d.send(request{method: "GET", path: "/athletes/" + own + "/reading", token: d.tokens[access.Owner]})
	if w.Code != 500 || !strings.Contains(d.logged.String(), "hunter2") {
		t.Errorf("status %d, logged %q", w.Code, d.logged.String())
	}
	isClear(t, w.Body.String())
	d.app.Store = inner
}

type broken struct{ app.Store }

func (broken) Read(_ context.Context, _ func(app.Tx) error) error {
	return errors.New("hunter2 in the storage")
}

// A review accepted by the interface is the prescription that stands.
func TestAWeekByTheInterface(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own
	made := ask[api.Proposed](d, 200, request{method: "POST", path: at + "/reviews?as_of=2026-03-02", token: d.tokens[access.Assistant]})
	if made.Proposal.Sentence == "" || made.Draft == nil {
		t.Fatalf("the review is %+v", made)
	}
	out := ask[api.Outcome](d, 200, request{method: "POST", path: at + "/reviews/2026-03-02/decision", token: d.tokens[access.Coach], body: map[string]any{"decision": "accepted"}})
	stands := ask[athlete.Prescription](d, 200, request{method: "GET", path: at + "/prescription?as_of=2026-03-02", token: d.tokens[access.Athlete]})
	if out.Prescription == nil || stands.Version != out.Prescription.Version || stands.Author != "Wren" || stands.Origin != athlete.FromProposal {
		t.Errorf("%+v\n%+v", out.Prescription, stands)
	}
	ask[api.Problem](d, 409, request{method: "POST", path: at + "/reviews/2026-03-02/decision", token: d.tokens[access.Coach], body: map[string]any{"decision": "declined", "reason": "no"}})
	kept := ask[[]api.ReviewKept](d, 200, request{method: "GET", path: at + "/reviews?from=2026-03-02"})
	if len(kept) != 1 || kept[0].Decision != "accepted" || kept[0].Who != "Wren" || kept[0].Proposal.Sentence != made.Proposal.Sentence {
		t.Errorf("kept is %+v", kept)
	}
	ask[api.Problem](d, 422, request{method: "POST", path: at + "/reviews/2026-03-02/decision", body: map[string]any{"decision": "accepted", "energy_kcal": 2000}})
	ask[api.Problem](d, 422, request{method: "POST", path: at + "/reviews/2026-03-02/decision", body: map[string]any{"decision": "edited"}})
}

// Each sees their own athletes in a list, and nobody learns of another's.
func TestListsAreOfOnesOwn(t *testing.T) {
	d := newDesk(t)
	for role, want := range map[access.Role][]string{
		access.Owner: {own, another, own2}, access.Coach: {own, own2}, access.Assistant: {own, own2}, access.Athlete: {own},
	} {
		people := ask[[]api.Person](d, 200, request{method: "GET", path: "/athletes", token: d.tokens[role]})
		var ids []string
		for _, p := range people {
			ids = append(ids, p.ID)
		}
		if strings.Join(ids, " ") != strings.Join(want, " ") {
			t.Errorf("%s sees %v", role, ids)
		}
	}
}

// Names that go into what is kept are those of who asks, whatever is sent.
func TestNamesAreNotTheClients(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own
	ask[app.Merge](d, 200, request{
		method: "POST", path: at + "/days", token: d.tokens[access.Athlete],
		body: []athlete.Day{{Date: monday, WeightKg: new(61.0), WeightStands: &athlete.WeightStands{Use: true, Who: "the coach"}}},
	})
	days := ask[[]athlete.Day](d, 200, request{method: "GET", path: at + "/days?from=2026-03-02"})
	if len(days) != 1 || days[0].WeightStands == nil || days[0].WeightStands.Who != "Aroha" {
		t.Errorf("the day is %+v", days)
	}
	r := trials()["POST /athletes/{athlete}/prescriptions"]
	p := ask[athlete.Prescription](d, 201, request{method: "POST", path: at + "/prescriptions", token: d.tokens[access.Coach], body: r.body})
	if p.Author != "Wren" || p.Origin != athlete.FromCoach {
		t.Errorf("the prescription is %+v", p)
	}
	ask[api.Problem](d, 422, request{ // an author is no field of it
		method: "POST", path: at + "/prescriptions", token: d.tokens[access.Coach], body: p,
	})
	limits := ask[athlete.Limits](d, 200, request{
		method: "PUT", path: at + "/limits/fat_g_per_kg", token: d.tokens[access.Coach], body: api.LimitChanged{Value: 0.7, Why: "asked for"},
	})
	if n := len(limits.Changes); n != 1 || limits.Changes[0].Who != "Wren" || limits.Changes[0].Why != "asked for" {
		t.Errorf("the limits are %+v", limits)
	}
}

// A profile that is sent back as it came is taken; one that carries other limits or
// clearances is not.
func TestProfileKeepsLimitsAndScreening(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own2
	ask[athlete.Limits](d, 200, request{method: "PUT", path: at + "/limits/fat_g_per_kg", body: api.LimitChanged{Value: 0.7, Why: "asked for"}})
	a := ask[athlete.Athlete](d, 200, request{method: "GET", path: at})
	a.TrainingYears++
	back := ask[athlete.Athlete](d, 200, request{method: "PUT", path: at, body: a})
	if back.TrainingYears != a.TrainingYears || back.Limits == nil || back.Limits.FatGPerKg != 0.7 || len(back.Screening.Cautions) == 0 {
		t.Errorf("the profile is %+v", back)
	}
	a.Limits.RateFarPctPerWeek = 1.4
	ask[api.Problem](d, 422, request{method: "PUT", path: at, body: a})
	a.Limits = nil
	a.Screening.Cautions = nil
	ask[api.Problem](d, 422, request{method: "PUT", path: at, body: a})
	a.ID = own
	ask[api.Problem](d, 422, request{method: "PUT", path: at, body: a})
	fresh := newcomer("kiri-new")
	limits := athlete.DefaultLimits(fresh.Sex)
	fresh.Limits = &limits
	ask[api.Problem](d, 422, request{method: "POST", path: "/athletes", body: fresh})
	if now := ask[athlete.Athlete](d, 200, request{method: "GET", path: at}); now.Limits.RateFarPctPerWeek != 1 || len(now.Screening.Cautions) == 0 {
		t.Errorf("the profile became %+v", now)
	}
}

// An athlete who is erased is gone with their account and its tokens, and another
// who comes under the same ID is not the old coach's by accident.
func TestErasureTakesTheAccount(t *testing.T) {
	d := newDesk(t)
	ask[api.Me](d, 200, request{method: "GET", path: "/me", token: d.tokens[access.Athlete]})
	ask[any](d, 204, request{method: "DELETE", path: "/athletes/" + own, token: d.tokens[access.Coach]})
	ask[api.Problem](d, 401, request{method: "GET", path: "/me", token: d.tokens[access.Athlete]})
	again := newcomer(own)
	ask[api.Person](d, 201, request{method: "POST", path: "/athletes", body: again}) // the owner's
	ask[api.Problem](d, 404, request{method: "GET", path: "/athletes/" + own + "/days", token: d.tokens[access.Assistant]})
	ask[api.Problem](d, 404, request{method: "GET", path: "/athletes/" + own + "/days", token: d.tokens[access.Coach]})
}

// Everything that the program can do can be done by the interface, but for what is
// of files only.
func TestEveryUseCaseHasARoute(t *testing.T) {
	routes := map[string]string{
		"AddAthlete": "POST /athletes", "AddClearance": "POST /athletes/{athlete}/clearances", "AddEvent": "POST /athletes/{athlete}/events",
		"AddShow": "POST /athletes/{athlete}/shows", "AllowLowAvailability": "POST /athletes/{athlete}/limits/leave",
		"AnswerWeight": "POST /athletes/{athlete}/weights/{date}", "Athlete": "GET /athletes/{athlete}", "Athletes": "GET /athletes",
		"ChangeLimit": "PUT /athletes/{athlete}/limits/{limit}", "Corrections": "GET /athletes/{athlete}/corrections",
		"Days": "GET /athletes/{athlete}/days", "Decide": "POST /athletes/{athlete}/reviews/{date}/decision",
		"Dossier": "GET /athletes/{athlete}/dossier", "EditAthlete": "PUT /athletes/{athlete}", "Export": "GET /athletes/{athlete}/export",
		"Measurements": "GET /athletes/{athlete}/measurements", "Prescribe": "POST /athletes/{athlete}/prescriptions",
		"Prescription": "GET /athletes/{athlete}/prescription", "Prescriptions": "GET /athletes/{athlete}/prescriptions",
		"Record": "POST /athletes/{athlete}/records", "RemoveAthlete": "DELETE /athletes/{athlete}", "Restore": "POST /archives",
		"Review": "POST /athletes/{athlete}/reviews", "Reviews": "GET /athletes/{athlete}/reviews", "Roster": "GET /roster", "RosterOf": "GET /roster",
		"Screen": "PUT /athletes/{athlete}/screening", "Sessions": "GET /athletes/{athlete}/sessions", "Sets": "GET /athletes/{athlete}/sets",
		"AddPhoto": "POST /athletes/{athlete}/photos/{date}/{pose}", "Amend": "POST /athletes/{athlete}/days/{date}",
		"CheckIn": "POST /athletes/{athlete}/check-ins", "CheckIns": "GET /athletes/{athlete}/check-ins",
		"AmendGym":    "POST /athletes/{athlete}/records", // and sets are taken out one by one
		"ChooseUnits": "PUT /athletes/{athlete}/units", "ChooseEffort": "PUT /athletes/{athlete}/effort", "Photos": "GET /athletes/{athlete}/photos",
		"Picture": "GET /athletes/{athlete}/photos/{date}/{pose}", "Progress": "GET /athletes/{athlete}/progress",
		"WhatIf": "POST /athletes/{athlete}/season/try", "ChangeSeason": "PUT /athletes/{athlete}/season",
		"Suppose": "POST /athletes/{athlete}/season/try", // where one of the two is reckoned
		"AddNote": "POST /athletes/{athlete}/notes", "Notes": "GET /athletes/{athlete}/notes",
		"RemoveNote":  "DELETE /athletes/{athlete}/notes/{number}",
		"RemovePhoto": "DELETE /athletes/{athlete}/photos/{date}/{pose}", "TryOut": "POST /athletes/{athlete}/reviews/{date}/try",
		"RosterRow":  "GET /roster",                          // a row of it
		"Standing":   "GET /athletes/{athlete}/prescription", // the same of a date
		"Programmes": "GET /athletes/{athlete}/programmes", "AddProgramme": "POST /athletes/{athlete}/programmes", "PlannedWeek": "POST /athletes/{athlete}/programmes/reckon",
		"GymDay": "GET /athletes/{athlete}/gym/{date}", "DropSet": "DELETE /athletes/{athlete}/sets/{date}/{order}",
		"AddInjury": "POST /athletes/{athlete}/injuries", "EndInjury": "POST /athletes/{athlete}/injuries/end",
		"Catalogue": "GET /exercises", "Exercises": "GET /exercises", "PutExercise": "PUT /exercises/{name}", "RenameExercise": "PUT /exercises/{name}", "RemoveExercise": "DELETE /exercises/{name}",
		"ExerciseNames": "GET /exercise-names", "SettleName": "PUT /exercise-names", "NamesSeen": "GET /athletes/{athlete}/exercise-names",
		"FatigueTable": "GET /cardio-fatigue", "PutFatigueTable": "PUT /cardio-fatigue",
		"Mapping": "", "KeepMapping": "", // how the columns of a file are read
	}
	paths := described(newDesk(t)).doc.Paths
	for m := range reflect.TypeFor[*app.App]().Methods() {
		route, ok := routes[m.Name]
		method, path, _ := strings.Cut(route, " ")
		switch {
		case !ok:
			t.Errorf("%s has no route: give it one, or say why not", m.Name)
		case route != "" && (paths.Value("/api/v1"+path) == nil || paths.Value("/api/v1"+path).GetOperation(method) == nil):
			t.Errorf("%s: there is no %s", m.Name, route)
		}
	}
}
