package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"glidepath/athlete"
	"glidepath/civil"
)

func exerciseForm(name string, more ...string) []string {
	return append([]string{
		"name", name, "pattern", "squat", "equipment", "machine", "stability", "guided", "muscle_quadriceps", "1", "muscle_glutes", "0.5", "loads", "knee",
	}, more...)
}

func (w *world) exercise(name string) *athlete.Exercise {
	w.t.Helper()
	known, err := w.app.Catalogue(w.t.Context())
	if err != nil {
		w.t.Fatal(err)
	}
	for _, e := range known.Exercises() {
		if e.Name == name {
			return &e
		}
	}
	return nil
}

func TestExercises(t *testing.T) {
	w := filled(t)
	b := w.owner()
	b.get("/exercises?muscle=calves").wants(t, http.StatusOK, "Seated calf raise")
	if got := b.get("/exercises?muscle=calves&find=leg+press"); strings.Contains(got.body, ">Seated calf raise<") || !strings.Contains(got.body, "Leg press calf raise") {
		t.Error("the list is not narrowed down by both")
	}
	b.get("/exercises?find=nothing+of+the+sort").wants(t, http.StatusOK, "None fits")
	b.post("/exercises", exerciseForm("Sled Hack", "aliases", "the blue sled\n\n new hack ", "big", "yes")...).wants(t, http.StatusOK, "The exercise is kept", "this desk’s own")
	want := &athlete.Exercise{
		Name: "sled hack", Aliases: []string{"the blue sled", "new hack"}, Pattern: athlete.Squat, Equipment: athlete.Machine, Stability: athlete.Guided, Big: true,
		Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}, {Muscle: athlete.Glutes, Share: 0.5}}, Loads: []athlete.Region{athlete.Knee},
	}
	if diff := cmp.Diff(want, w.exercise("sled hack")); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	b.get("/exercises/edit?name=sled+hack").wants(t, http.StatusOK, "the blue sled", "Take sled hack out")
	b.post("/exercises", exerciseForm("sled hack 2", "was", "sled hack")...).wants(t, http.StatusOK)
	if w.exercise("sled hack") != nil || w.exercise("sled hack 2") == nil {
		t.Error("it is not renamed")
	}
	b.post("/exercises/remove", "name", "sled hack 2").wants(t, http.StatusOK, "Taken out")
	b.post("/exercises/remove", "name", "sled hack 2").wants(t, http.StatusNotFound)
	b.get("/exercises/edit?name=sled+hack").wants(t, http.StatusNotFound)
}

// A standard exercise that is changed is the desk's own until it is taken out.
func TestStandardExerciseIsChanged(t *testing.T) {
	w := filled(t)
	b := w.owner()
	before := w.exercise("leg press")
	page := b.get("/exercises/edit?name=leg+press").wants(t, http.StatusOK, "It comes with Glidepath")
	b.post("/exercises", page.fields(t, "muscle_glutes", "", "equipment", "machine", "stability", "guided")...).wants(t, http.StatusOK, "this desk’s own")
	if got := w.exercise("leg press"); len(got.Muscles) != 1 {
		t.Errorf("it trains %v", got.Muscles)
	}
	b.post("/exercises/remove", "name", "leg press").wants(t, http.StatusOK)
	if diff := cmp.Diff(before, w.exercise("leg press")); diff != "" {
		t.Errorf("the standard one is not back:\n%s", diff)
	}
}

func TestExerciseSlips(t *testing.T) {
	w := filled(t)
	b := w.owner()
	for name, form := range map[string][]string{
		"name":                         exerciseForm(""),
		"pattern":                      exerciseForm("sled hack", "pattern", ""), // the first one counts
		"is a name of":                 exerciseForm("bench"),
		"aliases":                      exerciseForm("sled hack", "aliases", strings.Repeat("x", 90)),
		"is no share of a set":         {"name", "sled hack", "pattern", "squat", "equipment", "machine", "stability", "guided", "muscle_back", "lots"},
		"0.05 to 1":                    {"name", "sled hack", "pattern", "squat", "equipment", "machine", "stability", "guided", "muscle_back", "7"},
		"trains at least one muscle":   {"name", "sled hack", "pattern", "squat", "equipment", "machine", "stability", "guided"},
		"&#34;tail&#34; is not one of": exerciseForm("sled hack", "loads", "tail"),
	} {
		if name == "pattern" {
			form[3] = "crawl"
		}
		b.post("/exercises", form...).wants(t, map[bool]int{true: http.StatusConflict, false: http.StatusUnprocessableEntity}[name == "is a name of"], name, "Keep it")
	}
	if own, err := w.app.Exercises(t.Context()); err != nil || len(own) != 0 {
		t.Errorf("%d are kept (%v)", len(own), err)
	}
	got := b.post("/exercises", exerciseForm(`<script>alert(1)</script>`)...)
	if strings.Contains(got.body, "<script>alert") {
		t.Error("markup came through")
	}
}

func TestNamesAreSettled(t *testing.T) {
	w := filled(t)
	b := w.owner()
	b.post("/exercises/names", "typed", "Gym 3 blue thing", "exercise", "Hack squat").wants(t, http.StatusOK, "Settled for this desk", "Gym 3 blue thing")
	b.post("/exercises/names", "typed", "my lift", "exercise", "").wants(t, http.StatusOK, "a lift of its own")
	b.post("/exercises/names", "typed", "x", "exercise", "nothing like it").wants(t, http.StatusNotFound, "no exercise", `value="nothing like it"`)
	b.post("/exercises/names", "typed", "", "exercise", "hack squat").wants(t, http.StatusUnprocessableEntity)
	known, err := w.app.Catalogue(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if m, ok := known.Lookup("gym 3 blue thing"); !ok || m.Exercise.Name != "hack squat" {
		t.Errorf("it means %q", m.Exercise.Name)
	}
}

// Names that are not sure are asked about when a training log is taken in, and what
// is answered is remembered.
func TestImportAsksAboutExercises(t *testing.T) {
	w := filled(t)
	b := w.owner()
	path := "/athletes/" + changing + "/import"
	log := "Date,Exercise,Weight kg,Reps,RIR\n2026-02-20,Back squat,100,5,2\n2026-02-20,Blue sled thing,80,10,2\n2026-02-20,Blue sled thing,80,9,1\n2026-02-20,Odd carry,30,12,2\n"
	page := b.send(changing, "training", "log.csv", log).wants(t, http.StatusOK, "Exercises to settle", "Blue sled thing is", "leave it open")
	if strings.Contains(page.body, "Back squat is") {
		t.Error("a name of the catalogue is asked about")
	}
	page = b.post(path+"/read", page.fields(t, "lift:Blue sled thing", "hack squat")...).wants(t, http.StatusOK)
	b.post(path+"/take", page.fields(t, "lift:Blue sled thing", "hack squat", "lift:Odd carry", "own")...).wants(t, http.StatusOK, "Taken in")
	names, err := w.app.ExerciseNames(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := []athlete.ExerciseName{{Typed: "Blue sled thing", Exercise: "hack squat"}, {Typed: "Odd carry"}}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	again := b.send(changing, "training", "log.csv", log).wants(t, http.StatusOK, "can be read")
	if strings.Contains(again.body, "Exercises to settle") {
		t.Error("it is asked again")
	}
}

func TestInjuriesInTheProfile(t *testing.T) {
	w := filled(t)
	b := w.owner()
	base := "/athletes/" + changing
	b.post(base+"/injuries", "injury_from", "2026-02-20", "injury_where", "knee", "injury_what", "twisted").wants(t, http.StatusOK, "Knee, since 20 Feb 2026: twisted", "waits for a clinician")
	b.get(base+"/programme").wants(t, http.StatusOK, "The knee is noted as hurt")
	b.post(base+"/injuries", "injury_from", "2026-02-20", "injury_where", "tail").wants(t, http.StatusUnprocessableEntity, "is not one of")
	b.post(base+"/injuries/end", "injury_where", "knee", "injury_until", "2026-02-28", "injury_clinician", "").wants(t, http.StatusUnprocessableEntity, "when a clinician says so")
	b.post(base+"/injuries/end", "injury_where", "hip", "injury_until", "2026-02-28", "injury_clinician", "Dr Imogen Ash").wants(t, http.StatusNotFound, "no injury of the hip")
	b.post(base+"/injuries/end", "injury_where", "knee", "injury_until", "2026-02-28", "injury_clinician", "Dr Imogen Ash").wants(t, http.StatusOK, "over after 28 Feb 2026, says Dr Imogen Ash")
	if got := w.profile(changing).Hurt(civil.Of(2026, 3, 2)); len(got) != 0 {
		t.Errorf("%v is hurt still", got)
	}
}

func TestEquipmentInTheProfile(t *testing.T) {
	w := filled(t)
	b := w.owner()
	page := b.get("/athletes/"+changing+"/profile").wants(t, http.StatusOK, "Trains with")
	typed := []string{"equipment", "machine", "equipment", "cable", "spare_regions", "shoulder", "cardio_session_max", "45"}
	for _, name := range []string{"name", "sex", "birth_date", "units", "height", "training_years", "steps_per_day", "cardio_minutes_per_week", "cardio_minutes_max"} {
		typed = append(typed, name, page.input(t, name))
	}
	b.post("/athletes/"+changing+"/profile", typed...).wants(t, http.StatusOK, "machine, cable", "Shoulder", "45 in one session")
	b.post("/athletes/"+changing+"/profile", append(typed, "spare_regions", "tail")...).wants(t, http.StatusUnprocessableEntity, "is not one of")
	typed[7] = "44"
	b.post("/athletes/"+changing+"/profile", typed...).wants(t, http.StatusUnprocessableEntity, "not a multiple of 5")
}

// input is what the forms of a page have in an input or a selection.
func (a answer) input(t *testing.T, name string) string {
	t.Helper()
	form := a.fields(t)
	for i := 0; i+1 < len(form); i += 2 {
		if form[i] == name {
			return form[i+1]
		}
	}
	t.Fatalf("the form has no %s", name)
	return ""
}
