package lab

import (
	"context"
	"fmt"
	"runtime"
	"sync"
)

// PolicyName names a policy.
type PolicyName string

// The policies compared.
const (
	Product     PolicyName = "product"
	Formula     PolicyName = "static formula"
	Thumb       PolicyName = "rule of thumb"
	Clairvoyant PolicyName = "knows the truth"
	Informed    PolicyName = "true dynamics, same measurements"
)

// Policies lists every policy.
func Policies() []PolicyName {
	return []PolicyName{Product, Informed, Clairvoyant, Thumb, Formula}
}

// Run lives a cohort under a policy, on all cores, in the order of athletes.
// progress, where given, is called after each from one goroutine at a time. When
// ctx ends it stops with ctx's error.
func (c *Cohort) Run(ctx context.Context, name PolicyName, progress func(done int)) ([]Outcome, error) {
	out := make([]Outcome, c.Athletes)
	err := c.each(ctx, progress, func(i int) (err error) {
		out[i], err = c.one(i, name)
		return err
	})
	return out, err
}

// each does the athletes of a cohort on all its workers.
func (c *Cohort) each(ctx context.Context, progress func(done int), do func(i int) error) error {
	errs := make([]error, c.Athletes)
	next := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := 0
	workers := c.Workers
	if workers == 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	for range workers {
		wg.Go(func() {
			for i := range next {
				errs[i] = do(i)
				mu.Lock()
				if done++; progress != nil {
					progress(done)
				}
				mu.Unlock()
			}
		})
	}
	for i := range c.Athletes {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for i, err := range errs {
		if err != nil {
			return fmt.Errorf("athlete %d: %w", i, err)
		}
	}
	return nil
}

func (c *Cohort) one(i int, name PolicyName) (Outcome, error) {
	s := c.draw(i)
	switch name {
	case Formula:
		return s.live(i, &formula{s: &s}, nil)
	case Thumb:
		return s.live(i, &thumb{s: &s}, nil)
	case Clairvoyant, Informed:
		k, err := newKnowing(&s, name == Clairvoyant)
		if err != nil {
			return Outcome{}, err
		}
		o, err := s.live(i, k, nil)
		o.Told = k.told
		return o, err
	case Product:
		p, err := newProduct(&s)
		if err != nil {
			return Outcome{}, err
		}
		if c.CheckIntervals {
			p.watch = &watch{show: s.show, biasPct: s.biasPct, biased: c.Measuring.BiasSD > 0, unlogged: c.NoIntake}
		}
		o, err := s.live(i, p, p.watch)
		o.Told = p.told
		return o, err
	}
	return Outcome{}, fmt.Errorf("there is no policy %q", name)
}
