package lab

import (
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
// progress, where given, is called after each from one goroutine at a time.
func (c *Cohort) Run(name PolicyName, progress func(done int)) ([]Outcome, error) {
	out, errs := make([]Outcome, c.Athletes), make([]error, c.Athletes)
	next := make(chan int)
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := 0
	workers := c.Workers
	if workers == 0 {
		workers = runtime.NumCPU()
	}
	for range workers {
		wg.Go(func() {
			for i := range next {
				out[i], errs[i] = c.one(i, name)
				mu.Lock()
				if done++; progress != nil {
					progress(done)
				}
				mu.Unlock()
			}
		})
	}
	for i := range c.Athletes {
		next <- i
	}
	close(next)
	wg.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("athlete %d: %w", i, err)
		}
	}
	return out, nil
}

func (c *Cohort) one(i int, name PolicyName) (Outcome, error) {
	s := c.draw(i)
	switch name {
	case Formula:
		return s.live(i, &formula{s: &s})
	case Thumb:
		return s.live(i, &thumb{s: &s})
	case Clairvoyant, Informed:
		k, err := newKnowing(&s, name == Clairvoyant)
		if err != nil {
			return Outcome{}, err
		}
		defer k.close()
		return s.live(i, k)
	}
	p, err := newProduct(&s)
	if err != nil {
		return Outcome{}, err
	}
	defer p.close()
	o, err := s.live(i, p)
	o.Told = *p.outcome
	return o, err
}
