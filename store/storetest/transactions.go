package storetest

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"glidepath/app"
	"glidepath/athlete"
)

func transactionTests(opts Options) []namedTest {
	tests := []namedTest{
		{"ErrorUndoesEverything", func(s *suite) {
			s.putAthletes("ann")
			before := contents(s)
			err := s.store.Write(s.Context(), func(tx app.Tx) error {
				if err := changeEverything(tx); err != nil {
					s.Fatal(err)
				}
				return errDeliberate
			})
			if !errors.Is(err, errDeliberate) {
				s.Fatalf("the error is %v, not the one returned", err)
			}
			same(s, "contents", contents(s), before)
			s.write(changeEverything) // which would have been a change
			if contents(s) == before {
				s.Fatal("the kept transaction changed nothing: the test proves nothing")
			}
		}},
		{"PanicUndoesEverything", func(s *suite) {
			s.putAthletes("ann")
			before := contents(s)
			func() {
				defer func() {
					if recover() == nil {
						s.Fatal("the panic was swallowed")
					}
				}()
				_ = s.store.Write(s.Context(), func(tx app.Tx) error {
					if err := changeEverything(tx); err != nil {
						s.Fatal(err)
					}
					panic("deliberate")
				})
			}()
			same(s, "contents", contents(s), before)
			s.write(changeEverything) // the store is not stuck
		}},
		{"CancelledContextUndoesEverything", cancelled},
		{"WriteSeesItself", func(s *suite) {
			s.write(func(tx app.Tx) error {
				if err := tx.PutAthlete(newAthlete("ann")); err != nil {
					return err
				}
				if _, err := tx.PutDays("ann", []athlete.Day{fullDay(monday)}, source); err != nil {
					return err
				}
				days, err := tx.Days("ann", monday, monday)
				same(s, "days within", days, []athlete.Day{fullDay(monday)})
				return err
			})
		}},
		{"ReadCannotWrite", func(s *suite) {
			s.putAthletes("ann")
			before := contents(s)
			if err := s.store.Read(s.Context(), changeEverything); err == nil {
				s.Fatal("a read transaction wrote")
			}
			same(s, "contents", contents(s), before)
		}},
		{"ReadersNeverSeeHalf", readersNeverSeeHalf},
		{"WritersTakeTurns", writersTakeTurns},
	}
	if opts.Serial {
		return tests
	}
	return append(tests, namedTest{"SnapshotOutlastsAWrite", snapshot})
}

func changeEverything(tx app.Tx) error {
	a := newAthlete("ann")
	a.HeightCm++
	return errors.Join(
		tx.PutAthlete(a),
		tx.PutAthlete(newAthlete("ben")),
		dropMerge(tx.PutDays("ann", []athlete.Day{{Date: monday, WeightKg: new(68.0)}}, source)),
		tx.AddPrescription("ann", fullPrescription(monday)),
		tx.AddProgramme("ann", fullProgramme(monday)),
		tx.PutMapping("day|weight", []byte("text")))
}

// contents is everything that changeEverything can change, as text.
func contents(s *suite) (text string) {
	s.read(func(tx app.Tx) error {
		all, err := tx.Athletes()
		if err != nil {
			return err
		}
		mapping, ok, err := tx.Mapping("day|weight")
		text = fmt.Sprint(string(mapping), ok)
		for _, a := range all {
			text += fmt.Sprint(a.ID, a.HeightCm)
			for _, list := range lists() {
				n, err := list(tx, a.ID)
				if err != nil {
					return err
				}
				text += fmt.Sprint(" ", n)
			}
		}
		return err
	})
	return text
}

func cancelled(s *suite) {
	s.putAthletes("ann")
	before := contents(s)
	ctx, cancel := context.WithCancel(s.Context())
	err := s.store.Write(ctx, func(tx app.Tx) error {
		if err := changeEverything(tx); err != nil {
			s.Fatal(err)
		}
		cancel()
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		s.Fatalf("a write whose context ended gave %v", err)
	}
	never := func(app.Tx) error { s.Fatal("ran with a context that had ended"); return nil }
	for _, run := range []func(context.Context, func(app.Tx) error) error{s.store.Read, s.store.Write} {
		if err := run(ctx, never); !errors.Is(err, context.Canceled) {
			s.Fatalf("with a context that had ended: %v", err)
		}
	}
	same(s, "contents", contents(s), before)
	s.write(changeEverything)
}

// snapshot holds a read open across a write.
func snapshot(s *suite) {
	s.putAthletes("ann")
	s.read(func(tx app.Tx) error {
		before, err := tx.Athletes()
		if err != nil {
			return err
		}
		s.putAthletes("ben", "cleo")
		after, err := tx.Athletes()
		same(s, "within the snapshot", len(after), len(before))
		return err
	})
	same(s, "after it", ids(s), []string{"ann", "ben", "cleo"})
}

// readersNeverSeeHalf has a writer that gives two athletes the same step count
// in each transaction, and readers that must find it the same.
func readersNeverSeeHalf(s *suite) {
	const rounds, readers = 40, 4
	s.putAthletes("ann", "ben")
	put := func(round int) error {
		return s.store.Write(s.Context(), func(tx app.Tx) error {
			day := []athlete.Day{{Date: monday, Steps: new(float64(round))}}
			return errors.Join(dropMerge(tx.PutDays("ann", day, source)), dropMerge(tx.PutDays("ben", day, source)))
		})
	}
	if err := put(0); err != nil {
		s.Fatal(err)
	}
	done := make(chan struct{})
	var wg sync.WaitGroup
	for range readers {
		wg.Go(func() {
			last := 0.0
			for running := true; running; {
				select {
				case <-done:
					running = false // and once more, for the final state
				default:
				}
				steps, err := bothSteps(s)
				if err != nil {
					s.Error(err)
					return
				}
				if steps[0] != steps[1] || steps[0] < last {
					s.Errorf("a reader saw %v after %v", steps, last)
					return
				}
				last = steps[0]
			}
			if last != rounds {
				s.Errorf("the last that a reader saw is %v, not %v", last, rounds)
			}
		})
	}
	for round := 1; round <= rounds; round++ {
		if err := put(round); err != nil {
			s.Error(err)
			break
		}
	}
	close(done)
	wg.Wait()
}

func bothSteps(s *suite) (steps [2]float64, err error) {
	err = s.store.Read(s.Context(), func(tx app.Tx) error {
		for i, id := range []string{"ann", "ben"} {
			days, err := tx.Days(id, monday, monday)
			if err != nil {
				return err
			}
			steps[i] = *days[0].Steps
		}
		return nil
	})
	return steps, err
}

// writersTakeTurns has writers that each add one to what they read.
func writersTakeTurns(s *suite) {
	const writers, rounds = 4, 10
	s.putAthletes("ann")
	s.putDays("ann", athlete.Day{Date: monday, Steps: new(0.0)})
	var wg sync.WaitGroup
	for range writers {
		wg.Go(func() {
			for range rounds {
				err := s.store.Write(s.Context(), func(tx app.Tx) error {
					days, err := tx.Days("ann", monday, monday)
					if err != nil {
						return err
					}
					days[0].Steps = new(*days[0].Steps + 1)
					return dropMerge(tx.PutDays("ann", days, source))
				})
				if err != nil {
					s.Error(err)
				}
			}
		})
	}
	wg.Wait()
	same(s, "sum", *s.days("ann")[0].Steps, writers*rounds)
}
