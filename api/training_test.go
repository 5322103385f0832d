package api_test

import (
	"net/http"
	"strconv"
	"strings"
	"testing"

	"glidepath/access"
	"glidepath/api"
	"glidepath/app"
	"glidepath/athlete"
	"glidepath/cardio"
)

// A programme that a coach writes is what the athlete meets at the gym; a copy of it
// begins anew or goes on, under the name of who made it.
func TestAProgrammeReachesTheGym(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own
	before := ask[[]athlete.Programme](d, 200, request{method: "GET", path: at + "/programmes", token: d.tokens[access.Athlete]})
	today := athlete.Weekday(monday.Weekday())
	week := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{{Name: "Press", Day: &today, Exercises: []athlete.PlannedExercise{
		{Exercise: "strict press", Sets: 4, RepsLow: 6, RepsHigh: 8, RIR: new(2.0), RestSeconds: 150},
	}}}}
	p := ask[athlete.Programme](d, 201, request{
		method: "POST", path: at + "/programmes", token: d.tokens[access.Coach],
		body: api.ProgrammeWritten{From: monday.AddDays(-7), Name: "Two weeks", Phase: athlete.Prep, Weeks: []athlete.ProgrammeWeek{week, week.AsDeload()}},
	})
	if p.Version != len(before)+1 || p.Author != "Wren" {
		t.Errorf("version %d by %q after %d", p.Version, p.Author, len(before))
	}
	ask[athlete.ExerciseName](d, 200, request{
		method: "PUT", path: "/exercise-names", token: d.tokens[access.Coach], body: api.NameSettled{Typed: "strict press", Exercise: "overhead press"},
	})
	g := ask[app.GymDay](d, 200, request{method: "GET", path: at + "/gym/2026-03-02", token: d.tokens[access.Athlete]})
	if g.Programme != p.Version || g.Week != 2 || !g.Deload || len(g.Sessions) != 1 {
		t.Fatalf("the day is %+v", g)
	}
	if e := g.Sessions[0].Exercises[0]; e.Sets != 2 || len(e.Last) == 0 || e.Last[0].Exercise != "overhead press" {
		t.Errorf("due is %+v", e)
	}
	copies := at + "/programmes/1/copies"
	anew := ask[athlete.Programme](d, 201, request{
		method: "POST", path: at + "/programmes/" + strconv.Itoa(p.Version) + "/copies", token: d.tokens[access.Coach],
		body: api.ProgrammeCopied{From: monday, Name: "Again", Phase: "any"},
	})
	if anew.Version != p.Version+1 || anew.Name != "Again" || anew.Phase != "" || anew.Weeks[0].Deload || !anew.Weeks[1].Deload {
		t.Errorf("the copy is %+v", anew)
	}
	on := ask[athlete.Programme](d, 201, request{
		method: "POST", path: at + "/programmes/" + strconv.Itoa(p.Version) + "/copies", token: d.tokens[access.Coach],
		body: api.ProgrammeCopied{From: monday, GoOn: true},
	})
	if on.Phase != athlete.Prep || !on.Weeks[0].Deload || on.Weeks[1].Deload {
		t.Errorf("going on it is %+v", on)
	}
	ask[api.Problem](d, 404, request{method: "POST", path: at + "/programmes/99/copies", body: api.ProgrammeCopied{From: monday}})
	ask[api.Problem](d, 422, request{method: "POST", path: copies, body: api.ProgrammeCopied{From: monday.AddDays(-900), GoOn: true}})
	ask[api.Problem](d, 422, request{method: "POST", path: copies, body: map[string]any{"from": ""}})
	comes := ask[app.PlannedWeek](d, 200, request{method: "POST", path: at + "/programmes/reckon", body: p.Weeks[0]})
	if len(comes.Muscles) != len(athlete.Muscles()) {
		t.Errorf("a week comes to %+v", comes)
	}
	ask[api.Problem](d, 422, request{method: "POST", path: at + "/programmes/reckon", body: `{"sessions":[{"name":"A","exercises":[{"exercise":"squat","sets":999,"reps_low":1,"reps_high":2}]}]}`})
	if later := ask[[]athlete.Programme](d, 200, request{method: "GET", path: at + "/programmes?from=2026-03-02"}); len(later) != 2 {
		t.Errorf("%d programmes from the Monday on", len(later))
	}
}

// An athlete takes a set of their own out, and it is kept as a correction; once it is
// gone it is not there.
func TestDropASet(t *testing.T) {
	d := newDesk(t)
	lifted(d)
	r := request{method: "DELETE", path: "/athletes/" + own + "/sets/2026-03-01/1?exercise=squat", token: d.tokens[access.Athlete]}
	if m := ask[app.Merge](d, 200, r); m.Corrected != 1 {
		t.Errorf("dropped %+v", m)
	}
	ask[api.Problem](d, 404, r)
	fixed := ask[[]app.Correction](d, 200, request{method: "GET", path: "/athletes/" + own + "/corrections"})
	if last := fixed[len(fixed)-1]; last.Who != "Aroha" || last.New != "" || !strings.HasPrefix(last.Field, "squat") {
		t.Errorf("the last correction is %+v", last)
	}
	r.path = "/athletes/" + own + "/sets/2026-03-01/1"
	ask[api.Problem](d, 422, r)
}

// An athlete may note what hurts; that it is over takes a clinician and the coach.
func TestInjuries(t *testing.T) {
	d := newDesk(t)
	at := "/athletes/" + own + "/injuries"
	noted := ask[[]athlete.Injury](d, 200, request{
		method: "POST", path: at, token: d.tokens[access.Athlete], body: api.InjuryNoted{From: monday, Where: athlete.Shoulder, What: "sore overhead"},
	})
	if len(noted) != 1 || !noted[0].OpenOn(monday) {
		t.Fatalf("noted %+v", noted)
	}
	if g := ask[app.GymDay](d, 200, request{method: "GET", path: "/athletes/" + own + "/gym/2026-03-02"}); len(g.Cautions) != 1 {
		t.Errorf("the day has the cautions %q", g.Cautions)
	}
	over := api.InjuryOver{Where: athlete.Shoulder, Until: monday.AddDays(10), Clinician: "Dr Example"}
	ask[api.Problem](d, 403, request{method: "POST", path: at + "/end", token: d.tokens[access.Athlete], body: over})
	ask[api.Problem](d, 403, request{method: "POST", path: at + "/end", token: d.tokens[access.Assistant], body: over})
	ended := ask[[]athlete.Injury](d, 200, request{method: "POST", path: at + "/end", token: d.tokens[access.Coach], body: over})
	if len(ended) != 1 || ended[0].Clinician != "Dr Example" || ended[0].Until != monday.AddDays(10) {
		t.Errorf("ended %+v", ended)
	}
	ask[api.Problem](d, 404, request{method: "POST", path: at + "/end", body: over})
}

// The desk's own exercises go before the standard ones, for every athlete's log.
func TestTheDesksCatalogue(t *testing.T) {
	d := newDesk(t)
	coach, reads := d.tokens[access.Coach], d.tokens[access.Athlete]
	all := ask[[]athlete.Exercise](d, 200, request{method: "GET", path: "/exercises", token: reads})
	if none := ask[[]athlete.Exercise](d, 200, request{method: "GET", path: "/exercises?own=true", token: reads}); len(none) != 0 || len(all) < 50 {
		t.Errorf("%d of %d are the desk's own", len(none), len(all))
	}
	carry := athlete.Exercise{
		Name: "carry/drag", Pattern: athlete.Hinge, Equipment: athlete.Barbell, Stability: athlete.FreeStanding,
		Muscles: []athlete.Share{{Muscle: athlete.Back, Share: 1}}, Loads: []athlete.Region{athlete.LowerBack},
	}
	put := request{method: "PUT", path: "/exercises/carry%2Fdrag", token: coach, body: carry}
	if kept := ask[athlete.Exercise](d, 200, put); kept.Name != carry.Name {
		t.Errorf("kept %+v", kept)
	}
	if own := ask[[]athlete.Exercise](d, 200, request{method: "GET", path: "/exercises?own=true"}); len(own) != 1 {
		t.Errorf("the desk's own are %+v", own)
	}
	if more := ask[[]athlete.Exercise](d, 200, request{method: "GET", path: "/exercises"}); len(more) != len(all)+1 {
		t.Errorf("%d and one are %d", len(all), len(more))
	}
	renamed := carry
	renamed.Name = "drag"
	ask[athlete.Exercise](d, 200, request{method: "PUT", path: "/exercises/carry%2Fdrag", token: coach, body: renamed})
	if own := ask[[]athlete.Exercise](d, 200, request{method: "GET", path: "/exercises?own=true"}); len(own) != 1 || own[0].Name != "drag" {
		t.Errorf("renamed, the desk's own are %+v", own)
	}
	put.path = "/exercises/drag" // and back
	ask[athlete.Exercise](d, 200, put)
	carry.Pattern = "shove"
	put.path, put.body = "/exercises/carry%2Fdrag", carry
	ask[api.Problem](d, 422, put)

	ask[any](d, 200, request{
		method: "POST", path: "/athletes/" + own + "/sets",
		body: []athlete.Set{{Date: monday, Exercise: "my odd carry", WeightKg: 60, Reps: 10, Order: 1}},
	})
	seen := func() app.NameSeen {
		names := ask[[]app.NameSeen](d, 200, request{method: "GET", path: "/athletes/" + own + "/exercise-names?from=2026-03-02", token: reads})
		if len(names) != 1 || names[0].Typed != "my odd carry" {
			t.Fatalf("seen %+v", names)
		}
		return names[0]
	}
	if n := seen(); n.Sure {
		t.Errorf("seen %+v", n)
	}
	ask[api.Problem](d, 404, request{method: "PUT", path: "/exercise-names", token: coach, body: api.NameSettled{Typed: "my odd carry", Exercise: "nothing"}})
	ask[athlete.ExerciseName](d, 200, request{method: "PUT", path: "/exercise-names", token: coach, body: api.NameSettled{Typed: "my odd carry", Exercise: "carry/drag"}})
	if n := seen(); !n.Sure || n.Exercise != "carry/drag" {
		t.Errorf("settled it is %+v", n)
	}
	if names := ask[[]athlete.ExerciseName](d, 200, request{method: "GET", path: "/exercise-names", token: reads}); len(names) != 1 {
		t.Errorf("names %+v", names)
	}
	ask[any](d, 204, request{method: "DELETE", path: "/exercises/carry%2Fdrag", token: coach})
	ask[api.Problem](d, 404, request{method: "DELETE", path: "/exercises/carry%2Fdrag", token: coach})
}

func TestTheFatigueOfCardio(t *testing.T) {
	d := newDesk(t)
	table := ask[cardio.FatigueTable](d, 200, request{method: "GET", path: "/cardio-fatigue", token: d.tokens[access.Athlete]})
	table.LeanRise = 1.5
	if kept := ask[cardio.FatigueTable](d, 200, request{method: "PUT", path: "/cardio-fatigue", token: d.tokens[access.Coach], body: table}); kept.LeanRise != 1.5 {
		t.Errorf("kept %+v", kept)
	}
	table.Rows = table.Rows[1:]
	ask[api.Problem](d, 422, request{method: "PUT", path: "/cardio-fatigue", token: d.tokens[access.Coach], body: table})
	ask[api.Problem](d, 403, request{method: "PUT", path: "/cardio-fatigue", token: d.tokens[access.Assistant], body: table})
}

// How a day felt is set, and taken out by name.
func TestAmendHowADayFelt(t *testing.T) {
	d := newDesk(t)
	amend := func(body api.DayAmended) athlete.Day {
		return ask[athlete.Day](d, 200, request{method: "POST", path: "/athletes/" + own + "/days/2026-03-02", token: d.tokens[access.Athlete], body: body})
	}
	put := athlete.Day{
		Date: monday, Soreness: new(4.0), Motivation: new(6.0), Mood: new(7.0), Pain: new(3.0), PainWhere: athlete.Knee,
		Cardio: []athlete.CardioBout{{Kind: athlete.Cycling, Minutes: 30, ClaimedKcal: new(280.0), ClaimedBy: athlete.ByWatch}},
	}
	if got := amend(api.DayAmended{Put: &put}); *got.Soreness != 4 || got.PainWhere != athlete.Knee || *got.Cardio[0].ClaimedKcal != 280 {
		t.Errorf("the day is %+v", got)
	}
	got := amend(api.DayAmended{Drop: []string{"soreness", "motivation", "mood", "pain", "pain_where", "cardio"}})
	if got.Soreness != nil || got.Motivation != nil || got.Mood != nil || got.Pain != nil || got.PainWhere != "" || got.Cardio != nil {
		t.Errorf("taken out, the day is %+v", got)
	}
}

// What nobody can mean is refused, and nothing of it is kept.
func TestHostileTraining(t *testing.T) {
	d := newDesk(t)
	before := everything(d)
	week := `{"sessions":[{"name":"A","exercises":[{"exercise":"squat","sets":3,"reps_low":6,"reps_high":8}]}]}`
	many := strings.TrimSuffix(strings.Repeat(week+",", 27), ",")
	programme := func(weeks, more string) string {
		return `{"from":"2026-03-02","name":"x","weeks":[` + weeks + `]` + more + `}`
	}
	set := func(with string) string {
		return programme(`{"sessions":[{"name":"A","exercises":[{"exercise":"squat",`+with+`}]}]}`, "")
	}
	at := "/athletes/" + own
	for _, c := range []struct {
		name, method, path, body string
		status                   int
		says                     string
	}{
		{"no weeks", "POST", at + "/programmes", programme("", ""), 422, "1"},
		{"null for weeks", "POST", at + "/programmes", `{"from":"2026-03-02","name":"x","weeks":null}`, 422, "array"},
		{"too many weeks", "POST", at + "/programmes", programme(many, ""), 422, "26"},
		{"a week of another form", "POST", at + "/programmes", programme(`{"days":[]}`, ""), 422, "property"},
		{"no name", "POST", at + "/programmes", `{"from":"2026-03-02","name":" ","weeks":[` + week + `]}`, 422, "name"},
		{"no date", "POST", at + "/programmes", `{"from":"","name":"x","weeks":[` + week + `]}`, 422, "date"},
		{"another age", "POST", at + "/programmes", `{"from":"2999-03-02","name":"x","weeks":[` + week + `]}`, 422, "outside"},
		{"a phase that is none", "POST", at + "/programmes", programme(week, `,"phase":"bulk"`), 422, "one of"},
		{"an author of one's own", "POST", at + "/programmes", programme(week, `,"author":"hunter2"`), 422, "property"},
		{"a session of nothing", "POST", at + "/programmes", programme(`{"sessions":[{"name":"A","exercises":[]}]}`, ""), 422, "exercises"},
		{"sets without end", "POST", at + "/programmes", set(`"sets":1000000,"reps_low":6,"reps_high":8`), 422, "outside 1 to 15"},
		{"repetitions backwards", "POST", at + "/programmes", set(`"sets":3,"reps_low":8,"reps_high":6`), 422, "in order"},
		{"half a set", "POST", at + "/programmes", set(`"sets":2.5,"reps_low":6,"reps_high":8`), 422, "integer"},
		{"a reserve of nobody", "POST", at + "/programmes", set(`"sets":3,"reps_low":6,"reps_high":8,"rir":99`), 422, "outside 0 to 10"},
		{"a rest of a day", "POST", at + "/programmes", set(`"sets":3,"reps_low":6,"reps_high":8,"rest_seconds":86400`), 422, "outside 0 to 900"},
		{"a day that is none", "POST", at + "/programmes", programme(`{"sessions":[{"name":"A","day":"someday","exercises":[{"exercise":"squat","sets":3,"reps_low":6,"reps_high":8}]}]}`, ""), 422, "one of"},
		{"notes without end", "POST", at + "/programmes", programme(week, `,"notes":"`+strings.Repeat("a", 7000)+`"`), 422, "2000"},
		{"a copy of version none", "POST", at + "/programmes/0/copies", `{"from":"2026-03-02"}`, 422, "1"},
		{"a copy of version x", "POST", at + "/programmes/x/copies", `{"from":"2026-03-02"}`, 422, "integer"},
		{"a gym of another age", "GET", at + "/gym/0001-01-01", ``, 422, "outside"},
		{"a gym on no day", "GET", at + "/gym/someday", ``, 422, "YYYY-MM-DD"},
		{"an injury of the soul", "POST", at + "/injuries", `{"from":"2026-03-01","where":"soul"}`, 422, "region"},
		{"an injury to come", "POST", at + "/injuries", `{"from":"2026-03-09","where":"knee"}`, 422, "future"},
		{"an injury of no date", "POST", at + "/injuries", `{"from":"","where":"knee"}`, 422, "no date"},
		{"an injury with its end", "POST", at + "/injuries", `{"from":"2026-03-01","where":"knee","until":"2026-03-02","clinician":"me"}`, 422, "property"},
		{"an end by nobody", "POST", at + "/injuries/end", `{"where":"knee","until":"2026-03-02","clinician":""}`, 422, "1"},
		{"an end of nothing", "POST", at + "/injuries/end", `{"where":"knee","until":"2026-03-02","clinician":"Dr Example"}`, 404, "no injury"},
		{"an exercise of no muscle", "PUT", "/exercises/x", `{"name":"x","pattern":"hinge","equipment":"barbell","stability":"guided","muscles":[]}`, 422, "muscle"},
		{"an exercise of a muscle that is none", "PUT", "/exercises/x", `{"name":"x","pattern":"hinge","equipment":"barbell","stability":"guided","muscles":[{"muscle":"ego","share":1}]}`, 422, "ego"},
		{"an exercise of a whole set twice", "PUT", "/exercises/x", `{"name":"x","pattern":"hinge","equipment":"barbell","stability":"guided","muscles":[{"muscle":"back","share":2}]}`, 422, "outside"},
		{"an exercise that is not there", "DELETE", "/exercises/back%20squat", ``, 404, "no exercise"},
		{"a name of nothing", "PUT", "/exercise-names", `{"typed":"","exercise":""}`, 422, "1"},
		{"a name without end", "PUT", "/exercise-names", `{"typed":"` + strings.Repeat("a", 200) + `","exercise":""}`, 422, "120"},
		{"a fatigue of NaN", "PUT", "/cardio-fatigue", `{"rows":[{"kind":"walking","per_kcal":NaN}]}`, 400, "not JSON"},
		{"a fatigue of one kind", "PUT", "/cardio-fatigue", `{"rows":[{"kind":"walking","per_kcal":1}]}`, 422, "required"},
		{"a set of no exercise", "DELETE", at + "/sets/2026-03-01/1", ``, 422, "exercise"},
		{"a set of no place", "DELETE", at + "/sets/2026-03-01/0?exercise=squat", ``, 422, "1"},
		{"a set of another age", "DELETE", at + "/sets/9999-12-31/1?exercise=squat", ``, 422, "outside"},
		{"a pain beyond the scale", "POST", at + "/days/2026-03-01", `{"put":{"date":"2026-03-01","pain":11}}`, 422, "outside 0 to 10"},
		{"a pain in the soul", "POST", at + "/days/2026-03-01", `{"put":{"date":"2026-03-01","pain":1,"pain_where":"soul"}}`, 422, "region"},
		{"a claim of a furnace", "POST", at + "/days", `[{"date":"2026-03-01","cardio":[{"kind":"cycling","minutes":30,"claimed_kcal":1e9}]}]`, 422, "outside 0 to 6000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d.TB = t
			r := request{method: c.method, path: c.path, token: d.tokens[access.Owner]}
			if c.body != "" {
				r.body = c.body
			}
			w := d.send(r)
			if w.Code != c.status || !strings.Contains(strings.ToLower(w.Body.String()), strings.ToLower(c.says)) {
				t.Errorf("status %d, want %d with %q: %s", w.Code, c.status, c.says, w.Body)
			}
			if w.Code < http.StatusBadRequest {
				return
			}
			isClear(t, w.Body.String())
			if everything(d) != before {
				t.Fatal("something was stored")
			}
		})
	}
}
