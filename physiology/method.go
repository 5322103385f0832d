package physiology

import (
	"math"

	"glidepath/athlete"
	"glidepath/fault"
)

// MethodErrors splits the error of a way to measure body fat, in points of body
// fat, into two independent parts.
type MethodErrors struct {
	// BiasSD is the spread, over athletes, of the part that stays with the same
	// method and hands: it shifts a whole series alike.
	BiasSD float64
	// ReadingSD is the part that is drawn anew at each reading.
	ReadingSD float64
}

// SingleSD is the error of one reading taken alone.
func (e MethodErrors) SingleSD() float64 { return math.Hypot(e.BiasSD, e.ReadingSD) }

// ChangeSD is the error of the difference of two readings of one series.
func (e MethodErrors) ChangeSD() float64 { return math.Sqrt2 * e.ReadingSD }

// MethodError is the error of a method. The reading part comes from the error of
// a change, the lasting part from what the error of a single reading leaves:
//
//   - Calipers: a single reading is good to about 3.5 points (SE of 0.0077 to
//     0.0083 g/mL: Jackson & Pollock 1978, Jackson et al. 1980), of which about 1
//     is the weighing under water it was judged by (judgement); the error of a
//     change is 1.8 (limits of agreement -3.4 to 3.6 points in 18 elite judo
//     athletes against four compartments: Silva et al. 2009).
//   - Tape: single 3.5 to 3.7 (Hodgdon & Beckett 1984), change about 2
//     (judgement).
//   - Scale: single 3 to 5 and a drift with hydration, change 1.5 to 2.5 (from
//     memory).
//   - Pod: single 2 to 4, change about 1.5 (from memory).
//   - Scan: single 1.5 to 3, change about 1 (from memory), taken as 1.4 here
//     because glycogen and water swing in a preparation (judgement).
//   - Eye: no study; a practised coach, who knows how past shows ended, is taken to
//     beat a tape on the level and not on the change (judgement).
//
// An unknown method is a fault.
func MethodError(m athlete.Method) (MethodErrors, error) {
	switch m {
	case athlete.Calipers3, athlete.Calipers4, athlete.Calipers7:
		return MethodErrors{BiasSD: 3.0, ReadingSD: 1.3}, nil
	case athlete.Tape:
		return MethodErrors{BiasSD: 3.2, ReadingSD: 1.4}, nil
	case athlete.Scale:
		return MethodErrors{BiasSD: 3.5, ReadingSD: 1.7}, nil
	case athlete.Pod:
		return MethodErrors{BiasSD: 2.5, ReadingSD: 1.1}, nil
	case athlete.Scan:
		return MethodErrors{BiasSD: 1.5, ReadingSD: 1.0}, nil
	case athlete.Eye:
		return MethodErrors{BiasSD: 2.5, ReadingSD: 1.5}, nil
	}
	return MethodErrors{}, fault.New(fault.Invalid, "the method %q is not known.", m).
		WithField("method").WithHint("Known are %v.", athlete.Methods())
}
