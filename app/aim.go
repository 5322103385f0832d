package app

import (
	"encoding/json"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/reading"
	"glidepath/season"
)

// onTrueScale gives a show with its target, which is meant on the scale of the
// method that the coach measures with, as true body fat: less the bias of that
// method as far as it is known, never under the floor.
func onTrueScale(s athlete.Show, now *reading.Posterior, sex athlete.Sex) athlete.Show {
	s.TargetBodyFatPct = math.Max(s.TargetBodyFatPct-now.Mean[reading.Bias], athlete.BodyFatFloorPct(sex))
	return s
}

// asEaten is the problem on the scale of what is eaten: who eats more than is
// asked can be asked for no less than the floor, and so eats that much more.
func asEaten(p season.Problem, a reading.Adherence) season.Problem {
	p.Limits.EnergyAvailabilityFloor *= math.Max(1, a.Expected())
	return p
}

// DefaultConfidence is that with which a plan leaves time for the body as it may
// turn out, where none is set (judgement).
const DefaultConfidence = 0.8

// fatter is the problem for a body as fat as it may yet turn out to be, at the
// confidence wanted: a chance constraint. What counts is not how well body fat is
// known but how far the measurements to come may move what is believed of it, the
// SD before the experiment of what will be believed after it (preposterior
// analysis: Raiffa & Schlaifer 1961, from memory). It wears off as the show comes
// near, so the plan aims at the target itself in the end.
func fatter(p season.Problem, d *Dossier, confidence float64) season.Problem {
	if p.Show.Date.IsZero() {
		return p
	}
	points := distuv.UnitNormal.Quantile(confidence) * toLearnPct(d)
	kg := points / 100 * (p.State.FatKg + p.Model.ReferenceFatFreeKg(&p.State))
	p.State.FatKg += kg
	p.State.LeanKg -= kg
	p.BodyFat.Mean += points
	return p
}

// measuring is how body fat is measured: what is known of it on the scale of the
// main series, and how often a reading of that series comes.
type measuring struct {
	variance, readingVariance float64 // points^2
	everyDays                 float64 // 0 is never
}

// recentDays is how far back measurements say how often there will be more.
const recentDays = 84

func (d *Dossier) measuring() measuring {
	first, n := d.AsOf, 0.0
	m := measuring{variance: math.Pow(d.Reading.Daily[len(d.Reading.Daily)-1].MethodPct.SD(), 2)}
	for _, c := range d.Compositions {
		if c.Series == d.Reading.Now.Series && d.AsOf.DaysSince(c.Date) < recentDays {
			first, m.readingVariance = min(first, c.Date), c.ReadingSD*c.ReadingSD
			n++
		}
	}
	if n > 0 {
		const oftenest = 7.0
		m.everyDays = math.Max(oftenest, float64(d.AsOf.DaysSince(first))/n)
	}
	return m
}

// knownShare is how much of the variance of today's estimate the readings of so
// many days will have taken away.
func (m measuring) knownShare(days int) float64 {
	if m.everyDays == 0 {
		return 0
	}
	more := math.Max(0, float64(days)/m.everyDays)
	return 1 - 1/(1+more*m.variance/m.readingVariance)
}

// toLearnPct is the SD of what measurements up to the peak week will move the
// estimate of body fat by, in points.
func toLearnPct(d *Dossier) float64 {
	const peakWeek = 7
	m := d.measuring()
	return math.Sqrt(m.variance * m.knownShare(d.Show.Date.DaysSince(d.AsOf)-peakWeek))
}

// done is how much of the activity that is asked for is done: what the last four
// weeks show, drawn towards all of it while they are few.
func (f *facts) done(d *Dossier) float64 {
	const memory, doubtDays = 28, 5.0
	var asked, did, n float64
	daily := d.Reading.Daily
	for i := max(0, len(daily)-memory); i < len(daily); i++ {
		p := f.current(daily[i].Date)
		if p == nil || p.From == daily[i].Date {
			continue
		}
		asked += d.Levers.ActivityKcalPerKg(season.Instruction{StepsPerDay: p.Steps, CardioMinutes: p.CardioMinutes()})
		did += daily[i].ActivityKcalKg
		n++
	}
	if asked == 0 {
		return 1
	}
	const least, most = 0.5, 1.2 // beyond which a log is not believed
	return 1 + n/(n+doubtDays)*(math.Max(least, math.Min(most, did/asked))-1)
}

// pastDays is how far back earlier proposals are told to a review.
const pastDays = 56

// past are the proposals of the last weeks, the oldest first.
func (f *facts) past(on civil.Date) []decision.Proposal {
	var out []decision.Proposal
	for i := range f.reviews {
		r := &f.reviews[i]
		if r.Date >= on || on.DaysSince(r.Date) > pastDays {
			continue
		}
		var kept Reviewed
		if json.Unmarshal(r.Proposal, &kept) == nil {
			out = append(out, kept.Proposal)
		}
	}
	return out
}
