package store

import (
	"cmp"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// Days lists the days of the log from one date to another, both included.
func (t *tx) Days(id string, from, to civil.Date) ([]athlete.Day, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return t.days(key, from, to)
}

func (t *tx) days(key int64, from, to civil.Date) ([]athlete.Day, error) {
	var row dayRow
	return list(t, `
		SELECT date, weight_kg, energy_kcal, protein_g, carbohydrate_g, fat_g, fibre_g,
			sodium_mg, steps, sleep_h, hunger, fatigue, resting_pulse,
			soreness, motivation, mood, pain,
			cycle_day, day_type, notes, pain_where, cardio, weight_use, weight_use_who
		FROM days WHERE athlete = ? AND date BETWEEN ? AND ? ORDER BY date`,
		[]any{key, from, to}, row.scan)
}

// PutDays merges days into the log field by field; app.Tx has the rules. What
// is stored is loaded in one query, and only days that change are written.
func (t *tx) PutDays(id string, days []athlete.Day, from app.Source) (app.Merge, error) {
	m := merger{}
	key, err := t.key(id)
	if err != nil || len(days) == 0 {
		return m.Merge, err
	}
	first, last, err := span(days, func(d *athlete.Day) civil.Date { return d.Date })
	if err != nil {
		return m.Merge, err
	}
	stored, err := t.days(key, first, last)
	if err != nil {
		return m.Merge, err
	}
	at := make(map[civil.Date]int, len(stored)+len(days))
	for i := range stored {
		at[stored[i].Date] = i
	}
	changed := map[civil.Date]bool{}
	for i := range days {
		in := &days[i]
		if err := in.Validate(); err != nil {
			return app.Merge{}, err
		}
		k, ok := at[in.Date]
		if !ok {
			k = len(stored)
			at[in.Date] = k
			stored = append(stored, athlete.Day{Date: in.Date})
		}
		before := m.Added + m.Corrected
		if err := m.day(&stored[k], in); err != nil {
			return app.Merge{}, err
		}
		if m.Added+m.Corrected > before {
			changed[in.Date] = true
		}
	}
	if err := t.writeDays(key, stored, changed); err != nil {
		return app.Merge{}, err
	}
	return m.Merge, t.addCorrections(key, m.corrections, from)
}

// writeDays writes the days whose date is in changed, in the table's own order,
// which spares it from splitting pages.
func (t *tx) writeDays(key int64, days []athlete.Day, changed map[civil.Date]bool) error {
	slices.SortFunc(days, func(a, b athlete.Day) int { return cmp.Compare(a.Date, b.Date) })
	var row dayRow
	for i := range days {
		if !changed[days[i].Date] {
			continue
		}
		args, err := row.args(key, &days[i])
		if err != nil {
			return err
		}
		err = t.exec(`
			REPLACE INTO days (athlete, date, weight_kg, energy_kcal, protein_g, carbohydrate_g, fat_g, fibre_g,
				sodium_mg, steps, sleep_h, hunger, fatigue, resting_pulse,
				soreness, motivation, mood, pain,
				cycle_day, day_type, notes, pain_where, cardio, weight_use, weight_use_who)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, args...)
		if err != nil {
			return err
		}
	}
	return nil
}

// dayNumberNames are the fields that dayNumbers points at, in its order.
func dayNumberNames() [16]string {
	return [...]string{
		"weight_kg", "energy_kcal", "protein_g", "carbohydrate_g", "fat_g", "fibre_g",
		"sodium_mg", "steps", "sleep_h", "hunger", "fatigue", "resting_pulse",
		"soreness", "motivation", "mood", "pain",
	}
}

// dayNumbers points at a day's optional numbers in the order of the columns.
func dayNumbers(d *athlete.Day) [16]**float64 {
	return [...]**float64{
		&d.WeightKg, &d.EnergyKcal, &d.ProteinG, &d.CarbohydrateG, &d.FatG, &d.FibreG,
		&d.SodiumMg, &d.Steps, &d.SleepH, &d.Hunger, &d.Fatigue, &d.RestingPulse,
		&d.Soreness, &d.Motivation, &d.Mood, &d.Pain,
	}
}

// dayRow carries days to and from the table with one set of buffers.
type dayRow struct {
	date                      int64
	numbers                   [16]number
	cycleDay, weightUse       sql.Null[int64]
	dayType, notes, painWhere sql.Null[string]
	cardio, weightUseWho      sql.Null[string]
	dest                      []any
	out                       [25]any
}

// number scans an optional REAL without the reflection that database/sql needs
// for a **float64: a day has sixteen.
type number struct {
	value float64
	valid bool
}

// Scan implements sql.Scanner.
func (n *number) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*n = number{}
	case float64:
		*n = number{v, true}
	case int64:
		*n = number{float64(v), true}
	default:
		return fmt.Errorf("store: %T where a number is stored", src)
	}
	return nil
}

func (r *dayRow) scan(rows *sql.Rows, d *athlete.Day) error {
	if r.dest == nil {
		r.dest = append(r.dest, &r.date)
		for i := range r.numbers {
			r.dest = append(r.dest, &r.numbers[i])
		}
		r.dest = append(r.dest, &r.cycleDay, &r.dayType, &r.notes, &r.painWhere, &r.cardio, &r.weightUse, &r.weightUseWho)
	}
	if err := rows.Scan(r.dest...); err != nil {
		return err
	}
	d.Date = civil.Date(r.date)
	values := new([16]float64) // one allocation a day
	for i, field := range dayNumbers(d) {
		if r.numbers[i].valid {
			values[i] = r.numbers[i].value
			*field = &values[i]
		}
	}
	if r.cycleDay.Valid {
		d.CycleDay = new(int(r.cycleDay.V))
	}
	d.DayType, d.Notes, d.PainWhere = athlete.DayType(r.dayType.V), r.notes.V, athlete.Region(r.painWhere.V)
	if r.weightUse.Valid {
		d.WeightStands = &athlete.WeightStands{Use: r.weightUse.V != 0, Who: r.weightUseWho.V}
	}
	if r.cardio.Valid {
		return json.Unmarshal([]byte(r.cardio.V), &d.Cardio)
	}
	return nil
}

func (r *dayRow) args(key int64, d *athlete.Day) ([]any, error) {
	out := append(r.out[:0], key, d.Date)
	for _, field := range dayNumbers(d) {
		out = append(out, pointed(*field))
	}
	out = append(out, pointed(d.CycleDay), orNull(string(d.DayType)), orNull(d.Notes), orNull(string(d.PainWhere)))
	if len(d.Cardio) > 0 {
		cardio, err := encode(d.Cardio)
		if err != nil {
			return nil, err
		}
		out = append(out, cardio)
	} else {
		out = append(out, nil)
	}
	if w := d.WeightStands; w != nil {
		return append(out, w.Use, w.Who), nil
	}
	return append(out, nil, nil), nil
}
