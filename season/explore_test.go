package season

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"glidepath/athlete"
)

func TestExplore(t *testing.T) {
	for _, p := range []Problem{
		problem(athlete.Male, 84, 8.6, 6.5, 7),
		problem(athlete.Male, 84, 9, 5, 10),
		problem(athlete.Male, 84, 9, 5, 16),
		problem(athlete.Male, 92, 17, 5.5, 26),
		problem(athlete.Male, 92, 17, 5.5, 30),
		problem(athlete.Male, 92, 17, 5.5, 40),
		problem(athlete.Male, 105, 26, 6, 40),
		problem(athlete.Male, 105, 24, 6, 52),
		problem(athlete.Female, 68, 24, 13, 22),
		problem(athlete.Female, 62, 17, 15, 7),
		problem(athlete.Male, 100, 20, 18, 7),
	} {
		p.Dieting = true
		n := (p.Show.Date.AddDays(-7).DaysSince(p.AsOf) + 6) / 7
		f0, r0 := flights, roundsDone
		t0 := time.Now()
		c := p.newCourse(p.State, p.AsOf, make([]bool, n), 0)
		ok := c.optimise()
		el := time.Since(t0)
		fl, ro := flights-f0, roundsDone-r0
		best := c.cost()
		es := ""
		for i := range c.legs {
			es += fmt.Sprintf("%.2f", c.legs[i].effort)
			if c.legs[i].bound {
				es += "*"
			}
			es += " "
		}
		if !ok {
			t.Logf("no landing n=%d %v", n, el)
			continue
		}
		lean := c.first.LeanKg - c.end.LeanKg
		// even
		e := p.newCourse(p.State, p.AsOf, make([]bool, n), 0)
		q := &e.work
		for w := range e.legs {
			q.from[w], q.best[w], q.toward[w] = 0, 0, 1
		}
		e.land(0)
		even := e.cost()
		elean := e.first.LeanKg - e.end.LeanKg
		// polish
		rng := rand.New(rand.NewPCG(1, 2))
		pol := best
		cur := make([]float64, n)
		for w := range cur {
			cur[w] = c.legs[w].effort
		}
		for it := range 3000 {
			sc := 0.1
			if it%2 == 0 {
				sc = 0.02
			}
			for w := range e.legs {
				e.work.from[w], e.work.best[w], e.work.toward[w] = cur[w], cur[w], 1
			}
			i, j := rng.IntN(n), rng.IntN(n)
			for w := min(i, j); w <= max(i, j); w++ {
				e.work.from[w] += sc * rng.NormFloat64() / 2
				e.work.best[w] = e.work.from[w]
			}
			if e.land(0) && e.cost() < pol {
				pol = e.cost()
				for w := range cur {
					cur[w] = e.legs[w].effort
				}
			}
		}
		t.Logf("n=%d %v flights=%d rounds=%d best %.4f (lean %.4f) even %.4f (%.4f) polished %.4f\n %s", n, el, fl, ro, best, lean, even, elean, pol, es)
	}
}
