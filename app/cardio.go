package app

import (
	"fmt"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
	"glidepath/numeric"
	"glidepath/reading"
	"glidepath/season"
)

// cardioContext is what a mix of cardio must fit, for the athlete as they stand.
func (f *facts) cardioContext(d *Dossier) cardio.Context {
	a := &f.athlete
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	limits := a.EffectiveLimits()
	return cardio.Context{
		Body:       cardio.Body{Sex: a.Sex, WeightKg: last.TrendKg.Value, HeightCm: a.HeightCm},
		BodyFatPct: last.BodyFatPct.Value, Limits: &limits, Kinds: cardioOf(a),
		StepsBase: d.Levers.StepsNow, StepsMax: d.Levers.StepsMax, MinutesMax: d.Levers.CardioMax,
		SessionMax: a.CardioSessionMax, Hurt: a.Hurt(d.AsOf), Spare: a.SpareRegions,
		Week: f.liftingWeek(d.AsOf), Fatigue: &f.fatigue,
	}
}

// assumedSets is the weekly hard sets of a muscle where neither a programme nor the
// log tells (judgement: within the 10 to 20 of common practice).
const assumedSets = 10.0

// liftingWeek is what is lifted on each day of the week, from Monday: what the
// programme has in the seven days from a date; else the mean of the last four weeks
// of the log; else so many sets of every muscle spread over the training days.
func (f *facts) liftingWeek(on civil.Date) (week [7]cardio.DayTraining) {
	if p := athlete.ProgrammeOn(f.programmes, on, f.phase(on)); p != nil {
		for day := on; day < on.AddDays(7); day++ {
			week[fromMonday(day)] = f.planned(p.SessionsOn(day, f.athlete.TrainingDays))
		}
		return week
	}
	const weeks = 4
	since := on.AddDays(-7 * weeks)
	var sets [7][]athlete.Set
	var days [7]map[civil.Date]bool
	logged := false
	for i := len(f.sets) - 1; i >= 0 && f.sets[i].Date >= since; i-- {
		s := &f.sets[i]
		if s.Date >= on {
			continue
		}
		w := fromMonday(s.Date)
		if days[w] == nil {
			days[w] = map[civil.Date]bool{}
		}
		days[w][s.Date], logged = true, true
		sets[w] = append(sets[w], *s)
	}
	training := float64(len(f.athlete.TrainingDays))
	for w := range week {
		if logged {
			week[w].Lifts = len(days[w]) >= weeks/2
			week[w].Sets = meanOver(f.catalogue.Volume(sets[w], since, on.AddDays(-1)).Weeks, weeks)
			continue
		}
		for _, d := range f.athlete.TrainingDays {
			if int(d+6)%7 == w {
				week[w].Lifts = true
				for _, m := range athlete.Muscles() {
					week[w].Sets = append(week[w].Sets, athlete.MuscleSets{Muscle: m, Sets: assumedSets / training})
				}
			}
		}
	}
	return week
}

func fromMonday(on civil.Date) int { return on.DaysSince(on.Monday()) }

// planned is a day of a programme.
func (f *facts) planned(sessions []athlete.PlannedSession) cardio.DayTraining {
	out := cardio.DayTraining{Lifts: len(sessions) > 0}
	sets := map[athlete.Muscle]float64{}
	for _, s := range sessions {
		for _, e := range s.Exercises {
			known, ok := f.catalogue.Lookup(e.Exercise)
			if !ok {
				continue
			}
			for _, m := range known.Exercise.Muscles {
				sets[m.Muscle] += m.Share * float64(e.Sets)
			}
		}
	}
	for _, m := range athlete.Muscles() {
		if sets[m] > 0 {
			out.Sets = append(out.Sets, athlete.MuscleSets{Muscle: m, Sets: sets[m]})
		}
	}
	return out
}

// cardioOf are the kinds that an athlete has; everybody can walk.
func cardioOf(a *athlete.Athlete) []athlete.CardioKind {
	if len(a.Cardio) == 0 {
		return []athlete.CardioKind{athlete.Walking}
	}
	return a.Cardio
}

// cardioKinds are the kinds that the athlete has less posing, which is practice, and
// what a joint forbids.
func (f *facts) cardioKinds(on civil.Date) (out []athlete.CardioKind) {
	for _, k := range cardioOf(&f.athlete) {
		if k != athlete.Posing && f.barred(k, on) == "" {
			out = append(out, k)
		}
	}
	return out
}

// barred says why a joint keeps the athlete from a kind on a date, "" where none
// does.
func (f *facts) barred(k athlete.CardioKind, on civil.Date) string {
	return f.fatigue.Barred(k, f.athlete.Hurt(on), f.athlete.SpareRegions)
}

// minuteKcalPerKg is the net energy of a minute of planned cardio, per kg; at the
// usual pace where the one that is told cannot be.
func (f *facts) minuteKcalPerKg(c athlete.CardioPlan, weightKg float64) float64 {
	rate, err := cardio.PlanRate(c, weightKg)
	if err != nil {
		if rate, err = cardio.RateOf(athlete.CardioBout{Kind: c.Kind}, weightKg); err != nil {
			return 0
		}
	}
	return rate.NetKcalPerMin / weightKg
}

// cardioSessions keeps the sessions that stand when the minutes do, and else asks for
// the least tiring mix of as much energy in as many minutes. Only a joint that hurts
// changes sessions whose minutes stay. The notes are reasons, in sentences.
func (f *facts) cardioSessions(d *Dossier, in season.Instruction) (sessions []athlete.CardioPlan, notes []string, err error) {
	if c := d.Current; c != nil && math.Abs(c.CardioMinutes()-in.CardioMinutes) < 1 {
		var hurt bool
		for _, s := range c.Cardio {
			if why := f.fatigue.Barred(s.Kind, d.Cardio.Hurt, nil); why != "" {
				notes, hurt = append(notes, why), true
			}
		}
		if !hurt {
			return c.Cardio, f.tooHard(d, c.Cardio), nil
		}
	}
	if in.CardioMinutes < 10 {
		return nil, notes, nil
	}
	c := d.Cardio
	c.StepsBase, c.StepsMax, c.Minutes = in.StepsPerDay, in.StepsPerDay, in.CardioMinutes
	want := in.CardioMinutes / 7 * d.Levers.CardioKcalPerKgMin * c.Body.WeightKg
	mix, err := cardio.Mix(want, c)
	if err != nil || len(mix.Cardio) > 0 {
		return mix.Cardio, notes, err
	}
	if why := f.barred(athlete.Walking, d.AsOf); why != "" {
		return nil, append(notes, "No cardio is asked for: "+mix.Why), nil
	}
	// Too lean for the kinds that there are; everybody can walk, for as long.
	c.Kinds = []athlete.CardioKind{athlete.Walking}
	walk, err := cardio.Mix(want, c)
	return walk.Cardio, append(notes, mix.LeftOut...), err
}

// tooHard names the sessions that stand above the cap on intensity. They are not
// changed for it: one lever at a time, and the next change of cardio mends them.
func (f *facts) tooHard(d *Dossier, stands []athlete.CardioPlan) (notes []string) {
	most := f.fatigue.MostMET(d.Cardio.Limits.Leanness(d.Cardio.BodyFatPct))
	for _, s := range stands {
		rate, err := cardio.PlanRate(s, d.Cardio.Body.WeightKg)
		if err == nil && rate.MET > most {
			notes = append(notes, fmt.Sprintf("The %s stands at %.1f times rest, above the %.1f that are taken at %.0f %% body fat: go easier, or trade it when cardio changes next.",
				s.Kind, rate.MET, most, d.Cardio.BodyFatPct))
		}
	}
	return notes
}

// YieldSaid is how much of what activity costs adds to this athlete's day.
type YieldSaid struct {
	Share    numeric.Interval `json:"share"`
	Prior    numeric.Interval `json:"prior"`   // before the log, from published estimates
	Learned  bool             `json:"learned"` // the log has told something
	Sentence string           `json:"sentence"`
}

// learnedSD is the share of the prior's SD under which the log has told something
// (judgement: a fifth of the variance, as a season with much change does).
const learnedSD = 0.9

// Yield is what the reading has learned of compensation.
func (d *Dossier) Yield() YieldSaid {
	prior, now := reading.PriorYield(), d.Reading.Now.Of(reading.Yield)
	y := YieldSaid{Share: now.Interval(), Prior: prior.Interval(), Learned: now.SD < learnedSD*prior.SD}
	between := fmt.Sprintf("%.0f %% (90 %% between %.0f and %.0f %%)", 100*y.Share.Value, 100*y.Share.Low90, 100*y.Share.High90)
	if y.Learned {
		y.Sentence = fmt.Sprintf("Of what activity costs, this athlete's log says that %s adds to the day; the rest is saved elsewhere or was never spent.", between)
	} else {
		y.Sentence = fmt.Sprintf("Of what activity costs, %s adds to the day. That is mostly what is published: this log's activity has varied too little to tell more.", between)
	}
	return y
}

// Trade is the same energy by every way there is to spend it.
type Trade struct {
	Kcal float64 `json:"kcal"` // net, what it costs
	// AddsKcal is what it should add to expenditure, after compensation.
	AddsKcal numeric.Interval    `json:"adds_kcal"`
	Yield    YieldSaid           `json:"yield"`
	Ways     []cardio.Equivalent `json:"ways"`
	// Mix is the least tiring way to spend so much a day beyond what stands, with all
	// steps and cardio that there are. It is no proposal: a review moves one lever.
	Mix cardio.MixPlan `json:"mix"`
}

// Trade lists a net energy a day, 0 to 5000 kcal, as everyday steps and as each kind
// of cardio at each of its paces, for the athlete as they stand.
func (d *Dossier) Trade(kcal float64) (Trade, error) {
	ways, err := cardio.Trade(kcal, d.Cardio)
	if err != nil {
		return Trade{}, err
	}
	y := d.Yield()
	out := Trade{Kcal: kcal, AddsKcal: y.Share.Scale(kcal), Yield: y, Ways: ways}
	stands := d.Levers.CardioNow / 7 * d.Levers.CardioKcalPerKgMin * d.Cardio.Body.WeightKg
	out.Mix, err = cardio.Mix(math.Min(kcal+stands, cardio.MostKcal), d.Cardio)
	return out, err
}

// Open lists the ways that the athlete has and that neither the cap nor a joint
// forbids, the least tiring first.
func (t *Trade) Open() []cardio.Equivalent {
	var out []cardio.Equivalent
	for _, w := range t.Ways {
		if w.Available && w.WithinCap && w.Barred == "" {
			out = append(out, w)
		}
	}
	slices.SortStableFunc(out, func(a, b cardio.Equivalent) int {
		switch {
		case a.Points < b.Points:
			return -1
		case a.Points > b.Points:
			return 1
		}
		return 0
	})
	return out
}
