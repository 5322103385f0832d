package store

import (
	"database/sql"
	"encoding/json"
	"math"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
)

// Measurements lists an athlete's measurements up to a date.
func (t *tx) Measurements(id string, to civil.Date) ([]athlete.Measurement, error) {
	key, err := t.key(id)
	if err != nil {
		return nil, err
	}
	return t.measurements(key, math.MinInt32, to)
}

func (t *tx) measurements(key int64, from, to civil.Date) ([]athlete.Measurement, error) {
	return list(t, `
		SELECT date, method, made_by, body_fat_pct, weight_kg, folds_mm, girths_cm, note
		FROM measurements WHERE athlete = ? AND date BETWEEN ? AND ? ORDER BY date, entry`,
		[]any{key, from, to}, scanMeasurement)
}

func scanMeasurement(rows *sql.Rows, m *athlete.Measurement) error {
	var folds, girths []byte
	err := rows.Scan(&m.Date, &m.Method, &m.By, &m.BodyFatPct, &m.WeightKg, &folds, &girths, &m.Note)
	if err != nil {
		return err
	}
	if folds != nil {
		if err := json.Unmarshal(folds, &m.FoldsMm); err != nil {
			return err
		}
	}
	if girths != nil {
		return json.Unmarshal(girths, &m.GirthsCm)
	}
	return nil
}

// PutMeasurements stores one measurement a date and series. A different one for
// the same replaces it whole, since its values were taken together.
func (t *tx) PutMeasurements(id string, ms []athlete.Measurement, from app.Source) (app.Merge, error) {
	type series struct {
		date   civil.Date
		series string
	}
	key, err := t.key(id)
	if err != nil {
		return app.Merge{}, err
	}
	return putRecords(t, key, ms, from, &records[series, athlete.Measurement]{
		date:  func(m *athlete.Measurement) civil.Date { return m.Date },
		key:   func(m *athlete.Measurement) series { return series{m.Date, m.Series()} },
		name:  (*athlete.Measurement).Series,
		check: (*athlete.Measurement).Validate,
		load: func(from, to civil.Date) ([]athlete.Measurement, error) {
			return t.measurements(key, from, to)
		},
		write: func(m *athlete.Measurement) error { return t.writeMeasurement(key, m) },
	})
}

func (t *tx) writeMeasurement(key int64, m *athlete.Measurement) error {
	folds, err := encodeMap(m.FoldsMm)
	if err != nil {
		return err
	}
	girths, err := encodeMap(m.GirthsCm)
	if err != nil {
		return err
	}
	return t.exec(`
		INSERT INTO measurements (athlete, date, method, made_by, body_fat_pct, weight_kg, folds_mm, girths_cm, note)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
		ON CONFLICT (athlete, date, method, made_by) DO UPDATE SET
			body_fat_pct = excluded.body_fat_pct, weight_kg = excluded.weight_kg,
			folds_mm = excluded.folds_mm, girths_cm = excluded.girths_cm, note = excluded.note`,
		key, m.Date, string(m.Method), m.By, pointed(m.BodyFatPct), pointed(m.WeightKg), folds, girths, m.Note)
}

// encodeMap is the JSON of a map, NULL for an empty one.
func encodeMap(m map[string]float64) (any, error) {
	if len(m) == 0 {
		return nil, nil
	}
	return encode(m)
}

// putRecords merges records into an athlete's and notes the corrections.
func putRecords[K comparable, V any](t *tx, key int64, in []V, from app.Source, r *records[K, V]) (app.Merge, error) {
	m, err := r.merge(in)
	if err != nil {
		return app.Merge{}, err
	}
	return m.Merge, t.addCorrections(key, m.corrections, from)
}
