package reading

import (
	"math"
	"slices"

	"glidepath/fault"
)

// Read estimates what is so on in.AsOf from everything known by then. It fails
// only on a profile that the published equations cannot take.
func Read(in Input, set Settings) (*Reading, error) {
	once := new(pass) // for both runs: nothing is read again
	r, _, err := read(&in, set, once, once, nil)
	return r, err
}

// read runs the filter with the scale's noise as it is usually, learns the
// athlete's own and runs it again where that differs. before, where given, is
// the filter that left its runs in first and second.
func read(in *Input, set Settings, first, second *pass, before *filter) (*Reading, *filter, error) {
	if in.AsOf.IsZero() {
		return nil, nil, fault.New(fault.Invalid, "a reading needs a date.")
	}
	f, err := newFilter(in, set.withDefaults())
	if err != nil {
		return nil, nil, err
	}
	same := f.sameDays(before)
	first.known, second.known = min(first.known, same), min(second.known, same)
	f.pass = first
	f.run()
	if f.learnNoise() {
		f.pass = second
		f.run()
	}
	r := &Reading{AsOf: in.AsOf, Queries: f.queries}
	r.Daily = f.smooth()
	r.Now = f.posterior()
	r.Adherence = adherence(in)
	r.Evidence = f.evidence()
	r.CannotTell = f.cannotTell(r)
	return r, f, nil
}

// noiseStep is the step in which the logarithm of the noise factor is learned:
// far under what a season of weigh-ins can tell, and wide enough that one more
// seldom moves it (session.go).
const noiseStep = 0.05

// learnNoise sets the factor on the scale's noise from the spread of the
// innovations (their median absolute value, so that slips do not count),
// weighed against the prior of 1 as if that rested on 14 weigh-ins. It reports
// whether the factor moved.
func (f *filter) learnNoise() bool {
	abs := make([]float64, 0, len(f.days))
	for i := range f.pass.seen {
		if s := &f.pass.seen[i]; s.weighIn {
			abs = append(abs, math.Abs(s.innovation)/math.Sqrt(s.variance))
		}
	}
	if len(abs) < 8 {
		return false
	}
	slices.Sort(abs)
	const medianOfNormal = 0.6744897501960817
	seen := abs[len(abs)/2] / medianOfNormal
	weight := float64(len(abs))
	ln := weight / (weight + 14) * math.Log(math.Max(seen, 0.2))
	ln = noiseStep * math.Round(math.Min(math.Log(2.5), math.Max(math.Log(0.5), ln))/noiseStep)
	f.noise = math.Exp(ln)
	return ln != 0
}

func (f *filter) evidence() Evidence {
	var e Evidence
	logged := func(d day) bool { return d.log != nil && !d.log.Empty() }
	if first := slices.IndexFunc(f.days, logged); first >= 0 {
		e.Days = len(f.days) - first
	}
	for i := len(f.days) - 1; i >= 0 && e.LastLog.IsZero(); i-- {
		if logged(f.days[i]) {
			e.LastLog = f.days[i].date
		}
	}
	for i := range f.days {
		d := &f.days[i]
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
