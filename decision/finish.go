package decision

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/numeric"
	"glidepath/reading"
)

// finish adds what every proposal carries.
func (r *review) finish() {
	o := &r.out
	last := r.last()
	if r.dieting() {
		r.reason("%s; %.2f %% is the most permitted at %.1f %% body fat.", rateWords(last.RatePct), o.PermittedPct, last.BodyFatPct.Value)
	}
	if r.dieting() && r.inCase > foodStepKcal {
		r.reason("Body fat may yet turn out higher than it is told now; so that there is time then too, %s of the deficit are asked already.", kcal(r.inCase))
	}
	if o.Action != Begin {
		r.reason("Expenditure is %s a day on the scale that is reported (%s).", kcal(last.ExpenditureKc.Value), within(last.ExpenditureKc))
	}
	if !r.p.Show.Date.IsZero() {
		r.reason("%s", slackWords(r.Season.Corridor.SlackWeeks))
		if r.dieting() && !r.Season.Appraisal.Feasible {
			r.reason("Even the fastest permitted descent does not arrive. %s", r.Season.Appraisal.Sentence)
		}
	}
	r.expectations()
	r.water()
	r.cautions()
	if len(o.ChangesMind) == 0 || o.Lever == Sets {
		o.ChangesMind = append(o.ChangesMind, r.changesMind()...)
	}
}

// expectedDays is how far the proposal is flown.
const expectedDays = 28

// horizon is how many days the expectation looks ahead, and its words.
func (r *review) horizon() (n int, by string) {
	if show := r.p.Show.Date; !show.IsZero() {
		if left := show.DaysSince(r.out.AsOf); left > 0 && left < expectedDays {
			return left, "by the show"
		}
	}
	return expectedDays, "in four weeks"
}

// expectations flies the proposal for four weeks, or to the show.
func (r *review) expectations() {
	o := &r.out
	in := r.eaten(o.To)
	n, by := r.horizon()
	s := r.p.State
	from := s.FatKg + r.p.Model.ReferenceFatFreeKg(&s)
	r.p.Live(&s, in, n)
	to := s.FatKg + r.p.Model.ReferenceFatFreeKg(&s)
	// The trend has the water that the food leaves in it.
	water := r.Reading.Now.Mean[reading.Gain] * r.p.Model.WaterKg(&s)
	last := r.last()
	const kcalPerKg, dayToDay = 7500.0, 0.25 // kg that the trend itself wanders (judgement)
	sd := math.Hypot(last.ExpenditureKc.SD()*float64(n)/kcalPerKg, last.TrendKg.SD())
	o.WeightIn4Kg = numeric.Normal{Mean: to + water, SD: math.Hypot(sd, dayToDay)}.Interval()
	u := r.p.Units
	rate := 100 * (from - to) / from * 7 / float64(n)
	course := "weight about steady"
	switch {
	case rate >= 0.05:
		course = fmt.Sprintf("%.2f %% of body weight lost a week", rate)
	case rate <= -0.05:
		course = fmt.Sprintf("%.2f %% of body weight gained a week", -rate)
	}
	o.Expects = append(o.Expects, fmt.Sprintf("If it goes on %s: about %s (90 %% between %.1f and %.1f), %s.", by,
		u.Weight(to+water), u.WeightNumber(o.WeightIn4Kg.Low90), u.WeightNumber(o.WeightIn4Kg.High90), course))
	for _, ph := range r.Season.Map.Phases {
		if ph.From > o.AsOf && ph.From.DaysSince(o.AsOf) <= 7 {
			o.Expects = append(o.Expects, fmt.Sprintf("The %s begins on %s by the plan.", ph.Kind, ph.From.Format("2 January 2006")))
		}
	}
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
		if ea := r.available(o.To); ea < r.floor()+3 {
			o.Cautions = append(o.Cautions, fmt.Sprintf("Energy availability is planned at %.0f kcal/kg FFM a day, close to the floor of %.0f. Watch mood, sleep, resting pulse, libido and cycles; a sports physician or dietitian should know of it.", ea, r.floor()))
		}
		if last.BodyFatPct.Value < athlete.BodyFatFloorPct(r.p.Sex)+2 {
			o.Cautions = append(o.Cautions, "This is as lean as health allows for more than a few weeks. Dizziness, fainting, palpitations or three missed cycles: stop the deficit and see a doctor.")
		}
	}
	if r.Recovery == nil {
		return
	}
	if r.dieting() && r.Recovery.RealLoss >= 0.8 {
		o.Cautions = append(o.Cautions, fmt.Sprintf("Strength has really fallen by over 5 %% (chance %s): look at sleep, protein and the rate of loss before more is asked.", chance(r.Recovery.RealLoss)))
	}
	o.Cautions = append(o.Cautions, r.Recovery.Cautions...)
}

func (r *review) changesMind() []string {
	o := &r.out
	_, by := r.horizon()
	out := []string{fmt.Sprintf("A trend outside %.1f to %.1f %s %s.",
		r.p.Units.WeightNumber(o.WeightIn4Kg.Low90), r.p.Units.WeightNumber(o.WeightIn4Kg.High90), r.p.Units.WeightUnit(), by)}
	if m := r.Reading.Evidence.LastMeasured; m.IsZero() || o.AsOf.DaysSince(m) > 35 {
		out = append(out, "A body-fat measurement by the usual method and hands: the last is old or missing.")
	}
	if o.Action == Hold && math.Abs(o.GapKcal.Value) > r.set.DeadbandKcal {
		out = append(out, fmt.Sprintf("Another week of logs: a gap of %s that stays would be acted on.", kcal(math.Abs(o.GapKcal.Value))))
	}
	return out
}
