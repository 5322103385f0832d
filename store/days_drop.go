package store

import (
	"strconv"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// DropDay takes values out of a day by their names in JSON; app.Tx has the rules.
func (t *tx) DropDay(id string, on civil.Date, fields []string, from app.Source) (app.Merge, error) {
	var m merger
	key, err := t.key(id)
	if err != nil {
		return m.Merge, err
	}
	days, err := t.days(key, on, on)
	if err != nil {
		return m.Merge, err
	}
	stored := athlete.Day{Date: on}
	if len(days) > 0 {
		stored = days[0]
	}
	for _, f := range fields {
		if err := m.drop(&stored, f); err != nil {
			return app.Merge{}, err
		}
	}
	if m.Corrected == 0 {
		return m.Merge, nil
	}
	// The row stays even where it is empty: the corrections are about it.
	if err := t.writeDays(key, []athlete.Day{stored}, map[civil.Date]bool{on: true}); err != nil {
		return app.Merge{}, err
	}
	return m.Merge, t.addCorrections(key, m.corrections, from)
}

func (m *merger) drop(d *athlete.Day, field string) error {
	gone := func(old string) {
		if old == "" {
			m.Same++
			return
		}
		m.correct(d.Date, field, old, "")
	}
	names, values := dayNumberNames(), dayNumbers(d)
	for i, name := range names {
		if name != field {
			continue
		}
		old := ""
		if v := *values[i]; v != nil {
			old = formatNumber(*v)
		}
		gone(old)
		*values[i] = nil
		if field == "weight_kg" && d.WeightStands != nil {
			m.correct(d.Date, "weight_stands", formatWord(*d.WeightStands), "")
			d.WeightStands = nil // the word was about the weight
		}
		return nil
	}
	old := ""
	switch field {
	case "cycle_day":
		if d.CycleDay != nil {
			old = strconv.Itoa(*d.CycleDay)
		}
		d.CycleDay = nil
	case "day_type":
		old, d.DayType = string(d.DayType), ""
	case "pain_where":
		old, d.PainWhere = string(d.PainWhere), ""
	case "notes":
		old, d.Notes = d.Notes, ""
	case "cardio":
		if len(d.Cardio) > 0 {
			text, err := encode(d.Cardio)
			if err != nil {
				return err
			}
			old = text
		}
		d.Cardio = nil
	default:
		return fault.New(fault.Invalid, "a day has no %q.", field).WithField(field)
	}
	gone(old)
	return nil
}
