package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"
	"time"

	"glidepath/access"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/photo/phototest"
	"glidepath/web"
)

// maras is a desk with Mara and another athlete, and Mara signed in.
func maras(t *testing.T) (w *world, owner, own *browser) {
	t.Helper()
	begun := time.Now()
	w = serve(t, func(o *web.Options) { o.Now = func() time.Time { return clock.Add(time.Since(begun)) } })
	other := mara()
	other.ID, other.Name = "orla", "Orla Brandvold"
	for _, a := range []athlete.Athlete{mara(), other} {
		a.MenstrualCycle = true
		if err := w.app.AddAthlete(t.Context(), a, w.today, false); err != nil {
			t.Fatal(err)
		}
	}
	owner = w.owner()
	return w, owner, w.role(owner, access.Athlete, "mara")
}

func (w *world) marasDay(on civil.Date) athlete.Day {
	w.t.Helper()
	days, err := w.app.Days(w.t.Context(), "mara", on, on)
	if err != nil {
		w.t.Fatal(err)
	}
	if len(days) == 0 {
		return athlete.Day{Date: on}
	}
	return days[0]
}

func (w *world) marasCorrections() int {
	w.t.Helper()
	all, err := w.app.Corrections(w.t.Context(), "mara")
	if err != nil {
		w.t.Fatal(err)
	}
	return len(all)
}

// ownerMark is what the page tells its script to send along.
func ownerMark(t *testing.T, b *browser) string {
	t.Helper()
	_, rest, ok := strings.Cut(b.get("/day").body, `data-owner="`)
	if !ok {
		t.Fatal("the page has no mark of its owner")
	}
	mark, _, _ := strings.Cut(rest, `"`)
	return mark
}

// An invitation goes from the coach's page to the athlete's own: once, while it is
// good.
func TestInvitation(t *testing.T) {
	w := serve(t, nil)
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	coach := w.owner()
	coach.get("/athletes/mara/check-ins").wants(t, http.StatusOK, "No check-in yet", "/athletes/mara/invitation")
	link := func() string {
		page := coach.post("/athletes/mara/invitation").wants(t, http.StatusOK, "<svg", "shown this once", "Not used yet")
		_, rest, _ := strings.Cut(page.body, w.URL+"/invitation/")
		secret, _, _ := strings.Cut(rest, "<")
		return "/invitation/" + secret
	}
	first := link()
	if again := coach.get("/athletes/mara/invitation"); strings.Contains(again.body, first) {
		t.Error("the link is shown a second time")
	}
	second := link() // ends the first
	visitor := w.browser()
	visitor.get(first).wants(t, http.StatusNotFound, "cannot be used")
	visitor.get(second).wants(t, http.StatusOK, "Welcome, Mara")
	visitor.post(second, "login", "mara@example.org", "password", "short").wants(t, http.StatusUnprocessableEntity, "12 to 200 characters")
	if a := visitor.post(second, "login", "mara@example.org", "password", password).wants(t, http.StatusOK, "What is asked"); a.path != "/day" {
		t.Errorf("after the password the athlete is at %s", a.path)
	}
	if a := visitor.get("/"); a.path != "/day" {
		t.Errorf("an athlete's home is %s", a.path)
	}
	w.browser().get(second).wants(t, http.StatusNotFound, "cannot be used")
	coach.get("/athletes/mara/invitation").wants(t, http.StatusOK, "has a page of their own")
	coach.post("/athletes/mara/invitation").wants(t, http.StatusConflict, "has an account already")
}

func TestInvitationRevoked(t *testing.T) {
	w := serve(t, nil)
	if err := w.app.AddAthlete(t.Context(), mara(), w.today, false); err != nil {
		t.Fatal(err)
	}
	coach := w.owner()
	page := coach.post("/athletes/mara/invitation")
	_, rest, _ := strings.Cut(page.body, w.URL+"/invitation/")
	secret, _, _ := strings.Cut(rest, "<")
	coach.post("/athletes/mara/invitation/revoke", "invitation", page.hidden(t, "invitation")).wants(t, http.StatusOK, "Revoked")
	w.browser().get("/invitation/"+secret).wants(t, http.StatusNotFound, "cannot be used")
}

// One field at a time: kept in SI, the same sent again is nothing, and what somebody
// else changed meanwhile is not written over.
func TestFieldByField(t *testing.T) {
	w, _, own := maras(t)
	mark := ownerMark(t, own)
	on := "/day/" + w.today.String() + "/"
	send := func(field, value, base string) answer {
		return own.post(on+field, "value", value, "base", base, "owner", mark)
	}
	send("weight_kg", "64,8", "").wants(t, http.StatusOK, `"value":"64.8"`)
	send("weight_kg", "64.8", "").wants(t, http.StatusOK, `"value":"64.8"`) // the answer was lost on the way
	send("energy_kcal", "2,150", "").wants(t, http.StatusOK, `"value":"2150"`)
	send("sleep_h", "7:30", "").wants(t, http.StatusOK, `"value":"7.5"`)
	send("cardio", "30 incline walking; 20.5 cycling", "").wants(t, http.StatusOK, "20.5 cycling")
	send("cycle_day", "12", "").wants(t, http.StatusOK)
	send("notes", "legs heavy", "").wants(t, http.StatusOK)
	d := w.marasDay(w.today)
	if *d.WeightKg != 64.8 || *d.EnergyKcal != 2150 || *d.SleepH != 7.5 || len(d.Cardio) != 2 || *d.CycleDay != 12 || d.Notes != "legs heavy" {
		t.Errorf("the day is %+v", d)
	}
	if n := w.marasCorrections(); n != 0 {
		t.Errorf("%d corrections of what was sent once", n)
	}
	send("weight_kg", "64.6", "64.8").wants(t, http.StatusOK, `"value":"64.6"`)
	send("weight_kg", "65.0", "64.8").wants(t, http.StatusConflict, `"value":"64.6"`, `"clash":true`)
	send("weight_kg", "64.6", "64.8").wants(t, http.StatusOK) // both say the same
	send("weight_kg", "", "64.6").wants(t, http.StatusOK, `"value":""`)
	if d := w.marasDay(w.today); d.WeightKg != nil {
		t.Errorf("the weight is %v after it was emptied", *d.WeightKg)
	}
	send("weight_kg", "heavy", "").wants(t, http.StatusUnprocessableEntity, "is not a number")
	send("weight_kg", "6480", "").wants(t, http.StatusUnprocessableEntity, "outside 20 to 500")
	send("weight_kg", "NaN", "").wants(t, http.StatusUnprocessableEntity)
	send("cardio", "30 flying", "30 incline walking; 20.5 cycling").wants(t, http.StatusUnprocessableEntity, "kind of cardio")
	send("shoe_size", "38", "").wants(t, http.StatusNotFound)
	own.post(on+"steps", "value", "9000", "base", "", "owner", "somebody").wants(t, http.StatusForbidden)
	own.post("/day/2031-01-01/steps", "value", "9000", "owner", mark).wants(t, http.StatusUnprocessableEntity, "still to come")
	own.post("/day/2020-01-01/steps", "value", "9000", "owner", mark).wants(t, http.StatusUnprocessableEntity, "too long ago")
}

// Units are the athlete's, and a value in pounds reads back as it was typed.
func TestPounds(t *testing.T) {
	w, _, own := maras(t)
	a := mara()
	a.Units = athlete.Imperial
	if err := w.app.EditAthlete(t.Context(), a, w.today); err != nil {
		t.Fatal(err)
	}
	own.post("/day/"+w.today.String()+"/weight_kg", "value", "142.6", "base", "", "owner", ownerMark(t, own)).wants(t, http.StatusOK, `"value":"142.6"`)
	// 142.6 lb of 0.45359237 kg (International Yard and Pound Agreement, 1959).
	if kg := *w.marasDay(w.today).WeightKg; kg < 64.6822 || kg > 64.6823 {
		t.Errorf("142.6 lb is kept as %v kg", kg)
	}
	own.get("/day").wants(t, http.StatusOK, `value="142.6"`, "lb")
	// The athlete chooses; what waited on the phone is still in the units it was typed in.
	own.post("/units", "units", "metric").wants(t, http.StatusOK, "kg", `value="64.68"`)
	own.post("/day/"+w.today.String()+"/weight_kg", "value", "143", "base", "142.6", "units", "imperial", "owner", ownerMark(t, own)).wants(t, http.StatusOK, `"value":"143"`)
	own.get("/day").wants(t, http.StatusOK, `value="64.86"`)
	own.post("/units", "units", "stone").wants(t, http.StatusUnprocessableEntity, "choose metric or imperial")
}

// The whole form without script: all or nothing, with what was typed shown again.
func TestDayWithoutScript(t *testing.T) {
	w, _, own := maras(t)
	own.get("/day").wants(t, http.StatusOK, "Nothing is prescribed yet", `inputmode="decimal"`, `enterkeyhint="next"`, "Day of the cycle")
	path := "/day/" + w.today.String()
	own.post(path, "weight_kg", "64.8", "base_weight_kg", "", "steps", "many", "base_steps", "").
		wants(t, http.StatusUnprocessableEntity, "is not a number", `value="64.8"`, `value="many"`)
	if d := w.marasDay(w.today); !d.Empty() {
		t.Errorf("half of a form was kept: %+v", d)
	}
	own.post(path, "weight_kg", "64.8", "base_weight_kg", "", "steps", "9100", "base_steps", "",
		"cardio_minutes", "30", "cardio_kind", "cycling", "base_cardio", "", "notes", "", "base_notes", "").wants(t, http.StatusOK, "Kept.", `value="9100"`)
	own.post(path, "weight_kg", "65.1", "base_weight_kg", "64.9").wants(t, http.StatusConflict, "was entered since", "64.8", `value="65.1"`)
	own.post(path, "weight_kg", "65.1", "base_weight_kg", "64.8").wants(t, http.StatusOK, "Kept.")
	if d := w.marasDay(w.today); *d.WeightKg != 65.1 || *d.Steps != 9100 || d.CardioMinutes() != 30 {
		t.Errorf("the day is %+v", d)
	}
	own.get("/day/"+w.today.AddDays(1).String()).wants(t, http.StatusOK, `placeholder="65.1"`)
}

// What is asked stands on top, for the kind of day that it is.
func TestWhatIsAsked(t *testing.T) {
	w := filled(t)
	owner := w.owner()
	for i := range demo().Seasons {
		s := &demo().Seasons[i]
		if len(s.Prescriptions) == 0 || len(s.Prescriptions[len(s.Prescriptions)-1].Days) < 2 {
			continue
		}
		own := w.role(owner, access.Athlete, s.Athlete.ID)
		page := own.get("/day").wants(t, http.StatusOK, "Eat ", "protein", "steps", "On other days")
		for _, word := range []string{"corridor", "behind", "edge", "slack", "Behind"} {
			if strings.Contains(page.body+own.get("/progress").body, word) {
				t.Errorf("an athlete reads %q", word)
			}
		}
		own.get("/progress").wants(t, http.StatusOK, "Your weight runs at", "<svg", "asked", "When to call")
		return
	}
	t.Fatal("no invented athlete has a prescription")
}

// A week short of food is a caution, with whom to tell; a week over it no blame.
func TestKindWords(t *testing.T) {
	for _, c := range []struct {
		eaten float64
		says  string
	}{{1500, "Please eat all of it"}, {2400, "Nothing needs to be made up for"}, {2000, "You ate much as was asked"}} {
		w, _, own := maras(t)
		p := athlete.Prescription{
			From: w.today.AddDays(-20), Days: []athlete.DayPrescribed{{Type: athlete.RestDay, PerWeek: 7, EnergyKcal: 2000, ProteinG: 130, CarbohydrateG: 200, FatG: 60}},
			Steps: 9000, Phase: athlete.Prep, Author: "Wren", Reasons: []string{"a start"}, Origin: athlete.FromCoach,
		}
		err := w.data.Write(t.Context(), func(tx app.Tx) error { return tx.AddPrescription("mara", &p) })
		if err != nil {
			t.Fatal(err)
		}
		var b app.Batch
		for i := range 6 {
			b.Days = append(b.Days, athlete.Day{Date: w.today.AddDays(-i), WeightKg: new(64.5), EnergyKcal: new(c.eaten)})
		}
		if _, err := w.app.Record(t.Context(), "mara", b, app.Source{Name: "test"}); err != nil {
			t.Fatal(err)
		}
		own.get("/progress").wants(t, http.StatusOK, c.says, "6 of these seven days are logged")
	}
}

// A check-in reaches the coach with its measurements; sent twice it is there once.
func TestCheckIn(t *testing.T) {
	w, coach, own := maras(t)
	own.get("/check-in").wants(t, http.StatusOK, "In your own words", "a missed cycle")
	own.post("/check-in").wants(t, http.StatusUnprocessableEntity, "is empty")
	pairs := []string{"words", "tired, but well", "sign", "dizziness", "girth_waist", "71.5", "by", "Mara"}
	own.post("/check-in", pairs...).wants(t, http.StatusOK, "Sent to your coach.", "You told of dizziness")
	own.post("/check-in", pairs...).wants(t, http.StatusOK, "Sent to your coach.")
	all, err := w.app.CheckIns(t.Context(), "mara", w.today)
	if err != nil || len(all) != 1 || all[0].Words != "tired, but well" || all[0].Who == "" {
		t.Errorf("%+v (%v)", all, err)
	}
	if n := w.marasCorrections(); n != 0 {
		t.Errorf("%d corrections of what was sent once", n)
	}
	coach.get("/athletes/mara/check-ins").wants(t, http.StatusOK, "tired, but well", "Mara reports dizziness", "waist 71.5")
	own.post("/check-in", "words", "x", "girth_waist", "7150").wants(t, http.StatusUnprocessableEntity, "outside 10 to 250", ">x</textarea>")
	coach.get("/athletes/orla/check-ins").wants(t, http.StatusOK, "No check-in yet")
	if archive, err := w.app.Export(t.Context(), "mara"); err != nil || len(archive.CheckIns) != 1 {
		t.Errorf("the export has %d check-ins (%v)", len(archive.CheckIns), err)
	}
	rows, err := w.app.Roster(t.Context(), w.today, nil)
	if err != nil || rows[0].ID != "mara" || rows[0].Need != app.NeedSafety || !strings.Contains(rows[0].Reason, "dizziness") {
		t.Errorf("the roster begins with %+v (%v)", rows[0], err)
	}
}

// sendPhoto sends a file as the form does.
func (b *browser) sendPhoto(pose string, file []byte) answer {
	b.w.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	part, err := m.CreateFormFile("photo", "IMG_0001.jpg")
	if err != nil {
		b.w.t.Fatal(err)
	}
	_, _ = part.Write(file)
	_ = m.WriteField("pose", pose)
	_ = m.Close()
	r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodPost, b.w.URL+"/photos", &body)
	if err != nil {
		b.w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", m.FormDataContentType())
	return b.do(r)
}

// A photo is kept without what the phone wrote into it, seen by athlete and coach
// alone, stored by nobody on the way, and gone when it is removed or the athlete is.
func TestPhotos(t *testing.T) {
	w, coach, own := maras(t)
	own.sendPhoto("front", phototest.JPEG(900, 1200, 6)).wants(t, http.StatusOK, "The photo is kept.")
	picture := "/photos/" + w.today.String() + "/front"
	got := own.get(picture).wants(t, http.StatusOK)
	if got.header.Get("Content-Type") != "image/jpeg" || got.header.Get("Cache-Control") != "no-store" {
		t.Errorf("the picture came with %v", got.header)
	}
	for _, trace := range append([]string{"Exif", "GPS"}, phototest.Traces...) {
		if strings.Contains(got.body, trace) {
			t.Errorf("%q is in the picture that is served", trace)
		}
	}
	coach.get("/athletes/mara"+picture).wants(t, http.StatusOK)
	coach.get("/athletes/mara/photos").wants(t, http.StatusOK, "/athletes/mara"+picture)
	coach.get("/athletes/orla"+picture).wants(t, http.StatusNotFound)
	own.get("/photos?from="+w.today.String()+"&pose=front").wants(t, http.StatusOK, picture, "Remove this photo")

	own.sendPhoto("front", []byte("\x00\x00\x00\x18ftypheic, and more")).wants(t, http.StatusUnprocessableEntity, "HEIC")
	own.sendPhoto("flying", phototest.JPEG(9, 9, 1)).wants(t, http.StatusUnprocessableEntity, "front, side or back")
	own.sendPhoto("back", make([]byte, 13<<20)).wants(t, http.StatusRequestEntityTooLarge)

	archive, err := w.app.Export(t.Context(), "mara")
	if err != nil || len(archive.Photos) != 1 || len(archive.Photos[0].JPEG) == 0 {
		t.Fatalf("the export has %d photos (%v)", len(archive.Photos), err)
	}
	own.post("/photos/remove", "date", w.today.String(), "pose", "front").wants(t, http.StatusOK, "gone for good")
	own.get(picture).wants(t, http.StatusNotFound)
	if err := w.app.RemoveAthlete(t.Context(), "mara"); err != nil {
		t.Fatal(err)
	}
	if err := w.app.Restore(t.Context(), archive, app.Source{Name: "archive"}); err != nil {
		t.Fatal(err)
	}
	coach.get("/athletes/mara"+picture).wants(t, http.StatusOK)
}

// Every page of an athlete's own is closed to everybody else, and no page of the
// coach's, nor any of another athlete, is open to an athlete.
func TestWhoseOwn(t *testing.T) {
	w, owner, own := maras(t)
	w.role(owner, access.Assistant, "mara")
	own.sendPhoto("front", phototest.JPEG(40, 50, 1))
	today := w.today.String()
	ownPages := []string{"/day", "/day/" + today, "/day/" + today + "/gym", "/check-in", "/progress", "/photos", "/photos/" + today + "/front"}
	assistant, err := w.accounts.SignIn(t.Context(), "assistant-account", password, "127.0.0.1:1")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range ownPages {
		own.get(path).wants(t, http.StatusOK)
		owner.get(path).wants(t, http.StatusForbidden, "an athlete’s own")
		w.with(assistant).get(path).wants(t, http.StatusForbidden)
		if a := w.browser().get(path); !strings.HasPrefix(a.path, "/sign-in") {
			t.Errorf("nobody gets %s of %s", a.path, path)
		}
	}
	for _, path := range []string{"/day/" + today, "/day/" + today + "/steps", "/day/" + today + "/gym", "/day/" + today + "/set", "/day/" + today + "/session", "/effort", "/check-in", "/photos", "/photos/remove"} {
		owner.post(path).wants(t, http.StatusForbidden)
	}
	for _, id := range []string{"mara", "orla", "nobody"} {
		for _, path := range []string{"", "/check-ins", "/photos", "/photos/" + today + "/front", "/invitation", "/review", "/season", "/profile", "/export", "/report"} {
			a := own.get("/athletes/" + id + path)
			if want := map[bool]int{true: http.StatusForbidden, false: http.StatusNotFound}[id == "mara"]; a.code != want {
				t.Errorf("an athlete gets %d of %s of %s, not %d", a.code, path, id, want)
			}
		}
	}
	for _, path := range []string{"/day-worker.js", "/manifest.webmanifest", "/icon/192.png", "/icon/512.png", "/icon/180.png"} {
		w.browser().get(path).wants(t, http.StatusOK)
	}
	w.browser().get("/icon/64.png").wants(t, http.StatusNotFound)
}
