package app

import (
	"context"
	"fmt"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/training"
)

// PlannedWeek is what a week of a programme comes to, before it is kept.
type PlannedWeek struct {
	Muscles []PlannedMuscle `json:"muscles"` // in the order of athlete.Muscles
	// Unknown are exercises that the catalogue does not know; they count for no muscle.
	Unknown  []string `json:"unknown,omitempty"`
	Cautions []string `json:"cautions,omitempty"` // what is hurt, and what there is nothing to do it with
}

// PlannedMuscle is a muscle's hard sets in the week beside what they are held
// against; nil is not known.
type PlannedMuscle struct {
	Muscle      athlete.Muscle `json:"muscle"`
	Direct      float64        `json:"direct"`
	Indirect    float64        `json:"indirect"`      // as they count
	Now         *float64       `json:"now,omitempty"` // of late, a week
	OffSeason   *float64       `json:"off_season,omitempty"`
	Maintenance *float64       `json:"maintenance,omitempty"`
}

// PlannedWeek reckons a week as it is written, for an athlete as of a date.
func (a *App) PlannedWeek(ctx context.Context, id string, asOf civil.Date, week athlete.ProgrammeWeek) (*PlannedWeek, error) {
	return read(ctx, a, func(tx Tx) (*PlannedWeek, error) {
		f := &facts{}
		p, err := tx.Athlete(id)
		if err != nil {
			return nil, err
		}
		f.athlete = *p
		if err := f.loadTraining(tx, id, asOf); err != nil {
			return nil, err
		}
		if f.prescriptions, err = tx.Prescriptions(id, asOf); err != nil {
			return nil, err
		}
		return f.plannedWeek(asOf, week), nil
	})
}

func (f *facts) plannedWeek(asOf civil.Date, week athlete.ProgrammeWeek) *PlannedWeek {
	out := &PlannedWeek{}
	for _, m := range athlete.Muscles() {
		out.Muscles = append(out.Muscles, PlannedMuscle{Muscle: m})
	}
	written := athlete.Programme{From: asOf, Weeks: []athlete.ProgrammeWeek{week}}
	for _, d := range f.catalogue.Planned(&written, asOf) {
		for _, s := range d.Exercise.Muscles {
			m := &out.Muscles[slices.Index(athlete.Muscles(), s.Muscle)]
			if s.Share >= training.Direct {
				m.Direct += d.Sets
			} else {
				m.Indirect += d.Sets * s.Share
			}
		}
	}
	f.hold(out, asOf)
	for _, s := range week.Sessions {
		for _, e := range s.Exercises {
			f.remark(out, e.Exercise, asOf)
		}
	}
	return out
}

// hold sets a written week against what was done.
func (f *facts) hold(out *PlannedWeek, asOf civil.Date) {
	if len(f.sets) == 0 {
		return
	}
	from, to := f.baseline(asOf)
	off := meanSets(f.catalogue.Volume(f.sets, from, to))
	v := f.catalogue.Volume(f.sets, f.volumeFrom(asOf), asOf)
	var now []athlete.MuscleSets
	if from, to, ok := training.Lately(wholeWeeks(&v, asOf)); ok {
		now = training.MuscleSetsOf(f.catalogue.Logged(f.sets, from, to))
	}
	for i := range out.Muscles {
		m := &out.Muscles[i]
		if off != nil {
			m.OffSeason = new(off[i].Sets)
			m.Maintenance = new(training.MaintenanceDose(m.Muscle, off[i].Sets).Sets)
		}
		if now != nil {
			m.Now = new(now[i].Sets)
		}
	}
}

// remark notes an exercise that is not known, loads what hurts, or asks for what is
// not there; each once.
func (f *facts) remark(out *PlannedWeek, typed string, asOf civil.Date) {
	add := func(to *[]string, text string) {
		if !slices.Contains(*to, text) {
			*to = append(*to, text)
		}
	}
	m, known := f.catalogue.Lookup(typed)
	if !known {
		add(&out.Unknown, typed)
		return
	}
	for _, r := range f.athlete.Hurt(asOf) {
		if slices.Contains(m.Exercise.Loads, r) {
			add(&out.Cautions, fmt.Sprintf("%s loads the %s, which is noted as hurt: a clinician first.", m.Exercise.Name, r))
		}
	}
	for _, r := range f.athlete.SpareRegions {
		if slices.Contains(m.Exercise.Loads, r) {
			add(&out.Cautions, fmt.Sprintf("%s loads the %s, which is to be spared.", m.Exercise.Name, r))
		}
	}
	with, have := m.Exercise.Equipment, f.athlete.Equipment
	if len(have) > 0 && with != "" && with != athlete.OwnBody && !slices.Contains(have, with) {
		add(&out.Cautions, fmt.Sprintf("%s needs a %s, which is not among what there is to train with.", m.Exercise.Name, with))
	}
}
