package season

import (
	"fmt"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/phrase"
)

// Verdict is the appraisal in a word.
type Verdict string

// The verdicts.
const (
	NoTime  Verdict = "not enough time"
	Tight   Verdict = "tight"
	Enough  Verdict = "enough time"
	Early   Verdict = "time in hand"
	InReach Verdict = "in condition"
	PreDiet Verdict = "pre-prep diet first"
)

const (
	notTold   = 0.05 // points of body fat too few to tell from the target
	tightWeek = 2.0  // weeks of slack under which a plan is tight
	holdWeeks = 4    // weeks for which stage condition may be held (judgement)
)

// Chances of enough time under which there is said to be none, and under which a
// plan is tight: what lies between is told as not yet known (judgement).
const (
	noTimeBelow = 0.3
	tightBelow  = 0.75
)

// Appraisal is the verdict on the starting position.
type Appraisal struct {
	Verdict  Verdict `json:"verdict"`
	Sentence string  `json:"sentence"`
	Feasible bool    `json:"feasible"`
	// Chance that the fastest permitted descent ends within the tolerance, by what
	// is not known of body fat and expenditure and what life takes away.
	Chance            float64       `json:"chance"`
	ShowDate          civil.Date    `json:"show_date"`
	WeeksAvailable    float64       `json:"weeks_available"`
	LoseKg            Span          `json:"lose_kg"`
	StageWeightKg     Span          `json:"stage_weight_kg"`
	SlackWeeks        Span          `json:"slack_weeks"`
	FastestWeeks      Span          `json:"fastest_weeks"`
	SensibleWeeks     float64       `json:"sensible_weeks"`
	NeededRatePct     float64       `json:"needed_rate_pct"`       // mean over the days there are
	PermittedRatePct  float64       `json:"permitted_rate_pct"`    // mean over the fastest descent
	LatestSensible    civil.Date    `json:"latest_sensible_start"` // zero where no descent arrives
	LatestAtAll       civil.Date    `json:"latest_start"`          // zero likewise
	Binds             []string      `json:"binds"`                 // limits met on the way, the commonest first
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

func (p *Problem) appraise(c *Corridor, m *Map, front []Start) Appraisal {
	f := &c.fastest
	last := len(f.fat) - 1
	a := Appraisal{
		ShowDate: p.Show.Date, WeeksAvailable: p.weeksToShow(p.AsOf),
		SlackWeeks: c.SlackWeeks, FastestWeeks: c.FastestWeeks,
		SensibleWeeks: c.needDays(p.State.FatKg) / 7 / sensiblePace,
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
	if !a.never() {
		a.LatestSensible = p.sensibleStart(f, p.State, p.AsOf, m.gain)
		a.LatestAtAll = p.latestStart(c.needDays(p.State.FatKg))
	}
	days := float64(p.dietDays(p.AsOf))
	if days > 0 {
		a.NeededRatePct = meanRate(weight, a.StageWeightKg.Value, days/7)
	}
	if need := c.needDays(p.State.FatKg); need > 0 && need < longestDescent {
		a.PermittedRatePct = meanRate(weight, a.StageWeightKg.Value, need/7)
	}
	a.ReachableBodyFat, a.ReachableWeightKg = p.reachable(c)
	a.Feasible = m.Lands || a.ReachableBodyFat <= p.Show.TargetBodyFatPct+p.Show.Tolerance()
	a.Chance = p.chance(c)
	var availability bool
	a.Binds, availability = binds(f, p.State.FatKg)
	a.Verdict = p.verdict(&a, m)
	a.Sentence = p.sentence(&a, m)
	a.Ways = p.ways(&a, availability)
	a.Alternatives = p.alternatives(c, m, front)
	return a
}

// lifeShare is the SD of what illness, travel and bad weeks add to a descent, or
// good ones take off, as a share of its length (judgement).
const lifeShare = 0.08

// chance is the probability that the days there are for a deficit are enough for
// the fastest permitted descent to the edge of the tolerance.
func (p *Problem) chance(c *Corridor) float64 {
	edge := c.fastest.edgeDays(p.Show.TargetBodyFatPct + p.Show.Tolerance())
	need := c.needDays(p.State.FatKg)
	spare := float64(p.dietDays(p.AsOf)) - need + edge
	byFat := (c.needDays(p.fatAt(1)) - c.needDays(p.fatAt(-1))) / 2
	slower := *p
	slower.Model.RestKcal -= p.ExpenditureSD
	other := slower.fastestThrough()
	byExpenditure := other.needDays(p.State.FatKg) - c.fastest.needDays(p.State.FatKg)
	sd := math.Hypot(math.Hypot(byFat, byExpenditure), lifeShare*need)
	return numeric.Normal{Mean: spare, SD: math.Max(sd, 1)}.Above(0)
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

// latestStart is the last date from which there are so many days of diet; where
// there are not so many it lies as far before AsOf as days are missing.
func (p *Problem) latestStart(needDays float64) civil.Date {
	left := float64(p.dietDays(p.AsOf)) - needDays
	on := p.AsOf.AddDays(int(math.Floor(math.Min(0, left))))
	for left >= 1 || left >= 0 && p.maintenanceDay(on) && on < p.Show.Date.AddDays(-readyDays) {
		if !p.maintenanceDay(on) {
			left--
		}
		on++
	}
	return on
}

// binds counts the limits met from a fat mass on, the commonest first, and tells
// whether energy availability is among them.
func binds(f *descent, fatKg float64) (lines []string, availability bool) {
	from := len(f.bind)
	if f.needDays(fatKg) > 0 {
		from = min(int(clampIndex(f.at(fatKg), len(f.fat))/7), from)
	}
	weeks := map[Bind]int{}
	for _, b := range f.bind[from:] {
		weeks[b]++
	}
	all := []Bind{BindRate, BindSupply, BindAvailability}
	slices.SortStableFunc(all, func(a, b Bind) int { return weeks[b] - weeks[a] })
	for _, b := range all {
		switch n := weeks[b]; n {
		case 0:
		case len(f.bind) - from:
			lines = append(lines, fmt.Sprintf("%s (every week)", b))
		default:
			lines = append(lines, fmt.Sprintf("%s (%d of %d weeks)", b, n, len(f.bind)-from))
		}
	}
	return lines, weeks[BindAvailability] > 0
}

func (p *Problem) verdict(a *Appraisal, m *Map) Verdict {
	waits := 0
	if !p.Dieting {
		waits = m.Start.DaysSince(p.AsOf)
	}
	switch {
	case a.inCondition(p) && waits > holdWeeks*7:
		return Early
	case a.inCondition(p):
		return InReach
	case !a.Feasible && a.Chance < noTimeBelow:
		return NoTime
	case !a.Feasible || a.SlackWeeks.Value < tightWeek || a.Chance < tightBelow:
		return Tight
	case prePrep(m):
		return PreDiet
	case waits > 7:
		return Early
	}
	return Enough
}

// prePrep reports whether a map begins with a pre-prep diet.
func prePrep(m *Map) bool { return len(m.Phases) > 0 && m.Phases[0].Kind == athlete.PrePrep }

// inCondition reports whether there is nothing to lose.
func (a *Appraisal) inCondition(p *Problem) bool {
	return bodyFatPct(&p.Model, &p.State) <= p.Show.TargetBodyFatPct+notTold
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
		if !a.Feasible {
			return fmt.Sprintf("It may not be enough time: %s to lose in %.1f weeks, where by the likeliest reckoning %.1f weeks are missing. The chance to reach the tolerance in time is about %.0f %%.",
				lose, a.WeeksAvailable, -a.SlackWeeks.Value, a.roundedChance())
		}
		if !m.Lands {
			return fmt.Sprintf("Within the tolerance at best: %s to lose in %.1f weeks; the fastest permitted descent ends at %.1f %% body fat, where %.1f %% give or take %.1f is wanted. The chance to reach the tolerance in time is about %.0f %%.",
				lose, a.WeeksAvailable, a.ReachableBodyFat, p.Show.TargetBodyFatPct, p.Show.Tolerance(), a.roundedChance())
		}
		return fmt.Sprintf("It can be done, with %.1f weeks of slack: %s to lose in %.1f weeks is close to the fastest that the limits permit (%.1f weeks). The chance to reach the tolerance in time is about %.0f %%.",
			math.Max(0, a.SlackWeeks.Value), lose, a.WeeksAvailable, a.FastestWeeks.Value, a.roundedChance())
	case PreDiet:
		return fmt.Sprintf("%s to lose would make a prep of %s; a pre-prep diet now and a return to maintenance shorten it to %.0f, from %s.",
			lose, inWeeks(a.SensibleWeeks), p.weeksToShow(m.Start), day(m.Start))
	case Early:
		if a.inCondition(p) {
			return fmt.Sprintf("The target of %.1f %% body fat is reached as far as can be told, %s too soon: come up from it, for health and muscle, and start the prep on %s.",
				p.Show.TargetBodyFatPct, inWeeks(a.WeeksAvailable), day(m.Start))
		}
		return fmt.Sprintf("There is time: %s to lose takes about %s at a sensible pace; start the prep on %s, %s out, and not after %s.",
			lose, inWeeks(a.SensibleWeeks), day(m.Start), inWeeks(p.weeksToShow(m.Start)), day(a.LatestSensible))
	}
	return fmt.Sprintf("Enough time: %.1f weeks of slack; %s to lose in %.1f weeks is %.1f %% of body weight a week on average.",
		a.SlackWeeks.Value, lose, a.WeeksAvailable, a.NeededRatePct)
}

// Doubtful reports whether the verdict says that there is, or may be, no time.
func (a *Appraisal) Doubtful() bool {
	return a.Verdict == NoTime || a.Verdict == Tight && a.Chance < tightBelow
}

// roundedChance is the chance in per cent, to five: it is not known better.
func (a *Appraisal) roundedChance() float64 {
	return math.Max(5, math.Min(95, 5*math.Round(20*a.Chance)))
}

// inWeeks writes a number of weeks.
func inWeeks(weeks float64) string {
	if math.Round(weeks) == 1 {
		return "1 week"
	}
	return fmt.Sprintf("%.0f weeks", weeks)
}

// never reports whether no permitted descent reaches the target at all.
func (a *Appraisal) never() bool { return a.FastestWeeks.Value >= longestDescent/7 }

func day(d civil.Date) string {
	return d.Format("2 January 2006")
}

// ways lists what would make it feasible, the cheapest first, and what eases a
// tight plan.
func (p *Problem) ways(a *Appraisal, availability bool) []Way {
	if a.Verdict != NoTime && a.Verdict != Tight {
		return nil
	}
	var out []Way
	say := func(kind, format string, args ...any) { out = append(out, Way{kind, fmt.Sprintf(format, args...)}) }
	for _, s := range p.OtherShows {
		if q := p.at(s); s.Date > p.Show.Date && float64(q.dietDays(p.AsOf)) >= a.SensibleWeeks*7 {
			say("later show", "%s on %s leaves %s, enough at a sensible pace.", s.Name, day(s.Date), inWeeks(q.weeksToShow(p.AsOf)))
			break
		}
	}
	if !a.never() {
		date := p.sensibleShow(a.SensibleWeeks)
		say("later show", "A show on or after %s leaves %s, enough at a sensible pace.", day(date), inWeeks(float64(date.DaysSince(p.AsOf))/7))
	}
	if a.Verdict == NoTime && a.ReachableBodyFat > p.Show.TargetBodyFatPct {
		say("another target", "By %s the fastest permitted descent reaches %.1f %% body fat at about %s; a target from there up is feasible.",
			day(p.Show.Date), math.Ceil(10*a.ReachableBodyFat)/10, p.Units.Weight(a.ReachableWeightKg))
	}
	if a.Verdict == NoTime && a.SensibleWeeks > LongPrepWeeks && !a.never() {
		weeks := math.Ceil(math.Min(prePrepMax, a.SensibleWeeks-LongPrepWeeks+4))
		say("pre-prep diet", "For a later show: a pre-prep diet of %.0f weeks now, at least %d weeks at maintenance, then a prep of no more than %d weeks.",
			weeks, minReturnWeeks, LongPrepWeeks)
	}
	const manySteps = 15000
	if availability && p.Levers.StepsMax < manySteps {
		say("more steps", "The plan uses at most %s steps a day; where energy availability binds, more steps that can be kept up make the descent faster for the same food.", phrase.Number(p.Levers.StepsMax, 0))
	}
	return out
}

// sensibleShow is the first date of a show that leaves so many weeks of diet.
func (p *Problem) sensibleShow(weeks float64) civil.Date {
	q := p.at(athlete.Show{Date: p.AsOf.AddDays(int(math.Ceil(7*weeks)) + readyDays)})
	for {
		missing := 7*weeks - float64(q.dietDays(p.AsOf))
		if missing <= 0 {
			return q.Show.Date
		}
		q.Show.Date = q.Show.Date.AddDays(int(math.Ceil(missing)))
	}
}

// at is the same athlete with another show.
func (p *Problem) at(s athlete.Show) *Problem {
	q := *p
	q.Show = s
	return &q
}

// alternatives tables the plan as it is, later starts, and the other shows.
func (p *Problem) alternatives(c *Corridor, m *Map, front []Start) []Alternative {
	var out []Alternative
	row := func(q *Problem, what string, wait int) {
		if q.dietDays(p.AsOf.AddDays(7*wait)) <= 7 {
			return
		}
		s, ok := startOn(front, p.AsOf.AddDays(7*wait))
		if !ok || q != p || prePrep(m) {
			f := q.flight()
			first := q.Model.ReferenceFatFreeKg(&f.s)
			f.between(q.AsOf.AddDays(7*wait), m.gain)
			from := *c
			if q.Show.TargetBodyFatPct != p.Show.TargetBodyFatPct {
				from.fastest = q.fastestThrough()
			}
			var known *dietPlan
			if q == p && f.on == m.Start && f.on == p.AsOf {
				known = &m.diet
			}
			s = f.start(&from, first, known)
		}
		out = append(out, Alternative{
			What: what, ShowDate: q.Show.Date, Start: s.Date, Feasible: s.Lands, Weeks: s.WeeksOut - float64(readyDays)/7, SlackWeeks: s.SlackWeeks,
			RatePct: s.RatePct, LowestEnergyKcal: s.LowestEnergyKcal, LeanLostKg: s.LeanLostKg,
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
