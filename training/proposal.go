package training

import (
	"fmt"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/fault"
)

// Action is what a proposal does to training.
type Action string

// The actions. There is none that adds sets: volume is not a way to lose fat.
const (
	Hold      Action = "hold"
	FewerSets Action = "fewer sets"
	Deload    Action = "deload" // half the sets for a week, the load as it is
	Swap      Action = "swap"   // one exercise for a steadier one, sets as they are
	Defer     Action = "defer to a clinician"
)

// Situation is what a proposal on sets looks at.
type Situation struct {
	Recovery  *RecoveryState // nil is not known
	Retention *Retention     // of strength as a whole; nil is not known
	Capacity  *Capacity      // nil is not judged
	Loads     []WeekLoad     // of whole weeks, in order
	Weeks     []WeekVolume   // whole ones, in order: they tell an easy week
	Pain      Pain
	Phase     athlete.PhaseKind
	Deficit   bool // energy is planned below expenditure

	Doing     []Doing // exercise by exercise; empty leaves to the coach where sets go
	Now       []athlete.MuscleSets
	OffSeason []athlete.MuscleSets // weekly hard sets when not dieting; empty takes Now
	// MaintenanceShare is the least share of off-season sets kept, 0.5 to 1. Zero
	// is 0.5.
	MaintenanceShare float64

	Catalogue *Catalogue          // for swaps; nil is the standard one
	Equipment []athlete.Equipment // that there is; empty is everything
	Spare     []athlete.Region    // to go easy on
}

// Proposal is one change of training, or none.
type Proposal struct {
	Action   Action               `json:"action"`
	Sentence string               `json:"sentence"`
	Sets     []athlete.MuscleSets `json:"sets"`    // what would stand; a deload leaves what stands
	CutPct   float64              `json:"cut_pct"` // of all muscle sets
	Days     int                  `json:"for_days,omitempty"`
	// Exercises are those that change, and how.
	Exercises []ExerciseChange `json:"exercises,omitempty"`
	// Waits are the exercises that are left out until a clinician has spoken.
	Waits       []string `json:"waits,omitempty"`
	Doses       []Dose   `json:"maintenance,omitempty"` // that no proposal goes below
	Reasons     []string `json:"reasons"`
	Expects     []string `json:"expects,omitempty"`
	ChangesMind []string `json:"changes_mind,omitempty"`
	Cautions    []string `json:"cautions,omitempty"`
}

// ExerciseChange is what becomes of an exercise, in hard sets a week.
type ExerciseChange struct {
	Exercise string  `json:"exercise"`
	SetsFrom float64 `json:"sets_from"`
	SetsTo   float64 `json:"sets_to"`
	SwapTo   string  `json:"swap_to,omitempty"`
}

// How sure of a short recovery is sure enough (judgement).
const (
	surely     = 0.8
	probably   = 0.5
	sureOfLoss = 0.8
)

// Propose makes at most one change of training, in a deficit and where recovery is
// short by what its hidden state tells (RecoveryState):
//
//   - pain, an injury or a bone that hurts defers to a clinician, in any phase;
//   - two weeks of short recovery and of much or monotonous load, or four of short
//     recovery, take a deload, not more often than every five weeks;
//   - a region that is to be spared, or hurts a little, takes the exercise that loads
//     it and tires most to a steadier one;
//   - else 10 or 20 % of the sets go, 30 % where it is deep, by how sure it is, with
//     strength that is really lost and sets beyond what is expected to be recovered
//     from counted in. Nothing goes under the maintenance dose, no muscle
//     loses over a third, and unless recovery is deeply short no more goes than leaves
//     what an athlete may be expected to recover from at the least (Capacity).
//
// The load on the bar stays. It never adds sets.
func Propose(s Situation) (Proposal, error) {
	if s.MaintenanceShare != 0 && !(s.MaintenanceShare >= 0.5 && s.MaintenanceShare <= 1) {
		return Proposal{}, fault.New(fault.Invalid, "%v is outside 0.5 to 1.", s.MaintenanceShare).
			WithField("maintenance_share")
	}
	p := Proposal{Action: Hold, Sets: slices.Clone(s.Now)}
	for _, m := range s.Now {
		p.Doses = append(p.Doses, s.dose(m))
	}
	if s.defers(&p) {
		return p, nil
	}
	s.mentionSmallPain(&p)
	if why := s.noReduction(); why != "" {
		p.hold(why)
		return p, nil
	}
	s.weigh(&p)
	return p, nil
}

func (p *Proposal) say(format string, args ...any) {
	p.Reasons = append(p.Reasons, fmt.Sprintf(format, args...))
}

func (p *Proposal) hold(why string) {
	p.Action, p.Sentence = Hold, why
	p.Reasons = append(p.Reasons, why)
}

// noReduction says why sets are not looked at, or nothing.
func (s *Situation) noReduction() string {
	switch {
	case len(s.Now) == 0:
		return "No hard sets are logged, so there is nothing to change."
	case s.Phase == athlete.PeakWeek || s.Phase == athlete.ShowDay:
		return "The last days before the show follow the peak-week plan; sets are not changed here."
	case !s.Deficit:
		return "There is no energy deficit, so fatigue is a matter of ordinary programming; sets stay with the coach."
	case s.Recovery == nil || !s.Recovery.Told():
		return fmt.Sprintf("A marker of recovery is logged on fewer than %d of the last %d days; the evidence is too thin to take sets away.",
			thinDays, markerDays)
	}
	return ""
}

// weigh counts the signs and chooses.
func (s *Situation) weigh(p *Proposal) {
	recovery := s.recoverySigns(p)
	strength := s.strengthSigns(p)
	points := recovery + strength
	if s.overCapacity(p) && recovery > 0 {
		points++
	}
	switch {
	case recovery == 0 && strength > 0:
		p.hold("Recovery does not explain the loss of strength, so sets stay; look first at food, the rate of loss and energy availability.")
	case recovery == 0 || points < 2:
		p.hold("That is too little to take sets away.")
	case s.deloads(p), s.swaps(p):
	default:
		most := 0.20
		if recovery == deeply {
			most = 0.30
		}
		s.cut(p, math.Min(0.10*float64(points-1), most), recovery == deeply)
	}
}

// deeply is the points of a recovery that is deeply short.
const deeply = 3

// recoverySigns counts how short recovery is, and says by which markers.
func (s *Situation) recoverySigns(p *Proposal) int {
	r := s.Recovery
	p.say("%s", r.Sentence)
	for _, m := range r.Markers {
		if math.Abs(m.Effect) >= smallEffect {
			p.say("%s", m.Words)
		}
	}
	switch {
	case r.Deep >= surely:
		p.say("It is deeply short, under %.0f, with a chance of %s.", DeepRecovery, chance(r.Deep))
		return deeply
	case r.Short >= surely:
		return 2
	case r.Short >= probably:
		return 1
	}
	return 0
}

func (s *Situation) strengthSigns(p *Proposal) (points int) {
	r := s.Retention
	switch {
	case r == nil:
		p.say("How much strength is kept is not known.")
		return 0
	case r.LossOver5 >= sureOfLoss:
		points = 2
	case r.LossOver2p5 >= sureOfLoss:
		points = 1
	}
	p.say("Strength is at %.1f %% of the off-season (90 %% interval %.1f to %.1f); the chance that more than 2.5 %% is lost is %s, more than 5 %%, %s.",
		r.Pct.Value, r.Pct.Low90, r.Pct.High90, percent(r.LossOver2p5), percent(r.LossOver5))
	return points
}

// overCapacity reports whether there are more sets than an athlete is likely to
// recover from.
func (s *Situation) overCapacity(p *Proposal) bool {
	now, off := totalSets(s.Now), totalSets(s.OffSeason)
	if s.Capacity == nil || off == 0 {
		return false
	}
	p.say("Sets stand at %.0f %% of the off-season's. %s", 100*now/off, s.Capacity.Sentence)
	return now > s.Capacity.Share.High50*off
}

func totalSets(all []athlete.MuscleSets) (sum float64) {
	for _, m := range all {
		sum += m.Sets
	}
	return sum
}

// dose is the maintenance dose of a muscle.
func (s *Situation) dose(now athlete.MuscleSets) Dose {
	reference := now.Sets
	if len(s.OffSeason) > 0 {
		reference = 0
		for _, m := range s.OffSeason {
			if m.Muscle == now.Muscle {
				reference = m.Sets
			}
		}
	}
	if s.MaintenanceShare > 0 {
		return doseOf(now.Muscle, reference, s.MaintenanceShare)
	}
	return MaintenanceDose(now.Muscle, reference)
}
