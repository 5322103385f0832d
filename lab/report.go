package lab

import (
	"fmt"
	"math/rand/v2"
)

// Verdict is a promise and whether it holds. It is judged on the value; the
// interval beside it says how sure that is.
type Verdict struct {
	What   string `json:"what"`
	Wanted string `json:"wanted"`
	Whose  string `json:"whose,omitempty"` // where the bound is another policy's
	Got    string `json:"got"`
	Brief  string `json:"brief"` // got, without the interval; in brackets another policy's bound
	Holds  bool   `json:"holds"`
}

// Coverage is how often the intervals of a quantity held what came.
type Coverage struct {
	What   Quantity `json:"what"`
	In50   Share    `json:"in_50"`
	In90   Share    `json:"in_90"`
	Bias   float64  `json:"bias"`    // mean of what came less the forecast's centre
	Ranks  []int    `json:"ranks"`   // histogram, one review of each athlete
	Even   float64  `json:"p_even"`  // probability of ranks as uneven by chance
	Checks int      `json:"reviews"` // held against what came
}

// Reliable is what came of the chances said between two ends.
type Reliable struct {
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Said float64 `json:"said"` // mean
	Came Share   `json:"came"`
}

// Report is what a trial says.
type Report struct {
	Athletes   int        `json:"athletes"`
	Feasible   int        `json:"feasible"`
	Borderline int        `json:"borderline"`
	Rows       []Row      `json:"rows"`
	Coverage   []Coverage `json:"coverage,omitempty"`
	// Reliability is of the product's chance to be on target.
	Reliability []Reliable `json:"reliability,omitempty"`
	// TimeReliability is of its chance, at the appraisal, that there is time.
	TimeReliability []Reliable `json:"time_reliability,omitempty"`
	Verdicts        []Verdict  `json:"verdicts"`
}

// Holds reports whether every promise that could be judged holds.
func (r *Report) Holds() bool {
	for _, v := range r.Verdicts {
		if !v.Holds {
			return false
		}
	}
	return true
}

func (r *Report) row(p PolicyName) *Row {
	for i := range r.Rows {
		if r.Rows[i].Policy == p {
			return &r.Rows[i]
		}
	}
	return nil
}

// Report sums a trial up and judges what is promised.
func (t *Trial) Report() *Report {
	r := &Report{Athletes: t.Cohort.Athletes}
	for i := range t.Ground {
		if t.Ground[i].Feasible() {
			r.Feasible++
		}
		if t.Ground[i].Borderline() {
			r.Borderline++
		}
	}
	for _, p := range t.Policies {
		r.Rows = append(r.Rows, t.Row(p))
	}
	if t.Cohort.CheckIntervals && r.row(Product) != nil {
		for _, q := range Quantities() {
			if c := t.Coverage(q); c.Checks > 0 {
				r.Coverage = append(r.Coverage, c)
			}
		}
		r.Reliability = t.Reliability(OnTarget)
	}
	if r.row(Product) != nil {
		r.TimeReliability = t.TimeReliability()
	}
	r.judge(&t.Cohort.Measuring)
	return r
}

func (r *Report) say(v Verdict) { r.Verdicts = append(r.Verdicts, v) }

// share judges a share; one of nobody is not judged.
func (r *Report) share(what, wanted string, s Share, holds func(v float64) bool) {
	if s.Of > 0 {
		r.say(Verdict{
			What: what, Wanted: wanted, Got: s.String(), Brief: fmt.Sprintf("%.1f %%", 100*s.Value), Holds: holds(s.Value),
		})
	}
}

func (r *Report) mostly(what string, s Share) {
	r.share(what, fmt.Sprintf("at least %.0f %%", 100*mostly), s, func(v float64) bool { return v >= mostly })
}

func (r *Report) under(what string, s Share, most float64) {
	r.share(what, fmt.Sprintf("under %.0f %%", 100*most), s, func(v float64) bool { return v < most })
}

// Must-holds of the product.
const (
	mostly       = 0.95 // on target, inside the class, told of the infeasible: at least
	falseAlarms  = 0.05
	ofInformed   = 0.9 // true accuracy by a biased method, of who knows the dynamics
	ofLeanLost   = 1.1 // lean lost, of who knows the truth
	tooFastWeeks = 0.02
)

func (r *Report) judge(m *Measuring) {
	p := r.row(Product)
	if p == nil {
		return
	}
	r.mostly("on target within 1 point, of the feasible", p.On)
	if informed := r.row(Informed); m.BiasSD > 0 && informed != nil && informed.OnInTruth.Of > 0 {
		got, least := p.OnInTruth, ofInformed*informed.OnInTruth.Value
		r.say(Verdict{
			What:   "true body fat within 1 point of the target, where that was feasible",
			Wanted: fmt.Sprintf("at least %.1f %%", 100*least), Whose: "90 % of who knows the dynamics",
			Got: got.String(), Brief: fmt.Sprintf("%.1f %% (%.1f)", 100*got.Value, 100*least), Holds: got.Value >= least,
		})
	}
	r.mostly("inside the class limit, of the feasible with one", p.Class)
	r.mostly("infeasible, and told so at the appraisal", p.Recall)
	r.under("feasible, but told that there is no time", p.False, falseAlarms)
	r.judgeHardship(p)
	for i := range r.Coverage {
		r.judgeCoverage(&r.Coverage[i])
	}
}

// judgeHardship judges what the seasons cost the athletes.
func (r *Report) judgeHardship(p *Row) {
	if knows := r.row(Clairvoyant); knows != nil && knows.On.Of > 0 {
		most := ofLeanLost * knows.LeanLostKg
		r.say(Verdict{
			What: "lean lost, mean of the feasible", Wanted: fmt.Sprintf("at most %.2f kg", most), Whose: "110 % of who knows the truth",
			Got: fmt.Sprintf("%.2f kg", p.LeanLostKg), Brief: fmt.Sprintf("%.2f kg (%.2f)", p.LeanLostKg, most), Holds: p.LeanLostKg <= most,
		})
	}
	r.under("four weeks beyond the permitted rate by more than a tenth", p.TooFast4, tooFastWeeks)
	r.under("single weeks beyond it by more than a tenth", p.TooFast, tooFastWeeks)
	r.say(Verdict{
		What: "energy availability planned below the floor", Wanted: "never",
		Got:   fmt.Sprintf("%.0f of %.0f athletes; least %+.2f kcal/kg over it", p.Planned.Hits, p.Planned.Of, p.LeastEA),
		Brief: fmt.Sprintf("%.0f of %.0f", p.Planned.Hits, p.Planned.Of), Holds: p.Planned.Hits == 0,
	})
	thumb := r.row(Thumb)
	if thumb == nil || thumb.On.Of == 0 {
		return
	}
	against := func(what, word, format string, got, bound float64, holds bool) {
		r.say(Verdict{
			What: what, Wanted: word + " " + fmt.Sprintf(format, bound), Whose: "the rule of thumb's",
			Got: fmt.Sprintf(format, got), Brief: fmt.Sprintf(format+" (%.0f)", got, bound), Holds: holds,
		})
	}
	against("changes of prescription in a season", "under", "%.1f", p.Changes, thumb.Changes, p.Changes < thumb.Changes)
	against("mean size of a change", "under", "%.0f kcal", p.ChangeKcal, thumb.ChangeKcal, p.ChangeKcal < thumb.ChangeKcal)
	against("lowest energy of a season", "over", "%.0f kcal", p.LowestKcal, thumb.LowestKcal, p.LowestKcal > thumb.LowestKcal)
}

func (r *Report) judgeCoverage(c *Coverage) {
	near := func(level string, s Share, from, to float64) {
		r.share(fmt.Sprintf("%s interval of %s holds what came", level, c.What), fmt.Sprintf("%.0f to %.0f %%", 100*from, 100*to), s,
			func(v float64) bool { return from <= v && v <= to })
	}
	near("50 %", c.In50, 0.47, 0.53)
	near("90 %", c.In90, 0.87, 0.93)
}

// rankBins of a histogram.
const rankBins = 10

// Coverage holds the product's intervals of a quantity against what came.
func (t *Trial) Coverage(q Quantity) Coverage {
	c := Coverage{What: q}
	all := t.Outcomes[Product]
	in50, in90 := make([]tally, len(all)), make([]tally, len(all))
	var ranks []float64
	for i := range all {
		var own []Check
		for _, k := range all[i].Checks {
			if k.What == q {
				own = append(own, k)
			}
		}
		for _, k := range own {
			in50[i].count(k.In50)
			in90[i].count(k.In90)
			c.Bias += k.Off
			c.Checks++
		}
		if len(own) > 0 {
			ranks = append(ranks, own[t.lot(i, len(own))].Rank)
		}
	}
	if c.Checks > 0 {
		c.Bias /= float64(c.Checks)
	}
	c.In50, c.In90 = clustered(in50), clustered(in90)
	c.Ranks = Histogram(ranks, rankBins)
	c.Even = ChiSquared(c.Ranks)
	return c
}

// Reliability holds the product's chances of something against what came.
func (t *Trial) Reliability(q Quantity) []Reliable {
	b := newTenths(len(t.Outcomes[Product]))
	for i := range t.Outcomes[Product] {
		for _, k := range t.Outcomes[Product][i].Checks {
			if k.What == q {
				b.add(i, k.Chance, k.Came)
			}
		}
	}
	return b.list()
}

// TimeReliability holds the chance of enough time that the product said at the
// appraisal against whether the tolerance could be reached in truth.
func (t *Trial) TimeReliability() []Reliable {
	b := newTenths(len(t.Outcomes[Product]))
	for i := range t.Outcomes[Product] {
		if told := &t.Outcomes[Product][i].Told; told.Asked {
			b.add(i, told.Chance, !t.Ground[i].Infeasible())
		}
	}
	return b.list()
}

const reliabilityBins = 10

// tenths counts by the tenth of the chance said.
type tenths struct {
	said, n [reliabilityBins]float64
	came    [reliabilityBins][]tally // by athlete
}

func newTenths(athletes int) *tenths {
	r := &tenths{}
	for b := range r.came {
		r.came[b] = make([]tally, athletes)
	}
	return r
}

func (r *tenths) add(athlete int, chance float64, came bool) {
	b := min(reliabilityBins-1, int(chance*reliabilityBins))
	r.said[b] += chance
	r.n[b]++
	r.came[b][athlete].count(came)
}

// list leaves out the tenths never said.
func (r *tenths) list() []Reliable {
	var out []Reliable
	for b := range r.came {
		if r.n[b] > 0 {
			out = append(out, Reliable{
				float64(b) / reliabilityBins, float64(b+1) / reliabilityBins, r.said[b] / r.n[b], clustered(r.came[b]),
			})
		}
	}
	return out
}

func (t *tally) count(hit bool) {
	t.of++
	if hit {
		t.hits++
	}
}

// lot picks one of n reviews of an athlete, so that what it says is independent
// of the other athletes' and of any choice of ours.
func (t *Trial) lot(athlete, n int) int {
	return rand.New(rand.NewPCG(t.Cohort.Seed, uint64(athlete))).IntN(n)
}
