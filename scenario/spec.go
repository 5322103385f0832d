package scenario

import (
	"glidepath/athlete"
	"glidepath/civil"
)

// Spec is all that is needed to simulate an athlete. The zero value of every
// behaviour parameter means "drawn from the seed"; a negative one means none.
type Spec struct {
	Athlete athlete.Athlete
	From    civil.Date // first day lived
	To      civil.Date // last day lived, inclusive

	FatKg    float64 // true fat on the morning of From, more than 0
	WeightKg float64 // true fat and lean together that morning, more than FatKg

	Plan         []Step              // by date; before the first the athlete eats by habit
	Programmes   []athlete.Programme // what the coach writes for the gym, by version; it changes nothing that is lived
	Measurements []Appointment       // measurements of body composition
	Trips        []Trip              // days away from home
	Scales       []Scale             // other scales, by date; before the first a true one
	CycleStart   civil.Date          // a first day of bleeding on or before From; zero is drawn

	Body      Body
	Behaviour Behaviour
	Logging   Logging
}

// Step is one instruction of the simple coach: from a date on, this much food,
// walking and cardio. Its prescription divides the energy among day types.
type Step struct {
	From          civil.Date
	Phase         athlete.PhaseKind
	EnergyKcal    float64           // mean of the week, kcal a day
	ProteinG      float64           // a day; 0 is 2.2 g per kg of profile weight
	Steps         float64           // a day
	CardioMinutes float64           // a week, of the first kind that the athlete has
	Refeeds       []athlete.Weekday // days with more carbohydrate, inside the same weekly mean
	RefeedKcal    float64           // above the other days; 0 is 500
	DietBreak     bool              // every day is a diet-break day
	Reason        string
}

// Appointment is a repeated measurement by one method in one pair of hands.
type Appointment struct {
	Method    athlete.Method
	By        string
	First     civil.Date
	EveryDays int      // 0 is once
	BiasPct   *float64 // lasting bias, points of body fat; nil is drawn
}

// Trip is a stretch of days away: no scale, more and saltier food, a log with
// holes.
type Trip struct{ From, To civil.Date } // inclusive

// Scale is a scale that shows too much or too little, used from a date on.
type Scale struct {
	From     civil.Date
	OffsetKg float64
}

// Body has the personal constants of the truth model.
type Body struct {
	MaintenanceKcal      float64 // true expenditure at the start, with habitual activity; 0 leaves it to RestingFactor
	RestingFactor        float64 // measured resting rate over the mixture of equations; about 1, SD 0.07
	SpontaneousKcalPerKg float64 // standing, fidgeting, chores, kcal/kg/day; 1.5 to 8
	MoveFactor           float64 // cost of walking and cardio over the textbook's; about 1, SD 0.08
	AdaptationGain       float64 // fall of resting rate, as a share of the lagged deficit; 0.04 to 0.22
	AdaptationLagDays    float64 // 5 to 30
	SpontaneousDrop      float64 // most of the spontaneous activity that a long deficit takes away, as a share; 0.1 to 0.6
	LeanLossFactor       float64 // scale on the loss of lean; median 0.65, 0.2 to 3
	FatSupplyKcalPerKg   float64 // soft ceiling on what a kg of fat gives up in a day; about 100
	LeanEnergyKcalPerKg  float64 // of lean tissue with its water; 1200 to 1800
	GlycogenWater        float64 // kg water with a kg of glycogen; 2.5 to 4
	GlycogenLagDays      float64 // 1 to 3
	SlowFluidPct         float64 // SD of slow fluid, per cent of weight; 0.2 to 0.5
	SlowFluidDays        float64 // its time constant; 6 to 20
	FastNoisePct         float64 // SD of fast noise on the scale, per cent of weight; 0.3 to 0.65
	FastNoiseCarry       float64 // what of it is left the next morning, as a share; 0.1 to 0.4
	CycleKg              float64 // trough to peak of the menstrual wave; median 0.6
}

// Behaviour has how an athlete lives the plan.
type Behaviour struct {
	ReportingFactor float64 // reported over true intake; 0.85 to 1.05
	ReportingDrift  float64 // SD of its slow wander, as a share; 0.005 to 0.02
	Overshoot       float64 // eaten, and logged, above the prescription, as a share; drawn 0 to 0.02
	IntakeCV        float64 // day-to-day spread on a plan; 0.04 to 0.09
	WeekendExcess   float64 // more on Saturday and Sunday, as a share; 0 to 0.10
	OffPlanPerWeek  float64 // meals off the plan; 0 to 0.8
	OffPlanKcal     float64 // mean size of one; 400 to 900
	UnloggedExcess  float64 // eaten above other days when the day is not logged, as a share; 0 to 0.08
	StepsKept       float64 // steps walked over steps prescribed, when fresh; 0.9 to 1.05
	StepsCV         float64 // 0.10 to 0.22
	CardioKept      float64 // share of cardio sessions done; 0.85 to 1
	TrainingKept    float64 // share of lifting sessions done; 0.92 to 1
	IllnessPerYear  float64 // 0.5 to 2.5
	NigglesPerYear  float64 // joints that hurt for some days; 0.2 to 1.5
}

// Logging has the habits of the log.
type Logging struct {
	WeightShare float64           // share of mornings with a weight; 0.75 to 1
	IntakeShare float64           // share of days with intake; 0.7 to 1
	GapDays     float64           // mean length of a run of missing days, at least 1; 1.2 to 3
	WeighOn     []athlete.Weekday // only these mornings; empty is any
	StepsShare  float64           // 0.85 to 1
	MarkersPer  float64           // share of days with sleep, hunger, fatigue and pulse; 0.3 to 0.9
	FeelingsPer float64           // of the days that are logged, the share with soreness, motivation and mood; 0.15 to 0.6
	SetsShare   float64           // share of the two weekly logged sessions; 0.85 to 1
	NoMacros    bool              // energy only
	NoCycle     bool              // the cycle is not logged
}

// Season is a simulated stretch of an athlete's life: what was logged, and the
// truth that the log hides.
type Season struct {
	Athlete       athlete.Athlete
	Days          []athlete.Day
	Measurements  []athlete.Measurement
	Sets          []athlete.Set
	Sessions      []athlete.Session
	Prescriptions []athlete.Prescription
	Programmes    []athlete.Programme
	Truth         []TruthDay
}

// TruthDay is what was really so. Masses are those of the morning of Date,
// flows those of the day that follows, so that
//
//	IntakeKcal - ExpenditureKcal = what fat, lean and glycogen gain by the next morning.
type TruthDay struct {
	Date       civil.Date
	FatKg      float64
	LeanKg     float64 // fat-free mass with its ordinary water and glycogen
	WeightKg   float64 // tissue: FatKg and LeanKg
	GlycogenKg float64 // above or below that of the first morning
	WaterKg    float64 // glycogen with its water, fluids and gut, above or below ordinary
	ScaleKg    float64 // what a true scale shows, logged or not: WeightKg, WaterKg and fast noise

	IntakeKcal      float64
	ExpenditureKcal float64
	// ReportingFactor is reported over true intake on a day that is logged.
	ReportingFactor float64
	// ReportedScaleExpenditureKcal is expenditure as an intake log shows it:
	// ExpenditureKcal less the reporting error at the intake typical of the last
	// fortnight, so that typical reported intake less this is what tissue really
	// gains. It is the expenditure on whose scale a prescription is followed.
	ReportedScaleExpenditureKcal float64

	Steps   float64 // walked, not counted
	Fatigue float64 // 0 to 1
	Ill     bool
	Missed  bool // the menstrual cycle has lapsed
}

// Until is the season as it is known on the morning of a date: that morning's
// weight, and everything from the days before.
func (s *Season) Until(on civil.Date) Season {
	u := Season{Athlete: s.Athlete}
	for _, d := range s.Days {
		if d.Date == on {
			d = athlete.Day{Date: on, WeightKg: d.WeightKg, CycleDay: d.CycleDay}
		}
		if d.Date <= on && !d.Empty() {
			u.Days = append(u.Days, d)
		}
	}
	u.Measurements = before(s.Measurements, on+1, func(m athlete.Measurement) civil.Date { return m.Date })
	u.Sets = before(s.Sets, on, func(x athlete.Set) civil.Date { return x.Date })
	u.Sessions = before(s.Sessions, on, func(x athlete.Session) civil.Date { return x.Date })
	u.Prescriptions = before(s.Prescriptions, on+1, func(p athlete.Prescription) civil.Date { return p.From })
	u.Programmes = before(s.Programmes, on+1, func(p athlete.Programme) civil.Date { return p.From })
	u.Truth = before(s.Truth, on+1, func(t TruthDay) civil.Date { return t.Date })
	return u
}

// before copies what is dated before a date.
func before[T any](all []T, on civil.Date, date func(T) civil.Date) []T {
	var kept []T
	for _, v := range all {
		if date(v) < on {
			kept = append(kept, v)
		}
	}
	return kept
}
