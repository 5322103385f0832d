package cardio

import (
	"fmt"
	"math"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/phrase"
	"glidepath/physiology"
)

// Steps that people can follow.
const (
	stepsUnit       = 500.0 // steps a day
	minutesUnit     = 5     // of a session
	shortestSession = 15
	longestSession  = 60 // where Context.SessionMax is 0
	sessionsMost    = 7  // of one kind a week
	minutesAbout    = 10 // how far whole sessions may be from the minutes told
)

// MostKcal is the most energy a day that a mix can be asked for.
const MostKcal = 3000.0

// MixPlan is a mix of steps and cardio.
type MixPlan struct {
	StepsPerDay   float64              `json:"steps_per_day"`
	Cardio        []athlete.CardioPlan `json:"cardio,omitempty"`
	WantedKcal    float64              `json:"wanted_kcal"`    // a day, net, over StepsBase without cardio
	DeliveredKcal float64              `json:"delivered_kcal"` // likewise
	StepsKcal     float64              `json:"steps_kcal"`     // a day, of the added steps
	CardioKcal    float64              `json:"cardio_kcal"`    // a day
	FatiguePoints float64              `json:"fatigue_points"` // a day, see FatigueTable
	Fatigue       Fatigue              `json:"fatigue"`        // the same by where it comes from
	ShortKcal     float64              `json:"short_kcal,omitempty"`
	Why           string               `json:"why,omitempty"`      // what keeps it short
	LeftOut       []string             `json:"left_out,omitempty"` // kinds that the athlete has and why they are not used
}

// Mix finds the least tiring way to spend wantKcal net a day, 0 to 3000, over
// what StepsBase steps and no cardio spend. Steps come first, in 500s, up to
// StepsMax, unless a joint that walking loads is hurt. What is left is cardio of one
// or two kinds, each at one of its paces, in whole sessions of 15 minutes to
// SessionMax in steps of 5, at most 7 a week of a kind and on days of their own: the
// choice of kinds, paces, sessions, lengths and days with the fewest fatigue points of
// all that deliver it, found by looking at every one; of equals, the fewer minutes.
// Walks counted as cardio are on top of the day's steps. Paces above the leanness cap
// on intensity are left out, and so are kinds that a joint forbids, and posing, which
// is practice.
//
// Where no choice delivers it, the plan has the most that fits, and says how much
// is short and why; that is an answer, not an error.
//
// Where Context.Minutes tells how long, the plan is the least tiring that delivers what
// is wanted in those minutes, give or take 10, since sessions are whole; where none
// does, one as near as can be to the minutes told.
func Mix(wantKcal float64, c Context) (MixPlan, error) {
	m, err := newMixer(wantKcal, &c)
	if err != nil {
		return MixPlan{}, err
	}
	plan := MixPlan{WantedKcal: wantKcal, StepsPerDay: c.StepsBase, LeftOut: m.leftOut}
	stepsShort := plan.addSteps(m, &c)
	if need := 7 * (wantKcal - plan.StepsKcal); need > near || m.told > 0 {
		plan.addCardio(m.cheapest(need), &m.calendar)
	}
	plan.DeliveredKcal = plan.StepsKcal + plan.CardioKcal
	plan.Fatigue.Base += plan.StepsKcal
	plan.FatiguePoints = plan.Fatigue.Points()
	if short := wantKcal - plan.DeliveredKcal; 7*short > near {
		plan.ShortKcal = short
		plan.Why = strings.Join([]string{stepsShort, m.whyShort(&c)}, " ")
	}
	return plan, nil
}

// mixer is a checked context with what each usable kind does.
type mixer struct {
	kcalPerStep float64
	use         []usable
	longest     int
	told        int // minutes a week; 0 is not told
	minutesMax  int
	calendar    calendar
	leftOut     []string
	walkBarred  string // why steps are not raised
}

func newMixer(want float64, c *Context) (*mixer, error) {
	if !(want >= 0 && want <= MostKcal) {
		return nil, fault.New(fault.Invalid, "%v is outside 0 to %.0f kcal a day.", want, MostKcal).WithField("want_kcal")
	}
	if !(c.StepsBase >= 0 && c.StepsBase <= 60000 && c.StepsMax <= 60000) {
		return nil, fault.New(fault.Invalid, "steps of %v now and %v at most are outside 0 to 60,000 a day.", c.StepsBase, c.StepsMax).
			WithField("steps_per_day")
	}
	if !(c.MinutesMax >= 0 && c.MinutesMax <= 2500 && c.Minutes >= 0 && c.Minutes <= 2500) {
		return nil, fault.New(fault.Invalid, "%v minutes a week at most, or %v told, are outside 0 to 2500.", c.MinutesMax, c.Minutes).
			WithField("cardio_minutes_max")
	}
	longest := c.SessionMax
	if longest == 0 {
		longest = longestSession
	}
	if longest < shortestSession || longest > 180 || longest%minutesUnit != 0 {
		return nil, fault.New(fault.Invalid, "a longest session of %d minutes is not a multiple of 5 from 15 to 180.", longest).
			WithField("session_max")
	}
	perStep, err := physiology.StepsNetKcal(c.Body.Sex, c.Body.HeightCm, c.Body.WeightKg, 1)
	if err != nil {
		return nil, err
	}
	s, err := newScale(c)
	if err != nil {
		return nil, err
	}
	m := &mixer{kcalPerStep: perStep, longest: longest, minutesMax: int(c.MinutesMax), calendar: newCalendar(&s)}
	if c.Minutes > 0 {
		m.told = max(shortestSession, int(math.Round(c.Minutes/minutesUnit))*minutesUnit)
	}
	m.walkBarred = s.table.Barred(athlete.Walking, c.Hurt, c.Spare)
	m.use, m.leftOut, err = s.usables()
	return m, err
}

// addSteps raises steps to the least multiple of 500 that delivers what is wanted
// or to the most, and says so where the most falls short.
func (p *MixPlan) addSteps(m *mixer, c *Context) string {
	if m.walkBarred != "" {
		return fmt.Sprintf("Steps are not raised: %s", m.walkBarred)
	}
	most := math.Floor(c.StepsMax/stepsUnit) * stepsUnit
	wanted := math.Ceil((c.StepsBase+p.WantedKcal/m.kcalPerStep)/stepsUnit-1e-9) * stepsUnit
	if p.WantedKcal > 0 {
		p.StepsPerDay = math.Max(c.StepsBase, math.Min(wanted, most))
	}
	p.StepsKcal = (p.StepsPerDay - c.StepsBase) * m.kcalPerStep
	return fmt.Sprintf("Steps are at the %s a day that the athlete can keep.", phrase.Number(p.StepsPerDay, 0))
}

func (p *MixPlan) addCardio(d dose, c *calendar) {
	var days [2]uint8
	for i := range d.parts {
		part := &d.parts[i]
		days[i] = part.days
		p.Cardio = append(p.Cardio, athlete.CardioPlan{
			Kind: part.use.kind, MinutesPerWeek: float64(part.minutes()), Sessions: part.sessions, Days: weekdays(part.days),
			SpeedKmh: part.use.pace.SpeedKmh, GradePct: part.use.pace.GradePct, Watts: part.use.pace.Watts,
		})
		p.Fatigue.add(part.use.perKcal, part.kcal()*float64(part.sessions)/7)
		p.Fatigue.Overlap += part.kcal() * part.use.overlap[part.days] / 7
	}
	if len(d.parts) > 0 {
		p.Fatigue.Week = c.cost(days[0], days[1]) / 7
	}
	p.CardioKcal = d.kcal / 7
}

func (m *mixer) whyShort(c *Context) string {
	switch {
	case len(c.Kinds) == 0:
		return "No kind of cardio is available."
	case len(m.use) == 0 && len(m.leftOut) == 0: // posing is all there is
		return "No kind of cardio is available: posing is practice."
	case len(m.use) == 0:
		return "No available kind of cardio can be used: " + strings.Join(m.leftOut, " ")
	case m.told > 0:
		return fmt.Sprintf("No kind that can be used delivers more in about %.0f minutes a week, in whole sessions.", c.Minutes)
	case m.minutesMax < shortestSession:
		return fmt.Sprintf("%d minutes of cardio a week are less than one session.", m.minutesMax)
	}
	return fmt.Sprintf("Cardio is at the most that %d minutes a week and 7 sessions of a kind allow, of at most two kinds.", m.minutesMax)
}
