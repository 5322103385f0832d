package lab

import (
	"context"
	"math"
	"slices"
)

// Trial is a cohort lived under several policies.
type Trial struct {
	Cohort   Cohort                   `json:"cohort"`
	Policies []PolicyName             `json:"policies"`
	Ground   []Ground                 `json:"ground"`   // by athlete
	Outcomes map[PolicyName][]Outcome `json:"outcomes"` // each by athlete
}

// Try lives a cohort under each policy. progress, where given, is called as
// seasons are done, out of all there are, from one goroutine at a time. When ctx
// ends it stops with ctx's error.
func (c *Cohort) Try(ctx context.Context, policies []PolicyName, progress func(done, of int)) (*Trial, error) {
	t := &Trial{Cohort: *c, Policies: policies, Outcomes: map[PolicyName][]Outcome{}}
	of, before := c.Athletes*(len(policies)+1), 0
	report := func(done int) {
		if progress != nil {
			progress(before+done, of)
		}
	}
	t.Ground = make([]Ground, c.Athletes)
	err := c.each(ctx, report, func(i int) error {
		s := c.draw(i)
		t.Ground[i] = s.ground(i)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for _, p := range policies {
		before += c.Athletes
		if t.Outcomes[p], err = c.Run(ctx, p, report); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// Row is how a policy did. Means are over the athletes for whom the target was
// feasible; shares are of those, or of what their comment says.
type Row struct {
	Policy     PolicyName `json:"policy"`
	On         Share      `json:"on_target"`            // within a point of the target
	OnEdge     Share      `json:"on_target_borderline"` // the same of the borderline
	OnInTruth  Share      `json:"on_target_in_truth"`   // true body fat within a point, of those for whom that was feasible
	MedianOff  float64    `json:"median_off"`           // points of body fat either way
	Class      Share      `json:"inside_class"`         // of those with a class limit
	LeanLostKg float64    `json:"lean_lost_kg"`         //
	TooFast    Share      `json:"weeks_too_fast"`       // of all weeks of all athletes: beyond the permitted rate by more than a tenth
	TooFast4   Share      `json:"four_weeks_too_fast"`  // the same of the four weeks that end with each
	Beyond     Share      `json:"weeks_beyond"`         // of the same: beyond it at all
	Planned    Share      `json:"planned_below"`        // of all athletes: ever planned below the floor of energy availability
	TrueBelow  Share      `json:"weeks_below"`          // of all weeks: below it by the true body
	LeastEA    float64    `json:"least_over_floor"`     // lowest planned over the floor, kcal/kg
	Changes    float64    `json:"changes"`              // of a season
	ChangeKcal float64    `json:"change_kcal"`          // mean size
	LowestKcal float64    `json:"lowest_kcal"`          // mean of the seasons' lowest
	Recall     Share      `json:"recall"`               // of the infeasible: told that there is or may be no time
	Outright   Share      `json:"told_outright"`        // of the same: told that there is none
	False      Share      `json:"false_alarms"`         // of the feasible: told that there is no time
	Doubted    Share      `json:"doubted"`              // of the same: told that there is or may be none
	EdgeToldNo Share      `json:"borderline_told_no"`   // of the borderline: told that there is no time
}

// within a point of the target is on target.
const within = 1.0

// Row sums a policy up.
func (t *Trial) Row(p PolicyName) Row {
	r := Row{Policy: p, LeastEA: t.least(p)}
	var off []float64
	var n, changes, moved float64
	for i := range t.Outcomes[p] {
		o := &t.Outcomes[p][i]
		if !t.Ground[i].Feasible() {
			continue
		}
		n++
		r.LeanLostKg += o.LeanLost
		r.LowestKcal += o.Lowest
		changes += float64(o.Changes)
		moved += o.Moved
		off = append(off, math.Abs(o.StagePct-o.Target))
	}
	if n > 0 {
		r.LeanLostKg, r.LowestKcal, r.Changes = r.LeanLostKg/n, r.LowestKcal/n, changes/n
		r.MedianOff = median(off)
	}
	if changes > 0 {
		r.ChangeKcal = moved / changes
	}
	r.On = t.share(p, feasible, func(o *Outcome) bool { return o.On(within) })
	r.OnEdge = t.share(p, func(g *Ground, _ *Outcome) bool { return g.Borderline() }, func(o *Outcome) bool { return o.On(within) })
	r.OnInTruth = t.share(p, func(g *Ground, _ *Outcome) bool { return g.TrueFeasible() }, func(o *Outcome) bool { return o.OnInTruth(within) })
	r.Class = t.share(p, func(g *Ground, o *Outcome) bool { return g.Feasible() && o.ClassKg > 0 }, (*Outcome).InsideClass)
	r.Planned = t.share(p, everybody, func(o *Outcome) bool { return o.PlannedOverFloor < -floorSlack })
	r.TooFast = t.weeks(p, func(o *Outcome) int { return o.TooFast })
	r.TooFast4 = t.weeks(p, func(o *Outcome) int { return o.TooFast4 })
	r.Beyond = t.weeks(p, func(o *Outcome) int { return o.Beyond })
	r.TrueBelow = t.weeks(p, func(o *Outcome) int { return o.BelowByTruth })
	t.appraised(p, &r)
	return r
}

// pick chooses athletes.
type pick func(g *Ground, o *Outcome) bool

func everybody(*Ground, *Outcome) bool    { return true }
func feasible(g *Ground, _ *Outcome) bool { return g.Feasible() }

// share is how many of the athletes picked are ok.
func (t *Trial) share(p PolicyName, of pick, ok func(*Outcome) bool) Share {
	var hits, n float64
	for i := range t.Outcomes[p] {
		o := &t.Outcomes[p][i]
		if !of(&t.Ground[i], o) {
			continue
		}
		n++
		if ok(o) {
			hits++
		}
	}
	return Wilson(hits, n)
}

// weeks is a share of all weeks of all athletes.
func (t *Trial) weeks(p PolicyName, count func(*Outcome) int) Share {
	all := make([]tally, len(t.Outcomes[p]))
	for i := range all {
		o := &t.Outcomes[p][i]
		all[i] = tally{float64(count(o)), float64(o.Weeks)}
	}
	return clustered(all)
}

func (t *Trial) appraised(p PolicyName, r *Row) {
	asked := func(o *Outcome) bool { return o.Told.Asked }
	no := func(o *Outcome) bool { return o.Told.NoTime }
	doubt := func(o *Outcome) bool { return o.Told.Doubt }
	infeasible := func(g *Ground, o *Outcome) bool { return asked(o) && g.Infeasible() }
	feasible := func(g *Ground, o *Outcome) bool { return asked(o) && g.Feasible() }
	r.Recall, r.Outright = t.share(p, infeasible, doubt), t.share(p, infeasible, no)
	r.False, r.Doubted = t.share(p, feasible, no), t.share(p, feasible, doubt)
	r.EdgeToldNo = t.share(p, func(g *Ground, o *Outcome) bool { return asked(o) && g.Borderline() }, no)
}

// least is the lowest planned energy availability over its floor.
func (t *Trial) least(p PolicyName) float64 {
	lowest := 0.0
	for i := range t.Outcomes[p] {
		if v := t.Outcomes[p][i].PlannedOverFloor; i == 0 || v < lowest {
			lowest = v
		}
	}
	return lowest
}

// median of values, which it sorts; 0 of none.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	slices.Sort(v)
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}
