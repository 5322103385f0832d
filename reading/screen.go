package reading

import (
	"fmt"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
)

// screen takes the weights that can be used into the track and asks about the
// others. A weight is suspect when it lies far from the middle of its
// neighbours in time; the likeliest slip is named: pounds for kilograms, a
// digit too many or too few.
func (f *filter) screen() {
	type weighIn struct {
		i      int
		weight float64
	}
	var all []weighIn
	for i := range f.days {
		if l := f.days[i].log; l != nil && l.WeightKg != nil {
			if st := l.WeightStands; st != nil && !st.Use {
				continue
			}
			all = append(all, weighIn{i, *l.WeightKg})
		}
	}
	var near, wider []float64
	for k, w := range all {
		d := &f.days[w.i]
		if st := d.log.WeightStands; st != nil && st.Use {
			d.weight = w.weight
			continue
		}
		near, wider = near[:0], wider[:0]
		for j := max(0, k-6); j < min(len(all), k+7); j++ {
			if j == k {
				continue
			}
			if abs(all[j].i-w.i) <= 30 {
				near = append(near, all[j].weight)
			}
			if abs(j-k) <= 3 {
				wider = append(wider, all[j].weight)
			}
		}
		expected := f.startKg
		around := near
		if len(around) < 3 {
			around = wider // after a gap, the nearest there are
		}
		if len(around) >= 3 {
			slices.Sort(around)
			expected = around[len(around)/2]
		}
		if q, ok := suspect(d.date, w.weight, expected, f.in.Athlete.Units); ok {
			f.queries = append(f.queries, q)
			continue
		}
		d.weight = w.weight
	}
}

const dayFormat = "2 January 2006"

func abs(i int) int { return max(i, -i) }

// suspect judges one weight against what its neighbours lead one to expect.
// 5 % in a few days is beyond what water does (common practice, no source).
func suspect(date civil.Date, weight, expected float64, u athlete.Units) (Query, bool) {
	const far = 0.05
	off := func(v float64) float64 { return math.Abs(v/expected - 1) }
	if off(weight) <= far {
		return Query{}, false
	}
	q := Query{Date: date, WeightKg: weight, Expected: expected}
	for _, slip := range []struct {
		meant float64
		why   string
	}{
		{weight * athlete.KgPerPound, "it looks like pounds entered as kilograms"},
		{weight / athlete.KgPerPound, "it looks like kilograms entered as pounds"},
		{weight / 10, "it looks ten times too large, as if a decimal point were missing"},
		{weight * 10, "it looks ten times too small"},
		{weight / 100, "it looks a hundred times too large, as if a decimal point were missing"},
	} {
		if off(slip.meant) <= far {
			q.Instead = new(math.Round(slip.meant*10) / 10)
			q.Reason = fmt.Sprintf("%s on %s does not fit the days around it (about %s): %s, %s.",
				u.Weight(weight), date.Format(dayFormat), u.Weight(expected), slip.why, u.Weight(*q.Instead))
			return q, true
		}
	}
	q.Reason = fmt.Sprintf("%s on %s does not fit the days around it (about %s); is it right?",
		u.Weight(weight), date.Format(dayFormat), u.Weight(expected))
	return q, true
}
