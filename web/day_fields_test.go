package web

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// What a field shows, typed again, is what is stored: in either units, for any
// value that can be typed. So the same sent twice is never a correction.
func TestFieldsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]athlete.Units{athlete.Metric, athlete.Imperial}).Draw(t, "units")
		f := rapid.SampledFrom(dayFields()).Draw(t, "field")
		text := rapid.Custom(func(t *rapid.T) string { return typedIn(t, &f) }).Draw(t, "text")
		now := athlete.Day{Date: civil.Of(2026, 3, 2)}
		var put athlete.Day
		if drop, err := f.amend(&put, text, []string{""}, &now, u); err != nil || drop {
			t.Fatalf("%s %q: %v", f.name, text, err)
		}
		put.Date = now.Date
		shown := f.get(&put, u)
		for _, again := range []string{text, shown} {
			var second athlete.Day
			if drop, err := f.amend(&second, again, []string{shown}, &put, u); err != nil || drop || !second.Empty() {
				t.Fatalf("%s: %q is stored as %q, and %q again changes it (%v)", f.name, text, shown, again, err)
			}
		}
	})
}

// typedIn is a text that a person may type in a field.
func typedIn(t *rapid.T, f *dayField) string {
	switch f.name {
	case "notes":
		return rapid.StringMatching(`[a-zæ ,.\n]{0,20}[a-z]`).Draw(t, "notes")
	case "day_type":
		return string(rapid.SampledFrom(typesOf(nil)).Draw(t, "type"))
	case "cycle_day":
		return fmt.Sprint(rapid.IntRange(1, 60).Draw(t, "day"))
	case "cardio":
		return fmt.Sprintf("%d %s; %.1f posing%s", rapid.IntRange(1, 90).Draw(t, "minutes"),
			rapid.SampledFrom(append(athlete.CardioKinds(), "other 15552")).Draw(t, "kind"), rapid.Float64Range(0, 60).Draw(t, "more"),
			rapid.SampledFrom([]string{"", ", machine 320 kcal", ", watch 1,050 kcal", ",  watch 90.5  kcal "}).Draw(t, "claim"))
	case "pain_where":
		return string(rapid.SampledFrom(athlete.Regions()).Draw(t, "region"))
	case "sleep_h":
		return fmt.Sprintf("%d:%02d", rapid.IntRange(0, 12).Draw(t, "hours"), rapid.IntRange(0, 59).Draw(t, "minutes"))
	case "weight_kg":
		return fmt.Sprintf("%.1f", rapid.Float64Range(50, 300).Draw(t, "weight"))
	case "hunger", "fatigue", "soreness", "motivation", "mood", "pain":
		return fmt.Sprint(rapid.IntRange(1, 10).Draw(t, "scale"))
	case "resting_pulse":
		return fmt.Sprint(rapid.IntRange(30, 120).Draw(t, "pulse"))
	}
	return fmt.Sprintf("%.2f", rapid.Float64Range(0, 240).Draw(t, "number"))
}

func TestTypedNumber(t *testing.T) {
	for _, c := range []struct {
		text  string
		whole bool
		want  float64
	}{
		{"82.4", false, 82.4},
		{"82,4", false, 82.4},
		{"2,150", true, 2150},
		{"2.150", true, 2150},
		{"12 400", true, 12400},
		{"12’400", true, math.NaN()},
		{"12'400", true, 12400},
		{"7,5", true, 7.5},
		{"2,150", false, 2.15},
		{"", false, math.NaN()},
		{"1e9", false, math.NaN()},
		{"0x10", false, math.NaN()},
		{"inf", false, math.NaN()},
		{"1_000", true, math.NaN()},
		{"1.2.3", false, math.NaN()},
	} {
		got, err := typedNumber(c.text, c.whole)
		if err != nil {
			got = math.NaN()
		}
		if got != c.want && !(math.IsNaN(got) && math.IsNaN(c.want)) {
			t.Errorf("%q (whole %v) is %v, want %v", c.text, c.whole, got, c.want)
		}
	}
}

// A stretch of cardio that is typed as it stands keeps its speed and grade.
func TestCardioKeepsWhatIsNotAsked(t *testing.T) {
	now := athlete.Day{Date: civil.Of(2026, 3, 2), Cardio: []athlete.CardioBout{{Kind: athlete.InclineWalk, Minutes: 30, SpeedKmh: new(5.4)}}}
	f, _ := fieldNamed("cardio")
	var put athlete.Day
	if _, err := f.amend(&put, "30 incline walking; 20 cycling", []string{"30 incline walking"}, &now, athlete.Metric); err != nil {
		t.Fatal(err)
	}
	if len(put.Cardio) != 2 || put.Cardio[0].SpeedKmh == nil || *put.Cardio[0].SpeedKmh != 5.4 {
		t.Errorf("the cardio is %+v", put.Cardio)
	}
}

// Cardio is read as it is written, with what a machine or a watch claims of it; a
// claim that is changed or taken away leaves the rest of the stretch as it was.
func TestCardioText(t *testing.T) {
	now := athlete.Day{Date: civil.Of(2026, 3, 2), Cardio: []athlete.CardioBout{
		{Kind: athlete.Elliptical, Minutes: 30, Watts: new(120.0), ClaimedKcal: new(320.0), ClaimedBy: athlete.ByMachine},
		{Kind: athlete.OtherActivity, Code: "15552", Minutes: 45},
	}}
	f, _ := fieldNamed("cardio")
	const present = "30 elliptical, machine 320 kcal; 45 other 15552"
	if got := f.get(&now, athlete.Metric); got != present {
		t.Fatalf("it is written as %q", got)
	}
	for _, c := range []struct {
		text   string
		claim  float64 // 0 is none
		by     athlete.ClaimSource
		others int
	}{
		{"30 elliptical, watch 280 kcal; 45 other 15552", 280, athlete.ByWatch, 1},
		{"30 elliptical; 45 other 15552", 0, "", 1},
		{"30 elliptical, watch 1,050 kcal", 1050, athlete.ByWatch, 0},
	} {
		var put athlete.Day
		if _, err := f.amend(&put, c.text, []string{present}, &now, athlete.Metric); err != nil {
			t.Fatal(err)
		}
		b := put.Cardio[0]
		claim := 0.0
		if b.ClaimedKcal != nil {
			claim = *b.ClaimedKcal
		}
		if claim != c.claim || b.ClaimedBy != c.by || b.Watts == nil || len(put.Cardio) != 1+c.others || c.others == 1 && put.Cardio[1].Code != "15552" {
			t.Errorf("%q is %+v", c.text, put.Cardio)
		}
	}
	for _, bad := range []string{
		"30 elliptical, machine many kcal", "30 elliptical, machine -5 kcal", "30 elliptical, machine 7000 kcal", "30 elliptical, oracle 300 kcal",
		"45 other", "45 other 155520", "30 ellipse", "NaN walking", "1e3 walking", "601 walking",
	} {
		var put athlete.Day
		if _, err := f.amend(&put, bad, []string{present}, &now, athlete.Metric); fault.KindOf(err) != fault.Invalid {
			t.Errorf("%q gives %v, want Invalid", bad, err)
		}
	}
}

// What was sent without an answer may be stored: it is what the reader typed, and no
// clash. What nobody there has seen is one.
func TestALostAnswerIsNoClash(t *testing.T) {
	now := athlete.Day{Date: civil.Of(2026, 3, 2), WeightKg: new(64.8)}
	f, _ := fieldNamed("weight_kg")
	var put athlete.Day
	if _, err := f.amend(&put, "64.9", []string{"", "64,8"}, &now, athlete.Metric); err != nil || *put.WeightKg != 64.9 {
		t.Errorf("%+v, %v", put, err)
	}
	if _, err := f.amend(&put, "64.9", []string{"", "64.7"}, &now, athlete.Metric); err == nil {
		t.Error("what was never seen is written over")
	}
}
