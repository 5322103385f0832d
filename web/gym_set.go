package web

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"glidepath/app"
	"glidepath/athlete"
	"glidepath/fault"
)

// setText writes a set as "80 kg × 8, 2 RIR, left; a note", or with RPE 8: whole and
// in words, so that it can wait on a phone and be told to its reader.
func setText(s *athlete.Set, u athlete.Units, e athlete.EffortScale) string {
	p := setParts{Weight: gymWeight(s.WeightKg, u), Reps: strconv.Itoa(s.Reps), Side: s.Side, Note: s.Notes}
	if s.RIR != nil {
		p.Effort = shortNumber(e.OfRIR(*s.RIR))
	}
	return p.text(u, e)
}

// setParts are the parts of a set as they are typed.
type setParts struct{ Weight, Reps, Effort, Side, Note string }

// text is empty where neither weight nor repetitions are there.
func (p setParts) text(u athlete.Units, e athlete.EffortScale) string {
	if p.Weight == "" && p.Reps == "" {
		return ""
	}
	out := p.Weight + " " + u.WeightUnit() + " × " + p.Reps
	if p.Effort != "" && e == athlete.Exertion {
		out += ", RPE " + p.Effort
	} else if p.Effort != "" {
		out += ", " + p.Effort + " RIR"
	}
	if p.Side != "" {
		out += ", " + p.Side
	}
	if p.Note != "" {
		out += "; " + p.Note
	}
	return out
}

// gymWeight is a weight as plates make it: what was typed in this unit as it was,
// what was not to the half pound or the quarter kilogram.
func gymWeight(kg float64, u athlete.Units) string {
	step := 0.25
	if u == athlete.Imperial {
		step = 0.5
	}
	v := u.WeightNumber(kg)
	const perUnit = 20 // a twentieth is the finest that is typed
	if math.Abs(v*perUnit-math.Round(v*perUnit)) > 1e-6 {
		v = math.Round(v/step) * step
	}
	return shortNumber(v)
}

// Bounds of what is typed: beyond them it is a slip.
const (
	mostExerciseName = 80
	mostSetNote      = 500
	mostSets         = 200 // of a day
)

// readSet reads what setText writes, in either unit; nil where the text is empty. The
// exercise and the place are not in it.
func readSet(text string) (*athlete.Set, athlete.Units, error) {
	u := athlete.Metric
	if text == "" {
		return nil, u, nil
	}
	var s athlete.Set
	text, s.Notes, _ = strings.Cut(text, "; ")
	if len(s.Notes) > mostSetNote {
		return nil, u, fault.New(fault.Invalid, "the note is longer than %d characters.", mostSetNote)
	}
	parts := strings.Split(text, ", ")
	weight, reps, _ := strings.Cut(parts[0], " × ")
	weight, unit, _ := strings.Cut(weight, " ")
	if unit == athlete.Imperial.WeightUnit() {
		u = athlete.Imperial
	}
	switch {
	case weight == "":
		return nil, u, fault.New(fault.Invalid, "the set has no weight.").WithHint("Type 0 where it is your own body alone.")
	case reps == "":
		return nil, u, fault.New(fault.Invalid, "the set has no repetitions.").WithHint("Type how many you did.")
	}
	v, err := typedNumber(weight, false)
	if err != nil {
		return nil, u, err
	}
	s.WeightKg = v / u.WeightNumber(1)
	if s.Reps, err = strconv.Atoi(reps); err != nil {
		return nil, u, fault.New(fault.Invalid, "%q is no number of repetitions.", reps).WithHint("Type a whole number, as 8.")
	}
	for _, part := range parts[1:] {
		if err := readOf(&s, part); err != nil {
			return nil, u, err
		}
	}
	return &s, u, nil
}

// readOf reads how hard a set was, or which side it was done on.
func readOf(s *athlete.Set, part string) error {
	if part == "left" || part == "right" {
		s.Side = part
		return nil
	}
	scale := athlete.Exertion
	number, is := strings.CutPrefix(part, "RPE ")
	if !is {
		if number, is = strings.CutSuffix(part, " RIR"); !is {
			return fault.New(fault.Invalid, "%q is not understood.", part)
		}
		scale = athlete.InReserve
	}
	v, err := typedNumber(number, false)
	s.RIR = new(scale.OfRIR(v))
	return err
}

// sameSet reports whether two sets read the same; either may be nil.
func sameSet(a, b *athlete.Set, u athlete.Units) bool {
	if a == nil || b == nil {
		return a == b
	}
	return setText(a, u, athlete.InReserve) == setText(b, u, athlete.InReserve)
}

// setOf finds a set by its exercise and place; nil where there is none.
func setOf(sets []athlete.Set, exercise string, order int) *athlete.Set {
	i := slices.IndexFunc(sets, func(s athlete.Set) bool { return s.Exercise == exercise && s.Order == order })
	if i < 0 {
		return nil
	}
	return &sets[i]
}

// amendSet adds to a change what a typed set changes of the log. seen is as in
// dayField.amend.
func amendSet(c *app.GymChange, a *athlete.Athlete, exercise string, order int, text string, seen []string, now []athlete.Set) error {
	if err := checkPlace(exercise, order); err != nil {
		return err
	}
	typed, u, err := readSet(text)
	if err != nil {
		return err
	}
	present := setOf(now, exercise, order)
	if sameSet(typed, present, u) {
		return nil
	}
	if !slices.ContainsFunc(seen, func(one string) bool {
		before, u, err := readSet(one)
		return err == nil && sameSet(before, present, u)
	}) {
		if present == nil {
			return &clash{exercise, ""}
		}
		return &clash{exercise, setText(present, a.Units, a.Effort)}
	}
	if typed == nil {
		c.Drop = append(c.Drop, *present)
		return nil
	}
	if present == nil && len(now) >= mostSets {
		return fault.New(fault.Invalid, "a day takes up to %d sets here.", mostSets)
	}
	typed.Exercise, typed.Order = exercise, order
	if present != nil && gymWeight(present.WeightKg, u) == gymWeight(typed.WeightKg, u) {
		typed.WeightKg = present.WeightKg // as exact as it was
	}
	c.Sets = append(c.Sets, *typed)
	return nil
}

func checkPlace(exercise string, order int) error {
	const last = 999
	if exercise == "" || len(exercise) > mostExerciseName || strings.ContainsFunc(exercise, unicode.IsControl) {
		return fault.New(fault.Invalid, "an exercise has a name of 1 to %d characters.", mostExerciseName)
	}
	if order < 0 || order > last {
		return fault.New(fault.Invalid, "the place of a set in the day is not a number up to %d.", last)
	}
	return nil
}

// sessionText writes a session as "65 min, RPE 7".
func sessionText(s *athlete.Session) string {
	if s == nil {
		return ""
	}
	return sessionParts{shortNumber(s.Minutes), shortNumber(s.RPE)}.text()
}

// sessionParts are the parts of a session as they are typed.
type sessionParts struct{ Minutes, RPE string }

func (p sessionParts) text() string {
	if p.Minutes == "" && p.RPE == "" {
		return ""
	}
	return p.Minutes + " min, RPE " + p.RPE
}

// readSession reads what sessionText writes; nil where the text is empty.
func readSession(text string) (*athlete.Session, error) {
	if text == "" {
		return nil, nil
	}
	minutes, rpe, _ := strings.Cut(text, " min, RPE ")
	if minutes == "" || rpe == "" {
		return nil, fault.New(fault.Invalid, "a session needs both its minutes and how hard it was.")
	}
	var s athlete.Session
	var err error
	if s.Minutes, err = typedNumber(minutes, false); err != nil {
		return nil, err
	}
	s.RPE, err = typedNumber(rpe, false)
	return &s, err
}

// amendSession is amendSet for the session as a whole. One that is there is changed,
// not taken out.
func amendSession(c *app.GymChange, text string, seen []string, now *athlete.Session) error {
	typed, err := readSession(text)
	present := sessionText(now)
	switch {
	case err != nil:
		return err
	case sessionText(typed) == present:
		return nil
	case !slices.ContainsFunc(seen, func(one string) bool {
		before, err := readSession(one)
		return err == nil && sessionText(before) == present
	}):
		return &clash{"session", present}
	case typed == nil:
		return fault.New(fault.Invalid, "a session that is kept is not emptied.").WithHint("Type 0 minutes where there was none.")
	}
	c.Session = typed
	return nil
}
