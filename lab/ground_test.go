package lab

import (
	"testing"

	"glidepath/scenario"
)

// More time is more slack, week for week, in the same body.
func TestGroundGrowsWithTime(t *testing.T) {
	c := &Cohort{Seed: 11, Measuring: ScanGrade}
	for i := range 20 {
		s := c.draw(i)
		g := s.ground(i)
		later := s
		later.show.Date = s.show.Date.AddDays(21)
		h := later.ground(i)
		if g.SlackWeeks > -longestOver/7 {
			near(t, "slack with three weeks more", h.SlackWeeks, g.SlackWeeks+3, 1e-9)
		}
		easier := s
		easier.show.TargetBodyFatPct++
		if e := easier.ground(i); e.SlackWeeks < g.SlackWeeks {
			t.Errorf("athlete %d: a target a point higher has %v weeks of slack, %v before", i, e.SlackWeeks, g.SlackWeeks)
		}
		near(t, "slack on a scale without bias", g.SlackWeeks, g.TrueSlackWeeks, 0)
	}
}

// Calipers that read too high ask for more than the truth does.
func TestGroundOnTheMethodsScale(t *testing.T) {
	c := &Cohort{Seed: 11, Measuring: Calipers}
	higher := 0
	for i := range 20 {
		s := c.draw(i)
		g := s.ground(i)
		if s.biasPct > 0 && g.SlackWeeks > g.TrueSlackWeeks || s.biasPct < 0 && g.SlackWeeks < g.TrueSlackWeeks {
			t.Errorf("athlete %d: a bias of %.1f points and a slack of %v weeks, %v on its scale", i, s.biasPct, g.TrueSlackWeeks, g.SlackWeeks)
		}
		if g.SlackWeeks != g.TrueSlackWeeks {
			higher++
		}
	}
	if higher < 10 {
		t.Errorf("the bias told in %d of 20", higher)
	}
}

// The fastest descent keeps the limits: never planned under the floor of energy
// availability, and at the permitted rate on average where that is what binds.
func TestFastestKeepsTheLimits(t *testing.T) {
	c := &Cohort{Seed: 12, Measuring: ScanGrade}
	pace, weeks := 0.0, 0
	for i := range 40 {
		s := c.draw(i)
		person := scenario.New(s.spec, s.seed)
		f := newFastest(&s)
		appraisal := firstDay.AddDays(runInDays)
		for on := firstDay; on < s.show.Date; on++ {
			if n := len(f.truth); on >= appraisal && on.DaysSince(appraisal)%7 == 0 {
				now := &f.truth[n-1]
				if f.plan != nil && on.DaysSince(appraisal) > 14 && s.availability(f.plan, now.WeightKg, now.LeanKg) > s.limits.EnergyAvailabilityFloor+1 {
					was := &f.truth[n-8]
					pace += 100 * (was.WeightKg - now.WeightKg) / was.WeightKg / s.limits.RatePctPerWeek(100*was.FatKg/was.WeightKg)
					weeks++
				}
				f.learn()
				f.week(on, now.FatKg)
				if over := s.availability(f.plan, now.WeightKg, now.LeanKg) - s.limits.EnergyAvailabilityFloor; over < 0 {
					t.Errorf("athlete %d, %s: planned %.2f under the floor", i, on, -over)
				}
			}
			f.truth = append(f.truth, person.Live(on, f.plan).Truth)
		}
	}
	if weeks < 100 {
		t.Fatalf("only %d weeks at the permitted rate", weeks)
	}
	near(t, "loss over what is permitted, where the floor does not bind", pace/float64(weeks), 1, 0.06)
}
