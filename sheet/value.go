package sheet

import (
	"strings"

	"glidepath/athlete"
	"glidepath/fault"
)

// ReadQuantity reads a text such as "181.4 lb", "9800 kJ" or "7:30" as a field of
// a kind of table, in the domain's unit. A bare number is in bare, or, where that
// is empty, in the domain's unit; but a field that people write in several units
// (a weight, a girth) must then state its own. The error is a fault of kind
// Invalid; it panics on a field that the kind of table has not.
func ReadQuantity(k Kind, f Field, text string, bare Unit) (float64, error) {
	s := specOf(k, f)
	if s == nil {
		panic("sheet: no such field: " + string(f))
	}
	if bare == "" && s.unit() != Kg && s.unit() != Cm {
		bare = s.unit()
	}
	v, bad := quantity(text, bare, s.unit(), '.', s.accepts)
	if bad != nil {
		return 0, cellFault(f, text, bad)
	}
	return v, nil
}

// ReadBouts reads cardio as a cell of a log has it: "30 min incline walking; cycling 20".
// A stretch may say its speed, grade, watts, steps a minute and their height, what a
// machine or a watch claims, and the code of an activity that is none of the kinds:
// "incline walking 30 min 5 km/h 8 %; elliptical 20 min, machine 240 kcal; other 45 min
// code 15675".
func ReadBouts(text string) ([]athlete.CardioBout, error) {
	bouts, bad := cardioCell(text, "", Minute, '.')
	if bad != nil {
		return nil, cellFault(FieldCardio, text, bad)
	}
	return bouts, nil
}

func cellFault(f Field, text string, bad *cellError) error {
	e := fault.New(fault.Invalid, "%s %s", quote(text), strings.TrimPrefix(bad.why, "it "))
	e.Hint, e.Field, e.Value = bad.hint, string(f), clip(text)
	if strings.Contains(bad.why, "has no unit") {
		e.Message = quote(text) + " has no unit."
		e.Hint = "Write the unit, as in \"181.4 lb\", \"82.3 kg\" or \"76 cm\"."
	}
	return e
}

// ReadReps reads repetitions as a cell of a training log has them: one number, "3x8"
// for three sets, or one for each set as in "8/8/7".
func ReadReps(text string) ([]int, error) {
	reps, bad := repsCell(text, 0)
	if bad != nil {
		return nil, cellFault(FieldReps, text, bad)
	}
	return reps, nil
}

// ReadLoad reads the weight of a set in kg, with its unit; "BW" is body weight alone
// and 0, "BW+10 kg" ten more.
func ReadLoad(text string) (float64, error) {
	rest, body := overBody(text)
	if body && rest == "" {
		return 0, nil
	}
	return ReadQuantity(Training, FieldWeight, rest, "")
}

// ReadReserve reads repetitions in reserve from a text of them, or where that is
// empty from one of RPE: nil where both are. "1-2" is the middle of a range, "failure"
// is none.
func ReadReserve(rir, rpe string) (*float64, error) {
	text, f := rir, FieldRIR
	if text == "" {
		text, f = rpe, FieldRPE
	}
	if text == "" {
		return nil, nil
	}
	d := doseReader{text: text + " " + string(f)}
	if letters(text) != "" {
		d.text = text
	}
	e := athlete.PlannedExercise{Sets: 1, RepsLow: 1, RepsHigh: 1}
	if bad := d.read(&e); bad != nil || e.RIR == nil {
		if bad == nil {
			bad = notNumber()
		}
		return nil, cellFault(f, text, bad)
	}
	return e.RIR, nil
}

// ReadRegion reads a place of the body in people's words, such as "left knee".
func ReadRegion(text string) (athlete.Region, error) {
	region, _, ok := regionOf(text)
	if !ok {
		return "", cellFault(FieldPainWhere, text, unknownRegion())
	}
	return region, nil
}
