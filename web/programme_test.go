package web_test

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"mime/multipart"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"glidepath/access"
	"glidepath/athlete"
	"glidepath/civil"
)

// fields are the inputs of a form as a browser would send them back, with what is
// typed over them.
func (a answer) fields(t *testing.T, typed ...string) []string {
	t.Helper()
	values := url.Values{}
	for _, m := range regexp.MustCompile(`<input[^>]*>`).FindAllString(a.body, -1) {
		name, value := attribute(m, "name"), attribute(m, "value")
		if name == "" || strings.Contains(m, `type="checkbox"`) && !strings.Contains(m, " checked") {
			continue
		}
		values.Add(name, value)
	}
	for _, m := range regexp.MustCompile(`(?s)<select[^>]* name="([^"]*)"[^>]*>(.*?)</select>`).FindAllStringSubmatch(a.body, -1) {
		if chosen := regexp.MustCompile(`<option value="([^"]*)" selected`).FindStringSubmatch(m[2]); chosen != nil {
			values.Set(m[1], chosen[1])
		}
	}
	for i := 0; i+1 < len(typed); i += 2 {
		values.Set(typed[i], typed[i+1])
	}
	var out []string
	for name, all := range values {
		for _, v := range all {
			out = append(out, name, v)
		}
	}
	return out
}

func attribute(tag, name string) string {
	m := regexp.MustCompile(` ` + name + `="([^"]*)"`).FindStringSubmatch(tag)
	if m == nil {
		return ""
	}
	return strings.NewReplacer("&#34;", `"`, "&#39;", "'", "&amp;", "&", "&lt;", "<", "&gt;", ">", "&#43;", "+").Replace(m[1])
}

func row(id, exercise, sets, low, high, rir, rest string) []string {
	return []string{id + "-exercise", exercise, id + "-sets", sets, id + "-low", low, id + "-high", high, id + "-rir", rir, id + "-rest", rest}
}

func (w *world) programmes(id string) []athlete.Programme {
	w.t.Helper()
	all, err := w.app.Programmes(w.t.Context(), id, civil.Of(2030, time.January, 1))
	if err != nil {
		w.t.Fatal(err)
	}
	return all
}

// blank is an athlete without a programme or a log.
func (w *world) blank() (id string) {
	w.t.Helper()
	if err := w.app.AddAthlete(w.t.Context(), mara(), w.today, false); err != nil {
		w.t.Fatal(err)
	}
	return "mara"
}

// A coach writes a programme by pressing buttons alone, without a script.
func TestProgrammeIsWritten(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := w.blank()
	base := "/athletes/" + id + "/programme"
	write := base + "/write"
	b.get(base).wants(t, http.StatusOK, "Nothing is written for the gym yet")
	page := b.get(write).wants(t, http.StatusOK, "Session 1")
	do := func(do string, typed ...string) {
		t.Helper()
		page = b.post(write, page.fields(t, append(typed, "do", do)...)...).wants(t, http.StatusOK)
	}
	do("exercise-add 1", slices.Concat(
		[]string{"name", "Upper, lower", "phase", "off-season", "s1-name", "Lower", "s1-day", "monday", "s1-notes", "warm up"},
		row("s1-e1", "back squat", "4", "6", "8", "2", "150"), row("s1-e2", "leg press", "3", "10", "", "1.5", ""),
		row("s1-e3", "leg curl", "3", "10", "12", "", "90"),
	)...)
	page.wants(t, http.StatusOK, `name="s1-e5-sets" value=""`) // under a blank one
	do("exercise-up 1.3")
	do("session-add")
	do("session-copy 1")
	do("session-remove 3")
	page.wants(t, http.StatusOK, "“Session 2” is taken out", "Put it back")
	do("week-deload", row("s2-e1", "back squat", "5", "5", "5", "", "")...)
	page.wants(t, http.StatusOK, "Week 2, deload")
	kept := b.post(base, page.fields(t)...).wants(t, http.StatusOK, "Kept as a new version")
	if kept.path != base+"?done=programme" {
		t.Errorf("it leads to %s", kept.path)
	}
	squat := athlete.PlannedExercise{Exercise: "back squat", Sets: 4, RepsLow: 6, RepsHigh: 8, RIR: new(2.0), RestSeconds: 150}
	press := athlete.PlannedExercise{Exercise: "leg press", Sets: 3, RepsLow: 10, RepsHigh: 10, RIR: new(1.5)}
	curl := athlete.PlannedExercise{Exercise: "leg curl", Sets: 3, RepsLow: 10, RepsHigh: 12, RestSeconds: 90}
	fives := athlete.PlannedExercise{Exercise: "back squat", Sets: 5, RepsLow: 5, RepsHigh: 5}
	monday := athlete.Weekday(time.Monday)
	full := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{
		{Name: "Lower", Day: &monday, Notes: "warm up", Exercises: []athlete.PlannedExercise{squat, curl, press}},
		{Name: "Lower", Notes: "warm up", Exercises: []athlete.PlannedExercise{fives, curl, press}},
	}}
	want := []athlete.Programme{{
		Version: 1, From: civil.Of(2026, time.March, 2), Name: "Upper, lower", Phase: athlete.OffSeason, Author: "Wren Owner",
		Weeks: []athlete.ProgrammeWeek{full, full.AsDeload()},
	}}
	if diff := cmp.Diff(want, w.programmes(id)); diff != "" {
		t.Errorf("it is kept otherwise than written (-want +got):\n%s", diff)
	}
	b.get(base).wants(t, http.StatusOK, "is in force: week 1 of 2, 2 sessions and 21 sets", "4 × 6 to 8", "Week 2, deload")
}

// What was taken away can be put back, with what was typed since the page came.
func TestProgrammeUndo(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := w.blank()
	write := "/athletes/" + id + "/programme/write"
	page := b.get(write)
	page = b.post(write, page.fields(t, append(row("s1-e2", "leg press", "3", "10", "12", "", ""), "do", "exercise-remove 1.2")...)...)
	page.wants(t, http.StatusOK, "Leg press is taken out")
	if strings.Contains(page.body, `value="leg press" inputmode`) {
		t.Error("it is still there")
	}
	page = b.post(write, page.fields(t, "do", "undo")...).wants(t, http.StatusOK)
	if !strings.Contains(page.body, `name="s1-e2-exercise" value="leg press"`) {
		t.Error("it is not put back")
	}
}

// A slip is told beside its input, in the week in which it is, and nothing of what
// was typed is lost; nothing is kept.
func TestProgrammeSlips(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := w.blank()
	base := "/athletes/" + id + "/programme"
	page := b.get(base + "/write")
	page = b.post(base+"/write", page.fields(t, append(row("s1-e1", "back squat", "many", "6", "8", "2", ""), "do", "week-add")...)...)
	page.wants(t, http.StatusOK, "Week 2")
	page = b.post(base, page.fields(t, append(row("s1-e1", "bench press", "3", "12", "8", "", ""), "from", "soon")...)...)
	page.wants(t, http.StatusUnprocessableEntity, "cannot be read yet", "is not a date", "Week 1 (to mend)", "not in order within 1 to 50", `value="bench press"`)
	page = b.post(base+"/write", page.fields(t, "do", "week-open 1")...).wants(t, http.StatusOK, `value="many"`)
	b.post(base, page.fields(t, "from", "2026-03-02", "name", "")...).wants(t, http.StatusUnprocessableEntity, "a whole number", "needs a name")
	if got := w.programmes(id); len(got) != 0 {
		t.Errorf("%d versions are kept", len(got))
	}
}

// A version is written from another, which stays; the one in force goes on with the
// week that is due.
func TestProgrammeVersions(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := w.blank()
	base := "/athletes/" + id + "/programme"
	session := func(name string) athlete.ProgrammeWeek {
		return athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{{Name: name, Exercises: []athlete.PlannedExercise{{Exercise: "back squat", Sets: 3, RepsLow: 5, RepsHigh: 5}}}}}
	}
	first := athlete.Programme{Name: "First", From: civil.Of(2026, time.February, 2), Weeks: []athlete.ProgrammeWeek{session("A"), session("B"), session("C")}}
	if _, err := w.app.AddProgramme(t.Context(), id, first, "Wren"); err != nil {
		t.Fatal(err)
	}
	// 2 March is four weeks on: the second week of the round of three.
	page := b.get(base+"/write").wants(t, http.StatusOK, "Week 1 here is week 2 of version 1")
	b.post(base, page.fields(t, "name", "Second", "from", "2026-03-09")...).wants(t, http.StatusOK, "Version 2, Second", "To come", "Version 1, First", "In force")
	all := w.programmes(id)
	if len(all) != 2 || all[0].Weeks[0].Sessions[0].Name != "A" || all[1].Weeks[0].Sessions[0].Name != "B" {
		t.Fatalf("the versions are %+v", all)
	}
	b.get(base+"?version=2").wants(t, http.StatusOK, "is version 2 of 2, from 9 Mar 2026")
	b.get(base+"?version=9").wants(t, http.StatusNotFound, "no version 9")
	b.get(base+"?version=x").wants(t, http.StatusUnprocessableEntity)
}

// What comes back by way of the browser is not believed.
func TestProgrammeHostile(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := w.blank()
	base := "/athletes/" + id + "/programme"
	packed := func(text string) string {
		var out bytes.Buffer
		z, err := flate.NewWriter(&out, flate.BestCompression)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = z.Write([]byte(text))
		_ = z.Close()
		return base64.RawURLEncoding.EncodeToString(out.Bytes())
	}
	for name, draft := range map[string]string{
		"none": "", "no code": "%%%", "not packed": base64.RawURLEncoding.EncodeToString([]byte("hello")), "no weeks": packed(`{"w":[]}`), "no object": packed(`[1]`),
		"many weeks":    packed(`{"w":[` + strings.Repeat(`{},`, 26) + `{}]}`),
		"many sessions": packed(`{"w":[{"s":[` + strings.Repeat(`{},`, 14) + `{}]}]}`),
		"many rows":     packed(`{"w":[{"s":[{"r":[` + strings.Repeat(`[],`, 20) + `[]]}]}]}`),
		"a bomb":        packed(`{"n":"` + strings.Repeat("a", 40<<20) + `","w":[{}]}`),
	} {
		for _, to := range []string{base, base + "/write"} {
			if got := b.post(to, "draft", draft, "do", "show"); got.code != http.StatusUnprocessableEntity {
				t.Errorf("%s: %s answered %d", name, to, got.code)
			}
		}
	}
	for _, do := range []string{"", "week-open 99", "week-open -1", "week-burn", "session-up 1", "session-remove 7", "session-burn 1", "exercise-up 1", "exercise-up 9.9", "exercise-down 1.4", "exercise-burn 1.1", "drop table", "undo"} {
		page := b.get(base + "/write")
		if got := b.post(base+"/write", page.fields(t, "do", do, "undo", "x")...); got.code != http.StatusUnprocessableEntity && got.code != http.StatusConflict {
			t.Errorf("%q answered %d", do, got.code)
		}
	}
	const script = `"><script>alert(1)</script>`
	page := b.get(base + "/write")
	page = b.post(base+"/write", page.fields(t, append(row("s1-e1", script, script, "1", "1", "", ""), "s1-name", script, "do", "week-copy", "week", "7")...)...).wants(t, http.StatusOK)
	if strings.Contains(page.body, "<script>alert") {
		t.Error("markup came through the form")
	}
	page = b.post(base, page.fields(t, append(row("s1-e1", script, "3", "1", "1", "", ""), "name", script)...)...)
	if strings.Contains(page.body, "<script>alert") {
		t.Error("markup came through the page")
	}
}

// An assistant reads the programme and writes none; a page of the exercises has no
// button that they may not press.
func TestAssistantReadsProgrammes(t *testing.T) {
	w := filled(t)
	b := w.role(w.owner(), access.Assistant, changing)
	page := b.get("/athletes/"+changing+"/programme").wants(t, http.StatusOK)
	if strings.Contains(page.body, "/programme/write") || strings.Contains(page.body, "/programme/text") {
		t.Error("an assistant is offered to write")
	}
	list := b.get("/exercises").wants(t, http.StatusOK, "Bench press")
	if strings.Contains(list.body, "/exercises/edit") || strings.Contains(list.body, "Settle it") {
		t.Error("an assistant is offered to change an exercise")
	}
}

// sendText pastes a programme, or sends it as a file where it has a name.
func (b *browser) sendText(id, name, content string) answer {
	b.w.t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	text := content
	if name != "" {
		text = "what is written does not count"
		part, err := m.CreateFormFile("file", name)
		if err != nil {
			b.w.t.Fatal(err)
		}
		_, _ = part.Write([]byte(content))
	}
	_ = m.WriteField("text", text)
	_ = m.Close()
	r, err := http.NewRequestWithContext(b.w.t.Context(), http.MethodPost, b.w.URL+"/athletes/"+id+"/programme/text", &body)
	if err != nil {
		b.w.t.Fatal(err)
	}
	r.Header.Set("Content-Type", m.FormDataContentType())
	return b.do(r)
}

// A programme that is taken out as text, CSV or a workbook comes back the same.
func TestProgrammeAsAFile(t *testing.T) {
	w := filled(t)
	b := w.owner()
	id := w.blank()
	base := "/athletes/" + id
	b.get(base+"/programme/file").wants(t, http.StatusNotFound, "no programme yet")
	want := split(civil.Of(2026, time.March, 2))
	if _, err := w.app.AddProgramme(t.Context(), id, want, "Wren Owner"); err != nil {
		t.Fatal(err)
	}
	for as, name := range map[string]string{"text": "", "csv": "p.csv", "workbook": "p.xlsx"} {
		out := b.get(base+"/programme/file?as="+as).wants(t, http.StatusOK)
		if as == "text" {
			out.wants(t, http.StatusOK, "programme: Upper and lower", "back squat: 4")
		}
		form := b.sendText(id, name, out.body).wants(t, http.StatusOK, "Nothing is kept until")
		b.post(base+"/programme", form.fields(t, "name", want.Name, "notes", want.Notes)...).wants(t, http.StatusOK, "Kept as a new version")
		all := w.programmes(id)
		got := all[len(all)-1]
		if diff := cmp.Diff(want.Weeks, got.Weeks); diff != "" || got.From != want.From {
			t.Errorf("as %s it comes back from %s otherwise (-want +got):\n%s", as, got.From, diff)
		}
	}
	b.get(base+"/programme/file?as=paper").wants(t, http.StatusUnprocessableEntity)
	b.get(base+"/programme/file?version=77").wants(t, http.StatusNotFound)
}

// A slip in the text is told with its line and character, and the text stays.
func TestProgrammeTextSlips(t *testing.T) {
	w := filled(t)
	b := w.owner()
	w.blank()
	b.get("/athletes/mara/programme/text").wants(t, http.StatusOK, "How it is written")
	b.sendText("mara", "", "monday: Lower\n  back squat 3 by many\n").wants(t, http.StatusUnprocessableEntity, "line 2, character", "3 by many")
	b.sendText("mara", "", "  ").wants(t, http.StatusUnprocessableEntity, "nothing to read")
	b.sendText("mara", "bad.xlsx", "PK\x03\x04 no workbook").wants(t, http.StatusUnprocessableEntity)
	b.sendText("mara", "p.csv", "Exercise,Sets\nback squat,3\n").wants(t, http.StatusUnprocessableEntity, "repetitions")
	got := b.sendText("mara", "", `monday: "<script>alert(1)</script>"`+"\n  \"<script>x\": 3x5\n")
	if strings.Contains(got.body, "<script>alert") || strings.Contains(got.body, "<script>x") {
		t.Error("markup came through")
	}
	b.sendText("mara", "", "monday: Lower\n  back squat: 3x5\n").wants(t, http.StatusOK, `value="2026-03-02"`, `value="Programme"`, `value="back squat"`)
	if n := len(w.programmes("mara")); n != 0 {
		t.Errorf("%d versions are kept", n)
	}
}
