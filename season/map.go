package season

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
)

// Map is the season from AsOf to the end of recovery.
type Map struct {
	Phases []athlete.Phase `json:"phases"`
	Weeks  []Week          `json:"weeks"`
	Path   []PathDay       `json:"path"`
	Lands  bool            `json:"lands"` // the plan reaches the target within all limits
	Start  civil.Date      `json:"start"` // of the prep
	Stage  Stage           `json:"stage"`
	Rests  []Rest          `json:"rests,omitempty"` // decided for and against

	gain bool // the off-season before the prep is one of gain
	diet dietPlan
}

// Week is one row of the map. Weights are at its first morning.
type Week struct {
	From       civil.Date        `json:"from"`
	Days       int               `json:"days"`
	Phase      athlete.PhaseKind `json:"phase"`
	Asked      Instruction       `json:"asked"`
	WeightKg   float64           `json:"weight_kg"`
	BodyFatPct float64           `json:"body_fat_pct"`
	LeanKg     float64           `json:"lean_kg"`
	RatePct    float64           `json:"rate_pct"` // loss over the week, % of weight
	Available  float64           `json:"energy_availability"`
	Effort     float64           `json:"effort"` // share of the greatest permitted
	DietBreak  bool              `json:"diet_break,omitempty"`
	RestDays   int               `json:"rest_days,omitempty"` // days at maintenance: a diet break's, an event's
	Refeeds    int               `json:"refeeds,omitempty"`
}

// PathDay is the plan on a morning, and what is asked that day.
type PathDay struct {
	Date       civil.Date `json:"date"`
	WeightKg   float64    `json:"weight_kg"` // at usual hydration
	FatKg      float64    `json:"fat_kg"`
	FatFreeKg  float64    `json:"fat_free_kg"`
	EnergyKcal float64    `json:"energy_kcal"`
	// WaterKg is what glycogen, its water and extracellular fluid should weigh
	// that morning above the usual, by the plan's carbohydrate and energy; a scale
	// shows WeightKg and it (times the gain that a reading has learned).
	WaterKg           float64 `json:"water_kg"`
	CarbohydrateKcal  float64 `json:"carbohydrate_kcal"`
	ActivityKcalPerKg float64 `json:"activity_kcal_per_kg"`
}

// Stage is what the plan expects on show day.
type Stage struct {
	WeightKg         float64 `json:"weight_kg"`
	BodyFatPct       float64 `json:"body_fat_pct"`
	LeanLostKg       float64 `json:"lean_lost_kg"`
	LowestEnergyKcal float64 `json:"lowest_energy_kcal"`
	LowestAvailable  float64 `json:"lowest_energy_availability"`
	MostCardio       float64 `json:"most_cardio_minutes"`
	MeanRatePct      float64 `json:"mean_rate_pct"` // over the weeks of the diet
}

// flight writes the path and the weeks as it lives them. The levers of its problem
// are as they stand on the day.
type flight struct {
	p  *Problem
	s  dynamics.State
	on civil.Date
	m  Map
}

func (p *Problem) flight() flight {
	own := *p
	return flight{p: &own, s: p.State, on: p.AsOf}
}

// branch is a flight that goes on from where another is.
func (f *flight) branch() flight {
	own := *f.p
	return flight{p: &own, s: f.s, on: f.on}
}

// week lives up to seven days of an instruction; on days at rest the energy is
// what holds.
func (f *flight) week(phase athlete.PhaseKind, in Instruction, days int, rest func(civil.Date) bool) *Week {
	p := f.p
	w := Week{
		From: f.on, Days: days, Phase: phase, WeightKg: tissueKg(&p.Model, &f.s),
		BodyFatPct: bodyFatPct(&p.Model, &f.s), LeanKg: p.Model.ReferenceFatFreeKg(&f.s),
	}
	if n := len(f.m.Phases); n == 0 || f.m.Phases[n-1].Kind != phase {
		f.m.Phases = append(f.m.Phases, athlete.Phase{Kind: phase, From: f.on})
	}
	first := f.s
	var asked Instruction
	for range days {
		today := in
		resting := rest(f.on)
		if resting {
			today = p.holding(&f.s, f.on)
			w.RestDays++
		}
		input := p.input(today)
		f.m.Path = append(f.m.Path, PathDay{
			Date: f.on, WeightKg: tissueKg(&p.Model, &f.s), FatKg: f.s.FatKg,
			FatFreeKg: p.Model.ReferenceFatFreeKg(&f.s), WaterKg: p.Model.WaterKg(&f.s), EnergyKcal: input.EnergyKcal,
			CarbohydrateKcal: input.CarbohydrateKcal, ActivityKcalPerKg: input.ActivityKcalPerKg,
		})
		if resting {
			p.hold(&f.s, f.on)
		} else {
			p.Model.Step(&f.s, input)
		}
		asked.EnergyKcal += today.EnergyKcal
		asked.StepsPerDay += today.StepsPerDay
		asked.CardioMinutes += today.CardioMinutes
		f.on++
	}
	n := float64(days)
	w.Asked = Instruction{EnergyKcal: asked.EnergyKcal / n, StepsPerDay: asked.StepsPerDay / n, CardioMinutes: asked.CardioMinutes / n}
	w.RatePct = p.ratePct(&first, &f.s, days)
	w.Available = (w.Asked.EnergyKcal - p.Levers.ExerciseKcalPerKg(w.Asked.CardioMinutes)*w.WeightKg) / w.LeanKg
	f.m.Phases[len(f.m.Phases)-1].To = f.on - 1
	f.m.Weeks = append(f.m.Weeks, w)
	return &f.m.Weeks[len(f.m.Weeks)-1]
}

func never(civil.Date) bool  { return false }
func always(civil.Date) bool { return true }

// plan maps the season. Without a show it is recovery, where one is due, and
// off-season.
func (p *Problem) plan(c *Corridor) Map {
	f := p.flight()
	first := p.Model.ReferenceFatFreeKg(&f.s)
	if p.Show.Date.IsZero() {
		f.between(p.AsOf.AddDays(7*openEndedWeeks), true)
		return f.m
	}
	p = f.p
	o := p.outline(&c.fastest)
	for range o.prePrepWeeks {
		r := p.ranges(&f.s, f.on)
		effort, _ := p.greatestEffort(&f.s, &r)
		f.week(athlete.PrePrep, r.instruction(p, prePrepPace*effort), 7, p.maintenanceDay).Effort = prePrepPace
	}
	f.between(o.start, o.gain)
	f.m.Start, f.m.gain = f.on, o.gain
	startKg := tissueKg(&p.Model, &f.s)
	d := p.diet(f.s, f.on, &c.fastest, settled)
	f.diet(&d)
	f.m.Lands, f.m.diet, f.m.Rests = d.lands, d, d.rests
	f.m.refeedRest()
	weeks := float64(f.on.DaysSince(f.m.Start)) / 7
	f.toStage()
	f.m.Stage = f.stage(first)
	if weeks > 0 {
		f.m.Stage.MeanRatePct = 100 * (startKg - f.m.Stage.WeightKg) / startKg / weeks
	}
	f.recovery(recoveryWeeks)
	return f.m
}

const (
	openEndedWeeks = 16
	recoveryWeeks  = 10
)

// kcalPerKgGained is the energy of a kg that a trained person gains, about
// (judgement: the mixture of fat and lean, with what storing it costs).
const kcalPerKgGained = 7000.0

// between fills the time to a date with recovery, while it is due, and then
// off-season.
func (f *flight) between(until civil.Date, gain bool) {
	p := f.p
	for f.on < until {
		p.Levers = p.Levers.eased()
		phase, in := p.betweenWeek(&f.s, f.on, gain)
		f.week(phase, in, min(7, until.DaysSince(f.on)), never)
	}
}

// betweenWeek is a week without a diet: recovery while it is due, else
// off-season, of gain or not.
func (p *Problem) betweenWeek(s *dynamics.State, on civil.Date, gain bool) (athlete.PhaseKind, Instruction) {
	if on < p.RecoverUntil {
		left := (p.RecoverUntil.DaysSince(on) + 6) / 7
		return athlete.Recovery, p.recoveryWeek(s, on, recoveryWeeks-left)
	}
	return athlete.OffSeason, p.offSeasonWeek(s, on, gain)
}

func (f *flight) diet(d *dietPlan) {
	p := f.p
	end := p.Show.Date.AddDays(-readyDays)
	for w := range d.effort {
		r := p.ranges(&f.s, f.on)
		greatest, _ := p.greatestEffort(&f.s, &r)
		effort := math.Min(d.effort[w], greatest)
		rest := p.maintenanceDay
		if d.breaks[w] {
			rest = always
		}
		in := r.instruction(p, effort)
		n := p.refeeds(&f.s, f.on, in)
		week := f.week(athlete.Prep, in, min(7, end.DaysSince(f.on)), rest)
		week.DietBreak = d.breaks[w]
		if week.RestDays < week.Days && greatest > 0 {
			week.Effort = effort / greatest
		}
		if week.RestDays == 0 {
			week.Refeeds = n
		}
	}
}

// toStage holds condition through the peak week and show day.
func (f *flight) toStage() {
	if days := f.p.Show.Date.DaysSince(f.on); days > 0 {
		f.week(athlete.PeakWeek, Instruction{}, days, always)
	}
	f.week(athlete.ShowDay, Instruction{}, 1, always)
}

// recovery raises food to maintenance at once and lets weight come back at
// about 0.75 % a week for a month (Trexler et al. 2017, IJSNEM 27:458: the first
// 2 kg are water; the pace is judgement).
func (f *flight) recovery(weeks int) {
	for w := range weeks {
		f.p.Levers = f.p.Levers.eased()
		f.week(athlete.Recovery, f.p.recoveryWeek(&f.s, f.on, w), 7, never)
	}
}

func (p *Problem) recoveryWeek(s *dynamics.State, on civil.Date, week int) Instruction {
	in := p.standing(s, on)
	gain := 0.0
	switch enough := healthyPct(p.Sex); {
	case bodyFatPct(&p.Model, s) >= enough:
	case week < 1:
		gain = 0.4
	default:
		gain = 0.75
	}
	in.EnergyKcal += gain / 100 * tissueKg(&p.Model, s) * kcalPerKgGained / 7
	return in
}

// healthyPct is the body fat to come back to after a show (judgement).
func healthyPct(sex athlete.Sex) float64 {
	if sex == athlete.Male {
		return 10
	}
	return 18
}

func (f *flight) stage(firstFatFree float64) Stage {
	p := f.p
	s := Stage{
		WeightKg: tissueKg(&p.Model, &f.s), BodyFatPct: bodyFatPct(&p.Model, &f.s),
		LeanLostKg: firstFatFree - p.Model.ReferenceFatFreeKg(&f.s), LowestEnergyKcal: math.Inf(1), LowestAvailable: math.Inf(1),
	}
	for i := range f.m.Weeks {
		w := &f.m.Weeks[i]
		s.LowestEnergyKcal = math.Min(s.LowestEnergyKcal, w.Asked.EnergyKcal)
		s.LowestAvailable = math.Min(s.LowestAvailable, w.Available)
		s.MostCardio = math.Max(s.MostCardio, w.Asked.CardioMinutes)
	}
	return s
}

// Off-season gain, % of body weight a week, and the body fat above which none
// is planned (Iraki et al. 2019, Sports 7:154: 0.25 to 0.5 %, advanced less; the
// ceilings are judgement).
const gainPctPerWeek = 0.2

func gainCeilingPct(sex athlete.Sex) float64 {
	if sex == athlete.Male {
		return 16
	}
	return 26
}

// offSeasonWeek is the off-season's instruction at a state.
func (p *Problem) offSeasonWeek(s *dynamics.State, on civil.Date, gain bool) Instruction {
	in := p.standing(s, on)
	if gain && bodyFatPct(&p.Model, s) < gainCeilingPct(p.Sex) {
		in.EnergyKcal += gainPctPerWeek / 100 * tissueKg(&p.Model, s) * kcalPerKgGained / 7
	}
	return in
}
