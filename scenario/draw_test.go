package scenario

import (
	"testing"

	"glidepath/athlete"
)

// A cohort is wide and sensible. The bounds are judgement.
func TestDrawnCohort(t *testing.T) {
	count := map[athlete.Sex]int{}
	phases := map[athlete.PhaseKind]int{}
	const n = 400
	for seed := range uint64(n) {
		spec := Draw(seed, DrawOptions{})
		count[spec.Athlete.Sex]++
		phases[spec.Plan[0].Phase]++
		s := Simulate(spec, seed)
		valid(t, &s)
		h := spec.Athlete.HeightCm / 100
		within(t, "BMI", spec.WeightKg/h/h, 16.5, 34)
		if spec.Athlete.BirthDate.YearsUntil(spec.From) < athlete.Adult {
			t.Errorf("seed %d is a minor", seed)
		}
		if spec.Plan[0].Phase == athlete.Prep {
			last := s.Truth[len(s.Truth)-1]
			within(t, "loss in a drawn prep of 20 weeks, share of weight", 1-last.WeightKg/spec.WeightKg, -0.05, 0.2)
		}
	}
	if count[athlete.Male] < n/3 || count[athlete.Female] < n/3 || phases[athlete.Prep] < n/3 || phases[athlete.OffSeason] < n/5 {
		t.Errorf("lopsided: %v %v", count, phases)
	}
}

// The habits asked for are the habits got: daily weights and 80 % of intake.
func TestDrawnLogging(t *testing.T) {
	var weights, meals, days float64
	for seed := range uint64(100) {
		s := Simulate(Draw(seed, DrawOptions{Weeks: 4, WeightShare: 1, IntakeShare: 0.8}), seed)
		days += 28
		for _, d := range s.Days {
			if d.WeightKg != nil {
				weights++
			}
			if d.EnergyKcal != nil {
				meals++
			}
		}
	}
	near(t, "share of days with a weight", weights/days, 1, 0)
	near(t, "share of days with intake", meals/days, 0.8, 0.03)
}

func TestDrawHonoursItsOptions(t *testing.T) {
	s := Draw(1, DrawOptions{ID: "asked-for", Sex: athlete.Female, From: start + 7, Weeks: 3, Protocol: Gaining})
	if s.Athlete.ID != "asked-for" || s.Athlete.Sex != athlete.Female || s.From != start+7 || s.To != start+7+20 ||
		s.Plan[0].Phase != athlete.OffSeason {
		t.Errorf("got %+v", s)
	}
}
