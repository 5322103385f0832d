package store

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// inventedDays makes n days in a row with the values that a keen athlete logs.
func inventedDays(n int, seed uint64) []athlete.Day {
	r := rand.New(rand.NewPCG(seed, 1))
	from := civil.MustParse("1700-01-01")
	days := make([]athlete.Day, n)
	for i := range days {
		days[i] = athlete.Day{
			Date: from.AddDays(i), WeightKg: new(60 + 10*r.Float64()),
			EnergyKcal: new(1800 + 500*r.Float64()), ProteinG: new(140 + 20*r.Float64()),
			CarbohydrateG: new(180 + 90*r.Float64()), FatG: new(50 + 20*r.Float64()),
			Steps: new(float64(r.IntN(15000))), SleepH: new(6 + 2*r.Float64()), DayType: athlete.TrainingDay,
		}
		if i%3 == 0 {
			days[i].Cardio = []athlete.CardioBout{{Kind: athlete.InclineWalk, Minutes: float64(20 + r.IntN(30))}}
		}
	}
	return days
}

func inventedAthlete(id string) *athlete.Athlete {
	return &athlete.Athlete{
		ID: id, Name: "Invented " + id, Sex: athlete.Male, BirthDate: civil.MustParse("1990-01-01"),
		HeightCm: 180, WeightKg: 90, WeighedOn: civil.MustParse("2026-01-01"),
	}
}

// importDays puts each athlete's days in one transaction.
func importDays(tb testing.TB, s *Store, days map[string][]athlete.Day) {
	tb.Helper()
	err := s.Write(tb.Context(), func(t app.Tx) error {
		for id, d := range days {
			if _, err := t.PutDays(id, d, app.Source{Name: "bench.csv"}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		tb.Fatal(err)
	}
}

// rosterOf makes a store with athletes who have logged so many days each.
func rosterOf(tb testing.TB, athletes, days int) (*Store, map[string][]athlete.Day) {
	tb.Helper()
	s, all := openNew(tb), map[string][]athlete.Day{}
	err := s.Write(tb.Context(), func(t app.Tx) error {
		for i := range athletes {
			id := fmt.Sprintf("athlete-%d", i)
			all[id] = inventedDays(days, uint64(i))
			if err := t.PutAthlete(inventedAthlete(id)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		tb.Fatal(err)
	}
	return s, all
}

func BenchmarkImport100kDays(b *testing.B) {
	for _, athletes := range []int{1, 100} {
		b.Run(fmt.Sprintf("athletes=%d", athletes), func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				s, days := rosterOf(b, athletes, 100_000/athletes)
				b.StartTimer()
				importDays(b, s, days)
			}
		})
		b.Run(fmt.Sprintf("again/athletes=%d", athletes), func(b *testing.B) {
			s, days := rosterOf(b, athletes, 100_000/athletes)
			importDays(b, s, days)
			for b.Loop() {
				importDays(b, s, days)
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	const athletes, logged = 1000, 360
	s, days := rosterOf(b, athletes, logged)
	importDays(b, s, days)
	all := func(t app.Tx, id string) error {
		d, err := t.Days(id, 1, civil.MustParse("9999-12-31"))
		if err == nil && len(d) != logged {
			b.Fatalf("%d days", len(d))
		}
		return err
	}
	b.Run("one athlete's 360 days", func(b *testing.B) {
		for b.Loop() {
			if err := s.Read(b.Context(), func(t app.Tx) error { return all(t, "athlete-500") }); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("1000 athletes' 360 days", func(b *testing.B) {
		for b.Loop() {
			err := s.Read(b.Context(), func(t app.Tx) error {
				for id := range days {
					if err := all(t, id); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				b.Fatal(err)
			}
		}
	})
}

func BenchmarkPutOneDay(b *testing.B) {
	s, _ := rosterOf(b, 1, 0)
	days, i := inventedDays(100_000, 1), 0
	for b.Loop() {
		importDays(b, s, map[string][]athlete.Day{"athlete-0": days[i%len(days):][:1]})
		i++
	}
}

func BenchmarkOpen(b *testing.B) {
	path := openNew(b).Path()
	for b.Loop() {
		s, err := Open(b.Context(), path)
		if err != nil {
			b.Fatal(err)
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
}
