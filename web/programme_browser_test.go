package web_test

import (
	"context"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"glidepath/athlete"
	"glidepath/browsertest"
	"glidepath/civil"
)

// split is an invented programme of two lifting days.
func split(from civil.Date) athlete.Programme {
	e := func(name string, sets, low, high int) athlete.PlannedExercise {
		return athlete.PlannedExercise{Exercise: name, Sets: sets, RepsLow: low, RepsHigh: high, RIR: new(2.0), RestSeconds: 120}
	}
	monday := athlete.Weekday(time.Monday)
	squat := e("back squat", 4, 6, 8)
	squat.Notes = "a pause at the foot"
	week := athlete.ProgrammeWeek{Sessions: []athlete.PlannedSession{
		{Name: "Lower", Day: &monday, Notes: "Warm up on the bike.", Exercises: []athlete.PlannedExercise{squat, e("leg press", 3, 10, 12), e("lying leg curl", 3, 10, 12), e("gym 3 odd machine", 2, 10, 12)}},
		{Name: "Upper", Exercises: []athlete.PlannedExercise{e("bench press", 4, 6, 8), e("cable row", 4, 8, 10), e("lateral raise", 3, 12, 15)}},
	}}
	return athlete.Programme{Name: "Upper and lower", From: from, Notes: "Keep the load on the bar.", Weeks: []athlete.ProgrammeWeek{week, week, week.AsDeload()}}
}

// The pages of the coach's programme and exercises hold together.
func TestProgrammePagesInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.owner())
	base := "/athletes/" + w.blank() + "/programme"
	inspect(t, ctx, w.URL, browserPage{"programme-none", base, ""})
	base = "/athletes/" + changing + "/programme"
	if _, err := w.app.AddProgramme(t.Context(), changing, split(w.today.AddDays(-7)), "Wren Owner"); err != nil {
		t.Fatal(err)
	}
	for _, p := range []browserPage{
		{"programme-text", base + "/text", ""},
		{"programme", base, openAll},
		{"programme-write", base + "/write", openAll},
		{"exercises", "/exercises?muscle=quadriceps", openAll},
		{"exercise", "/exercises/edit?name=bench+press", ""},
		{"exercise-new", "/exercises/edit", ""},
	} {
		inspect(t, ctx, w.URL, p)
	}
}

// A programme is written on a phone and on a desk, by what is seen there.
func TestProgrammeIsWrittenInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	for _, width := range widths {
		w := filled(t)
		signedIn(t, ctx, w.owner())
		id := w.blank()
		looks(t, ctx, width, "light")
		open(t, ctx, w.URL+"/athletes/"+id+"/programme")
		press(t, ctx, "Write a programme", "Nothing is kept until")
		types(t, ctx, "name", "Three days", "from", "2026-03-02", "s1-name", "Whole body", "s1-e1-exercise", "back squat", "s1-e1-sets", "3", "s1-e1-low", "5", "s1-e1-high", "8", "s1-e1-rir", "2",
			"s1-e2-exercise", "bench press", "s1-e2-sets", "3", "s1-e2-low", "6")
		press(t, ctx, "Copy", "Whole body")
		hold(t, ctx, "programme-written", width)
		press(t, ctx, "Make a deload of it after it", "Week 2, deload")
		shoot(t, ctx, "programme-deload", width)
		types(t, ctx, "s2-e1-sets", "lots")
		press(t, ctx, "Keep it as a new version", "a whole number")
		hold(t, ctx, "programme-slip", width)
		shoot(t, ctx, "programme-slip", width)
		types(t, ctx, "s2-e1-sets", "1")
		press(t, ctx, "Keep it as a new version", "Kept as a new version")
		got := w.programmes(id)
		if len(got) != 1 || len(got[0].Weeks) != 2 || len(got[0].Weeks[1].Sessions) != 2 || got[0].Weeks[1].Sessions[1].Exercises[0].Sets != 1 || got[0].Weeks[0].Sessions[1].Exercises[0].Sets != 3 {
			t.Errorf("%d px: kept is %+v", width, got)
		}
	}
}

func TestExerciseIsAddedInABrowser(t *testing.T) {
	ctx := browsertest.Tab(t)
	for _, width := range widths {
		w := filled(t)
		signedIn(t, ctx, w.owner())
		looks(t, ctx, width, "light")
		open(t, ctx, w.URL+"/exercises")
		press(t, ctx, "Add an exercise", "Say what it trains")
		types(t, ctx, "name", "blue sled", "pattern", "squat", "equipment", "machine", "stability", "guided", "muscle_quadriceps", "1")
		press(t, ctx, "Keep it", "The exercise is kept")
		if w.exercise("blue sled") == nil {
			t.Errorf("%d px: it is not kept", width)
		}
	}
}

// presses presses a key that leads to the next page, and waits for it.
func presses(t *testing.T, ctx context.Context, key string) {
	t.Helper()
	js[any](t, ctx, `window.before = true; null`)
	keys(t, ctx, key)
	for range 400 {
		next, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`!window.before && document.readyState === 'complete'`))
		if err == nil && next {
			return
		}
		time.Sleep(25 * time.Millisecond)
	}
	t.Fatal("no page follows")
}

// focus is the name of the input that has the focus.
func focus(t *testing.T, ctx context.Context) string {
	t.Helper()
	return js[string](t, ctx, `document.activeElement?.name ?? ''`)
}

// The keyboard alone writes a programme, and is where the new row is after it was
// added.
func TestProgrammeByKeyboard(t *testing.T) {
	ctx := browsertest.Tab(t)
	w := filled(t)
	signedIn(t, ctx, w.owner())
	id := w.blank()
	looks(t, ctx, 1280, "light")
	open(t, ctx, w.URL+"/athletes/"+id+"/programme/write")
	says(t, ctx, "Session 1")
	tabTo(t, ctx, "in-s1-e1-exercise")
	for i, text := range []string{"back squat", "3", "5", "8", "2", "120"} {
		if i > 0 {
			keys(t, ctx, kb.Tab)
		}
		keys(t, ctx, text)
	}
	presses(t, ctx, kb.Enter) // looks at it again, and keeps and removes nothing
	tabTo(t, ctx, "Add an exercise")
	presses(t, ctx, kb.Enter)
	if got := focus(t, ctx); got != "s1-e5-exercise" {
		t.Fatalf("after a row was added the focus is on %q", got)
	}
	keys(t, ctx, "leg press")
	keys(t, ctx, kb.Tab)
	keys(t, ctx, "2")
	keys(t, ctx, kb.Tab)
	keys(t, ctx, "10")
	tabTo(t, ctx, "Keep it as a new version")
	presses(t, ctx, kb.Enter)
	says(t, ctx, "Kept as a new version")
	got := w.programmes(id)
	if len(got) != 1 || len(got[0].Weeks[0].Sessions[0].Exercises) != 2 || got[0].Weeks[0].Sessions[0].Exercises[0].RestSeconds != 120 {
		t.Errorf("kept is %+v", got)
	}
}
