package web_test

import (
	"context"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/browsertest"
	"glidepath/civil"
)

func openGym(t *testing.T, ctx context.Context, w *world, on civil.Date) {
	t.Helper()
	open(t, ctx, w.URL+"/day/"+on.String()+"/gym")
	until(t, ctx, "the script of the session", "document.querySelector('.own-gym[data-ready]')")
}

func TestGymLooks(t *testing.T) {
	ctx := browsertest.Tab(t)
	w, _, own := planned(t, civil.FromTime(time.Now()))
	phone := w.line()
	signedIn(t, ctx, own)
	keep := func(name string) {
		browsertest.Keep(t, name, browsertest.Run(t, ctx, chromedp.FullScreenshot(100)))
	}
	looks(t, ctx, 360, "light")
	openGym(t, ctx, w, w.today)
	keep("gym-360.png")
	js[bool](t, ctx, `document.querySelector('.take').click(); true`)
	until(t, ctx, "kept", "document.querySelector('.set .says').textContent === 'Kept'")
	js[bool](t, ctx, `document.querySelector('.set-number').click(); document.querySelectorAll('.swap')[1].open = true; true`)
	phone.cut(t, ctx, true)
	js[bool](t, ctx, `document.querySelectorAll('.take')[1].click(); true`)
	until(t, ctx, "unsent", "document.querySelectorAll('.set .says')[1].textContent === 'Unsent'")
	js[bool](t, ctx, `{const p = document.querySelector('[name=pain]'); p.value = '5'; p.dispatchEvent(new Event('input', {bubbles: true})); const s = document.querySelector('[name=pain_where]'); s.value = 'knee'; s.dispatchEvent(new Event('change', {bubbles: true}));} true`)
	time.Sleep(time.Second)
	keep("gym-360-b.png")
	fits(t, ctx, "gym")
	phone.cut(t, ctx, false)
	looks(t, ctx, 360, "dark")
	own.post("/effort", "effort", "rpe")
	own.post("/units", "units", "imperial")
	if err := w.app.PutExercise(t.Context(), athlete.Exercise{Name: "back squat", Pattern: athlete.Squat, Equipment: athlete.Barbell, Stability: athlete.FreeStanding, Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}}, Big: true, Loads: []athlete.Region{athlete.Knee}}); err != nil {
		t.Fatal(err)
	}
	if err := w.app.AddInjury(t.Context(), "mara", athlete.Injury{From: w.today, Where: athlete.Knee}); err != nil {
		t.Fatal(err)
	}
	openGym(t, ctx, w, w.today)
	keep("gym-360-c.png")
	fits(t, ctx, "gym")
	looks(t, ctx, 360, "light")
	open(t, ctx, w.URL+"/day")
	until(t, ctx, "ready", "document.querySelector('.own-day[data-ready]')")
	js[any](t, ctx, "document.querySelectorAll('details').forEach(d => d.open = true); null")
	typesInto(t, ctx, "cardio", "30")
	keep("day-360.png")
	fits(t, ctx, "day")
	openGym(t, ctx, w, w.today.AddDays(-30))
	keep("free-360.png")
	fits(t, ctx, "free")
	if _, err := w.app.Record(t.Context(), "mara", app.Batch{Sets: []athlete.Set{{Date: w.today.AddDays(-40), Exercise: "lat pull-down", WeightKg: 40, Reps: 12, Order: 1}, {Date: w.today.AddDays(-42), Exercise: "leg press", WeightKg: 40, Reps: 12, Order: 1}}}, app.Source{Name: "test"}); err != nil {
		t.Fatal(err)
	}
	openGym(t, ctx, w, w.today.AddDays(-30))
	keep("free2-360.png")
	fits(t, ctx, "free")
	js[any](t, ctx, "document.querySelector('.do-again').click(); null")
	keep("free3-360.png")
	fits(t, ctx, "gym")
}
