package store

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"
	"glidepath/fault"
)

// merger counts what a merge does and gathers the corrections it makes.
type merger struct {
	app.Merge
	corrections []correction
}

// correction is one stored value changed.
type correction struct {
	date            civil.Date
	field, old, new string
}

func (m *merger) correct(date civil.Date, field, old, new string) {
	m.Corrected++
	m.corrections = append(m.corrections, correction{date, field, old, new})
}

// day merges in into stored, field by field.
func (m *merger) day(stored, in *athlete.Day) error {
	weight := stored.WeightKg
	names, have, get := dayNumberNames(), dayNumbers(stored), dayNumbers(in)
	for i := range names {
		mergeOptional(m, in.Date, names[i], have[i], *get[i], formatNumber)
	}
	if weight != nil && *weight != *stored.WeightKg && stored.WeightStands != nil && in.WeightStands == nil {
		m.correct(in.Date, "weight_stands", formatWord(*stored.WeightStands), "")
		stored.WeightStands = nil // the word was about the other weight
	}
	mergeOptional(m, in.Date, "cycle_day", &stored.CycleDay, in.CycleDay, strconv.Itoa)
	mergeOptional(m, in.Date, "weight_stands", &stored.WeightStands, in.WeightStands, formatWord)
	mergeText(m, in.Date, "day_type", &stored.DayType, in.DayType)
	mergeText(m, in.Date, "notes", &stored.Notes, in.Notes)
	mergeText(m, in.Date, "pain_where", &stored.PainWhere, in.PainWhere)
	return m.cardio(stored, in)
}

// cardio merges the day's bouts, which are one value: the log says what was
// done, not what was done besides.
func (m *merger) cardio(stored, in *athlete.Day) error {
	if len(in.Cardio) == 0 {
		return nil
	}
	text, err := encode(in.Cardio)
	if err != nil {
		return err
	}
	if len(stored.Cardio) == 0 {
		m.Added++
	} else {
		old, err := encode(stored.Cardio)
		if err != nil {
			return err
		}
		if old == text {
			m.Same++
			return nil
		}
		m.correct(in.Date, "cardio", old, text)
	}
	stored.Cardio = in.Cardio
	return nil
}

func mergeOptional[T comparable](m *merger, on civil.Date, field string, stored **T, in *T, format func(T) string) {
	switch {
	case in == nil:
		return
	case *stored == nil:
		m.Added++
	case **stored == *in:
		m.Same++
		return
	default:
		m.correct(on, field, format(**stored), format(*in))
	}
	*stored = in
}

func mergeText[T ~string](m *merger, on civil.Date, field string, stored *T, in T) {
	switch {
	case in == "":
		return
	case *stored == "":
		m.Added++
	case *stored == in:
		m.Same++
		return
	default:
		m.correct(on, field, string(*stored), string(in))
	}
	*stored = in
}

// formatNumber is the shortest decimal that reads back as the same number.
func formatNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func formatWord(w athlete.WeightStands) string {
	word := "left out"
	if w.Use {
		word = "used"
	}
	if w.Who != "" {
		word += " by " + w.Who
	}
	return word
}

// records merges dated records that are kept or replaced whole.
type records[K comparable, V any] struct {
	date  func(*V) civil.Date
	key   func(*V) K
	name  func(*V) string // what the record is, before the field in a correction
	check func(*V) error
	load  func(from, to civil.Date) ([]V, error)
	write func(*V) error // new, or in the place of the one with the same key
}

func (r *records[K, V]) merge(in []V) (merger, error) {
	var m merger
	if len(in) == 0 {
		return m, nil
	}
	first, last, err := span(in, r.date)
	if err != nil {
		return m, err
	}
	stored, err := r.load(first, last)
	if err != nil {
		return m, err
	}
	texts := make(map[K]string, len(stored)+len(in))
	for i := range stored {
		if texts[r.key(&stored[i])], err = encode(&stored[i]); err != nil {
			return m, err
		}
	}
	for i := range in {
		v := &in[i]
		if err := r.check(v); err != nil {
			return merger{}, err
		}
		text, err := encode(v)
		if err != nil {
			return merger{}, err
		}
		key := r.key(v)
		old, ok := texts[key]
		if ok && old == text {
			m.Same++
			continue
		}
		if ok {
			m.Corrected++
			changes, err := differences(old, text)
			if err != nil {
				return merger{}, err
			}
			for _, c := range changes {
				c.date, c.field = r.date(v), r.name(v)+": "+c.field
				m.corrections = append(m.corrections, c)
			}
		} else {
			m.Added++
		}
		texts[key] = text
		if err := r.write(v); err != nil {
			return merger{}, err
		}
	}
	return m, nil
}

// differences lists the fields in which two JSON objects differ, by name.
func differences(old, new string) ([]correction, error) {
	was, is := map[string]string{}, map[string]string{}
	for text, into := range map[string]map[string]string{old: was, new: is} {
		var v map[string]any
		if err := json.Unmarshal([]byte(text), &v); err != nil {
			return nil, err
		}
		flatten("", v, into)
	}
	var fields []string
	for f := range was {
		fields = append(fields, f)
	}
	for f := range is {
		if _, ok := was[f]; !ok {
			fields = append(fields, f)
		}
	}
	slices.Sort(fields)
	var changes []correction
	for _, f := range fields {
		if was[f] != is[f] {
			changes = append(changes, correction{field: f, old: was[f], new: is[f]})
		}
	}
	return changes, nil
}

func flatten(prefix string, v map[string]any, into map[string]string) {
	for k, v := range v {
		switch v := v.(type) {
		case map[string]any:
			flatten(prefix+k+".", v, into)
		case float64:
			into[prefix+k] = formatNumber(v)
		default:
			into[prefix+k] = fmt.Sprint(v)
		}
	}
}

// span is the first and the last date of records, none of which may be without.
func span[V any](records []V, date func(*V) civil.Date) (first, last civil.Date, err error) {
	first, last = date(&records[0]), date(&records[0])
	for i := range records {
		d := date(&records[i])
		if d.IsZero() {
			return 0, 0, fault.New(fault.Invalid, "a record has no date.").WithField("date")
		}
		first, last = min(first, d), max(last, d)
	}
	return first, last, nil
}
