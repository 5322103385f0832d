package web

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// dayField is one field of the day page: how a day's value reads as text in the
// athlete's units, and back. Its name is the day's own in JSON.
type dayField struct {
	name, label, hint string
	mode              string // decimal, numeric, select, cardio or text
	unit              func(athlete.Units) string
	more              bool // among those that few fill in
	shown             func(*athlete.Athlete) bool
	get               func(*athlete.Day, athlete.Units) string
	// set puts a text that is not empty into a day. now is the day as it is stored.
	set func(put *athlete.Day, text string, now *athlete.Day, u athlete.Units) error
}

func always(*athlete.Athlete) bool { return true }

func inUnit(unit string) func(athlete.Units) string {
	return func(athlete.Units) string { return unit }
}

// dayFields are in the order of a day.
func dayFields() []dayField {
	whole, part := "numeric", "decimal"
	return []dayField{
		weightField(),
		numberField("energy_kcal", "Energy eaten", "kcal", whole, "", func(d *athlete.Day) **float64 { return &d.EnergyKcal }),
		numberField("protein_g", "Protein", "g", part, "", func(d *athlete.Day) **float64 { return &d.ProteinG }),
		numberField("carbohydrate_g", "Carbohydrate", "g", part, "", func(d *athlete.Day) **float64 { return &d.CarbohydrateG }),
		numberField("fat_g", "Fat", "g", part, "", func(d *athlete.Day) **float64 { return &d.FatG }),
		numberField("fibre_g", "Fibre", "g", part, "", func(d *athlete.Day) **float64 { return &d.FibreG }),
		numberField("steps", "Steps", "", whole, "", func(d *athlete.Day) **float64 { return &d.Steps }),
		{
			name: "cardio", label: "Cardio", mode: "cardio", unit: inUnit("minutes"), shown: always,
			get: func(d *athlete.Day, _ athlete.Units) string { return boutsText(d.Cardio) }, set: setCardio,
		},
		sleepField(),
		numberField("hunger", "Hunger", "1 to 10", whole, "10 is constant.", func(d *athlete.Day) **float64 { return &d.Hunger }),
		numberField("fatigue", "Fatigue", "1 to 10", whole, "10 is worn out.", func(d *athlete.Day) **float64 { return &d.Fatigue }),
		numberField("pain", "Pain", "0 to 10", whole, "Sore muscles are none.", func(d *athlete.Day) **float64 { return &d.Pain }),
		painWhereField(),
		{
			name: "cycle_day", label: "Day of the cycle", mode: whole, hint: "1 is the first day of bleeding.", unit: inUnit(""),
			shown: func(a *athlete.Athlete) bool { return a.MenstrualCycle },
			get: func(d *athlete.Day, _ athlete.Units) string {
				if d.CycleDay == nil {
					return ""
				}
				return strconv.Itoa(*d.CycleDay)
			},
			set: func(put *athlete.Day, text string, _ *athlete.Day, _ athlete.Units) error {
				v, err := strconv.Atoi(text)
				if err != nil {
					return notNumber(text)
				}
				put.CycleDay = &v
				return nil
			},
		},
		{
			name: "notes", label: "Anything your coach should know", mode: "text", unit: inUnit(""), shown: always,
			get: func(d *athlete.Day, _ athlete.Units) string { return d.Notes },
			set: func(put *athlete.Day, text string, _ *athlete.Day, _ athlete.Units) error {
				const most = 4000
				if len(text) > most {
					return fault.New(fault.Invalid, "the text is longer than %d characters.", most)
				}
				put.Notes = strings.ReplaceAll(text, "\r\n", "\n")
				return nil
			},
		},
		rarely(numberField("soreness", "Soreness", "1 to 10", whole, "10 is very sore.", func(d *athlete.Day) **float64 { return &d.Soreness })),
		rarely(numberField("motivation", "Motivation", "1 to 10", whole, "10 is eager to train.", func(d *athlete.Day) **float64 { return &d.Motivation })),
		rarely(numberField("mood", "Mood", "1 to 10", whole, "1 is low, 10 good.", func(d *athlete.Day) **float64 { return &d.Mood })),
		rarely(numberField("resting_pulse", "Pulse at rest", "a minute", whole, "Before getting up.", func(d *athlete.Day) **float64 { return &d.RestingPulse })),
		dayTypeField(),
	}
}

// rarely puts a field among those that few fill in.
func rarely(f dayField) dayField {
	f.more = true
	return f
}

func painWhereField() dayField {
	return dayField{
		name: "pain_where", label: "Where it hurts", mode: "select", unit: inUnit(""), shown: always,
		get: func(d *athlete.Day, _ athlete.Units) string { return string(d.PainWhere) },
		set: func(put *athlete.Day, text string, _ *athlete.Day, _ athlete.Units) error {
			put.PainWhere = athlete.Region(text)
			return nil
		},
	}
}

func dayTypeField() dayField {
	return dayField{
		name: "day_type", label: "Kind of day", mode: "select", unit: inUnit(""), shown: always, more: true,
		hint: "Left empty it goes by your training days.",
		get:  func(d *athlete.Day, _ athlete.Units) string { return string(d.DayType) },
		set: func(put *athlete.Day, text string, _ *athlete.Day, _ athlete.Units) error {
			put.DayType = athlete.DayType(text)
			return nil
		},
	}
}

func weightField() dayField {
	f := numberField("weight_kg", "Weight", "", "decimal", "In the morning, before food and drink.", func(d *athlete.Day) **float64 { return &d.WeightKg })
	f.unit = athlete.Units.WeightUnit
	get, set := f.get, f.set
	f.get = func(d *athlete.Day, u athlete.Units) string {
		if d.WeightKg == nil {
			return ""
		}
		return get(&athlete.Day{WeightKg: new(u.WeightNumber(*d.WeightKg))}, u)
	}
	f.set = func(put *athlete.Day, text string, now *athlete.Day, u athlete.Units) error {
		if err := set(put, text, now, u); err != nil {
			return err
		}
		*put.WeightKg /= u.WeightNumber(1)
		return nil
	}
	return f
}

// sleepField takes hours as 7.5 and as 7:30.
func sleepField() dayField {
	f := numberField("sleep_h", "Sleep", "hours", "decimal", "", func(d *athlete.Day) **float64 { return &d.SleepH })
	set := f.set
	f.set = func(put *athlete.Day, text string, now *athlete.Day, u athlete.Units) error {
		if h, m, ok := strings.Cut(text, ":"); ok {
			hours, err1 := strconv.Atoi(h)
			minutes, err2 := strconv.Atoi(m)
			if err1 != nil || err2 != nil || minutes < 0 || minutes > 59 {
				return notNumber(text)
			}
			put.SleepH = new(float64(hours) + float64(minutes)/60)
			return nil
		}
		return set(put, text, now, u)
	}
	return f
}

func numberField(name, label, unit, mode, hint string, at func(*athlete.Day) **float64) dayField {
	return dayField{
		name: name, label: label, hint: hint, mode: mode, unit: inUnit(unit), shown: always,
		get: func(d *athlete.Day, _ athlete.Units) string {
			if v := *at(d); v != nil {
				return shortNumber(*v)
			}
			return ""
		},
		set: func(put *athlete.Day, text string, _ *athlete.Day, _ athlete.Units) error {
			v, err := typedNumber(text, mode == "numeric")
			if err != nil {
				return err
			}
			*at(put) = &v
			return nil
		},
	}
}

// shortNumber is a number as one types it, to two decimals.
func shortNumber(v float64) string {
	const hundredths = 100
	return strconv.FormatFloat(math.Round(v*hundredths)/hundredths, 'f', -1, 64)
}

// grouped is a whole number with marks at the thousands, as 2,150 or 12 400.
var grouped = regexp.MustCompile(`^\d{1,3}([,.\x{2009}\x{a0}' ]\d{3})+$`)

// typedNumber reads a number with a point or a comma. Where whole numbers are
// meant, 2,150 and 2.150 are two thousand.
func typedNumber(text string, whole bool) (float64, error) {
	clean := strings.ReplaceAll(text, ",", ".")
	if whole && grouped.MatchString(text) {
		clean = strings.Map(func(r rune) rune {
			if r < '0' || r > '9' {
				return -1
			}
			return r
		}, text)
	}
	v, err := strconv.ParseFloat(clean, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(text, "xXpPeE_") {
		return 0, notNumber(text)
	}
	return v, nil
}

func notNumber(text string) error {
	return fault.New(fault.Invalid, "%q is not a number.", text).WithHint("Type it as in 82.4.")
}

func fieldNamed(name string) (dayField, bool) {
	all := dayFields()
	i := slices.IndexFunc(all, func(f dayField) bool { return f.name == name })
	if i < 0 {
		return dayField{}, false
	}
	return all[i], true
}

// clash is a value that was stored since the reader last saw it.
type clash struct{ field, present string }

func (c *clash) Error() string {
	return fmt.Sprintf("%s is %q by now", c.field, c.present)
}

// amend says what a typed text changes in a day as it stands: something to put,
// or to drop, or nothing. seen are the texts that the reader may have known: the one
// on the page, and what was sent before without an answer. Where the day has another
// by now, it is a clash, unless that is what was typed.
func (f *dayField) amend(put *athlete.Day, text string, seen []string, now *athlete.Day, u athlete.Units) (drop bool, err error) {
	present := f.get(now, u)
	typed, err := f.stored(text, now, u)
	if err != nil {
		return false, f.wrong(err)
	}
	switch {
	case sameText(typed, present):
		return false, nil
	case !slices.ContainsFunc(seen, func(one string) bool { return f.same(one, present, now, u) }):
		return false, &clash{f.name, present}
	case typed == "":
		return true, nil
	}
	return false, f.set(put, text, now, u)
}

// stored is a typed text as it would read once it is stored.
func (f *dayField) stored(text string, now *athlete.Day, u athlete.Units) (string, error) {
	if text == "" {
		return "", nil
	}
	one := athlete.Day{}
	if err := f.set(&one, text, now, u); err != nil {
		return "", err
	}
	one.Date = now.Date
	return f.get(&one, u), one.Validate()
}

// same reports whether a text that was seen or typed is the one that is stored.
func (f *dayField) same(text, present string, now *athlete.Day, u athlete.Units) bool {
	stored, err := f.stored(text, now, u)
	return sameText(text, present) || err == nil && sameText(stored, present)
}

// sameText compares texts as a form may bring them back: without the space around
// them, and with line ends of its own.
func sameText(a, b string) bool {
	plain := func(s string) string { return strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n")) }
	return plain(a) == plain(b)
}

// wrong names the field in a fault.
func (f *dayField) wrong(err error) error {
	for _, one := range fault.All(err) {
		one.Field = f.name
	}
	return err
}
