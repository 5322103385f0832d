package scenario

import (
	"math"

	"glidepath/athlete"
	"glidepath/civil"
)

// tester measures body composition with the faults of the method: a bias that
// stays with the method and the hands, and an error of the occasion.
type tester struct {
	purpose func(string) stream
	series  map[string]*hands
}

// hands are one method in one pair of hands.
type hands struct {
	bias  float64 // points of body fat
	noise stream
}

// newTester knows the biases that are given; the others are drawn.
func newTester(appointments []Appointment, purpose func(string) stream) tester {
	t := tester{purpose: purpose, series: map[string]*hands{}}
	for _, a := range appointments {
		if a.BiasPct != nil {
			m := athlete.Measurement{Method: a.Method, By: a.By}
			t.by(m.Series(), 0).bias = *a.BiasPct
		}
	}
	return t
}

// by gives the hands of a series, with the bias that they keep.
func (t *tester) by(series string, lasting float64) *hands {
	h := t.series[series]
	if h == nil {
		h = &hands{noise: t.purpose("measuring, " + series)}
		h.bias = h.noise.normal(0, lasting, -2*lasting, 2*lasting)
		t.series[series] = h
	}
	return h
}

// faults are the SD of a method's lasting bias and of its occasion, points of
// body fat (judgement, within the published errors: about 3.5 points for a
// single reading of skinfolds and tape, 1.8 for a change by skinfolds).
func faults(m athlete.Method) (lasting, occasion float64) {
	switch m {
	case athlete.Calipers3, athlete.Calipers4, athlete.Calipers7:
		return 2.2, 0.9
	case athlete.Tape:
		return 3, 1.4
	case athlete.Scan:
		return 1.5, 0.6
	case athlete.Pod:
		return 2, 1
	case athlete.Scale:
		return 3, 1.5
	}
	return 2, 1.3 // the eye
}

// Measure is a measurement on the morning of the day that Live expects next.
func (p *Person) Measure(method athlete.Method, by string) athlete.Measurement {
	truth := p.morning(p.next)
	return p.tester.measure(p.next, method, by, &p.spec.Athlete, &truth)
}

// appointments are the measurements due on a date.
func (p *Person) appointments(on civil.Date) []athlete.Measurement {
	var due []athlete.Measurement
	for _, a := range p.spec.Measurements {
		since := on.DaysSince(a.First)
		if since == 0 || since > 0 && a.EveryDays > 0 && since%a.EveryDays == 0 {
			truth := p.morning(on)
			due = append(due, p.tester.measure(on, a.Method, a.By, &p.spec.Athlete, &truth))
		}
	}
	return due
}

func (t *tester) measure(on civil.Date, method athlete.Method, by string, a *athlete.Athlete, truth *TruthDay) athlete.Measurement {
	m := athlete.Measurement{Date: on, Method: method, By: by}
	lasting, occasion := faults(method)
	h := t.by(m.Series(), lasting)
	kg := truth.WeightKg + truth.WaterKg
	pct := clamp(100*truth.FatKg/kg+h.bias+h.noise.normal(0, occasion, -3*occasion, 3*occasion), 2.5, 55)
	m.WeightKg = new(roundTo(kg, 0.1))
	switch method {
	case athlete.Calipers7:
		m.FoldsMm = folds(pct, a, on)
		m.BodyFatPct = new(roundTo(pct, 0.1))
	case athlete.Eye:
		m.BodyFatPct = new(roundTo(pct, 0.5))
	default:
		m.BodyFatPct = new(roundTo(pct, 0.1))
	}
	return m
}

// foldPattern is how the sum of seven folds falls on the sites (judgement).
var foldPattern = map[athlete.Sex]map[string]float64{
	athlete.Male: {
		"chest": 0.09, "axilla": 0.12, "triceps": 0.12, "subscapular": 0.17,
		"abdomen": 0.22, "suprailium": 0.14, "thigh": 0.14,
	},
	athlete.Female: {
		"chest": 0.08, "axilla": 0.10, "triceps": 0.18, "subscapular": 0.12,
		"abdomen": 0.16, "suprailium": 0.12, "thigh": 0.24,
	},
}

// folds are the seven folds that the equations of Jackson & Pollock (1978, Br J
// Nutr 40:497) and Jackson, Pollock & Ward (1980, Med Sci Sports Exerc 12:175)
// with Siri's turn into a given body fat, to half a millimetre.
func folds(pct float64, a *athlete.Athlete, on civil.Date) map[string]float64 {
	age := float64(a.BirthDate.YearsUntil(on))
	c0, c1, c2 := 1.112-0.00028826*age, 0.00043499, 0.00000055
	if a.Sex == athlete.Female {
		c0, c1, c2 = 1.0970-0.00012828*age, 0.00046971, 0.00000056
	}
	density := 495 / (pct + 450)
	root := math.Sqrt(math.Max(0, c1*c1-4*c2*(c0-density)))
	sum := math.Max(21, (c1-root)/(2*c2))
	out := make(map[string]float64, 7)
	for site, share := range foldPattern[a.Sex] {
		out[site] = math.Max(2, roundTo(sum*share, 0.5))
	}
	return out
}
