package sheet

import (
	"regexp"
	"strconv"
	"strings"

	"glidepath/athlete"
)

const boutNumber = `(\d+(?:[.,]\d+)?)\s*`

// boutNotes are what a stretch of cardio may say of itself beside its minutes and
// kind, in the order in which they are looked for.
var boutNotes = []struct {
	form *regexp.Regexp
	note func(b *athlete.CardioBout, found []string)
}{
	{regexp.MustCompile(`(?i)\bcode\s*(\d{1,5})\b`), func(b *athlete.CardioBout, found []string) { b.Code = activityCode(found[1]) }},
	{regexp.MustCompile(`(?i)\b(machine|watch)?\s*` + boutNumber + `kcal\b`), func(b *athlete.CardioBout, found []string) {
		b.ClaimedKcal, b.ClaimedBy = boutValue(found[2]), claimSource(found[1])
	}},
	{regexp.MustCompile(`(?i)` + boutNumber + `steps\s*(?:/|a|per)\s*min(?:ute)?\b`), func(b *athlete.CardioBout, found []string) { b.StepsPerMin = boutValue(found[1]) }},
	{regexp.MustCompile(`(?i)` + boutNumber + `(km/h|kmh|kph|mph)\b`), func(b *athlete.CardioBout, found []string) {
		b.SpeedKmh = boutValue(found[1])
		if strings.EqualFold(found[2], "mph") {
			*b.SpeedKmh = convert(*b.SpeedKmh, MilePerHour, KmPerHour)
		}
	}},
	{regexp.MustCompile(`(-?` + boutNumber + `)%`), func(b *athlete.CardioBout, found []string) { b.GradePct = boutValue(strings.TrimSpace(found[1])) }},
	{regexp.MustCompile(`(?i)` + boutNumber + `w(?:atts?)?\b`), func(b *athlete.CardioBout, found []string) { b.Watts = boutValue(found[1]) }},
	{regexp.MustCompile(`(?i)` + boutNumber + `cm(?:\s+steps?)?\b`), func(b *athlete.CardioBout, found []string) { b.StepHeightCm = boutValue(found[1]) }},
}

// boutValue reads a number that a form has found.
func boutValue(digits string) *float64 {
	v, err := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
	if err != nil {
		panic("sheet: a form of a stretch of cardio finds what is no number: " + digits)
	}
	return &v
}

// cutNotes takes out of a stretch's text what it says of itself, and notes it.
func cutNotes(s string, b *athlete.CardioBout) (rest string, noted bool) {
	for _, n := range boutNotes {
		at := n.form.FindStringSubmatchIndex(s)
		if at == nil {
			continue
		}
		found := make([]string, len(at)/2)
		for i := range found {
			if at[2*i] >= 0 {
				found[i] = s[at[2*i]:at[2*i+1]]
			}
		}
		n.note(b, found)
		s, noted = s[:at[0]]+" "+s[at[1]:], true
	}
	return strings.TrimSpace(strings.Join(strings.Fields(s), " ")), noted
}

// boutsIn reads the stretches of a text. A part that only says how the one before
// it was done, as in "30 elliptical, machine 320 kcal", belongs to that one.
func boutsIn(parts []string, kind athlete.CardioKind, unit Unit, decimal byte) ([]athlete.CardioBout, *cellError) {
	var out []athlete.CardioBout
	for _, part := range parts {
		var said athlete.CardioBout
		rest, noted := cutNotes(part, &said)
		if noted && rest == "" && len(out) > 0 {
			cutNotes(part, &out[len(out)-1])
			continue
		}
		if letters(rest) == string(athlete.OtherActivity) && said.Code == "" {
			return nil, &cellError{"it does not say which activity.", `Give its code, as in "other 45 min code 15675".`}
		}
		of := kind
		if said.Code != "" {
			rest, of = strings.TrimSpace(strings.Replace(rest, string(athlete.OtherActivity), "", 1)), athlete.OtherActivity
		}
		b, bad := oneBout(rest, of, unit, decimal)
		if bad != nil {
			return nil, bad
		}
		said.Kind, said.Minutes = b.Kind, b.Minutes
		if said.Minutes > 0 {
			out = append(out, said)
		}
	}
	return out, nil
}
