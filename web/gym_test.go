package web_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"glidepath/account"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// planned is a desk where Mara has a session due each day: a press of two sets that
// was done the week before, a pull that never was, and a squat.
func planned(t *testing.T, today civil.Date) (w *world, owner, own *browser) {
	t.Helper()
	w, owner, own = maras(t)
	w.today = today
	var sessions []athlete.PlannedSession
	for d := range 7 {
		sessions = append(sessions, athlete.PlannedSession{Name: "Upper A", Day: new(athlete.Weekday(d)), Exercises: []athlete.PlannedExercise{
			{Exercise: "bench press", Sets: 2, RepsLow: 6, RepsHigh: 8, RIR: new(2.0), RestSeconds: 150},
			{Exercise: "pull-up", Sets: 2, RepsLow: 6, RepsHigh: 10, Notes: "Slowly down."},
			{Exercise: "back squat", Sets: 1, RepsLow: 5, RepsHigh: 5, RestSeconds: 180},
		}})
	}
	p := athlete.Programme{From: today.AddDays(-7), Name: "Spring", Weeks: []athlete.ProgrammeWeek{{Deload: true, Sessions: sessions}, {Sessions: sessions}}}
	if _, err := w.app.AddProgramme(t.Context(), "mara", p, "Wren"); err != nil {
		t.Fatal(err)
	}
	before := today.AddDays(-7)
	w.sets(athlete.Set{Date: before, Exercise: "Bench Press", WeightKg: 60, Reps: 8, RIR: new(2.0), Order: 1},
		athlete.Set{Date: before, Exercise: "Bench Press", WeightKg: 60, Reps: 7, Order: 2},
		athlete.Set{Date: before, Exercise: "back squat", WeightKg: 82.5, Reps: 5, RIR: new(1.0), Order: 3})
	if _, err := w.app.Record(t.Context(), "mara", app.Batch{Sessions: []athlete.Session{{Date: before, Minutes: 65, RPE: 7}}}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	return w, owner, own
}

// sets records some of Mara's.
func (w *world) sets(sets ...athlete.Set) {
	w.t.Helper()
	if _, err := w.app.Record(w.t.Context(), "mara", app.Batch{Sets: sets}, app.Source{Name: "form", Who: "Wren"}); err != nil {
		w.t.Fatal(err)
	}
}

func (w *world) marasSets(on civil.Date) []athlete.Set {
	w.t.Helper()
	all, err := w.app.Sets(w.t.Context(), "mara", on, on)
	if err != nil {
		w.t.Fatal(err)
	}
	return all
}

// The page says what is due and what was done last, in the athlete's own words.
func TestGymPage(t *testing.T) {
	w, _, own := planned(t, civil.FromTime(clock))
	at := "/day/" + w.today.String()
	own.get("/day").wants(t, http.StatusOK, at+"/gym", "Today’s session: Upper A")
	own.get(at+"/gym").wants(t, http.StatusOK, "3\u00a0exercises, 5\u00a0sets; week\u00a02 of Spring.",
		"2\u00a0sets of 6 to 8, leaving 2 in reserve; rest 2:30\u00a0min.", "23 Feb: 60\u00a0kg\u00a0×\u00a08\u00a0(2\u00a0RIR), 60\u00a0kg\u00a0×\u00a07.",
		`placeholder="60"`, `placeholder="82.5"`, "Slowly down.", "4 somewhat hard", `placeholder="65"`)
	own.get("/day/"+w.today.AddDays(-6).String()+"/gym").wants(t, http.StatusOK, "deload week: lighter on purpose")

	own.post("/effort", "effort", "rpe", "gym", w.today.String())
	own.post("/units", "units", "imperial", "gym", w.today.String()).wants(t, http.StatusOK, "Today’s session", // back where it was chosen
		"at RPE\u00a08;", "Feb 23: 132.5\u00a0lb\u00a0×\u00a08\u00a0@\u00a08", `placeholder="182"`, `<option value="9.5">`)
	own.post("/effort", "effort", "stars").wants(t, http.StatusUnprocessableEntity, "choose rir or rpe")

	page := own.get(at + "/gym?add=" + "%3Cscript%3Ex&add=" + strings.Repeat("x", 81))
	page.wants(t, http.StatusOK, "&lt;script&gt;x")
	if strings.Contains(page.body, "<script>x") || strings.Contains(page.body, strings.Repeat("x", 81)) {
		t.Error("a name of the address is taken as it is")
	}
	own.get("/day/2031-01-01/gym").wants(t, http.StatusUnprocessableEntity, "still to come")
	own.get("/day/2020-01-01/gym").wants(t, http.StatusUnprocessableEntity, "too long ago")
	own.get("/day/soon/gym").wants(t, http.StatusNotFound)
}

// Where a region hurts or is noted as hurt, what loads it says so.
func TestGymDefersToClinicians(t *testing.T) {
	w, _, own := planned(t, civil.FromTime(clock))
	at := "/day/" + w.today.String()
	squat := athlete.Exercise{
		Name: "back squat", Pattern: athlete.Squat, Equipment: athlete.Barbell, Stability: athlete.FreeStanding,
		Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}}, Loads: []athlete.Region{athlete.Knee},
	}
	if err := w.app.PutExercise(t.Context(), squat); err != nil {
		t.Fatal(err)
	}
	const care, hidden = "Do not train through this pain", `pain-care" role="note" hidden`
	own.get(at+"/gym").wants(t, http.StatusOK, care, hidden)
	mark := ownerMark(t, own)
	own.post(at+"/pain", "value", "5", "owner", mark).wants(t, http.StatusOK)
	own.post(at+"/pain_where", "value", "knee", "owner", mark).wants(t, http.StatusOK)
	for _, path := range []string{at, at + "/gym"} {
		page := own.get(path).wants(t, http.StatusOK, care, "physiotherapist or a doctor", "Your coach sees")
		if strings.Contains(page.body, hidden) {
			t.Errorf("%s: the caution is hidden", path)
		}
	}
	own.get(at+"/gym").wants(t, http.StatusOK, "It loads the knee, where you note pain")
	own.post(at+"/pain_where", "value", "soul", "base", "knee", "owner", mark).wants(t, http.StatusUnprocessableEntity)
	if err := w.app.AddInjury(t.Context(), "mara", athlete.Injury{From: w.today, Where: athlete.Knee}); err != nil {
		t.Fatal(err)
	}
	own.get(at+"/gym").wants(t, http.StatusOK, "The knee is noted as hurt", "ask a clinician first", "A clinician has agreed")
}

// One set at a time: kept in kg and repetitions in reserve, the same sent again is
// nothing, what somebody else changed meanwhile is not written over.
func TestSetBySet(t *testing.T) {
	w, _, own := planned(t, civil.FromTime(clock))
	at, mark := "/day/"+w.today.String(), ownerMark(t, own)
	send := func(exercise, order, value string, base ...string) answer {
		pairs := []string{"exercise", exercise, "order", order, "value", value, "owner", mark, "units", "metric"}
		for _, b := range base {
			pairs = append(pairs, "base", b)
		}
		return own.post(at+"/set", pairs...)
	}
	send("bench press", "1", "60 kg × 8", "").wants(t, http.StatusOK, `"value":"60 kg × 8"`)
	send("bench press", "1", "60 kg × 8", "").wants(t, http.StatusOK, `"value":"60 kg × 8"`) // the answer was lost on the way
	send("bench press", "1", "60 kg × 8, 2 RIR", "", "60 kg × 8").wants(t, http.StatusOK, "2 RIR")
	send("bench press", "2", "62,5 kg × 7, RPE 9, left; slow", "").wants(t, http.StatusOK, `"62.5 kg × 7, 1 RIR, left; slow"`)
	want := []athlete.Set{
		{Date: w.today, Exercise: "bench press", WeightKg: 60, Reps: 8, RIR: new(2.0), Order: 1},
		{Date: w.today, Exercise: "bench press", WeightKg: 62.5, Reps: 7, RIR: new(1.0), Side: "left", Order: 2, Notes: "slow"},
	}
	for i, s := range w.marasSets(w.today) {
		if got := want[i]; s.WeightKg != got.WeightKg || s.Reps != got.Reps || *s.RIR != *got.RIR || s.Side != got.Side || s.Notes != got.Notes {
			t.Errorf("kept %+v, want %+v", s, got)
		}
	}
	if n := w.marasCorrections(); n != 1 { // the repetitions in reserve
		t.Errorf("%d corrections", n)
	}
	w.sets(athlete.Set{Date: w.today, Exercise: "bench press", WeightKg: 61, Reps: 8, RIR: new(2.0), Order: 1})
	send("bench press", "1", "60 kg × 9", "60 kg × 8, 2 RIR").wants(t, http.StatusConflict, `"value":"61 kg × 8, 2 RIR"`, `"clash":true`)
	send("bench press", "1", "", "60 kg × 8, 2 RIR").wants(t, http.StatusConflict)
	send("bench press", "1", "", "61 kg × 8, 2 RIR").wants(t, http.StatusOK, `"value":""`)
	send("bench press", "1", "", "61 kg × 8, 2 RIR").wants(t, http.StatusOK, `"value":""`)
	if n := len(w.marasSets(w.today)); n != 1 {
		t.Errorf("%d sets are left", n)
	}
	for _, bad := range []string{"601 kg × 8", "NaN kg × 8", "-5 kg × 8", "60 kg × 0", "60 kg × 101", "60 kg × 8, 11 RIR", "60 kg × 8, RPE 11", "2000 lb × 8", "heavy"} {
		send("bench press", "3", bad, "").wants(t, http.StatusUnprocessableEntity, `"wrong"`)
	}
	send("", "3", "60 kg × 8", "").wants(t, http.StatusUnprocessableEntity, "has a name")
	send("bench press", "many", "60 kg × 8", "").wants(t, http.StatusUnprocessableEntity, "place of a set")
	own.post(at+"/set", "exercise", "row", "order", "1", "value", "60 kg × 8", "owner", "somebody").wants(t, http.StatusForbidden)
	own.post("/day/2031-01-01/set", "exercise", "row", "order", "1", "value", "60 kg × 8", "owner", mark).wants(t, http.StatusUnprocessableEntity, "still to come")
	own.post("/day/2020-01-01/set", "exercise", "row", "order", "1", "value", "60 kg × 8", "owner", mark).wants(t, http.StatusUnprocessableEntity, "too long ago")
	if all, err := w.app.Sets(t.Context(), "orla", 0, w.today); err != nil || len(all) != 0 {
		t.Errorf("another athlete has %+v, %v", all, err)
	}

	session := func(value, base string) answer {
		return own.post(at+"/session", "value", value, "base", base, "owner", mark)
	}
	session("70 min, RPE 8", "").wants(t, http.StatusOK, `"70 min, RPE 8"`)
	session("75 min, RPE 8", "").wants(t, http.StatusConflict, `"70 min, RPE 8"`)
	session("75 min, RPE 11", "70 min, RPE 8").wants(t, http.StatusUnprocessableEntity, "0 to 10")
	own.get(at+"/gym").wants(t, http.StatusOK, `value="70"`, `<option value="8" selected>8</option>`, `data-base="62.5 kg × 7, 1 RIR, left; slow"`)
	own.get("/day").wants(t, http.StatusOK, "1\u00a0set logged")
}

// What was kept of a day is one line of the record, and what was refused another.
func TestSetsInTheRecord(t *testing.T) {
	w, owner, own := planned(t, civil.FromTime(clock))
	at, mark := "/day/"+w.today.String(), ownerMark(t, own)
	for i, value := range []string{"60 kg × 8", "60 kg × 7", "heavy"} {
		own.post(at+"/set", "exercise", "row", "order", fmt.Sprint(i+1), "value", value, "owner", mark)
	}
	entries, err := w.accounts.Entries(t.Context(), owner.who, account.Query{AthleteID: "mara"})
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]int{}
	for _, e := range entries {
		said[e.What]++
	}
	day := ", " + w.today.String()
	if said["logged a set"+day] != 1 || said["tried in vain: logged a set"+day] != 1 {
		t.Errorf("the record has %v", said)
	}
}

// formOf reads the session's form as a browser without script sends it.
func (a answer) formOf(t testing.TB) (names, values []string) {
	t.Helper()
	root, err := html.ParseWithOptions(strings.NewReader(a.body), html.ParseOptionEnableScripting(false))
	if err != nil {
		t.Fatal(err)
	}
	attr := func(n *html.Node, name string) (string, bool) {
		for _, one := range n.Attr {
			if one.Key == name {
				return one.Val, true
			}
		}
		return "", false
	}
	var walk func(n *html.Node, inside bool)
	walk = func(n *html.Node, inside bool) {
		if class, _ := attr(n, "class"); n.Data == "form" {
			inside = class == "gym-form"
		}
		_, elsewhere := attr(n, "form")
		if name, ok := attr(n, "name"); ok && inside && !elsewhere && n.Data != "button" {
			value, _ := attr(n, "value")
			if n.Data == "select" {
				for o := range n.Descendants() {
					if _, is := attr(o, "selected"); is {
						value, _ = attr(o, "value")
					}
				}
			}
			names, values = append(names, name), append(values, value)
		}
		if n.Data != "template" {
			for c := n.FirstChild; c != nil; c = c.NextSibling {
				walk(c, inside)
			}
		}
	}
	walk(root, false)
	return names, values
}

// sendForm sends the form of the page with some of its inputs typed in: name, place
// among those of the name, value.
func (b *browser) sendForm(path string, typed ...any) answer {
	b.w.t.Helper()
	names, values := b.get(path).formOf(b.w.t)
	var pairs []string
	for i := 0; i+2 < len(typed); i += 3 {
		seen := -1
		for k, name := range names {
			if name == typed[i] {
				if seen++; seen == typed[i+1] {
					values[k] = typed[i+2].(string)
				}
			}
		}
		if seen < 0 { // a button
			pairs = append(pairs, typed[i].(string), typed[i+2].(string))
		}
	}
	for k, name := range names {
		pairs = append(pairs, name, values[k])
	}
	return b.post(path, pairs...)
}

// The whole session without script: all or nothing, what was typed is shown again,
// and one press takes what is offered.
func TestGymWithoutScript(t *testing.T) {
	w, _, own := planned(t, civil.FromTime(clock))
	path := "/day/" + w.today.String() + "/gym"
	// Rows: bench press 0 to 2, pull-up 3 to 5, squat 6 and 7, and three to spare; the
	// last of each exercise is there without script alone.
	own.sendForm(path, "take", 0, "0").wants(t, http.StatusOK, "Kept.")
	own.sendForm(path, "take", 0, "1", "weight", 1, "62.5", "effort", 1, "1").wants(t, http.StatusOK, "Kept.")
	own.sendForm(path, "weight", 3, "0", "reps", 3, "many", "weight", 6, "85", "reps", 6, "5").
		wants(t, http.StatusUnprocessableEntity, "Set 1 of pull-up", "number of repetitions", `value="many"`, `value="85"`)
	if n := len(w.marasSets(w.today)); n != 2 {
		t.Errorf("%d sets: half of a form was kept", n)
	}
	own.sendForm(path, "weight", 6, "85").wants(t, http.StatusUnprocessableEntity, "Set 1 of back squat", "has no repetitions")
	// Another exercise in the squat's place, one more press, one that was not planned.
	own.sendForm(path, "exercise", 2, "leg press", "weight", 6, "120", "reps", 6, "10", "weight", 2, "50", "reps", 2, "12",
		"exercise", 3, "plank drag", "weight", 8, "0", "reps", 8, "20", "note", 8, "on the rug",
		"minutes", 0, "70", "rpe", 0, "8", "pain", 0, "2", "pain_where", 0, "wrist").wants(t, http.StatusOK, "Kept.", "plank drag", "on the rug", `value="70"`)
	var got []string
	for _, s := range w.marasSets(w.today) {
		got = append(got, s.Exercise)
	}
	if want := "bench press, bench press, bench press, leg press, plank drag"; strings.Join(got, ", ") != want {
		t.Errorf("kept %s, want %s", got, want)
	}
	if s := w.marasSets(w.today); s[0].WeightKg != 60 || s[0].Reps != 8 || s[0].RIR != nil || s[1].WeightKg != 62.5 || s[1].Reps != 7 || *s[1].RIR != 1 {
		t.Errorf("the first are %+v", s[:2])
	}
	if d := w.marasDay(w.today); *d.Pain != 2 || d.PainWhere != athlete.Wrist {
		t.Errorf("the day is %+v", d)
	}
	own.sendForm(path, "remove", 0, "0").wants(t, http.StatusOK, "Kept.")
	if s := w.marasSets(w.today); len(s) != 4 || s[0].WeightKg != 62.5 {
		t.Errorf("left are %+v", s)
	}
	if n := w.marasCorrections(); n != 1 {
		t.Errorf("%d corrections: more than the set that was taken out", n)
	}
	// Somebody changes a set between the page and its form.
	names, values := own.get(path).formOf(t)
	w.sets(athlete.Set{Date: w.today, Exercise: "bench press", WeightKg: 65, Reps: 7, RIR: new(1.0), Order: 2})
	var pairs []string
	for i, name := range names {
		if name == "weight" && values[i] == "62.5" {
			values[i] = "64"
		}
		pairs = append(pairs, name, values[i])
	}
	own.post(path, pairs...).wants(t, http.StatusConflict, "“65 kg × 7, 1 RIR” is kept since", `value="64"`)
	own.post(path, "weight", "60", "reps", "8").wants(t, http.StatusUnprocessableEntity, "could not be read")
	own.post("/day/2031-01-01/gym").wants(t, http.StatusUnprocessableEntity, "still to come")
}

// Without a programme what was done last is offered, a day at a time.
func TestFreeSession(t *testing.T) {
	w, _, own := maras(t)
	path := "/day/" + w.today.String() + "/gym"
	own.get(path).wants(t, http.StatusOK, "No programme is written for you yet")
	own.get("/day").wants(t, http.StatusOK, "Log a session")
	tuesday := w.today.AddDays(-6)
	w.sets(athlete.Set{Date: tuesday.AddDays(-3), Exercise: "leg press", WeightKg: 120, Reps: 10, Order: 1},
		athlete.Set{Date: tuesday, Exercise: "row", WeightKg: 50, Reps: 12, Side: "left", Order: 1},
		athlete.Set{Date: tuesday, Exercise: "row", WeightKg: 50, Reps: 11, Side: "right", Order: 2},
		athlete.Set{Date: tuesday, Exercise: "lat pull-down", WeightKg: 40, Reps: 12, Order: 3})
	link := "?add=row&amp;add=lat&#43;pull-down"
	own.get(path).wants(t, http.StatusOK, "Tuesday 24 February", "row, lat pull-down", link, "Saturday 21 February")
	own.get(path+"?add=row&add=lat+pull-down").wants(t, http.StatusOK, `data-exercise="row"`, `<option value="right" selected>`, `placeholder="40"`)
	own.get(path+"?add=Pull-Down,+Lat").wants(t, http.StatusOK, `data-exercise="Pull-Down, Lat"`, `placeholder="40"`)
}
