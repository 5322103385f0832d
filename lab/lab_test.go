package lab

import (
	"math"
	"reflect"
	"slices"
	"testing"
)

// summed sums a policy's seasons over the athletes picked.
func summed(outcomes []Outcome, pick func(i int) bool) (medianError, changes, lowest float64, n int) {
	var errs []float64
	for i := range outcomes {
		if o := &outcomes[i]; pick(i) {
			errs = append(errs, math.Abs(o.StagePct-o.Target))
			changes += float64(o.Changes)
			lowest += o.Lowest
			n++
		}
	}
	slices.Sort(errs)
	return errs[len(errs)/2], changes / float64(n), lowest / float64(n), n
}

// A small fixed cohort in closed loop: among the athletes whom the product told
// that there is time, it comes nearer the target than the rule of thumb and the
// formula, with fewer changes and no less food than the rule.
func TestSmallCohort(t *testing.T) {
	c := &Cohort{Seed: 1, Measuring: ScanGrade, Athletes: 12}
	by := map[PolicyName][]Outcome{}
	for _, p := range []PolicyName{Product, Thumb, Formula} {
		calls := 0
		o, err := c.Run(p, func(done int) {
			if calls++; done != calls {
				t.Errorf("progress %d at call %d", done, calls)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		by[p] = o
	}
	told := func(i int) bool { return by[Product][i].Told.Feasible }
	product, changes, lowest, n := summed(by[Product], told)
	thumb, thumbChanges, thumbLowest, _ := summed(by[Thumb], told)
	static, _, _, _ := summed(by[Formula], told)
	t.Logf("%d told that there is time; median error %.2f points, rule of thumb %.2f, formula %.2f; changes %.1f against %.1f; lowest %.0f against %.0f kcal",
		n, product, thumb, static, changes, thumbChanges, lowest, thumbLowest)
	if n < 4 {
		t.Fatalf("only %d athletes were told that there is time", n)
	}
	if product > thumb || product > static {
		t.Errorf("median error %.2f points, rule of thumb %.2f, formula %.2f", product, thumb, static)
	}
	if changes >= thumbChanges || lowest < thumbLowest-25 {
		t.Errorf("%.1f changes against %.1f, lowest %.0f against %.0f kcal", changes, thumbChanges, lowest, thumbLowest)
	}
}

func TestAnotherNumberOfCoresIsTheSame(t *testing.T) {
	c := &Cohort{Seed: 3, Measuring: Calipers, Athletes: 2, Workers: 1}
	one, err := c.Run(Informed, nil)
	if err != nil {
		t.Fatal(err)
	}
	c.Workers = 2
	two, err := c.Run(Informed, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(one, two) {
		t.Errorf("%+v\n%+v", one, two)
	}
}
