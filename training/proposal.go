package training

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/fault"
)

// Action is what a proposal does to training.
type Action string

// The actions. There is none that adds sets: volume is not a way to lose fat.
const (
	Hold      Action = "hold"
	FewerSets Action = "fewer sets"
	Defer     Action = "defer to a clinician"
)

// Situation is what a proposal on sets looks at.
type Situation struct {
	Markers   Markers
	Retention *Retention // of strength as a whole; nil is not known
	Phase     athlete.PhaseKind
	Deficit   bool // energy is planned below expenditure
	Pain      bool // pain or an injury is reported
	Now       []athlete.MuscleSets
	OffSeason []athlete.MuscleSets // weekly hard sets when not dieting; empty takes Now
	// MaintenanceShare is the least share of off-season sets kept, 0.5 to 1. Zero
	// is 0.5.
	MaintenanceShare float64
}

// Proposal is a change of weekly hard sets, or none.
type Proposal struct {
	Action   Action               `json:"action"`
	Sets     []athlete.MuscleSets `json:"sets"`    // what would stand
	CutPct   float64              `json:"cut_pct"` // of all muscle sets
	Reasons  []string             `json:"reasons"`
	Cautions []string             `json:"cautions,omitempty"`
}

// Thresholds of the signs (judgement of ours; no published cut-offs for
// physique athletes). A second figure counts double.
const (
	shortSleepH, veryShortSleepH = 6.0, 5.0
	highFatigue, extremeFatigue  = 7.0, 8.5
	highHunger                   = 8.0
	sureOfLoss                   = 0.8
)

// Least weekly hard sets kept for a muscle (judgement). Small muscles are worked
// by the lifts for the large ones as well.
const (
	leastSetsLarge = 6.0
	leastSetsSmall = 4.0
)

// Propose holds sets, or takes 10, 20 or 30 % of them away where two, three or
// more signs of poor recovery come together in a deficit. They come from the
// muscles that have most above maintenance, which is half of the off-season sets
// (or MaintenanceShare) and never under 4 sets for a small and 6 for a large
// muscle. That fewer sets keep muscle rests on Bickel et al. 2011 (Med Sci
// Sports Exerc 43:1177: a third and even a ninth of the sets kept size for 32
// weeks in people of 20 to 35 years), who were not in a deficit; how much to
// keep in one is judgement. The load on the bar stays.
//
// It never adds sets. Pain or an injury defers to a clinician.
func Propose(s Situation) (Proposal, error) {
	if s.MaintenanceShare != 0 && !(s.MaintenanceShare >= 0.5 && s.MaintenanceShare <= 1) {
		return Proposal{}, fault.New(fault.Invalid, "%v is outside 0.5 to 1.", s.MaintenanceShare).
			WithField("maintenance_share")
	}
	p := Proposal{Action: Hold, Sets: append([]athlete.MuscleSets(nil), s.Now...)}
	if s.Pain {
		p.Action = Defer
		p.Reasons = []string{"Pain or an injury is reported; what to train, and how, is for a clinician or physiotherapist to say before sets change."}
		p.Cautions = []string{"Do not train through pain that is sharp, spreads, wakes at night or follows a fall."}
		return p, nil
	}
	if why := s.noReduction(); why != "" {
		p.Reasons = []string{why}
		return p, nil
	}
	recovery, reasons := s.recoverySigns()
	strength, strengthReason := s.strengthSigns()
	if strengthReason != "" {
		reasons = append(reasons, strengthReason)
	}
	p.Reasons = reasons
	switch points := recovery + strength; {
	case recovery == 0 && strength > 0:
		p.say("Recovery markers do not explain it, so sets stay; look first at food, the rate of loss and energy availability.")
	case recovery == 0 || points < 2:
		p.say("That is too little to take sets away.")
	default:
		s.cut(&p, min(0.10*float64(points-1), 0.30))
	}
	return p, nil
}

func (p *Proposal) say(format string, args ...any) {
	p.Reasons = append(p.Reasons, fmt.Sprintf(format, args...))
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
	case s.Markers.SleepH == nil && s.Markers.Fatigue == nil:
		return fmt.Sprintf("Neither sleep nor fatigue is logged on %d of the last %d days; the evidence is too thin to take sets away.",
			markerLeast, markerDays)
	}
	return ""
}

// recoverySigns counts poor recovery: sleep and fatigue, and hunger beside them.
func (s *Situation) recoverySigns() (points int, reasons []string) {
	if v := s.Markers.SleepH; v != nil {
		n := steps(-*v, -shortSleepH, -veryShortSleepH)
		points += n
		reasons = append(reasons, fmt.Sprintf("Sleep over two weeks is %.1f h a night (%s %.0f h).", *v, side(n, "at most", "above"), shortSleepH))
	}
	if v := s.Markers.Fatigue; v != nil {
		n := steps(*v, highFatigue, extremeFatigue)
		points += n
		reasons = append(reasons, fmt.Sprintf("Fatigue is %.1f of 10 (%s %.0f).", *v, side(n, "at least", "under"), highFatigue))
	}
	if v := s.Markers.Hunger; v != nil && *v >= highHunger {
		reasons = append(reasons, fmt.Sprintf("Hunger is %.1f of 10 (at least %.0f).", *v, highHunger))
		if points > 0 {
			points++
		}
	}
	return points, reasons
}

func (s *Situation) strengthSigns() (points int, reason string) {
	r := s.Retention
	switch {
	case r == nil:
		return 0, "How much strength is kept is not known."
	case r.LossOver5 >= sureOfLoss:
		points = 2
	case r.LossOver2p5 >= sureOfLoss:
		points = 1
	}
	return points, fmt.Sprintf("Strength is at %.1f %% of the off-season (90 %% interval %.1f to %.1f); the chance that more than 2.5 %% is lost is %.0f %%, more than 5 %%, %.0f %%.",
		r.Pct.Value, r.Pct.Low90, r.Pct.High90, 100*r.LossOver2p5, 100*r.LossOver5)
}

// steps counts how many of two rising thresholds v has reached.
func steps(v, first, second float64) int {
	switch {
	case v >= second:
		return 2
	case v >= first:
		return 1
	}
	return 0
}

func side(n int, yes, no string) string {
	if n > 0 {
		return yes
	}
	return no
}

// cut takes a share of all sets away, one set at a time, always from the muscle
// with most above its maintenance dose and never more than a third of a muscle.
func (s *Situation) cut(p *Proposal, share float64) {
	var total float64
	room := make([]float64, len(p.Sets))
	for i, m := range p.Sets {
		total += m.Sets
		room[i] = math.Min(m.Sets-s.floor(m), m.Sets/3)
	}
	wanted := math.Round(share * total)
	taken := 0.0
	for taken < wanted {
		most := -1
		for i := range room {
			if room[i] >= 1 && (most < 0 || room[i] > room[most]) {
				most = i
			}
		}
		if most < 0 {
			break
		}
		room[most]--
		p.Sets[most].Sets--
		taken++
	}
	if taken == 0 {
		p.say("Sets are already at the maintenance dose, so none are taken away; rest, food and sleep are the levers left.")
		return
	}
	p.Action, p.CutPct = FewerSets, 100*taken/total
	p.say("Taking %.0f of %.1f weekly hard sets away (%.0f %%) from the muscles with most above maintenance should ease fatigue; keep the load on the bar.",
		taken, total, p.CutPct)
	if taken < wanted {
		p.say("%.0f were wanted; no muscle goes under its maintenance dose or loses more than a third at once.", wanted)
	}
	if len(s.OffSeason) == 0 {
		p.Cautions = append(p.Cautions, "Off-season sets are not known, so the present ones stand in for them; do not repeat such a cut without them.")
	}
}

// floor is the maintenance dose of a muscle, weekly hard sets.
func (s *Situation) floor(now athlete.MuscleSets) float64 {
	reference := now.Sets
	if len(s.OffSeason) > 0 {
		reference = 0
		for _, m := range s.OffSeason {
			if m.Muscle == now.Muscle {
				reference = m.Sets
			}
		}
	}
	share := s.MaintenanceShare
	if share == 0 {
		share = 0.5
	}
	least := leastSetsLarge
	switch now.Muscle {
	case athlete.Biceps, athlete.Triceps, athlete.Calves, athlete.Abdominals:
		least = leastSetsSmall
	}
	return math.Max(least, share*reference)
}
