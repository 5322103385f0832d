package decision

import (
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
	"glidepath/physiology"
	"glidepath/reading"
	"glidepath/season"
)

var asOf = civil.Of(2026, 3, 2)

// problem is an invented athlete in a prep: weight, body fat and target in per
// cent, and weeks to the show.
func problem(sex athlete.Sex, weightKg, fatPct, targetPct float64, weeks int) season.Problem {
	fat := fatPct / 100 * weightKg
	levers := season.Levers{
		StepsNow: 9000, StepsMax: 15000, StepKcalPerKg: 0.00035,
		CardioMax: 300, CardioKcalPerKgMin: 0.06, LiftingKcalPerKgDay: 2.2,
	}
	activity := levers.ActivityKcalPerKg(season.Instruction{StepsPerDay: levers.StepsNow})
	resting, err := physiology.RestingExpenditure(physiology.Body{Sex: sex, WeightKg: weightKg, FatKg: fat, HeightCm: 172, AgeYears: 30}, 0)
	if err != nil {
		panic(err)
	}
	model := dynamics.New(dynamics.Model{
		ActivityKcalPerKg: 3, ActivityYield: 0.75,
		IntakeBaselineKcal:       (resting.Value + 3*weightKg + 0.75*activity*weightKg) / 0.9,
		AdaptationGain:           dynamics.AdaptationGain,
		ThermicEffect:            dynamics.ThermicEffect,
		Partition:                dynamics.Trained(),
		CarbohydrateBaselineKcal: 1300, FluidBaselineKg: 20,
	})
	s := model.Fresh(fat, weightKg-fat, 0)
	model.RestKcal = model.IntakeBaselineKcal - model.MaintenanceKcal(&s, model.IntakeBaselineKcal, activity)
	return season.Problem{
		AsOf: asOf, Sex: sex, Units: athlete.Metric, Limits: athlete.DefaultLimits(sex), Levers: levers,
		Model: model, State: s, BodyFat: numeric.Normal{Mean: fatPct, SD: 1}, CarbohydrateShare: 0.45,
		Show:    athlete.Show{Name: "the show", Date: asOf.AddDays(7 * weeks), TargetBodyFatPct: targetPct},
		Dieting: true, DietWeeks: 5,
	}
}

// prescription has one energy for every day.
func prescription(phase athlete.PhaseKind, in season.Instruction, daysOld int) *athlete.Prescription {
	p := &athlete.Prescription{
		From: asOf.AddDays(-daysOld), Phase: phase, Steps: in.StepsPerDay,
		Days: []athlete.DayPrescribed{{Type: athlete.TrainingDay, PerWeek: 7, EnergyKcal: in.EnergyKcal}},
	}
	if in.CardioMinutes > 0 {
		p.Cardio = []athlete.CardioPlan{{Kind: athlete.Walking, MinutesPerWeek: in.CardioMinutes, Sessions: 3}}
	}
	return p
}

func about(mean, sd float64) numeric.Interval { return numeric.Normal{Mean: mean, SD: sd}.Interval() }

// situate puts an athlete, well logged, on the prescription that stands.
func situate(p season.Problem, current *athlete.Prescription) Situation {
	if current != nil {
		p.Levers.StepsNow, p.Levers.CardioNow = current.Steps, current.CardioMinutes()
	}
	lean := p.Model.ReferenceFatFreeKg(&p.State)
	weight := lean + p.State.FatKg
	intake := p.Model.IntakeBaselineKcal
	if current != nil {
		intake = current.MeanEnergyKcal()
	}
	in := season.Instruction{EnergyKcal: intake, StepsPerDay: p.Levers.StepsNow, CardioMinutes: p.Levers.CardioNow}
	spent := p.Model.MaintenanceKcal(&p.State, intake, p.Levers.ActivityKcalPerKg(in))
	s := p.State
	p.Live(&s, in, 7)
	rate := 100 * (weight - s.FatKg - p.Model.ReferenceFatFreeKg(&s)) / weight
	return Situation{
		Athlete: &athlete.Athlete{Name: "Invented", Sex: p.Sex},
		Problem: p, Season: season.Solve(p), Current: current,
		Reading: &reading.Reading{
			AsOf: asOf,
			Daily: []reading.Estimate{{
				Date: asOf, TrendKg: about(weight, 0.2), RatePct: about(rate, 0.1), FatKg: about(p.State.FatKg, 1),
				LeanKg: about(lean, 1), BodyFatPct: about(p.BodyFat.Mean, 1), ExpenditureKc: about(spent, 40),
			}},
			Now:       reading.Posterior{IntakeKcal: intake, Model: p.Model},
			Adherence: reading.Adherence{Days: 26, MeanRatio: 1, SDRatio: 0.08, SERatio: 0.016},
			Evidence: reading.Evidence{
				LastLog: asOf, Days: 60, Weights7: 7, Weights14: 13, Intake14: 14, WeightsTotal: 58, IntakeTotal: 58,
				Compositions: 3, LastMeasured: asOf.AddDays(-10),
			},
		},
	}
}

// standing is a prescription some kcal a day above (or below) what the plan asks
// of the next weeks, on as many days old.
func standing(p season.Problem, aboveKcal float64, daysOld int) *athlete.Prescription {
	in := planned(p)
	in.EnergyKcal += aboveKcal
	return prescription(athlete.Prep, in, daysOld)
}

// planned is what the plan asks of the next weeks, settled for an athlete who
// does the plan's own steps and cardio already.
func planned(p season.Problem) season.Instruction {
	var in season.Instruction
	for range 10 {
		s := situate(p, prescription(athlete.Prep, in, 30))
		if in.EnergyKcal == 0 {
			s = situate(p, nil)
		}
		r := &review{Situation: s, set: Settings{}.withDefaults(), p: &s.Problem}
		r.gather()
		in = r.plan
		p.Levers.StepsNow, p.Levers.CardioNow = in.StepsPerDay, in.CardioMinutes
	}
	return in
}

var slip = regexp.MustCompile(`NaN|Inf|%!|  |\b1 days\b|\b0001\b|(^|[ (])-\d|\.\.|_`)

// check asserts what holds of every proposal.
func check(t interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}, s *Situation, o *Proposal,
) {
	t.Helper()
	p := &s.Problem
	for _, line := range append(append(append(append([]string{o.Sentence}, o.Reasons...), o.Expects...), o.ChangesMind...), o.Cautions...) {
		if line == "" || slip.MatchString(line) || !strings.HasSuffix(strings.TrimRight(line, `)"`), ".") {
			t.Errorf("not a sentence for a coach: %q", line)
		}
	}
	if len(o.Reasons) == 0 || len(o.Expects) == 0 || len(o.ChangesMind) == 0 || !strings.ContainsAny(strings.Join(o.Reasons, ""), "0123456789") {
		t.Errorf("reasons %q, expects %q, changes mind %q", o.Reasons, o.Expects, o.ChangesMind)
	}
	if _, err := json.Marshal(o); err != nil {
		t.Fatalf("%v", err)
	}
	last := s.Reading.Daily[0]
	ea := (o.To.EnergyKcal - p.Levers.ExerciseKcalPerKg(o.To.CardioMinutes)*last.TrendKg.Value) / last.LeanKg.Value
	floor := p.Limits.EnergyAvailabilityFloorOn(asOf)
	switch {
	case o.Action == Change || o.Action == Begin:
		if ea < floor-1e-6 && (o.Lever != Sets && o.To.EnergyKcal <= o.From.EnergyKcal) {
			t.Errorf("energy availability %.2f, floor %.0f: %s", ea, floor, o.Sentence)
		}
	case o.To != o.From || o.Lever != "" || o.ChangeKcal != 0:
		t.Errorf("%s, yet from %+v to %+v by %q", o.Action, o.From, o.To, o.Lever)
	}
	if o.To.StepsPerDay > p.Levers.StepsMax+1e-6 || o.To.CardioMinutes > p.Levers.CardioMax+1e-6 || o.To.CardioMinutes < 0 {
		t.Errorf("asks %+v, limits %+v", o.To, p.Levers)
	}
	moved := 0
	for _, d := range [...]float64{o.To.EnergyKcal - o.From.EnergyKcal, o.To.StepsPerDay - o.From.StepsPerDay, o.To.CardioMinutes - o.From.CardioMinutes} {
		if math.Abs(d) > 1e-9 {
			moved++
		}
	}
	// One lever at a time, but for the first prescription and the one exchange.
	switch {
	case o.Exchange && (o.Lever != Cardio || o.To.CardioMinutes >= o.From.CardioMinutes || o.To.EnergyKcal >= o.From.EnergyKcal ||
		o.ChangeKcal <= 0 || moved != 2 || !strings.Contains(o.Sentence, "one exchange") || !slices.ContainsFunc(o.Reasons, func(r string) bool {
		return strings.Contains(r, "neither could change alone")
	})):
		t.Errorf("an exchange that is none: from %+v to %+v: %s", o.From, o.To, o.Sentence)
	case moved > 1 && s.Current != nil && !o.Exchange:
		t.Errorf("%d levers move: %s", moved, o.Sentence)
	}
	if o.Action == Change && o.Lever != Sets && moved == 0 {
		t.Errorf("a change of nothing: %s", o.Sentence)
	}
	if len(o.Sets) > 0 && o.Lever != Sets || o.Lever == Sets && moved > 0 {
		t.Errorf("sets %v with lever %q, %d levers moved", o.Sets, o.Lever, moved)
	}
}

// review1 reviews a situation and checks what holds of every proposal.
func review1(t *testing.T, s Situation) Proposal {
	t.Helper()
	o := Review(s)
	check(t, &s, &o)
	t.Logf("%s: %s", o.Action, o.Sentence)
	return o
}
