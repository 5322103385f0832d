package cardio

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/physiology"
)

// Body is what energy depends on.
type Body struct {
	Sex      athlete.Sex
	WeightKg float64 // 35 to 220
	HeightCm float64 // 120 to 230
}

// Rate is how fast a kind of cardio spends energy.
type Rate struct {
	NetKcalPerMin  float64 `json:"net_kcal_per_min"`
	RestKcalPerMin float64 `json:"rest_kcal_per_min"` // what rest would have taken, by the same convention
	MET            float64 `json:"met"`               // gross, multiples of rest
	// LogSD is the error for one person of the gross energy, net and rest together,
	// as an SD of its natural logarithm: about its share.
	LogSD  float64 `json:"log_sd"`
	Source string  `json:"source"`
}

// Errors of the estimates, as Rate.LogSD.
const (
	// A median error of 12 % in treadmill work (Kim et al. 2019).
	treadmillLogSD = 0.17
	// 172 mL/min in all (Latin & Berg 1994, Med Sci Sports Exerc 26:642) of some 1,300
	// (from memory).
	cyclingLogSD = 0.13
	// 1.9 of 18.8 mL/kg/min (Latin et al. 2001, Med Sci Sports Exerc 33: their six
	// loads), and as much again for hands on a rail (judgement).
	steppingLogSD = 0.15
	// A code is a mean over people and paces, and so is an intensity that is only
	// supposed (judgement: one person in ten is out by half).
	codeLogSD = 0.25
)

// Default intensities where a bout or a plan gives none (judgement: what can be
// kept up day after day in prep).
const (
	walkKmh          = 5.5
	inclineKmh       = 5.0
	inclineGradePct  = 8.0
	runKmh           = 8.5
	cycleWattsPerKg  = 1.25
	walkEquationFrom = 3.0 // km/h, 50 m/min
	walkEquationTo   = 6.0 // km/h, 100 m/min
)

// Codes of the Compendium (2024) for kinds without an equation.
const (
	codeStairs    = "02065"
	codeElliptic  = "02048"
	codeSwim      = "18240"
	codeIntervals = "02210"
	codeHardest   = "02214" // the hard parts of intervals
)

// RateOf is the net energy of a bout for a body weight of 35 to 220 kg, with the
// default intensity where the bout has no speed, grade or watts:
//
//   - walking and incline walking: ACSM's equation, at 5.5 km/h on the level and
//     5.0 km/h at 8 %. Its energy over rest is in proportion to speed and is taken
//     so below 3 km/h as well; from 6 to 8.9 km/h, where it no longer holds, it is
//     joined to the Compendium's walking codes.
//   - running: ACSM's equation, at 8.5 km/h on the level.
//   - cycling: ACSM's equation for leg ergometry, at 1.25 W per kg.
//   - stair climbing: ACSM's stepping equation where steps a minute, each up and
//     down, and their height are given and within what it holds for; else a
//     Compendium code, as for machines on which one only climbs.
//   - rowing: Compendium, by watts; below 100 W where none are given.
//   - other: the Compendium code of the bout, 2024 or, where that has none, 2011.
//   - the rest: a Compendium code; posing practice 3.0 MET (judgement).
//
// The error is Invalid for values outside what the equations hold for, and for a
// code that there is not, with those near it.
func RateOf(b athlete.CardioBout, weightKg float64) (Rate, error) {
	if err := checkWeight(weightKg); err != nil {
		return Rate{}, err
	}
	switch b.Kind {
	case athlete.Walking:
		return supposed(b.SpeedKmh == nil, walk(orElse(b.SpeedKmh, walkKmh), orElse(b.GradePct, 0), weightKg))
	case athlete.InclineWalk:
		return supposed(b.SpeedKmh == nil, walk(orElse(b.SpeedKmh, inclineKmh), orElse(b.GradePct, inclineGradePct), weightKg))
	case athlete.Running:
		v, err := physiology.RunOxygen(orElse(b.SpeedKmh, runKmh)*physiology.MPerMinPerKmh, orElse(b.GradePct, 0)/100)
		return supposed(b.SpeedKmh == nil, fromOxygen(v, weightKg, treadmillLogSD, "ACSM running equation", err))
	case athlete.Cycling:
		watts := orElse(b.Watts, cycleWattsPerKg*weightKg)
		v, err := physiology.LegCycleOxygen(watts*physiology.KgMPerMinPerWatt, weightKg)
		return supposed(b.Watts == nil, fromOxygen(v, weightKg, cyclingLogSD, "ACSM leg-cycling equation", err))
	case athlete.Rowing:
		return fromCode(rowingCode(orElse(b.Watts, 0)), weightKg)
	case athlete.StairClimbing:
		return stairs(b, weightKg)
	case athlete.Elliptical:
		return fromCode(codeElliptic, weightKg)
	case athlete.Swimming:
		return fromCode(codeSwim, weightKg)
	case athlete.Intervals:
		return fromCode(codeIntervals, weightKg)
	case athlete.OtherActivity:
		return other(b.Code, weightKg)
	case athlete.Posing:
		return fromMET(physiology.PosingMET, weightKg, "judgement"), nil
	}
	return Rate{}, fault.New(fault.Invalid, "the cardio kind %q is not one of %v.", b.Kind, athlete.CardioKinds()).
		WithField("cardio_kind")
}

func checkWeight(weightKg float64) error {
	if weightKg >= 35 && weightKg <= 220 {
		return nil
	}
	return fault.New(fault.Invalid, "%v is outside 35 to 220 kg.", weightKg).WithField("weight_kg")
}

// rated is a rate or why there is none.
type rated struct {
	rate Rate
	err  error
}

// supposed widens the error where the intensity is only supposed.
func supposed(is bool, r rated) (Rate, error) {
	if is && r.err == nil {
		r.rate.LogSD = codeLogSD
		r.rate.Source += " at the usual intensity"
	}
	return r.rate, r.err
}

// stairs by ACSM's stepping equation where it holds, else by the code.
func stairs(b athlete.CardioBout, weightKg float64) (Rate, error) {
	if b.StepsPerMin != nil && b.StepHeightCm != nil {
		if v, err := physiology.StepOxygen(*b.StepHeightCm/100, *b.StepsPerMin); err == nil {
			r := fromOxygen(v, weightKg, steppingLogSD, "ACSM stepping equation", nil)
			return r.rate, r.err
		}
	}
	return fromCode(codeStairs, weightKg)
}

// other is an activity by its code.
func other(code string, weightKg float64) (Rate, error) {
	r, err := fromCode(code, weightKg)
	if f := fault.All(err); len(f) > 0 {
		return Rate{}, fault.New(fault.Invalid, "%s", f[0].Message).WithField("cardio_code").WithHint("%s", f[0].Hint)
	}
	return r, err
}

// walk by ACSM's equation up to 6 km/h, then on a line through the Compendium's
// codes at the middle of their speeds; the grade costs what ACSM says throughout.
func walk(kmh, gradePct, weightKg float64) rated {
	if !(kmh > 0 && kmh <= fastWalks[len(fastWalks)-1].toKmh) {
		return rated{err: fault.New(fault.Invalid, "%v is outside 0 to %.1f km/h of walking.", kmh, fastWalks[len(fastWalks)-1].toKmh).
			WithField("speed_kmh")}
	}
	held := math.Max(walkEquationFrom, math.Min(walkEquationTo, kmh))
	v, err := physiology.WalkOxygen(held*physiology.MPerMinPerKmh, gradePct/100)
	if err != nil {
		return rated{err: err}
	}
	if kmh < walkEquationFrom {
		v = physiology.RestingOxygen + (v-physiology.RestingOxygen)*physiology.OxygenUptake(kmh/walkEquationFrom)
	}
	if kmh <= walkEquationTo {
		return fromOxygen(v, weightKg, treadmillLogSD, "ACSM walking equation", nil)
	}
	level, err := physiology.WalkOxygen(walkEquationTo*physiology.MPerMinPerKmh, 0)
	if err != nil {
		return rated{err: err}
	}
	climb := float64(v-level) / float64(physiology.RestingOxygen) * kmh / walkEquationTo
	fromKmh, met := walkEquationTo, float64(level.MET())
	for _, f := range fastWalks {
		code, err := physiology.ActivityByCode(f.code)
		if err != nil {
			return rated{err: err}
		}
		next := float64(code.MET2024)
		if kmh <= f.kmh {
			met += (next - met) * (kmh - fromKmh) / (f.kmh - fromKmh)
			break
		}
		fromKmh, met = f.kmh, next
	}
	// Both sides of the join count 5 kcal to a litre of oxygen.
	return fromOxygen(physiology.MET(met+climb).Oxygen(), weightKg, treadmillLogSD, "ACSM walking equation joined to Compendium codes 17220 to 17231", nil)
}

// fastWalks are the Compendium's codes for fast walking, 4.0-4.4, 4.5-4.9 and
// 5.0-5.5 mph, with the middle and the end of their speeds.
var fastWalks = [...]struct {
	code       string
	kmh, toKmh float64
}{
	{"17220", 4.2 * athlete.KmPerMile, 4.4 * athlete.KmPerMile},
	{"17230", 4.7 * athlete.KmPerMile, 4.9 * athlete.KmPerMile},
	{"17231", 5.25 * athlete.KmPerMile, 5.5 * athlete.KmPerMile},
}

func rowingCode(watts float64) string {
	switch {
	case watts >= 200:
		return "02074"
	case watts >= 150:
		return "02073"
	case watts >= 100:
		return "02072"
	}
	return "02071"
}

func fromOxygen(v physiology.OxygenUptake, weightKg, logSD float64, source string, err error) rated {
	if err != nil {
		return rated{err: err}
	}
	return rated{rate: Rate{
		NetKcalPerMin: v.NetKcal(weightKg, 1), RestKcalPerMin: physiology.RestingOxygen.GrossKcal(weightKg, 1),
		MET: float64(v.MET()), LogSD: logSD, Source: source,
	}}
}

func fromCode(code string, weightKg float64) (Rate, error) {
	a, err := physiology.ActivityByCode(code)
	if err != nil {
		return Rate{}, err
	}
	met, edition := a.Newest()
	return fromMET(met, weightKg, fmt.Sprintf("Compendium %s, code %s", edition, code)), nil
}

func fromMET(m physiology.MET, weightKg float64, source string) Rate {
	return Rate{
		NetKcalPerMin: m.NetKcal(weightKg, 1), RestKcalPerMin: physiology.MET(1).GrossKcal(weightKg, 1),
		MET: float64(m), LogSD: codeLogSD, Source: source,
	}
}

func orElse(v *float64, otherwise float64) float64 {
	if v == nil {
		return otherwise
	}
	return *v
}
