package api_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
	"glidepath/photo"
	"glidepath/photo/phototest"
)

// trial is a route with a request that it takes, and who may take it to an own
// athlete: o owner, c coach, s assistant, a athlete. Nobody else's athlete is
// anybody's but the owner's.
type trial struct {
	may  string
	body any
	as   string             // media type of the body, where it is no JSON
	path string             // where the pattern has more than an athlete's ID
	make func(*desk) string // what must be there first; gives the path where it is not known before
}

var monday = civil.MustParse("2026-03-02")

func trials() map[string]trial {
	day := []athlete.Day{{Date: monday, WeightKg: new(61.2), EnergyKcal: new(1900.0)}}
	session := []athlete.Session{{Date: monday, Minutes: 60, RPE: 7}}
	sets := []athlete.Set{{Date: monday, Exercise: "squat", WeightKg: 80, Reps: 5, Order: 1}}
	measured := []athlete.Measurement{{Date: monday, Method: athlete.Eye, By: "Wren", BodyFatPct: new(15.0)}}
	prescribed := map[string]any{
		"from": "2026-03-03", "steps_per_day": 9000, "phase": "prep", "reasons": []string{"a trial"},
		"days": []athlete.DayPrescribed{{Type: athlete.TrainingDay, PerWeek: 7, EnergyKcal: 2100, ProteinG: 150, CarbohydrateG: 240, FatG: 60, FibreG: 28}},
	}
	written := map[string]any{
		"from": "2026-03-02", "name": "A trial", "weeks": []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{
			{Name: "A", Exercises: []athlete.PlannedExercise{{Exercise: "back squat", Sets: 3, RepsLow: 6, RepsHigh: 8}}},
		}}},
	}
	carry := athlete.Exercise{
		Name: "zercher carry", Pattern: athlete.Hinge, Equipment: athlete.Barbell, Stability: athlete.FreeStanding,
		Muscles: []athlete.Share{{Muscle: athlete.Back, Share: 1}},
	}
	at := "/athletes/{athlete}"
	return map[string]trial{
		"GET /me":       {may: "ocsa"},
		"GET /athletes": {may: "ocsa"},

		"GET /me/passkeys":              {may: "ocsa", make: keyed},
		"DELETE /me/passkeys/{passkey}": {may: "ocsa", make: keyed},

		"GET /roster":    {may: "ocs"},
		"GET /audit":     {may: "o"},
		"POST /athletes": {may: "oc", body: newcomer("kiri-new")},
		"POST /archives": {may: "o", make: func(d *desk) string { return "" }},

		"GET /exercises":           {may: "ocsa"},
		"PUT /exercises/{name}":    {may: "oc", path: "/zercher%20carry", body: carry},
		"DELETE /exercises/{name}": {may: "oc", path: "/zercher%20carry", make: carried},
		"GET /exercise-names":      {may: "ocsa"},
		"PUT /exercise-names":      {may: "oc", body: athlete.ExerciseName{Typed: "my row", Exercise: "cable row"}},
		"GET /cardio-fatigue":      {may: "ocsa"},
		"PUT /cardio-fatigue":      {may: "oc", body: cardio.DefaultFatigue()},

		"GET " + at + "/programmes":                   {may: "ocsa"},
		"POST " + at + "/programmes":                  {may: "oc", body: written},
		"POST " + at + "/programmes/{version}/copies": {may: "oc", path: "/1/copies", body: map[string]any{"from": "2026-03-02"}},
		"POST " + at + "/programmes/reckon":           {may: "ocs", path: "", body: written["weeks"].([]athlete.ProgrammeWeek)[0]},
		"GET " + at + "/gym/{date}":                   {may: "ocsa", path: "/2026-03-02"},
		"DELETE " + at + "/sets/{date}/{order}":       {may: "ocsa", path: "/2026-03-01/1?exercise=squat", make: lifted},
		"GET " + at + "/exercise-names":               {may: "ocsa"},
		"GET " + at + "/injuries":                     {may: "ocsa"},
		"POST " + at + "/injuries":                    {may: "ocsa", body: map[string]any{"from": "2026-03-01", "where": "knee"}},
		"POST " + at + "/injuries/end":                {may: "oc", body: map[string]any{"where": "knee", "until": "2026-03-02", "clinician": "Dr Example"}, make: hurt},

		"GET " + at:                    {may: "ocs"},
		"PUT " + at:                    {may: "oc", body: season(own).Athlete},
		"DELETE " + at:                 {may: "oc"},
		"GET " + at + "/export":        {may: "ocs"},
		"GET " + at + "/appraisal":     {may: "ocs"},
		"GET " + at + "/map":           {may: "ocs"},
		"GET " + at + "/corridor":      {may: "ocs"},
		"GET " + at + "/reading":       {may: "ocs"},
		"GET " + at + "/forecast":      {may: "ocs", path: "?futures=100"},
		"GET " + at + "/training":      {may: "ocs"},
		"GET " + at + "/proposal":      {may: "ocs"},
		"GET " + at + "/dossier":       {may: "ocs", path: "?futures=100"},
		"GET " + at + "/cardio":        {may: "ocs"},
		"GET " + at + "/corrections":   {may: "ocs"},
		"GET " + at + "/limits":        {may: "ocs"},
		"GET " + at + "/reviews":       {may: "ocs", make: review},
		"GET " + at + "/prescriptions": {may: "ocs"},

		"GET " + at + "/days":      {may: "ocsa"},
		"GET " + at + "/check-ins": {may: "ocsa"},
		"GET " + at + "/progress":  {may: "ocsa"},
		"GET " + at + "/photos":    {may: "ocsa"},

		"GET " + at + "/photos/{date}/{pose}":    {may: "ocsa", path: "/2026-03-01/front", make: photographed},
		"POST " + at + "/photos/{date}/{pose}":   {may: "ocsa", path: "/2026-03-02/side", body: string(phototest.JPEG(40, 30, 1)), as: "image/jpeg"},
		"DELETE " + at + "/photos/{date}/{pose}": {may: "ocsa", path: "/2026-03-01/front", make: photographed},

		"POST " + at + "/days/{date}": {may: "ocsa", path: "/2026-03-01", body: map[string]any{"drop": []string{"weight_kg"}}, make: weighed},
		"POST " + at + "/check-ins":   {may: "ocsa", body: map[string]any{"date": "2026-03-02", "words": "tired, but well"}},
		"PUT " + at + "/units":        {may: "ocsa", body: map[string]any{"units": "imperial"}},
		"PUT " + at + "/effort":       {may: "ocsa", body: map[string]any{"effort": "rpe"}},

		"GET " + at + "/notes":             {may: "ocs"},
		"POST " + at + "/notes":            {may: "ocs", body: map[string]any{"date": "2026-03-01", "text": "flat at posing practice"}},
		"DELETE " + at + "/notes/{number}": {may: "oc", path: "/1", make: noted},

		"GET " + at + "/measurements": {may: "ocsa"},
		"GET " + at + "/sets":         {may: "ocsa"},
		"GET " + at + "/sessions":     {may: "ocsa"},
		"GET " + at + "/prescription": {may: "ocsa"},

		"POST " + at + "/days":           {may: "ocsa", body: day},
		"POST " + at + "/measurements":   {may: "ocsa", body: measured},
		"POST " + at + "/sets":           {may: "ocsa", body: sets},
		"POST " + at + "/sessions":       {may: "ocsa", body: session},
		"POST " + at + "/records":        {may: "ocsa", body: map[string]any{"days": day, "sessions": session}},
		"POST " + at + "/weights/{date}": {may: "ocsa", path: "/2026-03-01", body: map[string]any{"use": true}, make: weighed},

		"POST " + at + "/reviews":                 {may: "ocs"},
		"POST " + at + "/reviews/{date}/decision": {may: "oc", path: "/2026-03-02/decision", body: map[string]any{"decision": "accepted"}, make: review},
		"POST " + at + "/reviews/{date}/try":      {may: "ocs", path: "/2026-03-02/try", body: map[string]any{"energy_kcal": 1900}},
		"POST " + at + "/prescriptions":           {may: "oc", body: prescribed},
		"PUT " + at + "/limits/{limit}":           {may: "oc", path: "/rate_far_pct_per_week", body: map[string]any{"value": 0.8, "why": "tires quickly"}},
		"POST " + at + "/limits/leave":            {may: "oc", body: map[string]any{"from": "2026-03-02", "weeks": 2, "why": "the last weeks"}},
		"PUT " + at + "/screening":                {may: "oc", body: map[string]any{"answered_on": "2026-03-01", "cautions": []string{}}},
		"POST " + at + "/clearances":              {may: "oc", body: athlete.Clearance{Caution: athlete.Fainting, Clinician: "Dr Example", Date: monday}},
		"POST " + at + "/shows":                   {may: "oc", body: athlete.Show{ID: "late", Name: "Invented Cup", Date: monday.AddDays(200), TargetBodyFatPct: 13}},
		"POST " + at + "/events":                  {may: "oc", body: athlete.Event{From: monday, To: monday.AddDays(3), Kind: "travel"}},

		"POST " + at + "/season/try": {may: "ocs", body: map[string]any{"events": []athlete.Event{{From: monday, To: monday.AddDays(3), Kind: "travel"}}}},
		"PUT " + at + "/season":      {may: "oc", body: map[string]any{"events": []athlete.Event{{From: monday, To: monday.AddDays(3), Kind: "travel"}}}},

		"GET " + at + "/invitations":                 {may: "oc"},
		"POST " + at + "/invitations":                {may: "oc", make: free},
		"DELETE " + at + "/invitations/{invitation}": {may: "oc", make: invited},
	}
}

// newcomer is an invented athlete who is not at the desk yet.
func newcomer(id string) athlete.Athlete {
	a := season("priya-raghunath").Athlete
	a.ID, a.Name = id, "Kiri New"
	return a
}

func review(d *desk) string {
	for _, id := range []string{own, another} {
		ask[any](d, http.StatusOK, request{method: "POST", path: "/athletes/" + id + "/reviews?as_of=2026-03-02"})
	}
	return ""
}

func weighed(d *desk) string {
	for _, id := range []string{own, another} {
		ask[any](d, http.StatusOK, request{
			method: "POST", path: "/athletes/" + id + "/days",
			body: []athlete.Day{{Date: monday.AddDays(-1), WeightKg: new(61.0)}},
		})
	}
	return ""
}

// keyed gives every account a passkey, named after its role.
func keyed(d *desk) string {
	accounts, err := d.desk.Accounts(d.Context(), account.Console("test"))
	if err != nil {
		d.Fatal(err)
	}
	err = d.desk.Store.Write(d.Context(), func(tx account.Tx) error {
		for _, a := range accounts {
			id := "of-" + string(a.Role)
			err := tx.PutPasskey(&account.Passkey{ID: id, AccountID: a.ID, Name: "phone", Host: "localhost", Credential: []byte(id), PublicKey: []byte("public " + id), MadeAt: d.now})
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		d.Fatal(err)
	}
	return ""
}

func lifted(d *desk) string {
	for _, id := range []string{own, another} {
		ask[any](d, http.StatusOK, request{
			method: "POST", path: "/athletes/" + id + "/sets",
			body: []athlete.Set{{Date: monday.AddDays(-1), Exercise: "squat", WeightKg: 80, Reps: 5, Order: 1}},
		})
	}
	return ""
}

func hurt(d *desk) string {
	for _, id := range []string{own, another} {
		ask[any](d, http.StatusOK, request{
			method: "POST", path: "/athletes/" + id + "/injuries", body: map[string]any{"from": "2026-03-01", "where": "knee"},
		})
	}
	return ""
}

func carried(d *desk) string {
	ask[any](d, http.StatusOK, request{method: "PUT", path: "/exercises/zercher%20carry", body: trials()["PUT /exercises/{name}"].body})
	return ""
}

func photographed(d *desk) string {
	kept, err := photo.Keep(phototest.JPEG(40, 30, 1), athlete.MaxPhotoSide)
	if err != nil {
		d.Fatal(err)
	}
	for _, id := range []string{own, another} {
		p := athlete.Photo{Date: monday.AddDays(-1), Pose: athlete.FromFront, Width: kept.Width, Height: kept.Height}
		if err := d.app.AddPhoto(d.Context(), id, p, kept.JPEG); err != nil {
			d.Fatal(err)
		}
	}
	return ""
}

// noted writes a note on each athlete; the first of a desk has the number 1.
func noted(d *desk) string {
	for _, id := range []string{own, another} {
		if _, err := d.app.AddNote(d.Context(), id, athlete.Note{Date: monday, Text: "flat at posing practice", Who: "Wren"}); err != nil {
			d.Fatal(err)
		}
	}
	return ""
}

// free disables nothing: it takes the athlete's account away, so that they can be
// invited. Accounts are not removed, so the athlete comes anew under another ID.
func free(d *desk) string { return "/athletes/" + own2 + "/invitations" }

func invited(d *desk) string {
	_, i, err := d.desk.Invite(d.Context(), account.Console("test"), own2)
	if err != nil {
		d.Fatal(err)
	}
	return "/athletes/" + own2 + "/invitations/" + i.ID
}

// request fills a pattern in for an athlete.
func (tr *trial) request(d *desk, pattern, id string) request {
	method, path, _ := strings.Cut(pattern, " ")
	if tr.path != "" && !strings.HasPrefix(tr.path, "?") {
		for _, part := range []string{"/weights", "/reviews", "/limits", "/days", "/photos", "/programmes", "/gym", "/sets", "/exercises", "/notes"} {
			if i := strings.Index(path, part+"/{"); i >= 0 {
				path = path[:i] + part + tr.path
			}
		}
	} else {
		path += tr.path
	}
	r := request{method: method, path: strings.Replace(path, "{athlete}", id, 1), body: tr.body}
	if tr.as != "" {
		r.header = map[string]string{"Content-Type": tr.as}
	}
	if pattern == "POST /archives" {
		r.body = archive(d)
	}
	if pattern == "PUT /athletes/{athlete}" {
		a, err := d.app.Athlete(d.Context(), id)
		if err != nil {
			d.Fatal(err)
		}
		a.TrainingYears++
		r.body = a
	}
	return r
}

// archive is an export under another ID, so that it can be restored.
func archive(d *desk) any {
	a, err := d.app.Export(d.Context(), own2)
	if err != nil {
		d.Fatal(err)
	}
	a.Athlete.ID = "restored"
	a.Corrections = nil
	return a
}

// TestEveryRouteTimesEveryRole holds each route of the served description against
// the table, for every role and for nobody, on an own athlete and on another's. A
// route missing from the table fails.
func TestEveryRouteTimesEveryRole(t *testing.T) {
	shared := newDesk(t)
	review(shared)
	weighed(shared)
	table := trials()
	letters := map[access.Role]string{access.Owner: "o", access.Coach: "c", access.Assistant: "s", access.Athlete: "a", access.Nobody: "-"}
	seen := 0
	for path, item := range described(shared).doc.Paths.Map() {
		for method := range item.Operations() {
			pattern := method + " " + strings.TrimPrefix(path, "/api/v1")
			tr, ok := table[pattern]
			if !ok {
				t.Errorf("%s is not in the table: say who may take it", pattern)
				continue
			}
			seen++
			for _, role := range access.Roles() {
				t.Run(strings.ReplaceAll(pattern, "/", "_")+" "+letters[role], func(t *testing.T) {
					tryRole(t, shared, pattern, tr, role, strings.Contains(tr.may, letters[role]))
				})
			}
		}
	}
	if seen != len(table) {
		t.Errorf("the table has %d routes, and %d of them are there", len(table), seen)
	}
}

func tryRole(t *testing.T, shared *desk, pattern string, tr trial, role access.Role, may bool) {
	if may {
		d := shared
		if !strings.HasPrefix(pattern, "GET ") {
			d = newDesk(t)
		}
		d.TB = t
		path := ""
		if tr.make != nil {
			path = tr.make(d)
		}
		r := tr.request(d, pattern, own)
		if path != "" {
			r.path = path
		}
		r.token, r.path = d.tokens[role], strings.Replace(r.path, "{passkey}", "of-"+string(role), 1)
		before := lines(d)
		if w := d.send(r); w.Code >= 300 {
			t.Errorf("status %d: %s", w.Code, w.Body)
		}
		if lines(d) <= before {
			t.Error("the record has no line of it")
		}
		return
	}
	shared.TB = t
	before := everything(shared)
	r := tr.request(shared, pattern, own)
	r.token = shared.tokens[role]
	want := http.StatusForbidden
	if role == access.Nobody {
		want = http.StatusUnauthorized
	}
	if w := shared.send(r); w.Code != want {
		t.Errorf("status %d, want %d: %s", w.Code, want, w.Body)
	}
	if everything(shared) != before {
		t.Error("what was refused changed something")
	}
}

// Another's athlete is not there, for everybody but the owner: the answer is that
// of an athlete who is nowhere, to the byte.
func TestAnothersAthleteIsNotThere(t *testing.T) {
	d := newDesk(t)
	before := everything(d)
	for pattern, tr := range trials() {
		if !strings.Contains(pattern, "{athlete}") {
			continue
		}
		for _, role := range []access.Role{access.Coach, access.Assistant, access.Athlete} {
			r := tr.request(d, pattern, another)
			r.token = d.tokens[role]
			w := d.send(r)
			if w.Code != http.StatusNotFound {
				t.Errorf("%s as %s: status %d: %s", pattern, role, w.Code, w.Body)
			}
			r.path = strings.Replace(r.path, another, "nobody-at-all", 1)
			nowhere := strings.ReplaceAll(d.send(r).Body.String(), "nobody-at-all", another)
			if nowhere != w.Body.String() {
				t.Errorf("%s as %s tells who is there:\n%s%s", pattern, role, w.Body, nowhere)
			}
		}
	}
	if everything(d) != before {
		t.Error("another's athlete was changed")
	}
}

// A token does what its scopes say and no more.
func TestScopes(t *testing.T) {
	d := newDesk(t)
	owner, err := d.desk.Account(t.Context(), account.Console("test"), "owner@example.org")
	if err != nil {
		t.Fatal(err)
	}
	needs := map[string]account.Scope{
		"GET /athletes/{athlete}/days": account.ScopeRead, "GET /athletes": account.ScopeRead, "GET /roster": account.ScopeRead,
		"POST /athletes/{athlete}/days": account.ScopeLog, "POST /athletes/{athlete}/reviews": account.ScopeDraft,
		"POST /athletes/{athlete}/shows": account.ScopeDecide, "POST /athletes": account.ScopeDecide,
		"POST /athletes/{athlete}/reviews/{date}/try": account.ScopeRead, "POST /athletes/{athlete}/check-ins": account.ScopeLog,
		"DELETE /athletes/{athlete}/photos/{date}/{pose}": account.ScopeLog, "GET /athletes/{athlete}/photos": account.ScopeRead,
		"GET /exercises": account.ScopeRead, "PUT /exercises/{name}": account.ScopeDecide, "PUT /exercise-names": account.ScopeDecide,
		"POST /athletes/{athlete}/injuries": account.ScopeLog, "POST /athletes/{athlete}/injuries/end": account.ScopeDecide,
		"POST /athletes/{athlete}/programmes": account.ScopeDecide, "DELETE /athletes/{athlete}/sets/{date}/{order}": account.ScopeLog,
		"DELETE /athletes/{athlete}": account.ScopeDecide, "GET /audit": account.ScopeManage,
	}
	table := trials()
	for _, scope := range account.AllScopes() {
		token := d.token(owner.ID, scope)
		for pattern, need := range needs {
			tr := table[pattern]
			r := tr.request(d, pattern, own)
			r.token = token
			if need == scope && r.method != http.MethodGet {
				continue // that it is taken is tried elsewhere
			}
			w := d.send(r)
			if got := w.Code == http.StatusForbidden; got != (need != scope) {
				t.Errorf("%s with the scope %s: status %d", pattern, scope, w.Code)
			}
		}
	}
}

// everything is all that is stored of the athletes and accounts, as text.
func everything(d *desk) string {
	d.Helper()
	people, err := d.app.Athletes(d.Context())
	if err != nil {
		d.Fatal(err)
	}
	var b strings.Builder
	for _, p := range people {
		a, err := d.app.Export(d.Context(), p.ID)
		if err != nil {
			d.Fatal(err)
		}
		if err := json.NewEncoder(&b).Encode(a); err != nil {
			d.Fatal(err)
		}
	}
	own, err := d.app.Exercises(d.Context())
	if err != nil {
		d.Fatal(err)
	}
	names, err := d.app.ExerciseNames(d.Context())
	if err != nil {
		d.Fatal(err)
	}
	table, err := d.app.FatigueTable(d.Context())
	if err != nil {
		d.Fatal(err)
	}
	if err := json.NewEncoder(&b).Encode([]any{own, names, table}); err != nil {
		d.Fatal(err)
	}
	accounts, err := d.desk.Accounts(d.Context(), account.Console("test"))
	if err != nil {
		d.Fatal(err)
	}
	if err := json.NewEncoder(&b).Encode(accounts); err != nil {
		d.Fatal(err)
	}
	return b.String()
}

// lines counts the record.
func lines(d *desk) int {
	d.Helper()
	all, err := d.desk.Entries(d.Context(), account.Console("test"), account.Query{})
	if err != nil {
		d.Fatal(err)
	}
	return len(all)
}
