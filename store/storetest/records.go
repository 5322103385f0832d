package storetest

import (
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

func measurementTests() []namedTest {
	put := func(s *suite, ms ...athlete.Measurement) app.Merge {
		s.Helper()
		return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.PutMeasurements("ann", ms, source) })
	}
	to := func(s *suite, to civil.Date) []athlete.Measurement {
		return get(s, func(tx app.Tx) ([]athlete.Measurement, error) { return tx.Measurements("ann", to) })
	}
	return []namedTest{
		{"RoundTripInOrderOfDateThenEntry", func(s *suite) {
			s.putAthletes("ann")
			eye := athlete.Measurement{Date: monday, Method: athlete.Eye, By: "Ann", BodyFatPct: new(18.0)}
			scan := athlete.Measurement{Date: monday.AddDays(-30), Method: athlete.Scan, BodyFatPct: new(19.5)}
			same(s, "merge", put(s, eye, fullMeasurement(monday), scan), app.Merge{Added: 3})
			same(s, "all", to(s, end), []athlete.Measurement{scan, eye, fullMeasurement(monday)})
			same(s, "before", to(s, monday.AddDays(-1)), []athlete.Measurement{scan})
			same(s, "up to the date", len(to(s, monday)), 3)
		}},
		{"OneASeriesAndDate", func(s *suite) {
			s.putAthletes("ann")
			first := fullMeasurement(monday)
			other := first
			other.By = "Ben"
			put(s, first)
			same(s, "merge", put(s, first, other), app.Merge{Added: 1, Same: 1})
			fixed := first
			fixed.BodyFatPct, fixed.WeightKg = new(17.5), nil
			fixed.FoldsMm = map[string]float64{"chest": 6.5, "thigh": 17, "abdomen": 14.25, "triceps": 9}
			same(s, "merge of a correction", put(s, fixed), app.Merge{Corrected: 1})
			same(s, "stored", to(s, end), []athlete.Measurement{fixed, other})
			same(s, "corrections", changes(s), []string{
				"calipers 7-site by Ann: body_fat_pct: 17.35 -> 17.5",
				"calipers 7-site by Ann: folds_mm.thigh: 18 -> 17",
				"calipers 7-site by Ann: folds_mm.triceps:  -> 9",
				"calipers 7-site by Ann: weight_kg: 68.4 -> ",
			})
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			bad := fullMeasurement(monday)
			bad.FoldsMm = map[string]float64{"elbow": 5}
			s.writeFails(fault.Invalid, func(tx app.Tx) error {
				return dropMerge(tx.PutMeasurements("ann", []athlete.Measurement{bad}, source))
			})
			same(s, "stored", len(to(s, end)), 0)
		}},
	}
}

// changes are what was corrected of Ann, in words.
func changes(s *suite) (read []string) {
	for _, c := range s.corrections("ann") {
		read = append(read, c.Field+": "+c.Old+" -> "+c.New)
	}
	return read
}

func setTests() []namedTest {
	squat := func(order, reps int) athlete.Set {
		return athlete.Set{Date: monday, Exercise: "squat", WeightKg: 92.5, Reps: reps, Order: order}
	}
	full := athlete.Set{
		Date: monday, Exercise: "split squat", WeightKg: 20, Reps: 10, RIR: new(1.5), Side: "left", Order: 3, Notes: "slow",
	}
	put := func(s *suite, sets ...athlete.Set) app.Merge {
		s.Helper()
		return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.PutSets("ann", sets, source) })
	}
	list := func(s *suite, from, to civil.Date) []athlete.Set {
		return get(s, func(tx app.Tx) ([]athlete.Set, error) { return tx.Sets("ann", from, to) })
	}
	return []namedTest{
		{"RoundTripInOrderOfDateThenEntry", func(s *suite) {
			s.putAthletes("ann")
			before := athlete.Set{Date: monday.AddDays(-1), Exercise: "row", WeightKg: 0, Reps: 12, Order: 1}
			same(s, "merge", put(s, squat(1, 6), squat(2, 6), full, before), app.Merge{Added: 4})
			same(s, "all", list(s, beginning, end), []athlete.Set{before, squat(1, 6), squat(2, 6), full})
			same(s, "one day", list(s, monday.AddDays(-1), monday.AddDays(-1)), []athlete.Set{before})
		}},
		{"OneADateExerciseAndOrder", func(s *suite) {
			s.putAthletes("ann")
			put(s, squat(1, 6), squat(2, 6))
			same(s, "merge", put(s, squat(1, 6), squat(2, 5), full), app.Merge{Added: 1, Same: 1, Corrected: 1})
			same(s, "all", list(s, beginning, end), []athlete.Set{squat(1, 6), squat(2, 5), full})
			same(s, "corrections", changes(s), []string{"squat, set 2: reps: 6 -> 5"})
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			s.writeFails(fault.Invalid, func(tx app.Tx) error {
				return dropMerge(tx.PutSets("ann", []athlete.Set{squat(1, 6), squat(2, 0)}, source))
			})
			same(s, "all", len(list(s, beginning, end)), 0)
		}},
		{"DropIsACorrection", func(s *suite) {
			s.putAthletes("ann")
			put(s, squat(1, 6), squat(2, 6))
			drop := func(order int) app.Merge {
				return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.DropSet("ann", monday, "squat", order, source) })
			}
			same(s, "merge", drop(1), app.Merge{Corrected: 1})
			same(s, "again", drop(1), app.Merge{Same: 1})
			same(s, "all", list(s, beginning, end), []athlete.Set{squat(2, 6)})
			same(s, "corrections", changes(s), []string{
				`squat, set 1: {"date":"` + monday.String() + `","exercise":"squat","weight_kg":92.5,"reps":6,"order":1} -> `,
			})
			s.writeFails(fault.NotFound, func(tx app.Tx) error { return dropMerge(tx.DropSet("nobody", monday, "squat", 1, source)) })
		}},
		{"SessionsOneADate", sessions},
	}
}

func sessions(s *suite) {
	s.putAthletes("ann")
	put := func(all ...athlete.Session) app.Merge {
		s.Helper()
		return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.PutSessions("ann", all, source) })
	}
	first := athlete.Session{Date: monday, Minutes: 62.5, RPE: 7}
	later := athlete.Session{Date: monday.AddDays(2), Minutes: 70, RPE: 8.5}
	same(s, "merge", put(later, first), app.Merge{Added: 2})
	fixed := first
	fixed.RPE = 6
	same(s, "merge of a correction", put(later, fixed), app.Merge{Same: 1, Corrected: 1})
	list := func(from, to civil.Date) []athlete.Session {
		return get(s, func(tx app.Tx) ([]athlete.Session, error) { return tx.Sessions("ann", from, to) })
	}
	same(s, "all", list(beginning, end), []athlete.Session{fixed, later})
	same(s, "one day", list(monday.AddDays(2), monday.AddDays(2)), []athlete.Session{later})
	same(s, "corrections", changes(s), []string{"session: rpe: 7 -> 6"})
	for _, bad := range []athlete.Session{{Minutes: 60, RPE: 7}, {Date: monday, Minutes: math.NaN(), RPE: 7}} {
		s.writeFails(fault.Invalid, func(tx app.Tx) error {
			return dropMerge(tx.PutSessions("ann", []athlete.Session{bad}, source))
		})
	}
}

func prescriptionTests() []namedTest {
	to := func(s *suite, to civil.Date) []athlete.Prescription {
		return get(s, func(tx app.Tx) ([]athlete.Prescription, error) { return tx.Prescriptions("ann", to) })
	}
	return []namedTest{
		{"VersionsByAthlete", func(s *suite) {
			s.putAthletes("ann", "ben")
			var want []athlete.Prescription
			for i, offset := range []int{0, 14, 7} { // the third goes back on the second
				p := fullPrescription(monday.AddDays(offset))
				p.Version = 40 // is set, not taken
				s.write(func(tx app.Tx) error { return tx.AddPrescription("ann", p) })
				same(s, "version", p.Version, i+1)
				want = append(want, *p)
			}
			other := fullPrescription(monday)
			s.write(func(tx app.Tx) error { return tx.AddPrescription("ben", other) })
			same(s, "version of the other's", other.Version, 1)
			same(s, "all", to(s, end), want)
			same(s, "up to the third's date", to(s, monday.AddDays(7)), []athlete.Prescription{want[0], want[2]})
			same(s, "before", len(to(s, monday.AddDays(-1))), 0)
		}},
		{"UndoneVersionIsGivenAgain", func(s *suite) {
			s.putAthletes("ann")
			_ = s.store.Write(s.Context(), func(tx app.Tx) error {
				if err := tx.AddPrescription("ann", fullPrescription(monday)); err != nil {
					s.Fatal(err)
				}
				return errDeliberate
			})
			p := fullPrescription(monday)
			s.write(func(tx app.Tx) error { return tx.AddPrescription("ann", p) })
			same(s, "version", p.Version, 1)
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			p := fullPrescription(monday)
			p.Days[0].PerWeek = 5
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.AddPrescription("ann", p) })
			same(s, "all", len(to(s, end)), 0)
		}},
	}
}

func reviewTests() []namedTest {
	list := func(s *suite, to civil.Date) []app.Review {
		return get(s, func(tx app.Tx) ([]app.Review, error) { return tx.Reviews("ann", to) })
	}
	put := func(r app.Review) func(app.Tx) error {
		return func(tx app.Tx) error { return tx.PutReview("ann", &r) }
	}
	undecided := app.Review{Date: monday, Proposal: []byte(`{"hold":true}`)}
	decided := app.Review{
		Date: monday, Proposal: []byte("{\"hold\": false}\n"), Decision: app.Edited, Reason: "a trip", Who: "Ann",
		DecidedAt: source.At, Version: 1,
	}
	return []namedTest{
		{"UndecidedIsReplacedDecidedStays", func(s *suite) {
			s.putAthletes("ann")
			s.write(put(app.Review{Date: monday}))
			s.write(put(undecided))
			same(s, "undecided", list(s, end), []app.Review{undecided})
			s.write(func(tx app.Tx) error {
				if err := tx.AddPrescription("ann", fullPrescription(monday)); err != nil {
					return err
				}
				return put(decided)(tx)
			})
			same(s, "decided", list(s, end), []app.Review{decided})
			s.writeFails(fault.Conflict, put(undecided))
			s.writeFails(fault.Conflict, put(decided))
			same(s, "after", list(s, end), []app.Review{decided})
		}},
		{"ByDate", func(s *suite) {
			s.putAthletes("ann")
			later := app.Review{Date: monday.AddDays(7), Decision: app.Declined, Reason: "ill"}
			s.write(put(later))
			s.write(put(undecided))
			same(s, "all", list(s, end), []app.Review{undecided, later})
			same(s, "the first", list(s, monday), []app.Review{undecided})
			same(s, "before", len(list(s, monday.AddDays(-1))), 0)
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			s.writeFails(fault.Invalid, put(app.Review{}))
			s.writeFails(fault.Invalid, put(app.Review{Date: monday, Decision: "perhaps"}))
			s.writeFails(fault.NotFound, put(decided)) // version 1 is not there
			same(s, "all", len(list(s, end)), 0)
		}},
	}
}

func mappingTests() []namedTest {
	type answer struct {
		Text string
		OK   bool
	}
	find := func(s *suite, signature string) (a answer) {
		s.read(func(tx app.Tx) error {
			text, ok, err := tx.Mapping(signature)
			a = answer{string(text), ok}
			return err
		})
		return a
	}
	put := func(signature, text string) func(app.Tx) error {
		return func(tx app.Tx) error { return tx.PutMapping(signature, []byte(text)) }
	}
	return []namedTest{
		{"LastOneIsRemembered", func(s *suite) {
			same(s, "none", find(s, "day|weight"), answer{})
			s.write(put("day|weight", "first"))
			s.write(put("day|weight", "second"))
			s.write(put("day|steps", ""))
			same(s, "replaced", find(s, "day|weight"), answer{"second", true})
			same(s, "empty", find(s, "day|steps"), answer{"", true})
			same(s, "another", find(s, "Day|weight"), answer{})
		}},
		{"OutlivesAthletes", func(s *suite) {
			s.putAthletes("ann")
			s.write(put("day|weight", "first"))
			s.write(func(tx app.Tx) error { return tx.RemoveAthlete("ann") })
			same(s, "mapping", find(s, "day|weight"), answer{"first", true})
		}},
		{"NeedsASignature", func(s *suite) { s.writeFails(fault.Invalid, put("", "text")) }},
	}
}
