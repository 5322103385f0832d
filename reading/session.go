package reading

import (
	"math"
	"slices"
)

// Session reads one athlete again and again as logs come in. It gives to the bit
// what Read gives. It keeps the filter's runs and their memory: a run starts
// again at the first day of which the filter sees anything new, which is the
// same arithmetic on the same numbers, and the smoother, for which every day has
// changed, goes over all.
//
// What is learned of the season as a whole reaches back to the first day: the
// usual share of carbohydrate, how a prescription is followed, the scale's
// noise. These are rounded (a per cent, a per cent, a step of noise), in Read as
// here, so that one more day seldom moves them; when it does, a run starts from
// the first day.
//
// The zero value is ready. A Session must not be used from two goroutines at
// once. It holds about 4 kB a day with one series of body-fat readings.
type Session struct {
	Settings Settings // of the next Read

	first, second pass
	before        *filter
}

// Read is the package's Read. The Reading is the caller's own, and in is not
// held on to.
func (s *Session) Read(in Input) (*Reading, error) {
	r, f, err := read(&in, s.Settings, &s.first, &s.second, s.before)
	if f != nil {
		f.forget()
		s.before = f
	}
	return r, err
}

// forget lets go of the logs: what the filter saw of them is in its days.
func (f *filter) forget() {
	f.in, f.pass = nil, nil
	for i := range f.days {
		f.days[i].log = nil
	}
}

// sameDays counts the leading days of which the filter sees what before saw; 0
// where anything before the first day differs.
func (f *filter) sameDays(before *filter) int {
	if before == nil || f.set != before.set || f.prior != before.prior || f.startKg != before.startKg ||
		f.cycle != before.cycle || f.cycleKnown != before.cycleKnown || !slices.Equal(f.seriesOrder, before.seriesOrder) ||
		!slices.Equal(f.mean0, before.mean0) || !slices.Equal(f.cov0, before.cov0) {
		return 0
	}
	same := min(len(f.days), len(before.days))
	for i := range same {
		if !f.days[i].same(&before.days[i]) {
			return i
		}
	}
	return same
}

// same reports whether the filter sees the same in both days.
func (d *day) same(o *day) bool {
	return d.date == o.date && d.input == o.input && d.intakeSD == o.intakeSD && d.jumpSD == o.jumpSD && d.water == o.water &&
		d.waterKg == o.waterKg && (d.weight == o.weight || math.IsNaN(d.weight) && math.IsNaN(o.weight)) &&
		d.cycle == o.cycle && d.weekday == o.weekday && slices.Equal(d.compositions, o.compositions)
}
