package scenario

import (
	"math"

	"glidepath/athlete"
)

// coachName signs the plans; an invented name.
const coachName = "Wren Castellano"

// How the simple coach divides the energy.
const (
	proteinPerKg   = 2.2 // g per kg of profile weight
	fatShare       = 0.25
	leastFatPerKg  = 0.6
	leastCarbG     = 40.0
	usualRefeed    = 500.0 // kcal above the other days
	trainingExtra  = 120.0 // kcal more on a training day than on a rest day
	cardioPerBout  = 40.0  // minutes
	fibrePer1000   = 13.0
	fewestSessions = 2
)

// Prescription is the step as a version of the athlete's prescriptions.
func (s *Step) Prescription(a *athlete.Athlete, version int) athlete.Prescription {
	p := athlete.Prescription{
		Version: version, From: s.From, Steps: s.Steps, Phase: s.Phase,
		Author: coachName, Origin: athlete.FromCoach, Refeeds: s.Refeeds,
		Reasons: []string{s.reason()},
	}
	p.Days = s.days(a)
	if len(s.Refeeds) > 0 {
		p.Rule = "refeeds on the days named; training and rest days as they fall"
	}
	if s.CardioMinutes > 0 {
		n := max(fewestSessions, int(math.Round(s.CardioMinutes/cardioPerBout)))
		p.Cardio = []athlete.CardioPlan{{Kind: firstCardio(a), MinutesPerWeek: s.CardioMinutes, Sessions: n}}
	}
	return p
}

func (s *Step) reason() string {
	if s.Reason != "" {
		return s.Reason
	}
	return "as planned"
}

// days divides the weekly mean among the day types so that the mean stays.
func (s *Step) days(a *athlete.Athlete) []athlete.DayPrescribed {
	if s.DietBreak {
		return []athlete.DayPrescribed{s.day(a, athlete.DietBreakDay, 7, s.EnergyKcal)}
	}
	refeed := map[athlete.Weekday]bool{}
	for _, d := range s.Refeeds {
		refeed[d] = true
	}
	training := 0
	for _, d := range trainingDays(a) {
		if !refeed[d] {
			training++
		}
	}
	rest := 7 - training - len(refeed)
	extra := s.RefeedKcal
	if extra == 0 {
		extra = usualRefeed
	}
	low := s.EnergyKcal - (trainingExtra*float64(training)+(trainingExtra+extra)*float64(len(refeed)))/7

	var days []athlete.DayPrescribed
	if training > 0 {
		days = append(days, s.day(a, athlete.TrainingDay, training, low+trainingExtra))
	}
	if rest > 0 {
		days = append(days, s.day(a, athlete.RestDay, rest, low))
	}
	if len(refeed) > 0 {
		days = append(days, s.day(a, athlete.RefeedDay, len(refeed), low+trainingExtra+extra))
	}
	return days
}

// day sets the macros: protein by weight, fat by share with a floor, the rest
// carbohydrate; a refeed adds carbohydrate only.
func (s *Step) day(a *athlete.Athlete, kind athlete.DayType, perWeek int, kcal float64) athlete.DayPrescribed {
	protein := s.ProteinG
	if protein == 0 {
		protein = proteinPerKg * a.WeightKg
	}
	protein = math.Round(math.Min(protein, 0.45*kcal/4))
	fat := math.Round(math.Max(fatShare*math.Min(kcal, s.EnergyKcal)/9, leastFatPerKg*a.WeightKg))
	carb := math.Round(math.Max(leastCarbG, (kcal-4*protein-9*fat)/4))
	energy := 4*protein + 4*carb + 9*fat
	return athlete.DayPrescribed{
		Type: kind, PerWeek: perWeek, EnergyKcal: energy,
		ProteinG: protein, CarbohydrateG: carb, FatG: fat, FibreG: math.Round(fibrePer1000 * energy / 1000),
	}
}
