package app

import (
	"context"
	"hash/fnv"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/cardio"
	"glidepath/civil"
	"glidepath/decision"
	"glidepath/fault"
	"glidepath/forecast"
	"glidepath/numeric"
	"glidepath/reading"
	"glidepath/season"
	"glidepath/training"
)

// Dossier is all there is to say of an athlete on a date, from what was known
// by then. Parts that cannot be reckoned are nil, and Blocked or Cannot says why.
type Dossier struct {
	Athlete athlete.Athlete   `json:"athlete"`
	AsOf    civil.Date        `json:"as_of"`
	Show    *athlete.Show     `json:"show,omitempty"` // the next
	Phase   athlete.PhaseKind `json:"phase"`

	Reading  *reading.Reading   `json:"reading"`
	Season   *season.Season     `json:"season,omitempty"`
	Forecast *forecast.Forecast `json:"forecast,omitempty"` // with weekly corrections, as a coach would
	// Unchanged is the forecast if the standing prescription went on as it is.
	Unchanged *forecast.Forecast    `json:"unchanged,omitempty"`
	Proposal  *decision.Proposal    `json:"proposal,omitempty"`
	Draft     *athlete.Prescription `json:"draft,omitempty"` // what accepting the proposal would prescribe
	Current   *athlete.Prescription `json:"current,omitempty"`

	Strength training.StrengthReport `json:"strength"`
	Volume   training.VolumeReport   `json:"volume"`
	Load     training.WeekLoad       `json:"load"`
	Loads    []training.WeekLoad     `json:"loads"` // of the last whole weeks, in order
	Markers  training.Markers        `json:"markers"`
	Recovery training.RecoveryState  `json:"recovery"`
	Capacity training.Capacity       `json:"capacity"`
	Sets     *training.Proposal      `json:"sets,omitempty"`

	Blocked *fault.Error `json:"blocked,omitempty"` // why no deficit may be planned
	Cannot  []string     `json:"cannot,omitempty"`  // what could not be reckoned, in sentences

	Prescriptions []athlete.Prescription `json:"prescriptions,omitempty"`
	Reviews       []Review               `json:"reviews,omitempty"`
	CheckIns      []athlete.CheckIn      `json:"check_ins,omitempty"`
	Days          []athlete.Day          `json:"-"`
	Compositions  []reading.Composition  `json:"compositions,omitempty"`
	Levers        season.Levers          `json:"levers"`
	Cardio        cardio.Context         `json:"-"` // what a mix of cardio must fit

	// OffSeason is the weekly hard sets of the weeks that strength is held against.
	OffSeason []athlete.MuscleSets `json:"off_season_sets,omitempty"`
}

// Options choose how much of a dossier is reckoned.
type Options struct {
	ShowID   string // "" is the next show
	Futures  int    // 0 is 4,000; negative is no forecast
	NoReview bool
	// Believe, where given, changes what the reading believes before anything is
	// planned with it: for laboratories that compare with somebody who knows more.
	Believe func(*reading.Reading)
	// Suppose, where given, changes the profile before anything is reckoned: for
	// what-if questions. Nothing is stored.
	Suppose func(*athlete.Athlete)
	Workers int // for the futures; 0 is one
	// Confidence, 0.5 to 0.99, with which what is asked leaves time for the body as
	// it may turn out; 0 is the app's.
	Confidence float64
}

// Dossier reckons everything about an athlete as of a date.
func (a *App) Dossier(ctx context.Context, id string, asOf civil.Date, o Options) (*Dossier, error) {
	var f *facts
	err := a.Store.Read(ctx, func(tx Tx) (err error) {
		f, err = load(tx, id, asOf)
		return err
	})
	if err != nil {
		return nil, err
	}
	if a.Units != "" {
		f.athlete.Units = a.Units
	}
	if o.Suppose != nil {
		if o.Suppose(&f.athlete); f.athlete.ID != id {
			panic("app: a supposition changed whom it is about")
		}
		if err := f.athlete.Validate(); err != nil {
			return nil, err
		}
	}
	if o.Confidence == 0 {
		o.Confidence = a.Confidence
	}
	return f.dossier(asOf, o)
}

// recoveryDays is how long after a show the plan is recovery (judgement).
const recoveryDays = 70

func (f *facts) dossier(asOf civil.Date, o Options) (*Dossier, error) {
	a := &f.athlete
	d := &Dossier{Athlete: *a, AsOf: asOf, Days: f.days, Prescriptions: f.prescriptions, Reviews: f.reviews, CheckIns: f.checkIns, Current: f.current(asOf)}
	rates, err := f.rates(asOf)
	if err != nil {
		return nil, err
	}
	d.Levers = f.levers(rates, asOf, d.Current)
	in, cannot, err := f.input(asOf, d.Levers)
	if err != nil {
		return nil, err
	}
	d.Compositions, d.Cannot = in.Composition, cannot
	if d.Reading, err = reading.Read(in, reading.Settings{}); err != nil {
		return nil, err
	}
	if o.Believe != nil {
		o.Believe(d.Reading)
	}
	d.Levers.DoneShare = f.done(d)
	d.Cardio = f.cardioContext(d)
	f.train(d)
	d.Show = a.NextShow(asOf)
	if o.ShowID != "" {
		if d.Show = showByID(a, o.ShowID); d.Show == nil {
			return nil, fault.New(fault.NotFound, "%s has no show with the id %q.", a.Name, o.ShowID).WithField("show")
		}
	}
	if d.Show != nil && d.Show.Date < asOf {
		return nil, fault.New(fault.Invalid, "the show %q on %s is in the past of %s.", d.Show.Name, d.Show.Date, asOf).WithField("show")
	}
	d.Phase = athlete.OffSeason
	last := a.LastShow(asOf)
	recovering := last != nil && asOf < last.Date.AddDays(recoveryDays)
	if recovering {
		d.Phase = athlete.Recovery
	}
	d.Blocked = a.DeficitBlock(asOf)
	if d.Blocked != nil {
		if d.Current != nil {
			d.Phase = d.Current.Phase
		}
		f.trainLess(d)
		return d, nil
	}
	p := f.problem(d, last, recovering)
	solved := season.Solve(asEaten(p, d.Reading.Adherence))
	d.Season = &solved
	if len(solved.Map.Weeks) > 0 {
		d.Phase = solved.Map.Weeks[0].Phase
	}
	f.trainLess(d)
	if o.Futures >= 0 {
		d.Forecast = d.forecast(&p, o, true)
		if d.Current != nil && d.Show != nil {
			few := o
			few.Futures = max(200, o.Futures/4)
			if o.Futures == 0 {
				few.Futures = 1000
			}
			d.Unchanged = d.forecast(&p, few, false)
		}
	}
	if !o.NoReview {
		f.review(d, p, o.Confidence)
	}
	return d, nil
}

func showByID(a *athlete.Athlete, id string) *athlete.Show {
	for i := range a.Shows {
		if a.Shows[i].ID == id {
			return &a.Shows[i]
		}
	}
	return nil
}

// problem states the season's problem from the reading.
func (f *facts) problem(d *Dossier, lastShow *athlete.Show, recovering bool) season.Problem {
	a := &f.athlete
	now := &d.Reading.Now
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	p := season.Problem{
		AsOf: d.AsOf, Sex: a.Sex, Units: a.Units, Limits: a.EffectiveLimits(), Levers: d.Levers,
		Model: now.Model, State: now.State(), CarbohydrateShare: now.CarbohydrateShare,
		BodyFat: numeric.Normal{Mean: last.BodyFatPct.Value, SD: last.MethodPct.SD()}, ExpenditureSD: last.ExpenditureKc.SD(),
		Events: a.Events,
	}
	if d.Show != nil {
		p.Show = onTrueScale(*d.Show, now, a.Sex)
		for _, s := range a.Shows {
			if s.ID != d.Show.ID && s.Date > d.AsOf {
				p.OtherShows = append(p.OtherShows, onTrueScale(s, now, a.Sex))
			}
		}
	}
	if recovering {
		p.RecoverUntil = lastShow.Date.AddDays(recoveryDays)
	}
	if c := d.Current; c != nil && c.Phase == athlete.Prep && !recovering {
		p.Dieting = true
		p.DietWeeks = d.AsOf.DaysSince(f.dietSince(d.AsOf)) / 7
		if c.For(athlete.DietBreakDay) == nil {
			p.Standing = &season.Instruction{EnergyKcal: c.MeanEnergyKcal(), StepsPerDay: c.Steps, CardioMinutes: c.CardioMinutes()}
		}
	}
	return p
}

// dietSince is when the present run of prep prescriptions began.
func (f *facts) dietSince(on civil.Date) civil.Date {
	since := on
	for i := len(f.prescriptions) - 1; i >= 0; i-- {
		p := &f.prescriptions[i]
		if p.From > on {
			continue
		}
		if p.Phase != athlete.Prep {
			break
		}
		since = p.From
	}
	return since
}

// forecast flies the plan, steered by a coach, or the standing prescription as
// it is.
func (d *Dossier) forecast(p *season.Problem, o Options, steered bool) *forecast.Forecast {
	const openEnded = 84
	days := openEnded
	if d.Show != nil {
		days = d.Show.Date.DaysSince(d.AsOf)
	}
	path := d.Season.Map.Path
	days = min(days, len(path))
	q := forecast.Problem{
		From: d.Reading.Now, AsOf: d.AsOf, Steered: steered, Futures: max(0, o.Futures), Workers: o.Workers,
		Seed: seed(d.Athlete.ID, d.AsOf), BodyFatPct: athlete.BodyFatFloorPct(p.Sex),
	}
	ad := d.Reading.Adherence
	d.followed(&q)
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	if d.Show != nil {
		q.Target = &forecast.Target{BodyFatPct: d.Show.TargetBodyFatPct, Tolerance: d.Show.Tolerance()}
		if kg, ok := d.Show.ClassLimit.LimitKg(d.Athlete.HeightCm); ok {
			q.ClassKg = kg
		}
	}
	q.Plan = make([]forecast.Day, days)
	measured, least := d.measuring(), d.leastByWeek(asEaten(*p, ad))
	for i := range q.Plan {
		w := &path[i]
		q.Plan[i] = forecast.Day{
			EnergyKcal: w.EnergyKcal, CarbohydrateKcal: w.CarbohydrateKcal, ActivityKcalPerKg: w.ActivityKcalPerKg,
			LeastKcal: least[min(i/7, len(least)-1)], ReserveKcal: reserve(p, w), KnownShare: measured.knownShare(i), WeightKg: w.WeightKg, MostKcal: math.Max(last.ExpenditureKc.Value*1.1, w.EnergyKcal+100),
			Free: d.Show != nil && w.Date >= d.Show.Date.AddDays(-7),
		}
		if !steered && !q.Plan[i].Free {
			c := d.Current
			q.Plan[i].EnergyKcal = ad.Expected() * c.MeanEnergyKcal()
			q.Plan[i].CarbohydrateKcal = p.CarbohydrateShare * q.Plan[i].EnergyKcal
			q.Plan[i].ActivityKcalPerKg = p.Levers.ActivityKcalPerKg(season.Instruction{StepsPerDay: c.Steps, CardioMinutes: c.CardioMinutes()})
		}
	}
	return forecast.Run(q)
}

// followed is how much the athlete scatters about a plan, as far as the logs tell.
// A plan is on the scale of what is eaten: it allows already for how what is asked
// is followed.
func (d *Dossier) followed(q *forecast.Problem) {
	if ad := d.Reading.Adherence; ad.Days >= 7 {
		q.RatioSD = math.Hypot(ad.SERatio, 0.03)
		q.DaySD = math.Max(0.03, ad.SDRatio)
	}
}

// leastByWeek is the floor of energy availability in each seven days of the plan,
// kcal a day as eaten, with the cardio that the plan has.
func (d *Dossier) leastByWeek(p season.Problem) []float64 {
	m := &d.Season.Map
	out := make([]float64, 0, len(m.Path)/7+1)
	for i := 0; i < len(m.Path); i += 7 {
		w := &m.Path[i]
		cardio := 0.0
		for j := range m.Weeks {
			if m.Weeks[j].From <= w.Date {
				cardio = m.Weeks[j].Asked.CardioMinutes
			}
		}
		out = append(out, p.Limits.EnergyAvailabilityFloorOn(w.Date)*w.FatFreeKg+p.Levers.ExerciseKcalPerKg(cardio)*w.WeightKg)
	}
	return out
}

// reserve is what the steps that a day of the plan does not ask for could add to
// its deficit, kcal.
func reserve(p *season.Problem, w *season.PathDay) float64 {
	most := p.Levers.ActivityKcalPerKg(season.Instruction{StepsPerDay: p.Levers.StepsMax, CardioMinutes: p.Levers.CardioNow})
	return math.Max(0, most-w.ActivityKcalPerKg) * w.WeightKg * p.Model.ActivityYield
}

// seed makes the draws a function of the athlete and the date alone.
func seed(id string, on civil.Date) uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(id + " " + on.String()))
	return h.Sum64()
}

// train reads the training log.
func (f *facts) train(d *Dossier) {
	asOf := d.AsOf
	d.Markers = training.Gather(f.days, asOf)
	monday := asOf.Monday()
	d.Load = training.Load(f.sessions, monday.AddDays(-7))
	d.Loads = training.Loads(f.sessions, monday.AddDays(-7*loadWeeks), asOf)
	d.Recovery = training.Recovery(f.days, f.usual(asOf), asOf)
	d.Capacity = f.capacity(d)
	if len(f.sets) == 0 {
		return
	}
	from, to := f.baseline(asOf)
	d.Strength = f.strength(d.Reading, asOf)
	d.Volume = f.catalogue.Volume(f.sets, f.volumeFrom(asOf), asOf)
	d.OffSeason = meanSets(f.catalogue.Volume(f.sets, from, to))
}

// strength reads the sets, with body weight as the reading has it. There must be
// sets.
func (f *facts) strength(r *reading.Reading, asOf civil.Date) training.StrengthReport {
	from, to := f.baseline(asOf)
	log := training.LiftLog{Sets: f.sets, BaselineFrom: from, BaselineTo: to, AsOf: asOf}
	for i := range r.Daily {
		log.BodyWeights = append(log.BodyWeights, training.DatedWeight{Date: r.Daily[i].Date, Kg: r.Daily[i].TrendKg.Value})
	}
	return f.catalogue.Strength(log)
}

// volumeWeeks is how many weeks before the present one volume is told of.
const volumeWeeks = 8

func (f *facts) volumeFrom(asOf civil.Date) civil.Date {
	return max(f.sets[0].Date, asOf.Monday().AddDays(-7*volumeWeeks))
}

// baseline is what strength and sets are compared with: the off-season before the
// present prep, or the first four weeks that are logged. There must be sets.
func (f *facts) baseline(asOf civil.Date) (from, to civil.Date) {
	first := f.sets[0].Date
	if since := f.dietSince(asOf); since < asOf && since > first.AddDays(13) {
		return max(first, since.AddDays(-56)), since.AddDays(-1)
	}
	return first, first.AddDays(27)
}

// meanSets averages the weeks of a report, in whole sets.
func meanSets(v training.VolumeReport) []athlete.MuscleSets {
	out := meanOver(v.Weeks, float64(len(v.Weeks)))
	for i := range out {
		out[i].Sets = math.Round(out[i].Sets)
	}
	return out
}

// meanOver is the sets of some weeks over a number of weeks.
func meanOver(weeks []training.WeekVolume, n float64) []athlete.MuscleSets {
	if len(weeks) == 0 {
		return nil
	}
	out := make([]athlete.MuscleSets, 0, len(athlete.Muscles()))
	for _, m := range athlete.Muscles() {
		sum := 0.0
		for i := range weeks {
			sum += weeks[i].For(m)
		}
		out = append(out, athlete.MuscleSets{Muscle: m, Sets: sum / n})
	}
	return out
}

// review makes the proposal and what accepting it would prescribe.
func (f *facts) review(d *Dossier, p season.Problem, confidence float64) {
	if confidence == 0 {
		confidence = DefaultConfidence
	}
	s := decision.Situation{
		Athlete: &f.athlete, Reading: d.Reading, Problem: p, Season: *d.Season, Current: d.Current,
		Sure: season.Solve(fatter(asEaten(p, d.Reading.Adherence), d, confidence)), Past: f.past(d.AsOf),
	}
	if d.Sets != nil {
		s.Recovery = &decision.Recovery{
			Sentence: d.Sets.Sentence, Reasons: d.Sets.Reasons,
			Expects: d.Sets.Expects, ChangesMind: d.Sets.ChangesMind, Cautions: d.Sets.Cautions,
		}
		switch d.Sets.Action {
		case training.FewerSets:
			s.Recovery.Change, s.Recovery.Sets = true, d.Sets.Sets
		case training.Deload, training.Swap: // what stands, stays
			s.Recovery.Change = true
		case training.Defer:
			s.Recovery.Cautions = slices.Concat([]string{d.Sets.Sentence}, d.Sets.Reasons, d.Sets.Cautions)
		}
		if r := d.Strength.Overall; r != nil {
			s.Recovery.RealLoss = r.LossOver5
		}
	}
	proposal := decision.Review(s)
	d.Proposal = &proposal
	draft, err := f.proposed(d, &proposal)
	if err != nil {
		d.Cannot = append(d.Cannot, "The proposal cannot be written as a week of food: "+err.Error())
		return
	}
	draft.Sets = proposal.Sets
	draft.Sets = draft.SetsOr(d.Current)
	draft.Reasons = slices.Concat([]string{proposal.Sentence}, proposal.Reasons, draft.Reasons)
	d.Draft = draft
}

// proposed writes a proposal as a prescription: where it leaves everything as it
// is, the one that stands, since accepting to hold must not change the food.
func (f *facts) proposed(d *Dossier, p *decision.Proposal) (*athlete.Prescription, error) {
	c := d.Current
	if c == nil || p.To != p.From || p.Phase != c.Phase {
		return f.draft(d, p.To, p.Phase)
	}
	kept := *c
	kept.Version, kept.From, kept.Author, kept.Origin = 0, d.AsOf, "", ""
	var err error
	kept.Cardio, kept.Reasons, err = f.cardioSessions(d, p.To)
	return &kept, err
}
