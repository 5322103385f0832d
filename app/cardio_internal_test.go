package app

import (
	"math"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
)

// somebody is an invented athlete with a log of weights.
func somebody(profileKg float64, loggedKg ...float64) *facts {
	f := &facts{fatigue: cardio.DefaultFatigue(), athlete: athlete.Athlete{
		ID: "s", Name: "S", Sex: athlete.Male, HeightCm: 180, WeightKg: profileKg, StepsPerDay: 8000,
		TrainingDays: []athlete.Weekday{athlete.Weekday(time.Monday), athlete.Weekday(time.Thursday)},
	}}
	for i := range loggedKg {
		f.days = append(f.days, athlete.Day{Date: civil.Of(2026, 3, 1).AddDays(i), WeightKg: &loggedKg[i]})
	}
	return f
}

// What is in proportion to weight is the same per kg at any; watts and claims are
// not, and count at the weight of the day, which a slip of the pen does not move.
func TestActivityIsAtTheWeightOfTheDay(t *testing.T) {
	f := somebody(90, 70.2, 70.0, 69.8, 165, 70.1, 69.9, 70.0)
	d := &f.days[6] // a Saturday, no lifting
	d.Steps = new(0.0)
	d.Cardio = []athlete.CardioBout{{Kind: athlete.Cycling, Minutes: 60, Watts: new(100.0)}}
	perKg, notes, err := f.activity(8000, d.Date)
	if err != nil || len(notes) > 0 {
		t.Fatal(err, notes)
	}
	// ACSM: 3.5 + 1.8 x 612 / 70 mL/kg/min over rest, 60 minutes, 5 kcal a litre.
	if want := (3.5 + 1.8*612/70) * 60 * 5 / 1000; math.Abs(perKg[6]-want) > 1e-9 {
		t.Errorf("%.3f kcal per kg, want %.3f", perKg[6], want)
	}
	d.Cardio = []athlete.CardioBout{{Kind: athlete.OtherActivity, Code: "99999", Minutes: 60, ClaimedKcal: new(410.0), ClaimedBy: athlete.ByWatch}}
	if perKg, notes, err = f.activity(8000, d.Date); err != nil || len(notes) != 1 {
		t.Fatal(err, notes)
	}
	// 410 kcal less an hour of rest at 1 kcal per kg, for 70 kg and not for 90.
	if want := (410 - 70.0) / 70; math.Abs(perKg[6]-want) > 1e-9 {
		t.Errorf("%.3f kcal per kg claimed, want %.3f", perKg[6], want)
	}
	if _, notes, _ = f.activity(8000, d.Date.AddDays(20)); len(notes) != 0 {
		t.Errorf("three weeks later: %q", notes)
	}
	f.days = nil
	if b := f.bodyOn(d.Date); b.WeightKg != 90 {
		t.Errorf("with no log: %v kg", b.WeightKg)
	}
}

func TestLiftingWeek(t *testing.T) {
	monday := civil.Of(2026, 3, 2)
	on := func(week [7]cardio.DayTraining, day int, m athlete.Muscle) float64 {
		for _, s := range week[day].Sets {
			if s.Muscle == m {
				return s.Sets
			}
		}
		return 0
	}
	// Nothing known: ten sets a muscle spread over the two training days.
	f := somebody(80)
	week := f.liftingWeek(monday)
	if !week[0].Lifts || !week[3].Lifts || week[1].Lifts || on(week, 0, athlete.Back) != 5 || on(week, 1, athlete.Back) != 0 {
		t.Errorf("nothing known: %+v", week)
	}
	// The log of four weeks: squats on Tuesdays, two thirds direct to the quadriceps.
	for w := range 4 {
		for order := range 3 {
			f.sets = append(f.sets, athlete.Set{Date: monday.AddDays(-28 + 7*w + 1), Exercise: "back squat", WeightKg: 100, Reps: 6, Order: order + 1})
		}
	}
	f.sets = append(f.sets, athlete.Set{Date: monday.AddDays(-3), Exercise: "bench press", WeightKg: 80, Reps: 6, Order: 1})
	week = f.liftingWeek(monday)
	if !week[1].Lifts || on(week, 1, athlete.Quadriceps) != 3 || week[0].Lifts {
		t.Errorf("by the log: %+v", week)
	}
	// One Friday in four is no training day; its set counts for a quarter.
	if week[4].Lifts || on(week, 4, athlete.Chest) != 0.25 {
		t.Errorf("one Friday: %+v", week[4])
	}
	// A programme goes first, in the seven days from the date.
	f.programmes = []athlete.Programme{{From: monday, Name: "P", Weeks: []athlete.ProgrammeWeek{{Sessions: []athlete.PlannedSession{
		{Name: "A", Exercises: []athlete.PlannedExercise{{Exercise: "bench press", Sets: 4, RepsLow: 6, RepsHigh: 8}}},
		{Name: "B", Exercises: []athlete.PlannedExercise{{Exercise: "leg press", Sets: 3, RepsLow: 6, RepsHigh: 8}, {Exercise: "no such lift", Sets: 5, RepsLow: 1, RepsHigh: 2}}},
	}}}}}
	week = f.liftingWeek(monday.AddDays(2))
	if !week[0].Lifts || on(week, 0, athlete.Chest) != 4 || on(week, 3, athlete.Quadriceps) != 3 || week[1].Lifts || on(week, 1, athlete.Quadriceps) != 0 {
		t.Errorf("by the programme: %+v", week)
	}
}
