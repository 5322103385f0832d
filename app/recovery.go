package app

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/training"
)

// loadWeeks is how many whole weeks of load are told.
const loadWeeks = 8

// What stands for usual of an athlete (judgement): up to eight weeks before the
// latest prep began, with a marker on at least fourteen days of them; else the first
// four weeks of the log. Nothing more than a year old is looked at.
const (
	usualDays      = 56
	usualLeast     = 14
	usualFirstDays = 28
	usualReach     = 364
)

func (f *facts) usual(asOf civil.Date) training.Usual {
	reach := asOf.AddDays(-usualReach)
	if began := f.prepBegan(asOf); began > reach {
		u := training.Usual{From: max(reach, began.AddDays(-usualDays)), To: began.AddDays(-1), OffSeason: true}
		first, n := civil.Date(0), 0
		for i := range f.days {
			if d := &f.days[i]; d.Date >= u.From && d.Date <= u.To && marked(d) {
				if n++; n == 1 {
					first = d.Date
				}
			}
		}
		if n >= usualLeast {
			u.From = first
			return u
		}
	}
	from := asOf
	for i := range f.days {
		if d := &f.days[i]; d.Date >= reach && d.Date < from && marked(d) {
			from = d.Date
		}
	}
	return training.Usual{From: from, To: min(asOf, from.AddDays(usualFirstDays-1))}
}

// marked reports whether a day has any marker of recovery.
func marked(d *athlete.Day) bool {
	for _, v := range []*float64{d.SleepH, d.Fatigue, d.Soreness, d.Motivation, d.Mood, d.Hunger, d.RestingPulse} {
		if v != nil {
			return true
		}
	}
	return false
}

// prepBegan is when the latest prep began, under way or over; zero where there was
// none.
func (f *facts) prepBegan(on civil.Date) (began civil.Date) {
	for i := len(f.prescriptions) - 1; i >= 0; i-- {
		p := &f.prescriptions[i]
		switch {
		case p.From > on:
		case p.Phase == athlete.Prep || p.Phase == athlete.PrePrep:
			began = p.From
		case !began.IsZero():
			return began
		}
	}
	return began
}

// capacity is what training the athlete may be expected to recover from, as a share
// of the off-season's.
func (f *facts) capacity(d *Dossier) training.Capacity {
	last := &d.Reading.Daily[len(d.Reading.Daily)-1]
	limits := f.athlete.EffectiveLimits()
	spent, eaten := last.ExpenditureKc.Value, d.Reading.Now.IntakeKcal
	in := training.Condition{
		Deficit: (spent - eaten) / spent, Leanness: limits.Leanness(last.BodyFatPct.Value),
		Floor: limits.EnergyAvailabilityFloorOn(d.AsOf),
	}
	exercise := d.Levers.ExerciseKcalPerKg(d.Levers.CardioNow) * last.TrendKg.Value
	in.Available = (eaten - exercise) / last.LeanKg.Value
	return training.ExpectedCapacity(in, training.CapacitySettings{})
}

// olderFrom is the age from which a third of the sets did not keep muscle (Bickel et
// al. 2011: 60 to 75 years), and olderShare what is kept then (judgement).
const (
	olderFrom  = 60
	olderShare = 0.75
)

// trainLess proposes a change of sets, or none. Without a log of sets or a programme
// there is only what hurts to speak of.
func (f *facts) trainLess(d *Dossier) {
	a := &f.athlete
	s := training.Situation{
		Recovery: &d.Recovery, Retention: d.Strength.Overall, Capacity: &d.Capacity, Loads: d.Loads,
		Pain: training.GatherPain(f.days, f.checkIns, a.Hurt(d.AsOf), d.AsOf), Phase: d.Phase,
		Deficit:   d.Current != nil && (d.Current.Phase == athlete.Prep || d.Current.Phase == athlete.PrePrep),
		OffSeason: d.OffSeason, Catalogue: f.catalogue, Equipment: a.Equipment, Spare: a.SpareRegions,
	}
	if a.BirthDate.YearsUntil(d.AsOf) >= olderFrom {
		s.MaintenanceShare = olderShare
	}
	s.Weeks = wholeWeeks(&d.Volume, d.AsOf)
	if s.Doing = f.doing(d.AsOf, d.Phase, s.Weeks); len(s.Doing) > 0 {
		s.Now = training.MuscleSetsOf(s.Doing)
		for i := range s.Now {
			s.Now[i].Sets = math.Round(s.Now[i].Sets)
		}
	}
	p, err := training.Propose(s)
	switch {
	case err != nil:
		d.Cannot = append(d.Cannot, err.Error())
	case len(f.sets) > 0 || len(s.Doing) > 0 || p.Action == training.Defer:
		d.Sets = &p
	}
}

// wholeWeeks are the weeks that are over on a date.
func wholeWeeks(v *training.VolumeReport, asOf civil.Date) (out []training.WeekVolume) {
	for i := range v.Weeks {
		if w := v.Weeks[i]; w.Monday.AddDays(6) <= asOf {
			out = append(out, w)
		}
	}
	return out
}

// doing is what the athlete trains: by the programme in force, else as logged of
// late.
func (f *facts) doing(on civil.Date, phase athlete.PhaseKind, weeks []training.WeekVolume) []training.Doing {
	if p := athlete.ProgrammeOn(f.programmes, on, phase); p != nil {
		if all := f.catalogue.Planned(p, on); len(all) > 0 {
			return all
		}
	}
	from, to, ok := training.Lately(weeks)
	if !ok {
		return nil
	}
	return f.catalogue.Logged(f.sets, from, to)
}
