package lab

import (
	"context"
	"encoding/json"
	"errors"
	"reflect"
	"testing"
)

// A small fixed cohort. Who knows the truth must come to the target wherever it
// can be reached, or the cohort judges nothing; the product comes nearer than a
// static formula, with fewer changes than the rule of thumb and without planning
// less energy.
func TestSmallCohort(t *testing.T) {
	c := &Cohort{Seed: 3, Measuring: ScanGrade, Athletes: 12}
	calls := 0
	trial, err := c.Try(t.Context(), []PolicyName{Product, Clairvoyant, Thumb, Formula}, func(done, of int) {
		if calls++; done != calls || of != 12*5 {
			t.Errorf("progress %d of %d at call %d", done, of, calls)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	r := trial.Report()
	t.Logf("%d of %d feasible", r.Feasible, r.Athletes)
	for _, w := range r.Rows {
		t.Logf("%s: on target %s, median %.2f points, %.1f changes, lowest %.0f kcal", w.Policy, w.On, w.MedianOff, w.Changes, w.LowestKcal)
	}
	if r.Feasible < 4 || r.Athletes-r.Feasible < 3 {
		t.Fatalf("%d of %d feasible: the cohort asks too much or too little", r.Feasible, r.Athletes)
	}
	knows, product, thumb, formula := r.row(Clairvoyant), r.row(Product), r.row(Thumb), r.row(Formula)
	if knows.On.Value < 1 {
		t.Errorf("who knows the truth misses a target that could be reached: %s", knows.On)
	}
	if knows.Planned.Hits > 0 || knows.TrueBelow.Value > 0.01 {
		t.Errorf("who knows the truth breaks the floor: planned %s, weeks %s", knows.Planned, knows.TrueBelow)
	}
	if product.MedianOff > formula.MedianOff || product.On.Value < formula.On.Value {
		t.Errorf("the product is %.2f points off, the formula %.2f", product.MedianOff, formula.MedianOff)
	}
	if product.Changes >= thumb.Changes || product.LowestKcal < thumb.LowestKcal-25 {
		t.Errorf("%.1f changes against %.1f, lowest %.0f against %.0f kcal", product.Changes, thumb.Changes, product.LowestKcal, thumb.LowestKcal)
	}
}

// What a report says adds up to its trial, with a biased method and checked
// intervals; and the answer does not depend on the number of workers.
func TestReportOfATrial(t *testing.T) {
	c := &Cohort{Seed: 3, Measuring: Calipers, Athletes: 3, Workers: 1, CheckIntervals: true}
	policies := []PolicyName{Product, Informed, Clairvoyant, Thumb}
	one, err := c.Try(t.Context(), policies, nil)
	if err != nil {
		t.Fatal(err)
	}
	checkReport(t, one, one.Report())
	c.Workers = 3
	three, err := c.Try(t.Context(), []PolicyName{Product, Informed}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range three.Policies {
		if !reflect.DeepEqual(one.Outcomes[p], three.Outcomes[p]) {
			t.Errorf("one worker: %+v\nthree: %+v", one.Outcomes[p], three.Outcomes[p])
		}
	}
	if !reflect.DeepEqual(one.Ground, three.Ground) {
		t.Errorf("one worker: %+v\nthree: %+v", one.Ground, three.Ground)
	}
}

// checkReport holds a report against its trial.
func checkReport(t *testing.T, trial *Trial, r *Report) {
	t.Helper()
	for _, cov := range r.Coverage {
		n := 0
		for _, k := range cov.Ranks {
			n += k
		}
		if n != r.Athletes || cov.Checks <= n || cov.In90.Hits < cov.In50.Hits {
			t.Errorf("%s: %d ranks of %d reviews of %d athletes, %v inside 50 %%, %v inside 90 %%",
				cov.What, n, cov.Checks, r.Athletes, cov.In50.Hits, cov.In90.Hits)
		}
	}
	forecasts := 0.0
	for _, b := range r.Reliability {
		if b.Said < b.From || b.Said > b.To {
			t.Errorf("chances of %.2f on average between %.1f and %.1f", b.Said, b.From, b.To)
		}
		forecasts += b.Came.Of
	}
	if int(forecasts) != r.Coverage[1].Checks {
		t.Errorf("%v chances for %d forecasts of the show", forecasts, r.Coverage[1].Checks)
	}
	if len(r.Coverage) != 5 {
		t.Errorf("%d quantities with intervals", len(r.Coverage))
	}
	for _, w := range []*Row{r.row(Product), r.row(Informed), r.row(Clairvoyant)} {
		if told := w.Recall.Of + w.False.Of + w.EdgeToldNo.Of; int(told) != r.Athletes {
			t.Errorf("%s told %v of %d athletes", w.Policy, told, r.Athletes)
		}
	}
	if _, err := json.Marshal(trial); err != nil {
		t.Error(err)
	}
	figures, err := trial.Figures()
	if err != nil || len(figures) != 4 {
		t.Errorf("%d figures, %v", len(figures), err)
	}
	for _, f := range figures {
		if len(f.SVG) < 1000 || f.Alt == "" {
			t.Errorf("the figure %s is empty", f.Name)
		}
	}
}

// A run that is stopped says so and gives nothing.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	c := &Cohort{Seed: 3, Measuring: ScanGrade, Athletes: 50, Workers: 1}
	trial, err := c.Try(ctx, []PolicyName{Thumb}, func(done, _ int) {
		if done == 60 {
			stop()
		}
		if done > 63 {
			t.Errorf("season %d after the stop at 60", done)
		}
	})
	if !errors.Is(err, context.Canceled) || trial != nil {
		t.Errorf("%v, %v", trial, err)
	}
}

// Checking intervals changes no season.
func TestChecksChangeNothing(t *testing.T) {
	c := &Cohort{Seed: 3, Measuring: ScanGrade, Athletes: 2}
	plain, err := c.Run(t.Context(), Product, nil)
	if err != nil {
		t.Fatal(err)
	}
	c.CheckIntervals = true
	checked, err := c.Run(t.Context(), Product, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range checked {
		if len(checked[i].Checks) == 0 {
			t.Errorf("athlete %d: nothing was checked", i)
		}
		checked[i].Checks = nil
	}
	if !reflect.DeepEqual(plain, checked) {
		t.Errorf("%+v\n%+v", plain, checked)
	}
}

// What a cohort is asked for it has: trips, other scales, class limits, bodies
// that lose lean or adapt otherwise, logs without intake; and nobody who may not
// diet.
func TestCohortHasWhatItSays(t *testing.T) {
	c := &Cohort{Seed: 2, Measuring: ScanGrade}
	more := &Cohort{Seed: 2, Measuring: ScanGrade, Lean: 1.5, Adapt: 0.5, NoIntake: true}
	const n = 300
	var trips, scales, classes float64
	for i := range n {
		s, m := c.draw(i), more.draw(i)
		trips += float64(len(s.spec.Trips)) / n
		scales += float64(len(s.spec.Scales)) / n
		if s.show.ClassLimit != nil {
			classes += 1.0 / n
		}
		if err := s.spec.Athlete.Validate(); err != nil {
			t.Errorf("athlete %d: %v", i, err)
		}
		if err := s.spec.Athlete.DeficitBlock(firstDay.AddDays(runInDays)); err != nil {
			t.Errorf("athlete %d may not diet: %v", i, err)
		}
		own := newFastest(&s).body
		near(t, "loss of lean", m.spec.Body.LeanLossFactor, 1.5*own.LeanLossFactor, 1e-12)
		near(t, "adaptation", m.spec.Body.AdaptationGain, 0.5*own.AdaptationGain, 1e-12)
		near(t, "drop of spontaneous activity", m.spec.Body.SpontaneousDrop, 0.5*own.SpontaneousDrop, 1e-12)
		if m.spec.Logging.IntakeShare >= 0 {
			t.Errorf("athlete %d logs intake", i)
		}
	}
	near(t, "share with a trip", trips, tripShare, 0.1) // some shows are too near for one
	near(t, "share with another scale", scales, scaleShare, 0.06)
	near(t, "share with a class limit", classes, classShare, 0.075)
}
