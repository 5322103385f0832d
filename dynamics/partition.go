package dynamics

// Partition says where energy that is drawn or stored goes.
//
// The adult model follows Forbes: dL/dF = 10.4 kg / F for everybody. People who
// lift and eat protein lose far less lean than that: in published contest
// preparations the observed loss is 0.16 to 0.84 of Forbes's, more where the
// deficit is large for the fat that is left (Kistler 2014, Halliday 2016,
// Rossow 2013, Mitchell 2018, Campbell 2020, Peos 2021; see docs/validation.md).
// So the trained layer scales Forbes's constant, dL/dF = k * 10.4 kg / F, and
// takes from lean whatever part of a deficit is beyond what fat can supply in a
// day (Alpert SS. J Theor Biol 2005;233:1-13: 290 kJ per kg of fat). Alpert's
// value is one of months, so the deficit that is held against it is that of the
// last week, not of one low day; and lean never gives more than Forbes's own
// share (k = 1), that of people who do not train. That form is this project's
// judgement; k was fitted to those cohorts (cohort_test.go).
type Partition struct {
	LossScale          float64 // k when energy is drawn; 1 is Forbes
	GainScale          float64 // k when energy is stored; 1 is Forbes
	FatSupplyKcalPerKg float64 // a day; 0 is without bound
}

// Adult is the partition of the published adult model.
func Adult() Partition { return Partition{LossScale: 1, GainScale: 1} }

// Trained is the partition for somebody who lifts hard and eats protein at or
// above 1.8 g/kg, at its central values: k = 0.20 with a 90 % range of about
// 0.07 to 0.55 between people. In a surplus 0.35 (judgement: after a show the
// regain is nearly all fat, Trexler 2017; in an off-season a trained person
// gains little lean).
func Trained() Partition {
	return Partition{LossScale: 0.20, GainScale: 0.35, FatSupplyKcalPerKg: 69.3}
}

// SupplyKcal is the greatest deficit, kcal a day, that a fat mass carries without
// lean mass giving more than its usual share; 0 where there is no bound.
func (p *Partition) SupplyKcal(fatKg float64) float64 {
	return p.FatSupplyKcalPerKg * (fatKg + p.LossScale*forbesEnergyKg)
}

// LossScaleLogSD is the spread between people of ln(LossScale) (judgement from
// the same cases).
const LossScaleLogSD = 0.6

// flux splits the day's energy balance. base is expenditure without the cost of
// tissue change, x is intake less what glycogen takes, usual is the intake of
// the last week; it returns the energy going into fat and into lean, kcal a day;
// expenditure is x less both. Whether there is a deficit, and how deep, goes by
// the usual intake: glycogen and single days only move energy about.
//
// Forbes puts lean to fat as c to fatKg. A bound supply puts it as the rest of
// the deficit to the supply, (deficit - supply*fatKg) to supply*fatKg, which is
// (deficit/supply - fatKg) to fatKg, and no more than Forbes's own constant. So
// both are weights of lean beside fatKg, and the synthesis costs close the
// balance with one division.
func (p *Partition) flux(fatKg, base, x, usual float64) (toFat, toLean float64) {
	lean := p.GainScale * forbesEnergyKg
	if deficit := base - usual; deficit > 0 {
		lean = p.LossScale * forbesEnergyKg
		// A branch that is seldom taken is dearer as min and max.
		if supply := p.FatSupplyKcalPerKg; supply > 0 && deficit > supply*(lean+fatKg) {
			lean = max(lean, min(forbesEnergyKg, deficit/supply-fatKg))
		}
	}
	stored := (x - base) / (fatKg*(1+fatSynthesisShare) + lean*(1+leanSynthesisShare))
	return fatKg * stored, lean * stored
}
