package cardio

import (
	"fmt"
	"math"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/physiology"
)

// Steps that people can follow.
const (
	stepsUnit       = 500.0 // steps a day
	minutesUnit     = 5     // of a session
	shortestSession = 15
	longestSession  = 60 // where Context.SessionMax is 0
	sessionsMost    = 7  // of one kind a week
)

// Context is what a mix must fit.
type Context struct {
	Body       Body
	BodyFatPct float64         // for leanness, 2 to 60
	Limits     *athlete.Limits // nil is the defaults for the sex
	StepsBase  float64         // a day, already in the expenditure that is added to
	StepsMax   float64         // a day, what the athlete can keep up
	Kinds      []athlete.CardioKind
	MinutesMax float64       // cardio a week
	SessionMax int           // minutes, a multiple of 5, 15 to 180; 0 is 60
	Fatigue    *FatigueTable // nil is DefaultFatigue
}

// Plan is a mix of steps and cardio.
type Plan struct {
	StepsPerDay   float64              `json:"steps_per_day"`
	Cardio        []athlete.CardioPlan `json:"cardio,omitempty"`
	WantedKcal    float64              `json:"wanted_kcal"`    // a day, net, over StepsBase without cardio
	DeliveredKcal float64              `json:"delivered_kcal"` // likewise
	StepsKcal     float64              `json:"steps_kcal"`     // a day, of the added steps
	CardioKcal    float64              `json:"cardio_kcal"`    // a day
	FatiguePoints float64              `json:"fatigue_points"` // a day, see FatigueTable
	ShortKcal     float64              `json:"short_kcal,omitempty"`
	Why           string               `json:"why,omitempty"`      // what keeps it short
	LeftOut       []string             `json:"left_out,omitempty"` // kinds that the athlete has and why they are not used
}

// Mix finds the least tiring way to spend wantKcal net a day, 0 to 3000, over
// what StepsBase steps and no cardio spend. Steps come first, in 500s, up to
// StepsMax. What is left is cardio of one or two kinds, in whole sessions of 15
// minutes to SessionMax in steps of 5, at most 7 a week of a kind: the choice
// with the fewest fatigue points of all that deliver it, found by looking at every
// one; of equals, the fewer minutes. Walks counted as cardio are on top of the
// day's steps. Kinds above the leanness cap on intensity are left out, and so is
// posing, which is practice.
//
// Where no choice delivers it, the plan has the most that fits, and says how much
// is short and why; that is an answer, not an error.
func Mix(wantKcal float64, c Context) (Plan, error) {
	m, err := newMixer(wantKcal, &c)
	if err != nil {
		return Plan{}, err
	}
	plan := Plan{WantedKcal: wantKcal, StepsPerDay: c.StepsBase, LeftOut: m.leftOut}
	stepsShort := plan.addSteps(m, &c)
	if need := 7 * (wantKcal - plan.StepsKcal); need > slack {
		plan.addCardio(m.cheapest(need))
	}
	plan.DeliveredKcal = plan.StepsKcal + plan.CardioKcal
	plan.FatiguePoints += plan.StepsKcal
	if short := wantKcal - plan.DeliveredKcal; 7*short > slack {
		plan.ShortKcal = short
		plan.Why = strings.Join([]string{stepsShort, m.whyShort(&c)}, " ")
	}
	return plan, nil
}

// mixer is a checked context with what each usable kind does.
type mixer struct {
	kcalPerStep float64
	kinds       []usable
	options     []session // every weekly dose of a kind, by minutes
	minutesMax  int
	second      float64
	leftOut     []string
}

type usable struct {
	kind          athlete.CardioKind
	kcalPerMin    float64
	pointsPerKcal float64
}

// session is a weekly dose: so many sessions of so long.
type session struct{ minutes, sessions int }

func newMixer(want float64, c *Context) (*mixer, error) {
	if !(want >= 0 && want <= 3000) {
		return nil, fault.New(fault.Invalid, "%v is outside 0 to 3000 kcal a day.", want).WithField("want_kcal")
	}
	if !(c.StepsBase >= 0 && c.StepsBase <= 60000 && c.StepsMax <= 60000) {
		return nil, fault.New(fault.Invalid, "steps of %v now and %v at most are outside 0 to 60,000 a day.", c.StepsBase, c.StepsMax).
			WithField("steps_per_day")
	}
	if !(c.MinutesMax >= 0 && c.MinutesMax <= 2500) {
		return nil, fault.New(fault.Invalid, "%v is outside 0 to 2500 minutes a week.", c.MinutesMax).WithField("cardio_minutes_max")
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
	m := &mixer{kcalPerStep: perStep, minutesMax: int(c.MinutesMax), options: sessionOptions(longest)}
	if err := m.useKinds(c); err != nil {
		return nil, err
	}
	return m, nil
}

func (m *mixer) useKinds(c *Context) error {
	s, err := newScale(c)
	if err != nil {
		return err
	}
	m.second = s.table.SecondKind
	for _, kind := range athlete.CardioKinds() { // the domain's order, each once
		has := false
		for _, k := range c.Kinds {
			has = has || k == kind
		}
		if !has || kind == athlete.Posing {
			continue
		}
		e, err := s.rate(kind)
		if err != nil {
			return err
		}
		if e.peakMET > s.mostMET {
			m.leftOut = append(m.leftOut, fmt.Sprintf("%s reaches %.1f MET, above the cap of %.1f at %.1f %% body fat.",
				kind, e.peakMET, s.mostMET, c.BodyFatPct))
			continue
		}
		m.kinds = append(m.kinds, usable{kind, e.rate.NetKcalPerMin, e.pointsPerKcal})
	}
	return nil
}

// sessionOptions lists every weekly total that whole sessions make, each once: as
// sessions nearest 40 minutes, then the fewer.
func sessionOptions(longest int) []session {
	best := map[int]session{}
	off := func(s session) int { return max(s.minutes/s.sessions-40, 40-s.minutes/s.sessions) }
	for n := 1; n <= sessionsMost; n++ {
		for length := shortestSession; length <= longest; length += minutesUnit {
			s := session{n * length, n}
			if old, ok := best[s.minutes]; !ok || off(s) < off(old) {
				best[s.minutes] = s
			}
		}
	}
	var out []session
	for total := shortestSession; total <= sessionsMost*longest; total += minutesUnit {
		if s, ok := best[total]; ok {
			out = append(out, s)
		}
	}
	return out
}

// addSteps raises steps to the least multiple of 500 that delivers what is wanted
// or to the most, and says so where the most falls short.
func (p *Plan) addSteps(m *mixer, c *Context) string {
	most := math.Floor(c.StepsMax/stepsUnit) * stepsUnit
	wanted := math.Ceil((c.StepsBase+p.WantedKcal/m.kcalPerStep)/stepsUnit-1e-9) * stepsUnit
	if p.WantedKcal > 0 {
		p.StepsPerDay = math.Max(c.StepsBase, math.Min(wanted, most))
	}
	p.StepsKcal = (p.StepsPerDay - c.StepsBase) * m.kcalPerStep
	return fmt.Sprintf("Steps are at the %.0f a day that the athlete can keep.", p.StepsPerDay)
}

func (p *Plan) addCardio(d dose) {
	for _, part := range d.parts {
		p.Cardio = append(p.Cardio, athlete.CardioPlan{
			Kind: part.kind.kind, MinutesPerWeek: float64(part.minutes), Sessions: part.sessions,
		})
	}
	p.CardioKcal = d.kcal / 7
	p.FatiguePoints = d.points / 7
}

func (m *mixer) whyShort(c *Context) string {
	switch {
	case len(c.Kinds) == 0:
		return "No kind of cardio is available."
	case len(m.kinds) == 0:
		return "No available kind of cardio can be used: " + strings.Join(m.leftOut, " ")
	case m.minutesMax < m.options[0].minutes:
		return fmt.Sprintf("%d minutes of cardio a week are less than one session.", m.minutesMax)
	}
	return fmt.Sprintf("Cardio is at the most that %d minutes a week and 7 sessions of a kind allow, of at most two kinds.", m.minutesMax)
}
