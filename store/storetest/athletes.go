package storetest

import (
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

func athleteTests() []namedTest {
	return []namedTest{
		{"RoundTrip", func(s *suite) {
			want := fullAthlete("ann-1")
			s.write(func(tx app.Tx) error { return tx.PutAthlete(want) })
			got := get(s, func(tx app.Tx) (*athlete.Athlete, error) { return tx.Athlete("ann-1") })
			same(s, "athlete", got, want)
		}},
		{"ListedByID", func(s *suite) {
			same(s, "athletes at first", len(get(s, app.Tx.Athletes)), 0)
			s.putAthletes("cleo", "ann", "ben", "ann-2")
			same(s, "athletes", ids(s), []string{"ann", "ann-2", "ben", "cleo"})
		}},
		{"ChangeKeepsOlderVersions", athleteVersions},
		{"InvalidIsRefused", func(s *suite) {
			a := newAthlete("ann")
			a.HeightCm = 17
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.PutAthlete(a) })
			same(s, "athletes", len(get(s, app.Tx.Athletes)), 0)
		}},
		{"RemovedWithAllTheirs", removeAthlete},
		{"MissingIsNotFound", missingAthlete},
	}
}

func ids(s *suite) (ids []string) {
	for _, a := range get(s, app.Tx.Athletes) {
		ids = append(ids, a.ID)
	}
	return ids
}

func athleteVersions(s *suite) {
	start := time.Now()
	s.putAthletes("ann", "ben")
	s.putAthletes("ann") // nothing new in it
	for _, height := range []float64{168, 169} {
		a := newAthlete("ann")
		a.HeightCm = height
		s.write(func(tx app.Tx) error { return tx.PutAthlete(a) })
	}
	versions := func(id string) []app.AthleteVersion {
		return get(s, func(tx app.Tx) ([]app.AthleteVersion, error) { return tx.AthleteVersions(id) })
	}
	var heights []float64
	for _, v := range versions("ann") {
		heights = append(heights, v.Athlete.HeightCm)
		// A clock set back between the two would be needed to make this fail.
		if v.ReplacedAt.Before(start.Add(-time.Minute)) || v.ReplacedAt.After(time.Now().Add(time.Minute)) {
			s.Fatalf("replaced at %s, which is not now", v.ReplacedAt)
		}
	}
	same(s, "older heights", heights, []float64{newAthlete("").HeightCm, 168})
	same(s, "versions of the other", len(versions("ben")), 0)
	now := get(s, func(tx app.Tx) (*athlete.Athlete, error) { return tx.Athlete("ann") })
	same(s, "height now", now.HeightCm, 169)
}

// fill gives an athlete some of everything.
func fill(s *suite, id string) {
	s.putAthletes(id)
	s.write(func(tx app.Tx) error {
		a := newAthlete(id)
		a.Name = "Renamed " + id
		if err := tx.PutAthlete(a); err != nil {
			return err
		}
		set := athlete.Set{Date: monday, Exercise: "squat", WeightKg: 90, Reps: 6, Order: 1}
		p := fullPrescription(monday)
		review := app.Review{Date: monday, Proposal: []byte(`{}`), Decision: app.Accepted, Version: 1}
		for _, put := range []func() error{
			func() error {
				return dropMerge(tx.PutDays(id, []athlete.Day{{Date: monday, WeightKg: new(68.0)}}, source))
			},
			func() error {
				return dropMerge(tx.PutDays(id, []athlete.Day{{Date: monday, WeightKg: new(69.0)}}, source))
			},
			func() error {
				return dropMerge(tx.PutMeasurements(id, []athlete.Measurement{fullMeasurement(monday)}, source))
			},
			func() error { return dropMerge(tx.PutSets(id, []athlete.Set{set}, source)) },
			func() error {
				return dropMerge(tx.PutSessions(id, []athlete.Session{{Date: monday, Minutes: 60, RPE: 7}}, source))
			},
			func() error { return tx.AddPrescription(id, p) },
			func() error { return tx.AddProgramme(id, fullProgramme(monday)) },
			func() error { return tx.PutReview(id, &review) },
		} {
			if err := put(); err != nil {
				return err
			}
		}
		return nil
	})
}

func dropMerge(_ app.Merge, err error) error { return err }

// counts is how many records of each kind an athlete has.
func counts(s *suite, id string) (n [9]int) {
	s.read(func(tx app.Tx) error {
		for i, list := range lists() {
			var err error
			if n[i], err = list(tx, id); err != nil {
				return err
			}
		}
		return nil
	})
	return n
}

// lists are the methods that list what belongs to an athlete.
func lists() [9]func(app.Tx, string) (int, error) {
	return [...]func(app.Tx, string) (int, error){
		func(tx app.Tx, id string) (int, error) { return counted(tx.Days(id, beginning, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Corrections(id)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Measurements(id, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Sets(id, beginning, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Sessions(id, beginning, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Prescriptions(id, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Programmes(id, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.Reviews(id, end)) },
		func(tx app.Tx, id string) (int, error) { return counted(tx.AthleteVersions(id)) },
	}
}

func counted[T any](list []T, err error) (int, error) { return len(list), err }

func removeAthlete(s *suite) {
	for _, id := range []string{"ann", "ben"} {
		fill(s, id)
	}
	one := [9]int{1, 1, 1, 1, 1, 1, 1, 1, 1}
	same(s, "records before", counts(s, "ann"), one)
	s.write(func(tx app.Tx) error { return tx.RemoveAthlete("ann") })
	same(s, "athletes left", ids(s), []string{"ben"})
	same(s, "records of the other", counts(s, "ben"), one)
	s.putAthletes("ann") // somebody new of the same name finds nothing
	same(s, "records of the namesake", counts(s, "ann"), [9]int{})
}

func missingAthlete(s *suite) {
	s.putAthletes("ann")
	none := func(tx app.Tx) error { _, err := tx.Athlete("nobody"); return err }
	s.writeFails(fault.NotFound, none)
	for _, list := range lists() {
		s.writeFails(fault.NotFound, func(tx app.Tx) error { _, err := list(tx, "nobody"); return err })
	}
	for _, put := range []func(app.Tx) error{
		func(tx app.Tx) error { return tx.RemoveAthlete("nobody") },
		func(tx app.Tx) error { return dropMerge(tx.PutDays("nobody", nil, source)) },
		func(tx app.Tx) error { return dropMerge(tx.PutDays("nobody", []athlete.Day{fullDay(monday)}, source)) },
		func(tx app.Tx) error { return dropMerge(tx.PutMeasurements("nobody", nil, source)) },
		func(tx app.Tx) error { return dropMerge(tx.PutSets("nobody", nil, source)) },
		func(tx app.Tx) error { return dropMerge(tx.PutSessions("nobody", nil, source)) },
		func(tx app.Tx) error { return tx.AddPrescription("nobody", fullPrescription(monday)) },
		func(tx app.Tx) error { return tx.PutReview("nobody", &app.Review{Date: civil.Date(1)}) },
	} {
		s.writeFails(fault.NotFound, put)
	}
}
