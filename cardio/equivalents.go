package cardio

import (
	"slices"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/physiology"
)

// Equivalent is one way to spend an amount of energy.
type Equivalent struct {
	Kind      athlete.CardioKind `json:"kind,omitempty"` // empty for everyday steps
	Steps     float64            `json:"steps,omitempty"`
	Minutes   float64            `json:"minutes,omitempty"`
	Points    float64            `json:"fatigue_points"`
	MET       float64            `json:"met,omitempty"`
	Source    string             `json:"source"`
	Available bool               `json:"available"`  // the athlete has it
	WithinCap bool               `json:"within_cap"` // of intensity at this leanness
}

// Equivalents lists the same net kcal, 0 to 5000, as steps and as each kind at its
// default intensity.
func Equivalents(kcal float64, c Context) ([]Equivalent, error) {
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
		Steps: kcal / perStep, Points: kcal, Source: "0.5 kcal per kg and km", Available: true, WithinCap: true,
	}}
	for _, kind := range athlete.CardioKinds() {
		e, err := s.rate(kind)
		if err != nil {
			return nil, err
		}
		out = append(out, Equivalent{
			Kind: kind, Minutes: kcal / e.rate.NetKcalPerMin, Points: kcal * e.pointsPerKcal,
			MET: e.rate.MET, Source: e.rate.Source,
			Available: slices.Contains(c.Kinds, kind), WithinCap: e.peakMET <= s.mostMET,
		})
	}
	return out, nil
}

// scale weighs kinds for one athlete as they are now.
type scale struct {
	weightKg, leanness, mostMET float64
	table                       FatigueTable
}

func newScale(c *Context) (scale, error) {
	if !(c.BodyFatPct >= 2 && c.BodyFatPct <= 60) {
		return scale{}, fault.New(fault.Invalid, "%v is outside 2 to 60 per cent.", c.BodyFatPct).WithField("body_fat_pct")
	}
	limits := athlete.DefaultLimits(c.Body.Sex)
	if c.Limits != nil {
		limits = *c.Limits
	}
	table := DefaultFatigue()
	if c.Fatigue != nil {
		table = *c.Fatigue
		if err := table.Validate(); err != nil {
			return scale{}, err
		}
	}
	leanness := limits.Leanness(c.BodyFatPct)
	return scale{c.Body.WeightKg, leanness, table.MostMET(leanness), table}, nil
}

// weighed is a kind at its default intensity.
type weighed struct {
	rate          Rate
	peakMET       float64 // of its hard parts
	pointsPerKcal float64
}

func (s *scale) rate(kind athlete.CardioKind) (weighed, error) {
	r, err := RateOf(athlete.CardioBout{Kind: kind}, s.weightKg)
	if err != nil {
		return weighed{}, err
	}
	w := weighed{r, r.MET, s.table.PerKcal(kind, r.MET, s.leanness)}
	if kind == athlete.Intervals {
		hard, err := fromCode(codeHardest, s.weightKg)
		if err != nil {
			return weighed{}, err
		}
		w.peakMET = hard.MET
	}
	return w, nil
}
