package cardio

import (
	"slices"
	"time"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/physiology"
)

// Equivalent is one way to spend an amount of energy.
type Equivalent struct {
	Kind    athlete.CardioKind `json:"kind,omitempty"` // empty for everyday steps
	Pace    Pace               `json:"pace,omitzero"`
	Steps   float64            `json:"steps,omitempty"`
	Minutes float64            `json:"minutes,omitempty"`
	Points  float64            `json:"fatigue_points"`
	Fatigue Fatigue            `json:"fatigue"` // the same by where it comes from
	// SEKcal is the standard error of the energy for one person.
	SEKcal float64 `json:"se_kcal"`
	MET    float64 `json:"met,omitempty"`
	Source string  `json:"source"`
	// BestDay is the day on which the lifting near costs least; the points are for it.
	BestDay   *athlete.Weekday `json:"best_day,omitempty"`
	Available bool             `json:"available"`        // the athlete has it
	WithinCap bool             `json:"within_cap"`       // of intensity at this leanness
	Barred    string           `json:"barred,omitempty"` // by a joint, in a sentence
}

// Name is the way as a reader of some units says it: "incline walking, 5.0 km/h at
// 8 %".
func (e *Equivalent) Name(u athlete.Units) string {
	if e.Kind == "" {
		return "everyday steps"
	}
	if pace := u.Pace(e.Pace.SpeedKmh, e.Pace.GradePct, e.Pace.Watts); pace != "" {
		return string(e.Kind) + ", " + pace
	}
	return string(e.Kind)
}

// Trade lists the same net kcal, 0 to 5000, as steps and as each kind at each of its
// paces, with what each costs in minutes and in fatigue.
func Trade(kcal float64, c Context) ([]Equivalent, error) {
	if !(kcal >= 0 && kcal <= 5000) {
		return nil, fault.New(fault.Invalid, "%v is outside 0 to 5000 kcal.", kcal).WithField("kcal")
	}
	perStep, err := physiology.StepsNetKcal(c.Body.Sex, c.Body.HeightCm, c.Body.WeightKg, 1)
	if err != nil {
		return nil, err
	}
	s, err := newScale(&c)
	if err != nil {
		return nil, err
	}
	out := []Equivalent{{
		Steps: kcal / perStep, Points: kcal, Fatigue: Fatigue{Base: kcal}, SEKcal: stepsLogSD * kcal,
		Source: "0.5 kcal per kg and km", Available: true, WithinCap: true, Barred: s.table.Barred(athlete.Walking, c.Hurt, c.Spare),
	}}
	for _, kind := range athlete.CardioKinds() {
		for _, p := range pacesOf(kind, c.Body.WeightKg) {
			e, err := s.equivalent(kcal, kind, p)
			if err != nil {
				return nil, err
			}
			out = append(out, e)
		}
	}
	return out, nil
}

func (s *scale) equivalent(kcal float64, kind athlete.CardioKind, p Pace) (Equivalent, error) {
	w, err := s.weigh(kind, p)
	if err != nil {
		return Equivalent{}, err
	}
	e := Equivalent{
		Kind: kind, Pace: p, Minutes: kcal / w.rate.NetKcalPerMin, MET: w.rate.MET, Source: w.rate.Source,
		Available: slices.Contains(s.c.Kinds, kind), WithinCap: w.peakMET <= s.mostMET,
		Barred: s.table.Barred(kind, s.c.Hurt, s.c.Spare),
	}
	e.SEKcal = w.rate.LogSD * (w.rate.NetKcalPerMin + w.rate.RestKcalPerMin) * e.Minutes
	e.Fatigue.add(w.perKcal, kcal)
	sets, day, differ := s.bestDay(kind)
	e.Fatigue.Overlap = kcal * s.table.Overlap * sets
	e.Points = e.Fatigue.Points()
	if differ {
		e.BestDay = new(athlete.Weekday((time.Weekday(day) + time.Monday) % 7))
	}
	return e, nil
}

// bestDay is the first day on which a kind meets the fewest hard sets, and whether
// the days differ.
func (s *scale) bestDay(kind athlete.CardioKind) (sets float64, day int, differ bool) {
	most := 0.0
	for d := range 7 {
		v := s.table.OverlapSets(kind, &s.c.Week, d)
		if d == 0 || v < sets {
			sets, day = v, d
		}
		most = max(most, v)
	}
	return sets, day, most > sets
}
