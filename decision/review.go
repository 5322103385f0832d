package decision

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/numeric"
	"glidepath/season"
)

// review carries a proposal while it is made.
type review struct {
	Situation
	set   Settings
	p     *season.Problem
	out   Proposal
	ratio float64 // eaten over prescribed
	// deficits, kcal a day
	planned, expected float64
	plan              season.Instruction // what the plan asks of the next weeks
}

// Review makes the proposal.
func Review(s Situation) Proposal {
	r := &review{Situation: s, set: s.Settings.withDefaults(), p: &s.Problem}
	r.gather()
	switch {
	case r.Current == nil:
		r.begin("There is no prescription yet; this is the first, from the plan.")
	case r.phaseBegins():
		r.begin(fmt.Sprintf("The %s begins now by the plan.", r.out.Phase))
	case r.out.Phase == athlete.PeakWeek || r.out.Phase == athlete.ShowDay:
		r.hold("The peak week changes nothing that was not rehearsed: food at maintenance, usual water and salt, training light.")
	case r.tooFast():
	case r.thin():
	case r.adherence():
	case r.settling():
	case r.offPlan():
	case r.training():
	default:
		r.hold(fmt.Sprintf("On the plan: the gap of %s is within what a week can tell.", kcal(math.Abs(r.out.GapKcal.Value))))
	}
	r.finish()
	return r.out
}

// gather works out where the athlete stands against the plan.
func (r *review) gather() {
	o := &r.out
	last := r.last()
	o.AsOf, o.Phase = r.Reading.AsOf, athlete.OffSeason
	if len(r.Season.Map.Weeks) > 0 {
		o.Phase = r.Season.Map.Weeks[0].Phase
	}
	o.RatePct = last.RatePct
	o.PermittedPct = r.p.Limits.RatePctPerWeek(last.BodyFatPct.Value)
	r.ratio = 1
	if a := r.Reading.Adherence; a.Days >= 7 {
		r.ratio = a.MeanRatio
	}
	o.From = r.current()
	o.To = o.From
	r.planWeeks()
	eaten := o.From
	eaten.EnergyKcal *= r.ratio
	r.expected = r.deficit(eaten)
	spread := (last.ExpenditureKc.High90 - last.ExpenditureKc.Low90) / 2 / 1.645
	o.GapKcal = numeric.Normal{Mean: r.planned - r.expected, SD: spread}.Interval()
	o.Sure = 1 - numeric.Normal{Mean: math.Abs(r.planned - r.expected), SD: math.Max(spread, 1)}.Below(0)
}

func (r *review) last() lastDay {
	d := r.Reading.Daily[len(r.Reading.Daily)-1]
	return lastDay{d.RatePct, d.BodyFatPct, d.ExpenditureKc, d.TrendKg, d.LeanKg}
}

// lastDay is what the review needs of the last estimate.
type lastDay struct {
	RatePct, BodyFatPct, ExpenditureKc, TrendKg, LeanKg numeric.Interval
}

// current is the standing prescription as weekly means; without one, what the
// athlete does.
func (r *review) current() season.Instruction {
	if c := r.Current; c != nil {
		return season.Instruction{EnergyKcal: c.MeanEnergyKcal(), StepsPerDay: c.Steps, CardioMinutes: c.CardioMinutes()}
	}
	return season.Instruction{
		EnergyKcal:  r.Reading.Now.IntakeKcal,
		StepsPerDay: r.p.Levers.StepsNow, CardioMinutes: r.p.Levers.CardioNow,
	}
}

// lookAhead is how many weeks of the plan the next prescription should suit.
const lookAhead = 3

// planWeeks averages what the plan asks of the next weeks of the same phase,
// diet breaks left out.
func (r *review) planWeeks() {
	n := 0.0
	weeks := r.Season.Map.Weeks
	var sum season.Instruction
	deficit := 0.0
	for i := range weeks {
		w := &weeks[i]
		if w.Phase != weeks[0].Phase || n == lookAhead {
			break
		}
		if w.DietBreak && n+1 < float64(len(weeks)) && i > 0 {
			continue
		}
		sum.EnergyKcal += w.Asked.EnergyKcal
		sum.StepsPerDay += w.Asked.StepsPerDay
		sum.CardioMinutes += w.Asked.CardioMinutes
		deficit += r.deficit(w.Asked)
		n++
	}
	if n == 0 {
		r.plan = r.out.From
		r.planned = r.deficit(r.out.From)
		return
	}
	r.plan = season.Instruction{EnergyKcal: sum.EnergyKcal / n, StepsPerDay: sum.StepsPerDay / n, CardioMinutes: sum.CardioMinutes / n}
	r.planned = deficit / n
}

// deficit is what an instruction, eaten to the letter, takes from the body now,
// kcal a day.
func (r *review) deficit(in season.Instruction) float64 {
	activity := r.p.Levers.ActivityKcalPerKg(in)
	return r.p.Model.MaintenanceKcal(&r.p.State, in.EnergyKcal, activity) - in.EnergyKcal
}

// phaseBegins reports whether the map's phase is not the one prescribed for.
func (r *review) phaseBegins() bool {
	was, is := r.Current.Phase, r.out.Phase
	if was == is || was == "" || is == athlete.PeakWeek || is == athlete.ShowDay {
		return false
	}
	return true
}

// begin proposes the plan's own instruction.
func (r *review) begin(why string) {
	o := &r.out
	o.Action, o.Lever = Begin, Food
	o.To = rounded(r.plan, r.p)
	if r.Current != nil {
		// Weigh changes of one lever at a time even here: the phase sets food.
		o.To.StepsPerDay, o.To.CardioMinutes = o.From.StepsPerDay, o.From.CardioMinutes
	}
	o.ChangeKcal = r.deficit(o.To) - r.expected
	o.Sentence = fmt.Sprintf("%s %s.", why, describe(o.To))
	r.reason("Expenditure is %s a day (%.0f to %.0f), so this is %s a day.",
		kcal(r.last().ExpenditureKc.Value), r.last().ExpenditureKc.Low90, r.last().ExpenditureKc.High90, balanceWords(r.deficit(o.To)))
}

func (r *review) hold(sentence string) {
	r.out.Action, r.out.Sentence = Hold, sentence
	r.out.ChangeKcal = 0
}

func (r *review) reason(format string, args ...any) {
	r.out.Reasons = append(r.out.Reasons, fmt.Sprintf(format, args...))
}

// dieting reports whether the phase is one of deficit.
func (r *review) dieting() bool {
	return r.out.Phase == athlete.Prep || r.out.Phase == athlete.PrePrep
}

// tooFast gives food back where loss runs beyond the permitted rate.
func (r *review) tooFast() bool {
	rate, permitted := r.out.RatePct, r.out.PermittedPct
	sd := (rate.High90 - rate.Low90) / 2 / 1.645
	over := 1 - numeric.Normal{Mean: rate.Value, SD: math.Max(sd, 1e-6)}.Below(permitted)
	if !r.dieting() || over < 0.8 || rate.Value < 1.1*permitted {
		return false
	}
	weight := r.last().TrendKg.Value
	const kcalPerKg = 7000.0
	back := (rate.Value - 0.9*permitted) / 100 * weight * kcalPerKg / 7
	r.out.Sure = over
	r.move(-math.Min(back, r.set.LargestKcal+50))
	r.out.Sentence = fmt.Sprintf("Losing too fast: %.1f %% of body weight a week where %.1f %% is permitted; %s.",
		rate.Value, permitted, changeWords(&r.out))
	r.reason("The rate over the last two weeks is %.1f %% a week (%.1f to %.1f) against a permitted %.1f %% at %.1f %% body fat.",
		rate.Value, rate.Low90, rate.High90, permitted, r.last().BodyFatPct.Value)
	return true
}

// thin holds where there is too little to go by.
func (r *review) thin() bool {
	e := r.Reading.Evidence
	for _, q := range r.Reading.Queries {
		if r.out.AsOf.DaysSince(q.Date) < 14 {
			r.out.Questions = append(r.out.Questions, q.Reason)
		}
	}
	switch {
	case e.Days < r.set.LeastLogDays:
		r.hold(fmt.Sprintf("Hold: the log is %d days old, and under %d days the scale tells more of water than of tissue.", e.Days, r.set.LeastLogDays))
	case e.Weights14 < r.set.LeastWeights:
		r.out.Action = Talk
		r.out.Sentence = fmt.Sprintf("Hold and ask for weights: %d weigh-ins in 14 days are too few to act on; four a week are enough.", e.Weights14)
	case r.dieting() && e.Intake14 < 4 && r.out.GapKcal.Value > r.set.DeadbandKcal && r.slack() > 0.5:
		r.out.Action = Talk
		r.out.Sentence = fmt.Sprintf("Hold and ask for a week of full logging: intake is reported on %d of 14 days, so a slow trend may be food that was not written down.", e.Intake14)
	default:
		return false
	}
	r.reason("Weights on %d and intake on %d of the last 14 days.", e.Weights14, e.Intake14)
	return true
}

func (r *review) slack() float64 {
	if r.p.Show.Date.IsZero() {
		return math.Inf(1)
	}
	return r.Season.Corridor.SlackWeeks.Value
}

// adherence comes before cuts.
func (r *review) adherence() bool {
	a := r.Reading.Adherence
	off := a.MeanRatio - 1
	if a.Days < 7 || math.Abs(off) < r.set.AdherenceShare || math.Abs(off) < 2*a.SERatio {
		return false
	}
	r.out.Action = Talk
	amount := kcal(math.Abs(off) * r.out.From.EnergyKcal)
	if off > 0 {
		r.out.Sentence = fmt.Sprintf("Hold and talk: intake is reported %s a day above the prescription (%.0f %%); following what stands does more than a cut on paper.", amount, 100*off)
		r.out.ChangesMind = append(r.out.ChangesMind, "Two weeks within 3 % of the prescription with the trend still behind the plan would call for a change.")
	} else {
		r.out.Sentence = fmt.Sprintf("Hold and talk: intake is reported %s a day under the prescription (%.0f %%); the athlete should eat what stands.", amount, -100*off)
		r.out.Cautions = append(r.out.Cautions, "Eating well under a plan can be a sign of distress about food. Ask kindly; if it goes on, involve a sports dietitian or the athlete's doctor.")
	}
	r.reason("Reported over prescribed energy is %.2f on %d days (give or take %.2f).", a.MeanRatio, a.Days, 1.645*a.SERatio)
	return true
}

// settling leaves a recent change time to show itself.
func (r *review) settling() bool {
	since := r.out.AsOf.DaysSince(r.Current.From)
	if since >= r.set.SettleDays {
		return false
	}
	r.hold(fmt.Sprintf("Hold: the present prescription is %d days old; give it %d to show itself.", since, r.set.SettleDays))
	return true
}

// offPlan changes one lever where the gap is real.
func (r *review) offPlan() bool {
	gap := r.planned - r.expected
	if math.Abs(gap) < r.set.DeadbandKcal || r.out.Sure < r.set.Sure {
		return false
	}
	size := math.Min(math.Abs(gap)-0.3*r.set.DeadbandKcal, r.set.LargestKcal)
	r.move(math.Copysign(size, gap))
	if r.out.ChangeKcal == 0 {
		r.hold("Behind the plan, but every lever stands at its limit: nothing more may be asked. See what would make the season feasible.")
		return true
	}
	r.out.Action = Change
	switch {
	case !r.dieting():
		r.out.Sentence = fmt.Sprintf("The %s asks for %s a day, and what stands comes to %s: %s.",
			r.out.Phase, balanceWords(r.planned), balanceWords(r.expected), changeWords(&r.out))
	case gap > 0:
		r.out.Sentence = fmt.Sprintf("Behind the plan by %s a day: %s.", kcal(gap), changeWords(&r.out))
	default:
		r.out.Sentence = fmt.Sprintf("Ahead of the plan by %s a day: %s.", kcal(-gap), changeWords(&r.out))
	}
	r.reason("The plan asks for %s a day on average over the next weeks; what stands now comes to %s (gap 90 %% between %.0f and %.0f kcal).",
		balanceWords(r.planned), balanceWords(r.expected), r.out.GapKcal.Low90, r.out.GapKcal.High90)
	return true
}

// training proposes fewer sets when nothing else changes.
func (r *review) training() bool {
	if r.Recovery == nil || !r.Recovery.FewerSets {
		return false
	}
	r.out.Action, r.out.Lever = Change, Sets
	r.out.Sets = r.Recovery.Sets
	r.out.Sentence = fmt.Sprintf("Food and activity hold; take about %.0f %% of the hard sets away and keep the load on the bar.", r.Recovery.CutPct)
	r.out.Reasons = append(r.out.Reasons, r.Recovery.Reasons...)
	return true
}

// finish adds what every proposal carries.
func (r *review) finish() {
	o := &r.out
	last := r.last()
	if r.dieting() {
		r.reason("Losing %.2f %% of body weight a week (%.2f to %.2f); %.2f %% is the most permitted at %.1f %% body fat.",
			last.RatePct.Value, last.RatePct.Low90, last.RatePct.High90, o.PermittedPct, last.BodyFatPct.Value)
	}
	r.reason("Expenditure %s a day (%.0f to %.0f) on the scale that is reported.",
		kcal(last.ExpenditureKc.Value), last.ExpenditureKc.Low90, last.ExpenditureKc.High90)
	if !r.p.Show.Date.IsZero() {
		s := r.Season.Corridor.SlackWeeks
		r.reason("Slack to the upper edge of the corridor: %.1f weeks (%.1f to %.1f).", s.Value, s.Low, s.High)
		if !r.Season.Map.Lands && r.dieting() {
			r.reason("Even the fastest permitted descent does not arrive: %s", r.Season.Appraisal.Sentence)
		}
	}
	r.expectations()
	r.water()
	r.cautions()
	if len(o.ChangesMind) == 0 {
		o.ChangesMind = r.changesMind()
	}
}

// expectations flies four weeks of the proposal.
func (r *review) expectations() {
	o := &r.out
	in := o.To
	in.EnergyKcal *= r.ratio
	if o.Action == Begin {
		in = o.To
	}
	s := r.p.State
	from := s.FatKg + r.p.Model.ReferenceFatFreeKg(&s)
	r.p.Live(&s, in, 28)
	to := s.FatKg + r.p.Model.ReferenceFatFreeKg(&s)
	last := r.last()
	spread := (last.ExpenditureKc.High90 - last.ExpenditureKc.Low90) / 2 / 1.645
	sd := math.Hypot(spread*28/7500, (last.TrendKg.High90-last.TrendKg.Low90)/2/1.645)
	o.WeightIn4Kg = numeric.Normal{Mean: to, SD: math.Hypot(sd, 0.25)}.Interval()
	u := r.p.Units
	o.Expects = append(o.Expects, fmt.Sprintf("In four weeks: about %s (%.1f to %.1f), %.2f %% of body weight a week.",
		u.Weight(to), u.WeightNumber(o.WeightIn4Kg.Low90), u.WeightNumber(o.WeightIn4Kg.High90), 100*(from-to)/from/4))
}

// water says where the scale stands off the trend.
func (r *review) water() {
	daily := r.Reading.Daily
	sum, n := 0.0, 0.0
	for i := max(0, len(daily)-5); i < len(daily); i++ {
		if w := daily[i].WeightKg; w != nil {
			sum += *w - daily[i].TrendKg.Value
			n++
		}
	}
	if n < 2 || math.Abs(sum/n) < 0.6 {
		return
	}
	above, because := "above", ""
	if sum < 0 {
		above = "below"
	}
	if r.Athlete.MenstrualCycle {
		because = ", the cycle included"
	}
	r.reason("The scale stands %.1f %s %s the trend these days: water%s, not tissue.",
		r.p.Units.WeightNumber(math.Abs(sum/n)), r.p.Units.WeightUnit(), above, because)
}

func (r *review) cautions() {
	o := &r.out
	last := r.last()
	if r.dieting() {
		ea := r.available(o.To)
		if floor := r.p.Limits.EnergyAvailabilityFloorOn(o.AsOf); ea < floor+3 {
			o.Cautions = append(o.Cautions, fmt.Sprintf("Energy availability is planned at %.0f kcal/kg FFM a day, close to the floor of %.0f. Watch mood, sleep, resting pulse, libido and cycles; a sports physician or dietitian should know of it.", ea, floor))
		}
		if last.BodyFatPct.Value < athlete.BodyFatFloorPct(r.p.Sex)+2 {
			o.Cautions = append(o.Cautions, "This is as lean as health allows for more than a few weeks. Dizziness, fainting, palpitations or three missed cycles: stop the deficit and see a doctor.")
		}
	}
	if r.Recovery != nil {
		o.Cautions = append(o.Cautions, r.Recovery.Cautions...)
	}
}

// available is energy availability under an instruction, kcal/kg FFM a day.
func (r *review) available(in season.Instruction) float64 {
	last := r.last()
	weight := last.TrendKg.Value
	return (in.EnergyKcal - r.p.Levers.ExerciseKcalPerKg(in.CardioMinutes)*weight) / last.LeanKg.Value
}

func (r *review) changesMind() []string {
	o := &r.out
	out := []string{fmt.Sprintf("A trend outside %.1f to %.1f %s in four weeks.",
		r.p.Units.WeightNumber(o.WeightIn4Kg.Low90), r.p.Units.WeightNumber(o.WeightIn4Kg.High90), r.p.Units.WeightUnit())}
	if r.Reading.Evidence.LastMeasured.IsZero() || o.AsOf.DaysSince(r.Reading.Evidence.LastMeasured) > 35 {
		out = append(out, "A body-fat measurement by the usual method and hands: the last is old or missing.")
	}
	if o.Action == Hold && math.Abs(o.GapKcal.Value) > r.set.DeadbandKcal {
		out = append(out, fmt.Sprintf("Another week of logs: a gap of %s that stays would be acted on.", kcal(math.Abs(o.GapKcal.Value))))
	}
	return out
}
