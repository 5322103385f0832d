package lab

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/scenario"
)

// news is what reached the coach since last week.
type news struct {
	days         []athlete.Day
	measurements []athlete.Measurement
	sets         []athlete.Set
	sessions     []athlete.Session
	truth        []scenario.TruthDay // only for policies that may know it
}

// order is a new prescription, nil for what stands, and what was believed of
// the body when it was written.
type order struct {
	plan             *athlete.Prescription
	weightKg, leanKg float64
}

// policy prescribes. week is called on the morning of the appraisal and every
// seven days after it.
type policy interface {
	week(on civil.Date, n news) (order, error)
}

// Outcome is how a season went, by the truth.
type Outcome struct {
	Athlete   int     `json:"athlete"`
	Target    float64 `json:"target_pct"` // body fat, per cent
	StagePct  float64 `json:"stage_pct"`  // on the scale that the target is meant on: truth and the lasting bias of the athlete's method
	TruePct   float64 `json:"true_pct"`
	StageKg   float64 `json:"stage_kg"`     // on the scale, that morning
	ClassKg   float64 `json:"class_kg"`     // limit; 0 is none
	LeanLost  float64 `json:"lean_lost_kg"` // from the appraisal to the show
	StartLean float64 `json:"start_lean_kg"`
	Weeks     int     `json:"weeks"`
	TooFast   int     `json:"weeks_too_fast"`      // of true loss beyond the permitted rate by more than a tenth
	TooFast4  int     `json:"four_weeks_too_fast"` // of the same, meaning the four weeks that end with each
	Beyond    int     `json:"weeks_beyond"`        // of true loss beyond the permitted rate at all
	Lowest    float64 `json:"lowest_kcal"`         // lowest weekly mean prescribed

	// Energy availability of what was prescribed, kcal per kg of fat-free mass,
	// less the floor of the athlete's limits: the least by what was believed when
	// it was written, and the least by the true body on any week it stood.
	PlannedOverFloor float64 `json:"planned_ea_over_floor"`
	TrueOverFloor    float64 `json:"true_ea_over_floor"`
	BelowByTruth     int     `json:"weeks_below_floor_by_truth"`

	// Corrections: prescriptions after the first that neither begin a phase of the
	// plan nor begin or end a diet break.
	Changes int     `json:"changes"`
	Moved   float64 `json:"moved_kcal"` // sum of their sizes: energy, steps and cardio, kcal a day
	Told    Told    `json:"told"`
	Checks  []Check `json:"checks,omitempty"`
}

// Told is what was said at the appraisal: that there is no time, that there may be
// none, or neither.
type Told struct {
	Asked      bool    `json:"asked"`
	NoTime     bool    `json:"no_time"`
	Doubt      bool    `json:"doubt"` // the sentence says that there is or may be no time
	SlackWeeks float64 `json:"slack_weeks"`
	Chance     float64 `json:"chance"` // that there is time
}

// On reports whether the stage body fat is within points of the target, on the
// scale of the athlete's method.
func (o *Outcome) On(points float64) bool { return math.Abs(o.StagePct-o.Target) <= points }

// OnInTruth is the same of true body fat.
func (o *Outcome) OnInTruth(points float64) bool { return math.Abs(o.TruePct-o.Target) <= points }

// InsideClass reports whether the morning's weight is within the class limit;
// true where there is none.
func (o *Outcome) InsideClass() bool { return o.ClassKg == 0 || o.StageKg <= o.ClassKg }

// beyondSlack is how far over the permitted rate a week's true loss counts as
// too fast: a week's chance in eating and walking is about as much.
const beyondSlack = 1.1

// floorSlack forgives the rounding of macros to whole grams, kcal/kg.
const floorSlack = 0.1

// live runs one season of a subject under a policy. The person is new each
// time, so every policy meets the same body, habits and noise.
func (s *subject) live(i int, p policy, w *watch) (Outcome, error) {
	person := scenario.New(s.spec, s.seed)
	out := Outcome{
		Athlete: i, Target: s.show.TargetBodyFatPct,
		Lowest: math.Inf(1), PlannedOverFloor: math.Inf(1), TrueOverFloor: math.Inf(1),
	}
	out.ClassKg, _ = s.show.ClassLimit.LimitKg(s.spec.Athlete.HeightCm)
	appraisal := firstDay.AddDays(runInDays)
	var fresh news
	var plan *athlete.Prescription
	var weeks []scenario.TruthDay // each week's first morning
	for on := firstDay; on <= s.show.Date; on++ {
		weekly := on >= appraisal && on.DaysSince(appraisal)%7 == 0
		if weekly && on < s.show.Date {
			next, err := p.week(on, fresh)
			if err != nil {
				return out, err
			}
			fresh = news{}
			if next.plan != nil {
				s.prescribed(&out, plan, next, on)
				plan = next.plan
			}
		}
		l := person.Live(on, plan)
		if w != nil {
			out.Checks = append(out.Checks, w.morning(&l.Truth)...)
		}
		if on == s.show.Date {
			s.staged(&out, &l.Truth)
		}
		if on == appraisal {
			out.StartLean = l.Truth.LeanKg
		}
		if weekly {
			s.weighed(&out, plan, weeks, &l.Truth)
			weeks = append(weeks, l.Truth)
		}
		fresh.days = append(fresh.days, l.Day)
		fresh.sets = append(fresh.sets, l.Sets...)
		if l.Session != nil {
			fresh.sessions = append(fresh.sessions, *l.Session)
		}
		// On the first day, and from then on the day before a review has come round.
		if every := s.cohort.Measuring.EveryDays; every > 0 && (on == firstDay || on.DaysSince(firstDay)%every == every-1) {
			fresh.measurements = append(fresh.measurements, s.measure(on, l.Truth))
		}
		fresh.truth = append(fresh.truth, l.Truth)
	}
	if plan == nil { // left to habit
		out.Lowest = person.ReportedMaintenanceKcal()
		out.PlannedOverFloor, out.TrueOverFloor = 0, 0
	}
	return out, nil
}

// staged writes down the morning of the show.
func (s *subject) staged(o *Outcome, t *scenario.TruthDay) {
	o.TruePct, o.StageKg = 100*t.FatKg/t.WeightKg, t.ScaleKg
	o.StagePct = o.TruePct + s.biasPct
	o.LeanLost = o.StartLean - t.LeanKg
}

// weighed counts a week that has passed, the four that end with it, and what
// stands against the true body. weeks are the first mornings of those before.
func (s *subject) weighed(o *Outcome, plan *athlete.Prescription, weeks []scenario.TruthDay, now *scenario.TruthDay) {
	limits := &s.limits
	// rate is the loss of the last n weeks over what is permitted for them.
	rate := func(n int) float64 {
		was := weeks[len(weeks)-n:]
		permitted := 0.0
		for i := range was {
			permitted += limits.RatePctPerWeek(100 * was[i].FatKg / was[i].WeightKg)
		}
		return 100 * (was[0].WeightKg - now.WeightKg) / was[0].WeightKg / permitted
	}
	count := func(n *int, over bool) {
		if over {
			*n++
		}
	}
	if len(weeks) > 0 {
		o.Weeks++
		count(&o.Beyond, rate(1) > 1)
		count(&o.TooFast, rate(1) > beyondSlack)
	}
	const month = 4
	if len(weeks) >= month {
		count(&o.TooFast4, rate(month) > beyondSlack)
	}
	if plan == nil {
		return
	}
	over := s.availability(plan, now.WeightKg, now.LeanKg) - limits.EnergyAvailabilityFloorOn(now.Date)
	o.TrueOverFloor = math.Min(o.TrueOverFloor, over)
	if over < -floorSlack {
		o.BelowByTruth++
	}
}

func (s *subject) prescribed(o *Outcome, old *athlete.Prescription, next order, on civil.Date) {
	kcal := next.plan.MeanEnergyKcal()
	o.Lowest = math.Min(o.Lowest, kcal)
	over := s.availability(next.plan, next.weightKg, next.leanKg) - s.limits.EnergyAvailabilityFloorOn(on)
	o.PlannedOverFloor = math.Min(o.PlannedOverFloor, over)
	if old == nil || old.Phase != next.plan.Phase || (old.For(athlete.DietBreakDay) == nil) != (next.plan.For(athlete.DietBreakDay) == nil) {
		return
	}
	steps := math.Abs(old.Steps - next.plan.Steps)
	cardio := math.Abs(old.CardioMinutes() - next.plan.CardioMinutes())
	if energy := math.Abs(kcal - old.MeanEnergyKcal()); energy > 1 || steps > 0 || cardio > 1 {
		o.Changes++
		o.Moved += energy + next.weightKg*(steps*s.stepKcalPerKg+cardio/7*cardioKcalPerKgMin(s.spec.Athlete.Cardio[0], next.weightKg))
	}
}

// availability is the energy availability of a prescription in a body.
func (s *subject) availability(p *athlete.Prescription, weightKg, leanKg float64) float64 {
	exercise := s.liftingKcalPerKg
	for _, c := range p.Cardio {
		exercise += c.MinutesPerWeek / 7 * cardioKcalPerKgMin(c.Kind, weightKg)
	}
	return (p.MeanEnergyKcal() - weightKg*exercise) / leanKg
}
