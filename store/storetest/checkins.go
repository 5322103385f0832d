package storetest

import (
	"bytes"
	"time"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

func fullCheckIn(on civil.Date) athlete.CheckIn {
	return athlete.CheckIn{
		Date: on, Words: "slept badly;\n\"tired\" – Ærø", Signs: []athlete.Sign{athlete.Dizzy, athlete.CycleMissed},
		SentAt: source.At.UTC(), Who: "Ann",
	}
}

func checkInTests() []namedTest {
	put := func(s *suite, cs ...athlete.CheckIn) app.Merge {
		s.Helper()
		return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.PutCheckIns("ann", cs, source) })
	}
	to := func(s *suite, to civil.Date) []athlete.CheckIn {
		return get(s, func(tx app.Tx) ([]athlete.CheckIn, error) { return tx.CheckIns("ann", to) })
	}
	return []namedTest{
		{"RoundTripInOrderOfDate", func(s *suite) {
			s.putAthletes("ann", "ben")
			short := athlete.CheckIn{Date: monday.AddDays(-7), Words: "well", SentAt: source.At.UTC()}
			same(s, "merge", put(s, fullCheckIn(monday), short), app.Merge{Added: 2})
			same(s, "all", to(s, end), []athlete.CheckIn{short, fullCheckIn(monday)})
			same(s, "before", to(s, monday.AddDays(-1)), []athlete.CheckIn{short})
			others := get(s, func(tx app.Tx) ([]athlete.CheckIn, error) { return tx.CheckIns("ben", end) })
			same(s, "of another", len(others), 0)
		}},
		{"OneADate", func(s *suite) {
			s.putAthletes("ann")
			put(s, fullCheckIn(monday))
			same(s, "again", put(s, fullCheckIn(monday)), app.Merge{Same: 1})
			other := fullCheckIn(monday)
			other.Words = "better"
			same(s, "other words", put(s, other), app.Merge{Corrected: 1})
			same(s, "stored", to(s, end), []athlete.CheckIn{other})
			same(s, "corrections", changes(s), []string{"check-in: words: slept badly;\n\"tired\" – Ærø -> better"})
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			bad := fullCheckIn(monday)
			bad.Signs = []athlete.Sign{"hiccups"}
			s.writeFails(fault.Invalid, func(tx app.Tx) error {
				return dropMerge(tx.PutCheckIns("ann", []athlete.CheckIn{bad}, source))
			})
			s.writeFails(fault.NotFound, func(tx app.Tx) error {
				return dropMerge(tx.PutCheckIns("nobody", []athlete.CheckIn{fullCheckIn(monday)}, source))
			})
		}},
	}
}

func photoTests() []namedTest {
	photo := func(on civil.Date, pose athlete.Pose) athlete.Photo {
		return athlete.Photo{Date: on, Pose: pose, Width: 1200, Height: 1600, AddedAt: source.At.UTC()}
	}
	put := func(s *suite, id string, p athlete.Photo, jpeg string) {
		s.Helper()
		s.write(func(tx app.Tx) error { return tx.PutPhoto(id, &p, []byte(jpeg)) })
	}
	picture := func(s *suite, id string, p athlete.Photo) string {
		s.Helper()
		return string(get(s, func(tx app.Tx) ([]byte, error) { return tx.Picture(id, p.Date, p.Pose) }))
	}
	all := func(s *suite, to civil.Date) []athlete.Photo {
		s.Helper()
		return get(s, func(tx app.Tx) ([]athlete.Photo, error) { return tx.Photos("ann", to) })
	}
	front, back, older := photo(monday, athlete.FromFront), photo(monday, athlete.FromBack), photo(monday.AddDays(-7), athlete.FromSide)
	return []namedTest{
		{"RoundTripByDateAndPose", func(s *suite) {
			s.putAthletes("ann", "ben")
			large := string(bytes.Repeat([]byte{0, 255, 7}, 400_000))
			put(s, "ann", back, large)
			put(s, "ann", front, "front")
			put(s, "ann", older, "older")
			put(s, "ben", front, "of Ben")
			same(s, "all", all(s, end), []athlete.Photo{older, front, back})
			same(s, "before", all(s, monday.AddDays(-1)), []athlete.Photo{older})
			if picture(s, "ann", back) != large || picture(s, "ann", front) != "front" || picture(s, "ben", front) != "of Ben" {
				s.Fatal("the pictures are not those that were put")
			}
		}},
		{"NewInThePlaceOfTheOld", func(s *suite) {
			s.putAthletes("ann")
			put(s, "ann", front, "first")
			later := front
			later.Width, later.AddedAt = 900, source.At.UTC().Add(time.Hour)
			put(s, "ann", later, "second")
			same(s, "all", all(s, end), []athlete.Photo{later})
			same(s, "picture", picture(s, "ann", front), "second")
		}},
		{"Remove", func(s *suite) {
			s.putAthletes("ann")
			put(s, "ann", front, "front")
			put(s, "ann", back, "back")
			remove := func(tx app.Tx) error { return tx.RemovePhoto("ann", front.Date, front.Pose) }
			s.write(remove)
			same(s, "all", all(s, end), []athlete.Photo{back})
			s.writeFails(fault.NotFound, remove)
			s.writeFails(fault.NotFound, func(tx app.Tx) error {
				_, err := tx.Picture("ann", front.Date, front.Pose)
				return err
			})
		}},
		{"GoWithTheAthlete", func(s *suite) {
			s.putAthletes("ann")
			put(s, "ann", front, "front")
			s.write(func(tx app.Tx) error { return tx.RemoveAthlete("ann") })
			s.putAthletes("ann")
			same(s, "all", len(all(s, end)), 0)
		}},
		{"InvalidIsRefused", func(s *suite) {
			s.putAthletes("ann")
			for _, bad := range []athlete.Photo{photo(0, athlete.FromFront), photo(monday, "flying"), {Date: monday, Pose: athlete.FromFront, Width: 99999, Height: 10}} {
				s.writeFails(fault.Invalid, func(tx app.Tx) error { return tx.PutPhoto("ann", &bad, nil) })
			}
		}},
	}
}

func dropTests() []namedTest {
	drop := func(s *suite, fields ...string) app.Merge {
		s.Helper()
		return s.merge(func(tx app.Tx) (app.Merge, error) { return tx.DropDay("ann", monday, fields, source) })
	}
	return []namedTest{
		{"EveryField", func(s *suite) {
			s.putAthletes("ann")
			s.putDays("ann", fullDay(monday))
			for _, c := range fieldCases() {
				if c.name == "weight_stands" {
					continue // goes with its weight
				}
				if m := drop(s, c.name); m.Corrected == 0 {
					s.Fatalf("%s was not dropped: %+v", c.name, m)
				}
				same(s, c.name+" again", drop(s, c.name), app.Merge{Same: 1})
			}
			same(s, "what is left", s.days("ann"), []athlete.Day{{Date: monday}})
		}},
		{"IsACorrection", func(s *suite) {
			s.putAthletes("ann")
			s.putDays("ann", athlete.Day{Date: monday, WeightKg: new(68.4), Steps: new(9000.0)})
			same(s, "merge", drop(s, "weight_kg", "notes"), app.Merge{Corrected: 1, Same: 1})
			same(s, "stored", s.days("ann"), []athlete.Day{{Date: monday, Steps: new(9000.0)}})
			same(s, "corrections", changes(s), []string{"weight_kg: 68.4 -> "})
		}},
		{"NothingThere", func(s *suite) {
			s.putAthletes("ann")
			same(s, "merge", drop(s, "steps"), app.Merge{Same: 1})
			same(s, "stored", len(s.days("ann")), 0)
			s.writeFails(fault.Invalid, func(tx app.Tx) error { return dropMerge(tx.DropDay("ann", monday, []string{"shoe_size"}, source)) })
			s.writeFails(fault.NotFound, func(tx app.Tx) error { return dropMerge(tx.DropDay("nobody", monday, []string{"steps"}, source)) })
		}},
	}
}
