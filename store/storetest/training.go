package storetest

import (
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// fullProgramme has a value in every field but the version.
func fullProgramme(from civil.Date) *athlete.Programme {
	return &athlete.Programme{
		From: from, Name: "Four days", Phase: athlete.Prep, Notes: "keep the load", Author: "Ann",
		Weeks: []athlete.ProgrammeWeek{
			{Sessions: []athlete.PlannedSession{{
				Name: "Legs", Day: new(athlete.Weekday(time.Monday)), Notes: "warm up well",
				Exercises: []athlete.PlannedExercise{{
					Exercise: "back squat", Sets: 3, RepsLow: 5, RepsHigh: 8, RIR: new(2.0), RestSeconds: 180, Notes: "belt",
				}},
			}}},
			{Deload: true, Sessions: []athlete.PlannedSession{{
				Name: "Legs", Exercises: []athlete.PlannedExercise{{Exercise: "leg press", Sets: 2, RepsLow: 8, RepsHigh: 8}},
			}}},
		},
	}
}

func fullExercise(name string) *athlete.Exercise {
	return &athlete.Exercise{
		Name: name, Aliases: []string{"sissy"}, Pattern: athlete.Squat, Equipment: athlete.OwnBody, Stability: athlete.FreeStanding,
		Muscles: []athlete.Share{{Muscle: athlete.Quadriceps, Share: 1}, {Muscle: athlete.Abdominals, Share: 0.25}},
		Big:     true, BodyLoad: true, Loads: []athlete.Region{athlete.Knee},
	}
}

func programmeTests() []namedTest {
	to := func(s *suite, to civil.Date) []athlete.Programme {
		return get(s, func(tx app.Tx) ([]athlete.Programme, error) { return tx.Programmes("ann", to) })
	}
	return []namedTest{
		{"VersionsByAthlete", func(s *suite) {
			s.putAthletes("ann", "ben")
			var want []athlete.Programme
			for i, offset := range []int{0, 14} {
				p := fullProgramme(monday.AddDays(offset))
				s.write(func(tx app.Tx) error { return tx.AddProgramme("ann", p) })
				same(s, "version", p.Version, i+1)
				want = append(want, *p)
			}
			other := fullProgramme(monday)
			s.write(func(tx app.Tx) error { return tx.AddProgramme("ben", other) })
			same(s, "version of the other's", other.Version, 1)
			same(s, "all", to(s, end), want)
			same(s, "up to the first's date", to(s, monday), want[:1])
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			bad := fullProgramme(monday)
			bad.Weeks[0].Sessions[0].Exercises[0].Sets = 0
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.AddProgramme("ann", bad) })
			s.writeFails(fault.NotFound, func(tx app.Tx) error { return tx.AddProgramme("nobody", fullProgramme(monday)) })
			same(s, "all", len(to(s, end)), 0)
		}},
	}
}

func exerciseTests() []namedTest {
	list := func(s *suite) []athlete.Exercise {
		return get(s, func(tx app.Tx) ([]athlete.Exercise, error) { return tx.Exercises() })
	}
	return []namedTest{
		{"RoundTripByName", func(s *suite) {
			b, a := fullExercise("sissy squat"), fullExercise("cyclist squat")
			s.write(func(tx app.Tx) error { return tx.PutExercise(b) })
			s.write(func(tx app.Tx) error { return tx.PutExercise(a) })
			same(s, "all", list(s), []athlete.Exercise{*a, *b})
			b.Big = false
			s.write(func(tx app.Tx) error { return tx.PutExercise(b) })
			same(s, "after a change", list(s), []athlete.Exercise{*a, *b})
			s.write(func(tx app.Tx) error { return tx.RemoveExercise(a.Name) })
			same(s, "after a removal", list(s), []athlete.Exercise{*b})
			s.writeFails(fault.NotFound, func(tx app.Tx) error { return tx.RemoveExercise(a.Name) })
		}},
		{"InvalidIsRefused", func(s *suite) {
			bad := fullExercise("sissy squat")
			bad.Muscles = nil
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.PutExercise(bad) })
			same(s, "all", len(list(s)), 0)
		}},
		{"Names", func(s *suite) {
			names := func() []athlete.ExerciseName {
				return get(s, func(tx app.Tx) ([]athlete.ExerciseName, error) { return tx.ExerciseNames() })
			}
			for _, n := range []athlete.ExerciseName{{Typed: "my row", Exercise: "cable row"}, {Typed: "carry"}, {Typed: "my row", Exercise: "machine row"}} {
				s.write(func(tx app.Tx) error { return tx.PutExerciseName(n) })
			}
			same(s, "names", names(), []athlete.ExerciseName{{Typed: "carry"}, {Typed: "my row", Exercise: "machine row"}})
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.PutExerciseName(athlete.ExerciseName{Exercise: "cable row"}) })
		}},
		{"Settings", func(s *suite) {
			setting := func() (text string, has bool) {
				s.read(func(tx app.Tx) error {
					body, ok, err := tx.Setting("fatigue")
					text, has = string(body), ok
					return err
				})
				return text, has
			}
			_, has := setting()
			same(s, "at first", has, false)
			for _, body := range []string{`{"a":1}`, `{"a":2}`} {
				s.write(func(tx app.Tx) error { return tx.PutSetting("fatigue", []byte(body)) })
				text, has := setting()
				same(s, "setting", text, body)
				same(s, "is there", has, true)
			}
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.PutSetting("", []byte(`{}`)) })
		}},
	}
}
