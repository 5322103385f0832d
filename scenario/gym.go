package scenario

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
)

// gym is the athlete's strength and the two sessions a week whose sets are
// logged.
type gym struct {
	lifts     []lift
	lean0     float64
	sessionOn [7]int // by day of the week: which half of the lifts is logged, or noSession
	noise     stream
}

// noSession marks a day without logged sets.
const noSession = -1

// lift is one exercise of the logged programme.
type lift struct {
	name    string
	session int
	max     float64 // one-repetition maximum when fresh at the first lean mass, kg
	belief  float64 // what the athlete loads by, kg
	barKg   float64 // division of the load
}

// pattern is the strength of a lift for an experienced athlete, kg per kg lean.
type pattern struct {
	name    string
	session int
	perKg   float64
	barKg   float64
}

// The loads are judgement, ordinary for natural athletes of the stage.
var (
	maleLifts = []pattern{
		{"back squat", 0, 2.0, 2.5},
		{"bench press", 0, 1.5, 2.5},
		{"barbell row", 0, 1.3, 2.5},
		{"romanian deadlift", 1, 1.8, 2.5},
		{"overhead press", 1, 0.9, 2.5},
		{"lat pulldown", 1, 1.15, 2.5},
	}
	femaleLifts = []pattern{
		{"back squat", 0, 1.7, 2.5},
		{"hip thrust", 0, 2.3, 5},
		{"overhead press", 0, 0.68, 1},
		{"romanian deadlift", 1, 1.6, 2.5},
		{"bench press", 1, 0.9, 1},
		{"lat pulldown", 1, 1.0, 2.5},
	}
)

func newGym(a *athlete.Athlete, leanKg float64, purpose func(string) stream) gym {
	s := purpose("strength")
	g := gym{lean0: leanKg, noise: purpose("sets")}
	g.sessionOn = sessionDays(a)
	skill := 0.6 + 0.4*(1-math.Exp(-a.TrainingYears/3))
	for _, p := range liftsOf(a) {
		most := leanKg * p.perKg * skill * s.lognormal(1, 0.08, 0.75, 1.3)
		g.lifts = append(g.lifts, lift{name: p.name, session: p.session, max: most, belief: most, barKg: p.barKg})
	}
	return g
}

// liftsOf are the lifts that an athlete logs.
func liftsOf(a *athlete.Athlete) []pattern {
	if a.Sex == athlete.Female {
		return femaleLifts
	}
	return maleLifts
}

// sessionDays says for each day of the week which half of the lifts is logged.
func sessionDays(a *athlete.Athlete) (on [7]int) {
	for d := range on {
		on[d] = noSession
	}
	days := trainingDays(a)
	on[days[len(days)/2]] = 1
	on[days[0]] = 0
	return on
}

// Fall of strength: with lean mass, a little more than in proportion, and with
// fatigue (judgement).
const (
	strengthPerLean = 1.2
	tiredLoss       = 0.10
)

// lift does the day's session: the session as it felt and, on two days of the
// week, the sets.
func (p *Person) lift(on civil.Date, trains bool) (*athlete.Session, []athlete.Set) {
	g := &p.gym
	half := g.sessionOn[on.Weekday()]
	keeps := p.diary.setsLog.Float64() < p.diary.habits.SetsShare
	feel, length := g.noise.NormFloat64(), g.noise.uniform(0.9, 1.12)
	if !trains {
		return nil, nil
	}
	session := &athlete.Session{
		Date:    on,
		Minutes: math.Round(trainingMinutes(&p.spec.Athlete) * length),
		RPE:     roundTo(clamp(6.3+3*p.mood.worn()+0.6*feel, 3, 10), 0.5),
	}
	if half == noSession || !keeps {
		return session, nil
	}
	fresh := math.Pow(p.tissue.leanKg/g.lean0, strengthPerLean) * (1 - tiredLoss*p.mood.worn())
	var sets []athlete.Set
	for i := range g.lifts {
		if l := &g.lifts[i]; l.session == half {
			sets = l.perform(sets, on, fresh, g.noise)
		}
	}
	return session, sets
}

// Aim of each logged set.
const (
	aimReps   = 8
	aimRIR    = 2
	workSets  = 3
	perRep    = 30.0 // Epley: a maximum is load (1 + reps/30)
	setTiring = 0.02
)

// perform does three sets of a lift with a load chosen by the last sessions.
func (l *lift) perform(sets []athlete.Set, on civil.Date, fresh float64, noise stream) []athlete.Set {
	today := l.max * fresh * (1 + 0.018*noise.NormFloat64())
	load := math.Max(l.barKg, math.Round(l.belief/(1+(aimReps+aimRIR)/perRep)/l.barKg)*l.barKg)
	for i := range workSets {
		most := perRep * (today*(1-setTiring*float64(i))/load - 1) // repetitions to failure
		reps := int(clamp(math.Round(most-aimRIR), 1, 14))
		rir := roundTo(clamp(most-float64(reps)+0.6*noise.NormFloat64(), 0, 5), 0.5)
		sets = append(sets, athlete.Set{
			Date: on, Exercise: l.name, WeightKg: load, Reps: reps, RIR: &rir, Order: len(sets) + 1,
		})
		if i == 0 {
			seen := load * (1 + (float64(reps)+rir)/perRep)
			l.belief += 0.4 * (seen - l.belief)
		}
	}
	return sets
}
