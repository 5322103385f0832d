package season

import (
	"fmt"
	"math"
	"time"

	"glidepath/athlete"
	"glidepath/civil"
)

// Verdict is the appraisal in a word.
type Verdict string

// The verdicts.
const (
	NoTime    Verdict = "not enough time"
	Tight     Verdict = "tight"
	Enough    Verdict = "enough time"
	Early     Verdict = "time in hand"
	InReach   Verdict = "in condition"
	PreDiet   Verdict = "pre-prep diet first"
	notTold           = 0.05 // % body fat under which there is nothing to lose
	tightWeek         = 2.0  // weeks of slack under which a plan is tight
)

// Appraisal is the verdict on the starting position.
type Appraisal struct {
	Verdict           Verdict       `json:"verdict"`
	Sentence          string        `json:"sentence"`
	Feasible          bool          `json:"feasible"`
	ShowDate          civil.Date    `json:"show_date"`
	WeeksAvailable    float64       `json:"weeks_available"`
	LoseKg            Span          `json:"lose_kg"`
	StageWeightKg     Span          `json:"stage_weight_kg"`
	SlackWeeks        Span          `json:"slack_weeks"`
	FastestWeeks      Span          `json:"fastest_weeks"`
	SensibleWeeks     float64       `json:"sensible_weeks"`
	NeededRatePct     float64       `json:"needed_rate_pct"`    // mean over the days there are
	PermittedRatePct  float64       `json:"permitted_rate_pct"` // mean over the fastest descent
	LatestSensible    civil.Date    `json:"latest_sensible_start"`
	LatestAtAll       civil.Date    `json:"latest_start"`
	Binds             []string      `json:"binds"` // limits met on the way, the commonest first
	Ways              []Way         `json:"ways,omitempty"`
	Alternatives      []Alternative `json:"alternatives"`
	ReachableBodyFat  float64       `json:"reachable_body_fat_pct"` // by the show, at the fastest permitted
	ReachableWeightKg float64       `json:"reachable_weight_kg"`
}

// Way is one way to make an infeasible start feasible, or a feasible one better.
type Way struct {
	Kind     string `json:"kind"` // later show, another target, pre-prep diet, more steps
	Sentence string `json:"sentence"`
}

// Alternative is a row of the table of what else could be done.
type Alternative struct {
	What             string     `json:"what"`
	ShowDate         civil.Date `json:"show_date"`
	Start            civil.Date `json:"start"`
	Feasible         bool       `json:"feasible"`
	Weeks            float64    `json:"weeks"` // of diet
	SlackWeeks       float64    `json:"slack_weeks"`
	RatePct          float64    `json:"rate_pct"`
	LowestEnergyKcal float64    `json:"lowest_energy_kcal"`
	LeanLostKg       float64    `json:"lean_lost_kg"`
}

func (p *Problem) appraise(c *Corridor, m *Map) Appraisal {
	f := &c.fastest
	last := len(f.fat) - 1
	a := Appraisal{
		ShowDate: p.Show.Date, WeeksAvailable: p.weeksToShow(p.AsOf),
		SlackWeeks: c.SlackWeeks, FastestWeeks: c.FastestWeeks,
		SensibleWeeks:  c.needDays(p.State.FatKg) / 7 / sensiblePace,
		LatestSensible: p.sensibleStart(f, p.State, p.AsOf),
	}
	weight := tissueKg(&p.Model, &p.State)
	target := p.Show.TargetBodyFatPct / 100
	// Lean lost on the way comes from the path; what is already lean is given.
	lostLean := 0.0
	if at := f.at(p.State.FatKg); !math.IsNaN(at) {
		lostLean = interpolate(f.fatFree, at) - f.fatFree[last]
	}
	stage := func(fat float64) float64 { return (weight - fat - lostLean) / (1 - target) }
	a.StageWeightKg = p.span(stage)
	a.LoseKg = p.span(func(fat float64) float64 { return weight - stage(fat) })
	days := float64(p.dietDays(p.AsOf))
	if days > 0 {
		a.NeededRatePct = meanRate(weight, a.StageWeightKg.Value, days/7)
	}
	if need := c.needDays(p.State.FatKg); need > 0 && need < longestDescent {
		a.PermittedRatePct = meanRate(weight, a.StageWeightKg.Value, need/7)
		a.LatestAtAll = p.AsOf.AddDays(int(math.Floor(days - need)))
	}
	a.ReachableBodyFat, a.ReachableWeightKg = p.reachable(c)
	a.Feasible = m.Lands || a.ReachableBodyFat <= p.Show.TargetBodyFatPct+p.Show.Tolerance()
	a.Binds = binds(f, p.State.FatKg)
	a.Verdict = p.verdict(&a, m)
	a.Sentence = p.sentence(&a, m)
	a.Ways = p.ways(&a)
	a.Alternatives = p.alternatives(c)
	return a
}

// meanRate is the steady rate, % of body weight a week, from one weight to
// another.
func meanRate(from, to, weeks float64) float64 {
	return 100 * (1 - math.Pow(to/from, 1/weeks))
}

// reachable is the condition on show day of the fastest permitted descent.
func (p *Problem) reachable(c *Corridor) (pct, kg float64) {
	end := c.Days[len(c.Days)-1]
	return end.LowerPct, end.LowerKg
}

func binds(f *descent, fatKg float64) []string {
	count := map[Bind]int{}
	from := 0
	if at := f.at(fatKg); !math.IsNaN(at) {
		from = int(at / 7)
	}
	for _, b := range f.bind[min(from, len(f.bind)):] {
		count[b]++
	}
	var out []string
	for len(out) < len(count) {
		best, most := Bind(""), 0
		for _, b := range []Bind{BindRate, BindAvailability} {
			if count[b] > most {
				best, most = b, count[b]
			}
		}
		if most == 0 {
			break
		}
		out = append(out, fmt.Sprintf("%s (%d of %d weeks)", best, most, len(f.bind)-from))
		count[best] = 0
	}
	return out
}

func (p *Problem) verdict(a *Appraisal, m *Map) Verdict {
	prePrep := false
	for _, ph := range m.Phases {
		prePrep = prePrep || ph.Kind == athlete.PrePrep
	}
	switch {
	case p.BodyFat.Mean <= p.Show.TargetBodyFatPct+notTold:
		return InReach
	case !a.Feasible:
		return NoTime
	case a.SlackWeeks.Value < tightWeek:
		return Tight
	case prePrep:
		return PreDiet
	case !p.Dieting && m.Start > p.AsOf.AddDays(7):
		return Early
	}
	return Enough
}

func (p *Problem) sentence(a *Appraisal, m *Map) string {
	lose := p.Units.Weight(a.LoseKg.Value)
	switch a.Verdict {
	case InReach:
		return fmt.Sprintf("The target of %.1f %% body fat is reached as far as can be told; hold condition for the %.1f weeks to the show.",
			p.Show.TargetBodyFatPct, a.WeeksAvailable)
	case NoTime:
		if a.never() {
			return fmt.Sprintf("%s to lose: with these limits the target of %.1f %% body fat is never reached.", lose, p.Show.TargetBodyFatPct)
		}
		if a.NeededRatePct == 0 {
			return fmt.Sprintf("%s to lose and no day left on which a deficit could be planned.", lose)
		}
		return fmt.Sprintf("Not enough time: %s to lose in %.1f weeks is %.1f %% of body weight a week, where %.1f %% is permitted on average; the fastest permitted descent takes %.1f weeks, a sensible one %.0f, so %.1f weeks are missing.",
			lose, a.WeeksAvailable, a.NeededRatePct, a.PermittedRatePct, a.FastestWeeks.Value, a.SensibleWeeks, -a.SlackWeeks.Value)
	case Tight:
		if !m.Lands {
			return fmt.Sprintf("Within the tolerance at best: %s to lose in %.1f weeks; the fastest permitted descent ends at %.1f %% body fat, where %.1f %% give or take %.1f is wanted.",
				lose, a.WeeksAvailable, a.ReachableBodyFat, p.Show.TargetBodyFatPct, p.Show.Tolerance())
		}
		return fmt.Sprintf("It can be done, with %.1f weeks of slack: %s to lose in %.1f weeks is close to the fastest that the limits permit (%.1f weeks).",
			math.Max(0, a.SlackWeeks.Value), lose, a.WeeksAvailable, a.FastestWeeks.Value)
	case PreDiet:
		return fmt.Sprintf("%s to lose would make a prep of %.0f weeks; a pre-prep diet now and a return to maintenance shorten it to %.0f, from %s.",
			lose, a.SensibleWeeks, p.weeksToShow(m.Start), day(m.Start))
	case Early:
		return fmt.Sprintf("There is time: %s to lose takes about %.0f weeks at a sensible pace; start the prep on %s, %.0f weeks out, and not after %s.",
			lose, a.SensibleWeeks, day(m.Start), p.weeksToShow(m.Start), day(a.LatestSensible))
	}
	return fmt.Sprintf("Enough time: %.1f weeks of slack; %s to lose in %.1f weeks is %.1f %% of body weight a week on average.",
		a.SlackWeeks.Value, lose, a.WeeksAvailable, a.NeededRatePct)
}

// never reports whether no permitted descent reaches the target at all.
func (a *Appraisal) never() bool { return a.FastestWeeks.Value >= longestDescent/7 }

func day(d civil.Date) string {
	t := d.Time()
	return fmt.Sprintf("%d %s %d", t.Day(), [...]string{
		"", "January", "February", "March", "April", "May", "June",
		"July", "August", "September", "October", "November", "December",
	}[t.Month()/time.January], t.Year())
}

// ways lists what would make it feasible, the cheapest first, and what eases a
// tight plan.
func (p *Problem) ways(a *Appraisal) []Way {
	if a.Verdict != NoTime && a.Verdict != Tight {
		return nil
	}
	var out []Way
	say := func(kind, format string, args ...any) { out = append(out, Way{kind, fmt.Sprintf(format, args...)}) }
	for _, s := range p.OtherShows {
		if q := p.at(s); s.Date > p.Show.Date && float64(q.dietDays(p.AsOf)) >= a.SensibleWeeks*7 {
			say("later show", "%s on %s leaves %.0f weeks, enough at a sensible pace.", s.Name, day(s.Date), q.weeksToShow(p.AsOf))
			break
		}
	}
	if !a.never() {
		blocked := p.Show.Date.DaysSince(p.AsOf) - p.dietDays(p.AsOf)
		date := p.AsOf.AddDays(int(math.Ceil(a.SensibleWeeks*7)) + blocked)
		say("later show", "A show on or after %s leaves a sensible %.0f weeks.", day(date), p.weeksTo(date))
	}
	if a.Verdict == NoTime && a.ReachableBodyFat > p.Show.TargetBodyFatPct {
		say("another target", "By %s the fastest permitted descent reaches %.1f %% body fat at about %s; a target from there up is feasible.",
			day(p.Show.Date), a.ReachableBodyFat, p.Units.Weight(a.ReachableWeightKg))
	}
	if a.Verdict == NoTime && a.SensibleWeeks > LongPrepWeeks && !a.never() {
		weeks := math.Ceil(math.Min(prePrepMax, a.SensibleWeeks-LongPrepWeeks+4))
		say("pre-prep diet", "For a later show: a pre-prep diet of %.0f weeks now, at least %d weeks at maintenance, then a prep of no more than %d weeks.",
			weeks, minReturnWeeks, LongPrepWeeks)
	}
	if len(a.Binds) > 0 && p.Levers.StepsMax < 15000 {
		say("more steps", "The plan uses at most %.0f steps a day; more that can be kept up would save food where energy is what binds.", p.Levers.StepsMax)
	}
	return out
}

func (p *Problem) weeksTo(d civil.Date) float64 { return float64(d.DaysSince(p.AsOf)) / 7 }

// at is the same athlete with another show.
func (p *Problem) at(s athlete.Show) *Problem {
	q := *p
	q.Show = s
	return &q
}

// alternatives tables the plan as it is, later starts, and the other shows.
func (p *Problem) alternatives(c *Corridor) []Alternative {
	var out []Alternative
	row := func(q *Problem, what string, wait int) {
		if q.dietDays(p.AsOf.AddDays(7*wait)) <= 7 {
			return
		}
		f := flight{p: q, s: q.State, on: q.AsOf}
		f.between(q.AsOf.AddDays(7 * wait))
		fastest := &c.fastest
		if q.Show.TargetBodyFatPct != p.Show.TargetBodyFatPct {
			other := q.fastestThrough()
			fastest = &other
		}
		lean := q.Model.ReferenceFatFreeKg(&f.s)
		from := tissueKg(&q.Model, &f.s)
		start := f.on
		f.m.Weeks = nil
		d := q.diet(f.s, f.on, fastest)
		slack := (float64(q.dietDays(f.on)) - fastest.needDays(f.s.FatKg) + c.ahead) / 7
		f.diet(&d)
		weeks := float64(f.on.DaysSince(start)) / 7
		st := f.stage(lean)
		out = append(out, Alternative{
			What: what, ShowDate: q.Show.Date, Start: start, Feasible: d.lands, Weeks: weeks, SlackWeeks: slack,
			RatePct: meanRate(from, st.WeightKg, weeks), LowestEnergyKcal: st.LowestEnergyKcal, LeanLostKg: st.LeanLostKg,
		})
	}
	name := p.Show.Name
	row(p, fmt.Sprintf("start now, %s", name), 0)
	if !p.Dieting {
		for _, wait := range []int{2, 4, 8} {
			row(p, fmt.Sprintf("start in %d weeks, %s", wait, name), wait)
		}
	}
	for _, s := range p.OtherShows {
		row(p.at(s), fmt.Sprintf("start now, %s", s.Name), 0)
	}
	return out
}
