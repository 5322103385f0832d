package food

import (
	"math"

	"glidepath/athlete"
	"glidepath/fault"
	"glidepath/phrase"
)

// slot is a day type in use with the energy it aims at, in steps of 25 kcal.
type slot struct {
	kind    athlete.DayType
	perWeek int
	aim     float64
	low     float64 // the least and the most to consider
	high    float64
}

// maintenanceTolerance is how far from maintenance a refeed or diet-break day
// may be, in steps of 25 kcal.
const maintenanceTolerance = 4

// reach is how far the search looks beyond the span from a day's aim to the mean
// of training and rest days, in steps: enough to meet every remainder of 7.
const reach = 7

// layOut lists the day types in use from the least to the most energy.
func (p *problem) layOut() []slot {
	n, w := p.need, p.need.Week
	mean := float64(p.meanSteps)
	maintenance := n.MaintenanceKcal / EnergyStepKcal
	fixedDays, loose := w.Refeed+w.DietBreak, w.Training+w.Rest
	base, rest, training := mean, mean, mean
	if loose > 0 {
		base = (7*mean - float64(fixedDays)*maintenance) / float64(loose)
		extra := orElse(n.Settings.TrainingExtraPct, 10) / 100 * mean
		if n.Settings.SameEveryDay {
			extra = 0
		}
		rest = base - extra*float64(w.Training)/float64(loose)
		training = base + extra*float64(w.Rest)/float64(loose)
	} else {
		maintenance = mean
	}
	fixed := func(kind athlete.DayType, n int) slot {
		return slot{kind, n, maintenance, maintenance - maintenanceTolerance, maintenance + maintenanceTolerance}
	}
	var slots []slot
	for _, s := range []slot{
		{athlete.RestDay, w.Rest, rest, rest - reach, base + reach},
		{athlete.TrainingDay, w.Training, training, base - reach, training + reach},
		fixed(athlete.DietBreakDay, w.DietBreak),
		fixed(athlete.RefeedDay, w.Refeed),
	} {
		if s.perWeek > 0 {
			slots = append(slots, s)
		}
	}
	return slots
}

// split finds each slot's energy in steps, never falling from one slot to the
// next, with the wanted mean exactly, the floors held at that protein, and the
// least squared distance from the aims. It looks at every choice within reach.
func (p *problem) split(proteinG int) ([]int, bool) {
	best, bestCost := []int(nil), math.Inf(1)
	ks := make([]int, len(p.slots))
	var place func(i, left, floor int, cost float64)
	place = func(i, left, floor int, cost float64) {
		s := p.slots[i]
		if cost >= bestCost {
			return
		}
		low, high := int(math.Ceil(s.low)), int(math.Floor(s.high))
		if i == len(p.slots)-1 {
			if left%s.perWeek != 0 {
				return
			}
			low, high = max(low, left/s.perWeek), min(high, left/s.perWeek)
		}
		for k := max(low, floor); k <= high; k++ {
			if _, ok := p.portion(s.kind, k, proteinG, p.fatAimG); !ok {
				continue
			}
			ks[i] = k
			off := float64(k) - s.aim
			total := cost + float64(s.perWeek)*off*off
			if i < len(p.slots)-1 {
				place(i+1, left-k*s.perWeek, k, total)
			} else if total < bestCost {
				best, bestCost = append(best[:0], ks...), total
			}
		}
	}
	place(0, 7*p.meanSteps, 0, 0)
	return best, best != nil
}

// refusal says why no week holds the floors.
func (p *problem) refusal() error {
	need := p.meanSteps
	for need*EnergyStepKcal < 12000 {
		if _, ok := p.portion(athlete.RestDay, need, p.proteinFloorG, p.fatAimG); ok {
			break
		}
		need++
	}
	if need > p.meanSteps {
		return p.belowFloors(need * EnergyStepKcal)
	}
	w := p.need.Week
	fixed := w.Refeed + w.DietBreak
	left := (7*p.meanSteps*EnergyStepKcal - fixed*int(math.Round(p.need.MaintenanceKcal))) / (7 - fixed)
	return fault.New(fault.Refused,
		"%d days at maintenance (%s kcal) leave about %s kcal for each other day, which cannot hold the floors of protein (%d g), fat and carbohydrate.",
		fixed, phrase.Number(p.need.MaintenanceKcal, 0), phrase.Number(float64(left), 0), p.proteinFloorG).
		WithField("week").
		WithHint("Plan fewer refeed or diet-break days, or a higher weekly mean.")
}

// belowFloors is the refusal where no day of the mean's energy holds the floors.
func (p *problem) belowFloors(needKcal int) error {
	energy := p.meanSteps * EnergyStepKcal
	fat := p.fatFloorG(energy)
	fibre := ceil(p.limits.FibreGPer1000 * float64(energy) / 1000)
	fatRule, carbRule := "g per kg body weight", "g per kg body weight"
	if p.limits.FatGPerKg*p.need.WeightKg < FatShareFloorPct/100*float64(energy)/FatKcalPerG {
		fatRule = "share of energy"
	}
	carb := p.carbFloorG
	if fibre > carb {
		carb, carbRule = fibre, "fibre in it"
	}
	binds := "protein"
	switch proteinKcal := 4 * p.proteinFloorG; {
	case 9*fat > proteinKcal && 9*fat > 4*carb:
		binds = "fat"
	case 4*carb > proteinKcal:
		binds = "carbohydrate"
	}
	return fault.New(fault.Refused,
		"%d kcal a day cannot hold the floors: protein %d g (%.1f g per kg fat-free mass, %d kcal), fat %d g (by %s, %d kcal) and carbohydrate %d g (by %s, %d kcal); the largest is %s.",
		energy, p.proteinFloorG, p.limits.ProteinGPerKgFFM, 4*p.proteinFloorG,
		fat, fatRule, 9*fat, carb, carbRule, 4*carb, binds).
		WithField("mean_energy_kcal").
		WithHint("The floors need about %d kcal. Plan a slower loss, or more steps and cardio within the floor of energy availability.", needKcal)
}
