package sheet

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// ReadDays reads daily logs. Rows of one date are merged where they do not
// contradict each other; where they do, all of them are bad. Rows with a date and
// nothing else are left out. The error is a fault: the mapping does not fit, or
// has open questions.
func ReadDays(t *Table, m Mapping) (Result[athlete.Day], error) {
	r, err := newReader(t, &m, Days)
	if err != nil {
		return Result[athlete.Day]{}, err
	}
	plan := cardioPlan(r.mapped)
	merged := newMerger[athlete.Day, civil.Date](r, "the same date", mergeDays)
	for i := range t.Rows {
		if !r.start(&t.Rows[i]) {
			continue
		}
		before := len(r.bad)
		d := r.day(plan)
		if len(r.bad) == before && d.Empty() && d.WeightStands == nil {
			r.skip("left out without any value")
			continue
		}
		on, ok := r.date()
		if !ok || len(r.bad) > before {
			continue
		}
		d.Date = on
		if err := d.Validate(); err != nil {
			r.invalid(err)
			continue
		}
		merged.add(on, d)
	}
	return merged.result(), nil
}

// day reads all but the date of the present row.
func (r *reader) day(plan []boutColumns) athlete.Day {
	var d athlete.Day
	for i := range r.mapped {
		c := &r.mapped[i]
		if c.spec.form == cardio || c.spec.form == date || c.spec.many {
			continue
		}
		s := r.cell(c.Column)
		if s == "" {
			continue
		}
		if c.spec.form == text {
			r.dayText(&d, c, s)
			continue
		}
		if c.Field == FieldCycleDay {
			if n, ok := r.whole(c, s); ok {
				d.CycleDay = new(n)
			}
			continue
		}
		if v, ok := r.quantity(c, s); ok {
			*dayNumber(&d, c.Field) = new(v)
		}
	}
	for _, p := range plan {
		d.Cardio = append(d.Cardio, r.bouts(p)...)
	}
	return d
}

// dayNumber is where a day keeps a field's number.
func dayNumber(d *athlete.Day, f Field) **float64 {
	switch f {
	case FieldWeight:
		return &d.WeightKg
	case FieldEnergy:
		return &d.EnergyKcal
	case FieldProtein:
		return &d.ProteinG
	case FieldCarbohydrate:
		return &d.CarbohydrateG
	case FieldFat:
		return &d.FatG
	case FieldFibre:
		return &d.FibreG
	case FieldSodium:
		return &d.SodiumMg
	case FieldSteps:
		return &d.Steps
	case FieldSleep:
		return &d.SleepH
	case FieldHunger:
		return &d.Hunger
	case FieldFatigue:
		return &d.Fatigue
	case FieldSoreness:
		return &d.Soreness
	case FieldMotivation:
		return &d.Motivation
	case FieldMood:
		return &d.Mood
	case FieldPain:
		return &d.Pain
	case FieldRestingPulse:
		return &d.RestingPulse
	}
	panic("sheet: no number of a day is " + string(f))
}

// dayNumbers are the fields that dayNumber knows.
var dayNumbers = []Field{
	FieldWeight, FieldEnergy, FieldProtein, FieldCarbohydrate, FieldFat, FieldFibre, FieldSodium,
	FieldSteps, FieldSleep, FieldHunger, FieldFatigue, FieldSoreness, FieldMotivation, FieldMood, FieldPain, FieldRestingPulse,
}

func (r *reader) dayText(d *athlete.Day, c *mappedColumn, s string) {
	switch c.Field {
	case FieldNotes:
		d.Notes = joinNotes(cleanText(r.row.Cells[c.Index], maxNote), d.Notes)
	case FieldDayType:
		kind, ok := dayType(s, c.Heading)
		if !ok {
			r.reject(c.Column, &cellError{"it is not a day type.", "Write training, rest, refeed or diet break."})
		}
		d.DayType = kind
	case FieldPainWhere:
		r.painWhere(d, c, s)
	case FieldWeightStands:
		word := foldHeading(strings.ToLower(strings.TrimSpace(s)))
		if word != "use" && word != "leave out" {
			r.reject(c.Column, &cellError{"it is neither \"use\" nor \"leave out\".", ""})
			return
		}
		if d.WeightStands == nil {
			d.WeightStands = &athlete.WeightStands{}
		}
		d.WeightStands.Use = word == "use"
	case FieldWeightStandsBy:
		if d.WeightStands == nil {
			d.WeightStands = &athlete.WeightStands{}
		}
		d.WeightStands.Who = cleanText(s, maxName)
	}
}

var dayTypes = map[string]athlete.DayType{
	"training": athlete.TrainingDay, "train": athlete.TrainingDay, "trained": athlete.TrainingDay, "t": athlete.TrainingDay, "on": athlete.TrainingDay,
	"gym": athlete.TrainingDay, "workout": athlete.TrainingDay, "lift": athlete.TrainingDay, "lifting": athlete.TrainingDay,
	"entrainement": athlete.TrainingDay, "entreno": athlete.TrainingDay, "allenamento": athlete.TrainingDay, "treino": athlete.TrainingDay,
	"rest": athlete.RestDay, "r": athlete.RestDay, "off": athlete.RestDay, "recovery": athlete.RestDay, "nontraining": athlete.RestDay,
	"ruhetag": athlete.RestDay, "ruhe": athlete.RestDay, "repos": athlete.RestDay, "descanso": athlete.RestDay, "riposo": athlete.RestDay, "rust": athlete.RestDay,
	"refeed": athlete.RefeedDay, "refeeding": athlete.RefeedDay,
	"dietbreak": athlete.DietBreakDay, "break": athlete.DietBreakDay,
}

func dayType(s, heading string) (athlete.DayType, bool) {
	word := compact(strings.FieldsFunc(foldHeading(strings.ToLower(s)), func(x rune) bool { return x < 'a' || x > 'z' }))
	if k, ok := dayTypes[word]; ok {
		return k, true
	}
	if k, ok := dayTypes[strings.TrimSuffix(word, "day")]; ok {
		return k, true
	}
	if strings.Contains(foldHeading(heading), "training") { // "Training day": yes or no
		switch word {
		case "yes", "y", "x", "true", "ja", "oui", "si":
			return athlete.TrainingDay, true
		case "no", "n", "false", "nein", "non", "nee", "nej":
			return athlete.RestDay, true
		}
	}
	return "", false
}

// joinNotes puts two notes together, the same but once.
func joinNotes(a, b string) string {
	switch {
	case b == "" || strings.Contains(a, b):
		return a
	case a == "":
		return b
	}
	return a + "; " + b
}

// mergeDays adds what another row of the same date has.
func mergeDays(into, from *athlete.Day) []clash {
	var out []clash
	for _, f := range dayNumbers {
		a, b := dayNumber(into, f), *dayNumber(from, f)
		switch {
		case b == nil:
		case *a == nil:
			*a = b
		case **a != *b:
			out = append(out, clash{f, fmt.Sprintf("%g", **a), fmt.Sprintf("%g", *b)})
		}
	}
	switch {
	case from.CycleDay == nil:
	case into.CycleDay == nil:
		into.CycleDay = from.CycleDay
	case *into.CycleDay != *from.CycleDay:
		out = append(out, clash{FieldCycleDay, fmt.Sprint(*into.CycleDay), fmt.Sprint(*from.CycleDay)})
	}
	switch {
	case from.DayType == "":
	case into.DayType == "":
		into.DayType = from.DayType
	case into.DayType != from.DayType:
		out = append(out, clash{FieldDayType, string(into.DayType), string(from.DayType)})
	}
	switch {
	case from.WeightStands == nil:
	case into.WeightStands == nil:
		into.WeightStands = from.WeightStands
	case *into.WeightStands != *from.WeightStands:
		out = append(out, clash{FieldWeightStands, fmt.Sprint(into.WeightStands.Use), fmt.Sprint(from.WeightStands.Use)})
	}
	switch {
	case from.PainWhere == "":
	case into.PainWhere == "":
		into.PainWhere = from.PainWhere
	case into.PainWhere != from.PainWhere:
		out = append(out, clash{FieldPainWhere, string(into.PainWhere), string(from.PainWhere)})
	}
	into.Notes = joinNotes(into.Notes, from.Notes)
	return append(out, mergeCardio(into, from)...)
}

// mergeCardio adds bouts of other kinds; of the same kind they must be the same,
// since a repeated row and a second bout look alike.
func mergeCardio(into, from *athlete.Day) []clash {
	if len(from.Cardio) == 0 || reflect.DeepEqual(into.Cardio, from.Cardio) {
		return nil
	}
	for _, b := range from.Cardio {
		if i := slices.IndexFunc(into.Cardio, func(a athlete.CardioBout) bool { return a.Kind == b.Kind }); i >= 0 {
			a := into.Cardio[i]
			return []clash{{FieldCardio, fmt.Sprintf("%g min %s", a.Minutes, a.Kind), fmt.Sprintf("%g min %s", b.Minutes, b.Kind)}}
		}
	}
	into.Cardio = append(into.Cardio, from.Cardio...)
	return nil
}
