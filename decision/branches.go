package decision

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/numeric"
	"glidepath/season"
)

// floorNear is how far under the floor of energy availability a prescription may
// drift with the estimate of fat-free mass before it is raised, kcal/kg FFM.
const floorNear = 0.5

// belowFloor raises food where what stands has come to lie under the floor of
// energy availability, as after a leave, or is a deficit in recovery.
func (r *review) belowFloor() bool {
	o := &r.out
	if r.starved() {
		r.ease(math.Max(r.expected-r.planned, r.deficit(o.From)), true)
		o.Sure = 1
		o.Sentence = fmt.Sprintf("Recovery has no deficit, and what stands is %s: %s.", perDay(balanceWords(r.deficit(o.From))), changeWords(o))
		return true
	}
	if !r.underFloor() {
		return false
	}
	r.take(Food, r.food(o.From.EnergyKcal))
	o.Sure = 1
	o.Sentence = fmt.Sprintf("Under the floor of energy availability: %s.", changeWords(o))
	r.reason("What stands leaves %.1f kcal per kg of fat-free mass a day; the floor is %.0f.", r.available(o.From), r.floor())
	return true
}

func (r *review) underFloor() bool { return r.available(r.out.From) < r.floor()-floorNear }

// starved reports whether a deficit stands in recovery.
func (r *review) starved() bool {
	return r.out.Phase == athlete.Recovery && r.deficit(r.out.From) > r.set.DeadbandKcal
}

// rateDays is how far back the rate of the reading looks.
const rateDays = 14

// mostBackKcal is the most food that comes back at once where loss is too fast
// (judgement: more than that in a day upsets the gut before it helps).
const mostBackKcal = 700.0

// tooFast gives food back where loss runs beyond the permitted rate.
func (r *review) tooFast() bool {
	o := &r.out
	rate, permitted := o.RatePct, o.PermittedPct
	over := 1 - numeric.Normal{Mean: rate.Value, SD: math.Max(rate.SD(), 1e-6)}.Below(permitted)
	if !r.dieting() || over < 0.8 || rate.Value < 1.1*permitted {
		return false
	}
	// What is ahead counts: a fortnight has its own scatter, and may be partly that
	// of what stood before.
	if r.ahead(o.From) <= permitted {
		return false
	}
	if r.ratio < 1 && r.rate(o.From) <= permitted && !r.underFloor() && r.adherence() {
		return true // the prescription is right, it is not eaten
	}
	to := o.From
	for n := 1; r.ahead(to) > 0.95*permitted && foodStepKcal*float64(n) <= mostBackKcal; n++ {
		to.EnergyKcal = steps(o.From.EnergyKcal, foodStepKcal, n)
	}
	o.Sure = over
	r.take(Food, r.whole(to))
	o.TooFast = true
	o.Sentence = fmt.Sprintf("Losing too fast: %.1f %% of body weight a week where %.1f %% is permitted; %s.",
		rate.Value, permitted, changeWords(o))
	return true
}

// ahead is the rate of loss to expect of an instruction as it is followed, % of
// body weight a week: the model's, and half of what a fortnight under the present
// prescription was off from it.
func (r *review) ahead(in season.Instruction) float64 {
	rate := r.rate(r.eaten(in))
	if r.Current != nil && r.out.AsOf.DaysSince(r.Current.From) >= rateDays {
		rate += 0.5 * (r.out.RatePct.Value - r.rate(r.eaten(r.out.From)))
	}
	return rate
}

// thin holds where there is too little to go by.
func (r *review) thin() bool {
	e := r.Reading.Evidence
	switch {
	case e.Days < r.set.LeastLogDays:
		r.hold(fmt.Sprintf("Hold: the log is %s old, and under %s the scale tells more of water than of tissue.", days(e.Days), days(r.set.LeastLogDays)))
	case e.Weights14 < r.set.LeastWeights:
		r.talk("Hold and ask for weights: %d in 14 days, where four weigh-ins a week are enough to act on.", e.Weights14)
	case r.dieting() && e.Intake14 < 4 && r.out.GapKcal.Value > r.set.DeadbandKcal && r.slack() > 0.5 && r.talks() < r.set.MostTalks:
		r.talk("Hold and ask for a week of full logging: intake is reported on %d of 14 days, so a slow trend may be food that was not written down.", e.Intake14)
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
	if a.Days < 7 || math.Abs(off) < r.set.AdherenceShare || math.Abs(off) < 2*a.SERatio || r.talks() >= r.set.MostTalks {
		return false
	}
	amount := kcal(math.Abs(off) * r.out.From.EnergyKcal)
	if off > 0 {
		r.talk("Hold and talk: intake is reported %s a day above the prescription (%.0f %%); following what stands does more than a cut on paper.", amount, 100*off)
		r.out.ChangesMind = append(r.out.ChangesMind, "Two weeks within 3 % of the prescription with the trend still behind the plan would call for a change.")
	} else {
		r.talk("Hold and talk: intake is reported %s a day under the prescription (%.0f %%); the athlete should eat what stands.", amount, -100*off)
		r.out.Cautions = append(r.out.Cautions, "Eating well under a plan can be a sign of distress about food. Ask kindly; if it goes on, involve a sports dietitian or the athlete's doctor.")
	}
	r.reason("Reported over prescribed energy is %.2f on %s (give or take %.2f).", a.MeanRatio, days(a.Days), 1.645*a.SERatio)
	return true
}

// talks counts the reviews of the last four weeks that asked to talk.
func (r *review) talks() (n int) {
	for i := range r.Past {
		if p := &r.Past[i]; p.Action == Talk && r.out.AsOf.DaysSince(p.AsOf) <= 28 {
			n++
		}
	}
	return n
}

// wasTooFast reports whether food came back lately because loss was too fast.
func (r *review) wasTooFast() bool {
	for i := range r.Past {
		if p := &r.Past[i]; p.TooFast && r.out.AsOf.DaysSince(p.AsOf) <= 42 {
			return true
		}
	}
	return false
}

// lastDays before a show leave no time to wait: a change is given half as long to
// show itself (judgement).
const lastDays = 42

// settling leaves a recent change time to show itself.
func (r *review) settling() bool {
	since, settle := r.out.AsOf.DaysSince(r.Current.From), r.set.SettleDays
	if left := r.p.Show.Date.DaysSince(r.out.AsOf); !r.p.Show.Date.IsZero() && left <= lastDays {
		settle /= 2
	}
	if since >= settle {
		return false
	}
	r.hold(fmt.Sprintf("Hold: the present prescription is %s old; give it %s to show itself.", days(since), days(settle)))
	return true
}

// reserve is how much deeper the deficit of this week could be made than the plan
// asks, kcal a day.
func (r *review) reserve() float64 {
	w := r.thisWeek()
	if w == nil || w.Effort <= 0 {
		return 0
	}
	return r.planned * (1/w.Effort - 1)
}

// nearPermitted is the share of the permitted rate from which loss is near it, and
// surelyEnough how sure a direction must be where little is in reserve (judgement).
const (
	nearPermitted = 0.8
	surelyEnough  = 0.6
)

// offPlan changes one lever where the gap is real, by the smallest step that
// leaves no more than half of what is worth acting on.
func (r *review) offPlan() bool {
	o := &r.out
	gap := r.planned - r.expected
	if gap > r.set.DeadbandKcal && r.dieting() && r.wasTooFast() && o.RatePct.Value > nearPermitted*o.PermittedPct {
		r.hold("Hold: food came back lately because loss was too fast, and loss is still near the permitted rate; it would only be taken away again.")
		return true
	}
	deadband, sure := r.set.DeadbandKcal, r.set.Sure
	if gap > 0 && r.dieting() {
		// What is in reserve to catch up with later bounds what may be let go now.
		if share := r.reserve() / 2; share < deadband {
			deadband, sure = math.Max(share, foodStepKcal), surelyEnough
		}
	}
	if math.Abs(gap) < deadband || o.Sure < sure {
		return false
	}
	// Rounded up to a step it must still be within the largest change.
	want := math.Min(math.Abs(gap)-0.5*deadband, r.set.LargestKcal-foodStepKcal)
	r.reason("The plan asks for %s on average over the next weeks; what stands now comes to %s (gap %s).",
		perDay(balanceWords(r.planned)), perDay(balanceWords(r.expected)), gapWords(o.GapKcal))
	switch {
	case gap < 0:
		r.ease(want, false)
	case !r.deepen(want):
		const stuck = "Behind the plan, but every lever stands at its limit: nothing more may be asked. See what would make the season feasible."
		if r.training() {
			r.reason(stuck)
		} else {
			r.hold(stuck)
		}
		return true
	}
	switch {
	case !r.dieting():
		o.Sentence = fmt.Sprintf("The %s asks for %s, and what stands comes to %s: %s.",
			o.Phase, perDay(balanceWords(r.planned)), perDay(balanceWords(r.expected)), changeWords(o))
	case gap > 0:
		o.Sentence = fmt.Sprintf("Behind the plan by %s a day: %s.", kcal(gap), changeWords(o))
	default:
		o.Sentence = fmt.Sprintf("Ahead of the plan by %s a day: %s.", kcal(-gap), changeWords(o))
	}
	return true
}

// training proposes fewer sets, a deload or a steadier exercise when nothing else
// changes.
func (r *review) training() bool {
	if r.Recovery == nil || !r.Recovery.Change {
		return false
	}
	o := &r.out
	o.Action, o.Lever = Change, Sets
	o.Sets = r.Recovery.Sets
	o.Sentence = "Food and activity hold. " + r.Recovery.Sentence
	o.Reasons = append(o.Reasons, r.Recovery.Reasons...)
	o.Expects = append(o.Expects, r.Recovery.Expects...)
	o.ChangesMind = append(o.ChangesMind, r.Recovery.ChangesMind...)
	return true
}

// comeBack brings cardio, then steps, back towards the habit outside a diet, as the
// plan has it.
func (r *review) comeBack() bool {
	if r.dieting() || r.Current == nil {
		return false
	}
	o := &r.out
	to := o.From
	switch {
	case r.plan.CardioMinutes < o.From.CardioMinutes-cardioStepMin:
		to.CardioMinutes = math.Max(math.Ceil(r.plan.CardioMinutes/cardioStepMin)*cardioStepMin, o.From.CardioMinutes-cardioOnce)
		r.take(Cardio, to)
	case r.plan.StepsPerDay < o.From.StepsPerDay-stepsStep:
		to.StepsPerDay = math.Max(math.Ceil(r.plan.StepsPerDay/stepsStep)*stepsStep, o.From.StepsPerDay-stepsMostOnce)
		r.take(Steps, to)
	default:
		return false
	}
	o.Sure = 1
	o.Sentence = fmt.Sprintf("The diet is over, and what it asked for beyond the habit goes step by step: %s.", changeWords(o))
	return true
}
