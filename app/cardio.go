package app

import "glidepath/cardio"

// Equivalents lists a net energy a day, 0 to 5000 kcal, as everyday steps and as
// each kind of cardio, for the athlete as they stand.
func (d *Dossier) Equivalents(kcal float64) ([]cardio.Equivalent, error) {
	last := d.Reading.Daily[len(d.Reading.Daily)-1]
	limits := d.Athlete.EffectiveLimits()
	return cardio.Equivalents(kcal, cardio.Context{
		Body:       cardio.Body{Sex: d.Athlete.Sex, WeightKg: last.TrendKg.Value, HeightCm: d.Athlete.HeightCm},
		BodyFatPct: last.BodyFatPct.Value, Limits: &limits, Kinds: d.Athlete.Cardio,
		StepsBase: d.Levers.StepsNow, StepsMax: d.Levers.StepsMax, MinutesMax: d.Levers.CardioMax,
	})
}
