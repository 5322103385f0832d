package cardio_test

import (
	"math"
	"math/bits"
	"reflect"
	"slices"
	"testing"
	"time"

	"glidepath/athlete"
	"glidepath/cardio"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

func drawContext(t *rapid.T) (float64, cardio.Context) {
	c := context()
	c.BodyFatPct = rapid.Float64Range(5, 25).Draw(t, "body fat")
	c.Body.WeightKg = rapid.Float64Range(50, 110).Draw(t, "weight")
	c.StepsBase = float64(rapid.IntRange(40, 120).Draw(t, "steps")) * 100
	c.StepsMax = c.StepsBase + float64(rapid.IntRange(0, 50).Draw(t, "more steps"))*100
	c.MinutesMax = float64(rapid.IntRange(0, 500).Draw(t, "minutes"))
	c.SessionMax = 5 * rapid.IntRange(3, 12).Draw(t, "session")
	c.Kinds = rapid.SliceOfDistinct(rapid.SampledFrom(athlete.CardioKinds()), rapid.ID[athlete.CardioKind]).Draw(t, "kinds")
	regions := rapid.SliceOfNDistinct(rapid.SampledFrom(athlete.Regions()), 0, 2, rapid.ID[athlete.Region])
	c.Spare = regions.Draw(t, "spare")
	if rapid.IntRange(0, 4).Draw(t, "hurt") == 0 {
		c.Hurt = regions.Draw(t, "hurt where")
	}
	for d := range c.Week {
		if rapid.Bool().Draw(t, "lifts") {
			c.Week[d].Lifts = true
			for _, m := range rapid.SliceOfNDistinct(rapid.SampledFrom(athlete.Muscles()), 0, 3, rapid.ID[athlete.Muscle]).Draw(t, "muscles") {
				c.Week[d].Sets = append(c.Week[d].Sets, athlete.MuscleSets{Muscle: m, Sets: rapid.Float64Range(2, 12).Draw(t, "sets")})
			}
		}
	}
	return rapid.Float64Range(0, 700).Draw(t, "want"), c
}

// way is a kind at a pace as brute force sees it.
type way struct {
	kind         athlete.CardioKind
	kcal, points float64    // a minute; a net kcal with no lifting near
	overlap      [7]float64 // points a net kcal on each day
}

// ways reads the paces from Trade, which does not search.
func ways(t *rapid.T, c cardio.Context) []way {
	all, err := cardio.Trade(100, c)
	if err != nil {
		t.Fatal(err)
	}
	table := cardio.DefaultFatigue()
	if c.Fatigue != nil {
		table = *c.Fatigue
	}
	var out []way
	for _, e := range all[1:] {
		if !e.Available || !e.WithinCap || e.Barred != "" || e.Kind == athlete.Posing || c.Minutes > 0 && e.Pace.Name == "hard" {
			continue
		}
		w := way{kind: e.Kind, kcal: 100 / e.Minutes, points: (e.Points - e.Fatigue.Overlap) / 100}
		for d := range 7 {
			for _, m := range table.Row(e.Kind).Muscles {
				for _, s := range c.Week[(d+1)%7].Sets {
					if s.Muscle == m.Muscle {
						w.overlap[d] += table.Overlap * m.Share * s.Sets
					}
				}
				for _, s := range c.Week[d].Sets {
					if s.Muscle == m.Muscle {
						w.overlap[d] += table.SameDay * table.Overlap * m.Share * s.Sets
					}
				}
			}
		}
		// With the minutes told the pace is the usual one, or the hardest easier.
		if n := len(out); c.Minutes > 0 && n > 0 && out[n-1].kind == e.Kind {
			out = out[:n-1]
		}
		out = append(out, w)
	}
	return out
}

// onDays is the overlap of a session on each day of a set.
func (w *way) onDays(set int) float64 {
	sum := 0.0
	for d, v := range w.overlap {
		if set>>d&1 == 1 {
			sum += v
		}
	}
	return sum
}

// nearest is the best that does not deliver.
type nearest struct{ kcal, minutes float64 }

func minutesOf(p *cardio.MixPlan) (sum float64) {
	for _, k := range p.Cardio {
		sum += k.MinutesPerWeek
	}
	return sum
}

// bruteForce tries every pair of kinds, paces, lengths and days within so many
// minutes, itself unaware of how Mix searches. It returns the fewest points (a week, of
// cardio) that deliver need, or, where none does, what is nearest to the minutes told
// and of that the most kcal.
func bruteForce(t *rapid.T, c cardio.Context, need, least, longest float64) (points float64, best nearest, enough bool) {
	table := cardio.DefaultFatigue()
	lifts := 0
	for d := range c.Week {
		if c.Week[d].Lifts {
			lifts |= 1 << d
		}
	}
	points = math.Inf(1)
	try := func(kcal, cost float64, minutes, first, second int) {
		m := float64(minutes)
		if m < least || m > longest {
			return
		}
		cost += table.SecondADay * float64(bits.OnesCount(uint(first&second)))
		if lifts != 127 && lifts|first|second == 127 {
			cost += table.NoDayOff
		}
		if kcal >= need-1e-6 {
			enough, points = true, math.Min(points, cost)
		}
		off, was := 0.0, 0.0
		if c.Minutes > 0 {
			off, was = math.Abs(m-c.Minutes), math.Abs(best.minutes-c.Minutes)
		}
		if best.minutes == 0 || off < was || off == was && kcal > best.kcal {
			best = nearest{kcal, m}
		}
	}
	all := ways(t, c)
	for i := range all {
		a := &all[i]
		for first := 1; first < 128; first++ {
			n := bits.OnesCount(uint(first))
			near := a.onDays(first)
			for length := 15; length <= c.SessionMax; length += 5 {
				each := a.kcal * float64(length)
				kcal := each * float64(n)
				cost := kcal*a.points + each*near
				try(kcal, cost, n*length, first, 0)
				for j := range all[i+1:] {
					b := &all[i+1+j]
					if b.kind == a.kind {
						continue
					}
					for second := 1; second < 128; second++ {
						n2 := bits.OnesCount(uint(second))
						near2 := b.onDays(second)
						for length2 := 15; length2 <= c.SessionMax; length2 += 5 {
							each2 := b.kcal * float64(length2)
							more := each2 * float64(n2)
							try(kcal+more, cost+more*b.points+each2*near2+table.SecondKind, n*length+n2*length2, first, second)
						}
					}
				}
			}
		}
	}
	return points, best, enough
}

func TestMixIsTheBestOfAll(t *testing.T) {
	short, enough, told, two, scarce := 0, 0, 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		want, c := drawContext(t)
		c.SessionMax = 5 * rapid.IntRange(3, 5).Draw(t, "short session")
		c.Kinds = c.Kinds[:min(3, len(c.Kinds))]
		if rapid.Bool().Draw(t, "told") {
			c.Minutes = float64(5 * rapid.IntRange(3, 60).Draw(t, "told minutes"))
			told++
		}
		p, err := cardio.Mix(want, c)
		if err != nil {
			t.Fatal(err)
		}
		need := 7 * (want - p.StepsKcal)
		if need <= 1e-6 && c.Minutes == 0 {
			if len(p.Cardio) > 0 {
				t.Fatalf("cardio %v though steps suffice", p.Cardio)
			}
			return
		}
		if len(p.Cardio) == 2 {
			two++
		}
		least, longest := 0.0, c.MinutesMax
		if c.Minutes > 0 {
			least, longest = c.Minutes-10, c.Minutes+10
		}
		points, best, ok := bruteForce(t, c, need, least, longest)
		if !ok && best.minutes == 0 && c.Minutes > 0 { // so many minutes there are not
			points, best, ok = bruteForce(t, c, need, 0, c.Minutes)
			scarce++
		}
		if !ok {
			short++
			if got := minutesOf(&p); math.Abs(7*p.CardioKcal-best.kcal) > 1e-4 || c.Minutes > 0 && math.Abs(got-c.Minutes) != math.Abs(best.minutes-c.Minutes) {
				t.Fatalf("short: cardio of %v kcal a week in %v minutes, the best is %+v", 7*p.CardioKcal, got, best)
			}
			if (p.ShortKcal <= 0) != (need <= 1e-6) {
				t.Fatalf("short by %v of %v", p.ShortKcal, want)
			}
			return
		}
		enough++
		if got := 7 * (p.FatiguePoints - p.StepsKcal); math.Abs(got-points) > 1e-4 || p.ShortKcal != 0 {
			t.Fatalf("cardio costs %v points a week, the least is %v (short %v)", got, points, p.ShortKcal)
		}
	})
	t.Logf("%d short, %d sufficient, %d with minutes told, %d with fewer than told, %d of two kinds", short, enough, told, scarce, two)
	if short == 0 || enough == 0 || told == 0 || two == 0 || scarce == 0 {
		t.Error("one case was never tried")
	}
}

func TestMixCanBeFollowed(t *testing.T) {
	table := cardio.DefaultFatigue()
	rapid.Check(t, func(t *rapid.T) {
		want, c := drawContext(t)
		p, err := cardio.Mix(want, c)
		if err != nil {
			t.Fatal(err)
		}
		if p.StepsPerDay != c.StepsBase && (math.Mod(p.StepsPerDay, 500) != 0 || p.StepsPerDay > c.StepsMax) {
			t.Fatalf("%v steps a day, at most %v", p.StepsPerDay, c.StepsMax)
		}
		walkable := table.Barred(athlete.Walking, c.Hurt, c.Spare) == ""
		if len(p.Cardio) > 0 && walkable && p.StepsPerDay < c.StepsMax-499 || !walkable && p.StepsPerDay != c.StepsBase {
			t.Fatalf("cardio before steps, or steps on a hurt joint: %v of %v steps", p.StepsPerDay, c.StepsMax)
		}
		var minutes float64
		for _, k := range p.Cardio {
			minutes += k.MinutesPerWeek
			each := k.MinutesPerWeek / float64(k.Sessions)
			if math.Mod(each, 5) != 0 || each < 15 || each > float64(c.SessionMax) || k.Sessions > 7 {
				t.Fatalf("%d sessions of %v minutes", k.Sessions, each)
			}
			if !slices.Contains(c.Kinds, k.Kind) || k.Kind == athlete.Posing || table.Barred(k.Kind, c.Hurt, c.Spare) != "" {
				t.Fatalf("%s is not to be had", k.Kind)
			}
			if len(k.Days) != k.Sessions || len(slices.Compact(slices.Sorted(slices.Values(k.Days)))) != k.Sessions {
				t.Fatalf("%d sessions on %v", k.Sessions, k.Days)
			}
			r, err := cardio.PlanRate(k, c.Body.WeightKg)
			limits := athlete.DefaultLimits(c.Body.Sex)
			if most := table.MostMET(limits.Leanness(c.BodyFatPct)); err != nil || r.MET > most {
				t.Fatalf("%s at %.1f MET, the cap is %.1f (%v)", k.Kind, r.MET, most, err)
			}
		}
		if minutes > c.MinutesMax || len(p.Cardio) > 2 {
			t.Fatalf("%v minutes of %v, %d kinds", minutes, c.MinutesMax, len(p.Cardio))
		}
		if math.Abs(p.Fatigue.Points()-p.FatiguePoints) > 1e-9 {
			t.Fatalf("%v points, %v in parts", p.FatiguePoints, p.Fatigue)
		}
		if again, _ := cardio.Mix(want, c); !reflect.DeepEqual(p, again) {
			t.Fatal("two mixes of one context differ")
		}
	})
}

// The same week with the lifting turned by a day turns the days of the cardio and
// nothing else.
func TestDaysTurnWithTheWeek(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want, c := drawContext(t)
		turned := c
		for d := range c.Week {
			turned.Week[(d+1)%7] = c.Week[d]
		}
		p, err := cardio.Mix(want, c)
		if err != nil {
			t.Fatal(err)
		}
		q, err := cardio.Mix(want, turned)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.FatiguePoints-q.FatiguePoints) > 1e-6 || math.Abs(p.CardioKcal-q.CardioKcal) > 1e-6 {
			t.Fatalf("%v points and %v kcal become %v and %v", p.FatiguePoints, p.CardioKcal, q.FatiguePoints, q.CardioKcal)
		}
	})
}

// Cardio keeps away from the day before the legs and leaves a day off where it can.
func TestDaysKeepClearOfTheLegs(t *testing.T) {
	c := context()
	c.StepsMax, c.Kinds = c.StepsBase, []athlete.CardioKind{athlete.Cycling}
	legs := []athlete.MuscleSets{{Muscle: athlete.Quadriceps, Sets: 10}, {Muscle: athlete.Glutes, Sets: 6}}
	chest := []athlete.MuscleSets{{Muscle: athlete.Chest, Sets: 10}}
	c.Week = [7]cardio.DayTraining{{Lifts: true, Sets: chest}, {}, {Lifts: true, Sets: legs}, {Lifts: true, Sets: chest}, {}, {Lifts: true, Sets: legs}, {}}
	p, err := cardio.Mix(100, c) // two or three sessions
	if err != nil || len(p.Cardio) != 1 {
		t.Fatalf("plan %+v, %v", p, err)
	}
	for _, d := range p.Cardio[0].Days {
		if day := time.Weekday(d); day == time.Tuesday || day == time.Friday || day == time.Wednesday || day == time.Saturday {
			t.Errorf("cycling on %s, with legs on Wednesday and Saturday: %v", day, p.Cardio[0].Days)
		}
	}
	if p.Fatigue.Overlap != 0 || p.Fatigue.Week != 0 {
		t.Errorf("%v: Monday, Thursday and Sunday meet no legs and leave days off", p.Fatigue)
	}
}

// Without whole sessions, days and a price on a second kind the problem is a linear
// programme over minutes of each pace; its optimum, by gonum's simplex, bounds the
// plan from below, and the plan is within one session's cost of it.
func TestMixAgainstLinearProgramme(t *testing.T) {
	table := cardio.DefaultFatigue()
	table.SecondKind, table.SecondADay, table.NoDayOff = 0, 0, 0
	for _, need := range []float64{100, 150, 200, 260} {
		c := context()
		c.StepsMax, c.Fatigue, c.MinutesMax = c.StepsBase, &table, 300
		c.Kinds = []athlete.CardioKind{athlete.InclineWalk, athlete.Running, athlete.Cycling}
		all, err := cardio.Trade(100, c)
		if err != nil {
			t.Fatal(err)
		}
		var costs, kcals, ones []float64
		for _, e := range all[1:] {
			if e.Available && e.WithinCap {
				kcals = append(kcals, 100/e.Minutes)
				costs = append(costs, e.Points/e.Minutes)
				ones = append(ones, 1)
			}
		}
		// Minutes of each pace, then a surplus of kcal and a slack of minutes.
		a := mat.NewDense(2, len(costs)+2, slices.Concat(kcals, []float64{-1, 0}, ones, []float64{0, 1}))
		least, _, err := lp.Simplex(append(slices.Clone(costs), 0, 0), a, []float64{7 * need, c.MinutesMax}, 1e-9, nil)
		if err != nil {
			t.Fatal(err)
		}
		p, err := cardio.Mix(need, c)
		if err != nil {
			t.Fatal(err)
		}
		got := 7 * p.FatiguePoints
		if session := 15 * slices.Max(costs); p.ShortKcal > 0 || got < least-1e-6 || got > least+session {
			t.Errorf("%v kcal a day: %.1f points a week, the bound is %.1f, one session %.1f", need, got, least, session)
		}
	}
}

// A mix as a review asks for it: ten kinds, a week of lifting, 240 minutes told.
func BenchmarkMix(b *testing.B) {
	c := context()
	c.Kinds, c.StepsMax, c.Minutes = athlete.CardioKinds(), c.StepsBase, 240
	for d := range 5 {
		c.Week[d] = cardio.DayTraining{Lifts: true, Sets: []athlete.MuscleSets{
			{Muscle: athlete.Muscles()[d], Sets: 8}, {Muscle: athlete.Muscles()[9-d], Sets: 6},
		}}
	}
	b.Run("minutes told", func(b *testing.B) {
		for b.Loop() {
			if _, err := cardio.Mix(200, c); err != nil {
				b.Fatal(err)
			}
		}
	})
	c.Minutes, c.MinutesMax = 0, 400
	b.Run("minutes free", func(b *testing.B) {
		for b.Loop() {
			if _, err := cardio.Mix(250, c); err != nil {
				b.Fatal(err)
			}
		}
	})
	c.SessionMax = 180
	b.Run("sessions to three hours", func(b *testing.B) {
		for b.Loop() {
			if _, err := cardio.Mix(250, c); err != nil {
				b.Fatal(err)
			}
		}
	})
}
