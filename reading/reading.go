// Package reading tells what is really happening: from irregular, gappy, noisy
// logs to a joint estimate of the body's state and the athlete's own
// parameters, with honest intervals.
//
// It is an extended Kalman filter and Rauch-Tung-Striebel smoother (Rauch HE,
// Tung F, Striebel CT. AIAA J 1965;3:1445-50) on package dynamics, with
// Student-t weighting of weigh-ins against heavy tails. Scale weight is tissue +
// glycogen water + slow fluid + weekly and menstrual rhythm + noise. Intake is
// what is reported, and expenditure is estimated on that same scale: it is the
// reported intake that would hold the body's energy steady, the scale on which a
// prescription is followed.
package reading

import (
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
	"glidepath/numeric"
)

// Input is what there is to read. Days are in order of date with no date twice;
// those after AsOf are ignored.
type Input struct {
	Athlete *athlete.Athlete
	AsOf    civil.Date
	Days    []athlete.Day
	// Activity is the logged activity of each day of Days in kcal per kg of body
	// weight, net of rest; NaN where it is not known.
	Activity []float64
	// HabitKcalPerKg is the activity of a usual day, for days not logged.
	HabitKcalPerKg float64
	Composition    []Composition
	Prescriptions  []athlete.Prescription
}

// Composition is one body-fat reading with the error of its method.
type Composition struct {
	Date       civil.Date `json:"date"`
	Series     string     `json:"series"` // readings of one series share a bias
	BodyFatPct float64    `json:"body_fat_pct"`
	ReadingSD  float64    `json:"reading_sd"` // points, this reading alone
	BiasSD     float64    `json:"bias_sd"`    // points, the part that stays with the series
}

// Reading is the estimate on a date.
type Reading struct {
	AsOf  civil.Date `json:"as_of"`
	Daily []Estimate `json:"daily"` // every day from the first that is known to AsOf
	Now   Posterior  `json:"-"`

	Adherence  Adherence `json:"adherence"`
	Evidence   Evidence  `json:"evidence"`
	Queries    []Query   `json:"queries"`     // weights to ask about; they were left out
	CannotTell []string  `json:"cannot_tell"` // what the data cannot say, in sentences
}

// Estimate is what is known of one day once all logs up to AsOf are in.
type Estimate struct {
	Date           civil.Date       `json:"date"`
	TrendKg        numeric.Interval `json:"trend_kg"`         // weight without the day's noise, at the water of the week
	RatePct        numeric.Interval `json:"rate_pct"`         // tissue lost over the two weeks before, % of weight a week; positive is loss
	FatKg          numeric.Interval `json:"fat_kg"`           //
	LeanKg         numeric.Interval `json:"lean_kg"`          // fat-free mass at usual hydration
	BodyFatPct     numeric.Interval `json:"body_fat_pct"`     // true
	MethodPct      numeric.Interval `json:"method_pct"`       // body fat as the main series would read it without its own error: true + its bias
	ExpenditureKc  numeric.Interval `json:"expenditure_kcal"` // on the reporting scale
	WeightKg       *float64         `json:"weight_kg,omitempty"`
	ReportedKcal   *float64         `json:"reported_kcal,omitempty"`
	AssumedKcal    float64          `json:"assumed_kcal"` // the intake used where none was reported
	ActivityKcalKg float64          `json:"activity_kcal_per_kg"`
	WaterKg        float64          `json:"water_kg"` // glycogen and fluid against the usual, as modelled
}

// Posterior is the joint estimate on the last day: normal, with means and
// covariance in the order of the constants Fat to Bias. A variance may be zero.
type Posterior struct {
	Model dynamics.Model
	Water dynamics.State // only glycogen and fluid are meant
	Mean  [Learned]float64
	Cov   [Learned * Learned]float64
	// Series is the main series of body-fat readings, "" where nothing is
	// measured: the scale on which a target is meant, since the lasting bias of a
	// method cannot be seen from within its readings. Of the series read twice or
	// more in the last ten weeks it is the one with the least error of a reading;
	// where there is none, of those read once; else the one read last. Between
	// equals the one read last, then the first by name.
	Series string
	// NoiseSD is the SD of one weigh-in about the trend, kg, all noise together:
	// slow fluid, the rhythms of the week and the cycle, and what is of the morning
	// alone. SlowFluidSD is that of slow fluid, which decays by e in SlowFluidDays.
	NoiseSD, SlowFluidSD, SlowFluidDays float64
	// IntakeKcal and ActivityKcalPerKg are the means of the last two weeks. Where
	// intake is neither reported nor prescribed, IntakeKcal is what expenditure and
	// the way that weight goes make it.
	IntakeKcal        float64
	ActivityKcalPerKg float64
	CarbohydrateShare float64
}

// The learned quantities, in their order in a Posterior.
const (
	Fat        = iota // kg
	FatFree           // kg, at baseline glycogen and fluid
	Adaptation        // kcal a day
	Rest              // kcal a day: the athlete's own offset of expenditure
	LossScale         // ln of the factor on Partition.LossScale
	Yield             // share of logged activity that adds to expenditure
	SlowFluid         // kg
	Gain              // factor on the modelled weight of water
	Bias              // points of body fat that the main series reads too high; 0 without a series
	Learned
)

// Adherence is how the athlete follows the prescription, on the reporting
// scale.
type Adherence struct {
	Days       int     `json:"days"`         // compared: reported and prescribed, last four weeks
	MeanRatio  float64 `json:"mean_ratio"`   // reported over prescribed energy; 1 where Days is 0
	SDRatio    float64 `json:"sd_ratio"`     // between days
	SERatio    float64 `json:"se_ratio"`     // of the mean
	StepsRatio float64 `json:"steps_ratio"`  // logged over prescribed; 0 is unknown
	CardioMean float64 `json:"cardio_ratio"` // logged over prescribed minutes; 0 is unknown
}

// Evidence counts what the last days brought.
type Evidence struct {
	LastLog      civil.Date `json:"last_log"` // zero: never
	Days         int        `json:"days"`     // since the first log
	Weights7     int        `json:"weights_7_days"`
	Weights14    int        `json:"weights_14_days"`
	Intake14     int        `json:"intake_14_days"`
	WeightsTotal int        `json:"weights"`
	IntakeTotal  int        `json:"intake"`
	Compositions int        `json:"compositions"`
	LastMeasured civil.Date `json:"last_measured"`
}

// Query asks about a weight that does not fit.
type Query struct {
	Date     civil.Date `json:"date"`
	WeightKg float64    `json:"weight_kg"`
	Expected float64    `json:"expected_kg"`
	Reason   string     `json:"reason"`            // a sentence
	Instead  *float64   `json:"instead,omitempty"` // what was probably meant, kg
}

// RestDriftKcal is how an athlete's offset of expenditure wanders: a random
// walk, kcal a day per root day (set on simulated seasons, seeds 30000 to 30999).
const RestDriftKcal = 8.0

// ExchangeKg is how fat goes for lean, or lean for fat, beyond what the dynamics
// foresee: a random walk, kg per root day, that no scale sees (set on simulated
// seasons, seeds 31000 to 31499).
const ExchangeKg = 0.03

// Settings are the filter's assumptions. The zero value is the recommended one
// for every field: a positive field replaces the default.
//
// ExpenditureSD: the published prediction for adults errs by 162 kcal (women) to
// 199 (men) (Institute of Medicine 2005, Dietary Reference Intakes for Energy, from
// memory), and reports by some 5 %, which is on the scale that is told.
type Settings struct {
	WeighInSD     float64 // kg, fast noise of one weigh-in at 80 kg; default 0.34
	SlowFluidSD   float64 // kg, slow fluid at 80 kg; default 0.40
	SlowFluidDays float64 // its time constant; default 9
	TailDF        float64 // Student-t degrees of freedom of the fast noise; default 4
	RestDriftKcal float64 // random walk of the expenditure offset, kcal a day per root day; default RestDriftKcal
	IntakeLogCV   float64 // day-to-day error of a reported intake; default 0.08
	IntakeUnknown float64 // SD of an unreported day about its assumed intake, share; default 0.15
	ExpenditureSD float64 // prior SD of expenditure from equations, kcal; default 220
	MaintenanceSD float64 // prior SD of expenditure where the athlete knows it, kcal; default 200
	PrecedingDays int     // how far back logs are read; default 400
}

func (s Settings) withDefaults() Settings {
	set := func(v *float64, d float64) {
		if *v == 0 {
			*v = d
		}
	}
	set(&s.WeighInSD, 0.34)
	set(&s.SlowFluidSD, 0.40)
	set(&s.SlowFluidDays, 9)
	set(&s.TailDF, 4)
	set(&s.RestDriftKcal, RestDriftKcal)
	set(&s.IntakeLogCV, 0.08)
	set(&s.IntakeUnknown, 0.15)
	set(&s.ExpenditureSD, 220)
	set(&s.MaintenanceSD, 200)
	if s.PrecedingDays == 0 {
		s.PrecedingDays = 400
	}
	return s
}
