package sheet

import (
	"math"
	"slices"
	"strings"

	"glidepath/athlete"
)

// Kind is what the rows of a table are.
type Kind string

// The kinds of table. A training table gives both sets and sessions.
const (
	Days         Kind = "days"
	Training     Kind = "training"
	Measurements Kind = "measurements"
	// Programmes is a table of planned sets: no log, and never guessed.
	Programmes Kind = "programme"
)

// Kinds lists every kind of log.
func Kinds() []Kind { return []Kind{Days, Training, Measurements} }

// Field is what a column means. Skinfolds and girths are "fold." and "girth."
// with the domain's name of the site, as in "girth.waist".
type Field string

// The fields.
const (
	FieldDate           Field = "date"
	FieldWeight         Field = "weight" // body weight, or in training the weight lifted
	FieldEnergy         Field = "energy"
	FieldProtein        Field = "protein"
	FieldCarbohydrate   Field = "carbohydrate"
	FieldFat            Field = "fat"
	FieldFibre          Field = "fibre"
	FieldSodium         Field = "sodium"
	FieldSteps          Field = "steps"
	FieldCardio         Field = "cardio" // minutes, with or without the kind in the same cell
	FieldCardioKind     Field = "cardio_kind"
	FieldCardioSpeed    Field = "cardio_speed"
	FieldCardioGrade    Field = "cardio_grade"
	FieldCardioWatts    Field = "cardio_watts"
	FieldCardioStepRate Field = "cardio_step_rate"   // steps a minute
	FieldCardioStep     Field = "cardio_step_height" // of one step
	FieldCardioCode     Field = "cardio_code"        // of another activity
	FieldCardioClaimed  Field = "cardio_claimed"     // energy that a machine or a watch shows
	FieldCardioBy       Field = "cardio_claimed_by"
	FieldSleep          Field = "sleep"
	FieldHunger         Field = "hunger"
	FieldFatigue        Field = "fatigue"
	FieldSoreness       Field = "soreness"
	FieldMotivation     Field = "motivation"
	FieldMood           Field = "mood"
	FieldPain           Field = "pain"
	FieldPainWhere      Field = "pain_where"
	FieldRestingPulse   Field = "resting_pulse"
	FieldCycleDay       Field = "cycle_day"
	FieldDayType        Field = "day_type"
	FieldNotes          Field = "notes"
	FieldWeightStands   Field = "weight_stands"
	FieldWeightStandsBy Field = "weight_stands_by"

	FieldExercise       Field = "exercise"
	FieldReps           Field = "reps"
	FieldRIR            Field = "rir"
	FieldRPE            Field = "rpe"
	FieldSets           Field = "sets" // how many sets the row stands for
	FieldSide           Field = "side"
	FieldSessionMinutes Field = "session_minutes"
	FieldSessionRPE     Field = "session_rpe"

	FieldWeek         Field = "week"
	FieldDay          Field = "day" // of the week
	FieldSession      Field = "session"
	FieldDeload       Field = "deload"
	FieldRest         Field = "rest" // between sets
	FieldSessionNotes Field = "session_notes"

	FieldMethod  Field = "method"
	FieldBy      Field = "by"
	FieldBodyFat Field = "body_fat"
)

const (
	foldPrefix  = "fold."
	girthPrefix = "girth."
)

// Unit is how a column writes a quantity.
type Unit string

// The units that are read.
const (
	Kg          Unit = "kg"
	Pound       Unit = "lb"
	Stone       Unit = "st"
	Kcal        Unit = "kcal"
	KJ          Unit = "kJ"
	Gram        Unit = "g"
	Milligram   Unit = "mg"
	SaltGram    Unit = "g-salt" // grams of salt, in a sodium column
	Second      Unit = "s"
	Minute      Unit = "min"
	Hour        Unit = "h"
	DayFraction Unit = "day-fraction" // how a spreadsheet stores a time of day
	KmPerHour   Unit = "km/h"
	MilePerHour Unit = "mph"
	Mm          Unit = "mm"
	Cm          Unit = "cm"
	Inch        Unit = "in"
	Foot        Unit = "ft"
	Percent     Unit = "%"
	Fraction    Unit = "fraction" // how a spreadsheet stores a percentage
	Count       Unit = "count"
	Thousand    Unit = "thousand"
	BeatsPerMin Unit = "bpm"
	Watt        Unit = "W"
	OneToTen    Unit = "1-10"
	OneToFive   Unit = "1-5"
)

// Kilojoules in a kilocalorie: the thermochemical calorie is 4.184 J exactly.
const kjPerKcal = 4.184

// affine turns a written value into the domain's unit: v*scale + shift.
type affine struct{ scale, shift float64 }

// toDomain has the factor from a unit to the unit that the domain uses for the
// same quantity. Pound and inch are exact by the agreement of 1959; the mile is
// 1.609344 km exactly; salt is sodium times 2.5 by Regulation (EU) 1169/2011,
// Annex I. A 1 to 5 scale is stretched so that its ends meet those of 1 to 10.
var toDomain = map[Unit]affine{
	Kg: {1, 0}, Pound: {athlete.KgPerPound, 0}, Stone: {14 * athlete.KgPerPound, 0},
	Kcal: {1, 0}, KJ: {1 / kjPerKcal, 0},
	Gram: {1, 0}, Milligram: {1, 0}, SaltGram: {1000 / 2.5, 0},
	Second: {1, 0}, Minute: {1, 0}, Hour: {1, 0}, DayFraction: {24, 0},
	KmPerHour: {1, 0}, MilePerHour: {1.609344, 0},
	Mm: {1, 0}, Cm: {1, 0}, Inch: {athlete.CmPerInch, 0}, Foot: {12 * athlete.CmPerInch, 0},
	Percent: {1, 0}, Fraction: {100, 0},
	Count: {1, 0}, Thousand: {1000, 0}, BeatsPerMin: {1, 0}, Watt: {1, 0},
	OneToTen: {1, 0}, OneToFive: {9.0 / 4, 1 - 9.0/4},
}

// conversion is toDomain for a unit within a quantity whose domain unit is base:
// minutes of sleep become hours, hours of cardio become minutes.
func conversion(u, base Unit) affine {
	switch {
	case u == base:
		return affine{1, 0}
	case u == Minute && base == Second:
		return affine{60, 0}
	case u == Minute && base == Hour:
		return affine{1.0 / 60, 0}
	case u == Hour && base == Minute:
		return affine{60, 0}
	case u == DayFraction && base == Minute:
		return affine{24 * 60, 0}
	case u == Gram && base == Milligram:
		return affine{1000, 0}
	case u == Milligram && base == Gram:
		return affine{1.0 / 1000, 0}
	}
	return toDomain[u]
}

// form is how the cells of a field are read.
type form int

const (
	number form = iota
	text
	date
	cardio
	repsForm
)

// span is a range of values that people do write in a unit. The ranges are
// judgement, wide on purpose: they serve to tell units apart, and two that
// overlap lead to a question.
type span struct {
	unit      Unit
	low, high float64
}

// spec is what the program knows of a field in a kind of table.
type spec struct {
	field  Field
	domain string // the field's name in the domain's faults
	form   form
	spans  []span // accepted units, the domain's own first; none for text
	many   bool   // several columns may give it, told apart by group
	words  string // headings, separated by commas; compared without case, accents and spaces
}

// unit is the domain's own unit of the field, "" for text.
func (s *spec) unit() Unit {
	if len(s.spans) == 0 {
		return ""
	}
	return s.spans[0].unit
}

func (s *spec) accepts(u Unit) bool {
	return slices.ContainsFunc(s.spans, func(p span) bool { return p.unit == u })
}

// numeric reports whether most cells of the field are numbers.
func (s *spec) numeric() bool { return s.form == number || s.form == repsForm }

// specOf finds a field in a kind of table; nil where the kind has no such field.
func specOf(k Kind, f Field) *spec {
	return specIndex[k][f]
}

var specIndex = func() map[Kind]map[Field]*spec {
	index := map[Kind]map[Field]*spec{}
	for k, list := range specs {
		index[k] = make(map[Field]*spec, len(list))
		for i := range list {
			index[k][list[i].field] = &list[i]
		}
	}
	return index
}()

// fieldNames lists the fields of a kind, for messages.
func fieldNames(k Kind) string {
	names := make([]string, len(specs[k]))
	for i, s := range specs[k] {
		names[i] = string(s.field)
	}
	return strings.Join(names, ", ")
}

// convert turns a value into a quantity's domain unit, to 9 decimals where that is
// another unit, so that 12 lb is 5.44310844 kg and not 5.4431084400000005.
func convert(v float64, u, base Unit) float64 {
	if u == base {
		return v
	}
	c := conversion(u, base)
	return math.Round((v*c.scale+c.shift)*1e9) / 1e9
}
