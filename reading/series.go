package reading

import (
	"cmp"
	"slices"

	"glidepath/civil"
)

// recentDays is how long a reading speaks for its series being kept up
// (judgement: with three weeks between appointments, two in ten weeks are sure).
const recentDays = 70

// mainSeries is the series of body-fat readings that a target is meant on, "" of
// none; Posterior.Series says which. That a series was read twice keeps the scale
// from changing to that of a single scan and back.
func mainSeries(all []Composition, asOf civil.Date) string {
	type use struct {
		series    string
		recent    int // readings that are, at most two
		readingSD float64
		last      civil.Date
	}
	var uses []use
	for _, c := range all {
		if c.Date > asOf {
			continue
		}
		i := slices.IndexFunc(uses, func(u use) bool { return u.series == c.Series })
		if i < 0 {
			i = len(uses)
			uses = append(uses, use{series: c.Series})
		}
		u := &uses[i]
		if c.Date > asOf.AddDays(-recentDays) {
			u.recent = min(2, u.recent+1)
		}
		if c.Date >= u.last {
			u.last, u.readingSD = c.Date, c.ReadingSD
		}
	}
	if len(uses) == 0 {
		return ""
	}
	return slices.MinFunc(uses, func(a, b use) int {
		least := 0 // an old series is not chosen for its error
		if a.recent > 0 && b.recent > 0 {
			least = cmp.Compare(a.readingSD, b.readingSD)
		}
		return cmp.Or(-cmp.Compare(a.recent, b.recent), least, -cmp.Compare(a.last, b.last), cmp.Compare(a.series, b.series))
	}).series
}
