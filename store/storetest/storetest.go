// Package storetest has the suite that every implementation of app.Store must
// pass. All athletes, dates and values in it are invented.
package storetest

import (
	"errors"
	"testing"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"

	"github.com/google/go-cmp/cmp"
)

// Options says what an implementation need not do.
type Options struct {
	// Serial stores let one transaction run at a time, so that a Read cannot
	// overlap a Write.
	Serial bool
}

// Run runs the suite. Open gives a new and empty store each time, which closes
// itself with the test.
func Run(t *testing.T, open func(*testing.T) app.Store, opts Options) {
	groups := []struct {
		name  string
		tests []namedTest
	}{
		{"Athletes", athleteTests()},
		{"Days", dayTests()},
		{"Measurements", measurementTests()},
		{"Sets", setTests()},
		{"Prescriptions", prescriptionTests()},
		{"Programmes", programmeTests()},
		{"Exercises", exerciseTests()},
		{"Reviews", reviewTests()},
		{"Mappings", mappingTests()},
		{"CheckIns", checkInTests()},
		{"Photos", photoTests()},
		{"Notes", noteTests()},
		{"DropDay", dropTests()},
		{"Transactions", transactionTests(opts)},
	}
	for _, g := range groups {
		t.Run(g.name, func(t *testing.T) {
			for _, test := range g.tests {
				t.Run(test.name, func(t *testing.T) { test.run(&suite{t, open(t)}) })
			}
		})
	}
}

type namedTest struct {
	name string
	run  func(*suite)
}

// suite is one test on one store.
type suite struct {
	*testing.T
	store app.Store
}

// write runs fn in a transaction that must be kept.
func (s *suite) write(fn func(app.Tx) error) {
	s.Helper()
	if err := s.store.Write(s.Context(), fn); err != nil {
		s.Fatalf("write: %v", err)
	}
}

// read runs fn on a snapshot.
func (s *suite) read(fn func(app.Tx) error) {
	s.Helper()
	if err := s.store.Read(s.Context(), fn); err != nil {
		s.Fatalf("read: %v", err)
	}
}

// writeFails runs fn in a transaction that must end in a fault of a kind.
func (s *suite) writeFails(kind fault.Kind, fn func(app.Tx) error) {
	s.Helper()
	err := s.store.Write(s.Context(), fn)
	if err == nil || fault.KindOf(err) != kind {
		s.Fatalf("the write ended in %v (kind %q), not in a fault of kind %q", err, fault.KindOf(err), kind)
	}
}

func (s *suite) putAthletes(ids ...string) {
	s.Helper()
	s.write(func(tx app.Tx) error {
		for _, id := range ids {
			if err := tx.PutAthlete(newAthlete(id)); err != nil {
				return err
			}
		}
		return nil
	})
}

func (s *suite) putDays(id string, days ...athlete.Day) app.Merge {
	s.Helper()
	return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.PutDays(id, days, source) })
}

func (s *suite) merge(put func(app.Tx) (app.Merge, error)) (m app.Merge) {
	s.Helper()
	s.write(func(tx app.Tx) (err error) {
		m, err = put(tx)
		return err
	})
	return m
}

// get reads with one method of the Tx.
func get[T any](s *suite, method func(app.Tx) (T, error)) (v T) {
	s.Helper()
	s.read(func(tx app.Tx) (err error) {
		v, err = method(tx)
		return err
	})
	return v
}

func (s *suite) days(id string) []athlete.Day {
	s.Helper()
	return get(s, func(tx app.Tx) ([]athlete.Day, error) { return tx.Days(id, beginning, end) })
}

func (s *suite) corrections(id string) []app.Correction {
	s.Helper()
	return get(s, func(tx app.Tx) ([]app.Correction, error) { return tx.Corrections(id) })
}

// same fails the test where got is not what is wanted.
func same[T any](s *suite, what string, got, want T) {
	s.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		s.Fatalf("%s (-want +got):\n%s", what, diff)
	}
}

// errDeliberate undoes a transaction.
var errDeliberate = errors.New("deliberate")

var (
	beginning = civil.MustParse("0001-01-01")
	end       = civil.MustParse("9999-12-31")
	monday    = civil.MustParse("2026-03-02")

	source = app.Source{
		Name: "log.csv", Who: "Ann",
		At: time.Date(2026, 3, 9, 7, 30, 15, 123456789, time.FixedZone("", 3600)),
	}
)

// newAthlete is a valid athlete, invented.
func newAthlete(id string) *athlete.Athlete {
	return &athlete.Athlete{
		ID: id, Name: "Invented " + id, Sex: athlete.Female,
		BirthDate: civil.MustParse("1994-05-17"), HeightCm: 167.5, WeightKg: 68.25, WeighedOn: monday,
		TrainingYears: 6, StepsPerDay: 8000, CardioMinutesMax: 180,
	}
}

// fullAthlete has a value in every field.
func fullAthlete(id string) *athlete.Athlete {
	a := newAthlete(id)
	limits := athlete.DefaultLimits(a.Sex)
	limits.LowAvailability = &athlete.LowAvailability{From: monday, Weeks: 2, Why: "last weeks", Who: "Ann"}
	limits.Changes = []athlete.LimitChange{{
		Field: "fat_g_per_kg", Old: 0.5, New: 0.6, Who: "Ann", When: source.At.UTC(), Why: "asked for",
	}}
	a.Units = athlete.Imperial
	a.StageWeights = []athlete.StageWeight{{Date: monday.AddDays(-400), WeightKg: 57.3, BodyFatPct: new(12.5)}}
	a.MaintenanceEnergyKcal = new(2315.5)
	a.StepsPerDayMax = 12000
	a.TrainingDays = []athlete.Weekday{athlete.Weekday(time.Monday), athlete.Weekday(time.Thursday)}
	a.TrainingMinutes = 65
	a.Cardio = []athlete.CardioKind{athlete.InclineWalk, athlete.Cycling}
	a.CardioMinutesPerWeek, a.CardioSessionMax = 60, 45
	a.Equipment = []athlete.Equipment{athlete.Machine, athlete.Dumbbell}
	a.SpareRegions = []athlete.Region{athlete.Knee}
	a.Injuries = []athlete.Injury{{From: monday, Where: athlete.Shoulder, What: "pinches overhead", Until: monday.AddDays(30), Clinician: "Dr. Invented"}}
	a.MenstrualCycle, a.CycleLengthDays = true, 29
	a.FoodsLiked, a.FoodsAvoided = []string{"rice", "skyr"}, []string{"liver <raw> & fried"}
	a.BodyFat = []athlete.Measurement{fullMeasurement(monday)}
	a.Screening = athlete.Screening{
		AnsweredOn: monday, Cautions: []athlete.Caution{athlete.Fainting},
		Clearances: []athlete.Clearance{{
			Caution: athlete.Fainting, Clinician: "Dr. Invented", Date: monday, Until: monday.AddDays(90), Note: "ok",
		}},
	}
	a.Shows = []athlete.Show{{
		ID: "spring", Name: "Invented Cup", Date: monday.AddDays(120), Division: "figure",
		ClassLimit:       &athlete.ClassLimit{HeightLess: new(105.0), AllowanceKg: 1},
		TargetBodyFatPct: 13, TargetTolerance: 1.5, TargetStageWeight: new(58.5),
	}}
	a.Events = []athlete.Event{{From: monday, To: monday.AddDays(6), Kind: "travel", Note: "by ferry", Maintenance: true}}
	a.Limits = &limits
	return a
}

// fullDay has a value in every field.
func fullDay(on civil.Date) athlete.Day {
	return athlete.Day{
		Date: on, WeightKg: new(68.4), EnergyKcal: new(2140.5), ProteinG: new(151.25), CarbohydrateG: new(230.1),
		FatG: new(61.7), FibreG: new(28.3), SodiumMg: new(2350.0), Steps: new(9123.0),
		Cardio: []athlete.CardioBout{
			{Kind: athlete.InclineWalk, Minutes: 30, SpeedKmh: new(5.4), GradePct: new(8.0)},
			{Kind: athlete.Cycling, Minutes: 20.5, Watts: new(130.0), ClaimedKcal: new(210.0), ClaimedBy: athlete.ByWatch},
			{Kind: athlete.StairClimbing, Minutes: 12, StepsPerMin: new(24.0), StepHeightCm: new(20.0)},
			{Kind: athlete.OtherActivity, Minutes: 45, Code: "15075"},
		},
		Soreness: new(5.0), Motivation: new(6.0), Mood: new(7.0), Pain: new(2.0), PainWhere: athlete.Shoulder,
		SleepH: new(7.25), Hunger: new(4.0), Fatigue: new(3.0), RestingPulse: new(54.0), CycleDay: new(12),
		DayType: athlete.TrainingDay, Notes: "late meal; \"salty\" – Ærø\nsecond line",
		WeightStands: &athlete.WeightStands{Use: true, Who: "Ann"},
	}
}

func fullMeasurement(on civil.Date) athlete.Measurement {
	return athlete.Measurement{
		Date: on, Method: athlete.Calipers7, By: "Ann", BodyFatPct: new(17.35),
		FoldsMm:  map[string]float64{"chest": 6.5, "thigh": 18, "abdomen": 14.25},
		GirthsCm: map[string]float64{"waist": 70.5, "neck": 32}, WeightKg: new(68.4), Note: "after breakfast",
	}
}

// fullPrescription has a value in every field but the version.
func fullPrescription(from civil.Date) *athlete.Prescription {
	return &athlete.Prescription{
		From: from,
		Days: []athlete.DayPrescribed{
			{Type: athlete.TrainingDay, PerWeek: 4, EnergyKcal: 2100, ProteinG: 150, CarbohydrateG: 240, FatG: 60, FibreG: 25},
			{Type: athlete.RestDay, PerWeek: 3, EnergyKcal: 1900, ProteinG: 150, CarbohydrateG: 190, FatG: 60, FibreG: 25},
		},
		Steps:  9000,
		Cardio: []athlete.CardioPlan{{Kind: athlete.InclineWalk, MinutesPerWeek: 90, Sessions: 3}},
		Sets:   []athlete.MuscleSets{{Muscle: athlete.Glutes, Sets: 14}},
		Phase:  athlete.Prep, Reasons: []string{"loss is 0.2 % a week below plan"}, Author: "Ann",
		Rule: "training on four days", Refeeds: []athlete.Weekday{athlete.Weekday(time.Saturday)},
		Origin: athlete.FromEdit,
	}
}
