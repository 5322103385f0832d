package lab

import (
	"math"
	"slices"
	"testing"
)

func TestTry(t *testing.T) {
	c := &Cohort{Seed: 1, Measuring: ScanGrade, Athletes: 100}
	by := map[PolicyName][]Outcome{}
	for _, p := range Policies() {
		o, err := c.Run(p, nil)
		if err != nil {
			t.Fatal(err)
		}
		by[p] = o
	}
	feasible := by[Clairvoyant]
	for _, p := range Policies() {
		n, on, weeks, fast, changes := 0, 0, 0, 0, 0
		lean, moved, low := 0.0, 0.0, 0.0
		var errs []float64
		for i, o := range by[p] {
			if !feasible[i].On(1) {
				continue
			}
			n++
			if o.On(1) {
				on++
			}
			errs = append(errs, math.Abs(o.StagePct-o.Target))
			weeks += o.Weeks
			fast += o.TooFast
			changes += o.Changes
			lean += o.LeanLost
			moved += o.Moved
			low += o.Lowest
		}
		slices.Sort(errs)
		f := float64(n)
		t.Logf("%-34s on %d of %d median err %.2f lean %.2f toofast %.3f changes %.1f moved %.0f lowest %.0f", p, on, n, errs[n/2], lean/f, float64(fast)/float64(weeks), float64(changes)/f, moved/f, low/f)
	}
	tp, fp, pos, neg := 0, 0, 0, 0
	for i, o := range by[Product] {
		if !feasible[i].On(1) {
			pos++
			if !o.Told.feasible {
				tp++
			}
		} else {
			neg++
			if !o.Told.feasible {
				fp++
				t.Logf("false alarm %d: slack %.1f clair stage %.1f target %.1f product %.1f", i, o.Told.slack, feasible[i].StagePct, o.Target, o.StagePct)
			}
			if !o.On(1) {
				t.Logf("missed %d: sex %v target %.1f stage %.1f clair %.1f told %v slack %.1f weeks %d changes %d", i, 0, o.Target, o.StagePct, feasible[i].StagePct, o.Told.feasible, o.Told.slack, o.Weeks, o.Changes)
			}
		}
	}
	t.Logf("infeasible told %d of %d; false alarms %d of %d", tp, pos, fp, neg)
}
