package scenario

import (
	"math"

	"glidepath/athlete"
)

// Energy densities of the truth model. Fat is triglyceride; lean is personal
// (Body.LeanEnergyKcalPerKg); glycogen is dry.
const (
	fatKcalPerKg      = 9400.0
	glycogenKcalPerKg = 4100.0
)

// tissue is the energy side of the body.
type tissue struct {
	body  Body
	sex   athlete.Sex
	years float64 // of training

	fatKg, leanKg float64
	glycogenKg    float64 // above the first morning's
	glycogenFull0 float64 // the first morning's, kg

	laggedDeficit float64 // what the adaptation has taken notice of, kcal/day
	depletion     float64 // accumulated deficit that is not yet forgotten, kcal
}

// food is what is really eaten in a day.
type food struct{ kcal, proteinG, carbG, fatG float64 }

// thermic is the cost of digesting a day's food, kcal: shares of protein,
// carbohydrate and fat from the middle of the textbook's ranges.
func (f food) thermic() float64 {
	return 0.24*4*f.proteinG + 0.07*4*f.carbG + 0.02*9*f.fatG
}

// effort is what is really done in a day.
type effort struct {
	steps         float64
	strideM       float64
	cardioKcalKg  float64 // net cost per kg body weight
	liftingHours  float64
	trainsAtAll   bool // has lifted in the last weeks
	restingExtra  float64
	idleFactor    float64 // on spontaneous activity, 1 on ordinary days
	proteinPerKgL float64 // recent protein, g per kg lean
}

// restingKcal is the resting rate before adaptation: the mean of three
// published equations on fat-free and fat mass (Cunningham 1980; Nelson et al.
// 1992; Cunningham 1991), which differ by a tenth, times the personal factor.
func (t *tissue) restingKcal() float64 {
	a := 500 + 22*t.leanKg
	b := 25.8*t.leanKg + 4.04*t.fatKg
	c := 370 + 21.6*t.leanKg
	return t.body.RestingFactor * (a + b + c) / 3
}

// liftingMET is the net cost of an hour's lifting, rests included (judgement,
// between the Compendium's 3.5 and 6 less one).
const liftingMET = 3.2

// walkKcalPerKgKm is the net cost of level walking (ACSM's 0.1 mL/kg/m at 5
// kcal a litre of oxygen).
const walkKcalPerKgKm = 0.5

// moveKcal is the cost of steps, cardio and lifting.
func (t *tissue) moveKcal(e effort) float64 {
	kg := t.fatKg + t.leanKg
	perKg := walkKcalPerKgKm*e.steps*e.strideM/1000 + e.cardioKcalKg
	return kg * (t.body.MoveFactor*perKg + liftingMET*e.liftingHours)
}

// forgetDays is how long the body minds a deficit (judgement).
const forgetDays = 120.0

// depletionKcal is the accumulated deficit at which most of the fall of
// spontaneous activity has come (judgement; about 6 kg of fat).
const depletionKcal = 60000.0

// depleted is how far the accumulated deficit has worn the athlete, 0 to 1.
func (t *tissue) depleted() float64 { return 1 - math.Exp(-t.depletion/depletionKcal) }

// spontaneousKcal falls as the deficit accumulates.
func (t *tissue) spontaneousKcal() float64 {
	return t.body.SpontaneousKcalPerKg * (t.fatKg + t.leanKg) * (1 - t.body.SpontaneousDrop*t.depleted())
}

// adaptationKcal is taken off the resting rate; it is negative in a surplus.
func (t *tissue) adaptationKcal() float64 {
	return clamp(t.body.AdaptationGain*t.laggedDeficit, -200, 350)
}

// storageCost is the share of a surplus that storing it burns (judgement).
const storageCost = 0.12

// live moves the tissue on by a day and gives the energy spent, such that
// intake less expenditure is exactly what fat, lean and glycogen gain.
func (t *tissue) live(f food, e effort) (expenditureKcal float64) {
	spent := t.restingKcal()*(1+e.restingExtra) - t.adaptationKcal() +
		t.spontaneousKcal()*e.idleFactor + t.moveKcal(e) + f.thermic()

	dGlycogen := (t.glycogenTarget(f.carbG) - t.glycogenKg) * approach(t.body.GlycogenLagDays)
	balance := f.kcal - spent - glycogenKcalPerKg*dGlycogen
	if balance > 0 {
		spent += storageCost * balance
		balance *= 1 - storageCost
	}
	t.mind(spent - f.kcal)
	t.glycogenKg += dGlycogen
	t.partition(balance, e)
	return spent
}

// mind carries the day's deficit, negative for a surplus, into the memories.
func (t *tissue) mind(deficit float64) {
	t.laggedDeficit += (deficit - t.laggedDeficit) * approach(t.body.AdaptationLagDays)
	t.depletion = math.Max(0, t.depletion*math.Exp(-1/forgetDays)+deficit)
}

// gainCancelKcal is the deficit at which lifting no longer adds lean (Murphy &
// Koehler 2022, Scand J Med Sci Sports 32:125).
const gainCancelKcal = 500.0

// partition lays a day's balance on fat and lean. Lifting adds some lean that a
// deficit cancels; what is left over is divided by leanShareOfDeficit or, in a
// surplus, mostly laid down as fat.
func (t *tissue) partition(balance float64, e effort) {
	lean := t.liftingGainKg(e) * clamp(1+balance/gainCancelKcal, 0, 1)
	rest := balance - lean*t.body.LeanEnergyKcalPerKg
	share := surplusLeanShare
	if rest < 0 {
		share = t.leanShareOfDeficit(-rest, e)
	}
	t.leanKg += lean + share*rest/t.body.LeanEnergyKcalPerKg
	t.fatKg += (1 - share) * rest / fatKcalPerKg
}

// surplusLeanShare is the share of a surplus's energy that becomes lean beyond
// what lifting adds: about an eighth of the weight (judgement; after a show all
// the regain was fat in Trexler et al. 2017, IJSNEM 27:458).
const surplusLeanShare = 0.025

// liftingGainKg is the lean a day that lifting adds at full energy: about 0.3 kg
// a month for a man who begins, six tenths of it for a woman, falling with the
// years of training (judgement).
func (t *tissue) liftingGainKg(e effort) float64 {
	if !e.trainsAtAll {
		return 0
	}
	g := 0.010 / (1 + t.years)
	if t.sex == athlete.Female {
		g *= 0.6
	}
	return g
}

// untrainedLoss is how much more lean goes without lifting (judgement).
const untrainedLoss = 4.0

// leanShareOfDeficit is the share of a deficit's energy that lean supplies. It
// rises as fat runs low, with the square of the deficit per kg of fat, with too
// little protein and without lifting; and fat cannot give more than about
// FatSupplyKcalPerKg a day (the idea of Alpert 2005, J Theor Biol 233:1, whose 69
// came from men who did not lift; the losses of the published preparations need
// more). Form and constants are judgement, held to those preparations.
func (t *tissue) leanShareOfDeficit(deficit float64, e effort) float64 {
	strain := deficit / t.fatKg / 60
	q := t.body.LeanLossFactor * (0.014 + 0.026*math.Exp(-t.fatKg/6)) * (0.7 + 0.3*strain*strain)
	q *= clamp(math.Exp(-0.5*(e.proteinPerKgL-2.5)), 0.8, 2)
	if !e.trainsAtAll {
		q *= untrainedLoss
	}
	fat := (1 - math.Min(q, 0.4)) * deficit
	most := t.body.FatSupplyKcalPerKg * t.fatKg
	over := fat / most
	over *= over
	return 1 - fat/math.Cbrt(math.Sqrt(1+over*over*over))/deficit // sixth root: a soft knee
}

// glycogenTarget is where glycogen settles on a carbohydrate intake, kg above
// the first morning's: a saturating store of 14 g/kg lean, half full at 3
// g/kg (judgement).
func (t *tissue) glycogenTarget(carbG float64) float64 {
	return t.glycogenFull(carbG) - t.glycogenFull0
}

func (t *tissue) glycogenFull(carbG float64) float64 {
	perKg := carbG / t.leanKg
	return 0.014 * t.leanKg * perKg / (perKg + 3)
}
