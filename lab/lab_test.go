package lab

import (
	"math"
	"sort"
	"testing"
)

func TestTry(t *testing.T) {
	c := &Cohort{Seed: 1, Measuring: ScanGrade}
	n, on := 0, 0
	var errs []float64
	for i := range 60 {
		s := c.draw(i)
		p, err := newProduct(&s)
		if err != nil {
			t.Log(i, err)
			continue
		}
		o, err := s.live(i, p)
		p.close()
		if err != nil {
			t.Log(i, err)
			continue
		}
		if p.outcome.feasible {
			n++
			if o.On(1) {
				on++
			}
			errs = append(errs, math.Abs(o.StagePct-o.Target))
		}
		t.Logf("%d %s weeks %d target %.1f stage %.1f feasible %v slack %.1f lean lost %.2f changes %d moved %.0f lowest %.0f toofast %d/%d", i, s.spec.Athlete.Sex, s.show.Date.DaysSince(firstDay)/7-4, o.Target, o.StagePct, p.outcome.feasible, p.outcome.slack, o.LeanLost, o.Changes, o.Moved, o.Lowest, o.TooFast, o.Weeks)
	}
	sort.Float64s(errs)
	t.Logf("%d of %d feasible on target; median error %.2f", on, n, errs[len(errs)/2])
}
