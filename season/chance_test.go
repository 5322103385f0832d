package season

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glidepath/athlete"
	"glidepath/numeric"
)

// The chance of enough time is that of drawing the body and its expenditure as they
// are doubted, and descending: by simulation (Metropolis & Ulam 1949, J Am Stat
// Assoc 44:335), which needs no slopes.
func TestChanceBySimulation(t *testing.T) {
	const draws = 400
	for _, c := range []struct {
		sex            athlete.Sex
		fatPct, target float64
		weeks          int
	}{{athlete.Male, 15, 7, 15}, {athlete.Male, 15, 7, 19}, {athlete.Female, 24, 14, 24}, {athlete.Female, 24, 14, 34}} {
		p := problem(c.sex, 75, c.fatPct, c.target, c.weeks)
		p.Dieting = true
		p.BodyFat, p.ExpenditureSD = numeric.Normal{Mean: c.fatPct, SD: 1}, 90
		got := Solve(p).Appraisal.Chance
		r := rand.New(rand.NewPCG(7, uint64(c.weeks)))
		enough := 0.0
		for range draws {
			q := p
			q.BodyFat.SD, q.ExpenditureSD = 0, 0
			kg := p.fatAt(r.NormFloat64()) - p.State.FatKg
			q.State.FatKg += kg
			q.State.LeanKg -= kg
			q.Model.RestKcal += p.ExpenditureSD * r.NormFloat64()
			d := q.descend(q.State, q.AsOf)
			need := float64(len(d.fat)-1) - d.edgeDays(c.target+q.Show.Tolerance())
			if !d.arrived {
				need = longestDescent
			}
			if need*(1+lifeShare*r.NormFloat64()) <= float64(q.dietDays(q.AsOf)) {
				enough++
			}
		}
		if want := enough / draws; math.Abs(got-want) > 0.09 {
			t.Errorf("%s, %v %% to %v %% in %d weeks: chance %.2f, of %d draws %.2f", c.sex, c.fatPct, c.target, c.weeks, got, draws, want)
		}
	}
}

// More time is more chance, and more doubt draws it towards even; what is said
// follows: no time, perhaps none, time.
func TestChanceAndWhatIsSaid(t *testing.T) {
	at := func(weeks int, expenditureSD float64) Appraisal {
		p := problem(athlete.Male, 85, 15, 7, weeks)
		p.Dieting = true
		p.ExpenditureSD = expenditureSD
		return Solve(p).Appraisal
	}
	last := 0.0
	said := map[Verdict]bool{}
	for weeks := 6; weeks <= 30; weeks++ {
		a := at(weeks, 80)
		if a.Chance < last-1e-9 {
			t.Errorf("%d weeks: chance %.3f, with a week less %.3f", weeks, a.Chance, last)
		}
		last = a.Chance
		said[a.Verdict] = true
		switch {
		case a.Chance < noTimeBelow != (a.Verdict == NoTime), a.Chance < tightBelow != a.Doubtful():
			t.Errorf("%d weeks: chance %.2f, and yet: %s", weeks, a.Chance, a.Sentence)
		case a.Verdict == Tight && !strings.Contains(a.Sentence, "The chance to reach the tolerance in time is about"):
			t.Errorf("%d weeks: %s", weeks, a.Sentence)
		}
		if more := at(weeks, 200); math.Abs(more.Chance-0.5) > math.Abs(a.Chance-0.5)+0.02 {
			t.Errorf("%d weeks: chance %.2f, with more doubt %.2f", weeks, a.Chance, more.Chance)
		}
	}
	if !said[NoTime] || !said[Tight] || !said[Enough] {
		t.Errorf("said: %v", said)
	}
}
