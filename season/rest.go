package season

import (
	"fmt"
	"math"

	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/dynamics"
)

// Rest is a decision for or against a rest in the diet: what it is, what it costs
// the plan, and what evidence there is for it.
type Rest struct {
	Kind     string     `json:"kind"` // diet break or refeeds
	From     civil.Date `json:"from"`
	Taken    bool       `json:"taken"`
	Sentence string     `json:"sentence"`
	Evidence string     `json:"evidence"`
}

// What is known of rests, and how well.
const (
	breakEvidence = "In 61 resistance-trained women and men three single weeks at maintenance in a 12-week diet eased hunger and changed neither fat, lean mass nor resting expenditure (Peos et al. 2021). Two-week breaks helped 36 obese men to lose more fat, over 30 weeks against 16 (Byrne et al. 2018), which may not carry over. So a break is counted as comfort only; that it makes the weeks after it easier is judgement, and how much is uncertain."

	refeedEvidence = "Two days a week of more carbohydrate kept some lean mass in one small trial of lifters (Campbell et al. 2020), which a re-analysis in the same journal did not bear out. Refeeds are counted as comfort, with the week's mean as it is; expect a day or two of more water on the scale."
)

// Diet breaks are a week at maintenance. In people who lift they eased hunger and
// saved neither lean mass nor resting expenditure (Peos et al. 2021, MSSE
// 53:1685), so the dynamics give them no bonus and what they bring is that the
// weeks after one are easier (restedWeeks). One is due every nine weeks of diet,
// counted from its beginning so that it stays where it is when the plan is made
// anew each week, never in the last four; it is taken where the plan costs less
// with it than without, and a brisk pace leaves a week to spare for what cannot be
// foreseen. Spacing and pace are judgement.
const (
	breakEvery = 9
	breakLast  = 4
	breakPace  = 0.85
)

// rest decides on the diet breaks that fall due, one after another.
func (p *Problem) rest(best *course, d *dietPlan, done int, fastest *descent) *course {
	for w := range len(d.breaks) - breakLast {
		g := &best.legs[w]
		if (done+w+1)%breakEvery != 0 || g.open == 0 {
			continue
		}
		r := Rest{Kind: "diet break", From: g.from, Evidence: breakEvidence}
		d.breaks[w] = true
		with := p.newCourse(best.first, d.from, d.breaks, done%breakEvery)
		with.settled = best.settled
		for v := range with.legs {
			with.legs[v].effort = best.legs[v].effort
		}
		// Spare is counted as the plan with the break stands in that week, so that the
		// plan made anew by then says the same.
		lands := with.optimise()
		spare := float64(p.dietDays(g.from)) - fastest.needDays(with.legs[w].state.FatKg)/breakPace
		r.Taken = lands && spare >= 7 && with.cost() <= best.cost()
		on := day(g.from)
		switch {
		case r.Taken:
			r.Sentence = fmt.Sprintf("A diet break in the week of %s: by the model it costs %.0f g of lean mass and asks %.0f %% more of the other weeks.",
				on, math.Max(0, 1000*(with.lost()-best.lost())), math.Max(0, 100*(with.meanEffort()/best.meanEffort()-1)))
			best = with
		case !lands || spare < 7:
			r.Sentence = fmt.Sprintf("No diet break in the week of %s: there is no week to spare then.", on)
		default:
			r.Sentence = fmt.Sprintf("No diet break in the week of %s: the other weeks would be the harder for it.", on)
		}
		d.breaks[w] = r.Taken
		d.rests = append(d.rests, r)
	}
	return best
}

// lost is the lean mass that a course takes, kg.
func (c *course) lost() float64 { return c.first.LeanKg - c.end.LeanKg }

// meanEffort is over the weeks of diet.
func (c *course) meanEffort() float64 {
	sum, n := 0.0, 0.0
	for w := range c.legs {
		if c.legs[w].weight > 0 {
			sum += c.legs[w].effort
			n++
		}
	}
	return sum / math.Max(1, n)
}

// A refeed is one day a week at about maintenance once lean, the other days so
// much lower that the week's mean stands. Its evidence is comfort, not lean mass
// (Campbell et al. 2020, JFMK 5:19, and the published comment on it, 5:85), so it
// is planned only where the other days keep the floor of energy availability too.
// The body fats from which on are judgement.
func (p *Problem) refeeds(s *dynamics.State, on civil.Date, in Instruction) int {
	lean := 10.0
	if p.Sex == athlete.Female {
		lean = 18
	}
	if bodyFatPct(&p.Model, s) >= lean {
		return 0
	}
	maintain := p.Model.BalanceKcal(s, p.Levers.ActivityKcalPerKg(in))
	others := (7*in.EnergyKcal - maintain) / 6
	if others < p.floorKcal(s, on, in.CardioMinutes) {
		return 0
	}
	return 1
}

// refeedRest says what the map does about refeeds; nothing where nobody is lean
// enough for them.
func (m *Map) refeedRest() {
	r := Rest{Kind: "refeeds", Evidence: refeedEvidence}
	weeks := 0
	for i := range m.Weeks {
		if w := &m.Weeks[i]; w.Refeeds > 0 {
			if weeks++; weeks == 1 {
				r.From = w.From
			}
		}
	}
	if weeks == 0 {
		return
	}
	r.Taken = true
	r.Sentence = fmt.Sprintf("One refeed day a week from %s on, in %d weeks: it costs nothing, since the other days make up for it above the floor of energy availability.", day(r.From), weeks)
	m.Rests = append(m.Rests, r)
}
