package reading

import (
	"fmt"
	"math"
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
)

// weighIn is a weight on a day, by its index.
type weighIn struct {
	i      int
	weight float64
}

// screen takes the weights that can be used into the track and asks about the
// others. A weight is suspect when it lies far from where its neighbours in time
// are going; the likeliest slip is named: pounds for kilograms, a digit too many
// or too few.
func (f *filter) screen() {
	var all []weighIn
	for i := range f.days {
		if l := f.days[i].log; l != nil && l.WeightKg != nil {
			if st := l.WeightStands; st != nil && !st.Use {
				continue
			}
			all = append(all, weighIn{i, *l.WeightKg})
		}
	}
	var near, wider []weighIn
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
				near = append(near, all[j])
			}
			if abs(j-k) <= 3 {
				wider = append(wider, all[j])
			}
		}
		expected := f.startKg
		switch {
		case len(near) >= 4:
			expected = trend(near, w.i)
		case len(near) == 3:
			expected = middle(near)
		case len(wider) >= 3: // after a gap, the nearest there are
			expected = middle(wider)
		}
		if q, ok := suspect(d.date, w.weight, expected, f.in.Athlete.Units); ok {
			f.queries = append(f.queries, q)
			continue
		}
		d.weight = w.weight
	}
}

// mostWeeklyShare bounds the slope of a trend of few weights: 2 % of weight a
// week is more than is lost or gained for long.
const mostWeeklyShare = 0.02

// trend is where weights in order of time are on day i, by the line through the
// middles of their earlier and later halves (Brown & Mood 1951, from memory),
// which a slip among them does not bend.
func trend(ws []weighIn, i int) float64 {
	half := len(ws) / 2
	early, late := ws[:half], ws[len(ws)-half:]
	from, to := middleDay(early), middleDay(late)
	a, b := middle(early), middle(late)
	most := mostWeeklyShare / 7 * a
	slope := max(-most, min(most, (b-a)/(to-from)))
	return (a+b)/2 + slope*(float64(i)-(from+to)/2)
}

// middle is the median weight.
func middle(ws []weighIn) float64 {
	var room [12]float64
	v := room[:0]
	for _, w := range ws {
		v = append(v, w.weight)
	}
	slices.Sort(v)
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

// middleDay is the median day.
func middleDay(ws []weighIn) float64 { return float64(ws[(len(ws)-1)/2].i+ws[len(ws)/2].i) / 2 }

const dayFormat = "2 January 2006"

func abs(i int) int { return max(i, -i) }

// suspect judges one weight against what its neighbours lead one to expect. 4 %
// off where weight is going is beyond what water does in a few days (common
// practice, no source): six times the scatter of a morning's weight.
func suspect(date civil.Date, weight, expected float64, u athlete.Units) (Query, bool) {
	const far = 0.04
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
