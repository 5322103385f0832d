package cardio

import (
	"fmt"
	"slices"

	"glidepath/athlete"
	"glidepath/fault"
)

// Context is what a mix must fit.
type Context struct {
	Body       Body
	BodyFatPct float64         // for leanness, 2 to 60
	Limits     *athlete.Limits // nil is the defaults for the sex
	StepsBase  float64         // a day, already in the expenditure that is added to
	StepsMax   float64         // a day, what the athlete can keep up
	Kinds      []athlete.CardioKind
	MinutesMax float64 // cardio a week
	// Minutes, where positive, is how much cardio a week there is to be, at the usual
	// pace or, above the cap, the hardest easier one; then MinutesMax does not matter.
	Minutes    float64
	SessionMax int              // minutes, a multiple of 5, 15 to 180; 0 is 60
	Hurt       []athlete.Region // open injuries: nothing that loads them
	Spare      []athlete.Region // nothing that is hard on them
	Week       [7]DayTraining   // the lifting, from Monday
	Fatigue    *FatigueTable    // nil is DefaultFatigue
}

// scale weighs kinds for one athlete as they are now.
type scale struct {
	c        *Context
	leanness float64
	mostMET  float64
	table    FatigueTable
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
	return scale{c, leanness, table.MostMET(leanness), table}, nil
}

// Barred says why joints keep an athlete from a kind, in a sentence; "" where none
// does.
func (t *FatigueTable) Barred(kind athlete.CardioKind, hurt, spare []athlete.Region) string {
	row := t.Row(kind)
	if row == nil {
		return ""
	}
	for _, j := range row.Loads {
		if slices.Contains(hurt, j) {
			return fmt.Sprintf("%s loads the %s, which is hurt; a clinician says when it may come back.", kind, j)
		}
	}
	for _, j := range row.Strains {
		if slices.Contains(spare, j) {
			return fmt.Sprintf("%s is hard on the %s, which is to be spared.", kind, j)
		}
	}
	return ""
}

// weighed is a kind at a pace.
type weighed struct {
	rate    Rate
	peakMET float64
	perKcal Fatigue // without lifting near
}

func (s *scale) weigh(kind athlete.CardioKind, p Pace) (weighed, error) {
	r, err := RateOf(p.bout(kind), s.c.Body.WeightKg)
	if err != nil {
		return weighed{}, err
	}
	peak, err := peakMET(kind, r, s.c.Body.WeightKg)
	return weighed{r, peak, s.table.Of(kind, r.MET, s.leanness, 0)}, err
}

// daySets are the sets of days of a week, as bits from Monday.
const daySets = 1 << 7

// usable is a kind at a pace that may be planned.
type usable struct {
	kind       athlete.CardioKind
	pace       Pace
	kcalPerMin float64
	perKcal    Fatigue
	points     float64 // of perKcal
	// overlap is what a net kcal on each of the days of a set costs together for the
	// lifting near, in points, and least the least of the sets of so many days.
	overlap *[daySets]float64
	least   *[8]float64
}

// usables lists what may be planned of the kinds that the athlete has, in the
// domain's order, and why the others are left out.
func (s *scale) usables() (out []usable, leftOut []string, err error) {
	for _, kind := range athlete.CardioKinds() {
		if !slices.Contains(s.c.Kinds, kind) || kind == athlete.Posing {
			continue
		}
		if why := s.table.Barred(kind, s.c.Hurt, s.c.Spare); why != "" {
			leftOut = append(leftOut, why)
			continue
		}
		overlap, least := s.overlaps(kind)
		easiest, n := 0.0, len(out)
		for _, p := range pacesOf(kind, s.c.Body.WeightKg) {
			w, err := s.weigh(kind, p)
			if err != nil {
				return nil, nil, err
			}
			if easiest == 0 {
				easiest = w.peakMET
			}
			if w.peakMET > s.mostMET || s.c.Minutes > 0 && p.Name == hard {
				continue
			}
			if s.c.Minutes > 0 {
				out = out[:n] // the hardest so far is enough
			}
			out = append(out, usable{kind, p, w.rate.NetKcalPerMin, w.perKcal, w.perKcal.Points(), overlap, least})
		}
		if len(out) == n {
			leftOut = append(leftOut, fmt.Sprintf("%s reaches %.1f MET, above the cap of %.1f at %.1f %% body fat.",
				kind, easiest, s.mostMET, s.c.BodyFatPct))
		}
	}
	return out, leftOut, nil
}

func (s *scale) overlaps(kind athlete.CardioKind) (*[daySets]float64, *[8]float64) {
	var each [7]float64
	for d := range each {
		each[d] = s.table.Overlap * s.table.OverlapSets(kind, &s.c.Week, d)
	}
	var all [daySets]float64
	for set := range all {
		for d, v := range each {
			if set>>d&1 == 1 {
				all[set] += v
			}
		}
	}
	least := each
	slices.Sort(least[:])
	var sums [8]float64
	for i, v := range least {
		sums[i+1] = sums[i] + v
	}
	return &all, &sums
}
