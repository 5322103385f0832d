package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"glidepath/athlete"
	"glidepath/civil"
)

// ReadMeasurements reads body fat, skinfolds and girths. Rows of one date, method
// and pair of hands are merged where they do not contradict each other; where
// they do, all of them are bad.
func ReadMeasurements(t *Table, m Mapping) (Result[athlete.Measurement], error) {
	r, err := newReader(t, &m, Measurements)
	if err != nil {
		return Result[athlete.Measurement]{}, err
	}
	type key struct {
		on     civil.Date
		series string
	}
	merged := newMerger[athlete.Measurement, key](r, "the same date and method", mergeMeasurements)
	for i := range t.Rows {
		if !r.start(&t.Rows[i]) {
			continue
		}
		before := len(r.bad)
		v, any := r.measurement()
		if !any && len(r.bad) == before {
			r.skip("left out without any value")
			continue
		}
		on, ok := r.date()
		if !ok || len(r.bad) > before {
			continue
		}
		v.Date = on
		if err := v.Validate(); err != nil {
			r.invalid(err)
			continue
		}
		merged.add(key{on, v.Series()}, v)
	}
	return merged.result(), nil
}

// measurement reads all but the date of the present row; any is whether it has a
// value.
func (r *reader) measurement() (v athlete.Measurement, any bool) {
	v.Method = r.m.Method
	for i := range r.mapped {
		c := &r.mapped[i]
		s := r.cell(c.Column)
		if s == "" || c.spec.form == date {
			continue
		}
		switch c.Field {
		case FieldMethod:
			method, ok := methodOf(s)
			if !ok {
				r.reject(c.Column, &cellError{"it is not a known method.", fmt.Sprintf("Known are %s.", methodList())})
			}
			v.Method = method
			continue
		case FieldBy:
			v.By = cleanText(s, maxName)
			continue
		case FieldNotes:
			v.Note = cleanText(r.row.Cells[c.Index], maxNote)
			continue
		}
		x, ok := r.quantity(c, s)
		if !ok {
			continue
		}
		any = true
		r.place(&v, c.Field, x)
	}
	if col := r.m.fields(FieldMethod); any && v.Method == "" && len(col) > 0 && r.cell(col[0]) == "" {
		r.reject(col[0], &cellError{"the measurement has no method.", fmt.Sprintf("Known are %s.", methodList())})
	}
	return v, any
}

func methodList() string {
	names := make([]string, 0, len(athlete.Methods()))
	for _, m := range athlete.Methods() {
		names = append(names, string(m))
	}
	return strings.Join(names, ", ")
}

func (r *reader) place(v *athlete.Measurement, f Field, x float64) {
	switch f {
	case FieldBodyFat:
		v.BodyFatPct = new(x)
		return
	case FieldWeight:
		v.WeightKg = new(x)
		return
	}
	if site, ok := strings.CutPrefix(string(f), foldPrefix); ok {
		if v.FoldsMm == nil {
			v.FoldsMm = map[string]float64{}
		}
		v.FoldsMm[site] = x
	} else if site, ok := strings.CutPrefix(string(f), girthPrefix); ok {
		if v.GirthsCm == nil {
			v.GirthsCm = map[string]float64{}
		}
		v.GirthsCm[site] = x
	}
}

func mergeMeasurements(into, from *athlete.Measurement) []clash {
	var out []clash
	number := func(f Field, a **float64, b *float64) {
		switch {
		case b == nil:
		case *a == nil:
			*a = b
		case **a != *b:
			out = append(out, clash{f, fmt.Sprintf("%g", **a), fmt.Sprintf("%g", *b)})
		}
	}
	number(FieldBodyFat, &into.BodyFatPct, from.BodyFatPct)
	number(FieldWeight, &into.WeightKg, from.WeightKg)
	sites := func(prefix string, a *map[string]float64, b map[string]float64) {
		for _, site := range slices.Sorted(maps.Keys(b)) {
			if old, has := (*a)[site]; has && old != b[site] {
				out = append(out, clash{Field(prefix + site), fmt.Sprintf("%g", old), fmt.Sprintf("%g", b[site])})
				continue
			}
			if *a == nil {
				*a = map[string]float64{}
			}
			(*a)[site] = b[site]
		}
	}
	sites(foldPrefix, &into.FoldsMm, from.FoldsMm)
	sites(girthPrefix, &into.GirthsCm, from.GirthsCm)
	if from.Note != "" && !strings.Contains(into.Note, from.Note) {
		into.Note = strings.TrimPrefix(into.Note+"; "+from.Note, "; ")
	}
	return out
}
