package scenario

import (
	"slices"

	"glidepath/athlete"
	"glidepath/civil"
)

// Simulate lives the whole of a spec. The same spec and seed give the same
// season, bit for bit on one machine. It panics as New does.
func Simulate(spec Spec, seed uint64) Season {
	p := New(spec, seed)
	s := Season{Athlete: spec.Athlete}
	for i := range spec.Plan {
		if spec.Plan[i].From <= spec.To {
			s.Prescriptions = append(s.Prescriptions, spec.Plan[i].Prescription(&spec.Athlete, i+1))
		}
	}
	s.Programmes = before(spec.Programmes, spec.To+1, func(p athlete.Programme) civil.Date { return p.From })
	days := max(0, spec.To.DaysSince(spec.From)+1)
	s.Days = make([]athlete.Day, 0, days)
	s.Truth = make([]TruthDay, 0, days)
	for on := spec.From; on <= spec.To; on++ {
		s.add(p.Live(on, inForce(s.Prescriptions, on)))
	}
	return s
}

// inForce is the prescription that stands on a date, nil before the first.
func inForce(ps []athlete.Prescription, on civil.Date) *athlete.Prescription {
	for i := range slices.Backward(ps) {
		if ps[i].From <= on {
			return &ps[i]
		}
	}
	return nil
}

func (s *Season) add(l Lived) {
	if !l.Day.Empty() {
		s.Days = append(s.Days, l.Day)
	}
	s.Measurements = append(s.Measurements, l.Measurements...)
	s.Sets = append(s.Sets, l.Sets...)
	if l.Session != nil {
		s.Sessions = append(s.Sessions, *l.Session)
	}
	s.Truth = append(s.Truth, l.Truth)
}
