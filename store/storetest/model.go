package storetest

import (
	"fmt"
	"slices"
	"strings"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/civil"

	"pgregory.net/rapid"
)

// modelDay is a day in the plainest form: the text of each field by name.
type modelDay map[string]string

func (m modelDay) String() string {
	var b strings.Builder
	for _, c := range fieldCases() {
		if v, ok := m[c.name]; ok {
			b.WriteString(c.name + "=" + v + " ")
		}
	}
	return b.String()
}

type modelLog map[civil.Date]modelDay

// put merges one value and says how it counts.
func (l modelLog) put(on civil.Date, field, value string, m *app.Merge) {
	if l[on] == nil {
		l[on] = modelDay{}
	}
	old, ok := l[on][field]
	switch {
	case !ok:
		m.Added++
	case old == value:
		m.Same++
	default:
		m.Corrected++
	}
	l[on][field] = value
}

// likeModel puts random files of days and compares the store with a map of
// texts that merges in the plainest way. Each run has an athlete of its own.
func likeModel(s *suite) {
	run := 0
	rapid.Check(s, func(t *rapid.T) {
		run++
		id := fmt.Sprintf("model-%d", run)
		s.putAthletes(id)
		log := modelLog{}
		var corrected int
		for range rapid.IntRange(1, 4).Draw(t, "files") {
			var want app.Merge
			file := rapid.SliceOfN(rapid.Custom(drawDay), 0, 8).Draw(t, "file")
			for _, d := range file {
				for field, value := range plain(&d) {
					log.put(d.Date, field, value, &want)
				}
			}
			got := s.putDays(id, file...)
			if got != want {
				t.Fatalf("merge %+v, the model has %+v", got, want)
			}
			corrected += want.Corrected
			if stored := plainLog(s.days(id)); stored != plainModel(log) {
				t.Fatalf("stored:\n%s\nmodel:\n%s", stored, plainModel(log))
			}
		}
		if n := len(s.corrections(id)); n != corrected {
			t.Fatalf("%d corrections, the model has %d", n, corrected)
		}
	})
}

// drawDay draws from so few dates and values that they meet often. A weight
// never comes with a word on it: that rule has its own test.
func drawDay(t *rapid.T) athlete.Day {
	d := athlete.Day{Date: monday.AddDays(rapid.IntRange(0, 3).Draw(t, "day"))}
	number := rapid.Ptr(rapid.SampledFrom([]float64{60, 60.1, 61}), true)
	d.WeightKg = number.Draw(t, "weight")
	d.EnergyKcal = number.Draw(t, "energy")
	d.RestingPulse = number.Draw(t, "pulse")
	d.CycleDay = rapid.Ptr(rapid.IntRange(1, 2), true).Draw(t, "cycle")
	d.DayType = rapid.SampledFrom([]athlete.DayType{"", athlete.RestDay, athlete.RefeedDay}).Draw(t, "type")
	d.Notes = rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "notes")
	if m := rapid.IntRange(0, 2).Draw(t, "cardio"); m > 0 {
		d.Cardio = []athlete.CardioBout{{Kind: athlete.Walking, Minutes: float64(m)}}
	}
	return d
}

// plain is a day as texts.
func plain(d *athlete.Day) modelDay {
	m := modelDay{}
	for field, v := range map[string]*float64{
		"weight_kg": d.WeightKg, "energy_kcal": d.EnergyKcal, "resting_pulse": d.RestingPulse,
	} {
		if v != nil {
			m[field] = fmt.Sprint(*v)
		}
	}
	if d.CycleDay != nil {
		m["cycle_day"] = fmt.Sprint(*d.CycleDay)
	}
	if d.DayType != "" {
		m["day_type"] = string(d.DayType)
	}
	if d.Notes != "" {
		m["notes"] = d.Notes
	}
	if len(d.Cardio) > 0 {
		m["cardio"] = fmt.Sprint(d.Cardio[0].Kind, d.Cardio[0].Minutes)
	}
	return m
}

func plainLog(days []athlete.Day) (text string) {
	for i := range days {
		text += fmt.Sprintln(days[i].Date, plain(&days[i]))
	}
	return text
}

func plainModel(log modelLog) (text string) {
	var dates []civil.Date
	for d := range log {
		dates = append(dates, d)
	}
	slices.Sort(dates)
	for _, d := range dates {
		text += fmt.Sprintln(d, log[d])
	}
	return text
}
