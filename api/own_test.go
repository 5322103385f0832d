package api_test

import (
	"bytes"
	"image/jpeg"
	"net/http"
	"reflect"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/account"
	"glidepath/api"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/photo/phototest"
)

// A photo is kept as a picture and nothing else, is given back to who may see it, goes
// with an archive, and is gone when it is removed.
func TestPhotos(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own + "/photos"
	send := request{
		method: "POST", path: at + "/2026-03-01/front", token: d.tokens[access.Athlete], body: string(phototest.JPEG(2000, 1500, 6)),
		header: map[string]string{"Content-Type": "image/jpeg", "Idempotency-Key": "k"},
	}
	w := d.send(send)
	if w.Code != http.StatusCreated || w.Header().Get("Location") != "/api/v1"+send.path {
		t.Fatalf("%d %s %s", w.Code, w.Header(), w.Body)
	}
	if again := d.send(send); again.Code != 201 || again.Body.String() != w.Body.String() || again.Header().Get("Idempotency-Replayed") != "true" {
		t.Errorf("again: %d %s", again.Code, again.Body)
	}
	list := ask[[]athlete.Photo](d, 200, request{method: "GET", path: at, token: d.tokens[access.Coach]})
	if len(list) != 1 || list[0].Width != 1600 || list[0].Height != 1200 || !list[0].AddedAt.Equal(d.now) {
		t.Errorf("the list is %+v", list)
	}
	w = d.send(request{method: "GET", path: at + "/2026-03-01/front", token: d.tokens[access.Assistant]})
	if h := w.Header(); w.Code != 200 || h.Get("Content-Type") != "image/jpeg" || h.Get("Cache-Control") != "no-store" || h.Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("%d %v", w.Code, h)
	}
	for _, trace := range phototest.Traces {
		if strings.Contains(w.Body.String(), trace) {
			t.Errorf("the picture has %q in it", trace)
		}
	}
	if m, err := jpeg.Decode(bytes.NewReader(w.Body.Bytes())); err != nil || m.Bounds().Dx() != 1600 {
		t.Errorf("the picture does not open: %v", err)
	}
	archive := ask[app.Archive](d, 200, request{method: "GET", path: "/athletes/" + own + "/export"})
	archive.Athlete.ID, archive.Corrections = "restored", nil
	ask[api.Person](d, 201, request{method: "POST", path: "/archives", body: archive})
	back := d.send(request{method: "GET", path: "/athletes/restored/photos/2026-03-01/front", token: d.tokens[access.Owner]})
	if m, err := jpeg.Decode(bytes.NewReader(back.Body.Bytes())); err != nil || m.Bounds().Dx() != 1600 || m.Bounds().Dy() != 1200 {
		t.Errorf("the restored picture, status %d, does not open as it was: %v", back.Code, err)
	}
	ask[any](d, 204, request{method: "DELETE", path: at + "/2026-03-01/front", token: d.tokens[access.Athlete]})
	ask[api.Problem](d, 404, request{method: "GET", path: at + "/2026-03-01/front"})
	ask[api.Problem](d, 404, request{method: "DELETE", path: at + "/2026-03-01/front"})
	entries, err := d.desk.Entries(t.Context(), account.Console("test"), account.Query{AthleteID: own})
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, e := range entries {
		said = append(said, e.Who+" "+e.What)
	}
	for _, line := range []string{"Aroha added a photo", "Wren listed the photos", "Sol saw a photo", "Aroha removed a photo"} {
		if !strings.Contains(strings.Join(said, "\n"), line) {
			t.Errorf("the record has no %q:\n%s", line, strings.Join(said, "\n"))
		}
	}
}

// A check-in carries the name of who sends it; a long one is told as it was sent.
func TestCheckIns(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own + "/check-ins"
	long := strings.Repeat("a", 7900)
	body := api.CheckInSent{
		Date: monday, Words: long, Signs: []athlete.Sign{athlete.Signs(athlete.Female)[0]},
		Measurements: []athlete.Measurement{{Date: monday, Method: athlete.Tape, GirthsCm: map[string]float64{"waist": 68}}},
	}
	for range 2 { // the same again changes nothing
		c := ask[athlete.CheckIn](d, 200, request{method: "POST", path: at, token: d.tokens[access.Athlete], body: body})
		if c.Who != "Aroha" || c.Words != long || len(c.Signs) != 1 {
			t.Errorf("the check-in is %+v", c)
		}
	}
	body.Words = "better"
	ask[athlete.CheckIn](d, 200, request{method: "POST", path: at, token: d.tokens[access.Assistant], body: body})
	all := ask[[]athlete.CheckIn](d, 200, request{method: "GET", path: at + "?from=2026-03-02", token: d.tokens[access.Coach]})
	if len(all) != 1 || all[0].Words != "better" || all[0].Who != "Sol" {
		t.Errorf("the check-ins are %+v", all)
	}
	if none := ask[[]athlete.CheckIn](d, 200, request{method: "GET", path: at + "?from=2026-03-03"}); len(none) != 0 {
		t.Errorf("later there are %+v", none)
	}
	measured := ask[[]athlete.Measurement](d, 200, request{method: "GET", path: "/athletes/" + own + "/measurements?from=2026-03-02"})
	if len(measured) != 1 || measured[0].GirthsCm["waist"] != 68 {
		t.Errorf("measured was %+v", measured)
	}
	ask[app.Dossier](d, 200, request{method: "GET", path: "/athletes/" + own + "/dossier?futures=100"}) // holds the check-ins
}

// A day is amended value by value, and not over what somebody else entered meanwhile.
func TestAmend(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own + "/days/2026-03-02"
	amend := func(body api.DayAmended) request {
		return request{method: "POST", path: at, token: d.tokens[access.Athlete], body: body}
	}
	first := athlete.Day{
		Date: monday, WeightKg: new(61.2), Notes: "slept badly",
		WeightStands: &athlete.WeightStands{Use: true, Who: "the coach"},
	}
	now := ask[athlete.Day](d, 200, amend(api.DayAmended{Put: &first}))
	if now.WeightKg == nil || *now.WeightKg != 61.2 || now.WeightStands == nil || now.WeightStands.Who != "Aroha" {
		t.Errorf("the day is %+v", now)
	}
	seen := now
	now = ask[athlete.Day](d, 200, amend(api.DayAmended{Put: &athlete.Day{Date: monday, Steps: new(9000.0)}, Drop: []string{"notes"}, Seen: &seen}))
	if now.Notes != "" || now.Steps == nil || now.WeightKg == nil {
		t.Errorf("the day is %+v", now)
	}
	// The steps are there by now, which the first look did not show.
	p := ask[api.Problem](d, 409, amend(api.DayAmended{Put: &athlete.Day{Date: monday, Steps: new(8000.0)}, Seen: &seen}))
	if p.Field != "steps" {
		t.Errorf("the problem is %+v", p)
	}
	// What is not changed may have been.
	now = ask[athlete.Day](d, 200, amend(api.DayAmended{Drop: []string{"weight_kg"}, Seen: &seen}))
	if now.WeightKg != nil || now.WeightStands != nil || *now.Steps != 9000 {
		t.Errorf("the day is %+v", now)
	}
	fixed := ask[[]app.Correction](d, 200, request{method: "GET", path: "/athletes/" + own + "/corrections"})
	if last := fixed[len(fixed)-1]; last.Who != "Aroha" || last.From != "api" || last.New != "" {
		t.Errorf("the last correction is %+v", last)
	}
}

// An athlete is told of the trend and of what they did, and of no estimate, plan or
// chance.
func TestProgressAndUnits(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own
	r := request{method: "GET", path: at + "/progress?as_of=2026-03-02&weeks=2", token: d.tokens[access.Athlete]}
	p := ask[api.Progressed](d, 200, r)
	if len(p.Trend) != 15 || p.Trend[14].Date != monday || p.Prescription == nil || len(p.Days) == 0 || len(p.Days) > 7 {
		t.Errorf("the progress is %+v", p)
	}
	told := ask[api.Told](d, 200, request{method: "GET", path: at + "/reading?as_of=2026-03-02"})
	if last := told.Reading.Daily[len(told.Reading.Daily)-1]; last.TrendKg != p.Trend[14].TrendKg {
		t.Errorf("the trend is %+v, in the reading %+v", p.Trend[14], last.TrendKg)
	}
	text := d.send(r).Body.String()
	for _, word := range []string{"body_fat", "expenditure", "adherence", "lean_kg", "chance"} {
		if strings.Contains(text, word) {
			t.Errorf("the athlete is told of %s", word)
		}
	}
	ask[api.EffortChosen](d, 200, request{method: "PUT", path: at + "/effort", token: d.tokens[access.Athlete], body: api.EffortChosen{Effort: athlete.Exertion}})
	ask[api.UnitsChosen](d, 200, request{method: "PUT", path: at + "/units", token: d.tokens[access.Athlete], body: api.UnitsChosen{Units: athlete.Imperial}})
	if a := ask[athlete.Athlete](d, 200, request{method: "GET", path: at}); a.Units != athlete.Imperial || a.Effort != athlete.Exertion {
		t.Errorf("the units are %q, the scale %q", a.Units, a.Effort)
	}
	fresh := newcomer("kiri-new")
	ask[api.Person](d, 201, request{method: "POST", path: "/athletes", body: fresh})
	if none := ask[api.Progressed](d, 200, request{method: "GET", path: "/athletes/kiri-new/progress"}); len(none.Trend) != 0 || none.Prescription != nil {
		t.Errorf("of somebody who logged nothing: %+v", none)
	}
}

// What is tried is told beside what stands and what is proposed, as deciding would
// have it, and nothing of it is kept.
func TestTryOut(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own + "/reviews/2026-03-02"
	review(d)
	before := everything(d)
	try := func(body map[string]any) api.Tried {
		return ask[api.Tried](d, 200, request{method: "POST", path: at + "/try", token: d.tokens[access.Assistant], body: body})
	}
	if same := try(map[string]any{}); !reflect.DeepEqual(same.Edited, same.Proposed) || same.Refused != nil || same.Draft == nil {
		t.Errorf("no edit comes to %+v", same)
	}
	less := try(map[string]any{"energy_kcal": 1850})
	if less.Edited.Asked.EnergyKcal != 1850 || less.Draft == nil || reflect.DeepEqual(less.Edited, less.Proposed) {
		t.Errorf("an edit comes to %+v", less)
	}
	hunger := try(map[string]any{"energy_kcal": 900})
	if len(hunger.Refused) != 1 || hunger.Refused[0].Kind != "refused" || hunger.Refused[0].Field != "energy_kcal" || hunger.Refused[0].Hint == "" || hunger.Draft != nil {
		t.Errorf("900 kcal a day comes to %+v", hunger)
	}
	for _, body := range []map[string]any{{"energy_kcal": 0}, {"energy_kcal": 60_000}, {"steps_per_day": 60_000}, {"cardio_minutes_per_week": 60_000}} {
		try(body)
	}
	if everything(d) != before {
		t.Error("trying was kept")
	}
	// Deciding says the same.
	refused := ask[api.Problem](d, 422, request{method: "POST", path: at + "/decision", body: map[string]any{"decision": "edited", "energy_kcal": 900}})
	if refused.Detail != hunger.Refused[0].Detail {
		t.Errorf("deciding is refused with %q, trying with %q", refused.Detail, hunger.Refused[0].Detail)
	}
	out := ask[api.Outcome](d, 200, request{method: "POST", path: at + "/decision", body: map[string]any{"decision": "edited", "energy_kcal": 1850, "reason": "a trial"}})
	if out.Prescription.MeanEnergyKcal() != less.Draft.MeanEnergyKcal() {
		t.Errorf("deciding prescribes %v kcal, trying told %v", out.Prescription.MeanEnergyKcal(), less.Draft.MeanEnergyKcal())
	}
	// Nothing is planned for somebody with an open caution.
	p := ask[api.Problem](d, 422, request{method: "POST", path: "/athletes/" + own2 + "/reviews/2026-03-02/try", body: map[string]any{}})
	if p.Kind != "refused" {
		t.Errorf("the problem is %+v", p)
	}
}

// Passkeys are listed without their keys; another's is not there; and a token that
// only reads removes none.
func TestOwnPasskeys(t *testing.T) {
	d := newDesk(t)
	keyed(d)
	list := ask[[]account.Passkey](d, 200, request{method: "GET", path: "/me/passkeys", token: d.tokens[access.Coach]})
	if len(list) != 1 || list[0].ID != "of-coach" || list[0].Name != "phone" || list[0].PublicKey != nil || list[0].Credential != nil {
		t.Errorf("the list is %+v", list)
	}
	w := d.send(request{method: "GET", path: "/me/passkeys", token: d.tokens[access.Coach]})
	if strings.Contains(strings.ToLower(w.Body.String()), "key\"") || strings.Contains(w.Body.String(), "credential") {
		t.Errorf("the list has more than it should: %s", w.Body)
	}
	for _, role := range []access.Role{access.Owner, access.Athlete} {
		ask[api.Problem](d, 404, request{method: "DELETE", path: "/me/passkeys/of-coach", token: d.tokens[role]})
	}
	coach, err := d.desk.Account(t.Context(), account.Console("test"), "wren@example.org")
	if err != nil {
		t.Fatal(err)
	}
	ask[api.Problem](d, 403, request{method: "DELETE", path: "/me/passkeys/of-coach", token: d.token(coach.ID, account.ScopeRead)})
	ask[any](d, 204, request{method: "DELETE", path: "/me/passkeys/of-coach", token: d.tokens[access.Coach]})
	if list := ask[[]account.Passkey](d, 200, request{method: "GET", path: "/me/passkeys", token: d.tokens[access.Coach]}); len(list) != 0 {
		t.Errorf("after removing the list is %+v", list)
	}
}
