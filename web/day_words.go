package web

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/chart"
	"glidepath/phrase"
)

// askedDay is what to eat on a kind of day.
type askedDay struct {
	Type     string
	Today    bool
	Sentence string
}

// dayTypeWords name the kinds of day.
var dayTypeWords = map[athlete.DayType]string{
	athlete.TrainingDay: "Training day", athlete.RestDay: "Rest day", athlete.RefeedDay: "Refeed", athlete.DietBreakDay: "Diet break",
}

// typesOf are the kinds of day that a prescription has.
func typesOf(p *athlete.Prescription) []athlete.DayType {
	if p == nil {
		return []athlete.DayType{athlete.TrainingDay, athlete.RestDay, athlete.RefeedDay, athlete.DietBreakDay}
	}
	var out []athlete.DayType
	for _, d := range p.Days {
		out = append(out, d.Type)
	}
	return out
}

// typeOf is the kind of a day: as logged, else by the days of refeeds and training.
func typeOf(a *athlete.Athlete, p *athlete.Prescription, d *athlete.Day) athlete.DayType {
	weekday := athlete.Weekday(d.Date.Weekday())
	wanted := athlete.RestDay
	switch {
	case d.DayType != "":
		wanted = d.DayType
	case slices.Contains(p.Refeeds, weekday):
		wanted = athlete.RefeedDay
	case slices.Contains(a.TrainingDays, weekday):
		wanted = athlete.TrainingDay
	}
	if p.For(wanted) == nil {
		return p.Days[0].Type
	}
	return wanted
}

// asked puts a prescription in plain words: what to eat by kind of day, and what
// holds every day.
func asked(a *athlete.Athlete, p *athlete.Prescription, d *athlete.Day) (days []askedDay, always []string) {
	if p == nil || len(p.Days) == 0 {
		return nil, nil
	}
	now := typeOf(a, p, d)
	for _, one := range p.Days {
		days = append(days, askedDay{dayTypeWords[one.Type], one.Type == now, fmt.Sprintf(
			"Eat %s%skcal: protein %s, carbohydrate %s, fat %s%s.", chart.Number(one.EnergyKcal, 0), nbsp,
			grams(one.ProteinG), grams(one.CarbohydrateG), grams(one.FatG), fibre(one.FibreG))})
	}
	slices.SortStableFunc(days, func(x, y askedDay) int {
		if x.Today == y.Today {
			return 0
		}
		if x.Today {
			return -1
		}
		return 1
	})
	if p.Steps > 0 {
		always = append(always, fmt.Sprintf("Walk %s steps.", chart.Number(p.Steps, 0)))
	}
	for _, c := range p.Cardio {
		text := fmt.Sprintf("%s: %s minutes a week", phrase.Capital(string(c.Kind)), chart.Number(c.MinutesPerWeek, 0))
		if c.Sessions > 1 {
			text += fmt.Sprintf(" in %d sessions of %s", c.Sessions, chart.Number(c.MinutesPerWeek/float64(c.Sessions), 0))
		}
		always = append(always, text+c.Told(a.Units)+".")
	}
	if len(p.Sets) > 0 {
		var parts []string
		for _, s := range p.Sets {
			parts = append(parts, fmt.Sprintf("%s%s%s", s.Muscle, nbsp, chart.Number(s.Sets, 0)))
		}
		always = append(always, "Hard sets this week: "+strings.Join(parts, ", ")+".")
	}
	return days, always
}

func grams(v float64) string { return chart.Number(v, 0) + nbsp + "g" }

func fibre(v float64) string {
	if v <= 0 {
		return ""
	}
	return ", fibre " + grams(v)
}

// calls are the cautions with whom to call.
type calls struct{ Now, Soon string }

// callsFor says when to stop and whom to call. The signs are those at which the
// International Olympic Committee's consensus on relative energy deficiency in
// sport wants a physician (Mountjoy et al. 2023, Br J Sports Med 57:1073); that
// fainting and chest pain are for the emergency number is common practice, no
// source.
func callsFor(sex athlete.Sex) calls {
	cycle := ""
	if sex == athlete.Female {
		cycle = " a missed cycle,"
	}
	return calls{
		Now: "Fainting, chest pain or a racing or skipping heart: stop, sit down, and call the emergency number.",
		Soon: "Dizziness," + cycle + " bone pain that stays, sleep or mood going wrong, fear of food, bingeing or vomiting: " +
			"tell your coach today and see a physician. Until then nothing is cut further.",
	}
}
