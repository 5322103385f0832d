package training_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/training"
)

// diarist writes markers from a hidden state that is known: an invented athlete.
type diarist struct {
	r         *rand.Rand
	weeks     int     // of the diet, after eight usual ones
	fall      float64 // of the state over the diet
	missing   float64 // share of what could be logged
	everyday  bool    // all seven markers are logged; else some are
	days      []athlete.Day
	truth     []float64 // of each day, about the mean of the usual weeks
	usual     training.Usual
	lastWeek  float64
	midDiet   int // a week somewhere in the diet, counted from the beginning
	midWeekIs float64
}

// marker of the simulation: the middle, spread and scatter are those of ordinary
// logs on a scale of 1 to 10, each athlete's own drawn about them.
type simMarker struct {
	middle, spread, scatter, tells, better, drift, step, low, high float64
	to                                                             func(*athlete.Day) **float64
}

var simMarkers = []simMarker{
	{4, 1.2, 1.2, 0.65, -1, 0.1, 1, 1, 10, func(d *athlete.Day) **float64 { return &d.Fatigue }},
	{7.2, 0.7, 0.9, 0.4, 1, 0.1, 0.25, 2, 12, func(d *athlete.Day) **float64 { return &d.SleepH }},
	{4, 1.2, 1.4, 0.45, -1, 0.1, 1, 1, 10, func(d *athlete.Day) **float64 { return &d.Soreness }},
	{7, 1, 1.2, 0.55, 1, 0.1, 1, 1, 10, func(d *athlete.Day) **float64 { return &d.Motivation }},
	{7, 1, 1.1, 0.5, 1, 0.1, 1, 1, 10, func(d *athlete.Day) **float64 { return &d.Mood }},
	{58, 7, 3, 0.25, -1, 0.5, 1, 30, 100, func(d *athlete.Day) **float64 { return &d.RestingPulse }},
	{4, 1.2, 1.3, 0.2, -1, 0.4, 1, 1, 10, func(d *athlete.Day) **float64 { return &d.Hunger }},
}

func (d *diarist) live() {
	const usualDays = 56
	r := d.r
	n := usualDays + 7*d.weeks
	lasts := math.Exp(r.Float64()*math.Log(7.0/2)) * 2 // 2 to 7 days
	keeps := math.Exp(-1 / lasts)
	rate := 0.1 + 0.5*r.Float64()
	passing, slow, usual := r.NormFloat64(), 0.0, 0.0
	for t := range n {
		passing = keeps*passing + math.Sqrt(1-keeps*keeps)*r.NormFloat64()
		slow += rate / math.Sqrt(7) * r.NormFloat64()
		if t >= usualDays {
			slow -= d.fall / float64(7*d.weeks)
		}
		d.truth = append(d.truth, passing+slow)
		if t < usualDays {
			usual += d.truth[t] / usualDays
		}
		d.days = append(d.days, athlete.Day{Date: start.AddDays(t)})
	}
	for t := range d.truth {
		d.truth[t] -= usual
	}
	for i := range simMarkers {
		if d.everyday || i < 2 || r.IntN(2) == 0 {
			d.write(&simMarkers[i], usual)
		}
	}
	d.usual = training.Usual{From: start, To: start.AddDays(usualDays - 1), OffSeason: true}
	d.midDiet = 8 + r.IntN(d.weeks)
	for t := range 7 {
		d.lastWeek += d.truth[n-7+t] / 7
		d.midWeekIs += d.truth[7*d.midDiet+t] / 7
	}
}

func (d *diarist) write(m *simMarker, usual float64) {
	r := d.r
	scatter := m.scatter * math.Exp(0.25*r.NormFloat64())
	tells := math.Min(0.85, m.tells*math.Exp(0.2*r.NormFloat64()))
	base := m.middle + m.spread*r.NormFloat64()
	for t := range d.days {
		base += m.drift * scatter / math.Sqrt(7) * r.NormFloat64()
		z := m.better*tells*(d.truth[t]+usual) + math.Sqrt(1-tells*tells)*r.NormFloat64()
		v := math.Max(m.low, math.Min(m.high, math.Round((base+scatter*z)/m.step)*m.step))
		if r.Float64() >= d.missing {
			*m.to(&d.days[t]) = &v
		}
	}
}

func (d *diarist) asOf() civil.Date { return d.days[len(d.days)-1].Date }

// Of simulated athletes with 30 to 70 % of their markers missing the 90 % intervals
// hold the hidden state as often as they say, in the last week and in the midst of
// the diet. The loadings, scatters, drifts and rates are each athlete's own, which
// the model does not know; answers are whole points between 1 and 10.
func TestRecoveryCoverage(t *testing.T) {
	for _, missing := range []float64{0.3, 0.5, 0.7} {
		r := rand.New(rand.NewPCG(5, uint64(100*missing)))
		const athletes = 400
		var last, middle, half, bias, width float64
		for range athletes {
			d := &diarist{r: r, weeks: 14, fall: 3.5 * r.Float64(), missing: missing}
			d.live()
			got := training.Recovery(d.days, d.usual, d.asOf())
			w := got.Weeks[d.midDiet].State
			last += holds(got.Week.Low90, d.lastWeek, got.Week.High90) / athletes
			half += holds(got.Week.Low50, d.lastWeek, got.Week.High50) / athletes
			middle += holds(w.Low90, d.midWeekIs, w.High90) / athletes
			bias += (got.Week.Value - d.lastWeek) / athletes
			width += got.Week.SD() / athletes
		}
		t.Logf("%.0f %% missing: 90 %% held %.3f (last week), %.3f (in the diet), 50 %% held %.3f; mean error %+.2f, SD %.2f",
			100*missing, last, middle, half, bias, width)
		if last < 0.87 || last > 0.93 || middle < 0.87 || middle > 0.93 {
			t.Errorf("%.0f %% missing: 90 %% intervals held %.3f and %.3f", 100*missing, last, middle)
		}
	}
}

func holds(low, v, high float64) float64 {
	if low <= v && v <= high {
		return 1
	}
	return 0
}

// The chance that recovery is short is an honest one, and a real fall is found: of
// athletes who are called short with a chance of 80 % or more hardly any is not, and
// of those whose last week stands well below usual most are called so, and those who
// are about as usual are left alone. How far the chances are off is logged.
func TestRecoveryFindsAFall(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	const athletes = 600
	var called, wrongly, deep, found, fine, left float64
	var promised, came [5]float64
	for range athletes {
		d := &diarist{r: r, weeks: 12, fall: 4 * r.Float64(), missing: 0.5}
		d.live()
		p := training.Recovery(d.days, d.usual, d.asOf()).Short
		short := holds(math.Inf(-1), d.lastWeek, training.ShortRecovery)
		bin := min(4, int(5*p))
		promised[bin] += p - short
		came[bin]++
		if p >= 0.8 {
			called++
			wrongly += 1 - short
		}
		if d.lastWeek < -3 {
			deep++
			found += holds(0.8, p, 1)
		}
		if d.lastWeek > -0.5 {
			fine++
			left += holds(0, p, 0.5)
		}
	}
	t.Logf("called short %.0f, of them wrongly %.3f; of %.0f below -3 found %.3f; of %.0f above -0.5 left alone %.3f",
		called, wrongly/called, deep, found/deep, fine, left/fine)
	for i := range came {
		t.Logf("chance %.1f to %.1f: %.0f times, promised over what came %+.3f", float64(i)/5, float64(i+1)/5, came[i], promised[i]/came[i])
	}
	if wrongly/called > 0.1 || found/deep < 0.8 || left/fine < 0.97 {
		t.Errorf("wrongly called %.3f, found %.3f, left alone %.3f", wrongly/called, found/deep, left/fine)
	}
}

// steady is somebody who logs the same each day, with a little scatter.
func steady(days int) []athlete.Day {
	r := rand.New(rand.NewPCG(3, 9))
	var out []athlete.Day
	for t := range days {
		out = append(out, athlete.Day{
			Date: start.AddDays(t), SleepH: new(7.5 + 0.5*r.NormFloat64()), Fatigue: new(3 + r.NormFloat64()), Mood: new(7 + 0.8*r.NormFloat64()),
		})
	}
	return out
}

func offSeason(days int) training.Usual {
	return training.Usual{From: start, To: start.AddDays(days - 1), OffSeason: true}
}

// What is not logged is not known: the interval is wide without a log, and widens
// while none is kept.
func TestRecoveryIsWideWhereNothingIsLogged(t *testing.T) {
	none := training.Recovery(nil, training.Usual{From: start, To: start.AddDays(27)}, start.AddDays(27))
	if none.Told() || none.Week.Low90 > -1 || none.Week.High90 < 1 || none.Short > 0.2 || len(none.Markers) > 0 || len(none.Cannot) == 0 {
		t.Errorf("nothing logged: %+v", none)
	}
	days := steady(70)
	width := 0.0
	for _, silent := range []int{0, 7, 28, 84} {
		got := training.Recovery(days, offSeason(56), days[69].Date.AddDays(silent))
		if got.Week.SD() <= width || silent >= 28 && got.Told() {
			t.Errorf("after %d silent days the SD is %.2f, before %.2f", silent, got.Week.SD(), width)
		}
		width = got.Week.SD()
	}
}

// The effects of the markers sum to the state; what is told names the week's mean and
// what is usual.
func TestRecoverySaysWhatLowersIt(t *testing.T) {
	days := steady(77)
	for i := range days[63:] {
		days[63+i].SleepH, days[63+i].Fatigue = new(5.5), new(7.0)
	}
	got := training.Recovery(days, offSeason(56), days[76].Date)
	var sum float64
	words := ""
	for _, m := range got.Markers {
		sum += m.Effect
		words += m.Words + " "
	}
	if math.Abs(sum-got.Week.Value) > 1e-9 {
		t.Errorf("effects sum to %v, the state is %v", sum, got.Week.Value)
	}
	for _, want := range []string{"Fatigue is 7.0 of 10 against a usual 3.", "which lowers the state", "Sleep is 5.5 h a night against a usual 7.", "Mood is"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in %q", want, words)
		}
	}
	if got.Short < 0.9 || got.Weeks[len(got.Weeks)-1].State != got.Week || got.Weeks[4].Short > 0.1 || got.Logged != 14 {
		t.Errorf("short with a chance of %.2f; weeks %+v", got.Short, got.Weeks)
	}
}

// One slip of the pen does not make a bad week, and the first weeks of a log are
// usual with more doubt than an off-season.
func TestRecoveryIsCareful(t *testing.T) {
	days := steady(70)
	clean := training.Recovery(days, offSeason(56), days[69].Date)
	days[66].SleepH = new(0.7)
	slip := training.Recovery(days, offSeason(56), days[69].Date)
	if off := math.Abs(slip.Week.Value - clean.Week.Value); off > 0.6 || slip.Short > 0.5 {
		t.Errorf("a slip moves the week by %.2f, to a chance of %.2f", off, slip.Short)
	}
	first := offSeason(28)
	first.OffSeason = false
	doubt := training.Recovery(days, first, days[69].Date)
	if doubt.Week.SD() <= slip.Week.SD() || len(doubt.Cannot) == 0 || len(slip.Cannot) != 0 {
		t.Errorf("SD %.2f with the first weeks, %.2f with an off-season; %q", doubt.Week.SD(), slip.Week.SD(), doubt.Cannot)
	}
}

// A year of all seven markers, half of them missing.
func BenchmarkRecovery(b *testing.B) {
	d := &diarist{r: rand.New(rand.NewPCG(1, 1)), weeks: 44, fall: 2, missing: 0.5, everyday: true}
	d.live()
	b.ReportAllocs()
	for b.Loop() {
		training.Recovery(d.days, d.usual, d.asOf())
	}
}
