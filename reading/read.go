package reading

import (
	"math"
	"slices"

	"glidepath/fault"
)

// Read estimates what is so on in.AsOf from everything known by then. It fails
// only on a profile that the published equations cannot take.
func Read(in Input, set Settings) (*Reading, error) {
	if in.AsOf.IsZero() {
		return nil, fault.New(fault.Invalid, "a reading needs a date.")
	}
	f, err := newFilter(&in, set.withDefaults())
	if err != nil {
		return nil, err
	}
	f.run()
	if f.learnNoise() {
		f.run()
	}
	r := &Reading{AsOf: in.AsOf, Queries: f.queries}
	r.Daily = f.smooth()
	r.Now = f.posterior()
	r.Adherence = adherence(&in)
	r.Evidence = f.evidence()
	r.CannotTell = f.cannotTell(r)
	return r, nil
}

// learnNoise sets the factor on the scale's noise from the spread of the
// innovations (their median absolute value, so that slips do not count),
// weighed against the prior of 1 as if that rested on 14 weigh-ins. It reports
// whether the factor moved enough to matter.
func (f *filter) learnNoise() bool {
	if len(f.innovations) < 8 {
		return false
	}
	abs := make([]float64, len(f.innovations))
	for i, v := range f.innovations {
		abs[i] = math.Abs(v)
	}
	slices.Sort(abs)
	const medianOfNormal = 0.6744897501960817
	seen := abs[len(abs)/2] / medianOfNormal
	weight := float64(len(abs))
	factor := math.Exp(weight / (weight + 14) * math.Log(math.Max(seen, 0.2)))
	f.noise *= math.Min(2.5, math.Max(0.5, factor))
	return math.Abs(factor-1) > 0.05
}

func (f *filter) evidence() Evidence {
	var e Evidence
	for i := range f.days {
		d := &f.days[i]
		if d.log != nil && !d.log.Empty() {
			e.LastLog = d.date
			if e.Days == 0 {
				e.Days = len(f.days) - i
			}
		}
		ago := len(f.days) - 1 - i
		if !math.IsNaN(d.weight) {
			e.WeightsTotal++
			if ago < 14 {
				e.Weights14++
			}
			if ago < 7 {
				e.Weights7++
			}
		}
		if d.reported {
			e.IntakeTotal++
			if ago < 14 {
				e.Intake14++
			}
		}
		if len(d.compositions) > 0 {
			e.Compositions += len(d.compositions)
			e.LastMeasured = d.date
		}
	}
	return e
}

// adherence compares the last four weeks' reports with what stood prescribed.
func adherence(in *Input) Adherence {
	a := Adherence{MeanRatio: 1}
	var ratios []float64
	var steps, stepsAsked, cardio, cardioAsked float64
	logged := 0
	for i := range in.Days {
		d := &in.Days[i]
		if d.Date > in.AsOf || d.Date <= in.AsOf.AddDays(-28) {
			continue
		}
		p := prescribed(in.Prescriptions, d.Date)
		if p == nil {
			continue
		}
		if d.EnergyKcal != nil && p.MeanEnergyKcal() > 0 {
			asked := p.MeanEnergyKcal()
			if t := p.For(d.DayType); t != nil {
				asked = t.EnergyKcal
			}
			ratios = append(ratios, *d.EnergyKcal/asked)
		}
		if d.Steps != nil && p.Steps > 0 {
			steps += *d.Steps
			stepsAsked += p.Steps
		}
		if !d.Empty() {
			logged++
			cardio += d.CardioMinutes()
			cardioAsked += p.CardioMinutes() / 7
		}
	}
	if stepsAsked > 0 {
		a.StepsRatio = steps / stepsAsked
	}
	if logged >= 7 && cardioAsked > 0 {
		a.CardioMean = cardio / cardioAsked
	}
	a.Days = len(ratios)
	if a.Days == 0 {
		return a
	}
	a.MeanRatio = mean(ratios)
	if a.Days > 1 {
		for _, r := range ratios {
			a.SDRatio += sq(r - a.MeanRatio)
		}
		a.SDRatio = math.Sqrt(a.SDRatio / float64(a.Days-1))
	}
	a.SERatio = math.Max(a.SDRatio, 0.05) / math.Sqrt(float64(a.Days))
	return a
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
