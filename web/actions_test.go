package web_test

import (
	"bytes"
	"encoding/json"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/web"
)

const changing = "aroha-jensen" // the demo has a change proposed for her

func (w *world) profile(id string) *athlete.Athlete {
	w.t.Helper()
	a, err := w.app.Athlete(w.t.Context(), id)
	if err != nil {
		w.t.Fatal(err)
	}
	return a
}

// standing is the prescription in force of her for whom a change is proposed.
func (w *world) standing() *athlete.Prescription {
	w.t.Helper()
	p, err := w.app.Prescription(w.t.Context(), changing, w.today)
	if err != nil {
		w.t.Fatal(err)
	}
	return p
}

func TestFirstOwnerAndSigningIn(t *testing.T) {
	w := serve(t, nil)
	b := w.browser()
	if got := b.get("/"); got.path != "/first-owner" {
		t.Fatalf("an empty desk leads to %s", got.path)
	}
	typed := []string{"name", "Wren Cadwallader", "login", "wren@example.org", "password"}
	refused := b.post("/first-owner", append(typed, "short")...).wants(t, http.StatusUnprocessableEntity, `value="Wren Cadwallader"`, "12 to 200 characters", "aria-invalid")
	if strings.Contains(refused.body, "short\"") {
		t.Error("a password came back")
	}
	b.post("/first-owner", append(typed, password)...).wants(t, http.StatusOK, "An empty desk", "Add an athlete", "Open the invented roster")
	b.post("/first-owner", append(typed, password)...).wants(t, http.StatusForbidden, "There are accounts already")
	b.post("/sign-out").wants(t, http.StatusOK, "You are signed out")
	if got := b.get("/athletes/mara/review?x=1"); got.path != "/sign-in?next="+url.QueryEscape("/athletes/mara/review?x=1") {
		t.Errorf("a stranger is sent to %s", got.path)
	}
	b.post("/sign-in", "login", "wren@example.org", "password", "not this one at all").wants(t, http.StatusUnauthorized, `value="wren@example.org"`)
	got := b.post("/sign-in", "login", "Wren@example.org", "password", password, "next", "/help").wants(t, http.StatusOK)
	if got.path != "/help" {
		t.Errorf("signing in leads to %s", got.path)
	}
}

// Where to go on after signing in is a page of this server and nothing else.
func TestLocal(t *testing.T) {
	for next, want := range map[string]string{
		"/athletes/mara?x=1": "/athletes/mara?x=1", "": "/", "https://example.org/": "/", "//example.org": "/", "/\\example.org": "/", "javascript:alert(1)": "/", "x": "/",
	} {
		if got := web.Local(next); got != want {
			t.Errorf("%q leads to %q, not %q", next, got, want)
		}
	}
}

// Many failed sign-ins for an account are slowed down.
func TestTooManySignIns(t *testing.T) {
	w := serve(t, nil)
	w.owner()
	b := w.browser()
	for range 10 {
		b.post("/sign-in", "login", "owner", "password", "wrong").wants(t, http.StatusUnauthorized)
	}
	b.post("/sign-in", "login", "owner", "password", password).wants(t, http.StatusTooManyRequests, "Wait")
}

func TestAcceptReview(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	before := w.standing()
	page := b.get(base+"/review").wants(t, http.StatusOK, "Accept as proposed", "As proposed")
	got := b.post(base+"/review", "print", page.hidden(t, "print"), "do", "accept").wants(t, http.StatusOK, "Accepted", "Hello Aroha")
	if !strings.HasPrefix(got.path, base+"/message") {
		t.Errorf("accepting leads to %s", got.path)
	}
	after := w.standing()
	if after.Version != before.Version+1 || after.Origin != athlete.FromProposal || after.Author != "Wren Owner" {
		t.Errorf("version %d by %q from %q follows version %d", after.Version, after.Author, after.Origin, before.Version)
	}
	b.get(base+"/review").wants(t, http.StatusOK, "Accepted by Wren Owner")
	b.get(base+"/prescriptions").wants(t, http.StatusOK, "proposal accepted, by Wren Owner")
	b.post(base+"/message", "text", "Hello Aroha, well rested?").wants(t, http.StatusOK, "Kept in")
	if got := w.kept[changing]; got != "Hello Aroha, well rested?\n" {
		t.Errorf("the outbox has %q", got)
	}
	b.post(base+"/message", "text", "").wants(t, http.StatusUnprocessableEntity, "empty")
}

func TestEditReview(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	print := b.get(base+"/review").hidden(t, "print")
	b.get(base+"/review/effect?energy=1800").wants(t, http.StatusOK, "As you typed", "Weight on")
	b.get(base+"/review/effect?energy=900").wants(t, http.StatusOK, "This would not be taken", "under the floor")
	b.get(base+"/review/effect?energy=much").wants(t, http.StatusUnprocessableEntity, "whole number")
	b.post(base+"/review", "print", print, "do", "edit", "energy", "1800").wants(t, http.StatusUnprocessableEntity, "needs a reason", `value="1800"`)
	b.post(base+"/review", "print", print, "do", "edit", "reason", "holiday").wants(t, http.StatusUnprocessableEntity, "what you typed is what is proposed", "holiday")
	// The floor of energy availability is 30 kcal/kg FFM for women (Loucks & Thuma 2003).
	b.post(base+"/review", "print", print, "do", "edit", "energy", "900", "reason", "quick").wants(t, http.StatusUnprocessableEntity, "under the floor of 30", `value="900"`)
	if v := w.standing(); v.Origin == athlete.FromEdit {
		t.Fatal("a refused edit was kept")
	}
	b.post(base+"/review", "print", print, "do", "edit", "energy", "1,800", "reason", "a birthday").wants(t, http.StatusOK, "Your version is in force")
	p := w.standing()
	if p.Origin != athlete.FromEdit || p.Reasons[0] != "a birthday" || p.MeanEnergyKcal() < 1750 || p.MeanEnergyKcal() > 1850 {
		t.Errorf("the edit became %+v", p)
	}
}

func TestDeclineReview(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	before := w.standing().Version
	print := b.get(base+"/review").hidden(t, "print")
	b.post(base+"/review", "print", print, "do", "decline").wants(t, http.StatusUnprocessableEntity, "needs a reason")
	b.post(base+"/review", "print", print, "do", "decline", "reason", "ill this week").wants(t, http.StatusOK, "Declined", "ill this week")
	if got := w.standing().Version; got != before {
		t.Errorf("declining made version %d", got)
	}
}

// A proposal that is no longer the one that was looked at is not decided on.
func TestStaleReview(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	print := b.get(base+"/review").hidden(t, "print")
	kcal := 2600.0
	var days []athlete.Day
	for i := range 6 {
		days = append(days, athlete.Day{Date: w.today.AddDays(-i), EnergyKcal: &kcal})
	}
	if _, err := w.app.Record(t.Context(), changing, app.Batch{Days: days}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	before := w.standing().Version
	b.post(base+"/review", "print", print, "do", "accept").wants(t, http.StatusConflict, "changed since you looked")
	if got := w.standing().Version; got != before {
		t.Error("it was decided all the same")
	}
}

func TestWhatIf(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	show := w.profile(changing).NextShow(w.today)
	later := show.Date.AddDays(28)
	on := func(date string) string { return "?" + url.Values{"show_id": {show.ID}, "show_date": {date}}.Encode() }
	b.get(base+"/season"+on(later.String())+"&target=13").wants(t, http.StatusOK, "Side by side", "Accept this season")
	b.get(base+"/season/compared"+on(later.String())+"&target=13").wants(t, http.StatusOK, "Side by side", "Accept this season")
	if got := w.profile(changing).NextShow(w.today); got.Date != show.Date || got.TargetBodyFatPct != show.TargetBodyFatPct {
		t.Fatal("asking changed the plan")
	}
	b.get(base+"/season"+on("2026-01-01")).wants(t, http.StatusUnprocessableEntity, "must lie after", `value="2026-01-01"`, "wrong-show-0")
	b.get(base+"/season/compared"+on("2026-01-01")).wants(t, http.StatusUnprocessableEntity, "must lie after")
	b.get(base+"/season"+on("soon")).wants(t, http.StatusUnprocessableEntity, "is not a date", "wrong-show-0")
	b.get(base+"/season?target=6").wants(t, http.StatusUnprocessableEntity, "below the floor of 10")
	b.post(base+"/season", "show_id", show.ID, "show_date", show.Date.String()).wants(t, http.StatusUnprocessableEntity, "nothing differs")
	b.post(base+"/season", "show_id", show.ID, "show_date", later.String(), "target", "13", "event_from", "2026-04-01", "event_to", "2026-04-07", "event_kind", "travel", "event_maintenance", "yes").
		wants(t, http.StatusOK, "The season is changed")
	a := w.profile(changing)
	got := a.NextShow(w.today)
	if got.Date != later || got.TargetBodyFatPct != 13 || got.ID != show.ID {
		t.Errorf("the show is now %+v", got)
	}
	if n := len(a.Events); n == 0 || !a.Events[n-1].Maintenance || a.Events[n-1].To != civil.Of(2026, 4, 7) {
		t.Errorf("the events are %+v", a.Events)
	}
	moved := []string{"event_was", "2026-04-01 2026-04-07 travel", "moved_from", "2026-04-08", "moved_to", "2026-04-12"}
	b.get(base+"/season?"+query(moved...)).wants(t, http.StatusOK, "Side by side", `value="2026-04-12"`)
	b.post(base+"/season", moved...).wants(t, http.StatusOK, "The season is changed")
	if e := w.profile(changing).Events; len(e) != len(a.Events) || e[len(e)-1].From != civil.Of(2026, 4, 8) || e[len(e)-1].To != civil.Of(2026, 4, 12) || !e[len(e)-1].Maintenance {
		t.Errorf("the events are now %+v", e)
	}
	b.post(base+"/season", moved...).wants(t, http.StatusNotFound, "There is no such event any more")
	b.post(base+"/season", "event_was", "2026-04-08 2026-04-12 travel", "moved_from", "2026-04-20", "moved_to", "2026-04-12").
		wants(t, http.StatusUnprocessableEntity, "would end before it begins", "wrong-event-0-from")
}

// query writes pairs as an address has them.
func query(pairs ...string) string {
	q := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		q.Add(pairs[i], pairs[i+1])
	}
	return q.Encode()
}

func TestProfileForms(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	b.post(base+"/limits", "field", "rate_far_pct_per_week", "value", "0.8").wants(t, http.StatusUnprocessableEntity, "with a name and a reason", `value="0.8"`)
	b.post(base+"/limits", "field", "rate_far_pct_per_week", "value", "0.8", "why", "tires quickly").wants(t, http.StatusOK, "Changed.", "tires quickly", "Wren Owner")
	b.post(base+"/limits", "field", "energy_availability_floor", "value", "20", "why", "faster").wants(t, http.StatusUnprocessableEntity, "cannot be set below 30")
	b.post(base+"/limits/leave", "from", "2026-03-02", "weeks", "5", "why", "x").wants(t, http.StatusUnprocessableEntity, "1 to 4 weeks")
	b.post(base+"/limits/leave", "from", "2026-03-02", "weeks", "2", "why", "last weeks").wants(t, http.StatusOK, "Leave to go 5 lower", "last weeks")
	b.post(base+"/shows", "show_name", "Second", "show_date", "2026-08-01", "show_target", "9").wants(t, http.StatusUnprocessableEntity, "below the floor", `value="Second"`)
	b.post(base+"/shows", "show_name", "Second", "show_date", "2026-08-01", "show_target", "12", "show_limit", "61").wants(t, http.StatusOK, "Second", "class limit 61.0")
	b.post(base+"/shows/remove", "show_id", "2026-08-01").wants(t, http.StatusOK)
	if n := len(w.profile(changing).Shows); n != 1 {
		t.Errorf("%d shows are left", n)
	}
	b.post(base+"/events", "event_from", "2026-03-20", "event_to", "2026-03-10").wants(t, http.StatusUnprocessableEntity, "two dates in order")
	b.post(base+"/events", "event_from", "2026-03-10", "event_to", "2026-03-20", "event_kind", "travel").wants(t, http.StatusOK, "Travel 10 Mar 2026")
	b.post(base+"/events/remove", "from", "2026-03-10", "to", "2026-03-20", "kind", "travel").wants(t, http.StatusOK, "Nothing is in the way")
	b.post(base+"/measurements", "date", "2026-03-01", "method", "eye", "by", "Wren", "body_fat", "90").wants(t, http.StatusUnprocessableEntity, "outside 2 to 60")
	b.post(base+"/measurements", "date", "2026-03-01", "method", "calipers 3-site", "by", "Robin", "fold_triceps", "9", "fold_thigh", "12,5", "fold_suprailium", "7").
		wants(t, http.StatusOK, "Robin", "thigh 12.5")
	b.post(base+"/screening", "caution", string(athlete.Fainting)).wants(t, http.StatusUnprocessableEntity, "tick that the athlete answered")
	b.post(base+"/screening", "caution", string(athlete.Fainting), "asked", "yes").wants(t, http.StatusOK, "Not cleared")
	b.get(base).wants(t, http.StatusOK, "No deficit is planned")
	b.post(base+"/clearances", "caution", string(athlete.Fainting), "date", "2026-03-01").wants(t, http.StatusUnprocessableEntity, "needs a clinician")
	b.post(base+"/clearances", "caution", string(athlete.Fainting), "date", "2026-03-01", "clinician", "Dr Ito").wants(t, http.StatusOK, "Dr Ito", "Cleared.")
	b.post(base+"/profile", "name", "Aroha Jensen-Li", "sex", "female", "birth_date", "1991-07-30", "units", "imperial", "height", "5 ft 6 in", "training_years", "11",
		"steps_per_day", "9000", "cardio_minutes_per_week", "0", "cardio_minutes_max", "200", "training_days", "monday", "cardio", "cycling").wants(t, http.StatusOK, "Aroha Jensen-Li", "Changed")
	a := w.profile(changing)
	if a.Units != athlete.Imperial || a.HeightCm < 167.6 || a.HeightCm > 167.7 || len(a.TrainingDays) != 1 || len(a.Shows) != 1 || a.Limits == nil {
		t.Errorf("the profile is now %+v", a)
	}
	b.post(base+"/profile", "name", "", "sex", "female", "birth_date", "1991-07-30", "height", "168").wants(t, http.StatusUnprocessableEntity, "name is empty")
}

func TestAddAthlete(t *testing.T) {
	w := serve(t, nil)
	b := w.owner()
	form := newAthleteForm()
	b.post("/athletes", form...).wants(t, http.StatusOK, "Mara Lindqvist", "screening is not answered")
	a := w.profile("mara-lindqvist")
	// 5 ft 6 in is 66 in of 2.54 cm (International Yard and Pound Agreement, 1959).
	if a.HeightCm < 167.63 || a.HeightCm > 167.65 || a.WeightKg != 64.9 || len(a.TrainingDays) != 2 {
		t.Errorf("kept %+v", a)
	}
	b.post("/athletes", form...).wants(t, http.StatusOK)
	w.profile("mara-lindqvist-2")
	if got := b.post("/athletes", append(form, "then", "import")...); !strings.HasPrefix(got.path, "/athletes/mara-lindqvist-3/import") {
		t.Errorf("who wants to import comes to %s", got.path)
	}
	form[3] = ""
	b.post("/athletes", form...).wants(t, http.StatusUnprocessableEntity, "female or male", `value="Mara Lindqvist"`)
}

func TestSlug(t *testing.T) {
	for name, want := range map[string]string{"Lucía Ferrández": "lucia-ferrandez", "  O'Brien ": "o-brien", "李": "athlete", "Ána-B": "ana-b", strings.Repeat("x", 90): strings.Repeat("x", 34)} {
		if got := web.Slug(name); got != want {
			t.Errorf("%q becomes %q, not %q", name, got, want)
		}
	}
}

// send uploads a file to the import of an athlete.
func (b *browser) send(id, kind, name, content string) answer {
	b.w.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	if err := m.WriteField("kind", kind); err != nil {
		b.w.t.Fatal(err)
	}
	part, err := m.CreateFormFile("file", name)
	if err != nil {
		b.w.t.Fatal(err)
	}
	if _, err := part.Write([]byte(content)); err != nil {
		b.w.t.Fatal(err)
	}
	if err := m.Close(); err != nil {
		b.w.t.Fatal(err)
	}
	r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodPost, b.w.URL+"/athletes/"+id+"/import", &body)
	if err != nil {
		b.w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", m.FormDataContentType())
	return b.do(r)
}

func (w *world) days(id string) []athlete.Day {
	w.t.Helper()
	days, err := w.app.Days(w.t.Context(), id, civil.Of(2000, 1, 1), civil.Of(2100, 1, 1))
	if err != nil {
		w.t.Fatal(err)
	}
	return days
}

func TestImport(t *testing.T) {
	w := serve(t, nil)
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	b := w.owner()
	const good = "Day,Morning weight (lb),Kcals\n2026-02-20,143.1,2100\n2026-02-21,142.8,2050\n"
	page := b.send("mara", "days", "feb.csv", good).wants(t, http.StatusOK, "Nothing is stored yet", "2 days can be read from feb.csv", "Morning weight", "64.9")
	if n := len(w.days("mara")); n != 0 {
		t.Fatalf("%d days were stored before they were confirmed", n)
	}
	key := page.hidden(t, "key")
	b.post("/athletes/mara/import/take", "key", key).wants(t, http.StatusOK, "Taken in")
	days := w.days("mara")
	// 143.1 lb of 0.45359237 kg (International Yard and Pound Agreement, 1959).
	if len(days) != 2 || *days[0].WeightKg < 64.90 || *days[0].WeightKg > 64.92 || *days[1].EnergyKcal != 2050 {
		t.Errorf("stored %+v", days)
	}
	b.post("/athletes/mara/import/take", "key", key).wants(t, http.StatusNotFound, "not here any more")
	page = b.send("mara", "days", "feb.csv", good).wants(t, http.StatusOK, "as in an earlier file")
	b.post("/athletes/mara/import/take", "key", page.hidden(t, "key")).wants(t, http.StatusOK, "was there already")

	const bad = "Day,Morning weight (lb),Kcals\n2026-02-22,143.1,2100\n2026-02-31,142.8,2050\n2026-02-23,heavy,2050\n"
	page = b.send("mara", "days", "bad.csv", bad).wants(t, http.StatusOK, "2 rows are bad", "row 3", "row 4", "column")
	key = page.hidden(t, "key")
	b.post("/athletes/mara/import/take", "key", key).wants(t, http.StatusUnprocessableEntity, "nothing was taken")
	if n := len(w.days("mara")); n != 2 {
		t.Fatalf("a file with bad rows left %d days", n)
	}
	b.post("/athletes/mara/import/take", "key", key, "partial", "yes").wants(t, http.StatusOK, "Taken in")
	if n := len(w.days("mara")); n != 3 {
		t.Errorf("the good rows make %d days", n)
	}
}

// What a file leaves open is asked, and a column can be made another.
func TestImportAsks(t *testing.T) {
	w := serve(t, nil)
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	b := w.owner()
	page := b.send("mara", "days", "open.csv", "Date,Weight kg,Mood\n03/02/2026,64.9,7\n04/02/2026,64.7,6\n").wants(t, http.StatusOK, "leaves something open", `type="radio"`)
	key := page.hidden(t, "key")
	b.post("/athletes/mara/import/take", "key", key).wants(t, http.StatusOK, "leaves something open")
	if len(w.days("mara")) != 0 {
		t.Fatal("a file with an open question was stored")
	}
	answers := []string{"key", key, "answer:date-order", "dmy", "column2", "fatigue"}
	b.post("/athletes/mara/import/read", answers...).wants(t, http.StatusOK, "In which unit is column", "a scale of 1 to 10")
	answers = append(answers, "answer:fatigue-unit", "1-10")
	b.post("/athletes/mara/import/read", answers...).wants(t, http.StatusOK, "3 Feb 2026", "2 days can be read")
	b.post("/athletes/mara/import/take", answers...).wants(t, http.StatusOK, "Taken in")
	if d := w.days("mara"); len(d) != 2 || d[0].Date != civil.Of(2026, 2, 3) || d[0].Fatigue == nil || *d[0].Fatigue != 7 {
		t.Errorf("stored %+v", d)
	}
	b.send("mara", "days", "empty.csv", "").wants(t, http.StatusUnprocessableEntity)
	b.send("mara", "nonsense", "x.csv", "a,b\n1,2\n").wants(t, http.StatusUnprocessableEntity, "does not say what the table is of")
}

// A file waits for who sent it, and for the athlete it was sent for.
func TestImportIsOnesOwn(t *testing.T) {
	w := serve(t, nil)
	for _, id := range []string{"mara", "other"} {
		a := mara()
		a.ID = id
		if err := w.app.AddAthlete(t.Context(), a, w.today, false); err != nil {
			t.Fatal(err)
		}
	}
	owner := w.owner()
	key := owner.send("mara", "days", "x.csv", "Date,Weight kg\n2026-02-20,64.9\n").hidden(t, "key")
	coach := w.role(owner, "coach", "mara")
	coach.post("/athletes/mara/import/take", "key", key).wants(t, http.StatusNotFound, "not here any more")
	owner.post("/athletes/other/import/take", "key", key).wants(t, http.StatusNotFound, "not here any more")
}

func TestExportAndErase(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	var all app.Archive
	if err := json.Unmarshal([]byte(b.get(base+"/export").wants(t, http.StatusOK).body), &all); err != nil || len(all.Days) == 0 || all.Athlete.ID != changing {
		t.Errorf("the export has %d days: %v", len(all.Days), err)
	}
	b.get(base+"/export?as=days").wants(t, http.StatusOK, "Date,Weight (kg)")
	b.get(base+"/export?as=profile").wants(t, http.StatusOK, "name: Aroha")
	b.get(base+"/export?as=x").wants(t, http.StatusNotFound)
	b.post(base+"/erase", "name", "aroha").wants(t, http.StatusUnprocessableEntity, "nothing was erased")
	b.post(base+"/erase", "name", "Aroha Jensen").wants(t, http.StatusOK, "Erased")
	b.get(base).wants(t, http.StatusNotFound, "There is no athlete")
	if page := b.get("/"); strings.Contains(page.body, "Aroha Jensen") {
		t.Error("who was erased is still on the roster")
	}
}

// The demo is a desk of its own, says that it is invented, and leaves nothing.
func TestDemo(t *testing.T) {
	w := serve(t, nil)
	b := w.owner()
	b.post("/demo").wants(t, http.StatusOK, "Invented.", "Aroha Jensen", "12 athletes as of 2 Mar 2026")
	b.get("/athletes/"+changing).wants(t, http.StatusOK, "Every athlete, show and number here is made up")
	b.post("/athletes", newAthleteForm()...).wants(t, http.StatusOK, "Mara")
	b.post("/demo/leave").wants(t, http.StatusOK, "An empty desk")
	if people, err := w.app.Athletes(t.Context()); err != nil || len(people) != 0 {
		t.Errorf("the demo left %d athletes: %v", len(people), err)
	}
}

// Another day is looked at as of what was known by then, and it says so.
func TestAsOf(t *testing.T) {
	w := filled(t)
	b := w.owner()
	b.post("/as-of", "date", "2026-02-01", "next", "/athletes/"+changing).wants(t, http.StatusOK, "as of <strong>1 Feb 2026</strong>", "Today is 2 Mar 2026")
	b.post("/as-of", "date", "soon").wants(t, http.StatusUnprocessableEntity, "not a date")
	back := b.post("/as-of", "next", "/").wants(t, http.StatusOK, "as of 2 Mar 2026")
	if strings.Contains(back.body, "Back to today") {
		t.Error("it still looks at another day")
	}
}

// A weight that does not fit is asked about, and the answer is kept with a name.
func TestAnswerWeight(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/saoirse-whitlock-tan"
	page := b.get(base+"/review").wants(t, http.StatusOK, "A weight to ask about", "It was 63.0 kg")
	date, instead := page.hidden(t, "date"), page.hidden(t, "instead")
	b.post(base+"/weights", "date", date, "answer", "instead", "instead", "heavy").wants(t, http.StatusUnprocessableEntity, "not a weight")
	after := b.post(base+"/weights", "date", date, "answer", "instead", "instead", instead).wants(t, http.StatusOK, "Your answer is kept")
	if strings.Contains(after.body, "A weight to ask about") {
		t.Error("it is asked again")
	}
	on := civil.MustParse(date)
	for _, d := range w.days("saoirse-whitlock-tan") {
		if d.Date == on && (*d.WeightKg != 63 || d.WeightStands == nil || d.WeightStands.Who != "Wren Owner") {
			t.Errorf("kept %v, %+v", *d.WeightKg, d.WeightStands)
		}
	}
	b.post(base+"/weights", "date", "2020-01-01", "answer", "use").wants(t, http.StatusNotFound, "No weight is logged")
}

// An assistant sees what is proposed and drafts the message, and is offered
// nothing that they may not do.
func TestAssistant(t *testing.T) {
	w := filled(t)
	b := w.role(w.owner(), "assistant", changing)
	for path, not := range map[string][]string{
		"/athletes/" + changing + "/review":                                               {"Accept as proposed", `name="do"`},
		"/athletes/" + changing + "/profile":                                              {"Change it", "Change a limit", "Erase"},
		"/athletes/" + changing + "/season?show_id=may-classic-2026&show_date=2026-07-18": {"Accept this season"},
		"/": {"Add an athlete"},
	} {
		page := b.get(path).wants(t, http.StatusOK)
		for _, n := range not {
			if strings.Contains(page.body, n) {
				t.Errorf("%s offers an assistant %q", path, n)
			}
		}
	}
	b.get("/athletes/"+changing+"/review").wants(t, http.StatusOK, "The coach decides", "As proposed")
	if err := w.accounts.SetAthletes(t.Context(), account.Console(""), b.who.AccountID, nil); err != nil {
		t.Fatal(err)
	}
	b.get("/").wants(t, http.StatusOK, "No athlete is yours to see yet")
	if err := w.accounts.SetAthletes(t.Context(), account.Console(""), b.who.AccountID, []string{changing}); err != nil {
		t.Fatal(err)
	}
	b.get("/athletes/"+changing+"/profile").wants(t, http.StatusOK, "Add a measurement")
}

// FuzzLocal: wherever one is sent after signing in is on this server, as a
// browser reads the address (WHATWG URL: a backslash is a slash, tabs and line
// ends are dropped).
func FuzzLocal(f *testing.F) {
	for _, s := range []string{"/", "//x", "/\\x", "/a?b#c", "/\t/x", "https:/x", "/%2f/x"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, next string) {
		got := web.Local(next)
		if !strings.HasPrefix(got, "/") || strings.HasPrefix(got, "//") || strings.ContainsAny(got, "\\\t\r\n") {
			t.Errorf("%q leads to %q", next, got)
		}
	})
}
