package season

import (
	"math"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"

	"pgregory.net/rapid"
)

// dieter draws an athlete in a prep with neither events nor breaks to come.
func dieter(t *rapid.T, leastWeeks, mostWeeks int) Problem {
	weeks := rapid.IntRange(leastWeeks, mostWeeks).Draw(t, "weeks")
	above := rapid.Float64Range(2, 12).Draw(t, "above target")
	p := problem(athlete.Female, rapid.Float64Range(52, 75).Draw(t, "weight"), 13+above, 13, weeks)
	if rapid.Bool().Draw(t, "man") {
		p = problem(athlete.Male, rapid.Float64Range(70, 110).Draw(t, "weight of a man"), 6+above, 6, weeks)
	}
	p.Dieting = true
	return p
}

// on is the athlete on another morning with another body, and the adaptation and
// habits of somebody who has gone down as fast as is permitted until then.
func on(p *Problem, day int, pct, fatFreeKg float64) Problem {
	q := *p
	q.AsOf = p.AsOf.AddDays(day)
	q.State = q.Model.Fresh(pct/100*fatFreeKg/(1-pct/100), fatFreeKg, 0)
	q.BodyFat.Mean = pct
	r := q.ranges(&q.State, q.AsOf)
	effort, _ := q.greatestEffort(&q.State, &r)
	change := r.instruction(&q, effort).EnergyKcal - q.Model.IntakeBaselineKcal
	done := 1 - math.Exp(-float64(day)/q.Model.AdaptationDays)
	q.State.AdaptationKcal = q.Model.AdaptationGain * change * done
	q.State.IntakeMeanKcal += change * done
	return q
}

// On the upper edge there is no time to lose and just enough: solved anew from
// there, slack is nought and the fastest permitted descent arrives; from a little
// above it does not.
func TestUpperEdgeIsTheLastChance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := dieter(t, 6, 26)
		s := Solve(p)
		if end := float64(s.Corridor.Days[len(s.Corridor.Days)-1].UpperPct); math.Abs(end-p.Show.TargetBodyFatPct) > 0.1 {
			t.Errorf("the upper edge ends at %.2f %%, target %.2f %%", end, p.Show.TargetBodyFatPct)
		}
		day := rapid.IntRange(0, 7*4).Draw(t, "day")
		d, at := &s.Corridor.Days[day], &s.Map.Path[day]
		if !d.UpperKg.Known() {
			t.Skip("the edge is far above")
		}
		edge := on(&p, day, float64(d.UpperPct), at.FatFreeKg)
		c := edge.corridor()
		if w := c.SlackWeeks.Value; math.Abs(w) > 0.5+0.02*edge.weeksToShow(edge.AsOf) {
			t.Errorf("slack on the upper edge is %.2f weeks", w)
		}
		if _, pct := arrives(&edge, &c); pct > p.Show.TargetBodyFatPct+0.4 {
			t.Errorf("from the upper edge the fastest descent ends at %.2f %%, target %.2f %%", pct, p.Show.TargetBodyFatPct)
		}
		above := on(&p, day, float64(d.UpperPct)+1.5, at.FatFreeKg)
		c = above.corridor()
		if ok, pct := arrives(&above, &c); ok || c.SlackWeeks.Value > 0 {
			t.Errorf("1.5 points above the upper edge the fastest descent ends at %.2f %%, target %.2f %%", pct, p.Show.TargetBodyFatPct)
		}
	})
}

func arrives(p *Problem, c *Corridor) (ok bool, pct float64) {
	pct, _ = p.reachable(c)
	return pct <= p.Show.TargetBodyFatPct+notTold, pct
}

// A week waited at maintenance costs a week of slack.
func TestWaitingCostsSlack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := dieter(t, 8, 30)
		before := p.corridor()
		q := p
		for range 7 {
			q.hold(&q.State, q.AsOf)
			q.AsOf++
		}
		after := q.corridor()
		if lost := before.SlackWeeks.Value - after.SlackWeeks.Value; math.Abs(lost-1) > 0.15 {
			t.Errorf("a week at maintenance cost %.2f weeks of slack", lost)
		}
		if before.SlackWeeks.Low > before.SlackWeeks.Value || before.SlackWeeks.High < before.SlackWeeks.Value {
			t.Errorf("slack %+v", before.SlackWeeks)
		}
	})
}

// Days at maintenance are taken from the slack, all of them and once.
func TestEventsTakeSlack(t *testing.T) {
	p := problem(athlete.Male, 92, 15, 6, 24)
	free := p.corridor()
	from := p.AsOf.AddDays(30)
	p.Events = []athlete.Event{
		{From: from, To: from.AddDays(6), Kind: "holiday", Maintenance: true},
		{From: from.AddDays(3), To: from.AddDays(9), Kind: "travel", Maintenance: true}, // overlaps
		{From: from.AddDays(20), To: from.AddDays(40), Kind: "travel"},                  // no rest
		{From: p.Show.Date.AddDays(-3), To: p.Show.Date, Kind: "travel", Maintenance: true},
	}
	c := p.corridor()
	if got := 7 * (free.SlackWeeks.Value - c.SlackWeeks.Value); math.Abs(got-10) > 1e-9 {
		t.Errorf("ten days at maintenance took %.2f days of slack", got)
	}
}

// A leave to go under the floor of energy availability shortens a descent that
// the floor holds back, and by no more than its weeks can.
func TestLeaveShortensTheDescent(t *testing.T) {
	p := problem(athlete.Female, 62, 24, 13, 24)
	p.Model.RestKcal -= 250 // a body that spends little, so that the floor binds
	p.Dieting = true
	a := Solve(p)
	if len(a.Appraisal.Binds) == 0 || a.Corridor.FastestWeeks.Value <= 24 {
		t.Fatalf("the floor should bind here: %v, %.1f weeks", a.Appraisal.Binds, a.Corridor.FastestWeeks.Value)
	}
	p.Limits.LowAvailability = &athlete.LowAvailability{From: p.AsOf, Weeks: 4, Why: "agreed", Who: "the coach"}
	b := Solve(p)
	gain := a.Corridor.FastestWeeks.Value - b.Corridor.FastestWeeks.Value
	if gain <= 0.5 {
		t.Errorf("four weeks of leave bring %.2f weeks", gain)
	}
	for _, w := range b.Map.Weeks {
		if floor := p.Limits.EnergyAvailabilityFloorOn(w.From); w.Available < floor-0.05 {
			t.Errorf("%s: energy availability %.1f, floor %.0f", w.From, w.Available, floor)
		}
	}
	// A leave that begins later may not be counted on today.
	p.Limits.LowAvailability.From = p.AsOf.AddDays(7 * 50)
	if c := p.corridor(); c.SlackWeeks.Value > a.Corridor.SlackWeeks.Value+4 {
		t.Errorf("slack %.1f with a leave after the show, %.1f without", c.SlackWeeks.Value, a.Corridor.SlackWeeks.Value)
	}
}

// The athlete who maintains on less than the floor is never asked to eat less
// than it, and steps are all there is.
func TestFloorAboveMaintenance(t *testing.T) {
	p := problem(athlete.Female, 58, 24, 14, 30)
	p.Model.RestKcal -= 700
	p.Dieting = true
	r := p.ranges(&p.State, p.AsOf)
	if r.food != 0 || r.cardio != 0 {
		t.Fatalf("food may fall by %.0f kcal and cardio rise by %.0f minutes", r.food, r.cardio)
	}
	s := Solve(p)
	for _, w := range s.Map.Weeks {
		if w.Available < 30-0.05 {
			t.Errorf("%s of %s: energy availability %.1f", w.Phase, w.From, w.Available)
		}
	}
	if s.Map.Lands || s.Appraisal.Verdict != NoTime {
		t.Errorf("%q: %s", s.Appraisal.Verdict, s.Appraisal.Sentence)
	}
	sane(t, s.Appraisal.Sentence)
	var none civil.Date
	if s.Appraisal.LatestAtAll != none {
		t.Errorf("no start arrives, yet the latest is %s", s.Appraisal.LatestAtAll)
	}
}
