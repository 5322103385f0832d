package lab

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// Verdict is a promise and whether it holds. It is judged on the value; the
// interval beside it says how sure that is.
type Verdict struct {
	What   string `json:"what"`
	Wanted string `json:"wanted"`
	Got    string `json:"got"`
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
	Verdicts    []Verdict  `json:"verdicts"`
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
			r.Coverage = append(r.Coverage, t.Coverage(q))
		}
		r.Reliability = t.Reliability(OnTarget)
	}
	r.judge(&t.Cohort.Measuring)
	return r
}

func (r *Report) say(what, wanted, got string, holds bool) {
	r.Verdicts = append(r.Verdicts, Verdict{what, wanted, got, holds})
}

// atLeast judges a share; one of nobody is not judged.
func (r *Report) atLeast(what string, s Share, least float64) {
	if s.Of > 0 {
		r.say(what, fmt.Sprintf("at least %.0f %%", 100*least), s.String(), s.Value >= least)
	}
}

func (r *Report) under(what string, s Share, most float64) {
	if s.Of > 0 {
		r.say(what, fmt.Sprintf("under %.0f %%", 100*most), s.String(), s.Value < most)
	}
}

func (r *Report) judge(m *Measuring) {
	p := r.row(Product)
	if p == nil {
		return
	}
	informed, knows, thumb := r.row(Informed), r.row(Clairvoyant), r.row(Thumb)
	if m.BiasSD == 0 {
		r.atLeast("on target within 1 point, of the feasible", p.On, 0.95)
	} else {
		r.atLeast("on target within 1 point on the method's own scale, of the feasible there", p.OnOwn, 0.95)
		if informed != nil && informed.On.Of > 0 {
			least := 0.9 * informed.On.Value
			r.say("on target within 1 point in truth", fmt.Sprintf("at least %.1f %%: 90 %% of who knows the dynamics", 100*least),
				p.On.String(), p.On.Value >= least)
		}
	}
	r.atLeast("inside the class limit, of the feasible with one", p.Class, 0.95)
	r.atLeast("infeasible, and told so at the appraisal", p.Recall, 0.95)
	r.under("feasible, but told that there is no time", p.False, 0.05)
	if knows != nil && knows.On.Of > 0 {
		most := 1.1 * knows.LeanLostKg
		r.say("lean lost, mean of the feasible", fmt.Sprintf("at most %.2f kg: within 10 %% of who knows the truth", most),
			fmt.Sprintf("%.2f kg", p.LeanLostKg), p.LeanLostKg <= most)
	}
	r.under("weeks beyond the permitted rate by more than a tenth", p.TooFast, 0.02)
	r.say("energy availability planned below the floor", "never",
		fmt.Sprintf("%.0f of %.0f athletes; least %+.2f kcal/kg over it", p.Planned.Hits, p.Planned.Of, p.LeastEA), p.Planned.Hits == 0)
	if thumb != nil && thumb.On.Of > 0 {
		fewer := func(what, unit string, got, than float64) {
			r.say(what, fmt.Sprintf("under %.1f%s: the rule of thumb's", than, unit), fmt.Sprintf("%.1f%s", got, unit), got < than)
		}
		fewer("changes of prescription in a season", "", p.Changes, thumb.Changes)
		fewer("mean size of a change", " kcal", p.ChangeKcal, thumb.ChangeKcal)
		r.say("lowest energy of a season", fmt.Sprintf("over %.0f kcal: the rule of thumb's", thumb.LowestKcal),
			fmt.Sprintf("%.0f kcal", p.LowestKcal), p.LowestKcal > thumb.LowestKcal)
	}
	for _, c := range r.Coverage {
		near := func(what string, s Share, from, to float64) {
			if s.Of > 0 {
				v := math.Round(1000*s.Value) / 10
				r.say(fmt.Sprintf("%s interval of %s holds what came", what, c.What),
					fmt.Sprintf("%.0f to %.0f %%", from, to), s.String(), from <= v && v <= to)
			}
		}
		near("50 %", c.In50, 47, 53)
		near("90 %", c.In90, 87, 93)
	}
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

// Reliability holds the product's chances of something against what came, in
// tenths of the chance said; those never said are left out.
func (t *Trial) Reliability(q Quantity) []Reliable {
	all := t.Outcomes[Product]
	const bins = 10
	said, n := [bins]float64{}, [bins]float64{}
	came := [bins][]tally{}
	for b := range came {
		came[b] = make([]tally, len(all))
	}
	for i := range all {
		for _, k := range all[i].Checks {
			if k.What == q {
				b := min(bins-1, int(k.Chance*bins))
				said[b] += k.Chance
				n[b]++
				came[b][i].count(k.Came)
			}
		}
	}
	var out []Reliable
	for b := range came {
		if n[b] > 0 {
			out = append(out, Reliable{float64(b) / bins, float64(b+1) / bins, said[b] / n[b], clustered(came[b])})
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
